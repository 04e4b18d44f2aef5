package design

import (
	"bytes"
	"errors"
	"fmt"
	"regexp"
	"slices"
	"strings"
	"unicode/utf8"

	"github.com/pelletier/go-toml/v2/unstable"

	"polewright/mistake"
)

// A document is the file as a tree in which every key and value knows its line.

type table struct {
	line   int
	stated bool // by a [header] of its own, so a second one is a mistake
	inline bool // within { }
	end    int  // byte after the last key = value below the header, or after the header or the {; 0: it has no place of its own
	keys   []string
	values map[string]*value

	asked   map[string]bool           // the keys that the reader looked for
	missing map[string]*mistake.Error // those it reported missing
}

type value struct {
	kind  unstable.Kind // String, Integer, Float, Bool, Array, InlineTable or a date
	text  string        // a string's content, else the token as written
	line  int
	from  int      // byte where the token of a value that is no list begins, and
	to    int      // the byte after it
	list  []*value // Array
	table *table   // InlineTable, and tables with headers
	open  bool     // an Array made by [[headers]]
}

func newTable(line int) *table {
	return &table{line: line, values: map[string]*value{}, asked: map[string]bool{}, missing: map[string]*mistake.Error{}}
}

// toml turns text, which must be UTF-8, into a tree. Mistakes of grammar go to report; the tree is worth reading only when there are none.
func toml(text []byte, report func(line int, key, what, hint string)) *table {
	b := &builder{text: text, report: report, root: newTable(1)}
	for i, c := range text {
		if c == '\n' {
			b.newlines = append(b.newlines, i)
		}
	}
	b.here = b.root
	for start := 0; start < len(text) && b.mistakes < mistake.Most; {
		bad := b.run(start)
		if bad < 0 {
			break
		}
		// Go on at the next line that begins something, so that every unquoted quantity is named at once.
		b.mistakes++
		_, end, found := bytes.Cut(text[bad:], []byte("\n"))
		if !found {
			break
		}
		start = len(text) - len(end)
		next := beginning.FindIndex(text[start:])
		if next == nil {
			break
		}
		start += next[0]
	}
	return b.root
}

var beginning = regexp.MustCompile(`(?m)^[ \t]*(\[\[?[\w. "-]+\]|[\w.-]+[ \t]*=)`)

type builder struct {
	text     []byte
	newlines []int
	report   func(line int, key, what, hint string)
	mistakes int
	root     *table
	start    int    // byte where the parser began
	here     *table // of the last header
	path     string // of the last header
}

func (b *builder) line(offset int) int {
	n, _ := slices.BinarySearch(b.newlines, offset)
	return n + 1
}

// run reads from start to the end or to the first mistake of grammar, whose offset it returns; -1 when there is none.
func (b *builder) run(start int) int {
	var p unstable.Parser
	p.Reset(b.text[start:])
	b.start = start
	at := func(n *unstable.Node) int { return b.line(start + int(n.Raw.Offset)) }
	for p.NextExpression() {
		e := p.Expression()
		switch e.Kind {
		case unstable.KeyValue:
			b.keyValue(b.here, b.path, e, at)
			b.here.end = b.after(e)
		case unstable.Table, unstable.ArrayTable:
			b.header(e, at)
			for it := e.Key(); it.Next(); {
				b.here.end = b.after(it.Node())
			}
		}
	}
	err := p.Error()
	if err == nil {
		return -1
	}
	offset := len(b.text) - 1
	var grammar *unstable.ParserError
	if errors.As(err, &grammar) && len(grammar.Highlight) > 0 {
		offset = start + int(p.Range(grammar.Highlight).Offset)
	}
	what, hint := b.explain(offset, err.Error())
	b.report(b.line(offset), "", what, hint)
	return offset
}

// after is the byte after a node.
func (b *builder) after(n *unstable.Node) int { return b.start + int(n.Raw.Offset+n.Raw.Length) }

var unquoted = regexp.MustCompile(`^[^"'#]*=\s*\[?\s*[-+]?[0-9.]+\s*[a-zA-Z%°µ]`)

func (b *builder) explain(offset int, grammar string) (what, hint string) {
	from, to := 0, len(b.text)
	if n := b.line(offset); n > 1 {
		from = b.newlines[n-2] + 1
	}
	if n := b.line(offset); n <= len(b.newlines) {
		to = b.newlines[n-1]
	}
	line := strings.TrimSpace(string(b.text[from:to]))
	switch {
	case unquoted.MatchString(line):
		return shortened(line) + ": a quantity without quotes", `put number and unit in quotes, e.g. "18 mm"`
	case strings.Count(line, `"`)%2 == 1:
		return shortened(line) + ": a quotation mark is missing", `text and quantities stand between two: name = "upper"`
	}
	what = fmt.Sprintf("%s: %s", shortened(line), grammar)
	switch {
	case strings.Count(line, "[") != strings.Count(line, "]"):
		return what, "look for a missing bracket [ or ] here or on the lines before"
	}
	return what, `each line is key = value, [header], [[header]] or # note; text and quantities stand in "quotes"`
}

