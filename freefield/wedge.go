package freefield

import (
	"math"
	"math/cmplx"

	"gonum.org/v1/gonum/spatial/r3"

	"polewright/shape"
)

// This file holds the ring sector, as the extrusion of its plan outline.
//
// With s the plan vector from the point to the outline, zeta = z -+ l the heights over the two ends, e^2 = s^2 + zeta^2, n the outward normal
// and plan vectors written as complex numbers, Gauss's theorem turns the derivatives of u into integrals along the outline, for each end
//
//	D = int n.s/(e+|zeta|) dl      G = int n ln(e+|zeta|) dl     E = int n/e dl
//	O = int n.s/(e(e+|zeta|)) dl   Z = int n s/(e(e+|zeta|)) dl
//
// which are smooth everywhere but on the rim of the end itself, and, for a point between the ends only, integrals without height
//
//	G0 = int n ln|s| dl   O0 = int n.s/s^2 dl   Z0 = int n s/s^2 dl
//
// which are elementary and hold what jumps at the side faces. Then, with + for the lower and - for the upper end and sg = sgn(zeta),
//
//	u_z = sum +-D,   u_x + i u_y = sum -+sg (G - G0),   u_xz + i u_yz = sum -+E,
//	u_zz = -sum +-sg O,   u_xx + u_yy = sum +-sg (O - O0),   u_xx - u_yy + 2i u_xy = sum +-sg (Z - Z0).
//
// Straight sides are closed forms; arcs take a Gauss rule after a substitution that keeps their singularities a quarter turn away.

// outline collects the integrals along the outline of a sector about a point.
type outline struct {
	zeta       [2]float64 // over the lower and the upper end
	D, O       [2]float64
	G, E, Z    [2]complex128
	O0         float64
	G0, Z0     complex128
	tol        float64
	n          order
	betweenTwo bool
}

// wedge gives the derivatives of the Newtonian potential of a ring sector.
func wedge(s shape.Wedge, p r3.Vec, n order) derivatives {
	if s.Span() == 2*math.Pi {
		return ring(shape.Ring{OuterDiameter: s.OuterDiameter, InnerDiameter: s.InnerDiameter, Thickness: s.Thickness}, p, n)
	}
	ro, ri, l := s.OuterDiameter/2, math.Max(s.InnerDiameter/2, 0), s.Thickness/2
	if !(ro > ri && l > 0) || math.IsInf(ro, 1) || math.IsInf(l, 1) {
		return derivatives{}
	}
	if math.IsNaN(p.X + p.Y + p.Z) {
		return nothing(s)
	}
	if u, ok := wedgeByVolume(ro, ri, l, s.From, s.Span(), p, n); ok {
		return u
	}
	tol := near * math.Max(ro, l)
	o := outline{zeta: [2]float64{onto(p.Z+l, tol), onto(p.Z-l, tol)}, tol: tol, n: n}
	slab := between(o.zeta[1], o.zeta[0])
	o.betweenTwo = slab > 0
	rho, theta := math.Hypot(p.X, p.Y), math.Atan2(p.Y, p.X)
	// The flat sides: outward at From, inward at To.
	for i, angle := range []float64{s.From, s.From + s.Span()} {
		sin, cos := math.Sincos(angle - theta)
		along, off := rho*cos, rho*sin // of the point: along the side, and the side's distance anticlockwise from it
		turn := cmplx.Rect(1, angle)
		if i == 0 {
			o.side(-1i*turn, -off, ri-along, ro-along)
		} else {
			o.side(1i*turn, off, along-ro, along-ri)
		}
	}
	o.arc(ro, rho, theta, s.From, s.Span())
	if ri > 0 {
		o.arc(ri, rho, theta, s.From+s.Span(), -s.Span())
	}
	var u derivatives
	var plus float64
	var minus complex128
	for end, sg := range [2]float64{sign(o.zeta[0]), -sign(o.zeta[1])} {
		updown := 1 - 2*float64(end)
		u.z += updown * o.D[end]
		u.x -= sg * real(o.G[end]-o.G0)
		u.y -= sg * imag(o.G[end]-o.G0)
		u.xz -= updown * real(o.E[end])
		u.yz -= updown * imag(o.E[end])
		u.zz -= sg * o.O[end]
		plus += sg * (o.O[end] - o.O0)
		minus += complex(sg, 0) * (o.Z[end] - o.Z0)
	}
	u.xx, u.yy, u.xy = (plus+real(minus))/2, (plus-real(minus))/2, imag(minus)/2
	u.share = slab * o.O0 / (2 * math.Pi)
	if eighths := math.Round(8 * u.share); math.Abs(8*u.share-eighths) < 1e-9 {
		u.share = eighths / 8
	}
	return u
}

