package freefield

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"gonum.org/v1/gonum/mathext"
	"gonum.org/v1/gonum/spatial/r3"
	"pgregory.net/rapid"

	"polewright/material"
	"polewright/shape"
)

func drawVec(t *rapid.T, name string, size float64) r3.Vec {
	f := rapid.Float64Range(-size, size)
	return r3.Vec{X: f.Draw(t, name+" x"), Y: f.Draw(t, name+" y"), Z: f.Draw(t, name+" z")}
}

// drawMagnet draws a placed example with any polarization.
func drawMagnet(t *rapid.T) Magnet {
	all := examples()
	var names []string
	for name := range all {
		names = append(names, name)
	}
	slices.Sort(names)
	s := all[rapid.SampledFrom(names).Draw(t, "shape")]
	a := drawVec(t, "turn", 3)
	j := drawVec(t, "J", 1)
	if r3.Norm(j) < 0.1 {
		j = r3.Vec{Z: 1}
	}
	return Magnet{s, shape.Placement{Center: drawVec(t, "centre", 0.05), Rot: shape.Euler(a.X, a.Y, a.Z)}, j}
}

func size(s shape.Solid) float64 {
	h := s.HalfExtent()
	return math.Max(h.X, math.Max(h.Y, h.Z))
}

// drawClear draws a world point that keeps a distance of 2 % of the size from the magnet's surface.
func drawClear(t *rapid.T, m Magnet) r3.Vec {
	d := size(m.Solid)
	q := drawVec(t, "point", 2.2*d)
	if m.Solid.Contains(q, 0.02*d) != m.Solid.Contains(q, -0.02*d) {
		t.Skip("near the surface")
	}
	return m.Place.ToWorld(q)
}

func unit(i int) r3.Vec { return [3]r3.Vec{{X: 1}, {Y: 1}, {Z: 1}}[i] }

// slope is the derivative of f along axis i by differences of fourth order.
func slope(f func(r3.Vec) float64, p r3.Vec, i int, d float64) float64 {
	at := func(k float64) float64 { return f(r3.Add(p, r3.Scale(k*d, unit(i)))) }
	return (8*(at(1)-at(-1)) - (at(2) - at(-2))) / (12 * d)
}

// H = -grad phi, div H = 0 and curl H = 0 off the surface. Differences over 2e-4 of the size, at least 100 steps from the surface:
// truncation 1e-7 of J over the distance, rounding 1e-11.
func TestFieldIsGradientWithoutSources(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		m := drawMagnet(t)
		p := drawClear(t, m)
		d := 2e-4 * size(m.Solid)
		scale := r3.Norm(m.Polarization) / material.Mu0
		h := m.H(p)
		var dh [3]r3.Vec // dh[i] is the derivative of H along axis i
		for i := range 3 {
			if g := slope(m.Potential, p, i, d); math.Abs(g+r3.Dot(h, unit(i))) > 1e-7*scale {
				t.Fatalf("%v: dphi/dx%d = %v, H = %v", m.Solid, i, g, h)
			}
			dh[i] = r3.Vec{
				X: slope(func(p r3.Vec) float64 { return m.H(p).X }, p, i, d),
				Y: slope(func(p r3.Vec) float64 { return m.H(p).Y }, p, i, d),
				Z: slope(func(p r3.Vec) float64 { return m.H(p).Z }, p, i, d),
			}
		}
		tol := 1e-5 * scale / size(m.Solid)
		if div := dh[0].X + dh[1].Y + dh[2].Z; math.Abs(div) > tol {
			t.Fatalf("%v: div H = %v", m.Solid, div)
		}
		curl := r3.Vec{X: dh[1].Z - dh[2].Y, Y: dh[2].X - dh[0].Z, Z: dh[0].Y - dh[1].X}
		if r3.Norm(curl) > tol {
			t.Fatalf("%v: curl H = %v", m.Solid, curl)
		}
	})
}

func near2(t rapid.TB, what string, got, want r3.Vec, tol float64) {
	if !(r3.Norm(r3.Sub(got, want)) <= tol) {
		t.Fatalf("%s: %v, want %v", what, got, want)
	}
}

