package magnetostatic

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"

	"polewright/freefield"
	"polewright/grid"
	"polewright/harmonic"
	"polewright/material"
)

// patches finds the cells round a point.
type patches struct {
	start, tri []int32 // triangles at each vertex
}

func newPatches(tris [][6]int32, nodes int) *patches {
	p := &patches{start: make([]int32, nodes+1)}
	for _, t := range tris {
		for _, v := range t[:3] {
			p.start[v+1]++
		}
	}
	for i := range nodes {
		p.start[i+1] += p.start[i]
	}
	p.tri = make([]int32, p.start[nodes])
	fill := append([]int32(nil), p.start[:nodes]...)
	for t, tri := range tris {
		for _, v := range tri[:3] {
			p.tri[fill[v]] = int32(t)
			fill[v]++
		}
	}
	return p
}

// fold carries a world point into the domain: its place in the grid's frame and the signs by which a gradient there has to be multiplied
// to become the gradient at the point.
func (s *Solution) fold(p r3.Vec) (q, sign [3]float64) {
	g := s.Problem.Grids
	q = g.Frame(r3.Sub(p, g.Center))
	sign = [3]float64{1, 1, 1}
	for k, par := range g.Parity() {
		if par == grid.None || q[k] >= 0 {
			continue
		}
		q[k] = -q[k]
		sign[k] = -sign[k]
		if par == grid.Odd {
			for i := range sign {
				sign[i] = -sign[i]
			}
		}
	}
	return q, sign
}

// locate finds the cell of a point of the domain.
func (s *Solution) locate(q [3]float64) (t, l int, area [3]float64, frac float64, ok bool) {
	q = s.sys.warps.Invert(q)
	f := s.Grid.Faces
	n := s.Grid.Layers()
	if q[2] < f[0] || q[2] > f[n] {
		return
	}
	lo, hi := 0, n
	for hi-lo > 1 {
		if mid := (lo + hi) / 2; f[mid] <= q[2] {
			lo = mid
		} else {
			hi = mid
		}
	}
	t, area, ok = s.Grid.Plan.Locate(r2.Vec{X: q[0], Y: q[1]})
	return t, lo, area, (q[2] - f[lo]) / (f[lo+1] - f[lo]), ok
}

// Body is the body at a point, -1 for air and for bodies that the grid does not follow.
func (s *Solution) Body(p r3.Vec) int {
	q, _ := s.fold(p)
	t, l, _, _, ok := s.locate(q)
	if !ok {
		return -1
	}
	return int(s.Grid.Cell[t*s.Grid.Layers()+l])
}

// raw is H of the element itself at a point of a cell, the exact sources included, in the grid's frame.
func (s *Solution) raw(q [3]float64, t, l int, area [3]float64, frac float64) [3]float64 {
	m := s.Grid.Plan
	tri := &m.Triangles[t]
	n, dxi, deta := triangleShape(area[0], area[1], area[2])
	ln, ld := lineShape(frac)
	nz := 2*s.Grid.Layers() + 1
	h := s.Grid.Faces[l+1] - s.Grid.Faces[l]
	cell := t*s.Grid.Layers() + l
	var ux, uy, vx, vy, gx, gy, gw float64
	for a, p := range tri {
		r := m.Nodes[p]
		ux += dxi[a] * r.X
		uy += deta[a] * r.X
		vx += dxi[a] * r.Y
		vy += deta[a] * r.Y
		var val, slope float64
		for i := range 3 {
			x := s.Phi[int(p)*nz+2*l+i]
			if s.applied != nil && s.sys.solid(cell) {
				x += s.applied[int(p)*nz+2*l+i]
			}
			val += ln[i] * x
			slope += ld[i] * x / h
		}
		gx += dxi[a] * val
		gy += deta[a] * val
		gw += n[a] * slope
	}
	det := ux*vy - uy*vx
	hf := [3]float64{-(gx*vy - gy*vx) / det, -(gy*ux - gx*uy) / det, -gw}
	hf = s.sys.unstretched(hf, s.sys.warps.Invert(q), t, l)
	s.sys.zones.addTo(&hf, cell, q)
	return s.withExact(hf, q, s.sys.solid(cell))
}

