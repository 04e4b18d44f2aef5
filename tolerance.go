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
	"polewright/harmonic"
	"polewright/mistake"
	"polewright/result"
	"polewright/tolerance"
)

// This file says what builds of a design will be like: it solves the design with one thing after the other changed, takes the FIELD at the points
// that matter as a quadratic law of the changes, draws many builds from it, and takes each figure (such as the uniformity, which no quadratic
// follows) from the field of each build.

// Tolerances are the options of RunTolerance.
type Tolerances struct {
	Accuracy Accuracy // of each solve; the zero value is Draft
	Solves   int      // builds to solve one by one beside those drawn from the sensitivities
	Seed     uint64   // of the draw: the same seed draws the same builds
	Progress func(what string, done float64)
	// Solve solves builds, each as Builds.Solve does, and tells of each once, in any order; nil does so here, one after the other. It is called for
	// the design and its sensitivities first, and for builds with Thin and without Values where Solves asks for these.
	Solve func(ctx context.Context, list []Build, each func(build int, b Built, err error)) error
}

// Build is a build of a design that is to be solved.
type Build struct {
	Deviations []Deviation // none: the design itself
	Values     bool        // all values that sensitivities are made of are wanted, not the figures alone
	// Thin solves a draft on grids of a third of the unknowns: the pull and the shape of the field are off by some per cent there, but by as much in all
	// builds of a design, which RunTolerance takes off.
	Thin bool
}

// Built is what a solved build gives.
type Built struct {
	// Figures are those that RunTolerance looks at: "field_T", "uniformity_ppm", "pull_N", "stray_field_T", as far as the design has them.
	Figures        map[string]float64 `json:"figures"`
	Values         []float64          `json:"values,omitempty"`
	EstimatedError float64            `json:"estimated_error_percent,omitempty"` // of the gap field, where it is the design itself that was solved
}

// Builds drawn from the sensitivities, for distributions, for each share of a cause, and for shims.
const (
	drawnBuilds   = 8192
	indexBuilds   = 2048
	trimmedBuilds = 1000
)

// correlation says how the sources are drawn.
const correlation = "magnets of one grade share their batch's remanence; all else strays independently"

// enoughBuilds is the share of builds that shims are to bring into the target.
const enoughBuilds = 0.95

// Shares of the usual spread of remanence, spreadRemanence, that a batch has in common and that pieces of a batch differ by; squared they add up to
// 1. Common practice, no source: pieces of one pressing and sintering are more alike than batches.
const (
	batchShare = 0.8
	pieceShare = 0.6
)

// spreadSource is one independent way in which builds stray: a standard deviation, and what one unit of it changes.
type spreadSource struct {
	what   string
	spread float64
	given  bool
	step   float64
	list   []Deviation // each with the amount 1
}

// of are the deviations of a build in which the source has a size.
func (s *spreadSource) of(size float64) (list []Deviation) {
	for _, v := range s.list {
		list = append(list, v.Of(size*v.Amount))
	}
	return list
}

// spreadKeyOf is the key of a kind of deviation in the design file.
var spreadKeyOf = map[DeviationKind]string{
	DeviatesRemanence: "remanence_piece", DeviatesDirection: "direction", DeviatesGap: "gap", DeviatesTilt: "parallel", DeviatesPacking: "packing",
	DeviatesSize: "length", DeviatesOffset: "place", DeviatesTemperature: "temperature",
}

