// Package fieldfile holds a field on a regular grid of points and writes it in the formats that general plotting and computing programs
// read: VTK's rectilinear grid, comma-separated values, NumPy's archive. It does not know how the field was found.
package fieldfile

import (
	"context"
	"fmt"
	"math"
	"runtime"
	"sync"
	"sync/atomic"

	"gonum.org/v1/gonum/spatial/r3"
)

// MostPoints is the largest grid: 52 bytes a point in memory, about 1.5 GB of CSV.
const MostPoints = 10_000_000

// Grid is a regular grid of points: Count points along x, y, z from First on, Step apart. Metres.
type Grid struct {
	First r3.Vec
	Step  r3.Vec
	Count [3]int // at least 1 each
}

// TooManyPoints is the error for a grid that is too fine for its box.
type TooManyPoints struct {
	Points float64 // asked for
	StepM  float64 // the smallest step, rounded up to two digits, that fits
}

func (e *TooManyPoints) Error() string {
	return fmt.Sprintf("%.3g points are over the %d million that one file takes", e.Points, MostPoints/1_000_000)
}

// Over lays a grid of a step over a box, its points centred in it; along an edge shorter than the step lies one point, in the middle. The
// step is positive. The error is a [*TooManyPoints].
func Over(box r3.Box, step float64) (Grid, error) {
	count := func(step float64) (total float64, n [3]float64) {
		total = 1
		for i, e := range edges(box) {
			n[i] = math.Floor(e/step*(1+1e-12)) + 1
			total *= n[i]
		}
		return total, n
	}
	total, n := count(step)
	if total > MostPoints {
		fit := step
		for {
			fit = twoDigits(fit * 1.02)
			if t, _ := count(fit); t <= MostPoints {
				return Grid{}, &TooManyPoints{total, fit}
			}
		}
	}
	g := Grid{Step: r3.Vec{X: step, Y: step, Z: step}}
	for i := range n {
		g.Count[i] = int(n[i])
	}
	span := r3.Vec{X: step * (n[0] - 1), Y: step * (n[1] - 1), Z: step * (n[2] - 1)}
	g.First = r3.Sub(box.Center(), r3.Scale(0.5, span))
	return g, nil
}

// StepFor is the step, to two digits, that puts about so many points into a box.
func StepFor(box r3.Box, points int) float64 {
	volume, dimensions, longest := 1.0, 0, 0.0
	for _, e := range edges(box) {
		if longest = math.Max(longest, e); e > 0 {
			volume *= e
			dimensions++
		}
	}
	if dimensions == 0 {
		return 1e-3 // one point: any step
	}
	step := math.Pow(volume/float64(max(points, 1)), 1/float64(dimensions))
	// A slab thinner than the step is a plane.
	return twoDigits(math.Max(step, longest/float64(max(points, 1))))
}

// twoDigits rounds a length up to two significant digits.
func twoDigits(v float64) float64 {
	unit := math.Pow(10, math.Floor(math.Log10(v))-1)
	return math.Ceil(v/unit-1e-9) * unit
}

func edges(b r3.Box) [3]float64 {
	d := b.Size()
	return [3]float64{d.X, d.Y, d.Z}
}

// Points is how many points the grid has.
func (g Grid) Points() int { return g.Count[0] * g.Count[1] * g.Count[2] }

// At is point n, x running fastest, then y.
func (g Grid) At(n int) r3.Vec {
	i, j, k := n%g.Count[0], n/g.Count[0]%g.Count[1], n/(g.Count[0]*g.Count[1])
	return r3.Vec{X: g.along(0, i), Y: g.along(1, j), Z: g.along(2, k)}
}

// along is coordinate i along an axis.
func (g Grid) along(axis, i int) float64 {
	first := [3]float64{g.First.X, g.First.Y, g.First.Z}[axis]
	step := [3]float64{g.Step.X, g.Step.Y, g.Step.Z}[axis]
	x := first + float64(i)*step
	if math.Abs(x) < 1e-9*step {
		return 0 // and not the rounding of a sum
	}
	return x
}

// Samples is a field at the points of a grid, in the order of [Grid.At].
type Samples struct {
	Grid  Grid
	B     []r3.Vec // T
	H     []r3.Vec // A/m
	Part  []int32  // 0 in free space, n in the nth of Parts
	Parts []string
}

// Sample evaluates a field at all points, on all cores. part gives the index in parts of what is at a point, -1 for nothing. progress, if not
// nil, takes the share done, from one goroutine at a time. The error is that of ctx, or a field that is not finite.
//
// Both functions are called at once from many goroutines. A field may fill tables at its first calls: points at the corners and in the middle
// are taken one by one before.
func Sample(ctx context.Context, g Grid, field func(r3.Vec) (b, h r3.Vec), part func(r3.Vec) int, parts []string, progress func(done float64)) (*Samples, error) {
	n := g.Points()
	s := &Samples{Grid: g, B: make([]r3.Vec, n), H: make([]r3.Vec, n), Part: make([]int32, n), Parts: parts}
	for _, i := range []int{0, n / 2, n - 1} {
		field(g.At(i))
	}
	const portion = 256
	var next, done atomic.Int64
	var mu sync.Mutex // of progress
	var workers sync.WaitGroup
	for range runtime.GOMAXPROCS(0) {
		workers.Go(func() {
			for ctx.Err() == nil {
				from := int(next.Add(portion)) - portion
				if from >= n {
					return
				}
				to := min(from+portion, n)
				for i := from; i < to; i++ {
					p := g.At(i)
					s.B[i], s.H[i] = field(p)
					s.Part[i] = int32(part(p) + 1)
				}
				share := float64(done.Add(int64(to-from))) / float64(n)
				if progress != nil {
					mu.Lock()
					progress(share)
					mu.Unlock()
				}
			}
		})
	}
	workers.Wait()
	if err := ctx.Err(); err != nil {
		return nil, err
	}
	for i, b := range s.B {
		if sum := r3.Norm(b) + r3.Norm(s.H[i]); math.IsNaN(sum) || math.IsInf(sum, 0) {
			return nil, fmt.Errorf("the field at %v m is not a finite number", g.At(i))
		}
	}
	return s, nil
}
