package magnetostatic

import "polewright/grid"

// Memory estimates what Solve takes at its most, bytes, within a third: on the finest grid the matrix of all plans with its layers, what linear
// cells give to the blocks that steel touches, vectors, and the integrals of each triangle. Factors of the coarsest plan are not in it; they
// are small beside the rest.
func Memory(g *grid.Grids) int64 {
	const (
		pairs     = 6.25    // of a plan node with itself and half of its neighbours, of which it has 18 at a corner, 8 in the middle of a side
		kept      = 1.4     // blocks and those of them that steel touches
		coarser   = 4.0 / 3 // plans below
		vectors   = 12*8 + 6*4
		integrals = 2500 // a triangle
		place     = 60   // a cell: body, medium, and of steel its slot and mean tangents
	)
	fine := g.Grid[len(g.Grid)-1]
	plan, layers := float64(len(fine.Plan.Nodes)), float64(fine.Layers())
	n := plan * (2*layers + 1)
	triangles := float64(len(fine.Plan.Triangles))
	bytes := coarser*kept*pairs*plan*(8*layers+5)*4 + vectors*n + coarser*triangles*(integrals+place*layers)
	return int64(bytes)
}
