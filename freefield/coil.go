package freefield

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/spatial/r3"

	"polewright/material"
	"polewright/shape"
)

// Coil is a winding of rectangular section about its local z axis with the same current density all through, in free space. Positive ampere-turns run
// right-handed about local z.
//
// Its field is that of Biot and Savart. A straight side of current density j has B = mu0/(4 pi) grad u x j with the Newtonian potential u of a
// block. An arc is integrated over its section in closed form and over its angle by a Gauss rule, see [arcSection]. B and H are good to
// about 1e-10 of the field of the nearest turns everywhere, within the winding and on its surface too.
type Coil struct {
	Winding     shape.Solid // a ring, or a racetrack, whose straight sides may have no length
	Place       shape.Placement
	AmpereTurns float64 // A
}

// Check tells whether the field of this coil can be given; the field of one that fails is not a number.
func (c Coil) Check() error {
	w, ok := c.winding()
	switch {
	case c.Winding == nil:
		return fmt.Errorf("this coil has no winding: give a ring or a racetrack")
	case !ok:
		return fmt.Errorf("%v: a coil can be a ring or a racetrack", c.Winding)
	case !w.sound():
		return fmt.Errorf("%v: a coil needs a build and a height above zero, and no corner radius over half of a side", c.Winding)
	case math.IsNaN(c.AmpereTurns) || math.IsInf(c.AmpereTurns, 0):
		return fmt.Errorf("%v: the ampere-turns %v are not a number of amperes", c.Winding, c.AmpereTurns)
	}
	return nil
}

// winding is the plan of a coil: four straight sides and four quarter arcs about (+-x, +-y), of which a ring has the arcs only.
type winding struct {
	x, y   float64 // centre of the corner's arcs
	radius float64 // of the inner arcs
	build  float64
	half   float64 // of the height
}

func (c Coil) winding() (w winding, ok bool) {
	switch s := c.Winding.(type) {
	case shape.Ring:
		ri := max(s.InnerDiameter/2, 0)
		return winding{radius: ri, build: s.OuterDiameter/2 - ri, half: s.Thickness / 2}, true
	case shape.Racetrack:
		return winding{s.CoreX/2 - s.CornerRadius, s.CoreY/2 - s.CornerRadius, s.CornerRadius, s.Build, s.Width / 2}, true
	}
	return w, false
}

func (w winding) sound() bool {
	size := w.x + w.y + w.radius + w.build + w.half
	return w.x >= 0 && w.y >= 0 && w.radius >= 0 && w.build > 0 && w.half > 0 && !math.IsInf(size, 1)
}

// side is a straight side: a block with the current along its local direction.
type side struct {
	center, half, along r3.Vec
}

func (w winding) sides() []side {
	out := make([]side, 0, 4)
	m := w.radius + w.build/2
	if w.y > 0 {
		h := r3.Vec{X: w.build / 2, Y: w.y, Z: w.half}
		out = append(out, side{r3.Vec{X: w.x + m}, h, r3.Vec{Y: 1}}, side{r3.Vec{X: -w.x - m}, h, r3.Vec{Y: -1}})
	}
	if w.x > 0 {
		h := r3.Vec{X: w.x, Y: w.build / 2, Z: w.half}
		out = append(out, side{r3.Vec{Y: w.y + m}, h, r3.Vec{X: -1}}, side{r3.Vec{Y: -w.y - m}, h, r3.Vec{X: 1}})
	}
	return out
}

// corner is the centre of quarter arc number i, from the angle i pi/2 on.
func (w winding) corner(i int) r3.Vec {
	return r3.Vec{X: [4]float64{w.x, -w.x, -w.x, w.x}[i], Y: [4]float64{w.y, w.y, -w.y, -w.y}[i]}
}

// distance of a point of the coil's frame from the winding, zero within.
func (w winding) distance(p r3.Vec) float64 {
	x, y := math.Abs(p.X)-w.x, math.Abs(p.Y)-w.y
	depth := math.Hypot(max(x, 0), max(y, 0)) + min(max(x, y), 0) - w.radius // outward from the bore
	return math.Hypot(max(-depth, depth-w.build, 0), max(math.Abs(p.Z)-w.half, 0))
}

