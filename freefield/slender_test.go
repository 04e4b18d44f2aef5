package freefield

import (
	"math"
	"math/rand/v2"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"polewright/material"
	"polewright/shape"
)

// Digits that slender and thin-walled bodies lose, against the same independent quadratures: the bounds that the package's text states. Points
// are drawn about the body at 0.02 to 2e4 sizes, where the small field of a slender body is a difference of larger terms.
func TestSlenderBodies(t *testing.T) {
	tests := []struct {
		name string
		s    shape.Solid
		tol  float64
	}{
		{"plate 1:1000", brick(0.1, 0.1, 0.0001), 1e-9},
		{"bar 1:100", brick(0.001, 0.1, 0.001), 1e-9},
		{"bar 1:1000", brick(0.0001, 0.1, 0.0001), 1e-9},
		{"disc 1:1000", coin(0.1, 0.0001), 1e-9},
		{"rod 1:100", coin(0.001, 0.1), 1e-9},
		{"rod 1:1000", coin(0.0001, 0.1), 1e-9},
		{"tube 1:1000", shape.Ring{OuterDiameter: 0.06, InnerDiameter: 0.05994, Thickness: 0.05}, 1e-9},
		{"tube 1:100000", shape.Ring{OuterDiameter: 0.06, InnerDiameter: 0.0599994, Thickness: 0.05}, 1e-8}, // a wall of 0.3 um: 1 in 1e5 loses five digits more
		{"thin sector", shape.Wedge{OuterDiameter: 0.1, InnerDiameter: 0.04, Thickness: 0.001, From: 0.4, To: 0.5}, 1e-9},
	}
	for _, tt := range tests {
		rng := rand.New(rand.NewPCG(7, 8))
		size := size(tt.s)
		var worst float64
		for i := 0; i < 60; {
			q := r3.Scale(size*math.Pow(10, -1.5+5.8*rng.Float64()), r3.Unit(anyVec(rng, 1)))
			if i%3 == 0 {
				q = anyVec(rng, 2*size)
			}
			if tt.s.Contains(q, 0.02*size) {
				continue
			}
			i++
			m := Magnet{tt.s, shape.Placement{Rot: shape.Identity()}, anyVec(rng, 1)}
			reference := coulomb
			if r3.Norm(q) > 8*r3.Norm(tt.s.HalfExtent()) {
				reference = dipoles
			}
			h, _ := reference(m, q)
			worst = math.Max(worst, r3.Norm(r3.Sub(m.B(q), r3.Scale(material.Mu0, h)))/(material.Mu0*r3.Norm(h)))
		}
		if !(worst <= tt.tol) {
			t.Errorf("%s: B off by %.1e", tt.name, worst)
		}
		t.Logf("%s: B off by %.1e", tt.name, worst)
	}
}
