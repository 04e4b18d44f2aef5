package polewright

import (
	"cmp"
	"context"
	"fmt"
	"math"
	"slices"

	"polewright/circuit"
	"polewright/design"
	"polewright/material"
	"polewright/mistake"
	"polewright/quantity"
	"polewright/result"
	"polewright/shape"
	"polewright/stock"
)

// Sizing is what RunSize finds for a target.
type Sizing struct {
	Format int     `json:"format"`
	Title  string  `json:"title"`
	FieldT float64 `json:"field_T"`
	GapM   float64 `json:"gap_m"`
	TempC  float64 `json:"temperature_degC"` // of the magnets at work
	// Candidates has the lightest of each layout, the lightest first; with a list of stock the cheapest of each, those that can be bought
	// altogether first. Others are those with other magnets, by the circuit alone.
	Candidates []Candidate `json:"candidates"`
	Others     []Candidate `json:"others"`
	// OutOfReach says for each layout without a candidate what bounds it.
	OutOfReach []Bounded `json:"out_of_reach"`
	Changes    []Change  `json:"changes"` // of the first candidate, for some field more
	Notes      []string  `json:"notes"`
}

// Candidate is a design for the target.
type Candidate struct {
	Layout     string             `json:"layout"`
	Grade      string             `json:"grade"`
	Steel      string             `json:"steel,omitempty"`
	Lengths    map[string]float64 `json:"lengths_m"`
	GapM       float64            `json:"gap_m"` // free height; with stock it may be more than is wanted
	MassKg     float64            `json:"mass_kg"`
	MagnetKg   float64            `json:"magnet_mass_kg"`
	GapT       float64            `json:"circuit_gap_b_T"` // by the circuit, as it stands
	MagnetT    float64            `json:"circuit_magnet_b_T"`
	LegT       float64            `json:"circuit_leg_b_T,omitempty"`
	BackT      float64            `json:"circuit_back_b_T,omitempty"`
	Permeance  float64            `json:"circuit_permeance"`
	Uniformity float64            `json:"circuit_peak_to_peak_ppm,omitempty"` // over the region; 0 without one
	Stock      string             `json:"stock,omitempty"`                    // the magnet of the list that it is made from; "": none fits
	Stacked    int                `json:"stacked,omitempty"`                  // how many of them are put together in each pole
	Cost       *quantity.Money    `json:"cost,omitempty"`                     // of all that the list has; nil without a list
	NotInStock []string           `json:"not_in_stock,omitempty"`             // what is not in the cost
	Solved     *SolvedCandidate   `json:"solved,omitempty"`                   // nil where it was not solved

	draft draft
}

// SolvedCandidate is a candidate's full solve.
type SolvedCandidate struct {
	GapT         float64        `json:"gap_b_T"`
	MassKg       float64        `json:"mass_kg"`
	CircuitError float64        `json:"circuit_error_percent"` // of the circuit's gap field against the solve
	Target       []result.Check `json:"target"`
	Missed       []string       `json:"missed"` // what is not met, and why no size was found that does
	Solves       int            `json:"solves"` // it took
}

// Bounded is why a layout does not reach the target.
type Bounded struct {
	Layout string  `json:"layout"`
	MostT  float64 `json:"most_b_T,omitempty"` // the largest field that the circuit found; 0 where the field is within reach
	Why    string  `json:"why"`
}

// SizeOptions says what RunSize does.
type SizeOptions struct {
	Solve       int     // how many of the best to solve in full; negative: none
	GainPercent float64 // for Changes; 5 if zero
	// Stock is what magnets and yokes are taken from first; nil: any size, no costs.
	Stock    *stock.List
	Progress func(what string, done float64)
}

// Grades that size looks at: of each family and class of heat what dealers keep. Common practice, no source.
var sizedGrades = []string{"N35", "N42", "N48", "N52", "N42H", "N42SH", "N38UH"}

// aimAbove is how far above the wanted field a design is laid out, so that it is met.
const aimAbove = 1.01

