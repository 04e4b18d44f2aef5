package report

import (
	"bytes"
	"encoding/xml"
	"errors"
	"fmt"
	"io"
	"sort"
	"strings"

	"golang.org/x/image/font/sfnt"
	"golang.org/x/image/math/fixed"
	plotfont "gonum.org/v1/plot/font"
	"gonum.org/v1/plot/text"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
	"gonum.org/v1/plot/vg/vgimg"
	"gonum.org/v1/plot/vg/vgsvg"
)

const (
	pngDPI                 = 150 // 900 pixels are 152 mm
	minWidthMM, maxWidthMM = 60, 1200
)

// picture is what a page can carry: it says how high it is at a width, and draws itself to fill that.
type picture interface {
	check() error
	title() string
	height(width vg.Length) vg.Length
	theme() theme
	draw(c draw.Canvas)
}

func pageSize(p picture, widthMM float64) (w, h vg.Length, err error) {
	if err := p.check(); err != nil {
		return 0, 0, err
	}
	if !(widthMM >= minWidthMM && widthMM <= maxWidthMM) {
		return 0, 0, fmt.Errorf("the picture's width must be from %d mm to %d mm, not %g mm", minWidthMM, maxWidthMM, widthMM)
	}
	w = vg.Length(widthMM) * vg.Millimeter
	return w, p.height(w), nil
}

func writePNG(w io.Writer, p picture, widthMM float64) error {
	if w == nil {
		return errors.New("there is no writer to write the picture to")
	}
	width, height, err := pageSize(p, widthMM)
	if err != nil {
		return err
	}
	c := vgimg.NewWith(vgimg.UseWH(width, height), vgimg.UseDPI(pngDPI), vgimg.UseBackgroundColor(p.theme().paper))
	p.draw(draw.New(c))
	_, err = vgimg.PngCanvas{Canvas: c}.WriteTo(w)
	return err
}

func writeSVG(w io.Writer, p picture, widthMM float64) error {
	if w == nil {
		return errors.New("there is no writer to write the picture to")
	}
	width, height, err := pageSize(p, widthMM)
	if err != nil {
		return err
	}
	c := &outlinedSVG{Canvas: vgsvg.New(width, height)}
	p.draw(draw.New(c))
	var buf bytes.Buffer
	if _, err := c.WriteTo(&buf); err != nil {
		return err
	}
	doc := buf.Bytes()
	// The document starts at its element, so that it can stand in a page as well as in a file of its own.
	if i := bytes.Index(doc, []byte("<svg")); i > 0 {
		doc = doc[i:]
	}
	head, body, _ := bytes.Cut(doc, []byte(">"))
	// The backend announces its PNG images as JPEG.
	body = bytes.ReplaceAll(body, []byte("data:image/jpg;"), []byte("data:image/png;"))
	_, err = fmt.Fprintf(w, "%s role=\"img\">\n<title>%s</title>\n<desc>%s</desc>%s", head, escaped(p.title()), escaped(strings.Join(c.words, "; ")), body)
	return err
}

func escaped(s string) string {
	var b strings.Builder
	if err := xml.EscapeText(&b, []byte(s)); err != nil {
		return ""
	}
	return b.String()
}

// outlinedSVG draws text as the outlines of its letters and remembers the words.
type outlinedSVG struct {
	*vgsvg.Canvas
	words []string
}

func (c *outlinedSVG) FillString(f plotfont.Face, at vg.Point, s string) {
	c.words = append(c.words, s)
	if p := letters(f, at, s); len(p) > 0 {
		c.Fill(p)
	}
}

// letters returns the outlines of s, set from the point at along its baseline.
func letters(f plotfont.Face, at vg.Point, s string) (path vg.Path) {
	// With as many pixels an em as it has units, coordinates come in font units; y points down.
	em := fixed.Int26_6(f.Face.UnitsPerEm())
	scale := f.Font.Size / vg.Length(em)
	point := func(p fixed.Point26_6) vg.Point {
		return vg.Point{X: at.X + scale*vg.Length(p.X), Y: at.Y - scale*vg.Length(p.Y)}
	}
	var (
		buf  sfnt.Buffer
		last sfnt.GlyphIndex
	)
	for i, r := range s {
		g, err := f.Face.GlyphIndex(&buf, r)
		if err != nil {
			continue
		}
		if i > 0 {
			if k, err := f.Face.Kern(&buf, last, g, em, 0); err == nil {
				at.X += scale * vg.Length(k)
			}
		}
		last = g
		segments, err := f.Face.LoadGlyph(&buf, g, em, nil)
		if err != nil {
			continue
		}
		for k, seg := range segments {
			switch seg.Op {
			case sfnt.SegmentOpMoveTo:
				if k > 0 {
					path.Close()
				}
				path.Move(point(seg.Args[0]))
			case sfnt.SegmentOpLineTo:
				path.Line(point(seg.Args[0]))
			case sfnt.SegmentOpQuadTo:
				path.QuadTo(point(seg.Args[0]), point(seg.Args[1]))
			case sfnt.SegmentOpCubeTo:
				path.CubeTo(point(seg.Args[0]), point(seg.Args[1]), point(seg.Args[2]))
			}
		}
		if len(segments) > 0 {
			path.Close()
		}
		if adv, err := f.Face.GlyphAdvance(&buf, g, em, 0); err == nil {
			at.X += scale * vg.Length(adv)
		}
	}
	return path
}

