package magnetostatic

import (
	"math"
	"slices"

	"polewright/freefield"
	"polewright/grid"
)

// This file holds the weights of the shells in which bodies move (forces.go).
//
//   - A magnet alone moves with all of its nodes but those that it shares with others and those next to them. Its stress is nearly linear
//     in B there, so that the field's slow part at the corners of contact, whose square is what converges slowly, stays out of it.
//   - Steel moves with the magnets that touch it, and the force on these is taken off again: no shell ends at their common corners.
//   - Where steel touches steel, one of the two moves the nodes in common, and the weight falls within the other one. What is inaccurate is the
//     field on the faces of that one next to the corner between both, and acts across these faces. As a rule one body stands with its
//     edge on a face of the other that goes on beyond: so the other one moves the nodes where the force across the contact is asked
//     for, and the one that stands on it where that along the contact is.

// shells holds the weights. Shell k belongs to body k; of steel on steel it has one or two components of the force, and further shells the others.
type shells struct {
	of     [][]int32 // shells that hold each body, its own first
	own    [][]int32 // of each body, its own
	body   []int32   // of each shell
	axes   []axes    // of each shell, the components of the force that it is for
	seats  map[[2]int32]*seat
	touch  labels // bodies that meet at each node, mirror images included
	at     labels // shells whose weight is 1 at each node
	magnet []bool
	loose  []bool            // bodies that the grid does not follow: their cells are all that hold a piece of them
	beside []bool            // magnets that touch others: the field at their common edges needs its closed form
	pairs  []*pair           // of those of them whose force is taken by closed forms, else nil
	closed freefield.Sources // the closed forms, as they are
	mean   []Vec             // T, polarization of bodies that are empty space but for their closed form
	volume []float64         // m3, all images together; endless for bodies of air
	image  []int32           // of each body, the first of itself and its mirror images
}

// soft tells whether a body is one that is not a magnet.
func (sh *shells) soft(body int32) bool { return body >= 0 && !sh.magnet[body] }

// steel tells whether a body carries flux better than air.
func (sh *shells) steel(body int32) bool { return sh.soft(body) && !math.IsInf(sh.volume[body], 1) }

// onSteel tells whether a body is a magnet that touches steel.
func (sh *shells) onSteel(body int32) bool { return sh.magnet[body] && len(sh.of[body]) > 1 }

// axes is a set of the axes of the grid, bit k for axis k.
type axes uint8

const allAxes axes = 7

// of is the part of a vector along the axes.
func (a axes) of(f [3]float64) [3]float64 {
	for k := range f {
		if a>>k&1 == 0 {
			f[k] = 0
		}
	}
	return f
}

// seat is where two bodies of steel touch.
type seat struct {
	area   [3]float64 // seen along each axis
	across axes       // those that the contact lies across
	rim    []rim
}

// rim is a node at the rim of a contact: there one body's face goes on, and the other one stands on it with an edge.
type rim struct {
	at    [3]float64
	ledge int32 // the body that goes on, the first of its mirror images
	side  axes  // those that the other body's faces beside the edge lie across
}

// in tells whether a body belongs to a shell.
func (sh *shells) in(k, body int32) bool { return body >= 0 && slices.Contains(sh.of[body], k) }

