package draw

import (
	"bytes"
	"flag"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"
	"pgregory.net/rapid"

	"polewright/design"
	"polewright/shape"
)

var update = flag.Bool("update", false, "write the pages of testdata anew")

func anySolid() *rapid.Generator[shape.Solid] {
	return rapid.Custom(func(t *rapid.T) shape.Solid {
		length := func(name string) float64 { return rapid.Float64Range(2e-3, 0.2).Draw(t, name) }
		share := func(name string) float64 { return rapid.Float64Range(0.1, 0.9).Draw(t, name) }
		d := length("diameter")
		switch rapid.IntRange(0, 6).Draw(t, "shape") {
		case 0:
			return shape.Block{Size: r3.Vec{X: d, Y: length("y"), Z: length("z")}}
		case 1:
			return shape.Disc{Diameter: d, Thickness: length("thickness")}
		case 2:
			return shape.Ring{OuterDiameter: d, InnerDiameter: d * share("inner"), Thickness: length("thickness")}
		case 3:
			from := rapid.Float64Range(-7, 7).Draw(t, "from")
			return shape.Wedge{OuterDiameter: d, InnerDiameter: d * share("inner"), Thickness: length("thickness"), From: from, To: from + rapid.Float64Range(0.1, 6.2).Draw(t, "span")}
		case 4:
			return shape.Frustum{BottomDiameter: d, TopDiameter: length("top"), Height: length("height")}
		case 5:
			x, y := length("core x"), length("core y")
			return shape.Racetrack{CoreX: x, CoreY: y, CornerRadius: rapid.SampledFrom([]float64{0, 0.3, 1}).Draw(t, "radius") * math.Min(x, y) / 2, Build: length("build"), Width: length("width")}
		default:
			x, y := length("inner x"), length("inner y")
			w := Window{Inner: [2]float64{x, y}, Outer: [2]float64{x + length("x build"), y + length("y build")}, Height: length("height")}
			w.InnerRadius = share("inner radius") * math.Min(x, y) / 2
			w.OuterRadius = math.Min(w.InnerRadius, share("outer radius")*math.Min(w.Outer[0], w.Outer[1])/2)
			return w
		}
	})
}

func anyPlacement() *rapid.Generator[shape.Placement] {
	return rapid.Custom(func(t *rapid.T) shape.Placement {
		c := func(name string) float64 { return rapid.Float64Range(-0.3, 0.3).Draw(t, name) }
		angle := rapid.OneOf(rapid.SampledFrom([]float64{0, math.Pi / 2, math.Pi}), rapid.Float64Range(-3, 3))
		return shape.Placement{Center: r3.Vec{X: c("cx"), Y: c("cy"), Z: c("cz")}, Rot: shape.Euler(angle.Draw(t, "x"), angle.Draw(t, "y"), angle.Draw(t, "z"))}
	})
}

var worldViews = []view{{yAxis, zAxis, xAxis}, {xAxis, zAxis, minus(yAxis)}, {yAxis, minus(xAxis), zAxis}}

// What is seen of a body, from whichever side and however it stands, reaches as far as the body's own box, which package shape checks against
// points of the surface; and all of its outline is seen: what limits the picture is never hidden by the body itself.
func TestPictureReachesTheBounds(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := anySolid().Draw(t, "solid")
		b, ok := newBody(s, anyPlacement().Draw(t, "place"))
		if !ok {
			t.Fatal("no body")
		}
		for i, w := range worldViews {
			got := noBox()
			for _, k := range w.look([]body{b}, whole).visible {
				grow(&got, k.at(0), k.at(0.25), k.at(0.5), k.at(0.75), k.at(1))
				for q := range 16 { // the ends of an arc's axes
					if a := float64(q-8) * math.Pi / 2; k.round && a > k.from && a < k.from+k.sweep {
						grow(&got, polar(k.c, k.r, a))
					}
				}
			}
			want, _ := w.boxOf(b.box)
			// Arcs seen askew end exactly where they reach farthest; 1e-7 m is a tenth of a micrometre.
			if d := r2.Norm(r2.Sub(got.Min, want.Min)) + r2.Norm(r2.Sub(got.Max, want.Max)); d > 1e-7 {
				t.Fatalf("view %d of %v: seen %v, box %v", i, s, got, want)
			}
		}
	})
}

