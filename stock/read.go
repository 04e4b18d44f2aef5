package stock

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"slices"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"

	"polewright/design"
	"polewright/mistake"
	"polewright/quantity"
	"polewright/spelling"
	"polewright/table"
)

// Limits of a list.
const (
	MaxFileBytes = 4 << 20
	MaxLines     = 10_000
	mostPrice    = 1e9
	mostPieces   = 1_000_000
)

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
	shapes  = []string{Block, Disc, Ring, Flat, Round, Tube, Wire}
	sizes   = []string{"length", "width", "thickness", "diameter", "inner", "mass"}
	columns = func() (list []table.Column) {
		for _, name := range []string{"name", "shape", "material", "available", "reference"} {
			list = append(list, table.Column{Name: name, What: name})
		}
		for _, name := range sizes {
			_, d := new(Line).field(name)
			list = append(list, table.Column{Name: name, What: name, Of: []quantity.Dimension{d}})
		}
		return append(list, table.Column{Name: "price", What: "price", Money: true})
	}()
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
		return nil, mistake.Errors{{File: path, What: what, Hint: hint}}
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
// with # are notes. The error is mistake.Errors with all mistakes, at most mistake.Most; then there is no list.
func Read(from io.Reader, name string) (*List, error) {
	r := &reader{list: &List{File: name, Lines: []Line{}}, names: map[string]int{}}
	r.Reader = table.Reader{File: name, Kind: "list of stock", Takes: columns, Sample: "block 20,block,N42,20,20,10,,,,3.50",
		Header: "name,shape,material,length_mm,width_mm,thickness_mm,diameter_mm,inner_mm,mass_kg,price_EUR,available,reference"}
	text, err := io.ReadAll(io.LimitReader(from, MaxFileBytes+1))
	switch {
	case err != nil:
		r.Fail("", "cannot be read: "+err.Error(), "check the disk and who may read it")
	case len(text) > MaxFileBytes:
		r.Fail("", "is over 4 MiB long", fmt.Sprintf("a list may have %d lines: is it the right file?", MaxLines))
	default:
		r.Read(bytes.NewReader(text), r.header, func(cells []string) bool {
			if len(r.list.Lines) == MaxLines {
				r.Fail("", fmt.Sprintf("over %d lines", MaxLines), "keep what you would build from")
				return false
			}
			r.line(cells)
			return true
		})
	}
	if len(r.list.Lines) == 0 && r.Failed() == 0 {
		r.Fail("", "there is nothing in the list", "write a line for each magnet, bar and spool; an example: polewright stock --example")
	}
	if err := r.Err(); err != nil {
		return nil, err
	}
	return r.list, nil
}

type reader struct {
	table.Reader
	list    *List
	columns []table.Column
	names   map[string]int // and their lines
}

func (r *reader) header(columns []table.Column) bool {
	r.columns = columns
	for _, must := range []string{"name", "shape", "material", "price"} {
		i := slices.IndexFunc(columns, func(c table.Column) bool { return c.Name == must })
		if i < 0 {
			r.Fail("", "there is no column "+must, "the columns are "+r.Header)
			return false
		}
		if must == "price" {
			r.list.Currency = columns[i].Unit
		}
	}
	return true
}

// line reads a line and keeps it if there is no mistake in it.
func (r *reader) line(cells []string) {
	before := r.Failed()
	given := map[string]string{}
	keys := map[string]table.Column{}
	for i, c := range r.columns {
		keys[c.Name], given[c.Name] = c, cells[i]
	}
	l := Line{Name: given["name"], Shape: given["shape"], Reference: given["reference"], Line: r.Line}
	r.words(&l, given["material"])
	for _, size := range sizes {
		if cell, c := given[size], keys[size]; wants[l.Shape] != nil {
			due := slices.Contains(wants[l.Shape], size)
			switch {
			case due && c.Name == "":
				r.Fail("", fmt.Sprintf("a %s needs a column for its %s", l.Shape, size), "add the column with its unit; a "+l.Shape+" has "+strings.Join(wants[l.Shape], ", "))
			case due && cell == "":
				r.Missing(c, "a "+l.Shape+" has "+strings.Join(wants[l.Shape], ", "))
			case due:
				r.size(&l, cell, c)
			case cell != "":
				r.Fail(c.Key, fmt.Sprintf("%q: a %s has none", mistake.Quote(cell), l.Shape), "leave it empty; a "+l.Shape+" has "+strings.Join(wants[l.Shape], ", "))
			}
		}
	}
	r.price(&l, given, keys["price"])
	if r.Failed() == before && r.sound(&l) {
		r.list.Lines = append(r.list.Lines, l)
	}
}

