package winding

import (
	"bufio"
	"errors"
	"fmt"
	"io"
	"math"
	"strconv"
	"strings"
	"unicode/utf8"

	"polewright/quantity"
)

// Reading is what the builder measures after some turns.
type Reading struct {
	Turns     int     `json:"turns"`
	FieldT    float64 `json:"field_T"`
	UncertT   float64 `json:"uncertainty_T"`     // one standard deviation; 0: not given
	OuterM    float64 `json:"outer_m,omitempty"` // outside size along the core's longer side; 0: not given
	Line      int     `json:"line"`
	LayerDone int     `json:"layer,omitempty"` // as written, when the log counts layers
}

// LogError is a mistake in a winding log.
type LogError struct {
	File string
	Line int    // from 1; 0 when in no single line
	Key  string // the column; "" when in no column
	What string // what was given
	Hint string // what would do
}

// Error is "file:line: key: what" and, on a second line, "  hint: ...".
func (e *LogError) Error() string {
	s := e.File
	if e.Line > 0 {
		s += fmt.Sprintf(":%d", e.Line)
	}
	s += ": "
	if e.Key != "" {
		s += e.Key + ": "
	}
	s += e.What
	if e.Hint != "" {
		s += "\n  hint: " + e.Hint
	}
	return s
}

// Bounds of a log.
const (
	maxReadings = 10_000
	maxLine     = 4096
	maxField    = 3 // T
)

const logExample = "layer,B_mT or turns,B_T,outer_mm"

// column is what a column of a log holds.
type column struct {
	key  string // as written
	what string // turns, layer, field, uncertainty, outer size
	unit string
}

func (c column) counts() bool { return c.what == "turns" || c.what == "layer" }

// ReadLog reads a winding log as CSV text. Its header names the columns with their units: turns (all so far) or layer (the last full one), 0
// before the first turn; the gap field, B_T, B_mT, B_G or B_kG, also Bx_, By_, Bz_; and, where wanted, u_T or u_mT, its uncertainty, and outer_mm or
// outer_in, the outside size along the core's longer side. Lines that begin with # are notes, and so are empty ones. Turns rise from line to
// line. The plan tells how many turns a layer takes. Errors are *LogError.
func ReadLog(r io.Reader, name string, p Plan) ([]Reading, error) {
	l, err := p.lay()
	if err != nil {
		return nil, err
	}
	var columns []column
	var list []Reading
	text := bufio.NewScanner(r)
	text.Buffer(nil, maxLine)
	n := 0
	for text.Scan() {
		n++
		line := strings.TrimSpace(strings.TrimPrefix(text.Text(), "\ufeff"))
		if line == "" || line[0] == '#' {
			continue
		}
		if !utf8.ValidString(line) {
			return nil, &LogError{name, n, "", "is not text in UTF-8", "save the log as plain CSV text"}
		}
		cells := strings.Split(line, ",")
		for i := range cells {
			cells[i] = strings.TrimSpace(cells[i])
		}
		if columns == nil {
			if columns, err = logColumns(cells); err != nil {
				return nil, placed(err, name, n)
			}
			continue
		}
		if len(list) == maxReadings {
			return nil, &LogError{name, n, "", fmt.Sprintf("there are more than %d readings", maxReadings), "keep one for each layer"}
		}
		reading, err := readingOf(cells, columns, l)
		if err != nil {
			return nil, placed(err, name, n)
		}
		if len(list) > 0 && reading.Turns <= list[len(list)-1].Turns {
			return nil, &LogError{name, n, columns[countColumn(columns)].key,
				fmt.Sprintf("%d turns come after the %d of line %d", reading.Turns, list[len(list)-1].Turns, list[len(list)-1].Line), "give all turns so far, not those of one layer, one reading for each count; when turns came off again, delete their lines"}
		}
		reading.Line = n
		list = append(list, reading)
	}
	if err := text.Err(); errors.Is(err, bufio.ErrTooLong) {
		return nil, &LogError{name, n + 1, "", fmt.Sprintf("the line is longer than %d bytes", maxLine), "is it a winding log? It has lines such as 3,652.1"}
	} else if err != nil {
		return nil, &LogError{name, 0, "", err.Error(), ""}
	}
	if columns == nil {
		return nil, &LogError{name, 0, "", "there is no header", "begin with the columns and their units: " + logExample}
	}
	return list, nil
}

func placed(err error, name string, line int) error {
	var e *LogError
	if errors.As(err, &e) {
		e.File, e.Line = name, line
	}
	return err
}

