package magnetostatic

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"polewright/freefield"
	"polewright/grid"
	"polewright/shape"
)

// This file checks the forces on parts that touch, and forces and torques in two independent ways.

// A magnet that lies on a thick wide ideal plate is held as by its mirror image: package freefield's sum over charged faces for two blocks in
// contact. Tolerance 0.3 % (0.02 % was reached), with and without symmetry of the plan.
func TestMagnetOnIdealPlate(t *testing.T) {
	j := r3.Vec{Z: 1.30}
	for _, center := range []r3.Vec{mm(0, 0, 10), mm(6, 2, 10)} {
		bodies := []grid.Body{
			block("magnet", 1, mm(40, 40, 20), center, j),
			block("plate", 2, mm(240, 240, 20), mm(0, 0, -10), r3.Vec{}),
		}
		m := sources(bodies)[0]
		image := m
		image.Place.Center.Z = -m.Place.Center.Z
		want, _ := freefield.Force(image, m)
		g, err := grid.Build(grid.Spec{Bodies: bodies, Focus: []r3.Vec{mm(0, 0, 25)}, Radius: 4e-3, Levels: 2, Density: 0.7})
		if err != nil {
			t.Fatal(err)
		}
		s := solved(t, &Problem{Grids: g, Media: []Medium{Isotropic(1, Vec(grid.Frame(g.Axis, j))), Isotropic(1e5, Vec{})}, Dipole: r3.Vec{Z: 1}})
		f, _ := s.Forces(centers(bodies))
		t.Logf("%d unknowns", s.Effort.Unknowns)
		near(t, "force on the magnet", -f[0].Z, -want.Z, 3e-3)
		near(t, "force on the plate", f[1].Z, -want.Z, 3e-3)
	}
}

// Three blocks side by side, magnetized up, across and down: each touches the next one with its poles beside the other's face, and at their
// common edges the fields of both rise without bound. Against the sum over charged faces; 0.5 % of the largest force was reached, 1 % is asked.
func TestTouchingMagnets(t *testing.T) {
	bodies := []grid.Body{
		block("left", 1, mm(20, 20, 20), mm(-20, 0, 0), r3.Vec{Z: 1.3}),
		block("middle", 2, mm(20, 20, 20), mm(0, 0, 0), r3.Vec{X: 1.3}),
		block("right", 3, mm(20, 20, 20), mm(20, 0, 0), r3.Vec{Z: -1.3}),
	}
	src := sources(bodies)
	g := lay(t, bodies, 2, 1)
	s := solved(t, &Problem{Grids: g, Media: media(t, g.Axis, bodies, "steel-1018", 1)})
	f, m := s.Forces(centers(bodies))
	var sum r3.Vec
	for i := range bodies {
		others := append(append(freefield.Sources{}, src[:i]...), src[i+1:]...)
		force, torque := others.Force(src[i])
		t.Logf("%s %.3f N, closed form %.3f; torque %.4f N m, closed form %.4f", bodies[i].Name, f[i], force, m[i], torque)
		if e := r3.Norm(r3.Sub(f[i], force)); !(e < 0.01*218.9) {
			t.Errorf("the force on %s is %v N, expected %v", bodies[i].Name, f[i], force)
		}
		if e := r3.Norm(r3.Sub(m[i], torque)); !(e < 0.01*1.458) {
			t.Errorf("the torque on %s is %v N m, expected %v", bodies[i].Name, m[i], torque)
		}
		sum = r3.Add(sum, f[i])
	}
	if !(r3.Norm(sum) < 0.005*218.9) {
		t.Errorf("the forces sum to %v N", sum)
	}
}

