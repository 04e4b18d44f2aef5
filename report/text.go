package report

import (
	"cmp"
	"fmt"
	"io"
	"strings"

	"polewright/result"
	"polewright/winding"
)

// This file writes a result as text for a terminal.

// titled writes the title at the head of a text, with a word before it.
func titled(b *strings.Builder, before, title string) {
	b.WriteString(strings.Join(wrap(before+cmp.Or(strings.TrimSpace(title), "(no title)"), textWidth), "\n") + "\n")
}

// written gives a text to its writer, without what a terminal would take for commands.
func written(w io.Writer, b *strings.Builder) error {
	_, err := io.WriteString(w, printable(b.String()))
	return err
}

// Text writes a result as text, 100 columns wide. It returns the writer's error.
func Text(w io.Writer, r *result.Result) error {
	var b strings.Builder
	titled(&b, "", r.Title)
	field(&b, r)
	target(&b, r)
	ledger(&b, r)
	magnets(&b, r)
	steels(&b, r)
	coils(&b, r)
	forces(&b, r)
	stray(&b, r)
	mass(&b, r)
	windings(&b, r)
	effort(&b, r)
	notes(&b, "Warnings", r.Warnings)
	notes(&b, "Cautions", r.Cautions)
	return written(w, &b)
}

func heading(b *strings.Builder, format string, args ...any) {
	fmt.Fprintf(b, "\n"+format+"\n", args...)
}

// fact is a line with a label.
func fact(b *strings.Builder, label, format string, args ...any) {
	lines := wrap(fmt.Sprintf(format, args...), textWidth-16)
	fmt.Fprintf(b, "  %-14s%s\n", label, strings.Join(lines, "\n"+strings.Repeat(" ", 16)))
}

func field(b *strings.Builder, r *result.Result) {
	heading(b, "Field")
	along := ""
	if size(r.GapB) > 0 {
		along = " along " + direction(r.GapB)
	}
	fact(b, "gap", "%s T%s at %s; magnets at %s", tesla(size(r.GapB)), along, point(r.GapAtM), celsius(r.TempC))
	if g := r.Region; g != nil {
		fact(b, "region", "mean %s T, lowest %s T, highest %s T", tesla(g.MeanB), tesla(g.MinB), tesla(g.MaxB))
		fact(b, "uniformity", "%s ppm from lowest to highest (%s %%), %s ppm rms", ppm(g.PeakToPeak), figures(g.PeakToPeak/1e4, 3), ppm(g.RMS))
	}
	if h := r.Harmonics; h != nil {
		if text := mainTerms(h); text != "" {
			fact(b, "harmonics", "at %s mm: %s", millimetres(h.Radius), text)
		}
	}
	if len(r.Probes) > 0 {
		b.WriteString("\n")
		t := table{head: []string{"point", ">x mm", ">y mm", ">z mm", ">Bx T", ">By T", ">Bz T", ">|B| T"}}
		for _, p := range r.Probes[:min(len(r.Probes), tableRows)] {
			t.add(shortName(p.Name), millimetres(p.At[0]), millimetres(p.At[1]), millimetres(p.At[2]),
				tesla(p.B[0]), tesla(p.B[1]), tesla(p.B[2]), tesla(size(p.B)))
		}
		t.finish(b, len(r.Probes))
	}
	if len(r.Sections) > 0 {
		b.WriteString("\n")
		t := table{head: []string{"cross-section", ">mean B T", ">area mm²", ">flux mWb"}}
		for _, s := range r.Sections[:min(len(r.Sections), tableRows)] {
			t.add(shortName(s.Name), tesla(s.MeanB), decimals(1e6*s.Area, 1), decimals(1e3*s.Flux, 3))
		}
		t.finish(b, len(r.Sections))
	}
}

func target(b *strings.Builder, r *result.Result) {
	if len(r.Target) == 0 {
		return
	}
	missed := 0
	t := table{head: []string{"what", ">wanted", ">got", ""}}
	for _, c := range r.Target {
		verdict := "met"
		if !c.Met {
			verdict = "NOT MET"
			missed++
		}
		t.add(degrees(c.What), wanted(c), amount(c.Got, c.Unit), verdict)
	}
	switch missed {
	case 0:
		heading(b, "Target: met")
	default:
		heading(b, "Target: NOT MET (%d of %d)", missed, len(r.Target))
	}
	t.write(b)
}

func ledger(b *strings.Builder, r *result.Result) {
	if r.Ledger == nil || len(r.Ledger.Rows) == 0 {
		return
	}
	heading(b, "Loss ledger: from the remanence to the gap")
	t := table{head: []string{"what", ">change mT", ">after mT", "why"}}
	for i, row := range r.Ledger.Rows {
		change := ""
		if i > 0 {
			change = signed(millitesla(row.Delta))
		}
		t.add(row.What, change, millitesla(row.After), degrees(row.Why))
	}
	t.write(b)
}

