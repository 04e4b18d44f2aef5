package freefield

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"gonum.org/v1/gonum/mathext"
	"gonum.org/v1/gonum/spatial/r3"
	"pgregory.net/rapid"

	"polewright/material"
	"polewright/shape"
)

var upright = shape.Placement{Rot: shape.Identity()}

func ringCoil(outer, inner, height, at float64) Coil {
	return Coil{shape.Ring{OuterDiameter: outer, InnerDiameter: inner, Thickness: height}, upright, at}
}

// trackCoil is the exciting coil of TEAM Workshop problem 13: 200 x 200 outside, 150 x 150 inside, corners of 50 and 25 mm, 100 mm high.
func trackCoil() Coil {
	return Coil{shape.Racetrack{CoreX: 0.15, CoreY: 0.15, CornerRadius: 0.025, Build: 0.025, Width: 0.1}, upright, 1000}
}

// On the axis of a thick solenoid of inner and outer radius r1, r2 and half length l with the current density j (D. B. Montgomery, Solenoid
// Magnet Design (1969); any textbook of magnets)
//
//	H = j/2 [f(z + l) - f(z - l)],  f(z) = z ln((r2 + sqrt(r2^2 + z^2))/(r1 + sqrt(r1^2 + z^2)))
//
// Both are closed forms; within 0.7 m the formula loses less than four digits, whether or not products and sums are rounded together.
func TestThickSolenoid(t *testing.T) {
	const r1, r2, l = 0.075, 0.1, 0.05
	c := ringCoil(2*r2, 2*r1, 2*l, 1000)
	j := 1000 / (2 * l * (r2 - r1))
	f := func(z float64) float64 { return z * math.Log((r2+math.Hypot(r2, z))/(r1+math.Hypot(r1, z))) }
	for _, z := range []float64{0, 0.02, l, 0.07, -0.3, 0.7} {
		want := j / 2 * (f(z+l) - f(z-l))
		if got := c.H(r3.Vec{Z: z}); math.Abs(got.Z/want-1) > 1e-11 || math.Hypot(got.X, got.Y) > 1e-12*want {
			t.Errorf("z = %v: H = %v, want %v", z, got, want)
		}
	}
}

// loopH is the field of a circular turn of radius a, 1 A, by complete elliptic integrals (W. R. Smythe, Static and Dynamic Electricity (1950),
// section 7.10), with gonum's K(m) and E(m).
func loopH(a, rho, z float64) (hr, hz float64) {
	q := (a+rho)*(a+rho) + z*z
	d := (a-rho)*(a-rho) + z*z
	m := 4 * a * rho / q
	K, E := mathext.CompleteK(m), mathext.CompleteE(m)
	k := 1 / (2 * math.Pi * math.Sqrt(q))
	if rho > 0 {
		hr = k * z / rho * (-K + (a*a+rho*rho+z*z)/d*E)
	}
	return hr, k * (K + (a*a-rho*rho-z*z)/d*E)
}

// A ring coil is the sum of its turns, here at 24 x 24 Gauss points of the section, for points at least half a section away. Tolerance: the sum and
// the elliptic integrals near m = 1.
func TestRingCoilByTurns(t *testing.T) {
	c := ringCoil(0.2, 0.16, 0.03, 1)
	g := gauss[24]
	for _, p := range []r3.Vec{{}, {X: 0.05, Z: 0.01}, {X: 0.03, Y: 0.04}, {X: 0.12, Y: 0.03, Z: 0.01}, {X: 0.09, Z: 0.04}, {X: 0.5, Z: 0.7}} {
		var hr, hz float64
		rho := math.Hypot(p.X, p.Y)
		for i, x := range g.x {
			for k, y := range g.x {
				r, z := loopH(0.09+0.01*x, rho, p.Z-0.015*y)
				hr += r * g.w[i] * g.w[k] / 4
				hz += z * g.w[i] * g.w[k] / 4
			}
		}
		want := r3.Vec{Z: hz}
		if rho > 0 {
			want.X, want.Y = hr*p.X/rho, hr*p.Y/rho
		}
		if got := c.H(p); r3.Norm(r3.Sub(got, want)) > 1e-9*r3.Norm(want) {
			t.Errorf("H%v = %v, want %v", p, got, want)
		}
	}
}

