package magnetostatic

// Solid harmonics R(l,m) = r^l P(l,m)(cos theta) exp(i m phi), unnormalized and without the Condon-Shortley phase, as real and imaginary
// parts. Order: for each l from 0: m = 0, then real and imaginary part for m = 1..l. There are (n+1)^2 of them up to degree n.
// (Recurrences: Hobson 1931; Varshalovich et al. 1988, section 5.)

// harmonicCount is the number of solid harmonics up to degree n.
func harmonicCount(n int) int { return (n + 1) * (n + 1) }

// harmonicIndex is the place of the real part of R(l,m); the imaginary part follows it when m > 0.
func harmonicIndex(l, m int) int {
	if m == 0 {
		return l * l
	}
	return l*l + 2*m - 1
}

// harmonics evaluates all solid harmonics up to degree n at (x, y, z) into out.
func harmonics(n int, x, y, z float64, out []float64) {
	r2 := x*x + y*y + z*z
	out[0] = 1
	for m := 0; m <= n; m++ {
		// Diagonal: R(m,m) = (2m-1) (x+iy) R(m-1,m-1).
		if m > 0 {
			a, b := out[harmonicIndex(m-1, m-1)], 0.0
			if m > 1 {
				b = out[harmonicIndex(m-1, m-1)+1]
			}
			f := float64(2*m - 1)
			i := harmonicIndex(m, m)
			out[i], out[i+1] = f*(x*a-y*b), f*(x*b+y*a)
		}
		parts := min(m, 1) + 1
		for l := m + 1; l <= n; l++ {
			i, j := harmonicIndex(l, m), harmonicIndex(l-1, m)
			for p := range parts {
				v := float64(2*l-1) * z * out[j+p]
				if l-2 >= m {
					v -= float64(l+m-1) * r2 * out[harmonicIndex(l-2, m)+p]
				}
				out[i+p] = v / float64(l-m)
			}
		}
	}
}

// harmonicGradients turns the values of all harmonics up to degree n at a point into their gradients there.
func harmonicGradients(n int, val []float64, grad [][3]float64) {
	at := func(l, m int) (re, im float64) {
		if l < 0 || m > l {
			return 0, 0
		}
		i := harmonicIndex(l, m)
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
			i := harmonicIndex(l, m)
			// d/dx = (dn - up)/2, d/dy = i (up + dn)/2
			grad[i] = [3]float64{(dnRe - upRe) / 2, -(upIm + dnIm) / 2, k * zRe}
			if m > 0 {
				grad[i+1] = [3]float64{(dnIm - upIm) / 2, (upRe + dnRe) / 2, k * zIm}
			}
		}
	}
}
