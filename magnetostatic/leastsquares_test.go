package magnetostatic

import (
	"math"
	"math/rand/v2"
	"testing"

	"gonum.org/v1/gonum/mat"
)

// Least squares against gonum's QR factorization: matrices of random numbers, well conditioned and with columns that are nearly one another, to
// 1e-9 of the largest coefficient times the condition number over 1e6.
func TestLeastSquaresAgainstQR(t *testing.T) {
	rng := rand.New(rand.NewPCG(7, 3))
	for _, c := range []struct {
		rows, n, k int
		near       float64 // distance of the last two columns
	}{{30, 5, 1, 1}, {301, 25, 1, 1}, {120, 10, 3, 1}, {90, 8, 2, 1e-3}, {91, 8, 2, 1e-7}} {
		a, b := mat.NewDense(c.rows, c.n, nil), mat.NewDense(c.rows, c.k, nil)
		for i := range c.rows {
			for j := range c.n {
				a.Set(i, j, math.Pow(10, float64(j%4))*rng.NormFloat64())
			}
			a.Set(i, c.n-1, a.At(i, c.n-2)*(1+c.near*rng.NormFloat64()))
			for j := range c.k {
				b.Set(i, j, rng.NormFloat64())
			}
		}
		x, ok := leastSquares(a.RawMatrix().Data, b.RawMatrix().Data, c.n, c.k)
		if !ok {
			t.Fatalf("%+v: no solution", c)
		}
		var qr mat.QR
		qr.Factorize(a)
		var want mat.Dense
		if err := qr.SolveTo(&want, false, b); err != nil {
			t.Fatal(err)
		}
		tolerance := 1e-9 * math.Max(1, qr.Cond()/1e6) * mat.Max(&want)
		for j := range c.n {
			for k := range c.k {
				if d := math.Abs(x[j*c.k+k] - want.At(j, k)); !(d <= tolerance) {
					t.Errorf("%+v: coefficient %d,%d is %g, by QR %g", c, j, k, x[j*c.k+k], want.At(j, k))
				}
			}
		}
	}
	if _, ok := leastSquares([]float64{1, 0, 2, 0, 3, 0}, []float64{1, 2, 3}, 2, 1); ok {
		t.Error("a column of zeros has a solution")
	}
}
