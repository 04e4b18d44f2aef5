// Package plan makes two-dimensional meshes of the plan drawing of an assembly: triangles fitted to every outline, straight or
// circular, with curved quadratic edges on the arcs, graded in size, and nested by refinement. It knows nothing of the third dimension
// or of fields.
//
// Generate cuts all curves at their meetings, triangulates what lies between them (constrained Delaunay) and refines until the wanted
// edge lengths and angles are met. Refine quarters every triangle and gives the prolongation for multigrid. Locate finds the
// triangle at a point.
//
// Coordinates u, v are in metres in the plane of the plan.
package plan
