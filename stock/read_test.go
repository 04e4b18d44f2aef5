package stock

import (
	"bytes"
	"encoding/csv"
	"errors"
	"fmt"
	"math"
	"reflect"
	"strconv"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"polewright/mistake"
)

func TestStarterIsSound(t *testing.T) {
	l, err := Read(bytes.NewReader(Starter()), "starter.csv")
	if err != nil {
		t.Fatal(err)
	}
	count := map[string]int{}
	for _, x := range l.Lines {
		count[x.Shape]++
		if !(x.MassKg > 0 && x.Price > 0) {
			t.Errorf("%+v", x)
		}
	}
	for _, s := range shapes {
		if count[s] == 0 {
			t.Errorf("no %s in the starter list", s)
		}
	}
	if !strings.HasPrefix(string(Starter()), "# INVENTED") {
		t.Error("the starter list does not say that it is invented")
	}
}

// Each slip is told with its line, its column, what was given and what would do; nothing is kept.
func TestMistakes(t *testing.T) {
	const head = "name,shape,material,length_mm,width_mm,thickness_mm,diameter_mm,inner_mm,mass_kg,price_EUR,available\n"
	for _, c := range []struct{ name, text, want string }{
		{"empty", "", "list.csv: there is no header\n  hint: begin with the columns"},
		{"notes alone", "# nothing\n\n", "there is no header"},
		{"header alone", head, "there is nothing in the list"},
		{"semicolons", "name;shape;material;price_EUR\n", "list.csv:1: the columns are not parted by commas"},
		{"no currency", "name,shape,material,price\n", "list.csv:1: price: has no code of a currency\n  hint: write the three capital letters of ISO 4217: price_EUR"},
		{"small letters", "name,shape,material,price_eur\n", "price_eur: has no code of a currency"},
		{"no such currency", "name,shape,material,price_QQQ\n", "price_QQQ: has no code"},
		{"no unit", "name,shape,material,width,price_EUR\n", "list.csv:1: width: has no unit of length\n  hint: write for example width_mm"},
		{"wrong unit", "name,shape,material,width_kg,price_EUR\n", "width_kg: has no unit of length"},
		{"unknown column", "name,shape,material,price_EUR,colour\n", `list.csv:1: "colour" is no column of a list of stock`},
		{"misspelt column", "name,shape,material,price_EUR,refrence\n", `did you mean "reference"?`},
		{"column twice", "name,shape,material,width_mm,width_in,price_EUR\n", "width_in: gives the width again, after width_mm"},
		{"two prices", "name,shape,material,price_EUR,price_USD\n", "price_USD: gives the price again"},
		{"no name for a column", "name,shape,material,,price_EUR\n", "column 4 has no name"},
		{"no material column", "name,shape,price_EUR\n", "there is no column material"},
		{"no column for a size", "name,shape,material,diameter_mm,price_EUR\na,disc,N42,10,1\n", "list.csv:2: a disc needs a column for its thickness"},
		{"shape", head + "a,blok,N42,10,10,5,,,,1\n", `list.csv:2: shape: "blok" is no shape of stock` + "\n  hint: did you mean \"block\"?"},
		{"no shape", head + "a,,N42,10,10,5,,,,1\n", "shape: is missing"},
		{"grade", head + "a,block,N43,10,10,5,,,,1\n", `list.csv:2: material: no grade "N43"`},
		{"steel as magnet", head + "a,block,steel-1018,10,10,5,,,,1\n", "material: no grade"},
		{"magnet as bar", head + "a,flat,N42,100,10,5,,,,1\n", `material: no steel "N42"`},
		{"no material", head + "a,block,,10,10,5,,,,1\n", "material: is missing"},
		{"no name", head + ",block,N42,10,10,5,,,,1\n", "name: is missing"},
		{"name twice", head + "a,block,N42,10,10,5,,,,1\na,block,N42,10,10,5,,,,1\n", `list.csv:3: name: "a" is used twice; first on line 2`},
		{"size missing", head + "a,block,N42,10,,5,,,,1\n", "list.csv:2: width_mm: is missing\n  hint: a block has length, width, thickness"},
		{"size too many", head + "a,disc,N42,10,,5,10,,,1\n", `length_mm: "10": a disc has none`},
		{"NaN", head + "a,block,N42,NaN,10,5,,,,1\n", `length_mm: "NaN" is no value of the length`},
		{"infinite", head + "a,block,N42,1e999,10,5,,,,1\n", `"1e999" is no value of the length`},
		{"unit in the cell", head + "a,block,N42,10 mm,10,5,,,,1\n", `"10 mm" is no value of the length` + "\n  hint: write the number alone, with a point in decimals; its unit, mm, stands in the header"},
		{"zero", head + "a,block,N42,0,10,5,,,,1\n", `"0" is no value of the length` + "\n  hint: write a size above zero"},
		{"negative", head + "a,block,N42,-10,10,5,,,,1\n", `"-10" is no value of the length`},
		{"huge", head + "a,block,N42,1e6,10,5,,,,1\n", "a length lies between 0.01 mm and 100 m"},
		{"hexadecimal", head + "a,block,N42,0x10,10,5,,,,1\n", `"0x10" is no value`},
		{"decimal comma", head + "a,block,N42,10,10,\"5,5\",,,,1\n", `"5,5" is no value of the thickness`},
		{"ring inside out", head + "a,ring,N42,,,5,10,20,,1\n", "inner: is not below the outer diameter"},
		{"bar on edge", head + "a,flat,steel-1018,500,10,50,,,,1\n", "thickness: is above the width"},
		{"price missing", head + "a,block,N42,10,10,5,,,,\n", "list.csv:2: price_EUR: is missing"},
		{"price with sign", head + "a,block,N42,10,10,5,,,,€ 3\n", `price_EUR: "€ 3" is no value of the price`},
		{"price NaN", head + "a,block,N42,10,10,5,,,,nan\n", `"nan" is no value of the price`},
		{"available", head + "a,block,N42,10,10,5,,,,1,2.5\n", `available: "2.5" is no number of pieces`},
		{"too many values", head + "a,block,N42,10,10,5,,,,1,2,3\n", "12 values for 11 columns"},
		{"quote", head + "a\"b,block,N42,10,10,5,,,,1\n", "list.csv:2: has a quotation mark astray"},
		{"not UTF-8", "name,shape\xb0", "is not text in UTF-8"},
		{"name with control signs", head + "a\x07b,block,N42,10,10,5,,,,1\n", "signs that do not print"},
	} {
		t.Run(c.name, func(t *testing.T) {
			l, err := Read(strings.NewReader(c.text), "list.csv")
			if l != nil || err == nil {
				t.Fatalf("taken: %+v", l)
			}
			if !strings.Contains(err.Error(), c.want) {
				t.Errorf("got\n%v\nwant\n%s", err, c.want)
			}
		})
	}
}

