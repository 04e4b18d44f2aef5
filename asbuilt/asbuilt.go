// Package asbuilt finds from readings of a field what is off in a built magnet. It knows readings as numbers with standard uncertainties, and for
// each deviation that a build may have by how much the readings would change: generalized least squares, comparison of hypotheses, wrong readings,
// and which further reading would settle what the readings leave open. It knows nothing of fields, designs or files.
package asbuilt

import (
	"cmp"
	"errors"
	"fmt"
	"math"
	"slices"

	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/stat/distuv"
)

// Parameter is a deviation that the build may have, as a number that is zero in the design.
type Parameter struct {
	Name   string
	Spread float64 // usual standard deviation of it among sound builds, above 0
}

// Model says what the readings would be.
type Model struct {
	Base       []float64 // of the design as drawn
	Parameters []Parameter
	Slope      [][]float64 // of each parameter: change of each reading for one unit of it
	Bend       [][]float64 // of each parameter: half the second derivative; nil, or nil for one, where straight
	// Nuisance is what the instrument may add and nobody looks for: change of each reading for one standard deviation.
	Nuisance [][]float64
	// Swaps are the readings of builds that no small change leads to, such as one with a magnet the wrong way round.
	Swaps []Swap
}

// Swap is a discrete fault.
type Swap struct {
	Name        string
	Base        []float64
	Nuisance    [][]float64 // nil: as for the design
	Uncertainty []float64   // of the readings; nil: as for the design
}

// Readings are the values with their standard uncertainties, the same unit.
type Readings struct {
	Value, Uncertainty []float64
	// Relative says that the uncertainties hold up to a common factor, which the scatter of the readings has to tell.
	Relative bool
}

// Options says how sure is sure.
type Options struct {
	Confidence float64 // of intervals, and the probability from which a culprit is named; 0 is 0.95
}

// faultSpreads is how much larger than the usual spread a fault is expected to be: the prior of its size is normal with this standard deviation.
const faultSpreads = 4

// Prior odds of the hypotheses: sound; one parameter off; two; one swap. Common practice, no source: they say that a single cause is looked for
// before two. TestFalseClaims and TestFaultsAreFound hold what they lead to.
const (
	priorSound  = 0.80
	priorSingle = 0.14
	priorDouble = 0.03
	priorSwap   = 0.03
)

// Finding is a deviation that the readings show.
type Finding struct {
	Parameter   int     // index, or -1 for a swap
	Swap        int     // index, or -1
	Value       float64 // 1 for a swap
	Uncertainty float64 // half the interval at the confidence asked for, if nothing else is off; 0 for a swap
	WithOthers  float64 // the same, with all other parameters at their usual spread
	Confidence  float64 // probability that it is off, given the readings
}

// Estimated is a parameter in the fit of all of them.
type Estimated struct {
	Value, Sigma float64
}

// Diagnosis is what the readings say.
type Diagnosis struct {
	Sound    float64   // probability that nothing is off
	Findings []Finding // named: their probability reaches the confidence
	Suspects []Finding // not named, but more than a tenth likely, the likeliest first; at least two where something is off and nothing is named

	Fit         []Estimated   // of all parameters: those of the findings free, others with their usual spread as prior
	Covariance  *mat.SymDense // of the fit
	Residual    []float64     // reading less prediction with the findings and the instrument's share, same unit as the readings
	Unexplained []float64     // reading less the design's prediction
	Wrong       []int         // readings that fit in with nothing
	Factor      float64       // of the uncertainties, by the scatter; 1 where they are known
	Instrument  []float64     // fitted nuisances, in their standard deviations
	Freedom     float64       // of the factor; infinite where the uncertainties are known
}

// ErrShape is a model whose parts do not fit together.
var ErrShape = errors.New("asbuilt: readings and model differ in length")

