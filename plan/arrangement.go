package plan

import (
	"cmp"
	"errors"
	"fmt"
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r2"
	"polewright/shape"
)

// piece is a part of a curve between two neighbouring vertices of the arrangement.
type piece struct {
	a, b int32
	curve
}

// arrangement cuts curves at all their meeting points, so that two pieces share nothing but end vertices.
// The first four vertices are the rectangle's corners, counter-clockwise from min.
type arrangement struct {
	min, max r2.Vec
	tol      float64 // points nearer than this are one point
	vertices []r2.Vec
	pieces   []piece
	cells    map[[2]int64][]int32
}

// relativeTolerance times the rectangle's longer side is the distance below which two points are one: 10 nm in 1 m.
const relativeTolerance = 1e-8

// arrange cuts the curves at their intersections and at the rectangle's sides and drops what lies outside.
func arrange(min, max r2.Vec, curves []shape.Edge) (*arrangement, error) {
	for _, x := range []float64{min.X, min.Y, max.X, max.Y} {
		if math.IsNaN(x) || abs(x) > 1e6 {
			return nil, fmt.Errorf("plan: rectangle from %v to %v: corners must be within 1000 km of the origin", min, max)
		}
	}
	w, h := max.X-min.X, max.Y-min.Y
	if !(w > 0 && h > 0) || math.Max(w, h) > 1e4*math.Min(w, h) || math.Max(w, h) < 1e-9 {
		return nil, fmt.Errorf("plan: rectangle from %v to %v: max must lie above min in both directions, with sides no more than 1:10000", min, max)
	}
	if far := math.Max(math.Max(abs(min.X), abs(max.X)), math.Max(abs(min.Y), abs(max.Y))); far > 1e4*math.Max(w, h) {
		return nil, fmt.Errorf("plan: rectangle from %v to %v is too far from the origin for its size; move the origin nearer", min, max)
	}
	ar := &arrangement{min: min, max: max, tol: relativeTolerance * math.Max(w, h), cells: make(map[[2]int64][]int32)}
	corners := [4]r2.Vec{min, {X: max.X, Y: min.Y}, max, {X: min.X, Y: max.Y}}
	for i, c := range corners {
		ar.add(c)
		ar.pieces = append(ar.pieces, piece{a: int32(i), b: int32((i + 1) % 4)})
	}
	for i, e := range curves {
		if err := ar.addEdge(e); err != nil {
			return nil, fmt.Errorf("plan: curve %d: %w", i+1, err)
		}
	}
	for round := 0; ; round++ {
		ar.dropDuplicates()
		if !ar.cut() {
			break
		}
		if round == 30 || len(ar.pieces) > 100_000 {
			return nil, errors.New("plan: the curves cross each other too often or too nearly; move edges that should coincide onto each other")
		}
	}
	ar.clip()
	return ar, nil
}

// add returns the vertex at p, a new one unless one is within the tolerance. Points near a side are put on it.
func (ar *arrangement) add(p r2.Vec) int32 {
	snap := func(x, lo, hi float64) float64 {
		switch {
		case abs(x-lo) <= ar.tol:
			return lo
		case abs(x-hi) <= ar.tol:
			return hi
		}
		return x
	}
	p = r2.Vec{X: snap(p.X, ar.min.X, ar.max.X), Y: snap(p.Y, ar.min.Y, ar.max.Y)}
	cx, cy := int64(math.Floor((p.X-ar.min.X)/ar.tol)), int64(math.Floor((p.Y-ar.min.Y)/ar.tol))
	best, bestDistance := int32(-1), ar.tol
	for dx := int64(-1); dx <= 1; dx++ {
		for dy := int64(-1); dy <= 1; dy++ {
			for _, v := range ar.cells[[2]int64{cx + dx, cy + dy}] {
				if d := r2.Norm(r2.Sub(ar.vertices[v], p)); d <= bestDistance {
					best, bestDistance = v, d
				}
			}
		}
	}
	if best >= 0 {
		return best
	}
	v := int32(len(ar.vertices))
	ar.vertices = append(ar.vertices, p)
	key := [2]int64{cx, cy}
	ar.cells[key] = append(ar.cells[key], v)
	return v
}

