// Package measurement reads what a builder measured: logs of probe readings, and the size of a probe's active area. It knows nothing of designs or
// of how a field is predicted.
package measurement

import (
	"bufio"
	"errors"
	"fmt"
	"io"
	"math"
	"strconv"
	"strings"
	"unicode/utf8"

	"gonum.org/v1/gonum/spatial/r3"

	"polewright/quantity"
)

// Component is what a probe reads of the field.
type Component int

// Components.
const (
	X Component = iota
	Y           // along the world axes
	Z
	Magnitude // |B|
)

// String is the name of the component as columns begin: Bx, By, Bz or B.
func (c Component) String() string { return [...]string{"Bx", "By", "Bz", "B"}[c] }

// Reading is one value that a probe gave.
type Reading struct {
	At           r3.Vec // m
	Component    Component
	FieldT       float64
	UncertaintyT float64 // standard uncertainty; 0: not given
	TemperatureC float64 // of the magnets, degC; NaN: not given
	Line         int     // in the log
}

// Note is a line of a log that begins with #. Where it is "key: text" the key is in lower case; else the key is empty.
type Note struct {
	Key, Text string
	Line      int
}

// Log is a log of readings.
type Log struct {
	File     string
	Notes    []Note
	Readings []Reading
}

// Note gives the text of the first note with a key, "" without one.
func (l *Log) Note(key string) string {
	for _, n := range l.Notes {
		if n.Key == key {
			return n.Text
		}
	}
	return ""
}

// Probe is the probe that the notes name, a point without one. The error is Errors.
func (l *Log) Probe() (Probe, error) {
	for _, n := range l.Notes {
		if n.Key != "probe" {
			continue
		}
		p, err := ParseProbe(n.Text)
		if err != nil {
			return p, Errors{{File: l.File, Line: n.Line, Key: "probe", What: fmt.Sprintf("%q is %v", n.Text, ErrProbe), Hint: "correct the note, or name the probe beside the log"}}
		}
		return p, nil
	}
	return Probe{}, nil
}

// Error is a mistake in a log.
type Error struct {
	File string
	Line int    // from 1; 0 when in no single line
	Key  string // the column; "" when in no column
	What string // what was given
	Hint string // what would do
}