// withExact adds H of the exact sources in air; in solid cells the applied potential holds it already.
func (s *Solution) withExact(h, q [3]float64, solid bool) [3]float64 {
	if !solid && len(s.Problem.Exact) > 0 {
		e := s.Problem.Grids.Frame(freefield.Sources(s.Problem.Exact).H(s.Problem.world(q[0], q[1], q[2])))
		for k := range 3 {
			h[k] += e[k]
		}
	}
	return h
}

// added are the exact sources whose field is added to one that is fitted: in air, and in bodies that are one space with it, the potential is smooth
// without theirs. In others it has theirs in it.
func (s *Solution) added(body int32) freefield.Sources {
	if len(s.Problem.Exact) == 0 {
		return nil
	}
	if closed := s.closedForms(); !closed.clear(body) {
		return nil
	}
	return s.Problem.Exact
}

// flux is B of the medium of a body (-1: air) for H in the grid's frame at a point; in air the polarization of an exact source that holds
// the point is added.
func (s *Solution) flux(body int32, h [3]float64, q [3]float64) [3]float64 {
	if body >= 0 {
		var lw law
		m := &s.Problem.Media[body]
		m.at(&h, &q, &lw)
		if m.Descent != nil && m.Linear {
			lost := 1 - s.keptNear(s.sys.kept, q)
			for k := range lw.B {
				lw.B[k] -= lost * m.Polarization[k]
			}
		}
		return lw.B
	}
	for i := range s.Problem.Unfitted {
		if u := &s.Problem.Unfitted[i]; u.Contains(q, 0) {
			var lw law
			u.Medium.at(&h, &q, &lw)
			return lw.B
		}
	}
	b := [3]float64{material.Mu0 * h[0], material.Mu0 * h[1], material.Mu0 * h[2]}
	if i := s.Problem.exactAt(q); i >= 0 {
		j := s.Problem.Grids.Frame(s.Problem.Exact[i].Polarization)
		for k := range 3 {
			b[k] = b[k]*s.Problem.Recoil[i] + j[k]
		}
	}
	return b
}

// At gives B (T) and H (A/m) at any point of space. Within the grid H is recovered from the nodal potentials of the surrounding cells of
// the same body: by solid harmonics where the medium is linear and isotropic, by cubic polynomials elsewhere. Close to magnets their closed
// forms are taken off before the fit: half a millimetre from their edges B is within 1 % of the field in the gap. At a corner of steel the
// field rises without bound, and the cell next to it is not to be trusted. Outside the grid it is that
// of the assembly's dipole.
func (s *Solution) At(p r3.Vec) (b, h r3.Vec) { return s.at(p, s.fitNear) }

// Gauge is B (T) as [Solution.At] has it, but for the mean polarization of magnets nearby in place of what they have next to the point: what two grids
// differ in it is how well they know the field.
func (s *Solution) Gauge(p r3.Vec) r3.Vec {
	b, _ := s.at(p, s.fitMean)
	return b
}

// fitting fits the potential round a point of a cell, less that of the magnets nearby, which it returns.
type fitting func(q [3]float64, t, l int) (f *fit, near freefield.Sources, ok bool)

// at recovers the field by a fit.
func (s *Solution) at(p r3.Vec, fit fitting) (b, h r3.Vec) {
	q, sign := s.fold(p)
	g := s.Problem.Grids
	t, l, area, frac, ok := s.locate(q)
	if !ok || s.far(q) {
		if e, err := s.Outside(); err == nil {
			b = e.Field(p)
			return b, r3.Scale(1/material.Mu0, b)
		}
		if !ok { // no nodes outside the assembly: there is no such grid
			return r3.Vec{}, r3.Vec{}
		}
	}
	body := s.Grid.Cell[t*s.Grid.Layers()+l]
	var hf [3]float64
	if f, near, ok := fit(q, t, l); ok {
		hf = f.field(q)
		s.giveBack(s.added(body), &hf, q, t, l)
		s.giveBack(near, &hf, q, t, l)
	} else {
		hf = s.raw(q, t, l, area, frac)
	}
	bf := s.flux(body, hf, q)
	for k := range 3 {
		hf[k] *= sign[k]
		bf[k] *= sign[k]
	}
	return g.World(bf), g.World(hf)
}

