package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"math"
	"strings"

	"github.com/spf13/cobra"

	"polewright/mistake"
	"polewright/report"
	"polewright/study"
)

// searchFlags are what the command line asks of a search.
type searchFlags struct {
	space                  spaceFlags
	queue                  queueFlags
	least, most, limits    []string
	asJSON, force, inStock bool
	out, picture, best     string
	solves, batch          int
}

func searchCommand() *cobra.Command {
	var o searchFlags
	c := &cobra.Command{
		Use:   "search FILE --least FIGURE --vary VALUES --subject-to LIMIT [flags]",
		Short: "Find the lightest or cheapest design that keeps its limits, with few solves",
		Long: `Search the combinations of the values that parameters take for the one with the least or the most of
a figure, among those that keep all limits. Values are written as for sweep. Only a small part is
solved: the magnetic circuit gives a first guess where it knows the layout, each solve says how far
off it is, and the most promising designs come next. With two figures the answer is the front
between both: designs of which none is better than another in both.

A limit is a figure, a sign and a value: "gap field >= 0.8 T", "saturation <= 90 %", "stray reach <=
300 mm". Without one the wishes of the file's [target] are the limits. With --stock the cost is a
figure, too, and --in-stock keeps to what your list has altogether. Figures are:

` + figureHelp() + `

Answers are kept: the same search after an interruption goes on where it was. FILE may be - for
standard input.`,
		Example: `  polewright search my-magnet.toml --least mass --vary "layout.leg = 6..16 mm / 1 mm" --vary "layout.back = 8..24 mm / 2 mm"
  polewright search my-magnet.toml --least mass --most "gap field" --subject-to "saturation <= 85 %" --vary "layout.magnet_z = 10..30 mm / 2 mm" --vary "layout.leg = 6..16 mm / 1 mm" --picture front.png
  polewright search my-magnet.toml --least cost --stock my-stock.csv --vary "layout.grade = N35, N42, N48" --design best.toml`,
		Args: oneArgument("design FILE", `polewright search my-magnet.toml --least mass --vary "layout.leg = 6..16 mm / 1 mm"`),
		RunE: func(c *cobra.Command, args []string) error { return o.run(c, args[0]) },
	}
	f := c.Flags()
	f.StringArrayVar(&o.least, "least", nil, "`FIGURE` that is to be small, as mass or cost")
	f.StringArrayVar(&o.most, "most", nil, "`FIGURE` that is to be large, as \"gap field\"")
	f.StringArrayVar(&o.limits, "subject-to", nil, "`LIMIT` to keep, as \"gap field >= 0.8 T\"; repeatable (default the wishes of the file's target)")
	o.space.common(c)
	f.BoolVar(&o.inStock, "in-stock", false, "only designs that the stock list has altogether")
	f.IntVar(&o.solves, "solves", 0, "most designs to solve (default a tenth of all, 12 at least, 200 at most)")
	f.IntVar(&o.batch, "batch", 2, "how many designs to choose at a time; more for many workers")
	f.StringVar(&o.best, "design", "", "`FILE` to write the best design to")
	f.StringVarP(&o.out, "output", "o", "", "`FILE` for the table of all that was solved: .csv or .parquet")
	f.StringVar(&o.picture, "picture", "", "`FILE` for a chart of the front between two goals: .png or .svg")
	f.BoolVar(&o.force, "force", false, "overwrite files that are there")
	f.BoolVar(&o.asJSON, "json", false, "print one JSON object in SI units a line for each design that was solved")
	o.queue.all(f)
	return c
}

