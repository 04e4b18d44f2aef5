package axisymmetric

import (
	"math"

	"polewright/material"
)

// system is the discrete energy on one mesh.
type system struct {
	domain *domain
	mesh   *mesh
	els    []element
	dof    [][6]int32 // unknown of each triangle's nodes, -1 where the potential is fixed at zero
	node   []int32    // of each mesh node: its unknown, -1 for none
	n      int        // unknowns

	rim   []int32     // unknowns on the rim of the domain
	open  []float64   // the matrix of the open space on them, row by row
	poles [][]float64 // for each degree l: the integrals of N_i P_l over the rim; empty where symmetry forbids it
	phi   []float64   // where the tangent is taken
	state *state      // nil: the law itself
	mark  []int32     // scratch of shared
	stamp int32
}

// multipoles is the highest degree that passes the rim exactly; those above see a fitting decay.
const multipoles = 16

func newSystem(d *domain, level int) (*system, error) {
	m := d.meshes[level]
	els, err := d.elements(m)
	if err != nil {
		return nil, err
	}
	s := &system{domain: d, mesh: m, els: els, dof: make([][6]int32, len(m.Triangles)), node: make([]int32, len(m.Nodes))}
	for i := range s.node {
		s.node[i] = -1
	}
	tol := 1e-10 * d.radius
	for t, tri := range m.Triangles {
		if m.body[t] == outer {
			continue
		}
		for a, n := range tri {
			if d.parity == Odd && math.Abs(m.Nodes[n].Y) < tol {
				s.dof[t][a] = -1
				continue
			}
			if s.node[n] < 0 {
				s.node[n] = int32(s.n)
				s.n++
			}
			s.dof[t][a] = s.node[n]
		}
	}
	s.mark = make([]int32, s.n)
	s.phi = make([]float64, s.n)
	s.closeSpace()
	return s, nil
}

// rimEdges visits the edges of the mesh on the rim, with their triangles.
func (s *system) rimEdges(visit func(t, edge int)) {
	m := s.mesh
	on := func(n int32) bool {
		return math.Abs(math.Hypot(m.Nodes[n].X, m.Nodes[n].Y)-s.domain.radius) < 1e-6*s.domain.radius
	}
	for t, tri := range m.Triangles {
		if m.body[t] == outer {
			continue
		}
		for e := range 3 {
			if on(tri[e]) && on(tri[(e+1)%3]) && on(tri[3+e]) {
				visit(t, e)
			}
		}
	}
}

// closeSpace computes the energy of the field beyond the rim, the sphere of radius R: with phi the sum of phi_l P_l(cos theta) there, each
// multipole decays as 1/rho^(l+1), and the energy is 1/2 mu0 times the sum over l of (l+1)/R phi_l^2 A/(2l+1), A the rim's area. Degrees
// beyond the highest are treated as the next one.
func (s *system) closeSpace() {
	place := map[int32]int{}
	type sample struct {
		at    [3]int // places of the edge's unknowns, -1 for none
		n     [3]float64
		w     float64
		value [multipoles + 1]float64
	}
	var all []sample
	R := s.domain.radius
	s.rimEdges(func(t, e int) {
		tri := &s.mesh.Triangles[t]
		nodes := [3]int32{tri[e], tri[3+e], tri[(e+1)%3]}
		var at [3]int
		for i, n := range nodes {
			at[i] = -1
			if u := s.node[n]; u >= 0 {
				k, ok := place[u]
				if !ok {
					k = len(s.rim)
					place[u] = k
					s.rim = append(s.rim, u)
				}
				at[i] = k
			}
		}
		for _, q := range lineRule {
			n, dn := lineShape(q.s)
			var r, z, dr, dz float64
			for i, k := range nodes {
				x := s.mesh.Nodes[k]
				r += n[i] * x.X
				z += n[i] * x.Y
				dr += dn[i] * x.X
				dz += dn[i] * x.Y
			}
			o := sample{at: at, n: n, w: 2 * math.Pi * r * math.Hypot(dr, dz) * q.w}
			legendre(z/math.Hypot(r, z), o.value[:])
			all = append(all, o)
		}
	})
	k := len(s.rim)
	s.open = make([]float64, k*k)
	s.poles = make([][]float64, multipoles+1)
	area := s.rimArea()
	last := float64(multipoles+2) / R
	for l := range s.poles {
		if s.domain.parity == Odd && l%2 == 0 || s.domain.parity == Even && l%2 == 1 {
			continue
		}
		q := make([]float64, k)
		for i := range all {
			o := &all[i]
			for a, p := range o.at {
				if p >= 0 {
					q[p] += o.w * o.n[a] * o.value[l]
				}
			}
		}
		s.poles[l] = q
		c := material.Mu0 * (float64(l+1)/R - last) * float64(2*l+1) / area
		for a := range k {
			for b := range k {
				s.open[a*k+b] += c * q[a] * q[b]
			}
		}
	}
	for i := range all {
		o := &all[i]
		for a, p := range o.at {
			for b, q := range o.at {
				if p >= 0 && q >= 0 {
					s.open[p*k+q] += material.Mu0 * last * o.w * o.n[a] * o.n[b]
				}
			}
		}
	}
}

