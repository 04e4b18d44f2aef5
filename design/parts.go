package design

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/spatial/r3"

	"polewright/material"
	"polewright/quantity"
	"polewright/shape"
)

// readParts reads the parts and coils. A part with a mistake is not kept, but its name counts, so that no mistake is told twice.
func (r *reader) readParts(f fields, d *Design) {
	readEach(f, "magnet", r.magnet, &d.Magnets)
	readEach(f, "steel", r.steel, &d.Steels)
	readEach(f, "wound", r.wound, &d.Wounds)
	readEach(f, "spacer", r.spacer, &d.Spacers)
	readEach(f, "coil", r.coil, &d.Coils)
}

func readEach[T any](f fields, kind string, read func(fields) (T, bool), to *[]T) {
	f.each(kind, func(f fields) {
		if x, ok := read(f); ok {
			*to = append(*to, x)
		}
	})
}

// partName reads the name of a part and sees to it that it is the only one.
func (f fields) partName(example string) string {
	f.r.parts++
	if f.r.parts == MaxParts+1 {
		f.r.fail(f.t.line, "", fmt.Sprintf("over %d parts", MaxParts), fmt.Sprintf("a design may have %d parts; leave out what has no effect on the field", MaxParts))
	}
	name, ok := f.name(example)
	if !ok {
		return ""
	}
	if _, known := f.r.lines[name]; known {
		f.r.twice[name] = true
	}
	f.once(f.r.lines, name, "part")
	return name
}

// body reads the name, one of the shapes, and where it stands. turn is the part's own rotation, without that of the axis.
func (f fields) body(example string, shapes ...string) (b Body, turn shape.Rotation, ok bool) {
	before := f.r.mistakes
	b = Body{Name: f.partName(example), Line: f.t.line}
	kind, known := f.choice("shape", shapes, must)
	if !known {
		return b, turn, false
	}
	b.Place.Center, _ = f.point("center", must)
	turn = shape.Identity()
	if angles, given := f.vector("rotate", quantity.Angle, 0, `["0 deg", "0 deg", "30 deg"]`); given {
		turn = shape.Euler(angles.X, angles.Y, angles.Z)
	}
	b.Place.Rot = turn
	if kind != "block" {
		b.Place.Rot = turn.Mul(shape.AxisTo(f.axis("axis", 2, 0)))
	}
	switch kind {
	case "block":
		size, _ := f.vector("size", quantity.Length, must|positive, `["60 mm", "40 mm", "20 mm"]`)
		b.Solid = shape.Block{Size: size}
	case "disc":
		diameter, _ := f.length("diameter", must|positive)
		thickness, _ := f.length("thickness", must|positive)
		b.Solid = shape.Disc{Diameter: diameter, Thickness: thickness}
	case "ring":
		outer, inner := f.diameters(ringOrDisc)
		thickness, _ := f.length("thickness", must|positive)
		b.Solid = shape.Ring{OuterDiameter: outer, InnerDiameter: inner, Thickness: thickness}
	case "wedge":
		outer, inner := f.diameters(ringOrDisc)
		thickness, _ := f.length("thickness", must|positive)
		from, ok := f.quantity("from", quantity.Angle, must)
		to, ok2 := f.quantity("to", quantity.Angle, must)
		if turn := math.Abs(to - from); ok && ok2 && (turn < 1e-4 || turn > 2*math.Pi+1e-9) {
			f.fail(f.get("to").line, "to", fmt.Sprintf("%s after from = %s: no angle, or over a turn", f.get("to"), f.get("from")), `write two angles that differ by up to 360 deg, e.g. from = "0 deg", to = "45 deg"`)
		}
		b.Solid = shape.Wedge{OuterDiameter: outer, InnerDiameter: inner, Thickness: thickness, From: from, To: to}
	case "frustum":
		bottom, _ := f.length("bottom_diameter", must|positive)
		top, _ := f.length("top_diameter", must|positive)
		height, _ := f.length("height", must|positive)
		b.Solid = shape.Frustum{BottomDiameter: bottom, TopDiameter: top, Height: height}
	}
	return b, turn, f.r.mistakes == before
}

