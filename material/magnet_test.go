package material

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// Rows of vendors' tables, as seen (names of the vendors in grades.go). Tolerance: rounding only.
func TestGradesAreTheTables(t *testing.T) {
	for _, c := range []struct {
		name                                  string
		least, mean, hcb, hcj, alpha, density float64
	}{
		{"N35", 1.17, 1.195, 868e3, 955e3, -0.0012, 7500},
		{"N42", 1.28, 1.30, 915e3, 955e3, -0.0012, 7500},
		{"n 52", 1.43, 1.455, 796e3, 876e3, -0.0012, 7500},
		{"N55", 1.47, 1.495, 860e3, 876e3, -0.0012, 7500},
		{"n48-h", 1.37, 1.40, 955e3, 1353e3, -0.0012, 7500},
		{"N48SH", 1.37, 1.395, 1019e3, 1592e3, -0.0011, 7500},
		{"SmCo17-32H", 1.16, 1.16, 756e3, 1114e3, -0.0003, 8300},
		{"Y30", 0.38, 0.3825, 191e3, 199e3, -0.002, 4900},
		{"Ceramic 8", 0.385, 0.3875, 235e3, 242e3, -0.002, 4900},
		{"AlNiCo 5", 1.25, 1.275, 47.7e3, 0, -0.0002, 7300},
	} {
		m, err := Grade(c.name)
		if err != nil {
			t.Error(err)
			continue
		}
		got := []float64{m.RemanenceMinT, m.RemanenceT, m.CoercivityApm, m.IntrinsicCoercivityApm, m.RemanencePerK, m.DensityKgPerM3}
		for i, want := range []float64{c.least, c.mean, c.hcb, c.hcj, c.alpha, c.density} {
			if relative(got[i], want) > 1e-12 {
				t.Errorf("%s: value %d is %g, the table has %g", c.name, i, got[i], want)
			}
		}
		if m.ReferenceC != 20 {
			t.Errorf("%s: reference %g °C", c.name, m.ReferenceC)
		}
	}
}

// Every grade must be one that can exist; the grade number is the energy product in MGOe (1 MGOe = 7.958 kJ/m³), which a
// straight recoil line bounds by Br²/(4·mu_rec·mu0).
func TestGradesCanExist(t *testing.T) {
	seen := map[string]bool{}
	families := map[string]int{}
	for _, m := range Grades() {
		families[m.Family]++
		if err := m.Check(); err != nil {
			t.Error(err)
		}
		if seen[plainName(m.Name)] {
			t.Errorf("%s twice", m.Name)
		}
		seen[plainName(m.Name)] = true
		if m.Source == "" || m.FromMemory != strings.HasPrefix(m.Source, "from memory") {
			t.Errorf("%s: source %q, from memory %v", m.Name, m.Source, m.FromMemory)
		}
		if lim := m.RemanenceT / Mu0; m.CoercivityApm > lim {
			t.Errorf("%s: HcB %g above Br/mu0 %g A/m", m.Name, m.CoercivityApm, lim)
		}
		if k := m.KneeApm(); !(k < 0 && !math.IsInf(k, 0)) || m.KneeRule() == "" {
			t.Errorf("%s: knee %g, rule %q", m.Name, k, m.KneeRule())
		}
		var mgoe float64
		if n, _ := fmt.Sscanf(m.Name, "N%f", &mgoe); n == 1 {
			// The vendors' minima lie 1 to 3 MGOe under the grade number, and the line of the mean remanence between the two.
			if ratio := m.RemanenceT * m.RemanenceT / (4 * m.RecoilPermeability * Mu0) / (mgoe * 7958); ratio < 0.93 || ratio > 0.98 {
				t.Errorf("%s: the recoil line gives %.3f of %g MGOe", m.Name, ratio, mgoe)
			}
		}
	}
	for family, n := range map[string]int{familyNdFeB: 35, familySmCo5: 4, familySmCo17: 8, familyFerrite: 8, familyAlnico: 6} {
		if families[family] < n {
			t.Errorf("%d grades of %s", families[family], family)
		}
	}
	for _, want := range strings.Fields("N35 N38 N40 N42 N45 N48 N50 N52 N55 N42M N42H N42SH N42UH N38EH") {
		if !seen[plainName(want)] {
			t.Errorf("%s missing", want)
		}
	}
}

