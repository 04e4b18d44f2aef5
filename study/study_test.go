package study

import (
	"bytes"
	"context"
	"encoding/csv"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"math"
	"os"
	"path/filepath"
	"reflect"
	"slices"
	"strconv"
	"strings"
	"sync"
	"testing"

	"github.com/parquet-go/parquet-go"
	"pgregory.net/rapid"

	"polewright"
	"polewright/design"
	"polewright/jobs"
	"polewright/mistake"
	"polewright/quantity"
	"polewright/result"
	"polewright/stock"
)

func TestParseVariation(t *testing.T) {
	text := searched + "[[wound]]\nname = \"winding\"\ncore = { size = [\"60 mm\", \"90 mm\", \"210 mm\"] }\naxis = \"x\"\nwidth = \"60 mm\"\nturns = 1500\nwire = { gauge = \"16 SWG\" }\npacking = 0.7\nmaterial = \"annealed-wire\"\n" +
		"[[magnet]]\nname = \"trim\"\nshape = \"disc\"\ndiameter = \"5 mm\"\nthickness = \"2 mm\"\ncenter = [\"0 mm\", \"0 mm\", \"0 mm\"]\nmagnetized = [0, 0, 1]\nremanence = \"1 T\"\nrecoil = 1.05\ncoercivity = \"955 kA/m\"\n"
	for _, c := range []struct{ given, want string }{
		{"layout.gap = 14..22 mm / 2 mm", "layout.gap: 14 mm, 16 mm, 18 mm, 20 mm, 22 mm"},
		{"layout.gap=14..22mm/2mm", "layout.gap: 14 mm, 16 mm, 18 mm, 20 mm, 22 mm"},
		{"layout.gap = 14 mm .. 2.2 cm / 4 mm", "layout.gap: 1.4 cm, 1.8 cm, 2.2 cm"},
		{"layout.gap = 14..22 mm / 3", "layout.gap: 14 mm, 17 mm, 20 mm"},
		{"layout.gap = 22..14 mm / 4", "layout.gap: 22 mm, 18 mm, 14 mm"},
		{"layout.gap = 0.1..0.7 in / 0.2", "layout.gap: 0.1 in, 0.3 in, 0.5 in, 0.7 in"},
		{"layout.gap = 14..22 mm in 3", "layout.gap: 14 mm, 18 mm, 22 mm"},
		{"layout.gap = 1..2 in in 3", "layout.gap: 1 in, 1.5 in, 2 in"},
		{"layout.gap = 14..22 in 3", "layout.gap: 14 mm, 18 mm, 22 mm"},
		{"layout.gap = 14, 16, 18 mm", "layout.gap: 14 mm, 16 mm, 18 mm"},
		{"layout.gap = 14 mm, 1 in", "layout.gap: 14 mm, 1 in"},
		{"layout.leg = 8 mm", "layout.leg: 8 mm"},
		{"layout.grade = N42, N45 , N48", "layout.grade: N42, N45, N48"},
		{"wound.winding.turns = 1000..2000/500", "wound.winding.turns: 1000, 1500, 2000"},
		{"wound.0.packing = 0.6, 0.7", "wound.winding.packing: 0.6, 0.7"},
		{"magnet.trim.coercivity = 900..1000 kA/m / 50 kA/m", "magnet.trim.coercivity: 900 kA/m, 950 kA/m, 1000 kA/m"},
		{"magnet.trim.center.z = -2..2 mm / 2 mm", "magnet.trim.center.z: -2 mm, 0 mm, 2 mm"},
		{"layout.magnet_x & layout.magnet_y = 40, 50 mm", "layout.magnet_x&layout.magnet_y: 40 mm, 50 mm"},
		{"layout.gap", "no values"},
		{"layout.gap =", "no values"},
		{"layout.gpa = 1..2 mm / 1", `did you mean "layout.gap"?`},
		{"layout.gap = 14..22 mm", "neither a step nor how many values"},
		{"layout.gap = 14..22 mm / 0 mm", "makes no range"},
		{"layout.gap = 14..22 mm / 1 nm", `unknown unit "nm"`},
		{"layout.gap = 14..22 mm in 1", "1 values make no range"},
		{"layout.gap = 14..22 T / 2 T", `"T" is a unit of flux density`},
		{"layout.gap = wide", "no number at the start"},
		{"layout.gap = 14 mm,", "nothing is given"},
		{"layout.grade = N42..N48", "words have no range"},
		{"layout.grade & layout.gap = N42", "take different things"},
		{"wound.winding.turns = 1000..2000 mm / 500", "is not what wound.winding.turns takes"},
	} {
		v, err := ParseVariation([]byte(text), c.given)
		got := strings.Join(v.Paths, "&") + ": " + strings.Join(v.Values, ", ")
		if err != nil {
			got = err.Error()
		}
		if got != c.want && (err == nil || !strings.Contains(got, c.want)) {
			t.Errorf("%q: %s, want %s", c.given, got, c.want)
		}
	}
}