func magnets(b *strings.Builder, r *result.Result) {
	list := ofKind(r, "magnet")
	if len(list) == 0 {
		return
	}
	heading(b, "Magnets: mean working point")
	t := table{head: []string{"magnet", "grade", ">mass kg", ">B T", ">H kA/m", ">permeance"}}
	for _, p := range list[:min(len(list), tableRows)] {
		row := []string{shortName(p.Name), shortened(p.Material, 16), kilograms(p.MassKg), "", "", ""}
		if w := p.WorkingPoint; w != nil {
			row[3], row[4], row[5] = tesla(w.B), kiloAmperes(w.H), decimals(w.Permeance, 2)
		}
		t.add(row...)
	}
	t.finish(b, len(list))
	demagnetization(b, r, list)
}

// mostPlaces is how many magnets' weakest places are told.
const mostPlaces = 4

// demagnetization writes how near the magnets come to their knee at the temperatures asked for, and what they lose there.
func demagnetization(b *strings.Builder, r *result.Result, magnets []result.Part) {
	o := r.Demagnetization
	if o == nil {
		return
	}
	heading(b, "Demagnetization: the worst place of each magnet, at its worst temperature")
	t := table{head: []string{"magnet", ">lowest H kA/m", ">knee kA/m", ">at °C", ">margin", ">past knee", ">keeps"}}
	for _, p := range magnets[:min(len(magnets), tableRows)] {
		row := []string{shortName(p.Name), "", "not known", "", "", "", ""}
		if w := p.WorkingPoint; w != nil && w.WorstKneeH != 0 {
			row = []string{row[0], kiloAmperes(w.LowestH), kiloAmperes(w.WorstKneeH), trimmed(decimals(w.WorstC, 1)),
				decimals(100*w.KneeMargin, 0) + " %", percent(w.PastKnee) + " %", "not known"}
			if w.RemanenceKept != 0 {
				row[6] = percent(w.RemanenceKept) + " %"
			}
		}
		t.add(row...)
	}
	t.finish(b, len(magnets))
	if len(o.Temperatures) > 1 {
		b.WriteString("\n")
		t := table{head: []string{">magnets at °C", ">gap T", ">volume past the knee"}}
		for _, x := range o.Temperatures {
			t.add(trimmed(decimals(x.DegC, 1)), tesla(x.GapB), percent(x.PastKnee)+" %")
		}
		t.write(b)
	}
	switch {
	case o.Magnets > 0:
		var places []string
		for _, p := range magnets {
			if w := p.WorkingPoint; w != nil && w.WeakestAtM != nil && len(places) < mostPlaces {
				places = append(places, shortName(p.Name)+" at "+point(*w.WeakestAtM))
			}
		}
		if len(places) > 0 {
			fact(b, "weakest", "%s, and the mirror images", strings.Join(places, "; "))
		}
		volume := percent(o.LostVolume) + " % of the magnets' volume is past the knee"
		if o.LostGapT == 0 {
			fact(b, "loss", "%s; there is no field in the gap to lose", volume)
			break
		}
		fact(b, "loss", "%s T (%s %%) of the gap field for good, back at %s; %s", tesla(o.LostGapT), figures(o.LostGap, 3), celsius(r.TempC), volume)
	case len(o.NotComputed) > 0:
		fact(b, "loss", "not computed: the curve past the knee is not known")
	default:
		fact(b, "loss", "none")
	}
}

func steels(b *strings.Builder, r *result.Result) {
	list := ofKind(r, "steel", "wound")
	if len(list) == 0 {
		return
	}
	heading(b, "Steel")
	t := table{head: []string{"part", "material", ">mass kg", ">mean B T", ">largest B T", ">mean of sat.", ">largest of sat."}}
	for _, p := range list[:min(len(list), tableRows)] {
		t.add(shortName(p.Name), shortened(p.Material, 16), kilograms(p.MassKg), tesla(p.MeanB), tesla(p.MaxB), percent(p.Saturation)+" %", percent(p.MaxSaturation)+" %")
	}
	t.finish(b, len(list))
}

func coils(b *strings.Builder, r *result.Result) {
	list := ofKind(r, "coil")
	if len(list) == 0 {
		return
	}
	heading(b, "Coils")
	t := table{head: []string{"coil", "winding", ">ampere-turns A", ">mean B T"}}
	for _, p := range list[:min(len(list), tableRows)] {
		t.add(shortName(p.Name), p.Shape, figures(p.AmpereTurns, 5), tesla(p.MeanB))
	}
	t.finish(b, len(list))
}

