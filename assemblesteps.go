package polewright

import (
	"cmp"
	"context"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"gonum.org/v1/gonum/spatial/r3"

	"polewright/buildorder"
	"polewright/design"
	"polewright/material"
	"polewright/mistake"
	"polewright/result"
	"polewright/safety"
	"polewright/shape"
)

// AssemblyOptions says how the steps of an assembly are solved.
type AssemblyOptions struct {
	Accuracy  Accuracy // the zero value is Draft, on one pair of grids
	Distances int      // how many a step is solved at, besides its place; 8 if zero, which is the least
	Screws    int      // jack screws that share a step's load; 3 if zero
	// ScrewFactor is the load that they are chosen for over the pull; 2 if zero (common practice, no source).
	ScrewFactor float64
	Progress    func(what string, done float64)
}

const (
	leastDistances = 8
	mostDistances  = 200
	mostScrews     = 24

	// stepDensity is that of the one pair of grids on which a draft solves each state. Forces over a gap are good to 1 % there, those in contact
	// to 2 %, those where two edges pass each other to 20 % of the largest of the step: 366 N were seen where a density of 0.75 gives 307 N. Margins to
	// the knee there were 9 points more.
	stepDensity = 0.45
	// contactNoise is the share of a force that its part along the way is known to, where the group sits on a face that draws it.
	contactNoise = 0.02

	// jigFactor is how much stiffer than the pull a jig must be (common practice, no source: 5 to 10 times).
	jigFactor = 5
	// slideFriction is that of a magnet or a leg on a plastic sheet (common practice, no source: it slides off with about a fifth of the pull).
	slideFriction = 0.2
	// sideShare of the group's width is how far it is moved aside to learn its side stiffness, sideLeastM at least: far enough that edges which would
	// else lie close beside one another do not ask for a grid ten times finer. Closed forms take a smaller share.
	sideShare       = 0.05
	sideShareClosed = 0.02
	sideLeastM      = 2e-4
	// asideDensity is the density of the grid for a group aside over that of its way, where the force aside alone is wanted.
	asideDensity = 0.5
	// sideAt counts from the place: the distance at which the side stiffness is looked at.
	sideAt = 2

	// keeperB is what the steel of a keeper carries (common practice, no source: 1.2 to 1.6 T).
	keeperB = 1.6
	// keeperFilmM is paint and roughness between a keeper and its pole (common practice, no source).
	keeperFilmM = 1e-4
)

// RunAssembly plans the order in which a design is put together and solves every step on its way: forces, energies, stiffness, and how near each
// state brings the magnets to their knees. Coils carry no current meanwhile. Errors are those of Run, and *mistake.Error.
func RunAssembly(ctx context.Context, d *design.Design, o AssemblyOptions) (*result.Assembly, error) {
	if len(d.Magnets) == 0 {
		return nil, mistake.Of("there is no magnet to assemble: coils and steel do not pull while no current flows", "assemble is for designs with at least one [[magnet]]")
	}
	if err := o.complete(); err != nil {
		return nil, err
	}
	if err := unsupported(d); err != nil {
		return nil, err
	}
	layout := ""
	if d.Layout != nil {
		layout = d.Layout.Kind
	}
	run := &assembling{d: d, o: o, plan: buildorder.Order(orderParts(d), layout), mass: masses(d)}
	basis := "common practice, no source"
	out := &result.Assembly{Format: 1, Title: d.Title, Layout: run.plan.Layout, GeneralRule: run.plan.General, Basis: basis, Accuracy: o.Accuracy.Name,
		TempC: workingTemperature(d), ScrewFactor: o.ScrewFactor, JigFactor: jigFactor, CostsField: []string{}, Loose: []result.LooseMagnet{}}
	run.total = len(run.plan.Steps) + len(run.plan.LegsFirst) + 1
	for i, step := range run.plan.Steps {
		s, err := run.step(ctx, i+1, step, true)
		if err != nil {
			return nil, fmt.Errorf("step %d, %q: %w", i+1, step.Title, err)
		}
		out.Steps = append(out.Steps, *s)
		run.now++
	}
	if err := run.orders(ctx, out); err != nil {
		return nil, err
	}
	if err := run.loose(ctx, out); err != nil {
		return nil, err
	}
	if err := run.gapKeeper(ctx, out); err != nil {
		return nil, err
	}
	run.conclude(out)
	o.Progress("done", 1)
	return out, nil
}

func (o *AssemblyOptions) complete() error {
	if o.Accuracy.Name == "" || o.Accuracy == Draft {
		o.Accuracy = Draft
		o.Accuracy.Percent, o.Accuracy.density = math.Inf(1), stepDensity
	}
	o.Distances = cmp.Or(o.Distances, leastDistances)
	o.Screws = cmp.Or(o.Screws, 3)
	o.ScrewFactor = cmp.Or(o.ScrewFactor, 2)
	o.Progress = heard(o.Progress)
	if o.Distances < leastDistances || o.Distances > mostDistances || o.Screws < 1 || o.Screws > mostScrews || !(o.ScrewFactor >= 1 && o.ScrewFactor <= 20) {
		return fmt.Errorf("%d distances, %d screws and a factor of %g cannot be: give %d to %d distances, 1 to %d screws and a factor of 1 to 20",
			o.Distances, o.Screws, o.ScrewFactor, leastDistances, mostDistances, mostScrews)
	}
	return nil
}

