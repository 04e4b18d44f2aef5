package draw

import (
	"cmp"
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"
)

// stroke is a piece of an edge as it is seen: a straight line on the page or, of a circle seen square, an arc.
type stroke struct {
	edge   curve
	t0, t1 float64 // the part of the edge
	a, b   r2.Vec  // its ends on the page
	round  bool
	c      r2.Vec
	r      float64
	from   float64 // angle at t0 on the page
	sweep  float64 // to t1, either way
	box    r2.Box
}

// at is a point on the page.
func (s *stroke) at(t float64) r2.Vec {
	if s.round {
		return polar(s.c, s.r, s.from+t*s.sweep)
	}
	return r2.Add(s.a, r2.Scale(t, r2.Sub(s.b, s.a)))
}

// world is the point of the edge that is seen there.
func (s *stroke) world(t float64) r3.Vec { return s.edge.at(s.t0 + t*(s.t1-s.t0)) }

// strokes cuts an edge into straight strokes and true arcs.
func (w view) strokes(e curve) (out []*stroke) {
	add := func(s *stroke) {
		s.a, s.b = s.at0(w)
		if !s.round && r2.Norm(r2.Sub(s.b, s.a)) < 1e-9 {
			return // seen from its end
		}
		s.box = noBox()
		for _, t := range []float64{0, 0.25, 0.5, 0.75, 1} {
			grow(&s.box, s.at(t))
		}
		if s.round { // the box of a quarter by five points lacks up to a few per cent
			pad := s.r * 0.1
			grow(&s.box, r2.Sub(s.box.Min, v(pad, pad)), r2.Add(s.box.Max, v(pad, pad)))
		}
		out = append(out, s)
	}
	if !e.arc {
		add(&stroke{edge: e, t1: 1})
		return out
	}
	if n := r3.Dot(r3.Cross(e.e1, e.e2), w.toward); math.Abs(math.Abs(n)-1) < 1e-12 {
		d := w.flat(e.e1)
		from, sweep := math.Atan2(d.Y, d.X), e.t1-e.t0
		if n > 0 {
			from += e.t0
		} else {
			from, sweep = from-e.t0, -sweep
		}
		add(&stroke{edge: e, t1: 1, round: true, c: w.flat(e.c), r: e.r, from: from, sweep: sweep})
		return out
	}
	// Seen askew or from the side: chords, with ends where the arc reaches farthest along the page's axes.
	stops := []float64{0, 1}
	for _, axis := range []r3.Vec{w.right, w.up} {
		t := math.Atan2(r3.Dot(e.e2, axis), r3.Dot(e.e1, axis))
		for _, t := range []float64{t, t + math.Pi} {
			if past := turnFrom(e.t0, t) / (e.t1 - e.t0); past > 1e-9 && past < 1-1e-9 {
				stops = append(stops, past)
			}
		}
	}
	slices.Sort(stops)
	for i := 1; i < len(stops); i++ {
		n := max(1, int(math.Ceil((stops[i]-stops[i-1])*(e.t1-e.t0)/0.05))) // the chord of 0.05 rad leaves the arc by 0.0003 r
		for k := range n {
			d := (stops[i] - stops[i-1]) / float64(n)
			add(&stroke{edge: e, t0: stops[i-1] + float64(k)*d, t1: stops[i-1] + float64(k+1)*d})
		}
	}
	return out
}

func (s *stroke) at0(w view) (a, b r2.Vec) { return w.flat(s.world(0)), w.flat(s.world(1)) }

// seen is a view of bodies: what is visible and what is not, each line once.
type seen struct{ visible, hidden []*stroke }

