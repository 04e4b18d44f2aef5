package draw

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"

	"polewright/shape"
)

var (
	xAxis = r3.Vec{X: 1}
	yAxis = r3.Vec{Y: 1}
	zAxis = r3.Vec{Z: 1}
	minus = func(a r3.Vec) r3.Vec { return r3.Scale(-1, a) }
	whole = math.Inf(1) // the depth of a view that cuts nothing away
)

// pane is a view on the sheet: its picture and where that lies.
type pane struct {
	view
	seen
	boxes  []r2.Box  // of each body on the page, m
	nears  []float64 // how near to the viewer each comes, m
	box    r2.Box    // of all
	corner r2.Vec    // where the box's lower left corner lies on the sheet, mm
	scale  float64
}

// newPane draws bodies, seen with everything nearer than a depth cut away.
func newPane(w view, bodies []body, depth float64) *pane {
	p := &pane{view: w, seen: w.look(bodies, depth), box: noBox()}
	for _, b := range bodies {
		flat, near := w.boxOf(b.box)
		p.boxes, p.nears = append(p.boxes, flat), append(p.nears, near)
		grow(&p.box, flat.Min, flat.Max)
	}
	return p
}

// on is the place on the sheet of a point of the page.
func (p *pane) on(q r2.Vec) r2.Vec {
	return r2.Add(p.corner, r2.Scale(1e3*p.scale, r2.Sub(q, p.box.Min)))
}

func (p *pane) width() float64  { return 1e3 * p.scale * (p.box.Max.X - p.box.Min.X) }
func (p *pane) height() float64 { return 1e3 * p.scale * (p.box.Max.Y - p.box.Min.Y) }

// show draws the picture, its visible lines on a layer.
func (p *pane) show(s *drafter, visible Layer) {
	draw := func(l Layer, list []*stroke) {
		for _, k := range list {
			if !k.round {
				s.line(l, p.on(k.a), p.on(k.b))
				continue
			}
			from, sweep := k.from, k.sweep
			if sweep < 0 {
				from, sweep = from+sweep, -sweep
			}
			s.Arcs = append(s.Arcs, Arc{l, p.on(k.c), 1e3 * p.scale * k.r, from, sweep})
		}
	}
	draw(Hidden, p.hidden)
	draw(visible, p.visible)
}

// cross draws the centre lines of a circle.
func (p *pane) cross(s *drafter, c r2.Vec, r float64) {
	at, reach := p.on(c), 1e3*p.scale*r+3
	s.line(Centre, v(at.X-reach, at.Y), v(at.X+reach, at.Y))
	s.line(Centre, v(at.X, at.Y-reach), v(at.X, at.Y+reach))
}

// below puts rows of dimensions of extents along the page's x under a view, from an edge of the view on.
func (p *pane) below(s *drafter, rows [][]extent, foot func(x float64) float64) {
	for i, row := range rows {
		for _, e := range row {
			level := p.corner.Y - firstRow - rowPitch*float64(i)
			s.dimension(p.on(v(e.lo, foot(e.lo))), p.on(v(e.hi, foot(e.hi))), v(1, 0), level, e.text())
		}
	}
}

// beside puts rows of dimensions of extents along the page's y to the left of a view.
func (p *pane) beside(s *drafter, rows [][]extent, foot func(y float64) float64) {
	for i, row := range rows {
		for _, e := range row {
			level := p.corner.X - firstRow - rowPitch*float64(i)
			s.dimension(p.on(v(foot(e.lo), e.lo)), p.on(v(foot(e.hi), e.hi)), v(0, 1), -level, e.text())
		}
	}
}

