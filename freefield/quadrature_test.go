package freefield

import (
	"math"
	"math/rand/v2"
	"testing"

	"gonum.org/v1/gonum/integrate/quad"
	"gonum.org/v1/gonum/spatial/r3"

	"polewright/material"
	"polewright/shape"
)

// patch is a piece of a charged surface: a point and the outward normal times area element over the unit square.
type patch func(u, v float64) (at, normal r3.Vec)

func rectangle(corner, a, b r3.Vec) patch { // outward normal along a x b
	n := r3.Cross(a, b)
	return func(u, v float64) (r3.Vec, r3.Vec) {
		return r3.Add(corner, r3.Add(r3.Scale(u, a), r3.Scale(v, b))), n
	}
}

func sector(z, r0, r1, t0, t1, up float64) patch {
	return func(u, v float64) (r3.Vec, r3.Vec) {
		r := r0 + u*(r1-r0)
		s, c := math.Sincos(t0 + v*(t1-t0))
		return r3.Vec{X: r * c, Y: r * s, Z: z}, r3.Vec{Z: up * r * (r1 - r0) * (t1 - t0)}
	}
}

func barrel(r, z0, z1, t0, t1, out float64) patch {
	return func(u, v float64) (r3.Vec, r3.Vec) {
		s, c := math.Sincos(t0 + v*(t1-t0))
		f := out * r * (t1 - t0) * (z1 - z0)
		return r3.Vec{X: r * c, Y: r * s, Z: z0 + u*(z1-z0)}, r3.Vec{X: f * c, Y: f * s}
	}
}

// skin lists the surface of a body in pieces of at most a quarter turn.
func skin(s shape.Solid) []patch {
	switch s := s.(type) {
	case shape.Block:
		h := s.HalfExtent()
		x, y, z := r3.Vec{X: 2 * h.X}, r3.Vec{Y: 2 * h.Y}, r3.Vec{Z: 2 * h.Z}
		lo := r3.Scale(-1, h)
		return []patch{
			rectangle(r3.Add(lo, z), x, y), rectangle(lo, y, x),
			rectangle(r3.Add(lo, x), y, z), rectangle(lo, z, y),
			rectangle(r3.Add(lo, y), z, x), rectangle(lo, x, z),
		}
	case shape.Disc:
		return skin(shape.Wedge{OuterDiameter: s.Diameter, Thickness: s.Thickness, From: 0, To: 2 * math.Pi})
	case shape.Ring:
		return skin(shape.Wedge{OuterDiameter: s.OuterDiameter, InnerDiameter: s.InnerDiameter, Thickness: s.Thickness, From: 0, To: 2 * math.Pi})
	case shape.Wedge:
		ro, ri, l := s.OuterDiameter/2, s.InnerDiameter/2, s.Thickness/2
		n := math.Ceil(s.Span() / (math.Pi / 2))
		var out []patch
		for i := range int(n) {
			t0, t1 := s.From+s.Span()*float64(i)/n, s.From+s.Span()*float64(i+1)/n
			out = append(out, sector(l, ri, ro, t0, t1, 1), sector(-l, ri, ro, t0, t1, -1), barrel(ro, -l, l, t0, t1, 1))
			if ri > 0 {
				out = append(out, barrel(ri, -l, l, t0, t1, -1))
			}
		}
		if s.Span() < 2*math.Pi {
			for i, t := range []float64{s.From, s.From + s.Span()} {
				sin, cos := math.Sincos(t)
				in, along := r3.Vec{X: ri * cos, Y: ri * sin, Z: -l}, r3.Vec{X: (ro - ri) * cos, Y: (ro - ri) * sin}
				up := r3.Vec{Z: 2 * l}
				if i == 0 {
					out = append(out, rectangle(in, along, up))
				} else {
					out = append(out, rectangle(in, up, along))
				}
			}
		}
		return out
	}
	panic("no skin")
}

var gaussX, gaussW = func() (x, w []float64) {
	x, w = make([]float64, 12), make([]float64, 12)
	quad.Legendre{}.FixedLocations(x, w, 0, 1)
	return
}()

