package fieldmap

import (
	"context"
	"errors"
	"math"
	"strings"
	"sync/atomic"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"polewright"
	"polewright/design"
	"polewright/draw"
)

// A sampled function is the function where it was taken and within the stated share of the top elsewhere; squares at a border are cut down to the
// lattice. The function falls off smoothly round a disc on which it jumps.
func TestSample(t *testing.T) {
	const n = 12*block + 1
	x := func(i int) float64 { return (float64(i) - (n-1)/2) / ((n - 1) / 2) }
	inside := func(i, j int) bool { return math.Hypot(x(i), x(j)) < 0.15 }
	f := func(i, j int) float64 {
		if inside(i, j) {
			return 3
		}
		return 1 / math.Pow(math.Hypot(x(i), x(j))+0.6, 2)
	}
	for _, mirror := range []bool{false, true} {
		var taken atomic.Int64
		s := sampler{columns: n, rows: n, mirrorU: mirror, mirrorV: mirror,
			value: func(i, j int) float64 { taken.Add(1); return f(i, j) },
			owner: func(i, j int) int {
				if inside(i, j) {
					return 0
				}
				return -1
			}}
		b, err := s.sample(context.Background())
		if err != nil {
			t.Fatal(err)
		}
		const top = 1 / (0.75 * 0.75) // the largest value outside the disc
		for j := range n {
			for i := range n {
				// Between the samples of a quarter the second derivative leaves a quarter of the share; the rest is room for the fourth.
				if d := math.Abs(b[j][i] - f(i, j)); !(d <= smooth*top) {
					t.Fatalf("mirror %v: at (%d, %d) %g, want %g", mirror, i, j, b[j][i], f(i, j))
				}
			}
		}
		most := int64(n * n / 3)
		if mirror {
			most /= 3 // a quarter, and the middle lines
		}
		if taken.Load() > most || taken.Load() < 100 {
			t.Errorf("mirror %v: %d values for %d nodes, want %d at most", mirror, taken.Load(), n*n, most)
		}
	}
	ctx, stop := context.WithCancel(context.Background())
	stop()
	s := sampler{columns: n, rows: n, value: f, owner: func(i, j int) int { return -1 }}
	if _, err := s.sample(ctx); !errors.Is(err, context.Canceled) {
		t.Errorf("stopped: %v", err)
	}
}

// The map of a design has the field's own values, on both sides of its planes of symmetry, and all parts that the plane cuts.
func TestAcross(t *testing.T) {
	text, err := design.Template("round-pot")
	if err != nil {
		t.Fatal(err)
	}
	d, err := design.Read(strings.NewReader(text), "")
	if err != nil {
		t.Fatal(err)
	}
	s, err := polewright.Run(context.Background(), d, polewright.Options{Accuracy: polewright.Draft, NoLedger: true, NoDemagnetization: true})
	if err != nil {
		t.Fatal(err)
	}
	for axis := range 3 {
		m, err := Across(context.Background(), d, s, axis)
		if err != nil {
			t.Fatal(err)
		}
		if len(m.Parts) == 0 {
			t.Errorf("axis %d: no parts", axis)
		}
		k, at := plane[axis], s.Result.GapAtM
		var worst float64
		for j := 0; j < len(m.V); j += 7 {
			for i := 0; i < len(m.U); i += 5 {
				x := at
				x[k.across], x[k.up] = m.U[i], m.V[j]
				b, _ := s.Field(vector(x))
				worst = math.Max(worst, math.Abs(m.B[j][i]-r3.Norm(b)))
			}
		}
		if top := r3.Norm(vector(s.Result.GapB)); worst > 0.01*top {
			t.Errorf("axis %d: off by %g T of %g T in the gap", axis, worst, top)
		}
	}
}

// Cuts have the area of the body's section: a rectangle 2 sqrt(R² - y²) by the thickness, a ring, a block.
func TestSection(t *testing.T) {
	d, err := design.Read(strings.NewReader(`format = 1
[[magnet]]
name = "disc"
shape = "disc"
diameter = "50 mm"
thickness = "20 mm"
axis = "z"
center = ["0 mm", "10 mm", "0 mm"]
magnetized = [0, 0, 1]
grade = "N42"
[[magnet]]
name = "ring"
shape = "ring"
outer_diameter = "50 mm"
inner_diameter = "30 mm"
thickness = "20 mm"
axis = "z"
center = ["0 mm", "0 mm", "100 mm"]
magnetized = [0, 0, 1]
grade = "N42"
[[magnet]]
name = "block"
shape = "block"
size = ["60 mm", "40 mm", "20 mm"]
center = ["0 mm", "0 mm", "200 mm"]
magnetized = [0, 0, 1]
grade = "N42"
`), "")
	if err != nil {
		t.Fatal(err)
	}
	parts := draw.Parts(d)
	for _, c := range []struct {
		name  string
		p     draw.Part
		axis  int
		at    float64
		area  float64
		loops int
	}{
		{"disc across", parts[0], 1, 0.02, 2 * math.Sqrt(0.025*0.025-0.01*0.01) * 0.02, 1},
		{"ring along", parts[1], 2, 0.103, math.Pi / 4 * (0.05*0.05 - 0.03*0.03), 2},
		{"block on its face", parts[2], 2, 0.19, 0.06 * 0.04, 1},
		{"beside", parts[2], 2, 0.211, 0, 0},
	} {
		loops := section(c.p, c.axis, c.at)
		var area r3.Vec
		for _, l := range loops {
			for i := range l {
				area = r3.Add(area, r3.Scale(0.5, r3.Cross(l[i], l[(i+1)%len(l)])))
			}
		}
		// Facets of a round face lie up to 0.02 mm inside it: 0.3 % of the ring's area.
		if got := math.Abs(coordinates(area)[c.axis]); len(loops) != c.loops || math.Abs(got-c.area) > 4e-3*c.area {
			t.Errorf("%s: area %g m² in %d loops, want %g in %d", c.name, got, len(loops), c.area, c.loops)
		}
	}
}
