package polewright

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r3"

	"polewright/design"
	"polewright/shape"
)

// This file makes pole tips plainer for the drafts of the steps: a rim of half a millimetre and the edge of a cone ask for five times the cells, and
// matter little to what moves elsewhere.

// rimThickness is the most that a ring on a tip may be thick to count as its rim, of the tip's width.
const rimThickness = 0.1

// plain tells whether the tips of this design are made plainer: at draft, unless all of it turns about one axis, which costs little.
func (run *assembling) plain() bool {
	if run.o.Accuracy.Name != Draft.Name {
		return false
	}
	all, tips := true, false
	for _, s := range run.d.Steels {
		_, tip := s.Solid.(shape.Frustum)
		_, block := s.Solid.(shape.Block)
		all, tips = all && !block, tips || tip
	}
	return tips && (!all || len(run.d.Wounds) > 0)
}

// plainTips is a design whose rims are spread over the faces of the tips that they stand on, and whose tips are discs of their height and volume, but
// those that are brought to their magnets.
func plainTips(d *design.Design, moves []string) *design.Design {
	o := *d
	o.Steels = slices.Clone(d.Steels)
	gone := map[string]bool{}
	half := slices.ContainsFunc(d.Magnets, func(m design.Magnet) bool { return slices.Contains(moves, m.Name) }) // a tip within it does not move by itself
	for i := range o.Steels {
		t := &o.Steels[i]
		cone, ok := t.Solid.(shape.Frustum)
		if !ok {
			continue
		}
		up := t.Place.Rot.Apply(r3.Vec{Z: 1})
		for k := range o.Steels {
			rim, ok := o.Steels[k].Solid.(shape.Ring)
			if !ok || rim.Thickness > rimThickness*math.Min(cone.TopDiameter, cone.BottomDiameter) {
				continue
			}
			from := r3.Sub(o.Steels[k].Place.Center, d.Steels[i].Place.Center)
			way, face := 1.0, cone.TopDiameter
			if r3.Dot(from, up) < 0 {
				way, face = -1, cone.BottomDiameter
			}
			height := d.Steels[i].Solid.(shape.Frustum).Height
			if r3.Norm(r3.Sub(from, r3.Scale(way*(height+rim.Thickness)/2, up))) > design.TouchM || rim.OuterDiameter > face+design.TouchM {
				continue
			}
			gone[o.Steels[k].Name] = true
			more := rim.Volume() / (math.Pi / 4 * face * face)
			cone.Height += more
			t.Place.Center = r3.Add(t.Place.Center, r3.Scale(way*more/2, up))
		}
		t.Solid = cone
		if half || !slices.Contains(moves, t.Name) {
			t.Solid = shape.Disc{Diameter: math.Sqrt(cone.Volume() / (math.Pi / 4 * cone.Height)), Thickness: cone.Height}
		}
	}
	o.Steels = slices.DeleteFunc(o.Steels, func(s design.Steel) bool { return gone[s.Name] })
	o.Joints = slices.DeleteFunc(slices.Clone(d.Joints), func(j design.Joint) bool { return gone[j.Between[0]] || gone[j.Between[1]] })
	return &o
}
