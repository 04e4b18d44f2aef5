package polewright

import (
	"context"
	"math"
	"strings"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"polewright/freefield"
	"polewright/harmonic"
	"polewright/result"
	"polewright/shape"
)

// twoBlocks are the magnets of the design bare.
func twoBlocks() (s freefield.Sources) {
	for _, z := range []float64{-0.0275, 0.0275} {
		s = append(s, freefield.Magnet{Solid: shape.Block{Size: r3.Vec{X: .05, Y: .05, Z: .025}},
			Place: shape.Placement{Center: r3.Vec{Z: z}, Rot: shape.Identity()}, Polarization: r3.Vec{Z: 1.3}})
	}
	return s
}

// On the axis the terms of a pair of thin discs are derivatives of an elementary function: a disc of radius a, thickness t and polarization J has
// B_z = J/2 (u/sqrt(a^2 + u^2)) between its faces u = z - z0 -+ t/2 (Furlani 2001, section 4.2). The terms (n, 0) at the radius R are
// B^(n)(0) R^n/n!, here by a fit of high order through Chebyshev points. Two discs at the Helmholtz-like distance where the second derivative
// is small, so that a wrong one shows. Tolerance 1e-9 T: of the projection.
func TestHarmonicsOnTheAxis(t *testing.T) {
	const text = `format = 1
title = "two discs"
[target]
region = { shape = "sphere", diameter = "20 mm" }
[[magnet]]
name = "upper"
shape = "disc"
diameter = "80 mm"
thickness = "4 mm"
center = ["0 mm","0 mm","22 mm"]
magnetized = [0,0,1]
remanence = "1.2 T"
recoil = 1
[[magnet]]
name = "lower"
shape = "disc"
diameter = "80 mm"
thickness = "4 mm"
center = ["0 mm","0 mm","-24 mm"]
magnetized = [0,0,1]
remanence = "1.2 T"
recoil = 1
`
	h := run(t, read(t, text), Options{NoLedger: true}).Result.Harmonics
	if h == nil || h.Radius != 0.01 || h.Polar != [3]float64{0, 0, 1} {
		t.Fatalf("%+v", h)
	}
	axis := func(z float64) (b float64) {
		const a, j = 0.04, 1.2
		for _, c := range []float64{0.022, -0.024} {
			for _, f := range []float64{1, -1} { // both faces
				u := z - c + f*0.002
				b += f * j / 2 * u / math.Hypot(a, u)
			}
		}
		return b
	}
	power := powers(func(x float64) float64 { return axis(0.01 * x) })
	for _, x := range h.Terms {
		switch {
		case x.M == 0 && x.N <= 8:
			if math.Abs(x.B-power[x.N]) > 1e-9 {
				t.Errorf("term %d 0 is %.12f T, on the axis %.12f T", x.N, x.B, power[x.N])
			}
		case x.M > 0 && math.Abs(x.B) > 1e-12:
			t.Errorf("term %d %d %s of discs is %g T", x.N, x.M, x.Kind, x.B)
		}
	}
	if math.Abs(power[1]) < 1e-4 || math.Abs(power[2]) < 1e-4 {
		t.Errorf("the terms 1 and 2 are too small to check anything: %g, %g", power[1], power[2])
	}
}

// powers are the first terms of a function's power series, good from -1 to 1: the mean over the Chebyshev points times T_k gives the Chebyshev series,
// which is turned into powers.
func powers(f func(float64) float64) (power [13]float64) {
	const n = 40
	previous, current := make([]float64, n+1), make([]float64, n+1)
	for k := range 21 { // beyond it the series is rounding, which powers magnify
		var c float64
		for i := range n {
			at := math.Pi * (float64(i) + 0.5) / n
			c += 2. / n * f(math.Cos(at)) * math.Cos(float64(k)*at)
		}
		next := make([]float64, n+1)
		switch k {
		case 0:
			next[0] = 1
			c /= 2
		case 1:
			next[1] = 1
		default:
			for i := range n {
				next[i+1] += 2 * current[i]
			}
			for i := range n + 1 {
				next[i] -= previous[i]
			}
		}
		previous, current = current, next
		for i := range power {
			power[i] += c * current[i]
		}
	}
	return power
}

