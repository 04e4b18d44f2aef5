package polewright

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"gonum.org/v1/gonum/spatial/r3"

	"polewright/design"
	"polewright/shape"
)

// This file says how a build may differ from its design, and makes the design of such a build.

// DeviationKind is what differs.
type DeviationKind string

// The kinds of deviations. Amount is in the unit given here; the axis is a world axis.
const (
	DeviatesRemanence   DeviationKind = "remanence"   // of a magnet, relative; of all magnets when no part is named
	DeviatesDirection   DeviationKind = "direction"   // of a magnet's magnetization, rad, turned right-handed about the axis
	DeviatesReversed    DeviationKind = "reversed"    // a magnet is in the wrong way round; the amount is 1
	DeviatesMissing     DeviationKind = "missing"     // a magnet or a piece of steel was left out; the amount is 1
	DeviatesGap         DeviationKind = "gap"         // m, longer along the axis; parts that span it are as much longer
	DeviatesTilt        DeviationKind = "tilt"        // rad, the positive side turned right-handed about the axis
	DeviatesPacking     DeviationKind = "packing"     // of a wound yoke: relative, at the same turns and outside size
	DeviatesSize        DeviationKind = "size"        // m, a part is longer along the axis, towards the gap or, across it, on both sides
	DeviatesOffset      DeviationKind = "offset"      // m, a part stands farther along the axis
	DeviatesTemperature DeviationKind = "temperature" // K, of the magnets
)

// Deviation is one way in which a build differs from its design.
type Deviation struct {
	Kind   DeviationKind
	Part   string // "" for the assembly
	Axis   int    // 0, 1, 2 for x, y, z, where the kind has one
	Amount float64

	Spread float64 // usual standard deviation of the amount; 0: no such thing
	Step   float64 // a change that is large for a solve and small for the law: what differences are taken over
}

// Usual spreads, as standard deviations. Makers and shops give limits; they are taken as twice the standard deviation. Limits: remanence 3 %, a
// length 0.1 mm as sintered, magnets' temperature 3 K (tolerance budgets of the trade; common practice, no source); direction of
// magnetization 3 degrees (makers allow 1 to 3, from memory; up to 5 are common in accelerator magnets); faces of a gap parallel within 0.1 mm
// over 50 mm; packing of a hand winding 0.04 of 0.72 (from memory).
const (
	spreadRemanence = 0.015
	spreadDirection = 1.5 * math.Pi / 180
	spreadLength    = 0.05e-3
	spreadTilt      = 1e-3
	spreadPacking   = 0.03
	spreadKelvin    = 1.5
)

// String names the deviation, without its amount: "upper: direction about x".
func (v Deviation) String() string {
	s := v.What()
	if v.Part != "" {
		s = v.Part + ": " + s
	}
	return s
}

// What is the deviation in words, without its part.
func (v Deviation) What() string {
	axis := string("xyz"[v.Axis])
	switch v.Kind {
	case DeviatesRemanence:
		if v.Part == "" {
			return "remanence of all magnets"
		}
	case DeviatesDirection:
		return "direction about " + axis
	case DeviatesGap:
		return "length of the gap"
	case DeviatesTilt:
		return "tilt of the positive side about " + axis
	case DeviatesSize, DeviatesOffset:
		return string(v.Kind) + " along " + axis
	case DeviatesTemperature:
		return "temperature of the magnets"
	}
	return string(v.Kind)
}

// Unit is the SI unit of the amount.
func (v Deviation) Unit() string {
	switch v.Kind {
	case DeviatesDirection, DeviatesTilt:
		return "rad"
	case DeviatesGap, DeviatesSize, DeviatesOffset:
		return "m"
	case DeviatesTemperature:
		return "K"
	}
	return "1"
}

// Of is the deviation with an amount.
func (v Deviation) Of(amount float64) Deviation { v.Amount = amount; return v }

// GapAxis is the world axis of the field in the gap: that along which the magnets' moments add up to most.
func GapAxis(d *design.Design) int {
	var m r3.Vec
	for i := range d.Magnets {
		q := &d.Magnets[i]
		m = r3.Add(m, r3.Scale(q.Material.RemanenceT*q.Solid.Volume(), q.Direction))
	}
	best := 2
	for k := range 2 {
		if math.Abs(*component(&m, k)) > math.Abs(*component(&m, best))*(1+1e-9) {
			best = k
		}
	}
	return best
}

