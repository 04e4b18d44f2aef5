package freefield

import (
	"fmt"
	"math"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"polewright/material"
	"polewright/shape"
)

// axial is a body about the z axis, its centre at z, polarized along z.
func axial(s shape.Solid, z, j float64) Magnet {
	return Magnet{s, shape.Placement{Center: r3.Vec{Z: z}, Rot: shape.Identity()}, r3.Vec{Z: j}}
}

func brick(x, y, z float64) shape.Block { return shape.Block{Size: r3.Vec{X: x, Y: y, Z: z}} }

func coin(d, t float64) shape.Disc { return shape.Disc{Diameter: d, Thickness: t} }

// Points that package published checks, too, are not repeated here.

// Fields on the axis, worked from the textbook closed forms (Furlani, Permanent Magnet and Electromechanical Devices (2001)):
// block (Br/pi)[atan(ab/(2z sqrt(4z^2+a^2+b^2))) - the same at z+t], cylinder (Br/2)[(z+L)/sqrt(R^2+(z+L)^2) - z/sqrt(R^2+z^2)], ring by
// difference. Six decimals are given, so half a unit of the last is allowed. z = 0 is the face, where the normal B is continuous.
func TestAxialFieldTable(t *testing.T) {
	tests := []struct {
		s     shape.Solid
		br    float64
		field map[float64]float64 // mm from the face: T
	}{
		{brick(0.050, 0.050, 0.025), 1.30, map[float64]float64{12.5: 0.254294}},
		{brick(0.040, 0.020, 0.010), 1.20, map[float64]float64{0: 0.338457, 5: 0.225673, 10: 0.138644}},
		{coin(0.020, 0.010), 1.30, map[float64]float64{1: 0.416284, 10: 0.121758}},
		{shape.Ring{OuterDiameter: 0.020, InnerDiameter: 0.010, Thickness: 0.010}, 1.30, map[float64]float64{1: -0.047979, 5: 0.093119}},
	}
	for _, tt := range tests {
		m := axial(tt.s, 0, tt.br)
		for z, want := range tt.field {
			if got := m.B(r3.Vec{Z: tt.s.HalfExtent().Z + z*1e-3}).Z; math.Abs(got-want) > 5.1e-7 {
				t.Errorf("%v, Br %v T, %v mm from the face: %.7f T, want %.6f", tt.s, tt.br, z, got, want)
			}
		}
	}
}

// By symmetry the demagnetizing factor at the centre of a cube is 1/3 (the trace of the three equal factors is 1), whatever the direction.
func TestCentreOfCube(t *testing.T) {
	j := r3.Vec{X: 0.3, Y: -0.5, Z: 1.1}
	m := Magnet{brick(0.02, 0.02, 0.02), shape.Placement{Center: r3.Vec{X: 1}, Rot: shape.Euler(0.3, 0.2, 0.1)}, j}
	if got, want := m.H(r3.Vec{X: 1}), r3.Scale(-1/(3*material.Mu0), j); r3.Norm(r3.Sub(got, want)) > 1e-9*r3.Norm(want) {
		t.Errorf("H = %v, want %v", got, want)
	}
}

