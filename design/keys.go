package design

import (
	"cmp"
	"fmt"
	"maps"
	"math"
	"slices"
	"strconv"
	"strings"
	"sync"

	"polewright/quantity"
)

// This file finds out what keys a design file may have by asking the reader itself: it is given files of one table, and told to say which keys it
// looks for and what each must be. So the schema and the reference of the design file cannot differ from the checks.

// Table is a table of the design file: what may stand below a header, or within { }.
type Table struct {
	Path     string // "target", "magnet", "wound.core"; "" is the file itself
	Many     bool   // whether it begins with two brackets and there may be many
	Meaning  string
	By       string // the key whose word decides which other keys there are; "" when none does
	Variants []Variant
}

// Variant is what a table holds when its deciding key has one word.
type Variant struct {
	Word   string // "" in a table without a deciding key
	Keys   []Key
	OneOf  [][]string          // of each of these lists one key has to be there
	Apart  [][2]string         // two keys of which one may be there
	Needs  map[string][]string // keys that have to be there with a key
	Allows map[string]bool     // every key of Keys
}

// Key is what may stand at a key.
type Key struct {
	Name      string
	Kind      Kind
	Dimension quantity.Dimension // of a Quantity
	List      int                // how many values in a list; 0 is a single value
	Must      bool
	Positive  bool     // above zero, and a length 0.01 mm or more
	NotBelow0 bool     // zero or more
	Least     float64  // of a Number
	Most      float64  // of a Number
	Whole     bool     // a Number without decimals
	Words     []string // all that may stand there; nil: any
	Known     []string // names that may stand there, beside others
	Default   string   // of a key that is left out; "" when it has none or none that can be said in a word
	Example   string
	Meaning   string
	Table     *Table // of a Group or Groups
}

// learn tells whoever asked what a key must be.
func (f fields) learn(k Key) {
	if f.r.asks != nil {
		f.r.asks(f, k)
	}
}

// asked is the kind of a key of which nothing is known but that the reader looked for it.
const asked Kind = -1

// Keys is the whole design file as the reader takes it, the file itself with its tables below it. The value is shared: do not change it.
var Keys = sync.OnceValue(func() *Table { return tableAt("", false, nil) })

// step is a table on the way down to the one asked about, with values for some of its keys.
type step struct {
	name string
	many bool
	set  map[string]string
}

// answer is what the reader said of one table.
type answer struct {
	order   []string
	keys    map[string]Key // with Kind asked where no more is known
	missing map[string]bool
	wrong   map[string]bool // keys with a mistake
}

func (a answer) typed(name string) bool {
	k, ok := a.keys[name]
	return ok && k.Kind != asked
}

// ask has the reader read a file of the tables on the way, and says what it looked for in the last.
func ask(way []step) answer {
	var b strings.Builder
	b.WriteString("format = 1\n")
	path, also := []string{}, ""
	for _, s := range way {
		path = append(path, s.name)
		if also = strings.TrimPrefix(also+"."+s.name, "."); s.many {
			also += ".0"
			fmt.Fprintf(&b, "[[%s]]\n", strings.Join(path, "."))
		} else {
			fmt.Fprintf(&b, "[%s]\n", strings.Join(path, "."))
		}
		for _, k := range slices.Sorted(maps.Keys(s.set)) {
			fmt.Fprintf(&b, "%s = %s\n", k, s.set[k])
		}
	}
	a := answer{keys: map[string]Key{}, missing: map[string]bool{}, wrong: map[string]bool{}}
	r := newReader("")
	r.noting = true
	var t *table
	var at string
	r.asks = func(f fields, k Key) {
		if f.also != also {
			return
		}
		t, at = f.t, f.path
		name, _, inList := strings.Cut(k.Name, ".")
		known, again := a.keys[name]
		switch {
		case !again:
			a.order = append(a.order, name)
			known = Key{Name: name, Kind: asked}
			if !inList && k.Kind != asked {
				known = k
			}
			known.Default = k.Default
		case inList:
			known.Kind, known.Dimension = k.Kind, k.Dimension
		case k.Kind == asked:
			known.Default = cmp.Or(k.Default, known.Default)
		default:
			k.Default, k.Must = cmp.Or(k.Default, known.Default), k.Must || known.Must
			known = k
		}
		a.keys[name] = known
	}
	r.read([]byte(b.String()))
	if t != nil {
		for k := range t.missing {
			a.missing[k] = true
		}
	}
	for _, e := range r.errs {
		if name, ok := strings.CutPrefix(e.Key, at); ok {
			a.wrong[strings.TrimPrefix(name, ".")] = true
		}
	}
	return a
}

// with is the way with more values in its last table.
func with(way []step, set map[string]string) []step {
	if len(way) == 0 {
		return way
	}
	out := slices.Clone(way)
	last := &out[len(out)-1]
	all := maps.Clone(last.set)
	if all == nil {
		all = map[string]string{}
	}
	maps.Copy(all, set)
	last.set = all
	return out
}