func (m *Model) check(r Readings) error {
	n := len(m.Base)
	bad := len(r.Value) != n || len(r.Uncertainty) != n || len(m.Slope) != len(m.Parameters) || n == 0
	for _, rows := range [][][]float64{m.Slope, m.Nuisance} {
		for _, row := range rows {
			bad = bad || len(row) != n
		}
	}
	if m.Bend != nil {
		bad = bad || len(m.Bend) != len(m.Parameters)
		for _, row := range m.Bend {
			bad = bad || row != nil && len(row) != n
		}
	}
	for _, s := range m.Swaps {
		bad = bad || len(s.Base) != n || s.Nuisance != nil && len(s.Nuisance) != len(m.Nuisance) || s.Uncertainty != nil && len(s.Uncertainty) != n
		for _, row := range s.Nuisance {
			bad = bad || len(row) != n
		}
	}
	if bad {
		return ErrShape
	}
	for i, u := range r.Uncertainty {
		if !(u > 0) || math.IsInf(u, 1) || math.IsNaN(r.Value[i]) || math.IsInf(r.Value[i], 0) {
			return fmt.Errorf("asbuilt: reading %d is %g with standard uncertainty %g", i+1, r.Value[i], u)
		}
	}
	for _, p := range m.Parameters {
		if !(p.Spread > 0) {
			return fmt.Errorf("asbuilt: the spread of %q is %g", p.Name, p.Spread)
		}
	}
	return nil
}

// wrongFactor is what a wrong reading's uncertainty is multiplied with.
const wrongFactor = 1e3

// score is one base with the hypotheses on it.
type score struct {
	swap    int
	u       []float64
	factor  float64
	freedom float64
	wrong   []int
	models  []subset
}

// subset is a hypothesis: a base and the parameters that are off.
type subset struct {
	off         []int
	log         float64 // of evidence times prior odds
	probability float64
	value       []float64
}

// Diagnose compares the hypotheses that nothing is off, that one parameter is, two, or that two parts were swapped, and fits.
//
// With the readings y, their covariance C (uncertainties and instrument), the slopes J of the parameters that are off and D the prior
// variances of their sizes, the evidence of a hypothesis is the density of y, which is normal with covariance C + J D J'. A parameter is named
// when the hypotheses with it have at least the confidence together. A reading is wrong when all parameters together, each with room for a fault,
// leave it beyond what happens once in a thousand logs.
func Diagnose(m Model, r Readings, o Options) (Diagnosis, error) {
	o.Confidence = cmp.Or(o.Confidence, 0.95)
	if err := m.check(r); err != nil {
		return Diagnosis{}, err
	}
	var all []score
	for s := -1; s < len(m.Swaps); s++ {
		own, readings := m.of(s, r)
		c, err := own.score(s, readings)
		if err != nil {
			return Diagnosis{}, err
		}
		all = append(all, c)
	}
	best, total := weigh(all)
	var d Diagnosis
	for _, c := range all {
		for i := range c.models {
			c.models[i].probability = math.Exp(c.models[i].log-total.log) / total.sum
			if c.swap < 0 && len(c.models[i].off) == 0 {
				d.Sound = c.models[i].probability
			}
		}
	}
	d.Factor, d.Wrong, d.Freedom = best.factor, best.wrong, best.freedom
	seen, err := m.seen(best)
	if err != nil {
		return Diagnosis{}, err
	}
	named := d.judge(m, all, seen, o.Confidence)
	own, readings := m.of(best.swap, r)
	err = d.fit(own, readings, best, named, o.Confidence)
	for i := range d.Unexplained {
		d.Unexplained[i] = r.Value[i] - m.Base[i]
	}
	return d, err
}

