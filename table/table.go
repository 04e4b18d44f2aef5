// Package table reads the tables that people fill in: CSV text whose first line names the columns with their units, with notes between its lines.
package table

import (
	"bufio"
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"math"
	"slices"
	"strconv"
	"strings"
	"unicode/utf8"

	"polewright/mistake"
	"polewright/quantity"
	"polewright/spelling"
)

// Bounds of a table.
const (
	mostNotes = 20_000
	longest   = 4096 // bytes of a line
)

// Column is a column that a table may have.
type Column struct {
	Name  string               // "Bz"; its unit follows in the header, "Bz_mT"
	What  string               // "field": what it holds; a table has no two columns with the same What and Index
	Index int                  // of a coordinate or a component
	Of    []quantity.Dimension // that its unit may have; none: words or a count, without a unit
	Money bool                 // its unit is a currency

	Key       string             // as the header has it
	Unit      string             // "mT"
	Dimension quantity.Dimension // of the unit
}

// Note is a line that begins with #. Where it is "key: text" the key is in lower case; else the key is empty.
type Note struct {
	Key, Text string
	Line      int
}

// Reader reads a table and collects the mistakes in it.
type Reader struct {
	File   string   // that messages name
	Kind   string   // "log": what the table is to its user
	Header string   // one that would do
	Sample string   // a line that would do
	Takes  []Column // Key, Unit and Dimension left empty
	Notes  []Note
	Line   int // the one that is read

	mistakes mistake.Errors
}

// Fail keeps a mistake in the line that is read.
func (r *Reader) Fail(key, what, hint string) {
	r.mistakes = append(r.mistakes, &mistake.Error{File: r.File, Line: r.Line, Key: key, What: what, Hint: hint})
}

// Failed counts the mistakes so far.
func (r *Reader) Failed() int { return len(r.mistakes) }

// Err is the mistakes as [mistake.Errors], nil when there are none.
func (r *Reader) Err() error { return r.mistakes.Err() }

// Read gives the columns of a header to header, and the cells of each line below it, one for each of the columns, to take, until either wants no
// more or there are too many mistakes. Then r.Line is 0, and Err has what was wrong. The error is what src itself returned.
func (r *Reader) Read(src io.Reader, header func([]Column) bool, take func(cells []string) bool) error {
	defer func() { r.Line = 0 }()
	var columns []Column
	text := bufio.NewScanner(src)
	text.Buffer(nil, longest)
	for len(r.mistakes) < mistake.Most && text.Scan() {
		r.Line++
		line := strings.TrimSpace(strings.TrimPrefix(text.Text(), "\ufeff"))
		switch {
		case line == "":
			continue
		case !utf8.ValidString(line):
			r.Fail("", "is not text in UTF-8", "save the "+r.Kind+" as plain CSV text in UTF-8")
			continue
		case line[0] == '#' && len(r.Notes) == mostNotes:
			r.Fail("", fmt.Sprintf("there are more than %d notes", mostNotes), "leave lines that begin with # out of the "+r.Kind)
			return nil
		case line[0] == '#':
			r.Notes = append(r.Notes, noteOf(line, r.Line))
			continue
		}
		cells, ok := r.cells(line)
		switch {
		case !ok && columns == nil:
			return nil
		case !ok || !slices.ContainsFunc(cells, func(s string) bool { return s != "" }): // or a row of a spreadsheet left empty
		case columns == nil:
			if columns = r.columns(cells); columns == nil || !header(columns) {
				return nil
			}
		case len(cells) > len(columns):
			r.Fail("", fmt.Sprintf("there are %d values for %d columns", len(cells), len(columns)),
				`one comma between values, a point in decimals, "quotes" round text with commas: `+r.Sample)
		default: // the last values may be left out, with their commas
			if !take(append(cells, make([]string, len(columns)-len(cells))...)) {
				return nil
			}
		}
	}
	err := text.Err()
	if errors.Is(err, bufio.ErrTooLong) {
		r.Line++
		r.Fail("", fmt.Sprintf("the line is longer than %d bytes", longest), fmt.Sprintf("is it a %s? It has lines such as %s", r.Kind, r.Sample))
		return nil
	}
	r.Line = 0
	if err == nil && columns == nil && len(r.mistakes) == 0 {
		r.Fail("", "there is no header", "begin with the columns and their units: "+r.Header)
	}
	return err
}

func noteOf(line string, n int) Note {
	s := strings.TrimSpace(strings.TrimLeft(line, "#"))
	key, text, ok := strings.Cut(s, ":")
	if key = strings.ToLower(strings.TrimSpace(key)); ok && key != "" && len(key) <= 40 {
		return Note{key, strings.TrimSpace(text), n}
	}
	return Note{"", s, n}
}

