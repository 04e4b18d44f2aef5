package polewright

import (
	"context"
	"errors"
	"math"
	"slices"
	"strings"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"
	"pgregory.net/rapid"

	"polewright/buildorder"
	"polewright/design"
	"polewright/freefield"
	"polewright/mistake"
	"polewright/result"
	"polewright/shape"
)

func assembled(t *testing.T, d *design.Design, o AssemblyOptions) *result.Assembly {
	t.Helper()
	r, err := RunAssembly(context.Background(), d, o)
	if err != nil {
		t.Fatal(err)
	}
	return r
}

// freePair is two blocks of 50 x 50 x 25 mm and 1.3 T, no recoil, that attract each other over a gap of 2 mm.
const freePair = `format = 1
title = "free pair"
[[magnet]]
name = "upper"
shape = "block"
size = ["50 mm", "50 mm", "25 mm"]
center = ["0 mm", "0 mm", "13.5 mm"]
magnetized = [0, 0, 1]
remanence = "1.3 T"
recoil = 1
[[magnet]]
name = "lower"
shape = "block"
size = ["50 mm", "50 mm", "25 mm"]
center = ["0 mm", "0 mm", "-13.5 mm"]
magnetized = [0, 0, 1]
remanence = "1.3 T"
recoil = 1
`

// Two blocks alone against the closed form of G. Akoun, J.-P. Yonnet, IEEE Trans. Magn. 20 (1984) 1962, at every distance (rounding); against that
// formula summed up elsewhere with plain arithmetic, about 1 % accurate, to 1.5 %: 573, 394, 212 and 124 N at 5, 10, 20 and 30 mm, 12 J down to 2 mm
// from far away, 7 m/s for 0.47 kg free to move (half a unit of the last digit besides); and against S. Earnshaw, Trans. Camb. Phil. Soc. 7 (1842)
// 97: without steel and recoil the stiffness along the three axes adds up to nothing. There the slope is that of a spline and the offset aside is 2 %
// of the block: 2 %. Aside alone it is the closed form's (rounding).
func TestAssemblyOfFreeBlocks(t *testing.T) {
	d := read(t, freePair)
	r := assembled(t, d, AssemblyOptions{Distances: 12})
	s := r.Steps[len(r.Steps)-1]
	if r.Layout != buildorder.OpenPair || len(s.Way) != 13 || s.Toward != [3]float64{0, 0, -1} {
		t.Fatalf("%s, %+v", r.Layout, s)
	}
	pull := func(gap float64) float64 {
		m := freefield.Magnet{Solid: shape.Block{Size: r3.Vec{X: 0.05, Y: 0.05, Z: 0.025}}, Place: shape.Placement{Rot: shape.Identity()}, Polarization: r3.Vec{Z: 1.3}}
		up := m
		up.Place.Center.Z = 0.025 + gap
		f, _ := freefield.Force(m, up)
		return -f.Z
	}
	for _, w := range s.Way {
		if want := pull(0.002 + w.DistanceM); math.Abs(w.PullN/want-1) > 1e-6 || w.SideN > 1e-6*want {
			t.Errorf("%g m: %g N, want %g N; beside %g N", w.DistanceM, w.PullN, want, w.SideN)
		}
	}
	for gap, want := range map[float64]float64{0.005: 573, 0.01: 394, 0.02: 212, 0.03: 124} {
		if got := pull(gap); math.Abs(got/want-1) > 0.015 {
			t.Errorf("%g m: %g N, want %g N", gap, got, want)
		}
	}
	// From 100 mm on; from there to nowhere the two dipoles of 64.7 A m² have 3 % of it.
	if math.Abs(s.EnergyJ/12-1) > 0.06 || math.Abs(r.Steps[0].MassKg-0.469) > 0.03 || s.FlyingOffJ != 0 {
		t.Errorf("%g J, %g kg, %g J outwards", s.EnergyJ, r.Steps[0].MassKg, s.FlyingOffJ)
	}
	if v := s.SpeedMPerS; math.Abs(v-7) > 0.5 || math.Abs(v-math.Sqrt(2*s.EnergyJ/s.MassKg)) > 1e-9 {
		t.Errorf("%g m/s", v)
	}
	if len(s.Side) != 2 {
		t.Fatalf("side stiffness %+v", s.Side)
	}
	k := s.Way[len(s.Way)-1-sideAt].StiffnessNPerM
	if sum := s.Side[0].StiffnessNPerM + s.Side[1].StiffnessNPerM - k; math.Abs(sum) > 0.02*k || s.Side[0].StiffnessNPerM < 0 {
		t.Errorf("stiffness %g and %g aside, %g along: they leave %g N/m", s.Side[0].StiffnessNPerM, s.Side[1].StiffnessNPerM, -k, sum)
	}
	m := freefield.Magnet{Solid: shape.Block{Size: r3.Vec{X: 0.05, Y: 0.05, Z: 0.025}}, Place: shape.Placement{Rot: shape.Identity()}, Polarization: r3.Vec{Z: 1.3}}
	up := m
	up.Place.Center = r3.Vec{X: sideShareClosed * 0.05, Z: 0.027 + s.Side[0].AtM}
	f, _ := freefield.Force(m, up)
	if want := -f.X / (sideShareClosed * 0.05); math.Abs(s.Side[0].StiffnessNPerM/want-1) > 1e-6 {
		t.Errorf("%g N/m aside, want %g N/m", s.Side[0].StiffnessNPerM, want)
	}
	if r.Dangerous != s.Number || s.JigNPerM != 5*s.Negative || s.Screws.Count != 3 || math.Abs(s.Screws.LoadN-2*s.PeakPullN/3) > 1e-9 {
		t.Errorf("dangerous %d, jig %g of %g N/m, screws %+v", r.Dangerous, s.JigNPerM, s.Negative, s.Screws)
	}
	if a := r.Apart[0]; a.Step != s.Number || math.Abs(a.BeginN-pull(0.002)) > 1e-3 {
		t.Errorf("apart: %+v", a)
	}
}