// side adds a straight piece with outward normal n at the signed distance h from the point outward, from t0 to t1 along it (anticlockwise).
func (o *outline) side(n complex128, h, t0, t1 float64) {
	h = onto(h, o.tol)
	s20, s21 := h*h+t0*t0, h*h+t1*t1
	n2 := n * n
	for end, zeta := range o.zeta {
		z := math.Abs(zeta)
		e0, e1 := math.Sqrt(s20+z*z), math.Sqrt(s21+z*z)
		l := logRatio([2]float64{t0, t1}, [2]float64{e0, e1}, h*h+z*z, o.tol)                              // int dt/e
		a := math.Atan2(t1*h*s21, (h*h*e1+z*t1*t1)*(e1+z)) - math.Atan2(t0*h*s20, (h*h*e0+z*t0*t0)*(e0+z)) // int h dt/(e(e+z))
		ln0, ln1 := math.Log(math.Max(e0+z, o.tol)), math.Log(math.Max(e1+z, o.tol))
		o.D[end] += h*l - z*a
		o.O[end] += a
		o.E[end] += n * complex(l, 0)
		o.Z[end] += n2 * complex(a, ln1-ln0)
		o.G[end] += n * complex(t1*ln1-t0*ln0-(t1-t0)+z*l+h*a, 0)
	}
	if !o.betweenTwo {
		return
	}
	a := 0.0 // in the plane of the face the mean of both sides
	if h != 0 {
		a = math.Atan(t1/h) - math.Atan(t0/h)
	}
	ln0, ln1 := math.Log(math.Max(s20, o.tol*o.tol))/2, math.Log(math.Max(s21, o.tol*o.tol))/2
	o.O0 += a
	o.Z0 += n2 * complex(a, ln1-ln0)
	o.G0 += n * complex(t1*ln1-t0*ln0-(t1-t0)+h*a, 0)
}

// arcPiece is the greatest length of a piece of an arc in the substituted variable, whose singularities stand pi/2 off.
const arcPiece = 2.7

// arc adds an arc of radius r about the ring's axis from the angle from through turn (clockwise when negative: then the normal, inward,
// comes out by itself), the point being at (rho, theta).
func (o *outline) arc(r, rho, theta, from, turn float64) {
	if math.Abs(rho-r) <= o.tol {
		rho = r
	}
	pieces := math.Ceil(math.Abs(turn)/(math.Pi/2) - 1e-9)
	turn /= pieces
	for i := 0.0; i < pieces; i++ {
		// The angle from the point's own, in the frame that is turned by theta; its middle within half a turn.
		a := from + i*turn - theta
		a -= 2 * math.Pi * math.Round((a+turn/2)/(2*math.Pi))
		o.piece(r, rho, theta, a, a+turn)
	}
}