// ringOrDisc helps with a part whose hole is no smaller than itself; a coil without a bore there is not.
const ringOrDisc = `exchange them, or write shape = "disc"`

// diameters reads the outer and the inner diameter of something round; hint says what would do when the inner one is too large.
func (f fields) diameters(hint string) (outer, inner float64) {
	outer, ok := f.length("outer_diameter", must|positive)
	inner, ok2 := f.length("inner_diameter", must|positive)
	if ok && ok2 && outer-inner < 2*leastSize {
		f.fail(f.get("inner_diameter").line, "inner_diameter", fmt.Sprintf("%s is not below the outer diameter, %s", f.get("inner_diameter"), f.get("outer_diameter")), "the inner diameter is the smaller one; "+hint)
	}
	return outer, inner
}

func (r *reader) magnet(f fields) (Magnet, bool) {
	before := r.mistakes
	body, turn, ok := f.body("upper", "block", "disc", "ring", "wedge")
	m := Magnet{Body: body}
	if list := f.list("magnetized", 3, must, "[0, 0, 1]"); list != nil {
		var x [3]float64
		good := true
		for i, v := range list {
			n, ok := f.plain(v, "magnetized."+placeIn(i, 3), "1")
			x[i], good = n, good && ok
		}
		// Scaled first, so that no square overflows.
		if largest := math.Max(math.Abs(x[0]), math.Max(math.Abs(x[1]), math.Abs(x[2]))); good && largest == 0 {
			f.fail(f.get("magnetized").line, "magnetized", "is the zero vector, which has no direction", "write a direction, e.g. magnetized = [0, 0, 1]")
		} else if good && ok {
			m.Direction = turn.Apply(r3.Unit(r3.Vec{X: x[0] / largest, Y: x[1] / largest, Z: x[2] / largest}))
		}
	}
	m.Material = f.magnetMaterial()
	if c, given := f.length("coating", notBelow0); given {
		m.CoatingM = c
		if ok && 2*c > leastWall(m.Solid)-leastSize {
			f.fail(f.get("coating").line, "coating", f.get("coating").String()+" a side leaves no magnet", `coatings are 0.01 to 0.05 mm: check the unit`)
		}
	}
	f.finishIfShaped()
	return m, r.mistakes == before
}

// finishIfShaped is finish when the shape is known; without it every size would be an unknown key.
func (f fields) finishIfShaped() {
	if f.t.asked["center"] {
		f.finish()
	}
}

// leastWall is the least thickness of a magnet between two opposite faces.
func leastWall(s shape.Solid) float64 {
	switch s := s.(type) {
	case shape.Block:
		return math.Min(s.Size.X, math.Min(s.Size.Y, s.Size.Z))
	case shape.Disc:
		return math.Min(s.Diameter, s.Thickness)
	case shape.Ring:
		return math.Min((s.OuterDiameter-s.InnerDiameter)/2, s.Thickness)
	case shape.Wedge:
		return math.Min((s.OuterDiameter-s.InnerDiameter)/2, s.Thickness)
	}
	return 0
}

// magnetMaterial reads either a grade or the numbers of a magnet.
func (f fields) magnetMaterial() material.Magnet {
	numbers := f.t.present("remanence", "recoil", "coercivity", "knee", "squareness", "remanence_coefficient", "coercivity_coefficient", "reference_temperature", "max_temperature", "density")
	switch {
	case f.has("grade") && len(numbers) > 0:
		for _, k := range numbers {
			f.get(k)
		}
		f.fail(f.get("grade").line, "grade", fmt.Sprintf("is given, and %s on line %d too", numbers[0], f.get(numbers[0]).line), "keep one of the two: a grade has all its numbers")
	case f.has("grade"):
		if name, ok := f.text("grade", must, `"N42"`); ok {
			m, err := material.Grade(name)
			if err != nil {
				f.refuse("grade", err)
			}
			return m
		}
	case f.has("remanence"):
		return f.customMagnet()
	default:
		for _, k := range numbers {
			f.get(k)
		}
		f.lacks("grade", "is missing", `add grade = "N42", or remanence = "1.30 T" and recoil = 1.05`)
	}
	return material.Magnet{}
}

