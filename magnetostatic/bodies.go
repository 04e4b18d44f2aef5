package magnetostatic

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"

	"polewright/freefield"

	"polewright/grid"
	"polewright/material"
	"polewright/shape"
)

// This file integrates over whole bodies, and the force on them. The grid may hold only one of 2, 4 or 8 mirror images; a body's integral
// is the sum over the images of its parts, each computed where the grid has it.

// BodyIntegral is what a body holds.
type BodyIntegral struct {
	Volume float64 // m3
	MeanB  r3.Vec  // T
	MeanH  r3.Vec  // A/m
	MeanB1 float64 // mean of |B|, T
	MaxB   float64 // largest mean of |B| over a cell, T
	Moment r3.Vec  // integral of B/mu0 - H, A m2
}

// part is the share of a body that lies in the domain.
type part struct {
	volume, b1, max float64
	b, h            [3]float64 // integrals
	force, torque   [3]float64 // torque about the grid's centre
}

// cellNodes gathers the potentials of a cell, with the applied potential within bodies.
func (s *Solution) cellNodes(t, l int, v *[6][3]float64) {
	nz := 2*s.Grid.Layers() + 1
	in := s.Grid.Cell[t*s.Grid.Layers()+l] >= 0 && s.applied != nil
	for a, p := range s.Grid.Plan.Triangles[t] {
		i := int(p)*nz + 2*l
		copy(v[a][:], s.Phi[i:i+3])
		if in {
			for k := range 3 {
				v[a][k] += s.applied[i+k]
			}
		}
	}
}

// fieldAt is H at a quadrature point of a cell, the exact sources included.
func (s *Solution) fieldAt(e *planElement, v *[6][3]float64, body int32, pq, zq int, lo, h float64) (hf, q [3]float64) {
	n, d := &layerShape[zq], &layerSlope[zq]
	for a := range 6 {
		val := n[0]*v[a][0] + n[1]*v[a][1] + n[2]*v[a][2]
		hf[0] -= e.gu[pq][a] * val
		hf[1] -= e.gv[pq][a] * val
		hf[2] -= triangleN[pq][a] * (d[0]*v[a][0] + d[1]*v[a][1] + d[2]*v[a][2]) / h
	}
	q = [3]float64{e.u[pq], e.v[pq], lo + layerRule[zq].s*h}
	return s.withExact(hf, q, body), q
}

// medium is the medium of a body of the grid, air for -1.
func (s *Solution) medium(body int32) *Medium { return &s.sys.media[body+1] }

// Bodies integrates over all bodies that the grid follows.
func (s *Solution) Bodies() []BodyIntegral {
	parts := make([]part, len(s.Problem.Media))
	nl := s.Grid.Layers()
	var v [6][3]float64
	var lw law
	for t := range s.sys.els {
		e := &s.sys.els[t]
		for l := range nl {
			body := s.Grid.Cell[t*nl+l]
			if body < 0 {
				continue
			}
			p := &parts[body]
			s.cellNodes(t, l, &v)
			lo := s.Grid.Faces[l]
			h := s.Grid.Faces[l+1] - lo
			var vol, b1 float64
			for pq := range 6 {
				for zq := range 3 {
					hf, q := s.fieldAt(e, &v, body, pq, zq, lo, h)
					s.medium(body).at(&hf, &q, &lw)
					w := e.w[pq] * layerRule[zq].w * h
					vol += w
					b1 += w * math.Sqrt(lw.B[0]*lw.B[0]+lw.B[1]*lw.B[1]+lw.B[2]*lw.B[2])
					for k := range 3 {
						p.b[k] += w * lw.B[k]
						p.h[k] += w * hf[k]
					}
				}
			}
			p.volume += vol
			p.b1 += b1
			p.max = math.Max(p.max, b1/vol)
		}
	}
	out := make([]BodyIntegral, len(parts))
	for i := range out {
		o := &out[i]
		var b, h [3]float64
		s.eachImage(i, func(j int, mirror [3]float64, sign float64) {
			p := &parts[j]
			o.Volume += p.volume
			o.MeanB1 += p.b1
			o.MaxB = math.Max(o.MaxB, p.max)
			for k := range 3 {
				b[k] += sign * mirror[k] * p.b[k]
				h[k] += sign * mirror[k] * p.h[k]
			}
		})
		if o.Volume == 0 {
			continue
		}
		axis := s.Problem.Grids.Axis
		o.MeanB = r3.Scale(1/o.Volume, grid.World(axis, b))
		o.MeanH = r3.Scale(1/o.Volume, grid.World(axis, h))
		o.MeanB1 /= o.Volume
		o.Moment = r3.Scale(o.Volume, r3.Sub(r3.Scale(1/material.Mu0, o.MeanB), o.MeanH))
	}
	return out
}

