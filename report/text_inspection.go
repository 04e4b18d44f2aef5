package report

import (
	"io"
	"math"
	"strings"

	"polewright/result"
)

// This file writes an incoming inspection as text.

// InspectionText writes what measured magnets are and where they go, 100 columns wide. It returns the writer's error.
func InspectionText(w io.Writer, r *result.Inspection) error {
	var b strings.Builder
	b.WriteString(strings.Join(wrap(strings.TrimSpace(r.Title), textWidth), "\n") + "\n")
	for _, k := range r.Kinds {
		heading(&b, "%s: magnets %s", k.Grade, strings.Join(k.Magnets, ", "))
		fact(&b, "remanence", "%s T nominal, at least %s T, at %s", tesla(k.NominalT), tesla(k.MinimumT), celsius(k.ReferenceC))
		fact(&b, "alone", "%s A m2 at the nominal remanence; demagnetizing factor %s, so remanence is %s times the mean polarization of a piece alone",
			figures(k.MomentAm2, 4), figures(k.Factor, 3), decimals(k.Correction, 4))
		if k.Pieces > 0 {
			fact(&b, "measured", "%s pieces, mean %s T (%s %%), standard deviation %s %%", count(k.Pieces), tesla(k.MeanT), signed(percent(k.MeanT/k.NominalT-1)),
				figures(100*k.SpreadT/k.MeanT, 2))
		}
	}
	heading(&b, "Pieces: %s; ± is for a coverage factor of 2", counted(len(r.Pieces)))
	t := table{head: []string{"piece", ">Br T", ">±", ">from nominal", ">moment A m2", ">off mark", "against the least warranted"}}
	for _, p := range r.Pieces {
		angle := "-"
		if p.HasAngle {
			angle = decimals(p.AngleRad*180/math.Pi, 1) + "°"
		}
		t.add(p.Name, tesla(p.RemanenceT), tesla(p.Uncertainty), signed(percent(p.Deviation))+" %", figures(p.MomentAm2, 4), angle, strings.Join(append([]string{p.Verdict}, p.Texts...), "; "))
	}
	t.write(&b)
	if len(r.Places) > 0 {
		how := "the best of all arrangements"
		if !r.Exact {
			how = "the best that annealing found"
		}
		heading(&b, "Where they go, for %s: %s", r.Objective, how)
		t = table{head: []string{"magnet", "piece", "turned about its magnetization"}}
		for _, p := range r.Places {
			turn := "any way"
			if p.Turned {
				turn = decimals(p.TurnRad*180/math.Pi, 0) + "°"
			}
			t.add(p.Magnet, p.Piece, turn)
		}
		t.write(&b)
		if len(r.Spare) > 0 {
			fact(&b, "spare", "%s", strings.Join(r.Spare, ", "))
		}
		heading(&b, "Predicted over the region")
		t = table{head: []string{"pieces", ">mean T", ">peak to peak ppm", ">mean field off its axis"}}
		for _, p := range r.Predicted {
			t.add(p.What, tesla(p.MeanT), ppm(p.PeakToPeakPPM), decimals(p.AcrossFraction*180/math.Pi, 2)+"°")
		}
		t.write(&b)
	}
	notes(&b, "Warnings", r.Warnings)
	return written(w, &b)
}