// look draws bodies as a viewer sees them. What is nearer to the viewer than the plane at a depth, measured along toward, is cut away; an infinite
// depth cuts nothing.
func (w view) look(bodies []body, depth float64) seen {
	var all []*stroke
	for i := range bodies {
		for _, e := range bodies[i].edges(w) {
			for _, c := range w.behind(e, depth) {
				all = append(all, w.strokes(c)...)
			}
		}
		for _, e := range w.cut(bodies[i], depth) {
			all = append(all, w.strokes(e)...)
		}
	}
	flat := make([]r2.Box, len(bodies))
	near := make([]float64, len(bodies))
	for i, b := range bodies {
		flat[i], near[i] = w.boxOf(b.box)
	}
	places := newBins(all)
	var visible, hidden []*stroke
	for _, s := range all {
		cuts := []float64{0, 1}
		places.near(s.box, func(o *stroke) {
			if o != s {
				meet(s, o, func(t float64) {
					if t > 1e-9 && t < 1-1e-9 {
						cuts = append(cuts, t)
					}
				})
			}
		})
		slices.Sort(cuts)
		for i := 1; i < len(cuts); i++ {
			if cuts[i]-cuts[i-1] < 1e-9 {
				continue
			}
			m := (cuts[i-1] + cuts[i]) / 2
			p, on := s.world(m), s.at(m)
			d := r3.Dot(p, w.toward)
			behind := false
			for k := range bodies {
				if near[k] > d+skin && on.X > flat[k].Min.X && on.X < flat[k].Max.X && on.Y > flat[k].Min.Y && on.Y < flat[k].Max.Y && bodies[k].hides(p, w.toward, depth-d) {
					behind = true
					break
				}
			}
			piece := s.part(cuts[i-1], cuts[i])
			if behind {
				hidden = append(hidden, piece)
			} else {
				visible = append(visible, piece)
			}
		}
	}
	return seen{merged(visible, nil), merged(hidden, visible)}
}

// boxOf is a world box on the page, and how near to the viewer it comes.
func (w view) boxOf(b r3.Box) (flat r2.Box, near float64) {
	flat, near = noBox(), math.Inf(-1)
	for i := range 8 {
		p := b.Min
		if i&1 > 0 {
			p.X = b.Max.X
		}
		if i&2 > 0 {
			p.Y = b.Max.Y
		}
		if i&4 > 0 {
			p.Z = b.Max.Z
		}
		grow(&flat, w.flat(p))
		near = math.Max(near, r3.Dot(p, w.toward))
	}
	return flat, near
}

// part is the stroke between two of its parameters.
func (s *stroke) part(from, to float64) *stroke {
	p := *s
	p.t0, p.t1 = s.t0+from*(s.t1-s.t0), s.t0+to*(s.t1-s.t0)
	p.a, p.b = s.at(from), s.at(to)
	p.from, p.sweep = s.from+from*s.sweep, (to-from)*s.sweep
	return &p
}

// meet hands the parameters on s where it meets or touches o to f.
func meet(s, o *stroke, f func(t float64)) {
	const touch = 1e-8 // m
	if s.box.Min.X > o.box.Max.X+touch || o.box.Min.X > s.box.Max.X+touch || s.box.Min.Y > o.box.Max.Y+touch || o.box.Min.Y > s.box.Max.Y+touch {
		return
	}
	on := func(t float64) {
		if distance(o, s.at(t)) < touch {
			f(t)
		}
	}
	switch {
	case !s.round && !o.round:
		d, e := r2.Sub(s.b, s.a), r2.Sub(o.b, o.a)
		if n := r2.Cross(d, e); math.Abs(n) > 1e-12*r2.Norm(d)*r2.Norm(e) {
			on(r2.Cross(r2.Sub(o.a, s.a), e) / n)
		}
	case !s.round:
		d, c := r2.Sub(s.b, s.a), r2.Sub(s.a, o.c)
		quadratic(r2.Dot(d, d), 2*r2.Dot(d, c), r2.Dot(c, c)-o.r*o.r, on)
		if t := -r2.Dot(d, c) / r2.Dot(d, d); math.Abs(r2.Norm(r2.Add(c, r2.Scale(t, d)))-o.r) < touch {
			on(t) // a tangent
		}
	default:
		angle := func(p r2.Vec) {
			t := math.Atan2(p.Y-s.c.Y, p.X-s.c.X)
			if s.sweep > 0 {
				on(turnFrom(s.from, t) / s.sweep)
			} else {
				on(turnFrom(t, s.from) / -s.sweep)
			}
		}
		if !o.round {
			d, c := r2.Sub(o.b, o.a), r2.Sub(o.a, s.c)
			point := func(t float64) { angle(r2.Add(o.a, r2.Scale(t, d))) }
			quadratic(r2.Dot(d, d), 2*r2.Dot(d, c), r2.Dot(c, c)-s.r*s.r, point)
			point(-r2.Dot(d, c) / r2.Dot(d, d))
			return
		}
		between := r2.Sub(o.c, s.c)
		l := r2.Norm(between)
		if l < 1e-9 {
			return
		}
		x := (l*l + s.r*s.r - o.r*o.r) / (2 * l)
		y := math.Sqrt(math.Max(0, s.r*s.r-x*x))
		u := r2.Scale(1/l, between)
		for _, y := range []float64{y, -y} {
			angle(r2.Add(s.c, v(x*u.X-y*u.Y, x*u.Y+y*u.X)))
		}
	}
}

