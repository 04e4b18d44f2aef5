package shape

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"
	"pgregory.net/rapid"
)

// A body is where none of its sides is passed, and a step away from a side passes it by as much.
func TestSides(t *testing.T) {
	solids := []Solid{Block{Size: r3.Vec{X: 1, Y: 2, Z: 3}}, Disc{Diameter: 2, Thickness: 1}, Ring{OuterDiameter: 2, InnerDiameter: 1, Thickness: 1},
		Frustum{BottomDiameter: 2, TopDiameter: 1, Height: 1}}
	rapid.Check(t, func(t *rapid.T) {
		s := rapid.SampledFrom(solids).Draw(t, "solid")
		in := rapid.Float64Range(-2, 2)
		p := r3.Vec{X: in.Draw(t, "x"), Y: in.Draw(t, "y"), Z: in.Draw(t, "z")}
		sides, n := Sides(s, p)
		within := n > 0
		for _, side := range sides[:n] {
			within = within && side.Beyond <= 0
			if size := r3.Norm(side.Away); math.Abs(size-1) > 1e-12 {
				t.Fatalf("a direction of size %g", size)
			}
		}
		if within != s.Contains(p, 0) {
			t.Fatalf("%v: %v within, sides say %v", s, p, sides[:n])
		}
		for k, side := range sides[:n] {
			const step = 1e-6 // so small that no other side comes nearer but at rare places
			after, _ := Sides(s, r3.Add(p, r3.Scale(step, side.Away)))
			if got := after[k].Beyond - side.Beyond; math.Abs(got-step) > 1e-9 && math.Hypot(p.X, p.Y) > 1e-3 && math.Abs(side.Beyond) < 0.2 {
				t.Fatalf("%v at %v: side %d passed by %g more after a step of %g", s, p, k, got, step)
			}
		}
	})
	if _, n := Sides(Wedge{}, r3.Vec{}); n != 0 {
		t.Error("a wedge has no such sides")
	}
}

// Support is the upper end of the box along each axis.
func TestSupport(t *testing.T) {
	p := Placement{Center: r3.Vec{X: 1, Y: 2, Z: 3}, Rot: Euler(0.3, -0.5, 0.7)}
	for _, s := range []Solid{Block{Size: r3.Vec{X: 1, Y: 2, Z: 3}}, Disc{Diameter: 2, Thickness: 1}, Frustum{BottomDiameter: 2, TopDiameter: 1, Height: 1}} {
		box := Bounds(s, p)
		got := r3.Vec{X: Support(s, p, r3.Vec{X: 1}), Y: Support(s, p, r3.Vec{Y: 1}), Z: Support(s, p, r3.Vec{Z: 1})}
		if r3.Norm(r3.Sub(got, box.Max)) > 1e-12 {
			t.Errorf("%v: %v, want %v", s, got, box.Max)
		}
	}
}
