package axisymmetric

import (
	"cmp"
	"errors"
	"slices"
	"sync"

	"gonum.org/v1/gonum/blas"
	"gonum.org/v1/gonum/blas/blas64"
	"gonum.org/v1/gonum/lapack/lapack64"
)

// This file solves the linear systems by a multifrontal Cholesky factorization (I. S. Duff, J. K. Reid, ACM Trans. Math. Softw. 9 (1983)
// 302) on a nested dissection of the mesh (A. George, SIAM J. Numer. Anal. 10 (1973) 345): triangles are halved again and again, and each
// front of the tree eliminates the nodes that no triangle outside it has. Work grows as the 3/2 power of the unknowns. Fronts of linear
// media are factored once for all Newton steps.

// front is a node of the tree.
type front struct {
	child     [2]*front
	triangles []int32    // of a leaf
	places    [][6]int32 // of their nodes among the unknowns, -1 for none
	unknowns  []int32    // those eliminated here, then those left to the parent
	pivots    int        // how many are eliminated here
	up        []int32    // place of each unknown left to the parent among the parent's
	constant  bool       // holds linear media only
	done      bool       // and is factored

	a []float64 // the dense matrix, row by row, its lower triangle: factor in the first columns, what is left to the parent in the rest
}

// leafSize is how many triangles a leaf has at most.
const leafSize = 12

// solver factors and solves the tangent systems.
type solver struct {
	sys  *system
	root *front
	list []*front // children before parents
	x    []float64
}

func newSolver(s *system) *solver {
	v := &solver{sys: s, x: make([]float64, s.n)}
	var tris []int32
	for t, b := range s.mesh.body {
		if b != outer {
			tris = append(tris, int32(t))
		}
	}
	v.root = v.dissect(tris)
	// An unknown is eliminated where the last triangle that has it joins; those of the rim at the root, where the open space joins them.
	count := make([]int32, s.n)
	for _, t := range tris {
		for _, i := range s.dof[t] {
			if i >= 0 {
				count[i]++
			}
		}
	}
	for _, i := range s.rim {
		count[i]++
	}
	seen := make([]int32, s.n)
	place := make([]int32, s.n)
	for k, f := range v.list {
		v.gather(f, count, seen, place, f == v.root, int32(k)+1)
	}
	return v
}

// dissect halves a set of triangles along its longer side.
func (v *solver) dissect(tris []int32) *front {
	f := &front{constant: true}
	if len(tris) <= leafSize {
		f.triangles = tris
		for _, t := range tris {
			f.constant = f.constant && v.sys.medium(t).linear()
		}
	} else {
		best, least := 0, 1<<60
		halves := [2][]int32{slices.Clone(tris), tris}
		for k := range 2 {
			slices.SortFunc(halves[k], func(a, b int32) int {
				return cmp.Or(cmp.Compare(v.sys.els[a].at[0][k], v.sys.els[b].at[0][k]), cmp.Compare(a, b))
			})
			if c := v.sys.shared(halves[k]); c < least {
				best, least = k, c
			}
		}
		tris = halves[best]
		for k, half := range [2][]int32{tris[:len(tris)/2], tris[len(tris)/2:]} {
			f.child[k] = v.dissect(slices.Clone(half))
			f.constant = f.constant && f.child[k].constant
		}
	}
	v.list = append(v.list, f)
	return f
}

// shared counts the nodes that the two halves of a list of triangles share.
func (s *system) shared(tris []int32) (count int) {
	s.stamp++
	for i, t := range tris {
		second := i >= len(tris)/2
		for _, n := range s.dof[t] {
			if n < 0 {
				continue
			}
			switch {
			case !second:
				s.mark[n] = s.stamp
			case s.mark[n] == s.stamp:
				count++
				s.mark[n] = 0
			}
		}
	}
	return count
}

// gather lists the unknowns of a front and how many triangles outside it still have each.
func (v *solver) gather(f *front, count, seen, place []int32, root bool, stamp int32) {
	var all []int32
	take := func(i int32) {
		if seen[i] != stamp {
			seen[i] = stamp
			all = append(all, i)
		}
	}
	for _, t := range f.triangles {
		for _, i := range v.sys.dof[t] {
			if i >= 0 {
				count[i]--
				take(i)
			}
		}
	}
	for _, c := range f.child {
		if c != nil {
			for _, i := range c.unknowns[c.pivots:] {
				count[i]-- // the child handed it on as one
				take(i)
			}
		}
	}
	if root {
		for _, i := range v.sys.rim {
			count[i]--
			take(i)
		}
	}
	for _, i := range all {
		if count[i] == 0 {
			f.unknowns = append(f.unknowns, i)
		}
	}
	f.pivots = len(f.unknowns)
	for _, i := range all {
		if count[i] > 0 {
			count[i]++ // this front stands for one more that has it
			f.unknowns = append(f.unknowns, i)
		}
	}
	for k, i := range f.unknowns {
		place[i] = int32(k)
	}
	for _, c := range f.child {
		if c != nil {
			for _, i := range c.unknowns[c.pivots:] {
				c.up = append(c.up, place[i])
			}
		}
	}
	for _, t := range f.triangles {
		var p [6]int32
		for a, i := range v.sys.dof[t] {
			p[a] = -1
			if i >= 0 {
				p[a] = place[i]
			}
		}
		f.places = append(f.places, p)
	}
	n := len(f.unknowns)
	f.a = make([]float64, n*n)
}

