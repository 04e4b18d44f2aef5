package magnetostatic

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r3"

	"polewright/freefield"
	"polewright/grid"
	"polewright/material"
)

// This file integrates over whole bodies, and the force on them. The grid may hold only one of 2, 4 or 8 mirror images; a body's integral
// is the sum over the images of its parts, each computed where the grid has it.

// BodyIntegral is what a body holds.
type BodyIntegral struct {
	Volume float64 // m3
	MeanB  r3.Vec  // T
	MeanH  r3.Vec  // A/m
	MeanB1 float64 // mean of |B|, T
	MaxB   float64 // largest mean of |B| over a cell, T
	Moment r3.Vec  // integral of B/mu0 - H, A m2
}

// part is the share of a body that lies in the domain.
type part struct {
	volume, b1, max float64
	b, h            [3]float64 // integrals
	force, torque   [3]float64 // torque about the grid's centre
}

// add adds another part, sign times where it is a force.
func (p *part) add(o *part, sign float64) {
	p.volume += o.volume
	p.b1 += o.b1
	p.max = math.Max(p.max, o.max)
	for k := range 3 {
		p.b[k] += o.b[k]
		p.h[k] += o.h[k]
		p.force[k] += sign * o.force[k]
		p.torque[k] += sign * o.torque[k]
	}
}

// cellNodes gathers the potentials of a cell, with the applied potential within bodies.
func (s *Solution) cellNodes(t, l int, v *[6][3]float64) {
	nz := 2*s.Grid.Layers() + 1
	in := s.applied != nil && s.sys.solid(t*s.Grid.Layers()+l)
	for a, p := range s.Grid.Plan.Triangles[t] {
		i := int(p)*nz + 2*l
		copy(v[a][:], s.Phi[i:i+3])
		if in {
			for k := range 3 {
				v[a][k] += s.applied[i+k]
			}
		}
	}
}

// fieldAt is H at a quadrature point of a cell with the nodal potentials v, all sources included, with the point and its weight (m3).
func (s *Solution) fieldAt(t, l int, v *[6][3]float64, pq, zq int) (hf, q [3]float64, w float64) {
	e := &s.sys.els[t]
	lo := s.Grid.Faces[l]
	h := s.Grid.Faces[l+1] - lo
	n, d := &layerShape[zq], &layerSlope[zq]
	for a := range 6 {
		val := n[0]*v[a][0] + n[1]*v[a][1] + n[2]*v[a][2]
		hf[0] -= e.gu[pq][a] * val
		hf[1] -= e.gv[pq][a] * val
		hf[2] -= triangleN[pq][a] * (d[0]*v[a][0] + d[1]*v[a][1] + d[2]*v[a][2]) / h
	}
	q = [3]float64{e.u[pq], e.v[pq], lo + layerRule[zq].s*h}
	cell := t*s.Grid.Layers() + l
	w = e.w[pq] * layerRule[zq].w * h * s.sys.volume(q, t, l)
	hf = s.sys.unstretched(hf, q, t, l)
	q = s.sys.warps.Apply(q)
	s.sys.zones.addTo(&hf, cell, q)
	return s.withExact(hf, q, s.sys.solid(cell)), q, w
}

// medium is the medium of a body of the grid, air for -1.
func (s *Solution) medium(body int32) *Medium { return &s.sys.media[body+1] }

// Bodies integrates over all bodies that the grid follows.
func (s *Solution) Bodies() []BodyIntegral {
	parts := make([]part, len(s.Problem.Media))
	shares := make([][]part, chunks)
	inChunks(len(s.sys.els), func(chunk, lo, hi int) {
		shares[chunk] = make([]part, len(parts))
		s.integrate(lo, hi, shares[chunk])
	})
	for _, share := range shares {
		for i := range parts {
			parts[i].add(&share[i], 1)
		}
	}
	out := make([]BodyIntegral, len(parts))
	for i := range out {
		o := &out[i]
		var b, h [3]float64
		s.eachImage(i, func(j int, mirror [3]float64, sign float64) {
			p := &parts[j]
			o.Volume += p.volume
			o.MeanB1 += p.b1
			o.MaxB = math.Max(o.MaxB, p.max)
			for k := range 3 {
				b[k] += sign * mirror[k] * p.b[k]
				h[k] += sign * mirror[k] * p.h[k]
			}
		})
		if o.Volume == 0 {
			continue
		}
		g := s.Problem.Grids
		o.MeanB = r3.Scale(1/o.Volume, g.World(b))
		o.MeanH = r3.Scale(1/o.Volume, g.World(h))
		o.MeanB1 /= o.Volume
		o.Moment = r3.Scale(o.Volume, r3.Sub(r3.Scale(1/material.Mu0, o.MeanB), o.MeanH))
	}
	return out
}

// integrate adds the cells above the triangles from lo to hi to the bodies' parts.
func (s *Solution) integrate(lo, hi int, parts []part) {
	nl := s.Grid.Layers()
	var v [6][3]float64
	var lw law
	for t := lo; t < hi; t++ {
		for l := range nl {
			body := s.Grid.Cell[t*nl+l]
			if body < 0 {
				continue
			}
			p := &parts[body]
			s.cellNodes(t, l, &v)
			var vol, b1 float64
			for pq := range 6 {
				for zq := range 3 {
					hf, q, w := s.fieldAt(t, l, &v, pq, zq)
					s.medium(body).at(&hf, &q, &lw)
					vol += w
					b1 += w * math.Sqrt(lw.B[0]*lw.B[0]+lw.B[1]*lw.B[1]+lw.B[2]*lw.B[2])
					for k := range 3 {
						p.b[k] += w * lw.B[k]
						p.h[k] += w * hf[k]
					}
				}
			}
			p.volume += vol
			p.b1 += b1
			p.max = math.Max(p.max, b1/vol)
		}
	}
}