// A disc magnetized across its axis, between two blocks of steel that saturate: when its polarization turns, the mesh stays, and the torque on the
// disc is the derivative of the coenergy by the angle (virtual work; Melcher, Continuum Electromechanics, 1981, section 3.5). Here all of the torque
// is the couple J x H within the magnet, the part of the stress that is not symmetric. Tolerance 1 %: 0.6 % was
// reached on this grid, and the difference over 2 degrees makes 2e-4.
func TestTorqueIsVirtualWork(t *testing.T) {
	angle := func(a float64) r3.Vec { return r3.Scale(1.3, r3.Vec{X: math.Cos(a), Y: math.Sin(a)}) }
	bodies := []grid.Body{
		{Name: "disc", Solid: shape.Disc{Diameter: 20e-3, Thickness: 15e-3}, Place: shape.Placement{Rot: shape.Identity()}, Material: 1, Polarization: angle(0.5), MustFit: true},
		block("left", 2, mm(8, 24, 15), mm(-17, 0, 0), r3.Vec{}),
		block("right", 2, mm(8, 30, 15), mm(17, 2, 0), r3.Vec{}),
	}
	g := lay(t, bodies, 2, 0.8)
	at := func(a float64) *Solution {
		m := media(t, g.Axis, bodies, "steel-1018", 1.05)
		m[0] = Isotropic(1.05, Vec(grid.Frame(g.Axis, angle(a))))
		return solved(t, &Problem{Grids: g, Media: m})
	}
	const step = math.Pi / 180
	above, ok := at(0.5 + step).Coenergy()
	below, ok2 := at(0.5 - step).Coenergy()
	if !ok || !ok2 {
		t.Fatal("the coenergy is not known")
	}
	s := at(0.5)
	_, m := s.Forces(centers(bodies))
	near(t, "torque on the disc", m[0].Z, (above-below)/(2*step), 0.01)
	if side := math.Hypot(m[0].X, m[0].Y); side > 1e-3*math.Abs(m[0].Z) {
		t.Errorf("the disc is turned about other axes too: %v N m", m[0])
	}
}

// throughBox is the force and the torque about the world's origin on all that lies in a box, by Maxwell's stress on its faces in air (Melcher 1981,
// section 3.10), with n x n midpoints a face.
func (s *Solution) throughBox(box r3.Box, n int) (force, torque r3.Vec) {
	const mu0 = 4e-7 * math.Pi
	lo, hi := [3]float64{box.Min.X, box.Min.Y, box.Min.Z}, [3]float64{box.Max.X, box.Max.Y, box.Max.Z}
	for k := range 3 {
		i, j := (k+1)%3, (k+2)%3
		area := (hi[i] - lo[i]) * (hi[j] - lo[j]) / float64(n*n)
		for _, out := range []float64{-1, 1} {
			for a := range n {
				for b := range n {
					var p [3]float64
					p[k] = lo[k]
					if out > 0 {
						p[k] = hi[k]
					}
					p[i] = lo[i] + (hi[i]-lo[i])*(float64(a)+0.5)/float64(n)
					p[j] = lo[j] + (hi[j]-lo[j])*(float64(b)+0.5)/float64(n)
					x := r3.Vec{X: p[0], Y: p[1], Z: p[2]}
					f, _ := s.At(x)
					var normal [3]float64
					normal[k] = out
					nv := r3.Vec{X: normal[0], Y: normal[1], Z: normal[2]}
					d := r3.Scale(area/mu0, r3.Sub(r3.Scale(r3.Dot(f, nv), f), r3.Scale(r3.Dot(f, f)/2, nv)))
					force, torque = r3.Add(force, d), r3.Add(torque, r3.Cross(x, d))
				}
			}
		}
	}
	return force, torque
}

