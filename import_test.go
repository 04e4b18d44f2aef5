package polewright_test

import (
	"fmt"
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"maps"
	"os"
	"path"
	"slices"
	"strconv"
	"strings"
	"testing"
	"testing/fstest"
)

// This file holds the arrows between the packages: who may import whom, and what for. A new package or a new arrow fails until it has its
// line here, with its reason; a line that nothing needs any more fails too.

// module is the path that all packages of the project begin with; "." stands for the package at its root.
const module = "polewright"

// arrows lists, for each package, the packages of the module that it may import, its tests included. They run downward only: what holds
// numbers, materials and shapes knows no fields, what solves fields knows no designs, and only the root brings both together.
var arrows = map[string]map[string]string{
	"quantity": {
		"mistake": "what was given in place of a quantity",
	},
	"material": {
		"mistake":  "what is wrong in a curve, and names that there are not",
		"spelling": "the nearest grades to one that there is not",
	},
	"spelling": {},
	"mistake":  {},
	"table": {
		"mistake":  "what is wrong in a table",
		"quantity": "columns have units, prices a currency",
		"spelling": "the column that was meant",
	},
	"glossary": {},
	"harmonic": {},
	"shape":    {},
	"asbuilt":  {},
	"pairing":  {},
	"measurement": {
		"mistake":  "what is wrong in a log",
		"quantity": "the columns of a log have units",
		"table":    "logs and lists of pieces are tables",
	},
	"winding": {
		"mistake":  "what cannot be wound",
		"quantity": "the columns of a winding log have units",
		"table":    "a winding log is a table",
	},
	"result": {
		"harmonic": "directions that cover a sphere",
	},
	"report": {
		"result":  "the numbers it turns into text",
		"safety":  "the safety card as text",
		"winding": "the winding sheet as text",
	},
	"safety": {
		"material": "mu0, and the density of steel in tools",
	},
	"stock": {
		"design":   "the parts to buy for",
		"material": "grades, metals and their densities",
		"mistake":  "what is wrong in a list",
		"quantity": "sizes have units, costs a currency",
		"shape":    "the bodies of the parts",
		"spelling": "the shape that was meant",
		"table":    "a list is a table",
	},
	"draw": {
		"design": "the parts of a design, their materials and masses",
		"facet":  "cuts through round bodies, surfaces of parts",
		"shape":  "outlines and places of bodies",
	},
	"circuit": {
		"material": "magnetization curves, mu0",
	},
	"facet": {
		"shape": "the bodies whose surfaces it cuts into triangles",
	},
	"buildorder": {},
	"fieldfile": {
		"mistake": "formats that there are not",
	},
	"fieldmap": {
		".":      "the field of a solved design",
		"design": "the parts of a design",
		"draw":   "parts, and their surfaces to cut",
		"report": "the map that it fills",
	},
	"freefield": {
		"material": "mu0",
		"shape":    "the bodies whose fields it knows",
	},
	"plan": {
		"shape": "outlines are loops of a shape's edges",
	},
	"design": {
		"material": "parts name grades, steels, wires and spacers' metals",
		"mistake":  "what is wrong in a design file",
		"quantity": "every number in a design file has a unit",
		"shape":    "parts are solids in their places",
		"spelling": "the key or name that was meant",
	},
	"jobs": {
		"mistake": "errors of files without their paths",
	},
	"linesearch": {},
	"wholefile":  {},
	"axisymmetric": {
		"linesearch": "how far a step of Newton's method goes",
		"material":   "magnetization curves, mu0",
		"plan":       "meshes of the half plane, prolongations",
		"shape":      "sections are loops of a shape's edges",
	},
	"grid": {
		"plan":  "a grid is a plan times layers",
		"shape": "outlines of the bodies it follows",
	},
	"magnetostatic": {
		"freefield":  "exact sources for magnets that the grid does not follow",
		"grid":       "the cells on which it solves",
		"harmonic":   "expansions in the gap and outside",
		"linesearch": "how far a step of Newton's method goes",
		"material":   "magnetization curves, mu0",
		"plan":       "triangles, prolongations",
		"shape":      "points within bodies that are exact sources",
	},
	".": {
		"asbuilt":       "compares readings with the prediction",
		"measurement":   "logs of readings, lists of measured magnets",
		"pairing":       "which measured magnet goes where",
		"axisymmetric":  "solves bodies of revolution",
		"buildorder":    "the steps of the assembly that it solves",
		"circuit":       "first sizes from a target",
		"design":        "the one place where a design becomes bodies and media",
		"freefield":     "magnets and coils alone need no grid",
		"grid":          "lays the grids",
		"harmonic":      "expansions of the field in the gap and outside",
		"magnetostatic": "solves",
		"material":      "remanence at temperature, knees, mu0",
		"mistake":       "what cannot be done with a design or readings",
		"quantity":      "lengths of the design files that size writes",
		"result":        "what it returns",
		"safety":        "cautions from the result's figures",
		"shape":         "bounds and sections of parts",
		"spelling":      "the part that a group means",
		"stock":         "sizes that can be bought, and what they cost",
		"tolerance":     "draws builds, takes their figures",
		"winding":       "the sheet of a wound yoke",
	},
	"papers": {
		".":        "the solved design: its field, stray field and unsafe points",
		"design":   "what the file asks for",
		"draw":     "sheets, parts list",
		"fieldmap": "field maps",
		"material": "demagnetization curves at temperature",
		"report":   "pictures, numbers to text",
		"result":   "the numbers it prints",
		"safety":   "limits, pull on tools",
		"stock":    "what to buy and its cost",
		"winding":  "the winding sheet",
	},
	"web": {
		".":             "solves, sizes, brings halves together",
		"design":        "reads and changes the text of a design",
		"draw":          "parts list, drawings",
		"facet":         "parts as triangles",
		"jobs":          "the queue of a study",
		"magnetostatic": "tells a field that did not converge from other errors",
		"material":      "demagnetization curves, grades and steels to choose from",
		"measurement":   "logs of readings, the probe's area",
		"mistake":       "hands on what is wrong",
		"papers":        "the build papers",
		"quantity":      "units that a parameter takes",
		"report":        "charts to keep",
		"result":        "the numbers it hands on",
		"safety":        "the safety card",
		"stock":         "lists of stock and bills",
		"study":         "sweeps and searches",
		"wholefile":     "saves designs and studies",
		"winding":       "the winding sheet",
	},
	"cmd/polewright": {
		".":             "the one pipeline",
		"design":        "reads the file, writes a layout's template",
		"draw":          "drawings of the parts and the assembly",
		"facet":         "solids of the parts as STL",
		"fieldfile":     "the field on a grid, as files",
		"fieldmap":      "pictures of the demo's fields",
		"glossary":      "what terms, warnings and cautions mean",
		"measurement":   "logs of readings, the probe's area",
		"magnetostatic": "tells a field that did not converge from other errors",
		"mistake":       "what is wrong on the command line or in a file",
		"papers":        "the build papers",
		"published":     "problems with published answers, for check",
		"quantity":      "the place of a plane has a unit",
		"report":        "numbers to text, pictures",
		"result":        "what it prints",
		"safety":        "the safety card, as JSON",
		"jobs":          "the queue of a study",
		"shape":         "outlines of parts in pictures, bounds for planes",
		"spelling":      "the command, flag or file that was meant",
		"stock":         "lists of stock and bills",
		"study":         "sweeps and searches",
		"web":           "the bench",
		"wholefile":     "writes what -o names",
		"winding":       "the winding sheet needs no field",
	},
	"study": {
		".":        "solves cases, guesses by the circuit, applies deviations",
		"design":   "parameters by path, what varies in a file",
		"jobs":     "each case is a job",
		"material": "curve files that a case takes along",
		"mistake":  "what a study cannot be asked for",
		"quantity": "ranges, limits and values have units",
		"report":   "charts of a table",
		"result":   "figures are taken from it",
		"spelling": "the figure that was meant",
		"stock":    "what a case costs",
	},
	"tolerance": {},
	"handbook": {
		"design":   "the reference of the design file",
		"glossary": "the chapter of terms, warnings and cautions",
	},
	"docs/build": {
		"handbook": "reads, checks and writes the pages",
	},
	"published": {
		".":            "solves designs as the command line does",
		"axisymmetric": "a sphere fits no design file",
		"design":       "reads the designs of its problems",
		"asbuilt":      "fits with certified answers",
		"freefield":    "closed forms",
		"material":     "mu0, ideal iron, wire, curves",
		"mistake":      "what is no page of checks",
		"quantity":     "factors of units",
		"result":       "what a solved design gives",
		"safety":       "limits for people, factors of ellipsoids",
		"shape":        "the bodies of its problems",
		"tolerance":    "shares of causes that are known",
		"winding":      "packing of wires",
	},
	"release": {}, // a module of its own
	"speed": {
		".":         "the solves that it times",
		"design":    "designs to read and solve",
		"wholefile": "stores what it measures",
	},
	"bench": {
		".":      "the solver that it measures",
		"design": "the demo's design",
	},
}