// header goes to, or makes, the table of a [header] or [[header]].
func (b *builder) header(e *unstable.Node, at func(*unstable.Node) int) {
	many := e.Kind == unstable.ArrayTable
	var names []string
	line := 0
	for it := e.Key(); it.Next(); {
		line = at(it.Node())
		names = append(names, string(it.Node().Data))
	}
	path := strings.Join(names, ".")
	b.path = path
	lost := newTable(line) // where keys go whose header is a mistake
	t := b.descend(b.root, names[:len(names)-1], line, path)
	if t == nil {
		b.here = lost
		return
	}
	last := names[len(names)-1]
	v := t.values[last]
	switch {
	case v == nil:
		b.here = newTable(line)
		b.here.stated = true
		v = &value{kind: unstable.InlineTable, line: line, table: b.here}
		if many {
			v = &value{kind: unstable.Array, line: line, open: true, list: []*value{v}}
		}
		t.add(last, v)
	case many && v.open:
		b.here = newTable(line)
		v.list = append(v.list, &value{kind: unstable.InlineTable, line: line, table: b.here})
	case !many && v.table != nil && !v.table.stated:
		v.table.stated = true
		b.here = v.table
	default:
		b.mistakes++
		b.report(line, path, fmt.Sprintf("[%s] is given again; first on line %d", path, v.line), "put the keys of both under one header; parts of which there may be many begin with two brackets, [[magnet]]")
		b.here = lost
	}
}

// mostNames bounds the tables within tables that a key may make: some hundred bytes each. No key of a design file has more than three names.
const mostNames = 20

// descend follows names from t, making tables on the way; nil when something else stands there, which is then reported.
func (b *builder) descend(t *table, names []string, line int, path string) *table {
	if len(names) > mostNames {
		b.mistakes++
		b.report(line, shortened(path), fmt.Sprintf("is a key of %d names", len(names)+1), "no key of a design file has more than three: put its names in quotes, or take it out")
		return nil
	}
	for _, name := range names {
		v := t.values[name]
		switch {
		case v == nil:
			next := newTable(line)
			t.add(name, &value{kind: unstable.InlineTable, line: line, table: next})
			t = next
		case v.table != nil:
			t = v.table
		case v.open:
			t = v.list[len(v.list)-1].table
		default:
			b.mistakes++
			b.report(line, path, fmt.Sprintf("%s is a value on line %d and a table here", shortened(name), v.line), "use another name for one of the two")
			return nil
		}
	}
	return t
}

func (b *builder) keyValue(t *table, path string, e *unstable.Node, at func(*unstable.Node) int) {
	var names []string
	line := 0
	for it := e.Key(); it.Next(); {
		line = at(it.Node())
		names = append(names, string(it.Node().Data))
	}
	key := strings.TrimPrefix(path+"."+strings.Join(names, "."), ".")
	if t = b.descend(t, names[:len(names)-1], line, key); t == nil {
		return
	}
	last := names[len(names)-1]
	if old := t.values[last]; old != nil {
		b.mistakes++
		b.report(line, shortened(key), fmt.Sprintf("is given again; first on line %d", old.line), "keep one of the two; a further part begins with its own [[header]]")
		return
	}
	t.add(last, b.value(e.Value(), line, key, at))
}

func (t *table) add(name string, v *value) {
	t.keys = append(t.keys, name)
	t.values[name] = v
}

func (b *builder) value(n *unstable.Node, line int, key string, at func(*unstable.Node) int) *value {
	if n.Raw.Length > 0 {
		line = at(n)
	}
	v := &value{kind: n.Kind, line: line}
	switch n.Kind {
	case unstable.Array:
		for it := n.Children(); it.Next(); {
			v.list = append(v.list, b.value(it.Node(), line, key, at))
		}
	case unstable.InlineTable:
		v.table = newTable(line)
		v.table.stated = true
		v.table.inline, v.table.end = true, b.after(n)
		for it := n.Children(); it.Next(); {
			b.keyValue(v.table, key, it.Node(), at)
			v.table.end = b.after(it.Node())
		}
	default:
		v.text = string(n.Data)
		v.from, v.to = b.start+int(n.Raw.Offset), b.after(n)
	}
	return v
}

// String shows the value as it is written, shortened.
func (v *value) String() string {
	switch v.kind {
	case unstable.String:
		return shortened(fmt.Sprintf("%q", v.text))
	case unstable.Array:
		return fmt.Sprintf("a list of %d", len(v.list))
	case unstable.InlineTable:
		return "a table { }"
	}
	return shortened(v.text)
}

// shortened keeps a message on one line of a screen.
func shortened(s string) string {
	const most = 60
	s = strings.Map(func(r rune) rune {
		if r < ' ' || r == 0x7f {
			return ' '
		}
		return r
	}, s)
	if len(s) <= most {
		return s
	}
	cut := most - 3
	for cut > 0 && !utf8.RuneStart(s[cut]) {
		cut--
	}
	return s[:cut] + "..."
}
