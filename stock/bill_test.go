package stock

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"polewright/design"
)

// No bar is over-full, every cut is laid once, no fewer bars than their lengths need, and no more than first fit decreasing may take.
func TestNest(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		length := rapid.Float64Range(0.05, 3).Draw(t, "bar")
		var cuts []Cut
		for i, c := range rapid.SliceOfN(rapid.Float64Range(1e-3, 1.2), 0, 40).Draw(t, "cuts") {
			cuts = append(cuts, Cut{[]string{fmt.Sprint(i)}, c * length})
		}
		bars, left := Nest(cuts, length)
		seen := map[string]bool{}
		once := func(c Cut) {
			if seen[c.Parts[0]] {
				t.Fatalf("%v is laid twice", c)
			}
			seen[c.Parts[0]] = true
		}
		var all float64
		for _, b := range bars {
			if len(b.Cuts) == 0 {
				t.Fatal("an empty bar")
			}
			// The saw goes between neighbours, and once more where an offcut is left.
			used := float64(len(b.Cuts)-1) * KerfM
			for _, c := range b.Cuts {
				once(c)
				used += c.LengthM + FacingM
			}
			all += used
			if used > length+1e-8 {
				t.Fatalf("%g m in a bar of %g m", used, length)
			}
			if math.Abs(b.OffcutM-max(0, length-used-KerfM)) > 1e-8 {
				t.Fatalf("%g m left, %g m said", length-used-KerfM, b.OffcutM)
			}
		}
		for _, c := range left {
			once(c)
			if c.LengthM+FacingM <= length {
				t.Fatalf("%v is left over and fits %g m", c, length)
			}
		}
		if len(seen) != len(cuts) {
			t.Fatalf("%d of %d cuts", len(seen), len(cuts))
		}
		if float64(len(bars)) < all/length-1e-9 {
			t.Fatalf("%d bars for %g m of %g m each", len(bars), all, length)
		}
		// No cut lies in a later bar while an earlier one has room for it.
		for i, b := range bars {
			for _, c := range bars[i+1:] {
				if least := slices.MinFunc(c.Cuts, func(a, b Cut) int { return map[bool]int{true: -1, false: 1}[a.LengthM < b.LengthM] }); least.LengthM+FacingM < b.OffcutM-1e-8 {
					t.Fatalf("a cut of %g m lies in a later bar, though %g m are left", least.LengthM, b.OffcutM)
				}
			}
		}
	})
}

// By hand, bars of 100 mm: 60 + 2 + 3 leaves 35 mm, into which 33 + 2 goes just so, without a saw, and 33.1 + 2 does not.
func TestNestByHand(t *testing.T) {
	for cut, want := range map[float64]int{0.033: 1, 0.0331: 2} {
		bars, left := Nest([]Cut{{[]string{"a"}, cut}, {[]string{"b"}, 0.060}}, 0.100)
		if len(bars) != want || len(left) > 0 || bars[0].Cuts[0].LengthM != 0.060 {
			t.Errorf("%g m: %+v, left %+v, want %d bars", cut, bars, left, want)
		}
	}
}

// The median of an even number is the mean of the two in the middle: 2 and 4 EUR for 0.06 kg, 50 EUR/kg; of three it is the middle one.
func TestPerKg(t *testing.T) {
	lines := "a,block,N42,40,20,10,,,,2\nb,block,N42,40,20,10,,,,4\n"
	for _, c := range []struct {
		lines string
		want  float64
	}{{lines, 50}, {lines + "c,block,N42,40,20,10,,,,60\n", 4 / 0.06}} {
		if got, ok := listed(t, c.lines).PerKg("N42"); !ok || math.Abs(got/c.want-1) > 1e-9 {
			t.Errorf("%g a kilogram, want %g", got, c.want)
		}
	}
	if _, ok := listed(t, lines).PerKg("N52"); ok {
		t.Error("a price of what is not there")
	}
}

const header = "name,shape,material,length_mm,width_mm,thickness_mm,diameter_mm,inner_mm,mass_kg,price_EUR,available\n"

func listed(t *testing.T, lines string) *List {
	t.Helper()
	l, err := Read(strings.NewReader(header+lines), "list.csv")
	if err != nil {
		t.Fatal(err)
	}
	return l
}

