package magnetostatic

import "polewright/material"

// bind finds, for each triangle, the blocks of its 6 x 6 pairs of nodes in a matrix.
func (s *system) bind(m *bandMatrix) {
	s.blocks = make([][36]int32, len(s.els))
	for t, tri := range s.mesh.Triangles {
		for a, p := range tri {
			for b, q := range tri {
				s.blocks[t][6*a+b] = m.find(p, q)
			}
		}
	}
	s.matrix = m
	s.assembleWork = func(lo, hi int) {
		var st stiffness
		for _, t := range s.tris[lo:hi] {
			s.triangleMatrix(int(t), &st)
		}
	}
}

// assemble computes the tangent of the energy at the potential phi into the bound matrix.
func (s *system) assemble(phi []float64) {
	m := s.matrix
	s.phi = phi
	s.team.run(len(m.val), 1, func(lo, hi int) { clear(m.val[lo:hi]) })
	s.eachTriangle(s.assembleWork)
	for _, o := range s.closing {
		p, q := o.i/int32(s.nz), o.j/int32(s.nz)
		k, k2 := int(o.i)%s.nz, int(o.j)%s.nz
		m.block(m.find(p, q))[entry(k, k2-k)] += float32(o.c)
	}
	m.clearFixed(&s.fixed)
}

// stiffness is the matrix of one nonlinear cell: for the node pair (a, b) the 3 x 3 matrix of the layer nodes.
type stiffness [6][6][9]float64

func (s *system) triangleMatrix(t int, st *stiffness) {
	e := &s.els[t]
	cells := s.cell[t*s.nl : (t+1)*s.nl]
	// Linear cells: plan matrix times layer matrix.
	const mu0 = material.Mu0
	for a := range 6 {
		for b := range 6 {
			v := s.matrix.block(s.blocks[t][6*a+b])
			uu, uv, vv, mass := e.uu[a][b], e.uv[a][b], e.vv[a][b], e.mass[a][b]
			for l, c := range cells {
				m := &s.media[c]
				if !m.Linear {
					continue
				}
				h := s.faces[l+1] - s.faces[l]
				k := float32(mu0 * (m.RelativeUU*uu + m.RelativeUV*uv + m.RelativeVV*vv) * h / 30)
				g := float32(mu0 * m.RelativeWW * mass / (3 * h))
				w := v[8*l+2 : 8*l+11 : 8*l+11]
				w[0] += 4*k + 7*g
				w[1] += 2*k - 8*g
				w[2] += g - k
				w[3] += 2*k - 8*g
				w[4] += 16*k + 16*g
				w[5] += 2*k - 8*g
				w[6] += g - k
				w[7] += 2*k - 8*g
				w[8] += 4*k + 7*g
			}
		}
	}
	for l, c := range cells {
		if m := &s.media[c]; !m.Linear {
			s.steelMatrix(t, l, m, st)
		} else if pc := s.partial[int64(t)*int64(s.nl)+int64(l)]; pc != nil {
			s.partialMatrix(e, l, pc, st)
		} else {
			continue
		}
		for a := range 6 {
			for b := range 6 {
				w := s.matrix.block(s.blocks[t][6*a+b])[8*l+2 : 8*l+11 : 8*l+11]
				k := &st[a][b]
				for i := range 9 {
					w[i] += float32(k[i])
				}
			}
		}
	}
}