// Deviations lists how a build of the design may differ from it: for every magnet its remanence, direction, turned the wrong way round, thickness
// and place; the gap and its tilt, where the design has two sides; each wound yoke's packing; the temperature. Sizes of steel are not in it: where
// they matter they act as the gap does.
func Deviations(d *design.Design) []Deviation {
	var list []Deviation
	g := GapAxis(d)
	sides := sidesOf(d)
	for i := range d.Magnets {
		m := &d.Magnets[i]
		list = append(list, Deviation{Kind: DeviatesRemanence, Part: m.Name, Spread: spreadRemanence, Step: 0.03})
		for axis := range 3 {
			if math.Abs(*component(&m.Direction, axis)) < 0.9 { // about its own axis nothing turns
				list = append(list, Deviation{Kind: DeviatesDirection, Part: m.Name, Axis: axis, Spread: spreadDirection, Step: 4 * math.Pi / 180})
			}
		}
		list = append(list, Deviation{Kind: DeviatesReversed, Part: m.Name})
	}
	if sides.opens {
		step := 0.03 * sides.length
		list = append(list, Deviation{Kind: DeviatesGap, Axis: g, Spread: spreadLength, Step: step})
		for i := range d.Magnets {
			m := &d.Magnets[i]
			if sides.faces[i] {
				list = append(list, Deviation{Kind: DeviatesSize, Part: m.Name, Axis: g, Spread: spreadLength, Step: step})
			}
			if sides.of[m.Name] != 0 {
				for k := 1; k <= 2; k++ {
					list = append(list, Deviation{Kind: DeviatesOffset, Part: m.Name, Axis: (g + k) % 3, Spread: spreadLength * math.Sqrt2, Step: step})
				}
			}
		}
	}
	if sides.tilts {
		for k := 1; k <= 2; k++ {
			list = append(list, Deviation{Kind: DeviatesTilt, Axis: (g + k) % 3, Spread: spreadTilt, Step: 0.08 * sides.length / sides.width})
		}
	}
	for i := range d.Wounds {
		list = append(list, Deviation{Kind: DeviatesPacking, Part: d.Wounds[i].Name, Spread: spreadPacking, Step: 0.06})
	}
	if len(d.Magnets) > 0 {
		list = append(list, Deviation{Kind: DeviatesTemperature, Spread: spreadKelvin, Step: 20})
		if len(d.Magnets) > 1 {
			list = append(list, Deviation{Kind: DeviatesRemanence, Spread: spreadRemanence, Step: 0.03})
		}
	}
	return list
}

// DeviationError is a deviation that a design cannot have.
type DeviationError struct {
	Deviation Deviation
	What      string
}

func (e *DeviationError) Error() string { return fmt.Sprintf("%s: %s", e.Deviation, e.What) }

// Apply makes the design of a build that differs from d by the deviations, one after the other. d is left as it is. The error is a *DeviationError.
//
// Without steel a tilt turns the magnets of the positive side about the middle of their gap face. With steel, bodies askew would cost the grid more
// accuracy than a tilt makes, so the positive side is cut into strips that are lifted as the tilt lifts them,
// which changes the field in the gap by what the tilt does to within a tenth (TestTiltedPlates). With steel it takes blocks along the axes.
func Apply(d *design.Design, list []Deviation) (*design.Design, error) {
	c := *d
	c.Magnets, c.Steels, c.Wounds, c.Spacers = slices.Clone(d.Magnets), slices.Clone(d.Steels), slices.Clone(d.Wounds), slices.Clone(d.Spacers)
	c.Joints, c.Sections = slices.Clone(d.Joints), slices.Clone(d.Sections)
	if d.Target != nil {
		t := *d.Target
		c.Target = &t
	}
	// Tilts come last: they cut magnets into strips, whose names no other deviation knows.
	ordered := slices.Clone(list)
	slices.SortStableFunc(ordered, func(a, b Deviation) int {
		if at, bt := a.Kind == DeviatesTilt, b.Kind == DeviatesTilt; at != bt {
			if bt {
				return -1
			}
			return 1
		}
		return 0
	})
	for _, v := range ordered {
		if v.Axis < 0 || v.Axis > 2 || math.IsNaN(v.Amount) || math.IsInf(v.Amount, 0) {
			return nil, &DeviationError{Deviation{Kind: v.Kind, Part: v.Part}, fmt.Sprintf("the amount %g about axis %d is none", v.Amount, v.Axis)}
		}
		if err := deviate(&c, v); err != nil {
			return nil, err
		}
	}
	return &c, nil
}

