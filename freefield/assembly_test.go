package freefield

import (
	"math"
	"math/rand/v2"
	"runtime"
	"slices"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"
	"pgregory.net/rapid"

	"polewright/material"
	"polewright/shape"
)

// crowd draws magnets of all shapes in a box, of sizes from 2 to 20 mm.
func crowd(rng *rand.Rand, n int, box float64) (s Sources) {
	for range n {
		d := 0.002 + 0.018*rng.Float64()
		solid := []shape.Solid{
			brick(d, d*(0.2+rng.Float64()), d*(0.2+rng.Float64())), brick(d, d, d), coin(d, d/2),
			shape.Ring{OuterDiameter: d, InnerDiameter: d / 2, Thickness: d},
			shape.Wedge{OuterDiameter: 3 * d, InnerDiameter: 2 * d, Thickness: d, From: rng.Float64(), To: 1.2 + rng.Float64()},
		}[rng.IntN(5)]
		turn := anyVec(rng, 3)
		s = append(s, Magnet{solid, shape.Placement{Center: anyVec(rng, box), Rot: shape.Euler(turn.X, turn.Y, turn.Z)}, anyVec(rng, 1)})
	}
	return s
}

// least is the sum over the magnets of m/(4 pi R^3), to which the error of an assembly is stated; the radius of a magnet is added to R.
func least(s Sources, p r3.Vec, power float64) (sum float64) {
	for i := range s {
		b := prepare(s[i])
		sum += r3.Norm(s[i].Moment()) / (4 * math.Pi * math.Pow(r3.Norm(r3.Sub(p, b.center))+b.radius, power))
	}
	return sum
}

// An assembly has the field and the potential of its magnets one by one, to 1e-10 of the sum of the least fields of dipoles like them (the
// bound that harmonic.go proves) and the digits of the closed forms.
func TestAssemblyIsTheSum(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		rng := rand.New(rand.NewPCG(rapid.Uint64().Draw(t, "seed"), 1))
		s := crowd(rng, rapid.IntRange(0, 50).Draw(t, "magnets"), rapid.SampledFrom([]float64{0.02, 0.2, 2}).Draw(t, "box"))
		a := Assemble(s)
		for range 4 {
			p := anyVec(rng, rapid.SampledFrom([]float64{0.2, 2, 50}).Draw(t, "reach"))
			b, h := a.Field(p)
			scale := least(s, p, 3)
			if e := r3.Norm(r3.Sub(h, s.H(p))); e > 1.1e-10*scale {
				t.Fatalf("H off by %.1e of %v", e/scale, scale)
			}
			if e := r3.Norm(r3.Sub(b, s.B(p))) / material.Mu0; e > 1.1e-10*scale {
				t.Fatalf("B off by %.1e", e/scale)
			}
			if e := math.Abs(a.Potential(p) - s.Potential(p)); e > 1.1e-10*least(s, p, 2) {
				t.Fatalf("potential off by %.1e", e/least(s, p, 2))
			}
		}
	})
}

// Clusters do serve: of 250 magnets a point beside them meets few one by one, and the error is there, well below its bound, and not nothing.
func TestClustersServe(t *testing.T) {
	rng := rand.New(rand.NewPCG(9, 1))
	s := crowd(rng, 250, 0.2)
	a := Assemble(s)
	p := r3.Vec{X: 0.35, Y: 0.1, Z: 0.3}
	var clusters, bodies int
	a.visit(p, func(*multipoles, int) { clusters++ }, func(*prepared) { bodies++ })
	if clusters == 0 || bodies > 100 {
		t.Errorf("%d clusters, %d bodies", clusters, bodies)
	}
	if e := r3.Norm(r3.Sub(a.H(p), s.H(p))) / least(s, p, 3); e == 0 || e > 1e-10 {
		t.Errorf("off by %.1e", e)
	}
}

// Coils count in the sum, near and far.
func TestAssemblyWithCoils(t *testing.T) {
	rng := rand.New(rand.NewPCG(2, 1))
	s := crowd(rng, 30, 0.1)
	track := trackCoil()
	track.Place = shape.Placement{Center: r3.Vec{X: 0.1, Z: 0.2}, Rot: shape.Euler(0.3, 1, 0)}
	coils := []Coil{track, ringCoil(0.3, 0.25, 0.02, -4000)}
	a := Assemble(s, coils...)
	for _, d := range []float64{0.05, 0.3, 1, 3, 30} {
		for range 4 {
			p := r3.Scale(d, r3.Unit(anyVec(rng, 1)))
			want := r3.Add(s.H(p), r3.Add(coils[0].H(p), coils[1].H(p)))
			scale := least(s, p, 3)
			for _, c := range coils {
				scale += r3.Norm(c.Moment()) / (4 * math.Pi * math.Pow(r3.Norm(r3.Sub(p, c.Place.Center))+0.2, 3))
			}
			near2(t, "H", a.H(p), want, 2e-10*scale)
		}
	}
	if got, want := a.Potential(r3.Vec{X: 1}), s.Potential(r3.Vec{X: 1}); got != want {
		t.Errorf("potential of the magnets %v, want %v", got, want)
	}
}

