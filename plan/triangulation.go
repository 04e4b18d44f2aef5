package plan

import (
	"errors"

	"gonum.org/v1/gonum/spatial/r2"
)

// triangle of a triangulation: vertices counter-clockwise; side i lies opposite vertex i.
type triangle struct {
	v    [3]int32
	next [3]int32 // the triangle across each side, -1 at the rectangle's sides
	on   [3]int32 // 1 + the piece that a side lies on, 0 for a free side
}

// triangulation is a constrained Delaunay triangulation of the rectangle, built by inserting points and flipping sides
// (C. L. Lawson, Software for C1 surface interpolation, Mathematical Software III, 1977; constraints by flips after
// S. W. Sloan, A fast algorithm for generating constrained Delaunay triangulations, Computers & Structures 47, 1993).
type triangulation struct {
	points    []r2.Vec
	triangles []triangle
	star      []int32 // a triangle at each vertex
	last      int32   // where the last search ended
	touched   []int32 // triangles changed since the list was last emptied
	stack     [][2]int32
}

var errCross = errors.New("plan: two curves cross within the tolerance; move edges that should coincide onto each other")

func newTriangulation(corners [4]r2.Vec) *triangulation {
	return &triangulation{
		points:    corners[:],
		triangles: []triangle{{v: [3]int32{0, 1, 2}, next: [3]int32{-1, 1, -1}}, {v: [3]int32{0, 2, 3}, next: [3]int32{-1, -1, 0}}},
		star:      []int32{0, 0, 0, 1},
		touched:   []int32{0, 1},
	}
}

// corner is the place of vertex v in triangle t.
func (tr *triangulation) corner(t, v int32) int {
	switch tri := &tr.triangles[t]; v {
	case tri.v[0]:
		return 0
	case tri.v[1]:
		return 1
	}
	return 2
}

// turn makes vertex i of triangle t its vertex 0.
func (tr *triangulation) turn(t int32, i int) {
	tri := &tr.triangles[t]
	j, k := (i+1)%3, (i+2)%3
	tri.v = [3]int32{tri.v[i], tri.v[j], tri.v[k]}
	tri.next = [3]int32{tri.next[i], tri.next[j], tri.next[k]}
	tri.on = [3]int32{tri.on[i], tri.on[j], tri.on[k]}
}

func (tr *triangulation) relink(t, from, to int32) {
	if t < 0 {
		return
	}
	for i, n := range tr.triangles[t].next {
		if n == from {
			tr.triangles[t].next[i] = to
			return
		}
	}
}

// flip replaces side i of triangle t by the other diagonal. Afterwards vertex i is vertex 0 of both t and its neighbour.
func (tr *triangulation) flip(t int32, i int) (neighbour int32) {
	tr.turn(t, i)
	o := tr.triangles[t].next[0]
	for j, n := range tr.triangles[o].next {
		if n == t && tr.triangles[o].v[(j+1)%3] == tr.triangles[t].v[2] {
			tr.turn(o, j)
			break
		}
	}
	x, y := tr.triangles[t], tr.triangles[o] // x = p,a,b; y = d,b,a
	p, a, b, d := x.v[0], x.v[1], x.v[2], y.v[0]
	tr.triangles[t] = triangle{v: [3]int32{p, a, d}, next: [3]int32{y.next[1], o, x.next[2]}, on: [3]int32{y.on[1], 0, x.on[2]}}
	tr.triangles[o] = triangle{v: [3]int32{p, d, b}, next: [3]int32{y.next[2], x.next[1], t}, on: [3]int32{y.on[2], x.on[1], 0}}
	tr.relink(y.next[1], o, t)
	tr.relink(x.next[1], t, o)
	tr.star[a], tr.star[b], tr.star[p], tr.star[d] = t, o, t, o
	tr.touched = append(tr.touched, t, o)
	return o
}

// opposite is the vertex across side i of triangle t.
func (tr *triangulation) opposite(t int32, i int) int32 {
	tri := &tr.triangles[t]
	o := &tr.triangles[tri.next[i]]
	a, b := tri.v[(i+1)%3], tri.v[(i+2)%3]
	for _, v := range o.v {
		if v != a && v != b {
			return v
		}
	}
	return -1
}

