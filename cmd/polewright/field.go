package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"math"
	"strings"

	"github.com/spf13/cobra"
	"gonum.org/v1/gonum/spatial/r3"

	"polewright"
	"polewright/design"
	"polewright/fieldfile"
	"polewright/mistake"
	"polewright/quantity"
	"polewright/shape"
)

// samplingOptions say where the field is wanted.
type samplingOptions struct {
	box, center, step string
	region            bool
	points            int
}

func fieldCommand() *cobra.Command {
	var where samplingOptions
	var out, accuracy string
	var force, quiet bool
	c := &cobra.Command{
		Use:   "field FILE -o OUT.vtr [flags]",
		Short: "Write the solved field on a grid of points",
		Long: `Solve a design and write B, H and the part that is there at the points of a regular grid. The
extension of OUT chooses the format: .vtr (VTK rectilinear grid), .csv (a table) or .npz (NumPy).
Without a --box the grid covers the assembly with a margin of a quarter of its size. FILE may be -
for standard input.`,
		Example: `  polewright field my-magnet.toml -o field.vtr
  polewright field my-magnet.toml -o gap.csv --region --step "0.5 mm"
  polewright field my-magnet.toml -o plane.npz --box "0 x 200 x 200 mm" --points 40000`,
		Args: oneArgument("design FILE", "polewright field my-magnet.toml -o field.vtr"),
		RunE: func(c *cobra.Command, args []string) error {
			if out == "" {
				return mistake.Of("field needs a file to write", "for example: -o field.vtr; known are .vtr (VTK), .csv and .npz (NumPy)")
			}
			write, err := fieldfile.Format(out)
			if err != nil {
				return mistake.Prefixed(out+": ", err)
			}
			a, err := parseAccuracy(accuracy)
			if err != nil {
				return err
			}
			if err := canWrite(out, force); err != nil {
				return err
			}
			d, err := readDesign(c.Context(), args[0], c.InOrStdin())
			if err != nil {
				return err
			}
			g, err := where.grid(d)
			if err != nil {
				return err
			}
			samples, err := solvedThen(c, quiet, 0.5, d, polewright.Options{Accuracy: a, NoLedger: true}, func(s *polewright.Solved, progress func(string, float64)) (*fieldfile.Samples, error) {
				return sampled(c.Context(), s, d, g, func(done float64) { progress("field", done) })
			})
			if err != nil {
				return err
			}
			if err := writeStream(out, force, func(w io.Writer) error { return write(samples, w) }); err != nil {
				return err
			}
			fmt.Fprintf(c.ErrOrStderr(), "wrote %s: %d x %d x %d points, %s apart\n", out, g.Count[0], g.Count[1], g.Count[2], quantity.Format(g.Step.X, "mm", 4))
			return nil
		},
	}
	f := c.Flags()
	f.StringVarP(&out, "output", "o", "", "`FILE` to write: .vtr, .csv or .npz")
	f.StringVar(&where.box, "box", "", "size of the `BOX` to cover, along x, y, z: \"200 x 200 x 200 mm\"; 0 for a plane")
	f.StringVar(&where.center, "center", "", "middle `POINT` of the box: \"0, 0, 5 mm\"; the assembly's without it")
	f.BoolVar(&where.region, "region", false, "cover the target region of the design in place of the assembly")
	f.StringVar(&where.step, "step", "", "`DISTANCE` between points: \"2 mm\"")
	f.IntVar(&where.points, "points", 30_000, "about `N` points, when there is no --step")
	f.StringVar(&accuracy, "accuracy", polewright.Standard.Name, accuracyUsage)
	f.BoolVar(&force, "force", false, forceUsage)
	f.BoolVar(&quiet, "quiet", false, quietUsage)
	return c
}

// sampled takes the field of a solved design at the points of a grid.
func sampled(ctx context.Context, s *polewright.Solved, d *design.Design, g fieldfile.Grid, progress func(done float64)) (*fieldfile.Samples, error) {
	parts := d.Parts()
	var names []string
	var bounds []r3.Box
	for _, q := range parts {
		names = append(names, q.Name)
		bounds = append(bounds, shape.Bounds(q.Solid, q.Place))
	}
	at := func(x r3.Vec) int {
		for i, b := range bounds {
			if x.X >= b.Min.X && x.X <= b.Max.X && x.Y >= b.Min.Y && x.Y <= b.Max.Y && x.Z >= b.Min.Z && x.Z <= b.Max.Z &&
				parts[i].Solid.Contains(parts[i].Place.ToLocal(x), 0) {
				return i
			}
		}
		return -1
	}
	return fieldfile.Sample(ctx, g, s.Field, at, names, progress)
}

