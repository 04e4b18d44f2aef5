package report

import (
	"errors"
	"fmt"
	"math"

	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
)

// Bars is a chart of shares: for each name a bar of each series, the names below one another in the given order.
type Bars struct {
	Title, XName string // XName with the unit of the values
	Names        []string
	Series       []BarSeries
	Dark         bool
}

// BarSeries is one value, zero or more, for each name.
type BarSeries struct {
	Name   string
	Values []float64
}

func (g Bars) title() string { return g.Title }

func (g Bars) theme() theme { return themeOf(g.Dark) }

func (g Bars) check() error {
	if len(g.Names) == 0 || len(g.Series) == 0 {
		return errors.New("there is no bar to draw")
	}
	for _, s := range g.Series {
		if len(s.Values) != len(g.Names) {
			return fmt.Errorf("series %q has %d values for %d names", s.Name, len(s.Values), len(g.Names))
		}
		for i, v := range s.Values {
			if !(v >= 0 && v < 1e15) {
				return fmt.Errorf("the bar %q of %q cannot be drawn at %g", g.Names[i], s.Name, v)
			}
		}
	}
	return nil
}

const (
	barHeight   = vg.Length(7)
	betweenBars = vg.Length(7) // between names
)

func (g Bars) row() vg.Length { return barHeight*vg.Length(len(g.Series)) + betweenBars }

func (g Bars) height(width vg.Length) vg.Length {
	return 2*margin + titleHeight(g.theme(), g.Title, width) + bodyLine*(vg.Length(len(g.Series))+0.6) + g.row()*vg.Length(len(g.Names)) + tickSize + 2*bodyLine
}

func (g Bars) draw(c draw.Canvas) {
	th := g.theme()
	width := c.Max.X - c.Min.X
	body := paper(c, th, g.Title)
	names := lettering(bodySize, th.ink, draw.XRight, yMiddle)
	var left vg.Length
	for _, n := range g.Names {
		left = max(left, names.Width(oneLine(n)))
	}
	left = min(left, 0.45*width)
	top := body.Max.Y
	for i, s := range g.Series {
		y := top - bodyLine*(vg.Length(i)+0.6)
		body.SetColor(th.curves[i%len(th.curves)])
		body.Fill(vg.Rectangle{Min: vg.Point{X: body.Min.X, Y: y - barHeight/2}, Max: vg.Point{X: body.Min.X + sample, Y: y + barHeight/2}}.Path())
		sty := lettering(bodySize, th.ink, draw.XLeft, yMiddle)
		body.FillText(sty, vg.Point{X: body.Min.X + sample + 4, Y: y}, cut(sty, oneLine(s.Name), body.Max.X-body.Min.X-sample-4))
	}
	top -= bodyLine * (vg.Length(len(g.Series)) + 0.6)
	field := draw.Canvas{Canvas: c.Canvas, Rectangle: vg.Rectangle{
		Min: vg.Point{X: body.Min.X + left + 6, Y: top - g.row()*vg.Length(len(g.Names))}, Max: vg.Point{X: body.Max.X - 12, Y: top}}}
	most := 0.0
	for _, s := range g.Series {
		for _, v := range s.Values {
			most = math.Max(most, v)
		}
	}
	x := axis{0, most, false}.opened(true)
	scales(field, th, x, axis{0, 1, false}, x.ticksAcross(field.Max.X-field.Min.X, lettering(bodySize, th.ink, draw.XLeft, draw.YTop)), nil, g.XName, "", true)
	for k, n := range g.Names {
		y := field.Max.Y - g.row()*vg.Length(k) - betweenBars/2
		field.FillText(names, vg.Point{X: field.Min.X - 6, Y: y - barHeight*vg.Length(len(g.Series))/2}, cut(names, oneLine(n), left))
		for i, s := range g.Series {
			field.SetColor(th.curves[i%len(th.curves)])
			field.Fill(vg.Rectangle{Min: vg.Point{X: field.Min.X, Y: y - barHeight*vg.Length(i+1)}, Max: vg.Point{X: field.X(x.at(s.Values[k])), Y: y - barHeight*vg.Length(i)}}.Path())
		}
	}
}
