package polewright

import (
	"context"
	"fmt"
	"math"
	"strings"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"polewright/design"
	"polewright/shape"
)

// askewFrame is a pair of magnets in a steel frame, without joints. All values are invented.
const askewFrame = `format = 1
[target]
field = "0.5 T"
temperature = { max = "60 degC" }
region = { shape = "sphere", diameter = "8 mm", center = ["3 mm", "0 mm", "0 mm"] }
[[magnet]]
name = "upper"
shape = "block"
size = ["30 mm", "40 mm", "12 mm"]
center = ["0 mm", "0 mm", "15 mm"]
magnetized = [0, 0, 1]
grade = "N42"
[[magnet]]
name = "lower"
shape = "block"
size = ["30 mm", "40 mm", "12 mm"]
center = ["0 mm", "0 mm", "-15 mm"]
magnetized = [0, 0, 1]
grade = "N42"
[[steel]]
name = "top"
shape = "block"
size = ["100 mm", "40 mm", "10 mm"]
center = ["10 mm", "0 mm", "26 mm"]
material = "steel-1018"
[[steel]]
name = "bottom"
shape = "block"
size = ["100 mm", "40 mm", "10 mm"]
center = ["10 mm", "0 mm", "-26 mm"]
material = "steel-1018"
[[steel]]
name = "back"
shape = "block"
size = ["10 mm", "40 mm", "42 mm"]
center = ["55 mm", "0 mm", "0 mm"]
material = "steel-1018"
[[probe]]
name = "beside"
at = ["-20 mm", "3 mm", "2 mm"]
`

// joint is a film of 0.1 mm between two parts.
func joint(a, b string) string {
	return fmt.Sprintf("[[joint]]\nbetween = [%q, %q]\nthickness = \"0.1 mm\"\n", a, b)
}

// turnedBy is a design whose parts are turned about the origin.
func turnedBy(t *testing.T, text string, r shape.Rotation) *design.Design {
	d := read(t, text)
	move := func(p *shape.Placement) { *p = shape.Placement{Center: r.Apply(p.Center), Rot: r.Mul(p.Rot)} }
	for i := range d.Magnets {
		move(&d.Magnets[i].Place)
		d.Magnets[i].Direction = r.Apply(d.Magnets[i].Direction)
	}
	for i := range d.Steels {
		move(&d.Steels[i].Place)
	}
	for i := range d.Probes {
		d.Probes[i].At = r.Apply(d.Probes[i].At)
	}
	d.Target.Region.Center = r.Apply(d.Target.Region.Center)
	return d
}

// An assembly that stands askew in the world is solved in axes of its own, or in the half plane: fields, forces and torques are those of the
// assembly along the axes, turned with it; all that has no direction is the same. The nodes lie in the same places of the parts, so rounding alone
// tells them apart, and what is sampled in the world: the tolerances are 1e-5, 1 % for the reach, which is sought in other directions, and 3 % for
// the estimate, which is sampled too, and for the peak-to-peak of the region. Where joints mark their zones rounding makes other triangles of the
// same plan, so a draft's errors of forces and flux tell the two apart: 1e-3.
func TestTurnedAsAWhole(t *testing.T) {
	round := roundPot("z") + "[target]\nregion = { shape = \"sphere\", diameter = \"8 mm\", center = [\"3 mm\", \"-4 mm\", \"5 mm\"] }\n" +
		"[[probe]]\nname = \"beside\"\nat = [\"10 mm\", \"3 mm\", \"2 mm\"]\n"
	t.Run("3d", func(t *testing.T) { turnedAsAWhole(t, askewFrame, "3d", 1e-5) })
	t.Run("3d with joints", func(t *testing.T) {
		turnedAsAWhole(t, askewFrame+joint("top", "back")+joint("upper", "top")+joint("bottom", "back"), "3d", 1e-3)
	})
	t.Run("axisymmetric", func(t *testing.T) { turnedAsAWhole(t, round, "axisymmetric", 1e-5) })
}

