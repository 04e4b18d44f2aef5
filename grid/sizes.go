package grid

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"

	"polewright/shape"
)

// sizes is the wanted cell length over the plan and along the layers: small at corners of bodies, where the field is singular, and in the
// region that matters, growing with the distance from both.
type sizes struct {
	curves  []shape.Edge
	corners []feature
	focus   []feature
	rims    []rim
	strays  []stray
	density float64
	far     float64
	along   []float64  // places of the focus along w
	w       []feature1 // faces along w
}

type feature struct {
	at     r2.Vec
	size   float64
	radius float64 // the size holds within this distance
}

type feature1 struct{ at, size float64 }

// rim is an edge of a pole's face, along all of which the field is singular.
type rim struct {
	edge shape.Edge
	size float64
}

// stray is a body that the grid does not follow: in it, and as far as a cell about it, the cells have a size of its own.
type stray struct {
	size   float64
	hull   [len(hullSides)]float64 // how far its plan reaches along each of hullSides, from the middle of the grid
	lo, hi float64                 // its extent along w
}

// hullSides are evenly spread directions of the plan.
var hullSides = func() (d [32]r2.Vec) {
	for k := range d {
		d[k].Y, d[k].X = math.Sincos(2 * math.Pi * float64(k) / float64(len(d)))
	}
	return d
}()

func strayOf(b *Body, g *Grids) stray {
	e := b.Solid.HalfExtent()
	far := func(v [3]float64) float64 {
		d := World(g.Axis, v)
		return shape.Support(b.Solid, b.Place, d) - r3.Dot(d, g.Center)
	}
	s := stray{size: 0.5 * math.Min(e.X, math.Min(e.Y, e.Z)), lo: -far([3]float64{0, 0, -1}), hi: far([3]float64{0, 0, 1})}
	for k, d := range hullSides {
		s.hull[k] = far([3]float64{d.X, d.Y, 0})
	}
	return s
}

// distance is how far a point of the plan lies from the body's, 0 in it.
func (s *stray) distance(p r2.Vec) (d float64) {
	for k, far := range s.hull {
		d = math.Max(d, r2.Dot(hullSides[k], p)-far)
	}
	return d
}

const (
	cornerFraction = 0.30 // cell length at a corner over the shortest length next to it
	focusFraction  = 0.45 // cell length at the focus over the distance to the nearest body
	rimShare       = 0.33 // cell length at a pole's rim over that at other bodies: it is sharp and stands at the gap
	growth         = 0.55 // growth of the cell length with distance
)

