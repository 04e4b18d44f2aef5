package result

// Verdicts of a verification, and of each of its checks.
const (
	VerdictMet    = "met"
	VerdictNotMet = "not met"
	VerdictOpen   = "undecided" // the readings do not decide it at the confidence asked for
)

// Verification is a built magnet's readings against its design's prediction.
type Verification struct {
	Format  int    `json:"format"`
	Title   string `json:"title"`
	Verdict string `json:"verdict"` // on the target: met, not met or undecided; without a target met stands for: as designed
	Reason  string `json:"reason"`
	// Sound is the probability that nothing is off beyond the usual spreads of instrument and readings.
	Sound      float64 `json:"as_designed_probability"`
	Confidence float64 `json:"confidence"` // of intervals and of named culprits

	Checks   []VerifiedCheck `json:"checks"`
	Findings []Finding       `json:"findings"` // what is off, and the readings show it
	Suspects []Finding       `json:"suspects"` // what may be off in its place
	Next     *NextReading    `json:"next_reading,omitempty"`
	Alike    [][2]string     `json:"alike"`  // deviations that these readings do not tell apart
	Unseen   []string        `json:"unseen"` // deviations that these readings say nothing of
	Fit      []FittedValue   `json:"fit"`    // all deviations together, each with its usual spread as prior, the findings free

	Readings    []VerifiedReading `json:"readings"`
	ResidualRMS float64           `json:"residual_rms_T"`   // reading less fit
	DesignRMS   float64           `json:"difference_rms_T"` // reading less the design's prediction
	Wrong       []int             `json:"wrong_lines"`      // lines of the log that fit in with nothing

	Probe      string            `json:"probe"`
	ReferenceC float64           `json:"reference_degC"` // to which readings with a temperature are brought
	Noise      string            `json:"noise"`          // where the uncertainty of the readings comes from
	Instrument []FittedValue     `json:"instrument"`     // the probe's calibration, zero, place and tilt as fitted, with their usual spread as prior
	Notes      map[string]string `json:"notes"`          // of the log, by their keys
	Log        string            `json:"log"`
	Accuracy   string            `json:"accuracy"`
	Error      float64           `json:"estimated_error_percent"`
	Warnings   []string          `json:"warnings"`
}

// Finding is a deviation of a build. Value and uncertainty are in Unit: 1 for a relative change or a yes, m, rad.
type Finding struct {
	Part        string  `json:"part"` // "" for the assembly
	What        string  `json:"what"`
	Kind        string  `json:"kind"`
	Axis        string  `json:"axis,omitempty"`
	Value       float64 `json:"value"`
	Uncertainty float64 `json:"uncertainty"` // half the interval at the confidence, if nothing else is off
	WithOthers  float64 `json:"uncertainty_with_others"`
	Unit        string  `json:"unit"`
	Confidence  float64 `json:"confidence"` // probability that it is off
	Text        string  `json:"text"`
}

// FittedValue is a number of the fit with its standard uncertainty.
type FittedValue struct {
	Part  string  `json:"part,omitempty"`
	What  string  `json:"what"`
	Value float64 `json:"value"`
	Sigma float64 `json:"standard_uncertainty"`
	Usual float64 `json:"usual_spread"`
	Unit  string  `json:"unit"`
}

// VerifiedCheck is a number of the target as built.
type VerifiedCheck struct {
	What        string  `json:"what"`
	Wanted      float64 `json:"wanted"`
	AtMost      bool    `json:"at_most"`  // else at least
	Designed    float64 `json:"designed"` // by the prediction
	Got         float64 `json:"got"`
	Uncertainty float64 `json:"uncertainty"`
	Unit        string  `json:"unit"`
	Probability float64 `json:"probability"` // that it is met
	Verdict     string  `json:"verdict"`
}

// VerifiedReading is one reading against the prediction of what the probe should read.
type VerifiedReading struct {
	Line        int        `json:"line"`
	At          [3]float64 `json:"at_m"`
	Component   string     `json:"component"`
	Read        float64    `json:"read_T"`
	Corrected   float64    `json:"corrected_T"` // to the reference temperature
	Predicted   float64    `json:"predicted_T"` // by the design, over the probe's area
	Fitted      float64    `json:"fitted_T"`    // with the findings and the instrument's share
	Uncertainty float64    `json:"standard_uncertainty_T"`
	Wrong       bool       `json:"wrong,omitempty"`
}

// NextReading is the reading that would settle what is open.
type NextReading struct {
	At        [3]float64 `json:"at_m"`
	Component string     `json:"component"`
	Between   [2]string  `json:"between"`
	Expected  [2]float64 `json:"expected_T"`
	Readings  int        `json:"readings"` // there, that it takes
}
