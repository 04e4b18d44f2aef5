package fieldfile

import (
	"archive/zip"
	"bytes"
	"context"
	"encoding/base64"
	"encoding/binary"
	"encoding/csv"
	"encoding/xml"
	"errors"
	"fmt"
	"io"
	"math"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"
	"pgregory.net/rapid"
)

// The points of a grid lie in the box, evenly about its middle, and one step more along any axis would not fit.
func TestOver(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		f := func(name string) float64 { return rapid.Float64Range(-0.2, 0.2).Draw(t, name) }
		size := r3.Vec{X: rapid.Float64Range(0, 0.3).Draw(t, "dx"), Y: rapid.Float64Range(0, 0.3).Draw(t, "dy"), Z: rapid.Float64Range(0, 0.3).Draw(t, "dz")}
		lo := r3.Vec{X: f("x"), Y: f("y"), Z: f("z")}
		box := r3.Box{Min: lo, Max: r3.Add(lo, size)}
		step := rapid.Float64Range(0.002, 0.1).Draw(t, "step")
		g, err := Over(box, step)
		if err != nil {
			t.Fatal(err)
		}
		first, last := g.At(0), g.At(g.Points()-1)
		for i, e := range edges(box) {
			a, b := [3]float64{first.X, first.Y, first.Z}[i], [3]float64{last.X, last.Y, last.Z}[i]
			min, max := [3]float64{box.Min.X, box.Min.Y, box.Min.Z}[i], [3]float64{box.Max.X, box.Max.Y, box.Max.Z}[i]
			if a < min-1e-9 || b > max+1e-9 || math.Abs((a+b)-(min+max)) > 1e-9 || b-a+step <= e-1e-9 {
				t.Fatalf("axis %d: points from %g to %g in %g to %g, step %g", i, a, b, min, max, step)
			}
		}
	})
	g, err := Over(r3.Box{Min: r3.Vec{X: -0.1, Y: -0.1}, Max: r3.Vec{X: 0.1, Y: 0.1}}, 0.002)
	if err != nil || g.Count != [3]int{101, 101, 1} || g.At(0) != (r3.Vec{X: -0.1, Y: -0.1}) {
		t.Errorf("a plane: %v from %v, %v", g.Count, g.At(0), err)
	}
}

// The step that the error names fits, and one a twentieth smaller does not.
func TestTooManyPoints(t *testing.T) {
	box := r3.Box{Max: r3.Vec{X: 1, Y: 0.5, Z: 0.2}}
	_, err := Over(box, 1e-4)
	var many *TooManyPoints
	if !errors.As(err, &many) || math.Abs(many.Points/1e11-1) > 0.001 {
		t.Fatalf("%v", err)
	}
	if _, err := Over(box, many.StepM); err != nil {
		t.Errorf("the step that would fit, %g: %v", many.StepM, err)
	}
	if _, err := Over(box, many.StepM*0.95); err == nil {
		t.Errorf("a step below %g fits too", many.StepM)
	}
}

func TestStepFor(t *testing.T) {
	for _, c := range []struct {
		size   r3.Vec
		points int
	}{{r3.Vec{X: 0.2, Y: 0.1, Z: 0.1}, 30000}, {r3.Vec{Y: 0.2, Z: 0.2}, 10000}, {r3.Vec{X: 0.3}, 100}} {
		g, err := Over(r3.Box{Max: c.size}, StepFor(r3.Box{Max: c.size}, c.points))
		// Cells against points: a layer more on each side; and the step is rounded to two digits.
		if n := float64(g.Points()) / float64(c.points); err != nil || n < 0.8 || n > 1.3 {
			t.Errorf("%v: %d points for %d, %v", c.size, g.Points(), c.points, err)
		}
	}
	if s := StepFor(r3.Box{}, 5); !(s > 0) {
		t.Errorf("a point has step %g", s)
	}
}

// linear is a field whose every value tells where it was taken.
func linear(p r3.Vec) (b, h r3.Vec) {
	return r3.Vec{X: p.X + 2*p.Y, Y: p.Y - p.Z, Z: 1 + p.Z}, r3.Vec{X: 1000 * p.X, Y: -1e5, Z: 1e4 * p.Y}
}

