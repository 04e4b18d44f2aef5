package magnetostatic

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/spatial/r3"

	"polewright/freefield"
	"polewright/grid"
	"polewright/harmonic"
	"polewright/material"
	"polewright/shape"
)

// This file expands the potential in solid harmonics: the regular ones within a ball of air, such as the gap, and the irregular ones
// outside the assembly. Both are exact solutions of Laplace's equation, so a fit to the nodal potentials removes the grid's noise.

// eachAirNode visits the nodes of air cells, in the grid's frame, with how many nodes each stands for: across the planes of symmetry named
// by folded a node stands for its mirror images too, across the others each image is visited.
func (s *Solution) eachAirNode(folded [3]bool, visit func(q [3]float64, phi, count float64)) {
	nl := s.Grid.Layers()
	nz := 2*nl + 1
	par := s.Problem.Grids.Parity()
	tol := 1e-9 * s.Problem.Grids.Scale
	air := s.air()
	for p, n := range s.Grid.Plan.Nodes {
		for k := range nz {
			if !air[p*nz+k] {
				continue
			}
			q := s.sys.warps.Apply([3]float64{n.X, n.Y, s.sys.height(k)})
			phi := s.Phi[p*nz+k]
			count := 1.0
			for i := range 3 {
				if folded[i] && q[i] >= tol {
					count *= 2
				}
			}
			for image := range 8 {
				m, v, skip := q, phi, false
				for i := range 3 {
					if image>>i&1 == 0 {
						continue
					}
					if par[i] == grid.None || folded[i] || q[i] < tol {
						skip = true
						break
					}
					m[i] = -m[i]
					if par[i] == grid.Odd {
						v = -v
					}
				}
				if !skip {
					visit(m, v, count)
				}
			}
		}
	}
}

// findAir marks the nodes of air cells.
func (s *Solution) findAir() []bool {
	nl := s.Grid.Layers()
	nz := 2*nl + 1
	air := make([]bool, len(s.Phi))
	for t, tri := range s.Grid.Plan.Triangles {
		for l := range nl {
			if s.Grid.Cell[t*nl+l] < 0 && !s.sys.isCut(t*nl+l) {
				for _, n := range tri {
					for k := range 3 {
						air[int(n)*nz+2*l+k] = true
					}
				}
			}
		}
	}
	return air
}

// parityAt gives, for the axes of the grid's frame, the symmetry of the potential about the planes of symmetry that hold a point; None for the others.
func (s *Solution) parityAt(q [3]float64) (parity [3]harmonic.Parity) {
	g := s.Problem.Grids
	for k, p := range g.Parity() {
		switch {
		case p == grid.None || math.Abs(q[k]) >= 1e-9*g.Scale:
		case p == grid.Odd:
			parity[k] = harmonic.Odd
		default:
			parity[k] = harmonic.Even
		}
	}
	return parity
}

// parityAbout is parityAt for world axes, with the axes of the grid's frame whose planes hold the point; none where the grid's axes are not the world's.
func (s *Solution) parityAbout(center [3]float64) (parity [3]harmonic.Parity, folded [3]bool) {
	if s.Problem.Grids.Askew() {
		return parity, folded
	}
	for k, p := range s.parityAt(center) {
		parity[(s.Problem.Grids.Axis+1+k)%3], folded[k] = p, p != harmonic.None
	}
	return parity, folded
}

const (
	insideDegree  = 13 // of the potential; that of the field is one less
	outsideDegree = 11
	nodesPerTerm  = 4  // fewer lower the degree
	nodesEnough   = 60 // a term; more cost time and tell nothing new
	outsideFrom   = 1.15
)

