package papers

import (
	"context"
	"fmt"

	"polewright"
	"polewright/design"
	"polewright/report"
	"polewright/result"
)

// This file is the page for the bench: the order of assembly with its forces.

// assembly solves the steps as a draft, whatever the accuracy of the field: a jig's factors are far larger than its error. Designs without
// magnets, and those that were asked to leave it out, have none.
func assembly(ctx context.Context, s Source) ([]Section, error) {
	if s.NoAssembly || len(s.Design.Magnets) == 0 {
		return nil, nil
	}
	if slow(s.Design) {
		return []Section{{Title: "Order of assembly", NewPage: true, Blocks: []Block{Box{Title: "Before anything moves", Texts: []string{handClear}},
			Text(fmt.Sprintf("With %d magnets on steel the steps take minutes to solve: polewright assemble FILE gives them.", len(s.Design.Magnets)))}}}, nil
	}
	r, err := polewright.RunAssembly(ctx, s.Design, polewright.AssemblyOptions{})
	if err != nil {
		return nil, err
	}
	return []Section{assemblySection(r)}, nil
}

// manyMagnets is how many on steel are too many for a page that is to be written within a minute or so: each is a step with its own grids.
const manyMagnets = 12

func slow(d *design.Design) bool {
	return len(d.Magnets) > manyMagnets && len(d.Steels)+len(d.Wounds) > 0
}

// handClear is the rule that stands before all steps (common practice, no source).
const handClear = "Hands are clear before anything moves: nobody reaches between parts, a push stick or a screw does; a second person stands by with a word that stops all work; wedges and jack screws to part what has snapped together lie at hand."

func assemblySection(r *result.Assembly) Section {
	o := Section{Title: "Order of assembly", NewPage: true}
	texts := []string{handClear}
	if r.Dangerous > 0 {
		texts = append(texts, fmt.Sprintf("Most dangerous is step %d, %s: %s.", r.Dangerous, r.Steps[r.Dangerous-1].Title, r.WhyDangerous))
	}
	for _, c := range r.CostsField {
		texts = append(texts, "Costs field for good: "+c+".")
	}
	o.Blocks = append(o.Blocks, Box{Title: "Before anything moves", Texts: texts})
	steps := Table{Caption: "The steps, in the order of common practice (no source): the largest forces on what moves",
		Head: []string{">step", "what", ">mass kg", ">force N", ">pull N", ">push N", ">side N", ">energy J", ">m/s", "jack screws"}}
	steps.Rows = report.AssemblyRows(r)
	o.Blocks = append(o.Blocks, steps, Text("Pull draws it to its place, push holds it off, side lies across the way. Energy is set free if it lets go at the worst place; the speed is without friction. "+
		fmt.Sprintf("Screws carry %g times the force along the way with friction of 0.2 on what presses it aside; torque 0.2 F d (common practice, no source).", r.ScrewFactor)))
	if chart, ok := report.AssemblyChart(r, false); ok {
		o.Blocks = append(o.Blocks, Figure{chart, chartMM, "Force on what moves against its distance from its place, the hardest steps."})
	}
	if len(r.Orders) > 0 {
		o.Blocks = append(o.Blocks, Table{Caption: "Legs last or legs first", Head: []string{"order", ">force N", "in", ">energy J", "in", "verdict"}, Rows: report.OrderRows(r)})
		if r.OrdersOnMagnets != "" {
			o.Blocks = append(o.Blocks, Text("Magnets: "+r.OrdersOnMagnets+"."))
		}
	}
	list := Table{Caption: "What to do, and where to stop", Head: []string{">step", "how", "HOLD until"}}
	for _, s := range r.Steps {
		list.Rows = append(list.Rows, []string{fmt.Sprint(s.Number), joined(s.How), joined(s.Hold)})
	}
	o.Blocks = append(o.Blocks, list)
	for i := range r.Steps {
		o.Blocks = append(o.Blocks, wayBlocks(r, &r.Steps[i])...)
	}
	strains := Table{Caption: "What the magnets stand in each state, at " + report.Celsius(r.TempC), Head: []string{"state", "magnet", ">at mm", ">lowest H kA/m", ">knee kA/m", ">left %", ">kept %"}}
	strains.Rows = report.AssemblyStrains(r)
	apart := Table{Caption: "Taking apart", Head: []string{">undo step", "what", ">begin N", "how"}}
	for _, a := range r.Apart {
		begin := ""
		if a.BeginN > 0 {
			begin = newtons(a.BeginN)
		}
		apart.Rows = append(apart.Rows, []string{fmt.Sprint(a.Step), a.What, begin, a.How})
	}
	o.Blocks = append(o.Blocks, limitedTo(strains), limitedTo(apart))
	store := append([]string{}, r.Storage...)
	for _, l := range r.Loose {
		if l.Keeper != nil {
			store = append(store, l.Magnets[0]+": "+report.KeeperText(l)+".")
		}
	}
	o.Blocks = append(o.Blocks, Box{Title: "Keeper and storage", Texts: store})
	for _, n := range r.Notes {
		o.Blocks = append(o.Blocks, Text(n))
	}
	return o
}

func wayBlocks(r *result.Assembly, s *result.AssemblyStep) (blocks []Block) {
	title := fmt.Sprintf("Step %d, %s", s.Number, s.Title)
	switch {
	case s.SameAs > 0:
		return []Block{Text(fmt.Sprintf("%s: as step %d, its mirror image.", title, s.SameAs))}
	case len(s.Turns) > 0:
		return []Block{Table{Caption: title + ": pull of the magnets on each other, below zero they are drawn apart", Head: report.TurnsHead, Rows: report.TurnsRows(s)}}
	case len(s.Way) == 0:
		return nil
	}
	blocks = append(blocks, Table{Caption: title + ", towards " + report.Direction(s.Toward), Head: report.WayHead, Rows: report.WayRows(s)})
	text := report.SideText(s.Side)
	if s.Negative > 0 {
		if text != "" {
			text += ". "
		}
		text += fmt.Sprintf("A jig must be stiffer than %s N/mm along the way, %g times the steepest pull", report.Figures(1e-3*s.JigNPerM, 2), r.JigFactor)
	}
	if text != "" {
		blocks = append(blocks, Text(text+"."))
	}
	return blocks
}

func joined(list []string) (s string) {
	for i, x := range list {
		if i > 0 {
			s += " "
		}
		s += x
	}
	return s
}

// limitedTo cuts a table to the rows that fit its pages.
func limitedTo(t Table) Table {
	all := len(t.Rows)
	t.Rows = t.Rows[:min(all, most)]
	return limited(t, all)
}