// piece adds an arc of at most a quarter turn.
func (o *outline) piece(r, rho, theta, a, b float64) {
	u := cmplx.Rect(1, theta)
	u2 := u * u
	for end, zeta := range o.zeta {
		z := math.Abs(zeta)
		c := arcEnd{r: r, rho: rho, z: z, n: o.n, minus: math.Max(math.Hypot(r-rho, z), o.tol)}
		c.k = c.minus / math.Hypot(r+rho, z)
		lo, hi := math.Max(math.Min(a, b), -math.Pi/2), math.Min(math.Max(a, b), math.Pi/2)
		if lo < hi {
			c.close(lo, hi)
		}
		if last := math.Min(math.Max(a, b), -math.Pi/2); last > math.Min(a, b) {
			c.opposite(math.Min(a, b), last)
		}
		if begin := math.Max(math.Min(a, b), math.Pi/2); begin < math.Max(a, b) {
			c.opposite(begin, math.Max(a, b))
		}
		f := r
		if b < a {
			f = -r
		}
		o.D[end] += f * c.D
		o.O[end] += f * c.O
		o.E[end] += complex(f, 0) * u * c.E
		o.G[end] += complex(f, 0) * u * c.G
		o.Z[end] += complex(f, 0) * u2 * c.Z
	}
	if o.betweenTwo {
		o0, z0, g0 := flatArc(r, rho, a, o.tol)
		o1, z1, g1 := flatArc(r, rho, b, o.tol)
		o.O0 += o1 - o0
		o.Z0 += u2 * (z1 - z0)
		o.G0 += u * (g1 - g0)
	}
}

// arcEnd integrates over the angle t from the point's own.
type arcEnd struct {
	r, rho, z, minus, k float64 // minus is the least e, k its ratio to the greatest
	n                   order
	D, O                float64
	E, G, Z             complex128
}

// close integrates over the half circle next to the point, with tan(t/2) = k sinh(x): then e = minus cos(t/2) cosh(x), and its zero, which
// makes the integrands peak, stands at x = i pi/2 wherever the point is.
func (c *arcEnd) close(lo, hi float64) {
	x0, x1 := math.Asinh(math.Tan(lo/2)/c.k), math.Asinh(math.Tan(hi/2)/c.k)
	if !(x1 > x0) { // an arc so short, and a point so near its angle, that both ends are one in the substituted variable
		return
	}
	pieces := math.Ceil((x1 - x0) / arcPiece)
	h := (x1 - x0) / pieces / 2
	g := gauss[gaussPoints(h, 0, math.Pi/2)]
	for i := 0.0; i < pieces; i++ {
		for j, gx := range g.x {
			ex := math.Exp(x0 + h*(2*i+1+gx))
			cosh, tan := (ex+1/ex)/2, c.k*(ex-1/ex)/2
			cos2 := 1 / (1 + tan*tan)
			c.add(2*tan*cos2, 2*tan*tan*cos2, c.minus*cosh*math.Sqrt(cos2), g.w[j]*h*2*c.k*cosh*cos2)
		}
	}
}

// opposite integrates over a piece of the other half circle, where nothing peaks.
func (c *arcEnd) opposite(lo, hi float64) {
	h := (hi - lo) / 2
	middle := math.Abs(lo+hi) / 2
	g := gauss[gaussPoints(h, math.Min(middle, 2*math.Pi-middle), 0)]
	for j, gx := range g.x {
		t := lo + h*(1+gx)
		sin, cos := math.Sincos(t)
		versin := 1 - cos
		s2 := (c.r-c.rho)*(c.r-c.rho) + 2*c.r*c.rho*versin
		c.add(sin, versin, math.Sqrt(s2+c.z*c.z), g.w[j]*h)
	}
}

// add takes the point at the angle with this sine and 1 - cosine, at the distance e, with weight w.
func (c *arcEnd) add(sin, versin, e, w float64) {
	n := complex(1-versin, sin)
	s := complex(c.r-c.rho-c.r*versin, c.r*sin)
	outward := c.r - c.rho*(1-versin) // n.s
	if c.n == first {
		c.D += w * outward / (e + c.z)
		c.G += complex(w*math.Log(e+c.z), 0) * n
		return
	}
	c.E += complex(w/e, 0) * n
	w /= e * (e + c.z)
	c.O += w * outward
	c.Z += complex(w, 0) * n * s
}

