package web

import (
	"context"
	"math"
	"strings"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"polewright"
	"polewright/design"
	"polewright/draw"
)

// The cut surfaces are those of the parts: closed, of the parts' volume (blocks exactly, a tube within what its chords cut off), with no edge
// longer than asked for, and each field is taken within the part.
func TestSteelBodies(t *testing.T) {
	for _, text := range []string{framed, "format = 1\n[layout]\nkind = \"round-pot\"\n", "format = 1\n[layout]\nkind = \"wound-pair\"\n"} {
		d, err := design.Read(strings.NewReader(text), "")
		if err != nil {
			t.Fatal(err)
		}
		bodies, places, err := steelBodies(d)
		if err != nil {
			t.Fatal(err)
		}
		if len(bodies) == 0 || len(places) < steelPoints/4 || len(places) > 4*steelPoints {
			t.Fatalf("%d bodies, %d places", len(bodies), len(places))
		}
		parts := map[string]draw.Part{}
		for _, p := range draw.Parts(d) {
			parts[p.Name] = p
		}
		for _, b := range bodies {
			p := parts[b.Name]
			if !(b.SaturationT > 0.5 && b.SaturationT < 2.5) {
				t.Errorf("%s saturates at %g T", b.Name, b.SaturationT)
			}
			at := func(i int) r3.Vec {
				return r3.Scale(1e-3, r3.Vec{X: b.Corners[3*i], Y: b.Corners[3*i+1], Z: b.Corners[3*i+2]})
			}
			volume := 0.0
			sides := map[[2][3]int64]int{} // each way along an edge is gone as often as the other
			key := func(p r3.Vec) [3]int64 {
				return [3]int64{int64(math.Round(p.X * 1e7)), int64(math.Round(p.Y * 1e7)), int64(math.Round(p.Z * 1e7))}
			}
			for _, c := range b.Triangles {
				u, v, w := at(c[0]), at(c[1]), at(c[2])
				volume += r3.Dot(u, r3.Cross(v, w)) / 6
				for k := range 3 {
					sides[[2][3]int64{key(at(c[k])), key(at(c[(k+1)%3]))}]++
				}
			}
			if want := p.Solid.Volume(); math.Abs(volume/want-1) > 0.01 {
				t.Errorf("%s: the surface holds %g m³, the part has %g m³", b.Name, volume, want)
			}
			for s, n := range sides {
				if sides[[2][3]int64{s[1], s[0]}] != n {
					t.Fatalf("%s: the surface is open along %v", b.Name, s)
				}
			}
			n := len(b.Corners) / 3
			for i, q := range places[:n] {
				if !p.Solid.Contains(p.Place.ToLocal(q), 1e-4) {
					t.Fatalf("%s: the field of corner %v is taken outside, at %v", b.Name, at(i), q)
				}
			}
			places = places[n:]
		}
	}
}

// Half way up a leg the flux density over its outside is about the mean over its section: the flux has spread evenly there, within a fifth.
func TestSteelIsTheSection(t *testing.T) {
	_, s := served(t)
	q := Solving{Asked{Text: framed}, Effort{Accuracy: "draft", FieldOnly: true}}
	var steel Steels
	heard(t, s, "/api/steel", q, &steel)
	d, err := design.Read(strings.NewReader(framed), "")
	if err != nil {
		t.Fatal(err)
	}
	solved, err := polewright.Run(context.Background(), d, polewright.Options{Accuracy: polewright.Draft, FieldOnly: true})
	if err != nil {
		t.Fatal(err)
	}
	_, places, err := steelBodies(d)
	if err != nil {
		t.Fatal(err)
	}
	for _, body := range steel.Bodies {
		for i, v := range body.B {
			if b, _ := solved.Field(places[i]); math.Abs(v-r3.Norm(b)) > 1e-6 { // eight digits are sent
				t.Fatalf("%s, corner %d: %g T, not %g T", body.Name, i, v, r3.Norm(b))
			}
		}
		places = places[len(body.B):]
	}
	legs := 0
	for _, p := range draw.Parts(d) {
		for _, b := range steel.Bodies {
			box := p.Bounds()
			if b.Name != p.Name || box.Min.Z > -1e-3 || box.Max.Z < 1e-3 { // the backs do not cross the middle
				continue
			}
			legs++
			const n = 5
			mean := 0.0
			for i := range n {
				x := box.Min.X + (box.Max.X-box.Min.X)*(float64(i)+0.5)/n
				var l Trace
				heard(t, s, "/api/line", Tracing{q, [3]float64{x, box.Min.Y + 1e-4, 0}, [3]float64{x, box.Max.Y - 1e-4, 0}, 9}, &l)
				for _, v := range l.B {
					mean += math.Abs(v[2]) / (9 * n)
				}
			}
			outside, count := 0.0, 0.0
			for i, v := range b.B {
				if math.Abs(b.Corners[3*i+2]) < 6 {
					outside, count = outside+v, count+1
				}
			}
			if outside /= count; math.Abs(outside/mean-1) > 0.2 {
				t.Errorf("%s: %g T over the outside, %g T over the section", b.Name, outside, mean)
			}
		}
	}
	if legs != 2 {
		t.Errorf("%d legs", legs)
	}
}