// judge names what is off and lists what is suspect, by what the hypotheses say together. It gives the parameters that are named.
func (d *Diagnosis) judge(m Model, all []score, seen []bool, confidence float64) (named []int) {
	var unlikely []Finding
	for s := range m.Swaps {
		var p float64
		for _, k := range all[s+1].models {
			p += k.probability
		}
		f := Finding{Parameter: -1, Swap: s, Value: 1, Confidence: p}
		if p >= confidence {
			d.Findings = append(d.Findings, f)
		} else if p > suspect {
			d.Suspects = append(d.Suspects, f)
		} else {
			unlikely = append(unlikely, f)
		}
	}
	for i := range m.Parameters {
		var p, weight, value float64
		for _, c := range all {
			for _, k := range c.models {
				if at := slices.Index(k.off, i); at >= 0 {
					p += k.probability
					if k.probability > weight {
						weight, value = k.probability, k.value[at]
					}
				}
			}
		}
		f := Finding{Parameter: i, Swap: -1, Value: value, Confidence: p}
		if p >= confidence {
			d.Findings = append(d.Findings, f)
			named = append(named, i)
		} else if p > suspect && seen[i] {
			d.Suspects = append(d.Suspects, f)
		} else if seen[i] {
			unlikely = append(unlikely, f)
		}
	}
	likelier := func(a, b Finding) int { return cmp.Compare(b.Confidence, a.Confidence) }
	slices.SortStableFunc(d.Findings, likelier)
	slices.SortStableFunc(unlikely, likelier)
	if len(d.Findings) == 0 && d.Sound <= suspect && len(d.Suspects) < 2 { // what the readings have not quite ruled out is what to read next for
		d.Suspects = append(d.Suspects, unlikely[:min(len(unlikely), 2-len(d.Suspects))]...)
	}
	slices.SortStableFunc(d.Suspects, likelier)
	return named
}

// seen tells of each parameter whether a fault of it would change the readings by two standard deviations or more in all. What they do not see keeps
// the probability that it had before, and is no suspect.
func (m *Model) seen(c score) ([]bool, error) {
	u := make([]float64, len(c.u))
	for i := range u {
		u[i] = c.u[i] * c.factor
	}
	w, err := m.whiten(m.Base, u)
	if err != nil {
		return nil, err
	}
	list := make([]bool, len(m.Parameters))
	for i := range list {
		list[i] = faultSpreads*m.Parameters[i].Spread*math.Sqrt(math.Max(w.g.At(i, i), 0)) >= leastSeen
	}
	return list, nil
}

// leastSeen is the change by a fault, in standard deviations of all readings together, below which the readings say nothing of it.
const leastSeen = 2

// suspect is the probability from which a deviation is mentioned.
const suspect = 0.1

type sum struct{ log, sum float64 }

func weigh(all []score) (best score, total sum) {
	total.log = math.Inf(-1)
	for _, c := range all {
		for _, k := range c.models {
			if k.log > total.log {
				total.log, best = k.log, c
			}
		}
	}
	for _, c := range all {
		for _, k := range c.models {
			total.sum += math.Exp(k.log - total.log)
		}
	}
	return best, total
}

// whitened is readings and slopes over their uncertainties, with the instrument's share taken out as far as its prior lets it.
type whitened struct {
	g      *mat.SymDense // J' W J, W the inverse of the covariance of the readings
	b      []float64     // J' W r
	square float64       // r' W r
	logDet float64       // of the covariance
}

