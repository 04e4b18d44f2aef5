package report

import (
	"fmt"
	"io"
	"math"
	"sort"
	"strings"

	"polewright/result"
)

// This file writes what is said about the gap alone.

// Gap writes the quality of a gap as text. It returns the writer's error.
func Gap(w io.Writer, q *result.GapQuality) error {
	var b strings.Builder
	titled(&b, "", q.Title)
	heading(&b, "Gap: %s about %s", q.Volume, point(q.Center))
	fact(&b, "centre", "%s T along %s", decimals(size(q.B), 6), direction(q.B))
	g := q.Region
	fact(&b, "volume", "mean %s T, lowest %s T, highest %s T", decimals(g.MeanB, 6), decimals(g.MinB, 6), decimals(g.MaxB, 6))
	fact(&b, "uniformity", "%s ppm from lowest to highest, %s ppm rms", ppm(g.PeakToPeak), ppm(g.RMS))
	if q.Accuracy != "" {
		fact(&b, "known to", "about %s ppm in shape, %s %% in size (accuracy %s)", figures(g.Noise, 1), figures(q.Error, 2), q.Accuracy)
	}
	harmonicsTable(&b, q.Harmonics)
	gradients(&b, q)
	readouts(&b, q)
	return written(w, &b)
}

// termRows is how many of the largest terms are printed.
const termRows = 12

func harmonicsTable(b *strings.Builder, h *result.Harmonics) {
	if h == nil {
		return
	}
	t := table{head: []string{">n", ">m", "", ">mT", ">ppm"}}
	for _, x := range largestTerms(h, termRows) {
		kind := ""
		if x.M > 0 {
			kind = x.Kind
		}
		t.add(fmt.Sprint(x.N), fmt.Sprint(x.M), kind, decimals(1e3*x.B, 5), signed(figures(x.PPM, 4)))
	}
	heading(b, "Harmonics at %s mm, polar axis %s, azimuth from %s: largest terms of degree 1 to %d", millimetres(h.Radius), direction(h.Polar), direction(h.Azimuth), h.Degree)
	if len(t.rows) == 0 {
		b.WriteString("  none\n")
		return
	}
	t.write(b)
	fact(b, "fit", "leaves %s ppm rms, %s ppm at most of the data", figures(h.Residual, 2), figures(h.Residual*h.ResidualMax/math.Max(h.ResidualT, 1e-300), 2))
}

// largestTerms are up to so many terms that are not the mean, the largest first.
func largestTerms(h *result.Harmonics, most int) (list []result.Term) {
	for _, t := range h.Terms {
		if t.N > 0 {
			list = append(list, t)
		}
	}
	sort.SliceStable(list, func(i, j int) bool { return math.Abs(list[i].B) > math.Abs(list[j].B) })
	return list[:min(most, len(list))]
}

// mainTerms names the largest terms in a line.
func mainTerms(h *result.Harmonics) string {
	var words []string
	for _, t := range largestTerms(h, 3) {
		if math.Abs(t.PPM) < 0.1 {
			break
		}
		kind := ""
		if t.M > 0 {
			kind = " " + t.Kind
		}
		words = append(words, fmt.Sprintf("(%d, %d)%s %s ppm", t.N, t.M, kind, signed(figures(t.PPM, 3))))
	}
	return strings.Join(words, ", ")
}

func gradients(b *strings.Builder, q *result.GapQuality) {
	d := q.Derivatives
	if d == nil {
		return
	}
	heading(b, "Gradients of |B| along x, y, z")
	row := func(label string, v [3]float64, unit string) {
		fact(b, label, "%s, %s, %s %s", figures(tidy(v[0]), 4), figures(tidy(v[1]), 4), figures(tidy(v[2]), 4), unit)
	}
	row("centre", d.GradB, "T/m")
	row("curvature", [3]float64{d.Curvature[0][0], d.Curvature[1][1], d.Curvature[2][2]}, "T/m²")
	row("of B²", [3]float64{d.CurvatureB2[0][0], d.CurvatureB2[1][1], d.CurvatureB2[2][2]}, "T²/m²")
	fact(b, "steepest", "%s T/m, on the surface of the volume", figures(q.Steepest, 3))
}

// tidy is zero for what rounding leaves of it.
func tidy(v float64) float64 {
	if math.Abs(v) < 1e-6 {
		return 0
	}
	return v
}

func readouts(b *strings.Builder, q *result.GapQuality) {
	heading(b, "Read-outs")
	t := table{head: []string{"resonance", ">frequency MHz", ">whole spread kHz", ">half width kHz"}}
	for _, r := range q.Resonance {
		t.add(r.Of, decimals(1e-6*r.Frequency, 4), figures(1e-3*r.Full, 4), figures(1e-3*r.Half, 4))
	}
	t.write(b)
	var paths []string
	for _, c := range q.Circles {
		paths = append(paths, c.Of+" "+figures(1e3*c.Radius, 4)+" mm")
	}
	if len(paths) > 0 {
		fact(b, "circles", "at %s: %s", energy(q.Circles[0].EnergyEV), strings.Join(paths, ", "))
	}
	fact(b, "Hall probe", "%s mm square: reads %s ppm off at the centre; up to %s ppm when %s mm off its place",
		millimetres(q.Hall.Edge), figures(1e6*q.Hall.Error/size(q.B), 3), figures(1e6*q.Hall.Moved/size(q.B), 3), millimetres(q.Hall.Edge/10))
	fact(b, "water", "pulled by up to %s of its weight, at %s", figures(size(q.Lift), 2), point(q.LiftAt))
}

// energy is a particle's energy in the unit that people say it in.
func energy(ev float64) string {
	for _, u := range []struct {
		name string
		ev   float64
	}{{"GeV", 1e9}, {"MeV", 1e6}, {"keV", 1e3}} {
		if ev >= u.ev {
			return figures(ev/u.ev, 4) + " " + u.name
		}
	}
	return figures(ev, 4) + " eV"
}
