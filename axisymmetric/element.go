package axisymmetric

import (
	"fmt"
	"math"
)

// This file holds the quadratic triangle (6 nodes, possibly one curved side) and what is computed once for each.

const points = 6 // of quadrature in a triangle

// Quadrature of degree 4 on the triangle (Dunavant 1985, table II), weights summing to 1/2.
var triangleRule = func() (r [points]struct{ l0, l1, l2, w float64 }) {
	for i, p := range [2][2]float64{{0.445948490915964886, 0.223381589678011466}, {0.091576213509770743, 0.109951743655321868}} {
		a, b := p[0], 1-2*p[0]
		for j, l := range [3][3]float64{{b, a, a}, {a, b, a}, {a, a, b}} {
			r[3*i+j].l0, r[3*i+j].l1, r[3*i+j].l2, r[3*i+j].w = l[0], l[1], l[2], p[1]/2
		}
	}
	return r
}()

// Gauss-Legendre rule of 5 points on [0, 1].
var lineRule = [5]struct{ s, w float64 }{
	{0.5 - 0.5*0.906179845938664, 0.5 * 0.236926885056189}, {0.5 - 0.5*0.538469310105683, 0.5 * 0.478628670499366}, {0.5, 0.5 * 0.568888888888889},
	{0.5 + 0.5*0.538469310105683, 0.5 * 0.478628670499366}, {0.5 + 0.5*0.906179845938664, 0.5 * 0.236926885056189},
}

// lineShape gives the quadratic shape functions on [0, 1] with nodes 0, 1/2, 1, and their derivatives.
func lineShape(s float64) (n, d [3]float64) {
	return [3]float64{(1 - s) * (1 - 2*s), 4 * s * (1 - s), s * (2*s - 1)}, [3]float64{4*s - 3, 4 - 8*s, 4*s - 1}
}

// triangleShape gives the six quadratic shape functions and their derivatives with respect to l1 and l2 with l0 = 1 - l1 - l2.
func triangleShape(l0, l1, l2 float64) (n, d1, d2 [6]float64) {
	n = [6]float64{l0 * (2*l0 - 1), l1 * (2*l1 - 1), l2 * (2*l2 - 1), 4 * l0 * l1, 4 * l1 * l2, 4 * l2 * l0}
	d1 = [6]float64{1 - 4*l0, 4*l1 - 1, 0, 4 * (l0 - l1), 4 * l2, -4 * l2}
	d2 = [6]float64{1 - 4*l0, 0, 4*l2 - 1, -4 * l1, 4 * l1, 4 * (l0 - l2)}
	return n, d1, d2
}

var ruleShape, ruleD1, ruleD2 = func() (n, d1, d2 [points][6]float64) {
	for q, p := range triangleRule {
		n[q], d1[q], d2[q] = triangleShape(p.l0, p.l1, p.l2)
	}
	return n, d1, d2
}()

// element is one triangle at its quadrature points.
type element struct {
	grad [points][6]Vec  // of the shape functions
	w    [points]float64 // weight times Jacobian times 2 pi r, m3
	at   [points]Vec     // places
	t    [points]float64 // current vector potential along the axis, A/m
}

// elements computes those of the triangles within the domain.
func (d *domain) elements(m *mesh) ([]element, error) {
	els := make([]element, len(m.Triangles))
	for t, tri := range m.Triangles {
		if m.body[t] == outer {
			continue
		}
		e := &els[t]
		for q, p := range triangleRule {
			var j [4]float64
			for a, node := range tri {
				x := m.Nodes[node]
				j[0] += ruleD1[q][a] * x.X
				j[1] += ruleD1[q][a] * x.Y
				j[2] += ruleD2[q][a] * x.X
				j[3] += ruleD2[q][a] * x.Y
				e.at[q][0] += ruleShape[q][a] * x.X
				e.at[q][1] += ruleShape[q][a] * x.Y
			}
			det := j[0]*j[3] - j[1]*j[2]
			if !(det > 0) {
				return nil, fmt.Errorf("the triangle near r = %.4g m, z = %.4g m is folded: its curved side is too coarse", e.at[q][0], e.at[q][1])
			}
			e.w[q] = 2 * math.Pi * e.at[q][0] * p.w * det
			for a := range 6 {
				e.grad[q][a] = Vec{(ruleD1[q][a]*j[3] - ruleD2[q][a]*j[1]) / det, (ruleD2[q][a]*j[0] - ruleD1[q][a]*j[2]) / det}
			}
		}
		if len(d.Coils) > 0 {
			z := (m.Nodes[tri[0]].Y + m.Nodes[tri[1]].Y + m.Nodes[tri[2]].Y) / 3
			for q := range points {
				e.t[q] = d.currentPotential(e.at[q][0], z)
			}
		}
	}
	return els, nil
}

// currentPotential is T along the axis at the radius r, for a height z that lies on no end of a coil.
func (d *domain) currentPotential(r, z float64) (t float64) {
	for i := range d.Coils {
		if c := &d.Coils[i]; z > c.Low && z < c.High && r < c.Outer {
			t += c.density() * (c.Outer - math.Max(r, c.Inner))
		}
	}
	return t
}
