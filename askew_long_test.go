//go:build long

package polewright

import (
	"context"
	"fmt"
	"math"
	"strings"
	"testing"

	"polewright/design"
	"polewright/shape"
)

// Steel that no grid follows: a pair of magnets with bars beside them, plates behind them, a plate on one of them and poles in their gap, once along
// the axes, where the grid follows all of it to 0.1 %; once with the steel turned by a thousandth of a degree, and once turned as a whole, where all of it
// is cut and the magnets are exact sources. The field in the gap is the same within its estimated error, and within 0.5 to 1.5 %; within 2.5 % between poles of 4 mm
// that stand right at it. Without the steel the field is 3 to 26 % lower.
func TestAskewSteelLong(t *testing.T) {
	const magnets = "upper 40 40 10 0 0 15\nlower 40 40 10 0 0 -15\n"
	for _, c := range []struct {
		name, steels string
		percent      float64
	}{
		{"bars", "left 10 60 50 -40 0 0\nright 10 60 50 40 0 0\n", 1},
		{"plates", "top 60 60 8 0 0 26\nbottom 60 60 8 0 0 -26\n", 1.5},
		{"lid", "top 40 40 8 0 0 24.1\n", 0.5},
		{"poles", "top 20 20 4 0 0 7.5\nbottom 20 20 4 0 0 -7.5\n", 2.5},
	} {
		solved := func(whole, steel shape.Rotation, angles string, accuracy Accuracy) (b float64, s *Solved) {
			text := "format = 1\n[target]\nfield = \"0.3 T\"\n"
			part := func(line string, kind string, turn bool) {
				var name string
				var size, at [3]float64
				if _, err := fmt.Sscan(line, &name, &size[0], &size[1], &size[2], &at[0], &at[1], &at[2]); err != nil {
					t.Fatal(err)
				}
				p := whole.Apply(vector(at))
				text += fmt.Sprintf("[[%s]]\nname = %q\nshape = \"block\"\nsize = [\"%g mm\", \"%g mm\", \"%g mm\"]\ncenter = [\"%.9f mm\", \"%.9f mm\", \"%.9f mm\"]\n",
					kind, name, size[0], size[1], size[2], p.X, p.Y, p.Z)
				if turn {
					text += "rotate = " + angles + "\n"
				}
			}
			for line := range strings.Lines(magnets) {
				part(line, "magnet", whole != shape.Identity())
				text += "magnetized = [0, 0, 1]\nremanence = \"1.3 T\"\nrecoil = 1.05\n"
			}
			for line := range strings.Lines(c.steels) {
				part(line, "steel", steel != shape.Identity())
				text += "material = \"steel-1018\"\n"
			}
			d, err := design.Read(strings.NewReader(text), c.name)
			if err != nil {
				t.Fatal(err)
			}
			s, err = Run(context.Background(), d, Options{Accuracy: accuracy, NoLedger: true, NoDemagnetization: true})
			if err != nil {
				t.Fatal(err)
			}
			return norm(s.Result.GapB), s
		}
		want, s := solved(shape.Identity(), shape.Identity(), "", Standard)
		t.Logf("%s: %.5f T, estimated error %.3f %%", c.name, want, s.Result.Solver.EstimatedError)
		const degree = math.Pi / 180
		for _, turn := range []struct {
			name         string
			whole, steel shape.Rotation
			angles       string
		}{
			{"steel", shape.Identity(), shape.Euler(0.001*degree, 0.001*degree, 0), `["0.001 deg", "0.001 deg", "0 deg"]`},
			{"all", shape.Euler(20*degree, 25*degree, 10*degree), shape.Euler(20*degree, 25*degree, 10*degree), `["20 deg", "25 deg", "10 deg"]`},
		} {
			got, s := solved(turn.whole, turn.steel, turn.angles, Draft)
			off := 100 * math.Abs(got/want-1)
			t.Logf("%s, %s turned: %.5f T, off by %.3f %%, estimated %.3f %%, %d unknowns, %.1f s", c.name, turn.name, got, off, s.Result.Solver.EstimatedError, s.Result.Solver.Unknowns, s.Result.Solver.Seconds)
			if off > c.percent || off > s.Result.Solver.EstimatedError {
				t.Errorf("%s, %s turned: off by %.3f %%, estimated %.3f %%", c.name, turn.name, off, s.Result.Solver.EstimatedError)
			}
		}
	}
}