func deviate(d *design.Design, v Deviation) error {
	fail := func(format string, args ...any) error { return &DeviationError{v, fmt.Sprintf(format, args...)} }
	switch v.Kind {
	case DeviatesTemperature:
		if d.Target == nil {
			d.Target = &design.Target{}
		}
		d.Target.WorkingC, d.Target.HasWorking = workingTemperature(d)+v.Amount, true
		return nil
	case DeviatesGap:
		return openGap(d, v)
	case DeviatesTilt:
		return tilt(d, v)
	case DeviatesPacking:
		for i := range d.Wounds {
			if w := &d.Wounds[i]; w.Name == v.Part {
				w.Packing *= 1 + v.Amount
				if !(w.Packing > 0 && w.Packing < 1) {
					return fail("the packing would be %.3g", w.Packing)
				}
				return nil
			}
		}
		return fail("there is no wound yoke %q", v.Part)
	case DeviatesSize, DeviatesOffset:
		for _, p := range d.Parts() {
			if p.Name != v.Part {
				continue
			}
			shift := v.Amount
			if v.Kind == DeviatesSize {
				solid, ok := lengthened(p.Solid, p.Place, v.Axis, v.Amount)
				if !ok {
					return fail("its size along %c cannot be changed", "xyz"[v.Axis])
				}
				p.Solid, shift = solid, 0
				if v.Axis == GapAxis(d) { // its back stays where it is seated
					center := (&assembly{design: d, parts: magnetic(d)}).gapCenter()
					shift = math.Copysign(v.Amount/2, *component(&center, v.Axis)-*component(&p.Place.Center, v.Axis)) * math.Copysign(1, v.Amount)
				}
			}
			*component(&p.Place.Center, v.Axis) += shift
			return nil
		}
		return fail("there is no part %q", v.Part)
	case DeviatesMissing:
		if !leaveOut(d, v.Part) {
			return fail("there is no magnet and no steel %q", v.Part)
		}
		return nil
	case DeviatesRemanence, DeviatesDirection, DeviatesReversed:
		found := false
		for i := range d.Magnets {
			m := &d.Magnets[i]
			if m.Name != v.Part && (v.Part != "" || v.Kind != DeviatesRemanence) {
				continue
			}
			found = true
			switch v.Kind {
			case DeviatesRemanence:
				m.Material.RemanenceT *= 1 + v.Amount
				if !(m.Material.RemanenceT > 0 && m.Material.RemanenceT <= design.MaxFluxT) {
					return fail("the remanence would be %.3g T", m.Material.RemanenceT)
				}
				m.Material.RemanenceMinT = min(m.Material.RemanenceMinT, m.Material.RemanenceT)
			case DeviatesDirection:
				m.Direction = turned(v.Axis, v.Amount).Apply(m.Direction)
			case DeviatesReversed:
				m.Direction = r3.Scale(-1, m.Direction)
			}
		}
		if !found {
			return fail("there is no magnet %q", v.Part)
		}
		return nil
	}
	return fail("there is no deviation %q", v.Kind)
}

// leaveOut takes a magnet or a piece of steel out of a design, with its joints and sections.
func leaveOut(d *design.Design, part string) bool {
	before := len(d.Magnets) + len(d.Steels)
	d.Magnets = slices.DeleteFunc(d.Magnets, func(m design.Magnet) bool { return m.Name == part })
	d.Steels = slices.DeleteFunc(d.Steels, func(q design.Steel) bool { return q.Name == part })
	d.Joints = slices.DeleteFunc(d.Joints, func(j design.Joint) bool { return slices.Contains(j.Between[:], part) })
	d.Sections = slices.DeleteFunc(d.Sections, func(q design.Section) bool { return q.Part == part })
	return len(d.Magnets)+len(d.Steels) < before
}

