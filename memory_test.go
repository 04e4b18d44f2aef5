package polewright

import (
	"context"
	"errors"
	"strings"
	"testing"
	"testing/fstest"
)

// A limit of 10 MB refuses the standard solve before it begins, says so in figures, and a draft under 40 MB is done.
func TestMemoryLimit(t *testing.T) {
	d := template(t, "framed-pair")
	o := Options{Accuracy: Fine, NoLedger: true, NoDemagnetization: true, FieldOnly: true, MemoryBytes: 60e6}
	_, err := Run(context.Background(), d, o)
	var m *MemoryError
	if !errors.As(err, &m) {
		t.Fatalf("fine in 60 MB: %v", err)
	}
	// The fine grid has some 400 thousand unknowns, of several hundred bytes each.
	if m.NeededBytes < 100e6 || m.NeededBytes > 400e6 || m.FreeBytes != 60e6 || m.Unknowns < 300e3 || m.Fits != "standard" ||
		!strings.Contains(err.Error(), "accuracy standard would fit") {
		t.Errorf("%v: %+v", err, m)
	}
	o.Accuracy = Draft
	if _, err := Run(context.Background(), d, o); err != nil {
		t.Errorf("a draft in 60 MB: %v", err)
	}
	o.MemoryBytes = 1e6
	if _, err := Run(context.Background(), d, o); !errors.As(err, &m) || m.Fits != "" || !strings.Contains(err.Error(), "larger machine") {
		t.Errorf("a draft in 1 MB: %v", err)
	}
}

// What the machine has free, from the files that Linux shows (proc_meminfo(5), cgroup-v2.rst).
func TestFreeMemory(t *testing.T) {
	text := func(s string) *fstest.MapFile { return &fstest.MapFile{Data: []byte(s)} }
	meminfo := text("MemTotal:       16000000 kB\nMemFree:         1000000 kB\nMemAvailable:    8000000 kB\n")
	for _, c := range []struct {
		name string
		fs   fstest.MapFS
		want int64
	}{
		{"another system", fstest.MapFS{}, 0},
		{"a plain machine", fstest.MapFS{"proc/meminfo": meminfo}, 8192000000},
		{"no limit", fstest.MapFS{"proc/meminfo": meminfo, "sys/fs/cgroup/memory.max": text("max\n"), "sys/fs/cgroup/memory.current": text("5\n")}, 8192000000},
		{"a limit", fstest.MapFS{"proc/meminfo": meminfo, "sys/fs/cgroup/memory.max": text("4000000000\n"), "sys/fs/cgroup/memory.current": text("1500000000\n")}, 2500000000},
		{"a limit, version 1", fstest.MapFS{"proc/meminfo": meminfo, "sys/fs/cgroup/memory/memory.limit_in_bytes": text("2000000000\n"),
			"sys/fs/cgroup/memory/memory.usage_in_bytes": text("500000000\n")}, 1500000000},
		{"damaged", fstest.MapFS{"proc/meminfo": text("MemAvailable: many kB\n")}, 0},
	} {
		if got := freeMemory(c.fs); got != c.want {
			t.Errorf("%s: %d bytes, expected %d", c.name, got, c.want)
		}
	}
}
