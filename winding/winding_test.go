package winding

import (
	"encoding/json"
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

func relative(a, b float64) float64 {
	if a == b {
		return 0
	}
	return math.Abs(a-b) / max(math.Abs(a), math.Abs(b))
}

func mustWind(t testing.TB, p Plan) Sheet {
	t.Helper()
	s, err := Wind(p)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

var trade = Plan{CoreX: 0.060, CoreY: 0.100, Width: 0.040, WireDiameter: 0.0016, Build: 0.020, Lay: Nested}

// The example sheet of the trade notes, worked by hand with 7.85 g/cm³: 1.6 mm wire on a 60 x 100 mm core, 40 wide, 20 deep,
// nested: 25 and 24 turns a layer, 14 layers, 343 turns, 131 m, 2.07 kg, 690 mm², 35 to 60 minutes. Tolerance: its last digit.
func TestTradeExample(t *testing.T) {
	s := mustWind(t, trade)
	if s.Turns != 343 || len(s.Layers) != 14 || s.Layers[0].Turns != 25 || s.Layers[1].Turns != 24 || s.Layers[13].Turns != 24 {
		t.Errorf("%d turns in %d layers of %d and %d", s.Turns, len(s.Layers), s.Layers[0].Turns, s.Layers[1].Turns)
	}
	for what, v := range map[string][3]float64{
		"length":        {s.WireLengthM, 131, 0.5},
		"mass":          {s.WireMassKg, 2.07, 0.005},
		"steel area":    {s.SteelAreaM2, 690e-6, 0.5e-6},
		"mass a metre":  {s.MassPerM, 15.8e-3, 0.05e-3}, // 1.6 mm steel wire is 15.8 g/m
		"yield":         {s.YieldN, 301.6, 0.1},         // 150 N/mm² on 2.0106 mm²
		"hours, low":    {s.HoursLow, 35. / 60, 0.8 / 60},
		"hours, high":   {s.HoursHigh, 1, 0.05},
		"tension, low":  {s.TensionLowN, 20, 0.5},
		"tension, high": {s.TensionHighN, 30, 0.5},
	} {
		if math.Abs(v[0]-v[1]) > v[2] {
			t.Errorf("%s %.5g, the notes have %g", what, v[0], v[1])
		}
	}
	// By hand: 13 steps of 1.6·√3/2 on the first 1.6 mm.
	if math.Abs(s.BuildM-0.0196133) > 1e-7 || math.Abs(s.Packing-0.87905) > 1e-5 || math.Abs(s.OuterYM-0.1392266) > 2e-7 || math.Abs(s.OuterXM-0.0992266) > 2e-7 {
		t.Errorf("build %.7f m, packing %.5f, outside %.7f x %.7f m", s.BuildM, s.Packing, s.OuterXM, s.OuterYM)
	}
}

// The notes' masses and lengths of steel wire at 7.85 g/cm³, mm to g/m; tolerance half the last digit.
func TestMassOfWire(t *testing.T) {
	for mm, gram := range map[float64]float64{0.5: 1.54, 0.71: 3.11, 0.9: 4.99, 1.0: 6.17, 1.25: 9.63, 1.6: 15.8, 2.0: 24.7, 2.5: 38.5, 3.0: 55.5} {
		p := trade
		p.WireDiameter = mm * 1e-3
		half := 0.005001
		if gram > 10 {
			half = 0.05
		}
		if s := mustWind(t, p); math.Abs(s.MassPerM*1e3-gram) > half {
			t.Errorf("%g mm: %.3f g/m, the notes have %g", mm, s.MassPerM*1e3, gram)
		}
	}
}

// One turn round a 60 x 100 mm core with 5 mm corners, centre line 1 mm up, by hand: 2·(60+100) - 8·5 + 2π·6 = 317.699 mm; and
// round a cylinder (the corner radius half of a square core) the circle 2π(R+r).
func TestTurnLength(t *testing.T) {
	p := Plan{CoreX: 0.060, CoreY: 0.100, CornerRadius: 0.005}
	if got := p.TurnLength(0.001); math.Abs(got-0.317699) > 5e-7 {
		t.Errorf("%.6f m", got)
	}
	p = Plan{CoreX: 0.050, CoreY: 0.050, CornerRadius: 0.025}
	if got := p.TurnLength(0.003); relative(got, 2*math.Pi*0.028) > 1e-14 {
		t.Errorf("%.6f m", got)
	}
}

// A wide and deep winding comes to the limits of packing, π/4 and π/(2√3), with edges of the order of a wire in width and depth.
func TestPackingLimits(t *testing.T) {
	for lay, limit := range map[string]float64{Square: 0.785398, Nested: 0.906900} {
		s := mustWind(t, Plan{CoreX: 1, CoreY: 1, Width: 1, WireDiameter: 0.001, Lay: lay, Build: 0.5})
		if s.Packing > limit+1e-6 || s.Packing < limit*(1-2e-3) {
			t.Errorf("%s: packing %.5f, limit %.5f", lay, s.Packing, limit)
		}
	}
}

// The example of the design format: 16 SWG (1.6256 mm), 60 mm wide, 1500 turns, packed 0.72. By hand: steel
// 1500·2.07547 mm² = 3113.2 mm², build 3113.2/(0.72·60) = 72.07 mm.
func TestGivenPacking(t *testing.T) {
	p := Plan{CoreX: 0.056, CoreY: 0.058, Width: 0.060, WireDiameter: 1.6256e-3, Turns: 1500, Packing: 0.72}
	s := mustWind(t, p)
	if math.Abs(s.SteelAreaM2-3113.2e-6) > 0.1e-6 || math.Abs(s.BuildM-72.065e-3) > 0.01e-3 || s.Packing != 0.72 {
		t.Errorf("steel %.1f mm2, build %.3f mm, packing %g", s.SteelAreaM2*1e6, s.BuildM*1e3, s.Packing)
	}
	if s.Layers[0].Turns != 36 || s.Layers[len(s.Layers)-1].OuterM-(0.058+2*s.BuildM) > 1e-12 {
		t.Errorf("first layer %d turns, outside %g m", s.Layers[0].Turns, s.Layers[len(s.Layers)-1].OuterM)
	}
	// The wire fills the racetrack: its length is the packing times the racetrack's volume over the wire's section (Pappus;
	// ring of straight sides and full circles).
	ring := 2*(p.CoreX+p.CoreY)*s.BuildM + math.Pi*s.BuildM*s.BuildM
	if want := s.Packing * ring * p.Width / (math.Pi / 4 * p.WireDiameter * p.WireDiameter); relative(s.WireLengthM, want) > 1e-12 {
		t.Errorf("wire %.2f m, the racetrack holds %.2f m", s.WireLengthM, want)
	}
	// The other way round.
	p.Turns, p.Build = 0, s.BuildM
	if back := mustWind(t, p); back.Turns != 1500 {
		t.Errorf("%d turns in that build", back.Turns)
	}
	// Wild winding is packed 0.55 to 0.75, 0.65 in the middle (common practice, no source).
	if s := mustWind(t, Plan{CoreX: 0.056, CoreY: 0.058, Width: 0.060, WireDiameter: 1.6e-3, Turns: 1500, Lay: Random}); s.Packing != 0.65 || relative(s.BuildM, 77.3315e-3) > 1e-5 {
		t.Errorf("random: packing %g, build %.6f m", s.Packing, s.BuildM)
	}
	// With a lay, the layers keep its turns: 36 and 36 fit 36.9 wires, nested.
	p = Plan{CoreX: 0.056, CoreY: 0.058, Width: 0.060, WireDiameter: 1.6e-3, Turns: 1500, Packing: 0.75, Lay: Nested}
	if s := mustWind(t, p); s.Layers[0].Turns != 37 || s.Layers[1].Turns != 37 || s.Packing != 0.75 {
		t.Errorf("layers of %d and %d", s.Layers[0].Turns, s.Layers[1].Turns)
	}
}

func TestErrors(t *testing.T) {
	for what, c := range map[string]struct {
		spoil func(*Plan)
		want  string
	}{
		"no core":           {func(p *Plan) { p.CoreX = 0 }, "the core's x size"},
		"negative core":     {func(p *Plan) { p.CoreY = -1 }, "the core's y size"},
		"no width":          {func(p *Plan) { p.Width = math.NaN() }, "the width"},
		"endless wire":      {func(p *Plan) { p.WireDiameter = math.Inf(1) }, "the wire's diameter"},
		"too thick":         {func(p *Plan) { p.WireDiameter = 0.041 }, "does not take one turn"},
		"too thin":          {func(p *Plan) { p.WireDiameter = 1e-9 }, "right unit"},
		"out of proportion": {func(p *Plan) { p.WireDiameter, p.Width = 2e-5, 99 }, "out of proportion"},
		"corner":            {func(p *Plan) { p.CornerRadius = 0.031 }, "half its shorter side, 30 mm"},
		"room":              {func(p *Plan) { p.Room = -1 }, "the room"},
		"density":           {func(p *Plan) { p.Density = math.NaN() }, "density"},
		"neither":           {func(p *Plan) { p.Build = 0 }, "neither turns nor build"},
		"both":              {func(p *Plan) { p.Turns = 10 }, "both turns and build"},
		"thin build":        {func(p *Plan) { p.Build = 0.001 }, "at least one layer, 1.6 mm"},
		"endless build":     {func(p *Plan) { p.Width, p.Build = 50, 1 }, "more than 1000000 turns"},
		"negative build":    {func(p *Plan) { p.Build = -0.001 }, "the build"},
		"negative turns":    {func(p *Plan) { p.Turns, p.Build = -3, 0 }, "out of reach"},
		"many turns":        {func(p *Plan) { p.Turns, p.Build = 1_000_001, 0 }, "out of reach\n  hint: give 1 to 1000000"},
		"no room":           {func(p *Plan) { p.Turns, p.Build, p.Room = 400, 0, 0.020 }, "room for 20 mm, which takes 343 turns"},
		"too tall":          {func(p *Plan) { p.Width, p.Turns, p.Build, p.Lay = 0.0016, 1_000_000, 0, Square }, "give a width that holds more turns"},
		"lay":               {func(p *Plan) { p.Lay = "crossed" }, `no lay "crossed"`},
		"no lay":            {func(p *Plan) { p.Lay = "" }, "neither lay nor packing"},
		"narrow nest":       {func(p *Plan) { p.Width = 0.0020 }, "1.5 wire diameters, 2.4 mm"},
		"too dense":         {func(p *Plan) { p.Lay, p.Packing = "", 0.91 }, "0.9069, the limit of round wire"},
		"too dense, random": {func(p *Plan) { p.Lay, p.Packing = Random, 0.91 }, "0.9069, the limit"},
		"too dense, square": {func(p *Plan) { p.Lay, p.Packing = Square, 0.79 }, "0.7854, the limit of square lay"},
		"too dense, nested": {func(p *Plan) { p.Packing = 0.91 }, "0.9069, the limit of nested lay"},
		"gap at the flange": {func(p *Plan) { p.Lay, p.Packing, p.Width = Square, 0.78, 0.0415 }, "has 0.7570"},
		"negative packing":  {func(p *Plan) { p.Packing = -0.5 }, "the packing -0.5"},
		"no packing number": {func(p *Plan) { p.Packing = math.NaN() }, "the packing NaN"},
	} {
		p := trade
		c.spoil(&p)
		_, err := Wind(p)
		if err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%s: %v, want %q", what, err, c.want)
		}
	}
}

func drawPlan(t *rapid.T) Plan {
	d := rapid.Float64Range(0.3e-3, 4e-3).Draw(t, "wire")
	p := Plan{
		CoreX:        rapid.Float64Range(0.01, 0.3).Draw(t, "x"),
		CoreY:        rapid.Float64Range(0.01, 0.3).Draw(t, "y"),
		Width:        d * rapid.Float64Range(1.6, 80).Draw(t, "width in wires"),
		WireDiameter: d,
		Density:      rapid.Float64Range(7000, 8000).Draw(t, "density"),
		Lay:          rapid.SampledFrom([]string{Square, Nested, Random, ""}).Draw(t, "lay"),
		Turns:        rapid.IntRange(1, 3000).Draw(t, "turns"),
	}
	p.CornerRadius = min(p.CoreX, p.CoreY) / 2 * rapid.Float64Range(0, 1).Draw(t, "corner")
	if p.Lay == "" || rapid.Bool().Draw(t, "with packing") {
		p.Packing = rapid.Float64Range(leastPacking, NestedLimit).Draw(t, "packing")
	}
	return p
}

func TestWindingProperties(t *testing.T) {
	tried := 0
	rapid.Check(t, func(t *rapid.T) {
		p := drawPlan(t)
		s, err := Wind(p)
		if err != nil {
			if p.Packing < 0.5 && p.Lay != Square && p.Lay != Nested {
				t.Fatal(err)
			}
			t.Skip(err)
		}
		tried++
		area := math.Pi / 4 * p.WireDiameter * p.WireDiameter
		turns, length := 0, 0.0
		for i, l := range s.Layers {
			turns, length = turns+l.Turns, length+l.LengthM
			if l.Layer != i+1 || l.Turns < 1 || l.RunningTurns != turns || relative(l.RunningLengthM, length) > 1e-12 || relative(l.RunningMassKg, p.Density*area*length) > 1e-12 {
				t.Fatalf("layer %+v after %d turns, %g m", l, turns, length)
			}
			if i > 0 && (l.OuterM <= s.Layers[i-1].OuterM || l.LengthM/float64(l.Turns) <= s.Layers[i-1].LengthM/float64(s.Layers[i-1].Turns)) {
				t.Fatalf("layer %d is no larger than the one below", i+1)
			}
		}
		if turns != p.Turns || s.Turns != p.Turns || relative(s.WireLengthM, length) > 1e-12 {
			t.Fatalf("%d turns, %d in the layers, %d asked", s.Turns, turns, p.Turns)
		}
		if relative(s.WireMassKg, p.Density*area*s.WireLengthM) > 1e-12 || relative(s.SteelAreaM2, float64(turns)*area) > 1e-12 {
			t.Fatalf("mass %g kg, steel %g m2", s.WireMassKg, s.SteelAreaM2)
		}
		if relative(s.Packing*s.BuildM*p.Width, s.SteelAreaM2) > 1e-12 || s.Packing > NestedLimit+1e-12 {
			t.Fatalf("packing %g of %g x %g m holds %g m2", s.Packing, s.BuildM, p.Width, s.SteelAreaM2)
		}
		if last := s.Layers[len(s.Layers)-1].OuterM; relative(last, max(s.OuterXM, s.OuterYM)) > 1e-12 {
			t.Fatalf("last layer %g m outside, the winding %g x %g m", last, s.OuterXM, s.OuterYM)
		}
		// Each turn is longer than the bare core's outline and shorter than the winding's.
		if mean := s.WireLengthM / float64(turns); mean < p.TurnLength(0) || mean > p.TurnLength(s.BuildM) {
			t.Fatalf("mean turn %g m", mean)
		}
		// One more turn: one more turn's length, and no smaller build.
		more := p
		more.Turns++
		m, err := Wind(more)
		if err != nil {
			t.Fatal(err)
		}
		if m.WireLengthM-s.WireLengthM < p.TurnLength(0)*(1-1e-9) || m.BuildM < s.BuildM*(1-1e-12) {
			t.Fatalf("a further turn adds %g m of wire and %g m of build", m.WireLengthM-s.WireLengthM, m.BuildM-s.BuildM)
		}
		if got, err := p.Section(p.Turns + 1); err != nil || got != m.Section {
			t.Fatalf("section %+v, %v; the sheet has %+v", got, err, m.Section)
		}
	})
	if tried < 50 {
		t.Fatalf("%d plans tried", tried)
	}
}

// The build of full layers holds just those turns.
func TestBuildAndTurnsAgree(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := drawPlan(t)
		p.Packing = 0
		p.Lay = rapid.SampledFrom([]string{Square, Nested}).Draw(t, "ideal lay")
		p.Turns, p.Build = 0, p.WireDiameter*rapid.Float64Range(1.01, 60).Draw(t, "build in wires")
		s, err := Wind(p)
		if err != nil {
			t.Fatal(err)
		}
		next := s.BuildM + p.WireDiameter // a further layer of any lay
		if s.BuildM > p.Build*(1+1e-6) || next < p.Build {
			t.Fatalf("build %g m of %g m asked", s.BuildM, p.Build)
		}
		again := p
		again.Build, again.Turns = 0, s.Turns
		if a, err := Wind(again); err != nil || !slices.Equal(a.Layers, s.Layers) || a.Section != s.Section {
			t.Fatalf("%d turns give another sheet, %v", s.Turns, err)
		}
	})
}

