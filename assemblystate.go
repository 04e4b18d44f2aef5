package polewright

import (
	"context"
	"fmt"
	"math"
	"slices"

	"gonum.org/v1/gonum/interp"
	"gonum.org/v1/gonum/spatial/r3"

	"polewright/design"
	"polewright/freefield"
	"polewright/result"
	"polewright/safety"
	"polewright/shape"
)

// This file solves a design while it is put together: some of its parts, some of them away from their places.

// rearranged is a design of those parts that keep says, each moved by shift; both go by names. What is not a magnetic part is left out. A joint
// stays where its parts still touch as they did.
func rearranged(d *design.Design, keep func(name string) bool, shift func(name string) r3.Vec) *design.Design {
	moved := &design.Design{Title: d.Title, File: d.File}
	if t := d.Target; t != nil {
		moved.Target = &design.Target{HasWorking: t.HasWorking, WorkingC: t.WorkingC}
	}
	place := func(b *design.Body) bool {
		if !keep(b.Name) {
			return false
		}
		b.Place.Center = r3.Add(b.Place.Center, shift(b.Name))
		return true
	}
	for _, m := range d.Magnets {
		if place(&m.Body) {
			moved.Magnets = append(moved.Magnets, m)
		}
	}
	for _, s := range d.Steels {
		if place(&s.Body) {
			moved.Steels = append(moved.Steels, s)
		}
	}
	for _, w := range d.Wounds {
		if place(&w.Body) {
			moved.Wounds = append(moved.Wounds, w)
		}
	}
	for _, c := range d.Coils {
		if keep(c.Name) {
			c.Center = r3.Add(c.Center, shift(c.Name))
			moved.Coils = append(moved.Coils, c)
		}
	}
	before, after := magneticParts(d), magneticParts(moved)
	for _, j := range d.Joints {
		if p, q, ok := both(after, j); ok {
			o, s, known := both(before, j)
			if !known {
				continue
			}
			was, touched := onFaces(o, s)
			if is, touch := onFaces(p, q); touched && touch && is.axes == was.axes && is.axis == was.axis {
				moved.Joints = append(moved.Joints, j)
			}
		}
	}
	return moved
}

func magneticParts(d *design.Design) map[string]design.Part {
	parts := map[string]design.Part{}
	for _, p := range d.Parts() {
		if p.Magnetic() {
			parts[p.Name] = p
		}
	}
	return parts
}

func both(parts map[string]design.Part, j design.Joint) (p, q design.Part, ok bool) {
	p, ok = parts[j.Between[0]]
	q, other := parts[j.Between[1]]
	return p, q, ok && other
}

// state is a solved design on the way to its assembly.
type state struct {
	a   *assembly
	f   fieldOf
	use condition
}

// solveState solves a design for its forces, and for nothing else where the accuracy asks for no field in the gap. The field of a state before, of a design much like it, may be where it begins.
func solveState(ctx context.Context, d *design.Design, o Options, before *state) (*state, error) {
	a, err := newAssembly(d)
	if err != nil {
		return nil, err
	}
	a.forces = math.IsInf(o.Accuracy.Percent, 1)
	s := &state{a: a, use: condition{temperatureC: workingTemperature(d), joints: true}}
	if isFreeField(d) {
		s.f = newClosedForm(a, s.use)
		return s, nil
	}
	o.Progress = heard(o.Progress)
	if before != nil {
		o.From = &Solved{f: before.f}
	}
	var effort result.Solver
	s.f, err = a.find(ctx, s.use, o, o.Progress, &effort)
	return s, err
}

// forceOn is the force on some parts together and its torque about the middle of their box. Where a plane parts them from all others the force is
// that across it: it holds none of the much larger forces among themselves.
func (s *state) forceOn(names []string, across *parting) (force, torque r3.Vec, err error) {
	forces, torques := s.pushes(names)
	about := boxOf(s.a.parts, names).Center()
	for i, p := range s.a.parts {
		if slices.Contains(names, p.Name) {
			force = r3.Add(force, forces[i])
			torque = r3.Add(torque, r3.Add(torques[i], r3.Cross(r3.Sub(p.Place.Center, about), forces[i])))
		}
	}
	if across != nil {
		force, err = s.f.Half(across.plane)
		force = r3.Scale(across.side, force)
	}
	return force, torque, err
}

// pairShare is how exactly the closed forms of a pair are summed, of its absolute contributions: pieces of a ring cost most where they touch.
const pairShare = 1e-3

