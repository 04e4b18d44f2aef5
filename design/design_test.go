package design

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"math"
	"os"
	"path/filepath"
	"reflect"
	"strings"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"
	"pgregory.net/rapid"

	"polewright/mistake"
	"polewright/shape"
)

func mustRead(t *testing.T, text string) *Design {
	t.Helper()
	d, err := Read(strings.NewReader(text), "d.toml")
	if err != nil {
		t.Fatal(err)
	}
	return d
}

func TestTemplatesAreRead(t *testing.T) {
	files, err := filepath.Glob("template/*.toml")
	if err != nil || len(files) != len(Layouts()) || len(files) == 0 {
		t.Fatalf("%d templates for %d layouts, %v", len(files), len(Layouts()), err)
	}
	for _, kind := range Layouts() {
		text, err := Template(kind)
		if err != nil {
			t.Fatal(err)
		}
		d := mustRead(t, text)
		if len(d.Magnets) == 0 || len(d.Probes) != 2 || d.Target == nil || d.Target.Region == nil {
			t.Errorf("%s: something is missing", kind)
		}
		for _, s := range d.Spacers { // the demo's spacers stand clear of everything
			for _, p := range d.Parts() {
				if p.Name != s.Name && overlap(s.Body, *p.Body) {
					t.Errorf("%s: spacer %q overlaps %q", kind, s.Name, p.Name)
				}
			}
		}
	}
	if _, err := Template("framed-pear"); err == nil || !strings.Contains(err.Error(), `"framed-pair"`) {
		t.Errorf("a template of an unknown layout: %v", err)
	}
}

// A [layout] with its defaults gives the magnets and the yoke of the template.
func TestLayoutsAreTheTemplates(t *testing.T) {
	for _, kind := range Layouts() {
		text, _ := Template(kind)
		want := mustRead(t, text)
		got := mustRead(t, fmt.Sprintf("format = 1\n[layout]\nkind = %q\n", kind))
		if got.Layout == nil || got.Layout.Kind != kind || math.Abs(got.Layout.Lengths["gap"]-0.018) > 0 && got.Layout.Lengths["bore"] != 0.03 && got.Layout.Lengths["ring_diameter"] != 0.07 {
			t.Errorf("%s: layout %+v", kind, got.Layout)
		}
		byName := map[string]Part{}
		for _, p := range got.Parts() {
			byName[p.Name] = p
		}
		n := 0
		for _, p := range want.Parts() {
			if !p.Magnetic() {
				continue
			}
			n++
			q, ok := byName[p.Name]
			if !ok {
				t.Errorf("%s: no %s", kind, p.Name)
				continue
			}
			a, b := shape.Bounds(p.Solid, p.Place), shape.Bounds(q.Solid, q.Place)
			// The template's winding has whole turns, 0.01 mm more than 12 mm.
			if d := math.Max(r3.Norm(r3.Sub(a.Min, b.Min)), r3.Norm(r3.Sub(a.Max, b.Max))); d > 2e-5 {
				t.Errorf("%s: %s stands %g m off", kind, p.Name, d)
			}
		}
		if n != len(got.Parts()) {
			t.Errorf("%s: %d parts, the template has %d", kind, len(got.Parts()), n)
		}
	}
	d := mustRead(t, "format = 1\n[layout]\nkind = \"framed-pair\"\ngap = \"30 mm\"\nside = \"0 mm\"\n")
	if z := d.Magnets[0].Place.Center.Z; math.Abs(z-0.025) > 1e-12 {
		t.Errorf("with a gap of 30 mm the upper magnet stands at %g", z)
	}
	_, err := Read(strings.NewReader("format = 1\n[layout]\nkind = \"framed-pair\"\nbuild = \"12 mm\"\n"), "d.toml")
	if err == nil || !strings.Contains(err.Error(), "layout.build: unknown key") {
		t.Errorf("a length of another layout: %v", err)
	}
	for _, kind := range Layouts() {
		if DescribeLayout(kind) == "" {
			t.Errorf("%s has no description", kind)
		}
	}
}

