package polewright

import (
	"cmp"
	"context"
	"fmt"
	"math"
	"slices"
	"strings"

	"gonum.org/v1/gonum/interp"
	"gonum.org/v1/gonum/spatial/r3"

	"polewright/design"
	"polewright/result"
	"polewright/safety"
)

// mostCautions is how many cautions people still read.
const mostCautions = 8

// caution fills the cautions in, the most serious first.
func (a *assembly) caution(r *result.Result, tools []safety.ToolFact) {
	f := a.facts(r)
	f.Tools = tools
	list := safety.Cautions(f)
	for _, code := range []string{"cards-watches", "heat", "dust"} { // the first to leave out of a long list
		if len(list) <= mostCautions || code == "heat" && f.GradeLimitC > 0 && f.HottestC > f.GradeLimitC {
			continue
		}
		list = slices.DeleteFunc(list, func(c safety.Caution) bool { return c.Code == code })
	}
	for _, c := range list {
		r.Cautions = append(r.Cautions, fmt.Sprintf("%s (%s). %s", c.Title, c.Severity, c.Text))
	}
}

// facts is what package safety wants to know, loose tools apart.
func (a *assembly) facts(r *result.Result) safety.Facts {
	d := a.design
	f := safety.Facts{MomentAm2: norm(r.MomentAm2), GapFieldT: norm(r.GapB), WoundYoke: len(d.Wounds) > 0, KneeChecked: len(d.Magnets) > 0,
		Coils: len(d.Coils) > 0, NoMagnets: len(d.Magnets) == 0}
	if r.Region != nil {
		f.GapFieldT = math.Max(f.GapFieldT, r.Region.MaxB)
	}
	for i, p := range r.Parts {
		if n := norm(p.Force); n > f.LargestForceN {
			f.LargestForceN, f.LargestForcePart = n, p.Name
		}
		if p.MassKg > f.HeaviestKg {
			f.HeaviestKg, f.HeaviestPart = p.MassKg, p.Name
		}
		if i >= len(d.Magnets) {
			continue
		}
		m := &d.Magnets[i].Material
		if family := familyName(m.Family); family != "" && !slices.Contains(f.MagnetFamilies, family) {
			f.MagnetFamilies = append(f.MagnetFamilies, family)
		}
		if c := m.MaxTemperatureC; c > 0 && (f.GradeLimitC == 0 || c < f.GradeLimitC) {
			f.Grade, f.GradeLimitC = m.Name, c
		}
		w := p.WorkingPoint
		if w == nil || w.WorstKneeH == 0 {
			f.KneeChecked = false
		} else if margin := w.LowestH - w.WorstKneeH; i == 0 || margin < f.KneeMarginApm {
			f.KneeMarginApm, f.KneeFraction, f.KneeAt = margin, w.KneeMargin, fmt.Sprintf("%.4g °C", w.WorstC)
		}
	}
	for _, h := range r.Halves {
		f.HalfForceN = math.Max(f.HalfForceN, norm(h.Force))
	}
	f.HottestC = a.hottest()
	for _, s := range r.Stray {
		reach := r3.Vec{X: s.Reach.X, Y: s.Reach.Y, Z: s.Reach.Z}
		switch s.Limit {
		case safety.ImplantLimitT:
			f.ImplantReach = reach
		case safety.CardLimitT:
			f.CardReach = reach
		case safety.ProjectileLimitT:
			f.ProjectileReach = reach
		}
	}
	return f
}

// familyName is what people call a family of magnets, without how it is made: "NdFeB sintered" is "NdFeB". It is "" for a magnet that
// the file gives by numbers.
func familyName(family string) string {
	for _, name := range []string{"NdFeB", "SmCo", "Ferrite", "AlNiCo"} {
		if strings.Contains(strings.ToLower(family), strings.ToLower(name)) {
			return name
		}
	}
	return ""
}

// hottest is the highest temperature that the magnets get; 0 is not known.
func (a *assembly) hottest() float64 {
	switch t := a.design.Target; {
	case t == nil:
		return 0
	case t.HasMax:
		return t.MaxC
	default:
		return t.WorkingC
	}
}

