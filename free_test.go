package polewright

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"
)

const coilPair = `format = 1
title = "coils alone"
[[coil]]
name = "lower"
shape = "ring"
ampere_turns = "1000 A"
center = ["0 mm","0 mm","-50 mm"]
outer_diameter = "202 mm"
inner_diameter = "198 mm"
height = "2 mm"
[[coil]]
name = "upper"
shape = "ring"
ampere_turns = "1000 A"
center = ["0 mm","0 mm","50 mm"]
outer_diameter = "202 mm"
inner_diameter = "198 mm"
height = "2 mm"
[[probe]]
name = "centre"
at = ["0 mm","0 mm","0 mm"]
`

// A Helmholtz pair of radius R = 100 mm and 1000 A a coil has mu0 (4/5)^(3/2) I/R at its centre (any textbook), to the square of the section over
// the radius, 4e-4. The coils attract, one as the other: half of the sum of forces on both is nothing.
func TestCoilsAlone(t *testing.T) {
	r := run(t, read(t, coilPair), Options{Halves: []Plane{{Axis: 2}}}).Result
	if r.Solver.Method != "free-field" {
		t.Errorf("solved by %q", r.Solver.Method)
	}
	want := 4e-7 * math.Pi * math.Pow(0.8, 1.5) * 1000 / 0.1
	if got := r.Probes[0].B; math.Abs(got[2]/want-1) > 4e-4 || math.Hypot(got[0], got[1]) > 1e-9*want {
		t.Errorf("B = %v T, want %v T along z", got, want)
	}
	if len(r.Parts) != 2 || r.Parts[0].Kind != "coil" {
		t.Fatalf("parts %+v", r.Parts)
	}
	lower, upper := r.Parts[0].Force[2], r.Parts[1].Force[2]
	if !(lower > 0) || math.Abs(lower+upper) > 1e-9*lower || math.Abs(r.Halves[0].Force[2]-upper) > 1e-9*lower {
		t.Errorf("forces %v N and %v N, on the upper half %v N", lower, upper, r.Halves[0].Force)
	}
	if m := r.MomentAm2; math.Abs(m[2]/(2*1000*math.Pi*(0.01+1e-6/3))-1) > 1e-9 { // the mean of pi r^2 from 99 to 101 mm
		t.Errorf("moment %v", m)
	}
}

// A long thin magnet of polarization J in the middle of a coil's bore is pulled as its poles, +-J A apart by its length, feel the coil's
// field: on the axis of a loop H = I R^2/(2 (R^2 + z^2)^(3/2)). Tolerance: the section of coil and magnet over R squared.
func TestMagnetInCoil(t *testing.T) {
	d := read(t, `format = 1
title = "magnet and coil"
[[magnet]]
name = "rod"
shape = "disc"
diameter = "2 mm"
thickness = "60 mm"
center = ["0 mm","0 mm","50 mm"]
magnetized = [0,0,1]
remanence = "1 T"
recoil = 1.0
`+coilPair[len("format = 1\ntitle = \"coils alone\"\n"):])
	r := run(t, d, Options{}).Result
	loop := func(z float64) float64 { return 1000 * 0.01 / (2 * math.Pow(0.01+z*z, 1.5)) }
	h := func(z float64) float64 { return loop(z-0.05) + loop(z+0.05) }
	want := math.Pi * 1e-6 * (h(0.08) - h(0.02))
	if got := r.Parts[0].Force[2]; math.Abs(got/want-1) > 1e-3 {
		t.Errorf("force on the rod %v N, want %v N", got, want)
	}
	var sum r3.Vec
	for _, p := range r.Parts {
		sum = r3.Add(sum, r3.Vec{X: p.Force[0], Y: p.Force[1], Z: p.Force[2]})
	}
	if r3.Norm(sum) > 1e-12 {
		t.Errorf("forces add to %v", sum)
	}
}

// Many blocks with recoil in free space need no grid: the field obeys the medium's law in each of them, the forces sum to zero, and the estimate
// is within the accuracy. Without recoil the same design has a field larger by about (mu-1) N (N of a cube is 1/3).
func TestManyBlocksWithRecoil(t *testing.T) {
	s := &sketch{}
	for i := range 36 {
		at := [3]float64{float64(i%6)*14 - 35, float64(i/6)*14 - 35, 0}
		s.magnet(fmt.Sprint("m", i), [3]float64{10, 10, 10}, at, "magnetized = [0,0,1]\nremanence = \"1.3 T\"\nrecoil = 1.05")
	}
	text := "format = 1\n[[probe]]\nname = \"above\"\nat = [\"0 mm\",\"0 mm\",\"20 mm\"]\n" + s.String()
	r := run(t, read(t, text), Options{Accuracy: Draft}).Result
	if r.Solver.Method != "free-field" || !(r.Solver.EstimatedError > 0 && r.Solver.EstimatedError < 0.5) {
		t.Fatalf("%+v", r.Solver)
	}
	if _, share := unbalanced(r.Parts); share > 0.01 {
		t.Errorf("%.2g of the largest force is left over", share)
	}
	w := r.Parts[14].WorkingPoint
	if d := math.Abs(w.B - 1.3 - 1.05*4e-7*math.Pi*w.H); d > 1e-9 {
		t.Errorf("the working point is off its line by %g T", d)
	}
	bare := run(t, read(t, strings.ReplaceAll(text, "recoil = 1.05", "recoil = 1.0")), Options{Accuracy: Draft, FieldOnly: true}).Result
	if q := bare.GapB[2] / r.GapB[2]; !(q > 1.008 && q < 1.035) {
		t.Errorf("%.4f T without recoil, %.4f T with it", bare.GapB[2], r.GapB[2])
	}
}
