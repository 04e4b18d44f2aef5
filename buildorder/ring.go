package buildorder

import (
	"fmt"
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r3"
)

// This file orders rings of magnets whose directions turn.

// leastRing is the fewest magnets that make a ring.
const leastRing = 4

// ring finds the axis of a ring: magnets alone, their middles in one plane across it, their directions across it and not all alike.
func (o *order) ring() (axis int, ok bool) {
	if len(o.magnets) < leastRing || len(o.steels)+len(o.wounds) > 0 {
		return 0, false
	}
	if _, alike := o.axis(); alike {
		return 0, false
	}
	first := o.magnets[0]
	for axis = range 3 {
		if !slices.ContainsFunc(o.magnets, func(m *Part) bool {
			return math.Abs(along(m.Direction, axis)) > 1-aligned || math.Abs(along(m.center(), axis)-along(first.center(), axis)) > touchM
		}) {
			return axis, true
		}
	}
	return 0, false
}

// addRing puts the pieces in along the axis, each time the one that those in place hold off least; of equals the farthest from the last.
func (o *order) addRing(axis int) {
	o.addSpacers()
	left := slices.Clone(o.magnets)
	var stand []*Part
	for len(left) > 0 {
		best := 0
		for i := range left {
			if i > 0 && o.sooner(left[i], left[best], stand) {
				best = i
			}
		}
		m := left[best]
		left = slices.Delete(left, best, best+1)
		s := Step{Title: fmt.Sprintf("Push in %q", m.Name), Moves: []string{m.Name}, Among: names(stand),
			How:  []string{"Push it along the bore's axis into its closed pocket of the former, with a non-magnetic pusher on a screw."},
			Hold: []string{fmt.Sprintf("%q is lidded at once: a piece that is only glued turns over or flies out.", m.Name)}}
		if len(stand) > 0 {
			s.Toward = unit(axis, -1)
			s.FromM = math.Max(closeFromM, 1.25*(along(m.Max, axis)-along(m.Min, axis)))
		}
		o.steps = append(o.steps, s)
		stand = append(stand, m)
	}
}

// sooner tells whether a goes in before b.
func (o *order) sooner(a, b *Part, stand []*Part) bool {
	if len(stand) == 0 {
		return false
	}
	ea, eb := repulsion(a, stand), repulsion(b, stand)
	if math.Abs(ea-eb) > 1e-6*(math.Abs(ea)+math.Abs(eb)) {
		return ea < eb
	}
	last := stand[len(stand)-1].center()
	return r3.Norm(r3.Sub(a.center(), last)) > r3.Norm(r3.Sub(b.center(), last))+touchM
}

// repulsion is the energy of a magnet among others, all as dipoles of its volume, without the constant before it: above zero they hold it off. It
// tells which of the pieces goes in more easily, not how hard it goes.
func repulsion(m *Part, stand []*Part) (sum float64) {
	for _, s := range stand {
		d := r3.Sub(m.center(), s.center())
		r := r3.Norm(d)
		if r == 0 {
			continue
		}
		n := r3.Scale(1/r, d)
		sum += s.VolumeM3 * (r3.Dot(m.Direction, s.Direction) - 3*r3.Dot(m.Direction, n)*r3.Dot(s.Direction, n)) / (r * r * r)
	}
	return sum
}