// tableAt asks about the table at the end of the way.
func tableAt(path string, many bool, way []step) *Table {
	t := &Table{Path: path, Many: many, Meaning: meanings[path].text}
	base := ask(way)
	words := []string{""}
	for _, name := range base.order {
		k := base.keys[name]
		if k.Must && len(k.Words) > 0 && t.By == "" && slices.ContainsFunc(k.Words, func(w string) bool {
			return len(ask(with(way, map[string]string{name: strconv.Quote(w)})).order) > len(base.order)
		}) {
			t.By, words = name, k.Words
		}
	}
	for _, w := range words {
		here := way
		if t.By != "" {
			here = with(way, map[string]string{t.By: strconv.Quote(w)})
		}
		t.Variants = append(t.Variants, variant(t, w, here))
	}
	return t
}

// anything is a value that no key takes without saying what it would take.
var anything = strconv.Quote("1")

// variant asks which keys a table has, which of them go together and which do not.
func variant(t *Table, word string, way []step) Variant {
	v := Variant{Word: word, Needs: map[string][]string{}, Allows: map[string]bool{}}
	base := ask(way)
	all := maps.Clone(base.keys)
	order := slices.Clone(base.order)
	alone := map[string]answer{} // what the reader says when a key is there of which it said nothing
	for _, name := range base.order {
		if base.typed(name) {
			continue
		}
		a := ask(with(way, map[string]string{name: anything}))
		alone[name] = a
		for _, other := range a.order {
			k := a.keys[other]
			switch before, known := all[other]; {
			case k.Kind == asked:
			case !known:
				order = append(order, other)
				v.Needs[other] = append(v.Needs[other], name)
				k.Must = false
				all[other] = k
			case before.Kind == asked:
				k.Default = cmp.Or(k.Default, before.Default)
				k.Must = false
				all[other] = k
			}
			if other != name && a.keys[other].Must && !base.keys[other].Must {
				v.Needs[name] = append(v.Needs[name], other)
			}
		}
	}
	for _, lack := range slices.Sorted(maps.Keys(base.missing)) {
		if base.typed(lack) {
			continue
		}
		var any []string
		for _, name := range base.order {
			if a, ok := alone[name]; ok && !a.missing[lack] && a.typed(name) {
				any = append(any, name)
			}
		}
		v.OneOf = append(v.OneOf, any)
	}
	for i, a := range order {
		for _, b := range order[:i] {
			first, second := alone[a].typed(a), alone[b].typed(b)
			if a == t.By || b == t.By || !first && !second {
				continue
			}
			both := ask(with(way, map[string]string{a: anything, b: anything}))
			if first && !both.typed(a) || second && !both.typed(b) {
				v.Apart = append(v.Apart, [2]string{b, a})
			}
		}
	}
	for _, name := range order {
		k := all[name]
		if k.Kind == asked {
			panic(fmt.Sprintf("design: the reader looks for %q in [%s] and never says what it takes", name, t.Path))
		}
		if k.Kind == Text && k.List > 0 { // what its entries are shows when there are some
			k.Kind = ask(with(way, map[string]string{name: k.Example})).keys[name].Kind
		}
		path := strings.TrimPrefix(t.Path+"."+name, ".")
		if k.Kind == Number && k.List == 0 {
			k.Whole = whole(way, k)
		}
		k.Meaning, k.Known = meaningOf(path, word, name)
		if k.Kind == Group || k.Kind == Groups {
			k.Table = tableAt(path, k.Kind == Groups, append(slices.Clone(way), step{name: name, many: k.Kind == Groups}))
		}
		v.Allows[name] = true
		v.Keys = append(v.Keys, k)
	}
	return v
}

// whole tells whether a number may have no decimals: half a unit more is a mistake where the whole one is none.
func whole(way []step, k Key) bool {
	low := math.Ceil(k.Least)
	if low+0.5 > k.Most {
		return false
	}
	try := func(v float64) bool {
		return ask(with(way, map[string]string{k.Name: strconv.FormatFloat(v, 'f', -1, 64)})).wrong[k.Name]
	}
	return len(way) > 0 && !try(low) && try(low+0.5)
}

func meaningOf(path, word, name string) (string, []string) {
	if strings.HasPrefix(path, "layout.") {
		for _, a := range arrangements {
			if a.kind != word {
				continue
			}
			for _, p := range a.lengths {
				if p.name == name {
					return p.meaning, nil
				}
			}
			for _, c := range a.counts {
				if c.name == name {
					return c.meaning, nil
				}
			}
		}
	}
	for _, k := range SpreadKeys {
		if path == "tolerance."+k.Key {
			return k.Meaning + ", one standard deviation", nil
		}
	}
	m, ok := meanings[path]
	if !ok {
		_, after, _ := strings.Cut(path, ".")
		m = meanings["*."+after]
	}
	if m.names == nil {
		return m.text, nil
	}
	return m.text, m.names()
}
