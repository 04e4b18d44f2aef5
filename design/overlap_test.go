package design

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"
	"pgregory.net/rapid"

	"polewright/shape"
)

const deg = math.Pi / 180

func at(s shape.Solid, x, y, z float64, turns ...shape.Rotation) Body {
	rot := shape.Identity()
	for _, t := range turns {
		rot = t.Mul(rot)
	}
	return Body{Solid: s, Place: shape.Placement{Center: r3.Vec{X: x, Y: y, Z: z}, Rot: rot}}
}

func block(x, y, z float64) shape.Block { return shape.Block{Size: r3.Vec{X: x, Y: y, Z: z}} }

// Pairs that just touch by plane or solid geometry: no source but Euclid. Two
// micrometres towards each other they overlap, and by half a micrometre they do not.
func TestOverlapBeginsAtTouching(t *testing.T) {
	halfDiagonal := 0.01 * math.Sqrt2
	zTurn := func(a float64) shape.Rotation { return shape.Euler(0, 0, a*deg) }
	rounded := shape.Racetrack{CoreX: 0.056, CoreY: 0.058, CornerRadius: 0.005, Build: 0.012, Width: 0.06}
	for _, c := range []struct {
		name string
		a, b Body
		way  r3.Vec // unit vector along which b comes nearer to a
	}{
		{"blocks face to face", at(block(.02, .02, .02), 0, 0, 0), at(block(.03, .01, .04), .025, .001, 0), r3.Vec{X: -1}},
		{"block edge on, turned 45 degrees", at(block(.02, .02, .02), 0, 0, 0), at(block(.02, .02, .02), .01+halfDiagonal, 0, 0, zTurn(45)), r3.Vec{X: -1}},
		{"block corner on, along its space diagonal", at(block(.1, .1, .02), 0, 0, 0),
			// Turned by 45 degrees about x and then by atan(1/sqrt 2) about y the space diagonal stands along z.
			at(block(.02, .02, .02), 0, 0, .01+.01*math.Sqrt(3), shape.Euler(45*deg, 0, 0), shape.Euler(0, math.Atan(1/math.Sqrt2), 0)), r3.Vec{Z: -1}},
		{"crossed edges", at(block(.2, .02, .02), 0, 0, 0, shape.Euler(45*deg, 0, 0)), at(block(.02, .2, .02), 0, 0, 2*halfDiagonal, shape.Euler(0, 45*deg, 0)), r3.Vec{Z: -1}},
		{"disc beside a block", at(block(.02, .02, .02), 0, 0, 0), at(shape.Disc{Diameter: .04, Thickness: .01}, .03, .005, .002), r3.Vec{X: -1}},
		{"disc on a block's edge", at(block(.02, .02, .02), 0, 0, 0), at(shape.Disc{Diameter: .04, Thickness: .01}, .01+.02*math.Sqrt2/2, .01+.02*math.Sqrt2/2, 0), r3.Vec{X: -math.Sqrt2 / 2, Y: -math.Sqrt2 / 2}},
		{"disc on a disc, end to end", at(shape.Disc{Diameter: .04, Thickness: .01}, 0, 0, 0), at(shape.Disc{Diameter: .02, Thickness: .01}, .01, .004, .01), r3.Vec{Z: -1}},
		{"discs side by side", at(shape.Disc{Diameter: .04, Thickness: .01}, 0, 0, 0), at(shape.Disc{Diameter: .02, Thickness: .01}, .03*.6, .03*.8, 0), r3.Vec{X: -.6, Y: -.8}},
		{"disc inside a ring's bore", at(shape.Ring{OuterDiameter: .06, InnerDiameter: .04, Thickness: .01}, 0, 0, 0), at(shape.Disc{Diameter: .02, Thickness: .01}, .01, 0, 0), r3.Vec{X: 1}},
		{"block's corners in a ring's bore", at(shape.Ring{OuterDiameter: .06, InnerDiameter: .04, Thickness: .01}, 0, 0, 0), at(block(.01, .02, .01), math.Sqrt(.02*.02-.01*.01)-.005, 0, 0), r3.Vec{X: 1}},
		{"block in a winding's core", at(rounded, 0, 0, 0), at(block(.02, .02, .06), .018, 0, 0), r3.Vec{X: 1}},
		{"block on a winding's round corner", at(rounded, 0, 0, 0),
			at(block(.02, .02, .06), .023+.017*math.Sqrt2/2+.01, .024+.017*math.Sqrt2/2+.01, 0), r3.Vec{X: -math.Sqrt2 / 2, Y: -math.Sqrt2 / 2}},
		{"wedges of a ring", at(shape.Wedge{OuterDiameter: .06, InnerDiameter: .03, Thickness: .02, From: 0, To: 45 * deg}, 0, 0, 0),
			at(shape.Wedge{OuterDiameter: .06, InnerDiameter: .03, Thickness: .02, From: 45 * deg, To: 90 * deg}, 0, 0, 0), r3.Vec{X: math.Sqrt2 / 2, Y: -math.Sqrt2 / 2}},
		{"turned blocks in one frame", at(block(.02, .02, .02), 0, 0, 0, zTurn(30)), at(block(.02, .02, .02), .02*math.Cos(30*deg), .02*math.Sin(30*deg), 0, zTurn(30)), r3.Vec{X: -math.Cos(30 * deg), Y: -math.Sin(30 * deg)}},
		{"tilted ring and disc", at(shape.Ring{OuterDiameter: .06, InnerDiameter: .04, Thickness: .01}, 0, 0, 0, shape.Euler(40*deg, 0, 0)),
			at(shape.Disc{Diameter: .02, Thickness: .01}, .01, 0, 0, shape.Euler(40*deg, 0, 0)), r3.Vec{X: 1}},
		{"frustum on a block", at(block(.06, .06, .02), 0, 0, 0), at(shape.Frustum{BottomDiameter: .04, TopDiameter: .02, Height: .01}, .005, 0, .015), r3.Vec{Z: -1}},
		{"frustum on a disc of its own size", at(shape.Disc{Diameter: .02, Thickness: .01}, 0, 0, 0), at(shape.Frustum{BottomDiameter: .04, TopDiameter: .02, Height: .01}, 0, 0, -.01), r3.Vec{Z: 1}},
		{"disc across the axis on a block", at(block(.06, .06, .02), 0, 0, 0), at(shape.Disc{Diameter: .02, Thickness: .03}, 0, 0, .02, shape.AxisTo(0)), r3.Vec{Z: -1}},
	} {
		near, within := 2.2e-6, 0.5e-6
		for _, d := range []struct {
			by   float64
			want bool
		}{{0, false}, {within, false}, {near, true}, {-1e-4, false}, {1e-4, true}} {
			b := c.b
			b.Place.Center = r3.Add(b.Place.Center, r3.Scale(d.by, c.way))
			for _, frame := range []shape.Rotation{shape.Identity(), shape.AxisTo(0), shape.Euler(0, math.Pi/2, 0), shape.Euler(.3, -.8, 1.1)} {
				turn := func(x Body) Body {
					x.Place = shape.Placement{Center: frame.Apply(x.Place.Center), Rot: frame.Mul(x.Place.Rot)}
					return x
				}
				if got := overlap(turn(c.a), turn(b)); got != d.want {
					t.Errorf("%s, %g um nearer, frame %.2v: overlap is %v", c.name, d.by*1e6, frame, got)
				}
				if got := overlap(turn(b), turn(c.a)); got != d.want {
					t.Errorf("%s, exchanged, %g um nearer: overlap is %v", c.name, d.by*1e6, got)
				}
			}
		}
	}
}

