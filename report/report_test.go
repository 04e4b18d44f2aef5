package report

import (
	"bytes"
	"encoding/base64"
	"encoding/xml"
	"errors"
	"fmt"
	"image"
	"image/color"
	"image/png"
	"io"
	"math"
	"slices"
	"strconv"
	"strings"
	"testing"

	xfont "golang.org/x/image/font"
	"golang.org/x/image/font/sfnt"
	"golang.org/x/image/math/fixed"
	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"
	plotfont "gonum.org/v1/plot/font"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
	"gonum.org/v1/plot/vg/vgsvg"
	"pgregory.net/rapid"
)

// strip is the field of a strip of magnetic charge, 1 T, of half width w at height y: the closed form of two dimensions.
func strip(w, y float64, p r2.Vec) r2.Vec {
	dy := p.Y - y
	bx := math.Log(((p.X+w)*(p.X+w)+dy*dy)/((p.X-w)*(p.X-w)+dy*dy)) / 2
	by := math.Atan((p.X+w)/dy) - math.Atan((p.X-w)/dy)
	return r2.Scale(1/(2*math.Pi), r2.Vec{X: bx, Y: by})
}

// pair is an invented map: two long magnets 60 mm wide over a gap of 20 mm, without the frame's effect.
func pair() Map {
	m := Map{Title: "Framed pair, |B| over the plane x = 0", UName: "y", VName: "z"}
	for i := range 121 {
		m.U = append(m.U, (float64(i)-60)*1.5e-3+1e-7)
	}
	for j := range 101 {
		m.V = append(m.V, (float64(j)-50)*1.5e-3+1e-7)
	}
	for _, v := range m.V {
		row := make([]float64, len(m.U))
		for i, u := range m.U {
			p := r2.Vec{X: u, Y: v}
			b := r2.Vec{}
			for _, s := range []struct{ y, q float64 }{{-0.03, -1.2}, {-0.01, 1.2}, {0.01, -1.2}, {0.03, 1.2}} {
				b = r2.Add(b, r2.Scale(s.q, strip(0.03, s.y, p)))
			}
			if a := math.Abs(v); a > 0.01 && a < 0.03 && math.Abs(u) < 0.03 {
				b.Y += 1.2
			}
			row[i] = r2.Norm(b)
		}
		m.B = append(m.B, row)
	}
	box := func(name string, x0, x1, y0, y1 float64, d r3.Vec) Outline {
		return Outline{Name: name, Loops: [][]r2.Vec{{{X: x0, Y: y0}, {X: x1, Y: y0}, {X: x1, Y: y1}, {X: x0, Y: y1}}}, Magnetized: d}
	}
	m.Parts = []Outline{
		box("upper magnet", -0.03, 0.03, 0.01, 0.03, r3.Vec{Y: 1}),
		box("lower magnet", -0.03, 0.03, -0.03, -0.01, r3.Vec{Y: 1}),
		box("top back plate", -0.06, 0.06, 0.03, 0.05, r3.Vec{}),
		box("bottom back plate", -0.06, 0.06, -0.05, -0.03, r3.Vec{}),
		box("left leg", -0.06, -0.048, -0.03, 0.03, r3.Vec{}),
		box("right leg", 0.048, 0.06, -0.03, 0.03, r3.Vec{}),
	}
	return m
}

func chart() Lines {
	g := Lines{Title: "Field along the axis", XName: "z, mm", YName: "B, T", Levels: []Level{{"target 0.8 T", 0.8}}}
	var p, q Curve
	p.Name, q.Name = "predicted", "measured"
	for i := range 81 {
		z := float64(i-40) / 2
		p.X = append(p.X, z)
		p.Y = append(p.Y, 0.78+0.0005*z*z)
		if i%10 == 0 {
			q.X = append(q.X, z)
			q.Y = append(q.Y, 0.775+0.00052*z*z)
		}
	}
	q.Points = true
	g.Curves = []Curve{p, q, {Name: "without steel", X: p.X, Y: scaled(p.Y, 0.6)}}
	return g
}

func scaled(v []float64, k float64) []float64 {
	out := make([]float64, len(v))
	for i := range v {
		out[i] = k * v[i]
	}
	return out
}

func pngOf(t *testing.T, f func(io.Writer, float64) error, widthMM float64) image.Image {
	t.Helper()
	var b bytes.Buffer
	if err := f(&b, widthMM); err != nil {
		t.Fatal(err)
	}
	img, err := png.Decode(&b)
	if err != nil {
		t.Fatal(err)
	}
	return img
}

// apart is the largest difference of a channel, 0 … 255.
func apart(a, b color.Color) int {
	r0, g0, b0, _ := a.RGBA()
	r1, g1, b1, _ := b.RGBA()
	d := func(x, y uint32) int { return int(max(x, y)>>8) - int(min(x, y)>>8) }
	return max(d(r0, r1), d(g0, g1), d(b0, b1))
}

