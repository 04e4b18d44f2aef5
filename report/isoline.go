package report

import (
	"math"

	"gonum.org/v1/gonum/spatial/r2"
)

// isolines returns the lines on which b, given at the crossings of u and v as b[j][i], is the level, linear between the crossings.
// A closed line ends where it begins. Meshes with a NaN corner are left out. In a saddle the mean of the four corners decides.
func isolines(u, v []float64, b [][]float64, level float64) [][]r2.Vec {
	nu := len(u)
	type segment struct{ from, to int } // edges of the net
	var segments []segment
	at := map[int][]int{} // edge to the one or two segments that end on it

	// Edge 2k runs from crossing k = j nu + i along u, edge 2k+1 along v.
	point := func(edge int) r2.Vec {
		i, j := edge/2%nu, edge/2/nu
		between := func(b0, b1 float64) float64 { return (level - b0) / (b1 - b0) }
		if edge%2 == 0 {
			t := between(b[j][i], b[j][i+1])
			return r2.Vec{X: u[i] + t*(u[i+1]-u[i]), Y: v[j]}
		}
		t := between(b[j][i], b[j+1][i])
		return r2.Vec{X: u[i], Y: v[j] + t*(v[j+1]-v[j])}
	}
	for j := range len(v) - 1 {
		for i := range nu - 1 {
			c := [4]float64{b[j][i], b[j][i+1], b[j+1][i+1], b[j+1][i]} // round the mesh, counter-clockwise
			mean := (c[0] + c[1] + c[2] + c[3]) / 4
			if math.IsNaN(mean) {
				continue
			}
			k := j*nu + i
			edges := [4]int{2 * k, 2*(k+1) + 1, 2 * (k + nu), 2*k + 1}
			var crossed []int
			for s := range 4 {
				if (c[s] >= level) != (c[(s+1)%4] >= level) {
					crossed = append(crossed, edges[s])
				}
			}
			add := func(from, to int) {
				at[from] = append(at[from], len(segments))
				at[to] = append(at[to], len(segments))
				segments = append(segments, segment{from, to})
			}
			switch {
			case len(crossed) == 2:
				add(crossed[0], crossed[1])
			case len(crossed) == 4 && (mean >= level) == (c[0] >= level): // corners 0 and 2 are joined
				add(crossed[0], crossed[1])
				add(crossed[2], crossed[3])
			case len(crossed) == 4:
				add(crossed[3], crossed[0])
				add(crossed[1], crossed[2])
			}
		}
	}

	var lines [][]r2.Vec
	done := make([]bool, len(segments))
	follow := func(start, edge int) {
		line := []r2.Vec{point(edge)}
		for s := start; s >= 0; {
			done[s] = true
			edge = segments[s].from + segments[s].to - edge
			line = append(line, point(edge))
			s = -1
			for _, n := range at[edge] {
				if !done[n] {
					s = n
				}
			}
		}
		lines = append(lines, line)
	}
	for s, seg := range segments { // open lines from their ends first
		for _, end := range []int{seg.from, seg.to} {
			if !done[s] && len(at[end]) == 1 {
				follow(s, end)
			}
		}
	}
	for s, seg := range segments {
		if !done[s] {
			follow(s, seg.from)
		}
	}
	return lines
}
