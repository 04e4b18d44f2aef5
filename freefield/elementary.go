package freefield

import "math"

// The two functions that the block's corners are made of, with one division each and no call: those of package math take two divisions and look
// after infinities, which [blockTimes] keeps away. The polynomials are Chebyshev interpolants of (atan(t)/t - 1)/t^2 for |t| <= tan(pi/8)
// and of (artanh(s)/s - 1)/s^2 for |s| <= (sqrt 2 - 1)/(sqrt 2 + 1), good to 1e-17 of the function (computed with 50 digits).

// argument is atan2(y, x), to 2 units in the last place; of (0, 0) it is zero.
func argument(y, x float64) float64 {
	a, b := math.Abs(x), math.Abs(y)
	lo, hi := min(a, b), max(a, b)
	n, d, base := lo, hi, 0.0
	if lo > (math.Sqrt2-1)*hi { // turn by an eighth
		n, d, base = lo-hi, lo+hi, math.Pi/4
	}
	if d == 0 {
		return 0
	}
	t := n / d
	z := t * t
	z2 := z * z
	z4 := z2 * z2
	q := ((-0.3333333333333333) + 0.1999999999999548*z) + z2*((-0.14285714284657894)+0.11111111014561013*z) + z4*(((-0.09090904549884611)+0.07692182535116648*z)+z2*((-0.06664502215671447)+0.058580687568615106*z)+z4*(((-0.05085030492810941)+0.03921955253255129*z)+z2*(-0.019162068915902573)))
	r := base + (t + t*z*q)
	if b > a {
		r = math.Pi/2 - r
	}
	if x < 0 {
		r = math.Pi - r
	}
	return math.Copysign(r, y)
}

// logOfRatio is ln(n/d) for positive normal n and d: the power of two between them aside, 2 artanh((n-d)/(n+d)), with n - d exact.
func logOfRatio(n, d float64) float64 {
	const exponent, one = 0x7ff << 52, 1023 << 52
	nb, db := math.Float64bits(n), math.Float64bits(d)
	k := float64(int64(nb>>52) - int64(db>>52))
	n, d = math.Float64frombits(nb&^exponent|one), math.Float64frombits(db&^exponent|one)
	if n > math.Sqrt2*d {
		n *= 0.5
		k++
	} else if d > math.Sqrt2*n {
		n *= 2
		k--
	}
	s := (n - d) / (n + d)
	z := s * s
	z2 := z * z
	q := (0.3333333333333335 + 0.19999999999949444*z) + z2*(0.14285714313126918+0.11111105544689748*z) + z2*z2*((0.09091446216268435+0.07665805861027504*z)+z2*0.07308903576708663)
	return k*math.Ln2 + 2*(s+s*z*q)
}
