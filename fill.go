package polewright

import (
	"context"
	"fmt"
	"math"
	"slices"
	"strings"

	"gonum.org/v1/gonum/spatial/r3"

	"polewright/design"
	"polewright/magnetostatic"
	"polewright/material"
	"polewright/mistake"
	"polewright/result"
	"polewright/shape"
	"polewright/stock"
	"polewright/winding"
)

// This file takes the numbers of a result from a solved field.

func shapeBounds(p design.Part) r3.Box { return shape.Bounds(p.Solid, p.Place) }

func array(v r3.Vec) [3]float64 { return [3]float64{v.X, v.Y, v.Z} }

// outer is the box that holds all parts.
func (a *assembly) outer() r3.Box {
	b := shapeBounds(a.parts[0])
	for _, p := range a.parts[1:] {
		b = b.Union(shapeBounds(p))
	}
	return b
}

// fill takes the numbers of a result from a field: in the gap, of the parts, and outside, side by side.
func (a *assembly) fill(ctx context.Context, r *result.Result, f fieldOf, use condition, o Options) error {
	if o.FieldOnly {
		a.fillGap(r, f)
		return ctx.Err()
	}
	bodies := f.Bodies()
	return sideBySide(ctx, func(context.Context) error {
		a.fillGap(r, f)
		return nil
	}, func(context.Context) error {
		a.fillParts(r, f, bodies, use)
		for _, h := range o.Halves {
			force, err := f.Half(h)
			if err != nil {
				return err
			}
			r.Halves = append(r.Halves, result.Half{Plane: h.String(), Force: array(force)})
		}
		for _, g := range o.Groups {
			sum, err := a.group(g, r.Parts)
			if err != nil {
				return err
			}
			r.Groups = append(r.Groups, sum)
		}
		return a.fillWinding(r, bodies)
	}, func(ctx context.Context) error {
		a.fillStray(ctx, r, f, bodies)
		return nil
	})
}

// fillGap takes what is asked of the field in the gap, at probes and across sections.
func (a *assembly) fillGap(r *result.Result, f fieldOf) {
	d := a.design
	gap := a.gapField(f)
	for _, p := range d.Probes {
		b, h := f.At(p.At)
		q := result.Probe{Name: p.Name, At: array(p.At), B: array(b), H: array(h)}
		if o, err := gap.Derivatives(p.At); err == nil {
			q.Derivatives = o
		}
		r.Probes = append(r.Probes, q)
	}
	r.GapAtM = array(a.center)
	r.GapB = array(gap.Field(a.center))
	r.Harmonics = gap.Harmonics()
	if t := d.Target; t != nil && t.Region != nil {
		reg := gap.Region()
		r.Region = &reg
	}
	for _, s := range d.Sections {
		for i, p := range a.parts {
			if p.Name == s.Part {
				mean, area, flux := f.Section(i, s.Axis, s.AtM)
				r.Sections = append(r.Sections, result.Section{Name: s.Name, MeanB: mean, Area: area, Flux: flux})
			}
		}
	}
}

