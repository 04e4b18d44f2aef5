package polewright

import (
	"cmp"
	"context"
	"fmt"
	"math"
	"strings"

	"gonum.org/v1/gonum/spatial/r3"

	"polewright/design"
	"polewright/mistake"
	"polewright/result"
	"polewright/safety"
)

// Approach says how two halves are brought together: all parts on the positive side of a plane move away along its normal, and come back in steps.
type Approach struct {
	Plane    Plane
	FromM    float64  // largest distance from the place in the design; 100 mm if zero
	Steps    int      // how many distances besides the closed place; 10 if zero
	Accuracy Accuracy // the zero value is Draft
	Progress func(what string, done float64)
}

// fewestSteps is below what a curve of force can be drawn through.
const fewestSteps = 4

// distances are those to solve at, m, from the largest to zero: the force changes most at the closed end, so they lie closer there.
func (o Approach) distances() []float64 {
	near := o.nearM()
	top := math.Log(1 + o.FromM/near)
	var list []float64
	for i := o.Steps; i > 0; i-- {
		list = append(list, near*math.Expm1(top*float64(i)/float64(o.Steps)))
	}
	return append(list, 0)
}

// nearM is the distance below which the steps lie evenly.
func (o Approach) nearM() float64 { return o.FromM / 50 }

// heard is progress, or where it is nil one that nobody hears.
func heard(progress func(what string, done float64)) func(what string, done float64) {
	if progress == nil {
		return func(string, float64) {}
	}
	return progress
}

// RunApproach solves a design at each distance of its halves. The force on the positive half, the energy that is set free and the stiffness
// come out at each. A plane that cuts a part, or has nothing on one side, is a *mistake.Error.
func RunApproach(ctx context.Context, d *design.Design, o Approach) (*result.Approach, error) {
	o.FromM = cmp.Or(o.FromM, 0.1)
	o.Steps = cmp.Or(o.Steps, 10)
	o.Accuracy = cmp.Or(o.Accuracy, Draft)
	if !(o.FromM > 0) || math.IsInf(o.FromM, 0) || o.Steps < fewestSteps || o.Steps > 1000 {
		return nil, fmt.Errorf("halves cannot come together from %g m in %d steps: give a distance above zero and %d to 1000 steps", o.FromM, o.Steps, fewestSteps)
	}
	report := heard(o.Progress)
	a, err := newAssembly(d)
	if err != nil {
		return nil, err
	}
	if err := a.parted(o.Plane); err != nil {
		return nil, err
	}
	out := &result.Approach{Format: 1, Title: d.Title, Plane: o.Plane.String(), Accuracy: o.Accuracy.Name, Moved: []string{}, Cautions: []string{}}
	for i := range a.parts {
		if side(a.parts[i], o.Plane) > 0 {
			out.Moved = append(out.Moved, a.parts[i].Name)
		}
	}
	distances := o.distances()
	var coenergy [2]float64
	known := true
	var s *state
	for i, x := range distances {
		step := func(what string, done float64) {
			report(fmt.Sprintf("%.3g mm, %s", 1e3*x, what), (float64(i)+done)/float64(len(distances)))
		}
		var force r3.Vec
		if s, force, err = o.at(ctx, d, x, s, step); err != nil {
			return nil, fmt.Errorf("with the halves %.4g mm apart: %w", 1e3*x, err)
		}
		w, ok := s.coenergy()
		known = known && ok
		if i == 0 {
			coenergy[0] = w
		}
		coenergy[1] = w
		out.Steps = append(out.Steps, result.ApproachStep{DistanceM: x, Force: array(force)})
	}
	o.integrate(out)
	if known {
		e := coenergy[1] - coenergy[0]
		out.CoenergyJ = &e
	}
	o.caution(out, a)
	report("done", 1)
	return out, nil
}

// parted demands that the plane cuts no part, and has parts on both sides.
func (a *assembly) parted(p Plane) error {
	var cut []string
	steel := false
	count := map[int]int{}
	for i, q := range a.parts {
		where := side(q, p)
		count[where]++
		if where == 0 {
			cut = append(cut, fmt.Sprintf("%q", q.Name))
			steel = steel || i >= len(a.design.Magnets)
		}
	}
	switch {
	case len(cut) > 0 && steel:
		return mistake.Of(fmt.Sprintf("the plane %s cuts %s", p, strings.Join(cut, ", ")),
			"halves part where parts touch: choose such a plane, or write what it cuts as two parts that touch on it")

	case len(cut) > 0:
		return mistake.Of(fmt.Sprintf("the plane %s cuts %s", p, strings.Join(cut, ", ")), "choose a plane between parts")
	case count[1] == 0 || count[-1] == 0:
		return mistake.Of(fmt.Sprintf("all parts lie on one side of the plane %s", p), "choose a plane between parts")
	}
	return nil
}

// at solves with the halves a distance apart, beginning at the field of another distance.
func (o Approach) at(ctx context.Context, d *design.Design, x float64, before *state, report func(string, float64)) (s *state, force r3.Vec, err error) {
	middle := o.Plane
	middle.AtM += x / 2
	if s, err = solveState(ctx, apart(d, o.Plane, x), Options{Accuracy: o.Accuracy, Halves: []Plane{middle}, Progress: report}, before); err != nil {
		return nil, force, err
	}
	force, err = s.f.Half(middle)
	return s, force, err
}

// apart is a design whose parts on the positive side of a plane are moved along its normal. Joints across the plane open; what is not a part
// is left out.
func apart(d *design.Design, p Plane, x float64) *design.Design {
	var shift r3.Vec
	*component(&shift, p.Axis) = x
	positive := map[string]bool{}
	for _, q := range d.Parts() {
		positive[q.Name] = side(q, p) > 0
	}
	for i := range d.Coils {
		positive[d.Coils[i].Name] = side(design.Part{Body: d.Coils[i].Body()}, p) > 0
	}
	return rearranged(d, func(string) bool { return true }, func(name string) r3.Vec {
		if positive[name] {
			return shift
		}
		return r3.Vec{}
	})
}

// integrate fills in the energy set free since the largest distance and the stiffness at each.
func (o Approach) integrate(out *result.Approach) {
	var distances, pull []float64
	for _, s := range out.Steps {
		distances, pull = append(distances, s.DistanceM), append(pull, -s.Force[o.Plane.Axis])
	}
	energy, slope := wayOf(distances, pull, o.nearM())
	for i := range out.Steps {
		out.Steps[i].EnergyJ, out.Steps[i].StiffnessNPerM = energy[i], -slope[i]
		out.EnergyJ = energy[i]
	}
}

// caution says what the closing halves may do to hands.
func (o Approach) caution(out *result.Approach, a *assembly) {
	largest := 0.0
	for _, s := range out.Steps {
		largest = math.Max(largest, norm(s.Force))
	}
	facts := safety.Facts{HalfForceN: largest, PinchEnergyJ: math.Max(0, out.EnergyJ), MagnetFamilies: families(a.design)}
	out.Cautions = cautionsFor(facts, "crushing", "shattering", "local-codes")
}
