package report

import (
	"math"

	"gonum.org/v1/gonum/spatial/r2"
)

// isolines returns the lines on which b, given at the crossings of u and v as b[j][i], is the level, linear between the crossings.
// A closed line ends where it begins. Meshes with a NaN corner are left out. In a saddle the mean of the four corners decides.
func isolines(u, v []float64, b [][]float64, level float64) (lines [][]r2.Vec) {
	c := &contour{u: u, v: v, b: b, level: level, at: map[int][]int{}}
	for j := range len(v) - 1 {
		for i := range len(u) - 1 {
			c.cross(i, j)
		}
	}
	c.done = make([]bool, len(c.segments))
	for s, seg := range c.segments { // open lines from their ends first
		for _, end := range seg {
			if !c.done[s] && len(c.at[end]) == 1 {
				lines = append(lines, c.follow(s, end))
			}
		}
	}
	for s, seg := range c.segments {
		if !c.done[s] {
			lines = append(lines, c.follow(s, seg[0]))
		}
	}
	return lines
}

// contour is a level's way through a net. Edge 2k runs from crossing k = j len(u) + i along u, edge 2k+1 along v.
type contour struct {
	u, v     []float64
	b        [][]float64
	level    float64
	segments [][2]int      // the edges that each joins
	at       map[int][]int // edge to the one or two segments that end on it
	done     []bool        // segments
}

// point is where the level crosses an edge.
func (c *contour) point(edge int) r2.Vec {
	i, j := edge/2%len(c.u), edge/2/len(c.u)
	between := func(b0, b1 float64) float64 { return (c.level - b0) / (b1 - b0) }
	if edge%2 == 0 {
		t := between(c.b[j][i], c.b[j][i+1])
		return r2.Vec{X: c.u[i] + t*(c.u[i+1]-c.u[i]), Y: c.v[j]}
	}
	t := between(c.b[j][i], c.b[j+1][i])
	return r2.Vec{X: c.u[i], Y: c.v[j] + t*(c.v[j+1]-c.v[j])}
}

func (c *contour) add(from, to int) {
	for _, edge := range [2]int{from, to} {
		c.at[edge] = append(c.at[edge], len(c.segments))
	}
	c.segments = append(c.segments, [2]int{from, to})
}

// cross adds the segments of the mesh from crossing i, j on.
func (c *contour) cross(i, j int) {
	corner := [4]float64{c.b[j][i], c.b[j][i+1], c.b[j+1][i+1], c.b[j+1][i]} // round the mesh, counter-clockwise
	mean := (corner[0] + corner[1] + corner[2] + corner[3]) / 4
	if math.IsNaN(mean) {
		return
	}
	k := j*len(c.u) + i
	edges := [4]int{2 * k, 2*(k+1) + 1, 2 * (k + len(c.u)), 2*k + 1}
	var crossed []int
	for s := range 4 {
		if (corner[s] >= c.level) != (corner[(s+1)%4] >= c.level) {
			crossed = append(crossed, edges[s])
		}
	}
	switch {
	case len(crossed) == 2:
		c.add(crossed[0], crossed[1])
	case len(crossed) == 4 && (mean >= c.level) == (corner[0] >= c.level): // corners 0 and 2 are joined
		c.add(crossed[0], crossed[1])
		c.add(crossed[2], crossed[3])
	case len(crossed) == 4:
		c.add(crossed[3], crossed[0])
		c.add(crossed[1], crossed[2])
	}
}

// follow is the line from an edge on which a segment ends.
func (c *contour) follow(start, edge int) []r2.Vec {
	line := []r2.Vec{c.point(edge)}
	for s := start; s >= 0; {
		c.done[s] = true
		edge = c.segments[s][0] + c.segments[s][1] - edge
		line = append(line, c.point(edge))
		s = -1
		for _, n := range c.at[edge] {
			if !c.done[n] {
				s = n
			}
		}
	}
	return line
}
