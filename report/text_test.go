package report

import (
	"errors"
	"flag"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"unicode/utf8"

	"pgregory.net/rapid"

	"polewright/result"
	"polewright/winding"
)

var update = flag.Bool("update-text", false, "write the golden files of text anew")

// golden compares with a file that a person has read.
func golden(t *testing.T, name, got string) {
	t.Helper()
	for i, line := range strings.Split(got, "\n") {
		if n := utf8.RuneCountInString(line); n > textWidth {
			t.Errorf("%s: line %d has %d columns: %s", name, i+1, n, line)
		}
	}
	path := filepath.Join("testdata", "text", name)
	if *update {
		if err := os.WriteFile(path, []byte(got), 0o666); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	if got != string(want) {
		t.Errorf("%s differs; got:\n%s", name, got)
	}
}

// answer is made by hand: round numbers that are easy to follow into the text, no physics.
func answer() *result.Result {
	r := &result.Result{
		Format: 1, Title: "A made-up magnet\x1b[31m with a\ttitle", TempC: 22.5,
		GapB: [3]float64{0, 0, 0.81234}, GapAtM: [3]float64{0, 0.001, -0.0025},
		Probes: []result.Probe{
			{Name: "centre", B: [3]float64{-1e-9, 0, 0.81234}},
			{Name: "a name that is far too long for a table of points", At: [3]float64{0.0127, 0, 1.5}, B: [3]float64{0.3, -0.4, 0}},
		},
		Sections: []result.Section{{Name: "leg", MeanB: -1.71, Area: 0.00072, Flux: -0.0012312}},
		Region:   &result.Region{MeanB: 0.81, MinB: 0.80, MaxB: 0.82, PeakToPeak: 24691.4, RMS: 90.4, Points: 10},
		Halves:   []result.Half{{Plane: "z=0", Force: [3]float64{0, 0, -980.665}}, {Plane: "x=-0.003", Force: [3]float64{49.03325, 0, 0}}, {Plane: "y=0.0127", Force: [3]float64{3, 0, -4}}, {Plane: "y=0"}},
		Ledger: &result.Ledger{Rows: []result.LedgerRow{
			{What: "remanence", Why: "of the magnets at 20 degC", After: 1.3},
			{What: "leakage and fringing", Why: "a reason that is long enough to run over the end of a line of one hundred columns", Delta: -0.5, After: 0.8},
			{What: "joints", Why: "films", Delta: 0.01234, After: 0.81234},
		}},
		Target: []result.Check{
			{What: "field", Wanted: 0.8, Got: 0.81, Unit: "T", Met: true},
			{What: "uniformity", Wanted: 500, Got: 24691.4, Unit: "ppm"},
			{What: "reach of 0.5 mT", Wanted: 0.3, Got: 0.18, Unit: "m", Met: true},
			{What: "margin to the knee, -40 to 60 degC", Wanted: 0, Got: -12.3, Unit: "%"},
		},
		Solver: result.Solver{Method: "3d", Unknowns: 1234567, NewtonSteps: 7, Cycles: 61, Seconds: 1.94, EstimatedError: 0.0312, Symmetry: []string{"x", "y"}, Accuracy: "standard"},
		Demagnetization: &result.Demagnetization{WorstC: 60, LostVolume: 0.1234, LostGapT: 0.02, LostGap: 2.4691, Magnets: 1,
			Temperatures: []result.AtTemperature{{DegC: -40, GapB: 0.85}, {DegC: 22.5, GapB: 0.81234}, {DegC: 60, PastKnee: 0.1234, GapB: 0.75}}},
		Warnings: []string{"one warning"},
		Cautions: []string{"Crushed hands (danger). " + strings.Repeat("Keep away from it. ", 12)},
		MassKg:   2.5, MomentAm2: [3]float64{0, 3, 4}, CenterM: [3]float64{0.01, 0, 0},
		Windings: []result.Winding{{Name: "coil", Turns: 1500, LengthM: 398.25, MassKg: 6.4911, BuildM: 0.012345, Packing: 0.72, SteelArea: 0.000518, Sentence: "It carries all."}},
		Parts: []result.Part{
			{Name: "upper", Kind: "magnet", MassKg: 0.36, Material: "N42", Force: [3]float64{0, 0, 980.665}, Torque: [3]float64{3, 4, 0},
				WorkingPoint: &result.WorkingPoint{B: 0.9, H: -310e3, Permeance: 2.31, KneeH: -800e3, MaxKneeH: -620e3, KneeMargin: 0.5, LowestH: -310e3, WorstKneeH: -620e3, WorstC: 60, RemanenceKept: 0.975, WeakestAtM: &[3]float64{-0.03, 0.02, 0.009}}},
			{Name: "lower", Kind: "magnet", MassKg: 0.36, Material: "", WorkingPoint: &result.WorkingPoint{B: -0.05, H: -1e6, Permeance: -0.04}},
			{Name: "plate", Kind: "steel", MassKg: 0.5, Material: "steel-1018", MeanB: 1.2345, MaxB: 2.1, Saturation: 0.5823, MaxSaturation: 1.001, Force: [3]float64{-12.34, 0, -0.001}},
			{Name: "yoke", Kind: "wound", MassKg: 1.082, Material: "annealed-wire", MeanB: 1.1},
			{Name: "post", Kind: "spacer", MassKg: 0.198},
		},
	}
	for _, limit := range []float64{0.5e-3, 3e-3, 0.4} {
		s := result.Stray{Limit: limit}
		s.Reach.X, s.Reach.Z = 0.2, 1.2345
		s.Largest, s.Direction = 1.3456, [3]float64{0.6, 0, 0.8}
		r.Stray = append(r.Stray, s)
		r.Harmonics = harmonics()
	}
	return r
}

func TestText(t *testing.T) {
	var b strings.Builder
	if err := Text(&b, answer()); err != nil {
		t.Fatal(err)
	}
	golden(t, "answer.golden", b.String())

	b.Reset()
	if err := Text(&b, &result.Result{Solver: result.Solver{Method: "free-field", Seconds: 0.01}}); err != nil {
		t.Fatal(err)
	}
	golden(t, "empty.golden", b.String())
}

func harmonics() *result.Harmonics {
	return &result.Harmonics{Radius: 0.004, Degree: 12, Polar: [3]float64{0, 0, 1}, Azimuth: [3]float64{1}, Residual: 2.5, ResidualT: 2e-6, ResidualMax: 5e-6,
		Terms: []result.Term{{Kind: "cos", B: 0.8, PPM: 1e6}, {N: 2, Kind: "cos", B: -8e-4, PPM: -1000}, {N: 2, M: 2, Kind: "sin", B: 8e-6, PPM: 10},
			{N: 1, M: 1, Kind: "cos", B: 4e-3, PPM: 5000}, {N: 12, M: 12, Kind: "sin", B: 8e-10, PPM: 0.001}}}
}

func TestGap(t *testing.T) {
	var b strings.Builder
	q := &result.GapQuality{Title: "A pair", B: [3]float64{0, 0, 0.8}, Volume: "sphere of 8 mm diameter", Harmonics: harmonics(), Accuracy: "standard", Error: 0.0812,
		Region:      result.Region{MeanB: 0.8001234, MinB: 0.799, MaxB: 0.801, PeakToPeak: 2499.6, RMS: 812.34, Noise: 3.21},
		Derivatives: &result.Derivatives{GradB: [3]float64{1e-12, 0.25, -12.3456}, Curvature: [3][3]float64{{-100}, {0, -200}, {0, 0, 300}}},
		Steepest:    2.345, Hall: result.HallReading{Edge: 1e-3, Error: -8e-6, Moved: 1.6e-4}, Lift: [3]float64{0, 0, 0.0031}, LiftAt: [3]float64{0, 0, 0.004},
		Resonance: []result.Resonance{{Of: "proton", Frequency: 34.0619e6, Full: 85145, Half: 20000}},
		Circles:   []result.Circle{{Of: "electron", EnergyEV: 2.5e6, Radius: 0.0123}, {Of: "proton", EnergyEV: 2.5e6, Radius: 0.2857}}}
	if err := Gap(&b, q); err != nil {
		t.Fatal(err)
	}
	golden(t, "gap.golden", b.String())
	b.Reset()
	if err := Gap(&b, &result.GapQuality{}); err != nil || !strings.HasPrefix(b.String(), "(no title)") {
		t.Errorf("%q, %v", b.String(), err)
	}
	for ev, want := range map[float64]string{5: "5.000 eV", 1500: "1.500 keV", 2e6: "2.000 MeV", 3e9: "3.000 GeV"} {
		if got := energy(ev); got != want {
			t.Errorf("%g eV is %q, not %q", ev, got, want)
		}
	}
}

func TestWindingSheet(t *testing.T) {
	p := winding.Plan{CoreX: 0.060, CoreY: 0.056, Width: 0.010, WireDiameter: 0.001, Packing: 0.7, Turns: 25}
	s, err := winding.Wind(p)
	if err != nil {
		t.Fatal(err)
	}
	var b strings.Builder
	if err := WindingSheet(&b, "coil", "1 mm", p, s); err != nil {
		t.Fatal(err)
	}
	golden(t, "winding.golden", b.String())
}

func TestCompare(t *testing.T) {
	a, b := answer(), answer()
	b.GapB, b.Halves = [3]float64{0.5, 0, 0}, b.Halves[1:]
	want := "framed | wound: 0.812 | 0.500 T, steel 1.58 | 1.58 kg, 0.5 mT to 1346 | 1346 mm, halves 981 | 49.0 N"
	if got := Compare("framed", a, "wound", b); got != want {
		t.Errorf("%q", got)
	}
	b.Halves = nil
	if got := Compare("framed", a, "wound", b); strings.Contains(got, "halves") {
		t.Errorf("%q", got)
	}
}

type full struct{}

func (full) Write([]byte) (int, error) { return 0, errors.New("disk full") }

func TestTextWriteError(t *testing.T) {
	if err := Text(full{}, answer()); err == nil || err.Error() != "disk full" {
		t.Error(err)
	}
}

// Whatever the numbers and names, no line is wider than the page, no number is without sense, and long tables end.
func TestTextOfAnything(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r := answer()
		number := rapid.OneOf(rapid.Float64Range(-1e6, 1e6), rapid.SampledFrom([]float64{0, math.NaN(), math.Inf(1), math.Inf(-1), 1e-12}))
		vector := func(name string) (v [3]float64) {
			for i := range v {
				v[i] = number.Draw(t, name)
			}
			return v
		}
		r.Title = rapid.String().Draw(t, "title")
		r.GapB, r.MomentAm2 = vector("gap"), vector("moment")
		for range rapid.IntRange(0, 3).Draw(t, "kinds of part") {
			r.Parts = append(r.Parts, slices.Repeat([]result.Part{{Name: rapid.StringN(1, 80, -1).Draw(t, "name"), Kind: "magnet", Material: "N42", Force: vector("force"), MassKg: 0.1,
				WorkingPoint: &result.WorkingPoint{B: number.Draw(t, "B"), H: number.Draw(t, "H"), Permeance: number.Draw(t, "permeance"), KneeMargin: number.Draw(t, "margin"), LowestH: number.Draw(t, "lowest"), WorstKneeH: number.Draw(t, "knee"), WorstC: number.Draw(t, "worst"), RemanenceKept: number.Draw(t, "kept")}}}, rapid.SampledFrom([]int{1, 100}).Draw(t, "parts"))...)
		}
		r.Target = append(r.Target, result.Check{What: "field", Wanted: number.Draw(t, "wanted"), Got: number.Draw(t, "got"), Unit: "T"})
		var b strings.Builder
		if err := Text(&b, r); err != nil {
			t.Fatal(err)
		}
		text := b.String()
		if strings.Contains(text, "NaN") || strings.Contains(text, "Inf") || strings.Contains(text, "\x1b") || !utf8.ValidString(text) {
			t.Errorf("not fit to print: %q", text)
		}
		if n := strings.Count(text, "\n"); n > 300 {
			t.Errorf("%d lines", n)
		}
	})
}

