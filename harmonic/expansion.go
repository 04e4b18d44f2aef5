package harmonic

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"
)

// MaxDegree is the highest degree of a potential that an Expansion may have.
const MaxDegree = 20

// mu0 is the magnetic constant 4 pi 1e-7 T m/A, as everywhere in this module.
const mu0 = 4e-7 * math.Pi

// Expansion is a field in free space given by solid harmonics about a centre: of its potential phi (A),
//
//	phi = sum c(l,m) R(l,m)(d/a)           within a ball
//	phi = sum c(l,m) S(l,m)(d/a)           outside one
//
// with d the way from the centre in the frame whose third axis is the polar axis, and a the scale of length. It does not change once made.
type Expansion struct {
	Center    r3.Vec
	Scale     float64 // a, m
	Degree    int     // of the potential; that of the field is one less within a ball, one more outside
	Polar     int     // world axis 0, 1, 2 of the polar angle; azimuth counts from the next axis cyclically
	Irregular bool    // holds outside a ball
	Reach     float64 // radius of the ball within, or outside which, it holds, m
	// MisfitRMS and MisfitMax are how far the potentials of a fit lie from the expansion's, times mu0 over the scale of length, T.
	MisfitRMS, MisfitMax float64
	// Noise is how far the fields of two fits with half of the data each lie apart, halved, as root of the mean square over the sphere of
	// the wanted radius: what the scatter of the data leaves uncertain, T.
	Noise float64

	c []float64    // A
	b [3][]float64 // T, of the components of B in the frame
}

// newExpansion completes an expansion with its coefficients.
func newExpansion(e Expansion, c []float64) *Expansion {
	e.c = c
	e.b = derivatives(e.Degree, c, e.Irregular)
	for k := range e.b {
		for i := range e.b[k] {
			e.b[k][i] *= -mu0 / e.Scale
		}
	}
	return &e
}

// frame and world turn a vector between world axes and the frame whose third axis is the polar one.
func frame(polar int, v r3.Vec) [3]float64 {
	a := [3]float64{v.X, v.Y, v.Z}
	return [3]float64{a[(polar+1)%3], a[(polar+2)%3], a[polar]}
}

func world(polar int, f [3]float64) r3.Vec {
	var a [3]float64
	a[(polar+1)%3], a[(polar+2)%3], a[polar] = f[0], f[1], f[2]
	return r3.Vec{X: a[0], Y: a[1], Z: a[2]}
}

// evaluate sums three series of one degree at a point.
func (e *Expansion) evaluate(p r3.Vec, degree int, c *[3][]float64) (f [3]float64) {
	d := frame(e.Polar, r3.Scale(1/e.Scale, r3.Sub(p, e.Center)))
	var store [(MaxDegree + 4) * (MaxDegree + 4)]float64
	val := store[:Count(degree)]
	basis(degree, e.Irregular, d, val)
	for k := range 3 {
		for i, v := range val {
			f[k] += c[k][i] * v
		}
	}
	return f
}

// fieldDegree is the degree of the components of B.
func (e *Expansion) fieldDegree() int {
	if e.Irregular {
		return e.Degree + 1
	}
	return max(e.Degree-1, 0)
}

// Field gives B (T) at a point within the ball, or outside it.
func (e *Expansion) Field(p r3.Vec) r3.Vec {
	return world(e.Polar, e.evaluate(p, e.fieldDegree(), &e.b))
}

// Derivatives gives B (T), its gradient g[i][j] = dB_i/dx_j (T/m) and its second derivatives s[i][j][k] (T/m2) at a point, in world axes.
// The gradient is symmetric and without trace, for no current flows there.
func (e *Expansion) Derivatives(p r3.Vec) (b r3.Vec, g [3][3]float64, s [3][3][3]float64) {
	b = e.Field(p)
	n, step := e.fieldDegree(), -1
	if e.Irregular {
		step = 1
	}
	axis := func(k int) int { return (e.Polar + 1 + k) % 3 } // world axis of a frame axis
	for i := range 3 {
		first := derivatives(n, e.b[i], e.Irregular)
		row := e.evaluate(p, max(n+step, 0), &first)
		for j := range 3 {
			g[axis(i)][axis(j)] = row[j] / e.Scale
			second := derivatives(max(n+step, 0), first[j], e.Irregular)
			for k, v := range e.evaluate(p, max(n+2*step, 0), &second) {
				s[axis(i)][axis(j)][axis(k)] = v / (e.Scale * e.Scale)
			}
		}
	}
	return b, g, s
}

// Moments gives the dipole moment m (A m2) and the quadrupole moment Q (A m3) about the centre, in world axes, of an expansion outside:
//
//	phi = 1/(4 pi) (m.n/r^2 + n.Q.n/(2 r^3) + ...)
//
// with n the unit vector and Q symmetric and without trace; of a magnetization M it is the integral of 3 (M_i x_j + M_j x_i) - 2 (M.x)
// delta_ij (Jackson, Classical Electrodynamics, section 4.1, with the charge density -div M).
func (e *Expansion) Moments() (m r3.Vec, q [3][3]float64) {
	if !e.Irregular {
		return m, q
	}
	at := func(l, m, part int) float64 {
		if l > e.Degree {
			return 0
		}
		return e.c[Index(l, m)+part]
	}
	f := 4 * math.Pi * e.Scale * e.Scale
	m = world(e.Polar, [3]float64{f * at(1, 1, 0), f * at(1, 1, 1), f * at(1, 0, 0)})
	f *= e.Scale
	c20, c21, s21, c22, s22 := f*at(2, 0, 0), f*at(2, 1, 0), f*at(2, 1, 1), f*at(2, 2, 0), f*at(2, 2, 1)
	local := [3][3]float64{
		{6*c22 - c20, 6 * s22, 3 * c21},
		{6 * s22, -6*c22 - c20, 3 * s21},
		{3 * c21, 3 * s21, 2 * c20},
	}
	for i := range 3 {
		for j := range 3 {
			q[(e.Polar+1+i)%3][(e.Polar+1+j)%3] = local[i][j]
		}
	}
	return m, q
}
