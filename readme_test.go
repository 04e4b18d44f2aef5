package polewright_test

import (
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"polewright/design"
)

// This file keeps the pages for people true to the tree: commands, links, the example design, and where they say that a name stands.

func page(t *testing.T, name string) string {
	t.Helper()
	text, err := os.ReadFile(name)
	if err != nil {
		t.Fatal(err)
	}
	return string(text)
}

// blocks gives the fenced blocks of a page that are marked with a language.
func blocks(page, language string) (out []string) {
	fence := regexp.MustCompile("(?ms)^```" + language + "\n(.*?)^```$")
	for _, m := range fence.FindAllStringSubmatch(page, -1) {
		out = append(out, m[1])
	}
	return out
}

// The README's first commands do all the set-up there is, and the check of the whole project runs the same two.
func TestReadmeCommands(t *testing.T) {
	commands := []string{"go run ./cmd/polewright demo", "go test ./..."}
	shell := blocks(page(t, "README.md"), "sh")
	if len(shell) == 0 || !slices.Equal(strings.Split(strings.TrimSpace(shell[0]), "\n"), commands) {
		t.Errorf("the first sh block of README.md is %q, want the commands %q", shell, commands)
	}
	run := page(t, filepath.Join(".ci", "run"))
	for _, c := range commands {
		if !strings.Contains(run, c) {
			t.Errorf(".ci/run does not run %q", c)
		}
	}
}

func TestReadmeDesignIsRead(t *testing.T) {
	designs := blocks(page(t, "README.md"), "toml")
	if len(designs) == 0 {
		t.Fatal("README.md shows no design file")
	}
	for _, d := range designs {
		if _, err := design.Read(strings.NewReader(d), "README.md"); err != nil {
			t.Error(err)
		}
	}
}

var (
	link    = regexp.MustCompile(`\]\(([^)#:]+)\)|src(?:set)?="([^":]+)"`)
	pointer = regexp.MustCompile("`([\\w.]+)` in `([\\w/.]+\\.go)`")
)

// Every link to a file of the project leads to one, and every "`name` in `file.go`" is declared there.
func TestPagesPointAtWhatIsThere(t *testing.T) {
	pages, err := filepath.Glob("*.md")
	if err != nil {
		t.Fatal(err)
	}
	links, pointers := 0, 0
	for _, name := range pages {
		text := page(t, name)
		for _, m := range link.FindAllStringSubmatch(text, -1) {
			links++
			if _, err := os.Stat(filepath.FromSlash(m[1] + m[2])); err != nil {
				t.Errorf("%s: %v", name, err)
			}
		}
		for _, m := range pointer.FindAllStringSubmatch(text, -1) {
			pointers++
			source, err := os.ReadFile(filepath.FromSlash(m[2]))
			if err != nil {
				t.Errorf("%s: %v", name, err)
				continue
			}
			receiver, method, isMethod := strings.Cut(m[1], ".")
			declared := `(?m)^(func|type|var|const) ` + m[1] + `\b|^\t` + m[1] + `\b.* = `
			if isMethod {
				declared = `(?m)^func \(\w+ \*?` + receiver + `\) ` + method + `\(`
			}
			if !regexp.MustCompile(declared).Match(source) {
				t.Errorf("%s: %s declares no %s", name, m[2], m[1])
			}
		}
	}
	if links == 0 || pointers == 0 {
		t.Errorf("%d links and %d pointers in %q: nothing was checked", links, pointers, pages)
	}
}