// A target alone is no design, but enough for ReadTarget; it has to say what is wanted where.
func TestReadTarget(t *testing.T) {
	const text = "format = 1\n[target]\nfield = \"0.5 T\"\ngap = \"12 mm\"\nmass = \"3 kg\"\n"
	d, err := ReadTarget(strings.NewReader(text), "t.toml")
	if err != nil {
		t.Fatal(err)
	}
	if d.Target.FieldT != 0.5 || d.Target.GapM != 0.012 || d.Target.MassKg != 3 || d.File != "t.toml" {
		t.Errorf("%+v", d.Target)
	}
	if _, err := Read(strings.NewReader(text), "t.toml"); err == nil {
		t.Error("Read takes a design without parts")
	}
	for _, c := range []struct{ text, want string }{
		{"format = 1\n", "t.toml: target: is missing"},
		{"format = 1\n[target]\ngap = \"12 mm\"\n", "t.toml:2: target.field: is missing"},
		{"format = 1\n[target]\nfield = \"0.5 T\"\n", "t.toml:2: target.gap: is missing, and so is region"},
		{"format = 1\n[target]\nfield = \"0.5 T\"\ngap = \"0 mm\"\n", "target.gap: \"0 mm\": zero or less"},
		{"format = 1\n[target]\nfield = \"0.5 T\"\ngap = \"5 mm\"\nmass = \"-1 kg\"\n", "target.mass: \"-1 kg\": zero or less"},
		{"format = 1\n[target]\nfield = \"0.5 T\"\ngap = \"5 mm\"\nregion = { shape = \"cylinder\", diameter = \"2 mm\", length = \"6 mm\" }\n", "less than the height of the region, 6 mm"},
	} {
		if _, err := ReadTarget(strings.NewReader(c.text), "t.toml"); err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%q: %v, want %q", c.text, err, c.want)
		}
	}
}

// The ring of Halbach's: what stands above and below the bore is magnetized along +z, what stands beside it along -z, and every direction is
// twice the angle of its place from z (K. Halbach 1980). Lengths that do not go together are refused.
func TestHalbachLayouts(t *testing.T) {
	for _, kind := range []string{"halbach-wedges", "halbach-blocks"} {
		for _, n := range []int{4, 8, 12} {
			d := mustRead(t, fmt.Sprintf("format = 1\n[layout]\nkind = %q\nsegments = %d\n%s", kind, n, map[bool]string{true: "edge = \"8 mm\"\n"}[kind == "halbach-blocks"]))
			if len(d.Magnets) != n || d.Layout.Counts["segments"] != n {
				t.Fatalf("%s: %d magnets for %d", kind, len(d.Magnets), n)
			}
			for i, m := range d.Magnets {
				at := 2 * math.Pi * float64(i) / float64(n) // from z
				want := r3.Vec{Y: -math.Sin(2 * at), Z: math.Cos(2 * at)}
				if r3.Norm(r3.Sub(m.Direction, want)) > 1e-12 {
					t.Errorf("%s: magnet %d of %d points to %v, want %v", kind, i+1, n, m.Direction, want)
				}
			}
		}
	}
	for _, c := range []struct{ lines, want string }{
		{"kind = \"halbach-wedges\"\nbore = \"90 mm\"\n", "layout.bore: 90 mm is not below 80 mm"},
		{"kind = \"halbach-wedges\"\nsegments = 3\n", "layout.segments: 3: outside 4 to 64"},
		{"kind = \"halbach-wedges\"\nsegments = 6.5\n", "layout.segments: 6.5: no whole number"},
		{"kind = \"pole-tips\"\nrim_width = \"20 mm\"\n", "layout.rim_width: 20 mm is not below 20 mm"},
		{"kind = \"framed-pair\"\nsegments = 8\n", "unknown key"},
	} {
		if _, err := Read(strings.NewReader("format = 1\n[layout]\n"+c.lines), "d.toml"); err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%q: %v, want %q", c.lines, err, c.want)
		}
	}
	d := mustRead(t, "format = 1\n[layout]\nkind = \"pole-tips\"\nrim_thickness = \"0 mm\"\n")
	if len(d.Steels) != 6 {
		t.Errorf("without rims %d pieces of steel, want 2 tips, 2 plates and 2 legs", len(d.Steels))
	}
}

