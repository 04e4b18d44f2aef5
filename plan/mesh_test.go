package plan

import (
	"errors"
	"fmt"
	"math"
	"math/big"
	"math/rand/v2"
	"reflect"
	"strings"
	"testing"

	"gonum.org/v1/gonum/spatial/r2"
	"pgregory.net/rapid"
	"polewright/shape"
)

func generate(t testing.TB, curves []shape.Edge, size func(r2.Vec) float64) *Mesh {
	t.Helper()
	m, err := Generate(r2.Vec{}, unit, curves, size)
	if err != nil {
		t.Fatal(err)
	}
	return m
}

func join(parts ...[]shape.Edge) (all []shape.Edge) {
	for _, p := range parts {
		all = append(all, p...)
	}
	return all
}

func line(x0, y0, x1, y1 float64) []shape.Edge {
	return []shape.Edge{{A: r2.Vec{X: x0, Y: y0}, B: r2.Vec{X: x1, Y: y1}}}
}

// racetrack is the quarter of a wound yoke about the framed pair's core: straight, arc about the core's corner, straight; inside and outside.
func racetrack() []shape.Edge {
	c := r2.Vec{X: 28e-3, Y: 29e-3}
	var edges []shape.Edge
	for _, r := range []float64{2e-3, 14e-3} {
		a, b := r2.Vec{X: c.X + r, Y: c.Y}, r2.Vec{X: c.X, Y: c.Y + r}
		edges = append(edges, shape.Edge{A: r2.Vec{X: a.X}, B: a}, shape.Edge{A: a, B: b, Center: c, Radius: r, CCW: true}, shape.Edge{A: b, B: r2.Vec{Y: b.Y}})
	}
	return edges
}

// manyBlocks is a grid of touching blocks with coincident edges, all given twice over.
func manyBlocks() (edges []shape.Edge) {
	for i := range 8 {
		for j := range 8 {
			x, y := 0.1+0.1*float64(i), 0.1+0.1*float64(j)
			edges = append(edges, rectangle(x, y, x+0.1, y+0.1)...)
		}
	}
	return edges
}

