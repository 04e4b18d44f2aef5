package magnetostatic

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"polewright/grid"
	"polewright/material"
	"polewright/shape"
)

// roundCoil is a ring coil about a world axis through a centre.
type roundCoil struct {
	axis                 int
	center               r3.Vec
	inner, outer, height float64 // radii, m
	ampereTurns          float64
}

// winding is the coil as a body of the grid.
func (c roundCoil) winding() grid.Body {
	var j r3.Vec
	*[3]*float64{&j.X, &j.Y, &j.Z}[c.axis] = material.Mu0 * c.ampereTurns / c.height
	return grid.Body{Name: "coil", Solid: shape.Ring{OuterDiameter: 2 * c.outer, InnerDiameter: 2 * c.inner, Thickness: c.height},
		Place: shape.Placement{Center: c.center, Rot: shape.AxisTo(c.axis)}, Polarization: j}
}

// planes is the box whose faces the grid has to contain.
func (c roundCoil) planes() grid.Body {
	return grid.Body{Name: "coil's end planes", Solid: shape.Block{Size: r3.Vec{X: 2 * c.outer, Y: 2 * c.outer, Z: c.height}},
		Place: shape.Placement{Center: c.center, Rot: shape.AxisTo(c.axis)}}
}

func (c roundCoil) source(g *grid.Grids) Coil {
	k := (c.axis - g.Axis + 2) % 3
	at := grid.Frame(g.Axis, r3.Sub(c.center, g.Center))
	s := Coil{Axis: k}
	for i := range 3 {
		half := c.outer
		if i == k {
			half = c.height / 2
		}
		s.Min[i], s.Max[i] = at[i]-half-1e-9, at[i]+half+1e-9
	}
	s.T = func(q [3]float64) (t Vec) {
		i, j := (k+1)%3, (k+2)%3
		r := math.Hypot(q[i]-at[i], q[j]-at[j])
		t[k] = c.ampereTurns / c.height * math.Min(1, math.Max(0, (c.outer-r)/(c.outer-c.inner)))
		return t
	}
	s.Distance = func(q [3]float64) float64 {
		i, j := (k+1)%3, (k+2)%3
		r := math.Hypot(q[i]-at[i], q[j]-at[j])
		return math.Hypot(math.Max(0, math.Max(c.inner-r, r-c.outer)), math.Max(0, math.Abs(q[k]-at[k])-c.height/2))
	}
	s.Moment[k] = c.ampereTurns * math.Pi / 3 * (c.outer*c.outer + c.outer*c.inner + c.inner*c.inner)
	return s
}

// onAxis is B (T) on the axis of a coil of uniform current density at a distance z from its middle (Montgomery 1969, Solenoid Magnet
// Design, section 1.2; the integral of the loops' field over the winding).
func (c roundCoil) onAxis(z float64) float64 {
	f := func(z float64) float64 {
		return z * math.Log((c.outer+math.Hypot(c.outer, z))/(c.inner+math.Hypot(c.inner, z)))
	}
	j := c.ampereTurns / c.height / (c.outer - c.inner)
	return material.Mu0 * j / 2 * (f(z+c.height/2) - f(z-c.height/2))
}

