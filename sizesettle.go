package polewright

import (
	"bytes"
	"cmp"
	"context"
	"fmt"
	"math"
	"slices"
	"strings"

	"polewright/design"
	"polewright/material"
	"polewright/quantity"
)

// This file takes a candidate of the circuit through full solves, writes it as a design file, and lists what else would gain field.

// mostSolves is how often a candidate is corrected and solved again.
const mostSolves = 4

// settle solves a candidate, teaches the circuit what the solve says, searches the layout again and solves the better candidate, until all
// limits are met or nothing changes any more.
func (z *sizer) settle(ctx context.Context, c Candidate, k correction, report func(solve int)) (Candidate, error) {
	var best Candidate
	for solve := 1; ; solve++ {
		report(solve - 1)
		s, err := z.solve(ctx, c)
		if err != nil {
			return c, err
		}
		r := s.Result
		raw, err := c.draft.assembly(z.workC).Solve()
		if err != nil {
			return c, err
		}
		got := r.GapB[2]
		if r.Region != nil {
			got = r.Region.MeanB
		}
		c.Solved = &SolvedCandidate{GapT: got, MassKg: r.MassKg, CircuitError: 100 * (raw.GapT/got - 1), Target: r.Target, Missed: []string{}, Solves: solve}
		missed := z.missed(c)
		c.Solved.Missed = missed
		if best.Solved == nil || len(missed) < len(best.Solved.Missed) || len(missed) == len(best.Solved.Missed) && z.off(c) < z.off(best) {
			best = c
		}
		best.Solved.Solves = solve
		if len(missed) == 0 || solve == mostSolves {
			return best, nil
		}
		k.field = got / raw.GapT
		for _, check := range r.Target {
			switch {
			case check.Met:
			case check.What == "uniformity":
				k.even *= math.Max(check.Got/math.Max(c.Uniformity, 1), 1.02)
			case strings.HasPrefix(check.What, "reach"):
				k.steelT *= 0.8
			case strings.HasPrefix(check.What, "margin"):
				k.lowest = c.draft.magnet.IntrinsicCoercivityApm
			}
		}
		list, _, err := z.search(c.Layout, k)
		if err != nil {
			return c, err
		}
		if len(list) == 0 {
			best.Solved.Missed = append(best.Solved.Missed, "no size of this layout meets all limits once it is corrected by the solve")
			return best, nil
		}
		c = list[0]
	}
}

// off is how far a solved candidate's field is from the wanted one, as a fraction.
func (z *sizer) off(c Candidate) float64 { return math.Abs(c.Solved.GapT/z.field - 1) }

// missed lists what a solved candidate does not meet.
func (z *sizer) missed(c Candidate) (list []string) {
	list = []string{}
	for _, check := range c.Solved.Target {
		if !check.Met {
			list = append(list, fmt.Sprintf("%s: %.4g %s, wanted %.4g %s", check.What, check.Got, check.Unit, check.Wanted, check.Unit))
		}
	}
	if c.Solved.GapT > withinAbove*z.field {
		list = append(list, fmt.Sprintf("field: %.4g T is more than %.2g %% above the wanted %.4g T", c.Solved.GapT, 100*(withinAbove-1), z.field))
	}
	if t := z.target.Cost; t != nil && len(c.NotInStock) > 0 {
		list = append(list, fmt.Sprintf("cost: not known, as not all is in stock; the target allows %s", t))
	}
	return list
}

func (z *sizer) solve(ctx context.Context, c Candidate) (*Solved, error) {
	d, err := design.Read(bytes.NewReader(z.file(c)), "")
	if err != nil {
		return nil, fmt.Errorf("the candidate %s cannot be read as a design: %w", c.Layout, err)
	}
	return Run(ctx, d, Options{Accuracy: Draft, NoLedger: true})
}

// DesignFile is a candidate as a design file, with the target of d, for which it was sized.
func (c Candidate) DesignFile(d *design.Design) ([]byte, error) {
	z, err := newSizer(d)
	if err != nil {
		return nil, err
	}
	return z.file(c), nil
}