// Inside expands the field in the ball of the given radius (m) about a point, which must lie in air. It fits the potential over the largest
// ball that holds no body.
func (s *Solution) Inside(center r3.Vec, radius float64) (*harmonic.Expansion, error) {
	g := s.Problem.Grids
	c := g.Frame(r3.Sub(center, g.Center))
	clearance := s.clearance(center)
	b, _ := s.At(center)
	if clearance < radius || clearance <= 0 {
		return nil, fmt.Errorf("the ball of %.3g mm about the point reaches into a part at %.3g mm", radius*1e3, clearance*1e3)
	}
	parity, folded := s.parityAbout(c)
	var all []airNode
	s.eachAirNode(folded, func(q [3]float64, phi, times float64) {
		phi = s.sys.zones.straightened(q, phi, c)
		d := [3]float64{q[0] - c[0], q[1] - c[1], q[2] - c[2]}
		if d[0]*d[0]+d[1]*d[1]+d[2]*d[2] <= clearance*clearance {
			all = append(all, airNode{g.World(d), phi, times})
		}
	})
	e := harmonic.Expansion{Center: center, Scale: clearance, Reach: clearance, Degree: insideDegree, Polar: harmonic.NearestAxis(b)}
	return s.expand(e, all, parity, radius, func(r float64) float64 {
		return math.Exp(-2 * r * r) // nodes far out see higher harmonics than are fitted: they count less
	})
}

// Rough is B (T) of the element at a point of air itself, off by up to some per cent but fast; where the grid ends it is the multipoles'.
func (s *Solution) Rough(p r3.Vec) r3.Vec {
	q, sign := s.fold(p)
	t, l, area, frac, ok := s.locate(q)
	if !ok {
		b, _ := s.At(p)
		return b
	}
	h := s.raw(q, t, l, area, frac)
	for k := range h {
		h[k] *= material.Mu0 * sign[k]
	}
	return s.Problem.Grids.World(h)
}

// clearance is the distance from a point to the nearest body, at most the assembly's size.
func (s *Solution) clearance(p r3.Vec) float64 {
	g := s.Problem.Grids
	q, _ := s.fold(p)
	best := g.Scale
	nl := s.Grid.Layers()
	for t, tri := range s.Grid.Plan.Triangles {
		d := math.Inf(1) // in the plan
		for i := range 3 {
			a, b := s.Grid.Plan.Nodes[tri[i]], s.Grid.Plan.Nodes[tri[(i+1)%3]]
			m := s.Grid.Plan.Nodes[tri[3+i]]
			d = math.Min(d, math.Min(distance(q, a.X, a.Y, m.X, m.Y), distance(q, m.X, m.Y, b.X, b.Y)))
		}
		for l := range nl {
			w := math.Max(0, math.Max(s.Grid.Faces[l]-q[2], q[2]-s.Grid.Faces[l+1]))
			if s.Grid.Cell[t*nl+l] < 0 && !s.sys.isCut(t*nl+l) || w >= best {
				continue
			}
			if s.sys.moved(t, l) {
				best = math.Min(best, math.Hypot(w, s.movedDistance(q, t, l)))
			} else if d < best {
				best = math.Min(best, math.Hypot(w, d))
			}
		}
	}
	for i := range s.Problem.Exact {
		m := &s.Problem.Exact[i]
		best = math.Min(best, Distance(m.Solid, m.Place.ToLocal(p)))
	}
	for i := range s.Problem.Coils {
		best = math.Min(best, s.Problem.Coils[i].Distance(q))
	}
	return best
}

// movedDistance is the distance in the plan of a point from a cell on which the plan is stretched.
func (s *Solution) movedDistance(q [3]float64, t, l int) float64 {
	d := math.Inf(1)
	tri := &s.Grid.Plan.Triangles[t]
	for _, face := range s.Grid.Faces[l : l+2] {
		at := func(i int) [3]float64 {
			n := s.Grid.Plan.Nodes[tri[i]]
			return s.sys.warps.Apply([3]float64{n.X, n.Y, face})
		}
		for i := range 3 {
			a, m, b := at(i), at(3+i), at((i+1)%3)
			d = math.Min(d, math.Min(distance(q, a[0], a[1], m[0], m[1]), distance(q, m[0], m[1], b[0], b[1])))
		}
	}
	return d
}