// addEdge checks one given curve and adds it as one or more pieces, unless it is wholly outside or shorter than the tolerance.
func (ar *arrangement) addEdge(e shape.Edge) error {
	for _, x := range []float64{e.A.X, e.A.Y, e.B.X, e.B.Y, e.Center.X, e.Center.Y, e.Radius} {
		if math.IsNaN(x) || abs(x) > 1e9 {
			return fmt.Errorf("coordinates must be finite, got %+v", e)
		}
	}
	if e.Radius < 0 {
		return fmt.Errorf("radius %g m must not be negative", e.Radius)
	}
	c := curve{}
	parts := 1
	sweep := 0.0
	if e.Radius > 0 {
		ra, rb := r2.Norm(r2.Sub(e.A, e.Center)), r2.Norm(r2.Sub(e.B, e.Center))
		if slack := 1e-6*e.Radius + ar.tol; abs(ra-e.Radius) > slack || abs(rb-e.Radius) > slack {
			return fmt.Errorf("arc ends are %g m and %g m from its centre but its radius is %g m", ra, rb, e.Radius)
		}
		c = curve{center: e.Center, radius: e.Radius}
		sweep = c.angle(e.A, e.B)
		if e.CCW && sweep < 0 {
			sweep += 2 * math.Pi
		}
		if !e.CCW && sweep > 0 {
			sweep -= 2 * math.Pi
		}
		if r2.Norm(r2.Sub(e.A, e.B)) <= ar.tol {
			return nil
		}
		// a hair over a right angle is rounding, not a reason for another vertex
		parts = int(math.Ceil(abs(sweep)/(math.Pi/2) - 1e-6))
	}
	at := func(i int) r2.Vec {
		switch i {
		case 0:
			return e.A
		case parts:
			return e.B
		}
		s, co := math.Sincos(sweep * float64(i) / float64(parts))
		u := r2.Sub(e.A, e.Center)
		return r2.Vec{X: e.Center.X + co*u.X - s*u.Y, Y: e.Center.Y + s*u.X + co*u.Y}
	}
	for i := range parts {
		p, q := at(i), at(i+1)
		if box := c.box(p, q); box.Max.X < ar.min.X-ar.tol || box.Max.Y < ar.min.Y-ar.tol || box.Min.X > ar.max.X+ar.tol || box.Min.Y > ar.max.Y+ar.tol {
			continue
		}
		ar.pieces = append(ar.pieces, piece{a: ar.addFar(p), b: ar.addFar(q), curve: c})
	}
	return nil
}

// addFar is add for points that may lie so far outside that their cell numbers would overflow.
func (ar *arrangement) addFar(p r2.Vec) int32 {
	if size := ar.tol / relativeTolerance; p.X < ar.min.X-size || p.X > ar.max.X+size || p.Y < ar.min.Y-size || p.Y > ar.max.Y+size {
		ar.vertices = append(ar.vertices, p)
		return int32(len(ar.vertices) - 1)
	}
	return ar.add(p)
}

// dropDuplicates makes arcs flatter than the tolerance straight and keeps one of pieces that coincide.
func (ar *arrangement) dropDuplicates() {
	seen := make(map[[2]int32][]piece)
	kept := ar.pieces[:0]
next:
	for _, p := range ar.pieces {
		if p.a == p.b {
			continue
		}
		a, b := ar.vertices[p.a], ar.vertices[p.b]
		if !p.straight() && p.sagitta(a, b) <= ar.tol {
			p.curve = curve{}
		}
		key := [2]int32{min(p.a, p.b), max(p.a, p.b)}
		for _, q := range seen[key] {
			if r2.Norm(r2.Sub(p.middle(a, b), q.middle(a, b))) <= 4*ar.tol {
				continue next
			}
		}
		seen[key] = append(seen[key], p)
		kept = append(kept, p)
	}
	ar.pieces = kept
}

