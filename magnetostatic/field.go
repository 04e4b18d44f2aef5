package magnetostatic

import (
	"math"

	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"

	"polewright/freefield"
	"polewright/grid"
	"polewright/material"
)

// patches finds the cells round a point.
type patches struct {
	start, tri []int32 // triangles at each vertex
}

func newPatches(tris [][6]int32, nodes int) *patches {
	p := &patches{start: make([]int32, nodes+1)}
	for _, t := range tris {
		for _, v := range t[:3] {
			p.start[v+1]++
		}
	}
	for i := range nodes {
		p.start[i+1] += p.start[i]
	}
	p.tri = make([]int32, p.start[nodes])
	fill := append([]int32(nil), p.start[:nodes]...)
	for t, tri := range tris {
		for _, v := range tri[:3] {
			p.tri[fill[v]] = int32(t)
			fill[v]++
		}
	}
	return p
}

// fold carries a world point into the domain: its place in the grid's frame and the signs by which a gradient there has to be multiplied
// to become the gradient at the point.
func (s *Solution) fold(p r3.Vec) (q, sign [3]float64) {
	g := s.Problem.Grids
	q = grid.Frame(g.Axis, r3.Sub(p, g.Center))
	sign = [3]float64{1, 1, 1}
	for k, par := range g.Parity() {
		if par == grid.None || q[k] >= 0 {
			continue
		}
		q[k] = -q[k]
		sign[k] = -sign[k]
		if par == grid.Odd {
			for i := range sign {
				sign[i] = -sign[i]
			}
		}
	}
	return q, sign
}

// locate finds the cell of a point of the domain.
func (s *Solution) locate(q [3]float64) (t, l int, area [3]float64, frac float64, ok bool) {
	f := s.Grid.Faces
	n := s.Grid.Layers()
	if q[2] < f[0] || q[2] > f[n] {
		return
	}
	lo, hi := 0, n
	for hi-lo > 1 {
		if mid := (lo + hi) / 2; f[mid] <= q[2] {
			lo = mid
		} else {
			hi = mid
		}
	}
	t, area, ok = s.Grid.Plan.Locate(r2.Vec{X: q[0], Y: q[1]})
	return t, lo, area, (q[2] - f[lo]) / (f[lo+1] - f[lo]), ok
}

// Body is the body at a point, -1 for air and for bodies that the grid does not follow.
func (s *Solution) Body(p r3.Vec) int {
	q, _ := s.fold(p)
	t, l, _, _, ok := s.locate(q)
	if !ok {
		return -1
	}
	return int(s.Grid.Cell[t*s.Grid.Layers()+l])
}

// raw is H of the element itself at a point of a cell, the exact sources included, in the grid's frame.
func (s *Solution) raw(q [3]float64, t, l int, area [3]float64, frac float64) [3]float64 {
	m := s.Grid.Plan
	tri := &m.Triangles[t]
	n, dxi, deta := triangleShape(area[0], area[1], area[2])
	ln, ld := lineShape(frac)
	nz := 2*s.Grid.Layers() + 1
	h := s.Grid.Faces[l+1] - s.Grid.Faces[l]
	body := s.Grid.Cell[t*s.Grid.Layers()+l]
	var ux, uy, vx, vy, gx, gy, gw float64
	for a, p := range tri {
		r := m.Nodes[p]
		ux += dxi[a] * r.X
		uy += deta[a] * r.X
		vx += dxi[a] * r.Y
		vy += deta[a] * r.Y
		var val, slope float64
		for i := range 3 {
			x := s.Phi[int(p)*nz+2*l+i]
			if body >= 0 && s.applied != nil {
				x += s.applied[int(p)*nz+2*l+i]
			}
			val += ln[i] * x
			slope += ld[i] * x / h
		}
		gx += dxi[a] * val
		gy += deta[a] * val
		gw += n[a] * slope
	}
	det := ux*vy - uy*vx
	out := [3]float64{-(gx*vy - gy*vx) / det, -(gy*ux - gx*uy) / det, -gw}
	if body < 0 && len(s.Problem.Exact) > 0 {
		e := grid.Frame(s.Problem.Grids.Axis, freefield.Sources(s.Problem.Exact).H(s.Problem.world(q[0], q[1], q[2])))
		for k := range 3 {
			out[k] += e[k]
		}
	}
	return out
}

