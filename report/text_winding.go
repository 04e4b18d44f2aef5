package report

import (
	"fmt"
	"io"
	"math"
	"strings"

	"polewright/winding"
)

// This file says what a winder buys, makes and can expect.

// WindingPreparation writes what to buy and to make before winding begins.
func WindingPreparation(w io.Writer, p winding.Preparation) error {
	var b strings.Builder
	heading(&b, "Before the first turn (sizes and clearances: common practice, no source)")
	s := p.Spools
	assumed := ""
	if s.Assumed {
		assumed = " (taken as the usual size; say yours with --spool)"
	}
	fact(&b, "spools", "%s of %s m, %s kg%s: %s m are needed, with %s %% spare; %s m are left over", counted(s.Count), decimals(s.EachM, 1), kilograms(s.EachKg), assumed,
		decimals(s.NeededM, 1), trimmed(percent(winding.Spare)), decimals(s.LeftM, 1))
	if len(s.Ends) > 0 {
		var ends []string
		for _, e := range s.Ends[:min(len(s.Ends), 6)] {
			ends = append(ends, fmt.Sprintf("%d in layer %d", e.Turn, e.Layer))
		}
		more := ""
		if s.Count-1 > len(ends) {
			more = " and so on"
		}
		fact(&b, "joins", "the wire runs out near turn %s%s; join on a flat side, ends twisted or soldered, no lump in a corner", strings.Join(ends, ", "), more)
	}
	e := p.Effort
	if e.Pace > 0 {
		fact(&b, "time", "%s h at %s turns a minute", figures(e.HoursHigh, 2), trimmed(decimals(e.Pace, 2)))
	}
	fact(&b, "hand", "%s to %s on a crank of %s mm: the pull of the wire on an arm of %s mm, over a corner of the last layer (%s to %s N·m)",
		force(e.HandLowN), force(e.HandHighN), millimetres(e.CrankM), decimals(1e3*e.LeverM, 1), figures(e.TorqueLowNm, 3), figures(e.TorqueHighNm, 3))
	k := p.Bobbin
	fact(&b, "core", "%s x %s mm, %s mm between the flanges; pocket for the magnets %s mm wider a side", millimetres(k.CoreM[0]), millimetres(k.CoreM[1]), millimetres(k.WidthM), millimetres(k.PocketM))
	fact(&b, "flanges", "two, %s x %s mm, at least %s mm of aluminium; a slot %s mm wide down to the core in one of them for the wire's beginning",
		decimals(1e3*k.FlangeM[0], 0), decimals(1e3*k.FlangeM[1], 0), decimals(1e3*k.ThicknessM, 0), decimals(1e3*k.SlotM, 1))
	if k.SlackM >= 0 {
		fact(&b, "clearance", "a full layer leaves %s mm between the flanges", decimals(1e3*k.SlackM, 2))
	} else {
		fact(&b, "clearance", "a full layer is %s mm too wide", decimals(-1e3*k.SlackM, 2))
	}
	notes(&b, "Not of steel (common practice, no source)", p.NonMagnetic)
	return written(w, &b)
}

// WindingAsk says how to ask for what has to be solved.
func WindingAsk(w io.Writer) error {
	_, err := io.WriteString(w, "\nThe field against turns, the knee, looser packing and other wires are solved on demand: add --solve.\nReadings taken while winding tell the packing and when to stop: add --log LOG.csv.\n")
	return err
}

