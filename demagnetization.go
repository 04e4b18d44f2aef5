package polewright

import (
	"cmp"
	"context"
	"fmt"
	"math"
	"slices"
	"sort"
	"strings"

	"gonum.org/v1/gonum/spatial/r3"

	"polewright/design"
	"polewright/freefield"
	"polewright/grid"
	"polewright/magnetostatic"
	"polewright/material"
	"polewright/result"
	"polewright/shape"
)

// This file finds what the magnets lose for good at the temperatures that a design names. All of it is solved on the draft grid: the knee of
// a grade is known to 5 or 10 %, and what the draft grid misses of the gap field is the same before and after the loss.

// lostShare is the share of a magnet's volume that may lie past its knee without a loss being stated: edges and corners, where the field
// along the magnetization changes within one cell of any grid.
const lostShare = 1e-3

// descent is what a magnet of the grid does along its magnetization: the curve at the temperature, and the share of its size that is coating
// and films (see magnetMedium).
func (a *assembly) descent(i int, medium *magnetostatic.Medium, g *grid.Grids, c condition) *magnetostatic.Descent {
	m := &a.design.Magnets[i]
	at := m.Material.At(c.temperatureC)
	if at.RemanenceT == 0 {
		return nil
	}
	curve, _ := at.Demagnetization()
	d := &magnetostatic.Descent{Along: magnetostatic.Vec(g.Frame(m.Direction)), Bare: 1, Area: 1,
		Remanence: at.RemanenceT, Recoil: at.RecoilPermeability, Curve: curve}
	if !c.joints || m.CoatingM == 0 && a.gap[i] == (filmShare{}) {
		return d
	}
	d.Bare, d.Film = a.filmShares(i)
	j := medium.Polarization
	d.Area = math.Sqrt(j[0]*j[0]+j[1]*j[1]+j[2]*j[2]) * (d.Bare + d.Film*d.Recoil) / (d.Remanence * d.Bare)
	return d
}

// filmShares gives the shares of a magnet's length along its magnetization that are magnet, and coating and films.
func (a *assembly) filmShares(i int) (bare, film float64) {
	m := &a.design.Magnets[i]
	size, local := r3.Scale(2, m.Solid.HalfExtent()), m.Place.Rot.Inverse(m.Direction)
	for k := range 3 {
		l, part := *component(&size, k), *component(&local, k)
		bare += part * part * (l - 2*m.CoatingM) / l
		film += part * part * (2*m.CoatingM + a.gap[i][k]) / l
	}
	return bare, film
}

// filmed tells whether joints and coatings change anything.
func (a *assembly) filmed() bool {
	if len(a.films) > 0 {
		return true
	}
	for i := range a.design.Magnets {
		if a.design.Magnets[i].CoatingM > 0 || a.gap[i] != (filmShare{}) {
			return true
		}
	}
	return false
}

// temperatures are those at which a design's magnets are looked at, rising: the working one and the ends of the range. Between them nothing is worse:
// with linear coefficients the field over the knee is a quotient of two straight lines in the temperature, which rises or falls all the way.
func temperatures(d *design.Design) []float64 {
	list := []float64{workingTemperature(d)}
	if t := d.Target; t != nil && t.HasMax {
		list = append(list, t.MaxC)
	}
	if t := d.Target; t != nil && t.HasMin {
		list = append(list, t.MinC)
	}
	sort.Float64s(list)
	return slices.Compact(list)
}

// strain is what a temperature does to the magnets: the field along the magnetization all over each of them, and the knee there.
type strain struct {
	degC  float64
	spots [][]magnetostatic.Spot // of each magnet
	knee  []float64              // A/m, negative; -Inf not known
	gap   r3.Vec                 // field in the gap
}

// past is the share of a magnet's volume past its knee.
func (s *strain) past(i int) float64 {
	var all, beyond float64
	for _, x := range s.spots[i] {
		all += x.Volume
		if x.H < s.knee[i] {
			beyond += x.Volume
		}
	}
	if all == 0 {
		return 0
	}
	return beyond / all
}

