package grid

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"
	"pgregory.net/rapid"

	"polewright/shape"
)

// pair are two magnets between plates, within legs that span them: what a frame is made of.
func pairOf(open, upper, lower float64) []Body {
	block := func(name string, x, y, z, cx, cy, cz, j float64) Body {
		return Body{Name: name, Solid: shape.Block{Size: r3.Vec{X: x, Y: y, Z: z}}, Place: shape.Placement{Center: r3.Vec{X: cx, Y: cy, Z: cz}, Rot: shape.Identity()},
			Polarization: r3.Vec{Z: j}}
	}
	return []Body{
		block("upper", 0.04, 0.04, 0.01, 0, upper, 0.014+open, 1.3), block("lower", 0.04, 0.04, 0.01, 0, lower, -0.014, 1.3),
		block("top", 0.06, 0.08, 0.01, 0, 0, 0.024+open, 0), block("bottom", 0.06, 0.08, 0.01, 0, 0, -0.024, 0),
		block("left", 0.06, 0.01, 0.038+open, 0, -0.035, open/2, 0), block("right", 0.06, 0.01, 0.038+open, 0, 0.035, open/2, 0),
	}
}

// Grids that moved with their bodies have the cells of the first, and each body's cells fill it: their volumes add up to the body's.
func TestMovedFollowsBodies(t *testing.T) {
	s := Spec{Bodies: pairOf(0, 0, 0), Levels: 2, Density: 0.4, Focus: []r3.Vec{{}}, Whole: [3]bool{true, true, true}}
	s.Planes[2] = []float64{0}
	g, err := Build(s)
	if err != nil {
		t.Fatal(err)
	}
	rapid.Check(t, func(t *rapid.T) {
		small := rapid.Float64Range(-2e-4, 2e-4)
		moved := s
		moved.Bodies = pairOf(small.Draw(t, "gap"), small.Draw(t, "upper"), small.Draw(t, "lower"))
		o, ok := g.Moved(moved)
		if !ok {
			t.Fatal("no grids")
		}
		if !g.Same(o) || o.Symmetry != g.Symmetry || o.Axis != g.Axis {
			t.Fatal("other cells")
		}
		for level, m := range o.Grid {
			volume := make([]float64, len(moved.Bodies))
			plane := false // whether there are nodes on the plane
			for _, n := range m.Plan.Nodes {
				at := World(o.Axis, [3]float64{n.X, n.Y, 0})
				plane = plane || math.Abs(at.Z+o.Center.Z) < 1e-8
			}
			for i, tri := range m.Plan.Triangles {
				a, b, c := m.Plan.Nodes[tri[0]], m.Plan.Nodes[tri[1]], m.Plan.Nodes[tri[2]]
				area := ((b.X-a.X)*(c.Y-a.Y) - (b.Y-a.Y)*(c.X-a.X)) / 2
				for l := range m.Layers() {
					if body := m.Cell[i*m.Layers()+l]; body >= 0 {
						volume[body] += area * (m.Faces[l+1] - m.Faces[l])
					}
				}
			}
			for i, v := range volume {
				if want := moved.Bodies[i].Solid.Volume(); math.Abs(v/want-1) > 1e-9 {
					t.Errorf("grid %d: the cells of %s have %g m3, want %g", level, moved.Bodies[i].Name, v, want)
				}
			}
			if o.Axis != 2 && !plane {
				t.Errorf("grid %d: no nodes on the plane", level)
			}
		}
	})
}

// What is not the same bodies a little moved has no such grid.
func TestMovedRefuses(t *testing.T) {
	s := Spec{Bodies: pairOf(0, 0, 0), Levels: 2, Density: 0.4, Focus: []r3.Vec{{}}}
	g, err := Build(s)
	if err != nil {
		t.Fatal(err)
	}
	flush := pairOf(0, 0, 0) // the top stands aside while the legs under its ends stay
	flush[2].Place.Center.Y += 1e-4
	far := pairOf(0.012, 0, 0)
	fewer := pairOf(0, 0, 0)[:5]
	for name, bodies := range map[string][]Body{"other symmetry": pairOf(0, 1e-4, 0), "edges apart": flush, "a gap twice as long": far, "a part less": fewer} {
		c := s
		c.Bodies = bodies
		if _, ok := g.Moved(c); ok {
			t.Errorf("%s: there are grids", name)
		}
	}
}
