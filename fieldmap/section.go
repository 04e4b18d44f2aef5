package fieldmap

import (
	"gonum.org/v1/gonum/spatial/r3"

	"polewright/draw"
)

// hair is how far beside a plane a part is really cut, m, so that the cut goes through no corner or face.
const hair = 1.37e-8

// section is the outline that the plane across a world axis cuts out of a part: closed loops, in the world; none where they do not meet.
// A plane on a face sees the part on its positive side.
func section(p draw.Part, axis int, at float64) (loops [][]r3.Vec) {
	b := p.Bounds()
	if at+hair <= coordinates(b.Min)[axis] || at+hair >= coordinates(b.Max)[axis] {
		return nil
	}
	surface, err := p.Surface()
	if err != nil {
		return nil
	}
	height := func(x r3.Vec) float64 { return coordinates(x)[axis] - at - hair }
	next := map[r3.Vec]r3.Vec{} // each facet that is cut leads from one of its edges to another
	for _, t := range surface {
		var from, to r3.Vec
		cut := false
		for i := range t {
			a, b := p.Place.ToWorld(t[i]), p.Place.ToWorld(t[(i+1)%3])
			x, y := height(a), height(b)
			if (x < 0) == (y < 0) {
				continue
			}
			// The lower end first, so that both facets of the edge get the same point.
			if cut = true; x < 0 {
				from = r3.Add(a, r3.Scale(x/(x-y), r3.Sub(b, a)))
			} else {
				to = r3.Add(b, r3.Scale(y/(y-x), r3.Sub(a, b)))
			}
		}
		if cut {
			next[from] = to
		}
	}
	for len(next) > 0 {
		var start r3.Vec
		first := true
		for x := range next { // the least, so that the order does not change from run to run
			if first || less(x, start) {
				start, first = x, false
			}
		}
		var loop []r3.Vec
		for x, ok := start, true; ok; {
			to, more := next[x]
			if ok = more; ok {
				loop = append(loop, x)
				delete(next, x)
				x = to
			}
		}
		if len(loop) > 2 {
			loops = append(loops, loop)
		}
	}
	return loops
}

func less(a, b r3.Vec) bool {
	switch {
	case a.X != b.X:
		return a.X < b.X
	case a.Y != b.Y:
		return a.Y < b.Y
	}
	return a.Z < b.Z
}
