package safety

import (
	"flag"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"gonum.org/v1/gonum/integrate/quad"
	"gonum.org/v1/gonum/spatial/r3"
	"pgregory.net/rapid"

	"polewright/material"
)

var update = flag.Bool("update", false, "write the golden files anew")

func near(t *testing.T, what string, got, want, relative float64) {
	t.Helper()
	if !(math.Abs(got-want) <= relative*math.Abs(want)) {
		t.Errorf("%s: got %.9g, want %.9g within %g of it", what, got, want, relative)
	}
}

// The published values, as printed by the sources that Limits names. Field strengths in air are turned to flux density by
// mu0, so that 0.159 A/m is 199.8 nT (printed: 200 nT) and 0.418 A/m is 525.3 nT (printed: 525 nT).
func TestLimits(t *testing.T) {
	want := map[string]struct {
		fieldT float64
		memory bool
	}{
		"air-not-regulated": {199.8e-9, false},
		"air-forbidden":     {525.3e-9, false},
		"electron-optics":   {1e-4, false},  // 1 gauss
		"implant":           {5e-4, false},  // 5 gauss
		"implant-action":    {5e-4, true},   //
		"implant-0.9":       {9e-4, false},  //
		"implant-immunity":  {1e-3, false},  //
		"cards-watches":     {1e-3, false},  // 10 gauss
		"magnetic-storage":  {2e-3, false},  // 20 gauss
		"projectile":        {3e-3, false},  // 30 gauss
		"projectile-action": {3e-3, true},   //
		"transformers":      {5e-3, false},  // 50 gauss
		"stripe-low":        {30e-3, false}, // 300 Oe
		"implant-recovery":  {50e-3, true},  //
		"stripe-high":       {275e-3, true}, // 2750 Oe
		"public":            {0.4, false},   //
		"work-trunk":        {2, false},     //
		"work-limbs":        {8, false},     //
	}
	limits := Limits()
	if len(limits) != len(want) {
		t.Errorf("%d limits, want %d", len(limits), len(want))
	}
	for i, l := range limits {
		w, ok := want[l.Code]
		if !ok {
			t.Errorf("unknown limit %q, or listed twice", l.Code)
			continue
		}
		delete(want, l.Code)
		near(t, l.Code, l.FieldT, w.fieldT, 1e-3) // four printed digits
		if l.FromMemory != w.memory {
			t.Errorf("%s: from memory is %v", l.Code, l.FromMemory)
		}
		if l.What == "" || l.Source == "" || l.Stated == "" {
			t.Errorf("%s: what, source or statement is missing", l.Code)
		}
		if i > 0 && l.FieldT < limits[i-1].FieldT {
			t.Errorf("%s is out of order", l.Code)
		}
		if air := strings.HasPrefix(l.Code, "air-"); air != (l.AtM != 0) {
			t.Errorf("%s: distance of the test is %g m", l.Code, l.AtM)
		}
	}
}

func TestDemagnetizingFactor(t *testing.T) {
	// Bozorth's table of prolate ellipsoids is in package published.
	if got := DemagnetizingFactor(1); got != 1./3 {
		t.Errorf("sphere: %g", got)
	}
	if DemagnetizingFactor(0) != 1 || DemagnetizingFactor(math.Inf(1)) != 0 {
		t.Error("the plate has N = 1 and the needle 0")
	}
	if !math.IsNaN(DemagnetizingFactor(-1)) || !math.IsNaN(DemagnetizingFactor(math.NaN())) {
		t.Error("a ratio below zero has no N")
	}
	// The general ellipsoid, J. C. Maxwell, Treatise (1873) art. 437 and Osborn 1945:
	// N = abc/2 ∫ ds / ((s+a²) √((s+a²)(s+b²)(s+c²))), a = ratio, b = c = 1. With s = a²(1/w²-1) it is smooth; 80 points give 1e-10.
	for _, a := range []float64{0.05, 0.3, 0.9, 0.9989, 0.9991, 1.0009, 1.0011, 1.2, 3, 9.62, 40} {
		want := a / 2 * quad.Fixed(func(w float64) float64 {
			s := a * a * (1/(w*w) - 1)
			ds := 2 * a * a / (w * w * w)
			return ds / (math.Pow(s+a*a, 1.5) * (s + 1))
		}, 0, 1, 400, quad.Legendre{}, 1)
		near(t, fmt.Sprintf("ellipsoid %g", a), DemagnetizingFactor(a), want, 1e-7)
	}
	// The needle's limit joins the closed form.
	near(t, "needle", DemagnetizingFactor(1.0001e6), DemagnetizingFactor(0.9999e6), 5e-4)
}

