package magnetostatic

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/spatial/r3"

	"polewright/freefield"
	"polewright/grid"
	"polewright/material"
)

// This file expands the potential in solid harmonics: the regular ones within a ball of air, such as the gap, and the irregular ones
// outside the assembly. Both are exact solutions of Laplace's equation, so a fit to the nodal potentials removes the grid's noise.

// Expansion is a field in free space given by solid harmonics about a centre.
type Expansion struct {
	axis     int
	center   r3.Vec
	radius   float64 // scale of length, m
	degree   int
	outside  bool
	c        []float64
	exact    freefield.Sources // added in closed form
	Residual float64           // rms misfit of the potential over its largest value
}

// Field gives B (T) at a point of the ball, or of the space outside.
func (e *Expansion) Field(p r3.Vec) r3.Vec {
	d := grid.Frame(e.axis, r3.Sub(p, e.center))
	x, y, z := d[0]/e.radius, d[1]/e.radius, d[2]/e.radius
	val := make([]float64, len(e.c))
	grad := make([][3]float64, len(e.c))
	harmonics(e.degree, x, y, z, val)
	harmonicGradients(e.degree, val, grad)
	var h [3]float64
	r2 := x*x + y*y + z*z
	i := 0
	for l := range e.degree + 1 {
		f := 1.0
		if e.outside {
			f = math.Pow(r2, -float64(l)-0.5)
		}
		for range 2*l + 1 {
			for k, d := range [3]float64{x, y, z} {
				g := grad[i][k]
				if e.outside { // R(l,m)/r^(2l+1)
					g = f * (g - float64(2*l+1)*val[i]*d/r2)
				}
				h[k] -= e.c[i] * g / e.radius
			}
			i++
		}
	}
	return r3.Add(r3.Scale(material.Mu0, grid.World(e.axis, h)), r3.Scale(material.Mu0, e.exact.H(p)))
}

// eachAirNode visits the nodes of air cells with their mirror images, in the grid's frame.
func (s *Solution) eachAirNode(visit func(q [3]float64, phi float64)) {
	nl := s.Grid.Layers()
	nz := 2*nl + 1
	par := s.Problem.Grids.Parity()
	tol := 1e-9 * s.Problem.Grids.Scale
	if s.air == nil {
		s.air = make([]bool, len(s.Phi)) // nodes of air cells
		for t, tri := range s.Grid.Plan.Triangles {
			for l := range nl {
				if s.Grid.Cell[t*nl+l] < 0 {
					for _, n := range tri {
						for k := range 3 {
							s.air[int(n)*nz+2*l+k] = true
						}
					}
				}
			}
		}
	}
	for p, n := range s.Grid.Plan.Nodes {
		for k := range nz {
			if !s.air[p*nz+k] {
				continue
			}
			q := [3]float64{n.X, n.Y, s.sys.height(k)}
			phi := s.Phi[p*nz+k]
			for image := range 8 {
				m, v, skip := q, phi, false
				for i := range 3 {
					if image>>i&1 == 0 {
						continue
					}
					if par[i] == grid.None || q[i] < tol {
						skip = true
						break
					}
					m[i] = -m[i]
					if par[i] == grid.Odd {
						v = -v
					}
				}
				if !skip {
					visit(m, v)
				}
			}
		}
	}
}

const (
	insideDegree  = 8
	outsideDegree = 7
)