// TestGenerate holds the laws of a fitted mesh (see faults) on inputs that people and degenerate geometry bring, before and after
// refinement, and that no more triangles are made than asked for. The counts are ours, with a fifth to spare; the least angle is the
// 25 degrees promised where no smaller one is given (or its stated exception).
func TestGenerate(t *testing.T) {
	inf := uniform(math.Inf(1))
	for _, test := range []struct {
		name   string
		curves []shape.Edge
		size   func(r2.Vec) float64
		most   int     // triangles
		angle  float64 // degrees
	}{
		{"empty", nil, inf, 2, 45},
		{"framed pair", framed(), inf, 70, 25},
		{"framed pair, graded", framed(), gradedSize, 720, 25},
		{"racetrack", join(racetrack(), rectangle(0, 9e-3, 20e-3, 29e-3)), inf, 178, 25},
		{"racetrack and frame", join(racetrack(), framed()), gradedSize, 790, 15},
		{"disc", circle(0.5, 0.5, 0.1), inf, 60, 25},
		{"ring", join(circle(0.5, 0.5, 0.1), circle(0.5, 0.5, 0.08)), inf, 180, 25},
		{"disc over the corner", circle(0, 0, 0.5), inf, 10, 25},
		{"disc inscribed in the rectangle", circle(0.5, 0.5, 0.5), inf, 20, 20},
		{"disc that touches a line", join(circle(0.5, 0.5, 0.1), line(0, 0.6, 1, 0.6)), inf, 62, 20},
		{"discs that touch outside", join(circle(0.4, 0.5, 0.1), circle(0.6, 0.5, 0.1)), inf, 77, 19.9},
		{"discs that touch inside", join(circle(0.5, 0.5, 0.3), circle(0.6, 0.5, 0.2)), inf, 110, 2},
		{"corners on an arc", join(circle(0.5, 0.5, 0.1), polygon(r2.Vec{X: 0.58, Y: 0.56}, r2.Vec{X: 0.42, Y: 0.56}, r2.Vec{X: 0.42, Y: 0.44}, r2.Vec{X: 0.58, Y: 0.44})), inf, 110, 18},
		{"coincident edges", join(rectangle(0.2, 0.2, 0.5, 0.5), rectangle(0.5, 0.3, 0.7, 0.6), rectangle(0.5, 0.3, 0.7, 0.6), rectangle(0, 0, 1, 0.2)), inf, 46, 25},
		{"coincident to rounding", join(rectangle(0.1, 0.1, 0.1+0.2, 0.4), rectangle(0.3, 0.1, 0.6, 0.1+0.3), circle(0.3, 0.7, 0.1), circle(0.1+0.2, 0.7, 0.1)), inf, 77, 25},
		{"coincident arcs cut apart", join(circle(0.5, 0.5, 0.2), line(0.5, 0.5, 0.9, 0.8), []shape.Edge{
			{A: r2.Vec{X: 0.5 + 0.2*math.Cos(0.3), Y: 0.5 + 0.2*math.Sin(0.3)}, B: r2.Vec{X: 0.5 + 0.2*math.Cos(1.2), Y: 0.5 + 0.2*math.Sin(1.2)}, Center: r2.Vec{X: 0.5, Y: 0.5}, Radius: 0.2, CCW: true}}), inf, 71, 25},
		{"gap of 10 um", join(rectangle(0.2, 0.2, 0.5, 0.5), rectangle(0.50001, 0.3, 0.8, 0.8)), inf, 43, 0},
		{"gap of 1 um", join(rectangle(0.2, 0.2, 0.5, 0.5), rectangle(0.500001, 0.3, 0.8, 0.8)), inf, 43, 0},
		{"disc 10 um off a line", join(circle(0.5, 0.5, 0.1), line(0, 0.60001, 1, 0.60001)), inf, 350, 0},
		{"disc 10 um over a line", join(circle(0.5, 0.5, 0.1), line(0, 0.59999, 1, 0.59999)), inf, 210, 0},
		{"discs 1 mm apart", join(circle(0.5, 0.5, 0.1), circle(0.501, 0.5, 0.1)), inf, 1500, 0},
		{"lines 10 um apart right across", join(line(0, 0.5, 1, 0.5), line(0, 0.50001, 1, 0.50001)), inf, 8, 0},
		{"wedge of 1 in 1000", join(line(0.2, 0.5, 0.8, 0.5), line(0.2, 0.5, 0.8, 0.5006)), inf, 20, 0},
		{"film between arcs", join(circle(0.5, 0.5, 0.1), circle(0.5, 0.5, 0.1001)), inf, 3100, 1},
		{"crossing lines", join(line(-1, 0.1, 2, 0.9), line(0.1, -1, 0.8, 2), line(-1, 0.9, 2, -0.1)), inf, 46, 25},
		{"blocks", manyBlocks(), inf, 210, 25},
		{"along the sides", join(rectangle(0, 0, 0.3, 0.2), rectangle(0.7, 0.9, 1, 1)), inf, 32, 25},
		{"outside", join(rectangle(2, 2, 3, 3), circle(-5, 0, 1)), inf, 2, 45},
		{"shorter than the tolerance", line(0.5, 0.5, 0.5+1e-10, 0.5), inf, 2, 45},
	} {
		t.Run(test.name, func(t *testing.T) {
			m := generate(t, test.curves, test.size)
			draw(t, m, test.name, r2.Box{})
			t.Log(summary(m))
			for level := range 3 {
				if bad := faults(m, test.curves); bad != nil {
					t.Fatalf("after %d refinements: %v", level, bad)
				}
				if level == 0 {
					if len(m.Triangles) > test.most {
						t.Errorf("%d triangles, expected at most %d", len(m.Triangles), test.most)
					}
					if got := m.MinAngle() * 180 / math.Pi; got < test.angle-1e-9 {
						t.Errorf("least angle %g degrees, expected %g", got, test.angle)
					}
				}
				m, _ = m.Refine()
			}
		})
	}
}

