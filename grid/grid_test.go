package grid

import (
	"errors"
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"
	"pgregory.net/rapid"

	"polewright/shape"
)

func mm(x, y, z float64) r3.Vec { return r3.Vec{X: x * 1e-3, Y: y * 1e-3, Z: z * 1e-3} }

func body(s shape.Solid, center, j r3.Vec) Body {
	return Body{Name: s.String(), Solid: s, Place: shape.Placement{Center: center, Rot: shape.Identity()}, Polarization: j, MustFit: true}
}

func turned(b Body, x, y, z float64) Body {
	b.Place.Rot = shape.Euler(x, y, z)
	return b
}

func ofMaterial(m int, b Body) Body {
	b.Material = m
	return b
}

func block(x, y, z float64) shape.Solid { return shape.Block{Size: mm(x, y, z)} }

var (
	up    = r3.Vec{Z: 1.3}
	along = r3.Vec{X: 1.3}
	soft  = r3.Vec{}
	disc  = shape.Disc{Diameter: 0.03, Thickness: 0.01}
	ring  = shape.Ring{OuterDiameter: 0.05, InnerDiameter: 0.03, Thickness: 0.02}
	spool = shape.Racetrack{CoreX: 0.04, CoreY: 0.06, CornerRadius: 0.003, Build: 0.01, Width: 0.03}
)

// Parity of the scalar potential by hand: magnetization is an axial vector, so a magnet mirrored across its own direction keeps it
// and the potential is odd there, and mirrored across another direction it is turned round, which the even potential shows
// (Jackson, Classical Electrodynamics, section 6.10, table of transformations). Unlike partners leave no symmetry.
func TestSymmetry(t *testing.T) {
	for _, c := range []struct {
		name   string
		bodies []Body
		want   [3]Parity
	}{
		{"one block along z", []Body{body(block(20, 30, 10), mm(0, 0, 0), up)}, [3]Parity{Even, Even, Odd}},
		{"one block along x, far from the origin", []Body{body(block(20, 30, 10), mm(50, -70, 11), along)}, [3]Parity{Odd, Even, Even}},
		{"attracting pair", []Body{body(block(20, 30, 10), mm(0, 0, 20), up), body(block(20, 30, 10), mm(0, 0, -20), up)}, [3]Parity{Even, Even, Odd}},
		{"repelling pair", []Body{body(block(20, 30, 10), mm(0, 0, 20), up), body(block(20, 30, 10), mm(0, 0, -20), r3.Scale(-1, up))}, [3]Parity{Even, Even, Even}},
		{"side by side, opposed", []Body{body(block(20, 30, 10), mm(20, 0, 0), up), body(block(20, 30, 10), mm(-20, 0, 0), r3.Scale(-1, up))}, [3]Parity{Odd, Even, Odd}},
		{"unlike materials", []Body{body(block(20, 30, 10), mm(0, 0, 20), up), ofMaterial(2, body(block(20, 30, 10), mm(0, 0, -20), up))}, [3]Parity{Even, Even, None}},
		{"unlike sizes", []Body{body(block(20, 30, 10), mm(0, 0, 20), up), body(block(20, 30.1, 10), mm(0, 0, -20), up)}, [3]Parity{Even, Even, None}},
		{"unlike strengths", []Body{body(block(20, 30, 10), mm(0, 0, 20), up), body(block(20, 30, 10), mm(0, 0, -20), r3.Scale(0.99, up))}, [3]Parity{Even, Even, None}},
		{"askew polarization", []Body{body(block(20, 30, 10), mm(0, 0, 0), r3.Vec{X: 0.1, Z: 1})}, [3]Parity{None, Even, None}},
		{"block turned about z", []Body{turned(body(block(20, 30, 10), mm(0, 0, 0), up), 0, 0, 0.3)}, [3]Parity{None, None, Odd}},
		{"turned blocks that mirror each other", []Body{turned(body(block(20, 30, 10), mm(40, 0, 0), up), 0, 0, 0.3), turned(body(block(20, 30, 10), mm(-40, 0, 0), up), 0, 0, -0.3)}, [3]Parity{Even, None, Odd}},
		{"square block turned by a right angle", []Body{turned(body(block(20, 20, 10), mm(0, 0, 0), up), 0, 0, math.Pi/2)}, [3]Parity{Even, Even, Odd}},
		{"discs", []Body{body(disc, mm(0, 0, 20), up), body(disc, mm(0, 0, -20), up)}, [3]Parity{Even, Even, Odd}},
		{"disc and block of the same hull's size", []Body{body(disc, mm(0, 0, 20), up), body(block(30, 30, 10), mm(0, 0, -20), up)}, [3]Parity{Even, Even, None}},
		{"rings of unlike bore", []Body{body(ring, mm(0, 0, 20), up), body(shape.Ring{OuterDiameter: 0.05, InnerDiameter: 0.02, Thickness: 0.02}, mm(0, 0, -20), up)}, [3]Parity{Even, Even, None}},
		{"spool with a magnet off its middle", []Body{body(spool, mm(0, 0, 0), soft), body(block(10, 10, 10), mm(0, 10, 0), along)}, [3]Parity{Odd, None, Even}},
		{"two magnets in a frame, one leg thinner", []Body{
			body(block(60, 40, 20), mm(0, 0, 19), up), body(block(60, 40, 20), mm(0, 0, -19), up),
			body(block(60, 10, 78), mm(0, 33, 0), soft), body(block(60, 8, 78), mm(0, -34, 0), soft),
		}, [3]Parity{Even, None, Odd}},
	} {
		g, err := Build(Spec{Bodies: c.bodies})
		if err != nil {
			t.Errorf("%s: %v", c.name, err)
			continue
		}
		if g.Symmetry != c.want {
			t.Errorf("%s: symmetry %v, expected %v", c.name, g.Symmetry, c.want)
		}
		for axis, p := range g.Symmetry {
			if p == None {
				continue
			}
			for i, j := range g.Partner[axis] {
				d := r3.Sub(r3.Add(c.bodies[i].Place.Center, c.bodies[j].Place.Center), r3.Scale(2, g.Center))
				if e := math.Abs([3]float64{d.X, d.Y, d.Z}[axis]); e > 1e-9 || g.Partner[axis][j] != i {
					t.Errorf("%s: body %d has the partner %d across axis %d", c.name, i, j, axis)
				}
			}
			k := (axis - g.Axis + 2) % 3
			if g.Min[k] != 0 || g.Parity()[k] != p {
				t.Errorf("%s: the domain starts at %g along axis %d of the grid", c.name, g.Min[k], k)
			}
		}
	}
}