// kept lists paths (and what lies below them) that only some packages may import, tests apart.
var kept = []struct {
	path string
	by   []string
	why  string
}{
	{"flag", []string{"cmd/polewright", "docs/build", "bench", "release", "speed"}, "only a command has flags"},
	{"github.com/spf13", []string{"cmd/polewright"}, "only a command has flags"},
	{"os/exec", []string{"cmd/polewright", "docs/build", "bench", "release"}, "a library starts no program"},
	{"net", []string{"cmd/polewright", "web"}, "a library opens no connection"},
	{"log", []string{"cmd/polewright"}, "a library never prints: it returns an error or calls Progress"},
	{"github.com/nats-io", []string{"jobs"}, "one queue for all studies"},
	{"github.com/parquet-go", []string{"study"}, "tables are written in one place"},
	{"github.com/pelletier/go-toml", []string{"design"}, "one reader for one format"},
	{"gonum.org/v1/plot", []string{"report", "papers"}, "pictures are drawn in one place, and put on pages in another"},
	{"github.com/yuin/goldmark", []string{"handbook"}, "Markdown becomes HTML in one place"},
	{"github.com/santhosh-tekuri/jsonschema", nil, "it is for tests"},
	{"codeberg.org/go-pdf/fpdf", []string{"papers"}, "pages are set in one place"},
	{"pgregory.net/rapid", nil, "it is for tests"},
	{"github.com/rogpeppe/go-internal", nil, "it is for tests"},
	{"testing", nil, "it is for tests"},
}

