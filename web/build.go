package web

import (
	"bytes"
	"context"
	"encoding/base64"
	"errors"
	"fmt"
	"io"
	"math"
	"slices"

	"polewright"
	"polewright/design"
	"polewright/draw"
	"polewright/facet"
	"polewright/material"
	"polewright/mistake"
	"polewright/papers"
	"polewright/report"
	"polewright/result"
	"polewright/winding"
)

// This file answers what a builder asks about a design besides its field: sizes for a target, magnets when they are warm, bringing halves
// together, winding, what to cut, papers.

// Sizing asks for designs for the target of a text.
type Sizing struct {
	Asked
	Solve int `json:"solve"` // how many of the best to solve in full, 0 to 5
}

// Sizes are designs for a target, each as a design file: those of Candidates, then those of Others.
type Sizes struct {
	Sizing polewright.Sizing `json:"sizing"`
	Files  []string          `json:"files"`
}

func (q *Sizing) check() error {
	if q.Solve < 0 || q.Solve > 5 {
		return bad("no such number of solves", "solve is 0 to 5")
	}
	return nil
}

func (b *Bench) size(ctx context.Context, q *Sizing, e *events) (*Sizes, error) {
	d, err := b.read(q.Asked, readTarget)
	if err != nil {
		return nil, err
	}
	return apart(ctx, b, func(ctx context.Context) (*Sizes, error) {
		prices, _ := b.judging(d)
		s, err := polewright.RunSize(ctx, d, polewright.SizeOptions{Solve: q.Solve, Stock: prices, Progress: e.progress})
		if err != nil {
			return nil, err
		}
		out := &Sizes{Sizing: *s, Files: []string{}}
		for _, c := range append(slices.Clone(s.Candidates), s.Others...) {
			text, err := c.DesignFile(d)
			if err != nil {
				return nil, err
			}
			out.Files = append(out.Files, string(text))
		}
		return out, nil
	})
}

// Warming asks for a magnet's demagnetization curves.
type Warming struct {
	Asked
	Part      string  `json:"part"`
	Permeance float64 `json:"permeance"` // coefficient of its working point
}

// Curves are the demagnetization curves of a magnet at temperatures.
type Curves struct {
	Part   string  `json:"part"`
	Grade  string  `json:"grade"`
	Source string  `json:"source"`
	Rule   string  `json:"knee_rule"` // where the knee comes from
	Curves []Curve `json:"curves"`    // the coldest first
}

// Curve is one of them, with the point at which the load line of the permeance meets it.
type Curve struct {
	DegC float64   `json:"degC"`
	H    []float64 `json:"h_A_per_m"` // from the lowest to 0
	B    []float64 `json:"b_T"`
	Knee float64   `json:"knee_h_A_per_m"` // 0: not known
	H0   float64   `json:"working_h_A_per_m"`
	B0   float64   `json:"working_b_T"`
	Kept float64   `json:"remanence_kept"` // at that point
}

func (q *Warming) check() error {
	if !(q.Permeance >= 0 && q.Permeance <= 1e6) {
		return bad("no such permeance coefficient", "it is 0 or more")
	}
	return nil
}

func (b *Bench) magnet(_ string, q *Warming) (*Curves, error) {
	d, err := b.design(q.Asked)
	if err != nil {
		return nil, err
	}
	for _, m := range d.Magnets {
		if m.Name == q.Part {
			return curvesOf(m, q.Permeance), nil
		}
	}
	return nil, bad(fmt.Sprintf("there is no magnet %q", q.Part), "")
}

