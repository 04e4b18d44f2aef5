package circuit

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"polewright/material"
)

func steelCurve(t testing.TB, name string) *material.Curve {
	t.Helper()
	s, err := material.SteelNamed(name)
	if err != nil {
		t.Fatal(err)
	}
	return s.Curve
}

func ideal(t testing.TB) *material.Curve {
	t.Helper()
	c, err := material.Linear("ideal", 1e9)
	if err != nil {
		t.Fatal(err)
	}
	return c
}

func solve(t testing.TB, a Assembly) Working {
	t.Helper()
	w, err := a.Solve()
	if err != nil {
		t.Fatal(err)
	}
	return w
}

func near(t *testing.T, what string, got, want, relative float64) {
	t.Helper()
	if !(math.Abs(got-want) <= relative*math.Abs(want)) {
		t.Errorf("%s is %.8g, want %.8g within %.1g", what, got, want, relative)
	}
}

// Two discs without steel and recoil on their axis: B = Br (f(g/2+t) - f(g/2)), f(z) = z/sqrt(z^2+R^2), closed form of a uniformly magnetized
// cylinder (Furlani 2001, section 4.2, from memory). Two blocks: Br 2/pi (atan at the near face less that at the far one), section 4.2 too.
// Tolerance: rounding.
func TestOpenPairIsTheClosedForm(t *testing.T) {
	const r, th, g, br = 0.025, 0.02, 0.02, 1.3
	w := solve(t, Assembly{Face: Face{Diameter: 2 * r}, Thickness: th, Gap: g, Remanence: br, Recoil: 1})
	f := func(z float64) float64 { return z / math.Hypot(z, r) }
	near(t, "discs", w.GapT, br*(f(g/2+th)-f(g/2)), 1e-12)
	const a, b = 0.03, 0.02
	w = solve(t, Assembly{Face: Face{X: 2 * a, Y: 2 * b}, Thickness: th, Gap: g, Remanence: br, Recoil: 1})
	h := func(z float64) float64 { return math.Atan(a * b / (z * math.Sqrt(a*a+b*b+z*z))) }
	near(t, "blocks", w.GapT, br*2/math.Pi*(h(g/2)-h(g/2+th)), 1e-12)
}

// Discs of 50 mm between wide ideal plates and between none: values of the series of images summed apart from this program, to 0.001.
func TestDiscsBetweenPlates(t *testing.T) {
	for _, c := range []struct{ thick, gap, open, plates float64 }{
		{10, 10, 0.318, 0.658}, {10, 30, 0.193, 0.337}, {20, 5, 0.569, 0.871}, {20, 20, 0.397, 0.570}, {20, 50, 0.167, 0.240}, {40, 20, 0.523, 0.615}, {40, 50, 0.226, 0.276},
	} {
		a := Assembly{Face: Face{Diameter: 0.05}, Thickness: c.thick / 1e3, Gap: c.gap / 1e3, Remanence: 1, Recoil: 1}
		if w := solve(t, a); math.Abs(w.GapT-c.open) > 0.6e-3 {
			t.Errorf("%g mm thick, gap %g mm, no steel: %.4f, want %.3f", c.thick, c.gap, w.GapT, c.open)
		}
		a.Yoke, a.Side, a.Leg, a.Back, a.Depth, a.Steel = Box, 10, 10, 10, 10, ideal(t)
		if w := solve(t, a); math.Abs(w.GapT-c.plates) > 1.2e-3 {
			t.Errorf("%g mm thick, gap %g mm, plates: %.4f, want %.3f", c.thick, c.gap, w.GapT, c.plates)
		}
	}
}

// No plane-faced pair without steel passes the bound, and long magnets come near: the far faces of magnets 50 widths long take 1e-4 of it.
func TestBound(t *testing.T) {
	for _, ratio := range []float64{0.5, 1, 2, 4, 8} {
		w := solve(t, Assembly{Face: Face{Diameter: ratio * 0.01}, Thickness: 50 * ratio * 0.01, Gap: 0.01, Remanence: 1, Recoil: 1})
		if w.GapT >= Bound(ratio) {
			t.Errorf("D/g %g: %.6f T is above the bound %.6f", ratio, w.GapT, Bound(ratio))
		}
		near(t, "the bound", w.GapT, Bound(ratio), 2e-3)
	}
	near(t, "the bound at D = 2 g", Bound(2), 0.553, 1e-3) // 1 - 1/sqrt(5), by hand
}

