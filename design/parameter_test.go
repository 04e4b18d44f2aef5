package design

import (
	"bytes"
	"errors"
	"fmt"
	"math"
	"os"
	"strconv"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"polewright/mistake"
	"polewright/quantity"
)

const layoutFile = `format = 1
[layout]
kind = "framed-pair"   # two blocks in a frame
gap = "18 mm"          # free height
`

func TestSet(t *testing.T) {
	base, err := os.ReadFile("testdata/base.toml")
	if err != nil {
		t.Fatal(err)
	}
	odd := "format = 1\r\n[[magnet]]\r\n  name = \"N42.upper\" # dots in it\r\n  size = [ '60 mm' , # x\r\n    \"40 mm\",\"20 mm\" ]\r\n  shape = \"block\"\r\n  center = [\"0 mm\", \"0 mm\", \"0 mm\"]\r\n  magnetized = [0, 0, 1]\r\n  grade = \"N42\"\r\n[target]\r\nregion = { shape = \"sphere\", diameter = \"8 mm\" }"
	cases := []struct{ name, text, path, value, old, new string }{
		{"length of a layout", layoutFile, "layout.gap", "16 mm", `"18 mm"  `, `"16 mm"  `},
		{"default of a layout", layoutFile, "layout.leg", "14 mm", "# free height\n", "# free height\nleg = \"14 mm\"\n"},
		{"grade of a layout", layoutFile, "layout.grade", "N45", "# free height\n", "# free height\ngrade = \"N45\"\n"},
		{"target", string(base), "target.field", "0.7 T", `"0.6 T"`, `"0.7 T"`},
		{"entry by letter", string(base), "magnet.upper.size.z", "21 mm", `"40 mm", "20 mm"]`, `"40 mm", "21 mm"]`},
		{"entry by place", string(base), "magnet.upper.size.2", "21 mm", `"40 mm", "20 mm"]`, `"40 mm", "21 mm"]`},
		{"part by place", string(base), "magnet.0.size.1", "41 mm", `"40 mm", "20 mm"]`, `"41 mm", "20 mm"]`},
		{"inline table", string(base), "target.region.diameter", "9 mm", `"8 mm"`, `"9 mm"`},
		{"added to an inline table", string(base), "target.region.center.z", "1 mm", `"8 mm" }`, `"8 mm", center = ["0 mm", "0 mm", "1 mm"] }`},
		{"plain number", string(base), "magnet.lower.recoil", "1.1", "1.05", "1.1"},
		{"plain number as floats are written", string(base), "magnet.lower.recoil", "1.1e0", "1.05", "1.1"},
		{"direction", string(base), "magnet.upper.magnetized.x", "0.02", "magnetized = [0, 0, 1]\ngrade", "magnetized = [0.02, 0, 1]\ngrade"},
		{"steel by name", string(base), "steel.top back.material", "steel-1010", `"steel-1018"`, `"steel-1010"`},
		{"steel by place", string(base), "steel.0.material", "steel-1010", `"steel-1018"`, `"steel-1010"`},
		{"joint by place", string(base), "joint.0.thickness", "0.1 mm", `"0.05 mm"`, `"0.1 mm"`},
		{"turn that was left out", string(base), "magnet.upper.rotate.y", "0.3 deg", "grade = \"N42\"\n", "grade = \"N42\"\nrotate = [\"0 deg\", \"0.3 deg\", \"0 deg\"]\n"},
		{"name with a dot, odd layout", odd, "magnet.N42.upper.size.x", "61 mm", "'60 mm'", `"61 mm"`},
		{"added with its indent and line end", odd, "magnet.N42.upper.coating", "0.02 mm", "\"N42\"\r\n[target]", "\"N42\"\r\n  coating = \"0.02 mm\"\r\n[target]"},
		{"added at the end", odd, "target.field", "0.5 T", `"8 mm" }`, "\"8 mm\" }\nfield = \"0.5 T\""},
		{"after a byte order mark", bom + layoutFile, "layout.gap", "16 mm", `"18 mm"  `, `"16 mm"  `},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			if !strings.Contains(c.text, c.old) {
				t.Fatal("the case is out of date")
			}
			got, err := Set([]byte(c.text), c.path, c.value)
			if err != nil {
				t.Fatal(err)
			}
			if want := strings.Replace(c.text, c.old, c.new, 1); string(got) != want {
				t.Errorf("got\n%s\nwant\n%s", got, want)
			}
			p, err := Find(got, c.path)
			if err != nil || !p.Given {
				t.Errorf("the parameter is gone: %+v, %v", p, err)
			}
		})
	}
}