// pushes are the forces and torques on all parts; where closed forms give them, those between the named parts and the others only.
func (s *state) pushes(names []string) (force, torque []r3.Vec) {
	f, closed := s.f.(closedForm)
	if !closed {
		return s.f.Forces()
	}
	mine := make([]bool, len(s.a.parts))
	for i, p := range s.a.parts {
		mine[i] = slices.Contains(names, p.Name)
	}
	return f.Assembly.ForcesWithin(pairShare, func(i, j int) bool { return mine[i] != mine[j] })
}

// coarser is the state on the grid before its finest; nil for closed forms.
func (s *state) coarser() *state {
	switch f := s.f.(type) {
	case *gridField:
		return &state{a: s.a, f: &gridField{Solution: f.coarse, a: f.a}, use: s.use}
	case *revolvedField:
		return &state{a: s.a, f: &revolvedField{Solution: f.coarse, v: f.v}, use: s.use}
	}
	return nil
}

// coenergy of the state, if it is known.
func (s *state) coenergy() (w float64, ok bool) {
	if f, on := s.f.(interface{ Coenergy() (float64, bool) }); on {
		return f.Coenergy()
	}
	return 0, false
}

// coenergies of the state on its finest grid and on the one before, if they are known; of closed forms, less the energy between the named magnets
// and the others, by many points and by fewer.
func (s *state) coenergies(names []string) (w [2]float64, ok bool) {
	if f, closed := s.f.(closedForm); closed {
		var mine, others freefield.Sources
		for i, m := range bareSources(f.a.design, s.use.temperatureC) {
			if slices.Contains(names, f.a.design.Magnets[i].Name) {
				mine = append(mine, m)
			} else {
				others = append(others, m)
			}
		}
		return [2]float64{-energyBetween(mine, others, 3), -energyBetween(mine, others, 2)}, true
	}
	if w[0], ok = s.coenergy(); !ok {
		return w, false
	}
	w[1], ok = s.coarser().coenergy()
	return w, ok
}

// energyBetween is that of magnets in the field of others, E = ∫ (J·n) φ dS over the charge of their surfaces, each face in pieces x pieces (J. D. Jackson,
// Classical Electrodynamics, 3rd ed., sections 5.9 and 5.16: E = -∫ J·H dV, by parts).
func energyBetween(mine, others freefield.Sources, pieces int) (sum float64) {
	field := freefield.Assemble(others)
	for _, m := range mine {
		charges := m.Charges(pieces)
		at, phi := make([]r3.Vec, len(charges)), make([]float64, len(charges))
		for i, c := range charges {
			at[i] = c.At
		}
		field.Potentials(at, phi)
		for i, c := range charges {
			sum += c.Wb * phi[i]
		}
	}
	return sum
}

// pressed is the sum of the pulls on both ends of a steel part, B²A/2µ0 each with its mean flux density across the way.
func (s *state) pressed(name string, toward r3.Vec) float64 {
	i := slices.IndexFunc(s.a.parts, func(p design.Part) bool { return p.Name == name })
	b := s.f.Bodies()[i].MeanB
	box := shapeBounds(s.a.parts[i])
	size := box.Size()
	most, long := 0.0, math.Inf(1)
	for axis := range 3 {
		if f := math.Abs(*component(&b, axis)); f > most && math.Abs(*component(&toward, axis)) < 0.5 {
			most, long = f, *component(&size, axis)
		}
	}
	return 2 * safety.MagneticPressure(most) * s.a.parts[i].Solid.Volume() / long
}

// parting is a plane between a group and all others; side is 1 where the group lies on its positive side.
type parting struct {
	plane Plane
	side  float64
}

// partingOf finds the plane that leaves most room between a group of several parts and all others of a design; nil where there is none, or for a
// single part, whose force needs none.
func partingOf(d *design.Design, group []string) (best *parting) {
	var parts []design.Part
	var rest []string
	for name, p := range magneticParts(d) {
		parts = append(parts, p)
		if !slices.Contains(group, name) {
			rest = append(rest, name)
		}
	}
	if len(group) < 2 || len(rest) == 0 {
		return nil
	}
	mine, other := boxOf(parts, group), boxOf(parts, rest)
	room := -design.TouchM
	for axis := range 3 {
		lo, hi := *component(&mine.Min, axis), *component(&mine.Max, axis)
		below, above := *component(&other.Max, axis), *component(&other.Min, axis)
		if lo-below > room {
			room, best = lo-below, &parting{Plane{axis, (lo + below) / 2}, 1}
		}
		if above-hi > room {
			room, best = above-hi, &parting{Plane{axis, (above + hi) / 2}, -1}
		}
	}
	return best
}

