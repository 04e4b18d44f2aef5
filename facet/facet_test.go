package facet

import (
	"bytes"
	"encoding/binary"
	"errors"
	"fmt"
	"math"
	"strings"
	"testing"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"
	"pgregory.net/rapid"

	"polewright/shape"
)

const chord = 2e-5 // m

func solids() *rapid.Generator[shape.Solid] {
	return rapid.Custom(func(t *rapid.T) shape.Solid {
		length := func(name string) float64 { return rapid.Float64Range(1e-3, 0.2).Draw(t, name) }
		inner := func(outer float64) float64 { return outer * rapid.Float64Range(0.05, 0.97).Draw(t, "inner") }
		d := length("diameter")
		switch rapid.IntRange(0, 5).Draw(t, "shape") {
		case 0:
			return shape.Block{Size: r3.Vec{X: d, Y: length("y"), Z: length("z")}}
		case 1:
			return shape.Disc{Diameter: d, Thickness: length("thickness")}
		case 2:
			return shape.Ring{OuterDiameter: d, InnerDiameter: inner(d), Thickness: length("thickness")}
		case 3:
			from := rapid.Float64Range(-7, 7).Draw(t, "from")
			return shape.Wedge{OuterDiameter: d, InnerDiameter: inner(d), Thickness: length("thickness"), From: from, To: from + rapid.Float64Range(0.01, 2*math.Pi).Draw(t, "span")}
		case 4:
			return shape.Frustum{BottomDiameter: d, TopDiameter: rapid.OneOf(rapid.Just(0.0), rapid.Float64Range(1e-3, 0.2)).Draw(t, "top"), Height: length("height")}
		default:
			x, y := length("core x"), length("core y")
			return shape.Racetrack{CoreX: x, CoreY: y, CornerRadius: rapid.SampledFrom([]float64{0, 0.3, 1}).Draw(t, "radius") * math.Min(x, y) / 2, Build: length("build"), Width: length("width")}
		}
	})
}

// The surface of a body has no holes: each edge is shared by two triangles that run along it in opposite ways (a closed, oriented surface). It
// encloses the body's volume but for what the chords cut off, at most the curved faces' area times the chord, and no more; outside the
// body lies nothing; the centre of a triangle is within the chord of the surface.
func TestSurfaceIsTheBody(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := solids().Draw(t, "solid")
		surface, err := Of(s, chord)
		if err != nil {
			t.Fatal(err)
		}
		if err := watertight(surface); err != nil {
			t.Fatalf("%v: %v", s, err)
		}
		lost := s.Volume() - enclosed(surface)
		if bound := s.SurfaceArea() * chord; math.Abs(lost) > bound+1e-12*s.Volume() {
			t.Fatalf("%v: %g m3 lost, at most %g", s, lost, bound)
		}
		for _, f := range surface {
			middle := r3.Scale(1.0/3, r3.Add(f[0], r3.Add(f[1], f[2])))
			// A hole's chords lie outside the body, by the chord again.
			if !s.Contains(middle, chord+1e-9) {
				t.Fatalf("%v: facet %v lies outside", s, f)
			}
			for _, p := range f {
				if !s.Contains(p, 1e-9) || (s.Contains(p, -1e-9) && s.Contains(p, -1e-7)) {
					t.Fatalf("%v: corner %v is not on the surface", s, p)
				}
			}
		}
		want := shape.Bounds(s, shape.Placement{Rot: shape.Identity()})
		got := box(surface)
		for _, d := range []r3.Vec{r3.Sub(want.Min, got.Min), r3.Sub(want.Max, got.Max)} {
			if r3.Norm(d) > 2*chord {
				t.Fatalf("%v: box %v, want %v", s, got, want)
			}
		}
	})
}

func box(surface []Triangle) r3.Box {
	b := r3.Box{Min: surface[0][0], Max: surface[0][0]}
	for _, f := range surface {
		for _, p := range f {
			b.Min = r3.Vec{X: math.Min(b.Min.X, p.X), Y: math.Min(b.Min.Y, p.Y), Z: math.Min(b.Min.Z, p.Z)}
			b.Max = r3.Vec{X: math.Max(b.Max.X, p.X), Y: math.Max(b.Max.Y, p.Y), Z: math.Max(b.Max.Z, p.Z)}
		}
	}
	return b
}

// watertight counts how often each directed edge occurs: once, and once the other way.
func watertight(surface []Triangle) error {
	seen := map[[2]r3.Vec]int{}
	for _, f := range surface {
		for i, a := range f {
			b := f[(i+1)%3]
			if a == b {
				return fmt.Errorf("an edge without length at %v", a)
			}
			seen[[2]r3.Vec{a, b}]++
		}
	}
	if len(seen) == 0 {
		return errors.New("no edges")
	}
	for e, n := range seen {
		if n != 1 || seen[[2]r3.Vec{e[1], e[0]}] != 1 {
			return fmt.Errorf("edge %v is run along %d times, %d times back", e, n, seen[[2]r3.Vec{e[1], e[0]}])
		}
	}
	return nil
}

// The volume of a disc cut into chords is that of the regular prism: n/2 r^2 sin(2 pi/n) h, and n follows from the chord (textbook).
func TestDiscIsARegularPrism(t *testing.T) {
	const r, h = 0.025, 0.01
	surface, err := Of(shape.Disc{Diameter: 2 * r, Thickness: h}, chord)
	if err != nil {
		t.Fatal(err)
	}
	n := float64(len(surface)+4) / 4 // 2n sides, n-2 triangles on each lid
	if sagitta := r * (1 - math.Cos(math.Pi/n)); sagitta > chord || r*(1-math.Cos(math.Pi/(n-4))) < chord {
		t.Errorf("%g corners leave the circle by %g m", n, sagitta)
	}
	if want := n / 2 * r * r * math.Sin(2*math.Pi/n) * h; math.Abs(enclosed(surface)/want-1) > 1e-12 {
		t.Errorf("volume %g, want %g", enclosed(surface), want)
	}
}

