package grid

import (
	"cmp"
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"

	"polewright/shape"
)

// This file lets the grid follow round pole tips (frustums). The plan holds one circle for all tips on one axis; at each height the plan is
// stretched about that axis so that the circle has the tip's radius there. What the cells' shape costs is put into the medium by whoever
// solves on them.

// Warp moves the points of a plan along the radius about an axis along w: a point at radius R goes to R + Shift(w) * share(R), where share
// rises evenly from 0 at Inner to 1 at Circle and falls to 0 at Outer. Shift is linear between the knots and zero beyond them.
type Warp struct {
	At                   [2]float64 // the axis in the plan, m
	Inner, Circle, Outer float64    // radii, m
	Knots                []Knot     // ascending
}

// Knot is the shift of the circle at a height.
type Knot struct{ W, Shift float64 }

// shift is that of the circle at height w; its slope is that of the piece in which the height in lies.
func (w *Warp) shift(at, in float64) (d, slope float64) {
	k := w.Knots
	piece := func(x float64) int {
		i, _ := slices.BinarySearchFunc(k, x, func(k Knot, x float64) int { return cmp.Compare(k.W, x) })
		return i
	}
	if i := piece(at); i > 0 && i < len(k) {
		f := (at - k[i-1].W) / (k[i].W - k[i-1].W)
		d = (1-f)*k[i-1].Shift + f*k[i].Shift
	} else if i < len(k) && k[i].W == at {
		d = k[i].Shift
	}
	if i := piece(in); i > 0 && i < len(k) {
		slope = (k[i].Shift - k[i-1].Shift) / (k[i].W - k[i-1].W)
	}
	return d, slope
}

func (w *Warp) share(r, in float64) (g, slope float64) {
	switch {
	case r > w.Inner && r <= w.Circle:
		g = (r - w.Inner) / (w.Circle - w.Inner)
	case r > w.Circle && r < w.Outer:
		g = (w.Outer - r) / (w.Outer - w.Circle)
	}
	switch {
	case in > w.Inner && in <= w.Circle:
		slope = 1 / (w.Circle - w.Inner)
	case in > w.Circle && in < w.Outer:
		slope = -1 / (w.Outer - w.Circle)
	}
	return g, slope
}

// Warps are the warps of a grid; the rings between their inner and outer radii do not meet.
type Warps []Warp

// of finds the warp whose ring a point of the plan lies in.
func (ws Warps) of(u, v float64) *Warp {
	for i := range ws {
		if w := &ws[i]; math.Hypot(u-w.At[0], v-w.At[1]) < w.Outer {
			return w
		}
	}
	return nil
}

// Apply carries a point of the plan, at its height, to where it stands.
func (ws Warps) Apply(q [3]float64) [3]float64 {
	w := ws.of(q[0], q[1])
	if w == nil {
		return q
	}
	x, y := q[0]-w.At[0], q[1]-w.At[1]
	r := math.Hypot(x, y)
	if r == 0 {
		return q
	}
	d, _ := w.shift(q[2], q[2])
	g, _ := w.share(r, r)
	s := 1 + d*g/r
	return [3]float64{w.At[0] + s*x, w.At[1] + s*y, q[2]}
}

// Invert carries a point of space back to the plan.
func (ws Warps) Invert(q [3]float64) [3]float64 {
	w := ws.of(q[0], q[1])
	if w == nil {
		return q
	}
	x, y := q[0]-w.At[0], q[1]-w.At[1]
	r := math.Hypot(x, y)
	d, _ := w.shift(q[2], q[2])
	if r == 0 || d == 0 || r <= w.Inner {
		return q
	}
	var back float64
	if edge := w.Circle + d; r <= edge {
		back = w.Inner + (r-w.Inner)*(w.Circle-w.Inner)/(edge-w.Inner)
	} else {
		back = w.Outer - (w.Outer-r)*(w.Outer-w.Circle)/(w.Outer-edge)
	}
	s := back / r
	return [3]float64{w.At[0] + s*x, w.At[1] + s*y, q[2]}
}

