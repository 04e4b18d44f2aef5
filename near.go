package polewright

import (
	"cmp"
	"context"
	"fmt"
	"slices"
	"sync"

	"polewright/design"
	"polewright/grid"
	"polewright/magnetostatic"
	"polewright/result"
)

// near is a design that many others are much like: its fields on grids of each symmetry that these have, every one solved once, at which theirs begin.
// A start depends on the design and on the grid alone, so that no solve depends on which were done before it. It may be used by many goroutines.
type near struct {
	a *assembly

	mu     sync.Mutex
	known  map[string]*solvedNear
	needed map[string]float64 // density of cells, 0 where the design cannot be solved
	steps  []Deviation        // that are known ahead
}

func nearTo(d *design.Design) (*near, error) {
	a, err := newAssembly(d)
	if err != nil {
		return nil, err
	}
	return &near{a: a, steps: slices.DeleteFunc(Deviations(d), func(v Deviation) bool { return v.Step == 0 }), known: map[string]*solvedNear{}, needed: map[string]float64{}}, nil
}

// density is the one at which the design itself meets the accuracy, so that all that are much like it have cells of one size; ok is false where it
// cannot be solved, and the density is the one given. On thin grids there have to be nodes enough in the gap for the shape of its field, too, without
// any symmetry, as most builds are.
func (n *near) density(ctx context.Context, o Options, first float64) (density float64, ok bool) {
	key := densityKey(o)
	n.mu.Lock()
	density, known := n.needed[key]
	n.mu.Unlock()
	if known {
		return cmp.Or(density, first), density > 0
	}
	if o.FieldOnly && o.Accuracy == Draft {
		density = n.thin(ctx, o, first)
	} else {
		own := Options{Accuracy: o.Accuracy, FieldOnly: o.FieldOnly, Halves: o.Halves, MemoryBytes: o.MemoryBytes}
		if f, err := n.a.solve(ctx, n.condition(), own, func(string, float64) {}, &result.Solver{}); err == nil {
			density = f.density
		}
	}
	if ctx.Err() == nil {
		n.mu.Lock()
		n.needed[key] = density
		n.mu.Unlock()
	}
	return cmp.Or(density, first), density > 0
}

// thinDegree is the least degree of the potential in the gap that tells of the shape of its field: what is higher is much the same in all builds.
const thinDegree = 3

// thin is the density of thin grids; 0 where the design cannot be solved.
func (n *near) thin(ctx context.Context, o Options, density float64) float64 {
	for ; ; density = max(refinement*density, o.Accuracy.density) {
		spec := n.a.spec(o.Accuracy.levels, density, planesOf(o.Halves))
		spec.Whole = [3]bool{true, true, true}
		s := n.solve(ctx, spec)
		if s == nil {
			return 0
		}
		if s.percent <= o.Accuracy.Percent && s.degree >= thinDegree || o.Accuracy.large(density, s.unknowns) {
			return density
		}
	}
}

// took takes over what a solve of the design for the field alone has found out.
func (n *near) took(s *Solved, a Accuracy) {
	if f, ok := s.f.(*gridField); ok && a != Draft {
		n.mu.Lock()
		defer n.mu.Unlock()
		n.needed[densityKey(Options{Accuracy: a, FieldOnly: true})] = f.density
	}
}

func densityKey(o Options) string { return fmt.Sprint(o.Accuracy, o.FieldOnly, o.Halves) }

func (n *near) condition() condition {
	return condition{temperatureC: workingTemperature(n.a.design), joints: n.a.filmed()}
}

// solvedNear is the design on grids of some symmetry.
type solvedNear struct {
	grids *grid.Grids
	start *magnetostatic.Start
	ends  map[Deviation]*magnetostatic.Start // with a deviation of one step, on the same cells; nil where there is none

	percent          float64 // estimated error of the gap field
	degree, unknowns int     // of the potential in the gap; of the finer grid
}

// grids are those of a build, and where its solve begins; nil for one that is not near.
func (n *near) grids(ctx context.Context, spec grid.Spec, build []Deviation) (*grid.Grids, *magnetostatic.Start) {
	symmetry, err := grid.SymmetryOf(spec)
	far := slices.ContainsFunc(build, func(v Deviation) bool { return v.Kind == DeviatesReversed || v.Kind == DeviatesMissing })
	if len(spec.Bodies) != len(n.a.bodies) || far || err != nil {
		return nil, nil
	}
	own := n.a.spec(spec.Levels, spec.Density, spec.Planes)
	for axis, p := range symmetry {
		own.Whole[axis] = p == grid.None
	}
	s := n.solve(ctx, own)
	if s == nil {
		return nil, nil
	}
	if g, ok := s.grids.Moved(spec); ok {
		return g, n.along(ctx, s, own, build)
	}
	return nil, s.start
}

