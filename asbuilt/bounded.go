package asbuilt

import (
	"math"

	"gonum.org/v1/gonum/mat"
)

// Bounded finds x with low <= x <= high that makes |A x - b|^2 least, by coordinate descent with a direct solve of what lies within the bounds.
// ok says that the conditions of Kuhn and Tucker hold (J. Nocedal, S. J. Wright, Numerical Optimization, 2nd ed., section 16.7: the gradient is
// zero within the bounds and points outwards on them); else x is the best so far. Columns that say the same share their part in any way.
func Bounded(a *mat.Dense, b, low, high []float64) (x []float64, ok bool) {
	_, n := a.Dims()
	var gram mat.Dense
	gram.Mul(a.T(), a)
	var ab mat.VecDense
	ab.MulVec(a.T(), mat.NewVecDense(len(b), b))
	x = make([]float64, n)
	gradient := make([]float64, n) // of half the square
	largest := 0.0
	for i := range n {
		x[i] = math.Min(math.Max(0, low[i]), high[i])
		largest = math.Max(largest, gram.At(i, i))
	}
	if largest == 0 {
		return x, true
	}
	refresh := func() {
		for i := range n {
			gradient[i] = -ab.AtVec(i)
			for k := range n {
				gradient[i] += gram.At(i, k) * x[k]
			}
		}
	}
	norm := mat.Norm(mat.NewVecDense(len(b), b), 2)
	small := func(i int) float64 { return 1e-9 * math.Sqrt(math.Max(gram.At(i, i), 1e-12*largest)) * norm }
	done := func() bool {
		for i, g := range gradient {
			if g > small(i) && x[i] > low[i] || g < -small(i) && x[i] < high[i] {
				return false
			}
		}
		return true
	}
	// direct solves for what lies within the bounds, and goes as far towards it as they allow.
	direct := func() {
		var free []int
		for i := range n {
			if x[i] > low[i] && x[i] < high[i] {
				free = append(free, i)
			}
		}
		if len(free) == 0 {
			return
		}
		sub, right := mat.NewSymDense(len(free), nil), mat.NewVecDense(len(free), nil)
		for i, p := range free {
			right.SetVec(i, -gradient[p])
			for k := i; k < len(free); k++ {
				sub.SetSym(i, k, gram.At(p, free[k]))
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
				far = math.Min(far, (high[p]-x[p])/s)
			} else if s < 0 {
				far = math.Min(far, (low[p]-x[p])/s)
			}
		}
		for i, p := range free {
			x[p] = math.Min(math.Max(x[p]+far*step.AtVec(i), low[p]), high[p])
		}
	}
	const sweeps, between = 4000, 10
	refresh()
	for s := range sweeps {
		for i := range n {
			g := gram.At(i, i)
			if g == 0 {
				continue
			}
			next := math.Min(math.Max(x[i]-gradient[i]/g, low[i]), high[i])
			if d := next - x[i]; d != 0 {
				x[i] = next
				for k := range n {
					gradient[k] += d * gram.At(k, i)
				}
			}
		}
		if s%between == between-1 {
			refresh()
			if done() {
				return x, true
			}
			direct()
			refresh()
		}
		if done() {
			return x, true
		}
	}
	return x, false
}