// Jacobian is dx/dX of Apply at a point, with the slopes of the pieces in which another point lies (one within the cell that is meant, for
// points on its faces). Its last row is (0, 0, 1). ok is false where nothing is moved.
func (ws Warps) Jacobian(q, in [3]float64) (f [3][3]float64, ok bool) {
	w := ws.of(in[0], in[1])
	if w == nil {
		return f, false
	}
	x, y := q[0]-w.At[0], q[1]-w.At[1]
	r := math.Hypot(x, y)
	d, dSlope := w.shift(q[2], in[2])
	if d == 0 && dSlope == 0 {
		return f, false
	}
	g, gSlope := w.share(r, math.Hypot(in[0]-w.At[0], in[1]-w.At[1]))
	s, radial := 1+d*gSlope, 1+d*gSlope
	var ex, ey float64
	if r > 0 {
		ex, ey = x/r, y/r
		s = 1 + d*g/r
	}
	k := radial - s
	f[0] = [3]float64{s + k*ex*ex, k * ex * ey, dSlope * g * ex}
	f[1] = [3]float64{k * ex * ey, s + k*ey*ey, dSlope * g * ey}
	f[2][2] = 1
	return f, true
}

// rim tells whether a body is a pole tip, whose rim stands next to the gap.
func (p *placed) rim() bool {
	_, ok := p.body.Solid.(shape.Frustum)
	return ok
}

// soft tells whether a body has no magnetization of its own.
func (p *placed) soft() bool { return r3.Norm2(p.body.Polarization) == 0 }

// tip is a frustum along w.
type tip struct {
	index    int
	at       [2]float64
	lo, hi   float64
	rlo, rhi float64 // radii there
}

// tips finds the frustums that stand along the axis of a grid, in its frame.
func tips(g *Grids, bodies []Body) (out []tip) {
	center := Frame(g.Axis, g.Center)
	for i := range bodies {
		f, ok := bodies[i].Solid.(shape.Frustum)
		if !ok {
			continue
		}
		b := &bodies[i]
		up := [3]float64{b.Place.Rot[0][2], b.Place.Rot[1][2], b.Place.Rot[2][2]}[g.Axis]
		if math.Abs(up) < 1-1e-12 {
			continue
		}
		c := Frame(g.Axis, b.Place.Center)
		t := tip{index: i, at: [2]float64{c[0] - center[0], c[1] - center[1]}, lo: c[2] - center[2] - f.Height/2, hi: c[2] - center[2] + f.Height/2,
			rlo: f.BottomDiameter / 2, rhi: f.TopDiameter / 2}
		if up < 0 {
			t.rlo, t.rhi = t.rhi, t.rlo
		}
		out = append(out, t)
	}
	return out
}

// follow lays warps for the tips of each axis, so that no outline of another body and no plane that the grid has to contain is moved. A tip
// for which there is no such warp is left out.
func (g *Grids) follow(s Spec, fitted []placed) (followed []placed) {
	all := tips(g, s.Bodies)
	var groups [][]tip
	for _, t := range all {
		i := slices.IndexFunc(groups, func(o []tip) bool { return math.Hypot(o[0].at[0]-t.at[0], o[0].at[1]-t.at[1]) < 1e-8 })
		if i < 0 {
			i = len(groups)
			groups = append(groups, nil)
		}
		groups[i] = append(groups[i], t)
	}
	center := Frame(g.Axis, g.Center)
	for i, tips := range groups {
		slices.SortFunc(tips, func(a, b tip) int { return cmp.Compare(a.lo, b.lo) })
		at := tips[0].at
		most := math.Inf(1) // of the outer radius
		for j, o := range groups {
			if i != j {
				most = math.Min(most, math.Hypot(o[0].at[0]-at[0], o[0].at[1]-at[1])/2)
			}
		}
		for k := range 2 {
			for _, plane := range s.Planes[(g.Axis+1+k)%3] {
				if d := math.Abs(plane - center[k] - at[k]); d > 1e-9 {
					most = math.Min(most, d)
				}
			}
			if d := math.Abs(at[k]); g.parity()[k] != None && d > 1e-9 {
				most = math.Min(most, d)
			}
		}
		w, ok := warpFor(tips, fitted, most)
		if !ok {
			continue
		}
		g.Warps = append(g.Warps, w)
		circle, _, _, _ := shape.Outline(shape.Disc{Diameter: 2 * w.Circle, Thickness: 1}, shape.Placement{Rot: shape.Identity()}, 2)
		for _, t := range tips {
			followed = append(followed, placed{index: t.index, loops: shifted(circle, [3]float64{-t.at[0], -t.at[1]}), lo: t.lo, hi: t.hi, body: &s.Bodies[t.index]})
		}
	}
	return followed
}

// leastWarp is the smallest radius of a tip over that of the circle: sharper cones would squeeze the cells flat.
const leastWarp = 0.2

