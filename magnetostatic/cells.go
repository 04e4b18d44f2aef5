package magnetostatic

import (
	"cmp"
	"math"
	"slices"

	"polewright/freefield"
	"polewright/grid"
)

// This file gives cells a medium that is not simply that of their body: cells of a stretched plan, and cells that hold a piece of steel which
// the grid does not follow. Both are media like others to the equations.

// Unfitted is a soft body that the grid does not follow. A cell that its surface cuts becomes a laminate of body and air (laminate.go), one that an edge or
// a corner of it cuts a laminate of laminates, so the answer converges with the first order of the cells' size only. Points are those of the grid's frame.
type Unfitted struct {
	Body     int // its number among the grid's bodies
	Medium   Medium
	Contains func(q [3]float64, tol float64) bool      // in the body grown by tol, m
	Sides    func(q [3]float64) (sides [3]Side, n int) // the body is where none is passed; n is 0 where they are not known
	Min, Max Vec                                       // its box
}

// Side is how far a point lies beyond a surface of a body, m, negative within, and the direction away from the body.
type Side struct {
	Beyond float64
	Away   Vec
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

// specialize replaces the medium of cells on which the plan is stretched and of air cells that unfitted bodies fill or cut. The polarization is
// that of exact sources at a point of the grid's frame.
func (s *system) specialize(warps grid.Warps, unfitted []Unfitted, polarization func(q [3]float64) Vec) {
	if len(warps) == 0 && len(unfitted) == 0 {
		return
	}
	s.warps = warps
	media := make([]*Medium, len(s.media))
	for i := range s.media {
		media[i] = &s.media[i]
	}
	if len(unfitted) > 0 {
		media = s.cutCells(unfitted, media, polarization)
	}
	stretchedOf := map[int32]int32{} // stretched medium of a medium
	for t := range s.els {
		for l := range s.nl {
			if !s.moved(t, l) {
				continue
			}
			own := s.cell[t*s.nl+l]
			id, ok := stretchedOf[own]
			if !ok {
				id = int32(len(media))
				media = append(media, &Medium{stretched: &stretched{warps, media[own]}})
				stretchedOf[own] = id
			}
			s.cell[t*s.nl+l] = id
		}
	}
	all := make([]Medium, len(media))
	for i, m := range media {
		all[i] = *m
	}
	s.media = all
}

// cutCells gives the cells that unfitted bodies fill or cut their media.
func (s *system) cutCells(unfitted []Unfitted, media []*Medium, polarization func(q [3]float64) Vec) []*Medium {
	s.cut = make([]int32, len(s.cell))
	for i := range s.cut {
		s.cut[i] = -1
	}
	for i := range unfitted {
		u := &unfitted[i]
		whole := int32(len(media))
		media = append(media, &u.Medium)
		for t := range s.els {
			for l := range s.nl {
				cell := t*s.nl + l
				if s.cell[cell] != 0 || s.faces[l+1] < u.Min[2] || s.faces[l] > u.Max[2] {
					continue
				}
				switch c := s.share(t, l, u, polarization); c.share {
				case 0:
					continue
				case 1:
					s.cell[cell] = whole
				default:
					s.cell[cell] = int32(len(media))
					media = append(media, c.medium(&u.Medium))
				}
				s.cut[cell] = int32(i)
			}
		}
	}
	return media
}

// leastShare is the share of a cell below which a body is not seen in it.
const leastShare = 0.01

// cutCell is what a body and exact sources are in a cell.
type cutCell struct {
	share float64 // of the body
	held  Vec     // mean polarization of the rest, T
	sides []cutSide
}

// cutSide is a surface of the body that cuts the cell: the share of the cell that is not beyond it, and its normal.
type cutSide struct {
	share  float64
	normal [3]float64
}

// medium is a laminate for each of the surfaces, one within the other: along an edge of the body steel is in parallel with the air beside it, across it
// neither side lets the flux by. The surface that takes least away is innermost.
func (c *cutCell) medium(base *Medium) *Medium {
	slices.SortStableFunc(c.sides, func(a, b cutSide) int { return cmp.Compare(b.share, a.share) })
	others := 1.0
	for _, side := range c.sides[1:] {
		others *= side.share
	}
	c.sides[0].share = min(max(c.share/others, leastShare), 1-leastShare) // all together the share of the body
	for _, side := range c.sides {
		base = &Medium{laminate: &laminate{base, side.share, side.normal, c.held}}
	}
	return base
}

// share finds what a body is in a cell.
func (s *system) share(t, l int, u *Unfitted, polarization func(q [3]float64) Vec) (out cutCell) {
	c, r := s.ball(t, l)
	switch {
	case !u.Contains(c, r):
		return out
	case u.Contains(c, -r):
		out.share = 1
		return out
	}
	const n = 6 // samples along each side
	count, in := 0, 0
	var within [3]int
	tri := &s.mesh.Triangles[t]
	for i := range n {
		for j := range n - i {
			for half := range 2 { // the two small triangles at each place but the last of a row
				if half == 1 && i+j == n-1 {
					continue
				}
				o := (1 + float64(half)) / 3
				l1, l2 := (float64(i)+o)/n, (float64(j)+o)/n
				shp, _, _ := triangleShape(1-l1-l2, l1, l2)
				var q [3]float64
				for a, p := range tri {
					q[0] += shp[a] * s.mesh.Nodes[p].X
					q[1] += shp[a] * s.mesh.Nodes[p].Y
				}
				for k := range n {
					q[2] = s.faces[l] + (float64(k)+0.5)/n*(s.faces[l+1]-s.faces[l])
					count++
					x := s.warps.Apply(q)
					if u.Contains(x, 0) {
						in++
					} else {
						for k, b := range polarization(x) {
							out.held[k] += b
						}
					}
					sides, m := u.Sides(x)
					for k := range m {
						if sides[k].Beyond <= 0 {
							within[k]++
						}
					}
				}
			}
		}
	}
	for k := range out.held {
		out.held[k] /= math.Max(1, float64(count-in))
	}
	switch out.share = float64(in) / float64(count); {
	case out.share < leastShare:
		out.share = 0
		return out
	case out.share > 1-leastShare:
		out.share = 1
		return out
	}
	sides, m := u.Sides(c)
	for k := range m {
		if share := float64(within[k]) / float64(count); share < 1-leastShare {
			out.sides = append(out.sides, cutSide{share, sides[k].Away})
		}
	}
	if len(out.sides) == 0 {
		out.sides = []cutSide{{out.share, s.normal(t, l, u)}}
	}
	return out
}

// ball encloses a cell.
func (s *system) ball(t, l int) (c [3]float64, r float64) {
	c = s.warps.Apply(s.inside(t, l))
	for _, n := range s.mesh.Triangles[t] {
		for _, w := range s.faces[l : l+2] {
			q := s.warps.Apply([3]float64{s.mesh.Nodes[n].X, s.mesh.Nodes[n].Y, w})
			r = math.Max(r, math.Sqrt((q[0]-c[0])*(q[0]-c[0])+(q[1]-c[1])*(q[1]-c[1])+(q[2]-c[2])*(q[2]-c[2])))
		}
	}
	return c, r
}

// normal is that of the body's surface next to a cell's middle: the gradient of the distance from the body.
func (s *system) normal(t, l int, u *Unfitted) (n [3]float64) {
	c, r := s.ball(t, l)
	distance := func(q [3]float64) float64 {
		lo, hi := -2*r, 2*r
		for range 30 {
			if mid := (lo + hi) / 2; u.Contains(q, mid) {
				hi = mid
			} else {
				lo = mid
			}
		}
		return hi
	}
	var size float64
	for k := range n {
		a, b := c, c
		a[k] -= r / 4
		b[k] += r / 4
		n[k] = distance(b) - distance(a)
		size += n[k] * n[k]
	}
	if size == 0 {
		return [3]float64{0, 0, 1}
	}
	for k := range n {
		n[k] /= math.Sqrt(size)
	}
	return n
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
func (s *system) isCut(cell int) bool { return s.cut != nil && s.cut[cell] >= 0 }

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

// bodyOf is the body that a cell belongs to, -1 for air. To one that the grid does not follow belong all cells that hold a piece of it.
func (s *Solution) bodyOf(cell int) int32 {
	if s.sys.isCut(cell) {
		return int32(s.Problem.Unfitted[s.sys.cut[cell]].Body)
	}
	if held := s.held(); held != nil && held[cell] >= 0 {
		return held[cell]
	}
	return s.Grid.Cell[cell]
}

// findHeld finds the air cells that hold pieces of exact sources and of windings that the grid does not follow.
func (s *Solution) findHeld() []int32 {
	p := s.Problem
	if len(p.ExactBody)+len(p.Coils) == 0 {
		return nil
	}
	held := make([]int32, len(s.Grid.Cell))
	nl := s.Grid.Layers()
	inChunks(len(s.sys.els), func(_, lo, hi int) {
		for t := lo; t < hi; t++ {
			for l := range nl {
				cell := t*nl + l
				held[cell] = -1
				if s.Grid.Cell[cell] >= 0 || s.sys.isCut(cell) {
					continue
				}
				c, r := s.sys.ball(t, l)
				x := p.world(c[0], c[1], c[2])
				for i := range p.Exact {
					m := &p.Exact[i]
					if outside(m.Solid.HalfExtent(), m.Place.ToLocal(x)) < r && s.holds(t, l, m, 1e-6*r) {
						held[cell] = int32(p.ExactBody[i])
						break
					}
				}
				for i := range p.Coils {
					if w := &p.Coils[i]; w.Body >= 0 && w.Distance(c) < r && s.winds(t, l, w) {
						held[cell] = int32(w.Body)
					}
				}
			}
		}
	})
	return held
}

// winds tells whether a quadrature point of a cell lies in a winding.
func (s *Solution) winds(t, l int, c *Coil) bool {
	for i := range 18 {
		if c.Distance(s.sys.warps.Apply(s.sys.point(t, l, i))) == 0 {
			return true
		}
	}
	return false
}

// holds tells whether a node or a quadrature point of a cell lies deeper in an exact source than a tolerance, m.
func (s *Solution) holds(t, l int, m *freefield.Magnet, deep float64) bool {
	in := func(q [3]float64) bool {
		q = s.sys.warps.Apply(q)
		return m.Solid.Contains(m.Place.ToLocal(s.Problem.world(q[0], q[1], q[2])), -deep)
	}
	for i := range 18 {
		if in(s.sys.point(t, l, i)) {
			return true
		}
	}
	for _, n := range s.Grid.Plan.Triangles[t] {
		r := s.Grid.Plan.Nodes[n]
		for k := range 3 {
			if in([3]float64{r.X, r.Y, s.sys.height(2*l + k)}) {
				return true
			}
		}
	}
	return false
}

// mediumOf is the medium of a cell in space, whether or not the plan is stretched there.
func (s *Solution) mediumOf(cell int) *Medium {
	m := &s.sys.media[s.sys.cell[cell]]
	if m.stretched != nil {
		return m.stretched.base
	}
	return m
}
