package study

import (
	"context"
	"errors"
	"fmt"
	"sync"

	"polewright"
	"polewright/design"
	"polewright/jobs"
	"polewright/mistake"
)

// This file holds what the command line and the bench do alike before and while they run a study.

// VaryBy lets parameters vary as ParseVariation reads them. The error is a *mistake.Error or that of the design's text.
func (s *Space) VaryBy(list []string) error {
	for _, text := range list {
		v, err := ParseVariation(s.Text, text)
		if err != nil {
			return err
		}
		s.Vary = append(s.Vary, v)
	}
	if s.Size() > MostCases {
		return mistake.Of(fmt.Sprintf("over %d designs", MostCases), "take fewer values")
	}
	return nil
}

// Want asks for figures by their names; for none, for all that the design has. The cost needs the space's stock. The error is a *mistake.Error.
func (s *Space) Want(d *design.Design, names []string) error {
	priced := func(f Figure) Figure { return f.In(s.Stock.Currency) }
	if len(names) == 0 {
		s.Figures = FiguresFor(d)
		if cost, err := FigureNamed("cost"); err == nil && s.Stock != nil {
			s.Figures = append(s.Figures, priced(cost))
		}
		return nil
	}
	for _, name := range names {
		f, err := FigureNamed(name)
		if err != nil {
			return err
		}
		if f.Name == "cost" {
			if s.Stock == nil {
				return ErrNoStock
			}
			f = priced(f)
		}
		s.Figures = append(s.Figures, f)
	}
	return nil
}

// ErrNoStock is that of a study which asks for costs without a list of stock.
var ErrNoStock = mistake.Of("the cost needs your list of prices", "give a list of stock with prices")

// Aim sets the goals by the names of figures. The error is a *mistake.Error.
func (z *Search) Aim(least, most []string) error {
	switch n := len(least) + len(most); {
	case n == 0:
		return mistake.Of("a search needs a goal", `for example the least "mass", or the most "gap field"`)
	case n > 2:
		return mistake.Of(fmt.Sprintf("%d goals", n), "a search has one, or two for the front between them; make the others limits")
	}
	for i, name := range append(append([]string{}, least...), most...) {
		f, err := FigureNamed(name)
		if err != nil {
			return err
		}
		z.Goals = append(z.Goals, Goal{Figure: f, Most: i >= len(least)})
	}
	return nil
}

// Keep sets the limits as ParseLimit reads them; for none, the wishes of the design's target. The error is a *mistake.Error.
func (z *Search) Keep(d *design.Design, limits []string) error {
	for _, text := range limits {
		l, err := ParseLimit(text)
		if err != nil {
			return err
		}
		z.Limits = append(z.Limits, l)
	}
	if len(limits) == 0 {
		z.Limits = TargetLimits(d)
	}
	return nil
}

// Price puts costs among goals and limits in the currency of the space's stock. Without stock a search knows no cost. The error is a *mistake.Error.
func (z *Search) Price() error {
	list := z.Space.Stock
	asked := z.InStock
	for i, g := range z.Goals {
		asked = asked || g.Figure.Name == "cost"
		if list != nil {
			z.Goals[i].Figure = g.Figure.In(list.Currency)
		}
	}
	for i, l := range z.Limits {
		if l.Figure.Name != "cost" {
			continue
		}
		asked = true
		if list == nil {
			break
		}
		if l.Figure.Unit != "" && l.Figure.Unit != list.Currency {
			return mistake.Of(fmt.Sprintf("the cost is in %s, the prices of the list in %s", l.Figure.Unit, list.Currency), "write it in the currency of the list; no rate of exchange is known here")
		}
		z.Limits[i].Figure = l.Figure.In(list.Currency)
	}
	if asked && list == nil {
		return ErrNoStock
	}
	return nil
}

// RunBuilds solves builds of one design as jobs; it is what polewright.Tolerances.Solve asks for. Each of the options hears of
// them, too, with the build as Label, and may be nil.
func RunBuilds(ctx context.Context, q *jobs.Queue, whole Case, list []polewright.Build, o Options, each func(int, polewright.Built, error)) error {
	cases := func(yield func(Case) bool) {
		for _, b := range list {
			one := whole
			one.Deviations, one.Effort, one.Figures, one.Label = b.Deviations, Effort{Build: true, Values: b.Values, Thin: b.Thin}, nil, b
			if !yield(one) {
				return
			}
		}
	}
	rows := o.Each
	o.Total, o.Each = len(list), func(r Row) {
		if rows != nil {
			rows(r)
		}
		if r.Error != "" {
			each(r.Index, polewright.Built{}, errors.New(r.Error))
			return
		}
		each(r.Index, r.Built, nil)
	}
	return Run(ctx, q, cases, o)
}

// Working runs a study while n workers in this process solve its cases.
func Working(ctx context.Context, q *jobs.Queue, n int, run func(context.Context) error) error {
	ctx, cancel := context.WithCancelCause(ctx)
	defer cancel(nil)
	var gone sync.WaitGroup
	if n > 0 {
		gone.Go(func() {
			if err := q.Work(ctx, n, Solve); err != nil {
				cancel(err)
			}
		})
	}
	err := run(ctx)
	if err != nil && errors.Is(err, context.Canceled) && context.Cause(ctx) != nil {
		err = context.Cause(ctx)
	}
	cancel(nil)
	gone.Wait()
	return err
}
