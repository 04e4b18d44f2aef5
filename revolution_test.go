package polewright

import (
	"context"
	"fmt"
	"math"
	"strings"
	"testing"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"

	"polewright/axisymmetric"
	"polewright/freefield"
	"polewright/result"
	"polewright/shape"
)

// roundPart writes a part whose axis is the given one, its centre at z along it through the point (3, -4, 5) mm.
func roundPart(kind, name, axis, sizes string, z float64, rest string) string {
	at := map[string]string{
		"x": fmt.Sprintf(`["%g mm", "-4 mm", "5 mm"]`, 3+z),
		"y": fmt.Sprintf(`["3 mm", "%g mm", "5 mm"]`, z-4),
		"z": fmt.Sprintf(`["3 mm", "-4 mm", "%g mm"]`, 5+z),
	}[axis]
	return fmt.Sprintf("[[%s]]\nname = %q\naxis = %q\n%s\ncenter = %s\n%s\n", kind, name, axis, sizes, at, rest)
}

func discSizes(d, t float64) string {
	return fmt.Sprintf("shape = \"disc\"\ndiameter = \"%g mm\"\nthickness = \"%g mm\"", d, t)
}

func ringSizes(outer, inner, t float64) string {
	return fmt.Sprintf("shape = \"ring\"\nouter_diameter = \"%g mm\"\ninner_diameter = \"%g mm\"\nthickness = \"%g mm\"", outer, inner, t)
}

func along(axis string) string {
	return map[string]string{"x": "[1, 0, 0]", "y": "[0, 1, 0]", "z": "[0, 0, 1]"}[axis]
}

// roundPot is a closed round yoke about two facing discs, with joints.
func roundPot(axis string) string {
	n42 := "grade = \"N42\"\ncoating = \"0.02 mm\"\nmagnetized = " + along(axis)
	steel := `material = "steel-1018"`
	return "format = 1\ntitle = \"pot\"\n" +
		roundPart("magnet", "upper", axis, discSizes(50, 20), 20, n42) + roundPart("magnet", "lower", axis, discSizes(50, 20), -20, n42) +
		roundPart("steel", "top", axis, discSizes(100, 15), 37.5, steel) + roundPart("steel", "bottom", axis, discSizes(100, 15), -37.5, steel) +
		roundPart("steel", "wall", axis, ringSizes(100, 80, 60), 0, steel) +
		"[[joint]]\nbetween = [\"upper\", \"top\"]\nthickness = \"0.05 mm\"\n"
}

func plainPot(axis string) string {
	text, _, _ := strings.Cut(roundPot(axis), "[[joint]]")
	return strings.ReplaceAll(text, "coating = \"0.02 mm\"\n", "")
}

func facingDiscs(axis string) string {
	n42 := "grade = \"N42\"\nmagnetized = " + along(axis)
	steel := `material = "steel-1018"`
	return "format = 1\n" + roundPart("magnet", "upper", axis, discSizes(50, 20), 20, n42) + roundPart("magnet", "lower", axis, discSizes(50, 20), -20, n42) +
		roundPart("steel", "top", axis, discSizes(60, 10), 35, steel) + roundPart("steel", "bottom", axis, discSizes(60, 10), -35, steel)
}

func trimCoil(axis string) string {
	return roundPart("coil", "trim", axis, "shape = \"ring\"\nouter_diameter = \"78 mm\"\ninner_diameter = \"60 mm\"", 0, "height = \"10 mm\"\nampere_turns = \"1500 A\"")
}

