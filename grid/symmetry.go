package grid

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"

	"polewright/shape"
)

// symmetry finds the mirror planes through the centre. Mirrored at a plane across n, the magnetization (an axial vector) keeps its
// component along n and changes the sign of the others. If every body has a partner with just this magnetization, the field does the
// same and the potential is odd; with the opposite one everywhere, it is even.
//
// partner gives for each axis with a symmetry the body that is the mirror image of each body.
func symmetry(bodies []Body, center r3.Vec, scale float64) (s [3]Parity, partner [3][]int) {
	for axis := range 3 {
		s[axis], partner[axis] = mirror(bodies, center, scale, axis)
	}
	return s, partner
}

func mirror(bodies []Body, center r3.Vec, scale float64, axis int) (Parity, []int) {
	// Bodies are looked up by their mirrored centre, so that thousands of parts stay cheap.
	key := func(v r3.Vec) [3]int64 {
		q := 1e-6 * scale
		return [3]int64{int64(math.Round(v.X / q)), int64(math.Round(v.Y / q)), int64(math.Round(v.Z / q))}
	}
	at := make(map[[3]int64][]int)
	for i := range bodies {
		k := key(bodies[i].Place.Center)
		at[k] = append(at[k], i)
	}
	sign := 0.0
	partner := make([]int, len(bodies))
	for i := range bodies {
		b := &bodies[i]
		c := flip(r3.Sub(b.Place.Center, center), axis, -1)
		c = r3.Add(c, center)
		k := key(c)
		found := false
	search:
		for dx := int64(-1); dx <= 1; dx++ {
			for dy := int64(-1); dy <= 1; dy++ {
				for dz := int64(-1); dz <= 1; dz++ {
					for _, j := range at[[3]int64{k[0] + dx, k[1] + dy, k[2] + dz}] {
						if ok, sg := partners(b, &bodies[j], c, axis, scale); ok && (sg == 0 || sign == 0 || sg == sign) {
							if sg != 0 {
								sign = sg
							}
							partner[i], found = j, true
							break search
						}
					}
				}
			}
		}
		if !found {
			return None, nil
		}
	}
	if sign > 0 {
		return Odd, partner
	}
	return Even, partner // also without any magnetization, where the potential is zero anyway
}

// flip multiplies one component.
func flip(v r3.Vec, axis int, by float64) r3.Vec {
	switch axis {
	case 0:
		v.X *= by
	case 1:
		v.Y *= by
	default:
		v.Z *= by
	}
	return v
}

// partners tells whether body b mirrored (with its centre at c) is body o, and with which sign of the magnetization (0 for soft bodies).
func partners(b, o *Body, c r3.Vec, axis int, scale float64) (bool, float64) {
	if b.Material != o.Material || r3.Norm(r3.Sub(c, o.Place.Center)) > 1e-7*scale || !sameKind(b.Solid, o.Solid) {
		return false, 0
	}
	// The same support function in enough directions, none of them special, makes the same convex hull.
	for _, d := range directions {
		if math.Abs(support(b, flip(d, axis, -1))-support(o, d)) > 1e-7*scale {
			return false, 0
		}
	}
	// An axial vector keeps its component across the plane.
	m := r3.Scale(-1, flip(b.Polarization, axis, -1))
	size := r3.Norm(m)
	switch {
	case size == 0 && r3.Norm(o.Polarization) == 0:
		return true, 0
	case r3.Norm(r3.Sub(m, o.Polarization)) < 1e-7*size:
		return true, 1
	case r3.Norm(r3.Add(m, o.Polarization)) < 1e-7*size:
		return true, -1
	}
	return false, 0
}

// directions are 14 generic directions.
var directions = func() (d [14]r3.Vec) {
	for i := range d {
		z := 1 - (2*float64(i)+1.37)/float64(len(d)+1)
		a := 2.399963 * (float64(i) + 0.713) // golden angle
		r := math.Sqrt(1 - z*z)
		d[i] = r3.Vec{X: r * math.Cos(a), Y: r * math.Sin(a), Z: z}
	}
	return d
}()

// sameKind compares what the convex hull does not show.
func sameKind(a, b shape.Solid) bool {
	switch a := a.(type) {
	case shape.Block:
		_, ok := b.(shape.Block)
		return ok
	case shape.Disc:
		_, ok := b.(shape.Disc)
		return ok
	case shape.Ring:
		o, ok := b.(shape.Ring)
		return ok && math.Abs(a.InnerDiameter-o.InnerDiameter) < 1e-9
	case shape.Racetrack:
		o, ok := b.(shape.Racetrack)
		return ok && math.Abs(a.Build-o.Build) < 1e-9 && math.Abs(a.CornerRadius-o.CornerRadius) < 1e-9
	case shape.Wedge:
		o, ok := b.(shape.Wedge)
		return ok && math.Abs(a.InnerDiameter-o.InnerDiameter) < 1e-9
	case shape.Frustum:
		_, ok := b.(shape.Frustum)
		return ok
	}
	return false // others: no symmetry is claimed
}

// support is the largest extent of a body about its centre along a direction.
func support(b *Body, d r3.Vec) float64 {
	l := b.Place.Rot.Inverse(d)
	switch s := b.Solid.(type) {
	case shape.Block:
		return (math.Abs(l.X)*s.Size.X + math.Abs(l.Y)*s.Size.Y + math.Abs(l.Z)*s.Size.Z) / 2
	case shape.Disc:
		return (math.Hypot(l.X, l.Y)*s.Diameter + math.Abs(l.Z)*s.Thickness) / 2
	case shape.Ring:
		return (math.Hypot(l.X, l.Y)*s.OuterDiameter + math.Abs(l.Z)*s.Thickness) / 2
	case shape.Frustum:
		r := math.Hypot(l.X, l.Y)
		return math.Max(l.Z*s.Height+r*s.TopDiameter, r*s.BottomDiameter-l.Z*s.Height) / 2
	case shape.Wedge:
		return sectorReach(s, l.X, l.Y) + math.Abs(l.Z)*s.Thickness/2
	case shape.Racetrack:
		r := s.CornerRadius + s.Build
		return math.Abs(l.X)*(s.CoreX/2-s.CornerRadius) + math.Abs(l.Y)*(s.CoreY/2-s.CornerRadius) + r*math.Hypot(l.X, l.Y) + math.Abs(l.Z)*s.Width/2
	}
	return math.NaN()
}

// sectorReach is the largest extent of a ring sector along a direction of its plan.
func sectorReach(s shape.Wedge, x, y float64) float64 {
	best := math.Inf(-1)
	for _, a := range []float64{s.From, s.From + s.Span()} {
		along := x*math.Cos(a) + y*math.Sin(a)
		best = math.Max(best, math.Max(along*s.OuterDiameter/2, along*s.InnerDiameter/2))
	}
	// Within the arc the outer circle itself.
	if turn := math.Mod(math.Atan2(y, x)-s.From+4*math.Pi, 2*math.Pi); turn <= s.Span() {
		best = math.Max(best, math.Hypot(x, y)*s.OuterDiameter/2)
	}
	return best
}
