package freefield

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"
)

// This file holds multipoles. The regular and the irregular solid harmonics are taken as
//
//	R_lm = r^l P_lm(cos theta) e^(i m phi)/(l+m)!     S_lm = (l-m)! P_lm(cos theta) e^(i m phi)/r^(l+1)
//
// without the sign (-1)^m (Hobson 1931; in this normalization M. A. Epton, B. Dembart, SIAM J. Sci. Comput. 16 (1995) 865, from memory). Then
//
//	1/|r - r'| = sum over l >= 0, |m| <= l of conj(R_lm(r')) S_lm(r)        r' < r
//	R_lm(a + b) = sum over k, n of R_kn(a) R_(l-k)(m-n)(b)
//
// f_l(-m) = (-1)^m conj(f_lm) for both, and derivatives are harmonics again: with d = dx + i dy and d* = dx - i dy,
//
//	dz R_lm = R_(l-1)m,    d R_lm = -R_(l-1)(m+1),   d* R_lm = R_(l-1)(m-1)
//	dz S_lm = -S_(l+1)m,   d S_lm = -S_(l+1)(m+1),   d* S_lm = S_(l+1)(m-1)
//
// Magnetization of density M has the potential phi = 1/(4 pi) sum conj(D_lm) S_lm, D_lm = int M . grad R_lm dV.

// mostDegree is the highest degree of the multipoles kept.
const mostDegree = 20

// termAt numbers the harmonics of order m >= 0 up to degree last, order by order.
func termAt(last, m, l int) int { return m*(last+1) - m*(m-1)/2 + l - m }

// termsTo is how many there are.
func termsTo(last int) int { return (last + 1) * (last + 2) / 2 }

// regular sets f to R_lm(v) up to degree last.
func regular(v r3.Vec, last int, f []complex128) {
	r2 := r3.Norm2(v)
	sectoral := complex(1, 0)
	for m := 0; m <= last; m++ {
		i := termAt(last, m, m)
		f[i] = sectoral
		var old complex128
		now := sectoral
		for l := m; l < last; l++ {
			up := 1 / float64((l+1-m)*(l+1+m))
			a, b := float64(2*l+1)*v.Z*up, r2*up
			now, old = complex(a*real(now)-b*real(old), a*imag(now)-b*imag(old)), now
			f[i+l+1-m] = now
		}
		sectoral *= complex(v.X, v.Y) / complex(float64(2*m+2), 0)
	}
}

// of gives the harmonic of any order from those of m >= 0; zero beyond the degree.
func of(f []complex128, last, l, m int) complex128 {
	if l < 0 || m > l || -m > l {
		return 0
	}
	if m >= 0 {
		return f[termAt(last, m, l)]
	}
	c := f[termAt(last, -m, l)]
	if m%2 == 0 {
		return complex(real(c), -imag(c))
	}
	return complex(-real(c), imag(c))
}

// magnetized gives D_lm of a body with magnetization M from the integrals a of R_lm over its volume.
func magnetized(a []complex128, M r3.Vec, d []complex128) {
	across := complex(M.X/2, M.Y/2)
	for m := 0; m <= mostDegree; m++ {
		for l := max(m, 1); l <= mostDegree; l++ {
			d[termAt(mostDegree, m, l)] += complex(M.Z, 0)*of(a, mostDegree, l-1, m) -
				complex(real(across), -imag(across))*of(a, mostDegree, l-1, m+1) + across*of(a, mostDegree, l-1, m-1)
		}
	}
}

// whole lists the harmonics of all orders, f_lm at l^2 + l + m.
func whole(f []complex128) []complex128 {
	g := make([]complex128, (mostDegree+1)*(mostDegree+1))
	for l := range mostDegree + 1 {
		for m := -l; m <= l; m++ {
			g[l*l+l+m] = of(f, mostDegree, l, m)
		}
	}
	return g
}

