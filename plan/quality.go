package plan

import (
	"container/heap"
	"errors"
	"fmt"
	"math"

	"gonum.org/v1/gonum/spatial/r2"
)

// This file refines the triangulation until its triangles are small and round enough.
//
// Points are put near the off-centre of a triangle's shortest side (A. Üngör, Off-centers: a new type of Steiner points for
// computing size-optimal quality-guaranteed Delaunay triangulations, LATIN 2004), no farther than the wanted edge length asks.
// A point that would see a constrained side under more than 120 degrees, or lies behind it, splits that side instead
// (L. P. Chew, Guaranteed-quality mesh generation for curved surfaces, SoCG 1993; the 120 degree lens after J. R. Shewchuk,
// Delaunay refinement algorithms for triangular mesh generation, Comput. Geom. 22 (2002) 21-74). Sides that end where curves meet at less than
// 60 degrees are split on concentric circles with radii of powers of two, and a triangle whose shortest side spans such a corner is
// left (J. Ruppert, J. Algorithms 18 (1995); G. Miller, S. Pav, N. Walkington, When and why Ruppert's algorithm works, IMR 2003).

const (
	lens       = -0.5             // cosine of the angle under which a new point may see a side
	shallow    = math.Pi / 36     // curves that meet at less are taken for touching
	sharp      = math.Pi / 3      // curves that meet at less need concentric circles
	flattest   = 0.25             // distortion below which the arc is split
	widest     = math.Pi/4 + 1e-9 // what a chord may span of its circle
	nearEnd    = 0.15             // of a side: a point opposite its end this near gets no point below it
	tooLong    = 1.45             // longest side over wanted length
	mostPoints = 100_000          // also in errTooMany
)

type refiner struct {
	*triangulation
	pieces  []piece
	acute   []bool  // for vertices of the arrangement: curves meet there at less than sharp
	home    []int32 // for each vertex the piece it lies inside of, -1 for free points and vertices of the arrangement
	fixed   int     // vertices of the arrangement
	size    func(r2.Vec) float64
	extent  float64 // longer side of the rectangle
	tol     float64 // of the arrangement
	floor   float64 // no side is split below this
	cosMin  float64 // cosine of the least angle wanted
	reach   float64 // height of the off-centre over half the shortest side
	queue   queue
	spent   int // points put in for the sake of angles alone
	sizeErr error
}

// wanted is the wanted edge length at p.
func (r *refiner) wanted(p r2.Vec) float64 {
	s := r.size(p)
	if !(s > 0) && r.sizeErr == nil {
		r.sizeErr = fmt.Errorf("plan: the size function gives %g m at (%g, %g) m; edge lengths must be positive", s, p.X, p.Y)
	}
	return s
}

// thin is the width below which a gap between curves is filled with long triangles.
func (r *refiner) thin(wanted float64) float64 { return math.Min(1e-3*r.extent, wanted/8) }

// meeting finds a corner that two pieces share and the angle between them there.
func (r *refiner) meeting(p, q int32) (corner int32, angle float64, ok bool) {
	a, b := r.pieces[p], r.pieces[q]
	angle = math.Inf(1)
	for _, v := range [2]int32{a.a, a.b} {
		if v != b.a && v != b.b {
			continue
		}
		u, w := a.away(r.points, v), b.away(r.points, v)
		if s := math.Atan2(abs(r2.Cross(u, w)), r2.Dot(u, w)); s < angle {
			corner, angle, ok = v, s, true
		}
	}
	return corner, angle, ok
}

// away is the direction in which the piece leaves its end v.
func (p piece) away(points []r2.Vec, v int32) r2.Vec {
	if v == p.a {
		return p.tangent(points[p.a], points[p.b])
	}
	return p.tangent(points[p.b], points[p.a])
}

type fault int

// The faults in the order in which they are mended: long and pointed triangles come before bent ones, which then are fewer.
const (
	none     fault = iota
	flat           // a flat triangle in a thin gap: split its long side below the point
	squeezed       // an arc distorts a triangle in a thin gap or beside a cusp too much: split the arc
	folded         // two sides that go on smoothly from one to the other leave no corner between them: put a point inside
	large          // put a point inside
	pointed        // put a point inside
	bent           // an arc distorts the triangle too much: split the arc
)

