package freefield

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"

	"polewright/material"
	"polewright/shape"
)

// This file holds the forces within an assembly, each pair once.

// Forces gives the force in newton on each magnet and then on each coil, in the order given to [Assemble], from all others, and the torque in newton
// metre about the centre of its placement. Only pairs count for which between is true; nil is all of them. Each pair is
// good to about 1e-6 of its absolute contributions, see [Force]; the work is done on all cores and does not depend on their number.
func (a *Assembly) Forces(between func(i, j int) bool) (force, torque []r3.Vec) {
	return a.ForcesWithin(gradedTol, between)
}

// ForcesWithin is Forces with each pair good to about the given share of its absolute contributions, for what need not be exact: pieces of rings that
// touch take a twentieth of the time at 1e-3.
func (a *Assembly) ForcesWithin(share float64, between func(i, j int) bool) (force, torque []r3.Vec) {
	var parts []prepared
	for _, m := range a.magnets {
		parts = append(parts, prepare(m))
	}
	for i := range a.coils {
		parts = append(parts, prepareCoil(&a.coils[i]))
	}
	n := len(parts)
	force, torque = make([]r3.Vec, n), make([]r3.Vec, n)
	own := make([]*multipoles, n)
	inParallel(n, 1, func(i int) { own[i] = parts[i].multipoles() })
	// A row at a time, so that the memory grows with the parts and not with the pairs. Rows are dealt out from the longest.
	type row struct {
		on []wrench // on the parts before
	}
	rows := make([]row, n)
	inParallel(n, 1, func(k int) {
		i := n - 1 - k
		rows[i].on = make([]wrench, i)
		for j := range i {
			if between == nil || between(i, j) {
				rows[i].on[j] = pairForceWithin(share, &parts[i], &parts[j], own[i], own[j])
			}
		}
	})
	for i := range rows {
		for j, w := range rows[i].on {
			back := w.about(r3.Sub(parts[i].place().Center, parts[j].place().Center))
			force[j], torque[j] = r3.Add(force[j], w.force), r3.Add(torque[j], w.torque)
			force[i], torque[i] = r3.Sub(force[i], back.force), r3.Sub(torque[i], back.torque)
		}
	}
	return force, torque
}

func (b *prepared) place() shape.Placement {
	if b.coil != nil {
		return b.coil.Place
	}
	return b.Place
}

// about is the wrench about a point that lies at v from its own.
func (w wrench) about(v r3.Vec) wrench {
	w.torque = r3.Sub(w.torque, r3.Cross(v, w.force))
	return w
}

// multipoles are those of a body alone, nil where they serve nothing: a block's closed form costs no more.
func (b *prepared) multipoles() *multipoles {
	if b.half != (r3.Vec{}) || !(b.radius > 0) {
		return nil
	}
	c := &multipoles{center: b.center, radius: b.radius, d: make([]complex128, termsTo(mostDegree))}
	b.addMultipoles(b.center, b.radius, c.d)
	c.settle()
	c.bound([]ballOf{{r3.Norm(b.moment()), b.radius}})
	return c
}

// pairForce is the wrench of a on b about the centre of b's placement.
func pairForce(a, b *prepared, ofA, ofB *multipoles) wrench {
	return pairForceWithin(gradedTol, a, b, ofA, ofB)
}

func pairForceWithin(share float64, a, b *prepared, ofA, ofB *multipoles) wrench {
	if a.absent() || b.absent() {
		return wrench{}
	}
	if a.coil != nil && b.coil != nil {
		return b.coil.forceIn(field(a, ofA))
	}
	// The charge of one body in the field of the other, whichever costs less; Newton's third law gives the rest.
	pointsA, ordersA := chargeRule(a, b)
	pointsB, ordersB := chargeRule(b, a)
	if min(pointsA, pointsB) > closedFormPoints {
		if w, ok := parallelBlocks(a, b); ok {
			return w
		}
	}
	if b.coil != nil || a.coil == nil && pointsA*b.cost < pointsB*a.cost {
		w := charged(a, b.fieldFor(pointsB, ordersB, ofB), ordersA, share)
		w.force, w.torque = r3.Scale(-1, w.force), r3.Scale(-1, w.torque)
		return w.about(r3.Sub(b.place().Center, a.place().Center))
	}
	return charged(b, a.fieldFor(pointsA, ordersA, ofA), ordersB, share)
}

