package polewright

import (
	"context"
	"fmt"
	"math"
	"slices"

	"polewright/buildorder"
	"polewright/result"
)

// This file compares the two orders in which a frame may be closed.

const legsLast, legsFirst = "legs last", "legs first"

// likeShare is how near the energies of two orders count as alike: then the forces decide.
const likeShare = 0.1

// orders closes a frame with its legs standing already, and says which order is to be preferred and which is gentler to the magnets.
func (run *assembling) orders(ctx context.Context, out *result.Assembly) error {
	if !slices.ContainsFunc(run.plan.Steps, func(s buildorder.Step) bool { return s.Title == buildorder.CloseHalves }) ||
		!slices.ContainsFunc(run.plan.Steps, func(s buildorder.Step) bool { return s.Leg }) {
		return nil
	}
	last, first := result.AssemblyOrder{Name: legsLast, Feasible: true, States: []result.OrderState{}}, result.AssemblyOrder{Name: legsFirst, States: []result.OrderState{}}
	for i := range out.Steps {
		harder(&last, &out.Steps[i], i+1)
	}
	if len(run.plan.LegsFirst) == 0 {
		last.Recommended, last.Why = true, "the only way: legs that stand already are in the way of a magnet or of the upper half"
		first.Why = "legs that stand already are in the way of a magnet or of the upper half"
		out.Orders = []result.AssemblyOrder{last, first}
		return nil
	}
	first.Feasible = true
	for i, p := range run.plan.LegsFirst {
		// Numbered on, so that what a step is the image of is known.
		s, err := run.step(ctx, len(out.Steps)+i+1, p, false)
		if err != nil {
			return fmt.Errorf("legs first, step %d, %q: %w", i+1, p.Title, err)
		}
		if s.SameAs > len(out.Steps) {
			s.SameAs = 0
		}
		harder(&first, s, i+1)
		run.now++
	}
	prefer(&last, &first)
	out.OrdersOnMagnets = gentler(&last, &first)
	first.Notes = "the legs go onto the lower plate before any magnet is near and guide the upper half"
	out.Orders = []result.AssemblyOrder{last, first}
	return nil
}

// likeMargin is how near the least margins of two orders count as alike.
const likeMargin = 0.02

// gentler marks the order that leaves the magnets farther from their knees and says by how much; where the same state is the worst of both, by the
// states that they do not share.
func gentler(last, first *result.AssemblyOrder) string {
	a, b := worstOf(last.States), worstOf(first.States)
	if a == nil || b == nil {
		return ""
	}
	said := func(s *result.OrderState) string {
		return fmt.Sprintf("%s %% are left to the knee of %q in step %s", figures(100*s.Margin, 2), s.Magnet, s.Step)
	}
	alike := ""
	if math.Abs(a.Margin-b.Margin) < likeMargin {
		alike = fmt.Sprintf("at worst both are alike: %s. ", said(a))
		own := func(one, other *result.AssemblyOrder) []result.OrderState {
			return slices.DeleteFunc(slices.Clone(one.States), func(s result.OrderState) bool {
				return slices.ContainsFunc(other.States, func(o result.OrderState) bool { return o.StateStrain == s.StateStrain })
			})
		}
		a, b = worstOf(own(last, first)), worstOf(own(first, last))
		if a == nil || b == nil || math.Abs(a.Margin-b.Margin) < likeMargin {
			return alike + "Neither is gentler to the magnets"
		}
		alike += "Of the states that they do not share, "
	}
	better, other := last, first
	if b.Margin > a.Margin {
		better, other, a, b = first, last, b, a
	}
	better.Gentler = true
	return fmt.Sprintf("%s%s is gentler to the magnets: %s, against %s of %s", alike, better.Name, said(a), said(b), other.Name)
}

// worstOf is the state with the least margin to a knee, nil for none.
func worstOf(states []result.OrderState) (worst *result.OrderState) {
	for i := range states {
		if s := &states[i]; worst == nil || s.Margin < worst.Margin {
			worst = s
		}
	}
	return worst
}

// prefer recommends the order whose hardest step sets free less energy, of likes the one with the smaller force: a jig bears a force that is known, but
// what gets loose is stopped by nothing. Common practice, no source.
func prefer(last, first *result.AssemblyOrder) {
	better, other := last, first
	if ratio := first.EnergyJ / last.EnergyJ; ratio < 1-likeShare || ratio < 1+likeShare && first.LargestN < last.LargestN {
		better, other = other, better
	}
	better.Recommended = true
	if e := better.EnergyJ / other.EnergyJ; e > 1-likeShare {
		better.Why = fmt.Sprintf("the energies are alike, and its largest force is %s N against %s N", figures(better.LargestN, 3), figures(other.LargestN, 3))
	} else {
		better.Why = fmt.Sprintf("at worst it sets free %s J at once against %s J", figures(better.EnergyJ, 2), figures(other.EnergyJ, 2))
		if better.LargestN > other.LargestN {
			better.Why += fmt.Sprintf(", though its screws and rails must bear %s N against %s N", figures(better.LargestN, 3), figures(other.LargestN, 3))
		}
	}
}

// harder takes a step into an order's worst, and lists what the magnets stand in it.
func harder(o *result.AssemblyOrder, s *result.AssemblyStep, number int) {
	name := fmt.Sprintf("step %d, %s", number, s.Title)
	if s.PeakN > o.LargestN {
		o.LargestN, o.ForceIn = s.PeakN, name
	}
	if e := math.Max(s.EnergyJ, s.FlyingOffJ); e > o.EnergyJ {
		o.EnergyJ, o.EnergyIn = e, name
	}
	if s.Worst != nil {
		o.States = append(o.States, result.OrderState{Step: fmt.Sprintf("%d, %s", number, s.Title), SameAs: s.SameAs, StateStrain: *s.Worst})
	}
}
