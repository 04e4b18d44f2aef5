package draw

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"

	"polewright/facet"
	"polewright/shape"
)

// Chord is how far the facets of a round face may lie inside it, m.
const Chord = 2e-5

// Surface is the closed surface of the part in its own frame, the one it is drawn in.
func (p Part) Surface() ([]facet.Triangle, error) {
	if w, ok := p.Solid.(Window); ok {
		return facet.Prism(w.outline(), -w.Height/2, w.Height/2, Chord)
	}
	return facet.Of(p.Solid, Chord)
}

// Bounds is the box of the part along the world's axes.
func (p Part) Bounds() r3.Box {
	if w, ok := p.Solid.(Window); ok {
		return shape.Bounds(w.filled(), p.Place)
	}
	return shape.Bounds(p.Solid, p.Place)
}

// behind is what is left of an edge when all nearer than a depth is cut away.
func (w view) behind(c curve, depth float64) (out []curve) {
	if math.IsInf(depth, 1) {
		return []curve{c}
	}
	over := func(t float64) float64 { return r3.Dot(c.at(t), w.toward) - depth }
	stops := []float64{0, 1}
	if !c.arc {
		if a, b := over(0), over(1); a*b < 0 {
			stops = append(stops, a/(a-b))
		}
	} else {
		// c·n + r cos(t - t0) = depth
		x, y := r3.Dot(c.e1, w.toward)*c.r, r3.Dot(c.e2, w.toward)*c.r
		if size, d := math.Hypot(x, y), depth-r3.Dot(c.c, w.toward); size > 1e-12 && math.Abs(d) < size {
			for _, turn := range []float64{math.Acos(d / size), -math.Acos(d / size)} {
				if t := turnFrom(c.t0, math.Atan2(y, x)+turn) / (c.t1 - c.t0); t < 1 {
					stops = append(stops, t)
				}
			}
		}
	}
	slices.Sort(stops)
	for i := 1; i < len(stops); i++ {
		if stops[i]-stops[i-1] > 1e-9 && over((stops[i]+stops[i-1])/2) < skin {
			p := c
			if c.arc {
				p.t0, p.t1 = c.t0+stops[i-1]*(c.t1-c.t0), c.t0+stops[i]*(c.t1-c.t0)
			} else {
				p.a, p.b = c.at(stops[i-1]), c.at(stops[i])
			}
			out = append(out, p)
		}
	}
	return out
}

// cut is the outline that a plane square to the view cuts out of a body.
func (w view) cut(b body, depth float64) (out []curve) {
	if _, near := w.boxOf(b.box); math.IsInf(depth, 1) || near < depth {
		return nil
	}
	surface, err := Part{Solid: b.solid}.Surface()
	if err != nil {
		return nil
	}
	// A hair behind the plane, so that it goes through no corner or face.
	depth -= 1.37e-8
	for _, t := range surface {
		var ends []r3.Vec
		for i := range t {
			p, q := b.place.ToWorld(t[i]), b.place.ToWorld(t[(i+1)%3])
			x, y := r3.Dot(p, w.toward)-depth, r3.Dot(q, w.toward)-depth
			if (x < 0) != (y < 0) {
				ends = append(ends, r3.Add(p, r3.Scale(x/(x-y), r3.Sub(q, p))))
			}
		}
		if len(ends) == 2 {
			out = append(out, curve{a: ends[0], b: ends[1]})
		}
	}
	return out
}

// hatch fills the outline of a cut with lines at 45 degrees, in the page's coordinates; up tells which way they slope.
func (w view) hatch(outline []curve, spacing float64, up bool) (lines [][2]r2.Vec) {
	slope := 1.0
	if !up {
		slope = -1
	}
	height := func(p r2.Vec) float64 { return (p.Y - slope*p.X) / math.Sqrt2 }
	along := v(1/math.Sqrt2, slope/math.Sqrt2)
	lo, hi := math.Inf(1), math.Inf(-1)
	for _, c := range outline {
		a, b := height(w.flat(c.a)), height(w.flat(c.b))
		lo, hi = math.Min(lo, math.Min(a, b)), math.Max(hi, math.Max(a, b))
	}
	for k := math.Ceil(lo/spacing - 0.3); (k+0.3)*spacing < hi; k++ {
		at := (k + 0.3) * spacing
		var cuts []float64
		for _, c := range outline {
			p, q := w.flat(c.a), w.flat(c.b)
			x, y := height(p)-at, height(q)-at
			if (x < 0) != (y < 0) {
				cuts = append(cuts, r2.Dot(r2.Add(p, r2.Scale(x/(x-y), r2.Sub(q, p))), along))
			}
		}
		slices.Sort(cuts)
		base := v(-slope*at/math.Sqrt2, at/math.Sqrt2)
		for i := 0; i+1 < len(cuts); i += 2 {
			lines = append(lines, [2]r2.Vec{r2.Add(base, r2.Scale(cuts[i], along)), r2.Add(base, r2.Scale(cuts[i+1], along))})
		}
	}
	return lines
}
