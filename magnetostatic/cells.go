package magnetostatic

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"

	"polewright/grid"
)

// This file gives cells a medium that is not simply that of their body: cells of a stretched plan, and cells that hold a piece of steel which
// the grid does not follow. Both are media like others to the equations.

// Unfitted is a soft body that the grid does not follow. Each quadrature point takes its medium or that of the air, so the answer
// converges with the first order of the cells' size only.
type Unfitted struct {
	Body     int // its number among the grid's bodies
	Medium   Medium
	Contains func(q [3]float64) bool // a point of the grid's frame
	Min, Max Vec                     // its box there
}

// pieces are the unfitted bodies that meet in a cell of air.
type pieces []*Unfitted

// at is the medium at a point.
func (p pieces) at(h, q *[3]float64, out *law) {
	for _, u := range p {
		if u.Contains(*q) {
			u.Medium.at(h, q, out)
			return
		}
	}
	air.at(h, q, out)
}

var air = Air()

func (p pieces) inverse(b, q [3]float64) [3]float64 {
	for _, u := range p {
		if u.Contains(q) {
			return u.Medium.inverse(b, q)
		}
	}
	return air.inverse(b, q)
}

// stretched is a medium seen from the plan of a stretched grid. With F = dx/dX of the warp, the energy over the plan's own coordinates has
// the field strength h_ref = F' h, the flux density b_ref = det F F^-1 b and the coenergy det F w: the same law in other coordinates
// (Ward and Pendry 1996).
type stretched struct {
	warps grid.Warps
	base  *Medium
}

func (s *stretched) at(h, q *[3]float64, out *law) {
	f, ok := s.warps.Jacobian(*q, *q)
	if !ok {
		s.base.at(h, q, out)
		return
	}
	inv, det := inverted(&f)
	x := s.warps.Apply(*q)
	p := transposedTimes(&inv, h)
	s.base.at(&p, &x, out)
	out.w *= det
	b := times(&inv, &out.B)
	for k := range b {
		out.B[k] = det * b[k]
	}
	// D_ref = det F^-1 D F^-T
	d := [3][3]float64{{out.D[0], out.D[3], out.D[4]}, {out.D[3], out.D[1], out.D[5]}, {out.D[4], out.D[5], out.D[2]}}
	var r [3][3]float64
	for i := range 3 {
		row := [3]float64{}
		for j := range 3 {
			for k := range 3 {
				row[j] += inv[i][k] * d[k][j]
			}
		}
		for j := range 3 {
			r[i][j] = det * (row[0]*inv[j][0] + row[1]*inv[j][1] + row[2]*inv[j][2])
		}
	}
	out.D = [6]float64{r[0][0], r[1][1], r[2][2], r[0][1], r[0][2], r[1][2]}
}

func (s *stretched) inverse(b, q [3]float64) [3]float64 {
	f, ok := s.warps.Jacobian(q, q)
	if !ok {
		return s.base.inverse(b, q)
	}
	_, det := inverted(&f)
	p := times(&f, &b)
	for k := range p {
		p[k] /= det
	}
	h := s.base.inverse(p, s.warps.Apply(q))
	return transposedTimes(&f, &h)
}

func times(m *[3][3]float64, v *[3]float64) (out [3]float64) {
	for i := range 3 {
		out[i] = m[i][0]*v[0] + m[i][1]*v[1] + m[i][2]*v[2]
	}
	return out
}

func transposedTimes(m *[3][3]float64, v *[3]float64) (out [3]float64) {
	for i := range 3 {
		out[i] = m[0][i]*v[0] + m[1][i]*v[1] + m[2][i]*v[2]
	}
	return out
}