// turned is a right-handed rotation about a world axis.
func turned(axis int, angle float64) shape.Rotation {
	var a [3]float64
	a[axis] = angle
	return shape.Euler(a[0], a[1], a[2])
}

func magnetic(d *design.Design) (parts []design.Part) {
	for _, p := range d.Parts() {
		if p.Magnetic() {
			parts = append(parts, p)
		}
	}
	return parts
}

// gapSides is how the parts of a design stand to the middle of its gap.
type gapSides struct {
	axis          int
	center        r3.Vec
	of            map[string]int // side of each part along the axis: 1, -1, 0 for one that spans the gap
	faces         []bool         // magnets whose face towards the gap is free
	length, width float64        // m, between the nearest parts of both sides on the axis; across the narrowest face of their magnets
	opens, tilts  bool           // whether the gap can be longer, the positive side tilted
}

func sidesOf(d *design.Design) gapSides {
	s := gapSides{axis: GapAxis(d), of: map[string]int{}, faces: make([]bool, len(d.Magnets)), width: math.Inf(1)}
	if len(d.Magnets) == 0 {
		return s // a coil's gap is what the builder leaves
	}
	parts := magnetic(d)
	if len(parts) == 0 { // coils alone
		return s
	}
	s.center = (&assembly{design: d, parts: parts}).gapCenter()
	plane := Plane{s.axis, *component(&s.center, s.axis)}
	lo, hi := math.Inf(-1), math.Inf(1)
	s.opens = true
	magnets := [2]bool{}
	for _, p := range parts {
		which := side(p, plane)
		s.of[p.Name] = which
		b := shapeBounds(p)
		before, behind := *component(&b.Min, s.axis), *component(&b.Max, s.axis)
		onAxis := true
		for k := 1; k <= 2; k++ {
			i := (s.axis + k) % 3
			c := *component(&s.center, i)
			onAxis = onAxis && c > *component(&b.Min, i) && c < *component(&b.Max, i)
		}
		switch {
		case which == 0:
			if _, ok := lengthened(p.Solid, p.Place, s.axis, 0); !ok {
				s.opens = false
			}
		case which > 0 && onAxis:
			hi = math.Min(hi, before)
		case which < 0 && onAxis:
			lo = math.Max(lo, behind)
		}
		if p.Kind == "magnet" && which != 0 {
			magnets[(which+1)/2] = true
			for k := 1; k <= 2; k++ {
				i := (s.axis + k) % 3
				s.width = math.Min(s.width, *component(&b.Max, i)-*component(&b.Min, i))
			}
		}
	}
	s.length = hi - lo
	if math.IsInf(s.length, 0) || !(s.length > 0) {
		s.opens = false
	}
	s.tilts = s.opens && magnets[1]
	for _, p := range parts {
		if len(d.Steels)+len(d.Wounds) > 0 && s.of[p.Name] >= 0 && !alignedBlock(p) {
			s.tilts = false
		}
	}
	for i := range d.Magnets {
		m := &d.Magnets[i]
		if which := s.of[m.Name]; which != 0 {
			_, ok := lengthened(m.Solid, m.Place, s.axis, 0)
			s.faces[i] = ok && !covered(parts, i, s.axis, -which)
		}
	}
	return s
}

// alignedBlock tells whether a part is a block whose edges lie along the axes.
func alignedBlock(p design.Part) bool {
	if _, ok := p.Solid.(shape.Block); !ok {
		return false
	}
	for axis := range 3 {
		if _, ok := lengthened(p.Solid, p.Place, axis, 0); !ok {
			return false
		}
	}
	return true
}

// covered tells whether another part touches part i on its face towards way along an axis.
func covered(parts []design.Part, i, axis, way int) bool {
	b := shapeBounds(parts[i])
	face := *component(&b.Max, axis)
	if way < 0 {
		face = *component(&b.Min, axis)
	}
	for k, q := range parts {
		if c, ok := contactOf(parts[i], q); k != i && ok && c.axis == axis && math.Abs(c.at-face) < 2*design.TouchM {
			return true
		}
	}
	return false
}

