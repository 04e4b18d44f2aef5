package axisymmetric

import (
	"math"

	"polewright/material"
)

// Vec is a vector of the half plane: components along r and z.
type Vec [2]float64

// Medium is what a body is made of. Without a curve it is linear, B = mu0*(Radial H_r, Axial H_z) + Polarization; with one B = Curve(|H|) along H.
type Medium struct {
	Radial, Axial float64 // relative permeabilities
	Polarization  Vec     // T
	Curve         *material.Curve
	Films         []Film // with Curve
}

// Film is a thin layer of glue, paint or air across the axis, in series with the steel of a zone next to the face it lies on (see
// magnetostatic.Film).
type Film struct {
	Share    float64 // thickness of the film over the depth of the zone
	Min, Max Vec     // the zone
}

func (f *Film) holds(q Vec) bool {
	return q[0] >= f.Min[0] && q[0] <= f.Max[0] && q[1] >= f.Min[1] && q[1] <= f.Max[1]
}

var air = Medium{Radial: 1, Axial: 1}

func (m *Medium) linear() bool { return m.Curve == nil }

// film is the thickness over depth of the film at a point, 0 for none.
func (m *Medium) film(q Vec) float64 {
	for i := range m.Films {
		if m.Films[i].holds(q) {
			return m.Films[i].Share
		}
	}
	return 0
}

// law is the state of a medium at a point: flux density, tangent dB/dH (rr, zz, rz) and coenergy density.
type law struct {
	B Vec
	D [3]float64
	w float64
}

// at evaluates the medium for the field strength h at a point q.
func (m *Medium) at(h, q Vec) (o law) {
	if m.linear() {
		r, z := material.Mu0*m.Radial, material.Mu0*m.Axial
		j := m.Polarization
		o.B = Vec{r*h[0] + j[0], z*h[1] + j[1]}
		o.D = [3]float64{r, z, 0}
		o.w = 0.5*(r*h[0]*h[0]+z*h[1]*h[1]) + j[0]*h[0] + j[1]*h[1]
		return o
	}
	if share := m.film(q); share > 0 {
		return steelWithFilm(m.Curve, share/material.Mu0, h)
	}
	return steel(m.Curve, h)
}

// steel is the isotropic law B = b(|H|) H/|H|; its tangent is b/H across H and db/dH along it.
func steel(c *material.Curve, h Vec) (o law) {
	a := math.Hypot(h[0], h[1])
	b, slope, w := c.Eval(a)
	o.w = w
	if a < 1e-9 { // A/m: the direction is lost, but there the law is isotropic
		o.B = Vec{slope * h[0], slope * h[1]}
		o.D = [3]float64{slope, slope, 0}
		return o
	}
	mu := b / a
	k := (slope - mu) / (a * a)
	o.B = Vec{mu * h[0], mu * h[1]}
	o.D = [3]float64{mu + k*h[0]*h[0], mu + k*h[1]*h[1], k * h[0] * h[1]}
	return o
}

// steelWithFilm is steel with a film in series along the axis: h is the mean over steel and film, h_z = hs_z + r b_z(hs), with r the film's
// share over mu0. It is solved for x = b_z, in which the residual falls monotonically, by Newton's method within bounds.
func steelWithFilm(c *material.Curve, r float64, h Vec) law {
	lo, hi := math.Min(0, h[1]/r), math.Max(0, h[1]/r)
	x := h[1] / r * 0.5
	for range 60 {
		s := steel(c, Vec{h[0], h[1] - r*x})
		f := s.B[1] - x
		if f > 0 {
			lo = x
		} else {
			hi = x
		}
		next := x + f/(1+r*s.D[1])
		if next <= lo || next >= hi {
			next = 0.5 * (lo + hi)
		}
		done := math.Abs(next-x) <= 1e-14*(math.Abs(x)+1e-9)
		x = next
		if done {
			break
		}
	}
	s := steel(c, Vec{h[0], h[1] - r*x})
	s.w += 0.5 * r * s.B[1] * s.B[1]
	// D' = D - D n n' D r/(1 + r n'Dn): series connection along n (Sherman and Morrison 1950).
	k := r / (1 + r*s.D[1])
	s.D = [3]float64{s.D[0] - k*s.D[2]*s.D[2], s.D[1] - k*s.D[1]*s.D[1], s.D[2] - k*s.D[1]*s.D[2]}
	return s
}

// atState evaluates the law linearized at h0: B = b(h0) + D(h0) (h - h0).
func (m *Medium) atState(h, h0, q Vec) law {
	o := m.at(h0, q)
	x, y := h[0]-h0[0], h[1]-h0[1]
	o.B[0] += o.D[0]*x + o.D[2]*y
	o.B[1] += o.D[2]*x + o.D[1]*y
	return o
}

// inverse is H for a given B of steel.
func (m *Medium) inverse(b, q Vec) Vec {
	a := math.Hypot(b[0], b[1])
	if a == 0 {
		return Vec{}
	}
	k := m.Curve.H(a) / a
	return Vec{k * b[0], k*b[1] + m.film(q)/material.Mu0*b[1]}
}