// B does not depend on the scale of a body, it is linear in J, and it adds.
func TestScalingAndSuperposition(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		m := drawMagnet(t)
		p := drawClear(t, m)
		b, phi := m.B(p), m.Potential(p)
		k := rapid.SampledFrom([]float64{1e-3, 0.5, 7, 1e3}).Draw(t, "scale")
		big := m
		big.Place.Center = r3.Scale(k, m.Place.Center)
		switch s := m.Solid.(type) {
		case shape.Block:
			big.Solid = shape.Block{Size: r3.Scale(k, s.Size)}
		case shape.Disc:
			big.Solid = shape.Disc{Diameter: k * s.Diameter, Thickness: k * s.Thickness}
		case shape.Ring:
			big.Solid = shape.Ring{OuterDiameter: k * s.OuterDiameter, InnerDiameter: k * s.InnerDiameter, Thickness: k * s.Thickness}
		case shape.Wedge:
			big.Solid = shape.Wedge{OuterDiameter: k * s.OuterDiameter, InnerDiameter: k * s.InnerDiameter, Thickness: k * s.Thickness, From: s.From, To: s.To}
		}
		near2(t, "scaled", big.B(r3.Scale(k, p)), b, 1e-12)
		if got := big.Potential(r3.Scale(k, p)) / k; math.Abs(got-phi) > 1e-12*size(m.Solid)/material.Mu0 {
			t.Fatalf("scaled potential %v, want %v", got, phi)
		}
		other := m
		other.Polarization = drawVec(t, "other J", 1)
		sum := m
		sum.Polarization = r3.Add(r3.Scale(2, m.Polarization), other.Polarization)
		near2(t, "linear in J", sum.B(p), r3.Add(r3.Scale(2, b), other.B(p)), 1e-12)
		both := Sources{m, other}
		near2(t, "B of both", both.B(p), r3.Add(b, other.B(p)), 1e-14)
		near2(t, "H of both", both.H(p), r3.Add(m.H(p), other.H(p)), 1e-14/material.Mu0)
		if got, want := both.Potential(p), phi+other.Potential(p); math.Abs(got-want) > 1e-12*math.Abs(want) {
			t.Fatalf("potential of both %v, want %v", got, want)
		}
	})
}

// A mirror turns B as an axial vector: seen in the mirror z -> -z, a body polarized along (-Jx, -Jy, Jz) has the field (-Bx, -By, Bz).
func TestMirror(t *testing.T) {
	mirror := func(v r3.Vec) r3.Vec { return r3.Vec{X: v.X, Y: v.Y, Z: -v.Z} }
	axialMirror := func(v r3.Vec) r3.Vec { return r3.Vec{X: -v.X, Y: -v.Y, Z: v.Z} }
	rapid.Check(t, func(t *rapid.T) {
		m := drawMagnet(t)
		p := drawClear(t, m)
		seen := m
		seen.Place.Center, seen.Polarization = mirror(m.Place.Center), axialMirror(m.Polarization)
		// All bodies are symmetric about their own plane z = 0, so the mirror image is the body turned by S R S.
		for i := range 3 {
			for k := range 3 {
				if (i == 2) != (k == 2) {
					seen.Place.Rot[i][k] = -m.Place.Rot[i][k]
				}
			}
		}
		near2(t, "mirrored", seen.B(mirror(p)), axialMirror(m.B(p)), 1e-12)
	})
}

