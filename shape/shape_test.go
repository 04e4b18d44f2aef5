package shape

import (
	"fmt"
	"math"
	"testing"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"
	"pgregory.net/rapid"
)

func length(lo, hi float64) *rapid.Generator[float64] { return rapid.Float64Range(lo, hi) }

// anySolid draws every solid of the package, degenerate limits (no bore, sharp corners, half and nearly whole turns) included.
func anySolid() *rapid.Generator[Solid] {
	return rapid.Custom(func(t *rapid.T) Solid {
		l := func(name string) float64 { return length(0.001, 0.2).Draw(t, name) }
		inner := func(outer float64) float64 {
			return outer * rapid.OneOf(rapid.Just(0.0), rapid.Float64Range(0.05, 0.99)).Draw(t, "bore")
		}
		switch rapid.IntRange(0, 5).Draw(t, "kind") {
		case 0:
			return Block{r3.Vec{X: l("x"), Y: l("y"), Z: l("z")}}
		case 1:
			return Disc{l("d"), l("t")}
		case 2:
			d := l("d")
			return Ring{d, inner(d), l("t")}
		case 3:
			d := l("d")
			from := rapid.Float64Range(-10, 10).Draw(t, "from")
			span := rapid.OneOf(rapid.SampledFrom([]float64{math.Pi / 4, math.Pi / 2, math.Pi, 1.5 * math.Pi, 2 * math.Pi}),
				rapid.Float64Range(0.05, 6.2)).Draw(t, "span")
			to := from + span
			if span < 2*math.Pi && rapid.Bool().Draw(t, "a turn back") {
				to -= 2 * math.Pi
			}
			return Wedge{d, inner(d), l("t"), from, to}
		case 4:
			return Frustum{l("bottom"), l("top"), l("h")}
		default:
			x, y := l("core x"), l("core y")
			r := rapid.OneOf(rapid.Just(0.0), rapid.Just(math.Min(x, y)/2), rapid.Float64Range(0, math.Min(x, y)/2)).Draw(t, "corner")
			return Racetrack{x, y, r, l("build"), l("width")}
		}
	})
}

func anyRotation() *rapid.Generator[Rotation] {
	return rapid.Custom(func(t *rapid.T) Rotation {
		angle := rapid.OneOf(
			rapid.Map(rapid.IntRange(-4, 4), func(n int) float64 { return float64(n) * math.Pi / 2 }),
			rapid.Float64Range(-7, 7))
		return Euler(angle.Draw(t, "rx"), angle.Draw(t, "ry"), angle.Draw(t, "rz"))
	})
}

func anyVec(size float64) *rapid.Generator[r3.Vec] {
	return rapid.Custom(func(t *rapid.T) r3.Vec {
		c := rapid.Float64Range(-size, size)
		return r3.Vec{X: c.Draw(t, "x"), Y: c.Draw(t, "y"), Z: c.Draw(t, "z")}
	})
}

// Volumes and surfaces by the rules of elementary geometry, worked by hand.
func TestVolumeAndSurface(t *testing.T) {
	tests := []struct {
		s               Solid
		volume, surface float64
	}{
		{Block{r3.Vec{X: 2, Y: 3, Z: 4}}, 24, 52},
		{Disc{2, 3}, 3 * math.Pi, 8 * math.Pi},
		{Ring{4, 2, 5}, 15 * math.Pi, 6*math.Pi + 30*math.Pi},
		{Wedge{4, 2, 5, 0, math.Pi / 2}, 15 * math.Pi / 4, 9*math.Pi + 2*5},
		{Wedge{4, 0, 1, 0, math.Pi}, 2 * math.Pi, 4*math.Pi + 2*math.Pi + 4},
		{Wedge{4, 2, 5, 1, 1}, 15 * math.Pi, 36 * math.Pi},
		{Frustum{2, 2, 3}, 3 * math.Pi, 8 * math.Pi},
		{Frustum{6, 0, 4}, 12 * math.Pi, 9*math.Pi + 15*math.Pi}, // a cone of radius 3, height 4, slant 5
		{Racetrack{6, 4, 0, 1, 2}, 2 * (20 + math.Pi), 2*(20+math.Pi) + 2*(20+20+2*math.Pi)},
		{Racetrack{6, 4, 1, 1, 2}, 2 * (12 + 3*math.Pi), 2*(12+3*math.Pi) + 2*(12+12+6*math.Pi)},
		{Racetrack{4, 4, 2, 1, 2}, 10 * math.Pi, 10*math.Pi + 20*math.Pi},
	}
	for _, tt := range tests {
		t.Run(tt.s.String(), func(t *testing.T) {
			if v := tt.s.Volume(); math.Abs(v/tt.volume-1) > 1e-14 {
				t.Errorf("volume %v, want %v", v, tt.volume)
			}
			if a := tt.s.SurfaceArea(); math.Abs(a/tt.surface-1) > 1e-14 {
				t.Errorf("surface %v, want %v", a, tt.surface)
			}
		})
	}
}

