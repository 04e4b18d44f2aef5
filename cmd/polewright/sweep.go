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
	"polewright/mistake"
	"polewright/study"
)

// spaceFlags say which designs a study is of.
type spaceFlags struct {
	vary              []string
	accuracy, figures string
	stock             string
}

const varyUsage = "a parameter and its `VALUES`: \"layout.gap = 14..22 mm / 2 mm\" (from, to, step), \"layout.gap = 14..22 mm in 5\", or a list \"layout.grade = N42, N45\"; repeatable"

// common are the flags of sweep and search.
func (o *spaceFlags) common(c *cobra.Command) {
	f := c.Flags()
	f.StringArrayVar(&o.vary, "vary", nil, varyUsage)
	f.StringVar(&o.accuracy, "accuracy", polewright.Draft.Name, accuracyUsage)
	f.StringVar(&o.stock, "stock", "", stockUsage)
}

func (o *spaceFlags) all(c *cobra.Command) {
	o.common(c)
	f := c.Flags()
	f.StringVar(&o.figures, "figures", "", "`NAMES` of what to give for each design, with commas between (default all that the design has)")
}

// space reads the design and what varies in it.
func (o *spaceFlags) space(c *cobra.Command, path string) (*study.Space, *design.Design, error) {
	a, err := parseAccuracy(o.accuracy)
	if err != nil {
		return nil, nil, err
	}
	d, text, err := readKept(c.Context(), path, c.InOrStdin())
	if err != nil {
		return nil, nil, err
	}
	s := &study.Space{Text: text, File: d.File, Accuracy: a.Name}
	if err := s.VaryBy(o.vary); err != nil {
		return nil, nil, mistake.Prefixed("--vary ", err)
	}
	if s.Stock, err = flagStock(o.stock); err != nil {
		return nil, nil, err
	}
	var figures []string
	if o.figures != "" {
		figures = strings.Split(o.figures, ",")
	}
	if err := s.Want(d, figures); err != nil {
		return nil, nil, mistake.Prefixed("--figures: ", withStock(err))
	}
	return s, d, nil
}

// sweepFlags are what the command line asks of a sweep.
type sweepFlags struct {
	space               spaceFlags
	queue               queueFlags
	asJSON, list, force bool
	out, picture, plot  string
}

func sweepCommand() *cobra.Command {
	var o sweepFlags
	c := &cobra.Command{
		Use:   "sweep FILE --vary VALUES [flags]",
		Short: "Solve a design at many values of its parameters",
		Long: `Solve a design file at every combination of the values that its parameters take, and print a row
for each: field, uniformity, mass, stray reach, flux in the steel, force between the halves. Any
number and word in the file can be varied, by its path; --list shows the paths. A design that
cannot be built or solved is a row with its error.

Values are a range with a step, "layout.gap = 14..22 mm / 2 mm", a range with how many, "layout.gap
= 14..22 mm in 5", or a list, "layout.grade = N42, N45". Parameters with & between take the same
value: "magnet.upper.size.z & magnet.lower.size.z = 15..25 mm / 5 mm".

Answers are kept: a design that was solved before is not solved again, and a sweep that was stopped
goes on where it was. With --nats many machines share the work (polewright worker). FILE may be -
for standard input. Figures are:

` + figureHelp(),
		Example: `  polewright sweep my-magnet.toml --list
  polewright sweep my-magnet.toml --vary "layout.gap = 14..22 mm / 2 mm" --vary "layout.grade = N42, N48"
  polewright sweep my-magnet.toml --vary "layout.leg = 8..16 mm in 9" -o legs.csv --picture legs.png --plot saturation`,
		Args: oneArgument("design FILE", `polewright sweep my-magnet.toml --vary "layout.gap = 14..22 mm / 2 mm"`),
		RunE: func(c *cobra.Command, args []string) error { return o.run(c, args[0]) },
	}
	f := c.Flags()
	o.space.all(c)
	f.BoolVar(&o.list, "list", false, "list what can be varied, with the present value, and solve nothing")
	f.StringVarP(&o.out, "output", "o", "", "`FILE` for the table: .csv or .parquet")
	f.StringVar(&o.picture, "picture", "", "`FILE` for a chart: .png or .svg")
	f.StringVar(&o.plot, "plot", "", "`FIGURE` to draw (default the first)")
	f.BoolVar(&o.force, "force", false, "overwrite files that are there")
	f.BoolVar(&o.asJSON, "json", false, "print one JSON object in SI units a line for each design, as they are solved")
	o.queue.all(f)
	return c
}

