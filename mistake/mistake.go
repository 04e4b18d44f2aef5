// Package mistake holds what somebody gave that will not do, in words for a workshop: where it stands, what it is, and what would do.
package mistake

import (
	"cmp"
	"errors"
	"io/fs"
	"os"
	"slices"
	"strconv"
	"strings"
)

// Most is how many mistakes are told at once.
const Most = 20

// Error is one mistake: in a file, on the command line, or in what a function was asked for.
type Error struct {
	File string // "" when in none
	Line int    // counted from 1; 0 when in no single line
	Key  string // "magnet.upper.size.y": kind, name, key, place in a list; of a table its column; "" when in none
	What string // what was given
	Hint string // what would do
}

// Of is a mistake in no file.
func Of(what, hint string) *Error { return &Error{What: what, Hint: hint} }

// Error is "file:line: key: what" and, on a second line, "  hint: ...".
func (e *Error) Error() string {
	s := e.File
	if e.Line > 0 {
		s += ":" + strconv.Itoa(e.Line)
	}
	for _, part := range []string{e.Key, e.What} {
		if s != "" && part != "" {
			s += ": "
		}
		s += part
	}
	if e.Hint != "" {
		s += "\n  hint: " + e.Hint
	}
	return s
}

// Errors are all independent mistakes found in a file, in the order of its lines, at most [Most] of them.
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

// Err is the first [Most] of the mistakes by their lines, nil when there are none.
func (es Errors) Err() error {
	if len(es) == 0 {
		return nil
	}
	slices.SortStableFunc(es, func(a, b *Error) int { return cmp.Compare(a.Line, b.Line) })
	return es[:min(len(es), Most)]
}

// Said parts an error into what was given and what would do, which only an *Error knows.
func Said(err error) (what, hint string) {
	e, ok := err.(*Error)
	if !ok {
		return err.Error(), ""
	}
	bare := *e
	bare.Hint = ""
	return bare.Error(), e.Hint
}

// Prefixed is an *Error with words before what was given, such as the flag or the curve that it was given for; any other error is as it was.
func Prefixed(words string, err error) error {
	e, ok := err.(*Error)
	if !ok {
		return err
	}
	more := *e
	more.What = words + e.What
	return &more
}

// At is an error in a place of a file, as its only mistake.
func At(file string, line int, key string, err error) Errors {
	what, hint := Said(err)
	return Errors{{File: file, Line: line, Key: key, What: what, Hint: hint}}
}

// Cause is an error of the file system without the path, which the message has already.
func Cause(err error) error {
	if path, ok := errors.AsType[*fs.PathError](err); ok {
		return path.Err
	}
	if link, ok := errors.AsType[*os.LinkError](err); ok {
		return link.Err
	}
	return err
}

// Quote keeps what a message quotes of a file to a part of a line.
func Quote(s string) string {
	if r := []rune(s); len(r) > 40 {
		return string(r[:39]) + "…"
	}
	return s
}
