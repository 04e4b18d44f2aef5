package material

import (
	"fmt"
	"strings"

	"polewright/mistake"
)

// Magnet is a permanent-magnet material. On its recoil line B = RemanenceT + RecoilPermeability·Mu0·H, with H < 0 against the magnetization.
type Magnet struct {
	Name   string
	Family string // "NdFeB sintered", "SmCo 1:5", "SmCo 2:17", "hard ferrite", "AlNiCo", or "custom"

	// RemanenceT is the expected remanence, T: the middle of the maker's range. RemanenceMinT is the least the maker
	// warrants: use it for margins. The two are equal where only one is known.
	RemanenceT, RemanenceMinT float64
	// RecoilPermeability is the slope of the recoil line over Mu0, 1 to 10.
	RecoilPermeability float64

	// IntrinsicCoercivityApm and CoercivityApm are the maker's minima of HcJ and HcB, positive, A/m; 0 is unknown.
	IntrinsicCoercivityApm, CoercivityApm float64
	// GivenKneeApm is a measured knee, positive, A/m; 0 leaves it to the rule of KneeApm.
	GivenKneeApm float64
	// Squareness is Hk/HcJ, where Hk is the field strength of J = 0.9 Br (IEC 60404-8-1), up to 0.99; 0 is unknown and then taken as 0.95, or
	// as what HcB shows where that is less.
	Squareness float64

	// RemanencePerK and CoercivityPerK are the reversible temperature coefficients of the remanence and of HcJ, fractions per kelvin.
	RemanencePerK, CoercivityPerK float64
	// ReferenceC is the temperature the other numbers are for, °C; MaxTemperatureC the class limit of the trade, °C, 0 unknown.
	// It is a guide only: the working point decides.
	ReferenceC, MaxTemperatureC float64
	DensityKgPerM3              float64

	Source     string // where the numbers come from
	FromMemory bool   // the remanence or a coercivity was recalled, not read
}

// Custom is a magnet given by its recoil line at 20 °C: remanence in (0, 3] T, recoil permeability in [1, 10] (1.05 for
// sintered NdFeB and SmCo, 1.1 for ferrite). Set what else is known and call Check again.
func Custom(name string, remanenceT, recoilPermeability float64) (Magnet, error) {
	m := Magnet{
		Name: name, Family: "custom", RemanenceT: remanenceT, RemanenceMinT: remanenceT, RecoilPermeability: recoilPermeability,
		ReferenceC: 20, DensityKgPerM3: 7500, Source: "given; density of sintered NdFeB assumed",
	}
	if err := m.Check(); err != nil {
		return Magnet{}, err
	}
	return m, nil
}

// Check reports the first value that no magnet can have, and what would do.
func (m Magnet) Check() error {
	in := func(v, lo, hi float64) bool { return v >= lo && v <= hi }
	var what string
	switch {
	case !(m.RemanenceT > 0 && m.RemanenceT <= 3):
		what = fmt.Sprintf("the remanence %g T is not above 0 and up to 3 T; sintered NdFeB has 1.1 to 1.5 T, ferrite 0.2 to 0.45 T", m.RemanenceT)
	case !in(m.RemanenceMinT, 0, m.RemanenceT):
		what = fmt.Sprintf("the least remanence %g T is not between 0 and the remanence %g T", m.RemanenceMinT, m.RemanenceT)
	case !in(m.RecoilPermeability, 1, 10):
		what = fmt.Sprintf("the recoil permeability %g is not from 1 to 10; sintered NdFeB and SmCo have 1.05, ferrite 1.1, AlNiCo 2 to 5", m.RecoilPermeability)
	case !in(m.IntrinsicCoercivityApm, 0, 1e7):
		what = fmt.Sprintf("the intrinsic coercivity %g A/m is not from 0 to 10000 kA/m; give it positive (N42 has 955 kA/m)", m.IntrinsicCoercivityApm)
	case !in(m.CoercivityApm, 0, 1e7):
		what = fmt.Sprintf("the coercivity %g A/m is not from 0 to 10000 kA/m; give it positive (N42 has 915 kA/m)", m.CoercivityApm)
	case m.IntrinsicCoercivityApm > 0 && m.CoercivityApm > m.IntrinsicCoercivityApm:
		what = fmt.Sprintf("the coercivity HcB %g A/m is above the intrinsic coercivity HcJ %g A/m; exchange them", m.CoercivityApm, m.IntrinsicCoercivityApm)
	case !in(m.GivenKneeApm, 0, 1e7):
		what = fmt.Sprintf("the knee %g A/m is not from 0 to 10000 kA/m; give its magnitude", m.GivenKneeApm)
	case m.Squareness != 0 && !in(m.Squareness, 0.2, 0.99):
		what = fmt.Sprintf("the squareness Hk/HcJ %g is not from 0.2 to 0.99; sintered NdFeB has 0.95", m.Squareness)
	case !in(m.RemanencePerK, -0.05, 0.05) || !in(m.CoercivityPerK, -0.05, 0.05):
		what = fmt.Sprintf("the temperature coefficients %g and %g per kelvin are not within 5 %% per kelvin; NdFeB has -0.12 %% and -0.6 %%", m.RemanencePerK, m.CoercivityPerK)
	case !in(m.ReferenceC, -273.15, 1000) || !in(m.MaxTemperatureC, -273.15, 1000):
		what = fmt.Sprintf("the temperatures %g and %g °C are not from -273.15 to 1000 °C; reference is 20 °C as a rule", m.ReferenceC, m.MaxTemperatureC)
	case !in(m.DensityKgPerM3, 1, 3e4):
		what = fmt.Sprintf("the density %g kg/m3 is not from 1 to 30000; NdFeB has 7500", m.DensityKgPerM3)
	default:
		return nil
	}
	return fmt.Errorf("magnet %q: %s", m.Name, what)
}

