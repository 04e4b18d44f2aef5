package web

import (
	"errors"
	"math"
	"strings"

	"gonum.org/v1/gonum/spatial/r3"

	"polewright"
	"polewright/design"
	"polewright/draw"
	"polewright/facet"
	"polewright/material"
	"polewright/mistake"
	"polewright/quantity"
	"polewright/report"
)

// This file answers at once what a text says: its mistakes, its parts as triangles, what can be changed in it, and the magnetic circuit.

// Change sets a parameter of the design file by its path.
type Change struct {
	Path  string `json:"path"` // "layout.gap", "magnet.upper.size.z"
	Value string `json:"value"`
}

// Looking asks what a text says, after some changes.
type Looking struct {
	Asked
	Changes []Change `json:"changes,omitempty"`
}

// Look is what a text says. Parts and the rest are there only for a design without mistakes.
type Look struct {
	Text     string    `json:"text"` // with the changes
	Problems []Problem `json:"problems"`
	// Refused says why a change was not made; then none of them is.
	Refused []Problem `json:"refused,omitempty"`
	// NoParts is a text that says what is needed and nothing else yet.
	NoParts    bool        `json:"no_parts,omitempty"`
	Title      string      `json:"title"`
	CostLimit  string      `json:"cost_limit,omitempty"` // of the target: "500.00 EUR"
	Layout     string      `json:"layout,omitempty"`
	Parameters []Parameter `json:"parameters"`
	Parts      []Part      `json:"parts"`
	// Meshes are the bodies that parts have, each in its own frame: corners of triangles, x, y, z, mm, counter-clockwise seen from outside.
	Meshes []Mesh             `json:"meshes"`
	Box    *Box               `json:"box,omitempty"` // of all parts
	Region *Region            `json:"region,omitempty"`
	Lumped *polewright.Lumped `json:"circuit,omitempty"`
	// NoCircuit says why there is none.
	NoCircuit string `json:"no_circuit,omitempty"`
	// Partings are the planes at which the assembly comes apart.
	Partings []Plane  `json:"partings"`
	MassKg   float64  `json:"mass_kg"`
	Wounds   []string `json:"wounds"` // names of the wound yokes
}

// Parameter is a value of the file that can be changed.
type Parameter struct {
	Path    string   `json:"path"`
	Kind    string   `json:"kind"` // quantity, number or text
	Value   string   `json:"value"`
	Unit    string   `json:"unit,omitempty"`
	Units   []string `json:"units,omitempty"` // that it takes
	SI      *float64 `json:"si,omitempty"`    // the value in SI units, temperatures in degC
	Given   bool     `json:"given"`           // whether the file has it, or this is its default
	Line    int      `json:"line"`
	Meaning string   `json:"meaning,omitempty"`
}

// Part is a body as it stands.
type Part struct {
	Name       string        `json:"name"`
	Kind       string        `json:"kind"`
	Letter     string        `json:"letter"` // on the drawings; the same for parts that are alike
	Shape      string        `json:"shape"`
	Size       string        `json:"size_mm"`
	Material   string        `json:"material"`
	MassKg     float64       `json:"mass_kg"`
	Center     [3]float64    `json:"center_m"`
	Rotation   [3][3]float64 `json:"rotation"` // rows: world = center + rotation · local
	Magnetized *[3]float64   `json:"magnetized,omitempty"`
	Mesh       int           `json:"mesh"` // -1 for none
	Line       int           `json:"line"`
	Notes      []string      `json:"notes,omitempty"`
	Bounds     [2][3]float64 `json:"bounds_m"`
}

// Mesh is a closed surface.
type Mesh struct {
	Corners []float64 `json:"corners_mm"`
}

// Box lies along the axes.
type Box struct {
	Min [3]float64 `json:"min_m"`
	Max [3]float64 `json:"max_m"`
}

// Region is the target's.
type Region struct {
	Shape  string     `json:"shape"` // sphere, cylinder or box
	Center [3]float64 `json:"center_m"`
	Size   [3]float64 `json:"size_m"` // of its box; of a cylinder along its axis the length
	Axis   int        `json:"axis"`
}

// Plane lies across an axis, 0, 1 or 2.
type Plane struct {
	Axis int     `json:"axis"`
	AtM  float64 `json:"at_m"`
}

// A page shows so many parts as bodies, and of round ones chords that leave the arc by at most so much of their size.
const (
	mostBodies = 2000
	chordShare = 2e-3
)