// A range with a step begins at its beginning, goes on by the step and does not pass its end.
func TestRangesAreEven(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		from := rapid.IntRange(100, 3000).Draw(t, "from")
		step := rapid.IntRange(1, 700).Draw(t, "step")
		span := rapid.IntRange(0, 5000).Draw(t, "span")
		unit := rapid.SampledFrom([]string{"mm", "in", "um"}).Draw(t, "unit")
		v, err := ParseVariation([]byte(searched), fmt.Sprintf("layout.gap = %g..%g %s / %g", float64(from)/100, float64(from+span)/100, unit, float64(step)/100))
		if err != nil {
			t.Fatal(err)
		}
		if len(v.Values) != span/step+1 {
			t.Fatalf("%d values, want %d: %v", len(v.Values), span/step+1, v.Values)
		}
		for i, s := range v.Values {
			x, own, ok := quantity.Split(s)
			if want := float64(from+i*step) / 100; !ok || own != unit || math.Abs(x-want) > 1e-9*want {
				t.Fatalf("value %d is %q, want %g %s", i, s, want, unit)
			}
		}
	})
}

func FuzzParseVariation(f *testing.F) {
	for _, s := range []string{"layout.gap = 14..22 mm / 2 mm", "layout.gap = 1..2 in in 3", "layout.grade = N42, N45", "layout.leg & layout.back = 8, 9 mm", "a=b..c/d"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		v, err := ParseVariation([]byte(searched), s)
		if err != nil {
			var known *mistake.Error
			if !errors.As(err, &known) || known.What == "" || known.Hint == "" {
				t.Fatalf("%q: %v", s, err)
			}
			return
		}
		if len(v.Values) == 0 || len(v.Values) > MostCases+1 || len(v.Paths) == 0 {
			t.Fatalf("%q: %d values of %v", s, len(v.Values), v.Paths)
		}
	})
}

func FuzzParseLimit(f *testing.F) {
	for _, s := range []string{"gap field >= 0.8 T", "uniformity<=500ppm", "cost <= 5 EUR", ">=<="} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		l, err := ParseLimit(s)
		if err == nil && (math.IsNaN(l.Value) || math.IsInf(l.Value, 0) || l.Figure.Name == "") {
			t.Fatalf("%q: %+v", s, l)
		}
	})
}

// A space has every combination once, the last variation first.
func TestSpace(t *testing.T) {
	s := spaceOf(t, searched, "gap field", "layout.gap = 14, 18 mm", "layout.leg = 8, 10, 12 mm", "layout.grade = N42, N48")
	seen := map[string]bool{}
	i := 0
	for c := range s.Cases() {
		if c.Err != nil {
			t.Fatal(c.Err)
		}
		key := fmt.Sprint(c.Settings)
		if seen[key] || len(c.Settings) != 3 {
			t.Errorf("case %d again: %s", i, key)
		}
		seen[key] = true
		d, err := c.Design()
		if err != nil {
			t.Fatal(err)
		}
		if want := []string{"N42", "N48"}[i%2]; d.Magnets[0].Material.Name != want {
			t.Errorf("case %d is of %s", i, d.Magnets[0].Material.Name)
		}
		if want := []float64{0.008, 0.010, 0.012}[i/2%3]; d.Layout.Lengths["leg"] != want {
			t.Errorf("case %d has legs of %g m", i, d.Layout.Lengths["leg"])
		}
		i++
	}
	if i != 12 || s.Size() != 12 {
		t.Errorf("%d cases, size %d", i, s.Size())
	}
}

