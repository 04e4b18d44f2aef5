package axisymmetric

import (
	"fmt"
	"math"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"polewright/material"
)

// This file checks against closed forms.

// A uniformly polarized sphere of relative permeability mu: B = 2J/(mu+2) within, a dipole of moment 4 pi a^3/(3 mu0) J 3/(mu+2) outside (J. D.
// Jackson, Classical Electrodynamics, 3rd ed. 1999, section 5.10, with the linear medium of section 5.12). The boundary is an arc, the field smooth
// on either side, so nested meshes show the order of the elements: the potential to order 3, its integrals better, the field of a fit at least 2.5.
// Tolerance: 1e-3 of the field, seen 4e-4; 1e-4 of means and moments, seen 4e-5.
func TestPolarizedSphere(t *testing.T) {
	const a, j = 0.01, 1.2
	for _, mu := range []float64{1, 1.05, 50} {
		t.Run(fmt.Sprint(mu), func(t *testing.T) {
			p := Problem{Bodies: []Body{{Name: "ball", Section: ball(a), Medium: Medium{Radial: mu, Axial: mu, Polarization: Vec{0, j}}}}, Levels: 3, Density: 0.7}
			coarse, fine := solved(t, p)
			if fine.Parity() != Odd {
				t.Errorf("the symmetry is %v, want odd", fine.Parity())
			}
			m := 4 * math.Pi / 3 * a * a * a * j / material.Mu0 * 3 / (mu + 2)
			within(t, "moment on the rim", fine.Moment().Z, m, 1e-4)
			b := fine.Bodies()[0]
			within(t, "moment of the body", b.Moment, m, 1e-4)
			within(t, "mean B", b.MeanB, 2*j/(mu+2), 1e-4)
			within(t, "mean H", b.MeanH, -j/(mu+2)/material.Mu0, 1e-4)
			// W = 1/2 integral of J.H
			within(t, "coenergy", fine.Coenergy(), -j*j/(mu+2)/material.Mu0/2*4*math.Pi/3*a*a*a, 1e-4)
			within(t, "volume", b.Volume, 4*math.Pi/3*a*a*a, 1e-6)
			worst := func(s *Solution) (e float64) {
				for _, x := range []r3.Vec{{}, {X: 0.3 * a, Y: 0.1 * a, Z: 0.4 * a}, {X: -0.2 * a, Z: -0.9 * a}, {X: 1.3 * a, Z: 0.5 * a}, {Y: 1.6 * a, Z: -a}, {Z: 1.2 * a}, {X: 5 * a, Z: 4 * a}} {
					want := r3.Vec{Z: 2 * j / (mu + 2)}
					if r := r3.Norm(x); r > a {
						u := r3.Scale(1/r, x)
						want = r3.Scale(material.Mu0*m/(4*math.Pi*r*r*r), r3.Sub(r3.Scale(3*u.Z, u), r3.Vec{Z: 1}))
					}
					got, _ := s.At(x)
					e = math.Max(e, r3.Norm(r3.Sub(got, want))/r3.Norm(want))
				}
				return e
			}
			e1, e2 := worst(coarse), worst(fine)
			if e2 > 1e-3 {
				t.Errorf("the field is off by %.1e, more than 1e-3", e2)
			}
			if order := math.Log2(e1 / e2); order < 2 {
				t.Errorf("from %.1e to %.1e: order %.1f, want at least 2", e1, e2, order)
			}
		})
	}
}

// solenoidAxis is B on the axis of a thick coil of uniform current density, from its middle: the field of a current sheet summed over the
// build (D. B. Montgomery, Solenoid Magnet Design, 1969, section 1.1; the integral of the loop's field in any textbook).
func solenoidAxis(c Coil, z float64) float64 {
	f := func(z float64) float64 {
		return z * math.Log((c.Outer+math.Hypot(c.Outer, z))/(c.Inner+math.Hypot(c.Inner, z)))
	}
	return material.Mu0 / 2 * c.density() * (f(c.High-z) - f(c.Low-z))
}

