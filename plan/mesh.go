package plan

import (
	"math"
	"sync"

	"gonum.org/v1/gonum/spatial/r2"
)

// Mesh is a conforming triangle mesh of a rectangle, fitted to all curves, with quadratic (6-node) triangles.
// Lengths are in metres. A Mesh is not changed once made and may be used by many goroutines.
type Mesh struct {
	Nodes     []r2.Vec   // vertices first, then one node at the middle of each edge, on the arc where the edge lies on one
	Vertices  int        // how many of Nodes are vertices
	Triangles [][6]int32 // v0, v1, v2 counter-clockwise, then the nodes in the middle of the edges v0v1, v1v2, v2v0

	min, max r2.Vec
	curves   []curve
	on       []int32 // for each edge (node number less Vertices) 1 + the curve it lies on, 0 for none

	once sync.Once
	tree tree
}

// OnCurve reports whether the edge with this mid node lies on one of the curves the mesh was fitted to or on a side of the rectangle.
func (m *Mesh) OnCurve(node int32) bool {
	return int(node) >= m.Vertices && m.on[int(node)-m.Vertices] != 0
}

// Curved reports whether an edge of the triangle is curved. A triangle that is not is an affine image of the reference triangle.
func (m *Mesh) Curved(triangle int) bool {
	for _, n := range m.Triangles[triangle][3:] {
		if on := m.on[int(n)-m.Vertices]; on != 0 && !m.curves[on-1].straight() {
			return true
		}
	}
	return false
}

// MinAngle is the smallest corner angle of all triangles taken between chords, in radians.
func (m *Mesh) MinAngle() float64 {
	smallest := math.Pi
	for _, t := range m.Triangles {
		a, b, c := m.Nodes[t[0]], m.Nodes[t[1]], m.Nodes[t[2]]
		smallest = min(smallest, corner(a, b, c), corner(b, c, a), corner(c, a, b))
	}
	return smallest
}

// corner is the angle at a of the triangle a, b, c.
func corner(a, b, c r2.Vec) float64 {
	u, v := r2.Sub(b, a), r2.Sub(c, a)
	return math.Atan2(abs(r2.Cross(u, v)), r2.Dot(u, v))
}

// BoundaryEdge is an edge of the mesh on a side of the rectangle.
type BoundaryEdge struct {
	Triangle, Edge int // the local edge 0, 1, 2 is v0v1, v1v2, v2v0
	Side           int // 0 left (u = min), 1 right, 2 bottom (v = min), 3 top
}

// BoundaryEdges lists the edges on the rectangle's sides in the order of their triangles.
func (m *Mesh) BoundaryEdges() []BoundaryEdge {
	var edges []BoundaryEdge
	for t, tri := range m.Triangles {
		for e := range 3 {
			a, b := m.Nodes[tri[e]], m.Nodes[tri[(e+1)%3]]
			side := -1
			switch {
			case a.X == m.min.X && b.X == m.min.X:
				side = 0
			case a.X == m.max.X && b.X == m.max.X:
				side = 1
			case a.Y == m.min.Y && b.Y == m.min.Y:
				side = 2
			case a.Y == m.max.Y && b.Y == m.max.Y:
				side = 3
			default:
				continue
			}
			edges = append(edges, BoundaryEdge{t, e, side})
		}
	}
	return edges
}

// ShapeFunctions gives the six quadratic shape functions at the area coordinates l, in the order of a triangle's nodes.
func ShapeFunctions(l [3]float64) [6]float64 {
	return [6]float64{
		l[0] * (2*l[0] - 1), l[1] * (2*l[1] - 1), l[2] * (2*l[2] - 1),
		4 * l[0] * l[1], 4 * l[1] * l[2], 4 * l[2] * l[0],
	}
}

// At is the point of a triangle at the area coordinates l.
func (m *Mesh) At(triangle int, l [3]float64) r2.Vec {
	var p r2.Vec
	for i, w := range ShapeFunctions(l) {
		n := m.Nodes[m.Triangles[triangle][i]]
		p.X += w * n.X
		p.Y += w * n.Y
	}
	return p
}

// jacobian gives, at area coordinates l, the derivatives of the position by l1 and l2 with l0 = 1-l1-l2.
func jacobian(x *[6]r2.Vec, l [3]float64) (d1, d2 r2.Vec) {
	g0, g1, g2 := 4*l[0]-1, 4*l[1]-1, 4*l[2]-1
	d1 = r2.Vec{
		X: g1*x[1].X - g0*x[0].X + 4*((l[0]-l[1])*x[3].X+l[2]*(x[4].X-x[5].X)),
		Y: g1*x[1].Y - g0*x[0].Y + 4*((l[0]-l[1])*x[3].Y+l[2]*(x[4].Y-x[5].Y)),
	}
	d2 = r2.Vec{
		X: g2*x[2].X - g0*x[0].X + 4*((l[0]-l[2])*x[5].X+l[1]*(x[4].X-x[3].X)),
		Y: g2*x[2].Y - g0*x[0].Y + 4*((l[0]-l[2])*x[5].Y+l[1]*(x[4].Y-x[3].Y)),
	}
	return d1, d2
}

