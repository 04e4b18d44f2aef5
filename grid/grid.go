// Package grid lays a plan mesh times layers over an assembly, fitted to every body that is an extrusion along one axis.
//
// The grid has its own right-handed frame (u, v, w): w is the axis of extrusion, u and v the next two axes cyclically (x: y, z; y: z, x;
// z: x, y). These are the world's axes, or axes turned from them as a whole, in which more of the bodies are extrusions.
package grid

import (
	"errors"
	"fmt"
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"

	"polewright/plan"
	"polewright/shape"
)

// Body is one body of the assembly.
type Body struct {
	Name         string
	Solid        shape.Solid
	Place        shape.Placement
	Material     int    // bodies of the same material have the same number: symmetry asks for it
	Polarization r3.Vec // T, world frame; zero for soft bodies
	MustFit      bool   // the body has to be an extrusion along the axis; others are left out of the grid when they are not, soft ones last
}

// Parity is the mirror symmetry of the assembly about a plane across one axis through Grids.Center.
type Parity int8

const (
	None Parity = iota
	// Even: the potential is the same on both sides and no flux crosses the plane.
	Even
	// Odd: the potential changes sign, the plane is an equipotential that the field crosses at right angles.
	Odd
)

// Grid is one plan mesh times layers.
type Grid struct {
	Plan  *plan.Mesh
	Faces []float64 // of the layers along w, ascending, relative to the centre, m
	Cell  []int32   // body of cell (triangle t, layer l) at t*layers+l, -1 for air
}

// Layers is how many layers the grid has.
func (g *Grid) Layers() int { return len(g.Faces) - 1 }

// Unknowns is how many nodes the grid has.
func (g *Grid) Unknowns() int { return len(g.Plan.Nodes) * (2*g.Layers() + 1) }

// Grids is a sequence of nested grids: each next one splits a triangle in four and a layer in two.
type Grids struct {
	Turn     shape.Rotation // of the axes that Axis, Symmetry and Partner number: from them to the world's
	Axis     int
	Center   r3.Vec // world position of the grid frame's origin
	Symmetry [3]Parity
	Partner  [3][]int   // with a symmetry across an axis: the mirror image of each body
	Min, Max [3]float64 // of the domain, grid frame
	Bodies   []Body     // that it was laid over
	Fits     []bool     // which bodies the grid follows
	Warps    Warps      // what the plan is stretched by to follow round pole tips
	Grid     []*Grid
	Down     []*plan.Prolongation // from the plan of Grid[i] to that of Grid[i+1]
	Poles    bool                 // whether steel stands next to a focus
	Scale    float64              // half the largest dimension of the assembly, m

	sizes *sizes
}

// Spec says what to lay a grid over and how finely.
type Spec struct {
	Bodies  []Body
	Focus   []r3.Vec       // points at which the field matters, world frame
	Radius  float64        // of the region about each of them, m
	Marks   []Body         // bodies whose faces the grid follows without any cell of its own: zones within other bodies
	Planes  [3][]float64   // world planes across x, y, z that the grid must contain
	Levels  int            // how many grids, at least 2
	Density float64        // cells a length of the coarsest grid, 1 is usual
	Still   bool           // follow no round pole tip: the plan is not to be stretched
	Whole   [3]bool        // world axes across which no symmetry is taken, though there may be one
	Turn    shape.Rotation // of the grid's axes, from them to the world's; the zero value is none. Planes and Whole are then those of the turned axes.
}

// turned is the spec as it is seen from its turned axes.
func (s Spec) turned() Spec {
	if s.Turn == (shape.Rotation{}) {
		s.Turn = shape.Identity()
	}
	if s.Turn == shape.Identity() {
		return s
	}
	s.Bodies, s.Marks = Turned(s.Bodies, s.Turn), Turned(s.Marks, s.Turn)
	focus := make([]r3.Vec, len(s.Focus))
	for i, p := range s.Focus {
		focus[i] = s.Turn.Inverse(p)
	}
	s.Focus = focus
	return s
}

