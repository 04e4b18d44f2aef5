package measurement

import (
	"bufio"
	"errors"
	"fmt"
	"io"
	"math"
	"slices"
	"strconv"
	"strings"
	"unicode/utf8"

	"gonum.org/v1/gonum/spatial/r3"

	"polewright/quantity"
)

// Piece is what was measured of one magnet before it is built in. Signs are those of its mark: positive is along the marked direction.
type Piece struct {
	Name   string
	Magnet string // the magnet of the design that it is for; "" where it fits
	// Moment is the magnetic moment, A m2, its z along the mark; x and y are sides marked on the piece. HasSides says that they were measured.
	Moment    r3.Vec
	HasMoment bool
	HasSides  bool
	// FieldT was read on the axis at a distance of AtM from the face towards which the mark points, positive outwards.
	FieldT, AtM  float64
	HasField     bool
	Uncertainty  float64 // standard, in the unit of the reading, A m2 or T; 0: not given
	TemperatureC float64 // degC; NaN: not given
	Line         int
}

// Pieces is a list of measured magnets.
type Pieces struct {
	File  string
	Notes []Note
	List  []Piece
}

// MaxPieces is the most that a list may have.
const MaxPieces = 2000

const (
	piecesExample = "piece,m_Am2,T_degC"
	vacuum        = 4e-7 * math.Pi // H/m; the value of 2019 and later differs by 1e-10
)

// momentUnits are the units of a magnetic moment, A m2; a magnetic dipole moment in Wb m is mu0 times it (IEC 60050-121).
var momentUnits = map[string]float64{"Am2": 1, "mAm2": 1e-3, "Wbm": 1 / vacuum, "mWbm": 1e-3 / vacuum, "uWbm": 1e-6 / vacuum}

// ReadPieces reads a list of measured magnets as CSV text. Its header names the columns: piece, its name; magnet, the part of the design that it
// is for, where pieces differ; m_, or mx_, my_, mz_, the magnetic moment with Am2, mAm2, Wbm, mWbm or uWbm; or B_mT and at_mm, the flux density on
// the axis at a distance from the marked face; T_degC; u_ with the unit of the reading, its standard uncertainty. Notes begin with #. The error
// is Errors, or what src itself returned.
func ReadPieces(src io.Reader, name string) (*Pieces, error) {
	r := &reader{name: name}
	l := &Pieces{File: name}
	var columns []column
	names := map[string]int{}
	_, err := r.rows(src, "list", &l.Notes, func(cells []string, n int) (on bool) {
		if columns == nil {
			columns = r.piecesHeader(cells, n)
			return columns != nil
		}
		p, ok := r.piece(cells, columns, n)
		if !ok {
			return true
		}
		if earlier, twice := names[p.Name]; twice {
			r.fail(n, "piece", fmt.Sprintf("%q is on line %d already", shorten(p.Name), earlier), "number every piece, and write the number on it")
			return true
		}
		names[p.Name] = n
		if l.List = append(l.List, p); len(l.List) > MaxPieces {
			r.fail(n, "", fmt.Sprintf("there are more than %d pieces", MaxPieces), "give them by the box")
			return false
		}
		return true
	})
	if errors.Is(err, bufio.ErrTooLong) {
		r.fail(0, "", fmt.Sprintf("a line is longer than %d bytes", maxLine), "is it a list of pieces? It has lines such as A1,62.4,21")
	} else if err != nil {
		return nil, fmt.Errorf("reading the pieces %s: %w", name, err)
	}
	switch {
	case len(r.errs) > 0:
	case columns == nil:
		r.fail(0, "", "there is no header", "begin with the columns and their units: "+piecesExample)
	case len(l.List) == 0:
		r.fail(0, "", "there are no pieces below the header", "write a line for each piece, such as A1,62.4,21")
	}
	if len(r.errs) > 0 {
		return nil, r.errs
	}
	return l, nil
}

