package circuit_test

import (
	"fmt"

	"polewright/circuit"
)

// Two discs of 50 mm by 20 mm and 1.3 T, 20 mm apart, without steel; the bound is for magnets of any thickness.
func ExampleAssembly_Solve() {
	w, err := circuit.Assembly{Face: circuit.Face{Diameter: 0.05}, Thickness: 0.02, Gap: 0.02, Remanence: 1.3, Recoil: 1.05}.Solve()
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.3f T of at most %.3f T\n", w.GapT, 1.3*circuit.Bound(2.5))
	// Output: 0.502 T of at most 0.817 T
}
