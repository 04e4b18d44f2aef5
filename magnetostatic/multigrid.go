package magnetostatic

import (
	"errors"
	"sync/atomic"
)

// The preconditioner is one symmetric multigrid cycle. A grid of plan and layers is coarsened in two stages:
//
//  1. the plan from mesh to coarser mesh, then from quadratic to linear triangles, all layers kept. The smoother solves whole columns
//     exactly (line Gauss-Seidel by colours), so thin and thick layers do not matter;
//  2. on the linear base mesh, layers two by two. The smoother solves whole planes exactly, so small and large triangles do not matter.
//
// Relaxing one direction exactly and coarsening the other is robust for any stretching (Trottenberg, Oosterlee, Schueller 2001,
// section 5.1). Stage 1 takes its matrices from the same element integrals on the coarser mesh, with the mean tangents of the finer cells;
// stage 2 by Galerkin products.

var errNotDefinite = errors.New("magnetostatic: the tangent is not positive definite; a B-H curve that falls, or a part of the model without any connection, would do this")

// columns is one grid of stage 1.
type columns struct {
	bandMatrix
	team  *team
	fixed *fixed
	order []int32 // plan nodes by colour
	color []int32 // first of each colour in order, and the end
	line  []float32
	x, b  []float32
	r     []float32

	down transfer // to the next coarser grid

	lo                        int32
	forwardWork, backwardWork func(lo, hi int)
	residualWork, prolongWork func(lo, hi int)
	restrictWork              func(lo, hi int)
	next                      *columns
	planes                    *planes // the grid of stage 2 below the last of stage 1
	wire                      *wire   // of windings, on the finest grid, or nil
}

// transfer interpolates from a coarse plan to a fine one, column by column, and back.
type transfer struct {
	start, coarse []int32 // of fine node p: coarse[start[p]:start[p+1]]
	weight        []float32
	tStart, tFine []int32 // the transpose
	tWeight       []float32
}

func newTransfer(fine, coarse int, start, col []int32, weight []float64) transfer {
	t := transfer{start: start, coarse: col, weight: make([]float32, len(weight)),
		tStart: make([]int32, coarse+1), tFine: make([]int32, len(col)), tWeight: make([]float32, len(col))}
	for i, w := range weight {
		t.weight[i] = float32(w)
		t.tStart[col[i]+1]++
	}
	for c := range coarse {
		t.tStart[c+1] += t.tStart[c]
	}
	fill := append([]int32(nil), t.tStart[:coarse]...)
	for p := range fine {
		for i := start[p]; i < start[p+1]; i++ {
			c := col[i]
			t.tFine[fill[c]], t.tWeight[fill[c]] = int32(p), t.weight[i]
			fill[c]++
		}
	}
	return t
}

// newColumns lays out the matrix for elements of the given nodes a triangle (3 or 6).
func newColumns(tm *team, np, nl int, elements [][]int32, f *fixed) *columns {
	c := &columns{bandMatrix: newPattern(np, elements), team: tm, fixed: f}
	// Colours: the first that no neighbour has.
	color := make([]int32, np)
	count := int32(0)
	for p := range np {
		var taken uint64
		for _, q := range c.near(int32(p)) {
			if int(q) < p {
				taken |= 1 << color[q]
			}
		}
		for taken&(1<<color[p]) != 0 && color[p] < 63 {
			color[p]++
		}
		count = max(count, color[p]+1)
	}
	c.color = make([]int32, count+1)
	for _, k := range color {
		c.color[k+1]++
	}
	for k := range count {
		c.color[k+1] += c.color[k]
	}
	c.order = make([]int32, np)
	fill := append([]int32(nil), c.color...)
	for p, k := range color {
		c.order[fill[k]] = int32(p)
		fill[k]++
	}
	c.setRank(color)
	c.setLayers(nl)
	n := c.np * c.nz
	c.line = make([]float32, 3*n)
	c.x, c.b, c.r = make([]float32, n), make([]float32, n), make([]float32, n)
	c.prepareWork()
	return c
}

