// Package draw makes scale drawings of an assembly and of its parts, with dimensions, and writes them as SVG, to look at and to print, and
// as DXF, for machines and drawing programs. It knows nothing of fields.
//
// A [Sheet] is measured in millimetres of paper, x to the right and y up from its lower left corner; bodies come in metres, as everywhere.
package draw

import (
	"math"
	"strings"

	"gonum.org/v1/gonum/spatial/r2"
)

// Layer is what a line is for.
type Layer int

// The layers of a sheet.
const (
	Profile   Layer = iota // the outline of a part seen on its face, at its true size in DXF: what a machine cuts along
	Edge                   // other visible edges
	Hidden                 // edges behind material
	Centre                 // axes of round bodies
	Dimension              // dimension lines, leaders, arrows
	Hatch                  // cut material in a section
	Text                   // words
	Frame                  // border, title block, tables
	layers
)

// style is how the lines of a layer look: width and dashes in mm of paper.
type style struct {
	name  string // in DXF; in SVG in lower case
	width float64
	dash  []float64 // line, gap, line, gap …
	color int       // colour number in DXF: 7 is black on white, 8 grey, 5 blue
}

var styles = [layers]style{
	Profile:   {"PROFILE", 0.5, nil, 7},
	Edge:      {"EDGE", 0.5, nil, 7},
	Hidden:    {"HIDDEN", 0.25, []float64{2, 1}, 8},
	Centre:    {"CENTRE", 0.18, []float64{8, 1.2, 1, 1.2}, 8},
	Dimension: {"DIMENSION", 0.18, nil, 5},
	Hatch:     {"HATCH", 0.13, nil, 8},
	Text:      {"TEXT", 0.25, nil, 7},
	Frame:     {"FRAME", 0.25, nil, 7},
}

// Sheet is a drawing on paper. Lengths are mm of paper.
type Sheet struct {
	Title         string
	Width, Height float64
	Scale         float64 // length on paper over true length: 0.5 for 1:2
	Lines         []Line
	Arcs          []Arc
	Labels        []Label
	Fills         []Fill
}

// Line is a straight line.
type Line struct {
	Layer Layer
	A, B  r2.Vec
}

// Arc runs counter-clockwise from the angle From through Sweep, at most a full circle. Radians.
type Arc struct {
	Layer       Layer
	Center      r2.Vec
	Radius      float64
	From, Sweep float64
}

// Align is the point of a text that stands at its place.
type Align int

// Left, Middle and Right are the ends and the middle of a text's base line.
const (
	Left Align = iota
	Middle
	Right
)

// Label is a text. Height is that of a capital letter.
type Label struct {
	Layer  Layer
	At     r2.Vec
	Height float64
	Align  Align
	Turned bool // a quarter turn counter-clockwise: to be read from the right
	Text   string
}

// FontSize is the size of the font, a common sans-serif one, in which its capitals have their height.
func (l Label) FontSize() float64 { return l.Height / capital }

// Pen is how the lines of a layer look: width and dashes (line, gap, line, gap …) in mm of paper.
func (l Layer) Pen() (width float64, dashes []float64) {
	if l < 0 || l >= layers {
		return styles[Edge].width, nil
	}
	return styles[l].width, styles[l].dash
}

// Fill is a filled triangle or quadrangle, such as an arrowhead.
type Fill struct {
	Layer   Layer
	Corners []r2.Vec
}

func (s *Sheet) line(l Layer, a, b r2.Vec) {
	if a != b {
		s.Lines = append(s.Lines, Line{l, a, b})
	}
}

func (s *Sheet) path(l Layer, points ...r2.Vec) {
	for i := 1; i < len(points); i++ {
		s.line(l, points[i-1], points[i])
	}
}

func (s *Sheet) rect(l Layer, x, y, w, h float64) {
	s.path(l, v(x, y), v(x+w, y), v(x+w, y+h), v(x, y+h), v(x, y))
}

func (s *Sheet) circle(l Layer, c r2.Vec, r float64) {
	s.Arcs = append(s.Arcs, Arc{l, c, r, 0, 2 * math.Pi})
}

func (s *Sheet) text(l Layer, at r2.Vec, height float64, a Align, text string) {
	s.Labels = append(s.Labels, Label{Layer: l, At: at, Height: height, Align: a, Text: text})
}

const arrowLength, arrowWidth = 2.5, 0.9

// arrow is an arrowhead of a dimension with its tip at a point, pointing along a unit vector.
func (s *Sheet) arrow(tip, along r2.Vec) {
	back := r2.Sub(tip, r2.Scale(arrowLength, along))
	side := v(-along.Y*arrowWidth/2, along.X*arrowWidth/2)
	s.Fills = append(s.Fills, Fill{Dimension, []r2.Vec{tip, r2.Add(back, side), r2.Sub(back, side)}})
}