// queued is a queue in this process with a worker.
func queued(t testing.TB, solve jobs.Solve) *jobs.Queue {
	t.Helper()
	q, err := jobs.Open(t.Context(), jobs.Options{Dir: t.TempDir(), Version: "test"})
	if err != nil {
		t.Fatal(err)
	}
	ctx, cancel := context.WithCancel(context.Background())
	var gone sync.WaitGroup
	gone.Go(func() {
		if err := q.Work(ctx, 2, solve); err != nil {
			t.Error(err)
		}
	})
	t.Cleanup(func() { cancel(); gone.Wait(); q.Close() })
	return q
}

// free is a pair without steel: its field is a closed form, so that it is solved at once.
const free = `format = 1
[target]
region = { shape = "sphere", diameter = "4 mm" }
[[magnet]]
name = "upper"
shape = "block"
size = ["20 mm", "20 mm", "10 mm"]
center = ["0 mm", "0 mm", "15 mm"]
magnetized = [0, 0, 1]
remanence = "1.2 T"
recoil = 1.0
[[magnet]]
name = "lower"
shape = "block"
size = ["20 mm", "20 mm", "10 mm"]
center = ["0 mm", "0 mm", "-15 mm"]
magnetized = [0, 0, 1]
remanence = "1.2 T"
recoil = 1.0
`

// The rows of a sweep are those of single solves; a design that cannot be built is a row with its error, and the others go on.
func TestRunIsManySolves(t *testing.T) {
	q := queued(t, Solve)
	s := spaceOf(t, free, "gap field, uniformity, mass, force", "magnet.upper.center.z = 9..21 mm / 3 mm", "magnet.upper.remanence & magnet.lower.remanence = 1.1, 1.2 T")
	table, err := s.Table()
	if err != nil {
		t.Fatal(err)
	}
	var last jobs.Progress
	err = Run(t.Context(), q, s.Cases(), Options{Total: s.Size(), Each: table.Add, Progress: func(p jobs.Progress) { last = p }})
	if err != nil {
		t.Fatal(err)
	}
	if len(table.Rows) != 10 || last.Total != 10 || last.Done != 10 || last.Failed != 0 {
		t.Fatalf("%d rows, progress %+v", len(table.Rows), last)
	}
	for i, r := range table.Rows {
		c := s.Case(s.At(i))
		d, err := c.Design()
		if err != nil {
			t.Fatal(err)
		}
		want, err := polewright.Run(t.Context(), d, polewright.Options{Accuracy: polewright.Draft, NoLedger: true})
		if err != nil {
			t.Fatal(err)
		}
		if r.Index != i || r.Error != "" || math.Abs(r.Figures["gap field"]-want.Result.GapB[2]) > 1e-12 || math.Abs(r.Figures["mass"]-want.Result.MassKg) > 1e-12 ||
			math.Abs(r.Figures["uniformity"]-want.Result.Region.PeakToPeak) > 1e-6 {
			t.Errorf("row %d: %+v, want a field of %g T and %g kg", i, r, want.Result.GapB[2], want.Result.MassKg)
		}
	}
	overlapping := spaceOf(t, free, "gap field", "magnet.upper.center.z = -10, 15 mm")
	var rows []Row
	if err := Run(t.Context(), q, overlapping.Cases(), Options{Total: 2, Each: func(r Row) { rows = append(rows, r) }, Progress: func(p jobs.Progress) { last = p }}); err != nil {
		t.Fatal(err)
	}
	slices.SortFunc(rows, func(a, b Row) int { return a.Index - b.Index })
	if len(rows) != 2 || !strings.Contains(rows[0].Error, "share space") && !strings.Contains(rows[0].Error, "overlap") || rows[1].Error != "" {
		t.Errorf("an overlap: %+v", rows)
	}
	if last.Done != 1 || last.Failed != 1 {
		t.Errorf("progress %+v", last)
	}
}

