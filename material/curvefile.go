package material

import (
	"bufio"
	"fmt"
	"io"
	"strconv"
	"strings"

	"polewright/mistake"
)

// curveHeader is the header line of a curve file.
const curveHeader = "H_A_per_m,B_T"

// ReadCurve reads a curve from CSV text: the header H_A_per_m,B_T, then a line per point. Lines that begin with # are notes, and so are empty ones;
// the note "# Js_T = 2.12" gives the saturation polarization of a table that ends early. Errors name the line and what would do.
func ReadCurve(r io.Reader, name string) (*Curve, error) {
	fail := func(line int, what, hint string) (*Curve, error) {
		return nil, mistake.Of(fmt.Sprintf("curve %q: line %d: %s", name, line, what), hint)
	}
	var h, b []float64
	var lines []int
	saturation, header := 0.0, false
	text := bufio.NewScanner(r)
	n := 0
	for text.Scan() {
		n++
		line := strings.TrimSpace(strings.TrimPrefix(text.Text(), "\ufeff"))
		if line == "" {
			continue
		}
		if note, ok := strings.CutPrefix(line, "#"); ok {
			key, value, _ := strings.Cut(note, "=")
			if strings.TrimSpace(key) != "Js_T" {
				continue
			}
			js, err := strconv.ParseFloat(strings.TrimSpace(value), 64)
			if err != nil || !(js > 0 && js <= maxPolarizationT) {
				return fail(n, fmt.Sprintf("%q gives no saturation in tesla", line), "write for example \"# Js_T = 2.12\" (no alloy has more than 2.46)")
			}
			saturation = js
			continue
		}
		fields := strings.Split(line, ",")
		for i := range fields {
			fields[i] = strings.TrimSpace(fields[i])
		}
		if !header {
			if strings.Join(fields, ",") != curveHeader {
				return fail(n, fmt.Sprintf("%q is not the header", mistake.Quote(line)), "the first line is "+curveHeader+", then a line per point such as 1000,1.5")
			}
			header = true
			continue
		}
		if len(fields) != 2 {
			return fail(n, fmt.Sprintf("%q has %d values", mistake.Quote(line), len(fields)), "give H in A/m and B in T with one comma between and a decimal point, such as 1000,1.5")
		}
		var point [2]float64
		for i, f := range fields {
			v, err := strconv.ParseFloat(f, 64)
			if err != nil {
				return fail(n, fmt.Sprintf("%q is not a number", mistake.Quote(f)), "give H in A/m and B in T, such as 1000,1.5")
			}
			point[i] = v
		}
		if len(h) == maxPoints {
			return fail(n, fmt.Sprintf("more than %d points", maxPoints), "some thirty well-placed ones do")
		}
		h, b, lines = append(h, point[0]), append(b, point[1]), append(lines, n)
	}
	if err := text.Err(); err != nil {
		return fail(n+1, err.Error(), "is it a text file?")
	}
	if len(h) == 0 {
		return fail(n, "no points", "the file is the header "+curveHeader+", then a line per point such as 1000,1.5")
	}
	return newCurve(name, h, b, saturation, func(i int) string { return fmt.Sprintf("line %d", lines[max(i, 0)]) })
}
