package shape

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"
)

// Of n^3 points, the share within a body is its volume over the box's: all of a block's, pi/4 of a disc's up to the points at its rim (a
// lattice point stands for a square of 1/n; the rim passes about 4 n of n^2 of them, so the share is good to a few times n^-3/2). The mean
// of the points is the body's centre, and for a block the mean square of a coordinate is that of n points, half^2 (1 - 1/n^2)/3.
func TestLattice(t *testing.T) {
	const n = 40
	p := Placement{Center: r3.Vec{X: 1, Y: -2, Z: 3}, Rot: Euler(0.3, -0.2, 0.9)}
	for _, c := range []struct {
		s     Solid
		share float64
		tol   float64
	}{
		{Block{Size: r3.Vec{X: 0.06, Y: 0.04, Z: 0.02}}, 1, 0},
		{Disc{Diameter: 0.05, Thickness: 0.01}, math.Pi / 4, 0.005},
	} {
		points := Lattice(c.s, p, n)
		if got := float64(len(points)) / (n * n * n); math.Abs(got-c.share) > c.tol {
			t.Errorf("%v: %.4f of the points, the volume has %.4f", c.s, got, c.share)
		}
		var mean r3.Vec
		var square float64
		for _, x := range points {
			mean = r3.Add(mean, r3.Scale(1/float64(len(points)), x))
			l := p.ToLocal(x)
			square += l.X * l.X / float64(len(points))
			if !c.s.Contains(l, 1e-12) {
				t.Fatalf("%v: %v lies outside", c.s, l)
			}
		}
		if d := r3.Norm(r3.Sub(mean, p.Center)); d > 1e-12 {
			t.Errorf("%v: the middle is off by %g m", c.s, d)
		}
		if b, ok := c.s.(Block); ok {
			if want := b.Size.X * b.Size.X / 12 * (1 - 1.0/(n*n)); math.Abs(square/want-1) > 1e-9 {
				t.Errorf("mean square %g, want %g", square, want)
			}
		}
	}
}