// Cases that differ in what is only said of them are one job; any other difference makes another.
func TestWhatMakesAJob(t *testing.T) {
	base := Case{Text: free, Accuracy: "draft"}
	text := func(c Case) string { // the line that makes the job's key
		p, err := c.payload()
		if err != nil {
			t.Fatal(err)
		}
		first, _, _ := bytes.Cut(p, []byte("\n"))
		return string(first)
	}
	same := base
	same.Settings, same.Label, same.Figures = []Setting{{"a", "b"}}, 5, map[string]float64{"mass": 1}
	same.Text = "# a comment\n" + same.Text
	if text(same) != text(base) {
		t.Error("a label makes another job")
	}
	for _, change := range []func(*Case){
		func(c *Case) { c.Text = strings.Replace(c.Text, "10 mm", "11 mm", 1) },
		func(c *Case) { c.Accuracy = "fine" },
		func(c *Case) { c.Effort.Parts = true },
		func(c *Case) {
			c.Deviations = []polewright.Deviation{{Kind: polewright.DeviatesRemanence, Amount: 0.01}}
		},
	} {
		c := base
		change(&c)
		if text(c) == text(base) {
			t.Errorf("the same job: %+v", c)
		}
	}
	if n := reflect.TypeFor[Case]().NumField(); n != 10 {
		t.Errorf("Case has %d fields: does each belong to the job, or not?", n)
	}
}

// A worker does not take a design that is another than its key names.
func TestAForeignDesign(t *testing.T) {
	c := Case{Text: free, Accuracy: "draft", Identity: strings.Repeat("0", 64)}
	p, err := c.payload()
	if err != nil {
		t.Fatal(err)
	}
	if _, err := Solve(t.Context(), p); err == nil || !strings.Contains(err.Error(), "not the one that its key names") {
		t.Errorf("got %v", err)
	}
}

