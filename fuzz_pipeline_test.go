package polewright

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"math"
	"math/rand/v2"
	"reflect"
	"strings"
	"testing"
	"time"

	"gonum.org/v1/gonum/integrate/quad"
	"gonum.org/v1/gonum/spatial/r3"

	"polewright/design"
	"polewright/material"
	"polewright/mistake"
	"polewright/result"
	"polewright/shape"
)

// This file sends random valid designs through the whole pipeline. Nothing is known of their fields but the laws that every field keeps.

// choices makes a design of bytes: each decides one thing, and those that are missing count as zero, so every input is a design and a byte
// changed is a design changed a little.
type choices []byte

func (c *choices) of(n int) int {
	if len(*c) == 0 {
		return 0
	}
	b := int((*c)[0])
	*c = (*c)[1:]
	return b % n
}

func (c *choices) mm(least, most int) float64 { return float64(least + c.of(most-least+1)) }

func pick[T any](c *choices, list ...T) T { return list[c.of(len(list))] }

func (c *choices) magnetized(direction string) string {
	s := "magnetized = " + direction + "\n"
	switch c.of(4) {
	case 0:
		s += fmt.Sprintf("remanence = \"%g T\"\nrecoil = %g\n", 0.2+0.1*float64(c.of(13)), pick(c, 1.0, 1.05, 1.3))
	case 1:
		s += fmt.Sprintf("remanence = \"1.2 T\"\nrecoil = 1.05\ncoercivity = \"%d kA/m\"\n", 960+c.of(8)*100)
	default:
		s += fmt.Sprintf("grade = %q\n", pick(c, "N42", "N35SH", "N52", "Y30"))
	}
	if c.of(4) == 3 {
		s += "coating = \"0.02 mm\"\n"
	}
	return s
}

func (c *choices) steel() string {
	return fmt.Sprintf("material = %q\n", pick(c, "steel-1018", "steel-1010", "pure-iron", "hard-wire"))
}

func (c *choices) direction() string {
	return pick(c, "[0,0,1]", "[0,0,-1]", "[1,0,0]", "[0,-1,0]", "[1,2,3]")
}

// round is a stack of bodies of revolution, with a coil about it now and then.
func (c *choices) round() *sketch {
	s, z := &sketch{}, 0.0
	for i := range 1 + c.of(4) {
		name, d, t := fmt.Sprintf("part %d", i+1), c.mm(6, 40), c.mm(3, 20)
		hole := math.Floor(d * pick(c, 0.2, 0.5, 0.8))
		switch m := "axis = \"z\"\n" + c.magnetized(pick(c, "[0,0,1]", "[0,0,-1]")); c.of(5) {
		case 0:
			s.round("magnet", name, d, t, z+t/2, m)
		case 1:
			s.ring("magnet", name, d, hole, t, z+t/2, m)
		case 2:
			s.round("steel", name, d, t, z+t/2, c.steel())
		case 3:
			s.ring("steel", name, d, hole, t, z+t/2, c.steel())
		default:
			s.tip(name, d, hole, t, z+t/2, c.of(2) == 1)
		}
		z += t + pick(c, 0, 2, 0.5, 8)
	}
	if c.of(3) == 2 {
		s.part("coil", "coil", "shape = \"ring\"\nampere_turns = \"%d A\"\naxis = \"z\"\ncenter = %s\nheight = \"4 mm\"\nouter_diameter = \"60 mm\"\ninner_diameter = \"50 mm\"", 200*(c.of(9)-4), triple(0, 0, c.mm(-10, 30)))
	}
	return s
}