// spreadSources lists what makes builds of a design differ. The gap is among them even when it does not stray, for shims set it.
func spreadSources(d *design.Design) (list []spreadSource) {
	if len(d.Magnets) == 0 {
		return nil
	}
	spread := func(key string, usual float64) (float64, bool) {
		if d.Tolerance != nil {
			if s, ok := d.Tolerance.Spread[key]; ok {
				return s, true
			}
		}
		return usual, false
	}
	grade := map[string]string{} // of each magnet
	var grades []string
	batches := map[string][]Deviation{}
	for i := range d.Magnets {
		m := &d.Magnets[i]
		name := m.Material.Name
		grade[m.Name] = name
		if batches[name] == nil {
			grades = append(grades, name)
		}
		batches[name] = append(batches[name], Deviation{Kind: DeviatesRemanence, Part: m.Name, Amount: 1})
	}
	batch, batchGiven := spread("remanence_batch", batchShare*spreadRemanence)
	for _, name := range grades {
		if len(batches[name]) > 1 {
			list = append(list, spreadSource{"batch remanence, " + name, batch, batchGiven, 0.1, batches[name]})
		}
	}
	for _, v := range Deviations(d) {
		if v.Kind == DeviatesReversed || v.Kind == DeviatesRemanence && v.Part == "" {
			continue
		}
		s := spreadSource{what: v.String(), step: v.Step, list: []Deviation{v.Of(1)}}
		s.spread, s.given = spread(spreadKeyOf[v.Kind], v.Spread)
		if v.Kind == DeviatesRemanence {
			if !s.given {
				s.spread *= pieceShare
			}
			if len(batches[grade[v.Part]]) == 1 { // nothing tells the batch from the piece
				s.spread, s.given = math.Hypot(s.spread, batch), s.given || batchGiven
			}
		}
		list = append(list, s)
	}
	return slices.DeleteFunc(list, func(s spreadSource) bool { return s.spread == 0 && !s.isGap() })
}

func (s *spreadSource) isGap() bool { return s.list[0].Kind == DeviatesGap }

// viewPoints is where the field of each build is looked at. They are the same for all, so that its values follow a smooth law.
type viewPoints struct {
	center r3.Vec
	rule   []result.RulePoint // for the mean over the region; one point without a region
	rim    []r3.Vec           // on the surface of the region, where extremes of the field lie
	plane  *Plane             // at which the halves part
	stray  []r3.Vec           // at the distance of the target's stray limit
}

// Numbers of points on the surface of the region, as result.RegionOf takes before it polishes, and at the distance of the stray limit.
const (
	rimPoints   = 400
	strayPoints = 120
)

func pointsOf(a *assembly) (v viewPoints) {
	d := a.design
	v.center = a.center
	v.rule = []result.RulePoint{{Weight: 1}}
	if t := d.Target; t != nil && t.Region != nil {
		volume := volumeOf(t.Region)
		v.rule = volume.Rule(4)
		ways := append(volume.Corners(), r3.Vec{X: 1}, r3.Vec{X: -1}, r3.Vec{Y: 1}, r3.Vec{Y: -1}, r3.Vec{Z: 1}, r3.Vec{Z: -1})
		for i := range rimPoints {
			ways = append(ways, harmonic.Direction(i, rimPoints))
		}
		for _, w := range ways {
			v.rim = append(v.rim, r3.Add(v.center, r3.Scale(volume.Rim(w), w)))
		}
	}
	if p, ok := PartingPlane(d); ok {
		v.plane = &p
	}
	if t := d.Target; t != nil && t.StrayLimitT > 0 && t.StrayDistanceM > 0 {
		box := a.outer()
		middle := box.Center()
		if t.StrayDistanceM > r3.Norm(r3.Sub(box.Max, middle)) { // nearer it is a matter of the parts' surfaces
			for i := range strayPoints {
				v.stray = append(v.stray, r3.Add(middle, r3.Scale(t.StrayDistanceM, harmonic.Direction(i, strayPoints))))
			}
		}
	}
	return v
}

// of finds the values of a build in its field: the mean of B over the region, B on its rim, the pull between the halves, B at the stray distance.
func (v *viewPoints) of(a *assembly, f fieldOf) ([]float64, error) {
	var values []float64
	add := func(b r3.Vec) { values = append(values, b.X, b.Y, b.Z) }
	gap := a.gapField(f)
	var mean r3.Vec
	for _, q := range v.rule {
		mean = r3.Add(mean, r3.Scale(q.Weight, gap.Field(r3.Add(v.center, q.D))))
	}
	add(mean)
	for _, p := range v.rim {
		add(gap.Field(p))
	}
	if v.plane != nil {
		pull, err := pullOf(f, *v.plane)
		if err != nil {
			return nil, err
		}
		values = append(values, pull)
	}
	if len(v.stray) > 0 {
		s, _ := a.strayField(f, r3.Vec{})
		for _, p := range v.stray {
			add(s.quick(p))
		}
	}
	for _, x := range values {
		if math.IsNaN(x) || math.IsInf(x, 0) {
			return nil, errors.New("the field of a build is no number")
		}
	}
	return values, nil
}