// The half plane and the grid in three dimensions, each by its own elements, agree on the gap field within the sum of both error estimates, and
// on what else the grid's draft gives: 1 % of forces and of mean |B|, 0.3 % of moments and mean fields.
func TestRevolutionAgreesWithGrid(t *testing.T) {
	for _, c := range []struct{ name, text string }{
		{"pot", roundPot("z")}, {"facing discs", facingDiscs("z")}, {"pot with trim coil", plainPot("z") + trimCoil("z")},
	} {
		t.Run(c.name, func(t *testing.T) {
			d := read(t, c.text)
			use := condition{temperatureC: workingTemperature(d), joints: true}
			o := Options{Accuracy: Draft, Halves: []Plane{{2, 0.005}, {0, 0.003}}}
			silent := func(string, float64) {}
			a, err := newAssembly(d)
			if err != nil {
				t.Fatal(err)
			}
			var e, g result.Solver
			grid, err := a.solve(context.Background(), use, o, silent, &g)
			if err != nil {
				t.Fatal(err)
			}
			v, ok := a.revolution(o.Halves)
			if !ok {
				t.Fatal("it is not recognized")
			}
			round, err := v.solve(context.Background(), use, o, silent, &e)
			if err != nil {
				t.Fatal(err)
			}
			gap := func(f fieldOf) float64 { return f.Gap(a.center, 0.003)(a.center).Z }
			if diff := 100 * math.Abs(gap(round)/gap(grid)-1); diff > e.EstimatedError+g.EstimatedError || e.EstimatedError > 0.5 {
				t.Errorf("gap fields %.6f T and %.6f T differ by %.3f %%; the estimates are %.3f %% and %.3f %%", gap(round), gap(grid), diff, e.EstimatedError, g.EstimatedError)
			}
			close := func(what string, got, want, scale, tolerance float64) {
				t.Helper()
				if math.Abs(got-want) > tolerance*scale {
					t.Errorf("%s: %.5g in the half plane, %.5g on the grid", what, got, want)
				}
			}
			for _, h := range o.Halves {
				x, err := round.Half(h)
				if err != nil {
					t.Fatal(err)
				}
				y, err := grid.Half(h)
				if err != nil {
					t.Fatal(err)
				}
				close("force across "+h.String(), r3.Norm(x), r3.Norm(y), r3.Norm(y), 0.01)
				close("its sense", *component(&x, h.Axis), *component(&y, h.Axis), r3.Norm(y), 0.01)
			}
			bodies, others := round.Bodies(), grid.Bodies()
			for i := range bodies {
				x, y := bodies[i], others[i]
				close("moment", x.Moment.Z, y.Moment.Z, math.Max(math.Abs(y.Moment.Z), 1), 3e-3)
				if a.coil(i) == nil {
					close("mean B", x.MeanB.Z, y.MeanB.Z, y.MeanB1, 3e-3)
					close("mean |B|", x.MeanB1, y.MeanB1, y.MeanB1, 0.01)
				}
			}
			for _, p := range []r3.Vec{{X: 0.033, Y: -0.004, Z: 0.008}, {X: 0.003, Y: 0.1, Z: 0.05}, {X: -0.01, Y: -0.01, Z: 0.03}} {
				x, _ := round.At(p)
				y, _ := grid.At(p)
				// Of a draft beside the gap; what leaks out of a closed pot is a ten-thousandth of the gap field. A turned vector is far off.
				if r3.Norm(r3.Sub(x, y)) > 0.03*r3.Norm(y)+2e-4*gap(grid) {
					t.Errorf("B at %v: %v in the half plane, %v on the grid", p, x, y)
				}
			}
			if f, _ := round.Forces(); a.coil(len(f)-1) != nil {
				h, _ := grid.Forces()
				close("force on the coil", f[len(f)-1].Z, h[len(h)-1].Z, math.Max(math.Abs(f[0].Z), 1), 0.01)
			}
		})
	}
}

