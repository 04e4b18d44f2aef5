package design

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"

	"polewright/shape"
)

// This file decides whether two bodies share space, and whether they touch. Two blocks are decided exactly, by separating axes. Two bodies that are
// extrusions along one direction (in whichever frame) are decided exactly by their outlines. Any other pair is sampled: a hidden overlap that is
// small beside the bodies may then be missed.

// overlap reports whether two bodies interpenetrate by more than TouchM.
func overlap(a, b Body) bool {
	shared, _ := overlapCost(a, b)
	return shared
}

// overlapCost is overlap with what it took, about one for an exact decision.
func overlapCost(a, b Body) (shared bool, cost int) {
	if p, ok := a.Solid.(shape.Block); ok {
		if q, ok := b.Solid.(shape.Block); ok {
			return blocksOverlap(p, a.Place, q, b.Place), 1
		}
	}
	if shared, known := prismsOverlap(a, b); known {
		return shared, 1
	}
	boxed := func(s shape.Solid) shape.Block { return shape.Block{Size: r3.Scale(2, s.HalfExtent())} }
	if !blocksOverlap(boxed(a.Solid), a.Place, boxed(b.Solid), b.Place) {
		return false, 1
	}
	return sampledOverlap(a, b), 40
}

// blocksOverlap is the test of separating axes: two boxes are apart just when they are apart along a face normal of one of them or along a cross
// product of two edges (S. Gottschalk, M. C. Lin, D. Manocha, OBBTree, SIGGRAPH 1996, section 5).
func blocksOverlap(a shape.Block, pa shape.Placement, b shape.Block, pb shape.Placement) bool {
	ha, hb := r3.Scale(0.5, a.Size), r3.Scale(0.5, b.Size)
	between := r3.Sub(pb.Center, pa.Center)
	var ea, eb [3]r3.Vec
	for i, e := range unitVectors {
		ea[i], eb[i] = pa.Rot.Apply(e), pb.Rot.Apply(e)
	}
	reach := func(axis r3.Vec, e [3]r3.Vec, h r3.Vec) float64 {
		return math.Abs(r3.Dot(axis, e[0]))*h.X + math.Abs(r3.Dot(axis, e[1]))*h.Y + math.Abs(r3.Dot(axis, e[2]))*h.Z
	}
	apart := func(axis r3.Vec) bool {
		n := r3.Norm(axis)
		if n < 1e-9 { // parallel edges: the face normals decide
			return false
		}
		axis = r3.Scale(1/n, axis)
		return math.Abs(r3.Dot(axis, between)) >= reach(axis, ea, ha)+reach(axis, eb, hb)-TouchM
	}
	for i := range 3 {
		if apart(ea[i]) || apart(eb[i]) {
			return false
		}
	}
	for i := range 3 {
		for j := range 3 {
			if apart(r3.Cross(ea[i], eb[j])) {
				return false
			}
		}
	}
	return true
}

var unitVectors = [3]r3.Vec{{X: 1}, {Y: 1}, {Z: 1}}

// prism is a body seen along one axis of a common frame.
type prism struct {
	solid  shape.Solid
	place  shape.Placement
	loops  []shape.Loop
	lo, hi float64
	axis   int
}

// holds reports whether the prism contains the plan point p, wherever its middle height is.
func (p *prism) holds(q r2.Vec, tol float64) bool {
	var x [3]float64
	x[p.axis], x[(p.axis+1)%3], x[(p.axis+2)%3] = (p.lo+p.hi)/2, q.X, q.Y
	return p.solid.Contains(p.place.ToLocal(r3.Vec{X: x[0], Y: x[1], Z: x[2]}), tol)
}

