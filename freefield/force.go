package freefield

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"

	"polewright/shape"
)

// Force is the force in newton that a exerts on b, and the torque in newton metre about the centre of b's placement (for a wedge the centre
// of its ring): the field of a on the charge J.n of b's surface,
//
//	F = int (J_b . n) H_a dS,   T = int (J_b . n) (r - c) x H_a dS
//
// (Akoun and Yonnet 1984; the torque of a uniformly polarized body likewise), in closed form for near blocks with parallel edges. Good to about 1e-6 of
// the sum of the absolute contributions, bodies that touch included: where it is a sum over points, b's surface is taken a part in 1e9 of its size
// inside b, so that a face in contact feels the field on its own side. Bodies that overlap have no meaning here.
func Force(a, b Magnet) (force, torque r3.Vec) {
	return Sources{a}.Force(b)
}

// Force is the force and the torque that all of s exert on b, see [Force]; within a set of magnets [Assembly.Forces] takes half as long.
func (s Sources) Force(b Magnet) (force, torque r3.Vec) {
	on := prepare(b)
	var sum wrench
	for _, m := range s {
		a := prepare(m)
		sum = sum.plus(pairForce(&a, &on, nil, nil))
	}
	return sum.force, sum.torque
}

// wrench is a force with its torque; size is the sum of the absolute forces and says how much of it cancelled.
type wrench struct {
	force, torque r3.Vec
	size          float64
}

func (w wrench) plus(v wrench) wrench {
	return wrench{r3.Add(w.force, v.force), r3.Add(w.torque, v.torque), w.size + v.size}
}

const (
	facePoints = 6    // order of the Gauss rule along each side of a piece of surface
	forceTol   = 1e-7 // of the absolute contributions, at which a piece is cut no further
	faceCuts   = 22   // most halvings of a face: 11 each way, past which a singular edge adds less than the tolerance
)

// forceOn integrates a field over the charge of b as exactly as is worth while.
func forceOn(b Magnet, field func(p r3.Vec) r3.Vec) wrench { return forceWithin(forceTol, b, field) }

// forceWithin cuts the faces of b where the field asks for it, until a cut changes no more than the share of the absolute contributions.
func forceWithin(share float64, b Magnet, field func(p r3.Vec) r3.Vec) wrench {
	h := b.halfExtent()
	size := math.Max(h.X, math.Max(h.Y, h.Z))
	j := b.Place.Rot.Inverse(b.Polarization)
	piece := func(f face, u, v, du, dv float64) (w wrench) {
		for i, x := range gauss[facePoints].x {
			for k, y := range gauss[facePoints].x {
				at, n := f(u+du*(1+x)/2, v+dv*(1+y)/2)
				area := r3.Norm(n)
				if area == 0 {
					continue
				}
				charge := r3.Dot(j, n) * gauss[facePoints].w[i] * gauss[facePoints].w[k] / 4 * du * dv
				at = r3.Sub(at, r3.Scale(1e-9*size/area, n))
				d := r3.Scale(charge, field(b.Place.ToWorld(at)))
				w.force = r3.Add(w.force, d)
				w.torque = r3.Add(w.torque, r3.Cross(b.Place.Rot.Apply(at), d))
				w.size += r3.Norm(d)
			}
		}
		return w
	}
	faces := facesOf(b.Solid, j)
	var coarse wrench
	whole := make([]wrench, len(faces))
	for i, f := range faces {
		whole[i] = piece(f, 0, 0, 1, 1)
		coarse = coarse.plus(whole[i])
	}
	tol := share * coarse.size
	// Both ways of halving a piece are tried: halving along one side says nothing of the error along the other.
	var refine func(f face, w wrench, u, v, du, dv float64, cuts int) wrench
	refine = func(f face, w wrench, u, v, du, dv float64, cuts int) wrench {
		change := func(halves wrench) float64 {
			return r3.Norm(r3.Sub(halves.force, w.force)) + r3.Norm(r3.Sub(halves.torque, w.torque))/size
		}
		a, b := piece(f, u, v, du/2, dv), piece(f, u+du/2, v, du/2, dv)
		c, d := piece(f, u, v, du, dv/2), piece(f, u, v+dv/2, du, dv/2)
		alongU, alongV := change(a.plus(b)), change(c.plus(d))
		switch {
		case cuts == 0 || !(alongU+alongV > tol):
			return a.plus(b)
		case alongU > alongV:
			return refine(f, a, u, v, du/2, dv, cuts-1).plus(refine(f, b, u+du/2, v, du/2, dv, cuts-1))
		default:
			return refine(f, c, u, v, du, dv/2, cuts-1).plus(refine(f, d, u, v+dv/2, du, dv/2, cuts-1))
		}
	}
	var total wrench
	for i, f := range faces {
		total = total.plus(refine(f, whole[i], 0, 0, 1, 1, faceCuts))
	}
	return total
}