// Discs and rings by themselves against their closed forms (package freefield: Derby and Olbert 2010), everywhere but within a tenth of the
// thickness from an edge, where the field has no bound. At the density of the standard accuracy: rms 1e-4 of the field, and nowhere 2e-3; the
// force between two 5e-4.
func TestRevolutionAgainstClosedForms(t *testing.T) {
	section := func(s shape.Ring, z float64) shape.Loop {
		in, out, h := s.InnerDiameter/2, s.OuterDiameter/2, s.Thickness/2
		return corners(r2.Vec{X: in, Y: z - h}, r2.Vec{X: out, Y: z - h}, r2.Vec{X: out, Y: z + h}, r2.Vec{X: in, Y: z + h})
	}
	for _, c := range []struct {
		name  string
		rings []shape.Ring
	}{
		{"disc", []shape.Ring{{OuterDiameter: 0.04, Thickness: 0.008}}},
		{"ring", []shape.Ring{{OuterDiameter: 0.04, InnerDiameter: 0.016, Thickness: 0.008}}},
		{"ring over disc", []shape.Ring{{OuterDiameter: 0.04, InnerDiameter: 0.01, Thickness: 0.01}, {OuterDiameter: 0.03, Thickness: 0.008}}},
	} {
		t.Run(c.name, func(t *testing.T) {
			p := &axisymmetric.Problem{Turn: shape.Identity(), Levels: 2, Density: Standard.density}
			var sources freefield.Sources
			for i, s := range c.rings {
				z := 0.01 - 0.022*float64(i)
				j := 1.3 - 0.2*float64(i)
				p.Bodies = append(p.Bodies, axisymmetric.Body{Name: "ring", Section: section(s, z), Medium: axisymmetric.Medium{Radial: 1, Axial: 1, Polarization: axisymmetric.Vec{0, j}}})
				var solid shape.Solid = s
				if s.InnerDiameter == 0 {
					solid = shape.Disc{Diameter: s.OuterDiameter, Thickness: s.Thickness}
				}
				sources = append(sources, freefield.Magnet{Solid: solid, Place: shape.Placement{Center: r3.Vec{Z: z}, Rot: shape.Identity()}, Polarization: r3.Vec{Z: j}})
			}
			_, f, err := axisymmetric.Solve(context.Background(), p, nil)
			if err != nil {
				t.Fatal(err)
			}
			var worst, sum float64
			n := 0
			for i := range 24 {
				for k := range 30 {
					x := r3.Vec{X: 0.0007 + 0.0019*float64(i), Z: -0.04 + 0.0029*float64(k)}
					near := math.Inf(1)
					for _, b := range p.Bodies {
						for _, e := range b.Section {
							if e.A.X > 0 {
								near = math.Min(near, math.Hypot(x.X-e.A.X, x.Z-e.A.Y))
							}
						}
					}
					if near < 0.001 {
						continue
					}
					b, _ := f.At(x)
					e := r3.Norm(r3.Sub(b, sources.B(x))) / math.Max(r3.Norm(sources.B(x)), 1e-3)
					worst = math.Max(worst, e)
					sum += e * e
					n++
				}
			}
			if rms := math.Sqrt(sum / float64(n)); rms > 2e-4 || worst > 3e-3 {
				t.Errorf("over %d points the error is %.1e rms, %.1e at worst", n, rms, worst)
			}
			if len(sources) > 1 {
				force, _ := f.Forces()
				want, _ := sources[1:].Force(sources[0])
				if math.Abs(force[0]-want.Z) > 5e-4*math.Abs(want.Z) || math.Abs(force[0]+force[1]) > 1e-3*math.Abs(want.Z) {
					t.Errorf("forces %v N, the closed form gives %g N", force, want.Z)
				}
			}
		})
	}
}

// An assembly along any axis, through any point, is recognized and gives the same figures.
func TestRevolutionAlongAnyAxis(t *testing.T) {
	var want *result.Result
	for i, axis := range []string{"z", "x", "y"} {
		tip := fmt.Sprintf("shape = \"frustum\"\nbottom_diameter = \"50 mm\"\ntop_diameter = \"%g mm\"\nheight = \"5 mm\"", 30.0)
		turn := map[string]string{"z": `["180 deg", "0 deg", "0 deg"]`, "x": `["0 deg", "180 deg", "0 deg"]`, "y": `["0 deg", "0 deg", "180 deg"]`}[axis]
		text := roundPot(axis) + trimCoil(axis) + roundPart("steel", "lower tip", axis, tip, -7.5, `material = "pure-iron"`) +
			roundPart("steel", "upper tip", axis, tip, 7.5, "material = \"pure-iron\"\nrotate = "+turn) +
			fmt.Sprintf("[[section]]\nname = \"wall\"\npart = \"wall\"\nplane = %q\nat = \"%g mm\"\n", axis, []float64{5, 3, -4}[i])
		k := (i + 2) % 3
		across := (k + 1) % 3
		middle := []float64{0.003, -0.004, 0.005}
		s := run(t, read(t, text), Options{Halves: []Plane{{k, middle[k]}, {across, middle[across]}}, NoLedger: i > 0, NoDemagnetization: i > 0})
		r := s.Result
		if r.Solver.Method != "axisymmetric" || len(r.Solver.Symmetry) != 2 { // the joint has no image
			t.Fatalf("along %s: %+v", axis, r.Solver)
		}
		if i == 0 {
			want = r
			// The tips gather the field: more than the 0.72 T of the pot without them, and less than their iron saturates at.
			if r.GapB[2] < 0.8 || r.GapB[2] > 1.2 {
				t.Errorf("%g T in the gap", r.GapB[2])
			}
			if want.Ledger == nil || want.Demagnetization == nil {
				t.Error("ledger or demagnetization is missing")
			}
			continue
		}
		same := func(what string, got, want float64) {
			t.Helper()
			if math.Abs(got-want) > 1e-6*math.Abs(want)+1e-12 {
				t.Errorf("along %s, %s: %.8g, along z %.8g", axis, what, got, want)
			}
		}
		same("gap", r.GapB[k], want.GapB[2])
		same("moment", r.MomentAm2[k], want.MomentAm2[2])
		same("section", r.Sections[0].Flux, want.Sections[0].Flux)
		same("area", r.Sections[0].Area, math.Pi/4*(0.1*0.1-0.08*0.08))
		same("half", r.Halves[0].Force[k], want.Halves[0].Force[2])
		same("half across", r.Halves[1].Force[across], want.Halves[1].Force[0])
		for p := range r.Parts {
			if want.Parts[p].Force[2] != 0 && math.Abs(r.Parts[p].Force[k]-want.Parts[p].Force[2]) > 1e-6*math.Abs(want.Parts[0].Force[2]) {
				t.Errorf("force on %s along %s: %v, along z %v", r.Parts[p].Name, axis, r.Parts[p].Force, want.Parts[p].Force)
			}
		}
	}
}

