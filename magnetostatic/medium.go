// Package magnetostatic solves the static field of permanent magnets and soft steel on a grid of quadratic prisms.
//
// Without currents the field strength is H = -grad phi, so one scalar potential a node is the whole unknown. The potential minimizes
//
//	W(phi) = integral of w(H) dV + 1/2 integral of mu0 beta phi^2 dS
//
// where w(H) is the coenergy density of the medium (B = dw/dH) and beta closes the open space by the decay of a dipole on the
// outer faces. W is convex for every medium here, so Newton's method with a line search on W always descends.
//
// Each step of Newton's method is a linear system for conjugate gradients with one multigrid cycle as preconditioner (multigrid.go): on the
// coarser and coarser plans the smoother solves whole columns of nodes exactly, then, with the plan at its coarsest, whole planes while layers are
// joined. Relaxing one direction exactly and coarsening the other holds for cells stretched in any way (Trottenberg, Oosterlee, Schueller 2001,
// Multigrid, section 5.1). Windings have one more coarse grid, along their wire (wire.go).
//
// The package works in the grid's own frame (u, v, w): w is the axis along which the plan is extruded, u and v the next two world axes.
package magnetostatic

import (
	"math"

	"polewright/material"
)

// Vec is a vector in the grid's frame: components along u, v and w.
type Vec [3]float64

// Medium is what a cell is made of. The zero value is air.
//
// A linear medium has B = mu0*Relative*H + Polarization, with the relative permeability split into a plan tensor and the value along w.
// A steel has B = Curve(|H|) along H. A bundle of parallel wires has Curve and Packing: along the wire direction t
// B_t = f*Curve(H_t) + (1-f)*mu0*H_t, across it B = mu0*(1+f)/(1-f)*H (bundle of well permeable parallel cylinders, Maxwell Garnett
// mixing in two dimensions; see the reference in NOTATION.md). H along the wire is continuous, so the curve is entered with the
// field inside the wire.
type Medium struct {
	Linear       bool
	RelativeUU   float64 // relative permeability tensor of the plan, with Linear
	RelativeUV   float64
	RelativeVV   float64
	RelativeWW   float64
	Polarization Vec      // T, with Linear
	Descent      *Descent // of a magnet: how it leaves its recoil line, with Linear off; else only for the field in its material

	Curve     *material.Curve
	Packing   float64                             // fraction of the section that is steel, (0, 1); 0 for solid steel
	Direction func(u, v float64) (du, dv float64) // unit tangent of the wire in the plan, with Packing
	Films     []Film                              // with Curve and without Packing

	// Along gives the place of a point of a winding along its wire and across it, m, and Turn is the length of a closed turn. They serve the
	// speed of the solver only and may be left out.
	Along func(u, v float64) (s, height float64)
	Turn  float64

	laminate  *laminate  // of a cell that the surface of a body cuts
	stretched *stretched // of a cell on which the plan is stretched
}

// Film is a thin layer of glue, paint or air in series with steel, smeared over a zone next to the face it lies on: exact in a
// one-dimensional circuit, and no cell has to be as thin as the film.
type Film struct {
	Normal   Vec     // unit normal of the face
	Share    float64 // thickness of the film over the depth of the zone
	Min, Max Vec     // the zone, a box of the grid's frame
}

func (f *Film) holds(q *[3]float64) bool {
	for k := range 3 {
		if q[k] < f.Min[k] || q[k] > f.Max[k] {
			return false
		}
	}
	return true
}

// film is the film at a point, nil for none.
func (m *Medium) film(q *[3]float64) *Film {
	for i := range m.Films {
		if m.Films[i].holds(q) {
			return &m.Films[i]
		}
	}
	return nil
}

// Air is free space.
func Air() Medium { return Isotropic(1, Vec{}) }

// Isotropic is a linear medium of one relative permeability and a fixed polarization in tesla.
func Isotropic(relative float64, polarization Vec) Medium {
	return Medium{Linear: true, RelativeUU: relative, RelativeVV: relative, RelativeWW: relative, Polarization: polarization}
}

// isotropic tells whether a linear medium has one permeability in all directions.
func (m *Medium) isotropic() bool {
	return m.Linear && m.RelativeUV == 0 && m.RelativeUU == m.RelativeVV && m.RelativeVV == m.RelativeWW
}

// law is the state of a medium at one point: flux density, differential permeability (symmetric, order uu, vv, ww, uv, uw, vw) and
// coenergy density.
type law struct {
	B [3]float64
	D [6]float64
	w float64
}