// solve solves the design itself, once.
func (n *near) solve(ctx context.Context, spec grid.Spec) *solvedNear {
	key := fmt.Sprint(spec.Whole, spec.Levels, spec.Density, spec.Planes)
	n.mu.Lock() // while it is solved, too: whoever waits needs it as well, or another one that would take as long beside it
	defer n.mu.Unlock()
	if s, known := n.known[key]; known {
		return s
	}
	g, err := grid.Build(spec)
	if err != nil || enoughMemory(g, Accuracy{}, spec.Density, 0) != nil {
		return nil // the solve that asks will say why
	}
	coarse, fine, err := magnetostatic.Solve(ctx, n.a.problem(g, n.condition()), nil)
	if ctx.Err() != nil {
		return nil
	}
	var s *solvedNear
	if err == nil {
		s = &solvedNear{grids: g, start: magnetostatic.StartFrom(coarse, fine), ends: map[Deviation]*magnetostatic.Start{}, unknowns: fine.Effort.Unknowns}
		s.percent = 100 * n.a.estimatedError(coarse, fine)
		s.degree = thinDegree // where there is no ball of air nothing is expanded
		if e, err := fine.Inside(n.a.center, servesTo*n.a.clearance(n.a.center)); err == nil {
			s.degree = e.Degree
		}
	}
	n.known[key] = s
	return s
}

// along is the start moved as far as deviations of one step say of those of a build. For a build with many, those that are not known are solved.
func (n *near) along(ctx context.Context, s *solvedNear, spec grid.Spec, build []Deviation) *magnetostatic.Start {
	n.mu.Lock()
	defer n.mu.Unlock()
	var ends []*magnetostatic.Start
	var times []float64
	for _, v := range build {
		step, ok := n.step(v)
		if !ok {
			continue
		}
		end, known := s.ends[step]
		if !known && len(build) > 1 {
			if end = n.end(ctx, s, spec, step); ctx.Err() != nil {
				return s.start
			}
			s.ends[step] = end
		}
		if end != nil {
			ends, times = append(ends, end), append(times, v.Amount/step.Step)
		}
	}
	if len(ends) == 0 {
		return s.start
	}
	return s.start.Along(ends, times)
}

// step is the deviation of which v is some amount.
func (n *near) step(v Deviation) (Deviation, bool) {
	i := slices.IndexFunc(n.steps, func(s Deviation) bool { return s.Kind == v.Kind && s.Part == v.Part && s.Axis == v.Axis })
	if i < 0 {
		return v, false
	}
	return n.steps[i], true
}

// keep takes over the field of a build, if it is one of one step on moved cells of the design.
func (n *near) keep(f *gridField, build []Deviation) {
	if len(build) != 1 {
		return
	}
	step, ok := n.step(build[0])
	if !ok || build[0].Amount != step.Step {
		return
	}
	n.mu.Lock()
	defer n.mu.Unlock()
	for _, s := range n.known {
		if s != nil && s.grids.Same(f.Problem.Grids) {
			s.ends[step] = magnetostatic.StartFrom(f.coarse, f.Solution)
		}
	}
}

// end solves the design with a deviation of one step.
func (n *near) end(ctx context.Context, s *solvedNear, spec grid.Spec, step Deviation) *magnetostatic.Start {
	d, err := Apply(n.a.design, []Deviation{step.Of(step.Step)})
	if err != nil {
		return nil
	}
	a, err := newAssembly(d)
	if err != nil {
		return nil
	}
	own := a.spec(spec.Levels, spec.Density, spec.Planes)
	own.Whole = spec.Whole
	g, ok := s.grids.Moved(own)
	if !ok {
		return nil
	}
	p := a.problem(g, condition{temperatureC: workingTemperature(d), joints: a.filmed()})
	p.Start = s.start
	coarse, fine, err := magnetostatic.Solve(ctx, p, nil)
	if err != nil {
		return nil
	}
	return magnetostatic.StartFrom(coarse, fine)
}