func designed(t *testing.T, text string) *design.Design {
	t.Helper()
	d, err := design.Read(strings.NewReader("format = 1\n"+text), "")
	if err != nil {
		t.Fatal(err)
	}
	return d
}

const handWorked = `
[target]
field = "0.3 T"
cost = "40 EUR"
[layout]
kind = "framed-pair"
grade = "N42"
magnet_x = "40 mm"
magnet_y = "20 mm"
magnet_z = "10 mm"
gap = "10 mm"
side = "10 mm"
leg = "10 mm"
back = "10 mm"
`

// A bill worked by hand. Magnets 40 x 20 x 10: two at 5.00. Backs 40 x 60 x 10 and legs 40 x 10 x 30, from flat 40 x 10 in bars of 150 mm at 8.00:
// a back takes 60 + 2 + 3 = 65 mm, a leg 30 + 2 + 3 = 35 mm. Bar 1: two backs, 150 - 130 = 20 mm left. A leg needs 32 mm, so bar 2: two legs,
// 150 - 70 = 80 mm left. Cost 2 x 5 + 2 x 8 = 26. Mass 2 x 8 cm3 x 7.5 + 2 x (24 + 12) cm3 x 7.85 g/cm3 = 685.2 g.
func TestBillByHand(t *testing.T) {
	l := listed(t, "m,block,N42,40,20,10,,,,5\nf,flat,steel-1018,150,40,10,,,,8\ndear,flat,steel-1018,150,40,10,,,,9\n")
	b, err := BillOf(designed(t, handWorked), l)
	if err != nil {
		t.Fatal(err)
	}
	if b.Cost != 26 || math.Abs(b.MassKg-0.6852) > 1e-9 || len(b.Missing) != 0 || len(b.Buy) != 2 || b.Limit == nil || !b.Limit.Met {
		t.Fatalf("%+v", b)
	}
	f := b.Buy[1]
	if b.Buy[0].Number != 2 || f.Name != "f" || f.Number != 2 || math.Abs(f.Bars[0].OffcutM-0.020) > 1e-9 || math.Abs(f.Bars[1].OffcutM-0.080) > 1e-9 {
		t.Errorf("%+v", b.Buy)
	}
	if got := f.Offcuts(); got != "left 20, 80 mm" {
		t.Errorf("%q", got)
	}
}

