package polewright

import (
	"errors"
	"fmt"
	"math"

	"gonum.org/v1/gonum/spatial/r3"

	"polewright/design"
	"polewright/harmonic"
	"polewright/magnetostatic"
	"polewright/result"
)

// This file takes what is said about the field in the gap: harmonics, figures over the region, derivatives.

// Degrees of expansions: of the potential, one more than of the field.
const gapDegree = 13

// Gap is what is known of the field round the middle of the gap.
type Gap struct {
	Center r3.Vec
	Volume result.Volume // the target region, or a ball of half the clearance
	Field  func(r3.Vec) r3.Vec
	Noise  float64 // T, what is uncertain in the shape of the field; its mean is known less well

	near *harmonic.Expansion // about the centre; nil where a body lies there
	wide float64             // radius in which near serves
	f    fieldOf
	a    *assembly
	tiny int // expansions that probes may still ask for
}

// gapField expands the field about the middle of the gap, and over the whole region where that has no room in one ball.
func (a *assembly) gapField(f fieldOf) *Gap {
	g := &Gap{Center: a.center, f: f, a: a, tiny: 16}
	clear := a.clearance(a.center)
	wanted := clear / 2
	if t := a.design.Target; t != nil && t.Region != nil {
		g.Volume = volumeOf(t.Region)
		wanted = regionRadius(t.Region)
	} else if wanted > 0 {
		g.Volume = result.Sphere{Radius: wanted}
	}
	at := func(p r3.Vec) r3.Vec { b, _ := f.At(p); return b }
	g.Field = at
	inside := math.Min(wanted, servesTo*clear)
	if inside > 0 {
		g.near, _ = expand(f, a.center, inside, clear)
	}
	if g.near != nil {
		g.wide = servesTo * clear
	}
	if exact, ok := f.(closedForm); ok { // nothing is better than the closed form itself
		g.Field = exact.B
		return g
	}
	switch {
	case g.near != nil && wanted <= g.wide:
		g.Field, g.Noise = g.near.Field, math.Max(g.near.Noise, a.unlike(f, g.near, wanted))
	case g.Volume != nil:
		g.Field, g.Noise = a.cover(f, g.Volume)
	}
	return g
}

// servesTo is the share of the distance to the nearest body up to which an expansion is used.
const servesTo = 0.8

// expand gives the field in the ball of a radius about a point that lies clear of all bodies.
func expand(f fieldOf, center r3.Vec, radius, clear float64) (*harmonic.Expansion, error) {
	switch g := f.(type) {
	case *gridField:
		return g.Inside(center, radius)
	case closedForm:
		at := math.Max(radius, clear/2)
		return sphereOf(g.B, center, at), nil
	default:
		return sphereOf(f.Gap(center, radius), center, radius), nil
	}
}

// sphereOf projects a smooth field on a sphere and says what that leaves of it there.
func sphereOf(field func(r3.Vec) r3.Vec, center r3.Vec, radius float64) *harmonic.Expansion {
	e := harmonic.Inside(field, center, radius, harmonic.NearestAxis(field(center)), gapDegree, gapDegree+7)
	const points = 50
	for i := range points {
		p := r3.Add(center, r3.Scale(radius, harmonic.Direction(i, points)))
		d := r3.Norm(r3.Sub(e.Field(p), field(p)))
		e.MisfitRMS += d * d / points
		e.MisfitMax = math.Max(e.MisfitMax, d)
	}
	e.MisfitRMS = math.Sqrt(e.MisfitRMS)
	return e
}

var errNoCoarse = errors.New("there is no coarser grid")

// unlike estimates the error of the field's shape, T, from the coarser grid: the part of the difference on the sphere that is not the same
// everywhere, as root of the mean square.
func (a *assembly) unlike(f fieldOf, fine *harmonic.Expansion, radius float64) float64 {
	var e interface{ Field(r3.Vec) r3.Vec }
	err := errNoCoarse
	switch g := f.(type) {
	case *gridField:
		if g.coarse != nil {
			e, err = g.coarse.Inside(fine.Center, radius)
		}
	case *revolvedField:
		e, err = g.coarse.Inside(fine.Center, radius)
	}
	if err != nil {
		return 0
	}
	offset := r3.Sub(fine.Field(fine.Center), e.Field(fine.Center))
	const points = 60
	var sum float64
	for i := range points {
		p := r3.Add(fine.Center, r3.Scale(radius, harmonic.Direction(i, points)))
		sum += r3.Norm2(r3.Sub(r3.Sub(fine.Field(p), e.Field(p)), offset))
	}
	return errorShare * math.Sqrt(sum/points)
}

