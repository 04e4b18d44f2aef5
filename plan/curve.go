package plan

import (
	"math"

	"gonum.org/v1/gonum/spatial/r2"
)

// curve is what an edge of the mesh may lie on: a circle about center, or a straight line when radius is 0.
// Pieces of a circle are always the shorter way round between their ends and span at most a right angle.
type curve struct {
	center r2.Vec
	radius float64
}

func (c curve) straight() bool { return c.radius == 0 }

// angle is the signed angle at the centre from a to p.
func (c curve) angle(a, p r2.Vec) float64 {
	u, v := r2.Sub(a, c.center), r2.Sub(p, c.center)
	return math.Atan2(r2.Cross(u, v), r2.Dot(u, v))
}

// length of the piece from a to b.
func (c curve) length(a, b r2.Vec) float64 {
	if c.straight() {
		return r2.Norm(r2.Sub(b, a))
	}
	return c.radius * abs(c.angle(a, b))
}

// middle is the point half way from a to b.
func (c curve) middle(a, b r2.Vec) r2.Vec {
	chord := r2.Vec{X: (a.X + b.X) / 2, Y: (a.Y + b.Y) / 2}
	if c.straight() {
		return chord
	}
	out := r2.Sub(chord, c.center)
	return r2.Add(c.center, r2.Scale(c.radius/r2.Norm(out), out))
}

// at is the point at the fraction t of the way from a to b.
func (c curve) at(a, b r2.Vec, t float64) r2.Vec {
	switch {
	case t <= 0:
		return a
	case t >= 1:
		return b
	case c.straight():
		// this form keeps a coordinate that both ends share
		return r2.Vec{X: a.X + t*(b.X-a.X), Y: a.Y + t*(b.Y-a.Y)}
	}
	s, co := math.Sincos(t * c.angle(a, b))
	u := r2.Sub(a, c.center)
	u = r2.Scale(c.radius/r2.Norm(u), u)
	return r2.Vec{X: c.center.X + co*u.X - s*u.Y, Y: c.center.Y + s*u.X + co*u.Y}
}

// along is the fraction of the way from a to b of the point of the piece's line or circle nearest p; it may lie outside [0,1].
func (c curve) along(a, b, p r2.Vec) float64 {
	if c.straight() {
		d := r2.Sub(b, a)
		return r2.Dot(r2.Sub(p, a), d) / r2.Norm2(d)
	}
	return c.angle(a, p) / c.angle(a, b)
}

// distance of p from the piece a-b.
func (c curve) distance(a, b, p r2.Vec) float64 {
	t := c.along(a, b, p)
	switch {
	case !(t > 0):
		return r2.Norm(r2.Sub(p, a))
	case t >= 1:
		return math.Min(r2.Norm(r2.Sub(p, a)), r2.Norm(r2.Sub(p, b)))
	case c.straight():
		d := r2.Sub(b, a)
		return abs(r2.Cross(d, r2.Sub(p, a))) / r2.Norm(d)
	}
	return abs(r2.Norm(r2.Sub(p, c.center)) - c.radius)
}

// tangent is the unit direction at a of the piece that leaves a for b.
func (c curve) tangent(a, b r2.Vec) r2.Vec {
	if c.straight() {
		return r2.Unit(r2.Sub(b, a))
	}
	u := r2.Unit(r2.Sub(a, c.center))
	if c.angle(a, b) > 0 {
		return r2.Vec{X: -u.Y, Y: u.X}
	}
	return r2.Vec{X: u.Y, Y: -u.X}
}

// sagitta is the height of the arc a-b over its chord.
func (c curve) sagitta(a, b r2.Vec) float64 {
	if c.straight() {
		return 0
	}
	s := math.Sin(c.angle(a, b) / 4)
	return 2 * c.radius * s * s
}

// box bounds the piece a-b.
func (c curve) box(a, b r2.Vec) r2.Box {
	box := r2.Box{Min: r2.Vec{X: math.Min(a.X, b.X), Y: math.Min(a.Y, b.Y)}, Max: r2.Vec{X: math.Max(a.X, b.X), Y: math.Max(a.Y, b.Y)}}
	if c.straight() {
		return box
	}
	// at most a right angle: the arc stays within its sagitta of the chord's box
	s := c.sagitta(a, b)
	return r2.Box{Min: r2.Vec{X: box.Min.X - s, Y: box.Min.Y - s}, Max: r2.Vec{X: box.Max.X + s, Y: box.Max.Y + s}}
}
