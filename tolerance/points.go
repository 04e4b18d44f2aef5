// Package tolerance turns a law into what builds will be like that stray from their design: points that stand for builds, the law as a quadratic,
// distributions, shares of the causes, shares of builds that pass, and the shims that bring more of them in. It knows nothing of magnets.
package tolerance

import (
	"math"
	"math/rand/v2"

	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/stat/distmv"
	"gonum.org/v1/gonum/stat/distuv"
	"gonum.org/v1/gonum/stat/samplemv"
)

// MostDims is the most dimensions of Points.
const MostDims = 1000

// Points are n points in the unit cube of so many dimensions, up to MostDims, that fill it more evenly than random ones: a Halton sequence with
// randomized digits (A. Owen, A randomized Halton algorithm in R, 2017, arXiv:1706.02808). The same seed gives the same points.
func Points(n, dims int, seed uint64) [][]float64 {
	if n < 1 || dims < 1 {
		return make([][]float64, max(n, 0))
	}
	batch := mat.NewDense(n, dims, nil)
	samplemv.Halton{Kind: samplemv.Owen, Q: distmv.NewUnitUniform(dims, nil), Src: rand.NewPCG(seed, 0)}.Sample(batch)
	rows := make([][]float64, n)
	for i := range rows {
		rows[i] = batch.RawRowView(i)
	}
	return rows
}

// Cut is where the normal distribution of Normal ends, in its own standard deviations: what strays farther is seen and put right in any shop.
const Cut = 3

// cutShare is the standard deviation that a normal one of 1 has left when it is cut: 1 - 2c phi(c)/(2 Phi(c) - 1) is its square.
var cutShare = math.Sqrt(1 - 2*Cut*distuv.UnitNormal.Prob(Cut)/(1-2*distuv.UnitNormal.CDF(-Cut)))

// Normal turns points of the unit cube, in place, into ones that are normally distributed with mean 0, cut at Cut, and with the standard deviation
// 1 after the cut.
func Normal(points [][]float64) [][]float64 {
	low := distuv.UnitNormal.CDF(-Cut)
	for _, p := range points {
		for j, u := range p {
			p[j] = distuv.UnitNormal.Quantile(low+u*(1-2*low)) / cutShare
		}
	}
	return points
}
