package polewright

import (
	"cmp"
	"context"
	"fmt"
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r3"

	"polewright/design"
	"polewright/freefield"
	"polewright/harmonic"
	"polewright/material"
	"polewright/measurement"
	"polewright/mistake"
	"polewright/pairing"
	"polewright/result"
	"polewright/shape"
)

// This file judges magnets that were measured one by one, and says which goes where.

// InspectOptions says how pieces are judged and placed.
type InspectOptions struct {
	ForField bool // place them for the field wanted, the highest where none is; else for uniformity over the region
	Accuracy Accuracy
	NoPlaces bool // judge only
	Progress func(what string, done float64)
}

// Usual standard uncertainties of incoming inspection (common practice, no source): a Helmholtz coil with a fluxmeter or a probe is calibrated to
// 0.5 %, the distance of a probe's active area from a face is known to 0.1 mm.
const (
	usualMoment    = 0.005
	usualDistanceM = 0.1e-3
	// orderedSpread is the limit that makers give for the remanence within an order, either way.
	orderedSpread = 2 * spreadRemanence
	// orderedAngle is the largest angle of the magnetization to its side that makers warrant.
	orderedAngle = 2 * spreadDirection
	// discTurns are the ways to turn a round piece that are tried: every 15 degrees.
	discTurns = 24
)

// DemagnetizingFactor is the magnetometric demagnetizing factor of a magnet's solid along its polarization J, the mean over its volume of
// -mu0 H.J/J^2 where J is uniform:
//
//	N = mu0 / (J^2 V) int phi J.n dS
//
// by Gauss's theorem (A. Aharoni, J. Appl. Phys. 83 (1998) 3432 gives it in closed form for blocks). Good to about 1e-4.
func DemagnetizingFactor(m freefield.Magnet) float64 {
	var sum float64
	for _, q := range m.Charges(12) {
		sum += m.Potential(q.At) * q.Wb
	}
	return material.Mu0 * sum / (r3.Norm2(m.Polarization) * m.Solid.Volume())
}

// inspector has what is common to all pieces.
type inspector struct {
	d     *design.Design
	kinds []result.InspectedKind
	of    []int // kind of each magnet of the design
	first []int // a magnet of each kind
}

// kindsOf groups the magnets of a design by shape, size and grade, and by how the magnetization lies in them.
func kindsOf(d *design.Design) *inspector {
	s := &inspector{d: d}
	for i := range d.Magnets {
		m := &d.Magnets[i]
		local := m.Place.Rot.Inverse(m.Direction)
		k := slices.IndexFunc(s.first, func(j int) bool {
			o := &d.Magnets[j]
			return o.Solid == m.Solid && o.Material.Name == m.Material.Name && o.Material.RemanenceT == m.Material.RemanenceT && o.CoatingM == m.CoatingM &&
				math.Abs(math.Abs(r3.Dot(o.Place.Rot.Inverse(o.Direction), local))-1) < 1e-9
		})
		if k < 0 {
			k = len(s.first)
			s.first = append(s.first, i)
			bare := freefield.Magnet{Solid: m.Bare(), Place: m.Place, Polarization: m.Direction}
			n := DemagnetizingFactor(bare)
			kind := result.InspectedKind{Grade: m.Material.Name, VolumeM3: bare.Solid.Volume(), Factor: n, Correction: 1 + (m.Material.RecoilPermeability-1)*n,
				NominalT: m.Material.RemanenceT, MinimumT: m.Material.RemanenceMinT, ReferenceC: m.Material.ReferenceC}
			kind.MomentAm2 = kind.NominalT / kind.Correction * kind.VolumeM3 / material.Mu0
			s.kinds = append(s.kinds, kind)
		}
		s.of = append(s.of, k)
		s.kinds[k].Magnets = append(s.kinds[k].Magnets, m.Name)
	}
	return s
}

