// Package measurement reads what a builder measured: logs of probe readings, lists of single magnets, and the size of a probe's active area. It
// knows nothing of designs or of how a field is predicted.
package measurement

import (
	"fmt"
	"io"
	"math"
	"slices"
	"strconv"
	"strings"

	"gonum.org/v1/gonum/spatial/r3"

	"polewright/mistake"
	"polewright/quantity"
	"polewright/table"
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

// Log is a log of readings.
type Log struct {
	File     string
	Notes    []table.Note
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

// Probe is the probe that the notes name, a point without one. The error is mistake.Errors.
func (l *Log) Probe() (Probe, error) {
	for _, n := range l.Notes {
		if n.Key != "probe" {
			continue
		}
		p, err := ParseProbe(n.Text)
		if err != nil {
			return p, mistake.Errors{{File: l.File, Line: n.Line, Key: "probe", What: fmt.Sprintf("%q is %v", n.Text, ErrProbe), Hint: "correct the note, or name the probe beside the log"}}
		}
		return p, nil
	}
	return Probe{}, nil
}

// Bounds of a log.
const (
	MaxReadings = 20_000
	maxFieldT   = 20  // no permanent magnet comes near; a column in the wrong unit does
	maxPlaceM   = 100 // from the origin
)

// What columns hold.
const (
	place       = "place"
	field       = "field"
	uncertainty = "uncertainty"
	temperature = "temperature"
)

var (
	length = []quantity.Dimension{quantity.Length}
	flux   = []quantity.Dimension{quantity.FluxDensity}
	warmth = []quantity.Dimension{quantity.Temperature}
)

var logColumns = []table.Column{
	{Name: "x", What: place, Index: 0, Of: length}, {Name: "y", What: place, Index: 1, Of: length}, {Name: "z", What: place, Index: 2, Of: length},
	{Name: "Bx", What: field, Index: int(X), Of: flux}, {Name: "By", What: field, Index: int(Y), Of: flux}, {Name: "Bz", What: field, Index: int(Z), Of: flux},
	{Name: "B", What: field, Index: int(Magnitude), Of: flux}, {Name: "T", What: temperature, Of: warmth}, {Name: "u", What: uncertainty, Of: flux},
}

// reader reads tables of what was measured.
type reader struct {
	table.Reader
	columns []table.Column
}

// has tells whether there is a column of a kind.
func (r *reader) has(what string) bool {
	return slices.ContainsFunc(r.columns, func(c table.Column) bool { return c.What == what })
}

// ReadLog reads a log as CSV text. Its header names the columns with their units: the place x_, y_, z_ with mm, m, in or another length, one or more
// of Bx_, By_, Bz_ and B_ (the magnitude) with T, mT, G or kG, and, where wanted, T_degC, the temperature of the magnets, and u_mT, the
// standard uncertainty of each reading. A coordinate without a column is 0. Lines that begin with # are notes; "# probe: disc 2 mm" and the like
// are kept by their keys. A field may be left empty where nothing was read. The error is mistake.Errors, or what r itself returned.
func ReadLog(src io.Reader, name string) (*Log, error) {
	r := &reader{Reader: table.Reader{File: name, Kind: "log", Header: "x_mm,y_mm,z_mm,Bz_mT", Sample: "0,0,5,612.3", Takes: logColumns}}
	l := &Log{File: name}
	err := r.Read(src, r.logHeader, func(cells []string) (on bool) {
		l.Readings = append(l.Readings, r.readings(cells)...)
		if len(l.Readings) > MaxReadings {
			r.Fail("", fmt.Sprintf("there are more than %d readings", MaxReadings), "thin the log out: a fit gains nothing from so many")
			return false
		}
		return true
	})
	if err != nil {
		return nil, fmt.Errorf("reading the log %s: %w", name, err)
	}
	if len(l.Readings) == 0 && r.Failed() == 0 {
		r.Fail("", "there are no readings below the header", "write a line for each place, such as "+r.Sample)
	}
	if err := r.Err(); err != nil {
		return nil, err
	}
	l.Notes = r.Notes
	return l, nil
}

func (r *reader) logHeader(columns []table.Column) bool {
	r.columns = columns
	switch {
	case !r.has(field):
		r.Fail("", "there is no column of the field", "add Bz_mT, or Bx_, By_, B_ with T, mT, G or kG")
	case !r.has(place):
		r.Fail("", "there is no column of the place", "name the columns with their units: "+r.Header)
	}
	return r.Failed() == 0
}

// readings are those of a line, none where there is a mistake in it.
func (r *reader) readings(cells []string) (list []Reading) {
	before := r.Failed()
	base := Reading{TemperatureC: math.NaN(), Line: r.Line}
	for i, c := range r.columns {
		if cells[i] == "" {
			if c.What == place {
				r.Missing(c, "write the place of the reading in "+c.Unit)
			}
			continue
		}
		v, ok := r.number(c, cells[i])
		switch {
		case !ok:
		case c.What == place:
			*[]*float64{&base.At.X, &base.At.Y, &base.At.Z}[c.Index] = v
		case c.What == uncertainty:
			base.UncertaintyT = v
		case c.What == temperature:
			base.TemperatureC = v
		default:
			list = append(list, Reading{Component: Component(c.Index), FieldT: v})
		}
	}
	if r.Failed() > before {
		return nil
	}
	for i := range list {
		q := base
		q.Component, q.FieldT = list[i].Component, list[i].FieldT
		list[i] = q
	}
	return list
}

// number reads a cell and holds it against what is measured on a bench.
func (r *reader) number(c table.Column, cell string) (v float64, ok bool) {
	v, ok = r.Number(c, cell)
	hint := ""
	switch {
	case !ok:
		return 0, false
	case c.What == place && math.Abs(v) > maxPlaceM:
		hint = fmt.Sprintf("it is over %d m from the origin: check the unit", maxPlaceM)
	case c.What == field && math.Abs(v) > maxFieldT:
		hint = fmt.Sprintf("it is over %d T: check the unit of the column", maxFieldT)
	case c.What == field && c.Index == int(Magnitude) && v < 0:
		hint = "B is the magnitude, 0 or more; a probe with a sign reads Bx, By or Bz"
	case c.What == uncertainty && !(v > 0):
		hint = "a standard uncertainty is above 0; leave it empty where it is not known"
	case c.What == uncertainty && c.Dimension == quantity.FluxDensity && v > maxFieldT,
		c.What == temperature && !(v > -273.15 && v < 1000):
		hint = "check the unit of the column"
	default:
		return v, true
	}
	r.Bad(c, cell, hint)
	return 0, false
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
