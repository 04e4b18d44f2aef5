package magnetostatic

// This file holds the first steps of a nonlinear solve. Newton's method on the potential overshoots in steel at its knee: where the slope of
// B(H) is steep, a small change of B asks for a field strength far beyond the knee. So B is first kept as an unknown of its own at each
// quadrature point, with the law H = nu(B) linearized at it. That is Newton's method on the mixed system
//
//	integral of B . grad v = 0,   -grad phi = nu(B)
//
// in which nu is convex, and it converges in saturated steel as methods on the vector potential do. Near the solution both are the same.

// atState evaluates the law linearized at the state: B = b(h0) + D(h0) (h - h0).
func (m *Medium) atState(h, h0, q *[3]float64, out *law) {
	m.at(h0, q, out)
	d := &out.D
	x, y, z := h[0]-h0[0], h[1]-h0[1], h[2]-h0[2]
	out.B[0] += d[0]*x + d[3]*y + d[4]*z
	out.B[1] += d[3]*x + d[1]*y + d[5]*z
	out.B[2] += d[4]*x + d[5]*y + d[2]*z
}

// advance moves the state to nu of the flux density that the linearized law gives at the potential.
func (s *system) advance(phi []float64) {
	s.eachNonlinear(phi, func(t, l int, m *Medium, fields *[18][3]float64) {
		h0 := &s.state[s.slot[t*s.nl+l]]
		var lw law
		for i := range 18 {
			q := s.point(t, l, i)
			m.atState(&fields[i], &h0[i], &q, &lw)
			h0[i] = m.inverse(lw.B, q)
		}
	})
}

// point is the position of a quadrature point.
func (s *system) point(t, l, i int) [3]float64 {
	return [3]float64{s.els[t].u[i%6], s.els[t].v[i%6], s.faces[l] + layerRule[i/6].s*(s.faces[l+1]-s.faces[l])}
}

// eachNonlinear visits the nonlinear cells with H at their quadrature points.
func (s *system) eachNonlinear(phi []float64, visit func(t, l int, m *Medium, fields *[18][3]float64)) {
	s.team.run(len(s.els), 18*s.nl, func(lo, hi int) {
		var x, y [6][]float64
		var fields [18][3]float64
		for t := lo; t < hi; t++ {
			e := &s.els[t]
			for a, p := range s.mesh.Triangles[t] {
				x[a] = phi[int(p)*s.nz : (int(p)+1)*s.nz]
				if s.applied != nil {
					y[a] = s.applied[int(p)*s.nz : (int(p)+1)*s.nz]
				}
			}
			for l := range s.nl {
				m := &s.media[s.cell[t*s.nl+l]]
				if m.Linear {
					continue
				}
				h := s.faces[l+1] - s.faces[l]
				for i := range 18 {
					g := pointGradient(e, &x, l, h, i%6, i/6)
					if s.applied != nil {
						a := pointGradient(e, &y, l, h, i%6, i/6)
						for k := range 3 {
							g[k] += a[k]
						}
					}
					fields[i] = [3]float64{-g[0], -g[1], -g[2]}
					s.zones.addTo(&fields[i], t*s.nl+l, s.point(t, l, i))
				}
				visit(t, l, m, &fields)
			}
		}
	})
}

// cellMean is the mean of H over a cell, or along the wire of a bundle.
type cellMean struct {
	h     [3]float64
	along float64
}

// means gives the mean field strength of each nonlinear cell. It is far more accurate than the field at single points, which in good steel
// is a small difference of neighbouring potentials.
func (s *system) means(phi []float64) []cellMean {
	out := make([]cellMean, len(s.cell))
	s.eachNonlinear(phi, func(t, l int, m *Medium, fields *[18][3]float64) {
		e := &s.els[t]
		var area float64
		for _, w := range e.w {
			area += w
		}
		c := &out[t*s.nl+l]
		for i := range 18 {
			w := e.w[i%6] / area * layerRule[i/6].w
			for k := range 3 {
				c.h[k] += w * fields[i][k]
			}
			if m.Packing > 0 {
				tu, tv := m.Direction(e.u[i%6], e.v[i%6])
				c.along += w * (tu*fields[i][0] + tv*fields[i][1])
			}
		}
	})
	return out
}

// startAt sets the state of a system to means of the field in its cells.
func (s *system) startAt(mean func(t, l int) *cellMean) {
	for t := range s.els {
		for l := range s.nl {
			slot := s.slot[t*s.nl+l]
			if slot < 0 {
				continue
			}
			c := mean(t, l)
			m := &s.media[s.cell[t*s.nl+l]]
			for i := range 18 {
				h := c.h
				if m.Packing > 0 {
					tu, tv := m.Direction(s.els[t].u[i%6], s.els[t].v[i%6])
					h = [3]float64{c.along * tu, c.along * tv, 0}
				}
				s.state[slot][i] = h
			}
		}
	}
}
