package asbuilt

import (
	"math"
	"math/rand/v2"
	"testing"

	"gonum.org/v1/gonum/mat"
)

// The least over the bounds is the least over all ways to put some x on a bound and solve for the others (3^n of them), which is brute force.
func TestBoundedAgainstAllActiveSets(t *testing.T) {
	rng := rand.New(rand.NewPCG(5, 6))
	for trial := range 200 {
		n := 1 + trial%5
		m := n + rng.IntN(6)
		a := mat.NewDense(m, n, nil)
		b, low, high := make([]float64, m), make([]float64, n), make([]float64, n)
		for i := range m {
			b[i] = 3 * rng.NormFloat64()
			for k := range n {
				a.Set(i, k, rng.NormFloat64())
			}
		}
		for k := range n {
			low[k] = -rng.Float64()
			high[k] = rng.Float64()
		}
		square := func(x []float64) (s float64) {
			for i := range m {
				r := -b[i]
				for k := range n {
					r += a.At(i, k) * x[k]
				}
				s += r * r
			}
			return s
		}
		best := math.Inf(1)
		for code := range int(math.Pow(3, float64(n))) {
			x := make([]float64, n)
			var free []int
			for k, c := 0, code; k < n; k, c = k+1, c/3 {
				switch c % 3 {
				case 0:
					free = append(free, k)
				case 1:
					x[k] = low[k]
				case 2:
					x[k] = high[k]
				}
			}
			if len(free) > 0 {
				sub, right := mat.NewDense(m, len(free), nil), mat.NewVecDense(m, nil)
				for i := range m {
					r := b[i]
					for k := range n {
						r -= a.At(i, k) * x[k]
					}
					right.SetVec(i, r)
					for j, k := range free {
						sub.Set(i, j, a.At(i, k))
					}
				}
				var y mat.VecDense
				if y.SolveVec(sub, right) != nil {
					continue
				}
				inside := true
				for j, k := range free {
					x[k] = y.AtVec(j)
					inside = inside && x[k] >= low[k] && x[k] <= high[k]
				}
				if !inside {
					continue
				}
			}
			best = math.Min(best, square(x))
		}
		x, ok := Bounded(a, b, low, high)
		for k := range n {
			if x[k] < low[k] || x[k] > high[k] {
				t.Fatalf("trial %d: x[%d] = %g is not within %g … %g", trial, k, x[k], low[k], high[k])
			}
		}
		if got := square(x); !ok || math.Abs(got-best) > 1e-9*(1+best) {
			t.Errorf("trial %d: %g (%v), least of all active sets %g", trial, got, ok, best)
		}
	}
}

// A column twice: the sum counts.
func TestBoundedAlikeColumns(t *testing.T) {
	a := mat.NewDense(2, 2, []float64{1, 1, 2, 2})
	x, ok := Bounded(a, []float64{1.5, 3}, []float64{0, 0}, []float64{1, 1})
	if !ok || math.Abs(x[0]+x[1]-1.5) > 1e-9 {
		t.Errorf("%v %v", x, ok)
	}
}