// PartSheet draws one item on A4: on its face, from the side, with its sizes. A body without volume is an error.
func PartSheet(title string, it Item, o Options) (*Sheet, error) {
	b, ok := newBody(it.Solid, shape.Placement{Rot: shape.Identity()})
	if !ok {
		return nil, fmt.Errorf("part %q, %v, cannot be drawn", it.Name, it.Solid)
	}
	side := view{right: zAxis, up: yAxis, toward: minus(xAxis)} // from the left
	if o.Projection == ThirdAngle {
		side = view{right: minus(zAxis), up: yAxis, toward: xAxis}
	}
	face := newPane(view{xAxis, yAxis, zAxis}, []body{b}, whole)
	edge := newPane(side, []body{b}, whole)
	s := &drafter{Sheet: Sheet{Title: title + ": " + it.Name, Width: 297, Height: 210}}
	across, up, deep := sizes(it.Solid)
	rows := [3][][]extent{stacked(across, 4), stacked(up, 4), stacked(deep, 4)}
	left := firstRow + rowPitch*float64(len(rows[1])) + 2
	under := firstRow + rowPitch*float64(max(len(rows[0]), len(rows[2]))) + 4
	const between, over, beyond = 34, 14, 16 // between the views, above them, on their right
	wide, high := s.Width-3*margin, s.Height-2*margin-titleHigh
	s.Scale = fitting(func(scale float64) bool {
		face.scale, edge.scale = scale, scale
		return left+face.width()+between+edge.width()+beyond <= wide && over+face.height()+under <= high
	})
	face.scale, edge.scale = s.Scale, s.Scale
	// The views stand in the middle of the room they have.
	x := 2*margin + left + (wide-left-face.width()-between-edge.width()-beyond)/2
	y := margin + titleHigh + under + (high-under-face.height()-over)/2
	face.corner, edge.corner = v(x, y), v(x+face.width()+between, y)
	s.title(title, subject(it), it.Letter+", "+itemCount(it), o)
	edge.show(s, Edge)
	face.show(s, Profile)
	face.below(s, rows[0], foot(it.Solid, false))
	face.beside(s, rows[1], foot(it.Solid, true))
	edge.below(s, rows[2], func(float64) float64 { return edge.box.Min.Y })
	s.radii(face, it.Solid)
	if f, ok := it.Solid.(shape.Frustum); ok {
		s.coneEnds(edge, f)
	}
	s.magnetized(face, edge, it.Direction, s.centres(face, edge, it.Solid))
	s.settle()
	s.bar(2*margin+4, margin+4, 90)
	s.notes(2*margin+4, margin+titleHigh-6, s.Width-3*margin-titleWide-8, partNotes(it))
	return &s.Sheet, nil
}

func subject(it Item) string {
	text := it.Name
	if it.Material != "" {
		text += ", " + it.Material
	}
	return text
}

func itemCount(it Item) string {
	if it.Number() == 1 {
		return "1 piece"
	}
	return fmt.Sprintf("%d pieces", it.Number())
}

func partNotes(it Item) []string {
	notes := []string{ShapeName(it.Solid) + ", mm: " + Size(it.Solid) + orNothing("; ", massText(it.MassKg), " each")}
	if f, ok := it.Solid.(shape.Frustum); ok {
		taper := math.Atan2(math.Abs(f.BottomDiameter-f.TopDiameter)/2, f.Height)
		notes = append(notes, "Its side stands at "+decimals(taper*180/math.Pi, 2)+"° to the axis.")
	}
	if it.Direction != (r3.Vec{}) {
		notes = append(notes, "The arrow is the magnetization; N marks the north pole.")
	}
	return append(notes, it.Notes...)
}

func orNothing(before, text, after string) string {
	if text == "" {
		return ""
	}
	return before + text + after
}

// sizes are the extents that fix a solid, along the page's x and y on its face, and through it.
func sizes(s shape.Solid) (across, up, deep []extent) {
	centred := func(size float64, prefix string) extent { return extent{-size / 2, size / 2, prefix} }
	h := s.HalfExtent()
	deep = []extent{centred(2*h.Z, "")}
	switch s := s.(type) {
	case shape.Block:
		across, up = []extent{centred(s.Size.X, "")}, []extent{centred(s.Size.Y, "")}
	case shape.Disc:
		across = []extent{centred(s.Diameter, "⌀")}
	case shape.Ring:
		across = []extent{centred(s.OuterDiameter, "⌀"), centred(s.InnerDiameter, "⌀")}
	case shape.Racetrack:
		across = []extent{centred(s.CoreX, ""), centred(s.CoreX+2*s.Build, "")}
		up = []extent{centred(s.CoreY, ""), centred(s.CoreY+2*s.Build, "")}
	case Window:
		across = []extent{centred(s.Inner[0], ""), centred(s.Outer[0], "")}
		up = []extent{centred(s.Inner[1], ""), centred(s.Outer[1], "")}
	}
	// A frustum has its diameters on its side, a wedge its radii and its angle.
	return across, up, deep
}