// A thick coil in free space: the field on the axis, in the bore, at the coil's ends and outside, and its moment, the sum of I pi r^2. Tolerance
// 2e-4 at a density of 1: seen below 1e-4; ends of the bore, where the potential has a kink, are among the points.
func TestThickSolenoid(t *testing.T) {
	c := Coil{Name: "coil", Inner: 0.02, Outer: 0.035, Low: -0.01, High: 0.03, AmpereTurns: 3000}
	coarse, fine := solved(t, Problem{Coils: []Coil{c}, Focus: r3.Vec{Z: 0.01}, Density: 1, Levels: 2})
	for _, z := range []float64{0.01, 0, -0.00999, -0.01, -0.012, 0.03, 0.0305, 0.05, 0.15, -0.2} {
		got, _ := fine.At(r3.Vec{Z: z})
		within(t, fmt.Sprintf("B on the axis at %g", z), got.Z, solenoidAxis(c, z), 2e-4)
	}
	// There is no surface current: B is the same on both sides of the winding's inside, and the slope of B_z across it is -mu0 J but for the
	// bend of the lines.
	in, _ := fine.At(r3.Vec{X: c.Inner - 1e-6, Z: 0.01})
	out, _ := fine.At(r3.Vec{X: c.Inner + 1e-6, Z: 0.01})
	within(t, "B_z within the winding's rim", out.Z, in.Z, 2e-3)
	within(t, "moment", fine.Moment().Z, c.AmpereTurns*math.Pi*(math.Pow(c.Outer, 3)-math.Pow(c.Inner, 3))/3/(c.Outer-c.Inner), 2e-5)
	e, err := fine.Inside(r3.Vec{Z: 0.01}, 0.005)
	if err != nil {
		t.Fatal(err)
	}
	for _, z := range []float64{0.01, 0.006, 0.015} {
		within(t, fmt.Sprintf("expanded B on the axis at %g", z), e.Field(r3.Vec{Z: z}).Z, solenoidAxis(c, z), 5e-5)
	}
	at := func(s *Solution) float64 {
		b, _ := s.At(r3.Vec{Z: 0.01})
		return math.Abs(b.Z/solenoidAxis(c, 0.01) - 1)
	}
	if at(fine) > 0.5*at(coarse) {
		t.Errorf("refined, the error went from %.1e to %.1e", at(coarse), at(fine))
	}
	// Two coils that overlap nowhere add; beyond the end of one the ball is wider than its bore.
	both := []Coil{{Name: "a", Inner: 0.01, Outer: 0.02, Low: 0.02, High: 0.03, AmpereTurns: 500}, {Name: "b", Inner: 0.01, Outer: 0.02, Low: -0.03, High: -0.02, AmpereTurns: -200}}
	_, s := solved(t, Problem{Coils: both, Density: 1.4}) // of the meshes that rounding decides on, all are good enough
	if s.Parity() != None {
		t.Errorf("unequal coils have the symmetry %v", s.Parity())
	}
	e, err = s.Inside(r3.Vec{}, 0.018)
	if err != nil {
		t.Fatal(err)
	}
	for _, z := range []float64{0, 0.01, -0.012} {
		within(t, fmt.Sprintf("B between coils at %g", z), e.Field(r3.Vec{Z: z}).Z, solenoidAxis(both[0], z)+solenoidAxis(both[1], z), 2e-4)
	}
	_, f := s.Forces()
	within(t, "action and reaction", f[0], -f[1], 1e-3)
	if !(f[0] > 0) {
		t.Errorf("coils with opposite currents attract with %g N", f[0])
	}
}

// helmholtz is a pair of thin coils with a field uniform to the fourth power of the distance over the coils' radius.
func helmholtz(radius float64) []Coil {
	h := radius / 50
	c := Coil{Name: "upper", Inner: radius - h, Outer: radius + h, Low: radius/2 - h, High: radius/2 + h, AmpereTurns: 2e5}
	d := c
	d.Name, d.Low, d.High = "lower", -c.High, -c.Low
	return []Coil{c, d}
}

