package draw

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"

	"polewright/shape"
)

// body is a solid in its place with what a drawing needs of it.
type body struct {
	solid  shape.Solid
	place  shape.Placement
	box    r3.Box
	loops  []shape.Loop   // of an extrusion, in its own x, y
	lo, hi float64        // its extent along its own z
	cone   *shape.Frustum // in place of loops
}

// newBody is not ok for a body without volume.
func newBody(s shape.Solid, p shape.Placement) (b body, ok bool) {
	if vol := s.Volume(); !(vol > 0) || math.IsInf(vol, 0) {
		return b, false
	}
	b = body{solid: s, place: p}
	switch s := s.(type) {
	case shape.Frustum:
		b.cone, b.lo, b.hi = &s, -s.Height/2, s.Height/2
	case Window:
		b.loops, b.lo, b.hi = s.outline(), -s.Height/2, s.Height/2
	default:
		if b.loops, b.lo, b.hi, ok = shape.Outline(s, shape.Placement{Rot: shape.Identity()}, 2); !ok {
			return b, false
		}
	}
	b.box = Part{Solid: s, Place: p}.Bounds()
	return b, true
}

// curve is a straight edge from a to b or an arc about c: c + r (cos t e1 + sin t e2), t from t0 to t1.
type curve struct {
	a, b      r3.Vec
	arc       bool
	c, e1, e2 r3.Vec
	r, t0, t1 float64
}

// at is the point a fraction t of the way.
func (c curve) at(t float64) r3.Vec {
	if !c.arc {
		return r3.Add(c.a, r3.Scale(t, r3.Sub(c.b, c.a)))
	}
	return c.angle(c.t0 + t*(c.t1-c.t0))
}

func (c curve) angle(t float64) r3.Vec {
	sin, cos := math.Sincos(t)
	return r3.Add(c.c, r3.Add(r3.Scale(c.r*cos, c.e1), r3.Scale(c.r*sin, c.e2)))
}

// view is how a viewer looks at the world: right and up on the page, toward from the page to the viewer's eye. Unit vectors, right-handed.
type view struct{ right, up, toward r3.Vec }

func (w view) flat(p r3.Vec) r2.Vec { return v(r3.Dot(p, w.right), r3.Dot(p, w.up)) }

// edges lists the edges of a body that a viewer draws: where faces meet at an angle, and where a round face turns away.
func (b body) edges(w view) (out []curve) {
	eye := b.place.Rot.Inverse(w.toward)
	if b.cone != nil {
		return b.coneEdges(eye)
	}
	world := func(p r2.Vec, z float64) r3.Vec { return b.place.ToWorld(r3.Vec{X: p.X, Y: p.Y, Z: z}) }
	for _, loop := range b.loops {
		for i, e := range loop {
			for _, z := range []float64{b.lo, b.hi} {
				if e.Radius == 0 {
					out = append(out, curve{a: world(e.A, z), b: world(e.B, z)})
				} else {
					out = append(out, b.arcOf(e, z))
				}
			}
			if sharp(loop[(i+len(loop)-1)%len(loop)], e) {
				out = append(out, curve{a: world(e.A, b.lo), b: world(e.A, b.hi)})
			}
			if e.Radius == 0 {
				continue
			}
			// The round face turns away where its normal is square to the eye.
			from, sweep := span(e)
			for _, t := range squareTo(eye) {
				if past := turnFrom(from, t); past > 1e-9 && past < sweep-1e-9 || past <= 1e-9 && !sharp(loop[(i+len(loop)-1)%len(loop)], e) {
					p := polar(e.Center, e.Radius, t)
					out = append(out, curve{a: world(p, b.lo), b: world(p, b.hi)})
				}
			}
		}
	}
	return out
}

// arcOf is an arc of a loop at a height.
func (b body) arcOf(e shape.Edge, z float64) curve {
	from, sweep := span(e)
	return curve{arc: true, c: b.place.ToWorld(r3.Vec{X: e.Center.X, Y: e.Center.Y, Z: z}), e1: b.place.Rot.Apply(r3.Vec{X: 1}), e2: b.place.Rot.Apply(r3.Vec{Y: 1}),
		r: e.Radius, t0: from, t1: from + sweep}
}

// span is where an arc begins counter-clockwise, and through what angle it goes.
func span(e shape.Edge) (from, sweep float64) {
	a, b := r2.Sub(e.A, e.Center), r2.Sub(e.B, e.Center)
	if !e.CCW {
		a, b = b, a
	}
	return math.Atan2(a.Y, a.X), math.Atan2(math.Abs(r2.Cross(a, b)), r2.Dot(a, b))
}

// turnFrom is the angle from one direction on to another, in [0, 2 pi).
func turnFrom(from, to float64) float64 {
	t := math.Mod(to-from, 2*math.Pi)
	if t < 0 {
		t += 2 * math.Pi
	}
	if t > 2*math.Pi-1e-9 {
		t = 0
	}
	return t
}

// squareTo lists the directions in the x-y plane that are square to a vector; none when the vector is along z.
func squareTo(eye r3.Vec) []float64 {
	if math.Hypot(eye.X, eye.Y) < 1e-9 {
		return nil
	}
	t := math.Atan2(eye.Y, eye.X)
	return []float64{t + math.Pi/2, t - math.Pi/2}
}

// sharp tells whether two edges that follow each other meet at an angle.
func sharp(a, b shape.Edge) bool {
	return math.Abs(r2.Cross(heading(a, a.B), heading(b, b.A))) > 1e-6 || r2.Dot(heading(a, a.B), heading(b, b.A)) < 0
}