func TestNumbers(t *testing.T) {
	for _, c := range []struct{ got, want string }{
		{tesla(0.75841234), "0.7584"},
		{tesla(-1e-9), "0.0000"},
		{millitesla(-0.41723), "-417.2"},
		{force(980.665), "981 N (100 kgf)"},
		{force(-9.80665), "-9.8 N (-1.00 kgf)"},
		{force(1e-20), "0.0 N (0.00 kgf)"},
		{millimetres(0.0127), "12.7"},
		{millimetres(-0.1), "-100"},
		{kilograms(2.92041), "2.920"},
		{kiloAmperes(-231390), "-231.4"},
		{fieldLimit(0.5e-3), "0.5 mT"},
		{fieldLimit(50e-6), "0.05 mT"},
		{fieldLimit(0.4), "0.400 T"},
		{counted(1234567), "1 234 567"},
		{counted(-123), "-123"},
		{counted(999), "999"},
		{ppm(28507.4), "28510"},
		{ppm(6.2837), "6.284"},
		{figures(0.0784144, 2), "0.078"},
		{figures(999.9, 3), "1000"},
		{figures(-2.3e-15, 2), "0"},
		{figures(6e-10, 2), "0.000000001"},
		{estimate(1e-5), "below 0.001 %"},
		{seconds(125), "2 min 05 s"},
		{seconds(1.94), "1.9 s"},
		{celsius(22), "22 °C"},
		{plane("x=-0.003"), "x = -3 mm"},
		{plane("z=0"), "z = 0 mm"},
		{plane("z"), "z"},
		{direction([3]float64{0, 0, -2}), "-z"},
		{direction([3]float64{3, 4, 0}), "(0.600, 0.800, 0.000)"},
		{direction([3]float64{}), "none"},
		{Unmet(result.Check{What: "field", Wanted: 0.8, Got: 0.7, Unit: "T"}), "field: at least 0.8000 T wanted, got 0.7000 T"},
		{Unmet(result.Check{What: "reach of 0.5 mT", Wanted: 0.3, Got: 0.4, Unit: "m"}), "reach of 0.5 mT: at most 300 mm wanted, got 400 mm"},
	} {
		if c.got != c.want {
			t.Errorf("%q, want %q", c.got, c.want)
		}
	}
}

// Wrapping keeps the words and the width.
func TestWrap(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		words := rapid.SliceOf(rapid.StringMatching(`[a-zé°]{1,12}`)).Draw(t, "words")
		width := rapid.IntRange(12, 100).Draw(t, "width")
		lines := wrap(strings.Join(words, " "), width)
		if got := strings.Fields(strings.Join(lines, " ")); strings.Join(got, " ") != strings.Join(words, " ") {
			t.Fatalf("%q", lines)
		}
		for i, l := range lines {
			if utf8.RuneCountInString(l) > width {
				t.Fatalf("%q is wider than %d", l, width)
			}
			if i > 0 && utf8.RuneCountInString(lines[i-1])+1+utf8.RuneCountInString(strings.Fields(l)[0]) <= width {
				t.Fatalf("%q breaks too early", lines)
			}
		}
	})
}