// Magnetometric demagnetizing factors: minus the mean of H over the volume, over M. Prisms: A. Aharoni, J. Appl. Phys. 83 (1998) 3432, eq. 1;
// cylinders, chi = 0: D.-X. Chen, J. A. Brug, R. B. Goldfarb, IEEE Trans. Magn. 27 (1991) 3601. Six decimals.
func TestDemagnetizingFactors(t *testing.T) {
	tests := []struct {
		s    shape.Solid
		axis int
		want float64
	}{
		{brick(1, 1, 0.05), 2, 0.881004},
		{brick(1, 1, 1), 0, 1.0 / 3},
		{brick(1, 1, 20), 2, 0.023262},
		{brick(3, 2, 1), 0, 0.182818},       // across the axis of the others
		{coin(1, 1), 0, (1 - 0.311577) / 2}, // the three factors add to 1
		{coin(1, 20), 2, 0.020908},
	}
	for _, tt := range tests {
		unit := [3]r3.Vec{{X: 1}, {Y: 1}, {Z: 1}}[tt.axis]
		m := Magnet{tt.s, shape.Placement{Rot: shape.Identity()}, unit}
		h := tt.s.HalfExtent()
		// H is even in x, y and z along its own axis, so one octant does. The substitution x = (3u - u^3)/2 crowds the points towards the
		// faces, where H grows as the logarithm of the distance from the edges; 20 points then give 1e-6.
		mean, volume := 0.0, 0.0
		g := gauss[20]
		for i, a := range g.x {
			for k, b := range g.x {
				for l, c := range g.x {
					w := g.w[i] * g.w[k] * g.w[l]
					f := func(x float64) (at, slope float64) {
						u := (1 + x) / 2
						return u * (3 - u*u) / 2, (3 - 3*u*u) / 4
					}
					x, wx := f(a)
					y, wy := f(b)
					z, wz := f(c)
					var p r3.Vec
					if _, block := tt.s.(shape.Block); block {
						p = r3.Vec{X: h.X * x, Y: h.Y * y, Z: h.Z * z}
						w *= wx * wy * wz
					} else {
						sin, cos := math.Sincos((1 + b) * math.Pi / 4)
						p = r3.Vec{X: h.X * x * cos, Y: h.X * x * sin, Z: h.Z * z}
						w *= x * wx * wz
					}
					mean -= w * material.Mu0 * r3.Dot(unit, m.H(p))
					volume += w
				}
			}
		}
		if n := mean / volume; math.Abs(n-tt.want) > 4e-6 {
			t.Errorf("%v along axis %d: N = %.6f, want %.6f", tt.s, tt.axis, n, tt.want)
		}
	}
}

// Force between two blocks of J = 0.38 T: the case of G. Akoun and J.-P. Yonnet, IEEE Trans. Magn. 20 (1984) 1962; values of the closed form
// evaluated independently, to four decimals.
func TestForceAkounYonnet(t *testing.T) {
	fixed := axial(brick(0.020, 0.012, 0.006), 0, 0.38)
	for _, tt := range []struct{ d, x, y, z float64 }{
		{0, 0.5884, 0.5884, -1.7736},
		{2, 0.2451, 0.6265, -1.8556},
		{4, 0, 0.6376, -1.8534},
		{6, -0.2451, 0.6265, -1.8556},
		{8, -0.5884, 0.5884, -1.7736},
		{10, -0.9086, 0.5177, -1.4668},
		{12, -1.0677, 0.4248, -1.0586},
		{14, -1.1076, 0.3226, -0.6448},
		{16, -1.0552, 0.2206, -0.2385},
		{18, -0.8871, 0.1280, 0.1463},
		{20, -0.5671, 0.0573, 0.4102},
		{22, -0.2458, 0.0174, 0.4252},
		{24, -0.0706, 0, 0.3305},
		{26, 0.0065, -0.0063, 0.2370},
		{28, 0.0360, -0.0077, 0.1663},
		{30, 0.0442, -0.0073, 0.1168},
	} {
		moving := axial(brick(0.012, 0.020, 0.006), 0, 0.38)
		moving.Place.Center = r3.Vec{X: (-4 + tt.d) * 1e-3, Y: -4e-3, Z: 8e-3}
		closed, _ := Force(fixed, moving)
		for _, f := range []r3.Vec{closed, forceOn(moving, fixed.H).force} {
			if r3.Norm(r3.Sub(f, r3.Vec{X: tt.x, Y: tt.y, Z: tt.z})) > 9e-5 { // half a unit in each component
				t.Errorf("d = %v mm: %.5f N, want %v", tt.d, f, tt)
			}
		}
	}
}