// Letter classes by least HcJ, kA/m (mainrichinternational.com; UH, EH and AH from memory). Vendors differ: 876 to 960 for no letter, 1273 for one H.
func TestLetterClasses(t *testing.T) {
	class := map[string][2]float64{"": {876, 960}, "M": {1114, 1114}, "H": {1273, 1353}, "SH": {1592, 1592}, "UH": {1990, 1990}, "EH": {2388, 2388}, "AH": {2785, 2785}}
	tried := 0
	for _, m := range Grades() {
		if m.Family != familyNdFeB {
			continue
		}
		letters := strings.TrimLeft(m.Name, "N0123456789")
		if span := class[letters]; m.IntrinsicCoercivityApm < span[0]*1e3 || m.IntrinsicCoercivityApm > span[1]*1e3 {
			t.Errorf("%s: HcJ %g A/m outside the class %v kA/m", m.Name, m.IntrinsicCoercivityApm, span)
		}
		tried++
	}
	if tried < 35 {
		t.Fatalf("%d grades tried", tried)
	}
}

func TestAtTemperature(t *testing.T) {
	m, err := Grade("N42")
	if err != nil {
		t.Fatal(err)
	}
	hot := m.At(60)
	// -0.12 %/K and -0.76 %/K over 40 K (shanghaimagnet.com): 0.952 and 0.696.
	if relative(hot.RemanenceT, 1.30*0.952) > 1e-12 || relative(hot.RemanenceMinT, 1.28*0.952) > 1e-12 ||
		relative(hot.IntrinsicCoercivityApm, 955e3*0.696) > 1e-12 || relative(hot.KneeApm(), -0.9*955e3*0.696) > 1e-12 {
		t.Errorf("N42 at 60 °C: %+v, knee %g", hot, hot.KneeApm())
	}
	given := m
	given.GivenKneeApm = 700e3
	if relative(given.At(60).KneeApm(), -700e3*0.696) > 1e-12 {
		t.Errorf("given knee at 60 °C: %g A/m", given.At(60).KneeApm())
	}
	if relative(m.At(25).RemanenceT, 1.30*0.994) > 1e-12 { // trade: 5 K are 0.6 %
		t.Errorf("N42 at 25 °C: %g T", m.At(25).RemanenceT)
	}
	// A measured N48SH: 1.382 T and 1676 kA/m at 20 °C, 1.169 T and 500 kA/m at 150 °C (advancedmagnets.com): linear class
	// coefficients meet the remanence to 2 %; the fall of HcJ is nearly linear (-0.54 %/K) and met to 5 % of its start.
	n, err := Grade("N48SH")
	if err != nil {
		t.Fatal(err)
	}
	n.RemanenceT, n.RemanenceMinT, n.IntrinsicCoercivityApm = 1.382, 1.382, 1676e3
	h := n.At(150)
	if math.Abs(h.RemanenceT-1.169) > 0.02*1.382 || math.Abs(h.IntrinsicCoercivityApm-500e3) > 0.05*1676e3 {
		t.Errorf("N48SH at 150 °C: %g T, %g A/m; measured 1.169 T, 500 kA/m", h.RemanenceT, h.IntrinsicCoercivityApm)
	}
	// Ferrite loses coercivity when cold.
	f, err := Grade("Y30BH")
	if err != nil {
		t.Fatal(err)
	}
	if cold := f.At(-40); !(cold.KneeApm() > f.KneeApm() && cold.RemanenceT > f.RemanenceT) {
		t.Errorf("Y30BH at -40 °C: knee %g against %g A/m", cold.KneeApm(), f.KneeApm())
	}
	if burnt := m.At(900); relative(burnt.IntrinsicCoercivityApm, 0.01*955e3) > 1e-12 || burnt.RemanenceT != 0 { // a hundredth is left: known, and next to nothing
		t.Errorf("N42 at 900 °C: %+v", burnt)
	}
}