// cut splits pieces at vertices that lie on them and at intersections; it reports whether it split any.
func (ar *arrangement) cut() bool {
	splits := make([][]int32, len(ar.pieces))
	any := false
	note := func(i int, v int32) {
		p := ar.pieces[i]
		if v == p.a || v == p.b {
			return
		}
		// a meeting point found a hair beyond an end is not inside the piece
		if t := p.along(ar.vertices[p.a], ar.vertices[p.b], ar.vertices[v]); t > 0 && t < 1 {
			splits[i] = append(splits[i], v)
			any = true
		}
	}
	boxes := make([]r2.Box, len(ar.pieces))
	for i, p := range ar.pieces {
		box := p.box(ar.vertices[p.a], ar.vertices[p.b])
		boxes[i] = r2.Box{Min: r2.Vec{X: box.Min.X - ar.tol, Y: box.Min.Y - ar.tol}, Max: r2.Vec{X: box.Max.X + ar.tol, Y: box.Max.Y + ar.tol}}
	}
	overlapping(boxes, func(i, j int) {
		var points [2]r2.Vec
		for _, p := range ar.meet(ar.pieces[i], ar.pieces[j], points[:0]) {
			v := ar.add(p)
			note(i, v)
			note(j, v)
		}
	})
	order := make([]int32, len(ar.vertices))
	for i := range order {
		order[i] = int32(i)
	}
	slices.SortFunc(order, func(u, v int32) int {
		return cmp.Or(cmp.Compare(ar.vertices[u].X, ar.vertices[v].X), cmp.Compare(u, v))
	})
	for i, p := range ar.pieces {
		a, b := ar.vertices[p.a], ar.vertices[p.b]
		first, _ := slices.BinarySearchFunc(order, boxes[i].Min.X, func(v int32, x float64) int { return cmp.Compare(ar.vertices[v].X, x) })
		for _, v := range order[first:] {
			q := ar.vertices[v]
			if q.X > boxes[i].Max.X {
				break
			}
			if q.Y < boxes[i].Min.Y || q.Y > boxes[i].Max.Y || v == p.a || v == p.b {
				continue
			}
			if p.distance(a, b, q) <= ar.tol {
				note(i, v)
			}
		}
	}
	if !any {
		return false
	}
	var next []piece
	for i, p := range ar.pieces {
		a, b := ar.vertices[p.a], ar.vertices[p.b]
		slices.SortFunc(splits[i], func(u, v int32) int {
			return cmp.Or(cmp.Compare(p.along(a, b, ar.vertices[u]), p.along(a, b, ar.vertices[v])), cmp.Compare(u, v))
		})
		last := p.a
		for _, v := range append(slices.Compact(splits[i]), p.b) {
			next = append(next, piece{a: last, b: v, curve: p.curve})
			last = v
		}
	}
	ar.pieces = next
	return true
}

// overlapping calls f for every pair i < j of boxes that overlap, in a fixed order.
func overlapping(boxes []r2.Box, f func(i, j int)) {
	order := make([]int, len(boxes))
	for i := range order {
		order[i] = i
	}
	slices.SortFunc(order, func(i, j int) int { return cmp.Or(cmp.Compare(boxes[i].Min.X, boxes[j].Min.X), cmp.Compare(i, j)) })
	for k, i := range order {
		for _, j := range order[k+1:] {
			if boxes[j].Min.X > boxes[i].Max.X {
				break
			}
			if boxes[j].Min.Y <= boxes[i].Max.Y && boxes[i].Min.Y <= boxes[j].Max.Y {
				f(min(i, j), max(i, j))
			}
		}
	}
}

