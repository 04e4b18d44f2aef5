package published

import (
	"context"
	"fmt"
	"math"
	"strings"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"

	"polewright"
	"polewright/axisymmetric"
	"polewright/design"
	"polewright/material"
	"polewright/result"
	"polewright/shape"
)

// This file holds problems with exact answers that go through the whole program: coils, steel, recoil.

// predict solves a design as the command line does, without its ledger of losses.
func predict(ctx context.Context, text string, a polewright.Accuracy, change func(*design.Design)) (*result.Result, error) {
	d, err := design.Read(strings.NewReader(text), "")
	if err != nil {
		return nil, err
	}
	if change != nil {
		change(d)
	}
	s, err := polewright.Run(ctx, d, polewright.Options{Accuracy: a, NoLedger: true})
	if err != nil {
		return nil, err
	}
	return s.Result, nil
}

// probed reads Bz of the i-th probe.
func probed(i int) func(*result.Result) (float64, error) {
	return func(r *result.Result) (float64, error) { return r.Probes[i].B[2], nil }
}

// coils are coils in free space.
func coils() (list []Check) {
	const source = "thick solenoid, B on the axis: D. B. Montgomery, Solenoid Magnet Design (1969), section 1.2"
	const inner, outer, height, turns = 0.03, 0.05, 0.1, 10000.0
	onAxis := func(z float64) float64 {
		f := func(z float64) float64 {
			return z * math.Log((outer+math.Hypot(outer, z))/(inner+math.Hypot(inner, z)))
		}
		return material.Mu0 * turns / height / (outer - inner) / 2 * (f(z+height/2) - f(z-height/2))
	}
	text := "format = 1\ntitle = \"thick solenoid\"\n[[coil]]\nname = \"coil\"\nshape = \"ring\"\naxis = \"z\"\ncenter = [\"0 mm\",\"0 mm\",\"0 mm\"]\nheight = \"100 mm\"\nouter_diameter = \"100 mm\"\ninner_diameter = \"60 mm\"\nampere_turns = \"10000 A\"\n"
	places := []float64{0, 20, 40, 80}
	for _, z := range places {
		text += fmt.Sprintf("[[probe]]\nname = \"z %g\"\nat = [\"0 mm\",\"0 mm\",\"%g mm\"]\n", z, z)
	}
	// Alone it is solved in closed form; a block of permeability 1 in its bore, which is nothing, puts it on a grid.
	gridded := text + "[[steel]]\nname = \"nothing\"\nshape = \"block\"\nsize = [\"10 mm\",\"10 mm\",\"10 mm\"]\ncenter = [\"0 mm\",\"0 mm\",\"0 mm\"]\nmaterial = \"steel-1018\"\n"
	alone := shared(func(ctx context.Context) (*result.Result, error) { return predict(ctx, text, polewright.Standard, nil) })
	grid := shared(func(ctx context.Context) (*result.Result, error) {
		return predict(ctx, gridded, polewright.Standard, permeable(1))
	})
	for i, z := range places {
		name := fmt.Sprintf("coil 100/60 x 100 mm, 10 kA: B on the axis %g mm from the middle", z)
		list = append(list,
			Check{Name: name, Published: round(onAxis(z/1000), 6), Unit: "T", Tolerance: 2e-6, Why: lastDigit + "; quadrature over the winding", Solve: alone(probed(i))}.of(source, Worked),
			Check{Name: name + ", on a grid", Published: round(onAxis(z/1000), 6), Unit: "T", Tolerance: 1e-3 * onAxis(z/1000), Why: "the standard accuracy, 0.1 %", Long: true,
				Solve: grid(probed(i))}.of(source, Worked))
	}
	return list
}

// permeable replaces all steel by one of constant relative permeability, 1 or more.
func permeable(mu float64) func(*design.Design) {
	return func(d *design.Design) {
		curve, err := material.Linear("linear", mu)
		if err != nil {
			return // not for 1 or more
		}
		for i := range d.Steels {
			d.Steels[i].Material.Curve = curve
		}
	}
}