// piled is a pile of blocks and discs that need not stand over one another.
func (c *choices) piled() *sketch {
	s, z, apart := &sketch{}, 0.0, 0.0
	for i := range 1 + c.of(3) {
		name, size := fmt.Sprintf("part %d", i+1), [3]float64{c.mm(4, 40), c.mm(4, 40), c.mm(3, 20)}
		at := [3]float64{pick(c, 0.0, 0, 5, -3), pick(c, 0.0, 0, 7), z + size[2]/2}
		switch c.of(4) {
		case 0:
			s.magnet(name, size, at, c.magnetized(c.direction()))
		case 1:
			s.part("magnet", name, "shape = \"disc\"\ndiameter = \"%g mm\"\nthickness = \"%g mm\"\ncenter = %s\n%s", size[0], size[2], triple(at[0], at[1], at[2]), c.magnetized(c.direction()))
		default:
			s.part("steel", name, "shape = \"block\"\nsize = %s\ncenter = %s\n%s", triple(size[0], size[1], size[2]), triple(at[0], at[1], at[2]), c.steel())
		}
		if i > 0 && apart == 0 && c.of(2) == 1 {
			fmt.Fprintf(s, "[[joint]]\nbetween = [\"part %d\",%q]\nthickness = \"0.05 mm\"\n", i, name)
		}
		apart = pick(c, 0, 3, 0.1, 12)
		z += size[2] + apart
	}
	return s
}

// apart is parts that stand anyhow, each in a ball of its own.
func (c *choices) apart() *sketch {
	s := &sketch{}
	for i := range 1 + c.of(3) {
		name, size := fmt.Sprintf("part %d", i+1), [3]float64{c.mm(4, 16), c.mm(4, 16), c.mm(4, 16)}
		at := [3]float64{float64(i%2)*30 + c.mm(0, 2), float64(i/2) * 30, c.mm(-8, 8)}
		turn := fmt.Sprintf("rotate = [\"%d deg\",\"%d deg\",\"%d deg\"]\n", 15*c.of(7), 15*c.of(7), 15*c.of(7))
		if i == 0 || c.of(3) > 0 {
			s.magnet(name, size, at, turn+c.magnetized(c.direction()))
			continue
		}
		s.part("steel", name, "shape = \"block\"\nsize = %s\ncenter = %s\n%s%s", triple(size[0], size[1], size[2]), triple(at[0], at[1], at[2]), turn, c.steel())
	}
	return s
}

// built is one of the usual arrangements.
func (c *choices) built() *sketch {
	x, y, t, gap, back, leg := c.mm(10, 40), c.mm(10, 40), c.mm(3, 20), c.mm(2, 20), c.mm(4, 20), c.mm(3, 16)
	switch c.of(7) {
	case 0:
		return cframe(x, y, t, gap, back, leg)
	case 1:
		return pot(x, t, gap, leg)
	case 2:
		top := math.Floor(x / 2)
		return tipped(x, t, gap, x-1, top, back/2, leg)
	case 3:
		return halbach(4+2*c.of(4), gap+6, gap+6+t, y, false)
	case 4:
		return halbach(4+2*c.of(3), gap+20, gap+20+t, y, true)
	case 5:
		return wound(400+100*c.of(12), pick(c, "16 SWG", "18 AWG"), pick(c, "annealed-wire", "hard-wire"))
	}
	return framed(x, y, t, gap, back, leg)
}

// randomDesign is the text of a design of some bytes.
func randomDesign(input []byte) string {
	c := choices(input)
	s := [](func() *sketch){c.round, c.piled, c.apart, c.built}[c.of(4)]()
	text := "format = 1\ntitle = \"random, invented\"\n"
	if c.of(2) == 1 {
		text += fmt.Sprintf("[target]\nfield = \"0.3 T\"\nstray = { limit = \"0.5 mT\", distance = \"200 mm\" }\ntemperature = { working = \"%d degC\", max = \"%d degC\" }\n", 10+c.of(20), 40+20*c.of(7))
		if c.of(2) == 1 {
			text += fmt.Sprintf("region = { shape = \"sphere\", diameter = \"1 mm\", center = %s }\n", triple(0, 0, c.mm(-30, 60)))
		}
	}
	for i := range c.of(3) {
		text += fmt.Sprintf("[[probe]]\nname = \"probe %d\"\nat = %s\n", i+1, triple(c.mm(-30, 30), c.mm(-30, 30), c.mm(-30, 60)))
	}
	return text + s.String()
}

// coarse is an effort of some tenths of a second. The laws below are kept within what such a grid can do: they catch a sign, a mirror, a part left
// out, a unit. How exact the numbers are is the matter of other tests.
var coarse = Accuracy{"coarse", 100, 2, 0.2, 1}

// slowest is how long a random design may take: Go's fuzzing ends a target that spends 10 s on one input.
const slowest = 5 * time.Second

