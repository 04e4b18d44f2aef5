package report

// Palette is the colour scale of maps in n even steps from its low to its high end, red, green and blue of 255, for pictures drawn elsewhere.
func Palette(n int) [][3]int {
	list := make([][3]int, n)
	for i := range list {
		c := scaleColor(float64(i) / float64(max(1, n-1)))
		list[i] = [3]int{int(c.R), int(c.G), int(c.B)}
	}
	return list
}
