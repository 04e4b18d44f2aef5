package material

import (
	"fmt"
	"math"
)

// Demagnetization is the demagnetization curve of a permanent magnet at one temperature, along its magnetization:
//
//	B(H) = Mu0·RecoilPermeability·H + RemanenceT·g(H)
//
// g is the share of the magnetization that a field H leaves for good. It is exactly 1 down to the knee, the recoil line; from there it falls
// by a monotone cubic (F. N. Fritsch, J. Butland, SIAM J. Sci. Stat. Comput. 5 (1984) 300) through J = 0.9 Br at Hk and J = 0 at HcJ (the
// terms of IEC 60404-5 and IEC 60404-8-1), on to -1 as far beyond HcJ as the knee lies before it, where the magnet is magnetized the
// other way. So dB/dH is continuous and nowhere below Mu0·RecoilPermeability.
//
// A magnet that has seen the field Hmin returns on a recoil line of the same slope, that is with the remanence g(Hmin)·RemanenceT.
//
// A Demagnetization does not change and may be used from several goroutines.
type Demagnetization struct {
	RemanenceT, RecoilPermeability float64

	h, g, d [5]float64 // field strengths against the magnetization at the joints of the cubics, g and its slope there
	sum     [5]float64 // integral of g from the first joint
}

// Shape of the curve where data leave it open; all common practice, no source.
const (
	squareLoop = 0.95 // Hk/HcJ where it is not known
	// The knee lies as far before Hk as HcJ lies beyond it, but never below this share of Hk.
	earliestKnee = 0.85
	// In grades of very high HcJ the recoil line itself nears 0.9 Br; at Hk the magnet has then lost this much.
	leastLossAtHk = 0.025
)

// squareness is Hk/HcJ of a family of grades, from memory: makers warrant 0.90 of NdFeB and ferrite and mostly sell 0.95 and more; the loop
// of SmCo 2:17 is less square.
var squareness = map[string]float64{familyNdFeB: 0.95, familySmCo5: 0.90, familySmCo17: 0.85, familyFerrite: 0.95}

// squarenessOf is that of a grade: where the table's HcB shows that B falls to 0 far before the recoil line does, the loop bends so; where
// it shows that the recoil line holds beyond the family's Hk, within the tenth of the remanence that Hk means, HcB is taken.
func (m Magnet) squarenessOf(family string) float64 {
	hcj, hcb := m.IntrinsicCoercivityApm, m.CoercivityApm
	q, known := squareness[family]
	switch {
	case !known || hcj == 0:
		return 0
	case m.bends() && hcb < squareLoopKnee*hcj:
		return m.bendThrough(hcj, hcb) / hcj
	case !m.bends():
		return max(q, min(hcb/hcj, squareLoop))
	}
	return q
}

// loop is the bend of a demagnetization curve: magnitudes of the field strengths, A/m. The zero hk marks a curve that is not known.
type loop struct {
	knee, hk, hcj float64
	rule          string
}

// Rules for the knee, all of them common practice, no source.
const (
	squareLoopKnee = 0.9 // of HcJ: 2 squareLoop - 1
	alnicoKnee     = 0.7 // of HcB
)

func (m Magnet) loop() loop {
	hcj, hcb := m.IntrinsicCoercivityApm, m.CoercivityApm
	bends := m.bends()
	switch {
	case m.GivenKneeApm > 0:
		k := m.GivenKneeApm
		if hcj == 0 {
			hcj = k / squareLoopKnee
		}
		hcj = max(hcj, k/0.98) // a knee beyond HcJ contradicts it: the knee is the measured one
		return loop{k, (k + hcj) / 2, hcj, "knee as given"}
	case m.Family == familyAlnico && hcb > 0:
		return loop{knee: alnicoKnee * hcb, rule: "0.7 HcB: AlNiCo has no straight recoil line from remanence, so this is where the curve bends away most (common practice, no source)"}
	case hcj > 0 && m.Squareness == 0 && bends && hcb < squareLoopKnee*hcj:
		hk := m.bendThrough(hcj, hcb)
		return loop{firstLoss(hk, hcj), hk, hcj, "from HcB, where B reaches 0 long before the recoil line does: the curve that bends so (common practice, no source)"}
	case hcj > 0 && (m.Squareness == 0 || m.Squareness == squareLoop):
		return loop{squareLoopKnee * hcj, squareLoop * hcj, hcj, "0.9 HcJ, for a square loop of Hk/HcJ = 0.95 (common practice, no source)"}
	case hcj > 0:
		hk := m.Squareness * hcj
		return loop{firstLoss(hk, hcj), hk, hcj, fmt.Sprintf("from the squareness Hk/HcJ = %.3g: as far before Hk as HcJ lies beyond it, and not below 0.85 Hk (common practice, no source)", m.Squareness)}
	case hcb > 0 && bends:
		return loop{squareLoopKnee * hcb, squareLoop * hcb, hcb, "0.9 HcB, for want of HcJ (common practice, no source)"}
	case hcb > 0:
		return loop{hcb, hcb * squareLoop / squareLoopKnee, hcb / squareLoopKnee, "HcB, for want of HcJ: the recoil line is known to hold up to there"}
	}
	return loop{knee: math.Inf(1), rule: "unknown: no coercivity given"}
}

func firstLoss(hk, hcj float64) float64 { return max(2*hk-hcj, earliestKnee*hk) }