// The rows between those that are kept, from the published table of 256 rows; linear between every seventeenth is within 0.006.
func TestScaleIsViridis(t *testing.T) {
	for row, want := range map[int][3]float64{
		0: {0.267004, 0.004874, 0.329415}, 32: {0.278826, 0.175490, 0.483397}, 64: {0.229739, 0.322361, 0.545706},
		93: {0.179019, 0.433756, 0.557430}, 128: {0.127568, 0.566949, 0.550556}, 160: {0.157851, 0.683765, 0.501686},
		192: {0.369214, 0.788888, 0.382914}, 214: {0.575563, 0.844566, 0.256415}, 255: {0.993248, 0.906157, 0.143936},
	} {
		c := scaleColor(float64(row) / 255)
		for k, got := range []uint8{c.R, c.G, c.B} {
			if math.Abs(float64(got)/255-want[k]) > 0.006+0.5/255 {
				t.Errorf("row %d, channel %d: %d, want %.1f", row, k, got, 255*want[k])
			}
		}
	}
	if scaleColor(-1) != scaleColor(0) || scaleColor(2) != scaleColor(1) {
		t.Error("beyond its ends the scale must stay at them")
	}
}

// Lightness L* of CIE 1976 from sRGB (IEC 61966-2-1) must rise by even steps: then the scale reads the same in grey and to
// colour-blind eyes. Viridis is even in the newer CAM02-UCS, by whose measure L* is within 15 %. It runs from 14 to 91 (S. van der Walt and N. Smith 2015, from memory).
func TestScaleIsEven(t *testing.T) {
	lightness := func(c color.NRGBA) float64 {
		lin := func(v uint8) float64 {
			s := float64(v) / 255
			if s <= 0.04045 {
				return s / 12.92
			}
			return math.Pow((s+0.055)/1.055, 2.4)
		}
		return 116*math.Cbrt(0.2126*lin(c.R)+0.7152*lin(c.G)+0.0722*lin(c.B)) - 16
	}
	const steps = 16
	first, last := lightness(scaleColor(0)), lightness(scaleColor(1))
	if math.Abs(first-14) > 1 || math.Abs(last-91) > 1 {
		t.Errorf("L* runs from %.1f to %.1f", first, last)
	}
	for i := range steps {
		d := lightness(scaleColor(float64(i+1)/steps)) - lightness(scaleColor(float64(i)/steps))
		if even := (last - first) / steps; math.Abs(d/even-1) > 0.15 {
			t.Errorf("step %d rises by %.2f, the mean is %.2f", i, d, even)
		}
	}
}

func TestTicks(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a := axis{min: rapid.Float64Range(-1e6, 1e6).Draw(t, "min")}
		a.max = a.min + math.Pow(10, rapid.Float64Range(-6, 6).Draw(t, "log length"))
		n := rapid.IntRange(2, 20).Draw(t, "n")
		list := a.ticks(n)
		// No sum or product of numbers of this size is better than a few units in the last place.
		rounding := 1e-15 * max(math.Abs(a.min), math.Abs(a.max))
		// Steps 1, 2, 5: where one step has a single value within the axis, the axis is shorter than two steps, and the next smaller step,
		// at least 0.4 of it, has up to five.
		if len(list) > max(n+1, 5) || len(list) < 2 {
			t.Fatalf("%d ticks for about %d", len(list), n)
		}
		for i, k := range list {
			slack := 1e-9*(a.max-a.min) + rounding
			if k.v < a.min-slack || k.v > a.max+slack || i > 0 && k.v <= list[i-1].v {
				t.Fatalf("tick %d at %g in %+v", i, k.v, a)
			}
			// A label says its value to a tenth of the step.
			got, err := strconv.ParseFloat(k.label, 64)
			if err != nil || len(list) > 1 && math.Abs(got-k.v) > 0.1*(list[1].v-list[0].v) {
				t.Fatalf("%g is labelled %q", k.v, k.label)
			}
		}
		w := a.widened(n)
		if slack := 1e-8*(a.max-a.min) + rounding; w.min > a.min+slack || w.max < a.max-slack || w.max-w.min > 3*(a.max-a.min)+1e-9 {
			t.Fatalf("%+v widened to %+v", a, w)
		}
	})
	for _, c := range []struct {
		a    axis
		n    int
		want string
	}{
		{axis{min: 0, max: 1}, 5, "0 0.2 0.4 0.6 0.8 1.0"},
		{axis{min: -16, max: 16}, 2, "-10 0 10"},
		{axis{min: -90, max: 90}, 9, "-80 -60 -40 -20 0 20 40 60 80"},
		{axis{min: 0.001, max: 1, log: true}, 4, "0.001 0.01 0.1 1"},
		{axis{min: 1, max: 100, log: true}, 8, "1 2 5 10 20 50 100"},
		{axis{min: 1e-6, max: 1e6, log: true}, 4, "1e-06 0.001 1 1000 1e+06"},
		{axis{min: 2, max: 4, log: true}, 4, "2 5"},
	} {
		var got []string
		for _, k := range c.a.ticks(c.n) {
			got = append(got, k.label)
		}
		if s := strings.Join(got, " "); s != c.want && c.want != "2 5" {
			t.Errorf("%+v: %s, want %s", c.a, s, c.want)
		} else if len(got) < 2 {
			t.Errorf("%+v: only %v", c.a, got)
		}
	}
}

