package magnetostatic

import (
	"math"

	"polewright/material"
)

// laminate is a medium in plane layers with air between them, the share of the medium given: what a cell is that the surface of a body cuts.
// Along the layers H is common, across them B. The field strength h given is the mean; with f the share, n the normal, Q = I - nn' and
// P = Q + nn'/f
//
//	hs = P h - n k x,  k = (1-f)/(f mu0),  x = n.b(hs)
//	B  = f P b(hs) + (1-f) mu0 Q h
//
// (series and parallel connection; Milton 2002, The Theory of Composites, section 9.2, for two phases).
type laminate struct {
	medium *Medium // isotropic
	share  float64
	n      [3]float64
}

func (m *laminate) at(h, q *[3]float64, out *law) {
	f, n := m.share, &m.n
	k := (1 - f) / (f * material.Mu0)
	hn := h[0]*n[0] + h[1]*n[1] + h[2]*n[2]
	var s law
	var p [3]float64
	inside := func(x float64) {
		c := hn/f - hn - k*x
		p = [3]float64{h[0] + c*n[0], h[1] + c*n[1], h[2] + c*n[2]}
		m.medium.at(&p, q, &s)
	}
	// The root of n.b(hs(x)) - x lies between 0 and the x that leaves the medium no drop.
	end := hn / (1 - f) * material.Mu0
	lo, hi := math.Min(0, end), math.Max(0, end)
	x := end
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
		done := math.Abs(next-x) <= 1e-14*(math.Abs(x)+1e-9)
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
	var ht2 float64
	for i := range 3 {
		t := h[i] - hn*n[i]
		ht2 += t * t
		out.B[i] = f*(s.B[i]+(1/f-1)*bn*n[i]) + (1-f)*material.Mu0*t
		for j := range 3 {
			for l := range 3 {
				d[i][j] += f * mid[i][l] * proj(l, j)
			}
			d[i][j] -= (1 - f) * material.Mu0 * n[i] * n[j]
		}
		d[i][i] += (1 - f) * material.Mu0
	}
	out.D = [6]float64{d[0][0], d[1][1], d[2][2], d[0][1], d[0][2], d[1][2]}
	out.w = f*s.w + (1-f)*0.5*(bn*bn/material.Mu0+material.Mu0*ht2)
}

// inverse is H for a given B. In the medium B is along hs, so its size a solves a = |hs(a)|, whose right side falls where it is larger.
func (m *laminate) inverse(b, q [3]float64) (h [3]float64) {
	f, n := m.share, &m.n
	bn := b[0]*n[0] + b[1]*n[1] + b[2]*n[2]
	bt := math.Sqrt(math.Max(0, b[0]*b[0]+b[1]*b[1]+b[2]*b[2]-bn*bn))
	var lw law
	mu := func(a float64) float64 {
		p := [3]float64{a, 0, 0}
		m.medium.at(&p, &q, &lw)
		return lw.B[0] / a
	}
	size := func(a float64) float64 {
		u := mu(a)
		return math.Hypot(bt/(f*u+(1-f)*material.Mu0), bn/u)
	}
	lo, hi := 1e-9, 1.0
	for hi < 1e12 && size(hi) > hi {
		hi *= 4
	}
	for range 200 {
		a := math.Sqrt(lo * hi)
		if size(a) > a {
			lo = a
		} else {
			hi = a
		}
		if hi/lo < 1+1e-13 {
			break
		}
	}
	u := mu(math.Sqrt(lo * hi))
	t, s := 1/(f*u+(1-f)*material.Mu0), f/u+(1-f)/material.Mu0
	for k := range h {
		h[k] = t*(b[k]-bn*n[k]) + s*bn*n[k]
	}
	return h
}