// solveRandom solves a random design; ok is false for one that is refused, as it should be: with a reason, file and all; and for one that takes too long.
func solveRandom(t testing.TB, text string, accuracy Accuracy) (d *design.Design, s *Solved, ok bool) {
	t.Helper()
	refused := func(err error) bool {
		var mistakes mistake.Errors
		if errors.As(err, &mistakes) {
			for _, e := range mistakes {
				if e.What == "" || e.File == "" {
					t.Errorf("a mistake that says nothing: %+v", e)
				}
			}
			return true
		}
		return false
	}
	d, err := design.Read(strings.NewReader(text), "random.toml")
	if err != nil {
		if !refused(err) {
			t.Fatalf("%v\n%s", err, text)
		}
		return nil, nil, false
	}
	// Few designs take the ledger and the temperatures too: their draft solves cost ten times the rest.
	ctx, cancel := context.WithTimeout(t.Context(), slowest)
	defer cancel()
	s, err = Run(ctx, d, Options{Accuracy: accuracy, MemoryBytes: 1 << 30, NoLedger: len(text)%16 > 0, NoDemagnetization: len(text)%16 > 1})
	if err != nil {
		if !refused(err) && !errors.Is(err, context.DeadlineExceeded) {
			t.Fatalf("%v\n%s", err, text)
		}
		return nil, nil, false
	}
	return d, s, true
}

// Every random design keeps the laws; TestRandomDesignsAreValid sees to it that they are not all refused.
func FuzzPipeline(f *testing.F) {
	for _, input := range someInputs(8) {
		f.Add(input)
	}
	f.Fuzz(func(t *testing.T, input []byte) {
		text := randomDesign(input)
		d, s, ok := solveRandom(t, text, coarse)
		if !ok {
			t.Skip("refused")
		}
		broken := unsound(s.Result)
		if len(broken) == 0 {
			broken = lawsBroken(d, s)
			if len(broken) > 0 { // which a finer grid has to mend: near sharp rims that touch, forces settle slowly
				if d, s, ok = solveRandom(t, text, Draft); !ok {
					t.Skip("too slow on a finer grid")
				}
				broken = append(unsound(s.Result), lawsBroken(d, s)...)
			}
		}
		for _, b := range broken {
			t.Errorf("%s\n%s", b, text)
		}
	})
}

// someInputs is the same list every time.
func someInputs(n int) (list [][]byte) {
	r := rand.New(rand.NewPCG(1, 2))
	for i := range n {
		b := make([]byte, 64)
		for k := range b {
			b[k] = byte(r.Uint32())
		}
		b[0] = byte(i)
		list = append(list, b)
	}
	return list
}

// Of the random designs most are valid, of every kind some.
func TestRandomDesignsAreValid(t *testing.T) {
	valid, kinds := 0, map[string]int{}
	inputs := someInputs(400)
	for _, input := range inputs {
		d, err := design.Read(strings.NewReader(randomDesign(input)), "random.toml")
		if err != nil {
			continue
		}
		valid++
		kinds["magnet"] += len(d.Magnets)
		kinds["steel"] += len(d.Steels)
		kinds["wound"] += len(d.Wounds)
		kinds["coil"] += len(d.Coils)
		kinds["joint"] += len(d.Joints)
		kinds["probe"] += len(d.Probes)
	}
	t.Logf("%d of %d are valid, with %v", valid, len(inputs), kinds)
	if valid < len(inputs)/2 || len(kinds) != 6 {
		t.Errorf("%d of %d are valid, with %v", valid, len(inputs), kinds)
	}
	for kind, n := range kinds {
		if n < 5 {
			t.Errorf("%d of kind %s", n, kind)
		}
	}
}

// unsound names what no result may hold, however coarse its grid.
func unsound(r *result.Result) (broken []string) {
	add := func(format string, args ...any) { broken = append(broken, fmt.Sprintf(format, args...)) }
	notFinite(reflect.ValueOf(r), "result", add)
	if _, err := json.Marshal(r); err != nil {
		add("no JSON: %v", err)
	}
	if len(broken) == 0 {
		inBounds(r, add)
	}
	return broken
}

