//go:build long

package polewright

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"polewright/asbuilt"
	"polewright/measurement"
)

// Faults of yoked magnets, each solved as a design of its own on its own grid, are found through slopes that know nothing of it.
func TestYokedFaultsAreFound(t *testing.T) {
	d := template(t, "framed-pair")
	s := sensitivityOf(t, d)
	blameNone(t, s, 100)
	findFaults(t, d, s, []faultCase{
		{[]Deviation{{Kind: DeviatesRemanence, Part: "upper", Amount: -0.08}}, "upper: remanence", nil},
		{[]Deviation{{Kind: DeviatesReversed, Part: "lower", Amount: 1}}, "lower: reversed", nil},
		{[]Deviation{{Kind: DeviatesRemanence, Amount: -0.08}}, "remanence of all magnets", nil},
		{[]Deviation{{Kind: DeviatesMissing, Part: "top back", Amount: 1}}, "top back: missing", nil},
		{[]Deviation{{Kind: DeviatesMissing, Part: "upper", Amount: 1}}, "upper: missing", nil},
	})
}

// One leg that was left out looks much like the other from the gap alone: the readings of both differ by 2.4 standard deviations in all, by which nobody
// could name the right one with 95 % in more than half of the logs (the likelihood ratio of two normal distributions a distance D apart is normal with
// mean D^2/2 and variance D^2). Then both are suspects, and the reading that settles it is named; a reading beside each leg does.
func TestMissingLegIsFound(t *testing.T) {
	d := template(t, "framed-pair")
	s := sensitivityOf(t, d)
	fault := []Deviation{{Kind: DeviatesMissing, Part: "left leg", Amount: 1}}
	findFaults(t, d, s, []faultCase{{fault, "left leg: missing", []r3.Vec{{Y: -45e-3}, {Y: 45e-3}}}})

	field := solvedBuild(t, d, fault...)
	v := &verifier{s: s, o: VerifyOptions{PlaceM: usualPlaceM}, d: d, axis: 2}
	right, wrong := 0, 0
	for seed := range 100 {
		m, g := diagnose(t, s, bench{noise: 0.01}.draw(field, mapPlaces(), rand.New(rand.NewPCG(uint64(seed), 2))))
		switch named(s, g) {
		case "left leg: missing":
			right++
		case "":
			suspected := func(part string) bool {
				return slices.ContainsFunc(g.Suspects, func(f asbuilt.Finding) bool {
					return f.Parameter < 0 && f.Swap < len(s.Swaps) && s.Swaps[f.Swap].Part == part
				})
			}
			n := v.next(m, g, 0.01)
			if !suspected("left leg") || !suspected("right leg") || n == nil || n.Between != [2]string{"left leg: missing", "right leg: missing"} && n.Between != [2]string{"right leg: missing", "left leg: missing"} {
				t.Errorf("log %d: suspects %+v, next reading %+v", seed, g.Suspects, n)
			}
		default:
			wrong++
		}
	}
	t.Logf("%d right, %d wrong, %d undecided", right, wrong, 100-right-wrong)
	if wrong > 5 || right > 65 {
		t.Errorf("%d right, %d wrong: the readings tell of at most 50", right, wrong)
	}
}

// A wound yoke near saturation whose packing is a fifth too low: either it is named, with its value in the interval, or it is among the suspects; in
// no case is another part blamed.
func TestPackingIsFound(t *testing.T) {
	d := template(t, "wound-pair")
	s := sensitivityOf(t, d)
	const loose = -0.15
	field := solvedBuild(t, d, Deviation{Kind: DeviatesPacking, Part: "winding", Amount: loose})
	v, err := s.Judge(bench{noise: 0.002, perfect: true}.draw(field, mapPlaces(), rand.New(rand.NewPCG(1, 1))), VerifyOptions{})
	if err != nil {
		t.Fatal(err)
	}
	t.Logf("findings %+v, suspects %+v, alike %v, unseen %v", v.Findings, v.Suspects, v.Alike, v.Unseen)
	for _, f := range v.Findings {
		if f.Part != "winding" || math.Abs(f.Value-loose) > 2*f.Uncertainty {
			t.Errorf("%s", f.Text)
		}
	}
	seen := false
	for _, f := range append(v.Findings, v.Suspects...) {
		seen = seen || f.Part == "winding"
	}
	if !seen {
		t.Error("the packing is not even suspected")
	}
}

