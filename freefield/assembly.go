package freefield

import (
	"cmp"
	"math"
	"runtime"
	"slices"
	"sync"
	"sync/atomic"

	"gonum.org/v1/gonum/spatial/r3"

	"polewright/material"
	"polewright/shape"
)

// Assembly is a set of magnets and coils made ready for many points, and for the forces between them. Bodies far from a point are summed by clusters, as multipoles: against the sum
// body by body that costs at most 1e-10 of the sum over the bodies of m/(4 pi R^3), the least field that a dipole m at R can have
// (times mu0 for B, times R for the potential). It may be used from several goroutines at once.
//
// The clusters are those of J. Barnes, P. Hut, Nature 324 (1986) 446, with the multipoles of L. Greengard, V. Rokhlin, J. Comput. Phys. 73 (1987) 325.
type Assembly struct {
	magnets Sources
	coils   []Coil
	bodies  []prepared // in the order of the tree
	nodes   []cluster  // the root first; empty without bodies

	// With recoil, see [Relax]: the magnets without it, and their recoil permeabilities.
	bare   Sources
	recoil []float64
}

// prepared is a magnet or a coil with what does not depend on the point.
type prepared struct {
	Magnet
	coil   *Coil
	half   r3.Vec // of a block, else zero
	local  r3.Vec // J in its own frame
	center r3.Vec // of a ball that holds it
	radius float64
	cost   float64 // of its closed form, about, ns

	// With recoil, see [Relax]:
	bare   r3.Vec  // J of the recoil line, world frame
	excess float64 // relative recoil permeability less one
	panels []panel
	rest   *multipoles // of the panels
}

// cluster is a node of the tree: the bodies from first up to last. A leaf has no children.
type cluster struct {
	multipoles
	first, last int
	child       [2]int
	leaf        bool
	cost        float64
}

// leafBodies is how many bodies a cluster has at most that is not cut any more.
const leafBodies = 6

// Assemble makes magnets and coils ready. It takes a millisecond or so for each.
func Assemble(s Sources, coils ...Coil) *Assembly {
	a := &Assembly{magnets: s, coils: coils}
	a.plant(0)
	a.fill()
	return a
}

// plant prepares the bodies, with panels if any are asked for, and grows the tree.
func (a *Assembly) plant(cuts int) {
	a.bodies, a.nodes = make([]prepared, 0, len(a.magnets)+len(a.coils)), nil
	for i, m := range a.magnets {
		if m.Solid == nil {
			continue
		}
		b := prepare(m)
		if a.recoil != nil {
			b.bare, b.excess = a.bare[i].Polarization, a.recoil[i]-1
		}
		if b.half != (r3.Vec{}) && b.excess != 0 && cuts > 0 {
			b.panels = panelsOf(b.half, cuts)
			b.cost += costOf(panelDegree)
		}
		a.bodies = append(a.bodies, b)
	}
	for i := range a.coils {
		if a.coils[i].Winding != nil {
			a.bodies = append(a.bodies, prepareCoil(&a.coils[i]))
		}
	}
	if len(a.bodies) > 0 {
		a.grow(0, len(a.bodies))
	}
}

func prepare(m Magnet) prepared {
	b := prepared{Magnet: m, local: m.Place.Rot.Inverse(m.Polarization), center: m.Place.Center, cost: 1500}
	h := m.halfExtent()
	b.radius = r3.Norm(h)
	switch s := m.Solid.(type) {
	case shape.Block:
		b.half, b.cost = h, 200
	case shape.Disc, shape.Ring:
		b.radius = math.Hypot(h.X, h.Z)
	case shape.Wedge:
		box := shape.Bounds(s, shape.Placement{Rot: shape.Identity()})
		b.center = m.Place.ToWorld(r3.Scale(0.5, r3.Add(box.Min, box.Max)))
		b.radius = r3.Norm(r3.Sub(box.Max, box.Min)) / 2
		b.cost = 8000
	}
	return b
}

