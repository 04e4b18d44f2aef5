package main

import (
	"fmt"

	"github.com/spf13/cobra"

	"polewright"
	"polewright/design"
	"polewright/report"
	"polewright/winding"
)

// sheet is a winding sheet with the name of its yoke.
type sheet struct {
	Name string `json:"name"`
	Wire string `json:"wire"`
	// The wire's diameter, m.
	DiameterM float64 `json:"wire_diameter_m"`
	winding.Sheet
}

func windCommand() *cobra.Command {
	var asJSON bool
	c := &cobra.Command{
		Use:   "wind FILE [flags]",
		Short: "Print the winding sheet of each wound yoke",
		Long: `Print the sheet for winding each [[wound]] yoke of a design: turns, wire and outside size layer by
layer, time and pull. Nothing is solved. FILE may be - for standard input.`,
		Example: `  polewright new wound-pair -o my-magnet.toml
  polewright wind my-magnet.toml`,
		Args: oneArgument("design FILE", "polewright wind my-magnet.toml"),
		RunE: func(c *cobra.Command, args []string) error {
			d, err := readDesign(c.Context(), args[0], c.InOrStdin())
			if err != nil {
				return err
			}
			if len(d.Wounds) == 0 {
				return design.Errors{{File: d.File, What: "there is no [[wound]] yoke in it", Hint: "see one with: polewright new wound-pair"}}
			}
			var sheets []sheet
			for i := range d.Wounds {
				w := &d.Wounds[i]
				s, err := winding.Wind(polewright.WindingPlan(w))
				if err != nil {
					return design.Errors{{File: d.File, Line: w.Line, Key: "wound." + w.Name, What: err.Error()}}
				}
				sheets = append(sheets, sheet{w.Name, w.Wire, w.WireDiameterM, s})
			}
			switch {
			case asJSON && len(sheets) == 1:
				return writeJSON(c.OutOrStdout(), sheets[0])
			case asJSON:
				return writeJSON(c.OutOrStdout(), map[string]any{"windings": sheets})
			}
			for i, s := range sheets {
				if i > 0 {
					fmt.Fprintln(c.OutOrStdout())
				}
				if err := report.WindingSheet(c.OutOrStdout(), s.Name, s.Wire, polewright.WindingPlan(&d.Wounds[i]), s.Sheet); err != nil {
					return err
				}
			}
			return nil
		},
	}
	c.Flags().BoolVar(&asJSON, "json", false, "print one JSON object in SI units in place of text")
	return c
}
