package magnetostatic

import (
	"context"
	"math"
	"testing"
	"time"

	"gonum.org/v1/gonum/spatial/r3"

	"polewright/freefield"
	"polewright/grid"
	"polewright/material"
	"polewright/shape"
)

func mm(x, y, z float64) r3.Vec { return r3.Vec{X: x * 1e-3, Y: y * 1e-3, Z: z * 1e-3} }

func block(name string, mat int, size, center, j r3.Vec) grid.Body {
	return grid.Body{Name: name, Solid: shape.Block{Size: size}, Place: shape.Placement{Center: center, Rot: shape.Identity()}, Material: mat, Polarization: j, MustFit: true}
}

// framedPair is two blocks in a box frame; leg is the thickness of the two legs in mm.
func framedPair(leg float64) []grid.Body {
	j := r3.Vec{Z: 1.30}
	return []grid.Body{
		block("upper", 1, mm(60, 40, 20), mm(0, 0, 19), j),
		block("lower", 1, mm(60, 40, 20), mm(0, 0, -19), j),
		block("top back", 2, mm(60, 2*(28+leg), 20), mm(0, 0, 39), r3.Vec{}),
		block("bottom back", 2, mm(60, 2*(28+leg), 20), mm(0, 0, -39), r3.Vec{}),
		block("left leg", 2, mm(60, leg, 58), mm(0, -28-leg/2, 0), r3.Vec{}),
		block("right leg", 2, mm(60, leg, 58), mm(0, 28+leg/2, 0), r3.Vec{}),
	}
}

func media(t testing.TB, axis int, bodies []grid.Body, steel string, recoil float64) []Medium {
	s, err := material.SteelNamed(steel)
	if err != nil {
		t.Fatal(err)
	}
	var out []Medium
	for _, b := range bodies {
		if b.Polarization != (r3.Vec{}) {
			out = append(out, Isotropic(recoil, Vec(grid.Frame(axis, b.Polarization))))
		} else {
			out = append(out, Medium{Curve: s.Curve})
		}
	}
	return out
}

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