// eachImage visits the mirror images of the domain: the body whose part in the domain is the image of body i there, the mirror's signs in
// the grid's frame, and the sign of the field (a field vector is mirrored and multiplied by it).
func (s *Solution) eachImage(i int, visit func(j int, mirror [3]float64, sign float64)) {
	g := s.Problem.Grids
	par := g.Parity()
	var run func(k, j int, mirror [3]float64, sign float64)
	run = func(k, j int, mirror [3]float64, sign float64) {
		if k == 3 {
			visit(j, mirror, sign)
			return
		}
		run(k+1, j, mirror, sign)
		if par[k] == grid.None {
			return
		}
		mirror[k] = -1
		if par[k] == grid.Odd {
			sign = -sign
		}
		run(k+1, g.Partner[(g.Axis+1+k)%3][j], mirror, sign)
	}
	run(0, i, [3]float64{1, 1, 1}, 1)
}

// Moment is the magnetic moment of the whole assembly.
func (s *Solution) Moment() r3.Vec {
	if s.moment == nil {
		var m r3.Vec
		for _, b := range s.Bodies() {
			m = r3.Add(m, b.Moment)
		}
		for i := range s.Problem.Exact {
			m = r3.Add(m, s.Problem.Exact[i].Moment())
		}
		m = r3.Add(m, s.recoilMoment())
		s.moment = &m
	}
	return *s.moment
}

