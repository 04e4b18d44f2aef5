package magnetostatic

import (
	"context"
	"errors"
	"runtime"
	"slices"
	"testing"
	"time"

	"gonum.org/v1/gonum/spatial/r3"
)

// pairProblem is the framed pair with bar steel and a remanence (T) of the magnets.
func pairProblem(t testing.TB, leg, remanence, density float64, levels int) *Problem {
	bodies := framedPair(leg)
	for i := range 2 {
		bodies[i].Polarization.Z = remanence
	}
	g := lay(t, bodies, levels, density)
	return &Problem{Grids: g, Media: media(t, g.Axis, bodies, "steel-1018", 1.05), Dipole: r3.Vec{Z: 1}}
}

// A solve that begins at the field of weaker magnets, or of legs a little thicker, ends where one from zero ends: within twice the tolerance of
// what is left. It takes no more steps, and fewer where the grid is the same.
func TestStart(t *testing.T) {
	for _, c := range []struct{ leg, fromLeg, remanence float64 }{{12, 12, 1.26}, {6, 6, 1.26}, {6, 6.2, 1.30}} {
		coarse, fine, err := Solve(t.Context(), pairProblem(t, c.fromLeg, c.remanence, 0.6, 2), nil)
		if err != nil {
			t.Fatal(err)
		}
		p := pairProblem(t, c.leg, 1.30, 0.6, 2)
		cold := solved(t, p)
		p.Start = StartFrom(coarse, fine)
		if c.leg == c.fromLeg && p.Start.on(p.Grids).means[0] != nil {
			t.Error("the same grids do not fit")
		}
		warm := solved(t, p)
		want, _ := cold.At(r3.Vec{})
		got, _ := warm.At(r3.Vec{})
		t.Logf("leg %g from %g mm: fits %v, %d steps and %d cycles, from zero %d and %d", c.leg, c.fromLeg, p.Start.on(p.Grids).means[0] == nil, warm.Effort.NewtonSteps,
			warm.Effort.Cycles, cold.Effort.NewtonSteps, cold.Effort.Cycles)
		near(t, "gap field", got.Z, want.Z, 2*fineTolerance)
		if warm.Effort.NewtonSteps > cold.Effort.NewtonSteps || c.leg == c.fromLeg && warm.Effort.NewtonSteps == cold.Effort.NewtonSteps {
			t.Errorf("leg %g from %g mm takes %d steps, from zero %d", c.leg, c.fromLeg, warm.Effort.NewtonSteps, cold.Effort.NewtonSteps)
		}
	}
}

// The potential is the same to the last bit on one, two and three cores: shares of work differ, sums do not.
func TestCoresChangeNothing(t *testing.T) {
	defer runtime.GOMAXPROCS(runtime.GOMAXPROCS(0))
	for name, p := range map[string]*Problem{"framed": pairProblem(t, 6, 1.30, 0.6, 2), "wound": woundPair(t, 0, 2, 0.6)} {
		var want []float64
		for _, cores := range []int{1, 2, 3} {
			runtime.GOMAXPROCS(cores)
			got := solved(t, p).Phi
			if want != nil && !slices.Equal(got, want) {
				t.Errorf("%s: on %d cores the potential differs from that on one", name, cores)
			}
			want = got
		}
	}
}

// A solve ends soon after its context, at whatever moment that is, with the context's error. The bound is generous for slow machines; on two
// cores of 2 GHz it took up to 30 ms.
func TestSolveStops(t *testing.T) {
	p := pairProblem(t, 6, 1.30, 1.2, 2)
	start := time.Now()
	solved(t, p)
	whole := time.Since(start)
	var worst time.Duration
	for i := range 8 {
		ctx, cancel := context.WithCancel(t.Context())
		var at time.Time
		timer := time.AfterFunc(whole*time.Duration(i)/8, func() {
			at = time.Now()
			cancel()
		})
		_, _, err := Solve(ctx, p, nil)
		if timer.Stop() {
			t.Logf("cancelled after %d/8 of the time: done before", i)
			cancel()
			continue
		}
		<-ctx.Done()
		worst = max(worst, time.Since(at))
		if !errors.Is(err, context.Canceled) {
			t.Errorf("cancelled after %d/8 of the time: %v", i, err)
		}
	}
	t.Logf("%d unknowns, %v in all: stopped within %v", p.Grids.Grid[len(p.Grids.Grid)-1].Unknowns(), whole, worst)
	if worst > 500*time.Millisecond {
		t.Errorf("stopped only %v after the context", worst)
	}
}