// B is the flux density in tesla at the world point p.
func (c Coil) B(p r3.Vec) r3.Vec { return r3.Scale(material.Mu0, c.H(p)) }

// H is the field in A/m at the world point p.
func (c Coil) H(p r3.Vec) r3.Vec {
	w, ok := c.winding()
	q := c.Place.ToLocal(p)
	if !ok || !w.sound() || math.IsNaN(q.X+q.Y+q.Z) {
		if c.Winding == nil {
			return r3.Vec{}
		}
		return r3.Vec{X: math.NaN(), Y: math.NaN(), Z: math.NaN()}
	}
	if r3.Norm(q) > 1e60 {
		return r3.Vec{}
	}
	var h r3.Vec
	for _, s := range w.sides() {
		u := block(shape.Block{Size: r3.Scale(2, s.half)}, r3.Sub(q, s.center), first)
		h = r3.Add(h, r3.Cross(r3.Vec{X: u.x, Y: u.y, Z: u.z}, s.along))
	}
	if w.x == 0 && w.y == 0 {
		h = r3.Add(h, w.arc(q, 0, 2*math.Pi))
	} else {
		for i := range 4 {
			h = r3.Add(h, w.arc(r3.Sub(q, w.corner(i)), float64(i)*math.Pi/2, math.Pi/2))
		}
	}
	return c.Place.Rot.Apply(r3.Scale(c.density()/(4*math.Pi), h))
}

// density is the current density in A/m2.
func (c Coil) density() float64 {
	w, _ := c.winding()
	return c.AmpereTurns / (w.build * 2 * w.half)
}

// Moment is the magnetic moment in A m2: ampere-turns times the mean area of the turns.
func (c Coil) Moment() r3.Vec {
	w, ok := c.winding()
	if !ok || !w.sound() {
		return r3.Vec{}
	}
	inner := 4*w.x*w.y + 4*w.radius*(w.x+w.y) + math.Pi*w.radius*w.radius
	around := 4*(w.x+w.y) + 2*math.Pi*w.radius
	area := inner + around*w.build/2 + math.Pi*w.build*w.build/3 // the mean of the area at every depth
	return c.Place.Rot.Apply(r3.Vec{Z: c.AmpereTurns * area})
}

// rule gives points and weights (A m2) whose dipoles along local z are the coil's, for places that keep the distance clear from it: the equivalent
// magnetization is J times the build in the bore and falls evenly to zero across the winding, for its curl is the current density.
func (c Coil) rule(clear float64) (out []weighted) {
	w, ok := c.winding()
	if !ok || !w.sound() {
		return nil
	}
	top := c.density() * w.build
	add := func(at r3.Vec, points []weighted, share func(p r3.Vec) float64) {
		for _, q := range points {
			out = append(out, weighted{r3.Add(at, q.at), top * q.w * share(q.at)})
		}
	}
	even := func(r3.Vec) float64 { return 1 }
	block := func(x, y float64) []weighted {
		if !(x > 0 && y > 0) {
			return nil
		}
		return volumeRule(shape.Block{Size: r3.Vec{X: 2 * x, Y: 2 * y, Z: 2 * w.half}}, clear)
	}
	add(r3.Vec{}, block(w.x+w.radius, w.y), even)
	for _, y := range []float64{-1, 1} {
		add(r3.Vec{Y: y * (w.y + w.radius/2)}, block(w.x, w.radius/2), even)
	}
	for _, s := range w.sides() {
		out := r3.Cross(s.along, r3.Vec{Z: 1}) // away from the bore
		add(s.center, block(s.half.X, s.half.Y), func(p r3.Vec) float64 { return 0.5 - r3.Dot(out, p)/w.build })
	}
	for i := range 4 {
		arc := shape.Wedge{OuterDiameter: 2 * (w.radius + w.build), InnerDiameter: 2 * w.radius, Thickness: 2 * w.half, From: float64(i) * math.Pi / 2, To: float64(i+1) * math.Pi / 2}
		add(w.corner(i), volumeRule(arc, clear), func(p r3.Vec) float64 { return 1 - (math.Hypot(p.X, p.Y)-w.radius)/w.build })
		if w.radius > 0 {
			core := arc
			core.OuterDiameter, core.InnerDiameter = 2*w.radius, 0
			add(w.corner(i), volumeRule(core, clear), even)
		}
	}
	return out
}

