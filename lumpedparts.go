package polewright

import (
	"cmp"
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r3"

	"polewright/design"
	"polewright/shape"
)

// layoutOf is the layout of a design: its own, or the one that its written parts stand in, when those are exactly two facing blocks, alone, in a
// frame of four bars, or in a wound yoke. It is nil for any other.
func layoutOf(d *design.Design) *design.Layout {
	if d.Layout != nil {
		return d.Layout
	}
	if len(d.Magnets) != 2 || len(d.Coils) > 0 {
		return nil
	}
	upper, lower := &d.Magnets[0], &d.Magnets[1]
	if upper.Place.Center.Z < lower.Place.Center.Z {
		upper, lower = lower, upper
	}
	size, ok := uprightBlock(&upper.Body)
	other, ok2 := uprightBlock(&lower.Body)
	apart := r3.Sub(upper.Place.Center, lower.Place.Center)
	middle := r3.Scale(0.5, r3.Add(upper.Place.Center, lower.Place.Center))
	if !ok || !ok2 || !samePlace(size, other) || !samePlace(upper.Direction, lower.Direction) || !samePlace(apart, r3.Vec{Z: apart.Z}) || math.Abs(math.Abs(upper.Direction.Z)-1) > 1e-9 {
		return nil
	}
	l := map[string]float64{"magnet_x": size.X, "magnet_y": size.Y, "magnet_z": size.Z, "gap": apart.Z - size.Z}
	if !(l["gap"] > 0) {
		return nil
	}
	inside := r3.Vec{X: size.X, Y: size.Y, Z: l["gap"] + 2*size.Z} // of the yoke, without the room beside the magnets
	switch {
	case len(d.Steels) == 0 && len(d.Wounds) == 0:
		return &design.Layout{Kind: "facing-pair", Lengths: l}
	case len(d.Steels) == 0 && len(d.Wounds) == 1:
		w := &d.Wounds[0]
		l["side"], l["build"] = (w.CoreM.Y-size.Y)/2, w.Racetrack().Build
		inside.Y = w.CoreM.Y
		if w.Axis != 0 || !samePlace(w.CoreM, inside) || !samePlace(w.Place.Center, middle) || l["side"] < 0 {
			return nil
		}
		return &design.Layout{Kind: "wound-pair", Lengths: l}
	case len(d.Steels) == 4 && len(d.Wounds) == 0:
		type bar struct{ size, at r3.Vec }
		var bars []bar
		for i := range d.Steels {
			s, ok := uprightBlock(&d.Steels[i].Body)
			if !ok {
				return nil
			}
			bars = append(bars, bar{s, r3.Sub(d.Steels[i].Place.Center, middle)})
		}
		slices.SortFunc(bars, func(a, b bar) int { return cmp.Compare(a.at.Z, b.at.Z) }) // a back, the legs, a back
		leg, back := bars[1], bars[3]
		l["leg"], l["back"] = leg.size.Y, back.size.Z
		inside.Y = 2*math.Abs(leg.at.Y) - leg.size.Y
		l["side"] = (inside.Y - size.Y) / 2
		legs, backs := r3.Vec{Y: (inside.Y + leg.size.Y) / 2}, r3.Vec{Z: (inside.Z + back.size.Z) / 2}
		if bars[1].at.Y < 0 {
			bars[1], bars[2] = bars[2], bars[1]
		}
		for i, want := range []bar{
			{r3.Vec{X: size.X, Y: inside.Y + 2*leg.size.Y, Z: back.size.Z}, r3.Scale(-1, backs)},
			{r3.Vec{X: size.X, Y: leg.size.Y, Z: inside.Z}, legs},
			{r3.Vec{X: size.X, Y: leg.size.Y, Z: inside.Z}, r3.Scale(-1, legs)},
			{r3.Vec{X: size.X, Y: inside.Y + 2*leg.size.Y, Z: back.size.Z}, backs},
		} {
			if !samePlace(bars[i].size, want.size) || !samePlace(bars[i].at, want.at) || l["side"] < 0 {
				return nil
			}
		}
		return &design.Layout{Kind: "framed-pair", Lengths: l}
	}
	return nil
}

// uprightBlock is the size of a block along the axes of the world.
func uprightBlock(b *design.Body) (r3.Vec, bool) {
	s, ok := b.Solid.(shape.Block)
	return s.Size, ok && b.Place.Rot == shape.Identity()
}

// samePlace tells whether places agree to a micrometre.
func samePlace(a, b r3.Vec) bool { return r3.Norm(r3.Sub(a, b)) < 1e-6 }
