package shape

import (
	"math"

	"gonum.org/v1/gonum/spatial/r2"
)

// Edge is one piece of an outline, from A to B: straight when Radius is zero, else an arc of at most 90 degrees about Center,
// counter-clockwise when CCW.
type Edge struct {
	A, B   r2.Vec
	Center r2.Vec
	Radius float64
	CCW    bool
}

// Loop is a closed outline: each edge begins, bit for bit, where the one before it ends, the first where the last ends.
type Loop []Edge

// At is the point a fraction t in [0, 1] of the way along the edge; the ends are exact.
func (e Edge) At(t float64) r2.Vec {
	switch {
	case t <= 0:
		return e.A
	case t >= 1:
		return e.B
	case e.Radius == 0:
		return r2.Add(e.A, r2.Scale(t, r2.Sub(e.B, e.A)))
	}
	s, c := math.Sincos(t * e.turn())
	d := r2.Sub(e.A, e.Center)
	return r2.Add(e.Center, r2.Vec{X: c*d.X - s*d.Y, Y: s*d.X + c*d.Y})
}

// Length in metres.
func (e Edge) Length() float64 {
	if e.Radius == 0 {
		return r2.Norm(r2.Sub(e.B, e.A))
	}
	return e.Radius * math.Abs(e.turn())
}

// Distance from a point to the nearest of the edge's points, in metres.
func (e Edge) Distance(p r2.Vec) float64 {
	ends := math.Min(r2.Norm(r2.Sub(p, e.A)), r2.Norm(r2.Sub(p, e.B)))
	if e.Radius == 0 {
		ab, ap := r2.Sub(e.B, e.A), r2.Sub(p, e.A)
		if t := r2.Dot(ap, ab); t > 0 && t < r2.Norm2(ab) {
			return math.Abs(r2.Cross(ab, ap)) / r2.Norm(ab)
		}
		return ends
	}
	from, to := r2.Sub(e.A, e.Center), r2.Sub(p, e.Center)
	angle := math.Atan2(r2.Cross(from, to), r2.Dot(from, to))
	if !e.CCW {
		angle = -angle
	}
	if angle >= 0 && angle <= math.Abs(e.turn()) {
		return math.Abs(r2.Norm(to) - e.Radius)
	}
	return ends
}

// turn is the angle an arc goes through, positive counter-clockwise.
func (e Edge) turn() float64 {
	a, b := r2.Sub(e.A, e.Center), r2.Sub(e.B, e.Center)
	angle := math.Atan2(math.Abs(r2.Cross(a, b)), r2.Dot(a, b))
	if e.CCW {
		return angle
	}
	return -angle
}

// Area is the area inside the loop in square metres, negative when it runs clockwise.
func (l Loop) Area() float64 {
	if len(l) == 0 {
		return 0
	}
	// About the first corner, so that a small outline far from the origin keeps its digits.
	o := l[0].A
	area := 0.0
	for _, e := range l {
		area += r2.Cross(r2.Sub(e.A, o), r2.Sub(e.B, o)) / 2
		if e.Radius != 0 {
			turn := e.turn()
			area += e.Radius * e.Radius / 2 * (turn - math.Sin(turn))
		}
	}
	return area
}

// Outline gives the plan of a body that is an extrusion along world axis 0, 1 or 2: the closed loops, the outer one counter-clockwise
// and holes clockwise, and the extent [lo, hi] along that axis. The plan's coordinates (u, v) are the next two axes cyclically:
// x -> (y, z), y -> (z, x), z -> (x, y). A block may be turned about the axis. ok is false when the body is not such an extrusion (a
// disc across the axis, a tilted block) and for every [Frustum].
//
// Circles are cut into quarters at the ends of their world diameters, wherever the body is turned to; the arcs of a wedge are equal parts of
// at most 90 degrees.
func Outline(s Solid, p Placement, axis int) (loops []Loop, lo, hi float64, ok bool) {
	if axis < 0 || axis > 2 {
		return nil, 0, 0, false
	}
	p.Rot = p.Rot.snapped()
	k := -1 // the local axis that lies along the world axis
	for j := range 3 {
		if math.Abs(p.Rot[axis][j]) == 1 {
			k = j
		}
	}
	if _, block := s.(Block); k < 0 || (!block && k != 2) {
		return nil, 0, 0, false
	}
	m := newPlanMap(p, axis, k)
	half := axes(s.HalfExtent())[k]
	switch s := s.(type) {
	case Block:
		h := axes(s.HalfExtent())
		loops = []Loop{polygon(rectangle(h[(k+1)%3], h[(k+2)%3]))}
	case Disc:
		m = m.unturned()
		loops = []Loop{circle(s.Diameter / 2)}
	case Ring:
		m = m.unturned()
		loops = []Loop{circle(s.OuterDiameter / 2)}
		if s.InnerDiameter > speck {
			loops = append(loops, circle(s.InnerDiameter/2).reversed())
		}
	case Wedge:
		if s.whole() {
			return Outline(s.ring(), p, axis)
		}
		loops = []Loop{s.outline()}
	case Racetrack:
		x, y := s.cornerCentre()
		loops = []Loop{rounded(x, y, s.CornerRadius+s.Build), rounded(x, y, s.CornerRadius).reversed()}
	default:
		return nil, 0, 0, false
	}
	for i := range loops {
		loops[i] = m.apply(loops[i])
	}
	c := axes(p.Center)[axis]
	return loops, c - half, c + half, true
}