func (f fault) rank() int {
	switch {
	case f < large:
		return 0
	case f < bent:
		return 1
	}
	return 2
}

type task struct {
	fault fault
	key   float64
	t     int32
	v     [3]int32
}

type queue []task

func (q queue) Len() int { return len(q) }
func (q queue) Less(i, j int) bool {
	a, b := &q[i], &q[j]
	if x, y := a.fault.rank(), b.fault.rank(); x != y {
		return x < y
	}
	if a.key != b.key {
		return a.key < b.key
	}
	return a.t < b.t
}
func (q queue) Swap(i, j int) { q[i], q[j] = q[j], q[i] }
func (q *queue) Push(x any)   { *q = append(*q, x.(task)) }
func (q *queue) Pop() any {
	old := *q
	x := old[len(old)-1]
	*q = old[:len(old)-1]
	return x
}

// judge says what is wrong with triangle t; side is the one to split for bent, squeezed and flat, the shortest one otherwise.
func (r *refiner) judge(t int32) (f fault, key float64, side int) {
	tri := &r.triangles[t]
	var p [3]r2.Vec
	var length [3]float64
	for i, v := range tri.v {
		p[i] = r.points[v]
	}
	short, long := 0, 0
	arc := -1
	for i := range 3 {
		length[i] = r2.Norm(r2.Sub(p[(i+1)%3], p[(i+2)%3]))
		if length[i] < length[short] {
			short = i
		}
		if length[i] > length[long] {
			long = i
		}
		if on := tri.on[i]; on != 0 && !r.pieces[on-1].straight() {
			if arc < 0 || length[i] > length[arc] {
				arc = i
			}
		}
	}
	height := r2.Cross(r2.Sub(p[1], p[0]), r2.Sub(p[2], p[0])) / length[long]
	gap := r.gap(tri)
	if gap && height < r.tol {
		return none, 0, 0 // finer than anything told apart
	}
	center := r2.Vec{X: (p[0].X + p[1].X + p[2].X) / 3, Y: (p[0].Y + p[1].Y + p[2].Y) / 3}
	wanted := r.wanted(center)
	i, j := (short+1)%3, (short+2)%3
	sharpest := (length[i]*length[i] + length[j]*length[j] - length[short]*length[short]) / (2 * length[i] * length[j])
	thin := gap && height < r.thin(wanted)
	if sharpest > r.cosMin && thin {
		k, l := (long+1)%3, (long+2)%3
		cosine := length[k]*length[k] + length[l]*length[l] - length[long]*length[long]
		if tri.on[long] != 0 && cosine < -1.7*length[k]*length[l] && min(length[k], length[l]) > math.Max(2*r.floor, nearEnd*length[long]) {
			return flat, length[short], long
		}
	}
	switch {
	case length[short] < r.floor:
	case length[long] > tooLong*wanted:
		return large, length[short], short
	case sharpest > r.cosMin && !thin && !r.unavoidable(tri, short, p):
		return pointed, length[short], short
	}
	if arc < 0 || length[arc] < r.floor {
		return none, 0, 0
	}
	x := r.bend(tri)
	if i, ok := r.cusp(tri); ok {
		// The four parts of the triangle need not be the right way round when the curves are cut at too different distances.
		j, k := (i+1)%3, (i+2)%3
		if length[j] < length[k] {
			j, k = k, j
		}
		if length[j] > (1+1e-6)*length[k] && length[k] > r.floor && !soundParts(&x) {
			return squeezed, length[short], j
		}
		return none, 0, 0
	}
	if distortion(&x) >= flattest {
		return none, 0, 0
	}
	for i := range 3 {
		if tri.on[(i+1)%3] != 0 && tri.on[(i+2)%3] != 0 && corner(p[i], p[(i+1)%3], p[(i+2)%3]) > math.Pi/2 {
			return folded, length[short], short
		}
	}
	if thin {
		return squeezed, length[short], arc
	}
	return bent, length[short], arc
}

// soundParts reports whether the four parts of a triangle with these nodes are well the right way round.
func soundParts(x *[6]r2.Vec) bool {
	area := r2.Cross(r2.Sub(x[1], x[0]), r2.Sub(x[2], x[0]))
	for _, c := range children {
		if r2.Cross(r2.Sub(x[c[1]], x[c[0]]), r2.Sub(x[c[2]], x[c[0]])) < 0.05*area {
			return false
		}
	}
	return true
}

