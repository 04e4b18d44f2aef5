// Package buildorder says in which order the parts of a magnet are put together: what moves, along which way, and what stands there already. It
// goes by the parts' places and boxes alone and knows nothing of fields or forces.
//
// The orders are those of the trade (common practice, no source): steel before magnets, one magnet at a time, the halves of a pair finished far
// from each other, then closed over a spacer, legs last; a wound yoke turn by turn; a ring of magnets in the order of least repulsion.
package buildorder

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r3"
)

// Kind is what a part is to its assembly.
type Kind string

// The kinds of parts.
const (
	Magnet Kind = "magnet"
	Steel  Kind = "steel"
	Wound  Kind = "wound" // a yoke wound from wire
	Spacer Kind = "spacer"
)

// Part is a part in its place.
type Part struct {
	Name      string
	Kind      Kind
	Min, Max  r3.Vec // the box round it, m
	Direction r3.Vec // of a magnet's magnetization, a unit vector
	VolumeM3  float64
	Hollow    bool // a ring: its box says nothing of its bore
}

func (p *Part) center() r3.Vec { return r3.Scale(0.5, r3.Add(p.Min, p.Max)) }

// Step moves a group of parts to its place.
type Step struct {
	Title  string
	Moves  []string
	Among  []string // parts that stand in their places near it, none that moves
	Toward r3.Vec   // unit vector along which the group comes to its place; zero where nothing pulls or no straight way is free
	FromM  float64  // distance from its place at which it starts
	Slides bool     // along a face that draws it
	ClearM float64  // of a sliding group: the distance at which it is just beside all that stands
	Grows  bool     // a winding, which grows turn by turn
	Leg    bool     // of a frame, after its halves were closed
	How    []string // fixture and handling
	Hold   []string // what must be so before the next step
}

// Plan is an order of assembly.
type Plan struct {
	Layout  string // what the parts were taken for
	General bool   // no known layout: the general rule
	Steps   []Step
	// Gap is the free box between the poles of a pair, from corner to corner, and Across its axis; both corners alike where there is none.
	GapMin, GapMax r3.Vec
	Across         int
	// LegsFirst is the other order in which a frame may be closed: its legs stand on the lower plate, steel alone, before any magnet is near, and the
	// upper half comes down onto them. It is empty for what has no legs, or where they are in the way.
	LegsFirst []Step
}

// Layouts as they are recognized by the parts alone. A design's own name for its layout goes before them.
const (
	SingleMagnet = "single-block"
	OpenPair     = "facing-pair"
	Frame        = "framed-pair"
	CFrame       = "c-frame"
	Pot          = "round-pot"
	Tips         = "pole-tips"
	WoundPair    = "wound-pair"
	Ring         = "ring of magnets"
	General      = "general"
)

const (
	touchM  = 1e-5 // m within which faces touch
	aligned = 0.999

	// closeFromM is where a half or a leg starts. Common practice, no source: beyond a hand's breadth.
	closeFromM = 0.1
	// clearM is how far beyond the edge of its plate a magnet starts that slides on from the side.
	clearM = 0.04
)

// Order makes a plan for the parts. layout is the name that the design gives to its layout, "" for none.
func Order(parts []Part, layout string) Plan {
	o := order{parts: parts}
	for i := range parts {
		switch p := &parts[i]; p.Kind {
		case Magnet:
			o.magnets = append(o.magnets, p)
		case Steel:
			o.steels = append(o.steels, p)
		case Wound:
			o.wounds = append(o.wounds, p)
		default:
			o.spacers = append(o.spacers, p)
		}
	}
	plan := o.plan()
	if layout != "" && !plan.General {
		plan.Layout = layout
	}
	return plan
}

type order struct {
	parts                            []Part
	magnets, steels, wounds, spacers []*Part
	steps                            []Step
}