// orderParts are the parts of a design as buildorder takes them.
func orderParts(d *design.Design) (list []buildorder.Part) {
	for i, p := range d.Parts() {
		b := shapeBounds(p)
		q := buildorder.Part{Name: p.Name, Kind: buildorder.Kind(p.Kind), Min: b.Min, Max: b.Max, VolumeM3: p.Solid.Volume()}
		_, q.Hollow = p.Solid.(shape.Ring)
		if i < len(d.Magnets) {
			q.Direction = d.Magnets[i].Direction
		}
		list = append(list, q)
	}
	return list
}

func masses(d *design.Design) map[string]float64 {
	m := map[string]float64{}
	for _, x := range d.Magnets {
		m[x.Name] = x.Material.DensityKgPerM3 * x.Solid.Volume()
	}
	for _, x := range d.Steels {
		m[x.Name] = x.Material.DensityKgPerM3 * x.Solid.Volume()
	}
	for _, x := range d.Wounds {
		m[x.Name] = x.Material.DensityKgPerM3 * x.Solid.Volume() * x.Packing
	}
	for _, x := range d.Spacers {
		m[x.Name] = x.Material.DensityKgPerM3 * x.Solid.Volume()
	}
	return m
}

// assembling is one run over the steps of a plan.
type assembling struct {
	d          *design.Design
	o          AssemblyOptions
	plan       buildorder.Plan
	mass       map[string]float64
	now, total int

	done []doneStage
}

// doneStage is a step that was solved; a mirror image of it need not be.
type doneStage struct {
	stage
	step *result.AssemblyStep
}

func (run *assembling) report(what string, done float64) {
	run.o.Progress(what, (float64(run.now)+done)/float64(run.total))
}

func (run *assembling) options() Options { return Options{Accuracy: run.o.Accuracy} }

// step solves one step of the plan, with its stability where that is wanted.
func (run *assembling) step(ctx context.Context, number int, p buildorder.Step, sides bool) (*result.AssemblyStep, error) {
	s := &result.AssemblyStep{Number: number, Title: p.Title, Moves: p.Moves, Among: p.Among, How: p.How, Hold: p.Hold, Slides: p.Slides, Toward: array(p.Toward)}
	for _, list := range []*[]string{&s.Among, &s.How, &s.Hold} {
		if *list == nil {
			*list = []string{}
		}
	}
	for _, name := range p.Moves {
		s.MassKg += run.mass[name]
	}
	if p.Grows {
		return s, run.grow(ctx, s)
	}
	if p.Toward == (r3.Vec{}) || len(p.Among) == 0 {
		return s, nil
	}
	stage := stage{moves: p.Moves, among: p.Among, toward: p.Toward, from: p.FromM, clear: p.ClearM, leg: p.Leg && p.Slides}
	for _, before := range run.done {
		if sign, ok := imageOf(run.d, before.stage, stage); ok {
			mirrorStep(s, before.step, sign)
			if s.Worst != nil {
				s.Worst.Magnet = imageNamed(run.d, s.Worst.Magnet, before.stage, stage, sign)
			}
			return s, nil
		}
	}
	if err := run.way(ctx, s, stage); err != nil {
		return nil, err
	}
	if sides {
		if err := run.aside(ctx, s, stage); err != nil {
			return nil, err
		}
	}
	run.done = append(run.done, doneStage{stage, s})
	return s, nil
}

// mirrorStep fills a step in from its mirror image.
func mirrorStep(s, from *result.AssemblyStep, sign [3]float64) {
	number, title, moves, among, how, hold, mass, toward := s.Number, s.Title, s.Moves, s.Among, s.How, s.Hold, s.MassKg, s.Toward
	*s = *from
	s.Number, s.Title, s.Moves, s.Among, s.How, s.Hold, s.MassKg, s.Toward = number, title, moves, among, how, hold, mass, toward
	s.SameAs = from.Number
	s.Way = slices.Clone(from.Way)
	axial := sign[0] * sign[1] * sign[2]
	for i := range s.Way {
		w := &s.Way[i]
		w.Force = array(flipped(sign, vector(w.Force)))
		w.Torque = array(r3.Scale(axial, flipped(sign, vector(w.Torque))))
	}
	if from.Worst != nil {
		w := *from.Worst
		s.Worst = &w
	}
}