func (f fields) customMagnet() material.Magnet {
	before := f.r.mistakes
	b, _ := f.quantity("remanence", quantity.FluxDensity, must|positive)
	recoil, _ := f.number("recoil", 1, 10, must, "1.05")
	coercivity, _ := f.quantity("coercivity", quantity.FieldStrength, positive)
	knee, _ := f.quantity("knee", quantity.FieldStrength, 0)
	squareness, _ := f.number("squareness", 0.2, 0.99, 0, "0.95")
	perK, _ := f.quantity("remanence_coefficient", quantity.Coefficient, 0)
	coercivityPerK, _ := f.quantity("coercivity_coefficient", quantity.Coefficient, 0)
	reference, hasReference := f.quantity("reference_temperature", quantity.Temperature, 0)
	highest, _ := f.quantity("max_temperature", quantity.Temperature, 0)
	density, hasDensity := f.quantity("density", quantity.Density, positive)
	if f.r.mistakes > before {
		return material.Magnet{}
	}
	fail := func(err error) material.Magnet {
		f.refuse("remanence", err)
		return material.Magnet{}
	}
	m, err := material.Custom("as given, "+quantity.Format(b, "T", 4), b, recoil)
	if err != nil {
		return fail(err)
	}
	m.IntrinsicCoercivityApm = coercivity
	m.GivenKneeApm = math.Abs(knee) // people write it with and without the minus
	m.Squareness = squareness
	m.RemanencePerK, m.CoercivityPerK = perK, coercivityPerK
	m.MaxTemperatureC = highest
	if hasReference {
		m.ReferenceC = reference
	}
	if hasDensity {
		m.DensityKgPerM3, m.Source = density, "given"
	}
	if err := m.Check(); err != nil {
		return fail(err)
	}
	return m
}

// steelMaterial reads either a built-in steel or a curve file.
func (f fields) steelMaterial(example string) material.Steel {
	switch {
	case f.has("material") && f.has("curve_file"):
		f.fail(f.get("curve_file").line, "curve_file", fmt.Sprintf("is given, and material on line %d too", f.get("material").line), "keep one of the two")
	case f.has("curve_file"):
		density := 7850.0 // kg/m3 of low-carbon steel; common practice, no source
		if d, ok := f.quantity("density", quantity.Density, positive); ok {
			density = d
		}
		if c, ok := f.r.curve(f, "curve_file"); ok {
			name := f.get("curve_file").text
			return material.Steel{Name: name, Use: "curve of its own", Curve: c, DensityKgPerM3: density, Source: name}
		}
	case f.has("material"):
		if name, ok := f.text("material", must, example); ok {
			s, err := material.SteelNamed(name)
			if err != nil {
				f.refuse("material", err)
			}
			return s
		}
	default:
		f.lacks("material", "is missing", "add material = "+example+`, or curve_file = "my-steel.csv"`)
	}
	return material.Steel{}
}

func (r *reader) steel(f fields) (Steel, bool) {
	before := r.mistakes
	body, _, _ := f.body("top back", "block", "disc", "ring", "frustum", "wedge")
	s := Steel{Body: body, Material: f.steelMaterial(`"steel-1018"`)}
	f.finishIfShaped()
	return s, r.mistakes == before
}

func (r *reader) spacer(f fields) (Spacer, bool) {
	before := r.mistakes
	body, _, _ := f.body("post", "block", "disc", "ring", "wedge", "frustum")
	s := Spacer{Body: body}
	if name, ok := f.text("material", must, `"aluminium"`); ok {
		m, err := material.PlainNamed(name)
		if err != nil {
			f.refuse("material", err)
		}
		s.Material = m
	}
	f.finishIfShaped()
	return s, r.mistakes == before
}

// densest is the greatest packing of round wires, pi/(2 sqrt 3): nested layers (A. Thue 1910; L. Fejes Toth 1940).
var densest = math.Pi / (2 * math.Sqrt(3))

// packingOf is the fraction of steel in each lay of round bare wire: square pi/4 and nested pi/(2 sqrt 3) by geometry; random 0.62: common practice,
// no source.
var packingOf = map[string]float64{Square: math.Pi / 4, Nested: densest, Random: 0.62}