func TestSetSaysWhatIsWrong(t *testing.T) {
	base, err := os.ReadFile("testdata/base.toml")
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct{ text, path, value, want string }{
		{layoutFile, "layout.gpa", "1 mm", "layout.gpa: the design has no such parameter\n  hint: did you mean \"layout.gap\"?"},
		{layoutFile, "layout", "1 mm", "layout: the design has no such parameter\n  hint: there are layout.kind, layout.magnet_x, layout.magnet_y, layout.magnet_z, layout.gap, layout.side, layout.leg, layout.back"},
		{layoutFile, "", "1 mm", "the design has no such parameter\n  hint: paths are such as layout.gap"},
		{layoutFile, "layout.gap", "16", "layout.gap: \"16\": no unit\n  hint: put the unit inside the quotes, e.g. \"16 mm\" (mm, m, cm, um, in or ft)"},
		{layoutFile, "layout.gap", "16 T", `"T" is a unit of flux density`},
		{layoutFile, "layout.grade", " ", `layout.grade: "": nothing is given`},
		{layoutFile, "layout.grade", "N\n42", "signs that do not print"},
		{string(base), "magnet.lower.recoil", "1.05 T", `magnet.lower.recoil: "1.05 T": no plain number`},
		{string(base), "magnet.lower.recoil", "NaN", "no plain number"},
		{string(base), "magnet.upper.size", "1 mm", "there are magnet.upper.size.x, magnet.upper.size.y, magnet.upper.size.z"},
		{string(base), "magnet.upper.name", "other", "no such parameter"},
		{"format = 1\n[[wound]]\nwire.gauge = \"16 SWG\"\ncore.size = [\"1 mm\", \"1 mm\", \"1 mm\"]\n", "wound.0.core.corner_radius", "1 mm", `table is written with dots in its keys` + "\n  hint: add corner_radius = \"1 mm\" by hand"},
		{"format = 1\ngap = 18 mm\n", "layout.gap", "1 mm", "a quantity without quotes"},
	} {
		got, err := Set([]byte(c.text), c.path, c.value)
		if err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("Set %q to %q: %v, want %q (text: %q)", c.path, c.value, err, c.want, got)
		}
	}
}

// anyValue draws a value that a parameter of its kind can have.
func anyValue(t *rapid.T, p Parameter) string {
	switch p.Kind {
	case Number:
		return strconv.FormatFloat(rapid.Float64Range(0.5, 64).Draw(t, "number"), 'g', rapid.IntRange(1, 12).Draw(t, "digits"), 64)
	case Text:
		return rapid.StringMatching(`[A-Za-z0-9"\\#= '.-]{0,10}[A-Z0-9"\\]`).Draw(t, "text")
	}
	unit := rapid.SampledFrom(quantity.Units(p.Dimension)).Draw(t, "unit")
	return fmt.Sprintf("%.*g %s", rapid.IntRange(1, 9).Draw(t, "digits"), rapid.Float64Range(0.001, 90).Draw(t, "size"), unit)
}