// find locates p: the triangle that holds it and, when p lies on one of its sides, which (else -1).
// vertex is the vertex that p coincides with, else -1.
func (tr *triangulation) find(p r2.Vec) (t int32, side int, vertex int32, ok bool) {
	t = tr.last
	came := int32(-1)
walk:
	for range 4*len(tr.triangles) + 10 {
		tri := &tr.triangles[t]
		for i := range 3 {
			n := tri.next[i]
			if n >= 0 && n != came && orient(tr.points[tri.v[(i+1)%3]], tr.points[tri.v[(i+2)%3]], p) < 0 {
				came, t = t, n
				continue walk
			}
		}
		if came >= 0 { // the side we came through is no way back, but the point may lie exactly on it or outside
			if t, side, vertex, ok = tr.holds(t, p); ok {
				return t, side, vertex, true
			}
			break
		}
		if t, side, vertex, ok = tr.holds(t, p); ok {
			return t, side, vertex, true
		}
		break
	}
	for t := range int32(len(tr.triangles)) { // the walk can turn in circles in a constrained triangulation
		if _, side, vertex, ok := tr.holds(t, p); ok {
			return t, side, vertex, true
		}
	}
	return 0, -1, -1, false
}

func (tr *triangulation) holds(t int32, p r2.Vec) (_ int32, side int, vertex int32, ok bool) {
	tri := &tr.triangles[t]
	side, vertex = -1, -1
	zeros := 0
	for i := range 3 {
		s := orient(tr.points[tri.v[(i+1)%3]], tr.points[tri.v[(i+2)%3]], p)
		if s < 0 {
			return t, -1, -1, false
		}
		if s == 0 {
			zeros++
			side = i
		}
	}
	if zeros >= 2 {
		for _, v := range tri.v {
			if tr.points[v] == p {
				vertex = v
			}
		}
	}
	return t, side, vertex, true
}

// insert adds p, which lies in triangle t, on its side when side >= 0, and restores the Delaunay property.
// A constrained side may be split; both halves stay constrained.
func (tr *triangulation) insert(p r2.Vec, t int32, side int) int32 {
	v := int32(len(tr.points))
	tr.points = append(tr.points, p)
	tr.star = append(tr.star, t)
	tr.stack = tr.stack[:0]
	if side < 0 {
		x := tr.triangles[t]
		t1, t2 := int32(len(tr.triangles)), int32(len(tr.triangles)+1)
		tr.triangles = append(tr.triangles,
			triangle{v: [3]int32{v, x.v[2], x.v[0]}, next: [3]int32{x.next[1], t2, t}, on: [3]int32{x.on[1], 0, 0}},
			triangle{v: [3]int32{v, x.v[0], x.v[1]}, next: [3]int32{x.next[2], t, t1}, on: [3]int32{x.on[2], 0, 0}})
		tr.triangles[t] = triangle{v: [3]int32{v, x.v[1], x.v[2]}, next: [3]int32{x.next[0], t1, t2}, on: [3]int32{x.on[0], 0, 0}}
		tr.relink(x.next[1], t, t1)
		tr.relink(x.next[2], t, t2)
		tr.star[x.v[0]], tr.star[x.v[1]], tr.star[x.v[2]] = t1, t, t
		tr.touched = append(tr.touched, t, t1, t2)
		tr.stack = append(tr.stack, [2]int32{t, v}, [2]int32{t1, v}, [2]int32{t2, v})
	} else {
		tr.turn(t, side)
		x := tr.triangles[t] // c,a,b with p on ab
		c, a, b, on := x.v[0], x.v[1], x.v[2], x.on[0]
		o := x.next[0]
		t1 := int32(len(tr.triangles))
		tr.triangles = append(tr.triangles, triangle{v: [3]int32{v, b, c}, next: [3]int32{x.next[1], t, -1}, on: [3]int32{x.on[1], 0, on}})
		tr.triangles[t] = triangle{v: [3]int32{v, c, a}, next: [3]int32{x.next[2], -1, t1}, on: [3]int32{x.on[2], on, 0}}
		tr.relink(x.next[1], t, t1)
		tr.star[a], tr.star[b], tr.star[c] = t, t1, t
		tr.touched = append(tr.touched, t, t1)
		tr.stack = append(tr.stack, [2]int32{t, v}, [2]int32{t1, v})
		if o >= 0 {
			for j := range 3 {
				if w := tr.triangles[o].v[j]; w != a && w != b {
					tr.turn(o, j)
					break
				}
			}
			y := tr.triangles[o] // d,b,a
			o1 := int32(len(tr.triangles))
			d := y.v[0]
			tr.triangles = append(tr.triangles, triangle{v: [3]int32{v, a, d}, next: [3]int32{y.next[1], o, t}, on: [3]int32{y.on[1], 0, on}})
			tr.triangles[o] = triangle{v: [3]int32{v, d, b}, next: [3]int32{y.next[2], t1, o1}, on: [3]int32{y.on[2], on, 0}}
			tr.relink(y.next[1], o, o1)
			tr.triangles[t].next[1] = o1
			tr.triangles[t1].next[2] = o
			tr.star[d] = o
			tr.touched = append(tr.touched, o, o1)
			tr.stack = append(tr.stack, [2]int32{o, v}, [2]int32{o1, v})
		}
	}
	tr.legalize()
	tr.last = tr.star[v]
	return v
}