// The surface is the growth of the volume when every face moves outward (Steiner): differences of volumes of grown bodies.
func TestSurfaceIsGrowthOfVolume(t *testing.T) {
	const d = 1e-7
	tests := []struct{ s, grown Solid }{
		{Disc{0.05, 0.02}, Disc{0.05 + 2*d, 0.02 + 2*d}},
		{Ring{0.05, 0.03, 0.02}, Ring{0.05 + 2*d, 0.03 - 2*d, 0.02 + 2*d}},
		{Racetrack{0.06, 0.05, 0.005, 0.012, 0.06}, Racetrack{0.06 - 2*d, 0.05 - 2*d, 0.005 - d, 0.012 + 2*d, 0.06 + 2*d}},
	}
	for _, tt := range tests {
		got := (tt.grown.Volume() - tt.s.Volume()) / d
		if want := tt.s.SurfaceArea(); math.Abs(got/want-1) > 1e-4 { // second order in d over the thickness: 1e-5
			t.Errorf("%v: surface %v, growth of volume %v", tt.s, want, got)
		}
	}
}

func TestString(t *testing.T) {
	tests := []struct {
		s    Solid
		want string
	}{
		{Block{r3.Vec{X: 0.06, Y: 0.04, Z: 0.02}}, "block 60 x 40 x 20 mm"},
		{Disc{0.0762, 0.0254}, "disc 76.2 dia x 25.4 mm"},
		{Ring{0.02, 0.01, 0.01}, "ring 20 / 10 dia x 10 mm"},
		{Wedge{0.1, 0.04, 0.05, 0, math.Pi / 4}, "wedge 100 / 40 dia x 50 mm, 0 to 45 deg"},
		{Frustum{0.05, 0.03, 0.02}, "frustum 50 to 30 dia x 20 mm"},
		{Racetrack{0.06, 0.05, 0, 0.012, 0.06}, "racetrack 12 thick x 60 wide round 60 x 50 mm"},
		{Racetrack{0.06, 0.05, 0.003, 0.012, 0.06}, "racetrack 12 thick x 60 wide round 60 x 50 mm, corner radius 3 mm"},
	}
	for _, tt := range tests {
		if got := tt.s.String(); got != tt.want {
			t.Errorf("%q, want %q", got, tt.want)
		}
	}
}

func TestRotationGroup(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r, q := anyRotation().Draw(t, "r"), anyRotation().Draw(t, "q")
		v := anyVec(1).Draw(t, "v")
		near := func(a, b r3.Vec, what string) {
			if r3.Norm(r3.Sub(a, b)) > 1e-11 { // columns are snapped by up to 1e-12
				t.Fatalf("%s: %v and %v", what, a, b)
			}
		}
		near(r.Mul(q).Apply(v), r.Apply(q.Apply(v)), "product")
		near(r.Inverse(r.Apply(v)), v, "inverse")
		x, y := r.Apply(r3.Vec{X: 1}), r.Apply(r3.Vec{Y: 1})
		near(r3.Cross(x, y), r.Apply(r3.Vec{Z: 1}), "right-handed")
		p := Placement{Center: v, Rot: r}
		near(p.ToLocal(p.ToWorld(x)), x, "placement")
	})
}

