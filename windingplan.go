package polewright

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"

	"gonum.org/v1/gonum/spatial/r3"

	"polewright/design"
	"polewright/material"
	"polewright/mistake"
	"polewright/shape"
	"polewright/winding"
)

// This file solves a wound yoke at many numbers of turns, packings and wires: the field that its winder can expect.

// WindingOptions says what OutlookOf solves.
type WindingOptions struct {
	Looser    float64 // how much lower the looser packing is, above 0; 0 is 0.05
	LeastGain float64 // share of the field that a further hundred turns should bring; 0 is 0.01
	Wires     bool    // also solve the other wires
	Log       bool    // also solve a packing far looser, for the fit of a log
	Progress  func(what string, done float64)

	shares []float64 // in place of windingShares, for tests
}

// Shares of the turns at which the winding's capacity equals the magnets' flux, at which the field is solved; 0 is the bare magnets.
var windingShares = []float64{0.15, 0.3, 0.45, 0.6, 0.75, 0.9, 1.05, 1.15, 1.3, 1.6, 2.2}

// looserShares are those of the looser packings: their field relative to the planned one is smooth.
var looserShares = []float64{0.15, 0.6, 0.9, 1.05, 1.25, 2.2}

// windingStudy is one wound yoke of a design while its turns vary.
type windingStudy struct {
	ctx   context.Context
	d     *design.Design
	index int
	o     WindingOptions

	turnsPlanned int
	packing      float64 // planned
	from         *Solved
	done, total  int
}

// OutlookOf solves a design with other turns of its wound yoke number index, at draft accuracy, and with other packings and wires. It takes
// some twenty draft solves. The forecast is for winding.FitLog.
func OutlookOf(ctx context.Context, d *design.Design, index int, o WindingOptions) (*winding.Outlook, *winding.Forecast, error) {
	o.Looser = cmp.Or(o.Looser, 0.05)
	o.LeastGain = cmp.Or(o.LeastGain, 0.01)
	o.Progress = heard(o.Progress)
	w := &d.Wounds[index]
	if !(o.Looser > 0 && w.Packing-o.Looser >= 0.1) || !(o.LeastGain > 0 && o.LeastGain < 1) {
		return nil, nil, mistake.Of(fmt.Sprintf("a packing looser by %g than %g, or a least gain of %g, is out of reach", o.Looser, w.Packing, o.LeastGain), "0.05 and 0.01 are usual")
	}
	s := &windingStudy{ctx: ctx, d: d, index: index, o: o}
	plan := WindingPlan(w)
	sheet, err := winding.Wind(plan)
	if err != nil {
		return nil, nil, err
	}
	s.turnsPlanned, s.packing = sheet.Turns, sheet.Packing // of whole layers, where the file gives a lay
	area := math.Pi / 4 * w.WireDiameterM * w.WireDiameterM
	js := w.Material.Curve.SaturationT()

	if o.shares == nil {
		o.shares = windingShares
	}
	s.total = 2 + len(o.shares) + len(looserShares)
	planned, err := s.solve(s.turnsPlanned, s.packing, w.Material)
	if err != nil {
		return nil, nil, err
	}
	flux := magnetFlux(d, planned.f.Bodies())
	out := &winding.Outlook{PlannedTurns: s.turnsPlanned, Packing: s.packing, LooserPacking: s.packing - o.Looser, FluxWb: flux, LeastGain: o.LeastGain}
	if t := d.Target; t != nil {
		out.TargetT = t.FieldT
	}
	full := flux / (2 * area * js) // turns that carry the flux at saturation
	if full <= 0 {                 // coils alone
		full = float64(s.turnsPlanned)
	}
	turns := s.turns(full, o.shares, s.turnsPlanned)
	turns, out.Capped = s.room(turns)
	packings := []float64{s.packing - o.Looser, s.packing}
	if far := math.Max(0.1, s.packing-3*o.Looser); o.Log && far < packings[0] {
		packings = append([]float64{far}, packings...)
	}
	var wires []wireChoice
	if o.Wires {
		wires = wireChoices(w)
	}
	few := s.nearest(turns, full, looserShares)
	s.total = len(turns) + len(few)*(len(packings)-1) + len(wires)

	if err := s.points(out, turns, planned); err != nil {
		return nil, nil, err
	}
	forecast, err := s.forecast(out, packings, few)
	if err != nil {
		return nil, nil, err
	}
	s.from = planned
	if err := s.wires(out, wires); err != nil {
		return nil, nil, err
	}
	if err := out.Complete(plan, js); err != nil {
		return nil, nil, err
	}
	for i := range out.Wires {
		out.Wires[i].Share = out.Wires[i].GapT/out.PlannedT - 1
	}
	return out, forecast, nil
}

