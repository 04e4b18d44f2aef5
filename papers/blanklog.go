package papers

import (
	"encoding/csv"
	"fmt"
	"io"
	"strconv"
	"strings"

	"polewright/report"
	"polewright/result"
)

// BlankLog writes the log to fill in: places with empty fields, what to expect as notes. file is the text of the design.
func BlankLog(w io.Writer, s *result.Sheet, file []byte, version, date string) error {
	var b strings.Builder
	note := func(key, value string) { fmt.Fprintf(&b, "# %s\n", strings.TrimRight(key+": "+value, " ")) }
	note("design", strings.Join(strings.Fields(s.Title), " "))
	note("design sha-256", Hash(file))
	note("sheet made by", strings.TrimSpace("polewright "+version+" "+date))
	note("probe", s.Probe)
	for _, n := range RecordedNotes {
		note(n[0], n[1])
	}
	fmt.Fprintf(&b, "# Fill in the field (mT) and the temperature of the magnets (degC) of each line; an empty field was not read.\n")
	fmt.Fprintf(&b, "# Expected values hold at %s; from and to are the band of 95 %%.\n", report.Celsius(s.ReferenceC))
	used := map[string]bool{}
	for _, e := range s.Readings {
		used[e.Component] = true
	}
	header := []string{"x_mm", "y_mm", "z_mm"}
	var components []string
	for _, k := range []string{"Bx", "By", "Bz"} {
		if used[k] {
			components, header = append(components, k), append(header, k+"_mT")
		}
	}
	table := csv.NewWriter(&b)
	if err := table.Write(append(header, "T_degC")); err != nil {
		return err
	}
	group := ""
	number := func(m float64) string { return strconv.FormatFloat(1e3*m, 'g', 6, 64) }
	for i, e := range s.Readings {
		table.Flush()
		if e.Group != group {
			group = e.Group
			fmt.Fprintf(&b, "# %s\n", SheetTitles[group])
		}
		p, _ := Milliteslas(e.Predicted, e.Band/10)
		lo, _ := Milliteslas(e.Predicted-e.Band, e.Band)
		hi, _ := Milliteslas(e.Predicted+e.Band, e.Band)
		fmt.Fprintf(&b, "# no. %d, %s expected %s mT, from %s to %s\n", i+1, e.Component, p, lo, hi)
		cells := append([]string{number(e.At[0]), number(e.At[1]), number(e.At[2])}, make([]string, len(components)+1)...)
		if err := table.Write(cells); err != nil {
			return err
		}
	}
	table.Flush()
	_, err := io.WriteString(w, b.String())
	return err
}
