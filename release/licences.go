package main

import (
	"bytes"
	"crypto/sha256"
	"errors"
	"fmt"
	"maps"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"unicode/utf8"

	"github.com/google/licensecheck"
)

// module is one that the program is linked with; Go's standard library is one of them.
type module struct {
	path, version string
	folder        string
	packages      []string // folders of those in use
	licences      []licence
}

// licence is one text of a module.
type licence struct {
	id   string // of SPDX
	file string // within the module
	text []byte
	note string
}

// compatible lists the licences of what may go into a program under Apache-2.0: all ask for no more than their text and their notices.
// (Apache Software Foundation, third-party licence policy, category A, and for CC-BY-4.0 and OFL-1.1 category B: in binary form.)
var compatible = []string{"Apache-2.0", "BSD-2-Clause", "BSD-3-Clause", "CC-BY-4.0", "FTL", "ISC", "MIT", "OFL-1.1"}

// chosen names the text that counts where a module leaves the choice, or has more than its licence in files of such names; read by a person.
var chosen = map[string]licence{
	"github.com/ajstarks/svgo":   {id: "CC-BY-4.0", file: "LICENSE"},
	"github.com/golang/freetype": {id: "FTL", file: "licenses/ftl.txt", note: "FTL or GPL-2.0-or-later, the former taken"},
}

// names of files that hold a licence, or a notice that must go with it.
var (
	holdsLicence = regexp.MustCompile(`(?i)^(licen[cs]e|copying|ofl|unlicense)([.-].*)?$`)
	holdsNotice  = regexp.MustCompile(`(?i)^(notice|patents|copyright)([.-].*)?$`)
)

// linked finds the modules of the program on some systems, in order, with their licences.
func linked(root string, systems []string) ([]module, error) {
	found := map[string]*module{}
	for _, system := range systems {
		goos, goarch, _ := strings.Cut(system, "/")
		list, err := command(root, []string{"CGO_ENABLED=0", "GOFLAGS=", "GOOS=" + goos, "GOARCH=" + goarch},
			"go", "list", "-deps", "-f", "{{with .Module}}{{.Path}}\t{{.Version}}\t{{.Dir}}{{end}}\t{{.Dir}}", "./cmd/polewright")
		if err != nil {
			return nil, err
		}
		for line := range strings.Lines(list) {
			f := strings.Split(strings.TrimSpace(line), "\t")
			if len(f) != 4 || f[0] == "polewright" {
				continue // the program itself; the standard library has no module
			}
			m := found[f[0]]
			if m == nil {
				m = &module{path: f[0], version: f[1], folder: f[2]}
				found[f[0]] = m
			}
			if !slices.Contains(m.packages, f[3]) {
				m.packages = append(m.packages, f[3])
			}
		}
	}
	goroot, err1 := command(root, nil, "go", "env", "GOROOT")
	goversion, err2 := command(root, nil, "go", "env", "GOVERSION")
	if err := errors.Join(err1, err2); err != nil {
		return nil, err
	}
	found["std"] = &module{path: "std", version: goversion, folder: goroot}
	var modules []module
	for _, path := range slices.Sorted(maps.Keys(found)) {
		m := found[path]
		if err := m.read(); err != nil {
			return nil, err
		}
		modules = append(modules, *m)
	}
	if len(modules) < 10 {
		return nil, fmt.Errorf("go list names only %d modules", len(modules))
	}
	return modules, nil
}

