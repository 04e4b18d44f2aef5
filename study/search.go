package study

import (
	"context"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"polewright"
	"polewright/design"
	"polewright/jobs"
	"polewright/mistake"
	"polewright/quantity"
)

// Goal is a figure that is to be as small or as large as it gets.
type Goal struct {
	Figure Figure
	Most   bool
}

// Limit is what a design has to keep.
type Limit struct {
	Figure  Figure
	AtLeast bool
	Value   float64 // in the figure's unit
}

// String is the limit as it is read: "gap field >= 0.8 T".
func (l Limit) String() string {
	sign := "<="
	if l.AtLeast {
		sign = ">="
	}
	return strings.TrimSpace(fmt.Sprintf("%s %s %s %s", l.Figure.Name, sign, short(l.Value*l.Figure.Times), l.Figure.Show))
}

// dimension of a figure's unit.
func (f Figure) dimension() (d quantity.Dimension, times float64, ok bool) {
	switch f.Unit {
	case "T":
		return quantity.FluxDensity, 1, true
	case "m":
		return quantity.Length, 1, true
	case "kg":
		return quantity.Mass, 1, true
	case "N":
		return quantity.Force, 1, true
	case "ppm":
		return quantity.Ratio, 1e6, true
	case "%":
		return quantity.Ratio, 100, true
	}
	return 0, 1, false
}

// ParseLimit reads a limit such as "gap field >= 0.8 T". The error is a *mistake.Error.
func ParseLimit(s string) (l Limit, err error) {
	fail := func(what, hint string) (Limit, error) {
		return Limit{}, mistake.Of(fmt.Sprintf("%q: %s", strings.TrimSpace(s), what), hint)
	}
	const example = `write figure, sign and value: "gap field >= 0.8 T", "saturation <= 90 %"`
	name, value, ok := strings.Cut(s, ">=")
	l.AtLeast = ok
	if !ok {
		if name, value, ok = strings.Cut(s, "<="); !ok {
			return fail("neither >= nor <=", example)
		}
	}
	if l.Figure, err = FigureNamed(name); err != nil {
		return Limit{}, err
	}
	d, times, ok := l.Figure.dimension()
	if !ok {
		number, currency, _ := strings.Cut(strings.TrimSpace(value), " ")
		l.Figure = l.Figure.In(strings.TrimSpace(currency)) // "" is that of the list
		if l.Value, err = strconv.ParseFloat(number, 64); err != nil || math.IsNaN(l.Value) || math.IsInf(l.Value, 0) {
			return fail("no number", "write a plain number: "+l.Figure.Name+" <= 500")
		}
		return l, nil
	}
	x, err := quantity.Parse(value, d)
	if err != nil {
		return fail(mistake.Said(err))
	}
	l.Value = x * times
	return l, nil
}

// TargetLimits are the wishes of a design's target as limits.
func TargetLimits(d *design.Design) (list []Limit) {
	add := func(name string, atLeast bool, value float64) {
		f, err := FigureNamed(name)
		if err == nil && value > 0 {
			list = append(list, Limit{f, atLeast, value})
		}
	}
	t := d.Target
	if t == nil {
		return nil
	}
	field := "gap field"
	if t.Region != nil {
		field = "mean field"
		add("uniformity", false, 1e6*t.UniformityFraction)
	}
	add(field, true, t.FieldT)
	if t.StrayLimitT > 0 {
		add("stray reach", false, t.StrayDistanceM)
	}
	add("mass", false, t.MassKg)
	if f, err := FigureNamed("knee margin"); err == nil && (t.HasMax || t.HasMin) {
		list = append(list, Limit{f, true, 0})
	}
	return list
}

// Search looks for the best designs of a space with few solves.
type Search struct {
	Space   *Space
	Goals   []Goal // one, or two for the front between both
	Limits  []Limit
	Solves  int  // at most so many; a tenth of the space if zero, but 12 at least and 200 at most
	Batch   int  // solved together before the next are chosen; 2 if zero
	InStock bool // only what the space's stock has altogether
}

// Found is what a search came to.
type Found struct {
	Best      []Row // the best that keeps all limits; for two goals the front, by the first goal
	Nearest   *Row  // where nothing keeps the limits: what misses them least
	Rows      []Row // all that were solved, in the order in which they were chosen
	Designs   int   // in the space
	Buildable int
	Finished  bool // nothing better is likely; otherwise the solves ran out
}