// newShells chooses the weights.
func (s *Solution) newShells() *shells {
	n := len(s.Problem.Media)
	sh := &shells{of: make([][]int32, n), magnet: make([]bool, n), loose: make([]bool, n), beside: make([]bool, n), volume: make([]float64, n)}
	for b := range n {
		sh.of[b] = []int32{int32(b)}
		sh.magnet[b] = s.Problem.Media[b].Polarization != (Vec{})
		sh.loose[b] = !s.Problem.Grids.Fits[b]
	}
	nl := s.Grid.Layers()
	held := make([]float64, n)
	for t := range s.Grid.Plan.Triangles {
		for l := range nl {
			own := s.bodyOf(t*nl + l)
			if own < 0 {
				continue
			}
			area, _ := s.faceArea(t, l, 0)
			held[own] += area * (s.Grid.Faces[l+1] - s.Grid.Faces[l])
			if !sh.magnet[own] {
				continue
			}
			for _, o := range s.sides(t, l) {
				if o >= 0 && o != own && sh.magnet[o] {
					sh.beside[own] = true
				}
				if o >= 0 && !sh.magnet[o] && !slices.Contains(sh.of[own], o) {
					sh.of[own] = append(sh.of[own], o)
				}
			}
		}
	}
	for b := range n {
		s.eachImage(b, func(j int, _ [3]float64, _ float64) { sh.volume[b] += held[j] })
		if m := &s.Problem.Media[b]; m.isotropic() && m.RelativeUU == 1 && !sh.magnet[b] && !sh.loose[b] {
			sh.volume[b] = math.Inf(1) // a coil: its stress is not free of divergence within it
		}
	}
	s.pairUp(sh)
	sh.touch = s.bodiesAtNodes()
	s.findSeats(sh)
	sh.at = newLabels(len(sh.touch.of))
	for node := range sh.touch.of {
		for _, b := range sh.touch.at(node) {
			for _, k := range sh.of[b] {
				if !sh.at.has(node, k) && s.moves(sh, k, node) {
					sh.at.add(node, k)
				}
			}
		}
	}
	s.widen(sh)
	s.keepClear(sh)
	s.closePlanes(sh)
	return sh
}

// owns tells whether shell k moves a node that its body shares with b, by the nearest rim of their contact. For a force across the contact the body that
// goes on does, for one along it, of the rims whose side faces it pushes, the one with the edge. Without such a rim it is the larger body and the
// smaller one.
func (s *Solution) owns(sh *shells, k, b int32, node int) bool {
	a := sh.body[k]
	if sh.loose[a] != sh.loose[b] {
		return sh.loose[a]
	}
	seat := sh.seats[seatOf(sh.image[a], sh.image[b])]
	along := seat != nil && seat.across&sh.axes[k] == 0
	if seat != nil {
		at, least, ledge := s.nodeAt(node), math.Inf(1), int32(-1)
		for i := range seat.rim {
			if r := &seat.rim[i]; !along || r.side&sh.axes[k] != 0 {
				if d := math.Hypot(math.Hypot(at[0]-r.at[0], at[1]-r.at[1]), at[2]-r.at[2]); d < least*(1-1e-9) {
					least, ledge = d, r.ledge
				}
			}
		}
		if ledge >= 0 {
			return (ledge == sh.image[a]) != along
		}
	}
	if d := sh.volume[a] - sh.volume[b]; math.Abs(d) > 1e-6*sh.volume[a] {
		return (d > 0) != along
	}
	return a < b
}

func seatOf(a, b int32) [2]int32 { return [2]int32{min(a, b), max(a, b)} }

// nodeAt is the place of a node in the grid's frame.
func (s *Solution) nodeAt(node int) [3]float64 {
	r := s.Grid.Plan.Nodes[node/s.sys.nz]
	return s.sys.warps.Apply([3]float64{r.X, r.Y, s.sys.height(node % s.sys.nz)})
}