// Forces along the axis of equal bodies that attract, six digits as given: blocks by Akoun and Yonnet 1984; discs by D. Vokoun, M. Beleggia,
// L. Heller, P. Sittner, J. Magn. Magn. Mater. 321 (2009) 3758 in Bessel form.
func TestForceCoaxial(t *testing.T) {
	tests := []struct {
		s   shape.Solid
		br  float64
		gap float64 // mm
		f   float64 // N
		tol float64
	}{
		{brick(0.050, 0.050, 0.025), 1.30, 30, 123.783, 1e-5},
		{brick(0.050, 0.050, 0.025), 1.30, 10, 394.068, 1e-5},
		{brick(0.050, 0.050, 0.025), 1.30, 1, 848.305, 1e-5},
		{coin(0.040, 0.040), 1.30, 10, 265.537, 1e-5},
		{coin(0.020, 0.010), 1.30, 1, 95.784, 1e-5},
		{coin(0.020, 0.010), 1.30, 2, 75.996, 1e-5},
		{coin(0.020, 0.010), 1.30, 5, 43.074, 2e-5},
		{coin(0.020, 0.010), 1.30, 10, 19.686, 4e-5},
		{coin(0.020, 0.010), 1.30, 20, 5.530, 1e-4},
		{coin(0.020, 0.010), 1.30, 30, 2.023, 3e-4}, // half a unit of the last digit given
		{coin(0.020, 0.010), 1.30, 50, 0.446, 1.2e-3},
		{coin(0.025, 0.075), 1.206, 4, 148.54, 4e-5},
		{coin(0.025, 0.075), 1.206, 37, 11.11, 5e-4},
	}
	for _, tt := range tests {
		a, b := axial(tt.s, 0, tt.br), axial(tt.s, 2*tt.s.HalfExtent().Z+tt.gap*1e-3, tt.br)
		f, torque := Force(a, b)
		if math.Abs(f.Z/-tt.f-1) > tt.tol {
			t.Errorf("%v at %v mm: %.4f N, want %v", tt.s, tt.gap, -f.Z, tt.f)
		}
		if math.Hypot(f.X, f.Y) > 1e-7*tt.f || r3.Norm(torque) > 1e-7*tt.f*tt.s.HalfExtent().X {
			t.Errorf("%v at %v mm: across %v, torque %v", tt.s, tt.gap, f, torque)
		}
	}
}

// Far away the field is that of the dipole, 2e-7 m/r^3 on the axis and half of it, reversed, beside it (any textbook, for instance Jackson,
// Classical Electrodynamics, section 5.6). The next term is (size/r)^2, 1e-6 at a thousand sizes.
func TestDistanceLaw(t *testing.T) {
	for name, s := range examples() {
		m := axial(s, 0, 1.3)
		if _, wedge := s.(shape.Wedge); wedge {
			continue // its middle is not at its origin: the next term is size/r
		}
		h := s.HalfExtent()
		r := 1000 * 2 * math.Max(h.X, math.Max(h.Y, h.Z))
		moment := m.Moment().Z
		if want := 1.3 * s.Volume() / (4e-7 * math.Pi); math.Abs(moment/want-1) > 1e-12 {
			t.Errorf("%s: moment %v, want %v", name, moment, want)
		}
		if got, want := m.B(r3.Vec{Z: r}).Z, 2e-7*moment/(r*r*r); math.Abs(got/want-1) > 2e-6 {
			t.Errorf("%s: on the axis %v, want %v", name, got, want)
		}
		if got, want := m.B(r3.Vec{Y: r}).Z, -1e-7*moment/(r*r*r); math.Abs(got/want-1) > 2e-6 {
			t.Errorf("%s: beside %v, want %v", name, got, want)
		}
	}
}

