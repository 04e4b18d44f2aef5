// Package facet turns bodies into closed surfaces of triangles and writes them as STL, for printers, mills and viewers. It knows nothing of
// fields.
package facet

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"

	"polewright/shape"
)

// Triangle is a facet, its corners counter-clockwise seen from outside the body. Metres.
type Triangle [3]r3.Vec

// mostSteps bounds the chords of a quarter circle: a radius of 100 m keeps an error of 0.24 mm.
const mostSteps = 512

// Of gives the surface of a solid in its own frame. Every edge is shared by exactly two triangles that run along it in opposite ways. Corners
// lie on the true surface, so that a round face lies inside it by chord (m) at most; 0.02 mm is below what a printer can show. A body without volume
// is an error.
func Of(s shape.Solid, chord float64) ([]Triangle, error) {
	if v := s.Volume(); !(v > 0) || math.IsInf(v, 0) {
		return nil, fmt.Errorf("%v has no volume", s)
	}
	if f, ok := s.(shape.Frustum); ok {
		return frustum(f, chord)
	}
	loops, lo, hi, ok := shape.Outline(s, shape.Placement{Rot: shape.Identity()}, 2)
	if !ok {
		return nil, fmt.Errorf("%v is no extrusion along its axis", s)
	}
	return Prism(loops, lo, hi, chord)
}

// Prism gives the surface of a plan extruded along z from lo to hi: an outer loop, counter-clockwise, and at most one hole, clockwise, as
// [shape.Outline] gives them. See [Of] for what holds of the triangles.
func Prism(loops []shape.Loop, lo, hi, chord float64) ([]Triangle, error) {
	if len(loops) == 0 || len(loops) > 2 || !(hi > lo) {
		return nil, fmt.Errorf("a prism takes one outline, one hole at most, and a height: %d loops from %g to %g m", len(loops), lo, hi)
	}
	var out []Triangle
	var rims [][]r2.Vec
	for _, l := range loops {
		rim := Corners(l, chord)
		for i, a := range rim {
			b := rim[(i+1)%len(rim)]
			out = append(out, quad(at(a, lo), at(b, lo), at(b, hi), at(a, hi))...)
		}
		rims = append(rims, rim)
	}
	flat, err := cap2D(rims)
	if err != nil {
		return nil, err
	}
	for _, t := range flat {
		out = append(out, Triangle{at(t[0], hi), at(t[1], hi), at(t[2], hi)}, Triangle{at(t[0], lo), at(t[2], lo), at(t[1], lo)})
	}
	return out, nil
}

// Corners follows a loop in straight steps, arcs by chords that leave the arc by at most chord metres.
func Corners(l shape.Loop, chord float64) (points []r2.Vec) {
	for _, e := range l {
		n := 1
		if e.Radius > 0 {
			n = steps(e.Radius, e.Length()/e.Radius, chord)
		}
		for i := range n {
			points = append(points, e.At(float64(i)/float64(n)))
		}
	}
	return points
}

// steps is the number of chords for an arc through an angle: a chord through the angle a leaves the arc by r (1 - cos(a/2)).
func steps(r, angle, chord float64) int {
	const fewest = 4 // in a quarter circle, so that small rounds look round
	turn := math.Pi / 2 / fewest
	if chord > 0 && chord < r {
		turn = math.Min(turn, 2*math.Acos(1-chord/r))
	}
	turn = math.Max(turn, math.Pi/2/mostSteps)
	return max(1, int(math.Ceil(angle/turn-1e-9)))
}

func at(p r2.Vec, z float64) r3.Vec { return r3.Vec{X: p.X, Y: p.Y, Z: z} }

func quad(a, b, c, d r3.Vec) []Triangle { return []Triangle{{a, b, c}, {a, c, d}} }

// frustum is a strip between two circles with two lids, or a point.
func frustum(f shape.Frustum, chord float64) ([]Triangle, error) {
	const point = 1e-9 // m, below which an end is a point
	z := f.Height / 2
	n := 4 * steps(math.Max(f.BottomDiameter, f.TopDiameter)/2, math.Pi/2, chord)
	rim := func(d, z float64) (points []r3.Vec) {
		for i := range n {
			s, c := math.Sincos(2 * math.Pi * float64(i) / float64(n))
			points = append(points, r3.Vec{X: d / 2 * c, Y: d / 2 * s, Z: z})
		}
		return points
	}
	bottom, top := rim(f.BottomDiameter, -z), rim(f.TopDiameter, z)
	var out []Triangle
	for i := range n {
		j := (i + 1) % n
		switch {
		case f.TopDiameter < point:
			out = append(out, Triangle{bottom[i], bottom[j], {Z: z}})
		case f.BottomDiameter < point:
			out = append(out, Triangle{{Z: -z}, top[j], top[i]})
		default:
			out = append(out, quad(bottom[i], bottom[j], top[j], top[i])...)
		}
	}
	for i := 1; i < n-1; i++ {
		if f.BottomDiameter >= point {
			out = append(out, Triangle{bottom[0], bottom[i+1], bottom[i]})
		}
		if f.TopDiameter >= point {
			out = append(out, Triangle{top[0], top[i], top[i+1]})
		}
	}
	return out, nil
}
