package plan

import (
	"cmp"
	"errors"
	"fmt"
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r2"
	"polewright/shape"
)

// Generate meshes the rectangle from min to max, fitted to every curve (straight or arc), clipped to the rectangle. Curves may
// coincide, overlap, cross, touch and leave the rectangle; points nearer than 1e-8 of the rectangle's longer side are one. size gives
// the wanted edge length near a point, in metres, over 0; +Inf where any length will do. Angles are at least 25 degrees save where
// curves meet at less, and in gaps between curves narrower than a thousandth of the rectangle and an eighth of the wanted length,
// which are filled with long triangles. The same input gives the same mesh bit for bit.
// The error says which curve or what about the curves or the size function keeps them from being meshed.
func Generate(min, max r2.Vec, curves []shape.Edge, size func(p r2.Vec) float64) (*Mesh, error) {
	ar, err := arrange(min, max, curves)
	if err != nil {
		return nil, err
	}
	s, err := subdivide(ar, size)
	if err != nil {
		return nil, err
	}
	// Curves that cross at random at many tiny angles and distances can ask for more triangles than they are worth:
	// then ask for less good angles.
	for _, degrees := range []float64{25.5, 18, 10, 0} {
		r, err := s.triangulate(size)
		if err != nil {
			return nil, err
		}
		angle := degrees * math.Pi / 180
		r.cosMin = math.Cos(angle)
		r.reach = 0.97 / math.Tan(angle/2)
		if degrees == 0 {
			r.cosMin, r.reach = 2, 2
		}
		err = r.refine()
		if errors.Is(err, errCostly) {
			continue
		}
		if err != nil {
			return nil, err
		}
		m := r.mesh(min, max)
		if err := m.check(r.extent); err != nil {
			return nil, err
		}
		return m, nil
	}
	return nil, errCostly
}

// subdivision is an arrangement whose pieces are cut to the wanted length, each cut represented by its chord. No vertex lies between
// a chord and its arc and no two chords cross, so that the chords lie to each other as the curves do.
type subdivision struct {
	*arrangement
	fixed  int // vertices of the arrangement, the first ones
	acute  []bool
	chords []chord
	home   []int32
}

type chord struct{ a, b, piece int32 }

func subdivide(ar *arrangement, size func(r2.Vec) float64) (*subdivision, error) {
	s := &subdivision{arrangement: ar, fixed: len(ar.vertices), acute: make([]bool, len(ar.vertices)), home: make([]int32, len(ar.vertices))}
	for i := range s.home {
		s.home[i] = -1
	}
	at := make([][]int32, len(ar.vertices))
	for i, p := range ar.pieces {
		at[p.a] = append(at[p.a], int32(i))
		at[p.b] = append(at[p.b], int32(i))
	}
	for v, pieces := range at {
		for i, p := range pieces {
			for _, q := range pieces[:i] {
				u, w := ar.pieces[p].away(ar.vertices, int32(v)), ar.pieces[q].away(ar.vertices, int32(v))
				if math.Atan2(abs(r2.Cross(u, w)), r2.Dot(u, w)) < sharp {
					s.acute[v] = true
				}
			}
		}
	}
	probe := &refiner{size: size}
	for i, p := range ar.pieces {
		a, b := ar.vertices[p.a], ar.vertices[p.b]
		cuts, err := cutsBySize(p.curve, a, b, probe.wanted)
		if err == nil {
			err = probe.sizeErr
		}
		if err != nil {
			return nil, err
		}
		last := p.a
		for _, t := range cuts {
			last = s.push(last, p.at(a, b, t), int32(i))
		}
		s.chords = append(s.chords, chord{last, p.b, int32(i)})
		if len(s.vertices) > mostPoints {
			return nil, errTooMany
		}
	}
	return s, s.separate()
}

// push adds a vertex inside a piece and the chord from last to it.
func (s *subdivision) push(last int32, p r2.Vec, piece int32) int32 {
	v := int32(len(s.vertices))
	s.vertices = append(s.vertices, p)
	s.home = append(s.home, piece)
	s.chords = append(s.chords, chord{last, v, piece})
	return v
}

