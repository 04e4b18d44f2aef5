package plan

import (
	"cmp"
	"errors"
	"fmt"
	"image"
	"image/color"
	"image/png"
	"math"
	"os"
	"path/filepath"
	"slices"
	"testing"

	"gonum.org/v1/gonum/spatial/r2"
	"polewright/shape"
)

// draw writes a picture of the mesh when POLEWRIGHT_PICTURES names a folder. window limits it; zero is the whole mesh.
func draw(t testing.TB, m *Mesh, name string, window r2.Box) {
	dir := os.Getenv("POLEWRIGHT_PICTURES")
	if dir == "" {
		return
	}
	if window == (r2.Box{}) {
		window = r2.Box{Min: m.min, Max: m.max}
	}
	k := 1000 / math.Max(window.Max.X-window.Min.X, window.Max.Y-window.Min.Y)
	x := func(p r2.Vec) (float64, float64) { return k * (p.X - window.Min.X), k * (window.Max.Y - p.Y) }
	picture := image.NewGray(image.Rect(0, 0, 1001, 1001))
	for i := range picture.Pix {
		picture.Pix[i] = 255
	}
	for _, tri := range m.Triangles {
		for e := range 3 {
			n := tri[3+e]
			a, b, c := m.Nodes[tri[e]], m.Nodes[tri[(e+1)%3]], m.Nodes[n]
			ink, wide := uint8(150), 0
			if m.OnCurve(n) {
				ink, wide = 0, 1
			}
			steps := int(3*k*r2.Norm(r2.Sub(a, b))) + 1
			for i := range min(steps, 5000) + 1 {
				s := float64(i) / float64(min(steps, 5000))
				w := ShapeFunctions([3]float64{1 - s, s, 0})
				px, py := x(r2.Vec{X: w[0]*a.X + w[1]*b.X + w[3]*c.X, Y: w[0]*a.Y + w[1]*b.Y + w[3]*c.Y})
				for dx := 0; dx <= wide; dx++ {
					for dy := 0; dy <= wide; dy++ {
						at := image.Pt(int(px)+dx, int(py)+dy)
						if at.In(picture.Rect) && picture.GrayAt(at.X, at.Y).Y > ink {
							picture.SetGray(at.X, at.Y, color.Gray{Y: ink})
						}
					}
				}
			}
		}
	}
	file, err := os.Create(filepath.Join(dir, name+".png"))
	if err == nil {
		err = errors.Join(png.Encode(file, picture), file.Close())
	}
	if err != nil {
		t.Fatal(err)
	}
}

func polygon(points ...r2.Vec) []shape.Edge {
	var edges []shape.Edge
	for i, p := range points {
		edges = append(edges, shape.Edge{A: p, B: points[(i+1)%len(points)]})
	}
	return edges
}

func rectangle(x0, y0, x1, y1 float64) []shape.Edge {
	return polygon(r2.Vec{X: x0, Y: y0}, r2.Vec{X: x1, Y: y0}, r2.Vec{X: x1, Y: y1}, r2.Vec{X: x0, Y: y1})
}

func circle(x, y, r float64) []shape.Edge {
	c := r2.Vec{X: x, Y: y}
	p := [4]r2.Vec{{X: x + r, Y: y}, {X: x, Y: y + r}, {X: x - r, Y: y}, {X: x, Y: y - r}}
	var edges []shape.Edge
	for i := range 4 {
		edges = append(edges, shape.Edge{A: p[i], B: p[(i+1)%4], Center: c, Radius: r, CCW: true})
	}
	return edges
}

func uniform(h float64) func(r2.Vec) float64 { return func(r2.Vec) float64 { return h } }

// framed is a quarter of a pair of blocks in a frame: magnet, back plate and leg.
func framed() []shape.Edge {
	var e []shape.Edge
	e = append(e, rectangle(0, 9e-3, 20e-3, 29e-3)...)
	e = append(e, rectangle(0, 29e-3, 40e-3, 49e-3)...)
	return append(e, rectangle(28e-3, 0, 40e-3, 29e-3)...)
}

func summary(m *Mesh) string {
	return fmt.Sprintf("%d vertices, %d triangles, least angle %.1f deg", m.Vertices, len(m.Triangles), m.MinAngle()*180/math.Pi)
}

