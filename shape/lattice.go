package shape

import "gonum.org/v1/gonum/spatial/r3"

// Lattice gives the world points of an n x n x n lattice over a body's bounding box that lie within the body: the middles of the box's equal pieces.
func Lattice(s Solid, p Placement, n int) (points []r3.Vec) {
	e := s.HalfExtent()
	at := func(half float64, i int) float64 { return half * float64(2*i+1-n) / float64(n) }
	for i := range n {
		for j := range n {
			for k := range n {
				if l := (r3.Vec{X: at(e.X, i), Y: at(e.Y, j), Z: at(e.Z, k)}); s.Contains(l, 0) {
					points = append(points, p.ToWorld(l))
				}
			}
		}
	}
	return points
}