// flux is B of the medium of a body (-1: air) for H in the grid's frame at a point; in air the polarization of an exact source that holds
// the point is added.
func (s *Solution) flux(body int32, h [3]float64, q [3]float64) [3]float64 {
	if body >= 0 {
		var lw law
		s.Problem.Media[body].at(&h, q[0], q[1], &lw)
		return lw.B
	}
	b := [3]float64{material.Mu0 * h[0], material.Mu0 * h[1], material.Mu0 * h[2]}
	if len(s.Problem.Exact) > 0 {
		x := s.Problem.world(q[0], q[1], q[2])
		for i := range s.Problem.Exact {
			m := &s.Problem.Exact[i]
			if m.Solid.Contains(m.Place.ToLocal(x), 0) {
				j := grid.Frame(s.Problem.Grids.Axis, m.Polarization)
				for k := range 3 {
					b[k] = b[k]*s.Problem.Recoil[i] + j[k]
				}
				break
			}
		}
	}
	return b
}

// At gives B (T) and H (A/m) at any point of space. Within the grid H is recovered from the nodal potentials of the surrounding cells of
// the same body: by solid harmonics where the medium is linear and isotropic, by cubic polynomials elsewhere. Outside the grid it is that
// of the assembly's dipole.
func (s *Solution) At(p r3.Vec) (b, h r3.Vec) {
	q, sign := s.fold(p)
	g := s.Problem.Grids
	t, l, area, frac, ok := s.locate(q)
	if !ok {
		return s.dipoleField(p)
	}
	body := s.Grid.Cell[t*s.Grid.Layers()+l]
	hf, ok := s.recover(q, t, l)
	if !ok {
		hf = s.raw(q, t, l, area, frac)
	} else if body < 0 && len(s.Problem.Exact) > 0 {
		e := grid.Frame(g.Axis, freefield.Sources(s.Problem.Exact).H(s.Problem.world(q[0], q[1], q[2])))
		for k := range 3 {
			hf[k] += e[k]
		}
	}
	bf := s.flux(body, hf, q)
	for k := range 3 {
		hf[k] *= sign[k]
		bf[k] *= sign[k]
	}
	return grid.World(g.Axis, bf), grid.World(g.Axis, hf)
}

const (
	recoverDegree = 4
	patchNodes    = 60 // fewer nodes than this take a lower degree
)

// sample is a node near a point: its place relative to it, and the potential.
type sample struct {
	d   [3]float64
	phi float64
}

// around collects the nodes of the cells of one body next to cell (t, l), seen from q, with their mirror images where the cells touch a
// plane of symmetry.
func (s *Solution) around(q [3]float64, t, l int) []sample {
	if s.patches == nil {
		s.patches = newPatches(s.Grid.Plan.Triangles, len(s.Grid.Plan.Nodes))
	}
	m := s.Grid.Plan
	nl := s.Grid.Layers()
	nz := 2*nl + 1
	body := s.Grid.Cell[t*nl+l]
	tris := make([]int32, 0, 24)
	for _, v := range m.Triangles[t][:3] {
		for _, o := range s.patches.tri[s.patches.start[v]:s.patches.start[v+1]] {
			if !has(tris, o) {
				tris = append(tris, o)
			}
		}
	}
	seen := make(map[[2]int32]struct{}, 300)
	var out []sample
	for _, o := range tris {
		for k := max(0, l-1); k <= min(nl-1, l+1); k++ {
			if s.Grid.Cell[int(o)*nl+k] != body {
				continue
			}
			for _, n := range m.Triangles[o] {
				for i := range 3 {
					id := [2]int32{n, int32(2*k + i)}
					if _, ok := seen[id]; ok {
						continue
					}
					seen[id] = struct{}{}
					w := s.Grid.Faces[k]
					if i == 1 {
						w = (s.Grid.Faces[k] + s.Grid.Faces[k+1]) / 2
					} else if i == 2 {
						w = s.Grid.Faces[k+1]
					}
					phi := s.Phi[int(n)*nz+2*k+i]
					if body >= 0 && s.applied != nil {
						phi += s.applied[int(n)*nz+2*k+i]
					}
					out = append(out, sample{[3]float64{m.Nodes[n].X, m.Nodes[n].Y, w}, phi})
				}
			}
		}
	}
	tol := 1e-9 * s.Problem.Grids.Scale
	for k, par := range s.Problem.Grids.Parity() {
		if par == grid.None {
			continue
		}
		touches := false
		for _, o := range out {
			touches = touches || math.Abs(o.d[k]) < tol
		}
		if !touches {
			continue
		}
		sg := 1.0
		if par == grid.Odd {
			sg = -1
		}
		for _, o := range out {
			if o.d[k] > tol {
				o.d[k] = -o.d[k]
				o.phi *= sg
				out = append(out, o)
			}
		}
	}
	for i := range out {
		for k := range 3 {
			out[i].d[k] -= q[k]
		}
	}
	return out
}

