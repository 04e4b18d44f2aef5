package main

import (
	"bytes"
	"context"
	"encoding/json"
	"fmt"
	"io"

	"github.com/spf13/cobra"

	"polewright"
	"polewright/design"
	"polewright/report"
	"polewright/stock"
)

func predictCommand() *cobra.Command {
	var asJSON, strict, quiet bool
	var accuracy, prices string
	var halves, groups []string
	c := &cobra.Command{
		Use:   "predict FILE [flags]",
		Short: "Solve a design and say what it does",
		Long: `Solve a design file and print the field in its gap, the working point of each magnet, the state of
the steel, forces, stray field, mass and the ledger of losses. FILE may be - for standard input.`,
		Example: `  polewright predict my-magnet.toml
  polewright predict my-magnet.toml --half z=0 --half "x=-3 mm"
  polewright predict my-magnet.toml --group "upper, top back" --group upper
  polewright predict my-magnet.toml --json --accuracy fine > my-magnet.json`,
		Args: oneArgument("design FILE", "polewright predict my-magnet.toml"),
		RunE: func(c *cobra.Command, args []string) error {
			a, err := parseAccuracy(accuracy)
			if err != nil {
				return err
			}
			planes, err := parsePlanes(halves)
			if err != nil {
				return err
			}
			d, err := readDesign(c.Context(), args[0], c.InOrStdin())
			if err != nil {
				return err
			}
			if err := inside(planes, d); err != nil {
				return err
			}
			var shelf *stock.List
			if prices != "" {
				if shelf, err = readStock(prices, nil); err != nil {
					return err
				}
			}
			progress := newProgress(c.ErrOrStderr(), quiet)
			s, err := solve(c.Context(), d, polewright.Options{Accuracy: a, Halves: planes, Groups: parseGroups(groups), Stock: shelf, Progress: progress.report})
			progress.stop()
			if err != nil {
				return err
			}
			if asJSON {
				err = writeJSON(c.OutOrStdout(), s.Result)
			} else {
				err = report.Text(c.OutOrStdout(), s.Result)
			}
			if err != nil || !strict {
				return err
			}
			return missed(d, s)
		},
	}
	f := c.Flags()
	f.StringVar(&accuracy, "accuracy", polewright.Standard.Name, accuracyUsage)
	f.StringArrayVar(&halves, "half", nil, "also give the force on all on the positive side of a `PLANE`; repeatable")
	f.StringArrayVar(&groups, "group", nil, "also force and torque on `PARTS` together, as \"upper, top back\"; repeatable")
	f.StringVar(&prices, "stock", "", stockUsage)
	f.BoolVar(&asJSON, "json", false, "print one JSON object in SI units in place of text")
	f.BoolVar(&strict, "strict", false, "exit with status 1 when a target or a safety check is not met")
	f.BoolVar(&quiet, "quiet", false, "show no progress on a terminal")
	return c
}

const accuracyUsage = "accuracy `A`: draft 0.5 %, standard 0.1 %, fine 0.02 %"

// solve runs the pipeline and returns when ctx ends, even in the midst of a step that does not look.
func solve(ctx context.Context, d *design.Design, o polewright.Options) (*polewright.Solved, error) {
	return unlessStopped(ctx, func() (*polewright.Solved, error) { return polewright.Run(ctx, d, o) })
}

// missed lists the targets and safety checks that are not met.
func missed(d *design.Design, s *polewright.Solved) error {
	var list unmetError
	for _, c := range s.Result.Target {
		if !c.Met {
			list = append(list, report.Unmet(c))
		}
	}
	list = append(list, polewright.Unsafe(d, s.Result)...)
	if len(list) == 0 {
		return nil
	}
	return list
}

// writeJSON writes v as one indented object, or nothing when it holds what JSON cannot say.
func writeJSON(w io.Writer, v any) error {
	var b bytes.Buffer
	e := json.NewEncoder(&b)
	e.SetEscapeHTML(false)
	e.SetIndent("", "  ")
	if err := e.Encode(v); err != nil {
		return fmt.Errorf("the answer holds a value that is not a number: %w", err)
	}
	_, err := w.Write(b.Bytes())
	return err
}