// A block before another hides it; from behind it is the other way round; a frame before it leaves its window free.
func TestHidden(t *testing.T) {
	at := func(s shape.Solid, x float64) body {
		b, _ := newBody(s, shape.Placement{Center: r3.Vec{X: x}, Rot: shape.AxisTo(0)})
		return b
	}
	small, large := shape.Block{Size: r3.Vec{X: 0.01, Y: 0.01, Z: 0.01}}, shape.Block{Size: r3.Vec{X: 0.03, Y: 0.03, Z: 0.01}}
	length := func(list []*stroke) (sum float64) {
		for _, k := range list {
			if k.round {
				sum += k.r * math.Abs(k.sweep)
			} else {
				sum += r2.Norm(r2.Sub(k.b, k.a))
			}
		}
		return sum
	}
	for _, c := range []struct {
		name            string
		first, second   shape.Solid
		visible, hidden float64 // lengths by hand, m
	}{
		{"large before small", large, small, 0.12, 0.04},
		{"small before large", small, large, 0.16, 0},
		{"ring before small", shape.Ring{OuterDiameter: 0.05, InnerDiameter: 0.03, Thickness: 0.01}, small, math.Pi*0.08 + 0.04, 0},
		// Half of the inner square's edges lie within the bore of 10 mm: on each, 2 sqrt(5^2-4^2) = 6 of 8 mm.
		{"ring over its corners", shape.Ring{OuterDiameter: 0.05, InnerDiameter: 0.01, Thickness: 0.01}, shape.Block{Size: r3.Vec{X: 0.008, Y: 0.008, Z: 0.01}}, math.Pi*0.06 + 0.024, 0.008},
		{"equal blocks", small, small, 0.04, 0},
		// A cone of 45 degrees, seen along its axis, covers what its foot covers.
		{"cone before small", shape.Frustum{BottomDiameter: 0.03, TopDiameter: 0.01, Height: 0.01}, small, math.Pi * 0.04, 0.04},
	} {
		got := view{yAxis, zAxis, xAxis}.look([]body{at(c.second, -0.05), at(c.first, 0.05)}, whole)
		if math.Abs(length(got.visible)-c.visible) > 1e-9 || math.Abs(length(got.hidden)-c.hidden) > 1e-9 {
			t.Errorf("%s: %g m visible, want %g; %g hidden, want %g", c.name, length(got.visible), c.visible, length(got.hidden), c.hidden)
		}
	}
	// Two discs of radius 10, their centres 12 apart: the one before hides the arc of twice acos(6/10) of the other.
	disc := func(x, y float64) body {
		b, _ := newBody(shape.Disc{Diameter: 0.02, Thickness: 0.005}, shape.Placement{Center: r3.Vec{X: x, Y: y}, Rot: shape.AxisTo(0)})
		return b
	}
	two := view{yAxis, zAxis, xAxis}.look([]body{disc(-0.05, 0), disc(0.05, 0.012)}, whole)
	if h := 0.02 * math.Acos(0.6); math.Abs(length(two.hidden)-h) > 1e-9 || math.Abs(length(two.visible)-(0.04*math.Pi-h)) > 1e-9 {
		t.Errorf("discs that overlap: %g m hidden, want %g; %g visible", length(two.hidden), h, length(two.visible))
	}
	// Cut off, the block before is gone.
	got := view{yAxis, zAxis, xAxis}.look([]body{at(small, -0.05), at(large, 0.05)}, 0)
	if math.Abs(length(got.visible)-0.04) > 1e-9 || len(got.hidden) > 0 {
		t.Errorf("after the cut: %g m visible, %d hidden", length(got.visible), len(got.hidden))
	}
}

