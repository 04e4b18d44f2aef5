package design

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/spatial/r3"

	"polewright/shape"
)

// This file holds the rings of magnets whose direction turns twice as fast as their place, with the field across the bore and none outside
// (K. Halbach, Nucl. Instrum. Methods 169 (1980) 1). The axis of the ring is x, the field in the bore along +z.

var (
	halbachWedgeLengths = []parameter{
		{"bore", 0.030, false, "inner diameter of the ring"},
		{"outer_diameter", 0.080, false, "outer diameter of the ring"},
		{"length", 0.080, false, "length of the ring along its axis x"},
	}
	halbachBlockLengths = []parameter{
		{"ring_diameter", 0.070, false, "diameter of the circle on which the middles of the blocks stand"},
		{"edge", 0.015, false, "edges of each block across the axis; its length is apart"},
		{"length", 0.050, false, "length of each block along the axis x"},
	}
	halbachCounts = []count{{"segments", 8, 4, 64, "magnets in the ring"}}
)

// halbachTurn is the direction of the magnetization, an angle from y towards z, of a magnet whose middle stands at the angle at: 2 at - 90 deg,
// so that the magnets above and below the bore point along +z and those beside it along -z.
func halbachTurn(at float64) float64 { return 2*at - math.Pi/2 }

// halbachAngle is where the magnet i of n stands, from y towards z: the first is the one above the bore.
func halbachAngle(i, n int) float64 { return math.Pi/2 + 2*math.Pi*float64(i)/float64(n) }

// halbachWedges is a ring of wedges.
func halbachWedges(l map[string]float64, m makings, d *Design) {
	n := m.counts["segments"]
	for i := range n {
		at, half := halbachAngle(i, n), math.Pi/float64(n)
		turn := halbachTurn(at)
		d.Magnets = append(d.Magnets, Magnet{
			Body: Body{Name: fmt.Sprintf("wedge %d", i+1), Line: m.line,
				Solid: shape.Wedge{OuterDiameter: l["outer_diameter"], InnerDiameter: l["bore"], Thickness: l["length"], From: at - half, To: at + half},
				Place: shape.Placement{Rot: shape.AxisTo(0)}},
			Direction: r3.Vec{Y: math.Cos(turn), Z: math.Sin(turn)}, Material: m.magnet,
		})
	}
}

// halbachBlocks is a ring of equal blocks, each magnetized through the same face and turned to its direction.
func halbachBlocks(l map[string]float64, m makings, d *Design) {
	n := m.counts["segments"]
	for i := range n {
		at := halbachAngle(i, n)
		rot := shape.Euler(halbachTurn(at)-math.Pi/2, 0, 0)
		d.Magnets = append(d.Magnets, Magnet{
			Body: Body{Name: fmt.Sprintf("block %d", i+1), Line: m.line,
				Solid: shape.Block{Size: r3.Vec{X: l["length"], Y: l["edge"], Z: l["edge"]}},
				Place: shape.Placement{Center: r3.Scale(l["ring_diameter"]/2, r3.Vec{Y: math.Cos(at), Z: math.Sin(at)}), Rot: rot}},
			Direction: rot.Apply(r3.Vec{Z: 1}), Material: m.magnet,
		})
	}
}