func TestBaseMeansWhatItSays(t *testing.T) {
	d := mustRead(t, broken(t))
	near := func(what string, got, want float64) {
		t.Helper()
		if math.Abs(got-want) > 1e-12*math.Max(1, math.Abs(want)) {
			t.Errorf("%s is %v, want %v", what, got, want)
		}
	}
	near("field", d.Target.FieldT, 0.6)
	near("uniformity", d.Target.UniformityFraction, 500e-6)
	near("region", d.Target.Region.DiameterM, 0.008)
	near("stray limit", d.Target.StrayLimitT, 0.5e-3)
	near("stray distance", d.Target.StrayDistanceM, 0.3)
	if !d.Target.HasWorking || !d.Target.HasMax || d.Target.WorkingC != 22 || d.Target.MaxC != 60 {
		t.Errorf("temperatures %+v", d.Target)
	}
	if d.Title != "base of the broken files" || d.File != "d.toml" {
		t.Errorf("title %q, file %q", d.Title, d.File)
	}
	if got := d.Magnets[0].Solid; got != (shape.Block{Size: r3.Vec{X: .06, Y: .04, Z: .02}}) {
		t.Errorf("upper is %v", got)
	}
	if got := d.Magnets[1].Solid; got != (shape.Disc{Diameter: .04, Thickness: .02}) {
		t.Errorf("lower is %v", got)
	}
	if m := d.Magnets[1].Material; m.RemanenceT != 1.3 || m.RecoilPermeability != 1.05 {
		t.Errorf("lower is of %+v", m)
	}
	if d.Magnets[0].Material.Name != "N42" || d.Steels[0].Material.Name != "steel-1018" || d.Spacers[0].Material.Name != "aluminium" {
		t.Error("materials are mixed up")
	}
	c := d.Coils[0]
	if c.AmpereTurns != 1000 || c.Axis != 2 || c.HeightM != .01 || c.OuterM != [2]float64{.2, .2} || c.InnerM != [2]float64{.15, .15} || c.OuterRadiusM != .05 || c.InnerRadiusM != .025 {
		t.Errorf("coil %+v", c)
	}
	if d.Joints[0].Between != [2]string{"upper", "top back"} || d.Joints[0].ThicknessM != 0.05e-3 {
		t.Errorf("joint %+v", d.Joints[0])
	}
	if s := d.Sections[0]; s.Part != "top back" || s.Axis != 1 || s.AtM != .024 || s.Line == 0 {
		t.Errorf("section %+v", s)
	}
	if d.Magnets[1].Line != 19 {
		t.Errorf("lower begins on line %d", d.Magnets[1].Line)
	}
}

// The wire goes round the two axes that follow the spool's cyclically, and build * width * packing = turns * pi d^2/4. 16 SWG is 0.064 in (British
// standard wire gauge; in the reference table of package material).
func TestWound(t *testing.T) {
	wound := func(lines string) string {
		return "format = 1\n[[wound]]\nname = \"w\"\ncore = { size = [\"10 mm\", \"20 mm\", \"30 mm\"] }\nwidth = \"60 mm\"\nmaterial = \"annealed-wire\"\n" + lines
	}
	d := 0.064 * 0.0254
	area := math.Pi / 4 * d * d
	for axis, c := range []struct{ x, y float64 }{{.02, .03}, {.03, .01}, {.01, .02}} {
		w := mustRead(t, wound(fmt.Sprintf("axis = %q\nturns = 250\npacking = 0.72\nwire = { gauge = \"16 SWG\" }\n", axisNames[axis]))).Wounds[0]
		r := w.Racetrack()
		if r.CoreX != c.x || r.CoreY != c.y || r.Width != .06 || w.Axis != axis || !w.TurnsGiven || w.BuildGiven {
			t.Errorf("axis %s: %v", axisNames[axis], r)
		}
		if want := 250 * area / (.06 * .72); math.Abs(r.Build-want) > 1e-12 {
			t.Errorf("build %g, want %g", r.Build, want)
		}
		box := shape.Bounds(r, w.Place).Size()
		want := [3]float64{.01 + 2*r.Build, .02 + 2*r.Build, .03 + 2*r.Build}
		want[axis] = .06
		for i := range 3 {
			if math.Abs(along(box, i)-want[i]) > 1e-12 {
				t.Errorf("axis %s: %g m along %s, want %g", axisNames[axis], along(box, i), axisNames[i], want[i])
			}
		}
	}
	for lay, packing := range map[string]float64{"square": math.Pi / 4, "nested": 0.9068997, "random": 0.62} {
		w := mustRead(t, wound(fmt.Sprintf("axis = \"x\"\nbuild = \"12 mm\"\nlay = %q\nwire = { diameter = \"1.6 mm\" }\n", lay))).Wounds[0]
		if math.Abs(w.Packing-packing) > 1e-7 || w.Lay != lay || w.Racetrack().Build != .012 || w.Wire != "1.6 mm" {
			t.Errorf("lay %s: %+v", lay, w)
		}
		if want := .012 * .06 * packing / (math.Pi / 4 * 1.6e-3 * 1.6e-3); math.Abs(float64(w.Turns)-want) > .5 {
			t.Errorf("lay %s: %d turns, want %.1f", lay, w.Turns, want)
		}
	}
}

