package quantity

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"polewright/mistake"
)

// Conversion factors of NIST Special Publication 811 (2008), appendix B.8, printed there to seven digits (from memory); the metric prefixes are those
// of the SI brochure. Tolerance 3e-7: half of the last digit that the table prints.
func TestFactorsAgainstNIST811(t *testing.T) {
	for _, c := range []struct {
		s    string
		d    Dimension
		want float64
	}{
		{"1 m", Length, 1}, {"1 mm", Length, 1e-3}, {"1 cm", Length, 1e-2}, {"1 um", Length, 1e-6},
		{"1 in", Length, 2.54e-2}, {"1 ft", Length, 3.048e-1},
		{"1 T", FluxDensity, 1}, {"1 mT", FluxDensity, 1e-3}, {"1 uT", FluxDensity, 1e-6},
		{"1 G", FluxDensity, 1e-4}, {"1 kG", FluxDensity, 0.1},
		{"1 A/m", FieldStrength, 1}, {"1 kA/m", FieldStrength, 1e3},
		{"1 Oe", FieldStrength, 7.957747e1}, {"1 kOe", FieldStrength, 7.957747e4},
		{"1 rad", Angle, 1}, {"1 deg", Angle, 1.745329e-2},
		{"1 kg", Mass, 1}, {"1 g", Mass, 1e-3}, {"1 lb", Mass, 4.535924e-1},
		{"1 N", Force, 1}, {"1 kN", Force, 1e3}, {"1 kgf", Force, 9.80665}, {"1 lbf", Force, 4.448222},
		{"1 g/cm3", Density, 1e3}, {"1 kg/m3", Density, 1},
		{"1 degC", Temperature, 1},
		{"1 %", Ratio, 1e-2}, {"1 ppm", Ratio, 1e-6}, {"1", Ratio, 1},
		{"1 %/K", Coefficient, 1e-2}, {"1 ppm/K", Coefficient, 1e-6}, {"1 1/K", Coefficient, 1},
		{"1 A", Current, 1}, {"1 kA", Current, 1e3}, {"1 mA", Current, 1e-3},
		{"1 Nm", Torque, 1}, {"1 mNm", Torque, 1e-3},
		{"1 K", Difference, 1},
		// By IEC 60050-121 and mu0 = 1.256637e-6 N/A2, not in that table.
		{"1 Am2", Moment, 1}, {"1 mAm2", Moment, 1e-3}, {"1 Wbm", Moment, 7.957747e5}, {"1 mWbm", Moment, 7.957747e2}, {"1 uWbm", Moment, 0.7957747},
	} {
		got, err := Parse(c.s, c.d)
		if err != nil {
			t.Errorf("%s: %v", c.s, err)
		} else if math.Abs(got-c.want) > 3e-7*c.want {
			t.Errorf("%s = %.9g, want %.9g", c.s, got, c.want)
		}
	}
	n := 0
	for d := range dimensions {
		n += len(table[d].units)
	}
	if n != 44 {
		t.Errorf("%d units in the table, 44 in this test: add the new ones", n)
	}
}

func TestParseSpellings(t *testing.T) {
	for _, c := range []struct {
		s    string
		d    Dimension
		want float64
	}{
		{"18 mm", Length, 0.018}, {"18mm", Length, 0.018}, {"  18   mm\t", Length, 0.018}, {"+18 mm", Length, 0.018},
		{"-1.5e2 mm", Length, -0.15}, {"1.5E-2 m", Length, 0.015}, {".5 mm", Length, 0.0005}, {"5. mm", Length, 0.005},
		{"−3 mm", Length, -0.003}, {"0.75in", Length, 0.01905}, {"2 inches", Length, 0.0508}, {"5 µm", Length, 5e-6}, {"5 μm", Length, 5e-6},
		{"22 °C", Temperature, 22}, {"-40 degC", Temperature, -40}, {"45°", Angle, math.Pi / 4},
		{"7.5 g/cm³", Density, 7500}, {"13 kG", FluxDensity, 1.3}, {"0.12 %", Ratio, 0.0012}, {"0.0012", Ratio, 0.0012},
		{"-0.12 %/K", Coefficient, -0.0012}, {"1 N m", Torque, 1}, {"0 mm", Length, 0},
	} {
		got, err := Parse(c.s, c.d)
		if err != nil {
			t.Errorf("%q: %v", c.s, err)
		} else if math.Abs(got-c.want) > 1e-15*math.Max(1, math.Abs(c.want)) { // rounding of one product
			t.Errorf("%q = %v, want %v", c.s, got, c.want)
		}
	}
}

