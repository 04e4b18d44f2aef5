package result

import (
	"math"

	"gonum.org/v1/gonum/integrate/quad"
	"gonum.org/v1/gonum/spatial/r3"
)

// Volume is a body of space about its centre that every straight line from there leaves once.
type Volume interface {
	// Rim is how far the surface is from the centre along a unit vector, m.
	Rim(d r3.Vec) float64
	// Rule gives points for a mean over the volume, exact for polynomials of degree 2n-1.
	Rule(n int) []RulePoint
	// Corners are unit vectors to where the surface has an edge or a corner, where extremes like to lie.
	Corners() []r3.Vec
}

// RulePoint is a point, from the centre, m, and its weight; all weights of a rule add up to 1.
type RulePoint struct {
	D      r3.Vec
	Weight float64
}

// Sphere is a ball.
type Sphere struct{ Radius float64 }

// Cylinder has its axis along the world axis 0, 1 or 2.
type Cylinder struct {
	Radius, Length float64
	Axis           int
}

// Box has the full edges Size along the world axes.
type Box struct{ Size r3.Vec }

// Rim implements Volume.
func (s Sphere) Rim(r3.Vec) float64 { return s.Radius }

// Rim implements Volume.
func (c Cylinder) Rim(d r3.Vec) float64 {
	a := [3]float64{d.X, d.Y, d.Z}
	return math.Min(c.Radius/math.Hypot(a[(c.Axis+1)%3], a[(c.Axis+2)%3]), c.Length/2/math.Abs(a[c.Axis]))
}

// Rim implements Volume.
func (b Box) Rim(d r3.Vec) float64 {
	return math.Min(b.Size.X/2/math.Abs(d.X), math.Min(b.Size.Y/2/math.Abs(d.Y), b.Size.Z/2/math.Abs(d.Z)))
}

// Corners implements Volume: a sphere has none.
func (Sphere) Corners() []r3.Vec { return nil }

// Corners implements Volume.
func (c Cylinder) Corners() (list []r3.Vec) {
	const around = 32
	for k := range around {
		sin, cos := math.Sincos(2 * math.Pi * float64(k) / around)
		for _, z := range []float64{-c.Length / 2, c.Length / 2} {
			list = append(list, r3.Unit(c.point(c.Radius*cos, c.Radius*sin, z)))
		}
	}
	return list
}

// point carries a point of the cylinder's own frame, axis last, to world axes.
func (c Cylinder) point(u, v, w float64) r3.Vec {
	var a [3]float64
	a[(c.Axis+1)%3], a[(c.Axis+2)%3], a[c.Axis] = u, v, w
	return r3.Vec{X: a[0], Y: a[1], Z: a[2]}
}

// Corners implements Volume: the corners and the middles of edges of a box.
func (b Box) Corners() (list []r3.Vec) {
	for i := -1; i <= 1; i++ {
		for j := -1; j <= 1; j++ {
			for k := -1; k <= 1; k++ {
				if i*i+j*j+k*k >= 2 {
					list = append(list, r3.Unit(r3.Vec{X: float64(i) * b.Size.X, Y: float64(j) * b.Size.Y, Z: float64(k) * b.Size.Z}))
				}
			}
		}
	}
	return list
}

// legendre is Gauss's rule on an interval.
func legendre(n int, lo, hi float64) (x, w []float64) {
	x, w = make([]float64, n), make([]float64, n)
	quad.Legendre{}.FixedLocations(x, w, lo, hi)
	return x, w
}

// Rule implements Volume: Gauss's rule along the radius and the polar axis, equal steps of azimuth.
func (s Sphere) Rule(n int) (points []RulePoint) {
	r, wr := legendre(n+1, 0, s.Radius) // r^2 raises the degree by two
	z, wz := legendre(n, -1, 1)
	for i := range r {
		for j := range z {
			h := math.Sqrt(1 - z[j]*z[j])
			for k := range 2 * n {
				sin, cos := math.Sincos(math.Pi * float64(k) / float64(n))
				points = append(points, RulePoint{r3.Scale(r[i], r3.Vec{X: h * cos, Y: h * sin, Z: z[j]}),
					wr[i] * r[i] * r[i] * wz[j] / (2 * float64(n)) * 3 / (2 * math.Pow(s.Radius, 3))})
			}
		}
	}
	return points
}

// Rule implements Volume: Gauss's rule along the radius and the length, equal steps of azimuth.
func (c Cylinder) Rule(n int) (points []RulePoint) {
	r, wr := legendre(n+1, 0, c.Radius)
	z, wz := legendre(n, -c.Length/2, c.Length/2)
	for i := range r {
		for j := range z {
			for k := range 2 * n {
				sin, cos := math.Sincos(math.Pi * float64(k) / float64(n))
				points = append(points, RulePoint{c.point(r[i]*cos, r[i]*sin, z[j]),
					wr[i] * r[i] * wz[j] / (2 * float64(n)) * 2 / (c.Radius * c.Radius * c.Length)})
			}
		}
	}
	return points
}

// Rule implements Volume: Gauss's rule along each edge.
func (b Box) Rule(n int) (points []RulePoint) {
	x, wx := legendre(n, -b.Size.X/2, b.Size.X/2)
	y, wy := legendre(n, -b.Size.Y/2, b.Size.Y/2)
	z, wz := legendre(n, -b.Size.Z/2, b.Size.Z/2)
	volume := b.Size.X * b.Size.Y * b.Size.Z
	for i := range x {
		for j := range y {
			for k := range z {
				points = append(points, RulePoint{r3.Vec{X: x[i], Y: y[j], Z: z[k]}, wx[i] * wy[j] * wz[k] / volume})
			}
		}
	}
	return points
}