// imagePair is the field over Br at the centre of two discs of radius r and thickness t with a gap g, on infinite plates of ideal iron.
//
// On ideal iron H has no part along the plate, so the plate is an equipotential, and both plates are at one potential when the yoke
// joins them: a charge at height z has an image of opposite sign mirrored in the plate. The faces on the plates lie on their own images and
// vanish. The faces at the gap, charge +Br at -g/2 and -Br at +g/2, mirrored in the plates at +-P/2 with P = 2t + g, go to: -(+Br)
// at P + g/2 and -(-Br) at P - g/2, and so on, so that there is -Br at nP + g/2 and +Br at nP - g/2 for every n. A disc of charge
// Br at the distance d gives (Br/2)(1 - d/sqrt(r^2 + d^2)) on its axis. With f(d) = d/sqrt(r^2+d^2): n = 0 gives 1 - f(g/2); n and -n
// together -(f(nP+g/2) - f(nP-g/2)). It agrees with the series in use in the trade.
func imagePair(r, t, g float64) float64 {
	f := func(d float64) float64 { return d / math.Hypot(r, d) }
	b := 1 - f(g/2)
	p := 2*t + g
	const last = 2000
	for n := 1.0; n <= last; n++ {
		b -= f(n*p+g/2) - f(n*p-g/2)
	}
	// The rest: f' = r^2/d^3 far away, summed from the middle between the last term and the next.
	z := (last + 0.5) * p
	return b - g*r*r/(2*z*z*p)
}

// The same magnets with their images are rods of thickness 2t in a row of period P: each magnet joins its image in the plate. Figures of the
// trade's table for D 50 mm discs, three decimals: without steel, on ideal plates. 1/(1 + g/2t) of the one-dimensional formula is the limit for wide
// discs.
func TestPairOfDiscsAndImages(t *testing.T) {
	const d = 0.050
	for _, tt := range []struct{ t, g, open, plates float64 }{
		{10, 10, 0.318, 0.658},
		{10, 20, 0.253, 0.466},
		{20, 5, 0.569, 0.871},
		{20, 20, 0.397, 0.570},
		{20, 50, 0.167, 0.240},
		{40, 20, 0.523, 0.615},
	} {
		th, g := tt.t*1e-3, tt.g*1e-3
		pair := Sources{axial(coin(d, th), (g+th)/2, 1), axial(coin(d, th), -(g+th)/2, 1)}
		if got := pair.B(r3.Vec{}).Z; math.Abs(got-tt.open) > 5.1e-4 {
			t.Errorf("t %v g %v without steel: %.4f, want %v", tt.t, tt.g, got, tt.open)
		}
		if got := imagePair(d/2, th, g); math.Abs(got-tt.plates) > 5.1e-4 {
			t.Errorf("t %v g %v on plates: %.4f, want %v", tt.t, tt.g, got, tt.plates)
		}
		p := 2*th + g
		row := Sources{}
		const n = 400
		for i := range n {
			z := (float64(i) + 0.5) * p
			row = append(row, axial(coin(d, 2*th), z, 1), axial(coin(d, 2*th), -z, 1))
		}
		// The rest of the row as dipoles: 2 sum 2e-7 m/z^3 = 2e-7 m/(z^2 p) from z = n p.
		rest := 2e-7 * row[0].Moment().Z / (float64(n) * p * float64(n) * p * p)
		if got, want := row.B(r3.Vec{}).Z+rest, imagePair(d/2, th, g); math.Abs(got-want) > 1e-8 {
			t.Errorf("t %v g %v: row of rods %.9f, series %.9f", tt.t, tt.g, got, want)
		}
	}
	if got, want := imagePair(10, 0.02, 0.02), 1/(1+0.02/0.04); math.Abs(got/want-1) > 2e-3 {
		t.Errorf("wide discs: %v, one-dimensional formula %v", got, want)
	}
}