// boxOf is the box round those of the parts that are named.
func boxOf(parts []design.Part, names []string) (b r3.Box) {
	for _, p := range parts {
		if slices.Contains(names, p.Name) {
			b = b.Union(shapeBounds(p))
		}
	}
	return b
}

// strain is the field along the magnetization in the magnets of the state, on their recoil lines.
func (s *state) strain() *strain {
	a := s.a
	out := &strain{degC: s.use.temperatureC, knee: a.knees(s.use.temperatureC)}
	switch f := s.f.(type) {
	case *gridField:
		out.spots = a.spots(f.Solution)
	case *revolvedField:
		out.spots = f.v.spots(f.Solution, s.use)
	case closedForm:
		out.spots = a.lattices(f.Assembly)
	}
	return out
}

// worst is the magnet of the state that comes nearest to its knee; nil where no magnet is there or no knee is known.
func (s *state) worst(distance float64) (w *result.StateStrain) {
	if len(s.a.design.Magnets) == 0 {
		return nil
	}
	list := s.strain()
	for i := range s.a.design.Magnets {
		knee := known(list.knee[i])
		if knee == 0 {
			continue
		}
		lowest, _ := list.lowest(i)
		if margin := 1 - lowest/knee; w == nil || margin < w.Margin {
			w = &result.StateStrain{Magnet: s.a.design.Magnets[i].Name, DistanceM: distance, LowestH: lowest, KneeH: knee, Margin: margin, PastKnee: list.past(i)}
		}
	}
	return w
}

// loses solves what a magnet keeps that a state takes past its knee.
func (s *state) loses(ctx context.Context, w *result.StateStrain) error {
	i := slices.IndexFunc(s.a.design.Magnets, func(m design.Magnet) bool { return m.Name == w.Magnet })
	if _, ok := s.a.design.Magnets[i].Material.Demagnetization(); !ok || w.PastKnee <= lostShare {
		return nil
	}
	a := s.a
	if _, err := a.draft.grid(); err != nil {
		return nil // no grid holds the steel: the loss stays unknown
	}
	list, err := a.strainOnGrid(ctx, s.use)
	if err != nil {
		return err
	}
	l := loss{a: a, fresh: s.use}
	if err := l.settle(ctx, list); err != nil {
		return err
	}
	w.Kept = l.remanences()[i]
	return nil
}

// wayOf gives, along a way whose distances fall to zero, the energy set free since the largest distance and the slope of a pull over the distance.
// The pull is a cubic in each step, of log(1 + x/near), in which the distances lie evenly, or without near of the distance itself. Its slopes are those of
// a spline, without near of F. N. Fritsch, J. Butland, SIAM J. Sci. Stat. Comput. 5 (1984) 300, which takes bends better, held so that it rises and
// falls only where the pulls do. There must be at least fewestSteps distances and zero.
func wayOf(distances, pull []float64, near float64) (energy, slope []float64) {
	n := len(distances)
	u, f := make([]float64, n), make([]float64, n)
	var free interface {
		interp.FittablePredictor
		interp.DerivativePredictor
	} = &interp.NotAKnotCubic{}
	stretch := func(u float64) float64 { return near * math.Exp(u) } // dx/du
	if near == 0 {
		free, stretch = &interp.FritschButland{}, func(float64) float64 { return 1 }
	}
	for i, x := range distances {
		u[n-1-i], f[n-1-i] = x, pull[i]
		if near > 0 {
			u[n-1-i] = math.Log(1 + x/near)
		}
	}
	energy, slope = make([]float64, n), make([]float64, n)
	if free.Fit(u, f) != nil {
		return energy, slope // too few steps were refused before
	}
	bends := make([]float64, n)
	for k := range bends {
		bends[k] = free.PredictDerivative(u[k])
	}
	held(u, f, bends)
	var curve interp.PiecewiseCubic
	curve.FitWithDerivatives(u, f, bends)
	// The integral of F dx over u by Simpson's rule on pieces of each step.
	const pieces = 16
	along := func(u float64) float64 { return curve.Predict(u) * stretch(u) }
	sum := 0.0
	for i := range distances {
		k := n - 1 - i
		if i > 0 {
			h := (u[k+1] - u[k]) / pieces
			for j := range pieces {
				a := u[k] + float64(j)*h
				sum += h / 6 * (along(a) + 4*along(a+h/2) + along(a+h))
			}
		}
		energy[i] = sum
		slope[i] = bends[k] / stretch(u[k])
	}
	return energy, slope
}

