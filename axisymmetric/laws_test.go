package axisymmetric

import (
	"context"
	"fmt"
	"math"
	"testing"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"
	"pgregory.net/rapid"

	"polewright/material"
	"polewright/shape"
)

// This file checks laws that hold whatever the assembly.

func steelNamed(t testing.TB, name string) Medium {
	t.Helper()
	s, err := material.SteelNamed(name)
	if err != nil {
		t.Fatal(err)
	}
	return Medium{Curve: s.Curve}
}

// pot is a closed round yoke about two disc magnets.
func pot(steel Medium) Problem {
	m := Medium{Radial: 1.05, Axial: 1.05, Polarization: Vec{0, 1.3}}
	return Problem{Turn: shape.Identity(), Density: 1, Levels: 2, Bodies: []Body{
		{Name: "top", Section: rectangle(0, 0.05, 0.03, 0.045), Medium: steel},
		{Name: "bottom", Section: rectangle(0, 0.05, -0.045, -0.03), Medium: steel},
		{Name: "wall", Section: rectangle(0.04, 0.05, -0.03, 0.03), Medium: steel},
		{Name: "up", Section: rectangle(0, 0.025, 0.01, 0.03), Medium: m},
		{Name: "low", Section: rectangle(0, 0.025, -0.03, -0.01), Medium: m},
	}}
}

// With all lengths k times as long B stays as it is where there is no current, for no law of a medium knows a length; forces grow as k squared.
// The meshes are much the same, but rounding may lay a triangle otherwise: 1e-4 of the field, 1e-3 of the rest.
func TestScaling(t *testing.T) {
	for _, k := range []float64{0.125, 3, 10} {
		p := pot(steelNamed(t, "steel-1018"))
		p.Density, p.Planes = 0.5, []float64{0.01}
		q := p
		q.Planes = []float64{0.01 * k}
		q.Bodies = nil
		for _, b := range p.Bodies {
			l := b.Section
			b.Section = nil
			for _, e := range l {
				e.A, e.B = r2.Scale(k, e.A), r2.Scale(k, e.B)
				b.Section = append(b.Section, e)
			}
			q.Bodies = append(q.Bodies, b)
		}
		_, s := solved(t, p)
		_, u := solved(t, q)
		x := r3.Vec{X: 0.012, Z: 0.004}
		b, _ := s.At(x)
		c, _ := u.At(r3.Scale(k, x))
		within(t, "B", c.Z, b.Z, 1e-4)
		within(t, "moment", u.Moment().Z, s.Moment().Z*k*k*k, 1e-3)
		f, err := s.HalfForce(0.01)
		if err != nil {
			t.Fatal(err)
		}
		g, err := u.HalfForce(0.01 * k)
		if err != nil {
			t.Fatal(err)
		}
		within(t, "force", g, f*k*k, 1e-3)
	}
}

// Without saturation fields add: magnet and coil together, each alone. On one mesh the sum is exact but for rounding: 1e-9.
func TestSuperposition(t *testing.T) {
	field := func(j, turns float64) r3.Vec {
		p := Problem{Density: 0.7,
			Bodies: []Body{{Name: "magnet", Section: rectangle(0, 0.01, 0, 0.01), Medium: Medium{Radial: 1.1, Axial: 1.05, Polarization: Vec{0, j}}},
				{Name: "plate", Section: rectangle(0, 0.03, -0.005, 0), Medium: Medium{Radial: 500, Axial: 500}}},
			Coils: []Coil{{Name: "coil", Inner: 0.015, Outer: 0.02, Low: 0.002, High: 0.012, AmpereTurns: turns}}}
		_, s := solved(t, p)
		b, _ := s.At(r3.Vec{X: 0.004, Z: 0.014})
		return b
	}
	both, magnet, coil := field(1.2, 800), field(1.2, 0), field(0, 800)
	if d := r3.Norm(r3.Sub(both, r3.Add(magnet, coil))); d > 1e-9*r3.Norm(both) || r3.Norm(coil) < 1e-3*r3.Norm(both) {
		t.Errorf("together %v, magnet alone %v, coil alone %v: the sum is off by %g T", both, magnet, coil, d)
	}
}