// check refuses flags that do not go together.
func (o *searchFlags) check(front bool) error {
	switch {
	case len(o.least)+len(o.most) == 0:
		return mistake.Of("search needs a goal", `for example: --least mass, or --most "gap field"`)
	case len(o.least)+len(o.most) > 2:
		return mistake.Of(fmt.Sprintf("%d goals", len(o.least)+len(o.most)), "a search has one, or two for the front between them; make the others limits with --subject-to")
	case front && len(o.least)+len(o.most) != 2:
		return mistake.Of("--picture draws the front between two goals, and there is one", "give another --least or --most")
	case len(o.space.vary) == 0:
		return mistake.Of("search needs to know what to vary", `for example: --vary "layout.leg = 6..16 mm / 1 mm"`)
	case o.solves < 0 || o.batch < 1 || o.batch > 1000:
		return mistake.Of(fmt.Sprintf("--solves %d --batch %d", o.solves, o.batch), "give a number of solves above zero, and a batch of 1 to 1000")
	}
	return nil
}

func (o *searchFlags) run(c *cobra.Command, path string) error {
	write, draw, err := studyFiles("search", o.out, o.picture, o.force)
	if err != nil {
		return err
	}
	if err := canWrite(o.best, o.force); err != nil {
		return err
	}
	if err := o.check(draw != nil); err != nil {
		return err
	}
	s, d, err := o.space.space(c, path)
	if err != nil {
		return err
	}
	z := &study.Search{Space: s, Solves: o.solves, Batch: o.batch, InStock: o.inStock}
	if err := z.Aim(o.least, o.most); err != nil {
		return err
	}
	if err := z.Keep(d, o.limits); err != nil {
		return mistake.Prefixed("--subject-to ", err)
	}
	if err := z.Price(); err != nil {
		return withStock(err)
	}
	table, found, err := o.solve(c, z)
	if err != nil {
		return err
	}
	if o.asJSON {
		err = searchLines(c.OutOrStdout(), z, table, found)
	} else {
		err = searchText(c.OutOrStdout(), z, table, found)
	}
	if err != nil {
		return err
	}
	if write != nil {
		if err := writeStream(o.out, o.force, func(w io.Writer) error { return write(table, w) }); err != nil {
			return err
		}
	}
	if draw != nil && len(found.Best) > 0 {
		if err := writeStream(o.picture, o.force, func(w io.Writer) error { return draw(frontChart(d.Title, z, found), w) }); err != nil {
			return err
		}
	}
	if o.best != "" && len(found.Best) > 0 {
		text := s.Case(s.At(found.Best[0].Index)).Text
		if err := writeWhole(o.best, []byte(text), o.force); err != nil {
			return err
		}
		fmt.Fprintf(c.ErrOrStderr(), "wrote %s; next: polewright predict %s\n", o.best, quoted(o.best))
	}
	if len(found.Best) == 0 {
		return noAnswer(z, found)
	}
	return nil
}

// solve searches; the table has all that was solved.
func (o *searchFlags) solve(c *cobra.Command, z *study.Search) (*study.Table, *study.Found, error) {
	q, err := o.queue.open(c.Context())
	if err != nil {
		return nil, nil, err
	}
	defer q.Close()
	t := o.queue.teller(c)
	var found *study.Found
	err = study.Working(c.Context(), q, o.queue.parallel(z.Space.Accuracy), func(ctx context.Context) (err error) {
		found, err = z.Run(ctx, study.Evaluator(q, o.queue.again), func(what string, done float64) {
			t.line.report(what, done)
			if t.lines != nil {
				fmt.Fprintf(t.lines, "{\"what\":%q,\"done\":%.3f}\n", what, done)
			}
		})
		return err
	})
	t.line.stop()
	if errors.Is(err, context.Canceled) {
		err = errors.New("stopped: what was solved is kept, and the same command goes on from there")
	}
	if err != nil {
		return nil, nil, err
	}
	table, err := z.Space.Table()
	if err != nil {
		return nil, nil, err
	}
	for _, r := range found.Rows {
		table.Add(r)
	}
	return table, found, nil
}

// figureHelp lists the figures with their meaning.
func figureHelp() string {
	var list []string
	for _, f := range study.FigureList {
		list = append(list, fmt.Sprintf("  %-16s %s", f.Name, f.Meaning))
	}
	return strings.Join(list, "\n")
}