// spheres are a sphere and spherical shells in a uniform field, that of a wide pair of coils.
func spheres() (list []Check) {
	const source = "sphere and spherical shell in a uniform field: J. D. Jackson, Classical Electrodynamics, section 5.12"
	const radius = 0.01
	const why = "the coils' field changes by 1e-4 over the sphere; cells of second order"
	for _, mu := range []float64{10, 100, 1000} {
		list = append(list, Check{Name: fmt.Sprintf("sphere of permeability %g: mean B over the outer field", mu), Published: round(3*mu/(mu+2), 6), Tolerance: 3e-4 * 3 * mu / (mu + 2), Why: why,
			Solve: func(ctx context.Context) (float64, error) { return sphere(ctx, radius, 0, mu) }}.of(source, Worked))
	}
	for _, p := range []struct{ mu, want float64 }{{10, 0.672133}, {100, 0.144878}, {1000, 0.0163661}} {
		list = append(list, Check{Name: fmt.Sprintf("spherical shell, radii 9:10, permeability %g: B in the hole over the outer field", p.mu), Published: p.want, Tolerance: 5e-4 * p.want, Why: why,
			Solve: func(ctx context.Context) (float64, error) { return sphere(ctx, radius, 0.9*radius, p.mu) }}.of(source, Worked))
	}
	return list
}

// sphere is the mean B of a sphere, or B in the hole of a shell, over the field of the coils alone.
func sphere(ctx context.Context, outer, inner, mu float64) (float64, error) {
	bottom, side, top := r2.Vec{Y: -outer}, r2.Vec{X: outer}, r2.Vec{Y: outer}
	section := shape.Loop{{A: bottom, B: side, Radius: outer, CCW: true}, {A: side, B: top, Radius: outer, CCW: true}}
	if inner == 0 {
		section = append(section, shape.Edge{A: top, B: bottom})
	} else {
		up, out, down := r2.Vec{Y: inner}, r2.Vec{X: inner}, r2.Vec{Y: -inner}
		section = append(section, shape.Edge{A: top, B: up}, shape.Edge{A: up, B: out, Radius: inner}, shape.Edge{A: out, B: down, Radius: inner}, shape.Edge{A: down, B: bottom})
	}
	// Helmholtz's pair, twelve radii wide; thin enough that its field in the middle is that of loops, corrected to second order.
	wide := 12 * outer
	half := wide / 50
	const turns = 2e5
	coil := axisymmetric.Coil{Name: "upper", Inner: wide - half, Outer: wide + half, Low: wide/2 - half, High: wide/2 + half, AmpereTurns: turns}
	mirrored := coil
	mirrored.Name, mirrored.Low, mirrored.High = "lower", -coil.High, -coil.Low
	f := func(z float64) float64 {
		return z * math.Log((coil.Outer+math.Hypot(coil.Outer, z))/(coil.Inner+math.Hypot(coil.Inner, z)))
	}
	free := material.Mu0 * turns / (4 * half * half) * (f(coil.High) - f(coil.Low)) // two coils, each mu0 j/2
	_, s, err := axisymmetric.Solve(ctx, &axisymmetric.Problem{Turn: shape.Identity(), Levels: 2, Density: 1, Coils: []axisymmetric.Coil{coil, mirrored},
		Bodies: []axisymmetric.Body{{Name: "sphere", Section: section, Medium: axisymmetric.Medium{Radial: mu, Axial: mu}}}}, nil)
	if err != nil {
		return 0, err
	}
	if inner == 0 {
		return s.Bodies()[0].MeanB / free, nil
	}
	e, err := s.Inside(r3.Vec{}, inner/3)
	if err != nil {
		return 0, err
	}
	return e.Field(r3.Vec{}).Z / free, nil
}

// images are magnets before steel of very large permeability, which is a mirror.
func images() (list []Check) {
	ideal := permeable(1e5)
	list = append(list, Check{Name: "block 50 x 50 x 25 mm, 1.30 T, 15 mm over a plate of permeability 1e5: attraction", Published: 123.783, Unit: "N", Tolerance: 0.5, Long: true,
		Why: "the plate ends at six widths of the block, which costs 0.1 %; forces to 0.3 %", Solve: func(ctx context.Context) (float64, error) {
			r, err := predict(ctx, blockOverPlate, polewright.Standard, ideal)
			if err != nil {
				return 0, err
			}
			return -r.Parts[0].Force[2], nil
		}}.of("a magnet before ideal iron feels its mirror image: force of two blocks at twice the gap, G. Akoun, J.-P. Yonnet 1984", Worked))
	const source = "two discs between ideal plates: field of the magnets and all their mirror images, sum of (Br/2)(1 - d/sqrt(R^2+d^2)) over both plates"
	for _, p := range []struct{ t, g, want float64 }{{10, 20, 0.466}, {20, 20, 0.570}, {20, 50, 0.240}} {
		text := fmt.Sprintf(discsBetweenPlates, p.t, (p.g+p.t)/2, p.g/2+p.t+10, p.g+2*p.t)
		list = append(list, Check{Name: fmt.Sprintf("discs 50 x %g mm, gap %g mm, between ideal plates: B in the middle over the remanence", p.t, p.g), Published: p.want, Tolerance: 6e-4,
			Why: "three decimals are given; the standard accuracy", Solve: func(ctx context.Context) (float64, error) {
				r, err := predict(ctx, text, polewright.Standard, ideal)
				if err != nil {
					return 0, err
				}
				return r.GapB[2], nil
			}}.of(source, Worked))
	}
	return list
}