// prepareWork builds the loops once, so that a cycle allocates nothing.
func (c *columns) prepareWork() {
	nz := c.nz
	at := func(v []float32, p int32) []float32 { return column(v, p, nz) }
	solve := func(p int32) { lineSolve(at(c.x, p), at(c.b, p), column(c.line, p, 3*nz), nz) }
	// From a zero guess only the neighbours of lower colour count.
	c.forwardWork = func(lo, hi int) {
		for _, p := range c.order[int(c.lo)+lo : int(c.lo)+hi] {
			clear(at(c.x, p))
			addBefore(&c.bandMatrix, c.x, c.x, p)
			solve(p)
		}
	}
	// After it the residual is what the higher colours take off.
	c.residualWork = func(lo, hi int) {
		for p := int32(lo); p < int32(hi); p++ {
			r := at(c.r, p)
			clear(r)
			addAfter(&c.bandMatrix, c.r, c.x, c.self[p]+1, p)
			for k := range r {
				r[k] = -r[k]
			}
		}
	}
	c.backwardWork = func(lo, hi int) {
		for _, p := range c.order[int(c.lo)+lo : int(c.lo)+hi] {
			clear(at(c.x, p))
			addBefore(&c.bandMatrix, c.x, c.x, p)
			addAfter(&c.bandMatrix, c.x, c.x, c.self[p]+1, p)
			solve(p)
		}
	}
	c.restrictWork = func(lo, hi int) {
		for q := lo; q < hi; q++ {
			if c.next == nil {
				c.planes.receive(&c.down, c.r, q)
				continue
			}
			b := at(c.next.b, int32(q))
			clear(b)
			for i := c.down.tStart[q]; i < c.down.tStart[q+1]; i++ {
				addScaled(b, at(c.r, c.down.tFine[i]), c.down.tWeight[i])
			}
		}
	}
	c.prolongWork = func(lo, hi int) {
		for p := lo; p < hi; p++ {
			x := at(c.x, int32(p))
			for i := c.down.start[p]; i < c.down.start[p+1]; i++ {
				q, w := c.down.coarse[i], c.down.weight[i]
				if c.next != nil {
					addScaled(x, at(c.next.x, q), w)
				} else {
					c.planes.give(x, q, w)
				}
			}
			if c.wire != nil {
				for i := c.wire.down.start[p]; i < c.wire.down.start[p+1]; i++ {
					c.wire.planes.give(x, c.wire.down.coarse[i], c.wire.down.weight[i])
				}
			}
		}
	}
}

func addScaled(y, x []float32, w float32) {
	x = x[:len(y)]
	for i := range y {
		y[i] += w * x[i]
	}
}

// addScaledTransposed adds w times the transpose of the block x to y.
func addScaledTransposed(y, x []float32, w float32, nl int) {
	for l := range nl {
		o := 8*l + 2
		y, x := y[o:o+9:o+9], x[o:o+9:o+9]
		y[0] += w * x[0]
		y[1] += w * x[3]
		y[2] += w * x[6]
		y[3] += w * x[1]
		y[4] += w * x[4]
		y[5] += w * x[7]
		y[6] += w * x[2]
		y[7] += w * x[5]
	}
	y[8*nl+2] += w * x[8*nl+2]
}

// factor prepares the column solves.
func (c *columns) factor() error {
	var failed atomic.Bool
	c.team.run(c.np, 20*c.nz, func(lo, hi int) {
		for p := lo; p < hi; p++ {
			if !lineFactor(c.line[3*p*c.nz:3*(p+1)*c.nz], c.block(c.self[p]), c.nz) {
				failed.Store(true)
			}
		}
	})
	if failed.Load() {
		return errNotDefinite
	}
	return nil
}

// cycle solves the matrix times x = b approximately: x is overwritten, b is kept.
func (c *columns) cycle() {
	size := c.nz * 8
	last := len(c.color) - 1
	for k := range last {
		c.lo = c.color[k]
		c.team.run(int(c.color[k+1]-c.color[k]), size, c.forwardWork)
	}
	c.team.run(c.np, size, c.residualWork)
	coarse := len(c.down.tStart) - 1
	c.team.run(coarse, 4*c.nz, c.restrictWork)
	if c.next != nil {
		c.next.clearFixedVector(c.next.b)
		c.next.cycle()
	} else {
		c.planes.cycle()
	}
	if c.wire != nil {
		c.wire.cycle(c.r)
	}
	c.team.run(c.np, 4*c.nz, c.prolongWork)
	for k := last - 1; k >= 0; k-- {
		c.lo = c.color[k]
		c.team.run(int(c.color[k+1]-c.color[k]), 2*size, c.backwardWork)
	}
}

func (c *columns) clearFixedVector(v []float32) { clearFixedVector(v, c.np, c.nz, c.fixed) }

func clearFixedVector(v []float32, np, nz int, f *fixed) {
	for p := range np {
		if f.column[p] {
			clear(v[p*nz : (p+1)*nz])
		}
		if f.bottom {
			v[p*nz] = 0
		}
		if f.top {
			v[(p+1)*nz-1] = 0
		}
	}
}