// eachImage visits the mirror images of the domain: the body whose part in the domain is the image of body i there, the mirror's signs in
// the grid's frame, and the sign of the field (a field vector is mirrored and multiplied by it).
func (s *Solution) eachImage(i int, visit func(j int, mirror [3]float64, sign float64)) {
	g := s.Problem.Grids
	par := g.Parity()
	var run func(k, j int, mirror [3]float64, sign float64)
	run = func(k, j int, mirror [3]float64, sign float64) {
		if k == 3 {
			visit(j, mirror, sign)
			return
		}
		run(k+1, j, mirror, sign)
		if par[k] == grid.None {
			return
		}
		mirror[k] = -1
		if par[k] == grid.Odd {
			sign = -sign
		}
		run(k+1, g.Partner[(g.Axis+1+k)%3][j], mirror, sign)
	}
	run(0, i, [3]float64{1, 1, 1}, 1)
}

// Moment is the magnetic moment of the whole assembly.
func (s *Solution) Moment() r3.Vec { return s.moment() }

func (s *Solution) sumMoment() (m r3.Vec) {
	for _, b := range s.Bodies() {
		m = r3.Add(m, b.Moment)
	}
	for i := range s.Problem.Exact {
		m = r3.Add(m, s.Problem.Exact[i].Moment())
	}
	m = r3.Add(m, s.recoilMoment())
	return r3.Add(m, s.Problem.Grids.World(s.Problem.coilMoment()))
}

// recoilMoment is the moment that the field induces in the exact sources, the integral of (recoil - 1) H.
func (s *Solution) recoilMoment() r3.Vec {
	var m [3]float64
	var v [6][3]float64
	nl := s.Grid.Layers()
	for t := range s.sys.els {
		for l := range nl {
			pc := s.sys.partial[int64(t)*int64(nl)+int64(l)]
			if pc == nil {
				continue
			}
			s.cellNodes(t, l, &v)
			for pq := range 6 {
				for zq := range 3 {
					if x := pc.excess[6*zq+pq]; x != 0 {
						hf, _, w := s.fieldAt(t, l, &v, pq, zq)
						for k := range m {
							m[k] += x / material.Mu0 * w * hf[k]
						}
					}
				}
			}
		}
	}
	for k, par := range s.Problem.Grids.Parity() {
		for i := range m {
			switch {
			case par == grid.None:
			case (i == k) == (par == grid.Odd):
				m[i] *= 2
			default:
				m[i] = 0
			}
		}
	}
	return s.Problem.Grids.World(m)
}

// exactForces gives the force (N) and the torque (N m, about its own centre) on each exact source: the field of all others on the charge of its faces.
// The recoil counts with its mean in each of them, in the closed forms too: on a face that touches another one its charge is not small.
func (s *Solution) exactForces() (force, torque []r3.Vec) {
	p := s.Problem
	all := freefield.Sources(slices.Clone(p.Exact))
	for i, j := range s.induced() {
		all[i].Polarization = r3.Add(all[i].Polarization, j)
	}
	force, torque = make([]r3.Vec, len(all)), make([]r3.Vec, len(all))
	for i, m := range all {
		others := append(append(freefield.Sources{}, all[:i]...), all[i+1:]...)
		force[i], torque[i] = others.Force(m)
		// The rest of the field, that of the bodies of the grid and of what the recoil differs from its mean, is smooth here.
		for _, c := range m.Charges(chargePieces) {
			_, h := s.At(c.At)
			f := r3.Scale(c.Wb, r3.Sub(h, all.H(c.At)))
			force[i] = r3.Add(force[i], f)
			torque[i] = r3.Add(torque[i], r3.Cross(r3.Sub(c.At, m.Place.Center), f))
		}
	}
	return force, torque
}

// chargePieces is how many pieces each side of a face is cut into.
const chargePieces = 2

// Coenergy is the energy functional W (J) at the solution, over all mirror images: the integral of the coenergy density with what closes open
// space. The force on a body is its derivative by the body's place. ok is false where sources lie outside the grid's media.
func (s *Solution) Coenergy() (w float64, ok bool) {
	if len(s.Problem.Exact)+len(s.Problem.Unfitted)+len(s.Problem.Coils) > 0 {
		return 0, false
	}
	nl := s.Grid.Layers()
	sums := make([]float64, chunks)
	inChunks(len(s.sys.els), func(chunk, lo, hi int) {
		var v [6][3]float64
		var lw law
		for t := lo; t < hi; t++ {
			for l := range nl {
				s.cellNodes(t, l, &v)
				for pq := range 6 {
					for zq := range 3 {
						hf, q, w := s.fieldAt(t, l, &v, pq, zq)
						s.medium(s.Grid.Cell[t*nl+l]).at(&hf, &q, &lw)
						sums[chunk] += w * lw.w
					}
				}
			}
		}
	})
	for _, x := range sums {
		w += x
	}
	for _, o := range s.sys.closing {
		share := o.c * s.Phi[o.i] * s.Phi[o.j]
		if o.i == o.j {
			share /= 2
		}
		w += share
	}
	for _, par := range s.Problem.Grids.Symmetry {
		if par != grid.None {
			w *= 2
		}
	}
	return w, true
}
