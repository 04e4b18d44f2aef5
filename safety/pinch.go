package safety

import (
	"errors"
	"fmt"
	"math"

	"gonum.org/v1/gonum/integrate/quad"

	"polewright/material"
)

// MagneticPressure returns B²/2mu0, Pa: the pull on a pole face, per area, in a gap of flux density b (T). 1 T gives 397.9 kPa.
func MagneticPressure(b float64) float64 { return b * b / (2 * material.Mu0) }

// PinchEnergy returns the energy, J, set free when two parts close from the gap open to the gap closed (m), open > closed ≥ 0:
// the integral of the force (N, positive when it closes the gap) over the travel.
//
// The rule is Gauss-Legendre of 64 points in a variable that is dense at small gaps; a force that falls as the gap to
// the power -1 to -4 over a hundredfold of gap comes out to 1e-6.
func PinchEnergy(force func(gap float64) float64, closed, open float64) (float64, error) {
	if force == nil {
		return 0, errors.New("pinch energy: no force was given; give the force as a function of the gap")
	}
	if !(0 <= closed && closed < open) || math.IsInf(open, 1) {
		return 0, fmt.Errorf("pinch energy: the gap must close, 0 ≤ closed < open, not from %g m to %g m", open, closed)
	}
	// gap = (closed+s) e^u - s with a small s keeps a closed gap of zero in range.
	s := open / 1000
	top := math.Log((open + s) / (closed + s))
	e := quad.Fixed(func(u float64) float64 {
		stretched := (closed + s) * math.Exp(u)
		return force(stretched-s) * stretched
	}, 0, top, 64, quad.Legendre{}, 1)
	if math.IsNaN(e) || math.IsInf(e, 0) {
		return 0, fmt.Errorf("pinch energy: the force is not known everywhere between %g m and %g m", closed, open)
	}
	return e, nil
}

// ImpactSpeed returns the speed, m/s, of a free part of mass (kg) that has taken up the energy (J); 0 unless both are above zero.
func ImpactSpeed(energy, mass float64) float64 {
	if !(energy > 0 && mass > 0) {
		return 0
	}
	return math.Sqrt(2 * energy / mass)
}
