package axisymmetric

import (
	"errors"
	"fmt"
	"math"
	"slices"

	"polewright/material"
)

// This file computes forces. By symmetry a force on a whole body lies along the axis and has no torque.

// stress gives the components zr and zz of the tensor whose divergence is the force density along the axis: in air Maxwell's, within a body
// B_i H_j - w delta_ij with the coenergy density w (Melcher 1981, section 3.7).
func stress(l *law, h Vec) Vec { return Vec{l.B[0] * h[1], l.B[1]*h[1] - l.w} }

// filmStress is the normal stress in a film of air at a face less that within the body.
func filmStress(l *law, h, n Vec) float64 {
	bn := l.B[0]*n[0] + l.B[1]*n[1]
	hn := h[0]*n[0] + h[1]*n[1]
	ht2 := h[0]*h[0] + h[1]*h[1] - hn*hn
	return 0.5*bn*bn/material.Mu0 - 0.5*material.Mu0*ht2 - (bn*hn - l.w)
}

// currentForce is the density of force along the axis on a triangle's current.
func (s *Solution) currentForce(t int32, b Vec) float64 {
	if c := s.sys.mesh.winding[t]; c >= 0 {
		return -s.domain.Coils[c].density() * b[0]
	}
	return 0
}

// owner numbers what fills a triangle: the bodies, then the coils; -1 for air.
func (s *Solution) owner(t int) int32 {
	m := s.sys.mesh
	if m.body[t] == -1 && m.winding[t] >= 0 {
		return int32(len(s.domain.Bodies)) + m.winding[t]
	}
	return m.body[t]
}

// Forces gives the force (N, along the axis) on each body and on each coil from all others. Where a body touches another one it is the force
// with a thin film of air between them. A body in air, or a coil, gets the virtual work of moving its nodes within the surrounding triangles
// (Coulomb 1983), and so does steel that touches others, with what the film changes on the faces of contact; a magnet that touches others gets
// the jump of the stress over its own faces (see magnetostatic.Solution.Forces), and a coil that touches a body the integral of J x B.
func (s *Solution) Forces() (bodies, coils []float64) {
	m := s.sys.mesh
	n := len(s.domain.Bodies)
	sum := make([]float64, n+len(s.domain.Coils))
	across := m.Neighbors()
	at := s.ownersAtNodes()
	surface := append(s.touchingMagnets(across), s.touchingCoils(at)...)
	s.widen(at)
	var near []int32
	for t, tri := range m.Triangles {
		own := s.owner(t)
		if own == outer {
			continue
		}
		near = near[:0]
		for _, n := range tri {
			for _, b := range at[n] {
				if b != own && !surface[b] && !slices.Contains(near, b) {
					near = append(near, b)
				}
			}
		}
		if m.body[t] >= 0 {
			s.faces(int32(t), across[t], surface, sum)
		}
		lorentz := int(own) >= n && surface[own]
		if len(near) == 0 && !lorentz {
			continue
		}
		e := &s.sys.els[t]
		for q := range points {
			h := s.sys.field(int32(t), q, s.free)
			l := s.sys.medium(int32(t)).at(h, e.at[q])
			st := stress(&l, h)
			current := s.currentForce(int32(t), l.B)
			if lorentz {
				sum[own] += e.w[q] * current
			}
			for _, b := range near {
				var value float64
				var grad Vec
				for a, n := range tri {
					if slices.Contains(at[n], b) {
						value += ruleShape[q][a]
						grad[0] += e.grad[q][a][0]
						grad[1] += e.grad[q][a][1]
					}
				}
				sum[b] -= e.w[q] * (st[0]*grad[0] + st[1]*grad[1] + current*value)
			}
		}
	}
	out := slices.Clone(sum)
	if s.domain.parity != None {
		for i, j := range s.domain.partner {
			out[i] -= sum[j]
		}
		for i, j := range s.domain.coilPartner {
			out[n+i] -= sum[n+j]
		}
	}
	return out[:n], out[n:]
}