// The batch gives what single points give, bit for bit, whatever the number of cores, and so do the forces.
func TestCoresDoNotMatter(t *testing.T) {
	rng := rand.New(rand.NewPCG(4, 1))
	s := crowd(rng, 60, 0.1)
	points := make([]r3.Vec, 300)
	for i := range points {
		points[i] = anyVec(rng, 0.3)
	}
	blocks := Sources{}
	for i, m := range s {
		m.Solid = brick(0.01, 0.02, 0.005)
		m.Place.Center = r3.Vec{X: 0.03 * float64(i%8), Y: 0.03 * float64(i/8)}
		blocks = append(blocks, m)
	}
	type answer struct {
		b, h, force, torque []r3.Vec
		phi                 []float64
	}
	solve := func(cores int) (r answer) {
		defer runtime.GOMAXPROCS(runtime.GOMAXPROCS(cores))
		a := Assemble(s)
		r.b, r.h, r.phi = make([]r3.Vec, len(points)), make([]r3.Vec, len(points)), make([]float64, len(points))
		a.Fields(points, r.b, r.h)
		a.Fields(points, nil, nil)
		a.Potentials(points, r.phi)
		r.force, r.torque = Assemble(blocks[:16]).Forces(nil)
		for i, p := range points {
			if b, h := a.Field(p); b != r.b[i] || h != r.h[i] || a.B(p) != b || a.Potential(p) != r.phi[i] {
				t.Fatalf("point %d: alone %v, in the batch %v", i, b, r.b[i])
			}
		}
		return r
	}
	one, three := solve(1), solve(3)
	if !slices.Equal(one.b, three.b) || !slices.Equal(one.h, three.h) || !slices.Equal(one.phi, three.phi) ||
		!slices.Equal(one.force, three.force) || !slices.Equal(one.torque, three.torque) {
		t.Error("one core and three differ")
	}
}

func TestEmptyAssembly(t *testing.T) {
	a := Assemble(Sources{{}})
	if b, h := a.Field(r3.Vec{X: 1}); b != (r3.Vec{}) || h != (r3.Vec{}) || a.Potential(r3.Vec{}) != 0 {
		t.Errorf("B = %v, H = %v", b, h)
	}
	if f, _ := a.Forces(nil); len(f) != 1 || f[0] != (r3.Vec{}) {
		t.Errorf("forces %v", f)
	}
}

// argument and logOfRatio against package math, within the roundings of both sides: an ulp of either logarithm there, of the ratio and its logarithm here.
func TestElementary(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		any := func(name string) float64 {
			m := rapid.Float64Range(-1, 1).Draw(t, name)
			return m * math.Pow(10, float64(rapid.IntRange(-60, 60).Draw(t, name+"'s power")))
		}
		x, y := any("x"), any("y")
		if math.Abs(x) > 1e-100 && math.Abs(y) > 1e-100 {
			if got, want := argument(y, x), math.Atan2(y, x); math.Abs(got-want) > 7e-16*math.Abs(want) {
				t.Fatalf("argument(%v, %v) = %v, want %v", y, x, got, want)
			}
			n, d := math.Abs(y), math.Abs(x)
			if got, want := logOfRatio(n, d), math.Log(n)-math.Log(d); math.Abs(got-want) > 5e-16*(math.Abs(math.Log(n))+math.Abs(math.Log(d))) {
				t.Fatalf("logOfRatio(%v, %v) = %v, want %v", n, d, got, want)
			}
		}
		e := rapid.Float64Range(-0.3, 0.3).Draw(t, "e")
		e = (1 + e) - 1
		if got, want := logOfRatio(1+e, 1), math.Log1p(e); math.Abs(got-want) > 4e-16*math.Abs(want) {
			t.Fatalf("ln(1 + %v) = %v, want %v", e, got, want)
		}
	})
	if argument(0, 0) != 0 || argument(1, 0) != math.Pi/2 || argument(0, -1) != math.Pi || argument(-1, 0) != -math.Pi/2 {
		t.Error("argument on the axes")
	}
}