func (m *Model) whiten(value, u []float64) (whitened, error) {
	n, k, q := len(u), len(m.Parameters), len(m.Nuisance)
	r := make([]float64, n)
	var w whitened
	for i := range r {
		r[i] = (value[i] - m.Base[i]) / u[i]
		w.logDet += 2 * math.Log(u[i])
	}
	columns := func(rows [][]float64) *mat.Dense {
		a := mat.NewDense(n, max(1, len(rows)), nil)
		for c, row := range rows {
			for i := range n {
				a.Set(i, c, row[i]/u[i])
			}
		}
		return a
	}
	j, rv := columns(m.Slope), mat.NewVecDense(n, r)
	w.g = mat.NewSymDense(max(1, k), nil)
	w.b = make([]float64, k)
	w.square = square(r)
	var jj mat.Dense
	jj.Mul(j.T(), j)
	var jr mat.VecDense
	jr.MulVec(j.T(), rv)
	for a := range k {
		w.b[a] = jr.AtVec(a)
		for c := a; c < k; c++ {
			w.g.SetSym(a, c, jj.At(a, c))
		}
	}
	if q == 0 {
		return w, nil
	}
	nu := columns(m.Nuisance)
	a := mat.NewSymDense(q, nil)
	var nn mat.Dense
	nn.Mul(nu.T(), nu)
	for x := range q {
		for y := x; y < q; y++ {
			a.SetSym(x, y, nn.At(x, y))
		}
		a.SetSym(x, x, nn.At(x, x)+1)
	}
	var chol mat.Cholesky
	if !chol.Factorize(a) {
		return w, ErrSingular
	}
	w.logDet += chol.LogDet()
	var nj, solved mat.Dense
	nj.Mul(nu.T(), j)
	var nr, solvedR mat.VecDense
	nr.MulVec(nu.T(), rv)
	if err := errors.Join(chol.SolveTo(&solved, &nj), chol.SolveVecTo(&solvedR, &nr)); err != nil && !tolerable(err) {
		return w, ErrSingular
	}
	w.square -= mat.Dot(&nr, &solvedR)
	for x := range k {
		w.b[x] -= mat.Dot(nj.ColView(x), &solvedR)
		for y := x; y < k; y++ {
			w.g.SetSym(x, y, w.g.At(x, y)-mat.Dot(nj.ColView(x), solved.ColView(y)))
		}
	}
	return w, nil
}

// tolerable is a bad condition number, which the priors bound.
func tolerable(err error) bool {
	var c mat.Condition
	return errors.As(err, &c) && !math.IsInf(float64(c), 1)
}

// reduced is what a set of parameters with prior standard deviations takes off the sum of squares, the logarithm of the determinant that it adds,
// and the parameters' values.
func (w whitened) reduced(set []int, prior func(i int) float64) (taken, logDet float64, value []float64, err error) {
	k := len(set)
	if k == 0 {
		return 0, 0, nil, nil
	}
	a := mat.NewSymDense(k, nil)
	b := mat.NewVecDense(k, nil)
	for x, i := range set { // in units of the prior
		b.SetVec(x, w.b[i]*prior(i))
		for y := x; y < k; y++ {
			v := w.g.At(i, set[y]) * prior(i) * prior(set[y])
			if y == x {
				v++
			}
			a.SetSym(x, y, v)
		}
	}
	var chol mat.Cholesky
	if !chol.Factorize(a) {
		return 0, 0, nil, ErrSingular
	}
	var x mat.VecDense
	if err := chol.SolveVecTo(&x, b); err != nil && !tolerable(err) {
		return 0, 0, nil, ErrSingular
	}
	value = make([]float64, k)
	for y, i := range set {
		value[y] = x.AtVec(y) * prior(i)
	}
	return mat.Dot(b, &x), chol.LogDet(), value, nil
}

// of is the model and the readings' uncertainties on the base of a swap, -1 for the design.
func (m Model) of(swap int, r Readings) (Model, Readings) {
	if swap < 0 {
		return m, r
	}
	s := m.Swaps[swap]
	m.Base = s.Base
	if s.Nuisance != nil {
		m.Nuisance = s.Nuisance
	}
	if s.Uncertainty != nil {
		r.Uncertainty = s.Uncertainty
	}
	return m, r
}

