package magnetostatic

import (
	"cmp"
	"context"
	"math"
	"sync"

	"polewright/linesearch"
	"polewright/plan"
)

// Effort is what a solve took.
type Effort struct {
	Unknowns    int
	NewtonSteps int       // on this grid
	Cycles      int       // multigrid cycles on this grid, summed over the steps
	History     []float64 // size of each step relative to the potential, in the energy norm
	Rest        float64   // what is left after the last one, likewise, as one cycle sees it
	Converged   bool
}

// solver is one nonlinear problem on one grid with its preconditioner.
type solver struct {
	team   *team
	sys    *system
	coarse []*system // coarser plans with the same layers, finest first
	grids  []*columns
	planes *planes

	x, p, ap, r []float64 // conjugate gradients
	g, change   []float64 // gradient and step of Newton's method
	alpha, beta float64
	step        float64   // size of the last step of Newton's method, energy norm
	dot         []float64 // of each column

	mulWork, residualWork, directionWork, updateWork func(lo, hi int)
}

// newSolver builds the matrices of a system, systems[0], and of the coarser plans below it: down[i] carries from the plan of systems[i+1] to
// that of systems[i]. All are laid out side by side.
func newSolver(tm *team, systems []*system, down []*plan.Prolongation) (*solver, error) {
	s := &solver{team: tm, sys: systems[0], coarse: systems[1:], grids: make([]*columns, len(systems))}
	var all sync.WaitGroup
	for i, sys := range systems {
		all.Go(func() {
			elements := make([][]int32, len(sys.mesh.Triangles))
			for t := range elements {
				elements[t] = sys.mesh.Triangles[t][:]
			}
			g := newColumns(tm, sys.np, sys.nl, elements, &sys.fixed)
			sys.bind(&g.bandMatrix)
			if i < len(down) {
				g.down = newTransfer(g.np, systems[i+1].np, down[i].Start, down[i].Coarse, down[i].Weight)
			} else {
				g.down = ontoCorners(sys.mesh)
			}
			s.grids[i] = g
		})
	}
	var planesErr, wireErr error
	var along *wire
	all.Go(func() { s.planes, planesErr = cornersOf(tm, systems[len(systems)-1]) })
	all.Go(func() { along, wireErr = newWire(s.sys) })
	all.Wait()
	if err := cmp.Or(planesErr, wireErr); err != nil {
		return nil, err
	}
	for i, g := range s.grids[1:] {
		s.grids[i].next = g
	}
	s.grids[len(s.grids)-1].planes, s.grids[0].wire = s.planes, along
	n := s.sys.np * s.sys.nz
	for _, v := range []*[]float64{&s.p, &s.ap, &s.r, &s.g, &s.change} {
		*v = make([]float64, n)
	}
	s.dot = make([]float64, s.sys.np)
	s.prepareWork()
	return s, nil
}

// ontoCorners carries from the linear functions of a mesh's corners to its quadratic ones.
func ontoCorners(mesh *plan.Mesh) transfer {
	np, nv := len(mesh.Nodes), mesh.Vertices
	mids := make([][2]int32, np)
	for _, tri := range mesh.Triangles {
		for e := range 3 {
			mids[tri[3+e]] = [2]int32{tri[e], tri[(e+1)%3]}
		}
	}
	start, col, w := []int32{0}, make([]int32, 0, 2*np), make([]float64, 0, 2*np)
	for p := range np {
		if p < nv {
			col, w = append(col, int32(p)), append(w, 1)
		} else {
			col, w = append(col, mids[p][0], mids[p][1]), append(w, 0.5, 0.5)
		}
		start = append(start, int32(len(col)))
	}
	return newTransfer(np, nv, start, col, w)
}

// cornersOf lays out stage 2 of the preconditioner for the corners of a system's mesh.
func cornersOf(tm *team, base *system) (*planes, error) {
	nv := base.mesh.Vertices
	corner := make([][]int32, len(base.mesh.Triangles))
	for t := range corner {
		corner[t] = base.mesh.Triangles[t][:3]
	}
	return newPlanes(tm, corner, nv, base.faces, &fixed{column: base.fixed.column[:nv], bottom: base.fixed.bottom, top: base.fixed.top})
}