// The place where a line leaves a body last is where samples along it stop lying in it.
func TestLastWayOut(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b, ok := newBody(anySolid().Draw(t, "solid"), anyPlacement().Draw(t, "place"))
		if !ok {
			t.Fatal("no body")
		}
		middle, size := r3.Scale(0.5, r3.Add(b.box.Min, b.box.Max)), r3.Norm(r3.Sub(b.box.Max, b.box.Min))
		f := func(name string) float64 { return rapid.Float64Range(-1, 1).Draw(t, name) }
		p := r3.Add(middle, r3.Scale(size/3, r3.Vec{X: f("x"), Y: f("y"), Z: f("z")}))
		toward := r3.Unit(r3.Add(r3.Vec{X: 1e-3}, r3.Vec{X: f("dx"), Y: f("dy"), Z: f("dz")}))
		const n = 4000
		last := math.Inf(-1)
		for i := range n + 1 {
			if x := size * (2*float64(i)/n - 1); b.solid.Contains(b.place.ToLocal(r3.Add(p, r3.Scale(x, toward))), -skin) {
				last = x
			}
		}
		got, ok := b.last(p, toward, -size, size)
		// A corner cut by less than the step may be missed by the samples, not by the line.
		if !math.IsInf(last, -1) && (!ok || got < last-1e-9) {
			t.Fatalf("leaves at %g (%v), is inside at %g", got, ok, last)
		}
		if step := 2 * size / n; ok && got > last+step {
			if in := b.place.ToLocal(r3.Add(p, r3.Scale(got-step/10, toward))); !b.solid.Contains(in, step) || !b.solid.Contains(b.place.ToLocal(r3.Add(p, r3.Scale(got, toward))), 1e-9) {
				t.Fatalf("leaves at %g, but is not there", got)
			}
		}
	})
}

// Where the side of a frustum turns away from the eye, its normal, square to the straight line down its side and to the circle round it, is square to
// the eye too.
func TestSideOfACone(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		f := shape.Frustum{BottomDiameter: rapid.Float64Range(0.01, 0.1).Draw(t, "bottom"), TopDiameter: rapid.Float64Range(0.01, 0.1).Draw(t, "top"), Height: rapid.Float64Range(0.01, 0.1).Draw(t, "height")}
		b, _ := newBody(f, shape.Placement{Rot: shape.Identity()})
		e := shape.Euler(rapid.Float64Range(0.5, 2.5).Draw(t, "tilt"), 0, rapid.Float64Range(-3, 3).Draw(t, "turn"))
		w := view{e.Apply(xAxis), e.Apply(yAxis), e.Apply(zAxis)}
		for _, c := range b.edges(w) {
			if c.arc {
				continue
			}
			round := r3.Vec{X: -c.a.Y, Y: c.a.X}
			if n := r3.Unit(r3.Cross(round, r3.Sub(c.b, c.a))); math.Abs(r3.Dot(n, w.toward)) > 1e-9 {
				t.Fatalf("%v: the normal at %v looks at the eye by %g", f, c.a, r3.Dot(n, w.toward))
			}
		}
	})
}

// A cut through a body has the area of its hatching times the spacing, by the rule of Cavalieri to the order of the spacing.
func TestSectionArea(t *testing.T) {
	w := view{yAxis, zAxis, xAxis}
	for _, c := range []struct {
		s     shape.Solid
		depth float64
		want  float64
	}{
		{shape.Block{Size: r3.Vec{X: 0.01, Y: 0.04, Z: 0.02}}, 0, 0.04 * 0.02},
		{shape.Ring{OuterDiameter: 0.06, InnerDiameter: 0.02, Thickness: 0.03}, 0, 0.04 * 0.03},
		{shape.Frustum{BottomDiameter: 0.06, TopDiameter: 0.02, Height: 0.03}, 0, 0.04 * 0.03},
		{shape.Disc{Diameter: 0.05, Thickness: 0.01}, 0, 0.05 * 0.01},
		{shape.Disc{Diameter: 0.05, Thickness: 0.01}, 0.02, 0.03 * 0.01}, // 15-20-25
	} {
		b, _ := newBody(c.s, shape.Placement{Rot: shape.Identity()})
		outline := w.cut(b, c.depth)
		for _, up := range []bool{true, false} {
			const spacing = 2e-5
			area := 0.0
			for _, l := range w.hatch(outline, spacing, up) {
				area += spacing * r2.Norm(r2.Sub(l[1], l[0]))
			}
			if math.Abs(area/c.want-1) > 2e-3 { // the spacing over the width, and the facets' chord
				t.Errorf("%v: %g m2 hatched, want %g", c.s, area, c.want)
			}
		}
	}
}

