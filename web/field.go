package web

import (
	"context"
	"math"
	"runtime"
	"sync"
	"sync/atomic"

	"gonum.org/v1/gonum/spatial/r3"

	"polewright"
	"polewright/design"
	"polewright/result"
)

// This file answers what a solved field is at places that the page chooses.

// Mapping asks for the field on a plane across an axis.
type Mapping struct {
	Solving
	Plane Plane `json:"plane"`
	// Cells is into how many the longer side is cut, 8 to 128. The map comes again and again, each time twice as fine.
	Cells  int     `json:"cells"`
	Window *Window `json:"window,omitempty"` // all parts and some room round them when left out
}

// Window is a rectangle of a plane: along x and y on a plane across z, along x and z on one across y, along y and z on one across x.
type Window struct {
	Min [2]float64 `json:"min_m"`
	Max [2]float64 `json:"max_m"`
}

// wide is the longer side of a window that a map can have, 0 for one that it cannot.
func (w *Window) wide() float64 {
	long := 0.0
	for i := range 2 {
		side := w.Max[i] - w.Min[i]
		if !(side > 0 && math.Abs(w.Min[i]) <= design.MaxLengthM && math.Abs(w.Max[i]) <= design.MaxLengthM) {
			return 0
		}
		long = max(long, side)
	}
	if w.Max[0]-w.Min[0] < long/100 || w.Max[1]-w.Min[1] < long/100 {
		return 0
	}
	return long
}

// Map is a field on a lattice of points: (i, j) of Columns by Rows lies at corner + i·step along the axis Across + j·step along Up.
type Map struct {
	Plane   Plane      `json:"plane"`
	Across  int        `json:"across"`
	Up      int        `json:"up"`
	Corner  [2]float64 `json:"corner_m"`
	StepM   float64    `json:"step_m"`
	Columns int        `json:"columns"`
	Rows    int        `json:"rows"`
	// B holds Bx, By, Bz in T of each point, i running fastest.
	B    []float64 `json:"b_T"`
	Last bool      `json:"last"` // the finest
}

// mapMargin is how much wider than the parts a map is, of their longest side; a number by which no rows of points come to lie on faces of parts.
const mapMargin = 0.2618

func (q *Mapping) check() error {
	if q.Plane.Axis < 0 || q.Plane.Axis > 2 || !(math.Abs(q.Plane.AtM) <= design.MaxLengthM) || q.Cells < 8 || q.Cells > 128 {
		return bad("no such plane", "axis is 0, 1 or 2, at_m within 100 m, cells from 8 to 128")
	}
	if q.Window != nil && q.Window.wide() == 0 {
		return bad("no such window", "its max_m lies above its min_m, both within 100 m, and no side is under a hundredth of the other")
	}
	return nil
}

func (b *Bench) plane(ctx context.Context, q *Mapping, e *events) (*Map, error) {
	k, err := b.solved(ctx, q.Asked, q.Effort, e.share(0, 0.5))
	if err != nil {
		return nil, err
	}
	return lay(ctx, k.solved, k.design, q, e)
}