// The axis along which all bodies that must fit are extruded, and with a choice the one that suits most others.
func TestAxis(t *testing.T) {
	loose := body(block(20, 30, 10), mm(0, 0, 50), up)
	loose.MustFit = false
	for _, c := range []struct {
		name   string
		bodies []Body
		want   int
		fits   []bool
	}{
		{"disc along z", []Body{body(disc, mm(0, 0, 0), up)}, 2, []bool{true}},
		{"disc along x", []Body{turned(body(disc, mm(0, 0, 0), along), 0, math.Pi/2, 0)}, 0, []bool{true}},
		{"disc along y", []Body{turned(body(disc, mm(0, 0, 0), r3.Vec{Y: 1}), math.Pi/2, 0, 0)}, 1, []bool{true}},
		{"block turned about y", []Body{turned(body(block(20, 30, 10), mm(0, 0, 0), up), 0, 0.5, 0)}, 1, []bool{true}},
		{"loose block turned about y beside a disc along z", []Body{turned(loose, 0, 0.5, 0), body(disc, mm(0, 0, 0), soft)}, 2, []bool{false, true}},
		{"two loose blocks turned about x outvote one about y", []Body{turned(loose, 0.5, 0, 0), turned(loose, 0, 0.5, 0), turned(loose, 0.2, 0, 0), body(block(9, 9, 9), mm(90, 0, 0), soft)}, 0, []bool{true, false, true, true}},
		{"strips side by side along x, each a little higher", []Body{body(block(100, 30, 10), mm(0, 0, 0), up), body(block(100, 30, 10), mm(0, 0, 0.1), up),
			body(block(100, 30, 10), mm(0, 0, 0.2), up)}, 1, []bool{true, true, true}},
		{"winding along z", []Body{body(spool, mm(0, 0, 0), soft), body(block(5, 5, 5), mm(0, 0, 0), up)}, 2, []bool{true, true}},
	} {
		for i := range c.bodies { // apart from each other
			c.bodies[i].Place.Center.X += 0.1 * float64(i)
			if c.name == "winding along z" {
				c.bodies[i].Place.Center.X = 0
			}
		}
		g, err := Build(Spec{Bodies: c.bodies})
		if err != nil {
			t.Errorf("%s: %v", c.name, err)
			continue
		}
		if g.Axis != c.want || !slices.Equal(g.Fits, c.fits) {
			t.Errorf("%s: axis %d, fits %v; expected %d, %v", c.name, g.Axis, g.Fits, c.want, c.fits)
		}
	}
}