// legalize flips sides opposite the stacked vertices until all are Delaunay.
func (tr *triangulation) legalize() {
	for len(tr.stack) > 0 {
		top := tr.stack[len(tr.stack)-1]
		tr.stack = tr.stack[:len(tr.stack)-1]
		t, v := top[0], top[1]
		i := tr.corner(t, v)
		tri := &tr.triangles[t]
		if tri.v[i] != v || tri.next[i] < 0 || tri.on[i] != 0 {
			continue
		}
		d := tr.opposite(t, i)
		if inCircle(tr.points[tri.v[0]], tr.points[tri.v[1]], tr.points[tri.v[2]], tr.points[d]) > 0 {
			o := tr.flip(t, i)
			tr.stack = append(tr.stack, [2]int32{t, v}, [2]int32{o, v})
		}
	}
}

// around calls f for the triangles at vertex v until it returns false; i is v's place in the triangle.
func (tr *triangulation) around(v int32, f func(t int32, i int) bool) {
	start := tr.star[v]
	t := start
	for { // counter-clockwise
		i := tr.corner(t, v)
		if !f(t, i) {
			return
		}
		t = tr.triangles[t].next[(i+1)%3]
		if t == start {
			return
		}
		if t < 0 {
			break
		}
	}
	i := tr.corner(start, v)
	for t = tr.triangles[start].next[(i+2)%3]; t >= 0; t = tr.triangles[t].next[(i+2)%3] { // and clockwise from the start
		i = tr.corner(t, v)
		if !f(t, i) {
			return
		}
	}
}

// side finds the side a-b: a triangle that has it and its place there.
func (tr *triangulation) side(a, b int32) (t int32, i int, ok bool) {
	tr.around(a, func(u int32, k int) bool {
		tri := &tr.triangles[u]
		switch b {
		case tri.v[(k+1)%3]:
			t, i, ok = u, (k+2)%3, true
		case tri.v[(k+2)%3]:
			t, i, ok = u, (k+1)%3, true
		}
		return !ok
	})
	return t, i, ok
}

// mark sets what piece side i of triangle t lies on, seen from both triangles.
func (tr *triangulation) mark(t int32, i int, on int32) {
	tri := &tr.triangles[t]
	tri.on[i] = on
	tr.touched = append(tr.touched, t)
	if o := tri.next[i]; o >= 0 {
		a, b := tri.v[(i+1)%3], tri.v[(i+2)%3]
		for j, v := range tr.triangles[o].v {
			if v != a && v != b {
				tr.triangles[o].on[j] = on
			}
		}
		tr.touched = append(tr.touched, o)
	}
}

// crossing is what a straight way from a vertex meets first: a vertex on it, or the side i of triangle t.
type crossing struct {
	vertex int32 // -1 when it is a side
	t      int32
	i      int
}

// leave finds what the way from vertex a to p meets on the rim of a's star. ok is false when p lies inside the star.
func (tr *triangulation) leave(a int32, p r2.Vec) (c crossing, ok bool) {
	pa := tr.points[a]
	tr.around(a, func(t int32, k int) bool {
		tri := &tr.triangles[t]
		u, w := tri.v[(k+1)%3], tri.v[(k+2)%3]
		su, sw := orient(pa, p, tr.points[u]), orient(pa, p, tr.points[w])
		for _, end := range [2]struct {
			v int32
			s float64
		}{{u, su}, {w, sw}} {
			if end.s == 0 && r2.Dot(r2.Sub(tr.points[end.v], pa), r2.Sub(p, pa)) > 0 {
				if r2.Norm2(r2.Sub(tr.points[end.v], pa)) <= r2.Norm2(r2.Sub(p, pa)) {
					c, ok = crossing{vertex: end.v}, true
				}
				return false
			}
		}
		if su < 0 && sw > 0 {
			if orient(tr.points[u], tr.points[w], p) <= 0 {
				c, ok = crossing{vertex: -1, t: t, i: k}, true
			}
			return false
		}
		return true
	})
	return c, ok
}

