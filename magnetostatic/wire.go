package magnetostatic

import (
	"math"
	"slices"
)

// This file holds the second coarse grid of the cycle, for wound yokes. Steel wire leads flux along itself hundreds of times better than the
// winding does across. What is then slow is a potential that is even along the wire and not across it: relaxing nodes one by one hardly moves
// it, and a coarser plan does not see it. So windings get a grid of their own that follows the wire, long along it and fine across, and its
// correction is added to that of the coarser plan. Its equations are Galerkin's, solved plane by plane as those of stage 2.

const (
	wireStep  = 3 // along the wire, over the distance of plan nodes
	wireCross = 1 // across it
	// Wire nodes that see the same few plan nodes depend on each other: so much is added to the diagonal.
	wireShift = 1e-4
)

// wire is the grid along the wires of all windings of one grid.
type wire struct {
	planes   *planes
	down     transfer
	restrict func(lo, hi int)
	r        []float32
}

// newWire lays the grid, or returns nil where no winding tells where its wires run.
func newWire(s *system) (*wire, error) {
	w := wireGrid{weights: make([][]wireWeight, s.np)}
	for m := range s.media {
		if s.media[m].Along != nil {
			w.add(s, int32(m))
		}
	}
	if w.nodes == 0 {
		return nil, nil
	}
	var start, col []int32
	var weight []float64
	start = append(start, 0)
	used := make([]bool, w.nodes)
	for p, ws := range w.weights {
		if !s.fixed.column[p] {
			for _, x := range ws {
				col, weight = append(col, x.node), append(weight, x.w)
				used[x.node] = true
			}
		}
		start = append(start, int32(len(col)))
	}
	// Nodes of one triangle couple all their wire nodes.
	elements := make([][]int32, 0, len(s.mesh.Triangles)+w.nodes)
	for _, tri := range s.mesh.Triangles {
		var el []int32
		for _, n := range tri {
			for i := start[n]; i < start[n+1]; i++ {
				if !slices.Contains(el, col[i]) {
					el = append(el, col[i])
				}
			}
		}
		if el != nil {
			elements = append(elements, el)
		}
	}
	f := &fixed{column: make([]bool, w.nodes), bottom: s.fixed.bottom, top: s.fixed.top}
	for n, u := range used {
		f.column[n] = !u
	}
	g := &wire{down: newTransfer(s.np, w.nodes, start, col, weight)}
	var err error
	if g.planes, err = newPlanes(s.team, elements, w.nodes, s.faces, f); err != nil {
		return nil, err
	}
	g.restrict = func(lo, hi int) {
		for q := lo; q < hi; q++ {
			g.planes.receive(&g.down, g.r, q)
		}
	}
	return g, nil
}

// factor takes the matrix from that of the columns.
func (g *wire) factor(c *columns) error {
	p := g.planes
	p.takeFromColumns(c, &g.down)
	for q := range p.np {
		d := p.block(p.self[q])
		for k := range p.nz {
			d[entry(k, 0)] *= 1 + wireShift
		}
	}
	return p.factor()
}

// cycle solves for the residual r of the columns.
func (g *wire) cycle(r []float32) {
	g.r = r
	g.planes.team.run(g.planes.np, 4*g.planes.nz, g.restrict)
	g.planes.cycle()
}

type wireWeight struct {
	node int32
	w    float64
}

// wireGrid collects the interpolation from the wire nodes of all windings to the plan nodes.
type wireGrid struct {
	nodes   int
	weights [][]wireWeight
}

// add lays a lattice along and across the wire of one winding.
func (w *wireGrid) add(s *system, medium int32) {
	m := &s.media[medium]
	type place struct {
		node      int
		at, cross float64
	}
	var places []place
	var area float64
	seen := make([]bool, s.np)
	for t, tri := range s.mesh.Triangles {
		if !slices.Contains(s.cell[t*s.nl:(t+1)*s.nl], medium) {
			continue
		}
		for _, x := range s.els[t].w {
			area += x
		}
		for _, n := range tri {
			if !seen[n] {
				seen[n] = true
				at, cross := m.Along(s.mesh.Nodes[n].X, s.mesh.Nodes[n].Y)
				places = append(places, place{int(n), at, cross})
			}
		}
	}
	if len(places) == 0 {
		return
	}
	// Count from behind the longest stretch without any node: symmetry may leave a part of the turn only.
	slices.SortFunc(places, func(a, b place) int {
		switch {
		case a.at < b.at:
			return -1
		case a.at > b.at:
			return 1
		}
		return a.node - b.node
	})
	last := len(places) - 1
	gap, from := places[0].at+m.Turn-places[last].at, places[0].at
	low, high := math.Inf(1), math.Inf(-1)
	for i, p := range places {
		low, high = math.Min(low, p.cross), math.Max(high, p.cross)
		if i < last && places[i+1].at-p.at > gap {
			gap, from = places[i+1].at-p.at, places[i+1].at
		}
	}
	step := math.Sqrt(area / float64(len(places)))
	closed := gap < m.Turn/8
	length := m.Turn - gap
	if closed {
		length = m.Turn
	}
	ns, nc := max(1, int(math.Round(length/(wireStep*step)))), max(1, int(math.Round((high-low)/(wireCross*step))))
	rows := ns + 1
	if closed {
		rows = ns
	}
	for _, p := range places {
		a := math.Mod(p.at-from+m.Turn, m.Turn) / length * float64(ns)
		c := (p.cross - low) / (high - low) * float64(nc)
		i, j := min(int(a), ns-1), min(int(c), nc-1)
		a, c = a-float64(i), c-float64(j)
		for k, wa := range [2]float64{1 - a, a} {
			for l, wc := range [2]float64{1 - c, c} {
				if x := wa * wc; x > 1e-3 {
					w.weights[p.node] = append(w.weights[p.node], wireWeight{int32(w.nodes + (i+k)%rows*(nc+1) + j + l), x})
				}
			}
		}
	}
	w.nodes += rows * (nc + 1)
}
