package axisymmetric

import (
	"context"
	"math"

	"polewright/linesearch"
)

// Effort is what a solve took.
type Effort struct {
	Unknowns    int
	NewtonSteps int
	History     []float64 // size of each step relative to the potential, in the energy norm
	Converged   bool
}

// state is the field strength nu(B) at the quadrature points of the nonlinear triangles, with which Newton's method starts on the mixed
// system in which B is an unknown of its own (see magnetostatic, state.go: steel at its knee asks for it).
type state struct {
	slot []int32 // of each triangle, -1 for linear ones
	h    [][points]Vec
}

func newState(s *system) *state {
	st := &state{slot: make([]int32, len(s.els))}
	for t := range s.els {
		st.slot[t] = -1
		if s.mesh.body[t] >= 0 && !s.medium(int32(t)).linear() {
			st.slot[t] = int32(len(st.h))
			st.h = append(st.h, [points]Vec{})
		}
	}
	return st
}

// advance moves the state to nu of the flux density that the linearized law gives at the potential.
func (s *system) advance(phi []float64) {
	for t, slot := range s.state.slot {
		if slot < 0 {
			continue
		}
		m := s.medium(int32(t))
		for q := range points {
			s.state.h[slot][q] = m.inverse(s.law(int32(t), q, phi).B, s.els[t].at[q])
		}
	}
}

// means gives the mean field strength of each triangle: far more accurate than that at single points, which in good steel is a small
// difference of neighbouring potentials.
func (s *system) means(phi []float64) []Vec {
	out := make([]Vec, len(s.els))
	for t := range s.els {
		if s.mesh.body[t] < 0 {
			continue
		}
		var sum Vec
		var vol float64
		for q := range points {
			h, w := s.field(int32(t), q, phi), s.els[t].w[q]
			sum[0] += w * h[0]
			sum[1] += w * h[1]
			vol += w
		}
		out[t] = Vec{sum[0] / vol, sum[1] / vol}
	}
	return out
}

const (
	mixedSteps     = 15   // at most, with B as an unknown of its own
	mixedTolerance = 1e-2 // of a step, below which the potential alone does as well
	tolerance      = 1e-5 // of Newton's last step; what is left after it is about its square
	mostSteps      = 40
)

// approach brings the potential near the solution, from the mean fields of the next coarser mesh or from zero.
func (v *solver) approach(ctx context.Context, phi []float64, means []Vec) (e Effort, err error) {
	s := v.sys
	s.state = newState(s)
	defer func() { s.state = nil }()
	if len(s.state.h) == 0 {
		return e, nil
	}
	if means != nil {
		for t, slot := range s.state.slot {
			if slot >= 0 {
				for q := range points {
					s.state.h[slot][q] = means[t/4]
				}
			}
		}
	}
	g, step := make([]float64, s.n), make([]float64, s.n)
	for e.NewtonSteps < mixedSteps {
		if err := ctx.Err(); err != nil {
			return e, err
		}
		copy(s.phi, phi)
		if err := v.factor(); err != nil {
			return e, err
		}
		s.gradient(phi, g)
		v.solve(step, g)
		e.NewtonSteps++
		for i, x := range step {
			phi[i] -= x
		}
		size := math.Sqrt(math.Abs(dot(g, step)) / s.norm(phi))
		s.advance(phi)
		e.History = append(e.History, size)
		if last := len(e.History) - 1; size < mixedTolerance || last >= 3 && size > 0.6*e.History[last-1] {
			break
		}
	}
	return e, nil
}

// newton minimizes the energy from the given potential.
func (v *solver) newton(ctx context.Context, phi []float64) (e Effort, err error) {
	s := v.sys
	e.Unknowns = s.n
	g, step, trial := make([]float64, s.n), make([]float64, s.n), make([]float64, s.n)
	s.gradient(phi, g)
	for e.NewtonSteps < mostSteps {
		if err := ctx.Err(); err != nil {
			return e, err
		}
		copy(s.phi, phi)
		if err := v.factor(); err != nil {
			return e, err
		}
		v.solve(step, g)
		for i := range step {
			step[i] = -step[i]
		}
		e.NewtonSteps++
		slope := dot(g, step) // derivative of the energy along the step, negative
		t := s.search(phi, step, trial, g, slope)
		copy(phi, trial)
		total := s.norm(phi)
		size := 0.0
		if total > 0 {
			size = math.Sqrt(math.Abs(t*t*slope) / total)
		}
		e.History = append(e.History, size)
		if size < tolerance || v.root.constant {
			e.Converged = true
			break
		}
	}
	return e, nil
}

// search finds how far to go along a step on which the convex energy falls. The potential there is left in trial, the gradient in g.
func (s *system) search(phi, step, trial, g []float64, slope float64) float64 {
	return linesearch.Convex(slope, func(t float64) float64 {
		for i := range trial {
			trial[i] = phi[i] + t*step[i]
		}
		s.gradient(trial, g)
		return dot(g, step)
	})
}

func dot(a, b []float64) (s float64) {
	for i, x := range a {
		s += x * b[i]
	}
	return s
}
