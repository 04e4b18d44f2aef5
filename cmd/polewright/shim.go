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

// shimFlags are what the command line asks of shims.
type shimFlags struct {
	foil, most, size, magnet, remanence, apply, face, accuracy string
	edge, degree                                               int
	json, quiet                                                bool
}

func shimCommand() *cobra.Command {
	var o shimFlags
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
		RunE: func(c *cobra.Command, args []string) error { return o.run(c, args[0], args[1]) },
	}
	f := c.Flags()
	f.StringVar(&o.foil, "foil", "0.05 mm", "thickness of one foil, `LENGTH`")
	f.StringVar(&o.most, "most", "0.5 mm", "thickest stack, `LENGTH`")
	f.StringVar(&o.size, "size", "", "edge of a patch or diameter of a magnet, `LENGTH`; a third of the gap if left out")
	f.StringVar(&o.magnet, "magnet", "", "trim magnets of this `LENGTH` in place of foils")
	f.StringVar(&o.remanence, "remanence", "1.2 T", "of trim magnets, `FIELD`")
	f.StringVar(&o.face, "face", "both", "which `FACE` of the gap may have shims: both, + or -")
	f.IntVar(&o.edge, "edge", 5, "places along each edge of a face, `NUMBER`")
	f.IntVar(&o.degree, "degree", 0, "highest degree of the map's terms, `NUMBER`; 0: what the readings carry")
	f.StringVar(&o.apply, "apply", "70 %", "`SHARE` of the shims to put on before the map is read again")
	f.StringVar(&o.accuracy, "accuracy", polewright.Draft.Name, accuracyUsage)
	f.BoolVar(&o.json, "json", false, jsonUsage)
	f.BoolVar(&o.quiet, "quiet", false, quietUsage)
	return c
}

func (f *shimFlags) run(c *cobra.Command, file, logFile string) error {
	o, err := f.parse()
	if err != nil {
		return err
	}
	d, log, err := readMeasured(c.Context(), file, logFile, c.InOrStdin())
	if err != nil {
		return err
	}
	r, err := answered(c, f.quiet, func(progress func(string, float64)) (*result.Shimming, error) {
		o.Progress = progress
		return polewright.Shim(c.Context(), d, log, o)
	})
	if err != nil {
		return err
	}
	return show(c, f.json, r, report.ShimText)
}

// parse reads the quantities among the flags, and the rest.
func (f *shimFlags) parse() (o polewright.ShimOptions, err error) {
	for _, q := range []struct {
		flag, text, example string
		of                  quantity.Dimension
		to                  *float64
		least, most         float64
	}{
		{"foil", f.foil, `--foil "0.05 mm"`, quantity.Length, &o.FoilM, 0.005e-3, 2e-3},
		{"most", f.most, `--most "0.5 mm"`, quantity.Length, &o.MostM, 0.005e-3, 10e-3},
		{"size", f.size, `--size "6 mm"`, quantity.Length, &o.SizeM, 0.5e-3, 0.2},
		{"magnet", f.magnet, `--magnet "2 mm"`, quantity.Length, &o.MagnetM, 0.2e-3, 20e-3},
		{"remanence", f.remanence, `--remanence "1.2 T"`, quantity.FluxDensity, &o.RemanenceT, 0, 2},
		{"apply", f.apply, `--apply "70 %"`, quantity.Ratio, &o.Apply, 0, 1},
	} {
		if q.text == "" && (q.flag == "size" || q.flag == "magnet") {
			continue
		}
		if *q.to, err = flagQuantity(q.flag, q.text, q.of, q.least, q.most, q.example); err != nil {
			return o, err
		}
	}
	if o.MostM < o.FoilM {
		return o, mistake.Of("--most is thinner than one foil", `for example --foil "0.05 mm" --most "0.5 mm"`)
	}
	if f.edge < 2 || f.edge > 9 || f.degree < 0 || f.degree > 6 {
		return o, mistake.Of("--edge is from 2 to 9 places, --degree from 1 to 6", "for example --edge 5 --degree 3")
	}
	o.Edge, o.Degree = f.edge, f.degree
	var ok bool
	if o.Face, ok = map[string]int{"both": 0, "+": 1, "-": -1}[f.face]; !ok {
		return o, mistake.Of(fmt.Sprintf("--face %q: no face", f.face), "write both, + or -")
	}
	o.Accuracy, err = parseAccuracy(f.accuracy)
	return o, err
}
