package published

import (
	"context"
	_ "embed"
	"fmt"
	"math"
	"strings"

	"gonum.org/v1/gonum/spatial/r3"

	"polewright"
	"polewright/freefield"
	"polewright/result"
)

// This file holds magnets and steel that somebody built and measured.

//go:embed design/plates.toml
var platesDesign string

// plates is TEAM workshop problem 13: mean flux density through steel plates, by search coils.
//
// Differences are those of the assembly: the two air gaps of 0.5 mm decide how much flux the plates carry. Computed with gaps of 0.7 mm, all
// stations but those at the plates' ends come out about as far below the measured values as they are above with 0.5 mm.
func plates() (list []Check) {
	const source = "TEAM workshop problem 13, 1000 ampere-turns: T. Nakata, N. Takahashi, K. Fujiwara et al.; geometry, curve and measured values as transcribed in NGSolve/TEAM-problems, TEAM-13 (V. Hanser, TU Wien 2018); above 1.8 T the form of the curve is from memory"
	const far = "0.1 mm more in each air gap lowers B by 4 to 5 % (computed); the rest is measurement, steel and grid"
	const near = "next to the air gap 0.1 mm of it moves B by 6 to 9 % (computed), and the field changes within the width of a search coil"
	measured := []float64{1.330, 1.329, 1.286, 1.225, 1.129, 0.985, 0.655, 0.259, 0.453, 0.554, 0.637, 0.698, 0.755, 0.809, 0.901, 0.945, 0.954, 0.956, 0.960, 0.965, 0.970, 0.974, 0.981, 0.984, 0.985}
	solve := shared(func(ctx context.Context) (*result.Result, error) {
		return predict(ctx, platesDesign, polewright.Draft, nil)
	})
	for i, want := range measured {
		c := Check{Published: want, Unit: "T", Tolerance: round(0.07*want, 4), Why: far, Long: true, Solve: solve(func(r *result.Result) (float64, error) {
			if len(r.Sections) != len(measured) {
				return 0, fmt.Errorf("the design has %d sections for %d stations", len(r.Sections), len(measured))
			}
			return math.Abs(r.Sections[i].MeanB), nil
		})}
		switch no := i + 1; {
		case no <= 7:
			c.Name = fmt.Sprintf("station %d: centre plate, z %d mm", no, 10*i)
		case no <= 18:
			c.Name = fmt.Sprintf("station %d: flange, x %g mm", no, []float64{2.1, 10, 20, 30, 40, 50, 60, 80, 100, 110, 122.1}[i-7])
		default:
			c.Name = fmt.Sprintf("station %d: web, z %d mm", no, 60-10*(i-18))
		}
		if no := i + 1; no >= 6 && no <= 10 {
			c.Tolerance, c.Why = round(0.17*want, 4), near
		}
		list = append(list, c.of(source, Seen))
	}
	return list
}

// yokeMagnet is a magnet that was built and mapped: two N42 discs with pole discs in a box of 1018 bar.
func yokeMagnet() (list []Check) {
	const source = "measured: compact NMR magnet A650-88, map A645 (ARTS-Laboratory, University of South Carolina; repository Compact-NMR at 10708e6, CC BY-SA 4.0; Martin, Downey, Won, DETC2022-90023); outside dimensions scaled from a picture, gap of 15 mm taken from a sister magnet"
	const plateau = 0.6475
	places := []float64{0, 15.7, 25.7, 34.3, 35.7} // mm from the map's middle, which is taken at y = 40.7 mm, where both flanks lie on one profile
	solve := shared(func(ctx context.Context) (*result.Result, error) {
		return predict(ctx, boxMagnet(places), polewright.Standard, nil)
	})
	list = append(list, Check{Name: "box magnet: B on the plateau", Published: plateau, Unit: "T", Tolerance: 0.05 * plateau, Long: true,
		Why: "the gap is given as 13 to 15 mm only and the remanence as that of the grade: 5 %, common practice, no source", Solve: solve(probed(0))}.of(source, Seen))
	for i, b := range []float64{0.6466, 0.6428, 0.5955, 0.5686} {
		i++ // the first place is the middle
		c := Check{Name: fmt.Sprintf("box magnet: B %g mm from the middle, over the plateau", places[i]), Published: round(b/plateau, 4), Tolerance: 0.005, Long: true,
			Why: "the shape hardly depends on gap and remanence; readings to 0.1 %, place to half a millimetre", Solve: solve(func(r *result.Result) (float64, error) { return r.Probes[i].B[2] / r.Probes[0].B[2], nil })}
		if i >= 3 {
			c.Tolerance, c.Why = 0.03, "near the rim B falls by 4 % a millimetre, and the place is good to half a millimetre"
		}
		list = append(list, c.of(source, Seen))
	}
	return list
}