// closedFormPoints is how many points of a block's field cost as much as the closed form of the force.
const closedFormPoints = 250

// absent tells of a body without a shape or without volume: it feels nothing.
func (b *prepared) absent() bool {
	if b.coil != nil {
		return b.coil.Winding == nil
	}
	return b.Solid == nil
}

// fieldFor is a body's field as a pair of bodies needs it: by its charges at the points of a rule where these cost less than its closed form.
func (b *prepared) fieldFor(points float64, orders [][2]int, c *multipoles) func(p r3.Vec) r3.Vec {
	const costOfCharge = 5 // ns
	if orders == nil || points*costOfCharge > b.cost {
		return field(b, c)
	}
	charges := make([]Charge, 0, int(points))
	k := 1 / (4 * math.Pi * material.Mu0)
	for i, f := range facesOf(b.Solid, b.local) {
		gu, gv := gauss[orders[i][0]], gauss[orders[i][1]]
		for i, u := range gu.x {
			for l, v := range gv.x {
				at, n := f((1+u)/2, (1+v)/2)
				charges = append(charges, Charge{b.Place.ToWorld(at), k * r3.Dot(b.local, n) * gu.w[i] * gv.w[l] / 4})
			}
		}
	}
	return func(p r3.Vec) (h r3.Vec) {
		for i := range charges {
			d := r3.Sub(p, charges[i].At)
			r2 := r3.Norm2(d)
			h = r3.Add(h, r3.Scale(charges[i].Wb/(r2*math.Sqrt(r2)), d))
		}
		return h
	}
}

// field is that of a body, by its multipoles where they serve.
func field(b *prepared, c *multipoles) func(p r3.Vec) r3.Vec {
	return func(p r3.Vec) r3.Vec {
		if c != nil {
			if degree, ok := c.degreeFor(r3.Norm(r3.Sub(p, c.center))); ok {
				return c.h(p, degree)
			}
		}
		h, _ := b.field(p)
		return h
	}
}

// mostOnce is the highest order of a rule that takes a face in one piece; nearer bodies have theirs cut.
const mostOnce = 14

// cutCost is about how many points a body takes near which the other one comes closer.
const cutCost = 5000

// chargeRule chooses the order of the Gauss rule along each side of each face of b for the field of a, from the clear distance d between the two: the
// field is analytic within d of the face, so the error of the rule of n points falls as rho^-2n with rho = q + sqrt(1 + q^2), q = d over half
// the side (Davis and Rabinowitz 1984, section 4.6), here down to 1e-8 or so. It is nil when a face would take more than mostOnce. points is the number of points.
func chargeRule(b, a *prepared) (points float64, orders [][2]int) {
	if b.coil != nil {
		return math.Inf(1), nil
	}
	d := clearance(a, b)
	order := func(side float64) int {
		q := 2 * d / side
		return int(math.Ceil(12 / math.Log(q+math.Sqrt(1+q*q))))
	}
	for _, f := range facesOf(b.Solid, b.local) {
		// Twice the sides at the middle and the edges at most: an arc is longer than its chord by up to a tenth, and bends.
		var u, v float64
		for _, t := range []float64{0, 0.5, 1} {
			u = max(u, 1.3*distance(f, 0, t, 1, t))
			v = max(v, 1.3*distance(f, t, 0, t, 1))
		}
		if !(d > 0) || order(u) > mostOnce || order(v) > mostOnce {
			return cutCost, nil
		}
		n := [2]int{order(u), order(v)}
		orders = append(orders, n)
		points += float64(n[0] * n[1])
	}
	return points, orders
}

func distance(f face, u0, v0, u1, v1 float64) float64 {
	a, _ := f(u0, v0)
	b, _ := f(u1, v1)
	return r3.Norm(r3.Sub(a, b))
}

// charged integrates a field over the charge of b by the rules chosen for its faces; when there are none, by graded rules of two orders, and where these
// differ by more than the share wanted by cutting the faces.
func charged(b *prepared, field func(p r3.Vec) r3.Vec, orders [][2]int, share float64) (w wrench) {
	faces := facesOf(b.Solid, b.local)
	if orders != nil {
		for k, f := range faces {
			w = w.plus(b.overFace(f, gauss[orders[k][0]], gauss[orders[k][1]], field))
		}
		return w
	}
	var v wrench
	for _, f := range faces {
		v = v.plus(b.overFace(f, gradedLow, gradedLow, field))
		w = w.plus(b.overFace(f, gradedHigh, gradedHigh, field))
	}
	size := max(b.half.X, b.half.Y, b.half.Z, b.radius/2)
	if r3.Norm(r3.Sub(w.force, v.force))+r3.Norm(r3.Sub(w.torque, v.torque))/size <= share*w.size {
		return w
	}
	return forceWithin(share/gradedTol*forceTol, b.Magnet, field)
}

