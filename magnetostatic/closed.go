package magnetostatic

import (
	"math"
	"slices"
	"sync"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"

	"polewright/freefield"
	"polewright/material"
	"polewright/shape"
)

// This file takes the magnets of the grid as closed forms where the field is recovered. The field of a magnet rises without bound at the edges
// of its poles, where no polynomial follows it, but what is left of the potential without the magnets nearby is smooth there.

// closedForm is a magnet of the grid as an exact source.
type closedForm struct {
	freefield.Magnet
	body freefield.Magnet // as it is, for the distance; the source itself may be longer
	ends []pole           // that it has there only because it is longer

	fixed          r3.Vec  // the part of its polarization that does not depend on H, T, world frame
	susceptibility float64 // of the rest

	mu     sync.RWMutex
	atNode map[int]float64 // potential at the nodes of samples so far, A
}

// pole is an end face of a magnet in its own frame.
type pole struct{ center, half r3.Vec }

func newClosedForm(m, body freefield.Magnet, ends []pole, fixed r3.Vec, susceptibility float64) *closedForm {
	return &closedForm{Magnet: m, body: body, ends: ends, fixed: fixed, susceptibility: susceptibility, atNode: map[int]float64{}}
}

// closedForms are the magnets whose closed forms are taken off where a field is fitted.
type closedForms struct {
	list []*closedForm
	bare []bool // bodies that are empty space once their closed form is taken off
}

// clear tells whether a body, -1 for air, is empty space once its closed form is taken off.
func (c *closedForms) clear(body int32) bool { return body < 0 || c.bare[body] }

// findClosedForms finds the magnets that the grid follows, uniformly polarized with the mean of what they have, their recoil included. A pole that
// lies on steel has no charge of its own to see, for the steel carries the opposite one: there the magnet is made to go on into the steel. Of
// exact sources they are what the recoil adds.
func (s *Solution) findClosedForms() closedForms {
	const slight = 0.2 // susceptibility
	out := closedForms{bare: make([]bool, len(s.Problem.Media))}
	for i, j := range s.induced() {
		m := s.Problem.Exact[i]
		m.Polarization = j
		out.list = append(out.list, newClosedForm(m, m, nil, r3.Vec{}, s.Problem.Recoil[i]-1))
	}
	g := s.Problem.Grids
	if len(g.Bodies) != len(s.Problem.Media) {
		return out
	}
	for i, b := range s.Bodies() {
		if !g.Fits[i] || s.Problem.Media[i].Polarization == (Vec{}) || b.Volume == 0 {
			continue
		}
		m := freefield.Magnet{Solid: g.Bodies[i].Solid, Place: g.Bodies[i].Place, Polarization: r3.Scale(material.Mu0/b.Volume, b.Moment)}
		if m.Check() == nil {
			// Where it keeps less here than there its field is not that of its surface alone.
			out.bare[i] = s.sys.kept == nil && s.Problem.Media[i].isotropic() && math.Abs(s.Problem.Media[i].RelativeUU-1) < slight
			longer, ends := s.prolonged(m)
			fixed := g.World(s.Problem.Media[i].Polarization)
			out.list = append(out.list, newClosedForm(longer, m, ends, fixed, s.Problem.Media[i].RelativeUU-1))
		}
	}
	return out
}

// induced is the mean polarization (T, world frame) that the recoil adds in each exact source.
func (s *Solution) induced() []r3.Vec {
	p := s.Problem
	out, weight := make([]r3.Vec, len(p.Exact)), make([]float64, len(p.Exact))
	if len(out) == 0 {
		return out
	}
	nl := s.Grid.Layers()
	var v [6][3]float64
	for t := range s.sys.els {
		for l := range nl {
			pc := s.sys.partial[int64(t)*int64(nl)+int64(l)]
			if pc == nil {
				continue
			}
			s.cellNodes(t, l, &v)
			for i, x := range pc.excess {
				if x == 0 {
					continue
				}
				hf, q, w := s.fieldAt(t, l, &v, i%6, i/6)
				s.eachImage(0, func(_ int, mirror [3]float64, sign float64) {
					at, h := q, hf
					for k := range 3 {
						at[k] *= mirror[k]
						h[k] *= sign * mirror[k]
					}
					place := p.world(at[0], at[1], at[2])
					for j := range p.Exact {
						if m := &p.Exact[j]; p.Recoil[j] != 1 && m.Solid.Contains(m.Place.ToLocal(place), 0) {
							out[j] = r3.Add(out[j], r3.Scale(w*x, p.Grids.World(h)))
							weight[j] += w
							break
						}
					}
				})
			}
		}
	}
	for j, w := range weight {
		if w > 0 {
			out[j] = r3.Scale(1/w, out[j])
		}
	}
	return out
}

