package web

import (
	"bytes"
	"encoding/base64"
	"encoding/json"
	"fmt"
	"math"
	"net/http"
	"net/http/httptest"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"polewright"
	"polewright/design"
	"polewright/report"
	"polewright/result"
	"polewright/stock"
)

// alone is a magnet with the field before its face.
func alone(remanence string) string {
	return `format = 1
[target]
field = "0.10 T"
[[magnet]]
name = "one"
shape = "block"
size = ["40 mm", "40 mm", "10 mm"]
center = ["0 mm", "0 mm", "0 mm"]
magnetized = [0, 0, 1]
remanence = "` + remanence + `"
recoil = 1.05
[[probe]]
name = "above"
at = ["0 mm", "0 mm", "15 mm"]
`
}

// readingsOn is a log of what a probe reads of a design on the axis and beside it.
func readingsOn(t testing.TB, text string) string {
	t.Helper()
	d, err := design.Read(strings.NewReader(text), "")
	if err != nil {
		t.Fatal(err)
	}
	s, err := polewright.Run(t.Context(), d, polewright.Options{Accuracy: polewright.Draft, FieldOnly: true})
	if err != nil {
		t.Fatal(err)
	}
	var b strings.Builder
	b.WriteString("# probe: point\nx_mm,y_mm,z_mm,Bz_mT,u_mT\n")
	for _, x := range []float64{-10, 0, 10} {
		for z := 8.0; z <= 20; z += 3 {
			field, _ := s.Field(r3.Vec{X: x / 1e3, Z: z / 1e3})
			fmt.Fprintf(&b, "%g,0,%g,%.4f,0.2\n", x, z, 1e3*field.Z)
		}
	}
	return b.String()
}

// A log lies beside its design, mistakes and all, and is never written over unseen.
func TestReadingsAreKept(t *testing.T) {
	b, s := served(t)
	var r Readings
	if code := put(t, s, "GET", "/api/readings/a.toml", nil, &r); code != 200 || r.Name != "a.readings.csv" || r.Version != "" {
		t.Fatalf("%d %+v", code, r)
	}
	const broken = "x_mm,y_mm,z_mm,Bz_mT\n0,0,0,12\n0,0,1,wide\n"
	if code := put(t, s, "PUT", "/api/readings/a.toml", Saving{Text: broken}, &r); code != 200 || len(r.Problems) != 1 || r.Count != 0 {
		t.Fatalf("%d %+v", code, r)
	}
	if p := r.Problems[0]; p.File != "a.readings.csv" || p.Line != 3 || p.Key != "Bz_mT" || p.Hint == "" {
		t.Errorf("the mistake is %+v", p)
	}
	text, err := os.ReadFile(filepath.Join(b.o.Folder, "a.readings.csv"))
	if err != nil || string(text) != broken {
		t.Errorf("%v: %q", err, text)
	}
	var refusal Refusal
	if code := put(t, s, "PUT", "/api/readings/a.toml", Saving{Text: "x"}, &refusal); code != http.StatusConflict || refusal.File.Text != broken {
		t.Errorf("%d %+v", code, refusal)
	}
	good := strings.Replace(broken, "wide", "11", 1)
	if code := put(t, s, "PUT", "/api/readings/a.toml", Saving{Text: good, Base: r.Version}, &r); code != 200 || r.Count != 2 || r.Probe != "point" {
		t.Errorf("%d %+v", code, r)
	}
	if code := put(t, s, "PUT", "/api/readings/..%2Fa.toml", Saving{Text: good}, nil); code != http.StatusBadRequest {
		t.Errorf("a path out of the folder: %d", code)
	}
	if code := put(t, s, "PUT", "/api/readings/b.toml", Saving{Text: strings.Repeat("#\n", 3<<20)}, nil); code != http.StatusBadRequest && code != http.StatusRequestEntityTooLarge {
		t.Errorf("too long a log: %d", code)
	}
}