// Faces far wider than the gap, between plates of ideal steel: the series circuit of the textbooks, B = Br/(1 + mu g/(2t)), mu the recoil
// permeability (e.g. P. Campbell, Permanent Magnet Materials and their Application, 1994, chapter 4, from memory). With a thickness of 10 and a
// gap of 8 mm, Br = 1.2 T and mu = 1.05 that is 1.2/(1+0.42) = 0.84507 T. Faces 100 times as wide leave 1e-3, of which the sum of images has
// its part; the pot's series of 60 terms 2e-3.
func TestWideFacesAreTheSeriesCircuit(t *testing.T) {
	const want = 1.2 / 1.42
	base := Assembly{Face: Face{X: 1.2, Y: 1.2}, Thickness: 0.01, Gap: 0.008, Remanence: 1.2, Recoil: 1.05, Side: 0.4, Leg: 1, Back: 1, Steel: ideal(t)}
	for name, yoke := range map[string]Yoke{"box": Box, "C": C, "pot": Pot} {
		a := base
		a.Yoke = yoke
		if yoke == Pot {
			a.Face, a.Side, a.Gap, a.Thickness = Face{Diameter: 0.2}, 0.05, 0.008, 0.01
		}
		w := solve(t, a)
		near(t, name, w.GapT, want, 3e-3)
		near(t, name+": flux density in the magnet", w.MagnetT, want, 5e-3)
	}
	a := base // a pole plate as wide as the magnet: leakage at the rim is 3 % of the width here
	a.Yoke, a.Face, a.Tip = Box, Face{Diameter: 1.2}, &Tip{Root: 1.2, Diameter: 1.2, Height: 0.001}
	near(t, "with tips", solve(t, a).GapT, want, 1.5e-2)
}

// Ampere's law round the circuit of wide faces: B g/mu0 + 2 t H + the yoke's force is zero, H from B = Br + mu0 mu H, whatever the steel takes.
// The flux is the same in gap and magnet there; 1 % for what bulges out of the gap.
func TestAmperesLaw(t *testing.T) {
	curve := steelCurve(t, "steel-1018")
	rapid.Check(t, func(t *rapid.T) {
		g := rapid.Float64Range(0.002, 0.006).Draw(t, "gap")
		a := Assembly{Face: Face{X: 0.3, Y: 0.3}, Thickness: rapid.Float64Range(1, 2).Draw(t, "t/g") * g, Gap: g, Remanence: rapid.Float64Range(0.4, 1.4).Draw(t, "Br"),
			Recoil: rapid.Float64Range(1, 1.2).Draw(t, "mu"), Yoke: Box, Side: 0.02, Leg: rapid.Float64Range(0.05, 0.2).Draw(t, "leg"), Back: 0.1, Steel: curve}
		w, err := a.Solve()
		if err != nil {
			t.Fatal(err)
		}
		around := w.GapT*a.Gap/material.Mu0 + 2*a.Thickness*w.MagnetH + w.YokeA
		if force := 2 * a.Thickness * a.Remanence / material.Mu0; math.Abs(around) > 0.01*force {
			t.Fatalf("the sum round the circuit is %.1f A of the magnets' %.0f A: %+v", around, force, w)
		}
		if w.YokeA < 0 || w.LegT < 0 {
			t.Fatalf("the yoke drives the flux: %+v", w)
		}
	})
}

// Whatever force f half of the yoke takes, Ampere's law holds for each half: potential over the half gap, t H of the magnet and f sum to what
// they are without it (zero with tips, where the half is a network). Rounding.
func TestEachHalfKeepsAmperesLaw(t *testing.T) {
	box := Assembly{Face: Face{X: 0.06, Y: 0.04}, Thickness: 0.02, Gap: 0.018, Remanence: 1.3, Recoil: 1.05, Yoke: Box, Side: 0.008, Leg: 0.012, Back: 0.02,
		Depth: 0.06, Packing: 1, Steel: ideal(t)}
	tips := box
	tips.Face, tips.Tip = Face{Diameter: 0.06}, &Tip{Root: 0.05, Diameter: 0.04, Height: 0.012}
	for name, half := range map[string]halfCircuit{"faces": box.faces(), "tips": tips.tips()} {
		around := func(f float64) float64 {
			w := half.at(f)
			return w.GapT*box.Gap/2/material.Mu0 + box.Thickness*w.MagnetH + f
		}
		start := around(0)
		if name == "tips" {
			start = 0
		}
		for _, f := range []float64{0, 50, 400, 2000} {
			if e := math.Abs(around(f) - start); e > 1e-3 { // the ideal steel of a tip takes 0.0001 A
				t.Errorf("%s: with %g A in the yoke the sum is off by %.3g A", name, f, e)
			}
		}
		near(t, name+": flux in the gap", half.at(0).GapWb/half.at(0).GapT, map[string]float64{"faces": 0.06 * 0.04, "tips": math.Pi * 0.02 * 0.02}[name], 1e-6)
	}
	// The edge of a tip of 40 mm over a gap of 18 mm by hand: 2 x 0.264 x 4e-7 pi x pi x 49 mm.
	near(t, "fringe", tips.tips().fringe, 1.02139e-7, 1e-5)
}

