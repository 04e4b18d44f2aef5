package main

import (
	"context"
	"io"
	"path/filepath"

	"polewright"
	"polewright/design"
	"polewright/fieldmap"
)

// drawField writes a map of |B| over the plane across x through the middle of the gap as LAYOUT.png into a folder.
func drawField(ctx context.Context, folder, layout string, d *design.Design, s *polewright.Solved) error {
	if err := makeFolder(folder, "pictures"); err != nil {
		return err
	}
	m, err := fieldmap.Across(ctx, d, s, 0)
	if err != nil {
		return err
	}
	m.Title = s.Result.Title
	return writeStream(filepath.Join(folder, layout+".png"), true, func(w io.Writer) error { return m.PNG(w, 160) })
}
