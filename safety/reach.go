package safety

import (
	"errors"
	"fmt"
	"math"
)

// Reach returns the largest distance r in [from, to], m, at which f(r) is at least the limit: how far a field (T) reaches a
// limit (T), a pull (N) a weight (N), a force between halves (N) what a hand stands (N). It returns 0 when f stays below the limit throughout.
//
// f is sampled at 400 distances in even ratio, from the outside in, and the outermost crossing is then halved down to 1e-9 of
// itself; f need not be monotone, but a peak narrower than 1/400 of the range in log r may be missed. It needs
// 0 < from < to and a limit above 0. A field still at or above the limit at to is an error, for then its reach is not known.
func Reach(f func(r float64) float64, limit, from, to float64) (float64, error) {
	if f == nil {
		return 0, errors.New("reach: no field was given; give |B| (or a force) as a function of the distance")
	}
	if !(0 < from && from < to) || math.IsInf(to, 1) {
		return 0, fmt.Errorf("reach: look between two distances with 0 < from < to, not from %g m to %g m", from, to)
	}
	if !(limit > 0) || math.IsInf(limit, 1) {
		return 0, fmt.Errorf("reach: the limit must be above zero, not %g", limit)
	}
	const samples = 400
	step := math.Log(to/from) / samples
	outer := to
	for i := range samples + 1 {
		r := to * math.Exp(-float64(i)*step)
		if i == samples {
			r = from
		}
		v := f(r)
		if math.IsNaN(v) {
			return 0, fmt.Errorf("reach: there is no value at %g m; give distances at which the field is known", r)
		}
		if v < limit {
			outer = r
			continue
		}
		if i == 0 {
			return 0, fmt.Errorf("reach: %g is still at or above the limit %g at %g m; look further out", v, limit, to)
		}
		inner := r
		for outer-inner > 1e-9*outer {
			mid := inner + (outer-inner)/2
			if mid <= inner || mid >= outer {
				break
			}
			if f(mid) >= limit {
				inner = mid
			} else {
				outer = mid
			}
		}
		return inner + (outer-inner)/2, nil
	}
	return 0, nil
}
