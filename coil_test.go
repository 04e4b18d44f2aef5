package polewright

import (
	"context"
	"fmt"
	"math"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"polewright/result"
)

func loneCoil(shape string) string {
	return fmt.Sprintf("format = 1\ntitle = \"lone coil, invented\"\n[[coil]]\nname = \"c\"\nampere_turns = \"1000 A\"\naxis = \"y\"\ncenter = %s\nheight = \"30 mm\"\n%s\n", triple(5, 0, -3), shape)
}

const (
	roundWinding = "shape = \"ring\"\nouter_diameter = \"60 mm\"\ninner_diameter = \"40 mm\""
	longWinding  = "shape = \"racetrack\"\nouter = [\"80 mm\",\"60 mm\"]\ninner = [\"60 mm\",\"40 mm\"]\nouter_radius = \"15 mm\"\ninner_radius = \"5 mm\""
	unevenTurns  = "shape = \"racetrack\"\nouter = [\"80 mm\",\"60 mm\"]\ninner = [\"50 mm\",\"40 mm\"]"
)

// The source that the grid takes for a coil has the field of the closed form (package freefield, which is checked against textbooks), at its
// middle, off its axis and outside, within 0.3 % of the middle's field on a draft grid.
func TestCoilOnGrid(t *testing.T) {
	for _, winding := range []string{roundWinding, longWinding} {
		a, err := newAssembly(read(t, loneCoil(winding)))
		if err != nil {
			t.Fatal(err)
		}
		use := condition{temperatureC: roomTemperatureC, joints: true}
		var effort result.Solver
		f, err := a.solve(context.Background(), use, Options{Accuracy: Draft}, func(string, float64) {}, &effort)
		if err != nil {
			t.Fatal(err)
		}
		want := newClosedForm(a, use)
		c := a.center
		middle, _ := want.At(c)
		for _, d := range []r3.Vec{{}, {X: 0.008, Y: 0.004, Z: -0.006}, {Y: 0.02}, {X: 0.06, Y: 0.01}} {
			x := r3.Add(c, d)
			b, _ := f.At(x)
			y, _ := want.At(x)
			if off := r3.Norm(r3.Sub(b, y)) / r3.Norm(middle); off > 3e-3 {
				t.Errorf("%q at %v from its middle: %v, want %v (off by %.1e)", winding, d, b, y, off)
			}
		}
		m, n := f.Bodies()[0].Moment, want.Bodies()[0].Moment
		if r3.Norm(r3.Sub(m, n)) > 1e-9*r3.Norm(n) {
			t.Errorf("%q: moment %v, want %v", winding, m, n)
		}
	}
}

// The area that the turns enclose in the mean is the integral of the depth over the plan: exactly for an even build, within 2 % for corners
// that no even build has.
func TestMeanArea(t *testing.T) {
	for winding, tolerance := range map[string]float64{roundWinding: 1e-3, longWinding: 1e-3, unevenTurns: 2e-2} {
		d := read(t, loneCoil(winding))
		c := &d.Coils[0]
		half := outerHalf(c)
		const n = 400
		var sum float64
		for i := range n {
			for j := range n {
				x, y := half.X*(2*(float64(i)+0.5)/n-1), half.Y*(2*(float64(j)+0.5)/n-1)
				sum += depthShare(c, x, y) * 4 * half.X * half.Y / (n * n)
			}
		}
		if math.Abs(meanArea(c)/sum-1) > tolerance {
			t.Errorf("%q: %.6g m2, by the sum %.6g", winding, meanArea(c), sum)
		}
	}
}

// TestForceBetweenCoilAndMagnet: a magnet 2 mm off a winding, once without recoil, where both are closed forms, and once with so little of it (which
// changes the force by less than 0.01 %) that they are solved on a grid. The force is 1 % of what the magnet's own field pulls each of its halves with; it
// is the same within 2 % at draft, on the winding and on the magnet. All values are invented.
func TestForceBetweenCoilAndMagnet(t *testing.T) {
	forces := func(recoil, axis, height string) (magnet, coil r3.Vec) {
		s := run(t, read(t, `format = 1
[target]
field = "0.1 T"
region = { shape = "sphere", diameter = "2 mm", center = ["-4 mm", "-13 mm", "-37 mm"] }
[[magnet]]
name = "magnet"
shape = "block"
size = ["23 mm", "20 mm", "27 mm"]
center = ["0 mm", "0 mm", "0 mm"]
magnetized = [-1, 0, 0]
remanence = "1.3 T"
recoil = `+recoil+`
[[coil]]
name = "coil"
shape = "ring"
ampere_turns = "2700 A"
axis = "`+axis+`"
center = ["-2 mm", "-13 mm", "`+height+` mm"]
height = "16 mm"
outer_diameter = "46 mm"
inner_diameter = "23 mm"
`), Options{NoLedger: true, NoDemagnetization: true})
		for _, p := range s.Result.Parts {
			if p.Name == "magnet" {
				magnet = vector(p.Force)
			} else {
				coil = vector(p.Force)
			}
		}
		return magnet, coil
	}
	for axis, height := range map[string]string{"z": "23.5", "y": "38.5"} {
		want, _ := forces("1", axis, height)
		magnet, coil := forces("1.0001", axis, height)
		t.Logf("axis %s: closed forms %.3f N, grid %.3f and %.3f N", axis, want, magnet, coil)
		if size := r3.Norm(want); r3.Norm(r3.Sub(magnet, want)) > 0.02*size || r3.Norm(r3.Add(coil, want)) > 0.02*size {
			t.Errorf("axis %s: %.3f N on the magnet and %.3f on the coil, closed forms have %.3f on the magnet", axis, magnet, coil, want)
		}
	}
}
