// Package result is the answer to a design: its numbers, in SI units, with the JSON keys that scripts rely on. It knows nothing of grids,
// files or flags.
package result

// Result is what a solved design does.
type Result struct {
	Format    int        `json:"format"`
	Title     string     `json:"title"`
	Probes    []Probe    `json:"probes"`
	Sections  []Section  `json:"sections"`
	Region    *Region    `json:"region,omitempty"`
	Harmonics *Harmonics `json:"harmonics,omitempty"`
	Parts     []Part     `json:"parts"`
	Halves    []Half     `json:"halves,omitempty"`
	Groups    []Group    `json:"groups,omitempty"`
	Stray     []Stray    `json:"stray"`
	Ledger    *Ledger    `json:"ledger,omitempty"`
	// Demagnetization is what the temperatures asked for do to the magnets; nil where there are none, or where it was left out.
	Demagnetization *Demagnetization `json:"demagnetization,omitempty"`
	Solver          Solver           `json:"solver"`
	Target          []Check          `json:"target,omitempty"`
	Warnings        []string         `json:"warnings"`
	Cautions        []string         `json:"cautions"`

	MassKg    float64    `json:"mass_kg"`
	MomentAm2 [3]float64 `json:"moment_A_m2"`
	// Quadrupole Q about the centre of the assembly: far away phi = (m.n/r^2 + n.Q.n/(2 r^3))/(4 pi). Symmetric, without trace.
	QuadrupoleAm3 [3][3]float64 `json:"quadrupole_A_m3"`
	CenterM       [3]float64    `json:"center_m"` // of the assembly: stray reach is counted from here
	GapB          [3]float64    `json:"gap_b_T"`  // at the middle of the gap
	GapAtM        [3]float64    `json:"gap_at_m"`
	TempC         float64       `json:"temperature_degC"` // of the magnets
	Windings      []Winding     `json:"windings,omitempty"`
}

// Probe is the field at a point.
type Probe struct {
	Name string     `json:"name"`
	At   [3]float64 `json:"at_m"`
	B    [3]float64 `json:"b_T"`
	H    [3]float64 `json:"h_A_per_m"`

	*Derivatives // nil within a part
}

// Section is the mean flux density through a part's cross-section.
type Section struct {
	Name  string  `json:"name"`
	MeanB float64 `json:"mean_b_T"`
	Area  float64 `json:"area_m2"`
	Flux  float64 `json:"flux_Wb"`
}

// Region is the field over the target region: its size along the main direction, highest less lowest and standard deviation of the mean.
type Region struct {
	MeanB      float64 `json:"mean_b_T"`
	MinB       float64 `json:"min_b_T"`
	MaxB       float64 `json:"max_b_T"`
	PeakToPeak float64 `json:"peak_to_peak_ppm"`
	RMS        float64 `json:"rms_ppm"`
	Points     int     `json:"points"`
	// Noise is about how uncertain the shape of the field is over the region, from two fits and two grids, of the mean.
	Noise float64 `json:"noise_ppm"`
}

// Part is one part of the assembly.
type Part struct {
	Name   string     `json:"name"`
	Kind   string     `json:"kind"`
	MassKg float64    `json:"mass_kg"`
	Force  [3]float64 `json:"force_N"`
	Torque [3]float64 `json:"torque_Nm"`
	MeanB  float64    `json:"mean_b_T"`
	MaxB   float64    `json:"max_b_T"`

	WorkingPoint *WorkingPoint `json:"working_point,omitempty"`
	// Saturation is the mean flux density of soft steel over its saturation, as a fraction; of a wound yoke over packing times saturation.
	Saturation    float64 `json:"saturation,omitempty"`
	MaxSaturation float64 `json:"max_saturation,omitempty"`
	Material      string  `json:"material"`
	Shape         string  `json:"shape"`
	Exact         bool    `json:"exact_source,omitempty"`   // the field of this magnet is its closed form, not the grid's
	Cut           bool    `json:"cut_by_grid,omitempty"`    // steel that the grid does not follow
	AmpereTurns   float64 `json:"ampere_turns_A,omitempty"` // of a coil
}