// lawsBroken names the laws that a solved design does not keep.
func lawsBroken(d *design.Design, s *Solved) (broken []string) {
	r := s.Result
	add := func(format string, args ...any) { broken = append(broken, fmt.Sprintf(format, args...)) }
	force, torque, size, arm := balance(d, r)
	if force > stressShare*size {
		add("the forces add up to %.2g N, %.2g of the stress on all surfaces", force, force/size)
	}
	if torque > stressShare*size*arm {
		add("the torques about the middle add up to %.2g N m, %.2g of the stress on all surfaces times the size", torque, torque/(size*arm))
	}
	if sum, scale := magnetEnergy(d, r); len(d.Coils) == 0 && scale > 0 && !(sum < 0) {
		add("the field does the work %g J on the magnets' polarization: it must oppose it", sum)
	}
	for _, box := range airBoxes(d) {
		if net, gross := boxFlux(s, box); math.Abs(net) > fluxShare(r)*gross {
			add("the flux out of the box %v is %.2g of that through its faces", box, net/gross)
		}
	}
	return broken
}

// notFinite looks at every number of a value.
func notFinite(v reflect.Value, path string, add func(string, ...any)) {
	switch v.Kind() {
	case reflect.Float64:
		if f := v.Float(); math.IsNaN(f) || math.IsInf(f, 0) {
			add("%s is %v", path, f)
		}
	case reflect.Pointer, reflect.Interface:
		if !v.IsNil() {
			notFinite(v.Elem(), path, add)
		}
	case reflect.Struct:
		for i := range v.NumField() {
			notFinite(v.Field(i), path+"."+v.Type().Field(i).Name, add)
		}
	case reflect.Slice, reflect.Array:
		for i := range v.Len() {
			notFinite(v.Index(i), fmt.Sprintf("%s[%d]", path, i), add)
		}
	}
}

// inBounds looks at numbers that mean a share, a size or an order.
func inBounds(r *result.Result, add func(string, ...any)) {
	check := func(ok bool, format string, args ...any) {
		if !ok {
			add(format, args...)
		}
	}
	check(r.MassKg > 0 || len(r.Parts) == 1, "the mass is %g kg", r.MassKg)
	check(r.Solver.EstimatedError >= 0, "the error is %g %%", r.Solver.EstimatedError)
	if g := r.Region; g != nil {
		const slack = 1 + 1e-12 // the mean is rounded
		check(g.MinB <= g.MeanB*slack && g.MeanB <= g.MaxB*slack && g.PeakToPeak >= 0 && g.RMS >= 0, "the region is %+v", *g)
	}
	for _, p := range r.Parts {
		check(p.MeanB >= 0 && p.MaxB >= p.MeanB*(1-1e-9), "%s: mean %g T, highest %g T", p.Name, p.MeanB, p.MaxB)
		check(p.MaxB < 10, "%s: %g T", p.Name, p.MaxB)
		if w := p.WorkingPoint; w != nil {
			check(w.PastKnee >= 0 && w.PastKnee <= 1+1e-9 && w.RemanenceKept <= 1+1e-9, "%s: %+v", p.Name, *w)
		}
	}
	for i, s := range r.Stray {
		least := math.Max(s.Reach.X, math.Max(s.Reach.Y, s.Reach.Z))
		check(s.Largest >= 0 && s.Largest >= least*(1-0.02), "stray %+v", s)
		for _, o := range r.Stray[:i] {
			check((s.Limit-o.Limit)*(s.Largest-o.Largest) <= 1e-6*s.Limit*s.Largest, "the reach of %g T is %g m, that of %g T %g m", s.Limit, s.Largest, o.Limit, o.Largest)
		}
	}
}

// balance sums the forces and the torques about the middle of the assembly (Newton's third law). size is the pressure B^2/(2 mu0) of each part's
// mean flux density over the faces of its bounding box, which bounds what a force is made of, all parts together; arm is the assembly's half diagonal.
func balance(d *design.Design, r *result.Result) (force, torque, size, arm float64) {
	bodies := map[string]*design.Body{}
	for _, p := range d.Parts() {
		bodies[p.Name] = p.Body
	}
	for i := range d.Coils {
		bodies[d.Coils[i].Name] = d.Coils[i].Body()
	}
	var f, m r3.Vec
	for _, p := range r.Parts {
		b := bodies[p.Name]
		from := r3.Sub(b.Place.Center, vector(r.CenterM))
		f = r3.Add(f, vector(p.Force))
		m = r3.Add(m, r3.Add(vector(p.Torque), r3.Cross(from, vector(p.Force))))
		h := b.Solid.HalfExtent()
		size += p.MeanB * p.MeanB / (2 * material.Mu0) * 8 * (h.X*h.Y + h.Y*h.Z + h.Z*h.X)
		arm = math.Max(arm, r3.Norm(from)+r3.Norm(h))
	}
	return r3.Norm(f), r3.Norm(m), size, arm
}

