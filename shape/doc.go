// Package shape holds the bodies an assembly is made of and where they stand: blocks, discs, rings, ring sectors, round pole tips and
// wound racetracks, with volume, surface, inside test, bounding box and plan outline. It knows nothing of fields.
//
// Lengths are metres, angles radians. Every solid lives in its own local frame about the local origin; a [Placement] carries it into the
// world. Sizes are taken as they are: a size of zero or less gives an empty body, never a panic.
package shape
