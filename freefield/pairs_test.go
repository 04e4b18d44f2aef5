package freefield

import (
	"math"
	"math/rand/v2"
	"testing"

	"gonum.org/v1/gonum/integrate/quad"
	"gonum.org/v1/gonum/spatial/r3"
	"pgregory.net/rapid"

	"polewright/material"
	"polewright/shape"
)

// drawParallel draws two blocks with parallel edges, any polarizations, turned together, that do not overlap: apart along one axis by a gap, which
// may be nothing.
func drawParallel(t *rapid.T) (a, b Magnet) {
	edge := rapid.Float64Range(0.004, 0.03)
	size := func(name string) r3.Vec {
		return r3.Vec{X: edge.Draw(t, name+" x"), Y: edge.Draw(t, name+" y"), Z: edge.Draw(t, name+" z")}
	}
	turn := drawVec(t, "turn", 3)
	rot := shape.Euler(turn.X, turn.Y, turn.Z)
	a = Magnet{shape.Block{Size: size("a")}, shape.Placement{Center: drawVec(t, "place", 0.05), Rot: rot}, drawVec(t, "J of a", 1)}
	b = Magnet{shape.Block{Size: size("b")}, shape.Placement{Rot: rot}, drawVec(t, "J of b", 1)}
	turned := rapid.IntRange(0, 3).Draw(t, "quarters")
	extent := b.Solid.HalfExtent()
	if turned > 0 { // about another edge each time: still parallel
		q := shape.AxisTo(turned)
		b.Place.Rot = rot.Mul(q)
		e := q.Apply(extent)
		extent = r3.Vec{X: math.Abs(e.X), Y: math.Abs(e.Y), Z: math.Abs(e.Z)}
	}
	at := drawVec(t, "offset", 0.03)
	way := rapid.IntRange(0, 2).Draw(t, "apart along")
	gap := rapid.SampledFrom([]float64{0, 1e-4, 0.002, 0.03}).Draw(t, "gap")
	h := a.Solid.HalfExtent()
	*[3]*float64{&at.X, &at.Y, &at.Z}[way] = gap + [3]float64{h.X + extent.X, h.Y + extent.Y, h.Z + extent.Z}[way]
	b.Place.Center = a.Place.ToWorld(at)
	return a, b
}

// The closed form of parallel blocks is the field of the one on the charge of the other, by the adaptive rule, in contact too. The rule is good to
// 1e-6 of the absolute contributions (it takes the charge 1e-9 inside, and stops at 1e-7 a piece), as a rule: with edges 0.1 mm behind each other it was
// seen to miss 5e-6, and 6e-8 where it stops at 1e-8.
func TestParallelBlocks(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		ma, mb := drawParallel(t)
		a, b := prepare(ma), prepare(mb)
		w, ok := parallelBlocks(&a, &b)
		if !ok {
			t.Fatalf("no closed form for %v and %v", ma, mb)
		}
		v := forceOn(mb, ma.H)
		if r3.Norm(r3.Sub(w.force, v.force)) > 2e-6*v.size {
			v = forceWithin(forceTol/10, mb, ma.H)
		}
		near2(t, "force", w.force, v.force, 2e-6*v.size)
		near2(t, "torque", w.torque, v.torque, 2e-6*v.size*b.radius)
	})
}

// The derivatives of the functions of a corner are those that they stand for: along b once and c twice Phi_aab is 1/r, Phi_xyz once along each
// direction; the integrals lead back. Differences over 1e-3 of numbers near 1.
func TestCornerFunctions(t *testing.T) {
	rng := rand.New(rand.NewPCG(8, 8))
	const d = 1e-3
	for range 50 {
		q := anyVec(rng, 1)
		p := [3]float64{q.X, q.Y, q.Z}
		if math.Min(math.Abs(q.X), math.Min(math.Abs(q.Y), math.Abs(q.Z))) < 0.1 {
			continue
		}
		along := func(m int, f func(c *corner) float64) float64 {
			at := func(k float64) float64 {
				x := p
				x[m] += k * d
				c := newCorner(x[0], x[1], x[2])
				return f(&c)
			}
			return (8*(at(1)-at(-1)) - (at(2) - at(-2))) / (12 * d)
		}
		c := newCorner(p[0], p[1], p[2])
		for m := range 3 {
			for k := range 3 {
				if k == m {
					continue
				}
				n := 3 - m - k
				for what, pair := range map[string][2]float64{
					"mmk": {along(m, func(c *corner) float64 { return c.mmk(m, k) }), c.aab(m, k)},
					"nnk": {along(m, func(c *corner) float64 { return c.nnk(m, k) }), c.aab(n, k)},
					"kkm": {along(m, func(c *corner) float64 { return c.kkm(m, k) }), c.aab(k, m)},
					"xyz": {along(m, func(c *corner) float64 { return c.xyzAlong(m) }), c.xyz()},
				} {
					if math.Abs(pair[0]-pair[1]) > 1e-7 {
						t.Errorf("%s%v at %v: derivative %v, want %v", what, [2]int{m, k}, p, pair[0], pair[1])
					}
				}
			}
		}
	}
}

