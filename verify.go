package polewright

import (
	"cmp"
	"context"
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"strings"

	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/spatial/r3"

	"polewright/asbuilt"
	"polewright/design"
	"polewright/measurement"
	"polewright/mistake"
	"polewright/result"
)

// This file compares what a builder measured with what the design predicts, and says what is off.

// VerifyOptions says how readings are judged.
type VerifyOptions struct {
	Accuracy   Accuracy          // of the prediction; what deviations change is solved at draft
	Probe      measurement.Probe // active area
	Confidence float64           // of intervals and named culprits; 0 is 0.95
	Noise      float64           // standard uncertainty of a reading, relative, where the log gives none; 0: told by the scatter
	PlaceM     float64           // standard uncertainty of each reading's place; 0 is 0.05 mm
	Progress   func(what string, done float64)
}

// Bounds of VerifyOptions, where they are not zero: a noise or a place beyond them says that a unit was mixed up.
const (
	MostNoise       = 0.5
	MostPlaceM      = 0.01
	LeastConfidence = 0.5
	MostConfidence  = 0.999
)

// Usual standard uncertainties of a bench instrument, as priors of what the fit may give it: calibration 0.5 % (0.5 to 1 % is usual), zero 0.1 mT, the
// frame of places 0.3 mm, the probe's angle 1 degree (common practice, no source). Solves add their own error.
const (
	usualCalibration = 0.005
	usualZeroT       = 1e-4
	usualFrameM      = 0.3e-3
	usualProbeAngle  = math.Pi / 180
	usualPlaceM      = 0.05e-3
	usualNoise       = 0.01
	// leastScatter is the number of readings from which their scatter tells their noise.
	leastScatter = 10
	// mostDirections is the most magnets whose directions are among the deviations: two solves each, and too many to tell apart.
	mostDirections = 4
	// mostSteels is the most pieces of steel of which each is looked at as left out: a solve each.
	mostSteels = 8
)

// Sensitivity is a solved design with what its deviations change, at any point of free space. It remembers the points that it was asked for, so it
// serves one goroutine at a time.
type Sensitivity struct {
	Base       *Solved
	Deviations []Deviation
	up, down   []func(r3.Vec) r3.Vec // the fields one step to either side
	Swaps      []Deviation           // without a step: a magnet the wrong way round, a part left out
	swapped    []func(r3.Vec) r3.Vec
	unsure     []func(r3.Vec) r3.Vec // of the fields of swaps, by two grids
	base       func(r3.Vec) r3.Vec
	between    func(r3.Vec) r3.Vec // the design's, solved as its neighbours are
}

// Field is the design's flux density, T.
func (s *Sensitivity) Field(p r3.Vec) r3.Vec { return s.base(p) }

// Slope is dB/d(amount) of deviation number i at a point, by central differences over its step.
func (s *Sensitivity) Slope(i int, p r3.Vec) r3.Vec {
	return r3.Scale(1/(2*s.Deviations[i].Step), r3.Sub(s.up[i](p), s.down[i](p)))
}

// SensitivityOf solves a design, and for each deviation the design one step to either side; one without a step, such as a reversed magnet, once. Differences are taken between
// solves at draft on grids that are alike, so that their errors cancel: a slope is good to some per cent of itself.
func SensitivityOf(ctx context.Context, d *design.Design, list []Deviation, a Accuracy, progress func(string, float64)) (*Sensitivity, error) {
	progress = heard(progress)
	s := &Sensitivity{}
	todo, done := 2.0, 0.0
	for _, v := range list {
		if v.Step > 0 {
			todo += 2
		} else {
			todo++
		}
	}
	near, err := nearTo(d)
	if err != nil {
		return nil, err
	}
	solve := func(c *design.Design, a Accuracy, what string, build ...Deviation) (*Solved, error) {
		o := Options{Accuracy: a, FieldOnly: true, build: build, Progress: func(_ string, part float64) { progress(what, (done+part)/todo) }}
		if len(build) > 0 {
			o.near = near
		}
		solved, err := Run(ctx, c, o)
		done++
		return solved, err
	}
	if s.Base, err = solve(d, a, "the design"); err != nil {
		return nil, err
	}
	done++ // it counts double
	s.base = s.Base.smooth()
	s.between = s.base
	near.took(s.Base, a)
	// A swap is compared as it is, not by differences, and what grids make of it tells twins apart that the readings do not.
	swaps := a
	if s.Base.Result.Solver.Unknowns > mostSwapUnknowns {
		swaps = Draft
	}
	if _, exact := s.Base.f.(closedForm); !exact && a != Draft {
		todo++
		draft, err := solve(d, Draft, "the design at draft")
		if err != nil {
			return nil, err
		}
		s.between = draft.smooth()
	}
	for _, v := range list {
		if v.Step == 0 {
			err = s.swap(ctx, d, v, func(c *design.Design, build Deviation) (*Solved, error) { return solve(c, swaps, v.String(), build) })
		} else {
			err = s.step(d, v, func(c *design.Design, build Deviation) (*Solved, error) { return solve(c, Draft, v.String(), build) })
		}
		if err != nil {
			return nil, err
		}
	}
	return s, nil
}

