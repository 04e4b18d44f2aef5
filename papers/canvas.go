package papers

import (
	"bytes"
	"fmt"
	"image"
	"image/color"
	imagedraw "image/draw"
	"image/png"
	"math"

	"codeberg.org/go-pdf/fpdf"
	stdfont "golang.org/x/image/font"
	"gonum.org/v1/plot/font"
	"gonum.org/v1/plot/vg"
)

// canvas draws a picture on a page: a vg.Canvas whose origin is the picture's lower left corner. A picture's own transformations are kept
// here, as a matrix, so that the page's state does not change.
type canvas struct {
	pdf    *fpdf.Fpdf
	state  state
	saved  []state
	images map[int]int // of the document: how many there are of each width, pixels
}

// state is what Push keeps. The matrix takes the picture's points to the page's.
type state struct {
	xx, xy, yx, yy, dx, dy float64 // x' = xx x + xy y + dx, y' = yx x + yy y + dy
	color                  color.Color
	width                  vg.Length
	dashes                 []vg.Length
	offset                 vg.Length
}

// newCanvas is a picture's canvas with its lower left corner at (x, y) of the page, in points from above.
func newCanvas(pdf *fpdf.Fpdf, x, y float64, images map[int]int) *canvas {
	return &canvas{pdf: pdf, images: images, state: state{xx: 1, yy: -1, dx: x, dy: y, color: color.Black, width: 1}}
}

func (c *canvas) place(p vg.Point) (x, y float64) {
	s, px, py := &c.state, p.X.Points(), p.Y.Points()
	return s.xx*px + s.xy*py + s.dx, s.yx*px + s.yy*py + s.dy
}

// SetLineWidth and the other methods with a capital are those of vg.Canvas.
func (c *canvas) SetLineWidth(w vg.Length) { c.state.width = w }

func (c *canvas) SetLineDash(dashes []vg.Length, offset vg.Length) {
	c.state.dashes, c.state.offset = dashes, offset
}

func (c *canvas) SetColor(k color.Color) {
	if k == nil {
		k = color.Black
	}
	c.state.color = k
}

func (c *canvas) Rotate(rad float64) {
	s := &c.state
	sin, cos := math.Sincos(rad)
	s.xx, s.xy = s.xx*cos+s.xy*sin, -s.xx*sin+s.xy*cos
	s.yx, s.yy = s.yx*cos+s.yy*sin, -s.yx*sin+s.yy*cos
}

func (c *canvas) Translate(p vg.Point) { c.state.dx, c.state.dy = c.place(p) }

func (c *canvas) Scale(x, y float64) {
	s := &c.state
	s.xx, s.yx = s.xx*x, s.yx*x
	s.xy, s.yy = s.xy*y, s.yy*y
}

func (c *canvas) Push() { c.saved = append(c.saved, c.state) }

func (c *canvas) Pop() {
	c.state = c.saved[len(c.saved)-1]
	c.saved = c.saved[:len(c.saved)-1]
}

// ink sets the page's colours to the picture's.
func (c *canvas) ink() {
	k := color.NRGBAModel.Convert(c.state.color).(color.NRGBA)
	r, g, b := int(k.R), int(k.G), int(k.B)
	c.pdf.SetFillColor(r, g, b)
	c.pdf.SetDrawColor(r, g, b)
	c.pdf.SetTextColor(r, g, b)
	c.pdf.SetAlpha(float64(k.A)/255, "Normal")
}

func (c *canvas) Stroke(p vg.Path) {
	if c.state.width <= 0 {
		return
	}
	var dashes []float64
	for _, d := range c.state.dashes {
		dashes = append(dashes, d.Points())
	}
	c.pdf.SetDashPattern(dashes, c.state.offset.Points())
	c.pdf.SetLineWidth(c.state.width.Points())
	c.path(p, "D")
	c.pdf.SetDashPattern(nil, 0)
}

func (c *canvas) Fill(p vg.Path) { c.path(p, "F") }