// far tells whether a point lies where the multipoles serve better than the large cells there.
func (s *Solution) far(q [3]float64) bool {
	reach := s.reach()
	return q[0]*q[0]+q[1]*q[1]+q[2]*q[2] > reach*reach
}

const (
	recoverDegree = 4
	patchNodes    = 60 // fewer nodes than this take a lower degree
)

// sample is a node near a point: its place relative to it, and the potential.
type sample struct {
	d     [3]float64 // place, in the grid's frame or seen from a point
	phi   float64
	node  int     // number of the node times eight, and a bit for each plane that it is mirrored in
	count float64 // how many mirror images it stands for
}

// ring lists the triangles that share a corner with one, itself included.
func (s *Solution) ring(t int) []int32 {
	patches := s.patches()
	tris := make([]int32, 0, 24)
	for _, v := range s.Grid.Plan.Triangles[t][:3] {
		for _, o := range patches.tri[patches.start[v]:patches.start[v+1]] {
			if !slices.Contains(tris, o) {
				tris = append(tris, o)
			}
		}
	}
	return tris
}

// around collects the nodes of the cells next to cell (t, l) whose bodies count as its own, with their mirror images where the cells touch a
// plane of symmetry; across the planes that have a parity a node stands for its image.
func (s *Solution) around(t, l int, parity [3]harmonic.Parity, same func(body int32) bool) []sample {
	m := s.Grid.Plan
	nl := s.Grid.Layers()
	nz := 2*nl + 1
	tris := s.ring(t)
	plans := make([]int32, 0, 64) // plan nodes met, and which of the seven layer nodes of each
	layers := make([]uint8, 0, 64)
	out := make([]sample, 0, 21*len(tris))
	for _, o := range tris {
		var at [6]int
		for a, n := range m.Triangles[o] {
			if at[a] = slices.Index(plans, n); at[a] < 0 {
				at[a] = len(plans)
				plans, layers = append(plans, n), append(layers, 0)
			}
		}
		for k := max(0, l-1); k <= min(nl-1, l+1); k++ {
			body := s.Grid.Cell[int(o)*nl+k]
			if !same(body) || s.sys.isCut(int(o)*nl+k) || !s.sys.zones.same(int(o)*nl+k, t*nl+l) {
				continue
			}
			for a, n := range m.Triangles[o] {
				for i := range 3 {
					bit := uint8(1) << (2*(k-l+1) + i)
					if layers[at[a]]&bit != 0 {
						continue
					}
					layers[at[a]] |= bit
					w := s.Grid.Faces[k]
					if i == 1 {
						w = (s.Grid.Faces[k] + s.Grid.Faces[k+1]) / 2
					} else if i == 2 {
						w = s.Grid.Faces[k+1]
					}
					node := int(n)*nz + 2*k + i
					phi := s.Phi[node]
					if body >= 0 && s.applied != nil && len(s.added(body)) == 0 {
						phi += s.applied[node]
					}
					out = append(out, sample{s.sys.warps.Apply([3]float64{m.Nodes[n].X, m.Nodes[n].Y, w}), phi, node << 3, 1})
				}
			}
		}
	}
	tol := 1e-9 * s.Problem.Grids.Scale
	for k, par := range s.Problem.Grids.Parity() {
		touches := func(o sample) bool { return math.Abs(o.d[k]) < tol }
		if par == grid.None || !slices.ContainsFunc(out, touches) {
			continue
		}
		if parity[k] != harmonic.None {
			for i := range out {
				if out[i].d[k] > tol {
					out[i].count *= 2
				}
			}
			continue
		}
		sg := 1.0
		if par == grid.Odd {
			sg = -1
		}
		for _, o := range out {
			if o.d[k] > tol {
				o.d[k] = -o.d[k]
				o.phi *= sg
				o.node |= 1 << k
				out = append(out, o)
			}
		}
	}
	return out
}

// seenFrom gives samples their places from q.
func seenFrom(q [3]float64, nodes []sample) []sample {
	for i := range nodes {
		for k := range q {
			nodes[i].d[k] -= q[k]
		}
	}
	return nodes
}

