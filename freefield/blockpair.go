package freefield

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"

	"polewright/material"
)

// This file holds the force and the torque between two blocks with parallel edges and any polarizations, in closed form (G. Akoun, J.-P. Yonnet,
// IEEE Trans. Magn. 20 (1984) 1962, for one direction of both; J. L. G. Janssen, J. J. H. Paulides, F. Compter, E. A. Lomonova, IEEE Trans. Magn. 46
// (2010) 1962, from memory, for the others and the torque; derived anew here).
//
// With the double potential G(R) = int over both volumes of 1/|R + s - t| and the corners' coordinates x = X +- b -+ a and so on, G is the sum over 64
// corners of a function Phi with the derivative 1/r, twice in each direction. With Lx = arsinh(x/sqrt(y^2+z^2)), Ax = atan(yz/(x r)) and cyclically, up to
// terms that are linear in a direction, which the sum takes out,
//
//	Phi_aab = (c^2 - a^2)/2 Lb + b c Lc - c a Aa - r b/2            a, b, c any order of x, y, z
//	Phi_xyz = x y Lz + y z Lx + z x Ly - (x^2 Ax + y^2 Ay + z^2 Az)/2
//
// and Phi_aaa = -Phi_abb - Phi_acc, for the bodies do not overlap. The force is Fk = sum J_p J'_q Phi_pqk/(4 pi mu0). The torque is
// that of the force on every dipole, s x (J'.grad) H, and J' x H. The arm s_m along m needs, by parts, the integral of each Phi_pqk along m as
// well: functions of degree 3 in these logarithms and arctangents, found with unknown coefficients, and checked, by the derivative.

// corner of a pair of blocks: coordinates, distance, logarithms and arctangents.
type corner struct {
	q, l, a [3]float64
	r       float64
}

func newCorner(x, y, z float64) (c corner) {
	c.q = [3]float64{x, y, z}
	s := [3]float64{x * x, y * y, z * z}
	c.r = math.Sqrt(s[0] + s[1] + s[2])
	for i := range 3 {
		j, k := (i+1)%3, (i+2)%3
		if rho2 := s[j] + s[k]; rho2 > 0 { // else the factors of l are zero
			t := math.Abs(c.q[i]) + c.r
			c.l[i] = math.Copysign(logOfRatio(t*t, rho2)/2, c.q[i])
		}
		if c.q[i] != 0 {
			c.a[i] = argument(math.Copysign(c.q[j]*c.q[k], c.q[i]*c.q[j]*c.q[k]), math.Abs(c.q[i])*c.r)
		}
	}
	return c
}

// aab is Phi_aab.
func (c *corner) aab(a, b int) float64 {
	n := 3 - a - b
	x, y, z := c.q[a], c.q[b], c.q[n]
	return (z*z-x*x)/2*c.l[b] + y*z*c.l[n] - z*x*c.a[a] - c.r*y/2
}

func (c *corner) xyz() float64 {
	x, y, z := c.q[0], c.q[1], c.q[2]
	return x*y*c.l[2] + y*z*c.l[0] + z*x*c.l[1] - (x*x*c.a[0]+y*y*c.a[1]+z*z*c.a[2])/2
}

// mmk is the integral of Phi_mmk along m.
func (c *corner) mmk(m, k int) float64 {
	n := 3 - m - k
	x, y, z := c.q[m], c.q[k], c.q[n]
	return (y*z*z/2-y*y*y/6)*c.l[m] + (x*z*z/2-x*x*x/6)*c.l[k] + x*y*z*c.l[n] -
		z*z*z/6*c.a[n] - y*y*z/2*c.a[k] - x*x*z/2*c.a[m] - c.r*x*y/3
}

// nnk is the integral of Phi_nnk along m, the third direction.
func (c *corner) nnk(m, k int) float64 {
	n := 3 - m - k
	x, y, z := c.q[m], c.q[k], c.q[n]
	return (x*x*y/2-y*z*z/4-y*y*y/12)*c.l[m] + (x*x*x/6-x*z*z/2)*c.l[k] + (z*z*z/6-x*x*z/2)*c.a[n] - 5*c.r*x*y/12
}

// kkm is the integral of Phi_kkm along m.
func (c *corner) kkm(m, k int) float64 {
	n := 3 - m - k
	x, y, z := c.q[m], c.q[k], c.q[n]
	return x*(z*z-y*y)/2*c.l[m] + z*(x*x-y*y)/2*c.l[n] - x*y*z*c.a[k] + c.r*(2*y*y-z*z-x*x)/6
}

// xyzAlong is the integral of Phi_xyz along m.
func (c *corner) xyzAlong(m int) float64 {
	k, n := (m+1)%3, (m+2)%3
	x, y, z := c.q[m], c.q[k], c.q[n]
	return x*y*z*c.l[m] + (x*x*z/2-z*z*z/6)*c.l[k] + (x*x*y/2-y*y*y/6)*c.l[n] -
		x*x*x/6*c.a[m] - x*y*y/2*c.a[k] - x*z*z/2*c.a[n] - c.r*y*z/3
}