func forces(b *strings.Builder, r *result.Result) {
	if len(r.Halves) > 0 {
		heading(b, "Force between the halves")
		for _, h := range r.Halves {
			fact(b, plane(h.Plane), "%s", HalfForce(h))
		}
	}
	if len(r.Groups) > 0 {
		heading(b, "Magnetic force on groups of parts, from all the others")
		for _, g := range r.Groups {
			fact(b, "group", "%s", strings.Join(g.Parts, ", "))
			fact(b, "  force", "%s N along x, %s N along y, %s N along z; %s in all", newtons(g.Force[0]), newtons(g.Force[1]), newtons(g.Force[2]), force(size(g.Force)))
			fact(b, "  torque", "%s N·m about x, %s N·m about y, %s N·m about z, at %s", decimals(g.Torque[0], 3), decimals(g.Torque[1], 3), decimals(g.Torque[2], 3), point(g.AboutM))
		}
	}
	list := ofKind(r, "magnet", "steel", "wound", "coil")
	if len(list) == 0 {
		return
	}
	heading(b, "Magnetic force on each part, from all the others")
	t := table{head: []string{"part", ">Fx N", ">Fy N", ">Fz N", ">|F| N", ">|F| kgf", ">torque N·m"}}
	for _, p := range list[:min(len(list), tableRows)] {
		f := size(p.Force)
		t.add(shortName(p.Name), newtons(p.Force[0]), newtons(p.Force[1]), newtons(p.Force[2]), newtons(f), kilogramForce(f), decimals(size(p.Torque), 2))
	}
	t.finish(b, len(list))
}

// HalfForce says the force on the positive side of a plane and what it does to the halves.
func HalfForce(h result.Half) string {
	f := size(h.Force)
	if f == 0 {
		return "no force"
	}
	what := "along " + direction(h.Force) + " on the side of positive " + h.Plane[:min(1, len(h.Plane))]
	if axis := strings.Index("xyz", h.Plane[:min(1, len(h.Plane))]); axis >= 0 {
		switch across := h.Force[axis]; {
		case across < -0.5*f:
			what = "pulls the halves together"
		case across > 0.5*f:
			what = "pushes the halves apart"
		}
	}
	return force(f) + " " + what
}

func stray(b *strings.Builder, r *result.Result) {
	if len(r.Stray) == 0 {
		return
	}
	heading(b, "Stray field: farthest point at each limit, from %s", point(r.CenterM))
	t := table{head: []string{"limit", ">along x", ">along y", ">along z", ">farthest", "towards"}}
	for _, s := range r.Stray {
		towards := ""
		if s.Largest > 0 {
			towards = direction(s.Direction)
		}
		t.add(fieldLimit(s.Limit), reach(s.Reach.X), reach(s.Reach.Y), reach(s.Reach.Z), reach(s.Largest), towards)
	}
	t.write(b)
}

func reach(m float64) string {
	if m == 0 {
		return "not outside"
	}
	return decimals(1e3*m, 0) + " mm"
}

func mass(b *strings.Builder, r *result.Result) {
	heading(b, "Mass")
	var of []string
	for _, k := range []struct{ kind, plural string }{{"magnet", "magnets"}, {"steel", "steel"}, {"wound", "wound wire"}, {"spacer", "spacers"}} {
		if m := MassOf(r, k.kind); m > 0 {
			of = append(of, k.plural+" "+kilograms(m)+" kg")
		}
	}
	all := kilograms(r.MassKg) + " kg"
	if len(of) > 0 {
		all += ": " + strings.Join(of, ", ")
	}
	fact(b, "all", "%s", all)
	fact(b, "moment", "%s A·m²", figures(size(r.MomentAm2), 3))
}

func windings(b *strings.Builder, r *result.Result) {
	for _, w := range r.Windings {
		heading(b, "Winding %q", w.Name)
		fact(b, "wire", "%s turns, %s m, %s kg", counted(w.Turns), decimals(w.LengthM, 1), kilograms(w.MassKg))
		fact(b, "section", "%s mm thick, packing %s, steel %s mm² a side", decimals(1e3*w.BuildM, 2), decimals(w.Packing, 3), decimals(1e6*w.SteelArea, 0))
		if w.Sentence != "" {
			fact(b, "flux", "%s", w.Sentence)
		}
	}
}

func effort(b *strings.Builder, r *result.Result) {
	s := r.Solver
	heading(b, "Solve")
	if s.Method == "free-field" && s.EstimatedError > 0 {
		fact(b, "error", "about %s of the gap field (accuracy %s), from panels of two sizes", estimate(s.EstimatedError), s.Accuracy)
		fact(b, "method", "closed forms with the recoil on panels; there is no steel, so no grid")
		fact(b, "took", "%s", seconds(s.Seconds))
		return
	}
	if s.Method == "free-field" {
		fact(b, "method", "closed forms; there is no steel and no recoil, so no grid and no error of one")
		fact(b, "took", "%s", seconds(s.Seconds))
		return
	}
	fact(b, "error", "about %s of the gap field (accuracy %s), from two grids", estimate(s.EstimatedError), s.Accuracy)
	mirrored := ""
	if len(s.Symmetry) > 0 {
		mirrored = "; mirrored in " + strings.Join(s.Symmetry, ", ")
	}
	cycles := "solved directly in the half plane"
	if s.Method != "axisymmetric" {
		cycles = fmt.Sprintf("%d multigrid cycles", s.Cycles)
	}
	fact(b, "took", "%s, %s unknowns, %d Newton steps, %s%s", seconds(s.Seconds), counted(s.Unknowns), s.NewtonSteps, cycles, mirrored)
}

