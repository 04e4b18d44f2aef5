package tolerance

// Indices are Sobol's shares of the variance of each value of a function that its variables cause, by [value][variable]: first, each variable
// alone; total, with all that it does together with others. a and b are two independent sets of as many points: f takes one and returns the
// values, and is called (variables + 2) times for each. Where a value does not vary, its shares are 0.
//
// Estimators, with ab the points of a with one variable of b (A. Saltelli et al., Comput. Phys. Commun. 181, 259, 2010, table 2):
//
//	first = mean(f(b) (f(ab) - f(a))) / V
//	total = mean((f(a) - f(ab))^2) / 2V
func Indices(f func(x []float64) []float64, a, b [][]float64) (first, total [][]float64) {
	if len(a) == 0 {
		return nil, nil
	}
	n, dims := float64(len(a)), len(a[0])
	at := func(points [][]float64) (out [][]float64) {
		for _, p := range points {
			out = append(out, append([]float64(nil), f(p)...))
		}
		return out
	}
	fa, fb := at(a), at(b)
	values := len(fa[0])
	first, total = make([][]float64, values), make([][]float64, values)
	mean, variance := make([]float64, values), make([]float64, values)
	for v := range values {
		first[v], total[v] = make([]float64, dims), make([]float64, dims)
		for i := range fa {
			mean[v] += (fa[i][v] + fb[i][v]) / (2 * n)
		}
		for i := range fa {
			da, db := fa[i][v]-mean[v], fb[i][v]-mean[v]
			variance[v] += (da*da + db*db) / (2 * n)
		}
	}
	mixed := make([]float64, dims)
	for j := range dims {
		for i := range a {
			copy(mixed, a[i])
			mixed[j] = b[i][j]
			for v, y := range f(mixed) {
				if d := y - fa[i][v]; variance[v] > 0 {
					first[v][j] += (fb[i][v] - mean[v]) * d / (n * variance[v])
					total[v][j] += d * d / (2 * n * variance[v])
				}
			}
		}
	}
	return first, total
}