// at evaluates the medium for the field strength h (A/m) at a point of the grid's frame.
func (m *Medium) at(h, q *[3]float64, out *law) {
	switch {
	case m.Linear:
		const mu0 = material.Mu0
		uu, uv, vv, ww := mu0*m.RelativeUU, mu0*m.RelativeUV, mu0*m.RelativeVV, mu0*m.RelativeWW
		bu, bv, bw := uu*h[0]+uv*h[1], uv*h[0]+vv*h[1], ww*h[2]
		out.w = 0.5*(bu*h[0]+bv*h[1]+bw*h[2]) + m.Polarization[0]*h[0] + m.Polarization[1]*h[1] + m.Polarization[2]*h[2]
		out.B = [3]float64{bu + m.Polarization[0], bv + m.Polarization[1], bw + m.Polarization[2]}
		out.D = [6]float64{uu, vv, ww, uv, 0, 0}
	case m.Descent != nil:
		m.descend(h, out)
	case m.stretched != nil:
		m.stretched.at(h, q, out)
	case m.laminate != nil:
		m.laminate.at(h, q, out)
	case m.Packing > 0:
		m.bundle(h, q[0], q[1], out)
	default:
		if f := m.film(q); f != nil {
			steelWithFilm(m.Curve, f, h, out)
		} else {
			steel(m.Curve, h, out)
		}
	}
}

// steel is the isotropic law B = b(|H|) H/|H|; its tangent is b/H across H and db/dH along it.
func steel(c *material.Curve, h *[3]float64, out *law) {
	a := math.Sqrt(h[0]*h[0] + h[1]*h[1] + h[2]*h[2])
	b, slope, w := c.Eval(a)
	out.w = w
	if a < 1e-9 { // A/m: the direction is lost, but there the law is isotropic
		out.B = [3]float64{slope * h[0], slope * h[1], slope * h[2]}
		out.D = [6]float64{slope, slope, slope, 0, 0, 0}
		return
	}
	mu := b / a
	k := (slope - mu) / (a * a)
	out.B = [3]float64{mu * h[0], mu * h[1], mu * h[2]}
	out.D = [6]float64{mu + k*h[0]*h[0], mu + k*h[1]*h[1], mu + k*h[2]*h[2], k * h[0] * h[1], k * h[0] * h[2], k * h[1] * h[2]}
}

// bundle is the law of a wound yoke: nonlinear along the wire, linear across it.
func (m *Medium) bundle(h *[3]float64, u, v float64, out *law) {
	tu, tv := m.Direction(u, v)
	ht := h[0]*tu + h[1]*tv
	bt, dt := m.wire(ht)
	m.along(h, tu, tv, bt, dt, out)
	_, _, w := m.Curve.Eval(math.Abs(ht))
	f := m.Packing
	hn := -h[0]*tv + h[1]*tu
	out.w = f*w + 0.5*(1-f)*material.Mu0*ht*ht + 0.5*m.crosswise()*(hn*hn+h[2]*h[2])
}

// wire is B along the wire and its slope.
func (m *Medium) wire(ht float64) (bt, dt float64) {
	b, slope, _ := m.Curve.Eval(math.Abs(ht))
	f := m.Packing
	return math.Copysign(f*b, ht) + (1-f)*material.Mu0*ht, f*slope + (1-f)*material.Mu0
}

// crosswise is the permeability across the wire.
func (m *Medium) crosswise() float64 { return material.Mu0 * (1 + m.Packing) / (1 - m.Packing) }

// along puts B and D together from those along the wire (tu, tv).
func (m *Medium) along(h *[3]float64, tu, tv, bt, dt float64, out *law) {
	mn := m.crosswise()
	bn := mn * (-h[0]*tv + h[1]*tu)
	out.B = [3]float64{bt*tu - bn*tv, bt*tv + bn*tu, mn * h[2]}
	out.D = [6]float64{dt*tu*tu + mn*tv*tv, dt*tv*tv + mn*tu*tu, mn, (dt - mn) * tu * tv, 0, 0}
}

