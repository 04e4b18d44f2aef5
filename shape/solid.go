package shape

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/spatial/r3"
)

// Solid is a body in its own local frame, about the local origin. Metres, square metres, cubic metres.
type Solid interface {
	Volume() float64
	// SurfaceArea is that of all faces, the bore included.
	SurfaceArea() float64
	// HalfExtent holds the half edges of the smallest local box about the local origin that encloses the body.
	HalfExtent() r3.Vec
	// Contains tells whether the local point p lies inside or on the body with every face moved outward by tol (inward when negative).
	Contains(p r3.Vec, tol float64) bool
	// String names shape and size as on a drawing: "block 60 x 40 x 20 mm".
	String() string
}

// Block is a rectangular block, Size its full edges along local x, y, z.
type Block struct{ Size r3.Vec }

// Disc is a round disc or rod about local z.
type Disc struct{ Diameter, Thickness float64 }

// Ring is a disc with a round hole through it, about local z. An inner diameter of zero is a disc.
type Ring struct{ OuterDiameter, InnerDiameter, Thickness float64 }

// Wedge is the sector of a ring about local z between the angles From and To, counted from local x towards local y. A To at or below
// From is taken a turn further on; a span of 2 pi or more is the whole ring. The local origin is the ring's centre, outside most wedges.
type Wedge struct{ OuterDiameter, InnerDiameter, Thickness, From, To float64 }

// Frustum is a round pole tip about local z, its bottom at z = -Height/2.
type Frustum struct{ BottomDiameter, TopDiameter, Height float64 }

// Racetrack is the steel of a yoke wound from wire round a rectangular core. The spool's axis is local z, the core's section lies in
// local x, y, its corners rounded by CornerRadius. Build is the radial thickness of the winding, Width its extent along the axis.
// Its outer corners are arcs of radius CornerRadius+Build about the centres of the core's corners.
type Racetrack struct{ CoreX, CoreY, CornerRadius, Build, Width float64 }

// Volume in cubic metres.
func (b Block) Volume() float64 { return positive(b.Size.X) * positive(b.Size.Y) * positive(b.Size.Z) }

// SurfaceArea in square metres.
func (b Block) SurfaceArea() float64 {
	return 2 * (b.Size.X*b.Size.Y + b.Size.Y*b.Size.Z + b.Size.Z*b.Size.X)
}

// HalfExtent is half the size.
func (b Block) HalfExtent() r3.Vec { return r3.Scale(0.5, b.Size) }

// Contains: see [Solid].
func (b Block) Contains(p r3.Vec, tol float64) bool {
	h := b.HalfExtent()
	return math.Abs(p.X) <= h.X+tol && math.Abs(p.Y) <= h.Y+tol && math.Abs(p.Z) <= h.Z+tol
}

// String names shape and size.
func (b Block) String() string {
	return fmt.Sprintf("block %s x %s x %s mm", mm(b.Size.X), mm(b.Size.Y), mm(b.Size.Z))
}

// Volume in cubic metres.
func (d Disc) Volume() float64 { return d.ring().Volume() }

// SurfaceArea in square metres.
func (d Disc) SurfaceArea() float64 { return d.ring().SurfaceArea() }

// HalfExtent holds the half edges of the enclosing box.
func (d Disc) HalfExtent() r3.Vec { return d.ring().HalfExtent() }

// Contains: see [Solid].
func (d Disc) Contains(p r3.Vec, tol float64) bool { return d.ring().Contains(p, tol) }

// String names shape and size.
func (d Disc) String() string {
	return fmt.Sprintf("disc %s dia x %s mm", mm(d.Diameter), mm(d.Thickness))
}

func (d Disc) ring() Ring { return Ring{OuterDiameter: d.Diameter, Thickness: d.Thickness} }

// Volume in cubic metres.
func (r Ring) Volume() float64 {
	return math.Pi / 4 * positive(r.OuterDiameter-r.InnerDiameter) * (r.OuterDiameter + r.InnerDiameter) * positive(r.Thickness)
}

// SurfaceArea in square metres.
func (r Ring) SurfaceArea() float64 {
	return math.Pi * (r.OuterDiameter + r.InnerDiameter) * ((r.OuterDiameter-r.InnerDiameter)/2 + r.Thickness)
}

