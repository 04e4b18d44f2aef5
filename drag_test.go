package polewright

import (
	"context"
	"fmt"
	"math"
	"strings"
	"testing"

	"polewright/design"
)

// thinner is the framed pair with legs of another thickness (mm) that keep their inner faces, as a slider would make it.
func thinner(t testing.TB, leg float64) *design.Design {
	t.Helper()
	text := templateText(t, "framed-pair")
	old := `["60 mm", "12 mm", "58 mm"]`
	if !strings.Contains(text, old) {
		t.Fatalf("the framed pair has no leg of %s", old)
	}
	text = strings.ReplaceAll(text, old, fmt.Sprintf(`["60 mm", "%g mm", "58 mm"]`, leg))
	for _, side := range []string{"-", ""} {
		text = strings.ReplaceAll(text, fmt.Sprintf(`["0 mm", "%s34 mm", "0 mm"]`, side), fmt.Sprintf(`["0 mm", "%s%g mm", "0 mm"]`, side, 28+leg/2))
	}
	return read(t, text)
}

var dragged = Options{Accuracy: Draft, NoLedger: true, NoDemagnetization: true, FieldOnly: true}

// A drag begins at the field of the design before and gives what a run from nothing gives, within ten times the solver's tolerance, 1e-5, which is a
// fiftieth of the draft's accuracy; a step changes the field by more than that.
func TestDrag(t *testing.T) {
	var last *Solved
	for _, leg := range []float64{12, 11.5, 11, 10.8} {
		d := thinner(t, leg)
		cold, err := Run(context.Background(), d, dragged)
		if err != nil {
			t.Fatal(err)
		}
		o := dragged
		o.From = last
		warm, err := Run(context.Background(), d, o)
		if err != nil {
			t.Fatal(err)
		}
		w, c := warm.Result, cold.Result
		t.Logf("leg %g mm: %.6f T, from nothing %.6f T; estimated error %.3f %% and %.3f %%; %d steps and %d", leg, w.GapB[2], c.GapB[2],
			w.Solver.EstimatedError, c.Solver.EstimatedError, w.Solver.NewtonSteps, c.Solver.NewtonSteps)
		if d := math.Abs(w.GapB[2]/c.GapB[2] - 1); !(d < 1e-4) {
			t.Errorf("leg %g mm: begun at the design before the gap field is off by %.1e", leg, d)
		}
		if d := math.Abs(w.Solver.EstimatedError - c.Solver.EstimatedError); !(d < 0.01) {
			t.Errorf("leg %g mm: estimated error %g %%, from nothing %g %%", leg, w.Solver.EstimatedError, c.Solver.EstimatedError)
		}
		if len(w.Parts) != 0 || len(w.Stray) != 0 || len(w.Probes) == 0 {
			t.Errorf("the field only has %d parts, %d stray limits, %d probes", len(w.Parts), len(w.Stray), len(w.Probes))
		}
		if last != nil && math.Abs(c.GapB[2]/last.Result.GapB[2]-1) < 1e-4 {
			t.Errorf("leg %g mm changes nothing", leg)
		}
		last = warm
	}
}

// BenchmarkDrag moves a slider to and fro: the draft's field, from the design before and from nothing.
func BenchmarkDrag(b *testing.B) {
	designs := []*design.Design{thinner(b, 12), thinner(b, 11.8)}
	for _, warm := range []bool{true, false} {
		b.Run(map[bool]string{true: "from-before", false: "from-nothing"}[warm], func(b *testing.B) {
			var last *Solved
			for i := 0; b.Loop(); i++ {
				o := dragged
				if warm {
					o.From = last
				}
				s, err := Run(context.Background(), designs[i%2], o)
				if err != nil {
					b.Fatal(err)
				}
				last = s
				b.ReportMetric(float64(s.Result.Solver.NewtonSteps), "steps")
			}
		})
	}
}
