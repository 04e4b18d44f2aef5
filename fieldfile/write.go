package fieldfile

import (
	"archive/zip"
	"bufio"
	"bytes"
	"encoding/base64"
	"encoding/binary"
	"encoding/csv"
	"encoding/xml"
	"fmt"
	"io"
	"math"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"unicode/utf8"

	"gonum.org/v1/gonum/spatial/r3"

	"polewright/mistake"
)

// formats are the kinds of file by their extension.
var formats = map[string]func(*Samples, io.Writer) error{
	".vtr": (*Samples).WriteVTR,
	".csv": (*Samples).WriteCSV,
	".npz": (*Samples).WriteNPZ,
}

// Format tells how to write the file of a name, by its extension. The error names those that are known.
func Format(name string) (write func(*Samples, io.Writer) error, err error) {
	ext := filepath.Ext(name)
	if write := formats[strings.ToLower(ext)]; write != nil {
		return write, nil
	}
	what := "no extension"
	if ext != "" {
		what = fmt.Sprintf("unknown extension %q", ext)
	}
	return nil, mistake.Of(what, "known are .vtr (VTK rectilinear grid), .csv (a table) and .npz (NumPy)")
}

// WriteCSV writes a line a point: coordinates in mm, B in T, H in A/m, the name of the part that is there or nothing. The header carries the units.
func (s *Samples) WriteCSV(w io.Writer) error {
	names := []string{""}
	for _, p := range s.Parts {
		var b strings.Builder
		c := csv.NewWriter(&b)
		if err := c.Write([]string{p}); err != nil {
			return err
		}
		c.Flush()
		names = append(names, strings.TrimSuffix(b.String(), "\n"))
	}
	out := bufio.NewWriterSize(w, 1<<16)
	out.WriteString("x_mm,y_mm,z_mm,Bx_T,By_T,Bz_T,Hx_A_per_m,Hy_A_per_m,Hz_A_per_m,part\n")
	var line []byte
	for i := range s.B {
		p, b, h := r3.Scale(1e3, s.Grid.At(i)), s.B[i], s.H[i]
		line = line[:0]
		for _, v := range [...]struct {
			value  float64
			digits int
		}{{p.X, 9}, {p.Y, 9}, {p.Z, 9}, {b.X, 8}, {b.Y, 8}, {b.Z, 8}, {h.X, 8}, {h.Y, 8}, {h.Z, 8}} {
			line = append(strconv.AppendFloat(line, v.value, 'g', v.digits, 64), ',')
		}
		line = append(append(line, names[s.Part[i]]...), '\n')
		out.Write(line)
	}
	return out.Flush()
}

// WriteVTR writes a rectilinear grid in VTK's XML format, data in base64 (W. Schroeder, K. Martin, B. Lorensen, The Visualization Toolkit;
// VTK File Formats, XML section): coordinates in m, point data B_T, H_A_per_m and part, 0 in free space. A comment names the parts.
func (s *Samples) WriteVTR(w io.Writer) error {
	out := bufio.NewWriterSize(w, 1<<16)
	g := s.Grid
	extent := fmt.Sprintf("0 %d 0 %d 0 %d", g.Count[0]-1, g.Count[1]-1, g.Count[2]-1)
	fmt.Fprintf(out, `<?xml version="1.0"?>
<VTKFile type="RectilinearGrid" version="1.0" byte_order="LittleEndian" header_type="UInt64">
<!-- lengths in m; B_T in T, H_A_per_m in A/m; part 0 is free space`)
	for i, p := range s.Parts {
		fmt.Fprintf(out, "; part %d is ", i+1)
		if err := xml.EscapeText(out, []byte(strings.ReplaceAll(p, "-", "‐"))); err != nil { // no two hyphens in a comment
			return err
		}
	}
	fmt.Fprintf(out, ` -->
<RectilinearGrid WholeExtent="%[1]s">
<Piece Extent="%[1]s">
<PointData Vectors="B_T" Scalars="part">
`, extent)
	vectors(out, "B_T", s.B)
	vectors(out, "H_A_per_m", s.H)
	array(out, `type="Int32" Name="part"`, 4*len(s.Part), func(w io.Writer) { binary.Write(w, binary.LittleEndian, s.Part) })
	out.WriteString("</PointData>\n<Coordinates>\n")
	for axis, name := range []string{"x_m", "y_m", "z_m"} {
		c := s.coordinates(axis)
		array(out, fmt.Sprintf(`type="Float64" Name="%s"`, name), 8*len(c), func(w io.Writer) { binary.Write(w, binary.LittleEndian, c) })
	}
	out.WriteString("</Coordinates>\n</Piece>\n</RectilinearGrid>\n</VTKFile>\n")
	return out.Flush()
}

