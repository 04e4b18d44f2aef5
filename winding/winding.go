// Package winding holds the know-how of a yoke wound turn by turn from steel wire round a rectangular core: how the wire
// lies, how many turns a layer takes, how long and heavy it gets, how long it takes by hand, how much flux it carries, and
// what the log of its readings says. It solves no fields. Units are SI.
package winding

import (
	"cmp"
	"fmt"
	"math"

	"polewright/mistake"
)

// How the wire can lie.
const (
	Square = "square" // wire over wire: every layer as many turns as the width takes, layers one wire diameter apart
	Nested = "nested" // wire in the grooves of the layer below: layers d·√3/2 apart, every second one shifted by d/2
	Random = "random" // as it comes
)

// Limits of the packing, the share of the section that is steel, for a wide and deep winding of round wire.
const (
	SquareLimit = math.Pi / 4                  // 0.7854, wire over wire
	NestedLimit = math.Pi / (2 * sqrt3)        // 0.9069, hexagonal: no round wire can lie denser (A. Thue 1910, L. Fejes Tóth 1940)
	sqrt3       = 1.73205080756887729352744634 // √3
)

// Figures of the workshop; common practice, no source, unless said.
const (
	randomPacking  = 0.65  // wild hand winding of bare wire, 0.55 to 0.75
	leastPacking   = 0.2   // looser is no winding
	paceLow        = 6     // turns a minute by hand
	paceHigh       = 10    //
	tensionLowPa   = 10e6  // winding tension: 20 to 30 N for 1.6 mm
	tensionHighPa  = 15e6  //
	yieldPa        = 150e6 // of annealed low-carbon wire; stay well below
	defaultDensity = 7850  // low-carbon steel, kg/m³, from memory
	maxTurns       = 1_000_000
	maxSize        = 100.0 // m
	thinnest       = 1e-5  // m; no yoke is wound of finer wire
)

// Plan is what the builder decides. Lengths in metres.
type Plan struct {
	CoreX, CoreY float64 // the core's section, round which the wire runs
	CornerRadius float64 // of the core, 0 to half its shorter side
	Width        float64 // between the flanges, along the spool's axis
	Room         float64 // radial space for the winding; 0 is no limit

	WireDiameter float64
	Density      float64 // of the wire, kg/m³; 0 is 7850

	// Lay is Square, Nested or Random; Packing the share of the section (width × build) that is steel. One of them is enough. Square and Nested alone
	// are the ideal lay, which a hand winding hardly reaches: 0.70 to 0.80 is good (common practice, no source). Random alone is packed 0.65. With
	// Packing the layers keep the lay's turns, and each is as high as its turns need to fill the section to just that share.
	Lay     string
	Packing float64

	// Turns or Build, the radial thickness of the winding: exactly one.
	Turns int
	Build float64
}

// Layer is a line of the winding sheet.
type Layer struct {
	Layer   int     `json:"layer"` // from 1, the innermost
	Turns   int     `json:"turns"`
	LengthM float64 `json:"length_m"` // wire in this layer
	// OuterM is the outside size of the winding over this layer, along the core's longer side: what a caliper reads.
	OuterM         float64 `json:"outer_m"`
	RunningTurns   int     `json:"running_turns"` // up to this layer, with it
	RunningLengthM float64 `json:"running_length_m"`
	RunningMassKg  float64 `json:"running_mass_kg"`
}

// Sheet is the winding sheet.
type Sheet struct {
	Layers      []Layer `json:"layers"`
	Turns       int     `json:"turns"`
	WireLengthM float64 `json:"wire_length_m"`
	WireMassKg  float64 `json:"wire_mass_kg"`
	MassPerM    float64 `json:"wire_mass_kg_per_m"`
	Section
	OuterXM float64 `json:"outer_x_m"` // outside size of the winding
	OuterYM float64 `json:"outer_y_m"`
	// HoursLow and HoursHigh bound the winding time by hand, at 10 and 6 turns a minute (common practice, no source).
	HoursLow  float64 `json:"hours_low"`
	HoursHigh float64 `json:"hours_high"`
	// TensionLowN and TensionHighN bound the pull by hand, 10 to 15 N/mm² of wire; at YieldN annealed wire begins to
	// stretch (common practice, no source).
	TensionLowN  float64  `json:"tension_low_N"`
	TensionHighN float64  `json:"tension_high_N"`
	YieldN       float64  `json:"yield_N"`
	Notes        []string `json:"notes"`
}

