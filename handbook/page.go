// Package handbook reads the pages of the handbook, runs the commands that they show, compares what they print with what the pages say, and makes
// the pages one folder of HTML that needs no network.
package handbook

import (
	"fmt"
	"io/fs"
	"path"
	"regexp"
	"slices"
	"strconv"
	"strings"
)

// Page is a chapter in Markdown. In it a block fenced as "console" shows commands, each behind "$ ", and what they print: a line "[...]" stands
// for any lines left out, a last line "exit status N" for a status other than 0. A block fenced as "csv NAME" or "toml NAME" is a file of that
// name, which the commands after it find.
type Page struct {
	Name  string // of its file, without the extension; pages follow in the order of their names
	Text  string
	Steps []Step
}

// Step is a file to write or a command to run.
type Step struct {
	Line int    // of the page
	File string // name of a file to write, and
	Text string // what is in it; or
	// Args are the words of a command, the first of them polewright, and
	Args   []string
	Shown  []string // the lines shown of what it prints
	Status int      // the exit status shown
}

// Title is the first heading of a page.
func (p Page) Title() string {
	for line := range strings.Lines(p.Text) {
		if title, ok := strings.CutPrefix(line, "# "); ok {
			return strings.TrimSpace(title)
		}
	}
	return p.Name
}

// Read reads all pages of a folder, in order. The error names page and line.
func Read(folder fs.FS) ([]Page, error) {
	names, err := fs.Glob(folder, "*.md")
	if err != nil {
		return nil, err
	}
	if len(names) == 0 {
		return nil, fmt.Errorf("the folder has no page: no file ends in .md")
	}
	slices.Sort(names)
	var pages []Page
	for _, name := range names {
		text, err := fs.ReadFile(folder, name)
		if err != nil {
			return nil, err
		}
		p, err := Parse(strings.TrimSuffix(path.Base(name), ".md"), string(text))
		if err != nil {
			return nil, err
		}
		pages = append(pages, p)
	}
	return pages, nil
}

// Parse finds the steps of a page.
func Parse(name, text string) (Page, error) {
	p := Page{Name: name, Text: text}
	fail := func(line int, format string, args ...any) (Page, error) {
		return p, fmt.Errorf("%s.md:%d: %s", name, line, fmt.Sprintf(format, args...))
	}
	lines := strings.Split(text, "\n")
	for i := 0; i < len(lines); i++ {
		fence, ok := strings.CutPrefix(lines[i], "```")
		if !ok {
			continue
		}
		begin := i + 1
		for i++; i < len(lines) && lines[i] != "```"; i++ {
		}
		if i == len(lines) {
			return fail(begin, "the block is not closed by a line ```")
		}
		block := lines[begin:i]
		words := strings.Fields(fence)
		switch {
		case len(words) == 2 && (words[0] == "csv" || words[0] == "toml"):
			p.Steps = append(p.Steps, Step{Line: begin, File: words[1], Text: strings.Join(block, "\n") + "\n"})
		case len(words) == 1 && words[0] == "console":
			if len(block) == 0 || !strings.HasPrefix(block[0], "$ ") {
				return fail(begin+1, "a console block begins with $ and a command")
			}
			for j, line := range block {
				if command, ok := strings.CutPrefix(line, "$ "); ok {
					args, err := split(command)
					if err != nil || len(args) == 0 || args[0] != "polewright" {
						return fail(begin+1+j, "%q is no command of polewright", command)
					}
					p.Steps = append(p.Steps, Step{Line: begin + 1 + j, Args: args})
					continue
				}
				s := &p.Steps[len(p.Steps)-1]
				if status, ok := strings.CutPrefix(line, "exit status "); ok {
					n, err := strconv.Atoi(status)
					if err != nil {
						return fail(begin+1+j, "%q is no exit status", status)
					}
					s.Status = n
					continue
				}
				s.Shown = append(s.Shown, line)
			}
		}
	}
	return p, nil
}

// split cuts a command into words; double quotes hold words with spaces together.
func split(command string) (words []string, err error) {
	var word strings.Builder
	quoted, open := false, false
	for _, c := range command {
		switch {
		case c == '"':
			quoted, open = !quoted, true
		case c == ' ' && !quoted:
			if open {
				words = append(words, word.String())
			}
			word.Reset()
			open = false
		default:
			word.WriteRune(c)
			open = true
		}
	}
	if quoted {
		return nil, fmt.Errorf("a quotation mark is missing")
	}
	if open {
		words = append(words, word.String())
	}
	return words, nil
}

// elision stands for lines left out.
const elision = "[...]"

var (
	number  = regexp.MustCompile(`[-+]?[0-9]+(\.[0-9]+)?`)
	picture = regexp.MustCompile(`!\[[^\]]*\]\(([^)]+)\)`)
)

// Pictures are the names of the pictures that a page shows, which its commands make.
func (p Page) Pictures() (names []string) {
	for _, m := range picture.FindAllStringSubmatch(p.Text, -1) {
		names = append(names, m[1])
	}
	return names
}

// Matches tells whether a line shown is a line printed: the same words and units, spaces apart, and numbers that differ by no more than one of
// their last digit shown.
func Matches(shown, printed string) bool {
	if words(shown) != words(printed) {
		return false
	}
	a, b := number.FindAllString(shown, -1), number.FindAllString(printed, -1)
	if len(a) != len(b) {
		return false
	}
	for i := range a {
		x, err := strconv.ParseFloat(a[i], 64)
		y, err2 := strconv.ParseFloat(b[i], 64)
		if err != nil || err2 != nil {
			return false
		}
		last := 1.0
		if _, decimals, ok := strings.Cut(a[i], "."); ok {
			for range decimals {
				last /= 10
			}
		}
		if d := x - y; d > 1.001*last || d < -1.001*last {
			return false
		}
	}
	return true
}

// words is a line with # for every number and single spaces.
func words(line string) string {
	return strings.Join(strings.Fields(number.ReplaceAllString(line, "#")), " ")
}

// Find places the lines shown in what was printed, in their order: the printed line of each, and -1 for an elision. Without an elision between them
// lines follow one another. When one is not there, missing is its place among those shown and near the printed line with the same words, -1 for none.
func Find(shown, printed []string) (at []int, missing, near int) {
	from, loose := 0, false
	for i, s := range shown {
		if strings.TrimSpace(s) == elision {
			at, loose = append(at, -1), true
			continue
		}
		j := from
		for loose && j < len(printed) && !Matches(s, printed[j]) {
			j++
		}
		if j >= len(printed) || !Matches(s, printed[j]) {
			near = slices.IndexFunc(printed, func(p string) bool { return words(p) == words(s) })
			return at, i, near
		}
		at, from, loose = append(at, j), j+1, false
	}
	if from < len(printed) && !loose && strings.TrimSpace(strings.Join(printed[from:], "")) != "" {
		return at, len(shown), from
	}
	return at, -1, -1
}
