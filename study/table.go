package study

import (
	"encoding/csv"
	"encoding/json"
	"fmt"
	"io"
	"math"
	"strconv"
	"strings"

	"github.com/parquet-go/parquet-go"

	"polewright/design"
	"polewright/quantity"
)

// Table is the rows of a study with their columns, in the order of the cases.
type Table struct {
	Vary    []Variation
	Kinds   []design.Parameter // of each variation's first path
	Figures []Figure
	Rows    []Row
}

// Table is an empty table of the space.
func (s *Space) Table() (*Table, error) {
	t := &Table{Vary: s.Vary, Figures: s.Figures}
	for _, v := range s.Vary {
		p, err := design.Find(s.Text, v.Paths[0])
		if err != nil {
			return nil, err
		}
		t.Kinds = append(t.Kinds, p)
	}
	return t, nil
}

// Add puts a row in its place.
func (t *Table) Add(r Row) {
	i := len(t.Rows)
	for i > 0 && t.Rows[i-1].Index > r.Index {
		i--
	}
	t.Rows = append(t.Rows[:i], append([]Row{r}, t.Rows[i:]...)...)
}

// column is one of a written table: text or a number, which may be left out.
type column struct {
	name   string
	text   func(Row) string
	number func(Row) (float64, bool)
}

// suffix is the unit of a parameter's values as numbers, which are SI.
var suffix = map[quantity.Dimension]string{quantity.Length: "_m", quantity.FluxDensity: "_T", quantity.FieldStrength: "_A_per_m", quantity.Angle: "_rad", quantity.Mass: "_kg",
	quantity.Force: "_N", quantity.Density: "_kg_per_m3", quantity.Temperature: "_degC", quantity.Coefficient: "_per_K", quantity.Current: "_A", quantity.Torque: "_Nm"}

// Number is the value of a setting of a parameter in SI units; ok is false for words.
func Number(p design.Parameter, value string) (x float64, ok bool) {
	var err error
	switch p.Kind {
	case design.Text:
		return 0, false
	case design.Number:
		x, err = strconv.ParseFloat(value, 64)
	default:
		x, err = quantity.Parse(value, p.Dimension)
	}
	return x, err == nil
}

func (t *Table) columns() (list []column) {
	list = append(list, column{name: "index", number: func(r Row) (float64, bool) { return float64(r.Index), true }})
	at := 0
	for k, v := range t.Vary {
		p := t.Kinds[k]
		for _, path := range v.Paths {
			i := at
			at++
			value := func(r Row) string {
				if i < len(r.Settings) {
					return r.Settings[i].Value
				}
				return ""
			}
			c := column{name: path, text: value}
			if p.Kind != design.Text {
				c = column{name: path + suffix[p.Dimension], number: func(r Row) (float64, bool) { return Number(p, value(r)) }}
				if p.Kind == design.Number {
					c.name = path
				}
			}
			list = append(list, c)
		}
	}
	for _, f := range t.Figures {
		list = append(list, column{name: f.Column(), number: func(r Row) (float64, bool) { x, ok := r.Figures[f.Name]; return x, ok }})
	}
	return append(list, column{name: "error", text: func(r Row) string { return r.Error }})
}

// CSV writes the table, numbers in SI units with the unit in the column's name, nothing where a row has no such number.
func (t *Table) CSV(w io.Writer) error {
	out := csv.NewWriter(w)
	columns := t.columns()
	line := make([]string, len(columns))
	for i, c := range columns {
		line[i] = c.name
	}
	if err := out.Write(line); err != nil {
		return err
	}
	for _, r := range t.Rows {
		for i, c := range columns {
			line[i] = ""
			if c.text != nil {
				line[i] = c.text(r)
			} else if x, ok := c.number(r); ok {
				line[i] = strconv.FormatFloat(x, 'g', -1, 64)
			}
		}
		if err := out.Write(line); err != nil {
			return err
		}
	}
	out.Flush()
	return out.Error()
}