func TestParseErrors(t *testing.T) {
	for _, c := range []struct {
		s          string
		d          Dimension
		what, hint string
	}{
		{"18", Length, `"18": no unit`, `put the unit inside the quotes, e.g. "18 mm" (mm, m, cm, um, in or ft)`},
		{"1.3", FluxDensity, `"1.3": no unit`, `put the unit inside the quotes, e.g. "1.3 T" (T, mT, uT, G or kG)`},
		{"", Length, `"": nothing is given`, `write a number and a unit: 18 mm`},
		{"mm", Length, `"mm": no number at the start`, `write a number and a unit: 18 mm (mm, m, cm, um, in or ft)`},
		{"18,5 mm", Length, `"18,5 mm": a comma in the number`, `write a decimal point and no commas between thousands: 18 mm`},
		{"1 000 mm", Length, `"1 000 mm": a space inside the number`, `write the digits without spaces, e.g. "18 mm"`},
		{"3/4 in", Length, `"3/4 in": a fraction`, `write decimals, such as 0.75 in for 3/4 in`},
		{"18 MM", Length, `"18 MM": unknown unit "MM"`, `did you mean "18 mm"? capital and small letters differ (mm, m, cm, um, in or ft)`},
		{"18 mn", Length, `"18 mn": unknown unit "mn"`, `length takes mm, m, cm, um, in or ft`},
		{"18 mT", Length, `"18 mT": "mT" is a unit of flux density`, `length is due here, e.g. "18 mm" (mm, m, cm, um, in or ft)`},
		{"13 kG", FieldStrength, `"13 kG": "kG" is a unit of flux density`, `field strength is due here, e.g. "955 kA/m" (kA/m, A/m, Oe or kOe)`},
		{"NaN mm", Length, `"NaN mm": no number at the start`, `write a number and a unit: 18 mm (mm, m, cm, um, in or ft)`},
		{"inf T", FluxDensity, `"inf T": no number at the start`, `write a number and a unit: 1.3 T (T, mT, uT, G or kG)`},
		{"1e999 mm", Length, `"1e999 mm": not a finite number`, `write a number that fits the bench: 18 mm`},
		{"1e12 mm", Length, `"1e12 mm": out of all proportion`, `length lies between -100000000 mm and 100000000 mm`},
		{"-300 degC", Temperature, `"-300 degC": out of all proportion`, `temperature lies between -273.15 degC and 2000 degC`},
		{"22 K", Temperature, `"22 K": "K" is a unit of temperature difference`, `temperature is due here, e.g. "22 degC" (degC)`},
		{"1.2.3 mm", Length, `"1.2.3 mm": unknown unit ".3 mm"`, `length takes mm, m, cm, um, in or ft`},
		{"0x10 mm", Length, `"0x10 mm": unknown unit "x10 mm"`, `length takes mm, m, cm, um, in or ft`},
	} {
		_, err := Parse(c.s, c.d)
		if what, hint := mistake.Said(err); what != c.what || hint != c.hint {
			t.Errorf("%q:\n got %s\nwant %s\n  hint: %s", c.s, err, c.what, c.hint)
		}
	}
}

func TestNoNameStandsForTwoUnits(t *testing.T) {
	seen := map[string]string{}
	for d := range dimensions {
		for _, u := range table[d].units {
			for _, n := range append([]string{u.name}, u.aliases...) {
				if was, twice := seen[n]; twice {
					t.Errorf("%q is a unit of %s and of %s", n, was, d)
				}
				seen[n] = d.String()
			}
		}
	}
}

// The example that an error shows must itself be read.
func TestExamplesAreRead(t *testing.T) {
	for d := range dimensions {
		if _, err := Parse(table[d].example, d); err != nil {
			t.Errorf("%s: %v", d, err)
		}
	}
}

func TestFormat(t *testing.T) {
	for _, c := range []struct {
		v      float64
		unit   string
		digits int
		want   string
	}{
		{0.018, "mm", 4, "18 mm"}, {0.0180049, "mm", 4, "18 mm"}, {0.018005, "mm", 5, "18.005 mm"},
		{0.3, "mm", 0, "300 mm"}, {0.1 + 0.2, "m", 3, "0.3 m"}, {-0.00123456, "mm", 3, "-1.23 mm"},
		{1.3, "kG", 3, "13 kG"}, {math.Copysign(0, -1), "mm", 3, "0 mm"}, {123456, "m", 2, "120000 m"},
		{500e-6, "ppm", 3, "500 ppm"}, {22, "degC", 3, "22 degC"}, {22, "°C", 3, "22 °C"},
		{1e-12, "m", 3, "1e-12 m"}, {math.NaN(), "mm", 3, "NaN mm"}, {math.Inf(-1), "mm", 3, "-Inf mm"}, {0.25, "", 3, "0.25"},
		{2, "furlong", 3, `2 (SI; unknown unit "furlong")`}, {1.0 / 3, "m", 99, "0.3333333333333333 m"},
	} {
		if got := Format(c.v, c.unit, c.digits); got != c.want {
			t.Errorf("Format(%v, %q, %d) = %q, want %q", c.v, c.unit, c.digits, got, c.want)
		}
	}
}