func (o *order) plan() Plan {
	if axis, ok := o.ring(); ok {
		o.addRing(axis)
		return Plan{Layout: Ring, Steps: o.steps}
	}
	if w, ok := o.axis(); ok {
		if len(o.magnets) == 1 && len(o.wounds) == 0 {
			if o.addSingle(w) {
				return Plan{Layout: SingleMagnet, Steps: o.steps}
			}
		} else if h, ok := o.halves(w); ok {
			plan := Plan{Layout: o.addPair(h), Across: w}
			plan.Steps, plan.LegsFirst = o.steps, o.legsFirst(h)
			plan.GapMin, plan.GapMax = h.gap()
			return plan
		}
	}
	o.steps = nil
	o.addGeneral()
	return Plan{Layout: General, General: true, Steps: o.steps}
}

// axis is the world axis along which all magnets are magnetized.
func (o *order) axis() (axis int, ok bool) {
	for axis = range 3 {
		if len(o.magnets) > 0 && !slices.ContainsFunc(o.magnets, func(m *Part) bool { return math.Abs(along(m.Direction, axis)) < aligned }) {
			return axis, true
		}
	}
	return 0, false
}

// pair is two halves about a plane across the axis w.
type pair struct {
	w            int
	mid          float64
	lower, upper half
	legs         []*Part // cross the plane
}

// half is one side of a pair, in the order in which its parts stack up from the outside to the gap.
type half struct {
	way                  float64 // towards the gap, along w
	backs, magnets, tips []*Part
}

func (h half) names() (list []string) {
	for _, s := range [][]*Part{h.backs, h.magnets, h.tips} {
		list = append(list, names(s)...)
	}
	return list
}

// halves parts the magnets at the widest gap along w.
func (o *order) halves(w int) (p pair, ok bool) {
	sorted := slices.Clone(o.magnets)
	slices.SortStableFunc(sorted, func(a, b *Part) int { return cmp.Compare(along(a.Min, w), along(b.Min, w)) })
	top, widest := math.Inf(-1), 0.0
	for i, m := range sorted {
		if i > 0 {
			if gap := along(m.Min, w) - top; gap > widest {
				widest, p.mid = gap, top+gap/2
			}
		}
		top = math.Max(top, along(m.Max, w))
	}
	if !(widest > touchM) {
		return p, false
	}
	p.w, p.lower.way, p.upper.way = w, 1, -1
	for _, m := range sorted {
		if along(m.Max, w) < p.mid {
			p.lower.magnets = append(p.lower.magnets, m)
		} else {
			p.upper.magnets = append(p.upper.magnets, m)
		}
	}
	for _, s := range o.steels {
		switch {
		case along(s.Max, w) <= p.mid:
			p.lower.add(s, w)
		case along(s.Min, w) >= p.mid:
			p.upper.add(s, w)
		default:
			p.legs = append(p.legs, s)
		}
	}
	for _, h := range []*half{&p.lower, &p.upper} {
		slices.SortStableFunc(h.tips, func(a, b *Part) int { return cmp.Compare(h.way*along(a.center(), w), h.way*along(b.center(), w)) })
	}
	return p, true
}

// gap is the box between the poles; of no size where they do not face each other.
func (p *pair) gap() (lo, hi r3.Vec) {
	lo, hi = r3.Vec{X: math.Inf(-1), Y: math.Inf(-1), Z: math.Inf(-1)}, r3.Vec{X: math.Inf(1), Y: math.Inf(1), Z: math.Inf(1)}
	for _, h := range []half{p.lower, p.upper} {
		stack := slices.Concat(h.magnets, h.tips)
		face := math.Inf(-1)
		for _, q := range stack {
			face = math.Max(face, h.way*along(inner(q, h.way), p.w))
		}
		a, b := r3.Vec{X: math.Inf(1), Y: math.Inf(1), Z: math.Inf(1)}, r3.Vec{X: math.Inf(-1), Y: math.Inf(-1), Z: math.Inf(-1)}
		for _, q := range stack {
			if h.way*along(inner(q, h.way), p.w) > face-touchM {
				a = r3.Vec{X: math.Min(a.X, q.Min.X), Y: math.Min(a.Y, q.Min.Y), Z: math.Min(a.Z, q.Min.Z)}
				b = r3.Vec{X: math.Max(b.X, q.Max.X), Y: math.Max(b.Y, q.Max.Y), Z: math.Max(b.Z, q.Max.Z)}
			}
		}
		for axis := range 3 {
			l, u := along(a, axis), along(b, axis)
			if axis == p.w {
				l, u = math.Inf(-1), h.way*face
				if h.way > 0 {
					l, u = face, math.Inf(1)
				}
			}
			set(&lo, axis, math.Max(along(lo, axis), l))
			set(&hi, axis, math.Min(along(hi, axis), u))
		}
	}
	for axis := range 3 {
		if !(along(lo, axis) < along(hi, axis)) {
			return r3.Vec{}, r3.Vec{}
		}
	}
	return lo, hi
}