func (a *assembly) fillParts(r *result.Result, f fieldOf, bodies []magnetostatic.BodyIntegral, use condition) {
	d := a.design
	force, torque := f.Forces()
	for i, p := range a.parts {
		b := &bodies[i]
		q := result.Part{Name: p.Name, Kind: p.Kind, Force: array(force[i]), Torque: array(torque[i]), MeanB: b.MeanB1, MaxB: b.MaxB, Shape: p.Solid.String()}
		switch {
		case i < len(d.Magnets):
			m := &d.Magnets[i]
			q.Material = m.Material.Name
			q.MassKg = m.Material.DensityKgPerM3 * m.Solid.Volume()
			w := result.WorkingPoint{B: r3.Dot(b.MeanB, m.Direction), H: r3.Dot(b.MeanH, m.Direction)}
			if w.H != 0 {
				w.Permeance = -w.B / (material.Mu0 * w.H)
			}
			w.KneeH = known(m.Material.At(use.temperatureC).KneeApm())
			w.MaxKneeH = w.KneeH
			if t := d.Target; t != nil && t.HasMax {
				w.MaxKneeH = known(m.Material.At(t.MaxC).KneeApm())
			}
			if w.MaxKneeH != 0 {
				w.KneeMargin = 1 - w.H/w.MaxKneeH
			}
			q.WorkingPoint = &w
			q.Exact = isExact(f, i)
		case i < len(d.Magnets)+len(d.Steels):
			s := &d.Steels[i-len(d.Magnets)]
			q.Material = s.Material.Name
			q.MassKg = s.Material.DensityKgPerM3 * s.Solid.Volume()
			js := s.Material.Curve.SaturationT()
			q.Saturation, q.MaxSaturation = b.MeanB1/js, b.MaxB/js
			if g, ok := f.(*gridField); ok {
				q.Cut = !g.Problem.Grids.Fits[i]
			}
		case a.coil(i) != nil:
			q.AmpereTurns = a.coil(i).AmpereTurns
		default:
			w := &d.Wounds[i-len(d.Magnets)-len(d.Steels)]
			q.Material = w.Material.Name
			q.MassKg = w.Material.DensityKgPerM3 * w.Solid.Volume() * w.Packing
			js := w.Packing * w.Material.Curve.SaturationT()
			q.Saturation, q.MaxSaturation = b.MeanB1/js, b.MaxB/js
		}
		r.Parts = append(r.Parts, q)
		r.MassKg += q.MassKg
	}
	for i := range d.Spacers {
		s := &d.Spacers[i]
		q := result.Part{Name: s.Name, Kind: "spacer", MassKg: s.Material.DensityKgPerM3 * s.Solid.Volume(), Material: s.Material.Name, Shape: s.Solid.String()}
		r.Parts = append(r.Parts, q)
		r.MassKg += q.MassKg
	}
}

// isExact tells whether a magnet is an exact source of the field.
func isExact(f fieldOf, body int) bool {
	if _, ok := f.(closedForm); ok {
		return true
	}
	g, ok := f.(*gridField)
	if !ok {
		return false
	}
	return slices.Contains(g.Problem.ExactBody, body)
}

// known is 0 for a value that is not finite.
func known(v float64) float64 {
	if math.IsInf(v, 0) || math.IsNaN(v) {
		return 0
	}
	return v
}

// WindingPlan is what the winding sheet needs of a wound yoke.
func WindingPlan(w *design.Wound) winding.Plan {
	t := w.Racetrack()
	p := winding.Plan{CoreX: t.CoreX, CoreY: t.CoreY, CornerRadius: t.CornerRadius, Width: t.Width, WireDiameter: w.WireDiameterM,
		Density: w.Material.DensityKgPerM3, Lay: w.Lay, Packing: w.Packing}
	if w.Lay == design.Square || w.Lay == design.Nested {
		p.Packing = 0 // what whole layers of it leave, a little less than the ideal that the design has
	}
	if w.TurnsGiven {
		p.Turns = w.Turns
	} else {
		p.Build = t.Build
	}
	return p
}

// magnetFlux is the largest flux that a magnet sends, Wb.
func magnetFlux(d *design.Design, bodies []magnetostatic.BodyIntegral) float64 {
	var flux float64
	for i := range d.Magnets {
		m := &d.Magnets[i]
		e := m.Place.Rot.Inverse(m.Direction)
		h := m.Solid.HalfExtent()
		length := 2 * (math.Abs(e.X)*h.X + math.Abs(e.Y)*h.Y + math.Abs(e.Z)*h.Z)
		flux = math.Max(flux, r3.Dot(bodies[i].MeanB, m.Direction)*m.Solid.Volume()/length)
	}
	return flux
}

func (a *assembly) fillWinding(r *result.Result, bodies []magnetostatic.BodyIntegral) error {
	d := a.design
	flux := magnetFlux(d, bodies)
	for i := range d.Wounds {
		w := &d.Wounds[i]
		sheet, err := winding.Wind(WindingPlan(w))
		if err != nil {
			return mistake.At(d.File, w.Line, "wound."+w.Name, err)
		}
		s := result.Winding{Name: w.Name, Turns: sheet.Turns, LengthM: sheet.WireLengthM, MassKg: sheet.WireMassKg, BuildM: sheet.BuildM,
			Packing: sheet.Packing, SteelArea: sheet.SteelAreaM2, MagnetFlux: flux}
		if c, err := winding.Capacity(sheet.SteelAreaM2, w.Material.Curve.SaturationT(), flux); err == nil {
			s.Capacity, s.Sentence = c.CapacityWb, c.Sentence
		}
		r.Windings = append(r.Windings, s)
	}
	return nil
}

