package polewright

import (
	"cmp"
	"fmt"
	"math"
	"sort"

	"gonum.org/v1/gonum/spatial/r3"

	"polewright/design"
	"polewright/freefield"
	"polewright/grid"
	"polewright/magnetostatic"
	"polewright/material"
	"polewright/mistake"
	"polewright/shape"
)

// This file turns a design into what the solver takes: bodies for the grid, media for the equations. Coatings and films of glue are homogenized here.

// condition is the state in which a design is solved.
type condition struct {
	temperatureC float64
	joints       bool // films and coatings as designed; else none
	idealSteel   bool // steel of constant, very large permeability
}

// idealPermeability stands for steel that neither saturates nor costs any field.
const idealPermeability = 1e5

// idealWhereCut is that of steel that the grid cuts: there a larger one multiplies the cycles of a solve by ten, and what the cells get wrong grows with it.
const idealWhereCut = 1e4

// assembly is a design as bodies.
type assembly struct {
	design *design.Design
	parts  []design.Part // magnets, steels, wounds: the order of bodies
	bodies []grid.Body
	films  []film      // joints between steel parts
	gap    []filmShare // film against each magnet, by local axis

	free  *freefield.Assembly // set once the field is known in closed form
	freeC float64             // the temperature of the magnets there, degC
	round *revolution         // set once the field is found in the half plane
	draft *drafts             // on the grid of an accuracy of draft

	forces bool   // forces and energies only are wanted, no field at the centre: the grid need not be fine there
	center r3.Vec // of the gap: the target region, else the first probe in free space, else the middle of the assembly
}

// film is a joint laid into a steel body.
type film struct {
	contact
	line  int // of the joint
	body  int
	share float64 // thickness over depth
	box   r3.Box  // the zone, along the axes of the contact
}

// filmShare is the thickness of films on both faces of a magnet across each of its local axes, without the coating.
type filmShare [3]float64

func newAssembly(d *design.Design) (*assembly, error) {
	a := &assembly{design: d}
	a.draft = newDrafts(a, Draft.density)
	if err := unsupported(d); err != nil {
		return nil, err
	}
	for _, p := range d.Parts() {
		if p.Magnetic() {
			a.parts = append(a.parts, p)
		}
	}
	for i := range d.Coils {
		a.parts = append(a.parts, design.Part{Kind: "coil", Body: d.Coils[i].Body()})
	}
	a.gap = make([]filmShare, len(a.parts))
	if err := a.addJoints(); err != nil {
		return nil, err
	}
	kinds := map[string]int{}
	number := func(key string) int {
		if _, ok := kinds[key]; !ok {
			kinds[key] = len(kinds) + 1
		}
		return kinds[key]
	}
	for i, p := range a.parts {
		b := grid.Body{Name: p.Name, Solid: p.Solid, Place: p.Place, MustFit: true}
		switch {
		case i < len(d.Magnets):
			m := &d.Magnets[i]
			b.MustFit = false
			b.Polarization = r3.Scale(m.Material.RemanenceT, m.Direction)
			b.Material = number(fmt.Sprintf("magnet %+v coating %v films %v", m.Material, m.CoatingM, sorted(a.gap[i])))
		case i < len(d.Magnets)+len(d.Steels):
			b.MustFit = false
			b.Material = number("steel " + d.Steels[i-len(d.Magnets)].Material.Name)
		case a.coil(i) != nil:
			c := a.coil(i)
			b.MustFit = false
			b.Polarization = r3.Scale(material.Mu0*c.AmpereTurns/c.HeightM, coilAxis(c)) // mirrored as a magnet's is
			b.Material = number("coil")
		default:
			w := &d.Wounds[i-len(d.Magnets)-len(d.Steels)]
			b.Material = number(fmt.Sprintf("wound %s %v", w.Material.Name, w.Packing))
		}
		a.bodies = append(a.bodies, b)
	}
	a.center = a.gapCenter()
	return a, nil
}