// alike gives two bodies as prisms along a common axis, in the frame of the first, where its own axes are those of the coordinates. One way of
// standing is enough for overlap; visit returns true to stop.
func alike(a, b Body, visit func(p, q *prism) bool) (known bool) {
	here := shape.Placement{Rot: shape.Identity()}
	there := shape.Placement{Center: a.Place.ToLocal(b.Place.Center), Rot: transposed(a.Place.Rot).Mul(b.Place.Rot)}
	for axis := range 3 {
		p := prism{solid: a.Solid, place: here, axis: axis}
		q := prism{solid: b.Solid, place: there, axis: axis}
		var ok bool
		if p.loops, p.lo, p.hi, ok = shape.Outline(p.solid, p.place, axis); !ok {
			continue
		}
		if q.loops, q.lo, q.hi, ok = shape.Outline(q.solid, q.place, axis); !ok {
			continue
		}
		known = true
		if visit(&p, &q) {
			break
		}
	}
	return known
}

func transposed(r shape.Rotation) shape.Rotation {
	var t shape.Rotation
	for i := range 3 {
		for j := range 3 {
			t[i][j] = r[j][i]
		}
	}
	return t
}

func prismsOverlap(a, b Body) (shared, known bool) {
	known = alike(a, b, func(p, q *prism) bool {
		shared = math.Min(p.hi, q.hi)-math.Max(p.lo, q.lo) > TouchM && plansOverlap(p, q)
		return true
	})
	return shared, known
}

// plansOverlap reports whether two plans share an area. The rim of the shared area is made of pieces of both rims; so some piece of one rim, cut
// where the other rim meets it, has the inside of both plans on its inner side, and its midpoint, moved in, tells. It is moved in by half of TouchM
// and must lie nearly as deep in the other plan, so that equal plans count whatever rounding does: then a strip along the rim and one across it both
// count from a width of TouchM on.
func plansOverlap(p, q *prism) bool {
	return rimInside(p, q) || rimInside(q, p)
}

func rimInside(p, q *prism) bool {
	return pieces(p, q, func(mid, inward r2.Vec, _ float64) bool {
		x := r2.Add(mid, r2.Scale(TouchM/2, inward))
		return q.holds(x, -0.45*TouchM) && p.holds(x, 0)
	})
}

// pieces cuts the rim of p at every meeting with the rim of q and hands on the midpoint of each piece, the unit normal there into p, and the piece's
// length, until visit returns true.
func pieces(p, q *prism, visit func(mid, inward r2.Vec, length float64) bool) bool {
	var cuts []float64
	for _, loop := range p.loops {
		for _, e := range loop {
			cuts = append(cuts[:0], 0, 1)
			for _, other := range q.loops {
				for _, f := range other {
					cuts = crossings(cuts, e, f)
				}
			}
			slices.Sort(cuts)
			for i := 1; i < len(cuts); i++ {
				from, to := cuts[i-1], cuts[i]
				if from < 0 || to > 1 || to-from < 1e-9 {
					continue
				}
				mid := e.At((from + to) / 2)
				if visit(mid, inward(e, mid), (to-from)*e.Length()) {
					return true
				}
			}
		}
	}
	return false
}

// inward is the unit normal of the edge at p to its left, where the body is: outer loops run counter-clockwise and holes clockwise.
func inward(e shape.Edge, p r2.Vec) r2.Vec {
	if e.Radius == 0 {
		d := r2.Unit(r2.Sub(e.B, e.A))
		return r2.Vec{X: -d.Y, Y: d.X}
	}
	n := r2.Unit(r2.Sub(e.Center, p))
	if !e.CCW {
		n = r2.Scale(-1, n)
	}
	return n
}

