package papers

import (
	"context"
	"fmt"
	"math"

	"polewright"
	"polewright/design"
	"polewright/draw"
	"polewright/report"
	"polewright/result"
	"polewright/safety"
	"polewright/stock"
)

// Source is what the papers are made from.
type Source struct {
	Design     *design.Design
	Solved     *polewright.Solved // of the design
	File       []byte             // the text of the design
	Stock      *stock.List        // what the parts are made from, with prices; nil: no costs
	Version    string             // of the program
	Date       string             // 2006-01-02, or ""
	Projection draw.Projection
	NoAssembly bool // leave out the order of assembly: it costs some forty draft solves
	// Card is the safety card of the solved design; [Compose] makes one where there is none.
	Card *safety.Card
}

// Compose puts everything together that is known of a solved design, so that a stranger could build from it. progress, which may be nil,
// hears what is done and how far all is, 0 … 1. Errors are those of the drawings, or of ctx.
func Compose(ctx context.Context, s Source, progress func(what string, done float64)) (*Document, error) {
	if progress == nil {
		progress = func(string, float64) {}
	}
	r := s.Solved.Result
	d := &Document{Title: title(r.Title), Kind: "Build papers", Version: s.Version, Date: s.Date}
	d.Facts = facts(s.Design, r)
	const carding = 0.4 // of the work, as a rule
	if s.Card == nil {
		var err error
		s.Card, err = s.Solved.SafetyCard(ctx, polewright.CardOptions{Progress: func(what string, done float64) { progress("safety card: "+what, carding*done) }})
		if err != nil {
			return nil, err
		}
	}
	chapters := []struct {
		what string
		make func(context.Context, Source) ([]Section, error)
	}{
		{"parts", bill},
		{"drawings", drawings},
		{"winding sheet", windingSheets},
		{"field", field},
		{"magnets", magnets},
		{"forces", loads},
		{"order of assembly", assembly},
		{"safety", safetyCard},
		{"origin", origin},
	}
	d.Sections = []Section{{Title: "Cautions", Blocks: []Block{
		Box{Title: "Read before anything is unpacked", Texts: cautions(s.Card, func(c safety.Caution) bool { return c.Severity >= safety.Warning })},
		Text("The safety card further on has the rest, with how far each limit reaches."),
		Text("The figures in these papers are estimates without warranty and help a careful person to plan. " +
			"Local codes and licensed practice decide what may be built, who may be near it, and what must be checked first."),
	}}}
	if len(r.Warnings) > 0 {
		d.Sections[0].Blocks = append(d.Sections[0].Blocks, Box{Title: "What to know of the numbers", Texts: spelled(r.Warnings)})
	}
	for i, c := range chapters {
		progress(c.what, carding+(1-carding)*float64(i)/float64(len(chapters)))
		if err := ctx.Err(); err != nil {
			return nil, err
		}
		made, err := c.make(ctx, s)
		if err != nil {
			return nil, err
		}
		d.Sections = append(d.Sections, made...)
	}
	return d, ctx.Err()
}

// cautions are the words of those of a card that are wanted.
func cautions(c *safety.Card, wanted func(safety.Caution) bool) (list []string) {
	for _, x := range c.Cautions {
		if wanted(x) {
			list = append(list, report.Degrees(fmt.Sprintf("%s (%s). %s", x.Title, x.Severity, x.Text)))
		}
	}
	return list
}

func spelled(list []string) (out []string) {
	for _, s := range list {
		out = append(out, report.Degrees(s))
	}
	return out
}

// facts is the summary under the title.
func facts(d *design.Design, r *result.Result) Table {
	t := Table{}
	add := func(what, format string, args ...any) {
		t.Rows = append(t.Rows, []string{what, fmt.Sprintf(format, args...)})
	}
	along := ""
	if size(r.GapB) > 0 {
		along = " along " + report.Direction(r.GapB)
	}
	add("Field in the gap", "%s T%s at %s, magnets at %s", tesla(size(r.GapB)), along, report.Point(r.GapAtM), report.Celsius(r.TempC))
	if g := r.Region; g != nil {
		add("Over the target region", "%s to %s T, mean %s T; %s ppm from lowest to highest", tesla(g.MinB), tesla(g.MaxB), tesla(g.MeanB), report.Figures(g.PeakToPeak, 4))
	}
	for _, h := range r.Halves {
		add("Force between the halves", "%s, at %s", report.HalfForce(h), report.PlaneName(h.Plane))
	}
	for _, s := range r.Stray {
		if s.Largest > 0 {
			add("Reach of "+report.Limit(s.Limit), "%s mm from the centre, towards %s", report.Decimals(1e3*s.Largest, 0), report.Direction(s.Direction))
		}
	}
	add("Mass", "%s kg: magnets %s kg, steel %s kg", kilograms(r.MassKg), kilograms(report.MassOf(r, "magnet")), kilograms(report.MassOf(r, "steel", "wound")))
	if o := r.Demagnetization; o != nil {
		switch {
		case o.Magnets > 0:
			add("Lost for good at "+report.Celsius(o.WorstC), "%s %% of the gap field", report.Figures(o.LostGap, 3))
		case len(o.NotComputed) > 0:
			add("Lost for good", "not computed: the curve past the knee is not known")
		default:
			add("Lost for good", "nothing between the temperatures asked for")
		}
	}
	for _, c := range r.Target {
		verdict := "met"
		if !c.Met {
			verdict = "NOT MET"
		}
		add("Target: "+report.Degrees(c.What), "%s wanted, got %s: %s", report.Wanted(c), report.Amount(c.Got, c.Unit), verdict)
	}
	for _, w := range polewright.Unsafe(d, r) {
		add("NOT SAFE", "%s", report.Degrees(w))
	}
	add("Error of the field", "%s", errorOf(r))
	return t
}

func errorOf(r *result.Result) string {
	if r.Solver.Method == "free-field" && r.Solver.EstimatedError > 0 {
		return fmt.Sprintf("about %s %% of the gap field, from closed forms with panels of two sizes (accuracy %s); magnets of a grade differ by more",
			report.Figures(r.Solver.EstimatedError, 2), r.Solver.Accuracy)
	}
	if r.Solver.Method == "free-field" {
		return "closed forms: no error of a grid; magnets of a grade differ by some per cent"
	}
	return fmt.Sprintf("about %s %% of the gap field, from two grids (accuracy %s); magnets of a grade differ by more",
		report.Figures(r.Solver.EstimatedError, 2), r.Solver.Accuracy)
}

func size(v [3]float64) float64 { return math.Hypot(math.Hypot(v[0], v[1]), v[2]) }

func tesla(b float64) string     { return report.Decimals(b, 4) }
func kilograms(m float64) string { return report.Decimals(m, 3) }

// atLeast prints a size to three figures, and what is below the least worth telling as such.
func atLeast(v, least float64) string {
	if v < least {
		return "< " + report.Figures(least, 1)
	}
	return report.Figures(v, 3)
}

// most is how many rows a table of parts has at most.
const most = 120

// limited tells in a last row that a table goes on.
func limited(t Table, all int) Table {
	if all > most {
		t.Rows = append(t.Rows, []string{fmt.Sprintf("and %d more: see polewright predict --json", all-most)})
	}
	return t
}
