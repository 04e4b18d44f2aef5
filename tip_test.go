package polewright

import (
	"context"
	"math"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"polewright/result"
)

// A pot with pole tips and a coil in it, all invented.
func tippedPot() string {
	s := pot(40, 10, 28, 8)
	s.tip("upper tip", 36, 22, 9, 9.5, true).tip("lower tip", 36, 22, 9, -9.5, false)
	s.part("coil", "trim", "shape = \"ring\"\nampere_turns = \"500 A\"\naxis = \"z\"\ncenter = %s\nheight = \"8 mm\"\nouter_diameter = \"58 mm\"\ninner_diameter = \"50 mm\"", triple(0, 0, 0))
	return "format = 1\ntitle = \"pot with tips, invented\"\n[target]\nfield = \"0.5 T\"\nregion = { shape = \"sphere\", diameter = \"4 mm\", center = [\"0 mm\",\"0 mm\",\"0 mm\"] }\n" + s.String()
}

// The half plane and the stretched plan in three dimensions are two ways to one answer: they share no mesh, no element and no solver. They
// agree in the gap within both error estimates and one part in a thousand, in the tips' mean flux density within 1 %, and in the force
// between the halves and on a magnet within 1 %.
func TestTipsTwoWays(t *testing.T) {
	a, err := newAssembly(read(t, tippedPot()))
	if err != nil {
		t.Fatal(err)
	}
	use := condition{temperatureC: roomTemperatureC, joints: true}
	quiet := func(string, float64) {}
	var flat, solid result.Solver
	middle := Plane{Axis: 2}
	o := Options{Accuracy: Standard, Halves: []Plane{middle}}
	v, ok := a.revolution(o.Halves)
	if !ok {
		t.Fatal("the pot is not seen as a body of revolution")
	}
	half, err := v.solve(context.Background(), use, o, quiet, &flat)
	if err != nil {
		t.Fatal(err)
	}
	full, err := a.solve(context.Background(), use, o, quiet, &solid)
	if err != nil {
		t.Fatal(err)
	}
	if len(full.Problem.Grids.Warps) != 1 || len(full.Problem.Unfitted) != 0 {
		t.Fatalf("%d warps, %d bodies not followed", len(full.Problem.Grids.Warps), len(full.Problem.Unfitted))
	}
	b, _ := half.At(r3.Vec{})
	c, _ := full.At(r3.Vec{})
	t.Logf("gap %.6f T in the half plane (%d unknowns, %.3f %%), %.6f T in space (%d unknowns, %.3f %%)", b.Z, flat.Unknowns, flat.EstimatedError, c.Z, solid.Unknowns, solid.EstimatedError)
	if off := 100 * math.Abs(b.Z-c.Z) / b.Z; off > flat.EstimatedError+solid.EstimatedError+0.1 {
		t.Errorf("the gap fields are %.3f %% apart", off)
	}
	x, y := half.Bodies(), full.Bodies()
	for i, p := range a.parts {
		if p.Name != "upper tip" {
			continue
		}
		if math.Abs(x[i].MeanB1/y[i].MeanB1-1) > 1e-2 || math.Abs(y[i].Volume/p.Solid.Volume()-1) > 1e-3 {
			t.Errorf("%s: mean %.5f T and %.5f T, volume %.5g and %.5g m3", p.Name, x[i].MeanB1, y[i].MeanB1, y[i].Volume, p.Solid.Volume())
		}
	}
	// Forces on parts in contact take the flux of their faces from the equations; what is left at the inner edge of the lid's seat on the wall,
	// where the flux density of the steel has no bound, costs most.
	bodies, _ := half.Forces()
	parts, _ := full.Forces()
	for i, p := range a.parts {
		within := map[string]float64{"upper": 0.01, "upper tip": 0.02, "lid": 0.03}[p.Name]
		if within > 0 && math.Abs(parts[i].Z/bodies[i].Z-1) > within {
			t.Errorf("%s: %.3f N in the half plane and %.3f N in space", p.Name, bodies[i].Z, parts[i].Z)
		}
	}
	fx, err := half.Half(middle)
	if err != nil {
		t.Fatal(err)
	}
	fy, err := full.Half(middle)
	if err != nil {
		t.Fatal(err)
	}
	if math.Abs(fx.Z/fy.Z-1) > 0.01 {
		t.Errorf("between the halves: %.3f N and %.3f N", fx.Z, fy.Z)
	}
}
