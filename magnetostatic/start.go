package magnetostatic

import (
	"cmp"
	"context"
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r2"

	"polewright/grid"
	"polewright/shape"
)

// This file carries a solved field over to a problem much like it.

// Start is where a solve begins: the field of the last two grids of a problem much like it, such as that of a design changed a little, of
// another temperature or of another load. It saves time only: what is solved, and how well, does not depend on it.
type Start struct {
	turn   shape.Rotation
	axis   int
	parity [3]grid.Parity
	grid   [2]*grid.Grid // coarse, fine
	phi    [2][]float64
	means  [2][]cellMean
}

// StartFrom makes a start of what Solve returned.
func StartFrom(coarse, fine *Solution) *Start {
	g := fine.Problem.Grids
	st := &Start{turn: g.Turn, axis: g.Axis, parity: g.Parity()}
	for i, s := range []*Solution{coarse, fine} {
		st.grid[i], st.phi[i], st.means[i] = s.Grid, s.Phi, s.sys.means(s.Phi)
	}
	return st
}

// Along is the start with what leads from it to others, on grids of the same cells, each so many times. The others' cells are not looked at.
func (st *Start) Along(others []*Start, times []float64) *Start {
	o := *st
	for i := range o.phi {
		o.phi[i] = slices.Clone(st.phi[i])
		for k, other := range others {
			for j, v := range other.phi[i] {
				o.phi[i][j] += times[k] * (v - st.phi[i][j])
			}
		}
	}
	return &o
}

// carried is a start on the last two grids of a problem.
type carried struct {
	phi   [2][]float64
	means [2][]cellMean // of each cell, nil where nodes and cells are those of the start: then the potential alone says it
	nl    [2]int
}

// on puts the start on the last two of the grids, or gives nil when it tells nothing about them.
func (st *Start) on(g *grid.Grids) *carried {
	if st == nil || st.turn != g.Turn || st.axis != g.Axis || st.parity != g.Parity() || len(g.Grid) < 2 {
		return nil
	}
	c := &carried{}
	last := g.Grid[len(g.Grid)-2:]
	if st.same(0, last[0]) && st.same(1, last[1]) {
		c.phi = st.phi
		return c
	}
	for i, to := range last {
		m := st.mapping(i, to)
		c.phi[i] = m.potential(st.phi[i])
		c.means[i] = m.fields(st.means[i])
		c.nl[i] = to.Layers()
	}
	return c
}

// same tells whether nodes can be taken over one by one: the grids are the same but for lengths.
func (st *Start) same(i int, b *grid.Grid) bool {
	a := st.grid[i]
	return a.Layers() == b.Layers() && slices.Equal(a.Plan.Triangles, b.Plan.Triangles) && slices.Equal(a.Cell, b.Cell)
}

// approach makes the first steps on grid i from the carried fields; where nodes were taken over one by one there is nothing to do.
func (c *carried) approach(ctx context.Context, s *solver, i int, phi []float64) (Effort, error) {
	if c.means[i] == nil {
		return Effort{}, nil
	}
	return s.approach(ctx, phi, func(t, l int) *cellMean { return &c.means[i][t*c.nl[i]+l] })
}

// mapping finds the place in an old grid of every place in a new one: bodies lie where bodies lay, and the space between is stretched.
type mapping struct {
	old, new *grid.Grid
	knots    [3][]knot
}

type knot struct{ new, old float64 }

type span struct{ lo, hi float64 }

func (st *Start) mapping(i int, to *grid.Grid) *mapping {
	m := &mapping{old: st.grid[i], new: to}
	a, b := extents(m.old), extents(m.new)
	for k := range 3 {
		var list []knot
		for body := range min(len(a), len(b)) {
			if o, n := a[body][k], b[body][k]; o.lo < o.hi && n.lo < n.hi {
				list = append(list, knot{n.lo, o.lo}, knot{n.hi, o.hi})
			}
		}
		slices.SortFunc(list, func(x, y knot) int {
			return cmp.Or(cmp.Compare(x.new, y.new), cmp.Compare(x.old, y.old))
		})
		for _, x := range list { // only what rises in both
			if n := len(m.knots[k]); n == 0 || x.new > m.knots[k][n-1].new && x.old > m.knots[k][n-1].old {
				m.knots[k] = append(m.knots[k], x)
			}
		}
	}
	return m
}