// onAxis is the flux density at a distance before the face towards which a magnet is magnetized, for 1 T of polarization, and its slope.
func onAxis(m *design.Magnet, at float64) (b, slope float64) {
	bare := freefield.Magnet{Solid: m.Bare(), Place: m.Place, Polarization: m.Direction}
	c := centroid(m)
	far := 0.0 // of the coated face from the middle, along the magnetization
	box := shape.Bounds(m.Solid, m.Place)
	for i := range 8 {
		corner := r3.Vec{X: box.Min.X, Y: box.Min.Y, Z: box.Min.Z}
		for k, max := range []float64{box.Max.X, box.Max.Y, box.Max.Z} {
			if i>>k&1 == 1 {
				*component(&corner, k) = max
			}
		}
		far = math.Max(far, r3.Dot(r3.Sub(corner, c), m.Direction))
	}
	field := func(z float64) float64 {
		return r3.Dot(bare.B(r3.Add(c, r3.Scale(far+z, m.Direction))), m.Direction)
	}
	const h = 1e-5
	return field(at), (field(at+h) - field(math.Max(at-h, 0))) / (at + h - math.Max(at-h, 0))
}

// centroid is the middle of a magnet's bounds.
func centroid(m *design.Magnet) r3.Vec {
	box := shape.Bounds(m.Solid, m.Place)
	return box.Center()
}

// Inspect judges measured magnets against the grades of a design, and says which goes where and how turned. Errors about the list are mistake.Errors.
//
// The remanence comes from the mean polarization J of the piece alone: a moment is J V/mu0; a field on the axis is that of uniform J. Where the
// recoil permeability mu is not 1, the piece's own field lowers J along the recoil line, Br = J (1 + (mu-1) N), with the magnetometric
// demagnetizing factor N of its shape. That takes the lowering as even over the piece: its error is of the order of (mu-1)^2.
func Inspect(ctx context.Context, d *design.Design, l *measurement.Pieces, o InspectOptions) (*result.Inspection, error) {
	if len(d.Magnets) == 0 {
		return nil, mistake.Errors{{File: l.File, What: "the design has no magnet", Hint: "name the design that the pieces are for"}}
	}
	s := kindsOf(d)
	out := &result.Inspection{Title: d.Title, File: l.File, Notes: map[string]string{}, Places: []result.PlacedPiece{}, Spare: []string{}, Predicted: []result.ArrangedFigures{}, Warnings: []string{}}
	for _, n := range l.Notes {
		if n.Key != "" {
			out.Notes[n.Key] = n.Text
		}
	}
	var errs mistake.Errors
	cold := 0
	for _, p := range l.List {
		k := 0
		if p.Magnet != "" {
			i := slices.IndexFunc(d.Magnets, func(m design.Magnet) bool { return m.Name == p.Magnet })
			if i < 0 {
				errs = append(errs, &mistake.Error{File: l.File, Line: p.Line, Key: "magnet", What: fmt.Sprintf("the design has no magnet %q", p.Magnet), Hint: "write the name of a magnet of the design whose shape and grade the piece has"})
				continue
			}
			k = s.of[i]
		} else if len(s.kinds) > 1 {
			errs = append(errs, &mistake.Error{File: l.File, Line: p.Line, Key: "magnet", What: "the design has magnets of several kinds, and it is not said which the piece is", Hint: fmt.Sprintf("add a column magnet with the name of one of that kind, such as %s", d.Magnets[0].Name)})
			continue
		}
		piece, err := s.judge(p, k)
		if err != "" {
			errs = append(errs, &mistake.Error{File: l.File, Line: p.Line, What: err, Hint: "check the unit, the distance, and that the piece is one of the design"})
			continue
		}
		if math.IsNaN(p.TemperatureC) {
			cold++
		}
		out.Pieces = append(out.Pieces, piece)
	}
	if len(errs) > 0 {
		return nil, errs[:min(len(errs), mistake.Most)]
	}
	if cold > 0 {
		out.Warnings = append(out.Warnings, fmt.Sprintf("%d of %d pieces have no temperature: they are taken as measured at the reference temperature of their grade, and 1 K more or less is about 0.1 %% (column T_degC)", cold, len(l.List)))
	}
	s.spread(out)
	out.Kinds = s.kinds
	if !o.NoPlaces {
		if err := s.place(ctx, out, o); err != nil {
			return nil, err
		}
	}
	return out, nil
}

