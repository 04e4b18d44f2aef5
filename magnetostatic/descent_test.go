package magnetostatic

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/spatial/r2"
	"pgregory.net/rapid"

	"polewright/material"
	"polewright/shape"
)

// hotMagnet is the curve of a square loop at which the checks know two points by definition: J = 0.9 Br at Hk = 380 kA/m, J = 0 at HcJ = 400
// kA/m.
func hotMagnet(t testing.TB) *material.Demagnetization {
	t.Helper()
	m, err := material.Custom("hot", 1.2, 1.05)
	if err != nil {
		t.Fatal(err)
	}
	m.IntrinsicCoercivityApm = 400e3
	c, ok := m.Demagnetization()
	if !ok {
		t.Fatal("no curve")
	}
	return c
}

// descending is a magnet along n that follows the curve, bare or with a share of films in series.
func descending(c *material.Demagnetization, n Vec, film, area float64) Medium {
	bare := 1 - film/2 // half of the films takes length from the magnet, as a coating does
	along := 1 / (bare/c.RecoilPermeability + film)
	across := 1.02
	t := func(i, j int) float64 {
		d := 0.0
		if i == j {
			d = across
		}
		return d + (along-across)*n[i]*n[j]
	}
	return Medium{RelativeUU: t(0, 0), RelativeUV: t(0, 1), RelativeVV: t(1, 1), RelativeWW: t(2, 2),
		Descent: &Descent{Along: n, Bare: bare, Film: film, Area: area, Remanence: c.RemanenceT, Recoil: c.RecoilPermeability, Curve: c}}
}

func eachDescending(t testing.TB) map[string]Medium {
	c := hotMagnet(t)
	return map[string]Medium{
		"bare, along w":       descending(c, Vec{0, 0, 1}, 0, 1),
		"bare, in the plan":   descending(c, Vec{0.6, -0.8, 0}, 0, 1),
		"coated, along w":     descending(c, Vec{0, 0, -1}, 0.03, 0.96),
		"coated, in the plan": descending(c, Vec{-0.8, 0.6, 0}, 0.05, 0.9),
	}
}

// The tangent is the derivative of B and B that of the coenergy, by central differences; the inverse gives the field back; and the tangent
// is not below that of the recoil line, so that the energy is convex. These are definitions. Tolerances: B has 1e-16 of 1.2 T rounding in a
// step of 1 A/m, 1e-10 of T m/A; the joints of the curve's pieces, where its slope has a kink, make less than 1e-3 of the largest slope.
func TestDescendingLaw(t *testing.T) {
	for name, m := range eachDescending(t) {
		t.Run(name, rapid.MakeCheck(func(t *rapid.T) {
			n := m.Descent.Along
			var h, q [3]float64
			along := rapid.OneOf(rapid.Float64Range(-600e3, 300e3), rapid.Float64Range(-440e3, -360e3)).Draw(t, "along")
			for k := range h {
				h[k] = along*n[k] + rapid.Float64Range(-1e5, 1e5).Draw(t, "across")
			}
			var s, hi, lo law
			m.at(&h, &q, &s)
			d := [3][3]float64{{s.D[0], s.D[3], s.D[4]}, {s.D[3], s.D[1], s.D[5]}, {s.D[4], s.D[5], s.D[2]}}
			const step, steepest = 1.0, 1.2 / 10e3
			for j := range 3 {
				p, o := h, h
				p[j] += step
				o[j] -= step
				m.at(&p, &q, &hi)
				m.at(&o, &q, &lo)
				for i := range 3 {
					if diff := (hi.B[i] - lo.B[i]) / (2 * step); math.Abs(diff-d[i][j]) > 1e-3*steepest {
						t.Fatalf("dB%d/dH%d is %g, by differences %g", i, j, d[i][j], diff)
					}
				}
				if diff := (hi.w - lo.w) / (2 * step); math.Abs(diff-s.B[j]) > 1e-4 {
					t.Fatalf("B%d is %g, the coenergy's derivative %g", j, s.B[j], diff)
				}
			}
			if slope := normal(&s.D, (*[3]float64)(&n)); slope < m.slopeAlong()*(1-1e-9) {
				t.Fatalf("the slope %g is below the recoil line's %g", slope, m.slopeAlong())
			}
			back := m.inverse(s.B, q)
			for k := range h {
				if math.Abs(back[k]-h[k]) > 1e-3 {
					t.Fatalf("H %v comes back as %v", h, back)
				}
			}
		}))
	}
}

