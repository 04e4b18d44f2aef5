package design

import (
	"gonum.org/v1/gonum/spatial/r3"

	"polewright/shape"
)

// This file holds the layouts with other yokes than a frame of blocks round a pair of blocks.

var (
	singleLengths = []parameter{
		{"magnet_x", 0.050, false, "edge of the magnet along x"},
		{"magnet_y", 0.050, false, "edge of the magnet along y"},
		{"magnet_z", 0.020, false, "thickness of the magnet, along the field"},
		{"plate_x", 0.080, false, "edge of the back plate along x"},
		{"plate_y", 0.080, false, "edge of the back plate along y"},
		{"plate_z", 0.010, false, "thickness of the back plate"},
		{"gap", 0.018, false, "from the magnet's face to the middle of the region, which is the origin"},
	}
	cFrameLengths = append(pairLengths[:len(pairLengths):len(pairLengths)],
		parameter{"side", 0.020, true, "free width between the magnets' sides and the leg"},
		parameter{"leg", 0.030, false, "thickness of the leg"},
		parameter{"arm", 0.025, false, "thickness of the arms behind the magnets"})
	potLengths = []parameter{
		{"magnet_diameter", 0.050, false, "diameter of each magnet"},
		{"magnet_thickness", 0.020, false, "thickness of each magnet, along the field"},
		{"gap", 0.018, false, "free height between the magnets"},
		{"side", 0.012, true, "free width between the magnets' rims and the wall"},
		{"wall", 0.010, false, "thickness of the pot's wall"},
		{"lid", 0.015, false, "thickness of the bottom and the lid"},
	}
	tipLengths = []parameter{
		{"magnet_diameter", 0.060, false, "diameter of each magnet"},
		{"magnet_thickness", 0.020, false, "thickness of each magnet, along the field"},
		{"root_diameter", 0.050, false, "diameter of each pole tip at the magnet; with rims a tenth less than the magnet is solved fastest"},
		{"tip_diameter", 0.040, false, "diameter of each pole tip at the gap"},
		{"tip_height", 0.012, false, "height of each pole tip"},
		{"rim_thickness", 0.0005, true, "thickness of the shim rims on the tips, along the field; 0 mm leaves them out"},
		{"rim_width", 0.004, false, "radial width of the shim rims"},
		{"gap", 0.018, false, "free height between the pole tips, the rims not counted"},
		{"depth", 0.070, false, "edge of the frame along x"},
		{"side", 0.015, true, "free width between the magnets' or tips' rims and the legs"},
		{"leg", 0.020, false, "thickness of the legs"},
		{"back", 0.025, false, "thickness of the back plates"},
	}
)

// single is a block on a plate, its free face below the origin.
func single(l map[string]float64, m makings, d *Design) {
	size := r3.Vec{X: l["magnet_x"], Y: l["magnet_y"], Z: l["magnet_z"]}
	face := -l["gap"]
	d.Magnets = append(d.Magnets, m.magnetAt("magnet", shape.Block{Size: size}, face-size.Z/2))
	d.Steels = append(d.Steels, m.block("back plate", l["plate_x"], l["plate_y"], l["plate_z"], r3.Vec{Z: face - size.Z - l["plate_z"]/2}))
}

// cFrame is a pair of blocks between two arms and a leg at y > 0; the other side is open.
func cFrame(l map[string]float64, m makings, d *Design) {
	m.pair(l, d)
	height := l["gap"] + 2*l["magnet_z"]
	length := l["magnet_y"] + l["side"] + l["leg"]
	middle := (l["side"] + l["leg"]) / 2
	d.Steels = append(d.Steels,
		m.block("top arm", l["magnet_x"], length, l["arm"], r3.Vec{Y: middle, Z: (height + l["arm"]) / 2}),
		m.block("bottom arm", l["magnet_x"], length, l["arm"], r3.Vec{Y: middle, Z: -(height + l["arm"]) / 2}),
		m.block("leg", l["magnet_x"], l["leg"], height, r3.Vec{Y: l["magnet_y"]/2 + l["side"] + l["leg"]/2}))
}

