package main

import (
	"io"

	"github.com/spf13/cobra"

	"polewright"
	"polewright/mistake"
	"polewright/papers"
	"polewright/report"
	"polewright/safety"
)

func safetyCommand() *cobra.Command {
	var out, accuracy, paper, date string
	var asJSON, force, quiet bool
	c := &cobra.Command{
		Use:   "safety FILE [flags]",
		Short: "Say how far a design is a danger and to whom: the safety card",
		Long: `Solve a design and print its safety card: how far the published limits reach, where loose steel
tools slide and fly, what closes on a hand, how the assembly may go by air, and what to beware of.
With -o the card is also written as a sheet to hang beside the magnet, as .pdf or .html. FILE may be
- for standard input.`,
		Example: `  polewright safety my-magnet.toml
  polewright safety my-magnet.toml -o card.pdf
  polewright safety my-magnet.toml --json > card.json`,
		Args: oneArgument("design FILE", "polewright safety my-magnet.toml"),
		RunE: func(c *cobra.Command, args []string) error {
			s := papers.Source{Version: version()}
			sheet, err := papers.PaperNamed(paper)
			if err != nil {
				return mistake.Of("--paper: "+err.Error(), "")
			}
			var write func(*papers.Document, io.Writer) error
			if out != "" {
				if write, err = papersFormat("safety", out, sheet); err != nil {
					return err
				}
				if err := canWrite(out, force); err != nil {
					return err
				}
			}
			if s.Date, err = reportDate(date); err != nil {
				return err
			}
			a, err := parseAccuracy(accuracy)
			if err != nil {
				return err
			}
			if s.Design, err = readDesign(c.Context(), args[0], c.InOrStdin()); err != nil {
				return err
			}
			o := polewright.Options{Accuracy: a, Halves: polewright.Halves(s.Design), NoLedger: true}
			s.Card, err = solvedThen(c, quiet, 0.5, s.Design, o, func(solved *polewright.Solved, progress func(string, float64)) (*safety.Card, error) {
				s.Solved = solved
				return solved.SafetyCard(c.Context(), polewright.CardOptions{Progress: progress})
			})
			if err != nil {
				return err
			}
			if write != nil {
				if err := writeTold(c, out, force, func(w io.Writer) error { return write(papers.SafetyCard(s), w) }); err != nil {
					return err
				}
			}
			return show(c, asJSON, s.Card, report.SafetyText)
		},
	}
	f := c.Flags()
	f.StringVarP(&out, "output", "o", "", "also write the card as `FILE`: .pdf or .html")
	f.StringVar(&paper, "paper", "A4", paperUsage)
	f.StringVar(&date, "date", "", "`DATE` on the card, as 2026-11-25, or none; today's without it")
	f.StringVar(&accuracy, "accuracy", polewright.Standard.Name, accuracyUsage)
	f.BoolVar(&asJSON, "json", false, jsonUsage)
	f.BoolVar(&force, "force", false, forceUsage)
	f.BoolVar(&quiet, "quiet", false, quietUsage)
	return c
}
