package polewright_test

import (
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"os"
	"path"
	"slices"
	"strings"
	"testing"
)

// scratch lists the files that make files in another way than through package wholefile, and why that is well.
var scratch = map[string]string{
	"wholefile/wholefile.go": "it is the one place",
	"study/solve.go":         "curve files in a folder of its own that goes when the case is solved",
	"bench/main.go":          "no part of the program",
	"bench/compare.go":       "no part of the program",
	"docs/build/main.go":     "no part of the program",
	"handbook/run.go":        "pages for docs/build",
	"handbook/site.go":       "pages for docs/build",
}

// What makes a file or changes its name, of package os and of a Root; other types have methods of the second list, too.
var (
	makes   = []string{"WriteFile", "OpenFile", "Rename"}
	makesOS = []string{"Create", "CreateTemp", "Truncate"}
)

// All that the program writes goes through package wholefile, whose tests break off the writing in every place.
func TestFilesAreWrittenInOnePlace(t *testing.T) {
	files, found, seen := token.NewFileSet(), map[string]bool{}, 0
	err := fs.WalkDir(os.DirFS("."), ".", func(name string, d fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		if d.IsDir() && (name == "release" || name == "web/page" || path.Base(name) == "testdata" || strings.HasPrefix(name, ".git")) {
			return fs.SkipDir
		}
		if path.Ext(name) != ".go" || strings.HasSuffix(name, "_test.go") {
			return nil
		}
		file, err := parser.ParseFile(files, name, nil, parser.SkipObjectResolution)
		if err != nil {
			return err
		}
		seen++
		ast.Inspect(file, func(n ast.Node) bool {
			call, ok := n.(*ast.CallExpr)
			if !ok {
				return true
			}
			f, ok := call.Fun.(*ast.SelectorExpr)
			if !ok {
				return true
			}
			x, _ := f.X.(*ast.Ident)
			if slices.Contains(makes, f.Sel.Name) || x != nil && x.Name == "os" && slices.Contains(makesOS, f.Sel.Name) {
				found[name] = true
				if scratch[name] == "" {
					t.Errorf("%s: %s: write through package wholefile", files.Position(f.Pos()), f.Sel.Name)
				}
			}
			return true
		})
		return nil
	})
	if err != nil || seen < 100 {
		t.Fatalf("%d files, %v", seen, err)
	}
	for name := range scratch {
		if !found[name] {
			t.Errorf("%s makes no file any more: take its line out", name)
		}
	}
}
