package magnetostatic

import (
	"cmp"
	"math"
	"runtime"
	"slices"
	"sync"
	"sync/atomic"

	"gonum.org/v1/gonum/spatial/r2"

	"polewright/grid"
	"polewright/material"
)

// This file corrects the force on the faces at which magnets touch steel. The film's stress there is nearly linear in the flux density, and
// the flux into the steel is known far better than the flux density next to a corner of the steel: at each node of its surface the integral
// of B_n N over the surface is that of B.grad N over the cells outside, without any fit of the field (consistent fluxes).

// nodeBody is a node seen from a body.
type nodeBody struct {
	node int
	body int32
}

// contactNode holds what is integrated over the faces of one magnet's contact with steel that meet at a node.
type contactNode struct {
	at     [3]float64
	area   float64
	normal [3]float64 // out of the magnet, times the area
	rate   float64    // d(film stress)/dB_n, times the area
	fitted float64    // integral of B_n N, of the fitted field
	fixed  float64    // integral of J_n N
	exact  float64    // integral of mu0 H_n N of the exact sources
	other  float64    // area of the steel's other faces there
	turned [3]float64 // their normal, times the area
}

func (c *contactNode) add(o *contactNode) {
	c.area += o.area
	c.rate += o.rate
	c.fitted += o.fitted
	c.fixed += o.fixed
	c.exact += o.exact
	for k := range 3 {
		c.normal[k] += o.normal[k]
	}
}

// gather adds a quadrature point of a face of contact of cell (t, l) to its nodes.
func (s *Solution) gather(to map[nodeBody]*contactNode, t, l int, magnet int32, p *facePoint, hf [3]float64) {
	var lw law
	m := s.medium(magnet)
	m.at(&hf, &p.at, &lw)
	var exact [3]float64
	s.giveBack(s.Problem.Exact, &exact, p.at, t, l)
	var bn, jn, en float64
	for k := range 3 {
		bn += lw.B[k] * p.normal[k]
		jn += m.Polarization[k] * p.normal[k]
		en += material.Mu0 * exact[k] * p.normal[k]
	}
	mu := normal(&lw.D, &p.normal)
	rate := jn/mu + bn*(1/material.Mu0-1/mu)
	for a := range 6 {
		for i := range 3 {
			if p.face>>(3*a+i)&1 == 0 {
				continue
			}
			node := p.nodes[3*a+i]
			c := to[nodeBody{node, magnet}]
			if c == nil {
				c = &contactNode{at: s.nodeAt(node)}
				to[nodeBody{node, magnet}] = c
			}
			n := p.plan[a] * p.layer[i] * p.weight
			c.fitted += n * bn
			c.fixed += n * jn
			c.exact += n * en
			c.area += p.weight
			c.rate += p.weight * rate
			for k := range 3 {
				c.normal[k] += p.weight * p.normal[k]
			}
		}
	}
}

// share is the part of the flux at a node, less that of the polarization, that goes through the contact: by area on one face, and at a right
// corner of steel, where the flux density rises with the power -1/3 of the distance on both faces, by the area to the power 2/3.
func (c *contactNode) share() float64 {
	if c.other == 0 {
		return 1
	}
	var dot float64
	for k := range 3 {
		dot += c.normal[k] * c.turned[k]
	}
	power := 1.0
	if dot < 0.9*c.area*c.other {
		power = 2. / 3
	}
	a, b := math.Pow(c.area, power), math.Pow(c.other, power)
	return a / (a + b)
}

