package freefield

import (
	"math"
	"math/rand/v2"
	"runtime"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"polewright/shape"
)

func BenchmarkB(b *testing.B) {
	for _, tt := range []struct {
		name string
		s    shape.Solid
	}{
		{"block", brick(0.06, 0.04, 0.02)},
		{"disc", coin(0.05, 0.02)},
		{"ring", shape.Ring{OuterDiameter: 0.06, InnerDiameter: 0.03, Thickness: 0.02}},
		{"wedge", shape.Wedge{OuterDiameter: 0.1, InnerDiameter: 0.04, Thickness: 0.05, From: -0.4, To: 0.4}},
	} {
		m := Magnet{tt.s, shape.Placement{Rot: shape.Identity()}, r3.Vec{X: 0.3, Y: 0.2, Z: 1.2}}
		h := tt.s.HalfExtent()
		for _, at := range []struct {
			name string
			p    r3.Vec
		}{
			{"inside", r3.Vec{X: 0.6 * h.X, Y: 0.1 * h.Y, Z: 0.3 * h.Z}},
			{"near", r3.Vec{X: 0.7 * h.X, Y: 0.8 * h.Y, Z: 1.5 * h.Z}},
			{"far", r3.Scale(20, h)},
		} {
			b.Run(tt.name+"/"+at.name, func(b *testing.B) {
				for b.Loop() {
					m.B(at.p)
				}
			})
		}
	}
}

func BenchmarkPotential(b *testing.B) {
	m := axial(brick(0.06, 0.04, 0.02), 0, 1.2)
	for b.Loop() {
		m.Potential(r3.Vec{X: 0.02, Y: 0.01, Z: 0.02})
	}
}

func BenchmarkForce(b *testing.B) {
	below, above := axial(brick(0.05, 0.05, 0.025), 0, 1.3), axial(brick(0.05, 0.05, 0.025), 0.035, 1.3)
	for b.Loop() {
		Force(below, above)
	}
}

func BenchmarkForceInContact(b *testing.B) {
	below, above := axial(brick(0.05, 0.05, 0.025), 0, 1.3), axial(brick(0.05, 0.04, 0.025), 0.025, 1.3)
	for b.Loop() {
		Force(below, above)
	}
}

// One polarization along an edge and one along none, of a turned block: what the batch spends on a point. All cores together should do 10 million a
// second: with two, 200 ns each.
func BenchmarkBlock(b *testing.B) {
	rng := rand.New(rand.NewPCG(1, 1))
	points := make([]r3.Vec, 1024)
	for i := range points {
		points[i] = anyVec(rng, 0.1)
	}
	for _, tt := range []struct {
		name string
		j    r3.Vec
	}{{"along an edge", r3.Vec{Z: 1}}, {"any direction", r3.Vec{X: 0.3, Y: 0.2, Z: 1}}} {
		rot := shape.Euler(0.3, 0.2, 0.1)
		body := prepare(Magnet{brick(0.06, 0.04, 0.02), shape.Placement{Rot: rot}, rot.Apply(tt.j)})
		body.local = tt.j
		b.Run(tt.name, func(b *testing.B) {
			i := 0
			for b.Loop() {
				body.field(points[i&1023])
				i++
			}
			b.ReportMetric(float64(b.N)/b.Elapsed().Seconds()*float64(runtime.GOMAXPROCS(0))/1e6, "Mevaluations/s")
		})
	}
}

// ringsOfCubes are n cubes of 12 mm in rings about z, polarized at twice their angle.
func ringsOfCubes(n int) (s Sources) {
	for i := range n {
		sin, cos := math.Sincos(2 * math.Pi * float64(i%80) / 80)
		r := 0.15 + 0.02*float64(i/80%2)
		s = append(s, Magnet{brick(0.012, 0.012, 0.012),
			shape.Placement{Center: r3.Vec{X: r * cos, Y: r * sin, Z: 0.022 * float64(i/160)}, Rot: shape.Euler(0, 0, 4*math.Pi*float64(i%80)/80)},
			r3.Vec{X: 1.4 * (cos*cos - sin*sin), Y: 2.8 * sin * cos}})
	}
	return s
}

// A point of 2000 blocks, in the bore and about it: 100,000 of them should take under 10 s on two cores.
func BenchmarkAssembly(b *testing.B) {
	s := ringsOfCubes(2000)
	a := Assemble(s)
	rng := rand.New(rand.NewPCG(1, 1))
	points := make([]r3.Vec, 1000)
	for i := range points {
		points[i] = r3.Add(r3.Vec{Z: 0.12}, anyVec(rng, 0.1))
	}
	out := make([]r3.Vec, len(points))
	b.Run("1000 points", func(b *testing.B) {
		for b.Loop() {
			a.Fields(points, out, nil)
		}
	})
	b.Run("one by one", func(b *testing.B) {
		i := 0
		for b.Loop() {
			s.B(points[i%len(points)])
			i++
		}
	})
	b.Run("assemble", func(b *testing.B) {
		for b.Loop() {
			Assemble(s)
		}
	})
}

// The forces among 300 magnets: turned cubes in rings, and blocks with parallel edges in contact. Under 2 s on two cores.
func BenchmarkForces(b *testing.B) {
	var wall Sources
	for i := range 300 {
		wall = append(wall, Magnet{brick(0.01, 0.01, 0.01),
			shape.Placement{Center: r3.Vec{X: 0.01 * float64(i%10), Y: 0.01 * float64(i/10%10), Z: 0.0101 * float64(i/100)}, Rot: shape.Identity()},
			r3.Vec{X: math.Sin(float64(i)), Y: 0.5, Z: math.Cos(float64(i))}})
	}
	for _, tt := range []struct {
		name string
		s    Sources
	}{{"rings of cubes", ringsOfCubes(300)}, {"wall of blocks", wall}} {
		a := Assemble(tt.s)
		b.Run(tt.name, func(b *testing.B) {
			for b.Loop() {
				a.Forces(nil)
			}
		})
	}
}

func BenchmarkCoil(b *testing.B) {
	for _, tt := range []struct {
		name string
		c    Coil
	}{{"ring", ringCoil(0.2, 0.15, 0.1, 1000)}, {"racetrack", trackCoil()}} {
		for _, at := range []struct {
			name string
			p    r3.Vec
		}{{"bore", r3.Vec{X: 0.03, Z: 0.01}}, {"winding", r3.Vec{X: 0.09, Y: 0.01, Z: 0.02}}, {"outside", r3.Vec{X: 0.3, Z: 0.2}}} {
			b.Run(tt.name+"/"+at.name, func(b *testing.B) {
				for b.Loop() {
					tt.c.H(at.p)
				}
			})
		}
	}
}