// inverted inverts a matrix whose last row is (0, 0, 1).
func inverted(f *[3][3]float64) (inv [3][3]float64, det float64) {
	det = f[0][0]*f[1][1] - f[0][1]*f[1][0]
	inv[0] = [3]float64{f[1][1] / det, -f[0][1] / det, 0}
	inv[1] = [3]float64{-f[1][0] / det, f[0][0] / det, 0}
	for i := range 2 {
		inv[i][2] = -(inv[i][0]*f[0][2] + inv[i][1]*f[1][2])
	}
	inv[2][2] = 1
	return inv, det
}

// specialize replaces the medium of cells on which the plan is stretched and of air cells that unfitted bodies meet.
func (s *system) specialize(warps grid.Warps, unfitted []Unfitted) {
	if len(warps) == 0 && len(unfitted) == 0 {
		return
	}
	s.warps = warps
	s.cut = make([]bool, len(s.cell))
	mixed := map[string]int32{}      // medium of a set of unfitted bodies
	stretchedOf := map[int32]int32{} // stretched medium of a medium
	media := make([]*Medium, len(s.media))
	for i := range s.media {
		media[i] = &s.media[i]
	}
	add := func(m Medium) int32 {
		media = append(media, &m)
		return int32(len(media) - 1)
	}
	var key []byte
	for t := range s.els {
		for l := range s.nl {
			cell := t*s.nl + l
			if s.cell[cell] == 0 && len(unfitted) > 0 {
				key = key[:0]
				var set pieces
				for i := range unfitted {
					if s.meets(t, l, &unfitted[i]) {
						key = append(key, byte(i), byte(i>>8))
						set = append(set, &unfitted[i])
					}
				}
				if len(set) > 0 {
					id, ok := mixed[string(key)]
					if !ok {
						id = add(Medium{pieces: set})
						mixed[string(key)] = id
					}
					s.cell[cell], s.cut[cell] = id, true
				}
			}
			if s.moved(t, l) {
				own := s.cell[cell]
				id, ok := stretchedOf[own]
				if !ok {
					id = add(Medium{stretched: &stretched{warps, media[own]}})
					stretchedOf[own] = id
				}
				s.cell[cell] = id
			}
		}
	}
	all := make([]Medium, len(media))
	for i, m := range media {
		all[i] = *m
	}
	s.media = all
}

// meets tells whether a body holds a quadrature point of a cell.
func (s *system) meets(t, l int, u *Unfitted) bool {
	if s.faces[l+1] < u.Min[2] || s.faces[l] > u.Max[2] {
		return false
	}
	for i := range 18 {
		q := s.warps.Apply(s.point(t, l, i))
		if u.Min[0] <= q[0] && q[0] <= u.Max[0] && u.Min[1] <= q[1] && q[1] <= u.Max[1] && u.Contains(q) {
			return true
		}
	}
	return false
}

// moved tells whether the warps move a cell; their circles and knots are lines and faces of the grid.
func (s *system) moved(t, l int) bool {
	if len(s.warps) == 0 {
		return false
	}
	c := s.inside(t, l)
	_, ok := s.warps.Jacobian(c, c)
	return ok
}

// solid tells whether a cell holds any body, in whole or in part: there the exact sources act through their potential at the nodes.
func (s *system) solid(cell int) bool { return s.cell[cell] != 0 }

// isCut tells whether a cell holds a piece of an unfitted body.
func (s *system) isCut(cell int) bool { return s.cut != nil && s.cut[cell] }

// inside is a point within a cell.
func (s *system) inside(t, l int) (c [3]float64) {
	for _, n := range s.mesh.Triangles[t][:3] {
		c[0] += s.mesh.Nodes[n].X / 3
		c[1] += s.mesh.Nodes[n].Y / 3
	}
	c[2] = (s.faces[l] + s.faces[l+1]) / 2
	return c
}

// unstretched carries a gradient (or field strength) over the plan's coordinates at a point of a cell to one in space.
func (s *system) unstretched(h, q [3]float64, t, l int) [3]float64 {
	if len(s.warps) == 0 {
		return h
	}
	f, ok := s.warps.Jacobian(q, s.inside(t, l))
	if !ok {
		return h
	}
	inv, _ := inverted(&f)
	return transposedTimes(&inv, &h)
}

