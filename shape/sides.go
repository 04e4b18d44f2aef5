package shape

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"
)

// Side is how far a point lies beyond a surface that bounds a body, m, negative within, and the direction away from the body there.
type Side struct {
	Beyond float64
	Away   r3.Vec
}

// Sides are those of a block (along x, y and z), a disc, a ring or a frustum (the mantle, the ends) at a point of its own frame: the body is where none of
// its n sides is passed. Opposite sides count as one, the one that is passed farthest. Other solids have n = 0.
func Sides(s Solid, p r3.Vec) (sides [3]Side, n int) {
	switch s := s.(type) {
	case Block:
		h := axes(s.HalfExtent())
		for k, x := range axes(p) {
			var away [3]float64
			away[k] = math.Copysign(1, x)
			sides[k] = Side{math.Abs(x) - h[k], vec(away)}
		}
		return sides, 3
	case Disc:
		return Sides(s.ring(), p)
	case Ring:
		rho, out := radial(p)
		sides[0] = Side{rho - s.OuterDiameter/2, out}
		if in := s.InnerDiameter/2 - rho; s.InnerDiameter > 0 && in > sides[0].Beyond {
			sides[0] = Side{in, r3.Scale(-1, out)}
		}
		sides[1] = Side{math.Abs(p.Z) - s.Thickness/2, r3.Vec{Z: math.Copysign(1, p.Z)}}
		return sides, 2
	case Frustum:
		rho, out := radial(p)
		slope := (s.TopDiameter - s.BottomDiameter) / 2 / s.Height
		length := math.Hypot(1, slope)
		sides[0] = Side{(rho - (s.TopDiameter+s.BottomDiameter)/4 - slope*p.Z) / length, r3.Scale(1/length, r3.Vec{X: out.X, Y: out.Y, Z: -slope})}
		sides[1] = Side{math.Abs(p.Z) - s.Height/2, r3.Vec{Z: math.Copysign(1, p.Z)}}
		return sides, 2
	}
	return sides, 0
}

// radial is the distance from the z axis and the direction away from it; x on the axis.
func radial(p r3.Vec) (rho float64, out r3.Vec) {
	if rho = math.Hypot(p.X, p.Y); rho == 0 {
		return 0, r3.Vec{X: 1}
	}
	return rho, r3.Vec{X: p.X / rho, Y: p.Y / rho}
}