// inner is the corner of a part that lies towards the gap.
func inner(p *Part, way float64) r3.Vec {
	if way > 0 {
		return p.Max
	}
	return p.Min
}

// add takes a steel part as a tip where it stands between a magnet and the gap, else as a back.
func (h *half) add(s *Part, w int) {
	inner := math.Inf(1)
	for _, m := range h.magnets {
		inner = math.Min(inner, h.way*along(m.center(), w))
	}
	if h.way*along(s.center(), w) > inner {
		h.tips = append(h.tips, s)
	} else {
		h.backs = append(h.backs, s)
	}
}

func (o *order) addSingle(w int) bool {
	m := o.magnets[0]
	for _, s := range o.steels {
		if !touches(s, m) {
			return false
		}
	}
	o.setDown(o.steels)
	o.slideOn(m, names(o.steels), w)
	o.addSpacers()
	return true
}

// CloseHalves is the title of the step in which a pair without a winding is closed.
const CloseHalves = "Close the halves"

// addPair adds the steps of a pair and tells what kind it is.
func (o *order) addPair(p pair) (layout string) {
	wall := slices.ContainsFunc(p.legs, func(l *Part) bool { return l.Hollow })
	switch {
	case len(o.wounds) > 0:
		layout = WoundPair
	case wall:
		layout = Pot
	case len(p.lower.tips)+len(p.upper.tips) > 0:
		layout = Tips
	case len(p.legs) == 1:
		layout = CFrame
	case len(p.legs) > 1:
		layout = Frame
	default:
		layout = OpenPair
	}
	lower := p.lower.backs
	if wall { // a wall without a magnet near is harmless, and guides the magnet
		lower = slices.Concat(lower, p.legs)
	}
	o.setDown(lower)
	stand := o.stack(p.lower, names(lower), p.w, wall)
	o.setDown(p.upper.backs)
	o.stack(p.upper, names(p.upper.backs), p.w, wall)
	o.addSpacers()

	toward := unit(p.w, -1)
	closing := Step{Title: CloseHalves, Moves: p.upper.names(), Among: stand, Toward: toward, FromM: closeFromM,
		How: []string{
			"The spacer stands before anything moves: below it the gap cannot close.",
			"Lower the upper half on jack screws, the screws in turn by half a turn at most, dowels through both plates.",
		},
		Hold: []string{"The half rests on its spacer all round, checked with a feeler gauge, before a screw is slackened."}}
	if len(o.wounds) > 0 {
		closing.Title = "Close the magnets over the spacer"
		closing.How = []string{"Both magnets go into the non-magnetic former with the spacer between them.", "Lower the upper magnet on screws or a press; clamp the former shut before anything is let go."}
		closing.Hold = []string{"The former is clamped: the magnets cannot move when the winding turns their pull round."}
	}
	o.steps = append(o.steps, closing)
	stand = append(slices.Clone(stand), closing.Moves...)
	if !wall {
		o.addLegs(p.legs, stand)
		stand = append(stand, names(p.legs)...)
	}
	o.addWounds(stand)
	return layout
}

