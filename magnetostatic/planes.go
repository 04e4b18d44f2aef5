package magnetostatic

import (
	"errors"
	"fmt"
	"math"
	"slices"
)

// planes is one grid of stage 2: linear triangles of the base plan, quadratic layers. The smoother solves plane by plane. Here numbers run
// plane by plane: node q of plane k is at k*np+q.
//
// Planes of layer middles couple with the faces beside them only, faces also with the next faces. So the middles, every other face and the
// remaining faces are three sets of planes that do not couple within themselves: the smoother's order.
type planes struct {
	bandMatrix
	team  *team
	fixed *fixed
	order []int32 // row of plan node p in the factors (reverse Cuthill-McKee)
	first []int32 // first column of each row's envelope
	row   []int   // offset of each row in a factor: entry (r, c) at row[r]+c-first[r]
	size  int     // numbers in one factor
	chol  []float64
	off   []float32 // couplings of plane k with the planes k-2, k-1, k+1, k+2, one after another: blocks 4*k to 4*k+3 of len(col) numbers
	sets  [3][]int  // planes of each set
	x, b  []float32
	r     []float32
	tmp   []float64

	source galerkin // of the matrix, from the grid above

	next     *planes
	parents  [][]weight // of each layer node in the next coarser layers
	children [][]weight // of each coarse layer node in these layers

	work        func(lo, hi int) // relaxes the planes of the running set with the couplings that count
	residual    func(lo, hi int)
	restrict    func(lo, hi int) // to planes lo to hi of the next grid
	prolong     func(lo, hi int) // to planes lo to hi
	set, within int              // the running set; sets up to this one are taken as known
}

type weight struct {
	at int32
	w  float64
}

// ErrTooLarge is wrapped when a problem would take more memory than a solve may.
var ErrTooLarge = errors.New("the assembly has too much detail to solve")

// mostFactor bounds the factors of all planes, numbers of 8 bytes.
const mostFactor = 200_000_000

// newPlanes lays out stage 2 for the vertices of the base mesh, down to one layer.
func newPlanes(tm *team, triangles [][]int32, vertices int, faces []float64, f *fixed) (*planes, error) {
	pattern := newPattern(vertices, triangles)
	order := cuthillMcKee(pattern.start, pattern.col)
	pattern.setRank(order)
	var top, above *planes
	for {
		p := &planes{bandMatrix: pattern, team: tm, fixed: f, order: order}
		p.setLayers(len(faces) - 1)
		p.envelope()
		if p.size*p.nz > mostFactor {
			return nil, fmt.Errorf("%w: its coarsest plan has %d corners and %d layers", ErrTooLarge, vertices, p.nl)
		}
		p.chol = make([]float64, p.size*p.nz)
		n := p.np * p.nz
		p.x, p.b, p.r = make([]float32, n), make([]float32, n), make([]float32, n)
		p.tmp = make([]float64, n)
		p.off = make([]float32, 4*p.nz*len(p.col))
		for k := range p.nz {
			set := setOf(k)
			p.sets[set] = append(p.sets[set], k)
		}
		p.prepareWork()
		if above == nil {
			top = p
		} else {
			above.next = p
			above.prepareTransfers()
		}
		if p.nl == 1 {
			return top, nil
		}
		faces, p.parents = coarsenLayers(faces)
		p.children = make([][]weight, 2*len(faces)-1)
		for k, ps := range p.parents {
			for _, w := range ps {
				p.children[w.at] = append(p.children[w.at], weight{int32(k), w.w})
			}
		}
		above = p
	}
}

// coarsenLayers joins layers two by two and gives the quadratic interpolation from the coarse layers to the fine ones.
func coarsenLayers(faces []float64) (coarse []float64, parents [][]weight) {
	nl := len(faces) - 1
	coarse = []float64{faces[0]}
	parents = make([][]weight, 2*nl+1)
	for l := 0; l < nl; {
		n := min(2, nl-l)
		lo, hi := faces[l], faces[l+n]
		base := int32(2 * (len(coarse) - 1))
		for k := range 2*n + 1 {
			z := faces[l+k/2]
			if k%2 == 1 {
				z = (faces[l+k/2] + faces[l+k/2+1]) / 2
			}
			s, _ := lineShape((z - lo) / (hi - lo))
			var ps []weight
			for i, w := range s {
				if math.Abs(w) > 1e-12 {
					ps = append(ps, weight{base + int32(i), w})
				}
			}
			parents[2*l+k] = ps
		}
		coarse = append(coarse, hi)
		l += n
	}
	return coarse, parents
}

