package design

import (
	"bytes"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	gotoml "github.com/pelletier/go-toml/v2"
	"github.com/santhosh-tekuri/jsonschema/v6"
	"pgregory.net/rapid"

	"polewright/quantity"
)

// compiled is the schema as a validator of others reads it (github.com/santhosh-tekuri/jsonschema, which passes the JSON-Schema-Test-Suite).
func compiled(t testing.TB) *jsonschema.Schema {
	t.Helper()
	doc, err := jsonschema.UnmarshalJSON(bytes.NewReader(Schema()))
	if err != nil {
		t.Fatal(err)
	}
	c := jsonschema.NewCompiler()
	if err := c.AddResource("design.json", doc); err != nil {
		t.Fatal(err)
	}
	s, err := c.Compile("design.json")
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// validate reads TOML as an editor does, by another door than our reader, and asks the schema.
func validate(s *jsonschema.Schema, text string) error {
	var v map[string]any
	if err := gotoml.Unmarshal([]byte(text), &v); err != nil {
		return err
	}
	return s.Validate(plainTree(v))
}

// plainTree turns numbers into what a decoder of JSON gives.
func plainTree(v any) any {
	switch v := v.(type) {
	case map[string]any:
		for k := range v {
			v[k] = plainTree(v[k])
		}
	case []any:
		for i := range v {
			v[i] = plainTree(v[i])
		}
	case int64:
		return float64(v)
	}
	return v
}

// goodDesigns are all that the program itself writes or is tested with, by name.
func goodDesigns(t *testing.T) map[string]string {
	t.Helper()
	good := map[string]string{}
	for _, kind := range Layouts() {
		text, err := Template(kind)
		if err != nil {
			t.Fatal(err)
		}
		good[kind] = text
		good[kind+" in short"] = fmt.Sprintf("format = 1\n[layout]\nkind = %q\n%s", kind, DescribeLayout(kind))
	}
	for _, pattern := range []string{"testdata/*.toml", "../published/design/*.toml", "../web/testdata/*.toml", "../cmd/polewright/testdata/*.toml"} {
		files, err := filepath.Glob(pattern)
		if err != nil {
			t.Fatal(err)
		}
		for _, f := range files {
			text, err := os.ReadFile(f)
			if err != nil {
				t.Fatal(err)
			}
			if _, err := ReadFile(f); err == nil {
				good[f] = string(text)
			}
		}
	}
	if len(good) < 2*len(Layouts())+2 {
		t.Fatalf("only %d designs", len(good))
	}
	return good
}

func TestSchemaTakesDesigns(t *testing.T) {
	s := compiled(t)
	for name, text := range goodDesigns(t) {
		if err := validate(s, text); err != nil {
			t.Errorf("%s: %v", name, err)
		}
	}
}

// Mistakes in the writing of a file that the reader refuses are refused by the schema too.
func TestSchemaRefusesMistakes(t *testing.T) {
	s := compiled(t)
	base, err := Template("framed-pair")
	if err != nil {
		t.Fatal(err)
	}
	wound, err := Template("wound-pair")
	if err != nil {
		t.Fatal(err)
	}
	const magnet = "\n[[magnet]]\nname = \"more\"\nshape = \"block\"\nsize = [\"1 mm\", \"1 mm\", \"1 mm\"]\ncenter = [\"900 mm\", \"0 mm\", \"0 mm\"]\nmagnetized = [0, 0, 1]\n"
	const layout = "format = 1\n[layout]\nkind = \"facing-pair\"\n"
	cases := []struct{ name, text string }{
		{"no format", strings.Replace(base, "format = 1", "", 1)},
		{"another format", strings.Replace(base, "format = 1", "format = 2", 1)},
		{"unknown key", base + "\ncolour = \"red\"\n"},
		{"unknown table", base + "\n[[iron]]\nname = \"a\"\n"},
		{"single brackets", "format = 1\n[magnet]\nname = \"a\"\n"},
		{"no shape", base + strings.Replace(magnet, "shape = \"block\"\n", "", 1) + "grade = \"N42\"\n"},
		{"unknown shape", base + strings.Replace(magnet, "block", "blok", 1) + "grade = \"N42\"\n"},
		{"key of another shape", base + magnet + "grade = \"N42\"\ndiameter = \"3 mm\"\n"},
		{"no size", base + strings.Replace(magnet, "size = [\"1 mm\", \"1 mm\", \"1 mm\"]\n", "", 1) + "grade = \"N42\"\n"},
		{"two sizes", base + strings.Replace(magnet, "[\"1 mm\", \"1 mm\", \"1 mm\"]", "[\"1 mm\", \"1 mm\"]", 1) + "grade = \"N42\"\n"},
		{"no unit", base + strings.Replace(magnet, "[\"1 mm\", ", "[\"1\", ", 1) + "grade = \"N42\"\n"},
		{"bare number", base + strings.Replace(magnet, "[\"1 mm\", ", "[1, ", 1) + "grade = \"N42\"\n"},
		{"unit of another kind", base + strings.Replace(magnet, "[\"1 mm\", ", "[\"1 T\", ", 1) + "grade = \"N42\"\n"},
		{"a size of zero", base + strings.Replace(magnet, "[\"1 mm\", ", "[\"0.0 mm\", ", 1) + "grade = \"N42\"\n"},
		{"a size below zero", base + strings.Replace(magnet, "[\"1 mm\", ", "[\"-1 mm\", ", 1) + "grade = \"N42\"\n"},
		{"direction in quotes", base + strings.Replace(magnet, "[0, 0, 1]", "[\"0\", \"0\", \"1\"]", 1) + "grade = \"N42\"\n"},
		{"neither grade nor remanence", base + magnet},
		{"both grade and remanence", base + magnet + "grade = \"N42\"\nremanence = \"1.3 T\"\nrecoil = 1.05\n"},
		{"remanence without recoil", base + magnet + "remanence = \"1.3 T\"\n"},
		{"knee beside a grade", base + magnet + "grade = \"N42\"\nknee = \"900 kA/m\"\n"},
		{"recoil below one", base + magnet + "remanence = \"1.3 T\"\nrecoil = 0.5\n"},
		{"coating below zero", base + magnet + "grade = \"N42\"\ncoating = \"-0.01 mm\"\n"},
		{"turns and build", strings.Replace(wound, "[[wound]]", "[[wound]]\nturns = 10\nbuild = \"12 mm\"", 1)},
		{"half a turn", layout + "segments = 8\n"},
		{"unknown layout", strings.Replace(layout, "facing", "fencing", 1)},
		{"length of another layout", layout + "back = \"20 mm\"\n"},
		{"halves of segments", "format = 1\n[layout]\nkind = \"halbach-wedges\"\nsegments = 8.5\n"},
		{"too few segments", "format = 1\n[layout]\nkind = \"halbach-wedges\"\nsegments = 2\n"},
		{"cost without a currency", layout + "[target]\ncost = \"500\"\n"},
		{"stray without a distance", layout + "[target]\nstray = { limit = \"0.5 mT\" }\n"},
		{"sphere with a size", layout + "[target]\nregion = { shape = \"sphere\", diameter = \"8 mm\", size = [\"1 mm\", \"1 mm\", \"1 mm\"] }\n"},
		{"spread without a unit", layout + "[tolerance]\ngap = 0.1\n"},
		{"joint of one", base + "\n[[joint]]\nbetween = [\"upper\"]\nthickness = \"0.1 mm\"\n"},
		{"section without a plane", base + "\n[[section]]\nname = \"s\"\npart = \"upper\"\nat = \"0 mm\"\n"},
	}
	for _, c := range cases {
		if _, err := Read(strings.NewReader(c.text), ""); err == nil {
			t.Errorf("%s: the reader takes it", c.name)
		}
		if err := validate(s, c.text); err == nil {
			t.Errorf("%s: the schema takes it", c.name)
		}
	}
}

// Every table and key says what it is for, and nothing is said of one that is not there.
func TestEveryKeyHasItsMeaning(t *testing.T) {
	used := map[string]bool{}
	tables := 0
	var look func(*Table)
	look = func(at *Table) {
		tables++
		used[at.Path] = true
		if at.Meaning == "" {
			t.Errorf("[%s] lacks its line in meanings of design/meaning.go", at.Path)
		}
		for _, v := range at.Variants {
			for _, k := range v.Keys {
				path := strings.TrimPrefix(at.Path+"."+k.Name, ".")
				used[path] = true
				_, after, _ := strings.Cut(path, ".")
				if _, own := meanings[path]; !own {
					used["*."+after] = true
				}
				if k.Meaning == "" {
					t.Errorf("%s lacks its line in meanings of design/meaning.go", path)
				}
				if k.Table != nil {
					look(k.Table)
				}
			}
		}
	}
	look(Keys())
	if tables < 12 {
		t.Errorf("only %d tables were found", tables)
	}
	for path := range meanings {
		if !used[path] {
			t.Errorf("meanings of design/meaning.go says what %q is for, and the reader never asks for it", path)
		}
	}
}

// The pattern of a quantity takes what the parser takes, signs and zero as the rule of the key says.
func TestPatternIsTheParser(t *testing.T) {
	number := rapid.StringMatching(`[-+]?([0-9]{1,3}(\.[0-9]{0,3})?|\.[0-9]{1,3})([eE][-+]?[0-9])?`)
	rapid.Check(t, func(t *rapid.T) {
		d := quantity.Dimension(rapid.IntRange(0, int(quantity.Difference)).Draw(t, "dimension"))
		of := quantity.Dimension(rapid.IntRange(0, int(quantity.Difference)).Draw(t, "dimension of the unit"))
		text := number.Draw(t, "number") + rapid.SampledFrom([]string{"", " ", "  "}).Draw(t, "space") + rapid.SampledFrom(quantity.Names(of)).Draw(t, "unit")
		x, err := quantity.Parse(text, d)
		for _, k := range []Key{{Kind: Quantity, Dimension: d}, {Kind: Quantity, Dimension: d, NotBelow0: true}, {Kind: Quantity, Dimension: d, Positive: true}} {
			c := jsonschema.NewCompiler()
			if err := c.AddResource("one.json", map[string]any{"pattern": k.pattern()}); err != nil {
				t.Fatal(err)
			}
			s, cerr := c.Compile("one.json")
			if cerr != nil {
				t.Fatal(cerr)
			}
			taken := s.Validate(text) == nil
			if err != nil && strings.Contains(err.Error(), "out of all proportion") {
				continue // size is not the pattern's to see
			}
			if k.Dimension == quantity.Temperature || k.Dimension == quantity.Coefficient {
				k.Positive, k.NotBelow0 = false, false // no key has such a rule
				continue
			}
			want := err == nil && (!k.NotBelow0 || x >= 0) && (!k.Positive || x > 0)
			if strings.HasPrefix(text, "-") && x == 0 && k.NotBelow0 {
				continue // "-0 mm" is zero; the pattern wants it without the sign
			}
			if taken != want {
				t.Fatalf("%q as %v, %+v: the pattern says %v, the parser %v (%v)", text, d, k, taken, x, err)
			}
		}
	})
}
