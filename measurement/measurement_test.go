package measurement

import (
	"bytes"
	"errors"
	"fmt"
	"math"
	"strings"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"
	"pgregory.net/rapid"

	"polewright/mistake"
)

func TestReadLog(t *testing.T) {
	text := "\ufeff# instrument: bench meter 7\r\n# Probe: disc 2 mm\n#just a remark\n\nx_mm, z_in ,Bz_mT,By_G,T_degC,u_mT\n1,0.5,612.3,-12,22.5,0.6\n2,-1,,3,,\n"
	l, err := ReadLog(strings.NewReader(text), "log.csv")
	if err != nil {
		t.Fatal(err)
	}
	if l.Note("instrument") != "bench meter 7" || l.Note("probe") != "disc 2 mm" || l.Notes[2].Text != "just a remark" || l.Note("nothing") != "" {
		t.Errorf("notes %+v", l.Notes)
	}
	want := []string{
		"{0.001 0 0.0127} Bz 0.6123 0.0006 22.5 6",
		"{0.001 0 0.0127} By -0.0012 0.0006 22.5 6",
		"{0.002 0 -0.0254} By 0.0003 0 NaN 7",
	}
	for i, r := range l.Readings {
		got := fmt.Sprintf("{%.6g %.6g %.6g} %v %.6g %.6g %g %d", r.At.X, r.At.Y, r.At.Z, r.Component, r.FieldT, r.UncertaintyT, r.TemperatureC, r.Line)
		if i >= len(want) || got != want[i] {
			t.Errorf("reading %d: %s", i+1, got)
		}
	}
}

func TestLogMistakes(t *testing.T) {
	for _, c := range []struct{ text, want string }{
		{"", "log.csv: there is no header"},
		{"x_mm,Bz_mT\n", "log.csv: there are no readings"},
		{"x_mm,Bz\n0,1\n", "log.csv:1: Bz: has no unit of flux density"},
		{"x_mm,Bz_kA\n0,1\n", "log.csv:1: Bz_kA: has no unit of flux density"},
		{"x_mm,height_mm,Bz_T\n0,1,1\n", `log.csv:1: "height_mm" is no column of a log`},
		{"0,0,5,612.3\n", "the first line names the columns"},
		{"x_mm,y_mm\n0,1\n", "log.csv:1: there is no column of the field"},
		{"Bz_mT\n1\n", "log.csv:1: there is no column of the place"},
		{"x_mm,Bz_mT,Bz_T\n0,1,1\n", "log.csv:1: Bz_T: gives the field again, after Bz_mT"},
		{"x_mm;Bz_mT\n0;1\n", "not parted by commas"},
		{"x_mm,Bz_mT\n0,1,2\n", "log.csv:2: there are 3 values for 2 columns"},
		{"x_mm,Bz_mT\n0,1\n,1\n0,abc\n", "log.csv:3: x_mm: is missing"},
		{"x_mm,Bz_mT\n0,1\n,1\n0,abc\n", `log.csv:4: Bz_mT: "abc" is no value of the field`},
		{"x_mm,Bz_T\n0,612\n", "check the unit of the column"},
		{"x_m,Bz_T\n612,0.1\n", "over 100 m from the origin"},
		{"x_mm,B_T\n0,-1\n", "B is the magnitude"},
		{"x_mm,Bz_T,u_T\n0,1,0\n", "above 0"},
		{"x_mm,Bz_T,T_degC\n0,1,-300\n", "log.csv:2: T_degC"},
		{"x_mm,Bz_T\n0,NaN\n", `"NaN" is no value`},
		{"x_mm,Bz_T\n0,1e999\n", `"1e999" is no value`},
		{"x_mm,Bz_T\n" + strings.Repeat("0,", 5000), "longer than 4096 bytes"},
		{"x_mm,Bz_T\n\xff,1", "not text in UTF-8"},
	} {
		_, err := ReadLog(strings.NewReader(c.text), "log.csv")
		var e mistake.Errors
		if !errors.As(err, &e) || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%.40q: %v; want %q", c.text, err, c.want)
		}
	}
	_, err := ReadLog(strings.NewReader("x_mm,Bz_T\n"+strings.Repeat("a,b\n", 100)), "log.csv")
	if e := (mistake.Errors{}); !errors.As(err, &e) || len(e) != mistake.Most {
		t.Errorf("%d mistakes told of 200", len(e))
	}
}

