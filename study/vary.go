package study

import (
	"cmp"
	"errors"
	"fmt"
	"iter"
	"math"
	"os"
	"path/filepath"
	"strconv"
	"strings"

	"polewright/design"
	"polewright/material"
	"polewright/mistake"
	"polewright/quantity"
	"polewright/stock"
)

// Variation is the values that one parameter takes, or several parameters together.
type Variation struct {
	Paths  []string
	Values []string // as they are written into the design file
}

// MostCases bounds a study: more is a slip of the finger.
const MostCases = 1_000_000

// ParseVariation reads a variation of a design's text:
//
//	layout.gap = 14..22 mm / 2 mm     from, to and step
//	layout.gap = 14..22 mm in 5       from, to and how many values
//	layout.grade = N42, N45, N48      a list; of quantities too: 14 mm, 16 mm
//	magnet.upper.size.z & magnet.lower.size.z = 15..25 mm / 5 mm     the same value for both
//
// A unit that is left out is the one that follows in the range or, in a list, that of the last entry. The error is a *mistake.Error or that of the
// design's text.
func ParseVariation(text []byte, s string) (v Variation, err error) {
	fail := func(what, hint string) (Variation, error) {
		return Variation{}, mistake.Of(fmt.Sprintf("%q: %s", strings.TrimSpace(s), what), hint)
	}
	const example = `write path = values, e.g. "layout.gap = 14..22 mm / 2 mm" or "layout.grade = N42, N45"`
	paths, values, ok := strings.Cut(s, "=")
	if !ok || strings.TrimSpace(values) == "" {
		return fail("no values", example)
	}
	var first design.Parameter
	for i, path := range strings.Split(paths, "&") {
		p, err := design.Find(text, path)
		if unknown, ok := err.(*mistake.Error); ok {
			return fail(unknown.Key+": "+unknown.What, unknown.Hint)
		}
		if err != nil {
			return Variation{}, err
		}
		if i == 0 {
			first = p
		} else if p.Kind != first.Kind || p.Dimension != first.Dimension {
			return fail(fmt.Sprintf("%s and %s take different things", first.Path, p.Path), "parameters that vary together take the same values; give others a --vary of their own")
		}
		v.Paths = append(v.Paths, p.Path)
	}
	values = strings.TrimSpace(values)
	from, rest, isRange := strings.Cut(values, "..")
	switch {
	case isRange && first.Kind == design.Text:
		return fail("words have no range", "write a list: "+first.Path+" = N42, N45")
	case isRange:
		v.Values, err = rangeOf(first, from, rest)
		if err != nil {
			what, hint := mistake.Said(err)
			if hint == "" {
				hint = fmt.Sprintf("write from..to / step or from..to in N, e.g. %q", rangeExample(first))
			}
			return fail(what, hint)
		}
	default:
		v.Values = listOf(first, values)
	}
	for _, x := range v.Values {
		for _, path := range v.Paths {
			_, err := design.Set(text, path, x)
			if wrong, ok := err.(*mistake.Error); ok {
				return fail(wrong.What, wrong.Hint)
			}
			if err != nil {
				return Variation{}, err
			}
			if len(v.Values) > 50 {
				break // of a long list the first value tells for all
			}
		}
		if len(v.Values) > 50 {
			break
		}
	}
	return v, nil
}

func rangeExample(p design.Parameter) string {
	if p.Kind == design.Number {
		return p.Path + " = 1000..2000 / 250"
	}
	example := quantity.Example(p.Dimension)
	number, unit, _ := quantity.Split(example)
	return fmt.Sprintf("%s = %g..%g %s in 5", p.Path, number, 2*number, unit)
}

// rangeOf makes the values of a range.
func rangeOf(p design.Parameter, from, rest string) ([]string, error) {
	to, step, stepped := strings.Cut(rest, "/")
	if p.Kind == design.Quantity && strings.Contains(rest, "/") { // units such as kA/m have a slash of their own
		to, step, stepped = cutStep(rest)
	}
	count := 0
	if !stepped {
		head, n, ok := cutCount(rest)
		if !ok {
			return nil, errors.New("neither a step nor how many values")
		}
		to, count = head, n
		if count < 2 || count > MostCases {
			return nil, fmt.Errorf("%d values make no range", count)
		}
	}
	a, unitA, err := numberOf(p, from)
	if err != nil {
		return nil, err
	}
	b, unit, err := numberOf(p, to)
	if err != nil {
		return nil, err
	}
	unit = cmp.Or(unit, unitA, p.Unit())
	if a, err = inUnit(p, a, unitA, unit); err != nil {
		return nil, err
	}
	h := (b - a) / float64(count-1)
	if stepped {
		x, own, err := numberOf(p, step)
		if err != nil {
			return nil, err
		}
		if h, err = inUnit(p, x, own, unit); err != nil {
			return nil, err
		}
		h = math.Copysign(h, b-a)
		if n := (b - a) / h; !(n >= 0) || n > MostCases {
			return nil, fmt.Errorf("a step of %s makes no range", strings.TrimSpace(step))
		}
		count = int(math.Floor((b-a)/h+1e-9)) + 1
	}
	out := make([]string, count)
	for i := range out {
		x := a + float64(i)*h
		if !stepped && i == count-1 {
			x = b
		}
		out[i] = tidy(x)
		if p.Kind == design.Quantity {
			out[i] = strings.TrimSpace(out[i] + " " + unit)
		}
	}
	return out, nil
}

// numberOf parts an end or a step of a range from its unit.
func numberOf(p design.Parameter, s string) (float64, string, error) {
	x, unit, ok := quantity.Split(s)
	if !ok || p.Kind == design.Number && unit != "" {
		return 0, "", fmt.Errorf("%q is not what %s takes", strings.TrimSpace(s), p.Path)
	}
	return x, unit, nil
}

