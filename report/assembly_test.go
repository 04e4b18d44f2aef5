package report

import (
	"bytes"
	"math"
	"strings"
	"testing"

	"polewright/result"
)

// wayOut is a way whose force falls as (1 + x/10 mm)^-3, from 500 N.
func wayOut() (way []result.WayPoint) {
	for _, x := range []float64{100, 60, 36, 21, 12, 7, 3, 1, 0} {
		f := 500 * math.Pow(1+x/10, -3)
		way = append(way, result.WayPoint{DistanceM: 1e-3 * x, Force: [3]float64{0, 0, -f}, PullN: f})
	}
	return way
}

func anOrder() *result.Assembly {
	steps := []result.AssemblyStep{
		{Number: 1, Title: "Set down plate", Moves: []string{"plate"}},
		{Number: 2, Title: "Lower the magnet", Moves: []string{"magnet"}, MassKg: 0.4, Way: wayOut(), PeakN: 500, PeakPullN: 500, EnergyJ: 2.5, SpeedMPerS: 3.5,
			Toward: [3]float64{0, 0, -1}, Side: []result.SideStiffness{{Direction: [3]float64{1}, AtM: 3e-3, StiffnessNPerM: -1200}},
			Negative: 1e5, JigNPerM: 5e5, Screws: &result.Screws{Count: 3, LoadN: 333, Size: "M6", TorqueNm: 0.2},
			Worst: &result.StateStrain{Magnet: "magnet", LowestH: -7e5, KneeH: -8e5, Margin: 0.125}},
		{Number: 3, Title: "Lower the other", Moves: []string{"other"}, SameAs: 2, Way: wayOut(), PeakN: 500, PeakPullN: 500},
		{Number: 4, Title: "Wind the yoke", Moves: []string{"yoke"}, Turns: []result.TurnsWrap{{PullN: 170}, {Turns: 100, PullN: -30, PerTurnN: -2}}, PeakN: 170},
	}
	return &result.Assembly{Title: "a pair", Layout: "pair", Basis: "common practice, no source", Accuracy: "draft", TempC: 22, ScrewFactor: 2, JigFactor: 5,
		Steps: steps, Dangerous: 2, WhyDangerous: "it is", Apart: []result.Takeoff{{Step: 2, What: "Take off magnet", BeginN: 500, How: "by screws"}}}
}

func TestAssemblyText(t *testing.T) {
	var b strings.Builder
	if err := AssemblyText(&b, anOrder()); err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{"Order of assembly: pair (accuracy draft, magnets at 22 °C)", "DANGEROUS     step 2, Lower the magnet: it is", "RUNS ASIDE: guide it",
		"stiffer than 500 N/mm along the way (5 x the steepest pull)", "3 x M6 for 333 N each, 0.20 N·m to turn", "those of step 2, its mirror image", "  turns  pull together N  a turn N\n      0              170",
		"2 Lower the magnet  magnet      0", "no state takes a magnet past its knee", "3.00     228      23.2"} {
		if !strings.Contains(b.String(), want) {
			t.Errorf("lacks %q in\n%s", want, b.String())
		}
	}
	for line := range strings.SplitSeq(b.String(), "\n") {
		if len([]rune(line)) > textWidth {
			t.Errorf("%d columns: %s", len([]rune(line)), line)
		}
	}
}

// The chart passes through the places, on both sides of them within 3 % of the law that they were taken from, and leaves mirror images out.
func TestAssemblyChart(t *testing.T) {
	g, ok := AssemblyChart(anOrder(), false)
	if !ok || len(g.Curves) != 1 {
		t.Fatalf("%v, %d curves", ok, len(g.Curves))
	}
	for i, x := range g.Curves[0].X {
		want := 500 * math.Pow(1+x/10, -3)
		if y := g.Curves[0].Y[i]; math.Abs(y/want-1) > 0.03 {
			t.Errorf("%g mm: %g N, want %g N", x, y, want)
		}
	}
	for _, dark := range []bool{false, true} {
		g, _ := AssemblyChart(anOrder(), dark)
		var png, svg bytes.Buffer
		if err := g.PNG(&png, 160); err != nil {
			t.Error(err)
		}
		if err := g.SVG(&svg, 160); err != nil || !strings.Contains(svg.String(), "2 Lower the magnet") {
			t.Error(err, "or the curve's name is lost")
		}
	}
	if _, ok := AssemblyChart(&result.Assembly{}, false); ok {
		t.Error("a chart of nothing")
	}
}