func sorted(f filmShare) []float64 {
	s := f[:]
	sort.Float64s(s)
	return s
}

// unsupported refuses, with line and key, what this version cannot solve.
func unsupported(d *design.Design) error {
	var errs mistake.Errors
	add := func(line int, key, what, hint string) {
		errs = append(errs, &mistake.Error{File: d.File, Line: line, Key: key, What: what, Hint: hint})
	}
	most, what := mostOnGrid, "on a grid, as steel and magnets with recoil need it"
	if isFreeField(d) {
		most, what = mostFree, "by closed forms"
	}
	if n := len(d.Magnets) + len(d.Steels) + len(d.Wounds); n > most {
		add(0, "magnet", fmt.Sprintf("there are %d magnetic parts", n),
			fmt.Sprintf("up to %d are solved %s; join equal neighbours into one part, or solve a piece of the assembly", most, what))
	}
	if len(d.Magnets)+len(d.Coils) == 0 && len(errs) == 0 {
		add(0, "magnet", "there is no magnet and no coil, so there is no field", "add at least one [[magnet]]")
	}
	if len(errs) > 0 {
		return errs
	}
	return nil
}

// The most magnetic parts: meshing bounds those on a grid; without one the work grows little faster than their number.
const (
	mostOnGrid = 1000
	mostFree   = 5000
)

// unfit names the wound yokes that no common axis of extrusion serves.
func (a *assembly) unfit(cause error) error {
	var errs mistake.Errors
	for _, p := range a.parts {
		if p.Kind != "wound" || len(a.design.Wounds) < 2 {
			continue
		}
		axes := ""
		for axis := range 3 {
			if _, _, _, ok := shape.Outline(p.Solid, p.Place, axis); ok {
				axes += string("xyz"[axis])
			}
		}
		errs = append(errs, &mistake.Error{File: a.design.File, Line: p.Line, Key: p.Kind + "." + p.Name, What: "the axis of this spool is " + cmp.Or(axes, "askew to x, y and z"),
			Hint: "all wound yokes of one design must share the axis of their spools: turn them so; others are not solved yet"})
	}
	if len(errs) == 0 {
		return cause
	}
	return errs
}

// thinnestFilmM is the thickness (m) below which a film is none: less than an atom.
const thinnestFilmM = 1e-10