// Turned are bodies as they are seen from axes turned from the world's.
func Turned(bodies []Body, turn shape.Rotation) []Body {
	out := slices.Clone(bodies)
	for i := range out {
		b := &out[i]
		b.Place = shape.Placement{Center: turn.Inverse(b.Place.Center), Rot: turn.Transposed().Mul(b.Place.Rot)}
		b.Polarization = turn.Inverse(b.Polarization)
	}
	return out
}

// Frame converts a world vector into the grid's frame.
func (g *Grids) Frame(v r3.Vec) [3]float64 { return Frame(g.Axis, g.Turn.Inverse(v)) }

// World converts a vector of the grid's frame into the world's.
func (g *Grids) World(v [3]float64) r3.Vec { return g.Turn.Apply(World(g.Axis, v)) }

// Unit is the direction of an axis of the grid's frame in the world.
func (g *Grids) Unit(k int) r3.Vec {
	var v [3]float64
	v[k] = 1
	return g.World(v)
}

// Askew tells whether the grid's axes are not the world's.
func (g *Grids) Askew() bool { return g.Turn != shape.Identity() }

// Mirrored tells whether a plane across a world axis through the centre is one of symmetry.
func (g *Grids) Mirrored(axis int) bool { return !g.Askew() && g.Symmetry[axis] != None }

// ErrTooMuch is wrapped by the error for an assembly that no machine would solve.
var ErrTooMuch = errors.New("the assembly has too much detail")

// mostNodes bounds the finest grid: some 40 GB.
const mostNodes = 1e8

// ErrUnfit is wrapped by the error for bodies that no axis of extrusion serves.
var ErrUnfit = errors.New("does not fit the plan")

// Frame converts a vector into the frame of an axis of extrusion.
func Frame(axis int, v r3.Vec) [3]float64 {
	c := [3]float64{v.X, v.Y, v.Z}
	return [3]float64{c[(axis+1)%3], c[(axis+2)%3], c[axis]}
}

// World converts one back.
func World(axis int, v [3]float64) r3.Vec {
	var c [3]float64
	c[(axis+1)%3], c[(axis+2)%3], c[axis] = v[0], v[1], v[2]
	return r3.Vec{X: c[0], Y: c[1], Z: c[2]}
}

// Turn finds the axes from which the least of the soft bodies is askew, and of those that do not differ in that the ones from which the least of the
// magnets is: the world's where they serve as well as any, else those of one of the bodies.
func Turn(bodies []Body) shape.Rotation {
	best := shape.Identity()
	least := leastAskew(bodies)
	tried := map[shape.Rotation]bool{best: true}
	for i := range bodies {
		rot := bodies[i].Place.Rot
		if least == (askew{}) || tried[rot] {
			continue
		}
		tried[rot] = true
		if a := leastAskew(Turned(bodies, rot)); a.less(least) {
			best, least = rot, a
		}
	}
	return best
}

// askew is the volume of the bodies that are no extrusions along an axis.
type askew struct{ soft, magnets float64 }

// less tells whether it is less of the soft bodies, or the same of these and less of the magnets.
func (a askew) less(b askew) bool {
	if a.soft < b.soft*(1-1e-9) || b.soft < a.soft*(1-1e-9) {
		return a.soft < b.soft
	}
	return a.magnets < b.magnets*(1-1e-9)
}

// leastAskew is that along the axis that serves the bodies best.
func leastAskew(bodies []Body) askew {
	least := askew{math.Inf(1), math.Inf(1)}
	for axis := range 3 {
		if _, a, unfit := fit(bodies, axis); unfit == "" && a.less(least) {
			least = a
		}
	}
	return least
}

// fit counts the bodies that are extrusions along an axis, gives what of the others there is, and names one that must be one and is not.
func fit(bodies []Body, axis int) (count int, others askew, unfit string) {
	for i := range bodies {
		b := &bodies[i]
		switch {
		case fits(b, axis):
			count++
		case b.MustFit:
			if unfit == "" {
				unfit = b.Name
			}
		case b.Polarization == (r3.Vec{}):
			others.soft += b.Solid.Volume()
		default:
			others.magnets += b.Solid.Volume()
		}
	}
	return count, others, unfit
}

