package magnetostatic

import (
	"fmt"
	"math"

	"polewright/grid"
	"polewright/material"
	"polewright/plan"
)

// system is the discrete energy on one grid: its gradient at any potential. Node (p, k) of the plan node p and the layer node k has the
// number p*nz+k, so that a column is contiguous. All work runs over triangles of one colour at a time: no two of them share a node.
type system struct {
	team   *team
	mesh   *plan.Mesh
	els    []planElement
	faces  []float64 // layer faces along w, m
	cell   []int32   // medium of cell (t, l) at t*nl+l
	media  []Medium
	np, nz int
	nl     int
	color  [][]int32 // triangles by colour

	fixed  fixed
	open   []openEdge // outer sides of the plan that close on open space
	lid    [2]bool    // bottom and top layer faces that close on open space
	center [3]float64 // of the far field's dipole
	dipole [3]float64 // its direction (unit), zero when unknown

	warps   grid.Warps
	cut     []int32   // of each cell, the unfitted body that fills or cuts it, -1 for none; nil without any
	zones   *zones    // where coils have their T, or nil
	applied []float64 // nodal potential of bodies that are exact sources, or nil
	partial map[int64]*partialCell
	closing []coefficient
	kept    *Kept     // what magnets keep of their polarization, or nil
	source  []float64 // the part of the gradient that does not depend on the potential, negated

	state    [][18][3]float64 // when set, H at the points of the nonlinear cells at which their laws are linearized
	*tangent                  // while the system is being solved

	phi  []float64 // argument of the running gradient
	grad []float64 // its value
	tris []int32   // triangles of the running colour
	work func(lo, hi int)
}

// tangent is what a system needs to sum the matrix of its second derivatives.
type tangent struct {
	matrix   *bandMatrix
	blocks   [][21]int32   // of each triangle's pairs of nodes (a, b), a <= b: number of the block, ^ of it where that has the rows of b
	steel    [][]int32     // triangles with nonlinear cells, by colour
	slot     []int32       // number of each nonlinear cell, -1 for linear ones
	tangents []meanTangent // of the nonlinear cells
	finer    *system       // whose tangents a coarser plan takes; nil where they are its own
	touched  []int32       // blocks that nonlinear cells touch
	base     []float32     // what linear cells give to these

	linearWork, steelWork, restoreWork func(lo, hi int)
}

// fixed tells which nodes have potential zero: whole columns, and the first and last plane.
type fixed struct {
	column      []bool
	bottom, top bool
}

// openEdge is a side of a triangle on the outer boundary.
type openEdge struct {
	node   [3]int32   // first end, middle, other end: the order of lineShape
	u, v   [3]float64 // their positions
	nu, nv float64    // outward normal
}

// partialCell is a cell that a body which is an exact source covers in part: recoil at quadrature points 6*layer point + plan point.
type partialCell struct {
	excess [18]float64 // mu0 (mu_rec - 1)
	field  [18]Vec     // H of the exact sources
}

func newSystem(tm *team, mesh *plan.Mesh, faces []float64, cell []int32, media []Medium) (*system, error) {
	els, err := planElements(tm, mesh)
	if err != nil {
		return nil, err
	}
	nl := len(faces) - 1
	if len(cell) != nl*len(mesh.Triangles) {
		return nil, fmt.Errorf("magnetostatic: %d cells given for %d triangles and %d layers", len(cell), len(mesh.Triangles), nl)
	}
	s := &system{team: tm, mesh: mesh, els: els, faces: faces, cell: cell, media: media,
		np: len(mesh.Nodes), nl: nl, nz: 2*nl + 1, color: colorTriangles(mesh)}
	s.fixed.column = make([]bool, s.np)
	s.source = make([]float64, s.np*s.nz)
	s.work = func(lo, hi int) {
		for _, t := range s.tris[lo:hi] {
			s.triangleGradient(int(t))
		}
	}
	return s, nil
}

// colorTriangles gives each triangle the first colour that no triangle at its nodes has.
func colorTriangles(m *plan.Mesh) [][]int32 {
	used := make([]uint64, len(m.Nodes))
	var colors [][]int32
	for t, tri := range m.Triangles {
		taken := used[tri[0]] | used[tri[1]] | used[tri[2]]
		c := 0
		for c < 63 && taken&(1<<c) != 0 {
			c++
		}
		for _, n := range tri[:3] {
			used[n] |= 1 << c
		}
		for len(colors) <= c {
			colors = append(colors, nil)
		}
		colors[c] = append(colors[c], int32(t))
	}
	return colors
}