// cutsBySize gives the fractions at which to cut a curve so that all parts hold the same integral of 1/size, about one.
func cutsBySize(c curve, a, b r2.Vec, size func(r2.Vec) float64) ([]float64, error) {
	length := c.length(a, b)
	least := 1
	if !c.straight() {
		least = int(math.Ceil(abs(c.angle(a, b))/widest - 1e-6))
	}
	at, sum := []float64{0}, []float64{0}
	wanted := size(a)
	for t := 0.0; t < 1; {
		if !(wanted > 0) {
			return nil, nil // reported by the caller
		}
		step := math.Min(math.Min(wanted/length/4, 1.0/16), 1-t)
		if len(at) > 4*mostPoints {
			return nil, errTooMany
		}
		t += step
		if 1-t < 1e-12 {
			t = 1
		}
		next := size(c.at(a, b, t))
		at = append(at, t)
		sum = append(sum, sum[len(sum)-1]+step*length*(1/wanted+1/next)/2)
		wanted = next
	}
	total := sum[len(sum)-1]
	// a fifth too long is better than two halves
	n := max(least, int(math.Ceil(total-0.2)))
	if n > mostPoints {
		return nil, errTooMany
	}
	cuts := make([]float64, 0, n-1)
	j := 1
	for i := 1; i < n; i++ {
		if !(total > 1e-6) {
			cuts = append(cuts, float64(i)/float64(n)) // any length will do
			continue
		}
		target := total * float64(i) / float64(n)
		for sum[j] < target && j < len(sum)-1 {
			j++
		}
		f := (target - sum[j-1]) / (sum[j] - sum[j-1])
		cuts = append(cuts, at[j-1]+f*(at[j]-at[j-1]))
	}
	return cuts, nil
}

// separate splits arcs until no chord crosses another or passes on the wrong side of a vertex.
func (s *subdivision) separate() error {
	for round := 0; ; round++ {
		split := make([]bool, len(s.chords))
		any := false
		boxes := make([]r2.Box, len(s.chords))
		for i, c := range s.chords {
			boxes[i] = s.pieces[c.piece].box(s.vertices[c.a], s.vertices[c.b])
			if p := s.pieces[c.piece]; !p.straight() && abs(p.angle(s.vertices[c.a], s.vertices[c.b])) > widest {
				split[i], any = true, true
			}
		}
		bends := func(i int) bool { return !s.pieces[s.chords[i].piece].straight() }
		overlapping(boxes, func(i, j int) {
			if !bends(i) && !bends(j) {
				return
			}
			c, d := s.chords[i], s.chords[j]
			// Only the arc whose chord is too coarse is split: halving both arcs of circles that touch would leave them as they lie.
			if s.within(c, d.a) || s.within(c, d.b) {
				split[i], any = true, true
			}
			if s.within(d, c.a) || s.within(d, c.b) {
				split[j], any = true, true
			}
			same := c.a == d.a && c.b == d.b || c.a == d.b && c.b == d.a
			if !split[i] && !split[j] && (same || s.cross(c, d)) {
				k := i
				if s.sagitta(j) > s.sagitta(i) {
					k = j
				}
				split[k], any = true, true
			}
		})
		if !any {
			return nil
		}
		if round == 40 || len(s.vertices) > mostPoints {
			return errTangled
		}
		old := s.chords
		s.chords = nil
		r := refiner{triangulation: &triangulation{}, pieces: s.pieces, acute: s.acute, fixed: s.fixed}
		for i, c := range old {
			if !split[i] {
				s.chords = append(s.chords, c)
				continue
			}
			r.points = s.vertices
			m := s.push(c.a, r.cutting(c.a, c.b, c.piece+1), c.piece)
			s.chords = append(s.chords, chord{m, c.b, c.piece})
		}
	}
}

func (s *subdivision) sagitta(i int) float64 {
	c := s.chords[i]
	return s.pieces[c.piece].sagitta(s.vertices[c.a], s.vertices[c.b])
}

// within reports whether vertex v lies between a chord and its arc, or so near before the chord that the triangle between them would be flat.
func (s *subdivision) within(c chord, v int32) bool {
	p := s.pieces[c.piece]
	if p.straight() || v == c.a || v == c.b {
		return false
	}
	a, b, x := s.vertices[c.a], s.vertices[c.b], s.vertices[v]
	if t := p.along(a, b, x); t < 0 || t > 1 {
		return false
	}
	// how far v lies beyond the chord, towards the arc
	d := r2.Sub(b, a)
	beyond := r2.Cross(r2.Sub(x, a), d) / r2.Norm(d)
	if p.angle(a, b) < 0 {
		beyond = -beyond
	}
	return beyond >= -0.1*p.sagitta(a, b) && r2.Norm(r2.Sub(x, p.center)) <= p.radius
}

// cross reports whether two chords have a point in common that is not a common end.
func (s *subdivision) cross(c, d chord) bool {
	a, b, p, q := s.vertices[c.a], s.vertices[c.b], s.vertices[d.a], s.vertices[d.b]
	if c.a == d.a || c.a == d.b || c.b == d.a || c.b == d.b {
		return false
	}
	return orient(a, b, p)*orient(a, b, q) <= 0 && orient(p, q, a)*orient(p, q, b) <= 0
}

