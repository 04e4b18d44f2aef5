package harmonic

// Solid harmonics R(l,m) = r^l P(l,m)(cos theta) exp(i m phi), unnormalized and without the Condon-Shortley phase, as real and imaginary
// parts. Order: for each l from 0: m = 0, then real and imaginary part for m = 1..l. There are (n+1)^2 of them up to degree n.
// (Recurrences: Hobson 1931; Varshalovich et al. 1988, section 5.)

// Count is the number of solid harmonics up to degree n.
func Count(n int) int { return (n + 1) * (n + 1) }

// Index is the place of the real part of R(l,m); the imaginary part follows it when m > 0.
func Index(l, m int) int {
	if m == 0 {
		return l * l
	}
	return l*l + 2*m - 1
}

// Values evaluates all solid harmonics up to degree n at (x, y, z) into out, which holds Count(n) numbers.
func Values(n int, x, y, z float64, out []float64) {
	r2 := x*x + y*y + z*z
	out[0] = 1
	for m := 0; m <= n; m++ {
		// Diagonal: R(m,m) = (2m-1) (x+iy) R(m-1,m-1).
		if m > 0 {
			a, b := out[Index(m-1, m-1)], 0.0
			if m > 1 {
				b = out[Index(m-1, m-1)+1]
			}
			f := float64(2*m - 1)
			i := Index(m, m)
			out[i], out[i+1] = f*(x*a-y*b), f*(x*b+y*a)
		}
		parts := min(m, 1) + 1
		for l := m + 1; l <= n; l++ {
			i, j := Index(l, m), Index(l-1, m)
			for p := range parts {
				v := float64(2*l-1) * z * out[j+p]
				if l-2 >= m {
					v -= float64(l+m-1) * r2 * out[Index(l-2, m)+p]
				}
				out[i+p] = v / float64(l-m)
			}
		}
	}
}

// Gradients turns the values of all harmonics up to degree n at a point into their gradients there.
func Gradients(n int, val []float64, grad [][3]float64) {
	at := func(l, m int) (re, im float64) {
		if l < 0 || m > l {
			return 0, 0
		}
		i := Index(l, m)
		if m == 0 {
			return val[i], 0
		}
		return val[i], val[i+1]
	}
	for l := 0; l <= n; l++ {
		for m := 0; m <= l; m++ {
			upRe, upIm := at(l-1, m+1)
			f := float64((l + m) * (l + m - 1))
			var dnRe, dnIm float64
			if m > 0 {
				dnRe, dnIm = at(l-1, m-1)
				dnRe, dnIm = f*dnRe, f*dnIm
			} else { // (d/dx - i d/dy) R(l,0) is the conjugate of (d/dx + i d/dy) R(l,0) = -R(l-1,1)
				dnRe, dnIm = -upRe, upIm
			}
			zRe, zIm := at(l-1, m)
			k := float64(l + m)
			i := Index(l, m)
			// d/dx = (dn - up)/2, d/dy = i (up + dn)/2
			grad[i] = [3]float64{(dnRe - upRe) / 2, -(upIm + dnIm) / 2, k * zRe}
			if m > 0 {
				grad[i+1] = [3]float64{(dnIm - upIm) / 2, (upRe + dnRe) / 2, k * zIm}
			}
		}
	}
}

// derivatives gives the coefficients of the three derivatives of a sum of harmonics up to degree n: of regular ones R(l,m), or of irregular
// ones S(l,m) = R(l,m)/r^(2l+1). A derivative of a harmonic is a harmonic of the next lower degree, of an irregular one of the next higher:
//
//	(d/dx + i d/dy) R(l,m) = -R(l-1,m+1)    (d/dx - i d/dy) R(l,m) = (l+m)(l+m-1) R(l-1,m-1)      d/dz R(l,m) = (l+m) R(l-1,m)
//	(d/dx + i d/dy) S(l,m) = -S(l+1,m+1)    (d/dx - i d/dy) S(l,m) = (l-m+1)(l-m+2) S(l+1,m-1)    d/dz S(l,m) = -(l-m+1) S(l+1,m)
//
// (Hobson 1931, in the form of Varshalovich et al. 1988, section 5.)
func derivatives(n int, c []float64, irregular bool) (d [3][]float64) {
	step := -1
	if irregular {
		step = 1
	}
	for k := range d {
		d[k] = make([]float64, Count(max(n+step, 0)))
	}
	add := func(axis, l, m, part int, v float64) {
		if l < 0 || m > l || m == 0 && part == 1 {
			return
		}
		d[axis][Index(l, m)+part] += v
	}
	for l := range n + 1 {
		for m := range l + 1 {
			f, g := float64((l+m)*(l+m-1)), float64(l+m)
			if irregular {
				f, g = float64((l-m+1)*(l-m+2)), -float64(l-m+1)
			}
			o := l + step
			re, im := c[Index(l, m)], 0.0
			if m == 0 { // real: only the real parts of the operators are left
				add(0, o, 1, 0, -re)
				add(1, o, 1, 1, -re)
				add(2, o, 0, 0, g*re)
				continue
			}
			im = c[Index(l, m)+1]
			for part, v := range [2]float64{re, im} {
				add(0, o, m-1, part, f*v/2)
				add(0, o, m+1, part, -v/2)
				add(2, o, m, part, g*v)
			}
			add(1, o, m-1, 1, -f*re/2)
			add(1, o, m+1, 1, -re/2)
			add(1, o, m-1, 0, f*im/2)
			add(1, o, m+1, 0, im/2)
		}
	}
	return d
}
