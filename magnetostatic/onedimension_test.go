package magnetostatic

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/spatial/r2"

	"polewright/material"
	"polewright/shape"
)

// This file checks fields that the quadratic cells hold exactly: whatever is wrong shows at rounding's level.

// A circuit in one dimension, closed on itself (potential zero at both ends): magnet, steel with a glue film, air, plain steel, and a
// material of another permeability across the stack. The reluctances in series give sum l_i H_i(B) = 0 (Ampere's law), solved here by
// halving. Tolerance 1e-9: the potential is piecewise linear, only Newton's tolerance and rounding remain.
func TestClosedStackIsExact(t *testing.T) {
	steel := Medium{Curve: steelCurve(t, "steel-1018")}
	const share, mu0 = 0.004, material.Mu0
	for _, along := range []int{0, 1, 2} { // the stack runs along u, v or w
		var n, j Vec
		n[along], j[along] = 1, 1.25
		magnet := Isotropic(1.05, j)
		glued := steel
		glued.Films = []Film{{Normal: n, Share: share, Min: Vec{-1, -1, -1}, Max: Vec{1, 1, 1}}}
		grained := Medium{Linear: true, RelativeUU: 2, RelativeVV: 2, RelativeWW: 2}
		*[]*float64{&grained.RelativeUU, &grained.RelativeVV, &grained.RelativeWW}[along] = 40
		steep := Medium{Linear: true, RelativeUU: 7, RelativeVV: 7, RelativeWW: 7} // with a tensor of which only the diagonal counts
		cuts := []float64{0, 0.012, 0.022, 0.0235, 0.031, 0.036, 0.040}
		media := []Medium{magnet, glued, Air(), steel, grained, steep}
		laws := []func(b float64) float64{
			func(b float64) float64 { return (b - 1.25) / (1.05 * mu0) },
			func(b float64) float64 { return steel.Curve.H(b) + share*b/mu0 },
			func(b float64) float64 { return b / mu0 },
			steel.Curve.H,
			func(b float64) float64 { return b / (40 * mu0) },
			func(b float64) float64 { return b / (7 * mu0) },
		}
		lo, hi := 0.0, 1.25
		for range 200 {
			b := (lo + hi) / 2
			var sum float64
			for i, h := range laws {
				sum += h(b) * (cuts[i+1] - cuts[i])
			}
			if sum < 0 {
				lo = b
			} else {
				hi = b
			}
		}

		// The plan's other side is 30 mm; along the plan the cuts are curves, along w they are layers.
		x, y := 0.03, 0.03
		var curves []shape.Edge
		for _, c := range cuts[1 : len(cuts)-1] {
			switch along {
			case 0:
				x = cuts[len(cuts)-1]
				curves = append(curves, shape.Edge{A: r2.Vec{X: c}, B: r2.Vec{X: c, Y: y}})
			case 1:
				y = cuts[len(cuts)-1]
				curves = append(curves, shape.Edge{A: r2.Vec{Y: c}, B: r2.Vec{X: x, Y: c}})
			}
		}
		mesh := planOf(t, x, y, curves, func(r2.Vec) float64 { return 0.012 })
		faces := []float64{0, 0.01, 0.015, 0.03}
		if along == 2 {
			faces = cuts
		}
		nl := len(faces) - 1
		cell := make([]int32, len(mesh.Triangles)*nl)
		for tri := range mesh.Triangles {
			c := centroid(mesh, tri)
			for l := range nl {
				at := []float64{c.X, c.Y, (faces[l] + faces[l+1]) / 2}[along]
				for i := range media {
					if at > cuts[i] && at < cuts[i+1] {
						cell[tri*nl+l] = int32(i)
					}
				}
			}
		}
		tm := newTeam()
		defer tm.close()
		s, err := newSystem(tm, mesh, faces, cell, media)
		if err != nil {
			t.Fatal(err)
		}
		s.fixed.bottom, s.fixed.top = along == 2, along == 2
		for i, p := range mesh.Nodes {
			s.fixed.column[i] = along == 0 && (p.X == 0 || p.X == x) || along == 1 && (p.Y == 0 || p.Y == y)
		}
		s.addSources()
		phi, effort := solveAlone(t, s, 1e-12)
		t.Logf("along %c: B should be %.10f T, %d steps", "uvw"[along], lo, effort.NewtonSteps)
		var worst float64
		var v [6][3]float64
		var lw law
		for tri, e := range s.els {
			for l := range nl {
				for a, p := range mesh.Triangles[tri] {
					copy(v[a][:], phi[int(p)*s.nz+2*l:])
				}
				h := faces[l+1] - faces[l]
				for pq := range 6 {
					for zq := range 3 {
						hf, q := fieldOf(&e, &v, pq, zq, faces[l], h)
						media[cell[tri*nl+l]].at(&hf, &q, &lw)
						for k := range 3 {
							want := 0.0
							if k == along {
								want = lo
							}
							worst = math.Max(worst, math.Abs(lw.B[k]-want))
						}
					}
				}
			}
		}
		t.Logf("largest error anywhere %.1e T (tolerance 1e-9)", worst)
		if !(worst < 1e-9) {
			t.Errorf("along %c: B is off by %g T somewhere", "uvw"[along], worst)
		}
	}
}

