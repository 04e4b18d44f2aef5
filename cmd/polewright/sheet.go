package main

import (
	"fmt"
	"io"
	"path/filepath"
	"strings"

	"github.com/spf13/cobra"

	"polewright"
	"polewright/measurement"
	"polewright/mistake"
	"polewright/papers"
	"polewright/result"
)

func sheetCommand() *cobra.Command {
	var out, places, probe, accuracy, paper, date string
	var asJSON, force, quiet bool
	c := &cobra.Command{
		Use:   "sheet FILE -o SHEET.pdf [flags]",
		Short: "Write a sheet for measuring a built magnet: where, what to expect, blanks",
		Long: `Predict what a probe should read at the usual places of a built magnet: the centre, the axis of the
gap, lines across it, a lattice over the region, outside at 0.1, 0.3, 0.5 and 1 m from the parts, and
where the yoke's outside is hottest. Each place has the band of 95 % in which a sound build may lie by
the usual spreads of magnets, gap, tilt and packing and the usual errors of a probe.
SHEET ends in .pdf or .html to print and fill in, or in .csv: a log to fill in for polewright verify.
FILE may be - for standard input.`,
		Example: `  polewright sheet my-magnet.toml -o sheet.pdf --probe "disc 2 mm"
  polewright sheet my-magnet.toml -o readings.csv --places "centre, axis 11, cube 3"
  polewright verify my-magnet.toml readings.csv --certificate certificate.pdf`,
		Args: oneArgument("design FILE", "polewright sheet my-magnet.toml -o sheet.pdf"),
		RunE: func(c *cobra.Command, args []string) error {
			o := polewright.SheetOptions{}
			var err error
			if o.Groups, err = polewright.ParseSheetGroups(places); err != nil {
				return flagged("--places: ", err)
			}
			if probe != "" {
				if o.Probe, err = measurement.ParseProbe(probe); err != nil {
					return mistake.Of(fmt.Sprintf("--probe %q: %v", probe, err), "")
				}
			}
			if o.Accuracy, err = parseAccuracy(accuracy); err != nil {
				return err
			}
			size, err := papers.PaperNamed(paper)
			if err != nil {
				return mistake.Of("--paper: "+err.Error(), "")
			}
			if date, err = reportDate(date); err != nil {
				return err
			}
			isLog := strings.EqualFold(filepath.Ext(out), ".csv")
			var write func(*papers.Document, io.Writer) error
			switch {
			case out == "" && asJSON:
			case isLog:
			default:
				if write, err = papersFormat("sheet", out, size); err != nil {
					return cannotWrite("sheet", out, "known are .pdf, .html and .csv: -o sheet.pdf")
				}
			}
			if out != "" {
				if err := canWrite(out, force); err != nil {
					return err
				}
			}
			d, text, err := readKept(c.Context(), args[0], c.InOrStdin())
			if err != nil {
				return err
			}
			progress := newProgress(c.ErrOrStderr(), quiet)
			o.Progress = progress.report
			s, err := unlessStopped(c.Context(), func() (*result.Sheet, error) { return polewright.RunSheet(c.Context(), d, o) })
			progress.stop()
			if err != nil {
				return err
			}
			if out != "" {
				err = writeStream(out, force, func(w io.Writer) error {
					if isLog {
						return papers.BlankLog(w, s, text, version(), date)
					}
					return write(papers.MeasurementSheet(s, text, version(), date), w)
				})
				if err != nil {
					return err
				}
				fmt.Fprintf(c.ErrOrStderr(), "wrote %s\n", out)
			}
			if asJSON {
				return writeJSON(c.OutOrStdout(), s)
			}
			return nil
		},
	}
	f := c.Flags()
	f.StringVarP(&out, "output", "o", "", "`FILE` to write: .pdf, .html or .csv")
	f.StringVar(&places, "places", "", "groups of places, `LIST` \"centre, axis 11, across 7, cube 3, outside, yoke\"; all without it")
	f.StringVar(&probe, "probe", "", "active area of the probe, `AREA` \"point\", \"disc 2 mm\" or \"rectangle 1 mm x 2 mm\" (across what it reads)")
	f.StringVar(&paper, "paper", "A4", "`PAPER` of a PDF: A4 or letter")
	f.StringVar(&date, "date", "", "`DATE` on the sheet, as 2026-11-25, or none; today's without it")
	f.StringVar(&accuracy, "accuracy", polewright.Standard.Name, accuracyUsage)
	f.BoolVar(&asJSON, "json", false, "also print one JSON object in SI units")
	f.BoolVar(&force, "force", false, "overwrite the file if it is there")
	f.BoolVar(&quiet, "quiet", false, "show no progress on a terminal")
	return c
}
