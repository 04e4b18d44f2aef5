package magnetostatic

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"

	"polewright/grid"
	"polewright/plan"
	"polewright/shape"
)

// This file checks laws that hold whatever the design: symmetry, scale, reversal, superposition.

// someWhere are points in the gap and outside the frame.
var someWhere = []r3.Vec{{}, mm(1, 2, 3), mm(-8, 6, -4), mm(12, -9, 2), mm(0, 60, 10), mm(70, -20, -30)}

// roughPair solves on the coarsest grid only: laws hold on any.
func roughPair(t *testing.T, g *grid.Grids, m []Medium) *Solution {
	rough := *g
	rough.Grid, rough.Down = g.Grid[:1], nil
	return solved(t, &Problem{Grids: &rough, Media: m, Dipole: r3.Vec{Z: 1}})
}

// asymmetric is a framed pair without any mirror plane.
func asymmetric() []grid.Body {
	bodies := framedPair(7)
	bodies[0] = block("upper", 1, mm(50, 40, 20), mm(3, 0, 19), r3.Vec{X: 0.1, Z: 1.30})
	bodies[5] = block("right leg", 2, mm(60, 6, 58), mm(0, 31, 0), r3.Vec{})
	return bodies
}

// An unseen body of air beside the frame takes all symmetry off it. The whole space then gives the gap field that an eighth of it does: within
// 0.05 %, for the two are meshed anew. On the standard grid in the long tests; here on a draft, within 0.3 %.
func TestSymmetryChangesNothing(t *testing.T) { checkSymmetryChangesNothing(t, 0.6, 3e-3) }

func checkSymmetryChangesNothing(t *testing.T, density, tolerance float64) {
	bodies := framedPair(12)
	s := solvedPair(t, bodies, 2, density)
	if s.Problem.Grids.Symmetry != [3]grid.Parity{grid.Even, grid.Even, grid.Odd} {
		t.Fatalf("symmetry %v", s.Problem.Grids.Symmetry)
	}
	bodies = append(bodies, block("air", 9, mm(11, 9, 7), mm(45, 52, 43), r3.Vec{}))
	g := lay(t, bodies, 2, density)
	if g.Symmetry != [3]grid.Parity{} {
		t.Fatalf("symmetry %v found where there is none", g.Symmetry)
	}
	m := media(t, g.Axis, bodies, "steel-1018", 1.05)
	m[6] = Air()
	full := solved(t, &Problem{Grids: g, Media: m, Dipole: r3.Vec{Z: 1}})
	t.Logf("%d and %d unknowns", s.Effort.Unknowns, full.Effort.Unknowns)
	a, _ := s.At(r3.Vec{})
	b, _ := full.At(r3.Vec{})
	near(t, "gap field", a.Z, b.Z, tolerance)
	p, q := s.Bodies(), full.Bodies()
	for i := range p {
		near(t, bodies[i].Name+" mean |B|", p[i].MeanB1, q[i].MeanB1, tolerance)
	}
}