func TestDeviationsAreApplied(t *testing.T) {
	c := Case{Text: free, Accuracy: "draft"}
	as, err := c.Solve(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	c.Deviations = []polewright.Deviation{{Kind: polewright.DeviatesRemanence, Amount: 0.02}}
	built, err := c.Solve(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	// Without steel and recoil the field is proportional to the remanence.
	if got := built["gap field"]/as["gap field"] - 1; math.Abs(got-0.02) > 1e-9 {
		t.Errorf("2 %% of remanence change the field by %g", got)
	}
}

// A curve file goes with the case to wherever it is solved.
func TestCurveFilesTravel(t *testing.T) {
	dir := t.TempDir()
	curve := "H_A_per_m,B_T\n0,0\n1000,1.2\n10000,1.7\n100000,2.1\n"
	if err := os.WriteFile(filepath.Join(dir, "own.csv"), []byte(curve), 0o600); err != nil {
		t.Fatal(err)
	}
	text := free + "[[steel]]\nname = \"plate\"\nshape = \"block\"\nsize = [\"40 mm\", \"40 mm\", \"5 mm\"]\ncenter = [\"0 mm\", \"0 mm\", \"22.5 mm\"]\ncurve_file = \"own.csv\"\n"
	s := &Space{Text: []byte(text), File: filepath.Join(dir, "design.toml"), Accuracy: "draft"}
	c := s.Case(nil)
	if c.Err != nil || c.Files["own.csv"] != curve {
		t.Fatalf("%v, files %v", c.Err, c.Files)
	}
	if err := os.RemoveAll(dir); err != nil { // another machine has no such folder
		t.Fatal(err)
	}
	d, err := c.Design()
	if err != nil {
		t.Fatal(err)
	}
	if b, _, _ := d.Steels[0].Material.Curve.Eval(1000); math.Abs(b-1.2) > 1e-9 {
		t.Errorf("the curve has %g T at 1000 A/m", b)
	}
	// A curve is part of what the design is, whatever the text says.
	bent := c
	bent.Files = map[string]string{"own.csv": strings.Replace(curve, "1.7", "1.71", 1)}
	if _, err := bent.Design(); err == nil || !strings.Contains(err.Error(), "not the one that its key names") {
		t.Errorf("another curve: %v", err)
	}
	c.Files = map[string]string{"../own.csv": curve}
	if _, err := c.Design(); err == nil || !strings.Contains(err.Error(), "not in the folder") {
		t.Errorf("a curve outside of the folder: %v", err)
	}
}

func TestCost(t *testing.T) {
	list, err := stock.Read(bytes.NewReader(stock.Starter()), "starter.csv")
	if err != nil {
		t.Fatal(err)
	}
	s := spaceOf(t, searched, "cost", "layout.magnet_z = 19, 20, 21 mm")
	s.Stock = list
	for c := range s.Cases() {
		d, err := c.Design()
		if err != nil {
			t.Fatal(err)
		}
		bill, err := stock.BillOf(d, list)
		if err != nil {
			t.Fatal(err)
		}
		cost, ok := c.Figures["cost"]
		if ok != (len(bill.Missing) == 0) || ok && cost != bill.Cost {
			t.Errorf("%v: cost %g, %t; the bill has %g and misses %v", c.Settings, cost, ok, bill.Cost, bill.Missing)
		}
	}
}

func filledTable(t *testing.T) *Table {
	t.Helper()
	s := spaceOf(t, searched, "gap field, stray reach, uniformity", "layout.gap = 14, 18 mm", "layout.grade = N42, N48")
	table, err := s.Table()
	if err != nil {
		t.Fatal(err)
	}
	for _, i := range []int{2, 0, 3, 1} {
		r := Row{Index: i, Settings: s.Case(s.At(i)).Settings, Figures: map[string]float64{"gap field": 0.5 + float64(i)/8, "stray reach": 0.12, "uniformity": 512.25}, Seconds: 0.25}
		if i == 3 {
			r.Figures, r.Error = nil, "parts overlap\n  hint: move one, \"or\" both"
		}
		table.Add(r)
	}
	return table
}

func TestTableAsText(t *testing.T) {
	var b strings.Builder
	if err := filledTable(t).Text(&b); err != nil {
		t.Fatal(err)
	}
	want := `layout.gap  layout.grade  gap field T  stray reach mm  uniformity ppm
     14 mm           N42       0.5000           120.0           512.2
     14 mm           N48       0.6250           120.0           512.2
     18 mm           N42       0.7500           120.0           512.2
     18 mm           N48                                               parts overlap
`
	if b.String() != want {
		t.Errorf("got\n%s\nwant\n%s", b.String(), want)
	}
}

func TestTableAsCSV(t *testing.T) {
	table := filledTable(t)
	var b bytes.Buffer
	if err := table.CSV(&b); err != nil {
		t.Fatal(err)
	}
	lines, err := csv.NewReader(&b).ReadAll()
	if err != nil || len(lines) != 5 {
		t.Fatal(lines, err)
	}
	if got := strings.Join(lines[0], " "); got != "index layout.gap_m layout.grade gap_field_T stray_reach_m uniformity_ppm error" {
		t.Error(got)
	}
	if got := strings.Join(lines[2], " "); got != "1 0.014 N48 0.625 0.12 512.25 " {
		t.Error(got)
	}
	if lines[4][3] != "" || lines[4][6] != table.Rows[3].Error {
		t.Errorf("%q", lines[4])
	}
}

// Parquet holds what CSV holds.
func TestTableAsParquet(t *testing.T) {
	table := filledTable(t)
	var b, text bytes.Buffer
	if err := errors.Join(table.Parquet(&b), table.CSV(&text)); err != nil {
		t.Fatal(err)
	}
	lines, err := csv.NewReader(&text).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	f, err := parquet.OpenFile(bytes.NewReader(b.Bytes()), int64(b.Len()))
	if err != nil {
		t.Fatal(err)
	}
	columns := f.Schema().Columns()
	rows := f.RowGroups()[0].Rows()
	defer rows.Close()
	buffer := make([]parquet.Row, 10)
	n, err := rows.ReadRows(buffer)
	if err != nil && err != io.EOF || n != 4 || len(columns) != len(lines[0]) {
		t.Fatal(n, columns, err)
	}
	for i, row := range buffer[:n] {
		for k, v := range row {
			want := lines[i+1][slices.Index(lines[0], columns[k][0])]
			got := ""
			switch {
			case v.IsNull():
			case v.Kind() == parquet.Double:
				got = strconv.FormatFloat(v.Double(), 'g', -1, 64)
			default:
				got = string(v.ByteArray())
			}
			if got != want {
				t.Errorf("row %d, %s: %q, want %q", i, columns[k], got, want)
			}
		}
	}
}

func TestLine(t *testing.T) {
	table := filledTable(t)
	line, err := table.Line(table.Rows[1], &Verdict{Keeps: true})
	if err != nil {
		t.Fatal(err)
	}
	want := `{"index":1,"parameters":{"layout.gap":"14 mm","layout.grade":"N48"},"parameters_si":{"layout.gap":0.014},"figures":{"gap_field_T":0.625,"stray_reach_m":0.12,"uniformity_ppm":512.25},"known":false,"seconds":0.25,"keeps_limits":true,"best":false}`
	if string(line) != want || !json.Valid(line) {
		t.Errorf("%s\nwant %s", line, want)
	}
}

func TestChart(t *testing.T) {
	table := filledTable(t)
	g, err := table.Chart(named(t, "gap field"), "title")
	if err != nil {
		t.Fatal(err)
	}
	if g.XName != "layout.gap, mm" || g.YName != "gap field, T" || len(g.Curves) != 2 || g.Curves[0].Name != "N42" {
		t.Errorf("%+v", g)
	}
	if c := g.Curves[0]; math.Abs(c.X[0]-14) > 1e-9 || math.Abs(c.X[1]-18) > 1e-9 || c.Y[0] != 0.5 || c.Y[1] != 0.75 {
		t.Errorf("%+v", c)
	}
	if c := g.Curves[1]; c.Y[0] != 0.625 || !math.IsNaN(c.Y[1]) {
		t.Errorf("a design that failed is drawn: %+v", c)
	}
	var b bytes.Buffer
	if err := g.PNG(&b, 160); err != nil || b.Len() == 0 {
		t.Error(err)
	}
	words := spaceOf(t, searched, "gap field", "layout.grade = N42, N48")
	other, err := words.Table()
	if err != nil {
		t.Fatal(err)
	}
	if _, err := other.Chart(named(t, "gap field"), ""); err == nil || !strings.Contains(err.Error(), "needs a parameter that takes numbers") {
		t.Error(err)
	}
}

func TestFigures(t *testing.T) {
	for _, f := range FigureList {
		for _, name := range []string{f.Name, f.Column(), strings.ToUpper(f.Name), strings.ReplaceAll(f.Name, " ", "-")} {
			if got, err := FigureNamed(name); err != nil || got.Name != f.Name {
				t.Errorf("%q: %v, %v", name, got.Name, err)
			}
		}
		if f.effort.Halves && !f.effort.Parts || f.effort.Temperatures && !f.effort.Parts {
			t.Errorf("%s needs parts, too", f.Name)
		}
	}
	d, err := design.Read(strings.NewReader(free), "")
	if err != nil {
		t.Fatal(err)
	}
	var names []string
	for _, f := range FiguresFor(d) {
		names = append(names, f.Name)
	}
	if got, want := strings.Join(names, ", "), "gap field, mean field, uniformity, mass, magnet mass, stray reach, force, error"; got != want {
		t.Errorf("a pair without steel and temperatures has %s, want %s", got, want)
	}
	// Every figure that a design has comes out of a solve with the effort that it needs.
	c := Case{Text: free, Accuracy: "draft", Effort: EffortFor(FiguresFor(d))}
	got, err := c.Solve(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	for _, f := range FiguresFor(d) {
		if !f.local && !has(got, f.Name) {
			t.Errorf("no %s in %v", f.Name, got)
		}
	}
}

func ExampleParseVariation() {
	text := []byte("format = 1\n[layout]\nkind = \"framed-pair\"\ngap = \"18 mm\"\n")
	v, _ := ParseVariation(text, "layout.gap = 14..22 mm / 4 mm")
	fmt.Println(v.Paths, v.Values)
	_, err := ParseVariation(text, "layout.gap = 14..22")
	fmt.Println(err)
	// Output:
	// [layout.gap] [14 mm 18 mm 22 mm]
	// "layout.gap = 14..22": neither a step nor how many values
	//   hint: write from..to / step or from..to in N, e.g. "layout.gap = 18..36 mm in 5"
}

// BenchmarkStudy is what a study costs for each design besides its solve: the design read and set, the queue, the row.
func BenchmarkStudy(b *testing.B) {
	q := queued(b, func(context.Context, []byte) ([]byte, error) { return []byte(`{"gap field":0.6}`), nil })
	text, err := design.Template("framed-pair")
	if err != nil {
		b.Fatal(err)
	}
	s := spaceOf(b, text, "gap field", "magnet.upper.size.x = 50..60 mm in 1000", "magnet.lower.size.x = 50..60 mm in 1000")
	b.ResetTimer()
	cases := func(yield func(Case) bool) {
		for i := range b.N {
			if !yield(s.Case(s.At(i))) {
				return
			}
		}
	}
	if err := Run(b.Context(), q, cases, Options{Total: b.N, Each: func(Row) {}}); err != nil {
		b.Fatal(err)
	}
}

// A tolerance study whose first run was stopped goes on where it was: what its sensitivities took is not solved again, nor are its builds, and the answer
// is that of a study that nobody stopped.
func TestToleranceGoesOn(t *testing.T) {
	d, err := design.Read(strings.NewReader(free), "")
	if err != nil {
		t.Fatal(err)
	}
	var mu sync.Mutex
	solved := map[string]int{} // by the first line of the payload
	q := queued(t, func(ctx context.Context, payload []byte) ([]byte, error) {
		first, _, _ := bytes.Cut(payload, []byte("\n"))
		mu.Lock()
		solved[string(first)]++
		mu.Unlock()
		return Solve(ctx, payload)
	})
	run := func(ctx context.Context, most int) (*result.Tolerance, error) {
		ctx, stop := context.WithCancel(ctx)
		defer stop()
		return polewright.RunTolerance(ctx, d, polewright.Tolerances{Seed: 1, Solves: 3, Solve: func(ctx context.Context, list []polewright.Build, each func(int, polewright.Built, error)) error {
			return RunBuilds(ctx, q, Case{Text: free, Accuracy: "draft"}, list, Options{}, func(k int, b polewright.Built, err error) {
				if each(k, b, err); most > 0 {
					if most--; most == 0 {
						stop()
					}
				}
			})
		}})
	}
	if _, err := run(t.Context(), 5); err == nil {
		t.Fatal("a study that was stopped has an answer")
	}
	got, err := run(t.Context(), 0)
	if err != nil {
		t.Fatal(err)
	}
	for payload, n := range solved {
		if n > 1 {
			t.Errorf("solved %d times: %s", n, payload)
		}
	}
	whole, err := polewright.RunTolerance(t.Context(), d, polewright.Tolerances{Seed: 1, Solves: 3})
	if err != nil {
		t.Fatal(err)
	}
	for i := range whole.Figures {
		a, b := got.Figures[i], whole.Figures[i]
		if a.Spread != b.Spread || *a.Solved != *b.Solved {
			t.Errorf("%s by jobs: %+v, %+v; here %+v, %+v", a.What, a.Spread, *a.Solved, b.Spread, *b.Solved)
		}
	}
}