// bend gives the six nodes of a triangle.
func (r *refiner) bend(tri *triangle) (x [6]r2.Vec) {
	for i, v := range tri.v {
		x[i] = r.points[v]
	}
	for i := range 3 {
		c := curve{}
		if on := tri.on[(i+2)%3]; on != 0 {
			c = r.pieces[on-1].curve
		}
		x[3+i] = c.middle(x[i], x[(i+1)%3])
	}
	return x
}

// cusp finds a vertex i of the triangle where both sides lie on curves that touch there, or nearly so.
func (r *refiner) cusp(tri *triangle) (i int, ok bool) {
	for i, v := range tri.v {
		p, q := tri.on[(i+1)%3], tri.on[(i+2)%3]
		if p == 0 || q == 0 || p == q {
			continue
		}
		if w, angle, ok := r.meeting(p-1, q-1); ok && angle < shallow && w == v {
			return i, true
		}
	}
	return 0, false
}

// gap reports whether the triangle spans from one curve to another without a free vertex.
func (r *refiner) gap(tri *triangle) bool {
	for _, v := range tri.v {
		if int(v) >= r.fixed && r.home[v] < 0 {
			return false
		}
	}
	return true
}

// unavoidable reports whether a small angle is given by the curves themselves.
func (r *refiner) unavoidable(tri *triangle, short int, p [3]r2.Vec) bool {
	if x, y := tri.on[(short+1)%3], tri.on[(short+2)%3]; x != 0 && y != 0 {
		return true
	}
	i, j := (short+1)%3, (short+2)%3
	for _, x := range r.homes(tri.v[i]) {
		for _, y := range r.homes(tri.v[j]) {
			if x == y {
				continue
			}
			v, angle, ok := r.meeting(x, y)
			if !ok || angle >= sharp || v == tri.v[i] || v == tri.v[j] {
				continue
			}
			di, dj := r2.Norm(r2.Sub(p[i], r.points[v])), r2.Norm(r2.Sub(p[j], r.points[v]))
			if angle < shallow || abs(di-dj) < 1e-3*di {
				return true
			}
		}
	}
	return false
}

// homes lists the piece that vertex v lies inside of, if any.
func (r *refiner) homes(v int32) []int32 {
	if r.home[v] < 0 {
		return nil
	}
	return r.home[v : v+1]
}

// cutting gives the fraction at which the side a-b on piece on is to be split: half, or on a circle about an acute end.
func (r *refiner) cutting(a, b int32, on int32) r2.Vec {
	c := r.pieces[on-1].curve
	pa, pb := r.points[a], r.points[b]
	sharpA, sharpB := int(a) < r.fixed && r.acute[a], int(b) < r.fixed && r.acute[b]
	if sharpA == sharpB {
		return c.middle(pa, pb)
	}
	if sharpB {
		pa, pb = pb, pa
	}
	chord := r2.Norm(r2.Sub(pb, pa))
	radius := math.Exp2(math.Round(math.Log2(chord / 2)))
	if c.straight() {
		return c.at(pa, pb, radius/chord)
	}
	return c.at(pa, pb, math.Asin(radius/(2*c.radius))/math.Asin(math.Min(1, chord/(2*c.radius))))
}

var errTangled = errors.New("plan: curves lie too near each other to be kept apart; move edges that should coincide onto each other")