func TestRotateAndAxis(t *testing.T) {
	d := mustRead(t, `format = 1
[[magnet]]
name = "turned block"
shape = "block"
size = ["10 mm", "20 mm", "30 mm"]
center = ["0 mm", "0 mm", "0 mm"]
rotate = ["90 deg", "0 deg", "90 deg"]
magnetized = [0, 0, 2]
grade = "N42"
[[magnet]]
name = "disc along x"
shape = "disc"
diameter = "20 mm"
thickness = "4 mm"
axis = "x"
center = ["100 mm", "0 mm", "0 mm"]
rotate = ["0 deg", "0 deg", "90 deg"]
magnetized = [3, 0, 4]
coating = "0.02 mm"
grade = "n42"
`)
	// About x by 90 degrees z goes to -y, and about z by 90 degrees -y goes to x.
	if v := d.Magnets[0].Direction; r3.Norm(r3.Sub(v, r3.Vec{X: 1})) > 1e-15 {
		t.Errorf("the block's direction is %v", v)
	}
	if s := shape.Bounds(d.Magnets[0].Solid, d.Magnets[0].Place).Size(); r3.Norm(r3.Sub(s, r3.Vec{X: .03, Y: .01, Z: .02})) > 1e-15 {
		t.Errorf("the block's box is %v", s)
	}
	// The direction does not follow the axis, only rotate.
	if v := d.Magnets[1].Direction; r3.Norm(r3.Sub(v, r3.Vec{Y: .6, Z: .8})) > 1e-15 {
		t.Errorf("the disc's direction is %v", v)
	}
	if s := shape.Bounds(d.Magnets[1].Solid, d.Magnets[1].Place).Size(); r3.Norm(r3.Sub(s, r3.Vec{X: .02, Y: .004, Z: .02})) > 1e-15 {
		t.Errorf("the disc's box is %v", s)
	}
	if s := d.Magnets[1].Bare().(shape.Disc); math.Abs(s.Diameter-.01996) > 1e-15 || math.Abs(s.Thickness-.00396) > 1e-15 {
		t.Errorf("the bare disc is %v", s)
	}
}

func TestWholeFiles(t *testing.T) {
	base := broken(t)
	for _, c := range []struct{ name, text, want string }{
		{"empty", "", "d.toml: the file is empty\n  hint: a first design file is written by: polewright new LAYOUT"},
		{"only notes", "# nothing\n\n", "d.toml: the file is empty\n  hint: a first design file is written by: polewright new LAYOUT"},
		{"no part", "format = 1\n", "d.toml: the design has no magnet, no steel and no coil\n  hint: add a [[magnet]]; a first design file is written by: polewright new LAYOUT"},
		{"latin-1", strings.Replace(base, "base of", "22 \xb0C of", 1), "d.toml:2: the byte 0xB0 is not UTF-8\n  hint: save the file as UTF-8; signs such as ° and µ are the usual cause (deg and um do too)"},
		{"UTF-16", "\xff\xfef\x00o\x00", "d.toml:1: the file is UTF-16\n  hint: save it as UTF-8"},
		{"NUL", "format = 1\x00", "d.toml:1: format = 1 : expected newline but got U+0000\n  hint: each line is key = value, [header], [[header]] or # note; text and quantities stand in \"quotes\""},
		{"4 MiB and one byte", base + "#" + strings.Repeat("x", MaxFileBytes-len(base)), "d.toml: is over 4 MiB long\n  hint: a design file may be 4 MiB long, which holds 10000 parts: is it the right file?"},
	} {
		_, err := Read(strings.NewReader(c.text), "d.toml")
		if err == nil || err.Error() != c.want {
			t.Errorf("%s:\n got %v\nwant %s", c.name, err, c.want)
		}
	}
	for name, text := range map[string]string{
		"byte order mark": "\ufeff" + base, "carriage returns": strings.ReplaceAll(base, "\n", "\r\n"),
		"4 MiB": base + "#" + strings.Repeat("x", MaxFileBytes-len(base)-1),
	} {
		if _, err := Read(strings.NewReader(text), "d.toml"); err != nil {
			t.Errorf("%s: %v", name, err)
		}
	}
}

type endless struct{ n int }

func (e *endless) Read(p []byte) (int, error) {
	for i := range p {
		p[i] = '#'
	}
	e.n += len(p)
	return len(p), nil
}