func newSizes(s Spec, g *Grids, bodies []placed) *sizes {
	z := &sizes{density: s.Density, far: g.Max[0] / 2.5}
	if z.density <= 0 {
		z.density = 1
	}
	center := Frame(g.Axis, g.Center)
	poles := polesOf(s, g, bodies)
	g.Poles = slices.ContainsFunc(poles, func(p pole) bool { return p != pole{} })
	for i := range bodies {
		b := &bodies[i]
		min, max := bounds(b.loops)
		thin := math.Min(max.X-min.X, max.Y-min.Y)
		for _, loop := range b.loops {
			for _, e := range loop {
				z.curves = append(z.curves, e)
				if e.Radius > 0 {
					thin = math.Min(thin, e.Radius)
				} else {
					thin = math.Min(thin, r2.Norm(r2.Sub(e.B, e.A)))
				}
			}
		}
		corner := cornerFraction * thin
		if poles[i].beside {
			corner *= rimShare
		}
		for _, loop := range b.loops {
			for _, e := range loop {
				z.corners = append(z.corners, feature{at: e.A, size: corner})
			}
		}
		end := cornerFraction * math.Min(thin, b.hi-b.lo)
		lo, hi := end, end
		if face := poles[i]; b.rim() || face.beside {
			lo, hi = end*rimShare, end*rimShare
		} else if face.above || face.below {
			for _, loop := range b.loops {
				for _, e := range loop {
					z.rims = append(z.rims, rim{e, end})
				}
			}
			if face.below {
				lo = end * rimShare
			}
			if face.above {
				hi = end * rimShare
			}
		}
		z.w = append(z.w, feature1{b.lo, lo}, feature1{b.hi, hi})
	}
	for i := range g.Warps {
		w := &g.Warps[i]
		for _, r := range []float64{w.Inner, w.Outer} {
			if r > 0 {
				circle, _, _, _ := shape.Outline(shape.Disc{Diameter: 2 * r, Thickness: 1}, shape.Placement{Rot: shape.Identity()}, 2)
				for _, loop := range shifted(circle, [3]float64{-w.At[0], -w.At[1]}) {
					z.curves = append(z.curves, loop...)
				}
			}
		}
		for _, k := range w.Knots {
			z.w = append(z.w, feature1{k.W, math.Inf(1)})
		}
	}
	for i := range s.Marks {
		m := &s.Marks[i]
		if loops, lo, hi, ok := shape.Outline(m.Solid, m.Place, g.Axis); ok {
			for _, loop := range shifted(loops, center) {
				z.curves = append(z.curves, loop...)
			}
			z.w = append(z.w, feature1{lo - center[2], math.Inf(1)}, feature1{hi - center[2], math.Inf(1)})
		}
	}
	// A corner that several bodies share takes the smallest of their sizes.
	slices.SortFunc(z.corners, func(a, b feature) int {
		switch {
		case a.size < b.size:
			return -1
		case a.size > b.size:
			return 1
		}
		return 0
	})
	var kept []feature
	for _, c := range z.corners {
		if !slices.ContainsFunc(kept, func(k feature) bool { return r2.Norm(r2.Sub(k.at, c.at)) < 0.5*k.size }) {
			kept = append(kept, c)
		}
	}
	z.corners = kept
	for _, p := range s.Focus {
		f := Frame(g.Axis, p)
		for k := range f {
			f[k] -= center[k]
		}
		at := folded(f, g)
		d := math.Inf(1)
		for _, e := range z.curves {
			d = math.Min(d, segmentDistance(at, e.A, e.B))
		}
		z.focus = append(z.focus, feature{at: at, size: focusFraction * math.Max(math.Min(d, g.Scale), 0.02*g.Scale), radius: s.Radius})
		z.along = append(z.along, f[2])
	}
	for i := range s.Bodies {
		if !g.Fits[i] {
			z.strays = append(z.strays, strayOf(&s.Bodies[i], g))
		}
	}
	for axis := range 3 {
		for _, at := range s.Planes[axis] {
			k := (axis - g.Axis + 2) % 3 // 0: u, 1: v, 2: w
			at -= center[k]
			if g.parity()[k] != None { // the domain is the positive side
				at = math.Abs(at)
			}
			switch {
			case at < 1e-9 && g.parity()[k] != None:
			case k == 2:
				z.w = append(z.w, feature1{at, math.Inf(1)})
			case k == 0:
				z.curves = append(z.curves, shape.Edge{A: r2.Vec{X: at, Y: g.Min[1]}, B: r2.Vec{X: at, Y: g.Max[1]}})
			default:
				z.curves = append(z.curves, shape.Edge{A: r2.Vec{X: g.Min[0], Y: at}, B: r2.Vec{X: g.Max[0], Y: at}})
			}
		}
	}
	return z
}

// pole says how a body of steel next to a focus stands to it.
type pole struct {
	above, below bool // the focus is over its upper end, under its lower end: all of that end's rim stands at the gap
	beside       bool // its side faces the focus
}

// nextTo is how much farther than the nearest body one may be from the focus and still stand next to it.
const nextTo = 1.25

// polesOf finds the bodies of steel that stand next to a focus. Their sharp rims rule the error of the field between them.
func polesOf(s Spec, g *Grids, bodies []placed) []pole {
	poles := make([]pole, len(bodies))
	center := Frame(g.Axis, g.Center)
	for _, at := range s.Focus {
		f := Frame(g.Axis, at)
		for k := range f {
			f[k] -= center[k]
		}
		distance, nearest := make([]float64, len(bodies)), math.Inf(1)
		over := make([]bool, len(bodies))
		for i := range bodies {
			b := &bodies[i]
			p, d := r2.Vec{X: f[0], Y: f[1]}, math.Inf(1)
			if over[i] = inside(b.loops, p); over[i] {
				d = 0
			}
			for _, loop := range b.loops {
				for _, e := range loop {
					d = math.Min(d, e.Distance(p))
				}
			}
			distance[i] = math.Hypot(d, math.Max(0, math.Max(b.lo-f[2], f[2]-b.hi)))
			nearest = math.Min(nearest, distance[i])
		}
		for i := range bodies {
			if b := &bodies[i]; b.soft() && distance[i] > 0 && distance[i] <= nextTo*nearest {
				poles[i].above = poles[i].above || over[i] && f[2] >= b.hi
				poles[i].below = poles[i].below || over[i] && f[2] <= b.lo
				poles[i].beside = poles[i].beside || !over[i]
			}
		}
	}
	return poles
}

