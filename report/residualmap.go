package report

import (
	"errors"
	"fmt"
	"math"

	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"

	"polewright/result"
)

// ResidualMap shows where readings differ from a prediction: a mark at each place, as seen along one axis, its area in proportion to the difference;
// full where the reading is above, a ring where it is below, a cross where it was left out.
type ResidualMap struct {
	Title        string
	UName, VName string // the plane's axes, across and up: "y", "z"
	Places       []ResidualPlace
	Dark         bool
}

// ResidualPlace is one reading of a ResidualMap.
type ResidualPlace struct {
	U, V       float64 // m
	Difference float64 // T
	Wrong      bool
}

// ResidualPicture draws the differences of the readings from the fit: over their places as seen along the axis in which they extend least or, where they
// lie on a line, against their lines in the log.
func ResidualPicture(v *result.Verification) Picture {
	var low, high [3]float64
	for i, r := range v.Readings {
		for k := range 3 {
			if i == 0 {
				low[k], high[k] = r.At[k], r.At[k]
			}
			low[k], high[k] = math.Min(low[k], r.At[k]), math.Max(high[k], r.At[k])
		}
	}
	along := 0
	for k := 1; k < 3; k++ {
		if high[k]-low[k] < high[along]-low[along] {
			along = k
		}
	}
	const line = 1e-3 // m: below this extent no plane is seen
	a, b := (along+1)%3, (along+2)%3
	if a > b {
		a, b = b, a
	}
	if high[a]-low[a] < line || high[b]-low[b] < line {
		return ResidualChart(v)
	}
	m := ResidualMap{Title: v.Title + ": readings less fit", UName: string("xyz"[a]), VName: string("xyz"[b])}
	for _, r := range v.Readings {
		m.Places = append(m.Places, ResidualPlace{r.At[a], r.At[b], r.Corrected - r.Fitted, r.Wrong})
	}
	return m
}

func (m ResidualMap) title() string { return m.Title }

func (m ResidualMap) theme() theme { return themeOf(m.Dark) }

func (m ResidualMap) check() error {
	if len(m.Places) == 0 {
		return errors.New("there is no reading to draw")
	}
	for i, p := range m.Places {
		if !(math.Abs(p.U) < 1e6 && math.Abs(p.V) < 1e6 && math.Abs(p.Difference) < 1e15) {
			return fmt.Errorf("reading %d cannot be drawn: %g at (%g, %g) m", i+1, p.Difference, p.U, p.V)
		}
	}
	return nil
}

// largestMark is the radius of the mark of the largest difference that was not left out.
const largestMark = vg.Length(9)

type residualLayout struct {
	x, y           axis
	xTicks, yTicks []tick
	field          vg.Rectangle
	height         vg.Length
	most           float64 // T
}

func (m ResidualMap) layout(width vg.Length) (l residualLayout) {
	l.x, l.y = axis{math.Inf(1), math.Inf(-1), false}, axis{math.Inf(1), math.Inf(-1), false}
	for _, p := range m.Places { // in mm
		l.x.min, l.x.max = min(l.x.min, 1e3*p.U), max(l.x.max, 1e3*p.U)
		l.y.min, l.y.max = min(l.y.min, 1e3*p.V), max(l.y.max, 1e3*p.V)
		if !p.Wrong {
			l.most = max(l.most, math.Abs(p.Difference))
		}
	}
	room := 0.08 * max(l.x.max-l.x.min, l.y.max-l.y.min, 1e-3)
	for _, a := range []*axis{&l.x, &l.y} {
		a.min, a.max = a.min-room, a.max+room
	}
	body := lettering(bodySize, m.theme().ink, draw.XLeft, draw.YTop)
	l.xTicks, l.yTicks = l.x.ticksAcross(width-60, body), l.y.ticks(6)
	half := widest(body, l.xTicks) / 2
	left, right := margin+max(tickSize+2+widest(body, l.yTicks), half), margin+half
	below := margin + tickSize + 2*bodyLine
	// Both axes to the same scale, as far as the page has room.
	across := width - left - right
	h := across * vg.Length((l.y.max-l.y.min)/(l.x.max-l.x.min))
	h = min(max(h, 0.3*width), 0.9*width)
	l.field = vg.Rectangle{Min: vg.Point{X: left, Y: below}, Max: vg.Point{X: width - right, Y: below + h}}
	l.height = below + h + 2*gap + 2.6*bodyLine + margin + titleHeight(m.theme(), m.Title, width)
	return l
}

func (m ResidualMap) height(width vg.Length) vg.Length { return m.layout(width).height }

func (m ResidualMap) draw(c draw.Canvas) {
	l, th := m.layout(c.Max.X-c.Min.X), m.theme()
	paper(c, th, m.Title)
	field := draw.Canvas{Canvas: c.Canvas, Rectangle: l.field}
	scales(field, th, l.x, l.y, l.xTicks, l.yTicks, m.UName+", mm", m.VName+", mm", true)
	size := func(t float64) vg.Length {
		if l.most == 0 {
			return 1
		}
		return max(1, largestMark*vg.Length(math.Sqrt(math.Abs(t)/l.most)))
	}
	for _, p := range m.Places {
		mark(field, th, vg.Point{X: field.X(l.x.at(1e3 * p.U)), Y: field.Y(l.y.at(1e3 * p.V))}, size(p.Difference), p.Difference > 0, p.Wrong)
	}
	y, x := l.field.Max.Y+gap+1.9*bodyLine, l.field.Min.X+largestMark
	name := func(s string) {
		sty := lettering(bodySize, th.ink, draw.XLeft, yMiddle)
		field.FillText(sty, vg.Point{X: x + largestMark + 4, Y: y}, s)
		x += 2*largestMark + sty.Width(s) + 18
	}
	for _, above := range []bool{true, false} {
		mark(field, th, vg.Point{X: x, Y: y}, largestMark, above, false)
		word := "below"
		if above {
			word = "above"
		}
		name(figures(1e3*l.most, 2) + " mT " + word)
	}
	for _, p := range m.Places {
		if p.Wrong {
			mark(field, th, vg.Point{X: x, Y: y}, 4, true, true)
			name("left out")
			break
		}
	}
}

func mark(c draw.Canvas, th theme, at vg.Point, radius vg.Length, above, wrong bool) {
	switch {
	case wrong:
		c.DrawGlyphNoClip(draw.GlyphStyle{Color: th.ink, Radius: 4, Shape: draw.CrossGlyph{}}, at)
	case above:
		c.DrawGlyphNoClip(draw.GlyphStyle{Color: faded(th.curves[0], 0xb0), Radius: radius, Shape: draw.CircleGlyph{}}, at)
	default:
		var ring vg.Path
		ring.Move(vg.Point{X: at.X + radius, Y: at.Y})
		ring.Arc(at, radius, 0, 2*math.Pi)
		ring.Close()
		c.SetLineStyle(draw.LineStyle{Color: th.curves[1], Width: 1.4})
		c.Stroke(ring)
	}
}
