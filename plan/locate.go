package plan

import (
	"math"

	"gonum.org/v1/gonum/spatial/r2"
)

// tree bounds runs of triangles that follow each other in the mesh, and so lie near each other, by boxes: level 0 has a box for every
// leafSize triangles, each further level one for every four boxes below, up to a single box.
type tree struct{ levels [][]r2.Box }

const leafSize = 4

func (m *Mesh) buildTree() {
	boxes := make([]r2.Box, (len(m.Triangles)+leafSize-1)/leafSize)
	for i := range boxes {
		box := emptyBox()
		for t := leafSize * i; t < min(leafSize*(i+1), len(m.Triangles)); t++ {
			tri := m.Triangles[t]
			for e := range 3 {
				a, b, n := m.Nodes[tri[e]], m.Nodes[tri[(e+1)%3]], m.Nodes[tri[3+e]]
				// a quadratic edge stays within the triangle of its ends and its control point
				grow(&box, a)
				grow(&box, r2.Vec{X: 2*n.X - (a.X+b.X)/2, Y: 2*n.Y - (a.Y+b.Y)/2})
			}
		}
		boxes[i] = box
	}
	m.tree.levels = append(m.tree.levels, boxes)
	for len(boxes) > 1 {
		up := make([]r2.Box, (len(boxes)+3)/4)
		for i := range up {
			up[i] = emptyBox()
			for _, b := range boxes[4*i : min(4*i+4, len(boxes))] {
				grow(&up[i], b.Min)
				grow(&up[i], b.Max)
			}
		}
		m.tree.levels = append(m.tree.levels, up)
		boxes = up
	}
}

func emptyBox() r2.Box {
	inf := math.Inf(1)
	return r2.Box{Min: r2.Vec{X: inf, Y: inf}, Max: r2.Vec{X: -inf, Y: -inf}}
}

func grow(b *r2.Box, p r2.Vec) {
	b.Min.X, b.Min.Y = math.Min(b.Min.X, p.X), math.Min(b.Min.Y, p.Y)
	b.Max.X, b.Max.Y = math.Max(b.Max.X, p.X), math.Max(b.Max.Y, p.Y)
}

// Locate finds the triangle, straight or curved, that holds p, and the area coordinates of p there, which At maps back to p.
// On an edge or vertex it returns one of the triangles that meet there; coordinates may then be below zero by rounding, about 1e-12.
// ok is false when p lies outside the rectangle.
func (m *Mesh) Locate(p r2.Vec) (triangle int, l [3]float64, ok bool) {
	if !(p.X >= m.min.X && p.X <= m.max.X && p.Y >= m.min.Y && p.Y <= m.max.Y) {
		return 0, l, false
	}
	m.once.Do(m.buildTree)
	slack := 1e-12 * math.Max(m.max.X-m.min.X, m.max.Y-m.min.Y)
	best := math.Inf(-1)
	type entry struct{ level, i int }
	var room [64]entry
	stack := append(room[:0], entry{len(m.tree.levels) - 1, 0})
	for len(stack) > 0 {
		e := stack[len(stack)-1]
		stack = stack[:len(stack)-1]
		b := &m.tree.levels[e.level][e.i]
		if p.X < b.Min.X-slack || p.X > b.Max.X+slack || p.Y < b.Min.Y-slack || p.Y > b.Max.Y+slack {
			continue
		}
		if e.level > 0 {
			for i := min(4*e.i+4, len(m.tree.levels[e.level-1])) - 1; i >= 4*e.i; i-- {
				stack = append(stack, entry{e.level - 1, i})
			}
			continue
		}
		for t := leafSize * e.i; t < min(leafSize*(e.i+1), len(m.Triangles)); t++ {
			c, found := m.inverse(t, p)
			if !found {
				continue
			}
			least := min(c[0], c[1], c[2])
			if least >= 0 {
				return t, c, true
			}
			if least > best {
				best, triangle, l = least, t, c
			}
		}
	}
	// between triangles only by rounding
	return triangle, l, best > -1e-6
}

// inverse gives the area coordinates of p in a triangle by Newton's method from those in the straight triangle.
// It is false when p lies clearly outside.
func (m *Mesh) inverse(t int, p r2.Vec) (l [3]float64, ok bool) {
	tri := &m.Triangles[t]
	a, b, c := m.Nodes[tri[0]], m.Nodes[tri[1]], m.Nodes[tri[2]]
	d1, d2, d := r2.Sub(b, a), r2.Sub(c, a), r2.Sub(p, a)
	det := r2.Cross(d1, d2)
	l1, l2 := r2.Cross(d, d2)/det, r2.Cross(d1, d)/det
	l = [3]float64{1 - l1 - l2, l1, l2}
	if !m.Curved(t) {
		return l, true
	}
	x := m.corners(t)
	for range 30 {
		d := r2.Sub(p, m.At(t, l))
		d1, d2 := jacobian(&x, l)
		det := r2.Cross(d1, d2)
		if !(det > 0) {
			return l, false // outside: the map is one-to-one within
		}
		s1, s2 := r2.Cross(d, d2)/det, r2.Cross(d1, d)/det
		l1, l2 = l1+s1, l2+s2
		l = [3]float64{1 - l1 - l2, l1, l2}
		if abs(s1)+abs(s2) < 1e-14 {
			return l, true
		}
		if abs(l1)+abs(l2) > 10 {
			return l, false
		}
	}
	return l, true
}
