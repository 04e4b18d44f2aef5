package freefield

import (
	"math"

	"gonum.org/v1/gonum/integrate/quad"
)

// maxGauss is the highest order of the Gauss-Legendre rules kept.
const maxGauss = 24

// rule is a Gauss-Legendre rule on [-1, 1].
type rule struct{ x, w []float64 }

// gauss[n] is the rule of n points.
var gauss = func() (rules [maxGauss + 1]rule) {
	for n := 1; n <= maxGauss; n++ {
		r := rule{make([]float64, n), make([]float64, n)}
		quad.Legendre{}.FixedLocations(r.x, r.w, -1, 1)
		rules[n] = r
	}
	return rules
}()

// gaussPoints is the number of Gauss points along an interval [-h, h] that integrate the field of a dipole with its singularities at
// p +- i q to 1e-13; more than maxGauss when a kept rule does not do it. The error falls as rho^(-2n), rho the sum of the half axes of
// the ellipse about the interval that goes through the singularity (Davis and Rabinowitz, Methods of Numerical Integration
// (1984)); its factor was found by trial for rods seen along, across and askew at 1.3 to 1000 half lengths.
func gaussPoints(h, p, q float64) int {
	sum := (math.Hypot(p-h, q) + math.Hypot(p+h, q)) / (2 * h)
	rho := sum + math.Sqrt(math.Max(0, sum*sum-1))
	if !(rho > 1.5) {
		return maxGauss + 1
	}
	return int(math.Min(math.Ceil(18.2/math.Log(rho)), maxGauss+1))
}