// file writes the layout with its lengths and the target.
func (z *sizer) file(c Candidate) []byte {
	var b bytes.Buffer
	line := func(format string, args ...any) { fmt.Fprintf(&b, format+"\n", args...) }
	mm := func(x float64) string { return fmt.Sprintf("%q", quantity.Format(x, "mm", 8)) }
	title := cmp.Or(z.title, "sized for a target")
	line("# A polewright design file, sized for its [target]. Next:  polewright predict THIS-FILE")
	line("format = 1\ntitle  = %q\n", title)
	z.writeTarget(line, mm)
	line("# The lengths can be changed one by one; `polewright parts THIS-FILE` lists the parts that they give.\n[layout]\nkind = %q\ngrade = %q", c.Layout, c.Grade)
	if c.Steel != "" {
		line("material = %q", c.Steel)
	}
	if c.Layout == "wound-pair" {
		line("packing = %g", sizedPacking)
	}
	names := make([]string, 0, len(c.Lengths))
	for name := range c.Lengths {
		names = append(names, name)
	}
	slices.Sort(names)
	for _, name := range names {
		line("%s = %s", name, mm(c.Lengths[name]))
	}
	line("\n[[probe]]\nname = \"centre\"\nat = [\"0 mm\", \"0 mm\", \"0 mm\"]")
	return b.Bytes()
}

func (z *sizer) writeTarget(line func(string, ...any), mm func(float64) string) {
	t := z.target
	line("[target]\nfield = %q", quantity.Format(t.FieldT, "T", 8))
	line("gap = %s", mm(z.gap))
	if t.UniformityFraction > 0 {
		line("uniformity = %q", quantity.Format(t.UniformityFraction, "ppm", 8))
	}
	if g := t.Region; g != nil {
		const center = `center = ["0 mm", "0 mm", "0 mm"]`
		switch g.Shape {
		case design.Sphere:
			line("region = { shape = \"sphere\", diameter = %s, %s }", mm(g.DiameterM), center)
		case design.Cylinder:
			line("region = { shape = \"cylinder\", diameter = %s, length = %s, axis = %q, %s }", mm(g.DiameterM), mm(g.LengthM), "xyz"[g.Axis:g.Axis+1], center)
		case design.Box:
			line("region = { shape = \"box\", size = [%s, %s, %s], %s }", mm(g.SizeM.X), mm(g.SizeM.Y), mm(g.SizeM.Z), center)
		}
	}
	if t.StrayLimitT > 0 {
		line("stray = { limit = %q, distance = %s }", quantity.Format(t.StrayLimitT, "mT", 8), mm(t.StrayDistanceM))
	}
	if t.MassKg > 0 {
		line("mass = %q", quantity.Format(t.MassKg, "kg", 8))
	}
	if t.Cost != nil {
		line("cost = %q", t.Cost)
	}
	var temperatures []string
	for _, x := range []struct {
		name  string
		given bool
		c     float64
	}{{"working", t.HasWorking, t.WorkingC}, {"max", t.HasMax, t.MaxC}, {"min", t.HasMin, t.MinC}} {
		if x.given {
			temperatures = append(temperatures, fmt.Sprintf("%s = \"%g degC\"", x.name, x.c))
		}
	}
	if len(temperatures) > 0 {
		line("temperature = { %s }", strings.Join(temperatures, ", "))
	}
	line("")
}

// Change is one step that gains field, by the circuit, the rest of the design as it is.
type Change struct {
	What   string  `json:"what"`
	Gain   float64 `json:"gain_percent"` // of the gap field
	MassKg float64 `json:"mass_kg"`      // more than before; below zero: less
	Full   bool    `json:"reaches_gain"` // whether it gains all that was asked for
	// Cost is about what it costs more, by the median price of a kilogram of the list, or by the price of the magnet it names; nil: not known.
	Cost *quantity.Money `json:"cost,omitempty"`
}

