package report

import (
	"fmt"
	"io"
	"math"
	"slices"
	"strings"

	"gonum.org/v1/gonum/interp"

	"polewright/result"
)

// This file writes an order of assembly with its forces.

// AssemblyText writes it as text: the order, each step with its way, what the magnets stand, taking apart, storage, cautions.
func AssemblyText(w io.Writer, r *result.Assembly) error {
	var b strings.Builder
	titled(&b, "", r.Title)
	heading(&b, "Order of assembly: %s (accuracy %s, magnets at %s)", r.Layout, r.Accuracy, celsius(r.TempC))
	fact(&b, "order by", "%s", r.Basis)
	fact(&b, "forces", "on what moves, from all that stands; a pull above zero draws it to its place")
	b.WriteString("\n")
	t := table{head: []string{">step", "what", ">mass kg", ">force N", ">pull N", ">push N", ">side N", ">energy J", ">m/s"}}
	for _, row := range AssemblyRows(r) {
		row[1] = shortened(row[1], 34)
		t.add(row[:9]...)
	}
	t.write(&b)
	b.WriteString("\n")
	fact(&b, "force", "the largest on the way; push: what holds it off, which a pusher must overcome; side: across the way")
	fact(&b, "energy", "set free if it lets go at the worst place, and the speed at which it arrives or flies off without friction")
	if r.Dangerous > 0 {
		fact(&b, "DANGEROUS", "step %d, %s: %s", r.Dangerous, r.Steps[r.Dangerous-1].Title, r.WhyDangerous)
	}
	if len(r.Orders) > 0 {
		heading(&b, "Legs last or legs first")
		for _, row := range OrderRows(r) {
			text := row[5]
			if row[1] != "" {
				text = fmt.Sprintf("%s N at most (%s), %s J at most (%s). %s", row[1], row[2], row[3], row[4], text)
			}
			fact(&b, row[0], "%s", text)
		}
		if r.OrdersOnMagnets != "" {
			fact(&b, "magnets", "%s", r.OrdersOnMagnets)
		}
	}
	for i := range r.Steps {
		assemblyStep(&b, r, &r.Steps[i])
	}
	heading(&b, "What the magnets stand in each state, at %s", celsius(r.TempC))
	t = table{head: []string{"state", "magnet", ">at mm", ">lowest H kA/m", ">knee kA/m", ">left %", ">kept %"}}
	for _, row := range AssemblyStrains(r) {
		row[0], row[1] = shortened(row[0], 34), shortName(row[1])
		t.add(row...)
	}
	t.write(&b)
	b.WriteString("\n")
	if len(r.CostsField) == 0 {
		fact(&b, "for good", "no state takes a magnet past its knee as far as that is known")
	}
	bullets(&b, r.CostsField)
	heading(&b, "Taking apart")
	t = table{head: []string{">undo step", "what", ">begin N", "how"}}
	for _, a := range r.Apart {
		t.add(fmt.Sprint(a.Step), shortName(a.What), beginning(a), a.How)
	}
	t.write(&b)
	heading(&b, "Keeper and storage")
	for _, l := range r.Loose {
		if l.Keeper != nil {
			fact(&b, shortened(l.Magnets[0], 13), "%s", KeeperText(l))
		}
	}
	bullets(&b, r.Storage)
	notes(&b, "Notes", r.Notes)
	notes(&b, "Cautions", r.Cautions)
	return written(w, &b)
}

func beginning(a result.Takeoff) string {
	if a.BeginN == 0 {
		return "-"
	}
	return newtons(a.BeginN)
}

// KeeperText says what a keeper does on the pole of a loose magnet.
func KeeperText(l result.LooseMagnet) string {
	k := l.Keeper
	return fmt.Sprintf("keeper on a pole, a steel %s: %s pull it off (B²A/2µ0 with %s T over %s mm² is %s N); %s mm or more carry the flux at 1.6 T", keeperSize(k), force(k.PullN), decimals(k.B, 2), decimals(1e6*k.AreaM2, 0), newtons(k.PoleN), decimals(1e3*k.NeedM, 1))
}

