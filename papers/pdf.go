package papers

import (
	"fmt"
	"io"
	"math"
	"strings"
	"time"

	"codeberg.org/go-fonts/liberation/liberationmonoregular"
	"codeberg.org/go-fonts/liberation/liberationsansbold"
	"codeberg.org/go-fonts/liberation/liberationsansregular"
	"codeberg.org/go-pdf/fpdf"
	"gonum.org/v1/plot/vg"

	"polewright/draw"
	"polewright/report"
)

// Paper is a size of page, in points.
type Paper struct {
	Name          string
	Width, Height float64
}

// A4 (ISO 216) and Letter (ANSI/ASME Y14.1, size A) are the papers there are.
var (
	A4     = Paper{"A4", 210 * point, 297 * point}
	Letter = Paper{"letter", 612, 792}
)

// PaperNamed finds a paper by its name; the error says which there are.
func PaperNamed(name string) (Paper, error) {
	for _, p := range []Paper{A4, Letter} {
		if strings.EqualFold(p.Name, name) {
			return p, nil
		}
	}
	return Paper{}, fmt.Errorf("there is no paper %q: A4 or letter", name)
}

// Lengths on the page are points, from its upper left corner.
const (
	point    = 72 / 25.4 // points in a millimetre
	sans     = "sans"
	mono     = "mono"
	left     = 20 * point // room for filing
	right    = 15 * point
	above    = 18 * point
	below    = 20 * point
	bodySize = 9.5
	leading  = 1.35
	padding  = 3.0 // between a table's columns and about its rows
)

// typesetter fills pages from above.
type typesetter struct {
	*fpdf.Fpdf
	paper  Paper
	d      *Document
	y      float64     // where the next block begins
	images map[int]int // how many there are of each width, pixels
	plain  bool        // the page has no head: a drawing's
}

// PDF writes the document as PDF with its fonts in it. The same document gives the same bytes. Drawings lie on pages of their own size. Errors
// are those of its pictures and of w.
func (d *Document) PDF(w io.Writer, paper Paper) error {
	pdf := fpdf.NewCustom(&fpdf.InitType{UnitStr: "pt", Size: fpdf.SizeType{Wd: paper.Width, Ht: paper.Height}})
	p := &typesetter{Fpdf: pdf, paper: paper, d: d, images: map[int]int{}}
	pdf.AddUTF8FontFromBytes(sans, "", liberationsansregular.TTF)
	pdf.AddUTF8FontFromBytes(sans, "B", liberationsansbold.TTF)
	pdf.AddUTF8FontFromBytes(mono, "", liberationmonoregular.TTF)
	pdf.SetAutoPageBreak(false, 0)
	pdf.SetMargins(0, 0, 0)
	pdf.SetCatalogSort(true)
	pdf.SetTitle(d.Title, true)
	pdf.SetCreator("polewright "+d.Version, true)
	pdf.SetLang("en")
	day, err := time.Parse(time.DateOnly, d.Date)
	if err != nil {
		day = time.Unix(0, 0).UTC() // a date there must be
	}
	pdf.SetCreationDate(day)
	pdf.SetModificationDate(day)
	pdf.AliasNbPages(pages)
	pdf.SetFooterFunc(p.foot)
	p.page()
	p.first()
	for _, s := range d.Sections {
		if err := p.section(s); err != nil {
			return fmt.Errorf("section %q: %w", s.Title, err)
		}
	}
	return pdf.Output(w)
}

// pages stands for the number of pages until it is known.
const pages = "{pages}"

// page begins a page.
func (p *typesetter) page() {
	p.AddPageFormat("P", fpdf.SizeType{Wd: p.paper.Width, Ht: p.paper.Height}) // writes the foot of the page before
	p.plain = false
	p.y = above
}

func (p *typesetter) foot() {
	width, height := p.GetPageSize()
	y := height - 9*point
	if p.plain { // between the border of a drawing and the edge of its paper
		y = height - 4*point
	}
	p.SetTextColor(70, 70, 70)
	p.SetFont(sans, "", 7.5)
	number := fmt.Sprintf("page %d of %s", p.PageNo(), pages)
	room := width - left - right - p.GetStringWidth(number)
	date := p.d.Date
	if date != "" {
		date = " · " + date
	}
	p.Text(left, y, p.cut(p.d.Title, room/2)+" · polewright "+p.d.Version+date)
	p.Text(width-right-p.GetStringWidth(fmt.Sprintf("page %d of %d", p.PageNo(), 99)), y, number)
}

