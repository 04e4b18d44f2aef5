package harmonic

import (
	"fmt"
	"math"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"
	"pgregory.net/rapid"
)

// dipole is the field of a point dipole m (A m2) at a place: mu0/(4 pi) (3 (m.n) n - m)/r^3 (Jackson, Classical Electrodynamics, eq. 5.56).
func dipole(m, at r3.Vec) func(r3.Vec) r3.Vec {
	return func(p r3.Vec) r3.Vec {
		d := r3.Sub(p, at)
		n := r3.Unit(d)
		return r3.Scale(1e-7/math.Pow(r3.Norm(d), 3), r3.Sub(r3.Scale(3*r3.Dot(m, n), n), m))
	}
}

func apart(a, b r3.Vec) float64 { return r3.Norm(r3.Sub(a, b)) / r3.Norm(b) }

// A dipole outside a ball, and one inside, are expanded about the ball's centre for any polar axis. The share of the terms left out is about
// (0.4)^13 within a third of the way to the dipole, 1e-4 at most with their growing factors; a wrong factor in any degree shows at once.
func TestExpandsADipole(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		unit := func(name string) r3.Vec { return Direction(rapid.IntRange(0, 999).Draw(t, name), 1000) }
		polar := rapid.IntRange(0, 2).Draw(t, "polar")
		center := r3.Vec{X: 0.3, Y: -0.2, Z: 0.1}
		m := r3.Scale(2, unit("moment"))
		far := dipole(m, r3.Add(center, r3.Scale(0.1, unit("from"))))
		in := Inside(far, center, 0.05, polar, 13, 20)
		p := r3.Add(center, r3.Scale(0.03, unit("at")))
		if e := apart(in.Field(p), far(p)); e > 1e-4 {
			t.Errorf("within the ball the field is off by %.1e", e)
		}
		near := dipole(m, r3.Add(center, r3.Scale(0.03, unit("from"))))
		out := Outside(near, center, 0.06, polar, 13, 24)
		for _, r := range []float64{0.1, 1, 100} {
			p := r3.Add(center, r3.Scale(r, unit("at")))
			if e := apart(out.Field(p), near(p)); e > 1e-4 {
				t.Errorf("at %g m the field is off by %.1e", r, e)
			}
		}
	})
}

// Derivatives against central differences of the field itself, in world axes, inside and outside; the gradient is symmetric and without trace
// (curl and divergence of B are zero), and so are second derivatives. Differences of a step of 1e-4 of the length are good to 1e-7 or so.
func TestDerivatives(t *testing.T) {
	field := dipole(r3.Vec{X: 1, Y: -2, Z: 0.5}, r3.Vec{X: 0.1, Y: 0.05, Z: -0.08})
	for polar := range 3 {
		in := Inside(field, r3.Vec{}, 0.06, polar, 13, 20)
		out := Outside(field, r3.Vec{}, 0.2, polar, 13, 20)
		for _, c := range []struct {
			e *Expansion
			p r3.Vec
		}{{in, r3.Vec{X: 0.02, Y: -0.03, Z: 0.01}}, {out, r3.Vec{X: 0.3, Y: 0.2, Z: -0.4}}} {
			b, g, s := c.e.Derivatives(c.p)
			if b != c.e.Field(c.p) {
				t.Errorf("B is %v and %v", b, c.e.Field(c.p))
			}
			h := 1e-4 * c.e.Scale
			var trace float64
			for j := range 3 {
				step := r3.Scale(h, [3]r3.Vec{{X: 1}, {Y: 1}, {Z: 1}}[j])
				_, gp, _ := c.e.Derivatives(r3.Add(c.p, step))
				_, gm, _ := c.e.Derivatives(r3.Sub(c.p, step))
				d := r3.Scale(1/(2*h), r3.Sub(c.e.Field(r3.Add(c.p, step)), c.e.Field(r3.Sub(c.p, step))))
				size := r3.Norm(d)
				for i, v := range [3]float64{d.X, d.Y, d.Z} {
					if math.Abs(v-g[i][j]) > 1e-6*size {
						t.Errorf("polar %d: dB%d/dx%d is %.8g, by differences %.8g", polar, i, j, g[i][j], v)
					}
					if math.Abs(g[i][j]-g[j][i]) > 1e-10*size {
						t.Errorf("the gradient is not symmetric: %g, %g", g[i][j], g[j][i])
					}
					for k := range 3 {
						if v := (gp[i][k] - gm[i][k]) / (2 * h); math.Abs(v-s[i][k][j]) > 1e-5*size/c.e.Scale {
							t.Errorf("polar %d: second derivative %d%d%d is %.8g, by differences %.8g", polar, i, k, j, s[i][k][j], v)
						}
					}
				}
				trace += g[j][j]
			}
			if math.Abs(trace) > 1e-9*math.Abs(g[0][0]) {
				t.Errorf("div B = %g", trace)
			}
		}
	}
}

// A dipole m at d has the dipole moment m, and the quadrupole moment 3 (m_i d_j + m_j d_i) - 2 (m.d) delta_ij about the origin: Jackson's
// definition, section 4.1, with the charge density -m.grad delta. Tolerance 1e-10: the rule is exact for these degrees but for what higher
// ones alias, (0.03/0.06)^32 or so.
func TestMoments(t *testing.T) {
	m, d := r3.Vec{X: 1, Y: -2, Z: 0.5}, r3.Vec{X: 0.01, Y: 0.02, Z: -0.015}
	ma, da := [3]float64{m.X, m.Y, m.Z}, [3]float64{d.X, d.Y, d.Z}
	for polar := range 3 {
		got, q := Outside(dipole(m, d), r3.Vec{}, 0.06, polar, 12, 24).Moments()
		if e := apart(got, m); e > 1e-10 {
			t.Errorf("polar %d: dipole moment %v, off by %.1e", polar, got, e)
		}
		for i := range 3 {
			for j := range 3 {
				want := 3 * (ma[i]*da[j] + ma[j]*da[i])
				if i == j {
					want -= 2 * r3.Dot(m, d)
				}
				if math.Abs(q[i][j]-want) > 1e-10 {
					t.Errorf("polar %d: Q%d%d is %.12g, expected %.12g", polar, i, j, q[i][j], want)
				}
			}
		}
	}
}