// The method of images (any textbook): a thick plate of high permeability draws a magnet at the distance d from it as an equal magnet at 2 d would.
// The plate is 8 magnets wide and 2 thick, the field in it far below saturation; its permeability of some hundreds at low field takes
// 2/(mu+1) off, and the grid 1 %: 3 %.
func TestPlateIsAnImage(t *testing.T) {
	d := read(t, `format = 1
title = "magnet over a plate"
[[magnet]]
name = "disc"
shape = "disc"
diameter = "20 mm"
thickness = "10 mm"
axis = "z"
center = ["0 mm", "0 mm", "9 mm"]
magnetized = [0, 0, 1]
remanence = "0.3 T"
recoil = 1
[[steel]]
name = "plate"
shape = "disc"
diameter = "160 mm"
thickness = "20 mm"
axis = "z"
center = ["0 mm", "0 mm", "-10 mm"]
material = "steel-1010"
`)
	r := assembled(t, d, AssemblyOptions{})
	s := r.Steps[len(r.Steps)-1]
	if !r.GeneralRule || s.Toward != [3]float64{0, 0, -1} || len(s.Way) == 0 {
		t.Fatalf("%+v", s)
	}
	for _, w := range s.Way[4:] { // nearer than a tenth of the plate
		m := freefield.Magnet{Solid: shape.Disc{Diameter: 0.02, Thickness: 0.01}, Place: shape.Placement{Rot: shape.Identity()}, Polarization: r3.Vec{Z: 0.3}}
		image := m
		image.Place.Center.Z = -0.01 - 2*(0.004+w.DistanceM)
		f, _ := freefield.Force(image, m)
		t.Logf("%.4g m: %.4g N, image %.4g N", w.DistanceM, w.PullN, -f.Z)
		if e := w.PullN/-f.Z - 1; !(math.Abs(e) < 0.03) {
			t.Errorf("%g m from its place: %g N, the image draws %g N", w.DistanceM, w.PullN, -f.Z)
		}
	}
}