// A coil in free space has the textbook's field on its axis, in the bore, at the end plane and beyond it, whether the grid's plan shows the
// coil's circles or its side. Measured: 3e-5 along the plan's axis and 6e-4 across it, where the corners of the winding are not followed.
func TestThickSolenoid(t *testing.T) {
	for axis, tolerance := range map[int]float64{2: 1e-4, 0: 1e-3} {
		c := roundCoil{axis: axis, inner: 0.03, outer: 0.05, height: 0.1, ampereTurns: 1000}
		// A disc of air holds the grid's axis along z.
		disc := grid.Body{Name: "air", Solid: shape.Disc{Diameter: 0.01, Thickness: 0.01}, Place: shape.Placement{Rot: shape.Identity()}, Material: 1, MustFit: true}
		g, err := grid.Build(grid.Spec{Bodies: []grid.Body{disc, c.winding()}, Marks: []grid.Body{c.planes()}, Focus: []r3.Vec{{}}, Radius: 4e-3, Levels: 2, Density: 1})
		if err != nil {
			t.Fatal(err)
		}
		s := solved(t, &Problem{Grids: g, Media: []Medium{Air(), Air()}, Coils: []Coil{c.source(g)}})
		var dir r3.Vec
		*[3]*float64{&dir.X, &dir.Y, &dir.Z}[axis] = 1
		middle := c.onAxis(0)
		e, err := s.Inside(r3.Scale(0.052, dir), 0.01) // about the end plane
		if err != nil {
			t.Fatal(err)
		}
		for _, z := range []float64{0, 0.02, 0.045, 0.052, 0.06, 0.09, 0.3, 1} {
			b, _ := s.At(r3.Scale(z, dir))
			if off := math.Abs(r3.Dot(b, dir)-c.onAxis(z)) / middle; off > tolerance {
				t.Errorf("along %d at %g m: %.6g T, want %.6g (off by %.1e of the middle's)", axis, z, r3.Dot(b, dir), c.onAxis(z), off)
			}
			if math.Abs(z-0.052) < 0.009 {
				if off := math.Abs(r3.Dot(e.Field(r3.Scale(z, dir)), dir)-c.onAxis(z)) / middle; off > tolerance {
					t.Errorf("along %d at %g m: expanded about the end plane it is off by %.1e", axis, z, off)
				}
			}
		}
		// Far away only the moment counts: mu0 m/(2 pi z^3), with the loops' own next term below 1e-3 at 3 m.
		b, _ := s.At(r3.Scale(3, dir))
		far := material.Mu0 * r3.Norm(s.Moment()) / (2 * math.Pi * 27)
		if math.Abs(r3.Dot(b, dir)/far-1) > 3e-3 {
			t.Errorf("along %d: %.4g T at 3 m, a dipole of its moment gives %.4g", axis, r3.Dot(b, dir), far)
		}
	}
}

// Ampere's law round a coil on a steel core: H along any closed path gives the ampere-turns that the path goes round. The path runs up in
// the core, where T and grad phi nearly cancel, out of its end, and back outside; another one stays outside and gets nothing. The
// recovered field near the core's corners allows 1 %.
func TestAmpere(t *testing.T) {
	c := roundCoil{axis: 2, inner: 0.012, outer: 0.02, height: 0.04, ampereTurns: 3000}
	core := block("core", 2, mm(12, 12, 80), r3.Vec{}, r3.Vec{})
	bodies := []grid.Body{core, c.winding()}
	g, err := grid.Build(grid.Spec{Bodies: bodies, Marks: []grid.Body{c.planes()}, Focus: []r3.Vec{{}}, Levels: 2, Density: 1})
	if err != nil {
		t.Fatal(err)
	}
	steel, err := material.SteelNamed("steel-1018")
	if err != nil {
		t.Fatal(err)
	}
	s := solved(t, &Problem{Grids: g, Media: []Medium{{Curve: steel.Curve}, Air()}, Coils: []Coil{c.source(g)}, Dipole: r3.Vec{Z: 1}})
	circulation := func(corners ...r3.Vec) (sum float64) {
		for i, a := range corners {
			d := r3.Sub(corners[(i+1)%len(corners)], a)
			const n = 400
			for k := range n {
				_, h := s.At(r3.Add(a, r3.Scale((float64(k)+0.5)/n, d)))
				sum += r3.Dot(h, d) / n
			}
		}
		return sum
	}
	if got := circulation(mm(1, 1, -50), mm(1, 1, 50), mm(40, 3, 50), mm(40, 3, -50)); math.Abs(got+3000) > 30 && math.Abs(got-3000) > 30 {
		t.Errorf("round the winding %.1f A, want 3000", got)
	}
	if got := circulation(mm(25, 1, -50), mm(25, 1, 50), mm(60, 3, 50), mm(60, 3, -50)); math.Abs(got) > 3 {
		t.Errorf("outside the winding %.2f A, want none", got)
	}
}
