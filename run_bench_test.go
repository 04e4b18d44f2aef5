package polewright

import (
	"context"
	"testing"
)

// BenchmarkRun solves the embedded designs for the field with its estimated error, forces and stray reach, as all the command line does but the loss
// ledger and what the temperature range does to the magnets; "warm and cold" has the latter too. Aimed at on two cores: 0.1, 0.5 and 5 s for the framed
// pair at draft, standard and fine.
func BenchmarkRun(b *testing.B) {
	for _, layout := range []string{"framed-pair", "wound-pair"} {
		for _, c := range []struct {
			name     string
			accuracy Accuracy
			warmCold bool
		}{{"draft", Draft, false}, {"standard", Standard, false}, {"fine", Fine, false}, {"draft warm and cold", Draft, true}, {"standard warm and cold", Standard, true}} {
			b.Run(layout+"/"+c.name, func(b *testing.B) {
				d := template(b, layout)
				b.ReportAllocs()
				for b.Loop() {
					s, err := Run(context.Background(), d, Options{Accuracy: c.accuracy, NoLedger: true, NoDemagnetization: !c.warmCold})
					if err != nil {
						b.Fatal(err)
					}
					b.ReportMetric(float64(s.Result.Solver.Unknowns), "unknowns")
					b.ReportMetric(float64(s.Result.Solver.Cycles), "cycles")
				}
			})
		}
	}
}
