package polewright

import (
	"errors"
	"math"
	"reflect"
	"strings"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"
	"pgregory.net/rapid"

	"polewright/design"
)

// twoDiscs are two discs without steel and without recoil, whose field is a closed form.
func twoDiscs(t testing.TB) *design.Design {
	return read(t, `format = 1
title = "facing discs"
[target]
region = { shape = "sphere", diameter = "6 mm" }
[[magnet]]
name = "upper"
shape = "disc"
diameter = "50 mm"
thickness = "20 mm"
axis = "z"
center = ["0 mm", "0 mm", "20 mm"]
magnetized = [0, 0, 1]
remanence = "1.3 T"
recoil = 1
[[magnet]]
name = "lower"
shape = "disc"
diameter = "50 mm"
thickness = "20 mm"
axis = "z"
center = ["0 mm", "0 mm", "-20 mm"]
magnetized = [0, 0, 1]
remanence = "1.3 T"
recoil = 1
`)
}

// What gap, thickness, strength and a reversed magnet do to the field between two discs, against the derivative of the textbook's field on the axis
// of a disc (Furlani, Permanent Magnet and Electromechanical Devices, 2001, chapter 4): one face of radius R at the distance z gives z/sqrt(R^2+z^2).
func TestDeviationsOfDiscs(t *testing.T) {
	const r, thick, gap, br = 0.025, 0.020, 0.020, 1.3
	one := func(face, thick float64) float64 { // of one disc whose face is so far from the middle
		return br / 2 * ((face+thick)/math.Hypot(r, face+thick) - face/math.Hypot(r, face))
	}
	whole := 2 * one(gap/2, thick)
	d := twoDiscs(t)
	field := func(list ...Deviation) r3.Vec {
		t.Helper()
		c, err := Apply(d, list)
		if err != nil {
			t.Fatal(err)
		}
		return vector(run(t, c, Options{FieldOnly: true}).Result.GapB)
	}
	const h = 1e-4
	for _, c := range []struct {
		v    Deviation
		want float64 // T
	}{
		{Deviation{}, whole},
		// The lower magnet stays, the upper one moves off.
		{Deviation{Kind: DeviatesGap, Axis: 2, Amount: h}, one(gap/2, thick) + one(gap/2+h, thick)},
		{Deviation{Kind: DeviatesSize, Part: "upper", Axis: 2, Amount: h}, one(gap/2, thick) + one(gap/2-h, thick+h)},
		{Deviation{Kind: DeviatesSize, Part: "lower", Axis: 2, Amount: -h}, one(gap/2, thick) + one(gap/2+h, thick-h)},
		{Deviation{Kind: DeviatesOffset, Part: "upper", Axis: 2, Amount: h}, one(gap/2, thick) + one(gap/2+h, thick)},
		{Deviation{Kind: DeviatesRemanence, Part: "upper", Amount: -0.04}, 0.98 * whole},
		{Deviation{Kind: DeviatesRemanence, Amount: -0.04}, 0.96 * whole},
		{Deviation{Kind: DeviatesReversed, Part: "lower", Amount: 1}, 0},
	} {
		var list []Deviation
		if c.v.Kind != "" {
			list = []Deviation{c.v}
		}
		if got := field(list...); math.Abs(got.Z-c.want) > 1e-9 || math.Abs(got.X)+math.Abs(got.Y) > 1e-12 {
			t.Errorf("%v: %.9f T, by the formula %.9f T", c.v, got, c.want)
		}
	}
	// Turned by a small angle about x, the upper magnet keeps the cosine along z. A tilt about the middle of its face adds the shift of its poles.
	const angle = 0.02
	if got := field(Deviation{Kind: DeviatesDirection, Part: "upper", Axis: 0, Amount: angle}); math.Abs(got.Z-whole/2*(1+math.Cos(angle))) > 1e-9 {
		t.Errorf("turned: %.9f T", got.Z)
	}
	up, down := field(Deviation{Kind: DeviatesTilt, Axis: 0, Amount: angle}), field(Deviation{Kind: DeviatesTilt, Axis: 0, Amount: -angle})
	if math.Abs(up.Y+down.Y) > 1e-12 || math.Abs(up.Z-down.Z) > 1e-12 || math.Abs(up.Y) < 1e-3 {
		t.Errorf("tilted either way: %v and %v are no mirror images", up, down)
	}
}