// foot is where on the face the extension lines of a coordinate begin: at the outline.
func foot(s shape.Solid, vertical bool) func(float64) float64 {
	h := s.HalfExtent()
	switch s := s.(type) {
	case shape.Disc, shape.Ring:
		return func(float64) float64 { return 0 }
	case shape.Racetrack:
		// Inner sizes begin at the bore, outer ones where the corner's round begins.
		return func(c float64) float64 {
			core, inside := s.CoreY/2, s.CornerRadius
			if vertical {
				core = s.CoreX / 2
			}
			return -core + inside
		}
	case Window:
		return func(c float64) float64 {
			size, other := s.Inner, s.Outer
			k := 1
			if vertical {
				k = 0
			}
			if math.Abs(c) > size[1-k]/2+1e-9 {
				return -other[k]/2 + s.OuterRadius
			}
			return -size[k]/2 + s.InnerRadius
		}
	}
	if vertical {
		return func(float64) float64 { return -h.X }
	}
	return func(float64) float64 { return -h.Y }
}

// centres draws the axes of what is round, and tells whether it is.
func (s *drafter) centres(face, edge *pane, solid shape.Solid) bool {
	r := 0.0
	switch k := solid.(type) {
	case shape.Disc:
		r = k.Diameter / 2
	case shape.Ring:
		r = k.OuterDiameter / 2
	case shape.Frustum:
		r = math.Max(k.BottomDiameter, k.TopDiameter) / 2
	default:
		return false
	}
	face.cross(s, v(0, 0), r)
	a, b := edge.on(v(edge.box.Min.X, 0)), edge.on(v(edge.box.Max.X, 0))
	s.line(Centre, v(a.X-3, a.Y), v(b.X+3, b.Y))
	return true
}

// radii points at the arcs of a wedge, a racetrack or a coil.
func (s *drafter) radii(face *pane, solid shape.Solid) {
	k := 1e3 * face.scale
	corner := func(x, y, r, angle, length float64) {
		if r > 1e-7 {
			s.radius(face.on(v(x, y)), k*r, angle, length, "R"+mm(r))
		}
	}
	switch w := solid.(type) {
	case shape.Wedge:
		s.wedge(face, w)
	case shape.Racetrack:
		x, y := w.CoreX/2-w.CornerRadius, w.CoreY/2-w.CornerRadius
		corner(x, y, w.CornerRadius+w.Build, math.Pi/4, 6)
		corner(-x, y, w.CornerRadius, 3*math.Pi/4, -math.Min(12, k*math.Min(w.CoreX, w.CoreY)/4))
	case Window:
		corner(w.Outer[0]/2-w.OuterRadius, w.Outer[1]/2-w.OuterRadius, w.OuterRadius, math.Pi/4, 6)
		corner(-w.Inner[0]/2+w.InnerRadius, w.Inner[1]/2-w.InnerRadius, w.InnerRadius, 3*math.Pi/4, -math.Min(12, k*math.Min(w.Inner[0], w.Inner[1])/4))
	}
}