// way solves the group of a stage at all distances from its place, and at more where the pull is not resolved.
func (run *assembling) way(ctx context.Context, s *result.AssemblyStep, g stage) error {
	distances, edge := g.distances(run.o.Distances), g.clear
	if run.closed() {
		distances, edge = g.withEdge(distances), 0
	}
	var list []place
	var before, worst, atPlace *state
	solve := func(x float64) (place, error) {
		now, p, err := run.at(ctx, g, x, r3.Vec{}, run.options(), before)
		if err != nil {
			return p, fmt.Errorf("%.4g mm from its place: %w", 1e3*x, err)
		}
		before = now
		if w := now.worst(x); w != nil && (s.Worst == nil || w.Margin < s.Worst.Margin) {
			s.Worst, worst = w, now
		}
		return p, nil
	}
	for k, x := range distances {
		run.report(fmt.Sprintf("step %d, %.3g mm", s.Number, 1e3*x), float64(k)/float64(len(distances)+2))
		p, err := solve(x)
		if err != nil {
			return err
		}
		list, atPlace = append(list, p), before
	}
	t := travelOf(list, g.near())
	for range run.o.Distances / 2 {
		x := t.next(list, edge)
		if x == 0 {
			break
		}
		run.report(fmt.Sprintf("step %d, %.3g mm, too", s.Number, 1e3*x), 0.85)
		p, err := solve(x)
		if err != nil {
			return err
		}
		i := slices.IndexFunc(list, func(q place) bool { return q.distance < x })
		list = slices.Insert(list, i, p)
		t = travelOf(list, g.near())
	}
	if worst != nil && s.Worst.PastKnee > lostShare {
		run.report(fmt.Sprintf("step %d, what the magnets lose", s.Number), 0.9)
		if err := worst.loses(ctx, s.Worst); err != nil {
			return err
		}
	}
	if g.leg {
		s.PressedN = atPlace.pressed(g.moves[0], g.toward)
	}
	if first, last := list[0], list[len(list)-1]; first.known && last.known {
		e := last.coenergy[0] - first.coenergy[0]
		s.CoenergyJ = &e
	}
	for i, p := range list {
		if i > 0 && g.clear > 0 && p.distance < g.clear && list[i-1].distance > g.clear && t.sure[i-1] {
			s.Way = append(s.Way, meeting(list[i-1], p, g, t.mean[i-1], t.energy[i-1:i+1]))
		}
		s.Way = append(s.Way, wayPoint(p, g, t.pull[i], t.energy[i], t.byEnergy[i]))
	}
	far, pull := make([]float64, len(s.Way)), make([]float64, len(s.Way))
	for i, w := range s.Way {
		far[i], pull[i] = w.DistanceM, w.PullN
	}
	_, slope := wayOf(far, pull, g.near())
	for i := range s.Way {
		s.Way[i].StiffnessNPerM = -slope[i]
	}
	run.sumUp(s)
	return nil
}

// wayPoint is a place with the pull that is known best.
func wayPoint(p place, g stage, pull, energy float64, byEnergy bool) result.WayPoint {
	side := r3.Sub(p.force, r3.Scale(p.pull, g.toward))
	w := result.WayPoint{DistanceM: p.distance, Force: array(r3.Add(side, r3.Scale(pull, g.toward))), Torque: array(p.torque), PullN: pull, PullBy: result.ByStress,
		SideN: r3.Norm(side), EnergyJ: energy}
	if byEnergy {
		w.PullBy = result.ByEnergy
	}
	return w
}

// meeting is where the edges meet between two places: the mean pull between them by the coenergies, all else the mean of both.
func meeting(a, b place, g stage, mean float64, energy []float64) result.WayPoint {
	half := func(u, v r3.Vec) r3.Vec { return r3.Scale(0.5, r3.Add(u, v)) }
	p := place{distance: (a.distance + b.distance) / 2, force: half(a.force, b.force), torque: half(a.torque, b.torque), pull: (a.pull + b.pull) / 2}
	return wayPoint(p, g, mean, (energy[0]+energy[1])/2, true)
}

// fewAlone is how many magnets without steel are solved on a grid: more of them are closed forms, which take the recoil permeability as 1.
const fewAlone = 3

// alone tells whether closed forms serve: magnets without steel, too many for a grid at each distance.
func (run *assembling) alone() bool {
	return len(run.d.Steels)+len(run.d.Wounds) == 0 && len(run.d.Magnets) > fewAlone
}

// at solves a stage with its group at a distance from its place and moved aside.
func (run *assembling) at(ctx context.Context, g stage, x float64, aside r3.Vec, o Options, before *state) (now *state, p place, err error) {
	shift := r3.Add(r3.Scale(-x, g.toward), aside)
	d := rearranged(run.d, func(name string) bool { return slices.Contains(g.moves, name) || slices.Contains(g.among, name) }, func(name string) r3.Vec {
		if slices.Contains(g.moves, name) {
			return shift
		}
		return r3.Vec{}
	})
	if run.alone() {
		for i := range d.Magnets {
			d.Magnets[i].Material.RecoilPermeability = 1
		}
	}
	if run.plain() {
		d = plainTips(d, g.moves)
	}
	across := partingOf(d, g.moves)
	if across != nil {
		o.Halves = []Plane{across.plane}
	}
	if now, err = solveState(ctx, d, o, before); err != nil {
		return nil, p, err
	}
	p = place{distance: x}
	if p.force, p.torque, err = now.forceOn(g.moves, across); err != nil {
		return nil, p, err
	}
	p.pull = r3.Dot(p.force, g.toward)
	switch coarse := now.coarser(); {
	case coarse == nil:
		p.doubt = closedDoubt * r3.Norm(p.force)
	case across != nil:
		p.doubt = halfDoubt * r3.Norm(p.force)
	default:
		force, _, err := coarse.forceOn(g.moves, nil)
		if err != nil {
			return nil, p, err
		}
		p.doubt = errorShare * math.Abs(p.pull-r3.Dot(force, g.toward))
	}
	p.coenergy, p.known = now.coenergies(g.moves)
	return now, p, nil
}