func TestLoosePull(t *testing.T) {
	// A steel sphere, where N = 1/3: F = 3 V B/mu0 dB/dr (J. D. Jackson, Classical Electrodynamics, 5.11, mu → ∞) until M = Js/mu0, that is B = Js/3.
	const d, density, js = 0.010, 7850.0, 2.1
	volume := math.Pi / 6 * d * d * d
	ball := Tool{Name: "ball", Length: d, MassKg: density * volume, DensityKgPerM3: density, SaturationT: js}
	near(t, "diameter", ball.Diameter(), d, 1e-12)
	near(t, "soft ball", ball.LoosePull(0.1, 5), 3*volume*0.1/material.Mu0*5, 1e-9)
	near(t, "just soft", ball.LoosePull(js/3*0.999, 5), 0.999*volume*js/material.Mu0*5, 1e-9)
	near(t, "saturated", ball.LoosePull(js/3*1.5, 5), volume*js/material.Mu0*5, 1e-9)

	// The spanner: 0.15 kg of steel is 19.1 cm3, a spheroid 15.6 mm thick, ratio 9.62.
	spanner := Tools()[1]
	near(t, "spanner's diameter", spanner.Diameter(), 15.60e-3, 1e-3)
	near(t, "spanner's weight", spanner.WeightN(), 1.4710, 1e-4)
	near(t, "saturated spanner", spanner.LoosePull(1, 10), 0.15/7850*2.15/material.Mu0*10, 1e-9)

	// A handle weighs and is not pulled.
	handled := spanner
	handled.OtherKg = 0.05
	near(t, "handle's weight", handled.WeightN(), 0.2*9.80665, 1e-9)
	near(t, "handle is not pulled", handled.LoosePull(1, 10), spanner.LoosePull(1, 10), 1e-12)

	for _, tool := range Tools() {
		if err := tool.Check(); err != nil {
			t.Error(err)
		}
		// An even gradient makes the spheroid's mean the value at its middle.
		const b0, g = 0.9e-3, 4e-3
		got := tool.PullAt(func(r float64) float64 { return b0 - g*r }, 0.05)
		near(t, tool.Name+", even gradient", got, tool.LoosePull(b0-g*(0.05+tool.Length/2), g), 1e-9)
		// The pull as the sum over slices of magnetization times gradient, near a dipole, by the midpoint rule of 20 000 slices.
		field := func(r float64) float64 { return 2e-5 / (r * r * r) }
		slope := func(r float64) float64 { return 6e-5 / (r * r * r * r) }
		const near0, n = 0.3, 20000
		var mean, pull float64
		for i := range n {
			s := 2*(float64(i)+0.5)/n - 1
			r := near0 + tool.Length/2*(1+s)
			slice := 0.75 * (1 - s*s) * 2 / n // of the volume
			mean += slice * field(r)
			pull += slice * slope(r)
		}
		m := mean / material.Mu0 / DemagnetizingFactor(tool.Length/tool.Diameter())
		near(t, tool.Name+", near a dipole", tool.PullAt(field, near0), tool.Volume()*m*pull, 1e-6)
	}
}

