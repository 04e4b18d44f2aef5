package main

import (
	"bytes"
	"fmt"
	"io"

	"github.com/spf13/cobra"

	"polewright"
	"polewright/design"
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
			progress := newProgress(c.ErrOrStderr(), quiet)
			s.Solved, s.Card, err = carded(c, s.Design, a, progress)
			progress.stop()
			if err != nil {
				return err
			}
			if write != nil {
				document := papers.SafetyCard(s)
				if err := writeStream(out, force, func(w io.Writer) error { return write(document, w) }); err != nil {
					return err
				}
				fmt.Fprintf(c.ErrOrStderr(), "wrote %s\n", out)
			}
			if asJSON {
				return writeJSON(c.OutOrStdout(), s.Card)
			}
			var b bytes.Buffer
			if err := report.SafetyText(&b, s.Card); err != nil {
				return err
			}
			_, err = b.WriteTo(c.OutOrStdout())
			return err
		},
	}
	f := c.Flags()
	f.StringVarP(&out, "output", "o", "", "also write the card as `FILE`: .pdf or .html")
	f.StringVar(&paper, "paper", "A4", "`PAPER` of a PDF: A4 or letter")
	f.StringVar(&date, "date", "", "`DATE` on the card, as 2026-11-25, or none; today's without it")
	f.StringVar(&accuracy, "accuracy", polewright.Standard.Name, accuracyUsage)
	f.BoolVar(&asJSON, "json", false, "print one JSON object in SI units in place of text")
	f.BoolVar(&force, "force", false, "overwrite the file if it is there")
	f.BoolVar(&quiet, "quiet", false, "show no progress on a terminal")
	return c
}

// carded solves the design and makes its safety card.
func carded(c *cobra.Command, d *design.Design, a polewright.Accuracy, p *progress) (*polewright.Solved, *safety.Card, error) {
	const solving = 0.5 // of the progress
	s, err := solve(c.Context(), d, polewright.Options{Accuracy: a, Halves: polewright.Halves(d), NoLedger: true,
		Progress: func(what string, done float64) { p.report(what, solving*done) }})
	if err != nil {
		return nil, nil, err
	}
	card, err := s.SafetyCard(c.Context(), polewright.CardOptions{Progress: func(what string, done float64) { p.report(what, solving+(1-solving)*done) }})
	return s, card, err
}
