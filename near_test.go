package polewright

import (
	"math"
	"testing"

	"polewright/design"
	"polewright/result"
)

// nearBuilds are builds of a pair with recoil: of magnets alone, of sizes, of both.
func nearBuilds(d *design.Design) [][]Deviation {
	var gap, size Deviation
	for _, v := range Deviations(d) {
		switch v.Kind {
		case DeviatesGap:
			gap = v
		case DeviatesSize:
			size = v
		}
	}
	weak := Deviation{Kind: DeviatesRemanence, Part: "upper", Amount: -0.011}
	return [][]Deviation{
		{weak, {Kind: DeviatesDirection, Part: "lower", Axis: 0, Amount: 0.02}},
		{gap.Of(0.06e-3), size.Of(-0.04e-3)},
		{weak, {Kind: DeviatesRemanence, Part: "lower", Amount: 0.008}, {Kind: DeviatesDirection, Part: "upper", Axis: 1, Amount: -0.03}, gap.Of(-0.05e-3), size.Of(0.03e-3)},
	}
}

// What a build gives does not depend on which were solved before it, nor on who did: not in the last digit, a millionth being asked for. And it is what
// solving it by itself gives, to what the cells of two grids differ by.
func TestBuildsDependOnNothingElse(t *testing.T) {
	d := template(t, "facing-pair")
	list := nearBuilds(d)
	var got [2][]Built
	for k := range got {
		s, err := BuildsOf(d, Draft)
		if err != nil {
			t.Fatal(err)
		}
		got[k] = make([]Built, len(list))
		for i := range list {
			if k == 1 { // from the last to the first
				i = len(list) - 1 - i
			}
			if got[k][i], err = s.Solve(t.Context(), Build{Deviations: list[i], Thin: true}); err != nil {
				t.Fatal(err)
			}
		}
	}
	for i := range list {
		c, err := Apply(d, list[i])
		if err != nil {
			t.Fatal(err)
		}
		alone, err := BuildsOf(c, Draft)
		if err != nil {
			t.Fatal(err)
		}
		own, err := alone.Solve(t.Context(), Build{}) // a pair this plain has no nodes enough for its gap on thin grids
		if err != nil {
			t.Fatal(err)
		}
		for name, x := range got[0][i].Figures {
			if y := got[1][i].Figures[name]; math.Abs(y/x-1) > 1e-6 {
				t.Errorf("build %d: %s is %.12g, and %.12g after others", i, name, x, y)
			} else if y != x {
				t.Logf("build %d: %s differs by %.1e", i, name, y/x-1)
			}
			most := 2e-3 // of the field
			if name != "field_T" {
				most = 2e-2
			}
			if y := own.Figures[name]; math.Abs(y/x-1) > most {
				t.Errorf("build %d: %s is %.6g beside the design, %.6g by itself", i, name, x, y)
			}
		}
	}
}

// The grids of a frame's builds are its design's, moved: a build begins where the design ended, and takes three quarters of the cycles or less.
func TestBuildsBeginNear(t *testing.T) {
	d := template(t, "framed-pair")
	n, err := nearTo(d)
	if err != nil {
		t.Fatal(err)
	}
	build := []Deviation{{Kind: DeviatesRemanence, Part: "upper", Amount: -0.01}, {Kind: DeviatesGap, Axis: 2, Amount: 0.05e-3}}
	c, err := Apply(d, build)
	if err != nil {
		t.Fatal(err)
	}
	a, err := newAssembly(c)
	if err != nil {
		t.Fatal(err)
	}
	use := condition{temperatureC: workingTemperature(c), joints: true}
	cycles := func(o Options) int {
		f, err := a.solve(t.Context(), use, o, func(string, float64) {}, new(result.Solver))
		if err != nil {
			t.Fatal(err)
		}
		return f.Effort.Cycles
	}
	cold := cycles(Options{Accuracy: Draft, FieldOnly: true})
	warm := cycles(Options{Accuracy: Draft, FieldOnly: true, near: n, build: build})
	t.Logf("%d cycles, %d by itself", warm, cold)
	if 4*warm > 3*cold {
		t.Errorf("%d cycles near the design, %d by itself", warm, cold)
	}
}
