package study

import (
	"cmp"
	"context"
	"math"
	"slices"
)

// A chooser decides which of many entries to evaluate next.
type chooser struct {
	goals    []Goal
	limits   []Limit
	entries  []entry
	finished bool
}

// entry is one design of a search.
type entry struct {
	index   int
	x       []float64          // its place
	known   map[string]float64 // figures that need no solve
	guess   map[string]float64 // to be put right by solves
	figures map[string]float64 // solved
	asked   bool
}

// guessed is a figure of an entry before its solve: mean and standard deviation.
type guessed struct{ mean, deviation float64 }

const (
	firstSolves = 4     // before there is a surrogate worth the name, and one more for every two axes
	worthwhile  = 1e-3  // gain, as a share of the goal, below which a search is finished
	doubtful    = 1e-3  // chance to keep the limits below which nothing is tried
	leastDoubt  = 0.002 // of a guessed figure, at least: solves have errors of their own
)

// run evaluates at most so many entries, a batch at a time.
func (c *chooser) run(ctx context.Context, most, batch int, evaluate func(context.Context, []int) ([]map[string]float64, error)) error {
	spent := 0
	first := min(most, firstSolves+len(c.entries[0].x)/2)
	ask := func(list []int) error {
		spent += len(list)
		out, err := evaluate(ctx, list)
		if err != nil {
			return err
		}
		for k, e := range list {
			c.entries[e].asked, c.entries[e].figures = true, out[k]
		}
		return nil
	}
	if err := ask(c.spread(min(first, len(c.entries)))); err != nil {
		return err
	}
	for spent < most {
		list := c.next(min(batch, most-spent))
		if len(list) == 0 {
			c.finished = true
			return nil
		}
		if err := ask(list); err != nil {
			return err
		}
	}
	return nil
}

// spread picks entries that lie far from one another, beginning with the one nearest to the middle.
func (c *chooser) spread(n int) (list []int) {
	middle := make([]float64, len(c.entries[0].x))
	for _, e := range c.entries {
		for i, x := range e.x {
			middle[i] += x / float64(len(c.entries))
		}
	}
	far := make([]float64, len(c.entries)) // from the nearest that was picked
	next, least := 0, math.Inf(1)
	for i, e := range c.entries {
		far[i] = math.Inf(1)
		if d := distance(e.x, middle); d < least {
			next, least = i, d
		}
	}
	for range n {
		list = append(list, next)
		best := -1.0
		here := c.entries[next].x
		for i, e := range c.entries {
			if far[i] = min(far[i], distance(e.x, here)); far[i] > best {
				best, next = far[i], i
			}
		}
	}
	return list
}

func distance(a, b []float64) (sum float64) {
	for i := range a {
		sum += (a[i] - b[i]) * (a[i] - b[i])
	}
	return sum
}

// model guesses one figure: what is known, or a surrogate of how a solve differs from the guess.
type model struct {
	name     string
	from     *surrogate
	log      bool
	fallback guessed // where there is no surrogate
}

func (c *chooser) model(name string) model {
	m := model{name: name, log: true}
	var x [][]float64
	var y []float64
	for _, e := range c.entries {
		if v, ok := e.figures[name]; ok && v <= 0 {
			m.log = false
		}
	}
	for i := range c.entries {
		e := &c.entries[i]
		if v, ok := e.figures[name]; ok {
			x = append(x, e.x)
			if m.log {
				v = math.Log(v) - m.base(e)
			}
			y = append(y, v)
		}
	}
	if len(y) >= 2 && len(x[0]) > 0 {
		m.from = newSurrogate(x, y)
	} else if len(y) > 0 {
		m.fallback = guessed{y[0], 1}
	}
	return m
}

// base is the logarithm of what is guessed without a solve; 0 where nothing is.
func (m model) base(e *entry) float64 {
	if g := e.guess[m.name]; g > 0 {
		return math.Log(g)
	}
	return 0
}

// of guesses the figure of an entry, as a logarithm where the model is one.
func (m model) of(e *entry) guessed {
	if v, ok := e.known[m.name]; ok {
		if m.log && v > 0 {
			v = math.Log(v)
		}
		return guessed{v, 0}
	}
	g := m.fallback
	if m.from != nil {
		g.mean, g.deviation = m.from.at(e.x)
	}
	if m.log {
		g.mean += m.base(e)
		g.deviation = math.Max(g.deviation, leastDoubt)
	} else {
		g.deviation = math.Max(g.deviation, leastDoubt*math.Abs(g.mean))
	}
	return g
}

// value turns a model's scale back.
func (m model) value(x float64) float64 {
	if m.log {
		return math.Exp(x)
	}
	return x
}

// chance is the probability that a figure keeps a limit.
func (m model) chance(e *entry, l Limit) float64 {
	g := m.of(e)
	limit := l.Value
	if m.log {
		if limit <= 0 {
			if l.AtLeast {
				return 1
			}
			return 0
		}
		limit = math.Log(limit)
	}
	room := limit - g.mean
	if l.AtLeast {
		room = -room
	}
	if g.deviation == 0 {
		if room >= 0 {
			return 1
		}
		return 0
	}
	return 0.5 * math.Erfc(-room/g.deviation/math.Sqrt2)
}