// cells parts a line.
func (r *Reader) cells(line string) (cells []string, ok bool) {
	c := csv.NewReader(strings.NewReader(line))
	c.TrimLeadingSpace = true
	cells, err := c.Read()
	if err != nil {
		r.Fail("", "has a quotation mark astray", `put text with commas in quotes, "so, for example", and write inches as a number with the column in inches: width_in`)
		return nil, false
	}
	for i := range cells {
		cells[i] = strings.TrimSpace(cells[i])
	}
	return cells, true
}

// columns reads a header. It is nil when there is a mistake in it.
func (r *Reader) columns(cells []string) (columns []Column) {
	before := len(r.mistakes)
	if len(cells) == 1 && strings.ContainsAny(cells[0], ";\t") {
		r.Fail("", "the columns are not parted by commas", "write commas between columns and points in decimals: "+r.Header)
		return nil
	}
	if slices.ContainsFunc(cells, func(s string) bool { _, err := strconv.ParseFloat(s, 64); return err == nil }) {
		r.Fail("", "there is no header above the numbers", "the first line names the columns with their units: "+r.Header)
		return nil
	}
	type content struct {
		what  string
		index int
	}
	seen := map[content]string{}
	for i, cell := range cells {
		name, unit, hasUnit := strings.Cut(cell, "_")
		k := slices.IndexFunc(r.Takes, func(c Column) bool { return c.Name == name })
		if k < 0 {
			r.unknown(i, cell, name)
			continue
		}
		c := r.Takes[k]
		c.Key, c.Unit = mistake.Quote(cell), unit
		r.unit(&c, hasUnit)
		if first, twice := seen[content{c.What, c.Index}]; twice {
			r.Fail(c.Key, "gives the "+c.What+" again, after "+first, "keep one of the two columns")
		}
		seen[content{c.What, c.Index}] = c.Key
		columns = append(columns, c)
	}
	if len(r.mistakes) > before {
		return nil
	}
	return columns
}

// unknown refuses a column.
func (r *Reader) unknown(i int, cell, name string) {
	var names []string
	for _, c := range r.Takes {
		names = append(names, c.Name)
	}
	hint := "columns are " + strings.Join(names, ", ") + ", with units as in " + r.Header + "; notes begin with #"
	if cell == "" {
		r.Fail("", fmt.Sprintf("column %d has no name", i+1), "name it, or take the column out; "+hint)
		return
	}
	r.Fail("", fmt.Sprintf("%q is no column of a %s", mistake.Quote(cell), r.Kind), spelling.Meant(name, names, hint))
}

// unit checks the unit of a column.
func (r *Reader) unit(c *Column, given bool) {
	switch {
	case c.Money && !quantity.IsCurrency(c.Unit):
		r.Fail(c.Key, "has no code of a currency", "write the three capital letters of ISO 4217: "+c.Name+"_EUR")
	case c.Money:
	case len(c.Of) == 0 && given:
		r.Fail(c.Key, "takes no unit", "write "+c.Name)
	case len(c.Of) > 0:
		var of, units []string
		for _, c.Dimension = range c.Of {
			if _, err := quantity.Parse("1 "+c.Unit, c.Dimension); err == nil && c.Unit != "" {
				return
			}
			of = append(of, c.Dimension.String())
			units = append(units, quantity.Units(c.Dimension)...)
		}
		r.Fail(c.Key, "has no unit of "+strings.Join(of, " or "), fmt.Sprintf("write for example %s_%s; there are %s", c.Name, units[0], strings.Join(units, ", ")))
	}
}

// Number reads a cell, a plain number in the unit of its column, and gives it in SI units. r keeps a mistake in it.
func (r *Reader) Number(c Column, cell string) (v float64, ok bool) {
	if _, err := strconv.ParseFloat(cell, 64); err != nil {
		r.Bad(c, cell, "write the number alone, with a point in decimals; its unit, "+c.Unit+", stands in the header")
		return 0, false
	}
	v, err := quantity.Parse(cell+" "+c.Unit, c.Dimension)
	if err != nil || math.IsNaN(v) || math.IsInf(v, 0) {
		r.Bad(c, cell, "write the number in "+c.Unit+"; check the unit of the column")
		return 0, false
	}
	return v, true
}

// Bad keeps the mistake of a cell.
func (r *Reader) Bad(c Column, cell, hint string) {
	r.Fail(c.Key, fmt.Sprintf("%q is no value of the %s", mistake.Quote(cell), c.What), hint)
}

// Missing keeps the mistake of an empty cell.
func (r *Reader) Missing(c Column, hint string) { r.Fail(c.Key, "is missing", hint) }