// split puts p, which lies on the piece of side i of triangle t, into the side a-b.
func (r *refiner) split(t int32, i int, p r2.Vec, depth int) error {
	tri := r.triangles[t]
	a, b, on := tri.v[(i+1)%3], tri.v[(i+2)%3], tri.on[i]
	if !r.pieces[on-1].straight() {
		// The new vertex leaves the chord: other arcs' chords that stand in its way belong farther out.
		r.mark(t, i, 0)
		for tries := 0; ; tries++ {
			c, stop := r.blocked(a, p)
			if !stop {
				c, stop = r.blocked(b, p)
			}
			if !stop {
				break
			}
			stuck := c.vertex >= 0 || r.triangles[c.t].next[c.i] < 0 || r.pieces[r.triangles[c.t].on[c.i]-1].straight() || tries == 20 || depth == 20
			var u, w int32
			if !stuck {
				u, w = r.triangles[c.t].v[(c.i+1)%3], r.triangles[c.t].v[(c.i+2)%3]
				stuck = r2.Norm(r2.Sub(r.points[u], r.points[w])) < 3*r.floor
			}
			if stuck { // within the tolerance of something else
				p = curve{}.middle(r.points[a], r.points[b])
				break
			}
			if err := r.split(c.t, c.i, r.cutting(u, w, r.triangles[c.t].on[c.i]), depth+1); err != nil {
				return err
			}
		}
		var ok bool
		if t, i, ok = r.side(a, b); ok {
			r.mark(t, i, on)
		}
	}
	r.last = r.star[a]
	if t, i, ok := r.side(a, b); ok && r.pieces[on-1].straight() && r.triangles[t].next[i] < 0 {
		r.insert(p, t, i) // on the rectangle's side
	} else {
		if ok {
			r.mark(t, i, 0)
		}
		at, side, vertex, ok := r.find(p)
		if !ok || vertex >= 0 || side >= 0 && r.triangles[at].on[side] != 0 {
			return errTangled
		}
		v := r.insert(p, at, side)
		if err := r.constrain(a, v, on); err != nil {
			return err
		}
		if err := r.constrain(v, b, on); err != nil {
			return err
		}
	}
	r.home = append(r.home, on-1)
	return nil
}

// place adds a free point to mend triangle t, or splits the constrained side that it comes too near.
func (r *refiner) place(t int32, short int, f fault) error {
	tri := r.triangles[t]
	a, b := r.points[tri.v[(short+1)%3]], r.points[tri.v[(short+2)%3]]
	d := r2.Sub(b, a)
	length := r2.Norm(d)
	middle := r2.Vec{X: (a.X + b.X) / 2, Y: (a.Y + b.Y) / 2}
	normal := r2.Vec{X: -d.Y / length, Y: d.X / length} // into the triangle
	// height of the circumcentre over the shortest side
	c := r2.Sub(r.points[tri.v[short]], middle)
	x, y := r2.Dot(c, d)/length, r2.Dot(c, normal)
	height := (x*x + y*y - length*length/4) / (2 * y)
	height = math.Min(height, r.reach*length/2)
	switch f {
	case folded:
		height = math.Min(height, length*math.Sqrt(3)/2)
	case large:
		wanted := r.wanted(r2.Add(middle, r2.Scale(math.Min(height, length), normal)))
		want := math.Sqrt(math.Max(0, wanted*wanted-length*length/4))
		height = math.Min(height, math.Max(want, length*math.Sqrt(3)/2))
	}
	p := r2.Add(middle, r2.Scale(height, normal))

	// walk from the triangle's middle to p
	from := r2.Vec{X: (r.points[tri.v[0]].X + r.points[tri.v[1]].X + r.points[tri.v[2]].X) / 3,
		Y: (r.points[tri.v[0]].Y + r.points[tri.v[1]].Y + r.points[tri.v[2]].Y) / 3}
	at, side, blocked := r.walk(t, from, p)
	if at < 0 {
		return nil // lost to rounding: leave the triangle as it is
	}
	if blocked {
		return r.yield(at, side)
	}
	if at, side, ok := r.encroached(at, p); ok {
		return r.yield(at, side)
	}
	r.last = at
	at, side, vertex, ok := r.find(p)
	if !ok || vertex >= 0 {
		return nil
	}
	for _, v := range r.triangles[at].v {
		if r2.Norm(r2.Sub(r.points[v], p)) < r.floor {
			return nil
		}
	}
	if side >= 0 && r.triangles[at].on[side] != 0 {
		return r.yield(at, side)
	}
	r.insert(p, at, side)
	r.home = append(r.home, -1)
	return nil
}

// yield splits a constrained side that keeps a point from being placed.
func (r *refiner) yield(t int32, side int) error {
	tri := &r.triangles[t]
	a, b := tri.v[(side+1)%3], tri.v[(side+2)%3]
	if r2.Norm(r2.Sub(r.points[a], r.points[b])) < 3*r.floor {
		return nil
	}
	return r.split(t, side, r.cutting(a, b, tri.on[side]), 0)
}

