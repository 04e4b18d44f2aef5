package axisymmetric

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"

	"polewright/material"
)

// patches finds the triangles round a vertex.
type patches struct{ start, tri []int32 }

func newPatches(m *mesh) *patches {
	p := &patches{start: make([]int32, len(m.Nodes)+1)}
	for _, t := range m.Triangles {
		for _, v := range t[:3] {
			p.start[v+1]++
		}
	}
	for i := range m.Nodes {
		p.start[i+1] += p.start[i]
	}
	p.tri = make([]int32, p.start[len(m.Nodes)])
	fill := slices.Clone(p.start)
	for t, tri := range m.Triangles {
		for _, v := range tri[:3] {
			p.tri[fill[v]] = int32(t)
			fill[v]++
		}
	}
	return p
}

// around lists the triangles that share a corner with one and its body and winding, itself included.
func (s *Solution) around(t int32) []int32 {
	m := s.sys.mesh
	tris := make([]int32, 0, 24)
	for _, v := range m.Triangles[t][:3] {
		for _, o := range s.ring.tri[s.ring.start[v]:s.ring.start[v+1]] {
			if m.body[o] == m.body[t] && m.winding[o] == m.winding[t] && !slices.Contains(tris, o) {
				tris = append(tris, o)
			}
		}
	}
	return tris
}

// At gives B (T) and H (A/m) at any world point. Near it the potential is fitted by exact solutions of Laplace's equation where the medium is
// linear, in steel the flux density by polynomials; beyond the meshes the field is that of the multipoles.
func (s *Solution) At(p r3.Vec) (b, h r3.Vec) {
	r, z, cos, sin := s.domain.meridian(p)
	bf, hf := s.meridianField(r, z)
	return s.domain.world(bf[0]*cos, bf[0]*sin, bf[1]), s.domain.world(hf[0]*cos, hf[0]*sin, hf[1])
}

// multipolesFrom is the share of the domain's radius from which the multipoles serve better than the large triangles there.
const multipolesFrom = 0.85

func (s *Solution) meridianField(r, z float64) (b, h Vec) {
	if math.Hypot(r, z) > multipolesFrom*s.domain.radius {
		h = s.outside(r, z)
		return Vec{material.Mu0 * h[0], material.Mu0 * h[1]}, h
	}
	at, sign := s.fold(z)
	t, area, ok := s.sys.mesh.Locate(r2.Vec{X: r, Y: at})
	if !ok {
		return Vec{}, Vec{}
	}
	h = s.recovered(int32(t), area, Vec{r, at})
	b = s.sys.medium(int32(t)).at(h, Vec{r, at}).B
	for k := range 2 {
		h[k] *= sign[k]
		b[k] *= sign[k]
	}
	return b, h
}

// fold carries a height into the domain and gives the signs by which a field there becomes that at the height.
func (s *Solution) fold(z float64) (at float64, sign Vec) {
	switch {
	case z >= 0 || s.domain.parity == None:
		return z, Vec{1, 1}
	case s.domain.parity == Odd:
		return -z, Vec{-1, 1}
	}
	return -z, Vec{1, -1}
}

// recovered is H at a point of a triangle, from a fit, else that of the element itself.
func (s *Solution) recovered(t int32, area [3]float64, q Vec) Vec {
	if f := s.fitOf(t); f != nil {
		return f.field(q)
	}
	return s.raw(t, area, q)
}

// fitOf is the fit about the middle of a triangle, computed once.
func (s *Solution) fitOf(t int32) *fit {
	if f, ok := s.fits.Load(t); ok {
		return f.(*fit)
	}
	m := s.sys.mesh
	a, b, c := m.Nodes[m.Triangles[t][0]], m.Nodes[m.Triangles[t][1]], m.Nodes[m.Triangles[t][2]]
	f := s.fit(t, Vec{(a.X + b.X + c.X) / 3, (a.Y + b.Y + c.Y) / 3})
	s.fits.Store(t, f)
	return f
}

// raw is H of the element itself.
func (s *Solution) raw(t int32, area [3]float64, q Vec) Vec {
	m := s.sys.mesh
	_, d1, d2 := triangleShape(area[0], area[1], area[2])
	var j [4]float64
	var g1, g2 float64
	for a, n := range m.Triangles[t] {
		x := m.Nodes[n]
		j[0] += d1[a] * x.X
		j[1] += d1[a] * x.Y
		j[2] += d2[a] * x.X
		j[3] += d2[a] * x.Y
		g1 += d1[a] * s.phi[n]
		g2 += d2[a] * s.phi[n]
	}
	det := j[0]*j[3] - j[1]*j[2]
	return Vec{-(g1*j[3] - g2*j[1]) / det, -(g2*j[0]-g1*j[2])/det + s.sys.currentAt(t, q[0])}
}