// sumUp takes the peaks and what follows from them.
func (run *assembling) sumUp(s *result.AssemblyStep) {
	s.PeakPullN = math.Inf(-1)
	last := s.Way[len(s.Way)-1].EnergyJ
	for _, w := range s.Way {
		if n := norm(w.Force); n > s.PeakN {
			s.PeakN, s.PeakAtM = n, w.DistanceM
		}
		s.PeakPullN = math.Max(s.PeakPullN, w.PullN)
		if w.PullN < -contactNoise*norm(w.Force) {
			s.PeakPushN = math.Max(s.PeakPushN, -w.PullN)
		}
		s.PeakSideN = math.Max(s.PeakSideN, w.SideN)
		s.DriveN = math.Max(s.DriveN, math.Abs(w.PullN)+slideFriction*w.SideN)
		s.PeakTorque = math.Max(s.PeakTorque, norm(w.Torque))
		s.EnergyJ = math.Max(s.EnergyJ, last-w.EnergyJ)
		s.FlyingOffJ = math.Max(s.FlyingOffJ, w.EnergyJ-last)
		s.Negative = math.Max(s.Negative, w.StiffnessNPerM)
	}
	s.DriveN = math.Max(s.DriveN, math.Abs(s.Way[len(s.Way)-1].PullN)+slideFriction*s.PressedN)
	s.SpeedMPerS, s.FlyMPerS = safety.ImpactSpeed(s.EnergyJ, s.MassKg), safety.ImpactSpeed(s.FlyingOffJ, s.MassKg)
	s.JigNPerM = jigFactor * s.Negative
	s.Screws = screwsFor(s.DriveN, run.o.Screws, run.o.ScrewFactor)
}

// screwStress is what the stress area of a jack screw of brass or stainless steel is loaded with at most, Pa (common practice, no source: far below
// their yield, for the thread must turn under load).
const screwStress = 50e6

// metric are the nominal diameters and pitches of coarse metric threads, m (ISO 261).
var metric = [][2]float64{{6e-3, 1e-3}, {8e-3, 1.25e-3}, {10e-3, 1.5e-3}, {12e-3, 1.75e-3}, {16e-3, 2e-3}, {20e-3, 2.5e-3}, {24e-3, 3e-3}, {30e-3, 3.5e-3}}

// stressArea of a metric thread is pi/4 (d - 0.9382 P)² (ISO 898-1).
func stressArea(diameter, pitch float64) float64 {
	x := diameter - 0.9382*pitch
	return math.Pi / 4 * x * x
}

// screwsFor shares a pull among jack screws and chooses their size. The torque of each is 0.2 F d (common practice, no source: dry threads).
func screwsFor(pull float64, count int, factor float64) *result.Screws {
	s := &result.Screws{Count: count, LoadN: factor * pull / float64(count)}
	for _, m := range metric {
		s.Size, s.TorqueNm = fmt.Sprintf("M%g", 1e3*m[0]), 0.2*pull/float64(count)*m[0]
		if s.LoadN <= screwStress*stressArea(m[0], m[1]) {
			return s
		}
	}
	s.Size = "more or larger than M30"
	return s
}

// aside moves the group off its way, near its place, along each axis across on which it is free to move to both sides.
func (run *assembling) aside(ctx context.Context, s *result.AssemblyStep, g stage) error {
	list := g.distances(run.o.Distances)
	k := len(list) - 1 - sideAt
	if g.clear > 0 {
		k++
	}
	x := list[k]
	on := s.Way[slices.IndexFunc(s.Way, func(w result.WayPoint) bool { return w.DistanceM == x })]
	share := sideShare
	if run.closed() {
		share = sideShareClosed
	}
	box := boxOf(run.d.Parts(), g.moves)
	size := box.Size()
	round := run.round(g)
	for axis := range 3 {
		if math.Abs(*component(&g.toward, axis)) > 0.5 {
			continue
		}
		off := math.Max(sideLeastM, share**component(&size, axis))
		var by r3.Vec
		*component(&by, axis) = off
		back := r3.Scale(-x, g.toward)
		if run.hits(g, r3.Add(back, by)) || run.hits(g, r3.Sub(back, by)) {
			continue
		}
		if round && len(s.Side) > 0 {
			same := s.Side[0]
			same.Direction = array(r3.Scale(1/off, by))
			s.Side = append(s.Side, same)
			continue
		}
		run.report(fmt.Sprintf("step %d, aside along %c", s.Number, "xyz"[axis]), 0.95)
		o := run.options()
		if math.Abs(on.Force[axis]) < 1e-3*norm(on.Force) {
			o.Accuracy.density *= asideDensity // the way is a plane of symmetry: no difference of two forces
		}
		_, p, err := run.at(ctx, g, x, by, o, nil)
		if err != nil {
			return fmt.Errorf("%.4g mm aside: %w", 1e3*off, err)
		}
		moved := *component(&p.force, axis) - on.Force[axis]
		if math.Abs(moved) < contactNoise*norm(on.Force) && g.clear > 0 {
			continue // within what is known of a force along a face in contact
		}
		s.Side = append(s.Side, result.SideStiffness{Direction: array(r3.Scale(1/off, by)), AtM: x, StiffnessNPerM: -moved / off})
	}
	return nil
}

// closed tells whether the states are closed forms.
func (run *assembling) closed() bool { return run.alone() || isFreeField(run.d) }

// round tells whether all parts of a stage are bodies of revolution about one axis along its way, so that one direction across is as any other.
func (run *assembling) round(g stage) bool {
	var on *r3.Vec
	for name, p := range magneticParts(run.d) {
		if !slices.Contains(g.moves, name) && !slices.Contains(g.among, name) {
			continue
		}
		switch p.Solid.(type) {
		case shape.Disc, shape.Ring, shape.Frustum:
		default:
			return false
		}
		if up := p.Place.Rot.Apply(r3.Vec{Z: 1}); math.Abs(r3.Dot(up, g.toward)) < 1-aligned {
			return false
		}
		if on == nil {
			on = &p.Place.Center
		}
		if off := r3.Cross(r3.Sub(p.Place.Center, *on), g.toward); r3.Norm(off) > design.TouchM {
			return false
		}
		if k := magnetIn(run.d, name); k != nil && math.Abs(r3.Dot(k.Direction, g.toward)) < 1-aligned {
			return false
		}
	}
	return on != nil
}

