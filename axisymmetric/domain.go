package axisymmetric

import (
	"fmt"
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"

	"polewright/plan"
	"polewright/shape"
)

// domain is a problem about the middle of its extent along the axis, with its nested meshes of the half disc (with a symmetry, of the
// quarter) of the given radius.
type domain struct {
	*Problem
	mid         float64 // of the assembly along the axis, from the problem's own origin
	parity      Parity
	partner     []int   // with a symmetry: the mirror image of each body
	coilPartner []int   // and of each coil
	bound       float64 // radius of the sphere that holds all bodies and coils
	radius      float64 // of the domain
	meshes      []*mesh
	down        []*plan.Prolongation
}

// mesh is one of the nested meshes.
type mesh struct {
	*plan.Mesh
	body    []int32 // of each triangle: -1 for air, outer beyond the domain
	winding []int32 // of each triangle: the coil whose winding holds it, -1 for none
}

const outer = -2

// domainFactor is the radius of the domain over that of the assembly.
const domainFactor = 2

func newDomain(p *Problem) (*domain, error) {
	if err := p.check(); err != nil {
		return nil, err
	}
	lo, hi := math.Inf(1), math.Inf(-1)
	for i := range p.Bodies {
		a, b := bounds(p.Bodies[i].Section)
		lo, hi = math.Min(lo, a.Y), math.Max(hi, b.Y)
	}
	for _, c := range p.Coils {
		lo, hi = math.Min(lo, c.Low), math.Max(hi, c.High)
	}
	mid := (lo + hi) / 2
	if math.Abs(mid) < 1e-9*(hi-lo) {
		mid = 0
	}
	d := &domain{Problem: p.shifted(mid), mid: mid}
	for i := range d.Bodies {
		a, b := bounds(d.Bodies[i].Section)
		d.bound = math.Max(d.bound, math.Hypot(b.X, math.Max(math.Abs(a.Y), math.Abs(b.Y))))
	}
	for _, c := range d.Coils {
		d.bound = math.Max(d.bound, math.Hypot(c.Outer, math.Max(math.Abs(c.Low), math.Abs(c.High))))
	}
	d.radius = domainFactor * d.bound
	d.parity, d.partner, d.coilPartner = mirror(d.Bodies, d.Coils, 1e-7*d.bound)
	return d, d.lay()
}

// shifted is the problem with its origin moved along the axis.
func (p *Problem) shifted(by float64) *Problem {
	q := *p
	q.Origin = r3.Add(p.Origin, p.world(0, 0, by))
	q.Bodies = slices.Clone(p.Bodies)
	for i := range q.Bodies {
		b := &q.Bodies[i]
		b.Section = slices.Clone(b.Section)
		for k := range b.Section {
			e := &b.Section[k]
			e.A.Y -= by
			e.B.Y -= by
			e.Center.Y -= by
		}
		b.Medium.Films = slices.Clone(b.Medium.Films)
		for k := range b.Medium.Films {
			b.Medium.Films[k].Min[1] -= by
			b.Medium.Films[k].Max[1] -= by
		}
	}
	q.Coils = slices.Clone(p.Coils)
	for i := range q.Coils {
		q.Coils[i].Low -= by
		q.Coils[i].High -= by
	}
	q.Planes = slices.Clone(p.Planes)
	for i := range q.Planes {
		q.Planes[i] -= by
	}
	return &q
}

// bounds of a loop; an arc of at most a quarter bulges no further than its circle.
func bounds(loop shape.Loop) (lo, hi r2.Vec) {
	lo, hi = r2.Vec{X: math.Inf(1), Y: math.Inf(1)}, r2.Vec{X: math.Inf(-1), Y: math.Inf(-1)}
	for _, e := range loop {
		for k := range 9 { // the quarters of a circle end on its diameters: points along an arc are enough
			p := e.At(float64(k) / 8)
			lo = r2.Vec{X: math.Min(lo.X, p.X), Y: math.Min(lo.Y, p.Y)}
			hi = r2.Vec{X: math.Max(hi.X, p.X), Y: math.Max(hi.Y, p.Y)}
		}
	}
	return lo, hi
}