func FuzzWind(f *testing.F) {
	f.Add(0.06, 0.1, 0.0, 0.04, 0.0016, 0.0, 343, 0.0, "nested")
	f.Add(0.06, 0.1, 0.01, 0.04, 0.0016, 0.72, 0, 0.02, "")
	f.Add(1e-300, 1e-300, 0.0, 1e-300, 1e-300, 0.0, 10, 0.0, "square")
	f.Add(100.0, 100.0, 50.0, 100.0, 1e-4, 0.2, 1000000, 0.0, "random")
	f.Add(1.0, 1.0, 0.0, 1.0, 1.0, 0.0, 0, 1e300, "square")
	f.Fuzz(func(t *testing.T, x, y, corner, width, wire, packing float64, turns int, build float64, lay string) {
		s, err := Wind(Plan{CoreX: x, CoreY: y, CornerRadius: corner, Width: width, WireDiameter: wire, Packing: packing, Turns: turns, Build: build, Lay: lay})
		if err != nil {
			return
		}
		if s.Turns < 1 || len(s.Layers) == 0 || !(s.BuildM > 0 && s.BuildM <= maxSize) || !(s.Packing > 0 && s.Packing <= NestedLimit*(1+1e-6)) || !(s.WireLengthM > 0) {
			t.Fatalf("%+v", s.Section)
		}
	})
}