var errNotDefinite = errors.New("the system is not positive definite")

// factor computes the factorization of the system's tangent.
func (v *solver) factor() error {
	return v.factorFront(v.root, 1)
}

// factorFront factors a front after its children; two at a time near the root.
func (v *solver) factorFront(f *front, split int) error {
	if f.done {
		return nil
	}
	var errs [2]error
	if f.child[0] != nil {
		if split > 0 {
			var wait sync.WaitGroup
			wait.Go(func() { errs[1] = v.factorFront(f.child[1], split-1) })
			errs[0] = v.factorFront(f.child[0], split-1)
			wait.Wait()
		} else {
			for k, c := range f.child {
				errs[k] = v.factorFront(c, 0)
			}
		}
	}
	if err := errors.Join(errs[:]...); err != nil {
		return err
	}
	n, p := len(f.unknowns), f.pivots
	clear(f.a)
	v.assemble(f)
	for _, c := range f.child {
		if c == nil {
			continue
		}
		m := len(c.unknowns)
		for i, r := range c.up {
			row := c.a[(c.pivots+i)*m+c.pivots:]
			for j, s := range c.up[:i+1] {
				f.a[int(max(r, s))*n+int(min(r, s))] += row[j]
			}
		}
	}
	if p > 0 {
		if _, ok := lapack64.Potrf(blas64.Symmetric{Uplo: blas.Lower, N: p, Data: f.a, Stride: n}); !ok {
			return errNotDefinite
		}
		if n > p {
			low := blas64.General{Rows: n - p, Cols: p, Data: f.a[p*n:], Stride: n}
			blas64.Trsm(blas.Right, blas.Trans, 1, blas64.Triangular{Uplo: blas.Lower, Diag: blas.NonUnit, N: p, Data: f.a, Stride: n}, low)
			blas64.Syrk(blas.NoTrans, -1, low, 1, blas64.Symmetric{Uplo: blas.Lower, N: n - p, Data: f.a[p*n+p:], Stride: n})
		}
	}
	f.done = f.constant
	return nil
}

// assemble adds the matrices of a leaf's triangles, and at the root that of the open space.
func (v *solver) assemble(f *front) {
	s := v.sys
	n := len(f.unknowns)
	var k [6][6]float64
	for l, t := range f.triangles {
		s.tangent(t, &k)
		for a, r := range f.places[l] {
			for b, c := range f.places[l] {
				if c >= 0 && c <= r {
					f.a[int(r)*n+int(c)] += k[a][b]
				}
			}
		}
	}
	if f == v.root {
		place := make(map[int32]int, n)
		for k, i := range f.unknowns {
			place[i] = k
		}
		for a, i := range s.rim {
			for b, j := range s.rim {
				if r, c := place[i], place[j]; c <= r {
					f.a[r*n+c] += s.open[a*len(s.rim)+b]
				}
			}
		}
	}
}

// solve gives x with tangent * x = b; b is kept.
func (v *solver) solve(x, b []float64) {
	copy(x, b)
	y := v.x
	for _, f := range v.list {
		n, p := len(f.unknowns), f.pivots
		for i, u := range f.unknowns {
			row := f.a[i*n : i*n+min(i, p)]
			sum := x[u] - dot(row, y)
			if i < p {
				sum /= f.a[i*n+i]
				y[i] = sum
			}
			x[u] = sum
		}
	}
	for k := len(v.list) - 1; k >= 0; k-- {
		f := v.list[k]
		n, p := len(f.unknowns), f.pivots
		for i, u := range f.unknowns[:p] {
			y[i] = x[u]
		}
		for i := n - 1; i >= 0; i-- {
			row := f.a[i*n : i*n+min(i, p)]
			xi := x[f.unknowns[i]]
			if i < p {
				xi = y[i] / f.a[i*n+i]
				x[f.unknowns[i]] = xi
			}
			for j, a := range row {
				y[j] -= a * xi
			}
		}
	}
}