// Widths of letters are those of the common sans-serif face (Helvetica's metrics, thousandths of the size, from memory) or a little more, so that words
// take no more room than they are given.
func TestLetterWidths(t *testing.T) {
	for r, want := range map[rune]float64{'i': 222, 'l': 222, ' ': 278, '.': 278, 't': 278, 'I': 278, '-': 333, 'r': 333, '0': 556, '8': 556, 'a': 556, 'e': 556, 'n': 556, 'c': 500,
		's': 500, 'A': 667, 'B': 667, 'N': 722, 'm': 833, 'M': 833, 'w': 722, 'W': 944} {
		if got := 1000 * letterWidth(r); got < want || got > want+90 {
			t.Errorf("%c is %g wide, want %g", r, got, want)
		}
	}
	if got := textWidth("0000", capital); math.Abs(got/(4*0.556)-1) > 0.04 {
		t.Errorf("four figures take %g", got)
	}
}

// readDXF reads the entities of a drawing: pairs of a code and a value, a line each.
func readDXF(t interface{ Fatalf(string, ...any) }, data []byte) (entities []map[int][]string) {
	lines := strings.Split(strings.ReplaceAll(string(data), "\r\n", "\n"), "\n")
	section, open := "", false
	for i := 0; i+1 < len(lines); i += 2 {
		code, err := strconv.Atoi(strings.TrimSpace(lines[i]))
		if err != nil {
			t.Fatalf("line %d: %q is no group code", i+1, lines[i])
		}
		value := lines[i+1]
		switch {
		case code == 0 && value == "SECTION":
			section = strings.TrimSpace(lines[i+3])
			open = true
		case code == 0 && value == "ENDSEC":
			section, open = "", false
		case code == 0 && section == "ENTITIES":
			entities = append(entities, map[int][]string{0: {value}})
		case section == "ENTITIES" && len(entities) > 0:
			e := entities[len(entities)-1]
			e[code] = append(e[code], value)
		}
	}
	if open || !bytes.HasSuffix(data, []byte("EOF\r\n")) {
		t.Fatalf("the file ends too early")
	}
	return entities
}

func number(t interface{ Fatalf(string, ...any) }, s string) float64 {
	x, err := strconv.ParseFloat(s, 64)
	if err != nil {
		t.Fatalf("%v", err)
	}
	return x
}

// The outline on the layer PROFILE of any part's DXF, read back, is the part's at its true size in millimetres, whatever the sheet's scale.
func TestProfileIsTrueSize(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := anySolid().Draw(t, "solid")
		sheet, err := PartSheet("any", Items([]Part{{Name: "p", Kind: "spacer", Solid: s, Place: anyPlacement().Draw(t, "place")}})[0], Options{})
		if err != nil {
			t.Fatal(err)
		}
		var b bytes.Buffer
		if err := sheet.WriteDXF(&b); err != nil {
			t.Fatal(err)
		}
		got := noBox()
		for _, e := range readDXF(t, b.Bytes()) {
			if e[8][0] != "PROFILE" {
				continue
			}
			p := func(c int) r2.Vec { return v(number(t, e[c][0]), number(t, e[c+10][0])) }
			switch e[0][0] {
			case "LINE":
				grow(&got, p(10), p(11))
			case "CIRCLE":
				r := number(t, e[40][0])
				grow(&got, r2.Sub(p(10), v(r, r)), r2.Add(p(10), v(r, r)))
			case "ARC":
				r, from, to := number(t, e[40][0]), number(t, e[50][0]), number(t, e[51][0])
				if to < from {
					to += 360
				}
				grow(&got, polar(p(10), r, from*math.Pi/180), polar(p(10), r, to*math.Pi/180))
				for q := range 9 {
					if a := float64(q) * 90; a > from && a < to {
						grow(&got, polar(p(10), r, a*math.Pi/180))
					}
				}
			}
		}
		drawn, _ := standing(Part{Solid: s, Place: shape.Placement{Rot: shape.Identity()}})
		want := Part{Solid: drawn, Place: shape.Placement{Rot: shape.Identity()}}.Bounds()
		for _, d := range []float64{got.Max.X - got.Min.X - 1e3*(want.Max.X-want.Min.X), got.Max.Y - got.Min.Y - 1e3*(want.Max.Y-want.Min.Y)} {
			if math.Abs(d) > 1e-5 { // mm: coordinates are written to a nanometre, angles to a millionth of a degree
				t.Fatalf("%v: profile %v mm, body %v m", s, got, want)
			}
		}
	})
}

