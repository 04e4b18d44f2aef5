package main

import (
	"context"
	"fmt"
	"io"
	"path/filepath"
	"strings"

	"github.com/spf13/cobra"

	"polewright"
	"polewright/design"
	"polewright/measurement"
	"polewright/mistake"
	"polewright/quantity"
	"polewright/report"
	"polewright/result"
)

// verifyFlags are what the command line asks of a verification.
type verifyFlags struct {
	json, strict, quiet, force              bool
	accuracy, probe, noise, places, picture string
	certificate, paper, date                string
	confidence                              float64
}

func verifyCommand() *cobra.Command {
	var f verifyFlags
	c := &cobra.Command{
		Use:   "verify DESIGN LOG.csv [flags]",
		Short: "Compare readings of a built magnet with its design, and say what is off",
		Long: `Predict what the probe should have read at each place of a log, compare, and fit what is off: the
strength and direction of each magnet, one put in the wrong way round, a magnet or a piece of steel
left out, the gap and its tilt, the packing of a winding, and what the probe's own calibration,
zero, place and angle may have done.
A culprit is named when the readings leave it the confidence asked for; else the suspects are listed
with the reading that would tell them apart. The target is judged as built, not as drawn.

The log is CSV with a header of columns and units: x_mm,y_mm,z_mm,Bz_mT (or Bx_, By_, B_; T, G, kG;
in, m); where wanted T_degC, the temperature of the magnets, and u_mT, the standard uncertainty.
Lines that begin with # are notes; "# probe: disc 2 mm" gives the probe's active area, which lies
across the component that it reads. Places count from the design's origin. DESIGN or LOG.csv may
be - for standard input.`,
		Example: `  polewright verify my-magnet.toml readings.csv
  polewright verify my-magnet.toml readings.csv --probe "disc 2 mm" --picture residuals.png
  polewright verify my-magnet.toml readings.csv --confidence 99 --json`,
		Args: func(c *cobra.Command, args []string) error {
			const hint = "for example: polewright verify my-magnet.toml readings.csv"
			switch {
			case len(args) < 2:
				return mistake.Of("verify needs a design FILE and a LOG.csv of readings", hint)
			case len(args) > 2:
				return mistake.Of(fmt.Sprintf("verify takes a design and one log, not %d files", len(args)), hint)
			case args[0] == "-" && args[1] == "-":
				return mistake.Of("design and log cannot both come from standard input", hint)
			}
			return nil
		},
		RunE: func(c *cobra.Command, args []string) error { return verify(c, args[0], args[1], f) },
	}
	l := c.Flags()
	l.StringVar(&f.probe, "probe", "", "active `AREA`: \"point\", \"disc 2 mm\" or \"rectangle 1 mm x 2 mm\"")
	l.StringVar(&f.noise, "noise", "", "standard uncertainty of readings, a `SHARE`; left out: by their scatter")
	l.StringVar(&f.places, "place", "0.05 mm", "standard uncertainty of each place, `LENGTH`")
	l.Float64Var(&f.confidence, "confidence", 95, "confidence `C` of intervals and culprits, per cent")
	l.StringVar(&f.accuracy, "accuracy", polewright.Standard.Name, accuracyUsage)
	l.StringVar(&f.picture, "picture", "", "also draw the differences, `FILE` .png or .svg")
	l.StringVar(&f.certificate, "certificate", "", "also write a certificate, `FILE` .pdf or .html")
	l.StringVar(&f.paper, "paper", "A4", paperUsage)
	l.StringVar(&f.date, "date", "", "`DATE` on the certificate, as 2026-11-25, or none; today's without it")
	l.BoolVar(&f.force, "force", false, "overwrite picture and certificate")
	l.BoolVar(&f.json, "json", false, jsonUsage)
	l.BoolVar(&f.strict, "strict", false, "exit with status 1 unless the verdict is met")
	l.BoolVar(&f.quiet, "quiet", false, quietUsage)
	return c
}

func verify(c *cobra.Command, file, logFile string, f verifyFlags) error {
	o, err := f.parse()
	if err != nil {
		return err
	}
	if f.picture != "" {
		if e := strings.ToLower(filepath.Ext(f.picture)); e != ".png" && e != ".svg" {
			return mistake.Of(fmt.Sprintf("--picture %s: no kind of picture", f.picture), "name it .png or .svg")
		}
		if err := canWrite(f.picture, f.force); err != nil {
			return err
		}
	}
	certify, err := f.certifier(c, file, logFile)
	if err != nil {
		return err
	}
	d, log, err := readMeasured(c.Context(), file, logFile, c.InOrStdin())
	if err != nil {
		return err
	}
	if o.Probe, err = f.probeOf(log); err != nil {
		return err
	}
	v, err := answered(c, f.quiet, func(progress func(string, float64)) (*result.Verification, error) {
		o.Progress = progress
		return polewright.Verify(c.Context(), d, log, o)
	})
	if err != nil {
		return err
	}
	err = show(c, f.json, v, report.Verified)
	if err == nil && f.picture != "" {
		err = drawResiduals(f.picture, f.force, v)
	}
	if err == nil && certify != nil {
		err = certify(d, v)
	}
	if err == nil && f.strict && v.Verdict != result.VerdictMet {
		return unmetError{v.Reason}
	}
	return err
}

// parse reads the quantities among the flags, the probe apart.
func (f *verifyFlags) parse() (o polewright.VerifyOptions, err error) {
	if o.Accuracy, err = parseAccuracy(f.accuracy); err != nil {
		return o, err
	}
	if f.noise != "" {
		if o.Noise, err = flagQuantity("noise", f.noise, quantity.Ratio, 0, polewright.MostNoise, `--noise "1 %"`); err != nil {
			return o, err
		}
	}
	if o.PlaceM, err = flagQuantity("place", f.places, quantity.Length, 0, polewright.MostPlaceM, `--place "0.1 mm"`); err != nil {
		return o, err
	}
	o.Confidence = f.confidence / 100
	if !(o.Confidence >= polewright.LeastConfidence && o.Confidence <= polewright.MostConfidence+1e-12) {
		return o, mistake.Of(fmt.Sprintf("--confidence %g is out of reach", f.confidence), "give 50 to 99.9 per cent; 95 is usual")
	}
	return o, nil
}

// probeOf is the probe of the flag, else that of the log's notes, else a point.
func (f *verifyFlags) probeOf(log *measurement.Log) (measurement.Probe, error) {
	if f.probe != "" {
		return flagProbe(f.probe)
	}
	return log.Probe()
}

// readMeasured reads a design and the log of readings of it.
func readMeasured(ctx context.Context, file, logFile string, stdin io.Reader) (*design.Design, *measurement.Log, error) {
	d, err := readDesign(ctx, file, stdin)
	if err != nil {
		return nil, nil, err
	}
	log, err := readTable(ctx, logFile, stdin, "log", measurement.ReadLog)
	return d, log, err
}

func drawResiduals(path string, force bool, v *result.Verification) error {
	draw := report.WritePNG
	if strings.EqualFold(filepath.Ext(path), ".svg") {
		draw = report.WriteSVG
	}
	return writeStream(path, force, func(w io.Writer) error { return draw(w, report.ResidualPicture(v), 160) })
}