// Two magnets that face each other over a gap small against the pole give about twice the field of one at its face (common practice, no
// source). For D 50 mm, t 20 mm, 1 mm: the fall of one magnet's field over half a millimetre is 2 %.
func TestFacingPairIsTwiceOneFace(t *testing.T) {
	for _, s := range []shape.Solid{coin(0.050, 0.020), brick(0.050, 0.050, 0.020)} {
		z := s.HalfExtent().Z
		face := axial(s, 0, 1.3).B(r3.Vec{Z: z}).Z
		pair := Sources{axial(s, z+0.0005, 1.3), axial(s, -z-0.0005, 1.3)}.B(r3.Vec{}).Z
		if ratio := pair / face; ratio < 1.94 || ratio > 2 {
			t.Errorf("%v: ratio %v", s, ratio)
		}
	}
}

// Fluxmetric demagnetizing factors of cylinders, chi = 0: minus the mean of H over the middle plane, over M (D.-X. Chen, J. A. Brug, R. B. Goldfarb,
// IEEE Trans. Magn. 27 (1991) 3601; values by a Bessel integral at their source, six decimals).
func TestFluxmetricFactors(t *testing.T) {
	for _, tt := range []struct{ ratio, want float64 }{
		{10, 0.004927}, {50, 0.000200},
	} {
		m := axial(coin(1, tt.ratio), 0, 1)
		mean := 0.0
		for i, x := range gradedHigh.x { // crowded towards the rim, where H of a flat one is steep
			r := (1 + x) / 4
			mean -= gradedHigh.w[i] / 4 * 2 * math.Pi * r * material.Mu0 * m.H(r3.Vec{X: r}).Z / (math.Pi / 4)
		}
		if math.Abs(mean-tt.want) > 1e-6 {
			t.Errorf("length over diameter %v: %.6f, want %.6f", tt.ratio, mean, tt.want)
		}
	}
}

// A long Halbach cylinder has Br ln(ro/ri) in its bore, one of N equal segments sin(2 pi/N)/(2 pi/N) of that at its centre (K. Halbach, Nucl.
// Instrum. Methods 169 (1980) 1, from memory). The ends of a length of 400 outer radii take
// 1e-5 of Br at most.
func TestLongHalbachCylinder(t *testing.T) {
	for _, n := range []int{8, 16, 24} {
		var s Sources
		half := math.Pi / float64(n)
		for i := range n {
			a := 2 * half * float64(i)
			s = append(s, Magnet{shape.Wedge{OuterDiameter: 0.1, InnerDiameter: 0.05, Thickness: 20, From: a - half, To: a + half}, upright,
				r3.Vec{X: 1.3 * math.Cos(2*a), Y: 1.3 * math.Sin(2*a)}})
		}
		want := 1.3 * math.Ln2 * math.Sin(2*half) / (2 * half)
		if b := s.B(r3.Vec{}); math.Abs(b.X-want) > 2e-5 || math.Hypot(b.Y, b.Z) > 1e-9 {
			t.Errorf("%d segments: %v, want %.6f along x", n, b, want)
		}
	}
}

func ExampleMagnet_B() {
	// A 50 x 50 x 25 mm block of remanence 1.30 T: the middle of its face.
	block := Magnet{
		Solid:        shape.Block{Size: r3.Vec{X: 0.05, Y: 0.05, Z: 0.025}},
		Place:        shape.Placement{Rot: shape.Identity()},
		Polarization: r3.Vec{Z: 1.30},
	}
	fmt.Printf("%.4f T\n", block.B(r3.Vec{Z: 0.0125}).Z)
	// Output: 0.4333 T
}

func ExampleForce() {
	disc := shape.Disc{Diameter: 0.02, Thickness: 0.01}
	lower := Magnet{disc, shape.Placement{Rot: shape.Identity()}, r3.Vec{Z: 1.3}}
	upper := Magnet{disc, shape.Placement{Center: r3.Vec{Z: 0.012}, Rot: shape.Identity()}, r3.Vec{Z: 1.3}}
	force, _ := Force(lower, upper)
	fmt.Printf("at a gap of 2 mm: %.2f N\n", force.Z)
	// Output: at a gap of 2 mm: -76.00 N
}