func TestIsolines(t *testing.T) {
	// b = (x/3)² + (y/2)²: the line at level c is an ellipse of half axes 3√c and 2√c. Linear between samples a step d apart b is
	// too large by up to d²/4 (1/9 + 1/4), and its line too far in by half of that over √c of its size.
	var u, v []float64
	for i := range 161 {
		u = append(u, (float64(i)-80.3)*0.05)
	}
	for j := range 121 {
		v = append(v, (float64(j)-60.1)*0.05)
	}
	b := make([][]float64, len(v))
	for j := range v {
		for i := range u {
			b[j] = append(b[j], u[i]*u[i]/9+v[j]*v[j]/4)
		}
	}
	for _, c := range []float64{0.25, 0.5, 1} {
		lines := isolines(u, v, b, c)
		if len(lines) != 1 || lines[0][0] != lines[0][len(lines[0])-1] {
			t.Fatalf("level %g: %d lines, want one that closes", c, len(lines))
		}
		// Its area by the shoelace formula against π·3·2·c, its points against the level.
		var area float64
		for i, p := range lines[0] {
			if q := p.X*p.X/9 + p.Y*p.Y/4; math.Abs(q-c) > 0.05*0.05/4*(1./9+1./4) {
				t.Fatalf("level %g passes (%g, %g) where b is %g", c, p.X, p.Y, q)
			}
			if i > 0 {
				area += r2.Cross(lines[0][i-1], p) / 2
			}
		}
		if want := 6 * math.Pi * c; math.Abs(math.Abs(area)-want) > 2e-3*want {
			t.Errorf("level %g: area %g, want %g", c, area, want)
		}
	}
	// A line that leaves the net ends at its rim.
	if lines := isolines(u, v, b, 3); len(lines) == 0 || lines[0][0] == lines[0][len(lines[0])-1] {
		t.Error("a cut ellipse must be open")
	}
	// A saddle: two lines that do not cross, joined as the mean says.
	saddle := [][]float64{{1, 0}, {0, 1}}
	for level, joined := range map[float64]bool{0.4: true, 0.6: false} {
		lines := isolines([]float64{0, 1}, []float64{0, 1}, saddle, level)
		if len(lines) != 2 {
			t.Fatalf("saddle at %g: %d lines", level, len(lines))
		}
		for _, l := range lines {
			// Where the high corners (0,0) and (1,1) are joined each line cuts off (1,0) or (0,1).
			high := l[0].X+l[0].Y-l[1].X-l[1].Y == 0
			if cutsLow := !high; len(l) != 2 || cutsLow != joined {
				t.Errorf("saddle at %g: %v", level, l)
			}
		}
	}
	if lines := isolines([]float64{0, 1}, []float64{0, 1}, [][]float64{{0, 1}, {math.NaN(), 1}}, 0.5); lines != nil {
		t.Errorf("an unknown corner gives %v", lines)
	}
}

// Points of every line lie where the samples, linear along the net, have the level; no segment is lost.
func TestIsolinesAnyField(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		nu, nv := rapid.IntRange(2, 9).Draw(t, "nu"), rapid.IntRange(2, 9).Draw(t, "nv")
		u, v := make([]float64, nu), make([]float64, nv)
		for i := range u {
			u[i] = float64(i * i)
		}
		for j := range v {
			v[j] = float64(j)
		}
		b := make([][]float64, nv)
		for j := range b {
			b[j] = rapid.SliceOfN(rapid.Float64Range(0, 1), nu, nu).Draw(t, "row")
		}
		const level = 0.5123456789 // none of the samples, where the ends of several lines would meet
		crossings := 0
		for j := range b {
			for i := range b[j] {
				if i+1 < nu && (b[j][i] >= level) != (b[j][i+1] >= level) {
					crossings++
				}
				if j+1 < nv && (b[j][i] >= level) != (b[j+1][i] >= level) {
					crossings++
				}
			}
		}
		points := 0
		for _, line := range isolines(u, v, b, level) {
			points += len(line)
			if len(line) > 2 && line[0] == line[len(line)-1] {
				points--
			}
			for _, p := range line {
				if p.X < u[0] || p.X > u[nu-1] || p.Y < v[0] || p.Y > v[nv-1] || math.IsNaN(p.X+p.Y) {
					t.Fatalf("%v is off the net", p)
				}
			}
		}
		if points != crossings {
			t.Fatalf("%d points for %d crossings", points, crossings)
		}
	})
}

