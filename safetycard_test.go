package polewright

import (
	"context"
	"fmt"
	"math"
	"strings"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"polewright/safety"
)

// squareBlocks are two blocks 50 x 50 x 25 mm of 1.30 T, magnetized alike along z, so far apart.
func squareBlocks(t *testing.T, gapMM float64) *Solved {
	t.Helper()
	text := "format = 1\n"
	for name, way := range map[string]float64{"upper": 1, "lower": -1} {
		text += fmt.Sprintf("[[magnet]]\nname = %q\nshape = \"block\"\nsize = [\"50 mm\", \"50 mm\", \"25 mm\"]\ncenter = [\"0 mm\", \"0 mm\", \"%g mm\"]\n"+
			"magnetized = [0, 0, 1]\nremanence = \"1.30 T\"\nrecoil = 1.0\n", name, way*(12.5+gapMM/2))
	}
	d := read(t, text)
	s, err := Run(context.Background(), d, Options{Accuracy: Draft})
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// The zones of two such blocks in contact, as a dipole of 129.3 A m2 has them (closed form, to the digits printed): a cube's field has no
// quadrupole, so beyond 0.15 m it is the dipole's to 1 %.
func TestSafetyCardZones(t *testing.T) {
	s := squareBlocks(t, 0)
	c, err := s.SafetyCard(context.Background(), CardOptions{NoPinch: true})
	if err != nil {
		t.Fatal(err)
	}
	if c.Pinch != nil {
		t.Error("a pinch that was not asked for")
	}
	seen := 0
	for _, l := range c.Limits {
		want, ok := map[string][2]float64{"projectile": {0.21, 0.16}, "implant": {0.37, 0.30}}[l.Code]
		if !ok {
			continue
		}
		seen++
		if math.Abs(l.Reach.Z-want[0]) > 0.006 || math.Abs(l.Reach.X-want[1]) > 0.006 || math.Abs(l.Reach.X-l.Reach.Y) > 1e-6 {
			t.Errorf("%s: %.4f m on the axis, %.4f and %.4f m beside it, want %v", l.Code, l.Reach.Z, l.Reach.X, l.Reach.Y, want)
		}
		if l.Reach.Largest < l.Reach.Z || l.Reach.Largest > 1.001*l.Reach.Z {
			t.Errorf("%s: the largest reach, %.5f m, lies off the axis", l.Code, l.Reach.Largest)
		}
	}
	if seen != 2 {
		t.Errorf("%d limits seen", seen)
	}
	// H = m/(2 pi r³): 2.222 A/m and 0.2114 A/m on the axis.
	if a := c.Air; math.Abs(a.At2m1Apm/2.2221-1) > 1e-3 || math.Abs(a.At4m6Apm/0.21142-1) > 1e-3 || a.Class != safety.AirDeclared || math.Abs(a.Direction[2]) < 0.999 {
		t.Errorf("by air: %+v", a)
	}
	// The true field at 2.1 m in the worst direction, without expansion.
	b, _ := s.Field(r3.Vec{Z: 2.1})
	if h := r3.Norm(b) / (4e-7 * math.Pi); math.Abs(c.Air.At2m1Apm/h-1) > 1e-3 {
		t.Errorf("by air %g A/m, in the field %g A/m", c.Air.At2m1Apm, h)
	}
	for i, tool := range safety.Tools() {
		p := c.Tools[i]
		// Along z, with the field itself in place of the card's table of it.
		field := func(r float64) float64 { b, _ := s.Field(r3.Vec{Z: 0.025 + r}); return r3.Norm(b) }
		for _, x := range []struct {
			part float64
			got  safety.Ways
		}{{safety.SlideFriction, p.Slides}, {1, p.Lifts}} {
			want, err := safety.ToolReach(field, tool, x.part, 1e-3, 1)
			if err != nil || math.Abs(x.got.Z-want) > 2e-3*want {
				t.Errorf("%s: %.5f m along z, want %.5f (%v)", p.Name, x.got.Z, want, err)
			}
			if x.got.Largest < x.got.Z || x.got.Largest < x.got.X {
				t.Errorf("%s: %+v", p.Name, x.got)
			}
		}
		if p.Lifts.Largest >= p.Slides.Largest {
			t.Errorf("%s lifts before it slides", p.Name)
		}
		for k, x := range p.Pull {
			if k > 0 && x.Newtons.Largest >= p.Pull[k-1].Newtons.Largest {
				t.Errorf("%s: the pull does not fall with the distance", p.Name)
			}
		}
	}
}

// Closing to 2 mm two such blocks set free 12 J, and a block of 0.47 kg arrives at 7 m/s: the force between them by quadrature of Coulomb's law
// (684 N at 3 mm, 394 N at 10 mm, 49 N at 50 mm, to 1 %), integrated. The card begins at 100 mm, beyond which lie some 0.3 J; 5 % is half a unit
// of the last digit.
func TestSafetyCardPinch(t *testing.T) {
	c, err := squareBlocks(t, 2).SafetyCard(context.Background(), CardOptions{})
	if err != nil {
		t.Fatal(err)
	}
	p := c.Pinch
	if p == nil {
		t.Fatal("no pinch")
	}
	if math.Abs(p.EnergyJ-12) > 0.6 || p.ForceN < 684 || p.ForceN > 850 || len(p.Moved) != 1 || p.Moved[0] != "upper" {
		t.Errorf("%+v", p)
	}
	if want := safety.ImpactSpeed(p.EnergyJ, p.MovedKg); math.Abs(p.SpeedMps-want) > 1e-9 || math.Abs(p.SpeedMps-7.1) > 0.2 {
		t.Errorf("arrives at %g m/s, by hand %g", p.SpeedMps, want)
	}
	// The force is 124 N at 30 mm and 212 N at 20 mm: 140 N between them, 2 mm of which are open already.
	if p.HandM < 0.018 || p.HandM > 0.028 {
		t.Errorf("more than a hand stands from %g m", p.HandM)
	}
	found := false
	for _, x := range c.Cautions {
		found = found || x.Code == "crushing" && strings.Contains(x.Text, fmt.Sprintf("Closing sets free %.0f J", p.EnergyJ))
	}
	if !found {
		t.Errorf("no caution tells the energy: %v", c.Cautions)
	}
}

func TestSafetyCardStops(t *testing.T) {
	s := squareBlocks(t, 2)
	ctx, stop := context.WithCancel(context.Background())
	stop()
	if _, err := s.SafetyCard(ctx, CardOptions{}); err == nil {
		t.Error("a stopped card has no error")
	}
}
