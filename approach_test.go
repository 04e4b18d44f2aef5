package polewright_test

import (
	"context"
	"errors"
	"fmt"
	"math"
	"strings"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"polewright"
	"polewright/design"
	"polewright/freefield"
	"polewright/mistake"
	"polewright/shape"
)

// twoBlocks is a pair of attracting blocks, 40 x 40 x 10 mm, with a gap of 20 mm; plates are what else lies in it.
func twoBlocks(t *testing.T, recoil, plates string) *design.Design {
	t.Helper()
	text := "format = 1\n"
	for i, name := range []string{"upper", "lower"} {
		text += fmt.Sprintf(`
[[magnet]]
name = %q
shape = "block"
size = ["40 mm", "40 mm", "10 mm"]
center = ["0 mm", "0 mm", "%d mm"]
magnetized = [0, 0, 1]
remanence = "1.3 T"
recoil = %s
`, name, 15-30*i, recoil)
	}
	d, err := design.Read(strings.NewReader(text+plates), "pair.toml")
	if err != nil {
		t.Fatal(err)
	}
	return d
}

const backs = `
[[steel]]
name = "upper plate"
shape = "block"
size = ["60 mm", "60 mm", "8 mm"]
center = ["0 mm", "0 mm", "24 mm"]
material = "steel-1018"
[[steel]]
name = "lower plate"
shape = "block"
size = ["60 mm", "60 mm", "8 mm"]
center = ["0 mm", "0 mm", "-24 mm"]
material = "steel-1018"
`

// Magnets alone: the force at each distance is that of package freefield, which the numbers come from; the energy, a spline through eleven of
// them, is that of a fine Simpson rule over freefield's force. Tolerance 0.1 %.
func TestApproachOfMagnetsAlone(t *testing.T) {
	d := twoBlocks(t, "1.0", "")
	r, err := polewright.RunApproach(context.Background(), d, polewright.Approach{Plane: polewright.Plane{Axis: 2}, FromM: 0.1})
	if err != nil {
		t.Fatal(err)
	}
	pull := func(x float64) float64 {
		m := freefield.Magnet{Solid: shape.Block{Size: r3.Vec{X: 0.04, Y: 0.04, Z: 0.01}}, Place: shape.Placement{Center: r3.Vec{Z: -0.015}, Rot: shape.Identity()}, Polarization: r3.Vec{Z: 1.3}}
		up := m
		up.Place.Center.Z = 0.015 + x
		f, _ := freefield.Force(m, up)
		return -f.Z
	}
	const n = 200
	energy := 0.0
	h := 0.1 / n
	for i := range n {
		x := float64(i) * h
		energy += h / 6 * (pull(x) + 4*pull(x+h/2) + pull(x+h))
	}
	if e := math.Abs(r.EnergyJ/energy - 1); !(e < 1e-3) {
		t.Errorf("%.6g J are set free, expected %.6g", r.EnergyJ, energy)
	}
	last := len(r.Steps) - 1
	if f := -r.Steps[last].Force[2]; r.Steps[last].DistanceM != 0 || math.Abs(f/pull(0)-1) > 1e-3 {
		t.Errorf("%v N closed, expected %v", f, pull(0))
	}
	slope := (pull(0) - pull(2e-4)) / 2e-4
	if e := math.Abs(r.Steps[last].StiffnessNPerM/slope - 1); !(e < 0.02) { // the end of a spline
		t.Errorf("stiffness %g N/m closed, expected %g", r.Steps[last].StiffnessNPerM, slope)
	}
	if r.CoenergyJ != nil || len(r.Cautions) == 0 || len(r.Moved) != 1 || r.Moved[0] != "upper" {
		t.Errorf("coenergy %v, cautions %q, moved %q", r.CoenergyJ, r.Cautions, r.Moved)
	}
}

// With steel: the integral of the force over the way equals the difference of the coenergies of its two ends (virtual work; Melcher, Continuum
// Electromechanics, 1981, section 3.5) within 1 %, through a gap in air and when a plate comes off its magnet, whose contact is the last step.
func TestApproachIsVirtualWork(t *testing.T) {
	d := twoBlocks(t, "1.05", backs)
	for _, at := range []float64{0, 0.02} {
		r, err := polewright.RunApproach(context.Background(), d, polewright.Approach{Plane: polewright.Plane{Axis: 2, AtM: at}, FromM: 0.03, Steps: 6})
		if err != nil {
			t.Fatal(err)
		}
		if r.CoenergyJ == nil {
			t.Fatal("the coenergy is not known")
		}
		t.Logf("at %g m: %.5g J by the force, %.5g J by the coenergy, closed %.4g N", at, r.EnergyJ, *r.CoenergyJ, r.Steps[6].Force[2])
		if e := math.Abs(r.EnergyJ / *r.CoenergyJ - 1); !(e < 0.01) {
			t.Errorf("at %g m: %.5g J by the force, %.5g J by the coenergy", at, r.EnergyJ, *r.CoenergyJ)
		}
	}
}

// A plane that cuts parts, or has none on one side, is answered with what would do.
func TestApproachPlanes(t *testing.T) {
	d := twoBlocks(t, "1.05", backs)
	for _, c := range []struct {
		at   float64
		want string
	}{{0.015, `cuts "upper"`}, {0.024, `"upper plate"`}, {0.05, "one side"}} {
		_, err := polewright.RunApproach(context.Background(), d, polewright.Approach{Plane: polewright.Plane{Axis: 2, AtM: c.at}})
		var parting *mistake.Error
		if !errors.As(err, &parting) || !strings.Contains(parting.What, c.want) || parting.Hint == "" {
			t.Errorf("at %g m: %v", c.at, err)
		}
	}
}

// The force on a group is that on all above a plane that parts it from the rest; its torque about a point moves with the point as r x F does.
// 0.3 % for one part of the assembly.
func TestGroups(t *testing.T) {
	d := twoBlocks(t, "1.05", backs)
	about := r3.Vec{X: 0.1, Y: -0.2}
	o := polewright.Options{Accuracy: polewright.Draft, NoLedger: true, NoDemagnetization: true, Halves: []polewright.Plane{{Axis: 2}},
		Groups: []polewright.Group{{Parts: []string{"upper", "upper plate"}}, {Parts: []string{"upper plate", "upper"}, AboutM: &about}}}
	s, err := polewright.Run(context.Background(), d, o)
	if err != nil {
		t.Fatal(err)
	}
	half, g := s.Result.Halves[0].Force[2], s.Result.Groups
	if e := math.Abs(g[0].Force[2]/half - 1); !(e < 3e-3) {
		t.Errorf("%v N on the group, %v N on the half", g[0].Force[2], half)
	}
	if want := about.Y * -g[1].Force[2]; math.Abs(g[1].Torque[0]-want) > 1e-6*math.Abs(want) {
		t.Errorf("torque %v N m about %v, expected %v about x", g[1].Torque, about, want)
	}
	if g[0].AboutM != [3]float64{0, 0, 0.019} {
		t.Errorf("the group's middle is %v", g[0].AboutM)
	}
	for _, c := range []struct {
		parts []string
		want  string
	}{{[]string{"uper"}, `did you mean "upper"?`}, {[]string{"zzzzzzzz"}, "the parts are upper, lower"}, {[]string{"upper", "upper"}, "once"}, {nil, "name its parts"}} {
		_, err := polewright.Run(context.Background(), d, polewright.Options{Groups: []polewright.Group{{Parts: c.parts}}})
		var group *mistake.Error
		if !errors.As(err, &group) || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%q: %v", c.parts, err)
		}
	}
}