// Section is the cross-section of one side of the winding: Width wide, BuildM thick, steel by the share Packing.
type Section struct {
	BuildM      float64 `json:"build_m"`
	Packing     float64 `json:"packing"`
	SteelAreaM2 float64 `json:"steel_area_m2"` // turns · π d²/4
}

// lay is how the wire lies: turns in the first, third, ... and in the second, fourth, ... layer, and how high.
type lay struct {
	odd, even int
	step      float64 // ideal lay: from layer to layer
	packing   float64 // 0: as the ideal lay has it
	perTurn   float64 // packing given: what a turn adds to the build
}

// Wind works the winding sheet out. Errors say which value is out of reach and what would do.
func Wind(p Plan) (Sheet, error) {
	l, err := p.lay()
	if err != nil {
		return Sheet{}, err
	}
	turns, err := p.turns(l)
	if err != nil {
		return Sheet{}, err
	}
	section, err := p.Section(turns)
	if err != nil {
		return Sheet{}, err
	}
	density := cmp.Or(p.Density, defaultDensity)
	wire := wireArea(p.WireDiameter)
	s := Sheet{
		Turns: turns, Section: section, MassPerM: density * wire,
		OuterXM: p.CoreX + 2*section.BuildM, OuterYM: p.CoreY + 2*section.BuildM,
		HoursLow: float64(turns) / paceHigh / 60, HoursHigh: float64(turns) / paceLow / 60,
		TensionLowN: tensionLowPa * wire, TensionHighN: tensionHighPa * wire, YieldN: yieldPa * wire,
	}
	for k := 0; s.lastTurn() < turns; k++ {
		n := l.odd
		if k%2 == 1 {
			n = l.even
		}
		n = min(n, turns-s.lastTurn())
		top := p.WireDiameter + float64(k)*l.step
		centre := top - p.WireDiameter/2
		if l.packing > 0 {
			top = float64(s.lastTurn()+n) * l.perTurn
			centre = top - float64(n)*l.perTurn/2
		}
		length := float64(n) * p.TurnLength(centre)
		s.WireLengthM += length
		s.Layers = append(s.Layers, Layer{
			Layer: k + 1, Turns: n, LengthM: length,
			OuterM:         max(p.CoreX, p.CoreY) + 2*top,
			RunningTurns:   s.lastTurn() + n,
			RunningLengthM: s.WireLengthM, RunningMassKg: s.WireLengthM * s.MassPerM,
		})
	}
	s.WireMassKg = s.WireLengthM * s.MassPerM
	s.Notes = p.notes(section)
	return s, nil
}

func (s *Sheet) lastTurn() int {
	if len(s.Layers) == 0 {
		return 0
	}
	return s.Layers[len(s.Layers)-1].RunningTurns
}

// Section gives the winding's section at a number of turns, whatever Turns and Build say: with the core and the width it
// is a racetrack of that many turns. With a given packing the build is turns·(π d²/4)/(packing·width) and grows evenly;
// else it grows layer by layer, and Packing is what a last layer not yet full leaves of it.
func (p Plan) Section(turns int) (Section, error) {
	l, err := p.lay()
	if err != nil {
		return Section{}, err
	}
	if turns < 1 || turns > maxTurns {
		return Section{}, mistake.Of(fmt.Sprintf("%d turns are out of reach", turns), fmt.Sprintf("give 1 to %d", maxTurns))
	}
	steel := float64(turns) * wireArea(p.WireDiameter)
	s := Section{SteelAreaM2: steel, Packing: l.packing}
	if l.packing > 0 {
		s.BuildM = float64(turns) * l.perTurn
	} else {
		s.BuildM = p.WireDiameter + float64(l.layers(turns)-1)*l.step
		s.Packing = steel / (s.BuildM * p.Width)
	}
	if p.Room > 0 && s.BuildM > p.Room*(1+1e-9) {
		return Section{}, mistake.Of(fmt.Sprintf("%d turns build up %.4g mm, but there is room for %.4g mm, which takes %d turns", turns, s.BuildM*1e3, p.Room*1e3, p.fitting(l, p.Room)), "wind fewer, or make the winding wider")
	}
	if s.BuildM > maxSize {
		return Section{}, mistake.Of(fmt.Sprintf("%d turns build up %.4g m", turns, s.BuildM), "give a width that holds more turns a layer")
	}
	return s, nil
}