// rimArea is the area of the sphere about the domain, of its half with a symmetry.
func (s *system) rimArea() float64 {
	area := 4 * math.Pi * s.domain.radius * s.domain.radius
	if s.domain.parity != None {
		area /= 2
	}
	return area
}

// legendre evaluates P_0 to P_n at x.
func legendre(x float64, p []float64) {
	p[0] = 1
	if len(p) > 1 {
		p[1] = x
	}
	for l := 1; l+1 < len(p); l++ {
		p[l+1] = (float64(2*l+1)*x*p[l] - float64(l)*p[l-1]) / float64(l+1)
	}
}

// medium of a triangle.
func (s *system) medium(t int32) *Medium {
	if b := s.mesh.body[t]; b >= 0 {
		return &s.domain.Bodies[b].Medium
	}
	return &air
}

// field is H at a quadrature point of a triangle.
func (s *system) field(t int32, q int, phi []float64) Vec {
	e := &s.els[t]
	h := Vec{0, e.t[q]}
	for a, i := range s.dof[t] {
		if i >= 0 {
			h[0] -= phi[i] * e.grad[q][a][0]
			h[1] -= phi[i] * e.grad[q][a][1]
		}
	}
	return h
}

// law of a triangle at a quadrature point, at the state's linearization if there is one.
func (s *system) law(t int32, q int, phi []float64) law {
	m := s.medium(t)
	h := s.field(t, q, phi)
	if s.state != nil && !m.linear() {
		return m.atState(h, s.state.h[s.state.slot[t]][q], s.els[t].at[q])
	}
	return m.at(h, s.els[t].at[q])
}

// tangent integrates grad N . D . grad N over a triangle.
func (s *system) tangent(t int32, k *[6][6]float64) {
	*k = [6][6]float64{}
	e, m := &s.els[t], s.medium(t)
	for q := range points {
		var d [3]float64
		switch {
		case m.linear():
			d = [3]float64{material.Mu0 * m.Radial, material.Mu0 * m.Axial, 0}
		case s.state != nil:
			d = m.at(s.state.h[s.state.slot[t]][q], e.at[q]).D
		default:
			d = m.at(s.field(t, q, s.phi), e.at[q]).D
		}
		for a := range 6 {
			g := e.grad[q][a]
			x, y := e.w[q]*(d[0]*g[0]+d[2]*g[1]), e.w[q]*(d[2]*g[0]+d[1]*g[1])
			for b := range a + 1 {
				k[a][b] += x*e.grad[q][b][0] + y*e.grad[q][b][1]
			}
		}
	}
	for a := range 6 {
		for b := range a {
			k[b][a] = k[a][b]
		}
	}
}

// gradient of the energy at a potential: minus the integral of B . grad N, and the open space.
func (s *system) gradient(phi, g []float64) {
	clear(g)
	for t := range s.els {
		if s.mesh.body[t] == outer {
			continue
		}
		e := &s.els[t]
		for q := range points {
			b := s.law(int32(t), q, phi).B
			for a, i := range s.dof[t] {
				if i >= 0 {
					g[i] -= e.w[q] * (b[0]*e.grad[q][a][0] + b[1]*e.grad[q][a][1])
				}
			}
		}
	}
	for a, i := range s.rim {
		row := s.open[a*len(s.rim):]
		for b, j := range s.rim {
			g[i] += row[b] * phi[j]
		}
	}
}

// norm is phi . tangent . phi with the tangent at the system's own potential.
func (s *system) norm(phi []float64) (sum float64) {
	var k [6][6]float64
	for t := range s.els {
		if s.mesh.body[t] == outer {
			continue
		}
		s.tangent(int32(t), &k)
		for a, i := range s.dof[t] {
			for b, j := range s.dof[t] {
				if i >= 0 && j >= 0 {
					sum += phi[i] * k[a][b] * phi[j]
				}
			}
		}
	}
	for a, i := range s.rim {
		for b, j := range s.rim {
			sum += phi[i] * s.open[a*len(s.rim)+b] * phi[j]
		}
	}
	return sum
}
