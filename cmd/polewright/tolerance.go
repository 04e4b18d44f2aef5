package main

import (
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"
	"sync"

	"github.com/spf13/cobra"

	"polewright"
	"polewright/design"
	"polewright/report"
	"polewright/result"
	"polewright/study"
)

// mostSamples bounds the builds that are solved one by one.
const mostSamples = 1_000_000

func toleranceCommand() *cobra.Command {
	var asJSON, force bool
	var queue queueFlags
	var accuracy, by, pictures string
	var samples int
	var seed uint64
	c := &cobra.Command{
		Use:   "tolerance FILE [flags]",
		Short: "Say how builds of a design will differ, why, and which shims to hold ready",
		Long: `Let magnets, gap, winding and temperature stray from the design as in a workshop, and print how the
field, its uniformity, the pull between the halves and the stray field of builds spread, how many
builds meet the target, which cause has which share, and which shims in the gap bring how many more
in. Each cause takes two solves; thousands of builds are drawn from these sensitivities. With --by
solves, builds are solved one by one as well, beside it. FILE may be - for standard input.

How parts stray is given in the design file; what it leaves out is taken as usual:
  [tolerance]                    # each one standard deviation, normal, cut at three
  remanence_batch = "1.2 %"      # all magnets of one grade together
  remanence_piece = "0.9 %"      # each magnet besides
  direction       = "1.5 deg"    # of magnetization, about each axis across it
  length          = "0.05 mm"    # of each magnet along the gap
  place           = "0.07 mm"    # of each magnet across the gap
  gap             = "0.05 mm"
  parallel        = "0.06 deg"   # of one side of the gap to the other
  packing         = "3 %"        # of a wound yoke
  temperature     = "1.5 K"
  accept_field    = "1 %"        # a build's field may differ so much from the target's; without it any
                                 # field from the target's on will do`,
		Example: `  polewright tolerance my-magnet.toml
  polewright tolerance my-magnet.toml --by solves --samples 200 --picture pictures
  polewright tolerance my-magnet.toml --seed 7 --json`,
		Args: oneArgument("design FILE", "polewright tolerance my-magnet.toml"),
		RunE: func(c *cobra.Command, args []string) error {
			o := polewright.Tolerances{Seed: seed}
			var err error
			if o.Accuracy, err = parseAccuracy(accuracy); err != nil {
				return err
			}
			switch {
			case by != "sensitivities" && by != "solves":
				return &usageError{fmt.Sprintf("--by %q is not known", by), "it is one of: sensitivities, solves"}
			case by == "sensitivities" && c.Flags().Changed("samples"):
				return &usageError{"--samples is about builds that are solved one by one", "add --by solves"}
			case samples < 2 || samples > mostSamples:
				return &usageError{fmt.Sprintf("--samples %d", samples), fmt.Sprintf("give 2 to %d builds", mostSamples)}
			case by == "solves":
				o.Solves = samples
			}
			text, name, err := designText(c.Context(), args[0], c.InOrStdin())
			if err != nil {
				return err
			}
			d, err := design.Read(bytes.NewReader(text), name)
			if err != nil {
				return err
			}
			if err := queue.check(); err != nil {
				return err
			}
			progress := newProgress(c.ErrOrStderr(), queue.quiet || queue.asLines)
			o.Progress = progress.report
			stopped := sync.OnceFunc(progress.stop)
			defer stopped()
			if o.Solves > 0 {
				var lines io.Writer
				if asJSON {
					lines = c.OutOrStdout()
				}
				o.Solve = func(ctx context.Context, builds [][]polewright.Deviation, each func(int, map[string]float64, error)) error {
					stopped()
					whole := (&study.Space{Text: text, File: name, Accuracy: o.Accuracy.Name}).Case(nil)
					return queue.solveBuilds(ctx, c, whole, builds, lines, each)
				}
			}
			r, err := unlessStopped(c.Context(), func() (*result.Tolerance, error) { return polewright.RunTolerance(c.Context(), d, o) })
			stopped()
			if err != nil {
				return err
			}
			if pictures != "" {
				if err := drawTolerance(pictures, r, force); err != nil {
					return err
				}
			}
			if asJSON {
				return json.NewEncoder(c.OutOrStdout()).Encode(r)
			}
			return report.ToleranceText(c.OutOrStdout(), r)
		},
	}
	f := c.Flags()
	f.StringVar(&by, "by", "sensitivities", "`HOW` builds are found: sensitivities, or solves as well")
	f.IntVar(&samples, "samples", 1000, "with --by solves, how many builds are solved")
	f.Uint64Var(&seed, "seed", 1, "of the draw: the same `SEED` draws the same builds")
	f.StringVar(&accuracy, "accuracy", polewright.Draft.Name, accuracyUsage)
	f.StringVar(&pictures, "picture", "", "also draw histograms and causes, light and dark, as PNG into the folder `DIR`")
	f.BoolVar(&force, "force", false, "overwrite pictures that are there")
	f.BoolVar(&asJSON, "json", false, "print JSON in SI units in place of text: a line for each build that is solved, then one line with the answer")
	queue.all(f)
	return c
}

// solveBuilds solves builds of a design as jobs. lines, where it is not nil, gets a JSON line for each.
func (o *queueFlags) solveBuilds(ctx context.Context, c *cobra.Command, whole study.Case, builds [][]polewright.Deviation, lines io.Writer,
	each func(int, map[string]float64, error)) error {
	q, err := o.open(ctx)
	if err != nil {
		return err
	}
	defer q.Close()
	t := o.teller(c)
	var wrong error
	err = study.Working(ctx, q, o.parallel(whole.Accuracy), func(ctx context.Context) error {
		return study.Run(ctx, q, study.Builds(whole, builds), study.Options{Total: len(builds), Again: o.again, Progress: t.tell, Each: func(r study.Row) {
			line := struct {
				Build   int                `json:"build"`
				Figures map[string]float64 `json:"figures,omitempty"`
				Error   string             `json:"error,omitempty"`
			}{r.Index + 1, r.Figures, r.Error}
			if lines != nil && wrong == nil {
				wrong = json.NewEncoder(lines).Encode(line)
			}
			if r.Error != "" {
				each(r.Index, nil, errors.New(r.Error))
				return
			}
			each(r.Index, r.Figures, nil)
		}})
	})
	t.line.stop()
	if err != nil {
		return stoppedStudy(err, t)
	}
	return wrong
}

// drawTolerance writes a histogram of each figure and a chart of the causes into a folder, each for light and for dark pages.
func drawTolerance(folder string, r *result.Tolerance, force bool) error {
	if err := os.MkdirAll(folder, 0o777); err != nil {
		return &usageError{fmt.Sprintf("%s: cannot be made: %s", folder, reason(err)), "name another folder for the pictures"}
	}
	write := func(name string, p report.Picture) error {
		for ending, p := range map[string]report.Picture{".png": p, "-dark.png": report.InDark(p)} {
			var b bytes.Buffer
			if err := report.WritePNG(&b, p, 160); err != nil {
				return err
			}
			if err := writeWhole(filepath.Join(folder, name+ending), b.Bytes(), force); err != nil {
				return err
			}
		}
		return nil
	}
	for i := range r.Figures {
		f := &r.Figures[i]
		if err := write(strings.ReplaceAll(f.What, " ", "-"), report.Histogram(r.Title, f)); err != nil {
			return err
		}
	}
	if bars, ok := report.CauseBars(r); ok {
		return write("causes", bars)
	}
	return nil
}