func TestEndlessInputIsNotRead(t *testing.T) {
	e := &endless{}
	if _, err := Read(e, "d.toml"); err == nil || !strings.Contains(err.Error(), "over 4 MiB") {
		t.Error(err)
	}
	if e.n > 2*MaxFileBytes {
		t.Errorf("%d bytes were taken", e.n)
	}
	failing := io.MultiReader(strings.NewReader("format = 1\n"), iotestErr{})
	if _, err := Read(failing, "d.toml"); !errors.Is(err, io.ErrUnexpectedEOF) {
		t.Errorf("the reader's own error is lost: %v", err)
	}
}

type iotestErr struct{}

func (iotestErr) Read([]byte) (int, error) { return 0, io.ErrUnexpectedEOF }

func TestReadFile(t *testing.T) {
	dir := t.TempDir()
	write := func(name, text string) string {
		path := filepath.Join(dir, name)
		if err := os.WriteFile(path, []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
		return path
	}
	large := write("large.toml", "")
	if err := os.Truncate(large, 1<<30); err != nil {
		t.Fatal(err)
	}
	for path, want := range map[string]string{
		filepath.Join(dir, "none.toml"): "there is no such file",
		dir:                             "is a folder",
		large:                           "is 1024 MiB long",
	} {
		_, err := ReadFile(path)
		var e *mistake.Error
		if !errors.As(err, &e) || e.What != want || e.Hint == "" || e.File != path {
			t.Errorf("%s: %v", path, err)
		}
	}
	write("my.csv", "H_A_per_m,B_T\n100,0.5\n1000,1.4\n10000,1.7\n100000,2.1\n")
	write("bad.csv", "H_A_per_m,B_T\n100,0.5\n50,1.4\n")
	good := write("good.toml", broken(t, `material = "steel-1018"`, `curve_file = "my.csv"`))
	d, err := ReadFile(good)
	if err != nil {
		t.Fatal(err)
	}
	if b, _, _ := d.Steels[0].Material.Curve.Eval(1000); math.Abs(b-1.4) > 1e-9 {
		t.Errorf("the curve gives %g T at its own point", b)
	}
	bad := write("bad.toml", broken(t, `material = "steel-1018"`, `curve_file = "bad.csv"`))
	if _, err := ReadFile(bad); err == nil || !strings.Contains(err.Error(), ":34: steel.top back.curve_file: curve \"bad.csv\"") {
		t.Errorf("a curve that falls: %v", err)
	}
	// A curve must not lead out of the folder, not even by a link.
	outside := filepath.Join(t.TempDir(), "secret.csv")
	if err := os.WriteFile(outside, []byte("secret"), 0o644); err != nil {
		t.Fatal(err)
	}
	if err := os.Symlink(outside, filepath.Join(dir, "link.csv")); err != nil {
		t.Skip(err)
	}
	link := write("link.toml", broken(t, `material = "steel-1018"`, `curve_file = "link.csv"`))
	if _, err := ReadFile(link); err == nil || strings.Contains(err.Error(), "secret\"") {
		t.Errorf("a link out of the folder: %v", err)
	}
	if _, err := Read(strings.NewReader(broken(t, `material = "steel-1018"`, `curve_file = "my.csv"`)), ""); err == nil || !strings.Contains(err.Error(), "came from no file") {
		t.Errorf("a curve of a design from no file: %v", err)
	}
}

func many(n int, step string) []byte {
	var b bytes.Buffer
	b.WriteString("format = 1\n")
	for i := range n {
		fmt.Fprintf(&b, "[[magnet]]\nname = \"m%d\"\nshape = \"block\"\nsize = [\"10 mm\",\"10 mm\",\"10 mm\"]\ncenter = [\"%d%s mm\",\"%d0 mm\",\"0 mm\"]\nmagnetized = [0,0,1]\ngrade = \"N42\"\n", i, i%100, step, i/100)
	}
	return b.Bytes()
}

// 10 000 blocks in a square, each touching its neighbours.
func TestManyParts(t *testing.T) {
	d, err := Read(bytes.NewReader(many(MaxParts, "0")), "d.toml")
	if err != nil || len(d.Magnets) != MaxParts {
		t.Fatal(err)
	}
	_, err = Read(bytes.NewReader(many(MaxParts, "")), "d.toml") // 1 mm apart: all overlap
	var list mistake.Errors
	if !errors.As(err, &list) || len(list) != mistake.Most {
		t.Errorf("%d errors of %d", len(list), mistake.Most)
	}
	if _, err = Read(bytes.NewReader(many(MaxParts+1, "0")), "d.toml"); err == nil || !strings.Contains(err.Error(), "over 10000 parts") {
		t.Errorf("one part too many: %v", err)
	}
}

func TestManyMistakesAreCut(t *testing.T) {
	text := bytes.ReplaceAll(many(2000, "0"), []byte("N42"), []byte("N43"))
	_, err := Read(bytes.NewReader(text), "d.toml")
	var list mistake.Errors
	if !errors.As(err, &list) || len(list) != mistake.Most || list[0].Line != 8 {
		t.Errorf("%v", err)
	}
}

// drawn is a design as text, made from numbers that the test keeps.
type drawn struct {
	text   strings.Builder
	design Design
}

// What is written is what is read: names, shapes, places, directions, in millimetres or inches.
func TestWrittenDesignsReadBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var w drawn
		inches := rapid.Bool().Draw(t, "inches")
		length := func(m float64) string {
			if inches {
				return fmt.Sprintf("\"%.9g in\"", m/0.0254)
			}
			return fmt.Sprintf("\"%.9g mm\"", m*1e3)
		}
		size := func(what string) float64 {
			return float64(rapid.IntRange(100, 5000).Draw(t, what)) * 1e-5
		}
		fmt.Fprintf(&w.text, "format = 1\ntitle = %q\n", "drawn")
		n := rapid.IntRange(1, 6).Draw(t, "parts")
		for i := range n {
			name := fmt.Sprintf("part %d", i)
			// A cell of 100 mm holds any part, however it is turned.
			center := r3.Vec{X: .1 * float64(i), Y: size("y"), Z: -size("z")}
			s, axis, lines := drawSolid(t, length, size)
			lines += fmt.Sprintf("name = %q\ncenter = [%s, %s, %s]\n", name, length(center.X), length(center.Y), length(center.Z))
			rot := shape.Identity()
			if rapid.Bool().Draw(t, "turned") {
				a := rapid.IntRange(-180, 180).Draw(t, "turn")
				rot = shape.Euler(0, float64(a)*deg, 0)
				lines += fmt.Sprintf("rotate = [\"0 deg\", \"%d deg\", \"0 deg\"]\n", a)
			}
			body := Body{Name: name, Solid: s, Place: shape.Placement{Center: center, Rot: rot}}
			if _, isBlock := s.(shape.Block); !isBlock {
				body.Place.Rot = rot.Mul(shape.AxisTo(axis))
			}
			if rapid.Bool().Draw(t, "magnet") {
				fmt.Fprintf(&w.text, "[[magnet]]\n%smagnetized = [0, 0, -7]\nremanence = \"12.5 kG\"\nrecoil = 1.05\n", lines)
				w.design.Magnets = append(w.design.Magnets, Magnet{Body: body, Direction: rot.Apply(r3.Vec{Z: -1})})
			} else {
				fmt.Fprintf(&w.text, "[[steel]]\n%smaterial = \"pure-iron\"\n", lines)
				w.design.Steels = append(w.design.Steels, Steel{Body: body})
			}
		}
		d, err := Read(strings.NewReader(w.text.String()), "drawn.toml")
		if err != nil {
			t.Fatalf("%v\n%s", err, w.text.String())
		}
		if len(d.Magnets) != len(w.design.Magnets) || len(d.Steels) != len(w.design.Steels) {
			t.Fatal("parts were lost")
		}
		got, want := d.Parts(), w.design.Parts()
		for i := range want {
			if got[i].Name != want[i].Name || got[i].Kind != want[i].Kind {
				t.Fatalf("part %d is %s %q", i, got[i].Kind, got[i].Name)
			}
			// Nine digits are written, of 0.7 m at the most.
			sameNumbers(t, reflect.ValueOf(got[i].Solid), reflect.ValueOf(want[i].Solid), 1e-9)
			sameNumbers(t, reflect.ValueOf(got[i].Place), reflect.ValueOf(want[i].Place), 1e-9)
		}
		for i, m := range w.design.Magnets {
			if r3.Norm(r3.Sub(d.Magnets[i].Direction, m.Direction)) > 1e-12 {
				t.Fatalf("direction %v, want %v", d.Magnets[i].Direction, m.Direction)
			}
			if math.Abs(d.Magnets[i].Material.RemanenceT-1.25) > 1e-12 {
				t.Fatal("remanence")
			}
		}
	})
}