func TestOverlapOfBodiesInsideOneAnother(t *testing.T) {
	ring := shape.Ring{OuterDiameter: .06, InnerDiameter: .04, Thickness: .01}
	for _, c := range []struct {
		name string
		a, b Body
		want bool
	}{
		{"the same block twice", at(block(.02, .02, .02), 0, 0, 0), at(block(.02, .02, .02), 0, 0, 0), true},
		{"the same ring twice", at(ring, 0, 0, 0), at(ring, 0, 0, 0), true},
		{"small disc inside a large one", at(shape.Disc{Diameter: .06, Thickness: .06}, 0, 0, 0), at(shape.Disc{Diameter: .01, Thickness: .01}, .01, .01, .01), true},
		{"disc that fills a bore", at(ring, 0, 0, 0), at(shape.Disc{Diameter: .04, Thickness: .01}, 0, 0, 0), false},
		{"ring that fits round a ring", at(ring, 0, 0, 0), at(shape.Ring{OuterDiameter: .08, InnerDiameter: .06, Thickness: .01}, 0, 0, 0), false},
		{"rod through a plate, across", at(block(.1, .1, .001), 0, 0, 0), at(shape.Disc{Diameter: .002, Thickness: .1}, .0123, .0071, 0), true},
		{"rod through a plate, tilted", at(block(.1, .1, .001), 0, 0, 0), at(shape.Disc{Diameter: .004, Thickness: .1}, .0123, .0071, 0, shape.Euler(.4, .1, 0)), true},
		{"needle through foil, tilted", at(block(.1, .1, .0002), 0, 0, 0), at(shape.Disc{Diameter: .0005, Thickness: .1}, .0123, .0071, .0021, shape.Euler(0, .1, 0)), true},
		{"bars crossed", at(block(.1, .01, .01), 0, 0, 0), at(block(.01, .1, .01), 0, 0, 0), true},
		{"bars crossed, one over the other", at(block(.1, .01, .01), 0, 0, 0), at(block(.01, .1, .01), 0, 0, .01), false},
		{"magnets in a winding's core", at(shape.Racetrack{CoreX: .056, CoreY: .058, Build: .012, Width: .06}, 0, 0, 0, shape.AxisTo(0)), at(block(.06, .04, .02), 0, 0, .019), false},
		{"magnet too high for its core", at(shape.Racetrack{CoreX: .056, CoreY: .058, Build: .012, Width: .06}, 0, 0, 0, shape.AxisTo(0)), at(block(.06, .04, .02), 0, 0, .01901), true},
		{"disc in a frustum", at(shape.Frustum{BottomDiameter: .04, TopDiameter: .02, Height: .02}, 0, 0, 0), at(shape.Disc{Diameter: .01, Thickness: .01}, 0, 0, 0), true},
	} {
		if got := overlap(c.a, c.b); got != c.want {
			t.Errorf("%s: overlap is %v", c.name, got)
		}
		if got := overlap(c.b, c.a); got != c.want {
			t.Errorf("%s, exchanged: overlap is %v", c.name, got)
		}
	}
}