// A round pot: the last place of the last step is the finished magnet, whose group force Run gives; the first is far from it. What each step sets
// free is the difference of the coenergies of its ends. 2 % and 5 %: a draft on a coarser mesh, and nine places.
func TestAssemblyOfPot(t *testing.T) {
	d := template(t, "round-pot")
	r := assembled(t, d, AssemblyOptions{})
	if r.Layout != buildorder.Pot || len(r.Steps) != 5 {
		t.Fatalf("%s, %d steps", r.Layout, len(r.Steps))
	}
	s := r.Steps[4]
	f, err := Run(context.Background(), d, Options{Accuracy: Draft, NoLedger: true, NoDemagnetization: true, Groups: []Group{{Parts: s.Moves}}})
	if err != nil {
		t.Fatal(err)
	}
	want := f.Result.Groups[0].Force
	got := s.Way[len(s.Way)-1]
	t.Logf("closed %.5g N, Run %.5g N", got.Force[2], want[2])
	if math.Abs(got.Force[2]/want[2]-1) > 0.02 || got.PullN != -got.Force[2] || s.Way[0].PullN > 0.1*got.PullN {
		t.Errorf("closed %v N, Run gives %v N; at first %g N", got.Force, want, s.Way[0].PullN)
	}
	for _, i := range []int{1, 3, 4} {
		s := r.Steps[i]
		if s.CoenergyJ == nil || math.Abs(s.EnergyJ / *s.CoenergyJ - 1) > 0.05 {
			t.Errorf("%s: %g J by the force, %v by the coenergy", s.Title, s.EnergyJ, s.CoenergyJ)
		}
	}
	if r.Keeper == nil || r.Keeper.PullN != 0 || math.Abs(r.Keeper.PoleN-r.Keeper.B*r.Keeper.B*r.Keeper.AreaM2/(8e-7*math.Pi)) > 1e-6*r.Keeper.PoleN {
		t.Errorf("keeper %+v", r.Keeper)
	}
	if k := r.Loose[0].Keeper; k == nil || !(k.PullN > 0.5*k.PoleN && k.PullN < 1.2*k.PoleN) || len(r.Loose) != 1 || len(r.Loose[0].Magnets) != 2 {
		t.Errorf("loose %+v", r.Loose)
	}
}

// A thin disc that is warm loses field for good alone in air, before it is ever in a magnet, and the answer says so. What it keeps is that of its load
// line (see TestThinDiscLosesAndLongRodKeeps), 5 %.
func TestLooseThinDisc(t *testing.T) {
	r := assembled(t, alone(t, thinDisc, "N42", `working = "100 degC"`, 5), AssemblyOptions{})
	w := r.Loose[0].State
	m := alone(t, thinDisc, "N42", `working = "100 degC"`, 5).Magnets[0].Material
	want := onLoadLine(m.At(100), 0.680175)
	if math.Abs(w.Kept/want-1) > 0.05 || w.Margin > 0 || len(r.CostsField) == 0 || !strings.Contains(r.CostsField[0], "alone in air") {
		t.Errorf("%+v, the load line keeps %g; %q", w, want, r.CostsField)
	}
	if cold := assembled(t, alone(t, thinDisc, "N42", `working = "20 degC"`, 5), AssemblyOptions{}); len(cold.CostsField) > 0 || cold.Loose[0].State.Margin < 0 {
		t.Errorf("at 20 °C: %q, %+v", cold.CostsField, cold.Loose[0].State)
	}
}

