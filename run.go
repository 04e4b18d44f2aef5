// Package polewright predicts what a permanent-magnet gap assembly will do: the one pipeline that the command line, the page, the studies
// and the tests call.
//
// A design (package design) becomes bodies and media (translate.go), a grid (package grid), a solved field (package magnetostatic) and a
// result (package result).
package polewright

import (
	"context"
	"fmt"
	"math"
	"time"

	"gonum.org/v1/gonum/spatial/r3"

	"polewright/design"
	"polewright/grid"
	"polewright/magnetostatic"
	"polewright/material"
	"polewright/mistake"
	"polewright/result"
	"polewright/safety"
	"polewright/shape"
	"polewright/stock"
)

// Accuracy is the effort of a solve.
type Accuracy struct {
	Name     string
	Percent  float64 // wanted error of the field in the gap
	levels   int
	density  float64
	unknowns int // no refinement beyond this many
}

// The accuracies of the command line.
var (
	Draft    = Accuracy{"draft", 0.5, 2, 0.6, 200_000}
	Standard = Accuracy{"standard", 0.1, 2, 1, 2_000_000}
	Fine     = Accuracy{"fine", 0.02, 3, 1, 12_000_000}
)

// AccuracyNamed finds an accuracy by its name.
func AccuracyNamed(name string) (Accuracy, error) {
	for _, a := range []Accuracy{Draft, Standard, Fine} {
		if a.Name == name {
			return a, nil
		}
	}
	return Accuracy{}, fmt.Errorf("there is no accuracy %q: draft (0.5 %%), standard (0.1 %%) or fine (0.02 %%)", name)
}

// Plane is a world plane across an axis (0, 1, 2 for x, y, z) at a coordinate in metres.
type Plane struct {
	Axis int
	AtM  float64
}

func (p Plane) String() string { return fmt.Sprintf("%s=%g", string("xyz"[p.Axis]), p.AtM) }

// Options says what Run computes.
type Options struct {
	Accuracy Accuracy // the zero value is Standard
	Halves   []Plane  // planes whose positive side's force is wanted
	Groups   []Group  // parts whose force is wanted together
	NoLedger bool     // leave the loss ledger out: it costs up to four draft solves
	// NoDemagnetization leaves out what the temperature range does to the magnets: a draft solve for each temperature, more where they lose
	NoDemagnetization bool
	// FieldOnly leaves out all but the field with its estimated error: gap, probes, region, sections. It is what dragging a slider needs.
	FieldOnly   bool
	From        *Solved     // begin at this field, of a design much like this one; it saves time and changes nothing else
	near        *near       // solve on grids as this design needs them, and begin at its fields
	build       []Deviation // by which the design differs from it
	MemoryBytes int64       // most that a solve may take; 0 is what the machine has free
	Stock       *stock.List // prices, for a target that names a cost; nil: not known
	Progress    func(what string, done float64)
}

// Solved is a design with its result and its field.
type Solved struct {
	Result *result.Result

	field func(r3.Vec) (b, h r3.Vec)
	a     *assembly
	f     fieldOf
	loss  *loss // what the magnets lose for good; nil where it was left out
}

// Kept maps the loss: it is the share of the magnetization left for good at a point after the temperatures that the design names, 1 outside
// the magnets and where nothing is lost, 0 and less where a magnet is turned over.
func (s *Solved) Kept(p r3.Vec) float64 { return s.loss.at(p) }

// Field is B (T) and H (A/m) at a point.
func (s *Solved) Field(p r3.Vec) (b, h r3.Vec) { return s.field(p) }

// errorShare is the estimated error of the gap field over the difference of the last two grids. The elements converge with an order between
// 1.7, where sharp rims of steel rule, and 4: the finer grid is then better by 3 to 16 times.
const errorShare = 0.3

// poleErrorShare stands in its place where steel stands next to the gap and its rims rule: the order was seen to be 1.3 to 2.
const poleErrorShare = 0.6

