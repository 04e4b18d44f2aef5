package facet

import (
	"errors"
	"math"

	"gonum.org/v1/gonum/spatial/r2"
)

// errTangled says that an outline crosses itself or its hole.
var errTangled = errors.New("the outline crosses itself or its hole")

// cap2D cuts the area inside the first polygon, counter-clockwise, less that of the second, clockwise, into triangles with no corners but
// the polygons' own (G. H. Meisters, Polygons have ears, Amer. Math. Monthly 82 (1975) 648: every polygon can lose one corner after the
// other). A hole is first joined to the outline by a cut there and back.
func cap2D(rims [][]r2.Vec) (out [][3]r2.Vec, err error) {
	p := rims[0]
	if len(rims) > 1 {
		p = bridged(p, rims[1])
	}
	next := make([]int, len(p))
	prev := make([]int, len(p))
	for i := range p {
		next[i], prev[i] = (i+1)%len(p), (i+len(p)-1)%len(p)
	}
	i, left, tried := 0, len(p), 0
	for left > 3 {
		if tried > left {
			return nil, errTangled
		}
		a, b := prev[i], next[i]
		if !isEar(p, next, a, i, b) {
			i, tried = b, tried+1
			continue
		}
		out = append(out, [3]r2.Vec{p[a], p[i], p[b]})
		next[a], prev[b] = b, a
		// Two steps on: cutting ears side by side makes fans of slivers.
		i, left, tried = next[b], left-1, 0
	}
	return append(out, [3]r2.Vec{p[prev[i]], p[i], p[next[i]]}), nil
}

// isEar tells whether the corner i between a and b is convex and no other corner lies in its triangle.
func isEar(p []r2.Vec, next []int, a, i, b int) bool {
	area := cross(p[a], p[i], p[b])
	if !(area > 0) {
		return false
	}
	for k := next[b]; k != a; k = next[k] {
		q := p[k]
		if q == p[a] || q == p[i] || q == p[b] {
			continue // the other side of the cut
		}
		if cross(p[a], p[i], q) >= 0 && cross(p[i], p[b], q) >= 0 && cross(p[b], p[a], q) >= 0 {
			return false
		}
	}
	return true
}

// cross is twice the area of the triangle a, b, c, positive counter-clockwise.
func cross(a, b, c r2.Vec) float64 { return r2.Cross(r2.Sub(b, a), r2.Sub(c, a)) }

// bridged joins a hole to the outline along the shortest way between their corners. Around the convex holes of magnets and coils it
// meets no edge.
func bridged(outer, hole []r2.Vec) []r2.Vec {
	best, bo, bh := math.Inf(1), 0, 0
	for i, a := range outer {
		for j, b := range hole {
			if d := r2.Norm2(r2.Sub(a, b)); d < best {
				best, bo, bh = d, i, j
			}
		}
	}
	var p []r2.Vec
	p = append(p, outer[:bo+1]...)
	p = append(p, hole[bh:]...)
	p = append(p, hole[:bh+1]...)
	return append(p, outer[bo:]...)
}