// WindingOutlook writes what more and fewer turns give.
func WindingOutlook(w io.Writer, o *winding.Outlook) error {
	var b strings.Builder
	heading(&b, "Field against turns, solved (draft accuracy)")
	c := o.Curve()
	t := table{head: []string{">turns", ">gap T", fmt.Sprintf(">at packing %s", decimals(o.LooserPacking, 2)), ">next 100 turns", ">3 mT to mm", ">0.5 mT to mm"}}
	for _, p := range o.Points {
		n, next := float64(p.Turns), ""
		if n+100 <= c.Most() {
			next = signed(percent(c.Gain(n))) + " %"
		}
		t.add(counted(p.Turns), tesla(p.GapT), tesla(p.LooserT), next, decimals(1e3*p.ToolsM, 0), decimals(1e3*p.ImplantsM, 0))
	}
	t.write(&b)
	bullets(&b, []string{fmt.Sprintf("Between the points the field is interpolated, by up to %s mT wrong (the worst point left out). Each point is solved to %s. The reach of 3 mT and 0.5 mT is the farthest point from the middle of the assembly.",
		figures(1e3*o.InterpolationT, 2), estimate(o.SolverPercent))})
	b.WriteString("\n")
	fact(&b, "planned", "%s turns: %s T", counted(o.PlannedTurns), tesla(o.PlannedT))
	loss := 0.0
	if o.PlannedT > 0 {
		loss = 1 - o.LooserT/o.PlannedT
	}
	fact(&b, "looser", "wound to %s in place of %s the same turns give %s T, %s %% less", decimals(o.LooserPacking, 2), decimals(o.Packing, 2), tesla(o.LooserT), decimals(100*loss, 2))
	if o.KneeTurns > 0 {
		fact(&b, "knee", "near %s turns: from there on a turn brings less than half of what those before it brought, and steel stops limiting", about(o.KneeTurns))
	} else {
		fact(&b, "knee", "beyond the last point: steel limits all the way")
	}
	if o.CapacityTurns > 0 {
		fact(&b, "capacity", "%s turns carry, at saturation, the %s mWb that the magnets send", about(o.CapacityTurns), figures(1e3*o.FluxWb, 3))
	}
	share := trimmed(percent(o.LeastGain))
	if o.EnoughTurns > 0 {
		fact(&b, "enough", "from %s turns on each further hundred gains less than %s %%", about(o.EnoughTurns), share)
	} else {
		fact(&b, "enough", "not within the points: each further hundred gains %s %% or more", share)
	}
	switch {
	case o.TargetT > 0 && o.TargetT <= o.BareT:
		fact(&b, "target", "%s T: the magnets alone have %s T", tesla(o.TargetT), tesla(o.BareT))
	case o.TargetT > 0 && o.TargetTurns > 0:
		fact(&b, "target", "%s T at about %s turns", tesla(o.TargetT), about(o.TargetTurns))
	case o.TargetT > 0:
		fact(&b, "target", "%s T is not reached by any number of turns solved", tesla(o.TargetT))
	}
	if o.Capped {
		fact(&b, "room", "another part leaves no room for more turns than planned")
	}
	if o.ToolsM > 0 {
		before := ""
		if o.Points[0].ToolsM == o.ToolsM {
			before = ": farthest before the first turn, when no yoke leads the flux"
		}
		fact(&b, "keep away", "loose spool and steel tools at least %s mm from the middle of the assembly (3 mT), people with implants %s mm (0.5 mT)%s",
			decimals(roundUp(1e3*o.ToolsM), 0), decimals(roundUp(1e3*o.ImplantsM), 0), before)
	}
	checks(&b, "Check values over each layer as planned", o.Checks)
	if len(o.Wires) > 0 {
		heading(&b, "The same turns of other wire, solved")
		t := table{head: []string{"wire", ">gap T", ">change", "what"}}
		for _, x := range o.Wires {
			t.add(x.Name, tesla(x.GapT), signed(decimals(100*x.Share, 1))+" %", x.Note)
		}
		t.write(&b)
	}
	return written(w, &b)
}

// about is a number of turns to the precision that a curve has.
func about(turns float64) string { return counted(int(math.Round(turns/5)) * 5) }

// roundUp is the next 10 above.
func roundUp(mm float64) float64 { return 10 * math.Ceil(mm/10) }

// WindingProgress writes what the readings of a log say.
func WindingProgress(w io.Writer, o *winding.Outlook, g winding.Progress) error {
	var b strings.Builder
	heading(&b, "Log: %d readings to turn %s", g.Readings, counted(g.Turns))
	t := table{head: []string{">turns", ">read T", ">by design T", ">by fit T", ">read less fit"}}
	for k, l := range g.Lines {
		if k < len(g.Lines)-tableRows {
			continue
		}
		t.add(counted(l.Turns), tesla(l.FieldT), tesla(l.DesignT), tesla(l.FittedT), signed(decimals(100*(l.FieldT/l.FittedT-1), 2))+" %")
	}
	if hidden := len(g.Lines) - tableRows; hidden > 0 {
		fmt.Fprintf(&b, "  the last %d; --json lists all %s\n", tableRows, counted(len(g.Lines)))
	}
	t.write(&b)
	b.WriteString("\n")
	limited := ""
	if g.Limited {
		limited = "; at the edge of what was solved, so check the readings"
	}
	fact(&b, "packing", "%s ± %s (planned %s), from the field and %s outside sizes%s", decimals(g.Packing, 3), decimals(g.PackingUncert, 3), decimals(o.Packing, 3), count(g.OuterReadings), limited)
	if g.PackingUncert > 0.02 {
		fact(&b, "", "The field says little about the packing: a turn has the same steel however loosely it lies. A caliper over the winding says it far better: add the column outer_mm.")
	}
	fact(&b, "magnets", "%s of the design's strength, ± %s", decimals(g.Strength, 3), decimals(g.StrengthUncert, 3))
	fact(&b, "scatter", "%s mT rms between readings and fit", figures(1e3*g.ResidualT, 2))
	fact(&b, "build", "%s mm by this packing; a caliper should read %s mm more than the core", decimals(1e3*g.BuildM, 2), decimals(2e3*g.BuildM, 1))
	fact(&b, "forecast", "%s T at %s turns as planned; %s T by the design", tesla(g.PlannedT), counted(o.PlannedTurns), tesla(o.PlannedT))
	fact(&b, "advice", "%s", g.Advice)
	checks(&b, "Layers still to wind, by the fit", g.Ahead)
	return written(w, &b)
}

// checks lists what to read over each layer.
func checks(b *strings.Builder, title string, list []winding.Check) {
	if len(list) == 0 {
		return
	}
	heading(b, "%s", title)
	t := table{head: []string{">layer", ">turns so far", ">outside mm", ">gap T"}}
	for _, c := range list[:min(len(list), tableRows)] {
		t.add(fmt.Sprint(c.Layer), counted(c.Turns), decimals(1e3*c.OuterM, 1), tesla(c.GapT))
	}
	t.finish(b, len(list))
}

// count is a number of things, in words where there are none.
func count(n int) string {
	if n == 0 {
		return "no"
	}
	return counted(n)
}