// curvesOf draws a magnet's curves from -40 to 200 degC.
func curvesOf(m design.Magnet, permeance float64) *Curves {
	const steps = 80
	c := &Curves{Part: m.Name, Grade: m.Material.Name, Source: m.Material.Source, Rule: m.Material.KneeRule(), Curves: []Curve{}}
	for t := -40.0; t <= 200; t += 5 {
		at := m.Material.At(t)
		eval := func(h float64) float64 { return at.RemanenceT + at.RecoilPermeability*material.Mu0*h }
		kept := func(float64) float64 { return 1 }
		one := Curve{DegC: t}
		if curve, ok := at.Demagnetization(); ok {
			eval = func(h float64) float64 { b, _, _ := curve.Eval(h); return b }
			kept = curve.Kept
			one.Knee = curve.KneeApm()
		}
		low := -at.RemanenceT / (at.RecoilPermeability * material.Mu0)
		if one.Knee < 0 {
			low = min(low, 1.1*one.Knee)
		}
		if at.RemanenceT <= 0 {
			break
		}
		for i := range steps + 1 {
			h := low * (1 - float64(i)/steps)
			one.H, one.B = append(one.H, h), append(one.B, eval(h))
		}
		// B(H) rises and -Pc mu0 H falls: one crossing.
		lo, hi := low, 0.0
		for range 60 {
			mid := (lo + hi) / 2
			if eval(mid) < -permeance*material.Mu0*mid {
				lo = mid
			} else {
				hi = mid
			}
		}
		one.H0, one.B0, one.Kept = hi, eval(hi), kept(hi)
		c.Curves = append(c.Curves, one)
	}
	return c
}

// Closing asks for the force between halves that come together.
type Closing struct {
	Asked
	Plane Plane   `json:"plane"`
	FromM float64 `json:"from_m"` // the largest distance
	Steps int     `json:"steps"`  // 4 to 40
}

func (q *Closing) check() error {
	if q.Plane.Axis < 0 || q.Plane.Axis > 2 || !(math.Abs(q.Plane.AtM) <= design.MaxLengthM) || !(q.FromM > 0 && q.FromM <= 10) || q.Steps < 4 || q.Steps > 40 {
		return bad("no such approach", "axis is 0, 1 or 2, from_m above 0 and up to 10, steps from 4 to 40")
	}
	return nil
}

func (b *Bench) approach(ctx context.Context, q *Closing, e *events) (*result.Approach, error) {
	return onDesign(ctx, b, q.Asked, func(ctx context.Context, d *design.Design) (*result.Approach, error) {
		return polewright.RunApproach(ctx, d, polewright.Approach{Plane: polewright.Plane{Axis: q.Plane.Axis, AtM: q.Plane.AtM}, FromM: q.FromM, Steps: q.Steps, Progress: e.progress})
	})
}

// Winding asks for the sheet of a wound yoke.
type Winding struct {
	Asked
	Yoke  string `json:"yoke"`
	Solve bool   `json:"solve,omitempty"` // also the field against turns, which takes some twenty draft solves
}

// WindingSheet is what lies beside the spool, with the keys of "polewright wind --json".
type WindingSheet struct {
	Name      string  `json:"name"`
	Wire      string  `json:"wire"`
	DiameterM float64 `json:"wire_diameter_m"`
	winding.Sheet
	winding.Preparation
	Outlook *winding.Outlook `json:"outlook,omitempty"`
}

func (b *Bench) wind(ctx context.Context, q *Winding, e *events) (*WindingSheet, error) {
	d, err := b.design(q.Asked)
	if err != nil {
		return nil, err
	}
	i := slices.IndexFunc(d.Wounds, func(w design.Wound) bool { return w.Name == q.Yoke })
	if i < 0 {
		return nil, bad(fmt.Sprintf("there is no wound yoke %q", q.Yoke), "")
	}
	yoke := &d.Wounds[i]
	plan := polewright.WindingPlan(yoke)
	s := &WindingSheet{Name: yoke.Name, Wire: yoke.Wire, DiameterM: yoke.WireDiameterM}
	if s.Sheet, err = winding.Wind(plan); err == nil {
		s.Preparation, err = plan.Prepare(s.Sheet, winding.Workshop{})
	}
	if err != nil {
		return nil, mistake.At(d.File, yoke.Line, "wound."+yoke.Name, err)
	}
	if q.Solve {
		s.Outlook, err = apart(ctx, b, func(ctx context.Context) (*winding.Outlook, error) {
			o, _, err := polewright.OutlookOf(ctx, d, i, polewright.WindingOptions{Progress: e.progress})
			return o, err
		})
	}
	return s, err
}

