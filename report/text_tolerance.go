package report

import (
	"fmt"
	"io"
	"math"
	"slices"
	"strings"

	"polewright/result"
)

// This file writes what builds of a design will be like.

// causeRows is how many causes the text names, and causeShare the least share of any figure that gets a cause its row; the JSON has them all.
const (
	causeRows  = 12
	causeShare = 0.01
)

// ToleranceText writes the spread of each figure, the builds that keep the limits, the causes, and the shims to hold ready.
func ToleranceText(w io.Writer, r *result.Tolerance) error {
	var b strings.Builder
	titled(&b, "", r.Title)
	spreadTable(&b, r)
	yields(&b, r)
	causesTable(&b, r)
	trim(&b, r)
	notes(&b, "Notes", r.Notes)
	return written(w, &b)
}

// figureName is a figure with the unit of figureValue.
func figureName(f *result.ToleranceFigure) string {
	switch f.What {
	case "field":
		return "field, T"
	case "stray field":
		return fmt.Sprintf("stray at %s mm, mT", millimetres(f.AtM))
	}
	return f.What + ", " + f.Unit
}

// figureScale turns a figure into the unit of figureName.
func figureScale(f *result.ToleranceFigure) float64 {
	if f.What == "stray field" {
		return 1e3
	}
	return 1
}

func figureValue(f *result.ToleranceFigure, v float64) string {
	switch f.What {
	case "field":
		return tesla(v)
	case "pull":
		return newtons(v)
	}
	return figures(figureScale(f)*v, 3)
}

func spreadTable(b *strings.Builder, r *result.Tolerance) {
	heading(b, "Builds of this design: %s drawn from the sensitivities (accuracy %s)", counted(r.Builds), r.Accuracy)
	t := table{head: []string{"figure", ">design", ">mean", ">std dev", ">2.5 %", ">50 %", ">97.5 %"}}
	row := func(name string, f *result.ToleranceFigure, d result.Distribution) {
		own := ""
		if name != "" {
			own = figureValue(f, f.Design)
		}
		t.add(name, own, figureValue(f, d.Mean), figures(figureScale(f)*d.SD, 3), figureValue(f, d.P025), figureValue(f, d.P50), figureValue(f, d.P975))
	}
	for i := range r.Figures {
		row(figureName(&r.Figures[i]), &r.Figures[i], r.Figures[i].Spread)
	}
	t.write(b)
	b.WriteString("\n")
	fact(b, "drawn", "with seed %d; %s", r.Seed, r.Correlation)
	if r.Solves > 0 {
		heading(b, "The same by %s builds that were solved one by one", counted(r.Solves-r.Failed))
		t = table{head: []string{"figure", ">mean", ">std dev", ">2.5 %", ">50 %", ">97.5 %", ">off, rms", ">std dev differs"}}
		for i := range r.Figures {
			f := &r.Figures[i]
			d := f.Solved
			differs := "not known"
			if f.Same.SD > 0 {
				differs = signed(decimals(100*(d.SD/f.Same.SD-1), 1)) + " %"
			}
			t.add(figureName(f), figureValue(f, d.Mean), figures(figureScale(f)*d.SD, 3), figureValue(f, d.P025), figureValue(f, d.P50), figureValue(f, d.P975),
				figures(figureScale(f)*(*f.Misfit), 2), differs)
		}
		t.write(b)
		b.WriteString("\n")
		fact(b, "off, rms", "by how much the sensitivities miss a solve, build by build, and by how much their standard deviation of the same builds differs")
		if r.Failed > 0 {
			fact(b, "failed", "%s of %s builds could not be solved", counted(r.Failed), counted(r.Solves))
		}
	}
}

// shareText is a share with its interval: "94.1 % (93.6 to 94.6 %)".
func shareText(s *result.Share) string {
	return fmt.Sprintf("%s %% (%s to %s %%)", percent(s.Share), percent(s.Low), percent(s.High))
}

func yields(b *strings.Builder, r *result.Tolerance) {
	heading(b, "Builds that meet the target, with what the number of builds leaves open (95 %% confidence)")
	if r.Yield == nil {
		fact(b, "none asked", "the design has no [target] with a field, a uniformity or a stray limit")
		return
	}
	t := table{head: []string{"what", "builds", "solved builds", "wanted"}}
	solved := func(s *result.Share) string {
		if s == nil {
			return "-"
		}
		return shareText(s)
	}
	for i := range r.Figures {
		if f := &r.Figures[i]; f.Within != nil {
			t.add(figureName(f), shareText(f.Within), solved(f.WithinBy), limits(f))
		}
	}
	t.add("all of them", shareText(r.Yield), solved(r.YieldBySolves), "")
	t.write(b)
}