// fit is a polynomial potential round a point.
type fit struct {
	center   [3]float64
	radius   float64
	degree   int
	harmonic bool
	c        []float64 // coefficients of the harmonics or monomials of (q - center)/radius
	zones    *zones    // of coils, whose T is added to minus the gradient
	cell     int

	medium *Medium                           // in nonlinear media the flux density is fitted, and H follows from it
	b      [3][]float64                      // coefficients of its components
	image  func(q [3]float64) (b [3]float64) // and what is taken off it before, T
}

// fitNear fits the potential less that of the magnets nearby, which it returns, each with the polarization that it has next to the point. Without them,
// air and magnets of little recoil are one space.
func (s *Solution) fitNear(q [3]float64, t, l int) (f *fit, near freefield.Sources, ok bool) {
	return s.fitWithout(s.spaceOf(s.Grid.Cell[t*s.Grid.Layers()+l]), s.here, q, t, l)
}

// spaceOf tells which bodies are one space with a body: of a magnet with much recoil, itself.
func (s *Solution) spaceOf(body int32) func(int32) bool {
	if closed := s.closedForms(); closed.clear(body) {
		return closed.clear
	}
	return func(b int32) bool { return b == body }
}

// fitMean is fitNear with the mean polarization of each magnet.
func (s *Solution) fitMean(q [3]float64, t, l int) (f *fit, near freefield.Sources, ok bool) {
	return s.fitWithout(s.spaceOf(s.Grid.Cell[t*s.Grid.Layers()+l]), whole, q, t, l)
}

func whole(*closedForm, [3]float64) float64 { return 1 }

// fitWithin is fitMean in one body alone, up to its faces.
func (s *Solution) fitWithin(q [3]float64, t, l int) (f *fit, near freefield.Sources, ok bool) {
	body := s.Grid.Cell[t*s.Grid.Layers()+l]
	return s.fitWithout(func(b int32) bool { return b == body }, whole, q, t, l)
}

// fitWithout fits the potential in some bodies, less that of the magnets nearby, times their factors at the point; in steel as it is.
func (s *Solution) fitWithout(space func(body int32) bool, factorOf func(*closedForm, [3]float64) float64, q [3]float64, t, l int) (f *fit, near freefield.Sources, ok bool) {
	body := s.Grid.Cell[t*s.Grid.Layers()+l]
	if closed := s.closedForms(); s.sys.isCut(t*s.Grid.Layers()+l) || !closed.clear(body) && s.Problem.Media[body].Polarization == (Vec{}) {
		f, ok = s.fit(q, t, l)
		return f, nil, ok
	}
	parity := s.parityAt(q)
	nodes := s.around(t, l, parity, space)
	var r2 float64
	for _, n := range nodes {
		x, y, z := n.d[0]-q[0], n.d[1]-q[1], n.d[2]-q[2]
		r2 = math.Max(r2, x*x+y*y+z*z)
	}
	list, ok := s.near(q, math.Sqrt(r2))
	if !ok {
		return nil, nil, false
	}
	for _, c := range list {
		factor := factorOf(c, q)
		m := c.Magnet
		m.Polarization = r3.Scale(factor, m.Polarization)
		near = append(near, m)
		s.takeOff(c, factor, nodes)
	}
	f, ok = s.fitNodes(q, t, l, parity, seenFrom(q, nodes))
	return f, near, ok
}

// fitAlone fits the potential as it is.
func (s *Solution) fitAlone(q [3]float64, t, l int) (f *fit, near freefield.Sources, ok bool) {
	f, ok = s.fit(q, t, l)
	return f, nil, ok
}

// nearby is how many radii of the fitted patch off a magnet counts as near.
const nearby = 2

// fit fits the potential of a body round a point of cell (t, l), with weights that fall with the distance.
func (s *Solution) fit(q [3]float64, t, l int) (*fit, bool) {
	body := s.Grid.Cell[t*s.Grid.Layers()+l]
	switch {
	case s.sys.isCut(t*s.Grid.Layers() + l):
		return nil, false
	case body >= 0 && !s.Problem.Media[body].Linear:
		return s.fitFlux(q, t, l)
	}
	parity := s.parityAt(q)
	return s.fitNodes(q, t, l, parity, seenFrom(q, s.around(t, l, parity, func(b int32) bool { return b == body })))
}

