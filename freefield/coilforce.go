package freefield

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"

	"polewright/material"
)

// ForceOn is the force in newton that the coil exerts on a magnet, and the torque in newton metre about the centre of its placement, see [Force].
func (c Coil) ForceOn(m Magnet) (force, torque r3.Vec) {
	w := forceOn(m, c.H)
	return w.force, w.torque
}

// Force is the force in newton on the coil in a field H (A/m) whose sources lie outside the winding, and the torque in newton metre about the
// centre of its placement: int J x B dV and int r x (J x B) dV, by Gauss rules on pieces of the winding that are cut where the field asks
// for it, to about 1e-6 of the sum of the absolute contributions.
func (c Coil) Force(field func(p r3.Vec) r3.Vec) (force, torque r3.Vec) {
	w := c.forceIn(field)
	return w.force, w.torque
}

const (
	turnPoints = 4  // order of the Gauss rule along each edge of a piece of winding
	turnCuts   = 15 // most halvings of a piece: five each way
)

// turns is a piece of a winding over the unit cube: place, direction of the current and volume element.
type turns func(u, v, w float64) (at, along r3.Vec, volume float64)

// pieces cuts a winding into its straight sides and arcs.
func (w winding) pieces() (out []turns) {
	for _, s := range w.sides() {
		out = append(out, func(x, y, z float64) (r3.Vec, r3.Vec, float64) {
			at := r3.Vec{X: s.half.X * (2*x - 1), Y: s.half.Y * (2*y - 1), Z: s.half.Z * (2*z - 1)}
			return r3.Add(s.center, at), s.along, 8 * s.half.X * s.half.Y * s.half.Z
		})
	}
	for i := range 4 {
		out = append(out, func(x, y, z float64) (r3.Vec, r3.Vec, float64) {
			sin, cos := math.Sincos((float64(i) + x) * math.Pi / 2)
			r := w.radius + w.build*y
			at := r3.Vec{X: r * cos, Y: r * sin, Z: w.half * (2*z - 1)}
			return r3.Add(w.corner(i), at), r3.Vec{X: -sin, Y: cos}, r * math.Pi / 2 * w.build * 2 * w.half
		})
	}
	return out
}

func (c Coil) forceIn(field func(p r3.Vec) r3.Vec) (total wrench) {
	w, ok := c.winding()
	if !ok || !w.sound() {
		return total
	}
	j := material.Mu0 * c.density()
	rule := gauss[turnPoints]
	box := func(f turns, o, d [3]float64) (w wrench) {
		for i, x := range rule.x {
			for k, y := range rule.x {
				for l, z := range rule.x {
					at, along, volume := f(o[0]+d[0]*(1+x)/2, o[1]+d[1]*(1+y)/2, o[2]+d[2]*(1+z)/2)
					weight := j * volume * d[0] * d[1] * d[2] * rule.w[i] * rule.w[k] * rule.w[l] / 8
					df := r3.Scale(weight, r3.Cross(c.Place.Rot.Apply(along), field(c.Place.ToWorld(at))))
					w.force = r3.Add(w.force, df)
					w.torque = r3.Add(w.torque, r3.Cross(c.Place.Rot.Apply(at), df))
					w.size += r3.Norm(df)
				}
			}
		}
		return w
	}
	pieces := w.pieces()
	first := make([]wrench, len(pieces))
	var coarse wrench
	for i, f := range pieces {
		first[i] = box(f, [3]float64{}, [3]float64{1, 1, 1})
		coarse = coarse.plus(first[i])
	}
	size := r3.Norm(c.Winding.HalfExtent())
	var refine func(f turns, whole wrench, o, d [3]float64, cuts int) wrench
	refine = func(f turns, whole wrench, o, d [3]float64, cuts int) wrench {
		// All three ways of halving are tried: halving along one edge says nothing of the error along the others.
		var most, sum float64
		var best [2]wrench
		way := 0
		for k := range 3 {
			half, next := d, o
			half[k] /= 2
			next[k] += half[k]
			a, b := box(f, o, half), box(f, next, half)
			both := a.plus(b)
			change := r3.Norm(r3.Sub(both.force, whole.force)) + r3.Norm(r3.Sub(both.torque, whole.torque))/size
			sum += change
			if change >= most {
				most, best, way = change, [2]wrench{a, b}, k
			}
		}
		if cuts == 0 || !(sum > forceTol*coarse.size) {
			return best[0].plus(best[1])
		}
		half, next := d, o
		half[way] /= 2
		next[way] += half[way]
		return refine(f, best[0], o, half, cuts-1).plus(refine(f, best[1], next, half, cuts-1))
	}
	for i, f := range pieces {
		total = total.plus(refine(f, first[i], [3]float64{}, [3]float64{1, 1, 1}, turnCuts))
	}
	return total
}