// silent names what would make a library print or exit.
var silent = map[string][]string{
	"fmt": {"Print", "Printf", "Println"},
	"os":  {"Exit", "Stdout", "Stderr"},
}

func TestImports(t *testing.T) {
	found, err := importFaults(os.DirFS("."), arrows)
	if err != nil {
		t.Fatal(err)
	}
	for _, f := range found {
		t.Error(f)
	}
}

// importFaults reads all Go files of a module, whatever their build tags, and says what breaks the rules.
func importFaults(tree fs.FS, arrows map[string]map[string]string) (faults []string, err error) {
	used := map[string]map[string]bool{} // arrows, tests apart
	files := token.NewFileSet()
	add := func(at token.Pos, format string, args ...any) {
		faults = append(faults, fmt.Sprintf("%s: %s", files.Position(at), fmt.Sprintf(format, args...)))
	}
	err = fs.WalkDir(tree, ".", func(name string, d fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		if base := path.Base(name); d.IsDir() {
			if name != "." && (base == "testdata" || base[0] == '.' || base[0] == '_') { // as the go command does
				return fs.SkipDir
			}
			return nil
		} else if path.Ext(base) != ".go" {
			return nil
		}
		text, err := fs.ReadFile(tree, name)
		if err != nil {
			return err
		}
		file, err := parser.ParseFile(files, name, text, parser.SkipObjectResolution)
		if err != nil {
			return err
		}
		pkg, test := path.Dir(name), strings.HasSuffix(name, "_test.go")
		allowed, known := arrows[pkg]
		if used[pkg] == nil {
			used[pkg] = map[string]bool{}
			if !known {
				add(file.Pos(), "package %q has no line in arrows of import_test.go: say what it may import, and why", pkg)
			}
		}
		for _, imp := range file.Imports {
			to, err := strconv.Unquote(imp.Path.Value)
			if err != nil {
				return err
			}
			if inner, ok := within(to, module); ok {
				if inner == pkg {
					continue // an external test of the package itself
				}
				if known && allowed[inner] == "" {
					add(imp.Pos(), "%q may not import %q", pkg, inner)
				}
				used[pkg][inner] = used[pkg][inner] || !test
			}
			for _, k := range kept {
				if _, ok := within(to, k.path); ok && !test && !slices.Contains(k.by, pkg) {
					add(imp.Pos(), "%q may not import %s: %s", pkg, to, k.why)
				}
			}
		}
		if !test && file.Name.Name != "main" {
			noises(file, add)
		}
		return nil
	})
	for pkg, list := range arrows {
		if used[pkg] == nil {
			faults = append(faults, fmt.Sprintf("package %q has a line in arrows of import_test.go and no Go file", pkg))
			continue
		}
		for to, why := range list {
			if !used[pkg][to] {
				faults = append(faults, fmt.Sprintf("%q does not import %q any more (%s): take the line out", pkg, to, why))
			}
			if why == "" {
				faults = append(faults, fmt.Sprintf("the arrow from %q to %q lacks its reason", pkg, to))
			}
		}
	}
	slices.Sort(faults)
	return faults, err
}

// within tells whether an import path is a given one or lies below it, and gives the rest of it, "." for none.
func within(path, above string) (rest string, ok bool) {
	if path == above {
		return ".", true
	}
	return strings.CutPrefix(path, above+"/")
}

