package polewright

import (
	"cmp"
	"context"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"gonum.org/v1/gonum/spatial/r3"

	"polewright/design"
	"polewright/measurement"
	"polewright/mistake"
	"polewright/result"
)

// This file says where to measure a built magnet, and what a probe should read there.

// The groups of places on a measurement sheet, in the order in which they are read.
const (
	SheetCentre  = "centre"
	SheetAxis    = "axis"
	SheetAcross  = "across"
	SheetCube    = "cube"
	SheetOutside = "outside"
	SheetYoke    = "yoke"
)

// SheetGroup is a group of places with how many there are along a line or an edge; 0 is the usual number.
type SheetGroup struct {
	Name string
	N    int
}

var sheetGroups = []SheetGroup{{SheetCentre, 1}, {SheetAxis, 9}, {SheetAcross, 9}, {SheetCube, 3}, {SheetOutside, 4}, {SheetYoke, 1}}

// ParseSheetGroups reads "axis 11, cube 5": groups of places by name, those along lines and edges with an odd number of places from 3 to 21. ""
// is all groups with their usual numbers. The error is a *mistake.Error.
func ParseSheetGroups(s string) ([]SheetGroup, error) {
	if strings.TrimSpace(s) == "" {
		return slices.Clone(sheetGroups), nil
	}
	var list []SheetGroup
	for _, part := range strings.Split(s, ",") {
		words := strings.Fields(part)
		fail := func(what string) ([]SheetGroup, error) {
			return nil, mistake.Of(fmt.Sprintf("%q: %s", strings.TrimSpace(part), what), `groups are centre, axis, across, cube, outside and yoke, for example "centre, axis 11, across 7, cube 3"`)
		}
		if len(words) == 0 || len(words) > 2 {
			return fail("no group of places")
		}
		i := slices.IndexFunc(sheetGroups, func(g SheetGroup) bool { return g.Name == words[0] })
		if i < 0 {
			return fail("no group of places")
		}
		g := sheetGroups[i]
		if slices.ContainsFunc(list, func(h SheetGroup) bool { return h.Name == g.Name }) {
			return fail("is given twice")
		}
		if len(words) == 2 {
			n, err := strconv.Atoi(words[1])
			most := 21
			if g.Name == SheetCube {
				most = 7
			}
			switch {
			case g.Name != SheetAxis && g.Name != SheetAcross && g.Name != SheetCube:
				return fail("takes no number")
			case err != nil || n < 3 || n > most || n%2 == 0:
				return fail(fmt.Sprintf("the number of places is odd, from 3 to %d", most))
			}
			g.N = n
		}
		list = append(list, g)
	}
	return list, nil
}

// SheetOptions says what a measurement sheet is made for.
type SheetOptions struct {
	Groups   []SheetGroup // nil: all
	Probe    measurement.Probe
	Accuracy Accuracy
	Progress func(what string, done float64)
}

// outsideM are the distances from the box of the parts at which the field outside is read (usual for maps of a gap magnet; common practice, no source).
var outsideM = [...]float64{0.1, 0.3, 0.5, 1}

const (
	// probeRoomM is the room that a probe needs round its active area.
	probeRoomM = 2e-3
	// hotT on the outside of a plate says that it is close to saturation (20 to 50 mT; common practice, no source).
	hotT = 0.02
	// bandFactor is the coverage factor of the bands: about 95 % of a normal distribution (JCGM 100:2008, 6.3.3).
	bandFactor = 2
)

// RunSheet predicts what a probe reads at the usual places of a design, with the band in which a sound build may lie: the root of the squares of
// the usual spreads of VerifiedDeviations times their sensitivities, and of the usual errors of the instrument, times 2.
func RunSheet(ctx context.Context, d *design.Design, o SheetOptions) (*result.Sheet, error) {
	if o.Groups == nil {
		o.Groups = sheetGroups
	}
	o.Accuracy = cmp.Or(o.Accuracy, Standard)
	list := slices.DeleteFunc(VerifiedDeviations(d), func(v Deviation) bool { return v.Step == 0 })
	s, err := SensitivityOf(ctx, d, list, o.Accuracy, o.Progress)
	if err != nil {
		return nil, err
	}
	return s.Sheet(o), nil
}

