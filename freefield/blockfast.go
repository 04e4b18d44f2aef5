package freefield

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"

	"polewright/shape"
)

// This file holds the field of a block at speed: the corners' logarithms and arctangents of [blockByCorners] (Akoun and Yonnet 1984), but all
// logarithms of a component in one and the arctangents of a face in one. A point on the plane of a face goes to the slower sum, which takes the
// means.

const (
	// closedReach bounds R^3 over the volume for the closed forms: their error is some 8e-16 of J, the field J V/(4 pi R^3): 1e-11 there.
	closedReach = 10000
	// leastBlock and mostBlock bound the largest half edge (m) for which products of 24 lengths stay within a float64.
	leastBlock, mostBlock = 1e-7, 1e4
)

// blockTimes gives grad grad u . j and the share of a block about a point in the block's frame, with the polarization j there.
func blockTimes(h, p, j r3.Vec) (f r3.Vec, share float64) {
	most := max(h.X, h.Y, h.Z)
	tol := near * most
	x0, x1, y0, y1, z0, z1 := p.X-h.X, p.X+h.X, p.Y-h.Y, p.Y+h.Y, p.Z-h.Z, p.Z+h.Z
	least := min(math.Abs(x0), math.Abs(x1), math.Abs(y0), math.Abs(y1), math.Abs(z0), math.Abs(z1))
	r2 := p.X*p.X + p.Y*p.Y + p.Z*p.Z
	v := 8 * h.X * h.Y * h.Z
	if !(least > tol && r2*r2*r2 < closedReach*closedReach*v*v && most > leastBlock && most < mostBlock) {
		if g, ok := farRule(h, r2); ok {
			return dipolesTimes(h, p, j, g), 0
		}
		u := block(shape.Block{Size: r3.Scale(2, h)}, p, second)
		return u.times(j), u.share
	}
	c := corners{x0: x0, x1: x1, y0: y0, y1: y1, z0: z0, z1: z1}
	c.distances()
	inX, inY, inZ := x0 < 0 && x1 > 0, y0 < 0 && y1 > 0, z0 < 0 && z1 > 0
	if inX && inY && inZ {
		share = 1
	}
	var xx, yy, zz float64
	switch {
	case j.X != 0 && j.Y != 0 && j.Z != 0:
		xx, yy = c.xx(inY && inZ), c.yy(inZ && inX)
		zz = -4*math.Pi*share - xx - yy // the trace: Poisson's equation
	default:
		if j.X != 0 {
			xx = c.xx(inY && inZ)
		}
		if j.Y != 0 {
			yy = c.yy(inZ && inX)
		}
		if j.Z != 0 {
			zz = c.zz(inX && inY)
		}
	}
	f = r3.Vec{X: xx * j.X, Y: yy * j.Y, Z: zz * j.Z}
	if j.X != 0 || j.Y != 0 {
		xy := c.xy()
		f.X += xy * j.Y
		f.Y += xy * j.X
	}
	if j.Y != 0 || j.Z != 0 {
		yz := c.yz()
		f.Y += yz * j.Z
		f.Z += yz * j.Y
	}
	if j.Z != 0 || j.X != 0 {
		zx := c.zx()
		f.Z += zx * j.X
		f.X += zx * j.Z
	}
	return f, share
}

// times is grad grad u . j.
func (u derivatives) times(j r3.Vec) r3.Vec {
	return r3.Vec{
		X: u.xx*j.X + u.xy*j.Y + u.xz*j.Z,
		Y: u.xy*j.X + u.yy*j.Y + u.yz*j.Z,
		Z: u.xz*j.X + u.yz*j.Y + u.zz*j.Z,
	}
}

// corners holds the coordinates of a point past the lower (1) and upper (0) faces of a block and its distances rijk from the corners.
type corners struct {
	x0, x1, y0, y1, z0, z1                         float64
	r000, r001, r010, r011, r100, r101, r110, r111 float64
	xx0, xx1, yy0, yy1, zz0, zz1                   float64 // squares
}

