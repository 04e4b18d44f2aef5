package circuit

import (
	"math"

	"polewright/material"
)

// This file holds magnets that face the gap. A magnet is two sheets of charge, +J and -J on its faces (J in T, recoil apart), and steel is a
// wall of zero potential: the sheet on a back plate meets its own image and vanishes, the sheet at the gap has images behind the plates and
// behind the legs (J. C. Maxwell's method of images; J. D. Jackson, Classical Electrodynamics, chapter 2).

// share is the part 1/2 to 0 of its charge that a face sends along the axis through its middle at the distance z >= 0: the solid angle over
// 4 pi. For a disc it is (1 - z/sqrt(z^2+R^2))/2, for a rectangle whose middle lies y0 beside the axis the sum of arctangents over its corners.
func (f Face) share(z, y0 float64) float64 {
	if z <= 0 {
		if math.Abs(y0) < f.alongY()/2 {
			return 0.5
		}
		return 0
	}
	if f.Diameter > 0 {
		if y0 == 0 {
			return (1 - z/math.Hypot(z, f.Diameter/2)) / 2
		}
		// Beside the axis a disc is as the square of its area: only images lie there.
		edge := math.Sqrt(f.Area())
		f = Face{X: edge, Y: edge}
	}
	x := f.X / 2
	corner := func(y float64) float64 { return math.Atan(x * y / (z * math.Sqrt(x*x+y*y+z*z))) }
	return (corner(y0+f.Y/2) - corner(y0-f.Y/2)) / (2 * math.Pi)
}

// terms of the sums of images: behind the plates one by one and the rest as an integral; behind the legs the last one counts half, as the signs
// alternate.
const (
	alongTerms  = 3
	acrossTerms = 6
	discTerms   = 60
)

// sheets gives mu0 H/J on the axis at the height z from the middle plane, of the sheets at the gap with all images.
func (a Assembly) sheets(z float64) float64 {
	if a.Yoke == Pot {
		return a.potSheets(z)
	}
	sum := 0.0
	add := func(weight, y0 float64) {
		// +J stands at n H - g/2, -J at n H + g/2, H the height between the plates.
		one := func(at, charge float64) {
			sum += weight * charge * math.Copysign(a.Face.share(math.Abs(z-at), y0), z-at)
		}
		height := a.Gap + 2*a.Thickness
		n := alongTerms
		if a.Yoke != Open { // pairs from n H on: H sum(share(nH - g/2) - share(nH + g/2)) is about g share((n + 1/2)H)
			rest := (float64(n) + 0.5) * height
			sum -= weight * a.Gap / height * (a.Face.share(rest-z, y0) + a.Face.share(rest+z, y0))
		}
		if a.Yoke == Open {
			n = 0
		}
		for i := -n; i <= n; i++ {
			one(float64(i)*height-a.Gap/2, 1)
			one(float64(i)*height+a.Gap/2, -1)
		}
		if a.Yoke == Open { // the back faces have no plate
			one(-height/2, -1)
			one(height/2, 1)
		}
	}
	add(1, 0)
	width := a.Face.alongY() + 2*a.Side
	switch a.Yoke {
	case Box: // walls at both sides
		for m := 1; m <= acrossTerms; m++ {
			weight := 2.0
			if m%2 == 1 {
				weight = -2
			}
			if m == acrossTerms {
				weight /= 2
			}
			add(weight, float64(m)*width)
		}
	case C:
		add(-1, width)
	}
	return sum
}

// potSheets is the same within a round wall of zero potential: a sum over the zeros j of J0, of the sheet 2R J1(j R/a)/(j a J1(j)^2) J0(j r/a)
// (Jackson, section 3.7), each term a slab between plates.
func (a Assembly) potSheets(z float64) float64 {
	wall := a.Face.Diameter/2 + a.Side
	if a.Side == 0 {
		wall *= 1 + 1e-9
	}
	h, z0 := a.Gap/2+a.Thickness, a.Gap/2
	sum := 0.0
	z = math.Abs(z)
	for n := 1; n <= discTerms; n++ {
		j := zerosJ0[n-1]
		k := j.at / wall
		if n > 1 && k*math.Min(math.Abs(z-z0), math.Abs(z+z0)) > 20 {
			break // what follows is below 1e-8
		}
		c := a.Face.Diameter * math.J1(k*a.Face.Diameter/2) / (j.at * wall * j.slope2)
		var term float64
		if z <= z0 { // sinh(k(h-z0)) cosh(kz)/sinh(kh), without overflow
			term = math.Exp(-k*(z0-z)) * (1 - math.Exp(-2*k*(h-z0))) * (1 + math.Exp(-2*k*z)) / (2 * (1 - math.Exp(-2*k*h)))
		} else { // -sinh(k z0) cosh(k(h-z))/sinh(kh)
			term = -math.Exp(-k*(z-z0)) * (1 - math.Exp(-2*k*z0)) * (1 + math.Exp(-2*k*(h-z))) / (2 * (1 - math.Exp(-2*k*h)))
		}
		sum += c * term
	}
	return sum
}

