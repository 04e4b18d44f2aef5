package main

import (
	"cmp"
	"fmt"
	"io"
	"os"
	"strings"

	"github.com/spf13/cobra"

	"polewright/mistake"
	"polewright/published"
)

// checked is an outcome as JSON.
type checked struct {
	Problem    string          `json:"problem"`
	Name       string          `json:"name"`
	Source     string          `json:"source"`
	Basis      published.Basis `json:"basis"` // seen, worked, from memory
	FromMemory bool            `json:"from_memory"`
	Unit       string          `json:"unit"`
	Published  float64         `json:"published"`
	Ours       *float64        `json:"ours"` // null: no answer
	Difference *float64        `json:"difference"`
	Tolerance  float64         `json:"tolerance"`
	Why        string          `json:"why"`
	Pass       bool            `json:"pass"`
	Error      string          `json:"error,omitempty"`
}

func checkCommand() *cobra.Command {
	var asJSON, markdown, quick, quiet bool
	var before string
	c := &cobra.Command{
		Use:   "check [flags]",
		Short: "Check the program against published answers",
		Long: `Solve problems whose answers are published, closed forms and measured magnets, look up constants,
limits and tables, and print each value beside ours with its source, the difference, the tolerance
and how well the published value is known: seen in its source, worked from its formula, or from
memory, which is no proof of anything. At the end stands what changed since the last release, or
since the page of --before. It takes about a minute. The exit status is 1 when one does not pass.`,
		Example: `  polewright check
  polewright check --quick
  polewright check --markdown > validation.md
  polewright check --before validation.md
  polewright check --json > check.json`,
		Args: noArguments,
		RunE: func(c *cobra.Command, _ []string) error {
			if asJSON && markdown {
				return mistake.Of("--json and --markdown exclude each other", "choose one")
			}
			earlier, err := earlierChecks(before)
			if err != nil {
				return err
			}
			var checks []published.Check
			all := published.Checks()
			for _, k := range all {
				if !quick || !k.Long {
					checks = append(checks, k)
				}
			}
			progress := newProgress(c.ErrOrStderr(), quiet)
			outcomes, err := published.Run(c.Context(), checks, progress.report)
			progress.stop()
			if err != nil {
				return err
			}
			w := c.OutOrStdout()
			changes := published.Changes(earlier, outcomes, all)
			switch {
			case asJSON:
				err = writeJSON(w, checkedJSON(outcomes, changes))
			case markdown:
				err = published.Markdown(w, outcomes)
			default:
				if err = published.Text(w, outcomes); err == nil {
					err = writeChanges(w, cmp.Or(before, "the last release"), changes)
				}
			}
			if err != nil {
				return err
			}
			var failed unmetError
			for _, o := range outcomes {
				if !o.Passed() {
					failed = append(failed, o.Name)
				}
			}
			if len(failed) > 0 {
				return failed
			}
			return nil
		},
	}
	f := c.Flags()
	f.BoolVar(&asJSON, "json", false, "print one JSON object in place of text")
	f.BoolVar(&markdown, "markdown", false, "print the page docs/validation.md of the manual in place of text")
	f.StringVar(&before, "before", "", "compare with the page `FILE` that --markdown wrote, not the last release")
	f.BoolVar(&quick, "quick", false, "only the checks that take no time: closed forms")
	f.BoolVar(&quiet, "quiet", false, quietUsage)
	return c
}

// earlierChecks are the rows of a page of checks, without a name those of the last release.
func earlierChecks(page string) ([]published.Row, error) {
	if page == "" {
		return published.Released()
	}
	file, err := os.Open(page)
	if err != nil {
		return nil, mistake.Of(fmt.Sprintf("%s: %s", page, reason(err)), "write one with polewright check --markdown")
	}
	defer file.Close()
	rows, err := published.ReadPage(file)
	if err != nil {
		return nil, mistake.Prefixed(page+": ", err)
	}
	return rows, nil
}

func writeChanges(w io.Writer, since string, changes []string) error {
	text := "\nNothing changed since " + since + ".\n"
	if len(changes) > 0 {
		text = "\nChanged since " + since + ":\n  " + strings.Join(changes, "\n  ") + "\n"
	}
	_, err := io.WriteString(w, text)
	return err
}

func checkedJSON(outcomes []published.Outcome, changes []string) any {
	list := []checked{}
	for _, o := range outcomes {
		k := checked{Problem: o.Problem, Name: o.Name, Source: o.Source, Basis: o.Basis, FromMemory: o.Basis == published.FromMemory, Unit: o.Unit,
			Published: o.Published, Tolerance: o.Tolerance, Why: o.Why, Pass: o.Passed()}
		if o.Err != nil {
			k.Error = o.Err.Error()
		} else {
			difference := o.Difference()
			k.Ours, k.Difference = &o.Ours, &difference
		}
		list = append(list, k)
	}
	failed := published.Failed(outcomes)
	return struct {
		Checks  []checked `json:"checks"`
		Passed  int       `json:"passed"`
		Failed  int       `json:"failed"`
		Summary string    `json:"summary"`
		Changes []string  `json:"changes"` // since the last release, or the page of --before
	}{list, len(list) - failed, failed, published.Summary(outcomes), append([]string{}, changes...)}
}