// A sphere and a spherical shell in the uniform field B0 of a wide pair of coils: a sphere has B = 3 mu/(mu+2) B0 within; in the hole of a shell
// of radii a < b, B/B0 = 9 mu/((2 mu+1)(mu+2) - 2 (a/b)^3 (mu-1)^2) (Jackson, section 5.12, eq. 5.121). Steel with a curve has the B for which
// B + 2 mu0 H = 3 B0, for the field within is uniform too. The coils are 12 radii wide, so that the field changes by 1e-4 over the sphere, and
// that by a term that the sphere's mean does not see: tolerance 3e-4, and 1e-3 for the shell, whose hole is shielded 20-fold.
func TestSphereInUniformField(t *testing.T) {
	const a = 0.01
	coils := helmholtz(12 * a)
	b0 := solenoidAxis(coils[0], 0) + solenoidAxis(coils[1], 0)
	for _, mu := range []float64{2, 30, 1000} {
		_, s := solved(t, Problem{Coils: coils, Bodies: []Body{{Name: "ball", Section: ball(a), Medium: Medium{Radial: mu, Axial: mu}}}, Density: 1})
		within(t, fmt.Sprintf("mean B of a sphere of mu %g", mu), s.Bodies()[0].MeanB, 3*mu/(mu+2)*b0, 3e-4)
		b, _ := s.At(r3.Vec{X: 0.4 * a, Z: -0.5 * a})
		within(t, fmt.Sprintf("B within a sphere of mu %g", mu), b.Z, 3*mu/(mu+2)*b0, 1e-3)
	}
	for _, mu := range []float64{30, 300} {
		const inner = 0.8 * a
		_, s := solved(t, Problem{Coils: coils, Bodies: []Body{{Name: "shell", Section: shell(inner, a), Medium: Medium{Radial: mu, Axial: mu}}}, Density: 1})
		want := 9 * mu / ((2*mu+1)*(mu+2) - 2*math.Pow(inner/a, 3)*(mu-1)*(mu-1)) * b0
		e, err := s.Inside(r3.Vec{}, 0.3*a)
		if err != nil {
			t.Fatal(err)
		}
		within(t, fmt.Sprintf("B in the hole of a shell of mu %g", mu), e.Field(r3.Vec{}).Z, want, 1e-3)
	}
	curve, err := material.SteelNamed("steel-1018")
	if err != nil {
		t.Fatal(err)
	}
	for _, turns := range []float64{1e5, 4e5, 1e6} {
		for i := range coils {
			coils[i].AmpereTurns = turns
		}
		b0 := solenoidAxis(coils[0], 0) + solenoidAxis(coils[1], 0)
		lo, hi := 0.0, 1e7
		for range 100 {
			mid := (lo + hi) / 2
			if b, _, _ := curve.Curve.Eval(mid); b+2*material.Mu0*mid < 3*b0 {
				lo = mid
			} else {
				hi = mid
			}
		}
		want, _, _ := curve.Curve.Eval(lo)
		_, s := solved(t, Problem{Coils: coils, Bodies: []Body{{Name: "ball", Section: ball(a), Medium: Medium{Curve: curve.Curve}}}, Density: 1})
		within(t, fmt.Sprintf("mean B of a steel sphere in %.2f T", b0), s.Bodies()[0].MeanB, want, 3e-4)
		if !s.Effort.Converged || s.Effort.NewtonSteps > 20 {
			t.Errorf("in %.2f T: %+v", b0, s.Effort)
		}
	}
}

// A disc on its axis: B = J/2 ((z+t/2)/sqrt(R^2+(z+t/2)^2) - (z-t/2)/sqrt(R^2+(z-t/2)^2)), E. P. Furlani, Permanent Magnet and
// Electromechanical Devices, 2001, section 4.2. Tolerance 2e-4 at a density of 1: seen below 1e-4.
func TestDiscOnAxis(t *testing.T) {
	const radius, thick, j = 0.02, 0.01, 1.3
	_, s := solved(t, Problem{Bodies: []Body{{Name: "disc", Section: rectangle(0, radius, 0, thick), Medium: Medium{Radial: 1, Axial: 1, Polarization: Vec{0, j}}}},
		Focus: r3.Vec{Z: 0.02}, Density: 1})
	for _, z := range []float64{0.0051, 0.007, 0.015, 0.03, 0.1, 0.001, -0.004, -0.02} {
		f := func(z float64) float64 { return z / math.Hypot(radius, z) }
		got, _ := s.At(r3.Vec{Z: z + thick/2})
		within(t, fmt.Sprintf("B on the axis at %g", z), got.Z, j/2*(f(z+thick/2)-f(z-thick/2)), 2e-4)
	}
}

// The force between the halves of a uniformly polarized sphere with a film of air between them: across its equator the film has B = 2J/3, the
// plane outside the dipole's field, in all J^2 pi a^2/(4 mu0) that pull; across a plane that contains the axis H = -J/(3 mu0) pushes, with the
// dipole's outside J^2 pi a^2/(8 mu0). Both follow from the sphere's field by Maxwell's stress. Tolerance 1e-4: seen below 5e-5.
func TestHalvesOfSphere(t *testing.T) {
	const a, j = 0.01, 1.2
	for _, up := range []float64{0, 0.003} { // with and without the symmetry
		p := Problem{Bodies: []Body{{Name: "ball", Section: ball(a), Medium: Medium{Radial: 1, Axial: 1, Polarization: Vec{0, j}}}}, Planes: []float64{0, 1.6 * a}, Density: 1.4}
		if up > 0 {
			p.Bodies = append(p.Bodies, Body{Name: "nothing", Section: rectangle(1.5*a, 1.6*a, 0, up), Medium: air})
		}
		_, s := solved(t, p)
		unit := j * j * math.Pi * a * a / material.Mu0
		f, err := s.HalfForce(0)
		if err != nil {
			t.Fatal(err)
		}
		within(t, "force across the equator", f, -unit/4, 1e-4)
		within(t, "force across a meridian", s.SplitForce(), unit/8, 1e-4)
		// There is nothing above the upper plane: the pull near the axis and the push farther out cancel, some beyond the mesh.
		if f, err = s.HalfForce(1.6 * a); err != nil || math.Abs(f) > 1e-5*unit {
			t.Errorf("force on empty space: %g N of %g N, %v", f, unit, err)
		}
	}
}
