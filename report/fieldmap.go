package report

import (
	"errors"
	"fmt"
	"image"
	"image/color"
	"io"
	"math"
	"slices"
	"sort"
	"strconv"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"
	"gonum.org/v1/plot/text"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
)

// Map is |B| over a plane through an assembly: colours with their scale, iso-lines with their values, and the parts.
type Map struct {
	Title        string
	UName, VName string      // the plane's axes, across and up: "y", "z"
	U, V         []float64   // where they are sampled, m, rising, two or more
	B            [][]float64 // |B|, T, at (U[i], V[j]) in B[j][i]; NaN where it is not known

	// Min and Max are the ends of the colour scale, T. With Max at 0 the largest value ends it, or, where few points stand far above
	// the rest as at the corners of magnets, all but a hundredth of the values lie below its end. With Min at 0 it starts at zero
	// or, if it is logarithmic, at the smallest values above a thousandth of the end.
	Min, Max float64
	Log      bool
	Levels   []float64 // the iso-lines, T; none given: round ones
	Parts    []Outline
	Dark     bool
}

// Outline is a part as the plane cuts it.
type Outline struct {
	Name       string
	Loops      [][]r2.Vec // closed polygons, m, without the first point again; a loop in a loop is a hole
	Magnetized r3.Vec     // direction along U, V and out of the picture; zero when it is not magnetized
}

// PNG writes the map, widthMM wide, at 150 dots per inch. Errors say which of the numbers cannot be drawn.
func (m Map) PNG(w io.Writer, widthMM float64) error {
	if err := writePNG(w, m, widthMM); err != nil {
		return fmt.Errorf("map %q: %w", m.Title, err)
	}
	return nil
}

// SVG writes the map, widthMM wide, as one element that can stand alone or in a page. Errors are those of [Map.PNG].
func (m Map) SVG(w io.Writer, widthMM float64) error {
	if err := writeSVG(w, m, widthMM); err != nil {
		return fmt.Errorf("map %q: %w", m.Title, err)
	}
	return nil
}

func (m Map) title() string { return m.Title }

func (m Map) theme() theme { return themeOf(m.Dark) }

func (m Map) check() error {
	for _, a := range []struct {
		name string
		x    []float64
	}{{"U", m.U}, {"V", m.V}} {
		if len(a.x) < 2 {
			return fmt.Errorf("%s needs two or more coordinates, not %d", a.name, len(a.x))
		}
		for i, x := range a.x {
			if math.IsNaN(x) || math.Abs(x) > 1e6 {
				return fmt.Errorf("%s[%d] is %g m; give coordinates within 1000 km", a.name, i, x)
			}
			if i > 0 && x <= a.x[i-1] {
				return fmt.Errorf("%s[%d] = %g m does not lie above the one before; sort the coordinates and name none twice", a.name, i, x)
			}
		}
		first, last := a.x[0], a.x[len(a.x)-1]
		if least := 1e-9 * max(1, math.Abs(first), math.Abs(last)); last-first < least {
			return fmt.Errorf("%s spans only %g m; give at least %g m", a.name, last-first, least)
		}
	}
	if r := m.aspect(); r > 20 || r < 0.05 {
		return fmt.Errorf("the plane is %.3g times as high as wide; give one between 1/20 and 20", r)
	}
	if len(m.B) != len(m.V) {
		return fmt.Errorf("there are %d rows of B for %d coordinates V", len(m.B), len(m.V))
	}
	some := false
	for j, row := range m.B {
		if len(row) != len(m.U) {
			return fmt.Errorf("row %d of B has %d values for %d coordinates U", j, len(row), len(m.U))
		}
		for i, b := range row {
			if b < 0 || b > 1e6 {
				return fmt.Errorf("the value B[%d][%d] is %g T; give |B|, zero or above, and NaN where it is not known", j, i, b)
			}
			some = some || !math.IsNaN(b)
		}
	}
	if !some {
		return errors.New("no value of B is known")
	}
	if !(m.Min >= 0 && m.Max >= 0 && m.Min <= 1e6 && m.Max <= 1e6) || m.Max > 0 && m.Min >= m.Max {
		return fmt.Errorf("the colours cannot run from %g T to %g T; give 0 ≤ Min < Max, or 0 to leave an end open", m.Min, m.Max)
	}
	for _, l := range m.Levels {
		if !(l >= 0 && l <= 1e6) {
			return fmt.Errorf("an iso-line cannot be at %g T; give zero or above", l)
		}
	}
	for _, p := range m.Parts {
		for _, loop := range p.Loops {
			for _, q := range loop {
				if !(math.Abs(q.X) <= 1e6 && math.Abs(q.Y) <= 1e6) {
					return fmt.Errorf("the outline of %q has a point at (%g m, %g m)", p.Name, q.X, q.Y)
				}
			}
		}
		if a := p.Magnetized; math.IsNaN(a.X+a.Y+a.Z) || math.IsInf(a.X+a.Y+a.Z, 0) {
			return fmt.Errorf("the magnetization of %q has no direction: %v", p.Name, a)
		}
	}
	return nil
}

