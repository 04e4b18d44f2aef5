package magnetostatic

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r3"

	"polewright/freefield"
	"polewright/grid"
	"polewright/material"
)

// This file computes the forces between the bodies of a grid.
//
// Each body moves in a shell: a group of bodies with a weight w that is a function of the grid, about 1 on the group and 0 on all other
// bodies. With T the stress, [T] its jump from a body outwards and a thin film of air round every body, the force on the group G is
//
//	F = - int T.grad w dV + sum over faces of bodies b of int ([b in G] - w) (T_film - T_b).n dS
//
// for any w, as T is free of divergence within each body (virtual work; Coulomb 1983). The first integral is as accurate as the energy; the
// second one takes the field on faces, and w is chosen so that little is left of it. It may be another one for each component of the force. The
// weights are in shells.go.

// Forces gives the force (N) and the torque (N m, about each body's own centre) on each body that the grid follows, from all others. Where
// a body touches another one, the force is that with a thin film of air between them: Maxwell's stress with the common B across and H
// along the face.
func (s *Solution) Forces(centers []r3.Vec) (force, torque []r3.Vec) {
	n := len(s.Problem.Media)
	sh := s.newShells()
	pushes := make([]push, chunks)
	inChunks(len(s.Grid.Plan.Triangles), func(chunk, lo, hi int) {
		p := &pushes[chunk]
		p.parts, p.contacts, p.poles = make([]part, len(sh.body)), map[nodeBody]*contactNode{}, map[nodeBody]*contactNode{}
		for t := lo; t < hi; t++ {
			s.pushTriangle(sh, t, p)
		}
	})
	parts := make([]part, len(sh.body))
	for i := range pushes {
		for k := range pushes[i].parts {
			parts[k].add(&pushes[i].parts[k], 1)
		}
	}
	s.correct(sh, pushes, parts)
	for m, of := range sh.of { // each steel without its magnets
		for _, k := range of {
			if sh.magnet[m] && k != int32(m) && k < int32(n) {
				parts[k].add(&parts[m], -1)
			}
		}
	}
	for k, b := range sh.body[n:] {
		parts[b].add(&parts[n+k], 1)
	}
	force, torque = make([]r3.Vec, n), make([]r3.Vec, n)
	g := s.Problem.Grids
	closed, turn := sh.pairForces()
	for i := range n {
		var f, m [3]float64
		s.eachImage(i, func(j int, mirror [3]float64, _ float64) {
			p := &parts[j]
			det := mirror[0] * mirror[1] * mirror[2]
			for k := range 3 {
				f[k] += mirror[k] * p.force[k]
				m[k] += det * mirror[k] * p.torque[k]
			}
		})
		force[i] = g.World(f)
		arm := r3.Sub(centers[i], g.Center)
		torque[i] = r3.Sub(g.World(m), r3.Cross(arm, force[i]))
		if p := sh.pairs[i]; p != nil {
			f := closed[p.own]
			force[i] = r3.Add(force[i], f)
			torque[i] = r3.Add(torque[i], r3.Add(turn[p.own], r3.Cross(r3.Sub(sh.closed[p.own].Place.Center, centers[i]), f)))
		}
	}
	if meet := s.exactThatMeet(sh); len(meet) > 0 {
		closed, turn := s.exactForces()
		for _, k := range meet {
			i := s.Problem.ExactBody[k]
			force[i], torque[i] = closed[k], turn[k]
		}
	}
	return force, torque
}

// exactThatMeet lists the exact sources in whose cells another body begins that the grid does not follow: there no weight can fall between both.
func (s *Solution) exactThatMeet(sh *shells) (meet []int) {
	meets := make([]bool, len(sh.of))
	for _, bodies := range sh.touch.lists.all {
		for _, a := range bodies {
			for _, b := range bodies {
				if a != b && sh.loose[a] && sh.loose[b] {
					s.eachImage(int(a), func(j int, _ [3]float64, _ float64) { meets[j] = true })
				}
			}
		}
	}
	for k, b := range s.Problem.ExactBody {
		if meets[b] {
			meet = append(meet, k)
		}
	}
	return meet
}

// pair is a magnet that touches others, and those near it, uniformly polarized with the mean of what they have. The force among these is known in closed
// form, whatever edge of one lies across a face of another, where the field rises without bound.
type pair struct {
	own int               // among the closed forms
	all freefield.Sources // itself and those near it
}