// keeperSize says a keeper's shape and size.
func keeperSize(k *result.Keeper) string {
	if k.DiameterM > 0 {
		return fmt.Sprintf("disc %s mm across and %s mm thick", millimetres(k.DiameterM), millimetres(k.ThicknessM))
	}
	return fmt.Sprintf("bar of %s x %s x %s mm", millimetres(k.SizeM[0]), millimetres(k.SizeM[1]), millimetres(k.SizeM[2]))
}

// AssemblyRows are the rows of the order: step, what, mass kg, force N, pull N, push N, side force N, energy J, speed m/s, screws.
func AssemblyRows(r *result.Assembly) (rows [][]string) {
	for _, s := range r.Steps {
		row := []string{fmt.Sprint(s.Number), s.Title, kilograms(s.MassKg), "", "", "", "", "", "", ""}
		switch {
		case len(s.Turns) > 0:
			row[3] = newtons(s.PeakN)
		case len(s.Way) > 0:
			row[3], row[4], row[5], row[6] = newtons(s.PeakN), newtons(math.Max(0, s.PeakPullN)), newtons(s.PeakPushN), newtons(s.PeakSideN)
			e, v := s.EnergyJ, s.SpeedMPerS
			if s.FlyingOffJ > e {
				e, v = s.FlyingOffJ, s.FlyMPerS
			}
			row[7], row[8], row[9] = figures(e, 2), figures(v, 2), ScrewText(s.Screws)
		}
		rows = append(rows, row)
	}
	return rows
}

// ScrewText says the jack screws of a step.
func ScrewText(s *result.Screws) string {
	if s == nil {
		return ""
	}
	return fmt.Sprintf("%d x %s for %s N each, %s N·m", s.Count, s.Size, newtons(s.LoadN), figures(s.TorqueNm, 2))
}

// AssemblyStrains are the rows of what the magnets stand, at the end those states that another order alone has: state, magnet, distance mm, lowest H and knee kA/m, per cent left and kept.
func AssemblyStrains(r *result.Assembly) (rows [][]string) {
	add := func(state string, s *result.StateStrain, far bool) {
		if s == nil {
			return
		}
		if s.KneeH == 0 {
			rows = append(rows, []string{state, s.Magnet, "", "", "not known", "", ""})
			return
		}
		at, kept := "", "100"
		if far {
			at = millimetres(s.DistanceM)
		}
		if s.PastKnee > 1e-3 {
			if kept = figures(100*s.Kept, 3); s.Kept == 0 {
				kept = "not computed"
			}
		}
		rows = append(rows, []string{state, s.Magnet, at, kiloAmperes(s.LowestH), kiloAmperes(s.KneeH), decimals(100*s.Margin, 0), kept})
	}
	for _, l := range r.Loose {
		add(fmt.Sprintf("loose in air (%d alike)", len(l.Magnets)), &l.State, false)
	}
	for _, s := range r.Steps {
		add(fmt.Sprintf("%d %s", s.Number, s.Title), s.Worst, len(s.Way) > 0)
	}
	for _, o := range r.Orders[min(1, len(r.Orders)):] {
		for i := range o.States {
			if s := &o.States[i]; s.SameAs == 0 {
				add(o.Name+" "+s.Step, &s.StateStrain, true)
			}
		}
	}
	return rows
}

// WayHead is over the rows of [WayRows].
var WayHead = []string{">distance mm", ">pull N", ">pull kgf", "pull by", ">side N", ">torque N·m", ">energy so far J", ">stiffness N/mm"}

// WayRows are the rows of a step's way.
func WayRows(s *result.AssemblyStep) (rows [][]string) {
	for _, w := range s.Way {
		rows = append(rows, []string{decimals(1e3*w.DistanceM, 2), newtons(w.PullN), kilogramForce(w.PullN), w.PullBy, newtons(w.SideN), torques(size(w.Torque)),
			figures(w.EnergyJ, 3), figures(1e-3*w.StiffnessNPerM, 3)})
	}
	return rows
}