func (c *corners) distances() {
	c.xx0, c.xx1 = c.x0*c.x0, c.x1*c.x1
	c.yy0, c.yy1 = c.y0*c.y0, c.y1*c.y1
	c.zz0, c.zz1 = c.z0*c.z0, c.z1*c.z1
	a, b, d, e := c.xx0+c.yy0, c.xx0+c.yy1, c.xx1+c.yy0, c.xx1+c.yy1
	c.r000, c.r001 = math.Sqrt(a+c.zz0), math.Sqrt(a+c.zz1)
	c.r010, c.r011 = math.Sqrt(b+c.zz0), math.Sqrt(b+c.zz1)
	c.r100, c.r101 = math.Sqrt(d+c.zz0), math.Sqrt(d+c.zz1)
	c.r110, c.r111 = math.Sqrt(e+c.zz0), math.Sqrt(e+c.zz1)
}

func (c *corners) xx(within bool) float64 {
	ar, ai := solid(math.Abs(c.x0), c.y0, c.y1, c.z0, c.z1, c.r000, c.r001, c.r010, c.r011)
	br, bi := solid(math.Abs(c.x1), c.y0, c.y1, c.z0, c.z1, c.r100, c.r101, c.r110, c.r111)
	return bothFaces(c.x0, c.x1, ar, ai, br, bi, within)
}

func (c *corners) yy(within bool) float64 {
	ar, ai := solid(math.Abs(c.y0), c.z0, c.z1, c.x0, c.x1, c.r000, c.r100, c.r001, c.r101)
	br, bi := solid(math.Abs(c.y1), c.z0, c.z1, c.x0, c.x1, c.r010, c.r110, c.r011, c.r111)
	return bothFaces(c.y0, c.y1, ar, ai, br, bi, within)
}

func (c *corners) zz(within bool) float64 {
	ar, ai := solid(math.Abs(c.z0), c.x0, c.x1, c.y0, c.y1, c.r000, c.r010, c.r100, c.r110)
	br, bi := solid(math.Abs(c.z1), c.x0, c.x1, c.y0, c.y1, c.r001, c.r011, c.r101, c.r111)
	return bothFaces(c.z0, c.z1, ar, ai, br, bi, within)
}

// solid is a complex number whose argument is the solid angle of a rectangle at the distance x > 0: the product over its corners of
// x r +- i y z. rjk is the distance of the corner (yj, zk).
func solid(x, y0, y1, z0, z1, r00, r01, r10, r11 float64) (re, im float64) {
	a, b := x*r00, y0*z0
	c, d := x*r01, -y0*z1
	e, f := x*r10, -y1*z0
	g, h := x*r11, y1*z1
	a, b = a*c-b*d, a*d+b*c
	e, f = e*g-f*h, e*h+f*g
	return a*e - b*f, a*f + b*e
}

// bothFaces adds the solid angles of the faces at x0 < x1, a and b their complex numbers: u_xx is that of the face at x0 less that of the one at
// x1, each with the sign of its x. Their product has both in one argument, up to a turn, which these bounds settle. Without within the point projects
// beside the faces and sees each under at most half of a half space, pi: a difference is within +-pi, a sum is positive. With within
// the nearer of two faces on one side is the larger. Only inside the block, where the sum may pass a turn, it takes two arguments.
func bothFaces(x0, x1, ar, ai, br, bi float64, within bool) float64 {
	switch {
	case x0 < 0 && x1 > 0 && within:
		return -positiveAngle(argument(ai, ar)) - positiveAngle(argument(bi, br))
	case x0 < 0 && x1 > 0:
		return -positiveAngle(argument(bi*ar+br*ai, br*ar-bi*ai))
	}
	d := argument(ai*br-ar*bi, ar*br+ai*bi) // of the face at x0 less that at x1
	if x1 < 0 {
		d = -d
	}
	if within {
		return positiveAngle(d)
	}
	return d
}

// positiveAngle puts an angle that is known to be positive and less than a turn into that range. One just below zero is rounding only: angles here
// are more than 1e-10, and short of a turn by more than 1e-12, where a face is all but touched.
func positiveAngle(a float64) float64 {
	if a < -1e-13 {
		return a + 2*math.Pi
	}
	return a
}

func (c *corners) xy() float64 {
	z0, z1 := math.Abs(c.z0), math.Abs(c.z1)
	n0, n1 := (z0+c.r000)*(z0+c.r110), (z1+c.r001)*(z1+c.r111)
	m0, m1 := (z0+c.r010)*(z0+c.r100), (z1+c.r011)*(z1+c.r101)
	return logOfEdges(c.z0, c.z1, n0, n1, m0, m1, (c.xx0+c.yy0)*(c.xx1+c.yy1), (c.xx0+c.yy1)*(c.xx1+c.yy0))
}