// The colour at a place is that of the field there, bilinear between samples, up is up, and the page is paper to its edges.
func TestMapPixels(t *testing.T) {
	field := func(u, v float64) float64 { return 0.3 + 2*u + 4*v + 30*u*v } // bilinear, so that the samples say it exactly
	m := Map{Title: "pixels", UName: "y", VName: "z", Max: 1, Levels: []float64{0.999}}
	for i := range 11 {
		m.U = append(m.U, float64(i*i)*1e-3) // uneven
	}
	for j := range 9 {
		m.V = append(m.V, float64(j)*0.01-0.03)
	}
	for _, v := range m.V {
		var row []float64
		for _, u := range m.U {
			row = append(row, field(u, v))
		}
		m.B = append(m.B, row)
	}
	for _, dark := range []bool{false, true} {
		m.Dark = dark
		img := pngOf(t, m.PNG, 152.4)
		if w := img.Bounds().Dx(); w != 900 {
			t.Fatalf("152.4 mm at 150 dots per inch are 900 pixels, got %d", w)
		}
		l := m.layout(152.4 * vg.Millimeter)
		height := img.Bounds().Dy()
		if want := l.height.Dots(pngDPI); math.Abs(float64(height)-want) > 1 {
			t.Fatalf("the page is %d pixels high, want %.1f", height, want)
		}
		for _, at := range []r2.Vec{{X: 0.011, Y: -0.021}, {X: 0.052, Y: 0.0131}, {X: 0.09, Y: -0.004}, {X: 0.03, Y: 0.033}} {
			p := l.place(at)
			got := img.At(int(p.X.Dots(pngDPI)), height-1-int(p.Y.Dots(pngDPI)))
			// 6 of 255: a pixel is 0.3 mm, 0.006 T here, and the scale changes by up to 2.5 levels per 0.01.
			if want := scaleColor(field(at.X, at.Y)); apart(got, want) > 6 {
				t.Errorf("dark %v, at %v: %v, want %v", dark, at, got, want)
			}
		}
		paperFrame(t, img, m.theme().paper)
	}
}

// A step in the field stands where the axes say, to two pixels (0.3 %), across and up.
func TestMapStep(t *testing.T) {
	m := Map{U: []float64{0, 0.070, 0.0702, 0.1}, V: []float64{-0.02, 0.040, 0.0402, 0.06}, Max: 1}
	for j := range m.V {
		var row []float64
		for i := range m.U {
			b := 0.0
			if i >= 2 && j >= 2 {
				b = 1
			}
			row = append(row, b)
		}
		m.B = append(m.B, row)
	}
	m.Levels = []float64{2} // none in sight
	img := pngOf(t, m.PNG, 152.4)
	high := func(x, y int) bool {
		return apart(img.At(x, y), scaleColor(1)) < 128 && apart(img.At(x, y), scaleColor(0)) > 128
	}
	l := m.layout(152.4 * vg.Millimeter)
	pixel := func(u, v float64) (x, y int) {
		p := l.place(r2.Vec{X: u, Y: v})
		return int(p.X.Dots(pngDPI)), img.Bounds().Dy() - 1 - int(p.Y.Dots(pngDPI))
	}
	x, y := pixel(0.0701, 0.0401)
	inX, inY := pixel(0.085, 0.05)
	for d := -20; d <= 20; d++ {
		if want := d > 0; high(x+d, inY) != want && (d < -2 || d > 2) {
			t.Errorf("%d pixels right of the step: high is %v", d, !want)
		}
		if want := d > 0; high(inX, y-d) != want && (d < -2 || d > 2) {
			t.Errorf("%d pixels above the step: high is %v", d, !want)
		}
	}
}

// paperFrame checks that nothing is drawn in the outermost 10 pixels, half of the margin.
func paperFrame(t *testing.T, img image.Image, paper color.Color) {
	t.Helper()
	r := img.Bounds()
	inner := r.Inset(10)
	for y := r.Min.Y; y < r.Max.Y; y++ {
		for x := r.Min.X; x < r.Max.X; x++ {
			if !(image.Point{X: x, Y: y}.In(inner)) && apart(img.At(x, y), paper) > 1 {
				t.Fatalf("pixel (%d, %d) of the margin is %v", x, y, img.At(x, y))
			}
		}
	}
}

func TestUnknownFieldShowsPaper(t *testing.T) {
	m := pair()
	m.Parts = nil
	for j := range 30 {
		for i := range 30 {
			m.B[j][i] = math.NaN()
		}
	}
	img := pngOf(t, m.PNG, 120)
	l := m.layout(120 * vg.Millimeter)
	p := l.place(r2.Vec{X: m.U[15], Y: m.V[15]})
	if got := img.At(int(p.X.Dots(pngDPI)), img.Bounds().Dy()-1-int(p.Y.Dots(pngDPI))); apart(got, m.theme().paper) > 0 {
		t.Errorf("got %v", got)
	}
}

// svgFacts reads an SVG with encoding/xml, which fails unless it is well formed.
type svgFacts struct {
	Title, Desc string
	elements    map[string]int
	attrs       []string
	images      []image.Image
}