// noises finds what makes a library print or exit.
func noises(file *ast.File, add func(at token.Pos, format string, args ...any)) {
	names := map[string][]string{} // what is forbidden of each package, by its name in this file
	for _, imp := range file.Imports {
		p, _ := strconv.Unquote(imp.Path.Value)
		name := path.Base(p)
		if imp.Name != nil {
			name = imp.Name.Name
		}
		if name == "." {
			add(imp.Pos(), "a dot import hides where a name comes from")
		}
		names[name] = silent[p]
	}
	ast.Inspect(file, func(n ast.Node) bool {
		switch n := n.(type) {
		case *ast.SelectorExpr:
			if x, ok := n.X.(*ast.Ident); ok && slices.Contains(names[x.Name], n.Sel.Name) {
				add(n.Pos(), "a library never prints or exits: %s.%s", x.Name, n.Sel.Name)
			}
		case *ast.CallExpr:
			if f, ok := n.Fun.(*ast.Ident); ok && (f.Name == "print" || f.Name == "println") {
				add(n.Pos(), "a library never prints: %s", f.Name)
			}
		}
		return true
	})
}

// Every rule of importFaults catches its own fault, and nothing else does.
func TestImportRulesBite(t *testing.T) {
	sound := map[string]string{
		"root.go":                    `package polewright; import "polewright/low"; var _ = low.X`,
		"root_test.go":               `package polewright_test; import ("flag"; "os"; "fmt"; "testing"; "polewright"; "pgregory.net/rapid"); func f() { fmt.Println(); os.Exit(1) }`,
		"low/low.go":                 `package low; import "fmt"; var X = fmt.Sprint()`,
		"cmd/polewright/main.go":     `package main; import ("fmt"; "os"; "polewright"; "github.com/spf13/cobra"); func main() { fmt.Println(); os.Exit(2) }`,
		"low/testdata/other/any.go":  `package any; import "polewright"`,
		".hidden/any.go":             `not Go at all`,
		"docs/notes.md":              `# nothing`,
		"cmd/polewright/testdata/go": ``,
	}
	rules := map[string]map[string]string{".": {"low": "reason"}, "low": {}, "cmd/polewright": {".": "reason"}}
	cases := []struct{ name, file, text, want string }{
		{"sound", "", "", ""},
		{"upward", "low/up.go", `package low; import "polewright"`, `low/up.go:1:21: "low" may not import "."`},
		{"upward in a test", "low/up_test.go", `package low; import "polewright"`, `"low" may not import "."`},
		{"upward with a build tag", "low/up.go", "//go:build never\n\npackage low\nimport \"polewright\"", `"low" may not import "."`},
		{"unknown package", "other/other.go", `package other`, `package "other" has no line`},
		{"missing package", "low/low.go", "", `package "low" has a line`},
		{"arrow not used", "root.go", `package polewright`, `does not import "low" any more`},
		{"arrow used in a test only", "root.go", `package polewright`, `does not import "low" any more`},
		{"flags", "low/bad.go", `package low; import "flag"`, `may not import flag`},
		{"cobra", "bad.go", `package polewright; import "github.com/spf13/cobra"`, `may not import github.com/spf13/cobra`},
		{"programs", "low/bad.go", `package low; import "os/exec"`, `may not import os/exec`},
		{"network", "low/bad.go", `package low; import "net/http"`, `may not import net/http`},
		{"log", "low/bad.go", `package low; import "log"`, `may not import log`},
		{"rapid", "low/bad.go", `package low; import "pgregory.net/rapid"`, `may not import pgregory.net/rapid`},
		{"toml", "low/bad.go", `package low; import "github.com/pelletier/go-toml/v2"`, `one reader`},
		{"exit", "low/bad.go", `package low; import "os"; func f() { os.Exit(1) }`, `os.Exit`},
		{"exit renamed", "low/bad.go", `package low; import o "os"; func f() { o.Exit(1) }`, `o.Exit`},
		{"print", "low/bad.go", `package low; import "fmt"; func f() { fmt.Println() }`, `fmt.Println`},
		{"print to standard error", "low/bad.go", `package low; import ("fmt"; "os"); func f() { fmt.Fprintln(os.Stderr) }`, `os.Stderr`},
		{"builtin", "low/bad.go", `package low; func f() { println() }`, `println`},
		{"dot", "low/bad.go", `package low; import . "fmt"; func f() { Println() }`, `dot import`},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			text := maps.Clone(sound)
			if c.name == "arrow used in a test only" {
				text["more_test.go"] = `package polewright; import "polewright/low"`
			}
			if c.file != "" {
				text[c.file] = c.text
			}
			tree := fstest.MapFS{}
			for name, s := range text {
				if s != "" || path.Ext(name) != ".go" {
					tree[name] = &fstest.MapFile{Data: []byte(s)}
				}
			}
			found, err := importFaults(tree, rules)
			if err != nil {
				t.Fatal(err)
			}
			if c.want == "" {
				if len(found) > 0 {
					t.Errorf("a sound tree has faults: %q", found)
				}
				return
			}
			if len(found) != 1 || !strings.Contains(found[0], c.want) {
				t.Errorf("got %q, want one fault with %q", found, c.want)
			}
		})
	}
}