// A Helmholtz pair has mu0 (4/5)^(3/2) I/R at its centre, and the field is flat to the fourth order there (any textbook). Sections of R/1000:
// tolerance their square.
func TestHelmholtzPair(t *testing.T) {
	const R = 0.1
	low, high := ringCoil(2.001*R, 1.999*R, R/1000, 100), ringCoil(2.001*R, 1.999*R, R/1000, 100)
	low.Place.Center.Z, high.Place.Center.Z = -R/2, R/2
	at := func(p r3.Vec) float64 { return low.B(p).Z + high.B(p).Z }
	want := material.Mu0 * math.Pow(0.8, 1.5) * 100 / R
	if got := at(r3.Vec{}); math.Abs(got/want-1) > 1e-6 {
		t.Errorf("B = %v, want %v", got, want)
	}
	if fall := 1 - at(r3.Vec{Z: 0.1 * R})/want; math.Abs(fall/(144.0/125*1e-4)-1) > 0.02 { // 1 - (144/125)(z/R)^4
		t.Errorf("at R/10 the field is lower by %v", fall)
	}
}

// biotSavart sums current elements over the winding's pieces at Gauss points, 24 along the turns and 12 across.
func biotSavart(c Coil, p r3.Vec) (h r3.Vec) {
	w, _ := c.winding()
	for _, f := range w.pieces() {
		for i, x := range gauss[24].x {
			for k, y := range gaussX {
				for l, z := range gaussX {
					at, along, volume := f((1+x)/2, y, z)
					d := r3.Sub(p, c.Place.ToWorld(at))
					r := r3.Norm(d)
					h = r3.Add(h, r3.Scale(gauss[24].w[i]/2*gaussW[k]*gaussW[l]*volume/(r*r*r), r3.Cross(c.Place.Rot.Apply(along), d)))
				}
			}
		}
	}
	return r3.Scale(c.density()/(4*math.Pi), h)
}

// Off the winding the closed forms are the sum of Biot and Savart's law over it. Points 60 mm or more away, where these points are good to 1e-8.
func TestCoilAgainstBiotSavart(t *testing.T) {
	rng := rand.New(rand.NewPCG(3, 4))
	place := shape.Placement{Center: r3.Vec{X: 0.02, Y: -0.01, Z: 0.03}, Rot: shape.Euler(0.4, -0.7, 1.1)}
	for _, s := range []shape.Solid{
		shape.Ring{OuterDiameter: 0.2, InnerDiameter: 0.14, Thickness: 0.04},
		shape.Racetrack{CoreX: 0.1, CoreY: 0.06, CornerRadius: 0.01, Build: 0.02, Width: 0.03},
		shape.Racetrack{CoreX: 0.1, CoreY: 0.06, CornerRadius: 0.03, Build: 0.02, Width: 0.02},
		shape.Racetrack{CoreX: 0.06, CoreY: 0.06, CornerRadius: 0, Build: 0.02, Width: 0.02},
	} {
		c := Coil{s, place, -700}
		n := 0
		for n < 60 {
			p := anyVec(rng, 0.3)
			if s.Contains(p, 0.06) {
				continue
			}
			n++
			p = place.ToWorld(p)
			if got, want := c.H(p), biotSavart(c, p); r3.Norm(r3.Sub(got, want)) > 2e-8*r3.Norm(want) {
				t.Errorf("%v: H%v = %v, want %v", s, place.ToLocal(p), got, want)
			}
		}
	}
}

