//go:build long

package polewright

import (
	"context"
	"maps"
	"math"
	"slices"
	"strings"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"polewright/design"
	"polewright/result"
)

// everyDesign takes the slow designs in too, half an hour's work: go test -tags 'long study' -run TestErrorEstimate -v -timeout 90m .
var everyDesign bool

var slowDesigns = []string{"c frame", "c frame, deep", "c frame, starved", "tips", "tips, sharp", "unlike halves", "with a turned magnet", "lone on a plate",
	"with a coil", "wound", "wound, few turns", "wound, hard wire", "framed, thin magnets", "framed, poles", "framed, round poles"}

// The error that is printed can be believed: over 30 varied designs the difference of the gap field from a far finer solve is below the
// estimate in at least 95 of 100, and the estimate is not more than five times too large in the median.
func TestErrorEstimate(t *testing.T) {
	designs := varied()
	if len(designs) < 30 {
		t.Fatalf("only %d designs", len(designs))
	}
	finer := Accuracy{"finer", 1e-9, 3, 1.1, 0}
	below, all := 0, 0
	var ratios []float64
	for _, name := range slices.Sorted(maps.Keys(designs)) {
		if !everyDesign && slices.Contains(slowDesigns, name) {
			continue
		}
		d, errs := design.Read(strings.NewReader(designs[name]), "varied.toml")
		if errs != nil {
			t.Fatalf("%s: %v", name, errs)
		}
		gap := func(a Accuracy) (r3.Vec, result.Solver) {
			s, err := Run(context.Background(), d, Options{Accuracy: a, NoLedger: true, NoDemagnetization: true})
			if err != nil {
				t.Fatalf("%s: %v", name, err)
			}
			g := s.Result.GapB
			return r3.Vec{X: g[0], Y: g[1], Z: g[2]}, s.Result.Solver
		}
		truth, _ := gap(finer)
		for _, a := range []Accuracy{Draft, Standard} {
			b, effort := gap(a)
			off := 100 * r3.Norm(r3.Sub(b, truth)) / r3.Norm(truth)
			t.Logf("%-22s %-9s %8d unknowns %6.2f s: %.6f T, off by %.4f %%, estimated %.4f %% (%s)", name, a.Name, effort.Unknowns, effort.Seconds, r3.Norm(b), off, effort.EstimatedError, effort.Method)
			all++
			if off <= effort.EstimatedError {
				below++
			}
			ratios = append(ratios, effort.EstimatedError/math.Max(off, 1e-6))
		}
	}
	slices.Sort(ratios)
	t.Logf("below the estimate: %d of %d; the estimate is %.1f times the error in the median", below, all, ratios[len(ratios)/2])
	if float64(below) < 0.95*float64(all) {
		t.Errorf("only %d of %d errors are below their estimate", below, all)
	}
	// The quick designs are the ones that the grid serves best, so only all 30 tell how large the estimate is in the median.
	if m := ratios[len(ratios)/2]; everyDesign && m > 5 {
		t.Errorf("the estimate is %.1f times too large in the median", m)
	}
}