func TestEulerOrder(t *testing.T) {
	const q = math.Pi / 2
	tests := []struct {
		r    Rotation
		v, w r3.Vec
	}{
		{Euler(q, 0, 0), r3.Vec{Y: 1}, r3.Vec{Z: 1}},
		{Euler(0, q, 0), r3.Vec{Z: 1}, r3.Vec{X: 1}},
		{Euler(0, 0, q), r3.Vec{X: 1}, r3.Vec{Y: 1}},
		{Euler(q, q, 0), r3.Vec{Y: 1}, r3.Vec{X: 1}},  // y -> z about x, then z -> x about y
		{Euler(0, q, q), r3.Vec{Z: 1}, r3.Vec{Y: 1}},  // z -> x about y, then x -> y about z
		{Euler(q, 0, q), r3.Vec{X: 1}, r3.Vec{Y: 1}},  // x stays, then x -> y
		{Euler(q, q, q), r3.Vec{X: 1}, r3.Vec{Z: -1}}, // x stays, x -> -z, stays
		{AxisTo(0), r3.Vec{Z: 1}, r3.Vec{X: 1}},
		{AxisTo(0), r3.Vec{X: 1}, r3.Vec{Y: 1}},
		{AxisTo(1), r3.Vec{Z: 1}, r3.Vec{Y: 1}},
		{AxisTo(1), r3.Vec{X: 1}, r3.Vec{Z: 1}},
		{AxisTo(2), r3.Vec{X: 1}, r3.Vec{X: 1}},
	}
	for _, tt := range tests {
		if got := tt.r.Apply(tt.v); got != tt.w {
			t.Errorf("%v carries %v to %v, want %v exactly", tt.r, tt.v, got, tt.w)
		}
	}
	if AxisTo(2) != Identity() {
		t.Error("AxisTo(2) is not the identity")
	}
}

// Quarter turns in any number and order leave a signed permutation without a trace of rounding or a negative zero.
func TestQuarterTurnsAreClean(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r := Identity()
		for range rapid.IntRange(1, 20).Draw(t, "turns") {
			var angle [3]float64
			angle[rapid.IntRange(0, 2).Draw(t, "axis")] = float64(rapid.IntRange(-1000, 1000).Draw(t, "quarters")) * 90 * math.Pi / 180
			r = Euler(angle[0], angle[1], angle[2]).Mul(r)
		}
		for i := range r {
			for _, v := range r[i] {
				if v != 0 && v != 1 && v != -1 {
					t.Fatalf("%v", r)
				}
			}
		}
		c := r3.Vec{X: 0.1, Y: 0.2, Z: 0.3}
		s := Block{r3.Vec{X: 0.06, Y: 0.04, Z: 0.02}}
		b := Bounds(s, Placement{c, r})
		for axis := range 3 {
			loops, lo, hi, ok := Outline(s, Placement{c, r}, axis)
			if !ok || len(loops) != 1 || len(loops[0]) != 4 {
				t.Fatalf("axis %d: %v %v", axis, loops, ok)
			}
			if lo != axes(b.Min)[axis] || hi != axes(b.Max)[axis] {
				t.Fatalf("extent %v %v, bounds %v", lo, hi, b)
			}
			for _, e := range loops[0] {
				if (e.A.X != e.B.X) == (e.A.Y != e.B.Y) {
					t.Fatalf("edge %v is not along an axis", e)
				}
				for _, p := range []r2.Vec{e.A, e.B} {
					u, v := (axis+1)%3, (axis+2)%3
					if (p.X != axes(b.Min)[u] && p.X != axes(b.Max)[u]) || (p.Y != axes(b.Min)[v] && p.Y != axes(b.Max)[v]) {
						t.Fatalf("corner %v is not one of the box %v", p, b)
					}
				}
			}
		}
		centred := Bounds(s, Placement{Rot: r})
		zero := r.Apply(r3.Vec{X: 1})
		for _, v := range []r3.Vec{centred.Min, centred.Max, zero} {
			for _, f := range axes(v) {
				if f == 0 && math.Signbit(f) {
					t.Fatalf("negative zero in %v", v)
				}
			}
		}
	})
}