// energyShare is the estimated error of the gap field over the relative difference of the energies on the last two grids. Two grids can give
// the same gap field by chance; their energies cannot, for the finer one's is the lower. The energy speaks of fields of the size that the
// magnets have inside, typicalB of their remanence, so a weaker field in the gap is known less well by as much. Both shares are calibrated on
// the 30 designs of TestErrorEstimate.
const (
	energyShare = 0.048
	typicalB    = 0.7
	// tipFactor makes up for the rims of pole tips, whose share of the energy is small and which stand right at the gap.
	tipFactor = 3
)

// cutErrorShare stands in its place when there is steel that the grid does not follow: it is solved with about the first order of the cells' size, so the
// finer grid is off by as much as both differ, and more where the errors of both happen to agree.
const cutErrorShare = 2.5

// cutPercent is the estimated error that is good enough then: a smaller one would take minutes.
const cutPercent = 0.5

// Run solves a design.
func Run(ctx context.Context, d *design.Design, o Options) (*Solved, error) {
	start := time.Now()
	if o.Accuracy.Name == "" {
		o.Accuracy = Standard
	}
	report := o.Progress
	if report == nil {
		report = func(string, float64) {}
	}
	a, err := newAssembly(d)
	if err != nil {
		return nil, err
	}
	if o.Stock != nil {
		if err := o.Stock.CheckCurrency(d); err != nil {
			return nil, err
		}
	}
	for _, g := range o.Groups {
		if _, err := a.membersOf(g); err != nil {
			return nil, err
		}
	}
	use := condition{temperatureC: workingTemperature(d), joints: a.filmed()}
	r := &result.Result{Format: 1, Title: d.Title, Warnings: []string{}, Cautions: []string{}, Probes: []result.Probe{},
		Sections: []result.Section{}, TempC: use.temperatureC}
	f, err := a.fieldFor(ctx, use, o, report, &r.Solver)
	if err != nil {
		return nil, err
	}
	s := &Solved{Result: r, field: f.At, a: a, f: f}
	if o.FieldOnly {
		err = a.fill(ctx, r, f, use, o)
	} else {
		report("forces, stray field, demagnetization, losses", 0.8)
		err = s.answer(ctx, use, o)
	}
	if err != nil {
		return nil, err
	}
	r.Solver.Seconds = time.Since(start).Seconds()
	report("done", 1)
	return s, nil
}

// fieldFor finds the field in the way that serves the design.
func (a *assembly) fieldFor(ctx context.Context, use condition, o Options, report func(string, float64), effort *result.Solver) (fieldOf, error) {
	switch {
	case isFreeField(a.design):
		*effort = result.Solver{Method: "free-field", Symmetry: []string{}, Accuracy: o.Accuracy.Name}
		return newClosedForm(a, use), nil
	case a.relaxes():
		return a.relax(ctx, use, o, effort)
	}
	return a.find(ctx, use, o, report, effort)
}

// answer takes all that is asked from the field, and judges it.
func (s *Solved) answer(ctx context.Context, use condition, o Options) error {
	a, r := s.a, s.Result
	var tools []safety.ToolFact
	var hot *demagnetization
	var drops *levels
	err := sideBySide(ctx, func(ctx context.Context) error {
		return a.fill(ctx, r, s.f, use, o)
	}, func(ctx context.Context) error {
		tools = a.toolFacts(ctx, s.f)
		return nil
	}, func(ctx context.Context) (err error) {
		if !o.NoDemagnetization {
			hot, err = a.demagnetize(ctx, use)
		}
		return err
	}, func(ctx context.Context) (err error) {
		if !o.NoLedger {
			drops, err = a.levels(ctx, use)
		}
		return err
	})
	if err != nil {
		return err
	}
	if hot != nil {
		hot.fill(r)
		s.loss = hot.loss
	}
	if drops != nil {
		a.ledger(r, use, drops)
	}
	a.warn(r, o)
	a.judge(r)
	if err := judgeCost(r, a.design, o.Stock); err != nil {
		return err
	}
	a.caution(r, tools)
	return nil
}