func (c *canvas) path(p vg.Path, style string) {
	c.ink()
	var last vg.Point
	open := false
	for _, k := range p {
		switch k.Type {
		case vg.MoveComp:
			c.pdf.MoveTo(c.place(k.Pos))
			last, open = k.Pos, true
		case vg.LineComp:
			c.pdf.LineTo(c.place(k.Pos))
			last = k.Pos
		case vg.ArcComp:
			const steps = 32
			for i := range steps + 1 {
				sin, cos := math.Sincos(k.Start + k.Angle*float64(i)/steps)
				last = vg.Point{X: k.Pos.X + k.Radius*vg.Length(cos), Y: k.Pos.Y + k.Radius*vg.Length(sin)}
				if x, y := c.place(last); open {
					c.pdf.LineTo(x, y)
				} else {
					c.pdf.MoveTo(x, y)
					open = true
				}
			}
		case vg.CurveComp:
			a, b := k.Control[0], k.Control[len(k.Control)-1]
			if len(k.Control) == 1 { // of second order: the same curve as one of third
				q := k.Control[0]
				a = last.Add(q.Sub(last).Scale(2. / 3))
				b = k.Pos.Add(q.Sub(k.Pos).Scale(2. / 3))
			}
			ax, ay := c.place(a)
			bx, by := c.place(b)
			x, y := c.place(k.Pos)
			c.pdf.CurveBezierCubicTo(ax, ay, bx, by, x, y)
			last = k.Pos
		case vg.CloseComp:
			c.pdf.ClosePath()
		}
	}
	if open {
		c.pdf.DrawPath(style)
	}
	c.pdf.SetAlpha(1, "Normal")
}

func (c *canvas) FillString(f font.Face, at vg.Point, s string) {
	c.ink()
	style := ""
	if f.Font.Weight >= stdfont.WeightBold {
		style = "B"
	}
	c.pdf.SetFont(sans, style, f.Font.Size.Points())
	x, y := c.place(at)
	// The base line runs along (xx, yx) on the page, whose y points down.
	turn := math.Atan2(-c.state.yx, c.state.xx) * 180 / math.Pi
	if math.Abs(turn) > 1e-6 {
		c.pdf.TransformBegin()
		c.pdf.TransformRotate(turn, x, y)
		defer c.pdf.TransformEnd()
	}
	c.pdf.Text(x, y, s)
	c.pdf.SetAlpha(1, "Normal")
}

// DrawImage puts an image on the page. The library writes images in the order of their widths, and those of one width in any order: so each gets
// a width of its own, by columns on the right that are clipped off.
func (c *canvas) DrawImage(r vg.Rectangle, img image.Image) {
	size := img.Bounds().Size()
	width := size.X
	for c.images[width] > 0 {
		width++
	}
	c.images[width]++
	wide := image.NewNRGBA(image.Rect(0, 0, width, size.Y))
	imagedraw.Draw(wide, wide.Bounds(), img, img.Bounds().Min, imagedraw.Src)
	for x := size.X; x < width; x++ {
		for y := range size.Y {
			wide.Set(x, y, wide.At(size.X-1, y))
		}
	}
	var b bytes.Buffer
	if err := png.Encode(&b, wide); err != nil {
		c.pdf.SetError(err)
		return
	}
	name := fmt.Sprint("image", width)
	options := fpdf.ImageOptions{ImageType: "png"}
	c.pdf.RegisterImageOptionsReader(name, options, &b)
	x0, y0 := c.place(r.Min)
	x1, y1 := c.place(r.Max)
	x, y, w, h := min(x0, x1), min(y0, y1), math.Abs(x1-x0), math.Abs(y1-y0)
	c.pdf.ClipRect(x, y, w, h, false)
	c.pdf.ImageOptions(name, x, y, w*float64(width)/float64(size.X), h, false, options, 0, "")
	c.pdf.ClipEnd()
}