// fieldOf is H at a quadrature point of a cell with these nodal potentials, and the point.
func fieldOf(e *planElement, v *[6][3]float64, pq, zq int, lo, h float64) (hf, q [3]float64) {
	var x [6][]float64
	for a := range x {
		x[a] = v[a][:]
	}
	g := pointGradient(e, &x, 0, h, pq, zq)
	return [3]float64{-g[0], -g[1], -g[2]}, [3]float64{e.u[pq], e.v[pq], lo + layerRule[zq].s*h}
}

// The patch test (B. Irons, A. Razzaque 1972; Zienkiewicz and Taylor, The Finite Element Method, chapter on it): under a linear potential in
// one medium the gradient vanishes at all inner nodes, and its product with the potential is minus the integral of B.grad phi, curved sides
// included. It tries every entry of the permeability tensor. The tangent must then have the same action as the difference of gradients.
// Tolerances: rounding for linear media and for the inner nodes; the tangent is stored in single precision.
func TestPatch(t *testing.T) {
	const x, y = 0.02, 0.03
	mesh := planOf(t, x, y, []shape.Edge{quarterCircle(0.012)}, func(r2.Vec) float64 { return 0.006 })
	faces := []float64{0, 0.004, 0.01}
	slope := [3]float64{3e3, -5e3, 4e3}
	for name, m := range eachMedium(t) {
		if m.Direction != nil {
			m.Direction = func(u, v float64) (float64, float64) { return 0.6, -0.8 }
		}
		tm := newTeam()
		defer tm.close()
		s, err := newSystem(tm, mesh, faces, make([]int32, 2*len(mesh.Triangles)), []Medium{m})
		if err != nil {
			t.Fatal(err)
		}
		s.addSources()
		phi, g := make([]float64, s.np*s.nz), make([]float64, s.np*s.nz)
		for p, n := range mesh.Nodes {
			for k := range s.nz {
				phi[p*s.nz+k] = slope[0]*n.X + slope[1]*n.Y + slope[2]*s.height(k)
			}
		}
		s.gradient(phi, g)
		var lw law
		h, q := [3]float64{-slope[0], -slope[1], -slope[2]}, [3]float64{x / 2, y / 2, 0.005}
		m.at(&h, &q, &lw)
		var inner float64
		for p, n := range mesh.Nodes {
			for k := 1; k < s.nz-1; k++ {
				if n.X > 0 && n.X < x && n.Y > 0 && n.Y < y {
					inner = math.Max(inner, math.Abs(g[p*s.nz+k]))
				}
			}
		}
		b := math.Sqrt(lw.B[0]*lw.B[0] + lw.B[1]*lw.B[1] + lw.B[2]*lw.B[2])
		flux := b * 0.006 * 0.006 // through a cell
		if inner > 1e-12*flux {
			t.Errorf("%s: an inner node has %.1e of a cell's flux", name, inner/flux)
		}
		want := -(lw.B[0]*slope[0] + lw.B[1]*slope[1] + lw.B[2]*slope[2]) * x * y * 0.01
		near(t, name+": product with the potential", dot(g, phi), want, 1e-12)

		// Tangent against the difference of gradients along a quadratic direction.
		sv, err := newSolver(tm, []*system{s}, nil)
		if err != nil {
			t.Fatal(err)
		}
		s.assemble(phi)
		d, up, down := make([]float64, len(phi)), make([]float64, len(phi)), make([]float64, len(phi))
		for p, n := range mesh.Nodes {
			for k := range s.nz {
				w := s.height(k)
				d[p*s.nz+k] = n.X*n.X - 2*n.Y*w + 1.5*n.X*n.Y + w*w
			}
		}
		const step = 1e2
		trial := make([]float64, len(phi))
		for sign, out := range map[float64][]float64{1: up, -1: down} {
			for i := range trial {
				trial[i] = phi[i] + sign*step*d[i]
			}
			s.gradient(trial, out)
		}
		copy(sv.p, d)
		tm.run(s.np, 8*s.nz, sv.mulWork)
		var off, size float64
		for i := range d {
			off = math.Max(off, math.Abs((up[i]-down[i])/(2*step)-sv.ap[i]))
			size = math.Max(size, math.Abs(sv.ap[i]))
		}
		t.Logf("%s: tangent off by %.1e of its largest (tolerance 1e-4), inner nodes %.1e of a cell's flux", name, off/size, inner/flux)
		if !(off < 1e-4*size) {
			t.Errorf("%s: the tangent differs from the difference of gradients by %.1e", name, off/size)
		}
	}
}
