package material

import (
	"bufio"
	"fmt"
	"io"
	"strconv"
	"strings"
)

// curveHeader is the header line of a curve file.
const curveHeader = "H_A_per_m,B_T"

// ReadCurve reads a curve from CSV text: the header H_A_per_m,B_T, then a line per point. Lines that begin with # are
// notes, and so are empty ones; the note "# Js_T = 2.12" gives the saturation polarization of a table that ends early.
// Errors name the line and what would do.
func ReadCurve(r io.Reader, name string) (*Curve, error) {
	fail := func(line int, format string, a ...any) (*Curve, error) {
		return nil, fmt.Errorf("curve %q: line %d: %s", name, line, fmt.Sprintf(format, a...))
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
				return fail(n, "%q gives no saturation in tesla; write for example \"# Js_T = 2.12\" (no alloy has more than 2.46)", line)
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
				return fail(n, "%q is not the header; the first line is %s, then a line per point such as 1000,1.5", shortened(line), curveHeader)
			}
			header = true
			continue
		}
		if len(fields) != 2 {
			return fail(n, "%q has %d values; give H in A/m and B in T with one comma between and a decimal point, such as 1000,1.5", shortened(line), len(fields))
		}
		var point [2]float64
		for i, f := range fields {
			v, err := strconv.ParseFloat(f, 64)
			if err != nil {
				return fail(n, "%q is not a number; give H in A/m and B in T, such as 1000,1.5", shortened(f))
			}
			point[i] = v
		}
		if len(h) == maxPoints {
			return fail(n, "more than %d points; some thirty well-placed ones do", maxPoints)
		}
		h, b, lines = append(h, point[0]), append(b, point[1]), append(lines, n)
	}
	if err := text.Err(); err != nil {
		return fail(n+1, "%v; is it a text file?", err)
	}
	if len(h) == 0 {
		return fail(n, "no points; the file is the header %s, then a line per point such as 1000,1.5", curveHeader)
	}
	return newCurve(name, h, b, saturation, func(i int) string { return fmt.Sprintf("line %d", lines[max(i, 0)]) })
}

// shortened keeps a quoted piece of a file to a readable length.
func shortened(s string) string {
	if r := []rune(s); len(r) > 40 {
		return string(r[:40]) + "…"
	}
	return s
}
