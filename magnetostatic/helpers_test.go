package magnetostatic

import (
	"context"
	"math"
	"testing"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"

	"polewright/freefield"
	"polewright/grid"
	"polewright/material"
	"polewright/plan"
	"polewright/shape"
)

// This file builds the assemblies that the checks share.

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

// media makes polarized bodies magnets of a recoil permeability and all others the steel.
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

// lay builds grids with the focus at the world's origin.
func lay(t testing.TB, bodies []grid.Body, levels int, density float64) *grid.Grids {
	t.Helper()
	g, err := grid.Build(grid.Spec{Bodies: bodies, Focus: []r3.Vec{{}}, Radius: 4e-3, Levels: levels, Density: density})
	if err != nil {
		t.Fatal(err)
	}
	return g
}

// solved solves and demands convergence.
func solved(t testing.TB, p *Problem) *Solution {
	t.Helper()
	_, s, err := Solve(context.Background(), p, nil)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// solvedPair solves an assembly magnetized along z with magnets of recoil permeability 1.05 and bar steel.
func solvedPair(t testing.TB, bodies []grid.Body, levels int, density float64) *Solution {
	t.Helper()
	g := lay(t, bodies, levels, density)
	return solved(t, &Problem{Grids: g, Media: media(t, g.Axis, bodies, "steel-1018", 1.05), Dipole: r3.Vec{Z: 1}})
}

// sources are the magnets of an assembly in free space.
func sources(bodies []grid.Body) (out freefield.Sources) {
	for _, b := range bodies {
		if b.Polarization != (r3.Vec{}) {
			out = append(out, freefield.Magnet{Solid: b.Solid, Place: b.Place, Polarization: b.Polarization})
		}
	}
	return out
}

func centers(bodies []grid.Body) (out []r3.Vec) {
	for _, b := range bodies {
		out = append(out, b.Place.Center)
	}
	return out
}

// near demands got = want within a relative tolerance, and logs what was measured.
func near(t testing.TB, what string, got, want, tolerance float64) {
	t.Helper()
	e := math.Abs(got-want) / math.Abs(want)
	t.Logf("%s: %.8g, expected %.8g, off by %.2e (tolerance %.0e)", what, got, want, e, tolerance)
	if !(e <= tolerance) {
		t.Errorf("%s is %.8g, expected %.8g: off by %.2e, more than %.0e", what, got, want, e, tolerance)
	}
}

// apart is the relative distance of two vectors.
func apart(got, want r3.Vec) float64 { return r3.Norm(r3.Sub(got, want)) / r3.Norm(want) }

// quarterCircle is the arc of radius r about the origin in the first quadrant.
func quarterCircle(r float64) shape.Edge {
	return shape.Edge{A: r2.Vec{X: r}, B: r2.Vec{Y: r}, Radius: r, CCW: true}
}

// planOf meshes the rectangle from the origin to (x, y).
func planOf(t testing.TB, x, y float64, curves []shape.Edge, size func(r2.Vec) float64) *plan.Mesh {
	t.Helper()
	m, err := plan.Generate(r2.Vec{}, r2.Vec{X: x, Y: y}, curves, size)
	if err != nil {
		t.Fatal(err)
	}
	return m
}

// centroid of a triangle's corners.
func centroid(m *plan.Mesh, t int) r2.Vec {
	tri := m.Triangles[t]
	a, b, c := m.Nodes[tri[0]], m.Nodes[tri[1]], m.Nodes[tri[2]]
	return r2.Vec{X: (a.X + b.X + c.X) / 3, Y: (a.Y + b.Y + c.Y) / 3}
}

// solveAlone solves a system by hand-made conditions on its own grid only, from zero, to the tolerance of Newton's step.
func solveAlone(t testing.TB, s *system, tolerance float64) (phi []float64, e Effort) {
	t.Helper()
	phi = make([]float64, s.np*s.nz)
	sv, err := newSolver(s.team, []*system{s}, nil)
	if err != nil {
		t.Fatal(err)
	}
	e, err = sv.newton(context.Background(), phi, tolerance, mostSteps)
	if err != nil {
		t.Fatal(err)
	}
	if !e.Converged {
		t.Fatalf("not converged: %v", e.History)
	}
	return phi, e
}
