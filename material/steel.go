package material

import (
	"fmt"
	"slices"
	"strings"

	"polewright/mistake"
)

// Steel is a soft magnetic material for yokes, pole tips and wound wire.
type Steel struct {
	Name, Use      string // Use says what it stands for and how far the curve may be trusted
	Curve          *Curve
	DensityKgPerM3 float64
	Source         string
	FromMemory     bool
}

// Steels lists the built-in steels.
func Steels() []Steel { return slices.Clone(steels) }

// SteelNamed finds a built-in steel, whatever the case, spaces and hyphens. The error names them all.
func SteelNamed(name string) (Steel, error) {
	names := make([]string, len(steels))
	for i, s := range steels {
		if plainName(s.Name) == plainName(name) {
			return s, nil
		}
		names[i] = s.Name
	}
	return Steel{}, mistake.Of(fmt.Sprintf("no steel %q", mistake.Quote(name)), "there are "+strings.Join(names, ", ")+"; or give a curve file with the columns "+curveHeader)
}

// Density of iron with little carbon, from memory: 7.85 g/cm³ is the round figure of structural steel (EN 1991-1-1 has
// 77 to 78.5 kN/m³), 7.87 that of pure iron.
const (
	steelDensity = 7850
	ironDensity  = 7870
)

var steels = []Steel{
	{
		Name: "steel-1018", Use: "cold-finished bar, the usual yoke bar; not annealed. Below 1 T the permeability is known within a factor of 2 to 3, from 1.6 T up B within 3 %",
		Curve:          built("steel-1018", 2.12, 200, 0.10, 400, 0.29, 600, 0.52, 800, 0.73, 1000, 0.90, 1500, 1.15, 2000, 1.29, 3000, 1.45, 5000, 1.60, 7000, 1.68, 10000, 1.755, 15000, 1.83, 25000, 1.935, 40000, 2.035, 80000, 2.155),
		DensityKgPerM3: steelDensity, Source: "typical cold-drawn bar, from memory: 0.9 T at 1 kA/m, 1.6 T at 5 kA/m, 1.75 T at 10 kA/m, Js 2.12 T", FromMemory: true,
	},
	{
		Name: "steel-1010", Use: "low-carbon bar and sheet, as rolled",
		Curve:          built("steel-1010", 0, 238.7, 0.2003, 318.3, 0.3204, 358.1, 0.40045, 437.7, 0.50055, 477.5, 0.5606, 636.6, 0.7908, 795.8, 0.931, 1114.1, 1.1014, 1273.2, 1.2016, 1591.5, 1.302, 2228.2, 1.4028, 3183.1, 1.524, 4774.6, 1.626, 6366.2, 1.698, 7957.7, 1.73, 15915.5, 1.87, 47746.5, 2.04, 63662, 2.07, 79577.5, 2.095, 159155, 2.2, 318310, 2.4),
		DensityKgPerM3: steelDensity, Source: "table that circulates in public repositories without a primary source: typical only",
	},
	{
		Name: "steel-1006", Use: "low-carbon sheet and plate, annealed; the better of the common steels",
		Curve:          built("steel-1006", 2.14, 50, 0.03, 100, 0.15, 150, 0.38, 200, 0.62, 300, 0.93, 400, 1.11, 600, 1.29, 1000, 1.44, 2000, 1.56, 4000, 1.65, 7000, 1.74, 10000, 1.80, 20000, 1.93, 40000, 2.06, 80000, 2.18),
		DensityKgPerM3: steelDensity, Source: "typical annealed sheet, from memory", FromMemory: true,
	},
	{
		Name: "low-carbon-plate", Use: "the steel plate of TEAM problem 13",
		Curve: plateCurve("low-carbon-plate"), DensityKgPerM3: steelDensity, Source: plateSource,
	},
	{
		Name: "pure-iron", Use: "magnet iron, annealed after machining, as in pole tips: the minima of class A, a bar may be better",
		Curve:          built("pure-iron", 2.153, 40, 0.05, 80, 0.30, 120, 0.60, 200, 0.95, 300, 1.15, 500, 1.30, 1000, 1.45, 2000, 1.53, 4000, 1.60, 8000, 1.71, 15000, 1.84, 25000, 1.95, 40000, 2.06, 80000, 2.19),
		DensityKgPerM3: ironDensity, Source: "IEC 60404-8-6 class A minima up to 4 kA/m, above them typical iron, Js 2.153 T; all from memory", FromMemory: true,
	},
	{
		Name: "annealed-wire", Use: "black annealed low-carbon tie wire. No published table of it was found, so it has the curve of an annealed low-carbon plate: below 1 T the permeability is known within a factor of 2, the saturation within 3 %",
		Curve: plateCurve("annealed-wire"), DensityKgPerM3: steelDensity, Source: "taken as low-carbon plate; " + plateSource,
	},
	{
		Name: "hard-wire", Use: "bright cold-drawn low-carbon wire, not annealed: several times the field strength of annealed wire below 1.5 T. Below 1 T the permeability is known within a factor of 2 to 4, the saturation within 3 %",
		Curve:          built("hard-wire", 2.10, 300, 0.07, 600, 0.24, 900, 0.52, 1200, 0.76, 1600, 0.98, 2200, 1.17, 3000, 1.31, 4500, 1.45, 7000, 1.575, 10000, 1.66, 15000, 1.76, 25000, 1.885, 40000, 1.995, 80000, 2.125),
		DensityKgPerM3: steelDensity, Source: "from memory: coercivity of several hundred A/m, Js 2.1 T", FromMemory: true,
	},
	{
		Name: "steel-en9-annealed", Use: "medium-carbon (0.5 % C) forging steel, annealed. The table has no point below 4 kA/m: below 1.4 T the curve is only a bridge",
		Curve:          built("steel-en9-annealed", 0, 4000, 1.413, 8010, 1.594, 16010, 1.751, 24020, 1.839, 32030, 1.896, 40030, 1.936, 48040, 1.967, 64050, 2.008, 80070, 2.042, 96080, 2.073, 112100, 2.101, 128110, 2.127, 144120, 2.151, 176150, 2.197, 208180, 2.24, 240200, 2.281, 272230, 2.321, 304260, 2.361, 336290, 2.4, 396340, 2.472),
		DensityKgPerM3: steelDensity, Source: "N. Allen and D. Rodger, TEAM problem 24, Table I",
	},
}

