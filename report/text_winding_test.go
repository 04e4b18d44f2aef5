package report

import (
	"strings"
	"testing"

	"polewright/winding"
)

// saturating is an outlook with figures that are set by hand, as a wound pair has them.
func saturating(t *testing.T, p winding.Plan) *winding.Outlook {
	t.Helper()
	o := &winding.Outlook{PlannedTurns: p.Turns, Packing: 0.72, LooserPacking: 0.67, FluxWb: 2.24e-3, LeastGain: 0.01, TargetT: 0.72,
		Wires: []winding.Wire{{Name: "hard-wire", GapT: 0.7165, Share: -0.0106, Note: "bright cold-drawn low-carbon wire"}, {Name: "stainless 316", GapT: 0.5141, Share: -0.29, Note: "not magnetic"}}}
	for _, q := range [][5]float64{{0, 0.5141, 0.5141, 188, 339}, {76, 0.6092, 0.6083, 169, 305}, {151, 0.6744, 0.6727, 144, 259}, {250, 0.7242, 0.7201, 98, 179}, {401, 0.7376, 0.7317, 75, 102}, {551, 0.7376, 0.7316, 74, 102}} {
		o.Points = append(o.Points, winding.Point{Turns: int(q[0]), GapT: q[1], LooserT: q[2], ToolsM: q[3] / 1e3, ImplantsM: q[4] / 1e3, ErrorPercent: 0.1})
	}
	if err := o.Complete(p, 2.16); err != nil {
		t.Fatal(err)
	}
	return o
}

func TestWindingText(t *testing.T) {
	p := winding.Plan{CoreX: 0.056, CoreY: 0.058, Width: 0.060, WireDiameter: 1.6256e-3, Packing: 0.72, Turns: 250}
	s, err := winding.Wind(p)
	if err != nil {
		t.Fatal(err)
	}
	ready, err := p.Prepare(s, winding.Workshop{SpoolM: 25, Pace: 8})
	if err != nil {
		t.Fatal(err)
	}
	o := saturating(t, p)
	f := &winding.Forecast{Packings: []float64{0.72}, Gap: []*winding.Curve{o.Curve()}}
	g, err := o.Follow(p, []winding.Reading{{Turns: 0, FieldT: 0.512}, {Turns: 36, FieldT: 0.5612, OuterM: 0.0619}, {Turns: 72, FieldT: 0.604, OuterM: 0.0655}, {Turns: 108, FieldT: 0.6378, OuterM: 0.0693}}, f)
	if err != nil {
		t.Fatal(err)
	}
	var b strings.Builder
	for _, err := range []error{WindingPreparation(&b, ready), WindingAsk(&b), WindingOutlook(&b, o), WindingProgress(&b, o, g)} {
		if err != nil {
			t.Fatal(err)
		}
	}
	golden(t, "windingplan.golden", b.String())
	for _, err := range []error{WindingPreparation(full{}, ready), WindingAsk(full{}), WindingOutlook(full{}, o), WindingProgress(full{}, o, g)} {
		if err == nil || err.Error() != "disk full" {
			t.Error(err)
		}
	}
}