// Axis finds the axis of extrusion: all bodies that must fit are extrusions along it, as little as possible of the soft ones is not, as many
// others as possible are, and as few slivers as possible are between the outlines of those that lie behind one another. A round pole tip counts as
// fitting along its own axis.
func Axis(bodies []Body) (int, error) {
	best, most, fewest := -1, -1, 0
	least := math.Inf(1)
	var firstUnfit [3]string
	for axis := range 3 {
		count, others, unfit := fit(bodies, axis)
		soft := others.soft
		if firstUnfit[axis] = unfit; unfit != "" || soft > least*(1+1e-9) {
			continue
		}
		if n := slivers(bodies, axis); soft < least*(1-1e-9) || count > most || count == most && n < fewest {
			best, most, least, fewest = axis, count, soft, n
		}
	}
	if best < 0 {
		return 0, fmt.Errorf("no one axis has all that must fit extruded along it (along x %q %w, along y %q, along z %q)", firstUnfit[0], ErrUnfit, firstUnfit[1], firstUnfit[2])
	}
	return best, nil
}

// slivers counts the pairs of bodies, one behind the other along an axis, of which the plan has edges close beside each other: it has to be fine
// all along them.
func slivers(bodies []Body, axis int) (count int) {
	const (
		slack = 1e-9 // m
		near  = 0.05 // of the shorter edge across
	)
	lo, hi := make([][3]float64, len(bodies)), make([][3]float64, len(bodies))
	for i := range bodies {
		b := shape.Bounds(bodies[i].Solid, bodies[i].Place)
		lo[i], hi[i] = Frame(axis, b.Min), Frame(axis, b.Max)
	}
	for i := range bodies {
		for j := range i {
			behind, beside := true, false
			for k := range 2 {
				behind = behind && lo[i][k] < hi[j][k]-slack && lo[j][k] < hi[i][k]-slack
				narrow := near * math.Min(hi[i][k]-lo[i][k], hi[j][k]-lo[j][k])
				for _, d := range []float64{lo[i][k] - lo[j][k], hi[i][k] - hi[j][k]} {
					beside = beside || math.Abs(d) > slack && math.Abs(d) < narrow
				}
			}
			if behind && beside {
				count++
			}
		}
	}
	return count
}

func fits(b *Body, axis int) bool {
	if _, ok := b.Solid.(shape.Frustum); ok {
		return math.Abs(b.Place.Rot[axis][2]) > 1-1e-12
	}
	_, _, _, ok := shape.Outline(b.Solid, b.Place, axis)
	return ok
}

// placed is a body that the grid follows.
type placed struct {
	index  int
	loops  []shape.Loop
	lo, hi float64
	body   *Body
}

// Build lays the grids. Bodies that need not fit and do not are left out (Fits tells which).
func Build(s Spec) (*Grids, error) {
	given := s.Bodies
	s = s.turned()
	g, bodies, err := begin(s)
	if err != nil {
		return nil, err
	}
	z := newSizes(s, g, bodies)
	g.sizes = z
	mesh, err := plan.Generate(r2.Vec{X: g.Min[0], Y: g.Min[1]}, r2.Vec{X: g.Max[0], Y: g.Max[1]}, z.curves, z.at)
	if err != nil {
		return nil, fmt.Errorf("the plan along %s could not be meshed: %w", string("xyz"[g.Axis]), err)
	}
	base := &Grid{Plan: mesh, Faces: z.layers(g)}
	if err := base.assign(bodies); err != nil {
		return nil, err
	}
	for nodes, layers, level := 2*len(mesh.Triangles), base.Layers(), 1; level < max(s.Levels, 2); level++ {
		if nodes, layers = 4*nodes, 2*layers; float64(nodes)*float64(2*layers+1) > mostNodes {
			return nil, fmt.Errorf("%w: its edges lie at so many places that %d triangles and %d layers only begin to follow them; line up parts, or leave small ones out",
				ErrTooMuch, len(mesh.Triangles), base.Layers())
		}
	}
	g.Grid = []*Grid{base}
	for range max(s.Levels, 2) - 1 {
		coarse := g.Grid[len(g.Grid)-1]
		m, p := coarse.Plan.Refine()
		fine := &Grid{Plan: m, Faces: split(coarse.Faces)}
		fine.Cell = make([]int32, len(m.Triangles)*fine.Layers())
		nl := coarse.Layers()
		for t := range m.Triangles {
			parent := t / 4 // of the coarse mesh, as Refine numbers them
			for l := range fine.Layers() {
				fine.Cell[t*fine.Layers()+l] = coarse.Cell[parent*nl+l/2]
			}
		}
		g.Grid = append(g.Grid, fine)
		g.Down = append(g.Down, p)
	}
	g.inWorld(given)
	return g, nil
}