// ownersAtNodes lists what each node belongs to.
func (s *Solution) ownersAtNodes() [][]int32 {
	m := s.sys.mesh
	at := make([][]int32, len(m.Nodes))
	for t, tri := range m.Triangles {
		if b := s.owner(t); b >= 0 {
			for _, n := range tri {
				if !slices.Contains(at[n], b) {
					at[n] = append(at[n], b)
				}
			}
		}
	}
	return at
}

// widen gives each body the nodes of the air triangles at it too, so that these move with it: they hold the singular field of its edges, which
// costs accuracy where the weight falls within them.
func (s *Solution) widen(at [][]int32) {
	m := s.sys.mesh
	own := slices.Clone(at)
	tol := 1e-9 * s.domain.radius
	for t, tri := range m.Triangles {
		if s.owner(t) != -1 {
			continue
		}
		var near []int32
		for _, n := range tri {
			for _, b := range own[n] {
				if !slices.Contains(near, b) {
					near = append(near, b)
				}
			}
		}
		for _, n := range tri {
			if len(own[n]) > 0 {
				continue
			}
			for _, b := range near {
				plane := s.domain.parity != None && m.Nodes[n].Y < tol && s.domain.imageOf(b) != b
				if !plane && !slices.Contains(at[n], b) {
					at[n] = append(slices.Clip(at[n]), b)
				}
			}
		}
	}
}

// imageOf is the mirror image of a body or coil.
func (d *domain) imageOf(owner int32) int32 {
	if n := int32(len(d.Bodies)); owner >= n {
		return n + int32(d.coilPartner[owner-n])
	}
	return int32(d.partner[owner])
}

// touchingCoils tells which coils touch a body.
func (s *Solution) touchingCoils(at [][]int32) []bool {
	n := int32(len(s.domain.Bodies))
	touching := make([]bool, len(s.domain.Coils))
	for _, owners := range at {
		for _, c := range owners {
			if c < n {
				continue
			}
			for _, b := range owners {
				touching[c-n] = touching[c-n] || b != c
			}
		}
	}
	return touching
}

// touchingMagnets tells which bodies are polarized and touch another body.
func (s *Solution) touchingMagnets(across [][3]int32) []bool {
	m := s.sys.mesh
	touching := make([]bool, len(s.domain.Bodies))
	for t, own := range m.body {
		if own < 0 || s.domain.Bodies[own].Medium.Polarization == (Vec{}) {
			continue
		}
		for e, o := range across[t] {
			if o >= 0 && m.body[o] >= 0 && m.body[o] != own || o < 0 && s.meetsImage(int32(t), e) {
				touching[own] = true
			}
		}
	}
	return touching
}

// faces goes over the edges of a triangle at which its body ends: the body itself, if it takes its force from its own faces, and a touching
// one that does not get what a film of air changes there.
func (s *Solution) faces(t int32, across [3]int32, surface []bool, sum []float64) {
	own := s.sys.mesh.body[t]
	for e, o := range across {
		if o < 0 && s.meetsImage(t, e) {
			s.eachEdgePoint(t, e, func(q, n, h Vec, w float64) {
				l := s.sys.medium(t).at(h, q)
				f := filmStress(&l, h, n)
				if !surface[own] { // no triangle beyond the plane has done the work of the body's own stress
					f += l.B[1]*h[1] - l.w
				}
				sum[own] += w * f * n[1]
			})
		}
		if o < 0 || s.sys.mesh.body[o] == own {
			continue
		}
		other := s.sys.mesh.body[o]
		toOther := other >= 0 && !surface[other]
		if !surface[own] && !toOther {
			continue
		}
		s.eachEdgePoint(t, e, func(q, n, h Vec, w float64) {
			l := s.sys.medium(t).at(h, q)
			f := w * filmStress(&l, h, n) * n[1]
			if surface[own] {
				sum[own] += f
			}
			if toOther {
				sum[other] -= f
			}
		})
	}
}

// meetsImage tells whether an edge of a triangle of a body lies on the plane of symmetry with another body beyond it.
func (s *Solution) meetsImage(t int32, edge int) bool {
	m := s.sys.mesh
	own := m.body[t]
	if s.domain.parity == None || own < 0 || s.domain.partner[own] == int(own) {
		return false
	}
	return math.Abs(m.Nodes[m.Triangles[t][3+edge]].Y) < 1e-9*s.domain.radius
}