// triangulate makes the constrained Delaunay triangulation of the chords.
func (s *subdivision) triangulate(size func(r2.Vec) float64) (*refiner, error) {
	v := s.vertices
	extent := math.Max(s.max.X-s.min.X, s.max.Y-s.min.Y)
	r := &refiner{
		triangulation: newTriangulation([4]r2.Vec{v[0], v[1], v[2], v[3]}),
		pieces:        s.pieces,
		acute:         s.acute,
		home:          append([]int32(nil), s.home...),
		fixed:         s.fixed,
		size:          size,
		extent:        extent,
		tol:           s.tol,
		floor:         100 * s.tol,
	}
	for i := 4; i < len(v); i++ {
		t, side, vertex, ok := r.find(v[i])
		if !ok || vertex >= 0 {
			return nil, errTangled
		}
		r.insert(v[i], t, side)
	}
	for _, c := range s.chords {
		if err := r.constrain(c.a, c.b, c.piece+1); err != nil {
			return nil, err
		}
	}
	r.touched = r.touched[:0]
	for t := range r.triangles {
		r.touched = append(r.touched, int32(t))
	}
	return r, nil
}

// mesh numbers the triangulation by locality and puts in the mid nodes.
func (r *refiner) mesh(min, max r2.Vec) *Mesh {
	extent := r.extent
	key := func(t int32) uint64 {
		v := r.triangles[t].v
		a, b, c := r.points[v[0]], r.points[v[1]], r.points[v[2]]
		return hilbert(((a.X+b.X+c.X)/3-min.X)/extent, ((a.Y+b.Y+c.Y)/3-min.Y)/extent)
	}
	order := make([]int32, len(r.triangles))
	keys := make([]uint64, len(r.triangles))
	for t := range order {
		order[t], keys[t] = int32(t), key(int32(t))
	}
	slices.SortFunc(order, func(s, t int32) int { return cmp.Or(cmp.Compare(keys[s], keys[t]), cmp.Compare(s, t)) })

	m := &Mesh{Vertices: len(r.points), min: min, max: max, Triangles: make([][6]int32, len(order))}
	m.Nodes = make([]r2.Vec, 0, 4*len(r.points))
	number := make([]int32, len(r.points)) // 1 + the new number
	for _, p := range r.pieces {
		m.curves = append(m.curves, p.curve)
	}
	went := make([]int32, len(order)) // where each triangle went
	for k, t := range order {
		went[t] = int32(k)
		for i, v := range r.triangles[t].v {
			if number[v] == 0 {
				m.Nodes = append(m.Nodes, r.points[v])
				number[v] = int32(len(m.Nodes))
			}
			m.Triangles[k][i] = number[v] - 1
		}
	}
	for k, t := range order {
		tri := &r.triangles[t]
		for e := range 3 {
			side := (e + 2) % 3 // the side v_e v_e+1 lies opposite
			if o := tri.next[side]; o >= 0 && went[o] < int32(k) {
				f := (r.corner(o, r.opposite(t, side)) + 1) % 3
				m.Triangles[k][3+e] = m.Triangles[went[o]][3+f]
				continue
			}
			on := tri.on[side]
			c := curve{}
			if on != 0 {
				c = m.curves[on-1]
			}
			m.Triangles[k][3+e] = int32(len(m.Nodes))
			m.Nodes = append(m.Nodes, c.middle(m.Nodes[m.Triangles[k][e]], m.Nodes[m.Triangles[k][(e+1)%3]]))
			m.on = append(m.on, on)
		}
	}
	m.unbend()
	return m
}

// thinnest times the rectangle's longer side is the least height of a triangle: some halvings of it still stand clear of rounding.
const thinnest = 1e-11

// check makes sure that the mesh and the one refined from it are sound.
func (m *Mesh) check(extent float64) error {
	at := m.fineVertices()
	for t, tri := range m.Triangles {
		x := m.corners(t)
		area := r2.Cross(r2.Sub(x[1], x[0]), r2.Sub(x[2], x[0]))
		long := math.Max(r2.Norm(r2.Sub(x[0], x[1])), math.Max(r2.Norm(r2.Sub(x[1], x[2])), r2.Norm(r2.Sub(x[2], x[0]))))
		sound := area > thinnest*extent*long && distortion(&x) >= leastDistortion
		for _, c := range children {
			a, b, d := at[tri[c[0]]], at[tri[c[1]]], at[tri[c[2]]]
			sound = sound && r2.Cross(r2.Sub(b, a), r2.Sub(d, a)) > 0.01*area
		}
		if !sound {
			return fmt.Errorf("%w (near %.6g, %.6g m)", errTangled, x[0].X, x[0].Y)
		}
	}
	return nil
}
