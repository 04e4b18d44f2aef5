package study

import (
	"fmt"
	"math"
	"strings"

	"polewright"
	"polewright/design"
	"polewright/mistake"
	"polewright/result"
	"polewright/spelling"
)

// Figure is one number that a study gives for each design.
type Figure struct {
	Name    string // "gap field"
	Unit    string // of the value: SI, or "%", "ppm"
	Show    string // unit in which people read it
	Times   float64
	Meaning string
	effort  Effort
	local   bool // known without a solve
}

// Column names the figure in tables and JSON: "gap_field_T".
func (f Figure) Column() string {
	name := strings.ReplaceAll(f.Name, " ", "_")
	switch f.Unit {
	case "":
		return name
	case "%":
		return name + "_percent"
	}
	return name + "_" + f.Unit
}

// In is a cost in a currency; any other figure stays as it is.
func (f Figure) In(currency string) Figure {
	if f.Name == "cost" {
		f.Unit, f.Show = currency, currency
	}
	return f
}

// FigureList are all figures, those of the field first.
var FigureList = []Figure{
	{"gap field", "T", "T", 1, "size of the field in the middle of the gap", Effort{}, false},
	{"mean field", "T", "T", 1, "mean field over the target region", Effort{}, false},
	{"uniformity", "ppm", "ppm", 1, "highest less lowest field over the target region, of its mean", Effort{}, false},
	{"mass", "kg", "kg", 1, "of all parts", Effort{}, true},
	{"magnet mass", "kg", "kg", 1, "of the magnets", Effort{}, true},
	{"cost", "", "", 1, "of what the stock list has, in its currency; needs --stock", Effort{}, true},
	{"stray reach", "m", "mm", 1e3, "farthest place of the target's stray limit, or of 0.5 mT, from the centre", Effort{Parts: true}, false},
	{"steel field", "T", "T", 1, "highest mean flux density of a steel or wound part", Effort{Parts: true}, false},
	{"saturation", "%", "%", 1, "highest mean flux density of a steel or wound part over its saturation", Effort{Parts: true}, false},
	{"force", "N", "N", 1, "that pulls the halves together across the gap", Effort{Parts: true, Halves: true}, false},
	{"knee margin", "%", "%", 1, "of the worst magnet at the worst temperature of the target; below 0 it is weakened", Effort{Parts: true, Temperatures: true}, false},
	{"demagnetization", "%", "%", 1, "of the gap field that is lost for good at the target's temperatures", Effort{Parts: true, Temperatures: true}, false},
	{"error", "%", "%", 1, "estimated error of the gap field", Effort{}, false},
}

// FigureNamed finds a figure; words may be parted by spaces, dashes or low lines, and the unit of a column may follow.
func FigureNamed(name string) (Figure, error) {
	plain := strings.Join(strings.FieldsFunc(strings.ToLower(name), func(c rune) bool { return c == ' ' || c == '_' || c == '-' }), " ")
	var names []string
	for _, f := range FigureList {
		if plain == f.Name || strings.EqualFold(strings.TrimSpace(name), f.Column()) {
			return f, nil
		}
		names = append(names, f.Name)
	}
	return Figure{}, mistake.Of(fmt.Sprintf("there is no figure %q", strings.TrimSpace(name)), spelling.Meant(plain, names, "there are "+strings.Join(names, ", ")))
}

// FiguresFor are those that a design has without being asked: all but cost and, without temperatures in the target, what those do.
func FiguresFor(d *design.Design) (list []Figure) {
	t := d.Target
	_, parts := polewright.PartingPlane(d)
	for _, f := range FigureList {
		switch f.Name {
		case "cost":
			continue
		case "mean field", "uniformity":
			if t == nil || t.Region == nil {
				continue
			}
		case "steel field", "saturation":
			if len(d.Steels)+len(d.Wounds) == 0 {
				continue
			}
		case "knee margin", "demagnetization":
			if t == nil || !t.HasMax && !t.HasMin || len(d.Magnets) == 0 {
				continue
			}
		case "force":
			if !parts {
				continue
			}
		}
		list = append(list, f)
	}
	return list
}

// EffortFor is what a solve has to compute for figures.
func EffortFor(list []Figure) (e Effort) {
	for _, f := range list {
		e.Parts = e.Parts || f.effort.Parts
		e.Halves = e.Halves || f.effort.Halves
		e.Temperatures = e.Temperatures || f.effort.Temperatures
	}
	return e
}

func norm(v [3]float64) float64 { return math.Sqrt(v[0]*v[0] + v[1]*v[1] + v[2]*v[2]) }

// figuresOf takes the figures of a solved design.
func figuresOf(d *design.Design, r *result.Result) map[string]float64 {
	out := map[string]float64{"gap field": norm(r.GapB), "error": r.Solver.EstimatedError}
	if r.Region != nil {
		out["mean field"], out["uniformity"] = r.Region.MeanB, r.Region.PeakToPeak
	}
	for _, p := range r.Parts {
		if p.Kind == "steel" || p.Kind == "wound" {
			out["steel field"] = max(out["steel field"], p.MeanB)
			out["saturation"] = max(out["saturation"], 100*p.Saturation)
		}
	}
	limit := 0.5e-3
	if t := d.Target; t != nil && t.StrayLimitT > 0 {
		limit = t.StrayLimitT
	}
	for _, s := range r.Stray {
		if s.Limit == limit {
			out["stray reach"] = s.Largest
		}
	}
	for _, h := range r.Halves {
		out["force"] = norm(h.Force)
	}
	if m := r.Demagnetization; m != nil {
		out["demagnetization"] = m.LostGap
		for _, p := range r.Parts {
			if w := p.WorkingPoint; w != nil && w.WorstKneeH != 0 {
				margin := 100 * w.KneeMargin
				if least, ok := out["knee margin"]; !ok || margin < least {
					out["knee margin"] = margin
				}
			}
		}
	}
	for name, x := range out {
		if math.IsNaN(x) || math.IsInf(x, 0) {
			delete(out, name)
		}
	}
	return out
}

// masses weighs a design, kg, without a solve: all parts, and the magnets alone.
func masses(d *design.Design) (all, magnets float64) {
	for i := range d.Magnets {
		magnets += d.Magnets[i].Material.DensityKgPerM3 * d.Magnets[i].Solid.Volume()
	}
	all = magnets
	for i := range d.Steels {
		all += d.Steels[i].Material.DensityKgPerM3 * d.Steels[i].Solid.Volume()
	}
	for i := range d.Wounds {
		all += d.Wounds[i].Material.DensityKgPerM3 * d.Wounds[i].Solid.Volume() * d.Wounds[i].Packing
	}
	for i := range d.Spacers {
		all += d.Spacers[i].Material.DensityKgPerM3 * d.Spacers[i].Solid.Volume()
	}
	return all, magnets
}