// walk goes straight from a point of triangle t towards p and ends in the triangle that holds p or at the first constrained side.
// It returns a negative triangle when rounding leads it astray.
func (r *refiner) walk(t int32, from, p r2.Vec) (at int32, side int, blocked bool) {
	came := int32(-1)
	for range len(r.triangles) {
		tri := &r.triangles[t]
		exit := -1
		outside := false
		for i := range 3 {
			if tri.next[i] == came && came >= 0 {
				continue
			}
			u, w := r.points[tri.v[(i+1)%3]], r.points[tri.v[(i+2)%3]]
			if orient(u, w, p) >= 0 {
				continue
			}
			outside = true
			if orient(from, p, u) <= 0 && orient(from, p, w) >= 0 {
				exit = i
				break
			}
		}
		switch {
		case !outside:
			return t, -1, false
		case exit < 0:
			return -1, -1, false
		case tri.on[exit] != 0 || tri.next[exit] < 0:
			return t, exit, true
		}
		came, t = t, tri.next[exit]
	}
	return -1, -1, false
}

// encroached looks through the triangles that inserting p would replace for the constrained side that p sees under the widest angle.
func (r *refiner) encroached(t int32, p r2.Vec) (at int32, side int, ok bool) {
	worst := lens
	seen := []int32{t}
	for k := 0; k < len(seen); k++ {
		tri := &r.triangles[seen[k]]
	sides:
		for i := range 3 {
			a, b := r.points[tri.v[(i+1)%3]], r.points[tri.v[(i+2)%3]]
			if tri.on[i] != 0 {
				u, w := r2.Sub(a, p), r2.Sub(b, p)
				if cos := r2.Dot(u, w) / math.Sqrt(r2.Norm2(u)*r2.Norm2(w)); cos < worst {
					worst, at, side, ok = cos, seen[k], i, true
				}
				continue
			}
			n := tri.next[i]
			for _, s := range seen {
				if s == n {
					continue sides
				}
			}
			o := &r.triangles[n]
			if inCircle(r.points[o.v[0]], r.points[o.v[1]], r.points[o.v[2]], p) > 0 {
				seen = append(seen, n)
			}
		}
	}
	return at, side, ok
}

// refine works off faults until none is left.
func (r *refiner) refine() error {
	for {
		for _, t := range r.touched {
			if f, key, _ := r.judge(t); f != none {
				heap.Push(&r.queue, task{f, key, t, r.triangles[t].v})
			}
		}
		r.touched = r.touched[:0]
		if r.sizeErr != nil {
			return r.sizeErr
		}
		if len(r.queue) == 0 {
			return nil
		}
		if len(r.points) > mostPoints {
			return errTooMany
		}
		if r.spent > 3000+4*(len(r.points)-r.spent) {
			return errCostly
		}
		job := heap.Pop(&r.queue).(task)
		if r.triangles[job.t].v != job.v {
			continue
		}
		f, _, side := r.judge(job.t)

		before := len(r.points)
		var err error
		switch f {
		case none:
			continue
		case bent, squeezed, flat:
			tri := &r.triangles[job.t]
			a, b := r.points[tri.v[(side+1)%3]], r.points[tri.v[(side+2)%3]]
			p := r.cutting(tri.v[(side+1)%3], tri.v[(side+2)%3], tri.on[side])
			if r.gap(tri) {
				// in a gap points face each other, which leaves no flat triangles
				c := r.pieces[tri.on[side]-1].curve
				if t := c.along(a, b, r.points[tri.v[side]]); f == flat || t > 0.3 && t < 0.7 {
					p = c.at(a, b, t)
				}
			}
			err = r.split(job.t, side, p, 0)
		default:
			err = r.place(job.t, side, f)
		}
		if err != nil {
			return err
		}
		if f == pointed {
			r.spent += len(r.points) - before
		}
		if len(r.points) > before && r.triangles[job.t].v == job.v {
			r.touched = append(r.touched, job.t)
		}
	}
}

// errCostly stops refinement where good angles cost more points than all else.
var errCostly = errors.New("plan: good angles need too many vertices")

var errTooMany = errors.New("plan: more than 100000 vertices; the size function asks for edges too short for the rectangle, or curves lie too near each other")