// TestSize compares the number of triangles with the integral of 1/size^2 over the area of the equilateral triangle of unit side.
// Meshes of this kind are known to need about that many; a fifth either way is our aim.
func TestSize(t *testing.T) {
	for _, test := range []struct {
		name   string
		curves []shape.Edge
		size   func(r2.Vec) float64
	}{
		{"uniform", nil, uniform(0.05)},
		{"disc", circle(0.5, 0.5, 0.3), uniform(0.04)},
		{"graded to a point", line(0.3, 0.3, 0.7, 0.3), func(p r2.Vec) float64 { return 3e-3 + 0.2*r2.Norm(r2.Sub(p, r2.Vec{X: 0.3, Y: 0.3})) }},
		{"graded steeply", nil, func(p r2.Vec) float64 { return 1e-3 + 0.5*r2.Norm(p) }},
	} {
		m := generate(t, test.curves, test.size)
		want, longest := 0.0, 0.0
		for _, tri := range m.Triangles {
			a, b, c := m.Nodes[tri[0]], m.Nodes[tri[1]], m.Nodes[tri[2]]
			area := r2.Cross(r2.Sub(b, a), r2.Sub(c, a)) / 2
			middle := r2.Scale(1./3, r2.Add(a, r2.Add(b, c)))
			// three points, exact for quadratics
			for _, p := range []r2.Vec{a, b, c} {
				s := test.size(r2.Add(r2.Scale(0.5, p), r2.Scale(0.5, middle)))
				want += area / 3 / (math.Sqrt(3) / 4 * s * s)
			}
			for _, e := range [][2]r2.Vec{{a, b}, {b, c}, {c, a}} {
				longest = max(longest, r2.Norm(r2.Sub(e[0], e[1]))/test.size(middle))
			}
		}
		t.Logf("%s: %d triangles, asked for %.0f, longest edge %.2f of the wanted", test.name, len(m.Triangles), want, longest)
		if ratio := float64(len(m.Triangles)) / want; ratio < 0.8 || ratio > 1.35 {
			t.Errorf("%s: %d triangles, the size function asks for %.0f", test.name, len(m.Triangles), want)
		}
		if longest > 1.45 { // what Generate aims at
			t.Errorf("%s: an edge is %g times the wanted length", test.name, longest)
		}
	}
}

// TestDiscArea: the area between circle and quadratic edges falls with the fourth power of the edge length. For arcs of angle s the edge is the
// parabola through three points of the circle, whose segment has the area 2/3 chord x sagitta (Archimedes); the circle's has R^2 (s - sin s)/2.
func TestDiscArea(t *testing.T) {
	const r = 0.3
	m := generate(t, circle(0.5, 0.5, r), uniform(math.Inf(1)))
	before := 0.0
	for level := range 5 {
		area, parabolas := 0.0, 0.0
		for i, tri := range m.Triangles {
			middle := m.At(i, [3]float64{1. / 3, 1. / 3, 1. / 3})
			if r2.Norm(r2.Sub(middle, r2.Vec{X: 0.5, Y: 0.5})) > r {
				continue
			}
			x := m.corners(i)
			area += curvedArea(&x)
			for e := range 3 {
				on := m.on[int(tri[3+e])-m.Vertices]
				if on == 0 {
					continue
				}
				s := abs(m.curves[on-1].angle(x[e], x[(e+1)%3]))
				parabolas += r*r/2*(s-math.Sin(s)) - 2./3*2*r*math.Sin(s/2)*r*(1-math.Cos(s/2))
			}
		}
		loss := math.Pi*r*r - area
		if abs(loss-parabolas) > 1e-14 { // rounding of the sum of a thousand areas
			t.Errorf("level %d: area is %g m2 short of the disc's, parabolas would be %g", level, loss, parabolas)
		}
		if level > 0 {
			if order := math.Log2(before / loss); abs(order-4) > 0.05 {
				t.Errorf("level %d: order %g, expected 4", level, order)
			}
		}
		before = loss
		m, _ = m.Refine()
	}
}

// TestRegions: straight outlines are kept exactly, so their areas are.
func TestRegions(t *testing.T) {
	m := generate(t, framed(), gradedSize)
	for _, box := range []r2.Box{
		{Min: r2.Vec{Y: 9e-3}, Max: r2.Vec{X: 20e-3, Y: 29e-3}},
		{Min: r2.Vec{Y: 29e-3}, Max: r2.Vec{X: 40e-3, Y: 49e-3}},
		{Min: r2.Vec{X: 28e-3}, Max: r2.Vec{X: 40e-3, Y: 29e-3}},
	} {
		got := 0.0
		for i := range m.Triangles {
			p := m.At(i, [3]float64{1. / 3, 1. / 3, 1. / 3})
			if p.X > box.Min.X && p.X < box.Max.X && p.Y > box.Min.Y && p.Y < box.Max.Y {
				x := m.corners(i)
				got += curvedArea(&x)
			}
		}
		if want := (box.Max.X - box.Min.X) * (box.Max.Y - box.Min.Y); abs(got-want) > 1e-13*want {
			t.Errorf("area of %v is %.16g, expected %.16g", box, got, want)
		}
	}
}

