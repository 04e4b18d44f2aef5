package polewright

import (
	"context"
	"math"

	"gonum.org/v1/gonum/spatial/r3"

	"polewright/harmonic"
	"polewright/magnetostatic"
	"polewright/material"
	"polewright/result"
	"polewright/safety"
)

// This file takes the field outside the assembly: how far limits reach, and the moments that rule far away.

// strayLimits are always reported: implants, loose steel (see package safety for their sources).
var strayLimits = []float64{0.5e-3, 3e-3}

// Stray is the field round an assembly.
type Stray struct {
	Center r3.Vec // of the box that holds all parts
	box    r3.Box
	moment r3.Vec
	field  func(r3.Vec) r3.Vec // as good as it gets
	quick  func(r3.Vec) r3.Vec // off by up to some per cent, to find directions
	mirror [3]bool
}

// outsideDegree and outsideShare say how a field that is known everywhere becomes multipoles: projected on a sphere so much larger than the
// ball that holds all parts, from which on they serve.
const (
	outsideDegree = 12
	outsideShare  = 1.3
)

func (a *assembly) strayField(f fieldOf, moment r3.Vec) (s *Stray, far *harmonic.Expansion) {
	s = &Stray{box: a.outer(), moment: moment}
	s.Center = r3.Scale(0.5, r3.Add(s.box.Min, s.box.Max))
	s.mirror = mirrorsOf(f)
	s.field = func(p r3.Vec) r3.Vec { b, _ := f.At(p); return b }
	radius := outsideShare * r3.Norm(r3.Sub(s.box.Max, s.Center))
	if g, ok := f.(*gridField); ok {
		far, _ = g.Outside()
	} else {
		far = harmonic.Outside(s.field, s.Center, radius, 2, outsideDegree, 2*outsideDegree)
	}
	near := s.field
	if g, ok := f.(*gridField); ok {
		near = g.Rough
		radius /= outsideShare / 1.1
	}
	s.quick = near
	if far != nil {
		s.quick = func(p r3.Vec) r3.Vec {
			if r3.Norm2(r3.Sub(p, s.Center)) > radius*radius {
				return far.Field(p)
			}
			return near(p)
		}
	}
	return s, far
}

// Reach is how far |B| still has the limit (T) from the centre along a unit vector, m; 0 when nowhere outside the box of the parts.
func (s *Stray) Reach(limit float64, d r3.Vec) float64 {
	// The quick field says where to look with the true one, whose every value costs a fit.
	const share = 1.1
	if r := s.reach(s.quick, limit, d); r > share*s.Rim(d) {
		at := result.Over(s.field, s.Center, d, limit)
		lo, hi := r/share, r*share
		if above := at(lo); above >= 0 {
			if below := at(hi); below < 0 {
				return result.Crossing(at, lo, hi, above, below)
			}
		}
	}
	return s.reach(s.field, limit, d)
}

func (s *Stray) reach(field func(r3.Vec) r3.Vec, limit float64, d r3.Vec) float64 {
	// A dipole's field on its axis is mu0 m/(2 pi r^3): beyond twice that distance and ten sizes the limit is not met.
	far := math.Max(10*r3.Norm(r3.Sub(s.box.Max, s.box.Min)), 2*math.Cbrt(material.Mu0*r3.Norm(s.moment)/(2*math.Pi*limit)))
	return result.Reach(field, s.Center, d, limit, s.Rim(d), far)
}

// Rim is where a ray from the centre leaves the box of the parts.
func (s *Stray) Rim(d r3.Vec) float64 { return result.Box{Size: r3.Sub(s.box.Max, s.box.Min)}.Rim(d) }

// Largest is the largest reach of a limit of all directions: sought on a spiral of directions and polished. Where the field at the largest
// distance so far is below the limit, the reach is guessed from it, as a dipole's field falls, and not found.
func (s *Stray) Largest(limit float64) (m float64, d r3.Vec) {
	best := 0.0
	_, d = result.Farthest(func(d r3.Vec) float64 {
		if at := math.Max(best, s.Rim(d)); best > 0 {
			if b := r3.Norm(s.quick(r3.Add(s.Center, r3.Scale(at, d)))); b < limit {
				return math.Min(best, at*math.Cbrt(b/limit))
			}
		}
		r := s.reach(s.quick, limit, d)
		best = math.Max(best, r)
		return r
	}, s.mirror)
	if best > 0 {
		m = s.Reach(limit, d)
	}
	if m > 0 {
		return m, d
	}
	// Close to the parts the quick field may say too little, or point to a place where the true field is lower: look there along the axes, the
	// edges and the corners before saying that the limit is met nowhere outside.
	for x := -1.0; x <= 1; x++ {
		for y := -1.0; y <= 1; y++ {
			for z := -1.0; z <= 1; z++ {
				if x == 0 && y == 0 && z == 0 {
					continue
				}
				way := r3.Unit(r3.Vec{X: x, Y: y, Z: z})
				if r := s.Reach(limit, way); r > m {
					m, d = r, way
				}
			}
		}
	}
	if m == 0 {
		return 0, r3.Vec{}
	}
	return m, d
}