// The grid lies along the world where no steel is askew or another way would serve no more of it; else along the steel of which there is most. Magnets
// have their say where no steel has any, and a winding, which has to fit, has the last word. Bodies turned against each other about one axis all fit along it.
func TestTurn(t *testing.T) {
	soft := func(b Body) Body { b.MustFit = false; return b }
	large, small := soft(body(block(60, 40, 10), mm(0, 0, 30), r3.Vec{})), soft(body(block(20, 20, 10), mm(0, 0, -30), r3.Vec{}))
	magnet := soft(body(block(20, 20, 10), mm(0, 0, 0), up))
	wound := body(spool, mm(80, 0, 0), r3.Vec{})
	leans := func(b Body) Body { return turned(b, 0.3, 0.4, 0) }
	for _, c := range []struct {
		name   string
		bodies []Body
		want   shape.Rotation
	}{
		{"all along the world", []Body{large, small, magnet}, shape.Identity()},
		{"a magnet leans", []Body{large, small, leans(magnet)}, shape.Identity()},
		{"magnets lean", []Body{leans(magnet), leans(magnet), magnet}, shape.Euler(0.3, 0.4, 0)},
		{"one magnet of two leans", []Body{magnet, leans(magnet)}, shape.Identity()},
		{"all leans", []Body{leans(large), leans(small), leans(magnet)}, shape.Euler(0.3, 0.4, 0)},
		{"the steel leans", []Body{leans(large), leans(small), magnet}, shape.Euler(0.3, 0.4, 0)},
		{"most of the steel leans", []Body{leans(large), small, magnet}, shape.Euler(0.3, 0.4, 0)},
		{"some of the steel leans", []Body{large, leans(small), magnet}, shape.Identity()},
		{"turned about one axis", []Body{large, turned(small, 0, 0, 0.5), magnet}, shape.Identity()},
		{"steel leans beside a winding", []Body{leans(large), wound, magnet}, shape.Identity()},
		{"a winding leans", []Body{large, leans(wound), magnet}, shape.Euler(0.3, 0.4, 0)},
	} {
		if got := Turn(c.bodies); got != c.want {
			t.Errorf("%s: %v, want %v", c.name, got, c.want)
		}
	}
}

// Steel that no axis serves is refused, with the names.
func TestSteelThatDoesNotFit(t *testing.T) {
	a, b := turned(body(block(20, 30, 10), mm(0, 0, 0), soft), 0, 0.5, 0), turned(body(block(20, 30, 10), mm(60, 0, 0), soft), 0.5, 0, 0)
	a.Name, b.Name = "left bracket", "right bracket"
	for _, bodies := range [][]Body{
		{a, b},
		{turned(body(disc, mm(0, 0, 0), soft), 0.3, 0, 0)},
	} {
		_, err := Build(Spec{Bodies: bodies})
		if !errors.Is(err, ErrUnfit) {
			t.Errorf("%v: error %v", bodies[0].Name, err)
			continue
		}
		if !strings.Contains(err.Error(), bodies[0].Name) {
			t.Errorf("the error does not name %q: %v", bodies[0].Name, err)
		}
		t.Log(err)
		for i := range bodies {
			bodies[i].MustFit = false
		}
		if g, err := Build(Spec{Bodies: bodies}); err == nil {
			t.Logf("not asked to fit: axis %d, fits %v", g.Axis, g.Fits)
		} else {
			t.Errorf("bodies that need not fit are refused: %v", err)
		}
	}
	if _, err := Build(Spec{}); err == nil {
		t.Error("a grid over nothing")
	}
}

