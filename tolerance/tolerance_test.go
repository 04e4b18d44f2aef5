package tolerance

import (
	"fmt"
	"maps"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"gonum.org/v1/gonum/stat"
	"gonum.org/v1/gonum/stat/distuv"
	"pgregory.net/rapid"
)

func split(points [][]float64, dims int) (a, b [][]float64) {
	for _, p := range points {
		a, b = append(a, p[:dims]), append(b, p[dims:])
	}
	return a, b
}

// The function of T. Ishigami and T. Homma (1990), sin x1 + a sin^2 x2 + b x3^4 sin x1 on (-pi, pi)^3, and its indices by integrals that anybody
// can do (published in I. M. Sobol' and Y. L. Levitan, Comput. Phys. Commun. 117, 52, 1999): V1 = (1 + b pi^4/5)^2 / 2, V2 = a^2/8,
// V13 = 8 b^2 pi^8 / 225, all others 0. Tolerance: 2000 random points would leave some 0.03 of the first indices; low-discrepancy ones a fifth.
func TestIndicesOfIshigami(t *testing.T) {
	const a, b = 7, 0.1
	f := func(x []float64) []float64 {
		s, c := math.Sin(x[0]), math.Sin(x[1])
		return []float64{s + a*c*c + b*math.Pow(x[2], 4)*s, 3}
	}
	pi4 := math.Pow(math.Pi, 4)
	v1, v2, v13 := math.Pow(1+b*pi4/5, 2)/2, a*a/8., 8*b*b*pi4*pi4/225
	v := v1 + v2 + v13
	points := Points(4096, 6, 1)
	for _, p := range points {
		for j := range p {
			p[j] = math.Pi * (2*p[j] - 1)
		}
	}
	x, y := split(points, 3)
	first, total := Indices(f, x, y)
	for j, want := range [][2]float64{{v1 / v, (v1 + v13) / v}, {v2 / v, v2 / v}, {0, v13 / v}} {
		t.Logf("x%d: %.4f and %.4f, exact %.4f and %.4f", j+1, first[0][j], total[0][j], want[0], want[1])
		if math.Abs(first[0][j]-want[0]) > 0.01 || math.Abs(total[0][j]-want[1]) > 0.01 {
			t.Errorf("x%d: indices %.4f, %.4f; exact %.4f, %.4f", j+1, first[0][j], total[0][j], want[0], want[1])
		}
		if first[1][j] != 0 || total[1][j] != 0 {
			t.Errorf("a constant has shares %g, %g", first[1][j], total[1][j])
		}
	}
}

// Sobol's g-function, the product of (|4x-2| + a)/(1 + a) on the unit cube: partial variances 1/(3(1+a)^2) of each variable, the others their
// products (I. M. Sobol', Math. Comput. Simul. 55, 271, 2001).
func TestIndicesOfG(t *testing.T) {
	as := []float64{0, 1, 4.5, 9, 99}
	f := func(x []float64) []float64 {
		y := 1.0
		for j, a := range as {
			y *= (math.Abs(4*x[j]-2) + a) / (1 + a)
		}
		return []float64{y}
	}
	all := 1.0
	for _, a := range as {
		all *= 1 + 1/(3*(1+a)*(1+a))
	}
	x, y := split(Points(8192, 2*len(as), 2), len(as))
	first, total := Indices(f, x, y)
	for j, a := range as {
		v := 1 / (3 * (1 + a) * (1 + a))
		one, every := v/(all-1), v*all/(1+v)/(all-1)
		if math.Abs(first[0][j]-one) > 0.015 || math.Abs(total[0][j]-every) > 0.015 {
			t.Errorf("a = %g: indices %.4f, %.4f; exact %.4f, %.4f", a, first[0][j], total[0][j], one, every)
		}
	}
}

// On a smooth integral the points do better than random ones, in the root of the mean square over seeds: the mean of the product of
// 1 + (x - 1/2)/2 is 1. Random points of the same number leave sd/sqrt(n).
func TestPointsBeatRandom(t *testing.T) {
	const n, dims, seeds = 512, 8, 20
	f := func(p []float64) float64 {
		y := 1.0
		for _, x := range p {
			y *= 1 + (x-0.5)/2
		}
		return y
	}
	var even, random float64
	for seed := range uint64(seeds) {
		src := rand.New(rand.NewPCG(seed, 7))
		var a, b float64
		for _, p := range Points(n, dims, seed) {
			a += f(p) / n
			for j := range p {
				p[j] = src.Float64()
			}
			b += f(p) / n
		}
		even, random = even+(a-1)*(a-1)/seeds, random+(b-1)*(b-1)/seeds
	}
	t.Logf("off by %.1e, random %.1e", math.Sqrt(even), math.Sqrt(random))
	if !(math.Sqrt(even) < math.Sqrt(random)/4) {
		t.Errorf("off by %.1e, random points by %.1e", math.Sqrt(even), math.Sqrt(random))
	}
}