// warpFor tries the tips' own radii as the circle and rings about it, from wide to narrow.
func warpFor(tips []tip, bodies []placed, most float64) (Warp, bool) {
	least, largest := math.Inf(1), 0.0
	var radii []float64
	for _, t := range tips {
		least, largest = min(least, t.rlo, t.rhi), max(largest, t.rlo, t.rhi)
		radii = append(radii, t.rlo, t.rhi)
	}
	slices.SortFunc(radii, func(a, b float64) int { return cmp.Compare(b, a) })
	best, found := Warp{}, false
	for _, circle := range slices.Compact(radii) {
		if least < leastWarp*circle {
			continue
		}
		for _, inner := range []float64{0, 0.5, 0.75} {
			for _, outer := range []float64{2, 1.5, 1.25, 1.12} {
				w := Warp{At: tips[0].at, Inner: inner * least, Circle: circle, Outer: outer * largest}
				if w.Outer > most || !w.lay(tips, bodies) {
					continue
				}
				if w.steepness(tips) <= mostSteep {
					return w, true
				}
				if !found || w.steepness(tips) < best.steepness(tips) {
					best, found = w, true
				}
			}
		}
	}
	return best, found
}

// mostSteep is the largest shift over height beside the tips that costs no accuracy: cells there lean by 45 degrees.
const mostSteep = 1

// steepness is the largest shift over height outside the tips.
func (w *Warp) steepness(tips []tip) (most float64) {
	for i, k := range w.Knots[1:] {
		mid := (k.W + w.Knots[i].W) / 2
		if !slices.ContainsFunc(tips, func(t tip) bool { return t.lo < mid && mid < t.hi }) {
			most = math.Max(most, math.Abs(k.Shift-w.Knots[i].Shift)/(k.W-w.Knots[i].W))
		}
	}
	return most
}

// lay finds the knots, or tells that an outline of a body would be moved.
func (w *Warp) lay(tips []tip, bodies []placed) bool {
	const tol = 1e-9
	type span struct{ lo, hi float64 }
	var still []span // heights at which the plan has to stay
	for i := range bodies {
		b := &bodies[i]
		if slices.ContainsFunc(b.loops, func(l shape.Loop) bool {
			return slices.ContainsFunc(l, func(e shape.Edge) bool {
				near, far := distances(e, w.At)
				return far > w.Inner+tol && near < w.Outer-tol
			})
		}) {
			still = append(still, span{b.lo, b.hi})
		}
	}
	for i, t := range tips[1:] {
		if t.lo < tips[i].hi+tol && math.Abs(t.rlo-tips[i].rhi) > tol {
			return false // one circle cannot have two radii at one height
		}
	}
	for _, s := range still {
		for _, t := range tips {
			if s.hi < t.lo-tol || s.lo > t.hi+tol {
				continue
			}
			flat := math.Abs(t.rlo-w.Circle) < tol && math.Abs(t.rhi-w.Circle) < tol
			meets := s.hi <= t.lo+tol && math.Abs(t.rlo-w.Circle) < tol || s.lo >= t.hi-tol && math.Abs(t.rhi-w.Circle) < tol
			if !flat && !meets {
				return false
			}
		}
	}
	w.Knots = nil
	add := func(at, shift float64) {
		if n := len(w.Knots); n == 0 || at > w.Knots[n-1].W+tol {
			w.Knots = append(w.Knots, Knot{at, shift})
		}
	}
	// room is how far from a height up (way 1) or down (-1) nothing has to stay.
	room := func(from float64, way float64) float64 {
		free := w.Circle
		for _, s := range still {
			if d := way * (map[bool]float64{true: s.lo, false: s.hi}[way > 0] - from); d > -tol {
				free = math.Min(free, math.Max(d, 0))
			}
		}
		return free
	}
	for i, t := range tips {
		below := room(t.lo, -1)
		if i == 0 || tips[i-1].hi+room(tips[i-1].hi, 1)+below < t.lo-tol {
			add(t.lo-below, 0)
		}
		add(t.lo, t.rlo-w.Circle)
		add(t.hi, t.rhi-w.Circle)
		above := room(t.hi, 1)
		if i == len(tips)-1 || t.hi+above+room(tips[i+1].lo, -1) < tips[i+1].lo-tol {
			add(t.hi+above, 0)
		}
	}
	return true
}

// distances are the least and the largest distance of an edge from a point, or bounds of them.
func distances(e shape.Edge, at [2]float64) (near, far float64) {
	p := r2.Vec{X: at[0], Y: at[1]}
	if e.Radius == 0 {
		return segmentDistance(p, e.A, e.B), math.Max(r2.Norm(r2.Sub(e.A, p)), r2.Norm(r2.Sub(e.B, p)))
	}
	d := r2.Norm(r2.Sub(e.Center, p))
	return math.Abs(d - e.Radius), d + e.Radius
}
