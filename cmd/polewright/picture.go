package main

import (
	"bytes"
	"context"
	"fmt"
	"os"
	"path/filepath"

	"polewright"
	"polewright/design"
	"polewright/fieldmap"
	"polewright/mistake"
)

// drawField writes a map of |B| over the plane across x through the middle of the gap as LAYOUT.png into a folder.
func drawField(ctx context.Context, folder, layout string, d *design.Design, s *polewright.Solved) error {
	if err := os.MkdirAll(folder, 0o777); err != nil {
		return mistake.Of(fmt.Sprintf("%s: cannot be made: %s", folder, reason(err)), "name another folder for the pictures")
	}
	m, err := fieldmap.Across(ctx, d, s, 0)
	if err != nil {
		return err
	}
	m.Title = s.Result.Title
	var b bytes.Buffer
	if err := m.PNG(&b, 160); err != nil {
		return err
	}
	return writeWhole(filepath.Join(folder, layout+".png"), b.Bytes(), true)
}