func logColumns(cells []string) (columns []column, err error) {
	seen := map[string]string{}
	for _, c := range cells {
		col := column{key: shorten(c)}
		name, unit, _ := strings.Cut(c, "_")
		col.unit = unit
		dimension := quantity.FluxDensity
		switch name {
		case "turns", "layer":
			col.what = name
			if unit != "" {
				return nil, &LogError{Key: col.key, What: "a count has no unit", Hint: "write " + name}
			}
		case "B", "Bx", "By", "Bz":
			col.what = "field"
		case "u":
			col.what = "uncertainty"
		case "outer":
			col.what, dimension = "outer size", quantity.Length
		default:
			return nil, &LogError{What: fmt.Sprintf("%q is no column of a winding log", col.key), Hint: "the first line names the columns with their units: " + logExample + "; notes begin with #"}
		}
		if !col.counts() {
			if _, err := quantity.Parse("1 "+unit, dimension); unit == "" || err != nil {
				return nil, &LogError{Key: col.key, What: "has no unit of " + dimension.String(), Hint: fmt.Sprintf("write for example %s_%s; there are %s", name, quantity.Units(dimension)[0], strings.Join(quantity.Units(dimension), ", "))}
			}
		}
		if before, ok := seen[col.what]; ok {
			return nil, &LogError{Key: col.key, What: "gives the " + col.what + " again, after " + before, Hint: "keep one of the two columns"}
		}
		seen[col.what] = col.key
		columns = append(columns, col)
	}
	_, turns := seen["turns"]
	_, layer := seen["layer"]
	_, field := seen["field"]
	switch {
	case turns && layer:
		return nil, &LogError{Key: seen["layer"], What: "the log counts layers and turns", Hint: "keep one of the two columns; turns is the surer one"}
	case !turns && !layer:
		return nil, &LogError{What: "there is no column of turns or layers", Hint: "name the columns with their units: " + logExample}
	case !field:
		return nil, &LogError{What: "there is no column of the field", Hint: "name the columns with their units: " + logExample}
	}
	return columns, nil
}

func countColumn(columns []column) int {
	for i, c := range columns {
		if c.counts() {
			return i
		}
	}
	return 0
}

func readingOf(cells []string, columns []column, l lay) (r Reading, err error) {
	for len(cells) < len(columns) { // the last values may be left out, with their commas
		cells = append(cells, "")
	}
	if len(cells) > len(columns) {
		return r, &LogError{What: fmt.Sprintf("there are %d values for %d columns", len(cells), len(columns)), Hint: "one comma between values, a point in decimals: 3,652.1"}
	}
	for i, c := range columns {
		cell := cells[i]
		if cell == "" && (c.what == "outer size" || c.what == "uncertainty") {
			continue
		}
		fail := func(hint string) (Reading, error) {
			return Reading{}, &LogError{Key: c.key, What: fmt.Sprintf("%q is no value of the %s", shorten(cell), c.what), Hint: hint}
		}
		if c.counts() {
			v, err := strconv.Atoi(cell)
			if err != nil || v < 0 || v > maxTurns {
				return fail(fmt.Sprintf("write a whole number from 0 to %d", maxTurns))
			}
			if r.Turns = v; c.what == "layer" {
				r.LayerDone = v
				if r.Turns = (v+1)/2*l.odd + v/2*l.even; r.Turns > maxTurns {
					return fail("write the number of full layers so far")
				}
			}
			continue
		}
		dimension, hint := quantity.FluxDensity, fmt.Sprintf("write the number in %s, above 0 and up to %d T; when the probe reads below 0, turn it round", c.unit, maxField)
		most := float64(maxField)
		if c.what == "outer size" {
			dimension, hint, most = quantity.Length, "write the number in "+c.unit+", as a caliper reads it over the last layer", maxSize
		}
		if _, err := strconv.ParseFloat(cell, 64); err != nil {
			return fail(hint)
		}
		v, err := quantity.Parse(cell+" "+c.unit, dimension)
		if err != nil || !(v > 0 && v <= most) {
			return fail(hint)
		}
		switch c.what {
		case "field":
			r.FieldT = v
		case "uncertainty":
			r.UncertT = v
		default:
			r.OuterM = v
		}
	}
	return r, nil
}

// shorten keeps what an error quotes to a line.
func shorten(s string) string {
	if r := []rune(s); len(r) > 40 {
		return string(r[:39]) + "…"
	}
	return s
}

// outer is the outside size along the core's longer side at a packing.
func (p Plan) outer(turns int, packing float64) float64 {
	return math.Max(p.CoreX, p.CoreY) + 2*float64(turns)*wireArea(p.WireDiameter)/(packing*p.Width)
}