// A measured map: the compact NMR yoke magnet of measured_test.go (ARTS-Laboratory, University of South Carolina, Compact-NMR at 10708e6, CC BY-SA
// 4.0, map "A645"), two of its lines, x = 20 and x = 36 mm; the pole's middle is taken at x = 20, y = 40.7 mm. One of its readings, 0.5460 T at
// x = 36, y = 25 mm between 0.6349 and 0.6470 T, is an evident slip. It is the one that is called wrong.
func TestSlipInMeasuredMap(t *testing.T) {
	const pole, thick, bar, gap = 8.0, 25.4, 19.05, 15.0
	var b strings.Builder
	b.WriteString("format = 1\ntitle = \"measured yoke magnet\"\n")
	side := gap/2 + pole + thick
	for i, s := range []float64{1, -1} {
		name := []string{"upper", "lower"}[i]
		fmt.Fprintf(&b, "[[magnet]]\nname = %q\nshape = \"disc\"\ndiameter = \"76.2 mm\"\nthickness = \"25.4 mm\"\naxis = \"z\"\ncenter = [\"0 mm\",\"0 mm\",\"%g mm\"]\nmagnetized = [0,0,1]\ngrade = \"N42\"\n", name, s*(gap/2+pole+thick/2))
		fmt.Fprintf(&b, "[[steel]]\nname = \"%s pole\"\nshape = \"disc\"\ndiameter = \"76.2 mm\"\nthickness = \"8 mm\"\naxis = \"z\"\ncenter = [\"0 mm\",\"0 mm\",\"%g mm\"]\nmaterial = \"steel-1018\"\n", name, s*(gap/2+pole/2))
		fmt.Fprintf(&b, "[[steel]]\nname = \"%s bar\"\nshape = \"block\"\nsize = [\"88.9 mm\",\"150 mm\",\"%g mm\"]\ncenter = [\"0 mm\",\"0 mm\",\"%g mm\"]\nmaterial = \"steel-1018\"\n", name, bar, s*(side+bar/2))
		fmt.Fprintf(&b, "[[steel]]\nname = \"%s side\"\nshape = \"block\"\nsize = [\"88.9 mm\",\"%g mm\",\"%g mm\"]\ncenter = [\"0 mm\",\"%g mm\",\"0 mm\"]\nmaterial = \"steel-1018\"\n", name, bar, 2*side, s*(75-bar/2))
	}
	l := &measurement.Log{File: "map.csv"}
	for _, line := range []struct {
		x     float64
		gauss []float64
	}{
		{20, []float64{5686, 6428, 6466, 6473, 6475, 6460, 6440, 5955}},
		{36, []float64{4801, 6349, 5460, 6470, 6468, 6442, 6307, 4820}},
	} {
		for i, g := range line.gauss {
			y := []float64{5, 15, 25, 35, 45, 55, 65, 75}[i]
			l.Readings = append(l.Readings, measurement.Reading{At: r3.Vec{X: (line.x - 20) * 1e-3, Y: (y - 40.7) * 1e-3}, Component: measurement.Z,
				FieldT: g * 1e-4, TemperatureC: math.NaN(), Line: len(l.Readings) + 2})
		}
	}
	v, err := Verify(t.Context(), read(t, b.String()), l, VerifyOptions{Accuracy: Draft, PlaceM: 0.5e-3})
	if err != nil {
		t.Fatal(err)
	}
	t.Logf("findings %+v; suspects %+v; rms %.4f of %.4f T; %s", v.Findings, v.Suspects, v.ResidualRMS, v.DesignRMS, v.Noise)
	if len(v.Wrong) != 1 || v.Wrong[0] != 12 {
		t.Errorf("lines called wrong: %v; the slip is on line 12", v.Wrong)
	}
}