// changes lists what gains a percentage of the field, the lightest first, with a list of stock the cheapest first, and what falls short of it last.
func (z *sizer) changes(c draft, percent float64) (list []Change) {
	field := func(c draft) float64 {
		w, err := c.assembly(z.workC).Solve()
		if err != nil {
			return 0
		}
		return w.GapT
	}
	mass := func(c draft) float64 { magnets, yoke := c.mass(); return magnets + yoke }
	before, weight := field(c), mass(c)
	add := func(changed draft, what string, args ...any) {
		if gain := 100 * (field(changed)/before - 1); gain > 0.05 {
			list = append(list, Change{What: fmt.Sprintf(what, args...), Gain: gain, MassKg: mass(changed) - weight, Full: gain >= percent*0.99, Cost: z.costChange(c, changed)})
		}
	}
	// scaled finds the factor, up to most times the size, that gains the percentage; most where none does.
	scaled := func(most float64, change func(c *draft, factor float64)) draft {
		low, high := 1.0, most
		at := func(f float64) draft { x := c; change(&x, f); return x }
		if field(at(high)) < before*(1+percent/100) {
			return at(high)
		}
		for range 25 {
			if f := (low + high) / 2; field(at(f)) < before*(1+percent/100) {
				low = f
			} else {
				high = f
			}
		}
		return at(high)
	}
	thick := scaled(2, func(c *draft, f float64) { c.thickness *= f })
	add(thick, "thicker magnets: %.4g in place of %.4g mm each", 1e3*thick.thickness, 1e3*c.thickness)
	small := scaled(2, func(c *draft, f float64) { c.gap /= f })
	add(small, "smaller gap: %.4g in place of %.4g mm", 1e3*small.gap, 1e3*c.gap)
	wide := scaled(1.5, func(c *draft, f float64) {
		c.width, c.depth = c.width*f, c.depth*f
		if c.kind != "facing-pair" { // the yoke goes with the flux
			c.leg, c.back = c.leg*f, c.back*f
		}
	})
	add(wide, "wider faces: %.4g in place of %.4g mm, the yoke thicker with them", 1e3*wide.width, 1e3*c.width)
	if _, ok := c.steel(); ok {
		iron := scaled(2, func(c *draft, f float64) { c.leg, c.back = c.leg*f, c.back*f })
		add(iron, "thicker yoke: %.2f times its sections", iron.back/c.back)
	}
	if x, ok := z.betterGrade(c, func(y draft) bool { return field(y) >= before*(1+percent/100) }); ok {
		add(x, "better grade: %s in place of %s, if its knee allows", x.magnet.Name, c.magnet.Name)
	}
	if z.stock != nil {
		if x, ok := z.otherMagnet(c, percent, field); ok {
			add(x, "another magnet of the list: %d of %q, the yoke's sections as they are", x.poles(), x.shelf.name)
			if n := len(list); n > 0 && c.shelf.pieces > 0 {
				cost := z.stock.Money(z.rough(x) - z.rough(c))
				list[n-1].Cost = &cost
			}
		}
	}
	slices.SortStableFunc(list, func(a, b Change) int {
		if a.Full != b.Full {
			if a.Full {
				return -1
			}
			return 1
		}
		if a.Cost != nil && b.Cost != nil {
			return cmp.Compare(a.Cost.Amount, b.Cost.Amount)
		}
		return cmp.Compare(a.MassKg, b.MassKg)
	})
	return list
}

// betterGrade takes the weakest of the stronger grades that gains enough, else the strongest; ok is false where none is stronger.
func (z *sizer) betterGrade(c draft, enough func(draft) bool) (x draft, ok bool) {
	remanence := func(m material.Magnet) float64 { return m.At(z.workC).RemanenceT }
	grades := slices.DeleteFunc(slices.Clone(z.grades), func(m material.Magnet) bool { return remanence(m) < 1.005*remanence(c.magnet) })
	slices.SortStableFunc(grades, func(a, b material.Magnet) int { return cmp.Compare(remanence(a), remanence(b)) })
	if z.stock != nil {
		grades = slices.DeleteFunc(grades, func(m material.Magnet) bool { _, ok := z.stock.PerKg(m.Name); return !ok })
	}
	for _, m := range grades {
		if c.magnet = m; enough(c) {
			break
		}
	}
	return c, len(grades) > 0
}