// Two bodies of the same plan, one lifted off the other, share space until they touch end to end, whatever their size: rims that coincide are the case
// that rounding decides.
func TestOverlapOfEqualPlans(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		mm := func(what string, lo, hi int) float64 { return float64(rapid.IntRange(lo, hi).Draw(t, what)) * 1e-4 }
		inner, wall, thick := mm("inner", 10, 900), mm("wall", 10, 900), mm("thickness", 10, 500)
		outer := inner + wall
		solid := rapid.SampledFrom([]shape.Solid{
			shape.Disc{Diameter: outer, Thickness: thick}, shape.Ring{OuterDiameter: outer, InnerDiameter: inner, Thickness: thick},
			shape.Wedge{OuterDiameter: outer, InnerDiameter: inner, Thickness: thick, From: 20 * deg, To: 110 * deg}, block(outer, inner, thick),
			shape.Racetrack{CoreX: outer, CoreY: outer + wall, CornerRadius: 0.3 * outer, Build: wall, Width: thick},
		}).Draw(t, "solid")
		frame := rapid.SampledFrom([]shape.Rotation{shape.Identity(), shape.AxisTo(0), shape.Euler(.3, -.8, 1.1)}).Draw(t, "frame")
		a := at(solid, mm("x", -500, 500), mm("y", -500, 500), mm("z", -500, 500), frame)
		lifted := func(by float64) Body {
			b := a
			b.Place.Center = r3.Add(a.Place.Center, frame.Apply(r3.Vec{Z: by}))
			return b
		}
		if part := lifted(thick * rapid.Float64Range(-0.99, 0.99).Draw(t, "share")); !overlap(a, part) || !overlap(part, a) {
			t.Errorf("%+v, lifted to %v: no overlap", solid, part.Place.Center)
		}
		if next := lifted(thick); overlap(a, next) || !touch(a, next) || !touch(next, a) {
			t.Errorf("%+v end to end: overlap %v, touch %v", solid, overlap(a, next), touch(a, next))
		}
	})
}

