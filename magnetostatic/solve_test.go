package magnetostatic

import (
	"context"
	"math"
	"testing"
	"time"

	"gonum.org/v1/gonum/spatial/r3"

	"polewright/freefield"
	"polewright/grid"
)

func TestScratch(t *testing.T) {
	for _, name := range []string{"pair", "frame12", "frame6"} {
		var bodies []grid.Body
		switch name {
		case "pair":
			bodies = framedPair(12)[:2]
		case "frame12":
			bodies = framedPair(12)
		case "frame6":
			bodies = framedPair(6)
		}
		start := time.Now()
		g, err := grid.Build(grid.Spec{Bodies: bodies, Focus: []r3.Vec{{}}, Radius: 4e-3, Levels: 3})
		if err != nil {
			t.Fatal(err)
		}
		t.Log(name, "axis", g.Axis, "symmetry", g.Symmetry, "faces", g.Grid[0].Faces, "grid time", time.Since(start))
		for _, gr := range g.Grid {
			t.Logf("  nodes %d vertices %d triangles %d layers %d unknowns %d", len(gr.Plan.Nodes), gr.Plan.Vertices, len(gr.Plan.Triangles), gr.Layers(), gr.Unknowns())
		}
		p := &Problem{Grids: g, Media: media(t, g.Axis, bodies, "steel-1018", 1.05), Dipole: r3.Vec{Z: 1}}
		last := time.Now()
		for n := 1; n <= 3; n++ {
			q := *p
			gg := *g
			gg.Grid, gg.Down = g.Grid[:n], g.Down[:n-1]
			q.Grids = &gg
			last = time.Now()
			_, fine, err := Solve(context.Background(), &q, nil)
			if err != nil {
				t.Fatal(err)
			}
			dt := time.Since(last)
			b, _ := fine.At(r3.Vec{})
			c, _ := fine.At(mm(1, 2, 3))
			t.Logf("  n=%d B %.6f %.6f steps %d cycles %d %v %v", n, b.Z, c.Z, fine.Effort.NewtonSteps, fine.Effort.Cycles, fine.Effort.History, dt)
		}
		if name == "pair" {
			src := freefield.Sources{}
			for _, b := range bodies {
				src = append(src, freefield.Magnet{Solid: b.Solid, Place: b.Place, Polarization: b.Polarization})
			}
			t.Log("  free field", src.B(r3.Vec{}).Z, src.B(mm(1, 2, 3)).Z)
		}
		_ = math.Pi
	}
}

func TestScratchForce(t *testing.T) {
	bodies := framedPair(12)[:2]
	g, err := grid.Build(grid.Spec{Bodies: bodies, Focus: []r3.Vec{{}}, Radius: 4e-3, Levels: 2})
	if err != nil {
		t.Fatal(err)
	}
	p := &Problem{Grids: g, Media: media(t, g.Axis, bodies, "steel-1018", 1), Dipole: r3.Vec{Z: 1}}
	_, s, err := Solve(context.Background(), p, nil)
	if err != nil {
		t.Fatal(err)
	}
	f, m := s.Forces([]r3.Vec{bodies[0].Place.Center, bodies[1].Place.Center})
	h, err := s.HalfForce(2, 0)
	mg := func(i int) freefield.Magnet {
		return freefield.Magnet{Solid: bodies[i].Solid, Place: bodies[i].Place, Polarization: bodies[i].Polarization}
	}
	fx := 0.0
	t.Log(f, m, h, err, fx)
	b, _ := s.At(r3.Vec{})
	src := freefield.Sources{mg(0), mg(1)}
	t.Log(b, src.B(r3.Vec{}))
	for _, x := range []r3.Vec{mm(0, 0, 5), mm(5, 5, 0), mm(20, 15, 19), mm(50, 0, 0), mm(0, 50, 20), mm(0, 0, 60), mm(100, 50, 80), mm(0, 0, 200), mm(0, 300, 100)} {
		b, _ := s.At(x)
		e := src.B(x)
		t.Logf("%v  rel err %.2e  |B| %.4g", x, r3.Norm(r3.Sub(b, e))/r3.Norm(e), r3.Norm(e))
	}
	bodies = framedPair(6)
	for n := 2; n <= 3; n++ {
		g, err = grid.Build(grid.Spec{Bodies: bodies, Focus: []r3.Vec{{}}, Radius: 4e-3, Levels: n})
		p = &Problem{Grids: g, Media: media(t, g.Axis, bodies, "steel-1018", 1.05), Dipole: r3.Vec{Z: 1}}
		_, s, err = Solve(context.Background(), p, nil)
		if err != nil {
			t.Fatal(err)
		}
		var c []r3.Vec
		for _, b := range bodies {
			c = append(c, b.Place.Center)
		}
		f, m = s.Forces(c)
		h, err = s.HalfForce(2, 0)
		t.Log(f[0].Z, f[2].Z, f[4], m[4], h, err)
		for _, b := range s.Bodies() {
			t.Logf("%+v", b)
		}
	}
}
