package harmonic

import (
	"math"

	"gonum.org/v1/gonum/integrate/quad"
	"gonum.org/v1/gonum/spatial/r3"
)

// Term is one term of the component of B along an axis u over a ball of radius R,
//
//	B_u = sum (r/R)^n S(n,m)(cos theta) {cos, sin}(m phi) B(n,m)
//
// S(n,m) is Schmidt's semi-normalized associated Legendre function without the sign (-1)^m: P(n,0) for m = 0, else sqrt(2 (n-m)!/(n+m)!) P(n,m). No
// term is larger than its B on the sphere, and its mean square there is B^2/(2n+1). (D. E. Winch and others, Geophys. J. Int. 160 (2005) 487; S(n,m)
// of degree 1 and 2 are z, x; z^2 - (x^2+y^2)/2, sqrt(3) z x, sqrt(3)/2 (x^2 - y^2), in units of R.)
type Term struct {
	N, M int
	Sine bool
	B    float64 // T
}

// schmidt is the factor from the plain to the semi-normalized function.
func schmidt(n, m int) float64 {
	if m == 0 {
		return 1
	}
	f := 2.0
	for k := n - m + 1; k <= n+m; k++ {
		f /= float64(k)
	}
	return math.Sqrt(f)
}

// Terms gives the terms up to a degree of the component of B along the expansion's polar axis over a ball about its centre, in order of
// n, m, cosine before sine. The azimuth counts from the world axis that follows the polar one cyclically. Terms that symmetry forbids are 0.
func (e *Expansion) Terms(degree int, radius float64) []Term {
	return termsOf(min(degree, e.fieldDegree()), e.b[2], radius/e.Scale)
}

func termsOf(degree int, c []float64, scale float64) (terms []Term) {
	power := 1.0
	for n := range degree + 1 {
		for m := range n + 1 {
			f := power / schmidt(n, m)
			terms = append(terms, Term{n, m, false, f * c[Index(n, m)]})
			if m > 0 {
				terms = append(terms, Term{n, m, true, f * c[Index(n, m)+1]})
			}
		}
		power *= scale
	}
	return terms
}

// TermsAlong gives the terms of the component of B along a unit vector that is no world axis; the azimuth counts from the unit vector
// from, at right angles to it. It projects the field on a sphere, exactly for the expansion's degree.
func (e *Expansion) TermsAlong(u, from r3.Vec, degree int, radius float64) []Term {
	degree = min(degree, e.fieldDegree())
	v := r3.Cross(u, from)
	c := project(degree, e.fieldDegree()+1, func(n [3]float64) float64 {
		p := r3.Add(e.Center, r3.Scale(radius, r3.Add(r3.Scale(n[2], u), r3.Add(r3.Scale(n[0], from), r3.Scale(n[1], v)))))
		return r3.Dot(e.Field(p), u)
	})
	return termsOf(degree, c, 1)
}

// project gives the coefficients of the harmonics up to a degree of a function on the unit sphere, by a product rule of so many circles.
// It is exact for functions of a degree below 2 circles - degree.
func project(degree, circles int, f func(n [3]float64) float64) []float64 {
	c := make([]float64, Count(degree))
	val := make([]float64, Count(degree))
	z, w := make([]float64, circles), make([]float64, circles)
	quad.Legendre{}.FixedLocations(z, w, -1, 1)
	around := 2 * circles
	for i := range z {
		s := math.Sqrt(1 - z[i]*z[i])
		for k := range around {
			sin, cos := math.Sincos(2 * math.Pi * (float64(k) + 0.5) / float64(around))
			n := [3]float64{s * cos, s * sin, z[i]}
			Values(degree, n[0], n[1], n[2], val)
			v := w[i] / float64(around) * f(n)
			for j := range c {
				c[j] += v * val[j]
			}
		}
	}
	// The mean of R(l,m)^2 over the sphere is 1/((2l+1) schmidt^2); the weights add up to 2.
	for l := range degree + 1 {
		for m := range l + 1 {
			f := float64(2*l+1) * schmidt(l, m) * schmidt(l, m) / 2
			c[Index(l, m)] *= f
			if m > 0 {
				c[Index(l, m)+1] *= f
			}
		}
	}
	return c
}

// Inside expands a field that is known everywhere, within the ball of a radius about a centre, from its component across that sphere;
// Outside, the field beyond the sphere. No body may touch the sphere. circles sets the effort, 2 circles^2 fields, and how far higher
// harmonics of the field can be mistaken for lower ones: those from degree 2 circles - degree on.
func Inside(field func(r3.Vec) r3.Vec, center r3.Vec, radius float64, polar, degree, circles int) *Expansion {
	return onSphere(field, Expansion{Center: center, Scale: radius, Degree: degree, Polar: polar, Reach: radius}, circles)
}

// Outside is described with Inside.
func Outside(field func(r3.Vec) r3.Vec, center r3.Vec, radius float64, polar, degree, circles int) *Expansion {
	return onSphere(field, Expansion{Center: center, Scale: radius, Degree: degree, Polar: polar, Irregular: true, Reach: radius}, circles)
}

func onSphere(field func(r3.Vec) r3.Vec, e Expansion, circles int) *Expansion {
	c := project(e.Degree, circles, func(n [3]float64) float64 {
		d := world(e.Polar, n)
		return r3.Dot(field(r3.Add(e.Center, r3.Scale(e.Scale, d))), d)
	})
	c[0] = 0 // no magnetic charge
	for l := 1; l <= e.Degree; l++ {
		f := -e.Scale / (mu0 * float64(l)) // B_r = -mu0 dphi/dr
		if e.Irregular {
			f = e.Scale / (mu0 * float64(l+1))
		}
		for i := l * l; i < (l+1)*(l+1); i++ {
			c[i] *= f
		}
	}
	return newExpansion(e, c)
}

// Plus adds a field that is known everywhere, projected on the sphere of the expansion's scale: within a ball on a smaller one, where its
// higher harmonics are weaker.
func (e *Expansion) Plus(field func(r3.Vec) r3.Vec) *Expansion {
	at := *e
	if !e.Irregular {
		at.Scale = plusShare * e.Scale
	}
	o := onSphere(field, at, e.Degree+8)
	sum := *e
	c := append([]float64{}, e.c...)
	ratio := 1.0
	for l := range e.Degree + 1 {
		for i := l * l; i < (l+1)*(l+1); i++ {
			c[i] += ratio * o.c[i]
		}
		ratio *= e.Scale / at.Scale
	}
	return newExpansion(sum, c)
}

const plusShare = 0.7
