package linesearch

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

// The derivative of a parabola with its minimum at 1 is 0 there: one call.
func TestFullStep(t *testing.T) {
	calls := 0
	if got := Convex(-1, func(t float64) float64 { calls++; return t - 1 }); got != 1 || calls != 1 {
		t.Errorf("t = %g after %d calls, want 1 after 1", got, calls)
	}
}

// For f = exp(k t) - s t with its minimum at ln(s/k)/k, near or far, the slope at what is found is at most half of the first one, and the last
// call was made there.
func TestConvex(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		k := math.Exp(rapid.Float64Range(-3, 3).Draw(t, "log k"))
		s := k * math.Exp(rapid.Float64Range(0.1, 8).Draw(t, "log s/k"))
		derivative := func(x float64) float64 { return k*math.Exp(k*x) - s }
		last := math.NaN()
		got := Convex(derivative(0), func(x float64) float64 { last = x; return derivative(x) })
		if got <= 0 || got != last || math.Abs(derivative(got)) > 0.5*math.Abs(derivative(0)) {
			t.Fatalf("k %g, s %g: t = %g (last call at %g) with the slope %g, at first %g", k, s, got, last, derivative(got), derivative(0))
		}
	})
}

// A function that is no such thing ends the search too.
func TestEnds(t *testing.T) {
	calls := 0
	Convex(-1, func(float64) float64 { calls++; return math.NaN() })
	if calls > mostCalls {
		t.Errorf("%d calls", calls)
	}
}
