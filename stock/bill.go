package stock

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"polewright/design"
	"polewright/mistake"
	"polewright/quantity"
	"polewright/shape"
)

// Bill is what a design is made from and what has to be bought for it.
type Bill struct {
	Parts    []Row      `json:"parts"`
	Buy      []Purchase `json:"buy"` // in the order of the list
	MassKg   float64    `json:"mass_kg"`
	Cost     float64    `json:"cost"`    // of all that the list has: whole pieces, bars and spools
	Missing  []string   `json:"missing"` // what it does not have, or not enough of
	Currency string     `json:"currency"`
	Limit    *Limit     `json:"target,omitempty"`
}

// Row is parts that are alike and the stock that they are made from.
type Row struct {
	Letter   string   `json:"letter,omitempty"` // on the drawings, where the caller knows it
	Names    []string `json:"names"`
	Kind     string   `json:"kind"`
	What     string   `json:"what"` // shape and size, mm
	Material string   `json:"material,omitempty"`
	MassKg   float64  `json:"mass_kg"`           // of all
	Stock    string   `json:"stock,omitempty"`   // name of the line; "" where nothing fits
	Work     string   `json:"work,omitempty"`    // what is done to it
	Missing  string   `json:"missing,omitempty"` // why nothing fits, and what is nearest
}

// Purchase is a line of the list and how much of it is needed.
type Purchase struct {
	Line
	Number int     `json:"number"` // pieces, bars or spools
	Cost   float64 `json:"cost"`
	NeedKg float64 `json:"need_kg,omitempty"` // wire, with what is spare
	Bars   []Bar   `json:"bars,omitempty"`
}

// Limit is the cost that the target allows.
type Limit struct {
	Most float64 `json:"most"`
	Met  bool    `json:"met"` // false too where something is missing, whose price is not known
}

// CheckCurrency tells whether the cost that a design's target allows is in the list's currency. The error is mistake.Errors.
func (l *List) CheckCurrency(d *design.Design) error {
	t := d.Target
	if t == nil || t.Cost == nil || t.Cost.Currency == l.Currency {
		return nil
	}
	return mistake.Errors{{File: d.File, Line: t.Line, Key: "target.cost", What: fmt.Sprintf("is in %s, the prices of %s in %s", t.Cost.Currency, l.File, l.Currency),
		Hint: "write the cost in the currency of the list; no rate of exchange is known here"}}
}

// BillOf finds for each part of a design the cheapest stock that it can be made from, lays the cuts into bars and adds up. A magnet needs its
// shape, sizes within FitM, grade and direction of magnetization, or up to MostStack equal ones put together. Bar is sawn, trimmed, turned and
// bored, never thinned. The error is that of CheckCurrency.
func BillOf(d *design.Design, l *List) (*Bill, error) {
	if err := l.CheckCurrency(d); err != nil {
		return nil, err
	}
	b := l.bill(Needs(d))
	if d.Target != nil && d.Target.Cost != nil {
		most := d.Target.Cost.Amount
		b.Limit = &Limit{Most: most, Met: b.Cost <= most && len(b.Missing) == 0}
	}
	return b, nil
}

// Mark gives the rows the letters that their parts have on the drawings, by the parts' names.
func (b *Bill) Mark(letters map[string]string) {
	for i := range b.Parts {
		r := &b.Parts[i]
		for _, name := range r.Names {
			if l := letters[name]; l != "" && !slices.Contains(strings.Split(r.Letter, ", "), l) {
				r.Letter = strings.TrimPrefix(r.Letter+", "+l, ", ")
			}
		}
	}
}

// offer is a way to make one part from a line of the list.
type offer struct {
	line    int
	pieces  int     // magnets
	cutM    float64 // bar: length of a cut
	lanes   int     // bar: parts side by side in a cut
	work    string
	rough   float64 // price of a part, before whole bars are bought
	perfect bool    // nothing is turned or trimmed
}