// The half mesh of a symmetric assembly and the whole mesh, forced by a speck of air that has no image, give one answer: the same to the
// accuracy of either mesh, 1e-4 in the gap and 1e-3 for forces.
func TestSymmetry(t *testing.T) {
	for _, c := range []struct {
		name string
		sign float64
		want Parity
	}{{"attracting", 1, Odd}, {"repelling", -1, Even}} {
		t.Run(c.name, func(t *testing.T) {
			p := pot(steelNamed(t, "steel-1018"))
			p.Bodies[4].Medium.Polarization[1] *= c.sign
			p.Density = 0.8
			p.Planes = []float64{0.01, -0.01}
			_, half := solved(t, p)
			p.Bodies = append(p.Bodies, Body{Name: "speck", Section: rectangle(0.03, 0.031, 0, 0.001), Medium: air})
			_, whole := solved(t, p)
			if half.Parity() != c.want || whole.Parity() != None {
				t.Fatalf("symmetries %v and %v, want %v and none", half.Parity(), whole.Parity(), c.want)
			}
			for _, x := range []r3.Vec{{X: 0.01, Z: 0.005}, {X: 0.01, Z: -0.005}, {Y: 0.03, Z: -0.02}, {X: 0.02, Z: -0.02}} {
				a, _ := half.At(x)
				b, _ := whole.At(x)
				if d := r3.Norm(r3.Sub(a, b)); d > 3e-4*r3.Norm(a) {
					t.Errorf("B at %v: %v on the half, %v on the whole mesh", x, a, b)
				}
			}
			f, _ := half.Forces()
			g, _ := whole.Forces()
			for i := range f {
				if math.Abs(f[i]-g[i]) > 2e-3*math.Abs(f[0]) {
					t.Errorf("force on %s: %g N and %g N", p.Bodies[i].Name, f[i], g[i])
				}
			}
			for _, z := range p.Planes {
				a, err := half.HalfForce(z)
				if err != nil {
					t.Fatal(err)
				}
				b, err := whole.HalfForce(z)
				if err != nil {
					t.Fatal(err)
				}
				within(t, "force across a plane", a, b, 1e-3)
			}
			within(t, "force across a meridian", half.SplitForce(), whole.SplitForce(), 1e-3)
			for i, b := range half.Bodies() {
				o := whole.Bodies()[i]
				if math.Abs(b.MeanB-o.MeanB) > 1e-4*b.MeanB1 || math.Abs(b.MeanB1/o.MeanB1-1) > 1e-3 {
					t.Errorf("%s: %+v and %+v", p.Bodies[i].Name, b, o)
				}
			}
		})
	}
}

// The force by stress is the change of the coenergy with the displacement (H. H. Woodson, J. R. Melcher, Electromechanical Dynamics, 1968,
// section 3.1), here of a magnet over a saturated steel plate with a coil between them, of the plate and of the coil. Central difference of
// 0.2 mm with a parabola's error below 1e-4; meshes differ, 1e-3 of the energy's change: tolerance 5e-3 of the largest force.
func TestForceIsSlopeOfCoenergy(t *testing.T) {
	steel := steelNamed(t, "steel-1018")
	const step = 0.2e-3
	build := func(up [3]float64) Problem {
		return Problem{Density: 1, Focus: r3.Vec{Z: 0.008},
			Bodies: []Body{{Name: "magnet", Section: rectangle(0, 0.01, 0.012+up[0], 0.02+up[0]), Medium: Medium{Radial: 1.05, Axial: 1.05, Polarization: Vec{0, 1.2}}},
				{Name: "plate", Section: polygon([2]float64{0, up[1]}, [2]float64{0.02, up[1]}, [2]float64{0.016, 0.003 + up[1]}, [2]float64{0, 0.003 + up[1]}), Medium: steel}},
			Coils: []Coil{{Name: "coil", Inner: 0.012, Outer: 0.018, Low: 0.008 + up[2], High: 0.014 + up[2], AmpereTurns: 2000}}}
	}
	_, s := solved(t, build([3]float64{}))
	f, g := s.Forces()
	f = append(f, g...)
	if sum := f[0] + f[1] + f[2]; math.Abs(sum) > 2e-3*math.Abs(f[0]) {
		t.Errorf("the forces %v add up to %g N", f, sum)
	}
	for i, name := range []string{"magnet", "plate", "coil"} {
		var up, down [3]float64
		up[i], down[i] = step, -step
		_, a := solved(t, build(up))
		_, b := solved(t, build(down))
		slope := (a.Coenergy() - b.Coenergy()) / (2 * step)
		if math.Abs(f[i]-slope) > 5e-3*math.Abs(f[1]) {
			t.Errorf("force on the %s: %g N, the coenergy's slope is %g N", name, f[i], slope)
		}
	}
}