// lay makes the meshes.
func (d *domain) lay() error {
	side := 1.2 * d.radius
	lo, hi := r2.Vec{Y: -side}, r2.Vec{X: side, Y: side}
	if d.parity != None {
		lo.Y = 0
	}
	z := newSizes(d)
	m, err := plan.Generate(lo, hi, d.curves(), z.at)
	if err != nil {
		return fmt.Errorf("the section along the axis could not be meshed: %w", err)
	}
	base := &mesh{Mesh: m}
	if err := base.assign(d); err != nil {
		return err
	}
	d.meshes = []*mesh{base}
	for range max(d.Levels, 2) - 1 {
		coarse := d.meshes[len(d.meshes)-1]
		m, down := coarse.Refine()
		fine := &mesh{Mesh: m, body: make([]int32, len(m.Triangles)), winding: make([]int32, len(m.Triangles))}
		for t := range m.Triangles { // triangles 4t to 4t+3 lie in triangle t
			fine.body[t], fine.winding[t] = coarse.body[t/4], coarse.winding[t/4]
		}
		d.meshes, d.down = append(d.meshes, fine), append(d.down, down)
	}
	return nil
}

// curves are the lines that the mesh follows.
func (d *domain) curves() (curves []shape.Edge) {
	line := func(r0, z0, r1, z1 float64) {
		curves = append(curves, shape.Edge{A: r2.Vec{X: r0, Y: z0}, B: r2.Vec{X: r1, Y: z1}})
	}
	for i := range d.Bodies {
		curves = append(curves, d.Bodies[i].Section...)
		for _, f := range d.Bodies[i].Medium.Films {
			line(f.Min[0], f.Min[1], f.Max[0], f.Min[1])
			line(f.Min[0], f.Max[1], f.Max[0], f.Max[1])
			for k := range 2 {
				line([2]float64{f.Min[0], f.Max[0]}[k], f.Min[1], [2]float64{f.Min[0], f.Max[0]}[k], f.Max[1])
			}
		}
	}
	for _, c := range d.Coils {
		line(0, c.Low, c.Outer, c.Low)
		line(0, c.High, c.Outer, c.High)
		line(c.Outer, c.Low, c.Outer, c.High)
		if c.Inner > 0 {
			line(c.Inner, c.Low, c.Inner, c.High)
		}
	}
	for _, at := range d.Planes {
		if d.parity != None {
			at = math.Abs(at)
		}
		if math.Abs(at) < d.radius*(1-1e-6) {
			line(0, at, 1.2*d.radius, at)
		}
	}
	quarter := func(a, b r2.Vec) {
		curves = append(curves, shape.Edge{A: a, B: b, Radius: d.radius, CCW: true})
	}
	quarter(r2.Vec{X: d.radius}, r2.Vec{Y: d.radius})
	if d.parity == None {
		quarter(r2.Vec{Y: -d.radius}, r2.Vec{X: d.radius})
	}
	return curves
}

// assign finds what holds each triangle of the coarsest mesh.
func (m *mesh) assign(d *domain) error {
	n := len(m.Triangles)
	m.body, m.winding = make([]int32, n), make([]int32, n)
	for t, tri := range m.Triangles {
		a, b, c := m.Nodes[tri[0]], m.Nodes[tri[1]], m.Nodes[tri[2]]
		p := r2.Scale(1.0/3, r2.Add(a, r2.Add(b, c)))
		m.body[t], m.winding[t] = -1, -1
		if r2.Norm(p) > d.radius {
			m.body[t] = outer
			continue
		}
		for i := range d.Bodies {
			b := &d.Bodies[i]
			if !inside(b.Section, p) {
				continue
			}
			if m.body[t] >= 0 {
				return fmt.Errorf("the parts %q and %q overlap", d.Bodies[m.body[t]].Name, b.Name)
			}
			m.body[t] = int32(i)
		}
		for i := range d.Coils {
			c := &d.Coils[i]
			if !c.winds(p.X, p.Y) {
				continue
			}
			if m.body[t] >= 0 {
				return fmt.Errorf("the coil %q and the part %q overlap", c.Name, d.Bodies[m.body[t]].Name)
			}
			if m.winding[t] >= 0 {
				return fmt.Errorf("the coils %q and %q overlap", d.Coils[m.winding[t]].Name, c.Name)
			}
			m.winding[t] = int32(i)
		}
	}
	return nil
}

// sizes is the wanted edge length: small at corners of bodies, where the field is singular, and where it matters, a part of the thickness at
// faces, growing with the distance from all of them. A corner costs few triangles in two dimensions, so they start far smaller there than
// those of package grid.
type sizes struct {
	features []feature
	density  float64
	far      float64
}