func (l *List) bill(needs []Need) *Bill {
	b := &Bill{Parts: []Row{}, Buy: []Purchase{}, Missing: []string{}, Currency: l.Currency}
	pieces, cuts, wire := map[int]int{}, map[int][]Cut{}, map[int]float64{}
	for _, n := range needs {
		row := Row{Names: n.Names, Kind: n.Kind, MassKg: n.MassKg * float64(len(n.Names)), Material: n.Material}
		if n.Kind == Coil {
			row.What = "winding"
			row.Missing = "a design file does not say what a coil is wound from"
			b.Parts, b.Missing = append(b.Parts, row), append(b.Missing, names(n)+": "+row.Missing)
			continue
		}
		row.What = n.what()
		b.MassKg += row.MassKg
		o, ok := l.best(n)
		if !ok {
			row.Missing = l.nearest(n)
			b.Parts, b.Missing = append(b.Parts, row), append(b.Missing, names(n)+": "+row.Missing)
			continue
		}
		row.Stock, row.Work = l.Lines[o.line].Name, o.work
		b.Parts = append(b.Parts, row)
		switch line := l.Lines[o.line]; {
		case line.IsMagnet():
			pieces[o.line] += o.pieces * len(n.Names)
		case line.Shape == Wire:
			wire[o.line] += row.MassKg * (1 + WireSpare)
		default:
			for group := range slices.Chunk(n.Names, o.lanes) {
				cuts[o.line] = append(cuts[o.line], Cut{Parts: group, LengthM: o.cutM})
			}
		}
	}
	for i, line := range l.Lines {
		p := Purchase{Line: line, Number: pieces[i]}
		switch {
		case len(cuts[i]) > 0:
			p.Bars, _ = Nest(cuts[i], line.LengthM) // best took care that they fit
			p.Number = len(p.Bars)
		case wire[i] > 0:
			p.NeedKg = wire[i]
			p.Number = int(math.Ceil(wire[i]/line.MassKg - 1e-9))
		}
		if p.Number == 0 {
			continue
		}
		p.Cost = line.Price * float64(p.Number)
		b.Cost += p.Cost
		b.Buy = append(b.Buy, p)
		if line.Limited && p.Number > line.Available {
			b.Missing = append(b.Missing, fmt.Sprintf("%s: %d needed and counted in the cost, %d available", line.Name, p.Number, line.Available))
		}
	}
	return b
}

// best is the cheapest way to make a need; of lines that say how many there are, those with enough come first.
func (l *List) best(n Need) (best offer, ok bool) {
	enough := func(o offer) bool {
		line := l.Lines[o.line]
		if !line.Limited {
			return true
		}
		count := 1 // bars and spools: at least one; the bill counts them
		if line.IsMagnet() {
			count = o.pieces * len(n.Names)
		}
		return line.Available >= count
	}
	rank := func(a, b offer) int {
		if ea, eb := enough(a), enough(b); ea != eb {
			return map[bool]int{true: -1, false: 1}[ea]
		}
		if c := cmp.Compare(a.rough, b.rough); c != 0 || a.perfect == b.perfect {
			return c
		}
		return map[bool]int{true: -1, false: 1}[a.perfect]
	}
	for i := range l.Lines {
		for _, o := range l.offers(i, n) {
			if o.line = i; !ok || rank(o, best) < 0 {
				best, ok = o, true
			}
		}
	}
	return best, ok
}

func near(a, b float64) bool { return math.Abs(a-b) <= FitM+1e-9 }

// offers lists the ways to make a need from line i.
func (l *List) offers(i int, n Need) (list []offer) {
	line := &l.Lines[i]
	if line.Material != n.Material {
		return nil
	}
	switch n.Kind {
	case Magnet:
		if pieces, ok := line.stacked(n); ok {
			o := offer{pieces: pieces, rough: line.Price * float64(pieces), perfect: pieces == 1}
			if pieces > 1 {
				o.work = fmt.Sprintf("%d put together", pieces)
			}
			return []offer{o}
		}
		return nil
	case Wound:
		// Drawn wire varies by some 2 % of its diameter; common practice, no source.
		if line.Shape == Wire && math.Abs(line.DiameterM/n.WireM-1) <= 0.02 {
			spools := math.Ceil(n.MassKg*float64(len(n.Names))*(1+WireSpare)/line.MassKg - 1e-9)
			return []offer{{rough: spools * line.Price, work: "wound"}}
		}
		return nil
	}
	if !line.IsBar() {
		return nil
	}
	b := &barOffers{line: line, n: n}
	switch s := n.Solid.(type) {
	case shape.Block:
		b.block(s)
	case shape.Disc:
		b.round(s.Diameter, 0, s.Thickness, "")
	case shape.Ring:
		b.round(s.OuterDiameter, s.InnerDiameter, s.Thickness, "")
	case shape.Frustum:
		b.round(max(s.BottomDiameter, s.TopDiameter), 0, s.Height, "turned to its taper")
	}
	return b.list
}

// barOffers are the ways to make a need from a bar.
type barOffers struct {
	line *Line
	n    Need
	list []offer
}