// most that a sized design may lie above the wanted field.
const withinAbove = 1.03

// RunSize ranks layouts, grades and sizes for the target of a design by package circuit, solves the best few, and corrects the sizes by what the
// solve says. Only d.Title and d.Target are looked at; d comes from design.ReadTarget or has a target with a field and a gap or region.
func RunSize(ctx context.Context, d *design.Design, o SizeOptions) (*Sizing, error) {
	z, err := newSizer(d)
	if err != nil {
		return nil, err
	}
	if z.stock = o.Stock; z.stock != nil {
		if err := z.stock.CheckCurrency(d); err != nil {
			return nil, err
		}
	} else if t := d.Target; t.Cost != nil {
		return nil, mistake.Errors{{File: d.File, Line: t.Line, Key: "target.cost", What: "is given, but no prices", Hint: "give your list: --stock my-stock.csv, or take cost out"}}
	}
	o.GainPercent = cmp.Or(o.GainPercent, 5)
	if !(o.GainPercent > 0 && o.GainPercent <= 100) {
		return nil, fmt.Errorf("no changes can be listed for a gain of %g %%: give a gain above zero and up to 100 %%", o.GainPercent)
	}
	report := heard(o.Progress)
	s := &Sizing{Format: 1, Title: d.Title, FieldT: z.field, GapM: z.gap, TempC: z.workC, Candidates: []Candidate{}, Others: []Candidate{}, OutOfReach: []Bounded{},
		Changes: []Change{}, Notes: z.notes}
	corrections := map[string]correction{}
	for _, kind := range sizedLayouts {
		corrections[kind] = correction{field: 1, even: 1, steelT: z.steelT}
		list, most, err := z.search(kind, corrections[kind])
		if err != nil {
			return nil, err
		}
		if len(list) == 0 {
			s.OutOfReach = append(s.OutOfReach, z.why(kind, most))
			continue
		}
		s.Candidates = append(s.Candidates, list[0])
		seen := map[string]bool{list[0].magnetKey(): true}
		for _, c := range list {
			if b := c.magnetKey(); !seen[b] {
				seen[b] = true
				s.Others = append(s.Others, c)
			}
		}
	}
	first := func(a, b Candidate) int { return cmp.Compare(a.MassKg, b.MassKg) }
	if z.stock != nil {
		first = byCost
	}
	slices.SortStableFunc(s.Candidates, first)
	slices.SortStableFunc(s.Others, first)
	n := min(o.Solve, len(s.Candidates))
	for i := range max(0, n) {
		c, err := z.settle(ctx, s.Candidates[i], corrections[s.Candidates[i].Layout], func(solve int) {
			report("solving "+s.Candidates[i].Layout, (float64(i)+float64(solve)/mostSolves)/float64(n))
		})
		if err != nil {
			return nil, err
		}
		s.Candidates[i] = c
	}
	slices.SortStableFunc(s.Candidates[:max(0, n)], func(a, b Candidate) int { // what meets all limits comes first
		if missed := min(1, len(a.Solved.Missed)) - min(1, len(b.Solved.Missed)); missed != 0 {
			return missed
		}
		return first(a, b)
	})
	if slices.ContainsFunc(slices.Concat(s.Candidates, s.Others), func(c Candidate) bool { return c.Stacked > 1 }) {
		s.Notes = append(s.Notes, "magnets that are put together for one pole snap together, crush fingers and shatter: glue them in a jig, one by one, with goggles on")
	}
	if len(s.Candidates) > 0 {
		s.Changes = z.changes(s.Candidates[0].draft, o.GainPercent)
	}
	report("done", 1)
	return s, nil
}

// sizer is the target as the search takes it.
type sizer struct {
	target     *design.Target
	title      string
	stock      *stock.List // nil: any size
	field, gap float64     // T, m
	workC      float64
	hotC       float64 // the highest temperature
	radius     float64 // m, of the region about its middle; 0: none
	across     float64 // m, the region's largest extent across the field
	steelT     float64 // T, that yokes are laid out for
	grades     []material.Magnet
	notes      []string
}