func prepareCoil(c *Coil) prepared {
	if c.Winding == nil {
		return prepared{coil: c}
	}
	h := c.Winding.HalfExtent()
	b := prepared{coil: c, center: c.Place.Center, radius: r3.Norm(h), cost: 40_000}
	if _, ring := c.Winding.(shape.Ring); ring {
		b.radius = math.Hypot(h.X, h.Z)
	}
	return b
}

func (b *prepared) moment() r3.Vec {
	if b.coil != nil {
		return b.coil.Moment()
	}
	return b.Moment()
}

// field is that of [Magnet.field].
func (b *prepared) field(p r3.Vec) (h r3.Vec, share float64) {
	if b.coil != nil {
		return b.coil.H(p), 0
	}
	if b.half == (r3.Vec{}) {
		return b.Magnet.field(p)
	}
	h, share = blockTimes(b.half, b.Place.ToLocal(p), b.local)
	h = r3.Scale(1/(4*math.Pi*material.Mu0), b.Place.Rot.Apply(h))
	if b.panels != nil {
		h = r3.Add(h, b.fieldOfPanels(p))
	}
	return h, share
}

// within is what the medium of a body adds to mu0 H about a point of which it holds a share: a polarization, and a part of H.
func (b *prepared) within(share float64) (j r3.Vec, excess float64) {
	if b.excess != 0 {
		return r3.Scale(share, b.bare), share * b.excess
	}
	return r3.Scale(share, b.Polarization), 0
}

// grow cuts the bodies from first up to last in two along the longest extent of their centres until few are left, and returns the node.
func (a *Assembly) grow(first, last int) int {
	n := len(a.nodes)
	a.nodes = append(a.nodes, cluster{first: first, last: last, leaf: true})
	part := a.bodies[first:last]
	lo, hi := part[0].center, part[0].center
	var cost float64
	for i := range part {
		c := part[i].center
		lo = r3.Vec{X: min(lo.X, c.X), Y: min(lo.Y, c.Y), Z: min(lo.Z, c.Z)}
		hi = r3.Vec{X: max(hi.X, c.X), Y: max(hi.Y, c.Y), Z: max(hi.Z, c.Z)}
		cost += part[i].cost
	}
	c := &a.nodes[n]
	c.cost = cost
	c.center = r3.Scale(0.5, r3.Add(lo, hi))
	for i := range part {
		c.radius = max(c.radius, r3.Norm(r3.Sub(part[i].center, c.center))+part[i].radius)
	}
	if len(part) <= leafBodies {
		return n
	}
	d := r3.Sub(hi, lo)
	along := func(v r3.Vec) float64 {
		switch max(d.X, d.Y, d.Z) {
		case d.X:
			return v.X
		case d.Y:
			return v.Y
		}
		return v.Z
	}
	slices.SortStableFunc(part, func(p, q prepared) int { return cmp.Compare(along(p.center), along(q.center)) })
	c.leaf = false
	middle := first + len(part)/2
	l := a.grow(first, middle)
	r := a.grow(middle, last)
	a.nodes[n].child = [2]int{l, r} // the slice may have moved
	return n
}

// fill works out the multipoles: of the leaves from their bodies, of the others from their children, which follow them in the list.
func (a *Assembly) fill() {
	inParallel(len(a.nodes), 1, func(i int) {
		c := &a.nodes[i]
		c.d = make([]complex128, termsTo(mostDegree))
		if !c.leaf || !(c.radius > 0) {
			return
		}
		for k := c.first; k < c.last; k++ {
			a.bodies[k].addMultipoles(c.center, c.radius, c.d)
		}
	})
	for i := len(a.nodes) - 1; i >= 0; i-- {
		c := &a.nodes[i]
		if c.leaf || !(c.radius > 0) {
			continue
		}
		for _, k := range c.child {
			e := &a.nodes[k]
			shifted(e.d, r3.Scale(1/c.radius, r3.Sub(e.center, c.center)), e.radius/c.radius, c.d)
		}
	}
	inParallel(len(a.nodes), 8, func(i int) {
		c := &a.nodes[i]
		c.settle()
		var balls []ballOf
		for k := c.first; k < c.last; k++ {
			b := &a.bodies[k]
			balls = append(balls, ballOf{r3.Norm(b.moment()), r3.Norm(r3.Sub(b.center, c.center)) + b.radius})
		}
		c.bound(balls)
	})
}

