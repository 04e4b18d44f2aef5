package buildorder

import (
	"fmt"
	"reflect"
	"slices"
	"strings"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"
	"pgregory.net/rapid"
)

func box(name string, kind Kind, size, center r3.Vec) Part {
	h := r3.Scale(0.5, size)
	p := Part{Name: name, Kind: kind, Min: r3.Sub(center, h), Max: r3.Add(center, h), VolumeM3: size.X * size.Y * size.Z}
	if kind == Magnet {
		p.Direction = r3.Vec{Z: 1}
	}
	return p
}

// frame is a pair of blocks in a box frame, mm.
func frame() []Part {
	mm := func(x, y, z float64) r3.Vec { return r3.Scale(1e-3, r3.Vec{X: x, Y: y, Z: z}) }
	return []Part{
		box("upper", Magnet, mm(60, 40, 20), mm(0, 0, 19)), box("lower", Magnet, mm(60, 40, 20), mm(0, 0, -19)),
		box("top back", Steel, mm(60, 80, 20), mm(0, 0, 39)), box("bottom back", Steel, mm(60, 80, 20), mm(0, 0, -39)),
		box("left leg", Steel, mm(60, 12, 58), mm(0, -34, 0)), box("right leg", Steel, mm(60, 12, 58), mm(0, 34, 0)),
		box("post", Spacer, mm(10, 6, 58), mm(24, 24, 0)),
	}
}

// Orders of the trade (common practice, no source).
func ExampleOrder() {
	p := Order(frame(), "")
	fmt.Println(p.Layout)
	for i, s := range p.Steps {
		fmt.Println(i+1, s.Title, s.Toward)
	}
	// Output:
	// framed-pair
	// 1 Set down bottom back {0 0 0}
	// 2 Slide "lower" onto its plate {-1 0 0}
	// 3 Set down top back {0 0 0}
	// 4 Slide "upper" onto its plate {-1 0 0}
	// 5 Set up post {0 0 0}
	// 6 Close the halves {0 0 -1}
	// 7 Slide in "left leg" {0 1 0}
	// 8 Slide in "right leg" {0 -1 0}
}

func TestLayouts(t *testing.T) {
	parts := frame()
	magnets, backs, legs, post := parts[:2], parts[2:4], parts[4:6], parts[6]
	wound := box("winding", Wound, r3.Vec{X: 0.06, Y: 0.08, Z: 0.08}, r3.Vec{})
	wall := box("wall", Steel, r3.Vec{X: 0.1, Y: 0.1, Z: 0.058}, r3.Vec{})
	wall.Hollow = true
	tip := box("tip", Steel, r3.Vec{X: 0.03, Y: 0.03, Z: 0.004}, r3.Vec{Z: -0.007})
	turned := slices.Clone(magnets)
	turned[1].Direction = r3.Vec{X: 1}
	for _, c := range []struct {
		want  string
		parts []Part
		last  string
	}{
		{Frame, parts, `Slide in "right leg"`},
		{CFrame, slices.Concat(magnets, backs, legs[:1]), `Slide in "left leg"`},
		{OpenPair, append(slices.Clone(magnets), post), "Close the halves"},
		{OpenPair, slices.Concat(magnets, backs), "Close the halves"},
		{WoundPair, append(slices.Clone(magnets), wound), `Wind "winding"`},
		{Pot, append(slices.Concat(magnets, backs), wall), "Close the halves"},
		{Tips, append(slices.Clone(parts), tip), `Slide in "right leg"`},
		{SingleMagnet, slices.Concat(magnets[1:], backs[1:]), `Slide "lower" onto its plate`},
		{SingleMagnet, magnets[1:], `Set "lower" into its holder`},
		{General, turned, `Bring "lower" to its place`},
		{General, slices.Concat(magnets[1:], backs[:1]), `Bring "lower" to its place`},
	} {
		p := Order(c.parts, "")
		if last := p.Steps[len(p.Steps)-1].Title; p.Layout != c.want || last != c.last || p.General != (c.want == General) {
			t.Errorf("%s: taken for %s (general %v), ends with %q", c.want, p.Layout, p.General, last)
		}
		sound(t, c.parts, p)
	}
	if p := Order(parts, "my-frame"); p.Layout != "my-frame" {
		t.Errorf("the design's own name is lost: %s", p.Layout)
	}
	if p := Order(parts, ""); r3.Norm(r3.Sub(p.GapMax, r3.Vec{X: 0.03, Y: 0.02, Z: 0.009})) > 1e-12 || r3.Norm(r3.Add(p.GapMin, p.GapMax)) > 1e-12 {
		t.Errorf("gap %v to %v", p.GapMin, p.GapMax)
	}
}

