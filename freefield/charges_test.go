package freefield

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"polewright/shape"
)

// The surface charges of a body sum to nothing, their first moment is the magnetic moment times mu0 (the divergence theorem), and their
// force in the field of a magnet some sizes away is that of the adaptive rule, Force. Tolerance: the Gauss rule of order 6 on pieces of a
// smooth field is good to far better than 1e-6.
func TestCharges(t *testing.T) {
	source := Magnet{Solid: shape.Block{Size: r3.Vec{X: .04, Y: .03, Z: .02}}, Place: shape.Placement{Center: r3.Vec{X: .08, Y: -.05, Z: .06}, Rot: shape.Identity()}, Polarization: r3.Vec{X: .4, Z: 1.2}}
	place := shape.Placement{Center: r3.Vec{X: -.01, Y: .02}, Rot: shape.Euler(.3, .5, -.2)}
	j := r3.Vec{X: .7, Y: -.5, Z: .9}
	for _, s := range []shape.Solid{
		shape.Block{Size: r3.Vec{X: .03, Y: .02, Z: .01}},
		shape.Disc{Diameter: .03, Thickness: .01},
		shape.Ring{OuterDiameter: .03, InnerDiameter: .01, Thickness: .02},
	} {
		m := Magnet{Solid: s, Place: place, Polarization: j}
		var sum, absolute float64
		var moment, force, torque r3.Vec
		for _, c := range m.Charges(4) {
			sum += c.Wb
			absolute += math.Abs(c.Wb)
			moment = r3.Add(moment, r3.Scale(c.Wb, r3.Sub(c.At, place.Center)))
			f := r3.Scale(c.Wb, source.H(c.At))
			force = r3.Add(force, f)
			torque = r3.Add(torque, r3.Cross(r3.Sub(c.At, place.Center), f))
		}
		if math.Abs(sum) > 1e-12*absolute {
			t.Errorf("%v: net charge %g Wb of %g", s, sum, absolute)
		}
		if want := r3.Scale(s.Volume(), j); r3.Norm(r3.Sub(moment, want)) > 1e-6*r3.Norm(want) {
			t.Errorf("%v: first moment %v, want %v", s, moment, want)
		}
		f, m2 := Force(source, m)
		if r3.Norm(r3.Sub(force, f)) > 1e-6*r3.Norm(f) {
			t.Errorf("%v: force %v, the adaptive rule gives %v", s, force, f)
		}
		if r3.Norm(r3.Sub(torque, m2)) > 1e-6*r3.Norm(m2) {
			t.Errorf("%v: torque %v, the adaptive rule gives %v", s, torque, m2)
		}
	}
}