// swap adds a deviation that has no step, unless it leaves no magnet: nobody would take that for one.
func (s *Sensitivity) swap(ctx context.Context, d *design.Design, v Deviation, solve func(*design.Design, Deviation) (*Solved, error)) error {
	build := v.Of(1)
	c, err := Apply(d, []Deviation{build})
	if err != nil {
		return err
	}
	solved, err := solve(c, build)
	if v.Kind == DeviatesMissing && err != nil && ctx.Err() == nil {
		return nil
	}
	if err != nil {
		return err
	}
	s.Swaps, s.swapped, s.unsure = append(s.Swaps, build), append(s.swapped, solved.smooth()), append(s.unsure, solved.unsure())
	return nil
}

// step adds a deviation by the fields one step to either side.
func (s *Sensitivity) step(d *design.Design, v Deviation, solve func(*design.Design, Deviation) (*Solved, error)) error {
	var fields [2]func(r3.Vec) r3.Vec
	for i, way := range []float64{1, -1} {
		build := v.Of(way * v.Step)
		c, err := Apply(d, []Deviation{build})
		if err != nil {
			return err
		}
		solved, err := solve(c, build)
		if err != nil {
			return fmt.Errorf("%s: %w", v, err)
		}
		fields[i] = solved.smooth()
	}
	s.Deviations = append(s.Deviations, v)
	s.up, s.down = append(s.up, fields[0]), append(s.down, fields[1])
	return nil
}

// smooth is the solved field, free of the grid's noise within the gap. Each point is worked out once.
func (s *Solved) smooth() func(r3.Vec) r3.Vec {
	g := s.a.gapField(s.f)
	known := map[r3.Vec]r3.Vec{}
	at := func(p r3.Vec) r3.Vec {
		if _, exact := s.f.(closedForm); exact {
			return g.Field(p)
		}
		if g.near != nil && r3.Norm(r3.Sub(p, g.Center)) <= g.wide {
			return g.near.Field(p)
		}
		b, _ := s.f.At(p)
		return b
	}
	return func(p r3.Vec) r3.Vec {
		b, ok := known[p]
		if !ok {
			b = at(p)
			known[p] = b
		}
		return b
	}
}

// mostSwapUnknowns of the design is up to where swaps are solved as finely: they have less symmetry, and all of them are held in memory.
const mostSwapUnknowns = 200_000

// unsure is about the error of the solved field at a point: what it differs by from that on the next coarser grid, by the shares of estimatedError.
func (s *Solved) unsure() func(r3.Vec) r3.Vec {
	g, ok := s.f.(*gridField)
	if !ok { // far below any reading's
		return func(r3.Vec) r3.Vec { return r3.Vec{} }
	}
	return func(p r3.Vec) r3.Vec {
		fine, _ := g.At(p)
		coarse, _ := g.coarse.At(p)
		return r3.Scale(poleErrorShare, r3.Sub(fine, coarse))
	}
}

// VerifiedDeviations are those of Deviations that readings of the field are fitted with: thickness and place of a magnet act as the gap and the
// probe's frame do, and the temperature as the remanence of all magnets. Besides, a magnet or a piece of steel may have been left out.
func VerifiedDeviations(d *design.Design) []Deviation {
	list := slices.DeleteFunc(Deviations(d), func(v Deviation) bool {
		switch v.Kind {
		case DeviatesSize, DeviatesOffset, DeviatesTemperature:
			return true
		case DeviatesDirection, DeviatesReversed:
			return len(d.Magnets) > mostDirections
		}
		return false
	})
	if n := len(d.Magnets); n > 1 && n <= mostDirections {
		for i := range d.Magnets {
			list = append(list, Deviation{Kind: DeviatesMissing, Part: d.Magnets[i].Name})
		}
	}
	if len(d.Steels) <= mostSteels && len(d.Magnets) > 0 {
		for i := range d.Steels {
			list = append(list, Deviation{Kind: DeviatesMissing, Part: d.Steels[i].Name})
		}
	}
	return list
}

