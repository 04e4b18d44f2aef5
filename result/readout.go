package result

import (
	"errors"
	"math"

	"gonum.org/v1/gonum/spatial/r3"
)

// Constants of the CODATA 2022 adjustment (Mohr, Newell, Taylor, Tiesinga; physics.nist.gov/constants). Those of the electron's resonance
// and the alpha particle's mass are from memory.
const (
	ProtonHzPerT         = 42.577478461e6 // free proton, gamma_p/(2 pi)
	ShieldedProtonHzPerT = 42.57638543e6  // proton in water, spherical sample at 25 degC
	ElectronHzPerT       = 28.0249513861e9
	LightSpeed           = 299792458.0     // m/s, exact
	ElementaryCharge     = 1.602176634e-19 // C, exact
	ElectronMassEV       = 0.51099895069e6 // rest energies, eV
	ProtonMassEV         = 938.27208943e6
	AlphaMassEV          = 3727.3794118e6
)

// mu0 is the magnetic constant as everywhere in this module, T m/A.
const mu0 = 4e-7 * math.Pi

// Water at 20 degC: volume susceptibility in SI units and density (CRC Handbook of Chemistry and Physics, from memory).
const (
	WaterSusceptibility = -9.035e-6
	WaterDensity        = 998.2 // kg/m3
)

// Particle is a charged particle.
type Particle struct {
	Name    string
	RestEV  float64
	Charges float64 // elementary charges
}

// Particles are those whose radius is read out.
func Particles() []Particle {
	return []Particle{{"electron", ElectronMassEV, 1}, {"proton", ProtonMassEV, 1}, {"alpha", AlphaMassEV, 2}}
}

// Radius is that of the circle (m) of a particle of a kinetic energy (eV) across a field (T), relativistic:
//
//	r = p/(q B),   p c = sqrt(T (T + 2 m c^2))
func (p Particle) Radius(kineticEV, b float64) (float64, error) {
	if !(kineticEV > 0) || !(b > 0) || math.IsInf(kineticEV, 1) {
		return 0, errors.New("the radius of a particle needs a kinetic energy and a field above zero")
	}
	return math.Sqrt(kineticEV*(kineticEV+2*p.RestEV)) / (LightSpeed * p.Charges * b), nil
}

// Levitation is the magnetic force on a weak magnetic material over its weight, for grad B^2 (T2/m) along the vertical:
// chi/(2 mu0) grad B^2/(rho g), positive upwards.
func Levitation(susceptibility, density, gradB2 float64) float64 {
	const gravity = 9.80665
	return susceptibility / (2 * mu0) * gradB2 / (density * gravity)
}

// HallError is by how much a square sensor of the given edge across a direction u reads more than the field's component at its centre, T:
// the mean over its area less the value in the middle, by Gauss's rule of 5 x 5 points.
func HallError(field func(r3.Vec) r3.Vec, at, u r3.Vec, edge float64) float64 {
	side := r3.Vec{X: 1}
	if math.Abs(u.X) > 0.6 {
		side = r3.Vec{Y: 1}
	}
	p := r3.Unit(r3.Cross(u, side))
	q := r3.Cross(u, p)
	x, w := legendre(5, -edge/2, edge/2)
	var mean float64
	for i := range x {
		for j := range x {
			mean += w[i] * w[j] / (edge * edge) * r3.Dot(u, field(r3.Add(at, r3.Add(r3.Scale(x[i], p), r3.Scale(x[j], q)))))
		}
	}
	return mean - r3.Dot(u, field(at))
}