func vectors(out *bufio.Writer, name string, v []r3.Vec) {
	array(out, fmt.Sprintf(`type="Float64" Name="%s" NumberOfComponents="3"`, name), 24*len(v), func(w io.Writer) { writeVectors(w, v) })
}

// array writes one data array: the number of its bytes, then the bytes, all in one run of base64. An error stays with out until it is flushed.
func array(out *bufio.Writer, attributes string, size int, write func(io.Writer)) {
	fmt.Fprintf(out, "<DataArray %s format=\"binary\">\n", attributes)
	e := base64.NewEncoder(base64.StdEncoding, out)
	var head [8]byte
	binary.LittleEndian.PutUint64(head[:], uint64(size))
	e.Write(head[:])
	write(e)
	e.Close()
	out.WriteString("\n</DataArray>\n")
}

// writeVectors writes three little-endian float64 a vector, a few thousand at a time.
func writeVectors(w io.Writer, list []r3.Vec) error {
	var buf []byte
	for some := range slices.Chunk(list, 4096) {
		buf = buf[:0]
		for _, v := range some {
			for _, x := range [3]float64{v.X, v.Y, v.Z} {
				buf = binary.LittleEndian.AppendUint64(buf, math.Float64bits(x))
			}
		}
		if _, err := w.Write(buf); err != nil {
			return err
		}
	}
	return nil
}

func (s *Samples) coordinates(axis int) []float64 {
	c := make([]float64, s.Grid.Count[axis])
	for i := range c {
		c[i] = s.Grid.along(axis, i)
	}
	return c
}

// WriteNPZ writes an archive of arrays that NumPy's load reads (NumPy Enhancement Proposal 1, format 1.0): x_m, y_m and z_m of nx, ny and
// nz numbers; B_T and H_A_per_m of 3 x nx x ny x nz; part of nx x ny x nz, 0 in free space; part_names, whose nth, counted from 0, is part n.
func (s *Samples) WriteNPZ(w io.Writer) error {
	z := zip.NewWriter(w)
	c := s.Grid.Count
	add := func(name, kind string, write func(io.Writer) error, shape ...int) error {
		f, err := z.Create(name + ".npy")
		if err != nil {
			return err
		}
		if _, err := f.Write(npyHeader(kind, shape)); err != nil {
			return err
		}
		return write(f)
	}
	for axis, name := range []string{"x_m", "y_m", "z_m"} {
		if err := add(name, "<f8", func(w io.Writer) error { return binary.Write(w, binary.LittleEndian, s.coordinates(axis)) }, c[axis]); err != nil {
			return err
		}
	}
	if err := add("B_T", "<f8", func(w io.Writer) error { return writeVectors(w, s.B) }, 3, c[0], c[1], c[2]); err != nil {
		return err
	}
	if err := add("H_A_per_m", "<f8", func(w io.Writer) error { return writeVectors(w, s.H) }, 3, c[0], c[1], c[2]); err != nil {
		return err
	}
	if err := add("part", "<i4", func(w io.Writer) error { return binary.Write(w, binary.LittleEndian, s.Part) }, c[0], c[1], c[2]); err != nil {
		return err
	}
	names := append([]string{"free space"}, s.Parts...)
	longest := 1
	for _, n := range names {
		longest = max(longest, utf8.RuneCountInString(n))
	}
	err := add("part_names", fmt.Sprintf("<U%d", longest), func(w io.Writer) error {
		var b []byte
		for _, n := range names {
			r := []rune(n)
			for i := range longest {
				var u rune
				if i < len(r) {
					u = r[i]
				}
				b = binary.LittleEndian.AppendUint32(b, uint32(u))
			}
		}
		_, err := w.Write(b)
		return err
	}, len(names))
	if err != nil {
		return err
	}
	return z.Close()
}

// npyHeader is the head of an array in Fortran's order, which is ours: the first index runs fastest.
func npyHeader(kind string, shape []int) []byte {
	var dims strings.Builder
	for _, n := range shape {
		fmt.Fprintf(&dims, "%d, ", n)
	}
	text := fmt.Sprintf("{'descr': '%s', 'fortran_order': True, 'shape': (%s), }", kind, strings.TrimSuffix(dims.String(), " "))
	const before = 10
	pad := 64 - (before+len(text)+1)%64
	var b bytes.Buffer
	b.WriteString("\x93NUMPY\x01\x00")
	size := len(text) + pad + 1
	b.Write([]byte{byte(size), byte(size >> 8)})
	b.WriteString(text + strings.Repeat(" ", pad) + "\n")
	return b.Bytes()
}
