package draw

import (
	"bufio"
	"encoding/xml"
	"fmt"
	"io"
	"math"
	"strconv"
	"strings"

	"gonum.org/v1/gonum/spatial/r2"
)

// WriteSVG writes the sheet as SVG 1.1, its size and its units those of the paper, so that it prints to scale.
func (s *Sheet) WriteSVG(w io.Writer) error {
	out := bufio.NewWriter(w)
	fmt.Fprintf(out, `<?xml version="1.0" encoding="UTF-8"?>
<svg xmlns="http://www.w3.org/2000/svg" version="1.1" width="%[1]smm" height="%[2]smm" viewBox="0 0 %[1]s %[2]s">
<title>%[3]s</title>
<rect width="%[1]s" height="%[2]s" fill="#fff"/>
`, short(s.Width), short(s.Height), escaped(s.Title))
	for l := range layers {
		s.writeLayer(out, l)
	}
	out.WriteString("<g id=\"words\" font-family=\"'Liberation Sans', Arial, Helvetica, sans-serif\" fill=\"#000\">\n")
	for _, l := range s.Labels {
		x, y := short(l.At.X), short(s.Height-l.At.Y)
		turn := ""
		if l.Turned {
			turn = fmt.Sprintf(` transform="rotate(-90 %s %s)"`, x, y)
		}
		fmt.Fprintf(out, "<text x=\"%s\" y=\"%s\" font-size=\"%s\" text-anchor=\"%s\"%s>%s</text>\n", x, y, short(l.Height/capital),
			[]string{"start", "middle", "end"}[l.Align], turn, escaped(l.Text))
	}
	out.WriteString("</g>\n</svg>\n")
	return out.Flush()
}

// writeLayer writes what is drawn in a layer as a group, or nothing.
func (s *Sheet) writeLayer(out *bufio.Writer, l Layer) {
	var path, circles, fills strings.Builder
	last := r2.Vec{X: math.NaN()}
	to := func(p r2.Vec) string { return short(p.X) + " " + short(s.Height-p.Y) }
	for _, line := range s.Lines {
		if line.Layer != l {
			continue
		}
		if line.A != last {
			path.WriteString("M" + to(line.A))
		}
		path.WriteString("L" + to(line.B))
		last = line.B
	}
	for _, a := range s.Arcs {
		switch {
		case a.Layer != l:
		case a.Sweep >= 2*math.Pi-1e-9:
			fmt.Fprintf(&circles, "<circle cx=\"%s\" cy=\"%s\" r=\"%s\"/>\n", short(a.Center.X), short(s.Height-a.Center.Y), short(a.Radius))
		default:
			large := 0
			if a.Sweep > math.Pi {
				large = 1
			}
			r := short(a.Radius)
			fmt.Fprintf(&path, "M%sA%s %s 0 %d 0 %s", to(polar(a.Center, a.Radius, a.From)), r, r, large, to(polar(a.Center, a.Radius, a.From+a.Sweep)))
		}
	}
	for _, f := range s.Fills {
		if f.Layer == l {
			for i, p := range f.Corners {
				fills.WriteString([]string{"M", "L"}[min(i, 1)] + to(p))
			}
			fills.WriteString("Z")
		}
	}
	if path.Len()+circles.Len()+fills.Len() == 0 {
		return
	}
	st, dash := styles[l], ""
	for i, d := range st.dash {
		dash += []string{` stroke-dasharray="`, " "}[min(i, 1)] + short(d)
	}
	if dash != "" {
		dash += `"`
	}
	fmt.Fprintf(out, "<g id=\"%s\" fill=\"none\" stroke=\"#000\" stroke-width=\"%s\" stroke-linecap=\"round\" stroke-linejoin=\"round\"%s>\n", strings.ToLower(st.name), short(st.width), dash)
	if path.Len() > 0 {
		fmt.Fprintf(out, "<path d=\"%s\"/>\n", path.String())
	}
	out.WriteString(circles.String())
	if fills.Len() > 0 {
		fmt.Fprintf(out, "<path fill=\"#000\" stroke=\"none\" d=\"%s\"/>\n", fills.String())
	}
	out.WriteString("</g>\n")
}

func escaped(s string) string {
	var b strings.Builder
	_ = xml.EscapeText(&b, []byte(s)) // a strings.Builder takes all
	return b.String()
}

// short prints mm of paper to a thousandth.
func short(x float64) string {
	r := math.Round(x*1000) / 1000
	return strconv.FormatFloat(r+0, 'f', -1, 64)
}
