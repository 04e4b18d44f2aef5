package published

import (
	"context"
	"fmt"
	"math"

	"gonum.org/v1/gonum/mat"

	"polewright/asbuilt"
	"polewright/tolerance"
)

// This file holds methods that are no physics: least squares against certified fits, shares of causes against functions whose shares are known.

// curveFit fits a curve to readings; f is the curve with its derivatives by the parameters.
func curveFit(x, y, start []float64, f func(x float64, p []float64) (float64, []float64)) func(context.Context) (asbuilt.Estimate, error) {
	return func(context.Context) (asbuilt.Estimate, error) {
		e, err := asbuilt.LeastSquares(start, func(p []float64) ([]float64, *mat.Dense) {
			r, j := make([]float64, len(x)), mat.NewDense(len(x), len(p), nil)
			for i := range x {
				v, slope := f(x[i], p)
				r[i] = v - y[i]
				j.SetRow(i, slope)
			}
			return r, j
		})
		if err == nil && !e.Converged {
			err = fmt.Errorf("the fit did not converge in %d steps", e.Steps)
		}
		return e, err
	}
}

// sd is the standard deviation of a parameter when the scatter is that of the readings themselves.
func sd(e asbuilt.Estimate, i int) float64 {
	return math.Sqrt(e.Square / float64(e.Freedom) * e.Covariance.At(i, i))
}

// fits are fits with certified answers.
func fits() (list []Check) {
	type value struct {
		name      string
		published float64
		tolerance float64
		read      func(asbuilt.Estimate) float64
	}
	add := func(name, source, why string, basis Basis, fit func(context.Context) (asbuilt.Estimate, error), values ...value) {
		solve := shared(fit)
		for _, v := range values {
			list = append(list, Check{Name: name + ": " + v.name, Published: v.published, Tolerance: v.tolerance, Why: why,
				Solve: solve(func(e asbuilt.Estimate) (float64, error) { return v.read(e), nil })}.of(source, basis))
		}
	}
	of := func(i int) func(asbuilt.Estimate) float64 {
		return func(e asbuilt.Estimate) float64 { return e.Value[i] }
	}
	sdOf := func(i int) func(asbuilt.Estimate) float64 {
		return func(e asbuilt.Estimate) float64 { return sd(e, i) }
	}
	const eight = "eight digits of the eleven that are certified, which double precision gives"
	add("least squares, y = b1 (1 - exp(-b2 x))", "NIST, Statistical Reference Datasets, nonlinear regression, Misra1a (three public transcriptions)", eight, Seen,
		curveFit([]float64{77.6, 114.9, 141.1, 190.8, 239.9, 289.0, 332.8, 378.4, 434.8, 477.3, 536.8, 593.1, 689.1, 760.0},
			[]float64{10.07, 14.73, 17.94, 23.93, 29.61, 35.18, 40.02, 44.82, 50.76, 55.05, 61.01, 66.40, 75.47, 81.78}, []float64{500, 0.0001},
			func(x float64, p []float64) (float64, []float64) {
				d := math.Exp(-p[1] * x)
				return p[0] * (1 - d), []float64{1 - d, p[0] * x * d}
			}),
		value{"b1", 238.94212918, 2.4e-6, of(0)}, value{"b2", 0.00055015643181, 5.5e-12, of(1)},
		value{"standard deviation of b1", 2.7070075241, 2.7e-8, sdOf(0)}, value{"standard deviation of b2", 0.0000072668688436, 7.3e-14, sdOf(1)},
		value{"sum of squares", 0.12455138894, 1.2e-9, func(e asbuilt.Estimate) float64 { return e.Square }})
	add("least squares, y = b1 x^b2", "NIST, Statistical Reference Datasets, nonlinear regression, DanWood (three public transcriptions)", eight, Seen,
		curveFit([]float64{1.309, 1.471, 1.490, 1.565, 1.611, 1.680}, []float64{2.138, 3.421, 3.597, 4.340, 4.882, 5.660}, []float64{1, 5},
			func(x float64, p []float64) (float64, []float64) {
				v := math.Pow(x, p[1])
				return p[0] * v, []float64{v, p[0] * v * math.Log(x)}
			}),
		value{"b1", 0.76886226176, 7.7e-9, of(0)}, value{"b2", 3.8604055871, 3.9e-8, of(1)})
	add("calibration of a thermometer", "JCGM 100:2008, H.3 (readings as two public programs print them, results as the manual of one of them reports them)", "half of the last digit printed", Seen,
		curveFit([]float64{21.521, 22.012, 22.512, 23.003, 23.507, 23.999, 24.513, 25.002, 25.503, 26.010, 26.511},
			[]float64{-0.171, -0.169, -0.166, -0.159, -0.164, -0.165, -0.156, -0.157, -0.159, -0.161, -0.160}, []float64{0, 0},
			func(x float64, p []float64) (float64, []float64) { return p[0] + p[1]*(x-20), []float64{1, x - 20} }),
		value{"intercept", -0.1712, 5e-5, of(0)}, value{"its standard uncertainty", 0.0029, 5e-5, sdOf(0)},
		value{"slope", 0.00218, 5e-6, of(1)}, value{"its standard uncertainty, slope", 0.00067, 5e-6, sdOf(1)},
		value{"correction at 30 degC", -0.1494, 5e-5, func(e asbuilt.Estimate) float64 { return e.Value[0] + 10*e.Value[1] }})
	return list
}

