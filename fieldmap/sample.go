package fieldmap

import (
	"context"
	"math"
	"runtime"
	"slices"
	"sync"
	"sync/atomic"
)

// block is how many meshes the first, widest squares are wide: a power of two.
const block = 8

// smooth is by how much a square's middles may differ from what its corners say, of the top of the scale, for it to be left so.
const smooth = 3e-3

// sampler takes the values at the nodes of a lattice, of columns by rows, that cannot be told from their neighbours'.
type sampler struct {
	columns, rows    int
	value            func(i, j int) float64 // may be called from many goroutines at once
	owner            func(i, j int) int     // the part at a node, -1 for none: no square across a border is smooth
	mirrorU, mirrorV bool                   // the values are the same on both sides of the middle

	b    [][]float64 // NaN where not taken
	part [][]int
}

type node struct{ i, j int }

// square has its lower left corner at a node.
type square struct {
	node
	size int
}

// sample fills the lattice: b[j][i]. Squares begin a block wide. Where a value in the middle of a square, or of an edge, is not what the corners
// say, or another part begins, it is cut in four; else what lies between is bilinear.
func (n *sampler) sample(ctx context.Context) ([][]float64, error) {
	n.b, n.part = make([][]float64, n.rows), make([][]int, n.rows)
	for j := range n.rows {
		n.b[j], n.part[j] = make([]float64, n.columns), make([]int, n.columns)
		for i := range n.columns {
			n.b[j][i], n.part[j][i] = math.NaN(), n.owner(i, j)
		}
	}
	var open, done []square
	var want []node
	for j := 0; j < n.rows; j += block {
		for i := 0; i < n.columns; i += block {
			want = append(want, node{i, j})
			if i+block < n.columns && j+block < n.rows {
				open = append(open, square{node{i, j}, block})
			}
		}
	}
	if err := n.take(ctx, want); err != nil {
		return nil, err
	}
	top := n.top()
	for size := block; size > 1; size /= 2 {
		want = want[:0]
		for _, q := range open {
			want = append(want, q.middles()...)
		}
		if err := n.take(ctx, want); err != nil {
			return nil, err
		}
		var cut []square
		for _, q := range open {
			if n.isSmooth(q, top) {
				done = append(done, q)
				continue
			}
			h := size / 2
			for _, c := range []node{{q.i, q.j}, {q.i + h, q.j}, {q.i, q.j + h}, {q.i + h, q.j + h}} {
				cut = append(cut, square{c, h})
			}
		}
		open = cut
	}
	for _, q := range done {
		n.fill(q)
	}
	return n.b, nil
}

// middles are those of the square and of its edges.
func (q square) middles() []node {
	h := q.size / 2
	return []node{{q.i + h, q.j + h}, {q.i + h, q.j}, {q.i, q.j + h}, {q.i + q.size, q.j + h}, {q.i + h, q.j + q.size}}
}

// take computes the values at nodes that have none yet.
func (n *sampler) take(ctx context.Context, want []node) error {
	var list []node
	for _, k := range want {
		if k = n.original(k); math.IsNaN(n.b[k.j][k.i]) {
			n.b[k.j][k.i] = 0 // listed
			list = append(list, k)
		}
	}
	var next atomic.Int64
	var all sync.WaitGroup
	for range runtime.GOMAXPROCS(0) {
		all.Go(func() {
			for ctx.Err() == nil {
				i := int(next.Add(1)) - 1
				if i >= len(list) {
					return
				}
				n.b[list[i].j][list[i].i] = n.value(list[i].i, list[i].j)
			}
		})
	}
	all.Wait()
	for _, k := range want {
		o := n.original(k)
		n.b[k.j][k.i] = n.b[o.j][o.i]
	}
	return ctx.Err()
}

// original is the node whose value a node has by symmetry.
func (n *sampler) original(k node) node {
	if n.mirrorU {
		k.i = min(k.i, n.columns-1-k.i)
	}
	if n.mirrorV {
		k.j = min(k.j, n.rows-1-k.j)
	}
	return k
}

// top is the end of the scale that the first samples suggest: nine tenths of them lie below it.
func (n *sampler) top() float64 {
	var known []float64
	for _, row := range n.b {
		for _, b := range row {
			if !math.IsNaN(b) {
				known = append(known, b)
			}
		}
	}
	slices.Sort(known)
	if len(known) == 0 {
		return 0
	}
	return known[len(known)*9/10]
}

func (n *sampler) isSmooth(q square, top float64) bool {
	part := n.part[q.j][q.i]
	for j := q.j; j <= q.j+q.size; j++ {
		for i := q.i; i <= q.i+q.size; i++ {
			if n.part[j][i] != part {
				return false
			}
		}
	}
	for _, k := range q.middles() {
		if !(math.Abs(n.b[k.j][k.i]-n.bilinear(q, k)) <= smooth*top) { // NaN is not smooth
			return false
		}
	}
	return true
}

// bilinear is what the corners of a square say of a node in it.
func (n *sampler) bilinear(q square, k node) float64 {
	u, v := float64(k.i-q.i)/float64(q.size), float64(k.j-q.j)/float64(q.size)
	lower, upper := n.b[q.j], n.b[q.j+q.size]
	return (1-v)*((1-u)*lower[q.i]+u*lower[q.i+q.size]) + v*((1-u)*upper[q.i]+u*upper[q.i+q.size])
}

// fill gives each node in a smooth square that has no value the bilinear one of its quarter.
func (n *sampler) fill(q square) {
	h := q.size / 2
	for _, c := range []node{{q.i, q.j}, {q.i + h, q.j}, {q.i, q.j + h}, {q.i + h, q.j + h}} {
		quarter := square{c, h}
		for j := c.j; j <= c.j+h; j++ {
			for i := c.i; i <= c.i+h; i++ {
				if math.IsNaN(n.b[j][i]) {
					n.b[j][i] = n.bilinear(quarter, node{i, j})
				}
			}
		}
	}
}
