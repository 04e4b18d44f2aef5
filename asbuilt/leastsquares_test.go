package asbuilt

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/mat"
)

// model is a curve y = f(x, p) with derivatives by p.
type model func(x float64, p []float64) (y float64, slope []float64)

func fitCurve(t *testing.T, x, y, start []float64, f model) Estimate {
	t.Helper()
	e, err := LeastSquares(start, func(p []float64) ([]float64, *mat.Dense) {
		r, j := make([]float64, len(x)), mat.NewDense(len(x), len(p), nil)
		for i := range x {
			v, s := f(x[i], p)
			r[i] = v - y[i]
			j.SetRow(i, s)
		}
		return r, j
	})
	if err != nil {
		t.Fatal(err)
	}
	if !e.Converged {
		t.Errorf("not converged after %d steps", e.Steps)
	}
	return e
}

// digits is to how many digits a value agrees.
func digits(got, want float64) float64 {
	if got == want {
		return 16
	}
	return -math.Log10(math.Abs(got-want) / math.Abs(want))
}

// NIST, Statistical Reference Datasets, nonlinear regression, Misra1a: y = b1 (1 - exp(-b2 x)), both of its starts (values, certified parameters,
// standard deviations and sums of squares read in three public transcriptions of the file; public domain). Certified to 11 digits; the usual
// measure of a good program is 6 and more, double precision gives 8 or 9 here.
func TestMisra1a(t *testing.T) {
	x := []float64{77.6, 114.9, 141.1, 190.8, 239.9, 289.0, 332.8, 378.4, 434.8, 477.3, 536.8, 593.1, 689.1, 760.0}
	y := []float64{10.07, 14.73, 17.94, 23.93, 29.61, 35.18, 40.02, 44.82, 50.76, 55.05, 61.01, 66.40, 75.47, 81.78}
	for _, start := range [][]float64{{500, 0.0001}, {250, 0.0005}} {
		e := fitCurve(t, x, y, start, func(x float64, p []float64) (float64, []float64) {
			d := math.Exp(-p[1] * x)
			return p[0] * (1 - d), []float64{1 - d, p[0] * x * d}
		})
		s2 := e.Square / float64(e.Freedom)
		for _, c := range []struct {
			what      string
			got, want float64
		}{
			{"b1", e.Value[0], 2.3894212918e+02}, {"b2", e.Value[1], 5.5015643181e-04},
			{"sd of b1", math.Sqrt(s2 * e.Covariance.At(0, 0)), 2.7070075241e+00}, {"sd of b2", math.Sqrt(s2 * e.Covariance.At(1, 1)), 7.2668688436e-06},
			{"residual sd", math.Sqrt(s2), 1.0187876330e-01}, {"sum of squares", e.Square, 1.2455138894e-01},
		} {
			if n := digits(c.got, c.want); n < 8 {
				t.Errorf("from %v: %s = %.11g, certified %.11g: %.1f digits", start, c.what, c.got, c.want, n)
			}
		}
	}
}

// NIST, Statistical Reference Datasets, nonlinear regression, DanWood: y = b1 x^b2. Readings, certified parameters, standard deviations and sum of
// squares as read in three public transcriptions of the file; public domain.
func TestDanWood(t *testing.T) {
	x := []float64{1.309, 1.471, 1.490, 1.565, 1.611, 1.680}
	y := []float64{2.138, 3.421, 3.597, 4.340, 4.882, 5.660}
	for _, start := range [][]float64{{1, 5}, {0.7, 4}} {
		e := fitCurve(t, x, y, start, func(x float64, p []float64) (float64, []float64) {
			v := math.Pow(x, p[1])
			return p[0] * v, []float64{v, p[0] * v * math.Log(x)}
		})
		s2 := e.Square / float64(e.Freedom)
		for _, c := range []struct {
			what      string
			got, want float64
		}{
			{"b1", e.Value[0], 7.6886226176e-01}, {"b2", e.Value[1], 3.8604055871e+00},
			{"sd of b1", math.Sqrt(s2 * e.Covariance.At(0, 0)), 1.8281973860e-02}, {"sd of b2", math.Sqrt(s2 * e.Covariance.At(1, 1)), 5.1726610913e-02},
			{"residual sd", math.Sqrt(s2), 3.2853114039e-02}, {"sum of squares", e.Square, 4.3173084083e-03},
		} {
			if n := digits(c.got, c.want); n < 8 {
				t.Errorf("from %v: %s = %.11g, certified %.11g: %.1f digits", start, c.what, c.got, c.want, n)
			}
		}
	}
}

// JCGM 100:2008, H.3, calibration of a thermometer: a straight line through 11 corrections with intercept, slope, their standard uncertainties and
// correlation, and the correction at 30 degC. The readings are those of table H.6 as two public programs print them; the manual of one of them reports
// the results as those of the guide: -0.1712 (29), 0.00218 (67), -0.93, -0.1494 (41). The third digit of the correlation, -0.930, and the scatter, 0.0035,
// are from memory. Tolerance: half of the last digit.
func TestThermometer(t *testing.T) {
	x := []float64{21.521, 22.012, 22.512, 23.003, 23.507, 23.999, 24.513, 25.002, 25.503, 26.010, 26.511}
	y := []float64{-0.171, -0.169, -0.166, -0.159, -0.164, -0.165, -0.156, -0.157, -0.159, -0.161, -0.160}
	e := fitCurve(t, x, y, []float64{0, 0}, func(x float64, p []float64) (float64, []float64) {
		return p[0] + p[1]*(x-20), []float64{1, x - 20}
	})
	s2 := e.Square / float64(e.Freedom)
	u1, u2, c := math.Sqrt(s2*e.Covariance.At(0, 0)), math.Sqrt(s2*e.Covariance.At(1, 1)), s2*e.Covariance.At(0, 1)
	for _, k := range []struct {
		what           string
		got, want, tol float64
	}{
		{"intercept", e.Value[0], -0.1712, 5e-5}, {"its uncertainty", u1, 0.0029, 5e-5},
		{"slope", e.Value[1], 0.00218, 5e-6}, {"its uncertainty", u2, 0.00067, 5e-6},
		{"correlation", c / (u1 * u2), -0.930, 5e-4}, {"scatter", math.Sqrt(s2), 0.0035, 5e-5},
		{"correction at 30 degC", e.Value[0] + 10*e.Value[1], -0.1494, 5e-5},
		{"its uncertainty", math.Sqrt(u1*u1 + 100*u2*u2 + 20*c), 0.0041, 5e-5},
	} {
		if math.Abs(k.got-k.want) > k.tol {
			t.Errorf("%s is %.6g, published %g", k.what, k.got, k.want)
		}
	}
}

// A parameter that nothing shows has no estimate.
func TestNothingToFit(t *testing.T) {
	f := func(p []float64) ([]float64, *mat.Dense) {
		return []float64{p[0] - 1, p[0] - 2, 0}, mat.NewDense(3, 2, []float64{1, 0, 1, 0, 0, 0})
	}
	if _, err := LeastSquares([]float64{0, 0}, f); err == nil {
		t.Error("a parameter that no residual depends on was estimated")
	}
}