// Parquet writes the table as an Apache Parquet file with the columns of CSV in the order of their names, which is that of the format's
// library; a number that a row does not have is null.
func (t *Table) Parquet(w io.Writer) error {
	group := parquet.Group{}
	columns := map[string]column{}
	for _, c := range t.columns() {
		group[c.name] = parquet.Optional(parquet.Leaf(parquet.DoubleType))
		if c.text != nil {
			group[c.name] = parquet.Optional(parquet.String())
		}
		columns[c.name] = c
	}
	schema := parquet.NewSchema("study", group)
	out := parquet.NewGenericWriter[any](w, schema, parquet.Compression(&parquet.Zstd))
	for _, r := range t.Rows {
		var row parquet.Row
		for i, path := range schema.Columns() {
			c, v := columns[path[0]], parquet.NullValue()
			if c.text != nil {
				if s := c.text(r); s != "" {
					v = parquet.ValueOf(s)
				}
			} else if x, ok := c.number(r); ok {
				v = parquet.ValueOf(x)
			}
			level := 1
			if v.IsNull() {
				level = 0
			}
			row = append(row, v.Level(0, level, i))
		}
		if _, err := out.WriteRows([]parquet.Row{row}); err != nil {
			return err
		}
	}
	return out.Close()
}

// Verdict is what a search says of a row.
type Verdict struct {
	Keeps bool `json:"keeps_limits"`
	Best  bool `json:"best"` // or on the front
}

// Line is a row as one JSON object without a line end: settings as written and as numbers in SI units, figures by their columns, and the
// verdict of a search.
func (t *Table) Line(r Row, v *Verdict) ([]byte, error) {
	type line struct {
		Index      int                `json:"index"`
		Parameters map[string]string  `json:"parameters"`
		SI         map[string]float64 `json:"parameters_si"`
		Figures    map[string]float64 `json:"figures"`
		Error      string             `json:"error,omitempty"`
		Known      bool               `json:"known"`
		Seconds    float64            `json:"seconds"`
		Worker     string             `json:"worker,omitempty"` // the process that solved it
		*Verdict
	}
	l := line{Verdict: v, Index: r.Index, Parameters: map[string]string{}, SI: map[string]float64{}, Figures: map[string]float64{}, Error: r.Error, Known: r.Known, Seconds: r.Seconds, Worker: r.Worker}
	i := 0
	for k, v := range t.Vary {
		for _, path := range v.Paths {
			if i < len(r.Settings) {
				l.Parameters[path] = r.Settings[i].Value
				if x, ok := Number(t.Kinds[k], r.Settings[i].Value); ok {
					l.SI[path] = x
				}
			}
			i++
		}
	}
	for _, f := range t.Figures {
		if x, ok := r.Figures[f.Name]; ok {
			l.Figures[f.Column()] = x
		}
	}
	return json.Marshal(l)
}

// Text writes the table for people, figures in the units they read.
func (t *Table) Text(w io.Writer) error {
	var head []string
	for _, v := range t.Vary {
		head = append(head, strings.Join(v.Paths, " & "))
	}
	for _, f := range t.Figures {
		name := f.Name
		if f.Show != "" {
			name += " " + f.Show
		}
		head = append(head, name)
	}
	lines := [][]string{head}
	for _, r := range t.Rows {
		var line []string
		i := 0
		for _, v := range t.Vary {
			if i < len(r.Settings) {
				line = append(line, r.Settings[i].Value)
			}
			i += len(v.Paths)
		}
		for _, f := range t.Figures {
			x, ok := r.Figures[f.Name]
			line = append(line, "")
			if ok {
				line[len(line)-1] = short(x * f.Times)
			}
		}
		lines = append(lines, line)
	}
	width := make([]int, len(head))
	for _, line := range lines {
		for i, s := range line {
			width[i] = max(width[i], len([]rune(s)))
		}
	}
	var b strings.Builder
	for n, line := range lines {
		for i, s := range line {
			fmt.Fprintf(&b, "%s%s", strings.Repeat(" ", width[i]-len([]rune(s))), s)
			if i < len(line)-1 {
				b.WriteString("  ")
			}
		}
		if n > 0 && t.Rows[n-1].Error != "" {
			first, _, _ := strings.Cut(t.Rows[n-1].Error, "\n")
			b.WriteString("  " + first)
		}
		b.WriteString("\n")
	}
	_, err := io.WriteString(w, b.String())
	return err
}

// short is a number with four significant digits, without an exponent where people can do without.
func short(x float64) string {
	if a := math.Abs(x); a >= 1e5 || a > 0 && a < 1e-4 {
		return strconv.FormatFloat(x, 'g', 4, 64)
	}
	return strconv.FormatFloat(x, 'f', decimalsOf(x), 64)
}

func decimalsOf(x float64) int {
	if x == 0 {
		return 0
	}
	return max(0, 3-int(math.Floor(math.Log10(math.Abs(x)))))
}