// hits tells whether the moved group's boxes run into those of the parts that stand.
func (run *assembling) hits(g stage, shift r3.Vec) bool {
	parts := magneticParts(run.d)
	for _, m := range g.moves {
		b := shapeBounds(parts[m])
		b.Min, b.Max = r3.Add(b.Min, shift), r3.Add(b.Max, shift)
		for _, o := range g.among {
			if p := parts[o]; p.Body != nil && meet(b, shapeBounds(p)) {
				return true
			}
		}
	}
	return false
}

// grow solves a wound yoke at rising numbers of turns: what the former holds.
func (run *assembling) grow(ctx context.Context, s *result.AssemblyStep) error {
	index := slices.IndexFunc(run.d.Wounds, func(w design.Wound) bool { return w.Name == s.Moves[0] })
	planned := run.d.Wounds[index].Turns
	var upper []string
	for i := range run.d.Magnets {
		m := &run.d.Magnets[i]
		c := m.Place.Center
		middle := r3.Scale(0.5, r3.Add(run.plan.GapMin, run.plan.GapMax))
		if len(run.d.Magnets) == 1 || *component(&c, run.plan.Across) > *component(&middle, run.plan.Across) {
			upper = append(upper, m.Name)
		}
	}
	if len(upper) == 0 {
		upper = []string{run.d.Magnets[0].Name}
	}
	var before *state
	var worst *state
	for k := range run.o.Distances + 1 {
		turns := int(math.Round(float64(planned) * float64(k) / float64(run.o.Distances)))
		if k > 0 && turns == s.Turns[len(s.Turns)-1].Turns {
			continue
		}
		run.report(fmt.Sprintf("step %d, %d turns", s.Number, turns), float64(k)/float64(run.o.Distances+1))
		d := rearranged(run.d, func(name string) bool {
			return slices.Contains(s.Among, name) || turns > 0 && name == s.Moves[0]
		}, func(string) r3.Vec { return r3.Vec{} })
		for i := range d.Wounds {
			if w := &d.Wounds[i]; w.Name == s.Moves[0] {
				t := w.Racetrack()
				t.Build *= float64(turns) / float64(planned)
				w.Solid, w.Turns = t, turns
			}
		}
		now, err := solveState(ctx, d, run.options(), before)
		if err != nil {
			return fmt.Errorf("at %d turns: %w", turns, err)
		}
		before = now
		force, _, err := now.forceOn(upper, nil)
		if err != nil {
			return err
		}
		w := result.TurnsWrap{Turns: turns, Force: array(force), PullN: -*component(&force, run.plan.Across)}
		if n := len(s.Turns); n > 0 {
			w.PerTurnN = (w.PullN - s.Turns[n-1].PullN) / float64(turns-s.Turns[n-1].Turns)
		}
		s.Turns = append(s.Turns, w)
		if n := math.Abs(w.PullN); n > s.PeakN {
			s.PeakN = n
		}
		if w := now.worst(0); w != nil && (s.Worst == nil || w.Margin < s.Worst.Margin) {
			s.Worst, worst = w, now
		}
	}
	if worst != nil && s.Worst.PastKnee > lostShare {
		return worst.loses(ctx, s.Worst)
	}
	return nil
}

// loose solves each kind of magnet alone in air, and with a keeper on its pole.
func (run *assembling) loose(ctx context.Context, out *result.Assembly) error {
	d := run.d
	var kinds []string // the first of each kind
	for i := range d.Magnets {
		name := d.Magnets[i].Name
		k := slices.IndexFunc(kinds, func(first string) bool { return sameMagnet(d, first, name) })
		if k >= 0 {
			out.Loose[k].Magnets = append(out.Loose[k].Magnets, name)
			continue
		}
		run.report("loose magnet "+name, 0.5*float64(i)/float64(len(d.Magnets)))
		alone := rearranged(d, func(n string) bool { return n == name }, func(string) r3.Vec { return r3.Vec{} })
		s, err := solveState(ctx, alone, run.options(), nil)
		if err != nil {
			return fmt.Errorf("%q alone: %w", name, err)
		}
		l := result.LooseMagnet{Magnets: []string{name}}
		if w := s.worst(0); w != nil {
			if w.PastKnee > lostShare {
				if err := s.loses(ctx, w); err != nil {
					return err
				}
			}
			l.State = *w
		} else {
			l.State = result.StateStrain{Magnet: name}
		}
		if l.Keeper, err = run.poleKeeper(ctx, alone); err != nil {
			return fmt.Errorf("%q with a keeper: %w", name, err)
		}
		kinds, out.Loose = append(kinds, name), append(out.Loose, l)
	}
	return nil
}