// judge makes a piece out of a reading; a text says what is impossible about it.
func (s *inspector) judge(p measurement.Piece, kind int) (o result.InspectedPiece, problem string) {
	k := &s.kinds[kind]
	m := &s.d.Magnets[s.first[kind]]
	o = result.InspectedPiece{Name: p.Name, Line: p.Line, Kind: kind}
	var polarization, relative float64 // mean, T; its relative standard uncertainty
	if p.HasMoment {
		polarization = material.Mu0 * p.Moment.Z / k.VolumeM3
		relative = usualMoment
		if p.Uncertainty > 0 {
			relative = p.Uncertainty / math.Abs(p.Moment.Z)
		}
		var size r3.Vec
		box := shape.Bounds(m.Solid, shape.Placement{Rot: shape.Euler(0, 0, 0)})
		size = box.Size()
		for axis := range 3 {
			relative = math.Hypot(relative, spreadLength / *component(&size, axis))
		}
	} else {
		b, slope := onAxis(m, p.AtM)
		if math.Abs(b) < 1e-3 { // of 1 T: on the axis of a ring it changes its sign
			return o, fmt.Sprintf("at %.4g mm on the axis the field is close to zero whatever the remanence", 1e3*p.AtM)
		}
		polarization = p.FieldT / b
		relative = usualMoment
		if p.Uncertainty > 0 {
			relative = p.Uncertainty / math.Abs(p.FieldT)
		}
		relative = math.Hypot(relative, slope*usualDistanceM/b)
		if math.Abs(slope*usualDistanceM/b) > 0.02 {
			o.Texts = append(o.Texts, fmt.Sprintf("so near, 0.1 mm of distance is %.2g %% of the reading: read farther away", 100*math.Abs(slope*usualDistanceM/b)))
		}
	}
	if polarization == 0 || math.IsNaN(relative) || math.IsInf(relative, 0) {
		return o, "the reading is zero"
	}
	warm := 1.0
	if !math.IsNaN(p.TemperatureC) {
		warm = 1 + m.Material.RemanencePerK*(p.TemperatureC-k.ReferenceC)
		if warm <= 0.1 {
			return o, fmt.Sprintf("%.4g degC is beyond the grade's law of temperature", p.TemperatureC)
		}
	}
	o.Reversed = polarization < 0
	o.RemanenceT = math.Abs(polarization) * k.Correction / warm
	if o.RemanenceT > design.MaxFluxT {
		return o, fmt.Sprintf("it would have a remanence of %.3g T, which no magnet has", o.RemanenceT)
	}
	o.Uncertainty = bandFactor * relative * o.RemanenceT
	o.MomentAm2 = polarization / warm * k.VolumeM3 / material.Mu0
	o.Deviation = o.RemanenceT/k.NominalT - 1
	if p.HasSides {
		o.HasAngle = true
		across := math.Hypot(p.Moment.X, p.Moment.Y)
		o.AngleRad, o.Towards = math.Atan2(across, math.Abs(p.Moment.Z)), math.Atan2(p.Moment.Y, p.Moment.X)
		if polarization < 0 { // put in upside down, about its first side
			o.Towards = -o.Towards
		}
	}
	switch {
	case o.Reversed:
		o.Verdict = result.VerdictReversed
		o.Texts = append(o.Texts, "its mark points against its magnetization: mark it anew, and measure again")
	case o.RemanenceT+o.Uncertainty < k.MinimumT:
		o.Verdict = result.VerdictNotMet
	case o.RemanenceT-o.Uncertainty >= k.MinimumT:
		o.Verdict = result.VerdictMet
	default:
		o.Verdict = result.VerdictOpen
	}
	if math.Abs(o.Deviation) > orderedSpread+o.Uncertainty/k.NominalT {
		o.Texts = append(o.Texts, fmt.Sprintf("%+.1f %% from the nominal remanence, more than the usual ±%.0f %%: another grade, size or a chip?", 100*o.Deviation, 100*orderedSpread))
	}
	if o.HasAngle && o.AngleRad > orderedAngle {
		o.Texts = append(o.Texts, fmt.Sprintf("magnetized %.1f deg off its mark, more than the usual %.0f deg", o.AngleRad*180/math.Pi, orderedAngle*180/math.Pi))
	}
	return o, ""
}