// torques prints a torque, what rounding leaves of none as none.
func torques(t float64) string {
	if t < 1e-6 {
		return "0"
	}
	return figures(t, 2)
}

// TurnsHead is over the rows of [TurnsRows].
var TurnsHead = []string{">turns", ">pull together N", ">a turn N"}

// TurnsRows are the rows of a winding that grows.
func TurnsRows(s *result.AssemblyStep) (rows [][]string) {
	for i, w := range s.Turns {
		each := ""
		if i > 0 {
			each = figures(w.PerTurnN, 2)
		}
		rows = append(rows, []string{counted(w.Turns), newtons(w.PullN), each})
	}
	return rows
}

// OrderRows are the rows of the orders in which a frame may be closed: order, largest force N and where, largest energy J and where, verdict.
func OrderRows(r *result.Assembly) (rows [][]string) {
	for _, o := range r.Orders {
		var verdict string
		switch {
		case o.Recommended:
			verdict = "RECOMMENDED: " + o.Why
		case o.Feasible:
			verdict = "possible"
		default:
			verdict = "not possible: " + o.Why
		}
		if o.Notes != "" {
			verdict += "; " + o.Notes
		}
		if !o.Feasible {
			rows = append(rows, []string{o.Name, "", "", "", "", verdict})
			continue
		}
		rows = append(rows, []string{o.Name, newtons(o.LargestN), o.ForceIn, figures(o.EnergyJ, 2), o.EnergyIn, verdict})
	}
	return rows
}

// SideText says whether a step's group finds the way by itself.
func SideText(list []result.SideStiffness) string {
	var all []string
	for _, s := range list {
		k := 1e-3 * s.StiffnessNPerM
		what := "is drawn back to the middle"
		if k < 0 {
			what = "RUNS ASIDE: guide it"
		}
		all = append(all, fmt.Sprintf("along %s %s N/mm, %s", strings.TrimPrefix(direction(s.Direction), "+"), figures(k, 2), what))
	}
	if len(all) == 0 {
		return ""
	}
	return fmt.Sprintf("%s mm from its place: %s", millimetres(list[0].AtM), strings.Join(all, "; "))
}

func assemblyStep(b *strings.Builder, r *result.Assembly, s *result.AssemblyStep) {
	heading(b, "Step %d: %s", s.Number, s.Title)
	if len(s.Moves) > 1 || !strings.Contains(s.Title, s.Moves[0]) {
		fact(b, "moves", "%s", strings.Join(s.Moves, ", "))
	}
	bullets(b, s.How)
	for _, h := range s.Hold {
		bullets(b, []string{"HOLD: " + h})
	}
	switch {
	case s.SameAs > 0:
		fact(b, "forces", "those of step %d, its mirror image", s.SameAs)
		return
	case len(s.Turns) > 0:
		t := table{head: TurnsHead, rows: TurnsRows(s)}
		t.write(b)
		fact(b, "pull", "of the magnets on each other; below zero they are drawn apart, to the winding behind them")
		return
	case len(s.Way) == 0:
		return
	}
	t := table{head: WayHead, rows: WayRows(s)}
	t.write(b)
	fact(b, "comes", "towards %s", direction(s.Toward))
	if text := SideText(s.Side); text != "" {
		fact(b, "aside", "%s", text)
	}
	if s.Negative > 0 {
		fact(b, "jig", "stiffer than %s N/mm along the way (%g x the steepest pull)", figures(1e-3*s.JigNPerM, 2), r.JigFactor)
	}
	if s.Screws != nil {
		fact(b, "screws", "%s to turn, for %s N with friction of 0.2 on what presses it aside (factor %g on the load; torque 0.2 F d; common practice, no source)", ScrewText(s.Screws), newtons(s.DriveN), r.ScrewFactor)
	}
}