// The result's terms, summed by hand from their definition, are the field along the polar axis on an inner sphere: for the closed form within
// 1 ppm, for a solved pair what the solver itself says there.
func TestHarmonicsReproduceTheField(t *testing.T) {
	for _, recoil := range []string{"1.0", "1.05"} {
		s := run(t, read(t, strings.ReplaceAll(bare, "RECOIL", recoil)), Options{NoLedger: true})
		h := s.Result.Harmonics
		gap := s.a.gapField(s.f)
		size := r3.Norm(gap.Field(r3.Vec{}))
		for i := range 50 {
			d := harmonic.Direction(i, 50)
			const share = 0.8
			var sum float64
			for _, x := range h.Terms {
				a := math.Acos(d.Z)
				azimuth := math.Atan2(d.Y, d.X) // polar z, azimuth from x
				trig := math.Cos(float64(x.M) * azimuth)
				if x.Kind == "sin" {
					trig = math.Sin(float64(x.M) * azimuth)
				}
				sum += x.B * math.Pow(share, float64(x.N)) * schmidtLegendre(x.N, x.M, math.Cos(a)) * trig
			}
			if want := gap.Field(r3.Scale(share*h.Radius, d)).Z; math.Abs(sum-want) > 1e-6*size {
				t.Errorf("recoil %s: the terms give %.8f T towards %v, the field is %.8f T", recoil, sum, d, want)
			}
		}
	}
}

// schmidtLegendre is S(n,m) from the explicit sum for P(n,m) (Abramowitz and Stegun 1964, 8.6.6 with Rodrigues' formula).
func schmidtLegendre(n, m int, x float64) float64 {
	// The m-th derivative of P(n) = 2^-n sum (-1)^k C(n,k) C(2n-2k,n) x^(n-2k).
	binomial := func(a, b int) float64 {
		v := 1.0
		for i := range b {
			v *= float64(a-i) / float64(i+1)
		}
		return v
	}
	var p float64
	for k := 0; 2*k <= n-m; k++ {
		term := math.Pow(-1, float64(k)) * binomial(n, k) * binomial(2*n-2*k, n) * math.Pow(2, -float64(n))
		for i := range m {
			term *= float64(n - 2*k - i)
		}
		p += term * math.Pow(x, float64(n-2*k-m))
	}
	p *= math.Pow(1-x*x, float64(m)/2)
	if m > 0 {
		f := 2.0
		for k := n - m + 1; k <= n+m; k++ {
			f /= float64(k)
		}
		p *= math.Sqrt(f)
	}
	return p
}

// Gradients at probes against the closed form of two blocks, by central differences of sixth order; solved on a standard grid within 0.5 % of the
// largest entry, in closed form within 1e-6. Two probes: in the gap, and beside it, out of reach of the gap's own expansion.
func TestProbeDerivatives(t *testing.T) {
	free := twoBlocks()
	probes := "[[probe]]\nname = \"a\"\nat = [\"3 mm\",\"2 mm\",\"-1 mm\"]\n[[probe]]\nname = \"b\"\nat = [\"2 mm\",\"40 mm\",\"3 mm\"]\n"
	for recoil, tolerance := range map[string]float64{"1.0": 1e-6, "1.0000001": 5e-3} {
		r := run(t, read(t, strings.ReplaceAll(bare, "RECOIL", recoil)+probes), Options{NoLedger: true, Accuracy: Standard}).Result
		for _, p := range r.Probes[1:] {
			if p.Derivatives == nil {
				t.Fatalf("probe %s has no derivatives", p.Name)
			}
			at := r3.Vec{X: p.At[0], Y: p.At[1], Z: p.At[2]}
			const h = 1e-3
			var most float64
			var want [3][3]float64
			for j := range 3 {
				step := [3]r3.Vec{{X: h}, {Y: h}, {Z: h}}[j]
				var d r3.Vec // 3/4, -3/20, 1/60
				for k, c := range []float64{3. / 4, -3. / 20, 1. / 60} {
					d = r3.Add(d, r3.Scale(c/h, r3.Sub(free.B(r3.Add(at, r3.Scale(float64(k+1), step))), free.B(r3.Sub(at, r3.Scale(float64(k+1), step))))))
				}
				for i, v := range array(d) {
					want[i][j] = v
					most = math.Max(most, math.Abs(v))
				}
			}
			for i := range 3 {
				for j := range 3 {
					if e := math.Abs(p.Gradient[i][j] - want[i][j]); e > tolerance*most {
						t.Errorf("recoil %s, probe %s: dB%d/dx%d is %.6f T/m, expected %.6f", recoil, p.Name, i, j, p.Gradient[i][j], want[i][j])
					}
				}
			}
		}
	}
}

