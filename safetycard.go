package polewright

import (
	"context"
	"fmt"
	"math"

	"gonum.org/v1/gonum/spatial/r3"

	"polewright/safety"
)

// This file gathers what hangs beside the magnet: how far limits reach, what pulls on tools, what closes on a hand, how it may travel.

// CardOptions says what goes on a safety card.
type CardOptions struct {
	NoPinch  bool // leave out what closes on a hand: it takes six draft solves
	Progress func(what string, done float64)
}

// SafetyCard says what to beware of round the solved design. The error is that of ctx.
func (s *Solved) SafetyCard(ctx context.Context, o CardOptions) (*safety.Card, error) {
	progress := heard(o.Progress)
	a, r := s.a, s.Result
	around := s.Stray()
	c := &safety.Card{Format: 1, Title: r.Title, CenterM: array(around.Center), Friction: safety.SlideFriction,
		Air: safety.AirFreightOf(vector(r.MomentAm2), r.QuadrupoleAm3)}
	known := map[float64]safety.Ways{}
	limits := safety.Limits()
	for i, l := range limits {
		progress("reach of limits", 0.4*float64(i)/float64(len(limits)))
		x := safety.LimitReach{Limit: l}
		if l.AtM == 0 {
			ways, ok := known[l.FieldT]
			if !ok {
				ways = around.ways(l.FieldT)
				known[l.FieldT] = ways
			}
			x.Reach = ways
		}
		c.Limits = append(c.Limits, x)
		if err := ctx.Err(); err != nil {
			return nil, err
		}
	}
	progress("loose tools", 0.4)
	var err error
	if c.Tools, err = around.tools(ctx); err != nil {
		return nil, err
	}
	for _, h := range r.Halves {
		c.Halves = append(c.Halves, safety.HalfPull{Plane: h.Plane, ForceN: norm(h.Force)})
	}
	if p, ok := a.partsAt(); ok && !o.NoPinch {
		c.Pinch, err = s.pinch(ctx, p, func(what string, done float64) { progress("closing: "+what, 0.6+0.4*done) })
		if ctx.Err() != nil {
			return nil, ctx.Err()
		}
		if err != nil {
			c.Pinch = nil // an open design may have no solution of its own; the card says that it was not computed
		}
	}
	f := a.facts(r)
	f.FarStrengthApm = [2]float64{c.Air.At2m1Apm, c.Air.At4m6Apm}
	reach := func(limit float64) r3.Vec {
		w := known[limit]
		if w.Largest == 0 { // known to be nowhere
			return r3.Vec{X: -1, Y: -1, Z: -1}
		}
		return r3.Vec{X: w.X, Y: w.Y, Z: w.Z}
	}
	f.ImplantReach, f.CardReach, f.ProjectileReach = reach(safety.ImplantLimitT), reach(safety.CardLimitT), reach(safety.ProjectileLimitT)
	if c.Pinch != nil {
		f.PinchEnergyJ = c.Pinch.EnergyJ
	}
	f.Tools = farthestTool(c.Tools)
	c.Cautions = safety.Cautions(f)
	progress("done", 1)
	return c, nil
}

// pullDistances are those at which the pull on tools is told, m.
var pullDistances = []float64{0.002, 0.003, 0.005, 0.007, 0.01, 0.015, 0.02, 0.03, 0.05, 0.07, 0.1, 0.15, 0.2, 0.3, 0.5}

// tools says what pulls on loose tools, along the axes, the edges and the corners of the box of the parts.
func (s *Stray) tools(ctx context.Context) ([]safety.ToolPull, error) {
	const from = 1e-3
	to := math.Max(4*r3.Norm(r3.Sub(s.box.Max, s.box.Min)), 0.6)
	list := safety.Tools()
	longest := 0.0
	for _, t := range list {
		longest = math.Max(longest, t.Length)
	}
	ways := s.outward()
	rays := make([]func(r float64) float64, len(ways))
	for i, way := range ways {
		rays[i] = tabulated(func(r float64) float64 {
			if ctx.Err() != nil {
				return 0
			}
			return r3.Norm(s.field(r3.Add(s.Center, r3.Scale(s.Rim(way)+r, way))))
		}, from, to+longest)
	}
	if err := ctx.Err(); err != nil {
		return nil, err
	}
	var out []safety.ToolPull
	for _, t := range list {
		p := safety.ToolPull{Name: t.Name, WeightN: t.WeightN()}
		for _, d := range pullDistances {
			p.Pull = append(p.Pull, safety.Pull{DistanceM: d})
		}
		for i, field := range rays {
			if field == nil {
				continue
			}
			for k := range p.Pull {
				p.Pull[k].Newtons.Meet(ways[i], t.PullAt(field, p.Pull[k].DistanceM))
			}
			for _, x := range []struct {
				part float64
				to   *safety.Ways
			}{{safety.SlideFriction, &p.Slides}, {1, &p.Lifts}} {
				m, err := safety.ToolReach(field, t, x.part, from, to)
				if err != nil {
					m = to // farther than four sizes of the assembly
				}
				x.to.Meet(ways[i], m)
			}
		}
		out = append(out, p)
	}
	return out, nil
}

