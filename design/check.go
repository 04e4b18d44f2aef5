package design

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"sort"

	"gonum.org/v1/gonum/spatial/r3"

	"polewright/mistake"
	"polewright/quantity"
	"polewright/shape"
	"polewright/spelling"
)

// check does what needs more than one table: places, overlaps, joints, sections and the target's region.
func (r *reader) check(d *Design) {
	parts := d.Parts()
	if r.parts > MaxParts {
		return
	}
	stands := make([]stand, len(parts))
	for i, p := range parts {
		stands[i] = stand{p, shape.Bounds(p.Solid, p.Place)}
	}
	for _, c := range d.Coils {
		stands = append(stands, stand{Part{"coil", c.Body()}, c.bounds()})
	}
	r.checkApart(stands)
	r.checkOverlaps(slices.DeleteFunc(slices.Clone(stands), func(s stand) bool { return !s.Magnetic() }))
	byName := map[string]stand{}
	for _, s := range stands {
		byName[s.Name] = s
	}
	r.checkJoints(d, byName)
	r.checkSections(d, byName)
	if d.Target != nil && d.Target.Region != nil {
		r.checkRegion(d.Target.Region, stands[:len(parts)])
	}
}

// stand is a part with its bounding box in the world.
type stand struct {
	Part
	box r3.Box
}

func (s stand) path() string { return s.Kind + "." + shortened(s.Name) }

func (s stand) String() string {
	return fmt.Sprintf("%s %q (line %d)", s.Kind, shortened(s.Name), s.Line)
}

func (c Coil) bounds() r3.Box {
	h := [3]float64{}
	h[c.Axis] = c.HeightM / 2
	for i := range 2 {
		h[(c.Axis+1+i)%3] = math.Max(c.OuterM[i], c.OuterDiameterM) / 2
	}
	half := r3.Vec{X: h[0], Y: h[1], Z: h[2]}
	return r3.Box{Min: r3.Sub(c.Center, half), Max: r3.Add(c.Center, half)}
}

func along(v r3.Vec, axis int) float64 { return [3]float64{v.X, v.Y, v.Z}[axis] }

var axisNames = [3]string{"x", "y", "z"}

// checkApart reports parts that stand beyond more than MaxApartM of empty space.
func (r *reader) checkApart(stands []stand) {
	for axis := range 3 {
		s := slices.Clone(stands)
		slices.SortStableFunc(s, func(a, b stand) int {
			return cmp.Compare(along(a.box.Min, axis), along(b.box.Min, axis))
		})
		end := math.Inf(-1)
		for i := range s {
			lo := along(s[i].box.Min, axis)
			if i > 0 && lo-end > MaxApartM {
				far := s[i]
				if i <= len(s)/2 && i < len(s)-1 { // the fewer ones are the ones astray
					far = s[i-1]
				}
				r.fail(far.Line, far.path(), fmt.Sprintf("stands %s away from the others along %s", quantity.Format(lo-end, "m", 4), axisNames[axis]), "parts may leave 20 m between them: check the unit and the sign")
				return
			}
			end = math.Max(end, along(s[i].box.Max, axis))
		}
	}
}

// mostWork bounds the close look at pairs of parts whose boxes cross, in units of one exact decision (10 us). Parts side by side or inside one
// another make a few pairs each.
const mostWork = 20 * MaxParts

// checkOverlaps sweeps the boxes along the axis of the longest extent.
func (r *reader) checkOverlaps(s []stand) {
	if len(s) < 2 {
		return
	}
	all := s[0].box
	for _, p := range s {
		all = all.Union(p.box)
	}
	axis, size := 0, all.Size()
	if size.Y > size.X {
		axis = 1
	}
	if size.Z > along(size, axis) {
		axis = 2
	}
	sort.SliceStable(s, func(i, j int) bool { return along(s[i].box.Min, axis) < along(s[j].box.Min, axis) })
	var open []int
	work, found := 0, 0
	for i := range s {
		lo := along(s[i].box.Min, axis) + TouchM
		open = slices.DeleteFunc(open, func(j int) bool { return along(s[j].box.Max, axis) <= lo })
		for _, j := range open {
			if deep, _ := depth(s[i].box, s[j].box); deep <= TouchM {
				continue
			}
			shared, cost := overlapCost(*s[i].Body, *s[j].Body)
			if work += cost; work > mostWork {
				r.fail(0, "", "too many parts stand within one another's boxes to be checked for overlaps", "merge parts, or turn them so that fewer boxes cross")
				return
			}
			if !shared {
				continue
			}
			a, b := s[i], s[j]
			if a.Line < b.Line {
				a, b = b, a
			}
			deep, way := depth(a.box, b.box)
			r.fail(a.Line, a.path(), "overlaps "+b.String(), fmt.Sprintf("parts may touch but not share space; their outer boxes share %s along %s: move or shorten one of them", mm(deep), axisNames[way]))
			if found++; found > mistake.Most {
				return
			}
		}
		open = append(open, i)
	}
}

// depth is the least extent of what two boxes share, and along which axis; negative is the widest gap between them.
func depth(a, b r3.Box) (least float64, axis int) {
	least = math.Inf(1)
	for i := range 3 {
		shared := math.Min(along(a.Max, i), along(b.Max, i)) - math.Max(along(a.Min, i), along(b.Min, i))
		if shared < least {
			least, axis = shared, i
		}
	}
	return least, axis
}

