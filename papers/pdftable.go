package papers

import (
	"math"
	"strings"
)

// This file sets text in a width: paragraphs and tables.

// wrap breaks a text at its spaces into lines of a width in the font that is set, and words that are too long within.
func (p *typesetter) wrap(s string, width float64) (lines []string) {
	line := ""
	for _, word := range strings.Fields(s) {
		if line != "" && p.GetStringWidth(line+" "+word) <= width {
			line += " " + word
			continue
		}
		if line != "" {
			lines = append(lines, line)
		}
		for r := []rune(word); ; {
			n := len(r)
			for n > 1 && p.GetStringWidth(string(r[:n])) > width {
				n--
			}
			line = string(r[:n])
			if n == len(r) {
				break
			}
			lines = append(lines, line)
			r = r[n:]
		}
	}
	if line != "" || len(lines) == 0 {
		lines = append(lines, line)
	}
	return lines
}

const tableSize = 8.5

// table sets a table, its heading again on each page.
func (p *typesetter) table(t Table) {
	if len(t.Rows) == 0 {
		return
	}
	p.need(p.together([]Block{t}))
	if t.Caption != "" {
		p.letters(sans, "B", bodySize)
		p.lines(left, p.wrap(t.Caption, p.width()), bodySize)
		p.y += 1
	}
	widths := p.columnWidths(t)
	head := make([]string, len(widths))
	for i := range head {
		head[i], _ = t.heading(i)
	}
	begin := func() {
		if t.Head != nil {
			p.row(t, widths, head, "B", 0.8)
		}
	}
	begin()
	for _, r := range t.Rows {
		if p.y+p.rowHeight(widths, r, "") > p.paper.Height-below && p.y > above {
			p.page()
			begin()
		}
		p.row(t, widths, r, "", 0.25)
	}
	p.y += 8
}

// together is the height of what must not be parted at the beginning of some blocks: paragraphs and the first table or, where that is
// longer than half a page, its first rows.
func (p *typesetter) together(blocks []Block) (h float64) {
	for _, k := range blocks {
		switch k := k.(type) {
		case Text:
			p.letters(sans, "", bodySize)
			h += float64(len(p.wrap(string(k), p.width())))*bodySize*leading + 5
			continue
		case Table:
			if len(k.Rows) == 0 {
				continue
			}
			widths, all := p.columnWidths(k), 2*bodySize*leading
			for _, r := range k.Rows {
				all += p.rowHeight(widths, r, "")
			}
			if all > p.paper.Height/2 {
				all = 6 * tableSize * leading
			}
			h += all
		case Figure:
			h += 0.7 * k.WidthMM * point
		default:
			h += 60
		}
		return h
	}
	return h
}

// columnWidths gives each column what it wants or, where that is too much, its longest word and a share of the rest.
func (p *typesetter) columnWidths(t Table) []float64 {
	n := t.columns()
	want, least := make([]float64, n), make([]float64, n)
	measure := func(i int, s string, whole bool) {
		want[i] = math.Max(want[i], p.GetStringWidth(s)+2*padding+0.5)
		if whole { // a number stays with its unit
			least[i] = math.Max(least[i], p.GetStringWidth(s)+2*padding+0.5)
			return
		}
		for w := range strings.FieldsSeq(s) {
			least[i] = math.Max(least[i], p.GetStringWidth(w)+2*padding+0.5)
		}
	}
	p.letters(sans, "B", tableSize)
	for i := range n {
		h, _ := t.heading(i)
		measure(i, h, false)
	}
	p.letters(sans, "", tableSize)
	for _, r := range t.Rows {
		for i := range r {
			_, toRight := t.heading(i)
			measure(i, r[i], toRight)
		}
	}
	var wanted, needed float64
	for i := range n {
		wanted += want[i]
		needed += least[i]
	}
	switch room := p.width(); {
	case wanted <= room:
		return want
	case needed <= room:
		for i := range n {
			want[i] = least[i] + (room-needed)*(want[i]-least[i])/(wanted-needed)
		}
	default:
		for i := range n {
			want[i] = room * least[i] / needed
		}
	}
	return want
}

func (p *typesetter) rowHeight(widths []float64, row []string, style string) float64 {
	p.letters(sans, style, tableSize)
	most := 1
	for i, w := range widths {
		most = max(most, len(p.wrap(cell(row, i), w-2*padding)))
	}
	return float64(most)*tableSize*1.2 + padding
}

// row sets a row with a rule of a weight below it.
func (p *typesetter) row(t Table, widths []float64, row []string, style string, rule float64) {
	h := p.rowHeight(widths, row, style)
	x := left
	for i, w := range widths {
		_, toRight := t.heading(i)
		for k, l := range p.wrap(cell(row, i), w-2*padding) {
			at := x + padding
			if toRight {
				at = x + w - padding - p.GetStringWidth(l)
			}
			p.Text(at, p.y+padding/2+tableSize*(0.9+1.2*float64(k)), l)
		}
		x += w
	}
	p.y += h
	p.SetDrawColor(0, 0, 0)
	p.SetLineWidth(rule)
	p.Line(left, p.y, x, p.y)
}
