package material

import (
	"fmt"
	"math"
	"regexp"
	"strconv"
	"strings"

	"polewright/mistake"
)

// GaugeKind is a system of wire gauge numbers. The same number is a different diameter in each.
type GaugeKind string

const (
	AWG       GaugeKind = "AWG"        // American wire gauge, for copper and other non-ferrous wire (ASTM B258)
	SWG       GaugeKind = "SWG"        // British imperial standard wire gauge (BS 3737, from memory)
	SteelWire GaugeKind = "steel-wire" // US steel wire gauge, Washburn & Moen
)

// Gauge tables in inches, from number 0 up. Numbers 10 to 20 were seen in the comparative gauge table of wovenwire.com
// (Screen Technology Group, 2001); the others are from memory.
var (
	swgInches = []float64{
		0.324, 0.300, 0.276, 0.252, 0.232, 0.212, 0.192, 0.176, 0.160, 0.144,
		0.128, 0.116, 0.104, 0.092, 0.080, 0.072, 0.064, 0.056, 0.048, 0.040,
		0.036, 0.032, 0.028, 0.024, 0.022, 0.020, 0.018, 0.0164, 0.0148, 0.0136,
		0.0124, 0.0116, 0.0108, 0.0100, 0.0092, 0.0084, 0.0076, 0.0068, 0.0060, 0.0052, 0.0048,
	}
	steelWireInches = []float64{
		0.3065, 0.2830, 0.2625, 0.2437, 0.2253, 0.2070, 0.1920, 0.1770, 0.1620, 0.1483,
		0.1350, 0.1205, 0.1055, 0.0915, 0.0800, 0.0720, 0.0625, 0.0540, 0.0475, 0.0410,
		0.0348, 0.0317, 0.0286, 0.0258, 0.0230, 0.0204, 0.0181, 0.0173, 0.0162, 0.0150,
		0.0140, 0.0132, 0.0128, 0.0118, 0.0104, 0.0095, 0.0090,
	}
)

const (
	inch      = 0.0254
	lowestAWG = -3 // 0000, written 4/0
	topAWG    = 40
)

// WireDiameter gives the bare diameter of a gauge, m, and where the number comes from. AWG runs from -3 (0000) to 40, by
// d = 0.005 in · 92^((36-n)/39) (ASTM B258); SWG from 0 to 40; steel-wire from 0 to 36.
func WireDiameter(kind GaugeKind, number int) (diameterM float64, source string, err error) {
	table := swgInches
	switch kind {
	case AWG:
		if number < lowestAWG || number > topAWG {
			return 0, "", outOfGauge(kind, number, "0000 to 40")
		}
		return 0.005 * inch * math.Pow(92, float64(36-number)/39), "ASTM B258, by its formula", nil
	case SWG:
	case SteelWire:
		table = steelWireInches
	default:
		return 0, "", mistake.Of(fmt.Sprintf("no wire gauge %q", mistake.Quote(string(kind))), "there are AWG, SWG and steel-wire; or give the diameter, such as \"1.6 mm\"")
	}
	if number < 0 || number >= len(table) {
		return 0, "", outOfGauge(kind, number, fmt.Sprintf("0 to %d", len(table)-1))
	}
	source = "wovenwire.com comparative gauge table (Screen Technology Group, 2001)"
	if number < 10 || number > 20 {
		source = "gauge table, from memory"
	}
	return table[number] * inch, source, nil
}

func outOfGauge(kind GaugeKind, number int, span string) error {
	return mistake.Of(fmt.Sprintf("gauge %d %s is outside the table, %s", number, kind, span), "give the diameter instead, such as \"1.6 mm\"")
}

var (
	gaugeNumberFirst = regexp.MustCompile(`^(?:NO\.?|#)? *([1-4]/0|0{1,4}|[1-9][0-9]?) *-? *(.*)$`)
	gaugeKindFirst   = regexp.MustCompile(`^([A-Z&. -]*[A-Z]) *(?:NO\.?|#)? *([1-4]/0|0{1,4}|[1-9][0-9]?)$`)
)

// gaugeKinds maps what people write to the kind; an empty kind is one that does not tell.
var gaugeKinds = map[string]GaugeKind{
	"AWG": AWG, "SWG": SWG, "ISWG": SWG, "STEELWIRE": SteelWire, "W&M": SteelWire, "WM": SteelWire, "USSWG": SteelWire,
	"": "", "GA": "", "G": "",
}

// ParseGauge reads a wire gauge: number and kind in either order, such as "16 SWG", "AWG 18", "#16 steel-wire", "4/0 AWG".
// It checks that the table has the number. A number without a kind is an error that shows what it would be in each.
func ParseGauge(s string) (kind GaugeKind, number int, err error) {
	text := strings.ToUpper(strings.Join(strings.Fields(s), " "))
	var digits, word string
	if m := gaugeNumberFirst.FindStringSubmatch(text); m != nil {
		digits, word = m[1], m[2]
	} else if m := gaugeKindFirst.FindStringSubmatch(text); m != nil {
		digits, word = m[2], m[1]
	} else {
		return "", 0, mistake.Of(fmt.Sprintf("%q is not a wire gauge", mistake.Quote(s)), "write the number and the kind, such as \"16 SWG\", \"18 AWG\" or \"16 steel-wire\", or give the diameter")
	}
	number = gaugeNumber(digits)
	kind, known := gaugeKinds[strings.NewReplacer(" ", "", "-", "", ".", "", "GAUGE", "").Replace(word)]
	switch {
	case !known:
		return "", 0, mistake.Of(fmt.Sprintf("%q: no wire gauge kind %q", mistake.Quote(s), mistake.Quote(word)), eachKind(digits))
	case kind == "":
		return "", 0, mistake.Of(fmt.Sprintf("%q does not say which gauge", mistake.Quote(s)), eachKind(digits))
	}
	if _, _, err := WireDiameter(kind, number); err != nil {
		return "", 0, err
	}
	return kind, number, nil
}

// gaugeNumber turns "16", "0", "000" or "3/0" to 16, 0, -2, -2.
func gaugeNumber(digits string) int {
	if zeros, ok := strings.CutSuffix(digits, "/0"); ok {
		n, _ := strconv.Atoi(zeros)
		return 1 - n
	}
	if strings.Trim(digits, "0") == "" {
		return 1 - len(digits)
	}
	n, _ := strconv.Atoi(digits)
	return n
}

// eachKind says what a number is in each kind.
func eachKind(digits string) string {
	var parts []string
	for _, kind := range []GaugeKind{AWG, SWG, SteelWire} {
		if d, _, err := WireDiameter(kind, gaugeNumber(digits)); err == nil {
			parts = append(parts, fmt.Sprintf("%.3f mm in %s", d*1e3+1e-9, kind)) // 1.5875 rounds up
		}
	}
	if len(parts) == 0 {
		return "write the number and the kind, such as \"16 SWG\", or give the diameter"
	}
	return fmt.Sprintf("%s is %s; write for example \"%s SWG\", or measure the wire and give the diameter", digits, strings.Join(parts, ", "), digits)
}