// Verify compares a log of readings with a design. Errors about the log are mistake.Errors.
func Verify(ctx context.Context, d *design.Design, log *measurement.Log, o VerifyOptions) (*result.Verification, error) {
	o.Accuracy = cmp.Or(o.Accuracy, Standard)
	if err := Readable(d, log); err != nil {
		return nil, err
	}
	s, err := SensitivityOf(ctx, d, VerifiedDeviations(d), o.Accuracy, o.Progress)
	if err != nil {
		return nil, err
	}
	return s.Judge(log, o)
}

// Readable refuses readings that lie within a part, where no probe goes. The error is mistake.Errors.
func Readable(d *design.Design, log *measurement.Log) error {
	var errs mistake.Errors
	for _, r := range log.Readings {
		for _, p := range d.Parts() {
			if p.Magnetic() && p.Solid.Contains(p.Place.ToLocal(r.At), -1e-5) && len(errs) < mistake.Most {
				errs = append(errs, &mistake.Error{File: log.File, Line: r.Line, What: fmt.Sprintf("the place lies within the part %q", p.Name),
					Hint: "places count from the origin of the design, which is the middle of the gap as a rule: check frame, unit and axes"})
				break
			}
		}
	}
	if len(errs) > 0 {
		return errs
	}
	return nil
}

// verifier turns places and fields into readings.
type verifier struct {
	s    *Sensitivity
	o    VerifyOptions
	d    *design.Design
	axis int
}

// mean is the field over the probe's area.
func (v *verifier) mean(field func(r3.Vec) r3.Vec, r measurement.Reading) (b r3.Vec) {
	across := int(r.Component)
	if r.Component == measurement.Magnitude {
		across = v.axis
	}
	for _, q := range v.o.Probe.Rule(across) {
		b = r3.Add(b, r3.Scale(q.Weight, field(r3.Add(r.At, q.Offset))))
	}
	return b
}

// value is what a probe reads of a field.
func value(b r3.Vec, c measurement.Component) float64 {
	if c == measurement.Magnitude {
		return r3.Norm(b)
	}
	return *component(&b, int(c))
}

// Judge compares readings with the prediction. Errors about the log are mistake.Errors.
func (s *Sensitivity) Judge(log *measurement.Log, o VerifyOptions) (*result.Verification, error) {
	d := s.Base.a.design
	if err := Readable(d, log); err != nil {
		return nil, err
	}
	o.Confidence = cmp.Or(o.Confidence, 0.95)
	o.PlaceM = cmp.Or(o.PlaceM, usualPlaceM)
	v := &verifier{s: s, o: o, d: d, axis: GapAxis(d)}
	out := &result.Verification{Format: 1, Title: d.Title, Confidence: o.Confidence, Findings: []result.Finding{}, Suspects: []result.Finding{}, Checks: []result.VerifiedCheck{},
		Alike: [][2]string{}, Unseen: []string{}, Wrong: []int{}, Warnings: []string{}, Probe: o.Probe.String(), ReferenceC: workingTemperature(d), Notes: map[string]string{},
		Log: log.File, Accuracy: s.Base.Result.Solver.Accuracy, Error: s.Base.Result.Solver.EstimatedError}
	for _, n := range log.Notes {
		if n.Key != "" {
			out.Notes[n.Key] = n.Text
		}
	}
	m, readings, names := v.model(log, out)
	diagnosis, err := asbuilt.Diagnose(m, readings, asbuilt.Options{Confidence: o.Confidence})
	if err != nil {
		return nil, err
	}
	v.tell(out, log, m, readings, diagnosis, names)
	return out, nil
}

