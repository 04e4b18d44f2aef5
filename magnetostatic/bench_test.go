package magnetostatic

import (
	"context"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"polewright/grid"
)

// BenchmarkFramedPair solves the framed pair on grids of growing fineness; ns/unknown and B/unknown should stay flat.
func BenchmarkFramedPair(b *testing.B) {
	for _, c := range []struct {
		name    string
		levels  int
		density float64
	}{{"draft", 2, 0.6}, {"standard", 2, 1}, {"fine", 3, 1}, {"3M", 3, 2}} {
		b.Run(c.name, func(b *testing.B) {
			bodies := framedPair(12)
			g, err := grid.Build(grid.Spec{Bodies: bodies, Focus: []r3.Vec{{}}, Radius: 4e-3, Levels: c.levels, Density: c.density})
			if err != nil {
				b.Fatal(err)
			}
			p := &Problem{Grids: g, Media: media(b, g.Axis, bodies, "steel-1018", 1.05), Dipole: r3.Vec{Z: 1}}
			var s *Solution
			b.ReportAllocs()
			for b.Loop() {
				if _, s, err = Solve(context.Background(), p, nil); err != nil {
					b.Fatal(err)
				}
			}
			n := float64(s.Effort.Unknowns)
			b.ReportMetric(n, "unknowns")
			b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N)/n, "ns/unknown")
			b.ReportMetric(float64(s.Effort.NewtonSteps), "steps")
			b.ReportMetric(float64(s.Effort.Cycles), "cycles")
		})
	}
}
