package freefield

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"

	"polewright/shape"
)

// volumePoints is the most Gauss points spent on a block before the closed form is taken: beyond it the closed form is both faster and
// good to 1e-12.
const volumePoints = 216

// block gives the derivatives of the Newtonian potential of a block.
func block(s shape.Block, p r3.Vec, n order) derivatives {
	h := s.HalfExtent()
	if !(h.X > 0 && h.Y > 0 && h.Z > 0) || math.IsInf(h.X+h.Y+h.Z, 1) {
		return derivatives{}
	}
	if math.IsNaN(p.X + p.Y + p.Z) {
		return nothing(s)
	}
	// The nearest singularity along each axis lies at the point's coordinate, off by the distance in the other two.
	out := r3.Vec{X: math.Max(math.Abs(p.X)-h.X, 0), Y: math.Max(math.Abs(p.Y)-h.Y, 0), Z: math.Max(math.Abs(p.Z)-h.Z, 0)}
	if out != (r3.Vec{}) {
		nx := gaussPoints(h.X, p.X, math.Hypot(out.Y, out.Z))
		ny := gaussPoints(h.Y, p.Y, math.Hypot(out.Z, out.X))
		nz := gaussPoints(h.Z, p.Z, math.Hypot(out.X, out.Y))
		if max(nx, ny, nz) <= maxGauss && nx*ny*nz <= volumePoints {
			return blockByVolume(h, p, [3]rule{gauss[nx], gauss[ny], gauss[nz]}, n)
		}
	}
	return blockByCorners(h, p)
}

// blockByCorners sums the antiderivatives over the eight corners. With X = x - x' and so on and r = |(X, Y, Z)|, the threefold
// antiderivative F of 1/r has
//
//	F_xy = ln(Z + r),  F_xx = -atan(YZ / (X r)),  F_x = Y ln(Z + r) + Z ln(Y + r) - X atan(YZ / (X r))
//
// and their cyclic exchanges (Akoun and Yonnet 1984, in our notation). Logarithms and arctangents are taken of pairs of corners.
func blockByCorners(h, p r3.Vec) (u derivatives) {
	tol := near * math.Max(h.X, math.Max(h.Y, h.Z))
	// e[a][0] is the coordinate past the upper face, e[a][1] past the lower one; the sign of a corner is the product of -1 for each 0.
	e := [3][2]float64{
		{onto(p.X-h.X, tol), onto(p.X+h.X, tol)},
		{onto(p.Y-h.Y, tol), onto(p.Y+h.Y, tol)},
		{onto(p.Z-h.Z, tol), onto(p.Z+h.Z, tol)},
	}
	u.share = between(e[0][0], e[0][1]) * between(e[1][0], e[1][1]) * between(e[2][0], e[2][1])
	var r [2][2][2]float64
	for i, x := range e[0] {
		for j, y := range e[1] {
			for k, z := range e[2] {
				r[i][j][k] = math.Sqrt(x*x + y*y + z*z)
			}
		}
	}
	var xx, yy, zz, xy, yz, zx float64
	for i := range 2 {
		for j := range 2 {
			sign := 1.0
			if i != j {
				sign = -1
			}
			// Edges along z, at (X, Y).
			X, Y := e[0][i], e[1][j]
			z, rz := e[2], [2]float64{r[i][j][0], r[i][j][1]}
			l := logRatio(z, rz, X*X+Y*Y, tol)
			ax := angle(X, Y, z, rz)
			xy += sign * l
			xx -= sign * ax
			u.x += sign * (Y*l - X*ax)
			u.y += sign * X * l
			// Edges along x, at (Y, Z).
			Y, Z := e[1][i], e[2][j]
			x, rx := e[0], [2]float64{r[0][i][j], r[1][i][j]}
			l = logRatio(x, rx, Y*Y+Z*Z, tol)
			ay := angle(Y, Z, x, rx)
			yz += sign * l
			yy -= sign * ay
			u.y += sign * (Z*l - Y*ay)
			u.z += sign * Y * l
			// Edges along y, at (Z, X).
			Z, X = e[2][i], e[0][j]
			y, ry := e[1], [2]float64{r[j][0][i], r[j][1][i]}
			l = logRatio(y, ry, Z*Z+X*X, tol)
			az := angle(Z, X, y, ry)
			zx += sign * l
			zz -= sign * az
			u.z += sign * (X*l - Z*az)
			u.x += sign * Z * l
		}
	}
	u.xx, u.yy, u.zz, u.xy, u.yz, u.xz = xx, yy, zz, xy, yz, zx
	return u
}

// logRatio is ln(z1 + r1) - ln(z0 + r0) along an edge from z0 to z1 > z0 at the squared distance d2 = r^2 - z^2. On the edge
// itself, where it grows without bound, d2 is held at tol^2.
func logRatio(z, r [2]float64, d2, tol float64) float64 {
	switch {
	case z[0] > 0:
		return logOfRatio(z[1]+r[1], z[0]+r[0])
	case z[1] < 0:
		return logOfRatio(r[0]-z[0], r[1]-z[1])
	}
	d2 = math.Max(d2, tol*tol)
	// r is at least the held distance, too: a corner has r = 0.
	return logOfRatio((z[1]+math.Sqrt(z[1]*z[1]+d2))*(math.Sqrt(z[0]*z[0]+d2)-z[0]), d2)
}

// angle is atan(y z1 / (x r1)) - atan(y z0 / (x r0)) in one arctangent: both lie within a right angle, so their difference is the
// argument of a product without doubt of a turn. In the plane x = 0 of a face it is the mean of both sides, zero.
func angle(x, y float64, z, r [2]float64) float64 {
	if x == 0 || y == 0 {
		return 0
	}
	d0, d1 := x*r[0], x*r[1]
	if x < 0 {
		d0, d1, y = -d0, -d1, -y
	}
	n0, n1 := y*z[0], y*z[1]
	return argument(n1*d0-n0*d1, d0*d1+n0*n1)
}

// blockByVolume sums dipoles at the Gauss points of the block.
func blockByVolume(h, p r3.Vec, g [3]rule, n order) (u derivatives) {
	for i, gx := range g[0].x {
		dx := p.X - h.X*gx
		for j, gy := range g[1].x {
			dy := p.Y - h.Y*gy
			w := g[0].w[i] * g[1].w[j]
			for k, gz := range g[2].x {
				u.dipole(dx, dy, p.Z-h.Z*gz, w*g[2].w[k], n)
			}
		}
	}
	u.scale(h.X * h.Y * h.Z)
	return u
}

// dipole adds a small volume w at (x, y, z) from the point.
func (u *derivatives) dipole(x, y, z, w float64, n order) {
	i2 := 1 / (x*x + y*y + z*z)
	f := w * i2 * math.Sqrt(i2)
	if n == first {
		u.x -= f * x
		u.y -= f * y
		u.z -= f * z
		return
	}
	f3 := 3 * f * i2
	u.xx += f3*x*x - f
	u.yy += f3*y*y - f
	u.zz += f3*z*z - f
	u.xy += f3 * x * y
	u.xz += f3 * x * z
	u.yz += f3 * y * z
}

func (u *derivatives) scale(f float64) {
	u.x, u.y, u.z = f*u.x, f*u.y, f*u.z
	u.xx, u.yy, u.zz = f*u.xx, f*u.yy, f*u.zz
	u.xy, u.xz, u.yz = f*u.xy, f*u.xz, f*u.yz
}
