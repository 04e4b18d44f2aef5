package main

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// A licence is known by its text, whatever its file is called; what may not go into the program is refused. The texts: Go's own, and the first
// words of the General Public License as its owners ask to have them put (GPL-3.0, "How to Apply These Terms"), from memory.
func TestClassify(t *testing.T) {
	goroot, err := command("", nil, "go", "env", "GOROOT")
	if err != nil {
		t.Fatal(err)
	}
	text, err := os.ReadFile(filepath.Join(goroot, "LICENSE"))
	if err != nil {
		t.Fatal(err)
	}
	if id, err := classify(text); id != "BSD-3-Clause" || err != nil {
		t.Errorf("Go's licence is %q, %v", id, err)
	}
	if id, err := classify([]byte("All rights reserved. Nobody may use this.")); err == nil || !strings.Contains(err.Error(), "not known") {
		t.Errorf("%q, %v", id, err)
	}
	gpl := `This program is free software: you can redistribute it and/or modify it under the terms of the GNU General Public License as published by
the Free Software Foundation, either version 3 of the License, or (at your option) any later version. This program is distributed in the hope that
it will be useful, but WITHOUT ANY WARRANTY; without even the implied warranty of MERCHANTABILITY or FITNESS FOR A PARTICULAR PURPOSE. See the GNU
General Public License for more details.`
	if id, err := classify([]byte(gpl)); err == nil || !strings.Contains(err.Error(), "may not go into") {
		t.Errorf("%q, %v", id, err)
	}
}

func TestVersions(t *testing.T) {
	for version, ok := range map[string]bool{"v0.1.0": true, "v1.22.333-rc.1": true, "0.1.0": false, "v1": false, "v1.0.0 ": false, "": false} {
		if versions.MatchString(version) != ok {
			t.Errorf("%q: %v", version, !ok)
		}
	}
}

// A release that is wrongly asked for makes nothing.
func TestRefusesToPublish(t *testing.T) {
	root := t.TempDir()
	there := filepath.Join(root, "dist")
	if err := os.Mkdir(there, 0o777); err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		version, out string
		build        []string
		want         string
	}{
		{"1", "new", systems, "such as v0.1.0"},
		{"v0.1.0", "new", []string{"plan9/386"}, "linux/amd64, linux/arm64"},
		{"v0.1.0", "dist", systems, "is there already"},
	} {
		if err := publish(root, c.version, c.out, c.build); err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%v: %v", c, err)
		}
	}
	if list, err := os.ReadDir(root); err != nil || len(list) != 1 {
		t.Errorf("%v, %v", list, err)
	}
}
