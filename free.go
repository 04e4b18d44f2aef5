package polewright

import (
	"context"
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r3"

	"polewright/design"
	"polewright/freefield"
	"polewright/magnetostatic"
	"polewright/result"
	"polewright/shape"
)

// This file holds the field of a design without steel: closed forms of its magnets and coils.

// closedForm is the field of magnets without recoil, or of many blocks with little, and of coils.
type closedForm struct {
	a *assembly
	*freefield.Assembly
	parts int
}

const (
	// leastRelaxed is the number of magnets from which blocks with recoil in free space take closed forms: a grid round so many has too few cells for
	// each of them.
	leastRelaxed = 30
	// mostPanels of all their faces together are worth their time, fewPanels at first.
	mostPanels = 60_000
	fewPanels  = 20_000
)

// relaxes tells whether a design is of many blocks with little recoil, and coils, in free space, with no film between them.
func (a *assembly) relaxes() bool {
	d := a.design
	if len(d.Steels)+len(d.Wounds) > 0 || len(d.Magnets) < leastRelaxed || len(a.films) > 0 {
		return false
	}
	for i := range d.Coils {
		if !hasEvenBuild(&d.Coils[i]) {
			return false
		}
	}
	for i := range d.Magnets {
		m := &d.Magnets[i]
		mu := m.Material.RecoilPermeability
		if _, block := m.Solid.(shape.Block); !block || !(mu >= 1 && mu <= freefield.MostRecoil) || a.gap[i] != (filmShare{}) {
			return false
		}
	}
	return true
}

// recoils are the recoil permeabilities of a design's magnets.
func recoils(d *design.Design) (mu []float64) {
	for i := range d.Magnets {
		mu = append(mu, d.Magnets[i].Material.RecoilPermeability)
	}
	return mu
}

// leastCuts is how many panels lie along each edge of a block at first.
func leastCuts(blocks int) int {
	return max(2, min(4, int(math.Sqrt(fewPanels/6/float64(blocks)))))
}

// relax finds the field of blocks with recoil. The panels get smaller until halving them changes the field in the gap by no more than the accuracy;
// the estimate is that change, and what the panels' charge leaves out, the recoil's share of its field.
func (a *assembly) relax(ctx context.Context, c condition, o Options, effort *result.Solver) (closedForm, error) {
	d := a.design
	s, coils, mu := bareSources(d, c.temperatureC), bareCoils(d), recoils(d)
	n := leastCuts(len(s))
	mean := freefield.Relax(s, mu, coils...)
	fine := mean.Paneled(n)
	plain, before := mean.B(a.center), mean.Paneled(n/2).B(a.center)
	for {
		b := fine.B(a.center)
		*effort = result.Solver{Method: "free-field", Symmetry: []string{}, Accuracy: o.Accuracy.Name}
		if size := r3.Norm(b); size > 0 {
			left := (slices.Max(mu) - 1) * r3.Norm(r3.Sub(b, plain))
			effort.EstimatedError = 100 * (r3.Norm(r3.Sub(b, before)) + left) / size
		}
		if more := 24 * n * n * len(s); effort.EstimatedError <= o.Accuracy.Percent || more > mostPanels || ctx.Err() != nil {
			break
		}
		before, n = b, 2*n
		fine = mean.Paneled(n)
	}
	a.free, a.freeC = fine, c.temperatureC
	return closedForm{a, fine, len(d.Magnets) + len(d.Coils)}, ctx.Err()
}

// freeAt is the field of a design in free space at a temperature.
func (a *assembly) freeAt(degC float64) *freefield.Assembly {
	d := a.design
	switch {
	case a.free != nil && a.freeC == degC:
		return a.free
	case isFreeField(d):
		return freefield.Assemble(bareSources(d, degC), bareCoils(d)...)
	}
	return freefield.Relax(bareSources(d, degC), recoils(d), bareCoils(d)...).Paneled(leastCuts(len(d.Magnets)))
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

// relaxedShare is how exactly the forces of blocks with recoil are summed, of their absolute contributions: their mean polarizations are good to
// some per mille.
const relaxedShare = 1e-3

func (f closedForm) Forces() (force, torque []r3.Vec) {
	if f.a.relaxes() && !isFreeField(f.a.design) {
		return f.Assembly.ForcesWithin(relaxedShare, nil)
	}
	return f.Assembly.Forces(nil)
}

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
