package freefield

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"

	"polewright/shape"
)

// round holds the derivatives of the Newtonian potential of a body of revolution at (rho, z).
type round struct {
	rho, z     float64 // u_rho, u_z
	zz, rz, rr float64 // u_zz, u_rho z, u_rho rho
	w          float64 // u_rho / rho, the second derivative across the radius
	share      float64
}

func (u round) minus(v round) round {
	return round{u.rho - v.rho, u.z - v.z, u.zz - v.zz, u.rz - v.rz, u.rr - v.rr, u.w - v.w, u.share - v.share}
}

// ring gives the derivatives of the Newtonian potential of a ring, or of a disc when the inner diameter is zero: the outer disc less the
// inner one. Both are of order one near the ring, so a wall that is a part q of the outer radius costs a factor 1/q of the 16 digits: a
// wall of 0.1 mm on 60 mm leaves 13. Far away not the fields but the multipole moments of the two are subtracted, one number against another of
// known exactness, so that the loss stays 1/q at every distance.
func ring(s shape.Ring, p r3.Vec, n order) derivatives {
	ro, ri, l := s.OuterDiameter/2, math.Max(s.InnerDiameter/2, 0), s.Thickness/2
	if !(ro > ri && l > 0) || math.IsInf(ro, 1) || math.IsInf(l, 1) {
		return derivatives{}
	}
	rho := math.Hypot(p.X, p.Y)
	cos, sin := 1.0, 0.0
	if rho > 0 {
		cos, sin = p.X/rho, p.Y/rho
	}
	var u round
	if math.Hypot(rho, p.Z) > farRound*math.Hypot(ro, l) {
		u = multipole(ro, ri, l, rho, p.Z, n)
	} else {
		tol := near * math.Max(ro, l)
		u = disc(ro, l, rho, p.Z, tol)
		if ri > 0 {
			u = u.minus(disc(ri, l, rho, p.Z, tol))
		}
	}
	return derivatives{
		x: u.rho * cos, y: u.rho * sin, z: u.z,
		xx: u.rr*cos*cos + u.w*sin*sin,
		yy: u.rr*sin*sin + u.w*cos*cos,
		xy: (u.rr - u.w) * cos * sin,
		xz: u.rz * cos, yz: u.rz * sin, zz: u.zz,
		share: u.share,
	}
}

// disc gives the derivatives for a disc of radius r and half thickness l from four integrals round its rim, taken at both ends:
// with zeta = z -+ l, d^2 = r^2 + rho^2 - 2 r rho cos t and e^2 = d^2 + zeta^2, integrals over t from 0 to 2 pi,
//
//	T = zeta * int r (r - rho cos t) / (d^2 e)   the solid angle of the end is 2 pi sgn(zeta) [rho < r] - T
//	S = int r cos t / e                          the radial field of the end
//	W = zeta * int r^2 sin^2 t / (d^2 e)         the end's part of -u_rho / rho, from int r cos t asinh(zeta/d) by parts
//	D = int r (r - rho cos t) / e + zeta T - 2 pi |zeta| [rho < r]   the potential of the end as a charged disc
//
// u_z = D(z+l) - D(z-l), u_zz and so on are their differences, and u_rho rho follows from the trace, -4 pi inside.
func disc(r, l, rho, z, tol float64) (u round) {
	if math.Abs(rho-r) <= tol {
		rho = r
	}
	inside := between(-1, r-rho) // 1 within the radius, 1/2 on it
	up, down := onto(z-l, tol), onto(z+l, tol)
	u.share = inside * between(up, down)
	a, b := rim(r, rho, down, tol), rim(r, rho, up, tol)
	solidAngle := func(zeta float64, e end) float64 { return 2*math.Pi*inside*sign(zeta) - e.T }
	u.zz = solidAngle(up, b) - solidAngle(down, a)
	u.rz = b.S - a.S
	u.w = b.W - a.W
	u.rr = -4*math.Pi*u.share - u.zz - u.w
	u.rho = rho * u.w
	u.z = (a.D - 2*math.Pi*inside*math.Abs(down)) - (b.D - 2*math.Pi*inside*math.Abs(up))
	return u
}

// end holds the integrals round one end of a disc; D without its last term.
type end struct{ T, S, W, D float64 }

// nearAxis is the part of the radius within which the rim integrals are summed on equal steps: there the elliptic forms cancel, while
// the sum of 16 points, the integrand being periodic, is good to nearAxis^16.
const nearAxis = 0.1

