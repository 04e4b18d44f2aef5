package result

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"
	"pgregory.net/rapid"
)

// |B| and B^2 of a quadratic field, differentiated by hand and by central differences.
func TestDerivativesOf(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var b [3]float64
		var g [3][3]float64
		var s [3][3][3]float64
		number := rapid.Float64Range(-1, 1)
		for i := range 3 {
			b[i] = number.Draw(t, "b")
			for j := range 3 {
				g[i][j] = number.Draw(t, "g")
				for k := range j + 1 {
					s[i][j][k] = number.Draw(t, "s")
					s[i][k][j] = s[i][j][k]
				}
			}
		}
		b[2] += 3 // away from zero
		square := func(x [3]float64) (sum float64) {
			for i := range 3 {
				v := b[i]
				for j := range 3 {
					v += g[i][j] * x[j]
					for k := range 3 {
						v += s[i][j][k] * x[j] * x[k] / 2
					}
				}
				sum += v * v
			}
			return sum
		}
		size := func(x [3]float64) float64 { return math.Sqrt(square(x)) }
		d := DerivativesOf(r3.Vec{X: b[0], Y: b[1], Z: b[2]}, g, s)
		const h = 1e-3
		at := func(f func([3]float64) float64, j, k int, p, q float64) float64 {
			var x [3]float64
			x[j] += p * h
			x[k] += q * h
			return f(x)
		}
		check := func(what string, got, want float64) {
			if math.Abs(got-want) > 1e-3*(1+math.Abs(want)) { // differences of this step, with third derivatives of order 100
				t.Errorf("%s: %.6g, by differences %.6g", what, got, want)
			}
		}
		for j := range 3 {
			check("grad B2", d.GradB2[j], (at(square, j, j, 1, 0)-at(square, j, j, -1, 0))/(2*h))
			check("grad |B|", d.GradB[j], (at(size, j, j, 1, 0)-at(size, j, j, -1, 0))/(2*h))
			for k := range 3 {
				for _, f := range []struct {
					what string
					of   func([3]float64) float64
					got  float64
				}{{"curvature of B2", square, d.CurvatureB2[j][k]}, {"curvature of |B|", size, d.Curvature[j][k]}} {
					check(f.what, f.got, (at(f.of, j, k, 1, 1)-at(f.of, j, k, 1, -1)-at(f.of, j, k, -1, 1)+at(f.of, j, k, -1, -1))/(4*h*h))
				}
			}
		}
	})
	if d := DerivativesOf(r3.Vec{}, [3][3]float64{{1}}, [3][3][3]float64{}); d.GradB != [3]float64{} || d.CurvatureB2[0][0] != 2 {
		t.Errorf("without a field: %+v", d)
	}
}

// Textbook figures. An electron of 10 keV in 1 mT: p c = sqrt(T^2 + 2 T mc^2) = 101.5873 keV, so r = p/(e B) = 101587.3/(299792458 * 0.001) =
// 0.338859 m. A proton of 1 MeV in 1 T: p c = 43.331 MeV, r = 0.14454 m; the formula without relativity sqrt(2 m T)/(e B) = 0.14450 m. An
// alpha particle has about twice the momentum at the same energy and twice the charge.
func TestParticleRadius(t *testing.T) {
	p := Particles()
	for _, c := range []struct {
		p                Particle
		ev, b, want, tol float64
	}{
		{p[0], 10e3, 1e-3, 0.338859, 3e-6},
		{p[1], 1e6, 1, 0.14454, 5e-5},
		{p[1], 1e3, 1, math.Sqrt(2*1.67262192595e-27*1e3*1.602176634e-19) / 1.602176634e-19, 1e-6},
		{p[2], 1e3, 1, math.Sqrt(2*6.6446573e-27*1e3*1.602176634e-19) / (2 * 1.602176634e-19), 1e-6},
		{p[0], 1e12, 2, 1e12 / (299792458. * 2), 1e-6}, // r = E/(c q B) when the rest energy is nothing
	} {
		got, err := c.p.Radius(c.ev, c.b)
		if err != nil || math.Abs(got/c.want-1) > c.tol {
			t.Errorf("%s of %g eV in %g T: %.6g m, expected %.6g; %v", c.p.Name, c.ev, c.b, got, c.want, err)
		}
	}
	for _, x := range [][2]float64{{0, 1}, {-1, 1}, {1, 0}, {math.NaN(), 1}, {1, math.NaN()}, {math.Inf(1), 1}} {
		if _, err := p[0].Radius(x[0], x[1]); err == nil {
			t.Errorf("%g eV in %g T has a radius", x[0], x[1])
		}
	}
}

