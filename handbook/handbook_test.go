package handbook

import (
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"
)

func TestMatches(t *testing.T) {
	for _, c := range []struct {
		shown, printed string
		want           bool
	}{
		{"gap  0.5141 T along +z", "gap 0.5141 T along +z", true},
		{"gap 0.5141 T", "gap 0.5142 T", true},
		{"gap 0.5141 T", "gap 0.5143 T", false},
		{"gap 0.5141 T", "gap 0.5141 mT", false},
		{"gap 0.51 T", "gap 0.5143 T", true},
		{"pull 1191 N", "pull 1192 N", true},
		{"pull 1191 N", "pull 1193 N", false},
		{"at -5 mm", "at 5 mm", false},
		{"no numbers", "no numbers", true},
		{"one 1", "one", false},
		{"margin 12.1 %: pass", "margin 12.1 %: FAIL", false},
	} {
		if got := Matches(c.shown, c.printed); got != c.want {
			t.Errorf("%q, %q: %v", c.shown, c.printed, got)
		}
	}
}

const sample = "# A page\n\n```toml a.toml\nformat = 1\n```\n\n```console\n$ polewright predict a.toml --vary \"x = 1, 2\"\nfirst\n[...]\nfield 0.50 T\n[...]\n$ polewright check\nexit status 2\n[...]\n```\n\n![a picture](a.png)\n[link](b.md#place)\n"

func TestParse(t *testing.T) {
	p, err := Parse("a", sample)
	if err != nil {
		t.Fatal(err)
	}
	if p.Title() != "A page" || len(p.Steps) != 3 || p.Steps[0].File != "a.toml" || p.Steps[0].Text != "format = 1\n" ||
		!slices.Equal(p.Steps[1].Args, []string{"polewright", "predict", "a.toml", "--vary", "x = 1, 2"}) || len(p.Steps[1].Shown) != 4 || p.Steps[2].Status != 2 ||
		!slices.Equal(p.Pictures(), []string{"a.png"}) {
		t.Errorf("%+v", p)
	}
	for text, want := range map[string]string{
		"```console\n$ polewright check\n":             "a.md:1: the block is not closed",
		"```console\npolewright check\n```\n":          "a.md:2: a console block begins",
		"x\n```console\n$ rm -r .\n```\n":              "a.md:3: \"rm -r .\" is no command of polewright",
		"```console\n$ polewright \"a\n```\n":          "a.md:2",
		"```console\n$ polewright\nexit status x\n```": "a.md:3: \"x\" is no exit status",
	} {
		if _, err := Parse("a", text); err == nil || !strings.HasPrefix(err.Error(), want) {
			t.Errorf("%q: %v, want %q", text, err, want)
		}
	}
}

// A page is right when everything it shows is printed, in order; what differs is told with its line, and Rewritten mends numbers only.
func TestRun(t *testing.T) {
	p, err := Parse("a", sample)
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		name, printed string
		status        int
		faults        []string
	}{
		{"right", "first\nsecond\nfield 0.504 T\nmore\n", 2, nil},
		{"another number", "first\nsecond\nfield 0.54 T\nmore\n", 2, []string{`a.md:11: "field 0.50 T" is printed as "field 0.54 T"`}},
		{"another word", "first\nsecond\nfield 0.50 G\n", 2, []string{`a.md:11: "field 0.50 T" is not printed there`}},
		{"out of order", "field 0.50 T\nfirst\n", 2, []string{`a.md:9: "first" is printed as "first"`}},
		{"another status", "first\nfield 0.50 T\n", 1, []string{"a.md:13: exit status 1, the page says 2"}},
	} {
		folder := t.TempDir()
		if err := os.WriteFile(filepath.Join(folder, "a.png"), make([]byte, 1000), 0o666); err != nil {
			t.Fatal(err)
		}
		r, err := Run(p, folder, func(dir string, args []string) (string, int, error) {
			if _, err := os.Stat(filepath.Join(dir, "a.toml")); err != nil {
				t.Error(err)
			}
			if args[1] == "check" {
				return "x", c.status, nil
			}
			return c.printed, 0, nil
		})
		if err != nil {
			t.Fatal(err)
		}
		if len(r.Faults) != len(c.faults) {
			t.Errorf("%s: %q", c.name, r.Faults)
			continue
		}
		for i := range c.faults {
			if !strings.HasPrefix(r.Faults[i], c.faults[i]) {
				t.Errorf("%s: %q, want %q", c.name, r.Faults[i], c.faults[i])
			}
		}
		if c.name == "another number" {
			if want := strings.Replace(sample, "field 0.50 T", "field 0.54 T", 1); r.Rewritten() != want {
				t.Errorf("rewritten:\n%s", r.Rewritten())
			}
		}
	}
	r, err := Run(p, t.TempDir(), func(string, []string) (string, int, error) { return "first\nfield 0.50 T\n", 2, nil })
	if err != nil || !strings.Contains(strings.Join(r.Faults, "\n"), "no command makes the picture a.png") {
		t.Errorf("%q, %v", r.Faults, err)
	}
	if _, err := Run(p, t.TempDir(), func(string, []string) (string, int, error) { return "", 0, fmt.Errorf("no program") }); err == nil {
		t.Error("a program that cannot run is no error")
	}
}

func pages(t *testing.T) []Page {
	t.Helper()
	list, err := Read(os.DirFS("../docs/handbook"))
	if err != nil {
		t.Fatal(err)
	}
	if len(list) < 10 {
		t.Fatalf("only %d pages", len(list))
	}
	return list
}