func newSizer(d *design.Design) (*sizer, error) {
	t := d.Target
	if t == nil || !(t.FieldT > 0) || !(t.GapM > 0) && t.Region == nil {
		return nil, fmt.Errorf("no design can be sized without a target that has a field, and a gap or a region")
	}
	// 1.5 T is where common steel is still good: 1.2 to 1.7 T are used (common practice, no source).
	z := &sizer{target: t, title: d.Title, field: t.FieldT, gap: t.GapM, workC: workingTemperature(d), steelT: 1.5, notes: []string{}}
	z.hotC = z.workC
	if t.HasMax {
		z.hotC = math.Max(z.hotC, t.MaxC)
	}
	if g := t.Region; g != nil {
		size := g.SizeM
		switch g.Shape {
		case design.Sphere:
			size.X, size.Y, size.Z = g.DiameterM, g.DiameterM, g.DiameterM
		case design.Cylinder:
			b := shape.Bounds(shape.Disc{Diameter: g.DiameterM, Thickness: g.LengthM}, shape.Placement{Rot: shape.AxisTo(g.Axis)})
			size = b.Size()
		}
		z.radius, z.across = max(size.X, size.Y, size.Z)/2, max(size.X, size.Y)
		if z.gap == 0 {
			z.gap = size.Z + 2e-3
			z.notes = append(z.notes, "the gap is the region's height and 1 mm on each side, as [target] has no gap")
		}
		if g.Center.X != 0 || g.Center.Y != 0 || g.Center.Z != 0 {
			z.notes = append(z.notes, "the region is moved to the middle of the gap, which is the origin of every layout")
		}
	}
	for _, name := range sizedGrades {
		if m, err := material.Grade(name); err == nil && (m.MaxTemperatureC == 0 || m.MaxTemperatureC >= z.hotC) {
			z.grades = append(z.grades, m)
		}
	}
	if len(z.grades) == 0 {
		return nil, mistake.Errors{{File: d.File, Line: t.Line, Key: "target.temperature", What: fmt.Sprintf("no grade that size knows stands %g degC", z.hotC),
			Hint: "lower max, or lay the design out by hand with a SmCo grade"}}
	}
	return z, nil
}

// correction is what a solve has taught about a layout.
type correction struct {
	field  float64 // solved over the circuit's field
	even   float64 // solved over the circuit's spread over the region
	steelT float64 // T, that the yoke is laid out for
	lowest float64 // coercivity that the grade needs more than, A/m
}

// widths and ratios of the search.
const (
	widthSteps = 18
	widthRatio = 1.18
)

// tipRatios are diameters of magnets over those of their pole tips.
var tipRatios = []float64{1, 1.3, 1.7, 2.2}

// search is all that meets the limits by the circuit, the lightest first, and the largest field found. With a list of stock it is what can be made
// from its magnets, the cheapest first, and only where there is none what would have to be ordered.
func (z *sizer) search(kind string, k correction) (list []Candidate, most float64, err error) {
	if z.stock == nil {
		list, most = z.free(kind, k)
		return list, most, nil
	}
	if list, err = z.priced(z.fromStock(kind, k)); err != nil || len(list) > 0 {
		return list, 0, err
	}
	list, most = z.free(kind, k)
	list, err = z.priced(list)
	return list, most, err
}