// correct adds to the shells what the flux into the steel says beyond the fitted field.
func (s *Solution) correct(sh *shells, pushes []push, parts []part) {
	all := map[nodeBody]*contactNode{}
	at := make([][]nodeBody, len(sh.at.of))
	poles := map[nodeBody]*contactNode{}
	for i := range pushes {
		for id, c := range pushes[i].contacts {
			if sum := all[id]; sum != nil {
				sum.add(c)
				continue
			}
			all[id] = c
			at[id.node] = append(at[id.node], id)
		}
		for id, c := range pushes[i].poles {
			if sum := poles[id]; sum != nil {
				sum.add(c)
			} else {
				poles[id] = c
			}
		}
	}
	if len(poles) == 0 {
		return
	}
	s.correctPoles(sh, poles, parts)
	if len(s.Problem.Exact) > 0 { // the flux of exact sources through the cells of air is not in the residual
		return
	}
	outflow := make([]float64, len(at))
	s.surround(sh, at, all, outflow)
	for node, ids := range at {
		slices.SortFunc(ids, func(a, b nodeBody) int { return int(a.body - b.body) })
		rest := outflow[node]
		for _, id := range ids {
			rest -= all[id].fixed
		}
		for _, id := range ids {
			if poles[id] == nil { // done by correctPoles
				continue
			}
			c := all[id]
			f := c.rate / (c.area * c.area) * (c.share()*rest + c.fixed - c.fitted)
			push := [3]float64{f * c.normal[0], f * c.normal[1], f * c.normal[2]}
			for _, k := range sh.of[id.body] {
				parts[k].take(sh.axes[k].of(push), c.at, 1)
			}
			for _, k := range sh.at.at(node) {
				parts[k].take(sh.axes[k].of(push), c.at, -1)
			}
		}
	}
}

// correctPoles does the same at the nodes within a flat face of a magnet, be it on steel, in air or where steel ends upon it: there the flux out
// of the face is the integral of B.grad N over the magnet's own cells, whatever lies outside. The field rises without bound where a corner
// of steel stands on the face, and only its integral is known well. Nodes that are done are taken out of poles.
func (s *Solution) correctPoles(sh *shells, poles map[nodeBody]*contactNode, parts []part) {
	nl := s.Grid.Layers()
	crossed := make([]bool, len(sh.at.of)) // nodes on a plane of symmetry that flux crosses
	s.eachPlaneNode(func(node, axis int) {
		crossed[node] = crossed[node] || s.Problem.Grids.Symmetry[axis] == grid.Odd
	})
	outflow := map[nodeBody]float64{}
	for id, c := range poles {
		size := math.Sqrt(c.normal[0]*c.normal[0] + c.normal[1]*c.normal[1] + c.normal[2]*c.normal[2])
		if size > 0.999*c.area && !crossed[id.node] {
			outflow[id] = 0
		}
	}
	var v, unapplied [6][3]float64
	var lw law
	for t := range s.Grid.Plan.Triangles {
		e := &s.sys.els[t]
		for l := range nl {
			own := s.Grid.Cell[t*nl+l]
			if own < 0 {
				continue
			}
			nodes := s.cellNodeNumbers(t, l)
			if !slices.ContainsFunc(nodes[:], func(n int) bool { _, ok := outflow[nodeBody{n, own}]; return ok }) {
				continue
			}
			s.cellNodes(t, l, &v)
			if s.applied != nil {
				for a, p := range s.Grid.Plan.Triangles[t] {
					copy(unapplied[a][:], s.Phi[int(p)*s.sys.nz+2*l:])
				}
			}
			h := s.Grid.Faces[l+1] - s.Grid.Faces[l]
			var sum [18]float64
			for pq := range 6 {
				for zq := range 3 {
					hf, q, w := s.fieldAt(t, l, &v, pq, zq)
					s.medium(own).at(&hf, &q, &lw)
					if s.applied != nil { // at the nodes it is that of the exact sources, between them it is not
						rest, _, _ := s.fieldAt(t, l, &unapplied, pq, zq)
						for k := range 3 {
							lw.B[k] -= material.Mu0 * (hf[k] - rest[k])
						}
					}
					for b := range nodes {
						one := mask{bits: 1 << b}
						_, grad := one.at(e, h, pq, zq)
						grad = s.sys.unstretched(grad, s.sys.point(t, l, 6*zq+pq), t, l)
						sum[b] += w * (lw.B[0]*grad[0] + lw.B[1]*grad[1] + lw.B[2]*grad[2])
					}
				}
			}
			for b, n := range nodes {
				if x, ok := outflow[nodeBody{n, own}]; ok {
					outflow[nodeBody{n, own}] = x + sum[b]
				}
			}
		}
	}
	ids := make([]nodeBody, 0, len(outflow))
	for id := range outflow {
		ids = append(ids, id)
	}
	slices.SortFunc(ids, func(a, b nodeBody) int { return cmp.Or(a.node-b.node, int(a.body-b.body)) })
	for _, id := range ids {
		c := poles[id]
		f := c.rate / (c.area * c.area) * (outflow[id] + c.exact - c.fitted)
		push := [3]float64{f * c.normal[0], f * c.normal[1], f * c.normal[2]}
		for _, k := range sh.of[id.body] {
			parts[k].take(sh.axes[k].of(push), c.at, 1)
		}
		for _, k := range sh.at.at(id.node) {
			parts[k].take(sh.axes[k].of(push), c.at, -1)
		}
		delete(poles, id)
	}
}

