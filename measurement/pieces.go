package measurement

import (
	"fmt"
	"io"
	"math"
	"unicode/utf8"

	"gonum.org/v1/gonum/spatial/r3"

	"polewright/quantity"
	"polewright/table"
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
	Notes []table.Note
	List  []Piece
}

// MaxPieces is the most that a list may have.
const MaxPieces = 2000

const (
	moment   = "moment"
	distance = "distance"
)

var (
	moments       = []quantity.Dimension{quantity.Moment}
	piecesColumns = []table.Column{
		{Name: "piece", What: "piece"}, {Name: "magnet", What: "magnet"},
		{Name: "m", What: moment, Index: along, Of: moments},
		{Name: "mx", What: moment, Index: 0, Of: moments}, {Name: "my", What: moment, Index: 1, Of: moments}, {Name: "mz", What: moment, Index: 2, Of: moments},
		{Name: "B", What: field, Of: flux}, {Name: "at", What: distance, Of: length}, {Name: "T", What: temperature, Of: warmth},
		{Name: "u", What: uncertainty, Of: []quantity.Dimension{quantity.Moment, quantity.FluxDensity}},
	}
)

// along is the index of a moment that is measured along the mark alone.
const along = 3

// ReadPieces reads a list of measured magnets as CSV text. Its header names the columns: piece, its name; magnet, the part of the design that it
// is for, where pieces differ; m_, or mx_, my_, mz_, the magnetic moment with Am2, mAm2, Wbm, mWbm or uWbm; or B_mT and at_mm, the flux density on
// the axis at a distance from the marked face; T_degC; u_ with the unit of the reading, its standard uncertainty. Notes begin with #. The error
// is mistake.Errors, or what src itself returned.
func ReadPieces(src io.Reader, name string) (*Pieces, error) {
	r := &reader{Reader: table.Reader{File: name, Kind: "list of pieces", Header: "piece,m_Am2,T_degC", Sample: "A1,62.4,21", Takes: piecesColumns}}
	l := &Pieces{File: name}
	names := map[string]int{}
	err := r.Read(src, r.piecesHeader, func(cells []string) (on bool) {
		before := r.Failed()
		p := r.piece(cells)
		if earlier, twice := names[p.Name]; twice && r.Failed() == before {
			r.Fail("piece", fmt.Sprintf("%q is on line %d already", p.Name, earlier), "number every piece, and write the number on it")
		}
		if r.Failed() > before {
			return true
		}
		names[p.Name] = p.Line
		if l.List = append(l.List, p); len(l.List) > MaxPieces {
			r.Fail("", fmt.Sprintf("there are more than %d pieces", MaxPieces), "give them by the box")
			return false
		}
		return true
	})
	if err != nil {
		return nil, fmt.Errorf("reading the pieces %s: %w", name, err)
	}
	if len(l.List) == 0 && r.Failed() == 0 {
		r.Fail("", "there are no pieces below the header", "write a line for each piece, such as "+r.Sample)
	}
	if err := r.Err(); err != nil {
		return nil, err
	}
	l.Notes = r.Notes
	return l, nil
}

// piecesHeader checks that the columns go together: a moment along the mark, or three of it, or a field and its distance.
func (r *reader) piecesHeader(columns []table.Column) bool {
	r.columns = columns
	single, sides := 0, 0
	units := map[string]bool{}
	for _, c := range columns {
		switch {
		case c.What == moment && c.Index == along:
			single++
		case c.What == moment:
			sides++
		}
		if c.What == moment {
			units[c.Unit] = true
		}
	}
	byMoment := single+sides > 0
	switch {
	case !r.has("piece"):
		r.Fail("", "there is no column piece", "number the pieces: "+r.Header)
	case single > 0 && sides > 0 || sides%3 > 0:
		r.Fail("", "the moment is neither one column nor three", "give m_Am2 along the mark, or mx_Am2,my_Am2,mz_Am2")
	case len(units) > 1:
		r.Fail("", "the columns of the moment have different units", "give all moments in one unit")
	case byMoment == r.has(field):
		r.Fail("", "there is not one kind of reading", "give the moment, m_Am2, or the field at a distance, B_mT and at_mm")
	case r.has(field) != r.has(distance):
		r.Fail("", "a field needs its distance, and a distance its field", "give B_mT and at_mm, from the marked face to the active area of the probe")
	}
	for _, c := range columns {
		if c.What == uncertainty && r.Failed() == 0 && (c.Dimension == quantity.Moment) != byMoment {
			r.Fail(c.Key, "is not in a unit of the reading", "give the standard uncertainty in the unit of the moment or the field")
		}
	}
	return r.Failed() == 0
}

// due says what to write in cells that a piece cannot go without.
var due = map[string]string{
	"piece":  "number every piece, and write the number on it",
	moment:   "write the moment in the unit of the column",
	field:    "write the reading in the unit of the column",
	distance: "write the distance from the marked face to the active area in the unit of the column",
}

func (r *reader) piece(cells []string) Piece {
	p := Piece{TemperatureC: math.NaN(), Line: r.Line}
	for i, c := range r.columns {
		cell := cells[i]
		if cell == "" {
			if due[c.What] != "" {
				r.Missing(c, due[c.What])
			}
			continue
		}
		switch c.What {
		case "piece":
			if p.Name = cell; utf8.RuneCountInString(cell) > 40 {
				r.Bad(c, cell, "keep names to 40 letters")
			}
			continue
		case "magnet":
			p.Magnet = cell
			continue
		}
		v, ok := r.number(c, cell)
		switch {
		case !ok:
		case c.What == moment && math.Abs(v) > 1e6:
			r.Bad(c, cell, "it is over 1e6 A m2: check the unit of the column")
		case c.What == moment:
			*[]*float64{&p.Moment.X, &p.Moment.Y, &p.Moment.Z, &p.Moment.Z}[c.Index] = v
			p.HasMoment, p.HasSides = true, p.HasSides || c.Index < 2
		case c.What == field:
			p.FieldT, p.HasField = v, true
		case c.What == distance && !(v >= 0 && v <= 1):
			r.Bad(c, cell, "a distance is from 0 to 1 m; the active area lies some tenths of a millimetre behind the tip of a probe")
		case c.What == distance:
			p.AtM = v
		case c.What == uncertainty:
			p.Uncertainty = v
		case c.What == temperature:
			p.TemperatureC = v
		}
	}
	return p
}