// What is no body of revolution about one axis, magnetized along it, goes to the grid.
func TestNotOfRevolution(t *testing.T) {
	base := facingDiscs("z")
	for _, c := range []struct {
		name, text string
		halves     []Plane
		want       bool
	}{
		{"as it is", base, nil, true},
		{"half through the axis", base, []Plane{{1, -0.004}}, true},
		{"half beside the axis", base, []Plane{{1, 0}}, false},
		{"off the axis", strings.Replace(base, `["3 mm", "-4 mm", "40 mm"]`, `["4 mm", "-4 mm", "40 mm"]`, 1), nil, false},
		{"magnetized across", strings.Replace(base, "[0, 0, 1]", "[1, 0, 0]", 1), nil, false},
		{"tilted", base + roundPart("steel", "tilted", "z", discSizes(20, 5), 80, "rotate = [\"1 deg\", \"0 deg\", \"0 deg\"]\nmaterial = \"steel-1018\""), nil, false},
		{"block", base + "[[steel]]\nname = \"block\"\nshape = \"block\"\nsize = [\"5 mm\",\"5 mm\",\"5 mm\"]\ncenter = [\"3 mm\",\"-4 mm\",\"60 mm\"]\nmaterial = \"steel-1018\"\n", nil, false},
		{"half a ring", base + roundPart("steel", "half", "z", "shape = \"wedge\"\nouter_diameter = \"60 mm\"\ninner_diameter = \"40 mm\"\nthickness = \"5 mm\"\nfrom = \"0 deg\"\nto = \"180 deg\"", 60, `material = "steel-1018"`), nil, false},
		{"spacer", base + roundPart("spacer", "shim", "x", discSizes(5, 1), 100, `material = "aluminium"`), nil, true},
	} {
		a, err := newAssembly(read(t, c.text))
		if err != nil {
			t.Fatalf("%s: %v", c.name, err)
		}
		if _, ok := a.revolution(c.halves); ok != c.want {
			t.Errorf("%s: recognized %v, want %v", c.name, ok, c.want)
		}
	}
}

// A joint between steel parts is a film: with one the gap field falls, by what a gap of its thickness in a series circuit takes off at least.
// The film lies in the ring, whose whole face it covers, not in the plate.
func TestRevolvedJoint(t *testing.T) {
	text := plainPot("z") + "[[joint]]\nbetween = [\"top\", \"wall\"]\nthickness = \"0.5 mm\"\n"
	d := read(t, text)
	a, err := newAssembly(d)
	if err != nil {
		t.Fatal(err)
	}
	v, ok := a.revolution(nil)
	if !ok {
		t.Fatal("not recognized")
	}
	p := v.problem(condition{joints: true, temperatureC: 20}, 0.6, nil)
	for i, b := range p.Bodies {
		want := 0
		if a.parts[i].Name == "wall" {
			want = 1
		}
		if len(b.Medium.Films) != want {
			t.Errorf("%s has %d films, want %d", b.Name, len(b.Medium.Films), want)
		}
		for _, f := range b.Medium.Films {
			if math.Abs(f.Share*(f.Max[1]-f.Min[1])-0.5e-3) > 1e-12 || f.Min[0] != 0.04 || f.Max[0] != 0.05 {
				t.Errorf("the film is %+v", f)
			}
		}
	}
	with := run(t, d, Options{NoLedger: true, NoDemagnetization: true}).Result.GapB[2]
	without := run(t, read(t, plainPot("z")), Options{NoLedger: true, NoDemagnetization: true}).Result.GapB[2]
	if loss := without - with; loss < 1e-3*without || loss > 0.05*without {
		t.Errorf("a joint of 0.5 mm takes %g T of %g T", loss, without)
	}
}