// score weighs all hypotheses of one base.
func (m *Model) score(swap int, r Readings) (score, error) {
	c := score{swap: swap, u: slices.Clone(r.Uncertainty), factor: 1, freedom: math.Inf(1)}
	fault := func(i int) float64 { return faultSpreads * m.Parameters[i].Spread }
	every := make([]int, len(m.Parameters))
	for i := range every {
		every[i] = i
	}
	n := len(c.u)
	for {
		t, factor, freedom, err := m.misfits(r, c.u, fault)
		if err != nil {
			return c, err
		}
		if r.Relative {
			c.factor, c.freedom = factor, freedom
		}
		worst := -1
		for i := range t {
			if !slices.Contains(c.wrong, i) && (worst < 0 || math.Abs(t[i]) > math.Abs(t[worst])) {
				worst = i
			}
		}
		if worst < 0 || len(c.wrong) >= min(max(1, n/10), mostWrong) || n-len(c.wrong) < 4 || math.Abs(t[worst]) < limit(wrongChance/float64(n), freedomLess(c.freedom)) {
			break
		}
		c.wrong = append(c.wrong, worst)
		c.u[worst] *= wrongFactor
	}
	slices.Sort(c.wrong)
	scaled := make([]float64, n)
	for i := range scaled {
		scaled[i] = c.u[i] * c.factor
	}
	w, err := m.whiten(r.Value, scaled)
	if err != nil {
		return c, err
	}
	log := func(set []int, odds float64) error {
		taken, logDet, value, err := w.reduced(set, fault)
		if err != nil {
			return err
		}
		chi := math.Max(w.square-taken, 0)
		l := -chi / 2
		if r.Relative { // the factor integrated out, with no opinion on its size
			l = -float64(n-len(c.wrong)) / 2 * math.Log(math.Max(chi, 1e-9)/c.freedom)
		}
		c.models = append(c.models, subset{off: set, value: value, log: l - logDet/2 - w.logDet/2 + math.Log(odds)})
		return nil
	}
	k := float64(len(m.Parameters))
	share := [3]float64{priorSound, priorSingle / math.Max(k, 1), priorDouble / math.Max(k*(k-1)/2, 1)}
	if swap >= 0 { // alone: the slopes are those of the design, not of what it was swapped to
		return c, log(nil, priorSwap/float64(len(m.Swaps)))
	}
	if err := log(nil, share[0]); err != nil {
		return c, err
	}
	for i := range m.Parameters {
		if err := log([]int{i}, share[1]); err != nil {
			return c, err
		}
		for j := i + 1; j < len(m.Parameters); j++ {
			if err := log([]int{i, j}, share[2]); err != nil {
				return c, err
			}
		}
	}
	return c, nil
}

// wrongChance is how often a log of sound readings has one called wrong.
const wrongChance = 1e-3

// mostWrong is the most readings that are called wrong, of a long log; of a short one a tenth.
const mostWrong = 20

func freedomLess(f float64) float64 { return math.Max(f-1, 1) }

// limit is the two-sided quantile of Student's distribution, the normal one for infinite freedom.
func limit(chance, freedom float64) float64 {
	if math.IsInf(freedom, 1) || freedom > 1e6 {
		return distuv.UnitNormal.Quantile(1 - chance/2)
	}
	return distuv.StudentsT{Mu: 0, Sigma: 1, Nu: freedom}.Quantile(1 - chance/2)
}

// misfits gives each reading's distance from what all others say, in standard deviations, with all parameters given room for a fault; also the
// factor that the scatter puts on the uncertainties and its degrees of freedom. With the covariance C of the readings the distance is
// (C^-1 r)_i/sqrt((C^-1)_ii).
func (m *Model) misfits(r Readings, u []float64, prior func(i int) float64) (t []float64, factor, freedom float64, err error) {
	factor = 1
	if !r.Relative {
		return m.misfitsAt(r, u, prior, 1)
	}
	for range 20 { // the priors count against the true uncertainties, which the factor tells
		var more float64
		if t, more, freedom, err = m.misfitsAt(r, u, prior, factor); err != nil {
			return nil, 0, 0, err
		}
		if factor *= more; math.Abs(more-1) < 1e-3 {
			break
		}
	}
	return t, factor, freedom, nil
}

