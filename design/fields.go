package design

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"github.com/pelletier/go-toml/v2/unstable"
	"gonum.org/v1/gonum/spatial/r3"

	"polewright/mistake"
	"polewright/quantity"
	"polewright/spelling"
)

// fields reads the keys of one table. A mistake is reported to the reader, and the method returns false; it returns false without a report when a key
// that may be left out is not there.
type fields struct {
	r    *reader
	t    *table
	path string // "magnet.upper"
	also string // the same with the place in the list, from 0: "magnet.0"
}

// rule says what a number must be.
type rule int

const (
	must     rule = 1 << iota // may not be left out
	positive                  // a size: leastSize or more
	notBelow0
)

// leastSize is the smallest size of a part in metres: a tenth of the thickness of a hair, and ten times the depth that parts may share.
const leastSize = 10e-6

func (f fields) key(name string) string {
	if f.path == "" {
		return name
	}
	return f.path + "." + name
}

func (f fields) fail(line int, name, what, hint string) {
	f.r.fail(line, f.key(name), what, hint)
}

// refuse reports what another package says of the value of a key.
func (f fields) refuse(name string, err error) {
	what, hint := mistake.Said(err)
	f.fail(f.get(name).line, name, what, hint)
}

// get is the value of a key, nil when there is none.
func (f fields) get(name string) *value {
	f.t.asked[name] = true
	f.learn(Key{Name: name, Kind: asked})
	return f.t.values[name]
}

func (f fields) has(name string) bool { return f.get(name) != nil }

// lacks reports a key left out, on the line where its table begins.
func (f fields) lacks(name, what, hint string) {
	f.t.missing[name] = f.r.fail(f.t.line, f.key(name), what, hint)
}

// need is get that reports a key left out.
func (f fields) need(name string, how rule, example string) *value {
	v := f.get(name)
	if v == nil && how&must != 0 {
		f.lacks(name, "is missing", "add "+name+" = "+example)
	}
	return v
}

// finish reports the keys that nothing asked for. One that is a key left out, misspelt, is one mistake and not two.
func (f fields) finish() {
	known := make([]string, 0, len(f.t.asked))
	for k := range f.t.asked {
		known = append(known, k)
	}
	slices.Sort(known)
	for _, k := range f.t.keys {
		if !f.t.asked[k] && f.r.mistakes <= enough {
			f.fail(f.t.values[k].line, shortened(k), "unknown key", meant(k, known, "keys here"))
			if e := f.t.missing[spelling.Nearest(k, known)]; e != nil {
				f.r.errs = slices.DeleteFunc(f.r.errs, func(other *mistake.Error) bool { return other == e })
			}
		}
	}
}

// quantity reads a number with its unit, in SI.
func (f fields) quantity(name string, d quantity.Dimension, how rule) (float64, bool) {
	v := f.need(name, how, example(d))
	f.learn(Key{Name: name, Kind: Quantity, Dimension: d, Must: how&must != 0, Positive: how&positive != 0, NotBelow0: how&notBelow0 != 0, Example: example(d)})
	if v == nil {
		f.absent(name, Quantity, d, "", how)
		return 0, false
	}
	return f.quantityIn(v, name, d, how)
}

func example(d quantity.Dimension) string { return strconv.Quote(quantity.Example(d)) }

