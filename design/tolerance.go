package design

import (
	"fmt"
	"math"

	"polewright/quantity"
)

// Tolerance is how far builds stray from the design, as the file says it.
type Tolerance struct {
	// Spread is the standard deviation of each kind of deviation that the file gives, in SI units, by the key of SpreadKeys.
	Spread        map[string]float64
	FieldFraction float64 // a build's field may differ so much from the target's, either way; 0: not given
	Line          int
}

// SpreadKey is a key of [tolerance].
type SpreadKey struct {
	Key       string
	Dimension quantity.Dimension
	Most      float64 // the largest standard deviation that is read, SI; at three times as much a build can still be made
	Meaning   string
}

// SpreadKeys are the keys of [tolerance] that hold a standard deviation.
var SpreadKeys = []SpreadKey{
	{"remanence_batch", quantity.Ratio, 0.1, "remanence of all magnets of one grade together"},
	{"remanence_piece", quantity.Ratio, 0.1, "remanence of each magnet, from the mean of its grade"},
	{"direction", quantity.Angle, 10 * math.Pi / 180, "direction of each magnet's magnetization, about each axis across it"},
	{"length", quantity.Length, 2e-3, "thickness of each magnet along the gap"},
	{"place", quantity.Length, 2e-3, "place of each magnet across the gap, along each axis"},
	{"gap", quantity.Length, 2e-3, "length of the gap"},
	{"parallel", quantity.Angle, 2 * math.Pi / 180, "tilt of one side of the gap against the other, about each axis"},
	{"packing", quantity.Ratio, 0.1, "packing of a wound yoke, relative"},
	{"temperature", quantity.Difference, 50, "temperature of the magnets"},
}

// tolerance reads [tolerance].
func (f fields) tolerance() *Tolerance {
	defer f.finish()
	t := &Tolerance{Spread: map[string]float64{}, Line: f.t.line}
	for _, k := range SpreadKeys {
		x, ok := f.quantity(k.Key, k.Dimension, notBelow0)
		switch {
		case !ok:
		case x > k.Most:
			f.fail(f.get(k.Key).line, k.Key, f.get(k.Key).String()+": too wide", fmt.Sprintf("write one standard deviation, up to %s; "+
				"a limit of \"plus or minus\" is about two of them", quantity.Format(k.Most, quantity.Units(k.Dimension)[0], 3)))
		default:
			t.Spread[k.Key] = x
		}
	}
	if x, ok := f.quantity("accept_field", quantity.Ratio, positive); ok {
		if x >= 1 {
			f.fail(f.get("accept_field").line, "accept_field", f.get("accept_field").String()+": 100 % or more",
				`write by how much a build's field may differ from the target's, e.g. "1 %"`)
		}
		t.FieldFraction = x
	}
	return t
}