func TestToolReach(t *testing.T) {
	// A grain of steel near a dipole, B = k/r³: F = 3V/mu0 · k/r³ · 3k/r⁴ equals the weight at r⁷ = 9 V k²/(mu0 m g).
	const k, d, density = 2.586e-5, 1e-4, 7850.0
	grain := Tool{Name: "grain", Length: d, MassKg: density * math.Pi / 6 * d * d * d, DensityKgPerM3: density, SaturationT: 2.1}
	field := func(r float64) float64 { return k / (r * r * r) }
	for _, part := range []float64{1, SlideFriction} {
		want := math.Pow(9*k*k/(material.Mu0*density*9.80665*part), 1./7) - d/2
		got, err := ToolReach(field, grain, part, 0.01, 2)
		if err != nil {
			t.Fatal(err)
		}
		near(t, "grain", got, want, 2e-6) // the grain's size leaves (d/r)² = 1e-6; 1 % of force moves r by 1.4e-3
	}
	for name, c := range map[string]struct {
		field func(float64) float64
		tool  Tool
		part  float64
	}{
		"no field":   {nil, grain, 1},
		"no mass":    {field, Tool{Name: "air", Length: 1, DensityKgPerM3: 1, SaturationT: 1}, 1},
		"no part":    {field, grain, 0},
		"NaN":        {func(float64) float64 { return math.NaN() }, grain, 1},
		"no density": {field, Tool{Name: "ghost", Length: 1, MassKg: 1, SaturationT: 1}, 1},
	} {
		if _, err := ToolReach(c.field, c.tool, c.part, 0.01, 2); err == nil {
			t.Errorf("%s: no error", name)
		}
	}
}

func TestReach(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.Float64Range(0.5, 7).Draw(t, "n")
		want := rapid.Float64Range(0.02, 9).Draw(t, "r")
		limit := rapid.Float64Range(1e-9, 1e3).Draw(t, "limit")
		got, err := Reach(func(r float64) float64 { return limit * math.Pow(want/r, n) }, limit, 0.01, 10)
		if err != nil {
			t.Fatal(err)
		}
		if math.Abs(got-want) > 2e-9*want {
			t.Fatalf("got %.12g, want %.12g", got, want)
		}
	})
	// Behind a shield the field dips and rises again: the outermost crossing counts.
	got, err := Reach(func(r float64) float64 { return 1 + math.Sin(2*math.Pi*r) }, 1.5, 0.1, 2.9)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "outermost", got, 2+5./12, 1e-8)
	if r, err := Reach(func(float64) float64 { return 0 }, 1, 0.1, 1); r != 0 || err != nil {
		t.Errorf("below the limit everywhere: %g, %v", r, err)
	}
	one := func(float64) float64 { return 1 }
	for name, c := range map[string]struct {
		f               func(float64) float64
		limit, from, to float64
	}{
		"still above": {one, 0.5, 1, 2}, "no field": {nil, 1, 1, 2}, "backwards": {one, 2, 2, 1}, "from zero": {one, 2, 0, 1},
		"no limit": {one, 0, 1, 2}, "limit NaN": {one, math.NaN(), 1, 2}, "to NaN": {one, 2, 1, math.NaN()}, "to Inf": {one, 2, 1, math.Inf(1)},
		"NaN": {func(float64) float64 { return math.NaN() }, 1, 1, 2},
	} {
		if r, err := Reach(c.f, c.limit, c.from, c.to); err == nil || r != 0 {
			t.Errorf("%s: %g, %v", name, r, err)
		}
	}
}