func boxMagnet(places []float64) string {
	const pole, thick, bar, gap = 8.0, 25.4, 19.05, 15.0
	const side = gap/2 + pole + thick
	var b strings.Builder
	b.WriteString("format = 1\ntitle = \"box magnet\"\n")
	for i, s := range []float64{1, -1} {
		name := []string{"upper", "lower"}[i]
		fmt.Fprintf(&b, "[[magnet]]\nname = %q\nshape = \"disc\"\ndiameter = \"76.2 mm\"\nthickness = \"25.4 mm\"\naxis = \"z\"\ncenter = [\"0 mm\",\"0 mm\",\"%g mm\"]\nmagnetized = [0,0,1]\ngrade = \"N42\"\n", name, s*(gap/2+pole+thick/2))
		fmt.Fprintf(&b, "[[steel]]\nname = \"%s pole\"\nshape = \"disc\"\ndiameter = \"76.2 mm\"\nthickness = \"8 mm\"\naxis = \"z\"\ncenter = [\"0 mm\",\"0 mm\",\"%g mm\"]\nmaterial = \"steel-1018\"\n", name, s*(gap/2+pole/2))
		fmt.Fprintf(&b, "[[steel]]\nname = \"%s bar\"\nshape = \"block\"\nsize = [\"88.9 mm\",\"150 mm\",\"%g mm\"]\ncenter = [\"0 mm\",\"0 mm\",\"%g mm\"]\nmaterial = \"steel-1018\"\n", name, bar, s*(side+bar/2))
		fmt.Fprintf(&b, "[[steel]]\nname = \"%s side\"\nshape = \"block\"\nsize = [\"88.9 mm\",\"%g mm\",\"%g mm\"]\ncenter = [\"0 mm\",\"%g mm\",\"0 mm\"]\nmaterial = \"steel-1018\"\n", name, bar, 2*side, s*(75-bar/2))
	}
	for _, y := range places {
		fmt.Fprintf(&b, "[[probe]]\nname = \"y %g\"\nat = [\"0 mm\",\"%g mm\",\"0 mm\"]\n", y, y)
	}
	return b.String()
}

// facingDiscs is a map of two bare discs whose gap was not recorded: it is fitted to the field in the middle, and the shape is checked.
func facingDiscs() (list []Check) {
	const source = "measured: map of two bare discs 76.2 x 25.4 mm (ARTS-Laboratory, Compact-NMR, Large Magnet Mapping, z = 0); their gap was not recorded: 26 mm is fitted to the 0.505 T in the middle"
	const z = 13 + 12.7
	pair := freefield.Sources{axial(disc(76.2, 25.4), 0, 0, z, 1.3), axial(disc(76.2, 25.4), 0, 0, -z, 1.3)}
	for _, p := range []struct{ r, b float64 }{{29.5, 0.38}, {38, 0.21}} {
		list = append(list, Check{Name: fmt.Sprintf("facing discs: B %g mm from the middle, over that in it", p.r), Published: round(p.b/0.505, 3), Tolerance: 0.04,
			Why: "two digits are given, places to a millimetre, and B falls by 3 to 4 % a millimetre there", Solve: atOnce(func() float64 { return pair.B(r3.Vec{X: p.r / 1000}).Z / pair.B(r3.Vec{}).Z })}.of(source, Seen))
	}
	return list
}

// openMagnet is two blocks side by side on a steel plate, poles opposite, the field above the space between them.
func openMagnet() (list []Check) {
	const source = "measured: W. Meethan, I. Thomas, C. Thomas, CMU J. Nat. Sci. 13 (2014) no. 1, abstract: two blocks 50 x 50 x 25 mm, poles opposite, 25 mm apart on thick steel; the grade and the steel's size are not in it: 1.30 T and 125 x 50 x 20 mm taken"
	const text = `
format = 1
title = "two blocks on a plate"
[[magnet]]
name = "left"
shape = "block"
size = ["50 mm", "50 mm", "25 mm"]
center = ["-37.5 mm", "0 mm", "-12.5 mm"]
magnetized = [0, 0, 1]
remanence = "1.30 T"
recoil = 1.05
[[magnet]]
name = "right"
shape = "block"
size = ["50 mm", "50 mm", "25 mm"]
center = ["37.5 mm", "0 mm", "-12.5 mm"]
magnetized = [0, 0, -1]
remanence = "1.30 T"
recoil = 1.05
[[steel]]
name = "plate"
shape = "block"
size = ["125 mm", "50 mm", "20 mm"]
center = ["0 mm", "0 mm", "-35 mm"]
material = "steel-1018"
[[probe]]
name = "15 mm above"
at = ["0 mm", "0 mm", "15 mm"]
[[probe]]
name = "at the surface"
at = ["0 mm", "0 mm", "0.1 mm"]
`
	solve := shared(func(ctx context.Context) (*result.Result, error) { return predict(ctx, text, polewright.Draft, nil) })
	return []Check{
		Check{Name: "open magnet: B 15 mm above the middle of the space", Published: 0.23, Unit: "T", Tolerance: 0.025, Long: true,
			Why:   "two digits are given, 2 %, and the remanence may be from 1.17 to 1.35 T",
			Solve: solve(func(r *result.Result) (float64, error) { return r.Probes[0].B[0], nil })}.of(source, Seen),
		Check{Name: "open magnet: the same over that at the surface, given as 0.35 T", Published: round(0.23/0.35, 3), Tolerance: 0.03, Long: true,
			Why:   "two digits each; the surface is taken as that between the blocks, which the abstract does not say",
			Solve: solve(func(r *result.Result) (float64, error) { return r.Probes[0].B[0] / r.Probes[1].B[0], nil })}.of(source, Seen),
	}
}
