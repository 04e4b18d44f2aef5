//go:build long

package main

import (
	"context"
	"os"
	"path/filepath"
	"testing"
)

// Every command of the handbook prints what its page says, and the site is written.
func TestWholeHandbookLong(t *testing.T) {
	out := t.TempDir()
	faults, err := build(context.Background(), "../..", "", out, false, nil)
	if err != nil {
		t.Fatal(err)
	}
	for _, f := range faults {
		t.Error(f)
	}
	if _, err := os.Stat(filepath.Join(out, "index.html")); err != nil {
		t.Error(err)
	}
}