// eachTriangle runs the method on all triangles, colour by colour.
func (s *system) eachTriangle(work func(lo, hi int)) {
	for _, tris := range s.color {
		s.tris = tris
		s.team.run(len(tris), 16*s.nz, work)
	}
}

// addSources adds the sources of all polarized and partly covered cells; called once after the media are known.
func (s *system) addSources() {
	s.eachTriangle(func(lo, hi int) {
		for _, t := range s.tris[lo:hi] {
			s.triangleSource(int(t))
		}
	})
	s.clearFixed(s.source)
}

func (s *system) triangleSource(t int) {
	e, tri := &s.els[t], &s.mesh.Triangles[t]
	for l := range s.nl {
		h := s.faces[l+1] - s.faces[l]
		m := &s.media[s.cell[t*s.nl+l]]
		if j := m.Polarization; m.Linear && s.kept != nil && s.kept.slot[t*s.nl+l] >= 0 {
			s.weakenedSource(t, l, h, j, &s.kept.share[s.kept.slot[t*s.nl+l]])
		} else if m.Linear && j != (Vec{}) {
			s.polarizedSource(e, tri, l, h, j)
		}
		if m.laminate != nil && m.laminate.j != (Vec{}) {
			// Its law holds j; with mu0 H of the exact sources, taken off below, j is free of divergence.
			j, air := m.laminate.j, 1-m.laminate.filled()
			s.polarizedSource(e, tri, l, h, Vec{-air * j[0], -air * j[1], -air * j[2]})
		}
		if m.Linear && s.zones.in(t*s.nl+l) {
			s.coilSource(e, tri, t, l, h, m)
		}
		if s.applied != nil {
			s.appliedSource(e, tri, l, h, m)
		}
		if pc := s.partial[int64(t)*int64(s.nl)+int64(l)]; pc != nil {
			for q := range 18 {
				zq, pq := q/6, q%6
				x := pc.excess[q] * e.w[pq] * layerRule[zq].w * h
				if x == 0 {
					continue
				}
				for a, p := range tri {
					f := s.source[int(p)*s.nz+2*l:]
					for i := range 3 {
						f[i] += x * (layerShape[zq][i]*(pc.field[q][0]*e.gu[pq][a]+pc.field[q][1]*e.gv[pq][a]) +
							layerSlope[zq][i]/h*pc.field[q][2]*triangleN[pq][a])
					}
				}
			}
		}
	}
}

// polarizedSource is that of a cell with a polarization.
func (s *system) polarizedSource(e *planElement, tri *[6]int32, l int, h float64, j Vec) {
	for a, p := range tri {
		f := s.source[int(p)*s.nz+2*l:]
		plane := j[0]*e.du[a] + j[1]*e.dv[a]
		f[0] += plane*h/6 - j[2]*e.n[a]
		f[1] += plane * h * 4 / 6
		f[2] += plane*h/6 + j[2]*e.n[a]
	}
}

// appliedSource: where the exact sources' potential is added to the unknown inside a body, the part mu0 H of the exact sources is
// already free of divergence, so its discrete counterpart is taken off again (with the same nodal interpolant, so that both cancel
// inside steel as the discrete gradients do).
func (s *system) appliedSource(e *planElement, tri *[6]int32, l int, h float64, m *Medium) {
	if m.Linear && m.isotropic() && m.RelativeUU == 1 {
		return
	}
	uu, uv, vv, ww := material.Mu0, 0.0, material.Mu0, material.Mu0
	if m.Linear { // minus (mu - mu0): the linear part is not evaluated with the applied potential later on
		uu, uv, vv, ww = uu*(1-m.RelativeUU), -uu*m.RelativeUV, vv*(1-m.RelativeVV), ww*(1-m.RelativeWW)
	}
	for a, p := range tri {
		f := s.source[int(p)*s.nz+2*l:]
		for b, r := range tri {
			y := s.applied[int(r)*s.nz+2*l:]
			k := (uu*e.uu[a][b] + uv*e.uv[a][b] + vv*e.vv[a][b]) * h
			c := ww * e.mass[a][b] / h
			for i := range 3 {
				for j := range 3 {
					f[i] += (k*layerMass[3*i+j] + c*layerStiffness[3*i+j]) * y[j]
				}
			}
		}
	}
}

