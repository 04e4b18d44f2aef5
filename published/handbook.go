package published

import (
	"context"
	"fmt"
	"math"
	"strings"

	"polewright/material"
	"polewright/quantity"
	"polewright/result"
	"polewright/safety"
	"polewright/winding"
)

// This file holds what the program looks up rather than solves: units, constants, wire, curves, limits for people.

// units are conversion factors.
func units() (list []Check) {
	const source = "NIST Special Publication 811 (2008), appendix B.8"
	for _, u := range []struct {
		text, si string
		d        quantity.Dimension
		want     float64
	}{
		{"1 in", "m", quantity.Length, 2.54e-2}, {"1 ft", "m", quantity.Length, 3.048e-1}, {"1 G", "T", quantity.FluxDensity, 1e-4},
		{"1 Oe", "A/m", quantity.FieldStrength, 79.57747}, {"1 kOe", "A/m", quantity.FieldStrength, 7.957747e4}, {"1 lb", "kg", quantity.Mass, 0.4535924},
		{"1 kgf", "N", quantity.Force, 9.80665}, {"1 lbf", "N", quantity.Force, 4.448222}, {"1 deg", "rad", quantity.Angle, 1.745329e-2},
	} {
		list = append(list, Check{Name: u.text, Published: u.want, Unit: u.si, Tolerance: 3e-7 * u.want, Why: "seven digits are printed",
			Solve: func(context.Context) (float64, error) { return quantity.Parse(u.text, u.d) }}.of(source, FromMemory))
	}
	return list
}

// resonances are frequencies in a field of 1 T.
func resonances() []Check {
	const source = "CODATA 2022: shielded proton gyromagnetic ratio over 2π; electron g factor times Bohr magneton over h"
	return []Check{
		Check{Name: "proton in water, frequency in 1 T", Published: 42.57638543, Unit: "MHz", Tolerance: 1e-6, Why: "two hundredths of a part per million: the digits that two releases of CODATA share",
			Solve: atOnce(func() float64 { return result.ShieldedProtonHzPerT / 1e6 })}.of(source, FromMemory),
		Check{Name: "electron, frequency in 1 T", Published: round(2.00231930436*9.2740100657e-24/6.62607015e-34/1e9, 8), Unit: "GHz", Tolerance: 2e-8, Why: "the digits of the Bohr magneton",
			Solve: atOnce(func() float64 { return result.ElectronHzPerT / 1e9 })}.of(source, FromMemory),
	}
}

// wires are diameters by gauge, and how much of a section round wires fill.
func wires() (list []Check) {
	for _, c := range []struct {
		source string
		basis  Basis
		kind   material.GaugeKind
		number []int
		inches []float64
	}{
		{"ASTM B258, table of solid round wires", FromMemory, material.AWG, []int{-3, 0, 10, 16, 24, 36, 40}, []float64{0.4600, 0.3249, 0.1019, 0.0508, 0.0201, 0.0050, 0.0031}},
		{"table of wire gauges of wovenwire.com", Seen, material.SWG, []int{10, 14, 16, 18, 20}, []float64{0.128, 0.080, 0.064, 0.048, 0.036}},
		{"table of wire gauges of wovenwire.com", Seen, material.SteelWire, []int{10, 16, 18, 20}, []float64{0.135, 0.0625, 0.0475, 0.0348}},
	} {
		for i, n := range c.number {
			name := fmt.Sprintf("%d %s", n, c.kind)
			if n < 0 {
				name = fmt.Sprintf("%d/0 %s", 1-n, c.kind)
			}
			list = append(list, Check{Name: "diameter of wire " + name, Published: c.inches[i], Unit: "in", Tolerance: 5.1e-5, Why: "half of the fourth decimal",
				Solve: func(context.Context) (float64, error) {
					d, _, err := material.WireDiameter(c.kind, n)
					return d / 0.0254, err
				}}.of(c.source, c.basis))
		}
	}
	const circles = "densest packings of equal circles: A. Thue 1910, L. Fejes Tóth 1940 (nested); square lattice"
	for _, l := range []struct {
		lay, name string
		want      float64
	}{{winding.Square, "square", math.Pi / 4}, {winding.Nested, "nested", math.Pi / (2 * math.Sqrt(3))}} {
		list = append(list, Check{Name: "packing of wire of 1 mm in " + l.name + " lay, 1 m wide and 0.5 m deep", Published: round(l.want, 6), Tolerance: 2e-3 * l.want,
			Why: "the edges lack half a wire: one part in a thousand", Solve: func(context.Context) (float64, error) {
				s, err := winding.Wind(winding.Plan{CoreX: 1, CoreY: 1, Width: 1, WireDiameter: 0.001, Lay: l.lay, Build: 0.5})
				return s.Packing, err
			}}.of(circles, Worked))
	}
	return list
}

