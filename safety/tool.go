package safety

import (
	"errors"
	"fmt"
	"math"

	"gonum.org/v1/gonum/integrate/quad"

	"polewright/material"
)

// Tool is a loose piece of solid steel: a spanner, a screw, a bar. It is taken as the spheroid of its length and volume,
// lying along the field, which is the way it turns if it can and the way it is pulled hardest.
type Tool struct {
	Name           string
	Length         float64 // of its steel, m, along the field
	MassKg         float64 // of its steel
	OtherKg        float64 // of what is no steel, a handle: it weighs and is not pulled
	DensityKgPerM3 float64 // of its steel
	SaturationT    float64 // saturation polarization Js, T
}

// Tools returns what is likely to lie on a bench. Sizes are round figures of the trade: common practice, no source.
// Density is that of plain steel. The saturation is that of low-carbon steel, the upper end (2.05 to 2.15 T, from memory), so that hardened
// tools are pulled rather less; that of scissors is stainless blade steel's (1.6 T, from memory).
func Tools() []Tool {
	const density, plain = 7850, 2.15
	return []Tool{
		{Name: "bolt M10 x 50, 40 g", Length: 0.056, MassKg: 0.040, DensityKgPerM3: density, SaturationT: plain},
		{Name: "spanner, 150 mm, 0.15 kg", Length: 0.150, MassKg: 0.150, DensityKgPerM3: density, SaturationT: plain},
		{Name: "screwdriver, blade 6 x 100 mm, 55 g", Length: 0.120, MassKg: 0.0266, OtherKg: 0.0284, DensityKgPerM3: density, SaturationT: plain},
		{Name: "pair of scissors, 150 mm, 75 g", Length: 0.150, MassKg: 0.075, DensityKgPerM3: 7750, SaturationT: 1.6},
		{Name: "screw M6 x 20, 6.5 g", Length: 0.024, MassKg: 0.0065, DensityKgPerM3: density, SaturationT: plain},
		{Name: "bar, 20 mm round, 200 mm, 0.49 kg", Length: 0.200, MassKg: 0.493, DensityKgPerM3: density, SaturationT: plain},
	}
}

// Volume is the steel's volume, m3.
func (t Tool) Volume() float64 { return t.MassKg / t.DensityKgPerM3 }

// WeightN is the tool's weight, N, with what is no steel.
func (t Tool) WeightN() float64 { return (t.MassKg + t.OtherKg) * standardGravityMps2 }

// Diameter is that of the spheroid of the tool's length and volume, m.
func (t Tool) Diameter() float64 { return math.Sqrt(6 * t.Volume() / (math.Pi * t.Length)) }

// Check says whether the tool can be computed with.
func (t Tool) Check() error {
	for _, q := range []struct {
		name, unit string
		v          float64
	}{{"length", "m", t.Length}, {"mass", "kg", t.MassKg}, {"density", "kg/m3", t.DensityKgPerM3}, {"saturation", "T", t.SaturationT}} {
		if !(q.v > 0) || math.IsInf(q.v, 1) {
			return fmt.Errorf("tool %q: the %s must be above zero, not %g %s", t.Name, q.name, q.v, q.unit)
		}
	}
	if !(t.OtherKg >= 0) || math.IsInf(t.OtherKg, 1) {
		return fmt.Errorf("tool %q: the mass of what is no steel must be zero or more, not %g kg", t.Name, t.OtherKg)
	}
	return nil
}