// prolonged lets a magnet go on into the steel on which one of its poles lies, and gives its new poles in the frame of the old one.
func (s *Solution) prolonged(m freefield.Magnet) (out freefield.Magnet, ends []pole) {
	const times = 10 // its largest dimension: its other pole is out of reach of the gap
	j := m.Place.Rot.Inverse(m.Polarization)
	half := m.Solid.HalfExtent()
	more := times * 2 * math.Max(half.X, math.Max(half.Y, half.Z))
	out = m
	for k, unit := range [3]r3.Vec{{X: 1}, {Y: 1}, {Z: 1}} {
		if math.Abs(r3.Dot(j, unit)) < 0.99*r3.Norm(j) {
			continue
		}
		for _, way := range []float64{-1, 1} {
			if !s.onSteel(m, k, way) {
				continue
			}
			switch o := out.Solid.(type) {
			case shape.Block:
				o.Size = r3.Add(o.Size, r3.Scale(more, unit))
				out.Solid = o
			case shape.Disc:
				o.Thickness += more
				out.Solid = o
			case shape.Ring:
				o.Thickness += more
				out.Solid = o
			case shape.Wedge:
				o.Thickness += more
				out.Solid = o
			}
			out.Place.Center = r3.Add(out.Place.Center, m.Place.Rot.Apply(r3.Scale(way*more/2, unit)))
			along := r3.Dot(half, unit)
			ends = append(ends, pole{r3.Scale(way*(along+more), unit), r3.Sub(half, r3.Scale(along, unit))})
		}
	}
	return out, ends
}

// onSteel tells whether most of the end of a magnet along one of its axes lies on steel.
func (s *Solution) onSteel(m freefield.Magnet, axis int, way float64) bool {
	const steps = 5
	half := m.Solid.HalfExtent()
	h := [3]float64{half.X, half.Y, half.Z}
	size := math.Max(h[0], math.Max(h[1], h[2]))
	var on, all int
	for a := range steps {
		for b := range steps {
			var p [3]float64
			p[axis] = way * h[axis]
			p[(axis+1)%3] = h[(axis+1)%3] * (2*(float64(a)+0.5)/steps - 1)
			p[(axis+2)%3] = h[(axis+2)%3] * (2*(float64(b)+0.5)/steps - 1)
			within := p
			within[axis] -= way * 1e-4 * size
			if !m.Solid.Contains(r3.Vec{X: within[0], Y: within[1], Z: within[2]}, 0) {
				continue
			}
			all++
			p[axis] += way * 1e-4 * size
			body := s.Body(m.Place.ToWorld(r3.Vec{X: p[0], Y: p[1], Z: p[2]}))
			if body >= 0 && s.Problem.Media[body].highlyPermeable() {
				on++
			}
		}
	}
	return 2*on > all
}

// highlyPermeable tells whether the field of a charge on the medium is all but taken away by the medium's own.
func (m *Medium) highlyPermeable() bool { return !m.Linear || m.isotropic() && m.RelativeUU > 10 }

// near are the closed forms of the magnets within some radii of a patch round a point of the grid's frame. It is false where a pole that a magnet has
// only because it was made longer lies within the patch: then nothing there is smooth, neither with its closed form nor without it.
func (s *Solution) near(q [3]float64, radius float64) (list []*closedForm, ok bool) {
	p := s.Problem.world(q[0], q[1], q[2])
	for _, m := range s.closedForms().list {
		local, half := m.body.Place.ToLocal(p), m.body.Solid.HalfExtent()
		if outside(half, local) >= nearby*radius {
			continue
		}
		if slices.ContainsFunc(m.ends, func(e pole) bool { return outside(e.half, r3.Sub(local, e.center)) < radius }) {
			return nil, false
		}
		list = append(list, m)
	}
	return list, true
}