// pullOf is the force that draws the sides of a plane together, N.
func pullOf(f fieldOf, p Plane) (float64, error) {
	if g, ok := f.(*gridField); ok {
		pull, err := g.pull(p)
		return -pull, err
	}
	force, err := f.Half(p)
	return -*component(&force, p.Axis), err
}

// Builds solves builds of one design. Each begins at a field of the design; what it gives does not depend on which were solved before. It may be used by
// many goroutines.
type Builds struct {
	d        *design.Design
	accuracy Accuracy
	view     viewPoints
	near     *near
}

// BuildsOf prepares for builds of a design. Errors are those of Run.
func BuildsOf(d *design.Design, accuracy Accuracy) (*Builds, error) {
	n, err := nearTo(d)
	if err != nil {
		return nil, err
	}
	return &Builds{d, accuracy, pointsOf(n.a), n}, nil
}

// Solve solves a build. Errors are those of Apply and Run.
func (s *Builds) Solve(ctx context.Context, b Build) (Built, error) {
	d, near := s.d, s.near
	if len(b.Deviations) == 0 {
		near = nil
	} else {
		var err error
		if d, err = Apply(d, b.Deviations); err != nil {
			return Built{}, err
		}
	}
	a, err := newAssembly(d)
	if err != nil {
		return Built{}, err
	}
	use := condition{temperatureC: workingTemperature(d), joints: true}
	o := Options{Accuracy: s.accuracy, FieldOnly: b.Thin, near: near}
	if !b.Values { // one of many
		o.build = b.Deviations
	}
	if s.view.plane != nil {
		o.Halves = []Plane{*s.view.plane}
	}
	var f fieldOf
	var effort result.Solver
	if isFreeField(d) {
		f = newClosedForm(a, use)
	} else if f, err = a.find(ctx, use, o, func(string, float64) {}, &effort); err != nil {
		return Built{}, err
	}
	values, err := s.view.of(a, f)
	if err == nil {
		err = ctx.Err()
	}
	if err != nil {
		return Built{}, err
	}
	out := Built{Figures: map[string]float64{}, EstimatedError: effort.EstimatedError}
	taken := s.view.take(values, nil)
	for i, f := range s.view.figures(s.d) {
		out.Figures[f.Key()] = taken[i]
	}
	if b.Values {
		out.Values = values
	}
	return out, nil
}

// The kinds of figures.
const (
	figureField      = "field"
	figureUniformity = "uniformity"
	figurePull       = "pull"
	figureStray      = "stray field"
)

// figures names the figures that a view gives, in the order of take.
func (v *viewPoints) figures(d *design.Design) (list []result.ToleranceFigure) {
	limit := func(x float64) *float64 { return &x }
	t := d.Target
	if t == nil {
		t = &design.Target{}
	}
	field := result.ToleranceFigure{What: figureField, Unit: "T"}
	if t.FieldT > 0 {
		field.Limits[0] = limit(t.FieldT)
	}
	list = append(list, field)
	if len(v.rim) > 0 {
		u := result.ToleranceFigure{What: figureUniformity, Unit: "ppm"}
		if t.UniformityFraction > 0 {
			u.Limits[1] = limit(1e6 * t.UniformityFraction)
		}
		list = append(list, u)
	}
	if v.plane != nil {
		list = append(list, result.ToleranceFigure{What: figurePull, Unit: "N"})
	}
	if len(v.stray) > 0 {
		list = append(list, result.ToleranceFigure{What: figureStray, Unit: "T", AtM: t.StrayDistanceM, Limits: [2]*float64{nil, limit(t.StrayLimitT)}})
	}
	return list
}

// take puts the figures of a build with these values into out.
func (v *viewPoints) take(values, out []float64) []float64 {
	out = out[:0]
	mean := r3.Vec{X: values[0], Y: values[1], Z: values[2]}
	size := r3.Norm(mean)
	out, values = append(out, size), values[3:]
	if len(v.rim) > 0 {
		u := r3.Scale(1/math.Max(size, math.SmallestNonzeroFloat64), mean)
		least, most := math.Inf(1), math.Inf(-1)
		for range v.rim {
			b := values[0]*u.X + values[1]*u.Y + values[2]*u.Z
			least, most = min(least, b), max(most, b)
			values = values[3:]
		}
		out = append(out, 1e6*(most-least)/math.Max(size, math.SmallestNonzeroFloat64))
	}
	if v.plane != nil {
		out, values = append(out, values[0]), values[1:]
	}
	if len(v.stray) > 0 {
		var most float64
		for range v.stray {
			most = max(most, values[0]*values[0]+values[1]*values[1]+values[2]*values[2])
			values = values[3:]
		}
		out = append(out, math.Sqrt(most))
	}
	return out
}