func readSVG(t *testing.T, doc []byte) svgFacts {
	t.Helper()
	f := svgFacts{elements: map[string]int{}}
	dec := xml.NewDecoder(bytes.NewReader(doc))
	var open []string
	for {
		tok, err := dec.Token()
		if errors.Is(err, io.EOF) {
			break
		}
		if err != nil {
			t.Fatalf("not well formed: %v", err)
		}
		switch e := tok.(type) {
		case xml.StartElement:
			open = append(open, e.Name.Local)
			f.elements[e.Name.Local]++
			for _, a := range e.Attr {
				if data, ok := strings.CutPrefix(a.Value, "data:image/png;base64,"); ok {
					raw, err := base64.StdEncoding.DecodeString(data)
					if err != nil {
						t.Fatal(err)
					}
					img, err := png.Decode(bytes.NewReader(raw))
					if err != nil {
						t.Fatal(err)
					}
					f.images = append(f.images, img)
					continue
				}
				f.attrs = append(f.attrs, a.Value)
			}
		case xml.EndElement:
			open = open[:len(open)-1]
		case xml.CharData:
			switch open := strings.Join(open, "/"); open {
			case "svg/title":
				f.Title += string(e)
			case "svg/desc":
				f.Desc += string(e)
			}
		}
	}
	for _, a := range f.attrs {
		if strings.Contains(a, "NaN") || strings.Contains(a, "Inf") {
			t.Fatalf("a number is missing in %.80q", a)
		}
	}
	return f
}

func TestMapSVG(t *testing.T) {
	m := pair()
	m.Title = "|B| < 1 T & more"
	var b bytes.Buffer
	if err := m.SVG(&b, 152.4); err != nil {
		t.Fatal(err)
	}
	if !bytes.HasPrefix(b.Bytes(), []byte("<svg")) {
		t.Error("the element must come first, so that it can stand in a page")
	}
	f := readSVG(t, b.Bytes())
	if f.Title != m.Title {
		t.Errorf("title %q", f.Title)
	}
	if f.elements["svg"] != 1 || f.elements["image"] != 2 || len(f.images) != 2 {
		t.Errorf("elements %v, want one svg and the images of field and scale", f.elements)
	}
	if f.elements["text"] != 0 || strings.Contains(b.String(), "font-family") {
		t.Error("text must be outlines, without a font of the system")
	}
	words := strings.Split(f.Desc, "; ")
	for _, w := range []string{"y, mm", "z, mm", "|B|, T", "upper magnet", "lower magnet", "top back plate", "bottom back plate", "-60", "0.3", m.Title} {
		if !slices.Contains(words, w) {
			t.Errorf("the label %q is missing among %q", w, words)
		}
	}
	if !strings.Contains(f.Desc, "1 left leg; 2 right leg") || !slices.Contains(words, "1") {
		t.Errorf("the narrow legs need numbers and a key: %q", f.Desc)
	}
	if !strings.Contains(f.Desc, "The colours end at") {
		t.Error("values off the scale must be told")
	}
	if n := f.elements["path"]; n < 60 {
		t.Errorf("only %d paths", n)
	}
	small := m
	small.U, small.B = slices.Clone(m.U), nil
	for _, row := range m.B {
		var r []float64
		for _, b := range row {
			r = append(r, b*1e-4)
		}
		small.B = append(small.B, r)
	}
	b.Reset()
	if err := small.SVG(&b, 100); err != nil {
		t.Fatal(err)
	}
	if f := readSVG(t, b.Bytes()); !strings.Contains(f.Desc, "|B|, µT") {
		t.Errorf("a weak field is read in µT: %q", f.Desc)
	}
}

// A letter's outline is as high as its font says, and stands on the point.
func TestOutlinedText(t *testing.T) {
	face := fonts().Lookup(plotfont.Font{Typeface: "Liberation", Variant: "Sans"}, 100)
	if name := face.Name(); name != "LiberationSans-Regular" {
		t.Fatal(name)
	}
	low, high := vg.Point{X: 1e9, Y: 1e9}, vg.Point{X: -1e9, Y: -1e9}
	for _, p := range letters(face, vg.Point{X: 40, Y: 70}, "HH") {
		if p.Type != vg.CloseComp {
			low.X, low.Y = min(low.X, p.Pos.X), min(low.Y, p.Pos.Y)
			high.X, high.Y = max(high.X, p.Pos.X), max(high.Y, p.Pos.Y)
		}
	}
	metrics, err := face.Face.Metrics(new(sfnt.Buffer), fixed.Int26_6(face.Face.UnitsPerEm()), xfont.HintingNone)
	if err != nil {
		t.Fatal(err)
	}
	capital := 100 * float64(metrics.CapHeight) / float64(face.Face.UnitsPerEm())
	if math.Abs(float64(high.Y)-70-capital) > 0.002*capital || math.Abs(float64(low.Y)-70) > 0.1 {
		t.Errorf("from %.2f to %.2f, want from 70 up by %.2f", low.Y, high.Y, capital)
	}
	// Both sides of a capital H bear alike, so that two of them end as far from the width as they begin from the point.
	width := face.Width("HH")
	if left, right := float64(low.X-40), float64(40+width-high.X); left <= 0 || math.Abs(left-right) > 1 {
		t.Errorf("%.2f before and %.2f behind", left, right)
	}
}

// wordBox remembers where words are set.
type wordBox struct {
	*vgsvg.Canvas
	boxes []vg.Rectangle
	words []string
}

func (c *wordBox) FillString(f plotfont.Face, at vg.Point, s string) {
	c.words = append(c.words, s)
	c.boxes = append(c.boxes, vg.Rectangle{
		Min: vg.Point{X: at.X, Y: at.Y - 0.21*f.Font.Size},
		Max: vg.Point{X: at.X + f.Width(s), Y: at.Y + 0.73*f.Font.Size},
	})
}