// linearize computes the tangent at phi on all grids.
func (s *solver) linearize(phi []float64) error {
	s.sys.assemble(phi)
	finer := s.sys
	for _, c := range s.coarse {
		c.assembleFrom(finer)
		finer = c
	}
	for _, g := range s.grids {
		if err := g.factor(); err != nil {
			return err
		}
	}
	last := s.grids[len(s.grids)-1]
	s.planes.takeFromColumns(last, &last.down)
	if err := s.planes.factor(); err != nil {
		return err
	}
	if g := s.grids[0]; g.wire != nil {
		return g.wire.factor(g)
	}
	return nil
}

// precondition takes one cycle on the residual and returns r.z.
func (s *solver) precondition() float64 {
	s.grids[0].cycle()
	return s.sum(s.residualWork)
}

// sum runs work that leaves a number of each column in s.dot, and adds these up in their order, whoever computed them.
func (s *solver) sum(work func(lo, hi int)) (sum float64) {
	s.team.run(s.grids[0].np, 4*s.grids[0].nz, work)
	for _, d := range s.dot {
		sum += d
	}
	return sum
}

// prepareWork builds the loops of conjugate gradients once, so that a step allocates nothing.
func (s *solver) prepareWork() {
	m := s.grids[0]
	nz := m.nz
	s.mulWork = func(lo, hi int) {
		for p := int32(lo); p < int32(hi); p++ {
			y := column(s.ap, p, nz)
			clear(y)
			addBefore(&m.bandMatrix, s.ap, s.p, p)
			addAfter(&m.bandMatrix, s.ap, s.p, m.self[p], p)
			s.dot[p] = dot(y, column(s.p, p, nz))
		}
	}
	s.residualWork = func(lo, hi int) {
		for p := int32(lo); p < int32(hi); p++ {
			r, z := column(s.r, p, nz), column(m.x, p, nz)
			var sum float64
			for k, v := range r {
				sum += v * float64(z[k])
			}
			s.dot[p] = sum
		}
	}
	s.directionWork = func(lo, hi int) {
		p, z := s.p[lo*nz:hi*nz], m.x[lo*nz:hi*nz]
		for i, v := range z {
			p[i] = float64(v) + s.beta*p[i]
		}
	}
	s.updateWork = func(lo, hi int) {
		lo, hi = lo*nz, hi*nz
		x, r, b, p, ap := s.x[lo:hi], s.r[lo:hi], m.b[lo:hi], s.p[lo:hi], s.ap[lo:hi]
		for i, v := range p {
			x[i] += s.alpha * v
			r[i] -= s.alpha * ap[i]
			b[i] = float32(r[i])
		}
	}
}

// begin takes v/scale as the residual: the preconditioner works in single precision, so its numbers are kept near one.
func (s *solver) begin(v []float64, scale float64) {
	b := s.grids[0].b
	for i, x := range v {
		s.r[i] = x / scale
		b[i] = float32(s.r[i])
	}
}

// distance is about how far the potential is from the solution where the gradient is g, in the energy norm: one cycle on the gradient.
func (s *solver) distance(g []float64) float64 {
	scale := largest(g)
	if scale == 0 {
		return 0
	}
	s.begin(g, scale)
	return scale * math.Sqrt(math.Abs(s.precondition()))
}

// conjugateGradients solves tangent * x = rhs until the residual is down to rest(that of x = 0), both measured in the preconditioned norm, which
// is about the energy norm of the error. It returns the number of cycles. (Hestenes and Stiefel 1952; Saad 2003, algorithm 9.1.)
func (s *solver) conjugateGradients(ctx context.Context, x, rhs []float64, rest func(first float64) float64, most int) (cycles int, err error) {
	clear(x)
	scale := largest(rhs)
	if scale == 0 {
		return 0, nil
	}
	m := s.grids[0]
	s.x, s.beta = x, 0
	s.begin(rhs, scale)
	clear(s.p)
	rz := s.precondition()
	goal := rest(scale*math.Sqrt(math.Abs(rz))) / scale
	for cycles = 1; ; cycles++ {
		if err := ctx.Err(); err != nil {
			return cycles, err
		}
		s.team.run(m.np, 2*m.nz, s.directionWork)
		pap := s.sum(s.mulWork)
		if !(pap > 0) || !(rz > 0) {
			return cycles, errNotDefinite
		}
		s.alpha = rz / pap
		s.team.run(m.np, 4*m.nz, s.updateWork)
		if cycles >= most {
			break
		}
		next := s.precondition()
		if next <= goal*goal {
			break
		}
		s.beta = next / rz
		rz = next
	}
	for i := range x {
		x[i] *= scale
	}
	return cycles, nil
}

func largest(v []float64) (m float64) {
	for _, x := range v {
		m = math.Max(m, math.Abs(x))
	}
	return m
}