// arc integrates Biot and Savart's law, without the density over 4 pi, over an arc of the winding about the origin.
func (w winding) arc(q r3.Vec, from, turn float64) (h r3.Vec) {
	a := arcSection{r1: w.radius, r2: w.radius + w.build, z1: q.Z - w.half, z2: q.Z + w.half, rho: math.Hypot(q.X, q.Y)}
	theta := math.Atan2(q.Y, q.X)
	a.prepare()
	pieces := math.Ceil(turn/(math.Pi/2) - 1e-9)
	turn /= pieces
	for i := 0.0; i < pieces; i++ {
		// The angle from the point's own; its middle within half a turn.
		lo := from + i*turn - theta
		lo -= 2 * math.Pi * math.Round((lo+turn/2)/(2*math.Pi))
		a.integrate(lo, lo+turn)
	}
	sin, cos := math.Sincos(theta)
	return r3.Vec{X: a.h.X*cos - a.h.Y*sin, Y: a.h.X*sin + a.h.Y*cos, Z: a.h.Z}
}

// arcSection integrates over the section r1 to r2, z1 to z2 (heights of the point over its upper and lower end) of an arc at the angle t from the
// point's own, and over t. With a = rho cos t and b = rho sin t the point's place along and across the section, x = r' - a and
// D^2 = x^2 + b^2 + z^2,
//
//	dH = (Ir e_r + Iz e_z) dt,   Ir = int int z (x + a)/D^3 dx dz,   Iz = int int x (x + a)/D^3 dx dz
//
//	Ir = -[D + a ln(x + D)],     Iz = [z ln(x + D) - b atan(x z/(b D)) - a ln(z + D)]
//
// between the corners (elementary integrals; the arctangent and logarithms are those of a block).
type arcSection struct {
	r1, r2, z1, z2, rho float64
	near, k             float64 // distance of the section at t = 0 from the point, and its ratio to the greatest one
	tol                 float64
	h                   r3.Vec // the integral, x towards the point, y across, z along the axis
	gr, gz              rule   // for a section that is small seen from the point
}

func (a *arcSection) prepare() {
	a.tol = near * max(a.r2, a.z2-a.z1)
	// The nearest point of the section's rim: integrands have their singularities there.
	x1, x2 := a.r1-a.rho, a.r2-a.rho
	ox, oz := max(x1, -x2, 0), max(a.z1, -a.z2, 0)
	a.near = math.Hypot(ox, oz)
	if a.near == 0 {
		a.near = min(math.Abs(x1), math.Abs(x2), math.Abs(a.z1), math.Abs(a.z2))
	}
	r := min(max(a.rho, a.r1), a.r2)
	a.near = max(a.near, a.tol*1e3)
	a.k = a.near / math.Hypot(r+a.rho, oz)
	// Where the differences at the corners would lose digits, a Gauss rule over the section does as well.
	if section := (a.r2 - a.r1) * (a.z2 - a.z1); a.near*a.near > 1e3*section {
		hr, hz := (a.r2-a.r1)/2, (a.z2-a.z1)/2
		nr, nz := gaussPoints(hr, hr+a.near, 0), gaussPoints(hz, 0, a.near)
		if max(nr, nz) <= maxGauss {
			a.gr, a.gz = gauss[nr], gauss[nz]
		}
	}
}

// integrate adds the angles from lo to hi, at most a quarter turn, its middle within half a turn.
func (a *arcSection) integrate(lo, hi float64) {
	for _, cut := range [5][2]float64{{-2 * math.Pi, -math.Pi / 2}, {-math.Pi / 2, 0}, {0, math.Pi / 2}, {math.Pi / 2, 2 * math.Pi}} {
		t0, t1 := max(lo, cut[0]), min(hi, cut[1])
		if !(t0 < t1) {
			continue
		}
		if max(math.Abs(t0), math.Abs(t1)) > math.Pi/2 {
			a.opposite(t0, t1)
		} else {
			a.close(t0, t1)
		}
	}
}