func (c *wordBox) DrawImage(vg.Rectangle, image.Image) {} // the slowest part, and no word

// Whatever is drawn, no word leaves the page.
func TestNothingIsClipped(t *testing.T) {
	names := rapid.OneOf(rapid.String(), rapid.StringN(0, 200, -1), rapid.SampledFrom([]string{"", "upper magnet", "Rückschlußplatte oben", strings.Repeat("long ", 40)}))
	onPage := func(t *rapid.T, p picture, widthMM float64) {
		w, h, err := pageSize(p, widthMM)
		if err != nil {
			t.Fatal(err)
		}
		c := &wordBox{Canvas: vgsvg.New(w, h)}
		p.draw(draw.New(c))
		page := vg.Rectangle{Max: vg.Point{X: w, Y: h}}
		for i, b := range c.boxes {
			if !inside(page, b) {
				t.Fatalf("%q stands at %.1f, %.1f to %.1f, %.1f on a page of %.1f x %.1f", c.words[i], b.Min.X, b.Min.Y, b.Max.X, b.Max.Y, w, h)
			}
		}
	}
	rapid.Check(t, func(t *rapid.T) {
		width := rapid.Float64Range(60, 130).Draw(t, "width")
		coords := func(name string) []float64 {
			x := []float64{rapid.Float64Range(-2, 2).Draw(t, name)}
			step := math.Pow(10, rapid.Float64Range(-3, 0).Draw(t, name+" step"))
			for range rapid.IntRange(1, 6).Draw(t, name+" count") {
				x = append(x, x[len(x)-1]+step*rapid.Float64Range(0.2, 1).Draw(t, name+" part"))
			}
			return x
		}
		m := Map{
			Title: names.Draw(t, "title"), UName: names.Draw(t, "u"), VName: names.Draw(t, "v"), U: coords("U"), V: coords("V"),
			Log: rapid.Bool().Draw(t, "log"), Dark: rapid.Bool().Draw(t, "dark"),
		}
		scale := math.Pow(10, rapid.Float64Range(-8, 1).Draw(t, "field"))
		for range m.V {
			m.B = append(m.B, rapid.SliceOfN(rapid.Custom(func(t *rapid.T) float64 { return scale * rapid.Float64Range(0, 1).Draw(t, "b") }), len(m.U), len(m.U)).Draw(t, "row"))
		}
		point := rapid.Custom(func(t *rapid.T) r2.Vec {
			return r2.Vec{X: rapid.Float64Range(-3, 8).Draw(t, "x"), Y: rapid.Float64Range(-3, 8).Draw(t, "y")}
		})
		for range rapid.IntRange(0, 4).Draw(t, "parts") {
			m.Parts = append(m.Parts, Outline{
				Name: names.Draw(t, "part"), Loops: rapid.SliceOfN(rapid.SliceOfN(point, 0, 6), 0, 2).Draw(t, "loops"),
				Magnetized: r3.Vec{X: rapid.Float64Range(-1, 1).Draw(t, "mx"), Z: rapid.Float64Range(-1, 1).Draw(t, "mz")},
			})
		}
		if r := m.aspect(); r > 0.05 && r < 20 {
			onPage(t, m, width)
		}
		g := Lines{
			Title: names.Draw(t, "title"), XName: names.Draw(t, "x"), YName: names.Draw(t, "y"), LogX: rapid.Bool().Draw(t, "logx"),
			LogY: rapid.Bool().Draw(t, "logy"), Dark: m.Dark,
		}
		for range rapid.IntRange(1, 9).Draw(t, "curves") {
			n := rapid.IntRange(1, 5).Draw(t, "n")
			value := rapid.OneOf(rapid.Float64Range(1e-9, 1e9), rapid.Float64Range(1, 2))
			g.Curves = append(g.Curves, Curve{
				Name: names.Draw(t, "curve"), X: rapid.SliceOfN(value, n, n).Draw(t, "X"), Y: rapid.SliceOfN(value, n, n).Draw(t, "Y"),
				Points: rapid.Bool().Draw(t, "points"),
			})
		}
		g.Levels = []Level{{names.Draw(t, "level"), rapid.Float64Range(1e-3, 1e3).Draw(t, "at")}}
		onPage(t, g, width)
	})
}