// steelWithFilm is steel with a film of air in series along the film's normal n: the field strength given is the mean over steel and
// film, h = hs + n*(r/mu0)*(n.b(hs)) with r the film's thickness over the zone's depth. It is solved for hs by Newton's method on the
// scalar x = n.b, which falls monotonically.
func steelWithFilm(c *material.Curve, film *Film, h *[3]float64, out *law) {
	n := [3]float64(film.Normal)
	r := film.Share / material.Mu0
	hn := h[0]*n[0] + h[1]*n[1] + h[2]*n[2]
	var s law
	hs := func(x float64) [3]float64 {
		return [3]float64{h[0] - r*x*n[0], h[1] - r*x*n[1], h[2] - r*x*n[2]}
	}
	// The root of f(x) = n.b(h - n r x) - x lies between 0 and hn/r (no steel drop at all).
	lo, hi := math.Min(0, hn/r), math.Max(0, hn/r)
	x := hn / r * 0.5
	for range 60 {
		p := hs(x)
		steel(c, &p, &s)
		f := s.B[0]*n[0] + s.B[1]*n[1] + s.B[2]*n[2] - x
		dnn := normal(&s.D, &n)
		if f > 0 {
			lo = x
		} else {
			hi = x
		}
		step := f / (1 + r*dnn)
		next := x + step
		if next <= lo || next >= hi {
			next = 0.5 * (lo + hi)
		}
		if math.Abs(next-x) <= 1e-14*(math.Abs(x)+1e-9) {
			x = next
			break
		}
		x = next
	}
	p := hs(x)
	steel(c, &p, &s)
	bn := s.B[0]*n[0] + s.B[1]*n[1] + s.B[2]*n[2]
	out.B = s.B
	out.w = s.w + 0.5*r*bn*bn
	// D' = D - D n n' D r / (1 + r n'Dn): series connection along n (Sherman and Morrison 1950).
	dn := [3]float64{
		s.D[0]*n[0] + s.D[3]*n[1] + s.D[4]*n[2],
		s.D[3]*n[0] + s.D[1]*n[1] + s.D[5]*n[2],
		s.D[4]*n[0] + s.D[5]*n[1] + s.D[2]*n[2],
	}
	k := r / (1 + r*normal(&s.D, &n))
	out.D = [6]float64{
		s.D[0] - k*dn[0]*dn[0], s.D[1] - k*dn[1]*dn[1], s.D[2] - k*dn[2]*dn[2],
		s.D[3] - k*dn[0]*dn[1], s.D[4] - k*dn[0]*dn[2], s.D[5] - k*dn[1]*dn[2],
	}
}

func normal(d *[6]float64, n *[3]float64) float64 {
	return d[0]*n[0]*n[0] + d[1]*n[1]*n[1] + d[2]*n[2]*n[2] + 2*(d[3]*n[0]*n[1]+d[4]*n[0]*n[2]+d[5]*n[1]*n[2])
}

// linearInverse is H for a given B of a linear medium.
func (m *Medium) linearInverse(b [3]float64) [3]float64 {
	for k := range b {
		b[k] = (b[k] - m.Polarization[k]) / material.Mu0
	}
	det := m.RelativeUU*m.RelativeVV - m.RelativeUV*m.RelativeUV
	return [3]float64{(m.RelativeVV*b[0] - m.RelativeUV*b[1]) / det, (m.RelativeUU*b[1] - m.RelativeUV*b[0]) / det, b[2] / m.RelativeWW}
}

// inverse is H for a given B.
func (m *Medium) inverse(b, q [3]float64) [3]float64 {
	switch {
	case m.stretched != nil:
		return m.stretched.inverse(b, q)
	case m.laminate != nil:
		return m.laminate.inverse(b, q)
	case m.Linear:
		return m.linearInverse(b)
	case m.Descent != nil:
		return m.ascend(b)
	}
	if m.Packing > 0 {
		f := m.Packing
		tu, tv := m.Direction(q[0], q[1])
		bt, bn := b[0]*tu+b[1]*tv, -b[0]*tv+b[1]*tu
		mn := m.crosswise()
		// f*Curve(h) + (1-f)*mu0*h grows with h: the steel alone gives an upper bound to start from.
		a := math.Abs(bt)
		h := m.Curve.H(a / f)
		for range 50 {
			y, slope, _ := m.Curve.Eval(h)
			step := (f*y + (1-f)*material.Mu0*h - a) / (f*slope + (1-f)*material.Mu0)
			h = math.Max(h-step, 0.1*h)
			if math.Abs(step) <= 1e-12*h {
				break
			}
		}
		ht, hn := math.Copysign(h, bt), bn/mn
		return [3]float64{ht*tu - hn*tv, ht*tv + hn*tu, b[2] / mn}
	}
	a := math.Sqrt(b[0]*b[0] + b[1]*b[1] + b[2]*b[2])
	if a == 0 {
		return [3]float64{}
	}
	k := m.Curve.H(a) / a
	h := [3]float64{k * b[0], k * b[1], k * b[2]}
	if f := m.film(&q); f != nil {
		bn := b[0]*f.Normal[0] + b[1]*f.Normal[1] + b[2]*f.Normal[2]
		for i := range h {
			h[i] += f.Share / material.Mu0 * bn * f.Normal[i]
		}
	}
	return h
}
