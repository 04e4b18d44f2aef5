package polewright

import (
	"context"
	"math"
	"strings"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"polewright/material"
	"polewright/result"
	"polewright/safety"
)

const lone = `format = 1
[target]
temperature = { working = "20 degC", max = "150 degC" }
[[magnet]]
name = "lone"
shape = "block"
size = ["40 mm", "40 mm", "40 mm"]
center = ["0 mm", "0 mm", "0 mm"]
magnetized = [0, 0, 1]
remanence = "1.3 T"
recoil = 1
`

// The few field values through which a tool's pull is taken give the distances of the field itself.
func TestToolDistances(t *testing.T) {
	a, err := newAssembly(read(t, lone))
	if err != nil {
		t.Fatal(err)
	}
	field := newClosedForm(a, condition{temperatureC: 20})
	got := a.toolFacts(context.Background(), field)
	if len(got) != 1 {
		t.Fatalf("%v", got)
	}
	var want safety.ToolFact
	for _, u := range []r3.Vec{{X: 1}, {Z: 1}} { // y is as x
		at := func(r float64) float64 {
			b, _ := field.At(r3.Scale(0.02+r, u))
			return r3.Norm(b)
		}
		for _, tool := range safety.Tools() {
			slides, err := safety.ToolReach(at, tool, safety.SlideFriction, 1e-3, 0.5)
			if err != nil {
				t.Fatal(err)
			}
			lift, err := safety.ToolReach(at, tool, 1, 1e-3, 0.5)
			if err != nil {
				t.Fatal(err)
			}
			if slides > want.SlidesM {
				want = safety.ToolFact{Name: tool.Name, SlidesM: slides, LiftM: lift}
			}
		}
	}
	if got[0].Name != want.Name || math.Abs(got[0].SlidesM-want.SlidesM) > 0.01*want.SlidesM || math.Abs(got[0].LiftM-want.LiftM) > 0.01*want.LiftM {
		t.Errorf("%+v, want %+v", got[0], want)
	}
}

// The table's error shows on the steepest field there is outside a magnet, the dipole's 1/r³ from its middle.
func TestTabulated(t *testing.T) {
	dipole := func(r float64) float64 { return 1 / math.Pow(0.02+r, 3) }
	f := tabulated(dipole, 1e-3, 0.7)
	for r := 1e-3; r < 0.7; r *= 1.01 {
		if e := f(r)/dipole(r) - 1; math.Abs(e) > 0.01 {
			t.Errorf("at %g m: off by %.2g", r, e)
		}
	}
	if tabulated(func(float64) float64 { return math.NaN() }, 1e-3, 1) != nil {
		t.Error("a field that is not known was taken")
	}
}

