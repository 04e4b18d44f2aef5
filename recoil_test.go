package polewright

import (
	"context"
	"math"
	"strings"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"polewright/design"
	"polewright/freefield"
	"polewright/shape"
)

// A lone flat magnet's recoil differs over its faces: next to them the field of the grid is that of charged panels on the faces, another method
// (freefield.Assembly.Paneled, 24 x 24 panels a face), to 0.2 % over the middle, to 0.6 % half-way to the edge, on either side, with the cells of a draft of
// the field alone. Measured: 0.14 and 0.5 %. Its mean polarization alone leaves up to 1.8 %, and a step of 2.4 % across the face.
func TestFieldAtFaceOfMagnetWithRecoil(t *testing.T) {
	const text = `format = 1
[target]
field = "0.1 T"
[[magnet]]
name = "one"
shape = "block"
size = ["40 mm", "40 mm", "10 mm"]
center = ["0 mm", "0 mm", "0 mm"]
magnetized = [0, 0, 1]
remanence = "1.3 T"
recoil = 1.05
`
	d, err := design.Read(strings.NewReader(text), "lone")
	if err != nil {
		t.Fatal(err)
	}
	s, err := Run(context.Background(), d, Options{Accuracy: Draft, FieldOnly: true})
	if err != nil {
		t.Fatal(err)
	}
	magnet := freefield.Magnet{Solid: shape.Block{Size: r3.Vec{X: 0.04, Y: 0.04, Z: 0.01}}, Place: shape.Placement{Rot: shape.Identity()}, Polarization: r3.Vec{Z: 1.3}}
	panels := freefield.Relax(freefield.Sources{magnet}, []float64{1.05}).Paneled(24)
	for x, tolerance := range map[float64]float64{0: 2e-3, 0.005: 2e-3, 0.01: 6e-3} {
		for _, z := range []float64{0.003, 0.0049, 0.0051, 0.007, 0.015} {
			at := r3.Vec{X: x, Z: z}
			got, _ := s.Field(at)
			want := panels.B(at)
			if off := r3.Norm(r3.Sub(got, want)) / r3.Norm(want); off > tolerance {
				t.Errorf("at %g, %g mm: %.5f T, want %.5f (off by %.2g %%)", 1e3*x, 1e3*z, got, want, 100*off)
			}
		}
	}
	above, _ := s.Field(r3.Vec{Z: 0.00501})
	below, _ := s.Field(r3.Vec{Z: 0.00499})
	if step := math.Abs(above.Z/below.Z - 1); step > 1e-3 {
		t.Errorf("a step of %.2g %% across the face", 100*step)
	}
}
