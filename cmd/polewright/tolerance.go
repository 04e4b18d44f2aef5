package main

import (
	"bytes"
	"context"
	"encoding/json"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"
	"sync"

	"github.com/spf13/cobra"

	"polewright"
	"polewright/jobs"
	"polewright/mistake"
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
solves, builds are solved one by one as well, beside it. All solves are kept: a study that was
stopped goes on where it was. FILE may be - for standard input.

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
				return mistake.Of(fmt.Sprintf("--by %q is not known", by), "it is one of: sensitivities, solves")
			case by == "sensitivities" && c.Flags().Changed("samples"):
				return mistake.Of("--samples is about builds that are solved one by one", "add --by solves")
			case samples < 2 || samples > mostSamples:
				return mistake.Of(fmt.Sprintf("--samples %d", samples), fmt.Sprintf("give 2 to %d builds", mostSamples))
			case by == "solves":
				o.Solves = samples
			}
			d, text, err := readKept(c.Context(), args[0], c.InOrStdin())
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
			var lines io.Writer
			if asJSON {
				lines = c.OutOrStdout()
			}
			work := &buildJobs{queue: &queue, c: c, lines: lines, whole: (&study.Space{Text: text, File: d.File, Accuracy: o.Accuracy.Name}).Case(nil)}
			defer work.close()
			o.Solve = func(ctx context.Context, list []polewright.Build, each func(int, polewright.Built, error)) error {
				stopped()
				return work.solve(ctx, list, each)
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

// buildJobs solves builds of a design as jobs of one queue, which is opened when the first of them come.
type buildJobs struct {
	queue *queueFlags
	c     *cobra.Command
	lines io.Writer // gets a JSON line for each build of those asked for one by one, or nil
	whole study.Case
	q     *jobs.Queue
}

func (b *buildJobs) close() {
	if b.q != nil {
		b.q.Close()
	}
}

func (b *buildJobs) solve(ctx context.Context, list []polewright.Build, each func(int, polewright.Built, error)) (err error) {
	if b.q == nil {
		if b.q, err = b.queue.open(ctx); err != nil {
			return err
		}
	}
	t := b.queue.teller(b.c)
	var wrong error
	err = study.Working(ctx, b.q, b.queue.parallel(b.whole.Accuracy), func(ctx context.Context) error {
		return study.RunBuilds(ctx, b.q, b.whole, list, study.Options{Again: b.queue.again, Progress: t.tell, Each: func(r study.Row) {
			line := struct {
				Build   int                `json:"build"`
				Figures map[string]float64 `json:"figures,omitempty"`
				Error   string             `json:"error,omitempty"`
			}{r.Index + 1, r.Figures, r.Error}
			if k := r.Label.(polewright.Build); b.lines != nil && wrong == nil && k.Thin && !k.Values {
				wrong = json.NewEncoder(b.lines).Encode(line)
			}
		}}, each)
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
		return mistake.Of(fmt.Sprintf("%s: cannot be made: %s", folder, reason(err)), "name another folder for the pictures")
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