// A line or an arc through a point, and another through the same point: the first is cut there.
func TestCrossings(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		f := func(lo, hi float64, what string) float64 { return rapid.Float64Range(lo, hi).Draw(t, what) }
		meeting := r2.Vec{X: f(-.05, .05, "x"), Y: f(-.05, .05, "y")}
		through := func(name string, direction float64) shape.Edge {
			before, after := f(.2, .7, name+" before"), f(.2, .7, name+" after")
			s, c := math.Sincos(direction)
			along := r2.Vec{X: c, Y: s}
			if rapid.Bool().Draw(t, name+" straight") {
				return shape.Edge{A: r2.Sub(meeting, r2.Scale(.03*before, along)), B: r2.Add(meeting, r2.Scale(.03*after, along))}
			}
			radius := f(.005, .05, name+" radius")
			e := shape.Edge{Radius: radius, CCW: rapid.Bool().Draw(t, name+" way")}
			left := r2.Vec{X: -s, Y: c}
			if rapid.Bool().Draw(t, name+" to the right") {
				left = r2.Scale(-1, left)
			}
			e.Center = r2.Add(meeting, r2.Scale(radius, left))
			point := func(angle float64) r2.Vec {
				return r2.Add(e.Center, r2.Rotate(r2.Scale(-radius, left), angle, r2.Vec{}))
			}
			e.A, e.B = point(-before), point(after)
			if e.CCW != (r2.Cross(r2.Sub(e.A, e.Center), r2.Sub(e.B, e.Center)) > 0) {
				e.A, e.B = e.B, e.A
			}
			return e
		}
		angle := f(-3, 3, "direction")
		e := through("e", angle)
		g := through("g", angle+f(.2, 2.9, "angle between"))
		if rapid.Bool().Draw(t, "g ends there, smoothly") {
			g = through("g", angle)
			g.A = meeting
		}
		best := math.Inf(1)
		for _, cut := range crossings(nil, e, g) {
			best = math.Min(best, r2.Norm(r2.Sub(e.At(cut), meeting)))
		}
		if best > 1e-12 { // rounding at 0.1 m, over the sine of the least angle
			t.Fatalf("the nearest cut is %g m off", best)
		}
	})
}

func anySolid(t *rapid.T, name string) shape.Solid {
	size := func(what string) float64 { return rapid.Float64Range(.005, .05).Draw(t, name+" "+what) }
	outer := size("outer")
	inner := outer * rapid.Float64Range(.2, .9).Draw(t, name+" bore")
	switch rapid.IntRange(0, 4).Draw(t, name) {
	case 0:
		return block(size("x"), size("y"), size("z"))
	case 1:
		return shape.Disc{Diameter: outer, Thickness: size("z")}
	case 2:
		return shape.Ring{OuterDiameter: outer, InnerDiameter: inner, Thickness: size("z")}
	case 3:
		from := rapid.Float64Range(-math.Pi, math.Pi).Draw(t, name+" from")
		return shape.Wedge{OuterDiameter: outer, InnerDiameter: inner, Thickness: size("z"), From: from, To: from + rapid.Float64Range(.1, 6).Draw(t, name+" span")}
	}
	return shape.Racetrack{CoreX: outer, CoreY: size("y"), CornerRadius: rapid.Float64Range(0, .0025).Draw(t, name+" radius"), Build: size("build") / 5, Width: size("z")}
}