// shares are the parts that causes have in a spread, for functions whose shares are known.
func shares() (list []Check) {
	type indices struct{ first, total [][]float64 }
	solve := func(points, dims int, seed uint64, scale func(float64) float64, f func(x []float64) float64) func(context.Context) (indices, error) {
		return func(context.Context) (indices, error) {
			var a, b [][]float64
			for _, p := range tolerance.Points(points, 2*dims, seed) {
				for j := range p {
					p[j] = scale(p[j])
				}
				a, b = append(a, p[:dims]), append(b, p[dims:])
			}
			first, total := tolerance.Indices(func(x []float64) []float64 { return []float64{f(x)} }, a, b)
			return indices{first, total}, nil
		}
	}
	const why = "65536 points of low discrepancy leave some 1e-3"
	add := func(name, source string, answer func(read func(indices) (float64, error)) func(context.Context) (float64, error), j int, first, total float64) {
		for _, v := range []struct {
			which string
			want  float64
			read  func(indices) float64
		}{{"alone", first, func(i indices) float64 { return i.first[0][j] }}, {"with all others", total, func(i indices) float64 { return i.total[0][j] }}} {
			if v.want < 0.15 { // the smaller ones the points tell less well than to a hundredth of themselves
				continue
			}
			list = append(list, Check{Name: fmt.Sprintf("%s: share of x%d %s", name, j+1, v.which), Published: round(v.want, 6), Tolerance: 0.0012, Why: why,
				Solve: answer(func(i indices) (float64, error) { return v.read(i), nil })}.of(source, Worked))
		}
	}
	const a, b = 7, 0.1
	pi4 := math.Pow(math.Pi, 4)
	v1, v2, v13 := math.Pow(1+b*pi4/5, 2)/2, a*a/8., 8*b*b*pi4*pi4/225
	v := v1 + v2 + v13
	answer := shared(solve(1<<16, 3, 1, func(u float64) float64 { return math.Pi * (2*u - 1) }, func(x []float64) float64 {
		s, c := math.Sin(x[0]), math.Sin(x[1])
		return s + a*c*c + b*math.Pow(x[2], 4)*s
	}))
	for j, want := range [][2]float64{{v1 / v, (v1 + v13) / v}, {v2 / v, v2 / v}, {0, v13 / v}} {
		add("Ishigami's function", "T. Ishigami, T. Homma 1990, shares by elementary integrals: I. M. Sobol', Y. L. Levitan, Comput. Phys. Commun. 117 (1999) 52", answer, j, want[0], want[1])
	}
	as := []float64{0, 1, 4.5, 9, 99}
	all := 1.0
	for _, a := range as {
		all *= 1 + 1/(3*(1+a)*(1+a))
	}
	answer = shared(solve(1<<16, len(as), 2, func(u float64) float64 { return u }, func(x []float64) float64 {
		y := 1.0
		for j, a := range as {
			y *= (math.Abs(4*x[j]-2) + a) / (1 + a)
		}
		return y
	}))
	for j, a := range as {
		v := 1 / (3 * (1 + a) * (1 + a))
		add("Sobol's g-function", "I. M. Sobol', Math. Comput. Simul. 55 (2001) 271: partial variances 1/(3(1+a)^2)", answer, j, v/(all-1), v*all/(1+v)/(all-1))
	}
	return list
}
