package magnetostatic

import (
	"context"
	"errors"
	"fmt"
	"math"
	"runtime"
	"slices"
	"sync"

	"gonum.org/v1/gonum/spatial/r3"

	"polewright/freefield"
	"polewright/grid"
	"polewright/harmonic"
	"polewright/material"
	"polewright/plan"
)

// Problem is a set of bodies on nested grids.
type Problem struct {
	Grids *grid.Grids
	Media []Medium // of each body, in the order of the grid's bodies
	// Exact are the magnets that the grid does not follow: uniformly polarized, their field known in closed form. Recoil is the relative
	// recoil permeability of each, which acts on the grid, ExactBody its number among the grid's bodies.
	Exact     []freefield.Magnet
	Recoil    []float64
	ExactBody []int
	Kept      *Kept // what magnets of the grid keep of their polarization, nil for all of it
	Coils     []Coil
	// Unfitted are the soft bodies that the grid does not follow.
	Unfitted []Unfitted
	Dipole   r3.Vec // world direction of the assembly's moment when it lies along an axis, else zero: it sharpens the closure of open space
	Start    *Start // where to begin, nil for zero
	// Rough asks for forces and energies only: the tolerances are roughly times as large, which changes them by less than 1e-5.
	Rough bool
}

// Stage tells how far a solve has come: done and todo are in the same unit of work.
type Stage struct {
	What       string
	Done, Todo float64
}

// Solution is a solved field.
type Solution struct {
	Problem *Problem
	Grid    *grid.Grid
	Phi     []float64 // potential, A, node (p, k) of plan node p and layer node k at p*(2 layers+1)+k
	Effort  Effort

	applied []float64 // nodal potential of the exact sources, or nil
	sys     *system

	// What reading the field takes is found once, by whoever asks first; all may ask at the same time.
	patches     func() *patches
	closedForms func() closedForms
	across      func() [][3]int32 // triangles across the edges of each
	air         func() []bool     // nodes of air cells
	held        func() []int32    // bodies that are exact sources of which each cell holds a piece, -1 for none; nil where there are none
	outside     func() (*harmonic.Expansion, error)
	reach       func() float64 // distance from which the multipoles serve, m
	moment      func() r3.Vec
}

// newSolution is a solution without its potential.
func newSolution(p *Problem, g *grid.Grid, sys *system) *Solution {
	s := &Solution{Problem: p, Grid: g, applied: sys.applied, sys: sys}
	s.patches = sync.OnceValue(func() *patches { return newPatches(g.Plan.Triangles, len(g.Plan.Nodes)) })
	s.closedForms = sync.OnceValue(s.findClosedForms)
	s.across = sync.OnceValue(g.Plan.Neighbors)
	s.air = sync.OnceValue(s.findAir)
	s.held = sync.OnceValue(s.findHeld)
	s.outside = sync.OnceValues(s.expandOutside)
	s.reach = sync.OnceValue(func() float64 { return 1.8 * s.bound() })
	s.moment = sync.OnceValue(s.sumMoment)
	return s
}

// ErrNotConverged is wrapped when the tolerance was not reached.
var ErrNotConverged = errors.New("the field did not converge")

// tolerances are of what is left of the potential, relative to it, in the energy norm. On the coarser grids the discretization error is far
// larger; the last but one gives the error estimate.
const (
	coarseTolerance = 1e-2
	errorTolerance  = 1e-5
	fineTolerance   = 2e-7
	roughly         = 50
	mostSteps       = 40
)

// worthCollecting is the unknowns from which the matrices are collected at once after a solve: they are most of the memory, and what follows would
// grow it further before the collector came by itself. It takes less than a millisecond, which drafts would feel.
const worthCollecting = 30_000