// steelMatrix integrates grad N . D . grad N with the tangent D of a nonlinear medium. The layer integrals come first: for each plan
// point six 3 x 3 matrices, one for each component of D.
func (s *system) steelMatrix(t, l int, m *Medium, st *stiffness) {
	e, tri := &s.els[t], &s.mesh.Triangles[t]
	h := s.faces[l+1] - s.faces[l]
	var v [6][3]float64
	for a, p := range tri {
		i := int(p)*s.nz + 2*l
		copy(v[a][:], s.phi[i:i+3])
		if s.applied != nil {
			for k := range 3 {
				v[a][k] += s.applied[i+k]
			}
		}
	}
	*st = stiffness{}
	var lw law
	for pq := range 6 {
		var gu, gv, val [3]float64
		for a := range 6 {
			for i := range 3 {
				gu[i] += e.gu[pq][a] * v[a][i]
				gv[i] += e.gv[pq][a] * v[a][i]
				val[i] += triangleN[pq][a] * v[a][i]
			}
		}
		var z layerTensor
		for zq := range 3 {
			n, d := &layerShape[zq], &layerSlope[zq]
			hf := [3]float64{
				-(n[0]*gu[0] + n[1]*gu[1] + n[2]*gu[2]),
				-(n[0]*gv[0] + n[1]*gv[1] + n[2]*gv[2]),
				-(d[0]*val[0] + d[1]*val[1] + d[2]*val[2]) / h,
			}
			q := [3]float64{e.u[pq], e.v[pq], s.faces[l] + layerRule[zq].s*h}
			if s.state != nil {
				hf = s.state.h[s.state.slot[t*s.nl+l]][6*zq+pq]
			}
			m.at(&hf, &q, &lw)
			z.add(&lw.D, e.w[pq]*layerRule[zq].w*h, h, zq)
		}
		z.into(st, &e.gu[pq], &e.gv[pq], &triangleN[pq])
	}
	st.mirror()
}

// partialMatrix is the recoil of exact sources in a cell that they cover in part.
func (s *system) partialMatrix(e *planElement, l int, pc *partialCell, st *stiffness) {
	h := s.faces[l+1] - s.faces[l]
	*st = stiffness{}
	for pq := range 6 {
		var z layerTensor
		for zq := range 3 {
			if x := pc.excess[6*zq+pq]; x != 0 {
				z.add(&[6]float64{x, x, x}, e.w[pq]*layerRule[zq].w*h, h, zq)
			}
		}
		z.into(st, &e.gu[pq], &e.gv[pq], &triangleN[pq])
	}
	st.mirror()
}

// layerTensor holds the integrals over a layer of the components of D with the layer functions they go with.
type layerTensor struct{ uu, vv, ww, uv, uw, vw [9]float64 }

func (z *layerTensor) add(d *[6]float64, w, h float64, zq int) {
	n, sl := &layerShape[zq], &layerSlope[zq]
	for i := range 3 {
		for j := range 3 {
			nn := w * n[i] * n[j]
			k := 3*i + j
			z.uu[k] += d[0] * nn
			z.vv[k] += d[1] * nn
			z.uv[k] += d[3] * nn
			z.ww[k] += d[2] * w * sl[i] * sl[j] / (h * h)
			z.uw[k] += d[4] * w * n[i] * sl[j] / h
			z.vw[k] += d[5] * w * n[i] * sl[j] / h
		}
	}
}

// transposed gives the place of (j, i) for the place of (i, j).
var transposed = [9]int{0, 3, 6, 1, 4, 7, 2, 5, 8}

func (z *layerTensor) into(st *stiffness, gu, gv, n *[6]float64) {
	for a := range 6 {
		for b := a; b < 6; b++ {
			cuu, cvv, cuv, cww := gu[a]*gu[b], gv[a]*gv[b], gu[a]*gv[b]+gv[a]*gu[b], n[a]*n[b]
			cuw, cwu, cvw, cwv := gu[a]*n[b], n[a]*gu[b], gv[a]*n[b], n[a]*gv[b]
			k := &st[a][b]
			for i := range 9 {
				j := transposed[i]
				k[i] += cuu*z.uu[i] + cvv*z.vv[i] + cuv*z.uv[i] + cww*z.ww[i] + cuw*z.uw[i] + cwu*z.uw[j] + cvw*z.vw[i] + cwv*z.vw[j]
			}
		}
	}
}

func (st *stiffness) mirror() {
	for a := range 6 {
		for b := range a {
			for i := range 9 {
				st[a][b][i] = st[b][a][transposed[i]]
			}
		}
	}
}
