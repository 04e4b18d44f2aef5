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

// likeShare is how near the energies of two orders count as alike: then the forces decide.
const likeShare = 0.1

// orders closes a frame with its legs standing already, and says which order is to be preferred.
func (run *assembling) orders(ctx context.Context, out *result.Assembly) error {
	closing := slices.IndexFunc(run.plan.Steps, func(s buildorder.Step) bool { return s.Title == buildorder.CloseHalves })
	if closing < 0 || !slices.ContainsFunc(run.plan.Steps, func(s buildorder.Step) bool { return s.Leg }) {
		return nil
	}
	last, first := result.AssemblyOrder{Name: "legs last", Feasible: true}, result.AssemblyOrder{Name: "legs first"}
	for i, p := range run.plan.Steps {
		s := &out.Steps[i]
		harder(&last, s, fmt.Sprintf("step %d, %s", s.Number, s.Title))
		if i != closing && !p.Leg {
			harder(&first, s, fmt.Sprintf("step %d, %s", s.Number, s.Title))
		}
	}
	p := run.plan.LegsFirst
	if p == nil {
		last.Recommended, last.Why = true, "the only way: legs that stand already are in the way of a magnet or of the upper half"
		first.Why = "legs that stand already are in the way of a magnet or of the upper half"
		out.Orders = []result.AssemblyOrder{last, first}
		return nil
	}
	s := &result.AssemblyStep{Number: closing + 1, Moves: p.Moves, Toward: array(p.Toward), MassKg: out.Steps[closing].MassKg}
	if err := run.way(ctx, s, stage{moves: p.Moves, among: p.Among, toward: p.Toward, from: p.FromM}); err != nil {
		return err
	}
	first.Feasible = true
	harder(&first, s, "closing the upper half onto the legs")
	prefer(&last, &first)
	first.Notes = "the legs go onto the lower plate before any magnet is near and guide the upper half; the steps before are taken as without them"
	out.Orders = []result.AssemblyOrder{last, first}
	return nil
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

// harder takes a step into an order's worst.
func harder(o *result.AssemblyOrder, s *result.AssemblyStep, name string) {
	if s.PeakN > o.LargestN {
		o.LargestN, o.ForceIn = s.PeakN, name
	}
	if e := math.Max(s.EnergyJ, s.FlyingOffJ); e > o.EnergyJ {
		o.EnergyJ, o.EnergyIn = e, name
	}
}
