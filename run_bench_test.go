package polewright

import (
	"context"
	"strings"
	"testing"

	"polewright/design"
)

// BenchmarkRun solves the embedded designs as the command line does, the loss ledger apart.
func BenchmarkRun(b *testing.B) {
	for _, layout := range []string{"framed-pair", "wound-pair"} {
		for _, a := range []Accuracy{Draft, Standard} {
			b.Run(layout+"/"+a.Name, func(b *testing.B) {
				text, err := design.Template(layout)
				if err != nil {
					b.Fatal(err)
				}
				d, err := design.Read(strings.NewReader(text), layout)
				if err != nil {
					b.Fatal(err)
				}
				b.ReportAllocs()
				for b.Loop() {
					s, err := Run(context.Background(), d, Options{Accuracy: a, NoLedger: true})
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