// addJoints finds where the two parts of each joint touch.
func (a *assembly) addJoints() error {
	d := a.design
	byName := map[string]int{}
	for i, p := range a.parts {
		byName[p.Name] = i
	}
	for _, j := range d.Joints {
		i, iok := byName[j.Between[0]]
		k, kok := byName[j.Between[1]]
		if !iok || !kok {
			continue // a spacer: no effect on the field
		}
		magnets := len(d.Magnets)
		// The film goes into a magnet if there is one, else into solid steel, else into nothing that this version knows.
		if k < magnets && i >= magnets {
			i, k = k, i
		}
		steels := magnets + len(d.Steels)
		if i >= steels && k < steels {
			i, k = k, i
		}
		c, ok := a.joined(a.parts[i], a.parts[k])
		if !ok {
			return mistake.Errors{{File: d.File, Line: j.Line, Key: "joint",
				What: fmt.Sprintf("%q and %q do not touch on flat faces", j.Between[0], j.Between[1]),
				Hint: "a joint needs two parts with faces that lie on each other; turn the parts so or leave the joint out"}}
		}
		if j.ThicknessM < thinnestFilmM {
			continue
		}
		if i < magnets {
			local := a.parts[i].Place.Rot.Inverse(c.normal())
			for l := range 3 {
				if c := math.Abs(*component(&local, l)); c > 0.999 {
					a.gap[i][l] += j.ThicknessM
				} else if c > 1e-3 {
					return mistake.Errors{{File: d.File, Line: j.Line, Key: "joint",
						What: fmt.Sprintf("the face of %q at this joint is not one of its own faces across x, y or z", a.parts[i].Name), Hint: "leave the joint out"}}
				}
			}
			continue
		}
		if i >= steels {
			return mistake.Errors{{File: d.File, Line: j.Line, Key: "joint", What: "a joint between two wound yokes is not solved yet", Hint: "leave it out, or put a steel plate between them"}}
		}
		if len(a.films) > 0 && c.axes != a.films[0].axes || len(d.Coils) > 0 && c.axes != shape.Identity() {
			return mistake.Errors{{File: d.File, Line: j.Line, Key: "joint", What: "steel leans here against another joint or a coil",
				Hint: "joints between steel parts are solved where all of them, and all coils, lie along the same three axes: turn the parts so or leave the joint out"}}
		}
		// Into the part whose whole face it covers, if there is one: the flux through it runs across the film.
		if k < steels && faceArea(a.parts[k], c) < faceArea(a.parts[i], c) {
			i = k
		}
		box := boundsIn(c.axes, a.parts[i].Solid, a.parts[i].Place)
		lo, hi := *component(&box.Min, c.axis), *component(&box.Max, c.axis)
		depth := 0.1 * (hi - lo)
		zone := c.overlap
		if math.Abs(c.at-lo) < math.Abs(c.at-hi) {
			*component(&zone.Min, c.axis), *component(&zone.Max, c.axis) = lo, lo+depth
		} else {
			*component(&zone.Min, c.axis), *component(&zone.Max, c.axis) = hi-depth, hi
		}
		a.films = append(a.films, film{contact: c, line: j.Line, body: i, share: j.ThicknessM / depth, box: zone})
	}
	return nil
}

// faceArea is the area of a part's bounding box across the axis of a contact.
func faceArea(p design.Part, c contact) float64 {
	b := boundsIn(c.axes, p.Solid, p.Place)
	d := b.Size()
	return *component(&d, (c.axis+1)%3) * *component(&d, (c.axis+2)%3)
}

func component(v *r3.Vec, axis int) *float64 {
	return [3]*float64{&v.X, &v.Y, &v.Z}[axis]
}

// contact is where two parts touch: the plane across an axis, and the rectangle that they share there.
type contact struct {
	axes    shape.Rotation // from its own axes to the world's
	axis    int            // of those
	at      float64
	overlap r3.Box
}

// normal is the unit vector across the contact, in the world.
func (c contact) normal() (n r3.Vec) {
	*component(&n, c.axis) = 1
	return c.axes.Apply(n)
}

// joined finds where two parts touch, across the axes of the joints before if they do.
func (a *assembly) joined(p, q design.Part) (c contact, ok bool) {
	if len(a.films) > 0 {
		if c, ok = contactAlong(p, q, a.films[0].axes); ok {
			return c, ok
		}
	}
	return onFaces(p, q)
}

// onFaces finds where two parts touch across the axes of the world or of one of them.
func onFaces(p, q design.Part) (c contact, ok bool) {
	return contactAlong(p, q, shape.Identity(), p.Place.Rot, q.Place.Rot)
}

// contactOf finds where the bounding boxes of two parts touch across an axis of the world.
func contactOf(p, q design.Part) (c contact, ok bool) { return contactAlong(p, q, shape.Identity()) }

// contactAlong tries one set of axes after the other.
func contactAlong(p, q design.Part, axes ...shape.Rotation) (c contact, ok bool) {
	for _, c.axes = range axes {
		for _, b := range boxes(p, c.axes) {
			for _, o := range boxes(q, c.axes) {
				if c.axis, c.at, c.overlap, ok = touch(b, o); ok && flat(p, c) && flat(q, c) {
					return c, ok
				}
			}
		}
	}
	return contact{}, false
}