// Two bodies in the same place are refused by name.
func TestOverlapIsRefused(t *testing.T) {
	a, b := body(block(20, 30, 10), mm(0, 0, 0), up), body(block(20, 30, 10), mm(5, 3, 2), up)
	a.Name, b.Name = "first", "second"
	if _, err := Build(Spec{Bodies: []Body{a, b}}); err == nil || !strings.Contains(err.Error(), "first") || !strings.Contains(err.Error(), "second") {
		t.Errorf("error %v", err)
	}
}

// The volume of each body in the domain, by the same integral over cells as the equations use; with a symmetry the domain holds a share.
func volumes(g *Grids, gr *Grid, bodies int) []float64 {
	out := make([]float64, bodies)
	for t := range gr.Plan.Triangles {
		area := triangleArea(gr, t)
		for l := range gr.Layers() {
			if b := gr.Cell[t*gr.Layers()+l]; b >= 0 {
				out[b] += area * (gr.Faces[l+1] - gr.Faces[l])
			}
		}
	}
	return out
}

// triangleArea is exact for quadratic sides: the line integral of u dv by Simpson's rule, whose integrand is of degree 3.
func triangleArea(gr *Grid, t int) float64 {
	tri := gr.Plan.Triangles[t]
	var area float64
	for e := range 3 {
		a, m, b := gr.Plan.Nodes[tri[e]], gr.Plan.Nodes[tri[3+e]], gr.Plan.Nodes[tri[(e+1)%3]]
		d0, d1, d2 := -3*a.Y+4*m.Y-b.Y, b.Y-a.Y, a.Y-4*m.Y+3*b.Y
		area += (a.X*d0 + 4*m.X*d1 + b.X*d2) / 6
	}
	return area
}

