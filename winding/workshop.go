package winding

import (
	"cmp"
	"fmt"
	"math"

	"polewright/mistake"
)

// Workshop is what the winder has: wire as it is sold, a pace and a crank. Zero values stand for the defaults.
type Workshop struct {
	SpoolKg float64 // wire on one spool, kg
	SpoolM  float64 // in its place, its length, m; neither: SpoolDefaultKg
	Pace    float64 // turns a minute; 0: 6 to 10, by hand
	CrankM  float64 // from the axis to the crank's handle, m; 0: CrankDefaultM
}

// Defaults of the workshop; common practice, no source.
const (
	SpoolDefaultKg = 1.5   // a small coil of tie wire; large ones hold 5 to 25 kg
	CrankDefaultM  = 0.150 // a hand winder's
	Spare          = 0.03  // share of wire beyond the turns: ends, kinks, joins
)

// Preparation is what to buy, to make and to expect before winding begins.
type Preparation struct {
	Spools Spools `json:"spools"`
	Effort Effort `json:"effort"`
	Bobbin Bobbin `json:"bobbin"`
	// NonMagnetic says what must not be of steel, and why.
	NonMagnetic []string `json:"non_magnetic"`
}

// Spools is the wire to buy.
type Spools struct {
	Count   int     `json:"count"`
	EachM   float64 `json:"each_m"`
	EachKg  float64 `json:"each_kg"`
	NeededM float64 `json:"needed_m"` // with Spare
	LeftM   float64 `json:"left_m"`   // on the last one
	Assumed bool    `json:"assumed"`  // the size of a spool is the default
	Ends    []End   `json:"ends"`     // where spools run out, at most maxEnds of them
}

// End is the turn on which a spool runs out.
type End struct {
	Spool int `json:"spool"`
	Turn  int `json:"turn"`
	Layer int `json:"layer"`
}

// Effort is what winding asks of the hands.
type Effort struct {
	Pace         float64 `json:"turns_per_minute"` // 0: 10 to 6
	HoursLow     float64 `json:"hours_low"`
	HoursHigh    float64 `json:"hours_high"`
	LeverM       float64 `json:"lever_m"` // the wire's longest arm about the axis, over a corner of the last layer
	TorqueLowNm  float64 `json:"torque_low_N_m"`
	TorqueHighNm float64 `json:"torque_high_N_m"`
	CrankM       float64 `json:"crank_m"`
	HandLowN     float64 `json:"hand_force_low_N"` // on the crank's handle
	HandHighN    float64 `json:"hand_force_high_N"`
}

// Bobbin is the former to wind on: a core with a flange at each end.
type Bobbin struct {
	CoreM      [2]float64 `json:"core_m"`             // section, as the design has it
	WidthM     float64    `json:"width_m"`            // between the flanges
	FlangeM    [2]float64 `json:"flange_m"`           // outside size of a flange
	ThicknessM float64    `json:"flange_thickness_m"` // at least, of aluminium
	SlotM      float64    `json:"wire_slot_m"`        // in a flange, for the wire's beginning
	SlackM     float64    `json:"width_slack_m"`      // what a full layer leaves free between the flanges; below 0 it does not fit
	PocketM    float64    `json:"pocket_clearance_m"` // a side, round the magnets in the core
}

// Clearances and sizes of a bobbin; common practice, no source.
const (
	flangeRim     = 5e-3   // that the flange stands out over the last layer, or 3 wire diameters
	flangeThick   = 6e-3   // or shareOfBuild: a deep winding wedges the flanges apart
	shareOfBuild  = 0.5    //
	slotDiameters = 1.5    //
	pocket        = 0.1e-3 // a side, for magnets that slide in by hand
)

// Prepare works out what a sheet asks of the workshop. Errors say which value is out of reach and what would do.
func (p Plan) Prepare(s Sheet, w Workshop) (Preparation, error) {
	switch {
	case w.SpoolKg != 0 && w.SpoolM != 0:
		return Preparation{}, mistake.Of(fmt.Sprintf("a spool of %g kg and of %g m", w.SpoolKg, w.SpoolM), "give one of them")
	case !(w.SpoolKg >= 0 && w.SpoolKg <= 1e5) || !(w.SpoolM >= 0 && w.SpoolM <= 1e7):
		return Preparation{}, mistake.Of(fmt.Sprintf("a spool of %g kg, %g m is out of reach", w.SpoolKg, w.SpoolM), "give for example \"1.5 kg\" or \"100 m\"")
	case !(w.Pace >= 0 && w.Pace <= 1e5):
		return Preparation{}, mistake.Of(fmt.Sprintf("a pace of %g turns a minute is out of reach", w.Pace), "by hand it is 6 to 10")
	case !(w.CrankM == 0 || w.CrankM >= 0.01 && w.CrankM <= 2):
		return Preparation{}, mistake.Of(fmt.Sprintf("a crank of %g m is out of reach", w.CrankM), "give for example \"150 mm\"")
	}
	return Preparation{Spools: s.spools(w), Effort: p.effort(s, w), Bobbin: p.bobbin(s), NonMagnetic: nonMagnetic}, nil
}