func searchLines(w io.Writer, z *study.Search, t *study.Table, found *study.Found) error {
	best := map[int]bool{}
	for _, r := range found.Best {
		best[r.Index] = true
	}
	for _, r := range found.Rows {
		if err := writeLine(w, t, r, &study.Verdict{Keeps: z.Keeps(r), Best: best[r.Index]}); err != nil {
			return err
		}
	}
	return nil
}

func searchText(w io.Writer, z *study.Search, t *study.Table, found *study.Found) error {
	if len(found.Best) == 0 {
		return nil
	}
	var goals, limits []string
	for _, g := range z.Goals {
		word := "least "
		if g.Most {
			word = "most "
		}
		goals = append(goals, word+g.Figure.Name)
	}
	for _, l := range z.Limits {
		limits = append(limits, l.String())
	}
	if len(limits) == 0 {
		limits = []string{"none"}
	}
	var b strings.Builder
	fmt.Fprintf(&b, "Wanted: %s\nLimits: %s\n\n", strings.Join(goals, " and "), strings.Join(limits, "; "))
	shown := *t
	shown.Rows = found.Best
	if err := shown.Text(&b); err != nil {
		return err
	}
	fmt.Fprintf(&b, "\n%d of %d designs were solved", len(found.Rows), found.Designs)
	if n := found.Designs - found.Buildable; n > 0 {
		fmt.Fprintf(&b, "; %d cannot be built or bought", n)
	}
	if found.Finished {
		b.WriteString(". By what was learned from them, nothing better is likely.\n")
	} else {
		b.WriteString(". There may be better ones: --solves allows more.\n")
	}
	_, err := io.WriteString(w, b.String())
	return err
}

// noAnswer says what came nearest when nothing keeps the limits.
func noAnswer(z *study.Search, found *study.Found) error {
	r := found.Nearest
	if r == nil {
		return fmt.Errorf("none of the %d designs that were tried could be solved; the first one: %s", len(found.Rows), found.Rows[0].Error)
	}
	var settings, figures []string
	for _, s := range r.Settings {
		settings = append(settings, s.Path+" = "+s.Value)
	}
	for _, l := range z.Limits {
		if x, ok := r.Figures[l.Figure.Name]; ok {
			figures = append(figures, strings.TrimSpace(fmt.Sprintf("%s %.4g %s", l.Figure.Name, x*l.Figure.Times, l.Figure.Show)))
		}
	}
	return fmt.Errorf("no design keeps all limits. The nearest of %d that were solved, of %d: %s, with %s", len(found.Rows), found.Designs,
		strings.Join(settings, ", "), strings.Join(figures, ", "))
}

// frontChart draws the front between two goals, and what else was solved.
func frontChart(title string, z *study.Search, found *study.Found) report.Lines {
	name := func(f study.Figure) string {
		if f.Show == "" {
			return f.Name
		}
		return f.Name + ", " + f.Show
	}
	x, y := z.Goals[0].Figure, z.Goals[1].Figure
	curve := func(label string, points bool, rows []study.Row, want func(study.Row) bool) report.Curve {
		c := report.Curve{Name: label, Points: points}
		for _, r := range rows {
			px, ok := r.Figures[x.Name]
			py, ok2 := r.Figures[y.Name]
			if ok && ok2 && want(r) && !math.IsNaN(px+py) {
				c.X, c.Y = append(c.X, px*x.Times), append(c.Y, py*y.Times)
			}
		}
		return c
	}
	g := report.Lines{Title: strings.TrimPrefix(title+": what can be had", ": "), XName: name(x), YName: name(y)}
	for _, c := range []report.Curve{
		curve("front", false, found.Best, func(study.Row) bool { return true }),
		curve("keeps the limits", true, found.Rows, z.Keeps),
		curve("does not", true, found.Rows, func(r study.Row) bool { return !z.Keeps(r) }),
	} {
		if len(c.X) > 0 {
			g.Curves = append(g.Curves, c)
		}
	}
	return g
}
