package axisymmetric

import (
	"context"
	"math"
	"testing"

	"gonum.org/v1/gonum/spatial/r2"

	"polewright/shape"
)

// rectangle is the section of a ring, or of a disc for an inner radius of zero.
func rectangle(r1, r2, z1, z2 float64) shape.Loop {
	return polygon([2]float64{r1, z1}, [2]float64{r2, z1}, [2]float64{r2, z2}, [2]float64{r1, z2})
}

func polygon(corners ...[2]float64) (l shape.Loop) {
	for i, a := range corners {
		b := corners[(i+1)%len(corners)]
		l = append(l, shape.Edge{A: r2.Vec{X: a[0], Y: a[1]}, B: r2.Vec{X: b[0], Y: b[1]}})
	}
	return l
}

// ball is the section of a sphere.
func ball(radius float64) shape.Loop {
	bottom, side, top := r2.Vec{Y: -radius}, r2.Vec{X: radius}, r2.Vec{Y: radius}
	return shape.Loop{
		{A: bottom, B: side, Radius: radius, CCW: true}, {A: side, B: top, Radius: radius, CCW: true}, {A: top, B: bottom},
	}
}

// shell is the section of a spherical shell.
func shell(inner, outer float64) shape.Loop {
	l := ball(outer)[:2]
	return append(l, shape.Edge{A: r2.Vec{Y: outer}, B: r2.Vec{Y: inner}},
		shape.Edge{A: r2.Vec{Y: inner}, B: r2.Vec{X: inner}, Radius: inner}, shape.Edge{A: r2.Vec{X: inner}, B: r2.Vec{Y: -inner}, Radius: inner},
		shape.Edge{A: r2.Vec{Y: -inner}, B: r2.Vec{Y: -outer}})
}

func solved(t testing.TB, p Problem) (coarse, fine *Solution) {
	t.Helper()
	if p.Turn == (shape.Rotation{}) {
		p.Turn = shape.Identity()
	}
	if p.Levels == 0 {
		p.Levels = 2
	}
	coarse, fine, err := Solve(context.Background(), &p, nil)
	if err != nil {
		t.Fatal(err)
	}
	return coarse, fine
}

// within fails unless got is want within a relative tolerance.
func within(t testing.TB, what string, got, want, tolerance float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tolerance*math.Abs(want)) {
		t.Errorf("%s: got %.7g, want %.7g, off by %.2e of it, more than %.1e", what, got, want, math.Abs(got/want-1), tolerance)
	}
}