// heading is the unit tangent of an edge at one of its ends.
func heading(e shape.Edge, at r2.Vec) r2.Vec {
	if e.Radius == 0 {
		return r2.Unit(r2.Sub(e.B, e.A))
	}
	d := r2.Unit(r2.Sub(at, e.Center))
	if e.CCW {
		return v(-d.Y, d.X)
	}
	return v(d.Y, -d.X)
}

// coneEdges are the rims of a frustum and the two lines where its side turns away: its normal (cos t, sin t, k), with k the taper, is square
// to the eye there.
func (b body) coneEdges(eye r3.Vec) (out []curve) {
	f := b.cone
	e1, e2 := b.place.Rot.Apply(r3.Vec{X: 1}), b.place.Rot.Apply(r3.Vec{Y: 1})
	for _, end := range []struct{ d, z float64 }{{f.BottomDiameter, b.lo}, {f.TopDiameter, b.hi}} {
		if end.d < 1e-9 {
			continue
		}
		for q := range 4 {
			from := float64(q) * math.Pi / 2
			out = append(out, curve{arc: true, c: b.place.ToWorld(r3.Vec{Z: end.z}), e1: e1, e2: e2, r: end.d / 2, t0: from, t1: from + math.Pi/2})
		}
	}
	k := (f.BottomDiameter - f.TopDiameter) / 2 / f.Height
	across := math.Hypot(eye.X, eye.Y)
	if across < 1e-9 || math.Abs(k*eye.Z) >= across {
		return out
	}
	turn := math.Acos(-k * eye.Z / across)
	for _, t := range []float64{math.Atan2(eye.Y, eye.X) + turn, math.Atan2(eye.Y, eye.X) - turn} {
		sin, cos := math.Sincos(t)
		r, s := f.BottomDiameter/2, f.TopDiameter/2
		out = append(out, curve{a: b.place.ToWorld(r3.Vec{X: r * cos, Y: r * sin, Z: b.lo}), b: b.place.ToWorld(r3.Vec{X: s * cos, Y: s * sin, Z: b.hi})})
	}
	return out
}

// skin is the depth below which a body does not hide what lies on its surface, m.
const skin = 1e-6

// hides tells whether the body lies between a point and an eye in a direction, at most so far away.
func (b body) hides(p, toward r3.Vec, away float64) bool {
	_, ok := b.last(p, toward, 0, math.Min(away, b.across(p)))
	return ok
}

// nearest is the coordinate along toward at which the line through a point leaves the body last, before a depth.
func (b body) nearest(p, toward r3.Vec, depth float64) (float64, bool) {
	at, reach := r3.Dot(p, toward), b.across(p)
	t, ok := b.last(p, toward, -reach, math.Min(reach, depth-at))
	return at + t, ok
}

// across is a distance from a point beyond which the body ends.
func (b body) across(p r3.Vec) float64 {
	return r3.Norm(r3.Sub(b.box.Max, b.box.Min)) + r3.Norm(r3.Sub(p, r3.Scale(0.5, r3.Add(b.box.Min, b.box.Max))))
}

// last is the end of the last stretch of the line p + t toward, t from one value to another, that runs inside the body.
func (b body) last(p, toward r3.Vec, from, to float64) (t float64, ok bool) {
	if !(to > from) {
		return 0, false
	}
	q, e := b.place.ToLocal(p), b.place.Rot.Inverse(toward)
	cuts := []float64{from, to}
	cut := func(t float64) {
		if t > from && t < to {
			cuts = append(cuts, t)
		}
	}
	if math.Abs(e.Z) > 1e-12 {
		cut((b.lo - q.Z) / e.Z)
		cut((b.hi - q.Z) / e.Z)
	}
	q2, e2 := v(q.X, q.Y), v(e.X, e.Y)
	if b.cone != nil {
		// The line is on the cone where |q + t e| across is r - k t ez, squared.
		k := (b.cone.BottomDiameter - b.cone.TopDiameter) / 2 / b.cone.Height
		r := (b.cone.BottomDiameter+b.cone.TopDiameter)/4 - k*q.Z
		quadratic(r2.Dot(e2, e2)-k*k*e.Z*e.Z, 2*(r2.Dot(q2, e2)+r*k*e.Z), r2.Dot(q2, q2)-r*r, cut)
	}
	for _, loop := range b.loops {
		for _, edge := range loop {
			if edge.Radius > 0 {
				d := r2.Sub(q2, edge.Center)
				quadratic(r2.Dot(e2, e2), 2*r2.Dot(d, e2), r2.Dot(d, d)-edge.Radius*edge.Radius, cut)
			} else if n := r2.Cross(e2, r2.Sub(edge.B, edge.A)); math.Abs(n) > 1e-15 {
				cut(r2.Cross(r2.Sub(edge.A, q2), r2.Sub(edge.B, edge.A)) / n)
			}
		}
	}
	slices.Sort(cuts)
	for i := len(cuts) - 1; i > 0; i-- {
		if m := (cuts[i-1] + cuts[i]) / 2; b.solid.Contains(r3.Add(q, r3.Scale(m, e)), -skin) {
			return cuts[i], true
		}
	}
	return 0, false
}

// quadratic hands the real roots of a t^2 + b t + c to f.
func quadratic(a, b, c float64, f func(float64)) {
	if math.Abs(a) < 1e-15 {
		if math.Abs(b) > 1e-15 {
			f(-c / b)
		}
		return
	}
	d := b*b - 4*a*c
	if d < 0 {
		return
	}
	root := math.Sqrt(d)
	f((-b - root) / (2 * a))
	f((-b + root) / (2 * a))
}