// Turns that add up to quarter turns are as clean as quarter turns.
func TestTurnsThatAddUp(t *testing.T) {
	deg := math.Pi / 180
	for _, a := range []float64{1, 7, 30, 45, 77.7} {
		if r := Euler(0, 0, a*deg).Mul(Euler(0, 0, (90-a)*deg)); r != Euler(0, 0, 90*deg) {
			t.Errorf("%v and %v degrees about z: %v", a, 90-a, r)
		}
		about := AxisTo(0).Mul(Euler(0, 0, a*deg)) // a turn about the world's x
		if r := about.Mul(Euler(0, 0, -a*deg)); r != AxisTo(0) {
			t.Errorf("%v degrees to and fro: %v", a, r)
		}
	}
}

// inside counts the edges above a point of the plan (even-odd): an independent way to say what the loops enclose.
func inside(loops []Loop, p r2.Vec) bool {
	in := false
	cross := func(a, b r2.Vec) {
		if (a.Y > p.Y) != (b.Y > p.Y) && p.X < a.X+(p.Y-a.Y)/(b.Y-a.Y)*(b.X-a.X) {
			in = !in
		}
	}
	for _, l := range loops {
		for _, e := range l {
			n := 1
			if e.Radius != 0 {
				n = 256 // chords: sagitta r (pi/2/256)^2/8 = 5e-6 r
			}
			for i := range n {
				cross(e.At(float64(i)/float64(n)), e.At(float64(i+1)/float64(n)))
			}
		}
	}
	return in
}

// extruded places a body so that it is an extrusion along the axis, either way up and turned about it.
func extruded(t *rapid.T, axis int) Placement {
	r := Euler(rapid.SampledFrom([]float64{0, math.Pi}).Draw(t, "over"), 0, rapid.Float64Range(-7, 7).Draw(t, "turn"))
	return Placement{Center: anyVec(0.3).Draw(t, "centre"), Rot: AxisTo(axis).Mul(r)}
}

func TestOutlineIsTheBody(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		axis := rapid.IntRange(0, 2).Draw(t, "axis")
		s := anySolid().Filter(func(s Solid) bool { _, f := s.(Frustum); return !f }).Draw(t, "solid")
		p := extruded(t, axis)
		loops, lo, hi, ok := Outline(s, p, axis)
		if !ok {
			t.Fatal("not an extrusion")
		}
		area := 0.0
		for i, l := range loops {
			a := l.Area()
			if (a > 0) != (i == 0) {
				t.Fatalf("loop %d has area %v", i, a)
			}
			area += a
			for j, e := range l {
				if e.B != l[(j+1)%len(l)].A {
					t.Fatalf("gap after edge %d of %v", j, l)
				}
				if e.A == e.B {
					t.Fatalf("edge without length: %v", e)
				}
				if e.Radius != 0 {
					for _, q := range []r2.Vec{e.A, e.B} {
						if math.Abs(r2.Norm(r2.Sub(q, e.Center))-e.Radius) > 1e-14 {
							t.Fatalf("arc end off the circle: %v", e)
						}
					}
					if turn := e.turn(); math.Abs(turn) > math.Pi/2+1e-12+4e-16/e.Radius || (turn > 0) != e.CCW {
						t.Fatalf("arc through %v", turn)
					}
				}
			}
		}
		// Rounding of coordinates of 0.3 m (5e-17) over the thinnest wall (1 % of 1 mm) and twice that for the extent.
		if v := area * (hi - lo); math.Abs(v/s.Volume()-1) > 1e-9 {
			t.Fatalf("outline encloses %v, volume %v", v, s.Volume())
		}
		b := Bounds(s, p)
		if math.Abs(lo-axes(b.Min)[axis])+math.Abs(hi-axes(b.Max)[axis]) > 1e-15 {
			t.Fatalf("extent %v..%v, bounds %v", lo, hi, b)
		}
		for range 20 {
			f := func(name string, min, max float64) float64 {
				return min + (max-min)*rapid.Float64Range(-0.1, 1.1).Draw(t, name)
			}
			q := r3.Vec{X: f("x", b.Min.X, b.Max.X), Y: f("y", b.Min.Y, b.Max.Y), Z: f("z", b.Min.Z, b.Max.Z)}
			const skin = 2e-6 // of chords on a 0.4 m racetrack
			local := p.ToLocal(q)
			if s.Contains(local, skin) != s.Contains(local, -skin) {
				continue // on the surface
			}
			a := axes(q)
			want := inside(loops, r2.Vec{X: a[(axis+1)%3], Y: a[(axis+2)%3]}) && lo <= a[axis] && a[axis] <= hi
			if s.Contains(local, 0) != want {
				t.Fatalf("%v at %v: contains %v, outline %v", s, q, !want, want)
			}
		}
	})
}