// recoilMoment is the moment that the field induces in the exact sources, the integral of (recoil - 1) H.
func (s *Solution) recoilMoment() r3.Vec {
	var m [3]float64
	var v [6][3]float64
	nl := s.Grid.Layers()
	for t := range s.sys.els {
		e := &s.sys.els[t]
		for l := range nl {
			pc := s.sys.partial[int64(t)*int64(nl)+int64(l)]
			if pc == nil {
				continue
			}
			s.cellNodes(t, l, &v)
			h := s.Grid.Faces[l+1] - s.Grid.Faces[l]
			for pq := range 6 {
				for zq := range 3 {
					if x := pc.excess[6*zq+pq]; x != 0 {
						hf, _ := s.fieldAt(e, &v, -1, pq, zq, s.Grid.Faces[l], h)
						for k := range m {
							m[k] += x / material.Mu0 * e.w[pq] * layerRule[zq].w * h * hf[k]
						}
					}
				}
			}
		}
	}
	for k, par := range s.Problem.Grids.Parity() {
		for i := range m {
			switch {
			case par == grid.None:
			case (i == k) == (par == grid.Odd):
				m[i] *= 2
			default:
				m[i] = 0
			}
		}
	}
	return grid.World(s.Problem.Grids.Axis, m)
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

// Forces gives the force (N) and the torque (N m, about each body's own centre) on each body that the grid follows, from all others. Where
// a body touches another one, the force is that with a thin film of air between them: Maxwell's stress with the common B across and H
// along the face.
//
// A body in air gets the virtual work of moving its nodes within the surrounding cells (Coulomb 1983), which is as accurate as the energy.
// So does steel that touches others, with what the film changes on the faces of contact; where steel touches steel the corners of such
// faces converge slowly (they did so within 1 % on the framed pair). A magnet that touches others gets the jump of the stress over its own
// faces, which is nearly linear in B: the square of the field, and with it the corners' slow part, cancels but for the recoil.
func (s *Solution) Forces(centers []r3.Vec) (force, torque []r3.Vec) {
	n := len(s.Problem.Media)
	parts := make([]part, n)
	nl := s.Grid.Layers()
	nz := 2*nl + 1
	bySurface := s.touchingMagnets()
	at := s.bodiesAtNodes()
	s.widen(at)
	var v [6][3]float64
	var lw law
	var near []int32
	for t, tri := range s.Grid.Plan.Triangles {
		e := &s.sys.els[t]
		for l := range nl {
			own := s.Grid.Cell[t*nl+l]
			near = near[:0]
			for _, p := range tri {
				for i := range 3 {
					for _, b := range at[int(p)*nz+2*l+i] {
						if b != own && !bySurface[b] && !has(near, b) {
							near = append(near, b)
						}
					}
				}
			}
			if own >= 0 {
				s.faces(t, l, own, bySurface, parts)
			}
			couple := own >= 0 && bySurface[own]
			if len(near) == 0 && !couple {
				continue
			}
			s.cellNodes(t, l, &v)
			lo := s.Grid.Faces[l]
			h := s.Grid.Faces[l+1] - lo
			for pq := range 6 {
				for zq := range 3 {
					hf, q := s.fieldAt(e, &v, own, pq, zq, lo, h)
					st := stress(s.medium(own), &hf, &q, &lw)
					w := e.w[pq] * layerRule[zq].w * h
					if couple { // the couple density B x H of a magnet
						for k := range 3 {
							i, j := (k+1)%3, (k+2)%3
							parts[own].torque[k] += w * (lw.B[i]*hf[j] - lw.B[j]*hf[i])
						}
					}
					for _, b := range near {
						value, grad := weightOf(e, at, tri, nz, l, h, pq, zq, b)
						parts[b].push(&st, grad, value, q, -w)
					}
				}
			}
		}
	}
	force, torque = make([]r3.Vec, n), make([]r3.Vec, n)
	axis := s.Problem.Grids.Axis
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
		force[i] = grid.World(axis, f)
		arm := r3.Sub(centers[i], s.Problem.Grids.Center)
		torque[i] = r3.Sub(grid.World(axis, m), r3.Cross(arm, force[i]))
	}
	return force, torque
}

// bodiesAtNodes lists the bodies whose cells meet at each node.
func (s *Solution) bodiesAtNodes() [][]int32 {
	nl := s.Grid.Layers()
	nz := 2*nl + 1
	at := make([][]int32, s.sys.np*nz)
	for t, tri := range s.Grid.Plan.Triangles {
		for l := range nl {
			body := s.Grid.Cell[t*nl+l]
			if body < 0 {
				continue
			}
			for _, p := range tri {
				for i := range 3 {
					node := int(p)*nz + 2*l + i
					if !has(at[node], body) {
						at[node] = append(at[node], body)
					}
				}
			}
		}
	}
	return at
}

// widen gives each body the nodes of the air cells at it too, so that these move with the body: they hold the singular field of its edges,
// which costs 0.4 % of a block's force and more of its torque where the weight falls within them, and 0.02 % where it falls one cell
// further out. Nodes of other bodies stay, and those on a plane of symmetry unless the body is its own image there.
func (s *Solution) widen(at [][]int32) {
	if len(s.Problem.Exact) > 0 { // one of them may lie in the air cells
		return
	}
	g := s.Problem.Grids
	nl := s.Grid.Layers()
	nz := 2*nl + 1
	type move struct {
		node int
		body int32
	}
	var moves []move
	var near []int32
	for t, tri := range s.Grid.Plan.Triangles {
		for l := range nl {
			if s.Grid.Cell[t*nl+l] >= 0 {
				continue
			}
			near = near[:0]
			for _, p := range tri {
				for i := range 3 {
					for _, b := range at[int(p)*nz+2*l+i] {
						if !has(near, b) {
							near = append(near, b)
						}
					}
				}
			}
			if len(near) == 0 {
				continue
			}
			for _, p := range tri {
				for i := range 3 {
					node := int(p)*nz + 2*l + i
					if len(at[node]) > 0 {
						continue
					}
					q := [3]float64{s.Grid.Plan.Nodes[p].X, s.Grid.Plan.Nodes[p].Y, s.sys.height(2*l + i)}
					for _, b := range near {
						free := true
						for k, par := range g.Parity() {
							free = free && (par == grid.None || math.Abs(q[k]) > 1e-9*g.Scale || g.Partner[(g.Axis+1+k)%3][b] == int(b))
						}
						if free {
							moves = append(moves, move{node, b})
						}
					}
				}
			}
		}
	}
	for _, m := range moves {
		if !has(at[m.node], m.body) {
			at[m.node] = append(at[m.node], m.body)
		}
	}
}

