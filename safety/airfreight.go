package safety

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"

	"polewright/material"
)

// DipoleReach returns the distances, m, on the axis and beside it, at which a dipole of moment m (A·m²) has the flux density
// limit (T): r³ = mu0 m/(2π limit) and half of that. Both are 0 unless the limit is above zero. For a magnet they are good to a few
// per cent beyond five times its largest dimension.
func DipoleReach(m, limit float64) (axis, side float64) {
	if !(limit > 0) {
		return 0, 0
	}
	r3 := material.Mu0 * math.Abs(m) / (2 * math.Pi * limit)
	return math.Cbrt(r3), math.Cbrt(r3 / 2)
}

// AirClass is how a package goes by air.
type AirClass int

const (
	AirNotRegulated AirClass = iota // below 0.159 A/m at 2.1 m
	AirDeclared                     // magnetized material, to be declared and packed by the book
	AirForbidden                    // above 0.418 A/m at 4.6 m
)

func (c AirClass) String() string {
	switch c {
	case AirNotRegulated:
		return "not regulated as magnetized material"
	case AirDeclared:
		return "magnetized material, to be declared"
	default:
		return "forbidden by air"
	}
}

// AirFreight returns the class of a package of moment m (A·m²) by the tests of the IATA Dangerous Goods Regulations, packing
// instruction 953, and 49 CFR 173.21(d), and the field strengths, A/m, at 2.1 m and 4.6 m in the worst direction, the
// dipole's axis: H = m/(2π r³). A moment that is not a number is forbidden.
func AirFreight(m float64) (class AirClass, at2m1, at4m6 float64) {
	h := func(r float64) float64 { return math.Abs(m) / (2 * math.Pi * r * r * r) }
	at2m1, at4m6 = h(airDeclaredM), h(airForbiddenM)
	return airClass(at2m1, at4m6), at2m1, at4m6
}

// airClass judges field strengths, A/m, at 2.1 m and 4.6 m.
func airClass(at2m1, at4m6 float64) AirClass {
	switch {
	case at2m1 < airDeclaredApm:
		return AirNotRegulated
	case at4m6 <= airForbiddenApm:
		return AirDeclared
	default:
		return AirForbidden
	}
}

// FarField returns the flux density, T, at a point p (m) from the centre of a dipole m (A·m²) and a quadrupole Q (A·m³, symmetric, without
// trace): with n = p/r and the potential (m·n/r² + n·Q·n/(2r³))/4π,
//
//	B = mu0/4π [ (3 n (m·n) - m)/r³ + (5/2 n (n·Q·n) - Q·n)/r⁴ ]
//
// (J. D. Jackson, Classical Electrodynamics, sections 4.1 and 5.6). Of an assembly it is good to its size over r, squared. At p = 0 it is not
// a number.
func FarField(m r3.Vec, q [3][3]float64, p r3.Vec) r3.Vec {
	r := r3.Norm(p)
	n := r3.Scale(1/r, p)
	qn := r3.Vec{
		X: q[0][0]*n.X + q[0][1]*n.Y + q[0][2]*n.Z,
		Y: q[1][0]*n.X + q[1][1]*n.Y + q[1][2]*n.Z,
		Z: q[2][0]*n.X + q[2][1]*n.Y + q[2][2]*n.Z,
	}
	dipole := r3.Sub(r3.Scale(3*r3.Dot(m, n), n), m)
	quadrupole := r3.Sub(r3.Scale(2.5*r3.Dot(n, qn), n), qn)
	return r3.Scale(material.Mu0/(4*math.Pi*r*r*r), r3.Add(dipole, r3.Scale(1/r, quadrupole)))
}

// Air is how an assembly goes by air, as it is, in a package that adds nothing.
type Air struct {
	Class     AirClass   `json:"class"`
	At2m1Apm  float64    `json:"at_2m1_A_per_m"` // over all directions; limit 0.159 A/m
	At4m6Apm  float64    `json:"at_4m6_A_per_m"` // limit 0.418 A/m
	Direction [3]float64 `json:"direction"`      // of the largest at 2.1 m
	WhatToDo  string     `json:"what_to_do"`
}

// MarshalText writes the class as its words.
func (c AirClass) MarshalText() ([]byte, error) { return []byte(c.String()), nil }

// AirFreightOf judges a dipole m (A·m²) with a quadrupole q (A·m³) about the middle of the assembly by the tests of [AirFreight]. The distances
// count from the middle, not from the package, which is the careful side. The largest over all directions is found within 0.02 %.
func AirFreightOf(m r3.Vec, q [3][3]float64) Air {
	const directions = 8000 // 1.3 degrees apart; a maximum falls by less than 2e-4 in half of that
	var a Air
	for i := range directions {
		sin, cos := math.Sincos(2 * math.Pi * math.Mod(float64(i)*(math.Sqrt(5)-1)/2, 1))
		z := 1 - (2*float64(i)+1)/directions
		ring := math.Sqrt(1 - z*z)
		a.meet(m, q, r3.Vec{X: ring * cos, Y: ring * sin, Z: z})
	}
	for _, n := range []r3.Vec{{X: 1}, {Y: 1}, {Z: 1}, m} { // where symmetry puts it, to the last digit
		if size := r3.Norm(n); size > 0 {
			a.meet(m, q, r3.Scale(1/size, n))
			a.meet(m, q, r3.Scale(-1/size, n))
		}
	}
	a.Class = airClass(a.At2m1Apm, a.At4m6Apm)
	if r3.Norm(m)-r3.Norm(m) != 0 { // not a number, or without end
		a.Class = AirForbidden
	}
	a.WhatToDo = a.Class.advice()
	return a
}

// meet takes a direction into account.
func (a *Air) meet(m r3.Vec, q [3][3]float64, n r3.Vec) {
	h := func(r float64) float64 { return r3.Norm(FarField(m, q, r3.Scale(r, n))) / material.Mu0 }
	if v := h(airDeclaredM); v > a.At2m1Apm*(1+1e-12) {
		a.At2m1Apm, a.Direction = v, [3]float64{n.X, n.Y, n.Z}
	}
	a.At4m6Apm = math.Max(a.At4m6Apm, h(airForbiddenM))
}

// advice says what to do with a package of a class. UN number and label are from memory.
func (c AirClass) advice() string {
	const less = "a keeper across the gap, two assemblies turned against each other, or a box lined with steel"
	switch c {
	case AirNotRegulated:
		return "Nothing is asked of the package by these tests. Keep this sheet with it, and ask the carrier all the same."
	case AirDeclared:
		return "By air: declare it as magnetized material (UN 2807, packing instruction 953), label it, keep it from compasses, and let the carrier agree first. " +
			"Or bring it below 0.159 A/m at 2.1 m by " + less + ". Or send it by road or sea. Measure the package: these figures are computed without it."
	default:
		return "It may not fly as it is: send it by road or sea, or bring it below 0.418 A/m at 4.6 m by " + less +
			", measure the package, and declare it then as magnetized material (UN 2807, packing instruction 953)."
	}
}
