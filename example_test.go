package polewright_test

import (
	"context"
	"fmt"
	"strings"

	"gonum.org/v1/gonum/spatial/r3"

	"polewright"
	"polewright/design"
	"polewright/material"
)

const examplePair = `
format = 1
title = "pair in a frame (invented)"
[layout]
kind = "framed-pair"
magnet_x = "40 mm"
magnet_y = "30 mm"
magnet_z = "10 mm"
gap = "15 mm"
`

// A design is read, solved and asked for its field, in the gap and anywhere else.
func ExampleRun() {
	d, err := design.Read(strings.NewReader(examplePair), "pair.toml")
	if err != nil {
		fmt.Println(err)
		return
	}
	s, err := polewright.Run(context.Background(), d, polewright.Options{Accuracy: polewright.Draft, FieldOnly: true})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("gap: %.2f T\n", s.Result.GapB[2])
	b, _ := s.Field(r3.Vec{Z: 0.004}) // m
	fmt.Printf("4 mm above: %.2f T\n", b.Z)
	// Output:
	// gap: 0.65 T
	// 4 mm above: 0.67 T
}

// A steel that the program does not know is a curve of B against H; every part may have its own.
func ExampleRun_material() {
	d, err := design.Read(strings.NewReader(examplePair), "pair.toml")
	if err != nil {
		fmt.Println(err)
		return
	}
	curve, err := material.ReadCurve(strings.NewReader("H_A_per_m,B_T\n0,0\n200,0.4\n1000,0.7\n10000,0.8\n"), "weak-steel.csv")
	if err != nil {
		fmt.Println(err)
		return
	}
	for i := range d.Steels {
		d.Steels[i].Material = material.Steel{Name: "weak steel (invented)", Curve: curve, DensityKgPerM3: 7800}
	}
	s, err := polewright.Run(context.Background(), d, polewright.Options{Accuracy: polewright.Draft, FieldOnly: true})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("gap: %.2f T\n", s.Result.GapB[2])
	// Output:
	// gap: 0.63 T
}