// folded is the plan position of a point, carried into the domain.
func folded(f [3]float64, g *Grids) r2.Vec {
	par := g.parity()
	for k := range 2 {
		if par[k] != None {
			f[k] = math.Abs(f[k])
		}
	}
	return r2.Vec{X: f[0], Y: f[1]}
}

func segmentDistance(p, a, b r2.Vec) float64 { return shape.Edge{A: a, B: b}.Distance(p) }

// at is the wanted edge length at a point of the plan.
func (z *sizes) at(p r2.Vec) float64 {
	h := z.far
	for _, c := range z.corners {
		h = math.Min(h, c.size+growth*r2.Norm(r2.Sub(p, c.at)))
	}
	for _, c := range z.focus {
		h = math.Min(h, c.size+growth*math.Max(0, r2.Norm(r2.Sub(p, c.at))-c.radius))
	}
	for i := range z.rims {
		h = math.Min(h, z.rims[i].size+growth*z.rims[i].edge.Distance(p))
	}
	for i := range z.strays {
		h = math.Min(h, z.strays[i].size+growth*math.Max(0, z.strays[i].distance(p)-z.strays[i].size))
	}
	return h / z.density
}

// layers gives the faces of the base grid along w.
func (z *sizes) layers(g *Grids) []float64 {
	type knot struct{ at, size float64 }
	knots := []knot{{g.Min[2], math.Inf(1)}, {g.Max[2], math.Inf(1)}}
	for _, f := range z.w {
		at := f.at
		if at > g.Min[2]+1e-9 && at < g.Max[2]-1e-9 {
			knots = append(knots, knot{at, f.size})
		} else if math.Abs(at-g.Min[2]) <= 1e-9 {
			knots[0].size = math.Min(knots[0].size, f.size)
		}
	}
	slices.SortFunc(knots, func(a, b knot) int {
		switch {
		case a.at < b.at:
			return -1
		case a.at > b.at:
			return 1
		}
		return 0
	})
	merged := knots[:1]
	for _, k := range knots[1:] {
		last := &merged[len(merged)-1]
		if k.at-last.at < 1e-8 {
			last.size = math.Min(last.size, k.size)
		} else {
			merged = append(merged, k)
		}
	}
	want := func(w float64) float64 {
		h := z.far
		for _, k := range merged {
			h = math.Min(h, k.size+growth*math.Abs(w-k.at))
		}
		for i, f := range z.focus {
			at := z.along[i]
			if g.parity()[2] != None {
				at = math.Abs(at)
			}
			h = math.Min(h, 1.5*f.size+growth*math.Max(0, math.Abs(w-at)-f.radius))
		}
		for i := range z.strays {
			s := &z.strays[i]
			h = math.Min(h, 1.5*s.size+growth*math.Max(0, math.Max(s.lo-w, w-s.hi)-s.size))
		}
		return h / z.density
	}
	faces := []float64{merged[0].at}
	for i := range merged[1:] {
		faces = appendGraded(faces, merged[i].at, merged[i+1].at, want)
	}
	return faces
}

// appendGraded cuts [lo, hi] into layers of about the wanted lengths: the number of layers is the integral of 1/want, the faces share it
// equally.
func appendGraded(faces []float64, lo, hi float64, want func(float64) float64) []float64 {
	const n = 400
	var sum [n + 1]float64
	for i := range n {
		sum[i+1] = sum[i] + (hi-lo)/n/want(lo+(hi-lo)*(float64(i)+0.5)/n)
	}
	count := max(1, int(math.Round(sum[n])))
	for c := 1; c < count; c++ {
		target := sum[n] * float64(c) / float64(count)
		i, _ := slices.BinarySearch(sum[:], target)
		i = max(i, 1)
		f := (target - sum[i-1]) / (sum[i] - sum[i-1])
		faces = append(faces, lo+(hi-lo)*(float64(i-1)+f)/n)
	}
	return append(faces, hi)
}
