package asbuilt

import (
	"errors"
	"math"

	"gonum.org/v1/gonum/mat"
)

// Estimate is the end of a least-squares fit.
type Estimate struct {
	Value      []float64
	Covariance *mat.SymDense // of the values, for residuals of unit variance; multiply by Square/Freedom where their variance is not known
	Square     float64       // sum of the squares of the residuals
	Freedom    int           // residuals less parameters
	Steps      int
	Converged  bool // a further step would change nothing; else the fit stopped at its limit of steps
}

// Bounds of the iteration.
const (
	mostSteps = 400
	settled   = 1e-12 // relative change of all values, or of the sum of squares, at which a fit has converged
)

// ErrSingular is a fit whose parameters the readings do not tell apart.
var ErrSingular = errors.New("asbuilt: the readings do not tell the parameters apart")

// LeastSquares finds the parameters p that make the sum of the squares of f's residuals least, from a start. f gives the residuals, already
// divided by their standard uncertainties, and their derivatives, one row a residual and one column a parameter.
//
// It is the method of Levenberg and Marquardt (D. W. Marquardt, J. SIAM 11 (1963) 431): steps of Gauss and Newton, damped along each parameter in
// proportion to its own curvature, each solved by the QR factors of the augmented system, so that the condition number is not squared.
func LeastSquares(start []float64, f func(p []float64) (residuals []float64, slopes *mat.Dense)) (Estimate, error) {
	k := len(start)
	p := append([]float64(nil), start...)
	r, j := f(p)
	n := len(r)
	if n < k || k == 0 {
		return Estimate{}, ErrSingular
	}
	e := Estimate{Freedom: n - k, Square: square(r)}
	damping := 1e-3
	scale := make([]float64, k)
	for e.Steps < mostSteps && !e.Converged {
		e.Steps++
		for i := range k {
			c := mat.Norm(j.ColView(i), 2)
			scale[i] = math.Max(scale[i], c)
			if scale[i] == 0 {
				return e, ErrSingular
			}
		}
		accepted := false
		for !accepted && damping < 1e16 {
			step, err := dampedStep(j, r, scale, damping)
			if err != nil {
				damping *= 10
				continue
			}
			next := make([]float64, k)
			small := true
			for i := range k {
				next[i] = p[i] + step[i]
				small = small && math.Abs(step[i]) <= settled*(math.Abs(p[i])+settled/scale[i])
			}
			rn, jn := f(next)
			s := square(rn)
			switch {
			case s <= e.Square: // also false for a NaN
				e.Converged = small || e.Square-s <= settled*s && damping < 1e-6
				p, r, j, e.Square, accepted = next, rn, jn, s, true
				damping = math.Max(damping/10, 1e-16)
			case small:
				e.Converged, accepted = true, true
			default:
				damping *= 10
			}
		}
		if !accepted {
			break
		}
	}
	e.Value = p
	var qr mat.QR
	qr.Factorize(j)
	var upper mat.Dense
	qr.RTo(&upper)
	t := mat.NewTriDense(k, mat.Upper, nil)
	for a := range k {
		for b := a; b < k; b++ {
			t.SetTri(a, b, upper.At(a, b))
		}
	}
	var inverse mat.TriDense
	if err := inverse.InverseTri(t); err != nil {
		return e, ErrSingular
	}
	var c mat.Dense
	c.Mul(&inverse, inverse.T())
	e.Covariance = mat.NewSymDense(k, nil)
	for a := range k {
		for b := a; b < k; b++ {
			e.Covariance.SetSym(a, b, c.At(a, b))
		}
	}
	return e, nil
}

// dampedStep solves min |r + J x|^2 + damping |D x|^2.
func dampedStep(j *mat.Dense, r, scale []float64, damping float64) ([]float64, error) {
	n, k := j.Dims()
	a := mat.NewDense(n+k, k, nil)
	a.Slice(0, n, 0, k).(*mat.Dense).Copy(j)
	b := mat.NewVecDense(n+k, nil)
	for i, v := range r {
		b.SetVec(i, -v)
	}
	for i := range k {
		a.Set(n+i, i, math.Sqrt(damping)*scale[i])
	}
	var qr mat.QR
	qr.Factorize(a)
	var x mat.VecDense
	if err := qr.SolveVecTo(&x, false, b); err != nil {
		var condition mat.Condition
		if !errors.As(err, &condition) || math.IsInf(float64(condition), 1) {
			return nil, err
		}
	}
	return x.RawVector().Data, nil
}

func square(r []float64) (s float64) {
	for _, v := range r {
		s += v * v
	}
	return s
}