type feature struct {
	from, to r2.Vec // a point or a line
	size     float64
	radius   float64 // the size holds within this distance
}

const (
	cornerFraction = 0.01 // cell length at a corner over the shortest length next to it
	faceFraction   = 0.5  // along a face over the thickness behind it
	coilFraction   = 0.25 // at a corner of a winding, where only the gradient of the field is singular
	arcFraction    = 0.25 // along an arc over its radius
	focusFraction  = 0.25 // at the focus over the distance to the nearest body
	growth         = 0.5  // of the cell length with distance
	farFraction    = 0.15 // largest cell over the radius of the domain
)

func newSizes(d *domain) *sizes {
	z := &sizes{density: d.Density, far: farFraction * d.radius}
	if z.density <= 0 {
		z.density = 1
	}
	add := func(from, to r2.Vec, size, radius float64) {
		if d.parity != None && from.Y*to.Y < 0 { // the part of the line on the domain's side; the other one is its image's
			mid := r2.Add(from, r2.Scale(from.Y/(from.Y-to.Y), r2.Sub(to, from)))
			if from.Y < 0 {
				from = mid
			} else {
				to = mid
			}
		}
		z.features = append(z.features, feature{d.folded(from), d.folded(to), size, radius})
	}
	point := func(at r2.Vec, size float64) { add(at, at, size, 0) }
	for i := range d.Bodies {
		s := d.Bodies[i].Section
		lo, hi := bounds(s)
		thin := math.Min(hi.X-lo.X, hi.Y-lo.Y)
		for _, e := range s {
			thin = math.Min(thin, e.Length())
		}
		for k, e := range s {
			switch {
			case e.Radius > 0:
				for i := range 9 {
					point(e.At(float64(i)/8), math.Min(faceFraction*thin, arcFraction*e.Radius))
				}
			case e.A.X > 0 || e.B.X > 0:
				add(e.A, e.B, faceFraction*thin, 0)
			}
			if before := s[(k+len(s)-1)%len(s)]; e.A.X > 0 && !smooth(before, e) {
				point(e.A, cornerFraction*thin)
			}
		}
	}
	for _, c := range d.Coils {
		size := coilFraction * math.Min(c.Outer-c.Inner, c.High-c.Low)
		for _, z := range [2]float64{c.Low, c.High} {
			add(r2.Vec{X: c.Inner, Y: z}, r2.Vec{X: c.Outer, Y: z}, size, 0)
		}
		for _, r := range [2]float64{c.Inner, c.Outer} {
			add(r2.Vec{X: r, Y: c.Low}, r2.Vec{X: r, Y: c.High}, size, 0)
		}
	}
	r, at, _, _ := d.meridian(d.Focus)
	focus := r2.Vec{X: r, Y: at}
	clear := d.bound
	for i := range d.Bodies {
		for _, e := range d.Bodies[i].Section {
			if e.A.X > 0 || e.B.X > 0 {
				clear = math.Min(clear, segmentDistance(focus, e.A, e.B))
			}
		}
	}
	add(focus, focus, focusFraction*math.Max(clear, 0.02*d.bound), d.Radius)
	return z
}

// folded carries a point into the domain.
func (d *domain) folded(p r2.Vec) r2.Vec {
	if d.parity != None {
		p.Y = math.Abs(p.Y)
	}
	return p
}

// smooth tells whether an edge goes on as the one before it ends.
func smooth(before, after shape.Edge) bool {
	u := r2.Unit(r2.Sub(before.B, before.At(0.999)))
	v := r2.Unit(r2.Sub(after.At(0.001), after.A))
	return r2.Dot(u, v) > 0.99
}

func segmentDistance(p, a, b r2.Vec) float64 {
	ab, ap := r2.Sub(b, a), r2.Sub(p, a)
	if ab == (r2.Vec{}) {
		return r2.Norm(ap)
	}
	t := r2.Dot(ap, ab) / r2.Norm2(ab)
	return r2.Norm(r2.Sub(ap, r2.Scale(math.Min(math.Max(t, 0), 1), ab)))
}

// at is the wanted edge length at a point.
func (z *sizes) at(p r2.Vec) float64 {
	h := z.far
	for _, f := range z.features {
		h = math.Min(h, f.size+growth*math.Max(0, segmentDistance(p, f.from, f.to)-f.radius))
	}
	return h / z.density
}
