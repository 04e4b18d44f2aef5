package stock

import (
	"bytes"
	"cmp"
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"math"
	"os"
	"slices"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"

	"polewright/design"
	"polewright/quantity"
	"polewright/spelling"
)

// Limits of a list.
const (
	MaxFileBytes = 4 << 20
	MaxLines     = 10_000
	mostPrice    = 1e9
	mostPieces   = 1_000_000
)

const headerExample = "name,shape,material,length_mm,width_mm,thickness_mm,diameter_mm,inner_mm,mass_kg,price_EUR,available,reference"

// wants lists the sizes that a shape has; all others stay empty.
var wants = map[string][]string{
	Block: {"length", "width", "thickness"},
	Disc:  {"diameter", "thickness"},
	Ring:  {"diameter", "inner", "thickness"},
	Flat:  {"width", "thickness", "length"},
	Round: {"diameter", "length"},
	Tube:  {"diameter", "inner", "length"},
	Wire:  {"diameter", "mass"},
}

var (
	shapes = []string{Block, Disc, Ring, Flat, Round, Tube, Wire}
	sizes  = []string{"length", "width", "thickness", "diameter", "inner", "mass"}
	words  = []string{"name", "shape", "material", "available", "reference"}
)

// field is where a size of a line is kept, and the dimension it has.
func (l *Line) field(size string) (*float64, quantity.Dimension) {
	switch size {
	case "length":
		return &l.LengthM, quantity.Length
	case "width":
		return &l.WidthM, quantity.Length
	case "thickness":
		return &l.ThicknessM, quantity.Length
	case "diameter":
		return &l.DiameterM, quantity.Length
	case "inner":
		return &l.InnerM, quantity.Length
	}
	return &l.MassKg, quantity.Mass
}

// ReadFile reads the list at path as [Read] does.
func ReadFile(path string) (*List, error) {
	refuse := func(what, hint string) (*List, error) {
		return nil, design.Errors{{File: path, What: what, Hint: hint}}
	}
	info, err := os.Stat(path)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return refuse("there is no such file", "check the name; a first list is written by: polewright stock --example > my-stock.csv")
	case err == nil && info.IsDir():
		return refuse("is a folder", "name the CSV file in it")
	}
	file, err := os.Open(path)
	if err != nil {
		return refuse("cannot be opened", "check who may read it")
	}
	defer file.Close()
	return Read(file, path)
}

// Read reads a list of stock as CSV text in UTF-8. Its header names the columns, those with a unit as length_mm or price_EUR: name, shape,
// material and a price, the sizes that the shapes need, and where wanted available (pieces, bars or spools) and reference. Lines that begin
// with # are notes. The error is design.Errors with all mistakes, at most design.MaxErrors; then there is no list.
func Read(from io.Reader, name string) (*List, error) {
	r := &reader{list: &List{File: name, Lines: []Line{}}, names: map[string]int{}}
	text, err := io.ReadAll(io.LimitReader(from, MaxFileBytes+1))
	switch {
	case err != nil:
		r.fail(0, "", "cannot be read: "+err.Error(), "check the disk and who may read it")
	case len(text) > MaxFileBytes:
		r.fail(0, "", "is over 4 MiB long", fmt.Sprintf("a list may have %d lines: is it the right file?", MaxLines))
	case !utf8.Valid(text):
		r.fail(0, "", "is not text in UTF-8", "save the list as plain CSV text in UTF-8")
	default:
		r.read(text)
	}
	if len(r.errs) > 0 {
		slices.SortStableFunc(r.errs, func(a, b *design.Error) int { return cmp.Compare(a.Line, b.Line) })
		return nil, r.errs[:min(len(r.errs), design.MaxErrors)]
	}
	return r.list, nil
}

// column is what a column holds.
type column struct {
	key  string // as written
	what string // a word, a size or "price"
	unit string
}

type reader struct {
	list    *List
	columns []column
	names   map[string]int // and their lines
	errs    design.Errors
}

func (r *reader) fail(line int, key, what, hint string) {
	r.errs = append(r.errs, &design.Error{File: r.list.File, Line: line, Key: key, What: what, Hint: hint})
}

func (r *reader) read(text []byte) {
	c := csv.NewReader(bytes.NewReader(bytes.TrimPrefix(text, []byte("\ufeff"))))
	c.Comment, c.FieldsPerRecord, c.TrimLeadingSpace, c.ReuseRecord = '#', -1, true, true
	for len(r.errs) <= design.MaxErrors {
		cells, err := c.Read()
		if errors.Is(err, io.EOF) {
			break
		}
		var bad *csv.ParseError
		if errors.As(err, &bad) {
			r.fail(bad.Line, "", "has a quotation mark astray", `put text with commas in quotes, "so, for example", and write inches as a number with the column in inches: width_in`)
			return
		}
		if err != nil {
			r.fail(0, "", "cannot be read: "+err.Error(), "")
			return
		}
		line, _ := c.FieldPos(0)
		for i := range cells {
			cells[i] = strings.TrimSpace(cells[i])
		}
		switch {
		case !slices.ContainsFunc(cells, func(s string) bool { return s != "" }): // a row of a table left empty
		case r.columns == nil:
			if r.header(cells, line); r.columns == nil {
				return
			}
		case len(r.list.Lines) == MaxLines:
			r.fail(line, "", fmt.Sprintf("over %d lines", MaxLines), "keep what you would build from")
			return
		default:
			r.line(cells, line)
		}
	}
	if r.columns == nil && len(r.errs) == 0 {
		r.fail(0, "", "there is no header", "begin with the columns and their units: "+headerExample)
	} else if len(r.list.Lines) == 0 && len(r.errs) == 0 {
		r.fail(0, "", "there is nothing in the list", "write a line for each magnet, bar and spool; an example: polewright stock --example")
	}
}

