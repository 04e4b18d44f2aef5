package report

import (
	"errors"
	"fmt"
	"io"
	"math"

	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
)

// Lines is a chart of curves over one axis: the field along a line, the field against turns, a force against a gap.
type Lines struct {
	Title        string
	XName, YName string // with the unit that the values are in: "z, mm", "B, T"
	Curves       []Curve
	Levels       []Level // limits to compare with
	LogX, LogY   bool
	Dark         bool
}

// Curve is one line or, with Points, one set of measured points. Where Y is NaN the line is broken.
type Curve struct {
	Name   string
	X, Y   []float64 // of equal length
	Points bool
}

// Level is a limit across the chart.
type Level struct {
	Name string
	Y    float64
}

// PNG writes the chart, widthMM wide, at 150 dots per inch. Errors say which of the numbers cannot be drawn.
func (g Lines) PNG(w io.Writer, widthMM float64) error {
	if err := writePNG(w, g, widthMM); err != nil {
		return fmt.Errorf("chart %q: %w", g.Title, err)
	}
	return nil
}

// SVG writes the chart, widthMM wide, as one element that can stand alone or in a page. Errors are those of [Lines.PNG].
func (g Lines) SVG(w io.Writer, widthMM float64) error {
	if err := writeSVG(w, g, widthMM); err != nil {
		return fmt.Errorf("chart %q: %w", g.Title, err)
	}
	return nil
}

func (g Lines) title() string { return g.Title }

func (g Lines) theme() theme { return themeOf(g.Dark) }

func (g Lines) check() error {
	some := false
	for _, c := range g.Curves {
		if len(c.X) != len(c.Y) {
			return fmt.Errorf("curve %q has %d values X and %d values Y", c.Name, len(c.X), len(c.Y))
		}
		for i, x := range c.X {
			if math.IsNaN(x) || math.Abs(x) > 1e15 || math.Abs(c.Y[i]) > 1e15 {
				return fmt.Errorf("point %d of curve %q cannot be drawn: (%g, %g)", i, c.Name, x, c.Y[i])
			}
			if g.LogX && x <= 0 {
				return fmt.Errorf("point %d of curve %q has X = %g; a logarithmic axis takes values above zero", i, c.Name, x)
			}
			some = some || g.shown(c.Y[i])
		}
	}
	if !some {
		return errors.New("there is no point to draw")
	}
	for _, l := range g.Levels {
		if math.IsNaN(l.Y) || math.Abs(l.Y) > 1e15 || g.LogY && l.Y <= 0 {
			return fmt.Errorf("the level %q cannot be drawn at %g", l.Name, l.Y)
		}
	}
	return nil
}

// shown says whether a value has a place on the axis; on a logarithmic one zero has none.
func (g Lines) shown(y float64) bool { return !math.IsNaN(y) && !(g.LogY && y <= 0) }

// axes returns the axes that hold every curve and level.
func (g Lines) axes() (x, y axis) {
	x = axis{math.Inf(1), math.Inf(-1), g.LogX}
	y = axis{math.Inf(1), math.Inf(-1), g.LogY}
	grow := func(a *axis, v float64) { a.min, a.max = min(a.min, v), max(a.max, v) }
	for _, c := range g.Curves {
		for i := range c.X {
			if g.shown(c.Y[i]) {
				grow(&x, c.X[i])
				grow(&y, c.Y[i])
			}
		}
	}
	for _, l := range g.Levels {
		grow(&y, l.Y)
	}
	return x.opened(false), y.opened(true)
}

// opened returns an axis of some length even for a single value; with round ends, and from zero where that costs little.
func (a axis) opened(round bool) axis {
	if a.log {
		if a.max < a.min*1.001 {
			a.min, a.max = a.min/2, a.max*2
		}
		if round {
			a.min = math.Pow(10, math.Floor(math.Log10(a.min)+1e-9))
			a.max = math.Pow(10, math.Ceil(math.Log10(a.max)-1e-9))
			if a.max <= a.min {
				a.max = 10 * a.min
			}
		}
		return a
	}
	if d := max(math.Abs(a.min), math.Abs(a.max)); a.max-a.min <= 1e-9*d || d == 0 {
		half := max(d*0.05, 1e-12)
		a.min, a.max = a.min-half, a.max+half
	}
	if round {
		if a.min > 0 && a.min < 0.6*a.max {
			a.min = 0
		}
		if a.max < 0 && a.max > 0.6*a.min {
			a.max = 0
		}
		a = a.widened(6)
	}
	return a
}

type chartLayout struct {
	th             theme
	x, y           axis
	xTicks, yTicks []tick
	field          vg.Rectangle
	legend         []legendEntry
	height         vg.Length
}

// legendEntry is the sample and name of a curve, the sample's left end at, measured from the field's upper left corner.
type legendEntry struct {
	curve int
	at    vg.Point
	name  string
}

const sample = vg.Length(22)