// drawSolid draws a solid and the lines that ask for it, its lengths by size and written by length.
func drawSolid(t *rapid.T, length func(float64) string, size func(string) float64) (s shape.Solid, axis int, lines string) {
	axis = 2
	switch rapid.IntRange(0, 3).Draw(t, "shape") {
	case 0:
		b := shape.Block{Size: r3.Vec{X: size("a"), Y: size("b"), Z: size("c")}}
		s, lines = b, fmt.Sprintf("shape = \"block\"\nsize = [%s, %s, %s]\n", length(b.Size.X), length(b.Size.Y), length(b.Size.Z))
	case 1:
		b := shape.Disc{Diameter: size("a"), Thickness: size("b")}
		axis = rapid.IntRange(0, 2).Draw(t, "axis")
		s, lines = b, fmt.Sprintf("shape = \"disc\"\ndiameter = %s\nthickness = %s\naxis = %q\n", length(b.Diameter), length(b.Thickness), axisNames[axis])
	case 2:
		b := shape.Ring{OuterDiameter: size("a") + .002, InnerDiameter: .001, Thickness: size("b")}
		s, lines = b, fmt.Sprintf("shape = \"ring\"\nouter_diameter = %s\ninner_diameter = %s\nthickness = %s\n", length(b.OuterDiameter), length(b.InnerDiameter), length(b.Thickness))
	case 3:
		b := shape.Wedge{OuterDiameter: size("a") + .002, InnerDiameter: .001, Thickness: size("b"), From: 0, To: float64(rapid.IntRange(1, 359).Draw(t, "to")) * deg}
		s, lines = b, fmt.Sprintf("shape = \"wedge\"\nouter_diameter = %s\ninner_diameter = %s\nthickness = %s\nfrom = \"0 rad\"\nto = \"%.12g rad\"\n", length(b.OuterDiameter), length(b.InnerDiameter), length(b.Thickness), b.To)
	}
	return s, axis, lines
}