// words checks name, shape, material and reference.
func (r *reader) words(l *Line, name string) {
	odd := func(c rune) bool { return !unicode.IsPrint(c) }
	switch first, twice := r.names[l.Name]; {
	case l.Name == "":
		r.Fail("name", "is missing", "give each line a name of its own")
	case utf8.RuneCountInString(l.Name) > 80 || strings.ContainsFunc(l.Name, odd):
		r.Fail("name", fmt.Sprintf("%q: over 80 letters, or signs that do not print", mistake.Quote(l.Name)), "give it a short name")
	case twice:
		r.Fail("name", fmt.Sprintf("%q is used twice; first on line %d", l.Name, first), "give each line a name of its own")
	default:
		r.names[l.Name] = l.Line
	}
	if utf8.RuneCountInString(l.Reference) > 200 || strings.ContainsFunc(l.Reference, odd) {
		r.Fail("reference", fmt.Sprintf("%q: over 200 letters, or signs that do not print", mistake.Quote(l.Reference)), "shorten it")
	}
	if wants[l.Shape] == nil {
		what, hint := fmt.Sprintf("%q is no shape of stock", mistake.Quote(l.Shape)), "there are "+strings.Join(shapes, ", ")
		if l.Shape == "" {
			what = "is missing"
		} else {
			hint = spelling.Meant(l.Shape, shapes, hint)
		}
		r.Fail("shape", what, hint)
		return
	}
	if name == "" {
		r.Fail("material", "is missing", "write the grade of a magnet, such as N42, or the metal, such as steel-1018, annealed-wire, aluminium")
		return
	}
	known, density, err := substance(l.Shape, name)
	if err != nil {
		what, hint := mistake.Said(err)
		hint, _, _ = strings.Cut(hint, "; or give") // numbers and curves of one's own are for a design file
		r.Fail("material", what, hint)
		return
	}
	l.Material, l.MassKg = known, density // times the volume, which is known later
}

func (r *reader) size(l *Line, cell string, c table.Column) {
	to, d := l.field(c.Name)
	v, ok := r.Number(c, cell)
	switch {
	case !ok:
	case v == 0:
		r.Bad(c, cell, "write a size above zero, or take the line out")
	case d == quantity.Length && !(v >= 1e-5 && v <= design.MaxLengthM) || d == quantity.Mass && !(v >= 1e-6 && v <= 1e5):
		r.Bad(c, cell, "a length lies between 0.01 mm and 100 m, a spool between 1 mg and 100 t: check the unit")
	default:
		*to = v
	}
}

func (r *reader) price(l *Line, given map[string]string, c table.Column) {
	var err error
	cell := given["price"]
	l.Price, err = strconv.ParseFloat(cell, 64)
	switch {
	case cell == "":
		r.Missing(c, "write the price of a piece, bar or spool; 0 for what you have")
	case err != nil || !(l.Price >= 0 && l.Price <= mostPrice) || strings.ContainsAny(cell, "xX"):
		r.Bad(c, cell, "write a number of zero or more, with a point in decimals and no sign of the currency, which stands in the header")
	}
	cell = given["available"]
	if cell == "" {
		return
	}
	n, err := strconv.Atoi(cell)
	if err != nil || n < 0 || n > mostPieces {
		r.Fail("available", fmt.Sprintf("%q is no number of pieces", mistake.Quote(cell)), "write a whole number of zero or more; leave it empty for as many as wanted")
	}
	l.Limited, l.Available = true, n
}

// sound checks the sizes against each other and fills in the mass.
func (r *reader) sound(l *Line) bool {
	density := l.MassKg
	switch {
	case (l.Shape == Ring || l.Shape == Tube) && l.DiameterM-l.InnerM < 2e-5:
		r.Fail("inner", "is not below the outer diameter", "exchange the two, or write "+map[string]string{Ring: Disc, Tube: Round}[l.Shape])
	case l.Shape == Flat && l.ThicknessM > l.WidthM:
		r.Fail("thickness", "is above the width", "exchange the two: the width of a bar is its wider side")
	case l.Shape == Wire: // has its own
		return true
	default:
		l.MassKg = density * l.volume()
		return true
	}
	return false
}