func notes(b *strings.Builder, title string, texts []string) {
	if len(texts) == 0 {
		return
	}
	heading(b, "%s", title)
	bullets(b, texts)
}

// Compare says two designs in one line: field, steel, stray reach and half force.
func Compare(nameA string, a *result.Result, nameB string, b *result.Result) string {
	s := fmt.Sprintf("%s | %s: %s | %s T, steel %s | %s kg", nameA, nameB, decimals(size(a.GapB), 3), decimals(size(b.GapB), 3),
		decimals(MassOf(a, "steel", "wound"), 2), decimals(MassOf(b, "steel", "wound"), 2))
	const implants = 0.5e-3
	s += fmt.Sprintf(", 0.5 mT to %s | %s mm", decimals(1e3*farthest(a, implants), 0), decimals(1e3*farthest(b, implants), 0))
	if len(a.Halves) > 0 && len(b.Halves) > 0 {
		s += fmt.Sprintf(", halves %s | %s N", newtons(size(a.Halves[0].Force)), newtons(size(b.Halves[0].Force)))
	}
	return s
}

// farthest is the largest reach of a limit, m.
func farthest(r *result.Result, limit float64) float64 {
	for _, s := range r.Stray {
		if s.Limit == limit {
			return s.Largest
		}
	}
	return 0
}

// MassOf is the mass of all parts of some kinds, kg.
func MassOf(r *result.Result, kinds ...string) (m float64) {
	for _, p := range ofKind(r, kinds...) {
		m += p.MassKg
	}
	return m
}

func ofKind(r *result.Result, kinds ...string) (list []result.Part) {
	for _, p := range r.Parts {
		for _, k := range kinds {
			if p.Kind == k {
				list = append(list, p)
			}
		}
	}
	return list
}

// WindingSheet writes the sheet that lies beside the spool: a line for each layer, and what to know before the start.
func WindingSheet(w io.Writer, name, wire string, p winding.Plan, s winding.Sheet) error {
	var b strings.Builder
	fmt.Fprintf(&b, "Winding sheet %q\n\n", name)
	fact(&b, "core", "%s x %s mm, corners of radius %s mm; %s mm between the flanges", millimetres(p.CoreX), millimetres(p.CoreY), millimetres(p.CornerRadius), millimetres(p.Width))
	diameter := decimals(1e3*p.WireDiameter, 3) + " mm"
	if strings.Contains(wire, "mm") {
		fact(&b, "wire", "%s", diameter)
	} else {
		fact(&b, "wire", "%s, %s", wire, diameter)
	}
	fact(&b, "in all", "%s turns, %s m, %s kg of wire", counted(s.Turns), decimals(s.WireLengthM, 1), kilograms(s.WireMassKg))
	fact(&b, "section", "%s mm thick, packing %s, steel %s mm² a side", decimals(1e3*s.BuildM, 2), decimals(s.Packing, 3), decimals(1e6*s.SteelAreaM2, 0))
	fact(&b, "outside", "%s x %s mm when done", decimals(1e3*s.OuterXM, 1), decimals(1e3*s.OuterYM, 1))
	fact(&b, "time", "%s to %s h by hand, at 10 to 6 turns a minute", figures(s.HoursLow, 2), figures(s.HoursHigh, 2))
	fact(&b, "pull", "%s to %s while winding; the wire begins to stretch at %s", force(s.TensionLowN), force(s.TensionHighN), force(s.YieldN))
	b.WriteString("\n")
	t := table{head: []string{">layer", ">turns", ">wire m", ">outside mm", ">turns so far", ">wire so far m", ">mass so far kg"}}
	for _, l := range s.Layers {
		t.add(fmt.Sprint(l.Layer), fmt.Sprint(l.Turns), decimals(l.LengthM, 2), decimals(1e3*l.OuterM, 1), fmt.Sprint(l.RunningTurns), decimals(l.RunningLengthM, 1), kilograms(l.RunningMassKg))
	}
	t.write(&b)
	fmt.Fprintf(&b, "  \"outside\" is the winding over that layer along the core's longer side, as a caliper reads it.\n")
	notes(&b, "Notes", s.Notes)
	return written(w, &b)
}
