package magnetostatic

import (
	"fmt"
	"sync/atomic"

	"polewright/plan"
)

// This file holds the reference elements and what is computed once for each triangle of the plan. A cell is the product of a
// quadratic triangle (6 nodes, area coordinates, possibly one curved side) and a quadratic layer (3 nodes), 18 nodes in all.

// Quadrature of degree 4 on the triangle, 6 points (Dunavant 1985, table II), weights summing to 1/2.
var triangleRule = func() (r [6]struct{ l0, l1, l2, w float64 }) {
	for i, p := range [2][2]float64{{0.445948490915964886, 0.223381589678011466}, {0.091576213509770743, 0.109951743655321868}} {
		a, b := p[0], 1-2*p[0]
		for j, l := range [3][3]float64{{b, a, a}, {a, b, a}, {a, a, b}} {
			r[3*i+j].l0, r[3*i+j].l1, r[3*i+j].l2, r[3*i+j].w = l[0], l[1], l[2], p[1]/2
		}
	}
	return r
}()

// Gauss-Legendre rule of 3 points on [0, 1].
var layerRule = [3]struct{ s, w float64 }{
	{0.5 - 0.5*0.774596669241483377, 5.0 / 18}, {0.5, 8.0 / 18}, {0.5 + 0.5*0.774596669241483377, 5.0 / 18},
}

// layerShape holds the quadratic layer functions and their derivatives at the Gauss points.
var layerShape, layerSlope = func() (n, d [3][3]float64) {
	for q, p := range layerRule {
		n[q], d[q] = lineShape(p.s)
	}
	return n, d
}()

// lineShape gives the quadratic shape functions on [0, 1] with nodes 0, 1/2, 1, and their derivatives.
func lineShape(s float64) (n, d [3]float64) {
	return [3]float64{(1 - s) * (1 - 2*s), 4 * s * (1 - s), s * (2*s - 1)},
		[3]float64{4*s - 3, 4 - 8*s, 4*s - 1}
}

// Layer matrices on [0, 1]: mass times 30 and stiffness times 3.
var (
	layerMass      = [9]float64{4. / 30, 2. / 30, -1. / 30, 2. / 30, 16. / 30, 2. / 30, -1. / 30, 2. / 30, 4. / 30}
	layerStiffness = [9]float64{7. / 3, -8. / 3, 1. / 3, -8. / 3, 16. / 3, -8. / 3, 1. / 3, -8. / 3, 7. / 3}
)

// triangleShape gives the six quadratic shape functions and their derivatives with respect to the reference coordinates
// xi = l1 and eta = l2 (l0 = 1 - xi - eta).
func triangleShape(l0, l1, l2 float64) (n, dxi, deta [6]float64) {
	n = [6]float64{l0 * (2*l0 - 1), l1 * (2*l1 - 1), l2 * (2*l2 - 1), 4 * l0 * l1, 4 * l1 * l2, 4 * l2 * l0}
	dxi = [6]float64{1 - 4*l0, 4*l1 - 1, 0, 4 * (l0 - l1), 4 * l2, -4 * l2}
	deta = [6]float64{1 - 4*l0, 0, 4*l2 - 1, -4 * l1, 4 * l1, 4 * (l0 - l2)}
	return n, dxi, deta
}

var triangleN = func() (n [6][6]float64) {
	for q, p := range triangleRule {
		n[q], _, _ = triangleShape(p.l0, p.l1, p.l2)
	}
	return n
}()

// planElement is what one triangle of the plan gives to every layer above it.
type planElement struct {
	gu, gv           [6][6]float64 // d/du and d/dv of the shape functions at the quadrature points: [point][node]
	w                [6]float64    // quadrature weights times Jacobian, m2
	u, v             [6]float64    // positions of the quadrature points, m
	uu, uv, vv, mass [6][6]float64 // integrals of dNa/du dNb/du, symmetrized cross term, dNa/dv dNb/dv, Na Nb
	du, dv, n        [6]float64    // integrals of dNa/du, dNa/dv, Na
}

func planElements(tm *team, m *plan.Mesh) ([]planElement, error) {
	els := make([]planElement, len(m.Triangles))
	var folded atomic.Int64 // the last one's number and one
	tm.run(len(els), 1000, func(lo, hi int) {
		for t := lo; t < hi; t++ {
			if !els[t].integrate(m, t) {
				folded.Store(int64(t + 1))
			}
		}
	})
	if t := folded.Load() - 1; t >= 0 {
		at := m.Nodes[m.Triangles[t][0]]
		return nil, fmt.Errorf("plan triangle %d near (%.4g, %.4g) m is folded: its curved side is too coarse", t, at.X, at.Y)
	}
	return els, nil
}

// integrate computes the integrals over a triangle of the plan; it is false for one that is folded.
func (e *planElement) integrate(m *plan.Mesh, t int) bool {
	tri := &m.Triangles[t]
	for q, p := range triangleRule {
		_, dxi, deta := triangleShape(p.l0, p.l1, p.l2)
		var ux, uy, vx, vy float64
		for a, node := range tri {
			r := m.Nodes[node]
			ux += dxi[a] * r.X
			uy += deta[a] * r.X
			vx += dxi[a] * r.Y
			vy += deta[a] * r.Y
			e.u[q] += triangleN[q][a] * r.X
			e.v[q] += triangleN[q][a] * r.Y
		}
		det := ux*vy - uy*vx
		if !(det > 0) {
			return false
		}
		e.w[q] = p.w * det
		for a := range 6 {
			e.gu[q][a] = (dxi[a]*vy - deta[a]*vx) / det
			e.gv[q][a] = (deta[a]*ux - dxi[a]*uy) / det
		}
	}
	for q := range 6 {
		w := e.w[q]
		for a := range 6 {
			e.du[a] += w * e.gu[q][a]
			e.dv[a] += w * e.gv[q][a]
			e.n[a] += w * triangleN[q][a]
			for b := range 6 {
				e.uu[a][b] += w * e.gu[q][a] * e.gu[q][b]
				e.vv[a][b] += w * e.gv[q][a] * e.gv[q][b]
				e.uv[a][b] += w * (e.gu[q][a]*e.gv[q][b] + e.gv[q][a]*e.gu[q][b])
				e.mass[a][b] += w * triangleN[q][a] * triangleN[q][b]
			}
		}
	}
	return true
}