// A coil that sits on its core takes the integral of J x B, and the core the opposite force, which is found another way: the virtual work of its
// nodes within the winding. Both are the slope of the coenergy, too. Tolerance 5e-3: seen 2e-3.
func TestCoilOnItsCore(t *testing.T) {
	steel := steelNamed(t, "pure-iron")
	build := func(z float64) Problem {
		return Problem{Density: 1, Bodies: []Body{{Name: "core", Section: rectangle(0, 0.01, -0.03, 0.03), Medium: steel}},
			Coils: []Coil{{Name: "coil", Inner: 0.01, Outer: 0.025, Low: z, High: z + 0.02, AmpereTurns: 5000}}}
	}
	const z, step = 0.008, 0.3e-3
	_, s := solved(t, build(z))
	core, coil := s.Forces()
	_, a := solved(t, build(z+step))
	_, b := solved(t, build(z-step))
	slope := (a.Coenergy() - b.Coenergy()) / (2 * step)
	within(t, "force on the coil", coil[0], slope, 5e-3)
	within(t, "force on the core", core[0], -slope, 5e-3)
}

// No flux comes from nowhere: through the plane across the middle of a pot as much goes up in the magnets' gap as comes down in the wall and
// beyond it. The flux far out is the dipole's; the sum is compared with the flux in the gap. 3e-4 at a density of 1.4, whichever mesh rounding decides on.
func TestFluxIsConserved(t *testing.T) {
	p := pot(steelNamed(t, "steel-1018"))
	p.Bodies = p.Bodies[1:] // without its lid the field comes out
	p.Density = 1.4
	_, s := solved(t, p)
	const z = 0.02
	var up, all float64
	edges := []float64{0, 0.025, 0.04, 0.05, 0.07, 0.12, 0.5}
	for i := range edges[1:] {
		const panels = 24
		for k := range panels {
			for _, q := range lineRule {
				h := (edges[i+1] - edges[i]) / panels
				r := edges[i] + h*(float64(k)+q.s)
				b, _ := s.At(r3.Vec{X: r, Z: z})
				all += 2 * math.Pi * r * b.Z * q.w * h
			}
		}
		if i == 0 {
			up = all
		}
	}
	all -= material.Mu0 * s.Moment().Z / (2 * edges[len(edges)-1]) // of a dipole through the plane beyond the radius r: -mu0 m/(2 r)
	if math.Abs(all) > 3e-4*up {
		t.Errorf("flux %g Wb up in the magnet, %g Wb in all", up, all)
	}
	within(t, "flux through the magnet", s.Flux(2, z, 0, 0.025), up, 3e-4)
}

// A film of air across the whole face of a steel pole is a layer of air there: the field in the gap of a pot with a layer of 0.1 mm between
// its post and its bottom, meshed, and with a film over a tenth of the post. The film moves the post by its thickness and lets no flux out at
// the layer's rim: 2e-3.
func TestFilmIsLayerOfAir(t *testing.T) {
	steel := steelNamed(t, "pure-iron")
	const d = 0.1e-3
	build := func(layer bool) Problem {
		post := steel
		bottom := -0.02
		if layer {
			bottom += d
		} else {
			post.Films = []Film{{Share: d / 0.002, Min: Vec{0, -0.02}, Max: Vec{0.01, -0.018}}}
		}
		return Problem{Density: 0.6, Bodies: []Body{
			{Name: "base", Section: rectangle(0, 0.03, -0.03, -0.02), Medium: steel},
			{Name: "post", Section: rectangle(0, 0.01, bottom, 0), Medium: post},
			{Name: "wall", Section: rectangle(0.025, 0.03, -0.02, 0.004), Medium: steel},
			{Name: "lid", Section: rectangle(0, 0.03, 0.004, 0.01), Medium: steel}},
			Coils: []Coil{{Name: "coil", Inner: 0.012, Outer: 0.02, Low: -0.018, High: -0.004, AmpereTurns: 3000}}, Focus: r3.Vec{Z: 0.002}}
	}
	gap := func(p Problem) float64 {
		_, s := solved(t, p)
		e, err := s.Inside(r3.Vec{Z: 0.002}, 0.001)
		if err != nil {
			t.Fatal(err)
		}
		return e.Field(r3.Vec{Z: 0.002}).Z
	}
	layer, film := gap(build(true)), gap(build(false))
	none := build(false)
	none.Bodies[1].Medium.Films = nil
	if without := gap(none); math.Abs(film/without-1) < 0.01 {
		t.Fatalf("the film changes the field from %g T to %g T only", without, film)
	}
	within(t, "field with a film", film, layer, 2e-3)
}

