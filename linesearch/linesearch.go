// Package linesearch finds how far to go along a direction in which a convex function falls.
package linesearch

import "math"

// enough is the share of the first derivative below which the minimum counts as found: the next step of Newton's method does the rest.
const enough = 0.5

// Convex gives a length t at which the derivative of a convex function along a line has fallen to half of that at t = 0, slope, which is
// negative. It begins with the full step t = 1, doubles it while the function still falls, and then closes in by false position.
// derivative is called last with the t that is returned; the search ends after 30 calls whatever they give.
func Convex(slope float64, derivative func(t float64) float64) float64 {
	lo, hi, dlo, dhi := 0.0, math.Inf(1), slope, 0.0
	t := 1.0
	for call := range mostCalls {
		d := derivative(t)
		if math.Abs(d) <= enough*math.Abs(slope) || call == mostCalls-1 {
			break
		}
		if d < 0 {
			lo, dlo = t, d
			if math.IsInf(hi, 1) {
				t *= 2
				continue
			}
		} else {
			hi, dhi = t, d
		}
		t = lo - dlo*(hi-lo)/(dhi-dlo)
		t = math.Min(math.Max(t, lo+0.1*(hi-lo)), hi-0.1*(hi-lo))
	}
	return t
}

const mostCalls = 30
