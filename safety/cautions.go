package safety

// This file holds every caution: its code, title and text, and when it is given.

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"gonum.org/v1/gonum/spatial/r3"
)

// Severity ranks a caution; the words are those of safety signs.
type Severity int

const (
	Notice  Severity = iota + 1 // things may be spoilt
	Warning                     // people may be hurt
	Danger                      // people may be hurt badly
)

func (s Severity) String() string {
	switch s {
	case Notice:
		return "notice"
	case Warning:
		return "warning"
	case Danger:
		return "danger"
	default:
		return "none"
	}
}

// MarshalText writes the severity as its word.
func (s Severity) MarshalText() ([]byte, error) { return []byte(s.String()), nil }

// Caution is one thing to beware of, in plain words with the figures of this assembly.
type Caution struct {
	Code     string   `json:"code"` // short and fixed, "implants"
	Title    string   `json:"title"`
	Severity Severity `json:"severity"`
	Text     string   `json:"text"`
}

// Facts is what is known of an assembly. A field left at zero, or not a number, is not known, and the caution that needs it
// then says so or takes the careful side.
type Facts struct {
	LargestForceN    float64 // largest magnetic force on a single part
	LargestForcePart string
	HalfForceN       float64 // force between the halves
	PinchEnergyJ     float64 // set free when the parts close

	HeaviestKg   float64 // heaviest part or, where larger, piece that has to be handled
	HeaviestPart string

	GapFieldT float64 // largest flux density that a hand can reach
	MomentAm2 float64 // magnetic moment of the whole
	// FarStrengthApm are the largest field strengths at 2.1 m and 4.6 m from the centre; where they are not known those of the moment's dipole
	// stand in.
	FarStrengthApm [2]float64

	// Distances from the centre along x, y and z, m, beyond which the flux density stays below 0.5 mT, 1 mT and
	// 3 mT. Where they are not known those of the moment's dipole stand in; below zero they are nowhere outside the parts.
	ImplantReach, CardReach, ProjectileReach r3.Vec
	Tools                                    []ToolFact

	MagnetFamilies []string // "NdFeB", "SmCo", "ferrite", "AlNiCo"
	Grade          string   // the grade with the lowest temperature limit
	GradeLimitC    float64  // that limit, °C
	HottestC       float64  // hottest that the magnets get, °C; 0 is not known

	KneeChecked   bool    // whether KneeMarginApm was computed
	KneeMarginApm float64 // field strength left before the knee at the worst place and temperature; below zero it is passed
	KneeFraction  float64 // that margin over the knee; 0 is not known
	KneeAt        string  // that temperature, as "-40 °C"; "" is the hottest

	WoundYoke bool // a yoke wound from steel wire
	Coils     bool // windings that carry a current
	NoMagnets bool // coils and steel alone
}

// ToolFact says how near a loose tool may come, m from its near end to the magnet, see ToolReach; 0 is never.
type ToolFact struct {
	Name           string
	SlidesM, LiftM float64
}

// Thresholds without a published source.
const (
	pinchFromN  = 20.0  // below it a pinch is felt and no more: common practice, no source
	twoPeopleKg = 5.0   // lifting aid and two people: advice of a magnet supplier (nfmagnetics.com)
	kneeCloseAm = 100e3 // a margin within the spread of coercivity between magnets of a grade: common practice, no source
	kneeClose   = 0.2   // the same over the knee, for ferrite and others of low coercivity: common practice, no source
)