// legsFirst is the order of a pair whose legs stand from the beginning, if every way to the lower half is free with them there.
func (o *order) legsFirst(p pair) (list []Step) {
	if len(p.legs) == 0 || len(o.wounds) > 0 || slices.ContainsFunc(p.legs, func(l *Part) bool { return l.Hollow }) {
		return nil
	}
	legs := names(p.legs)
	first := order{parts: o.parts}
	first.setDown(slices.Concat(p.lower.backs, p.legs))
	list = first.steps
	for _, s := range o.steps {
		switch {
		case s.Leg || slices.Equal(s.Moves, names(p.lower.backs)):
			continue
		case s.Title == CloseHalves, p.lower.has(s.Moves):
			if s.Slides {
				s.FromM -= s.ClearM
				s.ClearM = o.clearance(o.find(s.Moves[0]), slices.Concat(s.Among, legs), s.Toward)
				s.FromM += s.ClearM
			}
			if !o.freeStep(s, legs) {
				return nil
			}
			if len(s.Among) > 0 {
				s.Among = slices.Concat(s.Among, legs)
			}
		}
		list = append(list, s)
	}
	return list
}

// has tells whether parts are of this half.
func (h half) has(moves []string) bool { return slices.Contains(h.names(), moves[0]) }

// freeStep tells whether a step's parts come to their places past others.
func (o *order) freeStep(s Step, others []string) bool {
	var moves []*Part
	for _, name := range s.Moves {
		moves = append(moves, o.find(name))
	}
	return o.free(moves, s.Toward, s.FromM, others)
}

// stack builds a half: magnets onto the backs, tips onto the magnets. It gives all that stands then.
func (o *order) stack(h half, stand []string, w int, within bool) []string {
	stand = slices.Clone(stand)
	last := slices.Clone(h.magnets)
	slices.SortStableFunc(last, func(a, b *Part) int { return cmp.Compare(o.fromMiddle(b), o.fromMiddle(a)) })
	for _, m := range last {
		switch {
		case len(stand) == 0:
			o.setInto(m)
		case within || m.Hollow:
			o.steps = append(o.steps, Step{Title: fmt.Sprintf("Lower %q onto its plate", m.Name), Moves: []string{m.Name}, Among: slices.Clone(stand), Toward: unit(w, -h.way), FromM: closeFromM,
				How: []string{"Lower it in a non-magnetic guide on a screw; a lone magnet cannot be let down by hand."}, Hold: glued})
		default:
			o.slideOn(m, stand, w)
		}
		stand = append(stand, m.Name)
	}
	for _, t := range stacks(h.tips) {
		list := names(t)
		s := Step{Title: fmt.Sprintf("Lower %s onto the magnet", listed(quoted(list))), Moves: list, Among: slices.Clone(stand), Toward: unit(w, -h.way), FromM: closeFromM,
			How: []string{"Guide it by a non-magnetic ring or pins: it lands where it likes and will not be pushed to the middle afterwards."}, Hold: []string{"It sits central, checked by a turned gauge."}}
		if len(t) > 1 {
			s.How = slices.Insert(s.How, 0, "Join the pieces first, steel alone on the bench, and let the glue cure: a thin rim cannot be held near a magnet.")
		}
		o.steps = append(o.steps, s)
		stand = append(stand, list...)
	}
	return stand
}

// stacks parts the steel on a pole into what touches, such as a tip with its rim, which is one piece before it comes near a magnet.
func stacks(tips []*Part) (list [][]*Part) {
	for _, t := range tips {
		if n := len(list) - 1; n >= 0 && slices.ContainsFunc(list[n], func(p *Part) bool { return touches(p, t) }) {
			list[n] = append(list[n], t)
		} else {
			list = append(list, []*Part{t})
		}
	}
	return list
}

func quoted(names []string) (out []string) {
	for _, n := range names {
		out = append(out, fmt.Sprintf("%q", n))
	}
	return out
}

var glued = []string{"Polarity is checked against a marked magnet before glue; the glue has cured before the next magnet is unpacked."}

// setDown adds a step for steel that no magnet is near.
func (o *order) setDown(list []*Part) {
	if len(list) > 0 {
		o.steps = append(o.steps, Step{Title: "Set down " + listed(names(list)), Moves: names(list),
			How: []string{"Steel alone: deburr, clean off every chip, fit screws and dowels now. No magnet is in the room."}})
	}
}

// setInto adds a step for a magnet that nothing is near.
func (o *order) setInto(m *Part) {
	o.steps = append(o.steps, Step{Title: fmt.Sprintf("Set %q into its holder", m.Name), Moves: []string{m.Name},
		How: []string{"Alone it pulls on nothing here; keep it 0.5 m from the other magnets and from all steel."}})
}