// The verdict of the page is that of the program; the magnet that is weak by 10 % is named, and certificate and sheet come as papers.
func TestVerify(t *testing.T) {
	_, s := served(t)
	log := readingsOn(t, alone("1.08 T"))
	q := Verifying{Asked: Asked{Text: alone("1.2 T")}, Log: log, Accuracy: "draft"}
	var v result.Verification
	heard(t, s, "/api/verify", q, &v)
	if len(v.Findings) != 1 || v.Findings[0].Part != "one" || math.Abs(v.Findings[0].Value+0.1) > v.Findings[0].Uncertainty || v.Findings[0].Uncertainty > 0.04 { // the probe's calibration, good to 0.5 %, takes a share
		t.Errorf("%s: findings %+v", v.Reason, v.Findings)
	}
	var again result.Verification
	q.Confidence = 0.99
	heard(t, s, "/api/verify", q, &again) // from what is kept
	if again.Confidence != 0.99 || again.DesignRMS != v.DesignRMS {
		t.Errorf("%g and %g T rms", again.DesignRMS, v.DesignRMS)
	}
	var d Download
	heard(t, s, "/api/certificate", Certifying{q, Page{Format: "pdf"}}, &d)
	isPDF(t, d)
	sheet := Sheeting{Asked: q.Asked, Accuracy: "draft", Format: "pdf", Places: "centre, axis 5"}
	heard(t, s, "/api/sheet", sheet, &d)
	isPDF(t, d)
	sheet.Format = "csv"
	heard(t, s, "/api/sheet", sheet, &d)
	if text, _ := base64.StdEncoding.DecodeString(d.Base64); !strings.Contains(string(text), "\nx_mm,y_mm,z_mm,Bz_mT,T_degC\n") || !strings.Contains(string(text), ",,\n") {
		t.Errorf("the log to fill in is\n%s", text)
	}
}

func isPDF(t *testing.T, d Download) {
	t.Helper()
	data, err := base64.StdEncoding.DecodeString(d.Base64)
	if err != nil || !bytes.HasPrefix(data, []byte("%PDF-1.")) || len(data) < 5000 {
		t.Errorf("%s: %v, %d bytes that begin with %.8q", d.Name, err, len(data), data)
	}
}

// asked asks without a network, and gives what was answered.
func asked(t testing.TB, b *Bench, method, path string, body any) *httptest.ResponseRecorder {
	t.Helper()
	text, err := json.Marshal(body)
	if err != nil {
		t.Fatal(err)
	}
	r := httptest.NewRequestWithContext(t.Context(), method, path, bytes.NewReader(text))
	r.Host = b.o.Addr
	r.Header.Set("Content-Type", "application/json")
	w := httptest.NewRecorder()
	b.ServeHTTP(w, r)
	return w
}

func TestVerifyMistakes(t *testing.T) {
	b, _ := served(t)
	good := Verifying{Asked: Asked{Text: alone("1.2 T")}, Log: "x_mm,y_mm,z_mm,Bz_mT\n0,0,9,300\n", LogName: "a.readings.csv", Accuracy: "draft"}
	for _, c := range []struct {
		name, says string
		change     func(*Verifying)
	}{
		{"a cell that is no number", `"line":2,"key":"Bz_mT"`, func(q *Verifying) { q.Log = strings.Replace(q.Log, "300", "wide", 1) }},
		{"a place within a magnet", `the place lies within the part`, func(q *Verifying) { q.Log = strings.Replace(q.Log, "0,0,9", "0,0,1", 1) }},
		{"a mistake of the design", `"problems":[{`, func(q *Verifying) { q.Text = "format = 1\n[[magnet]]\n" }},
		{"a confidence", "no such confidence", func(q *Verifying) { q.Confidence = 0.2 }},
		{"a noise", "no such uncertainty", func(q *Verifying) { q.Noise = -1 }},
		{"a place", "no such uncertainty", func(q *Verifying) { q.PlaceM = 1 }},
		{"a probe", "for example", func(q *Verifying) { q.Probe = "ball" }},
		{"an accuracy", "accura", func(q *Verifying) { q.Accuracy = "rough" }},
		{"a probe in the notes", `"line":1,"key":"probe"`, func(q *Verifying) { q.Log = "# probe: ball\n" + q.Log }},
	} {
		q := good
		c.change(&q)
		if said := asked(t, b, "POST", "/api/verify", q).Body.String(); !strings.Contains(said, c.says) {
			t.Errorf("%s: %s", c.name, said)
		}
	}
}

