package design

import (
	"errors"
	"flag"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"polewright/mistake"
)

var show = flag.Bool("show", false, "print the message of every broken file")

// edits are pairs of old and new text; the old text must be there just once.
func broken(t *testing.T, edits ...string) string {
	t.Helper()
	base, err := os.ReadFile(filepath.Join("testdata", "base.toml"))
	if err != nil {
		t.Fatal(err)
	}
	text := string(base)
	for i := 0; i < len(edits); i += 2 {
		if strings.Count(text, edits[i]) != 1 {
			t.Fatalf("%q is in the base %d times", edits[i], strings.Count(text, edits[i]))
		}
		text = strings.Replace(text, edits[i], edits[i+1], 1)
	}
	return text
}

func TestBaseIsRead(t *testing.T) {
	if _, err := Read(strings.NewReader(broken(t)), "base.toml"); err != nil {
		t.Fatal(err)
	}
}

// Each case breaks the base in one place and pins the message to the letter.
func TestBrokenFiles(t *testing.T) {
	if len(brokenFiles) < 25 {
		t.Fatal("cases were lost")
	}
	for _, c := range brokenFiles {
		d, err := Read(strings.NewReader(broken(t, c.edits...)), "d.toml")
		if err == nil || d != nil {
			t.Errorf("%s: read without an error", c.name)
			continue
		}
		var list mistake.Errors
		if !errors.As(err, &list) || len(list) == 0 {
			t.Errorf("%s: %v is no Errors", c.name, err)
		}
		for _, e := range list {
			if e.What == "" || e.Hint == "" {
				t.Errorf("%s: no what or no hint: %v", c.name, e)
			}
		}
		if *show {
			t.Logf("%s\n%s", c.name, err)
		}
		if err.Error() != c.want {
			t.Errorf("%s:\n got %s\nwant %s", c.name, err, c.want)
		}
	}
}