// slideOn brings a magnet onto its plate from the side, pole to plate.
func (o *order) slideOn(m *Part, among []string, w int) {
	if len(among) == 0 {
		o.setInto(m)
		return
	}
	s := Step{Title: fmt.Sprintf("Slide %q onto its plate", m.Name), Moves: []string{m.Name}, Among: slices.Clone(among), Slides: true,
		How:  []string{"Slide it in from the side along plastic or aluminium rails, pole to plate, over a plastic sheet that is drawn out last; a stop holds the far end."},
		Hold: glued}
	var clear float64
	for axis := range 3 {
		if axis == w {
			continue
		}
		for _, way := range []float64{-1, 1} { // the way in which it comes
			toward := unit(axis, way)
			from := o.clearance(m, among, toward)
			if from <= 0 || s.FromM > 0 && from > s.FromM-touchM {
				continue
			}
			if o.free([]*Part{m}, toward, from+clearM, among) {
				s.Toward, s.FromM, clear = toward, from, from
			}
		}
	}
	if s.ClearM = clear; clear > 0 {
		s.FromM += clearM
	} else {
		s.How = append(s.How, "No straight way from the side is free by the boxes of the parts.")
		s.Slides = false
	}
	o.steps = append(o.steps, s)
}

// clearance is how far a part is moved back from its place until it is beside all that stands.
func (o *order) clearance(m *Part, among []string, toward r3.Vec) (far float64) {
	for _, name := range among {
		p := o.find(name)
		for axis := range 3 {
			switch c := along(toward, axis); {
			case c > 0: // it comes from below
				far = math.Max(far, along(m.Max, axis)-along(p.Min, axis))
			case c < 0:
				far = math.Max(far, along(p.Max, axis)-along(m.Min, axis))
			}
		}
	}
	return far
}

// addLegs slides legs in from outside, the heavier first.
func (o *order) addLegs(legs []*Part, stand []string) {
	stand = slices.Clone(stand)
	for _, l := range legs {
		s := Step{Title: fmt.Sprintf("Slide in %q", l.Name), Moves: []string{l.Name}, Among: slices.Clone(stand), FromM: closeFromM, Leg: true,
			How: []string{"Slide it in from the side between drift guides, on a screw; hands stay behind a push stick."}, Hold: []string{"The leg is screwed home before the next one comes near."}}
		if s.Toward = o.wayIn([]*Part{l}, stand, closeFromM); s.Toward != (r3.Vec{}) {
			s.ClearM = o.clearance(l, stand, s.Toward)
			s.FromM = math.Max(closeFromM, s.ClearM+clearM)
		}
		s.Slides = s.ClearM > 0
		o.steps = append(o.steps, s)
		stand = append(stand, l.Name)
	}
}

func (o *order) addSpacers() {
	if len(o.spacers) > 0 {
		o.steps = append(o.steps, Step{Title: "Set up " + listed(names(o.spacers)), Moves: names(o.spacers),
			How: []string{"Non-magnetic: tested with a small hung magnet, each screw too. It bears the pull of the halves from now on."}})
	}
}

func (o *order) addWounds(stand []string) {
	for _, w := range o.wounds {
		o.steps = append(o.steps, Step{Title: fmt.Sprintf("Wind %q", w.Name), Moves: []string{w.Name}, Among: slices.Clone(stand), Grows: true,
			How: []string{
				"Wind turn by turn: no heavy steel comes near, each turn adds a little pull.",
				"Spool and pliers are steel: the spool stays outside the few-millitesla line, the wire comes through a brass or ceramic eye; tools of brass or titanium; goggles.",
			},
			Hold: []string{"The wire's end is locked before it is let go."}})
		stand = append(stand, w.Name)
	}
}