// Outlines against brute force: points on a grid. A point inside both bodies proves an overlap; and where even the bodies grown by the grid's step
// share no point, there is none.
func TestPrismsAgainstPoints(t *testing.T) {
	const n = 60
	counts := map[bool]int{}
	rapid.Check(t, func(t *rapid.T) {
		c := func(what string) float64 { return rapid.Float64Range(-.03, .03).Draw(t, what) }
		a := at(anySolid(t, "a"), 0, 0, 0)
		b := at(anySolid(t, "b"), c("x"), c("y"), 0, shape.Euler(0, 0, rapid.Float64Range(-3, 3).Draw(t, "turn")))
		got, known := prismsOverlap(a, b)
		if !known {
			t.Fatal("two prisms along z were not known as such")
		}
		const half = .08 // holds both
		step := 2 * half / n
		inside, grown := false, false
		for i := range n + 1 {
			for j := range n + 1 {
				p := r3.Vec{X: -half + step*float64(i), Y: -half + step*float64(j)}
				q := b.Place.ToLocal(p)
				inside = inside || a.Solid.Contains(p, -2e-6) && b.Solid.Contains(q, -2e-6)
				grown = grown || a.Solid.Contains(p, step) && b.Solid.Contains(q, step)
			}
		}
		if inside && !got || !grown && got {
			t.Fatalf("overlap is %v, but a point inside both: %v, and inside both grown: %v", got, inside, grown)
		}
		counts[got]++
	})
	if counts[true] < 5 || counts[false] < 5 {
		t.Errorf("the cases are one-sided: %v", counts)
	}
}

// Separating axes against brute force, blocks turned at will.
func TestBlocksAgainstPoints(t *testing.T) {
	counts := map[bool]int{}
	rapid.Check(t, func(t *rapid.T) {
		f := func(lo, hi float64, what string) float64 { return rapid.Float64Range(lo, hi).Draw(t, what) }
		p, q := block(f(.01, .05, "x"), f(.01, .05, "y"), f(.01, .05, "z")), block(f(.01, .05, "X"), f(.01, .05, "Y"), f(.01, .05, "Z"))
		a := at(p, 0, 0, 0)
		b := at(q, f(-.04, .04, "dx"), f(-.04, .04, "dy"), f(-.04, .04, "dz"), shape.Euler(f(-3, 3, "a"), f(-3, 3, "b"), f(-3, 3, "c")))
		got := overlap(a, b)
		const n = 24
		inside, grown := false, false
		h := p.HalfExtent()
		step := 2 * math.Max(h.X, math.Max(h.Y, h.Z)) / n
		for _, x := range spread(-h.X, h.X, n) {
			for _, y := range spread(-h.Y, h.Y, n) {
				for _, z := range spread(-h.Z, h.Z, n) {
					v := r3.Vec{X: x, Y: y, Z: z}
					inside = inside || p.Contains(v, -2e-6) && q.Contains(b.Place.ToLocal(v), -2e-6)
					grown = grown || q.Contains(b.Place.ToLocal(v), step)
				}
			}
		}
		if inside && !got || !grown && got {
			t.Fatalf("overlap is %v, but a point inside both: %v, and inside both grown: %v", got, inside, grown)
		}
		counts[got]++
	})
	if counts[true] < 5 || counts[false] < 5 {
		t.Errorf("the cases are one-sided: %v", counts)
	}
}