// sameMagnet tells whether two magnets are alike, wherever they stand and however they are turned.
func sameMagnet(d *design.Design, a, b string) bool {
	m, n := magnetNamed(d, a), magnetNamed(d, b)
	local := func(x *design.Magnet) r3.Vec {
		v := x.Place.Rot.Inverse(x.Direction)
		return r3.Vec{X: math.Abs(v.X), Y: math.Abs(v.Y), Z: math.Abs(v.Z)}
	}
	p, q := m.Solid, n.Solid
	if w, ok := p.(shape.Wedge); ok { // the angles at which a wedge stands do not matter, those to its magnetization do
		if v, ok := q.(shape.Wedge); ok {
			if w.OuterDiameter != v.OuterDiameter || w.InnerDiameter != v.InnerDiameter || w.Thickness != v.Thickness || math.Abs(w.Span()-v.Span()) > 1e-9 {
				return false
			}
			toward := func(x *design.Magnet, w shape.Wedge) float64 {
				u := x.Place.Rot.Inverse(x.Direction)
				return math.Abs(math.Cos(math.Atan2(u.Y, u.X) - (w.From+w.To)/2))
			}
			return m.Material == n.Material && m.CoatingM == n.CoatingM && math.Abs(toward(m, w)-toward(n, v)) < 1e-9
		}
	}
	return p == q && m.Material == n.Material && m.CoatingM == n.CoatingM && r3.Norm(r3.Sub(local(m), local(n))) < 1e-9
}

// poleKeeper solves a bar of steel on the pole of a lone magnet whose pole lies across a world axis; nil for others.
func (run *assembling) poleKeeper(ctx context.Context, alone *design.Design) (*result.Keeper, error) {
	m := &alone.Magnets[0]
	axis := axisOf(m.Direction)
	if _, wedge := m.Solid.(shape.Wedge); axis < 0 || wedge {
		return nil, nil
	}
	b := shapeBounds(design.Part{Kind: "magnet", Body: &m.Body})
	size := b.Size()
	narrow := math.Min(*component(&size, (axis+1)%3), *component(&size, (axis+2)%3))
	thick := math.Max(3e-3, math.Ceil(0.25*narrow*1e3)/1e3)
	center := m.Place.Center
	*component(&center, axis) = *component(&b.Max, axis) + thick/2
	*component(&size, axis) = thick
	k, s, i, err := run.keeper(ctx, alone, axis, size, center, []string{m.Name})
	if err != nil || k == nil {
		return nil, err
	}
	// What leaves the pole is what the magnet's end section carries: its mean flux density stands for it.
	k.B = math.Abs(r3.Dot(s.f.Bodies()[0].MeanB, m.Direction))
	k.AreaM2 = m.Solid.Volume() / (*component(&b.Max, axis) - *component(&b.Min, axis)) // of a ring, too
	force, _ := s.f.Forces()
	k.PullN = r3.Norm(force[i])
	k.finish(narrow)
	return &k.Keeper, nil
}

// gapKeeper solves a bar of steel that fills the gap of a finished pair.
func (run *assembling) gapKeeper(ctx context.Context, out *result.Assembly) error {
	p := run.plan
	size := r3.Sub(p.GapMax, p.GapMin)
	if size == (r3.Vec{}) {
		return nil
	}
	run.report("keeper in the gap", 0.7)
	all := rearranged(run.d, func(name string) bool { return magneticParts(run.d)[name].Body != nil }, func(string) r3.Vec { return r3.Vec{} })
	var poles []string
	for name, q := range magneticParts(all) {
		if b := shapeBounds(q); math.Abs(*component(&b.Min, p.Across)-*component(&p.GapMax, p.Across)) < design.TouchM ||
			math.Abs(*component(&b.Max, p.Across)-*component(&p.GapMin, p.Across)) < design.TouchM {
			poles = append(poles, name)
		}
	}
	slices.Sort(poles)
	if run.plain() {
		all = plainTips(all, nil)
		poles = slices.DeleteFunc(poles, func(name string) bool { return magneticParts(all)[name].Body == nil })
	}
	k, s, i, err := run.keeper(ctx, all, p.Across, size, r3.Scale(0.5, r3.Add(p.GapMin, p.GapMax)), poles)
	if err != nil || k == nil {
		return err
	}
	k.B = math.Abs(*component(&s.f.Bodies()[i].MeanB, p.Across))
	k.finish(0)
	out.Keeper = &k.Keeper
	return nil
}

type keeperBar struct{ result.Keeper }

// finish gives the pole force, and the thickness that carries the flux of a pole so wide out to both sides.
func (k *keeperBar) finish(wide float64) {
	k.PoleN = safety.MagneticPressure(k.B) * k.AreaM2
	k.NeedM = k.B * wide / 2 / keeperB
}

// keeperSteel is that of a keeper.
const keeperSteel = "steel-1018"

// keeper solves a design with a bar of steel across an axis against its poles. i is the bar's number among the bodies.
func (run *assembling) keeper(ctx context.Context, d *design.Design, axis int, size, center r3.Vec, poles []string) (k *keeperBar, s *state, i int, err error) {
	steel, err := material.SteelNamed(keeperSteel)
	if err != nil {
		return nil, nil, 0, err
	}
	name := "keeper"
	for slices.ContainsFunc(d.Parts(), func(p design.Part) bool { return p.Name == name }) {
		name += " bar"
	}
	bar := design.Steel{Body: design.Body{Name: name, Solid: shape.Block{Size: size}, Place: shape.Placement{Center: center, Rot: shape.Identity()}}, Material: steel}
	if round(d, poles) { // it has the poles' shape
		bar.Solid = shape.Disc{Diameter: math.Min(*component(&size, (axis+1)%3), *component(&size, (axis+2)%3)), Thickness: *component(&size, axis)}
		bar.Place.Rot = shape.AxisTo(axis)
	}
	d.Steels = append(d.Steels, bar)
	for _, p := range poles {
		if q := magneticParts(d); q[p].Body != nil {
			if _, ok := contactOf(q[p], q[name]); ok {
				d.Joints = append(d.Joints, design.Joint{Between: [2]string{p, name}, ThicknessM: keeperFilmM})
			}
		}
	}
	if s, err = solveState(ctx, d, run.options(), nil); err != nil {
		return nil, nil, 0, err
	}
	k = &keeperBar{result.Keeper{SizeM: array(size), AreaM2: bar.Solid.Volume() / *component(&size, axis)}}
	if disc, ok := bar.Solid.(shape.Disc); ok {
		k.DiameterM, k.ThicknessM = disc.Diameter, disc.Thickness
	}
	return k, s, len(d.Magnets) + len(d.Steels) - 1, nil
}

