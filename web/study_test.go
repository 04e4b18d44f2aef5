package web

import (
	"encoding/base64"
	"encoding/json"
	"fmt"
	"math"
	"net/http"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"polewright"
	"polewright/design"
)

// ended waits for the end of a study, by following it as the page does.
func ended(t testing.TB, b *Bench, name string) (s Study, events []string) {
	t.Helper()
	w := asked(t, b, "POST", "/api/follow", Following{Study: name})
	var data string
	for line := range strings.Lines(w.Body.String()) {
		if e, ok := strings.CutPrefix(line, "event: "); ok {
			events = append(events, strings.TrimSpace(e))
		}
		if d, ok := strings.CutPrefix(line, "data: "); ok {
			data = d
		}
	}
	if len(events) == 0 || events[len(events)-1] != "answer" || json.Unmarshal([]byte(data), &s) != nil {
		t.Fatalf("%v: %s", events, data)
	}
	return s, events
}

func begun(t testing.TB, b *Bench, q Studying) (s Study) {
	t.Helper()
	w := asked(t, b, "POST", "/api/studies", q)
	if json.Unmarshal(w.Body.Bytes(), &s); w.Code != 200 || s.Name == "" {
		t.Fatalf("%d %s", w.Code, w.Body)
	}
	return s
}

var gaps = Studying{Asked: Asked{Text: pair, File: "a.toml"}, Kind: "sweep", Accuracy: "draft", Vary: []string{"layout.gap = 16, 20, 24 mm", "layout.grade = N42, N52"}, Figures: []string{"gap field", "mass"}}

// A sweep gives what single solves give, in rows that arrive one by one, and as the table of the command line.
func TestSweep(t *testing.T) {
	b, _ := served(t)
	s, events := ended(t, b, begun(t, b, gaps).Name)
	if s.State != "done" || s.Done != 6 || len(s.Rows) != 6 || s.Total != 6 || !strings.Contains(strings.Join(events, " "), "rows") {
		t.Fatalf("%s %d of %d, %d rows, %v", s.State, s.Done, s.Total, len(s.Rows), events)
	}
	if s.Paths[0] != "layout.gap" || s.Units[0] != "mm" || s.Units[1] != "" {
		t.Errorf("%v in %v", s.Paths, s.Units)
	}
	for _, r := range s.Rows {
		text := []byte(pair)
		for _, set := range r.Settings {
			var err error
			if text, err = design.Set(text, set.Path, set.Value); err != nil {
				t.Fatal(err)
			}
		}
		d, err := design.Read(strings.NewReader(string(text)), "")
		if err != nil {
			t.Fatal(err)
		}
		solved, err := polewright.Run(t.Context(), d, polewright.Options{Accuracy: polewright.Draft, FieldOnly: true})
		if err != nil {
			t.Fatal(err)
		}
		if got, want := r.Figures["gap field"], math.Abs(solved.Result.GapB[2]); math.Abs(got-want) > 1e-9*want || r.Values[0] == nil || r.Values[1] != nil {
			t.Errorf("%v: %g T, one solve gives %g; values %v", r.Settings, got, want, r.Values)
		}
	}
	var d Download
	w := asked(t, b, "POST", "/api/table", Deed{s.Name})
	if json.Unmarshal(w.Body.Bytes(), &d); w.Code != 200 {
		t.Fatalf("%d %s", w.Code, w.Body)
	}
	if text, _ := base64.StdEncoding.DecodeString(d.Base64); !strings.HasPrefix(string(text), "index,layout.gap_m,layout.grade,gap_field_T,mass_kg,error\n0,0.016,N42,") || strings.Count(string(text), "\n") != 7 {
		t.Errorf("%s", text)
	}
	var list StudyList
	if w := asked(t, b, "GET", "/api/studies", nil); json.Unmarshal(w.Body.Bytes(), &list) != nil || len(list.Studies) != 1 || list.Studies[0].Done != 6 || len(list.Figures) < 10 {
		t.Errorf("%+v", list)
	}
	if w := asked(t, b, "DELETE", "/api/studies/"+s.Name, nil); w.Code != 200 {
		t.Errorf("%d %s", w.Code, w.Body)
	}
	if w := asked(t, b, "GET", "/api/studies/"+s.Name, nil); w.Code != http.StatusNotFound {
		t.Errorf("%d %s", w.Code, w.Body)
	}
}

