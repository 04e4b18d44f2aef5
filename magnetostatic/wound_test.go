package magnetostatic

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"polewright/grid"
	"polewright/material"
	"polewright/shape"
)

// woundPair is the pair of blocks in a yoke wound from wire of the packing 0.72, with the core's corners rounded by radius (mm).
func woundPair(t testing.TB, radius float64, levels int, density float64) *Problem {
	t.Helper()
	bodies := framedPair(12)[:2]
	track := shape.Racetrack{CoreX: 56e-3, CoreY: 58e-3, CornerRadius: 1e-3 * radius, Build: 12e-3, Width: 60e-3}
	place := shape.Placement{Rot: shape.AxisTo(0)}
	bodies = append(bodies, grid.Body{Name: "winding", Solid: track, Place: place, Material: 2, MustFit: true})
	g := lay(t, bodies, levels, density)
	s, err := material.SteelNamed("annealed-wire")
	if err != nil {
		t.Fatal(err)
	}
	m := media(t, g.Axis, bodies, "annealed-wire", 1.05)
	m[2] = Medium{Curve: s.Curve, Packing: 0.72, Direction: func(u, v float64) (float64, float64) {
		l := place.ToLocal(grid.World(g.Axis, [3]float64{u, v, 0}))
		dx, dy := track.Direction(l.X, l.Y)
		d := grid.Frame(g.Axis, place.Rot.Apply(r3.Vec{X: dx, Y: dy}))
		return d[0], d[1]
	}, Turn: track.Turn(), Along: func(u, v float64) (float64, float64) {
		l := place.ToLocal(grid.World(g.Axis, [3]float64{u, v, 0}))
		return track.Along(l.X, l.Y)
	}}
	return &Problem{Grids: g, Media: m, Dipole: r3.Vec{Z: 1}}
}

// A winding leads flux hundreds of times better along the wire than across, and neither that nor its corners may cost cycles: at most 25 to
// 1e-8, as for solid steel (common practice of multigrid, no source; 15 to 19 were seen, without the grid along the wire 36 to 83).
func TestWoundCycles(t *testing.T) {
	for _, c := range []struct{ radius, density float64 }{{0, 0.6}, {0, 1}, {4, 0.6}} {
		p := woundPair(t, c.radius, 2, c.density)
		n, cycles := cyclesOn(t, p, 1)
		if cycles > 25 {
			t.Errorf("core corners of %g mm, %d unknowns: %d cycles", c.radius, n, cycles)
		}
	}
}

// A whole solve of a winding at its knee takes at most 60 cycles on the finest grid: 38 were seen, and 137 with tangents of coarse potentials on
// the coarser plans and with every step solved to a thousandth.
func TestWoundEffort(t *testing.T) {
	e := solved(t, woundPair(t, 0, 2, 0.6)).Effort
	t.Logf("%d unknowns, %d steps, %d cycles", e.Unknowns, e.NewtonSteps, e.Cycles)
	if e.Cycles > 60 {
		t.Errorf("%d cycles in %d steps", e.Cycles, e.NewtonSteps)
	}
}

// The mean tangent of a coarse cell is that of the four finer ones in it, whether these are steel or air.
func TestMeanTangent(t *testing.T) {
	fine := &system{nl: 1, cell: []int32{1, 1, 0, 1}, media: []Medium{Air(), {}}, tangent: &tangent{slot: []int32{0, 1, -1, 2}, tangents: make([]meanTangent, 3)}}
	var d pointTangents
	for i := range fine.tangents {
		for k := range d {
			d[k] = [6]float64{float64(i + 1), 2, 3, float64(k / 6), 5, 6}
		}
		fine.tangents[i].of(&d, &[6]float64{1, 2, 3, 1, 2, 3})
	}
	var m meanTangent
	m.join(fine, 0, 0)
	m.spread(&d)
	const mu0 = material.Mu0
	for i, got := range d {
		for k, want := range [6]float64{(1 + 2 + 3 + mu0) / 4, (6 + mu0) / 4, (9 + mu0) / 4, 0.75 * float64(i/6), 3.75, 4.5} {
			if math.Abs(got[k]-want) > 1e-6 { // float32
				t.Errorf("point %d, component %d: %g, by hand %g", i, k, got[k], want)
			}
		}
	}
}

// The grid along the wire serves the speed only: without it the field is the same within the tolerance of the solver.
func TestWireGridChangesNothing(t *testing.T) {
	p := woundPair(t, 0, 2, 0.6)
	with, _ := solved(t, p).At(r3.Vec{})
	p.Media[2].Along = nil
	without, _ := solved(t, p).At(r3.Vec{})
	near(t, "gap field", with.Z, without.Z, 1e-5)
}

// How far points lie from a winding of a core of 40 by 60 mm, its corners of radius 3 mm, 10 mm thick and 30 mm wide, by hand.
func TestDistanceFromWinding(t *testing.T) {
	r := shape.Racetrack{CoreX: 0.04, CoreY: 0.06, CornerRadius: 0.003, Build: 0.01, Width: 0.03}
	for _, c := range []struct {
		at   r3.Vec
		want float64
	}{
		{mm(0, 0, 0), 20e-3}, {mm(15, 0, 14), 5e-3}, {mm(0, -28, 0), 2e-3}, {mm(25, 10, 0), 0}, {mm(33, 0, 0), 3e-3}, {mm(0, 43, 19), 5e-3},
		{mm(17+16, 27+12, 0), 7e-3}, {mm(0, 0, -36), 29e-3}, // 16, 12, 20 and 20, 21, 29 are sides of right triangles
	} {
		if got := Distance(r, c.at); math.Abs(got-c.want) > 1e-12 {
			t.Errorf("%v lies %g m from the winding, by hand %g", c.at, got, c.want)
		}
	}
}