// lowest is the field strength in a magnet beyond which a share of lostShare lies, and where it is.
func (s *strain) lowest(i int) (h float64, at r3.Vec) {
	spots := slices.Clone(s.spots[i])
	slices.SortFunc(spots, func(a, b magnetostatic.Spot) int { return cmp.Compare(a.H, b.H) })
	var all, sum float64
	for _, x := range spots {
		all += x.Volume
	}
	for _, x := range spots {
		h, at = x.H, x.At
		if sum += x.Volume; sum >= lostShare*all {
			break
		}
	}
	return h, at
}

func (a *assembly) knees(degC float64) []float64 {
	out := make([]float64, len(a.design.Magnets))
	for i := range out {
		out[i] = a.design.Magnets[i].Material.At(degC).KneeApm()
	}
	return out
}

// weakens tells whether any magnet with a known curve loses something.
func (a *assembly) weakens(s strain) bool {
	for i := range a.design.Magnets {
		if _, ok := a.design.Magnets[i].Material.Demagnetization(); !ok {
			continue
		}
		if s.past(i) > lostShare {
			return true
		}
	}
	return false
}

// demagnetization is what the magnets go through at the temperatures of a design.
type demagnetization struct {
	list          []strain
	before, after r3.Vec // field in the gap at the working temperature, without the loss and with it
	loss          *loss
}

// demagnetize looks at the magnets at each temperature. Where all of them stay on their recoil lines that is one linear solve each; else the
// magnets of the grid follow their curves there (see magnetostatic.Descent), magnets that are exact sources keep one share of their
// magnetization all over, and what is left after all temperatures is solved once more at the working temperature. Each temperature meets the
// fresh magnets: what one has taken off relieves them at the others, so the loss is not understated. It is nil without magnets.
func (a *assembly) demagnetize(ctx context.Context, use condition) (*demagnetization, error) {
	if len(a.design.Magnets) == 0 {
		return nil, nil
	}
	use.joints = use.joints && a.filmed()
	list, onGrid, err := a.strains(ctx, use)
	if err != nil {
		return nil, err
	}
	working := slices.IndexFunc(list, func(s strain) bool { return s.degC == use.temperatureC })
	o := &demagnetization{list: list, before: list[working].gap, loss: &loss{a: a, fresh: use}}
	for i := range list {
		if onGrid && a.weakens(list[i]) {
			if err := o.loss.settle(ctx, &list[i]); err != nil {
				return nil, err
			}
		}
	}
	o.after = o.before
	if o.loss.any {
		if o.after, err = o.loss.gap(ctx); err != nil {
			return nil, err
		}
	}
	return o, nil
}

// strains looks at each temperature with all magnets on their recoil lines. Closed forms and the half plane of a body of revolution serve as
// long as nothing is lost; a loss needs the grid. onGrid is false where they served, and where no grid holds the steel.
func (a *assembly) strains(ctx context.Context, use condition) (list []strain, onGrid bool, err error) {
	look := func(at func(context.Context, condition) (*strain, error)) error {
		list = nil
		for _, t := range temperatures(a.design) {
			c := use
			c.temperatureC = t
			s, err := at(ctx, c)
			if err != nil {
				return err
			}
			list = append(list, *s)
		}
		return nil
	}
	switch {
	case isFreeField(a.design) || a.relaxes():
		err = look(a.strainOfClosedForms)
	case a.round != nil:
		err = look(a.round.strain)
	default:
		return list, true, look(a.strainOnGrid)
	}
	if err != nil || !slices.ContainsFunc(list, a.weakens) {
		return list, false, err
	}
	if _, err := a.draft.grid(); err != nil {
		return list, false, nil
	}
	err = look(a.strainOnGrid)
	return list, true, err
}

// strainOfClosedForms is what a temperature does to magnets in free space.
func (a *assembly) strainOfClosedForms(_ context.Context, c condition) (*strain, error) {
	sources := a.freeAt(c.temperatureC)
	return &strain{degC: c.temperatureC, knee: a.knees(c.temperatureC), gap: sources.B(a.center), spots: a.lattices(sources)}, nil
}