// gradient puts dW/dphi into g.
func (s *system) gradient(phi, g []float64) {
	s.phi, s.grad = phi, g
	s.team.run(len(g), 1, func(lo, hi int) {
		for i, f := range s.source[lo:hi] {
			g[lo+i] = -f
		}
	})
	s.eachTriangle(s.work)
	for _, o := range s.closing {
		g[o.i] += o.c * phi[o.j]
		if o.i != o.j {
			g[o.j] += o.c * phi[o.i]
		}
	}
	s.clearFixed(g)
}

// clearFixed puts zero at the nodes of known potential.
func (s *system) clearFixed(g []float64) {
	for p := range s.np {
		if s.fixed.column[p] {
			clear(g[p*s.nz : (p+1)*s.nz])
		}
		if s.fixed.bottom {
			g[p*s.nz] = 0
		}
		if s.fixed.top {
			g[(p+1)*s.nz-1] = 0
		}
	}
}

// triangleGradient adds the cells above one triangle to the gradient.
func (s *system) triangleGradient(t int) {
	e, tri := &s.els[t], &s.mesh.Triangles[t]
	nz := s.nz
	var x, y [6][]float64
	for a, p := range tri {
		x[a] = s.phi[int(p)*nz : (int(p)+1)*nz]
		y[a] = s.grad[int(p)*nz : (int(p)+1)*nz]
	}
	const mu0 = material.Mu0
	var kx, mx [3][6]float64 // plan stiffness and mass applied at the three layer nodes
	var last = -1            // layer for which kx, mx of the shared node hold
	for l := range s.nl {
		m := &s.media[s.cell[t*s.nl+l]]
		h := s.faces[l+1] - s.faces[l]
		if !m.Linear {
			s.steelGradient(t, &x, &y, l, h, m)
			continue
		}
		if !m.isotropic() {
			linearGradient(e, &x, &y, l, h, m)
			continue
		}
		first := 0
		if last == l-1 && l > 0 {
			kx[0], mx[0] = kx[2], mx[2]
			first = 1
		}
		for k := first; k < 3; k++ {
			var v [6]float64
			for a := range 6 {
				v[a] = x[a][2*l+k]
			}
			for a := range 6 {
				u, w, c := &e.uu[a], &e.vv[a], &e.mass[a]
				kx[k][a] = (u[0]+w[0])*v[0] + (u[1]+w[1])*v[1] + (u[2]+w[2])*v[2] + (u[3]+w[3])*v[3] + (u[4]+w[4])*v[4] + (u[5]+w[5])*v[5]
				mx[k][a] = c[0]*v[0] + c[1]*v[1] + c[2]*v[2] + c[3]*v[3] + c[4]*v[4] + c[5]*v[5]
			}
		}
		last = l
		ck, cm := mu0*m.RelativeUU*h/30, mu0*m.RelativeUU/(3*h)
		for a := range 6 {
			out := y[a][2*l : 2*l+3]
			p0, p1, p2 := kx[0][a], kx[1][a], kx[2][a]
			q0, q1, q2 := mx[0][a], mx[1][a], mx[2][a]
			out[0] += ck*(4*p0+2*p1-p2) + cm*(7*q0-8*q1+q2)
			out[1] += ck*(2*p0+16*p1+2*p2) + cm*(-8*q0+16*q1-8*q2)
			out[2] += ck*(-p0+2*p1+4*p2) + cm*(q0-8*q1+7*q2)
		}
		if s.partial != nil {
			if pc := s.partial[int64(t)*int64(s.nl)+int64(l)]; pc != nil {
				partialGradient(e, &x, &y, l, h, pc)
			}
		}
	}
}