// add takes a cut, so many of which lie beside each other, with the work that is left, of which "" is none.
func (b *barOffers) add(cut float64, lanes int, works ...string) {
	works = slices.DeleteFunc(works, func(s string) bool { return s == "" })
	if cut+FacingM > b.line.LengthM+1e-9 || lanes < 1 {
		return
	}
	o := offer{cutM: cut, lanes: lanes, perfect: len(works) == 0}
	o.rough = b.line.Price * (cut + FacingM + KerfM) / b.line.LengthM / float64(min(lanes, len(b.n.Names)))
	o.work = strings.Join(append([]string{"cut to " + mm(cut) + " mm"}, works...), ", ")
	b.list = append(b.list, o)
}

func (b *barOffers) lanes(width float64) int {
	if width > b.line.WidthM+FitM {
		return 0
	}
	return max(1, int((b.line.WidthM+KerfM)/(width+KerfM)+1e-9))
}

// block makes a block from flat bar of its thickness.
func (b *barOffers) block(s shape.Block) {
	if b.line.Shape != Flat {
		return
	}
	e := edges(s)
	for t := range 3 {
		for w := range 3 {
			if t == w || !near(b.line.ThicknessM, e[t]) {
				continue
			}
			trim := ""
			if !near(b.line.WidthM, e[w]) {
				trim = "sawn to " + mm(e[w]) + " mm wide"
			}
			b.add(e[3-t-w], b.lanes(e[w]), trim)
		}
	}
}

// round makes something round from any shape of bar that holds it.
func (b *barOffers) round(outer, inner, height float64, taper string) {
	bore := func(had float64) string {
		if inner == 0 || near(had, inner) {
			return ""
		}
		return "bored to ⌀" + mm(inner) + " mm"
	}
	line, turn := b.line, taper
	if turn == "" && !near(line.DiameterM, outer) {
		turn = "turned to ⌀" + mm(outer) + " mm"
	}
	switch holds := line.DiameterM >= outer-FitM; {
	case line.Shape == Round && holds:
		b.add(height, 1, turn, bore(0))
	case line.Shape == Tube && holds && inner > 0 && line.InnerM <= inner+FitM:
		b.add(height, 1, turn, bore(line.InnerM))
	case line.Shape == Flat && near(line.ThicknessM, height):
		b.add(outer, b.lanes(outer), turn, bore(0))
	}
}

// magnetSizes are the sizes of a magnet of a need that a line must have, the thickness last; shape is "" where no stock is like it.
func (n Need) magnetSizes() (shapeName string, face [2]float64, thickness float64) {
	if n.Along < 0 {
		return "", face, 0
	}
	switch s := n.Solid.(type) {
	case shape.Block:
		face[0], face[1], thickness = n.magnetEdges(s)
		return Block, face, thickness
	case shape.Disc:
		return Disc, [2]float64{s.Diameter}, s.Thickness
	case shape.Ring:
		return Ring, [2]float64{s.OuterDiameter, s.InnerDiameter}, s.Thickness
	}
	return "", face, 0
}

// face are the sizes of a magnet's face, the larger first.
func (l *Line) face() [2]float64 {
	if l.Shape == Block {
		return [2]float64{max(l.LengthM, l.WidthM), min(l.LengthM, l.WidthM)}
	}
	return [2]float64{l.DiameterM, l.InnerM}
}

// stacked tells how many of a line make a magnet of a need.
func (l *Line) stacked(n Need) (pieces int, ok bool) {
	name, face, thickness := n.magnetSizes()
	if f := l.face(); name != l.Shape || !near(f[0], face[0]) || !near(f[1], face[1]) {
		return 0, false
	}
	pieces = int(math.Round(thickness / l.ThicknessM))
	return pieces, pieces >= 1 && pieces <= MostStack && math.Abs(thickness-float64(pieces)*l.ThicknessM) <= FitM*float64(pieces)+1e-9
}

