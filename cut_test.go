package polewright

import (
	"math"
	"slices"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"polewright/shape"
)

// A magnet cut in two, the pieces left where they are, is the same magnet: the field is the same, and so are the forces on all other parts and their sum on
// the pieces. The pieces push each other with a quarter of the pull of the steel that both lie on, over a face that ends on it. The tolerances are those
// of a draft: 0.3 % of the field, 1 % of the largest force (0.02 to 0.1 % and 0.05 to 0.1 % are seen).
func TestCutMagnet(t *testing.T) {
	for _, layout := range []string{"single-block", "framed-pair"} {
		d := template(t, layout)
		d.Joints, d.Sections = nil, nil
		for i := range d.Magnets {
			d.Magnets[i].CoatingM = 0 // the pieces would have one more between them
		}
		o := Options{Accuracy: Draft, NoLedger: true, NoDemagnetization: true}
		whole := run(t, d, o)
		copied := *d
		cut := &copied
		cut.Magnets = slices.Clone(d.Magnets)
		first := cut.Magnets[0]
		second := first
		size := first.Solid.(shape.Block).Size
		const share = 0.37
		place := first.Place
		piece := func(part, at float64) (shape.Block, r3.Vec) {
			return shape.Block{Size: r3.Vec{X: part * size.X, Y: size.Y, Z: size.Z}}, r3.Add(place.Center, place.Rot.Apply(r3.Vec{X: at * size.X}))
		}
		first.Solid, first.Place.Center = piece(share, (share-1)/2)
		second.Solid, second.Place.Center = piece(1-share, share/2)
		second.Name += ", second piece"
		cut.Magnets[0] = first
		cut.Magnets = append(cut.Magnets, second)
		pieces := run(t, cut, o)

		at := whole.Result.GapAtM
		want, _ := whole.Field(r3.Vec{X: at[0], Y: at[1], Z: at[2]})
		got, _ := pieces.Field(r3.Vec{X: at[0], Y: at[1], Z: at[2]})
		if diff := r3.Norm(r3.Sub(got, want)) / r3.Norm(want); !(diff < 0.003) {
			t.Errorf("%s: the field is %.3f %% off", layout, 100*diff)
		}
		sum := map[string]r3.Vec{}
		for _, p := range pieces.Result.Parts {
			name := p.Name
			if name == second.Name {
				name = first.Name
			}
			sum[name] = r3.Add(sum[name], r3.Vec{X: p.Force[0], Y: p.Force[1], Z: p.Force[2]})
		}
		var largest float64
		for _, p := range whole.Result.Parts {
			largest = math.Max(largest, norm(p.Force))
		}
		for _, p := range whole.Result.Parts {
			if diff := norm(array(r3.Sub(sum[p.Name], r3.Vec{X: p.Force[0], Y: p.Force[1], Z: p.Force[2]}))); !(diff < 0.01*largest) {
				t.Errorf("%s: the force on %s is %.2f N off, of %.1f N", layout, p.Name, diff, largest)
			}
		}
	}
}