func linearGradient(e *planElement, x, y *[6][]float64, l int, h float64, m *Medium) {
	const mu0 = material.Mu0
	for a := range 6 {
		out := y[a][2*l : 2*l+3]
		for b := range 6 {
			k := mu0 * (m.RelativeUU*e.uu[a][b] + m.RelativeUV*e.uv[a][b] + m.RelativeVV*e.vv[a][b]) * h / 30
			c := mu0 * m.RelativeWW * e.mass[a][b] / (3 * h)
			v := x[b][2*l : 2*l+3]
			out[0] += k*(4*v[0]+2*v[1]-v[2]) + c*(7*v[0]-8*v[1]+v[2])
			out[1] += k*(2*v[0]+16*v[1]+2*v[2]) + c*(-8*v[0]+16*v[1]-8*v[2])
			out[2] += k*(-v[0]+2*v[1]+4*v[2]) + c*(v[0]-8*v[1]+7*v[2])
		}
	}
}

func partialGradient(e *planElement, x, y *[6][]float64, l int, h float64, pc *partialCell) {
	for q := range 18 {
		if pc.excess[q] == 0 {
			continue
		}
		zq, pq := q/6, q%6
		g := pointGradient(e, x, l, h, pq, zq)
		addPoint(e, y, l, h, pq, zq, [3]float64{g[0] * pc.excess[q], g[1] * pc.excess[q], g[2] * pc.excess[q]})
	}
}

// pointGradient is grad phi at a quadrature point.
func pointGradient(e *planElement, x *[6][]float64, l int, h float64, pq, zq int) [3]float64 {
	var gu, gv, val [3]float64
	for a := range 6 {
		for i := range 3 {
			v := x[a][2*l+i]
			gu[i] += e.gu[pq][a] * v
			gv[i] += e.gv[pq][a] * v
			val[i] += triangleN[pq][a] * v
		}
	}
	n, d := &layerShape[zq], &layerSlope[zq]
	return [3]float64{
		n[0]*gu[0] + n[1]*gu[1] + n[2]*gu[2],
		n[0]*gv[0] + n[1]*gv[1] + n[2]*gv[2],
		(d[0]*val[0] + d[1]*val[1] + d[2]*val[2]) / h,
	}
}

// addPoint adds the integral of f . grad N for a vector f at one quadrature point.
func addPoint(e *planElement, y *[6][]float64, l int, h float64, pq, zq int, f [3]float64) {
	w := e.w[pq] * layerRule[zq].w * h
	n, d := &layerShape[zq], &layerSlope[zq]
	for a := range 6 {
		plane := w * (f[0]*e.gu[pq][a] + f[1]*e.gv[pq][a])
		axial := w / h * f[2] * triangleN[pq][a]
		for i := range 3 {
			y[a][2*l+i] += plane*n[i] + axial*d[i]
		}
	}
}

// steelGradient adds minus the integral of B(H) . grad N by quadrature.
func (s *system) steelGradient(t int, x, y *[6][]float64, l int, h float64, m *Medium) {
	e, tri := &s.els[t], &s.mesh.Triangles[t]
	var v [6][3]float64
	for a := range 6 {
		copy(v[a][:], x[a][2*l:2*l+3])
	}
	if s.applied != nil {
		for a, p := range tri {
			for i := range 3 {
				v[a][i] += s.applied[int(p)*s.nz+2*l+i]
			}
		}
	}
	var out [6][3]float64
	var st law
	for pq := range 6 {
		var gu, gv, val [3]float64
		for a := range 6 {
			du, dv, n := e.gu[pq][a], e.gv[pq][a], triangleN[pq][a]
			for i := range 3 {
				gu[i] += du * v[a][i]
				gv[i] += dv * v[a][i]
				val[i] += n * v[a][i]
			}
		}
		var ou, ov, ow [3]float64
		for zq := range 3 {
			n, d := &layerShape[zq], &layerSlope[zq]
			hf := [3]float64{
				-(n[0]*gu[0] + n[1]*gu[1] + n[2]*gu[2]),
				-(n[0]*gv[0] + n[1]*gv[1] + n[2]*gv[2]),
				-(d[0]*val[0] + d[1]*val[1] + d[2]*val[2]) / h,
			}
			q := [3]float64{e.u[pq], e.v[pq], s.faces[l] + layerRule[zq].s*h}
			s.zones.addTo(&hf, t*s.nl+l, q)
			if s.state == nil {
				m.at(&hf, &q, &st)
			} else {
				m.atState(&hf, &s.state[s.slot[t*s.nl+l]][6*zq+pq], &q, &st)
			}
			w := e.w[pq] * layerRule[zq].w * h
			bu, bv, bw := w*st.B[0], w*st.B[1], w*st.B[2]/h
			for i := range 3 {
				ou[i] -= bu * n[i]
				ov[i] -= bv * n[i]
				ow[i] -= bw * d[i]
			}
		}
		for a := range 6 {
			du, dv, n := e.gu[pq][a], e.gv[pq][a], triangleN[pq][a]
			for i := range 3 {
				out[a][i] += du*ou[i] + dv*ov[i] + n*ow[i]
			}
		}
	}
	for a := range 6 {
		for i := range 3 {
			y[a][2*l+i] += out[a][i]
		}
	}
}