// A yoke of constant permeability 1000 by hand. Box of legs 12 mm, backs 20 mm, 60 mm deep, magnet 40 mm wide, side 8 mm, height 58 mm: half a leg
// and half a back are 39 mm long, 14 mm lead outward and 20 mm lie over the magnet, where the flux rises evenly and takes half.
func TestYokeByHand(t *testing.T) {
	c, err := material.Linear("linear", 1000)
	if err != nil {
		t.Fatal(err)
	}
	a := Assembly{Face: Face{X: 0.06, Y: 0.04}, Thickness: 0.02, Gap: 0.018, Remanence: 1.3, Recoil: 1.05, Yoke: Box, Side: 0.008, Leg: 0.012, Back: 0.02,
		Depth: 0.06, Packing: 1, Steel: c}
	s := a.yoke()
	const legs, back = 1.6e-3, 2e-3 // Wb: 1.111 T in the legs, 0.75 T in the backs
	near(t, "drop", s.drop(legs, back), (1.6e-3/1.44e-3*0.039+0.75*(0.014+0.01))/(1000*material.Mu0), 1e-9)
	leg, plate := s.densities(legs, back)
	near(t, "leg", leg, 1.6/1.44, 1e-12)
	near(t, "back", plate, 0.75, 1e-12)
	w := solve(t, a)
	half := a.faces()
	near(t, "the yoke's force", w.YokeA/2, s.drop(half.fluxes(w.YokeA/2)), 1e-5)
	// Across the wires, f = 0.72: 10 mm of 6.1429 mu0 over 24 cm2 take 678319 A/Wb.
	a.Packing = 0.72
	near(t, "across", a.yoke().across, 0.01/(6.142857*material.Mu0*0.0024), 1e-6)
	near(t, "drop across", a.yoke().drop(0, back), a.yoke().across*back+0.024*a.yoke().fieldFor(1e-3/2.4e-3), 1e-6)
}

// Quarter circles from a side face of height h to the middle plane sum to (2/pi) mu0 l ln(1 + 2h/g), twice the permeance of Roters' half
// annuli from pole to pole, mu0 l/pi ln(1 + 2h/g) (Electromagnetic Devices, 1941, chapter V, from memory). Midpoint rule of 1000 strips: 1e-6.
func TestTubesAreRotersAnnuli(t *testing.T) {
	const h, g, l = 0.02, 0.01, 0.1
	sum := 0.0
	for i := range 1000 {
		s := (float64(i) + 0.5) / 1000 * h
		sum += Assembly{}.tube(l*h/1000, g/2+s, 1, 1, math.Pi/2).middle
	}
	near(t, "the side's permeance", sum, 2/math.Pi*material.Mu0*l*math.Log(1+2*h/g), 1e-5)
}

// Wire of packing 1 is solid; with less, the mean of the section is f B + (1-f) mu0 H, H along the wire.
func TestWireSections(t *testing.T) {
	curve := steelCurve(t, "annealed-wire")
	for _, mean := range []float64{0.2, 0.9, 1.3, 1.5} {
		s := steel{curve: curve, packing: 0.72}
		h := s.fieldFor(mean)
		b, _, _ := curve.Eval(h)
		near(t, "the mean", 0.72*b+0.28*material.Mu0*h, mean, 1e-6)
		near(t, "in the wire", s.inSteel(mean), b, 1e-6)
	}
}

// zeros of J0: Abramowitz and Stegun, table 9.5.
func TestZeros(t *testing.T) {
	for i, want := range []float64{2.4048255577, 5.5200781103, 8.6537279129} {
		near(t, "zero of J0", zeroJ0(i+1), want, 1e-10)
	}
}