// MostSearched bounds the space of a search, of which every design is read and weighed.
const MostSearched = 20_000

// Evaluate solves cases and gives their rows in the same order.
type Evaluate func(context.Context, []Case) ([]Row, error)

// Evaluator solves cases through a queue.
func Evaluator(q *jobs.Queue, again bool) Evaluate {
	return func(ctx context.Context, cases []Case) ([]Row, error) {
		rows := make([]Row, len(cases))
		err := Run(ctx, q, slices.Values(cases), Options{Total: len(cases), Again: again, Each: func(r Row) { rows[r.Index] = r }})
		return rows, err
	}
}

// Keeps tells whether a row keeps all limits.
func (s *Search) Keeps(r Row) bool { return r.Error == "" && missedBy(s.Limits, r.Figures) == 0 }

// Run searches. The magnetic circuit, where it knows the layout, gives the first guess of fields; a surrogate learns from each solve how far off the
// guess is, and the next designs are those that promise most. Nothing in it is random: after an interruption the same search asks for
// the same designs, whose answers are known.
func (s *Search) Run(ctx context.Context, evaluate Evaluate, progress func(what string, done float64)) (*Found, error) {
	n := s.Space.Size()
	switch {
	case len(s.Goals) < 1 || len(s.Goals) > 2:
		return nil, mistake.Of("a search has one goal or two", "for example the least mass")
	case n > MostSearched:
		return nil, mistake.Of(fmt.Sprintf("over %d designs to search", MostSearched), "take coarser steps first, and finer ones round the best then")
	case n < 2:
		return nil, mistake.Of("there is nothing to choose from", `vary something: --vary "layout.leg = 6..16 mm / 1 mm"`)
	}
	s.Space.Figures = s.figures()
	c := &chooser{goals: s.Goals, limits: s.Limits}
	axes := s.Space.axes()
	for i := range n {
		if err := ctx.Err(); err != nil {
			return nil, err
		}
		at := s.Space.At(i)
		one := s.Space.Case(at)
		if one.Err != nil || s.InStock && !has(one.Figures, "cost") || s.needsCost() && !has(one.Figures, "cost") {
			continue
		}
		e := entry{index: i, x: axes.place(at), known: one.Figures, guess: circuitGuess(one)}
		c.entries = append(c.entries, e)
		if i%50 == 0 {
			progress("reading designs", 0.2*float64(i)/float64(n))
		}
	}
	found := &Found{Designs: n, Buildable: len(c.entries)}
	if len(c.entries) == 0 {
		first := s.Space.Case(s.Space.At(0))
		if first.Err != nil {
			return nil, mistake.Of("none of the designs can be built; the first: "+first.Err.Error(), "vary other values")
		}
		return nil, mistake.Of("none of the designs is in stock altogether", "vary sizes that the list has, or leave --in-stock out")
	}
	most := s.Solves
	if most == 0 {
		most = min(max(n/10, 12), 200)
	}
	batch := s.Batch
	if batch == 0 {
		batch = 2
	}
	err := c.run(ctx, most, batch, func(ctx context.Context, list []int) ([]map[string]float64, error) {
		cases := make([]Case, len(list))
		for k, e := range list {
			cases[k] = s.Space.Case(s.Space.At(c.entries[e].index))
			cases[k].Label = c.entries[e].index
		}
		rows, err := evaluate(ctx, cases)
		if err != nil {
			return nil, err
		}
		out := make([]map[string]float64, len(rows))
		for k := range rows {
			rows[k].Index = c.entries[list[k]].index
			if rows[k].Error == "" {
				out[k] = rows[k].Figures
			}
		}
		found.Rows = append(found.Rows, rows...)
		progress(fmt.Sprintf("%d of at most %d solves", len(found.Rows), most), 0.2+0.8*float64(len(found.Rows))/float64(most))
		return out, nil
	})
	if err != nil {
		return nil, err
	}
	found.Finished = c.finished
	s.rank(found)
	return found, nil
}

func has(m map[string]float64, name string) bool { _, ok := m[name]; return ok }

func (s *Search) needsCost() bool {
	return slices.ContainsFunc(s.Goals, func(g Goal) bool { return g.Figure.Name == "cost" }) ||
		slices.ContainsFunc(s.Limits, func(l Limit) bool { return l.Figure.Name == "cost" })
}