// stressShare is how much of balance's size may be left on a coarse grid; over 220 random designs 1.3 % was seen at most, and 5.2 % where steel is
// cut by the grid.
const stressShare = 0.1

// fluxShare is how much of the flux through a box may be left over on a coarse grid; over 220 random designs 12 % was seen at most.
func fluxShare(r *result.Result) float64 {
	for _, p := range r.Parts {
		if p.Cut {
			return 0.5
		}
	}
	return 0.2
}

// magnetEnergy is the sum of J H over the magnets. B H vanishes when it is summed over all space, for B has no sources and H no curl where there is no
// current; with B = mu0 mu H + J in magnets, J H is what the positive rest leaves (Jackson, Classical Electrodynamics, problem 5.21, from memory: the
// integral of B.H of permanent magnets is zero). scale is the sum of absolute values.
func magnetEnergy(d *design.Design, r *result.Result) (sum, scale float64) {
	for i, m := range d.Magnets {
		e := m.Material.At(r.TempC).RemanenceT * r.Parts[i].WorkingPoint.H * m.Solid.Volume()
		sum, scale = sum+e, scale+math.Abs(e)
	}
	return sum, scale
}

// airBoxes are boxes whose faces lie in air: about all parts, and about the first part that leaves room.
func airBoxes(d *design.Design) (boxes []r3.Box) {
	var bounds []r3.Box
	for _, p := range d.Parts() {
		bounds = append(bounds, shape.Bounds(p.Solid, p.Place))
	}
	for i := range d.Coils {
		b := d.Coils[i].Body()
		bounds = append(bounds, shape.Bounds(b.Solid, b.Place))
	}
	all := bounds[0]
	wider := func(b r3.Box, room float64) r3.Box {
		m := r3.Vec{X: room, Y: room, Z: room}
		return r3.Box{Min: r3.Sub(b.Min, m), Max: r3.Add(b.Max, m)}
	}
	const room = 4e-3
	for i, b := range bounds {
		all = all.Union(b)
		lone := true
		for k, o := range bounds {
			w := wider(b, 1.5*room)
			lone = lone && (k == i || w.Max.X < o.Min.X || o.Max.X < w.Min.X || w.Max.Y < o.Min.Y || o.Max.Y < w.Min.Y || w.Max.Z < o.Min.Z || o.Max.Z < w.Min.Z)
		}
		if lone && len(bounds) > 1 && len(boxes) == 0 {
			boxes = append(boxes, wider(b, room))
		}
	}
	h := all.Size()
	return append(boxes, wider(all, 0.3*math.Max(h.X, math.Max(h.Y, h.Z)))) // far enough for the field to be smooth on its faces
}

// boxFlux is the flux out of a box, and the sum of its size over the faces, Wb, by Gauss's rule.
func boxFlux(s *Solved, box r3.Box) (net, gross float64) {
	const n = 8
	var at, weight [n]float64
	quad.Legendre{}.FixedLocations(at[:], weight[:], 0, 1)
	size := box.Size()
	for axis := range 3 {
		i, j := (axis+1)%3, (axis+2)%3
		for _, side := range []float64{-1, 1} {
			for a := range n {
				for b := range n {
					x := box.Min
					if side > 0 {
						*component(&x, axis) = *component(&box.Max, axis)
					}
					*component(&x, i) += at[a] * *component(&size, i)
					*component(&x, j) += at[b] * *component(&size, j)
					v, _ := s.Field(x)
					flux := weight[a] * *component(&size, i) * weight[b] * *component(&size, j) * *component(&v, axis)
					net, gross = net+side*flux, gross+math.Abs(flux)
				}
			}
		}
	}
	return net, gross
}
