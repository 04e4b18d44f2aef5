package report

import (
	"bytes"
	"encoding/xml"
	"errors"
	"image"
	"image/color"
	"image/png"
	"io"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"
	"pgregory.net/rapid"
)

// strip is the field of a strip of magnetic charge, 1 T, of half width w at height y: the closed form of two dimensions.
func strip(w, y float64, p r2.Vec) r2.Vec {
	dy := p.Y - y
	bx := math.Log(((p.X+w)*(p.X+w)+dy*dy)/((p.X-w)*(p.X-w)+dy*dy)) / 2
	by := math.Atan((p.X+w)/dy) - math.Atan((p.X-w)/dy)
	return r2.Scale(1/(2*math.Pi), r2.Vec{X: bx, Y: by})
}

// pair is an invented map: two long magnets 60 mm wide over a gap of 20 mm, without the frame's effect.
func pair() Map {
	m := Map{Title: "Framed pair, |B| over the plane x = 0", UName: "y", VName: "z"}
	for i := range 121 {
		m.U = append(m.U, (float64(i)-60)*1.5e-3+1e-7)
	}
	for j := range 101 {
		m.V = append(m.V, (float64(j)-50)*1.5e-3+1e-7)
	}
	for _, v := range m.V {
		row := make([]float64, len(m.U))
		for i, u := range m.U {
			p := r2.Vec{X: u, Y: v}
			b := r2.Vec{}
			for _, s := range []struct{ y, q float64 }{{-0.03, -1.2}, {-0.01, 1.2}, {0.01, -1.2}, {0.03, 1.2}} {
				b = r2.Add(b, r2.Scale(s.q, strip(0.03, s.y, p)))
			}
			if a := math.Abs(v); a > 0.01 && a < 0.03 && math.Abs(u) < 0.03 {
				b.Y += 1.2
			}
			row[i] = r2.Norm(b)
		}
		m.B = append(m.B, row)
	}
	box := func(name string, x0, x1, y0, y1 float64, d r3.Vec) Outline {
		return Outline{Name: name, Loops: [][]r2.Vec{{{X: x0, Y: y0}, {X: x1, Y: y0}, {X: x1, Y: y1}, {X: x0, Y: y1}}}, Magnetized: d}
	}
	m.Parts = []Outline{
		box("upper magnet", -0.03, 0.03, 0.01, 0.03, r3.Vec{Y: 1}),
		box("lower magnet", -0.03, 0.03, -0.03, -0.01, r3.Vec{Y: 1}),
		box("top back plate", -0.06, 0.06, 0.03, 0.05, r3.Vec{}),
		box("bottom back plate", -0.06, 0.06, -0.05, -0.03, r3.Vec{}),
		box("left leg", -0.06, -0.048, -0.03, 0.03, r3.Vec{}),
		box("right leg", 0.048, 0.06, -0.03, 0.03, r3.Vec{}),
	}
	return m
}

func chart() Lines {
	g := Lines{Title: "Field along the axis", XName: "z, mm", YName: "B, T", Levels: []Level{{"target 0.8 T", 0.8}}}
	var p, q Curve
	p.Name, q.Name = "predicted", "measured"
	for i := range 81 {
		z := float64(i-40) / 2
		p.X = append(p.X, z)
		p.Y = append(p.Y, 0.78+0.0005*z*z)
		if i%10 == 0 {
			q.X = append(q.X, z)
			q.Y = append(q.Y, 0.775+0.00052*z*z)
		}
	}
	q.Points = true
	g.Curves = []Curve{p, q, {Name: "without steel", X: p.X, Y: scaled(p.Y, 0.6)}}
	return g
}

func scaled(v []float64, k float64) []float64 {
	out := make([]float64, len(v))
	for i := range v {
		out[i] = k * v[i]
	}
	return out
}

func TestLook(t *testing.T) {
	dir := os.Getenv("LOOK")
	if dir == "" {
		t.Skip("set LOOK to a folder to write pictures to look at")
	}
	write := func(name string, f func(io.Writer, float64) error, mm float64) {
		var b bytes.Buffer
		if err := f(&b, mm); err != nil {
			t.Fatal(name, err)
		}
		if err := os.WriteFile(filepath.Join(dir, name), b.Bytes(), 0o644); err != nil {
			t.Fatal(err)
		}
		t.Log(name, b.Len())
	}
	for _, dark := range []bool{false, true} {
		suffix := map[bool]string{false: "-light", true: "-dark"}[dark]
		m := pair()
		m.Dark = dark
		write("map"+suffix+".png", m.PNG, 152.4)
		write("map"+suffix+".svg", m.SVG, 152.4)
		m.Log, m.Title = true, "Stray field, logarithmic"
		write("log"+suffix+".png", m.PNG, 90)
		g := chart()
		g.Dark = dark
		write("chart"+suffix+".png", g.PNG, 152.4)
		write("chart"+suffix+".svg", g.SVG, 152.4)
	}
}

var (
	_ = xml.NewDecoder
	_ = errors.New
	_ = image.Rect
	_ = color.Black
	_ = png.Decode
	_ = strings.Contains
	_ = rapid.Check
)
