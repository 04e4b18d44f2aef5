package papers

import (
	"context"
	"fmt"
	"math"
	"slices"

	"gonum.org/v1/gonum/interp"
	"gonum.org/v1/gonum/spatial/r3"

	"polewright"
	"polewright/report"
	"polewright/result"
	"polewright/safety"
)

// This file makes the card to hang beside the magnet: limits, how far they reach, and what pulls on tools.

func safetyCard(ctx context.Context, s Source) ([]Section, error) {
	r := s.Solved.Result
	around := s.Solved.Stray()
	o := Section{Title: "Safety card", NewPage: true, Blocks: []Block{
		Box{Title: r.Title, Texts: append(cautions(r, "(danger)"), cautions(r, "(warning)")...)},
	}}
	o.Blocks = append(o.Blocks, strayTable(r), limitsTable(ctx, r, around))
	o.Blocks = append(o.Blocks, Text(airText(r)))
	pull, err := toolPull(ctx, s, around)
	if err != nil {
		return nil, err
	}
	o.Blocks = append(o.Blocks, pull...)
	return []Section{o}, ctx.Err()
}

func strayTable(r *result.Result) Table {
	t := Table{Caption: "Stray field: the farthest point at each limit, mm from " + report.Point(r.CenterM), Head: []string{"limit", ">along x", ">along y", ">along z", ">farthest", "towards"}}
	for _, x := range r.Stray {
		towards := ""
		if x.Largest > 0 {
			towards = report.Direction(x.Direction)
		}
		t.Rows = append(t.Rows, []string{report.Limit(x.Limit), reachMM(x.Reach.X), reachMM(x.Reach.Y), reachMM(x.Reach.Z), reachMM(x.Largest), towards})
	}
	return t
}

func reachMM(m float64) string {
	if m == 0 {
		return "not outside"
	}
	return report.Decimals(1e3*m, 0)
}

// limitsTable lists the published limits with how far each reaches.
func limitsTable(ctx context.Context, r *result.Result, around *polewright.Stray) Table {
	t := Table{Caption: "Published limits, and how far from the centre each reaches", Head: []string{"limit", "who or what", ">reach mm", "source"}}
	known := map[float64]float64{}
	for _, x := range r.Stray {
		known[x.Limit] = x.Largest
	}
	for _, l := range safety.Limits() {
		reach := fmt.Sprintf("holds at %s m", report.Figures(l.AtM, 3))
		if l.AtM == 0 {
			m, ok := known[l.FieldT]
			if !ok && ctx.Err() == nil {
				m = farthest(r, around, l.FieldT)
				known[l.FieldT] = m
			}
			reach = reachMM(m)
		}
		source := l.Source
		if l.FromMemory {
			source += " (from memory)"
		}
		t.Rows = append(t.Rows, []string{l.Stated, l.What, reach, source})
	}
	return t
}

// farthest is the largest reach of a limit that is found, along the axes or elsewhere.
func farthest(r *result.Result, around *polewright.Stray, limit float64) float64 {
	m, _ := around.Largest(limit)
	for axis, name := range []string{"x", "y", "z"} {
		var u [3]float64
		for _, u[axis] = range []float64{1, -1} {
			if u[axis] > 0 || !slices.Contains(r.Solver.Symmetry, name) {
				m = math.Max(m, around.Reach(limit, vector(u)))
			}
		}
	}
	return m
}

func airText(r *result.Result) string {
	class, near, far := safety.AirFreight(size(r.MomentAm2))
	return fmt.Sprintf("Air freight, by the moment of %s A·m²: %s A/m at 2.1 m and %s A/m at 4.6 m on its axis; %s.",
		report.Figures(size(r.MomentAm2), 3), report.Figures(near, 3), report.Figures(far, 3), class)
}

// toolPull shows the pull on loose tools against their distance, on the side of the assembly that pulls most.
func toolPull(ctx context.Context, s Source, around *polewright.Stray) ([]Block, error) {
	const from, to, points = 2e-3, 0.6, 60
	longest := 0.0
	for _, t := range safety.Tools() {
		longest = math.Max(longest, t.Length)
	}
	side, rim := strongestSide(s, around)
	distance, b := make([]float64, points), make([]float64, points)
	inParallel(points, func(i int) {
		distance[i] = math.Log(from/2) + math.Log((to+longest)/(from/2))*float64(i)/(points-1)
		v, _ := s.Solved.Field(r3.Add(around.Center, r3.Scale(rim+math.Exp(distance[i]), side)))
		b[i] = r3.Norm(v)
	})
	if err := ctx.Err(); err != nil {
		return nil, err
	}
	var curve interp.FritschButland
	if err := curve.Fit(distance, b); err != nil {
		return nil, err
	}
	field := func(r float64) float64 { return curve.Predict(math.Log(r)) }
	direction := report.Direction(coordinates(side))
	g := report.Lines{Title: "Pull on loose steel tools", XName: "from the surface to the tool's near end, mm", YName: "N", LogX: true, LogY: true}
	t := Table{Caption: fmt.Sprintf("Loose tools on the side %s: pull by the distance from the surface, and where they slide and fly", direction),
		Head: []string{"tool", ">at 10 mm N", ">at 30 mm N", ">at 100 mm N", ">at 300 mm N", ">slides from mm", ">flies from mm"}}
	for i, tool := range safety.Tools() {
		row := []string{tool.Name}
		for _, at := range []float64{0.01, 0.03, 0.1, 0.3} {
			row = append(row, atLeast(tool.PullAt(field, at), 1e-3))
		}
		for _, part := range []float64{safety.SlideFriction, 1} {
			m, err := safety.ToolReach(field, tool, part, from, to)
			switch {
			case err != nil:
				row = append(row, fmt.Sprintf("beyond %s", report.Decimals(1e3*to, 0)))
			case m == 0:
				row = append(row, "never")
			default:
				row = append(row, report.Decimals(1e3*m, 0))
			}
		}
		t.Rows = append(t.Rows, row)
		if i < 6 {
			c := report.Curve{Name: tool.Name}
			for k := range 50 {
				at := from * math.Pow(to/from, float64(k)/49)
				pull := tool.PullAt(field, at)
				if pull < 1e-3 {
					pull = math.NaN()
				}
				c.X, c.Y = append(c.X, 1e3*at), append(c.Y, pull)
			}
			g.Curves = append(g.Curves, c)
		}
	}
	blocks := []Block{t}
	for _, c := range g.Curves {
		for _, y := range c.Y {
			if y > 0 { // something to draw
				return append(blocks, Figure{g, chartMM, "Pull on loose tools that point at the magnet, on the side " + direction + "; tools of plain steel, in the field of the assembly as it is."}), nil
			}
		}
	}
	return blocks, nil
}

// strongestSide is the axis and way on which the field is highest a hand's breadth off the box of the parts, and how far its rim is.
func strongestSide(s Source, around *polewright.Stray) (side r3.Vec, rim float64) {
	best := -1.0
	for axis := range 3 {
		for _, way := range []float64{1, -1} {
			var u [3]float64
			u[axis] = way
			d := around.Rim(vector(u))
			v, _ := s.Solved.Field(r3.Add(around.Center, r3.Scale(d+0.03, vector(u))))
			if b := r3.Norm(v); b > best*1.0001 {
				best, side, rim = b, vector(u), d
			}
		}
	}
	return side, rim
}