// curves are points of published magnetization curves, which the smooth curve has to go through.
func curves() (list []Check) {
	const plate = "magnetization curve of TEAM workshop problem 13 (Nakata, Takahashi, Fujiwara; transcription as for the plates)"
	const rod = "magnetization curve of TEAM workshop problem 24, EN9 steel (transcription)"
	for _, p := range []struct {
		steel, source string
		h, b          float64
		tolerance     float64
	}{
		{"low-carbon-plate", plate, 233, 0.4, 1e-9}, {"low-carbon-plate", plate, 433, 1.2, 1e-9}, {"low-carbon-plate", plate, 933, 1.5, 1e-9}, {"low-carbon-plate", plate, 9423, 1.8, 1e-9},
		{"steel-en9-annealed", rod, 4000, 1.413, 1e-9}, {"steel-en9-annealed", rod, 80070, 2.042, 1e-9}, {"steel-en9-annealed", rod, 396340, 2.472, 4e-3},
	} {
		why := "a point of the table"
		if p.tolerance > 1e-6 {
			why = "from 208 kA/m on the table's B - μ0 H falls by up to 5 mT, which no steel does; it is levelled"
		}
		list = append(list, Check{Name: fmt.Sprintf("%s at %g A/m", p.steel, p.h), Published: p.b, Unit: "T", Tolerance: p.tolerance, Why: why, Solve: func(context.Context) (float64, error) {
			s, err := material.SteelNamed(p.steel)
			if err != nil {
				return 0, err
			}
			b, _, _ := s.Curve.Eval(p.h)
			return b, nil
		}}.of(p.source, Seen))
	}
	return list
}

// ellipsoids are demagnetizing factors of long ellipsoids, by which the pull on tools is found.
func ellipsoids() (list []Check) {
	for _, e := range []struct{ ratio, n float64 }{{2, 0.1735}, {5, 0.0558}, {10, 0.0203}, {20, 0.00675}, {50, 0.00144}, {100, 0.000430}} {
		list = append(list, Check{Name: fmt.Sprintf("demagnetizing factor of an ellipsoid of revolution, length/diameter %g, along its axis", e.ratio), Published: e.n, Tolerance: 4e-3 * e.n, Why: "the digits printed",
			Solve: atOnce(func() float64 { return safety.DemagnetizingFactor(e.ratio) })}.of("R. M. Bozorth, Ferromagnetism (1951), after J. A. Osborn 1945", FromMemory))
	}
	return list
}

// limits are the published limits of the safety card, as their sources print them.
func limits() (list []Check) {
	printed := map[string]struct { // in the unit of the source
		value, per float64
		unit       string
	}{
		"air-not-regulated": {200, 1e9, "nT"}, "air-forbidden": {525, 1e9, "nT"}, "electron-optics": {1, 1e4, "G"}, "implant": {5, 1e4, "G"}, "implant-action": {0.5, 1e3, "mT"},
		"implant-0.9": {0.9, 1e3, "mT"}, "implant-immunity": {1, 1e3, "mT"}, "cards-watches": {10, 1e4, "G"}, "magnetic-storage": {20, 1e4, "G"}, "projectile": {30, 1e4, "G"},
		"projectile-action": {3, 1e3, "mT"}, "transformers": {50, 1e4, "G"}, "stripe-low": {300, 1e4, "G"}, "implant-recovery": {50, 1e3, "mT"}, "stripe-high": {2750, 1e4, "G"},
		"public": {400, 1e3, "mT"}, "work-trunk": {2, 1, "T"}, "work-limbs": {8, 1, "T"},
	}
	for _, l := range safety.Limits() {
		p := printed[l.Code]
		c := Check{Name: "limit: " + strings.ReplaceAll(l.What, "|", "/"), Published: p.value, Unit: p.unit, Tolerance: 1e-3 * p.value, Why: "three digits; 0.159 and 0.418 A/m are printed as 200 and 525 nT too",
			Solve: atOnce(func() float64 { return l.FieldT * p.per })}
		basis := Seen
		if l.FromMemory {
			basis = FromMemory
		}
		list = append(list, c.of(l.Source, basis))
	}
	return list
}
