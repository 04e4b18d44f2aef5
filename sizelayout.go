package polewright

import (
	"math"

	"polewright/circuit"
	"polewright/material"
)

// This file knows the layouts as the circuit sees them: how a few free sizes become the lengths of a [layout], what it weighs, and what stands
// in the circuit.

// draft is a design on the way: the free sizes of a layout.
type draft struct {
	kind      string
	magnet    material.Magnet // at the reference temperature of its grade
	width     float64         // m, of the magnet's face along y, or of the tip
	depth     float64         // m, of the magnet's face along x; 0: as the width
	over      float64         // pole tips: diameter of the magnet over that of the tip
	thickness float64         // m, of each magnet
	gap       float64         // m, free height
	leg, back float64         // m
	shelf     shelf           // where the magnet is taken from a list
	barred    bool            // the yoke has the sections of bars
}

// depthX is the edge of the magnet's face along x.
func (c draft) depthX() float64 {
	if c.depth > 0 {
		return c.depth
	}
	return c.width
}

// sizedLayouts are those that size looks at.
var sizedLayouts = []string{"facing-pair", "framed-pair", "c-frame", "round-pot", "pole-tips", "wound-pair", "single-block"}

const (
	sizedSteel   = "steel-1018"
	sizedWire    = "annealed-wire"
	sizedPacking = 0.72
	// sideOverGap is the free width to the legs over the gap. Common practice is 1 to 1.5 gaps, no source; solves lose under 2 % at 0.6.
	sideOverGap = 0.6
)

// steel is the material of the yoke; ok is false for a layout without one.
func (c draft) steel() (s material.Steel, ok bool) {
	name := sizedSteel
	switch c.kind {
	case "facing-pair":
		return s, false
	case "wound-pair":
		name = sizedWire
	}
	s, err := material.SteelNamed(name)
	return s, err == nil
}

func (c draft) side() float64 { return sideOverGap * c.gap }

// tipHeight makes a taper of 45 degrees, and a plate of a fifth of the width where there is none.
func (c draft) tipHeight() float64 { return math.Max(c.width*(c.over-1)/2, c.width/5) }

// lengths are those of the [layout], m.
func (c draft) lengths() map[string]float64 {
	l := map[string]float64{"gap": c.gap}
	block := func() {
		l["magnet_x"], l["magnet_y"], l["magnet_z"] = c.depthX(), c.width, c.thickness
	}
	disc := func(d float64) { l["magnet_diameter"], l["magnet_thickness"] = d, c.thickness }
	switch c.kind {
	case "facing-pair":
		block()
	case "framed-pair":
		block()
		l["side"], l["leg"], l["back"] = c.side(), c.leg, c.back
	case "c-frame":
		block()
		l["side"], l["leg"], l["arm"] = c.side(), c.leg, c.back
	case "wound-pair":
		block()
		l["side"], l["build"] = c.side(), c.leg
	case "single-block":
		block()
		l["gap"] = c.gap / 2
		l["plate_x"], l["plate_y"], l["plate_z"] = 1.5*c.depthX(), 1.5*c.width, c.back
	case "round-pot":
		disc(c.width)
		l["side"], l["wall"], l["lid"] = c.side(), c.leg, c.back
	case "pole-tips":
		disc(c.width * c.over)
		l["root_diameter"], l["tip_diameter"], l["tip_height"] = c.width*c.over, c.width, c.tipHeight()
		l["rim_thickness"], l["rim_width"] = 0, c.width/10
		l["depth"], l["side"], l["leg"], l["back"] = c.width*c.over, c.side(), c.leg, c.back
	}
	return l
}

