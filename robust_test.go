package polewright

import (
	"context"
	"fmt"
	"math"
	"strings"
	"testing"

	"polewright/design"
)

// This file solves what is hard for a grid or for Newton's method.

const barePair = `
format = 1
[[magnet]]
name = "magnet"
shape = "block"
size = ["40 mm", "40 mm", "20 mm"]
center = ["0 mm", "0 mm", "0 mm"]
magnetized = [0, 0, 1]
remanence = "1.2 T"
recoil = 1.05
[[probe]]
name = "above"
at = ["0 mm", "0 mm", "25 mm"]
`

// An air gap of 10 um between magnet and back plate, as a gap and as a joint of that thickness: the same within the draft's accuracy, 0.5 %.
func TestNarrowGap(t *testing.T) {
	yoke := `
[[steel]]
name = "back"
shape = "block"
size = ["80 mm", "80 mm", "10 mm"]
center = ["0 mm", "0 mm", "%s"]
material = "steel-1018"
`
	o := Options{Accuracy: Draft, NoLedger: true, NoDemagnetization: true, FieldOnly: true}
	gap, err := Run(context.Background(), read(t, barePair+fmt.Sprintf(yoke, "-15.01 mm")), o)
	if err != nil {
		t.Fatal(err)
	}
	joint, err := Run(context.Background(), read(t, barePair+fmt.Sprintf(yoke, "-15 mm")+`
[[joint]]
between = ["magnet", "back"]
thickness = "0.01 mm"
`), o)
	if err != nil {
		t.Fatal(err)
	}
	a, b := gap.Result.Probes[0].B[2], joint.Result.Probes[0].B[2]
	t.Logf("%d unknowns: %.5f T with the gap, %.5f T with the joint", gap.Result.Solver.Unknowns, a, b)
	if !(math.Abs(a/b-1) < 5e-3) {
		t.Errorf("%g T with a gap of 10 um, %g T with a joint", a, b)
	}
}

// Legs of 2 mm carry steel far beyond its knee: the solve converges, and their mean stands above 1.95 T, short of what 1018 bar can carry at all
// (saturation 2.15 T, from memory, and mu0 H).
func TestFarBeyondSaturation(t *testing.T) {
	d := thinner(t, 2)
	s, err := Run(context.Background(), d, Options{Accuracy: Draft, NoLedger: true, NoDemagnetization: true})
	if err != nil {
		t.Fatal(err)
	}
	for _, p := range s.Result.Parts {
		if strings.Contains(p.Name, "leg") {
			t.Logf("%s: mean %.3f T, %d steps, %d cycles", p.Name, p.MeanB, s.Result.Solver.NewtonSteps, s.Result.Solver.Cycles)
			if !(p.MeanB > 1.95 && p.MeanB < 2.3) {
				t.Errorf("%s carries %g T", p.Name, p.MeanB)
			}
		}
	}
}

// The wire is homogenized: at one packing and one thickness of the winding, wire far thinner than any cell gives the same field.
func TestThinWire(t *testing.T) {
	text, err := design.Template("wound-pair")
	if err != nil {
		t.Fatal(err)
	}
	if !strings.Contains(text, `turns    = 250`) || !strings.Contains(text, `{ gauge = "16 SWG" }`) {
		t.Fatal("the wound pair is not the one meant here")
	}
	field := func(wire string) float64 {
		d := strings.Replace(strings.Replace(text, `turns    = 250`, `build = "12 mm"`, 1), `{ gauge = "16 SWG" }`, wire, 1)
		s, err := Run(context.Background(), read(t, d), Options{Accuracy: Draft, NoLedger: true, NoDemagnetization: true, FieldOnly: true})
		if err != nil {
			t.Fatal(err)
		}
		return s.Result.GapB[2]
	}
	if a, b := field(`{ gauge = "16 SWG" }`), field(`{ diameter = "0.05 mm" }`); a != b || a < 0.3 {
		t.Errorf("%g T with 1.63 mm, %g T with 0.05 mm", a, b)
	}
}
