package result

// Approach is what two halves do to each other while they are brought together.
type Approach struct {
	Format   int            `json:"format"`
	Title    string         `json:"title"`
	Plane    string         `json:"plane"`
	Moved    []string       `json:"moved"` // the parts on the positive side, that move
	Accuracy string         `json:"accuracy"`
	Steps    []ApproachStep `json:"steps"` // from the largest distance to the closed place
	EnergyJ  float64        `json:"energy_J"`
	// CoenergyJ is the same energy as the difference of the coenergies of the first and the last step, without any force; nil where it is not
	// known. It checks the steps.
	CoenergyJ *float64 `json:"energy_by_coenergy_J,omitempty"`
	Cautions  []string `json:"cautions"`
}

// ApproachStep is one distance from the closed place.
type ApproachStep struct {
	DistanceM float64    `json:"distance_m"`
	Force     [3]float64 `json:"force_N"` // on the positive half
	// EnergyJ is set free from the largest distance to this one.
	EnergyJ        float64 `json:"energy_J"`
	StiffnessNPerM float64 `json:"stiffness_N_per_m"` // d(force along the normal)/d(distance)
}