// eachEdgePoint visits the quadrature points of an edge of a triangle, with the normal out of it, the recovered H on the triangle's side, and
// the weight times 2 pi r.
func (s *Solution) eachEdgePoint(t int32, edge int, visit func(q, n, h Vec, w float64)) {
	m := s.sys.mesh
	tri := &m.Triangles[t]
	nodes := [3]int32{tri[edge], tri[3+edge], tri[(edge+1)%3]}
	mid := m.Nodes[nodes[1]]
	f := s.fit(t, Vec{mid.X, mid.Y})
	for _, p := range lineRule {
		n, dn := lineShape(p.s)
		var q, d Vec
		for i, k := range nodes {
			q[0] += n[i] * m.Nodes[k].X
			q[1] += n[i] * m.Nodes[k].Y
			d[0] += dn[i] * m.Nodes[k].X
			d[1] += dn[i] * m.Nodes[k].Y
		}
		length := math.Hypot(d[0], d[1])
		var h Vec
		if f != nil {
			h = f.field(q)
		} else {
			var area [3]float64
			area[edge], area[(edge+1)%3] = 1-p.s, p.s
			h = s.raw(t, area, q)
		}
		visit(q, Vec{d[1] / length, -d[0] / length}, h, 2*math.Pi*q[0]*length*p.w)
	}
}

// ErrNoPlane is wrapped when the mesh does not contain a plane.
var ErrNoPlane = errors.New("the mesh does not contain the plane")

// HalfForce is the force (N, along the axis) on all that lies above the plane across the axis at the height z (m) from the problem's origin.
// Where the plane cuts a body it is the force with a thin film of air there. The plane must be one of the problem's. It is the virtual work of
// the triangles on that side of the plane where fewer bodies touch it, and beyond the mesh the stress of the multipoles.
func (s *Solution) HalfForce(z float64) (float64, error) {
	z -= s.shift
	if s.domain.parity != None { // mirrored, the part below the plane takes the opposite force, so that above takes the same
		z = math.Abs(z)
	}
	m := s.sys.mesh
	tol := 1e-8 * s.domain.radius
	on := func(n int32) bool { return math.Abs(m.Nodes[n].Y-z) < tol }
	// +1 for triangles above with a corner on the plane, -1 below, 0 for others.
	way := func(t int) float64 {
		tri := &m.Triangles[t]
		if m.body[t] == outer || !(on(tri[0]) || on(tri[1]) || on(tri[2])) {
			return 0
		}
		return math.Copysign(1, m.Nodes[tri[0]].Y+m.Nodes[tri[1]].Y+m.Nodes[tri[2]].Y-3*z)
	}
	found := math.Abs(z) >= s.domain.radius*(1-1e-6)
	var bodies [2]float64 // that touch the plane from below and from above
	for t, tri := range m.Triangles {
		w := way(t)
		for e := range 3 {
			a, b := tri[e], tri[(e+1)%3]
			if w != 0 && on(a) && on(b) {
				found = true
				if m.body[t] >= 0 {
					bodies[int(w+1)/2] += math.Abs(m.Nodes[a].X*m.Nodes[a].X - m.Nodes[b].X*m.Nodes[b].X)
				}
			}
		}
	}
	if !found {
		return 0, fmt.Errorf("%w at %.6g m along the axis: name it before solving", ErrNoPlane, z+s.shift)
	}
	side := 1.0
	if bodies[0] < bodies[1]*(1-1e-9) && !(z < tol && s.domain.parity != None) {
		side = -1
	}
	var f float64 // on what lies on the side
	for t := range m.Triangles {
		if way(t) == side {
			f += s.planeWork(int32(t), side, on)
		}
	}
	s.sys.rimEdges(func(t, edge int) {
		if way(t) == side {
			f -= s.rimWork(t, edge, on)
		}
	})
	return side*f - s.beyond(z), nil
}