// facts come from where they should: every figure of these is set apart from the others.
func TestFacts(t *testing.T) {
	d := read(t, strings.Replace(lone, "remanence = \"1.3 T\"\nrecoil = 1", `grade = "N42"`, 1))
	a, err := newAssembly(d)
	if err != nil {
		t.Fatal(err)
	}
	r := &result.Result{
		Parts: []result.Part{
			{Name: "lone", MassKg: 1, Force: [3]float64{3, 0, 4}, WorkingPoint: &result.WorkingPoint{LowestH: -300e3, WorstKneeH: -450e3, WorstC: -40, KneeMargin: 1. / 3}},
			{Name: "plate", MassKg: 7, Force: [3]float64{0, 12, 5}},
		},
		Halves: []result.Half{{Force: [3]float64{0, 0, -20}}, {Force: [3]float64{6, 0, 8}}},
		GapB:   [3]float64{0, 0.3, 0.4}, MomentAm2: [3]float64{0, 0, 11}, Region: &result.Region{MaxB: 0.6},
		Stray: make([]result.Stray, 3),
	}
	for i, limit := range []float64{0.5e-3, 1e-3, 3e-3} {
		r.Stray[i].Limit = limit
		r.Stray[i].Reach.X, r.Stray[i].Reach.Y, r.Stray[i].Reach.Z = float64(10*i+1), float64(10*i+2), float64(10*i+3)
	}
	f := a.facts(r)
	if f.LargestForceN != 13 || f.LargestForcePart != "plate" || f.HalfForceN != 20 || f.HeaviestKg != 7 || f.HeaviestPart != "plate" ||
		f.GapFieldT != 0.6 || f.MomentAm2 != 11 || !f.KneeChecked || f.KneeMarginApm != 150e3 || f.KneeFraction != 1./3 || f.KneeAt != "-40 °C" || f.HottestC != 150 || f.WoundYoke ||
		f.ImplantReach != (r3.Vec{X: 1, Y: 2, Z: 3}) || f.CardReach != (r3.Vec{X: 11, Y: 12, Z: 13}) || f.ProjectileReach != (r3.Vec{X: 21, Y: 22, Z: 23}) {
		t.Errorf("%+v", f)
	}
	// Plain N grades are sold for up to 80 °C (catalogues of the trade).
	if len(f.MagnetFamilies) != 1 || f.MagnetFamilies[0] != "NdFeB" || f.Grade != "N42" || f.GradeLimitC != 80 {
		t.Errorf("%+v", f)
	}

	// Hotter than the grade stands: heat stays in the list, however long it is.
	a.caution(r, a.toolFacts(context.Background(), newClosedForm(a, condition{temperatureC: 20})))
	all := strings.Join(r.Cautions, "\n")
	if !strings.HasPrefix(r.Cautions[0], "Pacemakers and implants (danger). ") || !strings.Contains(all, "Heat (notice). At 150 °C") ||
		strings.Contains(all, "Cards, watches") || !strings.Contains(r.Cautions[len(r.Cautions)-1], "Local codes") {
		t.Errorf("%q", r.Cautions)
	}

	r.Demagnetization = &result.Demagnetization{LostGap: 1.01, WorstC: 150, NotComputed: []string{"lone"}}
	unsafe := Unsafe(d, r)
	if len(unsafe) != 3 || unsafe[0] != "the gap loses 1.01 % of its field for good at 150 °C" || !strings.Contains(unsafe[1], "not known") || !strings.Contains(unsafe[2], "stands 80 °C") {
		t.Errorf("%q", unsafe)
	}
	d.Target.MaxC = 60
	r.Demagnetization = &result.Demagnetization{LostGap: 0.99}
	r.Parts[0].WorkingPoint.RemanenceKept = 0.98
	if unsafe := Unsafe(d, r); len(unsafe) > 0 {
		t.Errorf("%q", unsafe)
	}
	r.GapB = [3]float64{} // without a field in the gap the magnets themselves count
	if unsafe := Unsafe(d, r); len(unsafe) != 1 || !strings.Contains(unsafe[0], `"lone" keeps 98 %`) {
		t.Errorf("%q", unsafe)
	}
}

// A knee that is not known is not taken as safe, and every material's family has its plain name.
func TestUnknownKnee(t *testing.T) {
	s, err := Run(context.Background(), read(t, lone), Options{Accuracy: Draft, NoLedger: true})
	if err != nil {
		t.Fatal(err)
	}
	if !strings.Contains(strings.Join(s.Result.Warnings, "\n"), "coercivity is not known") || strings.Contains(strings.Join(s.Result.Cautions, "\n"), "Loss for good") ||
		!strings.Contains(strings.Join(s.Result.Cautions, "\n"), "Flying splinters (warning). Magnets break") {
		t.Errorf("%q %q", s.Result.Warnings, s.Result.Cautions)
	}
	grades := material.Grades()
	if len(grades) == 0 {
		t.Fatal("no grades")
	}
	for _, g := range grades {
		switch familyName(g.Family) {
		case "NdFeB", "SmCo", "Ferrite", "AlNiCo":
		default:
			t.Errorf("%s: %q", g.Name, familyName(g.Family))
		}
	}
}