// sectionPoints is how many points sample a cross-section, about.
const sectionPoints = 1600

// sampleSection is the mean of a field across a part's cross-section, where the field is known to lie in the part.
func sampleSection(p design.Part, axis int, at float64, field func(r3.Vec) (b r3.Vec, ok bool)) (mean, area, flux float64) {
	box := shapeBounds(p)
	i, j := (axis+1)%3, (axis+2)%3
	n := int(math.Ceil(math.Sqrt(sectionPoints)))
	di := (*component(&box.Max, i) - *component(&box.Min, i)) / float64(n)
	dj := (*component(&box.Max, j) - *component(&box.Min, j)) / float64(n)
	var sum float64
	var count int
	for a := range n {
		for b := range n {
			var x r3.Vec
			*component(&x, axis) = at
			*component(&x, i) = *component(&box.Min, i) + (float64(a)+0.5)*di
			*component(&x, j) = *component(&box.Min, j) + (float64(b)+0.5)*dj
			if !p.Solid.Contains(p.Place.ToLocal(x), 0) {
				continue
			}
			if v, ok := field(x); ok {
				sum += *component(&v, axis)
				count++
			}
		}
	}
	if count == 0 {
		return 0, 0, 0
	}
	mean = sum / float64(count)
	area = float64(count) * di * dj
	return mean, area, mean * area
}

// judge compares with the target.
func (a *assembly) judge(r *result.Result) {
	t := a.design.Target
	if t == nil {
		return
	}
	got := r3.Norm(r3.Vec{X: r.GapB[0], Y: r.GapB[1], Z: r.GapB[2]})
	if r.Region != nil {
		got = r.Region.MeanB
	}
	if t.FieldT > 0 {
		r.Target = append(r.Target, result.Check{What: "field", Wanted: t.FieldT, Got: got, Unit: "T", Met: got >= t.FieldT})
	}
	if t.UniformityFraction > 0 && r.Region != nil {
		r.Target = append(r.Target, result.Check{What: "uniformity", Wanted: 1e6 * t.UniformityFraction, Got: r.Region.PeakToPeak, Unit: "ppm",
			Met: r.Region.PeakToPeak <= 1e6*t.UniformityFraction})
	}
	if t.StrayLimitT > 0 && t.StrayDistanceM > 0 {
		for _, s := range r.Stray {
			if s.Limit == t.StrayLimitT {
				reach := s.Largest
				r.Target = append(r.Target, result.Check{What: fmt.Sprintf("reach of %g mT", 1e3*s.Limit), Wanted: t.StrayDistanceM, Got: reach, Unit: "m",
					Met: reach <= t.StrayDistanceM})
				break
			}
		}
	}
	if t.MassKg > 0 {
		r.Target = append(r.Target, result.Check{What: "mass", Wanted: t.MassKg, Got: r.MassKg, Unit: "kg", Met: r.MassKg <= t.MassKg})
	}
	if r.Demagnetization != nil && (t.HasMax || t.HasMin) {
		worst, known := 1.0, false
		for _, p := range r.Parts {
			if w := p.WorkingPoint; w != nil && w.WorstKneeH != 0 {
				worst, known = math.Min(worst, w.KneeMargin), true
			}
		}
		if known {
			list := r.Demagnetization.Temperatures
			r.Target = append(r.Target, result.Check{What: fmt.Sprintf("margin to the knee, %g to %g degC", list[0].DegC, list[len(list)-1].DegC),
				Wanted: 0, Got: 100 * worst, Unit: "%", Met: worst >= 0})
		}
	}
}