type fataler interface{ Errorf(string, ...any) }

// sound: every part is moved, a second time with its half only, stands only once it has been moved, and no step moves a magnet towards nothing.
func sound(t fataler, parts []Part, p Plan) {
	moved := map[string]int{}
	for i, s := range p.Steps {
		for _, a := range s.Among {
			if moved[a] == 0 || slices.Contains(s.Moves, a) {
				t.Errorf("step %d of %s: %q stands before it has been moved", i+1, p.Layout, a)
			}
		}
		for _, m := range s.Moves {
			moved[m]++
		}
		if n := r3.Norm(s.Toward); n != 0 && (n != 1 || !(s.FromM > s.ClearM) || len(s.Among) == 0) || s.Title == "" || len(s.Moves) == 0 {
			t.Errorf("step %d of %s: %+v", i+1, p.Layout, s)
		}
	}
	for _, q := range parts {
		if n := moved[q.Name]; n != 1 && n != 2 {
			t.Errorf("%s: %q is moved %d times", p.Layout, q.Name, moved[q.Name])
		}
	}
}

// A rim is one piece with its tip. Legs may stand first where magnets and the upper half come in past them, not where they are in the way.
func TestTipsAndLegs(t *testing.T) {
	mm := func(x, y, z float64) r3.Vec { return r3.Scale(1e-3, r3.Vec{X: x, Y: y, Z: z}) }
	parts := append(frame(), box("tip", Steel, mm(30, 30, 4), mm(0, 0, -7)), box("rim", Steel, mm(20, 20, 1), mm(0, 0, -4.5)))
	p := Order(parts, "")
	sound(t, parts, p)
	i := slices.IndexFunc(p.Steps, func(s Step) bool { return slices.Contains(s.Moves, "rim") })
	if fmt.Sprint(p.Steps[i].Moves) != "[tip rim]" || p.Steps[i].Title != `Lower "tip" and "rim" onto the magnet` {
		t.Errorf("%q moves %v", p.Steps[i].Title, p.Steps[i].Moves)
	}
	other := Plan{Layout: "legs first", Steps: p.LegsFirst}
	sound(t, parts, other)
	if len(other.Steps) != len(p.Steps)-2 || fmt.Sprint(other.Steps[0].Moves) != "[bottom back left leg right leg]" {
		t.Errorf("legs first: %+v", other.Steps)
	}
	for _, s := range other.Steps {
		if lower := slices.Contains(s.Moves, "lower") || slices.Contains(s.Moves, "tip"); (lower || s.Title == CloseHalves) != slices.Contains(s.Among, "right leg") {
			t.Errorf("legs first: %q among %v", s.Title, s.Among)
		}
	}
	across := append(frame(), box("near leg", Steel, mm(12, 80, 58), mm(-36, 0, 0)), box("far leg", Steel, mm(12, 80, 58), mm(36, 0, 0)))
	if p := Order(across, ""); p.LegsFirst != nil {
		t.Errorf("legs all round leave no way for a magnet, but %+v", p.LegsFirst)
	}
}