// misfitsAt is misfits with all uncertainties multiplied by a factor, and gives what is left of the factor to find.
func (m *Model) misfitsAt(r Readings, given []float64, prior func(i int) float64, by float64) (t []float64, factor, freedom float64, err error) {
	n, k, q := len(given), len(m.Parameters), len(m.Nuisance)
	u := make([]float64, n)
	for i := range u {
		u[i] = given[i] * by
	}
	// Inverse of I + Z Z' by Woodbury, Z the slopes and nuisances over the uncertainties, in units of their priors.
	z := mat.NewDense(n, max(1, k+q), nil)
	rv := mat.NewVecDense(n, nil)
	for i := range n {
		rv.SetVec(i, (r.Value[i]-m.Base[i])/u[i])
		for c := range k {
			z.Set(i, c, m.Slope[c][i]*prior(c)/u[i])
		}
		for c := range q {
			z.Set(i, k+c, m.Nuisance[c][i]/u[i])
		}
	}
	// With a common factor not known the prior has to count for less, or it would be taken for scatter: it is given ten times the room.
	room := 1.0
	if r.Relative {
		room = 10
	}
	z.Scale(room, z)
	a := mat.NewSymDense(max(1, k+q), nil)
	var zz mat.Dense
	zz.Mul(z.T(), z)
	for x := range max(1, k+q) {
		for y := x; y < max(1, k+q); y++ {
			a.SetSym(x, y, zz.At(x, y))
		}
		a.SetSym(x, x, zz.At(x, x)+1)
	}
	var chol mat.Cholesky
	if !chol.Factorize(a) {
		return nil, 0, 0, ErrSingular
	}
	var half mat.Dense
	if err := chol.SolveTo(&half, z.T()); err != nil && !tolerable(err) {
		return nil, 0, 0, ErrSingular
	}
	t = make([]float64, n)
	for i := range n {
		own := 1 - mat.Dot(z.RowView(i), half.ColView(i))
		freedom += own
		t[i] = own
	}
	var x, fitted mat.VecDense
	x.MulVec(&half, rv)
	fitted.MulVec(z, &x)
	var s float64
	for i := range n {
		e := rv.AtVec(i) - fitted.AtVec(i)
		if given[i] < r.Uncertainty[i]*wrongFactor/2 {
			s += e * rv.AtVec(i) // r' C^-1 r
		} else {
			freedom -= t[i]
		}
		t[i] = e / math.Sqrt(math.Max(t[i], 1e-9))
	}
	freedom = math.Max(freedom, 1)
	factor = math.Sqrt(math.Max(s, 1e-12) / freedom)
	if r.Relative {
		for i := range t {
			t[i] /= factor
			// the reading's own share in the factor taken out: from internal to external
			if inner := (freedom - t[i]*t[i]) / math.Max(freedom-1, 0.5); inner > 1e-6 {
				t[i] /= math.Sqrt(inner)
			} else {
				t[i] *= 1e3
			}
		}
	}
	return t, factor, freedom, nil
}

// fit estimates the parameters on the base of the best hypothesis and fills in residuals and intervals.
func (d *Diagnosis) fit(m Model, r Readings, best score, named []int, confidence float64) error {
	f := fitter{m: m, r: r, u: make([]float64, len(m.Base)), cover: limit(1-confidence, best.freedom)}
	for i := range f.u {
		f.u[i] = best.u[i] * best.factor
	}
	if err := d.fitAll(f, named); err != nil {
		return err
	}
	model, err := d.fitNamed(f, named)
	if err != nil {
		return err
	}
	for k := range d.Suspects { // each as if it alone were off
		g := &d.Suspects[k]
		if g.Parameter < 0 {
			continue
		}
		off := append(slices.Clone(named), g.Parameter)
		if e, err := f.solve(off, off); err == nil {
			last := len(off) - 1
			g.Value, g.Uncertainty = e.Value[last], f.cover*math.Sqrt(e.Covariance.At(last, last))
			g.WithOthers = g.Uncertainty
		}
	}
	d.Residual, d.Unexplained = make([]float64, len(model)), make([]float64, len(model))
	for x := range model {
		d.Residual[x] = r.Value[x] - model[x]
	}
	return nil
}