// The forces within an assembly are those of all others on each, and nothing in all: force and torque about the origin add to zero.
func TestForcesOfAssembly(t *testing.T) {
	var s Sources
	rng := rand.New(rand.NewPCG(6, 1))
	for i := range 8 {
		solid := []shape.Solid{brick(0.012, 0.01, 0.008), coin(0.012, 0.008), shape.Wedge{OuterDiameter: 0.03, InnerDiameter: 0.02, Thickness: 0.008, To: 0.7}, brick(0.01, 0.01, 0.01)}[i%4]
		rot := shape.Identity()
		if i%3 == 0 {
			rot = shape.Euler(0.3*float64(i), 0.5, 0)
		}
		s = append(s, Magnet{solid, shape.Placement{Center: r3.Vec{X: 0.04 * float64(i%2), Y: 0.04 * float64(i/2%2), Z: 0.03 * float64(i/4)}, Rot: rot}, anyVec(rng, 1)})
	}
	coils := []Coil{{shape.Ring{OuterDiameter: 0.3, InnerDiameter: 0.28, Thickness: 0.02}, upright, 1000}}
	force, torque := Assemble(s, coils...).Forces(nil)
	var sumF, sumT r3.Vec
	var scale float64
	for i := range force {
		at := coils[0].Place.Center
		if i < len(s) {
			at = s[i].Place.Center
			others := append(append(Sources{}, s[:i]...), s[i+1:]...)
			f, m := others.Force(s[i])
			g, n := coils[0].ForceOn(s[i])
			near2(t, "force", force[i], r3.Add(f, g), 3e-6*(r3.Norm(f)+1))
			near2(t, "torque", torque[i], r3.Add(m, n), 3e-8*(r3.Norm(f)+1))
		}
		sumF, sumT = r3.Add(sumF, force[i]), r3.Add(sumT, r3.Add(torque[i], r3.Cross(at, force[i])))
		scale += r3.Norm(force[i])
	}
	if !(scale > 1) || r3.Norm(sumF) > 1e-12*scale || r3.Norm(sumT) > 1e-12*scale {
		t.Errorf("sums %v N, %v N m of %v N", sumF, sumT, scale)
	}
	// Half of the pairs and the other half are all of them.
	odd := func(i, j int) bool { return (i+j)%2 == 1 }
	a := Assemble(s, coils...)
	f1, _ := a.Forces(odd)
	f2, _ := a.Forces(func(i, j int) bool { return !odd(i, j) })
	for i := range force {
		near2(t, "split", r3.Add(f1[i], f2[i]), force[i], 1e-12*scale)
	}
}

// Two pieces of a ring that touch, which cost most, to a share: the forces stay within it of those by the usual rules, as a share of J J' A/2mu0 of
// the cut between them, and balance exactly.
func TestForcesWithinAShare(t *testing.T) {
	const share, j = 1e-3, 1.2
	var s Sources
	for i := range 2 {
		from := math.Pi / 4 * float64(i)
		s = append(s, Magnet{shape.Wedge{OuterDiameter: 0.06, InnerDiameter: 0.03, Thickness: 0.02, From: from, To: from + math.Pi/4},
			upright, r3.Vec{X: j * math.Cos(2*from), Y: j * math.Sin(2*from)}})
	}
	a := Assemble(s)
	want, _ := a.Forces(nil)
	got, _ := a.ForcesWithin(share, nil)
	const contributions = j * j * 0.015 * 0.02 / (2 * material.Mu0)
	var sum r3.Vec
	for i := range got {
		near2(t, "force", got[i], want[i], share*contributions)
		sum = r3.Add(sum, got[i])
	}
	if r3.Norm(sum) > 1e-12*contributions || !(r3.Norm(want[0]) > 10) {
		t.Errorf("%v N are left of forces such as %v N", sum, want[0])
	}
}

