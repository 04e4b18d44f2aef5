//go:build long

package polewright

import (
	"context"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"
)

// A closed ring of wedges, each between two others: the forces on a grid, of mirror images too, are those of closed forms up to what a recoil of 1.001 and
// the fields at common edges make of them.
func TestForcesInRing(t *testing.T) {
	forces := func(recoil float64) (list []r3.Vec) {
		d := template(t, "halbach-wedges")
		for i := range d.Magnets {
			d.Magnets[i].Material.RecoilPermeability, d.Magnets[i].CoatingM = recoil, 0
		}
		s, err := Run(context.Background(), d, Options{Accuracy: Draft, NoLedger: true, NoDemagnetization: true})
		if err != nil {
			t.Fatal(err)
		}
		if method := s.Result.Solver.Method; (method == "free-field") != (recoil == 1) {
			t.Fatalf("recoil %g is solved by %q", recoil, method)
		}
		for _, p := range s.Result.Parts {
			list = append(list, r3.Vec{X: p.Force[0], Y: p.Force[1], Z: p.Force[2]})
		}
		return list
	}
	want := forces(1)
	for i, f := range forces(1.001) {
		if r3.Norm(r3.Sub(f, want[i])) > 0.02*r3.Norm(want[i]) {
			t.Errorf("wedge %d: %v N on the grid, %v N in closed form", i+1, f, want[i])
		}
	}
}
