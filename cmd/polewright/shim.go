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

func shimCommand() *cobra.Command {
	var foil, most, size, magnet, remanence, apply, face, accuracy string
	var edge, degree int
	var asJSON, quiet bool
	c := &cobra.Command{
		Use:   "shim DESIGN LOG.csv [flags]",
		Short: "Say which foils or trim magnets on the faces of the gap make a measured map flat",
		Long: `Fit the low terms of the field to a measured map, and find the patches of steel foil on a lattice of
places on both faces of the gap, or small magnets there, that make it flat over the target's region:
least squares within bounds, then whole foils. What each does is worked out by closed forms with
images in the steel behind the face. Put on the share to apply first, read the map again, ask again.
LOG.csv is a log as for verify; readings of the field along the gap near the region count.`,
		Example: `  polewright shim my-magnet.toml readings.csv
  polewright shim my-magnet.toml readings.csv --foil "0.1 mm" --most "0.4 mm" --size "6 mm" --face +
  polewright shim my-magnet.toml readings.csv --magnet "2 mm" --size "3 mm" --json`,
		Args: func(c *cobra.Command, args []string) error {
			if len(args) != 2 || args[0] == "-" && args[1] == "-" {
				return mistake.Of("shim needs a design FILE and a LOG.csv of readings", "for example: polewright shim my-magnet.toml readings.csv")
			}
			return nil
		},
		RunE: func(c *cobra.Command, args []string) error {
			o := polewright.ShimOptions{Edge: edge, Degree: degree}
			var err error
			for _, l := range []struct {
				flag, text, example string
				to                  *float64
				low, high           float64
			}{
				{"foil", foil, `--foil "0.05 mm"`, &o.FoilM, 0.005e-3, 2e-3},
				{"most", most, `--most "0.5 mm"`, &o.MostM, 0.005e-3, 10e-3},
				{"size", size, `--size "6 mm"`, &o.SizeM, 0.5e-3, 0.2},
				{"magnet", magnet, `--magnet "2 mm"`, &o.MagnetM, 0.2e-3, 20e-3},
			} {
				if l.text == "" {
					continue
				}
				if *l.to, err = flagLength(l.flag, l.text, l.example); err != nil {
					return err
				}
				if !(*l.to >= l.low && *l.to <= l.high) {
					return mistake.Of(fmt.Sprintf("--%s %q is not from %s to %s", l.flag, l.text, quantity.Format(l.low, "mm", 3), quantity.Format(l.high, "mm", 3)), "for example "+l.example)
				}
			}
			if o.MostM < o.FoilM {
				return mistake.Of("--most is thinner than one foil", `for example --foil "0.05 mm" --most "0.5 mm"`)
			}
			if o.RemanenceT, err = quantity.Parse(remanence, quantity.FluxDensity); err != nil || !(o.RemanenceT > 0 && o.RemanenceT <= 2) {
				return mistake.Of(fmt.Sprintf("--remanence %q: no remanence above 0 and up to 2 T", remanence), `for example --remanence "1.2 T"`)
			}
			if o.Apply, err = quantity.Parse(apply, quantity.Ratio); err != nil || !(o.Apply > 0 && o.Apply <= 1) {
				return mistake.Of(fmt.Sprintf("--apply %q: no share above 0 and up to 100 %%", apply), `for example --apply "70 %"`)
			}
			if edge < 2 || edge > 9 || degree < 0 || degree > 6 {
				return mistake.Of("--edge is from 2 to 9 places, --degree from 1 to 6", "for example --edge 5 --degree 3")
			}
			var ok bool
			if o.Face, ok = map[string]int{"both": 0, "+": 1, "-": -1}[face]; !ok {
				return mistake.Of(fmt.Sprintf("--face %q: no face", face), "write both, + or -")
			}
			if o.Accuracy, err = parseAccuracy(accuracy); err != nil {
				return err
			}
			d, err := readDesign(c.Context(), args[0], c.InOrStdin())
			if err != nil {
				return err
			}
			log, err := readReadings(c.Context(), args[1], c.InOrStdin())
			if err != nil {
				return err
			}
			progress := newProgress(c.ErrOrStderr(), quiet)
			o.Progress = progress.report
			r, err := unlessStopped(c.Context(), func() (*result.Shimming, error) { return polewright.Shim(c.Context(), d, log, o) })
			progress.stop()
			if err != nil {
				return err
			}
			if asJSON {
				return writeJSON(c.OutOrStdout(), r)
			}
			return report.ShimText(c.OutOrStdout(), r)
		},
	}
	f := c.Flags()
	f.StringVar(&foil, "foil", "0.05 mm", "thickness of one foil, `LENGTH`")
	f.StringVar(&most, "most", "0.5 mm", "thickest stack, `LENGTH`")
	f.StringVar(&size, "size", "", "edge of a patch or diameter of a magnet, `LENGTH`; a third of the gap if left out")
	f.StringVar(&magnet, "magnet", "", "trim magnets of this `LENGTH` in place of foils")
	f.StringVar(&remanence, "remanence", "1.2 T", "of trim magnets, `FIELD`")
	f.StringVar(&face, "face", "both", "which `FACE` of the gap may have shims: both, + or -")
	f.IntVar(&edge, "edge", 5, "places along each edge of a face, `NUMBER`")
	f.IntVar(&degree, "degree", 0, "highest degree of the map's terms, `NUMBER`; 0: what the readings carry")
	f.StringVar(&apply, "apply", "70 %", "`SHARE` of the shims to put on before the map is read again")
	f.StringVar(&accuracy, "accuracy", polewright.Draft.Name, accuracyUsage)
	f.BoolVar(&asJSON, "json", false, "print one JSON object in SI units in place of text")
	f.BoolVar(&quiet, "quiet", false, "show no progress on a terminal")
	return c
}
