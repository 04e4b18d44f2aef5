package main

import (
	"context"
	"encoding/json"
	"fmt"
	"io"
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

// toleranceFlags are what the command line asks of a study of tolerances.
type toleranceFlags struct {
	json, force            bool
	queue                  queueFlags
	accuracy, by, pictures string
	samples                int
	seed                   uint64
}

func toleranceCommand() *cobra.Command {
	var o toleranceFlags
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
		RunE: func(c *cobra.Command, args []string) error { return o.run(c, args[0]) },
	}
	f := c.Flags()
	f.StringVar(&o.by, "by", "sensitivities", "`HOW` builds are found: sensitivities, or solves as well")
	f.IntVar(&o.samples, "samples", 1000, "with --by solves, how many builds are solved")
	f.Uint64Var(&o.seed, "seed", 1, "of the draw: the same `SEED` draws the same builds")
	f.StringVar(&o.accuracy, "accuracy", polewright.Draft.Name, accuracyUsage)
	f.StringVar(&o.pictures, "picture", "", "also draw histograms and causes, light and dark, as PNG into the folder `DIR`")
	f.BoolVar(&o.force, "force", false, "overwrite pictures that are there")
	f.BoolVar(&o.json, "json", false, "print JSON in SI units in place of text: a line for each build that is solved, then one line with the answer")
	o.queue.all(f)
	return c
}

// options reads the flags; given says whether the number of samples is among them.
func (f *toleranceFlags) options(given bool) (o polewright.Tolerances, err error) {
	o.Seed = f.seed
	if o.Accuracy, err = parseAccuracy(f.accuracy); err != nil {
		return o, err
	}
	switch {
	case f.by != "sensitivities" && f.by != "solves":
		err = mistake.Of(fmt.Sprintf("--by %q is not known", f.by), "it is one of: sensitivities, solves")
	case f.by == "sensitivities" && given:
		err = mistake.Of("--samples is about builds that are solved one by one", "add --by solves")
	case f.samples < 2 || f.samples > mostSamples:
		err = mistake.Of(fmt.Sprintf("--samples %d", f.samples), fmt.Sprintf("give 2 to %d builds", mostSamples))
	case f.by == "solves":
		o.Solves = f.samples
	}
	return o, err
}

func (f *toleranceFlags) run(c *cobra.Command, file string) error {
	o, err := f.options(c.Flags().Changed("samples"))
	if err != nil {
		return err
	}
	d, text, err := readKept(c.Context(), file, c.InOrStdin())
	if err != nil {
		return err
	}
	if err := f.queue.check(); err != nil {
		return err
	}
	progress := newProgress(c.ErrOrStderr(), f.queue.quiet || f.queue.asLines)
	o.Progress = progress.report
	stopped := sync.OnceFunc(progress.stop)
	defer stopped()
	var lines io.Writer
	if f.json {
		lines = c.OutOrStdout()
	}
	work := &buildJobs{queue: &f.queue, c: c, lines: lines, whole: (&study.Space{Text: text, File: d.File, Accuracy: o.Accuracy.Name}).Case(nil)}
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
	if f.pictures != "" {
		if err := drawTolerance(f.pictures, r, f.force); err != nil {
			return err
		}
	}
	if f.json {
		return json.NewEncoder(c.OutOrStdout()).Encode(r)
	}
	return report.ToleranceText(c.OutOrStdout(), r)
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
	if err := makeFolder(folder, "pictures"); err != nil {
		return err
	}
	write := func(name string, p report.Picture) error {
		for ending, p := range map[string]report.Picture{".png": p, "-dark.png": report.InDark(p)} {
			if err := writeStream(filepath.Join(folder, name+ending), force, func(w io.Writer) error { return report.WritePNG(w, p, 160) }); err != nil {
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