// TurnLength is the wire of one turn whose centre line lies at height r over the core: the straight sides, and corners that
// are arcs about the centres of the core's corners.
func (p Plan) TurnLength(r float64) float64 {
	return 2*(p.CoreX+p.CoreY) - 8*p.CornerRadius + 2*math.Pi*(p.CornerRadius+r)
}

// turns is what the plan asks for, as a number of turns.
func (p Plan) turns(l lay) (int, error) {
	switch {
	case p.Turns == 0 && p.Build == 0:
		return 0, mistake.Of("neither turns nor build", "give one, such as turns = 1500 or build = \"12 mm\"")
	case p.Turns != 0 && p.Build != 0:
		return 0, mistake.Of("both turns and build", "give one, the other follows")
	case p.Turns != 0:
		return p.Turns, nil // Section has the bounds
	case !(p.Build > 0 && p.Build <= maxSize):
		return 0, mistake.Of(fmt.Sprintf("the build %g m is not above 0 and up to %g m", p.Build, maxSize), "give the radial thickness, such as \"12 mm\"")
	}
	if p.Build < p.WireDiameter*(1-1e-9) {
		return 0, mistake.Of(fmt.Sprintf("the build, %.4g mm, is thinner than the wire", p.Build*1e3), fmt.Sprintf("give at least one layer, %.4g mm", p.WireDiameter*1e3))
	}
	n := p.fitting(l, p.Build)
	if n > maxTurns {
		return 0, mistake.Of(fmt.Sprintf("a build of %.4g mm holds more than %d turns", p.Build*1e3, maxTurns), fmt.Sprintf("is the wire %.4g mm?", p.WireDiameter*1e3))
	}
	return n, nil
}

// fitting is the number of turns that build holds, in full layers unless the packing is given; past maxTurns it stops there by 1.
func (p Plan) fitting(l lay, build float64) int {
	const beyond = maxTurns + 1
	if l.packing > 0 {
		return int(min(build/l.perTurn+1e-6, beyond))
	}
	layers := int(max(0, min((build-p.WireDiameter)/l.step+1+1e-6, beyond)))
	return min((layers+1)/2*l.odd+layers/2*l.even, beyond)
}

// layers is the number of layers that turns take.
func (l lay) layers(turns int) int {
	pair := l.odd + l.even
	n := 2 * (turns / pair)
	switch rest := turns % pair; {
	case rest > l.odd:
		n += 2
	case rest > 0:
		n++
	}
	return n
}