// circuit is a magnet and an air gap in series, closed by ideal steel (potential zero at both ends), along u, v or w. kept is what the magnet
// has kept, nil for all; it gives B at every quadrature point's extremes.
func circuit(t *testing.T, along int, magnet Medium, magnetLength, gap float64, share float64) (least, most float64) {
	t.Helper()
	x, y := 0.03, 0.03
	cuts := []float64{0, magnetLength, magnetLength + gap}
	var curves []shape.Edge
	switch along {
	case 0:
		x = cuts[2]
		curves = []shape.Edge{{A: r2.Vec{X: cuts[1]}, B: r2.Vec{X: cuts[1], Y: y}}}
	case 1:
		y = cuts[2]
		curves = []shape.Edge{{A: r2.Vec{Y: cuts[1]}, B: r2.Vec{X: x, Y: cuts[1]}}}
	}
	mesh := planOf(t, x, y, curves, func(r2.Vec) float64 { return 0.012 })
	faces := []float64{0, 0.015, 0.03}
	if along == 2 {
		faces = cuts
	}
	nl := len(faces) - 1
	cell := make([]int32, len(mesh.Triangles)*nl)
	kept := &Kept{slot: make([]int32, len(cell))}
	for tri := range mesh.Triangles {
		c := centroid(mesh, tri)
		for l := range nl {
			if at := []float64{c.X, c.Y, (faces[l] + faces[l+1]) / 2}[along]; at > cuts[1] {
				cell[tri*nl+l], kept.slot[tri*nl+l] = 1, -1
				continue
			}
			kept.slot[tri*nl+l] = int32(len(kept.share))
			var s [18]float64
			for i := range s {
				s[i] = share
			}
			kept.share = append(kept.share, s)
		}
	}
	media := []Medium{magnet, Air()}
	tm := newTeam()
	defer tm.close()
	s, err := newSystem(tm, mesh, faces, cell, media)
	if err != nil {
		t.Fatal(err)
	}
	if share != 1 {
		s.kept = kept
	}
	s.fixed.bottom, s.fixed.top = along == 2, along == 2
	for i, p := range mesh.Nodes {
		s.fixed.column[i] = along == 0 && (p.X == 0 || p.X == x) || along == 1 && (p.Y == 0 || p.Y == y)
	}
	s.addSources()
	phi, _ := solveAlone(t, s, 1e-12)
	least, most = math.Inf(1), math.Inf(-1)
	var v [6][3]float64
	var lw law
	for tri, e := range s.els {
		for l := range nl {
			for a, p := range mesh.Triangles[tri] {
				copy(v[a][:], phi[int(p)*s.nz+2*l:])
			}
			for i := range 18 {
				hf, q := fieldOf(&e, &v, i%6, i/6, faces[l], faces[l+1]-faces[l])
				c := cell[tri*nl+l]
				media[c].at(&hf, &q, &lw)
				if c == 0 && media[0].Linear {
					for k := range lw.B {
						lw.B[k] -= (1 - share) * media[0].Polarization[k]
					}
				}
				least, most = min(least, lw.B[along]), max(most, lw.B[along])
			}
		}
	}
	return least, most
}

// A magnet in series with a gap of ideal steel: by Ampere's law Hm Lm + B Lg/mu0 = 0, the load line of the textbooks (R. J. Parker, Advances
// in Permanent Magnetism, 1990, chapter on magnet circuits; from memory). The gap is chosen so that the line meets the curve at Hk, where J is
// 0.9 Br by definition (IEC 60404-8-1), so the answer needs no curve of ours. Tolerance 1e-9 T: the potential is linear in each part.
func TestLoadLineMeetsCurve(t *testing.T) {
	c := hotMagnet(t)
	const hk, length = -380e3, 0.02
	b := 0.9*1.2 + material.Mu0*hk
	gap := -hk * length * material.Mu0 / b
	// After the knee the magnet comes back on a recoil line through that point: remanence B - mu0 mu_rec H.
	left := (b - 1.05*material.Mu0*hk) / 1.2
	for along := range 3 {
		var n Vec
		n[along] = 1
		least, most := circuit(t, along, descending(c, n, 0, 1), length, gap, 1)
		if !(math.Abs(least-b) < 1e-9 && math.Abs(most-b) < 1e-9) {
			t.Errorf("along %c: B from %.10f to %.10f T, the load line meets the curve at %.10f T", "uvw"[along], least, most, b)
		}
		// Half the gap afterwards: B = g Br Lm/(Lm + mu_rec Lg), linear.
		var j Vec
		j[along] = 1.2
		want := left * 1.2 * length / (length + 1.05*gap/2)
		least, most = circuit(t, along, Isotropic(1.05, j), length, gap/2, left)
		if !(math.Abs(least-want) < 1e-9 && math.Abs(most-want) < 1e-9) {
			t.Errorf("along %c, weakened: B from %.10f to %.10f T, expected %.10f T", "uvw"[along], least, most, want)
		}
	}
	near(t, "share kept at Hk", c.Kept(hk), left, 1e-12)
}

// The same circuit with films of share r over the magnet's length, in series with it: Hm (s Lm) + B (r Lm + Lg)/mu0 = 0. The line again
// meets the curve at Hk.
func TestLoadLineWithFilms(t *testing.T) {
	c := hotMagnet(t)
	const hk, length, film = -380e3, 0.02, 0.04
	b := 0.9*1.2 + material.Mu0*hk
	bare := 1 - film/2.0
	gap := -hk*bare*length*material.Mu0/b - film*length
	for along := range 3 {
		var n Vec
		n[along] = 1
		least, most := circuit(t, along, descending(c, n, film, 1), length, gap, 1)
		if !(math.Abs(least-b) < 1e-9 && math.Abs(most-b) < 1e-9) {
			t.Errorf("along %c: B from %.10f to %.10f T, the load line meets the curve at %.10f T", "uvw"[along], least, most, b)
		}
	}
	m := descending(c, Vec{0, 0, 1}, film, 1)
	hm, v, _, _ := m.Descent.series(bare*hk + film*b/material.Mu0)
	near(t, "H in the magnet", hm, hk, 1e-10)
	near(t, "B in the magnet", v, b, 1e-10)
	near(t, "H in the magnet on the recoil line", m.Descent.inside(bare*-1e5+film*(1.2-1.05*material.Mu0*1e5)/material.Mu0, 1), -1e5, 1e-10)
}