// flat tells whether a part has a face in the plane of a contact: of blocks the one that lies so, of others always the end of their box.
func flat(p design.Part, c contact) bool {
	if _, block := p.Solid.(shape.Block); !block {
		return true
	}
	n := p.Place.Rot.Inverse(c.normal())
	return math.Max(math.Abs(n.X), math.Max(math.Abs(n.Y), math.Abs(n.Z))) > 1-aligned
}

// boxes bounds a part along the axes; a winding by its four sides.
func boxes(p design.Part, axes shape.Rotation) []r3.Box {
	t, ok := p.Solid.(shape.Racetrack)
	if !ok {
		return []r3.Box{boundsIn(axes, p.Solid, p.Place)}
	}
	var out []r3.Box
	side := func(at, size r3.Vec) {
		out = append(out, boundsIn(axes, shape.Block{Size: size}, shape.Placement{Center: p.Place.ToWorld(at), Rot: p.Place.Rot}))
	}
	for _, way := range []float64{-1, 1} {
		side(r3.Vec{X: way * (t.CoreX + t.Build) / 2}, r3.Vec{X: t.Build, Y: t.CoreY - 2*t.CornerRadius, Z: t.Width})
		side(r3.Vec{Y: way * (t.CoreY + t.Build) / 2}, r3.Vec{X: t.CoreX - 2*t.CornerRadius, Y: t.Build, Z: t.Width})
	}
	return out
}

// boundsIn bounds a body along axes turned from the world's.
func boundsIn(axes shape.Rotation, s shape.Solid, p shape.Placement) r3.Box {
	return shape.Bounds(s, shape.Placement{Center: axes.Inverse(p.Center), Rot: axes.Transposed().Mul(p.Rot)})
}

func touch(b, c r3.Box) (axis int, at float64, overlap r3.Box, ok bool) {
	for axis = range 3 {
		for _, pair := range [2][2]float64{
			{*component(&b.Max, axis), *component(&c.Min, axis)},
			{*component(&b.Min, axis), *component(&c.Max, axis)},
		} {
			if math.Abs(pair[0]-pair[1]) > 2*design.TouchM {
				continue
			}
			overlap = r3.Box{
				Min: r3.Vec{X: math.Max(b.Min.X, c.Min.X), Y: math.Max(b.Min.Y, c.Min.Y), Z: math.Max(b.Min.Z, c.Min.Z)},
				Max: r3.Vec{X: math.Min(b.Max.X, c.Max.X), Y: math.Min(b.Max.Y, c.Max.Y), Z: math.Min(b.Max.Z, c.Max.Z)},
			}
			d := overlap.Size()
			if *component(&d, (axis+1)%3) > design.TouchM && *component(&d, (axis+2)%3) > design.TouchM {
				return axis, pair[0], overlap, true
			}
		}
	}
	return 0, 0, r3.Box{}, false
}

// gapCenter is the point whose field the design is about.
func (a *assembly) gapCenter() r3.Vec {
	d := a.design
	if d.Target != nil && d.Target.Region != nil {
		return d.Target.Region.Center
	}
	free := func(p r3.Vec) bool {
		for _, q := range a.parts {
			if q.Solid.Contains(q.Place.ToLocal(p), 0) {
				return false
			}
		}
		return true
	}
	for _, p := range d.Probes {
		if free(p.At) {
			return p.At
		}
	}
	var middle r3.Vec
	sources := a.parts[:len(d.Magnets)]
	if len(sources) == 0 {
		sources = a.parts[len(a.parts)-len(d.Coils):]
	}
	for _, q := range sources {
		middle = r3.Add(middle, r3.Scale(1/float64(len(sources)), q.Place.Center))
	}
	return middle
}

