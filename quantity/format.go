package quantity

import (
	"fmt"
	"math"
	"strconv"
)

// Format prints an SI value (degC for temperatures) in the unit, rounded to so many significant digits, without trailing zeros and with a decimal
// point: Format(0.018, "mm", 4) is "18 mm". With significant < 1 it prints the shortest decimals that Parse reads back to within rounding. A unit
// that the table does not know is shown as such, beside the SI value.
func Format(value float64, unit string, significant int) string {
	u, _, ok := find(unit)
	if !ok {
		return number(value, significant) + fmt.Sprintf(" (SI; unknown unit %q)", unit)
	}
	s := number(value*u.div/u.mul, significant)
	if u.name == "" {
		return s
	}
	return s + " " + unit
}

func number(v float64, significant int) string {
	if v == 0 { // and no minus before it
		return "0"
	}
	if math.IsNaN(v) || math.IsInf(v, 0) {
		return strconv.FormatFloat(v, 'g', -1, 64)
	}
	significant = min(significant, 17) // a float64 holds no more
	if significant < 1 {
		// A product and a quotient may leave the last digit of 17 wrong; 15 are always those that were written.
		significant = 17
		if r, err := strconv.ParseFloat(strconv.FormatFloat(v, 'e', 14, 64), 64); err == nil && math.Abs(r-v) <= 4e-16*math.Abs(v) {
			significant = 15
		}
	}
	rounded, _ := strconv.ParseFloat(strconv.FormatFloat(v, 'e', significant-1, 64), 64)
	if a := math.Abs(rounded); a >= 1e15 || a < 1e-6 {
		return strconv.FormatFloat(rounded, 'e', -1, 64)
	}
	return strconv.FormatFloat(rounded, 'f', -1, 64)
}
