package polewright

import (
	"fmt"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"
)

// TestForceOnAskewSteel: a disc of steel on the face of a magnet, or a rod that touches it along a line, once alone, where the grid follows it, and
// once with a disc far off whose axis is another one, so that the grid cuts the first. The far disc hardly feels the magnet (0.03 N). The force is the
// same within 8 %, for so much of it hangs on the field at the rim of the cut disc at draft (2.7 % at standard), and what the parts do to each other
// sums to zero within 2 %. All values are invented.
func TestForceOnAskewSteel(t *testing.T) {
	const magnet = `format = 1
[target]
field = "0.3 T"
region = { shape = "sphere", diameter = "2 mm", center = ["-30 mm", "0 mm", "0 mm"] }
[[magnet]]
name = "magnet"
shape = "block"
size = ["20 mm", "30 mm", "24 mm"]
center = ["0 mm", "0 mm", "0 mm"]
magnetized = [1, 0, 0]
remanence = "1.3 T"
recoil = 1.05
`
	disc := func(name, diameter, thickness, axis, x, z string) string {
		return fmt.Sprintf("[[steel]]\nname = %q\nshape = \"disc\"\ndiameter = %q\nthickness = %q\naxis = %q\ncenter = [%q, \"0 mm\", %q]\nmaterial = \"steel-1018\"\n", name, diameter, thickness, axis, x, z)
	}
	far := disc("far", "24 mm", "6 mm", "z", "0 mm", "60 mm")
	for _, c := range []struct{ name, steel string }{
		{"disc", disc("steel", "20 mm", "6 mm", "x", "13 mm", "0 mm")},
		{"rod", disc("steel", "12 mm", "30 mm", "y", "16 mm", "0 mm")},
	} {
		forces := func(text string) (on, sum r3.Vec) {
			s, err := Run(t.Context(), read(t, text), Options{Accuracy: Draft, NoLedger: true, NoDemagnetization: true})
			if err != nil {
				t.Fatal(err)
			}
			for _, p := range s.Result.Parts {
				f := vector(p.Force)
				sum = r3.Add(sum, f)
				if p.Name == "steel" {
					on = f
				}
			}
			return on, sum
		}
		want, _ := forces(magnet + c.steel)
		got, sum := forces(magnet + c.steel + far)
		t.Logf("%s: %.2f N followed, %.2f N cut, %.2f N over", c.name, want, got, sum)
		if off := r3.Norm(r3.Sub(got, want)) / r3.Norm(want); off > 0.08 {
			t.Errorf("%s: %.2f N where the grid cuts it, %.2f N where it does not: %.1f %% off", c.name, got, want, 100*off)
		}
		if r3.Norm(sum) > 0.02*r3.Norm(got) {
			t.Errorf("%s: the forces leave %.2f N over", c.name, sum)
		}
	}
}