// lay samples the plane, first roughly.
func lay(ctx context.Context, s *polewright.Solved, d *design.Design, q *Mapping, e *events) (*Map, error) {
	m := &Map{Plane: q.Plane, Across: (q.Plane.Axis + 1) % 3, Up: (q.Plane.Axis + 2) % 3}
	if q.Plane.Axis == 1 { // z always points up
		m.Across, m.Up = 0, 2
	}
	window := q.Window
	if window == nil {
		box := boxOf(d)
		lo, hi := numbers(box.Min), numbers(box.Max)
		margin := 0.0
		for i := range 3 {
			margin = max(margin, mapMargin*(hi[i]-lo[i]))
		}
		window = &Window{[2]float64{lo[m.Across] - margin, lo[m.Up] - margin}, [2]float64{hi[m.Across] + margin, hi[m.Up] + margin}}
	}
	size := [2]float64{window.Max[0] - window.Min[0], window.Max[1] - window.Min[1]}
	stride := 1 // of the roughest lattice on the finest
	for q.Cells/stride > 20 {
		stride *= 2
	}
	m.StepM = max(size[0], size[1]) / float64(q.Cells)
	whole := func(x float64) int { return stride * int(math.Ceil(x/m.StepM/float64(stride)-1e-9)) }
	columns, rows := whole(size[0])+1, whole(size[1])+1
	m.Corner = [2]float64{(window.Min[0]+window.Max[0])/2 - m.StepM*float64(columns-1)/2, (window.Min[1]+window.Max[1])/2 - m.StepM*float64(rows-1)/2}
	at := func(i, j int) r3.Vec {
		var p [3]float64
		p[q.Plane.Axis] = q.Plane.AtM
		p[m.Across], p[m.Up] = m.Corner[0]+m.StepM*float64(i), m.Corner[1]+m.StepM*float64(j)
		return vector(p)
	}
	across, up := s.Mirror(m.Across, (window.Min[0]+window.Max[0])/2), s.Mirror(m.Up, (window.Min[1]+window.Max[1])/2)
	known := make([]*[3]float64, columns*rows)
	taken := 0
	for ; stride >= 1; stride /= 2 {
		var todo, images []int
		for j := 0; j < rows; j += stride {
			for i := 0; i < columns; i += stride {
				n := j*columns + i
				switch {
				case known[n] != nil:
				case across != 0 && i > columns-1-i || up != 0 && j > rows-1-j:
					images = append(images, n)
				default:
					todo = append(todo, n)
				}
			}
		}
		err := each(ctx, len(todo), func(n int) {
			i := todo[n]
			b, _ := s.Field(at(i%columns, i/columns))
			f := numbers(b)
			known[i] = &f
		}, func(done int) { e.progress("field", 0.5+0.5*float64(taken+done)/float64(len(known))) })
		if err != nil {
			return nil, err
		}
		for _, n := range images {
			i, j, f := n%columns, n/columns, [3]float64{1, 1, 1}
			if across != 0 && i > columns-1-i {
				i, f = columns-1-i, numbers(polewright.Mirrored(vector(f), m.Across, across))
			}
			if up != 0 && j > rows-1-j {
				j, f = rows-1-j, numbers(polewright.Mirrored(vector(f), m.Up, up))
			}
			for k, b := range known[j*columns+i] {
				f[k] *= b
			}
			known[n] = &f
		}
		taken += len(todo) + len(images)
		now := *m
		now.StepM *= float64(stride)
		now.Columns, now.Rows, now.Last = (columns-1)/stride+1, (rows-1)/stride+1, stride == 1
		for j := 0; j < rows; j += stride {
			for i := 0; i < columns; i += stride {
				b := known[j*columns+i]
				now.B = append(now.B, digits(b[0]), digits(b[1]), digits(b[2]))
			}
		}
		if now.Last {
			return &now, nil
		}
		if err := e.send("map", now); err != nil {
			return nil, err
		}
	}
	return m, nil
}

// digits leaves what a map can show, to a part in ten million.
func digits(x float64) float64 {
	if x == 0 || math.IsNaN(x) || math.IsInf(x, 0) {
		return 0
	}
	scale := math.Pow(10, 7-math.Floor(math.Log10(math.Abs(x))))
	return math.Round(x*scale) / scale
}

// each calls a function for 0 … n-1 on all cores until ctx ends.
func each(ctx context.Context, n int, call func(i int), done func(int)) error {
	var next, count atomic.Int64
	var all sync.WaitGroup
	for range min(n, runtime.GOMAXPROCS(0)) {
		all.Go(func() {
			for ctx.Err() == nil {
				i := int(next.Add(1)) - 1
				if i >= n {
					return
				}
				call(i)
				done(int(count.Add(1)))
			}
		})
	}
	all.Wait()
	return ctx.Err()
}

// Tracing asks for the field along a straight line.
type Tracing struct {
	Solving
	From   [3]float64 `json:"from_m"`
	To     [3]float64 `json:"to_m"`
	Points int        `json:"points"` // 2 to 500
}

// Trace is a field along a line.
type Trace struct {
	S []float64    `json:"s_m"` // from the first point
	B [][3]float64 `json:"b_T"`
	H [][3]float64 `json:"h_A_per_m"`
}