// model is what the deviations and the instrument do to the readings. names are those of the instrument's share.
func (v *verifier) model(log *measurement.Log, out *result.Verification) (m asbuilt.Model, r asbuilt.Readings, names []string) {
	s, n := v.s, len(log.Readings)
	noise := v.o.Noise
	given := 0
	for _, q := range log.Readings {
		if q.UncertaintyT > 0 {
			given++
		}
	}
	switch {
	case given == n:
		out.Noise = "as the log gives it"
	case noise > 0:
		out.Noise = fmt.Sprintf("%.3g %% of each reading, as asked for", 100*noise)
	case given == 0 && n >= leastScatter:
		r.Relative, noise = true, usualNoise
	default:
		noise = usualNoise
		out.Noise = fmt.Sprintf("%.3g %% of each reading where the log gives none (common practice, no source)", 100*noise)
	}
	of := func(field func(r3.Vec) r3.Vec) (a asbuilt.Swap) {
		a.Base, a.Nuisance, names = v.instrument(field, log)
		a.Uncertainty = v.uncertainty(log, noise, a)
		return a
	}
	design := of(s.base)
	m.Base, m.Nuisance, r.Uncertainty = design.Base, design.Nuisance, design.Uncertainty
	for k, dev := range s.Deviations {
		m.Parameters = append(m.Parameters, asbuilt.Parameter{Name: dev.String(), Spread: dev.Spread})
		row, bend := make([]float64, n), make([]float64, n)
		for i, q := range log.Readings {
			up, down := value(v.mean(s.up[k], q), q.Component), value(v.mean(s.down[k], q), q.Component)
			row[i] = (up - down) / (2 * dev.Step)
			bend[i] = (up + down - 2*value(v.mean(s.between, q), q.Component)) / (2 * dev.Step * dev.Step)
		}
		m.Slope, m.Bend = append(m.Slope, row), append(m.Bend, bend)
	}
	for k, dev := range s.Swaps {
		swap := of(s.swapped[k])
		swap.Name = dev.String()
		for i, q := range log.Readings {
			off := s.unsure[k](q.At)
			e := r3.Norm(off)
			if q.Component != measurement.Magnitude {
				e = *component(&off, int(q.Component))
			}
			swap.Uncertainty[i] = math.Hypot(swap.Uncertainty[i], e)
		}
		m.Swaps = append(m.Swaps, swap)
	}
	if slices.ContainsFunc(log.Readings, func(q measurement.Reading) bool { return q.Component != measurement.Magnitude }) {
		turned := of(func(p r3.Vec) r3.Vec { return r3.Scale(-1, s.base(p)) })
		turned.Name = turnedProbe
		m.Swaps = append(m.Swaps, turned)
	}
	for i, q := range log.Readings {
		corrected := q.FieldT
		if !math.IsNaN(q.TemperatureC) {
			corrected -= v.warmth(m, i) * (q.TemperatureC - out.ReferenceC)
		}
		r.Value = append(r.Value, corrected)
	}
	return m, r, names
}

// instrument is what the probe reads of a field, and what its calibration, zero, place and angle may add, each for one usual standard deviation.
func (v *verifier) instrument(field func(r3.Vec) r3.Vec, log *measurement.Log) (read []float64, rows [][]float64, names []string) {
	mean := make([]r3.Vec, len(log.Readings))
	for i, q := range log.Readings {
		mean[i] = v.mean(field, q)
		read = append(read, value(mean[i], q.Component))
	}
	add := func(name string, f func(i int, q measurement.Reading) float64) {
		row := make([]float64, len(read))
		for i, q := range log.Readings {
			row[i] = f(i, q)
		}
		rows, names = append(rows, row), append(names, name)
	}
	add("calibration", func(i int, _ measurement.Reading) float64 { return usualCalibration * read[i] })
	add("zero", func(int, measurement.Reading) float64 { return usualZeroT })
	for axis := range 3 {
		add("place along "+string("xyz"[axis]), func(_ int, q measurement.Reading) float64 { return usualFrameM * slopeOf(field, q, axis) })
	}
	for c := range measurement.Magnitude {
		if !slices.ContainsFunc(log.Readings, func(q measurement.Reading) bool { return q.Component == c }) {
			continue
		}
		for k := 1; k <= 2; k++ {
			other := (int(c) + k) % 3
			add(fmt.Sprintf("angle of the %v probe towards %c", c, "xyz"[other]), func(i int, q measurement.Reading) float64 {
				if q.Component != c {
					return 0
				}
				return usualProbeAngle * *component(&mean[i], other)
			})
		}
	}
	return read, rows, names
}

// slopeOf is how what a probe reads changes along an axis, T/m.
func slopeOf(field func(r3.Vec) r3.Vec, q measurement.Reading, axis int) float64 {
	const h = 0.2e-3 // m: far below the size of any pole, far above the rounding of a recovered field
	var step r3.Vec
	*component(&step, axis) = h
	return (value(field(r3.Add(q.At, step)), q.Component) - value(field(r3.Sub(q.At, step)), q.Component)) / (2 * h)
}

// uncertainty is the standard uncertainty of each reading: the log's or a share of it, the place's and the solver's.
func (v *verifier) uncertainty(log *measurement.Log, noise float64, a asbuilt.Swap) (list []float64) {
	gap, solver := r3.Norm(vector(v.s.Base.Result.GapB)), v.s.Base.Result.Solver.EstimatedError/100
	for i, q := range log.Readings {
		u := q.UncertaintyT
		if u == 0 {
			u = noise * math.Max(math.Abs(a.Base[i]), leastShare*gap)
		}
		var place float64 // the rows of the frame's place hold the gradient
		for axis := range 3 {
			place = math.Hypot(place, a.Nuisance[2+axis][i]/usualFrameM*v.o.PlaceM)
		}
		list = append(list, math.Sqrt(u*u+place*place+math.Pow(solver*a.Base[i], 2)))
	}
	return list
}

// leastShare of the gap's field is the least that the noise of a reading is a share of: a probe's range is set for the gap.
const leastShare = 0.02

