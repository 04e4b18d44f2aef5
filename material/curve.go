package material

import (
	"fmt"
	"math"
	"sort"

	"polewright/mistake"
)

// Curve is the magnetization curve B(H) of an isotropic, hysteresis-free soft material.
//
// With J = B - Mu0·H, the polarization:
//
//   - Between the table's points J is the monotone piecewise cubic of F. N. Fritsch and J. Butland, SIAM J. Sci. Stat.
//     Comput. 5 (1984) 300. J never falls, so dB/dH >= Mu0 everywhere, and dB/dH is continuous.
//   - Beyond the last point (Hn, Jn) it follows the law of Fröhlich and Kennelly (A. E. Kennelly, Trans. AIEE 8 (1891)
//     485), J = Jn + s·x/(1 + s·x/(Js-Jn)) with x = H - Hn: concave, its slope falling smoothly from s to 0 while J rises
//     to Js as 1/H. s, and Js unless it is given, come from the same law drawn through the last two points.
//
// The zero value is not a curve: use NewCurve, NewCurveTo, ReadCurve or Linear. A Curve does not change and may be used from several goroutines.
type Curve struct {
	name string

	segments []segment // one per interval of the table, and one that marks its end
	index    []int32   // first segment that may hold a field strength, by the leading bits of H
	shift    uint      // bits of H that the index leaves out
	base     int       // leading bits of the first entry

	last           segment // the table's last point
	endSlope, rise float64 // s and Js - Jn of the law beyond it
}

// segment is B(H) over one interval: b + x(s + x(c2 + x·c3)), x = H - h, with the coenergy w up to its start.
type segment struct{ h, b, w, s, c2, c3 float64 }

// Bounds on a table that can be a soft material's. The highest polarization of any alloy is about 2.46 T, Fe65Co35 (R. M.
// Bozorth, Ferromagnetism, 1951; from memory).
const (
	maxPolarizationT = 2.6
	minFieldApm      = 1e-6
	maxFieldApm      = 1e8
	maxPoints        = 10000
	// A table's rounding may make J fall between its points by this fraction of the largest J; it is then levelled.
	levelTolerance = 0.005
)

// NewCurve makes the curve through the points (h[i], b[i]), A/m and T: h rising from 0, or from above 0 when the first point (0, 0) is left out.
// Where the table's rounding lets B - Mu0·H fall by less than half a per cent it is levelled (least-squares monotone fit). The saturation is read
// from the last two points: a table that ends too early for that is an error, and NewCurveTo takes a known saturation.
func NewCurve(name string, h, b []float64) (*Curve, error) {
	return newCurve(name, h, b, 0, pointName)
}

// NewCurveTo is NewCurve for a material whose saturation polarization, saturationT = lim(B - Mu0·H), is known.
func NewCurveTo(name string, h, b []float64, saturationT float64) (*Curve, error) {
	if !(saturationT > 0 && saturationT <= maxPolarizationT) {
		return nil, fmt.Errorf("curve %q: the saturation %g T is out of reach: iron has 2.15 T, no alloy more than 2.46 T", name, saturationT)
	}
	return newCurve(name, h, b, saturationT, pointName)
}

// Linear is a material of constant relative permeability, 1 or more, without saturation: for comparison with closed forms.
func Linear(name string, relative float64) (*Curve, error) {
	if !(relative >= 1) || math.IsInf(relative, 0) {
		return nil, fmt.Errorf("material %q: the relative permeability %g is not a number from 1 up", name, relative)
	}
	return &Curve{name: name, endSlope: Mu0 * (relative - 1), rise: math.Inf(1)}, nil
}

func pointName(i int) string { return fmt.Sprintf("point %d", i+1) }