// crossings appends the fractions of e at which the whole line or circle of f crosses e, and those next to which the ends of f lie. A cut too many
// does no harm.
func crossings(cuts []float64, e, f shape.Edge) []float64 {
	add := func(t float64) {
		if t > 0 && t < 1 { // and so no NaN
			cuts = append(cuts, t)
		}
	}
	if e.Radius == 0 {
		d := r2.Sub(e.B, e.A)
		dd := r2.Dot(d, d)
		add(r2.Dot(r2.Sub(f.A, e.A), d) / dd)
		if f.Radius == 0 {
			g := r2.Sub(f.B, f.A)
			add(r2.Cross(r2.Sub(f.A, e.A), g) / r2.Cross(d, g))
			return cuts
		}
		t := r2.Dot(r2.Sub(f.Center, e.A), d) / dd
		away := r2.Norm(r2.Sub(r2.Add(e.A, r2.Scale(t, d)), f.Center))
		half := math.Sqrt((f.Radius*f.Radius - away*away) / dd)
		add(t - half)
		add(t + half)
		return cuts
	}
	from := r2.Sub(e.A, e.Center)
	whole := turn(from, r2.Sub(e.B, e.Center))
	at := func(v r2.Vec) { add(turn(from, v) / whole) } // v from the centre of e
	at(r2.Sub(f.A, e.Center))
	if f.Radius == 0 {
		g := r2.Unit(r2.Sub(f.B, f.A))
		foot := r2.Sub(f.A, e.Center)
		foot = r2.Sub(foot, r2.Scale(r2.Dot(foot, g), g))
		half := math.Sqrt(e.Radius*e.Radius - r2.Dot(foot, foot))
		at(r2.Add(foot, r2.Scale(half, g)))
		at(r2.Sub(foot, r2.Scale(half, g)))
		return cuts
	}
	// Two circles meet where the line of their centres has gone along by x.
	c := r2.Sub(f.Center, e.Center)
	d := r2.Norm(c)
	x := (d*d + e.Radius*e.Radius - f.Radius*f.Radius) / (2 * d)
	half := math.Sqrt(e.Radius*e.Radius - x*x)
	u := r2.Scale(1/d, c)
	v := r2.Vec{X: -u.Y, Y: u.X}
	at(r2.Add(r2.Scale(x, u), r2.Scale(half, v)))
	at(r2.Sub(r2.Scale(x, u), r2.Scale(half, v)))
	return cuts
}

// turn is the angle from a to b, counter-clockwise positive, within half a turn.
func turn(a, b r2.Vec) float64 { return math.Atan2(r2.Cross(a, b), r2.Dot(a, b)) }

// sampledOverlap tries points of both surfaces, moved in by TouchM, and a grid over the space that the two bounding boxes share.
func sampledOverlap(a, b Body) bool {
	shared := intersection(shape.Bounds(a.Solid, a.Place), shape.Bounds(b.Solid, b.Place))
	size := shared.Size()
	if math.Min(size.X, math.Min(size.Y, size.Z)) <= TouchM {
		return false
	}
	const n = 20
	for i := range n {
		for j := range n {
			for k := range n {
				p := r3.Add(shared.Min, r3.Vec{
					X: size.X * (float64(i) + 0.5) / n, Y: size.Y * (float64(j) + 0.5) / n, Z: size.Z * (float64(k) + 0.5) / n,
				})
				if a.Solid.Contains(a.Place.ToLocal(p), -TouchM) && b.Solid.Contains(b.Place.ToLocal(p), -TouchM) {
					return true
				}
			}
		}
	}
	inside := func(a, b Body) bool {
		return surface(a.Solid, TouchM, func(p r3.Vec) bool {
			return b.Solid.Contains(b.Place.ToLocal(a.Place.ToWorld(p)), -TouchM)
		})
	}
	return inside(a, b) || inside(b, a)
}

func intersection(a, b r3.Box) r3.Box {
	return r3.Box{
		Min: r3.Vec{X: math.Max(a.Min.X, b.Min.X), Y: math.Max(a.Min.Y, b.Min.Y), Z: math.Max(a.Min.Z, b.Min.Z)},
		Max: r3.Vec{X: math.Min(a.Max.X, b.Max.X), Y: math.Min(a.Max.Y, b.Max.Y), Z: math.Min(a.Max.Z, b.Max.Z)},
	}
}