func (f fields) quantityIn(v *value, name string, d quantity.Dimension, how rule) (float64, bool) {
	f.note(v, name, Quantity, d)
	switch v.kind {
	case unstable.String:
	case unstable.Integer, unstable.Float:
		// Parse of a bare number tells the units; but a ratio may be bare there.
		hint := fmt.Sprintf("write it in quotes with a unit, e.g. %s (%s)", example(d), strings.Join(quantity.Units(d), " or "))
		if _, err := quantity.Parse(v.text, d); err != nil {
			_, hint = mistake.Said(err)
		}
		f.fail(v.line, name, v.String()+": no unit", hint)
		return 0, false
	default:
		f.fail(v.line, name, v.String()+": no quantity", "write a number with a unit in quotes, e.g. "+example(d))
		return 0, false
	}
	x, err := quantity.Parse(v.text, d)
	if err != nil {
		what, hint := mistake.Said(err)
		f.fail(v.line, name, what, hint)
		return 0, false
	}
	switch {
	case d == quantity.Length && math.Abs(x) > MaxLengthM:
		f.fail(v.line, name, v.String()+": over 100 m", "no bench magnet is that large: check the unit")
	case d == quantity.FluxDensity && math.Abs(x) > MaxFluxT:
		f.fail(v.line, name, v.String()+": over 3 T", "no permanent magnet gives that: check the unit")
	case how&positive != 0 && x <= 0:
		f.fail(v.line, name, v.String()+": zero or less", "write a "+d.String()+" above zero")
	case how&positive != 0 && d == quantity.Length && x < leastSize:
		f.fail(v.line, name, v.String()+": under 0.01 mm", "sizes begin at 0.01 mm: check the unit")
	case how&notBelow0 != 0 && x < 0:
		f.fail(v.line, name, v.String()+": below zero", "write zero or more")
	default:
		return x, true
	}
	return 0, false
}

func (f fields) length(name string, how rule) (float64, bool) {
	return f.quantity(name, quantity.Length, how)
}

// money reads an amount with its currency; nil when there is none, or a mistake in it.
func (f fields) money(name string) *quantity.Money {
	v := f.get(name)
	f.learn(Key{Name: name, Kind: Amount, Example: `"500 EUR"`})
	if v == nil {
		return nil
	}
	const hint = `write an amount and its currency in quotes: "500 EUR"`
	if v.kind != unstable.String {
		f.fail(v.line, name, v.String()+": no amount with a currency", hint)
		return nil
	}
	m, err := quantity.ParseMoney(v.text)
	switch {
	case err != nil:
		f.refuse(name, err)
	case m.Amount == 0:
		f.fail(v.line, name, v.String()+": zero", hint)
	default:
		return &m
	}
	return nil
}

// list reads a list of n values.
func (f fields) list(name string, n int, how rule, example string) []*value {
	v := f.need(name, how, example)
	f.learn(Key{Name: name, Kind: Text, List: n, Must: how&must != 0, Example: example})
	if v == nil {
		return nil
	}
	if v.kind != unstable.Array || len(v.list) != n {
		f.fail(v.line, name, fmt.Sprintf("%s where a list of %d is due", v, n), "write "+name+" = "+example)
		return nil
	}
	return v.list
}

func (f fields) quantities(name string, n int, d quantity.Dimension, how rule, example string) ([]float64, bool) {
	list := f.list(name, n, how, example)
	f.learn(Key{Name: name, Kind: Quantity, Dimension: d, List: n, Must: how&must != 0, Positive: how&positive != 0, NotBelow0: how&notBelow0 != 0, Example: example})
	if list == nil {
		return nil, false
	}
	out := make([]float64, n)
	good := true
	for i, v := range list {
		x, ok := f.quantityIn(v, name+"."+placeIn(i, n), d, how)
		out[i], good = x, good && ok
	}
	return out, good
}

func (f fields) vector(name string, d quantity.Dimension, how rule, example string) (r3.Vec, bool) {
	if !f.has(name) {
		f.absentVector(name, d, how)
	}
	x, ok := f.quantities(name, 3, d, how, example)
	if !ok {
		return r3.Vec{}, false
	}
	return r3.Vec{X: x[0], Y: x[1], Z: x[2]}, true
}

func (f fields) point(name string, how rule) (r3.Vec, bool) {
	return f.vector(name, quantity.Length, how, `["0 mm", "0 mm", "0 mm"]`)
}

// plain reads a number without a unit.
func (f fields) plain(v *value, name, example string) (float64, bool) {
	f.note(v, name, Number, 0)
	if strings.Contains(name, ".") { // in a list
		f.learn(Key{Name: name, Kind: Number})
	}
	if v.kind == unstable.Integer || v.kind == unstable.Float {
		text := strings.ReplaceAll(v.text, "_", "")
		x, err := strconv.ParseFloat(text, 64)
		if err != nil { // 0x10 and the like
			var n int64
			n, err = strconv.ParseInt(text, 0, 64)
			x = float64(n)
		}
		if err == nil && !math.IsNaN(x) && !math.IsInf(x, 0) {
			return x, true
		}
		f.fail(v.line, name, v.String()+": no finite number", "write a number such as "+example)
		return 0, false
	}
	f.fail(v.line, name, v.String()+": no number", "write a plain number without quotes, such as "+example)
	return 0, false
}