// grid lays the points.
func (o samplingOptions) grid(d *design.Design) (fieldfile.Grid, error) {
	box, err := o.bounds(d)
	if err != nil {
		return fieldfile.Grid{}, err
	}
	if o.points < 1 {
		return fieldfile.Grid{}, mistake.Of(fmt.Sprintf("--points %d: there must be one at least", o.points), "for example --points 30000")
	}
	step := fieldfile.StepFor(box, min(o.points, fieldfile.MostPoints))
	if o.step != "" {
		if step, err = flagLength("step", o.step, `--step "2 mm"`); err != nil {
			return fieldfile.Grid{}, err
		}
	} else if o.points > fieldfile.MostPoints {
		return fieldfile.Grid{}, mistake.Of(fmt.Sprintf("--points %d: one file takes %d million", o.points, fieldfile.MostPoints/1_000_000),
			fmt.Sprintf("--step %q would just fit", quantity.Format(step, "mm", 3)))
	}
	g, err := fieldfile.Over(box, step)
	var many *fieldfile.TooManyPoints
	if errors.As(err, &many) {
		return g, mistake.Of(fmt.Sprintf("--step %q: %v", quantity.Format(step, "mm", 6), err), fmt.Sprintf("a step of %s would fit, or a smaller --box", quantity.Format(many.StepM, "mm", 3)))
	}
	return g, err
}

// bounds is the box that the points cover.
func (o samplingOptions) bounds(d *design.Design) (box r3.Box, err error) {
	switch {
	case o.region:
		if d.Target == nil || d.Target.Region == nil {
			return box, mistake.Of("--region: the design has no target region", `give a --box, or add region = { shape = "sphere", ... } to its [target]`)
		}
		box = regionBox(d.Target.Region)
	default:
		box = assemblyBox(d)
		margin := math.Max(box.Max.X-box.Min.X, math.Max(box.Max.Y-box.Min.Y, box.Max.Z-box.Min.Z)) / 4
		m := r3.Vec{X: margin, Y: margin, Z: margin}
		box = r3.Box{Min: r3.Sub(box.Min, m), Max: r3.Add(box.Max, m)}
	}
	middle, half := box.Center(), r3.Scale(0.5, box.Size())
	if o.box != "" {
		size, err := threeLengths("box", o.box, "x", `--box "200 x 200 x 200 mm"`)
		if err != nil {
			return box, err
		}
		if size.X < 0 || size.Y < 0 || size.Z < 0 {
			return box, mistake.Of(fmt.Sprintf("--box %q: has an edge below zero", o.box), `for example --box "200 x 200 x 200 mm"`)
		}
		half = r3.Scale(0.5, size)
	}
	if o.center != "" {
		if middle, err = threeLengths("center", o.center, ",", `--center "0, 0, 5 mm"`); err != nil {
			return box, err
		}
	}
	return r3.Box{Min: r3.Sub(middle, half), Max: r3.Add(middle, half)}, nil
}

func assemblyBox(d *design.Design) (box r3.Box) {
	for _, p := range d.Parts() {
		box = box.Union(shape.Bounds(p.Solid, p.Place))
	}
	return box
}

func regionBox(g *design.Region) r3.Box {
	half := r3.Vec{X: g.DiameterM / 2, Y: g.DiameterM / 2, Z: g.DiameterM / 2}
	switch g.Shape {
	case design.Cylinder:
		return shape.Bounds(shape.Disc{Diameter: g.DiameterM, Thickness: g.LengthM}, shape.Placement{Center: g.Center, Rot: shape.AxisTo(g.Axis)})
	case design.Box:
		half = r3.Scale(0.5, g.SizeM)
	}
	return r3.Box{Min: r3.Sub(g.Center, half), Max: r3.Add(g.Center, half)}
}

// threeLengths reads "200 x 200 x 200 mm" or "0, 0, 5 mm": a unit that one lacks is that of the next.
func threeLengths(flag, s, between, example string) (v r3.Vec, err error) {
	text := strings.NewReplacer("×", "x", "X", "x").Replace(s)
	list := strings.Split(text, between)
	if len(list) != 3 {
		return v, mistake.Of(fmt.Sprintf("--%s %q: %d lengths, not 3", flag, s, len(list)), "write three for x, y, z: "+example)
	}
	unit := ""
	for i := 2; i >= 0; i-- {
		one := strings.TrimSpace(list[i])
		if number := strings.TrimRight(one, "abcdefghijklmnopqrstuvwxyzµ\"'"); number == one {
			one += " " + unit
		} else {
			unit = one[len(number):]
		}
		x, err := flagQuantity(flag, one, quantity.Length, -design.MaxLengthM, design.MaxLengthM, example)
		if err != nil {
			return v, err
		}
		*[]*float64{&v.X, &v.Y, &v.Z}[i] = x
	}
	return v, nil
}