// shifted adds to d the multipoles e taken about another centre, which lies at v from d's in d's unit of length: exact in every degree. ratio is e's
// unit over d's.
func shifted(e []complex128, v r3.Vec, ratio float64, d []complex128) {
	r := make([]complex128, termsTo(mostDegree))
	regular(v, mostDegree, r)
	r, e = whole(r), whole(e)
	for m := 0; m <= mostDegree; m++ {
		for l := max(m, 1); l <= mostDegree; l++ {
			var sum complex128
			power := 1.0
			for k := 1; k <= l; k++ {
				lo, hi := max(-k, m-(l-k)), min(k, m+(l-k))
				a, b := k*k+k, (l-k)*(l-k)+(l-k)+m
				var part complex128
				for n := lo; n <= hi; n++ {
					part += e[a+n] * r[b-n]
				}
				sum += complex(power, 0) * part
				power *= ratio
			}
			d[termAt(mostDegree, m, l)] += sum
		}
	}
}

// multipoles are the expansion of the field about a centre. Lengths are taken in units of the radius, so that no power runs away.
type multipoles struct {
	center r3.Vec
	radius float64 // of a sphere about all sources
	d      []complex128
	reach  [mostDegree + 1]float64 // see bound
	// field holds for each S_lm (l <= mostDegree+1) the factors of its real and imaginary part in Hx, Hy, Hz.
	field [][6]float64
}

// settle works out the field's factors from d. From H = -grad phi with the derivatives above,
//
//	Hz = 1/(4 pi) sum conj(D_lm) S_(l+1)m,   Hx + i Hy = 1/(4 pi) sum conj(D_lm) S_(l+1)(m+1)
//
// over all m, the negative ones folded on to the positive.
func (c *multipoles) settle() {
	const last = mostDegree + 1
	c.field = make([][6]float64, termsTo(last))
	k := 1 / (4 * math.Pi * c.radius * c.radius * c.radius)
	for m := 0; m <= last; m++ {
		for l := max(m, 1); l <= last; l++ {
			p, q, d := of(c.d, mostDegree, l-1, m-1), of(c.d, mostDegree, l-1, m+1), of(c.d, mostDegree, l-1, m)
			f := &c.field[termAt(last, m, l)]
			if m == 0 {
				f[0], f[2], f[4] = -k*real(q), -k*imag(q), k*real(d)
				continue
			}
			f[0], f[1] = k*real(p-q), k*imag(p-q)
			f[2], f[3] = -k*imag(p+q), k*real(p+q)
			f[4], f[5] = 2*k*real(d), 2*k*imag(d)
		}
	}
}

const (
	leastDegree = 2
	// farTolerance is the error allowed of a sum of multipoles over the sum of the least fields that its parts can have, m/(4 pi (R + c)^3) for a
	// moment m within c of the centre.
	farTolerance = 1e-10
	// farReach bounds the ratio of the radius to the distance in any case.
	farReach = 0.4
)

// bound sets how near each degree serves: reach[L] is the largest ratio q = c/R of the radius to the distance at which the multipoles up to degree L keep
// farTolerance. moments lists for each part the size of its moment and of the ball about the centre that holds it.
//
// Let D~_l be the root of the sum over m of (l-m)! (l+m)! |D_lm|^2. By the addition theorem the parts of degree l are scalar products of D~ with
// gradients of S_lm, whose squares add to at most (l+1)^2/R^(2l+4); by Cauchy and Schwarz the part of degree l of the field is at most
// D~_l (l+1)/(4 pi R^(l+2)). For a dipole m at r' the theorem gives D~_l <= m l r'^(l-1), which serves beyond the highest degree kept.
func (c *multipoles) bound(moments []ballOf) {
	const degrees = 3 * mostDegree
	var size [degrees + 1]float64 // D~_l over the sum of moments
	var total float64
	for _, b := range moments {
		total += b.moment
	}
	if !(total > 0) {
		return
	}
	for _, b := range moments {
		power := b.moment / total
		for l := 1; l <= degrees; l++ {
			size[l] += float64(l) * power
			power *= b.radius / c.radius
		}
	}
	factorial := [2*mostDegree + 1]float64{1}
	for i := 1; i < len(factorial); i++ {
		factorial[i] = factorial[i-1] * float64(i)
	}
	for l := 1; l <= mostDegree; l++ {
		sum := 0.0
		for m := 0; m <= l; m++ {
			d := c.d[termAt(mostDegree, m, l)]
			square := factorial[l-m] * factorial[l+m] * (real(d)*real(d) + imag(d)*imag(d))
			if m > 0 {
				square *= 2
			}
			sum += square
		}
		size[l] = min(size[l], math.Sqrt(sum)/total)
	}
	rest := func(q float64, degree int) (sum float64) {
		for l := degrees; l > degree; l-- {
			sum = sum*q + size[l]*float64(l+1)
		}
		return sum * math.Pow(q, float64(degree)) * math.Pow(1+q, 3)
	}
	for l := leastDegree; l <= mostDegree; l++ {
		lo, hi := c.reach[l-1], farReach
		for range 20 {
			if mid := (lo + hi) / 2; rest(mid, l) <= farTolerance {
				lo = mid
			} else {
				hi = mid
			}
		}
		c.reach[l] = lo
	}
}

