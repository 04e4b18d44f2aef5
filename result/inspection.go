package result

// Verdicts of a piece beside those of a verification.
const VerdictReversed = "marked the wrong way round"

// Inspection is single magnets as measured before they are built in, and where they go best.
type Inspection struct {
	Title  string           `json:"title"`
	File   string           `json:"file"`
	Pieces []InspectedPiece `json:"pieces"`
	Kinds  []InspectedKind  `json:"kinds"`
	// Places is empty where the pieces do not fill the design.
	Places    []PlacedPiece     `json:"places"`
	Spare     []string          `json:"spare"`
	Predicted []ArrangedFigures `json:"predicted"` // as drawn, in the order of the list, as arranged
	Objective string            `json:"objective"`
	Exact     bool              `json:"all_tried"` // else found by annealing
	Notes     map[string]string `json:"notes"`
	Warnings  []string          `json:"warnings"`
}

// InspectedKind is what is common to pieces of the same shape and grade.
type InspectedKind struct {
	Magnets    []string `json:"magnets"` // of the design
	Grade      string   `json:"grade"`
	VolumeM3   float64  `json:"volume_m3"`         // of the bare magnet
	Factor     float64  `json:"demagnetizing"`     // magnetometric demagnetizing factor along the magnetization
	Correction float64  `json:"recoil_correction"` // remanence over mean polarization of the piece alone
	NominalT   float64  `json:"nominal_remanence_T"`
	MinimumT   float64  `json:"minimum_remanence_T"`
	ReferenceC float64  `json:"reference_degC"`
	MomentAm2  float64  `json:"nominal_moment_A_m2"` // of a piece alone at the nominal remanence
	Pieces     int      `json:"pieces"`
	MeanT      float64  `json:"mean_remanence_T"`
	SpreadT    float64  `json:"standard_deviation_T"`
}

// InspectedPiece is one magnet.
type InspectedPiece struct {
	Name        string   `json:"name"`
	Line        int      `json:"line"`
	Kind        int      `json:"kind"`
	RemanenceT  float64  `json:"remanence_T"`            // at the reference temperature of the grade
	Uncertainty float64  `json:"expanded_uncertainty_T"` // coverage factor 2
	MomentAm2   float64  `json:"moment_A_m2"`            // along the mark, of the piece alone at the reference temperature
	Deviation   float64  `json:"from_nominal"`
	AngleRad    float64  `json:"angle_rad"` // of the magnetization to the mark; 0 where not measured
	Towards     float64  `json:"towards_rad"`
	HasAngle    bool     `json:"angle_measured"`
	Reversed    bool     `json:"reversed"`
	Verdict     string   `json:"verdict"` // against the least that the grade warrants
	Texts       []string `json:"texts"`
}

// PlacedPiece is which piece goes where.
type PlacedPiece struct {
	Magnet  string  `json:"magnet"`
	Piece   string  `json:"piece"`
	TurnRad float64 `json:"turn_rad"` // right-handed about the direction of magnetization
	Turned  bool    `json:"turn_matters"`
}

// ArrangedFigures are the field over the region with an arrangement.
type ArrangedFigures struct {
	What           string  `json:"what"`
	MeanT          float64 `json:"mean_b_T"`
	PeakToPeakPPM  float64 `json:"peak_to_peak_ppm"`
	AcrossFraction float64 `json:"across"` // mean field across that drawn, of the mean
}
