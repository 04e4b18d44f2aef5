package winding

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

// saturating rises as 1 - exp(-n/tau) from b0 by rise, whose derivatives and turning points are known in closed form.
func saturating(t testing.TB, turns []float64, b0, rise, tau float64) *Curve {
	t.Helper()
	var value []float64
	for _, n := range turns {
		value = append(value, b0+rise*(1-math.Exp(-n/tau)))
	}
	c, err := NewCurve(turns, value)
	if err != nil {
		t.Fatal(err)
	}
	return c
}

func spaced(step, most float64) (list []float64) {
	for n := 0.0; n <= most; n += step {
		list = append(list, n)
	}
	return list
}

func TestCurveAgainstClosedForm(t *testing.T) {
	const b0, rise, tau = 0.5, 0.25, 100.0
	c := saturating(t, spaced(25, 800), b0, rise, tau)
	// The knee: exp(-x) = (1 - exp(-x))/(2 x), x = n/tau, that is exp(x) = 1 + 2 x: x = 1.25643 (the Lambert function; A. M. Legendre's
	// root appears as the 1.2564 of a Gaussian beam's half power). Tolerance 1 %: the cubic's derivative at steps of a quarter of tau.
	if got := c.Knee(); math.Abs(got/tau-1.25643) > 0.0126 {
		t.Errorf("knee at %.4f tau", got/tau)
	}
	// A further hundred, tau, gains rise·exp(-x)(1 - 1/e)/(b0 + rise(1 - exp(-x))): 1 % where exp(-x) = 0.0075/(rise(1 - 1/e) + 0.0025).
	want := -math.Log(0.0075/(rise*(1-1/math.E)+0.0025)) * tau
	if got := c.Enough(0.01); math.Abs(got-want) > 0.5 {
		t.Errorf("enough at %.2f, not %.2f", got, want)
	}
	// From the first turn a hundred, tau, bring rise·(1 - 1/e)/b0, both at points of the curve.
	if got := c.Gain(0); relative(got, rise*(1-1/math.E)/b0) > 1e-9 {
		t.Errorf("the first hundred bring %.6f", got)
	}
	// Half the rise at tau·ln 2.
	if got := c.Reaches(b0 + rise/2); math.Abs(got-tau*math.Ln2) > 0.5 {
		t.Errorf("half at %.2f, not %.2f", got, tau*math.Ln2)
	}
	if c.Reaches(0.76) != 0 || c.Enough(1e-9) != 0 || c.Most() != 800 {
		t.Error(c.Reaches(0.76), c.Enough(1e-9), c.Most())
	}
	if straight := saturating(t, spaced(25, 100), b0, rise, 1e6); straight.Knee() != 0 {
		t.Errorf("a straight line bends at %g", straight.Knee())
	}
}

// The error by leaving points out bounds the curve's own, and stays of its size: over any saturation the twice wider gaps are worse, by 2 to 16 times
// for orders 1 to 4 (a third of the bounds allowed for rounding and uneven bends).
func TestLeaveOutBounds(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		tau := rapid.Float64Range(60, 250).Draw(t, "tau")
		turns := spaced(rapid.Float64Range(15, 50).Draw(t, "step"), 600)
		var value []float64
		of := func(n float64) float64 { return 0.5 + 0.25*(1-math.Exp(-n/tau)) }
		for _, n := range turns {
			value = append(value, of(n))
		}
		c, err := NewCurve(turns, value)
		if err != nil {
			t.Fatal(err)
		}
		worst := 0.0
		for n := 0.0; n <= turns[len(turns)-1]; n++ {
			worst = math.Max(worst, math.Abs(c.At(n)-of(n)))
		}
		if bound := c.LeaveOut(); worst > bound || bound > 100*worst {
			t.Errorf("off by %.2e, stated %.2e", worst, bound)
		}
	})
}

// Where the points rise so does the curve, and it passes through them.
func TestCurveIsMonotone(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var turns, value []float64
		n, b := 0.0, 0.3
		for range rapid.IntRange(3, 12).Draw(t, "points") {
			turns, value = append(turns, n), append(value, b)
			n += float64(rapid.IntRange(1, 200).Draw(t, "turns"))
			b += rapid.Float64Range(0, 0.2).Draw(t, "rise")
		}
		c, err := NewCurve(turns, value)
		if err != nil {
			t.Fatal(err)
		}
		for i, at := range turns {
			if math.Abs(c.At(at)-value[i]) > 1e-12 {
				t.Errorf("%g at %g turns, not %g", c.At(at), at, value[i])
			}
		}
		before := c.At(0)
		for k := 1.0; k <= c.Most(); k++ {
			now := c.At(k)
			if now < before-1e-12 {
				t.Errorf("falls at %g turns", k)
			}
			before = now
		}
	})
}

func TestCurveRefuses(t *testing.T) {
	for _, c := range [][2][]float64{
		{{0, 1}, {0, 1}}, {{0, 1, 2}, {0, 1}}, {{0, 2, 1}, {0, 1, 2}}, {{-1, 2, 3}, {0, 1, 2}}, {{0, 1, 2}, {0, math.NaN(), 2}}, {{0, 1, math.Inf(1)}, {0, 1, 2}},
	} {
		if _, err := NewCurve(c[0], c[1]); err == nil {
			t.Errorf("%v", c)
		}
	}
}

