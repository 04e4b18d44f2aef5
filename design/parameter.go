package design

import (
	"bytes"
	"fmt"
	"math"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"unicode"

	"polewright/mistake"
	"polewright/quantity"
	"polewright/spelling"
)

// This file finds the parameters of a design file by their paths, and changes one in the text without touching anything else.

// Parameter is a value of a design file that can be varied.
type Parameter struct {
	// Path is what Set takes: table, part, key, place in a list, with dots between: "layout.gap", "magnet.upper.size.z", "target.field". A part
	// may be called by its place too, counted from 0, and so may an entry of a list: "steel.0.material", "magnet.upper.size.2".
	Path      string
	Kind      Kind
	Dimension quantity.Dimension // of a Quantity
	Value     string             // as written, without quotes; of a key that is left out its default, "" when it has none
	Given     bool               // whether the file has it; Set adds one that it has not
	Line      int                // of the value, or of its table
}

// Kind is what stands at a Parameter.
type Kind int

// The kinds of parameters.
const (
	Quantity Kind = iota // a number with a unit, in quotes
	Number               // a plain number
	Text                 // a word in quotes: a grade, a material
	Amount               // an amount with its currency, in quotes; no Parameter
	Group                // a table; no Parameter
	Groups               // tables with two brackets, of which there may be many; no Parameter
)

// Unit is the unit of the present value, or the customary one where there is no value; "" for what has none.
func (p Parameter) Unit() string {
	if p.Kind != Quantity {
		return ""
	}
	if _, unit, ok := quantity.Split(p.Value); ok {
		return unit
	}
	return quantity.Units(p.Dimension)[0]
}

// slot is a Parameter and where it stands.
type slot struct {
	Parameter
	also   []string // its other paths
	at     *value   // nil when it is left out
	table  *table
	key    string // in table
	insert string // what Set writes for a key that is left out; %s stands for the value
}

// fixed are keys by which other parts of the file or people know things: changing one varies nothing.
var fixed = []string{"format", "title", "name", "between", "part"}

// placeIn names the entry i of a list of n: x, y, z in space.
func placeIn(i, n int) string {
	if n == 3 {
		return string("xyz"[i])
	}
	return strconv.Itoa(i)
}

func (f fields) alias(name string) string {
	if f.also == "" {
		return name
	}
	return f.also + "." + name
}

// note keeps where a value stands; name may have a place in a list, "size.z".
func (f fields) note(v *value, name string, kind Kind, d quantity.Dimension) {
	if f.r.noting && v.to > v.from {
		f.r.slots = append(f.r.slots, slot{Parameter: Parameter{Kind: kind, Dimension: d, Value: v.text, Given: true, Line: v.line}, at: v}.named(f, name))
	}
}

// absent keeps where a key could stand; otherwise is its default. One that must be there is a mistake of the file.
func (f fields) absent(name string, kind Kind, d quantity.Dimension, otherwise string, how rule) {
	f.learn(Key{Name: name, Kind: asked, Default: otherwise})
	if f.r.noting && how&must == 0 {
		f.r.slots = append(f.r.slots, slot{Parameter: Parameter{Kind: kind, Dimension: d, Value: otherwise, Line: f.t.line}, table: f.t, key: name, insert: "%s"}.named(f, name))
	}
}

// absentVector is absent for three quantities, which are zero where they are left out.
func (f fields) absentVector(name string, d quantity.Dimension, how rule) {
	if !f.r.noting || how&must != 0 {
		return
	}
	zero := "0 " + quantity.Units(d)[0]
	for i := range 3 {
		list := []string{strconv.Quote(zero), strconv.Quote(zero), strconv.Quote(zero)}
		list[i] = "%s"
		f.r.slots = append(f.r.slots, slot{Parameter: Parameter{Kind: Quantity, Dimension: d, Value: zero, Line: f.t.line}, table: f.t, key: name,
			insert: "[" + strings.Join(list, ", ") + "]"}.named(f, name+"."+placeIn(i, 3)))
	}
}

