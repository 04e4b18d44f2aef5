package published

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/integrate/quad"
	"gonum.org/v1/gonum/spatial/r3"

	"polewright/freefield"
	"polewright/material"
	"polewright/shape"
)

// This file holds magnets in free space, against textbook formulas and worked values.

func block(x, y, z float64) shape.Block {
	return shape.Block{Size: r3.Vec{X: x / 1000, Y: y / 1000, Z: z / 1000}}
}

func disc(diameter, thickness float64) shape.Disc {
	return shape.Disc{Diameter: diameter / 1000, Thickness: thickness / 1000}
}

// axial is a body magnetized along z, its middle at a point in millimetres.
func axial(s shape.Solid, x, y, z, remanence float64) freefield.Magnet {
	return freefield.Magnet{Solid: s, Place: shape.Placement{Center: r3.Vec{X: x / 1000, Y: y / 1000, Z: z / 1000}, Rot: shape.Identity()},
		Polarization: r3.Vec{Z: remanence}}
}

const lastDigit = "half a unit of the last digit given"

// axialFields are fields on the axis: block (Br/pi)[atan(ab/(2z sqrt(4z^2+a^2+b^2))) - the same at z+t], cylinder
// (Br/2)[(z+L)/sqrt(R^2+(z+L)^2) - z/sqrt(R^2+z^2)], ring by difference.
func axialFields() (list []Check) {
	const source = "closed forms on the axis: E. P. Furlani, Permanent Magnet and Electromechanical Devices (2001)"
	ring := shape.Ring{OuterDiameter: 0.020, InnerDiameter: 0.010, Thickness: 0.010}
	for _, m := range []struct {
		name string
		s    shape.Solid
		br   float64
		at   [][2]float64 // mm from the face, T
	}{
		{"block 50 x 50 x 25 mm, 1.30 T", block(50, 50, 25), 1.30, [][2]float64{{0, 0.433333}, {5, 0.360122}, {25, 0.133344}, {50, 0.041873}}},
		{"block 40 x 20 x 10 mm, 1.20 T", block(40, 20, 10), 1.20, [][2]float64{{2, 0.293678}, {20, 0.055549}}},
		{"disc 20 x 10 mm, 1.30 T", disc(20, 10), 1.30, [][2]float64{{0, 0.459619}, {5, 0.250144}, {20, 0.035266}}},
		{"ring 20/10 x 10 mm, 1.30 T", ring, 1.30, [][2]float64{{0, -0.121758}, {10, 0.072543}}},
	} {
		magnet := axial(m.s, 0, 0, 0, m.br)
		for _, p := range m.at {
			list = append(list, Check{Name: fmt.Sprintf("%s: B %g mm from the face", m.name, p[0]), Published: p[1], Unit: "T", Tolerance: 5.1e-7, Why: lastDigit,
				Solve: atOnce(func() float64 { return magnet.B(r3.Vec{Z: m.s.HalfExtent().Z + p[0]/1000}).Z })}.of(source, Worked))
		}
	}
	for _, m := range []struct {
		name      string
		s         shape.Solid
		gap, want float64
	}{{"two blocks 50 x 50 x 25 mm, 1.30 T, gap 30 mm", block(50, 50, 25), 30, 0.448041}, {"two discs 76.2 x 25.4 mm, 1.30 T, gap 20 mm", disc(76.2, 25.4), 20, 0.554845}} {
		z := 1000*m.s.HalfExtent().Z + m.gap/2
		list = append(list, Check{Name: m.name + ": B in the middle", Published: m.want, Unit: "T", Tolerance: 5.1e-7, Why: lastDigit, Solve: atOnce(func() float64 {
			return freefield.Sources{axial(m.s, 0, 0, z, 1.3), axial(m.s, 0, 0, -z, 1.3)}.B(r3.Vec{}).Z
		})}.of(source, Worked))
	}
	return list
}

// blockField is the field of a block away from its axis, by its corners.
func blockField() (list []Check) {
	const source = "block by its eight corners: G. Akoun, J.-P. Yonnet, IEEE Trans. Magn. 20 (1984) 1962; values checked by a sum of 200 x 200 charges"
	m := axial(block(50, 50, 25), 0, 0, 0, 1.30)
	for _, p := range []struct{ at, b r3.Vec }{
		{r3.Vec{X: 30, Y: 10, Z: 20}, r3.Vec{X: 0.1939662, Y: 0.0349926, Z: 0.0456042}},
		{r3.Vec{X: 60, Y: 40, Z: 5}, r3.Vec{X: 0.0038061, Y: 0.0024490, Z: -0.0194514}},
	} {
		for axis, want := range []float64{p.b.X, p.b.Y, p.b.Z} {
			list = append(list, Check{Name: fmt.Sprintf("block 50 x 50 x 25 mm, 1.30 T: B%c at %g, %g, %g mm", "xyz"[axis], p.at.X, p.at.Y, p.at.Z), Published: want, Unit: "T",
				Tolerance: 5.1e-8, Why: lastDigit, Solve: atOnce(func() float64 {
					b := m.B(r3.Scale(1e-3, p.at))
					return [3]float64{b.X, b.Y, b.Z}[axis]
				})}.of(source, Worked))
		}
	}
	return list
}