// Solve solves on all grids of the problem from the coarsest to the finest and returns the solutions of the last two, coarse and fine. It
// stops soon after the context is cancelled, with its error.
func Solve(ctx context.Context, p *Problem, progress func(Stage)) (coarse, fine *Solution, err error) {
	g := p.Grids
	var total, done float64
	for _, gr := range g.Grid {
		total += float64(gr.Unknowns())
	}
	first := 0
	from := p.Start.on(g)
	if from != nil {
		first = len(g.Grid) - 2
	}
	if g.Grid[len(g.Grid)-1].Unknowns() > worthCollecting {
		defer runtime.GC() // once the team holds nothing any more
	}
	tm := newTeam()
	tm.ctx = ctx
	defer tm.close()
	for level := first; level < len(g.Grid); level++ {
		if progress != nil {
			progress(Stage{fmt.Sprintf("grid %d of %d, %d unknowns", level+1, len(g.Grid), g.Grid[level].Unknowns()), done, total})
		}
		sol, err := p.solveOn(ctx, tm, level, fine, from)
		if e := ctx.Err(); e != nil {
			return nil, nil, e
		}
		if err != nil {
			return nil, nil, err
		}
		done += float64(sol.Grid.Unknowns())
		coarse, fine = fine, sol
	}
	if progress != nil {
		progress(Stage{"solved", total, total})
	}
	return coarse, fine, nil
}

// solveOn solves on one grid, from the solution of the next coarser one, or from a start where there is one.
func (p *Problem) solveOn(ctx context.Context, tm *team, level int, coarse *Solution, from *carried) (*Solution, error) {
	g := p.Grids
	s, err := p.solver(tm, level)
	if err != nil {
		return nil, err
	}
	defer func() { s.sys.tangent = nil }() // it would keep the matrices of all plans
	sol := newSolution(p, g.Grid[level], s.sys)
	tolerance := coarseTolerance
	switch len(g.Grid) - level {
	case 1:
		tolerance = fineTolerance
	case 2:
		tolerance = errorTolerance
	}
	if p.Rough && tolerance < coarseTolerance {
		tolerance *= roughly
	}
	var begin Effort
	switch {
	case from != nil && coarse == nil:
		sol.Phi = slices.Clone(from.phi[0])
		begin, err = from.approach(ctx, s, 0, sol.Phi)
	case from != nil:
		// The start with what has changed on the coarser grid.
		change := slices.Clone(coarse.Phi)
		for i, v := range from.phi[0] {
			change[i] -= v
		}
		sol.Phi = prolongate(g, level, change)
		for i, v := range from.phi[1] {
			sol.Phi[i] += v
		}
		begin, err = from.approach(ctx, s, 1, sol.Phi)
	case coarse != nil:
		sol.Phi = prolongate(g, level, coarse.Phi)
		means, layers := coarse.sys.means(coarse.Phi), coarse.Grid.Layers()
		// Triangles 4t to 4t+3 of a refined plan lie in triangle t, layers 2l and 2l+1 in layer l.
		begin, err = s.approach(ctx, sol.Phi, func(t, l int) *cellMean { return &means[t/4*layers+l/2] })
	default:
		sol.Phi = make([]float64, sol.Grid.Unknowns())
		begin, err = s.approach(ctx, sol.Phi, nil)
	}
	if err != nil {
		return nil, err
	}
	sol.Effort, err = s.newton(ctx, sol.Phi, tolerance, mostSteps)
	sol.Effort.NewtonSteps += begin.NewtonSteps
	sol.Effort.Cycles += begin.Cycles
	sol.Effort.History = append(begin.History, sol.Effort.History...)
	if err == nil && !sol.Effort.Converged {
		err = fmt.Errorf("%w: after %d Newton steps about %.1e of the potential was left", ErrNotConverged, sol.Effort.NewtonSteps, sol.Effort.Rest)
	}
	return sol, err
}

// solver sets up one level: the system on its own plan and, with the same layers, on all coarser plans.
func (p *Problem) solver(tm *team, level int) (*solver, error) {
	g := p.Grids
	var systems []*system
	var down []*plan.Prolongation
	for j := level; j >= 0; j-- {
		s, err := p.system(tm, j, level)
		if err == nil {
			err = tm.cancelled()
		}
		if err != nil {
			return nil, err
		}
		systems = append(systems, s)
		if j < level {
			down = append(down, g.Down[j])
		}
	}
	return newSolver(tm, systems, down)
}

