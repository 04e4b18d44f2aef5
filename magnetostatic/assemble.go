package magnetostatic

import (
	"slices"

	"polewright/material"
)

// bind finds, for each triangle, the blocks of its pairs of nodes in a matrix, and numbers the nonlinear cells.
func (s *system) bind(m *bandMatrix) {
	s.tangent = &tangent{matrix: m, blocks: make([][21]int32, len(s.els))}
	for t, tri := range s.mesh.Triangles {
		n := 0
		for a, p := range tri {
			for _, q := range tri[a:] {
				i := m.find(p, q)
				if s.blocks[t][n] = m.pair[i]; i < m.self[p] {
					s.blocks[t][n] = ^m.pair[i]
				}
				n++
			}
		}
	}
	s.slot = make([]int32, len(s.cell))
	n := int32(0)
	for i, c := range s.cell {
		s.slot[i] = -1
		if !s.media[c].Linear {
			s.slot[i] = n
			n++
		}
	}
	s.tangents = make([]meanTangent, n)
	s.linearWork = func(lo, hi int) {
		var st stiffness
		for _, t := range s.tris[lo:hi] {
			s.triangleLinear(int(t), &st)
		}
	}
	s.steelWork = func(lo, hi int) {
		var st stiffness
		var d pointTangents
		for _, t := range s.tris[lo:hi] {
			s.triangleSteel(int(t), &d, &st)
		}
	}
	s.restoreWork = func(lo, hi int) {
		n := m.stride
		for i, b := range s.touched[lo:hi] {
			copy(m.blockOf(b), s.base[(lo+i)*n:(lo+i+1)*n])
		}
	}
}

// assemble computes the tangent of the energy at the potential phi into the bound matrix. What linear cells give is summed once; after that
// only the blocks that nonlinear cells touch are summed anew.
func (s *system) assemble(phi []float64) {
	s.phi, s.finer = phi, nil
	s.sumTangent()
}

// assembleFrom does so on a coarser plan, with the mean tangents of the cells of the finer one. Taken at a coarse potential instead, tangents
// were seen to be off by a factor of a hundred where steel is at its knee, and the cycles to grow twofold.
func (s *system) assembleFrom(finer *system) {
	s.finer = finer
	s.sumTangent()
}

func (s *system) sumTangent() {
	if s.steel == nil {
		s.assembleLinear()
	} else {
		s.team.run(len(s.touched), s.matrix.stride, s.restoreWork)
	}
	for _, tris := range s.steel {
		s.tris = tris
		s.team.run(len(tris), 100*s.nz, s.steelWork)
	}
	s.matrix.clearFixed(s.team, &s.fixed)
}

// assembleLinear sums the part of the matrix that does not change and keeps the blocks of it that nonlinear cells will touch.
func (s *system) assembleLinear() {
	m := s.matrix
	s.eachTriangle(s.linearWork)
	for _, o := range s.closing {
		p, q := o.i/int32(s.nz), o.j/int32(s.nz)
		i, k, d := m.find(p, q), int(o.i)%s.nz, int(o.j)%s.nz-int(o.i)%s.nz
		if i >= m.self[p] {
			m.block(i)[entry(k, d)] += float32(o.c)
		}
		if i <= m.self[p] && o.i != o.j {
			m.block(i)[entry(k+d, -d)] += float32(o.c)
		}
	}
	m.clearFixed(s.team, &s.fixed)
	s.steel = [][]int32{}
	touched := make([]bool, m.pairs)
	for _, tris := range s.color {
		var steel []int32
		for _, t := range tris {
			if !slices.ContainsFunc(s.cell[int(t)*s.nl:(int(t)+1)*s.nl], func(c int32) bool { return !s.media[c].Linear }) {
				continue
			}
			steel = append(steel, t)
			for _, b := range s.blocks[t] {
				touched[max(b, ^b)] = true
			}
		}
		if steel != nil {
			s.steel = append(s.steel, steel)
		}
	}
	for i, is := range touched {
		if is {
			s.touched = append(s.touched, int32(i))
		}
	}
	s.base = make([]float32, len(s.touched)*m.stride)
	s.team.run(len(s.touched), m.stride, func(lo, hi int) {
		for i, b := range s.touched[lo:hi] {
			copy(s.base[(lo+i)*m.stride:], m.blockOf(b))
		}
	})
}

// stiffness is the matrix of one nonlinear cell: for the node pair (a, b) the 3 x 3 matrix of the layer nodes.
type stiffness [6][6][9]float64