// face is a piece of a body's surface over the unit square: at gives a point with the outward normal times the element of area.
type face func(u, v float64) (at, normal r3.Vec)

// facesOf lists the faces of a body that carry charge under the polarization j (local frame).
func facesOf(s shape.Solid, j r3.Vec) []face {
	switch s := s.(type) {
	case shape.Block:
		return blockFaces(s, j)
	case shape.Disc:
		return wedgeFaces(shape.Wedge{OuterDiameter: s.Diameter, Thickness: s.Thickness}, j)
	case shape.Ring:
		return wedgeFaces(shape.Wedge{OuterDiameter: s.OuterDiameter, InnerDiameter: s.InnerDiameter, Thickness: s.Thickness}, j)
	case shape.Wedge:
		return wedgeFaces(s, j)
	}
	return nil
}

// plane is the parallelogram from corner along a and b, outward along a x b.
func plane(corner, a, b r3.Vec) face {
	n := r3.Cross(a, b)
	return func(u, v float64) (r3.Vec, r3.Vec) {
		return r3.Add(corner, r3.Add(r3.Scale(u, a), r3.Scale(v, b))), n
	}
}

func blockFaces(s shape.Block, j r3.Vec) (out []face) {
	x, y, z := r3.Vec{X: s.Size.X}, r3.Vec{Y: s.Size.Y}, r3.Vec{Z: s.Size.Z}
	low := r3.Scale(-0.5, s.Size)
	if j.X != 0 {
		out = append(out, plane(low, z, y), plane(r3.Add(low, x), y, z))
	}
	if j.Y != 0 {
		out = append(out, plane(low, x, z), plane(r3.Add(low, y), z, x))
	}
	if j.Z != 0 {
		out = append(out, plane(low, y, x), plane(r3.Add(low, z), x, y))
	}
	return out
}

// wedgeFaces cuts round faces into quarters at most. A whole turn has no flat sides.
func wedgeFaces(w shape.Wedge, j r3.Vec) (out []face) {
	ro, ri, l, span := w.OuterDiameter/2, math.Max(w.InnerDiameter/2, 0), w.Thickness/2, w.Span()
	if !(ro > ri && l > 0 && span > 0) {
		return nil
	}
	end := func(z, from, turn float64) face {
		return func(u, v float64) (r3.Vec, r3.Vec) {
			r := ri + u*(ro-ri)
			sin, cos := math.Sincos(from + v*turn)
			return r3.Vec{X: r * cos, Y: r * sin, Z: z}, r3.Vec{Z: math.Copysign(r*(ro-ri)*turn, z)}
		}
	}
	barrel := func(r, out, from, turn float64) face {
		return func(u, v float64) (r3.Vec, r3.Vec) {
			sin, cos := math.Sincos(from + v*turn)
			f := out * r * turn * 2 * l
			return r3.Vec{X: r * cos, Y: r * sin, Z: l * (2*u - 1)}, r3.Vec{X: f * cos, Y: f * sin}
		}
	}
	across := j.X != 0 || j.Y != 0
	n := int(math.Ceil(span/(math.Pi/2) - 1e-9))
	turn := span / float64(n)
	for i := range n {
		from := w.From + turn*float64(i)
		if j.Z != 0 {
			out = append(out, end(l, from, turn), end(-l, from, turn))
		}
		if across {
			out = append(out, barrel(ro, 1, from, turn))
			if ri > 0 {
				out = append(out, barrel(ri, -1, from, turn))
			}
		}
	}
	if across && span < 2*math.Pi {
		up := r3.Vec{Z: 2 * l}
		for i, angle := range []float64{w.From, w.From + span} {
			sin, cos := math.Sincos(angle)
			in, along := r3.Vec{X: ri * cos, Y: ri * sin, Z: -l}, r3.Vec{X: (ro - ri) * cos, Y: (ro - ri) * sin}
			if i == 0 {
				out = append(out, plane(in, along, up))
			} else {
				out = append(out, plane(in, up, along))
			}
		}
	}
	return out
}