// A body cut in pieces has the field of its pieces, also inside and for points on the cuts.
func TestPieces(t *testing.T) {
	block := func(x0, x1, y, z float64, j r3.Vec) Magnet {
		return Magnet{brick(x1-x0, y, z), shape.Placement{Center: r3.Vec{X: (x0 + x1) / 2}, Rot: shape.Identity()}, j}
	}
	at := func(s shape.Solid, j r3.Vec) Magnet { return Magnet{s, shape.Placement{Rot: shape.Identity()}, j} }
	rapid.Check(t, func(t *rapid.T) {
		j := drawVec(t, "J", 1)
		p := drawVec(t, "point", 0.08)
		if rapid.Bool().Draw(t, "on the cut") {
			p.X = 0.01
		}
		cut := rapid.Float64Range(0.2, 6).Draw(t, "cut")
		ring := shape.Ring{OuterDiameter: 0.06, InnerDiameter: 0.03, Thickness: 0.02}
		wedge := func(from, to float64) Magnet {
			return at(shape.Wedge{OuterDiameter: 0.06, InnerDiameter: 0.03, Thickness: 0.02, From: from, To: to}, j)
		}
		tests := []struct {
			name   string
			whole  Magnet
			pieces Sources
		}{
			{"block", block(-0.03, 0.03, 0.04, 0.02, j), Sources{block(-0.03, 0.01, 0.04, 0.02, j), block(0.01, 0.03, 0.04, 0.02, j)}},
			{"disc", at(coin(0.06, 0.02), j), Sources{at(coin(0.03, 0.02), j), at(ring, j)}},
			{"ring of sectors", at(ring, j), Sources{wedge(0, cut), wedge(cut, 2*math.Pi)}},
			{"sector of sectors", wedge(-0.2, cut), Sources{wedge(-0.2, cut/2), wedge(cut/2, cut)}},
		}
		for _, tt := range tests {
			whole, pieces := tt.whole.B(p), tt.pieces.B(p)
			near2(t, tt.name, pieces, whole, 2e-11)
			near2(t, tt.name+", H", r3.Scale(material.Mu0, tt.pieces.H(p)), r3.Scale(material.Mu0, tt.whole.H(p)), 2e-11)
			if a, b := tt.pieces.Potential(p), tt.whole.Potential(p); math.Abs(a-b) > 1e-12/material.Mu0 {
				t.Fatalf("%s: potential of the pieces %v, of the whole %v", tt.name, a, b)
			}
		}
	})
}

// surfacePoints lists points on faces (with the normal), and on edges, corners and axes, of an example.
func surfacePoints(s shape.Solid) (faces [][2]r3.Vec, edges []r3.Vec) {
	for _, f := range skin(s) {
		for _, uv := range [][2]float64{{0.5, 0.5}, {0.3, 0.8}} {
			at, n := f(uv[0], uv[1])
			faces = append(faces, [2]r3.Vec{at, r3.Unit(n)})
		}
		for _, uv := range [][2]float64{{0, 0}, {0, 0.4}, {0.3, 1}, {1, 0.7}, {1, 1}} {
			at, _ := f(uv[0], uv[1])
			edges = append(edges, at)
		}
	}
	h := s.HalfExtent()
	return faces, append(edges, r3.Vec{}, r3.Vec{Z: h.Z}, r3.Vec{Z: -h.Z}, r3.Vec{Z: 2 * h.Z}, r3.Vec{X: h.X}, r3.Vec{X: 2 * h.X},
		r3.Vec{X: 2 * h.X, Z: h.Z}, r3.Vec{X: h.X, Y: h.Y, Z: 3 * h.Z}, r3.Vec{X: h.X, Y: h.Y, Z: -3 * h.Z}, r3.Vec{X: h.X, Z: 3 * h.Z})
}

