// Package stock holds what a workshop has or can buy: its list of magnets, bar and wire with prices, read from the user's own CSV file; which of
// it a design's parts are made from; how bars are cut; and what that costs. It solves nothing.
//
// Units are SI; prices are in the one currency of the list.
package stock

import (
	"bytes"
	_ "embed"
	"math"
	"slices"

	"polewright/material"
	"polewright/quantity"
)

// Shapes of a line.
const (
	Block = "block" // magnet: length, width, thickness; magnetized through the thickness
	Disc  = "disc"  // magnet: diameter, thickness; magnetized along the axis
	Ring  = "ring"  // magnet: diameter, inner, thickness; magnetized along the axis
	Flat  = "flat"  // bar or plate of steel, or of a metal that is not magnetic: width, thickness, length
	Round = "round" // bar: diameter, length
	Tube  = "tube"  // diameter, inner, length
	Wire  = "wire"  // diameter, and the mass on a spool
)

// Workshop figures of the bill; common practice, no source.
const (
	FitM      = 0.05e-3 // m, by which a size may differ and still fit: the tolerance of ground magnets
	KerfM     = 3e-3    // m, that a saw takes at each cut
	FacingM   = 2e-3    // m, that facing both ends of a cut takes
	MostStack = 4       // magnets that are put together for one
	WireSpare = 0.05    // of the wire's mass, for ends, tests and what stays on the spool
)

// Line is one thing of a list. Lengths that its shape does not have are zero.
type Line struct {
	Name       string  `json:"name"`
	Shape      string  `json:"shape"`
	Material   string  `json:"material"` // grade of a magnet, name of a steel or another metal, as package material has it
	LengthM    float64 `json:"length_m,omitempty"`
	WidthM     float64 `json:"width_m,omitempty"`
	ThicknessM float64 `json:"thickness_m,omitempty"`
	DiameterM  float64 `json:"diameter_m,omitempty"` // the outer one
	InnerM     float64 `json:"inner_m,omitempty"`    // inner diameter
	MassKg     float64 `json:"mass_kg"`              // of one piece, bar or spool
	Price      float64 `json:"price"`                // of one piece, bar or spool
	Limited    bool    `json:"limited"`              // whether Available is given
	Available  int     `json:"available,omitempty"`
	Reference  string  `json:"reference,omitempty"` // what the supplier calls it
	Line       int     `json:"line"`                // in the file
}

// List is a checked list in the order of its file.
type List struct {
	File     string `json:"file"`
	Currency string `json:"currency"` // ISO 4217
	Lines    []Line `json:"lines"`
}

//go:embed starter.csv
var starter []byte

// Starter is the text of an invented list to begin one's own from.
func Starter() []byte { return bytes.Clone(starter) }

// IsMagnet tells a magnet from bar and wire.
func (l Line) IsMagnet() bool { return l.Shape == Block || l.Shape == Disc || l.Shape == Ring }

// IsBar tells what is cut to length.
func (l Line) IsBar() bool { return l.Shape == Flat || l.Shape == Round || l.Shape == Tube }

// Size is the size in mm, the direction of the magnetization or the length of a bar last.
func (l Line) Size() string {
	switch l.Shape {
	case Block, Flat:
		if l.Shape == Flat {
			return mm(l.WidthM) + " x " + mm(l.ThicknessM) + " x " + mm(l.LengthM)
		}
		return mm(l.LengthM) + " x " + mm(l.WidthM) + " x " + mm(l.ThicknessM)
	case Disc:
		return "⌀" + mm(l.DiameterM) + " x " + mm(l.ThicknessM)
	case Ring:
		return "⌀" + mm(l.DiameterM) + " / ⌀" + mm(l.InnerM) + " x " + mm(l.ThicknessM)
	case Round:
		return "⌀" + mm(l.DiameterM) + " x " + mm(l.LengthM)
	case Tube:
		return "⌀" + mm(l.DiameterM) + " / ⌀" + mm(l.InnerM) + " x " + mm(l.LengthM)
	}
	return "⌀" + mm(l.DiameterM)
}

// volume is in m3; a spool's is not known from its sizes.
func (l Line) volume() float64 {
	round := math.Pi / 4 * (l.DiameterM*l.DiameterM - l.InnerM*l.InnerM)
	switch l.Shape {
	case Block, Flat:
		return l.LengthM * l.WidthM * l.ThicknessM
	case Disc, Ring:
		return round * l.ThicknessM
	case Round, Tube:
		return round * l.LengthM
	}
	return 0
}

// substance finds a material by the name in a line, in the family that its shape wants, and gives its own name and density in kg/m3.
func substance(shape, name string) (known string, density float64, err error) {
	switch shape {
	case Block, Disc, Ring:
		m, err := material.Grade(name)
		return m.Name, m.DensityKgPerM3, err
	}
	s, err := material.SteelNamed(name)
	if err == nil || shape == Wire {
		return s.Name, s.DensityKgPerM3, err
	}
	if p, plain := material.PlainNamed(name); plain == nil {
		return p.Name, p.DensityKgPerM3, nil
	}
	return "", 0, err
}

// PerKg is the median price of a kilogram of a material in the list, in its currency; ok is false where the list has none.
func (l *List) PerKg(name string) (price float64, ok bool) {
	var all []float64
	for _, x := range l.Lines {
		if x.Material == name {
			all = append(all, x.Price/x.MassKg)
		}
	}
	if len(all) == 0 {
		return 0, false
	}
	slices.Sort(all)
	return (all[(len(all)-1)/2] + all[len(all)/2]) / 2, true
}

// Money is an amount in the currency of the list.
func (l *List) Money(amount float64) quantity.Money {
	return quantity.Money{Amount: amount, Currency: l.Currency}
}
