package shape

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/spatial/r2"
	"pgregory.net/rapid"
)

// The distance to an edge is that to the nearest of many points along it.
func TestEdgeDistance(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		within := rapid.Float64Range(-1, 1)
		point := func(name string) r2.Vec { return r2.Vec{X: within.Draw(t, name+" x"), Y: within.Draw(t, name+" y")} }
		e := Edge{A: point("a"), B: point("b")}
		if rapid.Bool().Draw(t, "arc") {
			e.Center, e.Radius, e.CCW = point("centre"), rapid.Float64Range(0.1, 1).Draw(t, "radius"), rapid.Bool().Draw(t, "counter-clockwise")
			from := rapid.Float64Range(-math.Pi, math.Pi).Draw(t, "from")
			turn := rapid.Float64Range(0.01, 3.1).Draw(t, "turn")
			if !e.CCW {
				turn = -turn
			}
			on := func(angle float64) r2.Vec {
				s, c := math.Sincos(angle)
				return r2.Add(e.Center, r2.Scale(e.Radius, r2.Vec{X: c, Y: s}))
			}
			e.A, e.B = on(from), on(from+turn)
		}
		p := point("p")
		want := math.Inf(1)
		const n = 4000
		for i := range n + 1 {
			want = math.Min(want, r2.Norm(r2.Sub(p, e.At(float64(i)/n))))
		}
		// Between two of the points the edge may come nearer by at most half a step.
		if got := e.Distance(p); got > want+1e-12 || got < want-e.Length()/n/2-1e-9 {
			t.Fatalf("%g, the nearest of %d points is %g away", got, n, want)
		}
	})
}
