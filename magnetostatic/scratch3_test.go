package magnetostatic

import (
	"context"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"polewright/grid"
)

func TestScratchHalf(t *testing.T) {
	bodies := framedPair(6)
	for n := 2; n <= 3; n++ {
		g, _ := grid.Build(grid.Spec{Bodies: bodies, Focus: []r3.Vec{{}}, Radius: 4e-3, Levels: n})
		p := &Problem{Grids: g, Media: media(t, g.Axis, bodies, "steel-1018", 1.05), Dipole: r3.Vec{Z: 1}}
		_, s, err := Solve(context.Background(), p, nil)
		if err != nil {
			t.Fatal(err)
		}
		for _, y := range []float64{0, 10, 19, 24, 27, 29, 31, 33, 36} {
			b, h := s.At(mm(0, y, 0))
			t.Log(y, s.Body(mm(0, y, 0)), b, h)
		}
		m, a, f := s.Section(4, bodies[4].Solid, bodies[4].Place, 2, 0.001, 1000)
		t.Log(m, a, f)
		area := 0.0
		bb := 0.0
		for tt, tri := range s.Grid.Plan.Triangles {
			for e := range 3 {
				p0, p1 := s.Grid.Plan.Nodes[tri[e]], s.Grid.Plan.Nodes[tri[(e+1)%3]]
				if p0.Y < 1e-9 && p1.Y < 1e-9 {
					for l := range s.Grid.Layers() {
						if s.Grid.Cell[tt*s.Grid.Layers()+l] >= 0 {
							s.eachFacePoint(tt, l, 2+e, func(q, n, hf [3]float64, w float64) {
								area += w
								bb += w * s.filmStress(s.Grid.Cell[tt*s.Grid.Layers()+l], hf, q, [3]float64{0, 1, 0})
							})
						}
					}
				}
			}
		}
		h, _ := s.HalfForce(2, 0)
		t.Log(area, 4*bb, h.Z, h.Z+4*bb)
	}
}