// header reads the names of the columns. r.columns stays nil if there is a mistake in them.
func (r *reader) header(cells []string, line int) {
	if len(cells) == 1 && strings.ContainsAny(cells[0], ";\t") {
		r.fail(line, "", "the columns are not divided by commas", "save the list with commas between the columns and points in decimals")
		return
	}
	before := len(r.errs)
	var columns []column
	seen := map[string]string{}
	for _, key := range cells {
		c := column{key: shortened(key)}
		what, unit, hasUnit := strings.Cut(key, "_")
		c.what, c.unit = what, unit
		switch {
		case key == "":
			r.fail(line, "", fmt.Sprintf("column %d has no name", len(columns)+1), "name it, or take the column out; "+headerExample)
		case what == "price":
			if !hasUnit {
				r.fail(line, c.key, "a price without a currency", "write the column with its currency: price_EUR")
			} else if !quantity.IsCurrency(unit) {
				r.fail(line, c.key, fmt.Sprintf("%q is no code of a currency", shortened(unit)), "write the three capital letters of ISO 4217: price_EUR")
			}
			r.list.Currency = unit
		case slices.Contains(sizes, what):
			_, d := new(Line).field(what)
			units := quantity.Units(d)
			if !hasUnit {
				r.fail(line, c.key, "has no unit", fmt.Sprintf("write %s_%s; there are %s", what, units[0], strings.Join(units, ", ")))
			} else if _, err := quantity.Parse("1 "+unit, d); err != nil {
				r.fail(line, c.key, fmt.Sprintf("%q is no unit of %s", shortened(unit), d), fmt.Sprintf("write %s_%s; there are %s", what, units[0], strings.Join(units, ", ")))
			}
		case !slices.Contains(words, key):
			known := strings.Split(headerExample, ",")
			hint := "the columns are " + headerExample
			if best := spelling.Nearest(key, known); best != "" {
				hint = fmt.Sprintf("did you mean %s? %s", best, hint)
			}
			r.fail(line, c.key, "unknown column", hint)
		}
		if first, twice := seen[c.what]; twice && key != "" {
			r.fail(line, c.key, "gives the "+c.what+" again, after "+first, "keep one of the two columns")
		}
		seen[c.what] = c.key
		columns = append(columns, c)
	}
	for _, must := range []string{"name", "shape", "material", "price"} {
		if _, ok := seen[must]; !ok && len(r.errs) == before {
			r.fail(line, "", "there is no column "+must, "the columns are "+headerExample)
		}
	}
	if len(r.errs) == before {
		r.columns = columns
	}
}

// line reads a line and keeps it if there is no mistake in it.
func (r *reader) line(cells []string, at int) {
	before := len(r.errs)
	if extra := len(cells) - len(r.columns); extra > 0 {
		r.fail(at, "", fmt.Sprintf("%d values for %d columns", len(cells), len(r.columns)), `one comma between values, a point in decimals, and "quotes" round text with commas`)
		return
	}
	given := map[string]string{}
	keys := map[string]column{}
	for i, c := range r.columns {
		keys[c.what] = c
		if i < len(cells) { // the last values may be left out, with their commas
			given[c.what] = cells[i]
		}
	}
	l := Line{Name: given["name"], Shape: given["shape"], Reference: given["reference"], Line: at}
	r.words(&l, given["material"])
	for _, size := range sizes {
		if cell, c := given[size], keys[size]; wants[l.Shape] != nil {
			due := slices.Contains(wants[l.Shape], size)
			switch {
			case due && c.what == "":
				r.fail(at, "", fmt.Sprintf("a %s needs a column for its %s", l.Shape, size), "add the column with its unit; a "+l.Shape+" has "+strings.Join(wants[l.Shape], ", "))
			case due && cell == "":
				r.fail(at, c.key, "is missing", "a "+l.Shape+" has "+strings.Join(wants[l.Shape], ", "))
			case due:
				r.size(&l, size, cell, c)
			case cell != "":
				r.fail(at, c.key, fmt.Sprintf("%q: a %s has none", shortened(cell), l.Shape), "leave it empty; a "+l.Shape+" has "+strings.Join(wants[l.Shape], ", "))
			}
		}
	}
	r.price(&l, given, keys)
	if len(r.errs) == before && r.sound(&l) {
		r.list.Lines = append(r.list.Lines, l)
	}
}

