// Package published holds problems whose answers are published, and solves them: closed forms of textbooks, worked values, and magnets and
// steel that somebody has measured. It is what polewright check runs.
package published

import (
	"context"
	"fmt"
	"math"
	"sync"
)

// Basis is how well a published value is known here.
type Basis string

// How well a value is known.
const (
	Seen       Basis = "seen"        // read in the source named or in a transcription of it
	Worked     Basis = "worked"      // from the published formula, not by this program's own solvers
	FromMemory Basis = "from memory" // recalled, and not confirmed: no proof of anything
)

// Check is one published number and the way to find it.
type Check struct {
	Problem   string
	Name      string
	Source    string // author, year, place
	Basis     Basis
	Published float64
	Unit      string  // "" for a pure number
	Tolerance float64 // largest difference that passes, in Unit
	Why       string  // why that tolerance
	Long      bool    // takes more than a second or two
	Solve     func(context.Context) (float64, error)
}

// Outcome is a check after it was run.
type Outcome struct {
	Check
	Ours float64
	Err  error // no answer
}

// Difference is ours less the published value.
func (o Outcome) Difference() float64 { return o.Ours - o.Published }

// Passed tells whether the difference is within the tolerance.
func (o Outcome) Passed() bool { return o.Err == nil && math.Abs(o.Difference()) <= o.Tolerance }

// Checks lists all checks, those of one problem together. Checks that share a solve share it within one list.
func Checks() (list []Check) {
	for _, p := range []struct {
		problem string
		checks  func() []Check
	}{
		{"Units", units},
		{"Resonance frequencies", resonances},
		{"Wire", wires},
		{"Magnetization curves", curves},
		{"Limits for people and things", limits},
		{"Fields on the axis", axialFields},
		{"Field of a block", blockField},
		{"Demagnetizing factors", demagnetizing},
		{"Demagnetizing factors on a grid", meshedFactors},
		{"Demagnetizing factors of ellipsoids", ellipsoids},
		{"Forces between magnets", forces},
		{"Halbach rings", halbach},
		{"Solenoid", coils},
		{"Sphere and shell", spheres},
		{"Ideal iron", images},
		{"A box magnet, measured", yokeMagnet},
		{"Two facing discs, measured", facingDiscs},
		{"An open magnet, measured", openMagnet},
		{"Steel plates round a coil, measured", plates},
		{"Least squares", fits},
		{"Shares of causes", shares},
	} {
		for _, c := range p.checks() {
			c.Problem = p.problem
			list = append(list, c)
		}
	}
	return list
}

// Run runs checks in order; progress, if any, hears the name of each before it runs. A cancelled ctx ends it with an error.
func Run(ctx context.Context, checks []Check, progress func(name string, done float64)) ([]Outcome, error) {
	var out []Outcome
	for i, c := range checks {
		if progress != nil {
			progress(c.Name, float64(i)/float64(len(checks)))
		}
		ours, err := c.Solve(ctx)
		if ctx.Err() != nil {
			return nil, ctx.Err()
		}
		if err == nil && math.IsNaN(ours) {
			err = fmt.Errorf("%s: the answer is not a number", c.Name)
		}
		out = append(out, Outcome{c, ours, err})
	}
	return out, nil
}

// of gives a check its source.
func (c Check) of(source string, basis Basis) Check {
	c.Source, c.Basis = source, basis
	return c
}

// atOnce is a Solve that needs no context and cannot fail.
func atOnce(f func() float64) func(context.Context) (float64, error) {
	return func(context.Context) (float64, error) { return f(), nil }
}

// shared gives several checks one solve: it runs when the first of them asks.
func shared[T any](solve func(context.Context) (T, error)) func(read func(T) (float64, error)) func(context.Context) (float64, error) {
	var mu sync.Mutex
	var answer T
	var failed error
	known := false
	return func(read func(T) (float64, error)) func(context.Context) (float64, error) {
		return func(ctx context.Context) (float64, error) {
			mu.Lock()
			defer mu.Unlock()
			if !known {
				answer, failed = solve(ctx)
				known = ctx.Err() == nil
			}
			if failed != nil {
				return 0, failed
			}
			return read(answer)
		}
	}
}