func TestNormal(t *testing.T) {
	var values []float64
	for _, p := range Normal(Points(1<<14, 3, 5)) {
		values = append(values, p[1])
	}
	mean, sd := stat.MeanStdDev(values, nil)
	if math.Abs(mean) > 2e-3 || math.Abs(sd-1) > 2e-3 {
		t.Errorf("mean %g, standard deviation %g; want 0 and 1", mean, sd)
	}
	// The law of what lies within one: (2 Phi(s) - 1)/(2 Phi(3) - 1) with s = 1 before the cut's widening.
	s := math.Sqrt(1 - 2*3*distuv.UnitNormal.Prob(3)/(2*distuv.UnitNormal.CDF(3)-1))
	inside := 0.0
	for _, v := range values {
		if math.Abs(v) < 1 {
			inside++
		}
	}
	want := (2*distuv.UnitNormal.CDF(s) - 1) / (2*distuv.UnitNormal.CDF(3) - 1)
	if got := inside / float64(len(values)); math.Abs(got-want) > 3e-3 {
		t.Errorf("%.4f lie within one standard deviation, want %.4f", got, want)
	}
	if far := slices.Max(values); far > 3/s+1e-9 || far < 2.8 {
		t.Errorf("the farthest is %g", far)
	}
	if a, b := Points(10, 2, 3), Points(10, 2, 3); a[4][1] != b[4][1] {
		t.Error("the same seed gives other points")
	}
	if p := Points(3, 0, 1); len(p) != 3 || len(p[0]) != 0 {
		t.Errorf("no variables: %v", p)
	}
}

// A law that is quadratic comes back as it is; one without squares has the standard deviation of linear propagation (JCGM 100:2008, GUM,
// equation 10), and one with them the mean and variance of y = at + sum(l x + q x^2) of normal x: at + sum q s^2 and sum (l^2 s^2 + 2 q^2 s^4).
// The cut at 3 takes 5 % of the fourth moment's excess, which is why q is small here.
func TestQuadratic(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c := rapid.SliceOfN(rapid.Float64Range(-5, 5), 9, 9).Draw(t, "coefficients")
		f := func(x, y float64) []float64 {
			return []float64{c[0] + c[1]*x + c[2]*y + c[3]*x*x + c[4]*y*y, c[5] + c[6]*x + c[7]*y + c[8]*x*x}
		}
		q := Quadratic{At: f(0, 0)}
		q.Add(f(-0.5, 0), f(0.5, 0), 0.5)
		q.Add(f(0, -2), f(0, 2), 2)
		x, y := rapid.Float64Range(-3, 3).Draw(t, "x"), rapid.Float64Range(-3, 3).Draw(t, "y")
		got := q.Eval([]float64{x, y}, make([]float64, 2))
		for i, want := range f(x, y) {
			if math.Abs(got[i]-want) > 1e-9 {
				t.Fatalf("value %d at (%g, %g): %g, want %g", i, x, y, got[i], want)
			}
		}
		q.Shift(got, 1, y, 0)
		if want := f(x, 0)[0]; math.Abs(got[0]-want) > 1e-9 {
			t.Fatalf("shifted back: %g, want %g", got[0], want)
		}
	})
	l, q, s := []float64{2, -1, 0.5}, []float64{0, 0.05, -0.1}, []float64{0.3, 1, 1.5}
	for _, square := range []bool{false, true} {
		law := Quadratic{At: []float64{7}}
		mean, variance := 7., 0.
		for j := range l {
			k := 0.
			if square {
				k = q[j]
			}
			law.Linear, law.Square = append(law.Linear, []float64{l[j]}), append(law.Square, []float64{k})
			mean, variance = mean+k*s[j]*s[j], variance+l[j]*l[j]*s[j]*s[j]+2*k*k*math.Pow(s[j], 4)
		}
		var values []float64
		for _, z := range Normal(Points(1<<14, 3, 11)) {
			x := []float64{z[0] * s[0], z[1] * s[1], z[2] * s[2]}
			values = append(values, law.Eval(x, []float64{0})[0])
		}
		d := DistributionOf(values)
		if math.Abs(d.Mean-mean) > 0.004 || math.Abs(d.SD/math.Sqrt(variance)-1) > 0.005 {
			t.Errorf("squares %t: mean %.4f and standard deviation %.4f, want %.4f and %.4f", square, d.Mean, d.SD, mean, math.Sqrt(variance))
		}
	}
}

