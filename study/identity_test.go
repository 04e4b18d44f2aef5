package study

import (
	"fmt"
	"regexp"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"polewright/design"
)

func identityOf(t interface{ Fatal(...any) }, text string) string {
	d, err := design.Read(strings.NewReader(text), "")
	if err != nil {
		t.Fatal(err, "\n", text)
	}
	return Identity(d)
}

// However a design is written, it is one.
func TestIdentityIsTheSame(t *testing.T) {
	for _, layout := range design.Layouts() {
		text, err := design.Template(layout)
		if err != nil {
			t.Fatal(err)
		}
		want := identityOf(t, text)
		length := regexp.MustCompile(`"(-?[0-9]+(?:\.[0-9]+)?) mm"`)
		for what, other := range map[string]string{
			"comments": "# one more\n" + regexp.MustCompile(`(?m) +#[^"\n]*$`).ReplaceAllString(text, ""),
			"cm": length.ReplaceAllStringFunc(text, func(s string) string {
				number := strings.TrimSuffix(strings.TrimPrefix(s, `"`), ` mm"`)
				return `"` + number + `e-1 cm"`
			}),
			"title":  regexp.MustCompile(`(?m)^title .*$`).ReplaceAllString(text, `title = "another (invented)"`),
			"tables": turnedRound(text),
		} {
			if other == text {
				t.Errorf("%s: %s changes nothing in the text", layout, what)
			}
			if got := identityOf(t, other); got != want {
				t.Errorf("%s: %s make another design", layout, what)
			}
		}
	}
}

// turnedRound writes the tables of a text last first, and the keys of each too.
func turnedRound(text string) string {
	text = regexp.MustCompile(`(?m)(^| +)#[^"\n]*$`).ReplaceAllString(text, "")
	at := regexp.MustCompile(`(?m)^\[`).FindAllStringIndex(text, -1)
	var tables []string
	for i := range at {
		end := len(text)
		if i+1 < len(at) {
			end = at[i+1][0]
		}
		head, body, _ := strings.Cut(text[at[i][0]:end], "\n")
		lines := strings.Split(strings.TrimSpace(body), "\n")
		if !slices.ContainsFunc(lines, func(s string) bool { return s != "" && !strings.Contains(s, "=") }) { // no value of several lines
			slices.Reverse(lines)
		}
		tables = append(tables, head+"\n"+strings.Join(lines, "\n")+"\n")
	}
	slices.Reverse(tables)
	return text[:at[0][0]] + strings.Join(tables, "")
}

// Every value that can be varied bears on it.
func TestIdentityOfEveryValue(t *testing.T) {
	for _, layout := range design.Layouts() {
		text, err := design.Template(layout)
		if err != nil {
			t.Fatal(err)
		}
		want := identityOf(t, text)
		numbers := regexp.MustCompile(`"-?[0-9]+(\.[0-9]+)? (mm|T|%|ppm|mT|degC|A)"`).FindAllStringIndex(text, -1)
		changed := 0
		for _, at := range numbers {
			line := text[strings.LastIndex(text[:at[0]], "\n")+1 : at[0]]
			if strings.Contains(line, "#") {
				continue
			}
			number, unit, _ := strings.Cut(text[at[0]+1:at[1]-1], " ")
			digit := ".00001"
			if strings.Contains(number, ".") {
				digit = "00001"
			}
			d, err := design.Read(strings.NewReader(text[:at[0]+1]+number+digit+" "+unit+text[at[1]-1:]), "")
			if err != nil {
				continue // such as parts that no longer fit
			}
			changed++
			if Identity(d) == want {
				t.Errorf("%s: the same design with %s%s %s in %q", layout, number, digit, unit, line)
			}
		}
		if changed < 3 {
			t.Errorf("%s: only %d values could be changed", layout, changed)
		}
	}
}

func quote(format string, args ...any) string { return fmt.Sprintf(`"`+format+`"`, args...) }

// Equal lengths are equal in any unit, and others are not.
func TestIdentityOfUnits(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		um := rapid.IntRange(15_000, 40_000).Draw(t, "um")
		other := rapid.IntRange(15_000, 40_000).Draw(t, "other")
		text := func(size string) string { return strings.Replace(free, `"20 mm"`, size, 1) }
		whole, rest := um/1000, um%1000
		a := identityOf(t, text(quote("%d.%03d mm", whole, rest)))
		for _, same := range []string{quote("%d um", um), quote("%de-4 cm", um), quote("%de-6 m", um)} {
			if identityOf(t, text(same)) != a {
				t.Fatalf("%s is not %d um", same, um)
			}
		}
		if (identityOf(t, text(quote("%d um", other))) == a) != (other == um) {
			t.Fatalf("%d and %d um", um, other)
		}
	})
}

func BenchmarkIdentity(b *testing.B) {
	text, err := design.Template("framed-pair")
	if err != nil {
		b.Fatal(err)
	}
	d, err := design.Read(strings.NewReader(text), "")
	if err != nil {
		b.Fatal(err)
	}
	for b.Loop() {
		Identity(d)
	}
}