// HalfExtent holds the half edges of the enclosing box.
func (r Ring) HalfExtent() r3.Vec {
	return r3.Vec{X: r.OuterDiameter / 2, Y: r.OuterDiameter / 2, Z: r.Thickness / 2}
}

// Contains: see [Solid].
func (r Ring) Contains(p r3.Vec, tol float64) bool {
	if math.Abs(p.Z) > r.Thickness/2+tol {
		return false
	}
	rho := math.Hypot(p.X, p.Y)
	return rho <= r.OuterDiameter/2+tol && (r.InnerDiameter <= 0 || rho >= r.InnerDiameter/2-tol)
}

// String names shape and size.
func (r Ring) String() string {
	return fmt.Sprintf("ring %s / %s dia x %s mm", mm(r.OuterDiameter), mm(r.InnerDiameter), mm(r.Thickness))
}

func (w Wedge) ring() Ring { return Ring{w.OuterDiameter, w.InnerDiameter, w.Thickness} }

// Span is the angle from From to To, in (0, 2 pi].
func (w Wedge) Span() float64 {
	span := w.To - w.From
	if span <= 0 {
		span = 2*math.Pi - math.Mod(-span, 2*math.Pi)
	}
	if span > 2*math.Pi-snapTolerance {
		return 2 * math.Pi
	}
	return span
}

func (w Wedge) whole() bool { return w.Span() == 2*math.Pi }

// Volume in cubic metres.
func (w Wedge) Volume() float64 { return w.ring().Volume() * w.Span() / (2 * math.Pi) }

// SurfaceArea in square metres.
func (w Wedge) SurfaceArea() float64 {
	s := w.ring().SurfaceArea() * w.Span() / (2 * math.Pi)
	if !w.whole() {
		s += (w.OuterDiameter - w.InnerDiameter) * w.Thickness
	}
	return s
}

// HalfExtent holds the half edges of the smallest box about the ring's centre that encloses the wedge; [Bounds] gives the tight box.
func (w Wedge) HalfExtent() r3.Vec {
	var h [3]float64
	for i, g := range Identity() {
		lo, hi := w.reach(g)
		h[i] = math.Max(-lo, hi)
	}
	return vec(h)
}

// Contains: see [Solid].
func (w Wedge) Contains(p r3.Vec, tol float64) bool {
	if !w.ring().Contains(p, tol) {
		return false
	}
	if w.whole() {
		return true
	}
	// Distances from the two flat sides, positive on the wedge's side.
	s1, c1 := sincos(w.From)
	s2, c2 := sincos(w.From + w.Span())
	afterFrom := c1*p.Y-s1*p.X >= -tol
	beforeTo := s2*p.X-c2*p.Y >= -tol
	if w.Span() <= math.Pi {
		return afterFrom && beforeTo
	}
	return afterFrom || beforeTo
}

// String names shape, size and angles.
func (w Wedge) String() string {
	return fmt.Sprintf("wedge %s / %s dia x %s mm, %s to %s deg", mm(w.OuterDiameter), mm(w.InnerDiameter), mm(w.Thickness),
		number(w.From*180/math.Pi), number(w.To*180/math.Pi))
}

// Volume in cubic metres.
func (f Frustum) Volume() float64 {
	d, e := f.BottomDiameter, f.TopDiameter
	return math.Pi / 12 * positive(f.Height) * (d*d + d*e + e*e)
}

// SurfaceArea in square metres.
func (f Frustum) SurfaceArea() float64 {
	d, e := f.BottomDiameter, f.TopDiameter
	return math.Pi/4*(d*d+e*e) + math.Pi/2*(d+e)*math.Hypot(f.Height, (d-e)/2)
}

// HalfExtent holds the half edges of the enclosing box.
func (f Frustum) HalfExtent() r3.Vec {
	r := math.Max(f.BottomDiameter, f.TopDiameter) / 2
	return r3.Vec{X: r, Y: r, Z: f.Height / 2}
}

// Contains: see [Solid].
func (f Frustum) Contains(p r3.Vec, tol float64) bool {
	if f.Height <= 0 || math.Abs(p.Z) > f.Height/2+tol {
		return false
	}
	slope := (f.TopDiameter - f.BottomDiameter) / 2 / f.Height
	r := (f.TopDiameter+f.BottomDiameter)/4 + slope*p.Z
	return math.Hypot(p.X, p.Y) <= r+tol*math.Hypot(1, slope)
}