func samples(t testing.TB) *Samples {
	g, err := Over(r3.Box{Min: r3.Vec{X: -0.01, Y: -0.02, Z: 0}, Max: r3.Vec{X: 0.01, Y: 0.02, Z: 0.015}}, 0.005)
	if err != nil {
		t.Fatal(err)
	}
	part := func(p r3.Vec) int {
		switch {
		case p.X > 0:
			return 1
		case p.Y < -0.01:
			return 0
		}
		return -1
	}
	last := 0.0
	s, err := Sample(context.Background(), g, linear, part, []string{`leg "a", left--hand`, "größe"}, func(done float64) { last = max(last, done) })
	if err != nil || last != 1 {
		t.Fatalf("progress ended at %g, %v", last, err)
	}
	return s
}

// check holds values against the field that was sampled, in the order x, y, z with x fastest.
func check(t *testing.T, s *Samples, b, h []float64, part []int32) {
	t.Helper()
	n := s.Grid.Points()
	if n != 5*9*4 || len(b) != 3*n || len(h) != 3*n || len(part) != n {
		t.Fatalf("%d points, %d B, %d H, %d parts", n, len(b), len(h), len(part))
	}
	i := 0
	for _, z := range []float64{0, 0.005, 0.01, 0.015} {
		for y := -4; y <= 4; y++ {
			for x := -2; x <= 2; x++ {
				p := r3.Vec{X: 0.005 * float64(x), Y: 0.005 * float64(y), Z: z}
				wb, wh := linear(p)
				for k, w := range []float64{wb.X, wb.Y, wb.Z, wh.X, wh.Y, wh.Z} {
					got := append(append([]float64{}, b[3*i:3*i+3]...), h[3*i:3*i+3]...)[k]
					if math.Abs(got-w) > 1e-7*math.Max(math.Abs(w), 0.01) {
						t.Fatalf("point %d: value %d is %g, want %g", i, k, got, w)
					}
				}
				want := int32(0)
				if x > 0 {
					want = 2
				} else if y < -2 {
					want = 1
				}
				if part[i] != want {
					t.Fatalf("point %d lies in %d, want %d", i, part[i], want)
				}
				i++
			}
		}
	}
}

func TestCSV(t *testing.T) {
	s := samples(t)
	var out bytes.Buffer
	if err := s.WriteCSV(&out); err != nil {
		t.Fatal(err)
	}
	rows, err := csv.NewReader(&out).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	if got := strings.Join(rows[0], " "); got != "x_mm y_mm z_mm Bx_T By_T Bz_T Hx_A_per_m Hy_A_per_m Hz_A_per_m part" {
		t.Errorf("header %q", got)
	}
	var b, h []float64
	var part []int32
	for i, row := range rows[1:] {
		var x []float64
		for _, s := range row[:9] {
			f, err := strconv.ParseFloat(s, 64)
			if err != nil {
				t.Fatal(err)
			}
			x = append(x, f)
		}
		if d := r3.Norm(r3.Sub(r3.Vec{X: x[0], Y: x[1], Z: x[2]}, r3.Scale(1e3, s.Grid.At(i)))); d > 1e-6 {
			t.Fatalf("row %d lies at %v mm", i, x[:3])
		}
		b, h = append(b, x[3:6]...), append(h, x[6:9]...)
		part = append(part, int32(slices.Index([]string{"", `leg "a", left--hand`, "größe"}, row[9])))
	}
	check(t, s, b, h, part)
}