// spec asks for the grids of an accuracy.
func (a *assembly) spec(levels int, density float64, planes [3][]float64) grid.Spec {
	s := grid.Spec{Bodies: a.bodies, Focus: []r3.Vec{a.center}, Levels: levels, Density: density, Planes: planes}
	if t := a.design.Target; t != nil && t.Region != nil {
		s.Radius = regionRadius(t.Region)
	}
	if a.forces {
		s.Focus = nil
	}
	s.Turn = shape.Identity()
	if len(planes[0])+len(planes[1])+len(planes[2]) == 0 {
		s.Turn = a.turn()
	}
	s.Still = a.still(s.Turn)
	// T of a coil jumps at its end planes, over the bore too.
	for i := range a.design.Coils {
		c := &a.design.Coils[i]
		b := c.Body()
		e := b.Solid.HalfExtent()
		s.Marks = append(s.Marks, grid.Body{Name: c.Name, Solid: shape.Block{Size: r3.Scale(2, e)}, Place: b.Place})
	}
	for i, f := range a.films {
		size := r3.Sub(f.box.Max, f.box.Min)
		s.Marks = append(s.Marks, grid.Body{Name: fmt.Sprintf("joint %d", i+1), Solid: shape.Block{Size: size},
			Place: shape.Placement{Center: f.axes.Apply(r3.Scale(0.5, r3.Add(f.box.Min, f.box.Max))), Rot: f.axes}, Material: int(math.Round(f.share * 1e9))})
	}
	return s
}

// turn finds axes for the grid in which less of the steel is askew: those of joints, and the world's where there are coils, are given.
func (a *assembly) turn() shape.Rotation {
	switch {
	case len(a.films) > 0:
		return a.films[0].axes
	case len(a.design.Coils) > 0:
		return shape.Identity()
	}
	return grid.Turn(a.bodies)
}

// still tells whether the plan may not be stretched: sources that the grid does not follow are known in its own coordinates only.
func (a *assembly) still(turn shape.Rotation) bool {
	bodies := grid.Turned(a.bodies, turn)
	axis, err := grid.Axis(bodies)
	if err != nil {
		return false // grid.Build says so too
	}
	for i, b := range bodies {
		if i < len(a.design.Magnets) || a.coil(i) != nil {
			if _, _, _, ok := shape.Outline(b.Solid, b.Place, axis); !ok {
				return true
			}
		}
	}
	return false
}

func regionRadius(r *design.Region) float64 {
	switch r.Shape {
	case design.Cylinder:
		return math.Hypot(r.DiameterM, r.LengthM) / 2
	case design.Box:
		return r3.Norm(r.SizeM) / 2
	}
	return r.DiameterM / 2
}

// problem gives each body its medium on the grids.
func (a *assembly) problem(g *grid.Grids, c condition) *magnetostatic.Problem {
	p := &magnetostatic.Problem{Grids: g, Media: make([]magnetostatic.Medium, len(a.bodies)), Rough: a.forces}
	d := a.design
	var moment r3.Vec
	for i := range a.bodies {
		switch {
		case i < len(d.Magnets):
			m := &d.Magnets[i]
			j := r3.Scale(m.Material.At(c.temperatureC).RemanenceT, m.Direction)
			moment = r3.Add(moment, r3.Scale(m.Solid.Volume(), j))
			if g.Fits[i] {
				p.Media[i] = a.magnetMedium(i, j, g.Frame, c.joints)
				p.Media[i].Descent = a.descent(i, &p.Media[i], g, c)
				break
			}
			p.Media[i] = magnetostatic.Air()
			solid := m.Solid
			if c.joints {
				solid = m.Bare()
			}
			p.Exact = append(p.Exact, freefield.Magnet{Solid: solid, Place: m.Place, Polarization: j})
			p.Recoil = append(p.Recoil, m.Material.RecoilPermeability)
			p.ExactBody = append(p.ExactBody, i)
		case c.idealSteel:
			mu := idealPermeability
			if !g.Fits[i] {
				mu = idealWhereCut
			}
			p.Media[i] = magnetostatic.Isotropic(mu, magnetostatic.Vec{})
			a.leaveUnfitted(p, i)
		case i < len(d.Magnets)+len(d.Steels):
			p.Media[i] = magnetostatic.Medium{Curve: d.Steels[i-len(d.Magnets)].Material.Curve}
			if c.joints {
				p.Media[i].Films = a.filmsOf(i, g)
			}
			a.leaveUnfitted(p, i)
		case a.coil(i) != nil:
			p.Media[i] = magnetostatic.Air()
			c := a.coil(i)
			p.Coils = append(p.Coils, coilSource(c, i, g))
			moment = r3.Add(moment, r3.Scale(material.Mu0*c.AmpereTurns*meanArea(c), coilAxis(c)))
		default:
			w := &d.Wounds[i-len(d.Magnets)-len(d.Steels)]
			p.Media[i] = woundMedium(w, g)
		}
	}
	// Only a dipole along an axis sharpens the closure of open space.
	size := r3.Norm(moment)
	for axis := range 3 {
		unit := g.Unit(axis)
		if along := r3.Dot(moment, unit); size > 0 && math.Abs(along) > 0.9999*size {
			p.Dipole = unit
		}
	}
	return p
}

