package result

// Assembly is an order in which a magnet is put together, and what each step does to hands, jigs and magnets.
type Assembly struct {
	Format      int     `json:"format"`
	Title       string  `json:"title"`
	Layout      string  `json:"layout"`            // what the design was taken for
	GeneralRule bool    `json:"general_rule"`      // no known layout: steel first, magnets one at a time from outside in, legs last
	Basis       string  `json:"order_by"`          // where the order comes from
	Accuracy    string  `json:"accuracy"`          //
	TempC       float64 `json:"temperature_degC"`  // of the magnets while they are put together
	ScrewFactor float64 `json:"screw_load_factor"` // on the pull, for screws
	JigFactor   float64 `json:"jig_stiffness_factor"`

	Steps []AssemblyStep `json:"steps"`
	// Dangerous is the number of the step that does most harm when it gets loose; 0 where no step pulls.
	Dangerous    int    `json:"dangerous_step"`
	WhyDangerous string `json:"dangerous_because,omitempty"`

	// Orders compares the ways to close a frame, the one above first; empty where there is no choice.
	Orders []AssemblyOrder `json:"orders,omitempty"`
	// OrdersOnMagnets says which of them is gentler to the magnets, and by how much.
	OrdersOnMagnets string `json:"orders_on_magnets,omitempty"`

	Loose []LooseMagnet `json:"loose_magnets"`
	// CostsField lists what weakens a magnet for good: a step's or a loose magnet's state; empty where none does.
	CostsField []string  `json:"costs_field_for_good"`
	Apart      []Takeoff `json:"taking_apart"`
	Keeper     *Keeper   `json:"gap_keeper,omitempty"`
	Storage    []string  `json:"storage"`
	Notes      []string  `json:"notes"`
	Cautions   []string  `json:"cautions"`
}

// AssemblyOrder is one of the orders in which a frame may be closed, with its hardest steps.
type AssemblyOrder struct {
	Name        string  `json:"name"` // legs last, legs first
	Feasible    bool    `json:"feasible"`
	LargestN    float64 `json:"largest_force_N"`
	ForceIn     string  `json:"largest_force_in"`
	EnergyJ     float64 `json:"largest_energy_J"`
	EnergyIn    string  `json:"largest_energy_in"`
	Recommended bool    `json:"recommended"`
	Why         string  `json:"why,omitempty"` // it is recommended, or cannot be
	Notes       string  `json:"notes,omitempty"`
	// Gentler tells whether it leaves the magnets farther from their knees than the other; neither does where both are alike.
	Gentler bool `json:"gentler_to_magnets"`
	// States is what the magnets stand in each of its steps that moves something near a magnet.
	States []OrderState `json:"demagnetization"`
}

// OrderState is the worst state of the magnets in a step of an order.
type OrderState struct {
	Step   string `json:"step"`                   // its number in that order and its title
	SameAs int    `json:"same_as_step,omitempty"` // the step of the order above that has the same state
	StateStrain
}

// AssemblyStep moves some parts to their places. Where nothing pulls it has no way.
type AssemblyStep struct {
	Number int      `json:"number"`
	Title  string   `json:"title"`
	Moves  []string `json:"moves"`
	Among  []string `json:"among"` // the parts that stand near it
	MassKg float64  `json:"mass_kg"`
	How    []string `json:"how"`
	Hold   []string `json:"hold_points"`

	Toward [3]float64  `json:"toward"` // unit vector of the way
	Slides bool        `json:"slides"` // along a face that draws it
	Way    []WayPoint  `json:"way,omitempty"`
	Turns  []TurnsWrap `json:"turns,omitempty"` // of a winding, in place of a way
	SameAs int         `json:"same_as_step,omitempty"`

	PeakN     float64 `json:"peak_force_N"` // the largest force on what moves, in any direction
	PeakAtM   float64 `json:"peak_at_m"`
	PeakPullN float64 `json:"peak_pull_N"` // along the way; below zero where it is only held off
	PeakPushN float64 `json:"peak_push_N"` // the largest force against the way: what a pusher must give
	PeakSideN float64 `json:"peak_side_force_N"`
	// PressedN is the sum of the forces on both ends of a leg in its place, which cancel in the side force but not in friction.
	PressedN   float64 `json:"pressed_N,omitempty"`
	PeakTorque float64 `json:"peak_torque_Nm"`
	EnergyJ    float64 `json:"energy_J"`       // set free if it lets go at the worst place and is drawn in
	SpeedMPerS float64 `json:"impact_m_per_s"` // at which it arrives then, free of friction
	// CoenergyJ is what the way sets free in all as the difference of the coenergies of its ends, without any force; nil where it is not known.
	CoenergyJ  *float64        `json:"energy_by_coenergy_J,omitempty"`
	FlyingOffJ float64         `json:"flying_off_J"`      // set free if it lets go in its place and is thrown back
	FlyMPerS   float64         `json:"flying_m_per_s"`    // at which it flies then
	DriveN     float64         `json:"drive_N"`           // most that screws or a pusher bear: the force along the way and friction under that across it
	Negative   float64         `json:"stiffness_N_per_m"` // largest by which the pull grows as the way gets shorter
	JigNPerM   float64         `json:"jig_stiffness_N_per_m"`
	Side       []SideStiffness `json:"side_stiffness,omitempty"`
	Screws     *Screws         `json:"screws,omitempty"`
	Worst      *StateStrain    `json:"demagnetization,omitempty"` // of all magnets at all places of the way
}

