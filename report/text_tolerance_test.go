package report

import (
	"bytes"
	"strings"
	"testing"

	"polewright/result"
)

// builds is an answer with invented numbers.
func builds() *result.Tolerance {
	v := func(x float64) *float64 { return &x }
	r := &result.Tolerance{Title: "pair (invented numbers)", Accuracy: "draft", Builds: 8192, Solves: 40, Failed: 1, Notes: []string{"build 7 could not be solved: the gap would be closed"},
		Seed: 7, Correlation: "magnets of one grade share their batch's remanence; all else strays independently",
		Sources: []result.ToleranceSource{
			{What: "batch remanence, N42", Spread: 0.012, Unit: "1", Field: 8.9e-3},
			{What: "upper: direction about x", Spread: 0.02618, Unit: "rad", Given: true, Field: 1e-9},
			{What: "length of the gap", Spread: 5e-5, Unit: "m", Field: -1.12e-3},
			{What: "temperature of the magnets", Spread: 1.5, Unit: "K", Field: -1.3e-3},
			{What: "a part with a name that is far longer than what a table has room for: size along z", Spread: 5e-5, Unit: "m", Field: 1e-6},
		},
		Figures: []result.ToleranceFigure{
			{What: "field", Unit: "T", Design: 0.7584, Spread: result.Distribution{Mean: 0.7579, SD: 0.0104, P025: 0.7374, P50: 0.7578, P975: 0.7782}, Linear: v(0.0105),
				Solved: &result.Distribution{Mean: 0.758, SD: 0.0101, P025: 0.74, P50: 0.757, P975: 0.777}, Same: &result.Distribution{SD: 0.01}, Misfit: v(4e-5),
				Limits: [2]*float64{v(0.75), v(0.766)}, Within: &result.Share{Share: 0.56, Low: 0.549, High: 0.571}, WithinBy: &result.Share{Share: 0.5, Low: 0.35, High: 0.65},
				Causes: []result.Cause{{Source: 0, First: 0.74, Total: 0.74}, {Source: 2, First: 0.02, Total: 0.02}, {Source: 3, First: 0.02, Total: 0.02}}},
			{What: "uniformity", Unit: "ppm", Design: 2850, Spread: result.Distribution{Mean: 3050, SD: 107, P025: 2890, P50: 3040, P975: 3290},
				Solved: &result.Distribution{Mean: 3040, SD: 110, P025: 2900, P50: 3030, P975: 3250}, Same: &result.Distribution{SD: 108}, Misfit: v(7),
				Limits: [2]*float64{nil, v(3200)}, Within: &result.Share{Share: 0.9, Low: 0.89, High: 0.91}, WithinBy: &result.Share{Share: 0.9, Low: 0.8, High: 1},
				Causes: []result.Cause{{Source: 1, First: 0.4, Total: 0.9}}},
			{What: "pull", Unit: "N", Design: 1191, Spread: result.Distribution{Mean: 1189, SD: 29.7, P025: 1130, P50: 1189, P975: 1247},
				Solved: &result.Distribution{Mean: 1188, SD: 30, P025: 1130, P50: 1188, P975: 1240}, Same: &result.Distribution{}, Misfit: v(0.3)},
			{What: "stray field", Unit: "T", AtM: 0.4, Design: 1.74e-5, Spread: result.Distribution{Mean: 1.76e-5, SD: 1e-6, P025: 1.56e-5, P50: 1.76e-5, P975: 1.97e-5},
				Solved: &result.Distribution{Mean: 1.76e-5, SD: 1e-6, P025: 1.56e-5, P50: 1.76e-5, P975: 1.97e-5}, Same: &result.Distribution{SD: 1e-6}, Misfit: v(2e-8),
				Limits: [2]*float64{nil, v(5e-4)}, Within: &result.Share{Share: 1, Low: 0.9995, High: 1}, WithinBy: &result.Share{Share: 1, Low: 0.9, High: 1}},
		},
		Yield: &result.Share{Share: 0.5, Low: 0.489, High: 0.511}, YieldBySolves: &result.Share{Share: 0.45, Low: 0.3, High: 0.6},
		Trim: &result.Trim{FieldPerMM: -0.03, CutM: 0.6e-3, StepM: 0.2e-3, ShimsM: []float64{0.2e-3, 0.2e-3, 1e-3}, ReachM: 1.62e-3,
			Without: result.Share{Share: 0.5, Low: 0.47, High: 0.53}, With: result.Share{Share: 0.9, Low: 0.88, High: 0.92}, Limits: []string{"uniformity"}},
	}
	for i := range 60 {
		r.Figures[0].Values = append(r.Figures[0].Values, 0.75+1e-4*float64(i%30))
		r.Figures[0].SolvedValues = append(r.Figures[0].SolvedValues, 0.75+1e-4*float64(i%29))
	}
	return r
}