// pot is a pair of discs in a closed round pot.
func pot(l map[string]float64, m makings, d *Design) {
	disc := shape.Disc{Diameter: l["magnet_diameter"], Thickness: l["magnet_thickness"]}
	z := (l["gap"] + disc.Thickness) / 2
	d.Magnets = append(d.Magnets, m.magnetAt("upper", disc, z), m.magnetAt("lower", disc, -z))
	height := l["gap"] + 2*disc.Thickness
	inner := disc.Diameter + 2*l["side"]
	outer := inner + 2*l["wall"]
	lid := shape.Disc{Diameter: outer, Thickness: l["lid"]}
	d.Steels = append(d.Steels,
		m.steelAt("lid", lid, (height+l["lid"])/2),
		m.steelAt("bottom", lid, -(height+l["lid"])/2),
		m.steelAt("wall", shape.Ring{OuterDiameter: outer, InnerDiameter: inner, Thickness: height}, 0))
}

// poleTips is a pair of discs with round pole tips in a frame of blocks.
func poleTips(l map[string]float64, m makings, d *Design) {
	disc := shape.Disc{Diameter: l["magnet_diameter"], Thickness: l["magnet_thickness"]}
	half := l["gap"] / 2
	z := half + l["tip_height"] + disc.Thickness/2
	d.Magnets = append(d.Magnets, m.magnetAt("upper", disc, z), m.magnetAt("lower", disc, -z))
	z = half + l["tip_height"]/2
	root, tip := l["root_diameter"], l["tip_diameter"]
	d.Steels = append(d.Steels,
		m.steelAt("upper tip", shape.Frustum{BottomDiameter: tip, TopDiameter: root, Height: l["tip_height"]}, z),
		m.steelAt("lower tip", shape.Frustum{BottomDiameter: root, TopDiameter: tip, Height: l["tip_height"]}, -z))
	if l["rim_thickness"] > 0 {
		rim := shape.Ring{OuterDiameter: tip, InnerDiameter: tip - 2*l["rim_width"], Thickness: l["rim_thickness"]}
		z = half - rim.Thickness/2
		d.Steels = append(d.Steels, m.steelAt("upper rim", rim, z), m.steelAt("lower rim", rim, -z))
	}
	height := 2 * (half + l["tip_height"] + disc.Thickness)
	m.frame(l["depth"], max(disc.Diameter, root, tip)+2*l["side"], height, l["leg"], l["back"], d)
}

func (m makings) magnetAt(name string, s shape.Solid, z float64) Magnet {
	return Magnet{
		Body:      Body{Name: name, Line: m.line, Solid: s, Place: shape.Placement{Center: r3.Vec{Z: z}, Rot: shape.Identity()}},
		Direction: r3.Vec{Z: 1}, Material: m.magnet,
	}
}

func (m makings) steelAt(name string, s shape.Solid, z float64) Steel {
	return Steel{
		Body:     Body{Name: name, Line: m.line, Solid: s, Place: shape.Placement{Center: r3.Vec{Z: z}, Rot: shape.Identity()}},
		Material: m.steel,
	}
}

// frame adds two back plates and two legs round a space of the given width along y and height along z.
func (m makings) frame(depth, width, height, leg, back float64, d *Design) {
	for _, s := range []struct {
		up, across string
		sign       float64
	}{{"top", "right", 1}, {"bottom", "left", -1}} {
		d.Steels = append(d.Steels,
			m.block(s.up+" back", depth, width+2*leg, back, r3.Vec{Z: s.sign * (height + back) / 2}),
			m.block(s.across+" leg", depth, leg, height, r3.Vec{Y: s.sign * (width + leg) / 2}))
	}
}