// wedge gives a ring sector its radii, its angle and its centre.
func (s *drafter) wedge(face *pane, w shape.Wedge) {
	k := 1e3 * face.scale
	c := face.on(v(0, 0))
	outer, inner := k*w.OuterDiameter/2, k*w.InnerDiameter/2
	from, half := w.From, w.Span()/2
	s.radius(c, outer, math.Pi/2+half/2, 6, "R"+mm(w.OuterDiameter/2))
	if inner > 0.2 {
		s.radius(c, inner, math.Pi/2-half/2, -math.Min(8, inner/2), "R"+mm(w.InnerDiameter/2))
	}
	if w.Span() > 2*math.Pi-1e-9 {
		return
	}
	r := outer + 5
	s.Arcs = append(s.Arcs, Arc{Dimension, c, r, from, w.Span()})
	for _, side := range []float64{-1, 1} {
		angle := math.Pi/2 + side*half
		s.line(Dimension, polar(c, outer+1, angle), polar(c, r+1.5, angle))
		s.arrow(polar(c, r, angle), polar(v(0, 0), 1, angle+side*math.Pi/2))
	}
	text := decimals(w.Span()*180/math.Pi, 3) + "°"
	at := v(c.X, c.Y+r+1)
	s.waiting = append(s.waiting, waitingText{Label{Layer: Dimension, Height: textHeight, Text: text}, []place{{at: at, align: Middle}, {at: v(at.X, at.Y+3), align: Middle}}})
}

// coneEnds gives a frustum its two diameters on its side view.
func (s *drafter) coneEnds(edge *pane, f shape.Frustum) {
	for _, end := range []struct{ z, d float64 }{{-f.Height / 2, f.BottomDiameter}, {f.Height / 2, f.TopDiameter}} {
		if end.d < 1e-7 {
			continue
		}
		x := r3.Dot(r3.Vec{Z: end.z}, edge.right)
		a, b := edge.on(v(x, -end.d/2)), edge.on(v(x, end.d/2))
		level := edge.corner.X - firstRow
		if x > 0 {
			level = edge.corner.X + edge.width() + firstRow
		}
		s.dimension(a, b, v(0, 1), -level, "⌀"+mm(end.d))
	}
}

// magnetized draws the direction of the magnetization where a view shows it longest: as an arrow, or as a dot in a circle from its tip.
func (s *drafter) magnetized(face, edge *pane, d r3.Vec, round bool) {
	if d == (r3.Vec{}) {
		return
	}
	for _, p := range []*pane{face, edge} {
		flat := p.flat(d)
		c := p.on(r2.Scale(0.5, r2.Add(p.box.Min, p.box.Max)))
		size := math.Min(p.width(), p.height())
		if round { // beside the centre lines
			c = r2.Add(c, v(0, p.height()/5))
			if p == face {
				c.X += p.width() / 8
			}
		}
		if r2.Norm(flat) < 0.2 {
			if r := math.Min(3, size/4); r3.Dot(d, p.toward) > 0 {
				s.circle(Dimension, c, r)
				s.Fills = append(s.Fills, dot(c, r/4))
				s.waiting = append(s.waiting, waitingText{Label{Layer: Dimension, Height: textHeight, Text: "N"}, []place{{at: v(c.X+r+1, c.Y+1), align: Left}, {at: v(c.X-r-1, c.Y+1), align: Right}}})
			}
			continue
		}
		reach := math.Abs(flat.X)*p.width() + math.Abs(flat.Y)*p.height()
		u := r2.Unit(flat)
		half := r2.Scale(math.Max(4, reach/4), u)
		from, to := r2.Sub(c, half), r2.Add(c, half)
		s.line(Dimension, from, to)
		s.arrow(to, u)
		var places []place
		for _, t := range []float64{1, 0.7, 0.4, 1.4} {
			for _, side := range []float64{2.4, -2.4} {
				at := r2.Add(r2.Add(c, r2.Scale(t, half)), v(-u.Y*side, u.X*side-textHeight/2))
				places = append(places, place{at: at, align: Middle})
			}
		}
		s.waiting = append(s.waiting, waitingText{Label{Layer: Dimension, Height: textHeight, Text: "N"}, places})
	}
}

// dot is a small filled square turned on its corner, which every reader fills.
func dot(c r2.Vec, r float64) Fill {
	return Fill{Dimension, []r2.Vec{v(c.X+r, c.Y), v(c.X, c.Y+r), v(c.X-r, c.Y), v(c.X, c.Y-r)}}
}