// assembly is the circuit of the design with its magnets at a temperature.
func (c draft) assembly(tempC float64) circuit.Assembly {
	m := c.magnet.At(tempC)
	a := circuit.Assembly{Face: circuit.Face{X: c.depthX(), Y: c.width}, Thickness: c.thickness, Gap: c.gap, Remanence: m.RemanenceT,
		Recoil: m.RecoilPermeability, Side: c.side(), Leg: c.leg, Back: c.back}
	if s, ok := c.steel(); ok {
		a.Steel = s.Curve
	}
	switch c.kind {
	case "framed-pair":
		a.Yoke = circuit.Box
	case "c-frame":
		a.Yoke = circuit.C
	case "wound-pair":
		a.Yoke, a.Back, a.Packing = circuit.Box, c.leg, sizedPacking
	case "single-block":
		a.Yoke, a.PlateX, a.PlateY = circuit.Plate, 1.5*c.depthX(), 1.5*c.width
	case "round-pot":
		a.Yoke, a.Face = circuit.Pot, circuit.Face{Diameter: c.width}
	case "pole-tips":
		a.Yoke, a.Face = circuit.Box, circuit.Face{Diameter: c.width * c.over}
		a.Tip = &circuit.Tip{Root: c.width * c.over, Diameter: c.width, Height: c.tipHeight()}
	}
	return a
}

// mass is that of the magnets and of the yoke, kg.
func (c draft) mass() (magnets, yoke float64) {
	density := c.magnet.DensityKgPerM3
	steel, hasSteel := c.steel()
	x, w, t, side := c.depthX(), c.width, c.thickness, c.side()
	height := c.gap + 2*t
	// frame is two back plates and two legs round a space of the given width and height.
	frame := func(depth, width, height float64) float64 {
		return depth * (2*c.back*(width+2*c.leg) + 2*c.leg*height)
	}
	volume := 2 * x * w * t
	var iron float64
	switch c.kind {
	case "framed-pair":
		iron = frame(x, w+2*side, height)
	case "c-frame":
		iron = x * (2*c.back*(w+side+c.leg) + c.leg*height)
	case "wound-pair":
		iron = sizedPacking * x * (2*c.leg*(w+2*side+height) + math.Pi*c.leg*c.leg)
	case "single-block":
		volume /= 2
		iron = 1.5 * x * 1.5 * w * c.back
	case "round-pot":
		volume = math.Pi / 2 * w * w * t
		inner := w + 2*side
		outer := inner + 2*c.leg
		iron = math.Pi / 4 * (2*outer*outer*c.back + (outer*outer-inner*inner)*height)
	case "pole-tips":
		d := w * c.over
		volume = math.Pi / 2 * d * d * t
		iron = math.Pi / 6 * c.tipHeight() * (w*w + w*d + d*d) // both
		iron += frame(d, d+2*side, height+2*c.tipHeight())
	}
	if !hasSteel {
		iron = 0
	}
	return density * volume, steel.DensityKgPerM3 * iron
}

// rounded has lengths that a workshop reads, upwards: magnets ground to 0.05 mm, steel in halves of a millimetre. The width has them already.
func (c draft) rounded() draft {
	up := func(x, step float64) float64 { return math.Ceil(x/step-1e-6) * step }
	if c.shelf.pieces == 0 {
		c.thickness = up(c.thickness, 0.05e-3)
	}
	if !c.barred {
		c.leg, c.back = up(c.leg, 0.5e-3), up(c.back, 0.5e-3)
	}
	return c
}

// strayShare is the moment that is left outside over that of the magnets alone: at most that of solves of each layout with steel up to 1.6 T.
var strayShare = map[string]float64{"facing-pair": 1, "single-block": 1.3, "framed-pair": 0.08, "c-frame": 0.1, "wound-pair": 0.15, "round-pot": 0.03, "pole-tips": 0.05}

// reach is about how far a stray limit reaches, m: on the axis of the dipole, but no nearer than the assembly's own corner.
func (c draft) reach(limit float64) float64 {
	magnets, _ := c.mass()
	moment := strayShare[c.kind] * magnets / c.magnet.DensityKgPerM3 * c.magnet.RemanenceT / material.Mu0
	far := math.Cbrt(2e-7 * moment / limit)
	if c.kind == "facing-pair" {
		return far
	}
	return math.Max(far, math.Hypot(math.Max(c.depthX()/2, c.width/2+c.side()+c.leg), c.gap/2+c.thickness+c.back))
}
