package main

import (
	"github.com/spf13/cobra"

	"polewright"
	"polewright/design"
	"polewright/report"
)

func predictCommand() *cobra.Command {
	var asJSON, strict, quiet bool
	var accuracy, prices string
	var halves, groups []string
	c := &cobra.Command{
		Use:   "predict FILE [flags]",
		Short: "Solve a design and say what it does",
		Long: `Solve a design file and print the field in its gap, the working point of each magnet, the state of
the steel, forces, stray field, mass and the ledger of losses. FILE may be - for standard input.`,
		Example: `  polewright predict my-magnet.toml
  polewright predict my-magnet.toml --half z=0 --half "x=-3 mm"
  polewright predict my-magnet.toml --group "upper, top back" --group upper
  polewright predict my-magnet.toml --json --accuracy fine > my-magnet.json`,
		Args: oneArgument("design FILE", "polewright predict my-magnet.toml"),
		RunE: func(c *cobra.Command, args []string) error {
			a, err := parseAccuracy(accuracy)
			if err != nil {
				return err
			}
			planes, err := parsePlanes(halves)
			if err != nil {
				return err
			}
			d, err := readDesign(c.Context(), args[0], c.InOrStdin())
			if err != nil {
				return err
			}
			if err := inside(planes, d); err != nil {
				return err
			}
			shelf, err := flagStock(prices)
			if err != nil {
				return err
			}
			s, err := answered(c, quiet, func(progress func(string, float64)) (*polewright.Solved, error) {
				return polewright.Run(c.Context(), d, polewright.Options{Accuracy: a, Halves: planes, Groups: parseGroups(groups), Stock: shelf, Progress: progress})
			})
			if err != nil {
				return err
			}
			if err := show(c, asJSON, s.Result, report.Text); err != nil || !strict {
				return err
			}
			return missed(d, s)
		},
	}
	f := c.Flags()
	f.StringVar(&accuracy, "accuracy", polewright.Standard.Name, accuracyUsage)
	f.StringArrayVar(&halves, "half", nil, "also give the force on all on the positive side of a `PLANE`; repeatable")
	f.StringArrayVar(&groups, "group", nil, "also force and torque on `PARTS` together, as \"upper, top back\"; repeatable")
	f.StringVar(&prices, "stock", "", stockUsage)
	f.BoolVar(&asJSON, "json", false, jsonUsage)
	f.BoolVar(&strict, "strict", false, "exit with status 1 when a target or a safety check is not met")
	f.BoolVar(&quiet, "quiet", false, quietUsage)
	return c
}

// What flags of several commands are for.
const (
	accuracyUsage = "accuracy `A`: draft 0.5 %, standard 0.1 %, fine 0.02 %"
	jsonUsage     = "print one JSON object in SI units in place of text"
	quietUsage    = "show no progress on a terminal"
	forceUsage    = "overwrite the file if it is there"
	paperUsage    = "`PAPER` of a PDF: A4 or letter"
)

// missed lists the targets and safety checks that are not met.
func missed(d *design.Design, s *polewright.Solved) error {
	var list unmetError
	for _, c := range s.Result.Target {
		if !c.Met {
			list = append(list, report.Unmet(c))
		}
	}
	list = append(list, polewright.Unsafe(d, s.Result)...)
	if len(list) == 0 {
		return nil
	}
	return list
}