func v(x, y float64) r2.Vec { return r2.Vec{X: x, Y: y} }

// Box is the smallest box round all that is drawn.
func (s *Sheet) Box() r2.Box { return s.boxOf(func(Layer) bool { return true }, true) }

// boxOf is the box round the lines and arcs, and texts if wanted, of some layers.
func (s *Sheet) boxOf(in func(Layer) bool, texts bool) r2.Box {
	b := noBox()
	for _, l := range s.Lines {
		if in(l.Layer) {
			grow(&b, l.A, l.B)
		}
	}
	for _, a := range s.Arcs {
		if !in(a.Layer) {
			continue
		}
		grow(&b, polar(a.Center, a.Radius, a.From), polar(a.Center, a.Radius, a.From+a.Sweep))
		for q := math.Ceil(a.From / (math.Pi / 2)); q*math.Pi/2 < a.From+a.Sweep; q++ {
			d := [4]r2.Vec{{X: 1}, {Y: 1}, {X: -1}, {Y: -1}}[(int(q)%4+4)%4]
			grow(&b, r2.Add(a.Center, r2.Scale(a.Radius, d)))
		}
	}
	for _, f := range s.Fills {
		if in(f.Layer) {
			grow(&b, f.Corners...)
		}
	}
	if texts {
		for _, l := range s.Labels {
			if in(l.Layer) {
				t := l.box()
				grow(&b, t.Min, t.Max)
			}
		}
	}
	return b
}

func polar(c r2.Vec, r, angle float64) r2.Vec {
	sin, cos := math.Sincos(angle)
	return v(c.X+r*cos, c.Y+r*sin)
}

func noBox() r2.Box {
	inf := math.Inf(1)
	return r2.Box{Min: v(inf, inf), Max: v(-inf, -inf)}
}

func grow(b *r2.Box, points ...r2.Vec) {
	for _, p := range points {
		b.Min.X, b.Min.Y = math.Min(b.Min.X, p.X), math.Min(b.Min.Y, p.Y)
		b.Max.X, b.Max.Y = math.Max(b.Max.X, p.X), math.Max(b.Max.Y, p.Y)
	}
}

// box is the place that a label takes, descenders included.
func (l Label) box() r2.Box {
	w := textWidth(l.Text, l.Height)
	from := -w * float64(l.Align) / 2
	lo, hi := v(from, -0.3*l.Height), v(from+w, 1.05*l.Height)
	if l.Turned {
		lo, hi = v(-hi.Y, lo.X), v(-lo.Y, hi.X)
	}
	return r2.Box{Min: r2.Add(l.At, lo), Max: r2.Add(l.At, hi)}
}

// capital is the height of a capital letter over the size of its font, in the common sans-serif faces.
const capital = 0.716

// textWidth is the width of a text whose capitals have a height, in a sans-serif face of common widths.
func textWidth(text string, height float64) float64 {
	w := 0.0
	for _, r := range text {
		w += letterWidth(r)
	}
	return w * height / capital
}

// letterWidth is the advance of a letter over the size of the font, by the groups of the common faces, rounded up.
func letterWidth(r rune) float64 {
	switch {
	case r == 'i' || r == 'j' || r == 'l' || r == '\'' || r == '|':
		return 0.23
	case r == ' ' || r == '.' || r == ',' || r == ':' || r == ';' || r == '!' || r == 'I' || r == 't' || r == 'f' || r == '/':
		return 0.28
	case r == '-' || r == '(' || r == ')' || r == '[' || r == ']' || r == 'r':
		return 0.34
	case r == 'm' || r == 'M':
		return 0.84
	case r == 'W' || r == '@' || r == '%':
		return 0.95
	case r == 'w' || r >= 'A' && r <= 'Z' || r == '⌀':
		return 0.75
	case r < 0x250:
		return 0.57
	}
	return 1
}

// shortened is the text cut to a width, with three dots when something is missing.
func shortened(text string, height, width float64) string {
	if textWidth(text, height) <= width {
		return text
	}
	r := []rune(text)
	for len(r) > 1 && textWidth(string(r)+"…", height) > width {
		r = r[:len(r)-1]
	}
	return string(r) + "…"
}

// wrapped cuts a text into lines of a width, at spaces where it can.
func wrapped(text string, height, width float64) (lines []string) {
	line := ""
	for _, word := range strings.Fields(text) {
		with := word
		if line != "" {
			with = line + " " + word
		}
		if line != "" && textWidth(with, height) > width {
			lines, with = append(lines, line), word
		}
		line = shortened(with, height, width)
	}
	if line != "" {
		lines = append(lines, line)
	}
	return lines
}