// inWorld gives bodies and centre their places in the world, once all is laid.
func (g *Grids) inWorld(bodies []Body) {
	g.Bodies, g.Center = slices.Clone(bodies), g.Turn.Apply(g.Center)
}

// SymmetryOf is the symmetry that the grids of a spec have, across the axes that they have. Errors are those of Build.
func SymmetryOf(s Spec) ([3]Parity, error) {
	g, _, err := begin(s.turned())
	if err != nil {
		return [3]Parity{}, err
	}
	return g.Symmetry, nil
}

// begin finds frame, symmetry and domain of the grids, and the bodies that they follow, all as seen from the axes of the spec.
func begin(s Spec) (*Grids, []placed, error) {
	if len(s.Bodies) == 0 {
		return nil, nil, errors.New("grid: there is nothing to lay a grid over")
	}
	axis, err := Axis(s.Bodies)
	if err != nil {
		return nil, nil, err
	}
	g := &Grids{Turn: s.Turn, Axis: axis, Fits: make([]bool, len(s.Bodies))}
	box := shape.Bounds(s.Bodies[0].Solid, s.Bodies[0].Place)
	for _, b := range s.Bodies[1:] {
		box = box.Union(shape.Bounds(b.Solid, b.Place))
	}
	g.Center = r3.Scale(0.5, r3.Add(box.Min, box.Max))
	half := r3.Scale(0.5, r3.Sub(box.Max, box.Min))
	g.Scale = math.Max(half.X, math.Max(half.Y, half.Z))
	clean(&g.Center, g.Scale)
	g.Symmetry, g.Partner = symmetry(append(slices.Clone(s.Bodies), s.Marks...), g.Center, g.Scale)
	for axis, whole := range s.Whole {
		if whole {
			g.Symmetry[axis], g.Partner[axis] = None, nil
		}
	}

	center := Frame(axis, g.Center)
	var bodies []placed
	for i := range s.Bodies {
		b := &s.Bodies[i]
		loops, lo, hi, ok := shape.Outline(b.Solid, b.Place, axis)
		if !ok {
			continue
		}
		g.Fits[i] = true
		bodies = append(bodies, placed{i, shifted(loops, center), lo - center[2], hi - center[2], b})
	}
	if !s.Still {
		followed := g.follow(s, bodies)
		for _, p := range followed {
			g.Fits[p.index] = true
		}
		bodies = append(bodies, followed...)
	}
	far := farFactor * g.Scale
	par := g.parity()
	for k := range 3 {
		g.Min[k], g.Max[k] = -far, far
		if par[k] != None {
			g.Min[k] = 0
		}
	}
	return g, bodies, nil
}

// farFactor is the half-width of the domain over that of the assembly. Beyond it the closure passes a dipole exactly; what it reflects is
// the next multipole, which has fallen by the fourth power of this number there.
const farFactor = 6

// parity gives the symmetry in the grid's frame.
func (g *Grids) parity() [3]Parity {
	return [3]Parity{g.Symmetry[(g.Axis+1)%3], g.Symmetry[(g.Axis+2)%3], g.Symmetry[g.Axis]}
}

// Parity gives the symmetry of the planes u = 0, v = 0, w = 0 of the grid's frame.
func (g *Grids) Parity() [3]Parity { return g.parity() }

// clean rounds a centre that is zero but for rounding.
func clean(v *r3.Vec, scale float64) {
	for _, c := range []*float64{&v.X, &v.Y, &v.Z} {
		if math.Abs(*c) < 1e-9*scale {
			*c = 0
		}
	}
}

