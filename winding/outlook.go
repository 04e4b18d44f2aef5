package winding

import (
	"fmt"
	"math"
)

// Point is one solve: the magnet with so many turns on it.
type Point struct {
	Turns        int     `json:"turns"`
	GapT         float64 `json:"gap_T"`
	LooserT      float64 `json:"looser_gap_T"`  // at the looser packing; between its own solves their ratio is interpolated
	ToolsM       float64 `json:"reach_3mT_m"`   // farthest point with 3 mT, from the middle of the assembly: pulls loose steel
	ImplantsM    float64 `json:"reach_0.5mT_m"` // with 0.5 mT: disturbs implants
	ErrorPercent float64 `json:"estimated_error_percent"`
}

// Wire is the field with the planned turns of another wire.
type Wire struct {
	Name  string  `json:"name"`
	GapT  float64 `json:"gap_T"`
	Share float64 `json:"change"` // of the gap field, to the design's wire
	Note  string  `json:"note"`
}

// Check is what a meter and a caliper should read over a layer.
type Check struct {
	Layer  int     `json:"layer"`
	Turns  int     `json:"running_turns"`
	GapT   float64 `json:"gap_T"`
	OuterM float64 `json:"outer_m"`
}

// checks are those of the layers of a sheet past some turns, at a packing.
func (p Plan) checks(s Sheet, past int, packing float64, gap *Curve) (list []Check) {
	for _, l := range s.Layers {
		if n := l.RunningTurns; n > past && float64(n) <= gap.Most() {
			list = append(list, Check{l.Layer, n, gap.At(float64(n)), p.outer(n, packing)})
		}
	}
	return list
}

// Outlook is what more and fewer turns give, from solves at some numbers of turns.
type Outlook struct {
	Points         []Point `json:"points"`
	PlannedTurns   int     `json:"planned_turns"`
	PlannedT       float64 `json:"planned_gap_T"`
	Packing        float64 `json:"packing"`
	LooserPacking  float64 `json:"looser_packing"`
	LooserT        float64 `json:"looser_gap_T"`        // at the planned turns
	InterpolationT float64 `json:"interpolation_T"`     // error between the points, by leaving points out
	SolverPercent  float64 `json:"solver_percent"`      // largest estimated error of a point
	KneeTurns      float64 `json:"knee_turns"`          // 0: beyond the points
	CapacityTurns  float64 `json:"capacity_turns"`      // the winding at saturation carries all that the magnets send
	FluxWb         float64 `json:"magnet_flux_Wb"`      //
	LeastGain      float64 `json:"least_gain"`          // share that a further hundred turns should bring
	EnoughTurns    float64 `json:"enough_turns"`        // from here on they bring less; 0: beyond the points
	TargetT        float64 `json:"target_T,omitempty"`  //
	TargetTurns    float64 `json:"target_turns"`        // 0: not reached, or no target
	ToolsM         float64 `json:"tools_m"`             // loose steel stays farther away while winding: the farthest of all points
	ImplantsM      float64 `json:"implants_m"`          //
	BareT          float64 `json:"bare_gap_T"`          // before the first turn
	Wires          []Wire  `json:"wires"`               //
	Capped         bool    `json:"capped_by_neighbour"` // another part leaves no room for more turns

	Checks []Check `json:"checks"` // over each layer as planned

	gap *Curve
}

// Curve is the gap field against turns, T.
func (o *Outlook) Curve() *Curve { return o.gap }

// Complete draws the curve through the points, which rise in turns, and reads off it all that follows from it. The plan's turns, the two
// packings, the flux, the least gain, the target and the wires are given.
func (o *Outlook) Complete(p Plan, saturationT float64) error {
	sheet, err := Wind(p)
	if err != nil {
		return err
	}
	var turns, gap, looser []float64
	for _, q := range o.Points {
		turns, gap, looser = append(turns, float64(q.Turns)), append(gap, q.GapT), append(looser, q.LooserT)
		o.SolverPercent = math.Max(o.SolverPercent, q.ErrorPercent)
		o.ToolsM, o.ImplantsM = math.Max(o.ToolsM, q.ToolsM), math.Max(o.ImplantsM, q.ImplantsM)
	}
	c, err := NewCurve(turns, gap)
	if err != nil {
		return err
	}
	l, err := NewCurve(turns, looser)
	if err != nil {
		return err
	}
	o.gap = c
	o.PlannedT, o.LooserT = c.At(float64(o.PlannedTurns)), l.At(float64(o.PlannedTurns))
	o.InterpolationT, o.BareT = c.LeaveOut(), c.At(0)
	o.KneeTurns, o.EnoughTurns = c.Knee(), c.Enough(o.LeastGain)
	o.CapacityTurns = o.FluxWb / (2 * wireArea(p.WireDiameter) * saturationT)
	o.Checks = p.checks(sheet, 0, o.Packing, c)
	if o.TargetT > 0 {
		o.TargetTurns = c.Reaches(o.TargetT)
	}
	return nil
}