// More remanence, thicker magnets, thicker legs never lower the field; a wider gap never raises it. Scaling all lengths keeps it.
func TestTrends(t *testing.T) {
	curve := steelCurve(t, "steel-1018")
	rapid.Check(t, func(t *rapid.T) {
		size := func(name string, lo, hi float64) float64 { return rapid.Float64Range(lo, hi).Draw(t, name) }
		a := Assembly{Face: Face{X: size("x", 0.02, 0.1), Y: size("y", 0.02, 0.1)}, Thickness: size("t", 0.005, 0.03), Gap: size("g", 0.005, 0.03),
			Remanence: size("Br", 0.3, 1.4), Recoil: 1.05, Side: size("side", 0.005, 0.03), Leg: size("leg", 0.003, 0.03), Back: size("back", 0.005, 0.03), Steel: curve}
		a.Yoke = rapid.SampledFrom([]Yoke{Open, Box, C}).Draw(t, "yoke")
		at := func(change func(*Assembly)) float64 {
			b := a
			change(&b)
			w, err := b.Solve()
			if err != nil {
				t.Fatal(err)
			}
			return w.GapT
		}
		base := at(func(*Assembly) {})
		for name, higher := range map[string]float64{
			"remanence": at(func(b *Assembly) { b.Remanence *= 1.05 }), "thickness": at(func(b *Assembly) { b.Thickness *= 1.05 }),
			"legs": at(func(b *Assembly) { b.Leg *= 1.05 }), "less gap": at(func(b *Assembly) { b.Gap /= 1.05 })} {
			if higher < base*(1-2e-3) {
				t.Fatalf("more %s lowers the field from %.5f to %.5f T", name, base, higher)
			}
		}
		scaled := at(func(b *Assembly) {
			for _, x := range []*float64{&b.Face.X, &b.Face.Y, &b.Thickness, &b.Gap, &b.Side, &b.Leg, &b.Back} {
				*x *= 3
			}
		})
		if math.Abs(scaled/base-1) > 1e-5 {
			t.Fatalf("three times as large it has %.6f T, not %.6f T", scaled, base)
		}
	})
}

func TestCheckRefuses(t *testing.T) {
	good := Assembly{Face: Face{X: 0.05, Y: 0.05}, Thickness: 0.01, Gap: 0.01, Remanence: 1.2, Recoil: 1.05, Yoke: Box, Leg: 0.01, Back: 0.01, Steel: ideal(t)}
	if err := good.Check(); err != nil {
		t.Fatal(err)
	}
	for name, spoil := range map[string]func(a *Assembly){
		"no gap": func(a *Assembly) { a.Gap = 0 }, "NaN": func(a *Assembly) { a.Thickness = math.NaN() }, "endless": func(a *Assembly) { a.Leg = math.Inf(1) },
		"no steel": func(a *Assembly) { a.Steel = nil }, "recoil": func(a *Assembly) { a.Recoil = 0.5 }, "side": func(a *Assembly) { a.Side = -1 },
		"packing": func(a *Assembly) { a.Packing = 2 }, "square pot": func(a *Assembly) { a.Yoke = Pot }, "plate": func(a *Assembly) { a.Yoke = Plate },
		"tip": func(a *Assembly) { a.Tip = &Tip{} }, "tip in a pot": func(a *Assembly) { a.Yoke, a.Face, a.Tip = Pot, Face{Diameter: 0.05}, &Tip{0.05, 0.03, 0.01} },
		"face": func(a *Assembly) { a.Face.X = 0 }, "back": func(a *Assembly) { a.Back = 0 },
	} {
		a := good
		spoil(&a)
		if _, err := a.Solve(); err == nil {
			t.Errorf("%s is taken", name)
		}
	}
}

func BenchmarkSolve(b *testing.B) {
	box := Assembly{Face: Face{X: 0.06, Y: 0.04}, Thickness: 0.02, Gap: 0.018, Remanence: 1.3, Recoil: 1.05, Yoke: Box, Side: 0.008, Leg: 0.012, Back: 0.02,
		Steel: steelCurve(b, "steel-1018")}
	pot, tips := box, box
	pot.Yoke, pot.Face = Pot, Face{Diameter: 0.05}
	tips.Face, tips.Tip = Face{Diameter: 0.06}, &Tip{Root: 0.05, Diameter: 0.04, Height: 0.012}
	for _, c := range []struct {
		name string
		a    Assembly
	}{{"box", box}, {"pot", pot}, {"tips", tips}} {
		b.Run(c.name, func(b *testing.B) {
			for b.Loop() {
				if _, err := c.a.Solve(); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}