// findSeats finds where steel touches steel and gives the bodies there a shell for each component of the force.
func (s *Solution) findSeats(sh *shells) {
	n := int32(len(sh.of))
	sh.seats, sh.image, sh.own = map[[2]int32]*seat{}, make([]int32, n), make([][]int32, n)
	for b := range n {
		sh.image[b] = b
		s.eachImage(int(b), func(j int, _ [3]float64, _ float64) { sh.image[b] = min(sh.image[b], int32(j)) })
		sh.own[b], sh.body, sh.axes = []int32{b}, append(sh.body, b), append(sh.axes, allAxes)
	}
	// contact is a node where a body touches another one: the normal out of it, and what its other faces there are like.
	type contact struct {
		normal [3]float64
		ledge  bool
		side   axes
	}
	type bodies struct {
		node       int
		own, other int32
	}
	contacts := map[bodies]*contact{}
	var order []bodies
	s.eachSteelFace(sh, func(own, other int32, nodes []int, area float64, normal [3]float64) {
		if !sh.steel(other) || sh.loose[own] || sh.loose[other] {
			return
		}
		pair := seatOf(sh.image[own], sh.image[other])
		if sh.seats[pair] == nil {
			sh.seats[pair] = &seat{}
		}
		for k := range 3 {
			sh.seats[pair].area[k] += area * math.Abs(normal[k])
		}
		for _, node := range nodes {
			if id := (bodies{node, own, other}); contacts[id] == nil {
				contacts[id] = &contact{normal: normal}
				order = append(order, id)
			}
		}
	})
	if len(sh.seats) == 0 {
		return
	}
	s.eachSteelFace(sh, func(own, other int32, nodes []int, _ float64, normal [3]float64) {
		if sh.steel(other) {
			return
		}
		for _, node := range nodes {
			for _, b := range sh.touch.at(node) {
				c := contacts[bodies{node, own, b}]
				if c == nil {
					continue
				}
				if dot := c.normal[0]*normal[0] + c.normal[1]*normal[1] + c.normal[2]*normal[2]; dot > 0.9 {
					c.ledge = true
				} else if math.Abs(dot) < 0.5 {
					c.side |= mostly(normal)
				}
			}
		}
	})
	touches := make([]bool, n)
	for _, id := range order {
		mine, theirs := contacts[id], contacts[bodies{id.node, id.other, id.own}]
		seat := sh.seats[seatOf(sh.image[id.own], sh.image[id.other])]
		if theirs != nil && mine.ledge && !theirs.ledge {
			seat.rim = append(seat.rim, rim{s.nodeAt(id.node), sh.image[id.own], theirs.side})
		}
		touches[sh.image[id.own]], touches[sh.image[id.other]] = true, true
	}
	for _, seat := range sh.seats {
		seat.across = mostly(seat.area)
	}
	for b := range n {
		if !touches[sh.image[b]] {
			continue
		}
		sh.axes[b] = 1
		for k := range 2 {
			sh.own[b] = append(sh.own[b], int32(len(sh.body)))
			sh.body, sh.axes = append(sh.body, b), append(sh.axes, 2<<k)
		}
	}
	for b, of := range sh.of {
		sh.of[b] = nil
		for _, o := range of {
			sh.of[b] = append(sh.of[b], sh.own[o]...)
		}
	}
}

// mostly gives the axes along which a vector is not short.
func mostly(v [3]float64) (a axes) {
	for k, x := range v {
		if math.Abs(x) > 0.3*math.Max(math.Abs(v[0]), math.Max(math.Abs(v[1]), math.Abs(v[2]))) {
			a |= 1 << k
		}
	}
	return a
}

// eachSteelFace visits the faces between steel and other bodies or air with those of their nodes at which bodies meet.
func (s *Solution) eachSteelFace(sh *shells, visit func(own, other int32, nodes []int, area float64, normal [3]float64)) {
	nl := s.Grid.Layers()
	var meet []int
	for t := range s.Grid.Plan.Triangles {
		for l := range nl {
			own := s.bodyOf(t*nl + l)
			if !sh.steel(own) {
				continue
			}
			nodes := s.cellNodeNumbers(t, l)
			if !slices.ContainsFunc(nodes[:], func(n int) bool { return len(sh.touch.at(n)) > 1 }) {
				continue
			}
			for i, other := range s.sides(t, l) {
				if other == own || other == outOfGrid {
					continue
				}
				meet = meet[:0]
				for b, node := range nodes {
					if faceNodes(i)>>b&1 == 1 && len(sh.touch.at(node)) > 1 {
						meet = append(meet, node)
					}
				}
				if len(meet) > 0 {
					area, normal := s.faceArea(t, l, i)
					visit(own, other, meet, area, normal)
				}
			}
		}
	}
}

// moves tells whether a node at which bodies meet moves with a shell.
func (s *Solution) moves(sh *shells, k int32, node int) bool {
	bodies := sh.touch.at(node)
	for _, b := range bodies {
		if !sh.in(k, b) {
			if sh.loose[sh.body[k]] && slices.Contains(bodies, sh.body[k]) && !sh.loose[b] {
				continue
			}
			return !slices.ContainsFunc(bodies, func(o int32) bool {
				return sh.magnet[o] && sh.in(k, o) || !sh.in(k, o) && !s.owns(sh, k, o, node)
			})
		}
	}
	return true
}

