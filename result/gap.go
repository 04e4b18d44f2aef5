package result

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"

	"polewright/harmonic"
)

// Harmonics is the field in the gap as a sum of terms, of its component along a direction:
//
//	B_u = sum (r/R)^n S(n,m)(cos theta) {cos, sin}(m phi) b(n,m)
//
// with R the radius, theta from the polar direction u, phi from the azimuth direction, and S Schmidt's semi-normalized Legendre functions:
// no term is larger than its b on the sphere. Terms that are not listed are zero.
type Harmonics struct {
	Center  [3]float64 `json:"center_m"`
	Radius  float64    `json:"radius_m"`
	Degree  int        `json:"degree"`
	Polar   [3]float64 `json:"polar"`
	Azimuth [3]float64 `json:"azimuth"`
	// Residual is what the expansion leaves of the data it was fitted to, as field: root of the mean square and largest.
	Residual    float64 `json:"residual_ppm"`
	ResidualT   float64 `json:"residual_rms_T"`
	ResidualMax float64 `json:"residual_max_T"`
	Terms       []Term  `json:"terms"`
}

// Term is one term of Harmonics.
type Term struct {
	N    int     `json:"n"`
	M    int     `json:"m"`
	Kind string  `json:"kind"` // cos or sin
	B    float64 `json:"b_T"`
	PPM  float64 `json:"ppm"` // of the field at the centre
}

// Derivatives is how a field changes about a point in air, in world axes.
type Derivatives struct {
	Gradient    [3][3]float64 `json:"gradient_T_per_m"`       // dB_i/dx_j
	GradB       [3]float64    `json:"grad_b_T_per_m"`         // of |B|
	GradB2      [3]float64    `json:"grad_b2_T2_per_m"`       // of B^2
	Curvature   [3][3]float64 `json:"curvature_T_per_m2"`     // second derivatives of |B|
	CurvatureB2 [3][3]float64 `json:"curvature_b2_T2_per_m2"` // of B^2
}

// DerivativesOf takes B, its gradient g[i][j] = dB_i/dx_j and its second derivatives s[i][j][k] at a point:
//
//	d_j B^2 = 2 B_i g_ij    d_j d_k B^2 = 2 (g_ij g_ik + B_i s_ijk)    d_j |B| = d_j B^2/(2|B|)
//	d_j d_k |B| = d_j d_k B^2/(2|B|) - d_j|B| d_k|B|/|B|
//
// Where B is zero, |B| has no derivatives and they are left zero.
func DerivativesOf(b r3.Vec, g [3][3]float64, s [3][3][3]float64) Derivatives {
	o := Derivatives{Gradient: g}
	field, size := [3]float64{b.X, b.Y, b.Z}, r3.Norm(b)
	for j := range 3 {
		for i := range 3 {
			o.GradB2[j] += 2 * field[i] * g[i][j]
			for k := range 3 {
				o.CurvatureB2[j][k] += 2 * (g[i][j]*g[i][k] + field[i]*s[i][j][k])
			}
		}
	}
	if size == 0 {
		return o
	}
	for j := range 3 {
		o.GradB[j] = o.GradB2[j] / (2 * size)
	}
	for j := range 3 {
		for k := range 3 {
			o.Curvature[j][k] = o.CurvatureB2[j][k]/(2*size) - o.GradB[j]*o.GradB[k]/size
		}
	}
	return o
}

// LineShape is how a resonance whose frequency follows |B| is spread over a volume: from the lowest to the highest field, and the width of the
// histogram between the outermost bins that hold at least half of the fullest bin, T. The histogram has 100 bins; its points fill the volume evenly.
func LineShape(field func(r3.Vec) r3.Vec, center r3.Vec, v Volume) (full, half float64) {
	const bins, steps = 100, 14
	low, high := math.Inf(1), math.Inf(-1)
	type value struct{ b, weight float64 }
	var values []value
	for i := range steps * steps { // evenly over directions; along each, shells of equal volume
		d := harmonic.Direction(i, steps*steps)
		rim := v.Rim(d)
		for k := range steps {
			r := rim * math.Cbrt((float64(k)+0.5)/steps)
			b := r3.Norm(field(r3.Add(center, r3.Scale(r, d))))
			values = append(values, value{b, rim * rim * rim})
			low, high = math.Min(low, b), math.Max(high, b)
		}
		b := r3.Norm(field(r3.Add(center, r3.Scale(rim, d))))
		low, high = math.Min(low, b), math.Max(high, b)
	}
	full = high - low
	if full <= 0 {
		return 0, 0
	}
	var count [bins]float64
	top := 0.0
	for _, x := range values {
		i := min(bins-1, int(bins*(x.b-low)/full))
		count[i] += x.weight
		top = math.Max(top, count[i])
	}
	first, last := -1, 0
	for i, c := range count {
		if c >= top/2 {
			if first < 0 {
				first = i
			}
			last = i
		}
	}
	return full, full * float64(last-first+1) / bins
}

// GapQuality is what is said about the gap alone.
type GapQuality struct {
	Format    int        `json:"format"`
	Title     string     `json:"title"`
	Center    [3]float64 `json:"center_m"`
	B         [3]float64 `json:"b_T"`
	Volume    string     `json:"volume"` // in words
	Region    Region     `json:"region"`
	Harmonics *Harmonics `json:"harmonics,omitempty"`
	*Derivatives
	// Steepest is the largest gradient of |B| on the surface of the volume.
	Steepest  float64     `json:"steepest_T_per_m"`
	Resonance []Resonance `json:"resonances"`
	Circles   []Circle    `json:"circles"`
	Hall      HallReading `json:"hall_probe"`
	Lift      [3]float64  `json:"water_force_over_weight"` // magnetic force on water over its weight, along x, y, z at the steepest point
	LiftAt    [3]float64  `json:"water_force_at_m"`
	Accuracy  string      `json:"accuracy"`
	Error     float64     `json:"estimated_error_percent"`
}

// Resonance is a magnetic resonance in the field at the centre, and how the field's spread over the volume widens its line.
type Resonance struct {
	Of        string  `json:"of"`
	Frequency float64 `json:"frequency_Hz"`
	Full      float64 `json:"full_width_Hz"` // from the lowest to the highest field
	Half      float64 `json:"half_width_Hz"` // full width at half maximum of the histogram of the field
}

// Circle is the path of a charged particle across the field at the centre.
type Circle struct {
	Of       string  `json:"of"`
	EnergyEV float64 `json:"energy_eV"`
	Radius   float64 `json:"radius_m"`
}

// HallReading is what non-uniformity does to the calibration of a square Hall probe at the centre, across the field.
type HallReading struct {
	Edge  float64 `json:"edge_m"`
	Error float64 `json:"error_T"` // mean over its area less the field at its middle
	Moved float64 `json:"moved_T"` // largest change when it is put a tenth of its edge off, on the surface of the volume
}