func TestOutlineOfOthers(t *testing.T) {
	tilted := Euler(0.1, 0, 0)
	tests := []struct {
		name string
		s    Solid
		r    Rotation
		axis int
	}{
		{"disc across", Disc{0.02, 0.01}, Identity(), 0},
		{"ring across", Ring{0.02, 0.01, 0.01}, AxisTo(1), 2},
		{"wedge across", Wedge{0.02, 0.01, 0.01, 0, 1}, Identity(), 1},
		{"racetrack across", Racetrack{0.02, 0.02, 0, 0.01, 0.02}, AxisTo(0), 2},
		{"tilted block", Block{r3.Vec{X: 1, Y: 1, Z: 1}}, tilted, 2},
		{"tilted disc", Disc{0.02, 0.01}, tilted, 2},
		{"frustum", Frustum{0.02, 0.01, 0.01}, Identity(), 2},
		{"no such axis", Disc{0.02, 0.01}, Identity(), 3},
		{"no rotation", Disc{0.02, 0.01}, Rotation{}, 2},
	}
	for _, tt := range tests {
		if loops, _, _, ok := Outline(tt.s, Placement{Rot: tt.r}, tt.axis); ok || loops != nil {
			t.Errorf("%s: is said to be an extrusion", tt.name)
		}
	}
	// A block tilted about x is still one along x.
	if loops, lo, hi, ok := Outline(Block{r3.Vec{X: 1, Y: 2, Z: 3}}, Placement{Rot: tilted}, 0); !ok || lo != -0.5 || hi != 0.5 {
		t.Errorf("block turned about x: %v %v %v %v", loops, lo, hi, ok)
	}
}

func TestRoundOutlinesHaveWorldQuarters(t *testing.T) {
	c := r3.Vec{X: 0.01, Y: 0.02, Z: 0.03}
	loops, _, _, _ := Outline(Ring{0.02, 0.01, 0.005}, Placement{c, Euler(0, 0, 0.3)}, 2)
	want := map[r2.Vec]bool{}
	for _, r := range []float64{0.01, 0.005} {
		want[r2.Vec{X: c.X + r, Y: c.Y}], want[r2.Vec{X: c.X - r, Y: c.Y}] = true, true
		want[r2.Vec{X: c.X, Y: c.Y + r}], want[r2.Vec{X: c.X, Y: c.Y - r}] = true, true
	}
	for _, l := range loops {
		for _, e := range l {
			if !want[e.A] {
				t.Errorf("%v is no quarter point", e.A)
			}
			delete(want, e.A)
		}
	}
	if len(want) != 0 {
		t.Errorf("missing quarter points: %v", want)
	}
}

// Neighbouring sectors of a segmented ring share their corners bit for bit, the last with the first.
func TestSectorsMeet(t *testing.T) {
	for _, n := range []int{6, 8, 16} {
		at := func(i int) float64 { return float64(i%n) * 360 / float64(n) * math.Pi / 180 }
		for i := range n {
			here, _, _, _ := Outline(Wedge{0.1, 0.04, 0.05, at(i), at(i + 1)}, Placement{Rot: Identity()}, 2)
			next, _, _, _ := Outline(Wedge{0.1, 0.04, 0.05, at(i + 1), at(i + 2)}, Placement{Rot: Identity()}, 2)
			for _, e := range here[0] {
				shared := false
				for _, f := range next[0] {
					shared = shared || (e.A == f.B && e.B == f.A)
				}
				if shared != (e == here[0][1]) {
					t.Errorf("%d sectors: side %d is not shared alone", n, i)
				}
			}
		}
	}
}