func (b *Bench) look(_ string, q *Looking) (*Look, error) {
	l := &Look{Problems: []Problem{}, Parameters: []Parameter{}, Parts: []Part{}, Meshes: []Mesh{}, Partings: []Plane{}, Wounds: []string{}}
	text := []byte(q.Text)
	for _, c := range q.Changes {
		changed, err := design.Set(text, c.Path, c.Value)
		if err != nil {
			l.Refused = faultOf(err).Problems
			text = []byte(q.Text)
			break
		}
		text = changed
	}
	q.Text = string(text)
	l.Text = q.Text
	parameters, err := design.Parameters(text)
	if err == nil {
		l.Parameters = described(parameters)
	}
	d, err := b.design(q.Asked)
	var mistakes mistake.Errors
	switch {
	case errors.As(err, &mistakes):
		if d, err := b.read(q.Asked, readTarget); err == nil {
			l.NoParts = true
			l.head(d)
		} else {
			l.Problems = problemsOf(mistakes)
		}
	case err != nil:
		return nil, err
	default:
		l.fill(d)
	}
	return l, nil
}

// described adds what the parameters mean and what they are in SI units.
func described(list []design.Parameter) []Parameter {
	out := []Parameter{}
	kinds := []string{"quantity", "number", "text"}
	kind := ""
	for _, p := range list {
		if p.Path == "layout.kind" {
			kind = p.Value
		}
	}
	meaning := meanings(kind)
	for _, p := range list {
		q := Parameter{Path: p.Path, Kind: kinds[p.Kind], Value: p.Value, Unit: p.Unit(), Given: p.Given, Line: p.Line, Meaning: meaning[p.Path]}
		if p.Kind == design.Quantity {
			q.Units = quantity.Units(p.Dimension)
			if x, err := quantity.Parse(p.Value, p.Dimension); err == nil {
				q.SI = &x
			}
		}
		out = append(out, q)
	}
	return out
}

// meanings are what the lengths of a layout stand for, by path.
func meanings(kind string) map[string]string {
	m := map[string]string{}
	for line := range strings.Lines(design.DescribeLayout(kind)) {
		name, rest, _ := strings.Cut(line, " = ")
		if _, text, ok := strings.Cut(rest, " # "); ok {
			m["layout."+name] = strings.TrimSpace(text)
		}
	}
	return m
}

// head is what a design says beside its parts.
func (l *Look) head(d *design.Design) {
	l.Title = d.Title
	if d.Target != nil && d.Target.Cost != nil {
		l.CostLimit = d.Target.Cost.String()
	}
}

func (l *Look) fill(d *design.Design) {
	l.head(d)
	if d.Layout != nil {
		l.Layout = d.Layout.Kind
	}
	parts := draw.Parts(d)
	items := draw.Items(parts)
	letter, mesh := make([]string, len(parts)), make([]int, len(parts))
	for _, it := range items {
		for _, i := range it.Indexes {
			letter[i] = it.Letter
		}
	}
	known := map[any]int{} // meshes by solid: a line of the parts list may hold solids that are turned
	for i, p := range parts {
		n, ok := known[p.Solid]
		if !ok {
			n = -1
			if len(parts) <= mostBodies {
				if s, err := facet.Of(p.Solid, chordShare*r3.Norm(p.Solid.HalfExtent())); err == nil {
					n = len(l.Meshes)
					l.Meshes = append(l.Meshes, meshOf(s))
				}
			}
			known[p.Solid] = n
		}
		mesh[i] = n
	}
	lines := map[string]int{}
	for _, p := range d.Parts() {
		lines[p.Name] = p.Line
	}
	for i := range d.Coils {
		lines[d.Coils[i].Name] = d.Coils[i].Line
	}
	for i, p := range parts {
		box := p.Bounds()
		q := Part{Name: p.Name, Kind: p.Kind, Letter: letter[i], Shape: draw.ShapeName(p.Solid), Size: draw.Size(p.Solid), Material: p.Material, MassKg: p.MassKg,
			Center: numbers(p.Place.Center), Rotation: [3][3]float64(p.Place.Rot), Mesh: mesh[i], Line: lines[p.Name], Notes: p.Notes,
			Bounds: [2][3]float64{numbers(box.Min), numbers(box.Max)}}
		if p.Direction != (r3.Vec{}) {
			v := numbers(p.Direction)
			q.Magnetized = &v
		}
		l.MassKg += p.MassKg
		l.Parts = append(l.Parts, q)
	}
	box := boxOf(d)
	l.Box = &Box{numbers(box.Min), numbers(box.Max)}
	if d.Target != nil && d.Target.Region != nil {
		l.Region = regionOf(d.Target.Region)
	}
	for i := range d.Wounds {
		l.Wounds = append(l.Wounds, d.Wounds[i].Name)
	}
	for _, p := range polewright.Partings(d) {
		l.Partings = append(l.Partings, Plane{p.Axis, p.AtM})
	}
	var err error
	if l.Lumped, err = polewright.LumpedOf(d); err != nil {
		l.NoCircuit = err.Error()
	}
}

func meshOf(s []facet.Triangle) Mesh {
	m := Mesh{Corners: make([]float64, 0, 9*len(s))}
	for _, t := range s {
		for _, p := range t {
			for _, x := range numbers(p) {
				m.Corners = append(m.Corners, math.Round(x*1e7)/1e4+0) // 0.1 µm
			}
		}
	}
	return m
}

