package glossary

import (
	"go/ast"
	"go/parser"
	"go/token"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"
)

func TestEntriesAreComplete(t *testing.T) {
	seen := map[string]string{}
	for _, e := range Entries() {
		if e.Term == "" || e.Text == "" || e.Matters == "" && e.Do == "" {
			t.Errorf("%+v lacks something", e)
		}
		if (len(e.Says) > 0 || e.Caution != "") && e.Do == "" {
			t.Errorf("%q does not say what to do", e.Term)
		}
		for _, name := range append([]string{e.Term}, e.Also...) {
			if other, twice := seen[name]; twice {
				t.Errorf("%q stands for %q and %q", name, other, e.Term)
			}
			seen[name] = e.Term
		}
	}
	if len(seen) < 100 {
		t.Errorf("only %d names", len(seen))
	}
}

func TestFind(t *testing.T) {
	for name, want := range map[string]string{"Br": "remanence", "REMANENCE": "remanence", " pole  tip ": "pole tip", "B": "flux density", "hcj": "coercivity", "implants": "pacemakers and implants"} {
		if e, ok := Find(name); !ok || e.Term != want {
			t.Errorf("%q: %q, %v, want %q", name, e.Term, ok, want)
		}
	}
	if e, ok := Find("gyroscope"); ok {
		t.Errorf("%+v", e)
	}
}

func TestSaid(t *testing.T) {
	for line, want := range map[string]string{
		"left leg is saturated (mean 1.95 T of 2.12 T): a larger section gains field and lowers the stray field":                                 "saturated part",
		"left leg is saturated somewhere (2.12 T) while its mean is 1.60 T: rounded corners":                                                     "saturated somewhere",
		"upper, lower: 12 % of the volume is past the knee at 80 °C (down to -700 kA/m, knee -650 kA/m); 88 % of":                                "past the knee",
		"- steel steel-1018: typical cold-drawn bar, from memory":                                                                                "values from memory",
		"the gap loses 0.01 T (1 %) for good once the magnets have been at 80 °C: all other numbers here are those of magnets without that loss": "field lost for good",
	} {
		if e, ok := Said(line); !ok || e.Term != want {
			t.Errorf("%q: %q, %v, want %q", line, e.Term, ok, want)
		}
	}
	if e, ok := Said("all is well"); ok {
		t.Errorf("%+v", e)
	}
}

// Every warning of a result, wherever the program makes it, has its entry: the formats are read from the source.
func TestEveryWarningIsExplained(t *testing.T) {
	formats := warningFormats(t)
	if len(formats) < 20 {
		t.Fatalf("only %d warnings were found in the source", len(formats))
	}
	used := map[string]bool{}
	for at, format := range formats {
		explained := false
		for _, e := range warnings {
			for _, s := range e.Says {
				if strings.Contains(format, s) {
					explained, used[s] = true, true
				}
			}
		}
		if !explained {
			t.Errorf("%s: no entry of glossary/warnings.go explains %q", at, format)
		}
	}
	for _, e := range warnings {
		for _, s := range e.Says {
			if !used[s] {
				t.Errorf("no warning says %q any more (%s)", s, e.Term)
			}
		}
	}
}