// Points of the surface, by quadrature of nothing: the farthest of many surface points along each axis must reach the bounds and not pass them.
func TestBoundsAreTight(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := anySolid().Draw(t, "solid")
		p := Placement{anyVec(0.3).Draw(t, "centre"), anyRotation().Draw(t, "rotation")}
		b := Bounds(s, p)
		min, max := r3.Vec{X: 1e9, Y: 1e9, Z: 1e9}, r3.Vec{X: -1e9, Y: -1e9, Z: -1e9}
		size := r3.Norm(s.HalfExtent())
		for _, q := range rim(s) {
			if !s.Contains(q, 1e-12) || (s.Contains(q, -1e-9) && size > 1e-3) {
				t.Fatalf("%v is not on the surface of %v", q, s)
			}
			w := p.ToWorld(q)
			min = r3.Vec{X: math.Min(min.X, w.X), Y: math.Min(min.Y, w.Y), Z: math.Min(min.Z, w.Z)}
			max = r3.Vec{X: math.Max(max.X, w.X), Y: math.Max(max.Y, w.Y), Z: math.Max(max.Z, w.Z)}
		}
		tol := 1e-5 * size // 2000 points round: r (pi/2000)^2/2 = 1.2e-6 r
		for i, lo := range axes(b.Min) {
			hi := axes(b.Max)[i]
			if l, h := axes(min)[i], axes(max)[i]; l < lo-1e-12 || h > hi+1e-12 || l > lo+tol || h < hi-tol {
				t.Fatalf("%v: axis %d bounds %v..%v, points %v..%v", s, i, lo, hi, l, h)
			}
		}
		h := s.HalfExtent()
		local := Bounds(s, Placement{Rot: Identity()})
		for i, e := range axes(h) {
			if got := math.Max(-axes(local.Min)[i], axes(local.Max)[i]); math.Abs(got-e) > 1e-15 {
				t.Fatalf("%v: half extent %v, bounds %v", s, h, local)
			}
		}
	})
}

// rim lists points of the edges of a body, where its extremes lie.
func rim(s Solid) []r3.Vec {
	var out []r3.Vec
	circle := func(r, z, from, span, cx, cy float64) {
		const n = 2000
		for i := range n + 1 {
			sin, cos := math.Sincos(from + span*float64(i)/n)
			out = append(out, r3.Vec{X: cx + r*cos, Y: cy + r*sin, Z: z})
		}
	}
	for _, up := range []float64{-1, 1} {
		switch s := s.(type) {
		case Block:
			for i := range 4 {
				out = append(out, r3.Vec{X: s.Size.X * (float64(i&1) - 0.5), Y: s.Size.Y * (float64(i>>1) - 0.5), Z: up * s.Size.Z / 2})
			}
		case Disc:
			circle(s.Diameter/2, up*s.Thickness/2, 0, 2*math.Pi, 0, 0)
		case Ring:
			circle(s.OuterDiameter/2, up*s.Thickness/2, 0, 2*math.Pi, 0, 0)
		case Wedge:
			circle(s.OuterDiameter/2, up*s.Thickness/2, s.From, s.Span(), 0, 0)
			circle(s.InnerDiameter/2, up*s.Thickness/2, s.From, s.Span(), 0, 0)
		case Frustum:
			d := s.BottomDiameter
			if up > 0 {
				d = s.TopDiameter
			}
			circle(d/2, up*s.Height/2, 0, 2*math.Pi, 0, 0)
		case Racetrack:
			x, y := s.CoreX/2-s.CornerRadius, s.CoreY/2-s.CornerRadius
			for i, c := range [][2]float64{{x, y}, {-x, y}, {-x, -y}, {x, -y}} {
				circle(s.CornerRadius+s.Build, up*s.Width/2, float64(i)*math.Pi/2, math.Pi/2, c[0], c[1])
			}
		}
	}
	return out
}