func (r *reader) wound(f fields) (Wound, bool) {
	before := r.mistakes
	w := Wound{Body: Body{Name: f.partName("winding"), Line: f.t.line}}
	var radius float64
	if g, ok := f.sub("core", must, `{ size = ["60 mm", "56 mm", "58 mm"] }`); ok {
		w.CoreM, _ = g.vector("size", quantity.Length, must|positive, `["60 mm", "56 mm", "58 mm"]`)
		w.Place.Center, _ = g.point("center", 0)
		radius, _ = g.length("corner_radius", notBelow0)
		g.finish()
	}
	w.Axis = f.axis("axis", 0, must)
	width, _ := f.length("width", must|positive)
	w.wire(f)
	w.lay(f)
	build := w.turns(f, width)
	w.Material = f.steelMaterial(`"annealed-wire"`)
	f.finish()
	if r.mistakes > before {
		return w, false
	}
	w.shape(width, build, radius)
	if t := w.Racetrack(); 2*radius > math.Min(t.CoreX, t.CoreY) {
		f.fail(f.get("core").line, "core.corner_radius", fmt.Sprintf("%s is over half of the core's shorter side, %s", mm(radius), mm(math.Min(t.CoreX, t.CoreY))), "write a smaller radius")
	}
	// One layer of nested wires has a build of sqrt(3)/2 diameters by area, and
	// looser lays have more; a tenth less is left for rounding and stretched wire.
	if build < 0.9*math.Sqrt(3)/2*w.WireDiameterM {
		given := f.t.present("turns", "build")[0]
		f.fail(f.get(given).line, given, fmt.Sprintf("%s over a width of %s is not one full layer of wire", f.get(given), mm(width)), "write more turns, a smaller width or a finer wire")
	}
	return w, r.mistakes == before
}

// shape fills in the racetrack and its place: the spool's axis is local z, the core's section the two axes that follow cyclically.
func (w *Wound) shape(width, build, radius float64) {
	core := [3]float64{w.CoreM.X, w.CoreM.Y, w.CoreM.Z}
	w.Solid = shape.Racetrack{
		CoreX: core[(w.Axis+1)%3], CoreY: core[(w.Axis+2)%3],
		CornerRadius: radius, Build: build, Width: width,
	}
	w.Place.Rot = shape.AxisTo(w.Axis)
}

func (w *Wound) wire(f fields) {
	g, ok := f.sub("wire", must, `{ gauge = "16 SWG" }`)
	if !ok {
		return
	}
	defer g.finish()
	switch {
	case g.has("gauge") && g.has("diameter"):
		g.fail(g.get("diameter").line, "diameter", "is given, and a gauge too", "keep one of the two; a measured diameter is the better one")
	case g.has("gauge"):
		if w.Wire, ok = g.text("gauge", must, `"16 SWG"`); !ok {
			return
		}
		kind, n, err := material.ParseGauge(w.Wire)
		if err == nil {
			w.WireDiameterM, _, err = material.WireDiameter(kind, n)
		}
		if err != nil {
			g.refuse("gauge", err)
		}
	case g.has("diameter"):
		if w.WireDiameterM, ok = g.length("diameter", must|positive); ok {
			w.Wire = g.get("diameter").text
		}
	default:
		g.lacks("gauge", "is missing", `write wire = { gauge = "16 SWG" } or wire = { diameter = "1.6 mm" }`)
	}
}

func (w *Wound) lay(f fields) {
	switch {
	case f.has("packing") && f.has("lay"):
		f.fail(f.get("packing").line, "packing", fmt.Sprintf("is given, and lay on line %d too", f.get("lay").line), "keep one of the two")
	case f.has("packing"):
		w.Packing, _ = f.number("packing", 0.05, densest+1e-4, must, `0.72; round wires fill 0.907 at most`)
	case f.has("lay"):
		if lay, ok := f.choice("lay", []string{Square, Nested, Random}, must); ok {
			w.Lay, w.Packing = lay, packingOf[lay]
		}
	default:
		f.lacks("packing", "is missing", `add packing = 0.72, or lay = "square", "nested" or "random"`)
	}
}

// mostTurns is far above what anybody winds by hand or by machine.
const mostTurns = 10_000_000