// system builds the discrete energy on the plan of one level with the layers of another.
func (p *Problem) system(tm *team, planLevel, layerLevel int) (*system, error) {
	g := p.Grids
	gr := g.Grid[planLevel]
	faces := g.Grid[layerLevel].Faces
	nl, own := len(faces)-1, gr.Layers()
	shift := layerLevel - planLevel
	cell := make([]int32, len(gr.Plan.Triangles)*nl)
	for t := range gr.Plan.Triangles {
		for l := range nl {
			cell[t*nl+l] = gr.Cell[t*own+l>>shift] + 1
		}
	}
	media := append([]Medium{Air()}, p.Media...)
	s, err := newSystem(tm, gr.Plan, faces, cell, media)
	if err != nil {
		return nil, err
	}
	par := g.Parity()
	d := g.Frame(p.Dipole)
	if n := math.Sqrt(d[0]*d[0] + d[1]*d[1] + d[2]*d[2]); n > 0 {
		s.dipole = [3]float64{d[0] / n, d[1] / n, d[2] / n}
	}
	tol := 1e-9 * g.Scale
	for i, n := range gr.Plan.Nodes {
		s.fixed.column[i] = par[0] == grid.Odd && math.Abs(n.X) < tol || par[1] == grid.Odd && math.Abs(n.Y) < tol
	}
	s.fixed.bottom = par[2] == grid.Odd
	s.lid = [2]bool{par[2] == grid.None, true}
	for _, tri := range gr.Plan.Triangles {
		for e := range 3 {
			a, b, m := tri[e], tri[(e+1)%3], tri[3+e]
			pa, pb, pm := gr.Plan.Nodes[a], gr.Plan.Nodes[b], gr.Plan.Nodes[m]
			var nu, nv float64
			switch {
			case math.Abs(pa.X-g.Max[0]) < tol && math.Abs(pb.X-g.Max[0]) < tol:
				nu = 1
			case math.Abs(pa.Y-g.Max[1]) < tol && math.Abs(pb.Y-g.Max[1]) < tol:
				nv = 1
			case par[0] == grid.None && math.Abs(pa.X-g.Min[0]) < tol && math.Abs(pb.X-g.Min[0]) < tol:
				nu = -1
			case par[1] == grid.None && math.Abs(pa.Y-g.Min[1]) < tol && math.Abs(pb.Y-g.Min[1]) < tol:
				nv = -1
			default:
				continue
			}
			s.open = append(s.open, openEdge{node: [3]int32{a, m, b}, u: [3]float64{pa.X, pm.X, pb.X}, v: [3]float64{pa.Y, pm.Y, pb.Y}, nu: nu, nv: nv})
		}
	}
	s.closeSpace()
	s.placeCoils(p.Coils)
	s.specialize(g.Warps, p.Unfitted, p.exactPolarization)
	if planLevel == layerLevel && len(p.Exact) > 0 {
		p.apply(s)
	}
	if len(p.Exact) > 0 && planLevel != layerLevel {
		p.coverPartly(s)
	}
	if planLevel == layerLevel {
		s.kept = p.keptAt(planLevel)
		s.addSources()
	}
	return s, nil
}

// world gives the world position of a point of the grid's frame.
func (p *Problem) world(u, v, w float64) r3.Vec {
	return r3.Add(p.Grids.Center, p.Grids.World([3]float64{u, v, w}))
}

// exactAt is the number of the exact source that holds a point of the grid's frame, -1 for none.
func (p *Problem) exactAt(q [3]float64) int {
	x := p.world(q[0], q[1], q[2])
	return slices.IndexFunc(p.Exact, func(m freefield.Magnet) bool { return m.Solid.Contains(m.Place.ToLocal(x), 0) })
}

