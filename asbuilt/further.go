package asbuilt

import (
	"math"
	"slices"
)

// This file says what the readings leave open, and what to read next.

// Candidate is a reading that could be taken: what the design would give, each parameter's slope, each swap's reading, and its standard uncertainty.
type Candidate struct {
	Base, Uncertainty float64
	Slope             []float64
	Swap              []float64
}

// Next is the reading that tells two hypotheses apart best.
type Next struct {
	Candidate int    // index
	Between   [2]int // what it tells apart: indices of parameters; -1 is a sound build, -2-s is swap s
	Expected  [2]float64
	Readings  int // how many such readings settle it: their mean differs by three standard deviations
}

// mostReadings is the most readings of one place that are worth proposing.
const mostReadings = 100

// settledAt is the distance in standard deviations at which two hypotheses count as told apart.
const settledAt = 3

// NextReading picks from candidates the one where the two likeliest explanations of a diagnosis differ most against what a reading there and the
// explanations themselves leave uncertain (the design of experiments to tell models apart: W. G. Hunter and A. M. Reiner, Technometrics 7 (1965)
// 307, from memory). There is none when the diagnosis is settled or no candidate would tell.
func NextReading(d Diagnosis, list []Candidate) (Next, bool) {
	type explanation struct {
		which        int
		probability  float64
		value, sigma float64
	}
	var open []explanation
	if len(d.Findings) == 0 && d.Sound > suspect {
		open = append(open, explanation{which: -1, probability: d.Sound})
	}
	for _, f := range d.Suspects {
		which := f.Parameter
		if which < 0 {
			which = -2 - f.Swap
		}
		open = append(open, explanation{which, f.Confidence, f.Value, f.Uncertainty / 2})
	}
	if len(open) < 2 {
		return Next{}, false
	}
	slices.SortStableFunc(open, func(a, b explanation) int {
		if a.probability > b.probability {
			return -1
		}
		return 1
	})
	read := func(c Candidate, e explanation) (value, sigma float64) {
		switch {
		case e.which == -1:
			return c.Base, 0
		case e.which < -1:
			return c.Swap[-2-e.which], 0
		}
		return c.Base + c.Slope[e.which]*e.value, math.Abs(c.Slope[e.which]) * e.sigma
	}
	best, at := 0.0, Next{Between: [2]int{open[0].which, open[1].which}}
	for i, c := range list {
		a, sa := read(c, open[0])
		b, sb := read(c, open[1])
		if s := (a - b) * (a - b) / (c.Uncertainty*c.Uncertainty + sa*sa + sb*sb); s > best {
			best, at.Candidate, at.Expected = s, i, [2]float64{a, b}
			at.Readings = mostReadings + 1
			if room := (a-b)*(a-b)/(settledAt*settledAt) - sa*sa - sb*sb; room > 0 {
				at.Readings = int(math.Ceil(c.Uncertainty * c.Uncertainty / room))
			}
		}
	}
	if at.Readings = max(at.Readings, 1); at.Readings > mostReadings { // the explanations' own sizes would follow the new readings
		at.Readings = int(math.Ceil(settledAt * settledAt / math.Max(best, 1e-12)))
	}
	return at, best > 0 && at.Readings <= mostReadings
}

// Alike are pairs of parameters that the readings cannot tell apart: a fault of the first, four times its usual spread, is followed by the second
// alone to within two standard deviations of all readings together. The readings see both.
func Alike(m Model, r Readings, factor float64) ([][2]int, error) {
	u := slices.Clone(r.Uncertainty)
	for i := range u {
		u[i] *= factor
	}
	if err := m.check(r); err != nil {
		return nil, err
	}
	w, err := m.whiten(r.Value, u)
	if err != nil {
		return nil, err
	}
	seen := func(i int) float64 { return faultSpreads * m.Parameters[i].Spread * math.Sqrt(w.g.At(i, i)) }
	var list [][2]int
	for i := range m.Parameters {
		for j := i + 1; j < len(m.Parameters); j++ {
			if seen(i) < settledAt || seen(j) < settledAt {
				continue
			}
			cosine := w.g.At(i, j) / math.Sqrt(w.g.At(i, i)*w.g.At(j, j))
			if left := math.Sqrt(math.Max(1-cosine*cosine, 0)); math.Max(seen(i), seen(j))*left < 2 {
				list = append(list, [2]int{i, j})
			}
		}
	}
	return list, nil
}

// Unseen are parameters of which the readings say nothing: a fault of four usual spreads changes them by less than two standard deviations in all.
func Unseen(m Model, r Readings, factor float64) ([]int, error) {
	if err := m.check(r); err != nil {
		return nil, err
	}
	seen, err := m.seen(score{u: r.Uncertainty, factor: factor})
	var list []int
	for i, yes := range seen {
		if !yes {
			list = append(list, i)
		}
	}
	return list, err
}