// demagnetizing are magnetometric demagnetizing factors, minus the mean of H over the volume, over M; and those of the mid-plane (fluxmetric).
func demagnetizing() (list []Check) {
	const prism = "A. Aharoni, J. Appl. Phys. 83 (1998) 3432, eq. 1"
	const cylinder = "D.-X. Chen, J. A. Brug, R. B. Goldfarb, IEEE Trans. Magn. 27 (1991) 3601, susceptibility 0"
	const why = "the mean over the volume is taken by Gauss's rule, 1e-6; " + lastDigit
	for _, p := range []struct{ x, y, z, want float64 }{
		{1, 1, 0.1, 0.805078}, {1, 1, 0.5, 0.495922}, {1, 1, 2, 0.198316}, {1, 1, 5, 0.088316}, {3, 2, 1, 0.538790}, {1, 3, 2, 0.278392}, {1, 2, 3, 0.182818},
	} {
		list = append(list, Check{Name: fmt.Sprintf("demagnetizing factor of a prism %g x %g x %g, along the last", p.x, p.y, p.z), Published: p.want, Tolerance: 4e-6, Why: why,
			Solve: atOnce(func() float64 { return meanFactor(block(p.x, p.y, p.z), 1) })}.of(prism, Worked))
	}
	for _, c := range []struct{ ratio, mean, middle float64 }{{0.1, 0.796676, 0.784520}, {0.5, 0.474490, 0.422088}, {1, 0.311577, 0.232211}, {2, 0.181864, 0.093506}, {5, 0.079907, 0.018891}} {
		s := disc(1, c.ratio)
		list = append(list,
			Check{Name: fmt.Sprintf("demagnetizing factor of a cylinder, length/diameter %g, over the volume", c.ratio), Published: c.mean, Tolerance: 4e-6, Why: why,
				Solve: atOnce(func() float64 { return meanFactor(s, 1) })}.of(cylinder, Worked),
			Check{Name: fmt.Sprintf("demagnetizing factor of a cylinder, length/diameter %g, over the mid-plane", c.ratio), Published: c.middle, Tolerance: 4e-6, Why: why,
				Solve: atOnce(func() float64 { return meanFactor(s, 0) })}.of(cylinder, Worked))
	}
	return list
}

// meanFactor is the mean of -mu0 Hz over Jz over an eighth of a block or disc, up to the share of the half length; share 0 is the mid-plane.
//
// H grows as the logarithm of the distance from the edges, so the points crowd towards the faces by x = (3u - u^3)/2.
func meanFactor(s shape.Solid, share float64) float64 {
	m := axial(s, 0, 0, 0, 1)
	h := s.HalfExtent()
	u, w := make([]float64, 20), make([]float64, 20)
	quad.Legendre{}.FixedLocations(u, w, 0, 1)
	crowded := func(i int) (at, weight float64) { return u[i] * (3 - u[i]*u[i]) / 2, w[i] * 3 * (1 - u[i]*u[i]) / 2 }
	_, round := s.(shape.Disc)
	mean, volume := 0.0, 0.0
	for i := range u {
		x, wx := crowded(i)
		for j := range u {
			y, wy := crowded(j)
			p := r3.Vec{X: h.X * x, Y: h.Y * y}
			if round {
				if j > 0 { // the field of a disc does not depend on the angle
					break
				}
				p.Y, wy = 0, x
			}
			for k := range u {
				z, wz := crowded(k)
				p.Z = share * h.Z * z
				weight := wx * wy * wz
				mean -= weight * material.Mu0 * m.H(p).Z
				volume += weight
			}
		}
	}
	return mean / volume
}