// scored is an entry that was not asked for yet.
type scored struct {
	entry  int // -1 once it is chosen
	score  float64
	chance float64   // to keep the limits
	hope   []float64 // costs of the goals, seen with hope
}

// next chooses up to n entries: those with the greatest gain of the goals, seen with hope, times the chance to keep the limits. It is empty
// when nothing is likely to gain any more.
func (c *chooser) next(n int) []int {
	var front [][]float64 // costs of the best so far
	for _, e := range c.entries {
		if e.figures != nil && missedBy(c.limits, e.figures) == 0 {
			front = append(front, c.costs(e.figures))
		}
	}
	list, worst := c.hopes()
	for _, f := range front {
		for k, x := range f {
			worst[k] = max(worst[k], x)
		}
	}
	size := 1.0            // of a gain that counts
	for k := range worst { // the reference from which gains count: a little beyond all
		worst[k] += 0.01 * math.Abs(worst[k])
		size *= math.Max(math.Abs(worst[k]), 1e-12)
	}
	var chosen []int
	for len(chosen) < n {
		best := -1
		for i := range list {
			s := &list[i]
			if s.entry < 0 || s.chance < doubtful {
				continue
			}
			gain := gainOf(front, s.hope, worst)
			if len(front) > 0 && gain < worthwhile*size*share(len(c.goals)) {
				continue
			}
			s.score = gain * s.chance
			if len(front) == 0 { // first of all something that keeps the limits
				s.score = s.chance * s.chance * (0.1*size + gain)
			}
			if best < 0 || s.score > list[best].score {
				best = i
			}
		}
		if best < 0 {
			break
		}
		chosen = append(chosen, list[best].entry)
		if list[best].chance > 0.5 { // believed, so that the batch does not crowd on one spot
			front = append(front, list[best].hope)
		}
		list[best].entry = -1
	}
	if len(chosen) == 0 && len(front) == 0 {
		return leastUnlikely(list, n)
	}
	return chosen
}

// hopes are what the models say of the entries that were not asked for, and the worst of each goal among them.
func (c *chooser) hopes() (list []scored, worst []float64) {
	models := map[string]model{}
	for _, g := range c.goals {
		models[g.Figure.Name] = c.model(g.Figure.Name)
	}
	for _, l := range c.limits {
		models[l.Figure.Name] = c.model(l.Figure.Name)
	}
	worst = slices.Repeat([]float64{math.Inf(-1)}, len(c.goals))
	for i := range c.entries {
		e := &c.entries[i]
		if e.asked {
			continue
		}
		s := scored{entry: i, chance: 1, hope: make([]float64, len(c.goals))}
		for _, l := range c.limits {
			s.chance *= models[l.Figure.Name].chance(e, l)
		}
		for k, g := range c.goals {
			m := models[g.Figure.Name]
			x := m.of(e)
			if g.Most {
				s.hope[k] = -m.value(x.mean + x.deviation)
			} else {
				s.hope[k] = m.value(x.mean - x.deviation)
			}
			worst[k] = max(worst[k], s.hope[k])
		}
		list = append(list, s)
	}
	return list, worst
}

// leastUnlikely is for when nothing is likely to keep the limits: the guess may be wrong.
func leastUnlikely(list []scored, n int) (chosen []int) {
	slices.SortStableFunc(list, func(a, b scored) int { return cmp.Compare(b.chance, a.chance) })
	for _, s := range list[:min(n, len(list))] {
		if s.chance > 0 {
			chosen = append(chosen, s.entry)
		}
	}
	return chosen
}

// share of the gain that counts with two goals, whose gain is an area.
func share(goals int) float64 {
	if goals == 2 {
		return 0.1
	}
	return 1
}

func (c *chooser) costs(figures map[string]float64) []float64 {
	out := make([]float64, len(c.goals))
	for k, g := range c.goals {
		out[k] = g.cost(figures)
	}
	return out
}

// gainOf is how much a point adds to what the front reaches, counted from the worst: a length for one goal, an area for two.
func gainOf(front [][]float64, p, worst []float64) float64 {
	if len(p) == 1 {
		best := worst[0]
		for _, f := range front {
			best = min(best, f[0])
		}
		return math.Max(0, best-p[0])
	}
	return area(append(slices.Clone(front), p), worst) - area(front, worst)
}

// area that a front dominates, up to the worst corner.
func area(front [][]float64, worst []float64) (sum float64) {
	front = slices.Clone(front)
	slices.SortFunc(front, func(a, b []float64) int {
		switch {
		case a[0] < b[0]:
			return -1
		case a[0] > b[0]:
			return 1
		}
		return 0
	})
	low := worst[1]
	for _, f := range front {
		if f[1] < low && f[0] < worst[0] {
			sum += (worst[0] - f[0]) * (low - f[1])
			low = f[1]
		}
	}
	return sum
}
