// Package design reads the design file: a permanent-magnet gap assembly as its builder writes it down, in TOML, every length with its unit. It checks
// what it reads (names, materials, sizes, overlaps, joints) and hands on plain bodies in SI units. It knows nothing of solving.
//
// Axes are right-handed x, y, z; world axes are numbered 0, 1, 2.
package design

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"

	"polewright/material"
	"polewright/quantity"
	"polewright/shape"
)

// Limits on what is read. A design beyond them is an error, not a slow answer.
const (
	MaxFileBytes = 4 << 20 // bytes of a design file or a curve file
	MaxParts     = 10_000  // magnets, steels, wounds, spacers and coils together
	MaxLengthM   = 100     // m, any length or coordinate
	MaxFluxT     = 3       // T, any remanence or target field
	MaxApartM    = 20      // m of empty space, along an axis, that parts may leave between them

	// TouchM is the depth in metres that two parts may share, or the gap that they may leave, and still be said to touch: below any workshop's
	// tolerance, above the rounding of decimals in inches.
	TouchM = 1e-6
)

// Design is a checked design. Every slice is in the order of the file; parts made by a [layout] come before the parts written out.
type Design struct {
	Title     string
	File      string     // the name given to Read; "" when the text came from no file
	Target    *Target    // nil when the file has no [target]
	Layout    *Layout    // nil when the file has no [layout]
	Tolerance *Tolerance // nil when the file has no [tolerance]
	Magnets   []Magnet
	Steels    []Steel
	Wounds    []Wound
	Spacers   []Spacer
	Coils     []Coil
	Joints    []Joint
	Probes    []Probe
	Sections  []Section
}

// Target is what the builder needs. A number that the file does not give is zero; temperatures, where zero is a value, have their own marks.
type Target struct {
	FieldT             float64         // T, wanted mean in the region; 0: not given
	UniformityFraction float64         // peak to peak over the region, of the mean; 0: not given
	Region             *Region         // nil: not given
	GapM               float64         // m, free height along z that has to stay open; 0: not given
	MassKg             float64         // kg, the most that all parts may weigh; 0: not given
	Cost               *quantity.Money // the most that all may cost, by a list of prices; nil: not given
	StrayLimitT        float64         // T, may not be passed beyond StrayDistanceM; 0: not given
	StrayDistanceM     float64         // m from the centre of the assembly
	HasWorking, HasMax bool            // whether WorkingC and MaxC are given
	WorkingC, MaxC     float64         // degC
	HasMin             bool            // whether MinC is given
	MinC               float64         // degC, the lowest that the magnets get, in store and shipping too
	Line               int
}

// Shapes of a Region.
const (
	Sphere   = "sphere"
	Cylinder = "cylinder"
	Box      = "box"
)

// Region is the part of the free space in which the field matters.
type Region struct {
	Shape     string  // Sphere, Cylinder or Box
	DiameterM float64 // sphere and cylinder
	LengthM   float64 // cylinder
	Axis      int     // cylinder
	SizeM     r3.Vec  // box: full edges along x, y, z
	Center    r3.Vec  // m
	Line      int
}

// Contains reports whether p lies in the region.
func (g *Region) Contains(p r3.Vec) bool {
	d := r3.Sub(p, g.Center)
	switch g.Shape {
	case Cylinder:
		return shape.Disc{Diameter: g.DiameterM, Thickness: g.LengthM}.Contains(shape.AxisTo(g.Axis).Inverse(d), 0)
	case Box:
		return shape.Block{Size: g.SizeM}.Contains(d, 0)
	}
	return r3.Norm(d) <= g.DiameterM/2
}

// Layout is the parametric arrangement that the file asks for. Its parts are already among the design's Magnets, Steels, Wounds and so on.
type Layout struct {
	Kind    string
	Lengths map[string]float64 // every length of the arrangement in metres, defaults filled in
	Counts  map[string]int     // every number of parts, likewise
	Line    int
}

// Body is what every part has: a name, a solid and where it stands.
type Body struct {
	Name  string
	Solid shape.Solid
	Place shape.Placement
	Line  int // of the part's header in the file
}

// Magnet is a uniformly magnetized part. Its solid is measured over the coating.
type Magnet struct {
	Body
	Direction r3.Vec          // unit vector of the magnetization, world, after rotate
	Material  material.Magnet // at its reference temperature
	CoatingM  float64         // m a side; 0: none
}

// Bare is the magnet's solid without its coating.
func (m Magnet) Bare() shape.Solid {
	c := 2 * m.CoatingM
	switch s := m.Solid.(type) {
	case shape.Block:
		return shape.Block{Size: r3.Sub(s.Size, r3.Vec{X: c, Y: c, Z: c})}
	case shape.Disc:
		return shape.Disc{Diameter: s.Diameter - c, Thickness: s.Thickness - c}
	case shape.Ring:
		return shape.Ring{OuterDiameter: s.OuterDiameter - c, InnerDiameter: s.InnerDiameter + c, Thickness: s.Thickness - c}
	case shape.Wedge:
		// The coating of the two radial faces is left in: taken off it would no longer be a sector of a ring about the same axis.
		return shape.Wedge{OuterDiameter: s.OuterDiameter - c, InnerDiameter: s.InnerDiameter + c, Thickness: s.Thickness - c, From: s.From, To: s.To}
	}
	return m.Solid
}

