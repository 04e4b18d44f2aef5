package magnetostatic

import (
	"math"
)

// This file holds coils as sources. A winding of uniform current density J about an axis is written J = curl T with a vector T along that
// axis: from the outside of the winding inwards T grows from zero to J times the build, and it has that value all over the bore, between
// the winding's two end planes. Then curl (H - T) = 0 and
//
//	H = T - grad phi
//
// with one single-valued phi and no cut. T is a known function, exact to rounding, and constant in a core of steel, where grad phi cancels
// it as two constants cancel. Across the end planes T jumps along its own direction, as the polarization of a magnet does at its pole
// faces, so the grid has to contain these planes; the sides of the winding need not be followed.

// Coil is a winding as a source.
type Coil struct {
	Body int // its number among the grid's bodies if the grid does not follow it, else -1
	// T (A/m) at a point of the grid's frame between the end planes, without regard to them.
	T func(q [3]float64) Vec
	// Axis of T in the grid's frame: 0, 1, 2 for u, v, w.
	Axis int
	// Min, Max is the box of the winding and its bore in the grid's frame; T is zero outside.
	Min, Max Vec
	Moment   Vec // integral of T, A m2, of the whole coil
	// Distance of a point from the winding, m.
	Distance func(q [3]float64) float64
}

// zones tells in which cells which coils have their T.
type zones struct {
	coils []Coil
	of    []int32   // zone of each cell
	list  [][]int32 // coils of each zone; zone 0 has none
}

func (s *system) placeCoils(coils []Coil) {
	if len(coils) == 0 {
		return
	}
	z := &zones{coils: coils, of: make([]int32, len(s.cell)), list: [][]int32{nil}}
	known := map[string]int32{"": 0}
	var active []int32
	var key []byte
	for t, tri := range s.mesh.Triangles {
		var c [3]float64
		for _, n := range tri[:3] {
			c[0] += s.mesh.Nodes[n].X / 3
			c[1] += s.mesh.Nodes[n].Y / 3
		}
		for l := range s.nl {
			c[2] = (s.faces[l] + s.faces[l+1]) / 2
			active, key = active[:0], key[:0]
			for i := range coils {
				if coils[i].holds(&c) {
					active = append(active, int32(i))
					key = append(key, byte(i), byte(i>>8))
				}
			}
			id, ok := known[string(key)]
			if !ok {
				id = int32(len(z.list))
				known[string(key)] = id
				z.list = append(z.list, append([]int32(nil), active...))
			}
			z.of[t*s.nl+l] = id
		}
	}
	s.zones = z
}

func (c *Coil) holds(q *[3]float64) bool {
	for k := range 3 {
		if q[k] < c.Min[k] || q[k] > c.Max[k] {
			return false
		}
	}
	return true
}

// in tells whether a cell lies in the reach of a coil.
func (z *zones) in(cell int) bool { return z != nil && z.of[cell] != 0 }

// addTo adds T at a point of a cell to a field strength.
func (z *zones) addTo(h *[3]float64, cell int, q [3]float64) {
	if z == nil {
		return
	}
	for _, i := range z.list[z.of[cell]] {
		t := z.coils[i].T(q)
		for k := range h {
			h[k] += t[k]
		}
	}
}

// same tells whether two cells see the same coils: there the potential is smooth from one to the other.
func (z *zones) same(a, b int) bool { return z == nil || z.of[a] == z.of[b] }

// coilSource adds the integral of mu T . grad N over a linear cell.
func (s *system) coilSource(e *planElement, tri *[6]int32, t, l int, h float64, m *Medium) {
	var y [6][]float64
	for a, p := range tri {
		y[a] = s.source[int(p)*s.nz : (int(p)+1)*s.nz]
	}
	var lw law
	none := Medium{Linear: true, RelativeUU: m.RelativeUU, RelativeUV: m.RelativeUV, RelativeVV: m.RelativeVV, RelativeWW: m.RelativeWW}
	for i := range 18 {
		q := s.point(t, l, i)
		var tf [3]float64
		s.zones.addTo(&tf, t*s.nl+l, q)
		none.at(&tf, &q, &lw)
		addPoint(e, &y, l, h, i%6, i/6, lw.B)
	}
}

// straightened is the potential of H itself at a point of a ball of air about a centre, phi less the integral of T along its axis: harmonic
// across a coil's end planes too. The ball holds no winding. The integral starts at the centre, or at the end plane next to it, so that it
// vanishes beside the bore's prolongation and keeps the symmetry of phi.
func (z *zones) straightened(q [3]float64, phi float64, center [3]float64) float64 {
	if z == nil {
		return phi
	}
	for i := range z.coils {
		c := &z.coils[i]
		k := c.Axis
		within := func(w float64) float64 { return math.Min(math.Max(w, c.Min[k]), c.Max[k]) }
		phi -= c.T(q)[k] * (within(q[k]) - within(center[k]))
	}
	return phi
}

// coilMoment is the magnetic moment of all coils in the grid's frame.
func (p *Problem) coilMoment() (m [3]float64) {
	for i := range p.Coils {
		for k := range m {
			m[k] += p.Coils[i].Moment[k]
		}
	}
	return m
}