// maxEnds is how many ends of spools are listed; who needs more winds from a drum.
const maxEnds = 100

func (s *Sheet) spools(w Workshop) Spools {
	o := Spools{EachM: w.SpoolM, NeededM: s.WireLengthM * (1 + Spare), Ends: []End{}, Assumed: w.SpoolM == 0 && w.SpoolKg == 0}
	if o.EachM == 0 {
		kg := w.SpoolKg
		if o.Assumed {
			kg = SpoolDefaultKg
		}
		o.EachM = kg / s.MassPerM
	}
	o.EachKg = o.EachM * s.MassPerM
	o.Count = max(1, int(math.Ceil(math.Min(o.NeededM/o.EachM-1e-9, 1e9))))
	o.LeftM = float64(o.Count)*o.EachM - o.NeededM
	for k := 1; k < o.Count && k <= maxEnds; k++ {
		turn, layer := s.after(float64(k) * o.EachM / (1 + Spare))
		o.Ends = append(o.Ends, End{k, turn, layer})
	}
	return o
}

// after is the turn, and its layer, that a length of wire reaches.
func (s *Sheet) after(length float64) (turn, layer int) {
	before := 0.0
	for _, l := range s.Layers {
		if length <= l.RunningLengthM {
			share := (length - before) / l.LengthM
			return l.RunningTurns - l.Turns + int(share*float64(l.Turns)), l.Layer
		}
		before = l.RunningLengthM
	}
	return s.Turns, len(s.Layers)
}

func (p Plan) effort(s Sheet, w Workshop) Effort {
	e := Effort{Pace: w.Pace, HoursLow: s.HoursLow, HoursHigh: s.HoursHigh, CrankM: w.CrankM}
	if e.Pace > 0 {
		e.HoursLow = float64(s.Turns) / e.Pace / 60
		e.HoursHigh = e.HoursLow
	}
	e.CrankM = cmp.Or(e.CrankM, CrankDefaultM)
	// The corners are arcs about the corners of the core, the wire leaves along a tangent.
	e.LeverM = math.Hypot(p.CoreX/2-p.CornerRadius, p.CoreY/2-p.CornerRadius) + p.CornerRadius + s.BuildM
	e.TorqueLowNm, e.TorqueHighNm = s.TensionLowN*e.LeverM, s.TensionHighN*e.LeverM
	e.HandLowN, e.HandHighN = e.TorqueLowNm/e.CrankM, e.TorqueHighNm/e.CrankM
	return e
}

func (p Plan) bobbin(s Sheet) Bobbin {
	rim := math.Max(flangeRim, 3*p.WireDiameter)
	widest := 0
	for _, l := range s.Layers {
		widest = max(widest, l.Turns)
	}
	return Bobbin{CoreM: [2]float64{p.CoreX, p.CoreY}, WidthM: p.Width, FlangeM: [2]float64{s.OuterXM + 2*rim, s.OuterYM + 2*rim},
		ThicknessM: math.Max(flangeThick, shareOfBuild*s.BuildM), SlotM: slotDiameters * p.WireDiameter,
		SlackM: p.Width - float64(widest)*p.WireDiameter, PocketM: pocket}
}

// nonMagnetic is common practice, no source.
var nonMagnetic = []string{
	"Flanges, spindle, crank, wire guide and screws within reach of the field: a steel flange leads flux past the gap, a steel spindle through the core shorts the magnets, and loose steel is pulled in. Take aluminium, brass, glass-fibre board, acetal or hard wood.",
	"Stainless screws: 316 (A4). Work-hardened 304 (A2: rolled threads, drawn rod, bent sheet) is magnetic enough to be pulled and to bend the field: hang a small magnet on a thread and try every piece.",
	"Pliers, cutters and scissors: brass, bronze or titanium, or kept beyond the distance at which steel is pulled. The spool is steel too.",
}
