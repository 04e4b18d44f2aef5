package polewright

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r3"
)

// Mirror is the sign with which B (T) seen in a mirror across an axis (0, 1, 2 for x, y, z) at a coordinate (m) is B itself, 0 where it is not: the solver
// found it so, and some points about the parts agree. B is axial: the image of a magnet that is alike on both sides has the sign -1.
func (s *Solved) Mirror(axis int, middle float64) (sign float64) {
	if !slices.Contains(s.Result.Solver.Symmetry, string("xyz"[axis])) {
		return 0
	}
	box := s.a.outer()
	size := box.Size()
	signs := []float64{-1, 1}
	for i := range 3 {
		p := box.Min
		for k, share := range [3]float64{0.8192, 0.6710, 0.5497} {
			*component(&p, k) += *component(&size, k) * math.Mod(0.137+float64(i+1)*share, 1)
		}
		b, _ := s.Field(p)
		*component(&p, axis) = 2*middle - *component(&p, axis)
		other, _ := s.Field(p)
		signs = slices.DeleteFunc(signs, func(sign float64) bool {
			return !(r3.Norm(r3.Sub(other, Mirrored(b, axis, sign))) <= 1e-6*r3.Norm(b))
		})
	}
	if len(signs) != 1 {
		return 0
	}
	return signs[0]
}

// Mirrored is a vector seen in a mirror across an axis, times a sign.
func Mirrored(v r3.Vec, axis int, sign float64) r3.Vec {
	*component(&v, axis) *= -1
	return r3.Scale(sign, v)
}