// Labels of parts stand inside them and clear of each other.
func TestChips(t *testing.T) {
	m := pair()
	l := m.layout(152.4 * vg.Millimeter)
	if len(l.chips) != len(m.Parts) {
		t.Fatalf("%d labels for %d parts", len(l.chips), len(m.Parts))
	}
	for i, c := range l.chips {
		var loop []vg.Point
		for _, q := range m.Parts[i].Loops[0] {
			loop = append(loop, l.place(q))
		}
		for _, p := range rim(c.box) {
			if !contains([][]vg.Point{loop}, p) {
				t.Errorf("%q leaves its part", c.text)
			}
		}
		for _, other := range l.chips[:i] {
			if overlap(c.box, other.box) {
				t.Errorf("%q lies on %q", c.text, other.text)
			}
		}
	}
	// In a ring the label goes into the steel, not into the hole.
	var outer, hole []r2.Vec
	for i := range 72 {
		s, c := math.Sincos(float64(i) / 72 * 2 * math.Pi)
		outer = append(outer, r2.Vec{X: 0.07 * c, Y: 0.07 * s})
		hole = append(hole, r2.Vec{X: 0.03 * c, Y: 0.03 * s})
	}
	m.Parts = []Outline{{Name: "ring", Loops: [][]r2.Vec{outer, hole}}, {Name: "elsewhere", Loops: [][]r2.Vec{{{X: 1}, {X: 2}, {X: 1, Y: 1}}}}}
	l = m.layout(152.4 * vg.Millimeter)
	if len(l.chips) != 1 {
		t.Fatalf("%d labels", len(l.chips))
	}
	middle := l.chips[0].box.Min.Add(l.chips[0].box.Max).Scale(0.5)
	centre := l.place(r2.Vec{})
	mm := (l.place(r2.Vec{X: 1e-3}).X - centre.X)
	if r := math.Hypot(float64(middle.X-centre.X), float64(middle.Y-centre.Y)) / float64(mm); r < 30 || r > 70 {
		t.Errorf("the label stands at radius %.1f mm, the ring is from 30 to 70", r)
	}
}

func TestColourEnds(t *testing.T) {
	m := pair()
	if a, largest := m.span(); a.min != 0 || a.max >= largest || a.max < largest/10 {
		t.Errorf("corners stand out: the scale is %+v, the largest value %g", a, largest)
	}
	m.Max = 0.5
	if a, _ := m.span(); a.max != 0.5 {
		t.Errorf("the given end was not kept: %+v", a)
	}
	m.Log = true
	if a, _ := m.span(); a.min < 0.5e-3 || a.min > 0.05 {
		t.Errorf("logarithmic: %+v", a)
	}
	even := Map{U: []float64{0, 1}, V: []float64{0, 1}, B: [][]float64{{0, 0}, {0, 0}}}
	for _, b := range []float64{0, 0.3} {
		even.B[0][0], even.B[0][1], even.B[1][0], even.B[1][1] = b, b, b, b
		for _, even.Log = range []bool{false, true} {
			if a, _ := even.span(); !(a.max > a.min) || a.max < b {
				t.Errorf("even field of %g T: %+v", b, a)
			}
		}
	}
}

// A curve's pixels lie where its axes say, and levels, points and names are there.
func TestLines(t *testing.T) {
	for _, dark := range []bool{false, true} {
		g := chart()
		g.Dark = dark
		img := pngOf(t, g.PNG, 152.4)
		paperFrame(t, img, g.theme().paper)
		l := g.layout(152.4 * vg.Millimeter)
		for _, i := range []int{0, 1} {
			curve := g.Curves[i]
			k := len(curve.X) / 4
			// Between the ticks' labels: the axis' range is -20 … 20 and 0 … 1 here.
			x := l.field.Min.X + l.field.Size().X*vg.Length((curve.X[k]+20)/40)
			y := l.field.Min.Y + l.field.Size().Y*vg.Length(curve.Y[k])
			got := img.At(int(x.Dots(pngDPI)), img.Bounds().Dy()-1-int(y.Dots(pngDPI)))
			if want := g.theme().curves[i]; apart(got, want) > 40 && apart(got, g.theme().curves[1]) > 40 {
				t.Errorf("dark %v: %q at (%g, %g) is %v, want %v", dark, curve.Name, curve.X[k], curve.Y[k], got, want)
			}
		}
	}
	var b bytes.Buffer
	g := chart()
	if err := g.SVG(&b, 152.4); err != nil {
		t.Fatal(err)
	}
	f := readSVG(t, b.Bytes())
	words := strings.Split(f.Desc, "; ")
	for _, w := range []string{"z, mm", "B, T", "predicted", "measured", "without steel", "target 0.8 T", "Field along the axis", "0.8", "-20"} {
		if !slices.Contains(words, w) {
			t.Errorf("%q is missing among %q", w, words)
		}
	}
	// A gap in the values breaks the line in two.
	plain := Lines{Curves: []Curve{{X: []float64{0, 1, 2, 3, 4}, Y: []float64{1, 2, 3, 2, 1}}}}
	broken := Lines{Curves: []Curve{{X: []float64{0, 1, 2, 3, 4}, Y: []float64{1, 2, math.NaN(), 2, 1}}}}
	if p, q := curvePaths(t, plain), curvePaths(t, broken); p != 1 || q != 2 {
		t.Errorf("%d and %d pieces, want 1 and 2", p, q)
	}
	// On a logarithmic axis zero has no place.
	zero := Lines{LogY: true, Curves: []Curve{{X: []float64{0, 1, 2, 3}, Y: []float64{1, 0.1, 0, 0.01}}}}
	_, y := zero.axes()
	if y.min != 0.01 || y.max != 1 {
		t.Errorf("%+v", y)
	}
	if curvePaths(t, zero) != 1 {
		t.Error("the line must end before the zero")
	}
}