// Any parts at all give a sound plan, the same each time.
func TestAnyParts(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var parts []Part
		for i := range rapid.IntRange(1, 9).Draw(t, "parts") {
			v := func(least, most int) r3.Vec {
				g := rapid.IntRange(least, most)
				return r3.Scale(1e-2, r3.Vec{X: float64(g.Draw(t, "x")), Y: float64(g.Draw(t, "y")), Z: float64(g.Draw(t, "z"))})
			}
			q := box(fmt.Sprint("part ", i), rapid.SampledFrom([]Kind{Magnet, Magnet, Steel, Spacer, Wound}).Draw(t, "kind"), v(1, 5), v(-5, 5))
			q.Hollow = rapid.Bool().Draw(t, "hollow")
			if q.Kind == Magnet {
				q.Direction = rapid.SampledFrom([]r3.Vec{{X: 1}, {Z: 1}, {Z: -1}, {Y: 1}}).Draw(t, "direction")
			}
			parts = append(parts, q)
		}
		p := Order(parts, "")
		sound(t, parts, p)
		if !reflect.DeepEqual(p, Order(parts, "")) {
			t.Error("another plan the second time")
		}
	})
}

// A ring goes in one piece at a time along its axis. The second piece is the one that the first draws in most or holds off least.
func TestRing(t *testing.T) {
	var parts []Part
	for i, at := range []r3.Vec{{Z: 1}, {Y: -1}, {Z: -1}, {Y: 1}} {
		q := box(fmt.Sprint("piece ", i+1), Magnet, r3.Vec{X: 0.05, Y: 0.015, Z: 0.015}, r3.Scale(0.035, at))
		q.Direction = r3.Vec{Z: 2*at.Z*at.Z - 1} // 2 theta - 90 deg
		parts = append(parts, q)
	}
	parts[1].Direction, parts[3].Direction = r3.Vec{Y: 1e-3, Z: -1}, r3.Vec{Y: 1e-3, Z: -1}
	parts[0].Direction = r3.Unit(r3.Vec{Y: 0.1, Z: 1})
	parts[1].Direction = r3.Unit(r3.Vec{Y: 0.1, Z: -1})
	p := Order(parts, "")
	sound(t, parts, p)
	if p.Layout != Ring || len(p.Steps) != 4 {
		t.Fatalf("%s, %d steps", p.Layout, len(p.Steps))
	}
	// Across the bore the two along +z stand head to tail: E = -2, neighbours beside each other, antiparallel, draw too: -1/(√2)³ and no more.
	if !strings.Contains(p.Steps[1].Title, "piece") || p.Steps[1].Toward != (r3.Vec{X: -1}) {
		t.Errorf("%+v", p.Steps[1])
	}
	for _, s := range p.Steps {
		if len(s.Hold) == 0 || !strings.Contains(s.Hold[0], "lidded") {
			t.Errorf("%q is not captured", s.Title)
		}
	}
}

// Two dipoles of unit volume a unit apart: head to tail -2, side by side +1, antiparallel side by side -1 (any textbook).
func TestRepulsion(t *testing.T) {
	a := Part{Kind: Magnet, VolumeM3: 1, Direction: r3.Vec{Z: 1}}
	for _, c := range []struct {
		at, direction r3.Vec
		want          float64
	}{{r3.Vec{Z: 1}, r3.Vec{Z: 1}, -2}, {r3.Vec{X: 1}, r3.Vec{Z: 1}, 1}, {r3.Vec{X: 1}, r3.Vec{Z: -1}, -1}, {r3.Vec{X: 2}, r3.Vec{Z: 1}, 1. / 8}, {r3.Vec{X: 1}, r3.Vec{X: 1}, 0}} {
		b := Part{Kind: Magnet, VolumeM3: 1, Direction: c.direction, Min: c.at, Max: c.at}
		if got := repulsion(&b, []*Part{&a}); got != c.want {
			t.Errorf("at %v along %v: %g, want %g", c.at, c.direction, got, c.want)
		}
	}
}