// made are the pages that the build makes itself.
func made(t *testing.T) []Page {
	t.Helper()
	json, err := JSON("reference-json", os.DirFS("../result"))
	if err != nil {
		t.Fatal(err)
	}
	commands, err := Commands("reference-commands", func(_ string, args []string) (string, int, error) {
		if len(args) > 2 {
			return "help of " + args[1] + "\n", 0, nil
		}
		text := "Available Commands:\n"
		for i := range 12 {
			text += fmt.Sprintf("  command%c  Does it\n", 'a'+i)
		}
		return text + "\nFlags:\n", 0, nil
	})
	if err != nil {
		t.Fatal(err)
	}
	validation, err := os.ReadFile("../docs/validation.md")
	if err != nil {
		t.Fatal(err)
	}
	return []Page{DesignFile("reference-design-file"), commands, json, Glossary("glossary"), {Name: "validation", Text: string(validation)}}
}

func TestReferences(t *testing.T) {
	list := made(t)
	for i, want := range [][]string{
		{"## `[[magnet]]`", "| `magnetized` | **must** | a list of 3: a number, e.g. `[0, 0, 1]` |", "One of `grade`, `remanence` has to be there.", "### kind = \"halbach-wedges\"", "a whole number, 4 to 64; 8 if left out"},
		{"## commanda", "help of commandl"},
		{"## Result", "| `probes` | list of Probe |", "## WorkingPoint", "| `b_T` | 3 × number |"},
		{"## Terms", "**remanence** (also Br", "## Warnings", "## Cautions", "*Do:*"},
	} {
		for _, w := range want {
			if !strings.Contains(list[i].Text, w) {
				t.Errorf("%s has no %q", list[i].Name, w)
			}
		}
	}
}

// The site is complete, its links lead somewhere, and nothing in it comes from a network.
func TestSite(t *testing.T) {
	out, work := t.TempDir(), t.TempDir()
	all := append(pages(t), made(t)...)
	ran := map[string]Ran{}
	for _, p := range all {
		ran[p.Name] = Ran{Page: p, Folder: work}
		for _, name := range p.Pictures() {
			if err := os.MkdirAll(filepath.Join(work, filepath.Dir(name)), 0o777); err != nil {
				t.Fatal(err)
			}
			if err := os.WriteFile(filepath.Join(work, name), []byte("picture"), 0o666); err != nil {
				t.Fatal(err)
			}
		}
	}
	if err := Site(out, all, ran); err != nil {
		t.Fatal(err)
	}
	files, err := filepath.Glob(filepath.Join(out, "*.html"))
	if err != nil || len(files) != len(all) {
		t.Fatalf("%d files for %d pages, %v", len(files), len(all), err)
	}
	target := regexp.MustCompile(`(?:href|src)="([^"]+)"`)
	links := 0
	text := map[string]string{}
	for _, f := range files {
		data, err := os.ReadFile(f)
		if err != nil {
			t.Fatal(err)
		}
		text[filepath.Base(f)] = string(data)
	}
	for name, page := range text {
		for _, m := range target.FindAllStringSubmatch(page, -1) {
			links++
			file, place, _ := strings.Cut(m[1], "#")
			if file == "" {
				file = name
			}
			if strings.Contains(file, "//") {
				t.Errorf("%s: %s is not in the folder", name, m[1])
			} else if _, err := os.Stat(filepath.Join(out, file)); err != nil {
				t.Errorf("%s: %v", name, err)
			}
			if place != "" && !strings.Contains(text[file], `id="`+place+`"`) {
				t.Errorf("%s: %s leads to no heading", name, m[1])
			}
		}
	}
	if links < 200 {
		t.Errorf("only %d links", links)
	}
}

// Every command that the pages show is one of the program, and each `name` in `file.go` is declared there.
func TestPagesPointAtWhatIsThere(t *testing.T) {
	pointer := regexp.MustCompile("`([\\w.]+)` in\\s+`([\\w/.]+\\.go)`")
	pointers, commands := 0, 0
	for _, p := range pages(t) {
		for _, s := range p.Steps {
			if s.File == "" {
				commands++
			}
		}
		for _, m := range pointer.FindAllStringSubmatch(p.Text, -1) {
			pointers++
			source, err := os.ReadFile(filepath.Join("..", filepath.FromSlash(m[2])))
			if err != nil {
				t.Errorf("%s: %v", p.Name, err)
				continue
			}
			receiver, method, isMethod := strings.Cut(m[1], ".")
			declared := `(?m)^(func|type|var|const) ` + m[1] + `\b`
			if isMethod {
				declared = `(?m)^func \(\w+ \*?` + receiver + `\) ` + method + `\(`
			}
			if !regexp.MustCompile(declared).Match(source) {
				t.Errorf("%s: %s declares no %s", p.Name, m[2], m[1])
			}
		}
	}
	if pointers < 15 || commands < 15 {
		t.Errorf("%d pointers, %d commands: nothing was checked", pointers, commands)
	}
}

// Whatever a page says, reading it ends, and its steps lie within it.
func FuzzParse(f *testing.F) {
	f.Add(sample)
	f.Add("```console\n$ polewright \"\n```")
	f.Fuzz(func(t *testing.T, text string) {
		p, err := Parse("a", text)
		if err != nil {
			return
		}
		lines := strings.Count(text, "\n") + 1
		for _, s := range p.Steps {
			if s.Line < 1 || s.Line+len(s.Shown) > lines || s.File == "" && s.Args[0] != "polewright" {
				t.Fatalf("%+v in %d lines", s, lines)
			}
		}
	})
}
