package polewright

import (
	"context"
	"math"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"

	"polewright/axisymmetric"
	"polewright/design"
	"polewright/magnetostatic"
	"polewright/material"
	"polewright/result"
	"polewright/shape"
)

// This file finds out whether a design is a body of revolution altogether, and solves it in the half plane then.

// revolution is an assembly of bodies of revolution about one axis.
type revolution struct {
	a        *assembly
	turn     shape.Rotation // carries z onto the axis
	axis     int            // of the world that it lies along, or -1
	origin   r3.Vec         // on the axis
	sections []shape.Loop   // of each magnet and steel part, in (r, z)
	coils    []axisymmetric.Coil
	snap     snapper
}

// revolution recognizes an assembly of discs, rings, round pole tips and ring coils with one common axis, whichever way it lies, all magnets
// magnetized along it. Planes of halves must lie across the axis or contain it. ok is false for all others.
func (a *assembly) revolution(halves []Plane) (v *revolution, ok bool) {
	d := a.design
	if len(d.Wounds) > 0 || len(a.parts) == 0 {
		return nil, false
	}
	first := a.parts[0]
	v = &revolution{a: a, turn: first.Place.Rot, axis: -1, origin: first.Place.Center}
	for axis := range 3 {
		if u := v.axial(1); math.Abs(*component(&u, axis)) > 1-aligned {
			v.turn, v.axis = shape.AxisTo(axis), axis
		}
	}
	for i := range d.Magnets {
		if math.Abs(v.way(d.Magnets[i].Direction)) < 1-aligned {
			return nil, false
		}
	}
	for _, p := range a.parts[:len(d.Magnets)+len(d.Steels)] {
		loop, ok := v.section(p)
		if !ok {
			return nil, false
		}
		v.sections = append(v.sections, loop)
	}
	for i := range d.Coils {
		c := &d.Coils[i]
		if c.Shape != design.RingCoil || c.Axis != v.axis || !v.onAxis(c.Center) {
			return nil, false
		}
		z := v.along(c.Center)
		v.coils = append(v.coils, axisymmetric.Coil{Name: c.Name, Inner: v.snap.at(c.InnerDiameterM / 2), Outer: v.snap.at(c.OuterDiameterM / 2),
			Low: v.snap.at(z - c.HeightM/2), High: v.snap.at(z + c.HeightM/2), AmpereTurns: c.AmpereTurns})
	}
	for _, h := range halves {
		if h.Axis != v.axis && (!v.across(h.Axis) || math.Abs(h.AtM-*component(&v.origin, h.Axis)) > design.TouchM) {
			return nil, false
		}
	}
	return v, true
}

// aligned is how far the cosine of an angle may be from one: rotations are products of sines and cosines.
const aligned = 1e-12

// onAxis tells whether a point lies on the axis, but for what a drawing's decimals leave.
func (v *revolution) onAxis(p r3.Vec) bool {
	d := v.turn.Inverse(r3.Sub(p, v.origin))
	return math.Hypot(d.X, d.Y) < 1e-9
}

// along is the coordinate of a point along the axis.
func (v *revolution) along(p r3.Vec) float64 { return v.way(r3.Sub(p, v.origin)) }

// way is the component of a vector along the axis.
func (v *revolution) way(u r3.Vec) float64 { return v.turn.Inverse(u).Z }

// axial is a vector along the axis.
func (v *revolution) axial(x float64) r3.Vec { return v.turn.Apply(r3.Vec{Z: x}) }

// across tells whether an axis of the world lies across that of the assembly.
func (v *revolution) across(axis int) bool { return math.Abs(v.turn[axis][2]) < aligned }

// snapper makes coordinates one that differ by less than parts may be apart and still touch.
type snapper struct{ known []float64 }

func (s *snapper) at(x float64) float64 {
	for _, k := range s.known {
		if math.Abs(x-k) < design.TouchM {
			return k
		}
	}
	s.known = append(s.known, x)
	return x
}