// Sheet is RunSheet with what is solved already.
func (s *Sensitivity) Sheet(o SheetOptions) *result.Sheet {
	v := &verifier{s: s, o: VerifyOptions{Probe: o.Probe}, d: s.Base.a.design, axis: GapAxis(s.Base.a.design)}
	out := &result.Sheet{Title: v.d.Title, Probe: o.Probe.String(), Axis: string("xyz"[v.axis]), ReferenceC: workingTemperature(v.d),
		Accuracy: s.Base.Result.Solver.Accuracy, Error: s.Base.Result.Solver.EstimatedError}
	for _, dev := range s.Deviations {
		out.Spreads = append(out.Spreads, result.FittedValue{Part: dev.Part, What: dev.What(), Unit: dev.Unit(), Sigma: dev.Spread, Usual: dev.Spread})
	}
	log := &measurement.Log{}
	var groups []string
	for _, g := range o.Groups {
		for _, p := range v.sheetPlaces(g) {
			c := v.axis
			if g.Name == SheetOutside || g.Name == SheetYoke { // that which tells most
				b := s.base(p)
				for k := range 3 {
					if math.Abs(*component(&b, k)) > 1.01*math.Abs(*component(&b, c)) {
						c = k
					}
				}
			}
			log.Readings = append(log.Readings, measurement.Reading{At: p, Component: measurement.Component(c), TemperatureC: math.NaN()})
			groups = append(groups, g.Name)
		}
	}
	m, _, names := v.model(log, &result.Verification{ReferenceC: out.ReferenceC})
	for i, r := range log.Readings {
		e := result.SheetEntry{Group: groups[i], At: array(r.At), Component: r.Component.String(), Predicted: m.Base[i], PerKelvin: v.warmth(m, i)}
		var build, probe float64
		outside := groups[i] == SheetOutside || groups[i] == SheetYoke
		for k, dev := range s.Deviations {
			if outside && dev.Kind == DeviatesTilt && len(v.d.Steels)+len(v.d.Wounds) > 0 {
				continue // with steel a tilt is modelled for the field in the gap: see Apply
			}
			build += math.Pow(m.Slope[k][i]*dev.Spread, 2)
		}
		for k, row := range m.Nuisance {
			probe += row[i] * row[i]
			if strings.HasPrefix(names[k], "place") {
				e.Gradient = math.Hypot(e.Gradient, row[i]/usualFrameM)
			}
		}
		probe += math.Pow(out.Error/100*m.Base[i], 2)
		e.Build, e.Band = bandFactor*math.Sqrt(build), bandFactor*math.Sqrt(build+probe)
		e.Hot = groups[i] == SheetYoke && math.Abs(e.Predicted) > hotT
		out.Readings = append(out.Readings, e)
	}
	return out
}

// tenths rounds a place to tenths of a millimetre, as it is printed.
func tenths(p r3.Vec) r3.Vec {
	for k := range 3 {
		x := component(&p, k)
		*x = math.Round(*x*1e4) / 1e4
	}
	return p
}