// distance of a point from a stroke.
func distance(s *stroke, p r2.Vec) float64 {
	if !s.round {
		d := r2.Sub(s.b, s.a)
		t := math.Min(1, math.Max(0, r2.Dot(r2.Sub(p, s.a), d)/r2.Dot(d, d)))
		return r2.Norm(r2.Sub(p, s.at(t)))
	}
	t := math.Atan2(p.Y-s.c.Y, p.X-s.c.X)
	past := turnFrom(s.from, t)
	if s.sweep < 0 {
		past = turnFrom(t, s.from)
	}
	if past <= math.Abs(s.sweep)+1e-9 {
		return math.Abs(r2.Norm(r2.Sub(p, s.c)) - s.r)
	}
	return math.Min(r2.Norm(r2.Sub(p, s.a)), r2.Norm(r2.Sub(p, s.b)))
}

// bins find strokes near a place.
type bins struct {
	min  r2.Vec
	size float64
	n    int
	in   [][]*stroke
}

func newBins(all []*stroke) *bins {
	b := noBox()
	for _, s := range all {
		grow(&b, s.box.Min, s.box.Max)
	}
	n := max(1, int(math.Sqrt(float64(len(all))/4)))
	p := &bins{min: b.Min, size: math.Max(1e-9, math.Max(b.Max.X-b.Min.X, b.Max.Y-b.Min.Y)/float64(n)), n: n, in: make([][]*stroke, n*n)}
	for _, s := range all {
		p.cells(s.box, func(c int) { p.in[c] = append(p.in[c], s) })
	}
	return p
}

func (p *bins) cells(b r2.Box, f func(int)) {
	index := func(x float64) int { return min(p.n-1, max(0, int(x/p.size))) }
	for i := index(b.Min.X - p.min.X - 1e-8); i <= index(b.Max.X-p.min.X+1e-8); i++ {
		for j := index(b.Min.Y - p.min.Y - 1e-8); j <= index(b.Max.Y-p.min.Y+1e-8); j++ {
			f(i*p.n + j)
		}
	}
}

// near hands on the strokes about a box, some more than once.
func (p *bins) near(b r2.Box, f func(*stroke)) {
	p.cells(b, func(c int) {
		for _, s := range p.in[c] {
			f(s)
		}
	})
}

// track is what strokes that lie on one line or one circle have in common, rounded.
type track struct {
	round   bool
	p, q, r int64
}