// section is the half section of a part.
func (v *revolution) section(p design.Part) (shape.Loop, bool) {
	way := v.way(p.Place.Rot.Apply(r3.Vec{Z: 1}))
	if math.Abs(way) < 1-aligned || !v.onAxis(p.Place.Center) {
		return nil, false
	}
	var inner, bottom, top, height float64
	switch s := p.Solid.(type) {
	case shape.Disc:
		bottom, top, height = s.Diameter, s.Diameter, s.Thickness
	case shape.Ring:
		inner, bottom, top, height = s.InnerDiameter, s.OuterDiameter, s.OuterDiameter, s.Thickness
	case shape.Wedge:
		if s.Span() < 2*math.Pi {
			return nil, false
		}
		inner, bottom, top, height = s.InnerDiameter, s.OuterDiameter, s.OuterDiameter, s.Thickness
	case shape.Frustum:
		bottom, top, height = s.BottomDiameter, s.TopDiameter, s.Height
	default:
		return nil, false
	}
	if way < 0 {
		bottom, top = top, bottom
	}
	z := v.along(p.Place.Center)
	lo, hi := v.snap.at(z-height/2), v.snap.at(z+height/2)
	in, r1, wide := v.snap.at(math.Max(inner, 0)/2), v.snap.at(bottom/2), v.snap.at(top/2)
	return corners(r2.Vec{X: in, Y: lo}, r2.Vec{X: r1, Y: lo}, r2.Vec{X: wide, Y: hi}, r2.Vec{X: in, Y: hi}), true
}

// corners is a loop of straight edges.
func corners(list ...r2.Vec) (l shape.Loop) {
	for i, p := range list {
		l = append(l, shape.Edge{A: p, B: list[(i+1)%len(list)]})
	}
	return l
}

// problem gives each body its medium.
func (v *revolution) problem(c condition, density float64, halves []Plane) *axisymmetric.Problem {
	a, d := v.a, v.a.design
	p := &axisymmetric.Problem{Turn: v.turn, Origin: v.origin, Coils: v.coils, Focus: a.center, Levels: 2, Density: density}
	if t := d.Target; t != nil && t.Region != nil {
		p.Radius = regionRadius(t.Region)
	}
	for _, h := range halves {
		if h.Axis == v.axis {
			p.Planes = append(p.Planes, v.plane(h))
		}
	}
	curves := map[string]*material.Curve{} // one for each name: the symmetry compares them
	for i, section := range v.sections {
		b := axisymmetric.Body{Name: a.parts[i].Name, Section: section}
		switch {
		case i < len(d.Magnets):
			m := &d.Magnets[i]
			frame := func(u r3.Vec) [3]float64 { return array(v.turn.Inverse(u)) }
			medium := a.magnetMedium(i, r3.Scale(m.Material.At(c.temperatureC).RemanenceT, m.Direction), frame, c.joints)
			b.Medium = axisymmetric.Medium{Radial: medium.RelativeUU, Axial: medium.RelativeWW, Polarization: axisymmetric.Vec{0, medium.Polarization[2]}}
		case c.idealSteel:
			b.Medium = axisymmetric.Medium{Radial: idealPermeability, Axial: idealPermeability}
		default:
			steel := &d.Steels[i-len(d.Magnets)].Material
			if curves[steel.Name] == nil {
				curves[steel.Name] = steel.Curve
			}
			b.Medium = axisymmetric.Medium{Curve: curves[steel.Name]}
		}
		p.Bodies = append(p.Bodies, b)
	}
	if c.joints && !c.idealSteel {
		v.addFilms(p)
	}
	return p
}

// plane is where a plane across the axis lies in the half plane.
func (v *revolution) plane(h Plane) float64 {
	snap := v.snap
	return snap.at(h.AtM - *component(&v.origin, v.axis))
}

// faces gives the inner and the outer radius of a section at its lower and at its upper face.
func faces(l shape.Loop) (low, high [2]float64, lo, hi float64) {
	return [2]float64{l[0].A.X, l[1].A.X}, [2]float64{l[3].A.X, l[2].A.X}, l[0].A.Y, l[2].A.Y
}

// addFilms lays the joints between steel parts into that part whose whole face they cover, if there is one, over a tenth of its depth. Films
// against magnets are in the magnets' media.
func (v *revolution) addFilms(p *axisymmetric.Problem) {
	d := v.a.design
	number := map[string]int{}
	for i := len(d.Magnets); i < len(v.sections); i++ {
		number[v.a.parts[i].Name] = i
	}
	for _, j := range d.Joints {
		i, iok := number[j.Between[0]]
		k, kok := number[j.Between[1]]
		if !iok || !kok {
			continue
		}
		lowI, highI, loI, hiI := faces(v.sections[i])
		lowK, highK, loK, hiK := faces(v.sections[k])
		switch {
		case hiI == loK:
			v.film(p, i, k, highI, lowK, hiI, j.ThicknessM)
		case hiK == loI:
			v.film(p, k, i, highK, lowI, hiK, j.ThicknessM)
		}
	}
}