// pairTolerance is the share of a pair's absolute contributions that its force is good to: a tenth of what the rest is known to.
const pairTolerance = 1e-4

// pairForces are the forces (N) among closed forms that are near each other, on each, and the torques (N m) about the centers of their places.
func (sh *shells) pairForces() (force, torque []r3.Vec) {
	if !slices.ContainsFunc(sh.pairs, func(p *pair) bool { return p != nil }) {
		return nil, nil
	}
	return freefield.Assemble(sh.closed).ForcesWithin(pairTolerance, sh.near)
}

// near tells whether two closed forms count as near each other.
func (sh *shells) near(i, k int) bool {
	a, b := &sh.closed[i], &sh.closed[k]
	return r3.Norm(r3.Sub(a.Place.Center, b.Place.Center)) < nearby*(r3.Norm(a.Solid.HalfExtent())+r3.Norm(b.Solid.HalfExtent()))
}

// pairUp finds the magnets that touch others and no steel, of little recoil: every shell's weight would have to end on their faces.
func (s *Solution) pairUp(sh *shells) {
	sh.pairs, sh.mean = make([]*pair, len(sh.of)), make([]Vec, len(sh.of))
	if !slices.Contains(sh.beside, true) {
		return
	}
	closed := s.closedForms()
	list := closed.list
	for _, c := range list {
		sh.closed = append(sh.closed, c.body)
	}
	of := func(b int) int {
		body := &s.Problem.Grids.Bodies[b]
		return slices.IndexFunc(list, func(c *closedForm) bool { return c.body.Solid == body.Solid && c.body.Place == body.Place })
	}
	for b := range sh.of {
		i := -1
		if closed.bare[b] {
			i = of(b)
		}
		if i < 0 {
			continue
		}
		sh.mean[b] = Vec(s.Problem.Grids.Frame(list[i].body.Polarization))
		var touches, steel bool // what has no cells of its own touches what its mirror image does
		s.eachImage(b, func(j int, _ [3]float64, _ float64) {
			touches, steel = touches || sh.beside[j], steel || len(sh.of[j]) > 1
		})
		if !touches || steel {
			continue
		}
		p := &pair{own: i}
		for k, m := range sh.closed {
			if k == i || sh.near(i, k) {
				p.all = append(p.all, m)
			}
		}
		sh.pairs[b] = p
	}
}

// charge is the density of a body's charge on a face, T, and that of its mean polarization, for H on its side and the normal out of it.
func (s *Solution) charge(sh *shells, body int32, h, q, n *[3]float64) (sigma, mean float64) {
	var lw law
	s.medium(body).at(h, q, &lw)
	for k := range 3 {
		sigma += n[k] * (lw.B[k] - material.Mu0*h[k])
		mean += n[k] * sh.mean[body][k]
	}
	return sigma, mean
}

// pushCharge adds what the force on the charge of a cell's outer faces is beyond that of the closed forms alone: sigma times the mean of H on both
// sides of it. Without recoil on either side nothing is left to see of the face once the closed forms are off, and the fit goes on across it. With
// recoil the charge differs from the mean's, so the fit ends at the face and gives H on the inner side. On a face in air it is balanced with one that
// goes on into the air, and gives about the mean over both sides of that difference: next to the edges of contact the two err to opposite sides.
// Against blocks of recoil 1.05 cut into pieces, each with a polarization of its own, 0.4 to 1.3 % of the force is left at standard, up to 3.5 % at draft.
func (s *Solution) pushCharge(sh *shells, c *pair, t, l int, own int32, to *part) {
	const full = 0.02 // the recoil's susceptibility from which the fit ends at the face; below it is balanced with one that does not
	ends := func(body int32) float64 {
		if body < 0 {
			return 0
		}
		return math.Min(1, math.Abs(s.Problem.Media[body].RelativeUU-1)/full)
	}
	for i, other := range s.sides(t, l) {
		if other == own || other == outOfGrid {
			continue
		}
		push := func(share float64, within bool) func(p *facePoint, hf [3]float64) {
			return func(p *facePoint, hf [3]float64) {
				var closed [3]float64
				s.giveBack(c.all, &closed, p.at, t, l)
				sigma, mean := s.charge(sh, own, &hf, &p.at, &p.normal)
				across := mean // twice the step from what the fit gives to the middle of the charge, T
				if within {
					across = sigma
				}
				var f [3]float64
				for k := range 3 {
					n := p.normal[k] / (2 * material.Mu0)
					f[k] = share * p.weight * (sigma*(hf[k]+n*across) - mean*(closed[k]+n*mean))
				}
				to.take(f, p.at, 1)
			}
		}
		share := math.Max(ends(own), ends(other))
		if other < 0 {
			share /= 2
		}
		if share > 0 {
			s.eachFacePoint(t, l, i, s.fitWithin, push(share, true))
		}
		if share < 1 {
			s.eachFacePoint(t, l, i, s.fitMean, push(1-share, false))
		}
	}
}