func TestToleranceText(t *testing.T) {
	var b strings.Builder
	if err := ToleranceText(&b, builds()); err != nil {
		t.Fatal(err)
	}
	for line := range strings.Lines(b.String()) {
		if n := len([]rune(strings.TrimRight(line, "\n"))); n > textWidth {
			t.Errorf("a line of %d columns: %s", n, line)
		}
	}
	golden(t, "tolerance.golden", b.String())
	b.Reset()
	r := builds()
	r.Yield, r.Trim, r.Solves, r.Sources = nil, nil, 0, nil
	for i := range r.Figures {
		r.Figures[i].Within, r.Figures[i].Causes = nil, nil
	}
	if err := ToleranceText(&b, r); err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{"has no [target]", "nothing strays"} {
		if !strings.Contains(b.String(), want) {
			t.Errorf("no %q in\n%s", want, b.String())
		}
	}
}

// A histogram sorts every build into one class: its steps add up to 100 % in classes of the common width.
func TestHistogram(t *testing.T) {
	g := Histogram("pair", &builds().Figures[0])
	if len(g.Curves) != 3 { // two distributions, the design lies too far off; one limit
		t.Errorf("%d curves", len(g.Curves))
	}
	for _, c := range g.Curves[:2] {
		var sum float64
		steps := 0
		for i := 1; i+1 < len(c.X); i += 2 {
			sum += c.Y[i]
			steps++
		}
		if want := 100 * float64(steps) / classes; sum < want-1e-9 || sum > want+1e-9 {
			t.Errorf("%s: the classes hold %g %%, want %g", c.Name, sum, want)
		}
	}
	for _, p := range []Picture{g, InDark(g)} {
		if err := WritePNG(&bytes.Buffer{}, p, 160); err != nil {
			t.Error(err)
		}
	}
	same := result.ToleranceFigure{What: "pull", Unit: "N", Design: 5, Values: []float64{5, 5, 5}}
	if err := WritePNG(&bytes.Buffer{}, Histogram("none strays", &same), 160); err != nil {
		t.Error(err)
	}
}

func TestCauseBars(t *testing.T) {
	g, ok := CauseBars(builds())
	if !ok || len(g.Names) != 4 || g.Names[0] != "upper: direction about x" || g.Series[1].Values[0] != 90 || g.Series[0].Values[1] != 74 {
		t.Errorf("%t %+v", ok, g)
	}
	for _, p := range []Picture{g, InDark(g)} {
		if err := WritePNG(&bytes.Buffer{}, p, 160); err != nil {
			t.Error(err)
		}
	}
	r := builds()
	for i := range r.Figures {
		r.Figures[i].Causes = nil
	}
	if _, ok := CauseBars(r); ok {
		t.Error("bars of nothing")
	}
	for _, bad := range []Bars{{}, {Names: []string{"a"}, Series: []BarSeries{{"s", nil}}}, {Names: []string{"a"}, Series: []BarSeries{{"s", []float64{-1}}}}} {
		if err := WritePNG(&bytes.Buffer{}, bad, 160); err == nil {
			t.Errorf("%+v is drawn", bad)
		}
	}
}
