package axisymmetric

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"

	"polewright/material"
)

// This file expands the field in solid zonal harmonics: the regular ones within a ball of air on the axis, such as the gap, and the irregular
// ones outside the assembly. Both are exact solutions of Laplace's equation, so the mesh's noise does not pass.

// Expansion is a field in free space within a ball about a point of the axis.
type Expansion struct {
	domain   *domain
	z        float64   // of the centre
	radius   float64   // scale of length, m
	c        []float64 // of each degree, A
	Residual float64   // rms misfit of the potential over its largest value
}

const (
	insideDegree = 20
	insideShare  = 0.8
)

// Inside expands the field in the ball of the given radius (m) about a world point, which must lie on the axis and in air. It fits the
// potential over most of the largest such ball that holds no body and no winding.
func (s *Solution) Inside(center r3.Vec, radius float64) (*Expansion, error) {
	d := s.domain
	r, z, _, _ := d.meridian(center)
	if r > 1e-9*d.bound {
		return nil, fmt.Errorf("the point lies %.3g mm off the axis", r*1e3)
	}
	clear := math.Min(s.clearance(z), d.bound)
	if clear < radius || clear <= 0 || math.Abs(z)+clear > d.radius {
		return nil, fmt.Errorf("the ball of %.3g mm about the point reaches into a part at %.3g mm", radius*1e3, clear*1e3)
	}
	// At the distance of the nearest body the series converges no more: what it leaves out has fallen to a hundredth at this share of it.
	clear = math.Max(radius, insideShare*clear)
	e := &Expansion{domain: d, z: z, radius: clear}
	at, _ := s.fold(z)
	tris := s.within(at, clear)
	nodes := s.samples(tris, Vec{0, at}, false)
	kept := nodes[:0]
	for _, o := range nodes {
		if o.at[0] > 0 && math.Hypot(o.at[0], o.at[1]-at) <= clear {
			kept = append(kept, o)
		}
	}
	var err error
	for n := min(insideDegree+1, len(kept)/6); ; n -= 2 {
		if n < 3 {
			return nil, fmt.Errorf("only %d nodes lie in the ball of %.3g mm about the point: too few to expand the field", len(kept), clear*1e3)
		}
		if e.c, e.Residual, err = zonalFit(kept, at, clear, n); err == nil {
			break
		}
	}
	if z != at { // the ball's mirror image was fitted
		for l := range e.c {
			if (l%2 == 1) != (d.parity == Odd) {
				e.c[l] = -e.c[l]
			}
		}
	}
	return e, nil
}

// zonalFit fits the first n zonal harmonics about the height z of the axis to the potential at nodes of a ball, and gives the rms misfit over the
// largest potential. Nodes far out see higher harmonics than are fitted: they count less. Nodes at the axis hold little energy and are the less
// accurate for it.
func zonalFit(nodes []sample, z, radius float64, n int) (c []float64, residual float64, err error) {
	a, b := mat.NewDense(len(nodes), n, nil), mat.NewVecDense(len(nodes), nil)
	var largest float64
	for i, o := range nodes {
		x, y := o.at[0]/radius, (o.at[1]-z)/radius
		w := x * math.Exp(-3*(x*x+y*y))
		row := a.RawRowView(i)
		zonal(x, y, row, nil)
		for j := range row {
			row[j] *= w
		}
		b.SetVec(i, w*o.phi)
		largest = math.Max(largest, math.Abs(w*o.phi))
	}
	rows := mat.DenseCopyOf(a)
	c, ok := leastSquares(a, b)
	if !ok {
		return nil, 0, fmt.Errorf("the field cannot be expanded in the ball of %.3g mm", radius*1e3)
	}
	var misfit mat.VecDense
	misfit.MulVec(rows, mat.NewVecDense(n, c))
	misfit.SubVec(&misfit, b)
	if largest > 0 {
		residual = mat.Norm(&misfit, 2) / math.Sqrt(float64(len(nodes))) / largest
	}
	return c, residual, nil
}

// Field gives B (T) at a world point of the ball.
func (e *Expansion) Field(p r3.Vec) r3.Vec {
	r, z, cos, sin := e.domain.meridian(p)
	val, grad := make([]float64, len(e.c)), make([]Vec, len(e.c))
	zonal(r/e.radius, (z-e.z)/e.radius, val, grad)
	var b Vec
	for l, c := range e.c {
		for k := range b {
			b[k] -= material.Mu0 * c * grad[l][k] / e.radius
		}
	}
	return e.domain.world(b[0]*cos, b[0]*sin, b[1])
}

// clearance is the distance from a point of the axis to the nearest body or winding.
func (s *Solution) clearance(z float64) float64 {
	at, _ := s.fold(z)
	p := r2.Vec{Y: at}
	best := math.Inf(1)
	m := s.sys.mesh
	for t, tri := range m.Triangles {
		if m.body[t] == outer || m.body[t] < 0 && m.winding[t] < 0 {
			continue
		}
		for e := range 3 {
			a, b, c := m.Nodes[tri[e]], m.Nodes[tri[3+e]], m.Nodes[tri[(e+1)%3]]
			best = math.Min(best, math.Min(segmentDistance(p, a, b), segmentDistance(p, b, c)))
		}
		if inTriangle(p, m.Nodes[tri[0]], m.Nodes[tri[1]], m.Nodes[tri[2]]) {
			return 0
		}
	}
	return best
}

func inTriangle(p, a, b, c r2.Vec) bool {
	side := func(a, b r2.Vec) bool { return r2.Cross(r2.Sub(b, a), r2.Sub(p, a)) >= 0 }
	return side(a, b) && side(b, c) && side(c, a)
}

// within lists the triangles of air that reach into the ball about a point of the axis.
func (s *Solution) within(z, radius float64) (tris []int32) {
	m := s.sys.mesh
	for t, tri := range m.Triangles {
		if m.body[t] != -1 || m.winding[t] >= 0 {
			continue
		}
		for _, n := range tri {
			if x := m.Nodes[n]; math.Hypot(x.X, x.Y-z) <= radius {
				tris = append(tris, int32(t))
				break
			}
		}
	}
	return tris
}

// outside is H of the multipoles about the middle of the assembly: the sum of phi_l (R/rho)^(l+1) P_l(cos theta).
func (s *Solution) outside(r, z float64) (h Vec) {
	R := s.domain.radius
	var val [multipoles + 1]float64
	var grad [multipoles + 1]Vec
	x, y := r/R, z/R
	zonal(x, y, val[:], grad[:])
	rho2 := x*x + y*y
	f := 1 / math.Sqrt(rho2) // 1/rho^(2l+1)
	for l, c := range s.poles {
		k := float64(2*l+1) * val[l] / rho2
		h[0] -= c * f * (grad[l][0] - k*x) / R
		h[1] -= c * f * (grad[l][1] - k*y) / R
		f /= rho2
	}
	return h
}

// dipole is the moment along the axis: phi = m cos theta/(4 pi rho^2).
func (s *Solution) dipole() float64 {
	return 4 * math.Pi * s.domain.radius * s.domain.radius * s.poles[1]
}
