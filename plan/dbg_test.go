package plan

import (
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"strconv"
	"testing"
	"time"

	"gonum.org/v1/gonum/spatial/r2"
	"polewright/shape"
)

func random(rng *rand.Rand, kind, n int) []shape.Edge {
	var e []shape.Edge
	g := func() float64 { return math.Round(rng.Float64()*20) / 20 }
	f := rng.Float64
	for range n {
		switch kind {
		case 0: // grid rectangles
			x, y := g(), g()
			e = append(e, rectangle(x, y, x+.05+g()/4, y+.05+g()/4)...)
		case 1: // grid circles
			e = append(e, circle(g(), g(), .05+g()/4)...)
		case 2:
			x, y := g(), g()
			e = append(e, rectangle(x, y, x+.05+g()/4, y+.05+g()/4)...)
			e = append(e, circle(g(), g(), .05+g()/4)...)
		case 3: // random segments
			e = append(e, shape.Edge{A: r2.Vec{X: f()*1.4 - .2, Y: f()*1.4 - .2}, B: r2.Vec{X: f()*1.4 - .2, Y: f()*1.4 - .2}})
		case 4: // random circles
			e = append(e, circle(f(), f(), f()*.3+1e-4)...)
		case 5: // grid segments
			a, b := r2.Vec{X: g(), Y: g()}, r2.Vec{X: g(), Y: g()}
			e = append(e, shape.Edge{A: a, B: b})
		case 7: // tolerance
			x, y := g(), g()
			d := math.Pow(10, -9+5*f())
			e = append(e, rectangle(x, y, x+.3, y+.2)...)
			e = append(e, rectangle(x+d, y-.1, x+.2, y+.1)...)
			e = append(e, circle(x, y, .1)...)
			e = append(e, circle(x+d, y, .1)...)
			e = append(e, circle(x, y, .1+d)...)
		case 6: // near coincident
			x, y := g(), g()
			d := math.Pow(10, -5+2*f())
			if f() < .3 { d = 1e-13*math.Pow(10, 4*f()) }
			e = append(e, rectangle(x, y, x+.3, y+.2)...)
			e = append(e, rectangle(x+d, y-.1, x+.2, y+.1)...)
			e = append(e, circle(x, y, .1)...)
			e = append(e, circle(x+d, y, .1)...)
			e = append(e, circle(x, y, .1+d)...)
		}
	}
	return e
}

func TestStress(t *testing.T) {
	n, _ := strconv.Atoi(os.Getenv("N"))
	k0, k1 := 0, 6
	if s := os.Getenv("K"); s != "" {
		k0, _ = strconv.Atoi(s)
		k1 = k0
	}
	for kind := k0; kind <= k1; kind++ {
		var worst time.Duration
		var verts, fails, errs, maxv int
		ws := 0
		for seed := range n {
			rng := rand.New(rand.NewPCG(uint64(seed), uint64(kind)))
			count := 1 + rng.IntN(8)
			if seed%10 == 0 && kind<6 {
				count = 30
			}
			c := random(rng, kind, count)
			h := math.Pow(10, -1.5+2*rng.Float64())
			t0 := time.Now()
			m, err := Generate(r2.Vec{}, r2.Vec{X: 1, Y: 1}, c, uniform(h))
			d := time.Since(t0)
			if d > worst {
				worst, ws = d, seed
			}
			if err != nil {
				errs++
				if errs < 4 {
					fmt.Println(kind, seed, len(c), err)
				}
				continue
			}
			verts += m.Vertices
			maxv = max(maxv, m.Vertices)
			bad := faults(m, c)
			if bad == nil {
				f, _ := m.Refine()
				if bad = faults(f, c); bad != nil {
					bad = append(bad, "after refine")
				}
			}
			if bad != nil {
				fails++
				if fails < 4 {
					fmt.Println(kind, seed, len(c), bad)
				}
			}
		}
		fmt.Println("kind", kind, "errors", errs, "fails", fails, "worst", worst, ws, "mean vertices", verts/n, "max", maxv)
	}
}
