package report

import (
	"io"
	"strings"

	"polewright/result"
)

// This file writes what two halves do to each other while they are brought together.

// ApproachText writes it as a table, the closed place last, with the cautions.
func ApproachText(w io.Writer, r *result.Approach) error {
	var b strings.Builder
	titled(&b, "", r.Title)
	heading(&b, "Force while the halves come together at %s (accuracy %s)", plane(r.Plane), r.Accuracy)
	fact(&b, "moves", "%s", strings.Join(r.Moved, ", "))
	b.WriteString("\n")
	axis := max(0, strings.Index("xyz", r.Plane[:min(1, len(r.Plane))]))
	t := table{head: []string{">distance mm", ">pull N", ">pull kgf", ">beside N", ">energy so far J", ">stiffness N/mm"}}
	for _, s := range r.Steps {
		beside := s.Force
		beside[axis] = 0
		t.add(decimals(1e3*s.DistanceM, 2), newtons(-s.Force[axis]), kilogramForce(-s.Force[axis]), newtons(size(beside)), figures(s.EnergyJ, 3), figures(1e-3*s.StiffnessNPerM, 3))
	}
	t.write(&b)
	b.WriteString("\n")
	fact(&b, "distance", "from the place in the design; a pull above zero draws the halves together")
	fact(&b, "energy", "%s J are set free on the way from %s mm to the closed place", figures(r.EnergyJ, 3), decimals(1e3*r.Steps[0].DistanceM, 1))
	if r.CoenergyJ != nil {
		fact(&b, "check", "%s J by the energies of the two ends alone", figures(*r.CoenergyJ, 3))
	}
	fact(&b, "stiffness", "by how much the pull changes with the distance; above zero it grows as the halves close, and no hand can steady it")
	notes(&b, "Cautions", r.Cautions)
	return written(w, &b)
}
