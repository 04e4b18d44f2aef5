package result

// Sheet is what to measure of a built magnet, and what a probe should read there.
type Sheet struct {
	Title      string       `json:"title"`
	Readings   []SheetEntry `json:"readings"`
	Probe      string       `json:"probe"` // active area, over which the prediction is averaged
	Axis       string       `json:"axis"`  // of the field in the gap
	ReferenceC float64      `json:"reference_degC"`
	Accuracy   string       `json:"accuracy"`
	Error      float64      `json:"estimated_error_percent"`
	// Spreads are the deviations that the bands allow for, each with its standard deviation.
	Spreads []FittedValue `json:"spreads"`
}

// SheetEntry is one reading to take. Bands are half widths for a coverage factor of 2.
type SheetEntry struct {
	Group     string     `json:"group"`
	At        [3]float64 `json:"at_m"`
	Component string     `json:"component"` // Bx, By or Bz
	Predicted float64    `json:"predicted_T"`
	Build     float64    `json:"band_of_build_T"`           // by the usual spreads of magnets, gap, tilt and packing
	Band      float64    `json:"band_T"`                    // with the usual calibration, zero, place and angle of the probe, and the error of the solve
	PerKelvin float64    `json:"per_K_T"`                   // change with the temperature of the magnets
	Gradient  float64    `json:"gradient_T_per_m"`          // of the reading with the probe's place
	Hot       bool       `json:"near_saturation,omitempty"` // more than 20 mT on the outside of steel
}