// TestProlongation: quadratic elements hold every quadratic exactly, so on straight meshes prolongation must carry it exactly.
func TestProlongation(t *testing.T) {
	q := func(p r2.Vec) float64 { return 1 + 2*p.X - 3*p.Y + 5*p.X*p.X - 7*p.X*p.Y + 11*p.Y*p.Y }
	m := generate(t, framed(), gradedSize)
	for range 2 {
		f, p := m.Refine()
		coarse, fine := make([]float64, len(m.Nodes)), make([]float64, len(f.Nodes))
		for i, n := range m.Nodes {
			coarse[i] = q(n)
		}
		p.Apply(fine, coarse)
		for i, n := range f.Nodes {
			if abs(fine[i]-q(n)) > 1e-13 { // values to 9, some ten roundings
				t.Fatalf("node %d: %.16g, expected %.16g", i, fine[i], q(n))
			}
			if terms := p.Start[i+1] - p.Start[i]; terms != 1 && terms != 3 && terms != 5 {
				t.Fatalf("node %d has %d terms", i, terms)
			}
		}
		m = f
	}
}

// TestProlongationCurved: on curved meshes the prolongation of the coordinates is the coarse map of the reference position: exact at vertices, and at mid
// nodes off the fine position by the third order of the edge only.
func TestProlongationCurved(t *testing.T) {
	const r = 0.3
	m := generate(t, circle(0.5, 0.5, r), uniform(math.Inf(1)))
	for range 3 {
		f, p := m.Refine()
		x, fx := make([]float64, len(m.Nodes)), make([]float64, len(f.Nodes))
		for i, n := range m.Nodes {
			x[i] = n.X
		}
		p.Apply(fx, x)
		sagitta := 0.0
		for i, on := range m.on {
			if on != 0 && !m.curves[on-1].straight() {
				// four times the largest distance of a mid node from its chord bounds what curving can move a point
				n := m.Nodes[m.Vertices+i]
				sagitta = max(sagitta, abs(r-r2.Norm(r2.Sub(n, r2.Vec{X: 0.5, Y: 0.5}))))
			}
		}
		if sagitta > 1e-15 {
			t.Errorf("mid nodes are %g m off the circle", sagitta)
		}
		for i, n := range f.Nodes {
			d := abs(fx[i] - n.X)
			if i < f.Vertices && d != 0 {
				t.Fatalf("vertex %d moves by %g", i, d)
			}
			if d > 0.04*r { // the sagitta of 45 degrees is 0.076 r, half of which is left at an inner mid node
				t.Fatalf("node %d moves by %g", i, d)
			}
		}
		m = f
	}
}

// TestMidNodes: all nodes of edges on an arc lie on it, in every refinement.
func TestMidNodes(t *testing.T) {
	m := generate(t, racetrack(), uniform(math.Inf(1)))
	c := r2.Vec{X: 28e-3, Y: 29e-3}
	for range 3 {
		curved := 0
		for i, on := range m.on {
			if on == 0 || m.curves[on-1].straight() {
				continue
			}
			curved++
			d := r2.Norm(r2.Sub(m.Nodes[m.Vertices+i], c))
			if abs(d-2e-3) > 1e-16 && abs(d-14e-3) > 1e-16 {
				t.Errorf("mid node at %.17g m from the arcs' centre", d)
			}
		}
		if curved < 4 {
			t.Errorf("only %d curved edges", curved)
		}
		m, _ = m.Refine()
	}
}