// A body grown by tol encloses the body, one shrunk lies within it, and the shrunk volume (by counting) falls by about surface * tol.
func TestContainsTolerance(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := anySolid().Draw(t, "solid")
		q := anyVec(0.2).Draw(t, "point")
		a, b := rapid.Float64Range(-0.01, 0.01).Draw(t, "a"), rapid.Float64Range(-0.01, 0.01).Draw(t, "b")
		if a > b {
			a, b = b, a
		}
		if s.Contains(q, a) && !s.Contains(q, b) {
			t.Fatalf("%v: %v is inside at %v, not at %v", s, q, a, b)
		}
	})
	tests := []struct {
		s    Solid
		p    r3.Vec
		dist float64 // of the point from the body's faces, positive outside
	}{
		{Block{r3.Vec{X: 0.02, Y: 0.02, Z: 0.02}}, r3.Vec{X: 0.011}, 0.001},
		{Disc{0.02, 0.02}, r3.Vec{X: 0.008, Y: 0.006, Z: 0.005}, 0},
		{Ring{0.02, 0.01, 0.02}, r3.Vec{X: 0.003}, 0.002},
		{Ring{0.02, 0.01, 0.02}, r3.Vec{Y: 0.006}, -0.001},
		{Wedge{0.04, 0.01, 0.02, 0, math.Pi / 2}, r3.Vec{X: 0.01, Y: -0.001}, 0.001},
		{Wedge{0.04, 0.01, 0.02, 0, 3 * math.Pi / 2}, r3.Vec{X: 0.01, Y: -0.001}, 0.001},
		{Wedge{0.04, 0.01, 0.02, math.Pi / 2, 0}, r3.Vec{X: 0.01, Y: -0.001}, -0.001},
		{Frustum{0.03, 0, 0.02}, r3.Vec{X: 0.0075 + 0.00125, Z: 0}, 0.001}, // sides 3:4:5
		{Racetrack{0.02, 0.02, 0, 0.01, 0.02}, r3.Vec{X: 0.010 + 0.0066, Y: 0.010 + 0.0088}, 0.001},
		{Racetrack{0.02, 0.02, 0.005, 0.01, 0.02}, r3.Vec{X: 0.005 + 0.0024, Y: 0.005 + 0.0032}, 0.001},
	}
	for _, tt := range tests {
		if tt.s.Contains(tt.p, tt.dist-1e-9) || !tt.s.Contains(tt.p, tt.dist+1e-9) {
			t.Errorf("%v: %v is not %v m from it", tt.s, tt.p, tt.dist)
		}
	}
}

// The wire runs along the outline: at points of a loop parallel to the core the direction is the loop's tangent, and it has no divergence.
func TestRacetrackDirection(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := anySolid().Filter(func(s Solid) bool { _, ok := s.(Racetrack); return ok }).Draw(t, "track").(Racetrack)
		s.Build *= rapid.Float64Range(0.01, 0.99).Draw(t, "depth")
		loops, _, _, _ := Outline(s, Placement{Rot: Identity()}, 2)
		for _, e := range loops[0] {
			f := rapid.Float64Range(0.01, 0.99).Draw(t, "along")
			q := e.At(f)
			tangent := r2.Unit(r2.Sub(e.At(f+1e-3), e.At(f-1e-3)))
			dx, dy := s.Direction(q.X, q.Y)
			if math.Hypot(dx-tangent.X, dy-tangent.Y) > 1e-9 {
				t.Fatalf("%v at %v: direction %v %v, tangent %v", s, q, dx, dy, tangent)
			}
		}
	})
	for _, q := range [][2]float64{{0, 0}, {0.03, 0.025}, {-0.03, 0.025}, {0.01, 0}, {0, -0.01}, {math.Copysign(0, -1), 0}} {
		dx, dy := Racetrack{0.06, 0.05, 0, 0.012, 0.06}.Direction(q[0], q[1])
		if math.Abs(math.Hypot(dx, dy)-1) > 1e-15 {
			t.Errorf("direction at %v is %v %v", q, dx, dy)
		}
	}
}

// Nothing panics, whatever the numbers.
func TestAbsurdSizes(t *testing.T) {
	for _, v := range []float64{0, -1, math.NaN(), math.Inf(1), math.Inf(-1)} {
		for _, s := range []Solid{Block{r3.Vec{X: v, Y: v, Z: v}}, Disc{v, v}, Ring{v, v, v}, Ring{1, v, 1}, Wedge{v, v, v, v, v},
			Wedge{2, 1, 1, v, 1}, Wedge{2, 1, 1, 0, v}, Frustum{v, v, v}, Racetrack{v, v, v, v, v}, Racetrack{1, 1, v, 1, 1}} {
			for axis := range 3 {
				loops, _, _, _ := Outline(s, Placement{Rot: Identity()}, axis)
				for _, l := range loops {
					l.Area()
				}
			}
			Bounds(s, Placement{Rot: Euler(v, v, v)})
			s.Contains(r3.Vec{X: v}, v)
			s.Volume()
			s.SurfaceArea()
			_ = s.String()
		}
	}
	for _, s := range []Solid{Block{}, Disc{}, Ring{}, Wedge{}, Frustum{}, Racetrack{}, Disc{-1, -1}, Ring{1, 2, 1}, Racetrack{1, 1, 0, -1, 1}} {
		if v := s.Volume(); v != 0 {
			t.Errorf("%v has volume %v", s, v)
		}
	}
}

