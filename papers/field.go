package papers

import (
	"context"
	"fmt"
	"math"
	"slices"
	"sync"

	"gonum.org/v1/gonum/spatial/r3"

	"polewright/draw"
	"polewright/fieldmap"
	"polewright/report"
	"polewright/result"
)

// This file shows the field: maps, profiles, harmonics, probes.

const (
	pictureMM = 165 // the width of a map, where the page has it
	chartMM   = 140 // and of a chart
)

func field(ctx context.Context, s Source) ([]Section, error) {
	r := s.Solved.Result
	maps := Section{Title: "Field maps", NewPage: true}
	for axis := range 3 {
		m, err := fieldmap.Across(ctx, s.Design, s.Solved, axis)
		if err != nil {
			return nil, err
		}
		m.Title = fmt.Sprintf("Flux density across %s", string("xyz"[axis]))
		at := report.Millimetres(r.GapAtM[axis])
		maps.Blocks = append(maps.Blocks, Figure{m, pictureMM,
			fmt.Sprintf("|B| in the plane %s = %s mm, with iso-lines; parts cut by the plane in outline, arrows along the magnetization.", string("xyz"[axis]), at)})
	}
	lines, err := profiles(ctx, s)
	if err != nil {
		return nil, err
	}
	return []Section{maps, lines, values(r)}, nil
}

// inParallel calls f for 0 … n-1 from two goroutines.
func inParallel(n int, f func(i int)) {
	var all sync.WaitGroup
	for half := range 2 {
		all.Go(func() {
			for i := half; i < n; i += 2 {
				f(i)
			}
		})
	}
	all.Wait()
}

func coordinates(v r3.Vec) [3]float64 { return [3]float64{v.X, v.Y, v.Z} }
func vector(c [3]float64) r3.Vec      { return r3.Vec{X: c[0], Y: c[1], Z: c[2]} }

// profiles are the field along lines through the middle of the gap, far and near.
func profiles(ctx context.Context, s Source) (Section, error) {
	const points = 161
	r := s.Solved.Result
	o := Section{Title: "Profiles", NewPage: true}
	lo, hi := fieldmap.Bounds(draw.Parts(s.Design))
	main := mainAxis(r.GapB)
	name := "B" + string("xyz"[main])
	along := func(axis int, from, to float64, n int) (x, b []float64) {
		x, b = make([]float64, n), make([]float64, n)
		inParallel(n, func(i int) {
			if ctx.Err() != nil {
				return
			}
			x[i] = from + (to-from)*float64(i)/float64(n-1)
			at := r.GapAtM
			at[axis] += x[i]
			v, _ := s.Solved.Field(vector(at))
			b[i] = coordinates(v)[main]
		})
		return x, b
	}
	axial := report.Lines{Title: "On the axis", XName: string("xyz"[main]) + " from the middle of the gap, mm", YName: name + ", T"}
	cross := report.Lines{Title: "Across the gap", XName: "from the middle of the gap, mm", YName: name + ", T"}
	reach := 0.0 // the same along all axes, a quarter beyond the parts
	for axis := range 3 {
		reach = math.Max(reach, 1.25*math.Max(hi[axis]-r.GapAtM[axis], r.GapAtM[axis]-lo[axis]))
	}
	for axis := range 3 {
		x, b := along(axis, -reach, reach, points)
		c := report.Curve{Name: "along " + string("xyz"[axis]), X: scaled(x, 1e3), Y: b}
		if axis == main {
			axial.Curves = append(axial.Curves, c)
		} else {
			cross.Curves = append(cross.Curves, c)
		}
	}
	o.Blocks = append(o.Blocks,
		Figure{axial, chartMM, fmt.Sprintf("%s along %s through the middle of the gap, parts included.", name, string("xyz"[main]))},
		Figure{cross, chartMM, fmt.Sprintf("%s along the other axes through the middle of the gap.", name)})
	if h := r.Harmonics; h != nil && h.Radius > 0 {
		near := report.Lines{Title: "Over the region", XName: "from the middle of the gap, mm", YName: "change of " + name + ", mT"}
		check := Table{Caption: "Values to compare a probe with: " + name + " in T, by the distance from the middle of the gap",
			Head: []string{">distance mm", ">along x", ">along y", ">along z"}}
		for axis := range 3 {
			x, b := along(axis, -h.Radius, h.Radius, 41)
			for i := range b {
				if i%5 == 0 {
					if axis == 0 {
						check.Rows = append(check.Rows, []string{report.Millimetres(x[i])})
					}
					check.Rows[i/5] = append(check.Rows[i/5], report.Decimals(b[i], 5))
				}
			}
			middle := b[len(b)/2]
			for i := range b {
				b[i] = 1e3 * (b[i] - middle)
			}
			near.Curves = append(near.Curves, report.Curve{Name: "along " + string("xyz"[axis]), X: scaled(x, 1e3), Y: b})
		}
		o.Blocks = append(o.Blocks, Figure{near, chartMM, fmt.Sprintf("Change of %s from the middle of the gap, within %s mm of it.", name, report.Millimetres(h.Radius))}, check)
	}
	return o, ctx.Err()
}