// sheetPlaces are the places of a group where a probe has room.
func (v *verifier) sheetPlaces(g SheetGroup) (list []r3.Vec) {
	a := v.s.Base.a
	add := func(p r3.Vec) {
		if p = tenths(p); a.clearance(p) >= probeRoomM*(1-1e-9) && !slices.Contains(list, p) {
			list = append(list, p)
		}
	}
	// room is how far a probe can go from the centre both ways along an axis, at most so far.
	room := func(axis int, most float64) float64 {
		const step = 0.25e-3
		far := 0.0
		for t := step; t <= most+1e-9; t += step {
			for _, way := range []float64{-t, t} {
				p := a.center
				*component(&p, axis) += way
				if a.clearance(p) < probeRoomM {
					return far
				}
			}
			far = t
		}
		return far
	}
	line := func(axis int, reach float64) {
		n := g.N
		if reach < 1e-3*float64(n-1)/2 {
			n = 5 // closer than a millimetre apart the places blur
		}
		for i := range n {
			p := a.center
			*component(&p, axis) += reach * (2*float64(i)/float64(n-1) - 1)
			add(p)
		}
	}
	outer := a.outer()
	half := func(axis int) float64 { return (*component(&outer.Max, axis) - *component(&outer.Min, axis)) / 2 }
	switch g.Name {
	case SheetCentre:
		add(a.center)
	case SheetAxis:
		line(v.axis, room(v.axis, half(v.axis)))
	case SheetAcross:
		width := sidesOf(v.d).width / 2
		for k := 1; k <= 2; k++ {
			axis := (v.axis + k) % 3
			line(axis, room(axis, math.Min(width, half(axis))))
		}
	case SheetCube:
		e := v.cubeEdges()
		for i := range g.N * g.N * g.N {
			p := a.center
			n := [3]int{i % g.N, i / g.N % g.N, i / g.N / g.N}
			for k := range 3 {
				*component(&p, k) += *component(&e, k) * (float64(n[k])/float64(g.N-1) - 0.5)
			}
			add(p)
		}
	case SheetOutside:
		for axis := range 3 {
			for _, far := range outsideM {
				p := a.center
				*component(&p, axis) = *component(&outer.Max, axis) + far
				add(p)
			}
		}
	case SheetYoke:
		list = v.hotSpots()
	}
	return list
}

// cubeEdges are the edges of the box of places in the region: its corners lie on the region's rim.
func (v *verifier) cubeEdges() r3.Vec {
	a := v.s.Base.a
	t := v.d.Target
	if t == nil || t.Region == nil {
		e := a.clearance(a.center) / math.Sqrt(3)
		return r3.Vec{X: e, Y: e, Z: e}
	}
	r := t.Region
	switch r.Shape {
	case design.Box:
		return r.SizeM
	case design.Cylinder:
		e := r.DiameterM / math.Sqrt2
		edges := r3.Vec{X: e, Y: e, Z: e}
		*component(&edges, r.Axis) = r.LengthM
		return edges
	}
	e := r.DiameterM / math.Sqrt(3)
	return r3.Vec{X: e, Y: e, Z: e}
}

// hotSpots are, for each side of the assembly that is steel, the place where the field outside is strongest, as far from the face as a probe needs.
func (v *verifier) hotSpots() (list []r3.Vec) {
	a := v.s.Base.a
	outer := a.outer()
	const n = 9
	for axis := range 3 {
		for _, way := range []float64{-1, 1} {
			open := false // where magnets come as far out, leakage says nothing of the steel
			for _, q := range a.parts {
				b := shapeBounds(q)
				face := math.Max(way**component(&b.Min, axis), way**component(&b.Max, axis))
				out := math.Max(way**component(&outer.Min, axis), way**component(&outer.Max, axis))
				open = open || q.Kind == "magnet" && face > out-1e-3
			}
			if open {
				continue
			}
			var best r3.Vec
			most := 0.0
			for i := range n * n {
				p := a.center
				for k, j := range []int{i % n, i / n} {
					o := (axis + 1 + k) % 3
					lo, hi := *component(&outer.Min, o), *component(&outer.Max, o)
					*component(&p, o) = lo + (hi-lo)*(float64(j)+0.5)/n
				}
				top, steel := math.Inf(-1), false
				for _, q := range a.parts {
					b := shapeBounds(q)
					over := true
					for k := 1; k <= 2; k++ {
						o := (axis + k) % 3
						over = over && *component(&p, o) > *component(&b.Min, o) && *component(&p, o) < *component(&b.Max, o)
					}
					face := math.Max(way**component(&b.Min, axis), way**component(&b.Max, axis))
					if over && face > top {
						top, steel = face, q.Kind != "magnet"
					}
				}
				if !steel {
					continue
				}
				*component(&p, axis) = way * (top + probeRoomM)
				p = tenths(p)
				if c := a.clearance(p); c < 0.9*probeRoomM || c > 1.5*probeRoomM {
					continue
				}
				if b := r3.Norm(v.s.base(p)); b > most*(1+1e-6) {
					best, most = p, b
				}
			}
			if most > 0 {
				list = append(list, best)
			}
		}
	}
	return list
}
