package main

import (
	"bytes"
	"encoding/json"
	"math"
	"strings"
	"testing"
)

// strain is what scripts rely on of a state of the magnets.
type strain struct {
	Magnet   string  `json:"magnet"`
	Lowest   float64 `json:"lowest_h_A_per_m"`
	Knee     float64 `json:"knee_h_A_per_m"`
	Margin   float64 `json:"knee_margin"`
	PastKnee float64 `json:"past_knee_share"`
}

type orderOf struct {
	Name        string  `json:"name"`
	Feasible    bool    `json:"feasible"`
	LargestN    float64 `json:"largest_force_N"`
	ForceIn     string  `json:"largest_force_in"`
	EnergyJ     float64 `json:"largest_energy_J"`
	Recommended bool    `json:"recommended"`
	Gentler     bool    `json:"gentler_to_magnets"`
	States      []struct {
		Step   string `json:"step"`
		SameAs int    `json:"same_as_step"`
		strain
	} `json:"demagnetization"`
}

// A framed pair from its file to the JSON: both orders of closing it, each with its forces, its energy and what the magnets stand in every step that moves
// one thing near another. The upper half comes down onto legs harder than onto a gap alone, for they carry its flux (any textbook).
func TestAssembleJSONOfFramedPair(t *testing.T) {
	var out, errs bytes.Buffer
	if c := run([]string{"assemble", "-", "--json"}, strings.NewReader(template(t, "framed-pair")), &out, &errs); c != solved || errs.Len() > 0 {
		t.Fatalf("exit %d: %s", c, errs.String())
	}
	var r struct {
		Steps []struct {
			Number int       `json:"number"`
			Title  string    `json:"title"`
			Way    []any     `json:"way"`
			Peak   float64   `json:"peak_force_N"`
			Worst  *strain   `json:"demagnetization"`
			Toward []float64 `json:"toward"`
		} `json:"steps"`
		Orders []orderOf `json:"orders"`
		Said   string    `json:"orders_on_magnets"`
	}
	if err := json.Unmarshal(out.Bytes(), &r); err != nil {
		t.Fatal(err)
	}
	if len(r.Orders) != 2 || r.Orders[0].Name != "legs last" || r.Orders[1].Name != "legs first" || r.Said == "" {
		t.Fatalf("orders %+v, %q", r.Orders, r.Said)
	}
	last, first := r.Orders[0], r.Orders[1]
	if last.Recommended == first.Recommended || last.Gentler && first.Gentler || !last.Feasible || !first.Feasible {
		t.Errorf("recommended %v %v, gentler %v %v", last.Recommended, first.Recommended, last.Gentler, first.Gentler)
	}
	for _, o := range r.Orders {
		own := 0
		for _, s := range o.States {
			if s.SameAs == 0 {
				own++
			}
			if !(s.Lowest < 0 && s.Knee < s.Lowest) || math.Abs(s.Margin-(1-s.Lowest/s.Knee)) > 1e-12 || s.PastKnee != 0 || s.Magnet != "upper" && s.Magnet != "lower" {
				t.Errorf("%s, step %s: %+v", o.Name, s.Step, s.strain)
			}
		}
		if own == 0 || !(o.LargestN > 0 && o.EnergyJ > 0) {
			t.Errorf("%s: %d states of its own, %g N, %g J", o.Name, own, o.LargestN, o.EnergyJ)
		}
	}
	moved, closing := 0, 0.0
	for _, s := range r.Steps {
		if len(s.Way) == 0 {
			continue
		}
		if moved >= len(last.States) || s.Worst == nil || last.States[moved].strain != *s.Worst {
			t.Errorf("step %d, %q: %+v is not among the states of its order", s.Number, s.Title, s.Worst)
		}
		if s.Title == "Close the halves" {
			closing = s.Peak
		}
		moved++
	}
	// Legs first: both magnets onto their plates and the closing; the legs are steel alone.
	if moved != len(last.States) || moved != 5 || len(first.States) != 3 {
		t.Errorf("%d steps move something, %d states legs last, %d legs first", moved, len(last.States), len(first.States))
	}
	if !strings.Contains(first.ForceIn, "Close the halves") || !(first.LargestN > closing) {
		t.Errorf("legs first %g N in %q, closing legs last %g N", first.LargestN, first.ForceIn, closing)
	}
}
