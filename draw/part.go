package draw

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"
	"unicode"

	"gonum.org/v1/gonum/spatial/r3"

	"polewright/design"
	"polewright/shape"
)

// Part is a body of an assembly with what a workshop asks about it.
type Part struct {
	Name, Kind string // Kind is "magnet", "steel", "wound", "spacer" or "coil"
	Material   string // "winding" for a coil
	MassKg     float64
	Solid      shape.Solid
	Place      shape.Placement
	// Direction of the magnetization, a unit vector of the world; zero for what is no magnet.
	Direction r3.Vec
	// Notes are whole sentences for the drawing.
	Notes []string
}

// Parts lists all bodies of a design: magnets, steel, wound yokes, spacers, coils. Masses are those of the nominal sizes, coatings taken
// for magnet; a coil's depends on its wire and is left at zero.
func Parts(d *design.Design) (parts []Part) {
	add := func(kind, material string, density float64, b design.Body) *Part {
		parts = append(parts, Part{Name: b.Name, Kind: kind, Material: material, MassKg: density * b.Solid.Volume(), Solid: b.Solid, Place: b.Place})
		return &parts[len(parts)-1]
	}
	for _, m := range d.Magnets {
		p := add("magnet", m.Material.Name, m.Material.DensityKgPerM3, m.Body)
		p.Direction = m.Direction
		if m.CoatingM > 0 {
			p.Notes = append(p.Notes, fmt.Sprintf("Sizes are over the coating of %s mm a side.", mm(m.CoatingM)))
		}
	}
	for _, s := range d.Steels {
		add("steel", s.Material.Name, s.Material.DensityKgPerM3, s.Body)
	}
	for _, w := range d.Wounds {
		p := add("wound", w.Material.Name, w.Material.DensityKgPerM3*w.Packing, w.Body)
		p.Notes = append(p.Notes, fmt.Sprintf("Wound from wire %s (%s mm): %d turns, %s %% of the section steel. Winding sheet: polewright wind.",
			w.Wire, mm(w.WireDiameterM), w.Turns, decimals(100*w.Packing, 1)))
	}
	for _, s := range d.Spacers {
		add("spacer", s.Material.Name, s.Material.DensityKgPerM3, s.Body)
	}
	for _, c := range d.Coils {
		p := Part{Name: c.Name, Kind: "coil", Material: "winding", Place: shape.Placement{Center: c.Center, Rot: shape.AxisTo(c.Axis)},
			Notes: []string{fmt.Sprintf("Space of the winding; %s ampere-turns.", decimals(c.AmpereTurns, 1))}}
		if c.Shape == design.RingCoil {
			p.Solid = shape.Ring{OuterDiameter: c.OuterDiameterM, InnerDiameter: c.InnerDiameterM, Thickness: c.HeightM}
		} else {
			p.Solid = Window{Outer: c.OuterM, Inner: c.InnerM, OuterRadius: c.OuterRadiusM, InnerRadius: c.InnerRadiusM, Height: c.HeightM}
		}
		parts = append(parts, p)
	}
	return parts
}

// Item is a line of the parts list: parts that are alike, whichever way they stand.
type Item struct {
	Letter  string // "A", "B", … "Z", "AA", …
	Part           // the first of them, standing in the drawing's frame: its Direction is local, its Place the origin
	Indexes []int  // of the parts that are alike, and their names
	Names   []string
}

// Number is how many there are.
func (i Item) Number() int { return len(i.Indexes) }

// FileName is a name for the item's files without extension: its letter and the name of its first part.
func (i Item) FileName() string {
	var b strings.Builder
	for _, r := range strings.ToLower(i.Name) {
		switch {
		case r < 0x80 && (unicode.IsLetter(r) || unicode.IsDigit(r)):
			b.WriteRune(r)
		case b.Len() > 0 && !strings.HasSuffix(b.String(), "-"):
			b.WriteByte('-')
		}
	}
	name := b.String()
	if len(name) > 40 {
		name = name[:40]
	}
	return strings.TrimRight(strings.ToLower(i.Letter)+"-"+name, "-")
}

// Items puts parts that are alike together: of one kind, material, size and, for magnets, direction of magnetization in the part, however
// they are turned.
func Items(parts []Part) (items []Item) {
	known := map[string]int{}
	for i, p := range parts {
		solid, direction := standing(p)
		key := fmt.Sprintf("%s|%s|%s|%.4f %.4f %.4f|%s", p.Kind, p.Material, sizeKey(solid), direction.X+0, direction.Y+0, direction.Z+0, strings.Join(p.Notes, "|"))
		at, ok := known[key]
		if !ok {
			at = len(items)
			known[key] = at
			q := p
			q.Solid, q.Direction, q.Place = solid, direction, shape.Placement{Rot: shape.Identity()}
			items = append(items, Item{Letter: letter(at), Part: q})
		}
		items[at].Indexes = append(items[at].Indexes, i)
		items[at].Names = append(items[at].Names, p.Name)
	}
	return items
}

// letter counts A to Z, AA to ZZ, AAA …
func letter(n int) string {
	s := ""
	for n++; n > 0; n = (n - 1) / 26 {
		s = string(rune('A'+(n-1)%26)) + s
	}
	return s
}