// turnsFor is the number of turns that fill a section.
func turnsFor(build, width, packing, wire float64) int {
	return int(math.Round(math.Min(build*width*packing/(math.Pi/4*wire*wire), 1e9)))
}

// turns reads turns or build, fills in the turns and returns the build in metres.
func (w *Wound) turns(f fields, width float64) (build float64) {
	w.TurnsGiven, w.BuildGiven = f.has("turns"), f.has("build")
	wire := math.Pi / 4 * w.WireDiameterM * w.WireDiameterM
	switch {
	case w.TurnsGiven && w.BuildGiven:
		f.fail(f.get("build").line, "build", fmt.Sprintf("is given, and turns on line %d too", f.get("turns").line), "keep one of the two: the other follows from the wire and the packing")
	case w.TurnsGiven:
		n, ok := f.number("turns", 1, mostTurns, must, "1500")
		if ok && n != math.Trunc(n) {
			f.fail(f.get("turns").line, "turns", f.get("turns").String()+": no whole number", "write whole turns, such as 1500")
			ok = false
		}
		if w.Turns = int(n); ok && width > 0 && w.Packing > 0 && wire > 0 {
			build = n * wire / (width * w.Packing)
			if build > MaxLengthM {
				f.fail(f.get("turns").line, "turns", f.get("turns").String()+" make the winding over 100 m thick", "check turns, wire and width")
			}
		}
	case w.BuildGiven:
		var ok bool
		if build, ok = f.length("build", must|positive); ok && width > 0 && w.Packing > 0 && wire > 0 {
			if w.Turns = turnsFor(build, width, w.Packing, w.WireDiameterM); w.Turns < 1 || w.Turns > mostTurns {
				f.fail(f.get("build").line, "build", fmt.Sprintf("%s is %d turns of this wire", f.get("build"), w.Turns), "check build, wire and width")
			}
		}
	default:
		f.lacks("turns", "is missing, and so is build", `add turns = 1500 or build = "12 mm"`)
	}
	return build
}

func (r *reader) coil(f fields) (Coil, bool) {
	before := r.mistakes
	c := Coil{Name: f.partName("trim coil"), Line: f.t.line}
	c.AmpereTurns, _ = f.quantity("ampere_turns", quantity.Current, must)
	c.Axis = f.axis("axis", 2, 0)
	c.Center, _ = f.point("center", must)
	c.HeightM, _ = f.length("height", must|positive)
	var ok bool
	if c.Shape, ok = f.choice("shape", []string{RacetrackCoil, RingCoil}, must); !ok {
		return c, false
	}
	if c.Shape == RingCoil {
		c.OuterDiameterM, c.InnerDiameterM = f.diameters("exchange them")
		f.finish()
		return c, r.mistakes == before
	}
	pair := func(name, example string) (edges [2]float64) {
		if x, ok := f.quantities(name, 2, quantity.Length, must|positive, example); ok {
			edges = [2]float64(x)
		}
		return edges
	}
	c.OuterM, c.InnerM = pair("outer", `["200 mm", "200 mm"]`), pair("inner", `["150 mm", "150 mm"]`)
	c.OuterRadiusM, _ = f.length("outer_radius", notBelow0)
	c.InnerRadiusM, _ = f.length("inner_radius", notBelow0)
	f.finish()
	if r.mistakes > before {
		return c, false
	}
	for i := range 2 {
		if c.OuterM[i]-c.InnerM[i] < 2*leastSize {
			f.fail(f.get("inner").line, "inner."+placeIn(i, 2), fmt.Sprintf("%s is not below the outer %s", mm(c.InnerM[i]), mm(c.OuterM[i])), "the inner size is the smaller one")
		}
	}
	for _, k := range []struct {
		name   string
		radius float64
		edges  [2]float64
	}{{"outer_radius", c.OuterRadiusM, c.OuterM}, {"inner_radius", c.InnerRadiusM, c.InnerM}} {
		if 2*k.radius > math.Min(k.edges[0], k.edges[1])*(1+1e-12) {
			f.fail(f.get(k.name).line, k.name, mm(k.radius)+" is over half of the shorter side", "write a smaller radius")
		}
	}
	return c, r.mistakes == before
}

// mm prints a length for a message.
func mm(metres float64) string { return quantity.Format(metres, "mm", 6) }
