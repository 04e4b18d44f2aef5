package mistake

import (
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"unicode/utf8"
)

// Editors and people find the place by the form that compilers use, file:line: and then the rest.
func TestError(t *testing.T) {
	for want, e := range map[string]*Error{
		"a.toml:3: magnet.upper.grade: no grade \"N43\"\n  hint: N42": {"a.toml", 3, "magnet.upper.grade", `no grade "N43"`, "N42"},
		"a.csv: there is no header":                                   {File: "a.csv", What: "there is no header"},
		"layout.gap: is left out":                                     {Key: "layout.gap", What: "is left out"},
		"there is no part \"b\"\n  hint: name one":                    Of(`there is no part "b"`, "name one"),
	} {
		if e.Error() != want {
			t.Errorf("%q, want %q", e.Error(), want)
		}
	}
}

func TestErrors(t *testing.T) {
	if err := (Errors{}).Err(); err != nil {
		t.Errorf("no mistakes are %v", err)
	}
	var list Errors
	for i := range 2 * Most {
		list = append(list, &Error{File: "a", Line: 1 + (i+7)%(2*Most), What: fmt.Sprint(i)})
	}
	err := fmt.Errorf("reading: %w", list.Err())
	all, ok := errors.AsType[Errors](err)
	if !ok || len(all) != Most || all[0].Line != 1 || all[Most-1].Line != Most {
		t.Fatalf("%v", err)
	}
	if one, ok := errors.AsType[*Error](err); !ok || one != all[0] {
		t.Errorf("%v is not found in the list", one)
	}
	if lines := strings.Split(all.Error(), "\n"); len(lines) != Most || lines[1] != all[1].Error() {
		t.Errorf("%q", lines)
	}
}

func TestSaid(t *testing.T) {
	for want, err := range map[[2]string]error{
		{"no grade", "there are N42; N45"}:   Of("no grade", "there are N42; N45"),
		{"a.toml:3: no grade", "N42"}:        &Error{File: "a.toml", Line: 3, What: "no grade", Hint: "N42"},
		{"no grade; no curve", ""}:           errors.New("no grade; no curve"),
		{"--grade: no grade", "write N42"}:   Prefixed("--grade: ", Of("no grade", "write N42")),
		{"the disc is full", ""}:             Prefixed("--grade: ", errors.New("the disc is full")),
		{"a.toml: --grade: no grade", "N42"}: Prefixed("--grade: ", &Error{File: "a.toml", What: "no grade", Hint: "N42"}),
	} {
		if what, hint := Said(err); what != want[0] || hint != want[1] {
			t.Errorf("%v: %q and %q, want %q", err, what, hint, want)
		}
	}
}

func TestAt(t *testing.T) {
	for want, err := range map[string]error{"a.toml:3: wound.w: no lay\n  hint: random": Of("no lay", "random"), "a.toml:3: wound.w: no lay; random": errors.New("no lay; random")} {
		if got := At("a.toml", 3, "wound.w", err); len(got) != 1 || got.Error() != want {
			t.Errorf("%q, want %q", got, want)
		}
	}
}

func TestCause(t *testing.T) {
	_, missing := os.Open(filepath.Join(t.TempDir(), "none"))
	renamed := os.Rename(filepath.Join(t.TempDir(), "none"), "other")
	for _, err := range []error{missing, renamed, io.ErrUnexpectedEOF} {
		if got := Cause(fmt.Errorf("opening: %w", err)).Error(); strings.Contains(got, "none") || !errors.Is(err, io.ErrUnexpectedEOF) && strings.Contains(got, "opening") {
			t.Errorf("%v: %s", err, got)
		}
	}
}

func TestQuote(t *testing.T) {
	if s := Quote("12 mm"); s != "12 mm" {
		t.Error(s)
	}
	if s := Quote(strings.Repeat("µ", 100)); utf8.RuneCountInString(s) != 40 || !strings.HasSuffix(s, "µ…") {
		t.Error(s)
	}
}