const plateSource = "TEAM problem 13 (T. Nakata, N. Takahashi, K. Fujiwara): table to 1.8 T, above it the published law J = a·H² + b·H + c up to 2.22 T, then Js = 2.16 T; form of the law from memory, its constants join the table"

// plateCurve is the plate of TEAM problem 13: its table, then points of the law that continues it, with
// B = Mu0·H + a·H² + b·H + c for 1.8 T <= B <= 2.22 T and B = Mu0·H + 2.16 T above.
func plateCurve(name string) *Curve {
	points := []float64{16, 0.0025, 30, 0.005, 54, 0.0125, 93, 0.025, 143, 0.05, 191, 0.1, 210, 0.2, 222, 0.3, 233, 0.4, 247, 0.5, 258, 0.6, 272, 0.7, 289, 0.8, 313, 0.9, 342, 1.0, 377, 1.1, 433, 1.2, 509, 1.3, 648, 1.4, 933, 1.5, 1228, 1.55, 1934, 1.6, 2913, 1.65, 4993, 1.7, 7189, 1.75, 9423, 1.8}
	const a, b, c, js = -2.381e-10, 2.327e-5, 1.590, 2.16
	for h := 12500.0; h < 48000; h += 2500 {
		points = append(points, h, Mu0*h+(a*h+b)*h+c)
	}
	return built(name, js, points...)
}

// built makes a built-in curve of H, B pairs; saturation 0 reads it from the points. A test tries every one of them.
func built(name string, saturation float64, hb ...float64) *Curve {
	var h, b []float64
	for i := 0; i < len(hb); i += 2 {
		h, b = append(h, hb[i]), append(b, hb[i+1])
	}
	c, err := newCurve(name, h, b, saturation, pointName)
	if err != nil {
		panic("material: " + err.Error())
	}
	return c
}