// turns lists the numbers of turns to solve, rising: 0, the planned one, and shares of full from one layer on.
func (s *windingStudy) turns(full float64, shares []float64, planned int) []int {
	w := &s.d.Wounds[s.index]
	layer := w.WireDiameterM * s.packing * w.Racetrack().Width / (math.Pi / 4 * w.WireDiameterM * w.WireDiameterM)
	list := []int{0, planned}
	for _, share := range shares {
		n := math.Max(share*full, layer)
		if math.Abs(n/float64(planned)-1) > 0.06 {
			list = append(list, int(math.Ceil(n)))
		}
	}
	slices.Sort(list)
	return slices.Compact(list)
}

// room leaves out the turns beyond the planned ones that would run into another part; in their place the planned ones are the last.
func (s *windingStudy) room(turns []int) (fit []int, capped bool) {
	for _, n := range turns {
		if n > s.turnsPlanned && s.hits(n) {
			return fit, true
		}
		fit = append(fit, n)
	}
	return fit, false
}

// hits tells whether the winding with so many turns reaches into a part that it leaves free as planned: by their boxes.
func (s *windingStudy) hits(turns int) bool {
	w := &s.d.Wounds[s.index]
	grown := s.wound(turns, s.packing-s.o.Looser, 1, w.Material)
	now, then := shape.Bounds(w.Solid, w.Place), shape.Bounds(grown.Solid, grown.Place)
	for _, p := range s.d.Parts() {
		if b := shapeBounds(p); p.Name != w.Name && meet(b, then) && !meet(b, now) {
			return true
		}
	}
	return false
}

func meet(a, b r3.Box) bool {
	for k := range 3 {
		if *component(&a.Min, k) >= *component(&b.Max, k)-design.TouchM || *component(&b.Min, k) >= *component(&a.Max, k)-design.TouchM {
			return false
		}
	}
	return true
}

// nearest picks from turns those nearest to shares of full, and the last.
func (s *windingStudy) nearest(turns []int, full float64, shares []float64) (few []int) {
	for _, share := range shares {
		best := turns[len(turns)-1]
		for _, n := range turns[1:] {
			if math.Abs(float64(n)-share*full) < math.Abs(float64(best)-share*full) {
				best = n
			}
		}
		few = append(few, best)
	}
	few = append(few, turns[len(turns)-1])
	slices.Sort(few)
	return slices.Compact(few)
}

// wound is the yoke with other turns, packing and wire. share is what the packing has of steel, where a coat of zinc takes the rest.
func (s *windingStudy) wound(turns int, packing, share float64, m material.Steel) design.Wound {
	w := s.d.Wounds[s.index]
	t := w.Racetrack()
	t.Build = float64(turns) * math.Pi / 4 * w.WireDiameterM * w.WireDiameterM / (packing * t.Width)
	w.Solid, w.Turns, w.Packing, w.Material = t, turns, packing*share, m
	return w
}

func (s *windingStudy) solve(turns int, packing float64, m material.Steel) (*Solved, error) {
	return s.solveShare(turns, packing, 1, m)
}

// solveShare solves the design with another yoke in place of its own, or with none.
func (s *windingStudy) solveShare(turns int, packing, share float64, m material.Steel) (*Solved, error) {
	c := *s.d
	c.Wounds = slices.Clone(s.d.Wounds)
	c.Sections = nil
	if turns == 0 {
		name := c.Wounds[s.index].Name
		c.Wounds = slices.Delete(c.Wounds, s.index, s.index+1)
		c.Joints = slices.DeleteFunc(slices.Clone(s.d.Joints), func(j design.Joint) bool { return j.Between[0] == name || j.Between[1] == name })
	} else {
		c.Wounds[s.index] = s.wound(turns, packing, share, m)
	}
	o := Options{Accuracy: Draft, FieldOnly: true, Progress: func(_ string, part float64) {
		s.o.Progress(fmt.Sprintf("%d turns", turns), (float64(s.done)+part)/float64(s.total))
	}}
	if turns > 0 {
		o.From = s.from
	}
	solved, err := Run(s.ctx, &c, o)
	var mistakes mistake.Errors // begin with file and line
	if errors.As(err, &mistakes) {
		return nil, err
	}
	if err != nil {
		return nil, fmt.Errorf("the yoke %q with %d turns: %w", s.d.Wounds[s.index].Name, turns, err)
	}
	if turns > 0 {
		s.from = solved
	}
	s.tell(fmt.Sprintf("%d turns", turns))
	return solved, nil
}

func (s *windingStudy) tell(what string) {
	s.done++
	s.o.Progress(what, float64(s.done)/float64(s.total))
}