// The workshop's figures for a sheet that can be worked by hand.
func TestPrepare(t *testing.T) {
	s := mustWind(t, bench)
	p, err := bench.Prepare(s, Workshop{SpoolM: 25, Pace: 8, CrankM: 0.1})
	if err != nil {
		t.Fatal(err)
	}
	// 66.4 m and 3 % are 68.4 m: three spools of 25 m, 6.6 m left. The first 25 m hold 24.27 m of turns: the second layer ends at 17.2 m, the
	// third takes 9.19 m for 36 turns, so 7.08 m are 27 turns and some: turn 99.
	if p.Spools.Count != 3 || math.Abs(p.Spools.NeededM-68.4) > 0.05 || math.Abs(p.Spools.LeftM-6.6) > 0.05 || p.Spools.Assumed ||
		len(p.Spools.Ends) != 2 || p.Spools.Ends[0] != (End{1, 99, 3}) {
		t.Errorf("%+v", p.Spools)
	}
	// The arm over a corner: half the diagonal of the core, 40.311 mm, and the build, 12.012 mm. 10 and 15 N/mm² on 2.0755 mm² are 20.755 and
	// 31.132 N; 250 turns at 8 a minute are 31.25 minutes.
	e := p.Effort
	for what, v := range map[string][2]float64{
		"lever": {e.LeverM, 52.323e-3}, "torque": {e.TorqueLowNm, 1.08597}, "hand": {e.HandLowN, 10.8597}, "hand, high": {e.HandHighN, 16.2892}, "hours": {e.HoursHigh, 31.25 / 60},
	} {
		if relative(v[0], v[1]) > 2e-4 {
			t.Errorf("%s %.6g, by hand %.6g", what, v[0], v[1])
		}
	}
	b := p.Bobbin
	if math.Abs(b.FlangeM[1]-(s.OuterYM+0.010)) > 1e-9 || math.Abs(b.SlackM-(0.060-36*1.6256e-3)) > 1e-9 || b.ThicknessM < s.BuildM/2 {
		t.Errorf("%+v", b)
	}
	if p, err := bench.Prepare(s, Workshop{}); err != nil || !p.Spools.Assumed || relative(p.Spools.EachKg, SpoolDefaultKg) > 1e-12 || p.Effort.HoursHigh != s.HoursHigh {
		t.Errorf("%+v, %v", p, err)
	}
	for _, w := range []Workshop{{SpoolM: 1, SpoolKg: 1}, {SpoolM: -1}, {SpoolKg: math.NaN()}, {Pace: -1}, {CrankM: 1e-9}, {CrankM: math.Inf(1)}} {
		if _, err := bench.Prepare(s, w); err == nil {
			t.Errorf("%+v", w)
		}
	}
	// One that ends a thousandth before the second layer does ends on its last turn but one.
	if p, err := bench.Prepare(s, Workshop{SpoolM: 0.999 * s.Layers[1].RunningLengthM * (1 + Spare)}); err != nil || p.Spools.Ends[0] != (End{1, 71, 2}) {
		t.Errorf("%+v, %v", p.Spools.Ends, err)
	}
	// A spool of a hair's length ends in no endless list.
	if p, err := bench.Prepare(s, Workshop{SpoolM: 1e-300}); err != nil || len(p.Spools.Ends) > maxEnds {
		t.Errorf("%d, %v", len(p.Spools.Ends), err)
	}
}

// An outlook from points of the law: what it reads off is the law's.
func TestComplete(t *testing.T) {
	o := Outlook{PlannedTurns: 250, Packing: 0.72, LooserPacking: 0.67, FluxWb: 2.24e-3, LeastGain: 0.01, TargetT: 0.7}
	for n := 0; n <= 600; n += 30 {
		o.Points = append(o.Points, Point{Turns: n, GapT: law(float64(n), 0.72), LooserT: law(float64(n), 0.67), ToolsM: 0.2 - float64(n)*1e-4, ImplantsM: 0.3 - float64(n)*1e-4, ErrorPercent: float64(n) * 1e-4})
	}
	if err := o.Complete(bench, 2.16); err != nil {
		t.Fatal(err)
	}
	// 2.24 mWb over two sides of 2.0755 mm² a turn at 2.16 T: 249.8 turns. law has 0.7 T at 190.5 turns (TestAdvice).
	for what, v := range map[string][3]float64{
		"planned": {o.PlannedT, law(250, 0.72), 1e-4}, "looser": {o.LooserT, law(250, 0.67), 1e-4}, "bare": {o.BareT, 0.514, 1e-12},
		"capacity": {o.CapacityTurns, 249.8, 0.1}, "target": {o.TargetTurns, 190.5, 1}, "tools": {o.ToolsM, 0.2, 1e-12}, "implants": {o.ImplantsM, 0.3, 1e-12}, "solver": {o.SolverPercent, 0.06, 1e-12},
		"layer 3": {o.Checks[2].GapT, law(108, 0.72), 1e-4}, "layer 3, outside": {o.Checks[2].OuterM, 68.376e-3, 2e-6},
	} {
		if math.Abs(v[0]-v[1]) > v[2] {
			t.Errorf("%s %.6g, not %.6g", what, v[0], v[1])
		}
	}
	o.Points = o.Points[:2]
	if err := o.Complete(bench, 2.16); err == nil {
		t.Error("two points")
	}
	if err := o.Complete(Plan{}, 2.16); err == nil {
		t.Error("no plan")
	}
}