// known finds the part that the value v names. Of a part that had a mistake of its own, or shares its name, nothing more is said.
func (f fields) known(v *value, key string, byName map[string]stand) (stand, bool) {
	if f.r.twice[v.text] {
		return stand{}, false
	}
	if s, ok := byName[v.text]; ok {
		return s, true
	}
	_, broken := f.r.lines[v.text]
	if !broken && f.r.mistakes < enough/10 {
		names := make([]string, 0, len(f.r.lines))
		for n := range f.r.lines {
			names = append(names, shortened(n))
		}
		slices.Sort(names)
		if len(names) > 20 {
			slices.SortStableFunc(names, func(a, b string) int { return spelling.Distance(a, v.text) - spelling.Distance(b, v.text) })
			names = append(names[:5], "...")
		}
		f.fail(v.line, key, fmt.Sprintf("there is no part %s", v), meant(v.text, names, "parts"))
	} else if !broken { // enough has been said, and the nearest names take time
		f.fail(v.line, key, fmt.Sprintf("there is no part %s", v), "write the name of a part of this file")
	}
	return stand{}, false
}

func (r *reader) checkJoints(d *Design, byName map[string]stand) {
	seen := map[[2]string]int{}
	for i, f := range r.joints {
		between := f.get("between")
		a, ok := f.known(between.list[0], "between.1", byName)
		b, ok2 := f.known(between.list[1], "between.2", byName)
		if !ok || !ok2 {
			continue
		}
		fail := func(what, hint string) { f.fail(between.line, "between", what, hint) }
		pair := [2]string{min(a.Name, b.Name), max(a.Name, b.Name)}
		switch line, twice := seen[pair]; {
		case a.Name == b.Name:
			fail(fmt.Sprintf("%q is given twice", shortened(a.Name)), "a joint lies between two parts")
		case twice:
			fail(fmt.Sprintf("these two have a joint on line %d", line), "write one joint with the whole thickness")
		case a.Kind == "coil" || b.Kind == "coil":
			fail("a coil has no joint", "name two parts whose faces touch")
		default:
			hint := "a joint is a film between faces that touch in the file"
			if gap, way := depth(a.box, b.box); gap < -TouchM {
				hint += fmt.Sprintf("; these two are %s apart along %s", mm(-gap), axisNames[way])
			} else if touch(*a.Body, *b.Body) {
				break
			}
			fail(fmt.Sprintf("no faces of %q and %q touch", shortened(a.Name), shortened(b.Name)), hint)
		}
		seen[pair] = d.Joints[i].Line
	}
}

func (r *reader) checkSections(d *Design, byName map[string]stand) {
	for i, f := range r.sections {
		s := d.Sections[i]
		p, ok := f.known(f.get("part"), "part", byName)
		if !ok {
			continue
		}
		if p.Kind == "coil" {
			f.fail(f.get("part").line, "part", f.get("part").String()+" is a coil", "name a part of steel, wire or magnet")
			continue
		}
		lo, hi := along(p.box.Min, s.Axis), along(p.box.Max, s.Axis)
		if s.AtM < lo+TouchM || s.AtM > hi-TouchM {
			f.fail(f.get("at").line, "at", fmt.Sprintf("%s: the plane %s = %s misses %s", f.get("at"), axisNames[s.Axis], mm(s.AtM), p),
				fmt.Sprintf("it cuts the part between %s = %s and %s", axisNames[s.Axis], mm(lo), mm(hi)))
		}
	}
}

// checkRegion sees to it that the target's region is free of magnets and steel.
func (r *reader) checkRegion(g *Region, parts []stand) {
	for _, p := range parts {
		if p.Magnetic() && g.meets(*p.Body) {
			r.fail(r.region.t.line, "target.region", "reaches into "+p.String(), "the region lies in the free space of the gap: make it smaller or move its center")
			return
		}
	}
}

func (g *Region) meets(b Body) bool {
	switch g.Shape {
	case Cylinder:
		return overlap(Body{Solid: shape.Disc{Diameter: g.DiameterM, Thickness: g.LengthM}, Place: shape.Placement{Center: g.Center, Rot: shape.AxisTo(g.Axis)}}, b)
	case Box:
		return overlap(Body{Solid: shape.Block{Size: g.SizeM}, Place: shape.Placement{Center: g.Center, Rot: shape.Identity()}}, b)
	}
	radius := g.DiameterM/2 - TouchM
	c := b.Place.ToLocal(g.Center)
	if !b.Solid.Contains(c, radius) { // faces moved out by the radius hold the centre of any sphere that reaches in
		return false
	}
	if k, ok := b.Solid.(shape.Block); ok {
		h := k.HalfExtent()
		out := r3.Vec{X: math.Max(math.Abs(c.X)-h.X, 0), Y: math.Max(math.Abs(c.Y)-h.Y, 0), Z: math.Max(math.Abs(c.Z)-h.Z, 0)}
		return r3.Norm(out) < radius
	}
	if b.Solid.Contains(c, 0) {
		return true
	}
	if surface(b.Solid, 0, func(p r3.Vec) bool { return r3.Norm(r3.Sub(p, c)) < radius }) {
		return true
	}
	// Points spread evenly over the sphere along a spiral of the golden angle.
	const n = 4000
	for i := range n {
		z := 1 - (2*float64(i)+1)/n
		s, k := math.Sincos(float64(i) * math.Pi * (3 - math.Sqrt(5)))
		rho := math.Sqrt(1 - z*z)
		if b.Solid.Contains(r3.Add(c, r3.Scale(radius, r3.Vec{X: rho * k, Y: rho * s, Z: z})), 0) {
			return true
		}
	}
	return false
}