// addMultipoles adds D_lm of a body about a centre, in units of a radius that the body stays within.
func (b *prepared) addMultipoles(center r3.Vec, radius float64, d []complex128) {
	volume := make([]complex128, termsTo(mostDegree))
	f := make([]complex128, termsTo(mostDegree))
	clear := radius * (1/farReach - 1) // a point that the multipoles serve is this far from the ball
	place, rule, magnetization := b.Place, []weighted(nil), r3.Scale(1/material.Mu0, b.Polarization)
	if b.coil != nil {
		place, rule, magnetization = b.coil.Place, b.coil.rule(clear), b.coil.Place.Rot.Apply(r3.Vec{Z: 1})
	} else {
		rule = volumeRule(b.Solid, clear)
	}
	for _, q := range rule {
		regular(r3.Scale(1/radius, r3.Sub(place.ToWorld(q.at), center)), mostDegree, f)
		for t, v := range f {
			volume[t] += complex(q.w*real(v), q.w*imag(v))
		}
	}
	magnetized(volume, magnetization, d)
	if b.panels != nil {
		b.addPanels(center, radius, d)
	}
}

// visit walks the tree for a point: far clusters go to far with the degree that serves, the bodies of the others to near.
func (a *Assembly) visit(p r3.Vec, far func(c *multipoles, degree int), near func(b *prepared)) {
	var stack [64]int // deeper than any tree of halves
	top := 0
	if len(a.nodes) > 0 {
		top = 1
	}
	for top > 0 {
		top--
		c := &a.nodes[stack[top]]
		if degree, ok := c.degreeFor(r3.Norm(r3.Sub(p, c.center))); ok && c.cost > costOf(degree) {
			far(&c.multipoles, degree)
			continue
		}
		if !c.leaf {
			stack[top], stack[top+1] = c.child[1], c.child[0]
			top += 2
			continue
		}
		for i := c.first; i < c.last; i++ {
			near(&a.bodies[i])
		}
	}
}

// costOf is what multipoles up to a degree cost, about, ns.
func costOf(degree int) float64 { return 50 + 2*float64((degree+2)*(degree+2)) }

// Field is B in tesla and H in A/m at the world point p, see [Magnet.B].
func (a *Assembly) Field(p r3.Vec) (b, h r3.Vec) {
	var j r3.Vec
	mu := 1.0
	a.visit(p, func(c *multipoles, degree int) { h = r3.Add(h, c.h(p, degree)) }, func(m *prepared) {
		f, share := m.field(p)
		h = r3.Add(h, f)
		if share != 0 {
			own, excess := m.within(share)
			j, mu = r3.Add(j, own), mu+excess
		}
	})
	return r3.Add(r3.Scale(mu*material.Mu0, h), j), h
}

// B is the flux density in tesla at the world point p.
func (a *Assembly) B(p r3.Vec) r3.Vec { b, _ := a.Field(p); return b }

// H is the field in A/m at the world point p.
func (a *Assembly) H(p r3.Vec) r3.Vec { _, h := a.Field(p); return h }

// Potential is the scalar potential in ampere of the magnets at the world point p, see [Magnet.Potential]. Coils have none.
func (a *Assembly) Potential(p r3.Vec) (sum float64) {
	if len(a.coils) > 0 {
		return a.magnets.Potential(p)
	}
	a.visit(p, func(c *multipoles, degree int) { sum += c.phi(p, degree) }, func(m *prepared) { sum += m.Magnet.Potential(p) })
	return sum
}