// The eighth's own mesh mirrored to the whole space by hand, solved without any symmetry, is the same set of equations: the integrals over
// all bodies agree to Newton's tolerance. It tries the images' signs, the fixed planes and the closure on every side. Forces take H from fits
// that reach across a plane of symmetry one cell further than they do within the whole space: on this coarsest of grids, 3 to 5 %.
func TestMirroredMesh(t *testing.T) {
	bodies := framedPair(6)
	g := lay(t, bodies, 2, 0.5)
	g.Grid, g.Down = g.Grid[:1], nil
	m := media(t, g.Axis, bodies, "steel-1018", 1.05)
	s := solved(t, &Problem{Grids: g, Media: m, Dipole: r3.Vec{Z: 1}})

	old := g.Grid[0]
	whole := &grid.Grid{Plan: &plan.Mesh{}}
	for i := old.Layers(); i > 0; i-- {
		whole.Faces = append(whole.Faces, -old.Faces[i])
	}
	whole.Faces = append(whole.Faces, old.Faces...)
	flips := [][2]float64{{1, 1}, {-1, 1}, {-1, -1}, {1, -1}}
	node := make([][4]int32, len(old.Plan.Nodes)) // of each flip
	add := func(from, to int) {
		for n := from; n < to; n++ {
			p := old.Plan.Nodes[n]
		flips:
			for i, f := range flips {
				for j := range i {
					if (p.X == 0 || flips[j][0] == f[0]) && (p.Y == 0 || flips[j][1] == f[1]) {
						node[n][i] = node[n][j]
						continue flips
					}
				}
				node[n][i] = int32(len(whole.Plan.Nodes))
				whole.Plan.Nodes = append(whole.Plan.Nodes, r2.Vec{X: f[0] * p.X, Y: f[1] * p.Y})
			}
		}
	}
	add(0, old.Plan.Vertices)
	whole.Plan.Vertices = len(whole.Plan.Nodes)
	add(old.Plan.Vertices, len(old.Plan.Nodes))
	image := func(body int32, k int) int32 {
		if body < 0 {
			return body
		}
		return int32(g.Partner[(g.Axis+1+k)%3][body])
	}
	for i, f := range flips {
		for n, tri := range old.Plan.Triangles {
			if f[0]*f[1] < 0 {
				tri = [6]int32{tri[0], tri[2], tri[1], tri[5], tri[4], tri[3]}
			}
			for a := range tri {
				tri[a] = node[tri[a]][i]
			}
			whole.Plan.Triangles = append(whole.Plan.Triangles, tri)
			nl := old.Layers()
			for l := range 2 * nl {
				up := l - nl
				if l < nl {
					up = nl - 1 - l
				}
				body := old.Cell[n*nl+up]
				if f[0] < 0 {
					body = image(body, 0)
				}
				if f[1] < 0 {
					body = image(body, 1)
				}
				if l < nl {
					body = image(body, 2)
				}
				whole.Cell = append(whole.Cell, body)
			}
		}
	}
	h := *g
	h.Symmetry, h.Partner = [3]grid.Parity{}, [3][]int{}
	h.Grid = []*grid.Grid{whole}
	for k := range 3 {
		h.Min[k] = -h.Max[k]
	}
	full := solved(t, &Problem{Grids: &h, Media: m, Dipole: r3.Vec{Z: 1}})
	t.Logf("%d and %d unknowns", s.Effort.Unknowns, full.Effort.Unknowns)
	p, q := s.Bodies(), full.Bodies()
	f, tq := s.Forces(centers(bodies))
	ff, ft := full.Forces(centers(bodies))
	var worst float64
	same := func(what string, a, b r3.Vec, scale, tolerance float64) {
		e := r3.Norm(r3.Sub(a, b)) / scale
		worst = math.Max(worst, e/tolerance)
		if !(e < tolerance) {
			t.Errorf("%s: an eighth gives %v, the whole %v", what, a, b)
		}
	}
	for i, b := range bodies {
		same(b.Name+" mean B", p[i].MeanB, q[i].MeanB, 1, 1e-6)
		same(b.Name+" mean H", p[i].MeanH, q[i].MeanH, 1e6, 1e-6)
		same(b.Name+" |B|, volume", r3.Vec{X: p[i].MeanB1, Y: p[i].MaxB, Z: 1e4 * p[i].Volume}, r3.Vec{X: q[i].MeanB1, Y: q[i].MaxB, Z: 1e4 * q[i].Volume}, 1, 1e-6)
		same(b.Name+" force", f[i], ff[i], 1000, 0.05)
		same(b.Name+" torque", tq[i], ft[i], 30, 0.03)
	}
	for axis := range 3 {
		a, err := s.HalfForce(axis, 0)
		b, err2 := full.HalfForce(axis, 0)
		if err != nil || err2 != nil {
			t.Fatal(err, err2)
		}
		t.Logf("force across the middle, axis %d: %.5v N", axis, a)
		same("half force", a, b, 1000, 0.03)
	}
	t.Logf("largest difference %.1e of its tolerance", worst)
}