// recover fits the potential round a point and gives minus its gradient there.
func (s *Solution) recover(q [3]float64, t, l int) ([3]float64, bool) {
	body := s.Grid.Cell[t*s.Grid.Layers()+l]
	nodes := s.around(q, t, l)
	harmonic := body < 0 || s.Problem.Media[body].isotropic()
	degree := recoverDegree
	if !harmonic {
		degree = 3
	}
	if len(nodes) < patchNodes {
		degree = 2
	}
	if len(nodes) < 15 {
		return [3]float64{}, false
	}
	var radius float64
	for _, n := range nodes {
		radius = math.Max(radius, n.d[0]*n.d[0]+n.d[1]*n.d[1]+n.d[2]*n.d[2])
	}
	radius = math.Sqrt(radius)
	columns := harmonicCount(degree)
	if !harmonic {
		columns = (degree + 1) * (degree + 2) * (degree + 3) / 6
	}
	a := mat.NewDense(len(nodes), columns, nil)
	rhs := mat.NewVecDense(len(nodes), nil)
	row := make([]float64, columns)
	scale := make([]float64, columns)
	for i, n := range nodes {
		x, y, z := n.d[0]/radius, n.d[1]/radius, n.d[2]/radius
		w := math.Exp(-3 * (x*x + y*y + z*z))
		if harmonic {
			harmonics(degree, x, y, z, row)
		} else {
			monomials(degree, x, y, z, row)
		}
		for j := range row {
			row[j] *= w
			scale[j] += row[j] * row[j]
		}
		a.SetRow(i, row)
		rhs.SetVec(i, w*n.phi)
	}
	for j := range scale {
		scale[j] = math.Sqrt(scale[j])
		if scale[j] == 0 {
			return [3]float64{}, false
		}
	}
	for i := range nodes {
		r := a.RawRowView(i)
		for j := range r {
			r[j] /= scale[j]
		}
	}
	var qr mat.QR
	qr.Factorize(a)
	var c mat.VecDense
	if err := qr.SolveVecTo(&c, false, rhs); err != nil && qr.Cond() > 1e12 {
		return [3]float64{}, false
	}
	g := func(j int) float64 { return -c.AtVec(j) / scale[j] / radius }
	if harmonic { // R(1,1) = x + iy, R(1,0) = z
		return [3]float64{g(harmonicIndex(1, 1)), g(harmonicIndex(1, 1) + 1), g(harmonicIndex(1, 0))}, true
	}
	return [3]float64{g(1), g(2), g(3)}, true
}

// monomials evaluates 1, x, y, z, and all higher products up to a degree.
func monomials(degree int, x, y, z float64, out []float64) {
	k := 0
	for d := range degree + 1 {
		for i := d; i >= 0; i-- {
			for j := d - i; j >= 0; j-- {
				out[k] = math.Pow(x, float64(i)) * math.Pow(y, float64(j)) * math.Pow(z, float64(d-i-j))
				k++
			}
		}
	}
}

// dipoleField is the field far away.
func (s *Solution) dipoleField(p r3.Vec) (b, h r3.Vec) {
	m := s.Moment()
	r := r3.Sub(p, s.Problem.Grids.Center)
	n := r3.Norm(r)
	u := r3.Scale(1/n, r)
	h = r3.Scale(1/(4*math.Pi*n*n*n), r3.Sub(r3.Scale(3*r3.Dot(m, u), u), m))
	return r3.Scale(material.Mu0, h), h
}
