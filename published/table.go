package published

import (
	"fmt"
	"io"
	"math"
	"strconv"
	"strings"
	"text/tabwriter"
	"unicode/utf8"
)

// digits prints the published value as it was given and ours with one decimal more; decimals is theirs.
func digits(published float64) (text string, decimals int) {
	text = strconv.FormatFloat(published, 'f', -1, 64)
	if _, after, ok := strings.Cut(text, "."); ok {
		decimals = len(after)
	}
	return text, decimals
}

// cells are the columns of an outcome: published and ours with the unit, difference and tolerance of the published value, and the verdict.
func (o Outcome) cells() (published, ours, difference, tolerance, verdict string) {
	published, decimals := digits(o.Published)
	unit := ""
	if o.Unit != "" {
		unit = " " + o.Unit
	}
	published += unit
	tolerance = o.share("%.2g", o.Tolerance)
	if o.Err != nil {
		return published, "none", "", tolerance, "FAIL: " + o.Err.Error()
	}
	ours = strconv.FormatFloat(o.Ours, 'f', decimals+1, 64) + unit
	difference = o.share("%+.2g", o.Difference())
	if o.Passed() {
		return published, ours, difference, tolerance, "pass"
	}
	return published, ours, difference, tolerance, "FAIL"
}

// share prints x in per cent of the published value, or as it is when that is zero.
func (o Outcome) share(format string, x float64) string {
	if o.Published == 0 {
		return strings.TrimSpace(fmt.Sprintf(format+" %s", x, o.Unit))
	}
	return fmt.Sprintf(format+" %%", 100*x/math.Abs(o.Published))
}

// groups splits outcomes where the problem or the source changes.
func groups(all []Outcome) (list [][]Outcome) {
	for i, o := range all {
		if i == 0 || o.Source != all[i-1].Source || o.Problem != all[i-1].Problem {
			list = append(list, nil)
		}
		list[len(list)-1] = append(list[len(list)-1], o)
	}
	return list
}

// Failed counts the checks that did not pass.
func Failed(all []Outcome) (n int) {
	for _, o := range all {
		if !o.Passed() {
			n++
		}
	}
	return n
}

// Summary says in a line how many passed and how well their values are known.
func Summary(all []Outcome) string {
	count := map[Basis]int{}
	for _, o := range all {
		count[o.Basis]++
	}
	return fmt.Sprintf("%d of %d checks pass. Published values: %d seen in the source named or a transcription of it, %d worked from its formula without this program's solvers, %d from memory.",
		len(all)-Failed(all), len(all), count[Seen], count[Worked], count[FromMemory])
}

// Text writes outcomes as tables for a terminal, one for each source.
func Text(w io.Writer, all []Outcome) error {
	for _, g := range groups(all) {
		if _, err := fmt.Fprintf(w, "%s (%s)\n%s\n", g[0].Problem, g[0].Basis, g[0].Source); err != nil {
			return err
		}
		width := 0
		for _, o := range g {
			width = max(width, utf8.RuneCountInString(o.Name))
		}
		t := tabwriter.NewWriter(w, 0, 0, 2, ' ', tabwriter.AlignRight)
		fmt.Fprintf(t, "  %-*s\tpublished\tours\tdifference\ttolerance\t\t\n", width, "")
		for _, o := range g {
			published, ours, difference, tolerance, verdict := o.cells()
			fmt.Fprintf(t, "  %-*s\t%s\t%s\t%s\t%s\t%s\t\n", width, o.Name, published, ours, difference, tolerance, verdict)
		}
		if err := t.Flush(); err != nil {
			return err
		}
		if _, err := fmt.Fprintln(w); err != nil {
			return err
		}
	}
	_, err := fmt.Fprintln(w, Summary(all))
	return err
}

// Markdown writes outcomes as a page of the manual.
func Markdown(w io.Writer, all []Outcome) error {
	var b strings.Builder
	problem := ""
	fmt.Fprintf(&b, `# Validation

Written by `+"`polewright check --markdown`"+`; do not edit. Every published value against this program's, with the tolerance and why it
is that. A value marked *worked* was computed from the published formula without this program's solvers; one marked *from memory* is not confirmed.

%s
`, Summary(all))
	for i, g := range groups(all) {
		if i == 0 || g[0].Problem != problem {
			problem = g[0].Problem
			fmt.Fprintf(&b, "\n## %s\n", problem)
		}
		fmt.Fprintf(&b, "\nSource: %s. Values: %s.\n\n| check | published | ours | difference | tolerance | |\n|---|--:|--:|--:|--:|---|\n", g[0].Source, g[0].Basis)
		for _, o := range g {
			published, ours, difference, tolerance, verdict := o.cells()
			fmt.Fprintf(&b, "| %s | %s | %s | %s | %s | %s |\n", o.Name, published, ours, difference, tolerance, verdict)
		}
		b.WriteString("\nTolerance:")
		var said []string
		for _, o := range g {
			if !strings.Contains(strings.Join(said, "\n"), o.Why) {
				said = append(said, o.Why)
			}
		}
		for i, why := range said {
			if i > 0 {
				b.WriteString(";")
			}
			b.WriteString(" " + why)
		}
		b.WriteString(".\n")
	}
	_, err := io.WriteString(w, b.String())
	return err
}