// leaveUnfitted takes a soft body that the grid does not follow out of the bodies of the grid.
func (a *assembly) leaveUnfitted(p *magnetostatic.Problem, i int) {
	g := p.Grids
	if g.Fits[i] {
		return
	}
	q := a.parts[i]
	var lo, hi [3]float64
	for k := range 3 {
		unit := g.Unit(k)
		lo[k] = -shape.Support(q.Solid, q.Place, r3.Scale(-1, unit)) - r3.Dot(unit, g.Center)
		hi[k] = shape.Support(q.Solid, q.Place, unit) - r3.Dot(unit, g.Center)
	}
	p.Unfitted = append(p.Unfitted, magnetostatic.Unfitted{Body: i, Medium: p.Media[i], Min: magnetostatic.Vec(lo), Max: magnetostatic.Vec(hi),
		Contains: func(x [3]float64, tol float64) bool {
			return q.Solid.Contains(q.Place.ToLocal(r3.Add(g.Center, g.World(x))), tol)
		},
		Sides: func(x [3]float64) (sides [3]magnetostatic.Side, n int) {
			local, n := shape.Sides(q.Solid, q.Place.ToLocal(r3.Add(g.Center, g.World(x))))
			for k := range n {
				sides[k] = magnetostatic.Side{Beyond: local[k].Beyond, Away: magnetostatic.Vec(g.Frame(q.Place.Rot.Apply(local[k].Away)))}
			}
			return sides, n
		}})
	p.Media[i] = magnetostatic.Air()
}

// magnetMedium homogenizes a magnet with its coating and the films against its faces. Across an axis of length L, with coating c a side
// and films t in all, magnet and films are in series: with H the mean over L,
//
//	B = mu0 m H + J m (L-2c)/(mu_r L),   1/m = ((L-2c)/mu_r + 2c + t)/L
//
// and the coating on the other sides takes its share of the area. frame carries a vector from the world into that of the medium.
func (a *assembly) magnetMedium(i int, j r3.Vec, frame func(r3.Vec) [3]float64, joints bool) magnetostatic.Medium {
	m := &a.design.Magnets[i]
	mu := m.Material.RecoilPermeability
	if !joints || m.CoatingM == 0 && a.gap[i] == (filmShare{}) {
		return magnetostatic.Isotropic(mu, magnetostatic.Vec(frame(j)))
	}
	e := r3.Scale(2, m.Solid.HalfExtent())
	local := m.Place.Rot.Inverse(j)
	var rel [3]float64
	for k := range 3 {
		l := *component(&e, k)
		bare := l - 2*m.CoatingM
		rel[k] = l / (bare/mu + 2*m.CoatingM + a.gap[i][k])
		*component(&local, k) *= rel[k] * bare / (mu * l)
		for o := range 3 {
			if o != k {
				*component(&local, k) *= 1 - 2*m.CoatingM / *component(&e, o)
			}
		}
	}
	if _, round := m.Solid.(shape.Block); !round { // discs and rings have no films against their sides here
		rel[1] = rel[0]
	}
	// The permeability tensor in the grid's frame: sum over the body's axes.
	var t [3][3]float64
	for k := range 3 {
		var unit r3.Vec
		*component(&unit, k) = 1
		n := frame(m.Place.Rot.Apply(unit))
		for x := range 3 {
			for y := range 3 {
				t[x][y] += rel[k] * n[x] * n[y]
			}
		}
	}
	return magnetostatic.Medium{Linear: true, RelativeUU: t[0][0], RelativeUV: t[0][1], RelativeVV: t[1][1], RelativeWW: t[2][2],
		Polarization: magnetostatic.Vec(frame(m.Place.Rot.Apply(local)))}
}