// coefficient is an entry, i <= j, of the symmetric matrix that closes the open space: it stands for (j, i) too.
type coefficient struct {
	i, j int32
	c    float64
}

// closeSpace computes the integrals of mu0 beta N_i N_j over the outer faces, with beta chosen so that a dipole at the centre, along the
// known direction, passes exactly.
func (s *system) closeSpace() {
	n := 45 * len(s.open) * s.nl // pairs of the 9 nodes of a face, of the 6 of a triangle
	for _, on := range s.lid {
		if on {
			n += 21 * len(s.els)
		}
	}
	s.closing = make([]coefficient, 0, n)
	add := func(i, j int, c float64) {
		if i <= j {
			s.closing = append(s.closing, coefficient{int32(i), int32(j), c})
		}
	}
	for side, on := range s.lid {
		if !on {
			continue
		}
		k, nw := 0, -1.0
		if side == 1 {
			k, nw = s.nz-1, 1.0
		}
		w := s.faces[0]
		if side == 1 {
			w = s.faces[s.nl]
		}
		for t := range s.els {
			e, tri := &s.els[t], &s.mesh.Triangles[t]
			var b [6]float64
			for q := range 6 {
				b[q] = e.w[q] * material.Mu0 * s.closure([3]float64{e.u[q], e.v[q], w}, [3]float64{0, 0, nw})
			}
			for a := range 6 {
				for c := range 6 {
					var sum float64
					for q := range 6 {
						sum += b[q] * triangleN[q][a] * triangleN[q][c]
					}
					add(int(tri[a])*s.nz+k, int(tri[c])*s.nz+k, sum)
				}
			}
		}
	}
	for i := range s.open {
		e := &s.open[i]
		length := math.Hypot(e.u[2]-e.u[0], e.v[2]-e.v[0])
		for l := range s.nl {
			h := s.faces[l+1] - s.faces[l]
			var sum [9][9]float64
			for _, q := range layerRule {
				n, _ := lineShape(q.s)
				u, v := e.u[0]+q.s*(e.u[2]-e.u[0]), e.v[0]+q.s*(e.v[2]-e.v[0])
				for zq, z := range layerRule {
					c := material.Mu0 * s.closure([3]float64{u, v, s.faces[l] + z.s*h}, [3]float64{e.nu, e.nv, 0}) * q.w * z.w * length * h
					m := &layerShape[zq]
					for a := range 3 {
						for b := range 3 {
							for i := range 3 {
								for j := range 3 {
									sum[3*a+i][3*b+j] += c * n[a] * n[b] * m[i] * m[j]
								}
							}
						}
					}
				}
			}
			for a := range 9 {
				for b := range 9 {
					add(int(e.node[a/3])*s.nz+2*l+a%3, int(e.node[b/3])*s.nz+2*l+b%3, sum[a][b])
				}
			}
		}
	}
}

// closure is beta in B_n = mu0 beta phi. For the potential m.r/r^3 of a dipole, -dphi/dn / phi = 3 (n.r)/r^2 - (m.n)/(m.r); when the
// direction is not known, the radial decay 2 (n.r)/r^2 is taken.
func (s *system) closure(p, n [3]float64) float64 {
	var r2, nr, mn, mr float64
	for i := range 3 {
		d := p[i] - s.center[i]
		r2 += d * d
		nr += n[i] * d
		mn += n[i] * s.dipole[i]
		mr += s.dipole[i] * d
	}
	plain := 2 * nr / r2
	if s.dipole == ([3]float64{}) {
		return plain
	}
	beta := 3 * nr / r2
	if mn != 0 {
		beta -= mn / mr // faces across the dipole never meet m.r = 0
	}
	return math.Max(beta, 0)
}