// Two blocks 50 x 50 x 25 mm, 1.30 T, moments adding: m = 129.3 A·m², and its zones by the dipole's closed form.
func TestDipoleZones(t *testing.T) {
	m := 1.3 * 2 * 6.25e-5 / (4e-7 * math.Pi)
	near(t, "moment", m, 129.3, 3e-4) // half a unit of the last digit
	for _, c := range []struct{ limitT, axis, side, digit float64 }{
		{ProjectileLimitT, 0.21, 0.16, 0.01},
		{ImplantLimitT, 0.37, 0.30, 0.01},
		{0.525e-6, 3.7, 2.9, 0.1},
		{0.2e-6, 5.1, 4.0, 0.1},
	} {
		axis, side := DipoleReach(m, c.limitT)
		if math.Abs(axis-c.axis) > c.digit/2+1e-9 || math.Abs(side-c.side) > c.digit/2+1e-9 {
			t.Errorf("%g T: %.4f m and %.4f m, want %g m and %g m", c.limitT, axis, side, c.axis, c.side)
		}
		// The two directions of a dipole, 2e-7 m/r³ and 1e-7 m/r³ (any textbook), tie the reaches to the field.
		near(t, "axis", 2e-7*m/math.Pow(axis, 3), c.limitT, 1e-9)
		near(t, "side", 1e-7*m/math.Pow(side, 3), c.limitT, 1e-9)
		reach, err := Reach(func(r float64) float64 { return 2e-7 * m / (r * r * r) }, c.limitT, 0.05, 20)
		if err != nil {
			t.Fatal(err)
		}
		near(t, "reach", reach, axis, 1e-8)
	}
	if a, s := DipoleReach(m, 0); a != 0 || s != 0 {
		t.Error("no limit, no reach")
	}
}

func TestAirFreight(t *testing.T) {
	// H = m/(2π r³): 0.159 A/m at 2.1 m belongs to 9.252 A·m², 0.418 A/m at 4.6 m to 255.6 A·m².
	for _, c := range []struct {
		m    float64
		want AirClass
	}{
		{0, AirNotRegulated}, {9.20, AirNotRegulated}, {-9.20, AirNotRegulated}, {9.30, AirDeclared}, {129.3, AirDeclared},
		{255, AirDeclared}, {256.5, AirForbidden}, {math.NaN(), AirForbidden}, {math.Inf(1), AirForbidden},
	} {
		if got, _, _ := AirFreight(c.m); got != c.want {
			t.Errorf("%g A·m²: %v, want %v", c.m, got, c.want)
		}
	}
	_, near2, far := AirFreight(129.3)
	near(t, "at 2.1 m", near2, 2.2221, 1e-4)
	near(t, "at 4.6 m", far, 0.21142, 1e-4)
	// The pair exceeds the near test by (5.06/2.1)³, about 14 times.
	near(t, "excess", near2/0.159, math.Pow(5.06/2.1, 3), 2e-3)
}

// The far field of a moment off the centre: the dipole's closed form about its own place (Jackson, section 5.6), which dipole and quadrupole
// about the centre follow to (d/r)². Two dipoles ±m at ±d/2 are a quadrupole alone, with no odd term beside it: (d/r)² again.
func TestFarField(t *testing.T) {
	dipole := func(m, p r3.Vec) r3.Vec {
		r := r3.Norm(p)
		n := r3.Unit(p)
		return r3.Scale(1e-7/(r*r*r), r3.Sub(r3.Scale(3*r3.Dot(m, n), n), m))
	}
	moment := func(m, d r3.Vec) (q [3][3]float64) { // Jackson, section 4.1, of a dipole at d
		ma, da := [3]float64{m.X, m.Y, m.Z}, [3]float64{d.X, d.Y, d.Z}
		for i := range 3 {
			for j := range 3 {
				q[i][j] = 3 * (ma[i]*da[j] + ma[j]*da[i])
			}
			q[i][i] -= 2 * r3.Dot(m, d)
		}
		return q
	}
	rapid.Check(t, func(t *rapid.T) {
		vec := func(name string) r3.Vec {
			v := rapid.Float64Range(-1, 1)
			return r3.Vec{X: v.Draw(t, name+" x"), Y: v.Draw(t, name+" y"), Z: v.Draw(t, name+" z")}
		}
		m, d, p := vec("m"), r3.Scale(1e-3, vec("d")), r3.Add(vec("p"), r3.Vec{X: 2})
		off := r3.Norm(r3.Sub(FarField(m, moment(m, d), p), dipole(m, r3.Sub(p, d))))
		if most := 20e-7 * r3.Norm(m) * r3.Norm2(d) / math.Pow(r3.Norm(p), 5); off > most+1e-18 {
			t.Fatalf("off by %g T, at most %g", off, most)
		}
		pair := r3.Sub(dipole(m, r3.Sub(p, r3.Scale(0.5, d))), dipole(m, r3.Add(p, r3.Scale(0.5, d))))
		off = r3.Norm(r3.Sub(FarField(r3.Vec{}, moment(m, d), p), pair))
		if most := 40e-7 * r3.Norm(m) * math.Pow(r3.Norm(d), 3) / math.Pow(r3.Norm(p), 6); off > most+1e-18 {
			t.Fatalf("pair: off by %g T, at most %g", off, most)
		}
	})
}