// judgeCost compares what a design costs with its target, and warns where that is not known.
func judgeCost(r *result.Result, d *design.Design, list *stock.List) error {
	if d.Target == nil || d.Target.Cost == nil {
		return nil
	}
	most := d.Target.Cost
	if list == nil {
		r.Warnings = append(r.Warnings, fmt.Sprintf("target.cost, %s, is given, but no prices: give your list: --stock my-stock.csv, or take cost out", most))
		return nil
	}
	bill, err := stock.BillOf(d, list)
	if err != nil {
		return err
	}
	if len(bill.Missing) > 0 {
		r.Warnings = append(r.Warnings, fmt.Sprintf("target.cost: %s does not have all: %s", list.File, strings.Join(bill.Missing, "; ")))
	}
	if len(bill.Missing) == 0 || bill.Cost > most.Amount { // the rest can but add to it
		r.Target = append(r.Target, result.Check{What: "cost", Wanted: most.Amount, Got: bill.Cost, Unit: most.Currency, Met: bill.Limit.Met})
	}
	return nil
}

// What the forces on all parts may leave over, as a share of the largest (at draft some per cent are usual), and at all.
const (
	balanceShare = 0.05
	balanceN     = 0.5
)

// unbalanced is the size of the sum of the forces on all parts, N, which is zero by Newton's third law, and its share of the largest of them.
func unbalanced(parts []result.Part) (left, share float64) {
	var sum [3]float64
	var largest float64
	for _, p := range parts {
		for k := range sum {
			sum[k] += p.Force[k]
		}
		largest = math.Max(largest, norm(p.Force))
	}
	left = norm(sum)
	if left == 0 {
		return 0, 0
	}
	return left, left / largest
}

// warn says what the numbers do not show.
func (a *assembly) warn(r *result.Result, o Options) {
	d := a.design
	add := func(format string, args ...any) { r.Warnings = append(r.Warnings, fmt.Sprintf(format, args...)) }
	if r.Solver.EstimatedError > o.Accuracy.Percent {
		add("the estimated error of the gap field is %.2g %%, more than the %g %% asked for: use a finer accuracy", r.Solver.EstimatedError, o.Accuracy.Percent)
	}
	seen := map[string]bool{}
	once := func(text string) {
		if !seen[text] {
			seen[text] = true
			r.Warnings = append(r.Warnings, text)
		}
	}
	for i, p := range r.Parts {
		switch {
		case p.Exact && r.Solver.Method == "3d":
			add("%s does not follow the grid: its own field is exact, its recoil permeability acts cell by cell and costs some accuracy near it, and some 10 %% of the force where it touches another part", p.Name)
		case p.Cut:
			add("%s stands askew to the other steel, and the grid cuts it: the field in the gap is good to about 0.5 %%, to 2 %% where most of the steel stands so, that next to it and the force on it to some per cent; a block or disc along the common axis in its place is followed exactly", p.Name)
		case p.MaxSaturation >= 0.98 && p.Saturation < 0.9:
			add("%s is saturated somewhere (%.2f T) while its mean is %.2f T: rounded corners or a thicker part there gain field", p.Name, p.MaxB, p.MeanB)
		case p.Saturation >= 0.9:
			add("%s is saturated (mean %.2f T of %.2f T): a larger section gains field and lowers the stray field", p.Name, p.MeanB, p.MeanB/p.Saturation)
		}
		if i < len(d.Magnets) && d.Magnets[i].Material.FromMemory {
			once(fmt.Sprintf("grade %s: some values are from memory, confirm them with the maker's sheet", p.Material))
		}
	}
	if left, share := unbalanced(r.Parts); left > balanceN && share > balanceShare {
		add("the forces on the parts leave %.3g N over where they should sum to zero, %.2g %% of the largest: those on parts that touch are no better; --group gives the force on such parts together", left, 100*share)
	}
	a.warnOfLoss(r)
	for i := range d.Steels {
		if d.Steels[i].Material.FromMemory {
			once(fmt.Sprintf("steel %s: %s", d.Steels[i].Material.Name, d.Steels[i].Material.Source))
		}
	}
	for i := range d.Wounds {
		if d.Wounds[i].Material.FromMemory {
			once(fmt.Sprintf("wire %s: %s", d.Wounds[i].Material.Name, d.Wounds[i].Material.Source))
		}
	}
}
