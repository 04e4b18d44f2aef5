package asbuilt

import (
	"math"
	"math/rand/v2"
	"testing"
)

// toy is a model whose parameters act on readings along a line: a scale, a slope, a curvature, and a step that looks much like the slope.
func toy(n int) Model {
	m := Model{Base: make([]float64, n)}
	for _, name := range []string{"scale", "slope", "curve", "step"} {
		m.Parameters = append(m.Parameters, Parameter{name, 0.01})
		m.Slope = append(m.Slope, make([]float64, n))
	}
	m.Nuisance = [][]float64{make([]float64, n)}
	m.Swaps = []Swap{{Name: "other", Base: make([]float64, n)}}
	for i := range n {
		x := 2*float64(i)/float64(n-1) - 1
		m.Base[i] = 1
		m.Slope[0][i], m.Slope[1][i], m.Slope[2][i], m.Slope[3][i] = 1, x, x*x, math.Copysign(0.8, x)
		m.Nuisance[0][i] = 0.002
		m.Swaps[0].Base[i] = 1 + 0.5*x
	}
	return m
}

func draw(rng *rand.Rand, m Model, p map[int]float64, u float64) Readings {
	r := Readings{Value: make([]float64, len(m.Base)), Uncertainty: make([]float64, len(m.Base))}
	instrument := rng.NormFloat64()
	for i := range r.Value {
		r.Value[i] = m.Base[i] + m.Nuisance[0][i]*instrument + u*rng.NormFloat64()
		r.Uncertainty[i] = u
		for k, v := range p {
			r.Value[i] += m.Slope[k][i] * v
		}
	}
	return r
}

// Of 2000 sound builds of a toy model fewer than 1 % are blamed, whether the uncertainty of the readings is known or has to be told by their
// scatter; a slope of ten standard deviations of what the readings tell is named in 19 of 20.
func TestHypotheses(t *testing.T) {
	m := toy(40)
	for _, relative := range []bool{false, true} {
		rng := rand.New(rand.NewPCG(5, 7))
		blamed, found, covered := 0, 0, 0
		const logs = 1000
		for range logs {
			r := draw(rng, m, nil, 0.01)
			r.Relative = relative
			d, err := Diagnose(m, r, Options{})
			if err != nil {
				t.Fatal(err)
			}
			if len(d.Findings) > 0 {
				blamed++
			}
			r = draw(rng, m, map[int]float64{1: 0.04}, 0.01)
			if r.Relative = relative; relative {
				for i := range r.Uncertainty {
					r.Uncertainty[i] = 1 // says nothing
				}
			}
			d, err = Diagnose(m, r, Options{})
			if err != nil {
				t.Fatal(err)
			}
			if len(d.Findings) == 1 && d.Findings[0].Parameter == 1 {
				found++
				if f := d.Findings[0]; math.Abs(f.Value-0.04) <= f.Uncertainty {
					covered++
				}
			}
		}
		t.Logf("uncertainty told by scatter %v: of %d sound builds %d blamed, of %d faults %d found, %d of their values within 95 %%", relative, logs, blamed, logs, found, covered)
		if blamed > logs/100 || found < logs*95/100 {
			t.Errorf("relative %v: %d blamed, %d found", relative, blamed, found)
		}
		// 950 of 1000 expected with a standard deviation of 7; those not found are the extreme ones
		if rate := float64(covered) / float64(found); rate < 0.92 || rate > 0.98 {
			t.Errorf("relative %v: %.3f of the intervals hold the value", relative, rate)
		}
	}
}

// One reading off by twenty standard deviations is named, in a sound build and in one with a fault, and changes neither verdict.
func TestWrongReading(t *testing.T) {
	m := toy(40)
	for _, relative := range []bool{false, true} {
		rng := rand.New(rand.NewPCG(1, 2))
		for _, fault := range []map[int]float64{nil, {1: 0.06}} {
			good := 0
			for range 100 {
				r := draw(rng, m, fault, 0.01)
				r.Relative = relative
				r.Value[30] -= 0.2
				d, err := Diagnose(m, r, Options{})
				if err != nil {
					t.Fatal(err)
				}
				if len(d.Wrong) == 1 && d.Wrong[0] == 30 && len(d.Findings) == len(fault) {
					good++
				}
			}
			if good < 95 {
				t.Errorf("relative %v, fault %v: %d of 100", relative, fault, good)
			}
		}
	}
}