// checkGrids demands of every grid: layers ascend, contain every face and plane, span the domain; the finer nests in the coarser; and the cells of
// each body fill its volume: exactly for straight bodies, within the given part for arcs.
func checkGrids(t interface {
	Errorf(string, ...any)
	Helper()
}, spec Spec, g *Grids, tolerance func(level int) float64) {
	t.Helper()
	par := g.Parity()
	center := Frame(g.Axis, g.Center)
	for level, gr := range g.Grid {
		if gr.Faces[0] != g.Min[2] || gr.Faces[gr.Layers()] != g.Max[2] {
			t.Errorf("level %d: layers from %g to %g in a domain from %g to %g", level, gr.Faces[0], gr.Faces[gr.Layers()], g.Min[2], g.Max[2])
		}
		for l := range gr.Layers() {
			if !(gr.Faces[l+1] > gr.Faces[l]) {
				t.Errorf("level %d: face %d does not ascend", level, l+1)
			}
		}
		has := func(w float64) bool {
			return slices.ContainsFunc(gr.Faces, func(f float64) bool { return math.Abs(f-w) < 1e-9 })
		}
		fold := func(w float64) float64 {
			if par[2] != None {
				return math.Abs(w)
			}
			return w
		}
		for i, b := range spec.Bodies {
			_, lo, hi, ok := shape.Outline(b.Solid, b.Place, g.Axis)
			if ok != g.Fits[i] {
				t.Errorf("body %d fits: %v", i, g.Fits[i])
			}
			if !ok {
				continue
			}
			for _, w := range []float64{lo - center[2], hi - center[2]} {
				if !has(fold(w)) {
					t.Errorf("level %d: no layer face at %g m, a face of %s", level, w, b.Name)
				}
			}
		}
		for axis, planes := range spec.Planes {
			k := (axis - g.Axis + 2) % 3
			for _, at := range planes {
				w := at - center[k]
				if par[k] != None {
					w = math.Abs(w)
				}
				if w > g.Max[k] || w < g.Min[k] {
					continue
				}
				if k == 2 {
					if !has(w) {
						t.Errorf("level %d: no layer face at the plane %g m", level, at)
					}
					continue
				}
				// No triangle straddles the plane.
				for n, tri := range gr.Plan.Triangles {
					lo, hi := math.Inf(1), math.Inf(-1)
					for _, v := range tri[:3] {
						x := [2]float64{gr.Plan.Nodes[v].X, gr.Plan.Nodes[v].Y}[k]
						lo, hi = math.Min(lo, x), math.Max(hi, x)
					}
					if lo < w-1e-8 && hi > w+1e-8 {
						t.Errorf("level %d: triangle %d straddles the plane %g m across axis %d", level, n, at, axis)
						break
					}
				}
			}
		}
		share := 1.0
		for _, p := range par {
			if p != None {
				share *= 2
			}
		}
		got := volumes(g, gr, len(spec.Bodies))
		if share > 1 { // what the images hold
			sum := make([]float64, len(got))
			var visit func(k, i, j int)
			visit = func(k, i, j int) {
				if k == 3 {
					sum[i] += got[j]
					return
				}
				visit(k+1, i, j)
				if par[k] != None {
					visit(k+1, i, g.Partner[(g.Axis+1+k)%3][j])
				}
			}
			for i := range got {
				visit(0, i, i)
			}
			got = sum
		}
		for i, b := range spec.Bodies {
			want := b.Solid.Volume()
			if !g.Fits[i] {
				want = 0
			}
			if math.Abs(got[i]-want) > tolerance(level)*b.Solid.Volume() {
				t.Errorf("level %d: cells of %s hold %.12g m3, the body %.12g: off by %.1e", level, b.Name, got[i], want, got[i]/b.Solid.Volume()-1)
			}
		}
		if level > 0 {
			coarse := g.Grid[level-1]
			if len(gr.Plan.Triangles) != 4*len(coarse.Plan.Triangles) || gr.Layers() != 2*coarse.Layers() {
				t.Errorf("level %d is not nested", level)
			}
			d := g.Down[level-1]
			for n, p := range gr.Plan.Nodes { // straight positions are carried exactly, arcs within their height
				var x, y, sum float64
				for i := d.Start[n]; i < d.Start[n+1]; i++ {
					x += d.Weight[i] * coarse.Plan.Nodes[d.Coarse[i]].X
					y += d.Weight[i] * coarse.Plan.Nodes[d.Coarse[i]].Y
					sum += d.Weight[i]
				}
				if math.Abs(sum-1) > 1e-12 || math.Hypot(x-p.X, y-p.Y) > 1e-2*g.Scale {
					t.Errorf("level %d: node %d at %v is carried to (%g, %g)", level, n, p, x, y)
					break
				}
			}
		}
	}
}

func exactly(int) float64 { return 1e-10 }

// Straight bodies are filled exactly; round ones up to what quadratic sides leave out of their arcs: an arc of angle 2a within a circle
// of radius r misses the parabola by about r^2 a^5/45 of area, which falls by 16 a level in sum. Down to 1e-6 on the third grid.
func TestCellsFillBodies(t *testing.T) {
	framed := []Body{
		body(block(60, 40, 20), mm(3, 0, 19), up), body(block(60, 40, 20), mm(3, 0, -19), up),
		body(block(60, 80, 20), mm(3, 0, 39), soft), body(block(60, 80, 20), mm(3, 0, -39), soft),
		body(block(60, 12, 58), mm(3, -34, 0), soft), body(block(60, 12, 58), mm(3, 34, 0), soft),
	}
	round := []Body{
		body(disc, mm(0, 0, 15), up), body(disc, mm(0, 0, -15), up),
		body(ring, mm(0, 0, 0), soft),
		body(shape.Wedge{OuterDiameter: 0.09, InnerDiameter: 0.06, Thickness: 0.01, From: 0.4, To: 1.9}, mm(0, 0, 0), soft),
		body(shape.Racetrack{CoreX: 0.10, CoreY: 0.12, CornerRadius: 0.004, Build: 0.012, Width: 0.03}, mm(0, 0, 0), soft),
	}
	g, err := Build(Spec{Bodies: framed, Focus: []r3.Vec{mm(3, 0, 0)}, Radius: 4e-3, Levels: 3, Planes: [3][]float64{{0.003, 0.010}, {0.007}, {0, 0.009, -0.031}}})
	if err != nil {
		t.Fatal(err)
	}
	checkGrids(t, Spec{Bodies: framed, Planes: [3][]float64{{0.003, 0.010}, {0.007}, {0, 0.009, -0.031}}}, g, exactly)
	spec := Spec{Bodies: round, Focus: []r3.Vec{{}}, Radius: 4e-3, Levels: 3, Planes: [3][]float64{{0.001}, nil, {0.002}}}
	g, err = Build(spec)
	if err != nil {
		t.Fatal(err)
	}
	checkGrids(t, spec, g, func(level int) float64 { return []float64{2e-4, 2e-5, 1e-6}[level] })
	// The disc's own error falls by 16 a level.
	var e [3]float64
	for level, gr := range g.Grid {
		e[level] = math.Abs(volumes(g, gr, len(round))[0]/disc.Volume() - 1)
	}
	t.Logf("disc: off by %.1e", e)
	if !(e[0] > 12*e[1] && e[1] > 12*e[2] && e[0] < 1e-3) {
		t.Errorf("the disc is off by %.1e: that does not fall with the fourth power", e)
	}
}