func (a *assembly) fillStray(ctx context.Context, r *result.Result, f fieldOf, bodies []magnetostatic.BodyIntegral) {
	var moment r3.Vec
	for i := range bodies {
		moment = r3.Add(moment, bodies[i].Moment)
	}
	s, far := a.strayField(f, moment)
	r.CenterM = array(s.Center)
	r.MomentAm2 = array(moment)
	if far != nil {
		r.QuadrupoleAm3 = quadrupole(far, s.Center)
	}
	limits := strayLimits
	if t := a.design.Target; t != nil && t.StrayLimitT > 0 && t.StrayLimitT != limits[0] && t.StrayLimitT != limits[1] {
		limits = append([]float64{t.StrayLimitT}, limits...)
	}
	for _, limit := range limits {
		if ctx.Err() != nil {
			return
		}
		w := s.ways(limit)
		o := result.Stray{Limit: limit, Largest: w.Largest, Direction: w.Towards}
		o.Reach.X, o.Reach.Y, o.Reach.Z = w.X, w.Y, w.Z
		r.Stray = append(r.Stray, o)
	}
}

// mirrorsOf tells for each axis whether |B| is the same on both sides of the middle.
func mirrorsOf(f fieldOf) [3]bool { return [3]bool{f.Mirrored(0), f.Mirrored(1), f.Mirrored(2)} }

// alongAxes are the directions of the axes, one of each pair that symmetry makes alike.
func alongAxes(mirror [3]bool) (ways []r3.Vec) {
	for axis, d := range [3]r3.Vec{{X: 1}, {Y: 1}, {Z: 1}} {
		ways = append(ways, d)
		if !mirror[axis] {
			ways = append(ways, r3.Scale(-1, d))
		}
	}
	return ways
}

// ways is how far a limit reaches along the axes and at most.
func (s *Stray) ways(limit float64) (w safety.Ways) {
	ways := append([]r3.Vec{{}}, alongAxes(s.mirror)...) // the first stands for the direction of the largest reach
	reach := make([]float64, len(ways))
	onAllCores(len(ways), func(i int) {
		if i == 0 {
			reach[0], ways[0] = s.Largest(limit)
		} else {
			reach[i] = s.Reach(limit, ways[i])
		}
	})
	for i := 1; i < len(ways); i++ {
		w.Meet(ways[i], reach[i])
	}
	if d := ways[0]; reach[0] > 0 {
		for axis, mirrored := range s.mirror {
			if c := component(&d, axis); mirrored {
				*c = math.Abs(*c)
			}
		}
		w.Meet(d, reach[0])
	}
	return w
}

// quadrupole is the quadrupole moment of an expansion about another point than its centre.
func quadrupole(e *harmonic.Expansion, about r3.Vec) [3][3]float64 {
	m, q := e.Moments()
	d := r3.Sub(about, e.Center)
	ma, da := array(m), array(d)
	for i := range 3 {
		for j := range 3 {
			q[i][j] -= 3 * (ma[i]*da[j] + ma[j]*da[i])
		}
		q[i][i] += 2 * r3.Dot(m, d)
	}
	return q
}

// Surface is where a limit is reached in every direction, as a closed surface of triangles whose corners lie about 2 degrees apart; where the
// limit is not met outside the parts, it lies on the box that holds them.
func (s *Stray) Surface(ctx context.Context, limit float64, progress func(done float64)) (*result.Surface, error) {
	const splits, directions = 5, 10242
	count := 0
	o := result.SurfaceOf(s.Center, splits, s.mirror, func(d r3.Vec) float64 {
		if ctx.Err() != nil {
			return s.Rim(d)
		}
		if count++; progress != nil {
			progress(float64(count) / directions)
		}
		return math.Max(s.Reach(limit, d), s.Rim(d))
	})
	return o, ctx.Err()
}