// here is a magnet's polarization next to a point of the grid's frame, over its mean: with recoil, and where it has lost some for good, it is less where the
// magnet's own field is stronger, and a closed form of the mean would leave charges on the face there. It is 1 where the magnet's surface is not known.
func (s *Solution) here(c *closedForm, q [3]float64) float64 {
	mean := r3.Norm2(c.Polarization)
	m := &c.body
	half := m.Solid.HalfExtent()
	local := m.Place.ToLocal(s.Problem.world(q[0], q[1], q[2]))
	if c.susceptibility == 0 && s.sys.kept == nil || mean == 0 {
		return 1
	}
	deep := 1e-3 * math.Min(half.X, math.Min(half.Y, half.Z)) // in a cell of the magnet
	sides, n := shape.Sides(m.Solid, local)
	for _, side := range sides[:n] {
		local = r3.Sub(local, r3.Scale(math.Max(0, side.Beyond+deep), side.Away))
	}
	if !m.Solid.Contains(local, 0) {
		return 1
	}
	at, sign := s.fold(m.Place.ToWorld(local))
	t, l, area, frac, ok := s.locate(at)
	if !ok {
		return 1
	}
	h := s.raw(at, t, l, area, frac)
	for k := range h {
		h[k] *= sign[k]
	}
	j := r3.Add(r3.Scale(s.keptNear(s.sys.kept, at), c.fixed), r3.Scale(material.Mu0*c.susceptibility, s.Problem.Grids.World(h)))
	return r3.Dot(j, c.Polarization) / mean
}

// outside is the distance of a point from a box about the origin with half extents e.
func outside(e, p r3.Vec) float64 {
	return math.Sqrt(square(math.Abs(p.X)-e.X) + square(math.Abs(p.Y)-e.Y) + square(math.Abs(p.Z)-e.Z))
}

// takeOff takes the potential of a magnet, times a factor, off that of samples in the grid's frame. Points that lie close share nodes, so what a node
// had from it is kept.
func (s *Solution) takeOff(c *closedForm, factor float64, nodes []sample) {
	var missing []int
	c.mu.RLock()
	for i := range nodes {
		phi, known := c.atNode[nodes[i].node]
		if !known {
			missing = append(missing, i)
			continue
		}
		nodes[i].phi -= factor * phi
	}
	c.mu.RUnlock()
	if len(missing) == 0 {
		return
	}
	values := make([]float64, len(missing))
	for k, i := range missing {
		d := nodes[i].d
		values[k] = c.Potential(s.Problem.world(d[0], d[1], d[2]))
		nodes[i].phi -= factor * values[k]
	}
	c.mu.Lock()
	for k, i := range missing {
		c.atNode[nodes[i].node] = values[k]
	}
	c.mu.Unlock()
}

// room is the distance from the middle of a cell to the nearest of its faces.
func (s *Solution) room(t, l int) float64 {
	tri := &s.Grid.Plan.Triangles[t]
	a, b, c := s.Grid.Plan.Nodes[tri[0]], s.Grid.Plan.Nodes[tri[1]], s.Grid.Plan.Nodes[tri[2]]
	ab, bc, ca := r2.Sub(b, a), r2.Sub(c, b), r2.Sub(a, c)
	longest := math.Max(r2.Norm(ab), math.Max(r2.Norm(bc), r2.Norm(ca)))
	return math.Min(r2.Cross(ab, bc)/(3*longest), (s.Grid.Faces[l+1]-s.Grid.Faces[l])/2)
}

// missed is the most by which the quadratic edges of a triangle miss the circles through their nodes: they lie within them, by s^3/(4 c^2) at most
// for an arc of height s over a chord of 2 c, as r^2 - R(x)^2 = (s x)^2 (1 - x^2) at the place x of the edge from -1 to 1.
func (s *Solution) missed(t int) (most float64) {
	tri, nodes := &s.Grid.Plan.Triangles[t], s.Grid.Plan.Nodes
	for e := range 3 {
		a, b := nodes[tri[e]], nodes[tri[(e+1)%3]]
		height := r2.Norm(r2.Sub(nodes[tri[3+e]], r2.Scale(0.5, r2.Add(a, b))))
		chord := r2.Norm(r2.Sub(b, a))
		most = math.Max(most, height*height*height/(chord*chord))
	}
	return most
}

// giveBack adds the field strength of sources at a point of a cell, on the cell's side of a pole that the point lies on.
func (s *Solution) giveBack(list freefield.Sources, h *[3]float64, q [3]float64, t, l int) {
	if len(list) == 0 {
		return
	}
	// Towards the middle of the cell, so far that the way off any of its faces is more than what freefield takes as on it, and than what a curved one misses
	// its arc by.
	way := (1e-11*s.Problem.Grids.Scale + 2*s.missed(t)) / s.room(t, l)
	for k, x := range s.sys.warps.Apply(s.sys.inside(t, l)) {
		q[k] += way * (x - q[k])
	}
	e := s.Problem.Grids.Frame(list.H(s.Problem.world(q[0], q[1], q[2])))
	for k := range h {
		h[k] += e[k]
	}
}