// named gives a slot its paths.
func (s slot) named(f fields, name string) slot {
	s.Path = f.key(name)
	tables := []string{f.path, f.also}
	if n := f.t.values["name"]; f.path != f.also && n != nil { // the path of messages is shortened, or has no name at all
		kind, _, _ := strings.Cut(f.also, ".")
		s.Path = kind + "." + n.text + "." + name
		tables[0] = kind + "." + n.text
	} else if f.path != f.also {
		s.Path = f.also + "." + name
		tables[0] = f.also
	}
	names := []string{name}
	if key, place, ok := strings.Cut(name, "."); ok {
		if i := strings.Index("xyz", place); i >= 0 {
			names = append(names, key+"."+strconv.Itoa(i))
		}
	}
	for _, t := range tables {
		for _, n := range names {
			if t != "" {
				n = t + "." + n
			}
			if n != s.Path && !slices.Contains(s.also, n) {
				s.also = append(s.also, n)
			}
		}
	}
	return s
}

// slotsOf finds all parameters. A file with mistakes that are not of grammar has those that could be read.
func slotsOf(text []byte) ([]slot, error) {
	r := newReader("")
	r.noting = true
	r.read(text)
	var list []slot
	seen := map[string]bool{}
	for _, s := range r.slots {
		if !seen[s.Path] && !slices.Contains(fixed, s.Path[strings.LastIndex(s.Path, ".")+1:]) {
			seen[s.Path] = true
			list = append(list, s)
		}
	}
	if len(list) == 0 {
		return nil, r.errs.Err()
	}
	return list, nil
}

// Editor makes many texts from one: the same design file with other values.
type Editor struct {
	head, body []byte // a byte order mark, and what follows
	slots      []slot
}

// NewEditor finds the parameters of the text of a design file. The error is Errors: text of which nothing can be read. Mistakes of other kinds
// are Read's to find.
func NewEditor(text []byte) (*Editor, error) {
	body := bytes.TrimPrefix(text, []byte(bom))
	slots, err := slotsOf(body)
	return &Editor{text[:len(text)-len(body)], body, slots}, err
}

const bom = "\ufeff"

// Parameters lists what can be varied, in the order in which the file is read.
func (e *Editor) Parameters() []Parameter {
	list := make([]Parameter, len(e.slots))
	for i, s := range e.slots {
		list[i] = s.Parameter
	}
	return list
}

// Find is the parameter with a path. The error is a *mistake.Error.
func (e *Editor) Find(path string) (Parameter, error) {
	s, err := e.at(path)
	if err != nil {
		return Parameter{}, err
	}
	return s.Parameter, nil
}

func (e *Editor) at(path string) (*slot, error) {
	path = strings.TrimSpace(path)
	for i := range e.slots {
		if e.slots[i].Path == path {
			return &e.slots[i], nil
		}
	}
	for i := range e.slots {
		if slices.Contains(e.slots[i].also, path) {
			return &e.slots[i], nil
		}
	}
	names := make([]string, len(e.slots))
	for i, s := range e.slots {
		names[i] = s.Path
	}
	hint := "paths are such as layout.gap, magnet.upper.size.z, magnet.upper.grade, steel.0.material"
	whole := func(n string) bool { return strings.HasPrefix(n, path+".") }
	if best := spelling.Nearest(path, names); best != "" && !slices.ContainsFunc(names, whole) {
		hint = fmt.Sprintf("did you mean %q?", best)
	} else if inside := within(path, names); len(inside) > 0 {
		hint = "there are " + strings.Join(inside, ", ")
	}
	return nil, &mistake.Error{Key: shortened(path), What: "the design has no such parameter", Hint: hint}
}

// within lists the first few paths that begin as the given one does, up to a dot.
func within(path string, names []string) (list []string) {
	const few = 8
	for ; path != "" && len(list) == 0; path = path[:max(0, strings.LastIndex(path, "."))] {
		for _, n := range names {
			if strings.HasPrefix(n, path+".") && len(list) < few {
				list = append(list, n)
			}
		}
	}
	return list
}

// Change is a parameter and the value that it takes.
type Change struct{ Path, Value string }

// splice is a stretch of bytes and what stands there afterwards.
type splice struct {
	from, to int
	written  string
}