// number reads a number without a unit between least and most.
func (f fields) number(name string, least, most float64, how rule, example string) (float64, bool) {
	v := f.need(name, how, example)
	f.learn(Key{Name: name, Kind: Number, Least: least, Most: most, Must: how&must != 0, Example: example})
	if v == nil {
		f.absent(name, Number, 0, "", how)
		return 0, false
	}
	x, ok := f.plain(v, name, example)
	if ok && (x < least || x > most) {
		f.fail(v.line, name, fmt.Sprintf("%s: outside %.6g to %.6g", v, least, most), "write a number such as "+example)
		return 0, false
	}
	return x, ok
}

func (f fields) text(name string, how rule, example string) (string, bool) {
	v := f.need(name, how, example)
	f.learn(Key{Name: name, Kind: Text, Must: how&must != 0, Example: example})
	if v == nil {
		f.absent(name, Text, 0, "", how)
		return "", false
	}
	f.note(v, name, Text, 0)
	if v.kind != unstable.String {
		f.fail(v.line, name, v.String()+": no text", "write it in quotes: "+name+" = "+example)
		return "", false
	}
	return v.text, true
}

// choice reads one of a few words.
func (f fields) choice(name string, words []string, how rule) (string, bool) {
	s, ok := f.text(name, how, strconv.Quote(words[0]))
	f.learn(Key{Name: name, Kind: Text, Words: words, Must: how&must != 0, Example: strconv.Quote(words[0])})
	if !ok {
		return "", false
	}
	if !slices.Contains(words, s) {
		f.fail(f.get(name).line, name, f.get(name).String()+" is not known", meant(s, words, "it is one of"))
		return "", false
	}
	return s, true
}

// axis reads "x", "y" or "z" as 0, 1 or 2.
func (f fields) axis(name string, otherwise int, how rule) int {
	words := []string{"x", "y", "z"}
	if s, ok := f.choice(name, words, how); ok {
		return slices.Index(words, s)
	}
	return otherwise
}

// sub reads a table inside the table.
func (f fields) sub(name string, how rule, example string) (fields, bool) {
	v := f.need(name, how, example)
	f.learn(Key{Name: name, Kind: Group, Must: how&must != 0, Example: example})
	if v == nil {
		return fields{}, false
	}
	if v.table == nil {
		f.fail(v.line, name, v.String()+": no table", "write "+name+" = "+example)
		return fields{}, false
	}
	return fields{f.r, v.table, f.key(name), f.alias(name)}, true
}

// each reads the tables of a [[name]] list, at the top of the file.
func (f fields) each(name string, read func(f fields)) {
	v := f.get(name)
	f.learn(Key{Name: name, Kind: Groups, Example: "[[" + name + "]]"})
	if v == nil {
		return
	}
	if v.table != nil {
		f.fail(v.line, name, "["+name+"] has single brackets", "there may be many: begin each with [["+name+"]]")
		return
	}
	if v.kind != unstable.Array {
		f.fail(v.line, name, v.String()+": no table", "begin each with [["+name+"]], in two brackets")
		return
	}
	for i, v := range v.list {
		if f.r.mistakes > enough {
			return // nobody reads more, and nearest names take time
		}
		g := fields{f.r, v.table, fmt.Sprintf("%s[%d]", name, i+1), fmt.Sprintf("%s.%d", name, i)}
		if v.table == nil {
			f.r.fail(v.line, g.path, v.String()+": no table", "begin each with [["+name+"]], in two brackets")
			continue
		}
		if n := v.table.values["name"]; n != nil && n.kind == unstable.String && strings.TrimSpace(n.text) != "" {
			g.path = name + "." + shortened(n.text)
		}
		read(g)
	}
}

// meant is a hint with the nearest of the known words and all of them.
func meant(word string, known []string, these string) string {
	if len(known) == 0 {
		return "nothing is known here"
	}
	return spelling.Meant(word, known, these+": "+strings.Join(known, ", "))
}
