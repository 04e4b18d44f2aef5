package shape

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"
)

// Bounds is the smallest world box, its faces along the world axes, that encloses the placed body. It is tight for every solid of this
// package and safe, by the solid's own box, for others.
func Bounds(s Solid, p Placement) r3.Box {
	p.Rot = p.Rot.snapped()
	var lo, hi [3]float64
	for i, c := range axes(p.Center) {
		l, h := reach(s, p.Rot[i])
		lo[i], hi[i] = c+l, c+h
	}
	return r3.Box{Min: vec(lo), Max: vec(hi)}
}

// Support is how far the placed body reaches along a direction: the greatest value of d . x over its points x, with the reservation of [Bounds].
func Support(s Solid, p Placement, d r3.Vec) float64 {
	_, far := reach(s, axes(p.Rot.Inverse(d)))
	return r3.Dot(d, p.Center) + far
}

// reach gives the least and the greatest value of g . q over the points q of the body.
func reach(s Solid, g [3]float64) (lo, hi float64) {
	if w, ok := s.(Wedge); ok {
		return w.reach(g)
	}
	across := math.Hypot(g[0], g[1])
	h := axes(s.HalfExtent())
	switch s := s.(type) {
	case Disc, Ring:
		hi = h[0]*across + h[2]*math.Abs(g[2])
	case Racetrack:
		x, y := s.cornerCentre()
		hi = x*math.Abs(g[0]) + y*math.Abs(g[1]) + (s.CornerRadius+s.Build)*across + h[2]*math.Abs(g[2])
	case Frustum:
		bottom, top := s.BottomDiameter/2*across, s.TopDiameter/2*across
		z := s.Height / 2 * g[2]
		return math.Min(-z-bottom, z-top), math.Max(-z+bottom, z+top)
	default:
		hi = h[0]*math.Abs(g[0]) + h[1]*math.Abs(g[1]) + h[2]*math.Abs(g[2])
	}
	return -hi, hi
}

// reach of a wedge is taken at a corner, or on the outer arc where g points along the radius.
func (w Wedge) reach(g [3]float64) (lo, hi float64) {
	lo, hi = math.Inf(1), math.Inf(-1)
	at := func(value float64) { lo, hi = math.Min(lo, value), math.Max(hi, value) }
	for _, angle := range []float64{w.From, w.From + w.Span()} {
		s, c := sincos(angle)
		for _, d := range []float64{w.InnerDiameter, w.OuterDiameter} {
			at(d / 2 * (g[0]*c + g[1]*s))
		}
	}
	across := math.Hypot(g[0], g[1]) * w.OuterDiameter / 2
	if across > 0 {
		up := math.Atan2(g[1], g[0])
		if w.spans(up) {
			at(across)
		}
		if w.spans(up + math.Pi) {
			at(-across)
		}
	}
	z := w.Thickness / 2 * math.Abs(g[2])
	return lo - z, hi + z
}

// spans tells whether an angle lies between From and To.
func (w Wedge) spans(angle float64) bool {
	past := math.Mod(angle-w.From, 2*math.Pi)
	if past < 0 {
		past += 2 * math.Pi
	}
	return past <= w.Span()
}

func axes(v r3.Vec) [3]float64 { return [3]float64{v.X, v.Y, v.Z} }

func vec(a [3]float64) r3.Vec { return r3.Vec{X: a[0], Y: a[1], Z: a[2]} }
