package polewright

import (
	"context"
	"math"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"polewright/freefield"
	"polewright/harmonic"
	"polewright/measurement"
	"polewright/result"
	"polewright/shape"
)

// mapOf is a map of Bz on a lattice within a radius.
func mapOf(field func(r3.Vec) r3.Vec, radius float64, n int) *measurement.Log {
	l := &measurement.Log{File: "map.csv"}
	for i := range n * n * n {
		at := func(k int) float64 { return radius * (2*float64(k)/float64(n-1) - 1) }
		p := r3.Vec{X: at(i % n), Y: at(i / n % n), Z: at(i / n / n)}
		if r3.Norm(p) <= 1.25*radius {
			l.Readings = append(l.Readings, measurement.Reading{At: p, Component: measurement.Z, FieldT: field(p).Z, TemperatureC: math.NaN(), Line: i + 2})
		}
	}
	return l
}

// A foil is a block with the polarization of the field before it: on its axis a trim magnet has the field of the closed form for a disc, B = J/2
// ((z+L)/sqrt(R^2+(z+L)^2) - z/sqrt(R^2+z^2)) (any textbook of magnetism), and of a disc on wide ideal steel twice as long that of its image too.
func TestShimField(t *testing.T) {
	const j, radius, long, z = 1.2, 1.5e-3, 2e-3, 7e-3
	disc := func(z, long float64) float64 {
		return j / 2 * ((z+long)/math.Hypot(radius, z+long) - z/math.Hypot(radius, z))
	}
	free := gapSides{axis: 2}
	o := ShimOptions{MagnetM: long, RemanenceT: j}
	for _, c := range []struct {
		below, want float64
	}{{math.NaN(), disc(z-long, long)}, {0, disc(z-long, 2*long)}} {
		p := shimPlace{at: r3.Vec{}, way: -1, below: c.below, above: math.NaN()}
		if got := p.sources(nil, o, 2*radius, free).B(r3.Vec{Z: z}).Z; math.Abs(got-c.want) > 1e-9*c.want {
			t.Errorf("%g T, want %g", got, c.want)
		}
	}
}

// The terms that are fitted to a map of a magnet far away are those of its expansion: the field at any point of the ball is the direct one. Degree
// 6 of a source five radii off leaves out (1/5)^7.
func TestMapTerms(t *testing.T) {
	m := freefield.Magnet{Solid: shape.Disc{Diameter: 3e-3, Thickness: 2e-3}, Place: shape.Placement{Center: r3.Vec{X: 0.01, Z: 0.015}, Rot: shape.Euler(0, 0, 0)}, Polarization: r3.Vec{Z: 1.2}}
	const radius = 3.5e-3
	f := fitMap(mapOf(m.B, radius, 9).Readings, r3.Vec{}, radius, 6)
	if f.rank != harmonic.Count(6) {
		t.Fatalf("rank %d", f.rank)
	}
	largest := 0.0
	for i := range 50 {
		p := r3.Scale(radius, harmonic.Direction(i, 50))
		largest = math.Max(largest, math.Abs(f.at(p)-m.B(p).Z))
	}
	if whole := math.Abs(m.B(r3.Vec{}).Z); largest > 1e-3*whole {
		t.Errorf("off by %g of %g T", largest, whole)
	}
	// The mean over a sphere is the value at its centre, and is the term of degree 0.
	if got, want := f.sizes()[0].RMST, math.Abs(m.B(r3.Vec{}).Z); math.Abs(got/want-1) > 1e-3 {
		t.Errorf("degree 0: %g T, want %g", got, want)
	}
}

// A map that is uneven by what two foils less on one place do is made flat again: the field is that of the design, its own unevenness out,
// less foils at two places. What is predicted for the shims is what the closed forms of those shims add to the map directly.
func TestShimsFlattenAMap(t *testing.T) {
	d := inspectedPair(t, "1.0")
	s, err := Run(context.Background(), d, Options{Accuracy: Draft, FieldOnly: true})
	if err != nil {
		t.Fatal(err)
	}
	o := ShimOptions{FoilM: 0.05e-3, MostM: 1e-3, Edge: 5, Apply: 0.7, RemanenceT: 1.2}
	sides := sidesOf(d)
	const size = 10e-3
	places := s.shimPlaces(sides, o, &result.Shimming{SizeM: size})
	steps := make([]freefield.Sources, len(places))
	for k := range places {
		steps[k] = places[k].sources(s.smooth(), o, size, sides)
	}
	lacking := func(p r3.Vec) (b r3.Vec) {
		return r3.Sub(r3.Vec{Z: 0.45}, r3.Add(r3.Scale(8, steps[7].B(p)), r3.Scale(5, steps[30].B(p))))
	}
	o.SizeM = size
	r, err := s.shim(mapOf(lacking, 5e-3, 7), o)
	if err != nil {
		t.Fatal(err)
	}
	before, after, first := r.Figures[0], r.Figures[1], r.Figures[2]
	t.Logf("degree %d: %.0f ppm, with all %.0f ppm, first %.0f ppm; %+v", r.Degree, before.PeakToPeakPPM, after.PeakToPeakPPM, first.PeakToPeakPPM, r.Patches)
	// The lattice's places and the cost of shims leave a little; a third of the unevenness is what 70 % leave by themselves.
	if after.PeakToPeakPPM > 0.15*before.PeakToPeakPPM || first.PeakToPeakPPM > 0.5*before.PeakToPeakPPM {
		t.Errorf("before %+v, after %+v, first %+v", before, after, first)
	}
	// Directly: the map with the shims on is as flat as is said. The difference is what the fitted terms leave out.
	build := func(p r3.Vec) r3.Vec {
		b := lacking(p)
		for _, q := range r.Patches {
			for k, place := range places {
				if place.name == q.Face && r3.Norm(r3.Sub(place.at, vector(q.At))) < 1e-9 {
					b = r3.Add(b, r3.Scale(float64(q.Count), steps[k].B(p)))
				}
			}
		}
		return b
	}
	points, weights := s.a.regionPoints()
	var mean float64
	low, high := math.Inf(1), math.Inf(-1)
	for i, p := range points {
		x := build(p).Z
		mean += weights[i] * x
		low, high = math.Min(low, x), math.Max(high, x)
	}
	if got := 1e6 * (high - low) / mean; math.Abs(got-after.PeakToPeakPPM) > 0.1*before.PeakToPeakPPM || math.Abs(mean/after.MeanT-1) > 1e-4 {
		t.Errorf("with the shims on %.0f ppm, %g T; said %+v", got, mean, after)
	}
}