// At is the material at a temperature, °C, by its linear coefficients: the remanence by RemanencePerK, HcJ and a given knee by CoercivityPerK; HcB
// goes with the remanence as long as HcJ leaves room for it. The remanence does not fall below 0, and no coercivity below a hundredth, so that a
// known one stays known. Linear coefficients hold from about -40 °C to the class limit; the loss on passing the knee is not in them. The result has
// tempC for its ReferenceC and coefficients of the same tesla and A/m per kelvin, so that At may follow At; only an HcB or a value that has met its
// bound does not come back. Start from the grade.
func (m Magnet) At(tempC float64) Magnet {
	dt := tempC - m.ReferenceC
	if dt == 0 {
		return m
	}
	// The squareness of the loop stays; HcB at another temperature tells nothing about it.
	if l := m.loop(); m.Squareness == 0 && m.GivenKneeApm == 0 && m.IntrinsicCoercivityApm > 0 && l.hk > 0 {
		m.Squareness = l.hk / l.hcj
	}
	remanence := max(0, 1+m.RemanencePerK*dt)
	coercivity := max(leastCoercivity, 1+m.CoercivityPerK*dt)
	room := m.IntrinsicCoercivityApm * coercivity
	if m.IntrinsicCoercivityApm == 0 || m.bends() {
		room = m.CoercivityApm * coercivity
	}
	m.CoercivityApm = min(m.CoercivityApm*remanence, room)
	m.RemanenceT *= remanence
	m.RemanenceMinT *= remanence
	m.IntrinsicCoercivityApm *= coercivity
	m.GivenKneeApm *= coercivity
	if remanence > 0 {
		m.RemanencePerK /= remanence
	}
	m.CoercivityPerK /= coercivity
	m.ReferenceC = tempC
	return m
}

// leastCoercivity is the share of a coercivity left when the linear law has used it up.
const leastCoercivity = 0.01

// bends reports that B turns down before the recoil line reaches 0, for want of HcJ: HcB, where B = 0, then lies short of
// the line's own zero by over a tenth of the remanence, more than the spread of the remanence explains.
func (m Magnet) bends() bool {
	return m.CoercivityApm > 0 && m.RemanenceT-m.RecoilPermeability*Mu0*m.CoercivityApm > 0.1*m.RemanenceT
}

// KneeApm is the field strength, negative, A/m, beyond which the material leaves its recoil line and keeps a loss. KneeRule
// says which rule gave it. It is -Inf when no coercivity is known: nothing can then be said about demagnetization.
func (m Magnet) KneeApm() float64 {
	return -m.loop().knee
}

// KneeRule says in words where KneeApm comes from.
func (m Magnet) KneeRule() string {
	return m.loop().rule
}

// Grades lists the built-in grades, family by family.
func Grades() []Magnet {
	var out []Magnet
	for _, s := range sheets {
		for _, r := range s.rows {
			out = append(out, s.magnet(r))
		}
	}
	return out
}

// Grade finds a built-in grade by its name, whatever the case, spaces and hyphens: "N42", "n42sh", "SmCo17-26H", "Y30",
// "Ceramic 5" or "C5", "Alnico 5". The error names the nearest grades.
func Grade(name string) (Magnet, error) {
	key := plainName(name)
	var names []string
	for _, s := range sheets {
		for _, r := range s.rows {
			if key == plainName(r.name) {
				return s.magnet(r), nil
			}
			for alias := range strings.SplitSeq(r.aliases, ",") {
				if alias != "" && key == plainName(alias) {
					return s.magnet(r), nil
				}
			}
			names = append(names, r.name)
		}
	}
	return Magnet{}, mistake.Of(fmt.Sprintf("no grade %q", mistake.Quote(name)), "the nearest are "+strings.Join(nearest(name, names, 4), ", ")+"; or give the remanence and the recoil permeability")
}
