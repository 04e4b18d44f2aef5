package design

import (
	"cmp"
	"fmt"
	"slices"
	"strings"
)

// Error is one mistake in a design file.
type Error struct {
	File string
	Line int    // counted from 1; 0 when the mistake is in no single line
	Key  string // "magnet.upper.size.y": kind, name, key, place in a list; "" when in no key
	What string // what was given
	Hint string // what would do
}

// Error is "file:line: key: what" and, on a second line, "  hint: ...".
func (e *Error) Error() string {
	var b strings.Builder
	b.WriteString(e.File)
	if e.Line > 0 {
		fmt.Fprintf(&b, ":%d", e.Line)
	}
	b.WriteString(": ")
	if e.Key != "" {
		b.WriteString(e.Key + ": ")
	}
	b.WriteString(e.What)
	if e.Hint != "" {
		b.WriteString("\n  hint: " + e.Hint)
	}
	return b.String()
}

// Errors are all independent mistakes found, in the order of the file, at most
// MaxErrors of them.
type Errors []*Error

func (es Errors) Error() string {
	lines := make([]string, len(es))
	for i, e := range es {
		lines[i] = e.Error()
	}
	return strings.Join(lines, "\n")
}

// Unwrap lets errors.As find each *Error.
func (es Errors) Unwrap() []error {
	list := make([]error, len(es))
	for i, e := range es {
		list[i] = e
	}
	return list
}

func (es Errors) sortByLine() {
	slices.SortStableFunc(es, func(a, b *Error) int { return cmp.Compare(a.Line, b.Line) })
}