// newCurve is NewCurveTo, with saturation 0 for an unknown one, and where naming a point in errors.
func newCurve(name string, h, b []float64, saturation float64, where func(int) string) (*Curve, error) {
	c := &Curve{name: name}
	wrong := func(err error) error { return mistake.Prefixed(fmt.Sprintf("curve %q: ", name), err) }
	if err := checkTable(h, b, where); err != nil {
		return nil, wrong(err)
	}
	if h[0] > 0 {
		given := where
		h, b = append([]float64{0}, h...), append([]float64{0}, b...)
		where = func(i int) string { return given(i - 1) }
	}
	j := make([]float64, len(h))
	for i := range h {
		j[i] = b[i] - Mu0*h[i]
	}
	level := levelled(j)
	for i := range j {
		if math.Abs(level[i]-j[i]) > levelTolerance*level[len(level)-1] {
			return nil, wrong(mistake.Of(fmt.Sprintf("%s: near H = %g A/m B rises by less than in air, which no steel does: B - mu0*H falls by more than %g %%",
				where(i), h[i], 100*levelTolerance), "correct the point, or end the table before it (the curve goes on by itself)"))
		}
	}
	j = level
	if j[len(j)-1] > maxPolarizationT {
		return nil, wrong(mistake.Of(fmt.Sprintf("%s: B - mu0*H = %.3g T, more than any alloy has (2.46 T)", where(len(j)-1), j[len(j)-1]), "is H in A/m and B in T?"))
	}
	slope, rise, err := beyond(h, j, saturation)
	if err != nil {
		return nil, wrong(err)
	}
	c.endSlope, c.rise = slope, rise
	c.join(h, j, append(interiorSlopes(h, j), slope))
	c.buildIndex()
	return c, nil
}

func checkTable(h, b []float64, where func(int) string) error {
	if len(h) != len(b) {
		return mistake.Of(fmt.Sprintf("%d field strengths for %d flux densities", len(h), len(b)), "give one of each per point")
	}
	if len(h) > maxPoints {
		return mistake.Of(fmt.Sprintf("%d points", len(h)), fmt.Sprintf("%d are the most, and some thirty well-placed ones do", maxPoints))
	}
	positive := 0
	for i := range h {
		if math.IsNaN(h[i]) || math.IsInf(h[i], 0) || math.IsNaN(b[i]) || math.IsInf(b[i], 0) {
			return mistake.Of(fmt.Sprintf("%s: H = %g A/m, B = %g T is not a number pair", where(i), h[i], b[i]), "")
		}
		if h[i] == 0 && i == 0 {
			if b[0] != 0 {
				return mistake.Of(fmt.Sprintf("%s: B = %g T at H = 0", where(0), b[0]), "the curve of a soft material starts at 0, 0 (give the first magnetization or the middle of the loop)")
			}
			continue
		}
		if h[i] < minFieldApm || h[i] > maxFieldApm {
			return mistake.Of(fmt.Sprintf("%s: H = %g A/m is outside %g to %g A/m", where(i), h[i], minFieldApm, maxFieldApm), "give H >= 0 in A/m (1 Oe = 79.58 A/m)")
		}
		if i > 0 && h[i] <= h[i-1] {
			return mistake.Of(fmt.Sprintf("%s: H = %g A/m does not rise above the %g A/m before it", where(i), h[i], h[i-1]), "sort the points and drop doubles")
		}
		positive++
	}
	if positive < 2 {
		return mistake.Of("fewer than two points above H = 0", "give at least the knee and two points of the saturated part")
	}
	return nil
}

// levelled is the non-decreasing sequence nearest to j by least squares, from 0: adjacent violators are pooled (M. Ayer et
// al., Ann. Math. Stat. 26 (1955) 641).
func levelled(j []float64) []float64 {
	type block struct {
		mean float64
		n    int
	}
	var blocks []block
	for _, v := range j[1:] {
		blocks = append(blocks, block{v, 1})
		for k := len(blocks) - 1; k > 0 && blocks[k-1].mean > blocks[k].mean; k-- {
			p, q := blocks[k-1], blocks[k]
			n := p.n + q.n
			blocks[k-1] = block{(p.mean*float64(p.n) + q.mean*float64(q.n)) / float64(n), n}
			blocks = blocks[:k]
		}
	}
	out := make([]float64, 1, len(j))
	for _, k := range blocks {
		for range k.n {
			out = append(out, max(k.mean, 0))
		}
	}
	return out
}