// cuthillMcKee numbers the nodes for a short envelope (Cuthill and McKee 1969, reversed by George 1971).
func cuthillMcKee(start, col []int32) []int32 {
	n := len(start) - 1
	degree := func(p int32) int32 { return start[p+1] - start[p] }
	order := make([]int32, n)
	seen := make([]bool, n)
	queue := make([]int32, 0, n)
	bfs := func(root int32, mark []bool) []int32 {
		q := queue[len(queue):len(queue):cap(queue)]
		q = append(q, root)
		mark[root] = true
		for i := 0; i < len(q); i++ {
			p := q[i]
			from := len(q)
			for _, c := range col[start[p]:start[p+1]] {
				if !mark[c] {
					mark[c] = true
					q = append(q, c)
				}
			}
			slices.SortStableFunc(q[from:], func(a, b int32) int { return int(degree(a) - degree(b)) })
		}
		return q
	}
	for p := range int32(n) {
		if seen[p] {
			continue
		}
		// The last node of a breadth-first walk lies at the rim: start from there.
		trial := slices.Clone(seen)
		walk := bfs(p, trial)
		root := walk[len(walk)-1]
		walk = bfs(root, seen)
		queue = queue[:len(queue)+len(walk)]
	}
	for i, p := range queue {
		order[p] = int32(n - 1 - i)
	}
	return order
}

// envelope lays out the factors.
func (p *planes) envelope() {
	p.first, p.row = make([]int32, p.np), make([]int, p.np+1)
	for q := range p.np {
		r := p.order[q]
		p.first[r] = p.order[p.col[p.start[q]]]
	}
	for r := range p.np {
		p.row[r+1] = p.row[r] + int(int32(r)-p.first[r]) + 1
	}
	p.size = p.row[p.np]
}

// product is one term of a Galerkin product: a number of the finer matrix (or a block of it, ^from if it is to be transposed) and its weight.
type product struct {
	from   int32
	weight float32
}

// galerkin lays out the products P'AP between two grids once: those of each block for plans, of each number of a block for layers.
type galerkin struct {
	start []int32 // terms of target i: terms[start[i]:start[i+1]]
	terms []product
}

// newGalerkin groups the terms (target, product) that visit yields by target.
func newGalerkin(targets int, visit func(yield func(target int32, p product))) galerkin {
	g := galerkin{start: make([]int32, targets+1)}
	visit(func(t int32, _ product) { g.start[t+1]++ })
	for i := range targets {
		g.start[i+1] += g.start[i]
	}
	g.terms = make([]product, g.start[targets])
	fill := append([]int32(nil), g.start[:targets]...)
	visit(func(t int32, p product) {
		g.terms[fill[t]] = p
		fill[t]++
	})
	return g
}

// takeFromColumns makes the matrix P'AP of a grid of stage 1 with the interpolation t.
func (p *planes) takeFromColumns(c *columns, t *transfer) {
	if p.source.start == nil {
		p.source = newGalerkin(p.pairs, func(yield func(int32, product)) {
			for q := range c.np {
				for i := c.self[q]; i < c.start[q+1]; i++ {
					for a := t.start[q]; a < t.start[q+1]; a++ {
						for b := t.start[c.col[i]]; b < t.start[c.col[i]+1]; b++ {
							from, w := c.pair[i], t.weight[a]*t.weight[b]
							j := p.find(t.coarse[a], t.coarse[b])
							if j >= p.self[t.coarse[a]] {
								yield(p.pair[j], product{from, w})
							}
							// The block from the other side, unless both sides are one and come up as such.
							if i > c.self[q] && j <= p.self[t.coarse[a]] {
								yield(p.pair[j], product{^from, w})
							}
						}
					}
				}
			}
		})
	}
	p.team.run(p.pairs, 4*p.stride, func(lo, hi int) {
		for i := lo; i < hi; i++ {
			dst := p.blockOf(int32(i))
			clear(dst)
			for _, t := range p.source.terms[p.source.start[i]:p.source.start[i+1]] {
				if t.from >= 0 {
					addScaled(dst, c.blockOf(t.from), t.weight)
				} else {
					addScaledTransposed(dst, c.blockOf(^t.from), t.weight, p.nl)
				}
			}
		}
	})
	p.clearFixed(p.team, p.fixed)
}

