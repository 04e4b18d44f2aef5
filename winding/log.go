package winding

import (
	"cmp"
	"fmt"
	"io"
	"math"
	"strconv"

	"polewright/quantity"
	"polewright/table"
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

// Bounds of a log.
const (
	maxReadings = 10_000
	maxField    = 3 // T
)

// What columns hold.
const (
	allTurns    = "turns"
	fullLayer   = "layer"
	gapField    = "field"
	uncertainty = "uncertainty"
	outerSize   = "outer size"
)

var (
	flux       = []quantity.Dimension{quantity.FluxDensity}
	logColumns = []table.Column{
		{Name: "turns", What: allTurns}, {Name: "layer", What: fullLayer},
		{Name: "B", What: gapField, Of: flux}, {Name: "Bx", What: gapField, Of: flux}, {Name: "By", What: gapField, Of: flux}, {Name: "Bz", What: gapField, Of: flux},
		{Name: "u", What: uncertainty, Of: flux}, {Name: "outer", What: outerSize, Of: []quantity.Dimension{quantity.Length}},
	}
)

// logReader reads a winding log.
type logReader struct {
	table.Reader
	columns []table.Column
	count   string // the column that counts, as written
	lay     lay
}

// ReadLog reads a winding log as CSV text. Its header names the columns with their units: turns (all so far) or layer (the last full one), 0
// before the first turn; the gap field, B_T, B_mT, B_G or B_kG, also Bx_, By_, Bz_; and, where wanted, u_T or u_mT, its uncertainty, and outer_mm or
// outer_in, the outside size along the core's longer side. Lines that begin with # are notes, and so are empty ones. Turns rise from line to
// line. The plan tells how many turns a layer takes. The error is mistake.Errors, what src itself returned, or that of the plan.
func ReadLog(src io.Reader, name string, p Plan) ([]Reading, error) {
	l, err := p.lay()
	if err != nil {
		return nil, err
	}
	r := &logReader{Reader: table.Reader{File: name, Kind: "winding log", Header: "layer,B_mT or turns,B_T,outer_mm", Sample: "3,652.1", Takes: logColumns}, lay: l}
	var list []Reading
	err = r.Read(src, r.header, func(cells []string) (on bool) {
		q, ok := r.reading(cells)
		switch {
		case !ok:
		case len(list) == maxReadings:
			r.Fail("", fmt.Sprintf("there are more than %d readings", maxReadings), "keep one for each layer")
			return false
		case len(list) > 0 && q.Turns <= list[len(list)-1].Turns:
			last := list[len(list)-1]
			r.Fail(r.count, fmt.Sprintf("%d turns come after the %d of line %d", q.Turns, last.Turns, last.Line),
				"give all turns so far, not those of one layer, one reading for each count; when turns came off again, delete their lines")
		default:
			list = append(list, q)
		}
		return true
	})
	if err != nil {
		return nil, fmt.Errorf("reading the winding log %s: %w", name, err)
	}
	if err := r.Err(); err != nil {
		return nil, err
	}
	return list, nil
}

func (r *logReader) header(columns []table.Column) bool {
	r.columns = columns
	keys := map[string]string{}
	for _, c := range columns {
		keys[c.What] = c.Key
	}
	r.count = cmp.Or(keys[allTurns], keys[fullLayer])
	switch {
	case keys[allTurns] != "" && keys[fullLayer] != "":
		r.Fail(keys[fullLayer], "the log counts layers and turns", "keep one of the two columns; turns is the surer one")
	case r.count == "":
		r.Fail("", "there is no column of turns or layers", "name the columns with their units: "+r.Header)
	case keys[gapField] == "":
		r.Fail("", "there is no column of the field", "name the columns with their units: "+r.Header)
	default:
		return true
	}
	return false
}

func (r *logReader) reading(cells []string) (q Reading, ok bool) {
	before := r.Failed()
	q.Line = r.Line
	for i, c := range r.columns {
		cell := cells[i]
		if cell == "" && (c.What == outerSize || c.What == uncertainty) {
			continue
		}
		switch c.What {
		case allTurns, fullLayer:
			n, err := strconv.Atoi(cell)
			if err != nil || n < 0 || n > maxTurns {
				r.Bad(c, cell, fmt.Sprintf("write a whole number from 0 to %d", maxTurns))
				continue
			}
			if q.Turns = n; c.What == fullLayer {
				q.LayerDone = n
				if q.Turns = (n+1)/2*r.lay.odd + n/2*r.lay.even; q.Turns > maxTurns {
					r.Bad(c, cell, "write the number of full layers so far")
				}
			}
			continue
		}
		to, most, hint := &q.OuterM, maxSize, "write the number in "+c.Unit+", as a caliper reads it over the last layer"
		if c.What != outerSize {
			to, most, hint = &q.FieldT, maxField, fmt.Sprintf("write the number in %s, above 0 and up to %d T; when the probe reads below 0, turn it round", c.Unit, maxField)
		}
		if c.What == uncertainty {
			to = &q.UncertT
		}
		v, ok := r.Number(c, cell)
		if ok && !(v > 0 && v <= most) {
			r.Bad(c, cell, hint)
		}
		*to = v
	}
	return q, r.Failed() == before
}

// outer is the outside size along the core's longer side at a packing.
func (p Plan) outer(turns int, packing float64) float64 {
	return math.Max(p.CoreX, p.CoreY) + 2*float64(turns)*wireArea(p.WireDiameter)/(packing*p.Width)
}