// What Set writes is what is found there afterwards, no other parameter changes, no other byte does, and the present value changes nothing.
func TestSetChangesOneThing(t *testing.T) {
	texts := []string{layoutFile}
	for _, kind := range Layouts() {
		text, err := Template(kind)
		if err != nil {
			t.Fatal(err)
		}
		texts = append(texts, text, strings.ReplaceAll(text, "\n", "\r\n"))
	}
	rapid.Check(t, func(t *rapid.T) {
		text := []byte(rapid.SampledFrom(texts).Draw(t, "file"))
		before, err := Parameters(text)
		if err != nil {
			t.Fatal(err)
		}
		p := rapid.SampledFrom(before).Draw(t, "parameter")
		if p.Path == "layout.kind" || strings.HasSuffix(p.Path, ".shape") {
			t.Skip("another kind has other parameters")
		}
		if same, err := Set(text, p.Path, p.Value); p.Given && (err != nil || !bytes.Equal(same, text)) {
			t.Fatalf("setting %+v to what it is changes it: %v", p, err)
		}
		value := anyValue(t, p)
		got, err := Set(text, p.Path, value)
		if _, refused := err.(*mistake.Error); refused && p.Kind == Quantity { // out of all proportion
			return
		}
		if err != nil {
			t.Fatalf("%s = %s: %v", p.Path, value, err)
		}
		// One stretch of bytes differs, and it is no longer than what was written.
		head := 0
		for head < min(len(text), len(got)) && text[head] == got[head] {
			head++
		}
		tail := 0
		for tail < min(len(text), len(got))-head && text[len(text)-1-tail] == got[len(got)-1-tail] {
			tail++
		}
		if p.Given && bytes.ContainsAny(got[head:len(got)-tail], "\n#=") && !strings.ContainsAny(value, "#=") {
			t.Fatalf("%s = %s changed %q to %q", p.Path, value, text[head:len(text)-tail], got[head:len(got)-tail])
		}
		if !p.Given && head+tail < len(text) {
			t.Fatalf("%s = %s was added and took %q away", p.Path, value, text[head:len(text)-tail])
		}
		after, err := Parameters(got)
		if err != nil {
			t.Fatal(err)
		}
		now := map[string]Parameter{}
		for _, q := range after {
			now[q.Path] = q
		}
		for _, q := range before {
			want, found := q.Value, now[q.Path]
			if q.Path == p.Path {
				want = strings.TrimSpace(value)
				if p.Kind == Number {
					x, _ := strconv.ParseFloat(value, 64)
					y, err := strconv.ParseFloat(found.Value, 64)
					if err != nil || math.Abs(x-y) > 0 {
						t.Fatalf("%s = %s is now %q", p.Path, value, found.Value)
					}
					continue
				}
			}
			if found.Value != want {
				t.Fatalf("after %s = %s: %s is %q, want %q", p.Path, value, q.Path, found.Value, want)
			}
		}
	})
}

// Several changes at once give what they give one after the other.
func TestSetAtOnce(t *testing.T) {
	base, err := os.ReadFile("testdata/base.toml")
	if err != nil {
		t.Fatal(err)
	}
	rapid.Check(t, func(t *rapid.T) {
		text := rapid.SampledFrom([][]byte{base, []byte(layoutFile)}).Draw(t, "file")
		e, err := NewEditor(text)
		if err != nil {
			t.Fatal(err)
		}
		list := e.Parameters()
		var changes []Change
		seen := map[string]bool{}
		for range rapid.IntRange(0, 6).Draw(t, "changes") {
			p := rapid.SampledFrom(list).Draw(t, "parameter")
			if seen[p.Path] || p.Kind != Quantity {
				continue
			}
			seen[p.Path] = true
			changes = append(changes, Change{p.Path, fmt.Sprintf("%d %s", rapid.IntRange(1, 9).Draw(t, "value"), p.Unit())})
		}
		got, err := e.Set(changes...)
		if err != nil {
			t.Fatal(err)
		}
		after, err := NewEditor(got)
		if err != nil {
			t.Fatal(err)
		}
		for _, c := range changes {
			if p, err := after.Find(c.Path); err != nil || p.Value != c.Value || !p.Given {
				t.Fatalf("%v: %+v, %v\n%s", c, p, err, got)
			}
		}
	})
	e, err := NewEditor([]byte(layoutFile))
	if err != nil {
		t.Fatal(err)
	}
	if _, err := e.Set(Change{"layout.gap", "1 mm"}, Change{"layout.gap", "2 mm"}); err == nil {
		t.Error("a parameter was set twice at once")
	}
}