// A temperature acts as the grade's coefficient says: N42 loses 0.12 % a kelvin (makers' sheets; see package material).
func TestDeviationOfTemperature(t *testing.T) {
	d := template(t, "facing-pair")
	c, err := Apply(d, []Deviation{{Kind: DeviatesTemperature, Amount: 10}})
	if err != nil {
		t.Fatal(err)
	}
	a, b := run(t, d, Options{FieldOnly: true}).Result, run(t, c, Options{FieldOnly: true}).Result
	if b.TempC != a.TempC+10 || math.Abs(b.GapB[2]/a.GapB[2]-(1-0.012)) > 1e-4 {
		t.Errorf("10 K: %g to %g degC, field %.6f", a.TempC, b.TempC, b.GapB[2]/a.GapB[2])
	}
}

// Every deviation of every layout can be applied, leaves its design alone, and is a design that has no overlaps; a longer gap made shorter again is the
// design that it was.
func TestApply(t *testing.T) {
	for _, layout := range design.Layouts() {
		d, before := template(t, layout), template(t, layout)
		for _, v := range Deviations(d) {
			amount := v.Spread
			if v.Kind == DeviatesReversed {
				amount = 1
			}
			c, err := Apply(d, []Deviation{v.Of(amount)})
			if err != nil {
				t.Errorf("%s: %s: %v", layout, v, err)
				continue
			}
			if !reflect.DeepEqual(d, before) {
				t.Fatalf("%s: %s changed the design itself", layout, v)
			}
			if reflect.DeepEqual(c, d) {
				t.Errorf("%s: %s changes nothing", layout, v)
			}
			if _, err := newAssembly(c); err != nil {
				t.Errorf("%s: %s: %v", layout, v, err)
			}
		}
	}
	d := template(t, "framed-pair")
	rapid.Check(t, func(t *rapid.T) {
		v := Deviation{Kind: DeviatesGap, Axis: 2, Amount: rapid.Float64Range(-2e-3, 5e-3).Draw(t, "m")}
		c, err := Apply(d, []Deviation{v})
		if err != nil {
			t.Fatal(err)
		}
		high := func(d *design.Design) float64 {
			a, err := newAssembly(d)
			if err != nil {
				t.Fatal(err)
			}
			b := a.outer()
			return b.Max.Z - b.Min.Z
		}
		if math.Abs(high(c)-high(d)-v.Amount) > 1e-12 {
			t.Errorf("%g m longer: the height changes by %g", v.Amount, high(c)-high(d))
		}
		back, err := Apply(c, []Deviation{v.Of(-v.Amount)})
		if err != nil {
			t.Fatal(err)
		}
		for i, p := range back.Parts() {
			q := d.Parts()[i]
			if r3.Norm(r3.Sub(p.Place.Center, q.Place.Center)) > 1e-12 || math.Abs(p.Solid.Volume()/q.Solid.Volume()-1) > 1e-9 {
				t.Errorf("%s does not come back", p.Name)
			}
		}
	})
}

