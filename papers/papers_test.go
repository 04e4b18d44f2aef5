package papers

import (
	"bytes"
	"context"
	"encoding/xml"
	"fmt"
	"io"
	"math"
	"regexp"
	"strings"
	"sync"
	"testing"

	"codeberg.org/go-fonts/liberation/liberationsansregular"
	"codeberg.org/go-pdf/fpdf"
	"gonum.org/v1/plot/vg"
	"pgregory.net/rapid"

	"polewright"
	"polewright/design"
	"polewright/result"
)

// pot is a solved design of every kind of page but a winding's, quick because it is round.
var pot = sync.OnceValues(func() (Source, error) {
	text, err := design.Template("round-pot")
	if err != nil {
		return Source{}, err
	}
	d, err := design.Read(strings.NewReader(text), "")
	if err != nil {
		return Source{}, err
	}
	s, err := polewright.Run(context.Background(), d, polewright.Options{Accuracy: polewright.Draft, Halves: []polewright.Plane{{Axis: 2}}})
	return Source{Design: d, Solved: s, File: []byte(text), Version: "v0", Date: "2026-11-25"}, err
})

var potDocument = sync.OnceValues(func() (*Document, error) {
	s, err := pot()
	if err != nil {
		return nil, err
	}
	return Compose(context.Background(), s, nil)
})

func document(t *testing.T) (*Document, *result.Result, string) {
	t.Helper()
	s, err := pot()
	if err != nil {
		t.Fatal(err)
	}
	d, err := potDocument()
	if err != nil {
		t.Fatal(err)
	}
	var b strings.Builder
	if err := d.WriteText(&b); err != nil {
		t.Fatal(err)
	}
	return d, s.Solved.Result, b.String()
}

// The document has every section, and its tables have the numbers of the result, to the digits that are printed: the formats here are
// the standard library's.
func TestDocumentSaysTheResult(t *testing.T) {
	d, r, text := document(t)
	var titles []string
	for _, s := range d.Sections {
		titles = append(titles, s.Title)
	}
	want := "Cautions, Bill of materials, General arrangement, Part drawings, Field maps, Profiles, Field in numbers, Magnets: working points and temperature, " +
		"Yoke: saturation, Forces, Order of assembly, Safety card, Loss ledger, How it was solved, Design file"
	if got := strings.Join(titles, ", "); got != want {
		t.Errorf("sections %s, want %s", got, want)
	}
	lines := []string{fmt.Sprintf("Field in the gap | %.4f T along +z", size(r.GapB)), "polewright v0\n2026-11-25\n", fmt.Sprintf("all |  |  |  |  | %.3f\n", r.MassKg)}
	for _, p := range r.Probes {
		lines = append(lines, fmt.Sprintf(" | %.4f | %.4f | ", p.B[2], size(p.B)))
	}
	for _, p := range r.Parts {
		f := size(p.Force)
		if f >= 100 {
			lines = append(lines, fmt.Sprintf(" | %.0f | ", f))
		}
		if w := p.WorkingPoint; w != nil {
			lines = append(lines, fmt.Sprintf("%s | %s | %.4f | %.1f | %.2f | %.1f | %.1f | %g | %.0f | ", p.Name, p.Material, w.B, w.H/1e3, w.Permeance, w.LowestH/1e3, w.WorstKneeH/1e3, w.WorstC, 100*w.KneeMargin))
		}
		if p.Kind == "steel" {
			lines = append(lines, fmt.Sprintf("%s | %s | %.3f | %.4f | %.4f | %.1f | %.1f\n", p.Name, p.Material, p.MassKg, p.MeanB, p.MaxB, 100*p.Saturation, 100*p.MaxSaturation))
		}
	}
	for _, x := range r.Ledger.Rows {
		lines = append(lines, fmt.Sprintf(" | %.1f | ", 1e3*x.After))
	}
	for _, x := range r.Demagnetization.Temperatures {
		lines = append(lines, fmt.Sprintf("%g | %.4f | %.1f\n", x.DegC, x.GapB, 100*x.PastKnee))
	}
	up := func(m float64) float64 { return math.Ceil(1e3 * m) } // reaches are rounded up
	lines = append(lines, fmt.Sprintf(" | %.0f | %.0f | %.0f | %.0f | ", up(r.Stray[0].Reach.X), up(r.Stray[0].Reach.Y), up(r.Stray[0].Reach.Z), up(r.Stray[0].Largest)))
	lines = append(lines, fmt.Sprintf("%.4f | %.4f | %.4f | ", r.Region.MeanB, r.Region.MinB, r.Region.MaxB))
	for _, x := range r.Harmonics.Terms[:1] {
		lines = append(lines, fmt.Sprintf("%d | %d | %s | %.7f | %.1f\n", x.N, x.M, x.Kind, x.B, x.PPM))
	}
	if s, _ := pot(); !strings.Contains(text, string(s.File)) {
		t.Error("the document lacks the design file")
	}
	for _, l := range lines {
		if !strings.Contains(text, strings.ReplaceAll(l, " degC", " °C")) {
			t.Errorf("the document does not say %q", l)
		}
	}
}