func TestTouch(t *testing.T) {
	ring := shape.Ring{OuterDiameter: .06, InnerDiameter: .04, Thickness: .01}
	winding := shape.Racetrack{CoreX: .056, CoreY: .058, Build: .012, Width: .06}
	tilt := shape.Euler(.3, .4, .5)
	for _, c := range []struct {
		name string
		a, b Body
		want bool
	}{
		{"block on block", at(block(.02, .02, .02), 0, 0, 0), at(block(.04, .04, .02), .02, 0, .02), true},
		{"strip of a tenth of a millimetre", at(block(.02, .02, .02), 0, 0, 0), at(block(.02, .02, .02), .0199, 0, .02), true},
		{"side by side, a strip of 0.05 mm", at(block(.02, .02, .02), 0, 0, 0), at(block(.02, .02, .02), .02, .01995, 0), true},
		{"side by side, a strip of half a micrometre", at(block(.02, .02, .02), 0, 0, 0), at(block(.02, .02, .02), .02, .0199995, 0), false},
		{"plate on the last of a winding's flat", at(shape.Racetrack{CoreX: .056, CoreY: .058, CornerRadius: .005, Build: .012, Width: .06}, 0, 0, 0), at(block(.04, .02, .06), .04, .041+.01, 0), true},
		{"edge on edge only", at(block(.02, .02, .02), 0, 0, 0), at(block(.02, .02, .02), .02, 0, .02), false},
		{"a hundredth of a millimetre apart", at(block(.02, .02, .02), 0, 0, 0), at(block(.02, .02, .02), 0, 0, .02001), false},
		{"tilted blocks", at(block(.02, .02, .02), 0, 0, 0, tilt), Body{Solid: block(.01, .01, .02), Place: shape.Placement{Center: tilt.Apply(r3.Vec{X: .005, Z: .02}), Rot: tilt}}, true},
		{"disc that fills a bore", at(ring, 0, 0, 0), at(shape.Disc{Diameter: .04, Thickness: .01}, 0, 0, 0), true},
		{"disc loose in a bore", at(ring, 0, 0, 0), at(shape.Disc{Diameter: .0399, Thickness: .01}, 0, 0, 0), false},
		{"disc on a disc", at(shape.Disc{Diameter: .04, Thickness: .01}, 0, 0, 0), at(shape.Disc{Diameter: .02, Thickness: .01}, .01, 0, .01), true},
		{"discs side by side touch in a line", at(shape.Disc{Diameter: .04, Thickness: .01}, 0, 0, 0), at(shape.Disc{Diameter: .04, Thickness: .01}, .04, 0, 0), false},
		{"magnet under a winding", at(winding, 0, 0, 0, shape.AxisTo(0)), at(block(.06, .04, .02), 0, 0, .019), true},
		{"magnet short of a winding", at(winding, 0, 0, 0, shape.AxisTo(0)), at(block(.06, .04, .02), 0, 0, .0189), false},
		{"wedges of a ring", at(shape.Wedge{OuterDiameter: .06, InnerDiameter: .03, Thickness: .02, From: 0, To: 45 * deg}, 0, 0, 0),
			at(shape.Wedge{OuterDiameter: .06, InnerDiameter: .03, Thickness: .02, From: 45 * deg, To: 90 * deg}, 0, 0, 0), true},
		{"wedges of a thin ring", at(shape.Wedge{OuterDiameter: .031, InnerDiameter: .03, Thickness: .02, From: 0, To: 45 * deg}, 0, 0, 0),
			at(shape.Wedge{OuterDiameter: .031, InnerDiameter: .03, Thickness: .02, From: 45 * deg, To: 90 * deg}, 0, 0, 0), true},
		{"frustum on a block", at(block(.06, .06, .02), 0, 0, 0), at(shape.Frustum{BottomDiameter: .04, TopDiameter: .02, Height: .01}, .005, 0, .015), true},
		{"frustum over a block", at(block(.06, .06, .02), 0, 0, 0), at(shape.Frustum{BottomDiameter: .04, TopDiameter: .02, Height: .01}, .005, 0, .0151), false},
		{"disc under a block, across", at(block(.06, .06, .02), 0, 0, 0), at(shape.Disc{Diameter: .02, Thickness: .03}, .045, 0, 0, shape.AxisTo(0)), true},
	} {
		if got := touch(c.a, c.b); got != c.want {
			t.Errorf("%s: touch is %v", c.name, got)
		}
		if got := touch(c.b, c.a); got != c.want {
			t.Errorf("%s, exchanged: touch is %v", c.name, got)
		}
		if overlap(c.a, c.b) {
			t.Errorf("%s: the bodies overlap", c.name)
		}
	}
}