// inUnit turns a number with its own unit, or none, into another unit.
func inUnit(p design.Parameter, x float64, own, unit string) (float64, error) {
	if own == "" || own == unit || p.Kind == design.Number {
		return x, nil
	}
	si, err := quantity.Parse(fmt.Sprintf("%g %s", x, own), p.Dimension)
	if err != nil {
		return 0, err
	}
	one, err := quantity.Parse("1 "+unit, p.Dimension)
	return si / one, err
}

// tidy writes a number without the dust of binary fractions.
func tidy(x float64) string {
	x, _ = strconv.ParseFloat(strconv.FormatFloat(x, 'e', 11, 64), 64)
	return strconv.FormatFloat(x, 'f', -1, 64)
}

// cutStep parts "22 kA/m / 2 kA/m" at the slash before a number.
func cutStep(s string) (to, step string, ok bool) {
	for i := 0; i < len(s); i++ {
		if s[i] == '/' {
			if _, _, number := quantity.Split(s[i+1:]); number {
				return s[:i], s[i+1:], true
			}
		}
	}
	return s, "", false
}

// cutCount parts "22 mm in 5".
func cutCount(s string) (to string, n int, ok bool) {
	words := strings.Fields(s)
	if len(words) < 3 || words[len(words)-2] != "in" {
		return "", 0, false
	}
	n, err := strconv.Atoi(words[len(words)-1])
	return strings.Join(words[:len(words)-2], " "), n, err == nil
}

// listOf parts a list; quantities without a unit take that of the last one.
func listOf(p design.Parameter, s string) (list []string) {
	for word := range strings.SplitSeq(s, ",") {
		list = append(list, strings.TrimSpace(word))
	}
	if p.Kind != design.Quantity {
		return list
	}
	_, unit, _ := quantity.Split(list[len(list)-1])
	for i, word := range list {
		if _, own, ok := quantity.Split(word); ok && own == "" {
			list[i] = strings.TrimSpace(word + " " + unit)
		}
	}
	return list
}

// Space is a design with what varies in it.
type Space struct {
	Text     []byte
	File     string // that the text is of: curve files lie beside it; "" for none
	Vary     []Variation
	Accuracy string
	Figures  []Figure    // that are wanted
	Stock    *stock.List // for cost; nil where there is none

	editor *design.Editor
	curves map[string]string // files that were read
}

// Size is how many designs there are.
func (s *Space) Size() int {
	n := 1
	for _, v := range s.Vary {
		if n *= len(v.Values); n > MostCases {
			return n
		}
	}
	return n
}

// At is where in each variation the design i lies. The last one changes fastest.
func (s *Space) At(i int) []int {
	at := make([]int, len(s.Vary))
	for k := len(at) - 1; k >= 0; k-- {
		n := len(s.Vary[k].Values)
		at[k], i = i%n, i/n
	}
	return at
}

// Cases are all designs, in the order of At.
func (s *Space) Cases() iter.Seq[Case] {
	return func(yield func(Case) bool) {
		for i := range s.Size() {
			if !yield(s.Case(s.At(i))) {
				return
			}
		}
	}
}

// Case is one design: the value at each variation. Where it cannot be built, its Err says why.
func (s *Space) Case(at []int) Case {
	c := Case{Accuracy: s.Accuracy, Effort: EffortFor(s.Figures), Figures: map[string]float64{}}
	var changes []design.Change
	for k, v := range s.Vary {
		for _, path := range v.Paths {
			c.Settings = append(c.Settings, Setting{path, v.Values[at[k]]})
			changes = append(changes, design.Change{Path: path, Value: v.Values[at[k]]})
		}
	}
	if s.editor == nil {
		if s.editor, c.Err = design.NewEditor(s.Text); c.Err != nil {
			s.editor = nil
			return c
		}
	}
	text, err := s.editor.Set(changes...)
	if err != nil {
		c.Err = err
		return c
	}
	c.Text = string(text)
	d, err := design.Read(strings.NewReader(c.Text), s.File)
	if err != nil {
		c.Err = err
		return c
	}
	c.Identity = Identity(d)
	c.Files, c.Err = s.curveFiles(d)
	c.Figures["mass"], c.Figures["magnet mass"] = masses(d)
	if s.Stock != nil {
		bill, err := stock.BillOf(d, s.Stock)
		if err != nil {
			c.Err = err
		} else if len(bill.Missing) == 0 {
			c.Figures["cost"] = bill.Cost
		}
	}
	return c
}

// curveFiles reads the curves that a design names, each once for the whole space.
func (s *Space) curveFiles(d *design.Design) (files map[string]string, err error) {
	for i := range d.Steels {
		files, err = s.curveFile(files, d.Steels[i].Material, err)
	}
	for i := range d.Wounds {
		files, err = s.curveFile(files, d.Wounds[i].Material, err)
	}
	return files, err
}

func (s *Space) curveFile(files map[string]string, m material.Steel, err error) (map[string]string, error) {
	if err != nil || m.Source != m.Name { // a curve file is its own source
		return files, err
	}
	if s.curves == nil {
		s.curves = map[string]string{}
	}
	if _, read := s.curves[m.Name]; !read {
		text, err := os.ReadFile(filepath.Join(filepath.Dir(s.File), filepath.FromSlash(m.Name)))
		if err != nil {
			return files, err
		}
		s.curves[m.Name] = string(text)
	}
	if files == nil {
		files = map[string]string{}
	}
	files[m.Name] = s.curves[m.Name]
	return files, nil
}