// Both halves of a framed pair are mirror images; a leg is not that of a magnet, and another grade is another magnet.
func TestImages(t *testing.T) {
	d := template(t, "framed-pair")
	lower := stage{moves: []string{"lower"}, among: []string{"bottom back"}, toward: r3.Vec{X: -1}, from: 0.1}
	upper := stage{moves: []string{"upper"}, among: []string{"top back"}, toward: r3.Vec{X: -1}, from: 0.1}
	if sign, ok := imageOf(d, lower, upper); !ok || sign[0] != 1 || sign[2] != -1 {
		t.Errorf("%v %v", sign, ok)
	}
	back := upper
	back.toward = r3.Vec{X: 1}
	if sign, ok := imageOf(d, lower, back); !ok || sign[0] != -1 {
		t.Errorf("from the other side: %v %v", sign, ok)
	}
	leg := upper
	leg.among = []string{"left leg"}
	if _, ok := imageOf(d, lower, leg); ok {
		t.Error("a leg is taken for a back")
	}
	d.Magnets[0].Material.RemanenceT *= 0.99
	if _, ok := imageOf(d, lower, upper); ok {
		t.Error("another magnet is taken for the same")
	}
}

// Stress areas of ISO 898-1 in mm² (from memory), and the trade's torque of 0.2 F d: 700 N on one M12 take 1.7 N m.
func TestScrews(t *testing.T) {
	for i, want := range []float64{20.1, 36.6, 58.0, 84.3, 157, 245, 353, 561} {
		if got := 1e6 * stressArea(metric[i][0], metric[i][1]); math.Abs(got/want-1) > 0.003 {
			t.Errorf("M%g: %.4g mm², want %g", 1e3*metric[i][0], got, want)
		}
	}
	s := screwsFor(700, 1, 5)
	if s.Size != "M12" || math.Abs(s.TorqueNm-1.68) > 1e-12 || s.LoadN != 3500 {
		t.Errorf("%+v", s)
	}
	if s := screwsFor(1e6, 1, 2); !strings.Contains(s.Size, "more") {
		t.Errorf("%+v", s)
	}
}

func TestAssemblyErrors(t *testing.T) {
	d := read(t, freePair)
	for _, o := range []AssemblyOptions{{Distances: 7}, {Screws: -1}, {ScrewFactor: 0.5}, {ScrewFactor: math.NaN()}} {
		if _, err := RunAssembly(context.Background(), d, o); err == nil {
			t.Errorf("%+v: no error", o)
		}
	}
	var nothing *mistake.Error
	if _, err := RunAssembly(context.Background(), read(t, coilPair), AssemblyOptions{}); !errors.As(err, &nothing) {
		t.Errorf("coils alone: %v", err)
	}
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	if _, err := RunAssembly(ctx, template(t, "framed-pair"), AssemblyOptions{}); !errors.Is(err, context.Canceled) {
		t.Errorf("stopped: %v", err)
	}
}

// Places of a group that slides in: so many and its place, falling, none where its edges meet those that stand, two as far before as after that.
func TestSlidingDistances(t *testing.T) {
	for _, n := range []int{8, 9, 20} {
		for _, clear := range []float64{0.012, 0.09} {
			g := stage{from: 0.1, clear: clear}
			list := g.distances(n)
			before, after := false, false
			for i, x := range list {
				before = before || math.Abs(x-clear-g.beside()) < 1e-15
				after = after || math.Abs(x-clear+g.beside()) < 1e-15
				if i > 0 && !(x < list[i-1]) || math.Abs(x-clear) < 0.9*g.beside() {
					t.Errorf("%v do not fall past %g", list, clear)
				}
			}
			if len(list) != n+1 || list[n] != 0 || math.Abs(list[0]-0.1) > 1e-15 || !before || !after {
				t.Errorf("%d: %v", n, list)
			}
		}
	}
}

