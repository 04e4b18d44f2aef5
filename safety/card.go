package safety

import "gonum.org/v1/gonum/spatial/r3"

// Card is what to know of an assembly before it is unpacked: what hangs beside it.
type Card struct {
	Format   int        `json:"format"`
	Title    string     `json:"title"`
	CenterM  [3]float64 `json:"center_m"` // of the box of the parts; reaches count from here
	Cautions []Caution  `json:"cautions"`
	// Limits are all published ones, the most sensitive first, with how far each reaches.
	Limits   []LimitReach `json:"limits"`
	Friction float64      `json:"friction"` // of a smooth bench, see SlideFriction
	Tools    []ToolPull   `json:"tools"`
	Halves   []HalfPull   `json:"halves"`          // what the halves do across the gap; none where it parts nothing
	Pinch    *Pinch       `json:"pinch,omitempty"` // nil where no plane parts the assembly without a cut
	Air      Air          `json:"air_freight"`
}

// Ways are a number along x, y and z, the larger of both ways, and the largest of all directions, with that direction.
type Ways struct {
	X       float64    `json:"x"`
	Y       float64    `json:"y"`
	Z       float64    `json:"z"`
	Largest float64    `json:"largest"`
	Towards [3]float64 `json:"towards"` // a unit vector; zero where there is none
}

// Meet takes the number v for a direction d, a unit vector, into account.
func (w *Ways) Meet(d r3.Vec, v float64) {
	const along = 1 - 1e-9
	for _, a := range []struct {
		c  float64
		to *float64
	}{{d.X, &w.X}, {d.Y, &w.Y}, {d.Z, &w.Z}} {
		if (a.c > along || a.c < -along) && v > *a.to {
			*a.to = v
		}
	}
	if v > w.Largest*(1+1e-6) { // an axis is named before what is no farther
		w.Largest, w.Towards = v, [3]float64{d.X, d.Y, d.Z}
	}
}

// LimitReach is how far a limit reaches from the centre, m; 0 is nowhere outside the parts, and for limits with a distance of their own.
type LimitReach struct {
	Limit
	Reach Ways `json:"reach_m"`
}

// ToolPull is what the assembly does to a loose tool that points at it. Distances count from the box that holds the parts, m, to the tool's near end.
type ToolPull struct {
	Name    string  `json:"name"`
	WeightN float64 `json:"weight_N"`
	Slides  Ways    `json:"slides_m"` // begins to slide on a smooth bench; 0 is never
	Lifts   Ways    `json:"lifts_m"`  // is lifted against its weight
	Pull    []Pull  `json:"pull"`
}

// Pull is the pull on a tool at a distance.
type Pull struct {
	DistanceM float64 `json:"distance_m"`
	Newtons   Ways    `json:"pull_N"`
}

// HalfPull is the force between all that lies on either side of a plane.
type HalfPull struct {
	Plane  string  `json:"plane"`
	ForceN float64 `json:"force_N"`
}

// Pinch is what closes on a hand where the assembly parts.
type Pinch struct {
	Plane    string   `json:"plane"`
	Moved    []string `json:"moved"`
	MovedKg  float64  `json:"moved_kg"`
	FromM    float64  `json:"from_m"`
	ForceN   float64  `json:"largest_force_N"` // on the way from there to the closed place
	EnergyJ  float64  `json:"energy_J"`        // set free on that way
	SpeedMps float64  `json:"speed_m_per_s"`   // of the lighter side, if nothing holds it
	HandM    float64  `json:"hand_m"`          // below this distance the force is more than a hand stands; 0 is nowhere
}