// RunTolerance says what builds of a design will be like when its parts stray as [tolerance] of the design file says or, where that is silent, as is
// usual. Each source needs two solves; sources that the solver cannot follow are left out, which a note says. Errors are those of Run.
func RunTolerance(ctx context.Context, d *design.Design, o Tolerances) (*result.Tolerance, error) {
	o.Accuracy = cmp.Or(o.Accuracy, Draft)
	report := heard(o.Progress)
	builds, err := BuildsOf(d, o.Accuracy)
	if err != nil {
		return nil, err
	}
	s := &spreadStudy{d: d, o: o, builds: builds, view: builds.view, report: report}
	if s.o.Solve == nil {
		s.o.Solve = s.here
	}
	r := &result.Tolerance{Format: 1, Title: d.Title, Accuracy: o.Accuracy.Name, Builds: drawnBuilds, Seed: o.Seed, Correlation: correlation, Notes: []string{}, Sources: []result.ToleranceSource{}}
	if err := s.sensitivities(ctx, r); err != nil {
		return nil, err
	}
	s.figures(r)
	s.draw(r)
	if err := s.causes(ctx, r); err != nil {
		return nil, err
	}
	s.trim(r)
	if err := s.solves(ctx, r); err != nil {
		return nil, err
	}
	report("done", 1)
	return r, nil
}

// spreadStudy is one run of RunTolerance.
type spreadStudy struct {
	d          *design.Design
	o          Tolerances
	builds     *Builds
	view       viewPoints
	report     func(string, float64)
	sources    []spreadSource
	law        tolerance.Quadratic
	work       []float64 // room for values
	done, todo int       // solves
}

func (s *spreadStudy) sensitivities(ctx context.Context, r *result.Tolerance) error {
	all := spreadSources(s.d)
	if len(all) == 0 {
		return mistake.Errors{{File: s.d.File, Key: "tolerance", What: "nothing of this design is known to stray",
			Hint: "a tolerance study is about magnets, a gap between two sides, a wound yoke; all spreads may be zero in [tolerance]"}}
	}
	if 2*len(all) > tolerance.MostDims {
		return mistake.Errors{{File: s.d.File, Key: "magnet", What: fmt.Sprintf("there are %d things that may stray", len(all)),
			Hint: fmt.Sprintf("up to %d are studied: give a spread of zero to kinds that matter little, such as [tolerance] place = \"0 mm\"", tolerance.MostDims/2)}}
	}
	list, ends := s.endBuilds(all)
	s.todo = len(list) + s.o.Solves
	got, errs := make([]Built, len(list)), make([]error, len(list))
	err := s.o.Solve(ctx, list, func(k int, b Built, err error) { got[k], errs[k] = b, err })
	if err == nil && errs[0] != nil { // an error that was told by others says less
		got[0], err = s.builds.Solve(ctx, list[0])
	}
	if err != nil {
		return err
	}
	at := got[0].Values
	s.law.At, r.EstimatedError = at, got[0].EstimatedError
	s.work = make([]float64, len(at))
	for i := range all {
		source, low, high := &all[i], ends[i][0], ends[i][1]
		if err := cmp.Or(errs[low], errs[high]); err != nil { // the others are worth having
			r.Notes = append(r.Notes, fmt.Sprintf("%s is left out, for it cannot be solved: %v", source.what, err))
			continue
		}
		below, above := got[low].Values, got[high].Values
		if low == 0 { // the law is taken as straight
			below = make([]float64, len(at))
			for k := range at {
				below[k] = 2*at[k] - above[k]
			}
		}
		s.law.Add(below, above, source.step)
		s.sources = append(s.sources, *source)
	}
	if len(s.sources) == 0 {
		return fmt.Errorf("nothing that strays could be solved: %s", r.Notes[0])
	}
	if t := s.d.Target; t != nil && t.StrayLimitT > 0 && len(s.view.stray) == 0 {
		r.Notes = append(r.Notes, "the target's stray limit is left out: its distance lies within the box of the parts")
	}
	s.listSources(r)
	return nil
}