// slab is a magnet of one charged pair of faces without recoil, for closed forms.
func slab(x, z float64) freefield.Magnet {
	return freefield.Magnet{Solid: shape.Block{Size: r3.Vec{X: 0.04, Y: 0.03, Z: 0.01}}, Place: shape.Placement{Center: r3.Vec{X: x, Z: z}, Rot: shape.Identity()},
		Polarization: r3.Vec{Z: 1.2}}
}

// A peaky way: a block slides along another, a fiftieth of its length above it, and its pull is a plateau with steps of a millimetre at both ends, which
// places some centimetres apart do not see: their curve alone is 4 % off. The energies of the same places, charge in potential, must
// make up for that against the integral of the closed form of the pull (G. Akoun, J.-P. Yonnet, IEEE Trans. Magn. 20 (1984) 1962) at 8000
// places: 0.5 %, for a charge's logarithm at the edges is summed by 12 points a face's side.
func TestEnergyOfPeakyWay(t *testing.T) {
	still := slab(0, -0.0054)
	g := stage{toward: r3.Vec{X: -1}, from: 0.08, clear: 0.04}
	pull := func(x float64) float64 { f, _ := freefield.Force(still, slab(x, 0.0054)); return -f.X }
	at := func(x float64) place {
		p := place{distance: x, pull: pull(x), doubt: closedDoubt * 60, known: true}
		for i, n := range []int{3, 2} {
			p.coenergy[i] = -energyBetween(freefield.Sources{slab(x, 0.0054)}, freefield.Sources{still}, n)
		}
		return p
	}
	var list []place
	for _, x := range g.withEdge(g.distances(leastDistances)) {
		list = append(list, at(x))
	}
	const n = 8000
	want := 0.0
	for i := range n {
		want += pull(g.from*(float64(i)+0.5)/n) * g.from / n
	}
	blind := slices.Clone(list)
	for i := range blind {
		blind[i].known = false
	}
	both, alone := travelOf(list, g.near()), travelOf(blind, g.near())
	last := len(list) - 1
	t.Logf("integral %.5g J, both ways %.5g J, pulls alone %.5g J", want, both.energy[last], alone.energy[last])
	if !(math.Abs(both.energy[last]/want-1) < 0.005) || math.Abs(alone.energy[last]/want-1) < 0.02 || slices.Contains(both.byEnergy[:2], true) {
		t.Errorf("integral %.5g J, both ways %.5g J, pulls alone %.5g J", want, both.energy[last], alone.energy[last])
	}
	thin := slices.DeleteFunc(slices.Clone(list), func(p place) bool { return p.distance > 0 && p.distance < 0.02 })
	if x, near := travelOf(thin, g.near()).next(thin, 0), thin[len(thin)-2].distance; !(x > 0 && x < near) {
		t.Errorf("a place is added at %g m, not within the last %g m where the pulls are off", x, near)
	}
}

// Of two orders the one that sets free less at once is recommended, of likes the one that pulls less, and it says what that costs.
func TestPrefer(t *testing.T) {
	for _, c := range []struct {
		last, first [2]float64 // J, N
		want, why   string
	}{
		{[2]float64{5.4, 683}, [2]float64{8.5, 1822}, "legs last", "at worst it sets free 5.4 J at once against 8.5 J"},
		{[2]float64{9, 683}, [2]float64{5, 1822}, "legs first", "5 J at once against 9 J, though its screws and rails must bear 1820 N against 683 N"},
		{[2]float64{5, 683}, [2]float64{5.2, 500}, "legs first", "the energies are alike, and its largest force is 500 N against 683 N"},
		{[2]float64{5, 683}, [2]float64{4.8, 900}, "legs last", "the energies are alike"},
	} {
		last := result.AssemblyOrder{Name: "legs last", EnergyJ: c.last[0], LargestN: c.last[1]}
		first := result.AssemblyOrder{Name: "legs first", EnergyJ: c.first[0], LargestN: c.first[1]}
		prefer(&last, &first)
		got := last
		if first.Recommended {
			got = first
		}
		if last.Recommended == first.Recommended || got.Name != c.want || !strings.Contains(got.Why, c.why) {
			t.Errorf("%v against %v: %+v, %+v", c.last, c.first, last, first)
		}
	}
}