// beyond gives the slope dJ/dH at the last point and the rise Js - Jn left beyond it, from the law of Fröhlich and
// Kennelly, H/J = a/Js + H/Js, through the last two points.
func beyond(h, j []float64, saturation float64) (slope, rise float64, err error) {
	n := len(h) - 1
	h1, j1, h2, j2 := h[n-1], j[n-1], h[n], j[n]
	secant := (j2 - j1) / (h2 - h1)
	read := math.Inf(1) // saturation as the points have it
	if j1 > 0 && h2/j2 > h1/j1 {
		read = (h2 - h1) / (h2/j2 - h1/j1)
		slope = j2 / h2 * (1 - j2/read)
	}
	// Points that differ by rounding only are flat.
	if secant <= 1e-12*j2/h2 {
		read, slope = j2, 0
	}
	if saturation == 0 {
		if !(read <= maxPolarizationT) {
			return 0, 0, mistake.Of(fmt.Sprintf("the table ends at B = %.3g T, H = %g A/m, before the steel saturates", j2+Mu0*h2, h2), "add points beyond 1.8 T, or give the saturation polarization (in a file: the line \"# Js_T = 2.12\"; iron has 2.15 T, low-carbon steel 2.05 to 2.15 T)")
		}
		return slope, max(read-j2, 0), nil
	}
	rise = saturation - j2
	if rise < -levelTolerance*j2 {
		return 0, 0, mistake.Of(fmt.Sprintf("the saturation %g T is below the %.4g T that B - mu0*H already has at H = %g A/m", saturation, j2, h2), "give a higher one, or none")
	}
	if slope == 0 {
		slope = min(secant, j2/h2*rise/saturation)
	}
	if rise <= 0 || slope <= 0 {
		if rise > 0.02*saturation {
			return 0, 0, mistake.Of(fmt.Sprintf("the table is level at B - mu0*H = %.4g T although the saturation is given as %g T", j2, saturation), "give one or the other")
		}
		return 0, 0, nil
	}
	return slope, rise, nil
}

// interiorSlopes gives dJ/dH at all points but the last.
func interiorSlopes(h, j []float64) []float64 {
	n := len(h) - 1
	secant := func(i int) float64 { return (j[i+1] - j[i]) / (h[i+1] - h[i]) }
	d := make([]float64, n)
	for i := 1; i < n; i++ {
		left, right := secant(i-1), secant(i)
		if left > 0 && right > 0 {
			hl, hr := h[i]-h[i-1], h[i+1]-h[i]
			d[i] = 3 * (hl + hr) / ((2*hr+hl)/left + (hr+2*hl)/right)
		}
	}
	// Three-point slope at the origin; at most 2·first, so that the first cubic stays monotone.
	first, second := secant(0), secant(1)
	h0, h1 := h[1]-h[0], h[2]-h[1]
	d[0] = max(0, ((2*h0+h1)*first-h0*second)/(h0+h1))
	return d
}

// join lays the cubics between the points and adds up the coenergy.
func (c *Curve) join(h, j, d []float64) {
	w := 0.0
	for i := range len(h) - 1 {
		x := h[i+1] - h[i]
		secant := (j[i+1] - j[i]) / x
		s := segment{
			h: h[i], b: j[i] + Mu0*h[i], w: w, s: d[i] + Mu0,
			c2: (3*secant - 2*d[i] - d[i+1]) / x,
			c3: (d[i] + d[i+1] - 2*secant) / (x * x),
		}
		c.segments = append(c.segments, s)
		_, _, w = s.at(h[i+1])
	}
	n := len(h) - 1
	c.last = segment{h: h[n], b: j[n] + Mu0*h[n], w: w}
	c.segments = append(c.segments, c.last)
}

// buildIndex lists, for each run of field strengths with the same leading bits (2^m runs an octave), the segment its lower
// edge is in, so that Eval finds its segment without a search.
func (c *Curve) buildIndex() {
	m := uint(4)
	for ; m < 14 && 1<<m < len(c.segments); m++ {
	}
	c.shift = 52 - m
	c.base = int(math.Float64bits(c.segments[1].h) >> c.shift)
	top := int(math.Float64bits(c.last.h) >> c.shift)
	c.index = make([]int32, top-c.base+1)
	i := 0
	for k := range c.index {
		edge := math.Float64frombits(uint64(c.base+k) << c.shift)
		for i < len(c.segments)-2 && c.segments[i+1].h <= edge {
			i++
		}
		c.index[k] = int32(i)
	}
}