// Read gives what was set.
func TestSetThenRead(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		lengths := []string{"magnet_x", "magnet_y", "magnet_z", "gap", "side", "leg", "back"}
		name := rapid.SampledFrom(lengths).Draw(t, "length")
		mm := float64(rapid.IntRange(10, 90_000).Draw(t, "um")) / 1000
		text, err := Set([]byte(layoutFile), "layout."+name, fmt.Sprintf("%g mm", mm))
		if err != nil {
			t.Fatal(err)
		}
		d, err := Read(bytes.NewReader(text), "")
		if err != nil {
			t.Fatal(err)
		}
		if got := d.Layout.Lengths[name]; math.Abs(got-mm/1000) > 1e-15 {
			t.Fatalf("%s set to %g mm is read as %g m", name, mm, got)
		}
	})
}

func TestParametersKnowTheirUnits(t *testing.T) {
	list, err := Parameters([]byte(layoutFile))
	if err != nil {
		t.Fatal(err)
	}
	want := map[string]string{"layout.gap": "18 mm true mm 4", "layout.leg": "12 mm false mm 2", "layout.grade": "N42 false  2", "layout.kind": "framed-pair true  3"}
	for _, p := range list {
		if w, ok := want[p.Path]; ok {
			if got := fmt.Sprintf("%s %t %s %d", p.Value, p.Given, p.Unit(), p.Line); got != w {
				t.Errorf("%s: %s, want %s", p.Path, got, w)
			}
			delete(want, p.Path)
		}
	}
	if len(want) > 0 {
		t.Errorf("not listed: %v", want)
	}
}

func FuzzSet(f *testing.F) {
	base, err := os.ReadFile("testdata/base.toml")
	if err != nil {
		f.Fatal(err)
	}
	f.Add(string(base), "magnet.upper.size.z", "21 mm")
	f.Add(string(base), "magnet.upper.rotate.x", "1 deg")
	f.Add(layoutFile, "layout.leg", "14 mm")
	f.Add(bom+layoutFile, "layout.grade", `N"4\2`)
	f.Add("format = 1\n[layout]\nkind = 'round-pot'\ngap = '''18 mm'''", "layout.gap", "1 in")
	f.Fuzz(func(t *testing.T, text, path, value string) {
		got, err := Set([]byte(text), path, value)
		var known *mistake.Error
		switch {
		case err == nil:
			p, err := Find(got, path)
			if err != nil || !p.Given {
				t.Fatalf("%q in %q: gone after it was set: %v", path, text, err)
			}
			again, err := Set(got, path, p.Value)
			if err != nil || !bytes.Equal(again, got) {
				t.Fatalf("%q in %q: not the same when set to what it is: %v", path, text, err)
			}
		case !errors.As(err, &known):
			t.Fatalf("an error of no known kind: %v", err)
		}
	})
}

func ExampleSet() {
	text := []byte("format = 1\n[layout]\nkind = \"framed-pair\"\ngap = \"18 mm\" # free height\n")
	text, _ = Set(text, "layout.gap", "16 mm")
	text, _ = Set(text, "layout.leg", "14 mm") // left out so far
	fmt.Print(string(text))
	_, err := Set(text, "layout.lag", "14 mm")
	fmt.Println(err)
	// Output:
	// format = 1
	// [layout]
	// kind = "framed-pair"
	// gap = "16 mm" # free height
	// leg = "14 mm"
	// layout.lag: the design has no such parameter
	//   hint: did you mean "layout.leg"?
}