// The file is XML, and each of its arrays is what VTK's format says: base64 of the number of bytes as an unsigned integer of 64 bits and the bytes.
func TestVTR(t *testing.T) {
	s := samples(t)
	var out bytes.Buffer
	if err := s.WriteVTR(&out); err != nil {
		t.Fatal(err)
	}
	var file struct {
		Type   string `xml:"type,attr"`
		Header string `xml:"header_type,attr"`
		Order  string `xml:"byte_order,attr"`
		Grid   struct {
			Extent string `xml:"WholeExtent,attr"`
			Piece  struct {
				Extent string      `xml:"Extent,attr"`
				Data   []dataArray `xml:"PointData>DataArray"`
				Coords []dataArray `xml:"Coordinates>DataArray"`
			}
		} `xml:"RectilinearGrid"`
	}
	if err := xml.Unmarshal(out.Bytes(), &file); err != nil {
		t.Fatal(err)
	}
	if file.Type != "RectilinearGrid" || file.Header != "UInt64" || file.Order != "LittleEndian" || file.Grid.Extent != "0 4 0 8 0 3" || file.Grid.Piece.Extent != "0 4 0 8 0 3" {
		t.Errorf("%+v", file)
	}
	d, c := file.Grid.Piece.Data, file.Grid.Piece.Coords
	if len(d) != 3 || d[0].Name != "B_T" || d[0].Components != "3" || d[1].Name != "H_A_per_m" || d[1].Components != "3" || d[2].Name != "part" || len(c) != 3 {
		t.Fatalf("%+v", file.Grid.Piece)
	}
	check(t, s, read[float64](t, d[0], "Float64"), read[float64](t, d[1], "Float64"), read[int32](t, d[2], "Int32"))
	for axis, n := range s.Grid.Count {
		if got := read[float64](t, c[axis], "Float64"); len(got) != n || got[n-1] != s.Grid.along(axis, n-1) {
			t.Errorf("axis %d: %v", axis, got)
		}
	}
}

type dataArray struct {
	Type       string `xml:"type,attr"`
	Name       string `xml:"Name,attr"`
	Components string `xml:"NumberOfComponents,attr"`
	Text       string `xml:",chardata"`
}

func read[T float64 | int32](t *testing.T, a dataArray, kind string) []T {
	t.Helper()
	data, err := base64.StdEncoding.DecodeString(strings.TrimSpace(a.Text))
	if err != nil || a.Type != kind {
		t.Fatalf("%s: %s, %v", a.Name, a.Type, err)
	}
	if n := binary.LittleEndian.Uint64(data); int(n) != len(data)-8 {
		t.Fatalf("%s: %d bytes, %d said", a.Name, len(data)-8, n)
	}
	list := make([]T, (len(data)-8)/binary.Size(T(0)))
	if err := binary.Read(bytes.NewReader(data[8:]), binary.LittleEndian, list); err != nil {
		t.Fatal(err)
	}
	return list
}

// The archive holds arrays as NumPy Enhancement Proposal 1 has them: magic, version, length of the header, a Python dictionary padded so
// that the data begin at a multiple of 64 bytes.
func TestNPZ(t *testing.T) {
	s := samples(t)
	var out bytes.Buffer
	if err := s.WriteNPZ(&out); err != nil {
		t.Fatal(err)
	}
	z, err := zip.NewReader(bytes.NewReader(out.Bytes()), int64(out.Len()))
	if err != nil {
		t.Fatal(err)
	}
	header := regexp.MustCompile(`^\{'descr': '([^']*)', 'fortran_order': True, 'shape': \((.*)\), \} *\n$`)
	kind, shape, data := map[string]string{}, map[string]string{}, map[string][]byte{}
	for _, f := range z.File {
		r, err := f.Open()
		if err != nil {
			t.Fatal(err)
		}
		all, err := io.ReadAll(r)
		if err != nil {
			t.Fatal(err)
		}
		n := int(binary.LittleEndian.Uint16(all[8:]))
		m := header.FindSubmatch(all[10 : 10+n])
		if !bytes.HasPrefix(all, []byte("\x93NUMPY\x01\x00")) || (10+n)%64 != 0 || m == nil {
			t.Fatalf("%s begins with %q", f.Name, all[:10+n])
		}
		name := strings.TrimSuffix(f.Name, ".npy")
		kind[name], shape[name], data[name] = string(m[1]), string(m[2]), all[10+n:]
	}
	for name, want := range map[string]string{"x_m": "<f8 5,", "y_m": "<f8 9,", "z_m": "<f8 4,", "B_T": "<f8 3, 5, 9, 4,", "H_A_per_m": "<f8 3, 5, 9, 4,", "part": "<i4 5, 9, 4,", "part_names": "<U19 3,"} {
		if got := kind[name] + " " + shape[name]; got != want {
			t.Errorf("%s: %q, want %q", name, got, want)
		}
	}
	floats := func(name string) []float64 {
		list := make([]float64, len(data[name])/8)
		for i := range list {
			list[i] = math.Float64frombits(binary.LittleEndian.Uint64(data[name][8*i:]))
		}
		return list
	}
	part := make([]int32, len(data["part"])/4)
	for i := range part {
		part[i] = int32(binary.LittleEndian.Uint32(data["part"][4*i:]))
	}
	check(t, s, floats("B_T"), floats("H_A_per_m"), part)
	var names string
	for i := 0; i+4 <= len(data["part_names"]); i += 4 {
		names += string(rune(binary.LittleEndian.Uint32(data["part_names"][i:])))
	}
	if want := "free space" + strings.Repeat("\x00", 9) + `leg "a", left--hand` + "größe" + strings.Repeat("\x00", 14); names != want {
		t.Errorf("names %q, want %q", names, want)
	}
}