// planMap carries a body's own plan coordinates into the world's.
type planMap struct {
	centre   r2.Vec
	m        [2][2]float64
	mirrored bool
}

func newPlanMap(p Placement, axis, k int) planMap {
	u, v := (axis+1)%3, (axis+2)%3
	i, j := (k+1)%3, (k+2)%3
	c := axes(p.Center)
	return planMap{
		centre:   r2.Vec{X: c[u], Y: c[v]},
		m:        [2][2]float64{{p.Rot[u][i], p.Rot[u][j]}, {p.Rot[v][i], p.Rot[v][j]}},
		mirrored: p.Rot[axis][k] < 0,
	}
}

// unturned is the map of a round body, which looks the same whichever way it is turned.
func (m planMap) unturned() planMap {
	return planMap{centre: m.centre, m: [2][2]float64{{1, 0}, {0, 1}}}
}

func (m planMap) point(q r2.Vec) r2.Vec {
	return r2.Vec{
		X: m.centre.X + (m.m[0][0]*q.X + m.m[0][1]*q.Y) + 0,
		Y: m.centre.Y + (m.m[1][0]*q.X + m.m[1][1]*q.Y) + 0,
	}
}

func (m planMap) apply(l Loop) Loop {
	out := make(Loop, len(l))
	for i, e := range l {
		out[i] = Edge{A: m.point(e.A), B: m.point(e.B)}
		if e.Radius != 0 {
			out[i].Center, out[i].Radius, out[i].CCW = m.point(e.Center), e.Radius, e.CCW != m.mirrored
		}
	}
	if m.mirrored {
		return out.reversed()
	}
	return out
}

// reversed is the same loop run the other way.
func (l Loop) reversed() Loop {
	out := make(Loop, len(l))
	for i, e := range l {
		out[len(l)-1-i] = Edge{A: e.B, B: e.A, Center: e.Center, Radius: e.Radius, CCW: e.Radius != 0 && !e.CCW}
	}
	return out
}

// rectangle lists the corners of a rectangle of half edges x and y, counter-clockwise.
func rectangle(x, y float64) []r2.Vec {
	return []r2.Vec{{X: -x, Y: -y}, {X: x, Y: -y}, {X: x, Y: y}, {X: -x, Y: y}}
}

// speck is a length (metres) below which a rounding, a side or a bore is left out of an outline: 1 pm is rounding noise.
const speck = 1e-12

func unspecked(length float64) float64 {
	if length <= speck {
		return 0
	}
	return length
}

func polygon(corners []r2.Vec) Loop {
	var l Loop
	for i, a := range corners {
		l = append(l, Edge{A: a, B: corners[(i+1)%len(corners)]})
	}
	return l
}

// circle is a full circle about the origin in four quarters, counter-clockwise.
func circle(r float64) Loop { return rounded(0, 0, r) }

// rounded is the outline at distance r from the rectangle of half edges x and y: sides and quarter arcs, counter-clockwise. Sides and
// arcs without length are left out.
func rounded(x, y, r float64) Loop {
	x, y = unspecked(x), unspecked(y)
	if r <= speck {
		return polygon(rectangle(x, y))
	}
	var l Loop
	outward := r2.Vec{Y: -1} // of the side that comes before the corner
	for i, c := range rectangle(x, y) {
		// The corners begin with the lower left one, whose arc runs from the left side to the lower one.
		if i == 0 {
			outward = r2.Vec{X: -1}
		}
		next := r2.Vec{X: -outward.Y, Y: outward.X}
		a, b := r2.Add(c, r2.Scale(r, outward)), r2.Add(c, r2.Scale(r, next))
		l = append(l, Edge{A: a, B: b, Center: c, Radius: r, CCW: true})
		following := rectangle(x, y)[(i+1)%4]
		if following != c {
			l = append(l, Edge{A: b, B: r2.Add(following, r2.Scale(r, next))})
		}
		outward = next
	}
	return l
}

// outline of a wedge that is not the whole ring, counter-clockwise.
func (w Wedge) outline() Loop {
	outer := w.arc(w.OuterDiameter / 2)
	first, last := outer[0].A, outer[len(outer)-1].B
	if w.InnerDiameter <= speck {
		return append(outer, Edge{A: last}, Edge{B: first})
	}
	inner := w.arc(w.InnerDiameter / 2).reversed()
	l := append(outer, Edge{A: last, B: inner[0].A})
	l = append(l, inner...)
	return append(l, Edge{A: inner[len(inner)-1].B, B: first})
}

// arc runs from From to To at radius r in equal parts of at most 90 degrees.
func (w Wedge) arc(r float64) Loop {
	span := w.Span()
	n := max(1, int(math.Ceil(span/(math.Pi/2)-snapTolerance)))
	at := func(i int) r2.Vec {
		angle := w.From + span*float64(i)/float64(n)
		if i == n { // To itself, so that neighbours with a common angle have common corners
			angle = w.To
		}
		s, c := sincos(angle)
		return r2.Vec{X: r * c, Y: r * s}
	}
	var l Loop
	a := at(0)
	for i := range n {
		b := at(i + 1)
		l = append(l, Edge{A: a, B: b, Radius: r, CCW: true})
		a = b
	}
	return l
}