func TestLocate(t *testing.T) {
	m := generate(t, join(framed(), circle(0.5, 0.5, 0.3), circle(0.5, 0.5, 0.26)), gradedSize)
	f, _ := m.Refine()
	for _, m := range []*Mesh{m, f} {
		rng := rand.New(rand.NewPCG(1, 2))
		for range 20_000 {
			t0 := rng.IntN(len(m.Triangles))
			l1, l2 := rng.Float64(), rng.Float64()
			if l1+l2 > 1 {
				l1, l2 = 1-l1, 1-l2
			}
			want := [3]float64{1 - l1 - l2, l1, l2}
			p := m.At(t0, want)
			got, l, ok := m.Locate(p)
			if !ok || got != t0 {
				t.Fatalf("point %v of triangle %d at %v is found in %d at %v (%v)", p, t0, want, got, l, ok)
			}
			for i := range 3 {
				if abs(l[i]-want[i]) > 1e-9 { // 1e-16 m of rounding over 1 mm of triangle, and to spare
					t.Fatalf("area coordinates %v, expected %v", l, want)
				}
			}
		}
		// nodes lie in several triangles
		for i, n := range m.Nodes {
			got, l, ok := m.Locate(n)
			if !ok {
				t.Fatalf("node %d at %v is in no triangle", i, n)
			}
			if d := r2.Norm(r2.Sub(m.At(got, l), n)); d > 1e-14 {
				t.Fatalf("node %d is found %g m off", i, d)
			}
		}
		for _, p := range []r2.Vec{{X: -1e-9, Y: 0.5}, {X: 0.5, Y: 1.1}, {X: math.NaN()}} {
			if _, _, ok := m.Locate(p); ok {
				t.Errorf("%v should be outside", p)
			}
		}
	}
}

func TestMinAngle(t *testing.T) {
	// a square cut by its diagonal
	if got := generate(t, nil, uniform(math.Inf(1))).MinAngle(); abs(got-math.Pi/4) > 1e-15 {
		t.Errorf("least angle %g, expected pi/4", got)
	}
}

func TestDeterministic(t *testing.T) {
	curves := join(framed(), circle(0.5, 0.5, 0.3), circle(0.55, 0.5, 0.3), manyBlocks())
	first := generate(t, curves, gradedSize)
	again := generate(t, curves, gradedSize)
	if !reflect.DeepEqual(first.Nodes, again.Nodes) || !reflect.DeepEqual(first.Triangles, again.Triangles) || !reflect.DeepEqual(first.on, again.on) {
		t.Error("two runs differ")
	}
	f, p := first.Refine()
	g, q := again.Refine()
	if !reflect.DeepEqual(f.Nodes, g.Nodes) || !reflect.DeepEqual(f.Triangles, g.Triangles) || !reflect.DeepEqual(p, q) {
		t.Error("two refinements differ")
	}
}

// TestOrder: in a mesh numbered by locality the nodes of most triangles are near each other in memory; numbered at random they would be a third of all
// nodes apart.
func TestOrder(t *testing.T) {
	m := generate(t, framed(), gradedSize)
	for range 4 {
		spread := 0.0
		for _, tri := range m.Triangles {
			spread += float64(max(tri[3], tri[4], tri[5])-min(tri[3], tri[4], tri[5])) / float64(len(m.Triangles))
		}
		if share := spread / float64(len(m.Nodes)); share > 0.1 {
			t.Errorf("%d triangles: mid nodes of a triangle are %.3f of all nodes apart", len(m.Triangles), share)
		}
		m, _ = m.Refine()
	}
}