// On the surface everything is finite; on a face H and B are the mean of both sides, B's normal and H's tangential part and the potential go
// through; on an edge the potential goes through and the field stays below 10 J.
func TestOnTheSurface(t *testing.T) {
	rng := rand.New(rand.NewPCG(5, 6))
	for name, s := range examples() {
		d := 1e-7 * size(s)
		faces, edges := surfacePoints(s)
		for i := range 2 * len(faces) {
			place := shape.Placement{Rot: shape.Identity()}
			if i%2 == 1 {
				place = shape.Placement{Center: anyVec(rng, 0.02), Rot: shape.Euler(1, 2, 3)}
			}
			m := Magnet{s, place, r3.Unit(anyVec(rng, 1))}
			at, n := faces[i/2][0], faces[i/2][1]
			world := m.Place.ToWorld
			out, in, on := world(r3.Add(at, r3.Scale(d, n))), world(r3.Sub(at, r3.Scale(d, n))), world(at)
			n = m.Place.Rot.Apply(n)
			jump := r3.Sub(m.B(out), m.B(in))
			if a := math.Abs(r3.Dot(jump, n)); a > 1e-4 { // the slope over 2e-7 of the size beside a wall 1/300 as thick
				t.Errorf("%s: normal B jumps by %v", name, a)
			}
			hjump := r3.Scale(material.Mu0, r3.Sub(m.H(out), m.H(in)))
			if want := r3.Scale(r3.Dot(m.Polarization, n), n); r3.Norm(r3.Sub(hjump, want)) > 1e-4 {
				t.Errorf("%s: mu0 H jumps by %v, want %v", name, hjump, want)
			}
			// The mean of both sides at d and d/2, carried on to the face: the slopes of both sides of a curved face are not opposite.
			mean := func(f func(r3.Vec) r3.Vec) r3.Vec {
				both := func(d float64) r3.Vec {
					return r3.Scale(0.5, r3.Add(f(r3.Add(on, r3.Scale(d, n))), f(r3.Sub(on, r3.Scale(d, n)))))
				}
				return r3.Sub(r3.Scale(2, both(d/2)), both(d))
			}
			if mean := mean(m.B); r3.Norm(r3.Sub(m.B(on), mean)) > 1e-8 {
				t.Errorf("%s at %v: B on the face %v, mean of both sides %v", name, at, m.B(on), mean)
			}
			if mean := mean(m.H); r3.Norm(r3.Sub(m.H(on), mean)) > 1e-8/material.Mu0 {
				t.Errorf("%s at %v: H on the face %v, mean of both sides %v", name, at, m.H(on), mean)
			}
			if a, b := m.Potential(on), m.Potential(out); math.Abs(a-b) > 2*d/material.Mu0 {
				t.Errorf("%s: potential on the face %v, outside %v", name, a, b)
			}
		}
		for _, at := range edges {
			m := Magnet{s, shape.Placement{Rot: shape.Identity()}, r3.Unit(anyVec(rng, 1))}
			b, h, phi := m.B(at), r3.Scale(material.Mu0, m.H(at)), m.Potential(at)
			if !(r3.Norm(b) < 20 && r3.Norm(h) < 20) {
				t.Errorf("%s: at %v B = %v, mu0 H = %v", name, at, b, h)
			}
			beside := m.Potential(r3.Add(at, r3.Scale(d, r3.Unit(anyVec(rng, 1)))))
			if math.Abs(phi-beside) > 20*d/material.Mu0 { // below 20 J/mu0 on the way
				t.Errorf("%s: potential at %v is %v, beside it %v", name, at, phi, beside)
			}
		}
	}
}

// Close to an edge the field grows as the logarithm of the distance and the point on the edge carries it on: 1e-12 of the size.
func TestEdgeIsLarge(t *testing.T) {
	for _, s := range []shape.Solid{brick(0.02, 0.02, 0.02), coin(0.02, 0.02), shape.Wedge{OuterDiameter: 0.02, Thickness: 0.02, From: -1, To: 1}} {
		m := axial(s, 0, 1)
		at := r3.Vec{X: 0.01, Z: 0.01}
		growth := func(d float64) float64 {
			return math.Abs(m.B(r3.Add(at, r3.Vec{X: d})).X)
		}
		step := growth(1e-6) - growth(1e-5)
		// Two half planes of charge: J/(2 pi) ln(1/d).
		if want := math.Ln10 / (2 * math.Pi); math.Abs(step/want-1) > 0.01 {
			t.Errorf("%v: a tenth of the distance adds %v, want %v", s, step, want)
		}
		if edge := growth(0); math.Abs(edge-(growth(1e-6)+8*step)) > 0.01*edge {
			t.Errorf("%v: on the edge %v, ten to the -14 m from it about %v", s, edge, growth(1e-6)+8*step)
		}
	}
}

// K and the integral of sin^2 against gonum's complete elliptic integrals: K and (K - E)/m.
func TestEllipticAgainstGonum(t *testing.T) {
	for _, kc := range []float64{1e-4, 1e-2, 0.1, 0.5, 0.9, 0.999} {
		m := 1 - kc*kc
		K, s, _ := elliptic(kc, 0.5)
		if want := mathext.CompleteK(m); math.Abs(K/want-1) > 2e-15+2e-16/(kc*kc) { // 1 - kc^2 loses digits in the reference
			t.Errorf("K(%v) = %v, want %v", kc, K, want)
		}
		if want := (mathext.CompleteK(m) - mathext.CompleteE(m)) / m; math.Abs(s/want-1) > 2e-15/m+2e-16/(kc*kc) {
			t.Errorf("s(%v) = %v, want %v", kc, s, want)
		}
	}
}

