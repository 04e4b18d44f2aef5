package result

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"
	"pgregory.net/rapid"

	"polewright/harmonic"
)

func volumes() map[string]Volume {
	return map[string]Volume{
		"sphere":     Sphere{2},
		"cylinder x": Cylinder{Radius: 1, Length: 3, Axis: 0},
		"cylinder z": Cylinder{Radius: 1.5, Length: 0.4, Axis: 2},
		"box":        Box{r3.Vec{X: 1, Y: 2, Z: 5}},
	}
}

// Means of squares and fourth powers over the bodies (elementary integrals): sphere <x^2> = r^2/5, <x^4> = 3 r^4/35; cylinder across
// r^2/4, r^4/8, along l^2/12, l^4/80; box a^2/12, a^4/80. The rules are exact, so only rounding is left.
func TestRules(t *testing.T) {
	const r = 2.
	want := map[string][6]float64{ // <x^2>, <y^2>, <z^2>, <x^4>, <y^4>, <z^4>
		"sphere":     {r * r / 5, r * r / 5, r * r / 5, 3 * r * r * r * r / 35, 3 * r * r * r * r / 35, 3 * r * r * r * r / 35},
		"cylinder x": {9. / 12, 1. / 4, 1. / 4, 81. / 80, 1. / 8, 1. / 8},
		"cylinder z": {2.25 / 4, 2.25 / 4, 0.16 / 12, 2.25 * 2.25 / 8, 2.25 * 2.25 / 8, 0.0256 / 80},
		"box":        {1. / 12, 4. / 12, 25. / 12, 1. / 80, 16. / 80, 625. / 80},
	}
	for name, v := range volumes() {
		for _, n := range []int{3, 8} {
			var got [6]float64
			var one float64
			for _, q := range v.Rule(n) {
				one += q.Weight
				for k, x := range [3]float64{q.D.X, q.D.Y, q.D.Z} {
					got[k] += q.Weight * x * x
					got[3+k] += q.Weight * x * x * x * x
				}
				if d := r3.Norm(q.D); d > v.Rim(r3.Unit(q.D))*(1+1e-12) {
					t.Errorf("%s: a point of the rule lies %g from the centre, outside", name, d)
				}
			}
			if math.Abs(one-1) > 1e-12 {
				t.Errorf("%s: the weights add up to %g", name, one)
			}
			for k := range got {
				if math.Abs(got[k]/want[name][k]-1) > 1e-12 {
					t.Errorf("%s, %d: moment %d is %.12g, expected %.12g", name, n, k, got[k], want[name][k])
				}
			}
		}
	}
}

// B = B0 (1 + a z + b (z^2 - (x^2+y^2)/2)) along z. Over a sphere of radius R with a = 0 the extremes are B0 (1 + b R^2) at the poles and
// B0 (1 - b R^2/2) on the equator, the mean square of the term b^2 R^4 3/35. Over a cylinder they lie on the edges, over a box in corners or
// middles of edges. Tolerance: the search ends within 1e-3 rad, where a parabola has lost 1e-6 of its height; 1 % of the extremes is wanted.
func TestRegionExtremes(t *testing.T) {
	const b0, b = 0.5, 0.01
	center := r3.Vec{X: 3, Y: -2, Z: 1}
	quadratic := func(p r3.Vec) r3.Vec {
		d := r3.Sub(p, center)
		return r3.Vec{Z: b0 * (1 + b*(d.Z*d.Z-(d.X*d.X+d.Y*d.Y)/2))}
	}
	for _, c := range []struct {
		name           string
		v              Volume
		high, low, rms float64
	}{
		{"sphere", Sphere{2}, 1 + 4*b, 1 - 2*b, b * 4 * math.Sqrt(3./35)},
		// mean of (z^2 - s/2)^2 less the square of its mean, with s = x^2 + y^2: means of s r^2/2, s^2 r^4/3, z^2 l^2/12, z^4 l^4/80
		{"cylinder", Cylinder{Radius: 1, Length: 3, Axis: 2}, 1 + b*2.25, 1 - b/2, b * math.Sqrt(81./80-0.5*0.75+1./12-(0.75-0.25)*(0.75-0.25))},
		{"box", Box{r3.Vec{X: 2, Y: 2, Z: 2}}, 1 + b, 1 - b, b * math.Sqrt(0.2*(1+0.5)-1./9*1.5)},
	} {
		r := RegionOf(quadratic, center, c.v)
		wide := c.high - c.low
		if math.Abs(r.MaxB/b0-c.high) > 1e-5*wide || math.Abs(r.MinB/b0-c.low) > 1e-5*wide {
			t.Errorf("%s: from %.9f to %.9f, expected %.9f to %.9f", c.name, r.MinB/b0, r.MaxB/b0, c.low, c.high)
		}
		if want := 1e6 * wide * b0 / r.MeanB; math.Abs(r.PeakToPeak/want-1) > 1e-5 {
			t.Errorf("%s: peak to peak %g ppm, expected %g", c.name, r.PeakToPeak, want)
		}
		if got := r.RMS / 1e6 * r.MeanB / b0; math.Abs(got/c.rms-1) > 1e-9 {
			t.Errorf("%s: rms %.9g, expected %.9g", c.name, got, c.rms)
		}
	}
	if r := RegionOf(func(r3.Vec) r3.Vec { return r3.Vec{} }, center, Sphere{1}); r.MeanB != 0 || r.PeakToPeak != 0 {
		t.Errorf("without a field: %+v", r)
	}
}

