package result

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"

	"polewright/harmonic"
)

// RegionOf evaluates a field over a volume. B counts along the direction of the mean field, as a probe set to it reads. Each component of a
// field in free space is harmonic, so its extremes lie on the surface; they are sought there, and polished. Mean and root of the mean
// square come from Gauss's rules.
func RegionOf(field func(r3.Vec) r3.Vec, center r3.Vec, v Volume) Region {
	const n = 8 // exact for fields of degree 7, and their squares to degree 15
	rule := v.Rule(n)
	values := make([]r3.Vec, len(rule))
	var sum r3.Vec
	for i, q := range rule {
		values[i] = field(r3.Add(center, q.D))
		sum = r3.Add(sum, r3.Scale(q.Weight, values[i]))
	}
	r := Region{Points: len(rule)}
	if r.MeanB = r3.Norm(sum); r.MeanB == 0 {
		return r
	}
	u := r3.Unit(sum)
	var square float64
	for i, q := range rule {
		d := r3.Dot(values[i], u) - r.MeanB
		square += q.Weight * d * d
	}
	along := func(d r3.Vec) float64 {
		r.Points++
		return r3.Dot(field(r3.Add(center, r3.Scale(v.Rim(d), d))), u)
	}
	directions := append(spirals(regionDirections), v.Corners()...)
	r.MaxB, _ = farthest(along, directions)
	r.MinB, _ = farthest(func(d r3.Vec) float64 { return -along(d) }, directions)
	r.MinB = -r.MinB
	r.PeakToPeak = 1e6 * (r.MaxB - r.MinB) / r.MeanB
	r.RMS = 1e6 * math.Sqrt(square) / r.MeanB
	return r
}

// regionDirections is on how many points of its surface the extremes of a region are sought before they are polished.
const regionDirections = 400

// Farthest seeks the largest value of a positive function of the direction, such as a reach, and its direction. mirrored tells across which
// axes the function is the same on both sides.
func Farthest(f func(d r3.Vec) float64, mirrored [3]bool) (float64, r3.Vec) {
	const directions = 240
	var list []r3.Vec
	for _, d := range spirals(directions) {
		if mirrored[0] && d.X < 0 || mirrored[1] && d.Y < 0 || mirrored[2] && d.Z < 0 {
			continue
		}
		list = append(list, d)
	}
	v, d := farthest(f, list)
	if v <= 0 {
		return 0, r3.Vec{}
	}
	return v, d
}

// spirals are n directions that cover the sphere evenly, and those along the axes.
func spirals(n int) []r3.Vec {
	list := []r3.Vec{{X: 1}, {X: -1}, {Y: 1}, {Y: -1}, {Z: 1}, {Z: -1}}
	for i := range n {
		list = append(list, harmonic.Direction(i, n))
	}
	return list
}

// farthest seeks the largest value in the given directions, then by ever smaller steps from the best few.
func farthest(f func(d r3.Vec) float64, directions []r3.Vec) (best float64, at r3.Vec) {
	const starts = 3
	type start struct {
		d r3.Vec
		v float64
	}
	var top [starts]start
	for i := range top {
		top[i].v = math.Inf(-1)
	}
	for _, d := range directions {
		s := start{d, f(d)}
		for i := range top {
			if s.v > top[i].v {
				top[i], s = s, top[i]
			}
		}
	}
	best = math.Inf(-1)
	for _, s := range top {
		if math.IsInf(s.v, -1) {
			continue
		}
		if d, v := climb(f, s.d, s.v); v > best {
			best, at = v, d
		}
	}
	return best, at
}

// climb goes from a direction to better ones at right angles and halves the step, an angle, where there is none.
func climb(f func(d r3.Vec) float64, d r3.Vec, v float64) (r3.Vec, float64) {
	const most, least = 0.1, 1e-3 // rad
	step := most
	for tries := 0; step > least && tries < 100; tries++ {
		side := r3.Vec{X: 1}
		if math.Abs(d.X) > 0.6 {
			side = r3.Vec{Y: 1}
		}
		p := r3.Unit(r3.Cross(d, side))
		q := r3.Cross(d, p)
		better := false
		for k := range 8 {
			sin, cos := math.Sincos(math.Pi / 4 * float64(k))
			e := r3.Unit(r3.Add(d, r3.Scale(step, r3.Add(r3.Scale(cos, p), r3.Scale(sin, q)))))
			if w := f(e); w > v {
				d, v, better = e, w, true
				break
			}
		}
		if !better {
			step /= 2
		}
	}
	return d, v
}

// Over is the logarithm of |B| over a limit along a ray, which is nearly straight in the logarithm of the distance.
func Over(field func(r3.Vec) r3.Vec, from, direction r3.Vec, limit float64) func(r float64) float64 {
	return func(r float64) float64 { return math.Log(r3.Norm(field(r3.Add(from, r3.Scale(r, direction)))) / limit) }
}

// Reach is the largest distance from a point along a direction at which |B| still has the limit, 0 if it has it nowhere. It looks outward
// from near to far, where far is a distance at which the field has fallen below the limit for good.
func Reach(field func(r3.Vec) r3.Vec, from, direction r3.Vec, limit, near, far float64) float64 {
	at := Over(field, from, direction, limit)
	// From outside inward in steps of 5 %: the field outside an assembly is smooth on that scale.
	hi, lo := far, far
	above, below := 0.0, 0.0
	last := near * (1 + 1e-5) // at near itself a body may begin
	for above = at(lo); above < 0; above = at(lo) {
		if lo <= last {
			return 0
		}
		hi, below = lo, above
		lo = math.Max(lo/1.05, last)
	}
	if lo == far {
		return far
	}
	return Crossing(at, lo, hi, above, below)
}

// Crossing is where a function falls below zero between lo, where it has the value above, zero or more, and hi, where it has below, less than
// zero: to 1e-6 of the distance, or where the value is within 1e-6 of zero.
func Crossing(f func(r float64) float64, lo, hi, above, below float64) float64 {
	// False position in the logarithm of the distance, with the Illinois rule (Dowell and Jarratt 1971).
	last := 0
	for range 30 {
		r := lo * math.Pow(hi/lo, above/(above-below))
		if r <= lo || r >= hi {
			r = math.Sqrt(lo * hi)
		}
		v := f(r)
		switch {
		case v >= 0:
			lo, above = r, v
			if last > 0 {
				below /= 2
			}
			last = 1
		default:
			hi, below = r, v
			if last < 0 {
				above /= 2
			}
			last = -1
		}
		if math.Abs(v) < 1e-6 || hi-lo < 1e-6*hi {
			return r
		}
	}
	return lo
}