// A coil's window: corners of the hole are rounder than those of the outline, and sharper.
func TestPrismWithAnyHole(t *testing.T) {
	for _, hole := range []shape.Racetrack{{CoreX: 0.15, CoreY: 0.02, CornerRadius: 0.01, Build: 0.001, Width: 1}, {CoreX: 0.15, CoreY: 0.02, Build: 0.02, Width: 1}} {
		in, _, _, _ := shape.Outline(hole, shape.Placement{Rot: shape.Identity()}, 2)
		out, _, _, _ := shape.Outline(shape.Block{Size: r3.Vec{X: 0.2, Y: 0.07, Z: 1}}, shape.Placement{Rot: shape.Identity()}, 2)
		surface, err := Prism([]shape.Loop{out[0], in[1]}, 0, 0.01, chord)
		if err != nil {
			t.Fatal(err)
		}
		if err := watertight(surface); err != nil {
			t.Error(err)
		}
		want := 0.01 * (out[0].Area() + in[1].Area())
		if got := enclosed(surface); math.Abs(got/want-1) > 1e-4 {
			t.Errorf("volume %g, want %g", got, want)
		}
	}
}

func TestNoSurface(t *testing.T) {
	for _, s := range []shape.Solid{shape.Block{}, shape.Disc{Diameter: -1, Thickness: 1}, shape.Ring{OuterDiameter: 1, InnerDiameter: 2, Thickness: 1},
		shape.Disc{Diameter: math.NaN(), Thickness: 1}, shape.Disc{Diameter: math.Inf(1), Thickness: 1}} {
		if got, err := Of(s, chord); err == nil {
			t.Errorf("%v has %d triangles", s, len(got))
		}
	}
	v := func(x, y float64) r2.Vec { return r2.Vec{X: x, Y: y} }
	if _, err := cap2D([][]r2.Vec{{v(0, 0), v(0, 1), v(1, 1), v(1, 0)}}); !errors.Is(err, errTangled) {
		t.Errorf("an outline run clockwise: %v", err)
	}
	if _, err := Prism(nil, 0, 1, chord); err == nil {
		t.Error("a prism of nothing")
	}
	if err := WriteSTL(&bytes.Buffer{}, "", nil); err == nil {
		t.Error("an STL file of nothing")
	}
}

// What is written is read back by the format's layout, in millimetres, to the digits of a float32, with normals outward.
func TestWriteSTL(t *testing.T) {
	s := shape.Ring{OuterDiameter: 0.04, InnerDiameter: 0.02, Thickness: 0.005}
	surface, err := Of(s, chord)
	if err != nil {
		t.Fatal(err)
	}
	var b bytes.Buffer
	if err := WriteSTL(&b, strings.Repeat("long ", 40), surface); err != nil {
		t.Fatal(err)
	}
	data := b.Bytes()
	if bytes.HasPrefix(data, []byte("solid")) || len(data) != 84+50*len(surface) || int(binary.LittleEndian.Uint32(data[80:])) != len(surface) {
		t.Fatalf("%d bytes for %d triangles", len(data), len(surface))
	}
	read := make([]Triangle, len(surface))
	for i, f := range surface {
		vec := func(k int) r3.Vec {
			var x [3]float64
			for j := range x {
				x[j] = float64(math.Float32frombits(binary.LittleEndian.Uint32(data[84+50*i+12*k+4*j:])))
			}
			return r3.Vec{X: x[0], Y: x[1], Z: x[2]}
		}
		for k := range f {
			read[i][k] = r3.Scale(1e-3, vec(k+1))
			if r3.Norm(r3.Sub(read[i][k], f[k])) > 3e-9 { // 20 mm / 2^23
				t.Fatalf("corner %v is read as %v", f[k], read[i][k])
			}
		}
		n := r3.Unit(r3.Cross(r3.Sub(f[1], f[0]), r3.Sub(f[2], f[0])))
		if r3.Norm(r3.Sub(vec(0), n)) > 1e-6 {
			t.Fatalf("normal %v, want %v", vec(0), n)
		}
	}
	if err := watertight(read); err != nil {
		t.Error("as read back: ", err)
	}
}

func ExampleOf() {
	surface, err := Of(shape.Block{Size: r3.Vec{X: 0.06, Y: 0.04, Z: 0.02}}, 2e-5)
	fmt.Printf("%d triangles round %.0f cm3, %v\n", len(surface), 1e6*enclosed(surface), err)
	// Output: 12 triangles round 48 cm3, <nil>
}

func BenchmarkOf(b *testing.B) {
	s := shape.Racetrack{CoreX: 0.06, CoreY: 0.05, CornerRadius: 0.002, Build: 0.012, Width: 0.06}
	for b.Loop() {
		if _, err := Of(s, chord); err != nil {
			b.Fatal(err)
		}
	}
}

// enclosed is the volume within a closed surface (the divergence theorem: a sixth of the triple products).
func enclosed(surface []Triangle) (v float64) {
	for _, t := range surface {
		v += r3.Dot(t[0], r3.Cross(t[1], t[2])) / 6
	}
	return v
}