// faults lists what is wrong with a mesh that should fit the curves; empty when nothing is.
func faults(m *Mesh, curves []shape.Edge) (list []string) {
	fault := func(format string, args ...any) {
		if len(list) < 10 {
			list = append(list, fmt.Sprintf(format, args...))
		}
	}
	size := m.max.X - m.min.X
	tol := 3 * relativeTolerance * math.Max(size, m.max.Y-m.min.Y)
	shared := make([]int, len(m.Nodes))
	ends := make(map[int32][2]int32)
	area := 0.0
	for t, tri := range m.Triangles {
		x := m.corners(t)
		if orient(x[0], x[1], x[2]) <= 0 {
			fault("triangle %d turns the wrong way", t)
		}
		if d := distortion(&x); d < 0.99*leastDistortion {
			fault("triangle %d is distorted to %g", t, d)
		}
		area += curvedArea(&x)
		for e := range 3 {
			a, b, n := tri[e], tri[(e+1)%3], tri[3+e]
			shared[n]++
			if was, ok := ends[n]; ok && was != [2]int32{b, a} {
				fault("mid node %d lies on two edges", n)
			}
			ends[n] = [2]int32{a, b}
			if int(a) >= m.Vertices || int(n) < m.Vertices {
				fault("triangle %d takes vertices for mid nodes", t)
			}
			if !m.OnCurve(n) && m.Nodes[n] != (r2.Vec{X: (m.Nodes[a].X + m.Nodes[b].X) / 2, Y: (m.Nodes[a].Y + m.Nodes[b].Y) / 2}) {
				fault("mid node %d is off the middle of a straight edge", n)
			}
		}
	}
	if want := size * (m.max.Y - m.min.Y); !(abs(area-want) < 1e-12*want) {
		fault("area is %.15g, of the rectangle %.15g", area, want)
	}
	if euler := m.Vertices - (len(m.Nodes) - m.Vertices) + len(m.Triangles); euler != 1 {
		fault("vertices - edges + triangles = %d, Euler has 1", euler)
	}
	sides := make(map[int32]bool)
	var around [4]float64
	for _, e := range m.BoundaryEdges() {
		tri := m.Triangles[e.Triangle]
		sides[tri[3+e.Edge]] = true
		around[e.Side] += r2.Norm(r2.Sub(m.Nodes[tri[e.Edge]], m.Nodes[tri[(e.Edge+1)%3]]))
	}
	for i, want := range [4]float64{m.max.Y - m.min.Y, m.max.Y - m.min.Y, size, size} {
		if abs(around[i]-want) > 1e-12*want {
			fault("edges on side %d are %g long together, the side %g", i, around[i], want)
		}
	}
	for n := m.Vertices; n < len(m.Nodes); n++ {
		if want := 2; shared[n] != want && !(shared[n] == 1 && sides[int32(n)]) {
			fault("edge %d belongs to %d triangles", n, shared[n])
		}
		if shared[n] == 2 && sides[int32(n)] {
			fault("edge %d on the rectangle's side has triangles on both", n)
		}
	}
	for i, e := range curves {
		c := curve{center: e.Center, radius: e.Radius}
		want := c.length(e.A, e.B)
		for _, p := range []r2.Vec{e.A, e.B, c.at(e.A, e.B, 0.25), c.at(e.A, e.B, 0.5), c.at(e.A, e.B, 0.75)} {
			if p.X < m.min.X || p.X > m.max.X || p.Y < m.min.Y || p.Y > m.max.Y {
				want = -1 // clipped
			}
		}
		if want < 0 {
			continue
		}
		// the stretches of the curve that mesh edges cover, as fractions of its length
		var covered [][2]float64
		for n := m.Vertices; n < len(m.Nodes); n++ {
			a, b := m.Nodes[ends[int32(n)][0]], m.Nodes[ends[int32(n)][1]]
			if !m.OnCurve(int32(n)) || c.distance(e.A, e.B, a) > tol || c.distance(e.A, e.B, b) > tol ||
				c.distance(e.A, e.B, m.Nodes[n]) > tol+1.01*c.sagitta(a, b) {
				continue
			}
			s, t := c.along(e.A, e.B, a), c.along(e.A, e.B, b)
			covered = append(covered, [2]float64{math.Min(s, t), math.Max(s, t)})
		}
		slices.SortFunc(covered, func(a, b [2]float64) int { return cmp.Compare(a[0], b[0]) })
		end := 0.0
		for _, s := range append(covered, [2]float64{1, 1}) {
			if s[0]-end > 2*tol/want {
				fault("curve %d is no union of mesh edges: none between %g and %g of it", i, end, s[0])
			}
			end = math.Max(end, s[1])
		}
	}
	return list
}

// curvedArea integrates the Jacobian determinant, a quadratic, by the mid-edge rule, which is exact for quadratics.
func curvedArea(x *[6]r2.Vec) float64 {
	sum := 0.0
	for _, l := range [3][3]float64{{0.5, 0.5, 0}, {0, 0.5, 0.5}, {0.5, 0, 0.5}} {
		d1, d2 := jacobian(x, l)
		sum += r2.Cross(d1, d2) / 6
	}
	return sum
}
