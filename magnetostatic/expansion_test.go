package magnetostatic

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"polewright/freefield"
	"polewright/grid"
	"polewright/harmonic"
	"polewright/shape"
)

// This file checks the expansions of solved fields against closed forms and against finer grids.

// shapeError is how far two fields differ on a sphere about the origin, their difference in the middle apart, over the field there: root of the
// mean square.
func shapeError(a, b func(r3.Vec) r3.Vec, radius float64) float64 {
	const points = 100
	offset := r3.Sub(a(r3.Vec{}), b(r3.Vec{}))
	var sum float64
	for i := range points {
		p := r3.Scale(radius, harmonic.Direction(i, points))
		sum += r3.Norm2(r3.Sub(r3.Sub(a(p), b(p)), offset))
	}
	return math.Sqrt(sum/points) / r3.Norm(b(r3.Vec{}))
}

// The magnets of the framed pair alone, solved on grids, against their closed form on spheres about the middle, 9 mm from the magnets' faces.
// Standard density is wanted within 20 ppm at 4 mm, half as much again within 3: the field is smooth and its error falls as order 4 says.
// Terms that the three planes of symmetry forbid are exactly zero, and the gradient in the middle with them.
func TestGapOfMagnetsAlone(t *testing.T) {
	bodies := framedPair(12)[:2]
	free := sources(bodies)
	for _, c := range []struct{ density, at2, at4 float64 }{{1, 6e-6, 20e-6}, {1.5, 1e-6, 3e-6}} {
		g := lay(t, bodies, 2, c.density)
		s := solved(t, &Problem{Grids: g, Media: media(t, g.Axis, bodies, "steel-1018", 1), Dipole: r3.Vec{Z: 1}})
		e, err := s.Inside(r3.Vec{}, 4e-3)
		if err != nil {
			t.Fatal(err)
		}
		for radius, tolerance := range map[float64]float64{2e-3: c.at2, 4e-3: c.at4} {
			got := shapeError(e.Field, free.B, radius)
			t.Logf("%d unknowns, %g mm: shape off by %.2f ppm, noise %.2f ppm, misfit %.2f ppm", s.Effort.Unknowns, 1e3*radius, 1e6*got,
				1e6*e.Noise/free.B(r3.Vec{}).Z, 1e6*e.MisfitRMS/free.B(r3.Vec{}).Z)
			if !(got <= tolerance) {
				t.Errorf("density %g: at %g mm the shape of the field is off by %.2g ppm", c.density, 1e3*radius, 1e6*got)
			}
		}
		if e.Polar != 2 || e.Degree < 9 {
			t.Errorf("polar axis %d, degree %d", e.Polar, e.Degree)
		}
		want := harmonic.Inside(free.B, r3.Vec{}, 5e-3, 2, 13, 24).Terms(12, 4e-3)
		for i, x := range e.Terms(12, 4e-3) {
			if forbidden := x.N%2 == 1 || x.M%2 == 1 || x.Sine; forbidden && x.B != 0 {
				t.Errorf("term %d %d %v is %g, and symmetry forbids it", x.N, x.M, x.Sine, x.B)
			}
			if d := math.Abs(x.B-want[i].B) / want[0].B; x.N > 0 && !(d <= 2*c.at4) {
				t.Errorf("density %g: term %d %d is %.3f ppm off its closed form", c.density, x.N, x.M, 1e6*d)
			}
		}
		if _, gr, _ := e.Derivatives(r3.Vec{}); gr != [3][3]float64{} {
			t.Errorf("the gradient in the middle is %v", gr)
		}
	}
}

// A framed pair on standard grids against finer ones (2.7 times the unknowns, an error 4 times smaller): the expansion reproduces the finer field on an inner sphere
// within 10 ppm of shape at 4 mm, and the finer grid's own noise there is below 1 ppm.
func TestGapOfFramedPair(t *testing.T) {
	bodies := framedPair(12)
	s, fine := solvedPair(t, bodies, 2, 1), solvedPair(t, bodies, 2, 1.4)
	a, err := s.Inside(r3.Vec{}, 4e-3)
	if err != nil {
		t.Fatal(err)
	}
	b, err := fine.Inside(r3.Vec{}, 4e-3)
	if err != nil {
		t.Fatal(err)
	}
	size := b.Field(r3.Vec{}).Z
	got := shapeError(a.Field, b.Field, 4e-3)
	t.Logf("%d and %d unknowns: shapes differ by %.2f ppm; noise %.2f and %.3f ppm", s.Effort.Unknowns, fine.Effort.Unknowns, 1e6*got, 1e6*a.Noise/size, 1e6*b.Noise/size)
	if !(got < 10e-6) || !(b.Noise < 1e-6*size) {
		t.Errorf("shapes differ by %.2g ppm, the finer one has %.2g ppm of noise", 1e6*got, 1e6*b.Noise/size)
	}
	// Another centre, on no plane of symmetry: the same field where both balls hold.
	off, err := fine.Inside(mm(2, 1, 1), 2e-3)
	if err != nil {
		t.Fatal(err)
	}
	for _, p := range []r3.Vec{mm(2, 1, 1), mm(1, 0, 0), mm(3, 1, 2)} {
		if e := apart(off.Field(p), b.Field(p)); !(e < 5e-6) {
			t.Errorf("at %v the expansions about two centres differ by %.1f ppm", p, 1e6*e)
		}
	}
	if _, err := s.Inside(r3.Vec{}, 12e-3); err == nil {
		t.Error("a ball that reaches into the magnets was expanded")
	}
	if _, err := s.Inside(mm(0, 0, 15), 0); err == nil {
		t.Error("the field within a magnet was expanded")
	}
}