// surface hands on local points of the solid's surface moved in by in (metres), corners and edges among them, until visit returns true.
func surface(s shape.Solid, in float64, visit func(p r3.Vec) bool) bool {
	h := s.HalfExtent()
	switch s := s.(type) {
	case shape.Block:
		const n = 16
		x, y, z := spread(-h.X+in, h.X-in, n), spread(-h.Y+in, h.Y-in, n), spread(-h.Z+in, h.Z-in, n)
		for i, x := range x {
			for j, y := range y {
				for k, z := range z {
					if (i == 0 || i == n || j == 0 || j == n || k == 0 || k == n) && visit(r3.Vec{X: x, Y: y, Z: z}) {
						return true
					}
				}
			}
		}
	case shape.Disc:
		return turned(0, s.Diameter/2, s.Diameter/2, h.Z, 0, 2*math.Pi, in, visit)
	case shape.Ring:
		return turned(s.InnerDiameter/2, s.OuterDiameter/2, s.OuterDiameter/2, h.Z, 0, 2*math.Pi, in, visit)
	case shape.Frustum:
		return turned(0, s.BottomDiameter/2, s.TopDiameter/2, h.Z, 0, 2*math.Pi, in, visit)
	case shape.Wedge:
		return turned(s.InnerDiameter/2, s.OuterDiameter/2, s.OuterDiameter/2, s.Thickness/2, s.From, s.From+s.Span(), in, visit)
	case shape.Racetrack:
		loops, lo, hi, _ := shape.Outline(s, shape.Placement{Rot: shape.Identity()}, 2)
		for _, depth := range spread(in, s.Build-in, 4) { // from the outer side
			for _, e := range loops[0] {
				for _, t := range spread(0, 1, 12) {
					p := e.At(t)
					p = r2.Add(p, r2.Scale(depth, inward(e, p)))
					for _, z := range spread(lo+in, hi-in, 12) {
						if visit(r3.Vec{X: p.X, Y: p.Y, Z: z}) {
							return true
						}
					}
				}
			}
		}
	}
	return false
}

// turned is the surface of a body turned about z between two angles, its wall from the inner radius to one that goes from bottom to top.
func turned(inner, bottom, top, half, from, to, in float64, visit func(p r3.Vec) bool) bool {
	const n, around = 16, 64
	whole := to-from >= 2*math.Pi
	slope := in * math.Hypot(1, (top-bottom)/2/half) // along the radius, for in across the wall
	for k, angle := range spread(from, to, around) {
		sin, cos := math.Sincos(angle)
		side := !whole && (k == 0 || k == around)
		for j, z := range spread(-half+in, half-in, n) {
			outer := bottom + (top-bottom)*(z+half)/(2*half) - slope
			least := inner + in
			if inner == 0 {
				least = 0
			}
			for i, r := range spread(least, outer, n) {
				if !side && i != 0 && i != n && j != 0 && j != n {
					continue
				}
				p := r3.Vec{X: r * cos, Y: r * sin, Z: z}
				if side { // moved in from the flat side
					off := in
					if k == around {
						off = -in
					}
					p.X, p.Y = p.X-off*sin, p.Y+off*cos
				}
				if visit(p) {
					return true
				}
			}
		}
	}
	return false
}

// spread is n+1 values from lo to hi.
func spread(lo, hi float64, n int) []float64 {
	x := make([]float64, n+1)
	for i := range x {
		x[i] = lo + (hi-lo)*float64(i)/float64(n)
	}
	return x
}

// touch reports whether two bodies that do not overlap have faces that meet over some area, within TouchM.
func touch(a, b Body) bool {
	meets := false
	known := alike(a, b, func(p, q *prism) bool {
		gap := math.Max(p.lo, q.lo) - math.Min(p.hi, q.hi)
		switch {
		case math.Abs(gap) <= TouchM: // end to end
			meets = plansOverlap(p, q)
		case gap < 0: // side by side
			meets = rimsMeet(p, q)
		}
		return meets
	})
	if known {
		return meets
	}
	on := func(a, b Body) bool {
		return surface(a.Solid, 0, func(p r3.Vec) bool {
			return b.Solid.Contains(b.Place.ToLocal(a.Place.ToWorld(p)), TouchM)
		})
	}
	return on(a, b) || on(b, a)
}

// rimsMeet reports whether a piece of the rim of p longer than TouchM lies on the rim of q.
func rimsMeet(p, q *prism) bool {
	return pieces(p, q, func(mid, _ r2.Vec, length float64) bool {
		return length > TouchM && q.holds(mid, TouchM) && !q.holds(mid, -2*TouchM)
	})
}