// aspect is the plane's height over its width.
func (m Map) aspect() float64 {
	return (m.V[len(m.V)-1] - m.V[0]) / (m.U[len(m.U)-1] - m.U[0])
}

// span returns the ends of the colour scale and the largest value, T.
func (m Map) span() (a axis, largest float64) {
	var known []float64
	for _, row := range m.B {
		for _, b := range row {
			if !math.IsNaN(b) {
				known = append(known, b)
			}
		}
	}
	slices.Sort(known)
	largest = known[len(known)-1]
	lo, hi := m.Min, m.Max
	if hi == 0 {
		hi = largest
		if most := known[(len(known)-1)*99/100]; most > m.Min && hi > 1.2*most {
			hi = most
		}
		if hi <= lo {
			hi = max(2*lo, 1e-6)
		}
	}
	if m.Log && lo == 0 {
		least := known[sort.Search(len(known)-1, func(i int) bool { return known[i] > 0 })]
		lo = min(max(hi/1000, least), hi/10)
	}
	return axis{lo, hi, m.Log}, largest
}

// fluxUnit is the unit that the scale is read in: its name and its size in tesla.
func fluxUnit(a axis) (name string, tesla float64) {
	switch {
	case a.max >= 0.1 && !(a.log && a.min < 5e-3):
		return "T", 1
	case a.max >= 1e-4:
		return "mT", 1e-3
	default:
		return "µT", 1e-6
	}
}

const (
	barGap   = vg.Length(16)
	barWidth = vg.Length(11)
	barLeast = vg.Length(110) // high
	chipPad  = vg.Length(2.5)
	arrowBox = vg.Length(15)
)

// mapLayout is where everything of a map goes, from the lower left corner of the page.
type mapLayout struct {
	th             theme
	span           axis
	unit           string
	tesla          float64
	levels         []tick // T
	barTicks       []tick
	x, y           axis // mm
	xTicks, yTicks []tick
	field, bar     vg.Rectangle
	chips          []chip
	notes          []string
	height         vg.Length
}

// chip is a part's label: its name or, where that has no room, a number that the notes explain.
type chip struct {
	text  string
	arrow r3.Vec
	box   vg.Rectangle
}