// currentAt is the current vector potential at a radius of a triangle.
func (s *system) currentAt(t int32, r float64) float64 {
	if len(s.domain.Coils) == 0 {
		return 0
	}
	tri := &s.mesh.Triangles[t]
	return s.domain.currentPotential(r, (s.mesh.Nodes[tri[0]].Y+s.mesh.Nodes[tri[1]].Y+s.mesh.Nodes[tri[2]].Y)/3)
}

// sample is the potential at a node near a point.
type sample struct {
	at  Vec
	phi float64
}

// samples collects the nodes of triangles, with their mirror images where they touch the plane of symmetry. Outside windings the part of the
// potential that the current vector potential of a bore makes is taken off, so that it has no kink at the ends of coils.
func (s *Solution) samples(tris []int32, q Vec, winding bool) []sample {
	m := s.sys.mesh
	seen := make(map[int32]bool, 3*len(tris))
	out := make([]sample, 0, 6*len(tris))
	for _, t := range tris {
		for _, n := range m.Triangles[t] {
			if seen[n] {
				continue
			}
			seen[n] = true
			at := Vec{m.Nodes[n].X, m.Nodes[n].Y}
			out = append(out, sample{at, s.phi[n]})
		}
	}
	tol := 1e-9 * s.domain.radius
	if s.domain.parity != None && slices.ContainsFunc(out, func(o sample) bool { return o.at[1] < tol }) {
		for _, o := range out {
			if o.at[1] > tol {
				if s.domain.parity == Odd {
					o.phi = -o.phi
				}
				out = append(out, sample{Vec{o.at[0], -o.at[1]}, o.phi})
			}
		}
	}
	if !winding {
		kept := out[:0]
		for _, o := range out {
			if f, ok := s.domain.boreShare(o.at, q); ok {
				kept = append(kept, sample{o.at, o.phi - f})
			}
		}
		out = kept
	}
	return out
}

// boreShare is the integral along the axis of the current vector potential within the bores of coils, from the end of each coil nearest q, or
// from its middle where q lies within. ok is false for a point that cannot be seen from q without passing a winding.
func (d *domain) boreShare(at, q Vec) (f float64, ok bool) {
	for i := range d.Coils {
		c := &d.Coils[i]
		edge := c.Inner * (1 + 1e-9)
		from := math.Min(math.Max(q[1], c.Low), c.High)
		within := q[1] > c.Low && q[1] < c.High
		if within {
			if (q[0] <= edge) != (at[0] <= edge) {
				return 0, false
			}
			from = (c.Low + c.High) / 2
		}
		if at[0] <= edge {
			f += c.density() * (c.Outer - c.Inner) * (math.Min(math.Max(at[1], c.Low), c.High) - from)
		}
	}
	return f, true
}

const (
	recoverDegree = 5
	axisDegree    = 7
	fewest        = 12 // nodes of a patch
)

// fit gives a local potential round a point of a triangle, nil where there are too few nodes.
func (s *Solution) fit(t int32, q Vec) *fit {
	m := s.sys.medium(t)
	tris := s.around(t)
	if !m.linear() {
		return s.fitFlux(tris, q, m)
	}
	winding := s.sys.mesh.winding[t] >= 0
	nodes := s.samples(tris, q, winding)
	if len(nodes) < fewest {
		return nil
	}
	f := &fit{center: q, stretch: math.Sqrt(m.Radial / m.Axial)}
	if winding {
		f.current = func(r float64) float64 { return s.sys.currentAt(t, r) }
	}
	onAxis := slices.ContainsFunc(nodes, func(o sample) bool { return o.at[0] < 1e-9*s.domain.radius })
	for _, o := range nodes {
		f.radius = math.Max(f.radius, math.Hypot(o.at[0]-q[0], f.stretch*(o.at[1]-q[1])))
	}
	if onAxis {
		f.zonal = true
		f.degree = axisDegree
		f.radius = math.Max(f.radius, q[0])
	} else {
		f.degree = recoverDegree
		if len(nodes) < 25 {
			f.degree = 3
		}
		f.basis = localBasis(q[0]/f.radius, f.degree)
	}
	rows := mat.NewDense(len(nodes), f.columns(), nil)
	rhs := mat.NewVecDense(len(nodes), nil)
	for i, o := range nodes {
		x, y := f.place(o.at)
		dx := (o.at[0] - q[0]) / f.radius
		w := math.Exp(-3 * (dx*dx + y*y))
		if f.zonal {
			w *= x
		}
		row := rows.RawRowView(i)
		f.values(x, y, row)
		for j := range row {
			row[j] *= w
		}
		rhs.SetVec(i, w*o.phi)
	}
	c, ok := leastSquares(rows, rhs)
	if !ok {
		return nil
	}
	f.c = c
	if !f.zonal { // over the monomials
		f.c = make([]float64, monomials(f.degree))
		for j, b := range f.basis {
			for k, x := range b {
				f.c[k] += c[j] * x
			}
		}
		f.basis = nil
	}
	return f
}