// A linear field is extreme where the surface is farthest along the gradient: R g for a sphere, and for all three bodies no sample is larger
// than what was found. Any direction of gradient and field.
func TestRegionOfALinearField(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		g := harmonic.Direction(rapid.IntRange(0, 9999).Draw(t, "gradient"), 10000)
		u := harmonic.Direction(rapid.IntRange(0, 9999).Draw(t, "field"), 10000)
		name := rapid.SampledFrom([]string{"sphere", "cylinder x", "cylinder z", "box"}).Draw(t, "volume")
		v := volumes()[name]
		r := RegionOf(func(p r3.Vec) r3.Vec { return r3.Scale(1+0.01*r3.Dot(g, p), u) }, r3.Vec{}, v)
		var want float64 // the support of the body along g, over the size
		switch v := v.(type) {
		case Sphere:
			want = v.Radius
		case Cylinder:
			along := [3]float64{g.X, g.Y, g.Z}[v.Axis]
			want = v.Length/2*math.Abs(along) + v.Radius*math.Sqrt(1-along*along)
		case Box:
			want = (v.Size.X*math.Abs(g.X) + v.Size.Y*math.Abs(g.Y) + v.Size.Z*math.Abs(g.Z)) / 2
		}
		if got := r.PeakToPeak / 2e4; got > want*(1+1e-9) || got < want*0.995 { // a step of 1e-3 rad along an edge that falls linearly
			t.Errorf("%s: half the spread is %.6f, expected %.6f", name, got, want)
		}
	})
}

// A dipole's field mu0 m/(4 pi r^3) sqrt(1 + 3 cos^2) reaches a limit at a distance that is solved by hand (any textbook).
func TestReachOfADipole(t *testing.T) {
	const m = 10.0
	field := func(p r3.Vec) r3.Vec {
		n, r := r3.Unit(p), r3.Norm(p)
		return r3.Scale(1e-7*m/(r*r*r), r3.Sub(r3.Scale(3*n.Z, n), r3.Vec{Z: 1}))
	}
	reach := func(limit, cos float64) float64 { return math.Cbrt(1e-7 * m * math.Sqrt(1+3*cos*cos) / limit) }
	for _, limit := range []float64{1e-5, 0.5e-3} {
		for i := range 20 {
			d := harmonic.Direction(i, 20)
			want := reach(limit, d.Z)
			if got := Reach(field, r3.Vec{}, d, limit, want/10, want*10); math.Abs(got/want-1) > 1e-5 {
				t.Errorf("%g T reaches %.6f m towards %v, expected %.6f", limit, got, d, want)
			}
			// The last step of the search inward ends where the search does: a reach just beyond that is seen.
			for _, near := range []float64{0.999, 0.99, 0.96} {
				if got := Reach(field, r3.Vec{}, d, limit, want*near, want*1.1); math.Abs(got/want-1) > 1e-5 {
					t.Errorf("from %g of the reach on it is %g, want %g", near, got, want)
				}
			}
			if got := Reach(field, r3.Vec{}, d, limit, want*1.01, want*10); got != 0 {
				t.Errorf("a limit that ends within the near distance is said to reach %g m", got)
			}
		}
		for _, mirrored := range [][3]bool{{}, {true, true, true}} {
			got, d := Farthest(func(d r3.Vec) float64 { return Reach(field, r3.Vec{}, d, limit, 1e-3, 10) }, mirrored)
			if want := reach(limit, 1); math.Abs(got/want-1) > 1e-4 || math.Abs(d.Z) < 0.999 {
				t.Errorf("the largest reach is %.6f m towards %v, expected %.6f along z", got, d, want)
			}
		}
	}
	if got, d := Farthest(func(r3.Vec) float64 { return 0 }, [3]bool{}); got != 0 || d != (r3.Vec{}) {
		t.Errorf("nowhere: %g towards %v", got, d)
	}
}

// A surface is closed (each edge has one triangle on either side, Euler's V - E + F = 2), faces outward, and encloses what it should: an
// ellipsoid 4/3 pi a b c less what the chords of 2 degrees cut off, about 3 steps^2/20 = 2e-4.
func TestSurface(t *testing.T) {
	a, b, c := 1.0, 2.0, 0.7
	calls := 0
	s := SurfaceOf(r3.Vec{X: 5}, 5, [3]bool{true, true, true}, func(d r3.Vec) float64 {
		calls++
		return 1 / math.Sqrt(d.X*d.X/(a*a)+d.Y*d.Y/(b*b)+d.Z*d.Z/(c*c))
	})
	edges := map[[2]int]int{}
	for _, x := range s.Triangle {
		for k := range 3 {
			edges[[2]int{x[k], x[(k+1)%3]}]++
		}
	}
	for e, n := range edges {
		if n != 1 || edges[[2]int{e[1], e[0]}] != 1 {
			t.Fatalf("the edge %v is not shared by two triangles of one sense", e)
		}
	}
	if v := len(s.Direction) - len(edges)/2 + len(s.Triangle); v != 2 || len(s.Direction) != 10242 {
		t.Errorf("%d corners, V - E + F = %d", len(s.Direction), v)
	}
	if want := 4 * math.Pi / 3 * a * b * c; math.Abs(s.Volume()/want-1) > 2e-3 || s.Volume() > want {
		t.Errorf("it encloses %g m3 of %g", s.Volume(), want)
	}
	if calls > 10242/6 {
		t.Errorf("%d distances were asked for, though the planes mirror them", calls)
	}
	if p := s.Point(0); math.Abs(r3.Norm(r3.Sub(p, r3.Vec{X: 5}))-s.Distance[0]) > 1e-12 {
		t.Errorf("corner 0 is at %v", p)
	}
}
