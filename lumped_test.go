package polewright_test

import (
	"context"
	"errors"
	"math"
	"strings"
	"testing"

	"polewright"
	"polewright/design"
)

// The circuit of each layout's default lengths against a draft solve of the same file. Package circuit promises 15 %; where magnets face the gap
// and steel is far from saturated it is within 1 %, and a length that goes to the wrong place shows.
func TestLumpedAgainstSolve(t *testing.T) {
	for _, kind := range design.Layouts() {
		t.Run(kind, func(t *testing.T) {
			d, err := design.Read(strings.NewReader("format = 1\n[layout]\nkind = \""+kind+"\"\n[[probe]]\nname = \"centre\"\nat = [\"0 mm\", \"0 mm\", \"0 mm\"]\n"), "")
			if err != nil {
				t.Fatal(err)
			}
			c, err := polewright.LumpedOf(d)
			if strings.HasPrefix(kind, "halbach") {
				if !errors.Is(err, polewright.ErrNoCircuit) {
					t.Fatalf("a ring of magnets has a circuit: %v, %v", c, err)
				}
				return
			}
			if err != nil {
				t.Fatal(err)
			}
			s, err := polewright.Run(context.Background(), d, polewright.Options{Accuracy: polewright.Draft, FieldOnly: true})
			if err != nil {
				t.Fatal(err)
			}
			within := 0.01
			switch kind {
			case "pole-tips":
				within = 0.06
			case "wound-pair", "single-block":
				within = 0.03
			}
			b := math.Abs(s.Result.Probes[0].B[2])
			if off := c.GapT/b - 1; !(math.Abs(off) <= within) {
				t.Errorf("circuit %.4f T, draft %.4f T: %+.1f %%", c.GapT, b, 100*off)
			}
		})
	}
}