// leastSquares solves by columns of unit length.
func leastSquares(a *mat.Dense, b *mat.VecDense) (c []float64, ok bool) {
	rows, n := a.Dims()
	if rows < n {
		return nil, false
	}
	scale := make([]float64, n)
	for j := range n {
		for i := range rows {
			scale[j] = math.Hypot(scale[j], a.At(i, j))
		}
		if scale[j] == 0 {
			scale[j] = 1
		}
	}
	for i := range rows {
		row := a.RawRowView(i)
		for j := range row {
			row[j] /= scale[j]
		}
	}
	var qr mat.QR
	qr.Factorize(a)
	var x mat.VecDense
	if err := qr.SolveVecTo(&x, false, b); err != nil && !(qr.Cond() < 1e12) {
		return nil, false
	}
	c = make([]float64, n)
	for j := range c {
		c[j] = x.AtVec(j) / scale[j]
	}
	return c, true
}

// fit is a local field.
type fit struct {
	center  Vec
	radius  float64
	stretch float64 // of z: sqrt(mu_r/mu_z), with which the potential is harmonic
	degree  int
	zonal   bool                    // solid zonal harmonics about the axis at the centre's height, else the local basis
	basis   [][]float64             // while fitting: coefficients of each function over the monomials
	c       []float64               // of the zonal harmonics, or of the monomials
	current func(r float64) float64 // T within a winding

	medium *Medium // steel: B is fitted, and H follows from it
	b      [2][]float64
}

func (f *fit) columns() int {
	if f.zonal {
		return f.degree + 1
	}
	return len(f.basis)
}

// place gives the local coordinates of a point.
func (f *fit) place(at Vec) (x, y float64) {
	y = f.stretch * (at[1] - f.center[1]) / f.radius
	if f.zonal {
		return at[0] / f.radius, y
	}
	return (at[0] - f.center[0]) / f.radius, y
}

func (f *fit) values(x, y float64, out []float64) {
	if f.zonal {
		zonal(x, y, out, nil)
		return
	}
	mono := make([]float64, monomials(f.degree))
	monomialValues(f.degree, x, y, mono)
	for j, b := range f.basis {
		out[j] = dot(b, mono)
	}
}

// field is H at a point near the centre.
func (f *fit) field(at Vec) (h Vec) {
	x, y := f.place(at)
	if f.medium != nil {
		var m [6]float64
		monomialValues(2, x, y, m[:])
		return f.medium.inverse(Vec{dot(f.b[0], m[:]), dot(f.b[1], m[:])}, at)
	}
	if f.zonal {
		val, grad := make([]float64, f.degree+1), make([]Vec, f.degree+1)
		zonal(x, y, val, grad)
		for l, c := range f.c {
			h[0] -= c * grad[l][0]
			h[1] -= c * grad[l][1]
		}
	} else {
		grad := make([]Vec, monomials(f.degree))
		monomialGradients(f.degree, x, y, grad)
		for k, c := range f.c {
			h[0] -= c * grad[k][0]
			h[1] -= c * grad[k][1]
		}
	}
	h[0] /= f.radius
	h[1] *= f.stretch / f.radius
	if f.current != nil {
		h[1] += f.current(at[0])
	}
	return h
}

// zonal evaluates the solid zonal harmonics rho^l P_l(cos theta), and their gradients if wanted.
func zonal(r, z float64, val []float64, grad []Vec) {
	rho2 := r*r + z*z
	val[0] = 1
	if grad != nil {
		grad[0] = Vec{}
	}
	for l := range len(val) - 1 {
		a, b := float64(2*l+1)/float64(l+1), float64(l)/float64(l+1)
		val[l+1] = a * z * val[l]
		if grad != nil {
			grad[l+1] = Vec{a * z * grad[l][0], a * (val[l] + z*grad[l][1])}
		}
		if l > 0 {
			val[l+1] -= b * rho2 * val[l-1]
			if grad != nil {
				grad[l+1][0] -= b * (2*r*val[l-1] + rho2*grad[l-1][0])
				grad[l+1][1] -= b * (2*z*val[l-1] + rho2*grad[l-1][1])
			}
		}
	}
}