// addGeneral follows the general rule: steel first, magnets one at a time from outside in, legs last.
func (o *order) addGeneral() {
	var first, legs []*Part
	for _, s := range o.steels {
		if slices.ContainsFunc(o.magnets, func(m *Part) bool { return touches(s, m) }) || len(o.magnets) == 0 {
			first = append(first, s)
		} else {
			legs = append(legs, s)
		}
	}
	if len(first) == 0 {
		first, legs = legs, nil
	}
	o.setDown(first)
	o.addSpacers()
	stand := names(first)
	magnets := slices.Clone(o.magnets)
	slices.SortStableFunc(magnets, func(a, b *Part) int { return cmp.Compare(o.fromMiddle(b), o.fromMiddle(a)) })
	for _, m := range magnets {
		s := Step{Title: fmt.Sprintf("Bring %q to its place", m.Name), Moves: []string{m.Name}, Among: slices.Clone(stand), FromM: closeFromM,
			How: []string{"On a screw or pusher in a non-magnetic guide, captured before it is let go."}, Hold: glued}
		if len(stand) > 0 {
			s.Toward = o.wayIn([]*Part{m}, stand, closeFromM)
		}
		o.steps = append(o.steps, s)
		stand = append(stand, m.Name)
	}
	o.addLegs(legs, stand)
	o.addWounds(append(stand, names(legs)...))
}

// wayIn is the straight way along a world axis that is free, from the side of the assembly that the parts are nearest to; zero for none.
func (o *order) wayIn(moves []*Part, among []string, from float64) (best r3.Vec) {
	c := moves[0].center()
	middle := o.middle()
	most := math.Inf(-1)
	for axis := range 3 {
		for _, way := range []float64{-1, 1} {
			toward := unit(axis, way)
			out := -way * (along(c, axis) - along(middle, axis)) // how far outside it already is on that side
			if out > most+touchM && o.free(moves, toward, from, among) {
				most, best = out, toward
			}
		}
	}
	return best
}

// free tells whether parts that come along a way from a distance meet none of those that stand, by their boxes.
func (o *order) free(moves []*Part, toward r3.Vec, from float64, among []string) bool {
	back := r3.Scale(-from, toward)
	for _, m := range moves {
		start, end := r3.Add(m.Min, back), r3.Add(m.Max, back)
		for _, name := range among {
			p := o.find(name)
			hit := true
			for axis := range 3 {
				lo, hi := math.Min(along(m.Min, axis), along(start, axis)), math.Max(along(m.Max, axis), along(end, axis))
				if lo >= along(p.Max, axis)-touchM || hi <= along(p.Min, axis)+touchM {
					hit = false
				}
			}
			if hit {
				return false
			}
		}
	}
	return true
}

func (o *order) find(name string) *Part {
	i := slices.IndexFunc(o.parts, func(p Part) bool { return p.Name == name })
	return &o.parts[i]
}

func (o *order) middle() (c r3.Vec) {
	for i := range o.parts {
		c = r3.Add(c, r3.Scale(1/float64(len(o.parts)), o.parts[i].center()))
	}
	return c
}

func (o *order) fromMiddle(p *Part) float64 {
	// Rounded, so that what lies alike keeps the order of the file.
	return math.Round(r3.Norm(r3.Sub(p.center(), o.middle()))/touchM) * touchM
}

// touches tells whether two parts' boxes touch.
func touches(a, b *Part) bool {
	for axis := range 3 {
		if along(a.Min, axis) > along(b.Max, axis)+touchM || along(b.Min, axis) > along(a.Max, axis)+touchM {
			return false
		}
	}
	return true
}

func names(list []*Part) (out []string) {
	for _, p := range list {
		out = append(out, p.Name)
	}
	return out
}

// listed names parts in a title.
func listed(list []string) string {
	switch n := len(list); {
	case n == 1:
		return list[0]
	case n == 2:
		return list[0] + " and " + list[1]
	default:
		return fmt.Sprintf("%s and %d more", list[0], n-1)
	}
}

func along(v r3.Vec, axis int) float64 { return [3]float64{v.X, v.Y, v.Z}[axis] }

func set(v *r3.Vec, axis int, x float64) { *[3]*float64{&v.X, &v.Y, &v.Z}[axis] = x }

func unit(axis int, way float64) r3.Vec {
	return [3]r3.Vec{{X: way}, {Y: way}, {Z: way}}[axis]
}