// The dimensions on a drawing, read back from the DXF, are the sizes of the part.
func TestDimensionsSayTheSizes(t *testing.T) {
	for _, c := range []struct {
		s    shape.Solid
		want []string
	}{
		{shape.Block{Size: r3.Vec{X: 0.012, Y: 0.06, Z: 0.0585}}, []string{"60", "58.5", "12"}},
		{shape.Disc{Diameter: 0.05, Thickness: 0.0127}, []string{"%%c50", "12.7"}},
		{shape.Ring{OuterDiameter: 0.05, InnerDiameter: 0.02, Thickness: 0.01}, []string{"%%c50", "%%c20", "10"}},
		{shape.Wedge{OuterDiameter: 0.08, InnerDiameter: 0.04, Thickness: 0.02, From: 1, To: 1 + math.Pi/6}, []string{"R40", "R20", "30%%d", "20"}},
		{shape.Frustum{BottomDiameter: 0.06, TopDiameter: 0.04, Height: 0.015}, []string{"%%c60", "%%c40", "15"}},
		{shape.Racetrack{CoreX: 0.056, CoreY: 0.058, CornerRadius: 0.002, Build: 0.012, Width: 0.06}, []string{"56", "80", "58", "82", "R2", "R14", "60"}},
		{Window{Outer: [2]float64{0.12, 0.1}, Inner: [2]float64{0.09, 0.08}, OuterRadius: 0.015, InnerRadius: 0.005, Height: 0.04}, []string{"120", "100", "90", "80", "R15", "R5", "40"}},
	} {
		sheet, err := PartSheet("any", Items([]Part{{Name: "p", Kind: "steel", Solid: c.s, Place: shape.Placement{Rot: shape.Identity()}}})[0], Options{Projection: ThirdAngle})
		if err != nil {
			t.Fatal(err)
		}
		var b bytes.Buffer
		if err := sheet.WriteDXF(&b); err != nil {
			t.Fatal(err)
		}
		var got []string
		for _, e := range readDXF(t, b.Bytes()) {
			if e[0][0] == "TEXT" && e[8][0] == "DIMENSION" && !strings.HasPrefix(e[1][0], "to check") {
				got = append(got, e[1][0])
			}
		}
		slices.Sort(got)
		slices.Sort(c.want)
		if !slices.Equal(got, c.want) {
			t.Errorf("%v: dimensions %q, want %q", c.s, got, c.want)
		}
	}
}

func templates(t testing.TB) map[string][]Part {
	all := map[string][]Part{}
	for _, kind := range design.Layouts() {
		text, err := design.Template(kind)
		if err != nil {
			t.Fatal(err)
		}
		d, err := design.Read(strings.NewReader(text), kind)
		if err != nil {
			t.Fatal(err)
		}
		all[kind] = Parts(d)
	}
	all["odd"] = odd()
	return all
}

