package published

import (
	"bufio"
	_ "embed"
	"fmt"
	"io"
	"math"
	"strconv"
	"strings"

	"polewright/mistake"
)

// released is the page that Markdown wrote for the last release.
//
//go:embed released.md
var released string

// Row is a check as an earlier page has it.
type Row struct {
	Source, Name    string
	Published, Ours string // with their units; Ours is "none" where there was no answer
	Passed          bool
}

// Released are the rows of the last release's page.
func Released() ([]Row, error) { return ReadPage(strings.NewReader(released)) }

// longestLine is longer than any line of a page.
const longestLine = 1 << 16

// ReadPage reads the tables of a page that Markdown wrote. The error names the line.
func ReadPage(r io.Reader) (rows []Row, err error) {
	lines := bufio.NewScanner(r)
	lines.Buffer(nil, longestLine)
	source := ""
	for n := 1; lines.Scan(); n++ {
		line := lines.Text()
		if s, ok := strings.CutPrefix(line, "Source: "); ok {
			source, _, _ = strings.Cut(s, ". Values: ")
			continue
		}
		if !strings.HasPrefix(line, "| ") || strings.HasPrefix(line, "| check |") {
			continue
		}
		cells := strings.Split(strings.TrimSuffix(line[2:], " |"), " | ")
		if len(cells) != 6 {
			return nil, mistake.Of(fmt.Sprintf("line %d: %d columns, not the 6 of a page of checks", n, len(cells)), "write one with polewright check --markdown")
		}
		rows = append(rows, Row{Source: source, Name: cells[0], Published: cells[1], Ours: cells[2], Passed: cells[5] == "pass"})
	}
	if err := lines.Err(); err != nil {
		return nil, fmt.Errorf("reading a page of checks: %w", err)
	}
	if len(rows) == 0 {
		return nil, mistake.Of("no check is in it", "write a page with polewright check --markdown")
	}
	return rows, nil
}

// noticeable is the part of a tolerance by which an answer has to move to be told.
const noticeable = 0.05

// Changes says what is different from an earlier page, a line each: answers that moved by more than a twentieth of their tolerance, verdicts,
// published values, and checks of the whole list all that are new or gone. Outcomes may be some of the checks only.
func Changes(before []Row, outcomes []Outcome, all []Check) (list []string) {
	type id struct{ source, name string }
	old := map[id]Row{}
	for _, r := range before {
		old[id{r.Source, r.Name}] = r
	}
	known := map[id]bool{}
	fresh := map[string]int{}
	var problems []string
	for _, c := range all {
		known[id{c.Source, c.Name}] = true
		if _, ok := old[id{c.Source, c.Name}]; !ok {
			if fresh[c.Problem]++; fresh[c.Problem] == 1 {
				problems = append(problems, c.Problem)
			}
		}
	}
	for _, o := range outcomes {
		r, ok := old[id{o.Source, o.Name}]
		if !ok {
			continue
		}
		published, ours, _, _, _ := o.cells()
		was, decimals, number := leading(r.Ours)
		switch {
		case r.Passed != o.Passed():
			list = append(list, fmt.Sprintf("%s: %s before, %s now", o.Name, verdict(r.Passed), verdict(o.Passed())))
		case r.Published != published:
			list = append(list, fmt.Sprintf("%s: the published value was %s, is %s", o.Name, r.Published, published))
		case o.Err != nil || !number:
		case math.Abs(o.Ours-was) > math.Max(noticeable*o.Tolerance, 1.01*math.Pow(10, -float64(decimals))):
			list = append(list, fmt.Sprintf("%s: ours was %s, is %s (%+.2g of the tolerance)", o.Name, r.Ours, ours, (o.Ours-was)/o.Tolerance))
		}
	}
	for _, p := range problems {
		list = append(list, fmt.Sprintf("new: %s, %d", p, fresh[p]))
	}
	for _, r := range before {
		if !known[id{r.Source, r.Name}] {
			list = append(list, "gone: "+r.Name)
		}
	}
	return list
}

func verdict(passed bool) string {
	if passed {
		return "passed"
	}
	return "did not pass"
}

// leading is the number at the head of a cell, and how many decimals it has.
func leading(cell string) (x float64, decimals int, ok bool) {
	digits, _, _ := strings.Cut(cell, " ")
	x, err := strconv.ParseFloat(digits, 64)
	_, after, _ := strings.Cut(digits, ".")
	return x, len(after), err == nil
}