// fieldOf is a field however it was found.
type fieldOf interface {
	At(p r3.Vec) (b, h r3.Vec)
	// Gap gives the field within a ball about the centre of the gap, free of the grid's noise.
	Gap(center r3.Vec, radius float64) func(r3.Vec) r3.Vec
	Bodies() []magnetostatic.BodyIntegral
	Forces() (force, torque []r3.Vec)
	Half(p Plane) (r3.Vec, error)
	Section(body, axis int, at float64) (mean, area, flux float64)
	// Mirrored tells whether |B| is the same on both sides of the assembly's centre along an axis.
	Mirrored(axis int) bool
}

// gridField is the field of a solve.
type gridField struct {
	*magnetostatic.Solution
	a       *assembly
	coarse  *magnetostatic.Solution // on the next coarser grid
	density float64                 // of cells
}

// solve finds the field on grids, refined until the estimated error meets the accuracy.
func (a *assembly) solve(ctx context.Context, use condition, o Options, report func(string, float64), effort *result.Solver) (*gridField, error) {
	planes := planesOf(o.Halves)
	if len(o.Halves) > 0 && len(a.films) > 0 && a.films[0].axes != shape.Identity() {
		return nil, mistake.Errors{{File: a.design.File, Line: a.films[0].line, Key: "joint", What: "steel with a joint leans against the plane between the halves",
			Hint: "leave out the half, or the joint, or turn the assembly so that its faces lie across x, y and z"}}
	}
	var f *gridField // on the grids before
	if o.From != nil {
		f, _ = o.From.f.(*gridField)
	}
	begun, done := f, 0.0
	first, enough := a.density(o), false
	if o.near != nil {
		first, enough = o.near.density(ctx, o, first)
	}
	// A design whose estimate misses the accuracy is solved again with 2.5 times the unknowns.
	for density := first; ; density = max(refinement*density, o.Accuracy.density) {
		if err := ctx.Err(); err != nil {
			return nil, err
		}
		spec := a.spec(o.Accuracy.levels, density, planes)
		var g *grid.Grids
		var start *magnetostatic.Start
		if o.near != nil {
			g, start = o.near.grids(ctx, spec, o.build)
		}
		if g == nil {
			var err error
			if g, err = grid.Build(spec); err != nil {
				return nil, a.unfit(err)
			}
		}
		if err := enoughMemory(g, o.Accuracy, density, o.MemoryBytes); err != nil {
			if f != begun { // what there is, with its estimated error
				return f, nil
			}
			return nil, err
		}
		p := a.problem(g, use)
		if p.Start = start; f != nil {
			p.Start = magnetostatic.StartFrom(f.coarse, f.Solution)
		}
		coarse, fine, err := magnetostatic.Solve(ctx, p, func(s magnetostatic.Stage) {
			done = max(done, 0.8*s.Done/s.Todo) // a finer solve begins where the one before had come to
			report(s.What, done)
		})
		if err != nil {
			return nil, err
		}
		f = &gridField{Solution: fine, a: a, coarse: coarse, density: density}
		*effort = result.Solver{Method: "3d", Unknowns: fine.Effort.Unknowns, NewtonSteps: fine.Effort.NewtonSteps, Cycles: fine.Effort.Cycles,
			Symmetry: symmetryNames(g), Accuracy: o.Accuracy.Name}
		if !g.Askew() {
			effort.Axis = string("xyz"[g.Axis])
		}
		if enough {
			o.near.keep(f, o.build)
			return f, nil
		}
		effort.EstimatedError = 100 * a.estimatedError(coarse, fine)
		if density == Draft.density && o.Accuracy.levels == Draft.levels && len(o.Halves) == 0 {
			a.draft.keep(f, use)
		}
		enough := o.Accuracy.Percent
		if len(p.Unfitted) > 0 {
			enough = max(enough, cutPercent)
		}
		if effort.EstimatedError <= enough || o.Accuracy.large(density, effort.Unknowns) {
			return f, nil
		}
	}
}

const refinement = 1.36