// flatArc gives the antiderivatives at the angle t of n.s/s^2, n s/s^2 and n ln|s| along an arc of radius r, seen from rho on the axis t = 0.
// With q = rho/r, w = exp(it) and the complex logarithms of s = r w - rho and of 1 - q w,
//
//	O0 = arg s,   Z0 = i (w/q + ln(1 - q w)/q^2),   G0 = -i r w ln|s| + i/2 (r w + rho ln s + r ln(1 - q w)/q).
//
// On the arc itself, q = 1, arg s is the mean of both sides. For small q the logarithm is a series.
func flatArc(r, rho, t, tol float64) (O0 float64, Z0, G0 complex128) {
	sin, cos := math.Sincos(t)
	half := math.Sin(t / 2)
	q := rho / r
	w := complex(cos, sin)
	lns := math.Log(math.Max((r-rho)*(r-rho)+4*r*rho*half*half, tol*tol)) / 2
	switch {
	case rho < r:
		O0 = t - math.Atan2(-q*sin, 1-q*cos)
	case rho > r:
		O0 = math.Atan2(-sin/q, 1-cos/q)
	default:
		O0 = t / 2
	}
	var byQ, byQ2 complex128 // ln(1 - q w)/q, and (w + that)/q
	if q < 0.2 {
		wk, qk := w, complex(1, 0)
		byQ = -w
		for k := 2; k < 26; k++ {
			wk *= w
			term := -wk * qk / complex(float64(k), 0)
			byQ2 += term
			qk *= complex(q, 0)
			byQ += term * complex(q, 0)
		}
	} else {
		byQ = complex(lns-math.Log(r), t-O0) / complex(q, 0)
		byQ2 = (w + byQ) / complex(q, 0)
	}
	Z0 = 1i * byQ2
	G0 = -1i*w*complex(r*lns, 0) + 0.5i*(complex(r, 0)*(w+byQ)+complex(rho*lns, rho*O0))
	return O0, Z0, G0
}

// wedgePoints is the most points of the volume rule on a quarter turn of a sector.
const wedgePoints = 500

// wedgeByVolume sums dipoles at Gauss points in cylindrical coordinates; ok is false when too many would be needed.
func wedgeByVolume(ro, ri, l, from, span float64, p r3.Vec, n order) (u derivatives, ok bool) {
	c := math.Hypot(ro, l)
	R := r3.Norm(p)
	if !(R > 2*c) {
		return u, false
	}
	if R > 1e60 {
		return u, true
	}
	pieces := math.Ceil(span/(math.Pi/2) - 1e-9)
	hr, ht := (ro-ri)/2, span/pieces/2
	nr, nz := gaussPoints(hr, hr+R-c, 0), gaussPoints(l, l+R-c, 0)
	nt := gaussPoints(ht, 0, math.Log(R/ro)) // the chord vanishes at this imaginary angle or beyond
	if max(nr, nz, nt) > maxGauss || nr*nz*nt > wedgePoints {
		return u, false
	}
	for i := 0.0; i < pieces; i++ {
		for j, gt := range gauss[nt].x {
			sin, cos := math.Sincos(from + ht*(2*i+1+gt))
			for k, gr := range gauss[nr].x {
				r := (ro+ri)/2 + hr*gr
				x, y, w := p.X-r*cos, p.Y-r*sin, gauss[nt].w[j]*gauss[nr].w[k]*r
				for m, gz := range gauss[nz].x {
					u.dipole(x, y, p.Z-l*gz, w*gauss[nz].w[m], n)
				}
			}
		}
	}
	u.scale(ht * hr * l)
	return u, true
}