// Inside expands the field in the ball of the given radius (m) about a point, which must lie in air. It fits the potential over a
// somewhat larger ball that holds no body.
func (s *Solution) Inside(center r3.Vec, radius float64) (*Expansion, error) {
	g := s.Problem.Grids
	c := grid.Frame(g.Axis, r3.Sub(center, g.Center))
	clearance := s.clearance(center)
	if clearance < radius {
		return nil, fmt.Errorf("the ball of %.3g mm about the point reaches into a part at %.3g mm", radius*1e3, clearance*1e3)
	}
	type node struct {
		d   [3]float64
		phi float64
	}
	var all []node
	s.eachAirNode(func(q [3]float64, phi float64) {
		var r2 float64
		for k := range 3 {
			q[k] -= c[k]
			r2 += q[k] * q[k]
		}
		if r2 <= clearance*clearance {
			all = append(all, node{q, phi})
		}
	})
	e := &Expansion{axis: g.Axis, center: center, degree: insideDegree, exact: s.Problem.Exact}
	for ; e.degree > 1 && len(all) < 3*harmonicCount(e.degree); e.degree-- {
	}
	if len(all) < 2*harmonicCount(e.degree) {
		return nil, fmt.Errorf("only %d nodes lie in the ball of %.3g mm about the point: too few to expand the field", len(all), clearance*1e3)
	}
	e.radius = clearance
	n := harmonicCount(e.degree)
	a, b := mat.NewDense(len(all), n, nil), mat.NewVecDense(len(all), nil)
	var largest float64
	for i, o := range all {
		x, y, z := o.d[0]/e.radius, o.d[1]/e.radius, o.d[2]/e.radius
		// Nodes far out see higher harmonics than are fitted: they count less.
		w := math.Exp(-3 * (x*x + y*y + z*z))
		row := a.RawRowView(i)
		harmonics(e.degree, x, y, z, row)
		for j := range row {
			row[j] *= w
		}
		b.SetVec(i, w*o.phi)
		largest = math.Max(largest, math.Abs(w*o.phi))
	}
	return e, e.solve(a, b, largest)
}

// clearance is the distance from a point to the nearest body, at most the assembly's size.
func (s *Solution) clearance(p r3.Vec) float64 {
	g := s.Problem.Grids
	q, _ := s.fold(p)
	best := g.Scale
	nl := s.Grid.Layers()
	for t, tri := range s.Grid.Plan.Triangles {
		for l := range nl {
			if s.Grid.Cell[t*nl+l] < 0 {
				continue
			}
			w := math.Max(0, math.Max(s.Grid.Faces[l]-q[2], q[2]-s.Grid.Faces[l+1]))
			for i := range 3 {
				a, b := s.Grid.Plan.Nodes[tri[i]], s.Grid.Plan.Nodes[tri[(i+1)%3]]
				m := s.Grid.Plan.Nodes[tri[3+i]]
				d := math.Min(distance(q, a.X, a.Y, m.X, m.Y), distance(q, m.X, m.Y, b.X, b.Y))
				best = math.Min(best, math.Hypot(w, d))
			}
		}
	}
	for i := range s.Problem.Exact {
		m := &s.Problem.Exact[i]
		l, e := m.Place.ToLocal(p), m.Solid.HalfExtent()
		best = math.Min(best, math.Sqrt(square(math.Abs(l.X)-e.X)+square(math.Abs(l.Y)-e.Y)+square(math.Abs(l.Z)-e.Z)))
	}
	return best
}

// square is x^2 for a positive x, else 0.
func square(x float64) float64 { return math.Max(x, 0) * math.Max(x, 0) }

// distance is that of the plan point of q to a segment.
func distance(q [3]float64, ax, ay, bx, by float64) float64 {
	ux, uy := bx-ax, by-ay
	t := ((q[0]-ax)*ux + (q[1]-ay)*uy) / (ux*ux + uy*uy)
	t = math.Min(math.Max(t, 0), 1)
	return math.Hypot(q[0]-ax-t*ux, q[1]-ay-t*uy)
}

