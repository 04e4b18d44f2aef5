package papers

import (
	"bytes"
	"cmp"
	"math"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"polewright/report"
	"polewright/result"
)

// readings are a log over the plane y = 0 that fits to 0.2 mT but for one reading, 3 mT above the fit at x 10, z -4 mm, and one that was left out.
func readings() *result.Verification {
	v := &result.Verification{Title: "invented pair", Verdict: result.VerdictOpen, Reason: "the readings do not decide", Confidence: 0.95, Sound: 0.2, Noise: "1 %", Probe: "point"}
	line := 2
	for _, x := range []float64{-10, -5, 0, 5, 10} {
		for _, z := range []float64{-4, 0, 4} {
			fit := 0.5 - 1e-4*x*x
			r := result.VerifiedReading{Line: line, At: [3]float64{x * 1e-3, 0, z * 1e-3}, Component: "Bz", Predicted: fit, Fitted: fit, Read: fit - 2e-4, Uncertainty: 1e-3}
			switch {
			case x == 10 && z == -4:
				r.Read = fit + 3e-3
			case x == -5 && z == 4:
				r.Read, r.Wrong = fit-0.2, true
			}
			r.Corrected = r.Read
			v.Readings = append(v.Readings, r)
			line++
		}
	}
	return v
}

// residuals is the map of what is left, on the certificate.
func residuals(t *testing.T, d *Document) (report.ResidualMap, string) {
	t.Helper()
	for _, s := range d.Sections {
		for _, b := range s.Blocks {
			if f, ok := b.(Figure); ok {
				if m, ok := f.Picture.(report.ResidualMap); ok {
					return m, f.Caption
				}
			}
		}
	}
	t.Fatal("the certificate has no map of what is left")
	return report.ResidualMap{}, ""
}

// The map on the certificate has every reading at its place with what it differs by, and says how to read it.
func TestCertificateMapHasEveryReading(t *testing.T) {
	s, err := pot()
	if err != nil {
		t.Fatal(err)
	}
	v := readings()
	m, caption := residuals(t, Certificate(CertificateSource{Design: s.Design, Verification: v, Version: "v0", Date: "2026-11-25"}))
	if m.UName != "x" || m.VName != "z" || len(m.Places) != len(v.Readings) {
		t.Fatalf("%d marks over %s and %s", len(m.Places), m.UName, m.VName)
	}
	for i, r := range v.Readings {
		p := m.Places[i]
		if p.U != r.At[0] || p.V != r.At[2] || p.Wrong != r.Wrong || math.Abs(p.Difference-(r.Corrected-r.Fitted)) > 1e-15 {
			t.Errorf("line %d is %+v", r.Line, p)
		}
	}
	for _, want := range []string{"full marks read above", "rings below", "cross", "left out"} {
		if !strings.Contains(caption, want) {
			t.Errorf("no %q in %q", want, caption)
		}
	}
}

// Drawn, the worst reading is the largest mark, at its own place between its neighbours; the axes are in mm, the scale of the marks in mT.
func TestCertificateMarksTheWorstReading(t *testing.T) {
	s, err := pot()
	if err != nil {
		t.Fatal(err)
	}
	m, _ := residuals(t, Certificate(CertificateSource{Design: s.Design, Verification: readings(), Version: "v0", Date: "2026-11-25"}))
	var b bytes.Buffer
	if err := report.WriteSVG(&b, m, 160); err != nil {
		t.Fatal(err)
	}
	svg := b.String()
	for _, want := range []string{"x, mm", "z, mm", "3.0 mT above", "3.0 mT below", "left out"} {
		if !strings.Contains(svg, want) {
			t.Errorf("no %q in the picture", want)
		}
	}
	// A mark is a circle: it begins at its right, at the height of its middle, and runs along an arc of its radius.
	type mark struct{ x, y, radius float64 }
	var marks []mark
	for _, c := range regexp.MustCompile(`M([-0-9.]+),([-0-9.]+)A([-0-9.]+),`).FindAllStringSubmatch(svg, -1) {
		var n [3]float64
		for i := range n {
			n[i], _ = strconv.ParseFloat(c[i+1], 64)
		}
		marks = append(marks, mark{n[0] - n[2], n[1], n[2]})
	}
	if want := len(m.Places) - 1 + 2; len(marks) != want { // all but the one left out, and two in the key
		t.Fatalf("%d marks, want %d", len(marks), want)
	}
	places := marks[:len(marks)-2]
	worst := slices.MaxFunc(places, func(a, b mark) int { return cmp.Compare(a.radius, b.radius) })
	key := marks[len(marks)-1]
	if math.Abs(worst.radius-key.radius) > 1e-6*key.radius {
		t.Errorf("the worst reading has a mark of %g, its key one of %g", worst.radius, key.radius)
	}
	least, most := places[0], places[0]
	for _, p := range places {
		least, most = mark{math.Min(least.x, p.x), math.Min(least.y, p.y), 0}, mark{math.Max(most.x, p.x), math.Max(most.y, p.y), 0}
		if area := p.radius * p.radius / (worst.radius * worst.radius); p != worst && math.Abs(area-0.2/3) > 0.01 {
			t.Errorf("a reading off by 0.2 mT has %.3f of the area of one off by 3 mT", area)
		}
	}
	// x 10 mm is the right end, z -4 mm the lower one: the picture counts upwards.
	if !strings.Contains(svg, "scale(1, -1)") || math.Abs(worst.x-most.x) > 0.1 || math.Abs(worst.y-least.y) > 0.1 {
		t.Errorf("the worst reading is marked at %+v of %+v to %+v", worst, least, most)
	}
}