// film lays one between the upper face of body below and the lower face of body above.
func (v *revolution) film(p *axisymmetric.Problem, below, above int, top, bottom [2]float64, z, thickness float64) {
	area := func(f [2]float64) float64 { return f[1]*f[1] - f[0]*f[0] }
	in, out := math.Max(top[0], bottom[0]), math.Min(top[1], bottom[1])
	if !(out > in) {
		return
	}
	_, _, lo, hi := faces(v.sections[below])
	depth := -0.1 * (hi - lo)
	body := below
	if area(bottom) < area(top) {
		_, _, lo, hi = faces(v.sections[above])
		body, depth = above, 0.1*(hi-lo)
	}
	f := axisymmetric.Film{Share: thickness / math.Abs(depth), Min: axisymmetric.Vec{in, math.Min(z, z+depth)}, Max: axisymmetric.Vec{out, math.Max(z, z+depth)}}
	p.Bodies[body].Medium.Films = append(p.Bodies[body].Medium.Films, f)
}

const (
	// revolvedFiner is how much denser the half plane's two meshes are for each grid more that an accuracy asks for in three dimensions.
	revolvedFiner = 1.4
	// revolvedUnknowns are the most that a refinement may lead to, some 4 kB each.
	revolvedUnknowns = 200_000
)

// solve finds the field, refined until the estimated error meets the accuracy.
func (v *revolution) solve(ctx context.Context, use condition, o Options, report func(string, float64), effort *result.Solver) (*revolvedField, error) {
	most := float64(min(o.Accuracy.unknowns, revolvedUnknowns))
	for density := v.density(o.Accuracy); ; density *= refinement {
		p := v.problem(use, density, o.Halves)
		coarse, fine, err := axisymmetric.Solve(ctx, p, func(done float64) { report("half plane", 0.8*done) })
		if err != nil {
			return nil, err
		}
		f := &revolvedField{Solution: fine, v: v, coarse: coarse}
		*effort = result.Solver{Method: "axisymmetric", Unknowns: fine.Effort.Unknowns, NewtonSteps: fine.Effort.NewtonSteps, Symmetry: []string{},
			EstimatedError: f.estimate(), Accuracy: o.Accuracy.Name}
		for axis := range 3 {
			if f.Mirrored(axis) {
				effort.Symmetry = append(effort.Symmetry, string("xyz"[axis]))
			}
		}
		if effort.EstimatedError <= o.Accuracy.Percent || refinement*refinement*float64(effort.Unknowns) > most {
			return f, nil
		}
	}
}

// density of the half plane's meshes for an accuracy.
func (v *revolution) density(a Accuracy) float64 {
	return a.density * math.Pow(revolvedFiner, float64(a.levels-2))
}

// revolvedField is the field of a solve in the half plane.
type revolvedField struct {
	*axisymmetric.Solution
	v      *revolution
	coarse *axisymmetric.Solution // on the next coarser mesh
}

// estimate is the estimated error of the field in the gap, per cent of it: a share of the largest difference of the last two meshes there. At one
// point alone they may agree by chance.
func (f *revolvedField) estimate() float64 {
	a := f.v.a
	b, _ := f.At(a.center)
	size := r3.Norm(b)
	if size == 0 {
		return 0
	}
	reach := a.clearance(a.center) / 3
	var worst float64
	for _, d := range []r3.Vec{{}, {X: 1}, {Y: 1}, {Z: 1}, {X: -1}, {Y: -1}, {Z: -1}} {
		p := r3.Add(a.center, r3.Scale(reach, d))
		b, _ := f.At(p)
		c, _ := f.coarse.At(p)
		worst = math.Max(worst, r3.Norm(r3.Sub(b, c)))
	}
	return 100 * errorShare * worst / size
}

func (f *revolvedField) Gap(center r3.Vec, radius float64) func(r3.Vec) r3.Vec {
	if e, err := f.Inside(center, radius); err == nil {
		return e.Field
	}
	return func(p r3.Vec) r3.Vec { b, _ := f.At(p); return b }
}

func (f *revolvedField) Bodies() []magnetostatic.BodyIntegral {
	a := f.v.a
	out := make([]magnetostatic.BodyIntegral, len(a.parts))
	for i, o := range f.Solution.Bodies() {
		out[i] = magnetostatic.BodyIntegral{Volume: o.Volume, MeanB: f.v.axial(o.MeanB), MeanH: f.v.axial(o.MeanH), MeanB1: o.MeanB1, MaxB: o.MaxB, Moment: f.v.axial(o.Moment)}
	}
	a.addCoilMoments(out)
	return out
}