// receive restricts the residual of columns to node q of every plane: the planes' numbers run the other way.
func (p *planes) receive(t *transfer, r []float32, q int) {
	for k := range p.nz {
		p.b[k*p.np+q] = 0
	}
	for i := t.tStart[q]; i < t.tStart[q+1]; i++ {
		w := t.tWeight[i]
		n := int(t.tFine[i])
		for k, v := range r[n*p.nz : (n+1)*p.nz] {
			p.b[k*p.np+q] += w * v
		}
	}
}

// give adds w times node q of every plane to a column.
func (p *planes) give(x []float32, q int32, w float32) {
	for k := range x {
		x[k] += w * p.x[k*p.np+int(q)]
	}
}

// takeFromPlanes makes the matrix P'AP of the grid with twice the layers.
func (p *planes) takeFromPlanes(f *planes) {
	if p.source.start == nil {
		p.source = newGalerkin(p.stride, func(yield func(int32, product)) {
			for k := range f.nz {
				for d := -reach(k); d <= reach(k); d++ {
					if k+d < 0 || k+d >= f.nz {
						continue
					}
					for _, a := range f.parents[k] {
						for _, b := range f.parents[k+d] {
							yield(int32(entry(int(a.at), int(b.at-a.at))), product{int32(entry(k, d)), float32(a.w * b.w)})
						}
					}
				}
			}
		})
	}
	p.team.run(p.pairs, 4*p.stride, func(lo, hi int) {
		for i := lo; i < hi; i++ {
			src, dst := f.blockOf(int32(i)), p.blockOf(int32(i))
			for j := range dst {
				var sum float32
				for _, t := range p.source.terms[p.source.start[j]:p.source.start[j+1]] {
					sum += src[t.from] * t.weight
				}
				dst[j] = sum
			}
		}
	})
	p.clearFixed(p.team, p.fixed)
}

// setOf is the set of a plane.
func setOf(k int) int {
	switch k % 4 {
	case 0:
		return 1
	case 2:
		return 2
	}
	return 0
}

// factor computes the factor L L' of each plane, and those of all coarser grids.
func (p *planes) factor() error {
	failed := make([]bool, p.nz)
	p.team.run(p.nz, 20*p.size, func(lo, hi int) {
		for k := lo; k < hi; k++ {
			failed[k] = !p.factorPlane(k)
			for j, d := range [4]int{-2, -1, 1, 2} {
				if n := reach(k); d < -n || d > n || k+d < 0 || k+d >= p.nz {
					continue
				}
				off := p.couplings(k, j)
				for q := range p.np {
					for i := p.start[q]; i < p.self[q]; i++ {
						off[i] = p.block(i)[entry(k+d, -d)]
					}
					for i := p.self[q]; i < p.start[q+1]; i++ {
						off[i] = p.block(i)[entry(k, d)]
					}
				}
			}
		}
	})
	if slices.Contains(failed, true) {
		return errNotDefinite
	}
	if p.next != nil {
		p.next.takeFromPlanes(p)
		return p.next.factor()
	}
	return nil
}

func (p *planes) factorPlane(k int) bool {
	f := p.chol[k*p.size : (k+1)*p.size]
	clear(f)
	for q := range p.np {
		r := p.order[q]
		for i := p.start[q]; i <= p.self[q]; i++ {
			f[p.row[r]+int(p.order[p.col[i]]-p.first[r])] = float64(p.block(i)[entry(k, 0)])
		}
	}
	for r := range p.np {
		fr := p.first[r]
		rr := f[p.row[r]:p.row[r+1]]
		for c := fr; c < int32(r); c++ {
			from := max(fr, p.first[c])
			a, b := rr[from-fr:c-fr], f[p.row[c]+int(from-p.first[c]):]
			b = b[:len(a)]
			sum := rr[c-fr]
			for i, v := range a {
				sum -= v * b[i]
			}
			rr[c-fr] = sum * f[p.row[c+1]-1] // the diagonal is kept inverted
		}
		last := len(rr) - 1
		d := rr[last]
		for _, v := range rr[:last] {
			d -= v * v
		}
		if !(d > 0) {
			return false
		}
		rr[last] = 1 / math.Sqrt(d)
	}
	return true
}