// outward are the directions of the axes, the edges and the corners of a box, one of each pair that symmetry makes alike.
func (s *Stray) outward() (list []r3.Vec) {
	for _, dimensions := range []float64{1, 2, 3} { // the axes first
		for x := 1.0; x >= -1; x-- {
			for y := 1.0; y >= -1; y-- {
				for z := 1.0; z >= -1; z-- {
					if x*x+y*y+z*z != dimensions || x < 0 && s.mirror[0] || y < 0 && s.mirror[1] || z < 0 && s.mirror[2] {
						continue
					}
					list = append(list, r3.Unit(r3.Vec{X: x, Y: y, Z: z}))
				}
			}
		}
	}
	return list
}

// farthestTool is the tool that slides from farthest.
func farthestTool(list []safety.ToolPull) []safety.ToolFact {
	var worst safety.ToolFact
	for _, t := range list {
		if t.Slides.Largest > worst.SlidesM {
			worst = safety.ToolFact{Name: t.Name, SlidesM: t.Slides.Largest, LiftM: t.Lifts.Largest}
		}
	}
	if worst.SlidesM == 0 {
		return nil
	}
	return []safety.ToolFact{worst}
}

// partsAt is the plane nearest to the middle of the gap at which the assembly comes apart without a cut, across the field if there is one.
func (a *assembly) partsAt() (best Plane, ok bool) {
	main := 2
	if f := a.fieldAxis(); f >= 0 {
		main = f
	}
	for _, axis := range []int{main, (main + 1) % 3, (main + 2) % 3} {
		middle := *component(&a.center, axis)
		places := []float64{middle}
		for _, p := range a.parts {
			b := shapeBounds(p)
			places = append(places, *component(&b.Max, axis), *component(&b.Min, axis))
		}
		for _, at := range places {
			p := Plane{axis, at}
			if a.parted(p) == nil && (!ok || math.Abs(at-middle) < math.Abs(best.AtM-middle)-1e-9) {
				best, ok = p, true
			}
		}
		if ok {
			return best, true
		}
	}
	return Plane{}, false
}

// fieldAxis is the axis along which most of the magnets are magnetized, -1 without magnets.
func (a *assembly) fieldAxis() int {
	var sum [3]float64
	best := -1
	for i := range a.design.Magnets {
		m := &a.design.Magnets[i]
		for k, c := range array(m.Direction) {
			sum[k] += math.Abs(c) * m.Solid.Volume()
			if sum[k] > 0 && (best < 0 || sum[k] > sum[best]) {
				best = k
			}
		}
	}
	return best
}

// pinch closes the assembly at a plane.
func (s *Solved) pinch(ctx context.Context, p Plane, progress func(string, float64)) (*safety.Pinch, error) {
	const steps = 5 // the energy is then within some per cent
	run, err := RunApproach(ctx, s.a.design, Approach{Plane: p, Steps: steps, Progress: progress})
	if err != nil {
		return nil, fmt.Errorf("closing at %s: %w", p, err)
	}
	o := &safety.Pinch{Plane: run.Plane, Moved: run.Moved, FromM: run.Steps[0].DistanceM, EnergyJ: math.Max(0, run.EnergyJ)}
	var rest float64
	for i := range s.a.parts {
		mass := s.Result.Parts[i].MassKg
		if side(s.a.parts[i], p) > 0 {
			o.MovedKg += mass
		} else {
			rest += mass
		}
	}
	o.SpeedMps = safety.ImpactSpeed(o.EnergyJ, math.Min(o.MovedKg, rest))
	for i, x := range run.Steps {
		f := norm(x.Force)
		o.ForceN = math.Max(o.ForceN, f)
		if i == 0 || f < safety.HandLimitN || o.HandM > 0 {
			continue
		}
		// Between two steps the force is taken as a power of the distance, which is zero at the last.
		before := run.Steps[i-1]
		share := 1.0
		if g := norm(before.Force); g < safety.HandLimitN && g > 0 {
			share = math.Log(safety.HandLimitN/g) / math.Log(f/g)
		}
		o.HandM = before.DistanceM + share*(x.DistanceM-before.DistanceM)
		if i == 1 && norm(before.Force) >= safety.HandLimitN {
			o.HandM = before.DistanceM
		}
	}
	return o, nil
}
