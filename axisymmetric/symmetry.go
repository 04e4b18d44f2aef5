package axisymmetric

import (
	"math"

	"gonum.org/v1/gonum/spatial/r2"

	"polewright/shape"
)

// Parity is the mirror symmetry of the assembly about the plane across the axis through the middle of it.
type Parity int8

const (
	None Parity = iota
	// Even: the potential is the same on both sides and no flux crosses the plane.
	Even
	// Odd: the potential changes sign, the field crosses the plane at right angles.
	Odd
)

// mirror finds the symmetry about z = 0 and the mirror image of each body and of each coil. Mirrored, an axial vector keeps its component along the axis and
// changes the sign of the radial one; where this is the assembly itself the potential is odd, where it is its reverse, even. A coil counts as
// the polarization along the axis that it makes.
func mirror(bodies []Body, coils []Coil, tol float64) (p Parity, partner, coilPartner []int) {
	sign := 0.0
	agrees := func(s float64) bool {
		if s == 0 || sign == 0 || s == sign {
			if s != 0 {
				sign = s
			}
			return true
		}
		return false
	}
	partner, coilPartner = make([]int, len(bodies)), make([]int, len(coils))
	for i := range bodies {
		partner[i] = -1
		for j := range bodies {
			if s, ok := images(&bodies[i], &bodies[j], tol); ok && agrees(s) {
				partner[i] = j
				break
			}
		}
		if partner[i] < 0 {
			return None, nil, nil
		}
	}
	for i := range coils {
		c, found := &coils[i], false
		for j := range coils {
			d := &coils[j]
			if near(c.Inner, d.Inner, tol) && near(c.Outer, d.Outer, tol) && near(c.Low, -d.High, tol) && near(c.High, -d.Low, tol) &&
				math.Abs(c.AmpereTurns) == math.Abs(d.AmpereTurns) {
				s := 0.0
				if c.AmpereTurns != 0 {
					s = math.Copysign(1, c.AmpereTurns*d.AmpereTurns)
				}
				if agrees(s) {
					coilPartner[i], found = j, true
					break
				}
			}
		}
		if !found {
			return None, nil, nil
		}
	}
	if sign > 0 {
		return Odd, partner, coilPartner
	}
	return Even, partner, coilPartner
}

func near(a, b, tol float64) bool { return math.Abs(a-b) <= tol }

// images tells whether body b mirrored is body o, and with which sign of the polarization (0 for soft bodies).
func images(b, o *Body, tol float64) (float64, bool) {
	m, n := &b.Medium, &o.Medium
	if m.Curve != n.Curve || m.Radial != n.Radial || m.Axial != n.Axial || !sameLoop(b.Section, o.Section, tol) || !sameFilms(m.Films, n.Films, tol) {
		return 0, false
	}
	j := Vec{-m.Polarization[0], m.Polarization[1]}
	size := math.Hypot(j[0], j[1])
	switch {
	case size == 0 && n.Polarization == (Vec{}):
		return 0, true
	case math.Hypot(j[0]-n.Polarization[0], j[1]-n.Polarization[1]) < 1e-9*size:
		return 1, true
	case math.Hypot(j[0]+n.Polarization[0], j[1]+n.Polarization[1]) < 1e-9*size:
		return -1, true
	}
	return 0, false
}

// sameLoop tells whether every edge of a, mirrored, is an edge of b.
func sameLoop(a, b shape.Loop, tol float64) bool {
	if len(a) != len(b) {
		return false
	}
	flip := func(p r2.Vec) r2.Vec { return r2.Vec{X: p.X, Y: -p.Y} }
	same := func(p, q r2.Vec) bool { return r2.Norm(r2.Sub(p, q)) <= tol }
	for _, e := range a {
		found := false
		for _, f := range b { // mirrored, the loop runs the other way
			found = found || same(flip(e.A), f.B) && same(flip(e.B), f.A) && near(e.Radius, f.Radius, tol) && e.CCW == f.CCW &&
				(e.Radius == 0 || same(flip(e.Center), f.Center))
		}
		if !found {
			return false
		}
	}
	return true
}

func sameFilms(a, b []Film, tol float64) bool {
	if len(a) != len(b) {
		return false
	}
	for _, f := range a {
		found := false
		for _, g := range b {
			found = found || near(f.Share, g.Share, 1e-9*f.Share) && near(f.Min[0], g.Min[0], tol) && near(f.Max[0], g.Max[0], tol) &&
				near(f.Min[1], -g.Max[1], tol) && near(f.Max[1], -g.Min[1], tol)
		}
		if !found {
			return false
		}
	}
	return true
}
