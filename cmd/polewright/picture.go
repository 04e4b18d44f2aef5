package main

import (
	"bytes"
	"fmt"
	"os"
	"path/filepath"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"

	"polewright"
	"polewright/design"
	"polewright/report"
	"polewright/shape"
)

// drawField writes a map of |B| over the plane across x through the middle of the gap as LAYOUT.png into a folder.
func drawField(folder, layout string, d *design.Design, s *polewright.Solved) error {
	if err := os.MkdirAll(folder, 0o777); err != nil {
		return &usageError{fmt.Sprintf("%s: cannot be made: %s", folder, reason(err)), "name another folder for the pictures"}
	}
	var b bytes.Buffer
	if err := fieldMap(d, s).PNG(&b, 160); err != nil {
		return err
	}
	return writeWhole(filepath.Join(folder, layout+".png"), b.Bytes(), true)
}

// fieldMap is |B| over y across the page and z up the page, with a margin round the parts.
func fieldMap(d *design.Design, s *polewright.Solved) report.Map {
	const steps = 160
	x := s.Result.GapAtM[0]
	m := report.Map{Title: s.Result.Title, UName: "y", VName: "z"}
	var box r3.Box
	for i, p := range d.Parts() {
		b := shape.Bounds(p.Solid, p.Place)
		if i == 0 {
			box = b
		}
		box.Min.Y, box.Min.Z = min(box.Min.Y, b.Min.Y), min(box.Min.Z, b.Min.Z)
		box.Max.Y, box.Max.Z = max(box.Max.Y, b.Max.Y), max(box.Max.Z, b.Max.Z)
		loops, lo, hi, ok := shape.Outline(p.Solid, p.Place, 0)
		if !ok || x < lo || x > hi {
			continue
		}
		o := report.Outline{Name: p.Name}
		for _, l := range loops {
			o.Loops = append(o.Loops, polygon(l))
		}
		if i < len(d.Magnets) {
			v := d.Magnets[i].Direction
			o.Magnetized = r3.Vec{X: v.Y, Y: v.Z, Z: v.X}
		}
		m.Parts = append(m.Parts, o)
	}
	margin := max(box.Max.Y-box.Min.Y, box.Max.Z-box.Min.Z) / 4
	for i := range steps + 1 {
		t := float64(i) / steps
		m.U = append(m.U, box.Min.Y-margin+t*(box.Max.Y-box.Min.Y+2*margin))
		m.V = append(m.V, box.Min.Z-margin+t*(box.Max.Z-box.Min.Z+2*margin))
	}
	for _, z := range m.V {
		row := make([]float64, len(m.U))
		for i, y := range m.U {
			b, _ := s.Field(r3.Vec{X: x, Y: y, Z: z})
			row[i] = r3.Norm(b)
		}
		m.B = append(m.B, row)
	}
	return m
}

// polygon follows a loop, arcs in steps.
func polygon(l shape.Loop) (points []r2.Vec) {
	const arcSteps = 16
	for _, e := range l {
		steps := 1
		if e.Radius > 0 {
			steps = arcSteps
		}
		for i := range steps {
			points = append(points, e.At(float64(i)/float64(steps)))
		}
	}
	return points
}