// The PDF has all its fonts in it, its pages are of the paper asked for, and its bytes are the same each time. Keys are those of ISO 32000-1.
func TestPDF(t *testing.T) {
	d, _, _ := document(t)
	for _, paper := range []Paper{A4, Letter} {
		var a, b bytes.Buffer
		if err := d.PDF(&a, paper); err != nil {
			t.Fatal(err)
		}
		for range 3 { // the library keeps what it writes in maps, whose order changes
			b.Reset()
			if err := d.PDF(&b, paper); err != nil || !bytes.Equal(a.Bytes(), b.Bytes()) {
				t.Errorf("%s: two PDF of one document differ (%v)", paper.Name, err)
			}
		}
		s := a.String()
		if !strings.HasPrefix(s, "%PDF-1.") || !strings.HasSuffix(strings.TrimSpace(s), "%%EOF") {
			t.Errorf("%s: no header or end", paper.Name)
		}
		count := func(expr string) int { return len(regexp.MustCompile(expr).FindAllString(s, -1)) }
		n := count(`/Type /Page\b`)
		if n < 15 || count(fmt.Sprintf(`/Count %d\b`, n)) != 1 {
			t.Errorf("%s: %d pages", paper.Name, n)
		}
		if fonts, files := count(`/Type /FontDescriptor`), count(`/FontFile2 `); fonts != 3 || files != fonts {
			t.Errorf("%s: %d fonts, %d of them embedded, want 3", paper.Name, fonts, files)
		}
		if a.Len() > 5e6 {
			t.Errorf("%s: %d bytes", paper.Name, a.Len())
		}
		if box := fmt.Sprintf("/MediaBox [0 0 %.2f %.2f]", paper.Width, paper.Height); !strings.Contains(s, box) {
			t.Errorf("%s: there is no %s", paper.Name, box)
		}
	}
}

