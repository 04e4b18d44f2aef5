package report

import (
	"strings"
	"testing"
	"unicode/utf8"

	"polewright/safety"
)

// The card's text says its numbers rounded up, in lines of a terminal's width, and every limit with its source.
func TestSafetyText(t *testing.T) {
	c := &safety.Card{Title: "card", Friction: 0.2, Tools: []safety.ToolPull{{Name: "bolt", WeightN: 0.39,
		Slides: safety.Ways{X: 0.0201, Largest: 0.031}, Lifts: safety.Ways{X: 0.0101, Largest: 0.0101},
		Pull: []safety.Pull{{DistanceM: 0.01, Newtons: safety.Ways{Largest: 1.234}}, {DistanceM: 0.02, Newtons: safety.Ways{Largest: 9}}, {DistanceM: 0.3, Newtons: safety.Ways{Largest: 1e-4}}}}},
		Halves:   []safety.HalfPull{{Plane: "z=0.005", ForceN: 1193.4}},
		Pinch:    &safety.Pinch{Plane: "z=0.029", Moved: []string{"top", "b", "c", "d"}, MovedKg: 0.754, FromM: 0.1, ForceN: 2531, EnergyJ: 7.94, SpeedMps: 4.58, HandM: 0.0113},
		Cautions: []safety.Caution{{Code: "x", Title: "Hands", Severity: safety.Danger, Text: "Mind them at 60 degC."}},
		Air:      safety.Air{Class: safety.AirDeclared, At2m1Apm: 2.2221, At4m6Apm: 0.21142, WhatToDo: "Send it by road."},
	}
	for _, l := range safety.Limits() {
		c.Limits = append(c.Limits, safety.LimitReach{Limit: l, Reach: safety.Ways{X: 0.1001, Largest: 0.2, Towards: [3]float64{0, 0, 1}}})
	}
	var b strings.Builder
	if err := SafetyText(&b, c); err != nil {
		t.Fatal(err)
	}
	text := b.String()
	for _, l := range strings.Split(text, "\n") {
		if n := utf8.RuneCountInString(l); n > textWidth {
			t.Errorf("%d columns: %s", n, l)
		}
	}
	words := strings.Join(strings.Fields(text), " ")
	for _, want := range []string{"Hands (danger). Mind them at 60 °C.", "0.5 mT 101 - - 200 +z pacemakers", "8 T 101 - - 200 +z at work, limbs", "bolt 21 - - 31 11 - - 11", "bolt 0.390 1.2 0 - Slides",
		"at z = 5 mm, the halves pull with 1193 N (122 kgf)", "at z = 29 mm from 100 mm, top, b, c and 1 more (0.754 kg) sets free 7.9 J, at up to 2531 N (258 kgf)",
		"arrives at 4.6 m/s", "Within 12 mm of the closed place", "magnetized material, to be declared. At 2.1 m at most 2.22 A/m (2790 nT)", "at 4.6 m at most 0.211 A/m (266 nT)", "Send it by road."} {
		if !strings.Contains(words, want) {
			t.Errorf("the text does not say %q:\n%s", want, text)
		}
	}
	for _, l := range safety.Limits() {
		if !strings.Contains(words, l.Source) || l.FromMemory && !strings.Contains(words, l.Source+" (from memory)") {
			t.Errorf("no source of %s", l.Code)
		}
	}
	c.Pinch, c.Tools = nil, nil
	b.Reset()
	if err := SafetyText(&b, c); err != nil || !strings.Contains(strings.Join(strings.Fields(b.String()), " "), "what it sets free is not computed") {
		t.Errorf("without a pinch: %v\n%s", err, b.String())
	}
}