// blockPair is the force and the torque about its centre that a block of half edges a and polarization j exerts on one of half edges b and
// polarization k, whose centre lies at d from the first, all in the blocks' common frame.
func blockPair(a, b, d, j, k [3]float64) (force, torque [3]float64) {
	var c [3][3]float64 // J_p J'_q, both orders together off the diagonal
	for p := range 3 {
		c[p][p] = j[p] * k[p]
		for q := range p {
			c[p][q] = j[p]*k[q] + j[q]*k[p]
			c[q][p] = c[p][q]
		}
	}
	var arm [3]float64
	for i := range 64 {
		sign := -1.0
		var at [3]float64
		for n := range 3 {
			s, t := float64(i>>(2*n)&1*2-1), float64(i>>(2*n+1)&1*2-1)
			sign *= s * t
			arm[n] = s * b[n]
			at[n] = d[n] + arm[n] - t*a[n]
		}
		v := newCorner(at[0], at[1], at[2])
		xyz := v.xyz()
		var f [3]float64
		for k := range 3 {
			m, n := (k+1)%3, (k+2)%3
			f[k] = sign * ((c[m][m]-c[k][k])*v.aab(m, k) + (c[n][n]-c[k][k])*v.aab(n, k) + c[m][k]*v.aab(k, m) + c[n][k]*v.aab(k, n) + c[m][n]*xyz)
			force[k] += f[k]
		}
		h := v.field(&j)
		for i := range 3 {
			m, n := (i+1)%3, (i+2)%3
			torque[i] += arm[m]*f[n] - arm[n]*f[m] - sign*(v.gamma(&c, m, n)-v.gamma(&c, n, m)-k[m]*h[n]+k[n]*h[m])
		}
	}
	return force, torque
}

// field is the corner's part of the integral of H over the second block: sum over p of J_p Phi_pk, each Phi_pk an integral of a Phi_pkm.
func (v *corner) field(j *[3]float64) (h [3]float64) {
	xy, yz, zx := v.xyzAlong(2), v.xyzAlong(0), v.xyzAlong(1)
	return [3]float64{
		j[0]*v.kkm(1, 0) + j[1]*xy + j[2]*zx,
		j[0]*xy + j[1]*v.kkm(2, 1) + j[2]*yz,
		j[0]*zx + j[1]*yz + j[2]*v.kkm(0, 2),
	}
}

// gamma is the integral along m of the corner's part of the force along k.
func (v *corner) gamma(c *[3][3]float64, m, k int) (sum float64) {
	n := 3 - m - k
	if f := c[m][m] - c[k][k]; f != 0 {
		sum += f * v.mmk(m, k)
	}
	if f := c[n][n] - c[k][k]; f != 0 {
		sum += f * v.nnk(m, k)
	}
	if c[m][k] != 0 {
		sum += c[m][k] * v.kkm(m, k)
	}
	if c[n][k] != 0 {
		sum += c[n][k] * v.nnk(m, n) // of Phi_kkn
	}
	if c[m][n] != 0 {
		sum += c[m][n] * v.xyzAlong(m)
	}
	return sum
}

// parallelBlocks is the wrench of a on b in closed form; ok is false for other bodies, or where the corners' differences would lose too much.
func parallelBlocks(a, b *prepared) (w wrench, ok bool) {
	if a.half == (r3.Vec{}) || b.half == (r3.Vec{}) {
		return w, false
	}
	var half [3]float64 // of b, in a's frame
	edges := [3]float64{b.half.X, b.half.Y, b.half.Z}
	for i := range 3 {
		for k := range 3 {
			c := 0.0
			for l := range 3 {
				c += a.Place.Rot[l][i] * b.Place.Rot[l][k]
			}
			switch c = math.Abs(c); {
			case math.Abs(c-1) < near:
				half[i] = edges[k]
			case c > near:
				return w, false
			}
		}
	}
	array := func(v r3.Vec) [3]float64 { return [3]float64{v.X, v.Y, v.Z} }
	d := a.Place.ToLocal(b.Place.Center)
	// The corners' terms are of the size of D^2, D the extent of both, and good to 1e-15 of that; the absolute contributions are about the surface of b
	// times 4 pi of a's field.
	distance := r3.Norm(d)
	extent := distance + a.radius + b.radius
	volume := 8 * a.half.X * a.half.Y * a.half.Z
	if 1e-14*extent*extent > 1e-7*b.Solid.SurfaceArea()*min(2*math.Pi, volume/(distance*distance*distance)) {
		return w, false
	}
	f, t := blockPair(array(a.half), half, array(d), array(a.local), array(a.Place.Rot.Inverse(b.Polarization)))
	k := 1 / (4 * math.Pi * material.Mu0)
	world := func(v [3]float64) r3.Vec { return r3.Scale(k, a.Place.Rot.Apply(r3.Vec{X: v[0], Y: v[1], Z: v[2]})) }
	return wrench{force: world(f), torque: world(t)}, true
}