// How a pull was found.
const (
	ByStress = "stress"
	ByEnergy = "energy"
)

// WayPoint is one distance of a step from its place.
type WayPoint struct {
	DistanceM float64    `json:"distance_m"`
	Force     [3]float64 `json:"force_N"`   // on what moves
	Torque    [3]float64 `json:"torque_Nm"` // about its middle
	PullN     float64    `json:"pull_N"`    // along the way: above zero it is drawn in
	// PullBy says how the pull was found: by the stress on what moves, or by the energies of the places beside it.
	PullBy  string  `json:"pull_by"`
	SideN   float64 `json:"side_force_N"`
	EnergyJ float64 `json:"energy_J"` // set free from the largest distance to this one
	// StiffnessNPerM is by how much the pull grows as the distance shrinks; above zero no hand can steady it.
	StiffnessNPerM float64 `json:"stiffness_N_per_m"`
}

// TurnsWrap is a winding at a number of turns.
type TurnsWrap struct {
	Turns    int        `json:"turns"`
	Force    [3]float64 `json:"force_N"`    // on the upper magnets, which the former must hold
	PullN    float64    `json:"pull_N"`     // of it, towards the other magnets; below zero they are drawn apart, against the winding
	PerTurnN float64    `json:"per_turn_N"` // by which it changes with each turn from the row before
}

// SideStiffness is what happens to a group that is moved off its way.
type SideStiffness struct {
	Direction [3]float64 `json:"direction"`
	AtM       float64    `json:"at_m"` // distance from its place
	// StiffnessNPerM is the force back onto the way over the offset; below zero it runs aside.
	StiffnessNPerM float64 `json:"stiffness_N_per_m"`
}

// Screws are jack screws for a step.
type Screws struct {
	Count    int     `json:"count"`
	LoadN    float64 `json:"screw_load_N"` // of each, the factor included
	Size     string  `json:"size"`
	TorqueNm float64 `json:"torque_Nm"` // of each, against the load without the factor
}

// StateStrain is how near the magnet that fares worst comes to its knee.
type StateStrain struct {
	Magnet    string  `json:"magnet"`
	DistanceM float64 `json:"distance_m"`
	// LowestH is along the magnetization; a thousandth of the volume, edges and corners, lies beyond it.
	LowestH  float64 `json:"lowest_h_A_per_m"`
	KneeH    float64 `json:"knee_h_A_per_m"` // 0: not known
	Margin   float64 `json:"knee_margin"`    // 1 - LowestH/KneeH: below 0 it is past the knee
	PastKnee float64 `json:"past_knee_share"`
	Kept     float64 `json:"remanence_kept,omitempty"` // mean share of its magnetization left for good; 0: not computed
}

// LooseMagnet is a magnet as it comes out of its box, alone in air, and with a keeper on its pole.
type LooseMagnet struct {
	Magnets []string    `json:"magnets"` // alike
	State   StateStrain `json:"demagnetization"`
	Keeper  *Keeper     `json:"keeper,omitempty"`
}

// Keeper is a bar of steel over a pole or across the gap, or for round poles a disc.
type Keeper struct {
	SizeM [3]float64 `json:"size_m"` // of the box round it
	// DiameterM and ThicknessM are those of a disc; 0 of a bar.
	DiameterM  float64 `json:"diameter_m,omitempty"`
	ThicknessM float64 `json:"thickness_m,omitempty"`
	// B is the mean flux density that leaves the pole into it, and AreaM2 the pole's.
	B      float64 `json:"b_T"`
	AreaM2 float64 `json:"pole_area_m2"`
	PoleN  float64 `json:"pole_force_N"`       // B²A/(2 mu0)
	PullN  float64 `json:"pull_off_N"`         // the solved force on it; 0 where it sits between two poles
	NeedM  float64 `json:"needed_thickness_m"` // that carries half the pole's flux out to each side at 1.6 T
}

// Takeoff is a step of taking apart.
type Takeoff struct {
	Step   int     `json:"step"` // of the assembly, undone
	What   string  `json:"what"`
	BeginN float64 `json:"begin_N"` // the force that begins it, friction included
	How    string  `json:"how"`
}