func TestFormat(t *testing.T) {
	for _, name := range []string{"a.vtr", "a.CSV", "folder.x/a.npz"} {
		if w, err := Format(name); err != nil || w == nil {
			t.Errorf("%s: %v", name, err)
		}
	}
	for name, want := range map[string]string{"a.vtk": `unknown extension ".vtk"`, "a": "no extension", "": "no extension"} {
		if _, err := Format(name); err == nil || !strings.Contains(err.Error(), want) || !strings.Contains(err.Error(), ".npz") {
			t.Errorf("%q: %v", name, err)
		}
	}
}

type full struct{}

func (full) Write([]byte) (int, error) { return 0, errors.New("the disk is full") }

func TestWriteErrors(t *testing.T) {
	s := samples(t)
	for ext, write := range formats {
		if err := write(s, full{}); err == nil || !strings.Contains(err.Error(), "full") {
			t.Errorf("%s: %v", ext, err)
		}
	}
}

func TestSampleStops(t *testing.T) {
	ctx, cancel := context.WithCancel(context.Background())
	g, _ := Over(r3.Box{Max: r3.Vec{X: 1, Y: 1, Z: 1}}, 0.01)
	none := func(r3.Vec) int { return -1 }
	_, err := Sample(ctx, g, linear, none, nil, func(float64) { cancel() })
	if !errors.Is(err, context.Canceled) {
		t.Errorf("%v", err)
	}
	bad := func(p r3.Vec) (b, h r3.Vec) { return r3.Vec{X: math.Log(p.X)}, r3.Vec{} }
	if _, err := Sample(context.Background(), g, bad, none, nil, nil); err == nil || !strings.Contains(err.Error(), "finite") {
		t.Errorf("%v", err)
	}
}

func ExampleSamples_WriteCSV() {
	g, _ := Over(r3.Box{Min: r3.Vec{Z: -0.002}, Max: r3.Vec{Z: 0.002}}, 0.002)
	s, _ := Sample(context.Background(), g, func(p r3.Vec) (b, h r3.Vec) { return r3.Vec{Z: 0.5 + p.Z}, r3.Vec{} }, func(r3.Vec) int { return -1 }, nil, nil)
	var b strings.Builder
	err := s.WriteCSV(&b)
	fmt.Print(b.String(), err)
	// Output:
	// x_mm,y_mm,z_mm,Bx_T,By_T,Bz_T,Hx_A_per_m,Hy_A_per_m,Hz_A_per_m,part
	// 0,0,-2,0,0,0.498,0,0,0,
	// 0,0,0,0,0,0.5,0,0,0,
	// 0,0,2,0,0,0.502,0,0,0,
	// <nil>
}

func BenchmarkWriteVTR(b *testing.B) {
	s := samples(b)
	for b.Loop() {
		if err := s.WriteVTR(io.Discard); err != nil {
			b.Fatal(err)
		}
	}
}