func regionOf(g *design.Region) *Region {
	r := &Region{Shape: g.Shape, Center: numbers(g.Center), Axis: g.Axis}
	switch g.Shape {
	case design.Box:
		r.Size = numbers(g.SizeM)
	default:
		r.Size = [3]float64{g.DiameterM, g.DiameterM, g.DiameterM}
		if g.Shape == design.Cylinder {
			r.Size[g.Axis] = g.LengthM
		}
	}
	return r
}

func numbers(v r3.Vec) [3]float64 { return [3]float64{v.X, v.Y, v.Z} }

func vector(v [3]float64) r3.Vec { return r3.Vec{X: v[0], Y: v[1], Z: v[2]} }

// boxOf holds all parts.
func boxOf(d *design.Design) (box r3.Box) {
	for i, p := range draw.Parts(d) {
		if b := p.Bounds(); i == 0 {
			box = b
		} else {
			box = box.Union(b)
		}
	}
	return box
}

// Catalogue is what a design can be begun with and made of.
type Catalogue struct {
	Version string   `json:"version"`
	Layouts []Layout `json:"layouts"`
	Grades  []Grade  `json:"grades"`
	Steels  []Stuff  `json:"steels"`
	Plain   []string `json:"plain"`   // for spacers
	Palette [][3]int `json:"palette"` // colours of maps, red, green, blue of 255, from the lowest field to the highest
}

// Layout is a way to begin.
type Layout struct {
	Kind string `json:"kind"`
	// Short is a design file of the layout by its lengths, Written one with every part written out and explained.
	Short   string `json:"short"`
	Written string `json:"written"`
}

// Grade is a magnet material.
type Grade struct {
	Name       string  `json:"name"`
	Family     string  `json:"family"`
	RemanenceT float64 `json:"remanence_T"`
	MaxC       float64 `json:"max_temperature_degC"`
}

// Stuff is a steel.
type Stuff struct {
	Name string `json:"name"`
	Use  string `json:"use"`
}

func (b *Bench) catalogue(string) (*Catalogue, error) {
	c := &Catalogue{Version: b.o.Version, Layouts: []Layout{}, Grades: []Grade{}, Steels: []Stuff{}, Plain: []string{}, Palette: report.Palette(64)}
	for _, kind := range design.Layouts() {
		written, err := design.Template(kind)
		if err != nil {
			return nil, err
		}
		c.Layouts = append(c.Layouts, Layout{Kind: kind, Short: short(kind, written), Written: written})
	}
	for _, m := range material.Grades() {
		c.Grades = append(c.Grades, Grade{m.Name, m.Family, m.RemanenceT, m.MaxTemperatureC})
	}
	for _, s := range material.Steels() {
		c.Steels = append(c.Steels, Stuff{s.Name, s.Use})
	}
	for _, p := range material.Plains() {
		c.Plain = append(c.Plain, p.Name)
	}
	return c, nil
}

// short is a design of a layout by its lengths, with the target and the probes of the one that is written out.
func short(kind, written string) string {
	var out strings.Builder
	keep, passed := true, false
	for line := range strings.Lines(written) {
		if strings.HasPrefix(line, "[") {
			head := strings.Trim(strings.TrimSpace(line), "[]")
			if keep = head == "target" || head == "probe"; !passed && head != "target" {
				passed = true
				out.WriteString("# The parts follow from these lengths.\n[layout]\nkind = \"" + kind + "\"\n" + materials(kind) + design.DescribeLayout(kind) + "\n")
			}
		}
		if keep && (!passed || !strings.HasPrefix(line, "#")) {
			out.WriteString(line)
		}
	}
	return dropTrailing(out.String())
}

// materials are the lines of a layout that say what it is made of, its own defaults.
func materials(kind string) string {
	d, err := design.Read(strings.NewReader("format = 1\n[layout]\nkind = \""+kind+"\"\n"), "")
	if err != nil || len(d.Magnets) == 0 {
		return ""
	}
	s := "grade = \"" + d.Magnets[0].Material.Name + "\"\n"
	switch {
	case len(d.Steels) > 0:
		s += "material = \"" + d.Steels[0].Material.Name + "\"\n"
	case len(d.Wounds) > 0:
		s += "material = \"" + d.Wounds[0].Material.Name + "\"\n"
	}
	return s
}

// dropTrailing takes away comments that lead to tables that were left out.
func dropTrailing(s string) string {
	before, after, ok := strings.Cut(s, "# The parts follow")
	if !ok {
		return s
	}
	lines := strings.Split(strings.TrimRight(before, "\n"), "\n")
	for len(lines) > 0 && (strings.HasPrefix(lines[len(lines)-1], "#") || lines[len(lines)-1] == "") {
		lines = lines[:len(lines)-1]
	}
	return strings.Join(lines, "\n") + "\n\n# The parts follow" + strings.TrimRight(after, "\n") + "\n"
}

// readTarget is design.ReadTarget for Bench.read.
func readTarget(r *strings.Reader, name string) (*design.Design, error) {
	return design.ReadTarget(r, name)
}
