//go:build long

package magnetostatic

import (
	"math"
	"runtime"
	"testing"
	"time"

	"gonum.org/v1/gonum/spatial/r3"

	"polewright/freefield"
	"polewright/grid"
	"polewright/material"
	"polewright/shape"
)

// The same checks as in the other files, on larger grids: go test -tags long.

func TestFramedPairConvergesLong(t *testing.T) {
	for _, leg := range []float64{6, 4} {
		checkConvergence(t, leg, true)
	}
}

func TestNewtonFromZeroLong(t *testing.T) {
	for _, leg := range []float64{12, 6, 4} {
		checkNewtonFromZero(t, leg, 1)
	}
}

// About 100 thousand against 2 million unknowns, and more.
func TestCyclesDoNotGrowLong(t *testing.T) {
	n1, c1 := cyclesAt(t, lay(t, framedPair(6), 2, 1.1), 1)
	n2, c2 := cyclesAt(t, lay(t, framedPair(6), 4, 0.65), 3)
	if float64(c2) > 1.5*float64(c1) {
		t.Errorf("%d unknowns take %d cycles, %d take %d", n1, c1, n2, c2)
	}
	if n1 > 150e3 || n2 < 1.5e6 {
		t.Errorf("%d and %d unknowns are not the sizes meant here", n1, n2)
	}
}

func TestForcesBalanceLong(t *testing.T) {
	checkBalance(t, 3, 0.001)
}

func TestSymmetryChangesNothingLong(t *testing.T) {
	checkSymmetryChangesNothing(t, 1, 5e-4)
}

// Four million nonlinear unknowns in 4 GiB; 54 s of one core were seen, in all. The memory that is estimated is what is taken, to a third. The
// time is only logged: how much of the machine the test gets is not known.
func TestFourMillionLong(t *testing.T) {
	var before, after runtime.MemStats
	p := pairProblem(t, 6, 1.30, 1.95, 3)
	n := p.Grids.Grid[2].Unknowns()
	if n < 4e6 || n > 5e6 {
		t.Fatalf("%d unknowns are not the size meant here", n)
	}
	runtime.GC()
	runtime.ReadMemStats(&before)
	start := time.Now()
	s := solved(t, p)
	took := time.Since(start)
	runtime.ReadMemStats(&after)
	taken := float64(after.Sys)
	t.Logf("%d unknowns: %v, %d steps, %d cycles, %.2f GB (estimated %.2f GB)", n, took, s.Effort.NewtonSteps, s.Effort.Cycles, taken/1e9, float64(Memory(p.Grids))/1e9)
	if taken > 4<<30 {
		t.Errorf("%.2f GB are too much", taken/1e9)
	}
	if r := float64(Memory(p.Grids)) / taken; r < 0.67 || r > 1.33 {
		t.Errorf("estimated to take %.2f of what it took", r)
	}
}

// Two sectors of a ring with their charge on the arcs. 2.5 % is asked, 2 % was reached, where 7 % was while the closed forms were taken on the outer side
// of arcs: a quadratic edge lies within the circle, which on the bore is outside the magnet.
func TestTouchingSectorsLong(t *testing.T) {
	sector := func(name string, material int, from float64, j r3.Vec) grid.Body {
		return grid.Body{Name: name, Solid: shape.Wedge{OuterDiameter: 80e-3, InnerDiameter: 30e-3, Thickness: 80e-3, From: from, To: from + math.Pi/4},
			Place: shape.Placement{Rot: shape.Identity()}, Material: material, Polarization: j, MustFit: true}
	}
	againstPieces(t, 2, 1, 0.025, []grid.Body{sector("radial", 1, 3*math.Pi/8, r3.Vec{Y: 1.3}), sector("next", 2, 5*math.Pi/8, r3.Vec{X: -1.3})})
}

// Magnets with recoil that touch: four blocks in a ring, each with its pole on the next one's side, against the same in eight pieces each, which is known
// to 0.7 % by pieces of half the size. 4 % is asked, 3 % was reached, where 6.5 % was before the fit of the field ended at faces that touch.
func TestTouchingMagnetsLong(t *testing.T) {
	againstPieces(t, 2, 0.7, 0.04, []grid.Body{
		block("a", 1, mm(20, 20, 20), mm(-10, 0, -10), r3.Vec{Z: 1.3}), block("b", 2, mm(20, 20, 20), mm(10, 0, -10), r3.Vec{X: 1.3}),
		block("c", 3, mm(20, 20, 20), mm(10, 0, 10), r3.Vec{Z: -1.3}), block("d", 4, mm(20, 20, 20), mm(-10, 0, 10), r3.Vec{X: -1.3}),
	})
}

