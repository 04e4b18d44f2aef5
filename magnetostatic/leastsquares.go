package magnetostatic

import (
	"math"

	"gonum.org/v1/gonum/floats"
	"gonum.org/v1/gonum/mat"
)

// equations are more linear equations than unknowns: the factors of each unknown in a column of their own.
type equations struct {
	rows, n int
	factors []float64 // of unknown j: factors[j*rows : (j+1)*rows]
	right   []float64
}

func newEquations(rows, n int) *equations {
	return &equations{rows: rows, n: n, factors: make([]float64, rows*n), right: make([]float64, rows)}
}

// set makes row . x = right, times a weight, the equation i.
func (e *equations) set(i int, row []float64, right, weight float64) {
	for j, v := range row {
		e.factors[j*e.rows+i] = weight * v
	}
	e.right[i] = weight * right
}

// every gives one equation in step, from the first on.
func (e *equations) every(first, step int) *equations {
	out := newEquations((e.rows-first+step-1)/step, e.n)
	for i := range out.rows {
		for j := range e.n {
			out.factors[j*out.rows+i] = e.factors[j*e.rows+first+i*step]
		}
		out.right[i] = e.right[first+i*step]
	}
	return out
}

func (e *equations) column(j int) []float64 { return e.factors[j*e.rows : (j+1)*e.rows] }

// left is what x leaves of the right-hand sides.
func (e *equations) left(x []float64) []float64 {
	r := make([]float64, e.rows)
	e.leave(r, e.right, x)
	return r
}

// leave puts what x leaves of right-hand sides into r.
func (e *equations) leave(r, right, x []float64) {
	copy(r, right)
	for j, v := range x {
		floats.AddScaled(r, -v, e.column(j))
	}
}

// solve minimizes the sum of the squares of what is left. It is false when the columns depend on each other.
func (e *equations) solve() (x []float64, ok bool) {
	all, ok := e.solveFor(e.right)
	if !ok {
		return nil, false
	}
	return all[0], true
}

// solveFor does so for several right-hand sides in place of the equations' own.
//
// The normal equations with columns of length one, corrected twice by the residual of the problem itself, are as accurate as an orthogonal
// factorization and many times as fast (Björck 1987, corrected seminormal equations). Where their pivots fall too low for that, a QR
// factorization takes over.
func (e *equations) solveFor(rights ...[]float64) (all [][]float64, ok bool) {
	n := e.n
	scale, gram := make([]float64, n), make([]float64, n*n)
	for i := range n {
		for j := range i + 1 {
			gram[i*n+j] = floats.Dot(e.column(i), e.column(j))
		}
		if gram[i*n+i] <= 0 {
			return nil, false
		}
		scale[i] = 1 / math.Sqrt(gram[i*n+i])
		for j := range i + 1 {
			gram[i*n+j] *= scale[i] * scale[j]
		}
	}
	if !cholesky(gram, n) {
		return e.solveQR(scale, rights)
	}
	y, r := make([]float64, n), make([]float64, e.rows)
	for _, right := range rights {
		x := make([]float64, n)
		for range 3 {
			e.leave(r, right, x)
			for j := range y {
				y[j] = floats.Dot(e.column(j), r)
			}
			choleskySolve(gram, y, scale)
			floats.Add(x, y)
		}
		all = append(all, x)
	}
	return all, true
}

// cholesky factors the lower half of a matrix with unit diagonal in place; it gives up when a pivot is too small for the corrections of
// solve to make up for it.
func cholesky(g []float64, n int) bool {
	const least = 1e-9
	for i := range n {
		r := g[i*n : i*n+i+1]
		for j := range i {
			c := g[j*n : j*n+j+1]
			sum := r[j]
			for k, v := range c[:j] {
				sum -= v * r[k]
			}
			r[j] = sum / c[j]
		}
		d := r[i]
		for _, v := range r[:i] {
			d -= v * v
		}
		if !(d > least) {
			return false
		}
		r[i] = math.Sqrt(d)
	}
	return true
}

// choleskySolve solves in place, with rows and columns scaled.
func choleskySolve(g, y, scale []float64) {
	n := len(y)
	for i := range n {
		r := g[i*n : i*n+i+1]
		sum := y[i] * scale[i]
		for j, v := range r[:i] {
			sum -= v * y[j]
		}
		y[i] = sum / r[i]
	}
	for i := n - 1; i >= 0; i-- {
		r := g[i*n : i*n+i+1]
		v := y[i] / r[i]
		y[i] = v
		for j, w := range r[:i] {
			y[j] -= w * v
		}
	}
	for i := range n {
		y[i] *= scale[i]
	}
}

func (e *equations) solveQR(scale []float64, rights [][]float64) (all [][]float64, ok bool) {
	if e.rows < e.n {
		return nil, false
	}
	m := mat.NewDense(e.rows, e.n, nil)
	for j, s := range scale {
		for i, v := range e.column(j) {
			m.Set(i, j, v*s)
		}
	}
	var qr mat.QR
	qr.Factorize(m)
	for _, right := range rights {
		var c mat.VecDense
		if err := qr.SolveVecTo(&c, false, mat.NewVecDense(e.rows, right)); err != nil && !(qr.Cond() < 1e12) {
			return nil, false
		}
		x := make([]float64, e.n)
		for j, s := range scale {
			x[j] = c.AtVec(j) * s
		}
		all = append(all, x)
	}
	return all, true
}