// Text writes a text from its base line's left end. The fonts have no sign for a diameter; the letter Ø looks the same.
func (p *typesetter) Text(x, y float64, s string) {
	p.Fpdf.Text(x, y, strings.ReplaceAll(s, "⌀", "Ø"))
}

// cut shortens a text to a width in the font that is set.
func (p *typesetter) cut(s string, width float64) string {
	r := []rune(s)
	for len(r) > 0 && p.GetStringWidth(string(r)) > width {
		r = r[:len(r)-1]
	}
	if len(r) < len([]rune(s)) {
		return string(r) + "…"
	}
	return s
}

func (p *typesetter) width() float64 { return p.paper.Width - left - right }

// need begins a page if less than h is left on this one.
func (p *typesetter) need(h float64) {
	if p.y+h > p.paper.Height-below && p.y > above {
		p.page()
	}
}

// lines writes lines from x, in the font that is set, and moves on.
func (p *typesetter) lines(x float64, lines []string, size float64) {
	for _, l := range lines {
		p.need(size * leading)
		p.y += size * leading
		p.Text(x, p.y-0.3*size, l)
	}
}

func (p *typesetter) letters(family, style string, size float64) {
	p.SetTextColor(0, 0, 0)
	p.SetFont(family, style, size)
}

func (p *typesetter) first() {
	p.letters(sans, "B", 18)
	p.lines(left, p.wrap(p.d.Title, p.width()), 18)
	p.letters(sans, "", bodySize)
	line := p.d.Kind + ", made by polewright " + p.d.Version
	if p.d.Date != "" {
		line += " on " + p.d.Date
	}
	p.lines(left, []string{line}, bodySize)
	p.y += 6
	p.table(p.d.Facts)
}

func (p *typesetter) section(s Section) error {
	drawn := len(s.Blocks) > 0
	for _, k := range s.Blocks {
		if _, ok := k.(Drawing); !ok {
			drawn = false
		}
	}
	if !drawn { // a section of drawings has no heading: each sheet has its own
		if s.NewPage && p.y > above || p.plain {
			p.page()
		}
		p.need(40 + p.together(s.Blocks))
		p.y += 12
		p.letters(sans, "B", 13)
		p.Bookmark(s.Title, 0, p.y)
		p.lines(left, p.wrap(s.Title, p.width()), 13)
		p.SetDrawColor(0, 0, 0)
		p.SetLineWidth(0.8)
		p.Line(left, p.y+1, left+p.width(), p.y+1)
		p.y += 6
	}
	for i, k := range s.Blocks {
		if d, ok := k.(Drawing); ok {
			p.drawing(d.Sheet)
			if drawn && i == 0 {
				p.Bookmark(s.Title, 0, 0)
			}
			continue
		}
		if p.plain {
			p.page()
		}
		if err := p.block(k); err != nil {
			return err
		}
	}
	return p.Error()
}

func (p *typesetter) block(k Block) error {
	switch k := k.(type) {
	case Text:
		p.letters(sans, "", bodySize)
		p.lines(left, p.wrap(string(k), p.width()), bodySize)
		p.y += 5
	case Box:
		p.box(k)
	case Table:
		p.table(k)
	case Figure:
		return p.figure(k)
	case Listing:
		p.listing(string(k))
	}
	return nil
}

// box sets its texts in a frame, a part of it on each page that it takes.
func (p *typesetter) box(x Box) {
	const inset = 7.0
	p.letters(sans, "B", bodySize+1)
	p.need(4 * bodySize * leading)
	top := p.y
	p.y += inset / 2
	p.lines(left+inset, p.wrap(x.Title, p.width()-2*inset), bodySize+1)
	frame := func() {
		p.SetDrawColor(0, 0, 0)
		p.SetLineWidth(1.4)
		p.Rect(left, top, p.width(), p.y+inset/2-top, "D")
	}
	p.letters(sans, "", bodySize)
	for _, s := range x.Texts {
		l := p.wrap(s, p.width()-2*inset-9)
		if p.y+float64(len(l))*bodySize*leading+inset > p.paper.Height-below {
			frame()
			p.page()
			p.letters(sans, "", bodySize)
			top = p.y
			p.y += inset / 2
		}
		p.Text(left+inset, p.y+bodySize*(leading-0.3), "•")
		p.lines(left+inset+9, l, bodySize)
		p.y += 2
	}
	frame()
	p.y += inset/2 + 8
}