// Set is the text with parameters changed; every other byte stays. Values are those of the function Set, and so are errors.
func (e *Editor) Set(changes ...Change) ([]byte, error) {
	var list []splice
	for i, c := range changes {
		s, err := e.at(c.Path)
		if err != nil {
			return nil, err
		}
		if s.Given && s.Value == c.Value {
			continue
		}
		written, err := s.written(c.Value)
		if err != nil {
			return nil, err
		}
		switch {
		case s.Given:
			list = append(list, splice{s.at.from, s.at.to, written})
		case i > 0 && len(list) > 0: // where it goes may depend on what was added before
			text, err := e.Set(changes[:i]...)
			if err != nil {
				return nil, err
			}
			next, err := NewEditor(text)
			if err != nil {
				return nil, err
			}
			return next.Set(changes[i:]...)
		default:
			at, written, err := s.added(e.body, written)
			if err != nil {
				return nil, err
			}
			list = append(list, splice{at, at, written})
		}
	}
	slices.SortStableFunc(list, func(a, b splice) int { return a.from - b.from })
	out := slices.Clone(e.head)
	last := 0
	for _, p := range list {
		if p.from < last {
			return nil, &mistake.Error{Key: changes[0].Path, What: "is set twice at once", Hint: "give each parameter one value"}
		}
		out = append(append(out, e.body[last:p.from]...), p.written...)
		last = p.to
	}
	return append(out, e.body[last:]...), nil
}

// Parameters lists what can be varied in the text of a design file, in the order in which it is read. The error is that of NewEditor.
func Parameters(text []byte) ([]Parameter, error) {
	e, err := NewEditor(text)
	if err != nil {
		return nil, err
	}
	return e.Parameters(), nil
}

// Find is the parameter with a path. The error is a *mistake.Error or that of NewEditor.
func Find(text []byte, path string) (Parameter, error) {
	e, err := NewEditor(text)
	if err != nil {
		return Parameter{}, err
	}
	return e.Find(path)
}

// Set is the text of a design file with one parameter changed; every other byte stays. The value is written as a person would say it, "16 mm",
// "1500", "N45", without quotes. A key that is left out and may be there is added to its table. The error is a *mistake.Error or that of
// NewEditor. Whether the new design can be built is for Read to say.
func Set(text []byte, path, value string) ([]byte, error) {
	e, err := NewEditor(text)
	if err != nil {
		return nil, err
	}
	return e.Set(Change{path, value})
}

var tomlNumber = regexp.MustCompile(`^[-+]?(0|[1-9][0-9]*)(\.[0-9]+)?$`)

// written is a value as it stands in the file.
func (s slot) written(value string) (string, error) {
	value = strings.TrimSpace(value)
	fail := func(what, hint string) (string, error) {
		return "", &mistake.Error{Key: s.Path, What: shortened(strconv.Quote(value)) + ": " + what, Hint: hint}
	}
	switch s.Kind {
	case Quantity:
		if _, err := quantity.Parse(value, s.Dimension); err != nil {
			what, hint := mistake.Said(err)
			return "", &mistake.Error{Key: s.Path, What: what, Hint: hint}
		}
	case Number:
		x, err := strconv.ParseFloat(value, 64)
		if err != nil || math.IsNaN(x) || math.IsInf(x, 0) {
			return fail("no plain number", "it takes a number without a unit")
		}
		if tomlNumber.MatchString(value) {
			return value, nil
		}
		return strconv.FormatFloat(x, 'f', -1, 64), nil
	}
	if value == "" {
		return fail("nothing is given", "write a word, such as the present "+strconv.Quote(s.Value))
	}
	if strings.ContainsFunc(value, func(c rune) bool { return !unicode.IsPrint(c) || c == unicode.ReplacementChar }) {
		return fail("has signs that do not print", "write letters, digits and spaces")
	}
	return `"` + strings.NewReplacer(`\`, `\\`, `"`, `\"`).Replace(value) + `"`, nil
}

// added is where a key that is left out goes, and what is written there.
func (s slot) added(text []byte, value string) (at int, written string, err error) {
	written = s.key + " = " + strings.Replace(s.insert, "%s", value, 1)
	at = s.table.end
	switch {
	case at <= 0 || at > len(text):
		return 0, "", &mistake.Error{Key: s.Path, What: "is left out, and its table is written with dots in its keys", Hint: "add " + written + " by hand"}
	case s.table.inline:
		if len(s.table.keys) > 0 {
			return at, ", " + written, nil
		}
		return at, " " + written + " ", nil
	}
	begin := bytes.LastIndexByte(text[:at], '\n') + 1
	indent := text[begin : begin+len(text[begin:at])-len(bytes.TrimLeft(text[begin:at], " \t"))]
	end := bytes.IndexByte(text[at:], '\n')
	if end < 0 {
		return len(text), "\n" + string(indent) + written, nil
	}
	at += end
	if at > 0 && text[at-1] == '\r' {
		return at - 1, "\r\n" + string(indent) + written, nil
	}
	return at, "\n" + string(indent) + written, nil
}