// push is what the cells of one chunk of triangles add to the shells.
type push struct {
	parts    []part
	contacts map[nodeBody]*contactNode // faces of magnets on steel
	poles    map[nodeBody]*contactNode // all faces of magnets that touch steel
}

// pushTriangle adds what the cells above a triangle contribute to each shell.
func (s *Solution) pushTriangle(sh *shells, t int, to *push) {
	e := &s.sys.els[t]
	var v [6][3]float64
	var lw law
	var list []mask
	for l := range s.Grid.Layers() {
		list = s.masks(sh, t, l, list)
		own := s.bodyOf(t*s.Grid.Layers() + l)
		if own >= 0 && sh.pairs[own] != nil {
			s.pushCharge(sh, sh.pairs[own], t, l, own, &to.parts[own])
		}
		if len(list) == 0 {
			continue
		}
		s.cellNodes(t, l, &v)
		h := s.Grid.Faces[l+1] - s.Grid.Faces[l]
		for pq := range 6 {
			for zq := range 3 {
				hf, q, w := s.fieldAt(t, l, &v, pq, zq)
				st := stress(s.mediumOf(t*s.Grid.Layers()+l), &hf, &q, &lw)
				for i := range list {
					value, grad := list[i].at(e, h, pq, zq)
					grad = s.sys.unstretched(grad, s.sys.point(t, l, 6*zq+pq), t, l)
					to.parts[list[i].shell].push(&st, grad, value-list[i].in, q, -w, list[i].axes)
				}
			}
		}
		if own >= 0 && !sh.loose[own] {
			s.pushFaces(sh, t, l, own, list, to)
		}
	}
}

// pushFaces adds what a film of air on the faces of a body's cell changes where the weight of a shell is not that of the body.
func (s *Solution) pushFaces(sh *shells, t, l int, own int32, list []mask, to *push) {
	for i, other := range s.sides(t, l) {
		if other == own || other == outOfGrid {
			continue
		}
		nodes := faceNodes(i)
		_, n := s.faceArea(t, l, i)
		pole := sh.onSteel(own)
		if !pole && !slices.ContainsFunc(list, func(m mask) bool {
			return m.axes.of(n) != [3]float64{} && (m.in == 1 && m.bits&nodes != nodes || m.in == 0 && m.bits&nodes != 0)
		}) {
			continue
		}
		contact := sh.magnet[own] && sh.steel(other) && !sh.loose[other]
		recover := s.fitAlone
		if sh.beside[own] {
			for b, node := range s.cellNodeNumbers(t, l) {
				if nodes>>b&1 == 1 && slices.ContainsFunc(sh.touch.at(node), func(o int32) bool { return o != own && sh.magnet[o] }) {
					recover = s.fitWithin
				}
			}
		}
		s.eachFacePoint(t, l, i, recover, func(p *facePoint, hf [3]float64) {
			f := p.weight * s.filmStress(own, hf, p.at, p.normal)
			for j := range list {
				if d := list[j].in - list[j].on(p); d != 0 {
					to.parts[list[j].shell].take(list[j].axes.of([3]float64{f * p.normal[0], f * p.normal[1], f * p.normal[2]}), p.at, d)
				}
			}
			if contact {
				s.gather(to.contacts, t, l, own, p, hf)
			}
			if pole || sh.steel(own) && sh.steel(other) {
				s.gather(to.poles, t, l, own, p, hf)
			}
		})
	}
}

// faceNodes marks the nodes of a face of a cell: 0 below, 1 above, 2 to 4 the edges.
func faceNodes(face int) (bits uint32) {
	switch face {
	case 0:
		return 0o111111
	case 1:
		return 0o444444
	}
	e := face - 2
	return 7<<(3*e) | 7<<(3*((e+1)%3)) | 7<<(3*(3+e))
}

// outOfGrid stands for what lies across the rim of the grid.
const outOfGrid = -2