// fitNodes fits the potential at the nodes of a linear body, with the terms that the parity lets through.
func (s *Solution) fitNodes(q [3]float64, t, l int, parity [3]harmonic.Parity, nodes []sample) (*fit, bool) {
	body := s.Grid.Cell[t*s.Grid.Layers()+l]
	f := &fit{center: q, degree: recoverDegree, zones: s.sys.zones, cell: t*s.Grid.Layers() + l, harmonic: body < 0 || s.Problem.Media[body].isotropic() && s.sys.kept == nil}
	var count float64
	for _, n := range nodes {
		count += n.count
		f.radius = math.Max(f.radius, n.d[0]*n.d[0]+n.d[1]*n.d[1]+n.d[2]*n.d[2])
	}
	f.radius = math.Sqrt(f.radius)
	switch {
	case count < 15:
		return nil, false
	case count < patchNodes:
		f.degree = 2
	case !f.harmonic:
		f.degree = 3
	}
	var terms []int
	all := harmonic.Count(f.degree)
	if f.harmonic {
		e := harmonic.Expansion{Degree: f.degree, Polar: 2}
		terms = e.Allowed(parity)
	} else {
		terms, all = allowedMonomials(f.degree, parity)
	}
	e, row, val := newEquations(len(nodes), len(terms)), make([]float64, len(terms)), make([]float64, all)
	for i, n := range nodes {
		x, y, z := n.d[0]/f.radius, n.d[1]/f.radius, n.d[2]/f.radius
		if f.harmonic {
			harmonic.Values(f.degree, x, y, z, val)
		} else {
			monomials(f.degree, x, y, z, val)
		}
		for j, k := range terms {
			row[j] = val[k]
		}
		e.set(i, row, n.phi, math.Sqrt(n.count)*math.Exp(-3*(x*x+y*y+z*z)))
	}
	c, ok := e.solve()
	if !ok {
		return nil, false
	}
	f.c = make([]float64, all)
	for j, k := range terms {
		f.c[k] = c[j]
	}
	return f, true
}

// fitFlux fits the flux density of a nonlinear body round a point, from the quadrature points of the surrounding cells. In saturated steel
// H changes by its own size within a cell where B hardly changes.
func (s *Solution) fitFlux(q [3]float64, t, l int) (*fit, bool) {
	nl := s.Grid.Layers()
	body := s.Grid.Cell[t*nl+l]
	type value struct{ d, b [3]float64 }
	tris := s.ring(t)
	values := make([]value, 0, 3*18*len(tris))
	var v [6][3]float64
	var lw law
	for _, o := range tris {
		for k := max(0, l-1); k <= min(nl-1, l+1); k++ {
			if s.Grid.Cell[int(o)*nl+k] != body {
				continue
			}
			s.cellNodes(int(o), k, &v)
			for pq := range 6 {
				for zq := range 3 {
					hf, at, _ := s.fieldAt(int(o), k, &v, pq, zq)
					s.medium(body).at(&hf, &at, &lw)
					values = append(values, value{at, lw.B})
				}
			}
		}
	}
	for k, par := range s.Problem.Grids.Parity() {
		if par == grid.None || q[k] > s.size(t, l) {
			continue
		}
		for _, o := range values {
			o.d[k] = -o.d[k]
			for i := range o.b {
				if (i == k) == (par == grid.Even) { // Even: only the component across the plane changes sign; Odd: the others do
					o.b[i] = -o.b[i]
				}
			}
			values = append(values, o)
		}
	}
	f := &fit{center: q, medium: s.medium(body)}
	for i := range values {
		var r2 float64
		for k := range 3 {
			values[i].d[k] -= q[k]
			r2 += values[i].d[k] * values[i].d[k]
		}
		f.radius = math.Max(f.radius, r2)
	}
	f.radius = math.Sqrt(f.radius)
	// An exact source on a plane face of steel has an image in it: together they give twice its own field there, which no cell follows at its edge.
	var near freefield.Sources
	for _, m := range s.Problem.Exact {
		if outside(m.Solid.HalfExtent(), m.Place.ToLocal(s.Problem.world(q[0], q[1], q[2]))) < nearby*f.radius {
			near = append(near, m)
		}
	}
	f.image = func(q [3]float64) (b [3]float64) {
		s.giveBack(near, &b, q, t, l)
		for k := range b {
			b[k] *= 2 * material.Mu0
		}
		return b
	}
	if len(near) > 0 {
		for i := range values {
			v := &values[i]
			image := f.image([3]float64{q[0] + v.d[0], q[1] + v.d[1], q[2] + v.d[2]})
			for k := range image {
				v.b[k] -= image[k]
			}
		}
	}
	e := newEquations(len(values), 10)
	var row [10]float64
	right := [3][]float64{e.right, make([]float64, len(values)), make([]float64, len(values))}
	for i, o := range values {
		x, y, z := o.d[0]/f.radius, o.d[1]/f.radius, o.d[2]/f.radius
		w := math.Exp(-3 * (x*x + y*y + z*z))
		monomials(2, x, y, z, row[:])
		e.set(i, row[:], 0, w)
		for k := range right {
			right[k][i] = w * o.b[k]
		}
	}
	c, ok := e.solveFor(right[:]...)
	if !ok {
		return nil, false
	}
	copy(f.b[:], c)
	return f, true
}

