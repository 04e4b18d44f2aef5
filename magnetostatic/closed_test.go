package magnetostatic

import (
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"polewright/freefield"
	"polewright/grid"
)

// The field at points half a millimetre from the edges and corners of magnets, where it rises without bound, against closed forms (package
// freefield) on standard grids: two blocks in free space, and a block on a thick ideal plate, which mirrors it. Tolerance 1 % of the field in
// the gap, also within the magnets.
func TestFieldAtEdges(t *testing.T) {
	j := r3.Vec{Z: 1.30}
	pair := []grid.Body{block("upper", 1, mm(50, 50, 25), mm(0, 0, 22.5), j), block("lower", 1, mm(50, 50, 25), mm(0, 0, -22.5), j)}
	plate := []grid.Body{block("magnet", 1, mm(40, 40, 20), mm(0, 0, 10), j), block("plate", 2, mm(240, 240, 40), mm(0, 0, -20), r3.Vec{})}
	for _, c := range []struct {
		name   string
		bodies []grid.Body
		media  []Medium
		exact  freefield.Sources
		points []r3.Vec
	}{
		{"two blocks", pair, []Medium{Air(), Air()}, sources(pair),
			[]r3.Vec{mm(24.5, 0, 9.5), mm(25.5, 0, 9.6), mm(25.4, 3, 10.6), mm(24.6, 24.6, 9.4), mm(25.4, 25.4, 10.5), mm(24.6, 3, 10.5), mm(24.5, 24.5, 10.6), mm(0, 0, 9.5), mm(25.5, 7, 22)}},
		{"block on a plate", plate, []Medium{Air(), Isotropic(1e5, Vec{})}, append(sources(plate), freefield.Magnet{Solid: plate[0].Solid, Place: block("", 0, r3.Vec{}, mm(0, 0, -10), j).Place, Polarization: j}),
			[]r3.Vec{mm(20.5, 0, 0.5), mm(19.5, 0, 0.5), mm(20.4, 20.4, 0.4), mm(19.5, 19.5, 19.5), mm(20.5, 3, 19.5), mm(20.4, 0, 20.4), mm(0, 0, 20.5), mm(23, 4, 1)}},
	} {
		g, err := grid.Build(grid.Spec{Bodies: c.bodies, Focus: []r3.Vec{mm(0, 0, 25)}, Radius: 4e-3, Levels: 2})
		if err != nil {
			t.Fatal(err)
		}
		for i := range c.media {
			c.media[i].Polarization = Vec(grid.Frame(g.Axis, c.bodies[i].Polarization))
		}
		s := solved(t, &Problem{Grids: g, Media: c.media, Dipole: r3.Vec{Z: 1}})
		size := r3.Norm(c.exact.B(mm(0, 0, 0.5)))
		for _, x := range c.points {
			b, _ := s.At(x)
			want := c.exact.B(x)
			e := r3.Norm(r3.Sub(b, want)) / size
			t.Logf("%s at %.1f mm: %.4f T, closed form %.4f T, off by %.1e of %.3f T", c.name, r3.Scale(1e3, x), b, want, e, size)
			if !(e < 0.01) {
				t.Errorf("%s at %v: %v, expected %v", c.name, x, b, want)
			}
		}
	}
}
