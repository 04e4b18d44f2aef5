package result

import "strings"

// Tolerance is what builds of a design will be like.
type Tolerance struct {
	Format         int               `json:"format"`
	Title          string            `json:"title"`
	Accuracy       string            `json:"accuracy"`
	EstimatedError float64           `json:"estimated_error_percent"` // of the design's own gap field
	Builds         int               `json:"builds"`                  // drawn from the sensitivities
	Solves         int               `json:"solves"`                  // that were solved one by one; 0 without
	Failed         int               `json:"failed"`                  // of these, that could not be solved
	Seed           uint64            `json:"seed"`
	Correlation    string            `json:"correlation"` // which strayings go together
	Sources        []ToleranceSource `json:"sources"`
	Figures        []ToleranceFigure `json:"figures"`
	Yield          *Share            `json:"yield,omitempty"` // of builds that meet every limit; nil where there is none
	YieldBySolves  *Share            `json:"yield_by_solves,omitempty"`
	Trim           *Trim             `json:"trim,omitempty"` // nil where the design has no gap that could be set, or no limit
	Notes          []string          `json:"notes"`
}

// ToleranceSource is one way in which builds stray.
type ToleranceSource struct {
	What   string   `json:"what"`
	Parts  []string `json:"parts"`
	Spread float64  `json:"spread"` // standard deviation, in Unit
	Unit   string   `json:"unit"`   // "1", "m", "rad", "K"
	Given  bool     `json:"given"`  // in the file; else the usual one
	// Field is by how much the mean field rises when the source grows by one spread, T.
	Field float64 `json:"field_T"`
}

// ToleranceFigure is a figure of the builds.
type ToleranceFigure struct {
	What     string        `json:"what"`           // "field", "uniformity", "pull", "stray field"
	Unit     string        `json:"unit"`           // "T", "ppm", "N"
	AtM      float64       `json:"at_m,omitempty"` // of the stray field: how far from the middle of the parts
	Design   float64       `json:"design"`
	Spread   Distribution  `json:"by_sensitivities"`
	Linear   *float64      `json:"linear_sd,omitempty"` // standard deviation by first derivatives alone; nil where the figure has none
	Solved   *Distribution `json:"by_solves,omitempty"`
	Same     *Distribution `json:"same_by_sensitivities,omitempty"` // of the very builds that were solved
	Misfit   *float64      `json:"misfit_rms,omitempty"`            // of the sensitivities from the solves, build by build
	Limits   [2]*float64   `json:"limits"`                          // least and most; nil: none
	Within   *Share        `json:"within,omitempty"`                // of builds that keep the limits
	WithinBy *Share        `json:"within_by_solves,omitempty"`
	Causes   []Cause       `json:"causes"` // the largest first

	Values       []float64 `json:"-"` // of each build
	SolvedValues []float64 `json:"-"`
}

// Key names the figure with its unit: "stray_field_T".
func (f *ToleranceFigure) Key() string { return strings.ReplaceAll(f.What, " ", "_") + "_" + f.Unit }

// Cause is a source's share of the variance of a figure: alone, and with all that it does together with others.
type Cause struct {
	Source int     `json:"source"` // its place in Sources
	First  float64 `json:"first"`
	Total  float64 `json:"total"`
}

// Distribution are the figures of a sample.
type Distribution struct {
	Mean float64 `json:"mean"`
	SD   float64 `json:"sd"`
	P025 float64 `json:"p2_5"`
	P50  float64 `json:"p50"`
	P975 float64 `json:"p97_5"`
}

// Share is a share of builds with the interval in which it lies with a confidence of 95 %.
type Share struct {
	Share float64 `json:"share"`
	Low   float64 `json:"low"`
	High  float64 `json:"high"`
}

// Trim is what shims in the gap can do for the builds.
type Trim struct {
	FieldPerMM float64   `json:"field_share_per_mm"` // by how much the field rises, relative, as the gap grows by 1 mm
	CutM       float64   `json:"spacer_shorter_by_m"`
	StepM      float64   `json:"step_m"`
	ShimsM     []float64 `json:"shims_m"` // for each spacer
	ReachM     float64   `json:"reach_m"` // changes of the gap that were tried, either way
	Without    Share     `json:"yield_without"`
	With       Share     `json:"yield_with"`
	Limits     []string  `json:"not_cured"` // figures that still fail builds, the worst first
}
