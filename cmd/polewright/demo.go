package main

import (
	"fmt"
	"strings"

	"github.com/spf13/cobra"

	"polewright"
	"polewright/design"
	"polewright/report"
	"polewright/result"
)

// The designs of the demo and how their comparison calls them.
var demoDesigns = []struct{ layout, name string }{{"framed-pair", "framed"}, {"wound-pair", "wound"}}

func demoCommand() *cobra.Command {
	var asJSON, quiet bool
	var accuracy, pictures string
	c := &cobra.Command{
		Use:   "demo [flags]",
		Short: "Solve the two embedded designs and compare them",
		Long: `Solve two invented examples, the same pair of magnets once in a steel frame and once in a yoke wound
from wire, and print what each does.`,
		Example: `  polewright demo
  polewright demo --accuracy draft --picture pictures`,
		Args: noArguments,
		RunE: func(c *cobra.Command, _ []string) error {
			a, err := parseAccuracy(accuracy)
			if err != nil {
				return err
			}
			var results []*result.Result
			for i, demo := range demoDesigns {
				text, err := design.Template(demo.layout)
				if err != nil {
					return err
				}
				d, err := design.Read(strings.NewReader(text), "")
				if err != nil {
					return err
				}
				s, err := answered(c, quiet, func(progress func(string, float64)) (*polewright.Solved, error) {
					return polewright.Run(c.Context(), d, polewright.Options{Accuracy: a, Halves: polewright.Halves(d), Progress: func(what string, done float64) {
						progress(demo.name+" pair: "+what, (float64(i)+done)/float64(len(demoDesigns)))
					}})
				})
				if err != nil {
					return err
				}
				if pictures != "" {
					if err := drawField(c.Context(), pictures, demo.layout, d, s); err != nil {
						return err
					}
				}
				results = append(results, s.Result)
			}
			compared := report.Compare(demoDesigns[0].name, results[0], demoDesigns[1].name, results[1])
			if asJSON {
				return writeJSON(c.OutOrStdout(), struct {
					Designs    []*result.Result `json:"designs"`
					Comparison string           `json:"comparison"`
				}{results, compared})
			}
			for _, r := range results {
				if err := report.Text(c.OutOrStdout(), r); err != nil {
					return err
				}
				fmt.Fprintln(c.OutOrStdout())
			}
			_, err = fmt.Fprintf(c.OutOrStdout(), `%s

Next: polewright new framed-pair -o my-magnet.toml
      change its numbers to your magnet, then
      polewright predict my-magnet.toml
`, compared)
			return err
		},
	}
	f := c.Flags()
	f.StringVar(&accuracy, "accuracy", polewright.Standard.Name, accuracyUsage)
	f.BoolVar(&asJSON, "json", false, jsonUsage)
	f.StringVar(&pictures, "picture", "", "also draw each field as LAYOUT.png into the folder `DIR`")
	f.BoolVar(&quiet, "quiet", false, quietUsage)
	return c
}