// strainOnGrid solves a temperature with all magnets on their recoil lines.
func (a *assembly) strainOnGrid(ctx context.Context, c condition) (*strain, error) {
	f, err := a.draft.solve(ctx, c)
	if err != nil {
		return nil, err
	}
	return &strain{degC: c.temperatureC, knee: a.knees(c.temperatureC), gap: a.draft.gap[c], spots: a.spots(f)}, nil
}

// latticeSteps is how many points cross a magnet that is an exact source.
const latticeSteps = 10

// fewerSteps is how many points cross each of many bodies: with more than some fifty of them the points of all together grow no more, down to
// four across each.
func fewerSteps(steps, bodies int) int {
	return min(steps, max(4, int(math.Round(float64(steps)*math.Cbrt(50/float64(max(1, bodies)))))))
}

// lattice samples the field along a magnet's magnetization on a lattice of points.
func (a *assembly) lattice(i int, h func(r3.Vec) r3.Vec) []magnetostatic.Spot {
	m := &a.design.Magnets[i]
	points := shape.Lattice(m.Bare(), m.Place, latticeSteps)
	along := make([]r3.Vec, len(points))
	for k, p := range points {
		along[k] = h(p)
	}
	return spotsIn(m, points, along)
}

// lattices samples the field of magnets in free space in each of them.
func (a *assembly) lattices(field *freefield.Assembly) [][]magnetostatic.Spot {
	magnets := a.design.Magnets
	points := make([][]r3.Vec, len(magnets))
	for i := range magnets {
		points[i] = shape.Lattice(magnets[i].Bare(), magnets[i].Place, fewerSteps(latticeSteps, len(magnets)))
	}
	all := slices.Concat(points...)
	b, h := make([]r3.Vec, len(all)), make([]r3.Vec, len(all))
	field.Fields(all, b, h)
	out := make([][]magnetostatic.Spot, len(magnets))
	for i := range magnets {
		out[i] = spotsIn(&magnets[i], points[i], h[:len(points[i])])
		h = h[len(points[i]):]
	}
	return out
}

// spotsIn makes spots of points in a magnet, all of one volume, and of the field strength h at them.
func spotsIn(m *design.Magnet, points, h []r3.Vec) []magnetostatic.Spot {
	out := make([]magnetostatic.Spot, len(points))
	for k, p := range points {
		out[k] = magnetostatic.Spot{At: p, Volume: m.Solid.Volume() / float64(len(points)), H: r3.Dot(h[k], m.Direction)}
	}
	return out
}

// spots gives the field along the magnetization in all magnets of a solution.
func (a *assembly) spots(f *magnetostatic.Solution) [][]magnetostatic.Spot {
	out := f.Along()[:len(a.design.Magnets)]
	for i := range out {
		if !f.Problem.Grids.Fits[i] {
			out[i] = a.lattice(i, func(p r3.Vec) r3.Vec { h, _ := f.Raw(p); return h })
		}
	}
	return out
}

// fill puts the worst of all temperatures into the result.
func (x *demagnetization) fill(r *result.Result) {
	list, l := x.list, x.loss
	d := l.a.design
	o := &result.Demagnetization{WorstC: r.TempC}
	size := r3.Norm(x.before)
	final := norm(r.GapB)
	var all, past float64
	remains := l.remanences()
	for i := range d.Magnets {
		all += d.Magnets[i].Solid.Volume()
	}
	worst := math.Inf(1)
	for _, s := range list {
		t := result.AtTemperature{DegC: s.degC}
		if size > 0 {
			t.GapB = final * r3.Norm(s.gap) / size
		}
		for i := range d.Magnets {
			share := s.past(i)
			lowest, at := s.lowest(i)
			t.PastKnee += share * d.Magnets[i].Solid.Volume() / all
			w := r.Parts[i].WorkingPoint
			knee := known(s.knee[i])
			margin := 1.0
			if knee != 0 {
				margin = 1 - lowest/knee
			}
			if s.degC == list[0].degC || margin < w.KneeMargin {
				w.LowestH, w.WorstKneeH, w.WorstC, w.PastKnee, w.KneeMargin, w.WeakestAtM = lowest, knee, s.degC, share, margin, nil
				if share > lostShare {
					place := array(at)
					w.WeakestAtM = &place
				}
			}
			if knee != 0 && margin < worst {
				worst, o.WorstC = margin, s.degC
			}
		}
		o.Temperatures = append(o.Temperatures, t)
	}
	for i := range d.Magnets {
		w := r.Parts[i].WorkingPoint
		_, curved := d.Magnets[i].Material.Demagnetization()
		switch {
		case curved && (l.any || w.PastKnee <= lostShare):
			w.RemanenceKept = remains[i]
			if remains[i] < 1 && w.PastKnee > lostShare {
				o.Magnets++
			}
		case w.WorstKneeH != 0 && w.PastKnee > lostShare:
			o.NotComputed = append(o.NotComputed, r.Parts[i].Name)
		}
		if w.WorstKneeH == 0 {
			w.KneeMargin = 0
		}
		past += w.PastKnee * d.Magnets[i].Solid.Volume()
	}
	o.LostVolume = past / all
	if l.any && final >= noField {
		share := 1 - r3.Dot(x.after, x.before)/(size*size)
		o.LostGapT, o.LostGap = share*final, 100*share
	}
	r.Demagnetization = o
}