// FuzzReadLog: what is read is written and read again as the same.
func FuzzReadLog(f *testing.F) {
	for _, s := range []string{"x_mm,Bz_mT\n0,1\n", "# probe: point\nx_in,y_m,z_mm,B_kG,T_degC,u_G\n1,2,3,4,5,6\n", "x_mm,Bx_T,By_T,Bz_T\n1,,2,\n", "x_mm,Bz\n", "0,1\n"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		l, err := ReadLog(strings.NewReader(s), "a")
		if err != nil {
			var e mistake.Errors
			if !errors.As(err, &e) || len(e) == 0 || err.Error() == "" {
				t.Fatalf("an error without a word: %v", err)
			}
			return
		}
		var b bytes.Buffer
		if err := l.Write(&b); err != nil {
			t.Fatal(err)
		}
		again, err := ReadLog(&b, "a")
		if err != nil {
			t.Fatalf("what was written is not read: %v", err)
		}
		if len(again.Readings) != len(l.Readings) {
			t.Fatalf("%d readings, then %d", len(l.Readings), len(again.Readings))
		}
		for i, r := range l.Readings {
			q := again.Readings[i]
			near := func(a, b float64) bool {
				return math.Abs(a-b) <= 1e-12*(math.Abs(a)+1e-300) || math.IsNaN(a) && math.IsNaN(b)
			}
			if !near(r.At.X, q.At.X) || !near(r.At.Y, q.At.Y) || !near(r.At.Z, q.At.Z) || r.Component != q.Component || !near(r.FieldT, q.FieldT) ||
				!near(r.UncertaintyT, q.UncertaintyT) || !near(r.TemperatureC, q.TemperatureC) {
				t.Fatalf("%+v, then %+v", r, q)
			}
		}
	})
}

// Means of monomials over a disc of radius 1, 2 int r^(a+b+1) dr mean(cos^a sin^b), and over a rectangle, by elementary integrals.
func TestRuleIsExact(t *testing.T) {
	mean := func(p Probe, axis int, f func(u, v float64) float64) (s float64) {
		for _, q := range p.Rule(axis) {
			o := [3]float64{q.Offset.X, q.Offset.Y, q.Offset.Z}
			if o[axis] != 0 {
				t.Errorf("a point out of the plane")
			}
			s += q.Weight * f(o[(axis+1)%3], o[(axis+2)%3])
		}
		return s
	}
	for axis := range 3 {
		for _, c := range []struct {
			p    Probe
			f    func(u, v float64) float64
			want float64
		}{
			{Probe{DiameterM: 2}, func(u, v float64) float64 { return 1 + u + v + u*v + u*u*u }, 1},
			{Probe{DiameterM: 2}, func(u, v float64) float64 { return u * u }, 1. / 4},
			{Probe{DiameterM: 2}, func(u, v float64) float64 { return u * u * u * u }, 1. / 8},
			{Probe{DiameterM: 2}, func(u, v float64) float64 { return u * u * v * v }, 1. / 24},
			{Probe{SizeM: [2]float64{2, 4}}, func(u, v float64) float64 { return u*u*v*v + u }, 4. / 9},
			{Probe{SizeM: [2]float64{2, 4}}, func(u, v float64) float64 { return v * v * v * v }, 16. / 5},
			{Probe{}, func(u, v float64) float64 { return 3 + u*u }, 3},
		} {
			if got := mean(c.p, axis, c.f); math.Abs(got-c.want) > 1e-14 {
				t.Errorf("%v across %d: %g, exact %g", c.p, axis, got, c.want)
			}
		}
	}
}

func TestParseProbe(t *testing.T) {
	for _, s := range []string{"point", "disc 2 mm", "rectangle 1 mm x 2.5 mm"} {
		p, err := ParseProbe(s)
		if err != nil || p.String() != s {
			t.Errorf("%q: %v, %v", s, p, err)
		}
	}
	for _, s := range []string{"", "disc", "disc 2", "disc 0 mm", "disc 1 m", "square 2 mm", "rectangle 2 mm", "rectangle 1 mm x 1", "point 3"} {
		if _, err := ParseProbe(s); !errors.Is(err, ErrProbe) {
			t.Errorf("%q: %v", s, err)
		}
	}
	rapid.Check(t, func(t *rapid.T) {
		d := rapid.IntRange(1, 100_000).Draw(t, "µm")
		p := Probe{DiameterM: float64(d) * 1e-6}
		if q, err := ParseProbe(p.String()); err != nil || math.Abs(q.DiameterM-p.DiameterM) > 1e-12 {
			t.Errorf("%v: %v, %v", p, q, err)
		}
	})
}

func ExampleReadLog() {
	l, err := ReadLog(strings.NewReader("# instrument: bench meter\nx_mm,y_mm,z_mm,Bz_mT\n0,0,0,612.3\n0,0,5,614.1\n"), "gap.csv")
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, r := range l.Readings {
		fmt.Printf("%v = %.4f T at z = %.0f mm\n", r.Component, r.FieldT, 1e3*r.At.Z)
	}
	// Output:
	// Bz = 0.6123 T at z = 0 mm
	// Bz = 0.6141 T at z = 5 mm
}

func ExampleProbe_Rule() {
	p := Probe{DiameterM: 2e-3}
	curved := func(p r3.Vec) float64 { return 1 + 1e4*p.X*p.X } // T
	var mean float64
	for _, q := range p.Rule(2) {
		mean += q.Weight * curved(q.Offset)
	}
	fmt.Printf("%.4f T\n", mean)
	// Output: 1.0025 T
}