// What to buy, how to put it together and what to beware of are what the packages say.
func TestShop(t *testing.T) {
	_, s := served(t)
	var shelf Shelf
	if code := put(t, s, "GET", "/api/stock", nil, &shelf); code != 200 || shelf.Version != "" || shelf.Example == "" {
		t.Fatalf("%d %+v", code, shelf)
	}
	if code := put(t, s, "PUT", "/api/stock", Saving{Text: shelf.Example}, &shelf); code != 200 || shelf.Count < 5 || shelf.Currency == "" || len(shelf.Problems) > 0 {
		t.Fatalf("%d %+v", code, shelf)
	}
	d, err := design.Read(strings.NewReader(framed), "")
	if err != nil {
		t.Fatal(err)
	}
	list, err := stock.Read(strings.NewReader(shelf.Text), "")
	if err != nil {
		t.Fatal(err)
	}
	want, err := stock.BillOf(d, list)
	if err != nil {
		t.Fatal(err)
	}
	var bill stock.Bill
	if code := put(t, s, "POST", "/api/bill", Billing{Asked{Text: framed}, shelf.Text}, &bill); code != 200 || bill.Cost != want.Cost || bill.Parts[0].Letter == "" {
		t.Errorf("%d %+v", code, bill)
	}
	var refusal Refusal
	if code := put(t, s, "POST", "/api/bill", Billing{Asked{Text: framed}, "name,shape\na,b\n"}, &refusal); code != 422 || refusal.Problems[0].File != "stock.csv" {
		t.Errorf("%d %+v", code, refusal)
	}
	var broken Shelf
	if code := put(t, s, "PUT", "/api/stock", Saving{Text: "name,shape\na,b\n", Base: shelf.Version}, &broken); code != 200 || len(broken.Problems) == 0 || broken.Problems[0].Line == 0 {
		t.Errorf("%d %+v", code, broken)
	}
	var steps Steps
	heard(t, s, "/api/assemble", Asked{Text: pair}, &steps)
	if len(steps.Steps) == 0 || len(steps.Cautions) == 0 || steps.Chart == nil || steps.OrderRows == nil || len(steps.StrainRows) == 0 {
		t.Errorf("%+v", steps)
	}
	var card struct {
		Limits   []any    `json:"limits"`
		Cautions []any    `json:"cautions"`
		Sheet    Download `json:"sheet"`
	}
	heard(t, s, "/api/card", Carding{Papering{Asked: Asked{Text: pair}, Accuracy: "draft", Page: Page{Format: "pdf"}}}, &card)
	if len(card.Limits) < 4 || len(card.Cautions) == 0 {
		t.Errorf("%+v", card.Limits)
	}
	isPDF(t, card.Sheet)
}