// endBuilds are the design itself and the builds one step to either side of each source, and where those of a source stand: 0 for none.
func (s *spreadStudy) endBuilds(all []spreadSource) (list []Build, ends [][2]int) {
	// The dearest first, so that nobody waits for them alone at the end.
	var order, rest []int
	for i := range all {
		if s.strips(&all[i]) {
			order = append(order, i)
		} else {
			rest = append(rest, i)
		}
	}
	list, ends = []Build{{Values: true}}, make([][2]int, len(all))
	for _, i := range append(order, rest...) {
		source := &all[i]
		for k, sign := range []float64{-1, 1} {
			if k == 1 || !s.strips(source) {
				ends[i][k] = len(list)
				list = append(list, Build{Deviations: source.of(sign * source.step), Values: true, Thin: s.strips(source)})
			}
		}
	}
	return list, ends
}

// listSources puts the sources into the answer, with what each does to the field.
func (s *spreadStudy) listSources(r *result.Tolerance) {
	at := s.law.At
	mean := r3.Vec{X: at[0], Y: at[1], Z: at[2]}
	for j := range s.sources {
		q := &s.sources[j]
		out := result.ToleranceSource{What: q.what, Spread: q.spread, Unit: q.list[0].Unit(), Given: q.given, Parts: []string{}}
		for _, v := range q.list {
			if v.Part != "" {
				out.Parts = append(out.Parts, v.Part)
			}
		}
		if n := r3.Norm(mean); n > 0 {
			l := s.law.Linear[j]
			out.Field = q.spread * r3.Dot(r3.Vec{X: l[0], Y: l[1], Z: l[2]}, mean) / n
		}
		r.Sources = append(r.Sources, out)
	}
}

// strips tells whether a source is a tilt with steel, which Apply makes of strips: its solve is many times dearer than any other, and one is enough,
// for its step is some ten times what builds stray, so that neither the curvature nor the other grid shows. A thin grid serves: the strips themselves
// make it fine.
func (s *spreadStudy) strips(q *spreadSource) bool {
	return q.list[0].Kind == DeviatesTilt && len(s.d.Steels)+len(s.d.Wounds) > 0
}

// figures names the figures with the design's own values, and the limits.
func (s *spreadStudy) figures(r *result.Tolerance) {
	r.Figures = s.view.figures(s.d)
	own := s.view.take(s.law.At, nil)
	for i := range r.Figures {
		r.Figures[i].Design = own[i]
	}
	if t := s.d.Tolerance; t != nil && t.FieldFraction > 0 {
		field := &r.Figures[0]
		wanted := field.Design
		if field.Limits[0] != nil {
			wanted = *field.Limits[0]
		}
		low, high := wanted*(1-t.FieldFraction), wanted*(1+t.FieldFraction)
		field.Limits = [2]*float64{&low, &high}
	}
	var variance float64
	for _, q := range r.Sources {
		variance += q.Field * q.Field
	}
	linear := math.Sqrt(variance)
	r.Figures[0].Linear = &linear
}

// amounts turns a point of normal deviates, in place, into sizes of the sources.
func (s *spreadStudy) amounts(z []float64) []float64 {
	for j := range z {
		z[j] *= s.sources[j].spread
	}
	return z
}

// points are builds: the sizes of the sources in each.
func (s *spreadStudy) points(n int, seed uint64) [][]float64 {
	points := tolerance.Normal(tolerance.Points(n, len(s.sources), seed))
	for _, z := range points {
		s.amounts(z)
	}
	return points
}

// take gives the figures of a build by the law.
func (s *spreadStudy) take(x, out []float64) []float64 {
	return s.view.take(s.law.Eval(x, s.work), out)
}

func keeps(f *result.ToleranceFigure, v float64) bool {
	return (f.Limits[0] == nil || v >= *f.Limits[0]) && (f.Limits[1] == nil || v <= *f.Limits[1])
}