// A server that ends in the midst of a sweep leaves it interrupted; another goes on, and what was solved is known.
func TestStudyIsInterrupted(t *testing.T) {
	folder := t.TempDir()
	open := func() *Bench {
		b, err := New(Options{Folder: folder, Version: "test", Addr: "127.0.0.1:7461"})
		if err != nil {
			t.Fatal(err)
		}
		t.Cleanup(func() { b.Close() })
		return b
	}
	b := open()
	q := gaps
	q.Asked.Text, q.Vary, q.Figures = framed, []string{"layout.gap = 14..24 mm in 11"}, []string{"gap field"}
	name := begun(t, b, q).Name
	for end := time.Now().Add(time.Minute); ; time.Sleep(5 * time.Millisecond) {
		if s, err := b.found(name); err != nil || s.Done >= 2 || time.Now().After(end) {
			break
		}
	}
	b.Close()
	b = open()
	s, err := b.found(name)
	if err != nil || s.State != "interrupted" || len(s.Rows) < 2 || len(s.Rows) == 11 {
		t.Fatalf("%v: %+v", err, s)
	}
	before := len(s.Rows)
	if w := asked(t, b, "POST", "/api/resume", Deed{name}); w.Code != 200 {
		t.Fatalf("%d %s", w.Code, w.Body)
	}
	if w := asked(t, b, "DELETE", "/api/studies/"+name, nil); w.Code == 200 {
		t.Error("a study that runs was taken away")
	}
	after, _ := ended(t, b, name)
	if after.State != "done" || after.Done != 11 || after.Known < before || after.Known == 11 {
		t.Errorf("%s: %d done, %d known, %d before", after.State, after.Done, after.Known, before)
	}
	if w := asked(t, b, "POST", "/api/stop", Deed{name}); w.Code != 200 {
		t.Errorf("%d %s", w.Code, w.Body)
	}
}

// A study that is stopped keeps its rows.
func TestStudyIsStopped(t *testing.T) {
	b, _ := served(t)
	q := gaps
	q.Asked.Text, q.Vary = framed, []string{"layout.gap = 10..30 mm in 300"}
	first, second := begun(t, b, q).Name, begun(t, b, gaps).Name
	if s, err := b.found(second); err != nil || s.State != "waiting" {
		t.Errorf("the second is %v, %v", s, err)
	}
	if w := asked(t, b, "POST", "/api/stop", Deed{first}); w.Code != 200 {
		t.Fatalf("%d %s", w.Code, w.Body)
	}
	if s, _ := ended(t, b, first); s.State != "stopped" || len(s.Rows) >= 300 {
		t.Errorf("%s with %d rows", s.State, len(s.Rows))
	}
	if s, _ := ended(t, b, second); s.State != "done" {
		t.Errorf("the second is %s: %s", s.State, s.Why)
	}
}

// A search finds the thinnest magnets that still give the field.
func TestSearch(t *testing.T) {
	b, _ := served(t)
	q := Studying{Asked: Asked{Text: pair}, Kind: "search", Accuracy: "draft", Vary: []string{"layout.magnet_z = 6..20 mm / 2 mm"}, Least: []string{"mass"}, Limits: []string{"gap field >= 0.3 T"}}
	s, _ := ended(t, b, begun(t, b, q).Name)
	if s.State != "done" || s.Found == nil || s.Goals[0] != "least mass" {
		t.Fatalf("%s %s %+v", s.State, s.Why, s.Found)
	}
	best, heaviest := StudyRow{}, 0.0
	bests := 0
	for _, r := range s.Rows {
		if r.Best {
			best = r
			bests++
		}
		if !r.Keeps {
			heaviest = max(heaviest, r.Figures["mass"])
		}
	}
	if bests != 1 || best.Figures["gap field"] < 0.3 || heaviest > best.Figures["mass"] {
		t.Errorf("best %+v, the heaviest that misses %g kg", best, heaviest)
	}
}

// Builds spread: the page has the object of the command line, and histograms to draw.
func TestToleranceStudy(t *testing.T) {
	b, _ := served(t)
	s, _ := ended(t, b, begun(t, b, Studying{Asked: Asked{Text: alone("1.2 T")}, Kind: "tolerance", Accuracy: "draft", Solves: 2, Seed: 1}).Name)
	if s.State != "done" || s.Spread == nil || s.Spread.Yield == nil || len(s.Rows) != 2 || len(s.Spread.Histograms) != len(s.Spread.Figures) {
		t.Fatalf("%s %s %+v", s.State, s.Why, s.Spread)
	}
	if w := asked(t, b, "POST", "/api/chart", s.Spread.Histograms[0]); w.Code != 200 {
		t.Errorf("%d %s", w.Code, w.Body)
	}
	if w := asked(t, b, "POST", "/api/table", Deed{s.Name}); w.Code != 200 {
		t.Errorf("%d %s", w.Code, w.Body)
	}
}