// lengthened is a solid made longer along a world axis, both ways alike, if it can be.
func lengthened(s shape.Solid, p shape.Placement, axis int, by float64) (shape.Solid, bool) {
	var unit r3.Vec
	*component(&unit, axis) = 1
	local := p.Rot.Inverse(unit)
	along := -1
	for k := range 3 {
		if math.Abs(*component(&local, k)) > 1-1e-9 {
			along = k
		}
	}
	if along < 0 {
		return s, false
	}
	const least = 1e-6
	switch b := s.(type) {
	case shape.Block:
		*component(&b.Size, along) += by
		return b, *component(&b.Size, along) > least
	case shape.Disc:
		b.Thickness += by
		return b, along == 2 && b.Thickness > least
	case shape.Ring:
		b.Thickness += by
		return b, along == 2 && b.Thickness > least
	case shape.Wedge:
		b.Thickness += by
		return b, along == 2 && b.Thickness > least
	case shape.Racetrack:
		switch along {
		case 0:
			b.CoreX += by
		case 1:
			b.CoreY += by
		default:
			b.Width += by
		}
		return b, along < 2 && math.Min(b.CoreX, b.CoreY) > 2*b.CornerRadius
	}
	return s, false
}

// openGap moves all on the positive side of the gap and makes what spans it longer.
func openGap(d *design.Design, v Deviation) error {
	s := sidesOf(d)
	if !s.opens || v.Axis != s.axis {
		return &DeviationError{v, "the design has no gap between two sides along " + string("xyz"[v.Axis])}
	}
	if v.Amount <= -s.length {
		return &DeviationError{v, "the gap would be closed"}
	}
	plane := Plane{s.axis, *component(&s.center, s.axis)}
	for _, p := range d.Parts() {
		switch side(p, plane) {
		case 1:
			*component(&p.Place.Center, s.axis) += v.Amount
		case 0:
			if solid, ok := lengthened(p.Solid, p.Place, s.axis, v.Amount); ok {
				p.Solid = solid
				*component(&p.Place.Center, s.axis) += v.Amount / 2
			}
		}
	}
	for i := range d.Wounds {
		if w := &d.Wounds[i]; side(design.Part{Kind: "wound", Body: &w.Body}, plane) == 0 {
			*component(&w.CoreM, s.axis) += v.Amount
		}
	}
	for i := range d.Sections {
		if q := &d.Sections[i]; q.Axis == s.axis && q.AtM > plane.AtM {
			q.AtM += v.Amount
		}
	}
	return nil
}

// tiltStrips is into how many strips the narrowest magnet is cut: at half a gap's distance the steps between them are no longer seen.
const tiltStrips = 6

func tilt(d *design.Design, v Deviation) error {
	s := sidesOf(d)
	if !s.tilts || v.Axis == s.axis {
		return &DeviationError{v, "the design has no side that could be tilted about " + string("xyz"[v.Axis])}
	}
	if math.Abs(v.Amount)*s.width > s.length {
		return &DeviationError{v, "the sides would touch"}
	}
	if len(d.Steels)+len(d.Wounds) == 0 {
		turn, face := turned(v.Axis, v.Amount), s.center
		*component(&face, s.axis) += s.length / 2
		for i := range d.Magnets {
			if m := &d.Magnets[i]; s.of[m.Name] > 0 {
				m.Place.Center = r3.Add(face, turn.Apply(r3.Sub(m.Place.Center, face)))
				m.Place.Rot = turn.Mul(m.Place.Rot)
				m.Direction = turn.Apply(m.Direction)
			}
		}
		return nil
	}
	s.lift(d, v)
	return nil
}