// exactPolarization is that of the exact source which holds a point, T, both in the grid's frame; zero elsewhere.
func (p *Problem) exactPolarization(q [3]float64) Vec {
	if i := p.exactAt(q); i >= 0 {
		return Vec(p.Grids.Frame(p.Exact[i].Polarization))
	}
	return Vec{}
}

// apply puts the exact sources on a system: their potential at the nodes of bodies, and their recoil.
func (p *Problem) apply(s *system) {
	s.applied = make([]float64, s.np*s.nz)
	need := make([]bool, s.np*s.nz)
	for t, tri := range s.mesh.Triangles {
		for l := range s.nl {
			if s.cell[t*s.nl+l] == 0 {
				continue
			}
			for _, n := range tri {
				for k := range 3 {
					need[int(n)*s.nz+2*l+k] = true
				}
			}
		}
	}
	var points []r3.Vec
	var nodes []int
	for n := range s.np {
		for k := range s.nz {
			if need[n*s.nz+k] {
				points = append(points, p.world(s.mesh.Nodes[n].X, s.mesh.Nodes[n].Y, s.height(k)))
				nodes = append(nodes, n*s.nz+k)
			}
		}
	}
	phi := make([]float64, len(points))
	freefield.Assemble(p.Exact).Potentials(points, phi)
	for i, n := range nodes {
		s.applied[n] = phi[i]
	}
	p.coverPartly(s)
}

// height is the position of layer node k along w.
func (s *system) height(k int) float64 {
	if k%2 == 0 {
		return s.faces[k/2]
	}
	return (s.faces[k/2] + s.faces[k/2+1]) / 2
}

// coverPartly finds the quadrature points of air cells within exact sources and what their recoil does there.
func (p *Problem) coverPartly(s *system) {
	all := freefield.Assemble(p.Exact)
	s.partial = make(map[int64]*partialCell)
	for t := range s.els {
		e := &s.els[t]
		for l := range s.nl {
			if s.cell[t*s.nl+l] != 0 {
				continue
			}
			var pc *partialCell
			for zq := range 3 {
				w := s.faces[l] + layerRule[zq].s*(s.faces[l+1]-s.faces[l])
				for pq := range 6 {
					x := p.world(e.u[pq], e.v[pq], w)
					for i := range p.Exact {
						m := &p.Exact[i]
						if p.Recoil[i] == 1 || !m.Solid.Contains(m.Place.ToLocal(x), 0) {
							continue
						}
						if pc == nil {
							pc = &partialCell{}
							s.partial[int64(t)*int64(s.nl)+int64(l)] = pc
						}
						q := 6*zq + pq
						pc.excess[q] = material.Mu0 * (p.Recoil[i] - 1)
						field := p.Grids.Frame(all.H(x))
						s.zones.addTo(&field, t*s.nl+l, s.point(t, l, q))
						pc.field[q] = field
						break
					}
				}
			}
		}
	}
}

// prolongate interpolates a solution to the next finer grid by the quadratic functions of the coarse one.
func prolongate(g *grid.Grids, level int, coarse []float64) []float64 {
	cg, fg, d := g.Grid[level-1], g.Grid[level], g.Down[level-1]
	cz, fz := 2*cg.Layers()+1, 2*fg.Layers()+1
	column := make([]float64, cz)
	out := make([]float64, fg.Unknowns())
	for p := range fg.Plan.Nodes {
		clear(column)
		for i := d.Start[p]; i < d.Start[p+1]; i++ {
			q := int(d.Coarse[i])
			for k, v := range coarse[q*cz : (q+1)*cz] {
				column[k] += d.Weight[i] * v
			}
		}
		x := out[p*fz : (p+1)*fz]
		for l := range cg.Layers() {
			a, b, c := column[2*l], column[2*l+1], column[2*l+2]
			x[4*l], x[4*l+1], x[4*l+2], x[4*l+3], x[4*l+4] = a, 0.375*a+0.75*b-0.125*c, b, -0.125*a+0.75*b+0.375*c, c
		}
	}
	return out
}