func (g Lines) layout(width vg.Length) chartLayout {
	l := chartLayout{th: g.theme()}
	l.x, l.y = g.axes()
	h := min(0.55*width, 420)
	body := lettering(bodySize, l.th.ink, draw.XLeft, draw.YTop)
	l.yTicks = l.y.ticks(6)
	l.xTicks = l.x.ticksAcross(width-60, body)
	half := widest(body, l.xTicks) / 2
	left := margin + max(tickSize+2+widest(body, l.yTicks), half)
	right := margin + half
	below := margin + tickSize + 2*bodyLine
	above := margin + titleHeight(l.th, g.Title, width)

	// The names stand in rows above the chart, then the name of its upward axis.
	rows, x := 0, vg.Length(0)
	for i, c := range g.Curves {
		if oneLine(c.Name) == "" {
			continue
		}
		room := width - left - right
		name := cut(body, oneLine(c.Name), room-sample-4)
		w := sample + 4 + body.Width(name) + 14
		if rows == 0 || x > 0 && x+w-14 > room {
			rows++
			x = 0
		}
		l.legend = append(l.legend, legendEntry{i, vg.Point{X: left + x, Y: vg.Length(rows)}, name})
		x += w
	}
	top := below + h
	for i := range l.legend {
		row := vg.Length(rows) - l.legend[i].at.Y
		l.legend[i].at.Y = top + gap + bodyLine*(1.6+row)
	}
	above += bodyLine + gap
	if rows > 0 {
		above += bodyLine * (vg.Length(rows) + 0.4)
	}
	l.field = vg.Rectangle{Min: vg.Point{X: left, Y: below}, Max: vg.Point{X: width - right, Y: top}}
	l.height = top + above
	return l
}

func (g Lines) height(width vg.Length) vg.Length { return g.layout(width).height }

func (g Lines) draw(c draw.Canvas) {
	l := g.layout(c.Max.X - c.Min.X)
	paper(c, l.th, g.Title)
	field := draw.Canvas{Canvas: c.Canvas, Rectangle: l.field}
	scales(field, l.th, l.x, l.y, l.xTicks, l.yTicks, g.XName, g.YName, true)
	for _, level := range g.Levels {
		y := field.Y(l.y.at(level.Y))
		field.StrokeLine2(draw.LineStyle{Color: l.th.muted, Width: 1, Dashes: []vg.Length{3, 2}}, field.Min.X, y, field.Max.X, y)
	}
	for i, curve := range g.Curves {
		var run []vg.Point
		flush := func() {
			switch len(run) {
			case 0:
			case 1: // a lone value has no line
				g.mark(field, l.th, i, run[0])
			default:
				field.StrokeLines(g.style(l.th, i), run)
			}
			run = nil
		}
		for k, x := range curve.X {
			switch {
			case !g.shown(curve.Y[k]):
				flush()
			case curve.Points:
				g.mark(field, l.th, i, vg.Point{X: field.X(l.x.at(x)), Y: field.Y(l.y.at(curve.Y[k]))})
			default:
				run = append(run, vg.Point{X: field.X(l.x.at(x)), Y: field.Y(l.y.at(curve.Y[k]))})
			}
		}
		flush()
	}
	// The levels' names go over the curves, on paper of their own, at the end of the line or below it under the upper edge.
	for _, level := range g.Levels {
		sty := lettering(bodySize, l.th.ink, draw.XRight, draw.YBottom)
		name := cut(sty, oneLine(level.Name), field.Max.X-field.Min.X-8)
		if name == "" {
			continue
		}
		at := vg.Point{X: field.Max.X - 4, Y: field.Y(l.y.at(level.Y)) + 2}
		if at.Y+bodyLine > field.Max.Y {
			at.Y -= bodyLine + 3
		}
		field.SetColor(faded(l.th.paper, 0xd0))
		field.Fill(vg.Rectangle{Min: vg.Point{X: at.X - sty.Width(name) - 2, Y: at.Y}, Max: vg.Point{X: at.X + 2, Y: at.Y + bodySize + 1}}.Path())
		field.FillText(sty, at, name)
	}
	for _, e := range l.legend {
		y := e.at.Y
		if g.Curves[e.curve].Points {
			g.mark(field, l.th, e.curve, vg.Point{X: e.at.X + sample/2, Y: y})
		} else {
			field.StrokeLine2(g.style(l.th, e.curve), e.at.X, y, e.at.X+sample, y)
		}
		field.FillText(lettering(bodySize, l.th.ink, draw.XLeft, yMiddle), vg.Point{X: e.at.X + sample + 4, Y: y}, e.name)
	}
}

func (g Lines) style(th theme, i int) draw.LineStyle {
	return draw.LineStyle{Color: th.curves[i%len(th.curves)], Width: 1.6, Dashes: dashes[i%len(dashes)]}
}

func (g Lines) mark(c draw.Canvas, th theme, i int, at vg.Point) {
	shapes := []draw.GlyphDrawer{draw.CircleGlyph{}, draw.BoxGlyph{}, draw.PyramidGlyph{}}
	c.DrawGlyphNoClip(draw.GlyphStyle{Color: th.curves[i%len(th.curves)], Radius: 2.6, Shape: shapes[i%len(shapes)]}, at)
}
