package main

import (
	"fmt"

	"github.com/spf13/cobra"

	"polewright"
	"polewright/mistake"
	"polewright/quantity"
	"polewright/report"
	"polewright/result"
)

func approachCommand() *cobra.Command {
	var asJSON, quiet bool
	var accuracy, half, from string
	var steps int
	c := &cobra.Command{
		Use:   "approach FILE --half PLANE [flags]",
		Short: "Say how two halves pull while they are brought together",
		Long: `Solve a design with all on the positive side of a plane moved away along the plane's normal, then
nearer step by step down to its place in the design. Print the force at each distance, the energy
that is set free, and how steeply the force grows. FILE may be - for standard input.`,
		Example: `  polewright approach my-magnet.toml --half z=0
  polewright approach my-magnet.toml --half "z=29 mm" --from "50 mm" --steps 8 --json`,
		Args: oneArgument("design FILE", "polewright approach my-magnet.toml --half z=0"),
		RunE: func(c *cobra.Command, args []string) error {
			o := polewright.Approach{Steps: steps}
			var err error
			if o.Accuracy, err = parseAccuracy(accuracy); err != nil {
				return err
			}
			if half == "" {
				return mistake.Of("approach needs the plane at which the halves part", "write an axis, =, and a length: --half z=0")
			}
			if o.Plane, err = parsePlane(half); err != nil {
				return err
			}
			if o.FromM, err = flagQuantity("from", from, quantity.Length, 0, 10, `--from "100 mm"`); err != nil {
				return err
			}
			if steps < 4 || steps > 1000 {
				return mistake.Of(fmt.Sprintf("--steps %d", steps), "give 4 to 1000 steps: fewer draw no curve of the force")
			}
			d, err := readDesign(c.Context(), args[0], c.InOrStdin())
			if err != nil {
				return err
			}
			r, err := answered(c, quiet, func(progress func(string, float64)) (*result.Approach, error) {
				o.Progress = progress
				return polewright.RunApproach(c.Context(), d, o)
			})
			if err != nil {
				return err
			}
			return show(c, asJSON, r, report.ApproachText)
		},
	}
	f := c.Flags()
	f.StringVar(&half, "half", "", "`PLANE` at which the halves part, as z=0 or \"x=-3 mm\"")
	f.StringVar(&from, "from", "100 mm", "largest `DISTANCE` from the place in the design")
	f.IntVar(&steps, "steps", 10, "how many distances, closer together near the closed place")
	f.StringVar(&accuracy, "accuracy", polewright.Draft.Name, accuracyUsage)
	f.BoolVar(&asJSON, "json", false, jsonUsage)
	f.BoolVar(&quiet, "quiet", false, quietUsage)
	return c
}