// Distance bounds from below how far a point of a solid's own frame lies from it, m: exactly for blocks, discs, rings and windings, for a ring
// sector as if the ring were whole, for others by their box.
func Distance(solid shape.Solid, p r3.Vec) float64 {
	e := solid.HalfExtent()
	var inner, outer float64
	switch s := solid.(type) {
	case shape.Disc:
		outer = s.Diameter / 2
	case shape.Ring:
		inner, outer = s.InnerDiameter/2, s.OuterDiameter/2
	case shape.Wedge:
		inner, outer = s.InnerDiameter/2, s.OuterDiameter/2
	case shape.Racetrack:
		_, height := s.Along(p.X, p.Y) // below zero within the core
		return math.Sqrt(square(-height) + square(height-s.Build) + square(math.Abs(p.Z)-e.Z))
	default:
		return math.Sqrt(square(math.Abs(p.X)-e.X) + square(math.Abs(p.Y)-e.Y) + square(math.Abs(p.Z)-e.Z))
	}
	rho := math.Hypot(p.X, p.Y)
	return math.Sqrt(square(rho-outer) + square(inner-rho) + square(math.Abs(p.Z)-e.Z))
}

// square is x^2 for a positive x, else 0.
func square(x float64) float64 { return math.Max(x, 0) * math.Max(x, 0) }

// distance is that of the plan point of q to a segment.
func distance(q [3]float64, ax, ay, bx, by float64) float64 {
	ux, uy := bx-ax, by-ay
	t := ((q[0]-ax)*ux + (q[1]-ay)*uy) / (ux*ux + uy*uy)
	t = math.Min(math.Max(t, 0), 1)
	return math.Hypot(q[0]-ax-t*ux, q[1]-ay-t*uy)
}

// Outside expands the field outside the ball that holds the assembly, from the potentials between that ball and the rim of the grid.
func (s *Solution) Outside() (*harmonic.Expansion, error) { return s.outside() }

func (s *Solution) expandOutside() (*harmonic.Expansion, error) {
	g := s.Problem.Grids
	inner := s.bound()
	outer := g.Max[0]
	parity, folded := s.parityAbout([3]float64{})
	all := make([]airNode, 0, s.Grid.Unknowns()/2)
	s.eachAirNode(folded, func(q [3]float64, phi, count float64) {
		r := math.Sqrt(q[0]*q[0] + q[1]*q[1] + q[2]*q[2])
		if r > outsideFrom*inner && r <= outer {
			all = append(all, airNode{g.World(q), phi, count})
		}
	})
	e := harmonic.Expansion{Center: g.Center, Scale: inner, Reach: inner, Degree: outsideDegree, Polar: g.Axis, Irregular: true}
	// A dipole's potential falls with the square of the distance: weighted so, all distances count alike.
	return s.expand(e, all, parity, 0, func(r float64) float64 { return r * r })
}

// bound is the radius of the ball about the grid's centre that holds all bodies.
func (s *Solution) bound() float64 {
	var r2 float64
	nl := s.Grid.Layers()
	for t, tri := range s.Grid.Plan.Triangles {
		for l := range nl {
			if s.Grid.Cell[t*nl+l] < 0 && !s.sys.isCut(t*nl+l) {
				continue
			}
			w := math.Max(math.Abs(s.Grid.Faces[l]), math.Abs(s.Grid.Faces[l+1]))
			for _, n := range tri {
				for _, face := range s.Grid.Faces[l : l+2] {
					p := s.sys.warps.Apply([3]float64{s.Grid.Plan.Nodes[n].X, s.Grid.Plan.Nodes[n].Y, face})
					r2 = math.Max(r2, p[0]*p[0]+p[1]*p[1]+w*w)
				}
			}
		}
	}
	for i := range s.Problem.Exact {
		m := &s.Problem.Exact[i]
		d := r3.Norm(r3.Sub(m.Place.Center, s.Problem.Grids.Center)) + r3.Norm(m.Solid.HalfExtent())
		r2 = math.Max(r2, d*d)
	}
	for i := range s.Problem.Coils {
		c := &s.Problem.Coils[i]
		var d2 float64
		for k := range 3 {
			d := math.Max(math.Abs(c.Min[k]), math.Abs(c.Max[k]))
			d2 += d * d
		}
		r2 = math.Max(r2, d2)
	}
	return math.Sqrt(r2)
}