// spread fills in mean and standard deviation of each kind.
func (s *inspector) spread(out *result.Inspection) {
	for k := range s.kinds {
		var n, sum, square float64
		for _, p := range out.Pieces {
			if p.Kind == k {
				n, sum = n+1, sum+p.RemanenceT
			}
		}
		if n == 0 {
			continue
		}
		for _, p := range out.Pieces {
			if p.Kind == k {
				square += math.Pow(p.RemanenceT-sum/n, 2)
			}
		}
		s.kinds[k].Pieces, s.kinds[k].MeanT = int(n), sum/n
		if n > 1 {
			s.kinds[k].SpreadT = math.Sqrt(square / (n - 1))
		}
	}
}

// turnsOf is how many ways there are to turn a magnet about its magnetization so that it still fits, at even angles.
func turnsOf(m *design.Magnet) int {
	local := m.Place.Rot.Inverse(m.Direction)
	along := -1
	for k := range 3 {
		if math.Abs(*component(&local, k)) > 1-1e-9 {
			along = k
		}
	}
	switch b := m.Solid.(type) {
	case shape.Block:
		if along < 0 {
			return 1
		}
		p, q := *component(&b.Size, (along+1)%3), *component(&b.Size, (along+2)%3)
		if math.Abs(p-q) < 1e-9 {
			return 4
		}
		return 2
	case shape.Disc, shape.Ring:
		if along == 2 {
			return discTurns
		}
		if along >= 0 {
			return 2
		}
	}
	return 1
}

// place finds which piece goes where.
func (s *inspector) place(ctx context.Context, out *result.Inspection, o InspectOptions) error {
	d := s.d
	o.Accuracy = cmp.Or(o.Accuracy, Draft)
	for k, kind := range s.kinds {
		if kind.Pieces < len(kind.Magnets) {
			out.Warnings = append(out.Warnings, fmt.Sprintf("%d pieces for %d magnets like %s: without enough of each kind no places are given", kind.Pieces, len(kind.Magnets), d.Magnets[s.first[k]].Name))
			return nil
		}
	}
	angles := slices.ContainsFunc(out.Pieces, func(p result.InspectedPiece) bool { return p.HasAngle })
	if angles && len(d.Magnets) > mostDirections && len(d.Steels)+len(d.Wounds) > 0 {
		angles = false
		out.Warnings = append(out.Warnings, fmt.Sprintf("with steel and more than %d magnets the angles are left out of the choice of places: only strengths count", mostDirections))
	}
	var list []Deviation
	for _, v := range Deviations(d) {
		if v.Kind == DeviatesRemanence && v.Part != "" || angles && v.Kind == DeviatesDirection {
			list = append(list, v)
		}
	}
	field, err := SensitivityOf(ctx, d, list, o.Accuracy, o.Progress)
	if err != nil {
		return err
	}
	a := arrangementOf(d, field, out.Pieces, angles)
	fit := make([]int, len(s.kinds)) // pieces that are not below their grade
	for _, q := range out.Pieces {
		if q.Verdict != result.VerdictNotMet {
			fit[q.Kind]++
		}
	}
	p := &pairing.Problem{Places: len(d.Magnets), Pieces: len(out.Pieces), Fits: func(piece, place int) bool {
		q := &out.Pieces[piece]
		return q.Kind == s.of[place] && (q.Verdict != result.VerdictNotMet || fit[q.Kind] < len(s.kinds[q.Kind].Magnets))
	}}
	p.Turns = a.turns
	target := 0.0
	if d.Target != nil {
		target = d.Target.FieldT
	}
	p.Cost = a.cost(target, o.ForField)
	out.Objective = "uniformity over the region"
	if o.ForField {
		out.Objective = "the field wanted"
		if target == 0 {
			out.Objective = "the highest field"
		}
	}
	first, _ := p.First()
	best, _, exact, _ := p.Best()
	out.Exact = exact
	asDrawn := a.figures(nil)
	asDrawn.What = "as drawn, all nominal"
	before := a.figures(first)
	before.What = "in the order of the list, not turned"
	after := a.figures(best)
	after.What = "as placed below"
	out.Predicted = append(out.Predicted, asDrawn, before, after)
	a.put(best, d, out)
	return nil
}

