package draw

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"gonum.org/v1/gonum/spatial/r2"
)

const (
	margin     = 10.0 // paper's edge to the border; twice that on the left, for filing
	titleWide  = 152.0
	titleHigh  = 40.0
	smallText  = 1.8
	largeText  = 3.5
	wordHeight = 2.5
)

// Projection is how views are laid out.
type Projection int

// In the first angle the view from the left stands on the right and the view from above below; in the third angle each stands on its own
// side (ISO 5456-2:1996).
const (
	FirstAngle Projection = iota
	ThirdAngle
)

func (p Projection) String() string { return []string{"first angle", "third angle"}[p&1] }

// ProjectionNamed reads "first" or "third".
func ProjectionNamed(name string) (Projection, error) {
	switch strings.ToLower(name) {
	case "first":
		return FirstAngle, nil
	case "third":
		return ThirdAngle, nil
	}
	return 0, fmt.Errorf("there is no projection %q: first (first angle, as in Europe) or third (third angle, as in America)", name)
}

// Options are what a drawing does not take from the design.
type Options struct {
	Projection Projection
	Date       string // as it is to be printed; "" leaves room to write it in
}

// scales are those of ISO 5455:1979, paper over true.
var scales = []float64{50, 20, 10, 5, 2, 1, 1. / 2, 1. / 5, 1. / 10, 1. / 20, 1. / 50, 1. / 100, 1. / 200, 1. / 500, 1. / 1000, 1. / 2000, 1. / 5000, 1. / 10000}

// scaleName is "2:1", "1:1" or "1:5".
func scaleName(s float64) string {
	if s >= 1 {
		return decimals(s, 3) + ":1"
	}
	return "1:" + decimals(1/s, 3)
}

// fitting is the largest scale at which a drawing fits, the smallest if none does.
func fitting(fits func(scale float64) bool) float64 {
	for _, s := range scales {
		if fits(s) {
			return s
		}
	}
	return scales[len(scales)-1]
}

// field is a cell of the title block.
type field struct {
	x, y, w, h float64
	name, text string
	height     float64
}

// title draws the border and the title block in the lower right corner.
func (s *drafter) title(title, subject, number string, o Options) {
	s.rect(Frame, 2*margin, margin, s.Width-3*margin, s.Height-2*margin)
	x, y := s.Width-margin-titleWide, margin
	fields := []field{
		{0, 28, titleWide, 12, "Assembly", title, largeText},
		{0, 16, titleWide - 42, 12, "Drawing", subject, largeText},
		{titleWide - 42, 16, 42, 12, "Projection", "", wordHeight},
		{0, 8, 24, 8, "Scale", scaleName(s.Scale), wordHeight},
		{24, 8, 20, 8, "Units", "mm", wordHeight},
		{44, 8, 20, 8, "Paper", paperName(s.Width), wordHeight},
		{64, 8, 46, 8, "Date", o.Date, wordHeight},
		{titleWide - 42, 8, 42, 8, "Checked by", "", wordHeight},
		{0, 0, titleWide - 42, 8, "Tolerances, fits, finish", "none given: agree them with the maker", wordHeight},
		{titleWide - 42, 0, 42, 8, "Number", number, wordHeight},
	}
	for _, f := range fields {
		s.rect(Frame, x+f.x, y+f.y, f.w, f.h)
		s.text(Text, v(x+f.x+1.2, y+f.y+f.h-smallText-1), smallText, Left, f.name)
		if f.text != "" {
			h := f.height
			for h > wordHeight && textWidth(f.text, h) > f.w-2.4 {
				h -= 0.5
			}
			s.text(Text, v(x+f.x+1.2, y+f.y+1.5), h, Left, shortened(f.text, h, f.w-2.4))
		}
	}
	s.symbol(v(x+titleWide-11, y+22), o.Projection)
	s.text(Text, v(x+titleWide-42+1.2, y+17.5), wordHeight, Left, o.Projection.String())
}

func paperName(width float64) string {
	if width < 300 {
		return "A4"
	}
	return "A3"
}

