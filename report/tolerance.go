package report

import (
	"fmt"
	"math"

	"polewright/result"
)

// This file draws what builds of a design will be like.

// classes is into how many classes of equal width a histogram sorts builds; farther out than the outermost of 1000 builds it does not go.
const classes = 40

// Histogram draws the distribution of a figure of the builds, with the design and the limits.
func Histogram(title string, f *result.ToleranceFigure) Lines {
	scale := figureScale(f)
	low, high := math.Inf(1), math.Inf(-1)
	for _, v := range f.Values {
		low, high = math.Min(low, scale*v), math.Max(high, scale*v)
	}
	for _, v := range f.SolvedValues {
		low, high = math.Min(low, scale*v), math.Max(high, scale*v)
	}
	if !(high > low) {
		low, high = low-1e-6*math.Abs(low)-1e-12, high+1e-6*math.Abs(high)+1e-12
	}
	g := Lines{Title: title, XName: figureName(f), YName: "builds in a class, %"}
	top := 0.0
	stairs := func(name string, values []float64, n int) {
		dividers := make([]float64, n+1)
		for i := range dividers {
			dividers[i] = low + (high-low)*float64(i)/float64(n)
		}
		counts := make([]float64, n)
		for _, v := range values {
			k := int(float64(n) * (scale*v - low) / (high - low))
			counts[max(0, min(k, n-1))] += 100 / float64(len(values)) * float64(n) / classes // as if in classes of the same width
		}
		c := Curve{Name: name, X: []float64{low}, Y: []float64{0}}
		for i, v := range counts {
			c.X, c.Y = append(c.X, dividers[i], dividers[i+1]), append(c.Y, v, v)
			top = math.Max(top, v)
		}
		c.X, c.Y = append(c.X, high), append(c.Y, 0)
		g.Curves = append(g.Curves, c)
	}
	stairs(fmt.Sprintf("by sensitivities, %s builds", counted(len(f.Values))), f.Values, classes)
	if len(f.SolvedValues) >= classes/2 {
		stairs(fmt.Sprintf("solved one by one, %s builds", counted(len(f.SolvedValues))), f.SolvedValues, min(classes, len(f.SolvedValues)/10+4))
	}
	upright := func(name string, v float64) {
		if v = scale * v; v >= low-0.5*(high-low) && v <= high+0.5*(high-low) { // a limit far off would squeeze the rest
			g.Curves = append(g.Curves, Curve{Name: name, X: []float64{v, v}, Y: []float64{0, top}})
		}
	}
	upright("design", f.Design)
	for i, name := range []string{"at least", "at most"} {
		if f.Limits[i] != nil {
			upright(name, *f.Limits[i])
		}
	}
	return g
}

// CauseBars draws the shares that causes have in the variance of the figures, the largest first. ok is false where nothing strays.
func CauseBars(r *result.Tolerance) (g Bars, ok bool) {
	g = Bars{Title: r.Title, XName: "share of the variance, with what a cause does together with others, %"}
	order, share := ranked(r)
	for i := range r.Figures {
		g.Series = append(g.Series, BarSeries{Name: r.Figures[i].What})
	}
	for k, j := range order {
		if k >= causeRows || share[j] < causeShare {
			break
		}
		g.Names = append(g.Names, r.Sources[j].What)
		for i := range r.Figures {
			g.Series[i].Values = append(g.Series[i].Values, 100*totalOf(&r.Figures[i], j))
		}
	}
	return g, len(g.Names) > 0
}