// put lists the places of the pieces, and what is to spare.
func (a *arrangement) put(best []pairing.Choice, d *design.Design, out *result.Inspection) {
	used := map[int]bool{}
	for place, c := range best {
		used[c.Piece] = true
		q := &out.Pieces[c.Piece]
		out.Places = append(out.Places, result.PlacedPiece{Magnet: d.Magnets[place].Name, Piece: q.Name,
			TurnRad: 2 * math.Pi * float64(c.Turn) / float64(a.turns[place]), Turned: a.angles && q.HasAngle})
		if q.Reversed {
			out.Warnings = append(out.Warnings, fmt.Sprintf("piece %s is placed with its mark put right, turned over about its first side", q.Name))
		}
	}
	for i := range out.Pieces {
		if !used[i] {
			out.Spare = append(out.Spare, out.Pieces[i].Name)
		}
	}
}

// cost is what is to be least: how uneven the field is, or how far it is off the one wanted, of which none is as high as can be; the other breaks ties.
func (a *arrangement) cost(target float64, forField bool) func([]pairing.Choice) float64 {
	drawn := r3.Norm(a.drawn)
	return func(c []pairing.Choice) float64 {
		f := a.figures(c)
		off := -f.MeanT / drawn
		if target > 0 {
			off = math.Abs(f.MeanT/target - 1)
		}
		if forField {
			return off + 1e-3*1e-6*f.PeakToPeakPPM
		}
		return 1e-6*f.PeakToPeakPPM + 1e-3*off + 1e-3*f.AcrossFraction
	}
}

// arrangement is what the field over the region becomes with pieces in their places.
type arrangement struct {
	magnets  []design.Magnet
	pieces   []result.InspectedPiece
	angles   bool  // count, where they were measured
	turns    []int // ways in which a piece can be put into each place
	changes  []Deviation
	byMagnet [][]int // its changes
	weights  []float64
	base     []r3.Vec   // T, as drawn
	slopes   [][]r3.Vec // of each change
	drawn    r3.Vec     // the mean of base
	b        []r3.Vec
}

func arrangementOf(d *design.Design, field *Sensitivity, pieces []result.InspectedPiece, angles bool) *arrangement {
	points, weights := field.Base.a.regionPoints()
	a := &arrangement{magnets: d.Magnets, pieces: pieces, angles: angles, changes: field.Deviations, weights: weights,
		byMagnet: make([][]int, len(d.Magnets)), slopes: make([][]r3.Vec, len(field.Deviations)), b: make([]r3.Vec, len(points))}
	for i, p := range points {
		a.base = append(a.base, field.base(p))
		a.drawn = r3.Add(a.drawn, r3.Scale(weights[i], a.base[i]))
		for k := range a.slopes {
			a.slopes[k] = append(a.slopes[k], field.Slope(k, p))
		}
	}
	for j := range d.Magnets {
		n := 1
		if angles {
			n = turnsOf(&d.Magnets[j])
		}
		a.turns = append(a.turns, n)
		for k, v := range a.changes {
			if v.Part == d.Magnets[j].Name {
				a.byMagnet[j] = append(a.byMagnet[j], k)
			}
		}
	}
	return a
}

