package web

import (
	"context"
	"math"

	"gonum.org/v1/gonum/spatial/r3"

	"polewright/design"
	"polewright/draw"
	"polewright/facet"
)

// This file says how full the steel is, all over its surface.

// Steels are the bodies of steel and the wound yokes, with the flux density just under their surface.
type Steels struct {
	Bodies []SteelBody `json:"bodies"`
}

// SteelBody is the surface of one part, cut into small triangles.
type SteelBody struct {
	Name string `json:"name"`
	// SaturationT is the saturation polarization of the steel; of a wound yoke that of the wire times the packing.
	SaturationT float64   `json:"saturation_T"`
	Corners     []float64 `json:"corners_mm"` // x, y, z of each, in the world
	Triangles   [][3]int  `json:"triangles"`  // of corners, counter-clockwise seen from outside
	B           []float64 `json:"b_T"`        // |B| at each corner
}

// steelPoints is about how many corners all surfaces together have.
const steelPoints = 4000

func (b *Bench) steel(ctx context.Context, q *Solving, e *events) (*Steels, error) {
	k, err := b.solved(ctx, q.Asked, q.Effort, e.share(0, 0.5))
	if err != nil {
		return nil, err
	}
	bodies, places, err := steelBodies(k.design)
	if err != nil {
		return nil, err
	}
	values := make([]float64, len(places))
	err = each(ctx, len(places), func(i int) {
		field, _ := k.solved.Field(places[i])
		values[i] = digits(r3.Norm(field))
	}, func(done int) { e.progress("steel", 0.5+0.5*float64(done)/float64(len(places))) })
	if err != nil {
		return nil, err
	}
	for i := range bodies {
		n := len(bodies[i].Corners) / 3
		bodies[i].B, values = values[:n], values[n:]
	}
	return &Steels{bodies}, nil
}

// steelBodies cuts the surfaces of all steel, and says where the field of each corner is taken.
func steelBodies(d *design.Design) (bodies []SteelBody, places []r3.Vec, err error) {
	bodies = []SteelBody{}
	saturation := map[string]float64{}
	for i := range d.Steels {
		saturation[d.Steels[i].Name] = d.Steels[i].Material.Curve.SaturationT()
	}
	for i := range d.Wounds {
		saturation[d.Wounds[i].Name] = d.Wounds[i].Packing * d.Wounds[i].Material.Curve.SaturationT()
	}
	var surfaces [][]facet.Triangle
	area := 0.0
	for _, p := range draw.Parts(d) {
		js := saturation[p.Name]
		if (p.Kind != "steel" && p.Kind != "wound") || js == 0 || math.IsInf(js, 0) || len(bodies) >= mostBodies {
			continue
		}
		s, err := facet.Of(p.Solid, chordShare*r3.Norm(p.Solid.HalfExtent()))
		if err != nil {
			return nil, nil, err
		}
		for i, t := range s {
			for k, x := range t {
				s[i][k] = p.Place.ToWorld(x)
			}
			area += r3.Norm(across(s[i])) / 2
		}
		bodies = append(bodies, SteelBody{Name: p.Name, SaturationT: js})
		surfaces = append(surfaces, s)
	}
	edge := math.Sqrt(3 * area / steelPoints)
	for i := range bodies {
		places = append(places, bodies[i].cut(surfaces[i], edge)...)
	}
	return bodies, places, nil
}

// across is the normal of a triangle, twice as long as its area.
func across(t facet.Triangle) r3.Vec { return r3.Cross(r3.Sub(t[1], t[0]), r3.Sub(t[2], t[0])) }

// cut takes a surface in triangles with no edge longer than that. Corners belong to one flat face each, and their fields are taken a little
// inside the steel and away from the edges of the face, where fields are singular.
func (s *SteelBody) cut(surface []facet.Triangle, edge float64) (places []r3.Vec) {
	type corner struct{ at, normal [3]int64 }
	known := map[corner]int{}
	var inward, middle []r3.Vec
	var count []float64
	whole := func(v r3.Vec, unit float64) [3]int64 {
		return [3]int64{int64(math.Round(v.X / unit)), int64(math.Round(v.Y / unit)), int64(math.Round(v.Z / unit))}
	}
	var corners []r3.Vec
	index := func(p, n, mid r3.Vec) int {
		key := corner{whole(p, 1e-8), whole(n, 1e-3)}
		i, ok := known[key]
		if !ok {
			i = len(corners)
			known[key] = i
			corners, inward = append(corners, p), append(inward, r3.Scale(-1, n))
			middle, count = append(middle, r3.Vec{}), append(count, 0)
		}
		middle[i] = r3.Add(middle[i], mid)
		count[i]++
		return i
	}
	for work := surface; len(work) > 0; {
		t := work[len(work)-1]
		work = work[:len(work)-1]
		long, at := 0.0, 0
		for k := range 3 {
			if l := r3.Norm(r3.Sub(t[k], t[(k+1)%3])); l > long {
				long, at = l, k
			}
		}
		a, b, c := t[at], t[(at+1)%3], t[(at+2)%3]
		if long > edge { // by its edges alone, so neighbours agree
			half := r3.Scale(0.5, r3.Add(a, b))
			work = append(work, facet.Triangle{a, half, c}, facet.Triangle{half, b, c})
			continue
		}
		n := across(t)
		if r3.Norm(n) == 0 {
			continue
		}
		n = r3.Unit(n)
		mid := r3.Scale(1./3, r3.Add(a, r3.Add(b, c)))
		s.Triangles = append(s.Triangles, [3]int{index(a, n, mid), index(b, n, mid), index(c, n, mid)})
	}
	for i, p := range corners {
		for _, x := range numbers(p) {
			s.Corners = append(s.Corners, math.Round(x*1e7)/1e4+0) // 0.1 µm
		}
		mid := r3.Scale(1/count[i], middle[i])
		places = append(places, r3.Add(r3.Add(p, r3.Scale(0.25, r3.Sub(mid, p))), r3.Scale(0.02*edge, inward[i])))
	}
	return places
}
