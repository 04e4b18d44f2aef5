package freefield

import "gonum.org/v1/gonum/spatial/r3"

// Charge is a piece of the magnetic charge on a body's surface.
type Charge struct {
	At r3.Vec  // world, m; a part in 1e9 of the body's size inside it
	Wb float64 // J.n times the area
}

// Charges samples the surface charge by a Gauss rule on n x n pieces of each face: the integral of a smooth field over the charge is the
// sum over the points.
func (m Magnet) Charges(n int) (out []Charge) {
	h := m.Solid.HalfExtent()
	size := max(h.X, h.Y, h.Z)
	j := m.Place.Rot.Inverse(m.Polarization)
	rule := gauss[facePoints]
	d := 1 / float64(n)
	for _, f := range facesOf(m.Solid, j) {
		for a := range n {
			for b := range n {
				for i, x := range rule.x {
					for k, y := range rule.x {
						at, normal := f(d*(float64(a)+(1+x)/2), d*(float64(b)+(1+y)/2))
						area := r3.Norm(normal)
						if area == 0 {
							continue
						}
						at = r3.Sub(at, r3.Scale(1e-9*size/area, normal))
						out = append(out, Charge{m.Place.ToWorld(at), r3.Dot(j, normal) * rule.w[i] * rule.w[k] / 4 * d * d})
					}
				}
			}
		}
	}
	return out
}