func scaled(x []float64, f float64) []float64 {
	y := make([]float64, len(x))
	for i := range x {
		y[i] = f * x[i]
	}
	return y
}

// mainAxis is the axis that a vector runs most along, z for none.
func mainAxis(v [3]float64) int {
	best := 2
	for k := range 3 {
		if math.Abs(v[k]) > math.Abs(v[best]) {
			best = k
		}
	}
	return best
}

// values are the probes, cross-sections, region and harmonics.
func values(r *result.Result) Section {
	o := Section{Title: "Field in numbers"}
	probes := Table{Caption: "Probes", Head: []string{"point", ">x mm", ">y mm", ">z mm", ">Bx T", ">By T", ">Bz T", ">|B| T", ">|grad B| T/m"}}
	for _, p := range r.Probes {
		row := []string{p.Name}
		for _, x := range p.At {
			row = append(row, report.Millimetres(x))
		}
		for _, b := range p.B {
			row = append(row, tesla(b))
		}
		row = append(row, tesla(size(p.B)))
		if p.Derivatives != nil {
			row = append(row, atLeast(size(p.GradB), 1e-3))
		}
		probes.Rows = append(probes.Rows, row)
	}
	sections := Table{Caption: "Cross-sections", Head: []string{"cross-section", ">mean B T", ">area mm²", ">flux mWb"}}
	for _, x := range r.Sections {
		sections.Rows = append(sections.Rows, []string{x.Name, tesla(x.MeanB), report.Decimals(1e6*x.Area, 1), report.Decimals(1e3*x.Flux, 3)})
	}
	o.Blocks = append(o.Blocks, probes, sections)
	if g := r.Region; g != nil {
		o.Blocks = append(o.Blocks, Table{Caption: "Target region", Head: []string{">mean T", ">lowest T", ">highest T", ">lowest to highest ppm", ">rms ppm", ">uncertain ppm"},
			Rows: [][]string{{tesla(g.MeanB), tesla(g.MinB), tesla(g.MaxB), report.Figures(g.PeakToPeak, 4), report.Figures(g.RMS, 4), atLeast(g.Noise, 0.1)}}})
	}
	if h := r.Harmonics; h != nil {
		terms := slices.Clone(h.Terms)
		slices.SortStableFunc(terms, func(a, b result.Term) int {
			return int(math.Copysign(1, math.Abs(b.PPM)-math.Abs(a.PPM)))
		})
		t := Table{Caption: fmt.Sprintf("Harmonics of the field along %s on a sphere of %s mm radius at %s: the largest of %d terms, from 0.1 ppm", report.Direction(h.Polar), report.Millimetres(h.Radius), report.Point(h.Center), len(terms)),
			Head: []string{">n", ">m", "kind", ">T", ">ppm of the field at the centre"}}
		for _, x := range terms[:min(len(terms), 20)] {
			if math.Abs(x.PPM) < 0.1 {
				break
			}
			t.Rows = append(t.Rows, []string{fmt.Sprint(x.N), fmt.Sprint(x.M), x.Kind, report.Decimals(x.B, 7), report.Decimals(x.PPM, 1)})
		}
		o.Blocks = append(o.Blocks, t, Text(fmt.Sprintf("Schmidt's semi-normalized functions: no term is larger than its T on the sphere. The terms leave %s ppm (rms) of the field they were fitted to.", atLeast(h.Residual, 0.1))))
	}
	return o
}