// surround goes over the cells outside steel at the nodes of contact: the integral of B.grad N, and the steel's other faces.
func (s *Solution) surround(sh *shells, at [][]nodeBody, all map[nodeBody]*contactNode, outflow []float64) {
	nl := s.Grid.Layers()
	var v [6][3]float64
	var lw law
	for t := range s.Grid.Plan.Triangles {
		e := &s.sys.els[t]
		for l := range nl {
			own := s.bodyOf(t*nl + l)
			if sh.steel(own) {
				continue
			}
			nodes := s.cellNodeNumbers(t, l)
			if !slices.ContainsFunc(nodes[:], func(n int) bool { return len(at[n]) > 0 }) {
				continue
			}
			s.otherFaces(sh, t, l, own, &nodes, at, all)
			s.cellNodes(t, l, &v)
			h := s.Grid.Faces[l+1] - s.Grid.Faces[l]
			for pq := range 6 {
				for zq := range 3 {
					hf, q, w := s.fieldAt(t, l, &v, pq, zq)
					s.medium(own).at(&hf, &q, &lw)
					for b, node := range nodes {
						one := mask{bits: 1 << b}
						_, grad := one.at(e, h, pq, zq)
						grad = s.sys.unstretched(grad, s.sys.point(t, l, 6*zq+pq), t, l)
						outflow[node] += w * (lw.B[0]*grad[0] + lw.B[1]*grad[1] + lw.B[2]*grad[2])
					}
				}
			}
		}
	}
}

// otherFaces adds the faces between a cell and steel to the nodes of contact of other magnets.
func (s *Solution) otherFaces(sh *shells, t, l int, own int32, nodes *[18]int, at [][]nodeBody, all map[nodeBody]*contactNode) {
	for i, o := range s.sides(t, l) {
		if !sh.steel(o) {
			continue
		}
		area, n := s.faceArea(t, l, i)
		for b, node := range nodes {
			if faceNodes(i)>>b&1 == 0 {
				continue
			}
			for _, id := range at[node] {
				if id.body == own {
					continue
				}
				c := all[id]
				c.other += area
				for k := range 3 {
					c.turned[k] += area * n[k]
				}
			}
		}
	}
}

// faceArea is the area of a cell's face and its normal, straight for an arc.
func (s *Solution) faceArea(t, l, face int) (area float64, n [3]float64) {
	if face < 2 {
		for _, w := range s.sys.els[t].w {
			area += w
		}
		return area, [3]float64{0, 0, float64(2*face - 1)}
	}
	tri := &s.Grid.Plan.Triangles[t]
	d := r2.Sub(s.Grid.Plan.Nodes[tri[(face-1)%3]], s.Grid.Plan.Nodes[tri[face-2]])
	length := r2.Norm(d)
	return (s.Grid.Faces[l+1] - s.Grid.Faces[l]) * length, [3]float64{d.Y / length, -d.X / length, 0}
}

// chunks is how many shares the work of a post-processing loop is cut into: fixed, so that sums do not depend on the machine.
const chunks = 32

// inChunks runs work over [0, n) in shares on all cores.
func inChunks(n int, work func(chunk, lo, hi int)) {
	var next atomic.Int32
	var all sync.WaitGroup
	for range min(runtime.GOMAXPROCS(0), chunks) {
		all.Go(func() {
			for c := int(next.Add(1)) - 1; c < chunks; c = int(next.Add(1)) - 1 {
				work(c, n*c/chunks, n*(c+1)/chunks)
			}
		})
	}
	all.Wait()
}