func TestErrors(t *testing.T) {
	ok := uniform(1)
	for _, test := range []struct {
		name     string
		min, max r2.Vec
		curves   []shape.Edge
		size     func(r2.Vec) float64
		want     string
	}{
		{"not a number", r2.Vec{}, unit, line(0, 0, math.NaN(), 1), ok, "curve 1: coordinates must be finite"},
		{"infinite", r2.Vec{}, unit, join(line(0, 0, 1, 1), line(0, math.Inf(-1), 0, 1)), ok, "curve 2: coordinates must be finite"},
		{"radius", r2.Vec{}, unit, []shape.Edge{{A: r2.Vec{X: 1}, B: r2.Vec{Y: 1}, Radius: 0.9}}, ok, "arc ends are 1 m and 1 m from its centre but its radius is 0.9 m"},
		{"negative radius", r2.Vec{}, unit, []shape.Edge{{A: r2.Vec{X: 1}, B: r2.Vec{Y: 1}, Radius: -1}}, ok, "must not be negative"},
		{"rectangle turned", unit, r2.Vec{}, nil, ok, "max must lie above min"},
		{"rectangle empty", r2.Vec{}, r2.Vec{X: 1}, nil, ok, "max must lie above min"},
		{"rectangle not a number", r2.Vec{}, r2.Vec{X: math.NaN(), Y: 1}, nil, ok, "corners must be within"},
		{"rectangle far away", r2.Vec{X: 9e5}, r2.Vec{X: 9e5 + 1, Y: 1}, nil, ok, "too far from the origin"},
		{"no size", r2.Vec{}, unit, nil, uniform(0), "edge lengths must be positive"},
		{"size not a number", r2.Vec{}, unit, nil, uniform(math.NaN()), "edge lengths must be positive"},
		{"tiny size", r2.Vec{}, unit, nil, uniform(1e-7), "vertices"},
		{"small size", r2.Vec{}, unit, nil, uniform(1e-3), "vertices"},
	} {
		m, err := Generate(test.min, test.max, test.curves, test.size)
		if err == nil || m != nil || !strings.Contains(err.Error(), test.want) {
			t.Errorf("%s: mesh %v, error %v, expected %q", test.name, m != nil, err, test.want)
		}
	}
}

// TestPredicates checks the signs against exact rational arithmetic on points that are collinear or cocircular but for a few units in the last
// place.
func TestPredicates(t *testing.T) {
	rat := func(x float64) *big.Rat { return new(big.Rat).SetFloat64(x) }
	sub := func(x, y *big.Rat) *big.Rat { return new(big.Rat).Sub(x, y) }
	mul := func(x, y *big.Rat) *big.Rat { return new(big.Rat).Mul(x, y) }
	add := func(x, y *big.Rat) *big.Rat { return new(big.Rat).Add(x, y) }
	sign := func(x float64) int {
		switch {
		case x > 0:
			return 1
		case x < 0:
			return -1
		}
		return 0
	}
	rng := rand.New(rand.NewPCG(3, 4))
	nudge := func(x float64) float64 {
		for range rng.IntN(3) {
			x = math.Nextafter(x, float64(rng.IntN(2)*4-2))
		}
		return x
	}
	zeros, unsure := 0, 0
	for range 3000 {
		k := rng.Float64()
		a := r2.Vec{X: 0.5, Y: 0.5}
		b := r2.Vec{X: 0.75, Y: 0.75}
		c := r2.Vec{X: nudge(k), Y: nudge(k)}
		want := sub(mul(sub(rat(a.X), rat(c.X)), sub(rat(b.Y), rat(c.Y))), mul(sub(rat(a.Y), rat(c.Y)), sub(rat(b.X), rat(c.X)))).Sign()
		if got := sign(orient(a, b, c)); got != want {
			t.Fatalf("orient(%v, %v, %v) is %d, exactly %d", a, b, c, got, want)
		}
		if want == 0 {
			zeros++
		}
		p := [4]r2.Vec{{X: 0.25, Y: 0.25}, {X: 0.75, Y: 0.25}, {X: 0.75, Y: 0.75}, {X: nudge(0.25), Y: nudge(0.75)}}
		var d [3][3]*big.Rat
		for i := range 3 {
			x, y := sub(rat(p[i].X), rat(p[3].X)), sub(rat(p[i].Y), rat(p[3].Y))
			d[i] = [3]*big.Rat{x, y, add(mul(x, x), mul(y, y))}
		}
		det := new(big.Rat)
		for i := range 3 {
			j, k := (i+1)%3, (i+2)%3
			det = add(det, mul(d[i][2], sub(mul(d[j][0], d[k][1]), mul(d[j][1], d[k][0]))))
		}
		if got := sign(inCircle(p[0], p[1], p[2], p[3])); got != det.Sign() {
			t.Fatalf("inCircle(%v) is %d, exactly %d", p, got, det.Sign())
		}
		if det.Sign() == 0 {
			unsure++
		}
	}
	if zeros == 0 || unsure == 0 || zeros == 3000 || unsure == 3000 {
		t.Errorf("%d collinear and %d cocircular of 3000: the test misses the hard cases", zeros, unsure)
	}
}

