package draw

import (
	"bytes"
	"fmt"

	"polewright/facet"
)

// File is a drawing or a solid as it is written to a disk.
type File struct {
	Name string
	Data []byte
}

// Files are the sheet as SVG and as DXF, under a name without an ending.
func (s *Sheet) Files(name string) ([]File, error) {
	var svg, dxf bytes.Buffer
	if err := s.WriteSVG(&svg); err != nil {
		return nil, err
	}
	if err := s.WriteDXF(&dxf); err != nil {
		return nil, err
	}
	return []File{{name + ".svg", svg.Bytes()}, {name + ".dxf", dxf.Bytes()}}, nil
}

// Files are the drawing of the item, as SVG and as DXF, and its solid as STL.
func (i Item) Files(title string, o Options) ([]File, error) {
	s, err := PartSheet(title, i, o)
	if err != nil {
		return nil, err
	}
	files, err := s.Files(i.FileName())
	if err != nil {
		return nil, err
	}
	surface, err := i.Surface()
	if err != nil {
		return nil, fmt.Errorf("part %q: %w", i.Name, err)
	}
	var stl bytes.Buffer
	if err := facet.WriteSTL(&stl, i.Letter+" "+i.Name, surface); err != nil {
		return nil, err
	}
	return append(files, File{i.FileName() + ".stl", stl.Bytes()}), nil
}