// forces are forces between magnets in free space.
func forces() (list []Check) {
	const yonnet = "blocks of 0.38 T, 20 x 12 x 6 and 12 x 20 x 6 mm, the second moved along x: G. Akoun, J.-P. Yonnet, IEEE Trans. Magn. 20 (1984) 1962; closed form evaluated apart"
	const digits = "the values have four decimals"
	fixed := axial(block(20, 12, 6), 0, 0, 0, 0.38)
	for _, p := range []struct{ d, x, y, z float64 }{{0, 0.5884, 0.5884, -1.7736}, {4, 0, 0.6376, -1.8534}, {14, -1.1076, 0.3226, -0.6448}, {24, -0.0706, 0, 0.3305}} {
		moving := axial(block(12, 20, 6), -4+p.d, -4, 8, 0.38)
		for axis, want := range []float64{p.x, p.y, p.z} {
			if want == 0 {
				continue // by symmetry
			}
			list = append(list, Check{Name: fmt.Sprintf("two blocks, moved by %g mm: F%c", p.d, "xyz"[axis]), Published: want, Unit: "N", Tolerance: 9e-5, Why: digits, Solve: atOnce(func() float64 {
				f, _ := freefield.Force(fixed, moving)
				return [3]float64{f.X, f.Y, f.Z}[axis]
			})}.of(yonnet, Worked))
		}
	}
	const blocks = "equal blocks face to face: G. Akoun, J.-P. Yonnet 1984; checked by quadrature"
	const discs = "equal coaxial cylinders: D. Vokoun, M. Beleggia, L. Heller, P. Šittner, J. Magn. Magn. Mater. 321 (2009) 3758"
	for _, p := range []struct {
		name           string
		s              shape.Solid
		br, gap, force float64
		tolerance      float64
		source         string
	}{
		{"blocks 50 x 50 x 25 mm, 1.30 T", block(50, 50, 25), 1.30, 30, 123.783, 1e-3, blocks},
		{"blocks 50 x 50 x 25 mm, 1.30 T", block(50, 50, 25), 1.30, 10, 394.068, 3e-3, blocks},
		{"blocks 50 x 50 x 25 mm, 1.30 T", block(50, 50, 25), 1.30, 1, 848.305, 8e-3, blocks},
		{"discs 40 x 40 mm, 1.30 T", disc(40, 40), 1.30, 10, 265.537, 2e-3, discs},
		{"discs 20 x 10 mm, 1.30 T", disc(20, 10), 1.30, 1, 95.784, 1e-3, discs},
		{"discs 20 x 10 mm, 1.30 T", disc(20, 10), 1.30, 10, 19.686, 1e-3, discs},
		{"discs 20 x 10 mm, 1.30 T", disc(20, 10), 1.30, 50, 0.446, 5.1e-4, discs},
		{"rods 25 x 75 mm, 1.206 T", disc(25, 75), 1.206, 4, 148.54, 6e-3, discs},
		{"rods 25 x 75 mm, 1.206 T", disc(25, 75), 1.206, 37, 11.11, 5.1e-3, discs},
	} {
		z := 2000*p.s.HalfExtent().Z + p.gap
		list = append(list, Check{Name: fmt.Sprintf("two %s, gap %g mm: attraction", p.name, p.gap), Published: p.force, Unit: "N", Tolerance: p.tolerance, Why: "the digits given, and 1e-5 of the quadrature along edges",
			Solve: atOnce(func() float64 {
				f, _ := freefield.Force(axial(p.s, 0, 0, 0, p.br), axial(p.s, 0, 0, z, p.br))
				return -f.Z
			})}.of(p.source, Worked))
	}
	return list
}

// halbach are Halbach cylinders: the field in the middle of M segments magnetized at twice their angle.
func halbach() (list []Check) {
	const source = "Halbach cylinder: ideal field of finite length, form of P. Ní Mhíocháin, D. Weaire, S. McMurry, J. M. D. Coey, J. Appl. Phys. 86 (1999) 6412 (the form from memory, its values checked by a brute volume integral), times sin(2π/M)/(2π/M) for M segments"
	for _, c := range []struct {
		m            int
		length, want float64
	}{{8, 100, 1.139505 * 0.900316}, {16, 50, 0.953171 * 0.974495}, {16, 200, 1.185443 * 0.974495}, {32, 100, 1.139505 * 0.993587}} {
		list = append(list, Check{Name: fmt.Sprintf("Halbach ring 100/40 x %g mm, %d segments, 1.30 T: B in the middle", c.length, c.m), Published: math.Round(c.want*1e6) / 1e6, Unit: "T",
			Tolerance: 2e-6, Why: "two factors of six digits", Solve: atOnce(func() float64 {
				return halbachField(c.m, c.length/1000)
			})}.of(source, Worked))
	}
	const m = 64
	factor := math.Sin(2*math.Pi/m) / (2 * math.Pi / m)
	list = append(list, Check{Name: "Halbach ring 100/40 mm, 4 m long, 64 segments, 1.30 T: B in the middle", Published: round(1.3*math.Log(2.5)*factor, 6), Unit: "T",
		Tolerance: 1e-4, Why: "4 m are not endless: 1e-5 to 1e-4", Solve: atOnce(func() float64 { return halbachField(m, 4) })}.of(
		"endless Halbach cylinder Br ln(Ro/Ri): P. Ní Mhíocháin et al. 1999, eq. 1, times sin(2π/M)/(2π/M)", Worked))
	return list
}

// halbachField is B along x in the middle of a Halbach ring of 100/40 mm and a length in metres.
func halbachField(m int, length float64) float64 {
	var s freefield.Sources
	for i := range m {
		half := math.Pi / float64(m)
		angle := 2 * half * float64(i)
		sin, cos := math.Sincos(2 * angle)
		s = append(s, freefield.Magnet{Solid: shape.Wedge{OuterDiameter: 0.100, InnerDiameter: 0.040, Thickness: length, From: angle - half, To: angle + half},
			Place: shape.Placement{Rot: shape.Identity()}, Polarization: r3.Vec{X: 1.3 * cos, Y: 1.3 * sin}})
	}
	return s.B(r3.Vec{}).X
}