// A rectangle of thin wire, sides a and b, has H = 2 I sqrt(a^2 + b^2)/(pi a b) at its centre, as four bars have (any textbook). A build of
// 0.4 mm on 200 mm with corners as sharp: their square, and the corners.
func TestRectangleByBars(t *testing.T) {
	const a, b, s = 0.2, 0.1, 0.0004
	c := Coil{shape.Racetrack{CoreX: a - s, CoreY: b - s, CornerRadius: 0, Build: s, Width: s}, upright, 10}
	want := 2 * 10 * math.Hypot(a, b) / (math.Pi * a * b)
	if got := c.H(r3.Vec{}).Z; math.Abs(got/want-1) > 2e-5 {
		t.Errorf("H = %v, want %v", got, want)
	}
}

// Far away a coil is a dipole of its moment; the next term is (size/r)^2.
func TestCoilFarAway(t *testing.T) {
	for _, c := range []Coil{ringCoil(0.2, 0.15, 0.1, 1000), trackCoil(), {shape.Racetrack{CoreX: 0.3, CoreY: 0.05, CornerRadius: 0.02, Build: 0.03, Width: 0.02}, upright, 5}} {
		m := c.Moment().Z
		for _, r := range []float64{10, 100} {
			tol := 0.2 / (r * r)
			if got, want := c.H(r3.Vec{Z: r}).Z, m/(2*math.Pi*r*r*r); math.Abs(got/want-1) > tol {
				t.Errorf("%v: on the axis at %v m %v, want %v", c.Winding, r, got, want)
			}
			if got, want := c.H(r3.Vec{X: r}).Z, -m/(4*math.Pi*r*r*r); math.Abs(got/want-1) > tol {
				t.Errorf("%v: beside it at %v m %v, want %v", c.Winding, r, got, want)
			}
		}
	}
	// The moment of a ring: I pi (r1^2 + r1 r2 + r2^2)/3, the mean of pi r^2.
	if got, want := ringCoil(0.2, 0.15, 0.1, 1000).Moment().Z, 1000*math.Pi*(0.1*0.1+0.1*0.075+0.075*0.075)/3; math.Abs(got/want-1) > 1e-12 {
		t.Errorf("moment %v, want %v", got, want)
	}
}

// Curl H is the current density in the winding and nothing outside, div H nothing, by differences: 1e-4 m from points that keep 1 mm from the faces.
func TestCurlIsCurrent(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c := rapid.SampledFrom([]Coil{ringCoil(0.2, 0.15, 0.1, 1000), trackCoil(), ringCoil(0.1, 0, 0.02, -300)}).Draw(t, "coil")
		q := drawVec(t, "point", 0.11)
		if c.Winding.Contains(q, 0.001) != c.Winding.Contains(q, -0.001) {
			t.Skip("near the surface")
		}
		if math.Hypot(q.X, q.Y) < 0.004 {
			t.Skip("near the axis, where the current of a coil without a bore turns within the differences")
		}
		c.Place = shape.Placement{Center: r3.Vec{X: 0.01}, Rot: shape.Euler(0.3, 0.2, 0.1)}
		p := c.Place.ToWorld(q)
		var dh [3]r3.Vec
		for i := range 3 {
			dh[i] = r3.Vec{
				X: slope(func(p r3.Vec) float64 { return c.H(p).X }, p, i, 1e-4),
				Y: slope(func(p r3.Vec) float64 { return c.H(p).Y }, p, i, 1e-4),
				Z: slope(func(p r3.Vec) float64 { return c.H(p).Z }, p, i, 1e-4),
			}
		}
		j := c.density()
		if div := dh[0].X + dh[1].Y + dh[2].Z; math.Abs(div) > 1e-4*math.Abs(j) {
			t.Fatalf("div H = %v, J = %v", div, j)
		}
		var want r3.Vec
		if c.Winding.Contains(q, 0) {
			var along r3.Vec
			switch s := c.Winding.(type) {
			case shape.Racetrack:
				along.X, along.Y = s.Direction(q.X, q.Y)
			default:
				along = r3.Unit(r3.Vec{X: -q.Y, Y: q.X})
			}
			want = c.Place.Rot.Apply(r3.Scale(j, along))
		}
		curl := r3.Vec{X: dh[1].Z - dh[2].Y, Y: dh[2].X - dh[0].Z, Z: dh[0].Y - dh[1].X}
		near2(t, "curl", curl, want, 1e-4*math.Abs(j))
	})
}