// What parts are made from, one part at a time: the line of the list and the work, or what is missing.
func TestWhatFits(t *testing.T) {
	const stock = `b,block,N42,40,20,10,,,,5
b4,block,N42,30,30,5,,,,3,4
b52,block,N52,40,20,10,,,,9
d,disc,N42,,,5,20,,,2
r,ring,N42,,,5,20,10,,2
f,flat,steel-1018,500,60,12,,,,10
p,flat,steel-1018,300,200,8,,,,14
o,round,steel-1018,120,,,50,,,9
u,tube,steel-1018,120,,,60,40,,9
a,flat,aluminium,500,30,6,,,,3
w,wire,annealed-wire,,,,1.626,,1,7
`
	l := listed(t, stock)
	magnet := func(size, dir, grade string) string {
		return fmt.Sprintf("[[magnet]]\nname=\"x\"\nshape=\"block\"\nsize=[%s]\ncenter=[\"0 mm\",\"0 mm\",\"0 mm\"]\nmagnetized=[%s]\ngrade=%q\n", size, dir, grade)
	}
	steel := func(keys string) string {
		return "[[steel]]\nname=\"x\"\ncenter=[\"0 mm\",\"0 mm\",\"0 mm\"]\nmaterial=\"steel-1018\"\n" + keys + magnetFar
	}
	for _, c := range []struct{ name, text, from, say string }{
		{"as it is", magnet(`"40 mm","20 mm","10 mm"`, "0,0,1", "N42"), "b", ""},
		{"turned over", magnet(`"10 mm","40 mm","20 mm"`, "-1,0,0", "N42"), "b", ""},
		{"within the tolerance", magnet(`"40.04 mm","20 mm","9.96 mm"`, "0,0,1", "N42"), "b", ""},
		{"beyond it", magnet(`"40.06 mm","20 mm","10 mm"`, "0,0,1", "N42"), "", `nearest is "b": 0.06 mm less in length`},
		{"another way magnetized", magnet(`"40 mm","20 mm","10 mm"`, "0,1,0", "N42"), "", `nearest is "b": magnetized along another edge`},
		{"askew", magnet(`"40 mm","20 mm","10 mm"`, "0,1,1", "N42"), "", "has to be ordered"},
		{"put together", magnet(`"40 mm","20 mm","30 mm"`, "0,0,1", "N42"), "b", "3 put together"},
		{"too many put together", magnet(`"40 mm","20 mm","50 mm"`, "0,0,1", "N42"), "", `40 mm less in thickness`},
		{"another grade", magnet(`"40 mm","20 mm","10 mm"`, "0,0,1", "N48"), "", `nearest is "b": N42 in place of N48`},
		{"thickness of a bar", steel("shape=\"block\"\nsize=[\"60 mm\",\"12 mm\",\"58 mm\"]\n"), "f", "cut to 58 mm"},
		{"trimmed", steel("shape=\"block\"\nsize=[\"50 mm\",\"12 mm\",\"70 mm\"]\n"), "f", "cut to 70 mm, sawn to 50 mm wide"},
		{"from a plate", steel("shape=\"block\"\nsize=[\"100 mm\",\"8 mm\",\"150 mm\"]\n"), "p", "cut to 100 mm, sawn to 150 mm wide"},
		{"no such thickness", steel("shape=\"block\"\nsize=[\"50 mm\",\"10 mm\",\"70 mm\"]\n"), "", `nearest is "f": 2 mm more in thickness`},
		{"too long", steel("shape=\"block\"\nsize=[\"60 mm\",\"12 mm\",\"600 mm\"]\n"), "", `nearest is "f": 102 mm less in length`},
		{"round", steel("shape=\"disc\"\ndiameter=\"45 mm\"\nthickness=\"20 mm\"\n"), "o", "cut to 20 mm, turned to ⌀45 mm"},
		{"from plate", steel("shape=\"disc\"\ndiameter=\"90 mm\"\nthickness=\"8 mm\"\n"), "p", "cut to 90 mm, turned to ⌀90 mm"},
		{"too wide", steel("shape=\"disc\"\ndiameter=\"90 mm\"\nthickness=\"20 mm\"\n"), "", `nearest is "o": 40 mm less in diameter`},
		{"tube", steel("shape=\"ring\"\nouter_diameter=\"60 mm\"\ninner_diameter=\"45 mm\"\nthickness=\"30 mm\"\n"), "u", "cut to 30 mm, bored to ⌀45 mm"},
		{"taper", steel("shape=\"frustum\"\nbottom_diameter=\"50 mm\"\ntop_diameter=\"30 mm\"\nheight=\"14 mm\"\n"), "o", "cut to 14 mm, turned to its taper"},
		{"other metal", "[[spacer]]\nname=\"x\"\nshape=\"block\"\nsize=[\"10 mm\",\"6 mm\",\"40 mm\"]\ncenter=[\"0 mm\",\"0 mm\",\"0 mm\"]\nmaterial=\"aluminium\"\n" + magnetFar, "a", "cut to 40 mm, sawn to 10 mm wide"},
		{"not in that metal", "[[spacer]]\nname=\"x\"\nshape=\"block\"\nsize=[\"30 mm\",\"6 mm\",\"40 mm\"]\ncenter=[\"0 mm\",\"0 mm\",\"0 mm\"]\nmaterial=\"brass\"\n" + magnetFar, "", "aluminium in place of brass"},
	} {
		t.Run(c.name, func(t *testing.T) {
			b, err := BillOf(designed(t, c.text), l)
			if err != nil {
				t.Fatal(err)
			}
			i := slices.IndexFunc(b.Parts, func(r Row) bool { return slices.Contains(r.Names, "x") })
			r := b.Parts[i]
			if r.Stock != c.from || c.from != "" && r.Work != c.say || !strings.Contains(r.Missing, c.say) && c.from == "" {
				t.Errorf("%+v, want from %q: %s", r, c.from, c.say)
			}
			if (r.Missing != "") != slices.ContainsFunc(b.Missing, func(s string) bool { return strings.HasPrefix(s, "x: ") }) {
				t.Errorf("missing %q, of the part %q", b.Missing, r.Missing)
			}
		})
	}
}