// points solves the design with each number of turns.
func (s *windingStudy) points(out *winding.Outlook, turns []int, planned *Solved) error {
	w := &s.d.Wounds[s.index]
	for _, n := range turns {
		solved := planned
		if n != s.turnsPlanned {
			var err error
			if solved, err = s.solve(n, s.packing, w.Material); err != nil {
				return err
			}
		}
		q := winding.Point{Turns: n, GapT: r3.Norm(vector(solved.Result.GapB)), ErrorPercent: solved.Result.Solver.EstimatedError}
		var moment r3.Vec
		for _, b := range solved.f.Bodies() {
			moment = r3.Add(moment, b.Moment)
		}
		stray, _ := solved.a.strayField(solved.f, moment)
		q.ImplantsM, _ = stray.Largest(strayLimits[0])
		q.ToolsM, _ = stray.Largest(strayLimits[1])
		out.Points = append(out.Points, q)
	}
	return nil
}

// forecast solves the looser packings at a few numbers of turns; between them their field over that of the planned packing is interpolated.
func (s *windingStudy) forecast(out *winding.Outlook, packings []float64, few []int) (*winding.Forecast, error) {
	var all, planned []float64
	for _, q := range out.Points {
		all, planned = append(all, float64(q.Turns)), append(planned, q.GapT)
	}
	f := &winding.Forecast{Packings: packings}
	at := map[int]float64{}
	for _, q := range out.Points {
		at[q.Turns] = q.GapT
	}
	for i, packing := range packings {
		value := planned
		if i < len(packings)-1 {
			turns, ratio := []float64{0}, []float64{1}
			s.from = nil
			for _, n := range few {
				solved, err := s.solve(n, packing, s.d.Wounds[s.index].Material)
				if err != nil {
					return nil, err
				}
				turns, ratio = append(turns, float64(n)), append(ratio, r3.Norm(vector(solved.Result.GapB))/at[n])
			}
			c, err := winding.NewCurve(turns, ratio)
			if err != nil {
				return nil, err
			}
			value = slices.Clone(planned)
			for k := range value {
				value[k] *= c.At(all[k])
				if packing == out.LooserPacking {
					out.Points[k].LooserT = value[k]
				}
			}
		}
		c, err := winding.NewCurve(all, value)
		if err != nil {
			return nil, err
		}
		f.Gap = append(f.Gap, c)
	}
	return f, nil
}

// wires solves the planned turns of other wires.
func (s *windingStudy) wires(out *winding.Outlook, list []wireChoice) error {
	for _, c := range list {
		b := out.Points[0].GapT // of the bare magnets, where the wire does nothing
		if c.material.Curve == nil {
			s.tell(c.name)
		} else {
			other, err := s.solveShare(s.turnsPlanned, s.packing, c.share, c.material)
			if err != nil {
				return err
			}
			b = r3.Norm(vector(other.Result.GapB))
		}
		out.Wires = append(out.Wires, winding.Wire{Name: c.name, GapT: b, Note: c.note})
	}
	return nil
}

// wireChoice is another wire for the same turns; a material without a curve does nothing.
type wireChoice struct {
	name, note string
	material   material.Steel
	share      float64 // of its section that is steel
}

// zincKgPerM2 is the coat of ordinary galvanized wire; classes from 30 to 250 g/m² are sold (EN 10244-2, from memory). The density of zinc,
// 7140 kg/m³, is from memory.
const (
	zincKgPerM2  = 0.100
	zincDensity  = 7140.0
	drawn304     = 3.0 // relative permeability; hard-drawn 304 is sold from below 2 to about 10, from memory
	wireNameEnds = "-wire"
)

// wireChoices are the wires that the materials know, the design's own apart, and what they become with zinc on them or when they are stainless.
func wireChoices(w *design.Wound) (list []wireChoice) {
	for _, m := range material.Steels() {
		if strings.HasSuffix(m.Name, wireNameEnds) && m.Name != w.Material.Name {
			list = append(list, wireChoice{m.Name, m.Use, m, 1})
		}
	}
	zinc := zincKgPerM2 / zincDensity
	inner := 1 - 2*zinc/w.WireDiameterM
	if share := inner * inner; inner > 0.5 {
		list = append(list, wireChoice{w.Material.Name + ", galvanized", fmt.Sprintf("a coat of %.0f g/m² of zinc, %.0f µm, takes %.1f %% of the section at the same outside diameter; the steel below is taken as not hardened", 1e3*zincKgPerM2, 1e6*zinc, 100*(1-share)), w.Material, share})
	}
	if c, err := material.Linear("stainless 304, drawn", drawn304); err == nil {
		list = append(list, wireChoice{"stainless 304, drawn", fmt.Sprintf("work-hardened 304 is slightly magnetic; taken as relative permeability %g (from below 2 to about 10, from memory)", drawn304), material.Steel{Name: "stainless 304, drawn", Curve: c, DensityKgPerM3: 7900}, 1})
	}
	return append(list, wireChoice{"stainless 316", "not magnetic: the field is that of the bare magnets", material.Steel{}, 0})
}