// ballOf is a body as the bounds see it: its moment and the radius of the ball about a cluster's centre that holds it.
type ballOf struct{ moment, radius float64 }

// degreeFor is the least degree that serves at the distance r from the centre; ok is false when none does.
func (c *multipoles) degreeFor(r float64) (degree int, ok bool) {
	q := c.radius / r
	if !(q <= c.reach[mostDegree]) {
		return 0, false
	}
	degree = leastDegree
	for q > c.reach[degree] {
		degree++
	}
	return degree, true
}

// h is H at a point, from the multipoles up to a degree.
func (c *multipoles) h(p r3.Vec, degree int) (h r3.Vec) {
	const last = mostDegree + 1
	s := 1 / c.radius
	x, y, z := (p.X-c.center.X)*s, (p.Y-c.center.Y)*s, (p.Z-c.center.Z)*s
	i2 := 1 / (x*x + y*y + z*z)
	x, y, z = x*i2, y*i2, z*i2
	re, im := math.Sqrt(i2), 0.0 // S_mm
	top := degree + 1
	for m := 0; m <= top; m++ {
		i := termAt(last, m, m)
		f := c.field[i : i+top-m+1]
		nr, ni, or, oi := re, im, 0.0, 0.0
		a := float64(2*m+1) * z
		for k := range f {
			g := &f[k]
			h.X += g[0]*nr + g[1]*ni
			h.Y += g[2]*nr + g[3]*ni
			h.Z += g[4]*nr + g[5]*ni
			b := float64(k*(k+2*m)) * i2 // l^2 - m^2
			nr, or = a*nr-b*or, nr
			ni, oi = a*ni-b*oi, ni
			a += 2 * z
		}
		w := float64(2*m + 1)
		re, im = w*(re*x-im*y), w*(re*y+im*x)
	}
	return h
}

// phi is the potential at a point, from the multipoles up to a degree.
func (c *multipoles) phi(p r3.Vec, degree int) (sum float64) {
	s := 1 / c.radius
	x, y, z := (p.X-c.center.X)*s, (p.Y-c.center.Y)*s, (p.Z-c.center.Z)*s
	i2 := 1 / (x*x + y*y + z*z)
	x, y, z = x*i2, y*i2, z*i2
	re, im := math.Sqrt(i2), 0.0
	fold := 1.0
	for m := 0; m <= degree; m++ {
		i := termAt(mostDegree, m, m)
		nr, ni, or, oi := re, im, 0.0, 0.0
		a := float64(2*m+1) * z
		for k, d := range c.d[i : i+degree-m+1] {
			sum += fold * (real(d)*nr + imag(d)*ni)
			b := float64(k*(k+2*m)) * i2
			nr, or = a*nr-b*or, nr
			ni, oi = a*ni-b*oi, ni
			a += 2 * z
		}
		w := float64(2*m + 1)
		re, im = w*(re*x-im*y), w*(re*y+im*x)
		fold = 2
	}
	return sum * s * s / (4 * math.Pi)
}