// held keeps the slope of a curve at each point between those of the chords to both neighbours, zero where these have two signs, and within three
// times the smaller: it then has no bend that the points have not (F. N. Fritsch, R. E. Carlson, SIAM J. Numer. Anal. 17 (1980) 238). At an end the
// slope may leave that of the chord by as much as the next chord's does.
func held(u, f, slope []float64) {
	n := len(u)
	chord := func(k int) float64 { return (f[k+1] - f[k]) / (u[k+1] - u[k]) }
	for k := range slope {
		var a, b, most float64
		switch k {
		case 0:
			a, b = chord(0), 2*chord(0)-chord(1)
			most = 3 * math.Abs(a)
		case n - 1:
			a, b = chord(n-2), 2*chord(n-2)-chord(n-3)
			most = 3 * math.Abs(a)
		default:
			a, b = chord(k-1), chord(k)
			most = 3 * math.Min(math.Abs(a), math.Abs(b))
			if a*b < 0 {
				most = 0
			}
		}
		if a*b < 0 {
			b = 0
		}
		slope[k] = math.Min(math.Max(slope[k], math.Max(math.Min(a, b), -most)), math.Min(math.Max(a, b), most))
	}
}

// cautionsFor says those cautions of the facts that have one of the codes, or all without any.
func cautionsFor(facts safety.Facts, codes ...string) []string {
	list := []string{}
	for _, c := range safety.Cautions(facts) {
		if len(codes) == 0 || slices.Contains(codes, c.Code) {
			list = append(list, fmt.Sprintf("%s (%s). %s", c.Title, c.Severity, c.Text))
		}
	}
	return list
}

// families names those of a design's magnets, each once.
func families(d *design.Design) (list []string) {
	for i := range d.Magnets {
		if family := familyName(d.Magnets[i].Material.Family); family != "" && !slices.Contains(list, family) {
			list = append(list, family)
		}
	}
	return list
}

// imageOf finds a mirror or a half turn that makes one group among others another: signs of the axes about the middles of both groups. Solids
// count as alike when the image of one fills the other, magnets when the images of their magnetizations are theirs, all or all reversed: steel
// without hysteresis does not tell.
func imageOf(d *design.Design, one, other stage) (sign [3]float64, ok bool) {
	parts := magneticParts(d)
	if len(one.moves) != len(other.moves) || len(one.among) != len(other.among) || math.Abs(one.from-other.from) > design.TouchM || one.joints(d) != other.joints(d) {
		return sign, false
	}
	a, b := one.middle(parts), other.middle(parts)
	for bits := range 8 {
		for k := range 3 {
			sign[k] = 1 - 2*float64(bits>>k&1)
		}
		if r3.Norm(r3.Sub(flipped(sign, one.toward), other.toward)) > 1e-9 {
			continue
		}
		for _, way := range []float64{1, -1} {
			if alike(d, parts, one.moves, other.moves, a, b, sign, way) && alike(d, parts, one.among, other.among, a, b, sign, way) {
				return sign, true
			}
		}
	}
	return sign, false
}

// imageNamed is the part of another stage that is the image of a named one.
func imageNamed(d *design.Design, name string, one, other stage, sign [3]float64) string {
	parts := magneticParts(d)
	middle := func(name string) r3.Vec { b := shapeBounds(parts[name]); return b.Center() }
	at := r3.Add(other.middle(parts), flipped(sign, r3.Sub(middle(name), one.middle(parts))))
	for _, list := range [][]string{other.moves, other.among} {
		for _, n := range list {
			if r3.Norm(r3.Sub(middle(n), at)) < design.TouchM && parts[n].Kind == parts[name].Kind {
				return n
			}
		}
	}
	return "the like of " + name
}

// stage is what one step moves and among which parts.
type stage struct {
	moves, among []string
	toward       r3.Vec
	leg          bool    // between plates that stand
	from, clear  float64 // where it starts; where a sliding group is just beside all that stands, else 0
}

// beside is how far before and after its edges meet those that stand a sliding group is solved, of what it covers and of the way outside: in between
// the field is singular.
const beside, besideOutside = 0.125, 0.25

func (g stage) beside() float64 { return math.Min(beside*g.clear, besideOutside*(g.from-g.clear)) }

// distances at which a stage is solved, m, from the largest to zero: closer together near the place or, for a group that slides in, half of them
// outside, closer near the edge that it passes, and the others evenly over what it covers.
func (g stage) distances(n int) (list []float64) {
	if g.clear == 0 {
		return Approach{FromM: g.from, Steps: n}.distances()
	}
	outside, edge := n/2, g.clear+g.beside()
	for _, x := range (Approach{FromM: g.from - edge, Steps: outside - 1}).distances() {
		list = append(list, edge+x)
	}
	within := n - outside
	for i := range within + 1 {
		list = append(list, (g.clear-g.beside())*float64(within-i)/float64(within))
	}
	return list
}