// Mirrored across x, with the polarization an axial vector, B is mirrored as an axial vector. The mirrored bodies
// are meshed anew; both meshes follow the same outlines, so little more than Newton's tolerance is allowed.
func TestMirroredDesign(t *testing.T) {
	bodies := asymmetric()
	g := lay(t, bodies, 2, 1)
	s := roughPair(t, g, media(t, g.Axis, bodies, "steel-1018", 1.05))
	mirrored := asymmetric()
	for i := range mirrored {
		b := &mirrored[i]
		b.Place.Center.X = -b.Place.Center.X
		b.Polarization.Y, b.Polarization.Z = -b.Polarization.Y, -b.Polarization.Z
	}
	g = lay(t, mirrored, 2, 1)
	m := roughPair(t, g, media(t, g.Axis, mirrored, "steel-1018", 1.05))
	for _, x := range someWhere {
		a, _ := s.At(x)
		x.X = -x.X
		b, _ := m.At(x)
		b.Y, b.Z = -b.Y, -b.Z
		e := apart(b, a)
		t.Logf("at %.0f mm |B| %.4g T: off by %.1e", r3.Scale(1e3, x), r3.Norm(a), e)
		if !(e < 1e-6) {
			t.Errorf("at %v: %v, mirrored %v", x, a, b)
		}
	}
}

// All lengths times k leave B as it is, forces grow with k^2 and torques with k^3. With a power of
// two all lengths scale without rounding, so the grid is the same unless it holds a length of its own.
func TestScaledDesign(t *testing.T) {
	const k = 4
	bodies := asymmetric()
	g := lay(t, bodies, 2, 1)
	s := roughPair(t, g, media(t, g.Axis, bodies, "steel-1018", 1.05))
	for i := range bodies {
		b := &bodies[i]
		b.Place.Center = r3.Scale(k, b.Place.Center)
		b.Solid = shape.Block{Size: r3.Scale(k, b.Solid.(shape.Block).Size)}
	}
	g, err := grid.Build(grid.Spec{Bodies: bodies, Focus: []r3.Vec{{}}, Radius: k * 4e-3, Levels: 2})
	if err != nil {
		t.Fatal(err)
	}
	m := roughPair(t, g, media(t, g.Axis, bodies, "steel-1018", 1.05))
	t.Logf("%d and %d unknowns", s.Effort.Unknowns, m.Effort.Unknowns)
	for _, x := range someWhere {
		a, _ := s.At(x)
		b, _ := m.At(r3.Scale(k, x))
		e := apart(b, a)
		t.Logf("at %.0f mm: off by %.1e", r3.Scale(1e3, x), e)
		if !(e < 1e-6) {
			t.Errorf("at %v: %v, scaled %v", x, a, b)
		}
	}
	f, tq := s.Forces(centers(asymmetric()))
	h, th := m.Forces(centers(bodies))
	for i := range f {
		if e := apart(r3.Scale(1./(k*k), h[i]), f[i]); !(e < 1e-6) {
			t.Errorf("force on %s: %v, scaled %v", bodies[i].Name, f[i], h[i])
		}
		if e := r3.Norm(r3.Sub(r3.Scale(1./(k*k*k), th[i]), tq[i])) / (r3.Norm(f[i]) * 0.01); !(e < 1e-6) {
			t.Errorf("torque on %s: %v, scaled %v", bodies[i].Name, tq[i], th[i])
		}
	}
}

// All magnets reversed reverse B everywhere, on the same grid: to rounding and Newton's tolerance of 1e-7.
func TestReversedMagnets(t *testing.T) {
	bodies := framedPair(6)
	g := lay(t, bodies, 2, 1)
	m := media(t, g.Axis, bodies, "steel-1018", 1.05)
	s := roughPair(t, g, m)
	back := append([]Medium(nil), m...)
	for i := range back {
		for k := range 3 {
			back[i].Polarization[k] = -back[i].Polarization[k]
		}
	}
	r := roughPair(t, g, back)
	for _, x := range someWhere {
		a, _ := s.At(x)
		b, _ := r.At(x)
		if e := apart(r3.Scale(-1, b), a); !(e < 1e-6) {
			t.Errorf("at %v: %v, reversed %v", x, a, b)
		}
	}
}

