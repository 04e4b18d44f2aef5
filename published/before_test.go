package published

import (
	"errors"
	"fmt"
	"strings"
	"testing"
)

func TestChanges(t *testing.T) {
	was := []Outcome{made(0.5, 0.5001, 0.002, nil), made(0.6, 0.601, 0.002, nil), made(0.7, 0.701, 0.002, nil), made(0.8, 0.801, 0.002, nil), made(0.9, 0, 0.002, errors.New("no answer"))}
	for i := range was {
		was[i].Name = fmt.Sprintf("number %d", i)
	}
	var page strings.Builder
	if err := Markdown(&page, was); err != nil {
		t.Fatal(err)
	}
	rows, err := ReadPage(strings.NewReader(page.String()))
	if err != nil || len(rows) != len(was) {
		t.Fatalf("%d rows, %v", len(rows), err)
	}
	checks := func(list []Outcome) (all []Check) {
		for _, o := range list {
			all = append(all, o.Check)
		}
		return all
	}
	if got := Changes(rows, was, checks(was)); len(got) > 0 {
		t.Errorf("nothing changed, and it says %q", got)
	}
	now := append([]Outcome(nil), was...)
	now[0].Ours = 0.5003              // a tenth of the tolerance
	now[1].Ours = 0.6031              // no longer within it
	now[2].Published = 0.7005         // another value
	now[3].Name = "number 8"          // another check
	now[4].Err, now[4].Ours = nil, .9 // an answer where there was none
	got := strings.Join(Changes(rows, now, checks(now)), "\n")
	want := `number 0: ours was 0.50 T, is 0.50 T`
	if strings.Contains(got, want) {
		t.Errorf("a change below the digits printed is told:\n%s", got)
	}
	for _, want := range []string{"number 1: passed before, did not pass now", "number 2: the published value was 0.7 T, is 0.7005 T", "new: A problem, 1", "gone: number 3", "number 4: did not pass before, passed now"} {
		if !strings.Contains(got, want) {
			t.Errorf("no %q in\n%s", want, got)
		}
	}
	now[0] = made(0.5001, 0.5004, 0.0012, nil)
	now[0].Name = "number 0"
	rows[0].Published, rows[0].Ours = "0.5001 T", "0.50020 T"
	if got := Changes(rows, now[:1], checks(now)); len(got) == 0 || got[0] != "number 0: ours was 0.50020 T, is 0.50040 T (+0.17 of the tolerance)" {
		t.Errorf("%q", got)
	}
}

func TestReadPage(t *testing.T) {
	rows, err := Released()
	if err != nil || len(rows) < 100 || rows[0].Source == "" {
		t.Fatalf("%d rows, %v", len(rows), err)
	}
	for text, want := range map[string]string{"": "no check is in it", "| a | b |\n": "line 1: 2 columns", strings.Repeat("x", 2*longestLine): "reading a page"} {
		if _, err := ReadPage(strings.NewReader(text)); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%.20q: %v, want %q", text, err, want)
		}
	}
}

// What is read was written: as many rows as lines that look like one, and no cell has the columns' mark.
func FuzzReadPage(f *testing.F) {
	f.Add("Source: a. Values: seen.\n\n| a | 1 T | 1.0 T | +0 % | 1 % | pass |\n")
	f.Add("| check | published |\n| - |")
	f.Fuzz(func(t *testing.T, text string) {
		rows, err := ReadPage(strings.NewReader(text))
		if err != nil {
			return
		}
		if len(rows) == 0 || len(rows) > strings.Count(text, "| ") {
			t.Fatalf("%d rows", len(rows))
		}
		for _, r := range rows {
			for _, cell := range []string{r.Name, r.Published, r.Ours} {
				if strings.Contains(cell, " | ") {
					t.Fatalf("%+v", r)
				}
			}
		}
	})
}
