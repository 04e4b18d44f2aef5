package main

import (
	"fmt"
	"io"

	"github.com/spf13/cobra"

	"polewright"
	"polewright/mistake"
	"polewright/report"
	"polewright/result"
)

func assembleCommand() *cobra.Command {
	var asJSON, quiet, dark, force bool
	var accuracy, chart string
	o := polewright.AssemblyOptions{}
	c := &cobra.Command{
		Use:   "assemble FILE [flags]",
		Short: "Say in which order a magnet is put together, with the forces of every step",
		Long: `Plan the order in which a design is put together and solve every step on its way: force, torque and
energy at each distance, side stability, jack screws, what each state does to the magnets, the way
to take it apart, keepers and storage. FILE may be - for standard input.`,
		Example: `  polewright assemble my-magnet.toml
  polewright assemble my-magnet.toml --chart steps.svg --screws 4 --json`,
		Args: oneArgument("design FILE", "polewright assemble my-magnet.toml"),
		RunE: func(c *cobra.Command, args []string) error {
			var err error
			if o.Accuracy, err = parseAccuracy(accuracy); err != nil {
				return err
			}
			if err := assembleFlags(o); err != nil {
				return err
			}
			var draw chartWriter
			if chart != "" {
				if draw, err = chartFile(chart); err != nil {
					return err
				}
				if err := canWrite(chart, force); err != nil {
					return err
				}
			}
			d, err := readDesign(c.Context(), args[0], c.InOrStdin())
			if err != nil {
				return err
			}
			r, err := answered(c, quiet, func(progress func(string, float64)) (*result.Assembly, error) {
				o.Progress = progress
				return polewright.RunAssembly(c.Context(), d, o)
			})
			if err != nil {
				return err
			}
			if chart != "" {
				picture, ok := report.AssemblyChart(r, dark)
				if !ok {
					return mistake.Of("--chart: no step of this design pulls over a distance", "leave --chart out")
				}
				if err := writeTold(c, chart, force, func(w io.Writer) error { return draw(picture, w) }); err != nil {
					return err
				}
			}
			return show(c, asJSON, r, report.AssemblyText)
		},
	}
	f := c.Flags()
	f.IntVar(&o.Distances, "distances", 8, "how many distances each step is solved at, closer together near the place")
	f.IntVar(&o.Screws, "screws", 3, "how many jack screws share the load of a step")
	f.Float64Var(&o.ScrewFactor, "screw-factor", 2, "`FACTOR` on the pull for the screws' load (common practice, no source)")
	f.StringVar(&chart, "chart", "", "also draw force against distance as `FILE`.svg or .png")
	f.BoolVar(&dark, "dark", false, "draw the chart for a dark page")
	f.StringVar(&accuracy, "accuracy", polewright.Draft.Name, accuracyUsage)
	f.BoolVar(&force, "force", false, "overwrite the chart if it is there")
	f.BoolVar(&asJSON, "json", false, jsonUsage)
	f.BoolVar(&quiet, "quiet", false, quietUsage)
	return c
}

// assembleFlags checks the numbers among the flags.
func assembleFlags(o polewright.AssemblyOptions) error {
	switch {
	case o.Distances < 8 || o.Distances > 200:
		return mistake.Of(fmt.Sprintf("--distances %d", o.Distances), "give 8 to 200 distances: fewer draw no curve of the force")
	case o.Screws < 1 || o.Screws > 24:
		return mistake.Of(fmt.Sprintf("--screws %d", o.Screws), "give 1 to 24 screws; two or three are usual")
	case !(o.ScrewFactor >= 1 && o.ScrewFactor <= 20):
		return mistake.Of(fmt.Sprintf("--screw-factor %g", o.ScrewFactor), "give a factor of 1 to 20; 2 is usual")
	}
	return nil
}