// odd are parts that stand askew, nest and repeat.
func odd() (parts []Part) {
	put := func(name, kind string, s shape.Solid, c r3.Vec, r shape.Rotation) {
		parts = append(parts, Part{Name: name, Kind: kind, Material: "brass", MassKg: 8500 * s.Volume(), Solid: s, Place: shape.Placement{Center: c, Rot: r}})
	}
	put("wall", "steel", shape.Ring{OuterDiameter: 0.08, InnerDiameter: 0.06, Thickness: 0.05}, r3.Vec{}, shape.Identity())
	put("base", "steel", shape.Disc{Diameter: 0.08, Thickness: 0.012}, r3.Vec{Z: -0.031}, shape.Identity())
	put("lid", "steel", shape.Ring{OuterDiameter: 0.08, InnerDiameter: 0.02, Thickness: 0.01}, r3.Vec{Z: 0.03}, shape.Identity())
	put("tip", "steel", shape.Frustum{BottomDiameter: 0.05, TopDiameter: 0.02, Height: 0.02}, r3.Vec{Z: -0.015}, shape.Identity())
	put("askew", "spacer", shape.Block{Size: r3.Vec{X: 0.03, Y: 0.02, Z: 0.01}}, r3.Vec{X: 0.09}, shape.Euler(0.5, 0.4, 0.3))
	for i := range 8 {
		a := float64(i) * math.Pi / 4
		put(fmt.Sprintf("sector %d", i+1), "magnet", shape.Wedge{OuterDiameter: 0.12, InnerDiameter: 0.09, Thickness: 0.02, From: a, To: a + math.Pi/4}, r3.Vec{}, shape.Identity())
		parts[len(parts)-1].Direction = shape.Euler(0, 0, 2*a).Apply(xAxis)
	}
	return parts
}

// No two texts of a sheet overlap, none leaves the border, and all lines stay within it, for every layout and both projections.
func TestSheetsAreTidy(t *testing.T) {
	check := func(name string, s *Sheet) {
		t.Helper()
		if b := s.Box(); b.Min.X < margin || b.Min.Y < margin || b.Max.X > s.Width-margin+1e-9 || b.Max.Y > s.Height-margin+1e-9 {
			t.Errorf("%s: %v is cut off", name, b)
		}
		if len(s.Labels) < 10 || len(s.Lines) < 10 {
			t.Errorf("%s: %d texts, %d lines", name, len(s.Labels), len(s.Lines))
		}
		for i, l := range s.Labels {
			a := l.box()
			for _, m := range s.Labels[:i] {
				b := m.box()
				if a.Min.X < b.Max.X && b.Min.X < a.Max.X && a.Min.Y < b.Max.Y && b.Min.Y < a.Max.Y {
					t.Errorf("%s: %q lies over %q", name, l.Text, m.Text)
				}
			}
		}
	}
	for name, parts := range templates(t) {
		for _, p := range []Projection{FirstAngle, ThirdAngle} {
			s, err := Arrangement("A title that is somewhat long, but not very long indeed", parts, Options{Projection: p, Date: "2020-01-01"})
			if err != nil {
				t.Fatal(err)
			}
			check(name+", "+p.String(), s)
			for _, it := range Items(parts) {
				s, err := PartSheet("A title", it, Options{Projection: p})
				if err != nil {
					t.Fatal(err)
				}
				check(name+", "+it.Name+", "+p.String(), s)
			}
		}
	}
}

// The pages of one small part, SVG and DXF, as they were looked at. Write them anew with -update, and look again.
func TestPages(t *testing.T) {
	parts := []Part{{Name: "washer", Kind: "spacer", Material: "brass", MassKg: 0.012, Solid: shape.Ring{OuterDiameter: 0.02, InnerDiameter: 0.01, Thickness: 0.005}, Place: shape.Placement{Rot: shape.Identity()}}}
	s, err := PartSheet("Small things", Items(parts)[0], Options{Date: "2020-01-01"})
	if err != nil {
		t.Fatal(err)
	}
	for name, write := range map[string]func(*bytes.Buffer) error{"washer.svg": func(b *bytes.Buffer) error { return s.WriteSVG(b) }, "washer.dxf": func(b *bytes.Buffer) error { return s.WriteDXF(b) }} {
		var got bytes.Buffer
		if err := write(&got); err != nil {
			t.Fatal(err)
		}
		path := filepath.Join("testdata", name)
		if *update {
			if err := os.WriteFile(path, got.Bytes(), 0o666); err != nil {
				t.Fatal(err)
			}
		}
		want, err := os.ReadFile(path)
		if err != nil {
			t.Fatal(err)
		}
		if !bytes.Equal(got.Bytes(), want) {
			t.Errorf("%s has changed: look at it, then write it anew with -update", name)
		}
	}
}