// A limit of cost is judged by the list of the folder as it is when the question comes, and one that cannot serve costs no more than the judgement.
func TestCostLimit(t *testing.T) {
	const text = "format = 1\n[target]\nfield = \"0.01 T\"\ncost = \"1 EUR\"\n[[magnet]]\nname = \"a\"\nshape = \"block\"\nsize = [\"20 mm\", \"20 mm\", \"10 mm\"]\n" +
		"center = [\"0 mm\", \"0 mm\", \"0 mm\"]\nmagnetized = [0, 0, 1]\ngrade = \"N42\"\n"
	_, s := served(t)
	cost := func() (c *result.Check) {
		var r result.Result
		heard(t, s, "/api/solve", Solving{Asked{Text: text}, Effort{Accuracy: "draft"}}, &r)
		if len(r.Target) == 0 {
			t.Fatalf("%+v", r)
		}
		for i := range r.Target {
			if r.Target[i].What == "cost" {
				c = &r.Target[i]
			}
		}
		return c
	}
	if c := cost(); c != nil {
		t.Errorf("without a list: %+v", c)
	}
	var shelf Shelf
	put(t, s, "PUT", "/api/stock", Saving{Text: string(stock.Starter())}, &shelf)
	if c := cost(); c == nil || c.Met || !(c.Got > 1) || c.Wanted != 1 || c.Unit != "EUR" {
		t.Errorf("with the list: %+v", c)
	}
	cheap := strings.Replace(shelf.Text, "block 20x20x10 N42,block,N42,20,20,10,,,,2.95", "block 20x20x10 N42,block,N42,20,20,10,,,,0.95", 1)
	put(t, s, "PUT", "/api/stock", Saving{Text: cheap, Base: shelf.Version}, &shelf)
	if c := cost(); c == nil || !c.Met || c.Got != 0.95 {
		t.Errorf("with a cheaper magnet: %+v", c)
	}
	put(t, s, "PUT", "/api/stock", Saving{Text: "name,shape\na,b\n", Base: shelf.Version}, &shelf)
	if c := cost(); c != nil || len(shelf.Problems) == 0 {
		t.Errorf("with a broken list: %+v", c)
	}
}

// A chart goes to the page and comes back to be drawn with all that it has: its line is broken where nothing is known.
func TestChartComesBack(t *testing.T) {
	_, s := served(t)
	g := report.Lines{Title: "pull", XName: "distance, mm", YName: "force, N", LogX: true, LogY: true,
		Curves: []report.Curve{{Name: "drawn in", X: []float64{1, 10, 100, 200}, Y: []float64{100, 10, math.NaN(), 1}}},
		Levels: []report.Level{{Name: "a hand", Y: 140}}}
	var want bytes.Buffer
	if err := g.SVG(&want, 180); err != nil {
		t.Fatal(err)
	}
	var got Download
	if code := put(t, s, "POST", "/api/chart", chartingOf(g), &got); code != 200 || got.Base64 != base64.StdEncoding.EncodeToString(want.Bytes()) {
		t.Errorf("%d: %d characters for %d bytes", code, len(got.Base64), want.Len())
	}
}

// Whatever log is sent, it is answered in words, and what is kept is what was sent.
func FuzzReadings(f *testing.F) {
	b, err := New(Options{Folder: f.TempDir(), Addr: "127.0.0.1:7461"})
	if err != nil {
		f.Fatal(err)
	}
	f.Cleanup(func() { b.Close() })
	f.Add("x_mm,y_mm,z_mm,Bz_mT\n0,0,0,300\n")
	f.Add("# probe: disc 2 mm\nBz_T\n1\n")
	f.Add("x_mm\n")
	f.Add("\xff\x00")
	f.Fuzz(func(t *testing.T, text string) {
		os.Remove(filepath.Join(b.o.Folder, "a.readings.csv"))
		w := asked(t, b, "PUT", "/api/readings/a.toml", Saving{Text: text})
		var r Readings
		if w.Code != 200 || json.Unmarshal(w.Body.Bytes(), &r) != nil {
			t.Fatalf("%d %s", w.Code, w.Body)
		}
		if (r.Count > 0) == (len(r.Problems) > 0) {
			t.Errorf("%d readings and %d mistakes", r.Count, len(r.Problems))
		}
		kept, err := os.ReadFile(filepath.Join(b.o.Folder, "a.readings.csv"))
		if sent, _ := json.Marshal(text); err != nil || versionOf(kept) != r.Version {
			t.Errorf("%v: kept %q of %s", err, kept, sent)
		}
	})
}