// filmsOf gives the joints laid into a steel body, in the grid's frame.
func (a *assembly) filmsOf(body int, g *grid.Grids) (films []magnetostatic.Film) {
	const slack = 1e-9
	for _, f := range a.films {
		if f.body != body {
			continue
		}
		inGrid := func(v r3.Vec) [3]float64 { return g.Frame(r3.Sub(f.axes.Apply(v), g.Center)) }
		lo, hi := inGrid(f.box.Min), inGrid(f.box.Max)
		for k := range 3 {
			lo[k] -= slack
			hi[k] += slack
		}
		films = append(films, magnetostatic.Film{Normal: magnetostatic.Vec(g.Frame(f.normal())), Share: f.share,
			Min: magnetostatic.Vec(lo), Max: magnetostatic.Vec(hi)})
	}
	return films
}

// woundMedium is a winding whose wires run round its core.
func woundMedium(w *design.Wound, g *grid.Grids) magnetostatic.Medium {
	track := w.Racetrack()
	center := g.Frame(g.Center)
	place := w.Place
	return magnetostatic.Medium{Curve: w.Material.Curve, Packing: w.Packing, Direction: func(u, v float64) (float64, float64) {
		l := place.ToLocal(g.World([3]float64{u + center[0], v + center[1], 0}))
		dx, dy := track.Direction(l.X, l.Y)
		t := g.Frame(place.Rot.Apply(r3.Vec{X: dx, Y: dy}))
		return t[0], t[1]
	}, Turn: track.Turn(), Along: func(u, v float64) (float64, float64) {
		l := place.ToLocal(g.World([3]float64{u + center[0], v + center[1], 0}))
		return track.Along(l.X, l.Y)
	}}
}

// workingTemperature is that of the magnets in use.
func workingTemperature(d *design.Design) float64 {
	if d.Target != nil && d.Target.HasWorking {
		return d.Target.WorkingC
	}
	return roomTemperatureC
}

// roomTemperatureC is the reference of the trade's tables.
const roomTemperatureC = 20

// isFreeField tells whether the closed forms are the whole answer: no steel and no recoil.
func isFreeField(d *design.Design) bool {
	if len(d.Steels)+len(d.Wounds) > 0 {
		return false
	}
	for i := range d.Coils {
		if !hasEvenBuild(&d.Coils[i]) {
			return false
		}
	}
	for i := range d.Magnets {
		if d.Magnets[i].Material.RecoilPermeability != 1 {
			return false
		}
	}
	return true
}

func bareSources(d *design.Design, temperatureC float64) freefield.Sources {
	var s freefield.Sources
	for i := range d.Magnets {
		m := &d.Magnets[i]
		s = append(s, freefield.Magnet{Solid: m.Bare(), Place: m.Place,
			Polarization: r3.Scale(m.Material.At(temperatureC).RemanenceT, m.Direction)})
	}
	return s
}
