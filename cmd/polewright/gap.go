package main

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"github.com/spf13/cobra"

	"polewright"
	"polewright/mistake"
	"polewright/report"
)

func gapCommand() *cobra.Command {
	var asJSON, quiet bool
	var accuracy, energy, probe string
	c := &cobra.Command{
		Use:   "gap FILE [flags]",
		Short: "Say how good the field in the gap is, and what instruments read in it",
		Long: `Solve a design and print its gap field as harmonics, its uniformity over the target region, gradients,
and what people convert a field to: frequency and line width of proton and electron resonance, the
circles of charged particles, what a Hall probe reads wrong, the force on water. FILE may be - for
standard input.`,
		Example: `  polewright gap my-magnet.toml --accuracy fine
  polewright gap my-magnet.toml --energy "2 MeV" --probe "0.5 mm" --json`,
		Args: oneArgument("design FILE", "polewright gap my-magnet.toml"),
		RunE: func(c *cobra.Command, args []string) error {
			a, err := parseAccuracy(accuracy)
			if err != nil {
				return err
			}
			ev, err := parseEnergy(energy)
			if err != nil {
				return err
			}
			edge, err := flagLength("probe", probe, `--probe "1 mm"`)
			if err != nil {
				return err
			}
			d, err := readDesign(c.Context(), args[0], c.InOrStdin())
			if err != nil {
				return err
			}
			s, err := answered(c, quiet, func(progress func(string, float64)) (*polewright.Solved, error) {
				return polewright.Run(c.Context(), d, polewright.Options{Accuracy: a, NoLedger: true, NoDemagnetization: true, Progress: progress})
			})
			if err != nil {
				return err
			}
			q, err := s.Quality(ev, edge)
			if err != nil {
				return mistake.Of(err.Error(), `name the gap: [target] region = { shape = "sphere", diameter = "8 mm" }`)
			}
			return show(c, asJSON, q, report.Gap)
		},
	}
	f := c.Flags()
	f.StringVar(&energy, "energy", "10 keV", "kinetic `ENERGY` of the particles whose circles are wanted, in eV, keV, MeV or GeV")
	f.StringVar(&probe, "probe", "1 mm", "`EDGE` of the active area of the Hall probe")
	f.StringVar(&accuracy, "accuracy", polewright.Standard.Name, accuracyUsage)
	f.BoolVar(&asJSON, "json", false, jsonUsage)
	f.BoolVar(&quiet, "quiet", false, quietUsage)
	return c
}

// parseEnergy reads an energy such as "10 keV" in electronvolts.
func parseEnergy(s string) (float64, error) {
	const hint = `for example --energy "10 keV"; units are eV, keV, MeV and GeV`
	t := strings.TrimSpace(s)
	for _, u := range []struct {
		name string
		ev   float64
	}{{"keV", 1e3}, {"MeV", 1e6}, {"GeV", 1e9}, {"eV", 1}} {
		number, ok := strings.CutSuffix(t, u.name)
		if !ok {
			continue
		}
		v, err := strconv.ParseFloat(strings.TrimSpace(number), 64)
		if err != nil || !(v > 0) || math.IsInf(v*u.ev, 1) {
			return 0, mistake.Of(fmt.Sprintf("--energy %q: no energy above zero", s), hint)
		}
		return v * u.ev, nil
	}
	return 0, mistake.Of(fmt.Sprintf("--energy %q: no unit of energy", s), hint)
}
