// Package quantity reads and prints numbers with units. It holds the one table of units of the program: parser, reports and pages all use it.
//
// Inside the program every number is in SI units (m, T, A/m, rad, kg, N, A,
// N m, kg/m3, 1/K, K, A m2, a plain fraction), save temperatures, which are in degC.
package quantity

import (
	"math"
	"slices"
)

// Dimension is a kind of quantity.
type Dimension int

// The dimensions, each with the unit in which Parse returns it.
const (
	Length        Dimension = iota // m
	FluxDensity                    // T
	FieldStrength                  // A/m
	Angle                          // rad
	Mass                           // kg
	Force                          // N
	Density                        // kg/m3
	Temperature                    // degC
	Ratio                          // 1
	Coefficient                    // 1/K
	Current                        // A; ampere-turns
	Torque                         // N m
	Difference                     // K, of temperatures
	Moment                         // A m2
	dimensions
)

// String is the dimension's name in plain words, with no article.
func (d Dimension) String() string {
	if d < 0 || d >= dimensions {
		return "unknown quantity"
	}
	return table[d].name
}

type unit struct {
	name    string
	aliases []string
	// The SI value of one unit is mul/div. Two whole numbers, where there are such, make "0.75 in" and "19.05 mm" the same number: faces must meet.
	mul, div float64
}

// kind is all there is to know of a dimension. Values outside [least, most], in SI, are slips of the finger for any magnet that stands on a bench.
type kind struct {
	name        string
	example     string
	units       []unit // the first is the one to show where nothing else is asked
	least, most float64
}

// Exact by definition: the inch 25.4 mm, the foot 12 in and the pound 0.45359237 kg (international yard and pound agreement, 1959); standard gravity
// 9.80665 m/s2 (3rd CGPM, 1901); the gauss 1e-4 T. The oersted is 1000/(4 pi) A/m (NIST Special Publication 811, 2008, appendix B.8). A magnetic
// dipole moment in Wb m is mu0 times the moment in A m2 (IEC 60050-121), with the mu0 of before 2019, which differs by 1e-10.
var table = [dimensions]kind{
	Length: {"length", "18 mm", []unit{
		{"mm", []string{"millimetre", "millimetres", "millimeter", "millimeters"}, 1, 1e3},
		{"m", []string{"metre", "metres", "meter", "meters"}, 1, 1},
		{"cm", []string{"centimetre", "centimetres", "centimeter", "centimeters"}, 1, 1e2},
		{"um", []string{"µm", "μm", "micron", "microns"}, 1, 1e6},
		{"in", []string{"inch", "inches"}, 254, 1e4},
		{"ft", []string{"foot", "feet"}, 3048, 1e4},
	}, -1e5, 1e5},
	FluxDensity: {"flux density", "1.3 T", []unit{
		{"T", []string{"tesla"}, 1, 1},
		{"mT", []string{"millitesla"}, 1, 1e3},
		{"uT", []string{"µT", "μT", "microtesla"}, 1, 1e6},
		{"G", []string{"Gs", "gauss"}, 1, 1e4},
		{"kG", []string{"kGs", "kilogauss"}, 1, 10},
	}, -100, 100},
	FieldStrength: {"field strength", "955 kA/m", []unit{
		{"kA/m", nil, 1e3, 1},
		{"A/m", nil, 1, 1},
		{"Oe", []string{"oersted", "oersteds"}, 1e3, 4 * math.Pi},
		{"kOe", []string{"kilooersted"}, 1e6, 4 * math.Pi},
	}, -1e9, 1e9},
	Angle: {"angle", "45 deg", []unit{
		{"deg", []string{"°", "degree", "degrees"}, math.Pi, 180},
		{"rad", []string{"radian", "radians"}, 1, 1},
	}, -1e3, 1e3},
	Mass: {"mass", "2.5 kg", []unit{
		{"kg", nil, 1, 1},
		{"g", []string{"gram", "grams"}, 1, 1e3},
		{"lb", []string{"lbs"}, 45359237, 1e8},
	}, -1e7, 1e7},
	Force: {"force", "120 N", []unit{
		{"N", []string{"newton", "newtons"}, 1, 1},
		{"kN", nil, 1e3, 1},
		{"kgf", nil, 980665, 1e5},
		{"lbf", nil, 45359237 * 980665, 1e13},
	}, -1e9, 1e9},
	Density: {"density", "7.5 g/cm3", []unit{
		{"g/cm3", []string{"g/cm^3", "g/cm³", "g/cc"}, 1e3, 1},
		{"kg/m3", []string{"kg/m^3", "kg/m³"}, 1, 1},
	}, 0, 1e5},
	Temperature: {"temperature", "22 degC", []unit{
		{"degC", []string{"°C", "℃"}, 1, 1},
	}, -273.15, 2000},
	Ratio: {"ratio", "0.12 %", []unit{
		{"%", []string{"percent"}, 1, 1e2},
		{"ppm", nil, 1, 1e6},
		{"", nil, 1, 1},
	}, -1e6, 1e6},
	Coefficient: {"temperature coefficient", "-0.12 %/K", []unit{
		{"%/K", []string{"%/degC", "%/°C"}, 1, 1e2},
		{"ppm/K", []string{"ppm/degC", "ppm/°C"}, 1, 1e6},
		{"1/K", nil, 1, 1},
	}, -1, 1},
	Current: {"ampere-turns", "1000 A", []unit{
		{"A", []string{"At", "amp", "amps", "ampere", "amperes"}, 1, 1},
		{"kA", nil, 1e3, 1},
		{"mA", nil, 1, 1e3},
	}, -1e9, 1e9},
	Torque: {"torque", "3 Nm", []unit{
		{"Nm", []string{"N m", "N·m", "N*m"}, 1, 1},
		{"mNm", []string{"mN m", "mN·m"}, 1, 1e3},
	}, -1e9, 1e9},
	Difference: {"temperature difference", "1.5 K", []unit{
		{"K", []string{"kelvin"}, 1, 1},
	}, -2000, 2000},
	Moment: {"magnetic moment", "62.4 Am2", []unit{
		{"Am2", []string{"A m2", "A·m2", "Am²"}, 1, 1},
		{"mAm2", nil, 1, 1e3},
		{"Wbm", []string{"Wb m", "Wb·m"}, 1, 4e-7 * math.Pi},
		{"mWbm", nil, 1, 4e-4 * math.Pi},
		{"uWbm", []string{"µWbm", "μWbm"}, 1, 0.4 * math.Pi},
	}, -1e6, 1e6},
}

// Units lists the names of the units of d, the customary one first. The plain
// number that a Ratio may be is not listed. It is nil for an unknown dimension.
func Units(d Dimension) []string {
	if d < 0 || d >= dimensions {
		return nil
	}
	var names []string
	for _, u := range table[d].units {
		if u.name != "" {
			names = append(names, u.name)
		}
	}
	return names
}

func (k *kind) unit(name string) (unit, bool) {
	for _, u := range k.units {
		if u.name == name || slices.Contains(u.aliases, name) {
			return u, true
		}
	}
	return unit{}, false
}

// find looks for a unit in every dimension; no name stands for two units.
func find(name string) (unit, Dimension, bool) {
	for d := range table {
		if u, ok := table[d].unit(name); ok {
			return u, Dimension(d), true
		}
	}
	return unit{}, 0, false
}

// Example is a quantity of dimension d as a person would write it, "" for an unknown dimension.
func Example(d Dimension) string {
	if d < 0 || d >= dimensions {
		return ""
	}
	return table[d].example
}