// Outside expands the field outside the ball that holds the assembly, from the potentials between that ball and the rim of the grid.
func (s *Solution) Outside() (*Expansion, error) {
	if s.outside != nil {
		return s.outside, nil
	}
	g := s.Problem.Grids
	inner := s.bound()
	outer := g.Max[0]
	type node struct {
		d   [3]float64
		phi float64
	}
	var all []node
	s.eachAirNode(func(q [3]float64, phi float64) {
		r := math.Sqrt(q[0]*q[0] + q[1]*q[1] + q[2]*q[2])
		if r > 1.15*inner && r <= outer {
			all = append(all, node{q, phi})
		}
	})
	const enough = 4000
	if step := len(all)/enough + 1; step > 1 {
		kept := all[:0]
		for i := 0; i < len(all); i += step {
			kept = append(kept, all[i])
		}
		all = kept
	}
	e := &Expansion{axis: g.Axis, center: g.Center, degree: outsideDegree, outside: true, radius: inner, exact: s.Problem.Exact}
	n := harmonicCount(e.degree)
	if len(all) < 2*n {
		return nil, fmt.Errorf("only %d nodes lie outside the assembly: too few to expand its field", len(all))
	}
	a, b := mat.NewDense(len(all), n, nil), mat.NewVecDense(len(all), nil)
	var largest float64
	for i, o := range all {
		x, y, z := o.d[0]/e.radius, o.d[1]/e.radius, o.d[2]/e.radius
		r2 := x*x + y*y + z*z
		row := a.RawRowView(i)
		harmonics(e.degree, x, y, z, row)
		// A dipole's potential falls with the square of the distance: weighted so, all distances count alike.
		w := r2
		j := 0
		for l := range e.degree + 1 {
			f := w * math.Pow(r2, -float64(l)-0.5)
			for range 2*l + 1 {
				row[j] *= f
				j++
			}
		}
		row[0] = 0 // no body has a net magnetic charge
		b.SetVec(i, w*o.phi)
		largest = math.Max(largest, math.Abs(w*o.phi))
	}
	if err := e.solve(a, b, largest); err != nil {
		return nil, err
	}
	s.outside = e
	return e, nil
}

// bound is the radius of the ball about the grid's centre that holds all bodies.
func (s *Solution) bound() float64 {
	var r2 float64
	nl := s.Grid.Layers()
	for t, tri := range s.Grid.Plan.Triangles {
		for l := range nl {
			if s.Grid.Cell[t*nl+l] < 0 {
				continue
			}
			w := math.Max(math.Abs(s.Grid.Faces[l]), math.Abs(s.Grid.Faces[l+1]))
			for _, n := range tri {
				p := s.Grid.Plan.Nodes[n]
				r2 = math.Max(r2, p.X*p.X+p.Y*p.Y+w*w)
			}
		}
	}
	for i := range s.Problem.Exact {
		m := &s.Problem.Exact[i]
		d := r3.Norm(r3.Sub(m.Place.Center, s.Problem.Grids.Center)) + r3.Norm(m.Solid.HalfExtent())
		r2 = math.Max(r2, d*d)
	}
	return math.Sqrt(r2)
}

// solve computes the coefficients by least squares on scaled columns; columns without any entry (excluded by symmetry or by hand) get zero.
func (e *Expansion) solve(a *mat.Dense, b *mat.VecDense, largest float64) error {
	rows, n := a.Dims()
	var used []int
	var scale []float64
	for j := range n {
		var sum float64
		for i := range rows {
			sum += a.At(i, j) * a.At(i, j)
		}
		if sum > 0 {
			used, scale = append(used, j), append(scale, math.Sqrt(sum))
		}
	}
	m := mat.NewDense(rows, len(used), nil)
	for i := range rows {
		src, dst := a.RawRowView(i), m.RawRowView(i)
		for k, j := range used {
			dst[k] = src[j] / scale[k]
		}
	}
	var qr mat.QR
	qr.Factorize(m)
	var c mat.VecDense
	if err := qr.SolveVecTo(&c, false, b); err != nil {
		return fmt.Errorf("the field cannot be expanded: %w", err)
	}
	var misfit mat.VecDense
	misfit.MulVec(m, &c)
	misfit.SubVec(&misfit, b)
	if largest > 0 {
		e.Residual = mat.Norm(&misfit, 2) / math.Sqrt(float64(rows)) / largest
	}
	e.c = make([]float64, n)
	for k, j := range used {
		e.c[j] = c.AtVec(k) / scale[k]
	}
	return nil
}
