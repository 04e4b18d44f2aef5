//go:build long

package study

import (
	"math"
	"testing"
)

// The search with draft solves of a framed pair against solving all: within 1 % of the least mass in a tenth of the solves.
func TestSearchBySolves(t *testing.T) {
	q := queued(t, Solve)
	s := &Search{Space: spaceOf(t, searched, "gap field, uniformity, mass", "layout.magnet_z = 12..24 mm / 3 mm", "layout.leg = 6..12 mm / 2 mm", "layout.back = 8..16 mm / 4 mm", "layout.grade = N42, N48"),
		Goals: []Goal{{Figure: named(t, "mass")}}, Limits: []Limit{limit(t, "gap field >= 0.72 T"), limit(t, "uniformity <= 7500 ppm")}, Solves: 12}
	found, err := s.Run(t.Context(), Evaluator(q, false), func(string, float64) {})
	if err != nil {
		t.Fatal(err)
	}
	best, keeping := math.Inf(1), 0
	err = Run(t.Context(), q, s.Space.Cases(), Options{Total: s.Space.Size(), Each: func(r Row) {
		if s.Keeps(r) {
			keeping++
			best = min(best, r.Figures["mass"])
		}
	}})
	if err != nil {
		t.Fatal(err)
	}
	if len(found.Best) == 0 {
		t.Fatalf("nothing found in %d solves; %d of %d keep the limits, the best with %g kg", len(found.Rows), keeping, s.Space.Size(), best)
	}
	got := found.Best[0].Figures["mass"]
	t.Logf("%.4f kg of %.4f in %d solves of %d, of which %d keep the limits; finished %t", got, best, len(found.Rows), s.Space.Size(), keeping, found.Finished)
	if got > 1.01*best || len(found.Rows) > s.Space.Size()/10 {
		t.Errorf("%g kg in %d solves of %d; the best is %g kg", got, len(found.Rows), s.Space.Size(), best)
	}
}
