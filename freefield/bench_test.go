package freefield

import (
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"polewright/shape"
)

func BenchmarkB(b *testing.B) {
	for _, tt := range []struct {
		name string
		s    shape.Solid
	}{
		{"block", brick(0.06, 0.04, 0.02)},
		{"disc", coin(0.05, 0.02)},
		{"ring", shape.Ring{OuterDiameter: 0.06, InnerDiameter: 0.03, Thickness: 0.02}},
		{"wedge", shape.Wedge{OuterDiameter: 0.1, InnerDiameter: 0.04, Thickness: 0.05, From: -0.4, To: 0.4}},
	} {
		m := Magnet{tt.s, shape.Placement{Rot: shape.Identity()}, r3.Vec{X: 0.3, Y: 0.2, Z: 1.2}}
		h := tt.s.HalfExtent()
		for _, at := range []struct {
			name string
			p    r3.Vec
		}{
			{"inside", r3.Vec{X: 0.6 * h.X, Y: 0.1 * h.Y, Z: 0.3 * h.Z}},
			{"near", r3.Vec{X: 0.7 * h.X, Y: 0.8 * h.Y, Z: 1.5 * h.Z}},
			{"far", r3.Scale(20, h)},
		} {
			b.Run(tt.name+"/"+at.name, func(b *testing.B) {
				for b.Loop() {
					m.B(at.p)
				}
			})
		}
	}
}

func BenchmarkPotential(b *testing.B) {
	m := axial(brick(0.06, 0.04, 0.02), 0, 1.2)
	for b.Loop() {
		m.Potential(r3.Vec{X: 0.02, Y: 0.01, Z: 0.02})
	}
}

func BenchmarkForce(b *testing.B) {
	below, above := axial(brick(0.05, 0.05, 0.025), 0, 1.3), axial(brick(0.05, 0.05, 0.025), 0.035, 1.3)
	for b.Loop() {
		Force(below, above)
	}
}

func BenchmarkForceInContact(b *testing.B) {
	below, above := axial(brick(0.05, 0.05, 0.025), 0, 1.3), axial(brick(0.05, 0.04, 0.025), 0.025, 1.3)
	for b.Loop() {
		Force(below, above)
	}
}