// lay checks the plan and finds how its wire lies.
func (p Plan) lay() (lay, error) {
	for _, v := range []struct {
		what string
		m    float64
		like string
	}{
		{"the core's x size", p.CoreX, "60 mm"}, {"the core's y size", p.CoreY, "100 mm"},
		{"the width", p.Width, "40 mm"}, {"the wire's diameter", p.WireDiameter, "1.6 mm"},
	} {
		if !(v.m > 0 && v.m <= maxSize) {
			return lay{}, mistake.Of(fmt.Sprintf("%s, %g m, is not above 0 and up to %g m", v.what, v.m, maxSize), fmt.Sprintf("give for example %q", v.like))
		}
	}
	d, w := p.WireDiameter, p.Width
	if half := min(p.CoreX, p.CoreY) / 2; !(p.CornerRadius >= 0 && p.CornerRadius <= half) {
		return lay{}, mistake.Of(fmt.Sprintf("the core's corner radius, %.4g mm, is not from 0 to half its shorter side, %.4g mm", p.CornerRadius*1e3, half*1e3), "")
	}
	if !(p.Room >= 0 && p.Room <= maxSize) {
		return lay{}, mistake.Of(fmt.Sprintf("the room for the winding, %g m, is not from 0 to %g m", p.Room, maxSize), "0 is no limit")
	}
	if !(p.Density >= 0 && p.Density <= 3e4) {
		return lay{}, mistake.Of(fmt.Sprintf("the wire's density, %g kg/m3, is not from 0 to 30000", p.Density), "steel has 7850, which 0 stands for")
	}
	if d < thinnest {
		return lay{}, mistake.Of(fmt.Sprintf("the wire's diameter, %g mm, is under %g mm", d*1e3, thinnest*1e3), "is it in the right unit?")
	}
	across := w / d
	if across > maxTurns {
		return lay{}, mistake.Of(fmt.Sprintf("the wire's diameter, %g mm, is out of proportion to the width, %g mm", d*1e3, w*1e3), "")
	}
	n := int(across + 1e-6)
	if n < 1 {
		return lay{}, mistake.Of(fmt.Sprintf("the width, %.4g mm, does not take one turn of %.4g mm wire", w*1e3, d*1e3), "give a wider spool or thinner wire")
	}
	l := lay{odd: n, even: n, step: d, packing: p.Packing}
	limit, name := NestedLimit, "round wire in any lay"
	switch p.Lay {
	case Square:
		limit, name = SquareLimit, "square lay, wire over wire"
	case Nested:
		name = "nested lay, wire in the grooves"
		l.even, l.step = int(across-0.5+1e-6), d*sqrt3/2
		if l.even < 1 {
			return lay{}, mistake.Of(fmt.Sprintf("nested lay takes a width of at least 1.5 wire diameters, %.4g mm", 1.5*d*1e3), "lay the wire square, or widen the spool")
		}
	case Random:
		l.packing = cmp.Or(l.packing, randomPacking)
	case "":
		if l.packing == 0 {
			return lay{}, mistake.Of("neither lay nor packing", "give lay = \"square\", \"nested\" or \"random\", or the packing, 0.7 to 0.8 for orderly winding by hand")
		}
	default:
		return lay{}, mistake.Of(fmt.Sprintf("no lay %.40q", p.Lay), "there are square, nested and random; or give the packing")
	}
	if l.packing == 0 {
		return l, nil
	}
	if !(l.packing >= leastPacking && l.packing <= limit) {
		return lay{}, mistake.Of(fmt.Sprintf("the packing %g is not from %g to %.4f, the limit of %s", l.packing, leastPacking, limit, name), "orderly winding by hand reaches 0.70 to 0.80")
	}
	reach := float64(l.odd+l.even) / 2 * wireArea(d) / (w * l.step)
	if (p.Lay == Square || p.Lay == Nested) && l.packing > reach*(1+1e-9) {
		return lay{}, mistake.Of(fmt.Sprintf("the packing %g is out of reach of a %s lay %.4g mm wide with %.4g mm wire, which has %.4f: the last turn of a layer leaves a gap at the flange", l.packing, p.Lay, w*1e3, d*1e3, reach), "ask for less, or for a width of a whole number of wires")
	}
	l.perTurn = wireArea(d) / (l.packing * w)
	return l, nil
}

func (p Plan) notes(s Section) []string {
	notes := []string{"Measure the wire and use its mean diameter: a gauge number is a different size in each system, and 2 % of diameter are 4 % of steel."}
	if p.Packing == 0 && p.Lay != Random {
		notes = append(notes, fmt.Sprintf("This is the ideal %s lay, packed %.2f. By hand expect 80 to 90 %% of the turns in the same room; press the flat sides every layer (common practice, no source).", p.Lay, s.Packing))
	}
	if p.Packing == 0 && p.Lay == Random {
		notes = append(notes, fmt.Sprintf("Packed %.2f, as wild winding by hand comes out, give or take 0.1 (common practice, no source): measure the build as you go.", s.Packing))
	}
	if p.CornerRadius < p.WireDiameter {
		notes = append(notes, "Round the core's corners by a wire diameter or more: over a sharp one the first layers stand off.")
	}
	return notes
}

func wireArea(d float64) float64 { return math.Pi / 4 * d * d }
