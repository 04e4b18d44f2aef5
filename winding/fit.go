package winding

import (
	"fmt"
	"math"

	"polewright/mistake"
)

// Forecast is the field against turns and packing, as solved.
type Forecast struct {
	Packings []float64 // rising, 1 to 4 of them
	Gap      []*Curve  // T, one for each packing
}

// GapT is the field in the gap, T: along turns by the curves, across packings by the polynomial through them.
func (f *Forecast) GapT(turns, packing float64) (b float64) {
	for i, at := range f.Packings {
		weight := 1.0
		for j, other := range f.Packings {
			if j != i {
				weight *= (packing - other) / (at - other)
			}
		}
		b += weight * f.Gap[i].At(turns)
	}
	return b
}

// Packed is the curve of the gap field at one packing and strength of the magnets.
func (f *Forecast) Packed(packing, strength float64) (*Curve, error) {
	var turns, value []float64
	for _, n := range f.Gap[0].turns {
		turns, value = append(turns, n), append(value, strength*f.GapT(n, packing))
	}
	return NewCurve(turns, value)
}

// Fit is what a log says of the winding.
type Fit struct {
	Readings       int     `json:"readings"`
	Packing        float64 `json:"packing"`
	PackingUncert  float64 `json:"packing_uncertainty"`         // one standard deviation
	Strength       float64 `json:"magnet_strength"`             // field of the magnets over that of the design
	StrengthUncert float64 `json:"magnet_strength_uncertainty"` // one standard deviation, at that packing
	ResidualT      float64 `json:"residual_rms_T"`
	Limited        bool    `json:"packing_at_its_limit"` // no packing in reach fits better
	OuterReadings  int     `json:"outer_readings"`
	BuildM         float64 `json:"build_m"` // at the last reading, with the fitted packing
}

// What the fit takes for sure where the log says nothing; common practice, no source.
const (
	readingShare  = 0.005  // of a reading: a hand-held probe put back by hand
	caliperM      = 0.4e-3 // of an outside size: the flats bow
	strengthShare = 0.02   // magnets of a catalogue grade, from nominal
	packingReach  = 0.12   // beyond the packings that were solved
)

// FitLog finds the packing, and the strength of the magnets, with which the forecast comes nearest to the readings, by least squares: each
// reading weighs by its uncertainty, 0.5 % unless given, an outside size by 0.4 mm, and the magnets are held to the design's by 2 %. From the field
// alone the packing is known poorly, for the steel in a turn is the same however loosely it lies; outside sizes say it far better.
func FitLog(p Plan, list []Reading, f *Forecast) (Fit, error) {
	if len(list) < 2 {
		return Fit{}, mistake.Of(fmt.Sprintf("%d readings in the log", len(list)), "two or more fit a packing")
	}
	last := list[len(list)-1]
	if n := f.Gap[0].Most(); float64(last.Turns) > n {
		return Fit{}, mistake.Of(fmt.Sprintf("the log has %d turns, and the field is solved up to %.0f", last.Turns, n), "write more turns into the design")
	}
	low := math.Max(leastPacking, f.Packings[0]-packingReach)
	high := math.Min(NestedLimit, f.Packings[len(f.Packings)-1]+packingReach)
	const coarse, fine = 0.01, 0.0002
	chi := func(packing float64) float64 { chi, _, _ := misfit(p, list, f, packing); return chi }
	_, at := least(chi, low, high, coarse)
	best, at := least(chi, math.Max(low, at-coarse), math.Min(high, at+coarse), fine)
	o := Fit{Readings: len(list), Packing: at, Limited: at < low+fine || at > high-2*fine}
	_, o.Strength, o.StrengthUncert = misfit(p, list, f, at)
	// One standard deviation is where the sum of squares has risen by 1, from its curvature; more when the readings scatter more than they should.
	const h = 0.01
	for _, r := range list {
		if r.OuterM > 0 {
			o.OuterReadings++
		}
	}
	scatter := math.Sqrt(math.Max(1, best/float64(len(list)+o.OuterReadings)))
	o.PackingUncert = packingReach
	if curvature := (chi(at+h) + chi(at-h) - 2*best) / (h * h); curvature > 0 {
		o.PackingUncert = math.Min(scatter*math.Sqrt(2/curvature), packingReach)
	}
	var squares float64
	for _, r := range list {
		d := r.FieldT - o.Strength*f.GapT(float64(r.Turns), at)
		squares += d * d
	}
	o.ResidualT = math.Sqrt(squares / float64(len(list)))
	o.BuildM = float64(last.Turns) * wireArea(p.WireDiameter) / (at * p.Width)
	return o, nil
}

// least walks a function of packing and keeps its least value and where that is.
func least(of func(packing float64) float64, low, high, step float64) (value, at float64) {
	value, at = math.Inf(1), low
	for k := low; k <= high; k += step {
		if v := of(k); v < value {
			value, at = v, k
		}
	}
	return value, at
}

// misfit is the sum of weighted squares at a packing, with the strength of the magnets that makes it least.
func misfit(p Plan, list []Reading, f *Forecast, packing float64) (chi, strength, uncertainty float64) {
	// For a packing given the strength is linear: minimize sum ((B - k b)/u)^2 + ((k - 1)/s)^2.
	const prior = 1 / (strengthShare * strengthShare)
	top, bottom := prior, prior
	for _, r := range list {
		b, u := f.GapT(float64(r.Turns), packing), r.uncertainty()
		top += r.FieldT * b / (u * u)
		bottom += b * b / (u * u)
	}
	k := top / bottom
	chi = (k - 1) * (k - 1) * prior
	for _, r := range list {
		d := (r.FieldT - k*f.GapT(float64(r.Turns), packing)) / r.uncertainty()
		chi += d * d
		if r.OuterM > 0 {
			d := (r.OuterM - p.outer(r.Turns, packing)) / caliperM
			chi += d * d
		}
	}
	return chi, k, 1 / math.Sqrt(bottom)
}

func (r Reading) uncertainty() float64 {
	if r.UncertT > 0 {
		return r.UncertT
	}
	return readingShare * r.FieldT
}
