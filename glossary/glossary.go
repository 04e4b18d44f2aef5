// Package glossary explains the words of the trade that the program uses, and every warning and caution that it prints: what it means, in which
// unit it is counted, where it matters, and what to do.
package glossary

import (
	"cmp"
	"regexp"
	"slices"
	"strings"
	"sync"
)

// Entry explains one term, warning or caution.
type Entry struct {
	Term    string   `json:"term"`
	Also    []string `json:"also,omitempty"`    // other names, symbols
	Unit    string   `json:"unit,omitempty"`    // "" for what is no quantity
	Text    string   `json:"text"`              // what it is
	Matters string   `json:"matters,omitempty"` // where it matters
	Do      string   `json:"do,omitempty"`      // what to do when the program says it
	Caution string   `json:"caution,omitempty"` // the code of the caution that it explains
	// Says are stretches of the formats of the warnings that it explains, with their verbs.
	Says []string `json:"-"`
}

// Entries lists all entries, terms before warnings before cautions, each in the order of the alphabet. Change nothing in it.
var Entries = sync.OnceValue(func() []Entry {
	var list []Entry
	for _, part := range [][]Entry{terms, warnings, cautions} {
		part = slices.Clone(part)
		slices.SortStableFunc(part, func(a, b Entry) int {
			return cmp.Compare(strings.ToLower(a.Term), strings.ToLower(b.Term))
		})
		list = append(list, part...)
	}
	return list
})

// Names lists every name of every entry.
func Names() (names []string) {
	for _, e := range Entries() {
		names = append(append(names, e.Term), e.Also...)
	}
	return names
}

// Find is the entry with a name, capitals apart unless two differ by them only (B is a flux density, b is nothing); ok is false when there is none.
func Find(name string) (e Entry, ok bool) {
	name = strings.Join(strings.Fields(name), " ")
	for _, same := range []func(a, b string) bool{func(a, b string) bool { return a == b }, strings.EqualFold} {
		for _, e := range Entries() {
			if same(e.Term, name) || slices.ContainsFunc(e.Also, func(a string) bool { return same(a, name) }) {
				return e, true
			}
		}
	}
	return Entry{}, false
}

// Said is the entry of the warning that a printed line holds, that of the longest format that fits; or of the caution with whose title it begins,
// as in "Flying tools (warning). ...".
func Said(line string) (best Entry, ok bool) {
	line = strings.Join(strings.Fields(line), " ")
	if title, _, found := strings.Cut(line, " ("); found {
		if best, ok = Find(title); ok {
			return best, ok
		}
	}
	longest := 0
	for _, e := range Entries() {
		for _, s := range e.Says {
			if len(s) > longest && pattern(s).MatchString(line) {
				best, ok, longest = e, true, len(s)
			}
		}
	}
	return best, ok
}

var verb = regexp.MustCompile(`%(%|[-+# 0-9.]*[a-z])`)

// pattern turns a stretch of a format into a pattern of what it prints.
func pattern(format string) *regexp.Regexp {
	var b strings.Builder
	last := 0
	for _, at := range verb.FindAllStringIndex(format, -1) {
		b.WriteString(regexp.QuoteMeta(format[last:at[0]]))
		if format[at[0]:at[1]] == "%%" {
			b.WriteString("%")
		} else {
			b.WriteString(".+")
		}
		last = at[1]
	}
	b.WriteString(regexp.QuoteMeta(format[last:]))
	return regexp.MustCompile(b.String())
}