// Virtual work against Maxwell's stress on a box in air, for a magnet alone, for magnet and back together (whose forces between each other
// cancel), and for the torques on both: 1 % of the largest. The upper magnet lies askew of the lower one, and it is of a medium that differs along
// its axes, so that stress and couple are not symmetric.
func TestForceIsMaxwellStress(t *testing.T) {
	bodies := []grid.Body{
		block("upper", 1, mm(30, 40, 15), mm(4, 3, 15), r3.Vec{X: 0.35, Z: 1.2}),
		block("back", 2, mm(36, 50, 10), mm(4, 3, 27.5), r3.Vec{}),
		block("lower", 3, mm(40, 30, 15), mm(0, 0, -15), r3.Vec{Y: 0.3, Z: 1.2}),
	}
	g := lay(t, bodies, 2, 0.65)
	m := media(t, g.Axis, bodies, "steel-1018", 1.05)
	m[2] = Medium{Linear: true, RelativeUU: 1.6, RelativeVV: 1.1, RelativeWW: 1.05, Polarization: m[2].Polarization}
	s := solved(t, &Problem{Grids: g, Media: m})
	f, tq := s.Forces(centers(bodies))
	largest := r3.Norm(f[0])
	check := func(what string, box r3.Box, members ...int) {
		force, torque := s.throughBox(box, 18)
		var sum, turn r3.Vec
		for _, i := range members {
			sum = r3.Add(sum, f[i])
			turn = r3.Add(turn, r3.Add(tq[i], r3.Cross(bodies[i].Place.Center, f[i])))
		}
		t.Logf("%s: %.3f N, stress %.3f; torque %.4f N m, stress %.4f", what, sum, force, turn, torque)
		if e := r3.Norm(r3.Sub(sum, force)); !(e < 0.01*r3.Norm(force)) {
			t.Errorf("%s: force %v N, by the stress %v", what, sum, force)
		}
		if e := r3.Norm(r3.Sub(turn, torque)); !(e < 0.01*r3.Norm(force)*0.02) {
			t.Errorf("%s: torque %v N m, by the stress %v", what, turn, torque)
		}
	}
	check("lower", r3.Box{Min: mm(-30, -25, -30), Max: mm(30, 25, 0)}, 2)
	check("upper and back", r3.Box{Min: mm(-22, -28, 0), Max: mm(30, 34, 40)}, 0, 1)
	t.Logf("upper alone %.3f N, back alone %.3f, largest %.3f", f[0], f[1], largest)
}

// An edge of one magnet across the charged face of another, where its field rises with the logarithm of the distance: a disc under a block that is
// magnetized across it, and two blocks that lie askew. Without recoil against the sum over charged faces (package freefield): 0.7 % of the force was reached on
// the draft's grid, 1 % is asked. With recoil what the forces leave over: 1.8 % at draft, where 7 % was before the pairs had their closed forms, 0.9 to 1.1 % on
// the standard grid and below 1 % beyond; 2.5 % is asked at draft.
func TestEdgeAcrossFace(t *testing.T) {
	disc := grid.Body{Name: "disc", Solid: shape.Disc{Diameter: 16e-3, Thickness: 6e-3}, Place: shape.Placement{Center: mm(0, 0, -6), Rot: shape.Identity()},
		Material: 1, Polarization: r3.Vec{Z: 1.44}, MustFit: true}
	for _, bodies := range [][]grid.Body{
		{disc, block("block", 2, mm(14, 19, 18), mm(0, 0, 6), r3.Vec{X: 1.19})},
		{block("low", 1, mm(20, 20, 10), mm(0, 0, 25), r3.Vec{Z: 1.3}), block("high", 2, mm(20, 14, 12), mm(8, 3, 36), r3.Vec{X: 1.3})},
	} {
		src := sources(bodies)
		want, _ := freefield.Force(src[1], src[0])
		g := lay(t, bodies, 2, 0.6)
		for _, recoil := range []float64{1, 1.05} {
			s := solved(t, &Problem{Grids: g, Media: media(t, g.Axis, bodies, "steel-1018", recoil)})
			f, _ := s.Forces(centers(bodies))
			left := r3.Norm(r3.Add(f[0], f[1])) / r3.Norm(want)
			t.Logf("%s and %s, recoil %.2f, %d unknowns: %.3f and %.3f N, closed form %.3f; %.4f left over", bodies[0].Name, bodies[1].Name, recoil, s.Effort.Unknowns, f[0], f[1], want, left)
			if !(left < 0.025) {
				t.Errorf("%.2g of the force is left over", left)
			}
			if e := math.Max(apart(f[0], want), apart(r3.Scale(-1, f[1]), want)); recoil == 1 && !(e < 0.01) {
				t.Errorf("off by %.2g", e)
			}
		}
	}
}
