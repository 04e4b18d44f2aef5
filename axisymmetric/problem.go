// Package axisymmetric solves the static field of magnets, soft steel and ring coils that are bodies of revolution about one common axis.
//
// The field strength is H = T - grad phi, with the total scalar potential phi and, for each ring coil, a current vector potential T along
// the axis whose curl is the coil's current density: T = J (r_outer - r) within the winding, J (r_outer - r_inner) in its bore, zero
// elsewhere, all at the winding's height only. So no cut and no Biot-Savart integral is needed. The potential minimizes
//
//	W(phi) = integral of w(H) 2 pi r dr dz + the energy of the open space
//
// with the coenergy density w, B = dw/dH (as in package magnetostatic). W is convex, so Newton's method with a line search descends. The
// half plane r >= 0 is meshed out to a half circle of twice the assembly's radius; beyond it the field is a sum of multipoles, whose energy is
// exact: no far boundary.
//
// The package works in the meridian half plane: r is the distance from the axis, z the coordinate along it. Metres, tesla, A/m, newton.
package axisymmetric

import (
	"errors"
	"fmt"
	"math"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"

	"polewright/shape"
)

// Body is a body of revolution.
type Body struct {
	Name    string
	Section shape.Loop // in the half plane, X = r >= 0, Y = z relative to the problem's origin, counter-clockwise
	Medium  Medium
}

// Coil is a winding of rectangular section and uniform current density about the axis.
type Coil struct {
	Name         string
	Inner, Outer float64 // radii, m
	Low, High    float64 // its ends along the axis, relative to the problem's origin, m
	AmpereTurns  float64 // A, right-handed about the positive axis
}

// density of current, A/m2.
func (c *Coil) density() float64 { return c.AmpereTurns / ((c.Outer - c.Inner) * (c.High - c.Low)) }

func (c *Coil) winds(r, z float64) bool {
	return r > c.Inner && r < c.Outer && z > c.Low && z < c.High
}

// Problem is an assembly of bodies of revolution with what its mesh should care for.
type Problem struct {
	Turn   shape.Rotation // carries z onto the axis in the world
	Origin r3.Vec         // world point on the axis from which z counts
	Bodies []Body
	Coils  []Coil

	Focus  r3.Vec    // world point at which the field matters
	Radius float64   // of the region about it, m
	Planes []float64 // planes across the axis, z, that the mesh must contain

	Levels  int     // nested meshes, at least 2
	Density float64 // cells a length of the coarsest mesh, 1 is usual
}

// check tells what keeps a problem from being solved.
func (p *Problem) check() error {
	if len(p.Bodies)+len(p.Coils) == 0 {
		return errors.New("there is neither a body nor a coil")
	}
	for i := range p.Bodies {
		b := &p.Bodies[i]
		if !(b.Section.Area() > 0) {
			return fmt.Errorf("the section of %q has no area", b.Name)
		}
		for _, e := range b.Section {
			if !(e.A.X >= 0) {
				return fmt.Errorf("the section of %q crosses the axis", b.Name)
			}
		}
		if m := &b.Medium; m.Curve == nil && !(m.Radial > 0 && m.Axial > 0) {
			return fmt.Errorf("%q has neither a curve nor permeabilities above zero", b.Name)
		}
	}
	for i := range p.Coils {
		if c := &p.Coils[i]; !(c.Inner >= 0 && c.Outer > c.Inner && c.High > c.Low) {
			return fmt.Errorf("the coil %q has no section: radii %g to %g m, ends %g to %g m", c.Name, c.Inner, c.Outer, c.Low, c.High)
		}
	}
	if n := r3.Norm(p.world(0, 0, 1)); !(math.Abs(n-1) < 1e-9) {
		return fmt.Errorf("the axis has no direction: it is %g long", n)
	}
	return nil
}

// frame gives the coordinates of a world vector across the axis and along it.
func (p *Problem) frame(v r3.Vec) (x, y, z float64) {
	u := p.Turn.Inverse(v)
	return u.X, u.Y, u.Z
}

// world is the world vector of components across the axis and along it.
func (p *Problem) world(x, y, z float64) r3.Vec { return p.Turn.Apply(r3.Vec{X: x, Y: y, Z: z}) }

// meridian gives a world point's place in the half plane and the direction of r there.
func (p *Problem) meridian(x r3.Vec) (r, z, cos, sin float64) {
	u, v, z := p.frame(r3.Sub(x, p.Origin))
	r = math.Hypot(u, v)
	if r == 0 {
		return 0, z, 1, 0
	}
	return r, z, u / r, v / r
}

// inside tells whether a point lies within a closed loop, by the angle under which it sees the loop; arcs by their chord and the segment
// between chord and arc.
func inside(loop shape.Loop, p r2.Vec) bool {
	var angle float64
	for _, e := range loop {
		a, b := r2.Sub(e.A, p), r2.Sub(e.B, p)
		angle += math.Atan2(r2.Cross(a, b), r2.Dot(a, b))
		if e.Radius == 0 {
			continue
		}
		right := r2.Cross(r2.Sub(e.B, e.A), r2.Sub(p, e.A)) < 0
		if right == e.CCW && r2.Norm(r2.Sub(p, e.Center)) < e.Radius { // between chord and arc the chord's side is wrong by one turn
			if e.CCW {
				angle += 2 * math.Pi
			} else {
				angle -= 2 * math.Pi
			}
		}
	}
	return angle > math.Pi
}
