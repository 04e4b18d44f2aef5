package polewright

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r3"
)

// This file finds the pull and the energy along a way in two ways: by the stress at each place, and by the coenergies of neighbours.

const (
	// wayDoubt is how much of the energy of a way an interval may be in doubt by before a place is added within it.
	wayDoubt = 0.04
	// better is by how much a slope of the coenergies must be known better than the stress to stand in for it: two grids can agree by chance.
	better = 2
	// halfDoubt is the share to which a force across a plane in air is known on the grids of a step, closedDoubt that of closed forms.
	halfDoubt, closedDoubt = 0.003, pairShare
)

// place is a solved place of a group on its way.
type place struct {
	distance      float64
	force, torque r3.Vec
	pull, doubt   float64    // by the stress, and how far it may be off
	coenergy      [2]float64 // on the finest grid and on the one before
	known         bool       // the coenergies
}

// travel is the pull and the energy set free at the places of a way, whose distances fall to zero.
type travel struct {
	pull, energy []float64
	byEnergy     []bool    // the pulls that are differences of coenergies
	mean         []float64 // of each interval's pull
	sure         []bool    // the means that are differences of coenergies
	open         []float64 // energy of each interval by which the two ways, or two curves through the pulls, differ
}

// travelOf takes of two ways, place by place and interval by interval, the one whose estimated error is smaller (for a pull, by the factor better):
// the stress on the group, whose error is a share of its difference between two grids, or the differences of the coenergies W, by virtual work
// -dW/dx, whose error is the same share of theirs and, for the slope of the parabola through three places, that of its next term, h k/6 times the
// second derivative of the pull.
func travelOf(list []place, near float64) travel {
	n := len(list)
	t := travel{pull: make([]float64, n), byEnergy: make([]bool, n), energy: make([]float64, n), mean: make([]float64, n-1), sure: make([]bool, n-1), open: make([]float64, n-1)}
	distances := make([]float64, n)
	for i, p := range list {
		distances[i], t.pull[i] = p.distance, p.pull
	}
	// slope of a parabola at the second of three places.
	slope := func(h, k, a, b, c float64) float64 { return ((b-a)/h*k + (c-b)/k*h) / (h + k) }
	for i := 1; i < n-1; i++ {
		a, b, c := &list[i-1], &list[i], &list[i+1]
		if !a.known || !b.known || !c.known {
			continue
		}
		h, k := a.distance-b.distance, b.distance-c.distance
		fine := slope(h, k, a.coenergy[0], b.coenergy[0], c.coenergy[0])
		coarse := slope(h, k, a.coenergy[1], b.coenergy[1], c.coenergy[1])
		bend := math.Abs((c.pull-b.pull)/k-(b.pull-a.pull)/h) * 2 / (h + k)
		if better*(errorShare*math.Abs(fine-coarse)+h*k*bend/6) < b.doubt {
			t.pull[i], t.byEnergy[i] = fine, true
		}
	}
	smooth, _ := wayOf(distances, t.pull, near)
	for i := range n - 1 {
		a, b := &list[i], &list[i+1]
		h := a.distance - b.distance
		straight := h / 2 * (t.pull[i] + t.pull[i+1])
		e := smooth[i+1] - smooth[i]
		t.open[i] = math.Abs(e - straight)
		if a.known && b.known {
			fine, coarse := b.coenergy[0]-a.coenergy[0], b.coenergy[1]-a.coenergy[1]
			t.open[i] = math.Abs(e - fine)
			// A quarter of what a smooth curve and a straight line differ by is more than the smooth one is off by.
			if errorShare*math.Abs(fine-coarse) < math.Abs(e-straight)/4+h/2*(a.doubt+b.doubt) {
				e, t.sure[i] = fine, true
			}
		}
		t.mean[i] = e / h
		t.energy[i+1] = t.energy[i] + e
	}
	return t
}

// range of the energy along the way.
func (t travel) most() float64 { return slices.Max(t.energy) - slices.Min(t.energy) }

// next is where a place should be added: within the interval in most doubt, 0 where all are known well enough. No place is put next to the edges that
// meet at the distance edge: there the field is singular and neither way serves.
func (t travel) next(list []place, edge float64) float64 {
	best, most := 0.0, wayDoubt*t.most()
	for i, open := range t.open {
		a, b := list[i].distance, list[i+1].distance
		if over := edge > 0 && a > edge && b < edge; over || !(open > most) {
			continue
		}
		most = open
		best = b + 0.45*(a-b) // nearer to the place, where the pull changes faster
	}
	return best
}