func TestAllMistakesAtOnce(t *testing.T) {
	text := "name,shape,material,length_mm,width_mm,thickness_mm,price_EUR\n" + "a,block,N42,x,10,5,1\n# note\nb,block,N999,10,10,5,\nc,block,N42,10,10,5,1\n"
	_, err := Read(strings.NewReader(text), "list.csv")
	var all mistake.Errors
	if !errors.As(err, &all) || len(all) != 3 || all[0].Line != 2 || all[1].Line != 4 || all[2].Line != 4 {
		t.Fatalf("%v", err)
	}
	_, err = Read(strings.NewReader("name,shape,material,length_mm,width_mm,thickness_mm,price_EUR\n"+strings.Repeat("a,block,N999,0,0,0,x\n", 500)), "list.csv")
	if !errors.As(err, &all) || len(all) != mistake.Most {
		t.Fatalf("%d mistakes, at most %d are told", len(all), mistake.Most)
	}
}

// Inches, grams and other currencies are the same things in other words; the grade gets its own spelling.
func TestUnits(t *testing.T) {
	l, err := Read(strings.NewReader("\ufeffname,shape,material,diameter_in,thickness_mm,mass_g,price_USD\na,disc,n42sh,0.75,5,,1.5\nw,wire,annealed wire,0.064,,500,4\n"), "")
	if err != nil {
		t.Fatal(err)
	}
	a, w := l.Lines[0], l.Lines[1]
	// The inch is 25.4 mm by definition (international yard and pound agreement, 1959).
	if l.Currency != "USD" || a.Material != "N42SH" || a.DiameterM != 0.01905 || w.MassKg != 0.5 || w.Material != "annealed-wire" {
		t.Errorf("%+v", l)
	}
	if want := 7500 * math.Pi / 4 * 0.01905 * 0.01905 * 0.005; math.Abs(a.MassKg/want-1) > 1e-12 {
		t.Errorf("mass %g, want %g", a.MassKg, want)
	}
}