// lift cuts what lies on the positive side, and what spans the gap, into strips and lifts them as a tilt lifts them.
func (s gapSides) lift(d *design.Design, v Deviation) {
	// Where the tilt rises: along the third axis, upwards for (about, across, axis) right-handed.
	across := 3 - v.Axis - s.axis
	rise := v.Amount
	if (v.Axis+1)%3 != across {
		rise = -rise
	}
	cuts := newStrips(magnetic(d), across, *component(&s.center, across), s.width/tiltStrips)
	cut := func(b design.Body) []design.Body {
		if s.of[b.Name] < 0 {
			return []design.Body{b}
		}
		list, middles := cuts.cut(b)
		for i := range list {
			p := &list[i]
			up := rise * (middles[i] - *component(&s.center, across))
			if s.of[b.Name] == 0 {
				p.Solid, _ = lengthened(p.Solid, p.Place, s.axis, up)
				up /= 2
			}
			*component(&p.Place.Center, s.axis) += up
		}
		return list
	}
	var magnets []design.Magnet
	for _, m := range d.Magnets {
		whole := m.Bare().Volume() / m.Solid.Volume()
		for _, b := range cut(m.Body) {
			p := m
			p.Body = b
			p.Material.RemanenceT *= whole * b.Solid.Volume() / p.Bare().Volume() // the cuts have no coating
			magnets = append(magnets, p)
		}
	}
	var steels []design.Steel
	for _, q := range d.Steels {
		for _, b := range cut(q.Body) {
			p := q
			p.Body = b
			steels = append(steels, p)
		}
	}
	d.Magnets, d.Steels = magnets, steels
	d.Joints = stripJoints(d)
	d.Sections = slices.DeleteFunc(d.Sections, func(q design.Section) bool { return s.of[q.Part] >= 0 })
}

// stripJoints are the films of the design between the strips that touch.
func stripJoints(d *design.Design) (joints []design.Joint) {
	pieces := map[string][]*design.Body{}
	for _, p := range magnetic(d) {
		whole, _, _ := strings.Cut(p.Name, stripMark)
		pieces[whole] = append(pieces[whole], p.Body)
	}
	for _, j := range d.Joints {
		for _, a := range pieces[j.Between[0]] {
			for _, b := range pieces[j.Between[1]] {
				if _, ok := onFaces(design.Part{Body: a}, design.Part{Body: b}); ok {
					k := j
					k.Between = [2]string{a.Name, b.Name}
					joints = append(joints, k)
				}
			}
		}
	}
	return joints
}

// stripMark stands between the name of a part and the number of its strip.
const stripMark = ", strip "

// strips cut parts across a world axis, all at the same coordinates, so that pieces that lie on each other are lifted alike.
type strips struct {
	axis int
	at   []float64 // rising, and beyond all parts at both ends
}

// newStrips are strips of a width, one edge at the centre; an edge close to the end of a part is put there, so that no piece is a sliver.
func newStrips(parts []design.Part, axis int, center, width float64) strips {
	lo, hi := math.Inf(1), math.Inf(-1)
	var ends []float64
	for _, p := range parts {
		b := shapeBounds(p)
		x, y := *component(&b.Min, axis), *component(&b.Max, axis)
		lo, hi, ends = math.Min(lo, x), math.Max(hi, y), append(ends, x, y)
	}
	s := strips{axis: axis}
	for k := math.Floor((lo-center)/width) - 1; k <= math.Ceil((hi-center)/width)+1; k++ {
		x := center + k*width
		for _, e := range ends {
			if math.Abs(e-x) < 0.25*width {
				x = e
				break
			}
		}
		s.at = append(s.at, x)
	}
	return s
}

// cut cuts a block whose edges lie along the axes, and gives the middle of the strip that each piece lies in.
func (s strips) cut(b design.Body) (list []design.Body, middles []float64) {
	box := shape.Bounds(b.Solid, b.Place)
	lo, hi := *component(&box.Min, s.axis), *component(&box.Max, s.axis)
	for i := range len(s.at) - 1 {
		from, to := math.Max(lo, s.at[i]), math.Min(hi, s.at[i+1])
		if to-from < design.TouchM {
			continue
		}
		p := b
		p.Name = fmt.Sprintf("%s%s%d", b.Name, stripMark, len(list)+1)
		p.Solid, _ = lengthened(b.Solid, b.Place, s.axis, to-from-(hi-lo))
		*component(&p.Place.Center, s.axis) = (from + to) / 2
		list, middles = append(list, p), append(middles, (s.at[i]+s.at[i+1])/2)
	}
	return list, middles
}
