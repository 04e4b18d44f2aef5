package report

import "polewright/result"

// Numbers as the texts of this package write them, for pages made elsewhere.

// Decimals prints v with so many digits behind the point, without a minus before zero.
func Decimals(v float64, n int) string { return decimals(v, n) }

// Figures prints v to so many significant digits, without an exponent.
func Figures(v float64, n int) string { return figures(v, n) }

// Force is a force (N) with both units: "1191 N (121 kgf)".
func Force(n float64) string { return force(n) }

// Millimetres prints a length (m) to 0.01 mm, without the unit.
func Millimetres(m float64) string { return millimetres(m) }

// Point is a place (m): "x 0, y 0, z 12 mm".
func Point(p [3]float64) string { return point(p) }

// Direction is a direction in words: "+z".
func Direction(v [3]float64) string { return direction(v) }

// Limit is a stray limit (T) in the unit people say it in: "0.5 mT".
func Limit(b float64) string { return fieldLimit(b) }

// Celsius is a temperature: "22 °C".
func Celsius(t float64) string { return celsius(t) }

// Degrees writes the degrees in a text as people do.
func Degrees(s string) string { return degrees(s) }

// PlaneName is a plane of a half in mm: "z = 0 mm".
func PlaneName(s string) string { return plane(s) }

// Amount is a value of a check with its unit.
func Amount(v float64, unit string) string { return amount(v, unit) }

// Wanted is what a check asks for: "at least 0.8000 T".
func Wanted(c result.Check) string { return wanted(c) }