// Action and reaction: forces are opposite and the torques balance about any point.
func TestActionAndReaction(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a, b := drawMagnet(t), drawMagnet(t)
		b.Place.Center = r3.Add(a.Place.Center, r3.Scale(1.2*(size(a.Solid)+size(b.Solid))*math.Sqrt2, r3.Unit(r3.Add(r3.Vec{X: 0.01}, drawVec(t, "away", 1)))))
		fb, tb := Force(a, b)
		fa, ta := Force(b, a)
		scale := r3.Norm(a.Polarization) * r3.Norm(b.Polarization) / material.Mu0 * math.Min(a.Solid.SurfaceArea(), b.Solid.SurfaceArea())
		near2(t, "force", fa, r3.Scale(-1, fb), 2e-6*scale)
		arm := r3.Sub(b.Place.Center, a.Place.Center)
		near2(t, "torque", r3.Add(ta, tb), r3.Cross(fb, arm), 2e-6*scale*r3.Norm(arm))
	})
}

// A small magnet far away feels the torque m x B and the force grad(m . B) (Jackson, section 5.7).
func TestForceOnDipole(t *testing.T) {
	a := axial(brick(0.05, 0.04, 0.02), 0, 1.3)
	p := r3.Vec{X: 0.2, Y: 0.1, Z: 0.15}
	b := Magnet{brick(0.002, 0.002, 0.002), shape.Placement{Center: p, Rot: shape.Euler(0.1, 0.2, 0.3)}, r3.Vec{X: 0.5, Y: 0.4, Z: -1}}
	f, torque := Force(a, b)
	m := b.Moment()
	if want := r3.Cross(m, a.B(p)); r3.Norm(r3.Sub(torque, want)) > 1e-4*r3.Norm(want) {
		t.Errorf("torque %v, want %v", torque, want)
	}
	var want r3.Vec
	mb := func(p r3.Vec) float64 { return r3.Dot(m, a.B(p)) }
	want.X, want.Y, want.Z = slope(mb, p, 0, 1e-4), slope(mb, p, 1, 1e-4), slope(mb, p, 2, 1e-4)
	if r3.Norm(r3.Sub(f, want)) > 1e-4*r3.Norm(want) { // (1 mm / 0.27 m)^2 of the size of b
		t.Errorf("force %v, want %v", f, want)
	}
	both, torque2 := Sources{a, a}.Force(b)
	if r3.Norm(r3.Sub(both, r3.Scale(2, f))) > 1e-6*r3.Norm(f) || r3.Norm(r3.Sub(torque2, r3.Scale(2, torque))) > 1e-6*r3.Norm(torque) {
		t.Errorf("two sources: %v %v", both, torque2)
	}
}

// Two equal blocks in contact pull with the stress B^2/(2 mu0) over the plane between them (Maxwell), here by a sum over the plane of
// symmetry, where B is normal, out to 60 sizes: the stress falls as r^-6 there.
func TestForceInContact(t *testing.T) {
	for _, s := range []shape.Solid{brick(0.05, 0.05, 0.025), coin(0.05, 0.025)} {
		z := s.HalfExtent().Z
		pair := Sources{axial(s, z, 1.3), axial(s, -z, 1.3)}
		f, _ := Force(pair[1], pair[0])
		// Outside the bodies; inside them the plane is a joint, B the same on both sides of the film.
		total := 0.0
		g := gauss[24]
		edges := []float64{0, 0.4, 0.6, 0.8, 0.9, 0.97, 0.99, 0.999, 1, 1.001, 1.01, 1.03, 1.1, 1.3, 1.6, 2.2, 3.5, 6, 12, 30}
		// The quarter plane in square shells, by symmetry eight triangles.
		for i := range len(edges) - 1 {
			h := (edges[i+1] - edges[i]) / 2
			for k, a := range g.x {
				r := (edges[i] + h*(1+a)) * s.HalfExtent().X
				wr := g.w[k] * h * s.HalfExtent().X
				for l, c := range g.x {
					u := (1 + c) / 2
					var p r3.Vec
					var w float64
					if _, disc := s.(shape.Disc); disc {
						p, w = r3.Vec{X: r}, 2*math.Pi*r*wr*g.w[l]/2
					} else {
						u = u * u * (3 - 2*u)
						p, w = r3.Vec{X: r, Y: r * u}, 8*wr*r*g.w[l]/2*6*(1+c)/2*(1-(1+c)/2)
					}
					b := pair.B(p).Z
					total += w * b * b / (2 * material.Mu0)
				}
			}
		}
		if math.Abs(-f.Z/total-1) > 1e-4 {
			t.Errorf("%v in contact: %.3f N, stress over the plane %.3f N", s, -f.Z, total)
		}
	}
}