// Parts are alike when one can be turned into the other, the direction of a magnet with it, and not when only mirrored.
func TestItems(t *testing.T) {
	block := shape.Block{Size: r3.Vec{X: 0.03, Y: 0.02, Z: 0.01}}
	magnet := func(d r3.Vec, r shape.Rotation) Part {
		return Part{Name: "m", Kind: "magnet", Material: "N42", Solid: block, Direction: r3.Unit(r.Apply(d)), Place: shape.Placement{Rot: r}}
	}
	id := shape.Identity()
	for _, c := range []struct {
		name  string
		a, b  Part
		alike bool
	}{
		{"turned over", magnet(zAxis, id), magnet(minus(zAxis), id), true},
		{"turned anyhow", magnet(zAxis, id), magnet(zAxis, shape.Euler(1, 2, 3)), true},
		{"along another edge", magnet(zAxis, id), magnet(xAxis, id), false},
		{"aslant in a plane", magnet(r3.Vec{X: 1, Y: 1}, id), magnet(r3.Vec{X: -1, Y: 1}, id), true},
		{"aslant, two signs", magnet(r3.Vec{X: 1, Y: 1, Z: 1}, id), magnet(r3.Vec{X: -1, Y: -1, Z: 1}, id), true},
		{"mirrored", magnet(r3.Vec{X: 1, Y: 1, Z: 1}, id), magnet(r3.Vec{X: -1, Y: 1, Z: 1}, id), false},
		{"edges exchanged", Part{Kind: "steel", Solid: block, Place: shape.Placement{Rot: id}},
			Part{Kind: "steel", Solid: shape.Block{Size: r3.Vec{X: 0.01, Y: 0.03, Z: 0.02}}, Place: shape.Placement{Rot: id}}, true},
		{"another material", Part{Kind: "steel", Material: "a", Solid: block, Place: shape.Placement{Rot: id}}, Part{Kind: "steel", Material: "b", Solid: block, Place: shape.Placement{Rot: id}}, false},
		{"a tenth of a millimetre", Part{Kind: "steel", Solid: block, Place: shape.Placement{Rot: id}},
			Part{Kind: "steel", Solid: shape.Block{Size: r3.Vec{X: 0.0301, Y: 0.02, Z: 0.01}}, Place: shape.Placement{Rot: id}}, false},
	} {
		if got := len(Items([]Part{c.a, c.b})) == 1; got != c.alike {
			t.Errorf("%s: alike %v, want %v", c.name, got, c.alike)
		}
	}
	// Of a ring of eight sectors whose magnetization turns twice as fast as they do, sector n stands at 45 n - 22.5 degrees to its own middle
	// line; turned over, plus is minus: four kinds. The other five parts are all different.
	if n := len(Items(odd())); n != 4+5 {
		t.Errorf("%d kinds, want 9", n)
	}
	for n, want := range map[int]string{0: "A", 25: "Z", 26: "AA", 51: "AZ", 52: "BA", 701: "ZZ", 702: "AAA"} {
		if got := letter(n); got != want {
			t.Errorf("letter %d is %s, want %s", n, got, want)
		}
	}
}

