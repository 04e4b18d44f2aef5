package magnetostatic

import (
	"context"
	"errors"
	"runtime"
	"slices"
	"sync/atomic"
	"testing"

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

// counted is a context that is cancelled when it has been asked for its error so often.
type counted struct {
	context.Context
	cancel func()
	asked  atomic.Int64
	at     int64
}

func (c *counted) Err() error {
	if c.asked.Add(1) == c.at {
		c.cancel()
	}
	return c.Context.Err()
}

// A solve ends with its context's error at whatever moment it is cancelled, and asks for it hardly any more after that. A cycle, of some ten
// milliseconds, asks at least a dozen times.
func TestSolveStops(t *testing.T) {
	p := pairProblem(t, 6, 1.30, 0.6, 2)
	run := func(at int64) (int64, error) {
		ctx, cancel := context.WithCancel(t.Context())
		defer cancel()
		c := &counted{Context: ctx, cancel: cancel, at: at}
		_, _, err := Solve(c, p, nil)
		return c.asked.Load(), err
	}
	all, err := run(-1)
	if err != nil {
		t.Fatal(err)
	}
	if cycles := int64(12 * 28); all < cycles {
		t.Errorf("asked for its context's error %d times only", all)
	}
	for i := range int64(10) {
		at := 1 + i*(all-1)/10
		n, err := run(at)
		if !errors.Is(err, context.Canceled) {
			t.Errorf("cancelled at %d of %d: %v", at, all, err)
		}
		t.Log(n - at)
		if n > at+400 {
			t.Errorf("cancelled at %d of %d, it asked %d times more", at, all, n-at)
		}
	}
}