// String names shape and size.
func (f Frustum) String() string {
	return fmt.Sprintf("frustum %s to %s dia x %s mm", mm(f.BottomDiameter), mm(f.TopDiameter), mm(f.Height))
}

// cornerCentre is the centre of the arcs of the corner with positive x and y.
func (t Racetrack) cornerCentre() (x, y float64) {
	return positive(t.CoreX/2 - t.CornerRadius), positive(t.CoreY/2 - t.CornerRadius)
}

// Volume in cubic metres: the wire's path at every depth, times the width.
func (t Racetrack) Volume() float64 { return t.section() * positive(t.Width) }

// section is the area seen along the axis: four straight sides and one ring put together from the corners.
func (t Racetrack) section() float64 {
	x, y := t.cornerCentre()
	b := positive(t.Build)
	return 4*(x+y)*b + math.Pi*b*(2*t.CornerRadius+b)
}

// SurfaceArea in square metres.
func (t Racetrack) SurfaceArea() float64 {
	x, y := t.cornerCentre()
	return 2*t.section() + (8*(x+y)+2*math.Pi*(2*t.CornerRadius+t.Build))*t.Width
}

// HalfExtent holds the half edges of the enclosing box.
func (t Racetrack) HalfExtent() r3.Vec {
	return r3.Vec{X: t.CoreX/2 + t.Build, Y: t.CoreY/2 + t.Build, Z: t.Width / 2}
}

// Contains: see [Solid]. A sharp corner of the core (CornerRadius zero) is rounded by a negative tol.
func (t Racetrack) Contains(p r3.Vec, tol float64) bool {
	if math.Abs(p.Z) > t.Width/2+tol {
		return false
	}
	x, y := t.cornerCentre()
	qx, qy := math.Abs(p.X)-x, math.Abs(p.Y)-y
	depth := math.Hypot(math.Max(qx, 0), math.Max(qy, 0)) + math.Min(math.Max(qx, qy), 0) - t.CornerRadius
	return depth >= -tol && depth <= t.Build+tol
}

// Direction is the unit tangent of the wire at local (x, y), counter-clockwise about local z. Inside the core it is that of the nearest side.
func (t Racetrack) Direction(x, y float64) (dx, dy float64) {
	cx, cy := t.cornerCentre()
	qx, qy := math.Abs(x)-cx, math.Abs(y)-cy
	switch {
	case qx > 0 && qy > 0:
		r := math.Hypot(qx, qy)
		return -math.Copysign(qy/r, y), math.Copysign(qx/r, x)
	case qx > qy:
		return 0, math.Copysign(1, x)
	default:
		return -math.Copysign(1, y), 0
	}
}

// Along gives the place of a point of the winding along the wire, m, counted on the middle turn from the positive x axis towards y, and
// its height over the core, m.
func (t Racetrack) Along(x, y float64) (s, height float64) {
	cx, cy := t.cornerCentre()
	qx, qy := math.Abs(x)-cx, math.Abs(y)-cy
	quarter := t.Turn() / 4
	middle := t.CornerRadius + t.Build/2
	switch {
	case qx > 0 && qy > 0:
		s, height = cy+middle*math.Atan2(qy, qx), math.Hypot(qx, qy)-t.CornerRadius
	case qx > qy:
		s, height = math.Abs(y), qx-t.CornerRadius
	default:
		s, height = quarter-math.Abs(x), qy-t.CornerRadius
	}
	switch {
	case x < 0 && y < 0:
		s += 2 * quarter
	case x < 0:
		s = 2*quarter - s
	case y < 0:
		s = 4*quarter - s
	}
	return s, height
}

// Turn is the length of the middle turn, m.
func (t Racetrack) Turn() float64 {
	cx, cy := t.cornerCentre()
	return 4 * (cx + cy + math.Pi/2*(t.CornerRadius+t.Build/2))
}

func (t Racetrack) String() string {
	s := fmt.Sprintf("racetrack %s thick x %s wide round %s x %s mm", mm(t.Build), mm(t.Width), mm(t.CoreX), mm(t.CoreY))
	if t.CornerRadius > 0 {
		s += fmt.Sprintf(", corner radius %s mm", mm(t.CornerRadius))
	}
	return s
}

func positive(v float64) float64 { return math.Max(v, 0) }

func number(v float64) string { return fmt.Sprintf("%.6g", v) }

func mm(metres float64) string { return number(metres * 1e3) }
