package report

import (
	"image/color"
	"math"
)

// viridis is every seventeenth row of the colour map of that name by N. J. Smith and S. van der Walt (2015, CC0): even
// steps in it look even, it reads the same to colour-blind eyes and it still rises in grey.
var viridis = [16][3]float64{
	{0.267004, 0.004874, 0.329415},
	{0.282656, 0.100196, 0.422160},
	{0.277134, 0.185228, 0.489898},
	{0.253935, 0.265254, 0.529983},
	{0.221989, 0.339161, 0.548752},
	{0.190631, 0.407061, 0.556089},
	{0.163625, 0.471133, 0.558148},
	{0.139147, 0.533812, 0.555298},
	{0.120565, 0.596422, 0.543611},
	{0.134692, 0.658636, 0.517649},
	{0.208030, 0.718701, 0.472873},
	{0.327796, 0.773980, 0.406640},
	{0.477504, 0.821444, 0.318195},
	{0.647257, 0.858400, 0.209861},
	{0.824940, 0.884720, 0.106217},
	{0.993248, 0.906157, 0.143936},
}

// scaleColor returns the colour at t, 0 … 1; beyond them it stays at the ends.
func scaleColor(t float64) color.NRGBA {
	s := min(max(t, 0), 1) * float64(len(viridis)-1)
	i := min(int(s), len(viridis)-2)
	f := s - float64(i)
	var out [3]uint8
	for k := range out {
		out[k] = uint8(math.Round(255 * (viridis[i][k]*(1-f) + viridis[i+1][k]*f)))
	}
	return color.NRGBA{R: out[0], G: out[1], B: out[2], A: 0xff}
}

// contrast returns black or white, whichever stands out against the colour at t.
func contrast(t float64) color.NRGBA {
	if t < 0.6 {
		return rgb(0xffffff)
	}
	return rgb(0x000000)
}