// symbol is the mark of a projection: a frustum seen from its side and from its small end.
func (s *drafter) symbol(at r2.Vec, p Projection) {
	const small, large, length, apart = 1.5, 3.0, 6.0, 4.8
	side, end := v(at.X-apart, at.Y), v(at.X+apart, at.Y)
	if p == ThirdAngle {
		side, end = end, side
	}
	s.path(Frame, v(side.X-length/2, side.Y-small), v(side.X+length/2, side.Y-large), v(side.X+length/2, side.Y+large),
		v(side.X-length/2, side.Y+small), v(side.X-length/2, side.Y-small))
	s.line(Centre, v(side.X-length/2-1, side.Y), v(side.X+length/2+1, side.Y))
	s.circle(Frame, end, small)
	s.circle(Frame, end, large)
	s.line(Centre, v(end.X-large-1, end.Y), v(end.X+large+1, end.Y))
	s.line(Centre, v(end.X, end.Y-large-1), v(end.X, end.Y+large+1))
}

// bar draws a line of a round true length to check a print or a file by.
func (s *drafter) bar(x, y, most float64) {
	length := math.Pow(10, math.Floor(math.Log10(most/s.Scale)))
	for _, f := range []float64{5, 2} {
		if f*length*s.Scale <= most {
			length *= f
			break
		}
	}
	w := length * s.Scale
	s.line(Dimension, v(x, y), v(x+w, y))
	s.line(Dimension, v(x, y-1.2), v(x, y+1.2))
	s.line(Dimension, v(x+w, y-1.2), v(x+w, y+1.2))
	s.text(Dimension, v(x, y+1.8), smallText, Left, fmt.Sprintf("to check the scale: this line stands for %s mm", decimals(length, 4)))
}

// notes writes sentences in lines from a corner down.
func (s *drafter) notes(x, y, width float64, sentences []string) {
	for _, n := range sentences {
		for _, line := range wrapped(n, textHeight, width) {
			s.text(Text, v(x, y), textHeight, Left, line)
			y -= textHeight * 1.7
		}
	}
}

// column of the parts list.
type column struct {
	name  string
	width float64
	align Align
	text  func(Item) string
}

var listColumns = []column{
	{"", 8, Middle, func(i Item) string { return i.Letter }},
	{"part", 43, Left, func(i Item) string { return strings.Join(i.Names, ", ") }},
	{"No.", 8, Right, func(i Item) string { return strconv.Itoa(i.Number()) }},
	{"material", 27, Left, func(i Item) string { return i.Material }},
	{"size, mm", 48, Left, func(i Item) string { return Size(i.Solid) }},
	{"mass each", 18, Right, func(i Item) string { return massText(i.MassKg) }},
}

// list draws the parts list from its upper left corner and returns where it ends. Lines that would pass the floor are counted in the last one.
func (s *drafter) list(x, y, floor float64, items []Item) float64 {
	const h, lead, most = 2.0, 3.4, 3
	top := y
	row := func(cells func(column) []string, h float64) {
		high := 1
		for _, c := range listColumns {
			high = max(high, len(cells(c)))
		}
		at := x
		for _, c := range listColumns {
			for i, line := range cells(c) {
				s.text(Text, v(at+1+float64(c.align)/2*(c.width-2), y-3.7-lead*float64(i)), h, c.align, line)
			}
			at += c.width
		}
		y -= lead*float64(high) + 2
		s.line(Frame, v(x, y), v(x+titleWide, y))
	}
	s.line(Frame, v(x, y), v(x+titleWide, y))
	row(func(c column) []string { return []string{c.name} }, smallText)
	mass, left := 0.0, 0
	for n, it := range items {
		cells := func(c column) []string {
			lines := wrapped(c.text(it), h, c.width-2)
			if len(lines) > most {
				lines = append(lines[:most-1], shortened(lines[most-1]+" …", h, c.width-2))
			}
			return lines
		}
		mass += it.MassKg * float64(it.Number())
		if y-2*(most*lead+2) < floor && n < len(items)-1 {
			left++
			continue
		}
		row(cells, h)
	}
	at := x
	for _, c := range listColumns {
		s.line(Frame, v(at, top), v(at, y))
		at += c.width
	}
	s.line(Frame, v(at, top), v(at, y))
	last := orNothing("all parts ", massText(mass), "")
	if left > 0 {
		last = fmt.Sprintf("and %d kinds of part more, see polewright parts; %s", left, last)
	}
	s.text(Text, v(x+titleWide-1, y-4), h, Right, last)
	return y - 6
}
