package report

import (
	"math"
	"strconv"

	"gonum.org/v1/plot/text"
	"gonum.org/v1/plot/vg"
)

// axis maps values to 0 … 1 along a side of a picture.
type axis struct {
	min, max float64
	log      bool
}

func (a axis) at(v float64) float64 {
	if a.log {
		return math.Log(v/a.min) / math.Log(a.max/a.min)
	}
	return (v - a.min) / (a.max - a.min)
}

type tick struct {
	v     float64
	label string
}

// ticks returns about n round values, at least two, in the axis' range, in rising order: 1, 2 or 5 times a power of ten apart or, on a
// logarithmic axis, those numbers themselves while there is room for them.
func (a axis) ticks(n int) []tick {
	n = max(n, 2)
	var list []tick
	if a.log {
		decades := math.Log10(a.max / a.min)
		within := []float64{1}
		switch {
		case decades*3 <= float64(n):
			within = []float64{1, 2, 5}
		case decades*2 <= float64(n):
			within = []float64{1, 3}
		}
		every := max(1, int(math.Ceil(decades/float64(n))))
		for e := int(math.Floor(math.Log10(a.min))); e <= int(math.Ceil(math.Log10(a.max))); e += every {
			for _, m := range within {
				if v := m * math.Pow10(e); v >= a.min*(1-1e-9) && v <= a.max*(1+1e-9) {
					list = append(list, tick{v, number(v)})
				}
			}
		}
		if len(list) >= 2 {
			return list
		}
		list = nil // less than a decade: even steps say more
	}
	step := roundStep((a.max - a.min) / float64(n))
	for math.Floor(a.max/step+1e-9) <= math.Ceil(a.min/step-1e-9) { // a single tick tells no scale
		step = roundStep(step / 3) // the next smaller: 5 to 2, 2 to 1, 1 to 0.5
	}
	decimals := max(0, -int(math.Floor(math.Log10(step)+1e-9)))
	for k := math.Ceil(a.min/step - 1e-9); k*step <= a.max+1e-9*step; k++ {
		v := k * step
		label := strconv.FormatFloat(v, 'f', decimals, 64)
		if decimals > 6 || math.Abs(v) >= 1e7 {
			digits := max(1, int(math.Floor(math.Log10(math.Abs(v)))+1-math.Floor(math.Log10(step)+1e-9)))
			label = strconv.FormatFloat(v, 'g', min(digits, 15), 64)
		}
		if k == 0 {
			v, label = 0, "0" // and no minus before it
		}
		list = append(list, tick{v, label})
	}
	return list
}

// ticksAcross returns ticks whose labels have room side by side along a length.
func (a axis) ticksAcross(length vg.Length, sty text.Style) []tick {
	for n := int(length / 36); n > 2; n-- {
		list := a.ticks(n)
		if (widest(sty, list)+8)*vg.Length(len(list)) <= length {
			return list
		}
	}
	return a.ticks(2)
}

// widened moves both ends out to the next of about n even steps.
func (a axis) widened(n int) axis {
	step := roundStep((a.max - a.min) / float64(max(n, 2)))
	a.min = math.Floor(a.min/step+1e-9) * step
	a.max = math.Ceil(a.max/step-1e-9) * step
	return a
}

// roundStep returns the smallest of 1, 2 and 5 times a power of ten that is at least step.
func roundStep(step float64) float64 {
	p := math.Pow(10, math.Floor(math.Log10(step)))
	for _, m := range []float64{1, 2, 5} {
		if m*p >= step*(1-1e-9) {
			return m * p
		}
	}
	return 10 * p
}

// number prints at most three significant digits, short.
func number(v float64) string {
	r, err := strconv.ParseFloat(strconv.FormatFloat(v, 'e', 2, 64), 64)
	if a := math.Abs(r); err != nil || r != 0 && (a < 1e-4 || a >= 1e5) {
		return strconv.FormatFloat(r, 'g', -1, 64)
	}
	return strconv.FormatFloat(r, 'f', -1, 64)
}