// trackOf gives the track of a stroke and its stretch along it: lengths along a line, angles round a circle. The grain is far above rounding
// and far below what a drawing shows; being no round length it seldom parts two that are the same.
func trackOf(s *stroke) (k track, from, to float64) {
	const grain = 3.1415926e-8 // m
	whole := func(x float64) int64 { return int64(math.Round(x / grain)) }
	if s.round {
		from, to = s.from, s.from+s.sweep
		if to < from {
			from, to = to, from
		}
		turn := 2 * math.Pi * math.Floor(from/(2*math.Pi)+1e-12)
		return track{true, whole(s.c.X), whole(s.c.Y), whole(s.r)}, from - turn, to - turn
	}
	d := r2.Unit(r2.Sub(s.b, s.a))
	if d.X < -1e-7 || math.Abs(d.X) <= 1e-7 && d.Y < 0 {
		d = r2.Scale(-1, d)
	}
	from, to = r2.Dot(s.a, d), r2.Dot(s.b, d)
	if to < from {
		from, to = to, from
	}
	return track{false, whole(10 * math.Atan2(d.Y, d.X)), whole(r2.Cross(d, s.a)), 0}, from, to
}

// merged puts together strokes on one track that overlap or touch, less what without covers.
func merged(list, without []*stroke) (out []*stroke) {
	type stretch struct{ from, to float64 }
	type run struct {
		of    *stroke
		parts []stretch
	}
	runs := map[track]*run{}
	var order []track
	for _, s := range list {
		k, from, to := trackOf(s)
		if runs[k] == nil {
			runs[k] = &run{of: s}
			order = append(order, k)
		}
		runs[k].parts = append(runs[k].parts, stretch{from, to})
	}
	covered := map[track][]stretch{}
	for _, s := range without {
		k, from, to := trackOf(s)
		covered[k] = append(covered[k], stretch{from, to})
		if k.round {
			covered[k] = append(covered[k], stretch{from - 2*math.Pi, to - 2*math.Pi}, stretch{from + 2*math.Pi, to + 2*math.Pi})
		}
	}
	union := func(list []stretch, tol float64) (out []stretch) {
		slices.SortFunc(list, func(a, b stretch) int { return cmp.Compare(a.from, b.from) })
		for _, s := range list {
			if n := len(out); n > 0 && s.from <= out[n-1].to+tol {
				out[n-1].to = math.Max(out[n-1].to, s.to)
			} else {
				out = append(out, s)
			}
		}
		return out
	}
	for _, k := range order {
		tol := 1e-8
		if k.round {
			tol = 1e-7
		}
		parts := union(runs[k].parts, tol)
		if n := len(parts); k.round && n > 1 && parts[n-1].to >= 2*math.Pi+parts[0].from-tol {
			parts[n-1].to = math.Max(parts[n-1].to, parts[0].to+2*math.Pi)
			parts = parts[1:]
		}
		for _, c := range union(covered[k], tol) {
			var left []stretch
			for _, p := range parts {
				if c.to <= p.from || c.from >= p.to {
					left = append(left, p)
					continue
				}
				if c.from > p.from+tol {
					left = append(left, stretch{p.from, c.from})
				}
				if c.to < p.to-tol {
					left = append(left, stretch{c.to, p.to})
				}
			}
			parts = left
		}
		for _, p := range parts {
			out = append(out, runs[k].of.stretched(p.from, p.to))
		}
	}
	return out
}

// stretched is the stroke's line or circle between two places on its track.
func (s *stroke) stretched(from, to float64) *stroke {
	p := *s
	if s.round {
		p.from, p.sweep = from, math.Min(to-from, 2*math.Pi)
		p.a, p.b = polar(s.c, s.r, from), polar(s.c, s.r, to)
		return &p
	}
	d := r2.Unit(r2.Sub(s.b, s.a))
	if d.X < -1e-7 || math.Abs(d.X) <= 1e-7 && d.Y < 0 {
		d = r2.Scale(-1, d)
	}
	at := r2.Dot(s.a, d)
	p.a, p.b = r2.Add(s.a, r2.Scale(from-at, d)), r2.Add(s.a, r2.Scale(to-at, d))
	return &p
}