// cover joins expansions in several balls, so that the field is smooth over a region that has no room in one: each counts with a weight
// that falls to zero at its rim. What lies outside all balls, close to a body, is recovered point by point. The noise is how far the
// expansions differ where they overlap, root of the mean square.
func (a *assembly) cover(f fieldOf, v result.Volume) (field func(r3.Vec) r3.Vec, noise float64) {
	type ball struct {
		e      *harmonic.Expansion
		radius float64
	}
	var balls []ball
	var points []r3.Vec
	for _, q := range v.Rule(5) {
		points = append(points, r3.Add(a.center, q.D))
	}
	for _, d := range v.Corners() {
		points = append(points, r3.Add(a.center, r3.Scale(v.Rim(d), d)))
	}
	free := append([]r3.Vec{a.center}, points...)
	const most = 24
	for tries := 0; len(free) > 0 && tries < most; tries++ {
		// The next ball is about the free point with most room.
		next, room := 0, -1.0
		for i, p := range free {
			if c := a.clearance(p); c > room {
				next, room = i, c
			}
		}
		at := free[next]
		if room <= 0 {
			break
		}
		e, err := expand(f, at, servesTo*room, room)
		if err != nil {
			free = append(free[:next], free[next+1:]...)
			continue
		}
		balls = append(balls, ball{e, servesTo * room})
		left := free[:0]
		for _, p := range free {
			if r3.Norm(r3.Sub(p, at)) > 0.75*servesTo*room {
				left = append(left, p)
			}
		}
		free = left
	}
	weights := func(p r3.Vec, use func(e *harmonic.Expansion, w float64)) {
		for _, b := range balls {
			if s := r3.Norm(r3.Sub(p, b.e.Center)) / b.radius; s < 1 {
				use(b.e, (1-s*s)*(1-s*s))
			}
		}
	}
	field = func(p r3.Vec) r3.Vec {
		var sum r3.Vec
		var all float64
		weights(p, func(e *harmonic.Expansion, w float64) {
			sum, all = r3.Add(sum, r3.Scale(w, e.Field(p))), all+w
		})
		if all == 0 {
			b, _ := f.At(p)
			return b
		}
		return r3.Scale(1/all, sum)
	}
	var count float64
	for _, p := range points {
		mean := field(p)
		weights(p, func(e *harmonic.Expansion, _ float64) {
			noise += r3.Norm2(r3.Sub(e.Field(p), mean))
			count++
		})
	}
	return field, math.Sqrt(noise / math.Max(count, 1))
}

// clearance is how far a point lies from the nearest part, m, at most the size of the assembly; 0 within one.
func (a *assembly) clearance(p r3.Vec) float64 {
	box := a.outer()
	best := r3.Norm(box.Size())
	for _, q := range a.parts {
		best = math.Min(best, magnetostatic.Distance(q.Solid, q.Place.ToLocal(p)))
	}
	return best
}

// Region are the figures over the target region.
func (g *Gap) Region() result.Region {
	r := result.RegionOf(g.Field, g.Center, g.Volume)
	if r.MeanB > 0 {
		r.Noise = 1e6 * g.Noise / r.MeanB
	}
	return r
}

func volumeOf(r *design.Region) result.Volume {
	switch r.Shape {
	case design.Cylinder:
		return result.Cylinder{Radius: r.DiameterM / 2, Length: r.LengthM, Axis: r.Axis}
	case design.Box:
		return result.Box{Size: r.SizeM}
	}
	return result.Sphere{Radius: r.DiameterM / 2}
}

// mostDegree is that of the harmonics which are reported.
const mostDegree = 12

// rounding is what is left of a term that is zero, over the field, where a field is projected on a sphere.
const rounding = 1e-12

// Harmonics are the terms over the sphere about the centre that holds the region, or over the largest one that an expansion serves.
func (g *Gap) Harmonics() *result.Harmonics {
	if g.near == nil {
		return nil
	}
	radius := g.wide
	if g.Volume != nil {
		for _, d := range append(g.Volume.Corners(), r3.Vec{X: 1}) {
			if r := g.Volume.Rim(d); r < radius {
				radius = r
			}
		}
	}
	b := g.near.Field(g.Center)
	size := r3.Norm(b)
	if size == 0 || radius <= 0 {
		return nil
	}
	h := &result.Harmonics{Center: array(g.Center), Radius: radius, Degree: mostDegree, Residual: 1e6 * g.near.MisfitRMS / size,
		ResidualT: g.near.MisfitRMS, ResidualMax: g.near.MisfitMax}
	u, from, terms := mainTerms(g.near, b, radius)
	h.Polar, h.Azimuth = array(u), array(from)
	for _, t := range terms {
		h.Degree = t.N
		if math.Abs(t.B) < rounding*size {
			continue
		}
		kind := "cos"
		if t.Sine {
			kind = "sin"
		}
		h.Terms = append(h.Terms, result.Term{N: t.N, M: t.M, Kind: kind, B: t.B, PPM: 1e6 * t.B / r3.Dot(b, u)})
	}
	return h
}

