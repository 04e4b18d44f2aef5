package safety

import (
	"math"

	"polewright/material"
)

// MagneticPressure returns B²/2mu0, Pa: the pull on a pole face, per area, in a gap of flux density b (T). 1 T gives 397.9 kPa.
func MagneticPressure(b float64) float64 { return b * b / (2 * material.Mu0) }

// ImpactSpeed returns the speed, m/s, of a free part of mass (kg) that has taken up the energy (J); 0 unless both are above zero.
func ImpactSpeed(energy, mass float64) float64 {
	if !(energy > 0 && mass > 0) {
		return 0
	}
	return math.Sqrt(2 * energy / mass)
}