func dot(a, b []float64) (s float64) {
	for i, x := range a {
		s += x * b[i]
	}
	return s
}

const (
	mixedSteps     = 12   // at most, of Newton's method with B as an unknown of its own
	mixedTolerance = 1e-2 // of a step, below which the potential alone does as well
	mixedForcing   = 3e-2 // what each of these steps leaves of its linear system

	mostForcing  = 0.1 // what any other step may leave
	leastForcing = 1e-3
	enough       = 0.1 // of the tolerance, below which no system need be solved
	mostCycles   = 200 // of a linear system
)

// forcing is the share of the first residual that a step of Newton's method may leave, so that no system is solved better than the step is
// worth: the square of what the step before has left of its own size (Eisenstat and Walker 1996, choice 2).
func (s *solver) forcing(first float64) float64 {
	if s.step == 0 {
		return mostForcing
	}
	left := first / s.step
	return math.Min(math.Max(left*left, leastForcing), mostForcing)
}

// approach brings the potential near the solution by Newton's method on the mixed system (state.go). mean gives the field in the cell (t, l)
// at which it starts; without it it starts from zero.
func (s *solver) approach(ctx context.Context, phi []float64, mean func(t, l int) *cellMean) (e Effort, err error) {
	s.sys.state = make([][18][3]float64, len(s.sys.tangents))
	defer func() { s.sys.state = nil }()
	if mean != nil {
		s.sys.startAt(mean)
	}
	if len(s.sys.state) == 0 {
		return e, nil
	}
	g, step := s.g, s.change
	for e.NewtonSteps < mixedSteps {
		if err := s.linearize(phi); err != nil {
			return e, err
		}
		s.sys.gradient(phi, g)
		for i := range g {
			g[i] = -g[i]
		}
		cycles, err := s.conjugateGradients(ctx, step, g, func(first float64) float64 { return mixedForcing * first }, mostCycles)
		if err != nil {
			return e, err
		}
		e.Cycles += cycles
		e.NewtonSteps++
		for i, x := range step {
			phi[i] += x
		}
		s.sys.advance(phi)
		s.step = math.Sqrt(math.Abs(dot(g, step)))
		size := s.step / math.Sqrt(s.energy(phi))
		e.History = append(e.History, size)
		if last := len(e.History) - 1; size < mixedTolerance || last >= 3 && size > 0.6*e.History[last-1] {
			break
		}
	}
	return e, nil
}

// energy is phi . A phi with the current tangent.
func (s *solver) energy(phi []float64) float64 {
	copy(s.p, phi)
	return s.sum(s.mulWork)
}

// newton minimizes the energy from the given potential until what is left is smaller than the tolerance relative to the potential, both in
// the energy norm of the tangent. most bounds the steps.
func (s *solver) newton(ctx context.Context, phi []float64, tolerance float64, most int) (Effort, error) {
	e := Effort{Unknowns: s.sys.np * s.sys.nz}
	g, step, trial := s.g, s.change, s.ap // conjugate gradients are done when something is tried
	s.sys.gradient(phi, g)
	if largest(g) == 0 { // nothing for the grid to do: exact sources alone, without recoil
		e.Converged = true
		return e, nil
	}
	var scale float64 // of the potential, in the energy norm
	for e.NewtonSteps < most {
		if err := s.linearize(phi); err != nil {
			return e, err
		}
		for i := range g {
			g[i] = -g[i]
		}
		cycles, err := s.conjugateGradients(ctx, step, g, func(first float64) float64 {
			return math.Max(s.forcing(first)*first, enough*tolerance*scale)
		}, mostCycles)
		e.Cycles += cycles
		if err != nil {
			return e, err
		}
		e.NewtonSteps++
		slope0 := -dot(g, step) // derivative of the energy along the step, negative
		t := linesearch.Convex(slope0, func(t float64) float64 {
			for i := range trial {
				trial[i] = phi[i] + t*step[i]
			}
			s.sys.gradient(trial, g)
			if ctx.Err() != nil {
				return 0
			}
			return dot(g, step)
		})
		copy(phi, trial)
		scale = math.Sqrt(s.energy(phi))
		s.step = t * math.Sqrt(math.Abs(slope0))
		size := s.step / scale
		e.History = append(e.History, size)
		if size < math.Max(tolerance, 1e-3) {
			e.Cycles++
			if e.Rest = s.distance(g) / scale; e.Rest < tolerance {
				e.Converged = true
				break
			}
		}
	}
	return e, nil
}
