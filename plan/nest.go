package plan

import "gonum.org/v1/gonum/spatial/r2"

// Prolongation carries values at the nodes of a mesh to the nodes of the mesh refined from it, by the quadratic shape functions of the
// coarse triangles at the fine nodes' area coordinates: for fine node i the sum of Weight[k]*value[Coarse[k]] over
// Start[i] <= k < Start[i+1]. There are one, three or five terms to a node.
type Prolongation struct {
	Start  []int32
	Coarse []int32
	Weight []float64
}

// Apply sets fine to the values at the fine nodes of the coarse nodes' values. fine must have len(Start)-1 entries.
func (p *Prolongation) Apply(fine, coarse []float64) {
	for i := range fine {
		sum := 0.0
		for k := p.Start[i]; k < p.Start[i+1]; k++ {
			sum += p.Weight[k] * coarse[p.Coarse[k]]
		}
		fine[i] = sum
	}
}

// Refine splits each triangle into four. New vertices are the nodes at the middle of edges, so that those on arcs lie on their arcs,
// and new mid nodes on arcs are put there too. Triangles 4t to 4t+3 of the fine mesh come from triangle t.
func (m *Mesh) Refine() (*Mesh, *Prolongation) {
	coarseEdges := len(m.Nodes) - m.Vertices
	triangles := len(m.Triangles)
	f := &Mesh{
		Vertices: len(m.Nodes), min: m.min, max: m.max, curves: m.curves,
		Nodes:     make([]r2.Vec, len(m.Nodes)+2*coarseEdges+3*triangles),
		Triangles: make([][6]int32, 4*triangles),
		on:        make([]int32, 2*coarseEdges+3*triangles),
	}
	p := &Prolongation{
		Start:  make([]int32, 1, len(f.Nodes)+1),
		Coarse: make([]int32, 0, len(m.Nodes)+6*coarseEdges+15*triangles),
		Weight: make([]float64, 0, len(m.Nodes)+6*coarseEdges+15*triangles),
	}
	at := m.fineVertices()

	// Vertices and edges are numbered in the order in which the triangles meet them: nodes far apart in memory are far apart in space.
	vertex := make([]int32, len(m.Nodes)) // 1 + the fine number of each coarse node
	half := make([]int32, 2*coarseEdges)  // 1 + the fine number of the half of each edge at its lower and at its higher vertex
	vertices, edges := int32(0), int32(f.Vertices)
	for _, tri := range m.Triangles {
		for _, n := range [6]int32{tri[0], tri[3], tri[5], tri[4], tri[1], tri[2]} {
			if vertex[n] == 0 {
				f.Nodes[vertices] = at[n]
				p.add(n, 1)
				vertices++
				vertex[n] = vertices
			}
		}
	}
	for t, tri := range m.Triangles {
		var v [6]int32
		for i, n := range tri {
			v[i] = vertex[n] - 1
		}
		var halves [3][2]int32 // of each edge, at its first and second vertex in this triangle
		for e := range 3 {
			a, b, n := tri[e], tri[(e+1)%3], tri[3+e]
			edge := int(n) - m.Vertices
			for h := range 2 {
				end, other := a, b
				if h == 1 {
					end, other = b, a
				}
				k := 2 * edge
				if end > other {
					k++
				}
				if half[k] == 0 {
					on := m.on[edge]
					c := curve{}
					if on != 0 {
						c = m.curves[on-1]
					}
					f.Nodes[edges] = c.middle(at[end], at[n])
					f.on[int(edges)-f.Vertices] = on
					p.add3(end, other, n)
					edges++
					half[k] = edges
				}
				halves[e][h] = half[k] - 1
			}
		}
		inner := edges // the edge cut off from vertex i is inner+i
		for i := range 3 {
			a, b := v[3+i], v[3+(i+2)%3]
			f.Nodes[edges] = curve{}.middle(f.Nodes[a], f.Nodes[b])
			j, k := (i+1)%3, (i+2)%3
			// area coordinates 1/2, 1/4, 1/4
			p.Coarse = append(p.Coarse, tri[j], tri[k], tri[3+i], tri[3+j], tri[3+k])
			p.Weight = append(p.Weight, -0.125, -0.125, 0.5, 0.25, 0.5)
			p.Start = append(p.Start, int32(len(p.Coarse)))
			edges++
		}
		child := f.Triangles[4*t:]
		child[0] = [6]int32{v[0], v[3], v[5], halves[0][0], inner, halves[2][1]}
		child[1] = [6]int32{v[3], v[4], v[5], inner + 1, inner + 2, inner}
		child[2] = [6]int32{v[3], v[1], v[4], halves[0][1], halves[1][0], inner + 1}
		child[3] = [6]int32{v[5], v[4], v[2], inner + 2, halves[1][1], halves[2][0]}
	}
	f.unbend()
	return f, p
}

// children are the vertices of the four parts of a triangle among its nodes.
var children = [4][3]int{{0, 3, 5}, {3, 4, 5}, {3, 1, 4}, {5, 4, 2}}

func (p *Prolongation) add(n int32, w float64) {
	p.Coarse = append(p.Coarse, n)
	p.Weight = append(p.Weight, w)
	p.Start = append(p.Start, int32(len(p.Coarse)))
}

// add3 adds a point a quarter of the way along an edge from end to other with the middle node n.
func (p *Prolongation) add3(end, other, n int32) {
	p.Coarse = append(p.Coarse, end, n, other)
	p.Weight = append(p.Weight, 0.375, 0.75, -0.125)
	p.Start = append(p.Start, int32(len(p.Coarse)))
}

// fineVertices places the coarse nodes as vertices of the fine mesh. Mid nodes that unbend drew off their arcs go back onto them, if that leaves all
// fine triangles well the right way round.
func (m *Mesh) fineVertices() []r2.Vec {
	at := m.Nodes
	moved := false
	for t, tri := range m.Triangles {
		if !m.Curved(t) {
			continue
		}
		for e := range 3 {
			n := tri[3+e]
			on := m.on[int(n)-m.Vertices]
			if on == 0 || m.curves[on-1].straight() {
				continue
			}
			arc := m.curves[on-1].middle(m.Nodes[tri[e]], m.Nodes[tri[(e+1)%3]])
			if r2.Norm(r2.Sub(arc, m.Nodes[n])) < 1e-3*m.curves[on-1].sagitta(m.Nodes[tri[e]], m.Nodes[tri[(e+1)%3]]) {
				continue
			}
			if !moved {
				at = append([]r2.Vec(nil), m.Nodes...)
				moved = true
			}
			at[n] = arc
		}
	}
	for again := moved; again; {
		again = false
		for _, tri := range m.Triangles {
			area := r2.Cross(r2.Sub(at[tri[1]], at[tri[0]]), r2.Sub(at[tri[2]], at[tri[0]]))
			for _, c := range children {
				a, b, d := at[tri[c[0]]], at[tri[c[1]]], at[tri[c[2]]]
				if r2.Cross(r2.Sub(b, a), r2.Sub(d, a)) > 0.02*area {
					continue
				}
				for _, n := range tri[3:] {
					if at[n] != m.Nodes[n] {
						at[n] = m.Nodes[n]
						again = true
					}
				}
			}
		}
	}
	return at
}
