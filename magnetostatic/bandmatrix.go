package magnetostatic

import (
	"cmp"
	"slices"
)

// bandMatrix is the symmetric tangent of one grid, stored by pairs of plan nodes: each pair that shares a triangle has one block, a band that
// couples the two columns, with a row for each node of the column of lower rank. From the other side it is read as its transpose. A layer
// face couples with two nodes to each side, a layer middle with one, so a block holds for each layer
//
//	face:   a(k,k-2) a(k,k-1) a(k,k) a(k,k+1) a(k,k+2)
//	middle: a(k,k-1) a(k,k) a(k,k+1)
//
// and five more for the last face: 8 nl + 5 numbers. The 3 x 3 matrix of a layer is contiguous at 8 l + 2. Numbers are float32: the matrix
// only steers Newton's method, whose gradient is computed in float64.
type bandMatrix struct {
	np, nl, nz, stride int
	start, col         []int32 // neighbours of plan node p by their rank, itself included: col[start[p]:start[p+1]]
	self               []int32 // place of p itself in col: before it stand those whose blocks are to be transposed
	pair               []int32 // number of the block of each neighbour
	pairs              int
	val                []float32
}

// newPattern is the layout, without values, for elements of the given nodes. Nodes without any element have no neighbour but themselves.
func newPattern(np int, elements [][]int32) bandMatrix {
	m := bandMatrix{np: np}
	near := make([][]int32, np)
	for p := range near {
		near[p] = []int32{int32(p)}
	}
	for _, el := range elements {
		for _, p := range el {
			for _, q := range el {
				if !slices.Contains(near[p], q) {
					near[p] = append(near[p], q)
				}
			}
		}
	}
	m.start = make([]int32, np+1)
	for p := range near {
		m.col = append(m.col, near[p]...)
		m.start[p+1] = int32(len(m.col))
	}
	return m
}

// near are the neighbours of p.
func (m *bandMatrix) near(p int32) []int32 { return m.col[m.start[p]:m.start[p+1]] }

// setRank puts the neighbours in the order of their rank, of those of one rank the first ones first, and numbers the blocks.
func (m *bandMatrix) setRank(rank []int32) {
	m.self, m.pair, m.pairs = make([]int32, m.np), make([]int32, len(m.col)), 0
	for p := range int32(m.np) {
		near := m.near(p)
		slices.SortFunc(near, func(a, b int32) int { return cmp.Or(cmp.Compare(rank[a], rank[b]), cmp.Compare(a, b)) })
		m.self[p] = m.start[p] + int32(slices.Index(near, p))
		for i := m.self[p]; i < m.start[p+1]; i++ {
			m.pair[i] = int32(m.pairs)
			m.pairs++
		}
	}
	for p := range int32(m.np) {
		for i := m.start[p]; i < m.self[p]; i++ {
			m.pair[i] = m.pair[m.find(m.col[i], p)]
		}
	}
}

// setLayers makes room for blocks of nl layers.
func (m *bandMatrix) setLayers(nl int) {
	m.nl, m.nz, m.stride = nl, 2*nl+1, 8*nl+5
	m.val = make([]float32, m.pairs*m.stride)
}

// block is the band of neighbour i (an index into col).
func (m *bandMatrix) block(i int32) []float32 { return m.blockOf(m.pair[i]) }

// blockOf is the block of a number.
func (m *bandMatrix) blockOf(pair int32) []float32 {
	return m.val[int(pair)*m.stride : (int(pair)+1)*m.stride]
}

func (m *bandMatrix) find(p, q int32) int32 {
	for i := m.start[p]; i < m.start[p+1]; i++ {
		if m.col[i] == q {
			return i
		}
	}
	return -1
}

// addAfter adds to column p of y what its neighbours from index i of col on give it, which have no lower rank than p.
func addAfter[T float32 | float64](m *bandMatrix, y, x []T, i, p int32) {
	end := m.start[p+1]
	y = column(y, p, m.nz)
	for ; i+1 < end; i += 2 {
		addBands(y, column(x, m.col[i], m.nz), column(x, m.col[i+1], m.nz), m.block(i), m.block(i+1), m.nl)
	}
	if i < end {
		addBand(y, column(x, m.col[i], m.nz), m.block(i), m.nl)
	}
}

// addBefore adds to column p of y what its neighbours of lower rank give it.
func addBefore[T float32 | float64](m *bandMatrix, y, x []T, p int32) {
	i, end := m.start[p], m.self[p]
	y = column(y, p, m.nz)
	for ; i+1 < end; i += 2 {
		addBandsTransposed(y, column(x, m.col[i], m.nz), column(x, m.col[i+1], m.nz), m.block(i), m.block(i+1), m.nl)
	}
	if i < end {
		addBandTransposed(y, column(x, m.col[i], m.nz), m.block(i), m.nl)
	}
}