func rim(r, rho, zeta, tol float64) end {
	if rho < nearAxis*r {
		return rimBySum(r, rho, zeta)
	}
	return rimByElliptic(r, rho, zeta, tol)
}

// sixteenths are the cosines of 0 to 8 sixteenths of a turn, with their weights: the integrands are even.
var sixteenths = func() (c [9]struct{ cos, sin2, w float64 }) {
	for k := range c {
		s, co := math.Sincos(float64(k) * math.Pi / 8)
		c[k].cos, c[k].sin2, c[k].w = co, s*s, math.Pi/4
	}
	c[0].w, c[8].w = math.Pi/8, math.Pi/8
	return c
}()

func rimBySum(r, rho, zeta float64) (e end) {
	for _, t := range sixteenths {
		d2 := r*r + rho*rho - 2*r*rho*t.cos
		e2 := d2 + zeta*zeta
		i := t.w / math.Sqrt(e2)
		arm := r * (r - rho*t.cos)
		e.T += arm * i / d2
		e.W += r * r * t.sin2 * i / d2
		e.S += t.sin2 * i / e2
		e.D += arm * i
	}
	e.T *= zeta
	e.W *= zeta
	e.S *= r * r * rho // by parts: int cos t / e = r rho int sin^2 t / e^3
	e.D += zeta * e.T
	return e
}

// rimByElliptic puts t = pi - 2 psi. With g = (r - rho)/(r + rho), e+-^2 = (r +- rho)^2 + zeta^2, kc = e-/e+, C = cos^2 psi, S = sin^2 psi,
// Q = C + g^2 S = d^2/(r+rho)^2 and P = C + kc^2 S = e^2/e+^2, and the complete integrals over psi from 0 to pi/2
//
//	K = int 1/sqrt P,  s0 = int S/sqrt P,  q = g int S/(Q sqrt P),
//
// T = 4 r zeta/((r+rho) e+) (K + (1-g) q), as in Derby and Olbert 2010; S and D are plain in K and s0; and since SC/Q = (C/Q - C)/(1-g^2),
// W = 16 r^2 zeta/((r+rho)^2 e+) (s0 - g q)/(1-g^2). 1 - g^2 = 4 r rho/(r+rho)^2 goes out near the axis, see nearAxis.
func rimByElliptic(r, rho, zeta, tol float64) end {
	sum := r + rho
	g := (r - rho) / sum
	plus := math.Hypot(sum, zeta)
	minus := math.Max(math.Hypot(r-rho, zeta), tol) // on the edge the field has no bound: stay tol away
	K, s0, q := elliptic(minus/plus, g)
	c0 := K - s0
	T := 4 * r * zeta / (sum * plus) * (K + (1-g)*q)
	return end{
		T: T,
		S: 4 * r / plus * (s0 - c0),
		W: 4 * r * zeta / (rho * plus) * (s0 - g*q),
		D: 4*r/plus*(sum*c0+(r-rho)*s0) + zeta*T,
	}
}

// elliptic gives the complete elliptic integrals over psi from 0 to pi/2, with P = cos^2 + kc^2 sin^2,
//
//	K = int 1/sqrt P,  s = int sin^2/sqrt P,  q = g int sin^2/((cos^2 + g^2 sin^2) sqrt P)
//
// for 0 < kc and -1 < g < 1, to about 1e-15. q jumps at g = 0, where it is the mean of both sides, zero. By Bartky's
// transformation (Bulirsch, Numer. Math. 13 (1969) 305, procedure cel), the three on one arithmetic-geometric mean.
func elliptic(kc, g float64) (K, s, q float64) {
	k, m := kc, 1.0       // the two sides of the mean
	kk, double := kc, 1.0 // this form doubles the mean at each step
	p1, a1, b1 := 1.0, 0.0, 1.0
	p2, a2, b2 := math.Abs(g), 0.0, sign(g)
	if g == 0 {
		p2 = 1
	}
	for {
		f := a1
		a1 += b1 / p1
		h := kk / p1
		b1 = 2 * (b1 + f*h)
		p1 += h
		f = a2
		a2 += b2 / p2
		h = kk / p2
		b2 = 2 * (b2 + f*h)
		p2 += h
		old := m
		m += k
		if !(math.Abs(old-k) > 1e-8*old) { // the error falls as its square; not-a-number ends here, too
			break
		}
		k = 2 * math.Sqrt(kk)
		kk = k * m
		double *= 2
	}
	K = math.Pi * double / m
	s = math.Pi / 2 * (b1 + a1*m) / (m * (m + p1))
	q = math.Pi / 2 * (b2 + a2*m) / (m * (m + p2))
	return K, s, q
}

