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
		rows, n int
		near    float64 // distance of the last two columns
	}{{30, 5, 1}, {301, 25, 1}, {120, 10, 1}, {90, 8, 1e-3}, {91, 8, 1e-7}} {
		a, b := mat.NewDense(c.rows, c.n, nil), mat.NewVecDense(c.rows, nil)
		e := newEquations(c.rows, c.n)
		for i := range c.rows {
			for j := range c.n {
				a.Set(i, j, math.Pow(10, float64(j%4))*rng.NormFloat64())
			}
			a.Set(i, c.n-1, a.At(i, c.n-2)*(1+c.near*rng.NormFloat64()))
			b.SetVec(i, rng.NormFloat64())
			e.set(i, a.RawRowView(i), b.AtVec(i), 1)
		}
		x, ok := e.solve()
		if !ok {
			t.Fatalf("%+v: no solution", c)
		}
		var qr mat.QR
		qr.Factorize(a)
		var want mat.VecDense
		if err := qr.SolveVecTo(&want, false, b); err != nil {
			t.Fatal(err)
		}
		tolerance := 1e-9 * math.Max(1, qr.Cond()/1e6) * mat.Max(&want)
		for j := range c.n {
			if d := math.Abs(x[j] - want.AtVec(j)); !(d <= tolerance) {
				t.Errorf("%+v: coefficient %d is %g, by QR %g", c, j, x[j], want.AtVec(j))
			}
		}
	}
	zeros := newEquations(3, 2)
	for i := range 3 {
		zeros.set(i, []float64{float64(i + 1), 0}, float64(i+1), 1)
	}
	if _, ok := zeros.solve(); ok {
		t.Error("a column of zeros has a solution")
	}
}

// What is left of the equations is theirs less what the unknowns make, and every third equation, from the second on, is one of the whole set.
func TestEquations(t *testing.T) {
	e := newEquations(7, 2)
	for i := range 7 {
		e.set(i, []float64{1, float64(i)}, 10+float64(i*i), 2)
	}
	x := []float64{3, -1}
	left := e.left(x)
	third := e.every(1, 3)
	if third.rows != 2 {
		t.Fatalf("%d equations", third.rows)
	}
	for i, v := range left {
		if want := 2 * (10 + float64(i*i) - 3 + float64(i)); v != want {
			t.Errorf("equation %d leaves %g, want %g", i, v, want)
		}
	}
	for i, v := range third.left(x) {
		if v != left[1+3*i] {
			t.Errorf("equation %d of the third leaves %g, want %g", i, v, left[1+3*i])
		}
	}
}