// planeWork is what a triangle next to a plane adds to the force on its side: the work when the plane's nodes move, and what a film changes on
// the plane itself.
func (s *Solution) planeWork(t int32, side float64, on func(int32) bool) (f float64) {
	tri, e := &s.sys.mesh.Triangles[t], &s.sys.els[t]
	for q := range points {
		h := s.sys.field(t, q, s.free)
		l := s.sys.medium(t).at(h, e.at[q])
		st := stress(&l, h)
		var value float64
		var grad Vec
		for a, n := range tri {
			if on(n) {
				value += ruleShape[q][a]
				grad[0] += e.grad[q][a][0]
				grad[1] += e.grad[q][a][1]
			}
		}
		f += e.w[q] * (st[0]*grad[0] + st[1]*grad[1] + s.currentForce(t, l.B)*value)
	}
	for edge := range 3 {
		if on(tri[edge]) && on(tri[(edge+1)%3]) && s.sys.mesh.body[t] >= 0 {
			s.eachEdgePoint(t, edge, func(q, n, h Vec, w float64) {
				l := s.sys.medium(t).at(h, q)
				f -= side * w * filmStress(&l, h, n)
			})
		}
	}
	return f
}

// rimWork is the stress of the multipoles on an edge of the rim, weighted as the nodes of a plane move.
func (s *Solution) rimWork(t, edge int, on func(int32) bool) (f float64) {
	m := s.sys.mesh
	tri := &m.Triangles[t]
	nodes := [3]int32{tri[edge], tri[3+edge], tri[(edge+1)%3]}
	for _, p := range lineRule {
		n, dn := lineShape(p.s)
		var q, d Vec
		var v float64
		for i, k := range nodes {
			q[0] += n[i] * m.Nodes[k].X
			q[1] += n[i] * m.Nodes[k].Y
			d[0] += dn[i] * m.Nodes[k].X
			d[1] += dn[i] * m.Nodes[k].Y
			if on(k) {
				v += n[i]
			}
		}
		h := s.outside(q[0], q[1])
		l := air.at(h, q)
		st := stress(&l, h)
		f += v * 2 * math.Pi * q[0] * p.w * (st[0]*d[1] - st[1]*d[0])
	}
	return f
}

// beyond integrates the normal stress of the multipoles over the plane at z outside the domain, where the field falls as 1/rho^3.
func (s *Solution) beyond(z float64) (sum float64) {
	from := math.Sqrt(math.Max(0, s.domain.radius*s.domain.radius-z*z))
	scale := s.domain.radius + math.Abs(z)
	const panels = 16 // in t = scale/(scale + r - from)
	for i := range panels {
		for _, p := range lineRule {
			t := (float64(i) + p.s) / panels
			r := from + scale*(1/t-1)
			h := s.outside(r, z)
			sum += 2 * math.Pi * r * 0.5 * material.Mu0 * (h[1]*h[1] - h[0]*h[0]) * p.w / panels * scale / (t * t)
		}
	}
	return sum
}

// SplitForce is the force (N) with which the two halves of the assembly on either side of a plane that contains the axis push each other
// apart, with a thin film of air where the plane cuts a body. No flux crosses the plane, so it is the integral of 1/2 mu0 H^2.
func (s *Solution) SplitForce() float64 {
	var f float64
	for t := range s.sys.els {
		if s.sys.mesh.body[t] == outer {
			continue
		}
		e := &s.sys.els[t]
		for q := range points {
			h := s.sys.field(int32(t), q, s.free)
			f += e.w[q] / (math.Pi * e.at[q][0]) * 0.5 * material.Mu0 * (h[0]*h[0] + h[1]*h[1])
		}
	}
	if s.domain.parity != None {
		f *= 2
	}
	R := s.domain.radius
	const panels = 8 // in t = R/rho and in the angle
	for i := range panels {
		for _, p := range lineRule {
			t := (float64(i) + p.s) / panels
			for k := range panels {
				for _, o := range lineRule {
					sin, cos := math.Sincos(math.Pi * (float64(k) + o.s) / panels)
					h := s.outside(R/t*sin, R/t*cos)
					f += material.Mu0 * (h[0]*h[0] + h[1]*h[1]) * R * R / (t * t * t) * math.Pi * p.w * o.w / (panels * panels)
				}
			}
		}
	}
	return f
}