// A warning with severity 0 does not apply.
var warnings = []struct {
	code, title string
	judge       func(Facts) (Severity, string)
}{
	{"implants", "Pacemakers and implants", func(f Facts) (Severity, string) {
		return Danger, "Nobody with a pacemaker, a defibrillator or another implant inside the 0.5 mT line: " +
			reachText(f.ImplantReach, f.MomentAm2, ImplantLimitT) + " (ICNIRP 2009; some rules use 0.9 mT). Mark it on the floor and at the door."
	}},
	{"crushing", "Crushed hands", func(f Facts) (Severity, string) {
		const how = " Never put a hand between parts: use a jig, spacers and jack screws, and have non-magnetic wedges ready to part them again."
		if !known(f.LargestForceN) && !known(f.HalfForceN) {
			if f.NoMagnets {
				return 0, ""
			}
			return Danger, "The forces are not known; take it that they can crush a hand." + how
		}
		var s []string
		if known(f.LargestForceN) {
			on := ""
			if f.LargestForcePart != "" {
				on = fmt.Sprintf(", on %q", f.LargestForcePart)
			}
			s = append(s, "The largest force on one part is "+forceText(f.LargestForceN)+on+".")
		}
		if known(f.HalfForceN) {
			s = append(s, "The halves pull with "+forceText(f.HalfForceN)+".")
		}
		worst := max(positive(f.LargestForceN), positive(f.HalfForceN))
		if known(f.PinchEnergyJ) {
			s = append(s, "Closing sets free "+figure(f.PinchEnergyJ, 2)+" J.")
		}
		switch {
		case worst >= HandLimitN:
			s = append(s, fmt.Sprintf("A hand stands about %g N (ISO/TS 15066, from memory).", HandLimitN))
			return Danger, strings.Join(s, " ") + how
		case worst >= pinchFromN:
			return Warning, strings.Join(s, " ") + how
		default:
			return 0, ""
		}
	}},
	{"shattering", "Flying splinters", func(f Facts) (Severity, string) {
		if f.NoMagnets {
			return 0, ""
		}
		return Warning, brittleText(f.MagnetFamilies) + " break like glass when they strike steel or each other, and splinters fly for metres. Wear goggles and gloves; cover open faces with wood or plastic."
	}},
	{"flying-tools", "Flying tools", func(f Facts) (Severity, string) {
		text := "Loose steel may be drawn in inside the 3 mT line: " + reachText(f.ProjectileReach, f.MomentAm2, ProjectileLimitT) + "."
		for _, t := range f.Tools {
			switch slides, lifts := known(t.SlidesM), known(t.LiftM); {
			case slides && lifts:
				text += fmt.Sprintf(" A loose %s slides from %s and flies from %s.", t.Name, distance(t.SlidesM), distance(t.LiftM))
			case slides:
				text += fmt.Sprintf(" A loose %s slides from %s.", t.Name, distance(t.SlidesM))
			case lifts:
				text += fmt.Sprintf(" A loose %s flies from %s.", t.Name, distance(t.LiftM))
			}
		}
		return Warning, text + " Clear the bench; use brass, bronze or plastic tools and test every screw with a small hung magnet."
	}},
	{"two-people", "Heavy parts", func(f Facts) (Severity, string) {
		if !(f.HeaviestKg >= twoPeopleKg) {
			return 0, ""
		}
		part := "The heaviest part"
		if f.HeaviestPart != "" {
			part = fmt.Sprintf("%q", f.HeaviestPart)
		}
		return Warning, fmt.Sprintf("%s weighs %s kg. From %g kg up use a lifting aid and two people, and agree on a word that stops all work.",
			part, figure(f.HeaviestKg, 3), twoPeopleKg)
	}},
	{"wire-end", "Whipping wire", func(f Facts) (Severity, string) {
		if !f.WoundYoke {
			return 0, ""
		}
		return Warning, "The wire's end whips when it comes free: wear goggles and lock it before you let go. The spool and pliers are steel: keep the spool outside the 3 mT line (" +
			reachText(f.ProjectileReach, f.MomentAm2, ProjectileLimitT) + ") and feed the wire through a brass or ceramic eye."
	}},
	{"coil", "Current", func(f Facts) (Severity, string) {
		if !f.Coils {
			return 0, ""
		}
		return Warning, "A coil grows hot, and its voltage jumps when its circuit is opened under current: fuse it, let it die down through a diode, and leave mains wiring to licensed persons. Switched on, it pulls on steel and magnets without warning."
	}},
	{"dust", "Burning dust", func(f Facts) (Severity, string) {
		if f.NoMagnets {
			return 0, ""
		}
		return Warning, "Do not drill, saw or grind magnets: the dust of rare-earth magnets catches fire, all crack, and heat takes their magnetization."
	}},
	{"exposure", "Strong field", func(f Facts) (Severity, string) {
		switch {
		case f.GapFieldT > OccupationalLimitT:
			return Warning, fmt.Sprintf("The field reaches %s T: above the 2 T limit at work for head and trunk, and the 400 mT limit of the general public (ICNIRP 2009).", figure(f.GapFieldT, 3))
		case f.GapFieldT > PublicLimitT:
			return Notice, fmt.Sprintf("The field reaches %s T: above the 400 mT limit of the general public for any part of the body (ICNIRP 2009). Plug the gap when it is not in use.", figure(f.GapFieldT, 3))
		default:
			return 0, ""
		}
	}},
	{"demagnetizing", "Loss for good", func(f Facts) (Severity, string) {
		if !f.KneeChecked || f.KneeMarginApm >= kneeCloseAm || f.KneeFraction >= kneeClose {
			return 0, ""
		}
		hot := ""
		if known(f.HottestC) {
			hot = " at " + figure(f.HottestC, 3) + " °C"
		}
		if f.KneeAt != "" {
			hot = " at " + f.KneeAt
		}
		if f.KneeMarginApm >= 0 {
			return Notice, fmt.Sprintf("Only %s kA/m are left before the knee%s; magnets of one grade differ by as much. A grade of higher coercivity is safer.", figure(f.KneeMarginApm/1e3, 2), hot)
		}
		return Notice, fmt.Sprintf("Some part of the magnets passes the knee by %s kA/m%s and stays weaker for good. Choose a grade of higher coercivity, thicker magnets or a milder temperature.", figure(-f.KneeMarginApm/1e3, 2), hot)
	}},
	{"heat", "Heat", func(f Facts) (Severity, string) {
		if f.NoMagnets {
			return 0, ""
		}
		cold := ""
		if slices.ContainsFunc(f.MagnetFamilies, func(s string) bool { return strings.EqualFold(s, "ferrite") }) {
			cold = " Ferrite is demagnetized more easily in the cold."
		}
		if !known(f.GradeLimitC) {
			return Notice, "Heat takes magnetization for good: ask for the grade's limit, and keep to it when glue cures too." + cold
		}
		grade := "the magnets"
		if f.Grade != "" {
			grade = f.Grade
		}
		limit := figure(f.GradeLimitC, 3)
		if f.HottestC > f.GradeLimitC {
			return Notice, fmt.Sprintf("At %s °C the magnets are hotter than the %s °C that the maker allows %s: they stay weaker for good. Choose a grade for heat.", figure(f.HottestC, 3), limit, grade) + cold
		}
		return Notice, fmt.Sprintf("Above %s °C %s stays weaker for good, sooner where the magnet is thin or stands alone; keep to it when glue cures too.", limit, grade) + cold
	}},
	{"cards-watches", "Cards, watches, instruments", func(f Facts) (Severity, string) {
		return Notice, "Keep bank cards, watches, disks and instruments outside the 1 mT line: " + reachText(f.CardReach, f.MomentAm2, CardLimitT) + " (NRC 2011, table 7.1)."
	}},
	{"air-freight", "Air freight", func(f Facts) (Severity, string) {
		if !known(f.MomentAm2) {
			return Notice, "The magnetic moment is not known: take it that the assembly may not go by air until its field at 2.1 m and 4.6 m is known."
		}
		class, near, far := AirFreight(f.MomentAm2)
		where := ", on its axis"
		if known(f.FarStrengthApm[0]) && known(f.FarStrengthApm[1]) {
			near, far, where = f.FarStrengthApm[0], f.FarStrengthApm[1], " at most"
			class = airClass(near, far)
		}
		text := fmt.Sprintf("The moment of %s A·m² gives %s at 2.1 m (limit %s) and %s at 4.6 m (limit %s)%s: %s.", figure(f.MomentAm2, 3),
			strengthText(near), strengthText(airDeclaredApm), strengthText(far), strengthText(airForbiddenApm), where, class)
		if class != AirNotRegulated {
			text += " Ship it by ground, with a keeper, or as a pair that cancels in a steel-lined box, and measure it."
		}
		return Notice, text
	}},
	{"local-codes", "Local codes", func(Facts) (Severity, string) {
		return Notice, "These figures help to plan. Local codes and licensed practice decide."
	}},
}

