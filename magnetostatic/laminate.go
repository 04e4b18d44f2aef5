package magnetostatic

import (
	"math"

	"polewright/material"
)

// laminate is a medium in plane layers with air between them, the share of the medium given: what a cell is that the surface of a body cuts.
// The air may hold a piece of a magnet: j is its mean polarization. Along the layers H is common, across them B. The field strength h given is
// the mean; with f the share, n the normal, Q = I - nn' and P = Q + nn'/f
//
//	hs = P g - n k x,  g = h + n (1-f) n.j/mu0,  k = (1-f)/(f mu0),  x = n.b(hs)
//	B  = f P b(hs) + (1-f) Q (mu0 h + j)
//
// (series and parallel connection; Milton 2002, The Theory of Composites, section 9.2, for two phases).
type laminate struct {
	medium *Medium // isotropic, or a laminate of it in another direction
	share  float64
	n      [3]float64
	j      Vec // T
}

// across is n.j.
func (m *laminate) across() float64 { return m.n[0]*m.j[0] + m.n[1]*m.j[1] + m.n[2]*m.j[2] }

func (m *laminate) at(mean, q *[3]float64, out *law) {
	f, n := m.share, &m.n
	jn := m.across()
	var h [3]float64 // g
	for i := range h {
		h[i] = n[i]*(1-f)*jn/material.Mu0 + mean[i]
	}
	k := (1 - f) / (f * material.Mu0)
	hn := h[0]*n[0] + h[1]*n[1] + h[2]*n[2]
	var s law
	var p [3]float64
	inside := func(x float64) {
		c := hn/f - hn - k*x
		p = [3]float64{h[0] + c*n[0], h[1] + c*n[1], h[2] + c*n[2]}
		m.medium.at(&p, q, &s)
	}
	// n.b(hs(x)) - x falls with x by more than x grows, so its root is no farther from 0 than its value there.
	inside(0)
	x := s.B[0]*n[0] + s.B[1]*n[1] + s.B[2]*n[2]
	lo, hi := math.Min(0, x), math.Max(0, x)
	if end := hn / (1 - f) * material.Mu0; end > lo && end < hi { // leaves the medium no drop
		x = end
	}
	for range 60 {
		inside(x)
		r := s.B[0]*n[0] + s.B[1]*n[1] + s.B[2]*n[2] - x
		if r > 0 {
			lo = x
		} else {
			hi = x
		}
		next := x + r/(1+k*normal(&s.D, n))
		if next <= lo || next >= hi {
			next = 0.5 * (lo + hi)
		}
		done := math.Abs(next-x) <= 2e-15*(math.Abs(x)+1e-9)
		x = next
		if done {
			break
		}
	}
	inside(x)
	bn := s.B[0]*n[0] + s.B[1]*n[1] + s.B[2]*n[2]
	dn := [3]float64{
		s.D[0]*n[0] + s.D[3]*n[1] + s.D[4]*n[2],
		s.D[3]*n[0] + s.D[1]*n[1] + s.D[5]*n[2],
		s.D[4]*n[0] + s.D[5]*n[1] + s.D[2]*n[2],
	}
	c := k / (1 + k*normal(&s.D, n))
	full := [3][3]float64{{s.D[0], s.D[3], s.D[4]}, {s.D[3], s.D[1], s.D[5]}, {s.D[4], s.D[5], s.D[2]}}
	var mid, d [3][3]float64
	for i := range 3 {
		for j := range 3 {
			full[i][j] -= c * dn[i] * dn[j]
		}
	}
	proj := func(i, j int) float64 {
		e := n[i] * n[j] * (1/f - 1)
		if i == j {
			e++
		}
		return e
	}
	for i := range 3 {
		for j := range 3 {
			for l := range 3 {
				mid[i][j] += proj(i, l) * full[l][j]
			}
		}
	}
	var air float64 // coenergy: mu0 h h / 2 + j h
	for i := range 3 {
		t := h[i] - hn*n[i]
		ha := t + n[i]*(x-jn)/material.Mu0 // with x in place of bn the coenergy does not feel what is left of the error of x
		air += 0.5*material.Mu0*ha*ha + m.j[i]*ha
		out.B[i] = f*(s.B[i]+(1/f-1)*bn*n[i]) + (1-f)*(material.Mu0*t+m.j[i]-jn*n[i])
		for j := range 3 {
			for l := range 3 {
				d[i][j] += f * mid[i][l] * proj(l, j)
			}
			d[i][j] -= (1 - f) * material.Mu0 * n[i] * n[j]
		}
		d[i][i] += (1 - f) * material.Mu0
	}
	out.D = [6]float64{d[0][0], d[1][1], d[2][2], d[0][1], d[0][2], d[1][2]}
	out.w = f*s.w + (1-f)*air
}