// magnetFar makes a design of a lone piece of steel.
const magnetFar = "[[magnet]]\nname=\"far\"\nshape=\"disc\"\ndiameter=\"20 mm\"\nthickness=\"5 mm\"\ncenter=[\"0 mm\",\"0 mm\",\"400 mm\"]\nmagnetized=[0,0,1]\ngrade=\"N42\"\n"

// Twelve plates of 50 x 47.75 x 8 from plate 200 x 300: four of 47.75 mm lie side by side with 3 mm between, 4 x 47.75 + 3 x 3 = 200, and three rows
// of 50 + 2 + 3 = 55 mm take 165 mm of one bar.
func TestSideBySide(t *testing.T) {
	var text strings.Builder
	for i := range 12 {
		fmt.Fprintf(&text, "[[steel]]\nname=\"p%d\"\nshape=\"block\"\nsize=[\"50 mm\",\"47.75 mm\",\"8 mm\"]\ncenter=[\"0 mm\",\"0 mm\",\"%d mm\"]\nmaterial=\"steel-1018\"\n", i, 20*i)
	}
	b, err := BillOf(designed(t, text.String()+magnetFar), listed(t, "p,flat,steel-1018,300,200,8,,,,14\n"))
	if err != nil {
		t.Fatal(err)
	}
	p := b.Buy[0]
	if p.Number != 1 || len(p.Bars[0].Cuts) != 3 || len(p.Bars[0].Cuts[0].Parts) != 4 || math.Abs(p.Bars[0].OffcutM-0.135) > 1e-9 || p.Cost != 14 {
		t.Errorf("%+v", p)
	}
}

// A wound yoke is bought by the spool: its wire and 5 % over it. More than there is, is missing.
func TestSpoolsAndShortage(t *testing.T) {
	d := designed(t, "[layout]\nkind = \"wound-pair\"\n")
	// The section of a racetrack round 56 x 58 mm, its corners arcs about the core's: 2 b (56 + 58) + pi b2, 60 mm wide, 0.72 of it steel.
	build := d.Wounds[0].Racetrack().Build
	kg := 7850 * 0.72 * 0.060 * (2*build*(0.056+0.058) + math.Pi*build*build)
	b, err := BillOf(d, listed(t, "m,block,N42,60,40,20,,,,31,1\nw,wire,annealed-wire,,,,1.626,,0.5,4\n"))
	if err != nil {
		t.Fatal(err)
	}
	if want := int(math.Ceil(kg * 1.05 / 0.5)); b.Buy[1].Number != want || b.Buy[1].Cost != 4*float64(want) || want < 2 {
		t.Errorf("%g kg: %+v", kg, b.Buy[1])
	}
	if got := b.Buy[1].NeedKg; math.Abs(got/(1.05*kg)-1) > 1e-9 {
		t.Errorf("%g kg of wire, want %g", got, 1.05*kg)
	}
	if !slices.Contains(b.Missing, "m: 2 needed and counted in the cost, 1 available") {
		t.Errorf("%q", b.Missing)
	}
}

func TestOtherCurrency(t *testing.T) {
	_, err := BillOf(designed(t, strings.Replace(handWorked, "EUR", "USD", 1)), listed(t, "m,block,N42,40,20,10,,,,5\n"))
	if err == nil || !strings.Contains(err.Error(), "target.cost: is in USD, the prices of list.csv in EUR") {
		t.Errorf("%v", err)
	}
}

// Every part is in a row once, made from something or missing, whatever the list.
func TestBillHoldsAllParts(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		l := drawn(t)
		kinds := design.Layouts()
		kind := rapid.SampledFrom(kinds).Draw(t, "layout")
		d, err := design.Read(strings.NewReader("format = 1\n[layout]\nkind = \""+kind+"\"\n"), "")
		if err != nil {
			t.Fatal(err)
		}
		b, err := BillOf(d, l)
		if err != nil {
			t.Fatal(err)
		}
		var names []string
		for _, r := range b.Parts {
			names = append(names, r.Names...)
			if (r.Stock == "") != (r.Missing != "") {
				t.Fatalf("%+v", r)
			}
		}
		var want []string
		for _, p := range d.Parts() {
			want = append(want, p.Name)
		}
		slices.Sort(names)
		slices.Sort(want)
		if !slices.Equal(names, want) {
			t.Fatalf("%q, want %q", names, want)
		}
	})
}