// free is the search over any sizes, the lightest first.
func (z *sizer) free(kind string, k correction) (list []Candidate, most float64) {
	overs := []float64{1}
	if kind == "pole-tips" {
		overs = tipRatios
	}
	for _, m := range z.grades {
		if m.IntrinsicCoercivityApm <= k.lowest {
			continue
		}
		width := math.Max(math.Max(z.across, 0.5*z.gap), 4e-3)
		for range widthSteps {
			if width > design.MaxLengthM/10 { // beyond it the parts do not fit a design file
				break
			}
			for _, over := range overs {
				c := draft{kind: kind, magnet: m, width: math.Ceil(width/0.5e-3-1e-6) * 0.5e-3, over: over, gap: z.gap}
				c, w, reached := z.reach(c, k)
				if most = math.Max(most, w.GapT*k.field); !reached {
					continue
				}
				if c := z.candidate(c.rounded(), k); z.meets(c) {
					list = append(list, c)
				}
			}
			width *= widthRatio
		}
	}
	// Stable: of grades that differ in what they stand only, the plainest that is enough comes first.
	slices.SortStableFunc(list, func(a, b Candidate) int { return cmp.Compare(a.MassKg, b.MassKg) })
	return list, most
}

// reach finds the thickness that gives the field, with the yoke laid out for its flux: generous first, then as thick as the flux wants.
func (z *sizer) reach(c draft, k correction) (draft, circuit.Working, bool) {
	want := z.field * aimAbove / k.field
	if _, ok := c.steel(); ok {
		c.leg = c.width * c.over
		c.back = c.leg
	}
	for range 3 {
		if w, ok := z.thicken(&c, want); !ok {
			return c, w, false
		}
		z.layOut(&c, k)
	}
	w, ok := z.thicken(&c, want)
	return c, w, ok
}

// thicken sets the thickness that gives the field want. Where none does it gives the working point of the largest field.
func (z *sizer) thicken(c *draft, want float64) (circuit.Working, bool) {
	solve := func(thickness float64) circuit.Working {
		c.thickness = thickness
		w, _ := c.assembly(z.workC).Solve() // sizes of a search are sound
		return w
	}
	low, high, below := 1e-3, 1e-3, 0.0
	w := solve(low)
	if w.GapT >= want {
		return w, true
	}
	largest := w
	// Beyond three widths or gaps more magnet gives next to nothing, and its sides leak.
	for _, share := range []float64{0.25, 0.6, 1.2, 3} {
		low, below = high, w.GapT
		high = math.Max(share*math.Max(c.width*c.over, c.gap), 2*low)
		if w = solve(high); w.GapT > largest.GapT {
			largest = w
		}
		if w.GapT >= want {
			break
		}
	}
	if w.GapT < want {
		return largest, false
	}
	above := w.GapT
	for range 40 { // false position with a halved end (M. Dowell, P. Jarratt, BIT 11 (1971) 168)
		t := low + (high-low)*(want-below)/(above-below)
		w = solve(t)
		if math.Abs(w.GapT/want-1) < 5e-4 {
			break
		}
		if w.GapT < want {
			low, below = t, w.GapT
			above = want + (above-want)/2
		} else {
			high, above = t, w.GapT
			below = want - (want-below)/2
		}
	}
	return w, true
}

// layOut sets the sections of the yoke by its flux.
func (z *sizer) layOut(c *draft, k correction) {
	if _, ok := c.steel(); !ok {
		return
	}
	w, _ := c.assembly(z.workC).Solve()
	scale := func(x, b float64) float64 { return math.Max(x*b/k.steelT, 2e-3) }
	switch c.kind {
	case "wound-pair":
		c.leg = scale(c.leg, math.Max(w.LegT, w.BackT))
		c.back = c.leg
	default:
		c.leg, c.back = scale(c.leg, w.LegT), scale(c.back, w.BackT)
	}
	if z.stock != nil {
		z.barred(c)
		c.barred = true
	}
}

// candidate is a draft with what the circuit says.
func (z *sizer) candidate(c draft, k correction) Candidate {
	w, _ := c.assembly(z.workC).Solve()
	magnets, yoke := c.mass()
	out := Candidate{Layout: c.kind, Grade: c.magnet.Name, Lengths: c.lengths(), GapM: c.gap, MassKg: magnets + yoke, MagnetKg: magnets, GapT: w.GapT,
		MagnetT: w.MagnetT, LegT: w.LegT, BackT: w.BackT, Permeance: w.Permeance, Stock: c.shelf.name, Stacked: c.shelf.pieces, draft: c}
	if s, ok := c.steel(); ok {
		out.Steel = s.Name
	}
	if z.radius > 0 {
		out.Uniformity = 1e6 * k.even * w.Even(z.radius)
	}
	return out
}

