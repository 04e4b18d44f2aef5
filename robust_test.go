package polewright

import (
	"context"
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"polewright/result"
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
	text := templateText(t, "wound-pair")
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

// What is left over of all forces is their error, and large enough it is said. For a disc that is glued under a block magnetized across it, an edge across
// a face, 1.5 % was left at draft, where 7 to 16 % were before such pairs took closed forms; 3 % is asked. A symmetric pair leaves nothing over.
func TestForcesLeftOver(t *testing.T) {
	for _, c := range []struct {
		parts []result.Part
		left  float64
		share float64
	}{
		{nil, 0, 0},
		{[]result.Part{{Force: [3]float64{0, 0, 5}}, {Force: [3]float64{0, 0, -5}}}, 0, 0},
		{[]result.Part{{Force: [3]float64{3, 0, 5}}, {Force: [3]float64{0, 4, -5}}}, 5, 5 / math.Sqrt(41)},
	} {
		if left, share := unbalanced(c.parts); math.Abs(left-c.left) > 1e-12 || math.Abs(share-c.share) > 1e-12 {
			t.Errorf("%v: %g N, %g", c.parts, left, share)
		}
	}
	glued := (&sketch{}).round("magnet", "disc", 16, 6, 24, "magnetized = [0,0,1]\nremanence = \"1.44 T\"\nrecoil = 1.05").
		magnet("block", [3]float64{14, 19, 18}, [3]float64{0, 0, 36}, "magnetized = [1,0,0]\nremanence = \"1.19 T\"\nrecoil = 1.05")
	text := "format = 1\ntitle = \"glued, invented\"\n" + glued.String()
	r := run(t, read(t, text), Options{Accuracy: Draft, NoLedger: true, NoDemagnetization: true}).Result
	left, share := unbalanced(r.Parts)
	t.Logf("%.3g N left over, %.2g of the largest; %q", left, share, r.Warnings)
	if !(share < 0.03) {
		t.Errorf("%.2g of the largest force is left over", share)
	}
	said := func(r *result.Result) bool {
		return slices.ContainsFunc(r.Warnings, func(w string) bool { return strings.Contains(w, "should sum to zero") })
	}
	if said(r) != (left > balanceN && share > balanceShare) {
		t.Errorf("%.3g N left over, %.2g of the largest; warnings %q", left, share, r.Warnings)
	}
	poor := &result.Result{Parts: []result.Part{{Force: [3]float64{3, 0, 5}}, {Force: [3]float64{0, 4, -5}}}}
	a, err := newAssembly(read(t, text))
	if err != nil {
		t.Fatal(err)
	}
	if a.warn(poor, Options{}); !said(poor) {
		t.Errorf("5 N are left over, and nobody says so: %q", poor.Warnings)
	}
}
