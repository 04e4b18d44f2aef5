package grid

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"
	"pgregory.net/rapid"

	"polewright/shape"
)

func frustum(bottom, top, height, z float64, up bool) Body {
	b := body(shape.Frustum{BottomDiameter: bottom * 1e-3, TopDiameter: top * 1e-3, Height: height * 1e-3}, mm(0, 0, z), soft)
	if !up {
		b.Place.Rot = shape.Euler(math.Pi, 0, 0)
	}
	return b
}

// Two poles of a disc with a tip each: the grid follows both, mirrored at the plane between them.
func TestPoleTips(t *testing.T) {
	pole := func(z float64) Body {
		return body(shape.Disc{Diameter: 0.06, Thickness: 0.02}, mm(0, 0, z), soft)
	}
	bodies := []Body{pole(30), pole(-30), frustum(60, 30, 12, 14, false), frustum(60, 30, 12, -14, true)}
	g, err := Build(Spec{Bodies: bodies, Focus: []r3.Vec{{}}, Levels: 2, Density: 1})
	if err != nil {
		t.Fatal(err)
	}
	if len(g.Warps) != 1 || !g.Fits[2] || !g.Fits[3] {
		t.Fatalf("%d warps, fits %v", len(g.Warps), g.Fits)
	}
	if g.Symmetry[2] == None {
		t.Error("the two halves are not seen as images")
	}
	// The circle in the plan stands where the tip's side is, the poles' circle stays.
	for z, r := range map[float64]float64{0.008: 0.015, 0.014: 0.0225, 0.020: 0.030, 0.03: 0.030, 0.040: 0.030, 0: 0.015} {
		q := g.Warps.Apply([3]float64{0.030 * math.Cos(0.7), 0.030 * math.Sin(0.7), z})
		if got := math.Hypot(q[0], q[1]); math.Abs(got-r) > 1e-12 {
			t.Errorf("at z = %g the circle has the radius %g, want %g", z, got, r)
		}
	}
	// Its cells have the volume of the tip.
	var volume float64
	fine := g.Grid[1]
	for c, tri := range fine.Plan.Triangles {
		for l := range fine.Layers() {
			if fine.Cell[c*fine.Layers()+l] != 2 {
				continue
			}
			a, b, d := fine.Plan.Nodes[tri[0]], fine.Plan.Nodes[tri[1]], fine.Plan.Nodes[tri[2]]
			mid := [3]float64{(a.X + b.X + d.X) / 3, (a.Y + b.Y + d.Y) / 3, (fine.Faces[l] + fine.Faces[l+1]) / 2}
			f, ok := g.Warps.Jacobian(mid, mid)
			if !ok {
				t.Fatal("a cell of the tip is not warped")
			}
			area := ((b.X-a.X)*(d.Y-a.Y) - (b.Y-a.Y)*(d.X-a.X)) / 2
			volume += area * (fine.Faces[l+1] - fine.Faces[l]) * (f[0][0]*f[1][1] - f[0][1]*f[1][0])
		}
	}
	want := bodies[2].Solid.Volume() / 4 // a quarter lies in the domain
	if math.Abs(volume/want-1) > 0.02 {  // by the midpoint rule, with chords for arcs
		t.Errorf("its cells have %.4g m3, the tip %.4g", volume, want)
	}
}

// A ring round the tip's middle, of another radius than its ends, leaves no room: the grid then does not claim to follow.
func TestNoRoomForAWarp(t *testing.T) {
	tip := frustum(60, 30, 20, 0, true)
	tight := body(shape.Ring{OuterDiameter: 0.07, InnerDiameter: 0.046, Thickness: 0.002}, mm(0, 0, 5), soft)
	g, err := Build(Spec{Bodies: []Body{tip, tight}, Levels: 2, Density: 1})
	if err != nil {
		t.Fatal(err)
	}
	if g.Fits[0] || !g.Fits[1] || len(g.Warps) != 0 {
		t.Errorf("fits %v with %d warps", g.Fits, len(g.Warps))
	}
}

// Invert undoes Apply, and Jacobian is its derivative.
func TestWarpProperties(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		between := func(name string, lo, hi float64) float64 { return rapid.Float64Range(lo, hi).Draw(t, name) }
		w := Warp{At: [2]float64{between("u", -1, 1), between("v", -1, 1)}, Circle: 1, Inner: between("inner", 0, 0.3), Outer: between("outer", 1.8, 3)}
		for i := range 4 {
			w.Knots = append(w.Knots, Knot{W: float64(i) + between("w", 0, 0.5), Shift: between("shift", -0.5, 0.5)})
		}
		w.Knots[0].Shift, w.Knots[3].Shift = 0, 0
		ws := Warps{w}
		p := [3]float64{w.At[0] + between("x", -3, 3), w.At[1] + between("y", -3, 3), between("z", -1, 4)}
		q := ws.Apply(p)
		back := ws.Invert(q)
		for k := range p {
			if math.Abs(back[k]-p[k]) > 1e-12 {
				t.Fatalf("%v goes to %v and back to %v", p, q, back)
			}
		}
		f, ok := ws.Jacobian(p, p)
		if !ok {
			f = [3][3]float64{{1, 0, 0}, {0, 1, 0}, {0, 0, 1}}
		}
		const h = 1e-6
		r := math.Hypot(p[0]-w.At[0], p[1]-w.At[1])
		for _, x := range []float64{w.Inner, w.Circle, w.Outer, 0} {
			if math.Abs(r-x) < 10*h {
				return // a kink
			}
		}
		for _, k := range w.Knots {
			if math.Abs(p[2]-k.W) < 10*h {
				return
			}
		}
		for j := range 3 {
			a, b := p, p
			a[j] -= h
			b[j] += h
			x, y := ws.Apply(a), ws.Apply(b)
			for i := range 3 {
				if d := (y[i] - x[i]) / (2 * h); math.Abs(d-f[i][j]) > 1e-8 {
					t.Fatalf("at %v dx%d/dX%d is %g, by differences %g", p, i, j, f[i][j], d)
				}
			}
		}
		if det := f[0][0]*f[1][1] - f[0][1]*f[1][0]; det <= 0 {
			t.Fatalf("folded at %v: determinant %g", p, det)
		}
	})
}