// worstBelowMiddle is how much deeper than the middle of a magnet its worst place is driven, of Br/mu0: solves of framed pairs and of blocks on
// plates show 0.04 to 0.15. The solve decides.
const worstBelowMiddle = 0.15

// meets tells whether a candidate keeps all limits by the circuit.
func (z *sizer) meets(c Candidate) bool {
	t := z.target
	switch {
	case t.MassKg > 0 && c.MassKg > t.MassKg,
		t.UniformityFraction > 0 && z.radius > 0 && c.Uniformity > 1e6*t.UniformityFraction,
		t.StrayLimitT > 0 && c.draft.reach(t.StrayLimitT) > t.StrayDistanceM:
		return false
	}
	return !z.tooHot(c.draft)
}

// tooHot tells whether the worst place of a magnet comes below its knee when it is hottest, by the circuit.
func (z *sizer) tooHot(c draft) bool {
	hot := c.magnet.At(z.hotC)
	w, err := c.assembly(z.hotC).Solve()
	return err != nil || w.MagnetH-worstBelowMiddle*hot.RemanenceT/material.Mu0 <= hot.KneeApm()
}

// magnetKey is the same for candidates with magnets of one strength, or of one line of the list.
func (c Candidate) magnetKey() string { return fmt.Sprint(c.Stock, c.draft.magnet.RemanenceT) }

// why says what keeps a layout from the target.
func (z *sizer) why(kind string, most float64) Bounded {
	b := Bounded{Layout: kind, MostT: most}
	best := 0.0
	for _, m := range z.grades {
		best = math.Max(best, m.At(z.workC).RemanenceT)
	}
	widest := math.Max(math.Max(z.across, 0.5*z.gap), 4e-3) * math.Pow(widthRatio, widthSteps-1)
	switch {
	case most >= z.field:
		b.MostT = 0
		b.Why = "the field is within reach, but not together with the limits on " + z.limits() + ", by the circuit"
	case kind != "pole-tips" && best <= z.field:
		b.Why = fmt.Sprintf("remanence: the best grade has %.3f T at %g degC, and magnets that face the gap stay below it; pole tips gather flux", best, z.workC)
	case kind == "pole-tips":
		b.Why = fmt.Sprintf("saturation and leakage: tapered tips of %s gather no more over this gap; a smaller gap would do", sizedSteel)
	case kind == "facing-pair":
		b.Why = fmt.Sprintf("gap over pole width: without steel faces up to %.3g mm wide give at most %.3f T over a gap of %.3g mm", 1e3*widest, best*circuit.Bound(widest/z.gap), 1e3*z.gap)
	default:
		b.Why = fmt.Sprintf("gap over pole width: faces up to %.3g mm wide leak too much over a gap of %.3g mm", 1e3*widest, 1e3*z.gap)
	}
	return b
}

// limits names the limits that the target has.
func (z *sizer) limits() string {
	var list []string
	t := z.target
	for _, l := range []struct {
		has  bool
		name string
	}{{t.MassKg > 0, "mass"}, {t.Cost != nil, "cost"}, {t.UniformityFraction > 0 && z.radius > 0, "uniformity"}, {t.StrayLimitT > 0, "stray field"}, {true, "demagnetization"}} {
		if l.has {
			list = append(list, l.name)
		}
	}
	return joined(list)
}

func joined(list []string) string {
	if len(list) < 2 {
		return list[0]
	}
	s := list[0]
	for _, x := range list[1 : len(list)-1] {
		s += ", " + x
	}
	return s + " and " + list[len(list)-1]
}