func shifted(loops []shape.Loop, c [3]float64) []shape.Loop {
	out := make([]shape.Loop, len(loops))
	move := func(p r2.Vec) r2.Vec { return r2.Vec{X: p.X - c[0], Y: p.Y - c[1]} }
	for i, loop := range loops {
		for _, e := range loop {
			e.A, e.B = move(e.A), move(e.B)
			if e.Radius > 0 {
				e.Center = move(e.Center)
			}
			out[i] = append(out[i], e)
		}
	}
	return out
}

func split(faces []float64) []float64 {
	out := make([]float64, 0, 2*len(faces)-1)
	for i, f := range faces {
		if i > 0 {
			out = append(out, (faces[i-1]+f)/2)
		}
		out = append(out, f)
	}
	return out
}

// assign finds the body of each cell of the base grid.
func (g *Grid) assign(bodies []placed) error {
	nl := g.Layers()
	g.Cell = make([]int32, len(g.Plan.Triangles)*nl)
	for i := range g.Cell {
		g.Cell[i] = -1
	}
	for bi := range bodies {
		b := &bodies[bi]
		lo, _ := slices.BinarySearch(g.Faces, b.lo-1e-9)
		min, max := bounds(b.loops)
		for t, tri := range g.Plan.Triangles {
			p, q, r := g.Plan.Nodes[tri[0]], g.Plan.Nodes[tri[1]], g.Plan.Nodes[tri[2]]
			c := r2.Vec{X: (p.X + q.X + r.X) / 3, Y: (p.Y + q.Y + r.Y) / 3}
			if c.X < min.X || c.X > max.X || c.Y < min.Y || c.Y > max.Y || !inside(b.loops, c) {
				continue
			}
			for l := lo; l < nl && g.Faces[l+1] <= b.hi+1e-9; l++ {
				cell := &g.Cell[t*nl+l]
				if *cell >= 0 {
					return fmt.Errorf("the parts %q and %q overlap", bodies[0].nameOf(bodies, *cell), b.body.Name)
				}
				*cell = int32(b.index)
			}
		}
	}
	return nil
}

func (*placed) nameOf(bodies []placed, index int32) string {
	for i := range bodies {
		if bodies[i].index == int(index) {
			return bodies[i].body.Name
		}
	}
	return "?"
}

func bounds(loops []shape.Loop) (lo, hi r2.Vec) {
	lo, hi = r2.Vec{X: math.Inf(1), Y: math.Inf(1)}, r2.Vec{X: math.Inf(-1), Y: math.Inf(-1)}
	grow := func(p r2.Vec) {
		lo.X, lo.Y = math.Min(lo.X, p.X), math.Min(lo.Y, p.Y)
		hi.X, hi.Y = math.Max(hi.X, p.X), math.Max(hi.Y, p.Y)
	}
	for _, loop := range loops {
		for _, e := range loop {
			grow(e.A)
			grow(e.B)
			if e.Radius > 0 { // an arc of at most a quarter bulges at most this far
				grow(r2.Vec{X: e.Center.X - e.Radius, Y: e.Center.Y - e.Radius})
				grow(r2.Vec{X: e.Center.X + e.Radius, Y: e.Center.Y + e.Radius})
			}
		}
	}
	return lo, hi
}

// inside tells whether p is within closed loops by the winding of the angle seen from p (arcs exactly, by their chord and the segment
// between chord and arc).
func inside(loops []shape.Loop, p r2.Vec) bool {
	var angle float64
	for _, loop := range loops {
		for _, e := range loop {
			a, b := r2.Sub(e.A, p), r2.Sub(e.B, p)
			angle += math.Atan2(r2.Cross(a, b), r2.Dot(a, b))
			if e.Radius == 0 {
				continue
			}
			// Between chord and arc the chord's side is wrong by one turn.
			inDisc := r2.Norm(r2.Sub(p, e.Center)) < e.Radius
			chord := r2.Sub(e.B, e.A)
			side := r2.Cross(chord, r2.Sub(p, e.A))
			beyond := side < 0 // right of the chord: the arc's side for a counter-clockwise arc
			if !e.CCW {
				beyond = side > 0
			}
			if inDisc && beyond {
				if e.CCW {
					angle += 2 * math.Pi
				} else {
					angle -= 2 * math.Pi
				}
			}
		}
	}
	return angle > math.Pi
}