// mostCurves is how many curves a chart tells apart.
const mostCurves = 6

// heldShare is the share of a force that holds off from which on a step counts as held off: a force in contact is known no better.
const heldShare = 0.02

// AssemblyChart draws the force on what moves against the distance, the hardest steps only: its size where nothing holds it off, else what draws it in,
// what holds it off and what pushes it aside, each by itself. ok is false where no step pulls over a distance.
func AssemblyChart(r *result.Assembly, dark bool) (g Lines, ok bool) {
	g = Lines{Title: "Force on what moves", XName: "distance from its place, mm", YName: "force, N", LogY: true, Dark: dark}
	var steps []*result.AssemblyStep
	for i := range r.Steps {
		if s := &r.Steps[i]; len(s.Way) > 1 && s.SameAs == 0 && s.PeakN > 0 {
			steps = append(steps, s)
		}
	}
	slices.SortStableFunc(steps, func(a, b *result.AssemblyStep) int { return int(math.Copysign(1, b.PeakN-a.PeakN)) })
	var kept []*result.AssemblyStep
	curves, all := map[int][]Curve{}, 0
	for _, s := range steps {
		list := stepCurves(s)
		if all += len(list); all > mostCurves && len(kept) > 0 {
			break
		}
		kept, curves[s.Number] = append(kept, s), list
	}
	slices.SortStableFunc(kept, func(a, b *result.AssemblyStep) int { return a.Number - b.Number })
	for _, s := range kept {
		g.Curves = append(g.Curves, curves[s.Number]...)
	}
	if len(kept) > 0 {
		g.Levels = []Level{{"a hand stands 140 N (ISO/TS 15066, from memory)", 140}}
	}
	return g, len(kept) > 0
}

// stepCurves are the curves of a step's way.
func stepCurves(s *result.AssemblyStep) (list []Curve) {
	name := fmt.Sprintf("%d %s", s.Number, s.Title)
	add := func(what string, of func(result.WayPoint) float64) {
		c := Curve{Name: name + what}
		if c.X, c.Y = smooth(s.Way, of); slices.ContainsFunc(c.Y, func(y float64) bool { return y > leastForce }) {
			list = append(list, c)
		}
	}
	if !slices.ContainsFunc(s.Way, func(w result.WayPoint) bool { return w.PullN < -heldShare*size(w.Force) }) {
		add("", func(w result.WayPoint) float64 { return size(w.Force) })
		return list
	}
	add(": drawn in", func(w result.WayPoint) float64 { return w.PullN })
	add(": held off", func(w result.WayPoint) float64 { return -w.PullN })
	if s.PeakSideN > heldShare*s.PeakN {
		add(": aside", func(w result.WayPoint) float64 { return w.SideN })
	}
	return list
}

// leastForce is the least that a chart shows, N.
const leastForce = 0.1

// smooth is a force of a way at many distances, NaN where it is below what a chart shows: a monotone cubic through the inverse hyperbolic sine, which is
// the logarithm of a large force and keeps its sign, over log(1 + x/near), in which the places lie evenly.
func smooth(way []result.WayPoint, of func(result.WayPoint) float64) (x, y []float64) {
	const points = 100
	near := way[0].DistanceM / 50
	n := len(way)
	u, f := make([]float64, n), make([]float64, n)
	for i, w := range way {
		u[n-1-i], f[n-1-i] = math.Log(1+w.DistanceM/near), math.Asinh(of(w)/leastForce)
	}
	var cubic interp.FritschButland
	if cubic.Fit(u, f) != nil {
		return nil, nil
	}
	for i := range points + 1 {
		v := u[n-1] * float64(i) / points
		force := leastForce * math.Sinh(cubic.Predict(v))
		if force < leastForce {
			force = math.NaN()
		}
		x, y = append(x, 1e3*near*math.Expm1(v)), append(y, force)
	}
	return x, y
}
