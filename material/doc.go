// Package material holds what a builder buys: permanent-magnet grades, magnetization curves of soft steel, wire gauges
// and densities, each with the place its numbers come from.
//
// Units are SI: tesla, ampere per metre, joule per cubic metre, kilogram per cubic metre, metre. Temperatures are in degrees Celsius and temperature
// coefficients in fractions per kelvin. A Source that says "from memory" has not been compared with a printed page.
package material

import (
	"math"
	"slices"
	"strings"

	"polewright/spelling"
)

// Mu0 is the magnetic constant, T·m/A. The CODATA 2018 value, 1.25663706212e-6, is 5e-10 relative above it.
const Mu0 = 4e-7 * math.Pi

// plainName folds a trade name to the form names are compared in: lower case, without spaces, hyphens, underscores and brackets.
func plainName(s string) string {
	return strings.Map(func(r rune) rune {
		if strings.ContainsRune(" -_()\t", r) {
			return -1
		}
		return r
	}, strings.ToLower(strings.TrimSpace(s)))
}

// nearest lists up to n of the names, those with the fewest letters to change first.
func nearest(name string, names []string, n int) []string {
	const longest = 40 // no name is longer; the rest of an overlong one does not matter
	key := plainName(name)
	if len(key) > longest {
		key = key[:longest]
	}
	sorted := slices.Clone(names)
	slices.SortStableFunc(sorted, func(a, b string) int {
		return spelling.Distance(key, plainName(a)) - spelling.Distance(key, plainName(b))
	})
	return sorted[:min(n, len(sorted))]
}