// warningFormats are the texts that go into a list of warnings, by their places: what is appended to a field Warnings, directly or through the
// helpers add and once of the function, and what lossOf returns.
func warningFormats(t *testing.T) map[string]string {
	t.Helper()
	names, err := filepath.Glob("../*.go")
	if err != nil || len(names) == 0 {
		t.Fatal(names, err)
	}
	out := map[string]string{}
	fset := token.NewFileSet()
	keep := func(e ast.Expr) { keepFormat(t, fset, out, e) }
	for _, name := range names {
		if strings.HasSuffix(name, "_test.go") {
			continue
		}
		file, err := parser.ParseFile(fset, name, nil, parser.SkipObjectResolution)
		if err != nil {
			t.Fatal(err)
		}
		for _, d := range file.Decls {
			f, ok := d.(*ast.FuncDecl)
			if !ok || f.Body == nil {
				continue
			}
			warns := false
			ast.Inspect(f.Body, func(n ast.Node) bool {
				if s, ok := n.(*ast.SelectorExpr); ok && s.Sel.Name == "Warnings" {
					warns = true
				}
				return true
			})
			ast.Inspect(f.Body, func(n ast.Node) bool {
				switch n := n.(type) {
				case *ast.CallExpr:
					fun, _ := n.Fun.(*ast.Ident)
					if fun == nil || len(n.Args) == 0 || !warns {
						return true
					}
					switch fun.Name {
					case "add":
						keep(n.Args[0])
					case "once":
						keep(n.Args[0])
					case "append":
						if s, ok := n.Args[0].(*ast.SelectorExpr); ok && s.Sel.Name == "Warnings" {
							for _, a := range n.Args[1:] {
								keep(a)
							}
						}
					}
				case *ast.ReturnStmt:
					if f.Name.Name == "lossOf" {
						for _, r := range n.Results {
							keep(r)
						}
					}
				case *ast.AssignStmt:
					if f.Name.Name == "lossOf" {
						for _, r := range n.Rhs {
							keep(r)
						}
					}
				}
				return true
			})
		}
	}
	return out
}

// keepFormat keeps the first text within an expression that is a format.
func keepFormat(t *testing.T, fset *token.FileSet, out map[string]string, e ast.Expr) {
	t.Helper()
	found := false
	ast.Inspect(e, func(n ast.Node) bool {
		if lit, ok := n.(*ast.BasicLit); ok && lit.Kind == token.STRING && !found {
			text, err := strconv.Unquote(lit.Value)
			if err != nil {
				t.Fatal(err)
			}
			if strings.Count(text, " ") >= 2 {
				found = true
				out[fset.Position(lit.Pos()).String()] = text
			}
		}
		return !found
	})
	if call, ok := e.(*ast.CallExpr); ok && !found { // "steel %s: %s" is short
		for _, a := range call.Args {
			if lit, ok := a.(*ast.BasicLit); ok && lit.Kind == token.STRING {
				text, _ := strconv.Unquote(lit.Value)
				out[fset.Position(lit.Pos()).String()] = text
				return
			}
		}
	}
}

// Every caution of package safety has its entry, and no entry is of one that there is not.
func TestEveryCautionIsExplained(t *testing.T) {
	file, err := parser.ParseFile(token.NewFileSet(), "../safety/cautions.go", nil, parser.SkipObjectResolution)
	if err != nil {
		t.Fatal(err)
	}
	var codes []string
	for _, d := range file.Decls {
		g, ok := d.(*ast.GenDecl)
		if !ok || g.Tok != token.VAR {
			continue
		}
		for _, s := range g.Specs {
			v, ok := s.(*ast.ValueSpec)
			if !ok || v.Names[0].Name != "warnings" {
				continue
			}
			for _, e := range v.Values[0].(*ast.CompositeLit).Elts {
				code, err := strconv.Unquote(e.(*ast.CompositeLit).Elts[0].(*ast.BasicLit).Value)
				if err != nil {
					t.Fatal(err)
				}
				codes = append(codes, code)
				title, err := strconv.Unquote(e.(*ast.CompositeLit).Elts[1].(*ast.BasicLit).Value)
				if err != nil {
					t.Fatal(err)
				}
				if _, ok := Said(title + " (danger). More of it."); !ok {
					t.Errorf("%q, as it is printed, is not found", title)
				}
			}
		}
	}
	if len(codes) < 10 {
		t.Fatalf("only %d cautions were found in the source", len(codes))
	}
	var explained []string
	for _, e := range cautions {
		explained = append(explained, e.Caution)
	}
	slices.Sort(codes)
	slices.Sort(explained)
	if !slices.Equal(codes, explained) {
		t.Errorf("cautions are %q, glossary/warnings.go explains %q", codes, explained)
	}
}
