package design

import (
	"math"
	"strings"
	"testing"

	"polewright/quantity"
)

func TestTolerance(t *testing.T) {
	d := mustRead(t, "format = 1\n[layout]\nkind = \"framed-pair\"\n")
	if d.Tolerance != nil {
		t.Errorf("without [tolerance] there is %+v", d.Tolerance)
	}
	var text strings.Builder
	text.WriteString("format = 1\n[layout]\nkind = \"framed-pair\"\n[tolerance]\naccept_field = \"2 %\"\n")
	for _, k := range SpreadKeys {
		unit := quantity.Units(k.Dimension)[0]
		text.WriteString(k.Key + " = \"" + quantity.Format(k.Most/2, unit, 0) + "\"\n")
	}
	d = mustRead(t, text.String())
	if d.Tolerance.FieldFraction != 0.02 || d.Tolerance.Line != 4 || len(d.Tolerance.Spread) != len(SpreadKeys) {
		t.Errorf("read as %+v", d.Tolerance)
	}
	for _, k := range SpreadKeys {
		if got := d.Tolerance.Spread[k.Key]; math.Abs(got/(k.Most/2)-1) > 1e-12 {
			t.Errorf("%s is read as %g, want %g", k.Key, got, k.Most/2)
		}
	}
	if d = mustRead(t, "format = 1\n[layout]\nkind = \"framed-pair\"\n[tolerance]\ngap = \"0 mm\"\n"); len(d.Tolerance.Spread) != 1 {
		t.Errorf("a spread of zero is given, too: %+v", d.Tolerance)
	}
}