// overFace integrates a field over the charge of one face. Points lie a part in 1e9 within the body, so that a face in contact feels the field on
// its own side.
func (b *prepared) overFace(f face, gu, gv rule, field func(p r3.Vec) r3.Vec) (w wrench) {
	for i, u := range gu.x {
		for l, v := range gv.x {
			at, n := f((1+u)/2, (1+v)/2)
			area := r3.Norm(n)
			if area == 0 {
				continue
			}
			charge := r3.Dot(b.local, n) * gu.w[i] * gv.w[l] / 4
			at = r3.Sub(at, r3.Scale(1e-9*b.radius/area, n))
			d := r3.Scale(charge, field(b.Place.ToWorld(at)))
			w.force = r3.Add(w.force, d)
			w.torque = r3.Add(w.torque, r3.Cross(b.Place.Rot.Apply(at), d))
			w.size += r3.Norm(d)
		}
	}
	return w
}

// The graded rules are Gauss rules after the substitution by the smooth step s = u^2 (3 - 2u), which crowds the points towards both ends: there the
// field has a logarithm where an edge of the other body lies on, or near, one of the face.
var gradedLow, gradedHigh = graded(17), graded(24)

// gradedTol is the difference of the two, over the absolute contributions, up to which the higher one is taken: its error was seen to be 5 to 40
// times less.
const gradedTol = 5e-6

func graded(n int) (r rule) {
	for i, x := range gauss[n].x {
		u := (1 + x) / 2
		s := u * u * (3 - 2*u)
		r.x = append(r.x, 2*s-1)
		r.w = append(r.w, gauss[n].w[i]*6*u*(1-u))
	}
	return r
}

// clearance is a lower bound of the distance between two bodies: between the balls about them, between a coil's winding
// and the ball about the other, and between the boxes about them along the normals of
// the boxes' faces (separating axes; S. Gottschalk, M. C. Lin, D. Manocha, OBBTree, SIGGRAPH 1996).
func clearance(a, b *prepared) float64 {
	d := r3.Norm(r3.Sub(a.center, b.center)) - a.radius - b.radius
	for _, p := range [2][2]*prepared{{a, b}, {b, a}} {
		if c := p[0].coil; c != nil {
			w, _ := c.winding()
			d = max(d, w.distance(c.Place.ToLocal(p[1].center))-p[1].radius)
		}
	}
	return max(d, apart(a, b), apart(b, a))
}

// apart is the gap between two bodies along the axes of a.
func apart(a, b *prepared) (gap float64) {
	p, q := a.place(), b.place()
	lo, hi := a.box()
	// b seen from a.
	rot := shape.Rotation{}
	for i := range 3 {
		for k := range 3 {
			for l := range 3 {
				rot[i][k] += p.Rot[l][i] * q.Rot[l][k]
			}
		}
	}
	center := p.ToLocal(q.Center)
	blo, bhi := b.box()
	mid, half := r3.Scale(0.5, r3.Add(blo, bhi)), r3.Scale(0.5, r3.Sub(bhi, blo))
	at := r3.Add(center, rot.Apply(mid))
	for i, c := range [3]float64{at.X, at.Y, at.Z} {
		reach := math.Abs(rot[i][0])*half.X + math.Abs(rot[i][1])*half.Y + math.Abs(rot[i][2])*half.Z
		l, h := [3]float64{lo.X, lo.Y, lo.Z}[i], [3]float64{hi.X, hi.Y, hi.Z}[i]
		gap = max(gap, c-reach-h, l-c-reach)
	}
	return gap
}

// box bounds a body in its own frame.
func (b *prepared) box() (lo, hi r3.Vec) {
	solid := b.Solid
	if b.coil != nil {
		solid = b.coil.Winding
	}
	if _, ok := solid.(shape.Wedge); ok {
		box := shape.Bounds(solid, shape.Placement{Rot: shape.Identity()})
		return box.Min, box.Max
	}
	h := solid.HalfExtent()
	return r3.Scale(-1, h), h
}