// blocked reports the first constrained side on the straight way from vertex a to p, or a vertex on it other than p's own.
func (tr *triangulation) blocked(a int32, p r2.Vec) (c crossing, ok bool) {
	c, ok = tr.leave(a, p)
	if !ok || c.vertex >= 0 {
		return c, ok
	}
	pa := tr.points[a]
	for range len(tr.triangles) {
		tri := &tr.triangles[c.t]
		if tri.on[c.i] != 0 {
			return c, true
		}
		o := tri.next[c.i]
		if o < 0 {
			return c, true
		}
		u, w := tri.v[(c.i+1)%3], tri.v[(c.i+2)%3]
		d := tr.opposite(c.t, c.i)
		pd := tr.points[d]
		if orient(tr.points[u], pd, p) >= 0 && orient(pd, tr.points[w], p) >= 0 {
			return crossing{}, false // p lies in triangle o, which is u, d, w
		}
		switch s := orient(pa, p, pd); {
		case s == 0:
			return crossing{vertex: d}, true
		case s > 0: // d left of the way: leave through u-d
			c = crossing{vertex: -1, t: o, i: tr.corner(o, w)}
		default:
			c = crossing{vertex: -1, t: o, i: tr.corner(o, u)}
		}
	}
	return c, true
}

// constrain makes a-b a union of sides on the piece. It fails when another constrained side is in the way.
func (tr *triangulation) constrain(a, b, on int32) error {
	for range len(tr.points) {
		if a == b {
			return nil
		}
		if t, i, ok := tr.side(a, b); ok {
			tr.mark(t, i, on)
			return nil
		}
		c, ok := tr.leave(a, tr.points[b])
		if !ok {
			return errCross
		}
		end := b
		if c.vertex >= 0 {
			end = c.vertex
		} else if v, err := tr.clear(a, b, c); err != nil {
			return err
		} else {
			end = v
		}
		t, i, ok := tr.side(a, end)
		if !ok {
			return errCross
		}
		tr.mark(t, i, on)
		a = end
	}
	return errCross
}

// clear flips away the sides between a and b, or between a and the first vertex on the way, and returns that end.
func (tr *triangulation) clear(a, b int32, c crossing) (end int32, err error) {
	pa, pb := tr.points[a], tr.points[b]
	var crossed [][2]int32
	end = b
	for {
		tri := &tr.triangles[c.t]
		if tri.on[c.i] != 0 || tri.next[c.i] < 0 {
			return 0, errCross
		}
		u, w := tri.v[(c.i+1)%3], tri.v[(c.i+2)%3]
		crossed = append(crossed, [2]int32{u, w})
		o := tri.next[c.i]
		d := tr.opposite(c.t, c.i)
		if d == b {
			break
		}
		s := orient(pa, pb, tr.points[d])
		if s == 0 {
			end = d
			break
		}
		if s > 0 {
			c = crossing{t: o, i: tr.corner(o, w)}
		} else {
			c = crossing{t: o, i: tr.corner(o, u)}
		}
	}
	pb = tr.points[end]
	var fresh [][2]int32
	for budget := 10*len(crossed)*len(crossed) + 100; len(crossed) > 0; budget-- {
		if budget == 0 {
			return 0, errCross
		}
		u, w := crossed[0][0], crossed[0][1]
		crossed = crossed[1:]
		t, i, ok := tr.side(u, w)
		if !ok {
			return 0, errCross
		}
		p, d := tr.triangles[t].v[i], tr.opposite(t, i)
		u, w = tr.triangles[t].v[(i+1)%3], tr.triangles[t].v[(i+2)%3]
		if orient(tr.points[p], tr.points[u], tr.points[d]) <= 0 || orient(tr.points[p], tr.points[d], tr.points[w]) <= 0 {
			crossed = append(crossed, [2]int32{u, w}) // not convex yet
			continue
		}
		tr.flip(t, i)
		if p != a && p != end && d != a && d != end && orient(pa, pb, tr.points[p])*orient(pa, pb, tr.points[d]) < 0 {
			crossed = append(crossed, [2]int32{p, d})
		} else {
			fresh = append(fresh, [2]int32{p, d})
		}
	}
	// what was flipped need not be Delaunay: restore it while keeping a-end
	for budget := 100*len(fresh) + 100; len(fresh) > 0 && budget > 0; budget-- {
		e := fresh[len(fresh)-1]
		fresh = fresh[:len(fresh)-1]
		if e[0] == a && e[1] == end || e[0] == end && e[1] == a {
			continue
		}
		t, i, ok := tr.side(e[0], e[1])
		if !ok || tr.triangles[t].on[i] != 0 || tr.triangles[t].next[i] < 0 {
			continue
		}
		tri := tr.triangles[t]
		d := tr.opposite(t, i)
		if inCircle(tr.points[tri.v[0]], tr.points[tri.v[1]], tr.points[tri.v[2]], tr.points[d]) > 0 {
			p, u, w := tri.v[i], tri.v[(i+1)%3], tri.v[(i+2)%3]
			tr.flip(t, i)
			fresh = append(fresh, [2]int32{p, u}, [2]int32{u, d}, [2]int32{d, w}, [2]int32{w, p})
		}
	}
	return end, nil
}
