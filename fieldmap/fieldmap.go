package fieldmap

import (
	"context"
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"

	"polewright"
	"polewright/design"
	"polewright/draw"
	"polewright/report"
)

// steps is into how many the longer side of a map is cut.
const steps = 128

// plane says which axes run across and up the map of a plane across an axis, and which sign its normal towards the reader has.
var plane = [3]struct {
	across, up int
	normal     float64
}{{1, 2, 1}, {0, 2, -1}, {0, 1, 1}}

// Across is |B| over the plane across an axis (0, 1, 2 for x, y, z) through the middle of the gap, a fifth wider all round than the parts, with
// what the plane cuts in outline. Between the samples it is off by less than 0.3 % of the top of the scale or so. The error is that of ctx.
func Across(ctx context.Context, d *design.Design, s *polewright.Solved, axis int) (report.Map, error) {
	parts, at, k := draw.Parts(d), s.Result.GapAtM, plane[axis]
	m := report.Map{UName: string("xyz"[k.across]), VName: string("xyz"[k.up])}
	lo, hi := Bounds(parts)
	margin := math.Max(hi[k.across]-lo[k.across], hi[k.up]-lo[k.up]) / 5
	wide, high := hi[k.across]-lo[k.across]+2*margin, hi[k.up]-lo[k.up]+2*margin
	step := math.Max(wide, high) / steps
	m.U = lattice(lo[k.across]-margin, wide, step)
	m.V = lattice(lo[k.up]-margin, high, step)
	for _, p := range parts {
		loops := section(p, axis, at[axis])
		if len(loops) == 0 {
			continue
		}
		o := report.Outline{Name: p.Name}
		for _, l := range loops {
			var q []r2.Vec
			for _, x := range l {
				c := coordinates(x)
				q = append(q, r2.Vec{X: c[k.across], Y: c[k.up]})
			}
			o.Loops = append(o.Loops, q)
		}
		dir := coordinates(p.Direction)
		o.Magnetized = r3.Vec{X: dir[k.across], Y: dir[k.up], Z: k.normal * dir[axis]}
		m.Parts = append(m.Parts, o)
	}
	place := func(i, j int) r3.Vec {
		x := at
		x[k.across], x[k.up] = m.U[i], m.V[j]
		return vector(x)
	}
	n := sampler{
		columns: len(m.U), rows: len(m.V),
		value: func(i, j int) float64 { b, _ := s.Field(place(i, j)); return r3.Norm(b) },
		owner: func(i, j int) int {
			x := place(i, j)
			return slices.IndexFunc(parts, func(p draw.Part) bool { return p.Solid.Contains(p.Place.ToLocal(x), 0) })
		},
		mirrorU: s.Mirror(k.across, (lo[k.across]+hi[k.across])/2) != 0, mirrorV: s.Mirror(k.up, (lo[k.up]+hi[k.up])/2) != 0,
	}
	var err error
	m.B, err = n.sample(ctx)
	return m, err
}

// lattice is evenly spaced coordinates in a whole number of blocks, about a step apart.
func lattice(from, length, step float64) (x []float64) {
	n := block * max(2, int(math.Round(length/step/block)))
	for i := range n + 1 {
		x = append(x, from+length*float64(i)/float64(n))
	}
	return x
}

// Bounds is the box that holds all parts, m.
func Bounds(parts []draw.Part) (lo, hi [3]float64) {
	for i, p := range parts {
		b := p.Bounds()
		l, h := coordinates(b.Min), coordinates(b.Max)
		if i == 0 {
			lo, hi = l, h
		}
		for k := range 3 {
			lo[k], hi[k] = math.Min(lo[k], l[k]), math.Max(hi[k], h[k])
		}
	}
	return lo, hi
}

func coordinates(v r3.Vec) [3]float64 { return [3]float64{v.X, v.Y, v.Z} }
func vector(c [3]float64) r3.Vec      { return r3.Vec{X: c[0], Y: c[1], Z: c[2]} }