func ExampleOutline() {
	ring := Ring{OuterDiameter: 0.040, InnerDiameter: 0.020, Thickness: 0.010}
	loops, lo, hi, ok := Outline(ring, Placement{Center: r3.Vec{X: 0.1}, Rot: AxisTo(0)}, 0)
	fmt.Println(ok, len(loops), "loops, x from", lo, "to", hi)
	fmt.Printf("%.3f %.3f cm2\n", 1e4*loops[0].Area(), 1e4*loops[1].Area())
	// Output:
	// true 2 loops, x from 0.095 to 0.10500000000000001
	// 12.566 -3.142 cm2
}

func ExampleBounds() {
	block := Block{Size: r3.Vec{X: 0.06, Y: 0.04, Z: 0.02}}
	b := Bounds(block, Placement{Rot: Euler(0, math.Pi/2, 0)})
	fmt.Println(block, "stood up:", b.Min, b.Max)
	// Output: block 60 x 40 x 20 mm stood up: {-0.01 -0.02 -0.03} {0.01 0.02 0.03}
}

// The place along a winding and across it follows the wire: a short step along the direction of the wire leaves the height as it is (to the
// square of the step over the radius) and goes on along the wire; a step out adds to the height alone. Once round is the length of a turn.
func TestRacetrackAlong(t *testing.T) {
	r := Racetrack{CoreX: 0.04, CoreY: 0.06, CornerRadius: 0.003, Build: 0.01, Width: 0.03}
	const step = 1e-7
	rapid.Check(t, func(t *rapid.T) {
		over := rapid.Float64Range(1e-6, r.Build-1e-6).Draw(t, "height")
		share := rapid.Float64Range(0, 1).Draw(t, "share")
		sin, cos := math.Sincos(share * math.Pi / 2)
		place := rapid.SampledFrom([][2]float64{{0.02 + over, 0.027 * share}, {0.017 * share, 0.03 + over},
			{0.017 + (0.003+over)*cos, 0.027 + (0.003+over)*sin}}).Draw(t, "place")
		x, y := rapid.SampledFrom([]float64{-1, 1}).Draw(t, "left")*place[0], rapid.SampledFrom([]float64{-1, 1}).Draw(t, "down")*place[1]
		s, h := r.Along(x, y)
		if math.Abs(h-over) > 1e-12 || s < 0 || s > r.Turn() {
			t.Fatalf("at (%g, %g): %g along the wire, %g over the core", x, y, s, h)
		}
		dx, dy := r.Direction(x, y)
		s1, h1 := r.Along(x+step*dx, y+step*dy)
		ds := math.Mod(s1-s+r.Turn(), r.Turn()) / step
		// On the arcs the middle turn stands for all: its radius over the point's.
		if math.Abs(h1-h) > 1e-4*step || !(ds > 0.59 && ds < 2.7) {
			t.Fatalf("at (%g, %g): a step along the wire adds %g along it and %g across", x, y, ds, (h1-h)/step)
		}
		s1, h1 = r.Along(x+step*dy, y-step*dx) // out: the wire runs counter-clockwise
		if math.Abs(h1-h-step) > 1e-4*step || math.Abs(s1-s) > 1e-4*step {
			t.Fatalf("at (%g, %g): a step out adds %g along the wire and %g across", x, y, (s1-s)/step, (h1-h)/step)
		}
	})
	// By hand: straight sides less the corner radii, and circles of the radius 3 mm + 5 mm.
	if want := 2*(0.034+0.054) + 2*math.Pi*0.008; math.Abs(r.Turn()-want) > 1e-12 {
		t.Errorf("a turn is %g m, by hand %g", r.Turn(), want)
	}
}
