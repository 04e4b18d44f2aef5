package main

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"polewright/shape"
)

// The three turns that a table prints make the rotation again, quarter turns about y included, where one of them is free.
func TestTurns(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		angle := rapid.OneOf(rapid.SampledFrom([]float64{0, math.Pi / 2, -math.Pi / 2, math.Pi}), rapid.Float64Range(-7, 7))
		r := shape.Euler(angle.Draw(t, "x"), angle.Draw(t, "y"), angle.Draw(t, "z")).Mul(shape.AxisTo(rapid.IntRange(0, 2).Draw(t, "axis")))
		a := turns(r)
		again := shape.Euler(a[0], a[1], a[2])
		for i := range 3 {
			for j := range 3 {
				// Near a quarter turn about y the sine holds only half of the digits of the angle.
				if math.Abs(again[i][j]-r[i][j]) > 3e-6 {
					t.Fatalf("%v becomes %v", r, again)
				}
			}
		}
	})
}