func limited(f *result.ToleranceFigure) bool { return f.Limits[0] != nil || f.Limits[1] != nil }

// draw takes the distributions of builds by the sensitivities, and the yield.
func (s *spreadStudy) draw(r *result.Tolerance) {
	var out []float64
	for _, x := range s.points(drawnBuilds, s.o.Seed) {
		out = s.take(x, out)
		for i := range r.Figures {
			r.Figures[i].Values = append(r.Figures[i].Values, out[i])
		}
	}
	for i := range r.Figures {
		r.Figures[i].Spread = result.Distribution(tolerance.DistributionOf(r.Figures[i].Values))
	}
	values := func(f *result.ToleranceFigure) []float64 { return f.Values }
	for i := range r.Figures {
		r.Figures[i].Within = yield(r.Figures[i:i+1], values)
	}
	r.Yield = yield(r.Figures, values)
}

// yield is the share of builds that keep all limits of figures; nil where there is none.
func yield(figures []result.ToleranceFigure, values func(*result.ToleranceFigure) []float64) *result.Share {
	if !slices.ContainsFunc(figures, func(f result.ToleranceFigure) bool { return limited(&f) }) {
		return nil
	}
	n, k := len(values(&figures[0])), 0
	for b := range n {
		good := true
		for i := range figures {
			good = good && keeps(&figures[i], values(&figures[i])[b])
		}
		if good {
			k++
		}
	}
	share := result.Share(tolerance.ShareOf(k, n))
	return &share
}

// causes ranks the sources by their shares of each figure's variance.
func (s *spreadStudy) causes(ctx context.Context, r *result.Tolerance) error {
	s.report("causes", s.share())
	dims := len(s.sources)
	var a, b [][]float64
	for _, z := range tolerance.Normal(tolerance.Points(indexBuilds, 2*dims, s.o.Seed+1)) {
		a, b = append(a, s.amounts(z[:dims])), append(b, s.amounts(z[dims:]))
	}
	var out []float64
	first, total := tolerance.Indices(func(x []float64) []float64 {
		if ctx.Err() == nil { // else the numbers are worthless
			out = s.take(x, out)
		}
		return out
	}, a, b)
	if ctx.Err() != nil {
		return ctx.Err()
	}
	for i := range r.Figures {
		f := &r.Figures[i]
		f.Causes = make([]result.Cause, dims)
		for j := range f.Causes {
			f.Causes[j] = result.Cause{Source: j, First: math.Max(0, first[i][j]), Total: total[i][j]}
		}
		slices.SortStableFunc(f.Causes, func(a, b result.Cause) int {
			switch {
			case a.Total > b.Total:
				return -1
			case a.Total < b.Total:
				return 1
			}
			return 0
		})
	}
	return nil
}

// trimReach is how far the gap is taken from the design for shims, in steps of the sensitivities: the law is a quadratic.
const trimReach = 3

// trim finds the shims in the gap that bring builds in.
func (s *spreadStudy) trim(r *result.Tolerance) {
	gap := slices.IndexFunc(s.sources, func(q spreadSource) bool { return q.isGap() })
	if gap < 0 || r.Yield == nil {
		return
	}
	points := s.points(trimmedBuilds, s.o.Seed)
	at := -1
	values, out := make([]float64, len(s.work)), []float64(nil)
	take := func(build int, longer float64) []float64 {
		if build != at {
			values, at = s.law.Eval(points[build], values), build
		}
		x := points[build][gap]
		copy(s.work, values)
		s.law.Shift(s.work, gap, x, x+longer)
		out = s.view.take(s.work, out)
		return out
	}
	passes := func(build int, longer float64) bool {
		for i, v := range take(build, longer) {
			if !keeps(&r.Figures[i], v) {
				return false
			}
		}
		return true
	}
	t := &result.Trim{ReachM: trimReach * s.sources[gap].step, ShimsM: []float64{}, Limits: []string{}}
	shims := tolerance.ShimsFor(len(points), t.ReachM, enoughBuilds, passes)
	t.CutM, t.StepM = shims.CutM, shims.StepM
	if shims.Set != nil {
		t.ShimsM = shims.Set
	}
	if n := r.Figures[0].Design; n > 0 {
		l := s.law.Linear[gap]
		t.FieldPerMM = 1e-3 * (l[0]*s.law.At[0] + l[1]*s.law.At[1] + l[2]*s.law.At[2]) / (n * n)
	}
	without := 0
	fails := make([]int, len(r.Figures)) // of builds that no stack brings in, with the gap that suits the field best
	for b := range points {
		if passes(b, 0) {
			without++
		}
		best, bad := -1, []bool(nil)
		for k := -20; k <= 20; k++ {
			var now []bool
			n := 0
			for i, v := range take(b, float64(k)/20*t.ReachM) {
				now = append(now, !keeps(&r.Figures[i], v))
				if now[i] {
					n++
				}
			}
			if best < 0 || n < best {
				best, bad = n, now
			}
		}
		for i := range bad {
			if bad[i] {
				fails[i]++
			}
		}
	}
	t.Without = result.Share(tolerance.ShareOf(without, len(points)))
	t.With = result.Share(tolerance.ShareOf(int(math.Round(shims.Share*float64(len(points)))), len(points)))
	order := make([]int, len(fails))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(a, b int) int { return fails[b] - fails[a] })
	for _, i := range order {
		if fails[i] > 0 {
			t.Limits = append(t.Limits, r.Figures[i].What)
		}
	}
	r.Trim = t
}

