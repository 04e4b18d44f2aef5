package result

// Shimming is what to put on the faces of the gap so that a measured map becomes flat.
type Shimming struct {
	Title    string         `json:"title"`
	Log      string         `json:"log"`
	What     string         `json:"what"`   // foil or magnet
	StepM    float64        `json:"step_m"` // of one foil; 0 for magnets
	SizeM    float64        `json:"size_m"` // edge of a patch, diameter of a magnet
	Patches  []ShimPatch    `json:"patches"`
	Figures  []ShimFigures  `json:"figures"` // measured, with all shims, with those to put on first
	Apply    float64        `json:"apply"`   // share to put on first
	Terms    []MeasuredTerm `json:"terms"`   // of the measured map, T on the rim
	Degree   int            `json:"degree"`
	FitRMS   float64        `json:"fit_rms_T"` // readings less the fitted terms
	Readings int            `json:"readings"`  // that were used
	RadiusM  float64        `json:"radius_m"`  // of the ball that holds the region
	Images   string         `json:"images"`    // how steel behind the faces is taken
	Warnings []string       `json:"warnings"`
}

// ShimPatch is a place on a face with what goes there. Counts are foils; of magnets a negative one is the other way round.
type ShimPatch struct {
	Face  string     `json:"face"`
	At    [3]float64 `json:"at_m"` // of the face there
	Count int        `json:"count"`
	First int        `json:"first"` // to put on before the map is read again
}

// ShimFigures are the unevenness over the region.
type ShimFigures struct {
	What          string  `json:"what"`
	MeanT         float64 `json:"mean_T"`
	PeakToPeakPPM float64 `json:"peak_to_peak_ppm"`
	RMSPPM        float64 `json:"rms_ppm"`
}

// MeasuredTerm is the size of the terms of a degree: root of the sum of squares of their means over the sphere, T.
type MeasuredTerm struct {
	Degree int     `json:"degree"`
	RMST   float64 `json:"rms_T"`
}
