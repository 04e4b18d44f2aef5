package tolerance

// Quadratic is a law of many values in many variables x without products of two of them:
//
//	y_i = At_i + sum_j (Linear_ji x_j + Square_ji x_j^2)
type Quadratic struct {
	At             []float64
	Linear, Square [][]float64 // for each variable a row of all values
}

// Add takes one more variable into the law: low and high are the values at x = -step and step, step > 0, with all others at 0.
func (q *Quadratic) Add(low, high []float64, step float64) {
	linear, square := make([]float64, len(q.At)), make([]float64, len(q.At))
	for i, y := range q.At {
		linear[i] = (high[i] - low[i]) / (2 * step)
		square[i] = (high[i] + low[i] - 2*y) / (2 * step * step)
	}
	q.Linear, q.Square = append(q.Linear, linear), append(q.Square, square)
}

// Eval puts the values at x into y, which has room for them, and returns it.
func (q *Quadratic) Eval(x, y []float64) []float64 {
	copy(y, q.At)
	for j, v := range x {
		q.Shift(y, j, 0, v)
	}
	return y
}

// Shift changes values y, in place, as variable j goes from one value to another.
func (q *Quadratic) Shift(y []float64, j int, from, to float64) {
	a, b := to-from, to*to-from*from
	if a == 0 {
		return
	}
	linear, square := q.Linear[j], q.Square[j]
	for i := range y {
		y[i] += a*linear[i] + b*square[i]
	}
}