func TestStudyMistakes(t *testing.T) {
	b, _ := served(t)
	for _, c := range []struct {
		name, says string
		change     func(*Studying)
	}{
		{"a kind", "there is no study called", func(q *Studying) { q.Kind = "guess" }},
		{"nothing varies", "does not say what to vary", func(q *Studying) { q.Vary = nil }},
		{"a path", "no such parameter", func(q *Studying) { q.Vary = []string{"layout.gapp = 1, 2 mm"} }},
		{"a range", "neither a step nor how many", func(q *Studying) { q.Vary = []string{"layout.gap = 1..2 mm"} }},
		{"too many", "too many for a sweep", func(q *Studying) { q.Vary = []string{"layout.gap = 1..20 mm in 5001"} }},
		{"far too many", "make no range", func(q *Studying) { q.Vary = []string{"layout.gap = 1..20 mm in 2000000000"} }},
		{"a figure", "did you mean", func(q *Studying) { q.Figures = []string{"gap feild"} }},
		{"cost without prices", "needs your list of prices", func(q *Studying) { q.Figures = []string{"cost"} }},
		{"a list of stock", `"file":"stock.csv"`, func(q *Studying) { q.Stock = "name\n" }},
		{"an accuracy", "accura", func(q *Studying) { q.Accuracy = "rough" }},
		{"no goal", "needs a goal", func(q *Studying) { q.Kind = "search" }},
		{"three goals", "one, or two", func(q *Studying) {
			q.Kind, q.Least = "search", []string{"mass", "cost", "force"}
		}},
		{"a limit", "problems", func(q *Studying) { q.Kind, q.Least, q.Limits = "search", []string{"mass"}, []string{"mass ~ 2"} }},
		{"solves", "solves", func(q *Studying) { q.Kind, q.Least, q.Solves = "search", []string{"mass"}, 1e6 }},
		{"builds", "builds to solve", func(q *Studying) { q.Kind, q.Vary, q.Solves = "tolerance", nil, -3 }},
		{"a tolerance that varies", "what builds stray in", func(q *Studying) { q.Kind = "tolerance" }},
		{"a file name", "name of a design file", func(q *Studying) { q.File = "../../etc/passwd" }},
	} {
		q := gaps
		c.change(&q)
		if w := asked(t, b, "POST", "/api/studies", q); w.Code == 200 || !strings.Contains(w.Body.String(), c.says) {
			t.Errorf("%s: %d %s", c.name, w.Code, w.Body)
		}
	}
	for _, name := range []string{"x", "..", "20260101-000000-000-sweep", "20260101-000000-000-sweep.json"} {
		for _, w := range []int{asked(t, b, "GET", "/api/studies/"+name, nil).Code, asked(t, b, "POST", "/api/resume", Deed{name}).Code, asked(t, b, "POST", "/api/stop", Deed{name}).Code, asked(t, b, "POST", "/api/table", Deed{name}).Code} {
			if w == 200 {
				t.Errorf("the study %q: %d", name, w)
			}
		}
	}
	// Nothing was begun, so there is no folder.
	if _, err := os.Stat(filepath.Join(b.o.Folder, studyFolder)); err == nil {
		t.Error("a folder of studies was made for nothing")
	}
	// A record that somebody has changed is refused in words.
	os.Mkdir(filepath.Join(b.o.Folder, studyFolder), 0o777)
	const name = "20260101-000000-000-sweep"
	os.WriteFile(filepath.Join(b.o.Folder, studyFolder, name+".json"), []byte("{"), 0o666)
	if w := asked(t, b, "GET", "/api/studies/"+name, nil); w.Code != http.StatusBadRequest || !strings.Contains(w.Body.String(), "take it away") {
		t.Errorf("%d %s", w.Code, w.Body)
	}
}

// Whatever is asked for, a plan is sound or refused in words.
func FuzzStudying(f *testing.F) {
	b, err := New(Options{Folder: f.TempDir(), Addr: "127.0.0.1:7461"})
	if err != nil {
		f.Fatal(err)
	}
	f.Cleanup(func() { b.Close() })
	f.Add("sweep", "layout.gap = 14..22 mm / 2 mm", "gap field", "", "", 0)
	f.Add("search", "layout.gap = 14, 16 mm", "mass", "mass", "gap field >= 0.3 T", 5)
	f.Add("search", "layout.grade = N42, N52", "", "cost", "cost <= 200 EUR", -1)
	f.Add("tolerance", "", "", "", "", 2)
	f.Fuzz(func(t *testing.T, kind, vary, figure, least, limit string, solves int) {
		q := Studying{Asked: Asked{Text: pair}, Kind: kind, Accuracy: "draft", Solves: solves}
		for text, to := range map[string]*[]string{vary: &q.Vary, figure: &q.Figures, least: &q.Least, limit: &q.Limits} {
			if text != "" {
				*to = []string{text}
			}
		}
		p, err := b.plan(q)
		if err != nil {
			if fault := faultOf(err); fault.Problems[0].What == "" || strings.Contains(fault.Problems[0].What, "failed on") {
				t.Errorf("%+v", fault)
			}
			return
		}
		if p.study.Kind != kind || len(p.study.Paths) != len(q.Vary) || p.study.Total > mostStudyDesigns {
			t.Errorf("%s", fmt.Sprint(p.study))
		}
		if _, err := encoded(p.study); err != nil {
			t.Error(err)
		}
	})
}
