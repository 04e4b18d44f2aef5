package polewright

import (
	"math"

	"polewright/design"
)

// PartingPlane is the plane across z through the middle of the gap, at which the halves come apart. ok is false where nothing lies on one side
// of it or where it cuts a magnet.
func PartingPlane(d *design.Design) (p Plane, ok bool) {
	p.Axis = 2
	if d.Target != nil && d.Target.Region != nil {
		p.AtM = d.Target.Region.Center.Z
	}
	var below, above bool
	for _, q := range d.Parts() {
		if !q.Magnetic() {
			continue
		}
		b := shapeBounds(q)
		below, above = below || b.Min.Z < p.AtM, above || b.Max.Z > p.AtM
		if q.Kind == "magnet" && b.Min.Z < p.AtM && b.Max.Z > p.AtM {
			return p, false
		}
	}
	return p, below && above
}

// Halves is the parting plane as Options takes it: none where no halves come apart.
func Halves(d *design.Design) []Plane {
	if p, ok := PartingPlane(d); ok {
		return []Plane{p}
	}
	return nil
}

// mostPartings bounds the planes that Partings lists.
const mostPartings = 12

// Partings lists the planes, across z, then y, then x, at which an assembly comes apart into halves without a cut through any part: those that
// RunApproach takes. It lists a dozen at most.
func Partings(d *design.Design) (list []Plane) {
	a, err := newAssembly(d)
	if err != nil {
		return nil
	}
	for axis := 2; axis >= 0; axis-- {
		seen := map[float64]bool{}
		for _, q := range a.parts {
			b := shapeBounds(q)
			for _, x := range []float64{*component(&b.Min, axis), *component(&b.Max, axis)} {
				x = math.Round(x/design.TouchM) * design.TouchM // faces that touch are one plane
				p := Plane{axis, x}
				if seen[x] || a.parted(p) != nil {
					continue
				}
				seen[x] = true
				if list = append(list, p); len(list) == mostPartings {
					return list
				}
			}
		}
	}
	return list
}