// sides gives the bodies across the faces of a cell: below, above, and across the three edges; -1 for air. Across a plane of symmetry lies
// the body's mirror image.
func (s *Solution) sides(t, l int) (o [5]int32) {
	g := s.Problem.Grids
	nl := s.Grid.Layers()
	own := s.bodyOf(t*nl + l)
	image := func(k int) int32 {
		switch {
		case g.Parity()[k] == grid.None:
			return outOfGrid
		case own < 0:
			return own
		}
		return int32(g.Partner[(g.Axis+1+k)%3][own])
	}
	if l > 0 {
		o[0] = s.bodyOf(t*nl + l - 1)
	} else {
		o[0] = image(2)
	}
	o[1] = outOfGrid
	if l < nl-1 {
		o[1] = s.bodyOf(t*nl + l + 1)
	}
	for e, n := range s.across()[t] {
		if n >= 0 {
			o[2+e] = s.bodyOf(int(n)*nl + l)
			continue
		}
		o[2+e] = outOfGrid
		tri := &s.Grid.Plan.Triangles[t]
		a, b := s.Grid.Plan.Nodes[tri[e]], s.Grid.Plan.Nodes[tri[(e+1)%3]]
		tol := 1e-9 * g.Scale
		if math.Abs(a.X) < tol && math.Abs(b.X) < tol {
			o[2+e] = image(0)
		} else if math.Abs(a.Y) < tol && math.Abs(b.Y) < tol {
			o[2+e] = image(1)
		}
	}
	return o
}

// facePoint is a quadrature point of a face: its place, the normal out of the cell, the weight in m2, and the shape functions of the cell's
// nodes there.
type facePoint struct {
	nodes      [18]int
	face       uint32 // marks the nodes of the face
	at, normal [3]float64
	weight     float64
	plan       [6]float64
	layer      [3]float64
}

// eachFacePoint visits the quadrature points of a face of a cell (0 below, 1 above, 2 to 4 the edges) with the recovered H on the cell's
// side, by a fit.
func (s *Solution) eachFacePoint(t, l, face int, recover fitting, visit func(p *facePoint, hf [3]float64)) {
	tri := &s.Grid.Plan.Triangles[t]
	lo := s.Grid.Faces[l]
	h := s.Grid.Faces[l+1] - lo
	body := s.Grid.Cell[t*s.Grid.Layers()+l]
	nodes := s.cellNodeNumbers(t, l)
	place := func(area [3]float64, frac float64) (p facePoint) {
		p.plan, _, _ = triangleShape(area[0], area[1], area[2])
		p.layer, _ = lineShape(frac)
		p.nodes, p.face = nodes, faceNodes(face)
		for a, node := range tri {
			p.at[0] += p.plan[a] * s.Grid.Plan.Nodes[node].X
			p.at[1] += p.plan[a] * s.Grid.Plan.Nodes[node].Y
		}
		p.at[2] = lo + frac*h
		return p
	}
	var area [3]float64
	frac := 0.5
	if face < 2 {
		area, frac = [3]float64{1. / 3, 1. / 3, 1. / 3}, float64(face)
	} else {
		area[face-2], area[(face-1)%3] = 0.5, 0.5
	}
	f, near, ok := recover(s.sys.warps.Apply(place(area, frac).at), t, l)
	point := func(area [3]float64, frac float64, n [3]float64, w float64) {
		p := place(area, frac)
		p.normal, p.weight = s.sys.faceInSpace(p.at, n, w, t, l)
		p.at = s.sys.warps.Apply(p.at)
		var hf [3]float64
		if ok {
			hf = f.field(p.at)
			s.giveBack(s.added(body), &hf, p.at, t, l)
			s.giveBack(near, &hf, p.at, t, l)
		} else {
			hf = s.raw(p.at, t, l, area, frac)
		}
		visit(&p, hf)
	}
	if face < 2 {
		e := &s.sys.els[t]
		pieces := 1
		if len(near) > 0 {
			pieces = 3
		}
		for _, r := range cutTriangle(pieces) {
			point(r.area, frac, [3]float64{0, 0, 2*frac - 1}, e.w[r.like]*r.share)
		}
		return
	}
	edge := face - 2
	rule := layerRule[:]
	if len(near) > 0 {
		rule = edgeRule[:]
	}
	for _, p := range rule {
		var area [3]float64
		area[edge], area[(edge+1)%3] = 1-p.s, p.s
		_, dxi, deta := triangleShape(area[0], area[1], area[2])
		// Tangent along the edge: d(area)/ds is -1 for its first and +1 for its second corner.
		var d1 [3]float64
		d1[edge], d1[(edge+1)%3] = -1, 1
		var tu, tv float64
		for a, node := range tri {
			g := dxi[a]*d1[1] + deta[a]*d1[2]
			tu += g * s.Grid.Plan.Nodes[node].X
			tv += g * s.Grid.Plan.Nodes[node].Y
		}
		length := math.Hypot(tu, tv)
		n := [3]float64{tv / length, -tu / length, 0} // the triangle runs counter-clockwise
		for _, z := range rule {
			point(area, z.s, n, length*p.w*z.w*h)
		}
	}
}