// A sphere and a body just touch by Euclid; 20 um decide for round bodies, which are sampled, and 2 um for blocks.
func TestRegionBeginsAtTouching(t *testing.T) {
	for _, c := range []struct {
		name string
		b    Body
		d    float64 // diameter of the sphere about the origin that touches
	}{
		{"block above", at(block(.06, .04, .02), 0, 0, .019), .018},
		{"block's corner", at(block(.02, .02, .02), .02, .03, .04), 2 * math.Sqrt(.01*.01+.02*.02+.03*.03)},
		{"disc above", at(shape.Disc{Diameter: .04, Thickness: .02}, 0, 0, .019), .018},
		{"disc's rim", at(shape.Disc{Diameter: .04, Thickness: .02}, .05, 0, .02), 2 * math.Hypot(.03, .01)},
		{"inside a ring", at(shape.Ring{OuterDiameter: .06, InnerDiameter: .04, Thickness: .02}, 0, 0, 0), .04},
		{"inside a winding", at(shape.Racetrack{CoreX: .056, CoreY: .058, Build: .012, Width: .06}, 0, 0, 0), .056},
	} {
		slack := 40e-6
		if _, ok := c.b.Solid.(shape.Block); ok {
			slack = 4e-6
		}
		if g := (&Region{Shape: Sphere, DiameterM: c.d - 1e-7}); g.meets(c.b) {
			t.Errorf("%s: a sphere that touches is said to reach in", c.name)
		}
		if g := (&Region{Shape: Sphere, DiameterM: c.d + slack}); !g.meets(c.b) {
			t.Errorf("%s: a sphere %g um too large is let pass", c.name, slack*1e6)
		}
	}
	b := at(block(.06, .04, .02), 0, 0, .019)
	for _, g := range []Region{
		{Shape: Box, SizeM: r3.Vec{X: .01, Y: .01, Z: .018}},
		{Shape: Cylinder, DiameterM: .01, LengthM: .018, Axis: 2},
		{Shape: Cylinder, DiameterM: .018, LengthM: .018, Axis: 0},
	} {
		if g.meets(b) {
			t.Errorf("%s that touches is said to reach in", g.Shape)
		}
		g.Center.Z = 1e-4
		if !g.meets(b) {
			t.Errorf("%s that reaches in by 0.1 mm is let pass", g.Shape)
		}
	}
}

func BenchmarkOverlap(b *testing.B) {
	for name, pair := range map[string][2]Body{
		"blocks":  {at(block(.02, .02, .02), 0, 0, 0), at(block(.02, .02, .02), .02, 0, 0, shape.Euler(0, 0, .1))},
		"prisms":  {at(shape.Ring{OuterDiameter: .06, InnerDiameter: .04, Thickness: .01}, 0, 0, 0), at(shape.Disc{Diameter: .04, Thickness: .01}, 0, 0, 0)},
		"sampled": {at(block(.06, .06, .02), 0, 0, 0), at(shape.Disc{Diameter: .02, Thickness: .03}, 0, 0, .02, shape.Euler(.1, 1, 0))},
	} {
		b.Run(name, func(b *testing.B) {
			for b.Loop() {
				overlap(pair[0], pair[1])
			}
		})
	}
}