func (m Map) layout(width vg.Length) mapLayout {
	l := mapLayout{th: m.theme()}
	var largest float64
	l.span, largest = m.span()
	l.unit, l.tesla = fluxUnit(l.span)
	inUnit := axis{l.span.min / l.tesla, l.span.max / l.tesla, l.span.log}
	l.barTicks = inUnit.ticks(8)
	for _, b := range m.Levels {
		l.levels = append(l.levels, tick{b, number(b / l.tesla)})
	}
	if len(m.Levels) == 0 {
		for _, t := range l.barTicks {
			if b := t.v * l.tesla; l.span.at(b) > 0.01 && l.span.at(b) < 0.99 {
				l.levels = append(l.levels, tick{b, t.label})
			}
		}
	}

	const mm = 1e3
	l.x = axis{min: m.U[0] * mm, max: m.U[len(m.U)-1] * mm}
	l.y = axis{min: m.V[0] * mm, max: m.V[len(m.V)-1] * mm}
	body := lettering(bodySize, l.th.ink, draw.XLeft, draw.YTop)
	right := margin + barGap + barWidth + tickSize + 2 + widest(body, l.barTicks)
	left := margin + tickSize + 2 + 24 // a first guess
	var w, h vg.Length
	for range 2 {
		w = width - left - right
		h = w * vg.Length(m.aspect())
		if most := 1.2 * width; h > most {
			h = most
			w = h / vg.Length(m.aspect())
		}
		l.xTicks, l.yTicks = l.x.ticksAcross(w, body), l.y.ticks(int(h/28))
		left = margin + max(tickSize+2+widest(body, l.yTicks), widest(body, l.xTicks)/2)
	}
	w = min(w, width-left-right)
	h = w * vg.Length(m.aspect())

	// All heights from here are counted upward from the field's lower edge.
	l.field = vg.Rectangle{Min: vg.Point{X: left}, Max: vg.Point{X: left + w, Y: h}}
	l.bar = vg.Rectangle{
		Min: vg.Point{X: left + w + barGap, Y: min(0, h-barLeast)},
		Max: vg.Point{X: left + w + barGap + barWidth, Y: h},
	}
	l.chips, l.notes = m.chips(l, body)
	if largest > l.span.max*1.005 {
		l.notes = append(l.notes, fmt.Sprintf("The colours end at %s %s; the largest value is %s %s.",
			number(l.span.max/l.tesla), l.unit, number(largest/l.tesla), l.unit))
	}
	var lines []string
	for _, n := range l.notes {
		lines = append(lines, wrapped(body, n, width-2*margin)...)
	}
	l.notes = lines
	below := max(tickSize+2*bodyLine, -l.bar.Min.Y) + margin
	if len(l.notes) > 0 {
		below += gap + vg.Length(len(l.notes))*bodyLine
	}
	above := margin + titleHeight(l.th, m.Title, width) + bodyLine + gap
	up := vg.Point{Y: below}
	l.field = l.field.Add(up)
	l.bar = l.bar.Add(up)
	for i := range l.chips {
		l.chips[i].box = l.chips[i].box.Add(up)
	}
	l.height = below + h + above
	return l
}

// place returns the point of the page, within the field, of a point of the plane.
func (l mapLayout) place(p r2.Vec) vg.Point {
	size := l.field.Size()
	return vg.Point{
		X: l.field.Min.X + size.X*vg.Length(l.x.at(p.X*1e3)),
		Y: l.field.Min.Y + size.Y*vg.Length(l.y.at(p.Y*1e3)),
	}
}

func (m Map) height(width vg.Length) vg.Length { return m.layout(width).height }

