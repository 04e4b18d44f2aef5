package papers

import (
	"context"
	"fmt"
	"math"
	"strings"

	"polewright/material"
	"polewright/report"
	"polewright/result"
)

// This file shows how hard the magnets work.

func magnets(_ context.Context, s Source) ([]Section, error) {
	r, d := s.Solved.Result, s.Design
	if len(d.Magnets) == 0 {
		return nil, nil
	}
	o := Section{Title: "Magnets: working points and temperature", NewPage: true}
	t := Table{Caption: "Mean working point at " + report.Celsius(r.TempC) + ", and the worst place at the worst temperature",
		Head: []string{"magnet", "grade", ">B T", ">H kA/m", ">permeance", ">lowest H kA/m", ">knee kA/m", ">at °C", ">margin %", ">past knee %", ">keeps %"}}
	for i := range d.Magnets[:min(len(d.Magnets), most)] {
		p := r.Parts[i]
		row := []string{p.Name, p.Material}
		if w := p.WorkingPoint; w != nil {
			row = append(row, tesla(w.B), report.Decimals(w.H/1e3, 1), report.Decimals(w.Permeance, 2), report.Decimals(w.LowestH/1e3, 1))
			if w.WorstKneeH != 0 {
				keeps := "not known"
				if w.RemanenceKept != 0 {
					keeps = report.Decimals(100*w.RemanenceKept, 1)
				}
				row = append(row, report.Decimals(w.WorstKneeH/1e3, 1), strings.TrimSuffix(report.Celsius(w.WorstC), " °C"), report.Decimals(100*w.KneeMargin, 0), report.Decimals(100*w.PastKnee, 1), keeps)
			} else {
				row = append(row, "not known")
			}
		}
		t.Rows = append(t.Rows, row)
	}
	o.Blocks = append(o.Blocks, limited(t, len(d.Magnets)))
	drawn := map[material.Magnet]bool{}
	const curves = 6 // more kinds of magnet than this are told in the table only
	for i := range d.Magnets {
		if m := d.Magnets[i].Material; !drawn[m] && len(drawn) < curves {
			drawn[m] = true
			o.Blocks = append(o.Blocks, demagnetizationCurve(s, m)...)
		}
	}
	if l := r.Demagnetization; l != nil {
		t := Table{Caption: "At the temperatures asked for", Head: []string{">magnets at °C", ">gap T", ">volume past the knee %"}}
		for _, x := range l.Temperatures {
			t.Rows = append(t.Rows, []string{strings.TrimSuffix(report.Celsius(x.DegC), " °C"), tesla(x.GapB), report.Decimals(100*x.PastKnee, 1)})
		}
		o.Blocks = append(o.Blocks, t, Text(lossText(l)))
	}
	return []Section{o}, nil
}

func lossText(l *result.Demagnetization) string {
	switch {
	case l.Magnets > 0:
		return fmt.Sprintf("%s T (%s %%) of the gap field is lost for good at %s; %s %% of the magnets' volume is past the knee. The other numbers in these papers are those before the loss.",
			tesla(l.LostGapT), report.Figures(l.LostGap, 3), report.Celsius(l.WorstC), report.Decimals(100*l.LostVolume, 1))
	case len(l.NotComputed) > 0:
		return "What is lost for good is not computed: the curve past the knee is not known."
	}
	return "Nothing is lost for good."
}

// demagnetizationCurve draws the curve of a material at the temperatures of the design, with the working points of its magnets.
func demagnetizationCurve(s Source, m material.Magnet) []Block {
	r := s.Solved.Result
	temps := []float64{r.TempC}
	if l := r.Demagnetization; l != nil {
		for _, x := range l.Temperatures {
			if x.DegC != r.TempC && len(temps) < 4 {
				temps = append(temps, x.DegC)
			}
		}
	}
	points := report.Curve{Name: "mean working points at " + report.Celsius(r.TempC), Points: true}
	worst := report.Curve{Name: "worst places at their worst temperature", Points: true}
	lowest, permeance := 0.0, 0.0
	for i := range s.Design.Magnets {
		w := r.Parts[i].WorkingPoint
		if s.Design.Magnets[i].Material != m || w == nil {
			continue
		}
		points.X, points.Y = append(points.X, w.H/1e3), append(points.Y, w.B)
		lowest = math.Min(lowest, math.Min(w.H, w.LowestH))
		if permeance == 0 {
			permeance = w.Permeance
		}
		if c, ok := m.At(w.WorstC).Demagnetization(); ok && w.WorstKneeH != 0 {
			b, _, _ := c.Eval(w.LowestH)
			worst.X, worst.Y = append(worst.X, w.LowestH/1e3), append(worst.Y, b)
		}
	}
	g := report.Lines{Title: "Demagnetization of " + m.Name, XName: "H, kA/m", YName: "B, T"}
	for _, temp := range temps {
		at := m.At(temp)
		c, ok := at.Demagnetization()
		if !ok {
			return []Block{Text(fmt.Sprintf("The demagnetization curve of %s is not known: %s.", m.Name, at.KneeRule()))}
		}
		lowest = math.Min(lowest, 1.05*c.H(0))
	}
	for _, temp := range temps {
		c, _ := m.At(temp).Demagnetization()
		curve := report.Curve{Name: "B at " + report.Celsius(temp)}
		const steps = 240
		for i := range steps + 1 {
			h := lowest * (1 - float64(i)/steps)
			b, _, _ := c.Eval(h)
			if b < -0.1 {
				b = math.NaN()
			}
			curve.X, curve.Y = append(curve.X, h/1e3), append(curve.Y, b)
		}
		g.Curves = append(g.Curves, curve)
	}
	if permeance > 0 {
		top := -m.At(r.TempC).RemanenceT / (permeance * material.Mu0)
		h := math.Max(top, lowest)
		g.Curves = append(g.Curves, report.Curve{Name: "load line, permeance " + report.Decimals(permeance, 2), X: []float64{h / 1e3, 0}, Y: []float64{-permeance * material.Mu0 * h, 0}})
	}
	for _, c := range []report.Curve{points, worst} {
		if len(c.X) > 0 {
			g.Curves = append(g.Curves, c)
		}
	}
	return []Block{Figure{g, chartMM, fmt.Sprintf("Demagnetization curves of %s, %s. Where the curve bends down, the knee, a magnet loses for good: %s.", m.Name, m.Family, m.KneeRule())}}
}