// bodiesAtNodes lists the bodies whose cells, or whose mirror images' cells, meet at each node.
func (s *Solution) bodiesAtNodes() labels {
	nl := s.Grid.Layers()
	nz := 2*nl + 1
	at := newLabels(s.sys.np * nz)
	for t, tri := range s.Grid.Plan.Triangles {
		for l := range nl {
			body := s.bodyOf(t*nl + l)
			if body < 0 {
				continue
			}
			for _, p := range tri {
				for i := range 3 {
					at.add(int(p)*nz+2*l+i, body)
				}
			}
		}
	}
	s.eachPlaneNode(func(node, axis int) {
		for _, b := range at.at(node) {
			at.add(node, int32(s.Problem.Grids.Partner[axis][b]))
		}
	})
	return at
}

// eachPlaneNode visits the nodes on each plane of symmetry, with its world axis.
func (s *Solution) eachPlaneNode(visit func(node, axis int)) {
	g := s.Problem.Grids
	nz := 2*s.Grid.Layers() + 1
	tol := 1e-9 * g.Scale
	for k, par := range g.Parity() {
		if par == grid.None {
			continue
		}
		for p, r := range s.Grid.Plan.Nodes {
			if k == 2 {
				visit(p*nz, g.Axis)
				continue
			}
			if math.Abs([2]float64{r.X, r.Y}[k]) > tol {
				continue
			}
			for i := range nz {
				visit(p*nz+i, (g.Axis+1+k)%3)
			}
		}
	}
}

// cellNodeNumbers numbers the nodes of a cell.
func (s *Solution) cellNodeNumbers(t, l int) (nodes [18]int) {
	for a, p := range s.Grid.Plan.Triangles[t] {
		for i := range 3 {
			nodes[3*a+i] = int(p)*s.sys.nz + 2*l + i
		}
	}
	return nodes
}

// eachCell visits the cells with the numbers of their nodes.
func (s *Solution) eachCell(visit func(body int32, nodes *[18]int)) {
	nl := s.Grid.Layers()
	var nodes [18]int // once for all: visit takes its address
	for t := range s.Grid.Plan.Triangles {
		for l := range nl {
			nodes = s.cellNodeNumbers(t, l)
			visit(s.bodyOf(t*nl+l), &nodes)
		}
	}
}

// widen gives each shell the nodes of the air cells at it too: they hold the singular field of its edges, which costs 0.4 % of a block's
// force and more of its torque where the weight falls within them, and 0.02 % where it falls one cell further out. Magnets that stand alone get two more
// such layers, as far as no other body's begin: the force on one may be a thousandth of what its own field pulls each of its halves with.
func (s *Solution) widen(sh *shells) {
	s.widenBy(sh, func(k int32, _ int) bool { return !math.IsInf(sh.volume[sh.body[k]], 1) })
	alone := func(b int32) bool { return sh.magnet[b] && len(sh.of[b]) == 1 && !sh.beside[b] }
	if !slices.ContainsFunc(sh.body, alone) {
		return
	}
	first := sh.at.clone()
	for range 2 {
		s.widenBy(sh, func(k int32, node int) bool {
			return alone(sh.body[k]) && !slices.ContainsFunc(first.at(node), func(o int32) bool { return o != k })
		})
	}
}

// widenBy gives shells the nodes of the air cells at them, where they may have them.
func (s *Solution) widenBy(sh *shells, may func(k int32, node int) bool) {
	wider := sh.at.clone()
	s.eachCell(func(body int32, nodes *[18]int) {
		if body >= 0 {
			return
		}
		for _, from := range nodes {
			for _, k := range sh.at.at(from) {
				for _, node := range nodes {
					if sh.touch.of[node] == 0 && !wider.has(node, k) && may(k, node) {
						wider.add(node, k)
					}
				}
			}
		}
	})
	sh.at = wider
}

