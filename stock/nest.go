package stock

import (
	"cmp"
	"slices"
	"strconv"
)

// Cut is a piece to be sawn off.
type Cut struct {
	Parts   []string `json:"parts"` // one, or several that lie side by side across the bar
	LengthM float64  `json:"length_m"`
}

// Bar is one bar with what is cut from it.
type Bar struct {
	Cuts    []Cut   `json:"cuts"`
	OffcutM float64 `json:"offcut_m"` // what is left
}

// Left is the offcut in whole millimetres, without the unit.
func (b Bar) Left() string { return strconv.Itoa(int(b.OffcutM*1e3 + 1e-6)) }

// Nest lays cuts into bars of one length: the longest cut first, each into the first bar that still has room. Each takes its length, FacingM for
// its ends and KerfM for the saw; the last needs no saw where it ends with the bar. Cuts that no bar is long enough for come back in left.
//
// First fit decreasing needs at most 11/9 of the fewest bars and 6/9 more (G. Dósa, Lecture Notes in Computer Science 4614 (2007) 1; from memory).
func Nest(cuts []Cut, lengthM float64) (bars []Bar, left []Cut) {
	const dust = 1e-9 // m, of rounding
	cuts = slices.Clone(cuts)
	slices.SortStableFunc(cuts, func(a, b Cut) int { return cmp.Compare(b.LengthM, a.LengthM) })
	for _, c := range cuts {
		need := c.LengthM + FacingM
		if need > lengthM+dust {
			left = append(left, c)
			continue
		}
		i := slices.IndexFunc(bars, func(b Bar) bool { return need <= b.OffcutM+dust })
		if i < 0 {
			i = len(bars)
			bars = append(bars, Bar{OffcutM: lengthM})
		}
		b := &bars[i]
		b.Cuts = append(b.Cuts, c)
		b.OffcutM = max(0, b.OffcutM-need-KerfM)
	}
	return bars, left
}