// written is a list as CSV text, lengths in metres so that no digit is lost.
func written(l *List) string {
	var b strings.Builder
	w := csv.NewWriter(&b)
	w.Write([]string{"name", "shape", "material", "length_m", "width_m", "thickness_m", "diameter_m", "inner_m", "mass_kg", "price_" + l.Currency, "available", "reference"})
	for _, x := range l.Lines {
		cells := []string{x.Name, x.Shape, x.Material}
		for _, size := range sizes {
			v, _ := x.field(size)
			cell := ""
			if *v != 0 && (size != "mass" || x.Shape == Wire) {
				cell = strconv.FormatFloat(*v, 'g', -1, 64)
			}
			cells = append(cells, cell)
		}
		available := ""
		if x.Limited {
			available = fmt.Sprint(x.Available)
		}
		w.Write(append(cells, strconv.FormatFloat(x.Price, 'g', -1, 64), available, x.Reference))
	}
	w.Flush()
	return b.String()
}

// same tells whether two lists hold the same, wherever the lines stood.
func same(a, b *List) bool {
	plain := func(l *List) []Line {
		lines := append([]Line{}, l.Lines...)
		for i := range lines {
			lines[i].Line = 0
		}
		return lines
	}
	return a.Currency == b.Currency && reflect.DeepEqual(plain(a), plain(b))
}

// drawn is a random list.
func drawn(t *rapid.T) *List {
	l := &List{Currency: rapid.SampledFrom([]string{"EUR", "USD", "JPY", "CHF"}).Draw(t, "currency")}
	for i := range rapid.IntRange(1, 12).Draw(t, "lines") {
		x := Line{Name: fmt.Sprintf("%s %d", rapid.SampledFrom([]string{"plain", `with "quotes"`, "with, comma", "Größe"}).Draw(t, "name"), i), Shape: rapid.SampledFrom(shapes).Draw(t, "shape")}
		switch {
		case x.IsMagnet():
			x.Material = rapid.SampledFrom([]string{"N42", "N52", "Y30", "SmCo17-26"}).Draw(t, "grade")
		case x.Shape == Wire:
			x.Material = rapid.SampledFrom([]string{"annealed-wire", "hard-wire"}).Draw(t, "steel")
		default:
			x.Material = rapid.SampledFrom([]string{"steel-1018", "pure-iron", "aluminium", "brass"}).Draw(t, "metal")
		}
		length := rapid.Float64Range(1e-3, 1)
		for _, size := range wants[x.Shape] {
			v, _ := x.field(size)
			*v = length.Draw(t, size)
		}
		if x.InnerM > 0 {
			x.InnerM = x.DiameterM * rapid.Float64Range(0.1, 0.9).Draw(t, "share")
		}
		if x.Shape == Flat {
			x.WidthM, x.ThicknessM = max(x.WidthM, x.ThicknessM), min(x.WidthM, x.ThicknessM)
		}
		x.Price = rapid.Float64Range(0, 1e4).Draw(t, "price")
		if x.Limited = rapid.Bool().Draw(t, "limited"); x.Limited {
			x.Available = rapid.IntRange(0, 40).Draw(t, "available")
		}
		if x.Shape != Wire {
			_, density, err := substance(x.Shape, x.Material)
			if err != nil {
				t.Fatal(err)
			}
			x.MassKg = density * x.volume()
		}
		l.Lines = append(l.Lines, x)
	}
	return l
}

func TestRoundTrip(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		l := drawn(t)
		again, err := Read(strings.NewReader(written(l)), "")
		if err != nil {
			t.Fatalf("%v\n%s", err, written(l))
		}
		if !same(l, again) {
			t.Fatalf("%+v\nbecomes\n%+v", l, again)
		}
	})
}

// FuzzRead: what is taken is written and read again as the same list; what is not is told as mistakes with words.
func FuzzRead(f *testing.F) {
	f.Add(Starter())
	for _, s := range []string{"", "name,shape,material,price_EUR", "a;b", "name,shape,material,diameter_in,mass_g,price_USD\nw,wire,annealed-wire,0.064,500,4\n",
		"name,shape,material,length_mm,width_mm,thickness_mm,price_EUR\n\"a\n\",block,N42,1,1e1,1,0\n"} {
		f.Add([]byte(s))
	}
	f.Fuzz(func(t *testing.T, text []byte) {
		l, err := Read(bytes.NewReader(text), "list.csv")
		if err != nil {
			var all mistake.Errors
			if !errors.As(err, &all) || len(all) == 0 || len(all) > mistake.Most || all[0].What == "" || l != nil {
				t.Fatalf("%v", err)
			}
			return
		}
		again, err := Read(strings.NewReader(written(l)), "list.csv")
		if err != nil {
			t.Fatalf("%v\n%s", err, written(l))
		}
		if !same(l, again) {
			t.Fatalf("%+v\nbecomes\n%+v", l, again)
		}
	})
}
