package main

import (
	"bytes"
	"fmt"
	"os"
	"path/filepath"

	"github.com/spf13/cobra"

	"polewright/design"
	"polewright/draw"
	"polewright/facet"
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
				return mistake.Errors{{File: d.File, What: err.Error()}}
			}
			if err := os.MkdirAll(out, 0o777); err != nil {
				return mistake.Of(fmt.Sprintf("%s: the folder cannot be made: %s", out, reason(err)), "name another folder for the drawings")
			}
			for _, f := range files { // before the first is written
				if err := canWrite(filepath.Join(out, f.name), force); err != nil {
					return err
				}
			}
			for _, f := range files {
				if err := writeWhole(filepath.Join(out, f.name), f.data, force); err != nil {
					return err
				}
			}
			if n := len(draw.Parts(d)); n > draw.MostParts {
				fmt.Fprintf(c.ErrOrStderr(), "%d parts are too many for one general arrangement, which takes %d: only the parts are drawn\n", n, draw.MostParts)
			}
			fmt.Fprintf(c.ErrOrStderr(), "wrote %d files to %s; begin with %s\n", len(files), out, filepath.Join(out, files[0].name))
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

// drawing is a file to be written.
type drawing struct {
	name string
	data []byte
}

// drawings makes all files of a design, the general arrangement first.
func drawings(d *design.Design, o draw.Options) (files []drawing, err error) {
	title := d.Title
	if title == "" {
		title = "untitled"
	}
	parts := draw.Parts(d)
	sheet := func(name string, s *draw.Sheet, err error) error {
		if err != nil {
			return err
		}
		var svg, dxf bytes.Buffer
		if err := s.WriteSVG(&svg); err != nil {
			return err
		}
		if err := s.WriteDXF(&dxf); err != nil {
			return err
		}
		files = append(files, drawing{name + ".svg", svg.Bytes()}, drawing{name + ".dxf", dxf.Bytes()})
		return nil
	}
	if len(parts) <= draw.MostParts {
		s, err := draw.Arrangement(title, parts, o)
		if err := sheet("arrangement", s, err); err != nil {
			return nil, err
		}
	}
	for _, it := range draw.Items(parts) {
		s, err := draw.PartSheet(title, it, o)
		if err := sheet(it.FileName(), s, err); err != nil {
			return nil, err
		}
		surface, err := it.Surface()
		if err != nil {
			return nil, fmt.Errorf("part %q: %w", it.Name, err)
		}
		var stl bytes.Buffer
		if err := facet.WriteSTL(&stl, it.Letter+" "+it.Name, surface); err != nil {
			return nil, err
		}
		files = append(files, drawing{it.FileName() + ".stl", stl.Bytes()})
	}
	return files, nil
}