func (r *reader) piecesHeader(cells []string, line int) (columns []column) {
	before := len(r.errs)
	if len(cells) == 1 && strings.ContainsAny(cells[0], ";\t") {
		r.fail(line, "", "the columns are not parted by commas", "write commas between columns and points in decimals: "+piecesExample)
		return nil
	}
	seen := map[string]string{}
	moments := ""
	for _, cell := range cells {
		name, unit, _ := strings.Cut(cell, "_")
		c := column{key: shorten(cell), unit: unit, what: name}
		units := []string(nil)
		switch name {
		case "piece", "magnet":
			if unit != "" {
				r.fail(line, c.key, "takes no unit", "write "+name)
			}
		case "m", "mx", "my", "mz":
			c.what, c.index = "moment", strings.Index("xyz", strings.TrimPrefix(name, "m"))
			if name == "m" {
				c.index = 2
			}
			units = []string{"Am2", "mAm2", "Wbm", "mWbm", "uWbm"}
			if moments != "" && moments != unit {
				r.fail(line, c.key, "has another unit than the column of the moment before it", "give all moments in one unit")
			}
			moments = unit
		case "B":
			c.what, c.dimension, units = "field", quantity.FluxDensity, quantity.Units(quantity.FluxDensity)
		case "at":
			c.what, c.dimension, units = "distance", quantity.Length, quantity.Units(quantity.Length)
		case "T":
			c.what, c.dimension, units = "temperature", quantity.Temperature, quantity.Units(quantity.Temperature)
		case "u":
			c.what = "uncertainty"
			units = append([]string{"Am2", "mAm2", "Wbm", "mWbm", "uWbm"}, quantity.Units(quantity.FluxDensity)...)
		default:
			r.fail(line, "", fmt.Sprintf("%q is no column of a list of pieces", c.key),
				"columns are piece, magnet, m_Am2 (or mx_, my_, mz_), B_mT, at_mm, T_degC and u_ with the unit of the reading")
			continue
		}
		if units != nil && !slices.Contains(units, unit) {
			r.fail(line, c.key, "has no unit that would do", fmt.Sprintf("write for example %s_%s; there are %s", name, units[0], strings.Join(units, ", ")))
		}
		if earlier, ok := seen[name]; ok {
			r.fail(line, c.key, "is given again, after "+earlier, "keep one of the two columns")
		}
		seen[name] = c.key
		columns = append(columns, c)
	}
	has := func(names ...string) bool {
		return !slices.ContainsFunc(names, func(n string) bool { return seen[n] == "" })
	}
	some := func(names ...string) bool {
		return slices.ContainsFunc(names, func(n string) bool { return seen[n] != "" })
	}
	switch {
	case len(r.errs) > before:
		return nil
	case !has("piece"):
		r.fail(line, "", "there is no column piece", "number the pieces: "+piecesExample)
	case has("m") && some("mx", "my", "mz"), some("mx", "my", "mz") && !has("mx", "my", "mz"):
		r.fail(line, "", "the moment is neither one column nor three", "give m_Am2 along the mark, or mx_Am2,my_Am2,mz_Am2")
	case some("m", "mx") == has("B"):
		r.fail(line, "", "there is not one kind of reading", "give the moment, m_Am2, or the field at a distance, B_mT and at_mm")
	case has("B") != has("at"):
		r.fail(line, "", "a field needs its distance, and a distance its field", "give B_mT and at_mm, from the marked face to the active area of the probe")
	}
	if len(r.errs) > before {
		return nil
	}
	for i := range columns {
		if c := &columns[i]; c.what == "uncertainty" {
			if _, moment := momentUnits[c.unit]; moment != some("m", "mx") {
				r.fail(line, c.key, "is not in a unit of the reading", "give the standard uncertainty in the unit of the moment or the field")
				return nil
			}
		}
	}
	return columns
}

func (r *reader) piece(cells []string, columns []column, line int) (p Piece, ok bool) {
	p = Piece{TemperatureC: math.NaN(), Line: line}
	if len(cells) > len(columns) {
		r.fail(line, "", fmt.Sprintf("there are %d values for %d columns", len(cells), len(columns)), "one comma between values, a point in decimals: A1,62.4,21")
		return p, false
	}
	ok = true
	for i, c := range columns {
		cell := ""
		if i < len(cells) {
			cell = cells[i]
		}
		missing := func(hint string) { r.fail(line, c.key, "is missing", hint); ok = false }
		bad := func(hint string) {
			r.fail(line, c.key, fmt.Sprintf("%q is no value of the %s", shorten(cell), c.what), hint)
			ok = false
		}
		number := func() (float64, bool) {
			v, err := strconv.ParseFloat(cell, 64)
			if err != nil || math.IsNaN(v) || math.IsInf(v, 0) {
				bad("write a plain number in " + c.unit + ", with a point in decimals")
				return 0, false
			}
			if scale, moment := momentUnits[c.unit]; moment {
				return v * scale, true
			}
			v, err = quantity.Parse(cell+" "+c.unit, c.dimension)
			if err != nil || math.IsNaN(v) || math.IsInf(v, 0) {
				bad("write the number in " + c.unit)
				return 0, false
			}
			return v, true
		}
		switch c.what {
		case "piece":
			if p.Name = cell; cell == "" {
				missing("number every piece, and write the number on it")
			} else if utf8.RuneCountInString(cell) > 40 {
				bad("keep names to 40 letters")
			}
		case "magnet":
			p.Magnet = cell
		case "moment":
			if cell == "" {
				missing("write the moment in " + c.unit)
				continue
			}
			if v, good := number(); good {
				if math.Abs(v) > 1e6 {
					bad("it is over 1e6 A m2: check the unit of the column")
				}
				*[]*float64{&p.Moment.X, &p.Moment.Y, &p.Moment.Z}[c.index] = v
				p.HasMoment, p.HasSides = true, p.HasSides || c.index < 2
			}
		case "field":
			if cell == "" {
				missing("write the reading in " + c.unit)
				continue
			}
			if v, good := number(); good {
				if math.Abs(v) > maxFieldT {
					bad(fmt.Sprintf("it is over %d T: check the unit of the column", maxFieldT))
				}
				p.FieldT, p.HasField = v, true
			}
		case "distance":
			if cell == "" {
				missing("write the distance from the marked face to the active area in " + c.unit)
				continue
			}
			if v, good := number(); good {
				if !(v >= 0 && v <= 1) {
					bad("a distance is from 0 to 1 m; the active area lies some tenths of a millimetre behind the tip of a probe")
				}
				p.AtM = v
			}
		case "uncertainty":
			if cell == "" {
				continue
			}
			c.dimension = quantity.FluxDensity
			if v, good := number(); good {
				if !(v > 0) {
					bad("a standard uncertainty is above 0; leave it empty where it is not known")
				}
				p.Uncertainty = v
			}
		case "temperature":
			if cell == "" {
				continue
			}
			if v, good := number(); good {
				if !(v > -273.15 && v < 1000) {
					bad("check the unit of the column")
				}
				p.TemperatureC = v
			}
		}
	}
	return p, ok
}