// Steel is a solid part of soft steel.
type Steel struct {
	Body
	Material material.Steel
}

// How the wires of a Wound lie.
const (
	Square = "square" // each wire on top of the one below
	Nested = "nested" // each wire in the groove of the layer below
	Random = "random" // as it falls
)

// Wound is a yoke wound from steel wire round a rectangular core. Its solid is a shape.Racetrack whose local z is the spool's axis. Build (the
// racetrack's), width, packing, turns and wire diameter d hold together by
//
//	build * width * packing = turns * pi d^2/4
type Wound struct {
	Body
	Axis                   int     // of the spool
	CoreM                  r3.Vec  // m, the core's edges along x, y, z, as written
	Turns                  int     // at least 1; rounded when the file gives the build
	TurnsGiven, BuildGiven bool    // exactly one is true
	WireDiameterM          float64 // m, of the bare wire
	Wire                   string  // as written: "16 SWG", "1.6 mm"
	Packing                float64 // fraction of the section that is steel
	Lay                    string  // Square, Nested or Random; "" when the file gives packing
	Material               material.Steel
}

// Racetrack is the wound's solid.
func (w Wound) Racetrack() shape.Racetrack { return w.Solid.(shape.Racetrack) }

// Spacer is a non-magnetic part.
type Spacer struct {
	Body
	Material material.Plain
}

// Shapes of a Coil.
const (
	RacetrackCoil = "racetrack"
	RingCoil      = "ring"
)

// Coil is a coil of uniform current density about a world axis. Positive ampere-turns run right-handed about +axis.
type Coil struct {
	Name        string
	Shape       string  // RacetrackCoil or RingCoil
	AmpereTurns float64 // A
	Axis        int
	Center      r3.Vec  // m
	HeightM     float64 // m, along the axis
	// Racetrack: full edges along the two axes that follow Axis cyclically (x: y, z; y: z, x; z: x, y) and the radii of the corners.
	OuterM, InnerM             [2]float64
	OuterRadiusM, InnerRadiusM float64
	// Ring.
	OuterDiameterM, InnerDiameterM float64
	Line                           int
}

// Body is the winding as a solid. Where the build or the corners differ from side to side it is the nearest one of uniform build.
func (c *Coil) Body() *Body {
	b := &Body{Name: c.Name, Line: c.Line, Place: shape.Placement{Center: c.Center, Rot: shape.AxisTo(c.Axis)}}
	if c.Shape == RingCoil {
		b.Solid = shape.Ring{OuterDiameter: c.OuterDiameterM, InnerDiameter: c.InnerDiameterM, Thickness: c.HeightM}
	} else {
		build := math.Max(c.OuterM[0]-c.InnerM[0], c.OuterM[1]-c.InnerM[1]) / 2
		b.Solid = shape.Racetrack{CoreX: c.InnerM[0], CoreY: c.InnerM[1], CornerRadius: c.InnerRadiusM, Build: build, Width: c.HeightM}
	}
	return b
}

// Joint is the film of glue, paint or air between two faces that touch.
type Joint struct {
	Between    [2]string // names of parts
	ThicknessM float64
	Line       int
}

// Probe is a point at which the field is reported.
type Probe struct {
	Name string
	At   r3.Vec // m
	Line int
}

// Section asks for the mean flux density through a part's cross-section with the plane where the coordinate Axis equals AtM.
type Section struct {
	Name, Part string
	Axis       int
	AtM        float64
	Line       int
}

// Part is a body of any kind with the word the file uses for its kind: "magnet", "steel", "wound" or "spacer".
type Part struct {
	Kind string
	*Body
}

// Magnetic reports whether the part bears on the field.
func (p Part) Magnetic() bool { return p.Kind != "spacer" }

// Parts lists magnets, steels, wounds and spacers, in that order. The bodies are the design's own.
func (d *Design) Parts() []Part {
	parts := make([]Part, 0, len(d.Magnets)+len(d.Steels)+len(d.Wounds)+len(d.Spacers))
	for i := range d.Magnets {
		parts = append(parts, Part{"magnet", &d.Magnets[i].Body})
	}
	for i := range d.Steels {
		parts = append(parts, Part{"steel", &d.Steels[i].Body})
	}
	for i := range d.Wounds {
		parts = append(parts, Part{"wound", &d.Wounds[i].Body})
	}
	for i := range d.Spacers {
		parts = append(parts, Part{"spacer", &d.Spacers[i].Body})
	}
	return parts
}
