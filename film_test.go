package polewright

import (
	"context"
	"math"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"polewright/shape"
)

// A film of glue between magnets and plates costs the field what a layer of air of its thickness does that is solved with cells of its own and moves
// the plates apart. Only the layer lets flux out at its rim and is longer round: 15 % of what the film costs.
func TestFilmCostsWhatItsLayerDoes(t *testing.T) {
	const thickness = 0.1e-3
	field := func(film, layer float64) float64 {
		d := template(t, "framed-pair")
		d.Joints = d.Joints[:2]
		for i := range 2 {
			d.Magnets[i].CoatingM = 0
			d.Joints[i].ThicknessM = film
			plate, leg := &d.Steels[i], &d.Steels[2+i]
			plate.Place.Center.Z += math.Copysign(layer, plate.Place.Center.Z)
			leg.Solid = shape.Block{Size: r3.Add(leg.Solid.(shape.Block).Size, r3.Vec{Z: 2 * layer})}
		}
		if film == 0 {
			d.Joints = nil
		}
		s, err := Run(context.Background(), d, Options{FieldOnly: true})
		if err != nil {
			t.Fatal(err)
		}
		b, _ := s.Field(r3.Vec{})
		return b.Z
	}
	none := field(0, 0)
	film, layer := none-field(thickness, 0), none-field(0, thickness)
	if film < 0.003*none || math.Abs(film/layer-1) > 0.15 {
		t.Errorf("of %.6f T the film costs %.6f T, the layer %.6f T", none, film, layer)
	}
}

// A film of no thickness is none.
func TestFilmOfNoThickness(t *testing.T) {
	d := template(t, "framed-pair")
	for i := range d.Joints {
		d.Joints[i].ThicknessM = 0
	}
	with, err := Run(context.Background(), d, Options{Accuracy: Draft, FieldOnly: true})
	if err != nil {
		t.Fatal(err)
	}
	d.Joints = nil
	without, err := Run(context.Background(), d, Options{Accuracy: Draft, FieldOnly: true})
	if err != nil {
		t.Fatal(err)
	}
	a, _ := with.Field(r3.Vec{})
	b, _ := without.Field(r3.Vec{})
	if a != b {
		t.Errorf("%g T with films of no thickness, %g T without films", a.Z, b.Z)
	}
}