// withEdge adds the place where the edges of a sliding group meet those that stand, for closed forms, which know the peak of the pull there.
func (g stage) withEdge(list []float64) []float64 {
	if g.clear == 0 {
		return list
	}
	i := slices.IndexFunc(list, func(x float64) bool { return x < g.clear })
	return slices.Insert(list, i, g.clear)
}

// near is the distance below which the distances lie evenly, 0 for a sliding group.
func (g stage) near() float64 {
	if g.clear > 0 {
		return 0
	}
	return Approach{FromM: g.from}.nearM()
}

func (g stage) middle(parts map[string]design.Part) r3.Vec {
	var list []design.Part
	for _, name := range g.moves {
		list = append(list, parts[name])
	}
	return boxOf(list, g.moves).Center()
}

// joints is a sum over the films among the stage's parts.
func (g stage) joints(d *design.Design) (sum float64) {
	there := func(name string) bool { return slices.Contains(g.moves, name) || slices.Contains(g.among, name) }
	for _, j := range d.Joints {
		if there(j.Between[0]) && there(j.Between[1]) {
			sum += math.Round(1e9 * j.ThicknessM)
		}
	}
	return sum
}

func flipped(sign [3]float64, v r3.Vec) r3.Vec {
	return r3.Vec{X: sign[0] * v.X, Y: sign[1] * v.Y, Z: sign[2] * v.Z}
}

// alike tells whether each of the first parts has its image among the others.
func alike(d *design.Design, parts map[string]design.Part, first, others []string, a, b r3.Vec, sign [3]float64, way float64) bool {
	left := slices.Clone(others)
	for _, name := range first {
		p := parts[name]
		i := slices.IndexFunc(left, func(o string) bool { return imaged(d, p, parts[o], a, b, sign, way) })
		if i < 0 {
			return false
		}
		left = slices.Delete(left, i, i+1)
	}
	return true
}

// imaged tells whether the image of p, from about a to about b, is q.
func imaged(d *design.Design, p, q design.Part, a, b r3.Vec, sign [3]float64, way float64) bool {
	const slack = 1e-7 // m, of rotations and sums
	if p.Kind != q.Kind || math.Abs(p.Solid.Volume()/q.Solid.Volume()-1) > 1e-9 || p.Kind == "wound" && p.Name != q.Name {
		return false
	}
	move := func(x r3.Vec) r3.Vec { return r3.Add(b, flipped(sign, r3.Sub(x, a))) }
	mine, other := shapeBounds(p), shapeBounds(q)
	lo, hi := move(mine.Min), move(mine.Max)
	for k := range 3 {
		if l, u := *component(&lo, k), *component(&hi, k); math.Abs(math.Min(l, u)-*component(&other.Min, k)) > slack || math.Abs(math.Max(l, u)-*component(&other.Max, k)) > slack {
			return false
		}
	}
	for _, x := range shape.Lattice(p.Solid, p.Place, 7) {
		if !q.Solid.Contains(q.Place.ToLocal(move(x)), slack) {
			return false
		}
	}
	switch p.Kind {
	case "magnet":
		m, n := magnetNamed(d, p.Name), magnetNamed(d, q.Name)
		// The magnetization is an axial vector.
		turned := r3.Scale(way*sign[0]*sign[1]*sign[2], flipped(sign, m.Direction))
		return m.Material == n.Material && m.CoatingM == n.CoatingM && r3.Norm(r3.Sub(turned, n.Direction)) < 1e-9
	case "steel":
		return steelNamed(d, p.Name).Material.Name == steelNamed(d, q.Name).Material.Name
	}
	return true
}

func magnetNamed(d *design.Design, name string) *design.Magnet {
	return &d.Magnets[slices.IndexFunc(d.Magnets, func(m design.Magnet) bool { return m.Name == name })]
}

// magnetIn is the magnet of a name, nil where it is another part.
func magnetIn(d *design.Design, name string) *design.Magnet {
	if i := slices.IndexFunc(d.Magnets, func(m design.Magnet) bool { return m.Name == name }); i >= 0 {
		return &d.Magnets[i]
	}
	return nil
}

func steelNamed(d *design.Design, name string) *design.Steel {
	return &d.Steels[slices.IndexFunc(d.Steels, func(s design.Steel) bool { return s.Name == name })]
}