// coulomb sums the charge J.n of the skin of a magnet with the kernel of the field (times 4 pi mu0) and of the potential, pieces being cut in
// two until they are half as large as their distance from the point. It shares no formula with the package: only Coulomb's law.
func coulomb(m Magnet, p r3.Vec) (h r3.Vec, phi float64) {
	q := m.Place.ToLocal(p)
	j := m.Place.Rot.Inverse(m.Polarization)
	var add func(f patch, u, v, du, dv float64, depth int)
	add = func(f patch, u, v, du, dv float64, depth int) {
		c, _ := f(u+du/2, v+dv/2)
		side := func(u1, v1, u2, v2 float64) float64 {
			a, _ := f(u1, v1)
			b, _ := f(u2, v2)
			return r3.Norm(r3.Sub(a, b))
		}
		// The sides across the middle; a sector's longer arc counts.
		lu := side(u, v+dv/2, u+du, v+dv/2)
		lv := math.Max(side(u, v, u, v+dv), side(u+du, v, u+du, v+dv))
		if reach := 0.5 * r3.Norm(r3.Sub(q, c)); math.Max(lu, lv) > reach && depth < 80 {
			if lu > lv {
				add(f, u, v, du/2, dv, depth+1)
				add(f, u+du/2, v, du/2, dv, depth+1)
			} else {
				add(f, u, v, du, dv/2, depth+1)
				add(f, u, v+dv/2, du, dv/2, depth+1)
			}
			return
		}
		for i, x := range gaussX {
			for k, y := range gaussX {
				at, n := f(u+du*x, v+dv*y)
				charge := gaussW[i] * gaussW[k] * du * dv * r3.Dot(j, n)
				s := r3.Sub(q, at)
				r := r3.Norm(s)
				h = r3.Add(h, r3.Scale(charge/(r*r*r), s))
				phi += charge / r
			}
		}
	}
	for _, f := range skin(m.Solid) {
		add(f, 0, 0, 1, 1, 0)
	}
	k := 1 / (4 * math.Pi * material.Mu0)
	return m.Place.Rot.Apply(r3.Scale(k, h)), k * phi
}

// dipoles sums point dipoles through the volume, 12 Gauss points along each edge (along each quarter of an arc): far away, where the charges
// of coulomb cancel.
func dipoles(m Magnet, p r3.Vec) (h r3.Vec, phi float64) {
	q := m.Place.ToLocal(p)
	j := m.Place.Rot.Inverse(m.Polarization)
	dipole := func(at r3.Vec, volume float64) {
		s := r3.Sub(q, at)
		r := r3.Norm(s)
		c := volume * r3.Dot(j, s) / (r * r * r)
		phi += c
		h = r3.Add(h, r3.Sub(r3.Scale(3*c/(r*r), s), r3.Scale(volume/(r*r*r), j)))
	}
	// Each cell is a map from the unit cube with its volume element.
	cell := func(f func(u, v, w float64) (r3.Vec, float64)) {
		for i, u := range gaussX {
			for k, v := range gaussX {
				for l, w := range gaussX {
					at, volume := f(u, v, w)
					dipole(at, volume*gaussW[i]*gaussW[k]*gaussW[l])
				}
			}
		}
	}
	wedge := func(w shape.Wedge) {
		n := math.Ceil(w.Span() / (math.Pi / 2))
		for i := range int(n) {
			cell(func(u, v, z float64) (r3.Vec, float64) {
				r := w.InnerDiameter/2 + u*(w.OuterDiameter-w.InnerDiameter)/2
				sin, cos := math.Sincos(w.From + w.Span()*(float64(i)+v)/n)
				return r3.Vec{X: r * cos, Y: r * sin, Z: (z - 0.5) * w.Thickness}, r * (w.OuterDiameter - w.InnerDiameter) / 2 * w.Span() / n * w.Thickness
			})
		}
	}
	switch s := m.Solid.(type) {
	case shape.Block:
		cell(func(u, v, w float64) (r3.Vec, float64) {
			return r3.Vec{X: (u - 0.5) * s.Size.X, Y: (v - 0.5) * s.Size.Y, Z: (w - 0.5) * s.Size.Z}, s.Volume()
		})
	case shape.Disc:
		wedge(shape.Wedge{OuterDiameter: s.Diameter, Thickness: s.Thickness})
	case shape.Ring:
		wedge(shape.Wedge{OuterDiameter: s.OuterDiameter, InnerDiameter: s.InnerDiameter, Thickness: s.Thickness})
	case shape.Wedge:
		wedge(s)
	}
	k := 1 / (4 * math.Pi * material.Mu0)
	return m.Place.Rot.Apply(r3.Scale(k, h)), k * phi
}