// round tells whether all poles are round.
func round(d *design.Design, poles []string) bool {
	parts := magneticParts(d)
	for _, name := range poles {
		switch parts[name].Solid.(type) {
		case shape.Disc, shape.Frustum, shape.Ring:
		default:
			return false
		}
	}
	return len(poles) > 0
}

// axisOf is the world axis that a unit vector lies along, or -1.
func axisOf(v r3.Vec) int {
	for axis := range 3 {
		if math.Abs(*component(&v, axis)) > 1-aligned {
			return axis
		}
	}
	return -1
}

// conclude says which step is the dangerous one, what costs field, how it comes apart, and what to keep to.
func (run *assembling) conclude(out *result.Assembly) {
	var most, largest, heaviest float64
	facts := safety.Facts{MagnetFamilies: families(run.d), WoundYoke: len(run.d.Wounds) > 0}
	for i := range out.Steps {
		s := &out.Steps[i]
		if e := math.Max(s.EnergyJ, s.FlyingOffJ); e > most {
			most, out.Dangerous = e, s.Number
		}
		if s.PeakN > largest {
			largest = s.PeakN
			facts.LargestForcePart = s.Moves[0]
		}
		if s.MassKg > heaviest {
			heaviest, facts.HeaviestPart = s.MassKg, strings.Join(s.Moves, " with ")
		}
		costs(out, fmt.Sprintf("step %d, %s", s.Number, s.Title), s.Worst)
	}
	for _, o := range out.Orders {
		for i := range o.States {
			if s := &o.States[i]; o.Name == legsFirst && s.SameAs == 0 {
				costs(out, fmt.Sprintf("%s, step %s", o.Name, s.Step), &s.StateStrain)
			}
		}
	}
	for i := range out.Loose {
		costs(out, "alone in air, "+strings.Join(out.Loose[i].Magnets[:min(len(out.Loose[i].Magnets), mostNames)], ", "), &out.Loose[i].State)
	}
	if out.Dangerous > 0 {
		s := &out.Steps[out.Dangerous-1]
		if s.EnergyJ >= s.FlyingOffJ {
			out.WhyDangerous = fmt.Sprintf("let go, it is drawn in: %s J are set free and %s kg arrive at %s m/s; the pull grows to %s N on the way", figures(s.EnergyJ, 2), figures(s.MassKg, 2), figures(s.SpeedMPerS, 2), figures(s.PeakPullN, 3))
			if s.PeakSideN > s.PeakPullN {
				out.WhyDangerous += fmt.Sprintf(", and %s N press it onto its face", figures(s.PeakSideN, 3))
			}
		} else {
			out.WhyDangerous = fmt.Sprintf("let go in its place, it is thrown back: %s J are set free and %s kg fly off at %s m/s; the pusher needs up to %s N", figures(s.FlyingOffJ, 2), figures(s.MassKg, 2), figures(s.FlyMPerS, 2), figures(s.PeakPushN, 3))
		}
	}
	run.apart(out)
	out.Storage = storage(out)
	out.Notes = run.notes(out)
	facts.LargestForceN, facts.HeaviestKg, facts.PinchEnergyJ = largest, heaviest, most
	var moment r3.Vec
	for i := range run.d.Magnets {
		m := &run.d.Magnets[i]
		moment = r3.Add(moment, r3.Scale(m.Solid.Volume()*m.Material.RemanenceT/material.Mu0, m.Direction))
		// A loose magnet reaches as far as its own moment says, however the finished ring or pair cancels.
		facts.MomentAm2 = math.Max(facts.MomentAm2, m.Solid.Volume()*m.Material.RemanenceT/material.Mu0)
	}
	facts.MomentAm2 = math.Max(facts.MomentAm2, r3.Norm(moment))
	out.Cautions = cautionsFor(facts, "implants", "crushing", "shattering", "flying-tools", "two-people", "wire-end", "dust", "local-codes")
}

// figures prints v to so many significant digits without an exponent.
func figures(v float64, significant int) string {
	r, _ := strconv.ParseFloat(strconv.FormatFloat(v, 'e', significant-1, 64), 64)
	return strconv.FormatFloat(r, 'f', -1, 64)
}

// costs adds a state that weakens a magnet for good.
func costs(out *result.Assembly, where string, w *result.StateStrain) {
	if w == nil || w.PastKnee <= lostShare {
		return
	}
	text := fmt.Sprintf("%s: %.2g %% of %q pass the knee (down to %.0f kA/m, knee %.0f kA/m)", where, 100*w.PastKnee, w.Magnet, w.LowestH/1e3, w.KneeH/1e3)
	if w.Kept > 0 {
		text += fmt.Sprintf("; it keeps %.3g %% of its magnetization for good", 100*w.Kept)
	} else {
		text += "; what it loses is not computed"
	}
	out.CostsField = append(out.CostsField, text)
}