func (o *sweepFlags) run(c *cobra.Command, path string) error {
	write, draw, err := studyFiles("sweep", o.out, o.picture, o.force)
	if err != nil {
		return err
	}
	if o.list {
		return listParameters(c, path)
	}
	if len(o.space.vary) == 0 {
		return mistake.Of("sweep needs to know what to vary", `for example: --vary "layout.gap = 14..22 mm / 2 mm"; --list shows what there is`)
	}
	s, d, err := o.space.space(c, path)
	if err != nil {
		return err
	}
	shown := s.Figures[0]
	if o.plot != "" {
		if shown, err = study.FigureNamed(o.plot); err != nil {
			return mistake.Prefixed("--plot: ", err)
		}
	}
	table, err := o.solve(c, s)
	if err != nil {
		return err
	}
	if !o.asJSON {
		if err := table.Text(c.OutOrStdout()); err != nil {
			return err
		}
	}
	if write != nil {
		if err := writeStream(o.out, o.force, func(w io.Writer) error { return write(table, w) }); err != nil {
			return err
		}
	}
	if draw != nil {
		title := fmt.Sprintf("%s: %s", d.Title, shown.Name)
		chart, err := table.Chart(shown, strings.TrimPrefix(title, ": "))
		if err != nil {
			return mistake.Prefixed("--picture: ", err)
		}
		if err := writeStream(o.picture, o.force, func(w io.Writer) error { return draw(chart, w) }); err != nil {
			return err
		}
	}
	return allFailed(table)
}

// solve fills the table with all designs of the space; with --json each is printed when it is solved.
func (o *sweepFlags) solve(c *cobra.Command, s *study.Space) (*study.Table, error) {
	table, err := s.Table()
	if err != nil {
		return nil, err
	}
	q, err := o.queue.open(c.Context())
	if err != nil {
		return nil, err
	}
	defer q.Close()
	t := o.queue.teller(c)
	var wrong error
	err = study.Working(c.Context(), q, o.queue.parallel(s.Accuracy), func(ctx context.Context) error {
		return study.Run(ctx, q, s.Cases(), study.Options{Total: s.Size(), Again: o.queue.again, Progress: t.tell, Each: func(r study.Row) {
			table.Add(r)
			if o.asJSON && wrong == nil {
				wrong = writeLine(c.OutOrStdout(), table, r, nil)
			}
		}})
	})
	t.line.stop()
	if err != nil {
		return nil, stoppedStudy(err, t)
	}
	return table, wrong
}

func writeLine(w io.Writer, t *study.Table, r study.Row, v *study.Verdict) error {
	line, err := t.Line(r, v)
	if err != nil {
		return err
	}
	_, err = w.Write(append(line, '\n'))
	return err
}

// allFailed is the error of a study that has no answer at all.
func allFailed(t *study.Table) error {
	for _, r := range t.Rows {
		if r.Error == "" {
			return nil
		}
	}
	return fmt.Errorf("no design could be solved; the first one: %s", t.Rows[0].Error)
}

type tableWriter func(*study.Table, io.Writer) error

// studyFiles checks the names of the files to write before anything is solved.
func studyFiles(command, out, picture string, force bool) (tableWriter, chartWriter, error) {
	var write tableWriter
	var draw chartWriter
	if out != "" {
		switch strings.ToLower(filepath.Ext(out)) {
		case ".csv":
			write = (*study.Table).CSV
		case ".parquet":
			write = (*study.Table).Parquet
		default:
			return nil, nil, cannotWrite(command, out, "a table is .csv or .parquet")
		}
		if err := canWrite(out, force); err != nil {
			return nil, nil, err
		}
	}
	if picture != "" {
		var err error
		if draw, err = chartFile(picture); err != nil {
			return nil, nil, err
		}
		if err := canWrite(picture, force); err != nil {
			return nil, nil, err
		}
	}
	return write, draw, nil
}

// listParameters prints the paths that can be varied.
func listParameters(c *cobra.Command, path string) error {
	_, text, err := readKept(c.Context(), path, c.InOrStdin())
	if err != nil {
		return err
	}
	list, err := design.Parameters(text)
	if err != nil {
		return err
	}
	width := 0
	for _, p := range list {
		width = max(width, len(p.Path))
	}
	for _, p := range list {
		what := p.Value
		switch {
		case !p.Given && p.Value == "":
			continue // it is nothing until it is set
		case !p.Given:
			what += "  (left out)"
		}
		fmt.Fprintf(c.OutOrStdout(), "%-*s  %s\n", width, p.Path, what)
	}
	return nil
}
