package study

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"polewright/design"
	"polewright/mistake"
	"polewright/report"
)

// mostCurves is as many as a chart can tell apart.
const mostCurves = 8

// Chart draws a figure over the first parameter that takes numbers, a curve for each setting of the others.
func (t *Table) Chart(f Figure, title string) (report.Lines, error) {
	over := slices.IndexFunc(t.Kinds, func(p design.Parameter) bool { return p.Kind != design.Text })
	if over < 0 {
		return report.Lines{}, mistake.Of("a picture needs a parameter that takes numbers", "vary a length or a number, too")
	}
	p := t.Kinds[over]
	unit, times := p.Unit(), 1.0
	if p.Kind == design.Quantity {
		one, ok := Number(p, "1 "+unit)
		if zero, _ := Number(p, "0 "+unit); ok && zero == 0 && one != 0 {
			times = 1 / one
		} else {
			unit = ""
		}
	}
	name := p.Path
	if unit != "" {
		name += ", " + unit
	}
	shown := f.Name
	if f.Show != "" {
		shown += ", " + f.Show
	}
	g := report.Lines{Title: title, XName: name, YName: shown}
	byName := map[string]*report.Curve{}
	var names []string
	for _, r := range t.Rows {
		var others []string
		x, at := math.NaN(), 0
		for k, v := range t.Vary {
			if at >= len(r.Settings) {
				break
			}
			if s := r.Settings[at]; k == over {
				if n, ok := Number(p, s.Value); ok {
					x = n * times
				}
			} else {
				others = append(others, s.Value)
			}
			at += len(v.Paths)
		}
		y, ok := r.Figures[f.Name]
		if !ok {
			y = math.NaN()
		}
		if math.IsNaN(x) {
			continue
		}
		key := strings.Join(others, ", ")
		c := byName[key]
		if c == nil {
			c = &report.Curve{Name: key}
			byName[key] = c
			names = append(names, key)
		}
		c.X, c.Y = append(c.X, x), append(c.Y, y*f.Times)
	}
	if len(names) > mostCurves {
		return g, mistake.Of(fmt.Sprintf("%d curves in one picture", len(names)), fmt.Sprintf("a picture shows up to %d: put the parameter with most values first", mostCurves))
	}
	for _, n := range names {
		c := byName[n]
		sortByX(c)
		g.Curves = append(g.Curves, *c)
	}
	return g, nil
}

func sortByX(c *report.Curve) {
	order := make([]int, len(c.X))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(i, j int) int {
		switch {
		case c.X[i] < c.X[j]:
			return -1
		case c.X[i] > c.X[j]:
			return 1
		}
		return 0
	})
	x, y := make([]float64, len(order)), make([]float64, len(order))
	for k, i := range order {
		x[k], y[k] = c.X[i], c.Y[i]
	}
	c.X, c.Y = x, y
}
