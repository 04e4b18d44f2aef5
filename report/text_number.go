package report

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"polewright/result"
)

// This file is the one place that turns numbers into text: how many digits each kind of number gets, and its unit.

const standardGravity = 9.80665 // newtons per kilogram-force, exact by definition (3rd CGPM 1901)

// decimals prints v with so many digits behind the point, without a minus before zero.
func decimals(v float64, n int) string {
	if math.IsNaN(v) || math.IsInf(v, 0) {
		return "not known"
	}
	s := strconv.FormatFloat(v, 'f', n, 64)
	if strings.Trim(s, "-0.") == "" {
		s = strings.TrimPrefix(s, "-")
	}
	return s
}

// figures prints v to so many significant digits, without an exponent; what has none within nine decimals is 0.
func figures(v float64, n int) string {
	if math.Abs(v) < 5e-10 || math.IsNaN(v) || math.IsInf(v, 0) {
		return decimals(v, 0)
	}
	r, _ := strconv.ParseFloat(strconv.FormatFloat(v, 'e', n-1, 64), 64)
	digits := n - 1 - int(math.Floor(math.Log10(math.Abs(r))))
	return decimals(r, max(0, min(digits, 9)))
}

func tesla(b float64) string       { return decimals(b, 4) }
func millitesla(b float64) string  { return decimals(1e3*b, 1) }
func kilograms(m float64) string   { return decimals(m, 3) }
func kiloAmperes(h float64) string { return decimals(h/1e3, 1) }
func percent(share float64) string { return decimals(100*share, 1) }
func ppm(v float64) string         { return figures(v, 4) }

// millimetres prints to 0.01 mm, whole numbers short.
func millimetres(x float64) string { return trimmed(decimals(1e3*x, 2)) }

func newtons(f float64) string {
	if math.Abs(f) >= 100 {
		return decimals(f, 0)
	}
	return decimals(f, 1)
}

// force is a force with both units: "1191 N (121 kgf)".
func force(f float64) string {
	return newtons(f) + " N (" + kilogramForce(f) + " kgf)"
}

func kilogramForce(f float64) string {
	kgf := f / standardGravity
	switch {
	case math.Abs(kgf) >= 100:
		return decimals(kgf, 0)
	case math.Abs(kgf) >= 10:
		return decimals(kgf, 1)
	}
	return decimals(kgf, 2)
}

// fieldLimit is a stray limit in the unit people say it in: "0.5 mT".
func fieldLimit(b float64) string {
	if b >= 0.1 {
		return figures(b, 3) + " T"
	}
	return trimmed(decimals(1e3*b, 4)) + " mT"
}

func celsius(t float64) string { return trimmed(decimals(t, 1)) + " °C" }

// degrees sets the unit of temperature as people write it.
func degrees(s string) string { return strings.ReplaceAll(s, " degC", " °C") }

func seconds(s float64) string {
	if s >= 90 {
		return fmt.Sprintf("%.0f min %02.0f s", math.Floor(s/60), math.Floor(math.Mod(s, 60)))
	}
	return figures(s, 2) + " s"
}

// estimate is an estimated error in per cent.
func estimate(p float64) string {
	if p > 0 && p < 1e-3 {
		return "below 0.001 %"
	}
	return figures(p, 2) + " %"
}

// trimmed takes off zeros behind the point.
func trimmed(s string) string {
	if strings.Contains(s, ".") {
		s = strings.TrimRight(strings.TrimRight(s, "0"), ".")
	}
	return s
}

// signed puts a plus before what is not negative.
func signed(s string) string {
	if strings.HasPrefix(s, "-") {
		return s
	}
	return "+" + s
}

// counted groups the digits of a count by spaces: "51 865".
func counted(n int) string {
	s := strconv.Itoa(n)
	for i := len(s) - 3; i > 0 && s[i-1] != '-'; i -= 3 {
		s = s[:i] + " " + s[i:]
	}
	return s
}

func size(v [3]float64) float64 { return math.Hypot(math.Hypot(v[0], v[1]), v[2]) }

// point is a place: "x 0, y 0, z 5 mm".
func point(p [3]float64) string {
	return fmt.Sprintf("x %s, y %s, z %s mm", millimetres(p[0]), millimetres(p[1]), millimetres(p[2]))
}

// direction is the world axis along which a vector points, "+z", or its unit vector when it lies along none.
func direction(v [3]float64) string {
	n := size(v)
	if n == 0 {
		return "none"
	}
	for i, axis := range "xyz" {
		if math.Abs(v[i]) >= 0.9999*n {
			if v[i] < 0 {
				return "-" + string(axis)
			}
			return "+" + string(axis)
		}
	}
	return fmt.Sprintf("(%s, %s, %s)", decimals(v[0]/n, 3), decimals(v[1]/n, 3), decimals(v[2]/n, 3))
}

// plane says a plane as people do: "z = 5 mm" for the result's "z=0.005".
func plane(s string) string {
	axis, at, ok := strings.Cut(s, "=")
	if !ok {
		return s
	}
	if v, err := strconv.ParseFloat(at, 64); err == nil {
		return axis + " = " + millimetres(v) + " mm"
	}
	return axis + " = " + at
}

// amount is a number of a check in its unit.
func amount(v float64, unit string) string {
	switch unit {
	case "T":
		return tesla(v) + " T"
	case "m":
		return decimals(1e3*v, 0) + " mm"
	case "ppm":
		return ppm(v) + " ppm"
	case "%":
		return trimmed(decimals(v, 1)) + " %"
	}
	return figures(v, 4) + " " + unit
}

// Unmet says a check that is not met in one sentence.
func Unmet(c result.Check) string {
	return fmt.Sprintf("%s: %s wanted, got %s", degrees(c.What), wanted(c), amount(c.Got, c.Unit))
}

// wanted is the bound of a check; the unit tells its sense only together with what is checked.
func wanted(c result.Check) string {
	if atLeast(c) {
		return "at least " + amount(c.Wanted, c.Unit)
	}
	return "at most " + amount(c.Wanted, c.Unit)
}

// atLeast tells the sense of a check: what is met from above, or missed from below, has a lower bound.
func atLeast(c result.Check) bool {
	if c.Got == c.Wanted {
		return c.Unit != "m" && c.Unit != "ppm"
	}
	return c.Met == (c.Got > c.Wanted)
}