// straight is up to how many of its steps the effect of a deviation is taken to follow the parabola through the design and both its neighbours.
const straight = 5

const turnedProbe = "the probe was turned round, or all is the other way up"

// warmth is how reading i changes with the temperature of all magnets, T/K: by the coefficient of each magnet's grade.
func (v *verifier) warmth(m asbuilt.Model, i int) (slope float64) {
	for k, dev := range v.s.Deviations {
		if dev.Kind != DeviatesRemanence || dev.Part == "" {
			continue
		}
		for j := range v.d.Magnets {
			if q := &v.d.Magnets[j]; q.Name == dev.Part {
				slope += m.Slope[k][i] * q.Material.At(workingTemperature(v.d)).RemanencePerK
			}
		}
	}
	return slope
}

// tell fills in what the diagnosis means.
func (v *verifier) tell(out *result.Verification, log *measurement.Log, m asbuilt.Model, r asbuilt.Readings, d asbuilt.Diagnosis, names []string) {
	out.Sound = d.Sound
	find := func(list []asbuilt.Finding) []result.Finding {
		o := []result.Finding{}
		for _, f := range list {
			o = append(o, v.finding(m, f))
		}
		return o
	}
	out.Findings, out.Suspects = find(d.Findings), find(d.Suspects)
	for i, e := range d.Fit {
		dev := v.s.Deviations[i]
		out.Fit = append(out.Fit, result.FittedValue{Part: dev.Part, What: dev.What(), Value: e.Value, Sigma: e.Sigma, Usual: dev.Spread, Unit: dev.Unit()})
	}
	out.Instrument = instrumentOf(d, names)
	noise := verifiedReadings(out, log, m, r, d)
	if r.Relative {
		out.Noise = fmt.Sprintf("by the scatter of the readings, %.2g %% of each", 100*noise)
	}
	if pairs, err := asbuilt.Alike(m, r, d.Factor); err == nil {
		for _, p := range pairs {
			out.Alike = append(out.Alike, [2]string{m.Parameters[p[0]].Name, m.Parameters[p[1]].Name})
		}
	}
	if list, err := asbuilt.Unseen(m, r, d.Factor); err == nil {
		for _, i := range list {
			out.Unseen = append(out.Unseen, m.Parameters[i].Name)
		}
	}
	if len(d.Suspects) > 0 {
		out.Next = v.next(m, d, noise)
	}
	v.check(out, d)
	out.Verdict, out.Reason = verdict(out)
	v.warn(out, log, d)
}

// instrumentOf are the values that the instrument's unknowns took, by their names.
func instrumentOf(d asbuilt.Diagnosis, names []string) (list []result.FittedValue) {
	usual := map[string]float64{"calibration": usualCalibration, "zero": usualZeroT}
	units := map[string]string{"calibration": "1", "zero": "T"}
	for i, x := range d.Instrument {
		f := result.FittedValue{What: names[i], Value: x, Unit: "rad", Usual: usualProbeAngle}
		if strings.HasPrefix(names[i], "place") {
			f.Usual, f.Unit = usualFrameM, "m"
		} else if usual[names[i]] > 0 {
			f.Usual, f.Unit = usual[names[i]], units[names[i]]
		}
		f.Value *= f.Usual
		list = append(list, f)
	}
	return list
}

// verifiedReadings puts what was read beside the design and the fit. noise is the usual uncertainty of a reading, a share of it.
func verifiedReadings(out *result.Verification, log *measurement.Log, m asbuilt.Model, r asbuilt.Readings, d asbuilt.Diagnosis) (noise float64) {
	var left, before, count float64
	relative := make([]float64, 0, len(log.Readings))
	for i, q := range log.Readings {
		wrong := slices.Contains(d.Wrong, i)
		u := r.Uncertainty[i] * d.Factor
		out.Readings = append(out.Readings, result.VerifiedReading{Line: q.Line, At: array(q.At), Component: q.Component.String(), Read: q.FieldT, Corrected: r.Value[i],
			Predicted: m.Base[i], Fitted: r.Value[i] - d.Residual[i], Uncertainty: u, Wrong: wrong})
		if wrong {
			out.Wrong = append(out.Wrong, q.Line)
			continue
		}
		left, before, count = left+d.Residual[i]*d.Residual[i], before+d.Unexplained[i]*d.Unexplained[i], count+1
		if m.Base[i] != 0 {
			relative = append(relative, u/math.Abs(m.Base[i]))
		}
	}
	out.ResidualRMS, out.DesignRMS = math.Sqrt(left/count), math.Sqrt(before/count)
	if slices.Sort(relative); len(relative) > 0 {
		return relative[len(relative)/2]
	}
	return usualNoise
}