// With linear steel the magnets' fields add up, on the same grid: to the solver's tolerance, 1e-6 of the gap field.
func TestSuperposition(t *testing.T) {
	bodies := asymmetric()
	g := lay(t, bodies, 2, 1)
	solution := func(upper, lower float64) *Solution {
		var m []Medium
		for i, b := range bodies {
			f := []float64{upper, lower, 0, 0, 0, 0}[i]
			if b.Polarization == (r3.Vec{}) {
				m = append(m, Isotropic(500, Vec{}))
			} else {
				m = append(m, Isotropic(1.05, Vec(grid.Frame(g.Axis, r3.Scale(f, b.Polarization)))))
			}
		}
		return roughPair(t, g, m)
	}
	// No share is zero: a magnet without any is taken as air where the field is recovered.
	both, upper, lower := solution(1, 1), solution(0.8, 0.3), solution(0.2, 0.7)
	var worst float64
	for _, x := range someWhere {
		b, _ := both.At(x)
		u, _ := upper.At(x)
		l, _ := lower.At(x)
		worst = math.Max(worst, r3.Norm(r3.Sub(b, r3.Add(u, l))))
		if !(r3.Norm(u) > 1e-3*r3.Norm(b)) || !(r3.Norm(l) > 1e-3*r3.Norm(b)) {
			t.Errorf("at %v the shares are %v and %v", x, u, l)
		}
	}
	t.Logf("largest difference %.1e T", worst)
	if !(worst < 1e-6) {
		t.Errorf("the fields do not add up: %g T", worst)
	}
}

// With linear steel the field that one magnet makes in another does as much to it as the other way round: the integral of J1 . H2 over the
// first is that of J2 . H1 over the second (Lorentz's reciprocity; Stratton 1941, section 8.32, without time). The discrete equations are
// symmetric, so this holds on any grid to the solver's tolerance.
func TestReciprocity(t *testing.T) {
	bodies := asymmetric()
	bodies[1].Polarization = r3.Vec{X: 0.4, Y: -0.7, Z: 1.1} // no symmetry between the two
	g := lay(t, bodies, 2, 1)
	alone := func(which int) *Solution {
		var m []Medium
		for i, b := range bodies {
			switch {
			case b.Polarization == (r3.Vec{}):
				m = append(m, Isotropic(500, Vec{}))
			case i == which:
				m = append(m, Isotropic(1.05, Vec(grid.Frame(g.Axis, b.Polarization))))
			default:
				m = append(m, Isotropic(1.05, Vec{}))
			}
		}
		return roughPair(t, g, m)
	}
	work := func(s *Solution, body int) float64 {
		b := s.Bodies()[body]
		return b.Volume * r3.Dot(b.MeanH, bodies[body].Polarization)
	}
	first, second := work(alone(0), 1), work(alone(1), 0)
	if math.Abs(first-second) > 1e-5*math.Abs(first) || math.Abs(first) < 1e-3 {
		t.Errorf("the first does %.8g J to the second, the second %.8g J to the first", first, second)
	}
}

// The axes have no say: an assembly turned so that x becomes y, y becomes z and z becomes x has the field turned likewise. The grid's own axis
// may become another one, so the two agree as well as two grids do.
func TestTurnedAssembly(t *testing.T) {
	turn := func(v r3.Vec) r3.Vec { return r3.Vec{X: v.Z, Y: v.X, Z: v.Y} }
	plain := asymmetric()
	turned := asymmetric()
	for i := range turned {
		b := &turned[i]
		b.Solid = shape.Block{Size: turn(b.Solid.(shape.Block).Size)}
		b.Place.Center, b.Polarization = turn(b.Place.Center), turn(b.Polarization)
	}
	field := func(bodies []grid.Body) *Solution {
		g := lay(t, bodies, 2, 0.6)
		return solved(t, &Problem{Grids: g, Media: media(t, g.Axis, bodies, "steel-1018", 1.05)})
	}
	a, b := field(plain), field(turned)
	middle, _ := a.At(r3.Vec{})
	for _, x := range []r3.Vec{{}, mm(1, 2, 3), mm(-8, 6, -4)} {
		p, _ := a.At(x)
		q, _ := b.At(turn(x))
		if off := r3.Norm(r3.Sub(turn(p), q)) / r3.Norm(middle); off > 5e-3 {
			t.Errorf("at %v: %v, turned %v (%.1e)", x, p, q, off)
		}
	}
}