// Of the two ways the one that is known better is taken. The pull of the law W = W0 exp(-x/10 mm) is W/10 mm: where the stress is off by a third and
// known to be, the energies stand in for it, 3 % between places of 2 mm (the next terms of the parabola, which make sinh(h/L)/(h/L) of it); where it is
// good, it stays.
func TestBetterOfTwoWays(t *testing.T) {
	const w0, length = 5.0, 0.01
	var list []place
	for x := 0.02; x > -1e-9; x -= 0.002 {
		w := w0 * math.Exp(-x/length)
		p := place{distance: math.Max(0, x), pull: w / length, doubt: 1e-4 * w / length, coenergy: [2]float64{w, w - 0.3 - 1e-3*w}, known: true}
		if x > 0.007 && x < 0.013 {
			p.pull, p.doubt = 1.33*p.pull, 0.3*p.pull
		}
		list = append(list, p)
	}
	o := travelOf(list, 0)
	for i, p := range list {
		bad := p.doubt > 1
		want := w0 * math.Exp(-p.distance/length) / length
		if o.byEnergy[i] != bad || math.Abs(o.pull[i]/want-1) > 0.03 {
			t.Errorf("%g m: %g N by energy %v, want %g N", p.distance, o.pull[i], o.byEnergy[i], want)
		}
		const h = 0.002
		if parabola := want * math.Sinh(h/length) / (h / length); bad && math.Abs(o.pull[i]/parabola-1) > 1e-9 {
			t.Errorf("%g m: %g N, the slope of the parabola is %g N", p.distance, o.pull[i], parabola)
		}
	}
	if want := w0 * (1 - math.Exp(-2)); math.Abs(o.energy[len(list)-1]/want-1) > 0.01 {
		t.Errorf("%g J, want %g J", o.energy[len(list)-1], want)
	}
}

// A rim of 0.5 mm on a tip becomes a layer of its volume, and a tip that stands still a disc; volumes, the face at the magnet and what moves stay.
func TestPlainTips(t *testing.T) {
	d := template(t, "pole-tips")
	volume := func(d *design.Design) (v float64) {
		for _, s := range d.Steels {
			v += s.Solid.Volume()
		}
		return v
	}
	still, alone := plainTips(d, []string{"left leg"}), plainTips(d, []string{"lower tip", "lower rim"})
	tip, moved := steelNamed(still, "lower tip"), steelNamed(alone, "lower tip")
	if _, disc := tip.Solid.(shape.Disc); !disc || len(still.Steels) != len(d.Steels)-2 || len(alone.Steels) != len(still.Steels) {
		t.Fatalf("%v, %d of %d steels", tip.Solid, len(still.Steels), len(d.Steels))
	}
	if _, cone := moved.Solid.(shape.Frustum); !cone {
		t.Errorf("%v", moved.Solid)
	}
	// A taller cone of the same faces holds a little more than the cone and the rim's volume.
	if v, w := volume(still), volume(d); math.Abs(v/w-1) > 1e-3 {
		t.Errorf("%g m³, were %g m³", v, w)
	}
	before, after := steelNamed(d, "lower tip"), tip
	if a, b := shape.Bounds(before.Solid, before.Place).Min.Z, shape.Bounds(after.Solid, after.Place).Min.Z; math.Abs(a-b) > 1e-12 {
		t.Errorf("the face at the magnet moves from %g to %g", a, b)
	}
}