// warn says what makes the diagnosis less sure than its figures.
func (v *verifier) warn(out *result.Verification, log *measurement.Log, d asbuilt.Diagnosis) {
	for _, f := range d.Findings {
		if f.Parameter >= 0 && math.Abs(f.Value) > straight*v.s.Deviations[f.Parameter].Step {
			out.Warnings = append(out.Warnings, fmt.Sprintf("%s: so large that its value, found by the law of small ones, may be off by some per cent of itself; put it into the design and verify again", v.s.Deviations[f.Parameter]))
		}
	}
	warm := 0
	for _, q := range log.Readings {
		if !math.IsNaN(q.TemperatureC) {
			warm++
		}
	}
	var coefficient float64 // the largest of the magnets
	for i := range v.d.Magnets {
		coefficient = math.Max(coefficient, math.Abs(v.d.Magnets[i].Material.RemanencePerK))
	}
	if warm < len(log.Readings) && coefficient > 0 {
		out.Warnings = append(out.Warnings, fmt.Sprintf("%d of %d readings have no temperature of the magnets (column T_degC): they are taken as read at %.3g degC, and each kelvin warmer looks like magnets %.2g %% weaker",
			len(log.Readings)-warm, len(log.Readings), out.ReferenceC, 100*coefficient))
	}
}

// finding is a deviation in words.
func (v *verifier) finding(m asbuilt.Model, f asbuilt.Finding) result.Finding {
	if f.Parameter < 0 {
		o := result.Finding{Value: 1, Unit: "1", Confidence: f.Confidence}
		if f.Swap < len(v.s.Swaps) {
			dev := v.s.Swaps[f.Swap]
			o.Part, o.What, o.Kind, o.Text = dev.Part, dev.What(), string(dev.Kind), InWords(dev, 0)
			return o
		}
		o.What, o.Kind, o.Text = "sign of the readings", "sign", m.Swaps[f.Swap].Name
		return o
	}
	dev := v.s.Deviations[f.Parameter]
	o := result.Finding{Part: dev.Part, What: dev.What(), Kind: string(dev.Kind), Value: f.Value, Uncertainty: f.Uncertainty, WithOthers: f.WithOthers, Unit: dev.Unit(), Confidence: f.Confidence}
	switch dev.Kind {
	case DeviatesDirection, DeviatesTilt:
		o.Axis = string("xyz"[dev.Axis])
	case DeviatesGap:
		o.Axis = string("xyz"[dev.Axis])
	}
	o.Text = InWords(dev.Of(f.Value), f.Uncertainty)
	return o
}

// InWords says what a deviation is, with half its interval: "upper is 4.1 ± 0.6 % weak".
func InWords(v Deviation, half float64) string {
	size := func(scale float64, unit string) string {
		return fmt.Sprintf("%s %s", plusMinus(math.Abs(v.Amount)*scale, half*scale), unit)
	}
	way := func(above, below string) string {
		if v.Amount < 0 {
			return below
		}
		return above
	}
	const degree = 180 / math.Pi
	switch v.Kind {
	case DeviatesRemanence:
		if v.Part == "" {
			return "all magnets are " + size(100, "%") + way(" strong", " weak")
		}
		return v.Part + " is " + size(100, "%") + way(" strong", " weak")
	case DeviatesDirection:
		return fmt.Sprintf("the magnetization of %s is turned by %s%s about %c", v.Part, way("", "-"), size(degree, "deg"), "xyz"[v.Axis])
	case DeviatesGap:
		return "the gap is " + size(1e3, "mm") + way(" too long", " too short")
	case DeviatesTilt:
		return fmt.Sprintf("the positive side is tilted by %s%s about %c", way("", "-"), size(degree, "deg"), "xyz"[v.Axis])
	case DeviatesPacking:
		return "the packing of " + v.Part + " is " + size(100, "%") + way(" above", " below") + " the design's"
	case DeviatesReversed:
		return v.Part + " is in the wrong way round"
	case DeviatesMissing:
		return v.Part + " is missing"
	case DeviatesTemperature:
		return "the magnets are " + size(1, "K") + way(" warmer", " cooler")
	}
	return fmt.Sprintf("%s is off by %s%s", v, way("", "-"), size(1e3, "mm"))
}

// plusMinus is a value with its half interval, to two figures of the latter.
func plusMinus(value, half float64) string {
	decimals := 2
	if half > 0 {
		decimals = min(max(int(math.Ceil(-math.Log10(half)))+1, 0), 6)
	}
	return fmt.Sprintf("%.*f ± %.*f", decimals, value, decimals, half)
}