// zerosJ0 are the zeros of the Bessel function J0 and the squares of its slopes there, J1 squared.
var zerosJ0 = func() (list [discTerms]struct{ at, slope2 float64 }) {
	for i := range list {
		list[i].at = zeroJ0(i + 1)
		list[i].slope2 = square(math.J1(list[i].at))
	}
	return list
}()

// zeroJ0 is the n-th zero of the Bessel function J0: McMahon's first terms (Abramowitz and Stegun 9.5.12) and Newton's method.
func zeroJ0(n int) float64 {
	x := (float64(n) - 0.25) * math.Pi
	x += 1 / (8 * x)
	for range 4 {
		x += math.J0(x) / math.J1(x)
	}
	return x
}

func square(x float64) float64 { return x * x }

// facing is a half with a magnet that faces the gap.
type facing struct {
	a          Assembly
	j          float64 // T, the magnet's polarization with its recoil
	gap        float64 // T, with an ideal yoke
	n          float64 // -mu0 H/J in the middle of the magnet
	legs, back float64 // Wb, with an ideal yoke
	lost       float64 // Wb/A by which both fall with the force that the yoke takes
	slope      float64 // T/A by which the gap field falls with it
}

func (a Assembly) faces() *facing {
	f := &facing{a: a}
	if a.Yoke == Plate {
		f.single()
		return f
	}
	middle := (a.Gap + a.Thickness) / 2
	f.n = -a.sheets(middle)
	f.j = a.Remanence / (1 + (a.Recoil-1)*f.n)
	f.gap = f.j * a.sheets(0)
	if a.Yoke == Open {
		f.back = f.j * (1 - f.n) * a.Face.Area()
		f.legs = f.back
		return f
	}
	height := a.Gap/2 + a.Thickness/a.Recoil
	behind := f.j * (1 + a.sheets(a.Gap/2+a.Thickness))
	f.back = behind * a.Face.Area()
	// What leaves the magnet's sides and comes back to its own plate does not pass the legs.
	face := f.n * f.j / material.Mu0 * a.Thickness // A, of the face over the plate
	side := a.sides()
	f.legs = max(f.back-face*side.plate, f.gap*a.Face.Area())
	inside := a.Depth * (a.Face.alongY() + 2*a.Side)
	if a.Yoke == Pot {
		inside = math.Pi * square(a.Face.Diameter/2+a.Side)
	}
	f.slope = material.Mu0 / height
	f.lost = f.slope*inside + a.outside()
	return f
}

// single is one magnet on a plate. An infinite plate makes it a free magnet of twice the thickness; of that the plate has the share of the
// image's field lines that end within its edges, 1 - t/sqrt(t^2+R^2) with the circle of the plate's area (the charge that a point induces on a
// plane, Jackson section 2.1).
func (f *facing) single() {
	a := f.a
	free := func(at, thickness float64) float64 { // mu0 H/J at a height over the face
		front := math.Copysign(a.Face.share(math.Abs(at), 0), at)
		return front - a.Face.share(at+thickness, 0)
	}
	radius := math.Sqrt(a.PlateX * a.PlateY / math.Pi)
	plate := 1 - a.Thickness/math.Hypot(a.Thickness, radius)
	both := func(at float64) float64 {
		return free(at, a.Thickness) + plate*(free(at, 2*a.Thickness)-free(at, a.Thickness))
	}
	f.n = -both(-a.Thickness / 2)
	f.j = a.Remanence / (1 + (a.Recoil-1)*f.n)
	f.gap = f.j * both(a.Gap/2)
	f.back = f.j * (1 - f.n) * a.Face.Area()
	f.legs = f.back
}

func (f *facing) at(drop float64) Working {
	h := -f.n*f.j/material.Mu0 - drop*f.slope/(material.Mu0*f.a.Recoil)
	w := Working{GapT: f.gap - drop*f.slope, MagnetH: h, MagnetT: f.a.Remanence + material.Mu0*f.a.Recoil*h}
	w.GapWb = w.GapT * f.a.Face.Area()
	_, w.MagnetWb = f.fluxes(drop)
	w.Even = f.even
	return w
}

func (f *facing) fluxes(drop float64) (legs, back float64) {
	return f.legs - drop*f.lost, f.back - drop*f.slope*f.a.Face.Area() - drop*(f.lost-f.slope*f.a.Face.Area())
}

// even takes the curvature on the axis: where it is a second order term c z^2, the field is higher by c r^2 at the poles of the sphere and
// lower by half of it at its equator.
func (f *facing) even(radius float64) float64 {
	if f.a.Yoke == Plate { // a gradient: from one side of the sphere to the other
		near, far := f.a, f.a
		near.Gap, far.Gap = max(f.a.Gap-2*radius, 0), f.a.Gap+2*radius
		a, b := &facing{a: near}, &facing{a: far}
		a.single()
		b.single()
		return (a.gap - b.gap) / f.gap
	}
	return 1.5 * math.Abs(f.a.sheets(radius)/f.a.sheets(0)-1)
}