// Random stacks of blocks beside each other with random planes.
func TestGridsOfRandomBlocks(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(1, 4).Draw(t, "bodies")
		var bodies []Body
		tenths := func(lo, hi float64, what string) float64 { // of a millimetre: the mesher joins points that are nearer than 1e-8 of its rectangle
			return float64(rapid.IntRange(int(10*lo), int(10*hi)).Draw(t, what)) / 10
		}
		x := 0.0
		for range n {
			sx, sy, sz := tenths(3, 40, "x"), tenths(3, 40, "y"), tenths(3, 40, "z")
			j := rapid.SampledFrom([]r3.Vec{soft, up, along}).Draw(t, "polarization")
			x += sx / 2
			bodies = append(bodies, body(block(sx, sy, sz), mm(x, tenths(-20, 20, "beside"), tenths(-20, 20, "height")), j))
			x += sx/2 + rapid.SampledFrom([]float64{0, 0, 0.5, 7}).Draw(t, "gap")
		}
		spec := Spec{Bodies: bodies, Levels: 2, Density: rapid.Float64Range(0.3, 0.7).Draw(t, "density"), Focus: []r3.Vec{mm(x/2, 0, 0)}, Radius: 3e-3}
		for k := range spec.Planes {
			if rapid.Bool().Draw(t, "plane") {
				spec.Planes[k] = []float64{1e-3 * tenths(-20, 20, "at")}
			}
		}
		g, err := Build(spec)
		if err != nil {
			t.Fatal(err)
		}
		checkGrids(t, spec, g, exactly)
	})
}

// Frame and World undo each other and keep handedness.
func TestFrames(t *testing.T) {
	for axis := range 3 {
		v := r3.Vec{X: 1, Y: 2, Z: 3}
		if w := World(axis, Frame(axis, v)); w != v {
			t.Errorf("axis %d: %v becomes %v", axis, v, w)
		}
		f := Frame(axis, v)
		if c := []float64{1, 2, 3}; f != [3]float64{c[(axis+1)%3], c[(axis+2)%3], c[axis]} {
			t.Errorf("axis %d: frame %v", axis, f)
		}
	}
}

// Blocks strewn at random share no edges, so a plan and layers that follow all of them grow with the square of their number: that is refused
// before it takes all memory, and a lattice of more blocks is not.
func TestTooMuch(t *testing.T) {
	rng := rand.New(rand.NewPCG(1, 2))
	lay := func(n int, strewn float64) (*Grids, error) {
		var bodies []Body
		for i := range n * n {
			c := r3.Vec{X: 1e-2*float64(i%n) + strewn*rng.Float64(), Y: 1e-2*float64(i/n) + strewn*rng.Float64(), Z: strewn * rng.Float64()}
			bodies = append(bodies, Body{Name: fmt.Sprint(i), Solid: shape.Block{Size: r3.Vec{X: 5e-3, Y: 5e-3, Z: 5e-3}},
				Place: shape.Placement{Center: c, Rot: shape.Identity()}, Material: 1, Polarization: r3.Vec{Z: 1}})
		}
		return Build(Spec{Bodies: bodies, Levels: 3, Density: 0.6})
	}
	if g, err := lay(12, 0); err != nil || g.Grid[2].Unknowns() > mostNodes {
		t.Errorf("a lattice of 144 blocks: %v", err)
	}
	if _, err := lay(16, 3e-3); !errors.Is(err, ErrTooMuch) {
		t.Errorf("256 blocks strewn at random: %v", err)
	}
}

