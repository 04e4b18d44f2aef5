package papers

import (
	"context"
	"math"
	"strings"

	"polewright/report"
	"polewright/safety"
)

// This file makes the card to hang beside the magnet.

// SafetyCard is the card alone, to hang beside the magnet; s has one.
func SafetyCard(s Source) *Document {
	return &Document{Title: title(s.Card.Title), Kind: "Safety card", Version: s.Version, Date: s.Date, Sections: cardSections(s.Card)}
}

// title is that of a document.
func title(of string) string {
	if of = strings.TrimSpace(of); of == "" {
		return "untitled"
	}
	return of
}

func safetyCard(_ context.Context, s Source) ([]Section, error) {
	all := cardSections(s.Card)
	all[0].NewPage = true
	return all, nil
}

func cardSections(c *safety.Card) []Section {
	o := Section{Title: "Safety card", Blocks: []Block{
		Box{Title: "Before anybody comes near", Texts: cautions(c, func(safety.Caution) bool { return true })},
		Box{Title: "Between the halves", Texts: report.PinchWords(c)},
		Box{Title: "By air", Texts: report.AirWords(c.Air)},
		limitsTable(c),
		Text(report.NoReach + ": below the limit everywhere outside the box of the parts. Mark the line of 0.5 mT on the floor and at the door."),
		toolTable(c), pullTable(c),
	}}
	o.Blocks = append(o.Blocks, pullChart(c)...)
	sources := Table{Caption: "Sources of the limits", Head: []string{"limit", "who or what", "source"}}
	for _, l := range c.Limits {
		source := l.Source
		if l.FromMemory {
			source += " (from memory)"
		}
		sources.Rows = append(sources.Rows, []string{l.Stated, l.What, source})
	}
	o.Blocks = append(o.Blocks, Text(report.ToolNote(c)), sources)
	return []Section{o}
}

// limitsTable lists the published limits with how far each reaches.
func limitsTable(c *safety.Card) Table {
	t := Table{Caption: "Published limits, and how far each reaches, mm from the centre at " + report.Point(c.CenterM),
		Head: []string{">limit", "who or what", ">along x", ">along y", ">along z", ">farthest", "towards"}}
	for _, l := range c.Limits {
		if l.AtM == 0 {
			w := l.Reach
			t.Rows = append(t.Rows, []string{report.ShortLimit(l.Limit), l.What, report.ReachMM(w.X), report.ReachMM(w.Y), report.ReachMM(w.Z), report.ReachMM(w.Largest), report.Towards(w)})
		}
	}
	return t
}

func toolTable(c *safety.Card) Table {
	t := Table{Caption: "Loose steel tools: where each begins to slide on a smooth bench, and where it is lifted; mm from the box of the parts",
		Head: []string{"tool", ">slides, x", ">y", ">z", ">most", ">lifts, x", ">y", ">z", ">most"}}
	for _, p := range c.Tools {
		row := []string{p.Name}
		for _, w := range []safety.Ways{p.Slides, p.Lifts} {
			row = append(row, report.ReachMM(w.X), report.ReachMM(w.Y), report.ReachMM(w.Z), report.ReachMM(w.Largest))
		}
		t.Rows = append(t.Rows, row)
	}
	return t
}

// pullTable has the pull along the axes and at the worst place.
func pullTable(c *safety.Card) Table {
	t := Table{Caption: "Pull on them, N, by that distance: along x, y, z and at the worst place", Head: []string{"tool", ">weight N"}}
	for i, p := range c.Tools {
		row := []string{p.Name, report.Figures(p.WeightN, 3)}
		for _, x := range p.Pull {
			if !report.TellsPull(x) || x.DistanceM > 0.1 {
				continue
			}
			if i == 0 {
				t.Head = append(t.Head, ">"+report.Millimetres(x.DistanceM)+" mm, x", ">y", ">z", ">most")
			}
			for _, f := range []float64{x.Newtons.X, x.Newtons.Y, x.Newtons.Z, x.Newtons.Largest} {
				row = append(row, report.PullNewtons(f))
			}
		}
		t.Rows = append(t.Rows, row)
	}
	return t
}

// pullChart shows the pull at the worst place; nothing where there is nothing to draw.
func pullChart(c *safety.Card) []Block {
	g := report.Lines{Title: "Pull on loose steel tools at the worst place", XName: "from the box of the parts to the tool's near end, mm", YName: "N", LogX: true, LogY: true}
	some := false
	for _, p := range c.Tools {
		k := report.Curve{Name: p.Name}
		for _, x := range p.Pull {
			f := x.Newtons.Largest
			if f < 1e-3 {
				f = math.NaN()
			} else {
				some = true
			}
			k.X, k.Y = append(k.X, 1e3*x.DistanceM), append(k.Y, f)
		}
		g.Curves = append(g.Curves, k)
	}
	if !some {
		return nil
	}
	return []Block{Figure{g, chartMM, "Pull on loose tools that point at the magnet, in the field of the assembly as it is, at the worst of the axes, edges and corners."}}
}