// toolFacts says which loose tool comes from farthest, and from how far: towards the side of the assembly that pulls it most.
func (a *assembly) toolFacts(ctx context.Context, f fieldOf) []safety.ToolFact {
	box := a.outer()
	center := box.Center()
	size := r3.Norm(box.Size())
	tools := safety.Tools()
	longest := 0.0
	for _, t := range tools {
		longest = math.Max(longest, t.Length)
	}
	// The pull is sought from 1 mm off the surface to a distance at which no assembly draws a tool.
	from, to := 1e-3, math.Max(4*size, 0.5)
	ways := alongAxes(mirrorsOf(f))
	facts := make([]safety.ToolFact, len(ways))
	onAllCores(len(ways), func(i int) {
		if ctx.Err() != nil {
			return
		}
		face := math.Abs(r3.Dot(ways[i], r3.Sub(box.Max, center)))
		field := tabulated(func(r float64) float64 {
			b, _ := f.At(r3.Add(center, r3.Scale(face+r, ways[i])))
			return r3.Norm(b)
		}, from, to+longest)
		if field == nil {
			return
		}
		for _, t := range tools {
			slides, err := safety.ToolReach(field, t, safety.SlideFriction, math.Max(from, facts[i].SlidesM), to)
			if err != nil || slides <= facts[i].SlidesM {
				continue
			}
			lift, err := safety.ToolReach(field, t, 1, from, to)
			if err != nil {
				lift = 0 // not known
			}
			facts[i] = safety.ToolFact{Name: t.Name, SlidesM: slides, LiftM: lift}
		}
	})
	worst := slices.MaxFunc(facts, func(a, b safety.ToolFact) int { return cmp.Compare(a.SlidesM, b.SlidesM) })
	if worst.SlidesM == 0 {
		return nil
	}
	return []safety.ToolFact{worst}
}

// tabulated is a field along a line as a cubic through its logarithms at points that lie closer near the surface, so that the many values
// which a tool's pull takes do not each cost a field. It is nil if a value is not finite.
func tabulated(f func(r float64) float64, from, to float64) func(r float64) float64 {
	const (
		points = 24    // they give the distances of tools to 0.2 %, but for those of less than 10 mm beside the face of a magnet
		near   = 5e-3  // below this distance the points lie evenly
		least  = 1e-12 // T, for a place without any field
	)
	x, y := make([]float64, points+1), make([]float64, points+1)
	lo, hi := math.Log(from+near), math.Log(to+near)
	onAllCores(len(x), func(i int) {
		x[i] = lo + (hi-lo)*float64(i)/points
		y[i] = math.Log(f(math.Exp(x[i])-near) + least)
	})
	for _, v := range y {
		if math.IsNaN(v) || math.IsInf(v, 0) {
			return nil
		}
	}
	var cubic interp.AkimaSpline
	if err := cubic.Fit(x, y); err != nil {
		return nil
	}
	return func(r float64) float64 { return math.Exp(cubic.Predict(math.Log(r + near))) }
}

func norm(v [3]float64) float64 { return math.Hypot(math.Hypot(v[0], v[1]), v[2]) }

// mostLost is the loss of gap field, per cent, up to which a design is taken as safe.
const mostLost = 1

// noField is a field in the gap, T, of which no share is worth stating.
const noField = 1e-4

// Unsafe says, a sentence each, which safety checks a design does not meet by its result: a gap that loses more than 1 % of its field for good
// at the temperatures asked for, a magnet past its knee whose loss is not known, and a magnet that gets hotter than its maker allows. Targets,
// the stray limit among them, are judged in the result.
func Unsafe(d *design.Design, r *result.Result) (list []string) {
	hot := r.TempC
	if t := d.Target; t != nil && t.HasMax {
		hot = t.MaxC
	}
	if o := r.Demagnetization; o != nil {
		if o.LostGap > mostLost {
			list = append(list, fmt.Sprintf("the gap loses %.3g %% of its field for good at %.4g °C", o.LostGap, o.WorstC))
		}
		if norm(r.GapB) < noField { // two magnets that oppose each other have no field between them
			for i := range d.Magnets {
				if w := r.Parts[i].WorkingPoint; w.RemanenceKept != 0 && w.RemanenceKept < 1-mostLost/100. {
					list = append(list, fmt.Sprintf("%q keeps %.3g %% of its magnetization for good after %.4g °C", r.Parts[i].Name, 100*w.RemanenceKept, w.WorstC))
				}
			}
		}
		for _, name := range o.NotComputed {
			list = append(list, fmt.Sprintf("%q passes its knee, and what it loses is not known", name))
		}
	}
	for i := range min(len(d.Magnets), len(r.Parts)) { // a result of the field only has no parts
		m, p := &d.Magnets[i], &r.Parts[i]
		if limit := m.Material.MaxTemperatureC; limit > 0 && hot > limit {
			list = append(list, fmt.Sprintf("%q gets %.4g °C, and %s stands %.4g °C", p.Name, hot, m.Material.Name, limit))
		}
	}
	return list
}
