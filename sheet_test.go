package polewright

import (
	"context"
	"errors"
	"math"
	"strings"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"polewright/measurement"
	"polewright/mistake"
)

// The band at the centre of two blocks in free space, from a hand calculation. Each magnet makes half of the field, so a remanence off by 1.5 % in one
// changes it by 0.75 %, in all by 1.5 %; the gap has -0.9 % a millimetre by the closed form for blocks, 0.05 mm of it 0.05 %; tilts and directions
// count in the second order there. The spreads add by their squares (JCGM 100:2008, 5.1.2), times 2. The instrument has 0.5 % and 0.1 mT, and
// nothing by its place, for the field has no slope there. 1 % of the band: the steps are finite.
func TestSheetBand(t *testing.T) {
	d := inspectedPair(t, "1.0")
	s, err := RunSheet(context.Background(), d, SheetOptions{Accuracy: Draft})
	if err != nil {
		t.Fatal(err)
	}
	e := s.Readings[0]
	if e.Group != SheetCentre || math.Abs(e.Predicted-0.448041) > 1e-5 { // J. M. Camacho, V. Sosa, Rev. Mex. Fis. E 59 (2013) 8, evaluated outside the project
		t.Fatalf("%+v", e)
	}
	block := func(z float64) float64 { // on the axis of one block, at z from its face
		const a, l = 0.05, 0.025
		at := func(z float64) float64 { return math.Atan(a * a / (2 * z * math.Sqrt(4*z*z+2*a*a))) }
		return 1.3 / math.Pi * (at(z) - at(z+l))
	}
	gap := (block(0.015+0.5e-4) - block(0.015-0.5e-4)) / 1e-4 // of both faces, half a length each
	build := 2 * math.Sqrt(math.Pow(0.0075*e.Predicted, 2)*2+math.Pow(0.015*e.Predicted, 2)+math.Pow(gap*spreadLength, 2))
	if math.Abs(e.Build/build-1) > 0.01 {
		t.Errorf("band of the build %g T, by hand %g T", e.Build, build)
	}
	if want := math.Sqrt(build*build + 4*(math.Pow(0.005*e.Predicted, 2)+1e-8+math.Pow(s.Error/100*e.Predicted, 2))); math.Abs(e.Band/want-1) > 0.01 {
		t.Errorf("band %g T, by hand %g T", e.Band, want)
	}
	groups := map[string]int{}
	for _, e := range s.Readings {
		groups[e.Group]++
	}
	for name, want := range map[string]int{SheetCentre: 1, SheetAxis: 9, SheetAcross: 17, SheetCube: 27, SheetOutside: 12, SheetYoke: 0} {
		if groups[name] != want {
			t.Errorf("%s has %d places, want %d", name, groups[name], want)
		}
	}
}

// The prediction is the mean over the probe: for a field that is x^2 along one direction across a disc of radius R it lies R^2/4 higher than at its
// middle. The second derivative of Bz is taken from the field itself; a disc of 4 mm on a line where Bz bends by some T/m2 leaves 1 % by its fourth order.
func TestSheetAveragesOverTheProbe(t *testing.T) {
	d := inspectedPair(t, "1.0")
	group := []SheetGroup{{SheetCentre, 1}}
	point, err := RunSheet(context.Background(), d, SheetOptions{Accuracy: Draft, Groups: group})
	if err != nil {
		t.Fatal(err)
	}
	const radius = 2e-3
	disc, err := RunSheet(context.Background(), d, SheetOptions{Accuracy: Draft, Groups: group, Probe: measurement.Probe{DiameterM: 2 * radius}})
	if err != nil {
		t.Fatal(err)
	}
	s, err := Run(context.Background(), d, Options{Accuracy: Draft, FieldOnly: true})
	if err != nil {
		t.Fatal(err)
	}
	field := s.smooth()
	const h = 1e-3
	bend := 0.0 // along x and y together
	for _, p := range []r3.Vec{{X: h}, {X: -h}, {Y: h}, {Y: -h}} {
		bend += (field(p).Z - field(r3.Vec{}).Z) / (h * h)
	}
	got, want := disc.Readings[0].Predicted-point.Readings[0].Predicted, bend*radius*radius/8
	if math.Abs(got/want-1) > 0.02 {
		t.Errorf("the disc reads %g T more, want %g T", got, want)
	}
}

func TestParseSheetGroups(t *testing.T) {
	if list, err := ParseSheetGroups(" centre, axis 11,cube 5 "); err != nil || len(list) != 3 || list[1] != (SheetGroup{SheetAxis, 11}) || list[2].N != 5 {
		t.Errorf("%v, %v", list, err)
	}
	for text, want := range map[string]string{"middle": "no group", "axis 4": "odd", "axis x": "odd", "cube 9": "from 3 to 7", "centre 3": "takes no number", "axis, axis": "twice", "axis 3 4": "no group", ",": "no group"} {
		_, err := ParseSheetGroups(text)
		var bad *mistake.Error
		if !errors.As(err, &bad) || !strings.Contains(bad.What, want) || bad.Hint == "" {
			t.Errorf("%q: %v, want %q", text, err, want)
		}
	}
}

func FuzzParseSheetGroups(f *testing.F) {
	f.Add("centre, axis 11, across 7, cube 3, outside, yoke")
	f.Fuzz(func(t *testing.T, text string) {
		list, err := ParseSheetGroups(text)
		if (err == nil) != (len(list) > 0) {
			t.Fatalf("%v, %v", list, err)
		}
		for _, g := range list {
			if g.N < 1 || g.N > 21 {
				t.Fatalf("%+v", g)
			}
		}
	})
}