func againstPieces(t *testing.T, cuts int, density, tolerance float64, bodies []grid.Body) {
	const recoil = 1.05
	g := lay(t, bodies, 2, density)
	s := solved(t, &Problem{Grids: g, Media: media(t, g.Axis, bodies, "steel-1018", recoil)})
	forces, _ := s.Forces(centers(bodies))
	want := inPieces(sources(bodies), recoil, cuts)
	var largest float64
	for _, f := range want {
		largest = math.Max(largest, r3.Norm(f))
	}
	for i := range want {
		t.Logf("%s %.2f N, in pieces %.2f", bodies[i].Name, forces[i], want[i])
		if e := r3.Norm(r3.Sub(forces[i], want[i])) / largest; !(e < tolerance) {
			t.Errorf("the force on %s is %.2f N, in pieces %.2f", bodies[i].Name, forces[i], want[i])
		}
	}
}

// inPieces are the forces on magnets with recoil, cut into so many pieces along each edge, of which each takes the polarization that the field of all
// induces in it on the mean: those between the pieces, by package freefield (the method of moments; Harrington 1968).
func inPieces(magnets freefield.Sources, recoil float64, cuts int) []r3.Vec {
	var bare freefield.Sources
	var of []int
	var points [][]r3.Vec // in each piece
	n := float64(cuts)
	for i, m := range magnets {
		for k := range cuts * cuts * cuts {
			at := [3]float64{float64(k % cuts), float64(k / cuts % cuts), float64(k / cuts / cuts)}
			off := func(axis int, size float64) float64 { return (at[axis] + 0.5 - n/2) * size / n }
			piece := m
			switch solid := m.Solid.(type) {
			case shape.Block:
				piece.Solid = shape.Block{Size: r3.Scale(1/n, solid.Size)}
				piece.Place.Center = m.Place.ToWorld(r3.Vec{X: off(0, solid.Size.X), Y: off(1, solid.Size.Y), Z: off(2, solid.Size.Z)})
			case shape.Wedge:
				across, span := (solid.OuterDiameter-solid.InnerDiameter)/n, solid.Span()/n
				in, from := solid.InnerDiameter+at[0]*across, solid.From+at[1]*span
				piece.Solid = shape.Wedge{InnerDiameter: in, OuterDiameter: in + across, From: from, To: from + span, Thickness: solid.Thickness / n}
				piece.Place.Center = m.Place.ToWorld(r3.Vec{Z: off(2, solid.Thickness)})
			}
			bare, of, points = append(bare, piece), append(of, i), append(points, within(piece))
		}
	}
	all := append(freefield.Sources{}, bare...)
	for range 6 {
		next := append(freefield.Sources{}, all...)
		for i := range next {
			var h r3.Vec
			for _, p := range points[i] {
				h = r3.Add(h, r3.Scale(1/float64(len(points[i])), all.H(p)))
			}
			next[i].Polarization = r3.Add(bare[i].Polarization, r3.Scale(material.Mu0*(recoil-1), h))
		}
		all = next
	}
	total := make([]r3.Vec, len(magnets))
	for i := range all {
		var others freefield.Sources
		for k := range all {
			if of[k] != of[i] {
				others = append(others, all[k])
			}
		}
		f, _ := others.Force(all[i])
		total[of[i]] = r3.Add(total[of[i]], f)
	}
	return total
}

// within are eight points of a block or a sector, Gauss's rule of two points along each edge.
func within(m freefield.Magnet) (points []r3.Vec) {
	for k := range 8 {
		var u [3]float64
		for axis := range u {
			u[axis] = float64(2*(k>>axis&1)-1) / (2 * math.Sqrt(3))
		}
		var p r3.Vec
		switch solid := m.Solid.(type) {
		case shape.Block:
			p = r3.Vec{X: u[0] * solid.Size.X, Y: u[1] * solid.Size.Y, Z: u[2] * solid.Size.Z}
		case shape.Wedge:
			r := (solid.InnerDiameter + (0.5+u[0])*(solid.OuterDiameter-solid.InnerDiameter)) / 2
			sin, cos := math.Sincos(solid.From + (0.5+u[1])*solid.Span())
			p = r3.Vec{X: r * cos, Y: r * sin, Z: u[2] * solid.Thickness}
		}
		points = append(points, m.Place.ToWorld(p))
	}
	return points
}