// Round trip: what Format prints with no rounding, Parse reads back to four
// units in the last place (one product and one quotient by the factor, twice).
func TestRoundTrip(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := Dimension(rapid.IntRange(0, int(dimensions)-1).Draw(t, "dimension"))
		k := &table[d]
		u := rapid.SampledFrom(k.units).Draw(t, "unit")
		v := rapid.Float64Range(k.least, k.most).Draw(t, "value") * (1 - 1e-12) // no rounding past the limit
		s := Format(v, u.name, 0)
		got, err := Parse(s, d)
		if err != nil {
			t.Fatalf("%v -> %q: %v", v, s, err)
		}
		if math.Abs(got-v) > 4*0x1p-52*math.Abs(v)+math.SmallestNonzeroFloat64*u.div/u.mul {
			t.Fatalf("%v -> %q -> %v", v, s, got)
		}
	})
}

// What a person writes with up to 12 digits comes back as written.
func TestWrittenDecimalsComeBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := Dimension(rapid.IntRange(0, int(dimensions)-1).Draw(t, "dimension"))
		u := rapid.SampledFrom(table[d].units).Draw(t, "unit")
		n := rapid.IntRange(1, 999_999_999_999).Draw(t, "digits")
		places := rapid.IntRange(11, 14).Draw(t, "places")
		whole, part := n/int(math.Pow10(places)), n%int(math.Pow10(places))
		s := strings.TrimRight(fmt.Sprintf("%d.%0*d", whole, places, part), "0")
		s = strings.TrimSuffix(s, ".")
		if len(s) > 2 && strings.HasPrefix(s, "0.000000") {
			t.Skip("printed with an exponent")
		}
		v, err := Parse(s+" "+u.name, d)
		if err != nil {
			t.Skip("out of range")
		}
		if got := strings.TrimSpace(Format(v, u.name, 0)); got != strings.TrimSpace(s+" "+u.name) {
			t.Fatalf("%s %s -> %v -> %s", s, u.name, v, got)
		}
	})
}

func FuzzParse(f *testing.F) {
	for d := range dimensions {
		f.Add(table[d].example, int(d))
		f.Add("18,5 "+table[d].units[0].name, int(d))
	}
	f.Add("1e", 0)
	f.Add("\xff\xfe mm", 0)
	f.Add("5 \xff", 0)
	f.Fuzz(func(t *testing.T, s string, n int) {
		d := Dimension(n)
		v, err := Parse(s, d)
		if err != nil {
			if what, hint := mistake.Said(err); what == "" || hint == "" {
				t.Fatalf("%q: error without problem or hint: %v", s, err)
			}
			return
		}
		if math.IsNaN(v) || v < table[d].least || v > table[d].most {
			t.Fatalf("%q read as %v", s, v)
		}
		if w, err := Parse(Format(v, table[d].units[0].name, 0), d); err != nil || math.Abs(w-v) > 4*0x1p-52*math.Abs(v)+1e-306 {
			// Only at the very limits may a rounding step outside.
			if math.Abs(v) < 0.999*math.Max(math.Abs(table[d].least), table[d].most) {
				t.Fatalf("%q: %v came back as %v, %v", s, v, w, err)
			}
		}
	})
}

func ExampleParse() {
	gap, _ := Parse("0.75 in", Length)
	fmt.Println(gap)
	_, err := Parse("18", Length)
	fmt.Println(err)
	// Output:
	// 0.01905
	// "18": no unit
	//   hint: put the unit inside the quotes, e.g. "18 mm" (mm, m, cm, um, in or ft)
}

func ExampleFormat() {
	fmt.Println(Format(0.6, "kG", 3))
	// Output: 6 kG
}

func BenchmarkParse(b *testing.B) {
	b.ReportAllocs()
	for b.Loop() {
		Parse("60.25 mm", Length)
	}
}
