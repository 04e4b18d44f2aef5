package stock

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"gonum.org/v1/gonum/spatial/r3"

	"polewright/design"
	"polewright/quantity"
	"polewright/shape"
)

// Kinds of a need.
const (
	Magnet = "magnet"
	Steel  = "steel"
	Spacer = "spacer"
	Wound  = "wound"
	Coil   = "coil"
)

// Need is a line of what a design needs: parts that are alike.
type Need struct {
	Kind     string
	Names    []string
	Solid    shape.Solid
	Material string
	MassKg   float64 // of one
	// Along is the edge of a block along which it is magnetized, 0 to 2, or 2 for the axis of a round magnet; -1 where it is magnetized askew.
	Along int
	WireM float64 // diameter of a winding's wire
}

// Needs lists what a design is made from, in its order. Coils are listed, but a design file does not say what they are wound from.
func Needs(d *design.Design) (needs []Need) {
	at := map[string]int{}
	add := func(n Need, b string) {
		key := fmt.Sprintf("%s|%s|%s|%.7f", n.Kind, n.Material, alike(n), n.WireM)
		i, ok := at[key]
		if !ok {
			i, at[key] = len(needs), len(needs)
			needs = append(needs, n)
		}
		needs[i].Names = append(needs[i].Names, b)
	}
	for _, m := range d.Magnets {
		n := Need{Kind: Magnet, Solid: m.Solid, Material: m.Material.Name, MassKg: m.Material.DensityKgPerM3 * m.Solid.Volume()}
		n.Along = along(m.Solid, m.Place.Rot.Inverse(m.Direction))
		add(n, m.Name)
	}
	for _, s := range d.Steels {
		add(Need{Kind: Steel, Solid: s.Solid, Material: s.Material.Name, MassKg: s.Material.DensityKgPerM3 * s.Solid.Volume()}, s.Name)
	}
	for _, w := range d.Wounds {
		add(Need{Kind: Wound, Solid: w.Solid, Material: w.Material.Name, MassKg: w.Material.DensityKgPerM3 * w.Packing * w.Solid.Volume(), WireM: w.WireDiameterM}, w.Name)
	}
	for _, s := range d.Spacers {
		add(Need{Kind: Spacer, Solid: s.Solid, Material: s.Material.Name, MassKg: s.Material.DensityKgPerM3 * s.Solid.Volume()}, s.Name)
	}
	for _, c := range d.Coils {
		needs = append(needs, Need{Kind: Coil, Names: []string{c.Name}})
	}
	return needs
}

// along finds the edge or axis of the magnetization, -1 for none.
func along(s shape.Solid, local r3.Vec) int {
	axis := slices.IndexFunc([]float64{local.X, local.Y, local.Z}, func(c float64) bool { return math.Abs(c) > 0.9999 })
	if _, block := s.(shape.Block); !block && axis != 2 {
		return -1
	}
	return axis
}

// alike is the same for parts of one size, however a block's edges are named.
func alike(n Need) string {
	b, ok := n.Solid.(shape.Block)
	if f, tip := n.Solid.(shape.Frustum); tip {
		return fmt.Sprintf("frustum %.7f %.7f %.7f", min(f.BottomDiameter, f.TopDiameter), max(f.BottomDiameter, f.TopDiameter), f.Height)
	}
	if !ok {
		return n.Solid.String() + fmt.Sprint(n.Along)
	}
	e := edges(b)
	if n.Kind != Magnet {
		slices.Sort(e)
		return fmt.Sprintf("%.7f", e)
	}
	if n.Along < 0 {
		return fmt.Sprintf("%.7f askew", e)
	}
	length, width, thickness := n.magnetEdges(b)
	return fmt.Sprintf("%.7f %.7f %.7f", length, width, thickness)
}

func edges(b shape.Block) []float64 { return []float64{b.Size.X, b.Size.Y, b.Size.Z} }

// magnetEdges are the longer and the shorter edge of the face, and the thickness along the magnetization.
func (n Need) magnetEdges(b shape.Block) (length, width, thickness float64) {
	e := edges(b)
	face := slices.Delete(slices.Clone(e), n.Along, n.Along+1)
	return max(face[0], face[1]), min(face[0], face[1]), e[n.Along]
}

// what is the part in a few words: "block 60 x 40 x 20 mm".
func (n Need) what() string {
	if n.Kind == Wound {
		return "wire ⌀" + mm(n.WireM) + " mm"
	}
	return n.Solid.String()
}

// mm is a length in mm without the unit.
func mm(x float64) string { return strings.TrimSuffix(quantity.Format(x, "mm", 6), " mm") }