// paper fills the page and writes the title, and returns the page below it.
func paper(c draw.Canvas, th theme, title string) draw.Canvas {
	c.SetColor(th.paper)
	c.Fill(c.Rectangle.Path())
	c = draw.Crop(c, margin, -margin, margin, -margin)
	for _, line := range wrapped(titleStyle(th), title, c.Max.X-c.Min.X) {
		c.FillText(titleStyle(th), vg.Point{X: c.Min.X, Y: c.Max.Y}, line)
		c.Max.Y -= titleLine
	}
	return c
}

const (
	titleLine = titleSize * 1.35
	bodyLine  = bodySize * 1.4
)

func titleStyle(th theme) text.Style {
	return bold(lettering(titleSize, th.ink, draw.XLeft, draw.YTop))
}

func titleHeight(th theme, title string, width vg.Length) vg.Length {
	return vg.Length(len(wrapped(titleStyle(th), title, width-2*margin))) * titleLine
}

// wrapped breaks s at spaces into lines no wider than width, or cuts what has no spaces.
func wrapped(sty text.Style, s string, width vg.Length) []string {
	words := strings.Fields(s)
	for i, word := range words {
		words[i] = cut(sty, word, width)
	}
	return broken(words, func(line string) bool { return sty.Width(line) <= width })
}

// oneLine puts a name on one line.
func oneLine(s string) string { return strings.Join(strings.Fields(s), " ") }

// cut shortens s until it is no wider than width.
func cut(sty text.Style, s string, width vg.Length) string {
	if sty.Width(s) <= width {
		return s
	}
	r := []rune(s)
	n := sort.Search(min(len(r), 1000), func(n int) bool { return sty.Width(string(r[:n+1])+"…") > width })
	return string(r[:n]) + "…"
}

// scales draws the ticks and names of both axes round the canvas, with rules across it where they help.
func scales(c draw.Canvas, th theme, x, y axis, xTicks, yTicks []tick, xName, yName string, rules bool) {
	small := lettering(bodySize, th.ink, draw.XCenter, draw.YTop)
	line := draw.LineStyle{Color: th.ink, Width: 0.6}
	rule := draw.LineStyle{Color: th.rule, Width: 0.6}
	for _, t := range xTicks {
		px := c.X(x.at(t.v))
		if rules {
			c.StrokeLine2(rule, px, c.Min.Y, px, c.Max.Y)
		}
		c.StrokeLine2(line, px, c.Min.Y-tickSize, px, c.Min.Y)
		c.FillText(small, vg.Point{X: px, Y: c.Min.Y - tickSize - 1}, t.label)
	}
	small.XAlign, small.YAlign = draw.XRight, yMiddle
	for _, t := range yTicks {
		py := c.Y(y.at(t.v))
		if rules {
			c.StrokeLine2(rule, c.Min.X, py, c.Max.X, py)
		}
		c.StrokeLine2(line, c.Min.X-tickSize, py, c.Min.X, py)
		c.FillText(small, vg.Point{X: c.Min.X - tickSize - 2, Y: py}, t.label)
	}
	name := func(x draw.XAlignment, y draw.YAlignment, at vg.Point, s string) {
		sty := lettering(bodySize, th.muted, x, y)
		c.FillText(sty, at, cut(sty, oneLine(s), c.Max.X-c.Min.X))
	}
	name(draw.XRight, draw.YTop, vg.Point{X: c.Max.X, Y: c.Min.Y - tickSize - bodyLine}, xName)
	name(draw.XLeft, draw.YBottom, vg.Point{X: c.Min.X, Y: c.Max.Y + gap}, yName)
	c.StrokeLines(line, outline(c.Rectangle))
}

func outline(r vg.Rectangle) []vg.Point {
	return []vg.Point{r.Min, {X: r.Max.X, Y: r.Min.Y}, r.Max, {X: r.Min.X, Y: r.Max.Y}, r.Min}
}

// widest returns the width of the widest label.
func widest(sty text.Style, ticks []tick) vg.Length {
	var w vg.Length
	for _, t := range ticks {
		w = max(w, sty.Width(t.label))
	}
	return w
}
