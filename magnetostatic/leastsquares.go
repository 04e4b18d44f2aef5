package magnetostatic

import (
	"math"

	"gonum.org/v1/gonum/mat"
)

// leastSquares minimizes |a x - b| for each of the k columns of b. a has n columns, b k, both row by row; x comes as n rows of k. It is false
// when the columns of a depend on each other.
//
// The normal equations with columns of length one, corrected twice by the residual of the problem itself, are as accurate as an orthogonal
// factorization and four times as fast (Björck 1987, corrected seminormal equations). Where their pivots fall too low for that, a QR
// factorization takes over.
func leastSquares(a, b []float64, n, k int) (x []float64, ok bool) {
	rows := len(b) / k
	scale := make([]float64, n)
	gram := gramian(a, n)
	for j := range scale {
		if gram[j*n+j] <= 0 {
			return nil, false
		}
		scale[j] = 1 / math.Sqrt(gram[j*n+j])
	}
	for i := range n {
		for j := range i + 1 {
			gram[i*n+j] *= scale[i] * scale[j]
		}
	}
	if !cholesky(gram, n) {
		return leastSquaresQR(a, b, n, k, scale)
	}
	x = make([]float64, n*k)
	y := make([]float64, n*k)
	r := append([]float64(nil), b...)
	for pass := range 3 {
		if pass > 0 {
			for i := range rows {
				row := a[i*n : (i+1)*n]
				for c := range k {
					sum := b[i*k+c]
					for j, v := range row {
						sum -= v * x[j*k+c]
					}
					r[i*k+c] = sum
				}
			}
		}
		clear(y)
		for i := range rows {
			row := a[i*n : (i+1)*n]
			for c := range k {
				v := r[i*k+c]
				for j, w := range row {
					y[j*k+c] += v * w
				}
			}
		}
		for c := range k {
			choleskySolve(gram, y[c:], scale, n, k)
		}
		for i, v := range y {
			x[i] += v
		}
	}
	return x, true
}

// gramian is the lower half of a'a for n columns.
func gramian(a []float64, n int) []float64 {
	g := make([]float64, n*n)
	for ; len(a) >= 2*n; a = a[2*n:] {
		p, q := a[:n], a[n:2*n]
		for i := range n {
			u, v := p[i], q[i]
			row := g[i*n : i*n+i+1]
			p, q := p[:len(row)], q[:len(row)]
			for j := range row {
				row[j] += u*p[j] + v*q[j]
			}
		}
	}
	if len(a) >= n {
		for i := range n {
			for j := range i + 1 {
				g[i*n+j] += a[i] * a[j]
			}
		}
	}
	return g
}

// cholesky factors the lower half of a matrix with unit diagonal in place; it gives up when a pivot is too small for the corrections of
// leastSquares to make up for it.
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

// choleskySolve solves in place for every k-th number of y, with rows and columns scaled.
func choleskySolve(g, y, scale []float64, n, k int) {
	for i := range n {
		r := g[i*n : i*n+i+1]
		sum := y[i*k] * scale[i]
		for j, v := range r[:i] {
			sum -= v * y[j*k]
		}
		y[i*k] = sum / r[i]
	}
	for i := n - 1; i >= 0; i-- {
		r := g[i*n : i*n+i+1]
		v := y[i*k] / r[i]
		y[i*k] = v
		for j, w := range r[:i] {
			y[j*k] -= w * v
		}
	}
	for i := range n {
		y[i*k] *= scale[i]
	}
}

func leastSquaresQR(a, b []float64, n, k int, scale []float64) ([]float64, bool) {
	rows := len(b) / k
	if rows < n {
		return nil, false
	}
	m := mat.NewDense(rows, n, nil)
	for i := range rows {
		row := m.RawRowView(i)
		for j := range row {
			row[j] = a[i*n+j] * scale[j]
		}
	}
	var qr mat.QR
	qr.Factorize(m)
	var c mat.Dense
	if err := qr.SolveTo(&c, false, mat.NewDense(rows, k, b)); err != nil && !(qr.Cond() < 1e12) {
		return nil, false
	}
	x := make([]float64, n*k)
	for j := range n {
		for i := range k {
			x[j*k+i] = c.At(j, i) * scale[j]
		}
	}
	return x, true
}