func (c *corners) yz() float64 {
	x0, x1 := math.Abs(c.x0), math.Abs(c.x1)
	n0, n1 := (x0+c.r000)*(x0+c.r011), (x1+c.r100)*(x1+c.r111)
	m0, m1 := (x0+c.r001)*(x0+c.r010), (x1+c.r101)*(x1+c.r110)
	return logOfEdges(c.x0, c.x1, n0, n1, m0, m1, (c.yy0+c.zz0)*(c.yy1+c.zz1), (c.yy0+c.zz1)*(c.yy1+c.zz0))
}

func (c *corners) zx() float64 {
	y0, y1 := math.Abs(c.y0), math.Abs(c.y1)
	n0, n1 := (y0+c.r000)*(y0+c.r101), (y1+c.r010)*(y1+c.r111)
	m0, m1 := (y0+c.r100)*(y0+c.r001), (y1+c.r110)*(y1+c.r011)
	return logOfEdges(c.y0, c.y1, n0, n1, m0, m1, (c.zz0+c.xx0)*(c.zz1+c.xx1), (c.zz0+c.xx1)*(c.zz1+c.xx0))
}

// logOfEdges is the sum over four parallel edges from z0 to z1 of +-ln((z1 + r1)/(z0 + r0)), in the forms of [logRatio]: n0, n1 are the
// products of |z| + r over both edges that count positive, at their lower and upper end, m0, m1 those of the negative ones; dn and dm
// the products of the squared distances from them.
func logOfEdges(z0, z1, n0, n1, m0, m1, dn, dm float64) float64 {
	switch {
	case z0 > 0:
		return logOfRatio(n1*m0, n0*m1)
	case z1 < 0:
		return logOfRatio(n0*m1, n1*m0)
	}
	return logOfRatio(n0*n1*dm, m0*m1*dn)
}

// farRule gives the Gauss rules that integrate dipoles over a block from the distance sqrt(r2) to 1e-12; ok is false nearer than 13 half edges. The
// error of the rule of n points is e_n h^(2n) times the 2n-th derivative (Davis and Rabinowitz 1984, section 2.7), which for the field of a dipole at R
// makes 1.33 (h/R)^4, 0.64 (h/R)^6, 0.26 (h/R)^8 and 0.11 (h/R)^10 of it for n = 2 to 5.
func farRule(h r3.Vec, r2 float64) (n [3]int, ok bool) {
	r := math.Sqrt(r2) - math.Sqrt(h.X*h.X+h.Y*h.Y+h.Z*h.Z) // from the nearest point
	if !(r > 13*max(h.X, h.Y, h.Z) && h.X > 0 && h.Y > 0 && h.Z > 0 && r < 1e60) {
		return n, false
	}
	for i, h := range [3]float64{h.X, h.Y, h.Z} {
		switch {
		case r > 1.4e6*h:
			n[i] = 1
		case r > 1100*h:
			n[i] = 2
		case r > 95*h:
			n[i] = 3
		case r > 28*h:
			n[i] = 4
		default:
			n[i] = 5
		}
	}
	return n, true
}

// dipolesTimes sums the field of dipoles j at the Gauss points of a block.
func dipolesTimes(h, p, j r3.Vec, n [3]int) (f r3.Vec) {
	gx, gy, gz := gauss[n[0]], gauss[n[1]], gauss[n[2]]
	for i, a := range gx.x {
		x := p.X - h.X*a
		for k, b := range gy.x {
			y := p.Y - h.Y*b
			w := gx.w[i] * gy.w[k]
			s, t := x*x+y*y, x*j.X+y*j.Y
			for l, c := range gz.x {
				z := p.Z - h.Z*c
				i2 := 1 / (s + z*z)
				g := w * gz.w[l] * i2 * math.Sqrt(i2)
				q := 3 * g * i2 * (t + z*j.Z)
				f.X += q*x - g*j.X
				f.Y += q*y - g*j.Y
				f.Z += q*z - g*j.Z
			}
		}
	}
	return r3.Scale(h.X*h.Y*h.Z, f)
}