// The tangent of each law is the slope of B, B that of the coenergy, and inverse undoes a law.
func TestMedia(t *testing.T) {
	steel := steelNamed(t, "steel-1018")
	film := steel
	film.Films = []Film{{Share: 0.02, Min: Vec{-1, -1}, Max: Vec{1, 1}}}
	media := map[string]Medium{"steel": steel, "film": film, "magnet": {Radial: 1.1, Axial: 1.3, Polarization: Vec{0.2, 1.1}}}
	for name, m := range media {
		rapid.Check(t, func(rt *rapid.T) {
			size := math.Pow(10, rapid.Float64Range(2, 6).Draw(rt, "log H"))
			angle := rapid.Float64Range(0, 2*math.Pi).Draw(rt, "angle")
			h := Vec{size * math.Cos(angle), size * math.Sin(angle)}
			o := m.at(h, Vec{})
			for k := range 2 {
				d := 1e-4 * size
				up, down := h, h
				up[k] += d
				down[k] -= d
				a, b := m.at(up, Vec{}), m.at(down, Vec{})
				scale := material.Mu0*size + math.Hypot(o.B[0], o.B[1])
				if got := (a.w - b.w) / (2 * d); math.Abs(got-o.B[k]) > 1e-3*scale {
					rt.Errorf("%s: slope %g of the coenergy, B %g", name, got, o.B[k])
				}
				for i := range 2 {
					want := o.D[2]
					if i == k {
						want = o.D[k]
					}
					if got := (a.B[i] - b.B[i]) / (2 * d); math.Abs(got-want) > 1e-3*scale/size+0.02*math.Abs(want) {
						rt.Errorf("%s: slope %g of B, tangent %g", name, got, want)
					}
				}
			}
			if m.linear() {
				return
			}
			if back := m.inverse(o.B, Vec{}); math.Hypot(back[0]-h[0], back[1]-h[1]) > 1e-6*size {
				rt.Errorf("%s: H %v comes back as %v", name, h, back)
			}
		})
	}
}

// The functions of fits solve the equation of the potential: zonal harmonics everywhere, the local basis up to its degree.
func TestFitFunctions(t *testing.T) {
	laplace := func(f func(r, z float64) float64, r, z float64) float64 {
		const d = 1e-3
		c := f(r, z)
		rr := (f(r+d, z) - 2*c + f(r-d, z)) / (d * d)
		zz := (f(r, z+d) - 2*c + f(r, z-d)) / (d * d)
		return rr + zz + (f(r+d, z)-f(r-d, z))/(2*d)/r
	}
	for l := range 8 {
		f := func(r, z float64) float64 { v := make([]float64, 8); zonal(r, z, v, nil); return v[l] }
		val, grad := make([]float64, 8), make([]Vec, 8)
		zonal(0.3, 0.4, val, grad)
		if got := laplace(f, 0.3, 0.4); math.Abs(got) > 1e-4 {
			t.Errorf("zonal harmonic %d: Laplace's operator gives %g", l, got)
		}
		const d = 1e-5
		if dr := (f(0.3+d, 0.4) - f(0.3-d, 0.4)) / (2 * d); math.Abs(dr-grad[l][0]) > 1e-7 {
			t.Errorf("zonal harmonic %d: gradient %g, want %g", l, grad[l][0], dr)
		}
	}
	const r0, degree = 2.0, 5
	for j, a := range localBasis(r0, degree) {
		f := func(r, z float64) float64 {
			m := make([]float64, monomials(degree))
			monomialValues(degree, r-r0, z, m)
			return dot(a, m)
		}
		// What is left is of degree 4 and more in the distance.
		if got := laplace(f, r0+0.02, 0.03); math.Abs(got) > 1e-4 {
			t.Errorf("local function %d: Laplace's operator gives %g", j, got)
		}
	}
}

// The recovered field has no jumps from triangle to triangle in the gap: between it and the expansion over the gap lie a few tens of ppm.
func TestGapIsSmooth(t *testing.T) {
	p := pot(steelNamed(t, "steel-1018"))
	p.Radius = 0.004
	_, s := solved(t, p)
	e, err := s.Inside(r3.Vec{}, 0.004)
	if err != nil {
		t.Fatal(err)
	}
	mid := r3.Norm(e.Field(r3.Vec{}))
	for i := range 40 {
		x := r3.Vec{X: 1e-4 * float64(i), Z: 0.003 - 7e-5*float64(i)}
		b, _ := s.At(x)
		if d := r3.Norm(r3.Sub(b, e.Field(x))); d > 1.5e-4*mid {
			t.Errorf("at %v the two fields differ by %.0f ppm", x, 1e6*d/mid)
		}
	}
	if _, err := s.Inside(r3.Vec{}, 0.02); err == nil {
		t.Error("a ball that reaches into the magnets is expanded")
	}
	if _, err := s.Inside(r3.Vec{X: 0.001}, 0.001); err == nil {
		t.Error("a ball off the axis is expanded")
	}
}

