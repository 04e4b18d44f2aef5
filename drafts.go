package polewright

import (
	"context"

	"gonum.org/v1/gonum/spatial/r3"

	"polewright/grid"
	"polewright/magnetostatic"
)

// drafts are solves of a design under several conditions on one coarse grid. What its cells miss is much the same in all of them, so their
// differences are known better than the fields.
type drafts struct {
	a       *assembly
	density float64

	grids *grid.Grids          // once they are built
	gap   map[condition]r3.Vec // field in the gap of each condition solved on them

	first *magnetostatic.Solution
	at    condition            // of the first
	start *magnetostatic.Start // where the others begin
}

func newDrafts(a *assembly, density float64) *drafts {
	return &drafts{a: a, density: density, gap: map[condition]r3.Vec{}}
}

// grid is the grid of all of them, built once.
func (d *drafts) grid() (*grid.Grids, error) {
	if d.grids == nil {
		g, err := grid.Build(d.a.spec(Draft.levels, d.density, [3][]float64{}))
		if err != nil {
			return nil, d.a.unfit(err)
		}
		d.grids = g
	}
	return d.grids, nil
}

// keep takes over a field of the draft's own grid: the condition need not be solved again, and others begin there.
func (d *drafts) keep(f *gridField, c condition) {
	d.grids = f.Problem.Grids
	d.gap[c], _ = f.At(d.a.center)
	d.first, d.at, d.start = f.Solution, c, magnetostatic.StartFrom(f.coarse, f.Solution)
}

// solve solves a condition, and remembers the field in the gap.
func (d *drafts) solve(ctx context.Context, c condition) (*magnetostatic.Solution, error) {
	g, err := d.grid()
	if err != nil {
		return nil, err
	}
	if d.first != nil && d.at == c {
		return d.first, nil
	}
	p := d.a.problem(g, c)
	p.Start = d.start
	coarse, s, err := magnetostatic.Solve(ctx, p, nil)
	if err != nil {
		return nil, err
	}
	if d.first == nil {
		d.first, d.at, d.start = s, c, magnetostatic.StartFrom(coarse, s)
	}
	d.gap[c], _ = s.At(d.a.center)
	return s, nil
}
