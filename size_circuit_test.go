package polewright

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"polewright/circuit"
	"polewright/design"
)

// circuitOf is the circuit of a layout at 20 degC.
func circuitOf(d *design.Design) circuit.Assembly {
	l := d.Layout.Lengths
	a := circuit.Assembly{Gap: l["gap"], Thickness: l["magnet_z"], Face: circuit.Face{X: l["magnet_x"], Y: l["magnet_y"]}, Side: l["side"], Leg: l["leg"], Back: l["back"]}
	m := d.Magnets[0].Material.At(20)
	a.Remanence, a.Recoil = m.RemanenceT, m.RecoilPermeability
	if len(d.Steels) > 0 {
		a.Steel = d.Steels[0].Material.Curve
	}
	round := func() {
		a.Face, a.Thickness = circuit.Face{Diameter: l["magnet_diameter"]}, l["magnet_thickness"]
	}
	switch d.Layout.Kind {
	case "framed-pair":
		a.Yoke = circuit.Box
	case "c-frame":
		a.Yoke, a.Back = circuit.C, l["arm"]
	case "round-pot":
		round()
		a.Yoke, a.Leg, a.Back = circuit.Pot, l["wall"], l["lid"]
	case "pole-tips":
		round()
		a.Yoke, a.Depth = circuit.Box, l["depth"]
		a.Tip = &circuit.Tip{Root: l["root_diameter"], Diameter: l["tip_diameter"], Height: l["tip_height"]}
	case "wound-pair":
		a.Yoke, a.Leg, a.Back, a.Packing, a.Steel = circuit.Box, l["build"], l["build"], d.Wounds[0].Packing, d.Wounds[0].Material.Curve
	case "single-block":
		a.Yoke, a.Back, a.PlateX, a.PlateY = circuit.Plate, l["plate_z"], l["plate_x"], l["plate_y"]
		a.Gap *= 2
	}
	return a
}

// circuitCase is a layout with lengths in mm, and how far the circuit's gap field may be from a draft solve. The circuit promises 15 %; the bounds
// here are tighter, so that a formula that is off shows: images and the solve differ by under 1 % where the steel is far from saturated.
type circuitCase struct {
	layout, lengths string
	within          float64
}

var circuitCases = []circuitCase{
	{"facing-pair", "magnet_z=8 gap=30", 0.008},
	{"framed-pair", "", 0.008},
	{"framed-pair", "leg=5 back=8", 0.04},
	{"c-frame", "gap=30", 0.008},
	{"round-pot", "side=4", 0.008},
	{"pole-tips", "rim_thickness=0", 0.08},
	{"wound-pair", "", 0.03},
	{"single-block", "", 0.04},
}

// The circuit against full solves at draft (0.5 %).
func TestCircuitAgainstSolves(t *testing.T) { circuitAgainstSolves(t, circuitCases) }

func circuitAgainstSolves(t *testing.T, cases []circuitCase) {
	for _, c := range cases {
		text := fmt.Sprintf("format = 1\n[target]\nregion = { shape = \"sphere\", diameter = \"2 mm\" }\n[layout]\nkind = %q\n", c.layout)
		for _, l := range strings.Fields(c.lengths) {
			name, mm, _ := strings.Cut(l, "=")
			text += fmt.Sprintf("%s = \"%s mm\"\n", name, mm)
		}
		d := read(t, text)
		w, err := circuitOf(d).Solve()
		if err != nil {
			t.Fatal(err)
		}
		s := run(t, d, Options{FieldOnly: true})
		if off := w.GapT/s.Result.GapB[2] - 1; math.Abs(off) > c.within {
			t.Errorf("%s %s: the circuit has %.4f T, the solve %.4f T: %+.1f %%, over %.1f %%", c.layout, c.lengths, w.GapT, s.Result.GapB[2], 100*off, 100*c.within)
		}
	}
}
