package design_test

import (
	"fmt"

	"polewright/design"
)

// Keys says what stands in a table: here what a joint must have.
func ExampleKeys() {
	for _, k := range design.Keys().Variants[0].Keys {
		if k.Name != "joint" {
			continue
		}
		for _, inner := range k.Table.Variants[0].Keys {
			fmt.Println(inner.Name, inner.Must, inner.Units())
		}
	}
	// Output:
	// between true []
	// thickness true [mm m cm um in ft]
}