func TestNoAllocation(t *testing.T) {
	var s Sources
	for _, solid := range examples() {
		s = append(s, axial(solid, 0, 1))
	}
	p := r3.Vec{X: 0.011, Y: 0.013, Z: 0.017}
	if n := testing.AllocsPerRun(10, func() { s.B(p); s.H(p); s.Potential(p) }); n != 0 {
		t.Errorf("%v allocations", n)
	}
}

// Bad input gives an error, no field or not-a-number, never a panic.
func TestBadInput(t *testing.T) {
	bad := []Magnet{
		{},
		{Solid: shape.Frustum{BottomDiameter: 1, TopDiameter: 0.5, Height: 1}, Polarization: r3.Vec{Z: 1}},
		{Solid: shape.Racetrack{CoreX: 1, CoreY: 1, Build: 1, Width: 1}, Polarization: r3.Vec{Z: 1}},
		axial(brick(0, 1, 1), 0, 1),
		axial(brick(-1, 1, 1), 0, 1),
		axial(coin(1, math.NaN()), 0, 1),
		axial(coin(math.Inf(1), 1), 0, 1),
		axial(shape.Ring{OuterDiameter: 1, InnerDiameter: 2, Thickness: 1}, 0, 1),
		axial(shape.Wedge{OuterDiameter: 1, InnerDiameter: 1, Thickness: 1, To: 1}, 0, 1),
		axial(coin(1, 1), 0, math.NaN()),
	}
	for _, m := range bad {
		if m.Check() == nil {
			t.Errorf("%v passes", m)
		}
		for _, p := range []r3.Vec{{}, {X: 0.3, Y: 0.2, Z: 0.1}, {X: math.Inf(1)}, {X: math.NaN()}, {X: 1e200}} {
			m.B(p)
			m.H(p)
			m.Potential(p)
		}
		m.Moment()
		Force(m, axial(coin(1, 1), 3, 1))
		Force(axial(coin(1, 1), 3, 1), m)
	}
	for name, s := range examples() {
		m := axial(s, 0, 1)
		if err := m.Check(); err != nil {
			t.Errorf("%s: %v", name, err)
		}
		if b := m.B(r3.Vec{X: 1e150, Y: 1e150}); b != (r3.Vec{}) {
			t.Errorf("%s: field %v at 1e150 m", name, b)
		}
	}
}

// A point seen from the axis at a hair's breadth from the end of an arc once ran past the table of rules: both ends of the piece were one
// number there. It is on the cut between two sectors of a ring and has the ring's field. Tolerance as for the other pieces.
func TestPointAtTheEndOfAnArc(t *testing.T) {
	j := r3.Vec{X: 1, Y: 1, Z: 1}
	ring := Magnet{shape.Ring{OuterDiameter: 0.06, InnerDiameter: 0.03, Thickness: 0.02}, shape.Placement{Rot: shape.Identity()}, j}
	sector := func(from, to float64) Magnet {
		return Magnet{shape.Wedge{OuterDiameter: 0.06, InnerDiameter: 0.03, Thickness: 0.02, From: from, To: to}, ring.Place, j}
	}
	p := r3.Vec{X: 3.469446951953614e-18, Y: -0.03125000009094947, Z: 0.03125}
	near2(t, "sectors", Sources{sector(0, 3.5), sector(3.5, 2*math.Pi)}.B(p), ring.B(p), 2e-11)
	near2(t, "a sector in two", Sources{sector(-0.2, 1.75), sector(1.75, 3.5)}.B(p), sector(-0.2, 3.5).B(p), 2e-11)
}
