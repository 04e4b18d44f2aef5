// Package fieldmap samples |B| over a plane through a solved design, with the outlines of the parts there, for a map. Points are close only
// where the field needs it: every value costs a fit on the grid, or the closed forms of all magnets.
package fieldmap