// Cutting is what to buy and to cut, with its drawings.
type Cutting struct {
	Items []CutItem  `json:"items"`
	Files []Download `json:"files"` // drawings, the general arrangement first
	Notes []string   `json:"notes"`
}

// CutItem is a line of the parts list.
type CutItem struct {
	Letter   string   `json:"letter"`
	Number   int      `json:"number"`
	Names    []string `json:"names"`
	Kind     string   `json:"kind"`
	Shape    string   `json:"shape"`
	Size     string   `json:"size_mm"`
	Material string   `json:"material"`
	EachKg   float64  `json:"each_kg"`
	File     string   `json:"file"` // its drawings' name without extension
}

// Download is a file for the builder.
type Download struct {
	Name   string `json:"name"`
	Media  string `json:"media"`
	Base64 string `json:"base64"`
}

// download is the file that write gives.
func download(name, media string, write func(io.Writer) error) (*Download, error) {
	var out bytes.Buffer
	if err := write(&out); err != nil {
		return nil, err
	}
	return &Download{name, media, base64.StdEncoding.EncodeToString(out.Bytes())}, nil
}

// add makes a file and puts it on the list.
func (c *Cutting) add(name, media string, write func(io.Writer) error) error {
	f, err := download(name, media, write)
	if err == nil {
		c.Files = append(c.Files, *f)
	}
	return err
}

// addSheet puts a drawing on the list in both of its formats.
func (c *Cutting) addSheet(name string, s *draw.Sheet) error {
	if err := c.add(name+".svg", "image/svg+xml", s.WriteSVG); err != nil {
		return err
	}
	return c.add(name+".dxf", "image/vnd.dxf", s.WriteDXF)
}

// mostDrawn is the most kinds of parts that the page draws at once.
const mostDrawn = 60

func (b *Bench) cut(ctx context.Context, q *Asked, e *events) (*Cutting, error) {
	return onDesign(ctx, b, *q, func(ctx context.Context, d *design.Design) (*Cutting, error) { return cuttingOf(ctx, d, e) })
}

func cuttingOf(ctx context.Context, d *design.Design, e *events) (*Cutting, error) {
	parts := draw.Parts(d)
	items := draw.Items(parts)
	c := &Cutting{Items: []CutItem{}, Files: []Download{}, Notes: []string{}}
	for _, it := range items {
		c.Items = append(c.Items, CutItem{Letter: it.Letter, Number: it.Number(), Names: it.Names, Kind: it.Kind, Shape: draw.ShapeName(it.Solid), Size: draw.Size(it.Solid),
			Material: it.Material, EachKg: it.MassKg, File: it.FileName()})
	}
	title := d.Title
	if title == "" {
		title = "untitled"
	}
	if len(parts) <= draw.MostParts {
		s, err := draw.Arrangement(title, parts, draw.Options{})
		if err != nil {
			return nil, err
		}
		if err := c.addSheet("arrangement", s); err != nil {
			return nil, err
		}
	} else {
		c.Notes = append(c.Notes, fmt.Sprintf("%d parts are too many for one general arrangement, which takes %d", len(parts), draw.MostParts))
	}
	if len(items) > mostDrawn {
		c.Notes = append(c.Notes, fmt.Sprintf("the page draws the first %d kinds of parts; polewright draw draws all", mostDrawn))
		items = items[:mostDrawn]
	}
	for n, it := range items {
		if err := ctx.Err(); err != nil {
			return nil, err
		}
		e.progress("drawings", float64(n)/float64(len(items)))
		s, err := draw.PartSheet(title, it, draw.Options{})
		if err != nil {
			return nil, err
		}
		if err := c.addSheet(it.FileName(), s); err != nil {
			return nil, err
		}
		surface, err := it.Surface()
		if err != nil {
			return nil, err
		}
		if err := c.add(it.FileName()+".stl", "model/stl", func(w io.Writer) error { return facet.WriteSTL(w, it.Letter+" "+it.Name, surface) }); err != nil {
			return nil, err
		}
	}
	return c, nil
}

// Papering asks for the build papers.
type Papering struct {
	Asked
	Accuracy string `json:"accuracy"`
	Page
	accuracy polewright.Accuracy
}