// Cautions returns what to beware of, the most serious first; of equal severity the order is fixed. The text depends on
// nothing but the facts. Distances are rounded up.
func Cautions(f Facts) []Caution {
	f = f.cleaned()
	var list []Caution
	for _, w := range warnings {
		if severity, text := w.judge(f); severity > 0 {
			list = append(list, Caution{w.code, w.title, severity, text})
		}
	}
	slices.SortStableFunc(list, func(a, b Caution) int { return int(b.Severity - a.Severity) })
	return list
}

// cleaned returns the facts with zero for every figure that is not a number or absurd, which the judges take as not known.
func (f Facts) cleaned() Facts {
	finite := func(v float64) bool { return math.Abs(v) < absurd }
	f.KneeChecked = f.KneeChecked && finite(f.KneeMarginApm)
	for _, v := range []*float64{&f.HeaviestKg, &f.GapFieldT, &f.HottestC, &f.KneeMarginApm} {
		if !finite(*v) {
			*v = 0
		}
	}
	f.MomentAm2 = math.Abs(f.MomentAm2)
	return f
}

// absurd is larger than any figure of an assembly in its SI unit.
const absurd = 1e9

// known says whether a figure that cannot be zero or less has been given.
func known(v float64) bool { return v > 0 && v < absurd }