func limits(f *result.ToleranceFigure) string {
	switch low, high := f.Limits[0], f.Limits[1]; {
	case low != nil && high != nil:
		return figureValue(f, *low) + " to " + figureValue(f, *high)
	case low != nil:
		return "at least " + figureValue(f, *low)
	case high != nil:
		return "at most " + figureValue(f, *high)
	}
	return ""
}

// spreadText is a standard deviation in the unit that people give it in.
func spreadText(s float64, unit string) string {
	switch unit {
	case "m":
		return figures(1e3*s, 2) + " mm"
	case "rad":
		return figures(180/math.Pi*s, 2) + " deg"
	case "1":
		return figures(100*s, 2) + " %"
	}
	return figures(s, 2) + " " + unit
}

// ranked are the sources in the order of the largest share that each has in any figure, with that share.
func ranked(r *result.Tolerance) (order []int, share []float64) {
	share = make([]float64, len(r.Sources))
	for i := range r.Figures {
		if r.Figures[i].Spread.SD > 0 {
			for _, c := range r.Figures[i].Causes {
				share[c.Source] = max(share[c.Source], c.Total)
			}
		}
	}
	for i := range r.Sources {
		order = append(order, i)
	}
	slices.SortStableFunc(order, func(a, b int) int {
		switch {
		case share[a] > share[b]:
			return -1
		case share[a] < share[b]:
			return 1
		}
		return 0
	})
	return order, share
}

func totalOf(f *result.ToleranceFigure, source int) float64 {
	for _, c := range f.Causes {
		if c.Source == source {
			return c.Total
		}
	}
	return 0
}

func causesTable(b *strings.Builder, r *result.Tolerance) {
	heading(b, "Causes: share of each figure's variance, with what a cause does together with others")
	t := table{head: []string{"what strays", ">std dev", "", ">field mT"}}
	for i := range r.Figures {
		t.head = append(t.head, ">"+strings.TrimSuffix(r.Figures[i].What, " field")+" %")
	}
	order, share := ranked(r)
	for k, j := range order {
		if k >= causeRows || share[j] < causeShare {
			break
		}
		s := &r.Sources[j]
		from := "usual"
		if s.Given {
			from = "given"
		}
		cells := []string{shortened(s.What, 32), spreadText(s.Spread, s.Unit), from, signed(decimals(1e3*s.Field, 2))}
		for i := range r.Figures {
			cells = append(cells, decimals(100*totalOf(&r.Figures[i], j), 0))
		}
		t.add(cells...)
	}
	if len(t.rows) == 0 {
		fact(b, "none", "nothing strays")
		return
	}
	t.write(b)
	if rest := len(order) - len(t.rows); rest > 0 {
		fmt.Fprintf(b, "  and %s more with smaller shares, which --json lists\n", counted(rest))
	}
	b.WriteString("\n")
	fact(b, "std dev", "normal, cut at three; a limit of \"plus or minus\" is taken as two. Yours go into [tolerance] of the design file")
	fact(b, "field mT", "what one standard deviation adds to the field")
}

func trim(b *strings.Builder, r *result.Tolerance) {
	t := r.Trim
	if t == nil {
		return
	}
	heading(b, "Trim: shims in the gap")
	fact(b, "authority", "%s %% of the field for each 0.1 mm of gap; tried up to %s mm either way", signed(figures(10*t.FieldPerMM, 2)), millimetres(t.ReachM))
	switch {
	case t.CutM > 0:
		fact(b, "spacer", "make it %s mm shorter than in the design", millimetres(t.CutM))
	case t.CutM < 0:
		fact(b, "spacer", "make it %s mm longer than in the design", millimetres(-t.CutM))
	}
	switch {
	case len(t.ShimsM) > 0:
		var list []string
		for _, s := range t.ShimsM {
			list = append(list, millimetres(s))
		}
		fact(b, "hold ready", "shims of %s mm for each spacer, not magnetic: the gap in steps of %s mm", strings.Join(list, ", "), millimetres(t.StepM))
	case t.CutM == 0:
		fact(b, "hold ready", "no shims: none bring more builds in")
	}
	fact(b, "builds in", "%s without, %s with", shareText(&t.Without), shareText(&t.With))
	if len(t.Limits) > 0 && t.With.Share < 0.9995 {
		fact(b, "not cured", "%s: no length of the gap brings the other builds in; measured and paired magnets, a straighter gap or shims that flatten the field do",
			strings.Join(t.Limits, ", "))
	}
	pull := "hard"
	for i := range r.Figures {
		if f := &r.Figures[i]; f.What == "pull" {
			pull = "with up to " + newtons(math.Max(math.Abs(f.Spread.P025), math.Abs(f.Spread.P975))) + " N"
		}
	}
	fact(b, "caution", "the halves pull %s: set shims with jack screws holding them apart, fingers out of the gap", pull)
}