// Error is "file:line: column: what" and, on a second line, "  hint: ...".
func (e *Error) Error() string {
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

// Errors are the mistakes in a log, in its order, the first twenty of them.
type Errors []*Error

func (e Errors) Error() string {
	var s []string
	for _, k := range e {
		s = append(s, k.Error())
	}
	return strings.Join(s, "\n")
}

// Bounds of a log.
const (
	MaxReadings = 20_000
	maxLine     = 4096
	maxErrors   = 20
	maxFieldT   = 20  // no permanent magnet comes near; a column in the wrong unit does
	maxPlaceM   = 100 // from the origin
)

const example = "x_mm,y_mm,z_mm,Bz_mT"

// column is what a column of a log holds.
type column struct {
	key, unit string
	dimension quantity.Dimension
	what      string // place, field, uncertainty, temperature
	index     int    // of the coordinate or the component
}

// reader collects mistakes.
type reader struct {
	name string
	errs Errors
}

func (r *reader) fail(line int, key, what, hint string) {
	if len(r.errs) < maxErrors {
		r.errs = append(r.errs, &Error{r.name, line, key, what, hint})
	}
}

// ReadLog reads a log as CSV text. Its header names the columns with their units: the place x_, y_, z_ with mm, m, in or another length, one or more
// of Bx_, By_, Bz_ and B_ (the magnitude) with T, mT, G or kG, and, where wanted, T_degC, the temperature of the magnets, and u_mT, the
// standard uncertainty of each reading. A coordinate without a column is 0. Lines that begin with # are notes; "# probe: disc 2 mm" and the like
// are kept by their keys. A field may be left empty where nothing was read. The error is Errors, or what r itself returned.
func ReadLog(src io.Reader, name string) (*Log, error) {
	r := &reader{name: name}
	l := &Log{File: name}
	var columns []column
	n, err := r.rows(src, "log", &l.Notes, func(cells []string, n int) (on bool) {
		if columns == nil {
			columns = r.header(cells, n)
			return columns != nil
		}
		l.Readings = append(l.Readings, r.readings(cells, columns, n)...)
		if len(l.Readings) > MaxReadings {
			r.fail(n, "", fmt.Sprintf("there are more than %d readings", MaxReadings), "thin the log out: a fit gains nothing from so many")
			return false
		}
		return true
	})
	if errors.Is(err, bufio.ErrTooLong) {
		r.fail(n+1, "", fmt.Sprintf("the line is longer than %d bytes", maxLine), "is it a log of readings? It has lines such as 0,0,5,612.3")
	} else if err != nil {
		return nil, fmt.Errorf("reading the log %s: %w", name, err)
	}
	switch {
	case len(r.errs) > 0:
		return nil, r.errs
	case columns == nil:
		r.fail(0, "", "there is no header", "begin with the columns and their units: "+example)
		return nil, r.errs
	case len(l.Readings) == 0:
		r.fail(0, "", "there are no readings below the header", "write a line for each place, such as 0,0,5,612.3")
		return nil, r.errs
	}
	return l, nil
}

// rows hands on the cells of each line of CSV text with its number, and keeps the notes, until take wants no more or there are too many mistakes.
// kind is what the text is to the builder. It gives the number of the last line, and an error of src.
func (r *reader) rows(src io.Reader, kind string, notes *[]Note, take func(cells []string, n int) (on bool)) (n int, err error) {
	text := bufio.NewScanner(src)
	text.Buffer(nil, maxLine)
	for len(r.errs) < maxErrors && text.Scan() {
		n++
		line := strings.TrimSpace(strings.TrimPrefix(text.Text(), "\ufeff"))
		switch {
		case line == "":
			continue
		case !utf8.ValidString(line):
			r.fail(n, "", "is not text in UTF-8", "save the "+kind+" as plain CSV text")
			continue
		case line[0] == '#' && len(*notes) == MaxReadings:
			r.fail(n, "", fmt.Sprintf("there are more than %d notes", MaxReadings), "leave lines that begin with # out of the "+kind)
			return n, nil
		case line[0] == '#':
			*notes = append(*notes, noteOf(line, n))
			continue
		}
		cells := strings.Split(line, ",")
		for i := range cells {
			cells[i] = strings.TrimSpace(cells[i])
		}
		if !take(cells, n) {
			break
		}
	}
	return n, text.Err()
}

func noteOf(line string, n int) Note {
	s := strings.TrimSpace(strings.TrimLeft(line, "#"))
	key, text, ok := strings.Cut(s, ":")
	if key = strings.ToLower(strings.TrimSpace(key)); ok && key != "" && len(key) <= 40 {
		return Note{key, strings.TrimSpace(text), n}
	}
	return Note{"", s, n}
}

func (r *reader) header(cells []string, line int) (columns []column) {
	before := len(r.errs)
	if len(cells) == 1 && strings.ContainsAny(cells[0], ";\t") {
		r.fail(line, "", "the columns are not parted by commas", "write commas between columns and points in decimals: "+example)
		return nil
	}
	seen := map[string]string{}
	fields := 0
	for _, cell := range cells {
		c := column{key: shorten(cell)}
		name, unit, _ := strings.Cut(cell, "_")
		c.unit = unit
		switch name {
		case "x", "y", "z":
			c.what, c.dimension, c.index = "place", quantity.Length, strings.Index("xyz", name)
		case "Bx", "By", "Bz":
			c.what, c.dimension, c.index = "field", quantity.FluxDensity, strings.Index("xyz", name[1:])
			fields++
		case "B":
			c.what, c.dimension, c.index = "field", quantity.FluxDensity, int(Magnitude)
			fields++
		case "u":
			c.what, c.dimension = "uncertainty", quantity.FluxDensity
		case "T":
			c.what, c.dimension = "temperature", quantity.Temperature
		default:
			hint := "columns are x_, y_, z_, Bx_, By_, Bz_, B_, T_ and u_ with a unit, as in " + example + "; notes begin with #"
			if _, err := strconv.ParseFloat(cell, 64); err == nil {
				hint = "the first line names the columns with their units: " + example
			}
			r.fail(line, "", fmt.Sprintf("%q is no column of a log", c.key), hint)
			continue
		}
		if _, err := quantity.Parse("1 "+unit, c.dimension); unit == "" || err != nil {
			r.fail(line, c.key, "has no unit of "+c.dimension.String(),
				fmt.Sprintf("write for example %s_%s; there are %s", name, quantity.Units(c.dimension)[0], strings.Join(quantity.Units(c.dimension), ", ")))
		}
		if earlier, ok := seen[name]; ok {
			r.fail(line, c.key, "is given again, after "+earlier, "keep one of the two columns")
		}
		seen[name] = c.key
		columns = append(columns, c)
	}
	if len(r.errs) > before {
		return nil
	}
	switch {
	case fields == 0:
		r.fail(line, "", "there is no column of the field", "add Bz_mT, or Bx_, By_, B_ with T, mT, G or kG")
		return nil
	case seen["x"]+seen["y"]+seen["z"] == "":
		r.fail(line, "", "there is no column of the place", "name the columns with their units: "+example)
		return nil
	}
	return columns
}

func (r *reader) readings(cells []string, columns []column, line int) (list []Reading) {
	if len(cells) > len(columns) {
		r.fail(line, "", fmt.Sprintf("there are %d values for %d columns", len(cells), len(columns)), "one comma between values, a point in decimals: 0,0,5,612.3")
		return nil
	}
	base := Reading{TemperatureC: math.NaN(), Line: line}
	good := true
	for i, c := range columns {
		cell := ""
		if i < len(cells) {
			cell = cells[i]
		}
		if cell == "" {
			if c.what == "place" {
				r.fail(line, c.key, "is missing", "write the place of the reading in "+c.unit)
				good = false
			}
			continue
		}
		v, ok := r.number(cell, c, line)
		good = good && ok
		switch {
		case !ok:
		case c.what == "place":
			*[]*float64{&base.At.X, &base.At.Y, &base.At.Z}[c.index] = v
		case c.what == "uncertainty":
			base.UncertaintyT = v
		case c.what == "temperature":
			base.TemperatureC = v
		default:
			list = append(list, Reading{Component: Component(c.index), FieldT: v})
		}
	}
	if !good {
		return nil
	}
	for i := range list {
		q := base
		q.Component, q.FieldT = list[i].Component, list[i].FieldT
		list[i] = q
	}
	return list
}

// number reads a cell in the unit of its column.
func (r *reader) number(cell string, c column, line int) (float64, bool) {
	fail := func(hint string) (float64, bool) {
		r.fail(line, c.key, fmt.Sprintf("%q is no value of the %s", shorten(cell), c.what), hint)
		return 0, false
	}
	if _, err := strconv.ParseFloat(cell, 64); err != nil {
		return fail("write a plain number in " + c.unit + ", with a point in decimals")
	}
	v, err := quantity.Parse(cell+" "+c.unit, c.dimension)
	if err != nil || math.IsNaN(v) || math.IsInf(v, 0) {
		return fail("write the number in " + c.unit + "; check the unit of the column")
	}
	switch {
	case c.what == "place" && math.Abs(v) > maxPlaceM:
		return fail(fmt.Sprintf("it is over %d m from the origin: check the unit", maxPlaceM))
	case c.what == "field" && math.Abs(v) > maxFieldT:
		return fail(fmt.Sprintf("it is over %d T: check the unit of the column", maxFieldT))
	case c.what == "field" && c.index == int(Magnitude) && v < 0:
		return fail("B is the magnitude, 0 or more; a probe with a sign reads Bx, By or Bz")
	case c.what == "uncertainty" && !(v > 0 && v <= maxFieldT):
		return fail("a standard uncertainty is above 0; leave it empty where it is not known")
	case c.what == "temperature" && !(v > -273.15 && v < 1000):
		return fail("check the unit of the column")
	}
	return v, true
}

// shorten keeps what an error quotes to a line.
func shorten(s string) string {
	if r := []rune(s); len(r) > 40 {
		return string(r[:39]) + "…"
	}
	return s
}

// Write writes a log as ReadLog reads it, places in mm and fields in T with all their digits, one line a reading.
func (l *Log) Write(w io.Writer) error {
	var b strings.Builder
	for _, n := range l.Notes {
		if n.Key != "" {
			fmt.Fprintf(&b, "# %s: %s\n", n.Key, n.Text)
		} else {
			fmt.Fprintf(&b, "# %s\n", n.Text)
		}
	}
	var has [Magnitude + 1]bool
	var uncertain, warm bool
	for _, r := range l.Readings {
		has[r.Component] = true
		uncertain = uncertain || r.UncertaintyT > 0
		warm = warm || !math.IsNaN(r.TemperatureC)
	}
	header := []string{"x_mm", "y_mm", "z_mm"}
	for c := range has {
		if has[c] {
			header = append(header, Component(c).String()+"_T")
		}
	}
	if uncertain {
		header = append(header, "u_T")
	}
	if warm {
		header = append(header, "T_degC")
	}
	b.WriteString(strings.Join(header, ",") + "\n")
	number := func(v float64) string { return strconv.FormatFloat(v, 'g', -1, 64) }
	for _, r := range l.Readings {
		cells := []string{number(1e3 * r.At.X), number(1e3 * r.At.Y), number(1e3 * r.At.Z)}
		for c := range has {
			switch {
			case Component(c) == r.Component:
				cells = append(cells, number(r.FieldT))
			case has[c]:
				cells = append(cells, "")
			}
		}
		if uncertain {
			cells = append(cells, "")
			if r.UncertaintyT > 0 {
				cells[len(cells)-1] = number(r.UncertaintyT)
			}
		}
		if warm {
			cells = append(cells, "")
			if !math.IsNaN(r.TemperatureC) {
				cells[len(cells)-1] = number(r.TemperatureC)
			}
		}
		b.WriteString(strings.Join(cells, ",") + "\n")
	}
	_, err := io.WriteString(w, b.String())
	return err
}
