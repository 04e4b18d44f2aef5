package plan

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/spatial/r2"
)

// gradedSize is about 1 mm at the corners of the framed pair and 300 mm far away.
func gradedSize(p r2.Vec) float64 {
	s := math.Inf(1)
	for _, c := range []r2.Vec{{X: 20e-3, Y: 9e-3}, {X: 20e-3, Y: 29e-3}, {X: 28e-3, Y: 29e-3}, {X: 40e-3, Y: 49e-3}} {
		s = math.Min(s, 1e-3+0.4*r2.Norm(r2.Sub(p, c)))
	}
	return s
}

var unit = r2.Vec{X: 1, Y: 1}

func BenchmarkGenerate(b *testing.B) {
	triangles := 0
	for b.Loop() {
		m, err := Generate(r2.Vec{}, unit, framed(), gradedSize)
		if err != nil {
			b.Fatal(err)
		}
		triangles = len(m.Triangles)
	}
	b.ReportMetric(float64(triangles), "triangles")
}

func BenchmarkRefine(b *testing.B) {
	m, err := Generate(r2.Vec{}, unit, append(framed(), circle(0.1, 0.1, 0.04)...), gradedSize)
	if err != nil {
		b.Fatal(err)
	}
	for range 3 {
		m, _ = m.Refine()
	}
	for b.Loop() {
		m.Refine()
	}
	b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N)/float64(4*len(m.Triangles)), "ns/triangle")
}

func BenchmarkLocate(b *testing.B) {
	m, err := Generate(r2.Vec{}, unit, framed(), gradedSize)
	if err != nil {
		b.Fatal(err)
	}
	for range 3 {
		m, _ = m.Refine()
	}
	i := 0
	for b.Loop() {
		// multiples of the golden ratio spread evenly
		x, y := math.Mod(float64(i)*0.6180339887, 1), math.Mod(float64(i)*0.7548776662, 1)
		if _, _, ok := m.Locate(r2.Vec{X: x, Y: y}); !ok {
			b.Fatal("not found")
		}
		i++
	}
}