// size is the length of a cell in the plan or along the layers, whichever is larger.
func (s *Solution) size(t, l int) float64 {
	tri := s.Grid.Plan.Triangles[t]
	return math.Max(s.Grid.Faces[l+1]-s.Grid.Faces[l], r2.Norm(r2.Sub(s.Grid.Plan.Nodes[tri[0]], s.Grid.Plan.Nodes[tri[1]])))
}

// field is minus the gradient of the fitted potential at a point near its centre.
func (f *fit) field(q [3]float64) (h [3]float64) {
	x, y, z := (q[0]-f.center[0])/f.radius, (q[1]-f.center[1])/f.radius, (q[2]-f.center[2])/f.radius
	if f.medium != nil {
		var m [10]float64
		monomials(2, x, y, z, m[:])
		b := f.image(q)
		for k := range 3 {
			for j, c := range f.b[k] {
				b[k] += c * m[j]
			}
		}
		return f.medium.inverse(b, q)
	}
	grad := make([][3]float64, len(f.c))
	if f.harmonic {
		val := make([]float64, len(f.c))
		harmonic.Values(f.degree, x, y, z, val)
		harmonic.Gradients(f.degree, val, grad)
	} else {
		monomialGradients(f.degree, x, y, z, grad)
	}
	for j, c := range f.c {
		for k := range 3 {
			h[k] -= c * grad[j][k] / f.radius
		}
	}
	f.zones.addTo(&h, f.cell, q)
	return h
}

// power is x^n for a small n.
func power(x float64, n int) float64 {
	p := 1.0
	for range n {
		p *= x
	}
	return p
}

// monomials evaluates 1, x, y, z, and all higher products up to a degree.
func monomials(degree int, x, y, z float64, out []float64) {
	k := 0
	for d := range degree + 1 {
		for i := d; i >= 0; i-- {
			for j := d - i; j >= 0; j-- {
				out[k] = power(x, i) * power(y, j) * power(z, d-i-j)
				k++
			}
		}
	}
}

// allowedMonomials lists the places of the monomials up to a degree that the parities let through, and tells how many there are in all.
func allowedMonomials(degree int, parity [3]harmonic.Parity) (terms []int, all int) {
	fits := func(p harmonic.Parity, n int) bool { return p == harmonic.None || (p == harmonic.Odd) == (n%2 == 1) }
	for d := range degree + 1 {
		for i := d; i >= 0; i-- {
			for j := d - i; j >= 0; j-- {
				if fits(parity[0], i) && fits(parity[1], j) && fits(parity[2], d-i-j) {
					terms = append(terms, all)
				}
				all++
			}
		}
	}
	return terms, all
}

func monomialGradients(degree int, x, y, z float64, out [][3]float64) {
	k := 0
	for d := range degree + 1 {
		for i := d; i >= 0; i-- {
			for j := d - i; j >= 0; j-- {
				m := d - i - j
				px, py, pz := power(x, i), power(y, j), power(z, m)
				var g [3]float64
				if i > 0 {
					g[0] = float64(i) * power(x, i-1) * py * pz
				}
				if j > 0 {
					g[1] = float64(j) * px * power(y, j-1) * pz
				}
				if m > 0 {
					g[2] = float64(m) * px * py * power(z, m-1)
				}
				out[k] = g
				k++
			}
		}
	}
}