// apart undoes the steps, the last first.
func (run *assembling) apart(out *result.Assembly) {
	out.Apart = []result.Takeoff{}
	for i := len(out.Steps) - 1; i >= 0; i-- {
		s := &out.Steps[i]
		t := result.Takeoff{Step: s.Number, What: "Take off " + strings.Join(s.Moves[:min(len(s.Moves), mostNames)], ", ")}
		switch {
		case len(s.Turns) > 0:
			t.What = "Unwind " + s.Moves[0]
			t.How = "With the former clamped: as the yoke gets thinner the magnets' pull on each other turns round. Lock the wire's end at every pause."
		case len(s.Way) == 0:
			continue
		default:
			place := s.Way[len(s.Way)-1]
			pressed := math.Max(place.SideN, s.PressedN)
			friction := slideFriction * pressed
			t.BeginN = math.Max(0, place.PullN) + friction
			switch {
			case place.PullN < -contactNoise*norm(place.Force):
				t.How = fmt.Sprintf("Held off by %s N: it flies out when it is let go. Hold it with the pusher first, then back it out on the screw.", figures(-place.PullN, 3))
			case s.PressedN > 0:
				t.How = fmt.Sprintf("Draw it out the way it came with a screw puller; the start takes the pull and friction, %g of the %s N with which both plates hold it (B²A/2µ0 at each end).", slideFriction, figures(pressed, 3))
			case s.Slides:
				t.How = fmt.Sprintf("Draw it out the way it came with a screw puller; the start takes the pull and friction, %g of the %s N that press it onto its face.", slideFriction, figures(pressed, 3))
			case friction > math.Abs(place.PullN):
				t.How = fmt.Sprintf("Push it out the way it came, on a screw; the start takes friction, %g of the %s N that press it against its pocket.", slideFriction, figures(pressed, 3))
				if s.FlyingOffJ > s.EnergyJ {
					t.How += " Then it is thrown out: keep the pusher on it."
				}
			default:
				t.How = fmt.Sprintf("%d jack screws in tapped holes of the moving group, against the part that stands; in turn by half a turn, packing pushed into the opening as it grows.", s.Screws.Count)
			}
		}
		out.Apart = append(out.Apart, t)
	}
}

func storage(out *result.Assembly) (list []string) {
	list = append(list, "Dry, boxed in wood or plastic, 50 mm at least from steel shelves; ferrite and AlNiCo 50 mm at least away from NdFeB.",
		"Loose magnets in spacers of 30 mm at least, poles so that they do not slide together.")
	if out.Keeper != nil {
		list = append(list, "The gap is plugged with a non-magnetic block, so that no steel gets in, and covered.")
		if out.Keeper.B < 1e-3 {
			return list
		}
		what := "bar"
		if out.Keeper.DiameterM > 0 {
			what = "disc"
		}
		list = append(list, fmt.Sprintf("A steel %s that fills the gap is held by %s N at each pole (B = %s T): put it in and take it out from the side with a screw of its own, never let it snap on.", what, figures(out.Keeper.PoleN, 3), figures(out.Keeper.B, 2)))
	}
	return list
}

func (run *assembling) notes(out *result.Assembly) (list []string) {
	list = append(list, "Forces of attraction and repulsion differ, and magnets of a grade differ by some per cent: no jig without the factors.")
	if run.plan.General {
		list = append(list, "No layout was recognized: the order is the general rule, steel first, magnets one at a time from outside in, legs last. Think it through before you follow it.")
	}
	for i, s := range run.plan.Steps {
		if s.Toward == (r3.Vec{}) && len(s.Among) > 0 && !s.Grows {
			list = append(list, fmt.Sprintf("Step %d is not computed: by the boxes of the parts no straight way along x, y or z is free.", i+1))
		}
	}
	if run.alone() {
		list = append(list, "Without steel the forces are closed forms that take the magnets' recoil permeability as 1: for the usual 1.05 they are off by some per cent (up to 7 % was seen).")
	}
	if run.o.Accuracy.Name == Draft.Name && !run.alone() {
		list = append(list, "A draft knows pulls over a gap to 1 %, in contact to 2 %, and where edges of steel pass each other to 20 % of the largest of the step; margins to the knee may be 10 points smaller than it says. With --accuracy standard they are known better.")
	}
	if slices.ContainsFunc(out.Steps, func(s result.AssemblyStep) bool {
		return slices.ContainsFunc(s.Way, func(w result.WayPoint) bool { return w.PullBy == result.ByEnergy })
	}) {
		list = append(list, "Pulls marked \"energy\" are differences of the field's energy between neighbouring distances: there the stress on the part is known less well, as where edges pass one another. In the row where edges meet it is the mean between the rows beside it.")
	}
	if run.plain() && slices.ContainsFunc(run.d.Steels, func(s design.Steel) bool { _, tip := s.Solid.(shape.Frustum); return tip }) {
		list = append(list, "While a tip stands still the steps of a draft take it, with its rim, as a disc of its height and volume (the pull of the halves of a framed pair changes by 1 %); --accuracy standard follows its shape.")
	}
	if len(run.d.Coils) > 0 {
		list = append(list, "Coils carry no current while the magnet is put together; they are left out here.")
	}
	return list
}