// column is the part of a vector that belongs to plan node p.
func column[T any](v []T, p int32, nz int) []T { return v[int(p)*nz : (int(p)+1)*nz] }

// addBand adds a block times a column to y.
func addBand[T float32 | float64](y, x []T, v []float32, nl int) {
	x = x[: 2*nl+1 : 2*nl+1]
	y = y[: 2*nl+1 : 2*nl+1]
	var x0, x1 T
	x2 := x[0]
	for l := range nl {
		v := v[8*l : 8*l+8 : 8*l+8]
		xx := x[2*l+1 : 2*l+3 : 2*l+3]
		yy := y[2*l : 2*l+2 : 2*l+2]
		x3, x4 := xx[0], xx[1]
		yy[0] += (T(v[0])*x0 + T(v[1])*x1) + (T(v[2])*x2 + T(v[3])*x3) + T(v[4])*x4
		yy[1] += T(v[5])*x2 + T(v[6])*x3 + T(v[7])*x4
		x0, x1, x2 = x2, x3, x4
	}
	v = v[8*nl : 8*nl+5 : 8*nl+5]
	y[2*nl] += T(v[0])*x0 + T(v[1])*x1 + T(v[2])*x2
}

// addBands adds two blocks, v and w, times two columns, x and z, to y. It takes a sixth less time than addBand twice: the two do not wait for each
// other, nor for memory.
func addBands[T float32 | float64](y, x, z []T, v, w []float32, nl int) {
	x = x[: 2*nl+1 : 2*nl+1]
	z = z[: 2*nl+1 : 2*nl+1]
	y = y[: 2*nl+1 : 2*nl+1]
	var x0, x1, z0, z1 T
	x2, z2 := x[0], z[0]
	for l := range nl {
		v := v[8*l : 8*l+8 : 8*l+8]
		w := w[8*l : 8*l+8 : 8*l+8]
		xx := x[2*l+1 : 2*l+3 : 2*l+3]
		zz := z[2*l+1 : 2*l+3 : 2*l+3]
		yy := y[2*l : 2*l+2 : 2*l+2]
		x3, x4 := xx[0], xx[1]
		z3, z4 := zz[0], zz[1]
		yy[0] += ((T(v[0])*x0 + T(v[1])*x1) + (T(v[2])*x2 + T(v[3])*x3) + T(v[4])*x4) +
			((T(w[0])*z0 + T(w[1])*z1) + (T(w[2])*z2 + T(w[3])*z3) + T(w[4])*z4)
		yy[1] += (T(v[5])*x2 + T(v[6])*x3 + T(v[7])*x4) + (T(w[5])*z2 + T(w[6])*z3 + T(w[7])*z4)
		x0, x1, x2 = x2, x3, x4
		z0, z1, z2 = z2, z3, z4
	}
	v = v[8*nl : 8*nl+5 : 8*nl+5]
	w = w[8*nl : 8*nl+5 : 8*nl+5]
	y[2*nl] += (T(v[0])*x0 + T(v[1])*x1 + T(v[2])*x2) + (T(w[0])*z0 + T(w[1])*z1 + T(w[2])*z2)
}

// addBandTransposed adds the transpose of a block times a column to y.
func addBandTransposed[T float32 | float64](y, x []T, v []float32, nl int) {
	x = x[: 2*nl+1 : 2*nl+1]
	y = y[: 2*nl+1 : 2*nl+1]
	v = v[: 8*nl+5 : 8*nl+5]
	var x0, x1 T       // the two nodes before the face
	var v4, v7 float32 // what they give to it
	x2 := x[0]
	for l := range nl {
		v := v[8*l : 8*l+11 : 8*l+11]
		xx := x[2*l+1 : 2*l+3 : 2*l+3]
		yy := y[2*l : 2*l+2 : 2*l+2]
		x3, x4 := xx[0], xx[1]
		yy[0] += (T(v4)*x0 + T(v7)*x1) + (T(v[2])*x2 + T(v[5])*x3) + T(v[8])*x4
		yy[1] += T(v[3])*x2 + T(v[6])*x3 + T(v[9])*x4
		x0, x1, x2 = x2, x3, x4
		v4, v7 = v[4], v[7]
	}
	y[2*nl] += T(v4)*x0 + T(v7)*x1 + T(v[8*nl+2])*x2
}