func TestCapacity(t *testing.T) {
	// By hand: two sides of 690 mm² at 2.1 T carry 2.898 mWb; fill 0.70 at 2.1 T is 1.47 T (trade notes).
	b, err := Capacity(690e-6, 2.1, 2.5e-3)
	if err != nil || relative(b.CapacityWb, 2.898e-3) > 1e-12 || relative(b.Ratio, 1.1592) > 1e-12 || !strings.Contains(b.Sentence, "2.9 mWb") || !strings.Contains(b.Sentence, "near saturation") {
		t.Errorf("%+v, %v", b, err)
	}
	for flux, words := range map[float64]string{4e-3: "wind 1.8 times the turns", 1.5e-3: "below saturation", 0.5e-3: "more steel than"} {
		if b, err := Capacity(690e-6, 2.1, flux); err != nil || !strings.Contains(b.Sentence, words) {
			t.Errorf("%g Wb: %q, %v; want %q", flux, b.Sentence, err, words)
		}
	}
	for _, bad := range [][3]float64{{0, 2, 1}, {1, 0, 1}, {1, 3.1, 1}, {1, 2, 0}, {math.NaN(), 2, 1}, {1, math.NaN(), 1}, {1, 2, math.NaN()}, {1, 2, -1}} {
		if _, err := Capacity(bad[0], bad[1], bad[2]); err == nil {
			t.Errorf("%v taken", bad)
		}
	}
}