// solves solves builds one by one, and compares.
func (s *spreadStudy) solves(ctx context.Context, r *result.Tolerance) error {
	if s.o.Solves < 1 {
		return nil
	}
	points := s.points(s.o.Solves, s.o.Seed)
	s.straighten(points, r)
	few := s.lesser(r)
	builds := make([]Build, len(points))
	for k, x := range points {
		builds[k].Thin = true
		for j, v := range x {
			if v != 0 && !few[j] {
				builds[k].Deviations = append(builds[k].Deviations, s.sources[j].of(v)...)
			}
		}
	}
	got := make([]map[string]float64, len(builds))
	var wrong error // of the first build that failed
	first := len(builds)
	err := s.o.Solve(ctx, builds, func(k int, b Built, err error) {
		r.Solves++
		got[k] = b.Figures
		if err != nil {
			r.Failed++
			if k < first {
				first, wrong = k, err
			}
		}
	})
	switch {
	case err != nil:
		return err
	case r.Failed == r.Solves:
		return fmt.Errorf("none of %d builds could be solved: %w", r.Solves, wrong)
	case wrong != nil:
		r.Notes = append(r.Notes, fmt.Sprintf("build %d could not be solved: %v", first+1, wrong))
	}
	shift, err := s.shifts(ctx, builds, got, r)
	if err != nil {
		return err
	}
	misfit := make([]float64, len(r.Figures))
	there := make([][]float64, len(r.Figures)) // by the sensitivities, of the same builds
	var quick, most []float64
	for k, x := range points {
		if got[k] == nil {
			continue
		}
		quick = s.take(x, quick)
		most = s.take(without(x, few), most)
		for i := range r.Figures {
			v := got[k][r.Figures[i].Key()] + shift[i] + quick[i] - most[i]
			r.Figures[i].SolvedValues = append(r.Figures[i].SolvedValues, v)
			there[i] = append(there[i], quick[i])
			misfit[i] += (v - quick[i]) * (v - quick[i])
		}
	}
	values := func(f *result.ToleranceFigure) []float64 { return f.SolvedValues }
	for i := range r.Figures {
		f := &r.Figures[i]
		d, same := result.Distribution(tolerance.DistributionOf(f.SolvedValues)), result.Distribution(tolerance.DistributionOf(there[i]))
		m := math.Sqrt(misfit[i] / float64(len(there[i])))
		f.Solved, f.Same, f.Misfit = &d, &same, &m
		f.WithinBy = yield(r.Figures[i:i+1], values)
	}
	r.YieldBySolves = yield(r.Figures, values)
	return nil
}

// lesserShare is the share of every figure's variance below which a cause is not worth solving for: a magnet that stands a little farther along the
// plan's layers moves no figure that is seen, and doubles the unknowns.
const lesserShare = 1e-3

