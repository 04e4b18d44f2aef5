package study

import (
	"math"

	"gonum.org/v1/gonum/mat"
)

// A surrogate guesses a smooth function between the few places where it is known: Gaussian process regression with a linear part and a Matérn
// kernel of order 5/2, its lengths chosen by the likelihood (C. E. Rasmussen, C. K. I. Williams, Gaussian Processes for Machine Learning,
// 2006, algorithm 2.1, equations 4.17 and 5.8).
type surrogate struct {
	x       [][]float64
	lengths []float64
	nugget  float64
	mean    float64 // of y
	scale   float64 // of y
	spread  float64 // of the process, in units of scale squared
	chol    mat.Cholesky
	alpha   *mat.VecDense // nil where nothing could be fitted: then the mean is all there is
}

// linearPart is the variance of the slopes to that of the rest: figures of magnets are near to straight over the range of a study.
const linearPart = 4

func (s *surrogate) kernel(a, b []float64) float64 {
	var r2, dot float64
	for i, h := range s.lengths {
		d := (a[i] - b[i]) / h
		r2 += d * d
		dot += (a[i] - 0.5) * (b[i] - 0.5)
	}
	r := math.Sqrt(5 * r2)
	return linearPart*dot + (1+r+r*r/3)*math.Exp(-r)
}

// factor prepares the surrogate for its lengths and gives the logarithm of the likelihood, spread profiled out.
func (s *surrogate) factor(y *mat.VecDense) (float64, bool) {
	n := len(s.x)
	k := mat.NewSymDense(n, nil)
	for i := range n {
		for j := range i + 1 {
			k.SetSym(i, j, s.kernel(s.x[i], s.x[j]))
		}
		k.SetSym(i, i, k.At(i, i)+s.nugget)
	}
	if !s.chol.Factorize(k) {
		return 0, false
	}
	s.alpha = mat.NewVecDense(n, nil)
	if s.chol.SolveVecTo(s.alpha, y) != nil {
		return 0, false
	}
	s.spread = math.Max(mat.Dot(y, s.alpha)/float64(n), 1e-12)
	// A mild preference for lengths of about the whole range keeps few points from saying too much.
	var prior float64
	for _, h := range s.lengths {
		prior += math.Pow(math.Log(h/1.5), 2) / 4
	}
	return -float64(n)/2*math.Log(s.spread) - s.chol.LogDet()/2 - prior, true
}

// newSurrogate fits y at the places x, whose coordinates lie about between 0 and 1.
func newSurrogate(x [][]float64, y []float64) *surrogate {
	n, dim := len(x), len(x[0])
	s := &surrogate{x: x, lengths: make([]float64, dim), nugget: 1e-6}
	for _, v := range y {
		s.mean += v / float64(n)
	}
	for _, v := range y {
		s.scale += (v - s.mean) * (v - s.mean) / float64(n)
	}
	s.scale = math.Sqrt(s.scale)
	if s.scale < 1e-12*math.Abs(s.mean) || s.scale == 0 {
		s.scale = math.Max(1e-6*math.Abs(s.mean), 1e-12)
	}
	z := mat.NewVecDense(n, nil)
	for i, v := range y {
		z.SetVec(i, (v-s.mean)/s.scale)
	}
	for i := range s.lengths {
		s.lengths[i] = 1.5
	}
	best, _ := s.factor(z)
	for range 2 { // one length after another
		for i := range s.lengths {
			kept := s.lengths[i]
			for _, h := range []float64{0.25, 0.5, 1, 1.5, 2.5, 5} {
				s.lengths[i] = h
				if l, ok := s.factor(z); ok && l > best+1e-9 {
					best, kept = l, h
				}
			}
			s.lengths[i] = kept
		}
	}
	for ; s.nugget <= 1e-2; s.nugget *= 10 {
		if _, ok := s.factor(z); ok {
			return s
		}
	}
	s.alpha = nil
	return s
}

// at guesses the value at a place and its standard deviation.
func (s *surrogate) at(x []float64) (mean, deviation float64) {
	n := len(s.x)
	if s.alpha == nil {
		return s.mean, 2 * s.scale
	}
	k := mat.NewVecDense(n, nil)
	for i := range n {
		k.SetVec(i, s.kernel(x, s.x[i]))
	}
	var v mat.VecDense
	if s.chol.SolveVecTo(&v, k) != nil {
		return s.mean, 2 * s.scale
	}
	variance := math.Max(0, s.kernel(x, x)-mat.Dot(k, &v)) * s.spread
	// The spread is known from n values only: fewer of them make the guess less sure.
	return s.mean + s.scale*mat.Dot(k, s.alpha), s.scale * math.Sqrt(variance) * (1 + 4/float64(n))
}
