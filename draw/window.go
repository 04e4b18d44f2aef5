package draw

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/spatial/r3"

	"polewright/shape"
)

// Window is a rectangular coil about local z: the space between two rectangles with rounded corners, Outer and Inner their full edges along
// local x, y. It is a [shape.Solid].
type Window struct {
	Outer, Inner             [2]float64
	OuterRadius, InnerRadius float64
	Height                   float64
}

// filled is a body with the same outline and no window, or a window within it: it has the same box.
func (w Window) filled() shape.Solid {
	if w.OuterRadius > 0 {
		return shape.Racetrack{CoreX: w.Outer[0] - 2*w.OuterRadius, CoreY: w.Outer[1] - 2*w.OuterRadius, Build: w.OuterRadius, Width: w.Height}
	}
	return shape.Block{Size: r3.Vec{X: w.Outer[0], Y: w.Outer[1], Z: w.Height}}
}

// outline is the outer loop, counter-clockwise, and the hole, clockwise.
func (w Window) outline() []shape.Loop {
	// The bore of a racetrack is a rectangle with rounded corners; run backwards it is an outline.
	bore := func(size [2]float64, radius float64) shape.Loop {
		t := shape.Racetrack{CoreX: size[0], CoreY: size[1], CornerRadius: radius, Build: 1, Width: 1}
		loops, _, _, _ := shape.Outline(t, shape.Placement{Rot: shape.Identity()}, 2)
		return loops[1]
	}
	hole := bore(w.Inner, w.InnerRadius)
	back := bore(w.Outer, w.OuterRadius)
	var outer shape.Loop
	for i := len(back) - 1; i >= 0; i-- {
		e := back[i]
		outer = append(outer, shape.Edge{A: e.B, B: e.A, Center: e.Center, Radius: e.Radius, CCW: e.Radius != 0 && !e.CCW})
	}
	return []shape.Loop{outer, hole}
}

func area(size [2]float64, radius float64) float64 {
	return size[0]*size[1] - (4-math.Pi)*radius*radius
}

// Volume in cubic metres.
func (w Window) Volume() float64 {
	return math.Max(0, area(w.Outer, w.OuterRadius)-area(w.Inner, w.InnerRadius)) * math.Max(0, w.Height)
}

// SurfaceArea in square metres.
func (w Window) SurfaceArea() float64 {
	round := func(size [2]float64, r float64) float64 { return 2*(size[0]+size[1]) - (8-2*math.Pi)*r }
	return 2*(area(w.Outer, w.OuterRadius)-area(w.Inner, w.InnerRadius)) + w.Height*(round(w.Outer, w.OuterRadius)+round(w.Inner, w.InnerRadius))
}

// HalfExtent is half the outer size.
func (w Window) HalfExtent() r3.Vec {
	return r3.Vec{X: w.Outer[0] / 2, Y: w.Outer[1] / 2, Z: w.Height / 2}
}

// Contains: see [shape.Solid].
func (w Window) Contains(p r3.Vec, tol float64) bool {
	if math.Abs(p.Z) > w.Height/2+tol {
		return false
	}
	return depth(p, w.Outer, w.OuterRadius) <= tol && depth(p, w.Inner, w.InnerRadius) >= -tol
}

// depth is the distance of a point from a rectangle with rounded corners, negative inside.
func depth(p r3.Vec, size [2]float64, radius float64) float64 {
	x, y := math.Abs(p.X)-size[0]/2+radius, math.Abs(p.Y)-size[1]/2+radius
	return math.Hypot(math.Max(x, 0), math.Max(y, 0)) + math.Min(math.Max(x, y), 0) - radius
}

// String names shape and size.
func (w Window) String() string {
	return fmt.Sprintf("frame %s x %s round %s x %s, %s mm high", mm(w.Outer[0]), mm(w.Outer[1]), mm(w.Inner[0]), mm(w.Inner[1]), mm(w.Height))
}