// Ampere's law: round one side of the winding the integral of H is the ampere-turns, round a quarter of its section a quarter of them.
func TestAmpere(t *testing.T) {
	round := func(c Coil, x0, x1, z0, z1, y float64) (sum float64) {
		g := gauss[24]
		const pieces = 20
		for n := range pieces {
			for i, s := range g.x {
				u := (float64(n) + (1+s)/2) / pieces
				w := g.w[i] / 2 / pieces
				x, z := x0+u*(x1-x0), z0+u*(z1-z0)
				sum += w * (x1 - x0) * (c.H(r3.Vec{X: x, Y: y, Z: z1}).X - c.H(r3.Vec{X: x, Y: y, Z: z0}).X)
				sum += w * (z1 - z0) * (c.H(r3.Vec{X: x0, Y: y, Z: z}).Z - c.H(r3.Vec{X: x1, Y: y, Z: z}).Z)
			}
		}
		return sum
	}
	for _, c := range []Coil{trackCoil(), ringCoil(0.2, 0.15, 0.1, 1000)} {
		// Seen along +y, across the side at +x, where the current runs along +y.
		if got := round(c, 0.06, 0.12, -0.07, 0.07, 0); math.Abs(got/1000-1) > 1e-8 {
			t.Errorf("%v: round the side %v A", c.Winding, got)
		}
		if got := round(c, 0.08, 0.0925, -0.02, 0.03, 0); math.Abs(got/250-1) > 1e-8 {
			t.Errorf("%v: within the winding %v A", c.Winding, got)
		}
	}
}

// A winding cut in nested and stacked ones has their field, within them and on the cuts too, and a racetrack without sides is a ring.
func TestCoilInPieces(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := drawVec(t, "point", 0.12)
		if rapid.Bool().Draw(t, "on the cut") {
			p.Z = 0.01
		}
		whole, parts := trackCoil(), []Coil{}
		layer := func(radius, build, low, high float64) Coil {
			grown := 2 * (radius - 0.025)
			at := 1000 * build / 0.025 * (high - low) / 0.1
			return Coil{shape.Racetrack{CoreX: 0.15 + grown, CoreY: 0.15 + grown, CornerRadius: radius, Build: build, Width: high - low},
				shape.Placement{Center: r3.Vec{Z: (low + high) / 2}, Rot: shape.Identity()}, at}
		}
		parts = append(parts, layer(0.025, 0.01, -0.05, 0.01), layer(0.025, 0.01, 0.01, 0.05), layer(0.035, 0.015, -0.05, 0.05))
		if rapid.Bool().Draw(t, "ring") {
			whole = ringCoil(0.2, 0.15, 0.1, 1000)
			parts = []Coil{ringCoil(0.2, 0.18, 0.1, 400), {shape.Racetrack{CoreX: 0.15, CoreY: 0.15, CornerRadius: 0.075, Build: 0.015, Width: 0.1}, upright, 600}}
		}
		var sum r3.Vec
		for _, c := range parts {
			sum = r3.Add(sum, c.H(p))
		}
		near2(t, "pieces", sum, whole.H(p), 1e-9*1000/0.1) // of the bore's field, 1e4 A/m
	})
}