// chips finds room for the parts' labels, each inside its part, and the notes for those that only got a number.
func (m Map) chips(l mapLayout, sty text.Style) (chips []chip, notes []string) {
	key := ""
	for _, p := range m.Parts {
		if p.Name == "" && p.Magnetized == (r3.Vec{}) {
			continue
		}
		var loops [][]vg.Point
		for _, loop := range p.Loops {
			var q []vg.Point
			for _, v := range loop {
				q = append(q, l.place(v))
			}
			if len(q) >= 3 {
				loops = append(loops, q)
			}
		}
		spots := spotsInside(loops, l.field)
		if len(spots) == 0 {
			continue // outside the plane
		}
		c := chip{text: oneLine(p.Name), arrow: p.Magnetized}
		free := func(box vg.Rectangle, within bool) bool {
			for _, other := range chips {
				if overlap(box, other.box) {
					return false
				}
			}
			if !inside(l.field, box) {
				return false
			}
			for _, q := range rim(box) {
				if within && !contains(loops, q) {
					return false
				}
			}
			return true
		}
		put := func(within bool) bool {
			size := c.size(sty)
			for _, s := range spots {
				box := vg.Rectangle{Min: s.Sub(size.Scale(0.5)), Max: s.Add(size.Scale(0.5))}
				if free(box, within) {
					c.box = box
					chips = append(chips, c)
					return true
				}
			}
			return false
		}
		if put(true) {
			continue
		}
		if p.Name != "" {
			c.text = strconv.Itoa(len(notes) + 1)
			notes = append(notes, c.text+" "+oneLine(p.Name))
		}
		if !put(true) && !put(false) {
			// No room at all: let it lie over its neighbours.
			size := c.size(sty)
			c.box = vg.Rectangle{Min: spots[0].Sub(size.Scale(0.5)), Max: spots[0].Add(size.Scale(0.5))}
			chips = append(chips, c)
		}
	}
	for i, n := range notes {
		if i > 0 {
			key += "; "
		}
		key += n
	}
	if key == "" {
		return chips, nil
	}
	return chips, []string{key}
}

func (c chip) size(sty text.Style) vg.Point {
	size := vg.Point{X: 2 * chipPad, Y: bodySize + 2*chipPad}
	if c.text != "" {
		size.X += sty.Width(c.text)
	}
	if c.arrow != (r3.Vec{}) {
		size.X += arrowBox
		size.Y = max(size.Y, arrowBox)
		if c.text != "" {
			size.X += 2
		}
	}
	return size
}

// spotsInside returns points of a net over the part, inside it and inside the field, nearest to the middle first.
func spotsInside(loops [][]vg.Point, field vg.Rectangle) []vg.Point {
	box := vg.Rectangle{Min: field.Max, Max: field.Min}
	for _, loop := range loops {
		for _, p := range loop {
			box.Min.X, box.Min.Y = min(box.Min.X, p.X), min(box.Min.Y, p.Y)
			box.Max.X, box.Max.Y = max(box.Max.X, p.X), max(box.Max.Y, p.Y)
		}
	}
	box.Min.X, box.Min.Y = max(box.Min.X, field.Min.X), max(box.Min.Y, field.Min.Y)
	box.Max.X, box.Max.Y = min(box.Max.X, field.Max.X), min(box.Max.Y, field.Max.Y)
	if box.Min.X >= box.Max.X || box.Min.Y >= box.Max.Y {
		return nil
	}
	const n = 31 // odd: the middle is one of them
	var spots []vg.Point
	size := box.Size()
	for j := range n {
		for i := range n {
			p := vg.Point{
				X: box.Min.X + size.X*(vg.Length(i)+0.5)/n,
				Y: box.Min.Y + size.Y*(vg.Length(j)+0.5)/n,
			}
			if contains(loops, p) {
				spots = append(spots, p)
			}
		}
	}
	middle := box.Min.Add(size.Scale(0.5))
	far := func(p vg.Point) float64 { return math.Hypot(float64(p.X-middle.X), float64(p.Y-middle.Y)) }
	slices.SortStableFunc(spots, func(a, b vg.Point) int {
		switch d := far(a) - far(b); {
		case d < -1e-9:
			return -1
		case d > 1e-9:
			return 1
		default:
			return 0
		}
	})
	return spots
}

// contains says whether an odd number of the loops' edges lies to the right of p.
func contains(loops [][]vg.Point, p vg.Point) bool {
	in := false
	for _, loop := range loops {
		for i, a := range loop {
			b := loop[(i+1)%len(loop)]
			if (a.Y > p.Y) != (b.Y > p.Y) && p.X < a.X+(b.X-a.X)*(p.Y-a.Y)/(b.Y-a.Y) {
				in = !in
			}
		}
	}
	return in
}