// Progress is the winding after the last reading of a log.
type Progress struct {
	Fit
	Turns       int     `json:"turns"`
	ReadT       float64 `json:"read_T"`
	NowT        float64 `json:"now_T"`         // by the fitted forecast
	PlannedT    float64 `json:"planned_gap_T"` // by the same, at the planned turns
	NextHundred float64 `json:"next_hundred"`  // share that a further hundred turns bring; 0 at the end of the curve
	EnoughTurns float64 `json:"enough_turns"`  // as in Outlook, by the fitted forecast
	TargetTurns float64 `json:"target_turns"`  //
	GoOn        bool    `json:"go_on"`
	Advice      string  `json:"advice"`
	Lines       []Line  `json:"readings_against_forecast"`
	Ahead       []Check `json:"ahead"` // over each layer still to wind, by the fit
}

// Line is a reading beside the forecasts.
type Line struct {
	Reading
	DesignT float64 `json:"design_T"`
	FittedT float64 `json:"fitted_T"`
}

// Follow fits a log and says whether to go on.
func (o *Outlook) Follow(p Plan, list []Reading, f *Forecast) (Progress, error) {
	sheet, err := Wind(p)
	if err != nil {
		return Progress{}, err
	}
	fit, err := FitLog(p, list, f)
	if err != nil {
		return Progress{}, err
	}
	c, err := f.Packed(fit.Packing, fit.Strength)
	if err != nil {
		return Progress{}, err
	}
	last := list[len(list)-1]
	g := Progress{Fit: fit, Turns: last.Turns, ReadT: last.FieldT, NowT: c.At(float64(last.Turns)), PlannedT: c.At(float64(o.PlannedTurns)),
		EnoughTurns: c.Enough(o.LeastGain), NextHundred: c.Gain(float64(last.Turns))}
	if o.TargetT > 0 {
		g.TargetTurns = c.Reaches(o.TargetT)
	}
	for _, r := range list {
		g.Lines = append(g.Lines, Line{r, o.gap.At(float64(r.Turns)), c.At(float64(r.Turns))})
	}
	g.Ahead = p.checks(sheet, last.Turns, fit.Packing, c)
	g.GoOn, g.Advice = o.advise(&g, c)
	return g, nil
}

// advise goes by the target first, then by the gain.
func (o *Outlook) advise(g *Progress, c *Curve) (goOn bool, words string) {
	worth := fmt.Sprintf("a further hundred turns bring %.1f %%", 100*g.NextHundred)
	if float64(g.Turns)+hundred > c.Most() {
		worth = "few turns are left to the end of what was solved"
	}
	gains := g.NextHundred >= o.LeastGain && float64(g.Turns)+hundred <= c.Most()
	switch {
	case o.TargetT > 0 && g.ReadT >= o.TargetT:
		return false, fmt.Sprintf("Stop: %.4f T is read and %.4f T wanted (%s).", g.ReadT, o.TargetT, worth)
	case o.TargetT > 0 && g.TargetTurns > float64(g.Turns):
		return true, fmt.Sprintf("Go on: about %.0f turns more reach the %.4f T wanted (%s).", math.Ceil(g.TargetTurns)-float64(g.Turns), o.TargetT, worth)
	case o.TargetT > 0 && gains:
		return true, fmt.Sprintf("Go on, but the %.4f T wanted stay out of reach: the winding ends near %.4f T (%s). Smaller joints, a smaller gap or stronger magnets are needed.", o.TargetT, c.At(c.Most()), worth)
	case o.TargetT > 0:
		return false, fmt.Sprintf("Stop: the %.4f T wanted are out of reach, the winding ends near %.4f T (%s). Look for a joint that gapes; a smaller gap or stronger magnets are needed.", o.TargetT, c.At(c.Most()), worth)
	case gains:
		return true, fmt.Sprintf("Go on: %s, and %.1f %% is the least worth winding for.", worth, 100*o.LeastGain)
	}
	return false, fmt.Sprintf("Stop: %s, less than the %.1f %% worth winding for.", worth, 100*o.LeastGain)
}