// Far from magnets alone the solved field is their closed form within 1e-3 of |B| at 1, 3, 10 and 100 m (wanted), whose lengths are 10 to 2000
// times that of the grid; within 0.2 % at 1.8 times the ball that holds them, from which on the multipoles serve. The dipole moment is known
// to 1e-4.
func TestFarFromMagnetsAlone(t *testing.T) {
	bodies := framedPair(12)[:2]
	free := sources(bodies)
	g := lay(t, bodies, 2, 1)
	s := solved(t, &Problem{Grids: g, Media: media(t, g.Axis, bodies, "steel-1018", 1), Dipole: r3.Vec{Z: 1}})
	e, err := s.Outside()
	if err != nil {
		t.Fatal(err)
	}
	worst := func(r float64) (w float64) {
		for i := range 30 {
			p := r3.Scale(r, harmonic.Direction(i, 30))
			w = math.Max(w, apart(e.Field(p), free.B(p)))
		}
		return w
	}
	for r, tolerance := range map[float64]float64{1.8 * e.Reach: 2e-3, 1: 1e-3, 3: 1e-3, 10: 1e-3, 100: 1e-3} {
		w := worst(r)
		t.Logf("at %.3g m: off by %.1e", r, w)
		if !(w <= tolerance) {
			t.Errorf("at %g m the field is off by %.1e", r, w)
		}
	}
	m, q := e.Moments()
	near(t, "dipole moment", m.Z, free[0].Moment().Z+free[1].Moment().Z, 1e-4)
	if q != [3][3]float64{} {
		t.Errorf("a symmetric pair has the quadrupole moment %v", q)
	}
}

// One block off the middle of a grid that a piece of air makes wide: dipole and quadrupole about the grid's centre are V M and
// V (3 (M_i d_j + M_j d_i) - 2 M.d delta_ij), d the block's place (Jackson, section 4.1). The
// grid knows the moment to 0.1 % here, and the quadrupole to 0.4 %: a small magnet, with its grid made for another place.
func TestQuadrupoleOfABlock(t *testing.T) {
	bodies := []grid.Body{block("magnet", 1, mm(20, 16, 10), mm(30, 0, 0), r3.Vec{Z: 1.2}), block("air", 2, mm(10, 10, 10), mm(-30, 0, 0), r3.Vec{})}
	g, err := grid.Build(grid.Spec{Bodies: bodies, Focus: []r3.Vec{{}}, Radius: 4e-3, Levels: 2})
	if err != nil {
		t.Fatal(err)
	}
	s := solved(t, &Problem{Grids: g, Media: []Medium{Isotropic(1, Vec(grid.Frame(g.Axis, bodies[0].Polarization))), Air()}})
	e, err := s.Outside()
	if err != nil {
		t.Fatal(err)
	}
	m, q := e.Moments()
	want := freefield.Magnet{Solid: bodies[0].Solid, Place: bodies[0].Place, Polarization: bodies[0].Polarization}.Moment().Z
	near(t, "dipole moment", m.Z, want, 2e-3)
	d := bodies[0].Place.Center.X - g.Center.X
	near(t, "Qxz", q[0][2], 3*want*d, 6e-3)
	near(t, "Qzx", q[2][0], 3*want*d, 6e-3)
	for _, k := range [][2]int{{0, 0}, {1, 1}, {2, 2}, {0, 1}, {1, 2}} {
		if v := q[k[0]][k[1]]; !(math.Abs(v) < 5e-3*3*want*d) {
			t.Errorf("Q%d%d is %.3g A m3, Qxz %.3g", k[0], k[1], v, q[0][2])
		}
	}
}

// Distances that can be seen.
func TestDistance(t *testing.T) {
	for _, c := range []struct {
		solid shape.Solid
		p     r3.Vec
		want  float64
	}{
		{shape.Block{Size: r3.Vec{X: 2, Y: 4, Z: 6}}, r3.Vec{X: 4, Y: 6, Z: 3}, 5},
		{shape.Block{Size: r3.Vec{X: 2, Y: 4, Z: 6}}, r3.Vec{X: 0.5}, 0},
		{shape.Disc{Diameter: 2, Thickness: 2}, r3.Vec{X: 3, Y: 0, Z: 1}, 2},
		{shape.Ring{OuterDiameter: 10, InnerDiameter: 6, Thickness: 2}, r3.Vec{}, 3},
		{shape.Ring{OuterDiameter: 10, InnerDiameter: 6, Thickness: 2}, r3.Vec{Y: 4, Z: 3}, 2},
		{shape.Racetrack{CoreX: 10, CoreY: 6, Build: 2, Width: 4}, r3.Vec{X: 1}, 3},
		{shape.Racetrack{CoreX: 10, CoreY: 6, Build: 2, Width: 4}, r3.Vec{X: 9, Y: 7, Z: 1}, 4*math.Sqrt2 - 2},
		{shape.Racetrack{CoreX: 10, CoreY: 6, CornerRadius: 1, Build: 2, Width: 4}, r3.Vec{X: 6, Z: 5}, 3},
		{shape.Wedge{OuterDiameter: 10, InnerDiameter: 6, Thickness: 2, From: 0, To: 1}, r3.Vec{X: 1}, 2},
	} {
		if got := Distance(c.solid, c.p); math.Abs(got-c.want) > 1e-12 {
			t.Errorf("%v is %g m from %v, not %g", c.p, c.want, c.solid, got)
		}
	}
}