func sameNumbers(t *rapid.T, a, b reflect.Value, tol float64) {
	if a.Type() != b.Type() {
		t.Fatalf("%v is no %v", a.Type(), b.Type())
	}
	switch a.Kind() {
	case reflect.Float64:
		if math.Abs(a.Float()-b.Float()) > tol {
			t.Fatalf("%v, want %v", a.Float(), b.Float())
		}
	case reflect.Struct:
		for i := range a.NumField() {
			sameNumbers(t, a.Field(i), b.Field(i), tol)
		}
	case reflect.Array:
		for i := range a.Len() {
			sameNumbers(t, a.Index(i), b.Index(i), tol)
		}
	}
}

// Whatever the bytes: an answer or mistakes that say where and what would do,
// never a panic; and what is read keeps the limits that the package promises.
func FuzzRead(f *testing.F) {
	base, err := os.ReadFile("testdata/base.toml")
	if err != nil {
		f.Fatal(err)
	}
	f.Add(base)
	for _, kind := range Layouts() {
		text, _ := Template(kind)
		f.Add([]byte(text))
		f.Add([]byte("format = 1\n[layout]\nkind = \"" + kind + "\"\ngap = \"3 mm\"\n"))
	}
	for _, s := range []string{"", "format", "format = 1\nmagnet = [1, {}]", "a.b.c = 1\n[a.b]\n", "[[a]]\n[a.b]\n[[a.b]]", "x = [[[[", "format=1\n[[wound]]\ncore={size=[\"1 mm\"]}", "format = 0x1", "t = 1979-05-27T07:32:00Z", "\xff"} {
		f.Add([]byte(s))
	}
	f.Fuzz(func(t *testing.T, text []byte) {
		if d, err := ReadTarget(bytes.NewReader(text), ""); err == nil && (d.Target == nil || !(d.Target.FieldT > 0) || !(d.Target.GapM > 0) && d.Target.Region == nil) {
			t.Fatalf("a target without field, or without gap and region: %+v", d.Target)
		}
		d, err := Read(bytes.NewReader(text), "")
		if err != nil {
			var list mistake.Errors
			if !errors.As(err, &list) || len(list) == 0 || len(list) > mistake.Most || d != nil {
				t.Fatalf("%v", err)
			}
			lines := 1 + bytes.Count(text, []byte("\n"))
			for _, e := range list {
				if e.What == "" || e.Hint == "" || e.Line < 0 || e.Line > lines {
					t.Fatalf("%+v of %d lines", e, lines)
				}
			}
			return
		}
		names := map[string]bool{}
		for _, p := range d.Parts() {
			v := p.Solid.Volume()
			if names[p.Name] || p.Name == "" || !(v > 0) || math.IsInf(v, 0) || r3.Norm(p.Place.Center) > 2*MaxLengthM {
				t.Fatalf("%+v, volume %g", p.Body, v)
			}
			names[p.Name] = true
		}
		for _, m := range d.Magnets {
			if math.Abs(r3.Norm(m.Direction)-1) > 1e-12 || !(m.Bare().Volume() > 0) || m.Material.RemanenceT > MaxFluxT {
				t.Fatalf("%+v", m)
			}
		}
	})
}

