package plan

import (
	"math"

	"gonum.org/v1/gonum/spatial/r2"
)

// mostDistorted is how much a triangle's area may change in Moved, as a share.
const mostDistorted = 0.3

// Moved is the mesh with each node moved by (x, y), in the rectangle from min to max; nodes on curves have to stay on theirs. ok is false where a
// triangle would change too much.
func (m *Mesh) Moved(x, y []float64, min, max r2.Vec) (o *Mesh, ok bool) {
	o = &Mesh{Nodes: make([]r2.Vec, len(m.Nodes)), Vertices: m.Vertices, Triangles: m.Triangles, min: min, max: max, curves: m.curves, on: m.on}
	for i, n := range m.Nodes {
		o.Nodes[i] = r2.Vec{X: n.X + x[i], Y: n.Y + y[i]}
	}
	area := func(m *Mesh, t [6]int32) float64 {
		return r2.Cross(r2.Sub(m.Nodes[t[1]], m.Nodes[t[0]]), r2.Sub(m.Nodes[t[2]], m.Nodes[t[0]]))
	}
	for _, t := range m.Triangles {
		if was := area(m, t); !(math.Abs(area(o, t)/was-1) < mostDistorted) {
			return nil, false
		}
	}
	return o, true
}
