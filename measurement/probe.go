package measurement

import (
	"errors"
	"fmt"
	"math"
	"strings"

	"gonum.org/v1/gonum/spatial/r3"

	"polewright/mistake"
	"polewright/quantity"
)

// Probe is the active area of a probe, across the component that it reads; of a magnitude, across an axis that the caller names. The zero value is a
// point.
type Probe struct {
	DiameterM float64    // of a disc; 0: none
	SizeM     [2]float64 // edges of a rectangle, along the two world axes that follow the read one cyclically; 0: none
}

// ErrProbe is a text that names no probe.
var ErrProbe = errors.New(`no active area: write "point", "disc 2 mm" or "rectangle 1 mm x 2 mm"`)

// mostProbeM bounds a probe's active area.
const mostProbeM = 0.1

// ParseProbe reads "point", "disc 2 mm" or "rectangle 1 mm x 2 mm".
func ParseProbe(s string) (Probe, error) {
	shape, rest, _ := strings.Cut(strings.TrimSpace(s), " ")
	length := func(s string) (float64, error) {
		v, err := quantity.Parse(strings.TrimSpace(s), quantity.Length)
		if err != nil {
			what, _ := mistake.Said(err)
			return 0, fmt.Errorf("%w; %s", ErrProbe, what)
		}
		if !(v > 0 && v <= mostProbeM) {
			return 0, fmt.Errorf("%w; an edge is above 0 and up to 100 mm", ErrProbe)
		}
		return v, nil
	}
	switch shape {
	case "point":
		if strings.TrimSpace(rest) == "" {
			return Probe{}, nil
		}
	case "disc":
		d, err := length(rest)
		return Probe{DiameterM: d}, err
	case "rectangle":
		a, b, ok := strings.Cut(rest, " x ")
		if ok {
			x, err := length(a)
			y, err2 := length(b)
			return Probe{SizeM: [2]float64{x, y}}, errors.Join(err, err2)
		}
	}
	return Probe{}, ErrProbe
}

// String is the probe as ParseProbe reads it.
func (p Probe) String() string {
	switch {
	case p.DiameterM > 0:
		return "disc " + quantity.Format(p.DiameterM, "mm", 6)
	case p.SizeM[0] > 0:
		return "rectangle " + quantity.Format(p.SizeM[0], "mm", 6) + " x " + quantity.Format(p.SizeM[1], "mm", 6)
	}
	return "point"
}

// Place is a point of a quadrature rule.
type Place struct {
	Offset r3.Vec // m
	Weight float64
}

// Rule averages over the active area of a probe across a world axis: sum of weight times value at the centre plus offset, exact for polynomials of
// degree 5. Disc: M. Abramowitz, I. A. Stegun, Handbook of Mathematical Functions, 25.4.61, seven points (from memory, and checked on monomials).
// Rectangle: Gauss's rule of 3 x 3.
func (p Probe) Rule(axis int) []Place {
	at := func(u, v, weight float64) Place {
		var o [3]float64
		o[(axis+1)%3], o[(axis+2)%3] = u, v
		return Place{r3.Vec{X: o[0], Y: o[1], Z: o[2]}, weight}
	}
	switch {
	case p.DiameterM > 0:
		r := math.Sqrt(2./3) * p.DiameterM / 2
		list := []Place{at(0, 0, 0.25)}
		for k := range 6 {
			sin, cos := math.Sincos(math.Pi / 3 * float64(k))
			list = append(list, at(r*cos, r*sin, 0.125))
		}
		return list
	case p.SizeM[0] > 0:
		var list []Place
		x, w := [3]float64{-math.Sqrt(0.6), 0, math.Sqrt(0.6)}, [3]float64{5. / 18, 8. / 18, 5. / 18}
		for i := range 3 {
			for j := range 3 {
				list = append(list, at(x[i]*p.SizeM[0]/2, x[j]*p.SizeM[1]/2, w[i]*w[j]))
			}
		}
		return list
	}
	return []Place{{Weight: 1}}
}