// Steel next to the focus is a pole, wherever the layers run; its rim gets the finer cells, a magnet there does not.
func TestPoles(t *testing.T) {
	pair := func(s shape.Solid, z float64, j r3.Vec) []Body {
		return []Body{body(s, mm(0, 0, z), j), body(s, mm(0, 0, -z), j)}
	}
	legs := []Body{body(block(40, 10, 100), mm(0, 60, 0), soft), body(block(40, 10, 100), mm(0, -60, 0), soft)}
	plate, ring := block(40, 40, 10), shape.Ring{OuterDiameter: 0.04, InnerDiameter: 0.02, Thickness: 0.01}
	for _, c := range []struct {
		name   string
		bodies []Body
		want   bool
	}{
		{"magnets", pair(plate, 15, up), false},
		{"magnets in a frame", append(pair(plate, 15, up), legs...), false},
		{"plates", append(pair(plate, 15, soft), pair(plate, 25, up)...), true},
		{"discs", append(pair(disc, 15, soft), pair(disc, 25, up)...), true},
		{"rings", append(pair(ring, 15, soft), pair(disc, 25, up)...), true},
		{"discs behind magnets", append(pair(disc, 15, up), pair(disc, 25, soft)...), false},
	} {
		unknowns := map[bool]int{}
		for _, focus := range []bool{false, true} {
			s := Spec{Bodies: c.bodies, Levels: 2}
			if focus {
				s.Focus = []r3.Vec{{}}
			}
			g, err := Build(s)
			if err != nil {
				t.Fatalf("%s: %v", c.name, err)
			}
			if g.Poles != (c.want && focus) {
				t.Errorf("%s, focus %v: poles %v", c.name, focus, g.Poles)
			}
			unknowns[focus] = g.Grid[1].Unknowns()
		}
		t.Logf("%s: %d unknowns, %d with a focus", c.name, unknowns[false], unknowns[true])
		if c.want && unknowns[true] < 3*unknowns[false]/2 {
			t.Errorf("%s: %d unknowns, %d with a focus", c.name, unknowns[false], unknowns[true])
		}
	}
}

// Cells about a body that no grid follows are sized by their distance from its plan, not from a ball about it.
func TestStrayDistance(t *testing.T) {
	g := &Grids{Axis: 2, Center: r3.Vec{X: 1}}
	bar := Body{Solid: shape.Block{Size: r3.Vec{X: 0.1, Y: 0.01, Z: 0.02}}, Place: shape.Placement{Center: r3.Vec{X: 1, Z: 0.05}, Rot: shape.Euler(0.1, 0, math.Pi/4)}}
	s := strayOf(&bar, g)
	if s.size != 0.0025 || math.Abs((s.lo+s.hi)/2-0.05) > 1e-12 {
		t.Errorf("%+v", s)
	}
	along, across := r2.Vec{X: math.Sqrt2 / 2, Y: math.Sqrt2 / 2}, r2.Vec{X: -math.Sqrt2 / 2, Y: math.Sqrt2 / 2}
	half := 0.005*math.Cos(0.1) + 0.01*math.Sin(0.1)
	for _, c := range []struct {
		at   r2.Vec
		want float64
	}{{r2.Vec{}, 0}, {r2.Scale(0.049, along), 0}, {r2.Scale(0.07, along), 0.02}, {r2.Scale(0.05, across), 0.05 - half}} {
		if got := s.distance(c.at); math.Abs(got-c.want) > 1e-9 {
			t.Errorf("%v: %g m away, want %g", c.at, got, c.want)
		}
	}
}