// The budget of a pair of discs, 50 mm across, 20 mm thick and 20 mm apart, between ideal plates, from the field in the middle by images of the
// charged faces (the closed form of a cylinder on its axis, summed). Its sensitivities, d ln B: gap -0.58, each pair's thickness 0.18, remanence 1,
// and the budget of limits 2.1 % by two pieces of 3 % each, 0.29 % by 0.1 mm of gap, 0.09 % by 0.1 mm of thickness, 0.36 % by 3 K, in all 2.2 %, with
// 1 % of the probe 2.4 %: a worked example of the trade, calculated, no published source.
func TestBudgetOfIdealPlates(t *testing.T) {
	const r = 25e-3
	field := func(g, t float64) float64 { // over the remanence
		b := 1 - g/2/math.Hypot(r, g/2)
		for n := 1; n < 4000; n++ {
			z := float64(n) * (2*t + g)
			b -= (z+g/2)/math.Hypot(r, z+g/2) - (z-g/2)/math.Hypot(r, z-g/2)
		}
		return b
	}
	// x: remanence of each piece, gap, thickness of each, temperature.
	f := func(x ...float64) []float64 {
		return []float64{field(20e-3+x[2], 20e-3+(x[3]+x[4])/2) * (1 + (x[0]+x[1])/2) * (1 - 1.2e-3*x[5])}
	}
	at := f(0, 0, 0, 0, 0, 0)
	if math.Abs(at[0]-0.570) > 0.0006 {
		t.Fatalf("field %.4f of the remanence, want 0.570", at[0])
	}
	q := Quadratic{At: at}
	limits := []float64{0.03, 0.03, 0.1e-3, 0.1e-3, 0.1e-3, 3}
	for j, l := range limits {
		var low, high [6]float64
		low[j], high[j] = -l, l
		q.Add(f(low[:]...), f(high[:]...), l)
	}
	share := func(j int) float64 { return q.Linear[j][0] * limits[j] / at[0] }
	for _, c := range []struct {
		what       string
		got, want  float64
		as, within float64
	}{
		{"remanence of two pieces", math.Hypot(share(0), share(1)), 0.021, 1, 5e-4},
		{"gap", math.Abs(share(2)), 0.0029, 1, 5e-5},
		{"sensitivity to the gap", share(2) / 0.1e-3 * 20e-3, -0.58, 1, 5e-3},
		{"sensitivity to the thickness", (share(3) + share(4)) / 0.1e-3 * 20e-3, 0.18, 1, 5e-3},
		{"temperature", math.Abs(share(5)), 0.0036, 1, 5e-5},
	} {
		if math.Abs(c.got-c.want) > c.within {
			t.Errorf("%s: %.5f, want %.5f", c.what, c.got, c.want)
		}
	}
	var values []float64
	for _, z := range Normal(Points(1<<13, 6, 1)) {
		for j := range z {
			z[j] *= limits[j] / 2
		}
		values = append(values, q.Eval(z, []float64{0})[0])
	}
	d := DistributionOf(values)
	if all := math.Hypot(2*d.SD/at[0], 0.01); math.Abs(all-0.024) > 5e-4 {
		t.Errorf("budget with the probe %.4f, want 0.024", all)
	}
}

// Wilson's interval against R on 6 of 32 (rpubs.com 1367507): 0.08889545 to 0.35309155. And it solves (p - x)^2 = z^2 x(1 - x)/n.
func TestShareOf(t *testing.T) {
	s := ShareOf(6, 32)
	if math.Abs(s.Low-0.08889545) > 1e-7 || math.Abs(s.High-0.35309155) > 1e-7 || s.Share != 6./32 {
		t.Errorf("6 of 32: %+v", s)
	}
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(1, 5000).Draw(t, "n")
		k := rapid.IntRange(0, n).Draw(t, "k")
		s := ShareOf(k, n)
		for _, x := range []float64{s.Low, s.High} {
			if d := math.Pow(s.Share-x, 2) - 1.959963985*1.959963985*x*(1-x)/float64(n); math.Abs(d) > 1e-8 {
				t.Fatalf("%d of %d: %+v is off by %g", k, n, s, d)
			}
		}
		if s.Low > s.Share || s.High < s.Share {
			t.Fatalf("%d of %d: %+v", k, n, s)
		}
	})
}

