//go:build long

package polewright

import (
	"context"
	"math"
	"testing"
)

// A foil of steel 0.1 mm thick and 1 m long, 10,000 times its thickness, lies 100 mm behind a magnet. It carries at most 2.2 T over 0.1 mm, so
// it moves the field before the magnet by little: by superposition, a sheet of the dipole moment a length 2.2 T x 0.1 mm / mu0 gives at the
// distance d = 125 mm at most 2.2 T x 0.1 mm/(2 d) = 0.9 mT, a bound for any magnetization of it.
func TestThinPlate(t *testing.T) {
	o := Options{Accuracy: Draft, NoLedger: true, NoDemagnetization: true, FieldOnly: true}
	bare, err := Run(context.Background(), read(t, barePair), o)
	if err != nil {
		t.Fatal(err)
	}
	with, err := Run(context.Background(), read(t, barePair+`
[[steel]]
name = "foil"
shape = "block"
size = ["1000 mm", "200 mm", "0.1 mm"]
center = ["0 mm", "0 mm", "-100 mm"]
material = "steel-1018"
`), o)
	if err != nil {
		t.Fatal(err)
	}
	a, b := bare.Result.Probes[0].B[2], with.Result.Probes[0].B[2]
	t.Logf("%d unknowns, %d steps, %d cycles: %.5f T, without the foil %.5f T", with.Result.Solver.Unknowns, with.Result.Solver.NewtonSteps, with.Result.Solver.Cycles, b, a)
	if d := math.Abs(b - a); !(d < 0.9e-3+0.005*a) {
		t.Errorf("the foil changes %g T to %g T", a, b)
	}
}