// Wrong problems give errors, not answers.
func TestProblemErrors(t *testing.T) {
	good := Body{Name: "a", Section: rectangle(0, 0.01, 0, 0.01), Medium: Medium{Radial: 1.05, Axial: 1.05, Polarization: Vec{0, 1}}}
	coil := Coil{Name: "c", Inner: 0.02, Outer: 0.03, Low: 0, High: 0.01, AmpereTurns: 1}
	for _, c := range []struct {
		name string
		p    Problem
	}{
		{"nothing", Problem{}},
		{"overlap", Problem{Bodies: []Body{good, {Name: "b", Section: rectangle(0.005, 0.02, 0.005, 0.02), Medium: air}}}},
		{"negative radius", Problem{Bodies: []Body{{Name: "b", Section: rectangle(-0.01, 0.01, 0, 0.01), Medium: air}}}},
		{"no area", Problem{Bodies: []Body{{Name: "b", Section: rectangle(0, 0.01, 0.01, 0), Medium: air}}}},
		{"no medium", Problem{Bodies: []Body{{Name: "b", Section: rectangle(0, 0.01, 0, 0.01)}}}},
		{"no coil", Problem{Coils: []Coil{{Name: "c", Inner: 0.02, Outer: 0.01, Low: 0, High: 0.01}}}},
		{"coil in body", Problem{Bodies: []Body{good}, Coils: []Coil{{Name: "c", Inner: 0.005, Outer: 0.03, Low: 0, High: 0.01}}}},
		{"coil in coil", Problem{Coils: []Coil{coil, coil}}},
		{"no axis", Problem{Bodies: []Body{good}}},
	} {
		if c.name != "no axis" {
			c.p.Turn = shape.Identity()
		}
		if _, _, err := Solve(context.Background(), &c.p, nil); err == nil {
			t.Errorf("%s: no error", c.name)
		}
	}
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	if _, _, err := Solve(ctx, &Problem{Turn: shape.Identity(), Bodies: []Body{good}}, nil); err == nil {
		t.Error("a cancelled solve gives an answer")
	}
	_, s := solved(t, Problem{Bodies: []Body{good}})
	if _, err := s.HalfForce(0.003); err == nil {
		t.Error("a force across a plane that the mesh does not have")
	}
}

// Whatever the axis and wherever the origin, the answer is the same.
func TestAxes(t *testing.T) {
	var want float64
	for i, turn := range []shape.Rotation{shape.Identity(), shape.AxisTo(0), shape.AxisTo(1), shape.Euler(0.3, -0.7, 1.1)} {
		p := pot(steelNamed(t, "steel-1018"))
		p.Turn, p.Density, p.Origin = turn, 0.5, r3.Vec{X: 0.3, Y: -0.2, Z: 0.1}
		p.Focus = p.Origin
		coarse, s, err := Solve(context.Background(), &p, nil)
		if err != nil || coarse == nil {
			t.Fatal(err)
		}
		b, h := s.At(r3.Add(p.Origin, p.world(0.003, 0.004, 0.004))) // within a triangle: on an edge, rounding would say which of two counts
		x, y, z := p.frame(b)
		_, _, hz := p.frame(h)
		within(t, "H in air", hz*material.Mu0, z, 1e-12)
		if i == 0 {
			want = z
		}
		within(t, fmt.Sprintf("B along axis %d", i), z, want, 1e-6)
		within(t, "direction across the axis", x/y, 0.75, 1e-9)
	}
}

func BenchmarkSolve(b *testing.B) {
	for _, c := range []struct {
		name    string
		density float64
	}{{"draft", 0.6}, {"standard", 1}, {"fine", 1.4}} {
		b.Run(c.name, func(b *testing.B) {
			for range b.N {
				p := pot(steelNamed(b, "steel-1018"))
				p.Density = c.density
				_, s := solved(b, p)
				b.ReportMetric(float64(s.Effort.Unknowns), "unknowns")
			}
		})
	}
}