func TestAtProperties(t *testing.T) {
	all := Grades()
	rapid.Check(t, func(t *rapid.T) {
		m := rapid.SampledFrom(all).Draw(t, "grade")
		a := rapid.Float64Range(-40, 110).Draw(t, "first")
		b := rapid.Float64Range(-40, 110).Draw(t, "second")
		once, twice := m.At(b), m.At(a).At(b)
		if relative(once.RemanenceT, twice.RemanenceT) > 1e-12 || relative(once.IntrinsicCoercivityApm, twice.IntrinsicCoercivityApm) > 1e-11 {
			t.Fatalf("%s at %g °C: %g T and %g A/m; by way of %g °C %g T and %g A/m", m.Name, b, once.RemanenceT, once.IntrinsicCoercivityApm, a, twice.RemanenceT, twice.IntrinsicCoercivityApm)
		}
		if back := once.At(m.ReferenceC); relative(back.RemanenceT, m.RemanenceT) > 1e-12 {
			t.Fatalf("%s does not come back: %g T", m.Name, back.RemanenceT)
		}
		if err := once.Check(); err != nil {
			t.Fatal(err)
		}
	})
}

func TestKneeRules(t *testing.T) {
	for _, c := range []struct {
		m    Magnet
		want float64
		rule string
	}{
		{Magnet{RemanenceT: 1.3, RecoilPermeability: 1.05, IntrinsicCoercivityApm: 955e3, CoercivityApm: 915e3}, -859.5e3, "0.9 HcJ"},
		{Magnet{RemanenceT: 1.3, RecoilPermeability: 1.05, IntrinsicCoercivityApm: 1592e3}, -1432.8e3, "0.9 HcJ"},
		{Magnet{RemanenceT: 1.3, RecoilPermeability: 1.05, IntrinsicCoercivityApm: 955e3, GivenKneeApm: 700e3}, -700e3, "given"},
		{Magnet{RemanenceT: 1.3, RecoilPermeability: 1.05, IntrinsicCoercivityApm: 1000e3, Squareness: 0.96}, -920e3, "Hk/HcJ = 0.96"},
		{Magnet{RemanenceT: 1.3, RecoilPermeability: 1.05, IntrinsicCoercivityApm: 1000e3, Squareness: 0.8}, -680e3, "0.85 Hk"},
		{Magnet{RemanenceT: 1.3, RecoilPermeability: 1.05, CoercivityApm: 950e3}, -950e3, "for want of HcJ"},
		{Magnet{RemanenceT: 1.3, RecoilPermeability: 1.05, CoercivityApm: 500e3}, -450e3, "0.9 HcB"},
		{Magnet{Family: familyAlnico, RemanenceT: 1.275, RecoilPermeability: 3.6, CoercivityApm: 47.7e3}, -33.39e3, "0.7 HcB"},
		{Magnet{RemanenceT: 1.3, RecoilPermeability: 1.05}, math.Inf(-1), "unknown"},
	} {
		if got := c.m.KneeApm(); relative(got, c.want) > 1e-12 && got != c.want || !strings.Contains(c.m.KneeRule(), c.rule) {
			t.Errorf("%+v: knee %g (%s), want %g (%s)", c.m, got, c.m.KneeRule(), c.want, c.rule)
		}
	}
}