// solvePlane solves plane k for its right-hand side in tmp (in factor order) in place.
func (p *planes) solvePlane(k int) {
	f, x := p.chol[k*p.size:(k+1)*p.size], p.tmp[k*p.np:(k+1)*p.np]
	for r := range p.np {
		rr := f[p.row[r]:p.row[r+1]]
		xs := x[p.first[r]:r]
		sum := x[r]
		for i, v := range xs {
			sum -= rr[i] * v
		}
		x[r] = sum * rr[len(rr)-1]
	}
	for r := p.np - 1; r >= 0; r-- {
		rr := f[p.row[r]:p.row[r+1]]
		v := x[r] * rr[len(rr)-1]
		x[r] = v
		xs := x[p.first[r]:r]
		for i := range xs {
			xs[i] -= rr[i] * v
		}
	}
}

// prepareWork builds the loops once, so that a cycle allocates nothing.
func (p *planes) prepareWork() {
	p.work = func(lo, hi int) {
		for _, k := range p.sets[p.set][lo:hi] {
			x := p.x[k*p.np : (k+1)*p.np]
			copy(x, p.b[k*p.np:(k+1)*p.np])
			for _, d := range [4]int{-2, -1, 1, 2} {
				if n := k + d; n >= 0 && n < p.nz && setOf(n) != p.set && setOf(n) <= p.within {
					p.takeOff(x, k, d)
				}
			}
			tmp := p.tmp[k*p.np : (k+1)*p.np]
			for q, v := range x {
				tmp[p.order[q]] = float64(v)
			}
			p.solvePlane(k)
			for q := range x {
				x[q] = float32(tmp[p.order[q]])
			}
		}
	}
	// After a pass from zero the residual is what the later sets take off.
	p.residual = func(lo, hi int) {
		for k := lo; k < hi; k++ {
			r := p.r[k*p.np : (k+1)*p.np]
			clear(r)
			for _, d := range [4]int{-2, -1, 1, 2} {
				if n := k + d; n >= 0 && n < p.nz && setOf(n) > setOf(k) {
					p.takeOff(r, k, d)
				}
			}
		}
	}
}

// prepareTransfers builds the loops to and from the next grid.
func (p *planes) prepareTransfers() {
	c := p.next
	p.restrict = func(lo, hi int) {
		for k := lo; k < hi; k++ {
			b := c.b[k*c.np : (k+1)*c.np]
			clear(b)
			for _, w := range p.children[k] {
				addScaled(b, p.r[int(w.at)*p.np:(int(w.at)+1)*p.np], float32(w.w))
			}
		}
	}
	p.prolong = func(lo, hi int) {
		for k := lo; k < hi; k++ {
			x := p.x[k*p.np : (k+1)*p.np]
			for _, w := range p.parents[k] {
				addScaled(x, c.x[int(w.at)*c.np:(int(w.at)+1)*c.np], float32(w.w))
			}
		}
	}
}

// takeOff takes the coupling of plane k with plane k+d off y.
func (p *planes) takeOff(y []float32, k, d int) {
	if d < -reach(k) || d > reach(k) {
		return
	}
	j := d + 2
	if d > 0 {
		j--
	}
	x, off := p.x[(k+d)*p.np:(k+d+1)*p.np], p.couplings(k, j)
	for q := range y {
		lo, hi := p.start[q], p.start[q+1]
		col := p.col[lo:hi]
		row := off[lo:hi][:len(col)]
		var sum float32
		for i, c := range col {
			sum += row[i] * x[c]
		}
		y[q] -= sum
	}
}

// couplings are those of plane k with the plane two or one below (j = 0, 1) or one or two above (2, 3).
func (p *planes) couplings(k, j int) []float32 {
	n := len(p.col)
	return p.off[(4*k+j)*n : (4*k+j+1)*n]
}

// relax solves the planes of a set with those of the sets up to within taken as known.
func (p *planes) relax(set, within int) {
	p.set, p.within = set, within
	p.team.run(len(p.sets[set]), 16*len(p.col), p.work)
}

// cycle solves approximately from zero.
func (p *planes) cycle() {
	p.clearFixedB()
	for set := range 3 {
		p.relax(set, set)
	}
	if c := p.next; c != nil {
		p.team.run(p.nz, 8*len(p.col), p.residual)
		p.team.run(c.nz, 4*p.np, p.restrict)
		c.cycle()
		p.team.run(p.nz, 2*p.np, p.prolong)
	}
	for set := 2; set >= 0; set-- {
		p.relax(set, 2)
	}
}

func (p *planes) clearFixedB() {
	for k := range p.nz {
		b := p.b[k*p.np : (k+1)*p.np]
		if k == 0 && p.fixed.bottom || k == p.nz-1 && p.fixed.top {
			clear(b)
			continue
		}
		for q, f := range p.fixed.column {
			if f {
				b[q] = 0
			}
		}
	}
}