// Round and turned bodies in contact and near each other, by the graded rules, and farther off, by rules of one piece, against the rule that cuts the
// faces in the closed form of the field. Tolerance: the two rules.
func TestGradedRules(t *testing.T) {
	place := func(x, z float64, turn float64) shape.Placement {
		return shape.Placement{Center: r3.Vec{X: x, Z: z}, Rot: shape.Euler(0, 0, turn)}
	}
	sector := shape.Wedge{OuterDiameter: 0.04, InnerDiameter: 0.02, Thickness: 0.01, To: 0.8}
	j, k := r3.Vec{X: 0.3, Y: 0.2, Z: 1}, r3.Vec{X: -0.5, Y: 0.4, Z: 0.8}
	for _, tt := range [][2]Magnet{
		{{coin(0.02, 0.01), place(0, 0, 0), j}, {coin(0.02, 0.01), place(0, 0.0105, 0), k}},
		{{coin(0.02, 0.01), place(0, 0, 0), j}, {coin(0.02, 0.01), place(0, 0.01, 0), k}},
		{{brick(0.02, 0.02, 0.01), place(0, 0, 0), j}, {brick(0.02, 0.02, 0.01), place(0, 0.011, 0.5), k}},
		{{brick(0.02, 0.02, 0.01), place(0, 0, 0), j}, {coin(0.018, 0.01), place(0.001, 0.01, 0), k}},
		{{coin(0.02, 0.01), place(0, 0, 0), j}, {coin(0.02, 0.01), place(0.01, 0.08, 0), k}},
		{{sector, place(0, 0, 0), j}, {sector, place(0.01, 0.03, 2), k}},
	} {
		a, b := prepare(tt[0]), prepare(tt[1])
		w := pairForce(&a, &b, nil, nil)
		v := forceOn(b.Magnet, a.Magnet.H)
		near2(t, "force", w.force, v.force, 3e-6*v.size)
		near2(t, "torque", w.torque, v.torque, 3e-6*v.size*b.radius)
	}
}

// Forces between coaxial cylinders in Bessel form (D. Vokoun, M. Beleggia, L. Heller, P. Sittner, J. Magn. Magn. Mater. 321 (2009) 3758), the
// integral by gonum's Gauss-Legendre rule here, for unequal discs too:
//
//	F = pi R1 R2 J1 J2/mu0 int J1(k R1) J1(k R2) (1 - e^(-k L1)) (1 - e^(-k L2)) e^(-k g) dk/k
//
// The tail beyond k = 60/g is e^-60. Tolerance: that of Force.
func TestForceOfDiscsByBessel(t *testing.T) {
	for _, tt := range []struct{ r1, l1, r2, l2, gap float64 }{
		{0.02, 0.02, 0.02, 0.02, 0.005}, {0.03, 0.01, 0.012, 0.02, 0.003}, {0.01, 0.03, 0.025, 0.005, 0.02},
	} {
		integrand := func(k float64) float64 {
			return math.J1(k*tt.r1) * math.J1(k*tt.r2) * (1 - math.Exp(-k*tt.l1)) * (1 - math.Exp(-k*tt.l2)) * math.Exp(-k*tt.gap) / k
		}
		want := 0.0
		const pieces = 200
		for i := range pieces {
			step := 60 / tt.gap / pieces
			want += quad.Fixed(integrand, float64(i)*step, float64(i+1)*step, 30, nil, 0)
		}
		want *= math.Pi * tt.r1 * tt.r2 * 1.2 * 0.9 / material.Mu0
		f, _ := Force(axial(coin(2*tt.r1, tt.l1), -tt.l1/2, 1.2), axial(coin(2*tt.r2, tt.l2), tt.gap+tt.l2/2, 0.9))
		if math.Abs(-f.Z/want-1) > 3e-6 {
			t.Errorf("%+v: %v N, want %v", tt, -f.Z, want)
		}
	}
}
