//go:build long

package polewright_test

import (
	"math"
	"testing"

	"polewright"
	"polewright/design"
)

// The sensitivities against real solves of the framed pair, build by build, each figure's miss against its spread. What the law leaves out is products
// of two strayings, and what the draft's own grids differ by from build to build; both are small against what the builds stray. With 12 builds a spread
// of 1 is known to a fifth, so misses are compared with the spread of the 8192.
func TestToleranceOfFramedPair(t *testing.T) {
	text, err := design.Template("framed-pair")
	if err != nil {
		t.Fatal(err)
	}
	// Tilts with steel are made of strips, minutes of solving, and no part of builds that are solved.
	r := study(t, text+"\n[tolerance]\nparallel = \"0 deg\"\n", polewright.Tolerances{Solves: 12, Seed: 3})
	if r.Failed > 0 {
		t.Errorf("%d builds failed: %v", r.Failed, r.Notes)
	}
	for what, most := range map[string]float64{"field": 0.02, "pull": 0.05, "uniformity": 0.1, "stray field": 0.1} {
		f := figure(t, r, what)
		t.Logf("%s: %.6g, spread %.3g, off by %.2g", what, f.Design, f.Spread.SD, *f.Misfit)
		if !(*f.Misfit < most*f.Spread.SD) {
			t.Errorf("%s: the law misses by %.3g, its spread is %.3g", what, *f.Misfit, f.Spread.SD)
		}
	}
	// A batch and two pieces of remanence give nearly all of the field's spread: sqrt(1.2^2 + 0.9^2/2) = 1.36 %, with what the steel takes of it.
	f := figure(t, r, "field")
	if got := f.Spread.SD / f.Design; math.Abs(got-0.0138) > 0.0015 {
		t.Errorf("the field strays by %.4f", got)
	}
}