// next proposes the reading that settles what is open: in the gap, over the region, beside the magnets and outside.
func (v *verifier) next(m asbuilt.Model, d asbuilt.Diagnosis, noise float64) *result.NextReading {
	type place struct {
		at r3.Vec
		c  measurement.Component
	}
	var places []place
	var list []asbuilt.Candidate
	gap := r3.Norm(vector(v.s.Base.Result.GapB))
	for _, p := range v.places() {
		for c := range measurement.Magnitude {
			q := measurement.Reading{At: p, Component: c}
			k := asbuilt.Candidate{Base: value(v.mean(v.s.base, q), c)}
			for i, dev := range v.s.Deviations {
				k.Slope = append(k.Slope, (value(v.mean(v.s.up[i], q), c)-value(v.mean(v.s.down[i], q), c))/(2*dev.Step))
			}
			for i := range v.s.Swaps {
				k.Swap = append(k.Swap, value(v.mean(v.s.swapped[i], q), c))
			}
			k.Swap = append(k.Swap, -k.Base)
			var slope float64
			for axis := range 3 {
				slope = math.Hypot(slope, slopeOf(v.s.base, q, axis))
			}
			frame := slope * usualFrameM // the place counts in full: the frame moves with it
			angle := usualProbeAngle * r3.Norm(v.s.base(p))
			if c == measurement.Component(v.axis) {
				angle = 0
			}
			k.Uncertainty = math.Sqrt(math.Pow(noise*math.Max(math.Abs(k.Base), leastShare*gap), 2) + frame*frame + angle*angle)
			places, list = append(places, place{p, c}), append(list, k)
		}
	}
	n, ok := asbuilt.NextReading(d, list)
	if !ok {
		return nil
	}
	name := func(which int) string {
		switch {
		case which == -1:
			return "as designed"
		case which < -1:
			return m.Swaps[-2-which].Name
		}
		return m.Parameters[which].Name
	}
	return &result.NextReading{At: array(places[n.Candidate].at), Component: places[n.Candidate].c.String(),
		Between: [2]string{name(n.Between[0]), name(n.Between[1])}, Expected: n.Expected, Readings: n.Readings}
}

// places are where a probe could go: on a lattice through the gap's clearance, beside each magnet, and outside the assembly.
func (v *verifier) places() (list []r3.Vec) {
	a := v.s.Base.a
	const probe = 2e-3 // room that a probe needs
	add := func(p r3.Vec) {
		for k := range 3 { // tenths of a millimetre, as they are printed
			x := component(&p, k)
			*x = math.Round(*x*1e4) / 1e4
		}
		if a.clearance(p) >= probe && !slices.Contains(list, p) {
			list = append(list, p)
		}
	}
	add(a.center)
	clear := a.clearance(a.center)
	for axis := range 3 {
		for _, t := range []float64{-0.7, -0.35, 0.35, 0.7} {
			p := a.center
			*component(&p, axis) += t * clear
			add(p)
		}
	}
	for i := range v.d.Magnets {
		b := shapeBounds(a.parts[i])
		middle := b.Center()
		for axis := range 3 {
			for _, way := range []float64{-1, 1} {
				p := middle
				*component(&p, axis) += way * ((*component(&b.Max, axis)-*component(&b.Min, axis))/2 + 3e-3)
				add(p)
			}
		}
	}
	outer := a.outer()
	size := r3.Norm(outer.Size())
	for axis := range 3 {
		for _, way := range []float64{-1, 1} {
			p := a.center
			half := (*component(&outer.Max, axis) - *component(&outer.Min, axis)) / 2
			*component(&p, axis) += way * (half + 0.1*size)
			add(p)
		}
	}
	return list
}

// check puts the target beside what the fit of all deviations says of the region, with its uncertainty: by draws from the fit's distribution.
func (v *verifier) check(out *result.Verification, d asbuilt.Diagnosis) {
	t := v.d.Target
	swapped := slices.ContainsFunc(d.Findings, func(f asbuilt.Finding) bool { return f.Parameter < 0 })
	if t == nil || t.FieldT == 0 && t.UniformityFraction == 0 || swapped {
		return
	}
	figures := v.regionFigures(t)
	value := make([]float64, len(v.s.Deviations))
	for i, e := range d.Fit {
		value[i] = e.Value
	}
	gotMean, gotSpread := figures(value)
	drawnMean, drawnSpread := figures(make([]float64, len(value)))
	means, spreads := draws(value, d.Covariance, out.Error/100, figures)
	if t.FieldT > 0 {
		out.Checks = append(out.Checks, checked(result.VerifiedCheck{What: "field", Unit: "T", Wanted: t.FieldT, Designed: drawnMean, Got: gotMean}, out.Confidence, means))
	}
	if t.UniformityFraction > 0 && t.Region != nil {
		out.Checks = append(out.Checks, checked(result.VerifiedCheck{What: "uniformity", Unit: "ppm", Wanted: 1e6 * t.UniformityFraction, Designed: drawnSpread, Got: gotSpread, AtMost: true}, out.Confidence, spreads))
	}
}

