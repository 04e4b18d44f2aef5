package report

import (
	"fmt"
	"io"
	"strings"

	"polewright/result"
)

// This file writes shims as text.

// ShimText writes what to put on the faces, 100 columns wide. It returns the writer's error.
func ShimText(w io.Writer, r *result.Shimming) error {
	var b strings.Builder
	b.WriteString(strings.Join(wrap(strings.TrimSpace(r.Title), textWidth), "\n") + "\n")
	heading(&b, "Measured map: %s readings", counted(r.Readings))
	fact(&b, "terms", "up to degree %d within %s mm of the middle of the gap; readings less terms %s mT rms", r.Degree, millimetres(r.RadiusM), figures(1e3*r.FitRMS, 2))
	t := table{head: []string{">degree", ">mT rms on the rim"}}
	for _, k := range r.Terms {
		t.add(counted(k.Degree), figures(1e3*k.RMST, 4))
	}
	t.write(&b)
	heading(&b, "Over the region")
	t = table{head: []string{"", ">mean T", ">peak to peak ppm", ">rms ppm"}}
	for _, f := range r.Figures {
		t.add(f.What, tesla(f.MeanT), ppm(f.PeakToPeakPPM), ppm(f.RMSPPM))
	}
	t.write(&b)
	if len(r.Patches) > 0 {
		what := fmt.Sprintf("steel foils of %s x %s x %s mm", millimetres(r.SizeM), millimetres(r.SizeM), decimals(1e3*r.StepM, 3))
		count := "foils"
		if r.What == "magnet" {
			what, count = fmt.Sprintf("trim magnets of %s mm diameter", millimetres(r.SizeM)), "along the axis +, against it -"
		}
		heading(&b, "Shims: %s", what)
		t = table{head: []string{"face", ">x mm", ">y mm", ">z mm", ">" + count, fmt.Sprintf(">first, %s %%", trimmed(decimals(100*r.Apply, 0)))}}
		for _, p := range r.Patches {
			t.add(p.Face, millimetres(p.At[0]), millimetres(p.At[1]), millimetres(p.At[2]), fmt.Sprint(p.Count), fmt.Sprint(p.First))
		}
		t.write(&b)
		fact(&b, "how", "%s. Put on those of the last column, read the map again, and ask again: what shims do is known to about a tenth.", r.Images)
		fact(&b, "caution", "The gap pulls foils and magnets out of the hand with force: slide them in on brass or plastic, wear glasses, and glue or cover them before anything else comes near.")
	}
	notes(&b, "Warnings", r.Warnings)
	return written(w, &b)
}