func positive(v float64) float64 {
	if known(v) {
		return v
	}
	return 0
}

func reachText(reach r3.Vec, moment, limitT float64) string {
	switch {
	case reach.X < 0 && reach.Y < 0 && reach.Z < 0:
		return "nowhere outside the parts"
	case known(reach.X) || known(reach.Y) || known(reach.Z):
		var s []string
		for _, a := range []struct {
			axis string
			r    float64
		}{{"x", reach.X}, {"y", reach.Y}, {"z", reach.Z}} {
			if known(a.r) {
				s = append(s, distance(a.r)+" along "+a.axis)
			}
		}
		return strings.Join(s, ", ") + " from the centre"
	case known(moment):
		axis, side := DipoleReach(moment, limitT)
		return distance(axis) + " along the magnetization, " + distance(side) + " beside it, taken as a dipole"
	default:
		return "its place is not known, keep 2 m" // common practice, no source
	}
}

// brittleText names the families as the subject of a sentence. All magnets that are sintered or cast are brittle.
func brittleText(families []string) string {
	names := slices.DeleteFunc(slices.Clone(families), func(s string) bool { return strings.TrimSpace(s) == "" })
	slices.Sort(names)
	names = slices.Compact(names)
	switch n := len(names); n {
	case 0:
		return "Magnets"
	case 1:
		return names[0] + " magnets"
	default:
		return strings.Join(names[:n-1], ", ") + " and " + names[n-1] + " magnets"
	}
}

func forceText(n float64) string {
	return figure(n, 3) + " N (" + figure(n/standardGravityMps2, 2) + " kgf)"
}

func strengthText(apm float64) string {
	const nTperApm = 4e2 * math.Pi
	return figure(apm, 3) + " A/m (" + figure(apm*nTperApm, 3) + " nT)"
}

// distance prints metres rounded up, to centimetres below 1 m and to decimetres above.
func distance(m float64) string {
	per := 100.0
	if m > 1 {
		per = 10
	}
	// The small step back keeps 0.38 m from becoming 0.39 m by the last bit.
	return strconv.FormatFloat(math.Ceil(m*per-1e-9)/per, 'f', -1, 64) + " m"
}

// figure prints v to so many significant digits, without an exponent from 1e-6 to 1e15.
func figure(v float64, significant int) string {
	r, err := strconv.ParseFloat(strconv.FormatFloat(v, 'e', significant-1, 64), 64)
	if err != nil || r != 0 && (math.Abs(r) < 1e-6 || math.Abs(r) >= 1e15) {
		return strconv.FormatFloat(v, 'g', significant, 64)
	}
	return strconv.FormatFloat(r, 'f', -1, 64)
}
