package circuit

import (
	"math"

	"polewright/material"
)

// This file holds the steel in series with a half: half of a leg, and the back plate from the magnet's middle to the leg.

// steel is half of a yoke.
type steel struct {
	curve              *material.Curve
	packing            float64
	legArea, backArea  float64 // m2, all sections that share the flux
	legLength, outward float64 // m, half of the leg; back plate from the magnet's edge to the leg's middle
	over               float64 // m, back plate over the magnet, where the flux rises from nothing
	across             float64 // A/Wb, of the wires that the flux crosses on its way into a winding
}

// yoke is nil where no steel is in series.
func (a Assembly) yoke() *steel {
	half := a.Gap/2 + a.Thickness
	if a.Tip != nil {
		half += a.Tip.Height
	}
	width := a.Face.alongY()
	if a.Tip != nil {
		width = max(width, a.Tip.Root, a.Tip.Diameter)
	}
	s := &steel{curve: a.Steel, packing: a.Packing, legLength: half + a.Back/2, outward: a.Side + a.Leg/2, over: width / 2}
	if a.Packing < 1 {
		// To half of the winding's depth, across wires that are a thousand times better than air: mu0 (1+f)/(1-f) (J. C. Maxwell Garnett's law for
		// cylinders across the field, NOTATION).
		s.across = a.Back / 2 * (1 - a.Packing) / ((1 + a.Packing) * material.Mu0 * a.Face.Area())
	}
	switch a.Yoke {
	case Box:
		s.legArea, s.backArea = 2*a.Leg*a.Depth, 2*a.Back*a.Depth
	case C:
		s.legArea, s.backArea = a.Leg*a.Depth, a.Back*a.Depth
	case Pot:
		inner := a.Face.Diameter + 2*a.Side
		s.legArea, s.backArea = math.Pi*(inner+a.Leg)*a.Leg, math.Pi*a.Face.Diameter*a.Back
	default:
		return nil
	}
	return s
}

// densities are the flux densities in the steel for the fluxes of half, T.
func (s *steel) densities(legs, back float64) (leg, plate float64) {
	return s.inSteel(legs / s.legArea), s.inSteel((legs + back) / 2 / s.backArea)
}

// inSteel is the flux density in wire whose bundle has the mean b, with H along the wire: b = f B + (1-f) mu0 H.
func (s *steel) inSteel(b float64) float64 {
	if s.packing == 1 {
		return b
	}
	h := s.fieldFor(b)
	return (b - (1-s.packing)*material.Mu0*h) / s.packing
}

// fieldFor is H along the steel for the mean flux density b of the section.
func (s *steel) fieldFor(b float64) float64 {
	b = math.Max(b, 0)
	h := s.curve.H(b / s.packing)
	if s.packing == 1 {
		return h
	}
	for range 8 { // Newton on a curve that rises and is concave from here on
		v, slope, _ := s.curve.Eval(h)
		h = math.Max(0, h-(s.packing*v+(1-s.packing)*material.Mu0*h-b)/(s.packing*slope+(1-s.packing)*material.Mu0))
	}
	return h
}

// drop is the magnetomotive force of half of the yoke, A, for its fluxes. Over the magnet the flux in the plate rises evenly: Simpson's rule.
func (s *steel) drop(legs, back float64) float64 {
	full := (legs + back) / 2 / s.backArea
	over := s.over * (4*s.fieldFor(full/2) + s.fieldFor(full)) / 6
	return s.legLength*s.fieldFor(legs/s.legArea) + s.outward*s.fieldFor(full) + over + s.across*back
}

// meet finds the force that half of the yoke takes: the steel wants more of it the more flux there is, and the flux falls with it.
func meet(half halfCircuit, s *steel) float64 {
	excess := func(f float64) float64 { return f - s.drop(half.fluxes(f)) }
	low, below := 0.0, excess(0)
	high, above := 0.0, below
	for high = -below; above < 0 && high < 1e9; high *= 2 { // the drop at no force is more than any
		above = excess(high)
		if above >= 0 {
			break
		}
	}
	for range 60 { // false position with a halved end (M. Dowell, P. Jarratt, BIT 11 (1971) 168)
		if high-low <= 1e-6*high || above <= 0 {
			break
		}
		f := low - below*(high-low)/(above-below)
		switch e := excess(f); {
		case math.Abs(e) <= 1e-6*high:
			return f
		case e < 0:
			low, below, above = f, e, above/2
		default:
			high, above, below = f, e, below/2
		}
	}
	return high
}