// filled is the share of the innermost medium in all.
func (m *laminate) filled() float64 {
	if in := m.medium.laminate; in != nil {
		return m.share * in.filled()
	}
	return m.share
}

// inverse is H for a given B. With hs in the medium it is the minimum of the convex
//
//	f w(hs) + (1-f) mu0 |Q hs|^2/2 - c.hs,  c = f n n.B + Q (B - (1-f) j)
//
// whose gradient says that n.b(hs) = n.B, and Q B is that of the law: Newton's method, its steps halved while they do not descend.
func (m *laminate) inverse(b, q [3]float64) (h [3]float64) {
	f, n := m.share, &m.n
	bn := b[0]*n[0] + b[1]*n[1] + b[2]*n[2]
	jn := m.across()
	var c, start [3]float64
	for k := range c {
		t := b[k] - bn*n[k] - (1-f)*(m.j[k]-jn*n[k])
		c[k], start[k] = f*bn*n[k]+t, bn*n[k]+t/f
	}
	h = m.medium.inverse(start, q) // as if the medium carried all
	var lw law
	value := func(h [3]float64) float64 {
		m.medium.at(&h, &q, &lw)
		hn := h[0]*n[0] + h[1]*n[1] + h[2]*n[2]
		w := f * lw.w
		for k := range h {
			t := h[k] - hn*n[k]
			w += (1-f)*material.Mu0*t*t/2 - c[k]*h[k]
		}
		return w
	}
	w := value(h)
	for range 60 {
		hn := h[0]*n[0] + h[1]*n[1] + h[2]*n[2]
		var g [3]float64
		var d [6]float64
		var left, size float64
		for k := range g {
			g[k] = c[k] - f*lw.B[k] - (1-f)*material.Mu0*(h[k]-hn*n[k])
			left, size = left+g[k]*g[k], size+c[k]*c[k]
			d[k] = f*lw.D[k] + (1-f)*material.Mu0*(1-n[k]*n[k])
		}
		if left <= 1e-26*size {
			break
		}
		d[3] = f*lw.D[3] - (1-f)*material.Mu0*n[0]*n[1]
		d[4] = f*lw.D[4] - (1-f)*material.Mu0*n[0]*n[2]
		d[5] = f*lw.D[5] - (1-f)*material.Mu0*n[1]*n[2]
		step := solveSmall(&d, &g)
		next, nextW := h, w
		for scale := 1.0; scale > 1e-6; scale /= 2 {
			for k := range h {
				next[k] = h[k] + scale*step[k]
			}
			if nextW = value(next); nextW <= w {
				break
			}
		}
		if next == h || nextW > w+1e-13*math.Abs(w) {
			break
		}
		h, w = next, nextW
	}
	// The mean: across the layers B is common, along them H.
	hn := h[0]*n[0] + h[1]*n[1] + h[2]*n[2]
	for k := range h {
		h[k] += n[k] * (1 - f) * ((bn-jn)/material.Mu0 - hn)
	}
	return h
}

// solveSmall is the solution of a symmetric positive definite system, its matrix in the order of a law's D.
func solveSmall(d *[6]float64, g *[3]float64) (x [3]float64) {
	l0 := math.Sqrt(d[0])
	l3, l4 := d[3]/l0, d[4]/l0
	l1 := math.Sqrt(d[1] - l3*l3)
	l5 := (d[5] - l3*l4) / l1
	l2 := math.Sqrt(d[2] - l4*l4 - l5*l5)
	y0 := g[0] / l0
	y1 := (g[1] - l3*y0) / l1
	y2 := (g[2] - l4*y0 - l5*y1) / l2
	x[2] = y2 / l2
	x[1] = (y1 - l5*x[2]) / l1
	x[0] = (y0 - l3*x[1] - l4*x[2]) / l0
	return x
}
