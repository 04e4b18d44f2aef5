package magnetostatic

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"polewright/freefield"
	"polewright/grid"
	"polewright/shape"
)

// This file checks magnets that the grid does not follow, whose field enters in closed form, against the same magnets fitted.

// asExact makes the unfit bodies of an assembly exact sources.
func asExact(p *Problem, bodies []grid.Body, recoil float64) {
	for i, b := range bodies {
		if !p.Grids.Fits[i] {
			p.Exact = append(p.Exact, freefield.Magnet{Solid: b.Solid, Place: b.Place, Polarization: b.Polarization})
			p.Recoil = append(p.Recoil, recoil)
		}
	}
}

// The framed pair with its magnets left out of the grid: only the steel is meshed, and the magnets' recoil acts where the cells' quadrature
// points lie within them. Against the fitted solution, on standard grids: with recoil permeability 1 the gap field agrees within 0.02 %; with 1.05
// the cells that a magnet's face cuts cost up to 0.4 %, and 1 % close to the magnets.
func TestMagnetsInClosedFormWithinFrame(t *testing.T) {
	bodies := framedPair(6)
	for _, c := range []struct{ recoil, gap, elsewhere float64 }{{1, 2e-4, 2e-3}, {1.05, 4e-3, 0.01}} {
		recoil := c.recoil
		g := lay(t, bodies, 2, 1)
		fitted := solved(t, &Problem{Grids: g, Media: media(t, g.Axis, bodies, "steel-1018", recoil), Dipole: r3.Vec{Z: 1}})
		h := lay(t, bodies[2:], 2, 1)
		h.Symmetry[2] = grid.Odd // the steel alone does not show it
		for i := range h.Fits {
			if !h.Fits[i] {
				t.Fatal("steel does not fit")
			}
		}
		p := &Problem{Grids: h, Media: media(t, h.Axis, bodies[2:], "steel-1018", recoil), Dipole: r3.Vec{Z: 1}}
		for _, b := range bodies[:2] {
			p.Exact = append(p.Exact, freefield.Magnet{Solid: b.Solid, Place: b.Place, Polarization: b.Polarization})
			p.Recoil = append(p.Recoil, recoil)
		}
		exact := solved(t, p)
		t.Logf("recoil %g: %d and %d unknowns, %d steps", recoil, fitted.Effort.Unknowns, exact.Effort.Unknowns, exact.Effort.NewtonSteps)
		for _, x := range []r3.Vec{{}, mm(1, 2, 3), mm(10, -8, 4), mm(0, 24, 15)} {
			a, _ := fitted.At(x)
			b, _ := exact.At(x)
			e := apart(b, a)
			t.Logf("at %.0f mm: fitted %.5f T, exact %.5f T: off by %.1e", r3.Scale(1e3, x), a, b, e)
			if !(e < c.elsewhere) {
				t.Errorf("at %v: fitted %v, exact %v", x, a, b)
			}
		}
		a, _ := fitted.At(r3.Vec{})
		b, _ := exact.At(r3.Vec{})
		near(t, "gap field", b.Z, a.Z, c.gap)
		if e := apart(exact.Moment(), fitted.Moment()); !(e < 3e-3) {
			t.Errorf("moment %v fitted, %v exact", fitted.Moment(), exact.Moment())
		} else {
			t.Logf("moment %.5v A m2: off by %.1e", fitted.Moment(), e)
		}
		p2, q2 := fitted.Bodies(), exact.Bodies()
		for i := 2; i < 6; i++ {
			near(t, bodies[i].Name+" mean |B|", q2[i-2].MeanB1, p2[i].MeanB1, 3e-3)
		}
	}
}

// A block turned by 30 degrees about y over a steel bar. Seen along y it fits; a disc of air whose axis is z, which must fit, makes z the axis,
// and then it does not. Nothing else changes, so the two solutions agree: within 0.5 % at points in air and in the magnet.
func TestTurnedBlockOverBar(t *testing.T) {
	bodies := []grid.Body{
		block("bar", 2, mm(80, 30, 15), mm(0, 0, -7.5), r3.Vec{}),
		block("magnet", 1, mm(30, 20, 15), mm(5, 0, 22), r3.Vec{}),
	}
	bodies[1].MustFit = false
	bodies[1].Place.Rot = shape.Euler(0, math.Pi/6, 0)
	bodies[1].Polarization = bodies[1].Place.Rot.Apply(r3.Vec{Z: 1.25})
	disc := grid.Body{Name: "air", Solid: shape.Disc{Diameter: 20e-3, Thickness: 12e-3}, Place: shape.Placement{Center: mm(55, 3, 20), Rot: shape.Identity()}, Material: 9, MustFit: true}
	var s [2]*Solution
	for i := range s {
		if i == 1 {
			bodies = append(bodies, disc)
		}
		g, err := grid.Build(grid.Spec{Bodies: bodies, Focus: []r3.Vec{mm(5, 0, 6)}, Radius: 4e-3, Levels: 2})
		if err != nil {
			t.Fatal(err)
		}
		if want := []int{1, 2}[i]; g.Axis != want || g.Fits[1] != (i == 0) {
			t.Fatalf("axis %d, fits %v", g.Axis, g.Fits)
		}
		m := media(t, g.Axis, bodies, "steel-1018", 1.05)
		if i == 1 {
			m[2] = Air()
		}
		p := &Problem{Grids: g, Media: m}
		asExact(p, bodies, 1.05)
		s[i] = solved(t, p)
	}
	t.Logf("%d and %d unknowns", s[0].Effort.Unknowns, s[1].Effort.Unknowns)
	for _, x := range []r3.Vec{mm(5, 0, 5), mm(2, 4, 4), mm(25, 0, 6), mm(5, 0, 22), mm(-30, 5, 20), mm(5, 30, 10), mm(0, 0, -30)} {
		a, _ := s[0].At(x)
		b, _ := s[1].At(x)
		e := apart(b, a)
		t.Logf("at %.0f mm: fitted %.5f T, exact %.5f T: off by %.1e", r3.Scale(1e3, x), a, b, e)
		if !(e < 5e-3) {
			t.Errorf("at %v: fitted %v, exact %v", x, a, b)
		}
	}
	near(t, "mean |B| in the bar", s[1].Bodies()[0].MeanB1, s[0].Bodies()[0].MeanB1, 2e-3)
	m, n := s[0].Moment(), s[1].Moment()
	t.Logf("moments %.4v and %.4v A m2", m, n)
	if !(apart(n, m) < 5e-3) {
		t.Errorf("the moment is %v fitted and %v exact", m, n)
	}
}
