package quantity

import (
	"math"
	"strconv"
	"strings"
)

// Split parts a number from the unit behind it, without asking whether there is such a unit: "18 mm" is 18 and "mm". ok is false when the
// text does not begin with a finite number.
func Split(s string) (number float64, unit string, ok bool) {
	if len(s) > longest {
		return 0, "", false
	}
	digits, unit := split(strings.TrimSpace(strings.ReplaceAll(s, "−", "-")))
	number, err := strconv.ParseFloat(digits, 64)
	return number, unit, err == nil && !math.IsInf(number, 0)
}