// The terms of given fields, written down by hand from the definition (Winch and others 2005 for the normalization): for the polar axis z and
// R = 2, S(1,0) = z/R, S(1,1) cos = x/R, S(2,0) = (z^2 - (x^2+y^2)/2)/R^2, S(2,1) sin = sqrt(3) y z/R^2, S(2,2) cos = sqrt(3)/2 (x^2-y^2)/R^2,
// S(3,3) sin = sqrt(5/8) (3 x^2 y - y^3)/R^3. The fields are grad of -mu0 phi with B_z as stated.
func TestTermsByHand(t *testing.T) {
	const r = 2.0
	for _, c := range []struct {
		n, m  int
		sine  bool
		field func(p r3.Vec) r3.Vec // its z component is the term alone, times 5
	}{
		{1, 0, false, func(p r3.Vec) r3.Vec { return r3.Vec{X: -p.X / 2 / r, Y: -p.Y / 2 / r, Z: p.Z / r} }},
		{1, 1, false, func(p r3.Vec) r3.Vec { return r3.Vec{X: p.Z / r, Z: p.X / r} }},
		{2, 0, false, func(p r3.Vec) r3.Vec {
			return r3.Scale(1/(r*r), r3.Vec{X: -p.X * p.Z, Y: -p.Y * p.Z, Z: p.Z*p.Z - (p.X*p.X+p.Y*p.Y)/2})
		}},
		{2, 1, true, func(p r3.Vec) r3.Vec { // potential y z^2/2 - y (x^2+y^2)/8
			return r3.Scale(math.Sqrt(3)/(r*r), r3.Vec{X: -p.X * p.Y / 4, Y: p.Z*p.Z/2 - (p.X*p.X+3*p.Y*p.Y)/8, Z: p.Y * p.Z})
		}},
		{2, 2, false, func(p r3.Vec) r3.Vec { // potential z (x^2 - y^2)
			return r3.Scale(math.Sqrt(3)/2/(r*r), r3.Vec{X: 2 * p.X * p.Z, Y: -2 * p.Y * p.Z, Z: p.X*p.X - p.Y*p.Y})
		}},
		{3, 3, true, func(p r3.Vec) r3.Vec { // potential z (3 x^2 y - y^3)
			return r3.Scale(math.Sqrt(5./8)/(r*r*r), r3.Vec{X: 6 * p.X * p.Y * p.Z, Y: 3 * p.Z * (p.X*p.X - p.Y*p.Y), Z: 3*p.X*p.X*p.Y - p.Y*p.Y*p.Y})
		}},
	} {
		t.Run(fmt.Sprint(c.n, c.m, c.sine), func(t *testing.T) {
			e := Inside(func(p r3.Vec) r3.Vec { return r3.Scale(5, c.field(p)) }, r3.Vec{}, 0.7, 2, 6, 10)
			for name, terms := range map[string][]Term{"along the axis": e.Terms(5, r), "projected": e.TermsAlong(r3.Vec{Z: 1}, r3.Vec{X: 1}, 5, r)} {
				found := false
				for _, x := range terms {
					want := 0.0
					if x.N == c.n && x.M == c.m && x.Sine == c.sine {
						want, found = 5, true
					}
					if math.Abs(x.B-want) > 1e-11*5*math.Pow(r/0.7, 5) { // rounding on the small sphere grows with the degree
						t.Errorf("%s: term %d %d %v is %g, expected %g", name, x.N, x.M, x.Sine, x.B, want)
					}
				}
				if !found {
					t.Errorf("%s: the term is not listed", name)
				}
			}
		})
	}
}

// What a parity allows is what does not change under the mirror: checked by the values themselves.
func TestAllowed(t *testing.T) {
	p := r3.Vec{X: 0.3, Y: -0.4, Z: 0.5}
	for polar := range 3 {
		for axis := range 3 {
			for _, parity := range []Parity{Even, Odd} {
				e := &Expansion{Scale: 1, Degree: 7, Polar: polar}
				var list [3]Parity
				list[axis] = parity
				allowed := map[int]bool{}
				for _, i := range e.Allowed(list) {
					allowed[i] = true
				}
				q := p
				*[3]*float64{&q.X, &q.Y, &q.Z}[axis] *= -1
				a, b := make([]float64, Count(7)), make([]float64, Count(7))
				e.Basis(p, a)
				e.Basis(q, b)
				for i := range a {
					if same := math.Abs(a[i]-float64(parity)*b[i]) < 1e-9*math.Abs(a[i]); same != allowed[i] {
						t.Errorf("polar %d, axis %d, parity %d: harmonic %d is allowed: %v", polar, axis, parity, i, allowed[i])
					}
				}
			}
		}
	}
	if n := len((&Expansion{Degree: 7, Irregular: true}).Allowed([3]Parity{})); n != 63 {
		t.Errorf("%d irregular harmonics to degree 7 without the constant, not 63", n)
	}
}

func BenchmarkField(b *testing.B) {
	e := Inside(dipole(r3.Vec{Z: 1}, r3.Vec{X: 0.1}), r3.Vec{}, 0.05, 2, 13, 20)
	for b.Loop() {
		e.Field(r3.Vec{X: 0.01, Y: 0.02, Z: 0.03})
	}
}
