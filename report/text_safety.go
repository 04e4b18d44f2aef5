package report

import (
	"fmt"
	"io"
	"math"
	"slices"
	"strings"

	"polewright/safety"
)

// This file writes a safety card as text, and the words that both the text and the papers use for it.

// SafetyText writes a safety card as text, 100 columns wide. It returns the writer's error.
func SafetyText(w io.Writer, c *safety.Card) error {
	var b strings.Builder
	titled(&b, "Safety card: ", c.Title)
	heading(&b, "Cautions")
	for _, x := range c.Cautions {
		bullets(&b, []string{fmt.Sprintf("%s (%s). %s", x.Title, x.Severity, degrees(x.Text))})
	}
	heading(&b, "Published limits: how far each reaches, mm from the centre at %s", point(c.CenterM))
	t := table{head: []string{"limit", ">x", ">y", ">z", ">most", "towards", "who or what"}}
	for _, l := range c.Limits {
		if l.AtM == 0 {
			t.add(ShortLimit(l.Limit), ReachMM(l.Reach.X), ReachMM(l.Reach.Y), ReachMM(l.Reach.Z), ReachMM(l.Reach.Largest), Towards(l.Reach), l.What)
		}
	}
	t.write(&b)
	b.WriteString("  " + NoReach + ": below the limit everywhere outside the box of the parts.\n")
	heading(&b, "Sources")
	for _, l := range c.Limits {
		bullets(&b, []string{LimitSource(l.Limit)})
	}
	heading(&b, "Loose steel tools, mm from the box of the parts to the near end")
	t = table{head: []string{"tool", ">slides x", ">y", ">z", ">most", ">lifts x", ">y", ">z", ">most"}}
	for _, p := range c.Tools {
		t.add(p.Name, ReachMM(p.Slides.X), ReachMM(p.Slides.Y), ReachMM(p.Slides.Z), ReachMM(p.Slides.Largest),
			ReachMM(p.Lifts.X), ReachMM(p.Lifts.Y), ReachMM(p.Lifts.Z), ReachMM(p.Lifts.Largest))
	}
	t.write(&b)
	heading(&b, "Pull on them at the worst place, N, by that distance")
	t = table{head: []string{"tool", ">weight N"}}
	for i, p := range c.Tools {
		row := []string{p.Name, figures(p.WeightN, 3)}
		for _, x := range p.Pull {
			if !TellsPull(x) {
				continue
			}
			if i == 0 {
				t.head = append(t.head, ">at "+millimetres(x.DistanceM)+" mm")
			}
			row = append(row, PullNewtons(x.Newtons.Largest))
		}
		t.add(row...)
	}
	t.write(&b)
	bullets(&b, []string{ToolNote(c)})
	heading(&b, "Between the halves")
	bullets(&b, PinchWords(c))
	heading(&b, "By air")
	bullets(&b, AirWords(c.Air))
	return written(w, &b)
}

// TellsPull picks the distances at which tables give the pull: 10, 30, 100 and 300 mm.
func TellsPull(p safety.Pull) bool {
	return slices.Contains([]float64{0.01, 0.03, 0.1, 0.3}, p.DistanceM)
}

// NoReach is what stands for a reach of nothing.
const NoReach = "-"

// ReachMM is a reach (m) in whole millimetres, rounded up, NoReach for none.
func ReachMM(m float64) string {
	if m <= 0 {
		return NoReach
	}
	return decimals(math.Ceil(1e3*m-1e-9), 0)
}

// Towards is the direction of the largest of all ways, "" for none.
func Towards(w safety.Ways) string {
	if w.Largest <= 0 {
		return ""
	}
	return direction(w.Towards)
}

// PullNewtons is a pull (N) to two figures, 0 below 1 mN.
func PullNewtons(f float64) string {
	if f < 1e-3 {
		return "0"
	}
	return figures(f, 2)
}

// ShortLimit is a limit as a flux density: "0.5 mT".
func ShortLimit(l safety.Limit) string {
	if l.FieldT >= 1 {
		return trimmed(decimals(l.FieldT, 3)) + " T"
	}
	return trimmed(decimals(1e3*l.FieldT, 4)) + " mT"
}

// LimitSource says where a limit comes from: as it is stated, for whom, and the source.
func LimitSource(l safety.Limit) string {
	source := l.Source
	if l.FromMemory {
		source += " (from memory)"
	}
	return fmt.Sprintf("%s, %s: %s.", l.Stated, l.What, source)
}

// ToolNote says what the distances of tools mean.
func ToolNote(c *safety.Card) string {
	return fmt.Sprintf("Slides: the pull is %s of the weight, the friction of a smooth bench (common practice, no source); a dry bench holds two or three times more. "+
		"Lifts: the pull is the weight. Each tool is a spheroid of its steel's length and volume that points at the magnet, saturated where the field is strong enough; "+
		"most: along the axes, the edges and the corners of the box. A tool that is longer, thinner or of softer steel is pulled from farther.", trimmed(decimals(c.Friction, 2)))
}

// PinchWords says what closes on a hand.
func PinchWords(c *safety.Card) (list []string) {
	for _, h := range c.Halves {
		list = append(list, fmt.Sprintf("Across the gap, at %s, the halves pull with %s: what a jig or a spacer must hold.", plane(h.Plane), force(h.ForceN)))
	}
	p := c.Pinch
	if p == nil {
		return append(list, "No plane parts the assembly without a cut, or its closing could not be solved: what it sets free is not computed. Take it that it can crush a hand.")
	}
	list = append(list, fmt.Sprintf("Coming together at %s from %s mm, %s (%s kg) sets free %s J, at up to %s; if nothing holds the lighter side it arrives at %s m/s.",
		plane(p.Plane), decimals(1e3*p.FromM, 0), named(p.Moved), figures(p.MovedKg, 3), figures(p.EnergyJ, 2), force(p.ForceN), figures(p.SpeedMps, 2)))
	if p.HandM > 0 {
		list = append(list, fmt.Sprintf("Within %s mm of the closed place the force is more than the %g N that a hand stands (ISO/TS 15066:2016, table A.2, from memory).",
			decimals(math.Ceil(1e3*p.HandM), 0), safety.HandLimitN))
	}
	return list
}

// named lists a few names.
func named(list []string) string {
	const most = 3
	if len(list) > most {
		return fmt.Sprintf("%s and %d more", strings.Join(list[:most], ", "), len(list)-most)
	}
	return strings.Join(list, ", ")
}

// AirWords says how an assembly may go by air.
func AirWords(a safety.Air) []string {
	const nTperApm = 1256.637 // in air
	strength := func(h float64) string { return figures(h, 3) + " A/m (" + figures(h*nTperApm, 3) + " nT)" }
	return []string{
		fmt.Sprintf("As it is: %s. At 2.1 m at most %s, limit 0.159 A/m (200 nT); at 4.6 m at most %s, limit 0.418 A/m (525 nT); from the dipole and the quadrupole of the "+
			"solved field, counted from the centre.", a.Class, strength(a.At2m1Apm), strength(a.At4m6Apm)),
		a.WhatToDo,
	}
}