func TestCustom(t *testing.T) {
	m, err := Custom("mine", 1.21, 1.07)
	if err != nil || m.RemanenceT != 1.21 || m.RemanenceMinT != 1.21 || m.RecoilPermeability != 1.07 || m.ReferenceC != 20 {
		t.Fatalf("%+v, %v", m, err)
	}
	for _, bad := range [][2]float64{{0, 1.05}, {-1, 1.05}, {3.01, 1.05}, {math.NaN(), 1.05}, {math.Inf(1), 1.05}, {1.2, 0.99}, {1.2, 10.1}, {1.2, 0}, {1.2, math.NaN()}} {
		if _, err := Custom("bad", bad[0], bad[1]); err == nil {
			t.Errorf("remanence %g T with recoil %g taken", bad[0], bad[1])
		}
	}
	for what, spoil := range map[string]func(*Magnet){
		"intrinsic coercivity": func(m *Magnet) { m.IntrinsicCoercivityApm = -955e3 },
		"exchange them":        func(m *Magnet) { m.IntrinsicCoercivityApm, m.CoercivityApm = 9e5, 1e6 },
		"the coercivity":       func(m *Magnet) { m.CoercivityApm = math.NaN() },
		"the knee":             func(m *Magnet) { m.GivenKneeApm = -1 },
		"temperature coeff":    func(m *Magnet) { m.RemanencePerK = -0.12 },
		"the temperatures":     func(m *Magnet) { m.ReferenceC = -300 },
		"the density":          func(m *Magnet) { m.DensityKgPerM3 = 0 },
		"the least remanence":  func(m *Magnet) { m.RemanenceMinT = 1.3 },
	} {
		bad := m
		spoil(&bad)
		if err := bad.Check(); err == nil || !strings.Contains(err.Error(), what) {
			t.Errorf("%s: %v", what, err)
		}
	}
}

func TestGradeErrorNamesNearest(t *testing.T) {
	for given, want := range map[string]string{"N53": "N52", "N42SJ": "N42SH", "Y31": "Y30", "smco-26": "SmCo17-26", strings.Repeat("N", 1e5): "N30"} {
		_, err := Grade(given)
		if given == "smco-26" {
			if err != nil {
				t.Error(err)
			}
			continue
		}
		if err == nil || !strings.Contains(err.Error(), want) || len(err.Error()) > 300 {
			t.Errorf("%.20s: %v, want %s named", given, err, want)
		}
	}
}

func TestPlainNamed(t *testing.T) {
	// Handbook densities, from memory: 2.70, 8.5 and 8.0 g/cm³.
	for name, want := range map[string]float64{"Aluminium": 2700, "aluminum": 2700, "brass": 8500, "stainless 316": 8000, "316L": 8000, "POM": 1410} {
		p, err := PlainNamed(name)
		if err != nil || p.DensityKgPerM3 != want || p.Source == "" {
			t.Errorf("%s: %+v, %v", name, p, err)
		}
	}
	for _, p := range Plains() {
		if got, err := PlainNamed(p.Name); err != nil || got != p || p.DensityKgPerM3 < 500 || p.DensityKgPerM3 > 9000 {
			t.Errorf("%+v: %v", p, err)
		}
	}
	for other, name := range otherPlainNames {
		if _, err := PlainNamed(other); err != nil {
			t.Errorf("%s for %s: %v", other, name, err)
		}
	}
	if _, err := PlainNamed("vibranium"); err == nil || !strings.Contains(err.Error(), "brass") {
		t.Errorf("unknown material: %v", err)
	}
}

func ExampleGrade() {
	m, err := Grade("N42SH")
	if err != nil {
		fmt.Println(err)
		return
	}
	hot := m.At(100)
	fmt.Printf("%.3f T, knee at %.0f kA/m\n", hot.RemanenceT, hot.KneeApm()/1e3)
	_, err = Grade("N43")
	fmt.Println(err)
	// Output:
	// 1.186 T, knee at -802 kA/m
	// no grade "N43"
	//   hint: the nearest are N33, N40, N42, N45; or give the remanence and the recoil permeability
}
