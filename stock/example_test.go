package stock_test

import (
	"fmt"

	"polewright/stock"
)

// Two backs of 60 mm and two legs of 30 mm from bars of 150 mm: each cut takes 2 mm for facing and 3 mm for the saw.
func ExampleNest() {
	bars, _ := stock.Nest([]stock.Cut{
		{Parts: []string{"left leg"}, LengthM: 0.030},
		{Parts: []string{"right leg"}, LengthM: 0.030},
		{Parts: []string{"top back"}, LengthM: 0.060},
		{Parts: []string{"bottom back"}, LengthM: 0.060},
	}, 0.150)
	for _, b := range bars {
		for _, c := range b.Cuts {
			fmt.Printf("%s, ", c.Parts[0])
		}
		fmt.Println("left", b.Left(), "mm")
	}
	// Output:
	// top back, bottom back, left 20 mm
	// left leg, right leg, left 80 mm
}
