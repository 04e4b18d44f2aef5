package main

import (
	"io"
	"path/filepath"
	"strings"

	"github.com/spf13/cobra"

	"polewright"
	"polewright/mistake"
	"polewright/papers"
	"polewright/result"
)

// sheetFlags are what the command line asks of a sheet for measuring.
type sheetFlags struct {
	out, places, probe, accuracy, paper, date string
	json, force, quiet                        bool
}

func sheetCommand() *cobra.Command {
	var o sheetFlags
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
		RunE: func(c *cobra.Command, args []string) error { return o.run(c, args[0]) },
	}
	f := c.Flags()
	f.StringVarP(&o.out, "output", "o", "", "`FILE` to write: .pdf, .html or .csv")
	f.StringVar(&o.places, "places", "", "groups of places, `LIST` \"centre, axis 11, across 7, cube 3, outside, yoke\"; all without it")
	f.StringVar(&o.probe, "probe", "", "active area of the probe, `AREA` \"point\", \"disc 2 mm\" or \"rectangle 1 mm x 2 mm\" (across what it reads)")
	f.StringVar(&o.paper, "paper", "A4", paperUsage)
	f.StringVar(&o.date, "date", "", "`DATE` on the sheet, as 2026-11-25, or none; today's without it")
	f.StringVar(&o.accuracy, "accuracy", polewright.Standard.Name, accuracyUsage)
	f.BoolVar(&o.json, "json", false, "also print one JSON object in SI units")
	f.BoolVar(&o.force, "force", false, forceUsage)
	f.BoolVar(&o.quiet, "quiet", false, quietUsage)
	return c
}

func (f *sheetFlags) run(c *cobra.Command, file string) error {
	o, err := f.parse()
	if err != nil {
		return err
	}
	date, err := reportDate(f.date)
	if err != nil {
		return err
	}
	write, err := f.format(date)
	if err != nil {
		return err
	}
	if err := canWrite(f.out, f.force); err != nil {
		return err
	}
	d, text, err := readKept(c.Context(), file, c.InOrStdin())
	if err != nil {
		return err
	}
	s, err := answered(c, f.quiet, func(progress func(string, float64)) (*result.Sheet, error) {
		o.Progress = progress
		return polewright.RunSheet(c.Context(), d, o)
	})
	if err != nil {
		return err
	}
	if f.out != "" {
		if err := writeTold(c, f.out, f.force, func(w io.Writer) error { return write(w, s, text) }); err != nil {
			return err
		}
	}
	if f.json {
		return writeJSON(c.OutOrStdout(), s)
	}
	return nil
}

// parse reads what the flags say of places and probe.
func (f *sheetFlags) parse() (o polewright.SheetOptions, err error) {
	if o.Groups, err = polewright.ParseSheetGroups(f.places); err != nil {
		return o, mistake.Prefixed("--places: ", err)
	}
	if f.probe != "" {
		if o.Probe, err = flagProbe(f.probe); err != nil {
			return o, err
		}
	}
	o.Accuracy, err = parseAccuracy(f.accuracy)
	return o, err
}

// format is how the sheet is written, by the name of its file; nil where only JSON is wanted. text is that of the design file.
func (f *sheetFlags) format(date string) (func(w io.Writer, s *result.Sheet, text []byte) error, error) {
	size, err := papers.PaperNamed(f.paper)
	if err != nil {
		return nil, mistake.Of("--paper: "+err.Error(), "")
	}
	switch {
	case f.out == "" && f.json:
		return nil, nil
	case strings.EqualFold(filepath.Ext(f.out), ".csv"):
		return func(w io.Writer, s *result.Sheet, text []byte) error {
			return papers.BlankLog(w, s, text, version(), date)
		}, nil
	}
	write, err := papersFormat("sheet", f.out, size)
	if err != nil {
		return nil, cannotWrite("sheet", f.out, "known are .pdf, .html and .csv: -o sheet.pdf")
	}
	return func(w io.Writer, s *result.Sheet, text []byte) error {
		return write(papers.MeasurementSheet(s, text, version(), date), w)
	}, nil
}
