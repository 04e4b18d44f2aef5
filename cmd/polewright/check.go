package main

import (
	"github.com/spf13/cobra"

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
	c := &cobra.Command{
		Use:   "check [flags]",
		Short: "Check the program against published answers",
		Long: `Solve problems whose answers are published, closed forms and measured magnets, and print each value
beside ours with its source and tolerance. It takes about a minute. The exit status is 1 when one
does not pass.`,
		Example: `  polewright check
  polewright check --quick
  polewright check --json > check.json`,
		Args: noArguments,
		RunE: func(c *cobra.Command, _ []string) error {
			if asJSON && markdown {
				return &usageError{"--json and --markdown exclude each other", "choose one"}
			}
			var checks []published.Check
			for _, k := range published.Checks() {
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
			switch {
			case asJSON:
				err = writeJSON(w, checkedJSON(outcomes))
			case markdown:
				err = published.Markdown(w, outcomes)
			default:
				err = published.Text(w, outcomes)
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
	f.BoolVar(&quick, "quick", false, "only the checks that take no time: closed forms")
	f.BoolVar(&quiet, "quiet", false, "show no progress on a terminal")
	return c
}

func checkedJSON(outcomes []published.Outcome) any {
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
	}{list, len(list) - failed, failed, published.Summary(outcomes)}
}
