//go:build long

package polewright

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"polewright/design"
)

// Two magnets on plates, without legs: the upper half turned about x is still a drawing in y and z, which the grid follows, so a tilt can be solved as
// it is. The strips of Apply change the field by the same to within a tenth of the largest change in the middle of the gap.
func TestTiltedPlates(t *testing.T) {
	d := read(t, `format = 1
title = "plates"
[target]
region = { shape = "sphere", diameter = "6 mm" }
[[magnet]]
name = "upper"
shape = "block"
size = ["60 mm","40 mm","20 mm"]
center = ["0 mm", "0 mm", "19 mm"]
magnetized = [0, 0, 1]
grade = "N42"
[[magnet]]
name = "lower"
shape = "block"
size = ["60 mm","40 mm","20 mm"]
center = ["0 mm", "0 mm", "-19 mm"]
magnetized = [0, 0, 1]
grade = "N42"
[[steel]]
name = "top"
shape = "block"
size = ["60 mm","80 mm","20 mm"]
center = ["0 mm", "0 mm", "39 mm"]
material = "steel-1018"
[[steel]]
name = "bottom"
shape = "block"
size = ["60 mm","80 mm","20 mm"]
center = ["0 mm", "0 mm", "-39 mm"]
material = "steel-1018"
`)
	const angle = 0.03
	points := []r3.Vec{{}, {Y: 4e-3}, {Y: 8e-3}, {Z: 4e-3}, {Y: 8e-3, Z: 4e-3}, {Y: 12e-3}}
	var real, strip [2]*Solved
	for i, way := range []float64{1, -1} {
		c := *d
		c.Magnets, c.Steels = append([]design.Magnet(nil), d.Magnets...), append([]design.Steel(nil), d.Steels...)
		turn := turned(0, way*angle)
		for _, p := range []*design.Body{&c.Magnets[0].Body, &c.Steels[0].Body} {
			face := r3.Vec{Z: 9e-3}
			p.Place.Center, p.Place.Rot = r3.Add(face, turn.Apply(r3.Sub(p.Place.Center, face))), turn.Mul(p.Place.Rot)
		}
		c.Magnets[0].Direction = turn.Apply(c.Magnets[0].Direction)
		real[i] = run(t, &c, Options{Accuracy: Standard, FieldOnly: true})
		a, err := Apply(d, []Deviation{{Kind: DeviatesTilt, Axis: 0, Amount: way * angle}})
		if err != nil {
			t.Fatal(err)
		}
		strip[i] = run(t, a, Options{Accuracy: Draft, FieldOnly: true})
	}
	var most, worst float64
	for _, p := range points {
		a := r3.Scale(0.5, r3.Sub(real[0].smooth()(p), real[1].smooth()(p)))
		b := r3.Scale(0.5, r3.Sub(strip[0].smooth()(p), strip[1].smooth()(p)))
		t.Logf("at %v mm: turned %.3f mT, strips %.3f mT", r3.Scale(1e3, p), r3.Scale(1e3, a), r3.Scale(1e3, b))
		most, worst = math.Max(most, r3.Norm(a)), math.Max(worst, r3.Norm(r3.Sub(a, b)))
	}
	if worst > 0.1*most {
		t.Errorf("off by %.3f mT of %.3f mT", 1e3*worst, 1e3*most)
	}
}
