package winding

import (
	"fmt"

	"polewright/mistake"
)

// Balance weighs what the yoke carries against what the magnets send.
type Balance struct {
	CapacityWb float64 // both sides at saturation
	Ratio      float64 // capacity over magnet flux
	Sentence   string  // the same in words
}

// Capacity compares the flux that both sides of a winding carry at saturation, 2·steelAreaOneSide·saturationT, with the flux
// that leaves the magnets, magnetFluxWb (all of it, not only what crosses the gap). steelAreaOneSide is a Section's
// SteelAreaM2, above 0 and up to 100 m²; saturationT is in (0, 3] T; the flux is above 0.
func Capacity(steelAreaOneSide, saturationT, magnetFluxWb float64) (Balance, error) {
	switch {
	case !(steelAreaOneSide > 0 && steelAreaOneSide <= 100):
		return Balance{}, mistake.Of(fmt.Sprintf("the steel area of one side, %g m2, is not above 0 and up to 100 m2", steelAreaOneSide), "")
	case !(saturationT > 0 && saturationT <= 3):
		return Balance{}, mistake.Of(fmt.Sprintf("the saturation, %g T, is not above 0 and up to 3 T", saturationT), "low-carbon wire has 2.1 T")
	case !(magnetFluxWb > 0 && magnetFluxWb <= 1e3):
		return Balance{}, mistake.Of(fmt.Sprintf("the magnets' flux, %g Wb, is not above 0 and up to 1000 Wb", magnetFluxWb), "it is about the flux density in the magnet times its face area")
	}
	b := Balance{CapacityWb: 2 * steelAreaOneSide * saturationT}
	b.Ratio = b.CapacityWb / magnetFluxWb
	// Bounds of the words: low-carbon steel works well up to 1.5 to 1.6 T of its 2.1 T (common practice, no source).
	var words string
	switch {
	case b.Ratio < 1:
		words = fmt.Sprintf("it saturates, the rest leaks outside; wind %.2g times the turns for a good circuit", 1.3/b.Ratio)
	case b.Ratio < 1.3:
		words = "it works near saturation, and each further turn still gains field"
	case b.Ratio < 2.5:
		words = "it works below saturation; further turns gain little"
	default:
		words = "it has more steel than the magnets need"
	}
	b.Sentence = fmt.Sprintf("The winding carries %.3g mWb at saturation, %.0f %% of the magnets' %.3g mWb: %s.", b.CapacityWb*1e3, 100*b.Ratio, magnetFluxWb*1e3, words)
	return b, nil
}
