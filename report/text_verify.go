package report

import (
	"fmt"
	"io"
	"math"
	"sort"
	"strings"

	"polewright/result"
)

// This file writes a verification as text, and draws it.

// Verified writes what the readings of a built magnet say, 100 columns wide. It returns the writer's error.
func Verified(w io.Writer, v *result.Verification) error {
	var b strings.Builder
	b.WriteString(strings.Join(wrap(strings.TrimSpace(v.Title), textWidth), "\n") + "\n")
	sure := trimmed(decimals(100*v.Confidence, 1)) + " %"
	heading(&b, "Verdict: %s", v.Verdict)
	fact(&b, "", "%s.", v.Reason)
	for _, c := range v.Checks {
		bound := "at least"
		if c.AtMost {
			bound = "at most"
		}
		fact(&b, c.What, "%s ± %s as built (%s); wanted %s %s: %s, probability %s %%", verified(c.Got, c.Unit), verified(c.Uncertainty, c.Unit), sure,
			bound, verified(c.Wanted, c.Unit), c.Verdict, chance(c.Probability))
	}

	heading(&b, "What is off")
	fact(&b, "as designed", "probability %s %%", chance(v.Sound))
	for _, f := range v.Findings {
		others := ""
		if f.WithOthers > 1.05*f.Uncertainty {
			others = fmt.Sprintf("; ± %s if all else has its usual spread", deviation(f.WithOthers, f.Unit))
		}
		fact(&b, "found", "%s (%s, if nothing else is off%s); probability %s %%", f.Text, sure, others, chance(f.Confidence))
	}
	for _, f := range v.Suspects {
		fact(&b, "suspect", "%s: probability %s %%", f.Text, chance(f.Confidence))
	}
	if len(v.Findings)+len(v.Suspects) == 0 {
		fact(&b, "", "Nothing in the readings speaks against the design.")
	}
	if n := v.Next; n != nil {
		times := "one reading"
		if n.Readings > 1 {
			times = count(n.Readings) + " readings"
		}
		fact(&b, "next", "%s of %s at %s would tell %q from %q: %s mT against %s mT", times, n.Component, point(n.At), n.Between[0], n.Between[1],
			figures(1e3*n.Expected[0], 5), figures(1e3*n.Expected[1], 5))
	} else if len(v.Suspects) > 1 {
		fact(&b, "next", "No single further place settles it; repeat the map with less noise, or measure the magnets one by one.")
	}
	if len(v.Alike) > 0 {
		var s []string
		for _, p := range v.Alike {
			s = append(s, p[0]+" and "+p[1])
		}
		fact(&b, "alike here", "These readings do not tell apart: %s.", strings.Join(s, "; "))
	}
	if len(v.Unseen) > 0 {
		fact(&b, "not seen", "These readings say nothing of: %s.", strings.Join(v.Unseen, "; "))
	}

	heading(&b, "Readings: %d", len(v.Readings))
	fact(&b, "difference", "%s mT rms from the design, %s mT rms from the fit", figures(1e3*v.DesignRMS, 3), figures(1e3*v.ResidualRMS, 3))
	fact(&b, "noise", "%s", v.Noise)
	fact(&b, "probe", "%s; readings brought to %s", v.Probe, celsius(v.ReferenceC))
	for _, f := range v.Instrument {
		if math.Abs(f.Value) > 2*f.Usual {
			fact(&b, "instrument", "the %s seems off by %s, more than is usual", f.What, deviation(f.Value, f.Unit))
		}
	}
	for _, r := range v.Readings {
		if r.Wrong {
			fact(&b, "wrong", "line %d, %s at %s: %s mT where %s mT would fit in; left out", r.Line, r.Component, point(r.At), figures(1e3*r.Read, 5), figures(1e3*r.Fitted, 5))
		}
	}
	worst(&b, v)
	notes(&b, "Warnings", v.Warnings)
	_, err := io.WriteString(w, printable(b.String()))
	return err
}

// worst lists the readings that differ most from the fit, in units of their uncertainty.
func worst(b *strings.Builder, v *result.Verification) {
	const rows = 8
	list := append([]result.VerifiedReading(nil), v.Readings...)
	far := func(r result.VerifiedReading) float64 { return math.Abs(r.Corrected-r.Fitted) / r.Uncertainty }
	sort.SliceStable(list, func(i, j int) bool { return far(list[i]) > far(list[j]) })
	hidden := len(list) - rows
	if hidden > 0 {
		list = list[:rows]
		fmt.Fprintf(b, "  the %d farthest from the fit; --json lists all\n", rows)
	}
	t := table{head: []string{">line", "place mm", "", ">read mT", ">design mT", ">fit mT", ">read less fit", ">u mT"}}
	for _, r := range list {
		t.add(counted(r.Line), point(r.At), r.Component, figures(1e3*r.Corrected, 5), figures(1e3*r.Predicted, 5), figures(1e3*r.Fitted, 5),
			signed(figures(1e3*(r.Corrected-r.Fitted), 3)), figures(1e3*r.Uncertainty, 2))
	}
	t.write(b)
}

// chance is a probability in per cent, never rounded to certainty.
func chance(p float64) string {
	switch {
	case p > 0.999:
		return "over 99.9"
	case p < 0.001:
		return "below 0.1"
	}
	return figures(100*p, 3)
}

// Chance is a probability in per cent, never rounded to certainty.
func Chance(p float64) string { return chance(p) }

// DeviationSize is the size of a deviation, given in an SI unit or as a share, in the unit that people use for it.
func DeviationSize(x float64, unit string) string { return deviation(x, unit) }

// verified is a number of a check with its unit.
func verified(x float64, unit string) string {
	if unit == "T" {
		return tesla(x) + " T"
	}
	return figures(x, 3) + " " + unit
}

// deviation is the size of a deviation in the unit that people use for it.
func deviation(x float64, unit string) string {
	switch unit {
	case "1":
		return figures(100*x, 2) + " %"
	case "rad":
		return figures(x*180/math.Pi, 2) + "°"
	case "m":
		return figures(1e3*x, 2) + " mm"
	case "T":
		return figures(1e3*x, 2) + " mT"
	}
	return figures(x, 2) + " " + unit
}

// ResidualChart draws each reading's difference from the design and from the fit, against its line in the log, in mT.
func ResidualChart(v *result.Verification) Lines {
	var line, design, fit, wrongLine, wrong []float64
	for _, r := range v.Readings {
		if r.Wrong {
			wrongLine, wrong = append(wrongLine, float64(r.Line)), append(wrong, 1e3*(r.Corrected-r.Fitted))
			continue
		}
		line = append(line, float64(r.Line))
		design, fit = append(design, 1e3*(r.Corrected-r.Predicted)), append(fit, 1e3*(r.Corrected-r.Fitted))
	}
	g := Lines{Title: v.Title + ": readings less prediction", XName: "line of the log", YName: "difference, mT",
		Curves: []Curve{{Name: "from the design", X: line, Y: design, Points: true}, {Name: "from the fit", X: line, Y: fit, Points: true}}}
	if len(wrong) > 0 {
		g.Curves = append(g.Curves, Curve{Name: "left out", X: wrongLine, Y: wrong, Points: true})
	}
	return g
}
