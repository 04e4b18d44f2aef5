package axisymmetric

import (
	"context"
	"errors"
	"fmt"
	"sync"

	"gonum.org/v1/gonum/spatial/r3"
)

// Solution is a solved field.
type Solution struct {
	Effort Effort

	domain *domain
	sys    *system
	phi    []float64 // potential at the mesh's nodes, A
	free   []float64 // the same by unknowns
	ring   *patches
	fits   sync.Map  // of triangles already asked for
	poles  []float64 // potential of each multipole on the rim, A
	shift  float64   // of the middle of the assembly along the axis from the problem's origin, m
}

// ErrNotConverged is wrapped when the tolerance was not reached.
var ErrNotConverged = errors.New("the field did not converge")

// Solve solves on all meshes from the coarsest to the finest and returns the solutions of the last two. progress, if not nil, is told the
// share of the work done.
func Solve(ctx context.Context, p *Problem, progress func(done float64)) (coarse, fine *Solution, err error) {
	d, err := newDomain(p)
	if err != nil {
		return nil, nil, err
	}
	var total, done float64
	for _, m := range d.meshes {
		total += float64(len(m.Nodes))
	}
	for level := range d.meshes {
		s, err := newSystem(d, level)
		if err != nil {
			return nil, nil, err
		}
		phi := make([]float64, s.n)
		var means []Vec
		if fine != nil {
			s.prolongate(fine, level, phi)
			means = fine.sys.means(fine.free)
		}
		v := newSolver(s)
		start, err := v.approach(ctx, phi, means)
		if err != nil {
			return nil, nil, err
		}
		e, err := v.newton(ctx, phi)
		if err != nil {
			return nil, nil, err
		}
		e.NewtonSteps += start.NewtonSteps
		e.History = append(start.History, e.History...)
		if !e.Converged {
			return nil, nil, fmt.Errorf("%w: after %d Newton steps the last one was still %.1e of the potential", ErrNotConverged, e.NewtonSteps, e.History[len(e.History)-1])
		}
		coarse, fine = fine, newSolution(d, s, phi, e)
		done += float64(len(d.meshes[level].Nodes))
		if progress != nil {
			progress(done / total)
		}
	}
	return coarse, fine, nil
}

func newSolution(d *domain, s *system, phi []float64, e Effort) *Solution {
	o := &Solution{Effort: e, domain: d, sys: s, shift: d.mid, phi: make([]float64, len(s.node)), free: phi, poles: make([]float64, len(s.poles))}
	for n, i := range s.node {
		if i >= 0 {
			o.phi[n] = phi[i]
		}
	}
	o.ring = newPatches(s.mesh)
	area := s.rimArea()
	for l, q := range s.poles {
		for k, i := range s.rim {
			if q != nil {
				o.poles[l] += float64(2*l+1) / area * q[k] * phi[i]
			}
		}
	}
	return o
}

// prolongate interpolates a solution to the next finer mesh.
func (s *system) prolongate(coarse *Solution, level int, phi []float64) {
	all := make([]float64, len(s.mesh.Nodes))
	s.domain.down[level-1].Apply(all, coarse.phi)
	for n, i := range s.node {
		if i >= 0 {
			phi[i] = all[n]
		}
	}
}

// Parity is the mirror symmetry along the axis.
func (s *Solution) Parity() Parity { return s.domain.parity }

// Moment is the magnetic moment of the whole assembly, A m2: that of the dipole on the rim.
func (s *Solution) Moment() r3.Vec {
	return s.domain.world(0, 0, s.dipole())
}
