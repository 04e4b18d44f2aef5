package magnetostatic

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"polewright/material"
)

func steelCurve(t testing.TB, name string) *material.Curve {
	t.Helper()
	s, err := material.SteelNamed(name)
	if err != nil {
		t.Fatal(err)
	}
	return s.Curve
}

// eachMedium is one medium of each kind, none of them lined up with the axes.
func eachMedium(t testing.TB) map[string]Medium {
	film := Medium{Curve: steelCurve(t, "steel-1018"), Films: []Film{{Normal: Vec{0.48, -0.60, 0.64}, Share: 0.01, Min: Vec{-1, -1, -1}, Max: Vec{1, 1, 1}}}}
	return map[string]Medium{
		"air":    Air(),
		"magnet": Isotropic(1.05, Vec{0.3, -0.7, 1.1}),
		"linear": {Linear: true, RelativeUU: 30, RelativeUV: -12, RelativeVV: 8, RelativeWW: 3, Polarization: Vec{0.1, 0.2, -0.3}},
		"steel":  {Curve: steelCurve(t, "steel-1018")},
		"wire": {Curve: steelCurve(t, "annealed-wire"), Packing: 0.78,
			Direction: func(u, v float64) (float64, float64) { n := math.Hypot(u, v); return -v / n, u / n }},
		"steel with a film": film,
	}
}

// drawField draws a field strength of any direction from 1 A/m to 1 MA/m.
func drawField(t *rapid.T) [3]float64 {
	z := rapid.Float64Range(-1, 1).Draw(t, "cosine")
	a := rapid.Float64Range(-math.Pi, math.Pi).Draw(t, "azimuth")
	size := math.Pow(10, rapid.Float64Range(0, 6).Draw(t, "decades"))
	r := math.Sqrt(1 - z*z)
	return [3]float64{size * r * math.Cos(a), size * r * math.Sin(a), size * z}
}

// The tangent is the derivative of B, B that of the coenergy, and both by central differences; the tangent is symmetric (all nine
// differences are compared with the six stored numbers) and positive definite, so that the energy is convex. No outside number is needed:
// these are the definitions. Tolerances: rounding makes 1e-7 of the
// tangent; a point of the curve's table within the step (a jump of the second derivative) makes some 1e-5.
func TestTangentAndCoenergyAreDerivatives(t *testing.T) {
	for name, m := range eachMedium(t) {
		t.Run(name, rapid.MakeCheck(func(t *rapid.T) {
			h := drawField(t)
			at := [3]float64{rapid.Float64Range(0.01, 0.05).Draw(t, "u"), rapid.Float64Range(-0.05, 0.05).Draw(t, "v"), 0}
			var s, hi, lo law
			m.at(&h, &at, &s)
			size := math.Sqrt(h[0]*h[0] + h[1]*h[1] + h[2]*h[2])
			// Differences of any step are exact in linear media. In steel the step is small beside the knee of the curve.
			step, wide := math.Min(1e-7*size, 1e-3), math.Min(1e-6*size, 0.03)
			if m.Linear {
				step, wide = 1e5, 1e5
			}
			d := [3][3]float64{{s.D[0], s.D[3], s.D[4]}, {s.D[3], s.D[1], s.D[5]}, {s.D[4], s.D[5], s.D[2]}}
			top := math.Max(s.D[0], math.Max(s.D[1], s.D[2]))
			b := math.Sqrt(s.B[0]*s.B[0] + s.B[1]*s.B[1] + s.B[2]*s.B[2])
			around := func(j int, step float64) {
				p, q := h, h
				p[j] += step
				q[j] -= step
				m.at(&p, &at, &hi)
				m.at(&q, &at, &lo)
			}
			for j := range 3 {
				around(j, step)
				for i := range 3 {
					if diff := (hi.B[i] - lo.B[i]) / (2 * step); math.Abs(diff-d[i][j]) > 3e-5*top {
						t.Fatalf("dB%d/dH%d is %g, by differences %g (largest %g)", i, j, d[i][j], diff, top)
					}
				}
				around(j, wide)
				if diff := (hi.w - lo.w) / (2 * wide); math.Abs(diff-s.B[j]) > 1e-6*b {
					t.Fatalf("B%d is %g, the coenergy's derivative %g", j, s.B[j], diff)
				}
			}
			// Sylvester's criterion; the least tangent of any medium here is that of air.
			m2 := d[0][0]*d[1][1] - d[0][1]*d[0][1]
			m3 := d[0][0]*(d[1][1]*d[2][2]-d[1][2]*d[1][2]) - d[0][1]*(d[0][1]*d[2][2]-d[1][2]*d[0][2]) + d[0][2]*(d[0][1]*d[1][2]-d[1][1]*d[0][2])
			if !(d[0][0] > 0 && m2 > 0 && m3 > 0) {
				t.Fatalf("the tangent is not positive definite: minors %g, %g, %g", d[0][0], m2, m3)
			}
		}))
	}
}