// close integrates beside the point with tan(t/2) = k sinh(s), as [arcEnd.close] does: singularities stand at the imaginary part pi/2 or beyond.
func (a *arcSection) close(t0, t1 float64) {
	s0, s1 := math.Asinh(math.Tan(t0/2)/a.k), math.Asinh(math.Tan(t1/2)/a.k)
	if !(s1 > s0) {
		return
	}
	pieces := math.Ceil((s1 - s0) / arcPiece)
	half := (s1 - s0) / pieces / 2
	g := gauss[min(gaussPoints(half, 0, math.Pi/2), maxGauss)]
	for i := 0.0; i < pieces; i++ {
		for j, x := range g.x {
			e := math.Exp(s0 + half*(2*i+1+x))
			cosh, tan := (e+1/e)/2, a.k*(e-1/e)/2
			cos2 := 1 / (1 + tan*tan)
			a.add(2*tan*cos2, 2*tan*tan*cos2, g.w[j]*half*2*a.k*cosh*cos2)
		}
	}
}

func (a *arcSection) opposite(t0, t1 float64) {
	half := (t1 - t0) / 2
	middle := math.Abs(t0+t1) / 2
	g := gauss[min(gaussPoints(half, min(middle, 2*math.Pi-middle), 0), maxGauss)]
	for j, x := range g.x {
		sin, cos := math.Sincos(t0 + half*(1+x))
		a.add(sin, 1-cos, g.w[j]*half)
	}
}

// add takes the section at the angle with this sine and 1 - cosine, with weight w.
func (a *arcSection) add(sin, versin, w float64) {
	along, across := a.rho*(1-versin), a.rho*sin
	// r' - rho cos t, without loss where both are near.
	x1, x2 := onto(a.r1-a.rho+a.rho*versin, a.tol), onto(a.r2-a.rho+a.rho*versin, a.tol)
	var ir, iz float64
	if a.gr.x != nil {
		ir, iz = a.bySum(along, across, x1, x2)
	} else {
		ir, iz = sectionByCorners(along, math.Abs(across), x1, x2, onto(a.z1, a.tol), onto(a.z2, a.tol), a.tol)
	}
	a.h.X += w * ir * (1 - versin)
	a.h.Y += w * ir * sin
	a.h.Z += w * iz
}

func (a *arcSection) bySum(along, across, x1, x2 float64) (ir, iz float64) {
	hr, hz := (x2-x1)/2, (a.z2-a.z1)/2
	for i, gx := range a.gr.x {
		x := x1 + hr*(1+gx)
		for j, gz := range a.gz.x {
			z := a.z1 + hz*(1+gz)
			i2 := 1 / (x*x + across*across + z*z)
			f := a.gr.w[i] * a.gz.w[j] * (x + along) * i2 * math.Sqrt(i2)
			ir += f * z
			iz += f * x
		}
	}
	return ir * hr * hz, iz * hr * hz
}

func sectionByCorners(a, b, x1, x2, z1, z2, tol float64) (ir, iz float64) {
	b2 := b * b
	d11, d12 := math.Sqrt(x1*x1+b2+z1*z1), math.Sqrt(x1*x1+b2+z2*z2)
	d21, d22 := math.Sqrt(x2*x2+b2+z1*z1), math.Sqrt(x2*x2+b2+z2*z2)
	l1 := logRatio([2]float64{x1, x2}, [2]float64{d11, d21}, b2+z1*z1, tol)
	l2 := logRatio([2]float64{x1, x2}, [2]float64{d12, d22}, b2+z2*z2, tol)
	k1 := logRatio([2]float64{z1, z2}, [2]float64{d11, d12}, b2+x1*x1, tol)
	k2 := logRatio([2]float64{z1, z2}, [2]float64{d21, d22}, b2+x2*x2, tol)
	turn := angle(b, x2, [2]float64{z1, z2}, [2]float64{d21, d22}) - angle(b, x1, [2]float64{z1, z2}, [2]float64{d11, d12})
	ir = -((d22 - d12 - d21 + d11) + a*(l2-l1))
	iz = z2*l2 - z1*l1 - b*turn - a*(k2-k1)
	return ir, iz
}