// nearest says why nothing fits a need and what comes nearest, with the difference.
func (l *List) nearest(n Need) string {
	var best string
	least := math.Inf(1)
	consider := func(line *Line, pairs ...float64) { // names of sizes are those of wants, in its order
		var off float64
		var differs []string
		for i, size := range wants[line.Shape] {
			if 2*i+1 >= len(pairs) {
				break
			}
			want, has := pairs[2*i], pairs[2*i+1]
			off += math.Abs(math.Log(has / want))
			if d := has - want; math.Abs(d) > FitM+1e-9 {
				differs = append(differs, fmt.Sprintf("%s mm %s in %s", mm(math.Abs(d)), map[bool]string{true: "more", false: "less"}[d > 0], size))
			}
		}
		if line.Material != n.Material {
			off += 0.3
			differs = append(differs, line.Material+" in place of "+n.Material)
		}
		if len(differs) > 0 && off < least {
			least, best = off, fmt.Sprintf("nearest is %q: %s", line.Name, strings.Join(differs, ", "))
		}
	}
	// enough is the length of a cut where the bar is long enough, else what the bar gives; what is wider than need be is no difference either.
	enough := func(line *Line, cut float64) float64 { return min(cut, line.LengthM-FacingM) }
	name, face, thickness := n.magnetSizes()
	for i := range l.Lines {
		line := &l.Lines[i]
		switch s := n.Solid.(type) {
		case shape.Racetrack:
			if n.Kind == Wound && line.Shape == Wire {
				consider(line, n.WireM, line.DiameterM)
			}
			continue
		case shape.Block:
			if n.Kind != Magnet && line.Shape == Flat {
				e := edges(s)
				slices.Sort(e)
				for _, p := range [][3]float64{{e[1], e[0], e[2]}, {e[2], e[0], e[1]}, {e[2], e[1], e[0]}} { // width, thickness, length
					consider(line, p[0], min(line.WidthM, p[0]), p[1], line.ThicknessM, p[2], enough(line, p[2]))
				}
			}
		case shape.Disc:
			if n.Kind != Magnet && line.Shape == Round {
				consider(line, s.Diameter, min(line.DiameterM, s.Diameter), s.Thickness, enough(line, s.Thickness))
			}
		case shape.Ring:
			if n.Kind != Magnet && line.Shape == Tube {
				consider(line, s.OuterDiameter, min(line.DiameterM, s.OuterDiameter), s.InnerDiameter, max(line.InnerM, s.InnerDiameter), s.Thickness, enough(line, s.Thickness))
			}
		case shape.Frustum:
			if d := max(s.BottomDiameter, s.TopDiameter); line.Shape == Round {
				consider(line, d, min(line.DiameterM, d), s.Height, enough(line, s.Height))
			}
		}
		if n.Kind == Magnet && line.Shape == name {
			switch f := line.face(); name {
			case Block:
				if line.Material == n.Material && least > 0 && sameEdges(n.Solid.(shape.Block), line) {
					least, best = 0, fmt.Sprintf("nearest is %q: magnetized along another edge", line.Name)
					continue
				}
				consider(line, face[0], f[0], face[1], f[1], thickness, line.ThicknessM)
			case Disc:
				consider(line, face[0], f[0], thickness, line.ThicknessM)
			case Ring:
				consider(line, face[0], f[0], face[1], f[1], thickness, line.ThicknessM)
			}
		}
	}
	switch {
	case n.Kind == Magnet && n.Along < 0:
		return "not in stock: magnetized neither through its thickness nor along its axis, so it has to be ordered"
	case best == "":
		return "not in stock, nor anything like it"
	}
	return "not in stock; " + best
}

// sameEdges tells whether a block has the edges of a line, in any order.
func sameEdges(b shape.Block, l *Line) bool {
	want, have := edges(b), []float64{l.LengthM, l.WidthM, l.ThicknessM}
	slices.Sort(want)
	slices.Sort(have)
	return slices.EqualFunc(want, have, near)
}

// names lists the parts of a need, the first few of many.
func names(n Need) string {
	if len(n.Names) > 3 {
		return fmt.Sprintf("%s and %d more", strings.Join(n.Names[:2], ", "), len(n.Names)-2)
	}
	return strings.Join(n.Names, ", ")
}

// Unit is the word for one of a line.
func (l Line) Unit() string {
	switch {
	case l.IsMagnet():
		return "piece"
	case l.Shape == Wire:
		return "spool"
	}
	return "bar"
}

// Offcuts tells what is left of the bars of a purchase, and what is wound of the wire: "left 35, 120 mm", "" for pieces.
func (p Purchase) Offcuts() string {
	if p.Shape == Wire {
		return fmt.Sprintf("%s needed, spare counted in", quantity.Format(p.NeedKg, "kg", 3))
	}
	var list []string
	for _, b := range p.Bars {
		list = append(list, b.Left())
	}
	if len(list) == 0 {
		return ""
	}
	return "left " + strings.Join(list, ", ") + " mm"
}