// touchingMagnets tells which bodies are polarized and touch another body.
func (s *Solution) touchingMagnets() []bool {
	touching := make([]bool, len(s.Problem.Media))
	nl := s.Grid.Layers()
	if s.across == nil {
		s.across = neighbours(s.Grid.Plan.Triangles)
	}
	for t := range s.Grid.Plan.Triangles {
		for l := range nl {
			own := s.Grid.Cell[t*nl+l]
			if own < 0 || s.Problem.Media[own].Polarization == (Vec{}) {
				continue
			}
			for _, o := range s.sides(t, l) {
				if o >= 0 && o != own {
					touching[own] = true
				}
			}
		}
	}
	return touching
}

// sides gives the bodies across the faces of a cell: below, above, and across the three edges; -1 for air, -2 outside the grid.
func (s *Solution) sides(t, l int) (o [5]int32) {
	nl := s.Grid.Layers()
	o = [5]int32{-2, -2, -2, -2, -2}
	if l > 0 {
		o[0] = s.Grid.Cell[t*nl+l-1]
	}
	if l < nl-1 {
		o[1] = s.Grid.Cell[t*nl+l+1]
	}
	for e, n := range s.across[t] {
		if n >= 0 {
			o[2+e] = s.Grid.Cell[int(n)*nl+l]
		}
	}
	return o
}

// weightOf is the function that is 1 at the nodes of a body and 0 at all others, with its gradient, at a quadrature point.
func weightOf(e *planElement, at [][]int32, tri [6]int32, nz, l int, h float64, pq, zq int, b int32) (value float64, grad [3]float64) {
	for a, p := range tri {
		for i := range 3 {
			if has(at[int(p)*nz+2*l+i], b) {
				ln, ld := layerShape[zq][i], layerSlope[zq][i]/h
				value += triangleN[pq][a] * ln
				grad[0] += e.gu[pq][a] * ln
				grad[1] += e.gv[pq][a] * ln
				grad[2] += triangleN[pq][a] * ld
			}
		}
	}
	return value, grad
}

// push adds w times the stress along the gradient of the weight, as a force and as a torque about the origin.
func (p *part) push(st *[3][3]float64, grad [3]float64, value float64, q [3]float64, w float64) {
	var f [3]float64
	for i := range 3 {
		f[i] = w * (st[i][0]*grad[0] + st[i][1]*grad[1] + st[i][2]*grad[2])
		p.force[i] += f[i]
	}
	for k := range 3 {
		i, j := (k+1)%3, (k+2)%3
		p.torque[k] += q[i]*f[j] - q[j]*f[i] + w*value*(st[j][i]-st[i][j])
	}
}

// faces goes over the faces of a cell of a body at which another body or air begins. If the cell's body takes its force from its own faces,
// each adds the jump of the normal stress from the body into the air (or the film) outside. Otherwise a touching body that takes its force
// from the surrounding cells gets what a film of air between the two changes there.
func (s *Solution) faces(t, l int, own int32, bySurface []bool, parts []part) {
	sides := s.sides(t, l)
	if l == 0 && s.Problem.Grids.Parity()[2] != grid.None {
		sides[0] = own // a plane of symmetry cuts the body there
	}
	for i, other := range sides {
		if other == own || other == -2 {
			continue
		}
		// The body that takes the force, and the sign of the normal out of it.
		var to []int32
		var out []float64
		if bySurface[own] {
			to, out = append(to, own), append(out, 1)
		}
		if other >= 0 && !bySurface[other] {
			to, out = append(to, other), append(out, -1)
		}
		if len(to) == 0 {
			continue
		}
		s.eachFacePoint(t, l, i, func(q, n, hf [3]float64, w float64) {
			extra := w * s.filmStress(own, hf, q, n)
			for k, b := range to {
				parts[b].take([3]float64{extra * n[0], extra * n[1], extra * n[2]}, q, out[k])
			}
		})
	}
}

