package main

import (
	"fmt"

	"github.com/spf13/cobra"

	"polewright"
	"polewright/measurement"
	"polewright/mistake"
	"polewright/report"
	"polewright/result"
)

// inspectFlags are what the command line asks of an inspection.
type inspectFlags struct {
	accuracy, aim                 string
	json, strict, noPlaces, quiet bool
}

func inspectCommand() *cobra.Command {
	var o inspectFlags
	c := &cobra.Command{
		Use:   "inspect DESIGN PIECES.csv [flags]",
		Short: "Judge magnets measured one by one, and say which goes where and how turned",
		Long: `Turn what was measured of single magnets into their remanence, with its uncertainty, and hold it
against the least that the grade warrants; find marks on the wrong side; then choose the places and
turns of the pieces by what each changes in the field over the region.

PIECES.csv has a line for each piece and a header with units: piece,m_Am2 for the moment along the
mark, by a Helmholtz coil and a fluxmeter (or mx_,my_,mz_ with z along the mark and x, y along the
sides that follow the design's; also mAm2, Wbm, mWbm, uWbm); or piece,B_mT,at_mm for the field on the
axis at a distance from the marked face. Readings are positive along the mark. Where wanted: magnet,
the part of the design that it is for; T_degC; u_ with the unit of the reading, its standard
uncertainty. A piece is measured alone, far from steel and other magnets: keep them apart, for loose
magnets leap at each other and shatter.`,
		Example: `  polewright inspect my-magnet.toml pieces.csv
  polewright inspect my-magnet.toml pieces.csv --best-for field --json`,
		Args: func(c *cobra.Command, args []string) error {
			if len(args) != 2 {
				return mistake.Of("inspect needs a design FILE and PIECES.csv", "for example: polewright inspect my-magnet.toml pieces.csv")
			}
			if args[0] == "-" && args[1] == "-" {
				return mistake.Of("design and pieces cannot both come from standard input", "for example: polewright inspect my-magnet.toml pieces.csv")
			}
			return nil
		},
		RunE: func(c *cobra.Command, args []string) error { return o.run(c, args[0], args[1]) },
	}
	f := c.Flags()
	f.StringVar(&o.aim, "best-for", "uniformity", "what places are chosen for, `AIM` uniformity or field")
	f.BoolVar(&o.noPlaces, "no-places", false, "judge only: nothing is solved")
	f.StringVar(&o.accuracy, "accuracy", polewright.Draft.Name, accuracyUsage)
	f.BoolVar(&o.json, "json", false, jsonUsage)
	f.BoolVar(&o.strict, "strict", false, "exit with status 1 if a piece is below its grade or marked wrongly")
	f.BoolVar(&o.quiet, "quiet", false, quietUsage)
	return c
}

func (f *inspectFlags) run(c *cobra.Command, file, list string) error {
	o := polewright.InspectOptions{NoPlaces: f.noPlaces, ForField: f.aim == "field"}
	if f.aim != "uniformity" && f.aim != "field" {
		return mistake.Of(fmt.Sprintf("--best-for %q: no such aim", f.aim), "write uniformity or field")
	}
	var err error
	if o.Accuracy, err = parseAccuracy(f.accuracy); err != nil {
		return err
	}
	d, err := readDesign(c.Context(), file, c.InOrStdin())
	if err != nil {
		return err
	}
	pieces, err := readTable(c.Context(), list, c.InOrStdin(), "list of pieces", measurement.ReadPieces)
	if err != nil {
		return err
	}
	r, err := answered(c, f.quiet, func(progress func(string, float64)) (*result.Inspection, error) {
		o.Progress = progress
		return polewright.Inspect(c.Context(), d, pieces, o)
	})
	if err != nil {
		return err
	}
	if err := show(c, f.json, r, report.InspectionText); err != nil || !f.strict {
		return err
	}
	var missed unmetError
	for _, p := range r.Pieces {
		if p.Verdict == result.VerdictNotMet || p.Verdict == result.VerdictReversed {
			missed = append(missed, fmt.Sprintf("piece %s: %s", p.Name, p.Verdict))
		}
	}
	if len(missed) > 0 {
		return missed
	}
	return nil
}
