package design

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"gonum.org/v1/gonum/spatial/r3"

	"polewright/material"
	"polewright/quantity"
	"polewright/shape"
)

// arrangement is a kind of [layout]: parts that follow from a few lengths.
type arrangement struct {
	kind    string
	lengths []parameter
	counts  []count
	steel   string // default material; "" when there is no steel
	wire    bool   // whether the yoke is wound
	parts   func(l map[string]float64, m makings, d *Design)
}

// parameter is a length of an arrangement. It stands for itself in [layout].
type parameter struct {
	name     string
	defaultM float64
	mayBe0   bool
	meaning  string
}

// count is a number of parts of an arrangement.
type count struct {
	name                   string
	otherwise, least, most int
	meaning                string
}

// makings are what an arrangement is made of.
type makings struct {
	magnet  material.Magnet
	steel   material.Steel
	wire    string
	wireM   float64
	packing float64
	counts  map[string]int
	line    int
}

var (
	pairLengths = []parameter{
		{"magnet_x", 0.060, false, "edge of each magnet along x"},
		{"magnet_y", 0.040, false, "edge of each magnet along y"},
		{"magnet_z", 0.020, false, "thickness of each magnet, along the field"},
		{"gap", 0.018, false, "free height between the magnets"},
	}
	frameLengths = []parameter{
		{"side", 0.008, true, "free width between the magnets' sides and the legs"},
		{"leg", 0.012, false, "thickness of the legs"},
		{"back", 0.020, false, "thickness of the back plates"},
	}
	woundLengths = []parameter{
		{"side", 0.008, true, "free width between the magnets' sides and the winding"},
		{"build", 0.012, false, "thickness of the winding"},
	}
)

// arrangements: in the pairs two magnets face each other across the gap, both magnetized along +z, centred on the origin.
var arrangements = []arrangement{
	{"facing-pair", pairLengths, nil, "", false, func(l map[string]float64, m makings, d *Design) {
		m.pair(l, d)
	}},
	{"framed-pair", append(pairLengths[:len(pairLengths):len(pairLengths)], frameLengths...), nil, "steel-1018", false, func(l map[string]float64, m makings, d *Design) {
		m.pair(l, d)
		m.frame(l["magnet_x"], l["magnet_y"]+2*l["side"], l["gap"]+2*l["magnet_z"], l["leg"], l["back"], d)
	}},
	{"c-frame", cFrameLengths, nil, "steel-1018", false, cFrame},
	{"round-pot", potLengths, nil, "steel-1018", false, pot},
	{"pole-tips", tipLengths, nil, "steel-1018", false, poleTips},
	{"wound-pair", append(pairLengths[:len(pairLengths):len(pairLengths)], woundLengths...), nil, "annealed-wire", true, func(l map[string]float64, m makings, d *Design) {
		m.pair(l, d)
		w := Wound{
			Body:       Body{Name: "winding", Line: m.line},
			CoreM:      r3.Vec{X: l["magnet_x"], Y: l["magnet_y"] + 2*l["side"], Z: l["gap"] + 2*l["magnet_z"]},
			BuildGiven: true, Wire: m.wire, WireDiameterM: m.wireM, Packing: m.packing, Material: m.steel,
		}
		w.Turns = turnsFor(l["build"], l["magnet_x"], m.packing, m.wireM)
		w.Place.Rot = shape.Identity()
		w.shape(l["magnet_x"], l["build"], 0)
		d.Wounds = append(d.Wounds, w)
	}},
	{"single-block", singleLengths, nil, "steel-1018", false, single},
	{"halbach-wedges", halbachWedgeLengths, halbachCounts, "", false, halbachWedges},
	{"halbach-blocks", halbachBlockLengths, halbachCounts, "", false, halbachBlocks},
}

func (m makings) pair(l map[string]float64, d *Design) {
	block := shape.Block{Size: r3.Vec{X: l["magnet_x"], Y: l["magnet_y"], Z: l["magnet_z"]}}
	z := (l["gap"] + block.Size.Z) / 2
	d.Magnets = append(d.Magnets, m.magnetAt("upper", block, z), m.magnetAt("lower", block, -z))
}

func (m makings) block(name string, x, y, z float64, center r3.Vec) Steel {
	return Steel{
		Body:     Body{Name: name, Line: m.line, Solid: shape.Block{Size: r3.Vec{X: x, Y: y, Z: z}}, Place: shape.Placement{Center: center, Rot: shape.Identity()}},
		Material: m.steel,
	}
}

