package polewright

import (
	"context"
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"polewright/design"
	"polewright/freefield"
	"polewright/mistake"
	"polewright/shape"
)

func read(t testing.TB, text string) *design.Design {
	t.Helper()
	d, err := design.Read(strings.NewReader(text), "test.toml")
	if err != nil {
		t.Fatal(err)
	}
	return d
}

func template(t testing.TB, layout string) *design.Design {
	t.Helper()
	return read(t, templateText(t, layout))
}

func templateText(t testing.TB, layout string) string {
	t.Helper()
	text, err := design.Template(layout)
	if err != nil {
		t.Fatal(err)
	}
	return text
}

func run(t testing.TB, d *design.Design, o Options) *Solved {
	t.Helper()
	if o.Accuracy.Name == "" {
		o.Accuracy = Draft
	}
	s, err := Run(context.Background(), d, o)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// The rows of the ledger add up, from the remanence to the field that the result states.
func TestLedgerClosesOnTheGapField(t *testing.T) {
	ledgerCloses(t, slices.DeleteFunc(design.Layouts(), slowLayout))
}

// slowLayout tells the layouts whose ledger takes half a minute; the long tests have them.
func slowLayout(layout string) bool { return layout == "pole-tips" || layout == "halbach-wedges" }

func ledgerCloses(t *testing.T, layouts []string) {
	for _, layout := range layouts {
		r := run(t, template(t, layout), Options{}).Result
		rows := r.Ledger.Rows
		if len(rows) < 3 {
			t.Fatalf("%s: the ledger has only %d rows", layout, len(rows))
		}
		level := rows[0].After
		for _, row := range rows[1:] {
			level += row.Delta
			if math.Abs(level-row.After) > 1e-12 {
				t.Errorf("%s: %q leads to %.6f T, the ledger says %.6f T", layout, row.What, level, row.After)
			}
		}
		if gap := r3.Norm(r3.Vec{X: r.GapB[0], Y: r.GapB[1], Z: r.GapB[2]}); math.Abs(level-gap) > 1e-12 {
			t.Errorf("%s: the ledger ends at %.6f T, the gap has %.6f T", layout, level, gap)
		}
		for _, row := range rows[1:] {
			if row.Delta > 1e-4 {
				t.Errorf("%s: %q gains %.4f T; a loss was expected", layout, row.What, row.Delta)
			}
		}
	}
}

const bare = `format = 1
title = "two blocks"
[target]
region = { shape = "sphere", diameter = "8 mm", center = ["0 mm","0 mm","0 mm"] }
[[magnet]]
name = "upper"
shape = "block"
size = ["50 mm","50 mm","25 mm"]
center = ["0 mm","0 mm","27.5 mm"]
magnetized = [0,0,1]
remanence = "1.3 T"
recoil = RECOIL
[[magnet]]
name = "lower"
shape = "block"
size = ["50 mm","50 mm","25 mm"]
center = ["0 mm","0 mm","-27.5 mm"]
magnetized = [0,0,1]
remanence = "1.3 T"
recoil = RECOIL
[[probe]]
name = "centre"
at = ["0 mm","0 mm","0 mm"]
`

// Two blocks of 50 x 50 x 25 mm, 1.30 T, gap 30 mm, without recoil: the gap field 0.448041 T and the force 123.783 N are closed forms
// (charged sheets; Akoun and Yonnet 1984 for the force), evaluated independently to the digits given. Tolerance: those digits.
func TestFreeFieldMethod(t *testing.T) {
	r := run(t, read(t, strings.ReplaceAll(bare, "RECOIL", "1.0")), Options{Halves: []Plane{{Axis: 2}}}).Result
	if r.Solver.Method != "free-field" {
		t.Fatalf("method %q", r.Solver.Method)
	}
	if b := r.Probes[0].B[2]; math.Abs(b-0.448041) > 1e-6 {
		t.Errorf("gap field %.7f T, the closed form gives 0.448041 T", b)
	}
	for what, f := range map[string]float64{"on the upper magnet": r.Parts[0].Force[2], "on the half": r.Halves[0].Force[2], "on the lower magnet": -r.Parts[1].Force[2]} {
		if math.Abs(f+123.783) > 0.01 {
			t.Errorf("force %s %.4f N, the closed form gives -123.783 N", what, f)
		}
	}
	// 2 x 62.5 cm3 of 1.3 T: 129.3 A m2.
	if m := r.MomentAm2[2]; math.Abs(m-129.3) > 0.1 {
		t.Errorf("moment %.2f A m2, not 129.3", m)
	}
}

// The same pair through the grid: a recoil permeability of 1 within a part in ten million makes it solve, and the closed form is still the
// answer. Tolerance 0.5 % at draft on the field, as the accuracy promises; 1 % on forces.
func TestGridAgreesWithFreeField(t *testing.T) {
	r := run(t, read(t, strings.ReplaceAll(bare, "RECOIL", "1.0000001")), Options{Halves: []Plane{{Axis: 2}}}).Result
	if r.Solver.Method != "3d" {
		t.Fatalf("method %q", r.Solver.Method)
	}
	if b := r.Probes[0].B[2]; math.Abs(b/0.448041-1) > 5e-3 {
		t.Errorf("gap field %.6f T, the closed form gives 0.448041 T", b)
	}
	for what, f := range map[string]float64{"upper": r.Parts[0].Force[2], "half": r.Halves[0].Force[2]} {
		if math.Abs(f/-123.783-1) > 1e-2 {
			t.Errorf("force on the %s %.3f N, the closed form gives -123.783 N", what, f)
		}
	}
	src := freefield.Sources{}
	for _, z := range []float64{-0.0275, 0.0275} {
		src = append(src, freefield.Magnet{Solid: shape.Block{Size: r3.Vec{X: .05, Y: .05, Z: .025}}, Place: shape.Placement{Center: r3.Vec{Z: z}, Rot: shape.Identity()}, Polarization: r3.Vec{Z: 1.3}})
	}
	// On the axis, the reach of 0.5 mT by bisection of the closed form.
	lo, hi := 0.1, 1.0
	for range 60 {
		if mid := (lo + hi) / 2; src.B(r3.Vec{Z: mid}).Z > 0.5e-3 {
			lo = mid
		} else {
			hi = mid
		}
	}
	if reach := r.Stray[0].Reach.Z; math.Abs(reach/lo-1) > 5e-3 {
		t.Errorf("0.5 mT reaches %.4f m along z, the closed form %.4f m", reach, lo)
	}
}

// Reversing all magnets reverses the field and leaves the forces; the same design moved off the origin is the same magnet.
func TestReversedAndMoved(t *testing.T) {
	d := template(t, "framed-pair")
	plain := run(t, d, Options{NoLedger: true}).Result
	for i := range d.Magnets {
		d.Magnets[i].Direction = r3.Scale(-1, d.Magnets[i].Direction)
	}
	back := run(t, d, Options{NoLedger: true}).Result
	if math.Abs(plain.GapB[2]+back.GapB[2]) > 1e-6*plain.GapB[2] {
		t.Errorf("reversed: %.7f T and %.7f T", plain.GapB[2], back.GapB[2])
	}
	if a, b := plain.Parts[0].Force[2], back.Parts[0].Force[2]; math.Abs(a-b) > 1e-4*math.Abs(a) {
		t.Errorf("reversed: forces %.4f N and %.4f N", a, b)
	}
	d = template(t, "framed-pair")
	shift := r3.Vec{X: 0.013, Y: -0.027, Z: 0.041}
	for _, p := range d.Parts() {
		p.Place.Center = r3.Add(p.Place.Center, shift)
	}
	d.Target.Region.Center = r3.Add(d.Target.Region.Center, shift)
	d.Probes, d.Sections = nil, nil
	moved := run(t, d, Options{NoLedger: true}).Result
	if math.Abs(moved.GapB[2]/plain.GapB[2]-1) > 1e-6 {
		t.Errorf("moved: %.7f T and %.7f T", plain.GapB[2], moved.GapB[2])
	}
	if len(moved.Solver.Symmetry) != 3 {
		t.Errorf("moved: symmetry %v", moved.Solver.Symmetry)
	}
}

// What this version does not solve is refused with line and key.
func TestRefused(t *testing.T) {
	crossed := strings.ReplaceAll(bare, "RECOIL", "1.05")
	for _, axis := range []string{"x", "y"} {
		crossed += fmt.Sprintf(`[[wound]]
name = "spool %s"
core = { size = ["30 mm","30 mm","30 mm"], center = ["%d mm","0 mm","0 mm"] }
axis = %q
width = "30 mm"
build = "5 mm"
wire = { diameter = "1 mm" }
packing = 0.7
material = "annealed-wire"
`, axis, map[string]int{"x": 80, "y": 160}[axis], axis)
	}
	_, err := Run(context.Background(), read(t, crossed), Options{Accuracy: Draft})
	var e *mistake.Error
	if !errors.As(err, &e) || e.Line == 0 || e.Key != "wound.spool x" || e.Hint == "" {
		t.Errorf("crossed spools: %v", err)
	}
	// A plane through a magnet that does not follow the grid.
	turned := strings.Replace(strings.ReplaceAll(bare, "RECOIL", "1.05"), "magnetized = [0,0,1]\n", "magnetized = [0,0,1]\nrotate = [\"10 deg\",\"20 deg\",\"0 deg\"]\n", 1)
	_, err = Run(context.Background(), read(t, turned), Options{Accuracy: Draft, NoLedger: true, Halves: []Plane{{Axis: 2, AtM: 0.0275}}})
	if err == nil || !strings.Contains(err.Error(), "cuts the magnet") {
		t.Errorf("plane through a turned magnet: %v", err)
	}
}

// A solve ends soon after it is told to.
func TestCancelled(t *testing.T) {
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	if _, err := Run(ctx, template(t, "framed-pair"), Options{Accuracy: Draft}); !errors.Is(err, context.Canceled) {
		t.Errorf("got %v", err)
	}
}

// A film of air in the joints costs what the series circuit says: 0.2 mm in each of the two joints of the wound pair's magnets, against
// magnets of 2 x 20 mm and a gap of 18 mm, lowers the field by at least that of the unleaking circuit, delta/(g + Lm/mu_rec), and by less
// than twice that (common practice, no source, for the formula; leakage only adds to it).
func TestJointsCostField(t *testing.T) {
	gap := func(thickness float64) float64 {
		d := template(t, "framed-pair")
		joints := d.Joints
		d.Joints = nil
		for _, j := range joints {
			if j.Between[0] == "upper" || j.Between[0] == "lower" {
				j.ThicknessM = thickness
				d.Joints = append(d.Joints, j)
			}
		}
		if len(d.Joints) != 2 {
			t.Fatalf("%d joints at the magnets", len(d.Joints))
		}
		return run(t, d, Options{NoLedger: true}).Result.GapB[2]
	}
	thin, thick := gap(0.01e-3), gap(0.21e-3)
	loss := 1 - thick/thin
	circuit := 0.4e-3 / (18e-3 + 40e-3/1.05)
	if loss < circuit || loss > 2*circuit {
		t.Errorf("0.2 mm more in both joints costs %.3f %%, the series circuit %.3f %%", 100*loss, 100*circuit)
	}
}

// The ledger's series circuit is the handbook's B = Br/(1 + mu_rec g/Lm) with equal sections and no leakage (Parker and Campbell style load
// line, common practice, no source): N42, 1.30 T and 1.05, two magnets of 20 mm and a gap of 18 mm. Tolerance: the step of the look along
// the line, 0.03 mm of 40 mm at each of the four faces.
func TestLedgerSeriesCircuit(t *testing.T) {
	for _, row := range run(t, template(t, "framed-pair"), Options{}).Result.Ledger.Rows {
		if row.What != "length of the gap" {
			continue
		}
		if want := 1.30 / (1 + 1.05*18/40); math.Abs(row.After/want-1) > 2e-3 {
			t.Errorf("series circuit %.5f T, the formula gives %.5f T", row.After, want)
		}
		return
	}
	t.Error("no row for the length of the gap")
}

// A section's area is that of the part, its flux the mean times the area, and the flux that leaves the upper back plate's middle to both
// sides is no less than that of the legs' middles, to which leakage is lost on the way. The leg: 60 x 12 mm. The back: 60 x 20 mm.
func TestSections(t *testing.T) {
	s := map[string]int{}
	r := run(t, template(t, "framed-pair"), Options{NoLedger: true}).Result
	for i, x := range r.Sections {
		s[x.Name] = i
		want := map[string]float64{"leg": 60e-3 * 12e-3, "back": 60e-3 * 20e-3}[x.Name]
		if math.Abs(x.Area/want-1) > 1e-9 {
			t.Errorf("%s: area %g m2, want %g", x.Name, x.Area, want)
		}
		if math.Abs(x.Flux-x.MeanB*want) > 1e-12 {
			t.Errorf("%s: flux %g Wb of %g T", x.Name, x.Flux, x.MeanB)
		}
	}
	leg, back := math.Abs(r.Sections[s["leg"]].Flux), math.Abs(r.Sections[s["back"]].Flux)
	if len(s) != 2 || leg > back {
		t.Errorf("the leg carries %.4g Wb, the back %.4g Wb", leg, back)
	}
}
