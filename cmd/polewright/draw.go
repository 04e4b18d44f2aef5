package main

import (
	"cmp"
	"fmt"
	"path/filepath"

	"github.com/spf13/cobra"

	"polewright/design"
	"polewright/draw"
	"polewright/mistake"
)

func drawCommand() *cobra.Command {
	var out, projection string
	var o draw.Options
	var force bool
	c := &cobra.Command{
		Use:   "draw FILE -o DIR [flags]",
		Short: "Draw the parts and the assembly: DXF, SVG and STL",
		Long: `Draw a design to scale, every size in mm: the general arrangement in three views with a parts list,
and each kind of part with its dimensions, as DXF (one unit is one millimetre, the outline to cut on
the layer PROFILE) and SVG (prints to scale); and the solid of each kind of part as STL. Nothing is
solved. FILE may be - for standard input.`,
		Example: `  polewright draw my-magnet.toml -o drawings
  polewright draw my-magnet.toml -o drawings --projection third --force`,
		Args: oneArgument("design FILE", "polewright draw my-magnet.toml -o drawings"),
		RunE: func(c *cobra.Command, args []string) (err error) {
			if out == "" {
				return mistake.Of("draw needs a folder for the drawings", "for example: -o drawings")
			}
			if o.Projection, err = draw.ProjectionNamed(projection); err != nil {
				return mistake.Of("--projection: "+err.Error(), "")
			}
			d, err := readDesign(c.Context(), args[0], c.InOrStdin())
			if err != nil {
				return err
			}
			files, err := drawings(d, o)
			if err != nil {
				return mistake.At(d.File, 0, "", err)
			}
			if err := makeFolder(out, "drawings"); err != nil {
				return err
			}
			for _, f := range files { // before the first is written
				if err := canWrite(filepath.Join(out, f.Name), force); err != nil {
					return err
				}
			}
			for _, f := range files {
				if err := writeWhole(filepath.Join(out, f.Name), f.Data, force); err != nil {
					return err
				}
			}
			if n := len(draw.Parts(d)); n > draw.MostParts {
				fmt.Fprintf(c.ErrOrStderr(), "%d parts are too many for one general arrangement, which takes %d: only the parts are drawn\n", n, draw.MostParts)
			}
			fmt.Fprintf(c.ErrOrStderr(), "wrote %d files to %s; begin with %s\n", len(files), out, filepath.Join(out, files[0].Name))
			return nil
		},
	}
	f := c.Flags()
	f.StringVarP(&out, "output", "o", "", "folder `DIR` for the drawings; it is made if it is not there")
	f.StringVar(&projection, "projection", "first", "`ANGLE` of the views: first (Europe) or third (America)")
	f.StringVar(&o.Date, "date", "", "`DATE` for the title block; it is left open without it")
	f.BoolVar(&force, "force", false, "overwrite drawings that are there")
	return c
}

// drawings makes all files of a design, the general arrangement first.
func drawings(d *design.Design, o draw.Options) (files []draw.File, err error) {
	title := cmp.Or(d.Title, "untitled")
	parts := draw.Parts(d)
	if len(parts) <= draw.MostParts {
		s, err := draw.Arrangement(title, parts, o)
		if err != nil {
			return nil, err
		}
		if files, err = s.Files("arrangement"); err != nil {
			return nil, err
		}
	}
	for _, it := range draw.Items(parts) {
		list, err := it.Files(title, o)
		if err != nil {
			return nil, err
		}
		files = append(files, list...)
	}
	return files, nil
}