// Fields sets b[i] and h[i] to B and H at points[i], on all cores; either slice may be nil. The result is that of [Assembly.Field], bit for bit,
// whatever the number of cores.
func (a *Assembly) Fields(points, b, h []r3.Vec) {
	a.inBatches(len(points), func(lo, hi int) {
		var sum, j [pointsAtOnce]r3.Vec
		var excess [pointsAtOnce]float64
		a.sweep(points[lo:hi], func(i int, c *multipoles, degree int) {
			sum[i] = r3.Add(sum[i], c.h(points[lo+i], degree))
		}, func(i int, m *prepared) {
			f, share := m.field(points[lo+i])
			sum[i] = r3.Add(sum[i], f)
			if share != 0 {
				own, mu := m.within(share)
				j[i], excess[i] = r3.Add(j[i], own), excess[i]+mu
			}
		})
		for i := range hi - lo {
			if b != nil {
				b[lo+i] = r3.Add(r3.Scale((1+excess[i])*material.Mu0, sum[i]), j[i])
			}
			if h != nil {
				h[lo+i] = sum[i]
			}
		}
	})
}

// Potentials sets phi[i] to the potential at points[i], likewise.
func (a *Assembly) Potentials(points []r3.Vec, phi []float64) {
	a.inBatches(len(points), func(lo, hi int) {
		if len(a.coils) > 0 {
			for i := lo; i < hi; i++ {
				phi[i] = a.Potential(points[i])
			}
			return
		}
		clear(phi[lo:hi])
		a.sweep(points[lo:hi], func(i int, c *multipoles, degree int) { phi[lo+i] += c.phi(points[lo+i], degree) },
			func(i int, m *prepared) { phi[lo+i] += m.Magnet.Potential(points[lo+i]) })
	})
}

// sweep is [Assembly.visit] for several points: a cluster serves all of them while its numbers are at hand. Each point meets the same terms in the same
// order as alone.
func (a *Assembly) sweep(points []r3.Vec, far func(i int, c *multipoles, degree int), near func(i int, b *prepared)) {
	var walk func(node int, at []int)
	walk = func(node int, at []int) {
		c := &a.nodes[node]
		var buffer [pointsAtOnce]int
		rest := buffer[:0]
		for _, i := range at {
			if degree, ok := c.degreeFor(r3.Norm(r3.Sub(points[i], c.center))); ok && c.cost > costOf(degree) {
				far(i, &c.multipoles, degree)
			} else {
				rest = append(rest, i)
			}
		}
		switch {
		case len(rest) == 0:
		case c.leaf:
			for k := c.first; k < c.last; k++ {
				for _, i := range rest {
					near(i, &a.bodies[k])
				}
			}
		default:
			walk(c.child[0], rest)
			walk(c.child[1], rest)
		}
	}
	var all [pointsAtOnce]int
	for i := range points {
		all[i] = i
	}
	if len(a.nodes) > 0 {
		walk(0, all[:len(points)])
	}
}

func (a *Assembly) inBatches(n int, do func(lo, hi int)) {
	inParallel((n+pointsAtOnce-1)/pointsAtOnce, 1, func(k int) { do(k*pointsAtOnce, min((k+1)*pointsAtOnce, n)) })
}

// pointsAtOnce is the share of points that a core takes at a time.
const pointsAtOnce = 64

// inParallel calls do for 0 to n-1, each index once, a batch at a time on each core.
func inParallel(n, batch int, do func(i int)) {
	workers := min(runtime.GOMAXPROCS(0), (n+batch-1)/batch)
	if workers <= 1 {
		for i := range n {
			do(i)
		}
		return
	}
	var next atomic.Int64
	var wait sync.WaitGroup
	for range workers {
		wait.Go(func() {
			for {
				end := int(next.Add(int64(batch)))
				for i := end - batch; i < min(end, n); i++ {
					do(i)
				}
				if end >= n {
					return
				}
			}
		})
	}
	wait.Wait()
}