// The inverse law gives back the field strength. Tolerance: B fixes H only within rounding times B over dB/dH times H, below 1e-9 even in
// saturated steel; Curve.H is solved to about 1e-12.
func TestInverseOfTheLaw(t *testing.T) {
	for name, m := range eachMedium(t) {
		if m.Linear {
			continue // never asked for: H is fitted there
		}
		t.Run(name, rapid.MakeCheck(func(t *rapid.T) {
			h := drawField(t)
			at := [3]float64{rapid.Float64Range(0.01, 0.05).Draw(t, "u"), rapid.Float64Range(-0.05, 0.05).Draw(t, "v"), 0}
			var s law
			m.at(&h, &at, &s)
			back := m.inverse(s.B, at)
			var d, size float64
			for i := range 3 {
				d += (back[i] - h[i]) * (back[i] - h[i])
				size += h[i] * h[i]
			}
			if math.Sqrt(d/size) > 1e-8 {
				t.Fatalf("H %v comes back as %v: off by %.1e", h, back, math.Sqrt(d/size))
			}
		}))
	}
}

// A bundle of wires, along and across. Along: steel and air side by side. Across: cylinders of very high permeability in the mixing rule of
// Maxwell Garnett in two dimensions, (mu - 1)/(mu + 1) = f (J. C. Maxwell Garnett 1904; Lord Rayleigh, Phil. Mag. 34 (1892) 481 finds the
// same to order f^4 for a square lattice). Exact but for rounding.
func TestBundleOfWires(t *testing.T) {
	c := steelCurve(t, "annealed-wire")
	const f = 0.7
	m := Medium{Curve: c, Packing: f, Direction: func(u, v float64) (float64, float64) { return 0.6, 0.8 }}
	var at law
	var origin [3]float64
	m.at(&[3]float64{0.6 * 2000, 0.8 * 2000, 0}, &origin, &at)
	b, _, _ := c.Eval(2000)
	near(t, "along the wire", math.Hypot(at.B[0], at.B[1]), f*b+(1-f)*material.Mu0*2000, 1e-13)
	near(t, "direction along the wire", at.B[1]/at.B[0], 0.8/0.6, 1e-13)
	for _, h := range [][3]float64{{-0.8 * 2000, 0.6 * 2000, 0}, {0, 0, 2000}} {
		m.at(&h, &origin, &at)
		mu := math.Sqrt(at.B[0]*at.B[0]+at.B[1]*at.B[1]+at.B[2]*at.B[2]) / 2000 / material.Mu0
		near(t, "across the wires (mu-1)/(mu+1)", (mu-1)/(mu+1), f, 1e-12)
	}
}

// Steel with a film of air across the field is the series connection of the two: for the flux density B the field strength is that of the
// steel plus the film's share of B/mu0; along the film, and out of the film's zone, the steel is undisturbed. Exact but for the film equation's tolerance of 1e-14.
func TestSteelWithFilmInSeries(t *testing.T) {
	c := steelCurve(t, "steel-1018")
	m := Medium{Curve: c, Films: []Film{{Normal: Vec{0, 0, 1}, Share: 0.02, Min: Vec{-1, -1, -1}, Max: Vec{1, 1, 1}}}}
	var at law
	var origin [3]float64
	for _, b := range []float64{0.2, 1.2, 1.9, 2.2} {
		h := [3]float64{0, 0, c.H(b) + 0.02*b/material.Mu0}
		m.at(&h, &origin, &at)
		near(t, "B across the film", at.B[2], b, 1e-10)
		h = [3]float64{c.H(b), 0, 0}
		m.at(&h, &origin, &at)
		near(t, "B along the film", at.B[0], b, 1e-10)
	}
	outside := [3]float64{0, 0, 1.01}
	m.at(&[3]float64{0, 0, 5000}, &outside, &at)
	b, _, _ := c.Eval(5000)
	near(t, "B out of the zone", at.B[2], b, 1e-14)
}
