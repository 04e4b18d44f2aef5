//go:build long

package polewright

import (
	"context"
	"math"
	"math/rand/v2"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"polewright/winding"
)

// The full outlook: its interpolation holds against extra solves between its points, within its stated error and the solver's, and a log of solved
// readings at another packing, with 0.5 % of noise and 0.4 mm on the caliper, gives that packing back.
func TestOutlookInFull(t *testing.T) {
	d := woundPair(t)
	o, f, err := OutlookOf(context.Background(), d, 0, WindingOptions{Wires: true, Log: true})
	if err != nil {
		t.Fatal(err)
	}
	checkOutlook(t, o)
	if len(o.Points) < 8 || o.InterpolationT > 3e-3 {
		t.Errorf("%d points, off by %.2g T", len(o.Points), o.InterpolationT)
	}
	w := &d.Wounds[0]
	s := &windingStudy{ctx: context.Background(), d: d, o: WindingOptions{Progress: func(string, float64) {}}, total: 100}
	solved := func(turns int, packing float64) float64 {
		q, err := s.solve(turns, packing, w.Material)
		if err != nil {
			t.Fatal(err)
		}
		return r3.Norm(vector(q.Result.GapB))
	}
	for _, n := range []int{130, 270} {
		b := solved(n, w.Packing)
		if off := math.Abs(o.Curve().At(float64(n)) - b); off > o.InterpolationT+b*o.SolverPercent/100 {
			t.Errorf("%d turns: interpolated %.5f T, solved %.5f T; stated %.5f T", n, o.Curve().At(float64(n)), b, o.InterpolationT)
		}
	}
	// The hard wire has the lower curve, zinc less steel, drawn 304 next to nothing, 316 nothing.
	share := map[string]float64{}
	for _, x := range o.Wires {
		share[x.Name] = x.Share
	}
	if hard, zinc, drawn, none := share["hard-wire"], share["annealed-wire, galvanized"], share["stainless 304, drawn"], share["stainless 316"]; !(hard < 0 && hard > -0.05 && zinc < -0.003 && zinc > -0.02 && drawn < -0.1 && none < drawn) {
		t.Error(share)
	}
	const packing = 0.655
	dice := rand.New(rand.NewPCG(5, 8))
	plan := WindingPlan(w)
	var list []winding.Reading
	for _, n := range []int{0, 36, 72, 108, 144, 180, 216} {
		b := o.BareT
		if n > 0 {
			b = solved(n, packing)
		}
		r := winding.Reading{Turns: n, FieldT: b * (1 + 0.005*dice.NormFloat64())}
		if n > 0 {
			r.OuterM = 0.058 + 2*float64(n)*math.Pi/4*w.WireDiameterM*w.WireDiameterM/(packing*0.060) + 0.4e-3*dice.NormFloat64()
		}
		list = append(list, r)
	}
	g, err := o.Follow(plan, list, f)
	if err != nil {
		t.Fatal(err)
	}
	if math.Abs(g.Packing-packing) > 3*g.PackingUncert || g.PackingUncert > 0.02 {
		t.Errorf("packing %.4f ± %.4f for %.4f", g.Packing, g.PackingUncert, packing)
	}
	want := solved(250, packing)
	if math.Abs(g.PlannedT-want) > 0.005*want {
		t.Errorf("forecast %.5f T at 250 turns, solved %.5f T", g.PlannedT, want)
	}
}