// Coenergy is always known here.
func (f *revolvedField) Coenergy() (w float64, ok bool) { return f.Solution.Coenergy(), true }

// Forces lie along the axis, and there is no torque.
func (f *revolvedField) Forces() (force, torque []r3.Vec) {
	bodies, coils := f.Solution.Forces()
	for _, x := range append(bodies, coils...) {
		force = append(force, f.v.axial(x))
	}
	return force, make([]r3.Vec, len(force))
}

// Half is the force across the plane: along the axis, or that which drives both sides of a plane through the axis apart.
func (f *revolvedField) Half(p Plane) (r3.Vec, error) {
	if p.Axis == f.v.axis {
		x, err := f.HalfForce(f.v.plane(p))
		return f.v.axial(x), err
	}
	var force r3.Vec
	*component(&force, p.Axis) = f.SplitForce()
	return force, nil
}

// Mirrored: planes that contain the axis are always planes of symmetry.
func (f *revolvedField) Mirrored(axis int) bool {
	return f.v.across(axis) || axis == f.v.axis && f.Parity() != axisymmetric.None
}

func (f *revolvedField) Section(body, axis int, at float64) (mean, area, flux float64) {
	if axis != f.v.axis || body >= len(f.v.sections) {
		return sampleSection(f.v.a.parts[body], axis, at, func(p r3.Vec) (r3.Vec, bool) {
			if b, ok := f.Within(p); ok {
				return b, true
			}
			b, _ := f.At(p)
			return b, true
		})
	}
	low, high, lo, hi := faces(f.v.sections[body])
	z := f.v.plane(Plane{axis, at})
	if z < lo || z > hi {
		return 0, 0, 0
	}
	s := (z - lo) / (hi - lo)
	r1, r2 := low[0]+s*(high[0]-low[0]), low[1]+s*(high[1]-low[1])
	area = math.Pi * (r2*r2 - r1*r1)
	flux = f.Flux(body, z, r1, r2)
	return flux / area, area, flux
}

// find solves in the half plane, or else in three dimensions.
func (a *assembly) find(ctx context.Context, use condition, o Options, report func(string, float64), effort *result.Solver) (fieldOf, error) {
	if v, ok := a.revolution(o.Halves); ok {
		f, err := v.solve(ctx, use, o, report, effort)
		if err == nil {
			a.round = v
			return f, nil
		}
		if ctx.Err() != nil {
			return nil, err
		}
	}
	return a.solve(ctx, use, o, report, effort)
}

// draft solves a condition on the draft meshes.
func (v *revolution) draft(ctx context.Context, c condition) (*axisymmetric.Solution, error) {
	_, s, err := axisymmetric.Solve(ctx, v.problem(c, v.density(Draft), nil), nil)
	return s, err
}

// strain is what a temperature does to the magnets, all on their recoil lines.
func (v *revolution) strain(ctx context.Context, c condition) (*strain, error) {
	f, err := v.draft(ctx, c)
	if err != nil {
		return nil, err
	}
	gap, _ := f.At(v.a.center)
	return &strain{degC: c.temperatureC, knee: v.a.knees(c.temperatureC), gap: gap, spots: v.spots(f, c)}, nil
}

// spots gives the field along the magnetization in all magnets of a solution.
func (v *revolution) spots(f *axisymmetric.Solution, c condition) [][]magnetostatic.Spot {
	out := make([][]magnetostatic.Spot, len(v.a.design.Magnets))
	for i := range out {
		sign := v.way(v.a.design.Magnets[i].Direction)
		for _, o := range f.Spots(i) {
			out[i] = append(out[i], magnetostatic.Spot{Volume: o.Volume, H: v.a.within(i, sign*o.H[1], c)})
		}
	}
	return out
}

// within is the field strength in a magnet along its magnetization where the mean over magnet, coating and films is h: on its recoil line it is
// in series with them (see magnetMedium).
func (a *assembly) within(i int, h float64, c condition) float64 {
	m := &a.design.Magnets[i]
	if !c.joints {
		return h
	}
	bare, film := a.filmShares(i)
	return (h - film*m.Material.At(c.temperatureC).RemanenceT/material.Mu0) / (bare + film*m.Material.RecoilPermeability)
}
