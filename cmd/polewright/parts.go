package main

import (
	"fmt"
	"math"
	"text/tabwriter"

	"github.com/spf13/cobra"
	"gonum.org/v1/gonum/spatial/r3"

	"polewright/design"
	"polewright/draw"
	"polewright/quantity"
	"polewright/shape"
	"polewright/stock"
)

// placedPart is a part as scripts read it.
type placedPart struct {
	Name     string     `json:"name"`
	Kind     string     `json:"kind"`
	Shape    string     `json:"shape"`
	Size     string     `json:"size_mm"`
	Center   [3]float64 `json:"center_m"`
	Rotation [3]float64 `json:"rotation_rad"` // about x, then y, then z, of the solid whose axis lies along z
	Min      [3]float64 `json:"min_m"`        // the corners of its box along the axes
	Max      [3]float64 `json:"max_m"`
	Material string     `json:"material"`
	Mass     float64    `json:"mass_kg"`
	Letter   string     `json:"letter"` // on the drawings; the same for parts that are alike
}

func partsCommand() *cobra.Command {
	var asJSON bool
	var prices string
	c := &cobra.Command{
		Use:   "parts FILE [flags]",
		Short: "List the parts that a design or its layout expands to",
		Long: `List every part of a design, those of its [layout] written out: shape, size, centre, turn, material
and mass, with the letter it has on the drawings. Turns are about x, then y, then z; the axis of a
round part lies along z before them. Nothing is solved. With --stock it adds the bill of materials:
what each part is made from, how bars are cut, what to buy, its cost, and what is missing.
FILE may be - for standard input.`,
		Example: `  polewright parts my-magnet.toml
  polewright parts my-magnet.toml --stock my-stock.csv
  polewright parts my-magnet.toml --json`,
		Args: oneArgument("design FILE", "polewright parts my-magnet.toml"),
		RunE: func(c *cobra.Command, args []string) error {
			d, err := readDesign(c.Context(), args[0], c.InOrStdin())
			if err != nil {
				return err
			}
			list := placed(draw.Parts(d))
			all := map[string]any{"parts": list}
			shelf, bill, err := priced(d, list, prices)
			if err != nil {
				return err
			}
			if bill != nil {
				all["bill"] = bill
			}
			if asJSON {
				return writeJSON(c.OutOrStdout(), all)
			}
			w := tabwriter.NewWriter(c.OutOrStdout(), 0, 0, 2, ' ', 0)
			fmt.Fprintln(w, "part\tname\tkind\tshape\tsize mm\tcentre mm\tturn deg\tmaterial\tmass kg")
			total := 0.0
			for _, p := range list {
				mass := ""
				if p.Mass > 0 {
					mass = fmt.Sprintf("%.4f", p.Mass)
				}
				fmt.Fprintf(w, "%s\t%s\t%s\t%s\t%s\t%s\t%s\t%s\t%s\n", p.Letter, p.Name, p.Kind, p.Shape, p.Size, three(p.Center, 1e3), three(p.Rotation, 180/math.Pi), p.Material, mass)
				total += p.Mass
			}
			if err := w.Flush(); err != nil {
				return err
			}
			if _, err = fmt.Fprintf(c.OutOrStdout(), "%d parts, %s in all\n", len(list), quantity.Format(total, "kg", 4)); err != nil || bill == nil {
				return err
			}
			return billText(c.OutOrStdout(), shelf, bill)
		},
	}
	c.Flags().StringVar(&prices, "stock", "", stockUsage)
	c.Flags().BoolVar(&asJSON, "json", false, jsonUsage)
	return c
}

// priced is the bill of a design from the list at path, with the letters of its parts; nil without a path.
func priced(d *design.Design, parts []placedPart, path string) (*stock.List, *stock.Bill, error) {
	list, err := flagStock(path)
	if list == nil {
		return nil, nil, err
	}
	bill, err := stock.BillOf(d, list)
	if err != nil {
		return nil, nil, err
	}
	letters := map[string]string{}
	for _, p := range parts {
		letters[p.Name] = p.Letter
	}
	bill.Mark(letters)
	return list, bill, nil
}

// placed turns parts into what is printed of them.
func placed(parts []draw.Part) []placedPart {
	letters := make([]string, len(parts))
	for _, it := range draw.Items(parts) {
		for _, i := range it.Indexes {
			letters[i] = it.Letter
		}
	}
	list := []placedPart{}
	for i, p := range parts {
		b := p.Bounds()
		list = append(list, placedPart{Name: p.Name, Kind: p.Kind, Shape: draw.ShapeName(p.Solid), Size: draw.Size(p.Solid), Center: numbers(p.Place.Center),
			Rotation: turns(p.Place.Rot), Min: numbers(b.Min), Max: numbers(b.Max), Material: p.Material, Mass: p.MassKg, Letter: letters[i]})
	}
	return list
}

func numbers(v r3.Vec) [3]float64 { return [3]float64{v.X, v.Y, v.Z} }

// turns are the angles about x, then y, then z that make a rotation: the inverse of shape.Euler. Where y is a quarter turn, x is left at zero.
func turns(r shape.Rotation) [3]float64 {
	y := math.Asin(math.Max(-1, math.Min(1, -r[2][0])))
	if math.Abs(r[2][0]) > 1-1e-12 {
		return [3]float64{0, y, math.Atan2(-r[0][1], r[1][1])}
	}
	return [3]float64{math.Atan2(r[2][1], r[2][2]), y, math.Atan2(r[1][0], r[0][0])}
}

// three prints three numbers times a factor.
func three(v [3]float64, factor float64) string {
	s := ""
	for i, x := range v {
		if i > 0 {
			s += ", "
		}
		s += fmt.Sprintf("%.6g", math.Round(factor*x*1e6)/1e6+0)
	}
	return s
}