// The frequencies are g mu_B/h and the like: the electron's from g = 2.00231930436, mu_B = 9.2740100657e-24 J/T (CODATA 2022) and
// h = 6.62607015e-34 J s (exact); the shielded proton lies 25.67 ppm below the free one (CODATA 2022: 2.56715e-5). 1 T is 42.58 MHz.
func TestResonances(t *testing.T) {
	if want := 2.00231930436 * 9.2740100657e-24 / 6.62607015e-34; math.Abs(ElectronHzPerT/want-1) > 1e-9 {
		t.Errorf("the electron turns at %g Hz/T, expected %g", ElectronHzPerT, want)
	}
	if shift := 1 - ShieldedProtonHzPerT/ProtonHzPerT; math.Abs(shift-2.56715e-5) > 5e-9 {
		t.Errorf("water shifts the proton's line by %.4g", shift)
	}
}

// Water floats where B dB/dz is about -1360 T2/m, so grad B^2 twice that (rho g mu0/chi by hand, with chi = -9.035e-6; Berry and Geim,
// Eur. J. Phys. 18 (1997) 307, say about 1400 T2/m, from memory). Tolerance: the digits of the figure by hand.
func TestWaterFloats(t *testing.T) {
	if l := Levitation(WaterSusceptibility, WaterDensity, -2*1361.5); math.Abs(l-1) > 2e-3 {
		t.Errorf("at B dB/dz of -1361.5 T2/m water has %.4f of its weight taken off", l)
	}
}

// A quadratic field c (x^2 + y^2)/2 across z: the mean over a square of edge a is c a^2/12. A linear one makes no error.
func TestHallError(t *testing.T) {
	const a, c = 2e-3, 150.0
	got := HallError(func(p r3.Vec) r3.Vec { return r3.Vec{Z: 1 + 7*p.X + c*(p.X*p.X+p.Y*p.Y)/2} }, r3.Vec{}, r3.Vec{Z: 1}, a)
	if want := c * a * a / 12; math.Abs(got/want-1) > 1e-9 {
		t.Errorf("%g T, expected %g", got, want)
	}
}

// In a gradient the field along it has the histogram of the slices of the body. A box with its edge along the gradient: all bins alike, so both
// widths are the whole spread. A sphere: slices 1 - (z/R)^2, above half of the largest up to R/sqrt 2. Tolerance: some bins of a hundred.
func TestLineShape(t *testing.T) {
	field := func(p r3.Vec) r3.Vec { return r3.Vec{X: 1 + 0.1*p.Z} }
	for _, c := range []struct {
		v          Volume
		full, half float64
	}{
		{Box{r3.Vec{X: 1, Y: 1, Z: 1}}, 0.1, 0.1},
		{Sphere{1}, 0.2, 0.2 / math.Sqrt2},
	} {
		full, half := LineShape(field, r3.Vec{}, c.v)
		if math.Abs(full/c.full-1) > 0.02 || math.Abs(half/c.half-1) > 0.08 {
			t.Errorf("%T: widths %.4f and %.4f T, expected %.4f and %.4f", c.v, full, half, c.full, c.half)
		}
	}
	if full, half := LineShape(func(r3.Vec) r3.Vec { return r3.Vec{X: 1} }, r3.Vec{}, Sphere{1}); full != 0 || half != 0 {
		t.Errorf("a uniform field has widths %g, %g", full, half)
	}
}
