package magnetostatic

import (
	"context"
	"testing"
	"time"

	"gonum.org/v1/gonum/spatial/r3"

	"polewright/freefield"
	"polewright/grid"
)

func TestScratchFar(t *testing.T) {
	bodies := framedPair(12)[:2]
	for n := 2; n <= 3; n++ {
		g, err := grid.Build(grid.Spec{Bodies: bodies, Focus: []r3.Vec{{}}, Radius: 4e-3, Levels: n})
		if err != nil {
			t.Fatal(err)
		}
		p := &Problem{Grids: g, Media: media(t, g.Axis, bodies, "steel-1018", 1), Dipole: r3.Vec{Z: 1}}
		_, s, err := Solve(context.Background(), p, nil)
		if err != nil {
			t.Fatal(err)
		}
		t.Log(s.Grid.Unknowns())
		mg := func(i int) freefield.Magnet {
			return freefield.Magnet{Solid: bodies[i].Solid, Place: bodies[i].Place, Polarization: bodies[i].Polarization}
		}
		src := freefield.Sources{mg(0), mg(1)}
		start := time.Now()
		for _, x := range []r3.Vec{mm(0, 0, 0), mm(0, 0, 5), mm(5, 5, 0), mm(20, 15, 19), mm(50, 0, 0), mm(0, 50, 20), mm(0, 0, 60), mm(100, 50, 80), mm(0, 0, 200), mm(0, 300, 100)} {
			b, _ := s.At(x)
			e := src.B(x)
			q, _ := s.fold(x)
			tt, l, ar, fr, ok := s.locate(q)
			if ok {
				hf := s.raw(q, tt, l, ar, fr)
				w := grid.World(g.Axis, s.flux(s.Grid.Cell[tt*s.Grid.Layers()+l], hf, q))
				t.Logf("%v  rel err recovered %.2e raw %.2e |B| %.4g pot %.2e", x, r3.Norm(r3.Sub(b, e))/r3.Norm(e), r3.Norm(r3.Sub(w, e))/r3.Norm(e), r3.Norm(e), 0.0)
			} else {
				t.Logf("%v dip rel err recovered %.2e ", x, r3.Norm(r3.Sub(b, e))/r3.Norm(e))
			}
		}
		t.Log(time.Since(start))
	}
}
