package tolerance

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/stat"
	"gonum.org/v1/gonum/stat/distuv"
)

// Distribution are the figures of a sample: mean, standard deviation and quantiles.
type Distribution struct{ Mean, SD, P025, P50, P975 float64 }

// DistributionOf takes the figures of one value or more.
func DistributionOf(values []float64) (d Distribution) {
	if len(values) == 0 {
		return d
	}
	sorted := slices.Sorted(slices.Values(values))
	d.Mean = stat.Mean(values, nil)
	if len(values) > 1 {
		d.SD = stat.StdDev(values, nil)
	}
	for _, q := range []struct {
		p  float64
		to *float64
	}{{0.025, &d.P025}, {0.5, &d.P50}, {0.975, &d.P975}} {
		*q.to = stat.Quantile(q.p, stat.LinInterp, sorted, nil)
	}
	return d
}

// Share is a share of builds with the interval in which it lies with a confidence of 95 %, as far as the number of builds tells.
type Share struct{ Share, Low, High float64 }

// ShareOf is that of k in n builds, with Wilson's score interval (E. B. Wilson, J. Am. Stat. Assoc. 22, 209, 1927):
//
//	(p + z^2/2n -+ z sqrt(p(1-p)/n + z^2/4n^2)) / (1 + z^2/n)
//
// It is that of random builds; evenly spread ones do better.
func ShareOf(k, n int) Share {
	if n == 0 {
		return Share{0, 0, 1}
	}
	p, m := float64(k)/float64(n), float64(n)
	z := distuv.UnitNormal.Quantile(0.975)
	middle, half := p+z*z/(2*m), z*math.Sqrt(p*(1-p)/m+z*z/(4*m*m))
	low, high := (middle-half)/(1+z*z/m), (middle+half)/(1+z*z/m)
	return Share{p, min(max(low, 0), p), max(min(high, 1), p)} // rounding may pass p where all or none pass
}