// The largest field strength of a dipole, whichever way it points, is that on its axis; of a quadrupole along an axis it is 3 Qzz/(8 pi r^4),
// there too.
func TestAirFreightOf(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		v := rapid.Float64Range(-200, 200)
		m := r3.Vec{X: v.Draw(t, "x"), Y: v.Draw(t, "y"), Z: v.Draw(t, "z")}
		a := AirFreightOf(m, [3][3]float64{})
		class, near2, far := AirFreight(r3.Norm(m))
		if math.Abs(a.At2m1Apm-near2) > 1e-9*near2 || math.Abs(a.At4m6Apm-far) > 1e-9*far || a.Class != class {
			t.Fatalf("%+v, want %g, %g, %v", a, near2, far, class)
		}
	})
	const q = 50.0
	var turned [3][3]float64 // about (0.6, 0, 0.8): only the search finds the largest
	a := AirFreightOf(r3.Vec{}, [3][3]float64{{-q / 2, 0, 0}, {0, -q / 2, 0}, {0, 0, q}})
	near(t, "quadrupole", a.At2m1Apm, 3*q/(8*math.Pi*math.Pow(2.1, 4)), 1e-9)
	if a.Class != AirDeclared || a.Direction != [3]float64{0, 0, 1} {
		t.Errorf("%+v", a)
	}
	for i := range 3 {
		for j := range 3 {
			turned[i][j] = q * (1.5*[3]float64{0.6, 0, 0.8}[i]*[3]float64{0.6, 0, 0.8}[j] - map[bool]float64{true: 0.5}[i == j])
		}
	}
	b := AirFreightOf(r3.Vec{}, turned)
	near(t, "turned quadrupole", b.At2m1Apm, a.At2m1Apm, 2e-4)
	if AirFreightOf(r3.Vec{X: math.NaN()}, [3][3]float64{}).Class != AirForbidden {
		t.Error("a moment that is not a number may fly")
	}
	for _, c := range []AirClass{AirNotRegulated, AirDeclared, AirForbidden} {
		if c.advice() == "" {
			t.Errorf("%v: nothing to do", c)
		}
	}
}

func TestMagneticPressure(t *testing.T) {
	// B²/2mu0 in kPa.
	for b, want := range map[float64]float64{0.1: 3.979, 0.3: 35.81, 0.5: 99.47, 0.6: 143.24, 0.8: 254.6, 1: 397.9, 1.2: 573.0, 1.5: 895.2, -1: 397.9} {
		near(t, fmt.Sprintf("%g T", b), MagneticPressure(b)/1e3, want, 2e-4)
	}
}

func TestImpactSpeed(t *testing.T) {
	// Two blocks 50 x 50 x 25 mm, 1.30 T, attracting (Akoun and Yonnet 1984, evaluated by quadrature to 1 %): closing to 2 mm sets free 12 J,
	// and a free block of 0.47 kg arrives at 7 m/s.
	near(t, "arrival", ImpactSpeed(12, 0.47), 7.1, 0.02)
	near(t, "1 J, 2 kg", ImpactSpeed(1, 2), 1, 1e-12)
	if ImpactSpeed(1, 0) != 0 || ImpactSpeed(-1, 1) != 0 {
		t.Error("no mass or no energy gives no speed")
	}
}

