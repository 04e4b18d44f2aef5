package result

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"
)

// RegionOf evaluates the field at the points. B counts along the direction of the mean field, as a probe set to it reads.
func RegionOf(field func(r3.Vec) r3.Vec, points []r3.Vec) Region {
	values := make([]r3.Vec, len(points))
	var sum r3.Vec
	for i, p := range points {
		values[i] = field(p)
		sum = r3.Add(sum, values[i])
	}
	r := Region{MinB: math.Inf(1), MaxB: math.Inf(-1), Points: len(points)}
	if r3.Norm(sum) == 0 {
		return Region{Points: len(points)}
	}
	u := r3.Unit(sum)
	for _, v := range values {
		b := r3.Dot(v, u)
		r.MeanB += b / float64(len(points))
		r.MinB, r.MaxB = math.Min(r.MinB, b), math.Max(r.MaxB, b)
	}
	var square float64
	for _, v := range values {
		d := r3.Dot(v, u) - r.MeanB
		square += d * d
	}
	r.PeakToPeak = 1e6 * (r.MaxB - r.MinB) / r.MeanB
	r.RMS = 1e6 * math.Sqrt(square/float64(len(points))) / r.MeanB
	return r
}

// Lattice gives the points of a region: a cubic lattice through its centre with about n steps across, of which those within the region
// are kept, and the same number of points on its rim, where the extremes of a harmonic field lie.
func Lattice(center, half r3.Vec, n int, contains func(r3.Vec) bool) []r3.Vec {
	var points []r3.Vec
	step := r3.Scale(2/float64(n), half)
	for i := range n + 1 {
		for j := range n + 1 {
			for k := range n + 1 {
				p := r3.Add(r3.Sub(center, half), r3.Vec{X: float64(i) * step.X, Y: float64(j) * step.Y, Z: float64(k) * step.Z})
				if contains(p) {
					points = append(points, p)
				}
			}
		}
	}
	inside := len(points)
	golden := math.Pi * (3 - math.Sqrt(5))
	for i := range inside {
		z := 1 - (2*float64(i)+1)/float64(inside)
		a := golden * float64(i)
		r := math.Sqrt(1 - z*z)
		d := r3.Vec{X: r * math.Cos(a), Y: r * math.Sin(a), Z: z}
		points = append(points, rim(center, half, d, contains))
	}
	for _, d := range []r3.Vec{{X: 1}, {X: -1}, {Y: 1}, {Y: -1}, {Z: 1}, {Z: -1}} {
		points = append(points, rim(center, half, d, contains))
	}
	return points
}

// rim is the last point of the region from its centre along a direction.
func rim(center, half, d r3.Vec, contains func(r3.Vec) bool) r3.Vec {
	lo, hi := 0.0, 2*r3.Norm(half)
	for range 50 {
		if mid := (lo + hi) / 2; contains(r3.Add(center, r3.Scale(mid, d))) {
			lo = mid
		} else {
			hi = mid
		}
	}
	return r3.Add(center, r3.Scale(lo, d))
}

// Reach is the largest distance from a point along a direction at which |B| still has the limit, 0 if it has it nowhere. It looks outward
// from near to far, where far is a distance at which the field has fallen below the limit for good.
func Reach(field func(r3.Vec) r3.Vec, from, direction r3.Vec, limit, near, far float64) float64 {
	at := func(r float64) float64 { return r3.Norm(field(r3.Add(from, r3.Scale(r, direction)))) - limit }
	// From outside inward in steps of 5 %: the field outside an assembly is smooth on that scale.
	r := far
	for r > near && at(r) < 0 {
		r /= 1.05
	}
	if r <= near {
		return 0
	}
	lo, hi := r, r*1.05
	for range 20 {
		if mid := (lo + hi) / 2; at(mid) >= 0 {
			lo = mid
		} else {
			hi = mid
		}
	}
	return lo
}