// distortion is a lower bound of the Jacobian determinant over a whole quadratic triangle, divided by that of the straight triangle
// with the same vertices: 1 when straight, positive only when the map is one-to-one everywhere. The determinant is a quadratic
// polynomial, so it is bounded by its six Bernstein coefficients (A. Johnen, J.-F. Remacle, C. Geuzaine, Geometrical validity of
// curvilinear finite elements, J. Comput. Phys. 233 (2013) 359-372).
func distortion(x *[6]r2.Vec) float64 {
	straight := r2.Cross(r2.Sub(x[1], x[0]), r2.Sub(x[2], x[0]))
	if straight <= 0 {
		return math.Inf(-1)
	}
	det := func(l [3]float64) float64 {
		d1, d2 := jacobian(x, l)
		return r2.Cross(d1, d2)
	}
	v := [3]float64{det([3]float64{1, 0, 0}), det([3]float64{0, 1, 0}), det([3]float64{0, 0, 1})}
	e := [3]float64{det([3]float64{0.5, 0.5, 0}), det([3]float64{0, 0.5, 0.5}), det([3]float64{0.5, 0, 0.5})}
	least := min(v[0], v[1], v[2])
	for i := range 3 {
		least = min(least, 2*e[i]-(v[i]+v[(i+1)%3])/2)
	}
	return least / straight
}

// leastDistortion is what every curved triangle keeps; where a cusp between curves forbids it, the arc's mid node is drawn to the chord.
const leastDistortion = 0.1

func (m *Mesh) corners(t int) (x [6]r2.Vec) {
	for i, n := range m.Triangles[t] {
		x[i] = m.Nodes[n]
	}
	return x
}

// unbend draws mid nodes of arcs towards their chords by quarters where a triangle would be too distorted otherwise.
func (m *Mesh) unbend() {
	var curved []int
	for t := range m.Triangles {
		if m.Curved(t) {
			curved = append(curved, t)
		}
	}
	bend := make(map[int32]float64)
	// an edge is drawn at most four times and every round but the last draws one
	for changed := true; changed; {
		changed = false
		for _, t := range curved {
			tri := m.Triangles[t]
			if x := m.corners(t); distortion(&x) >= leastDistortion {
				continue
			}
			for e := range 3 {
				n := tri[3+e]
				on := m.on[int(n)-m.Vertices]
				f, seen := bend[n]
				if on == 0 || m.curves[on-1].straight() || seen && f == 0 {
					continue
				}
				if !seen {
					f = 1
				}
				f -= 0.25
				bend[n] = f
				changed = true
				a, b := m.Nodes[tri[e]], m.Nodes[tri[(e+1)%3]]
				chord, arc := curve{}.middle(a, b), m.curves[on-1].middle(a, b)
				m.Nodes[n] = r2.Add(r2.Scale(1-f, chord), r2.Scale(f, arc))
			}
		}
	}
}

// hilbert is the place of a point of the unit square on a Hilbert curve of 26 levels.
// J. K. Lawder, Calculation of mappings between one and n-dimensional values using the Hilbert space-filling curve (2000), for n = 2.
func hilbert(u, v float64) uint64 {
	const levels = 26
	clamp := func(w float64) uint32 { return uint32(math.Max(0, math.Min(w, 1)) * (1<<levels - 1)) }
	x, y := clamp(u), clamp(v)
	var d uint64
	for s := uint32(1) << (levels - 1); s > 0; s >>= 1 {
		rx, ry := uint32(0), uint32(0)
		if x&s != 0 {
			rx = 1
		}
		if y&s != 0 {
			ry = 1
		}
		d = d<<2 | uint64((3*rx)^ry)
		if ry == 0 { // turn the quadrant
			if rx == 1 {
				x, y = ^x, ^y
			}
			x, y = y, x
		}
	}
	return d
}

// Neighbors gives for each triangle the one across each of its three edges, -1 on the boundary.
func (m *Mesh) Neighbors() [][3]int32 {
	first := make(map[int32]int32, 2*len(m.Triangles)) // by mid node: 3*triangle+edge
	out := make([][3]int32, len(m.Triangles))
	for t, tri := range m.Triangles {
		out[t] = [3]int32{-1, -1, -1}
		for e := range 3 {
			n := tri[3+e]
			if o, ok := first[n]; ok {
				out[t][e] = o / 3
				out[o/3][o%3] = int32(t)
			} else {
				first[n] = int32(3*t + e)
			}
		}
	}
	return out
}