// bendThrough is the Hk whose curve has B = 0 at HcB.
func (m Magnet) bendThrough(hcj, hcb float64) float64 {
	want := Mu0 * m.RecoilPermeability * hcb / m.RemanenceT
	lo, hi := 0.0, hcj
	for range 60 {
		hk := (lo + hi) / 2
		if m.curve(loop{knee: firstLoss(hk, hcj), hk: hk, hcj: hcj}).Kept(-hcb) < want {
			lo = hk
		} else {
			hi = hk
		}
	}
	return hi
}

// Demagnetization is the curve at the temperature that the numbers of m are for; take m.At for another. ok is false where none is known: no
// coercivity is given, or the material, as AlNiCo, has no straight recoil line.
func (m Magnet) Demagnetization() (c *Demagnetization, ok bool) {
	l := m.loop()
	if l.hk == 0 || m.RemanenceT <= 0 {
		return nil, false
	}
	return m.curve(l), true
}

func (m Magnet) curve(l loop) *Demagnetization {
	br, mu := m.RemanenceT, m.RecoilPermeability
	line := Mu0 * (mu - 1) / br // what the recoil line itself takes off J, per A/m of field, as a share of the remanence
	g1 := min(0.9+line*l.hk, 1-leastLossAtHk)
	g2 := min(line*l.hcj, 0.9*g1)
	c := &Demagnetization{RemanenceT: br, RecoilPermeability: mu,
		h: [5]float64{l.knee, l.hk, l.hcj, 2*l.hcj - l.hk, 2*l.hcj - l.knee}, g: [5]float64{1, g1, g2, -g1, -1}}
	for i := 1; i < 4; i++ {
		hl, hr := c.h[i]-c.h[i-1], c.h[i+1]-c.h[i]
		left, right := (c.g[i]-c.g[i-1])/hl, (c.g[i+1]-c.g[i])/hr
		c.d[i] = 3 * (hl + hr) / ((2*hr+hl)/left + (hr+2*hl)/right)
	}
	for i := 1; i < 5; i++ {
		_, _, c.sum[i] = c.piece(i-1, c.h[i])
	}
	return c
}

// piece evaluates g, its slope and its integral from the first joint at a field x against the magnetization in one interval.
func (c *Demagnetization) piece(i int, x float64) (g, slope, sum float64) {
	w := c.h[i+1] - c.h[i]
	secant := (c.g[i+1] - c.g[i]) / w
	c2, c3 := (3*secant-2*c.d[i]-c.d[i+1])/w, (c.d[i]+c.d[i+1]-2*secant)/(w*w)
	x -= c.h[i]
	return c.g[i] + x*(c.d[i]+x*(c2+x*c3)), c.d[i] + x*(2*c2+3*x*c3), c.sum[i] + x*(c.g[i]+x*(c.d[i]/2+x*(c2/3+x*c3/4)))
}

// share gives g at h, its slope dg/dh and its integral from 0 to h.
func (c *Demagnetization) share(h float64) (g, slope, integral float64) {
	x := -h
	switch {
	case !(x > c.h[0]): // also when h is not a number
		return 1, 0, h
	case x >= c.h[4]:
		return -1, 0, -(c.h[0] + c.sum[4] - (x - c.h[4]))
	}
	i := 0
	for x >= c.h[i+1] {
		i++
	}
	g, slope, sum := c.piece(i, x)
	return g, -slope, -(c.h[0] + sum)
}

// Kept is the share of the remanence that is left after the field along the magnetization (A/m, negative against it) has been h: 1 above the
// knee, 0 and less from a little beyond HcJ.
func (c *Demagnetization) Kept(h float64) float64 {
	g, _, _ := c.share(h)
	return g
}

// Eval gives the flux density b (T) along the magnetization, its slope dB/dH (T·m/A) and the coenergy density, the integral of B dH from 0
// to h (J/m³), at the field strength h along the magnetization (A/m), on the way down from remanence.
func (c *Demagnetization) Eval(h float64) (b, slope, coenergy float64) {
	g, dg, integral := c.share(h)
	mu := Mu0 * c.RecoilPermeability
	return mu*h + c.RemanenceT*g, mu + c.RemanenceT*dg, mu*h*h/2 + c.RemanenceT*integral
}

// H is the field strength along the magnetization at which the curve has the flux density b.
func (c *Demagnetization) H(b float64) float64 { return c.Meet(0, 1, b) }

// Meet is the field strength at which a load line meets the curve: p·H + q·B(H) = sum, with p and q not negative and not both zero. A magnet of
// length l in series with a gap g and steel of no reluctance has p = l, q = g/Mu0, sum = 0.
func (c *Demagnetization) Meet(p, q, sum float64) float64 {
	// The left side rises with H. Newton's method starts on the recoil line; where a step leaves the bracket or does not halve the one before
	// the last, the bracket is halved (W. H. Press et al., Numerical Recipes, section 9.4).
	rise := p + q*Mu0*c.RecoilPermeability
	lo, hi := (sum-q*c.RemanenceT)/rise, (sum+q*c.RemanenceT)/rise
	h, before, step := lo, hi-lo, hi-lo
	for range 200 {
		b, slope, _ := c.Eval(h)
		f, df := p*h+q*b-sum, p+q*slope
		if f > 0 {
			hi = h
		} else {
			lo = h
		}
		next := h - f/df
		if !(next >= lo && next <= hi) || math.Abs(2*f) > math.Abs(before*df) {
			next = (lo + hi) / 2
		}
		before, step = step, next-h
		h = next
		if math.Abs(step) <= 1e-13*(math.Abs(h)+1) {
			break
		}
	}
	return h
}

// KneeApm is the field strength, negative, A/m, below which the curve leaves the recoil line.
func (c *Demagnetization) KneeApm() float64 { return -c.h[0] }