// extents bounds each body of a grid, and as the first the grid itself; bodies without cells are empty.
func extents(g *grid.Grid) [][3]span {
	nl := g.Layers()
	empty := [3]span{}
	for k := range empty {
		empty[k] = span{math.Inf(1), math.Inf(-1)}
	}
	out := [][3]span{empty}
	for t, tri := range g.Plan.Triangles {
		box := empty
		for _, n := range tri {
			p := g.Plan.Nodes[n]
			for k, x := range [2]float64{p.X, p.Y} {
				box[k] = span{math.Min(box[k].lo, x), math.Max(box[k].hi, x)}
			}
		}
		for l, body := range g.Cell[t*nl : (t+1)*nl] {
			for len(out) < int(body)+2 {
				out = append(out, empty)
			}
			box[2] = span{g.Faces[l], g.Faces[l+1]}
			for _, o := range []*[3]span{&out[0], &out[body+1]} {
				for k := range 3 {
					o[k] = span{math.Min(o[k].lo, box[k].lo), math.Max(o[k].hi, box[k].hi)}
				}
			}
		}
	}
	return out
}

// at is the old place of a new one along an axis of the grid.
func (m *mapping) at(k int, x float64) float64 {
	list := m.knots[k]
	i, _ := slices.BinarySearchFunc(list, x, func(n knot, x float64) int { return cmp.Compare(n.new, x) })
	switch {
	case len(list) == 0:
		return x
	case i == 0:
		return list[0].old
	case i == len(list):
		return list[i-1].old
	}
	a, b := list[i-1], list[i]
	return a.old + (x-a.new)/(b.new-a.new)*(b.old-a.old)
}

// layer finds the old layer of a new height and where in it the height lies.
func (m *mapping) layer(w float64) (l int, frac float64) {
	f := m.old.Faces
	w = m.at(2, w)
	i, _ := slices.BinarySearch(f, w)
	l = min(max(i-1, 0), len(f)-2)
	return l, math.Min(math.Max((w-f[l])/(f[l+1]-f[l]), 0), 1)
}

// potential interpolates the old potential at the new nodes.
func (m *mapping) potential(phi []float64) []float64 {
	nl, old := m.new.Layers(), 2*m.old.Layers()+1
	nz := 2*nl + 1
	layers, weights := make([]int, nz), make([][3]float64, nz)
	for k := range nz {
		w := m.new.Faces[k/2]
		if k%2 == 1 {
			w = (w + m.new.Faces[k/2+1]) / 2
		}
		l, frac := m.layer(w)
		layers[k] = l
		weights[k], _ = lineShape(frac)
	}
	out := make([]float64, m.new.Unknowns())
	for p, n := range m.new.Plan.Nodes {
		t, area, ok := m.old.Plan.Locate(r2.Vec{X: m.at(0, n.X), Y: m.at(1, n.Y)})
		if !ok {
			continue
		}
		shape, _, _ := triangleShape(area[0], area[1], area[2])
		for k := range nz {
			var sum float64
			for a, q := range m.old.Plan.Triangles[t] {
				i := int(q)*old + 2*layers[k]
				sum += shape[a] * (weights[k][0]*phi[i] + weights[k][1]*phi[i+1] + weights[k][2]*phi[i+2])
			}
			out[p*nz+k] = sum
		}
	}
	return out
}

// fields gives the old mean field in each new cell.
func (m *mapping) fields(means []cellMean) []cellMean {
	nl, old := m.new.Layers(), m.old.Layers()
	out := make([]cellMean, len(m.new.Cell))
	layers := make([]int, nl)
	for l := range layers {
		layers[l], _ = m.layer((m.new.Faces[l] + m.new.Faces[l+1]) / 2)
	}
	for t, tri := range m.new.Plan.Triangles {
		a, b, c := m.new.Plan.Nodes[tri[0]], m.new.Plan.Nodes[tri[1]], m.new.Plan.Nodes[tri[2]]
		o, _, ok := m.old.Plan.Locate(r2.Vec{X: m.at(0, (a.X+b.X+c.X)/3), Y: m.at(1, (a.Y+b.Y+c.Y)/3)})
		if !ok {
			continue
		}
		for l := range nl {
			if m.old.Cell[o*old+layers[l]] == m.new.Cell[t*nl+l] {
				out[t*nl+l] = means[o*old+layers[l]]
			}
		}
	}
	return out
}
