package freefield

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"

	"polewright/shape"
)

// weighted is a point of a rule of integration.
type weighted struct {
	at r3.Vec
	w  float64
}

// volumeRule gives points and weights (m3) in a body's own frame that integrate over its volume a field whose sources keep the distance clear from
// it, to about 1e-13: Gauss rules along the edges of a block, and along radius, angle and axis of a round body.
func volumeRule(s shape.Solid, clear float64) []weighted {
	points := func(half float64) int { return min(gaussPoints(half, half+clear, 0), maxGauss) }
	switch s := s.(type) {
	case shape.Block:
		return blockRule(s.HalfExtent(), points)
	case shape.Disc:
		return sectorRule(shape.Wedge{OuterDiameter: s.Diameter, Thickness: s.Thickness}, clear, points)
	case shape.Ring:
		return sectorRule(shape.Wedge{OuterDiameter: s.OuterDiameter, InnerDiameter: s.InnerDiameter, Thickness: s.Thickness}, clear, points)
	case shape.Wedge:
		return sectorRule(s, clear, points)
	}
	return nil
}

func blockRule(h r3.Vec, points func(half float64) int) (out []weighted) {
	gx, gy, gz := gauss[points(h.X)], gauss[points(h.Y)], gauss[points(h.Z)]
	v := h.X * h.Y * h.Z
	for i, x := range gx.x {
		for j, y := range gy.x {
			for k, z := range gz.x {
				out = append(out, weighted{r3.Vec{X: h.X * x, Y: h.Y * y, Z: h.Z * z}, v * gx.w[i] * gy.w[j] * gz.w[k]})
			}
		}
	}
	return out
}

func sectorRule(s shape.Wedge, clear float64, points func(half float64) int) (out []weighted) {
	ro, ri, l, span := s.OuterDiameter/2, max(s.InnerDiameter/2, 0), s.Thickness/2, s.Span()
	pieces := math.Ceil(span/(math.Pi/2) - 1e-9)
	hr, ht := (ro-ri)/2, span/pieces/2
	// As a function of a complex angle the distance vanishes at an imaginary part of ln(1 + clear/ro) or more.
	gt := gauss[min(gaussPoints(ht, 0, math.Log1p(clear/ro)), maxGauss)]
	gr, gz := gauss[points(hr)], gauss[points(l)]
	for i := 0.0; i < pieces; i++ {
		for j, t := range gt.x {
			sin, cos := math.Sincos(s.From + ht*(2*i+1+t))
			for k, x := range gr.x {
				r := (ro+ri)/2 + hr*x
				for m, z := range gz.x {
					out = append(out, weighted{r3.Vec{X: r * cos, Y: r * sin, Z: l * z}, ht * hr * l * r * gt.w[j] * gr.w[k] * gz.w[m]})
				}
			}
		}
	}
	return out
}