func TestDistributionOf(t *testing.T) {
	var values []float64
	for i := range 1001 {
		values = append(values, float64(1000-i))
	}
	d := DistributionOf(values)
	want := Distribution{500, math.Sqrt(1001 * 1002 / 12.), 25, 500, 975} // of whole numbers 0 to n-1: variance n(n+1)/12
	for i, pair := range [][2]float64{{d.Mean, want.Mean}, {d.SD, want.SD}, {d.P025, want.P025}, {d.P50, want.P50}, {d.P975, want.P975}} {
		if math.Abs(pair[0]-pair[1]) > 1 {
			t.Errorf("figure %d: %g, want %g", i, pair[0], pair[1])
		}
	}
	if d := DistributionOf([]float64{3}); d != (Distribution{3, 0, 3, 3, 3}) {
		t.Errorf("of one value: %+v", d)
	}
	if d := DistributionOf(nil); d != (Distribution{}) {
		t.Errorf("of none: %+v", d)
	}
}

// Every stack of a set's step up to its sum can be made from the set.
func TestStack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		step := rapid.SampledFrom(thicknesses).Draw(t, "step")
		n := rapid.IntRange(0, 60).Draw(t, "n")
		sums := map[int]bool{0: true}
		all := 0
		for _, s := range stack(n, step) {
			um := int(math.Round(s * 1e6))
			all += um
			for have := range maps.Clone(sums) {
				sums[have+um] = true
			}
		}
		for k := range n + 1 {
			if !sums[k*step] {
				t.Fatalf("%d steps of %d um cannot be stacked from %v", k, step, stack(n, step))
			}
		}
		if all < n*step || all > 2*n*step {
			t.Fatalf("the set adds up to %d um for %d", all, n*step)
		}
	})
	if got, want := stack(8, 100), []float64{1e-4, 2e-4, 2e-4, 5e-4}; !slices.Equal(got, want) {
		t.Errorf("8 steps of 0.1 mm: %v, want %v", got, want)
	}
}

// Builds that want corrections between -0.33 and 0.29 mm, each within 0.11 mm: steps of 0.2 mm serve, coarser ones do not.
func TestShimsFor(t *testing.T) {
	wants := func(b int) float64 { return -0.33e-3 + 0.62e-3*float64(b)/99 }
	got := ShimsFor(100, 1.5e-3, 1, func(b int, longer float64) bool { return math.Abs(longer-wants(b)) < 0.11e-3 })
	if got.StepM != 0.2e-3 || math.Abs(got.CutM-0.4e-3) > 1e-9 || got.Share != 1 {
		t.Errorf("%+v", got)
	}
	var sum float64
	for _, s := range got.Set {
		sum += s
	}
	if sum-got.CutM < 0.29e-3-0.11e-3 || sum > 0.8e-3+1e-9 {
		t.Errorf("a set of %v with the spacer %g m short", got.Set, got.CutM)
	}
	// What passes needs none; what no gap cures is not waited for.
	if got := ShimsFor(10, 1e-3, 0.95, func(int, float64) bool { return true }); got.Share != 1 || got.Set != nil || got.CutM != 0 {
		t.Errorf("all pass: %+v", got)
	}
	if got := ShimsFor(10, 1e-3, 0.95, func(b int, _ float64) bool { return b < 4 }); got.Share != 0.4 || got.Set != nil {
		t.Errorf("four pass: %+v", got)
	}
	// A design that is off by as much for all: another spacer, no shim.
	if got := ShimsFor(10, 1e-3, 0.95, func(b int, longer float64) bool { return longer <= -0.47e-3 }); got.Share != 1 || got.Set != nil || math.Abs(got.CutM-0.5e-3) > 1e-9 || got.StepM != 0 {
		t.Errorf("all too long: %+v", got)
	}
	if got := ShimsFor(0, 1e-3, 0.95, nil); got.Share != 0 {
		t.Errorf("no builds: %+v", got)
	}
}

func ExampleShareOf() {
	s := ShareOf(940, 1000)
	fmt.Printf("%.1f %%, between %.1f and %.1f %%\n", 100*s.Share, 100*s.Low, 100*s.High)
	// Output: 94.0 %, between 92.4 and 95.3 %
}