// A swap is named, and not the parameter that comes nearest to it.
func TestSwap(t *testing.T) {
	m := toy(40)
	rng := rand.New(rand.NewPCG(3, 4))
	r := draw(rng, m, nil, 0.01)
	for i := range r.Value {
		r.Value[i] += m.Swaps[0].Base[i] - m.Base[i]
	}
	d, err := Diagnose(m, r, Options{})
	if err != nil || len(d.Findings) != 1 || d.Findings[0].Swap != 0 {
		t.Errorf("%+v, %v", d.Findings, err)
	}
}

// Two parameters that act alike on all readings share the suspicion, and the next reading is where they differ.
func TestNextReading(t *testing.T) {
	m := toy(8)
	m.Slope[1] = m.Slope[0] // where the readings are, the slope acts as the scale does
	rng := rand.New(rand.NewPCG(3, 4))
	r := draw(rng, m, map[int]float64{0: 0.05}, 0.005)
	d, err := Diagnose(m, r, Options{})
	if err != nil {
		t.Fatal(err)
	}
	if len(d.Findings) > 0 || len(d.Suspects) < 2 {
		t.Fatalf("findings %+v, suspects %+v", d.Findings, d.Suspects)
	}
	pairs, err := Alike(m, r, 1)
	if err != nil || len(pairs) == 0 || pairs[0] != [2]int{0, 1} {
		t.Errorf("alike: %v, %v", pairs, err)
	}
	list := []Candidate{
		{Base: 1, Uncertainty: 0.005, Slope: []float64{1, 1, 1, 0.8}, Swap: []float64{1.5}},
		{Base: 1, Uncertainty: 0.005, Slope: []float64{1, 0.2, 1, 0.8}, Swap: []float64{1.5}},
		{Base: 1, Uncertainty: 0.005, Slope: []float64{1, 0.9, 1, 0.8}, Swap: []float64{1.5}},
	}
	n, ok := NextReading(d, list)
	if !ok || n.Candidate != 1 || n.Readings > 2 {
		t.Errorf("next reading %+v, %v", n, ok)
	}
}

// A parameter that no reading sees is neither a culprit nor a suspect, however badly the readings fit.
func TestUnseenIsNoSuspect(t *testing.T) {
	m := toy(12)
	m.Slope[3] = make([]float64, 12)
	m.Slope[3][0] = 1e-6
	r := draw(rand.New(rand.NewPCG(3, 4)), m, map[int]float64{0: 0.3}, 0.01)
	r.Value[0], r.Value[11] = r.Value[0]+0.1, r.Value[11]-0.1
	d, err := Diagnose(m, r, Options{})
	if err != nil {
		t.Fatal(err)
	}
	for _, f := range append(d.Findings, d.Suspects...) {
		if f.Parameter == 3 {
			t.Errorf("%+v", f)
		}
	}
	if list, err := Unseen(m, r, 1); err != nil || len(list) != 1 || list[0] != 3 {
		t.Errorf("unseen: %v, %v", list, err)
	}
}

// What does not fit together is an error, not a panic.
func TestBadReadings(t *testing.T) {
	m := toy(5)
	ok := draw(rand.New(rand.NewPCG(1, 1)), m, nil, 0.01)
	for name, r := range map[string]Readings{
		"short": {Value: ok.Value[:3], Uncertainty: ok.Uncertainty[:3]},
		"none":  {},
		"zero":  {Value: ok.Value, Uncertainty: make([]float64, 5)},
		"nan":   {Value: []float64{1, 1, math.NaN(), 1, 1}, Uncertainty: ok.Uncertainty},
	} {
		if _, err := Diagnose(m, r, Options{}); err == nil {
			t.Errorf("%s: no error", name)
		}
	}
	if _, err := Diagnose(m, ok, Options{}); err != nil {
		t.Errorf("five readings: %v", err)
	}
}