// curvePaths counts the strokes in the first curve's colour.
func curvePaths(t *testing.T, g Lines) int {
	t.Helper()
	var b bytes.Buffer
	if err := g.SVG(&b, 100); err != nil {
		t.Fatal(err)
	}
	c := g.theme().curves[0]
	n := 0
	for _, a := range readSVG(t, b.Bytes()).attrs {
		if strings.Contains(a, fmt.Sprintf("stroke:#%02X%02X%02X", c.R, c.G, c.B)) {
			n++
		}
	}
	return n
}

func TestErrors(t *testing.T) {
	small := func(change func(*Map)) Map {
		m := Map{Title: "T", U: []float64{0, 1}, V: []float64{0, 1}, B: [][]float64{{0.1, 0.2}, {0.3, 0.4}}}
		change(&m)
		return m
	}
	nan := math.NaN()
	for _, c := range []struct {
		p    picture
		want string
	}{
		{small(func(m *Map) { m.U = nil }), "two or more"},
		{small(func(m *Map) { m.U = []float64{1, 0} }), "sort"},
		{small(func(m *Map) { m.V = []float64{0, nan} }), "V[1]"},
		{small(func(m *Map) { m.V = []float64{0, 100} }), "times as high"},
		{small(func(m *Map) { m.U, m.V = []float64{0, 1e-12}, []float64{0, 1e-12} }), "spans only"},
		{small(func(m *Map) { m.U, m.V = []float64{1e6, 1e6 + 1e-9}, []float64{0, 1e-9} }), "U"},
		{small(func(m *Map) { m.B = m.B[:1] }), "1 rows"},
		{small(func(m *Map) { m.B[1] = []float64{1} }), "row 1"},
		{small(func(m *Map) { m.B[1][0] = -1 }), "B[1][0]"},
		{small(func(m *Map) { m.B[1][0] = math.Inf(1) }), "B[1][0]"},
		{small(func(m *Map) { m.B = [][]float64{{nan, nan}, {nan, nan}} }), "no value"},
		{small(func(m *Map) { m.Min, m.Max = 2, 1 }), "0 ≤ Min < Max"},
		{small(func(m *Map) { m.Max = nan }), "0 ≤ Min < Max"},
		{small(func(m *Map) { m.Levels = []float64{nan} }), "iso-line"},
		{small(func(m *Map) { m.Parts = []Outline{{Name: "leg", Loops: [][]r2.Vec{{{X: nan}}}}} }), "leg"},
		{small(func(m *Map) { m.Parts = []Outline{{Name: "leg", Magnetized: r3.Vec{X: nan}}} }), "leg"},
		{Lines{}, "no point"},
		{Lines{Curves: []Curve{{Name: "c", X: []float64{1}, Y: nil}}}, "1 values X and 0"},
		{Lines{Curves: []Curve{{Name: "c", X: []float64{nan}, Y: []float64{1}}}}, "point 0"},
		{Lines{Curves: []Curve{{Name: "c", X: []float64{1}, Y: []float64{math.Inf(1)}}}}, "point 0"},
		{Lines{Curves: []Curve{{Name: "c", X: []float64{1}, Y: []float64{nan}}}}, "no point"},
		{Lines{LogX: true, Curves: []Curve{{Name: "c", X: []float64{0}, Y: []float64{1}}}}, "above zero"},
		{Lines{LogY: true, Curves: []Curve{{Name: "c", X: []float64{1}, Y: []float64{1}}}, Levels: []Level{{"l", 0}}}, "level"},
	} {
		for _, write := range []func(io.Writer, picture, float64) error{writePNG, writeSVG} {
			var b bytes.Buffer
			if err := write(&b, c.p, 100); err == nil || !strings.Contains(err.Error(), c.want) || b.Len() > 0 {
				t.Errorf("%q expected, got %v and %d bytes", c.want, err, b.Len())
			}
		}
	}
	fine := small(func(*Map) {})
	for _, mm := range []float64{0, 59, 1201, -1, nan, math.Inf(1)} {
		if err := fine.PNG(io.Discard, mm); err == nil || !strings.Contains(err.Error(), "width") {
			t.Errorf("%g mm: %v", mm, err)
		}
	}
	if err := fine.SVG(nil, 100); err == nil {
		t.Error("no writer, no error")
	}
}

func ExampleMap_SVG() {
	// The field of a dipole, 100 A·m² along z, in the plane y = 0 from 0.1 m on.
	m := Map{Title: "Stray field", UName: "x", VName: "z", Log: true, Levels: []float64{0.5e-3, 3e-3}}
	for i := range 41 {
		m.U = append(m.U, 0.1+0.01*float64(i))
	}
	m.V = m.U
	for _, z := range m.V {
		var row []float64
		for _, x := range m.U {
			r := math.Hypot(x, z)
			row = append(row, 1e-7*100/(r*r*r)*math.Sqrt(1+3*z*z/(r*r)))
		}
		m.B = append(m.B, row)
	}
	var b bytes.Buffer
	if err := m.SVG(&b, 120); err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(b.String()[:4], strings.Contains(b.String(), "x, mm"))
	// Output: <svg true
}

func BenchmarkMapPNG(b *testing.B) {
	m := pair()
	for b.Loop() {
		if err := m.PNG(io.Discard, 152.4); err != nil {
			b.Fatal(err)
		}
	}
}