func rim(r vg.Rectangle) []vg.Point {
	c := r.Min.Add(r.Size().Scale(0.5))
	return []vg.Point{
		r.Min, {X: c.X, Y: r.Min.Y}, {X: r.Max.X, Y: r.Min.Y}, {X: r.Max.X, Y: c.Y},
		r.Max, {X: c.X, Y: r.Max.Y}, {X: r.Min.X, Y: r.Max.Y}, {X: r.Min.X, Y: c.Y},
	}
}

func overlap(a, b vg.Rectangle) bool {
	return a.Min.X < b.Max.X && b.Min.X < a.Max.X && a.Min.Y < b.Max.Y && b.Min.Y < a.Max.Y
}

func inside(outer, r vg.Rectangle) bool {
	return r.Min.X >= outer.Min.X && r.Max.X <= outer.Max.X && r.Min.Y >= outer.Min.Y && r.Max.Y <= outer.Max.Y
}

func (m Map) draw(c draw.Canvas) {
	l := m.layout(c.Max.X - c.Min.X)
	paper(c, l.th, m.Title)
	field := draw.Canvas{Canvas: c.Canvas, Rectangle: l.field}
	c.DrawImage(l.field, m.heat(l))
	labels := m.drawIsolines(field, l)
	m.drawParts(field, l)
	for _, label := range labels {
		label()
	}
	for _, chip := range l.chips {
		chip.draw(field, l.th)
	}
	scales(field, l.th, l.x, l.y, l.xTicks, l.yTicks, m.UName+", mm", m.VName+", mm", false)
	l.drawBar(c)
	note := lettering(bodySize, l.th.muted, draw.XLeft, draw.YBottom)
	for i, s := range l.notes {
		c.FillText(note, vg.Point{X: margin, Y: margin + vg.Length(len(l.notes)-1-i)*bodyLine}, s)
	}
}

// heat paints the field, bilinear between the samples; where it is not known the paper shows.
func (m Map) heat(l mapLayout) image.Image {
	const perPoint, most = 2, 1200
	size := l.field.Size()
	pixels := func(s vg.Length) int { return min(max(int(s*perPoint), 2), most) }
	w, h := pixels(size.X), pixels(size.Y)
	img := image.NewNRGBA(image.Rect(0, 0, w, h))
	type spot struct {
		i int
		f float64
	}
	along := func(x []float64, n int) []spot {
		spots := make([]spot, n)
		k := 0
		for p := range spots {
			at := x[0] + (x[len(x)-1]-x[0])*(float64(p)+0.5)/float64(n)
			for k < len(x)-2 && x[k+1] < at {
				k++
			}
			spots[p] = spot{k, (at - x[k]) / (x[k+1] - x[k])}
		}
		return spots
	}
	us, vs := along(m.U, w), along(m.V, h)
	for q := range h {
		v := vs[h-1-q]
		lower, upper := m.B[v.i], m.B[v.i+1]
		for p, u := range us {
			b := (1-v.f)*((1-u.f)*lower[u.i]+u.f*lower[u.i+1]) + v.f*((1-u.f)*upper[u.i]+u.f*upper[u.i+1])
			if !math.IsNaN(b) {
				img.SetNRGBA(p, q, l.color(b))
			}
		}
	}
	return img
}

// fraction is where a value stands on the colour scale, 0 … 1.
func (l mapLayout) fraction(b float64) float64 {
	if b <= l.span.min {
		return 0
	}
	return min(l.span.at(b), 1)
}