// figures are those of a choice of pieces for the first places; for none, of the design as drawn.
func (a *arrangement) figures(c []pairing.Choice) (f result.ArrangedFigures) {
	copy(a.b, a.base)
	for place, choice := range c {
		piece := &a.pieces[choice.Piece]
		m := &a.magnets[place]
		var w r3.Vec
		if a.angles && piece.HasAngle {
			phi := piece.Towards + 2*math.Pi*float64(choice.Turn)/float64(a.turns[place])
			x, y := acrossOf(m)
			lean := r3.Scale(piece.AngleRad, r3.Add(r3.Scale(math.Cos(phi), x), r3.Scale(math.Sin(phi), y)))
			w = r3.Cross(m.Direction, lean)
		}
		for _, k := range a.byMagnet[place] {
			amount := piece.Deviation
			if v := &a.changes[k]; v.Kind == DeviatesDirection {
				amount = *component(&w, v.Axis)
			}
			if amount != 0 {
				for i := range a.b {
					a.b[i] = r3.Add(a.b[i], r3.Scale(amount, a.slopes[k][i]))
				}
			}
		}
	}
	var mean r3.Vec
	for i, b := range a.b {
		mean = r3.Add(mean, r3.Scale(a.weights[i], b))
	}
	f.MeanT = r3.Norm(mean)
	n, u := r3.Unit(mean), r3.Unit(a.drawn)
	low, high := math.Inf(1), math.Inf(-1)
	for _, b := range a.b {
		x := r3.Dot(b, n)
		low, high = math.Min(low, x), math.Max(high, x)
	}
	f.PeakToPeakPPM = 1e6 * (high - low) / f.MeanT
	f.AcrossFraction = r3.Norm(r3.Sub(mean, r3.Scale(r3.Dot(mean, u), u))) / f.MeanT
	return f
}

// acrossOf are the directions in the world of the two sides of a piece as it is put in, not turned: the first is the part's own axis that follows
// the magnetized one cyclically, brought across; both and the magnetization are right-handed.
func acrossOf(m *design.Magnet) (x, y r3.Vec) {
	var e r3.Vec
	*component(&e, (harmonic.NearestAxis(m.Place.Rot.Inverse(m.Direction))+1)%3) = 1
	e = m.Place.Rot.Apply(e)
	x = r3.Unit(r3.Sub(e, r3.Scale(r3.Dot(e, m.Direction), m.Direction)))
	return x, r3.Cross(m.Direction, x)
}

// regionPoints are places over the target region, or half the clearance where there is none: a rule for the mean with its weights, then places on
// the rim with weight 0.
func (a *assembly) regionPoints() (points []r3.Vec, weights []float64) {
	var volume result.Volume = result.Sphere{Radius: a.clearance(a.center) / 2}
	if t := a.design.Target; t != nil && t.Region != nil {
		volume = volumeOf(t.Region)
	}
	for _, q := range volume.Rule(4) {
		points, weights = append(points, r3.Add(a.center, q.D)), append(weights, q.Weight)
	}
	directions := volume.Corners()
	for i := range 60 {
		directions = append(directions, harmonic.Direction(i, 60))
	}
	for _, n := range directions {
		points, weights = append(points, r3.Add(a.center, r3.Scale(volume.Rim(n), n))), append(weights, 0)
	}
	return points, weights
}