// The names that scripts rely on.
func TestSheetJSON(t *testing.T) {
	text, err := json.Marshal(mustWind(t, trade))
	if err != nil {
		t.Fatal(err)
	}
	var got map[string]any
	if err := json.Unmarshal(text, &got); err != nil {
		t.Fatal(err)
	}
	for _, key := range strings.Fields("layers turns wire_length_m wire_mass_kg build_m steel_area_m2 packing") {
		if got[key] == nil {
			t.Errorf("no %q in %.200s", key, text)
		}
	}
	first := got["layers"].([]any)[0].(map[string]any)
	for _, key := range strings.Fields("layer turns length_m outer_m") {
		if first[key] == nil {
			t.Errorf("no %q in a layer", key)
		}
	}
}

func ExampleWind() {
	sheet, err := Wind(Plan{CoreX: 0.060, CoreY: 0.100, Width: 0.040, WireDiameter: 0.0016, Lay: Nested, Build: 0.020})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%d turns, %.0f m, %.2f kg\n", sheet.Turns, sheet.WireLengthM, sheet.WireMassKg)
	for _, l := range sheet.Layers[:2] {
		fmt.Printf("layer %d: %d turns, %.2f m, %.1f mm outside\n", l.Layer, l.Turns, l.LengthM, l.OuterM*1e3)
	}
	// Output:
	// 343 turns, 131 m, 2.07 kg
	// layer 1: 25 turns, 8.13 m, 103.2 mm outside
	// layer 2: 24 turns, 8.01 m, 106.0 mm outside
}

func ExampleCapacity() {
	balance, err := Capacity(690e-6, 2.1, 2.5e-3)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(balance.Sentence)
	// Output: The winding carries 2.9 mWb at saturation, 116 % of the magnets' 2.5 mWb: it works near saturation, and each further turn still gains field.
}

func BenchmarkWind(b *testing.B) {
	p := Plan{CoreX: 0.06, CoreY: 0.1, Width: 0.06, WireDiameter: 0.0016, Lay: Nested, Turns: 1500}
	for b.Loop() {
		if _, err := Wind(p); err != nil {
			b.Fatal(err)
		}
	}
}