// addBandsTransposed is addBands for the transposes of the blocks.
func addBandsTransposed[T float32 | float64](y, x, z []T, v, w []float32, nl int) {
	x = x[: 2*nl+1 : 2*nl+1]
	z = z[: 2*nl+1 : 2*nl+1]
	y = y[: 2*nl+1 : 2*nl+1]
	v = v[: 8*nl+5 : 8*nl+5]
	w = w[: 8*nl+5 : 8*nl+5]
	var x0, x1, z0, z1 T
	var v4, v7, w4, w7 float32
	x2, z2 := x[0], z[0]
	for l := range nl {
		v := v[8*l : 8*l+11 : 8*l+11]
		w := w[8*l : 8*l+11 : 8*l+11]
		xx := x[2*l+1 : 2*l+3 : 2*l+3]
		zz := z[2*l+1 : 2*l+3 : 2*l+3]
		yy := y[2*l : 2*l+2 : 2*l+2]
		x3, x4 := xx[0], xx[1]
		z3, z4 := zz[0], zz[1]
		yy[0] += ((T(v4)*x0 + T(v7)*x1) + (T(v[2])*x2 + T(v[5])*x3) + T(v[8])*x4) +
			((T(w4)*z0 + T(w7)*z1) + (T(w[2])*z2 + T(w[5])*z3) + T(w[8])*z4)
		yy[1] += (T(v[3])*x2 + T(v[6])*x3 + T(v[9])*x4) + (T(w[3])*z2 + T(w[6])*z3 + T(w[9])*z4)
		x0, x1, x2 = x2, x3, x4
		z0, z1, z2 = z2, z3, z4
		v4, v7, w4, w7 = v[4], v[7], w[4], w[7]
	}
	y[2*nl] += (T(v4)*x0 + T(v7)*x1 + T(v[8*nl+2])*x2) + (T(w4)*z0 + T(w7)*z1 + T(w[8*nl+2])*z2)
}

// entry is the place of (row k, column k+d) in a block.
func entry(k, d int) int { return 4*k + 2 + d }

// reach is how far row k couples within a block.
func reach(k int) int { return 2 - k%2 }

// clearFixed turns the rows and columns of nodes with known potential into those of the identity.
func (m *bandMatrix) clearFixed(tm *team, f *fixed) {
	tm.run(m.np, 8*m.nz, func(lo, hi int) {
		for p := lo; p < hi; p++ {
			m.clearFixedOf(f, int32(p))
		}
	})
}

func (m *bandMatrix) clearFixedOf(f *fixed, p int32) {
	last := m.nz - 1
	for i := m.self[p]; i < m.start[p+1]; i++ {
		b := m.block(i)
		if f.column[p] || f.column[m.col[i]] {
			clear(b)
		}
		if f.bottom {
			b[2], b[3], b[4] = 0, 0, 0
			b[5] = 0
			if m.nl > 0 {
				b[8] = 0
			}
		}
		if f.top {
			o := 8 * m.nl
			b[o], b[o+1], b[o+2] = 0, 0, 0
			b[entry(last-1, 1)] = 0
			b[entry(last-2, 2)] = 0
		}
		if i != m.self[p] {
			continue
		}
		if f.column[p] {
			for k := range m.nz {
				b[entry(k, 0)] = 1
			}
		}
		if f.bottom {
			b[2] = 1
		}
		if f.top {
			b[entry(last, 0)] = 1
		}
	}
}

// lineFactor is the factor L D L' of the band of one column, three numbers a node: 1/d, l(k,k-1), l(k,k-2).
func lineFactor(f, v []float32, nz int) bool {
	var d1, d2 float64 // d of the two nodes before
	var l11 float64    // l(k-1,k-2)
	for k := range nz {
		var a1, a2 float64 // a(k,k-1), a(k,k-2)
		if k >= 1 {
			a1 = float64(v[entry(k, -1)])
		}
		if k >= 2 && k%2 == 0 {
			a2 = float64(v[entry(k, -2)])
		}
		var l1, l2 float64
		if k >= 2 {
			l2 = a2 / d2
		}
		if k >= 1 {
			l1 = (a1 - l2*d2*l11) / d1
		}
		d := float64(v[entry(k, 0)]) - l1*l1*d1 - l2*l2*d2
		if !(d > 0) {
			return false
		}
		f[3*k], f[3*k+1], f[3*k+2] = float32(1/d), float32(l1), float32(l2)
		d2, d1, l11 = d1, d, l1
	}
	return true
}

// lineSolve solves for b less x with the factor, and leaves the result in x.
func lineSolve(x, b, f []float32, nz int) {
	x = x[:nz:nz]
	b = b[:nz:nz]
	f = f[: 3*nz : 3*nz]
	var y1, y2 float32 // the node before is the last that is known, so it is taken off last
	for k := range x {
		w := f[3*k : 3*k+3 : 3*k+3]
		y := (b[k] - x[k] - w[2]*y2) - w[1]*y1
		x[k] = y
		y2, y1 = y1, y
	}
	var u1, u2, l1, l2, m2 float32 // l1 = l(k+1,k), l2 = l(k+2,k), m2 = l(k+1,k-1) for the next node
	for k := nz - 1; k >= 0; k-- {
		w := f[3*k : 3*k+3 : 3*k+3]
		u := (x[k]*w[0] - l2*u2) - l1*u1
		x[k] = u
		u2, u1 = u1, u
		l2 = m2
		l1, m2 = w[1], w[2]
	}
}