// words checks name, shape, material and reference.
func (r *reader) words(l *Line, name string) {
	odd := func(c rune) bool { return !unicode.IsPrint(c) }
	switch first, twice := r.names[l.Name]; {
	case l.Name == "":
		r.fail(l.Line, "name", "is missing", "give each line a name of its own")
	case utf8.RuneCountInString(l.Name) > 80 || strings.ContainsFunc(l.Name, odd):
		r.fail(l.Line, "name", fmt.Sprintf("%q: over 80 letters, or signs that do not print", shortened(l.Name)), "give it a short name")
	case twice:
		r.fail(l.Line, "name", fmt.Sprintf("%q is used twice; first on line %d", l.Name, first), "give each line a name of its own")
	default:
		r.names[l.Name] = l.Line
	}
	if utf8.RuneCountInString(l.Reference) > 200 || strings.ContainsFunc(l.Reference, odd) {
		r.fail(l.Line, "reference", fmt.Sprintf("%q: over 200 letters, or signs that do not print", shortened(l.Reference)), "shorten it")
	}
	if wants[l.Shape] == nil {
		what, hint := fmt.Sprintf("%q is no shape of stock", shortened(l.Shape)), "there are "+strings.Join(shapes, ", ")
		if l.Shape == "" {
			what = "is missing"
		} else if best := spelling.Nearest(l.Shape, shapes); best != "" {
			hint = fmt.Sprintf("did you mean %s? %s", best, hint)
		}
		r.fail(l.Line, "shape", what, hint)
		return
	}
	if name == "" {
		r.fail(l.Line, "material", "is missing", "write the grade of a magnet, such as N42, or the metal, such as steel-1018, annealed-wire, aluminium")
		return
	}
	known, density, err := substance(l.Shape, name)
	if err != nil {
		what, hint, _ := strings.Cut(err.Error(), "; ")
		hint, _, _ = strings.Cut(hint, "; or give") // numbers and curves of one's own are for a design file
		r.fail(l.Line, "material", what, hint)
		return
	}
	l.Material, l.MassKg = known, density // times the volume, which is known later
}

// number reads a plain number of at least zero.
func number(cell string) (float64, bool) {
	x, err := strconv.ParseFloat(cell, 64)
	return x, err == nil && x >= 0 && !math.IsInf(x, 0) && !strings.ContainsAny(cell, "xX_pP")
}

func (r *reader) size(l *Line, size, cell string, c column) {
	to, d := l.field(size)
	fail := func(what, hint string) { r.fail(l.Line, c.key, fmt.Sprintf("%q: %s", shortened(cell), what), hint) }
	x, ok := number(cell)
	v, err := quantity.Parse(cell+" "+c.unit, d)
	switch {
	case !ok:
		fail("no number", fmt.Sprintf("write the number alone, with a point in decimals; the unit, %s, stands in the header", c.unit))
	case x == 0:
		fail("zero", "write a size above zero, or take the line out")
	case err != nil || d == quantity.Length && (v < 1e-5 || v > design.MaxLengthM) || d == quantity.Mass && (v < 1e-6 || v > 1e5):
		fail("out of all proportion", "a length lies between 0.01 mm and 100 m, a spool between 1 mg and 100 t: check the unit")
	default:
		*to = v
	}
}

func (r *reader) price(l *Line, given map[string]string, keys map[string]column) {
	cell, key := given["price"], keys["price"].key
	x, ok := number(cell)
	switch {
	case cell == "":
		r.fail(l.Line, key, "is missing", "write the price of a piece, bar or spool; 0 for what you have")
	case !ok || x > mostPrice:
		r.fail(l.Line, key, fmt.Sprintf("%q: no price", shortened(cell)), "write a number of zero or more, with a point in decimals and no sign of the currency, which stands in the header")
	}
	l.Price = x
	cell = given["available"]
	if cell == "" {
		return
	}
	n, err := strconv.Atoi(cell)
	if err != nil || n < 0 || n > mostPieces {
		r.fail(l.Line, "available", fmt.Sprintf("%q: no number of pieces", shortened(cell)), "write a whole number of zero or more; leave it empty for as many as wanted")
	}
	l.Limited, l.Available = true, n
}

// sound checks the sizes against each other and fills in the mass.
func (r *reader) sound(l *Line) bool {
	density := l.MassKg
	switch {
	case (l.Shape == Ring || l.Shape == Tube) && l.DiameterM-l.InnerM < 2e-5:
		r.fail(l.Line, "inner", "is not below the outer diameter", "exchange the two, or write "+map[string]string{Ring: Disc, Tube: Round}[l.Shape])
	case l.Shape == Flat && l.ThicknessM > l.WidthM:
		r.fail(l.Line, "thickness", "is above the width", "exchange the two: the width of a bar is its wider side")
	case l.Shape == Wire: // has its own
		return true
	default:
		l.MassKg = density * l.volume()
		return true
	}
	return false
}

// shortened keeps what an error quotes to a line.
func shortened(s string) string {
	if r := []rune(s); len(r) > 40 {
		return string(r[:39]) + "…"
	}
	return s
}
