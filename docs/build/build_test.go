package main

import (
	"context"
	"testing"

	"polewright/handbook"
)

// One chapter says what the program prints, that which takes least time. All of them take minutes and are read in the long tests.
func TestOneChapter(t *testing.T) {
	seen := 0
	faults, err := build(context.Background(), "../..", "", "", false, func(p handbook.Page) bool {
		if p.Name == "04-halbach-ring" {
			seen++
			return true
		}
		return false
	})
	if err != nil {
		t.Fatal(err)
	}
	if seen != 1 {
		t.Error("the chapter is not there")
	}
	for _, f := range faults {
		t.Error(f)
	}
}