func (q *Papering) check() (err error) {
	q.accuracy, err = accuracyNamed(q.Accuracy)
	return errors.Join(q.Page.check(), err)
}

func (b *Bench) papers(ctx context.Context, q *Papering, e *events) (*Download, error) {
	return onDesign(ctx, b, q.Asked, func(ctx context.Context, d *design.Design) (*Download, error) {
		prices, err := b.prices(d)
		if err != nil {
			return nil, err
		}
		const solving = 0.7 // of the progress
		o := polewright.Options{Accuracy: q.accuracy, Halves: polewright.Halves(d), Stock: prices, Progress: e.share(0, solving)}
		s, err := polewright.Run(ctx, d, o)
		if err != nil {
			return nil, err
		}
		source := papers.Source{Design: d, Solved: s, Stock: prices, File: []byte(q.Text), Version: b.o.Version, Date: b.today()}
		document, err := papers.Compose(ctx, source, func(what string, done float64) { e.share(solving, 1)("papers: "+what, done) })
		if err != nil {
			return nil, err
		}
		return q.written("build-papers", document)
	})
}

// Charting asks for a chart of the page as a picture to keep.
type Charting struct {
	Title  string       `json:"title"`
	XName  string       `json:"x_name"` // with the unit: "z, mm"
	YName  string       `json:"y_name"`
	Curves []ChartCurve `json:"curves"`
	Levels []ChartLevel `json:"levels,omitempty"`
	LogX   bool         `json:"log_x,omitempty"`
	LogY   bool         `json:"log_y,omitempty"`
	Dark   bool         `json:"dark,omitempty"`
}

// ChartCurve is one line of a chart, broken where Y is null, or points.
type ChartCurve struct {
	Name   string     `json:"name"`
	X      []float64  `json:"x"`
	Y      []*float64 `json:"y"`
	Points bool       `json:"points,omitempty"`
}

// ChartLevel is a limit across a chart.
type ChartLevel struct {
	Name string  `json:"name"`
	Y    float64 `json:"y"`
}

// chartingOf is a chart as the page asks for it.
func chartingOf(g report.Lines) Charting {
	c := Charting{Title: g.Title, XName: g.XName, YName: g.YName, LogX: g.LogX, LogY: g.LogY, Dark: g.Dark, Curves: []ChartCurve{}}
	for _, k := range g.Curves {
		one := ChartCurve{Name: k.Name, X: k.X, Y: make([]*float64, len(k.Y)), Points: k.Points}
		for i := range k.Y {
			if !math.IsNaN(k.Y[i]) {
				one.Y[i] = &k.Y[i]
			}
		}
		c.Curves = append(c.Curves, one)
	}
	for _, l := range g.Levels {
		c.Levels = append(c.Levels, ChartLevel{Name: l.Name, Y: l.Y})
	}
	return c
}

func (q *Charting) check() error {
	if len(q.Curves) > 20 || len(q.Levels) > 20 || slices.ContainsFunc(q.Curves, func(c ChartCurve) bool { return len(c.X) != len(c.Y) || len(c.X) > 20_000 }) {
		return bad("no such chart", "up to 20 curves of 20,000 points, as many x as y")
	}
	return nil
}

func (b *Bench) chart(_ string, q *Charting) (*Download, error) {
	g := report.Lines{Title: q.Title, XName: q.XName, YName: q.YName, LogX: q.LogX, LogY: q.LogY, Dark: q.Dark}
	for _, c := range q.Curves {
		curve := report.Curve{Name: c.Name, X: c.X, Points: c.Points}
		for _, y := range c.Y {
			if y == nil {
				curve.Y = append(curve.Y, math.NaN())
			} else {
				curve.Y = append(curve.Y, *y)
			}
		}
		g.Curves = append(g.Curves, curve)
	}
	for _, l := range q.Levels {
		g.Levels = append(g.Levels, report.Level{Name: l.Name, Y: l.Y})
	}
	return download("chart.svg", "image/svg+xml", func(w io.Writer) error { return g.SVG(w, 180) })
}