// sizeKey prints a size to 0.1 µm, so that rounding does not part what is alike.
func sizeKey(s shape.Solid) string {
	q := func(x ...float64) string {
		var b strings.Builder
		for _, x := range x {
			b.WriteString(strconv.FormatFloat(math.Round(x*1e7)/1e7+0, 'f', 7, 64) + " ")
		}
		return b.String()
	}
	switch s := s.(type) {
	case shape.Block:
		return "block" + q(s.Size.X, s.Size.Y, s.Size.Z)
	case shape.Wedge:
		return "wedge" + q(s.OuterDiameter, s.InnerDiameter, s.Thickness, s.From, s.To)
	case shape.Disc:
		return "disc" + q(s.Diameter, s.Thickness)
	case shape.Ring:
		return "ring" + q(s.OuterDiameter, s.InnerDiameter, s.Thickness)
	case shape.Frustum:
		return "frustum" + q(s.BottomDiameter, s.TopDiameter, s.Height)
	case shape.Racetrack:
		return "racetrack" + q(s.CoreX, s.CoreY, s.CornerRadius, s.Build, s.Width)
	}
	return s.String()
}

// standing turns a part into the position it is drawn in: a block on its largest face, its longest edge along x; a ring sector with its middle along
// y; all others as they are, about z. The direction of the magnetization goes along, as one of those that turning the part over can give.
func standing(p Part) (shape.Solid, r3.Vec) {
	d := p.Place.Rot.Inverse(p.Direction)
	magnet := r3.Norm(p.Direction) > 0
	switch s := p.Solid.(type) {
	case shape.Block:
		size, dir := [3]float64{s.Size.X, s.Size.Y, s.Size.Z}, [3]float64{d.X, d.Y, d.Z}
		order := []int{0, 1, 2}
		slices.SortStableFunc(order, func(a, b int) int {
			if math.Abs(size[a]-size[b]) > 1e-7 {
				return cmp.Compare(size[b], size[a])
			}
			return cmp.Compare(math.Abs(dir[a]), math.Abs(dir[b])) // a cube's direction goes to z
		})
		block := shape.Block{Size: r3.Vec{X: size[order[0]], Y: size[order[1]], Z: size[order[2]]}}
		if !magnet {
			return block, r3.Vec{}
		}
		out := r3.Vec{X: clean(math.Abs(dir[order[0]])), Y: clean(math.Abs(dir[order[1]])), Z: clean(math.Abs(dir[order[2]]))}
		// Half turns change two signs at once: of three components the sign of the product stays, and an odd exchange of edges turns it over.
		odd := (order[1]-order[0]+3)%3 == 2
		if product := dir[0] * dir[1] * dir[2]; math.Abs(product) > 1e-9 && (product < 0) != odd {
			out.X = -out.X
		}
		return block, out
	case shape.Disc, shape.Ring:
		return s, r3.Vec{X: clean(math.Hypot(d.X, d.Y)), Z: clean(math.Abs(d.Z))}
	case shape.Wedge:
		turn := math.Pi/2 - s.From - s.Span()/2
		d = shape.Euler(0, 0, turn).Apply(d)
		if d.X < -1e-9 || math.Abs(d.X) <= 1e-9 && d.Z < -1e-9 { // half a turn about y
			d.X, d.Z = -d.X, -d.Z
		}
		s.From, s.To = math.Pi/2-s.Span()/2, math.Pi/2+s.Span()/2
		return s, r3.Vec{X: clean(d.X), Y: clean(d.Y), Z: clean(d.Z)}
	}
	return p.Solid, r3.Vec{}
}

// clean is a component of a unit vector without the dust of rounding.
func clean(x float64) float64 { return math.Round(x*1e9)/1e9 + 0 }

// mm prints a length in millimetres to a thousandth.
func mm(metres float64) string { return short(1e3 * metres) }

// decimals prints a number with at most so many decimals.
func decimals(x float64, n int) string {
	p := math.Pow(10, float64(n))
	return strconv.FormatFloat(math.Round(x*p)/p+0, 'f', -1, 64)
}

// massText is a mass as people say it.
func massText(kg float64) string {
	switch {
	case kg <= 0:
		return ""
	case kg < 0.9995:
		return decimals(1000*kg, max(0, 2-int(math.Floor(math.Log10(1000*kg))))) + " g"
	}
	return decimals(kg, 2) + " kg"
}

// Size is the size of a solid in mm, without the word for its shape, for a list.
func Size(s shape.Solid) string {
	switch s := s.(type) {
	case shape.Block:
		return fmt.Sprintf("%s x %s x %s", mm(s.Size.X), mm(s.Size.Y), mm(s.Size.Z))
	case shape.Disc:
		return fmt.Sprintf("⌀%s x %s", mm(s.Diameter), mm(s.Thickness))
	case shape.Ring:
		return fmt.Sprintf("⌀%s / ⌀%s x %s", mm(s.OuterDiameter), mm(s.InnerDiameter), mm(s.Thickness))
	case shape.Wedge:
		return fmt.Sprintf("⌀%s / ⌀%s x %s, %s°", mm(s.OuterDiameter), mm(s.InnerDiameter), mm(s.Thickness), decimals(s.Span()*180/math.Pi, 3))
	case shape.Frustum:
		return fmt.Sprintf("⌀%s to ⌀%s x %s", mm(s.BottomDiameter), mm(s.TopDiameter), mm(s.Height))
	case shape.Racetrack:
		return fmt.Sprintf("%s x %s round %s x %s, %s wide", mm(s.CoreX+2*s.Build), mm(s.CoreY+2*s.Build), mm(s.CoreX), mm(s.CoreY), mm(s.Width))
	case Window:
		return fmt.Sprintf("%s x %s round %s x %s, %s high", mm(s.Outer[0]), mm(s.Outer[1]), mm(s.Inner[0]), mm(s.Inner[1]), mm(s.Height))
	}
	return s.String()
}

// ShapeName is the word for a solid's shape.
func ShapeName(s shape.Solid) string {
	name, _, _ := strings.Cut(s.String(), " ")
	return name
}
