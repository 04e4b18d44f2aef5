package harmonic

import (
	"math"
	"testing"
)

// The gradients against central differences, and every harmonic against Laplace's equation.
func TestHarmonicsAreHarmonicAndDifferentiated(t *testing.T) {
	const n, h = 5, 1e-4
	p := [3]float64{0.31, -0.47, 0.22}
	val, a, b := make([]float64, Count(n)), make([]float64, Count(n)), make([]float64, Count(n))
	Values(n, p[0], p[1], p[2], val)
	grad := make([][3]float64, len(val))
	Gradients(n, val, grad)
	laplace := make([]float64, len(val))
	for k := range 3 {
		q, r := p, p
		q[k] += h
		r[k] -= h
		Values(n, q[0], q[1], q[2], a)
		Values(n, r[0], r[1], r[2], b)
		for i := range val {
			if d := (a[i] - b[i]) / (2 * h); math.Abs(d-grad[i][k]) > 1e-6*(1+math.Abs(d)) {
				t.Errorf("harmonic %d: derivative %d is %g, by differences %g", i, k, grad[i][k], d)
			}
			laplace[i] += (a[i] + b[i] - 2*val[i]) / (h * h)
		}
	}
	for i, l := range laplace {
		if math.Abs(l) > 1e-3 { // the difference formula at degree 5, step 1e-4
			t.Errorf("harmonic %d has Laplacian %g", i, l)
		}
	}
}