// fitAll estimates all parameters together, where those that are not named stray as builds do.
func (d *Diagnosis) fitAll(f fitter, named []int) error {
	every := make([]int, len(f.m.Parameters))
	for i := range every {
		every[i] = i
	}
	if len(every) == 0 {
		return nil
	}
	e, err := f.solve(every, named)
	if err != nil {
		return err
	}
	d.Covariance = mat.NewSymDense(len(every), nil)
	for i := range every {
		d.Fit = append(d.Fit, Estimated{e.Value[i], math.Sqrt(e.Covariance.At(i, i))})
		for j := i; j < len(every); j++ {
			d.Covariance.SetSym(i, j, e.Covariance.At(i, j))
		}
	}
	return nil
}

// fitNamed estimates the named parameters and the instrument, and gives the readings that they make.
func (d *Diagnosis) fitNamed(f fitter, named []int) (model []float64, err error) {
	m := f.m
	model = slices.Clone(m.Base)
	if len(named)+len(m.Nuisance) == 0 {
		return model, nil
	}
	e, err := f.solve(named, named)
	if err != nil {
		return nil, err
	}
	for c, i := range named {
		for x := range model {
			model[x] += m.Slope[i][x] * e.Value[c]
			if m.Bend != nil && m.Bend[i] != nil {
				model[x] += m.Bend[i][x] * e.Value[c] * e.Value[c]
			}
		}
		for k := range d.Findings {
			if g := &d.Findings[k]; g.Parameter == i {
				g.Value, g.Uncertainty = e.Value[c], f.cover*math.Sqrt(e.Covariance.At(c, c))
				g.WithOthers = f.cover * d.Fit[i].Sigma
			}
		}
	}
	for c := range m.Nuisance {
		d.Instrument = append(d.Instrument, e.Value[len(named)+c])
		for x := range model {
			model[x] += m.Nuisance[c][x] * e.Value[len(named)+c]
		}
	}
	return model, nil
}

// fitter fits parameters to readings whose standard uncertainties are u; cover is that of the intervals.
type fitter struct {
	m     Model
	r     Readings
	u     []float64
	cover float64
}

// solve estimates a set of parameters, and the instrument behind them. Those that are not free are held by their spreads.
func (f fitter) solve(set, free []int) (Estimate, error) {
	m, n, q := f.m, len(f.m.Base), len(f.m.Nuisance)
	held := func(i int) bool { return !slices.Contains(free, i) }
	rows := n + q
	for _, i := range set {
		if held(i) {
			rows++
		}
	}
	return LeastSquares(make([]float64, len(set)+q), func(p []float64) ([]float64, *mat.Dense) {
		res, jac := make([]float64, rows), mat.NewDense(rows, len(set)+q, nil)
		for x, u := range f.u {
			v := m.Base[x] - f.r.Value[x]
			for c, i := range set {
				slope := m.Slope[i][x]
				if m.Bend != nil && m.Bend[i] != nil {
					v += m.Bend[i][x] * p[c] * p[c]
					jac.Set(x, c, (slope+2*m.Bend[i][x]*p[c])/u)
				} else {
					jac.Set(x, c, slope/u)
				}
				v += slope * p[c]
			}
			for c := range q {
				v += m.Nuisance[c][x] * p[len(set)+c]
				jac.Set(x, len(set)+c, m.Nuisance[c][x]/u)
			}
			res[x] = v / u
		}
		at := n
		for c := range q {
			res[at], at = p[len(set)+c], at+1
			jac.Set(at-1, len(set)+c, 1)
		}
		for c, i := range set {
			if held(i) {
				res[at], at = p[c]/m.Parameters[i].Spread, at+1
				jac.Set(at-1, c, 1/m.Parameters[i].Spread)
			}
		}
		return res, jac
	})
}