// The slope of a pull against closed forms: two dipoles far apart draw each other with 3 mu0 m²/(2 pi r⁴), so that the slope is 4 F/r (J. D. Jackson,
// Classical Electrodynamics, section 5.7, differentiated); two blocks on their axis by Akoun and Yonnet (1984), differenced over a micrometre. Nine places
// as a step has them: 3 % of the steepest.
func TestStiffness(t *testing.T) {
	still := freefield.Magnet{Solid: shape.Block{Size: r3.Vec{X: 0.05, Y: 0.05, Z: 0.025}}, Place: shape.Placement{Rot: shape.Identity()}, Polarization: r3.Vec{Z: 1.3}}
	blocks := func(x float64) float64 {
		up := still
		up.Place.Center.Z = 0.027 + x
		f, _ := freefield.Force(still, up)
		return -f.Z
	}
	const r = 0.5 // m, with moments of 100 A m²
	dipoles := func(x float64) float64 { return 6e-7 * 100 * 100 / math.Pow(r+x, 4) }
	for _, c := range []struct {
		name  string
		pull  func(x float64) float64
		slope func(x float64) float64
	}{
		{"dipoles", dipoles, func(x float64) float64 { return -4 * dipoles(x) / (r + x) }},
		{"blocks", blocks, func(x float64) float64 { return (blocks(x+1e-6) - blocks(x-1e-6)) / 2e-6 }},
	} {
		g := stage{from: 0.1}
		distances := g.distances(leastDistances)
		var pull []float64
		for _, x := range distances {
			pull = append(pull, c.pull(x))
		}
		_, slope := wayOf(distances, pull, g.near())
		steepest := c.slope(0)
		for i, x := range distances {
			want := c.slope(x)
			t.Logf("%s at %.2f mm: %.5g N/m, closed form %.5g N/m", c.name, 1e3*x, slope[i], want)
			if math.Abs(slope[i]-want) > 0.03*math.Abs(steepest) {
				t.Errorf("%s at %.2f mm: %.5g N/m, closed form %.5g N/m", c.name, 1e3*x, slope[i], want)
			}
		}
	}
}

// A pull that leaps up over the last half millimetre, as on contact: a curve that swings would fall before it. Of any pulls: where they rise so
// does the curve, and the energy of each step lies between those of its two pulls.
func TestStiffnessDoesNotSwing(t *testing.T) {
	leap := stage{from: 0.1}
	distances := leap.distances(leastDistances)
	var pull []float64
	for _, x := range distances {
		pull = append(pull, 100/(1+x/0.05)+900*math.Exp(-x/3e-4))
	}
	steady := func(t interface{ Errorf(string, ...any) }, distances, pull []float64, near float64) {
		energy, slope := wayOf(distances, pull, near)
		for i := range distances[1:] {
			h, low, high := distances[i]-distances[i+1], math.Min(pull[i], pull[i+1]), math.Max(pull[i], pull[i+1])
			if e := energy[i+1] - energy[i]; e < h*low-1e-6 || e > h*high+1e-6 {
				t.Errorf("from %g to %g m: %g J of %g to %g N", distances[i], distances[i+1], e, low, high)
			}
			for _, k := range []int{i, i + 1} {
				if slope[k]*(pull[i+1]-pull[i]) > 0 {
					t.Errorf("at %g m the pull goes %g N/m, against the places beside it: %v", distances[k], slope[k], pull)
				}
			}
		}
	}
	steady(t, distances, pull, leap.near())
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(fewestSteps, 12).Draw(t, "steps")
		var pull []float64
		for range n + 1 {
			pull = append(pull, rapid.Float64Range(-1e3, 1e3).Draw(t, "pull"))
		}
		if rapid.Bool().Draw(t, "rising") {
			slices.Sort(pull)
		}
		g := stage{from: 0.1}
		if n >= leastDistances && rapid.Bool().Draw(t, "slides") {
			g.clear = 0.06
		}
		steady(t, g.distances(n), pull, g.near())
	})
}

func BenchmarkAssembly(b *testing.B) {
	d := template(b, "round-pot")
	for b.Loop() {
		if _, err := RunAssembly(context.Background(), d, AssemblyOptions{}); err != nil {
			b.Fatal(err)
		}
	}
}