// WorkingPoint is the mean state of a magnet along its magnetization.
type WorkingPoint struct {
	B          float64 `json:"b_T"`
	H          float64 `json:"h_A_per_m"`
	Permeance  float64 `json:"permeance"`             // -B/(mu0 H)
	KneeH      float64 `json:"knee_h_A_per_m"`        // at the working temperature; 0: not known
	MaxKneeH   float64 `json:"max_knee_h_A_per_m"`    // at the highest temperature asked for; 0: not known
	KneeMargin float64 `json:"knee_margin,omitempty"` // 1 - LowestH/WorstKneeH: below 0 the magnet is weakened

	// The worst place at the worst temperature of those asked for. A thousandth of the volume, which is edges and corners that no grid
	// resolves, lies beyond LowestH.
	LowestH       float64 `json:"lowest_h_A_per_m"`         // along the magnetization, in the magnet's own material
	WorstKneeH    float64 `json:"worst_knee_h_A_per_m"`     // 0: not known
	WorstC        float64 `json:"worst_temperature_degC"`   //
	PastKnee      float64 `json:"past_knee_share"`          // of the volume
	RemanenceKept float64 `json:"remanence_kept,omitempty"` // mean share of the magnetization left for good; 0: not computed
	// WeakestAtM is the place of LowestH in a magnet that is past its knee; its mirror images are as bad.
	WeakestAtM *[3]float64 `json:"weakest_at_m,omitempty"`
}

// Half is the force on all that lies on the positive side of a plane.
type Half struct {
	Plane string     `json:"plane"`
	Force [3]float64 `json:"force_N"`
}

// Group is the force on several parts together from all others, and the torque about a point, the middle of the group unless another was asked for.
type Group struct {
	Parts  []string   `json:"parts"`
	AboutM [3]float64 `json:"about_m"`
	Force  [3]float64 `json:"force_N"`
	Torque [3]float64 `json:"torque_Nm"`
}

// Stray is how far a limit reaches from the centre along each axis, the larger of both ways.
type Stray struct {
	Limit float64 `json:"limit_T"`
	Reach struct {
		X float64 `json:"x"`
		Y float64 `json:"y"`
		Z float64 `json:"z"`
	} `json:"reach_m"`
	// Largest is the largest reach of all directions, and Direction its unit vector.
	Largest   float64    `json:"largest_m"`
	Direction [3]float64 `json:"largest_direction"`
}

// Ledger leads from the remanence to the field in the gap, in tesla.
type Ledger struct {
	Rows []LedgerRow `json:"rows"`
}

// LedgerRow is one step: what it adds (mostly negative), and what is left after it.
type LedgerRow struct {
	What  string  `json:"what"`
	Why   string  `json:"why"`
	Delta float64 `json:"delta_T"`
	After float64 `json:"after_T"`
}

// Demagnetization is what the magnets lose for good between the lowest and the highest temperature asked for. The result's other numbers are
// those before the loss.
type Demagnetization struct {
	Temperatures []AtTemperature `json:"temperatures"`
	WorstC       float64         `json:"worst_temperature_degC"`
	LostVolume   float64         `json:"lost_volume_share"` // of all magnets' volume: what passes the knee at one of the temperatures
	LostGapT     float64         `json:"lost_gap_T"`        // of the field in the gap, back at the working temperature
	LostGap      float64         `json:"lost_gap_percent"`
	Magnets      int             `json:"magnets_weakened"`
	NotComputed  []string        `json:"loss_not_computed,omitempty"` // magnets past the knee whose curve is not known
}

// AtTemperature is the state of the magnets at a temperature.
type AtTemperature struct {
	DegC     float64 `json:"degC"`
	PastKnee float64 `json:"past_knee_share"` // of all magnets' volume
	GapB     float64 `json:"gap_b_T"`         // size of the field in the gap while they are at it
}

// Solver is what the answer took and how good it is.
type Solver struct {
	Method         string   `json:"method"`
	Unknowns       int      `json:"unknowns"`
	NewtonSteps    int      `json:"newton_steps"`
	Cycles         int      `json:"cycles"`
	Seconds        float64  `json:"seconds"`
	EstimatedError float64  `json:"estimated_error_percent"`
	Symmetry       []string `json:"symmetry"`
	Axis           string   `json:"extrusion_axis,omitempty"`
	Accuracy       string   `json:"accuracy"`
}

// Check is one wish of the target and what became of it.
type Check struct {
	What   string  `json:"what"`
	Wanted float64 `json:"wanted"`
	Got    float64 `json:"got"`
	Unit   string  `json:"unit"`
	Met    bool    `json:"met"`
}

// Winding sums up a wound yoke.
type Winding struct {
	Name       string  `json:"name"`
	Turns      int     `json:"turns"`
	LengthM    float64 `json:"wire_length_m"`
	MassKg     float64 `json:"wire_mass_kg"`
	BuildM     float64 `json:"build_m"`
	Packing    float64 `json:"packing"`
	SteelArea  float64 `json:"steel_area_m2"`
	Capacity   float64 `json:"capacity_Wb"`
	MagnetFlux float64 `json:"magnet_flux_Wb"`
	Sentence   string  `json:"sentence"`
}
