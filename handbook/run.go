package handbook

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
)

// Runner runs a command in a folder and gives what it prints, on standard output and standard error together, and its exit status. The error is
// that it could not be run at all.
type Runner func(folder string, args []string) (printed string, status int, err error)

// Ran is a page whose commands were run.
type Ran struct {
	Page
	Folder string     // where they ran, and left their files
	Print  [][]string // the lines that each step printed
	Faults []string   // where the page says something else, with page and line
}

// Run runs the steps of a page in a folder that is empty.
func Run(p Page, folder string, run Runner) (Ran, error) {
	r := Ran{Page: p, Folder: folder}
	fault := func(line int, format string, args ...any) {
		r.Faults = append(r.Faults, fmt.Sprintf("%s.md:%d: %s", p.Name, line, fmt.Sprintf(format, args...)))
	}
	for _, s := range p.Steps {
		if s.File != "" {
			r.Print = append(r.Print, nil)
			if !filepath.IsLocal(s.File) {
				return r, fmt.Errorf("%s.md:%d: %q is no name of a file here", p.Name, s.Line, s.File)
			}
			if err := os.WriteFile(filepath.Join(folder, s.File), []byte(s.Text), 0o666); err != nil {
				return r, err
			}
			continue
		}
		text, status, err := run(folder, s.Args)
		if err != nil {
			return r, fmt.Errorf("%s.md:%d: %w", p.Name, s.Line, err)
		}
		printed := strings.Split(strings.TrimRight(text, "\n"), "\n")
		r.Print = append(r.Print, printed)
		if status != s.Status {
			fault(s.Line, "exit status %d, the page says %d:\n%s", status, s.Status, text)
			continue
		}
		switch _, missing, near := Find(s.Shown, printed); {
		case missing == len(s.Shown):
			fault(s.Line+missing, "more is printed: %q", printed[near])
		case missing >= 0 && near >= 0:
			fault(s.Line+1+missing, "%q is printed as %q", s.Shown[missing], printed[near])
		case missing >= 0:
			fault(s.Line+1+missing, "%q is not printed there", s.Shown[missing])
		}
	}
	for _, name := range p.Pictures() {
		if info, err := os.Stat(filepath.Join(folder, name)); err != nil || info.Size() < 500 {
			fault(1, "no command makes the picture %s", name)
		}
	}
	return r, nil
}

// Rewritten is the page with the lines shown as they are printed now, where only numbers and spaces differ.
func (r Ran) Rewritten() string {
	lines := strings.Split(r.Text, "\n")
	for k, s := range r.Steps {
		from := 0
		for i, shown := range s.Shown {
			best, most := -1, -1
			for j := from; j < len(r.Print[k]); j++ {
				if alike := alike(shown, r.Print[k][j]); alike > most && strings.TrimSpace(shown) != elision {
					best, most = j, alike
				}
			}
			if best >= 0 {
				lines[s.Line+i] = r.Print[k][best]
				from = best + 1
			}
		}
	}
	return strings.Join(lines, "\n")
}

// alike counts the numbers that two lines of the same words have in common; -1 when their words differ.
func alike(shown, printed string) int {
	if words(shown) != words(printed) {
		return -1
	}
	n := 0
	b := number.FindAllString(printed, -1)
	for i, a := range number.FindAllString(shown, -1) {
		if i < len(b) && a == b[i] {
			n++
		}
	}
	return n
}