func (s *segment) at(h float64) (b, slope, coenergy float64) {
	x := h - s.h
	b = s.b + x*(s.s+x*(s.c2+x*s.c3))
	slope = s.s + x*(2*s.c2+x*3*s.c3)
	coenergy = s.w + x*(s.b+x*(s.s*(1./2)+x*(s.c2*(1./3)+x*s.c3*(1./4))))
	return b, slope, coenergy
}

// Name is the name the curve was made with.
func (c *Curve) Name() string { return c.name }

// Eval gives the flux density b (T), its slope dB/dH (T·m/A, from Mu0 up) and the coenergy density, the integral of B dH
// from 0 to h (J/m³), at a field strength of magnitude h >= 0 (A/m). For h < 0 the curve is continued oddly.
func (c *Curve) Eval(h float64) (b, slope, coenergy float64) {
	if h < 0 {
		b, slope, coenergy = c.Eval(-h)
		return -b, slope, coenergy
	}
	if !(h < c.last.h) { // also when h is not a number
		return c.evalBeyond(h)
	}
	i := 0
	if k := int(math.Float64bits(h)>>c.shift) - c.base; k >= 0 {
		for i = int(c.index[k]); h >= c.segments[i+1].h; i++ {
		}
	}
	return c.segments[i].at(h)
}

func (c *Curve) evalBeyond(h float64) (b, slope, coenergy float64) {
	x := h - c.last.h
	t := 0.0
	if c.endSlope > 0 {
		t = c.endSlope * x / c.rise
	}
	b = c.last.b + Mu0*x + c.endSlope*x/(1+t)
	slope = Mu0 + c.endSlope/((1+t)*(1+t))
	// The integral of s·x/(1+t) is s·x²·(t - ln(1+t))/t²; the series is for t where that quotient loses digits.
	g := 1./2 - t*(1./3-t*(1./4-t*(1./5-t/6)))
	if t > 1e-3 {
		g = (t - math.Log1p(t)) / (t * t)
	}
	coenergy = c.last.w + x*(c.last.b+x*(Mu0/2+c.endSlope*g))
	return b, slope, coenergy
}

// SaturationT is the saturation polarization Js, the limit of B - Mu0·H, in tesla; +Inf for a Linear material.
func (c *Curve) SaturationT() float64 { return c.last.b - Mu0*c.last.h + c.rise }

// H is the field strength (A/m) at which the flux density is b (T), to about 1e-14 relative: the inverse of Eval.
func (c *Curve) H(b float64) float64 {
	if b < 0 {
		return -c.H(-b)
	}
	if !(b < c.last.b) {
		return c.last.h + c.stepBeyond(b-c.last.b)
	}
	i := sort.Search(len(c.segments), func(i int) bool { return c.segments[i].b > b }) - 1
	s := &c.segments[i]
	// Newton's method, kept inside the bracket by bisection.
	lo, hi := s.h, c.segments[i+1].h
	h := lo + (hi-lo)*(b-s.b)/(c.segments[i+1].b-s.b)
	for range 100 {
		f, slope, _ := s.at(h)
		if f == b {
			break
		}
		if f < b {
			lo = h
		} else {
			hi = h
		}
		next := h - (f-b)/slope
		if !(next > lo && next < hi) {
			next = lo + (hi-lo)/2
		}
		if math.Abs(next-h) <= 1e-15*hi {
			return next
		}
		h = next
	}
	return h
}

// stepBeyond is the x for which B has risen by y beyond the table: the positive root of
// Mu0·k·x² + (Mu0 + s - y·k)x - y = 0, k = s/(Js-Jn), written so that no digits cancel.
func (c *Curve) stepBeyond(y float64) float64 {
	if c.endSlope == 0 {
		return y / Mu0
	}
	k := c.endSlope / c.rise
	p := Mu0 + c.endSlope - y*k
	root := math.Sqrt(p*p + 4*Mu0*k*y)
	if p > 0 {
		return 2 * y / (p + root)
	}
	return (root - p) / (2 * Mu0 * k)
}
