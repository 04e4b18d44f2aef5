package asbuilt

import (
	"math"

	"gonum.org/v1/gonum/mat"
)

// Bounded finds x with low <= x <= high that makes |A x - b|^2 least, by coordinate descent with a direct solve of what lies within the bounds.
// ok says that the conditions of Kuhn and Tucker hold (J. Nocedal, S. J. Wright, Numerical Optimization, 2nd ed., section 16.7: the gradient is
// zero within the bounds and points outwards on them); else x is the best so far. Columns that say the same share their part in any way.
func Bounded(a *mat.Dense, b, low, high []float64) (x []float64, ok bool) {
	d := newDescent(a, b, low, high)
	if d.largest == 0 {
		return d.x, true
	}
	const sweeps, between = 4000, 10
	d.refresh()
	for s := range sweeps {
		d.sweep()
		if s%between == between-1 {
			d.refresh()
			if d.done() {
				return d.x, true
			}
			d.direct()
			d.refresh()
		}
		if d.done() {
			return d.x, true
		}
	}
	return d.x, false
}

// descent is where a bounded least-squares problem stands.
type descent struct {
	gram         mat.Dense    // A'A
	ab           mat.VecDense // A'b
	low, high, x []float64
	gradient     []float64 // of half the square
	largest      float64   // of the squares of columns
	norm         float64   // of b
}

// newDescent begins at the place within the bounds that is nearest to zero.
func newDescent(a *mat.Dense, b, low, high []float64) *descent {
	_, n := a.Dims()
	right := mat.NewVecDense(len(b), b)
	d := &descent{low: low, high: high, x: make([]float64, n), gradient: make([]float64, n), norm: mat.Norm(right, 2)}
	d.gram.Mul(a.T(), a)
	d.ab.MulVec(a.T(), right)
	for i := range n {
		d.x[i] = math.Min(math.Max(0, low[i]), high[i])
		d.largest = math.Max(d.largest, d.gram.At(i, i))
	}
	return d
}

func (d *descent) refresh() {
	for i := range d.x {
		d.gradient[i] = -d.ab.AtVec(i)
		for k, x := range d.x {
			d.gradient[i] += d.gram.At(i, k) * x
		}
	}
}

// done tells whether the conditions of Kuhn and Tucker hold.
func (d *descent) done() bool {
	for i, g := range d.gradient {
		small := 1e-9 * math.Sqrt(math.Max(d.gram.At(i, i), 1e-12*d.largest)) * d.norm
		if g > small && d.x[i] > d.low[i] || g < -small && d.x[i] < d.high[i] {
			return false
		}
	}
	return true
}

// sweep takes each unknown in turn to its best place within the bounds.
func (d *descent) sweep() {
	for i := range d.x {
		g := d.gram.At(i, i)
		if g == 0 {
			continue
		}
		next := math.Min(math.Max(d.x[i]-d.gradient[i]/g, d.low[i]), d.high[i])
		if step := next - d.x[i]; step != 0 {
			d.x[i] = next
			for k := range d.gradient {
				d.gradient[k] += step * d.gram.At(k, i)
			}
		}
	}
}

// direct solves for what lies within the bounds, and goes as far towards it as they allow.
func (d *descent) direct() {
	var free []int
	for i, x := range d.x {
		if x > d.low[i] && x < d.high[i] {
			free = append(free, i)
		}
	}
	if len(free) == 0 {
		return
	}
	sub, right := mat.NewSymDense(len(free), nil), mat.NewVecDense(len(free), nil)
	for i, p := range free {
		right.SetVec(i, -d.gradient[p])
		for k := i; k < len(free); k++ {
			sub.SetSym(i, k, d.gram.At(p, free[k]))
		}
	}
	var root mat.Cholesky
	var step mat.VecDense
	if !root.Factorize(sub) || root.SolveVecTo(&step, right) != nil {
		return
	}
	far := 1.0
	for i, p := range free {
		if s := step.AtVec(i); s > 0 {
			far = math.Min(far, (d.high[p]-d.x[p])/s)
		} else if s < 0 {
			far = math.Min(far, (d.low[p]-d.x[p])/s)
		}
	}
	for i, p := range free {
		d.x[p] = math.Min(math.Max(d.x[p]+far*step.AtVec(i), d.low[p]), d.high[p])
	}
}
