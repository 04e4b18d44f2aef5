//go:build long

package magnetostatic

import (
	"math"
	"runtime"
	"testing"
	"time"

	"gonum.org/v1/gonum/spatial/r3"

	"polewright/grid"
	"polewright/shape"
)

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
	checkBalance(t, 3, 0.001)
}

func TestSymmetryChangesNothingLong(t *testing.T) {
	checkSymmetryChangesNothing(t, 1, 5e-4)
}

// Four million nonlinear unknowns in 4 GiB; 54 s of one core were seen, in all. The memory that is estimated is what is taken, to a third. The
// time is only logged: how much of the machine the test gets is not known.
func TestFourMillionLong(t *testing.T) {
	var before, after runtime.MemStats
	p := pairProblem(t, 6, 1.30, 1.95, 3)
	n := p.Grids.Grid[2].Unknowns()
	if n < 4e6 || n > 5e6 {
		t.Fatalf("%d unknowns are not the size meant here", n)
	}
	runtime.GC()
	runtime.ReadMemStats(&before)
	start := time.Now()
	s := solved(t, p)
	took := time.Since(start)
	runtime.ReadMemStats(&after)
	taken := float64(after.Sys)
	t.Logf("%d unknowns: %v, %d steps, %d cycles, %.2f GB (estimated %.2f GB)", n, took, s.Effort.NewtonSteps, s.Effort.Cycles, taken/1e9, float64(Memory(p.Grids))/1e9)
	if taken > 4<<30 {
		t.Errorf("%.2f GB are too much", taken/1e9)
	}
	if r := float64(Memory(p.Grids)) / taken; r < 0.67 || r > 1.33 {
		t.Errorf("estimated to take %.2f of what it took", r)
	}
}

// Two sectors of a ring with their charge on the arcs. 2.5 % is asked, 2 % was reached, where 7 % was while the closed forms were taken on the outer side
// of arcs: a quadratic edge lies within the circle, which on the bore is outside the magnet.
func TestTouchingSectorsLong(t *testing.T) {
	sector := func(name string, material int, from float64, j r3.Vec) grid.Body {
		return grid.Body{Name: name, Solid: shape.Wedge{OuterDiameter: 80e-3, InnerDiameter: 30e-3, Thickness: 80e-3, From: from, To: from + math.Pi/4},
			Place: shape.Placement{Rot: shape.Identity()}, Material: material, Polarization: j, MustFit: true}
	}
	againstPieces(t, 2, 1, 0.025, []grid.Body{sector("radial", 1, 3*math.Pi/8, r3.Vec{Y: 1.3}), sector("next", 2, 5*math.Pi/8, r3.Vec{X: -1.3})})
}