// mainTerms are the terms of the component along the field in the middle: along the positive world axis if the field lies along one, where
// terms that symmetry forbids are exactly zero.
func mainTerms(e *harmonic.Expansion, b r3.Vec, radius float64) (u, from r3.Vec, terms []harmonic.Term) {
	*component(&from, (e.Polar+1)%3) = 1
	if math.Abs(*component(&b, e.Polar)) >= (1-aligned)*r3.Norm(b) {
		*component(&u, e.Polar) = 1
		return u, from, e.Terms(mostDegree, radius)
	}
	u = r3.Unit(b)
	from = r3.Unit(r3.Sub(from, r3.Scale(r3.Dot(from, u), u)))
	return u, from, e.TermsAlong(u, from, mostDegree, radius)
}

// Derivatives of the field at a point in air.
func (g *Gap) Derivatives(p r3.Vec) (*result.Derivatives, error) {
	e := g.near
	if e == nil || r3.Norm(r3.Sub(p, g.Center)) > g.wide {
		room := g.a.clearance(p)
		if room <= 0 || g.tiny == 0 {
			return nil, errors.New("the point does not lie in air")
		}
		g.tiny--
		var err error
		if e, err = expand(g.f, p, room/2, room); err != nil {
			return nil, err
		}
	}
	d := result.DerivativesOf(e.Derivatives(p))
	return &d, nil
}

// Quality says all that is known of the gap; particles get the kinetic energy (eV), the Hall probe the edge (m). There is no answer where
// the middle of the gap does not lie in air.
func (s *Solved) Quality(energyEV, edge float64) (*result.GapQuality, error) {
	g := s.a.gapField(s.f)
	if g.Volume == nil {
		return nil, errors.New("the middle of the gap lies in a part: give a [target] region or a [[probe]] in the air")
	}
	b := g.Field(g.Center)
	size := r3.Norm(b)
	if size == 0 {
		return nil, errors.New("there is no field in the middle of the gap")
	}
	r := s.Result
	q := &result.GapQuality{Format: 1, Title: r.Title, Center: array(g.Center), B: array(b), Volume: volumeWords(s.a.design.Target, g.Volume),
		Region: g.Region(), Harmonics: g.Harmonics(), Accuracy: r.Solver.Accuracy, Error: r.Solver.EstimatedError}
	if d, err := g.Derivatives(g.Center); err == nil {
		q.Derivatives = d
	}
	full, half := result.LineShape(g.Field, g.Center, g.Volume)
	for _, k := range []struct {
		of    string
		ratio float64
	}{{"proton", result.ProtonHzPerT}, {"proton in water", result.ShieldedProtonHzPerT}, {"electron", result.ElectronHzPerT}} {
		q.Resonance = append(q.Resonance, result.Resonance{Of: k.of, Frequency: k.ratio * size, Full: k.ratio * full, Half: k.ratio * half})
	}
	for _, p := range result.Particles() {
		radius, err := p.Radius(energyEV, size)
		if err != nil {
			return nil, err
		}
		q.Circles = append(q.Circles, result.Circle{Of: p.Name, EnergyEV: energyEV, Radius: radius})
	}
	var steepest float64
	const points = 60
	for i := range points {
		d := harmonic.Direction(i, points)
		p := r3.Add(g.Center, r3.Scale(g.Volume.Rim(d), d))
		o, err := g.Derivatives(p)
		if err != nil {
			continue
		}
		q.Steepest = math.Max(q.Steepest, norm(o.GradB))
		if n := norm(o.GradB2); n > steepest {
			steepest, q.LiftAt = n, array(p)
			for k := range 3 {
				q.Lift[k] = result.Levitation(result.WaterSusceptibility, result.WaterDensity, o.GradB2[k])
			}
		}
	}
	q.Hall = result.HallReading{Edge: edge, Error: result.HallError(g.Field, g.Center, r3.Unit(b), edge), Moved: q.Steepest * edge / 10}
	return q, nil
}

// volumeWords names the volume for people.
func volumeWords(t *design.Target, v result.Volume) string {
	const mm = 1e3
	own := ""
	if t == nil || t.Region == nil {
		own = ", half-way to the nearest part; the file names no region"
	}
	switch v := v.(type) {
	case result.Sphere:
		return fmt.Sprintf("sphere of %.4g mm diameter%s", 2*mm*v.Radius, own)
	case result.Cylinder:
		return fmt.Sprintf("cylinder of %.4g mm diameter, %.4g mm long along %c", 2*mm*v.Radius, mm*v.Length, "xyz"[v.Axis])
	case result.Box:
		return fmt.Sprintf("box of %.4g x %.4g x %.4g mm", mm*v.Size.X, mm*v.Size.Y, mm*v.Size.Z)
	}
	return ""
}

// Stray is the field round the assembly.
func (s *Solved) Stray() *Stray {
	m := s.Result.MomentAm2
	o, _ := s.a.strayField(s.f, r3.Vec{X: m[0], Y: m[1], Z: m[2]})
	return o
}
