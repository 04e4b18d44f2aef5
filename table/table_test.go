package table

import (
	"errors"
	"fmt"
	"io"
	"strings"
	"testing"
	"testing/iotest"

	"polewright/mistake"
	"polewright/quantity"
)

// shelf is a reader of a table of words, lengths and prices.
func shelf() *Reader {
	lengths := []quantity.Dimension{quantity.Length}
	return &Reader{File: "a.csv", Kind: "list", Header: "name,x_mm,y_mm,price_EUR", Sample: "A,1,2,3", Takes: []Column{
		{Name: "name", What: "name"}, {Name: "x", What: "place", Index: 0, Of: lengths}, {Name: "y", What: "place", Index: 1, Of: lengths},
		{Name: "weight", What: "weight", Of: []quantity.Dimension{quantity.Mass, quantity.Force}}, {Name: "price", What: "price", Money: true},
	}}
}

// rows reads a table whose cells are words or numbers with a unit.
func rows(r *Reader, src io.Reader) (lines []string, err error) {
	var columns []Column
	err = r.Read(src, func(c []Column) bool { columns = c; return true }, func(cells []string) bool {
		line := fmt.Sprint(r.Line)
		for i, c := range columns {
			if len(c.Of) == 0 || cells[i] == "" {
				line += " " + cells[i]
			} else if v, ok := r.Number(c, cells[i]); ok {
				line += fmt.Sprintf(" %.6g", v)
			}
		}
		lines = append(lines, line)
		return true
	})
	return lines, errors.Join(err, r.Err())
}

func TestRead(t *testing.T) {
	r := shelf()
	lines, err := rows(r, strings.NewReader("\ufeff# Shop: mine\r\n,,,\r\nname, y_in ,price_EUR,weight_N\n\"a, b\",1,,2\n,,,\nc\n# done"))
	// The inch is 25.4 mm (international yard and pound agreement, 1959).
	if want := "[4 a, b 0.0254  2 6 c   ]"; err != nil || fmt.Sprint(lines) != want {
		t.Errorf("%q, %v, want %q", fmt.Sprint(lines), err, want)
	}
	if len(r.Notes) != 2 || r.Notes[0] != (Note{"shop", "mine", 1}) || r.Notes[1] != (Note{"", "done", 7}) {
		t.Errorf("%+v", r.Notes)
	}
}

func TestMistakes(t *testing.T) {
	for _, c := range []struct{ text, want string }{
		{"", "a.csv: there is no header\n  hint: begin with the columns and their units: name,x_mm"},
		{"name;x_mm\n", "a.csv:1: the columns are not parted by commas"},
		{"\nname,,x_mm\n", "a.csv:2: column 2 has no name"},
		{"A,1,2,3\n", "a.csv:1: there is no header above the numbers\n  hint: the first line names the columns"},
		{"nmae,x_mm\n", "a.csv:1: \"nmae\" is no column of a list\n  hint: did you mean \"name\"?"},
		{"name_mm\n", "a.csv:1: name_mm: takes no unit"},
		{"x\n", "a.csv:1: x: has no unit of length\n  hint: write for example x_mm; there are mm, m, cm, um, in, ft"},
		{"x_kg\n", "x_kg: has no unit of length"},
		{"weight_mm\n", "weight_mm: has no unit of mass or force"},
		{"price\n", "price: has no code of a currency"},
		{"price_QQQ\n", "price_QQQ: has no code of a currency"},
		{"x_mm,y_mm,x_in\n", "a.csv:1: x_in: gives the place again, after x_mm"},
		{"name,x_mm\na,1\nb,2,3\n", "a.csv:3: there are 3 values for 2 columns"},
		{"name,x_mm\na\"b,1\n", "a.csv:2: has a quotation mark astray"},
		{"name,x_mm\n\xff,1\n", "a.csv:2: is not text in UTF-8"},
		{"name,x_mm\na,1 mm\n", "a.csv:2: x_mm: \"1 mm\" is no value of the place\n  hint: write the number alone, with a point in decimals; its unit, mm,"},
		{"name,x_mm\na,NaN\n", `"NaN" is no value of the place`},
		{"name,x_mm\na,1e300\n", `"1e300" is no value of the place`},
		{"name\n" + strings.Repeat("a", longest+1), "a.csv:2: the line is longer than 4096 bytes"},
	} {
		_, err := rows(shelf(), strings.NewReader(c.text))
		if list, ok := errors.AsType[mistake.Errors](err); !ok || len(list) != 1 || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%.40q: %v\nwant one with %s", c.text, err, c.want)
		}
	}
	_, err := rows(shelf(), strings.NewReader("x_mm\n"+strings.Repeat("a\n", 100)))
	if list, _ := errors.AsType[mistake.Errors](err); len(list) != mistake.Most {
		t.Errorf("%d mistakes are told of 100", len(list))
	}
	broken := errors.New("unplugged")
	if _, err := rows(shelf(), io.MultiReader(strings.NewReader("x_mm\n1\n"), iotest.ErrReader(broken))); !errors.Is(err, broken) {
		t.Errorf("%v", err)
	}
}

// Cells come one for each column, in rising lines; all else is told as mistakes with words.
func FuzzRead(f *testing.F) {
	for _, s := range []string{"name,x_mm\na,1\n", "# k: v\nx_in,y_m,weight_kg,price_EUR\n1,2,3,4\n", "x_mm;y_mm\n", "name\n\"a,\n", "name\n\"\"\n,\n"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, text string) {
		r, width, last := shelf(), 0, 0
		err := r.Read(strings.NewReader(text), func(c []Column) bool { width = len(c); return true }, func(cells []string) bool {
			if len(cells) != width || r.Line <= last {
				t.Fatalf("%q for %d columns, line %d after %d", cells, width, r.Line, last)
			}
			last = r.Line
			return true
		})
		if err != nil || width == 0 && r.Failed() == 0 {
			t.Fatalf("%d columns, %v, %v", width, err, r.Err())
		}
	})
}
