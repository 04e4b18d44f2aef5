package draw

import (
	"bufio"
	"fmt"
	"io"
	"math"
	"strconv"
	"strings"

	"gonum.org/v1/gonum/spatial/r2"
)

// WriteDXF writes the sheet as ASCII DXF of release 12 (Autodesk, DXF Reference, release 12; group codes from memory), which about every
// drawing program and cutting machine reads. One unit is one millimetre of the true part: the whole sheet is enlarged by the inverse of its
// scale, so that what lies on the layer PROFILE can be cut as it is. Dimensions are lines, arrowheads and text. Letters
// beyond ASCII are written as %%c for the diameter sign, %%d for the degree, else \U+XXXX.
func (s *Sheet) WriteDXF(w io.Writer) error {
	d := dxfWriter{bufio.NewWriter(w), 1 / s.Scale}
	d.pair(999, "polewright; 1 unit is 1 mm of the true part; sheet "+scaleName(s.Scale))
	d.header(s)
	d.tables()
	d.pair(0, "SECTION")
	d.pair(2, "ENTITIES")
	for _, l := range s.Lines {
		d.entity("LINE", l.Layer)
		d.point(10, l.A)
		d.point(11, l.B)
	}
	for _, a := range s.Arcs {
		if a.Sweep >= 2*math.Pi-1e-9 {
			d.entity("CIRCLE", a.Layer)
			d.point(10, a.Center)
			d.number(40, a.Radius*d.enlarge)
			continue
		}
		d.entity("ARC", a.Layer)
		d.point(10, a.Center)
		d.number(40, a.Radius*d.enlarge)
		d.number(50, degrees(a.From))
		d.number(51, degrees(a.From+a.Sweep))
	}
	for _, f := range s.Fills {
		d.entity("SOLID", f.Layer)
		// Its corners go crosswise, and a triangle has the last one twice.
		c := f.Corners
		for i, k := range []int{0, 1, len(c) - 1, 2} {
			d.point(10+i, c[k])
		}
	}
	for _, l := range s.Labels {
		d.label(l)
	}
	d.pair(0, "ENDSEC")
	d.pair(0, "EOF")
	return d.w.Flush()
}

type dxfWriter struct {
	w       *bufio.Writer
	enlarge float64
}

func (d dxfWriter) pair(code int, value string)     { fmt.Fprintf(d.w, "%3d\r\n%s\r\n", code, value) }
func (d dxfWriter) number(code int, value float64)  { d.pair(code, decimal(value)) }
func (d dxfWriter) entity(kind string, layer Layer) { d.pair(0, kind); d.pair(8, styles[layer].name) }

func (d dxfWriter) point(code int, p r2.Vec) {
	d.number(code, p.X*d.enlarge)
	d.number(code+10, p.Y*d.enlarge)
	d.number(code+20, 0)
}

// decimal prints to a nanometre, always with a decimal point.
func decimal(x float64) string {
	s := strconv.FormatFloat(math.Round(x*1e6)/1e6+0, 'f', -1, 64)
	if !strings.Contains(s, ".") {
		s += ".0"
	}
	return s
}

func degrees(angle float64) float64 {
	a := math.Mod(angle*180/math.Pi, 360)
	if a < -1e-12 {
		a += 360
	}
	return a
}

func (d dxfWriter) header(s *Sheet) {
	d.pair(0, "SECTION")
	d.pair(2, "HEADER")
	variable := func(name string, code int, value string) { d.pair(9, name); d.pair(code, value) }
	corner := func(name string, p r2.Vec) {
		d.pair(9, name)
		d.number(10, p.X*d.enlarge)
		d.number(20, p.Y*d.enlarge)
	}
	variable("$ACADVER", 1, "AC1009")
	corner("$EXTMIN", v(0, 0))
	corner("$EXTMAX", v(s.Width, s.Height))
	corner("$LIMMIN", v(0, 0))
	corner("$LIMMAX", v(s.Width, s.Height))
	variable("$LUNITS", 70, "2") // decimal
	variable("$LTSCALE", 40, "1.0")
	d.pair(0, "ENDSEC")
}

func (d dxfWriter) tables() {
	table := func(name string, entries int) {
		d.pair(0, "TABLE")
		d.pair(2, name)
		d.pair(70, strconv.Itoa(entries))
	}
	d.pair(0, "SECTION")
	d.pair(2, "TABLES")
	lineType := func(name, looks string, dash []float64) {
		d.pair(0, "LTYPE")
		d.pair(2, name)
		d.pair(70, "64")
		d.pair(3, looks)
		d.pair(72, "65")
		d.pair(73, strconv.Itoa(len(dash)))
		total := 0.0
		for _, x := range dash {
			total += x
		}
		d.number(40, total*d.enlarge)
		for i, x := range dash {
			d.number(49, x*d.enlarge*[]float64{1, -1}[i%2])
		}
	}
	table("LTYPE", 3)
	lineType("CONTINUOUS", "Solid line", nil)
	lineType("DASHED2", "Dashed __ __ __", styles[Hidden].dash) // by the names that readers know
	lineType("CENTER2", "Center ____ _ ____", styles[Centre].dash)
	d.pair(0, "ENDTAB")
	table("LAYER", int(layers)+1)
	for l := range layers + 1 {
		name, color, dash := "0", 7, "CONTINUOUS"
		if l > 0 {
			st := styles[l-1]
			name, color = st.name, st.color
			switch Layer(l - 1) {
			case Hidden:
				dash = "DASHED2"
			case Centre:
				dash = "CENTER2"
			}
		}
		d.pair(0, "LAYER")
		d.pair(2, name)
		d.pair(70, "64")
		d.pair(62, strconv.Itoa(color))
		d.pair(6, dash)
	}
	d.pair(0, "ENDTAB")
	table("STYLE", 1)
	d.pair(0, "STYLE")
	d.pair(2, "STANDARD")
	d.pair(70, "64")
	d.number(40, 0)
	d.number(41, 1)
	d.number(50, 0)
	d.pair(71, "0")
	d.number(42, 2.5*d.enlarge)
	d.pair(3, "txt")
	d.pair(4, "")
	d.pair(0, "ENDTAB")
	d.pair(0, "ENDSEC")
}

// narrow makes the strokes of the standard font about as wide as the letters that the layout was made for.
const narrow = 0.75

func (d dxfWriter) label(l Label) {
	d.entity("TEXT", l.Layer)
	d.point(10, l.At)
	d.number(40, l.Height*d.enlarge)
	d.pair(1, dxfText(l.Text))
	if l.Turned {
		d.number(50, 90)
	}
	d.number(41, narrow)
	d.pair(7, "STANDARD")
	if l.Align != Left {
		d.pair(72, strconv.Itoa(int(l.Align)))
		d.point(11, l.At)
	}
}

// dxfText writes a text in ASCII.
func dxfText(text string) string {
	var b strings.Builder
	for _, r := range text {
		switch {
		case r == '⌀':
			b.WriteString("%%c")
		case r == '°':
			b.WriteString("%%d")
		case r == '%':
			b.WriteString("%%%")
		case r < ' ':
			b.WriteByte(' ')
		case r < 0x7f:
			b.WriteRune(r)
		case r > 0xffff:
			b.WriteByte('?')
		default:
			fmt.Fprintf(&b, `\U+%04X`, r)
		}
	}
	return b.String()
}