// A region that has no room in one ball, long or flat, against the closed form: extremes and rms of the solved pair of blocks are those of the
// free field. Standard grid: 1 % of the spread, or 20 ppm.
func TestLongAndFlatRegions(t *testing.T) {
	free := twoBlocks()
	for _, c := range []struct {
		region string
		v      result.Volume
	}{
		{`{ shape = "cylinder", diameter = "8 mm", length = "40 mm", axis = "x" }`, result.Cylinder{Radius: 4e-3, Length: 40e-3, Axis: 0}},
		{`{ shape = "box", size = ["40 mm","40 mm","6 mm"] }`, result.Box{Size: r3.Vec{X: 40e-3, Y: 40e-3, Z: 6e-3}}},
	} {
		text := strings.Replace(strings.ReplaceAll(bare, "RECOIL", "1.0000001"), `{ shape = "sphere", diameter = "8 mm", center = ["0 mm","0 mm","0 mm"] }`, c.region, 1)
		got := run(t, read(t, text), Options{NoLedger: true, Accuracy: Standard}).Result.Region
		want := result.RegionOf(free.B, r3.Vec{}, c.v)
		t.Logf("%s: %.0f and %.0f ppm peak to peak, %.1f and %.1f rms, noise %.1f", c.region, got.PeakToPeak, want.PeakToPeak, got.RMS, want.RMS, got.Noise)
		if math.Abs(got.PeakToPeak/want.PeakToPeak-1) > 0.01 || math.Abs(got.RMS/want.RMS-1) > 0.01 || math.Abs(got.MeanB/want.MeanB-1) > 1e-3 {
			t.Errorf("%s: %+v, the closed form gives %+v", c.region, got, want)
		}
		if got.Noise <= 0 || got.Noise > 0.02*want.PeakToPeak {
			t.Errorf("%s: noise %.3g ppm of %.3g", c.region, got.Noise, want.PeakToPeak)
		}
	}
}