func TestApplyRefuses(t *testing.T) {
	pair, single := template(t, "framed-pair"), template(t, "single-block")
	for _, c := range []struct {
		d    *design.Design
		v    Deviation
		want string
	}{
		{pair, Deviation{Kind: DeviatesRemanence, Part: "nobody"}, `there is no magnet "nobody"`},
		{pair, Deviation{Kind: DeviatesRemanence, Part: "upper", Amount: -1}, "the remanence would be 0 T"},
		{pair, Deviation{Kind: DeviatesReversed}, `there is no magnet ""`},
		{pair, Deviation{Kind: DeviatesMissing, Part: "keeper"}, `there is no magnet and no steel "keeper"`},
		{pair, Deviation{Kind: DeviatesSize, Part: "upper", Axis: 2, Amount: -0.03}, "cannot be changed"},
		{pair, Deviation{Kind: DeviatesOffset, Part: "nobody"}, `there is no part "nobody"`},
		{pair, Deviation{Kind: DeviatesPacking, Part: "upper"}, `there is no wound yoke "upper"`},
		{pair, Deviation{Kind: DeviatesGap, Axis: 0}, "no gap between two sides along x"},
		{pair, Deviation{Kind: DeviatesGap, Axis: 2, Amount: -0.018}, "the gap would be closed"},
		{pair, Deviation{Kind: DeviatesTilt, Axis: 2}, "tilted about z"},
		{pair, Deviation{Kind: DeviatesTilt, Axis: 0, Amount: 1}, "the sides would touch"},
		{pair, Deviation{Kind: DeviatesGap, Axis: 7}, "is none"},
		{pair, Deviation{Kind: DeviatesGap, Axis: 2, Amount: math.NaN()}, "is none"},
		{pair, Deviation{Kind: "charm"}, `there is no deviation "charm"`},
		{single, Deviation{Kind: DeviatesGap, Axis: 2}, "no gap"},
	} {
		_, err := Apply(c.d, []Deviation{c.v})
		var e *DeviationError
		if !errors.As(err, &e) || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%+v: %v; want %q", c.v, err, c.want)
		}
	}
}

// The strips of a tilted side are the whole parts: the same volume and moment, and each of the joints once for every pair of strips that touch.
func TestStrips(t *testing.T) {
	d := template(t, "framed-pair")
	for axis := range 2 {
		c, err := Apply(d, []Deviation{{Kind: DeviatesTilt, Axis: axis, Amount: 0.01}})
		if err != nil {
			t.Fatal(err)
		}
		count := func(d *design.Design) (volume, moment float64) {
			for _, p := range magnetic(d) {
				volume += p.Solid.Volume()
			}
			for i := range d.Magnets {
				moment += d.Magnets[i].Material.RemanenceT * d.Magnets[i].Bare().Volume()
			}
			return volume, moment
		}
		v, m := count(c)
		w, n := count(d)
		if math.Abs(v/w-1) > 1e-9 || math.Abs(m/n-1) > 1e-12 || len(c.Joints) < 6 {
			t.Errorf("about %d: volume %.12f, moment %.12f of the whole, %d joints", axis, v/w, m/n, len(c.Joints))
		}
		if _, err := newAssembly(c); err != nil {
			t.Error(err)
		}
		// A whole strip of the upper magnet is lifted by the angle times its distance: towards +y about x, towards -x about y.
		lifted := 0
		for i := range c.Magnets {
			p := &c.Magnets[i]
			at, half := p.Place.Center, p.Solid.HalfExtent()
			arm, width := at.Y, 2*half.Y
			if axis == 1 {
				arm, width = -at.X, 2*half.X
			}
			if !strings.HasPrefix(p.Name, "upper") || math.Abs(width-40e-3/tiltStrips) > 1e-9 {
				continue
			}
			if lifted++; math.Abs(at.Z-19e-3-0.01*arm) > 1e-12 {
				t.Errorf("about %d: %s is lifted by %g m, %g m out", axis, p.Name, at.Z-19e-3, arm)
			}
		}
		if lifted < tiltStrips {
			t.Errorf("about %d: %d whole strips", axis, lifted)
		}
		parts := magnetic(c)
		for i, p := range parts {
			for _, q := range parts[:i] {
				if a, b := shapeBounds(p), shapeBounds(q); meet(a, b) {
					t.Errorf("about %d: %s and %s overlap", axis, p.Name, q.Name)
				}
			}
		}
	}
}
