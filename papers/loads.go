package papers

import (
	"context"
	"fmt"

	"polewright/report"
	"polewright/safety"
)

// This file says what the steel carries and what jigs must hold.

func loads(_ context.Context, s Source) ([]Section, error) {
	r := s.Solved.Result
	var all []Section
	steel := Table{Head: []string{"part", "material", ">mass kg", ">mean B T", ">largest B T", ">mean of saturation %", ">largest of saturation %"}}
	forces := Table{Caption: "On each part, from all the others", Head: []string{"part", ">Fx N", ">Fy N", ">Fz N", ">|F| N", ">|F| kgf", ">torque N·m"}}
	var steels, bodies int
	for _, p := range r.Parts {
		if p.Kind == "steel" || p.Kind == "wound" {
			if steels++; steels <= most {
				steel.Rows = append(steel.Rows, []string{p.Name, p.Material, kilograms(p.MassKg), tesla(p.MeanB), tesla(p.MaxB),
					report.Decimals(100*p.Saturation, 1), report.Decimals(100*p.MaxSaturation, 1)})
			}
		}
		if p.Kind == "spacer" {
			continue
		}
		if bodies++; bodies <= most {
			const kgf = 9.80665 // N, exact by definition (3rd CGPM 1901)
			f := size(p.Force)
			forces.Rows = append(forces.Rows, []string{p.Name, newtons(p.Force[0]), newtons(p.Force[1]), newtons(p.Force[2]), newtons(f),
				report.Figures(f/kgf, 3), report.Decimals(size(p.Torque), 2)})
		}
	}
	if steels > 0 {
		all = append(all, Section{Title: "Yoke: saturation", Blocks: []Block{limited(steel, steels),
			Text("Flux density over the saturation of the steel; of a wound yoke over that times its packing. Above about 80 % a yoke begins to cost field.")}})
	}
	o := Section{Title: "Forces"}
	if c := cautions(s.Card, func(c safety.Caution) bool { return c.Code == "crushing" }); len(c) > 0 {
		o.Blocks = append(o.Blocks, Box{Title: "Caution", Texts: c})
	}
	halves := Table{Caption: "Between the halves: what a jig or a spacer must hold", Head: []string{"plane", "force", ">Fx N", ">Fy N", ">Fz N"}}
	for _, h := range r.Halves {
		halves.Rows = append(halves.Rows, []string{report.PlaneName(h.Plane), report.HalfForce(h), newtons(h.Force[0]), newtons(h.Force[1]), newtons(h.Force[2])})
	}
	o.Blocks = append(o.Blocks, halves, limited(forces, bodies),
		Text(fmt.Sprintf("Forces are those of the assembly as drawn. While it is put together they change, and parts that touch are held by more than the numbers over a gap say; "+
			"polewright approach gives them against the distance. Magnetic moment of the whole: %s A·m².", report.Figures(size(r.MomentAm2), 3))))
	return append(all, o), nil
}

func newtons(f float64) string {
	if f >= 100 || f <= -100 {
		return report.Decimals(f, 0)
	}
	return report.Decimals(f, 1)
}