// figures are those of goals and limits, and what else comes without more effort.
func (s *Search) figures() (list []Figure) {
	for _, g := range s.Goals {
		list = append(list, g.Figure)
	}
	for _, l := range s.Limits {
		list = append(list, l.Figure)
	}
	for _, name := range []string{"gap field", "mass"} {
		if f, err := FigureNamed(name); err == nil {
			list = append(list, f)
		}
	}
	var once []Figure
	for _, f := range list {
		if !slices.ContainsFunc(once, func(o Figure) bool { return o.Name == f.Name }) {
			once = append(once, f)
		}
	}
	return once
}

// rank finds the best of the rows.
func (s *Search) rank(found *Found) {
	least := math.Inf(1)
	var good []Row
	for i, r := range found.Rows {
		if r.Error != "" {
			continue
		}
		missed := missedBy(s.Limits, r.Figures)
		if missed == 0 {
			good = append(good, r)
		}
		if missed < least {
			least, found.Nearest = missed, &found.Rows[i]
		}
	}
	if len(good) == 0 {
		return
	}
	found.Nearest = nil
	cost := func(r Row, k int) float64 { return s.Goals[k].cost(r.Figures) }
	slices.SortStableFunc(good, func(a, b Row) int {
		for k := range s.Goals {
			if x, y := cost(a, k), cost(b, k); x != y {
				if x < y {
					return -1
				}
				return 1
			}
		}
		return a.Index - b.Index
	})
	if len(s.Goals) == 1 {
		found.Best = good[:1]
		return
	}
	reached := math.Inf(1)
	for _, r := range good { // the first goal gets worse along the list, so the second must get better
		if x := cost(r, 1); x < reached {
			reached = x
			found.Best = append(found.Best, r)
		}
	}
}

// cost is what is to be small; infinite where the figure is not known.
func (g Goal) cost(figures map[string]float64) float64 {
	x, ok := figures[g.Figure.Name]
	switch {
	case !ok:
		return math.Inf(1)
	case g.Most:
		return -x
	}
	return x
}

// missedBy is by what share figures miss limits, summed.
func missedBy(limits []Limit, figures map[string]float64) (sum float64) {
	for _, l := range limits {
		x, ok := figures[l.Figure.Name]
		if !ok {
			return math.Inf(1)
		}
		off := x - l.Value
		if l.AtLeast {
			off = -off
		}
		if off > 0 {
			sum += off / math.Max(math.Abs(l.Value), 1e-9)
		}
	}
	return sum
}

// axes give designs a place for the surrogate: numbers from 0 to 1 by their size, each word an axis of its own.
type axes [][][]float64 // by variation and value

func (s *Space) axes() (a axes) {
	for _, v := range s.Vary {
		p, err := design.Find(s.Text, v.Paths[0])
		n := len(v.Values)
		list := make([][]float64, n)
		lowest, highest := math.Inf(1), math.Inf(-1)
		for _, value := range v.Values {
			x, ok := Number(p, value)
			if err != nil || !ok {
				lowest = math.Inf(1)
				break
			}
			lowest, highest = min(lowest, x), max(highest, x)
		}
		for i, value := range v.Values {
			x, _ := Number(p, value)
			switch {
			case n == 1:
			case !math.IsInf(lowest, 0) && highest > lowest:
				list[i] = []float64{(x - lowest) / (highest - lowest)}
			default:
				list[i] = make([]float64, n)
				list[i][i] = 0.7
			}
		}
		a = append(a, list)
	}
	return a
}

func (a axes) place(at []int) (x []float64) {
	for k, i := range at {
		x = append(x, a[k][i]...)
	}
	return x
}

// circuitGuess is what the magnetic circuit says of a case, by figure; empty where it does not know the layout.
func circuitGuess(c Case) map[string]float64 {
	guess := map[string]float64{}
	d, err := c.Design()
	if err != nil {
		return guess
	}
	l, err := polewright.LumpedOf(d)
	if err != nil || l.GapT <= 0 {
		return guess
	}
	guess["gap field"], guess["mean field"], guess["force"] = l.GapT, l.GapT, l.GapT*l.GapT
	if b := max(l.LegT, l.BackT); b > 0 {
		guess["steel field"], guess["saturation"] = b, b
	}
	return guess
}