// closeToKnee is the margin within which magnets of one grade differ (common practice, no source).
const closeToKnee = 0.1

// warnOfLoss says which magnets lose for good, where nothing is known, and what the gap keeps. Magnets that fare alike share a sentence.
func (a *assembly) warnOfLoss(r *result.Result) {
	d := a.design
	o := r.Demagnetization
	var texts []string
	names := map[string][]string{}
	for i := range d.Magnets {
		text := lossOf(&d.Magnets[i].Material, r.Parts[i].WorkingPoint, o != nil)
		if text == "" {
			continue
		}
		if names[text] == nil {
			texts = append(texts, text)
		}
		names[text] = append(names[text], r.Parts[i].Name)
	}
	for _, text := range texts {
		list := names[text]
		if more := len(list) - mostNames; more > 0 {
			list = append(list[:mostNames:mostNames], fmt.Sprintf("%d more", more))
		}
		r.Warnings = append(r.Warnings, strings.Join(list, ", ")+": "+text)
	}
	add := func(format string, args ...any) { r.Warnings = append(r.Warnings, fmt.Sprintf(format, args...)) }
	if o == nil || o.Magnets == 0 {
		return
	}
	after := fmt.Sprintf("once the magnets have been at %.4g °C", o.WorstC)
	for _, t := range o.Temperatures {
		if t.DegC == r.TempC && t.PastKnee > lostShare {
			after += ", and part of that already at the working temperature"
			if o.WorstC == r.TempC {
				after = "at the working temperature"
			}
		}
	}
	what := "the magnets are weakened"
	if norm(r.GapB) >= noField {
		what = fmt.Sprintf("the gap loses %.3g T (%.3g %%)", o.LostGapT, o.LostGap)
	}
	add("%s for good %s: all other numbers here are those of magnets without that loss", what, after)
}

// mostNames is how many magnets a warning names.
const mostNames = 6

// lossOf says what a magnet loses, or nothing.
func lossOf(m *material.Magnet, w *result.WorkingPoint, looked bool) string {
	if math.IsInf(m.KneeApm(), 0) {
		return "the coercivity is not known, so nothing is said about demagnetization"
	}
	if !looked {
		return ""
	}
	past := fmt.Sprintf("%.2g %% of the volume is past the knee at %.4g °C (down to %.0f kA/m, knee %.0f kA/m)", 100*w.PastKnee, w.WorstC, w.LowestH/1e3, w.WorstKneeH/1e3)
	switch {
	case w.PastKnee > lostShare && w.RemanenceKept == 0:
		return past + "; what is lost is not computed: " + m.KneeRule()
	case w.PastKnee > lostShare:
		return past + fmt.Sprintf("; %.3g %% of the magnetization is left for good", 100*w.RemanenceKept)
	case w.KneeMargin < closeToKnee:
		return fmt.Sprintf("%.0f %% are left before the knee at %.4g °C, at an edge or corner; magnets of one grade differ by as much", 100*w.KneeMargin, w.WorstC)
	}
	return ""
}
