package axisymmetric

import (
	"cmp"
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"

	"polewright/material"
)

// Integral is what a body holds. All vectors are along the axis; the means of the radial components over a turn are zero.
type Integral struct {
	Volume float64 // m3
	MeanB  float64 // T, along the axis
	MeanH  float64 // A/m, along the axis
	MeanB1 float64 // mean of |B|, T
	MaxB   float64 // largest |B| but for a thousandth of the volume: in corners it has no bound, T
	Moment float64 // integral of B/mu0 - H, A m2
}

// Bodies integrates over all bodies.
func (s *Solution) Bodies() []Integral {
	parts := make([]Integral, len(s.domain.Bodies))
	type share struct{ b, volume float64 }
	shares := make([][]share, len(parts))
	for t, body := range s.sys.mesh.body {
		if body < 0 {
			continue
		}
		p := &parts[body]
		m := s.sys.medium(int32(t))
		var vol, b1 float64
		for q := range points {
			h := s.sys.field(int32(t), q, s.free)
			b := m.at(h, s.sys.els[t].at[q]).B
			w := s.sys.els[t].w[q]
			vol += w
			b1 += w * math.Hypot(b[0], b[1])
			p.MeanB += w * b[1]
			p.MeanH += w * h[1]
		}
		p.Volume += vol
		p.MeanB1 += b1
		shares[body] = append(shares[body], share{b1 / vol, vol})
	}
	for i, list := range shares {
		slices.SortFunc(list, func(a, b share) int { return cmp.Compare(b.b, a.b) })
		var sum float64
		for _, x := range list {
			parts[i].MaxB = x.b
			if sum += x.volume; sum > 1e-3*parts[i].Volume {
				break
			}
		}
	}
	out := make([]Integral, len(parts))
	for i := range out {
		o := &out[i]
		*o = parts[i]
		if s.domain.parity != None { // the body's image in the domain, mirrored
			j := parts[s.domain.partner[i]]
			_, sign := s.fold(-1)
			o.Volume += j.Volume
			o.MeanB += sign[1] * j.MeanB
			o.MeanH += sign[1] * j.MeanH
			o.MeanB1 += j.MeanB1
			o.MaxB = math.Max(o.MaxB, j.MaxB)
		}
		if o.Volume > 0 {
			o.Moment = o.MeanB/material.Mu0 - o.MeanH
			o.MeanB /= o.Volume
			o.MeanH /= o.Volume
			o.MeanB1 /= o.Volume
		}
	}
	return out
}

// Flux is the flux (Wb) along the axis through the ring from radius r1 to r2 (m) at the height z (m) along the axis from the problem's origin,
// within one body: points on the ring's own face count to the body given.
func (s *Solution) Flux(body int, z, r1, r2 float64) float64 {
	z -= s.shift
	const panels = 48
	var sum float64
	for i := range panels {
		for _, q := range lineRule {
			r := r1 + (r2-r1)*(float64(i)+q.s)/panels
			sum += 2 * math.Pi * r * s.bodyField(body, r, z)[1] * q.w * (r2 - r1) / panels
		}
	}
	return sum
}

// bodyField is B at a point of a body, of the element itself.
func (s *Solution) bodyField(body int, r, z float64) Vec {
	at, sign := s.fold(z)
	if z < 0 && s.domain.parity != None {
		body = s.domain.partner[body]
	}
	tiny := 1e-9 * s.domain.bound
	for _, dz := range [3]float64{0, tiny, -tiny} {
		t, area, ok := s.sys.mesh.Locate(r2.Vec{X: r, Y: at + dz})
		if !ok || s.sys.mesh.body[t] != int32(body) {
			continue
		}
		q := Vec{r, at}
		b := s.sys.medium(int32(t)).at(s.raw(int32(t), area, q), q).B
		return Vec{sign[0] * b[0], sign[1] * b[1]}
	}
	return Vec{}
}

// Coenergy is the energy functional W (J) at the solution, open space included. The force on a body or coil is its derivative by the place.
func (s *Solution) Coenergy() (sum float64) {
	for t := range s.sys.els {
		if s.sys.mesh.body[t] == outer {
			continue
		}
		for q := range points {
			sum += s.sys.els[t].w[q] * s.sys.law(int32(t), q, s.free).w
		}
	}
	n := len(s.sys.rim)
	for a, i := range s.sys.rim {
		for b, j := range s.sys.rim {
			sum += 0.5 * s.free[i] * s.sys.open[a*n+b] * s.free[j]
		}
	}
	if s.domain.parity != None {
		sum *= 2
	}
	return sum
}

// Within is B (T) of the element itself at a world point within a body, not recovered: the mean over many points is as good, at a fraction of
// the work. ok is false in air.
func (s *Solution) Within(p r3.Vec) (b r3.Vec, ok bool) {
	r, z, cos, sin := s.domain.meridian(p)
	at, sign := s.fold(z)
	t, area, ok := s.sys.mesh.Locate(r2.Vec{X: r, Y: at})
	if !ok || s.sys.mesh.body[t] < 0 {
		return r3.Vec{}, false
	}
	q := Vec{r, at}
	f := s.sys.medium(int32(t)).at(s.raw(int32(t), area, q), q).B
	return s.domain.world(sign[0]*f[0]*cos, sign[0]*f[0]*sin, sign[1]*f[1]), true
}

// Spot is a piece of a body.
type Spot struct {
	Volume float64 // m3
	H      Vec     // A/m
}

// Spots gives the field strength all over a body, at the quadrature points.
func (s *Solution) Spots(body int) (out []Spot) {
	for t, b := range s.sys.mesh.body {
		if b < 0 {
			continue
		}
		own := int(b) == body
		image := s.domain.parity != None && s.domain.partner[body] == int(b)
		if !own && !image {
			continue
		}
		_, sign := s.fold(-1)
		for q := range points {
			h, w := s.sys.field(int32(t), q, s.free), s.sys.els[t].w[q]
			if own {
				out = append(out, Spot{w, h})
			}
			if image {
				out = append(out, Spot{w, Vec{sign[0] * h[0], sign[1] * h[1]}})
			}
		}
	}
	return out
}