// regionFigures gives the mean field over the target's region, T, and how far it spreads, ppm, for any values of the deviations.
func (v *verifier) regionFigures(t *design.Target) func(values []float64) (mean, spread float64) {
	a := v.s.Base.a
	points, weights := []r3.Vec{a.center}, []float64{1}
	if t.Region != nil {
		points, weights = a.regionPoints()
	}
	base := make([]r3.Vec, len(points))
	slopes := make([][]r3.Vec, len(v.s.Deviations))
	for i, p := range points {
		base[i] = v.s.base(p)
		for k := range slopes {
			slopes[k] = append(slopes[k], v.s.Slope(k, p))
		}
	}
	return func(values []float64) (mean, spread float64) {
		b := slices.Clone(base)
		var sum r3.Vec
		for i := range b {
			for k := range slopes {
				b[i] = r3.Add(b[i], r3.Scale(values[k], slopes[k][i]))
			}
			sum = r3.Add(sum, r3.Scale(weights[i], b[i]))
		}
		mean = r3.Norm(sum)
		u := r3.Unit(sum)
		low, high := math.Inf(1), math.Inf(-1)
		for _, x := range b {
			low, high = math.Min(low, r3.Dot(x, u)), math.Max(high, r3.Dot(x, u))
		}
		return mean, 1e6 * (high - low) / mean
	}
}

// drawn is how many builds stand for a fit.
const drawn = 400

// draws are the figures of builds from the distribution of a fit, with the solver's own error as a share of the mean.
func draws(value []float64, covariance *mat.SymDense, solver float64, figures func([]float64) (mean, spread float64)) (means, spreads []float64) {
	var root mat.Cholesky
	var lower mat.TriDense
	if len(value) > 0 && root.Factorize(covariance) {
		root.LTo(&lower)
	}
	rng := rand.New(rand.NewPCG(1, 2)) // the same log, the same verdict
	for range drawn {
		p := slices.Clone(value)
		z := make([]float64, len(p))
		for i := range z {
			z[i] = rng.NormFloat64()
		}
		for i := range p {
			for k := range i + 1 {
				if !lower.IsEmpty() {
					p[i] += lower.At(i, k) * z[k]
				}
			}
		}
		mean, spread := figures(p)
		means, spreads = append(means, mean*(1+solver*rng.NormFloat64())), append(spreads, spread)
	}
	return means, spreads
}

// checked fills in how sure a figure is by its draws, and the verdict at a confidence.
func checked(c result.VerifiedCheck, confidence float64, list []float64) result.VerifiedCheck {
	slices.Sort(list)
	for _, x := range list {
		if (x <= c.Wanted) == c.AtMost {
			c.Probability += 1. / drawn
		}
	}
	tail := int((1 - confidence) / 2 * drawn)
	c.Uncertainty = (list[drawn-1-tail] - list[tail]) / 2
	switch c.Verdict = result.VerdictOpen; {
	case c.Probability >= confidence:
		c.Verdict = result.VerdictMet
	case c.Probability <= 1-confidence:
		c.Verdict = result.VerdictNotMet
	}
	return c
}

// verdict sums up: on the target where there is one, else on the design.
func verdict(out *result.Verification) (verdict, reason string) {
	for _, f := range out.Findings {
		if f.Kind == string(DeviatesReversed) || f.Kind == string(DeviatesMissing) {
			return result.VerdictNotMet, f.Text
		}
		if f.Kind == "sign" {
			return result.VerdictOpen, f.Text
		}
	}
	if len(out.Checks) > 0 {
		verdict, reason = result.VerdictMet, "field and uniformity as built meet the target"
		for _, c := range out.Checks {
			switch {
			case c.Verdict == result.VerdictNotMet:
				return c.Verdict, "the " + c.What + " as built misses the target"
			case c.Verdict == result.VerdictOpen:
				verdict, reason = c.Verdict, "the readings do not decide on the "+c.What
			}
		}
		if len(out.Checks) == 1 && verdict == result.VerdictMet {
			reason = "the " + out.Checks[0].What + " as built meets the target"
		}
		return verdict, reason
	}
	switch {
	case len(out.Findings) > 0:
		return result.VerdictNotMet, out.Findings[0].Text
	case out.Sound >= out.Confidence:
		return result.VerdictMet, "nothing in the readings speaks against the design"
	}
	return result.VerdictOpen, "something may be off; the readings do not say what"
}
