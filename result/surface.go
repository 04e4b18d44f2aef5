package result

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"
)

// Surface is a closed surface of triangles about a centre.
type Surface struct {
	Center    r3.Vec
	Direction []r3.Vec // unit vector to each corner
	Distance  []float64
	Triangle  [][3]int // corners, counterclockwise seen from outside
}

// Point is the place of a corner.
func (s *Surface) Point(i int) r3.Vec {
	return r3.Add(s.Center, r3.Scale(s.Distance[i], s.Direction[i]))
}

// Volume is what the surface encloses, m3.
func (s *Surface) Volume() (v float64) {
	for _, t := range s.Triangle {
		a, b, c := r3.Sub(s.Point(t[0]), s.Center), r3.Sub(s.Point(t[1]), s.Center), r3.Sub(s.Point(t[2]), s.Center)
		v += r3.Dot(a, r3.Cross(b, c)) / 6
	}
	return v
}

// SurfaceOf samples a distance in every direction: on an icosahedron whose triangles are split in four so many times. Four times gives 2562
// directions about 4 degrees apart, five times 10242 about 2 degrees apart. mirrored tells across which axes the distance is the same on
// both sides; each value is then found once.
func SurfaceOf(center r3.Vec, splits int, mirrored [3]bool, distance func(d r3.Vec) float64) *Surface {
	s := icosphere(splits)
	s.Center = center
	known := make(map[[3]int64]float64, len(s.Direction))
	for _, d := range s.Direction {
		e := d
		for k, c := range [3]*float64{&e.X, &e.Y, &e.Z} {
			if mirrored[k] {
				*c = math.Abs(*c)
			}
		}
		const fine = 1e9
		key := [3]int64{int64(math.Round(fine * e.X)), int64(math.Round(fine * e.Y)), int64(math.Round(fine * e.Z))}
		v, ok := known[key]
		if !ok {
			v = distance(e)
			known[key] = v
		}
		s.Distance = append(s.Distance, v)
	}
	return s
}

// icosphere is a regular icosahedron with its edges split, on the unit sphere; it is symmetric across the planes of the axes.
func icosphere(splits int) *Surface {
	g := (1 + math.Sqrt(5)) / 2
	s := &Surface{}
	for _, a := range []float64{-1, 1} {
		for _, b := range []float64{-g, g} {
			for _, v := range []r3.Vec{{Y: a, Z: b}, {X: a, Y: b}, {X: b, Z: a}} {
				s.Direction = append(s.Direction, r3.Unit(v))
			}
		}
	}
	// The faces are the triples of corners at the length of an edge from each other.
	n := len(s.Direction)
	edge := 2 / math.Sqrt(1+g*g) * 1.001
	near := func(i, j int) bool { return r3.Norm(r3.Sub(s.Direction[i], s.Direction[j])) < edge }
	for i := range n {
		for j := i + 1; j < n; j++ {
			for k := j + 1; k < n; k++ {
				if !near(i, j) || !near(j, k) || !near(k, i) {
					continue
				}
				t := [3]int{i, j, k}
				if r3.Dot(s.Direction[i], r3.Cross(s.Direction[j], s.Direction[k])) < 0 {
					t = [3]int{i, k, j}
				}
				s.Triangle = append(s.Triangle, t)
			}
		}
	}
	for range splits {
		s.split()
	}
	return s
}

// split halves every edge.
func (s *Surface) split() {
	middle := map[[2]int]int{}
	half := func(i, j int) int {
		key := [2]int{min(i, j), max(i, j)}
		m, ok := middle[key]
		if !ok {
			m = len(s.Direction)
			middle[key] = m
			s.Direction = append(s.Direction, r3.Unit(r3.Add(s.Direction[i], s.Direction[j])))
		}
		return m
	}
	var all [][3]int
	for _, t := range s.Triangle {
		a, b, c := half(t[0], t[1]), half(t[1], t[2]), half(t[2], t[0])
		all = append(all, [3]int{t[0], a, c}, [3]int{a, t[1], b}, [3]int{c, b, t[2]}, [3]int{a, b, c})
	}
	s.Triangle = all
}
