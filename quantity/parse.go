package quantity

import (
	"fmt"
	"math"
	"strconv"
	"strings"
	"unicode/utf8"

	"polewright/mistake"
)

// longest bounds the text of a quantity: the longest that a float64 can need (about 770 digits) is never meant.
const longest = 200

// Parse reads a number with a unit of dimension d, such as "18 mm", "-1.5e2 G" or "0.75in", and returns it in SI units (temperatures in degC). Only a
// Ratio may be a plain number. The error is always a *mistake.Error with a hint.
func Parse(s string, d Dimension) (float64, error) {
	if d < 0 || d >= dimensions {
		return 0, mistake.Of("no such dimension", "this is a mistake in the program")
	}
	k := &table[d]
	fail := func(problem, hint string) (float64, error) {
		return 0, mistake.Of(fmt.Sprintf("%q: %s", mistake.Quote(s), problem), hint)
	}
	if len(s) > longest {
		return fail("too long for a quantity", "write a number and a unit: "+k.example)
	}
	// U+2212 is the minus sign that word processors set.
	text := strings.TrimSpace(strings.ReplaceAll(s, "−", "-"))
	if text == "" {
		return fail("nothing is given", "write a number and a unit: "+k.example)
	}

	digits, name := split(text)
	if strings.HasPrefix(name, ",") && digits != "" {
		return fail("a comma in the number", "write a decimal point and no commas between thousands: "+k.example)
	}
	if strings.HasPrefix(name, "/") && digits != "" {
		return fail("a fraction", "write decimals, such as 0.75 in for 3/4 in")
	}
	if digits == "" {
		return fail("no number at the start", fmt.Sprintf("write a number and a unit: %s (%s)", k.example, listUnits(d)))
	}
	v, err := strconv.ParseFloat(digits, 64)
	if math.IsInf(v, 0) || math.IsNaN(v) {
		return fail("not a finite number", "write a number that fits the bench: "+k.example)
	}
	if err != nil {
		return fail("not a number", "write a number and a unit: "+k.example)
	}

	u, ok := k.unit(name)
	if !ok {
		return fail(strange(digits, name, d))
	}
	v = v * u.mul / u.div
	if v < k.least || v > k.most {
		return fail("out of all proportion", fmt.Sprintf("%s lies between %s and %s",
			k.name, Format(k.least, k.units[0].name, 6), Format(k.most, k.units[0].name, 6)))
	}
	return v, nil
}

// split parts the number at the head of text from the unit behind it. An e belongs to the number only when digits follow it.
func split(text string) (digits, name string) {
	i := 0
	sign := func() {
		if i < len(text) && (text[i] == '+' || text[i] == '-') {
			i++
		}
	}
	run := func() (n int) {
		for i < len(text) && '0' <= text[i] && text[i] <= '9' {
			i++
			n++
		}
		return n
	}
	sign()
	n := run()
	if i < len(text) && text[i] == '.' {
		i++
		n += run()
	}
	if n == 0 {
		return "", text
	}
	if mark := i; i < len(text) && (text[i] == 'e' || text[i] == 'E') {
		i++
		sign()
		if run() == 0 {
			i = mark
		}
	}
	return text[:i], strings.TrimSpace(text[i:])
}

// strange says what is wrong with a unit that d does not have.
func strange(digits, name string, d Dimension) (problem, hint string) {
	k := &table[d]
	if name == "" {
		return "no unit", fmt.Sprintf("put the unit inside the quotes, e.g. %q (%s)", digits+" "+k.units[0].name, listUnits(d))
	}
	if other, of, ok := find(name); ok && other.name != "" {
		return fmt.Sprintf("%q is a unit of %s", name, of), fmt.Sprintf("%s is due here, e.g. %q (%s)", d, k.example, listUnits(d))
	}
	if '0' <= name[0] && name[0] <= '9' {
		return "a space inside the number", fmt.Sprintf("write the digits without spaces, e.g. %q", k.example)
	}
	// Bytes that are no letters would spoil the message.
	if !utf8.ValidString(name) {
		name = strings.ToValidUTF8(name, "?")
	}
	problem = fmt.Sprintf("unknown unit %q", name)
	for _, u := range k.units {
		if u.name != "" && strings.EqualFold(u.name, name) {
			return problem, fmt.Sprintf("did you mean %q? capital and small letters differ (%s)", digits+" "+u.name, listUnits(d))
		}
	}
	return problem, d.String() + " takes " + listUnits(d)
}

// listUnits is "mm, m or in".
func listUnits(d Dimension) string {
	names := Units(d)
	if len(names) == 1 {
		return names[0]
	}
	return strings.Join(names[:len(names)-1], ", ") + " or " + names[len(names)-1]
}