// The reach of a limit in any direction against bisection of the closed form, and the largest of all against a dense look round.
func TestStrayReachAllRound(t *testing.T) {
	text := strings.ReplaceAll(bare, "RECOIL", "1.0")
	text = strings.Replace(text, "magnetized = [0,0,1]", "magnetized = [1,0,2]", 1) // the upper one: no symmetry
	d := read(t, text)
	s := run(t, d, Options{NoLedger: true})
	free := bareSources(d, roomTemperatureC)
	center := r3.Vec{X: s.Result.CenterM[0], Y: s.Result.CenterM[1], Z: s.Result.CenterM[2]}
	reach := func(dir r3.Vec, limit float64) float64 {
		lo, hi := 0.08, 3.0
		for range 50 {
			if mid := (lo + hi) / 2; r3.Norm(free.B(r3.Add(center, r3.Scale(mid, dir)))) > limit {
				lo = mid
			} else {
				hi = mid
			}
		}
		return lo
	}
	limit := s.Result.Stray[0].Limit
	var most float64
	for i := range 3000 {
		most = math.Max(most, reach(harmonic.Direction(i, 3000), limit))
	}
	if got := s.Result.Stray[0].Largest; got < most*(1-1e-5) || got > most*1.001 {
		t.Errorf("the largest reach is %.6f m, by looking round %.6f m", got, most)
	}
	if dir := s.Result.Stray[0].Direction; math.Abs(reach(r3.Vec{X: dir[0], Y: dir[1], Z: dir[2]}, limit)/s.Result.Stray[0].Largest-1) > 1e-5 {
		t.Errorf("towards %v the limit reaches less far", dir)
	}
	stray := s.Stray()
	for i := range 40 {
		dir := harmonic.Direction(i, 40)
		if got, want := stray.Reach(limit, dir), reach(dir, limit); math.Abs(got/want-1) > 1e-5 {
			t.Errorf("towards %v it reaches %.6f m, by bisection %.6f m", dir, got, want)
		}
	}
	// The multipoles of the closed form, at 1, 3, 10 and 100 m.
	_, far := s.a.strayField(s.f, r3.Vec{})
	for _, r := range []float64{1, 3, 10, 100} {
		for i := range 20 {
			p := r3.Add(center, r3.Scale(r, harmonic.Direction(i, 20)))
			if e := r3.Norm(r3.Sub(far.Field(p), free.B(p))) / r3.Norm(free.B(p)); e > 1e-6 {
				t.Errorf("at %g m the multipoles are off by %.1e", r, e)
			}
		}
	}
	// Dipole and quadrupole of uniform blocks by hand (see Moments in package harmonic).
	var want [3][3]float64
	for _, b := range free {
		m, x := array(b.Moment()), array(r3.Sub(b.Place.Center, center))
		for i := range 3 {
			for j := range 3 {
				want[i][j] += 3 * (m[i]*x[j] + m[j]*x[i])
				want[i][i] -= 2 * m[j] * x[j]
			}
		}
	}
	for i := range 3 {
		for j := range 3 {
			if q := s.Result.QuadrupoleAm3[i][j]; math.Abs(q-want[i][j]) > 1e-6*math.Abs(want[0][2]) {
				t.Errorf("Q%d%d is %.9g A m3, expected %.9g", i, j, q, want[i][j])
			}
		}
	}
	surface, err := stray.Surface(context.Background(), 5e-3, nil)
	if err != nil {
		t.Fatal(err)
	}
	for i := 0; i < len(surface.Direction); i += 1000 {
		if want := reach(surface.Direction[i], 5e-3); math.Abs(surface.Distance[i]/want-1) > 1e-4 {
			t.Errorf("the surface lies at %.6f m towards %v, expected %.6f", surface.Distance[i], surface.Direction[i], want)
		}
	}
	stopped, cancel := context.WithCancel(context.Background())
	cancel()
	if _, err := stray.Surface(stopped, 5e-3, nil); err == nil {
		t.Error("a stopped surface is given out")
	}
}

// A magnet's gap read out: the proton's frequency is that of the field, the Hall probe's error that of the curvature, c a^2/12 with the sum of
// both curvatures across the field; and where there is no gap there is no answer.
func TestQuality(t *testing.T) {
	s := run(t, read(t, strings.ReplaceAll(bare, "RECOIL", "1.0")), Options{NoLedger: true})
	q, err := s.Quality(10e3, 1e-3)
	if err != nil {
		t.Fatal(err)
	}
	if f := q.Resonance[0].Frequency; math.Abs(f-0.448041*42.577478461e6) > 50 { // the closed form's six digits
		t.Errorf("the proton turns at %.0f Hz", f)
	}
	if want := (q.Curvature[0][0] + q.Curvature[1][1]) * 1e-6 / 24; math.Abs(q.Hall.Error/want-1) > 0.01 {
		t.Errorf("the Hall probe is off by %g T, its curvature says %g", q.Hall.Error, want)
	}
	if q.Resonance[0].Full < q.Resonance[0].Half || math.Abs(q.Resonance[0].Full/(q.Region.PeakToPeak*1e-6*q.Region.MeanB*42.577478461e6)-1) > 0.02 {
		t.Errorf("line %g Hz wide, half of it %g; the region spreads %g ppm", q.Resonance[0].Full, q.Resonance[0].Half, q.Region.PeakToPeak)
	}
	if q.Harmonics == nil || q.Derivatives == nil || q.Steepest <= 0 {
		t.Errorf("%+v", q)
	}
	if _, err := s.Quality(0, 1e-3); err == nil {
		t.Error("a particle without energy has a circle")
	}
	alone := `format = 1
title = "one block, no gap"
[[magnet]]
name = "block"
shape = "block"
size = ["50 mm","50 mm","25 mm"]
center = ["0 mm","0 mm","0 mm"]
magnetized = [0,0,1]
remanence = "1.3 T"
recoil = 1
`
	s = run(t, read(t, alone), Options{NoLedger: true})
	if _, err := s.Quality(10e3, 1e-3); err == nil || s.Result.Harmonics != nil {
		t.Errorf("the middle of a magnet has the harmonics %+v", s.Result.Harmonics)
	}
}
