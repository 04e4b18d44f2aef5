package main

import (
	"bytes"
	"encoding/json"
	"io"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// answer mirrors the machine-readable result that scripts rely on: what it says of keys and types. The fields after the blank
// lines are our own additions.
type answer struct {
	Format int    `json:"format"`
	Title  string `json:"title"`
	Probes []struct {
		Name string     `json:"name"`
		At   [3]float64 `json:"at_m"`
		B    [3]float64 `json:"b_T"`
		H    [3]float64 `json:"h_A_per_m"`

		Gradient    [3][3]float64 `json:"gradient_T_per_m"`
		GradB       [3]float64    `json:"grad_b_T_per_m"`
		GradB2      [3]float64    `json:"grad_b2_T2_per_m"`
		Curvature   [3][3]float64 `json:"curvature_T_per_m2"`
		CurvatureB2 [3][3]float64 `json:"curvature_b2_T2_per_m2"`
	} `json:"probes"`
	Sections []struct {
		Name  string  `json:"name"`
		MeanB float64 `json:"mean_b_T"`
		Area  float64 `json:"area_m2"`
		Flux  float64 `json:"flux_Wb"`
	} `json:"sections"`
	Region *struct {
		Mean float64 `json:"mean_b_T"`
		Min  float64 `json:"min_b_T"`
		Max  float64 `json:"max_b_T"`
		PP   float64 `json:"peak_to_peak_ppm"`
		RMS  float64 `json:"rms_ppm"`

		Points int     `json:"points"`
		Noise  float64 `json:"noise_ppm"`
	} `json:"region"`
	Harmonics *struct {
		Center      [3]float64 `json:"center_m"`
		Radius      float64    `json:"radius_m"`
		Degree      int        `json:"degree"`
		Polar       [3]float64 `json:"polar"`
		Azimuth     [3]float64 `json:"azimuth"`
		Residual    float64    `json:"residual_ppm"`
		ResidualRMS float64    `json:"residual_rms_T"`
		ResidualMax float64    `json:"residual_max_T"`
		Terms       []struct {
			N    int     `json:"n"`
			M    int     `json:"m"`
			Kind string  `json:"kind"`
			B    float64 `json:"b_T"`
			PPM  float64 `json:"ppm"`
		} `json:"terms"`
	} `json:"harmonics"`
	Parts []struct {
		Name   string     `json:"name"`
		Kind   string     `json:"kind"`
		Mass   float64    `json:"mass_kg"`
		Force  [3]float64 `json:"force_N"`
		Torque [3]float64 `json:"torque_Nm"`
		MeanB  float64    `json:"mean_b_T"`
		MaxB   float64    `json:"max_b_T"`
		Work   *struct {
			B         float64 `json:"b_T"`
			H         float64 `json:"h_A_per_m"`
			Permeance float64 `json:"permeance"`

			Knee    float64 `json:"knee_h_A_per_m"`
			MaxKnee float64 `json:"max_knee_h_A_per_m"`
			Margin  float64 `json:"knee_margin"`

			Lowest    float64     `json:"lowest_h_A_per_m"`
			WorstKnee float64     `json:"worst_knee_h_A_per_m"`
			WorstC    float64     `json:"worst_temperature_degC"`
			Past      float64     `json:"past_knee_share"`
			Kept      float64     `json:"remanence_kept"`
			Weakest   *[3]float64 `json:"weakest_at_m"`
		} `json:"working_point"`

		Saturation    float64 `json:"saturation"`
		MaxSaturation float64 `json:"max_saturation"`
		Material      string  `json:"material"`
		Shape         string  `json:"shape"`
		Exact         bool    `json:"exact_source"`
	} `json:"parts"`
	Halves []struct {
		Plane string     `json:"plane"`
		Force [3]float64 `json:"force_N"`
	} `json:"halves"`
	Stray []struct {
		Limit float64            `json:"limit_T"`
		Reach map[string]float64 `json:"reach_m"`

		Largest   float64    `json:"largest_m"`
		Direction [3]float64 `json:"largest_direction"`
	} `json:"stray"`
	Solver struct {
		Method   string   `json:"method"`
		Unknowns int      `json:"unknowns"`
		Newton   int      `json:"newton_steps"`
		Cycles   int      `json:"cycles"`
		Seconds  float64  `json:"seconds"`
		Error    float64  `json:"estimated_error_percent"`
		Symmetry []string `json:"symmetry"`

		Axis     string `json:"extrusion_axis"`
		Accuracy string `json:"accuracy"`
	} `json:"solver"`
	Warnings []string `json:"warnings"`

	Demagnetization *struct {
		Temperatures []struct {
			DegC float64 `json:"degC"`
			Past float64 `json:"past_knee_share"`
			Gap  float64 `json:"gap_b_T"`
		} `json:"temperatures"`
		WorstC      float64  `json:"worst_temperature_degC"`
		Volume      float64  `json:"lost_volume_share"`
		Lost        float64  `json:"lost_gap_T"`
		LostPercent float64  `json:"lost_gap_percent"`
		Magnets     int      `json:"magnets_weakened"`
		NotComputed []string `json:"loss_not_computed"`
	} `json:"demagnetization"`
	Cautions []string `json:"cautions"`
	Ledger   *struct {
		Rows []struct {
			What  string  `json:"what"`
			Why   string  `json:"why"`
			Delta float64 `json:"delta_T"`
			After float64 `json:"after_T"`
		} `json:"rows"`
	} `json:"ledger"`
	Target []struct {
		What   string  `json:"what"`
		Wanted float64 `json:"wanted"`
		Got    float64 `json:"got"`
		Unit   string  `json:"unit"`
		Met    bool    `json:"met"`
	} `json:"target"`
	Mass       float64       `json:"mass_kg"`
	Moment     [3]float64    `json:"moment_A_m2"`
	Quadrupole [3][3]float64 `json:"quadrupole_A_m3"`
	Center     [3]float64    `json:"center_m"`
	GapB       [3]float64    `json:"gap_b_T"`
	GapAt      [3]float64    `json:"gap_at_m"`
	Celsius    float64       `json:"temperature_degC"`
	Windings   []struct {
		Name       string  `json:"name"`
		Turns      int     `json:"turns"`
		Length     float64 `json:"wire_length_m"`
		Mass       float64 `json:"wire_mass_kg"`
		Build      float64 `json:"build_m"`
		Packing    float64 `json:"packing"`
		SteelArea  float64 `json:"steel_area_m2"`
		Capacity   float64 `json:"capacity_Wb"`
		MagnetFlux float64 `json:"magnet_flux_Wb"`
		Sentence   string  `json:"sentence"`
	} `json:"windings"`
}

// predicted runs the program and decodes its one object strictly.
func predicted(t *testing.T, stdin string, args ...string) (answer, map[string]json.RawMessage) {
	t.Helper()
	var out, errs bytes.Buffer
	if c := run(append([]string{"predict", "-", "--json"}, args...), strings.NewReader(stdin), &out, &errs); c != solved || errs.Len() > 0 {
		t.Fatalf("exit status %d, standard error %q", c, errs.String())
	}
	var raw map[string]json.RawMessage
	var a answer
	for _, into := range []any{&a, &raw} {
		d := json.NewDecoder(bytes.NewReader(out.Bytes()))
		d.DisallowUnknownFields()
		if err := d.Decode(into); err != nil {
			t.Fatal(err)
		}
		if _, err := d.Token(); err != io.EOF {
			t.Fatalf("something follows the object: %v", err)
		}
	}
	return a, raw
}

func template(t *testing.T, layout string) string {
	t.Helper()
	var out bytes.Buffer
	if c := run([]string{"new", layout}, nil, &out, io.Discard); c != solved {
		t.Fatal("exit status", c)
	}
	return out.String()
}

func TestJSONHasTheContractsKeys(t *testing.T) {
	for _, c := range []struct {
		layout string
		more   []string
	}{
		{"framed-pair", nil},
		{"wound-pair", []string{"windings"}},
	} {
		t.Run(c.layout, func(t *testing.T) {
			a, raw := predicted(t, template(t, c.layout), "--accuracy", "draft", "--half", "z=0", "--half", "z=5 mm")
			for _, key := range append(c.more, "format", "title", "probes", "sections", "region", "parts", "halves", "stray", "solver", "warnings", "cautions", "ledger", "target") {
				if _, ok := raw[key]; !ok {
					t.Errorf("the key %q is missing", key)
				}
			}
			// Keys inside: none of a part's may be left out when it is zero.
			var parts []map[string]json.RawMessage
			if err := json.Unmarshal(raw["parts"], &parts); err != nil {
				t.Fatal(err)
			}
			for _, p := range parts {
				for _, key := range []string{"name", "kind", "mass_kg", "force_N", "torque_Nm", "mean_b_T", "max_b_T"} {
					if _, ok := p[key]; !ok {
						t.Errorf("part %s: the key %q is missing", p["name"], key)
					}
				}
				if _, ok := p["working_point"]; ok != (string(p["kind"]) == `"magnet"`) {
					t.Errorf("part %s: working point: %v", p["name"], ok)
				}
			}
			if a.Format != 1 || a.Title == "" || len(a.Probes) != 2 || len(a.Sections) == 0 || len(a.Parts) < 5 || a.Warnings == nil || a.Solver.Symmetry == nil {
				t.Errorf("incomplete: %+v", a)
			}
			if a.Solver.Method != "3d" || a.Solver.Unknowns < 1000 || a.Solver.Newton < 1 || a.Solver.Cycles < 1 || !(a.Solver.Seconds > 0) || !(a.Solver.Error > 0) {
				t.Errorf("solver: %+v", a.Solver)
			}
			if len(a.Halves) != 2 || a.Halves[0].Plane != "z=0" {
				t.Errorf("halves: %+v", a.Halves)
			}
			for _, s := range a.Stray {
				for _, axis := range []string{"x", "y", "z"} {
					if _, ok := s.Reach[axis]; !ok || len(s.Reach) != 3 {
						t.Errorf("stray: %+v", s)
					}
				}
			}
			// Four to ten sentences are read; the most serious is the first.
			if n := len(a.Cautions); n < 4 || n > 10 || !strings.Contains(a.Cautions[0], "(danger)") {
				t.Errorf("%d cautions: %q", n, a.Cautions)
			}
		})
	}
}

// A magnet alone, of recoil permeability 1, has a field in closed form on its axis of magnetization (E. P. Furlani, Permanent
// Magnet and Electromechanical Devices, 2001, sec. 4.2, recalled): with s(z) = atan(ab/(z sqrt(a²+b²+z²))), a and b the half edges,
//
//	B(z) = Br/π [s(z) - s(z+h)]
//
// at the distance z from the face of a magnet h thick. It is evaluated here apart from the program; what is checked is the whole way from
// units in the file to SI in the answer.
func TestJSONOfOneMagnet(t *testing.T) {
	const text = `format = 1
title = "one"
[[magnet]]
name = "one"
shape = "block"
size = ["1 in", "20 mm", "1 cm"]
center = ["0 mm", "0 mm", "5 mm"]
magnetized = [0, 0, 1]
remanence = "12 kG"
recoil = 1
[[probe]]
name = "up"
at = ["0 mm", "0 mm", "17 mm"]
`
	a, _ := predicted(t, text)
	s := func(z float64) float64 {
		const a, b = 0.0127, 0.010
		return math.Atan(a * b / (z * math.Sqrt(a*a+b*b+z*z)))
	}
	want := 1.2 / math.Pi * (s(0.007) - s(0.017))
	if got := a.Probes[0].B[2]; math.Abs(got-want) > 1e-9 {
		t.Errorf("B = %.9f T, want %.9f T", got, want)
	}
	if got, want := a.Probes[0].H[2], want/(4e-7*math.Pi); math.Abs(got-want) > 1e-6*want {
		t.Errorf("H = %g A/m, want %g A/m", got, want)
	}
	// m = Br V/mu0
	if got, want := a.Moment[2], 1.2*0.0254*0.02*0.01/(4e-7*math.Pi); math.Abs(got-want) > 1e-3*want {
		t.Errorf("moment %g A·m², want %g", got, want)
	}
	if a.Solver.Method != "free-field" || a.Solver.Unknowns != 0 || a.Target != nil || a.Sections == nil || a.Warnings == nil {
		t.Errorf("%+v", a.Solver)
	}
}

func TestWindJSON(t *testing.T) {
	var out, errs bytes.Buffer
	file := filepath.Join(t.TempDir(), "my magnet.toml")
	if err := os.WriteFile(file, []byte(template(t, "wound-pair")), 0o666); err != nil {
		t.Fatal(err)
	}
	if c := run([]string{"wind", file, "--json"}, nil, &out, &errs); c != solved || errs.Len() > 0 {
		t.Fatalf("exit status %d, %s", c, errs.String())
	}
	var sheet struct {
		Layers []struct {
			Layer  int     `json:"layer"`
			Turns  int     `json:"turns"`
			Length float64 `json:"length_m"`
			Outer  float64 `json:"outer_m"`
		} `json:"layers"`
		Turns     int     `json:"turns"`
		Length    float64 `json:"wire_length_m"`
		Mass      float64 `json:"wire_mass_kg"`
		Build     float64 `json:"build_m"`
		SteelArea float64 `json:"steel_area_m2"`
		Packing   float64 `json:"packing"`
	}
	if err := json.Unmarshal(out.Bytes(), &sheet); err != nil {
		t.Fatal(err)
	}
	// 16 SWG is 0.064 in (BS 3737, from memory); the template has 250 turns, 60 mm wide, packed 0.72, round a core of 56 x 58 mm.
	wire := math.Pi / 4 * 0.064 * 0.064 * 0.0254 * 0.0254
	near := func(what string, got, want, tolerance float64) {
		t.Helper()
		if !(math.Abs(got-want) <= tolerance*want) {
			t.Errorf("%s: %g, want %g", what, got, want)
		}
	}
	near("steel", sheet.SteelArea, 250*wire, 1e-9)
	near("build", sheet.Build, 250*wire/0.72/0.060, 1e-9)
	near("packing", sheet.Packing, 0.72, 1e-9)
	near("mass", sheet.Mass, sheet.Length*wire*7850, 0.005) // steel weighs 7.85 g/cm³ to that, whatever the wire's own density
	// A mean turn runs round the core and, in the corners, round a circle of half the build (Pappus-Guldin).
	near("length", sheet.Length, 250*(2*(0.056+0.058)+math.Pi*sheet.Build), 1e-9)
	var turns int
	var length float64
	for i, l := range sheet.Layers {
		turns += l.Turns
		length += l.Length
		if l.Layer != i+1 || l.Outer <= 0.058 {
			t.Errorf("layer %+v", l)
		}
	}
	near("turns", float64(turns), 250, 0)
	near("sum of lengths", length, sheet.Length, 1e-12)
	near("outside", sheet.Layers[len(sheet.Layers)-1].Outer, 0.058+2*sheet.Build, 1e-9)
}