func (p *typesetter) figure(f Figure) error {
	mm := math.Min(f.WidthMM, p.width()/point)
	return report.Paint(f.Picture, mm, func(w, h vg.Length) vg.Canvas {
		p.letters(sans, "", bodySize-1)
		caption := p.wrap(f.Caption, p.width())
		p.need(h.Points() + float64(len(caption))*bodySize*leading)
		x := left + (p.width()-w.Points())/2
		p.y += h.Points()
		c := newCanvas(p.Fpdf, x, p.y, p.images)
		p.letters(sans, "", bodySize-1)
		p.lines(left, caption, bodySize-1)
		p.y += 6
		return c
	})
}

func (p *typesetter) listing(s string) {
	const size = 7.0
	p.letters(mono, "", size)
	for l := range strings.SplitSeq(strings.TrimRight(s, "\n"), "\n") {
		l = strings.ReplaceAll(strings.TrimRight(l, "\r"), "\t", "    ")
		per := max(1, int(p.width()/p.GetStringWidth("0")))
		r := []rune(l)
		for first := true; first || len(r) > 0; first = false {
			n := min(per, len(r))
			if p.y+size*1.25 > p.paper.Height-below {
				p.page()
				p.letters(mono, "", size)
			}
			p.y += size * 1.25
			p.Text(left, p.y, string(r[:n]))
			r = r[n:]
		}
	}
	p.y += 6
}

// drawing puts a sheet on a page of its own, to scale: the page is as large as the sheet, and no smaller than the paper.
func (p *typesetter) drawing(s *draw.Sheet) {
	w, h := p.paper.Width, p.paper.Height
	if s.Width > s.Height {
		w, h = h, w
	}
	w, h = math.Max(w, s.Width*point), math.Max(h, s.Height*point)
	p.AddPageFormat("P", fpdf.SizeType{Wd: w, Ht: h})
	p.plain = true
	p.sheet(s, point, (w-s.Width*point)/2, (h+s.Height*point)/2)
	if w > 1.01*math.Max(p.paper.Width, p.paper.Height) {
		p.letters(sans, "", 7)
		note := fmt.Sprintf("print on paper of %.0f x %.0f mm, or it is not to scale", w/point, h/point)
		p.Text(w-right-p.GetStringWidth(note), 5.5*point, note)
	}
}

// sheet draws a sheet whose lower left corner lies at (x, y) of the page, with so many points a millimetre.
func (p *typesetter) sheet(s *draw.Sheet, scale, x, y float64) {
	p.SetDrawColor(0, 0, 0)
	p.SetFillColor(0, 0, 0)
	p.SetLineCapStyle("round")
	pen := func(l draw.Layer) {
		width, dashes := l.Pen()
		p.SetLineWidth(width * scale)
		var d []float64
		for _, v := range dashes {
			d = append(d, v*scale)
		}
		p.SetDashPattern(d, 0)
	}
	for _, l := range s.Lines {
		pen(l.Layer)
		p.Line(x+l.A.X*scale, y-l.A.Y*scale, x+l.B.X*scale, y-l.B.Y*scale)
	}
	for _, a := range s.Arcs {
		pen(a.Layer)
		steps := max(2, int(math.Ceil(math.Abs(a.Sweep)*24)))
		for i := range steps + 1 {
			sin, cos := math.Sincos(a.From + a.Sweep*float64(i)/float64(steps))
			px, py := x+(a.Center.X+a.Radius*cos)*scale, y-(a.Center.Y+a.Radius*sin)*scale
			if i == 0 {
				p.MoveTo(px, py)
			} else {
				p.LineTo(px, py)
			}
		}
		p.DrawPath("D")
	}
	p.SetDashPattern(nil, 0)
	for _, f := range s.Fills {
		for i, c := range f.Corners {
			if i == 0 {
				p.MoveTo(x+c.X*scale, y-c.Y*scale)
			} else {
				p.LineTo(x+c.X*scale, y-c.Y*scale)
			}
		}
		p.ClosePath()
		p.DrawPath("F")
	}
	p.SetLineCapStyle("butt")
	p.SetTextColor(0, 0, 0)
	for _, l := range s.Labels {
		p.label(l, scale, x+l.At.X*scale, y-l.At.Y*scale)
	}
}

func (p *typesetter) label(l draw.Label, scale, x, y float64) {
	p.SetFont(sans, "", l.FontSize()*scale)
	if l.Turned {
		p.TransformBegin()
		p.TransformRotate(90, x, y)
		defer p.TransformEnd()
	}
	p.Text(x-p.GetStringWidth(l.Text)*float64(l.Align)/2, y, l.Text)
}