// pair is the framed pair of the golden file; the numbers of the fact sheet are invented but of the right size.
var pair = Facts{
	LargestForceN: 683.6, LargestForcePart: "upper", HalfForceN: 394.07, PinchEnergyJ: 12.04,
	HeaviestKg: 5.36, HeaviestPart: "top back", GapFieldT: 0.81, MomentAm2: 129.3,
	ImplantReach: r3.Vec{X: 0.296, Y: 0.296, Z: 0.3726}, CardReach: r3.Vec{X: 0.235, Y: 0.235, Z: 0.296},
	ProjectileReach: r3.Vec{X: 0.163, Y: 0.163, Z: 0.205},
	Tools:           []ToolFact{{"spanner, 150 mm, 0.15 kg", 0.1213, 0.081}, {"screw M6 x 20, 6.5 g", 0.11, 0}, {"pencil", 0, 0}},
	MagnetFamilies:  []string{"NdFeB", "NdFeB"}, Grade: "N42", GradeLimitC: 80, HottestC: 60,
	KneeChecked: true, KneeMarginApm: 35e3, WoundYoke: true,
}

func TestCautionsGolden(t *testing.T) {
	hot := Facts{
		LargestForceN: 30, MagnetFamilies: []string{"ferrite", "SmCo", "ferrite"}, Grade: "N52", GradeLimitC: 80, HottestC: 95,
		KneeChecked: true, KneeMarginApm: -120e3, MomentAm2: 300, GapFieldT: 2.3,
	}
	for name, f := range map[string]Facts{"nothing-known": {}, "pair": pair, "hot": hot} {
		var b strings.Builder
		for _, c := range Cautions(f) {
			fmt.Fprintf(&b, "%s [%s] %s\n%s\n\n", c.Severity, c.Code, c.Title, c.Text)
		}
		file := filepath.Join("testdata", name+".golden")
		if *update {
			if err := os.WriteFile(file, []byte(b.String()), 0o644); err != nil {
				t.Fatal(err)
			}
		}
		want, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		if b.String() != string(want) {
			t.Errorf("%s: the cautions changed; read them, and write them anew with -update if they are right:\n%s", name, b.String())
		}
	}
}

func TestCautionsApply(t *testing.T) {
	severity := func(f Facts, code string) Severity {
		for _, c := range Cautions(f) {
			if c.Code == code {
				return c.Severity
			}
		}
		return 0
	}
	for _, c := range []struct {
		name, code string
		f          Facts
		want       Severity
	}{
		{"forces not known", "crushing", Facts{}, Danger},
		{"force not a number", "crushing", Facts{LargestForceN: math.NaN()}, Danger},
		{"above what a hand stands", "crushing", Facts{LargestForceN: 141}, Danger},
		{"below it", "crushing", Facts{LargestForceN: 139}, Warning},
		{"the halves count", "crushing", Facts{LargestForceN: 10, HalfForceN: 141}, Danger},
		{"a small pinch", "crushing", Facts{LargestForceN: 19}, 0},
		{"light", "two-people", Facts{HeaviestKg: 4.9}, 0},
		{"heavy", "two-people", Facts{HeaviestKg: 5}, Warning},
		{"no winding", "wire-end", Facts{}, 0},
		{"winding", "wire-end", Facts{WoundYoke: true}, Warning},
		{"weak", "exposure", Facts{GapFieldT: 0.4}, 0},
		{"above the public limit", "exposure", Facts{GapFieldT: 0.404}, Notice},
		{"above the limit at work", "exposure", Facts{GapFieldT: 2.02}, Warning},
		{"not checked", "demagnetizing", Facts{KneeMarginApm: -1}, 0},
		{"margin not a number", "demagnetizing", Facts{KneeChecked: true, KneeMarginApm: math.NaN()}, 0},
		{"far from the knee", "demagnetizing", Facts{KneeChecked: true, KneeMarginApm: 101e3}, 0},
		{"near the knee", "demagnetizing", Facts{KneeChecked: true, KneeMarginApm: 99e3}, Notice},
		{"implants always", "implants", Facts{}, Danger},
	} {
		if got := severity(c.f, c.code); got != c.want {
			t.Errorf("%s: %s is %v, want %v", c.name, c.code, got, c.want)
		}
	}
}