// meet appends the points where two pieces cross or touch, apart from overlaps of coincident curves, whose ends are vertices already.
func (ar *arrangement) meet(p, q piece, points []r2.Vec) []r2.Vec {
	pa, pb, qa, qb := ar.vertices[p.a], ar.vertices[p.b], ar.vertices[q.a], ar.vertices[q.b]
	shared := p.a == q.a || p.a == q.b || p.b == q.a || p.b == q.b
	switch {
	case p.straight() && q.straight():
		if shared {
			return points
		}
		d, e := r2.Sub(pb, pa), r2.Sub(qb, qa)
		den := r2.Cross(d, e)
		if abs(den) <= 1e-14*r2.Norm(d)*r2.Norm(e) {
			return points
		}
		points = append(points, r2.Add(pa, r2.Scale(r2.Cross(r2.Sub(qa, pa), e)/den, d)))
	case p.straight():
		points = ar.meetCircle(pa, r2.Unit(r2.Sub(pb, pa)), q.curve, points)
	case q.straight():
		points = ar.meetCircle(qa, r2.Unit(r2.Sub(qb, qa)), p.curve, points)
	default:
		d := r2.Sub(q.center, p.center)
		distance := r2.Norm(d)
		if distance <= ar.tol && abs(p.radius-q.radius) <= ar.tol || distance == 0 {
			return points
		}
		// the radical line of the two circles
		x := (distance*distance + (p.radius-q.radius)*(p.radius+q.radius)) / (2 * distance)
		u := r2.Scale(1/distance, d)
		outer, inner := p.radius+q.radius, abs(p.radius-q.radius)
		switch {
		case abs(distance-outer) <= ar.tol, abs(distance-inner) <= ar.tol:
			// the circles touch: on the line of centres, outside the nearer circle's far side
			r := p.radius
			if x < 0 {
				r = -r
			}
			points = append(points, r2.Add(p.center, r2.Scale(r, u)))
		case distance < outer && distance > inner:
			y := math.Sqrt(math.Max(0, (p.radius-x)*(p.radius+x)))
			n := r2.Vec{X: -u.Y, Y: u.X}
			foot := r2.Add(p.center, r2.Scale(x, u))
			points = append(points, r2.Add(foot, r2.Scale(y, n)), r2.Add(foot, r2.Scale(-y, n)))
		}
	}
	touching := len(points) == 1 && !(p.straight() && q.straight())
	kept := points[:0]
	for _, x := range points {
		if !(p.distance(pa, pb, x) <= 2*ar.tol && q.distance(qa, qb, x) <= 2*ar.tol) {
			continue
		}
		if x.X < ar.min.X-ar.tol || x.X > ar.max.X+ar.tol || x.Y < ar.min.Y-ar.tol || x.Y > ar.max.Y+ar.tol {
			continue
		}
		if touching && shared {
			// where curves touch, the point of contact is known only to sqrt(2 R tol) along them: keep the vertex they share
			v := p.a
			if v != q.a && v != q.b {
				v = p.b
			}
			if r2.Norm(r2.Sub(ar.vertices[v], x)) <= 2*math.Sqrt(2*math.Max(p.radius, q.radius)*ar.tol) {
				continue
			}
		}
		kept = append(kept, x)
	}
	return kept
}

// meetCircle appends the points where the line through a with unit direction u meets the circle c.
func (ar *arrangement) meetCircle(a, u r2.Vec, c curve, points []r2.Vec) []r2.Vec {
	foot := r2.Add(a, r2.Scale(r2.Dot(r2.Sub(c.center, a), u), u))
	distance := abs(r2.Cross(u, r2.Sub(c.center, a)))
	switch {
	case abs(distance-c.radius) <= ar.tol:
		return append(points, foot)
	case distance > c.radius:
		return points
	}
	y := math.Sqrt((c.radius - distance) * (c.radius + distance))
	return append(points, r2.Add(foot, r2.Scale(y, u)), r2.Add(foot, r2.Scale(-y, u)))
}

// clip drops the pieces outside the rectangle and the vertices that no piece needs.
func (ar *arrangement) clip() {
	number := make([]int32, len(ar.vertices))
	for i := range number {
		number[i] = -1
	}
	var vertices []r2.Vec
	use := func(v int32) int32 {
		if number[v] < 0 {
			number[v] = int32(len(vertices))
			vertices = append(vertices, ar.vertices[v])
		}
		return number[v]
	}
	for v := range int32(4) {
		use(v)
	}
	kept := ar.pieces[:0]
	for _, p := range ar.pieces {
		m := p.middle(ar.vertices[p.a], ar.vertices[p.b])
		if m.X < ar.min.X-ar.tol || m.X > ar.max.X+ar.tol || m.Y < ar.min.Y-ar.tol || m.Y > ar.max.Y+ar.tol || !ar.inside(p.a) || !ar.inside(p.b) {
			continue
		}
		kept = append(kept, piece{a: use(p.a), b: use(p.b), curve: p.curve})
	}
	ar.pieces, ar.vertices, ar.cells = kept, vertices, nil
}

func (ar *arrangement) inside(v int32) bool {
	p := ar.vertices[v]
	return p.X >= ar.min.X && p.X <= ar.max.X && p.Y >= ar.min.Y && p.Y <= ar.max.Y
}
