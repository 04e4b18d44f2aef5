package main

import (
	"fmt"
	"io"
	"path/filepath"
	"strings"
	"time"

	"github.com/spf13/cobra"

	"polewright"
	"polewright/draw"
	"polewright/mistake"
	"polewright/papers"
)

func reportCommand() *cobra.Command {
	var out, accuracy, paper, projection, date, prices string
	var force, quiet, noAssembly bool
	c := &cobra.Command{
		Use:   "report FILE -o OUT.pdf [flags]",
		Short: "Write the build papers: drawings, field, forces, safety card, as PDF or HTML",
		Long: `Solve a design and write all that a builder needs as one file: cautions, bill of materials,
drawings, winding sheets, field maps and profiles, harmonics, working points, saturation, forces,
the order of assembly, a safety card, the loss ledger and the design file itself. With --stock the
bill has what to buy, how bars are cut and the cost. OUT ends in .pdf or .html; neither needs
another file or a network. FILE may be - for standard input.`,
		Example: `  polewright report my-magnet.toml -o magnet.pdf
  polewright report my-magnet.toml -o magnet.html --accuracy fine --date 2026-11-25`,
		Args: oneArgument("design FILE", "polewright report my-magnet.toml -o magnet.pdf"),
		RunE: func(c *cobra.Command, args []string) error {
			s := papers.Source{Version: version(), NoAssembly: noAssembly}
			sheet, err := papers.PaperNamed(paper)
			if err != nil {
				return mistake.Of("--paper: "+err.Error(), "")
			}
			write, err := papersFormat("report", out, sheet)
			if err != nil {
				return err
			}
			if s.Projection, err = draw.ProjectionNamed(projection); err != nil {
				return mistake.Of("--projection: "+err.Error(), "")
			}
			if s.Date, err = reportDate(date); err != nil {
				return err
			}
			a, err := parseAccuracy(accuracy)
			if err != nil {
				return err
			}
			if err := canWrite(out, force); err != nil {
				return err
			}
			if s.Stock, err = flagStock(prices); err != nil {
				return err
			}
			if s.Design, s.File, err = readKept(c.Context(), args[0], c.InOrStdin()); err != nil {
				return err
			}
			o := polewright.Options{Accuracy: a, Halves: polewright.Halves(s.Design), Stock: s.Stock}
			document, err := solvedThen(c, quiet, 0.7, s.Design, o, func(solved *polewright.Solved, progress func(string, float64)) (*papers.Document, error) {
				s.Solved = solved
				return papers.Compose(c.Context(), s, func(what string, done float64) { progress("papers: "+what, done) })
			})
			if err != nil {
				return err
			}
			return writeTold(c, out, force, func(w io.Writer) error { return write(document, w) })
		},
	}
	f := c.Flags()
	f.StringVarP(&out, "output", "o", "", "`FILE` to write: .pdf or .html")
	f.StringVar(&paper, "paper", "A4", paperUsage)
	f.StringVar(&projection, "projection", "first", "`ANGLE` of the views: first (Europe) or third (America)")
	f.StringVar(&date, "date", "", "`DATE` on the papers, as 2026-11-25, or none; today's without it")
	f.StringVar(&prices, "stock", "", stockUsage)
	f.StringVar(&accuracy, "accuracy", polewright.Standard.Name, accuracyUsage)
	f.BoolVar(&noAssembly, "no-assembly", false, "leave out the order of assembly, which is the slowest page")
	f.BoolVar(&force, "force", false, forceUsage)
	f.BoolVar(&quiet, "quiet", false, quietUsage)
	return c
}

// papersFormat chooses how a document is written by the name of its file.
func papersFormat(command, out string, paper papers.Paper) (func(*papers.Document, io.Writer) error, error) {
	const known = "known are .pdf and .html: -o magnet.pdf"
	switch ext := strings.ToLower(filepath.Ext(out)); {
	case ext == ".pdf":
		return func(d *papers.Document, w io.Writer) error { return d.PDF(w, paper) }, nil
	case ext == ".html" || ext == ".htm":
		return (*papers.Document).HTML, nil
	default:
		return nil, cannotWrite(command, out, known)
	}
}

// reportDate is the date given, today's, or "" for none. It is the one place that looks at the clock for it.
func reportDate(given string) (string, error) {
	switch given {
	case "":
		return time.Now().Format(time.DateOnly), nil
	case "none":
		return "", nil
	}
	if _, err := time.Parse(time.DateOnly, given); err != nil {
		return "", mistake.Of(fmt.Sprintf("--date %q: no date", given), "write year, month and day, as in --date 2026-11-25, or none")
	}
	return given, nil
}
