package glossary_test

import (
	"fmt"

	"polewright/glossary"
)

func ExampleFind() {
	e, _ := glossary.Find("Pc")
	fmt.Println(e.Term, "in", e.Unit)
	// Output: permeance coefficient in 1
}

func ExampleSaid() {
	e, _ := glossary.Said("left leg is saturated (mean 1.95 T of 2.12 T): a larger section gains field and lowers the stray field")
	fmt.Println(e.Do)
	// Output: Give it a larger section. Look at the steel's line of the loss ledger to see what it costs.
}
