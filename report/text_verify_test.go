package report

import (
	"bytes"
	"math"
	"strings"
	"testing"

	"polewright/result"
)

// verifiedPair is a verification with something of everything.
func verifiedPair() *result.Verification {
	reading := func(line int, x float64, read, fitted float64, wrong bool) result.VerifiedReading {
		return result.VerifiedReading{Line: line, At: [3]float64{x, 0, x / 2}, Component: "Bz", Read: read, Corrected: read, Predicted: fitted + 0.017, Fitted: fitted, Uncertainty: 0.002, Wrong: wrong}
	}
	return &result.Verification{
		Title: "Larkfield bench, bare pair (invented example)", Verdict: result.VerdictOpen, Reason: "the readings do not decide on the uniformity", Sound: 2e-5, Confidence: 0.95,
		Checks: []result.VerifiedCheck{
			{What: "field", Unit: "T", Wanted: 0.5, Got: 0.513, Uncertainty: 0.0052, Probability: 0.99999, Verdict: result.VerdictMet},
			{What: "uniformity", Unit: "ppm", Wanted: 29000, AtMost: true, Got: 28500, Uncertainty: 1820, Probability: 0.71, Verdict: result.VerdictOpen},
		},
		Findings: []result.Finding{{Part: "upper", Text: "upper is 6.84 ± 0.47 % weak", Unit: "1", Value: -0.0684, Uncertainty: 0.0047, WithOthers: 0.022, Confidence: 0.998}},
		Suspects: []result.Finding{{Text: "the gap is 0.31 ± 0.12 mm too long", Unit: "m", Confidence: 0.4}},
		Next:     &result.NextReading{At: [3]float64{0, -0.0293, 0}, Component: "By", Between: [2]string{"as designed", "length of the gap"}, Expected: [2]float64{0.0012, -0.0134}, Readings: 3},
		Alike:    [][2]string{{"upper: direction about x", "lower: direction about x"}}, Unseen: []string{"tilt of the positive side about x"},
		Readings:    []result.VerifiedReading{reading(4, 0, 0.5106, 0.5096, false), reading(5, 0.01, 0.5123, 0.5141, false), reading(6, -0.01, 0.3, 0.505, true)},
		ResidualRMS: 0.0015, DesignRMS: 0.0172, Wrong: []int{6}, Probe: "disc 1 mm", ReferenceC: 20, Noise: "by the scatter of the readings, 0.42 % of each",
		Instrument: []result.FittedValue{{What: "calibration", Value: 0.013, Usual: 0.005, Unit: "1"}, {What: "zero", Value: 1e-5, Usual: 1e-4, Unit: "T"}},
		Warnings:   []string{"3 of 3 readings have no temperature of the magnets (column T_degC)"},
	}
}

func TestVerifiedText(t *testing.T) {
	var b bytes.Buffer
	if err := Verified(&b, verifiedPair()); err != nil {
		t.Fatal(err)
	}
	golden(t, "verified.golden", b.String())
	b.Reset()
	if err := Verified(&b, &result.Verification{Verdict: result.VerdictMet, Reason: "nothing in the readings speaks against the design", Sound: 0.9995}); err != nil {
		t.Fatal(err)
	}
	if !strings.Contains(b.String(), "probability over 99.9 %") || strings.Contains(b.String(), "NaN") {
		t.Errorf("a sound build reads\n%s", b.String())
	}
}

// Readings over a plane are drawn as a map of it, those on a line as a chart; what is no number is refused.
func TestResidualPicture(t *testing.T) {
	v := verifiedPair()
	m, ok := ResidualPicture(v).(ResidualMap)
	if !ok || m.UName != "x" || m.VName != "z" || len(m.Places) != 3 || !m.Places[2].Wrong || math.Abs(m.Places[0].Difference-0.001) > 1e-12 {
		t.Fatalf("%+v", m)
	}
	for _, p := range []Picture{m, InDark(m), ResidualChart(v)} {
		var png, svg bytes.Buffer
		if err := WritePNG(&png, p, 160); err != nil || png.Len() < 1000 {
			t.Errorf("PNG of %d bytes, %v", png.Len(), err)
		}
		if err := WriteSVG(&svg, p, 160); err != nil || !strings.Contains(svg.String(), "readings less") {
			t.Errorf("SVG of %d bytes, %v", svg.Len(), err)
		}
	}
	for i := range v.Readings {
		v.Readings[i].At[2] = 0
	}
	if _, ok := ResidualPicture(v).(Lines); !ok {
		t.Error("a line of readings is no chart")
	}
	m.Places[0].Difference = math.NaN()
	if err := WritePNG(&bytes.Buffer{}, m, 160); err == nil {
		t.Error("a difference that is no number is drawn")
	}
	if err := WritePNG(&bytes.Buffer{}, ResidualMap{}, 160); err == nil {
		t.Error("a map without readings is drawn")
	}
}