// farRound is the distance, in radii of the sphere about a round body, beyond which its multipole series is taken.
const farRound = 2.5

// multipole gives the derivatives far from a ring. Outside the sphere about it u is a sum over even l of M_l P_l(cos theta)/R^(l+1) with
//
//	M_l = 4 pi c^(l+1) r^2 P'_(l+2)(l/c) / ((l+1)(l+2)(l+3)),  c^2 = r^2 + l^2
//
// for a disc of radius r and half thickness l, from its axial field (the rim's square root is the generating function of the Gegenbauer
// polynomials C^(-1/2)); a derivative of a solid harmonic is the next one. The terms fall as farRound^-l, none cancels the first.
func multipole(ro, ri, half, rho, z float64, n order) (u round) {
	R := math.Hypot(rho, z)
	if R > 1e60 {
		return round{}
	}
	x, sin := z/R, rho/R
	// Legendre polynomials and their first two derivatives at the point's cosine, by recurrence, at degree d and d-1.
	p, pOld := 1.0, 0.0   // P_d
	dp, dpOld := 0.0, 0.0 // P'_d
	d2, d2Old := 0.0, 0.0 // P''_d
	step := func(d float64) {
		pNew := ((2*d+1)*x*p - d*pOld) / (d + 1)
		dpNew := dpOld + (2*d+1)*p
		d2New := d2Old + (2*d+1)*dp
		p, pOld, dp, dpOld, d2, d2Old = pNew, p, dpNew, dp, d2New, d2
	}
	outer, inner := newMoments(ro, half, R), newMoments(ri, half, R)
	step(0)
	step(1) // now at degree 2
	for l := 0.0; l < 60; l += 2 {
		m := (outer.value() - inner.value()) / ((l + 1) * (l + 2) * (l + 3))
		if n == first {
			// grad of P_l/R^(l+1): -(l+1) P_(l+1) along z and -P'_(l+1) sin theta along rho, over R^(l+2).
			u.z -= m * (l + 1) * pOld
			u.rho -= m * sin * dpOld
		} else {
			u.zz += m * (l + 1) * (l + 2) * p
			u.rz += m * (l + 1) * sin * dp
			// u_rho rho - u_rho/rho = sin^2 P''_(l+2), u_rho rho + u_rho/rho = -u_zz
			u.rr += m / 2 * (sin*sin*d2 - (l+1)*(l+2)*p)
			u.w -= m / 2 * (sin*sin*d2 + (l+1)*(l+2)*p)
		}
		if outer.power*(l+3)*(l+3) < 1e-17 {
			break
		}
		step(l + 2)
		step(l + 3)
		outer.next(l)
		inner.next(l)
	}
	f := 4 * math.Pi / R
	u.zz, u.rz, u.rr, u.w = f*u.zz, f*u.rz, f*u.rr, f*u.w
	f *= R
	u.rho, u.z = f*u.rho, f*u.z
	return u
}

// moments runs through r^2 c^(l+1) P'_(l+2)(h/c) / R^(l+2), even l, of a disc of radius r and half thickness h.
type moments struct {
	x, ratio2 float64 // h/c, (c/R)^2
	power     float64 // (c/R)^l
	scale     float64 // r^2 c / R^2
	p, pOld   float64 // P_d, P_(d-1) at x, d = l+2
	dp, dpOld float64 // P'_d, P'_(d-1) at x
}

func newMoments(r, h, R float64) moments {
	c := math.Hypot(r, h)
	x := h / c
	return moments{x: x, ratio2: c * c / (R * R), power: 1, scale: r * r * c / (R * R), p: (3*x*x - 1) / 2, pOld: x, dp: 3 * x, dpOld: 1}
}

// value at the present l.
func (m *moments) value() float64 { return m.scale * m.power * m.dp }

// next goes from l to l+2.
func (m *moments) next(l float64) {
	for d := l + 2; d <= l+3; d++ {
		p := ((2*d+1)*m.x*m.p - d*m.pOld) / (d + 1)
		dp := m.dpOld + (2*d+1)*m.p
		m.p, m.pOld, m.dp, m.dpOld = p, m.p, dp, m.dp
	}
	m.power *= m.ratio2
}

func sign(x float64) float64 {
	switch {
	case x > 0:
		return 1
	case x < 0:
		return -1
	}
	return 0
}