// large tells whether grids of a density, with so many unknowns, are not to be made finer.
func (a Accuracy) large(density float64, unknowns int) bool {
	return density >= a.density && math.Pow(refinement, 3)*float64(unknowns) > float64(a.unknowns)
}

// planesOf are the planes of halves as a grid takes them.
func planesOf(halves []Plane) (list [3][]float64) {
	for _, h := range halves {
		list[h.Axis] = append(list[h.Axis], h.AtM)
	}
	return list
}

// fieldDensity is that of a draft of which only the field is wanted: a third of the unknowns. Over the varied designs the gap field is then off
// by at most 0.16 %, below its estimate, but forces and the flux in steel by some per cent; with coils, whose designs have no estimate from the
// energy, the estimate of so few cells was seen to be too small.
const fieldDensity = 0.35

// density is that of the first grid.
func (a *assembly) density(o Options) float64 {
	if o.FieldOnly && o.Accuracy == Draft && len(a.design.Coils) == 0 {
		return fieldDensity
	}
	return o.Accuracy.density
}

// estimatedError is the relative error of the gap field of the finer of two solutions.
func (a *assembly) estimatedError(coarse, fine *magnetostatic.Solution) float64 {
	var b, c r3.Vec
	var before, after float64
	var known [2]bool
	onAllCores(4, func(i int) {
		switch i {
		case 0:
			b = fine.Gauge(a.center)
		case 1:
			c = coarse.Gauge(a.center)
		case 2:
			after, known[0] = fine.Coenergy()
		case 3:
			before, known[1] = coarse.Coenergy()
		}
	})
	size := r3.Norm(b)
	if size == 0 {
		return 0
	}
	difference := r3.Norm(r3.Sub(b, c)) / size
	if len(fine.Problem.Unfitted) > 0 {
		return cutErrorShare * difference
	}
	estimate := errorShare * difference
	if g := fine.Problem.Grids; g.Poles && len(g.Warps) == 0 {
		estimate = poleErrorShare * difference
	}
	if !known[0] || !known[1] || after == 0 || len(a.design.Magnets) == 0 {
		return estimate
	}
	var remanence, volume float64
	for i := range a.design.Magnets {
		m := &a.design.Magnets[i]
		v := m.Solid.Volume()
		remanence, volume = remanence+v*m.Material.RemanenceT, volume+v
	}
	typical := math.Max(1, typicalB*remanence/volume/size)
	estimate = math.Max(estimate, energyShare*typical*math.Abs((before-after)/after))
	if len(fine.Problem.Grids.Warps) > 0 {
		estimate *= tipFactor
	}
	return estimate
}

func symmetryNames(g *grid.Grids) []string {
	names := []string{}
	for axis := range 3 {
		if g.Mirrored(axis) {
			names = append(names, string("xyz"[axis]))
		}
	}
	return names
}

func (f *gridField) Gap(center r3.Vec, radius float64) func(r3.Vec) r3.Vec {
	if e, err := f.Inside(center, radius); err == nil {
		return e.Field
	}
	return func(p r3.Vec) r3.Vec { b, _ := f.At(p); return b }
}

// Bodies adds the exact sources to the bodies of the grid.
func (f *gridField) Bodies() []magnetostatic.BodyIntegral {
	out := f.Solution.Bodies()
	for i := range out {
		if !f.Problem.Grids.Fits[i] {
			points := shape.Lattice(f.a.parts[i].Solid, f.a.parts[i].Place, sampleSteps)
			b, h := make([]r3.Vec, len(points)), make([]r3.Vec, len(points))
			for k, p := range points {
				b[k], h[k] = f.At(p)
			}
			out[i] = integral(f.a.parts[i], b, h)
		}
	}
	f.a.addCoilMoments(out)
	return out
}

// sampleSteps is how many points cross a body that has no cells of its own.
const sampleSteps = 6

