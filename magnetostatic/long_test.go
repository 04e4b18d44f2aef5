//go:build long

package magnetostatic

import "testing"

// The same checks as in the other files, on larger grids: go test -tags long.

func TestFramedPairConvergesLong(t *testing.T) {
	for _, leg := range []float64{6, 4} {
		checkConvergence(t, leg, true)
	}
}

func TestNewtonFromZeroLong(t *testing.T) {
	for _, leg := range []float64{12, 6, 4} {
		checkNewtonFromZero(t, leg, 1)
	}
}

// About 100 thousand against 2 million unknowns, and more.
func TestCyclesDoNotGrowLong(t *testing.T) {
	n1, c1 := cyclesAt(t, lay(t, framedPair(6), 2, 1.1), 1)
	n2, c2 := cyclesAt(t, lay(t, framedPair(6), 4, 0.65), 3)
	if float64(c2) > 1.5*float64(c1) {
		t.Errorf("%d unknowns take %d cycles, %d take %d", n1, c1, n2, c2)
	}
	if n1 > 150e3 || n2 < 1.5e6 {
		t.Errorf("%d and %d unknowns are not the sizes meant here", n1, n2)
	}
}

func TestForcesBalanceLong(t *testing.T) {
	checkBalance(t, 3, 0.01)
}

func TestSymmetryChangesNothingLong(t *testing.T) {
	checkSymmetryChangesNothing(t, 1, 5e-4)
}
