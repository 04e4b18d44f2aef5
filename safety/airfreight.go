package safety

import (
	"math"

	"polewright/material"
)

// Moment returns the magnetic moment Br V/mu0, A·m², of a magnet of remanence (T) and volume (m3). Moments of several
// magnets add as vectors; a closed yoke leaves a small part of their sum.
func Moment(remanence, volume float64) float64 { return remanence * volume / material.Mu0 }

// DipoleAxisT returns |B|, T, at the distance r (m) from a dipole of moment m (A·m²) on its axis, mu0 m/(2π r³); beside it, it is
// half as much. For a magnet it is good to a few per cent beyond five times its largest dimension.
func DipoleAxisT(m, r float64) float64 {
	return material.Mu0 * math.Abs(m) / (2 * math.Pi * r * r * r)
}

// DipoleReach returns the distances, m, on the axis and beside it, at which a dipole of moment m (A·m²) has the flux density
// limit (T): r³ = mu0 m/(2π limit) and half of that. Both are 0 unless the limit is above zero.
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
	switch {
	case at2m1 < airDeclaredApm:
		class = AirNotRegulated
	case at4m6 <= airForbiddenApm:
		class = AirDeclared
	default:
		class = AirForbidden
	}
	return class, at2m1, at4m6
}
