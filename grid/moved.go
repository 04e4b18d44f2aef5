package grid

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r2"

	"polewright/shape"
)

// This file lays grids over bodies that have moved a little.

// Moved gives grids for bodies that differ from those of g a little in place and size: the same cells, whose nodes move with the edges of the bodies
// and between these as their neighbours do. The numbers of nodes and cells are those of g, and so is what the cells are too coarse for, nearly. ok is
// false where the bodies have no such grid: of other symmetry, or with edges apart that were one.
func (g *Grids) Moved(s Spec) (o *Grids, ok bool) {
	given := s.Bodies
	s = s.turned()
	o, bodies, err := begin(s)
	if err != nil || o.Turn != g.Turn || o.Axis != g.Axis || o.Symmetry != g.Symmetry || !slices.Equal(o.Fits, g.Fits) || len(g.Warps)+len(o.Warps) > 0 {
		return nil, false
	}
	o.sizes = newSizes(s, o, bodies)
	by, ok := g.planMoves(o)
	if !ok {
		return nil, false
	}
	faces, ok := g.faceMoves(o)
	if !ok {
		return nil, false
	}
	for i, was := range g.Grid {
		if i > 0 {
			var fine [2][]float64
			for k := range fine {
				fine[k] = make([]float64, len(was.Plan.Nodes))
				g.Down[i-1].Apply(fine[k], by[k])
			}
			by, faces = fine, split(faces)
		}
		m, ok := was.Plan.Moved(by[0], by[1], r2.Vec{X: o.Min[0], Y: o.Min[1]}, r2.Vec{X: o.Max[0], Y: o.Max[1]})
		if !ok {
			return nil, false
		}
		o.Grid = append(o.Grid, &Grid{Plan: m, Faces: faces, Cell: was.Cell})
	}
	o.Down = g.Down
	o.inWorld(given)
	return o, true
}

// Same tells whether o are the grids g, or those with their nodes moved.
func (g *Grids) Same(o *Grids) bool {
	last := len(g.Grid) - 1
	return len(o.Grid) == last+1 && len(g.Grid[last].Cell) > 0 && len(o.Grid[last].Cell) > 0 && &g.Grid[last].Cell[0] == &o.Grid[last].Cell[0]
}

// leastMove is what counts as no distance, m.
const leastMove = 1e-9

// move is how far a coordinate of a node goes; free ones follow their neighbours.
type move struct {
	by    float64
	fixed bool
}

// fix says whether it agrees with what was said before.
func (m *move) fix(by float64) bool {
	if m.fixed {
		return math.Abs(by-m.by) < leastMove
	}
	*m = move{by, true}
	return true
}

// planMoves finds how far each node of the base plan goes, along u and along v.
func (g *Grids) planMoves(o *Grids) (by [2][]float64, ok bool) {
	p := g.Grid[0].Plan
	edges, now := g.sizes.curves, o.sizes.curves
	if len(edges) != len(now) {
		return by, false
	}
	moves := make([][2]move, len(p.Nodes))
	for i, at := range p.Nodes {
		m := &moves[i]
		for k, x := range [2]float64{at.X, at.Y} {
			if math.Abs(x-g.Min[k]) < leastMove && !m[k].fix(o.Min[k]-g.Min[k]) || math.Abs(x-g.Max[k]) < leastMove && !m[k].fix(o.Max[k]-g.Max[k]) {
				return by, false
			}
		}
		for e := range edges {
			if edges[e].Distance(at) < leastMove && !follow(m, edges[e], now[e]) {
				return by, false
			}
		}
	}
	for k := range by {
		by[k] = make([]float64, len(moves))
		for i := range moves {
			by[k][i] = moves[i][k].by
		}
	}
	beside := make([][]int32, p.Vertices)
	for _, t := range p.Triangles {
		for e := range 3 {
			a, b := t[e], t[(e+1)%3]
			beside[a], beside[b] = append(beside[a], b), append(beside[b], a)
		}
	}
	const sweeps = 60 // the moves need not be even to the last digit
	for range sweeps {
		for i, near := range beside {
			for k := range by {
				if moves[i][k].fixed {
					continue
				}
				var sum float64
				for _, j := range near {
					sum += by[k][j]
				}
				by[k][i] = sum / float64(len(near))
			}
		}
	}
	for _, t := range p.Triangles {
		for e := range 3 {
			n := t[3+e]
			for k := range by {
				if !moves[n][k].fixed {
					by[k][n] = (by[k][t[e]] + by[k][t[(e+1)%3]]) / 2
				}
			}
		}
	}
	return by, true
}

// follow makes a node on an edge go with it: across it, where it lies along an axis, else both ways.
func follow(m *[2]move, was, now shape.Edge) bool {
	a, b := r2.Sub(now.A, was.A), r2.Sub(now.B, was.B)
	if was.Radius == 0 && now.Radius == 0 {
		if math.Abs(was.A.X-was.B.X) < leastMove && math.Abs(a.X-b.X) < leastMove {
			return m[0].fix(a.X)
		}
		if math.Abs(was.A.Y-was.B.Y) < leastMove && math.Abs(a.Y-b.Y) < leastMove {
			return m[1].fix(a.Y)
		}
	}
	return math.Abs(was.Radius-now.Radius) < leastMove && r2.Norm(r2.Sub(a, b)) < leastMove && m[0].fix(a.X) && m[1].fix(a.Y)
}

// faceMoves gives the faces of the base layers.
func (g *Grids) faceMoves(o *Grids) ([]float64, bool) {
	ends, now := g.sizes.w, o.sizes.w
	if len(ends) != len(now) {
		return nil, false
	}
	faces := slices.Clone(g.Grid[0].Faces)
	moves := make([]move, len(faces))
	moves[0].fix(o.Min[2] - g.Min[2])
	moves[len(moves)-1].fix(o.Max[2] - g.Max[2])
	for i, f := range faces {
		for e := range ends {
			if math.Abs(ends[e].at-f) < 10*leastMove && !moves[i].fix(now[e].at-ends[e].at) {
				return nil, false
			}
		}
	}
	last := 0
	for i := range moves {
		if !moves[i].fixed {
			continue
		}
		for j := last + 1; j < i; j++ {
			t := (faces[j] - faces[last]) / (faces[i] - faces[last])
			moves[j].by = (1-t)*moves[last].by + t*moves[i].by
		}
		last = i
	}
	for i := range faces {
		faces[i] += moves[i].by
		if i > 0 && !(faces[i]-faces[i-1] > leastShare*(g.Grid[0].Faces[i]-g.Grid[0].Faces[i-1])) {
			return nil, false
		}
	}
	return faces, true
}

// leastShare of its height is what a layer keeps.
const leastShare = 0.7