// eachFacePoint visits the quadrature points of a face of a cell (0 below, 1 above, 2 to 4 the edges) with the normal out of the cell, the
// recovered H on the cell's side, and the weight.
func (s *Solution) eachFacePoint(t, l, face int, visit func(q, n, hf [3]float64, w float64)) {
	tri := &s.Grid.Plan.Triangles[t]
	lo := s.Grid.Faces[l]
	h := s.Grid.Faces[l+1] - lo
	body := s.Grid.Cell[t*s.Grid.Layers()+l]
	var area [3]float64
	frac := 0.5
	if face < 2 {
		area, frac = [3]float64{1. / 3, 1. / 3, 1. / 3}, float64(face)
	} else {
		area[face-2], area[(face-1)%3] = 0.5, 0.5
	}
	place := func(area [3]float64, frac float64) (q [3]float64) {
		shp, _, _ := triangleShape(area[0], area[1], area[2])
		for a, node := range tri {
			q[0] += shp[a] * s.Grid.Plan.Nodes[node].X
			q[1] += shp[a] * s.Grid.Plan.Nodes[node].Y
		}
		q[2] = lo + frac*h
		return q
	}
	f, ok := s.fit(place(area, frac), t, l)
	point := func(area [3]float64, frac float64, n [3]float64, w float64) {
		q := place(area, frac)
		var hf [3]float64
		if ok {
			hf = s.withExact(f.field(q), q, body)
		} else {
			hf = s.raw(q, t, l, area, frac)
		}
		visit(q, n, hf, w)
	}
	if face < 2 {
		e := &s.sys.els[t]
		for q, r := range triangleRule {
			point([3]float64{r.l0, r.l1, r.l2}, frac, [3]float64{0, 0, 2*frac - 1}, e.w[q])
		}
		return
	}
	edge := face - 2
	for _, p := range layerRule {
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
		for _, z := range layerRule {
			point(area, z.s, n, length*p.w*z.w*h)
		}
	}
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

// neighbours gives the triangle across each edge, -1 on the boundary.
func neighbours(tris [][6]int32) [][3]int32 {
	first := make(map[int32]int32, 2*len(tris)) // by mid node: 3*triangle+edge
	out := make([][3]int32, len(tris))
	for t := range tris {
		out[t] = [3]int32{-1, -1, -1}
		for e := range 3 {
			n := tris[t][3+e]
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

// ExactForce gives the force (N) and the torque (N m, about its own centre) on an exact source, number i of the problem's: the field of
// all others on the charge of its faces. Its recoil adds the moment that the mean field induces in it.
func (s *Solution) ExactForce(i int) (force, torque r3.Vec) {
	p := s.Problem
	m := p.Exact[i]
	others := append(append(freefield.Sources{}, p.Exact[:i]...), p.Exact[i+1:]...)
	// The rest of the field, that of all bodies of the grid, is smooth here.
	rest := func(x r3.Vec) r3.Vec {
		_, h := s.At(x)
		return r3.Sub(h, freefield.Sources(p.Exact).H(x))
	}
	var mean r3.Vec
	points := shape.Lattice(m.Solid, m.Place, 4)
	for _, x := range points {
		_, h := s.At(x)
		mean = r3.Add(mean, r3.Scale(1/float64(len(points)), h))
	}
	m.Polarization = r3.Add(m.Polarization, r3.Scale(material.Mu0*(p.Recoil[i]-1), mean))
	force, torque = others.Force(m)
	for _, c := range m.Charges(chargePieces) {
		f := r3.Scale(c.Wb, rest(c.At))
		force = r3.Add(force, f)
		torque = r3.Add(torque, r3.Cross(r3.Sub(c.At, m.Place.Center), f))
	}
	return force, torque
}

// chargePieces is how many pieces each side of a face is cut into.
const chargePieces = 2