// edgeRule is Gauss's rule of 5 points in t for s = t^2 (3 - 2t): dense at both ends of [0, 1], where a magnet's edge may lie, with the
// logarithm of the distance in its field.
var edgeRule = func() (r [5]struct{ s, w float64 }) {
	x := [5]float64{-0.906179845938664, -0.538469310105683, 0, 0.538469310105683, 0.906179845938664}
	w := [5]float64{0.236926885056189, 0.478628670499366, 0.568888888888889, 0.478628670499366, 0.236926885056189}
	for i := range r {
		t := (1 + x[i]) / 2
		r[i].s, r[i].w = t*t*(3-2*t), 3*t*(1-t)*w[i]
	}
	return r
}()

// trianglePoint is a point of a rule on a triangle cut into equal ones: the point of the plain rule that it is like, and the share of its weight.
type trianglePoint struct {
	area  [3]float64
	like  int
	share float64
}

// cutTriangle is the rule on n*n pieces.
func cutTriangle(n int) (rule []trianglePoint) {
	d := 1 / float64(n)
	for i := range n {
		for j := range n - i {
			for q, r := range triangleRule {
				a, b := d*(float64(i)+r.l1), d*(float64(j)+r.l2)
				rule = append(rule, trianglePoint{[3]float64{1 - a - b, a, b}, q, d * d})
				if i+j < n-1 { // the piece between, upside down
					a, b = d*(float64(i)+1-r.l1), d*(float64(j)+1-r.l2)
					rule = append(rule, trianglePoint{[3]float64{1 - a - b, a, b}, q, d * d})
				}
			}
		}
	}
	return rule
}

// push adds w times the stress along the gradient of the weight, as a force with components along some axes, and as its torque about the origin.
func (p *part) push(st *[3][3]float64, grad [3]float64, value float64, q [3]float64, w float64, along axes) {
	var f [3]float64
	var has [3]float64
	for i := range 3 {
		if along>>i&1 == 0 {
			continue
		}
		has[i] = w * value
		f[i] = w * (st[i][0]*grad[0] + st[i][1]*grad[1] + st[i][2]*grad[2])
		p.force[i] += f[i]
	}
	for k := range 3 {
		i, j := (k+1)%3, (k+2)%3
		p.torque[k] += q[i]*f[j] - q[j]*f[i] + has[j]*st[j][i] - has[i]*st[i][j]
	}
}

// stress is the tensor whose divergence is the force density: in air Maxwell's, within a body B_i H_j - w delta_ij with the coenergy
// density w, which is free of divergence where the body is homogeneous (Melcher 1981, section 3.7).
func stress(m *Medium, h, q *[3]float64, lw *law) (t [3][3]float64) {
	m.at(h, q, lw)
	for i := range 3 {
		for j := range 3 {
			t[i][j] = lw.B[j] * h[i]
		}
		t[i][i] -= lw.w
	}
	return t
}

// take adds a force at a point.
func (p *part) take(f, at [3]float64, sign float64) {
	for i := range 3 {
		j, k := (i+1)%3, (i+2)%3
		p.force[i] += sign * f[i]
		p.torque[i] += sign * (at[j]*f[k] - at[k]*f[j])
	}
}

// filmStress is the normal stress in a film of air at a face less that within the body.
func (s *Solution) filmStress(own int32, hf, q, n [3]float64) float64 {
	var lw law
	s.medium(own).at(&hf, &q, &lw)
	bn := lw.B[0]*n[0] + lw.B[1]*n[1] + lw.B[2]*n[2]
	hn := hf[0]*n[0] + hf[1]*n[1] + hf[2]*n[2]
	ht2 := hf[0]*hf[0] + hf[1]*hf[1] + hf[2]*hf[2] - hn*hn
	return 0.5*bn*bn/material.Mu0 - 0.5*material.Mu0*ht2 - (bn*hn - lw.w)
}