// airNode is a node of air, seen from the centre of an expansion in world axes, and how many mirror images it stands for.
type airNode struct {
	d     r3.Vec
	phi   float64
	count float64
}

// expand computes the coefficients of an expansion by least squares, with weights by the distance over the expansion's scale. The degree
// falls where there are too few nodes. Exact sources are added. The noise is found on the sphere of the wanted radius, if that is not 0.
func (s *Solution) expand(e harmonic.Expansion, all []airNode, parity [3]harmonic.Parity, wanted float64, weight func(r float64) float64) (*harmonic.Expansion, error) {
	terms := e.Allowed(parity)
	for ; e.Degree > 1 && len(all) < nodesPerTerm*len(terms); terms = e.Allowed(parity) {
		e.Degree--
	}
	n := len(terms)
	if n == 0 || len(all) < nodesPerTerm*n {
		return nil, fmt.Errorf("only %d nodes lie in the air about (%.4g, %.4g, %.4g) m: too few to expand the field", len(all), e.Center.X, e.Center.Y, e.Center.Z)
	}
	all = thinned(all, max(1000, nodesEnough*n))
	eq, row := newEquations(len(all), n), make([]float64, n)
	val := make([]float64, harmonic.Count(e.Degree))
	var weights float64
	for i, o := range all {
		e.Basis(o.d, val)
		w := weight(r3.Norm(o.d)/e.Scale) * math.Sqrt(o.count)
		for k, j := range terms {
			row[k] = val[j]
		}
		eq.set(i, row, o.phi, w)
		weights += w * w
	}
	c, ok := eq.solve()
	if !ok {
		return nil, fmt.Errorf("the field cannot be expanded from %d nodes about (%.4g, %.4g, %.4g) m", len(all), e.Center.X, e.Center.Y, e.Center.Z)
	}
	for i, r := range eq.left(c) {
		e.MisfitRMS += r * r
		e.MisfitMax = math.Max(e.MisfitMax, material.Mu0/e.Scale*math.Abs(r)/math.Sqrt(all[i].count))
	}
	e.MisfitRMS = material.Mu0 / e.Scale * math.Sqrt(e.MisfitRMS/weights)
	if wanted > 0 {
		e.Noise = scatter(&e, terms, eq, wanted)
	}
	out := e.With(terms, c)
	if len(s.Problem.Exact) > 0 {
		exact := freefield.Sources(s.Problem.Exact)
		out = out.Plus(func(p r3.Vec) r3.Vec { return r3.Scale(material.Mu0, exact.H(p)) })
	}
	return out, nil
}

// thinned keeps about so many of a list: one of every few, each time another one of them, for nodes come with their mirror images beside them.
func thinned(all []airNode, enough int) []airNode {
	step := len(all)/enough + 1
	if step == 1 {
		return all
	}
	kept := all[:0]
	for k := 0; k*step < len(all); k++ {
		_, part := math.Modf(float64(k) / math.Phi)
		if i := k*step + int(part*float64(step)); i < len(all) {
			kept = append(kept, all[i])
		}
	}
	return kept
}

// scatter compares the fits to the equations of even and of odd number on a sphere: root of the mean square of half their difference, T.
func scatter(e *harmonic.Expansion, terms []int, eq *equations, radius float64) float64 {
	var half [2]*harmonic.Expansion
	for h := range half {
		every := eq.every(h, 2)
		if every.rows < eq.n {
			return 0
		}
		c, ok := every.solve()
		if !ok {
			return 0
		}
		half[h] = e.With(terms, c)
	}
	const points = 60
	var sum float64
	for i := range points {
		p := r3.Add(e.Center, r3.Scale(radius, harmonic.Direction(i, points)))
		sum += r3.Norm2(r3.Sub(half[0].Field(p), half[1].Field(p)))
	}
	return math.Sqrt(sum/points) / 2
}