// drawIsolines draws the lines and returns what draws their values, to be called once the parts are drawn.
func (m Map) drawIsolines(c draw.Canvas, l mapLayout) (labels []func()) {
	var taken []vg.Rectangle
	for _, chip := range l.chips {
		taken = append(taken, chip.box)
	}
	apart := math.Inf(1) // how far the next level is
	for i := range l.levels[min(1, len(l.levels)):] {
		apart = min(apart, math.Abs(l.levels[i+1].v-l.levels[i].v))
	}
	for _, level := range l.levels {
		t := l.fraction(level.v)
		ink := contrast(t)
		sty := lettering(smallSize, ink, draw.XCenter, yMiddle)
		size := vg.Point{X: sty.Width(level.label) + 3, Y: smallSize + 1}
		lines := isolines(m.U, m.V, m.B, level.v)
		slices.SortStableFunc(lines, func(a, b []r2.Vec) int { return len(b) - len(a) })
		paths := make([][]vg.Point, len(lines))
		for i, line := range lines {
			for _, p := range line {
				paths[i] = append(paths[i], l.place(p))
			}
			c.StrokeLines(draw.LineStyle{Color: faded(ink, 0xb0), Width: 0.6}, paths[i])
		}
		for k, path := range paths {
			// The two longest lines of a level carry its value, if they are longer than it, and where the next level's line leaves it room.
			if k == 2 || lengthOf(path) < 3*size.X {
				break
			}
			for _, i := range fromMiddle(len(path)) {
				if m.change(lines[k][i]) > apart/4 {
					continue
				}
				box := vg.Rectangle{Min: path[i].Sub(size.Scale(0.5)), Max: path[i].Add(size.Scale(0.5))}
				if !inside(c.Rectangle, box) || slices.ContainsFunc(taken, func(r vg.Rectangle) bool { return overlap(r, box) }) {
					continue
				}
				taken = append(taken, box)
				at := path[i]
				labels = append(labels, func() {
					c.SetColor(scaleColor(t))
					c.Fill(box.Path())
					c.FillText(sty, at, level.label)
				})
				break
			}
		}
	}
	return labels
}

// change is by how much the samples of the meshes that touch a point of an iso-line differ, T.
func (m Map) change(p r2.Vec) float64 {
	at := func(x []float64, v float64) int { return min(max(sort.SearchFloat64s(x, v)-1, 0), len(x)-2) }
	i, j := at(m.U, p.X), at(m.V, p.Y)
	lo, hi := math.Inf(1), math.Inf(-1)
	for _, row := range m.B[j:min(j+3, len(m.B))] { // a point on a line of the lattice has a mesh beyond it, too
		for _, b := range row[i:min(i+3, len(row))] {
			lo, hi = math.Min(lo, b), math.Max(hi, b)
		}
	}
	return hi - lo
}

func lengthOf(path []vg.Point) vg.Length {
	var sum float64
	for i := 1; i < len(path); i++ {
		sum += math.Hypot(float64(path[i].X-path[i-1].X), float64(path[i].Y-path[i-1].Y))
	}
	return vg.Length(sum)
}

// fromMiddle returns 0 … n-1, the middle first.
func fromMiddle(n int) []int {
	order := make([]int, n)
	for k := range order {
		if k%2 == 0 {
			order[k] = n/2 + k/2
		} else {
			order[k] = n/2 - (k+1)/2
		}
	}
	return order
}

// drawParts draws the outlines, white on a dark seam so that they show on every colour.
func (m Map) drawParts(c draw.Canvas, l mapLayout) {
	for _, sty := range []draw.LineStyle{
		{Color: faded(rgb(0x000000), 0x90), Width: 2.6},
		{Color: rgb(0xffffff), Width: 1.2},
	} {
		for _, p := range m.Parts {
			for _, loop := range p.Loops {
				if len(loop) < 2 {
					continue
				}
				path := make([]vg.Point, 0, len(loop)+1)
				for _, q := range loop {
					path = append(path, l.place(q))
				}
				path = append(path, path[0])
				c.StrokeLines(sty, c.ClipLinesXY(path)...)
			}
		}
	}
}

func (k chip) draw(c draw.Canvas, th theme) {
	c.SetColor(faded(th.paper, 0xdc))
	c.Fill(k.box.Path())
	at := vg.Point{X: k.box.Min.X + chipPad, Y: (k.box.Min.Y + k.box.Max.Y) / 2}
	if k.arrow != (r3.Vec{}) {
		drawDirection(c, th, vg.Point{X: at.X + arrowBox/2, Y: at.Y}, k.arrow)
		at.X += arrowBox + 2
	}
	if k.text != "" {
		c.FillText(lettering(bodySize, th.ink, draw.XLeft, yMiddle), at, k.text)
	}
}