// triangleLinear adds the linear cells above one triangle.
func (s *system) triangleLinear(t int, st *stiffness) {
	e := &s.els[t]
	cells := s.cell[t*s.nl : (t+1)*s.nl]
	// Linear cells: plan matrix times layer matrix.
	const mu0 = material.Mu0
	n := 0
	for a := range 6 {
		for b := a; b < 6; b++ {
			v := s.matrix.blockOf(max(s.blocks[t][n], ^s.blocks[t][n])) // the layer matrices are symmetric
			n++
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
	if len(s.partial) == 0 {
		return
	}
	for l := range cells {
		if pc := s.partial[int64(t)*int64(s.nl)+int64(l)]; pc != nil {
			s.partialMatrix(e, l, pc, st)
			s.addCell(t, l, st)
		}
	}
}

// triangleSteel adds the nonlinear cells above one triangle.
func (s *system) triangleSteel(t int, d *pointTangents, st *stiffness) {
	for l := range s.nl {
		slot := s.slot[t*s.nl+l]
		if slot < 0 {
			continue
		}
		mean := &s.tangents[slot]
		if s.finer == nil {
			s.tangentsAt(t, l, d)
			mean.of(d, &s.els[t].w)
		} else {
			mean.join(s.finer, t, l)
			mean.spread(d)
		}
		s.steelMatrix(t, l, d, st)
		s.addCell(t, l, st)
	}
}

// addCell adds the matrix of a cell, of which only the pairs a <= b are given.
func (s *system) addCell(t, l int, st *stiffness) {
	n := 0
	for a := range 6 {
		for b := a; b < 6; b++ {
			block, k := s.blocks[t][n], &st[a][b]
			n++
			w := s.matrix.blockOf(max(block, ^block))[8*l+2 : 8*l+11 : 8*l+11]
			if block >= 0 {
				for i := range 9 {
					w[i] += float32(k[i])
				}
			} else {
				for i := range 9 {
					w[i] += float32(k[transposed[i]])
				}
			}
		}
	}
}

// pointTangents are the tangents D of a cell at its quadrature points, numbered 6*layer point + plan point.
type pointTangents [18][6]float64

// tangentsAt takes them at the potential, or at the state.
func (s *system) tangentsAt(t, l int, d *pointTangents) {
	e, tri, m := &s.els[t], &s.mesh.Triangles[t], &s.media[s.cell[t*s.nl+l]]
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
		for zq := range 3 {
			n, d1 := &layerShape[zq], &layerSlope[zq]
			hf := [3]float64{
				-(n[0]*gu[0] + n[1]*gu[1] + n[2]*gu[2]),
				-(n[0]*gv[0] + n[1]*gv[1] + n[2]*gv[2]),
				-(d1[0]*val[0] + d1[1]*val[1] + d1[2]*val[2]) / h,
			}
			q := [3]float64{e.u[pq], e.v[pq], s.faces[l] + layerRule[zq].s*h}
			s.zones.addTo(&hf, t*s.nl+l, q)
			if s.state != nil {
				hf = s.state[s.slot[t*s.nl+l]][6*zq+pq]
			}
			m.at(&hf, &q, &lw)
			d[6*zq+pq] = lw.D
		}
	}
}

// meanTangent is the tangent of a cell at the three points along its layer, mean over its triangle.
type meanTangent [3][6]float32

// of takes the mean with the weights of the plan points.
func (m *meanTangent) of(d *pointTangents, weight *[6]float64) {
	var area float64
	for _, w := range weight {
		area += w
	}
	for zq := range m {
		var sum [6]float64
		for pq, w := range weight {
			for k, x := range d[6*zq+pq] {
				sum[k] += w * x
			}
		}
		for k, x := range sum {
			m[zq][k] = float32(x / area)
		}
	}
}

// join takes the mean over the four cells of a finer plan, triangles 4t to 4t+3, that make up the cell (t, l).
func (m *meanTangent) join(finer *system, t, l int) {
	*m = meanTangent{}
	for c := 4 * t; c < 4*t+4; c++ {
		cell := c*finer.nl + l
		if slot := finer.slot[cell]; slot >= 0 {
			for zq := range m {
				for k, x := range finer.tangents[slot][zq] {
					m[zq][k] += x / 4
				}
			}
			continue
		}
		medium := &finer.media[finer.cell[cell]] // next to the surface of an unfitted body
		for zq := range m {
			for k, x := range [4]float64{medium.RelativeUU, medium.RelativeVV, medium.RelativeWW, medium.RelativeUV} {
				m[zq][k] += float32(material.Mu0*x) / 4
			}
		}
	}
}

// spread puts the mean at all points.
func (m *meanTangent) spread(d *pointTangents) {
	for i := range d {
		for k, x := range m[i/6] {
			d[i][k] = float64(x)
		}
	}
}

// steelMatrix integrates grad N . D . grad N with the tangents of a nonlinear cell. The layer integrals come first: for each plan
// point six 3 x 3 matrices, one for each component of D.
func (s *system) steelMatrix(t, l int, d *pointTangents, st *stiffness) {
	e := &s.els[t]
	h := s.faces[l+1] - s.faces[l]
	*st = stiffness{}
	for pq := range 6 {
		var z layerTensor
		for zq := range 3 {
			z.add(&d[6*zq+pq], e.w[pq]*layerRule[zq].w*h, h, zq)
		}
		z.into(st, &e.gu[pq], &e.gv[pq], &triangleN[pq])
	}
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

// into adds the part of one plan point to the pairs a <= b: grad N_a . (D grad N_b), the second factor first.
func (z *layerTensor) into(st *stiffness, gu, gv, n *[6]float64) {
	for b := range 6 {
		u, v, m := gu[b], gv[b], n[b]
		var fu, fv, fw [9]float64
		for i := range 9 {
			j := transposed[i]
			fu[i] = z.uu[i]*u + z.uv[i]*v + z.uw[i]*m
			fv[i] = z.uv[i]*u + z.vv[i]*v + z.vw[i]*m
			fw[i] = z.uw[j]*u + z.vw[j]*v + z.ww[i]*m
		}
		for a := range b + 1 {
			u, v, m := gu[a], gv[a], n[a]
			k := &st[a][b]
			for i := range k {
				k[i] += u*fu[i] + v*fv[i] + m*fw[i]
			}
		}
	}
}
