package polewright

import (
	"context"
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r3"

	"polewright/freefield"
	"polewright/magnetostatic"
	"polewright/shape"
)

// This file solves the loss: magnets on their curves, and what they keep of their magnetization.

// loss is what the magnets have kept so far.
type loss struct {
	a     *assembly
	fresh condition
	any   bool

	sol   *magnetostatic.Solution // the last of them, for the means over bodies
	kept  *magnetostatic.Kept     // on the grid
	exact []float64               // share of each exact source
}

// mostRounds bounds the search for the shares of exact sources, and roundTolerance is the change of a share at which it ends: it moves the gap
// field by less than a tenth of the draft's accuracy.
const (
	mostRounds     = 60
	roundTolerance = 3e-4
)

// settle solves a temperature with the magnets on their curves, and takes the loss down.
func (l *loss) settle(ctx context.Context, s *strain) error {
	a := l.a
	c := l.fresh
	c.temperatureC = s.degC
	var shares []float64
	for round := 0; ; round++ {
		p := a.problem(a.draft.grids, c)
		for i := range a.design.Magnets {
			if m := &p.Media[i]; m.Descent != nil && m.Descent.Curve != nil {
				m.Linear = false
			}
		}
		if shares == nil {
			shares = make([]float64, len(p.Exact))
			for k := range shares {
				shares[k] = 1
			}
		}
		whole := slices.Clone(p.Exact)
		for k := range p.Exact {
			p.Exact[k].Polarization = r3.Scale(shares[k], p.Exact[k].Polarization)
		}
		p.Start = a.draft.start
		_, f, err := magnetostatic.Solve(ctx, p, nil)
		if err != nil {
			return err
		}
		change := a.renew(f, whole, shares, c.temperatureC, round)
		if change > roundTolerance && round < mostRounds {
			continue
		}
		l.any, l.sol = true, f
		l.kept = f.Weaken(l.kept)
		if l.exact == nil {
			l.exact = slices.Clone(shares)
		}
		for k, x := range shares {
			l.exact[k] = min(l.exact[k], x)
		}
		s.spots = a.spots(f)
		s.gap, _ = f.At(a.center)
		return nil
	}
}

// renew finds the share that each exact source keeps in the field of f: the mean over its points of where the curve meets the load line there,
// which is the field of all others and that of the source itself, in proportion to what it keeps. A magnet by itself is found at once; the
// others follow from round to round. It gives the largest change.
func (a *assembly) renew(f *magnetostatic.Solution, whole []freefield.Magnet, shares []float64, degC float64, round int) (change float64) {
	k := -1
	for i := range a.design.Magnets {
		if f.Problem.Grids.Fits[i] {
			continue
		}
		k++
		m := &a.design.Magnets[i]
		curve, ok := m.Material.At(degC).Demagnetization()
		if !ok {
			continue
		}
		points := shape.Lattice(m.Bare(), m.Place, latticeSteps)
		var next float64
		for _, p := range points {
			x, _ := f.Raw(p)
			h, own := r3.Dot(x, m.Direction), r3.Dot(freefield.Sources{whole[k]}.H(p), m.Direction)
			lo, hi := -1.0, 1.0
			for range 40 {
				if share := (lo + hi) / 2; curve.Kept(h+(share-shares[k])*own) > share {
					lo = share
				} else {
					hi = share
				}
			}
			next += hi / float64(len(points))
		}
		if round > 10 { // neighbours that take turns
			next = (next + shares[k]) / 2
		}
		change = math.Max(change, math.Abs(next-shares[k]))
		shares[k] = next
	}
	return change
}

// gap is the field in the gap with what is left of the magnets, at the working temperature.
func (l *loss) gap(ctx context.Context) (r3.Vec, error) {
	p := l.a.problem(l.a.draft.grids, l.fresh)
	p.Kept = l.kept
	for k := range p.Exact {
		p.Exact[k].Polarization = r3.Scale(l.exact[k], p.Exact[k].Polarization)
	}
	p.Start = l.a.draft.start
	_, f, err := magnetostatic.Solve(ctx, p, nil)
	if err != nil {
		return r3.Vec{}, err
	}
	b, _ := f.At(l.a.center)
	return b, nil
}

// remanences is the mean share of its magnetization that each magnet keeps.
func (l *loss) remanences() []float64 {
	out := make([]float64, len(l.a.design.Magnets))
	for i := range out {
		out[i] = 1
	}
	if !l.any {
		return out
	}
	k := 0
	for i, kept := range l.sol.MeanKept(l.kept)[:len(out)] {
		if out[i] = kept; !l.sol.Problem.Grids.Fits[i] {
			out[i] = l.exact[k]
			k++
		}
	}
	return out
}

// at is the share of its magnetization that a magnet keeps at a point; 1 outside all magnets.
func (l *loss) at(p r3.Vec) float64 {
	if l == nil || !l.any {
		return 1
	}
	k := 0
	for i := range l.a.design.Magnets {
		m := &l.a.design.Magnets[i]
		fits := l.sol.Problem.Grids.Fits[i]
		if m.Solid.Contains(m.Place.ToLocal(p), 0) {
			if !fits {
				return l.exact[k]
			}
			return l.sol.KeptAt(l.kept, p)
		}
		if !fits {
			k++
		}
	}
	return 1
}
