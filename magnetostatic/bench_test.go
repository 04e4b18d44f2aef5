package magnetostatic

import (
	"context"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"polewright/grid"
)

func BenchmarkFrame(b *testing.B) {
	bodies := framedPair(12)
	g, err := grid.Build(grid.Spec{Bodies: bodies, Focus: []r3.Vec{{}}, Radius: 4e-3, Levels: 2})
	if err != nil {
		b.Fatal(err)
	}
	p := &Problem{Grids: g, Media: media(b, g.Axis, bodies, "steel-1018", 1.05), Dipole: r3.Vec{Z: 1}}
	for b.Loop() {
		_, _, err := Solve(context.Background(), p, nil)
		if err != nil {
			b.Fatal(err)
		}
	}
}