// drawDirection draws an arrow in the plane or, for what points out of it, a ring with a dot (towards the reader) or a cross.
func drawDirection(c draw.Canvas, th theme, at vg.Point, d r3.Vec) {
	sty := draw.LineStyle{Color: th.ink, Width: 1.3}
	n := r3.Norm(d)
	const r = float64(arrowBox) * 0.45
	if math.Abs(d.Z) > 0.8*n {
		var ring vg.Path
		ring.Move(vg.Point{X: at.X + vg.Length(r*0.8), Y: at.Y})
		ring.Arc(at, vg.Length(r*0.8), 0, 2*math.Pi)
		ring.Close()
		c.SetLineStyle(sty)
		c.Stroke(ring)
		if d.Z > 0 {
			var dot vg.Path
			dot.Move(vg.Point{X: at.X + 1.6, Y: at.Y})
			dot.Arc(at, 1.6, 0, 2*math.Pi)
			dot.Close()
			c.SetColor(th.ink)
			c.Fill(dot)
			return
		}
		k := vg.Length(r * 0.8 * math.Sqrt2 / 2)
		c.StrokeLine2(sty, at.X-k, at.Y-k, at.X+k, at.Y+k)
		c.StrokeLine2(sty, at.X-k, at.Y+k, at.X+k, at.Y-k)
		return
	}
	e := r2.Unit(r2.Vec{X: d.X, Y: d.Y})
	point := func(along, across float64) vg.Point {
		return vg.Point{X: at.X + vg.Length(along*e.X-across*e.Y), Y: at.Y + vg.Length(along*e.Y+across*e.X)}
	}
	tail, neck := point(-r, 0), point(r-5, 0)
	c.StrokeLine2(sty, tail.X, tail.Y, neck.X, neck.Y)
	c.FillPolygon(th.ink, []vg.Point{point(r, 0), point(r-6, 2.8), point(r-6, -2.8)})
}

func (l mapLayout) color(b float64) color.NRGBA { return scaleColor(l.fraction(b)) }

// drawBar draws the colour scale with its values and a mark at each iso-line.
func (l mapLayout) drawBar(c draw.Canvas) {
	const steps = 256
	img := image.NewNRGBA(image.Rect(0, 0, 1, steps))
	for i := range steps {
		img.SetNRGBA(0, steps-1-i, scaleColor(float64(i)/(steps-1)))
	}
	bar := draw.Canvas{Canvas: c.Canvas, Rectangle: l.bar}
	c.DrawImage(l.bar, img)
	for _, level := range l.levels {
		if t := l.fraction(level.v); t > 0 && t < 1 {
			y := bar.Y(t)
			bar.StrokeLine2(draw.LineStyle{Color: contrast(t), Width: 0.6}, bar.Min.X, y, bar.Max.X, y)
		}
	}
	line := draw.LineStyle{Color: l.th.ink, Width: 0.6}
	sty := lettering(bodySize, l.th.ink, draw.XLeft, yMiddle)
	inUnit := axis{l.span.min / l.tesla, l.span.max / l.tesla, l.span.log}
	for _, t := range l.barTicks {
		y := bar.Y(inUnit.at(t.v))
		bar.StrokeLine2(line, bar.Max.X, y, bar.Max.X+tickSize, y)
		bar.FillText(sty, vg.Point{X: bar.Max.X + tickSize + 2, Y: y}, t.label)
	}
	bar.StrokeLines(line, outline(bar.Rectangle))
	bar.FillText(lettering(bodySize, l.th.muted, draw.XLeft, draw.YBottom), vg.Point{X: bar.Min.X, Y: bar.Max.Y + gap}, "|B|, "+l.unit)
}
