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

// Parts written out as the templates have them give the circuit of their layout; moved by a hair's breadth they stand in no layout any more.
func TestLumpedOfParts(t *testing.T) {
	for _, kind := range []string{"facing-pair", "framed-pair", "wound-pair"} {
		text, err := design.Template(kind)
		if err != nil {
			t.Fatal(err)
		}
		d, err := design.Read(strings.NewReader(text), "")
		if err != nil {
			t.Fatal(err)
		}
		if d.Layout != nil {
			t.Fatalf("the template of %s has a layout", kind)
		}
		got, err := polewright.LumpedOf(d)
		if err != nil {
			t.Errorf("%s: %v", kind, err)
			continue
		}
		m := d.Magnets[0]
		l, err := design.Read(strings.NewReader("format = 1\n[target]\ntemperature = { working = \"22 degC\", max = \"40 degC\" }\n[layout]\nkind = \""+kind+"\"\ngrade = \""+m.Material.Name+"\"\n"), "")
		if err != nil {
			t.Fatal(err)
		}
		want, err := polewright.LumpedOf(l)
		if err != nil {
			t.Fatal(err)
		}
		// The templates have the layouts' default lengths, but a winding's build follows from whole turns.
		if off := got.GapT/want.GapT - 1; math.Abs(off) > 2e-3 {
			t.Errorf("%s: %g T by parts, %g T by layout", kind, got.GapT, want.GapT)
		}
		d.Magnets[0].Place.Center.Y += 1e-4
		if _, err := polewright.LumpedOf(d); !errors.Is(err, polewright.ErrNoCircuit) {
			t.Errorf("%s: askew it still has a circuit", kind)
		}
	}
}