// layout reads [layout] and adds its parts to the design.
func (r *reader) layout(f fields, d *Design) {
	kinds := Layouts()
	kind, ok := f.choice("kind", kinds, must)
	if !ok {
		return
	}
	var a arrangement
	for _, a = range arrangements {
		if a.kind == kind {
			break
		}
	}
	before := r.mistakes
	lay := &Layout{Kind: kind, Lengths: map[string]float64{}, Counts: map[string]int{}, Line: f.t.line}
	f.measures(a, lay)
	m := f.makings(a, lay.Counts)
	f.finish()
	if r.mistakes > before {
		return
	}
	d.Layout = lay
	if !f.fits(lay) {
		return
	}
	a.parts(lay.Lengths, m, d)
	for _, p := range d.Parts() {
		r.parts++
		r.lines[p.Name] = p.Line
	}
}

// measures reads the lengths and the counts of an arrangement.
func (f fields) measures(a arrangement, lay *Layout) {
	for _, p := range a.lengths {
		how := positive
		if p.mayBe0 {
			how = notBelow0
		}
		lay.Lengths[p.name] = p.defaultM
		if f.has(p.name) {
			lay.Lengths[p.name], _ = f.length(p.name, how)
		} else {
			f.absent(p.name, Quantity, quantity.Length, quantity.Format(p.defaultM, "mm", 6), 0)
		}
	}
	for _, c := range a.counts {
		lay.Counts[c.name] = c.otherwise
		if !f.has(c.name) {
			f.absent(c.name, Number, 0, fmt.Sprint(c.otherwise), 0)
			continue
		}
		n, ok := f.number(c.name, float64(c.least), float64(c.most), 0, fmt.Sprint(c.otherwise))
		if lay.Counts[c.name] = int(n); ok && n != math.Trunc(n) {
			f.fail(f.get(c.name).line, c.name, f.get(c.name).String()+": no whole number", fmt.Sprintf("write a whole number such as %d", c.otherwise))
		}
	}
}

// makings reads what the parts of an arrangement are made of.
func (f fields) makings(a arrangement, counts map[string]int) makings {
	m := makings{line: f.t.line, counts: counts}
	text := func(name, otherwise string) string {
		if f.has(name) {
			otherwise, _ = f.text(name, 0, strconv.Quote(otherwise))
		} else {
			f.absent(name, Text, 0, otherwise, 0)
		}
		return otherwise
	}
	before := f.r.mistakes
	var err error
	if m.magnet, err = material.Grade(text("grade", "N42")); err != nil && f.r.mistakes == before {
		f.refuse("grade", err)
	}
	if a.steel != "" {
		name := text("material", a.steel)
		if m.steel, err = material.SteelNamed(name); err != nil && name != "" {
			f.refuse("material", err)
		}
	}
	if a.wire {
		w := Wound{Wire: "16 SWG", Packing: 0.72}
		if f.has("wire") {
			w.wire(f)
		} else if kind, n, err := material.ParseGauge(w.Wire); err == nil {
			w.WireDiameterM, _, _ = material.WireDiameter(kind, n)
		}
		if f.has("packing") || f.has("lay") {
			w.lay(f)
		} else {
			f.absent("packing", Number, 0, fmt.Sprint(w.Packing), 0)
		}
		m.wire, m.wireM, m.packing = w.Wire, w.WireDiameterM, w.Packing
	}
	return m
}

// fits reports lengths that do not go together.
func (f fields) fits(l *Layout) bool {
	for _, pair := range []struct {
		smaller, larger string
		times           float64
	}{{"bore", "outer_diameter", 1}, {"rim_width", "tip_diameter", 0.5}} {
		small, large := l.Lengths[pair.smaller], pair.times*l.Lengths[pair.larger]
		if small > 0 && large > 0 && large-small < leastSize {
			line := f.t.line
			if v := f.get(pair.smaller); v != nil {
				line = v.line
			}
			f.fail(line, pair.smaller, fmt.Sprintf("%s is not below %s, which goes with %s = %s", mm(small), mm(large), pair.larger, mm(l.Lengths[pair.larger])), "write a smaller "+pair.smaller+" or a larger "+pair.larger)
			return false
		}
	}
	return true
}

// Layouts lists the kinds of [layout], each of which is also a Template.
func Layouts() []string {
	var kinds []string
	for _, a := range arrangements {
		kinds = append(kinds, a.kind)
	}
	return kinds
}

// DescribeLayout lists the lengths that [layout] takes for a kind, a line each with its default and its meaning; "" for an unknown kind.
func DescribeLayout(kind string) string {
	var b strings.Builder
	for _, a := range arrangements {
		if a.kind != kind {
			continue
		}
		for _, p := range a.lengths {
			fmt.Fprintf(&b, "%s = %q # %s\n", p.name, quantity.Format(p.defaultM, "mm", 6), p.meaning)
		}
		for _, c := range a.counts {
			fmt.Fprintf(&b, "%s = %d # %s, %d to %d\n", c.name, c.otherwise, c.meaning, c.least, c.most)
		}
	}
	return b.String()
}