// TestRandom: any arrangement of blocks and discs on a grid of points, which makes edges coincide, touch and meet in corners, gives a sound mesh.
func TestRandom(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		at := rapid.IntRange(-2, 22)
		long := rapid.IntRange(1, 8)
		var curves []shape.Edge
		for range rapid.IntRange(1, 6).Draw(t, "blocks") {
			x, y := float64(at.Draw(t, "x"))/20, float64(at.Draw(t, "y"))/20
			curves = append(curves, rectangle(x, y, x+float64(long.Draw(t, "w"))/20, y+float64(long.Draw(t, "h"))/20)...)
		}
		for range rapid.IntRange(0, 4).Draw(t, "discs") {
			curves = append(curves, circle(float64(at.Draw(t, "cx"))/20, float64(at.Draw(t, "cy"))/20, float64(long.Draw(t, "r"))/20)...)
		}
		h := rapid.Float64Range(0.04, 2).Draw(t, "size")
		m, err := Generate(r2.Vec{}, unit, curves, uniform(h))
		if err != nil {
			t.Fatal(err)
		}
		f, _ := m.Refine()
		for _, m := range []*Mesh{m, f} {
			if bad := faults(m, curves); bad != nil {
				t.Fatal(bad)
			}
		}
	})
}

// FuzzGenerate: whatever the curves, Generate gives a sound mesh or an error that says what to do.
func FuzzGenerate(f *testing.F) {
	f.Add([]byte("0123456789"), 0.3)
	f.Add([]byte{10, 10, 200, 200, 0, 50, 60, 70, 80, 9}, 1e9)
	f.Add([]byte{0, 0, 255, 255, 0, 0, 255, 255, 0, 0, 128, 128, 1, 1, 77}, 0.1)
	f.Fuzz(func(t *testing.T, data []byte, size float64) {
		if len(data) > 100 {
			data = data[:100]
		}
		var curves []shape.Edge
		// five bytes a curve: two points and a kind; odd numbers of units beside a grid of 1/64 give near coincidences
		coordinate := func(b byte) float64 { return float64(b>>2)/64*1.2 - 0.1 + [4]float64{0, 1e-9, 1e-5, 0.01}[b&3] }
		for ; len(data) >= 5; data = data[5:] {
			a, b := r2.Vec{X: coordinate(data[0]), Y: coordinate(data[1])}, r2.Vec{X: coordinate(data[2]), Y: coordinate(data[3])}
			switch {
			case data[4]%3 == 0:
				curves = append(curves, circle(a.X, a.Y, max(1e-3, b.X))...)
			default:
				curves = append(curves, line(a.X, a.Y, b.X, b.Y)...)
			}
		}
		if !(size > 0.02) {
			size = 0.02
		}
		m, err := Generate(r2.Vec{}, unit, curves, uniform(size))
		if err != nil {
			if !errors.Is(err, errTangled) && !errors.Is(err, errTooMany) && !errors.Is(err, errCross) && !strings.Contains(err.Error(), "move edges") {
				t.Fatal(err)
			}
			return
		}
		if len(m.Triangles) > 20_000 {
			return // too slow to check all against all
		}
		if bad := faults(m, curves); bad != nil {
			t.Fatal(bad)
		}
	})
}

func ExampleGenerate() {
	// a disc of 40 mm in a square of 200 mm, with edges of about 20 mm
	c, r := r2.Vec{X: 0.1, Y: 0.1}, 0.02
	var disc []shape.Edge
	points := [4]r2.Vec{{X: c.X + r, Y: c.Y}, {X: c.X, Y: c.Y + r}, {X: c.X - r, Y: c.Y}, {X: c.X, Y: c.Y - r}}
	for i, p := range points {
		disc = append(disc, shape.Edge{A: p, B: points[(i+1)%4], Center: c, Radius: r, CCW: true})
	}
	m, err := Generate(r2.Vec{}, r2.Vec{X: 0.2, Y: 0.2}, disc, func(r2.Vec) float64 { return 0.02 })
	if err != nil {
		fmt.Println(err)
		return
	}
	fine, _ := m.Refine()
	fmt.Println(m.MinAngle() > 25*math.Pi/180, len(fine.Triangles) == 4*len(m.Triangles))
	// Output: true true
}