// DemagnetizingFactor returns N along the axis of revolution of a spheroid whose length is ratio times its diameter,
// from 1 (flat plate, ratio 0) through 1/3 (sphere) to 0 (long needle). The ratio must be at least 0; otherwise it is NaN.
//
// J. A. Osborn, Phys. Rev. 67 (1945) 351: prolate, ratio m > 1,
//
//	N = 1/(m²-1) [ m/(2√(m²-1)) ln((m+√(m²-1))/(m-√(m²-1))) - 1 ]
//
// and oblate, m < 1,
//
//	N = 1/(1-m²) [ 1 - m/√(1-m²) arccos m ].
func DemagnetizingFactor(ratio float64) float64 {
	m := ratio
	switch {
	case !(m >= 0):
		return math.NaN()
	case math.IsInf(m, 1):
		return 0
	case math.Abs(m-1) < 1e-3:
		// Both forms lose all digits here; this is their series about the sphere, good to 1e-9.
		e := m - 1
		return 1./3 - 4./15*e + 6./35*e*e
	case m > 1e6:
		return (math.Log(2*m) - 1) / m / m // the limit of a needle; m² would lose the root
	case m > 1:
		s := math.Sqrt(m*m - 1)
		return (m/s*math.Log(m+s) - 1) / (m*m - 1) // ln((m+s)/(m-s)) = 2 ln(m+s)
	default:
		return (1 - m/math.Sqrt(1-m*m)*math.Acos(m)) / (1 - m*m)
	}
}

// magnetization is that of the spheroid in a field of flux density b (T), A/m: B/(mu0 N), the limit of a high
// permeability, until the steel is saturated.
func (t Tool) magnetization(b float64) float64 {
	n := DemagnetizingFactor(t.Length / t.Diameter())
	return min(math.Abs(b)/(material.Mu0*n), t.SaturationT/material.Mu0)
}

// LoosePull returns the pull, N, on the tool in a field of flux density b (T) that changes by gradient (T/m) along itself: F = V M dB/dr, with M from
// the demagnetizing factor or saturated. The field is taken as even enough along the tool; close to a magnet, where it is not, use [Tool.PullAt].
func (t Tool) LoosePull(b, gradient float64) float64 {
	return t.Volume() * t.magnetization(b) * math.Abs(gradient)
}

// PullAt returns the pull, N, on the tool that points at the magnet with its near end at the distance r (m) along a line on which
// |B| is field (T). Field and gradient are means over the spheroid, weighted by its section 1-s², s = -1 … 1:
//
//	B = 3/4 ∫ (1-s²) B ds,   dB/dr = 3/L ∫ s B ds
//
// the second by parts, so that the field is never differentiated. For a field even along the tool it is [Tool.LoosePull].
func (t Tool) PullAt(field func(r float64) float64, r float64) float64 {
	half := t.Length / 2
	var mean, slope float64
	for i, s := range gauss.s {
		b := gauss.w[i] * field(r+half*(1+s))
		mean += 0.75 * (1 - s*s) * b
		slope += 3 / t.Length * s * b
	}
	return t.LoosePull(mean, slope)
}

// gauss is the rule of Gauss and Legendre of 24 points on [-1, 1].
var gauss = func() (g struct{ s, w [24]float64 }) {
	quad.Legendre{}.FixedLocations(g.s[:], g.w[:], -1, 1)
	return g
}()

// SlideFriction is the part of its weight at which a tool begins to slide on a smooth bench: common practice, no source.
// A dry bench holds two or three times more.
const SlideFriction = 0.2

// ToolReach returns the largest distance r in [from, to], m, of the tool's near end from the magnet at which the pull is
// the given part of its weight: 1 lifts it, [SlideFriction] starts it sliding. field gives |B| (T) along the line for
// distances up to to plus the tool's length. It returns 0 when the pull is less throughout; errors are those of [Reach].
func ToolReach(field func(r float64) float64, t Tool, part, from, to float64) (float64, error) {
	if field == nil {
		return 0, errors.New("tool reach: no field was given; give |B| as a function of the distance")
	}
	if err := t.Check(); err != nil {
		return 0, err
	}
	if !(part > 0) {
		return 0, fmt.Errorf("tool reach: the part of the weight must be above zero (1 lifts, %g slides), not %g", SlideFriction, part)
	}
	return Reach(func(r float64) float64 { return t.PullAt(field, r) }, part*t.WeightN(), from, to)
}