// Newton's third law: the force of a coil on a magnet, by its charges, is opposite to that of the magnet on the coil, by J x B; the torques
// balance about any point. Likewise for two coils.
func TestCoilActionAndReaction(t *testing.T) {
	m := Magnet{brick(0.03, 0.02, 0.04), shape.Placement{Center: r3.Vec{X: 0.02, Y: 0.01, Z: 0.06}, Rot: shape.Euler(0.3, 0.5, 0.1)}, r3.Vec{X: 0.4, Y: -0.3, Z: 1.1}}
	for _, c := range []Coil{trackCoil(), {shape.Ring{OuterDiameter: 0.1, InnerDiameter: 0.08, Thickness: 0.02}, shape.Placement{Center: r3.Vec{X: 0.01}, Rot: shape.Euler(0.2, 0, 0)}, 2000}} {
		f, torque := c.ForceOn(m)
		g, back := c.Force(m.H)
		near2(t, "force", g, r3.Scale(-1, f), 2e-6*r3.Norm(f))
		arm := r3.Sub(m.Place.Center, c.Place.Center)
		near2(t, "torque", r3.Add(torque, back), r3.Scale(-1, r3.Cross(arm, f)), 2e-6*r3.Norm(f)*0.1)
		if !(r3.Norm(f) > 0.1) {
			t.Errorf("force %v", f)
		}
	}
	a, b := ringCoil(0.1, 0.08, 0.02, 1000), Coil{shape.Racetrack{CoreX: 0.06, CoreY: 0.04, CornerRadius: 0.01, Build: 0.01, Width: 0.02},
		shape.Placement{Center: r3.Vec{X: 0.02, Y: 0.01, Z: 0.05}, Rot: shape.Euler(0.2, 0.3, 0)}, 500}
	fb, tb := b.Force(a.H)
	fa, ta := a.Force(b.H)
	near2(t, "coils", fa, r3.Scale(-1, fb), 1e-6*r3.Norm(fb))
	near2(t, "coils' torque", r3.Add(ta, tb), r3.Scale(-1, r3.Cross(r3.Sub(b.Place.Center, a.Place.Center), fb)), 1e-6*r3.Norm(fb)*0.1)
}

// Two coaxial turns of radii a and b attract with I I' times the radial field of the one at the other, 2 pi b mu0 Hr (Maxwell, Treatise,
// section 701; Hr by elliptic integrals as above). Sections of 0.4 mm at 30 mm: their square over the distance's.
func TestCoaxialTurns(t *testing.T) {
	a, b := ringCoil(0.1004, 0.0996, 0.0004, 1000), ringCoil(0.0804, 0.0796, 0.0004, 500)
	b.Place.Center.Z = 0.03
	hr, _ := loopH(0.05, 0.04, 0.03)
	want := -1000 * 500 * 2 * math.Pi * 0.04 * material.Mu0 * hr
	if f, _ := b.Force(a.H); math.Abs(f.Z/want-1) > 2e-4 || !(want < 0) {
		t.Errorf("force %v, want %v", f, want)
	}
}

// Bad coils give an error, no field or not-a-number, never a panic.
func TestBadCoils(t *testing.T) {
	bad := []Coil{
		{},
		{Winding: brick(1, 1, 1), AmpereTurns: 1},
		ringCoil(1, 2, 1, 1),
		ringCoil(1, 0.5, 0, 1),
		ringCoil(1, math.NaN(), 1, 1),
		ringCoil(math.Inf(1), 0.5, 1, 1),
		ringCoil(1, 0.5, 1, math.Inf(1)),
		{shape.Racetrack{CoreX: 1, CoreY: 0.1, CornerRadius: 0.2, Build: 0.1, Width: 0.1}, upright, 1},
	}
	m := axial(coin(1, 1), 3, 1)
	for _, c := range bad {
		if c.Check() == nil {
			t.Errorf("%v passes", c)
		}
		for _, p := range []r3.Vec{{}, {X: 0.3}, {X: math.NaN()}, {X: math.Inf(1)}, {X: 1e200}} {
			c.H(p)
			c.B(p)
		}
		c.Moment()
		c.ForceOn(m)
		c.Force(m.H)
		Assemble(Sources{m}, c, ringCoil(0.2, 0.1, 0.1, 1)).Forces(nil)
	}
	if err := trackCoil().Check(); err != nil {
		t.Error(err)
	}
}

func ExampleCoil_H() {
	// A coil of 100 and 80 mm diameter, 50 mm high, 1000 A: the middle of its bore.
	c := Coil{Winding: shape.Ring{OuterDiameter: 0.1, InnerDiameter: 0.08, Thickness: 0.05}, Place: shape.Placement{Rot: shape.Identity()}, AmpereTurns: 1000}
	fmt.Printf("%.1f A/m\n", c.H(r3.Vec{}).Z)
	// Output: 9732.6 A/m
}