// localBasis gives the polynomials of a degree in x, y that solve the equation of the potential about the radius r0,
//
//	(r0 + x) (phi_xx + phi_yy) + phi_x = 0,
//
// up to that degree: the coefficients a(i, j) of x^i y^j for i = 0, 1 are free, one function for each, and those for higher i follow from
//
//	r0 (i+2)(i+1) a(i+2, j) = -r0 (j+2)(j+1) a(i, j+2) - (i+1)^2 a(i+1, j) - (j+2)(j+1) a(i-1, j+2).
func localBasis(r0 float64, degree int) (basis [][]float64) {
	index := func(i, j int) int { return (i+j)*(i+j+1)/2 + j }
	for first := range 2 {
		for j0 := range degree + 1 - first {
			a := make([]float64, monomials(degree))
			a[index(first, j0)] = 1
			at := func(i, j int) float64 {
				if i < 0 || i+j > degree {
					return 0
				}
				return a[index(i, j)]
			}
			for i := range degree - 1 {
				for j := range degree - 1 - i {
					jj := float64((j + 2) * (j + 1))
					a[index(i+2, j)] = -(jj*at(i, j+2) + (float64((i+1)*(i+1))*at(i+1, j)+jj*at(i-1, j+2))/r0) / float64((i+2)*(i+1))
				}
			}
			basis = append(basis, a)
		}
	}
	return basis
}

func monomials(degree int) int { return (degree + 1) * (degree + 2) / 2 }

// monomialValues evaluates x^i y^j at (i+j)(i+j+1)/2 + j.
func monomialValues(degree int, x, y float64, out []float64) {
	out[0] = 1
	for d := 1; d <= degree; d++ {
		last, now := d*(d-1)/2, d*(d+1)/2
		for j := range d {
			out[now+j] = x * out[last+j]
		}
		out[now+d] = y * out[now-1]
	}
}

func monomialGradients(degree int, x, y float64, out []Vec) {
	val := make([]float64, monomials(degree))
	monomialValues(degree, x, y, val)
	for d := range degree + 1 {
		for j := range d + 1 {
			var g Vec
			if i := d - j; i > 0 {
				g[0] = float64(i) * val[(d-1)*d/2+j]
			}
			if j > 0 {
				g[1] = float64(j) * val[(d-1)*d/2+j-1]
			}
			out[d*(d+1)/2+j] = g
		}
	}
}

// fitFlux fits the flux density of steel from the quadrature points round a point: where steel saturates H changes by its own size within
// a triangle where B hardly changes.
func (s *Solution) fitFlux(tris []int32, q Vec, m *Medium) *fit {
	type value struct{ at, b Vec }
	var values []value
	for _, t := range tris {
		for k := range points {
			at := s.sys.els[t].at[k]
			b := m.at(s.sys.field(t, k, s.free), at).B
			values = append(values, value{at, b})
		}
	}
	f := &fit{center: q, stretch: 1, medium: m}
	for _, v := range values {
		f.radius = math.Max(f.radius, math.Hypot(v.at[0]-q[0], v.at[1]-q[1]))
	}
	for _, v := range values { // mirror images at the axis and at the plane of symmetry
		if v.at[0] < f.radius && q[0] < f.radius {
			values = append(values, value{Vec{-v.at[0], v.at[1]}, Vec{-v.b[0], v.b[1]}})
		}
	}
	if s.domain.parity != None && q[1] < f.radius {
		_, sign := s.fold(-1)
		for _, v := range values {
			values = append(values, value{Vec{v.at[0], -v.at[1]}, Vec{sign[0] * v.b[0], sign[1] * v.b[1]}})
		}
	}
	rows := mat.NewDense(len(values), 6, nil)
	rhs := [2]*mat.VecDense{mat.NewVecDense(len(values), nil), mat.NewVecDense(len(values), nil)}
	for i, v := range values {
		x, y := f.place(v.at)
		w := math.Exp(-3 * (x*x + y*y))
		row := rows.RawRowView(i)
		monomialValues(2, x, y, row)
		for j := range row {
			row[j] *= w
		}
		for k := range 2 {
			rhs[k].SetVec(i, w*v.b[k])
		}
	}
	again := mat.DenseCopyOf(rows)
	var ok [2]bool
	f.b[0], ok[0] = leastSquares(rows, rhs[0])
	f.b[1], ok[1] = leastSquares(again, rhs[1])
	if !ok[0] || !ok[1] {
		return nil
	}
	return f
}