// keepClear takes out of a shell the nodes next to where one of its magnets touches steel outside it, but for its own steel.
func (s *Solution) keepClear(sh *shells) {
	bad := newLabels(len(sh.at.of)) // at the contact itself
	for node := range sh.touch.of {
		bodies := sh.touch.at(node)
		for _, m := range bodies {
			if len(bodies) < 2 || !sh.magnet[m] {
				continue
			}
			for _, k := range sh.of[m] {
				if slices.ContainsFunc(bodies, func(o int32) bool { return !sh.in(k, o) }) {
					bad.add(node, k)
				}
			}
		}
	}
	near := newLabels(len(sh.at.of))
	s.eachCell(func(_ int32, nodes *[18]int) {
		for _, from := range nodes {
			for _, k := range bad.at(from) {
				for _, node := range nodes {
					if sh.magnet[sh.body[k]] || !sh.touch.has(node, sh.body[k]) {
						near.add(node, k)
					}
				}
			}
		}
	})
	for node, list := range near.of {
		if list != 0 {
			sh.at.keep(node, func(k int32) bool { return !near.has(node, k) })
		}
	}
}

// closePlanes makes the weights steady across the planes of symmetry, on whose other side a shell is that of the mirror image.
func (s *Solution) closePlanes(sh *shells) {
	s.eachPlaneNode(func(node, axis int) {
		partner := s.Problem.Grids.Partner[axis]
		all := sh.at.at(node)
		sh.at.keep(node, func(k int32) bool {
			b := sh.body[k]
			return slices.Contains(all, sh.own[partner[b]][slices.Index(sh.own[b], k)])
		})
	})
}

// mask marks the nodes of a cell at which a shell's weight is 1: bit 3*a+i for plan node a and layer node i.
type mask struct {
	shell int32
	bits  uint32
	in    float64 // 1 if the cell's body belongs to the shell
	axes  axes
}

const allNodes = 1<<18 - 1

// masks lists the shells that count in a cell: those whose weight is not 0 on all nodes of a cell outside, or not 1 on all nodes of one inside.
func (s *Solution) masks(sh *shells, t, l int, out []mask) []mask {
	nl := s.Grid.Layers()
	nz := 2*nl + 1
	own := s.bodyOf(t*nl + l)
	out = out[:0]
	if own >= 0 {
		for _, k := range sh.of[own] {
			out = append(out, mask{shell: k, in: 1, axes: sh.axes[k]})
		}
	}
	for a, p := range s.Grid.Plan.Triangles[t] {
		for i := range 3 {
			for _, k := range sh.at.at(int(p)*nz + 2*l + i) {
				j := slices.IndexFunc(out, func(m mask) bool { return m.shell == k })
				if j < 0 {
					j, out = len(out), append(out, mask{shell: k, axes: sh.axes[k]})
				}
				out[j].bits |= 1 << (3*a + i)
			}
		}
	}
	out = slices.DeleteFunc(out, func(m mask) bool {
		return sh.pairs[sh.body[m.shell]] != nil || m.bits == allNodes && (m.in == 1 || own < 0)
	})
	// Shells of one body that do not differ here go as one: all that they are given is added up in the end.
	kept := out[:0]
	for _, m := range out {
		i := slices.IndexFunc(kept, func(o mask) bool { return o.bits == m.bits && o.in == m.in && sh.body[o.shell] == sh.body[m.shell] })
		if i < 0 {
			kept = append(kept, m)
			continue
		}
		kept[i].axes |= m.axes
	}
	return kept
}

// at is the weight with its gradient at a quadrature point.
func (m *mask) at(e *planElement, h float64, pq, zq int) (value float64, grad [3]float64) {
	for a := range 6 {
		bits := m.bits >> (3 * a) & 7
		if bits == 0 {
			continue
		}
		var ln, ld float64
		for i := range 3 {
			if bits>>i&1 == 1 {
				ln += layerShape[zq][i]
				ld += layerSlope[zq][i] / h
			}
		}
		value += triangleN[pq][a] * ln
		grad[0] += e.gu[pq][a] * ln
		grad[1] += e.gv[pq][a] * ln
		grad[2] += triangleN[pq][a] * ld
	}
	return value, grad
}

// on is the weight at a point of a face.
func (m *mask) on(p *facePoint) (value float64) {
	for a := range 6 {
		for i := range 3 {
			if m.bits>>(3*a+i)&1 == 1 {
				value += p.plan[a] * p.layer[i]
			}
		}
	}
	return value
}
