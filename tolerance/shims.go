package tolerance

import (
	"math"
	"slices"
)

// Shims is a set of shims for one spacer that sets the gap of a build.
type Shims struct {
	// CutM is by how much the spacer is made shorter than in the design, m, so that shims can shorten the gap as well as lengthen it; below zero
	// it is made longer.
	CutM  float64
	StepM float64   // the gap can be set in such steps, m; 0 without shims
	Set   []float64 // thicknesses to hold ready, m, thinnest first; any sum up to that of all can be stacked in such steps
	Share float64   // of the builds that some stack brings in
}

// thicknesses of spacer shims, in um, that are held ready: common practice, no source.
var thicknesses = []int{50, 100, 200, 500, 1000, 2000}

// ShimsFor finds the coarsest steps, and with them the shortest stack, with which as many builds can be brought in as with the finest, and the share
// `enough` of all at most. passes tells whether a build of 0 to builds-1 passes with its gap longer by so much, m; it is asked for changes up to
// reach either way.
func ShimsFor(builds int, reach, enough float64, passes func(build int, longerM float64) bool) Shims {
	finest := thicknesses[0]
	most := int(math.Floor(reach*1e6/float64(finest) + 1e-9))
	if builds == 0 || most < 1 {
		return Shims{}
	}
	// good[b] tells for each change, in finest steps from -most to most, whether the build passes.
	good := make([][]bool, builds)
	for b := range good {
		good[b] = make([]bool, 2*most+1)
		for k := range good[b] {
			good[b][k] = passes(b, float64((k-most)*finest)/1e6)
		}
	}
	share := func(from, to, step int) float64 { // in finest steps from the design
		n := 0
		for _, g := range good {
			for k := from; k <= to; k += step {
				if g[most+k] {
					n++
					break
				}
			}
		}
		return float64(n) / float64(builds)
	}
	enough = math.Min(enough, share(-most, most, 1))
	metres := func(finestSteps int) float64 { return float64(finestSteps*finest) / 1e6 }
	// window is the one nearest to the design of all stacks of a length that serve.
	window := func(length, step int) (from int, served float64, ok bool) {
		ends, off := most/step*step, math.Inf(1)
		for at := -ends; at+length <= ends; at += step {
			if d := math.Abs(float64(at) + float64(length)/2); d < off {
				if s := share(at, at+length, step); s >= enough {
					from, served, off = at, s, d
				}
			}
		}
		return from, served, !math.IsInf(off, 1)
	}
	if from, served, ok := window(0, 1); ok { // another spacer alone, or none
		return Shims{CutM: metres(-from), Share: served}
	}
	for _, t := range slices.Backward(thicknesses) {
		step := t / finest
		for length := step; length <= 2*(most/step*step); length += step {
			if from, served, ok := window(length, step); ok {
				return Shims{CutM: metres(-from), StepM: float64(t) / 1e6, Set: stack(length/step, t), Share: served}
			}
		}
	}
	return Shims{} // not reached: the finest steps do
}

// stack is a set of thicknesses, m, of which every multiple of step (um) up to at least so many can be stacked.
func stack(multiples, step int) (set []float64) {
	for reached := 0; reached < multiples; {
		best := 1
		for _, t := range thicknesses {
			if k := t / step; t%step == 0 && k <= reached+1 {
				best = max(best, k)
			}
		}
		reached += best
		set = append(set, float64(best*step)/1e6)
	}
	slices.Sort(set)
	return set
}
