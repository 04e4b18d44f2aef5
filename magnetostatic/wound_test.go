package magnetostatic

import (
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

// A winding leads flux hundreds of times better along the wire than across, and neither that nor its corners may cost cycles: at most 35 to
// 1e-8, as for solid steel (common practice of multigrid, no source; without the grid along the wire they were 47 to 102).
func TestWoundCycles(t *testing.T) {
	for _, c := range []struct{ radius, density float64 }{{0, 0.6}, {0, 1}, {4, 0.6}} {
		p := woundPair(t, c.radius, 2, c.density)
		n, cycles := cyclesOn(t, p, 1)
		if cycles > 35 {
			t.Errorf("core corners of %g mm, %d unknowns: %d cycles", c.radius, n, cycles)
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
