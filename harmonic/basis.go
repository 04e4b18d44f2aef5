package harmonic

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"
)

// Parity is what a potential does when mirrored at the plane through the centre across an axis.
type Parity int8

// The potential keeps its value (Even) or changes its sign (Odd).
const (
	Odd  Parity = -1
	None Parity = 0
	Even Parity = 1
)

// Allowed lists the places of the harmonics up to a degree that the parities for each world axis let through, without the constant of an
// irregular expansion: no body has a net charge.
func (e *Expansion) Allowed(parity [3]Parity) (terms []int) {
	var p [3]Parity // of the frame's axes
	for k := range p {
		p[k] = parity[(e.Polar+1+k)%3]
	}
	sign := func(n int) Parity { return Parity(1 - 2*(n&1)) }
	fits := func(wanted, has Parity) bool { return wanted == None || wanted == has }
	for l := range e.Degree + 1 {
		for m := range l + 1 {
			for part := range min(m, 1) + 1 {
				// Mirrored across w: (-1)^(l+m). Across v: the sine changes sign. Across u: the azimuth becomes pi minus itself.
				flip := Parity(1 - 2*part)
				if l == 0 && e.Irregular || !fits(p[2], sign(l+m)) || !fits(p[1], flip) || !fits(p[0], sign(m)*flip) {
					continue
				}
				terms = append(terms, Index(l, m)+part)
			}
		}
	}
	return terms
}

// Basis evaluates the harmonics of the expansion's degree at a way d (m) from its centre, in world axes, into out, which holds Count(Degree) numbers.
func (e *Expansion) Basis(d r3.Vec, out []float64) {
	f := frame(e.Polar, r3.Scale(1/e.Scale, d))
	basis(e.Degree, e.Irregular, f, out)
}

func basis(degree int, irregular bool, d [3]float64, out []float64) {
	Values(degree, d[0], d[1], d[2], out)
	if !irregular {
		return
	}
	r2 := d[0]*d[0] + d[1]*d[1] + d[2]*d[2]
	g := 1 / math.Sqrt(r2)
	for l := range degree + 1 {
		for i := l * l; i < (l+1)*(l+1); i++ {
			out[i] *= g
		}
		g /= r2
	}
}

// With is the expansion with the given coefficients (A) of the harmonics in the given places, all others zero.
func (e *Expansion) With(terms []int, c []float64) *Expansion {
	all := make([]float64, Count(e.Degree))
	for k, j := range terms {
		all[j] = c[k]
	}
	return newExpansion(*e, all)
}

// Direction is the i-th of n directions that cover the sphere evenly, on a spiral of golden angles.
func Direction(i, n int) r3.Vec {
	z := 1 - (2*float64(i)+1)/float64(n)
	s, c := math.Sincos(math.Pi * (3 - math.Sqrt(5)) * float64(i))
	r := math.Sqrt(1 - z*z)
	return r3.Vec{X: r * c, Y: r * s, Z: z}
}

// NearestAxis is the world axis 0, 1 or 2 to which a vector lies nearest.
func NearestAxis(v r3.Vec) int {
	axis, most := 0, -1.0
	for k, c := range [3]float64{v.X, v.Y, v.Z} {
		if math.Abs(c) > most*(1+1e-6) {
			axis, most = k, math.Abs(c)
		}
	}
	return axis
}