// integral is that over a body of which B and H are known at points that are spread evenly over it.
func integral(p design.Part, b, h []r3.Vec) (o magnetostatic.BodyIntegral) {
	for k := range b {
		o.MeanB, o.MeanH = r3.Add(o.MeanB, b[k]), r3.Add(o.MeanH, h[k])
		o.MeanB1 += r3.Norm(b[k])
		o.MaxB = math.Max(o.MaxB, r3.Norm(b[k]))
	}
	if count := float64(len(b)); count > 0 {
		o.MeanB, o.MeanH, o.MeanB1 = r3.Scale(1/count, o.MeanB), r3.Scale(1/count, o.MeanH), o.MeanB1/count
	}
	o.Volume = p.Solid.Volume()
	o.Moment = r3.Scale(o.Volume, r3.Sub(r3.Scale(1/material.Mu0, o.MeanB), o.MeanH))
	return o
}

func (f *gridField) Forces() (force, torque []r3.Vec) {
	centers := make([]r3.Vec, len(f.a.bodies))
	for i, b := range f.a.bodies {
		centers[i] = b.Place.Center
	}
	force, torque = f.Solution.Forces(centers)
	for i := range f.a.parts {
		if c := f.a.coil(i); c != nil && !f.Problem.Grids.Fits[i] {
			force[i], torque[i] = coilForce(c, f.At)
		}
	}
	return force, torque
}

func (f *gridField) Half(p Plane) (sum r3.Vec, err error) {
	if err := f.whole(p); err != nil {
		return sum, err
	}
	if !f.parts(p) {
		return f.HalfForce(p.Axis, p.AtM)
	}
	force, _ := f.Forces()
	for i, q := range f.a.parts {
		if side(q, p) > 0 {
			sum = r3.Add(sum, force[i])
		}
	}
	return sum, nil
}

// pull is the component of Half across the plane.
func (f *gridField) pull(p Plane) (float64, error) {
	if err := f.whole(p); err != nil {
		return 0, err
	}
	if !f.parts(p) {
		return f.HalfPull(p.Axis, p.AtM)
	}
	force, err := f.Half(p)
	return *component(&force, p.Axis), err
}

// whole is the error of a plane that cuts a magnet which is an exact source.
func (f *gridField) whole(p Plane) error {
	for _, i := range f.Problem.ExactBody {
		if side(f.a.parts[i], p) == 0 {
			return cuts(p, f.a.parts[i])
		}
	}
	return nil
}

// parts tells of a plane that cuts no part and on which parts touch: the forces on bodies in contact know more of its corners than a cut does.
func (f *gridField) parts(p Plane) bool {
	var touch [2]bool
	for _, q := range f.a.parts {
		b := shapeBounds(q)
		touch[0] = touch[0] || math.Abs(*component(&b.Min, p.Axis)-p.AtM) < design.TouchM
		touch[1] = touch[1] || math.Abs(*component(&b.Max, p.Axis)-p.AtM) < design.TouchM
		if side(q, p) == 0 {
			return false
		}
	}
	return touch[0] && touch[1]
}

// side tells on which side of a plane a part lies: 1, -1, or 0 for one that it cuts.
func side(q design.Part, p Plane) int {
	b := shapeBounds(q)
	switch {
	case *component(&b.Min, p.Axis) >= p.AtM-design.TouchM:
		return 1
	case *component(&b.Max, p.Axis) <= p.AtM+design.TouchM:
		return -1
	}
	return 0
}

// PlaneError is a plane on which no force can be given.
type PlaneError struct {
	Plane Plane
	Part  string // the magnet that it cuts
}

func (e *PlaneError) Error() string {
	return fmt.Sprintf("the plane %s cuts the magnet %q, which has no force on each half here: choose a plane beside it", e.Plane, e.Part)
}

func cuts(p Plane, q design.Part) error { return &PlaneError{p, q.Name} }

func (f *gridField) Mirrored(axis int) bool { return f.Problem.Grids.Mirrored(axis) }

func (f *gridField) Section(body, axis int, at float64) (mean, area, flux float64) {
	return sampleSection(f.a.parts[body], axis, at, f.Within)
}
