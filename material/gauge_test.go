package material

import (
	"fmt"
	"math"
	"strings"
	"testing"
)

// Diameters in inches: AWG from ASTM B258's own table (from memory: 4/0 is 0.4600 and 36 is 0.0050 by definition, 10 is 0.1019, 16 is 0.0508, 24 is
// 0.0201); SWG and steel-wire 10 to 20 from the table of wovenwire.com. Tolerance: the tables' last digit.
func TestWireDiameter(t *testing.T) {
	for _, c := range []struct {
		kind   GaugeKind
		number int
		inches float64
		tol    float64
	}{
		{AWG, -3, 0.4600, 1e-9}, {AWG, 36, 0.0050, 1e-9}, {AWG, 0, 0.3249, 6e-5}, {AWG, 10, 0.1019, 6e-5}, {AWG, 16, 0.0508, 6e-5}, {AWG, 24, 0.0201, 6e-5}, {AWG, 40, 0.0031, 6e-5},
		{SWG, 10, 0.128, 1e-9}, {SWG, 14, 0.080, 1e-9}, {SWG, 16, 0.064, 1e-9}, {SWG, 18, 0.048, 1e-9}, {SWG, 20, 0.036, 1e-9},
		{SteelWire, 10, 0.135, 1e-9}, {SteelWire, 16, 0.0625, 1e-9}, {SteelWire, 18, 0.0475, 1e-9}, {SteelWire, 20, 0.0348, 1e-9},
		{SWG, 22, 0.028, 1e-9}, {SteelWire, 22, 0.0286, 1e-9}, {SWG, 30, 0.0124, 1e-9}, {SteelWire, 30, 0.0140, 1e-9}, // from memory
	} {
		d, source, err := WireDiameter(c.kind, c.number)
		if err != nil || math.Abs(d/0.0254-c.inches) > c.tol || source == "" {
			t.Errorf("%d %s: %.5f in (%s, %v), table %.4f in", c.number, c.kind, d/0.0254, source, err, c.inches)
		}
		if memory := strings.Contains(source, "memory"); memory != (c.kind != AWG && (c.number < 10 || c.number > 20)) {
			t.Errorf("%d %s: source %q", c.number, c.kind, source)
		}
	}
	if d, _, _ := WireDiameter(AWG, 16); math.Abs(d-1.291e-3) > 0.5e-6 { // trade check: AWG 16 is 1.291 mm
		t.Errorf("AWG 16: %g m", d)
	}
}

// A higher number is a thinner wire, by no more than a quarter and no less than 2 % a step.
func TestGaugesFall(t *testing.T) {
	for kind, top := range map[GaugeKind]int{AWG: 40, SWG: 40, SteelWire: 36} {
		for n := 0; n < top; n++ {
			a, _, err1 := WireDiameter(kind, n)
			b, _, err2 := WireDiameter(kind, n+1)
			if err1 != nil || err2 != nil || b/a < 0.75 || b/a > 0.98 {
				t.Errorf("%s %d to %d: %g to %g m", kind, n, n+1, a, b)
			}
		}
		for _, n := range []int{-4, top + 1, math.MaxInt, math.MinInt} {
			if _, _, err := WireDiameter(kind, n); err == nil {
				t.Errorf("%d %s taken", n, kind)
			}
		}
	}
	if _, _, err := WireDiameter("BWG", 16); err == nil {
		t.Error("BWG taken")
	}
}

func TestParseGauge(t *testing.T) {
	for text, want := range map[string]struct {
		kind   GaugeKind
		number int
	}{
		"16 SWG": {SWG, 16}, "16swg": {SWG, 16}, " swg  16 ": {SWG, 16}, "AWG 18": {AWG, 18}, "AWG18": {AWG, 18}, "#18 awg": {AWG, 18}, "18-AWG": {AWG, 18},
		"16 steel-wire": {SteelWire, 16}, "16 steel wire": {SteelWire, 16}, "16 W&M": {SteelWire, 16}, "steel-wire 16": {SteelWire, 16}, "steel-wire no. 16": {SteelWire, 16},
		"4/0 AWG": {AWG, -3}, "0000 AWG": {AWG, -3}, "0 SWG": {SWG, 0}, "No. 9 SWG": {SWG, 9}, "W&M gauge 10": {SteelWire, 10},
	} {
		kind, number, err := ParseGauge(text)
		if err != nil || kind != want.kind || number != want.number {
			t.Errorf("%q: %d %s, %v; want %d %s", text, number, kind, err, want.number, want.kind)
		}
	}
	for text, want := range map[string][]string{
		"16":       {"1.291 mm in AWG", "1.626 mm in SWG", "1.588 mm in steel-wire"},
		"16 gauge": {"does not say which", "1.291 mm in AWG"},
		"gauge 16": {"does not say which", "1.291 mm in AWG"},
		"16 BWG":   {`no wire gauge kind "BWG"`, "1.626 mm in SWG"},
		"99 SWG":   {"outside the table, 0 to 40"},
		"99":       {"write the number and the kind"},
		"2/0 SWG":  {"outside the table"},
		"":         {"is not a wire gauge"}, "1.6 mm": {`"1.6 mm"`}, "thin": {"is not a wire gauge"},
	} {
		_, _, err := ParseGauge(text)
		for _, w := range want {
			if err == nil || !strings.Contains(err.Error(), w) {
				t.Errorf("%q: %v, want %q", text, err, w)
			}
		}
	}
}

// What is read names a wire of the table, and reads the same when written plainly.
func FuzzParseGauge(f *testing.F) {
	for _, s := range []string{"16 SWG", "AWG 4/0", "#16 steel-wire", "16", "00000 AWG", "-3 AWG", "9999999999999999999 AWG", "٣ SWG", "1/0 AWG"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		kind, number, err := ParseGauge(s)
		if err != nil {
			return
		}
		d, _, err := WireDiameter(kind, number)
		if err != nil || !(d > 5e-5 && d < 0.012) {
			t.Fatalf("%q: %d %s, %g m, %v", s, number, kind, d, err)
		}
		if number < 0 {
			return
		}
		again, n, err := ParseGauge(fmt.Sprintf("%d %s", number, kind))
		if err != nil || again != kind || n != number {
			t.Fatalf("%d %s read as %d %s, %v", number, kind, n, again, err)
		}
	})
}

func ExampleParseGauge() {
	kind, number, err := ParseGauge("16 SWG")
	if err != nil {
		fmt.Println(err)
		return
	}
	d, _, _ := WireDiameter(kind, number)
	fmt.Printf("%.3f mm\n", d*1e3)
	_, _, err = ParseGauge("16")
	fmt.Println(err)
	// Output:
	// 1.626 mm
	// "16" does not say which gauge
	//   hint: 16 is 1.291 mm in AWG, 1.626 mm in SWG, 1.588 mm in steel-wire; write for example "16 SWG", or measure the wire and give the diameter
}