// examples are the bodies of the tests: stout, flat, long, thin-walled.
func examples() map[string]shape.Solid {
	return map[string]shape.Solid{
		"cube":       shape.Block{Size: r3.Vec{X: 0.02, Y: 0.02, Z: 0.02}},
		"block":      shape.Block{Size: r3.Vec{X: 0.06, Y: 0.04, Z: 0.02}},
		"flat block": shape.Block{Size: r3.Vec{X: 0.1, Y: 0.08, Z: 0.002}},
		"bar":        shape.Block{Size: r3.Vec{X: 0.004, Y: 0.1, Z: 0.005}},
		"disc":       shape.Disc{Diameter: 0.05, Thickness: 0.02},
		"flat disc":  shape.Disc{Diameter: 0.08, Thickness: 0.002},
		"rod":        shape.Disc{Diameter: 0.005, Thickness: 0.1},
		"ring":       shape.Ring{OuterDiameter: 0.06, InnerDiameter: 0.03, Thickness: 0.02},
		"tube":       shape.Ring{OuterDiameter: 0.06, InnerDiameter: 0.0598, Thickness: 0.05},
		"wedge":      shape.Wedge{OuterDiameter: 0.1, InnerDiameter: 0.04, Thickness: 0.05, From: -0.3, To: 0.5},
		"slice":      shape.Wedge{OuterDiameter: 0.1, Thickness: 0.03, From: 0.2, To: 1.2},
		"wide wedge": shape.Wedge{OuterDiameter: 0.06, InnerDiameter: 0.05, Thickness: 0.02, From: 1, To: 5.5},
		"pinhole":    shape.Ring{OuterDiameter: 0.06, InnerDiameter: 0.001, Thickness: 0.01},
	}
}

func anyVec(rng *rand.Rand, size float64) r3.Vec {
	return r3.Vec{X: size * (2*rng.Float64() - 1), Y: size * (2*rng.Float64() - 1), Z: size * (2*rng.Float64() - 1)}
}

// points draws test points in the local frame: through the body and about it, close to its skin, on the axes, and far up to 1e4 sizes.
func points(rng *rand.Rand, s shape.Solid, n int) []r3.Vec {
	h := s.HalfExtent()
	size := math.Max(h.X, math.Max(h.Y, h.Z))
	pieces := skin(s)
	var out []r3.Vec
	for i := range n {
		switch i % 5 {
		case 0:
			v := anyVec(rng, 1.5)
			out = append(out, r3.Vec{X: v.X * h.X, Y: v.Y * h.Y, Z: v.Z * h.Z})
		case 1: // near the skin, either side, down to 1e-4 of the size
			at, normal := pieces[rng.IntN(len(pieces))](rng.Float64(), rng.Float64())
			d := size * math.Pow(10, -1-3*rng.Float64())
			if rng.IntN(2) == 0 {
				d = -d
			}
			out = append(out, r3.Add(at, r3.Scale(d, r3.Unit(normal))))
		case 2:
			d := size * 3 * (2*rng.Float64() - 1)
			out = append(out, [3]r3.Vec{{X: d}, {Y: d}, {Z: d}}[rng.IntN(3)])
		case 3:
			out = append(out, anyVec(rng, 3*size))
		default:
			out = append(out, r3.Scale(size*math.Pow(10, 0.5+3.8*rng.Float64()), r3.Unit(anyVec(rng, 1))))
		}
	}
	return out
}

func TestAgainstCoulombQuadrature(t *testing.T) {
	for name, s := range examples() {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			rng := rand.New(rand.NewPCG(1, 2))
			var worstH, worstPhi float64
			for _, q := range points(rng, s, 200) {
				m := Magnet{s, shape.Placement{Center: anyVec(rng, 0.01), Rot: shape.Euler(rng.Float64(), rng.Float64(), rng.Float64())}, anyVec(rng, 1)}
				p := m.Place.ToWorld(q)
				reference := coulomb
				if r3.Norm(q) > 8*r3.Norm(s.HalfExtent()) {
					reference = dipoles
				}
				h, phi := reference(m, p)
				b := r3.Scale(material.Mu0, h)
				if s.Contains(q, 0) {
					b = r3.Add(b, m.Polarization)
				}
				eb := r3.Norm(r3.Sub(m.B(p), b)) / r3.Norm(b)
				eh := r3.Norm(r3.Sub(m.H(p), h)) / r3.Norm(h)
				// The potential of a dipole vanishes across it: relative to H times distance.
				ephi := math.Abs(m.Potential(p)-phi) / (r3.Norm(h)*r3.Norm(r3.Sub(p, m.Place.Center)) + math.Abs(phi))
				worstH, worstPhi = math.Max(worstH, math.Max(eb, eh)), math.Max(worstPhi, ephi)
				if !(eb <= 1e-9 && eh <= 1e-9 && ephi <= 1e-9) {
					t.Errorf("%v at %v: B off by %.1e, H by %.1e, potential by %.1e", s, q, eb, eh, ephi)
				}
			}
			t.Logf("worst: B, H %.1e, potential %.1e", worstH, worstPhi)
		})
	}
}
