package magnetostatic

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"polewright/material"
)

// Every law of a cell is the derivative of its coenergy, its tangent the derivative of the law, and its inverse undoes it: for laminates,
// stretched media and stretched laminates at random fields.
func TestCellLaws(t *testing.T) {
	steel, err := material.SteelNamed("steel-1018")
	if err != nil {
		t.Fatal(err)
	}
	base := Medium{Curve: steel.Curve}
	rapid.Check(t, func(t *rapid.T) {
		draw := func(name string, lo, hi float64) float64 { return rapid.Float64Range(lo, hi).Draw(t, name) }
		n := [3]float64{draw("nx", -1, 1), draw("ny", -1, 1), draw("nz", 0.1, 1)}
		size := math.Sqrt(n[0]*n[0] + n[1]*n[1] + n[2]*n[2])
		for k := range n {
			n[k] /= size
		}
		j := Vec{draw("jx", -1.5, 1.5), draw("jy", -1.5, 1.5), draw("jz", -1.5, 1.5)}
		least := 4.0 // beside a magnet the field is strong; a weak one's differences would drown in the rounding of its energy
		if !rapid.Bool().Draw(t, "polarized") {
			j, least = Vec{}, 1
		}
		one := Medium{laminate: &laminate{&base, draw("share", 0.02, 0.98), n, j}}
		m := one
		if rapid.Bool().Draw(t, "edge") { // a laminate of laminates, across one another or nearly so
			m = Medium{laminate: &laminate{&one, draw("share 2", 0.02, 0.98), [3]float64{-n[2], draw("lean", 0, 0.3), n[0]}, j}}
			c := &m.laminate.n
			size := math.Sqrt(c[0]*c[0] + c[1]*c[1] + c[2]*c[2])
			for k := range c {
				c[k] /= size
			}
		}
		scale := math.Pow(10, draw("scale", least, 5.5))
		h := [3]float64{scale * draw("hx", -1, 1), scale * draw("hy", -1, 1), scale * draw("hz", 0.05, 1)}
		checkLaw(t, &m, h)
	})
}

func checkLaw(t *rapid.T, m *Medium, h [3]float64) {
	var q [3]float64
	var at, lo, hi law
	m.at(&h, &q, &at)
	size := math.Sqrt(h[0]*h[0] + h[1]*h[1] + h[2]*h[2])
	var bsize, dsize float64
	for k := range 3 {
		bsize += at.B[k] * at.B[k]
		dsize = math.Max(dsize, at.D[k])
	}
	bsize = math.Sqrt(bsize)
	full := [3][3]float64{{at.D[0], at.D[3], at.D[4]}, {at.D[3], at.D[1], at.D[5]}, {at.D[4], at.D[5], at.D[2]}}
	for k := range 3 {
		step := 3e-5 * size
		a, b := h, h
		a[k] -= step
		b[k] += step
		m.at(&a, &q, &lo)
		m.at(&b, &q, &hi)
		if d := (hi.w - lo.w) / (2 * step); math.Abs(d-at.B[k]) > 1e-4*bsize {
			t.Fatalf("dw/dh%d is %g, B is %g", k, d, at.B[k])
		}
		for i := range 3 {
			if d := (hi.B[i] - lo.B[i]) / (2 * step); math.Abs(d-full[i][k]) > 1e-3*dsize {
				t.Fatalf("dB%d/dh%d is %g, D is %g", i, k, d, full[i][k])
			}
		}
	}
	back := m.inverse(at.B, q)
	for k := range 3 {
		if math.Abs(back[k]-h[k]) > 1e-6*size {
			t.Fatalf("the inverse of B gives %v, want %v", back, h)
		}
	}
}

// Layers of steel and air across and along the field are the series and the parallel connection.
func TestLaminateLimits(t *testing.T) {
	base := Isotropic(1000, Vec{})
	var lw law
	var q [3]float64
	for _, f := range []float64{0.1, 0.5, 0.9} {
		m := Medium{laminate: &laminate{&base, f, [3]float64{0, 0, 1}, Vec{}}}
		m.at(&[3]float64{1, 0, 1}, &q, &lw)
		along, across := f*1000+(1-f), 1/(f/1000+(1-f))
		if math.Abs(lw.B[0]/material.Mu0-along) > 1e-9*along || math.Abs(lw.B[2]/material.Mu0-across) > 1e-9*across {
			t.Errorf("share %g: relative permeability %g along and %g across, want %g and %g", f, lw.B[0]/material.Mu0, lw.B[2]/material.Mu0, along, across)
		}
	}
}

// Steel without permeability beside a piece of a magnet is that piece alone: B = mu0 h + (1-f) j.
func TestLaminateWithMagnet(t *testing.T) {
	base := Isotropic(1, Vec{})
	j := Vec{0.3, -0.7, 1.1}
	m := Medium{laminate: &laminate{&base, 0.4, [3]float64{0.6, 0, 0.8}, j}}
	var lw law
	var q [3]float64
	h := [3]float64{2e5, -1e5, 3e5}
	m.at(&h, &q, &lw)
	for k := range h {
		if want := material.Mu0*h[k] + 0.6*j[k]; math.Abs(lw.B[k]-want) > 1e-12 {
			t.Errorf("B%d is %g T, want %g", k, lw.B[k], want)
		}
	}
}