func TestCautionsOrder(t *testing.T) {
	figures := rapid.OneOf(rapid.Float64(), rapid.Float64Range(0, 1e4), rapid.SampledFrom([]float64{0, math.NaN(), math.Inf(1), math.Inf(-1), -1}))
	vectors := rapid.Custom(func(t *rapid.T) r3.Vec {
		return r3.Vec{X: figures.Draw(t, "x"), Y: figures.Draw(t, "y"), Z: figures.Draw(t, "z")}
	})
	rapid.Check(t, func(t *rapid.T) {
		draw := func(name string) float64 { return figures.Draw(t, name) }
		f := Facts{
			LargestForceN: draw("force"), HalfForceN: draw("half"), PinchEnergyJ: draw("energy"), HeaviestKg: draw("mass"), GapFieldT: draw("gap"),
			MomentAm2: draw("moment"), ImplantReach: vectors.Draw(t, "0.5 mT"), CardReach: vectors.Draw(t, "1 mT"), ProjectileReach: vectors.Draw(t, "3 mT"),
			Tools:          []ToolFact{{"spanner", draw("slides"), draw("lifts")}},
			MagnetFamilies: rapid.SliceOf(rapid.SampledFrom([]string{"NdFeB", "SmCo", ""})).Draw(t, "families"),
			GradeLimitC:    draw("limit"), HottestC: draw("hottest"),
			KneeChecked: rapid.Bool().Draw(t, "checked"), KneeMarginApm: draw("margin"), WoundYoke: rapid.Bool().Draw(t, "wound"),
		}
		list := Cautions(f)
		if list[0].Code != "implants" || list[len(list)-1].Code != "local-codes" {
			t.Fatalf("first %s, last %s", list[0].Code, list[len(list)-1].Code)
		}
		if !slices.IsSortedFunc(list, func(a, b Caution) int { return int(b.Severity - a.Severity) }) {
			t.Fatal("not the most serious first")
		}
		seen := map[string]bool{}
		for _, c := range list {
			if seen[c.Code] || c.Title == "" || c.Text == "" {
				t.Fatalf("%+v: twice, or empty", c)
			}
			seen[c.Code] = true
			if strings.Contains(c.Text, "NaN") || strings.Contains(c.Text, "Inf") || strings.Contains(c.Text, "%!") {
				t.Fatalf("%s: %s", c.Code, c.Text)
			}
		}
		if !slices.Equal(list, Cautions(f)) {
			t.Fatal("the same facts gave other cautions")
		}
	})
}

func ExampleCautions() {
	for _, c := range Cautions(Facts{LargestForceN: 394.07, LargestForcePart: "upper", MomentAm2: 129.3})[:2] {
		fmt.Printf("%s: %s\n", c.Severity, c.Text)
	}
	// Output:
	// danger: Nobody with a pacemaker, a defibrillator or another implant inside the 0.5 mT line: 0.38 m along the magnetization, 0.3 m beside it, taken as a dipole (ICNIRP 2009; some rules use 0.9 mT). Mark it on the floor and at the door.
	// danger: The largest force on one part is 394 N (40 kgf), on "upper". A hand stands about 140 N (ISO/TS 15066, from memory). Never put a hand between parts: use a jig, spacers and jack screws, and have non-magnetic wedges ready to part them again.
}

func ExampleToolReach() {
	// Two blocks 50 x 50 x 25 mm of 1.3 T have 129.3 A m2; on the axis of a dipole B = mu0 m/(2 pi r^3).
	field := func(r float64) float64 { return 2e-7 * 129.3 / (r * r * r) }
	for _, tool := range Tools() {
		slides, err := ToolReach(field, tool, SlideFriction, 0.05, 2)
		if err != nil {
			fmt.Println(err)
			return
		}
		fmt.Printf("%s: slides from %.2f m\n", tool.Name, slides)
	}
}

func BenchmarkToolReach(b *testing.B) {
	field := func(r float64) float64 { return 2e-7 * 129.3 / (r * r * r) }
	for b.Loop() {
		if _, err := ToolReach(field, Tools()[0], 1, 0.05, 2); err != nil {
			b.Fatal(err)
		}
	}
}