// volume is the factor by which the warps enlarge a cell at a point.
func (s *system) volume(q [3]float64, t, l int) float64 {
	if len(s.warps) == 0 {
		return 1
	}
	f, ok := s.warps.Jacobian(q, s.inside(t, l))
	if !ok {
		return 1
	}
	return f[0][0]*f[1][1] - f[0][1]*f[1][0]
}

// faceInSpace carries the normal and the weight of a point on a face of the plan's cell into space (Nanson's relation).
func (s *system) faceInSpace(q, n [3]float64, w float64, t, l int) ([3]float64, float64) {
	if len(s.warps) == 0 {
		return n, w
	}
	f, ok := s.warps.Jacobian(q, s.inside(t, l))
	if !ok {
		return n, w
	}
	inv, det := inverted(&f)
	n = transposedTimes(&inv, &n)
	size := math.Sqrt(n[0]*n[0] + n[1]*n[1] + n[2]*n[2])
	for k := range n {
		n[k] /= size
	}
	return n, w * det * size
}

// UnfittedForce gives the force (N) and the torque (N m, about the given centre) on an unfitted body, number i of the problem's: the virtual
// work of moving all nodes of the cells that it meets within the cells around.
func (s *Solution) UnfittedForce(i int, center r3.Vec) (force, torque r3.Vec) {
	g := s.Problem.Grids
	parts := make([]part, len(s.Problem.Media))
	for j := range s.Problem.Unfitted {
		parts[s.Problem.Unfitted[j].Body] = s.unfittedPart(&s.Problem.Unfitted[j])
	}
	var f, m [3]float64
	s.eachImage(s.Problem.Unfitted[i].Body, func(j int, mirror [3]float64, _ float64) {
		p := &parts[j]
		det := mirror[0] * mirror[1] * mirror[2]
		for k := range 3 {
			f[k] += mirror[k] * p.force[k]
			m[k] += det * mirror[k] * p.torque[k]
		}
	})
	force = grid.World(g.Axis, f)
	return force, r3.Sub(grid.World(g.Axis, m), r3.Cross(r3.Sub(center, g.Center), force))
}

func (s *Solution) unfittedPart(u *Unfitted) (p part) {
	nl := s.Grid.Layers()
	nz := 2*nl + 1
	at := make([][]int32, s.sys.np*nz)
	met := make([]bool, len(s.Grid.Cell))
	for t, tri := range s.Grid.Plan.Triangles {
		for l := range nl {
			if !s.sys.isCut(t*nl+l) || !s.sys.meets(t, l, u) {
				continue
			}
			met[t*nl+l] = true
			for _, n := range tri {
				for k := range 3 {
					at[int(n)*nz+2*l+k] = []int32{0}
				}
			}
		}
	}
	var v [6][3]float64
	var lw law
	for t, tri := range s.Grid.Plan.Triangles {
		for l := range nl {
			var here mask
			for a, n := range tri {
				for k := range 3 {
					if at[int(n)*nz+2*l+k] != nil {
						here.bits |= 1 << (3*a + k)
					}
				}
			}
			if here.bits == 0 || met[t*nl+l] {
				continue
			}
			s.cellNodes(t, l, &v)
			h := s.Grid.Faces[l+1] - s.Grid.Faces[l]
			for pq := range 6 {
				for zq := range 3 {
					hf, q, w := s.fieldAt(t, l, &v, pq, zq)
					st := stress(s.medium(s.Grid.Cell[t*nl+l]), &hf, &q, &lw)
					value, grad := here.at(&s.sys.els[t], h, pq, zq)
					grad = s.sys.unstretched(grad, s.sys.point(t, l, 6*zq+pq), t, l)
					p.push(&st, grad, value, q, -w)
				}
			}
		}
	}
	return p
}
