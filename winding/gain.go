package winding

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/interp"

	"polewright/mistake"
)

// Curve is a quantity against the number of turns: the monotone cubic of F. N. Fritsch and J. Butland, SIAM J. Sci. Stat. Comput. 5 (1984)
// 300, through given points. It rises where the points rise, so it makes no knees of its own.
type Curve struct {
	turns, value []float64
	fit          interp.FritschButland
}

// NewCurve draws the curve through value[i] at turns[i], rising from 0 or more; at least 3 points.
func NewCurve(turns, value []float64) (*Curve, error) {
	if len(turns) != len(value) || len(turns) < 3 {
		return nil, mistake.Of(fmt.Sprintf("a curve of %d turns and %d values", len(turns), len(value)), "give at least 3 of each")
	}
	for i, n := range turns {
		if !(n >= 0 && n <= maxTurns) || i > 0 && n <= turns[i-1] {
			return nil, mistake.Of(fmt.Sprintf("point %d of a curve has %g turns", i+1, n), fmt.Sprintf("give rising numbers from 0 to %d", maxTurns))
		}
		if math.IsNaN(value[i]) || math.IsInf(value[i], 0) {
			return nil, mistake.Of(fmt.Sprintf("the curve's value at %g turns is not a number", n), "")
		}
	}
	c := &Curve{turns: turns, value: value}
	if err := c.fit.Fit(turns, value); err != nil {
		return nil, fmt.Errorf("winding: %w", err)
	}
	return c, nil
}

// At is the value at a number of turns; beyond the ends it is that of the end.
func (c *Curve) At(turns float64) float64 { return c.fit.Predict(turns) }

// Most is the largest number of turns that the curve knows.
func (c *Curve) Most() float64 { return c.turns[len(c.turns)-1] }

// LeaveOut is the largest difference between a point and the curve through the others, each left out in turn but the ends. The gaps of those
// curves are twice as wide, so the full curve is off by less.
func (c *Curve) LeaveOut() (most float64) {
	for i := 1; i+1 < len(c.turns) && len(c.turns) > 3; i++ {
		var other interp.FritschButland
		if other.Fit(without(c.turns, i), without(c.value, i)) == nil {
			most = math.Max(most, math.Abs(other.Predict(c.turns[i])-c.value[i]))
		}
	}
	return most
}

func without(v []float64, i int) []float64 {
	return append(append(make([]float64, 0, len(v)-1), v[:i]...), v[i+1:]...)
}

// Knee is where steel stops limiting: where a turn brings half of what the average turn before it has brought, since the first point. It is 0
// when the curve does not bend so far.
func (c *Curve) Knee() float64 {
	first := c.turns[0]
	return c.passes(first+1, func(n float64) bool {
		return c.fit.PredictDerivative(n) < 0.5*(c.At(n)-c.value[0])/(n-first)
	})
}

// Enough is the number of turns from which on a further hundred brings less than share of the value; 0 when none that the curve knows.
func (c *Curve) Enough(share float64) float64 {
	n := c.passes(c.turns[0], func(n float64) bool { return c.Gain(n) < share })
	if n+hundred > c.Most() {
		return 0
	}
	return n
}

const hundred = 100 // turns

// Gain is what a further hundred turns bring, as a share of the value.
func (c *Curve) Gain(turns float64) float64 { return c.At(turns+hundred)/c.At(turns) - 1 }

// Reaches is the number of turns at which the curve first has a value; 0 when nowhere.
func (c *Curve) Reaches(value float64) float64 {
	return c.passes(c.turns[0], func(n float64) bool { return c.At(n) >= value })
}

// passes is the least number of turns, from first on, after which holds is true to the end of a walk over the curve; 0 when there is none.
func (c *Curve) passes(first float64, holds func(turns float64) bool) float64 {
	const steps = 4000
	found := 0.0
	for k := range steps {
		n := first + (c.Most()-first)*float64(k)/steps
		switch {
		case !holds(n):
			found = 0
		case found == 0:
			found = n
		}
	}
	return found
}
