package magnetostatic

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"
)

// Magnets that keep four fifths of their polarization everywhere have the field of magnets with four fifths of it. The two take different ways to it: in the
// first a magnet's nodes are fitted apart from those of the air. Next to faces and edges both are the same to 0.3 % of the gap field, within the magnets to
// 0.5 %, and to 2 % right at an edge. Without the closed forms of such magnets 58 % was seen at an edge.
func TestFieldNextToMagnetsThatLost(t *testing.T) {
	const share = 0.8
	p := pairProblem(t, 12, 1.30, 0.6, 2)
	weak := pairProblem(t, 12, share*1.30, 0.6, 2)
	for i := range 2 {
		p.Media[i].Descent = &Descent{Along: Vec(p.Grids.Frame(r3.Vec{Z: 1})), Bare: 1, Area: 1, Remanence: 1.30, Recoil: 1.05}
	}
	g := p.Grids.Grid[len(p.Grids.Grid)-1]
	p.Kept = &Kept{slot: make([]int32, len(g.Cell))}
	for i, body := range g.Cell {
		p.Kept.slot[i] = -1
		if body >= 0 && p.Media[body].Linear {
			p.Kept.slot[i] = int32(len(p.Kept.share))
			var shares [18]float64
			for k := range shares {
				shares[k] = share
			}
			p.Kept.share = append(p.Kept.share, shares)
		}
	}
	lost, want := solved(t, p), solved(t, weak)
	middle, _ := want.At(r3.Vec{})
	half := p.Grids.Bodies[0].Solid.HalfExtent()
	face := p.Grids.Bodies[0].Place.Center
	down := -math.Copysign(1, face.Z)
	for _, x := range []float64{0, 0.5, 0.9, 0.97, 1.03} {
		for _, z := range []float64{-2e-3, -2e-4, 2e-4, 1e-3, 3e-3} {
			tolerance := 3e-3
			if z < 0 && x < 0.9 {
				tolerance = 5e-3
			} else if z < 0 {
				tolerance = 2e-2
			}
			at := r3.Add(face, r3.Vec{X: x * half.X, Y: 0.3 * half.Y, Z: down * (half.Z + z)})
			b, _ := lost.At(at)
			c, _ := want.At(at)
			off := r3.Norm(r3.Sub(b, c)) / r3.Norm(middle)
			if off > tolerance {
				t.Errorf("at %.4g m: %.5g T, want %.5g T: %.2g %% of the gap field", at, b, c, 100*off)
			}
		}
	}
}