// lesser finds the sources whose part in the builds that are solved is taken from the sensitivities.
func (s *spreadStudy) lesser(r *result.Tolerance) []bool {
	few := make([]bool, len(s.sources))
	var names []string
	for j := range s.sources {
		few[j] = !slices.ContainsFunc(r.Figures, func(f result.ToleranceFigure) bool {
			return slices.ContainsFunc(f.Causes, func(c result.Cause) bool { return c.Source == j && !(c.Total < lesserShare) })
		})
		if few[j] && s.sources[j].spread > 0 && !s.strips(&s.sources[j]) {
			names = append(names, s.sources[j].what)
		}
	}
	if len(names) > 0 {
		r.Notes = append(r.Notes, fmt.Sprintf("in builds that are solved one by one these are taken from the sensitivities, for each has less than %g %% of every figure's variance: %s",
			100*lesserShare, strings.Join(names, ", ")))
	}
	return few
}

// without is a build in which some sources do not stray.
func without(x []float64, which []bool) []float64 {
	out := slices.Clone(x)
	for j := range out {
		if which[j] {
			out[j] = 0
		}
	}
	return out
}

// shiftBuilds is how many builds are solved on the draft's own grids too.
const shiftBuilds = 3

// shifts are what the figures of builds on thin grids lack of those on the grids of the accuracy: the mean of a few builds that are solved on both.
// By how much these differ among each other is told in a note.
func (s *spreadStudy) shifts(ctx context.Context, builds []Build, got []map[string]float64, r *result.Tolerance) ([]float64, error) {
	shift := make([]float64, len(r.Figures))
	if s.o.Accuracy != Draft || isFreeField(s.d) {
		return shift, nil
	}
	var list []Build
	var thin []map[string]float64
	for k := 0; k < len(builds) && len(list) < shiftBuilds; k++ {
		if got[k] != nil {
			b := builds[k]
			b.Thin = false
			list, thin = append(list, b), append(thin, got[k])
		}
	}
	lacks := make([][]float64, len(list))
	err := s.o.Solve(ctx, list, func(k int, b Built, err error) {
		if err != nil {
			return
		}
		for i := range r.Figures {
			key := r.Figures[i].Key()
			lacks[k] = append(lacks[k], b.Figures[key]-thin[k][key])
		}
	})
	if err != nil {
		return nil, err
	}
	lacks = slices.DeleteFunc(lacks, func(l []float64) bool { return l == nil })
	if len(lacks) == 0 {
		return nil, errors.New("no build could be solved on the grids of the draft itself")
	}
	var told []string
	for i := range shift {
		for _, lack := range lacks {
			shift[i] += lack[i] / float64(len(lacks))
		}
		var off float64
		for _, lack := range lacks {
			off = math.Max(off, math.Abs(lack[i]-shift[i]))
		}
		told = append(told, fmt.Sprintf("%s by %.2g %s, give or take %.1g", r.Figures[i].What, shift[i], r.Figures[i].Unit, off))
	}
	r.Notes = append(r.Notes, fmt.Sprintf("builds are solved on thin grids, and moved as far as %d that are solved on the draft's own grids too say: %s", len(lacks), strings.Join(told, "; ")))
	return shift, nil
}

// straighten takes the tilts that are made of strips out of builds that are solved: two of them would be strips of strips.
func (s *spreadStudy) straighten(points [][]float64, r *result.Tolerance) {
	tilts := false
	for j := range s.sources {
		if s.strips(&s.sources[j]) {
			tilts = true
			for _, x := range points {
				x[j] = 0
			}
		}
	}
	if tilts {
		r.Notes = append(r.Notes, "builds that are solved one by one have their sides parallel; the tilt of a side is in the sensitivities only")
	}
}

// here solves builds one after the other.
func (s *spreadStudy) here(ctx context.Context, list []Build, each func(int, Built, error)) error {
	for k, b := range list {
		what := fmt.Sprintf("build %d of %d", k+1, len(list))
		if b.Values {
			what = fmt.Sprintf("sensitivities, solve %d of %d", k+1, len(list))
		}
		s.report(what, s.share())
		built, err := s.builds.Solve(ctx, b)
		if ctx.Err() != nil {
			return ctx.Err()
		}
		s.done++
		each(k, built, err)
	}
	return nil
}

// share is how far the solves here have come.
func (s *spreadStudy) share() float64 { return 0.99 * min(1, float64(s.done)/float64(max(1, s.todo))) }