// read finds the licences of a module: in its folder and in those down to the packages in use.
func (m *module) read() error {
	if l, ok := chosen[m.path]; ok {
		text, err := os.ReadFile(filepath.Join(m.folder, filepath.FromSlash(l.file)))
		l.text = text
		m.licences = []licence{l}
		return err
	}
	folders := map[string]bool{m.folder: true}
	for _, p := range m.packages {
		for ; len(p) > len(m.folder); p = filepath.Dir(p) {
			folders[p] = true
		}
	}
	for _, folder := range slices.Sorted(maps.Keys(folders)) {
		entries, err := os.ReadDir(folder)
		if err != nil {
			return err
		}
		for _, f := range entries {
			isLicence := holdsLicence.MatchString(f.Name())
			if f.IsDir() || !isLicence && !holdsNotice.MatchString(f.Name()) || strings.HasSuffix(f.Name(), ".go") {
				continue
			}
			text, err := os.ReadFile(filepath.Join(folder, f.Name()))
			if err != nil {
				return err
			}
			name, err := filepath.Rel(m.folder, filepath.Join(folder, f.Name()))
			if err != nil {
				return err
			}
			l := licence{file: filepath.ToSlash(name), text: text}
			if isLicence {
				if l.id, err = classify(text); err != nil {
					return fmt.Errorf("%s %s: %s: %w", m.path, m.version, name, err)
				}
			}
			m.licences = append(m.licences, l)
		}
	}
	if !slices.ContainsFunc(m.licences, func(l licence) bool { return l.id != "" }) {
		return fmt.Errorf("%s %s has no licence in %s", m.path, m.version, m.folder)
	}
	return nil
}

// classify tells which licences a text is, joined by AND. One that is not known, or not compatible, is an error.
func classify(text []byte) (string, error) {
	c := licensecheck.Scan(text)
	var ids []string
	for _, m := range c.Match {
		if !m.IsURL && !slices.Contains(ids, m.ID) {
			ids = append(ids, m.ID)
		}
	}
	if len(ids) == 0 {
		return "", fmt.Errorf("a licence that is not known (%.0f %% of the text): read it, and enter what it is in chosen", c.Percent)
	}
	for _, id := range ids {
		if !slices.Contains(compatible, id) {
			return "", fmt.Errorf("%s may not go into the program; it may go only with %s", id, strings.Join(compatible, ", "))
		}
	}
	slices.Sort(ids)
	return strings.Join(ids, " AND "), nil
}

// ids joins the licences of a module, as an SPDX expression.
func (m *module) ids() string {
	var all []string
	for _, l := range m.licences {
		for id := range strings.SplitSeq(l.id, " AND ") {
			if id != "" && !slices.Contains(all, id) {
				all = append(all, id)
			}
		}
	}
	slices.Sort(all)
	return strings.Join(all, " AND ")
}

// inUTF8 turns a text that is no UTF-8 from Latin-1, in which older licences are written.
func inUTF8(text []byte) []byte {
	if utf8.Valid(text) {
		return text
	}
	var out []byte
	for _, b := range text {
		out = utf8.AppendRune(out, rune(b))
	}
	return out
}

// listing is the text of third-party.txt: the modules, then each text once with those that it is for, last what the page of the bench holds.
func listing(root string, modules []module) ([]byte, error) {
	var b bytes.Buffer
	b.WriteString("What polewright holds of others: modules, their licences and their texts.\nWritten by: go -C release run . -licences\n\n")
	type body struct {
		text []byte
		of   []string
	}
	var order []string
	bodies := map[string]*body{}
	for _, m := range modules {
		note := ""
		for _, l := range m.licences {
			if l.note != "" {
				note = " (" + l.note + ")"
			}
			text := bytes.TrimSpace(bytes.ReplaceAll(inUTF8(l.text), []byte("\r\n"), []byte("\n")))
			key := fmt.Sprintf("%x", sha256.Sum256(text))
			if bodies[key] == nil {
				bodies[key] = &body{text: text}
				order = append(order, key)
			}
			bodies[key].of = append(bodies[key].of, m.path+" "+m.version+": "+l.file)
		}
		fmt.Fprintf(&b, "%-48s %-44s %s%s\n", m.path, m.version, m.ids(), note)
	}
	rule := strings.Repeat("=", 100)
	for _, key := range order {
		fmt.Fprintf(&b, "\n%s\n%s\n%s\n\n%s\n", rule, strings.Join(bodies[key].of, "\n"), rule, bodies[key].text)
	}
	page, err := os.ReadFile(filepath.Join(root, "web", "dist", "licences.txt"))
	if err != nil {
		return nil, err
	}
	fmt.Fprintf(&b, "\n%s\nIn the page of the bench (web/dist/licences.txt)\n%s\n\n%s\n", rule, rule, bytes.TrimSpace(page))
	return b.Bytes(), nil
}