// What the volume and the facets of a coil's window say agrees.
func TestWindow(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s, ok := anySolid().Filter(func(s shape.Solid) bool { _, ok := s.(Window); return ok }).Draw(t, "window").(Window)
		if !ok {
			t.Fatal("no window")
		}
		surface, err := Part{Solid: s}.Surface()
		if err != nil {
			t.Fatal(err)
		}
		enclosed := 0.0 // by the divergence theorem
		for _, f := range surface {
			enclosed += r3.Dot(f[0], r3.Cross(f[1], f[2])) / 6
		}
		if math.Abs(s.Volume()-enclosed) > Chord*s.SurfaceArea() {
			t.Fatalf("%v: volume %g, facets %g", s, s.Volume(), enclosed)
		}
		for _, f := range surface {
			for _, p := range f {
				if !s.Contains(p, 1e-9) || s.Contains(p, -1e-8) {
					t.Fatalf("%v: %v is not on its surface", s, p)
				}
			}
		}
	})
}

// A ring as long as its diameter has both on its arrangement: 80 mm of each.
func TestLengthLikeADiameter(t *testing.T) {
	text, err := design.Template("halbach-wedges")
	if err != nil {
		t.Fatal(err)
	}
	d, err := design.Read(strings.NewReader(text), "")
	if err != nil {
		t.Fatal(err)
	}
	sheet, err := Arrangement("ring", Parts(d), Options{})
	if err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{"80", "⌀80", "⌀30"} {
		if !slices.ContainsFunc(sheet.Labels, func(l Label) bool { return l.Text == want }) {
			t.Errorf("the arrangement does not say %q", want)
		}
	}
}

func TestUndrawable(t *testing.T) {
	if _, err := Arrangement("", nil, Options{}); err == nil {
		t.Error("no parts were drawn")
	}
	if _, err := Arrangement("", make([]Part, MostParts+1), Options{}); err == nil || !strings.Contains(err.Error(), "201") {
		t.Errorf("too many: %v", err)
	}
	for _, s := range []shape.Solid{shape.Block{}, shape.Disc{Diameter: math.NaN(), Thickness: 1}, Window{}} {
		p := Part{Name: "nothing", Solid: s, Place: shape.Placement{Rot: shape.Identity()}}
		if _, err := Arrangement("", []Part{p}, Options{}); err == nil {
			t.Errorf("%v was drawn", s)
		}
		if _, err := PartSheet("", Item{Part: p}, Options{}); err == nil {
			t.Errorf("%v was drawn", s)
		}
	}
	for _, name := range []string{"second", ""} {
		if _, err := ProjectionNamed(name); err == nil || !strings.Contains(err.Error(), "third") {
			t.Errorf("projection %q: %v", name, err)
		}
	}
}

func ExampleItems() {
	steel := func(name string, x, y, z float64) Part {
		return Part{Name: name, Kind: "steel", Material: "steel-1018", Solid: shape.Block{Size: r3.Vec{X: x, Y: y, Z: z}}, Place: shape.Placement{Rot: shape.Identity()}}
	}
	for _, it := range Items([]Part{steel("left leg", 0.06, 0.012, 0.058), steel("back", 0.06, 0.08, 0.02), steel("right leg", 0.06, 0.012, 0.058)}) {
		fmt.Println(it.Letter, strings.Join(it.Names, ", "), it.Number(), Size(it.Solid))
	}
	// Output:
	// A left leg, right leg 2 60 x 58 x 12
	// B back 1 80 x 60 x 20
}

func BenchmarkArrangementOfMany(b *testing.B) {
	var parts []Part
	for i := range MostParts {
		x := float64(i)
		parts = append(parts, Part{Name: "b", Kind: "steel", Solid: shape.Block{Size: r3.Vec{X: 0.01 + 1e-5*x, Y: 0.01, Z: 0.01}}, Place: shape.Placement{Center: r3.Vec{X: 0.02 * float64(i%6), Y: 0.02 * float64(i/6%6), Z: 0.02 * float64(i/36)}, Rot: shape.Euler(0.1*x, 0, 0)}})
	}
	for b.Loop() {
		if _, err := Arrangement("many", parts, Options{}); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkArrangement(b *testing.B) {
	parts := odd()
	for b.Loop() {
		if _, err := Arrangement("odd", parts, Options{}); err != nil {
			b.Fatal(err)
		}
	}
}
