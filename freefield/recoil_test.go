package freefield

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"polewright/material"
	"polewright/shape"
)

// A charged rectangle against the sum over 400 x 400 point charges: 1e-5.
func TestPanelIsCoulombsLaw(t *testing.T) {
	for _, sigma := range []float64{1, -0.3} {
		p := panel{axis: 1, center: [3]float64{0.1, 0.2, 0.3}, half: [3]float64{0.05, 0, 0.03}, sigma: sigma}
		for _, at := range [][3]float64{{0.12, 0.25, 0.31}, {0.3, 0.1, 0.2}, {0.1, 0.3, 0.9}, {-0.1, 0.19, 0.3}, {0.11, 0.17, 0.28}} {
			const n = 400
			var want [3]float64
			for i := range n {
				for j := range n {
					x := p.center[0] + p.half[0]*float64(2*i+1-n)/n
					z := p.center[2] + p.half[2]*float64(2*j+1-n)/n
					d := [3]float64{at[0] - x, at[1] - p.center[1], at[2] - z}
					r := math.Sqrt(d[0]*d[0] + d[1]*d[1] + d[2]*d[2])
					for k := range 3 {
						want[k] += sigma * p.area() / (n * n) * d[k] / (r * r * r)
					}
				}
			}
			got := p.field(at)
			for k := range 3 {
				if math.Abs(got[k]-want[k]) > 1e-5*math.Hypot(want[0], math.Hypot(want[1], want[2])) {
					t.Errorf("at %v: %v, summed %v", at, got, want)
					break
				}
			}
		}
	}
}

// A magnet of recoil mu in free space has, far away, the moment of J/(1 + (mu-1) N) along its axis: of a cube, whose N is 1/3 by symmetry (J. A.
// Osborn, Phys. Rev. 67 (1945) 351), to the order of mu - 1 squared that its unevenness makes.
func TestRelaxedCube(t *testing.T) {
	s := Sources{axial(brick(0.02, 0.02, 0.02), 0, 1.3)}
	a := Relax(s, []float64{1.05})
	if got, want := a.magnets[0].Polarization.Z, 1.3/(1+0.05/3); math.Abs(got/want-1) > 1e-4 {
		t.Errorf("J %.6f T, want %.6f", got, want)
	}
}

// Within each magnet B = J + mu0 mu H, and across a face the normal part of B goes on (Maxwell).
func TestLawOfRecoilWithin(t *testing.T) {
	s := Sources{axial(brick(0.04, 0.03, 0.012), 0.014, 1.3), axial(brick(0.04, 0.03, 0.012), -0.014, 1.3)}
	a := Relax(s, []float64{1.05, 1.08}).Paneled(6)
	for i, mu := range []float64{1.05, 1.08} {
		p := r3.Add(s[i].Place.Center, r3.Vec{X: 0.003, Y: 0.004, Z: 0.002})
		b, h := a.Field(p)
		if e := r3.Norm(r3.Sub(b, r3.Add(s[i].Polarization, r3.Scale(mu*material.Mu0, h)))); e > 1e-12 {
			t.Errorf("magnet %d: off by %g T", i, e)
		}
		// The normal part of B is the same on both sides of a face: to the panels' size, 0.2 % of J.
		top := r3.Add(s[i].Place.Center, r3.Vec{X: 0.003, Y: 0.004, Z: 0.006})
		in, _ := a.Field(r3.Sub(top, r3.Vec{Z: 1e-6}))
		out, _ := a.Field(r3.Add(top, r3.Vec{Z: 1e-6}))
		if d := math.Abs(in.Z - out.Z); d > 0.002*1.3 {
			t.Errorf("magnet %d: B is %.5f T within and %.5f T outside the face", i, in.Z, out.Z)
		}
	}
	// The batch, and the multipoles that serve far from a block's panels, agree with the point alone and with the panels.
	points := []r3.Vec{{}, {X: 0.01, Z: 0.013}, {X: 0.09, Y: 0.02}, {Z: 0.3}}
	b := make([]r3.Vec, len(points))
	a.Fields(points, b, nil)
	for i, p := range points {
		if b[i] != a.B(p) {
			t.Errorf("at %v: %v in a batch, %v alone", p, b[i], a.B(p))
		}
	}
	body := a.bodies[0]
	p := r3.Add(body.center, r3.Vec{X: 1.8 * body.radius, Y: 0.01})
	far := body.fieldOfPanels(p)
	body.rest = nil
	if near := body.fieldOfPanels(p); r3.Norm(r3.Sub(far, near)) > 0.01*r3.Norm(near) {
		t.Errorf("multipoles %v, panels %v", far, near)
	}
}

// Blocks with a recoil of 1.05 against the grid of package magnetostatic at its finest, run apart from this test (0.01 to 0.02 % by its
// own estimate): two blocks 40 x 30 x 12 mm that face each other over 16 mm, two of 4 mm over 8 mm, and two cubes of 20 mm side by side, one across the
// other. Without panels 0.3 to 0.8 %.
func TestRelaxedBlocks(t *testing.T) {
	side := shape.Placement{Rot: shape.Identity(), Center: r3.Vec{X: 0.02, Z: 0.012}}
	for _, c := range []struct {
		name string
		s    Sources
		want r3.Vec
	}{
		{"pair", Sources{axial(brick(0.04, 0.03, 0.012), 0.014, 1.3), axial(brick(0.04, 0.03, 0.012), -0.014, 1.3)}, r3.Vec{Z: 0.418947}},
		{"plates", Sources{axial(brick(0.04, 0.03, 0.004), 0.006, 1.3), axial(brick(0.04, 0.03, 0.004), -0.006, 1.3)}, r3.Vec{Z: 0.226779}},
		{"side by side", Sources{axial(brick(0.02, 0.02, 0.02), 0.012, 1.3), {brick(0.02, 0.02, 0.02), side, r3.Vec{X: 1.3}}}, r3.Vec{X: 0.078576, Z: 0.534191}},
	} {
		a := Relax(c.s, []float64{1.05, 1.05})
		for _, x := range []struct {
			cuts int
			tol  float64
		}{{4, 3e-3}, {8, 1e-3}} {
			got := a.Paneled(x.cuts).B(r3.Vec{})
			e := r3.Norm(r3.Sub(got, c.want)) / r3.Norm(c.want)
			t.Logf("%s, %d cuts: off by %.1e", c.name, x.cuts, e)
			if !(e < x.tol) {
				t.Errorf("%s, %d cuts: %v, want %v", c.name, x.cuts, got, c.want)
			}
		}
	}
}
