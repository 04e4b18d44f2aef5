package polewright

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r3"

	"polewright/design"
	"polewright/freefield"
	"polewright/magnetostatic"
	"polewright/shape"
)

// This file holds the field of a design without steel and recoil: closed forms of its magnets and coils.

// closedForm is the field of magnets without recoil, and of coils.
type closedForm struct {
	a *assembly
	*freefield.Assembly
	parts int
}

func newClosedForm(a *assembly, c condition) closedForm {
	a.free, a.freeC = freefield.Assemble(bareSources(a.design, c.temperatureC), bareCoils(a.design)...), c.temperatureC
	return closedForm{a, a.free, len(a.design.Magnets) + len(a.design.Coils)}
}

// bareCoils are a design's coils in free space.
func bareCoils(d *design.Design) (coils []freefield.Coil) {
	for i := range d.Coils {
		b := d.Coils[i].Body()
		coils = append(coils, freefield.Coil{Winding: b.Solid, Place: b.Place, AmpereTurns: d.Coils[i].AmpereTurns})
	}
	return coils
}

// hasEvenBuild tells whether a coil's winding is as thick at its corners as along its sides, all round: only then can its current density be the same
// everywhere, which the closed forms take.
func hasEvenBuild(c *design.Coil) bool {
	if c.Shape == design.RingCoil {
		return true
	}
	const slack = 1e-9 // m
	build := (c.OuterM[0] - c.InnerM[0]) / 2
	return math.Abs((c.OuterM[1]-c.InnerM[1])/2-build) < slack && math.Abs(c.OuterRadiusM-c.InnerRadiusM-build) < slack
}

func (f closedForm) At(p r3.Vec) (b, h r3.Vec) { return f.Field(p) }

func (f closedForm) Gap(r3.Vec, float64) func(r3.Vec) r3.Vec { return f.B }

func (f closedForm) Bodies() []magnetostatic.BodyIntegral {
	out := make([]magnetostatic.BodyIntegral, f.parts)
	points := make([][]r3.Vec, f.parts)
	for i := range out {
		points[i] = shape.Lattice(f.a.parts[i].Solid, f.a.parts[i].Place, fewerSteps(sampleSteps, f.parts))
	}
	all := slices.Concat(points...)
	b, h := make([]r3.Vec, len(all)), make([]r3.Vec, len(all))
	f.Fields(all, b, h)
	for i := range out {
		n := len(points[i])
		out[i] = integral(f.a.parts[i], b[:n], h[:n])
		b, h = b[n:], h[n:]
	}
	f.a.addCoilMoments(out)
	return out
}

func (f closedForm) Forces() (force, torque []r3.Vec) { return f.Assembly.Forces(nil) }

// Half sums the forces across the plane; a part that the plane cuts has no closed form here.
func (f closedForm) Half(p Plane) (sum r3.Vec, err error) {
	sides := make([]int, f.parts)
	for i := range sides {
		if sides[i] = side(f.a.parts[i], p); sides[i] == 0 {
			return r3.Vec{}, cuts(p, f.a.parts[i])
		}
	}
	force, _ := f.Assembly.Forces(func(i, j int) bool { return sides[i] != sides[j] })
	for i, s := range sides {
		if s == 1 {
			sum = r3.Add(sum, force[i])
		}
	}
	return sum, nil
}

func (f closedForm) Mirrored(int) bool { return false }

func (f closedForm) Section(body, axis int, at float64) (mean, area, flux float64) {
	return sampleSection(f.a.parts[body], axis, at, func(x r3.Vec) (r3.Vec, bool) { return f.B(x), true })
}