const blockOverPlate = `
format = 1
title = "block over a wide plate"
[[magnet]]
name = "magnet"
shape = "block"
size = ["50 mm", "50 mm", "25 mm"]
center = ["0 mm", "0 mm", "27.5 mm"]
magnetized = [0, 0, 1]
remanence = "1.30 T"
recoil = 1
[[steel]]
name = "plate"
shape = "block"
size = ["300 mm", "300 mm", "20 mm"]
center = ["0 mm", "0 mm", "-10 mm"]
material = "steel-1018"
`

// discsBetweenPlates takes the discs' thickness and place, the plates' place and the height of the wall that closes them, mm.
const discsBetweenPlates = `
format = 1
title = "discs between plates"
[[magnet]]
name = "upper"
shape = "disc"
diameter = "50 mm"
thickness = "%[1]g mm"
axis = "z"
center = ["0 mm", "0 mm", "%[2]g mm"]
magnetized = [0, 0, 1]
remanence = "1 T"
recoil = 1
[[magnet]]
name = "lower"
shape = "disc"
diameter = "50 mm"
thickness = "%[1]g mm"
axis = "z"
center = ["0 mm", "0 mm", "-%[2]g mm"]
magnetized = [0, 0, 1]
remanence = "1 T"
recoil = 1
[[steel]]
name = "top"
shape = "disc"
diameter = "500 mm"
thickness = "20 mm"
axis = "z"
center = ["0 mm", "0 mm", "%[3]g mm"]
material = "steel-1018"
[[steel]]
name = "bottom"
shape = "disc"
diameter = "500 mm"
thickness = "20 mm"
axis = "z"
center = ["0 mm", "0 mm", "-%[3]g mm"]
material = "steel-1018"
[[steel]]
name = "wall"
shape = "ring"
outer_diameter = "500 mm"
inner_diameter = "480 mm"
thickness = "%[4]g mm"
axis = "z"
center = ["0 mm", "0 mm", "0 mm"]
material = "steel-1018"
`

// round keeps so many decimals of a worked value.
func round(x float64, decimals int) float64 {
	s := math.Pow(10, float64(decimals))
	return math.Round(x*s) / s
}

// meshedFactors are demagnetizing factors again, now of a magnet on a grid: mean H over mean M as predict gives them.
func meshedFactors() (list []Check) {
	const head = "format = 1\ntitle = \"lone magnet\"\n[[magnet]]\nname = \"magnet\"\ncenter = [\"0 mm\",\"0 mm\",\"0 mm\"]\nmagnetized = [0, 0, 1]\nremanence = \"1 T\"\nrecoil = 1.0001\n"
	for _, c := range []struct {
		name, shape, source string
		want                float64
	}{
		{"prism 20 x 20 x 10 mm", "shape = \"block\"\nsize = [\"20 mm\",\"20 mm\",\"10 mm\"]\n", "A. Aharoni, J. Appl. Phys. 83 (1998) 3432, eq. 1", 0.495922},
		{"cylinder 20 x 10 mm", "shape = \"disc\"\naxis = \"z\"\ndiameter = \"20 mm\"\nthickness = \"10 mm\"\n", "D.-X. Chen, J. A. Brug, R. B. Goldfarb, IEEE Trans. Magn. 27 (1991) 3601, susceptibility 0", 0.474490},
	} {
		list = append(list, Check{Name: "demagnetizing factor of a " + c.name + " on a grid", Published: c.want, Tolerance: 1e-3 * c.want, Why: "at the accuracy fine; a mean over the magnet, with H without bound at its edges, converges slower than the field in a gap", Long: true,
			Solve: func(ctx context.Context) (float64, error) {
				r, err := predict(ctx, head+c.shape, polewright.Fine, nil)
				if err != nil {
					return 0, err
				}
				w := r.Parts[0].WorkingPoint
				if w == nil {
					return 0, fmt.Errorf("the magnet has no working point")
				}
				return -material.Mu0 * w.H / (w.B - material.Mu0*w.H), nil
			}}.of(c.source, Worked))
	}
	return list
}