func ExampleRead() {
	_, err := Read(strings.NewReader(`format = 1
[[magnet]]
name = "upper"
shape = "disc"
diameter = 40
thickness = "20 mm"
center = ["0 mm", "0 mm", "19 mm"]
magnetized = [0, 0, 1]
grade = "N42"
`), "gap.toml")
	fmt.Println(err)
	// Output:
	// gap.toml:5: magnet.upper.diameter: 40: no unit
	//   hint: put the unit inside the quotes, e.g. "40 mm" (mm, m, cm, um, in or ft)
}

func BenchmarkReadManyParts(b *testing.B) {
	text := many(MaxParts, "0")
	for b.Loop() {
		if _, err := Read(bytes.NewReader(text), "d.toml"); err != nil {
			b.Fatal(err)
		}
	}
}

func TestMagnetOfItsOwnNumbers(t *testing.T) {
	d := mustRead(t, broken(t, "recoil = 1.05\n", `recoil = 1.05
coercivity = "12 kOe"
knee = "-800 kA/m"
squareness = 0.93
remanence_coefficient = "-0.12 %/K"
coercivity_coefficient = "-0.6 %/K"
reference_temperature = "25 degC"
max_temperature = "80 degC"
density = "7.6 g/cm3"
`))
	m := d.Magnets[1].Material
	for what, c := range map[string][2]float64{
		"coercivity": {m.IntrinsicCoercivityApm, 12e6 / (4 * math.Pi)}, "knee": {m.KneeApm(), -800e3}, "squareness": {m.Squareness, 0.93},
		"remanence coefficient": {m.RemanencePerK, -0.0012}, "coercivity coefficient": {m.CoercivityPerK, -0.006},
		"reference": {m.ReferenceC, 25}, "highest": {m.MaxTemperatureC, 80}, "density": {m.DensityKgPerM3, 7600},
	} {
		if math.Abs(c[0]-c[1]) > 1e-12*math.Abs(c[1]) {
			t.Errorf("%s is %g, want %g", what, c[0], c[1])
		}
	}
}

func TestBareMagnet(t *testing.T) {
	const c = 1e-4
	for _, k := range []struct{ solid, want shape.Solid }{
		{block(.01, .02, .03), block(.0098, .0198, .0298)},
		{shape.Ring{OuterDiameter: .03, InnerDiameter: .01, Thickness: .02}, shape.Ring{OuterDiameter: .0298, InnerDiameter: .0102, Thickness: .0198}},
		{shape.Wedge{OuterDiameter: .03, InnerDiameter: .01, Thickness: .02, To: 1}, shape.Wedge{OuterDiameter: .0298, InnerDiameter: .0102, Thickness: .0198, To: 1}},
	} {
		got := Magnet{Body: Body{Solid: k.solid}, CoatingM: c}.Bare()
		if math.Abs(got.Volume()-k.want.Volume()) > 1e-12*k.want.Volume() || got.String() != k.want.String() {
			t.Errorf("%v is %v under its coating, want %v", k.solid, got, k.want)
		}
	}
}

func TestRegionContains(t *testing.T) {
	o := r3.Vec{X: 1, Y: 2, Z: 3}
	for _, c := range []struct {
		g       Region
		in, out r3.Vec
	}{
		{Region{Shape: Sphere, DiameterM: 2}, r3.Vec{X: .57, Y: .57, Z: .57}, r3.Vec{X: .58, Y: .58, Z: .58}},
		{Region{Shape: Cylinder, DiameterM: 2, LengthM: 6, Axis: 0}, r3.Vec{X: 2.99, Y: .7, Z: .7}, r3.Vec{X: 0, Y: .71, Z: .71}},
		{Region{Shape: Cylinder, DiameterM: 2, LengthM: 6, Axis: 1}, r3.Vec{X: .7, Y: 2.99, Z: .7}, r3.Vec{X: 0, Y: 3.01, Z: 0}},
		{Region{Shape: Box, SizeM: r3.Vec{X: 2, Y: 4, Z: 6}}, r3.Vec{X: .99, Y: 1.99, Z: 2.99}, r3.Vec{X: 1.01}},
	} {
		c.g.Center = o
		if !c.g.Contains(r3.Add(o, c.in)) || c.g.Contains(r3.Add(o, c.out)) {
			t.Errorf("%+v is wrong about %v or %v", c.g, c.in, c.out)
		}
	}
}
