package main

import (
	"fmt"
	"io"
	"path/filepath"
	"strconv"
	"strings"

	"github.com/spf13/cobra"

	"polewright"
	"polewright/facet"
	"polewright/quantity"
	"polewright/result"
)

func strayCommand() *cobra.Command {
	var out, limit, accuracy string
	var force, quiet bool
	c := &cobra.Command{
		Use:   "stray FILE -o OUT.stl [flags]",
		Short: "Write the closed surface to which a stray-field limit reaches",
		Long: `Solve a design and write how far a limit of |B| reaches in every direction from the middle of the
assembly: as a closed surface of triangles in millimetres (.stl) or as a table of directions and
distances (.csv), about 2 degrees apart. Where the limit is not met outside the parts, the surface
lies on the box that holds them. FILE may be - for standard input.`,
		Example: `  polewright stray my-magnet.toml --limit "0.5 mT" -o reach.stl
  polewright stray my-magnet.toml --limit "5 G" -o reach.csv`,
		Args: oneArgument("design FILE", "polewright stray my-magnet.toml -o reach.stl"),
		RunE: func(c *cobra.Command, args []string) error {
			write := map[string]func(io.Writer, string, *result.Surface) error{".stl": surfaceSTL, ".csv": surfaceCSV}[strings.ToLower(filepath.Ext(out))]
			if write == nil {
				return cannotWrite("stray", out, "known are .stl (a closed surface) and .csv (a table): -o reach.stl")
			}
			b, err := flagQuantity("limit", limit, quantity.FluxDensity, 0, 100, `--limit "0.5 mT"`)
			if err != nil {
				return err
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
			o := polewright.Options{Accuracy: a, NoLedger: true, NoDemagnetization: true}
			surface, err := solvedThen(c, quiet, 0.5, d, o, func(s *polewright.Solved, progress func(string, float64)) (*result.Surface, error) {
				return s.Stray().Surface(c.Context(), b, func(done float64) { progress("surface", done) })
			})
			if err != nil {
				return err
			}
			title := fmt.Sprintf("reach of %s", quantity.Format(b, "mT", 6))
			if err := writeStream(out, force, func(w io.Writer) error { return write(w, title, surface) }); err != nil {
				return err
			}
			fmt.Fprintf(c.ErrOrStderr(), "wrote %s: %d directions from x %s, y %s, z %s\n", out, len(surface.Direction),
				quantity.Format(surface.Center.X, "mm", 4), quantity.Format(surface.Center.Y, "mm", 4), quantity.Format(surface.Center.Z, "mm", 4))
			return nil
		},
	}
	f := c.Flags()
	f.StringVarP(&out, "output", "o", "", "`FILE` to write: .stl or .csv")
	f.StringVar(&limit, "limit", "0.5 mT", "the `LIMIT` of |B|")
	f.StringVar(&accuracy, "accuracy", polewright.Standard.Name, accuracyUsage)
	f.BoolVar(&force, "force", false, forceUsage)
	f.BoolVar(&quiet, "quiet", false, quietUsage)
	return c
}

func surfaceSTL(w io.Writer, title string, s *result.Surface) error {
	var list []facet.Triangle
	for _, t := range s.Triangle {
		list = append(list, facet.Triangle{s.Point(t[0]), s.Point(t[1]), s.Point(t[2])})
	}
	return facet.WriteSTL(w, title, list)
}

func surfaceCSV(w io.Writer, title string, s *result.Surface) error {
	var b strings.Builder
	fmt.Fprintf(&b, "# %s, from the middle of the assembly at %.9g %.9g %.9g m\nux,uy,uz,reach_m\n", title, s.Center.X, s.Center.Y, s.Center.Z)
	number := func(v float64) string { return strconv.FormatFloat(v, 'g', 8, 64) }
	for i, d := range s.Direction {
		b.WriteString(number(d.X) + "," + number(d.Y) + "," + number(d.Z) + "," + number(s.Distance[i]) + "\n")
	}
	_, err := io.WriteString(w, b.String())
	return err
}
