package polewright

import (
	"errors"
	"fmt"
	"math"

	"polewright/circuit"
	"polewright/design"
)

// Lumped is what the magnetic circuit says of a design, within microseconds and some per cent: a first answer while a field is solved.
type Lumped struct {
	GapT      float64 `json:"gap_b_T"`    // at the middle of the gap
	MagnetT   float64 `json:"magnet_b_T"` // in the middle of a magnet, along its magnetization
	MagnetH   float64 `json:"magnet_h_A_per_m"`
	Permeance float64 `json:"permeance"`
	LegT      float64 `json:"leg_b_T"`  // in the steel of legs, wall or winding; 0 without a yoke
	BackT     float64 `json:"back_b_T"` // in the back plates
	YokeA     float64 `json:"yoke_A"`   // the magnetomotive force that the yoke takes
	GapWb     float64 `json:"gap_flux_Wb"`
	Leakage   float64 `json:"leakage"` // flux of a magnet over that of the gap
}

// ErrNoCircuit is a design that the circuit does not know: a ring of magnets without steel, or parts that are written out and stand otherwise than
// in a pair, alone, in a frame of four bars or in a wound yoke.
var ErrNoCircuit = errors.New("the magnetic circuit knows only designs with a [layout] of two magnets or one and their yoke, and parts written out that stand like a facing pair, a framed pair or a wound pair")

// LumpedOf puts the layout of a design, or that in which its written parts stand, through package circuit, magnets at the working temperature.
// Parts beside a [layout] and joints are not looked at. The error is ErrNoCircuit, or says which length no circuit can have.
func LumpedOf(d *design.Design) (*Lumped, error) {
	layout := layoutOf(d)
	if layout == nil || len(d.Magnets) == 0 {
		return nil, ErrNoCircuit
	}
	l := layout.Lengths
	m := d.Magnets[0].Material.At(workingTemperature(d))
	a := circuit.Assembly{Face: circuit.Face{X: l["magnet_x"], Y: l["magnet_y"]}, Thickness: l["magnet_z"], Gap: l["gap"], Remanence: m.RemanenceT,
		Recoil: m.RecoilPermeability, Side: l["side"], Leg: l["leg"], Back: l["back"]}
	if len(d.Steels) > 0 {
		a.Steel = d.Steels[0].Material.Curve
	}
	switch layout.Kind {
	case "facing-pair":
	case "framed-pair":
		a.Yoke = circuit.Box
	case "c-frame":
		a.Yoke, a.Back = circuit.C, l["arm"]
	case "wound-pair":
		w := d.Wounds[0]
		a.Yoke, a.Leg, a.Back, a.Packing, a.Steel = circuit.Box, l["build"], l["build"], w.Packing, w.Material.Curve
	case "single-block": // its mirror image in the middle plane stands for nothing real: the gap is the distance to the point in front of it
		a.Yoke, a.Gap, a.Back, a.PlateX, a.PlateY = circuit.Plate, 2*l["gap"], l["plate_z"], l["plate_x"], l["plate_y"]
	case "round-pot":
		a.Yoke, a.Face, a.Thickness, a.Leg, a.Back = circuit.Pot, circuit.Face{Diameter: l["magnet_diameter"]}, l["magnet_thickness"], l["wall"], l["lid"]
	case "pole-tips":
		a.Yoke, a.Face, a.Thickness, a.Depth = circuit.Box, circuit.Face{Diameter: l["magnet_diameter"]}, l["magnet_thickness"], l["depth"]
		a.Tip = &circuit.Tip{Root: l["root_diameter"], Diameter: l["tip_diameter"], Height: l["tip_height"]}
	default:
		return nil, ErrNoCircuit
	}
	w, err := a.Solve()
	if err != nil {
		return nil, fmt.Errorf("the magnetic circuit: %w", err)
	}
	r := &Lumped{GapT: w.GapT, MagnetT: w.MagnetT, MagnetH: w.MagnetH, Permeance: w.Permeance, LegT: w.LegT, BackT: w.BackT, YokeA: w.YokeA,
		GapWb: w.GapWb, Leakage: w.Leakage()}
	for _, x := range []float64{r.GapT, r.MagnetT, r.MagnetH, r.Permeance, r.LegT, r.BackT, r.YokeA, r.GapWb, r.Leakage} {
		if math.IsNaN(x) || math.IsInf(x, 0) {
			return nil, errors.New("the magnetic circuit has no answer for these lengths")
		}
	}
	return r, nil
}