// ends are the two points of the line, and how far they lie apart.
func (q *Tracing) ends() (from, to r3.Vec, long float64) {
	from, to = vector(q.From), vector(q.To)
	return from, to, r3.Norm(r3.Sub(to, from))
}

func (q *Tracing) check() error {
	from, _, long := q.ends()
	if q.Points < 2 || q.Points > 500 || !(long > 0 && long <= 2*design.MaxLengthM) || !(r3.Norm(from) <= 2*design.MaxLengthM) {
		return bad("no such line", "give two points apart, within 100 m, and 2 to 500 points")
	}
	return nil
}

func (b *Bench) line(ctx context.Context, q *Tracing, e *events) (*Trace, error) {
	k, err := b.solved(ctx, q.Asked, q.Effort, e.share(0, 0.8))
	if err != nil {
		return nil, err
	}
	from, to, long := q.ends()
	t := &Trace{S: make([]float64, q.Points), B: make([][3]float64, q.Points), H: make([][3]float64, q.Points)}
	err = each(ctx, q.Points, func(i int) {
		x := float64(i) / float64(q.Points-1)
		field, h := k.solved.Field(r3.Add(from, r3.Scale(x, r3.Sub(to, from))))
		t.S[i], t.B[i], t.H[i] = x*long, numbers(field), numbers(h)
	}, func(done int) { e.progress("field", 0.8+0.2*float64(done)/float64(q.Points)) })
	return t, err
}

// Gauging asks for the quality of the gap field.
type Gauging struct {
	Solving
	EnergyEV float64 `json:"energy_eV"` // of the particles
	ProbeM   float64 `json:"probe_m"`   // edge of the Hall probe
}

func (q *Gauging) check() error {
	if !(q.EnergyEV > 0 && q.EnergyEV <= 1e15) || !(q.ProbeM > 0 && q.ProbeM <= 1) {
		return bad("no such probe or energy", "energy_eV is above 0 and up to 1e15, probe_m above 0 and up to 1")
	}
	return nil
}

func (b *Bench) gap(ctx context.Context, q *Gauging, e *events) (*result.GapQuality, error) {
	k, err := b.solved(ctx, q.Asked, q.Effort, e.progress)
	if err != nil {
		return nil, err
	}
	return apart(ctx, b, func(context.Context) (*result.GapQuality, error) {
		k.one.Lock()
		defer k.one.Unlock()
		return k.solved.Quality(q.EnergyEV, q.ProbeM)
	})
}

// Fencing asks how far a limit reaches in every direction.
type Fencing struct {
	Solving
	LimitT float64 `json:"limit_T"`
}

// Fence is the closed surface of a limit.
type Fence struct {
	LimitT    float64      `json:"limit_T"`
	Center    [3]float64   `json:"center_m"`
	Points    [][3]float64 `json:"points_m"`
	Triangles [][3]int     `json:"triangles"`
	VolumeM3  float64      `json:"volume_m3"`
	FarthestM float64      `json:"farthest_m"`
}

func (q *Fencing) check() error {
	if !(q.LimitT >= 1e-6 && q.LimitT <= design.MaxFluxT) {
		return bad("no such limit", "limit_T lies from 1e-6 to 3")
	}
	return nil
}

func (b *Bench) stray(ctx context.Context, q *Fencing, e *events) (*Fence, error) {
	k, err := b.solved(ctx, q.Asked, q.Effort, e.share(0, 0.5))
	if err != nil {
		return nil, err
	}
	return apart(ctx, b, func(ctx context.Context) (*Fence, error) {
		k.one.Lock()
		defer k.one.Unlock()
		surface, err := k.solved.Stray().Surface(ctx, q.LimitT, func(done float64) { e.progress("reach", 0.5+0.5*done) })
		if err != nil {
			return nil, err
		}
		f := &Fence{LimitT: q.LimitT, Center: numbers(surface.Center), Triangles: surface.Triangle, VolumeM3: surface.Volume()}
		for i, far := range surface.Distance {
			p := surface.Point(i)
			f.Points = append(f.Points, [3]float64{digits(p.X), digits(p.Y), digits(p.Z)})
			f.FarthestM = max(f.FarthestM, far)
		}
		return f, nil
	})
}