func turnedAsAWhole(t *testing.T, text, method string, tolerance float64) {
	along := run(t, read(t, text), Options{NoLedger: true})
	straight := along.Result
	turn := shape.Euler(0.4, -0.3, 0.7)
	s := run(t, turnedBy(t, text, turn), Options{NoLedger: true})
	askew := s.Result
	vector := func(what string, got, want [3]float64, tolerance float64) {
		t.Helper()
		w := turn.Apply(r3.Vec{X: want[0], Y: want[1], Z: want[2]})
		if d := r3.Norm(r3.Sub(r3.Vec{X: got[0], Y: got[1], Z: got[2]}, w)); !(d <= tolerance) {
			t.Errorf("%s: %.6g, want %.6g", what, got, w)
		}
	}
	scalar := func(what string, got, want, relative float64) {
		t.Helper()
		if !(math.Abs(got-want) <= relative*math.Abs(want)) {
			t.Errorf("%s: %.8g, want %.8g", what, got, want)
		}
	}
	if tolerance < 1e-4 && askew.Solver.Unknowns != straight.Solver.Unknowns || askew.Solver.Method != method || len(askew.Solver.Symmetry) != 0 || askew.Solver.Axis != "" {
		t.Errorf("solver: %+v, along the axes %+v", askew.Solver, straight.Solver)
	}
	b := norm(straight.GapB)
	vector("field in the gap", askew.GapB, straight.GapB, tolerance*b)
	vector("field beside", askew.Probes[0].B, straight.Probes[0].B, tolerance*b)
	vector("moment", askew.MomentAm2, straight.MomentAm2, tolerance*norm(straight.MomentAm2))
	scalar("estimated error", askew.Solver.EstimatedError, straight.Solver.EstimatedError, 0.03)
	scalar("mean of the region", askew.Region.MeanB, straight.Region.MeanB, tolerance+1e-4)
	scalar("peak to peak", askew.Region.PeakToPeak, straight.Region.PeakToPeak, 0.03)
	for i := range straight.Parts {
		p, q := &askew.Parts[i], &straight.Parts[i]
		vector(p.Name+": force", p.Force, q.Force, tolerance*norm(straight.Parts[0].Force))
		vector(p.Name+": torque", p.Torque, q.Torque, tolerance*norm(straight.Parts[0].Force)*0.05)
		scalar(p.Name+": mean B", p.MeanB, q.MeanB, tolerance)
		if p.Cut || p.Exact {
			t.Errorf("%s does not follow the grid", p.Name)
		}
		if q.WorkingPoint != nil {
			scalar(p.Name+": H", p.WorkingPoint.H, q.WorkingPoint.H, tolerance)
			scalar(p.Name+": margin", p.WorkingPoint.KneeMargin, q.WorkingPoint.KneeMargin, 10*tolerance)
		}
	}
	// The middle of the box that holds all parts is another, and the reach counts from there.
	middle := turn.Apply(r3.Vec{X: straight.CenterM[0], Y: straight.CenterM[1], Z: straight.CenterM[2]})
	apart := r3.Norm(r3.Sub(middle, r3.Vec{X: askew.CenterM[0], Y: askew.CenterM[1], Z: askew.CenterM[2]}))
	for i := range straight.Stray {
		got, want := askew.Stray[i].Largest, straight.Stray[i].Largest
		if d := math.Abs(got - want); d > apart+0.01*want {
			t.Errorf("reach of %g mT: %.4g m, want %.4g m to within %.4g m", 1e3*straight.Stray[i].Limit, got, want, apart)
		}
	}
	for k, w := range []float64{0, 0.4, -0.3, 0.7} { // fields at places of no symmetry, inside steel and outside
		p := r3.Vec{X: 0.0312 + 0.01*w, Y: 0.0017 + 0.005*float64(k), Z: 0.026}
		got, _ := s.field(turn.Apply(p))
		want, _ := along.field(p)
		vector(fmt.Sprintf("field in the top at %.3g m", p), array(got), array(want), tolerance*b)
	}
}

// What joints of steel that leans do not go together with is said, with the line of the joint.
func TestLeaningJointsRefused(t *testing.T) {
	turn := shape.Euler(0.4, -0.3, 0.7)
	refused := func(what string, d *design.Design, o Options, want string) {
		t.Helper()
		o.NoLedger, o.NoDemagnetization = true, true
		_, err := Run(context.Background(), d, o)
		if err == nil || !strings.Contains(err.Error(), want) || !strings.Contains(err.Error(), "test.toml:") {
			t.Errorf("%s: %v", what, err)
		}
	}
	d := turnedBy(t, askewFrame+joint("top", "back"), turn)
	refused("a plane", d, Options{Halves: []Plane{{2, 0}}}, "steel with a joint leans against the plane")
	d = turnedBy(t, askewFrame+joint("top", "back")+joint("bottom", "back"), turn)
	back := &d.Steels[2].Place // about its own middle: its edges meet the plates
	back.Rot = back.Rot.Mul(shape.Euler(0.2, 0, 0))
	refused("edge on face", d, Options{}, "do not touch on flat faces")
	back.Rot = turn.Mul(shape.Euler(0, 0, 0.2)) // askew to the plates' sides, but flat on them
	if _, err := newAssembly(d); err != nil {
		t.Error(err)
	}
}