// The page is well-formed, refers to nothing outside itself, and says every cell of the tables.
func TestHTML(t *testing.T) {
	d, _, _ := document(t)
	var b bytes.Buffer
	if err := d.HTML(&b); err != nil {
		t.Fatal(err)
	}
	if s := b.String(); strings.Contains(s, "@import") || strings.Contains(s, "url(") || strings.Contains(s, "<script") {
		t.Error("the page loads something")
	}
	var words strings.Builder
	ids := map[string]bool{}
	for x := xml.NewDecoder(&b); ; {
		k, err := x.Token()
		if err == io.EOF {
			break
		}
		if err != nil {
			t.Fatal(err)
		}
		switch k := k.(type) {
		case xml.CharData:
			words.Write(k)
			words.WriteByte('\n')
		case xml.StartElement:
			for _, a := range k.Attr {
				switch a.Name.Local {
				case "href", "src":
					if !strings.HasPrefix(a.Value, "#") && !strings.HasPrefix(a.Value, "data:") {
						t.Errorf("<%s %s=%q> is an outside reference", k.Name.Local, a.Name.Local, a.Value)
					}
				case "id":
					if ids[a.Value] {
						t.Errorf("two elements are called %q", a.Value)
					}
					ids[a.Value] = true
				}
			}
		}
	}
	cells := 0
	for _, s := range d.Sections {
		for _, k := range s.Blocks {
			if k, ok := k.(Table); ok {
				for _, r := range k.Rows {
					for _, c := range r {
						if cells++; !strings.Contains(words.String(), c) {
							t.Errorf("the page does not say %q", c)
						}
					}
				}
			}
		}
	}
	if cells < 200 {
		t.Errorf("only %d cells", cells)
	}
}

func TestWrapKeepsTheWords(t *testing.T) {
	pdf := fpdf.New("P", "pt", "A4", "")
	pdf.AddUTF8FontFromBytes(sans, "", liberationsansregular.TTF)
	pdf.SetFont(sans, "", 9)
	p := &typesetter{Fpdf: pdf, paper: A4}
	rapid.Check(t, func(t *rapid.T) {
		s := rapid.StringMatching(`[a-zA-Zµ°²0-9 ]{0,120}`).Draw(t, "text")
		width := rapid.Float64Range(15, 300).Draw(t, "width")
		lines := p.wrap(s, width)
		if got, want := strings.Join(lines, ""), strings.Join(strings.Fields(s), ""); strings.ReplaceAll(got, " ", "") != want {
			t.Fatalf("%q became %q", s, lines)
		}
		for _, l := range lines {
			if p.GetStringWidth(l) > width {
				t.Fatalf("%q is wider than %g", l, width)
			}
		}
	})
}

// A picture's transformations: x = 10 right of the origin, turned a quarter left, doubled along x, lies 20 above it (3, 4).
func TestCanvasPlaces(t *testing.T) {
	c := newCanvas(nil, 100, 500, nil)
	c.Push()
	c.Translate(vg.Point{X: 3, Y: 4})
	c.Rotate(math.Pi / 2)
	c.Scale(2, 1)
	if x, y := c.place(vg.Point{X: 10, Y: 0}); math.Abs(x-103) > 1e-9 || math.Abs(y-(500-24)) > 1e-9 {
		t.Errorf("at (%g, %g), want (103, 476)", x, y)
	}
	c.Pop()
	if x, y := c.place(vg.Point{X: 1, Y: 1}); x != 101 || y != 499 {
		t.Errorf("after Pop at (%g, %g)", x, y)
	}
}

func TestPaperNamed(t *testing.T) {
	if p, err := PaperNamed("a4"); err != nil || math.Abs(p.Width*25.4/72-210) > 1e-9 {
		t.Error(p, err)
	}
	if _, err := PaperNamed("B5"); err == nil || !strings.Contains(err.Error(), "A4 or letter") {
		t.Error(err)
	}
}

// A wound design has its winding sheet, with the turns that the file asks for in the last row.
func TestWindingSheet(t *testing.T) {
	text, err := design.Template("wound-pair")
	if err != nil {
		t.Fatal(err)
	}
	d, err := design.Read(strings.NewReader(text), "")
	if err != nil {
		t.Fatal(err)
	}
	list, err := windingSheets(context.Background(), Source{Design: d, Solved: &polewright.Solved{Result: &result.Result{}}})
	if err != nil || len(list) != 1 {
		t.Fatal(list, err)
	}
	layers := list[0].Blocks[1].(Table).Rows
	if last := layers[len(layers)-1]; last[4] != fmt.Sprint(d.Wounds[0].Turns) {
		t.Errorf("the last layer ends at %s turns, the design has %d", last[4], d.Wounds[0].Turns)
	}
}
