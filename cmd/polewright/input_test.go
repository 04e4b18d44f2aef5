package main

import (
	"bytes"
	"context"
	"errors"
	"io"
	"math"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"testing"
	"time"

	"polewright"
	"polewright/magnetostatic"
	"polewright/mistake"
)

func TestParsePlane(t *testing.T) {
	for s, want := range map[string]polewright.Plane{
		"z=0":       {Axis: 2},
		"z=5 mm":    {Axis: 2, AtM: 0.005},
		"x=-3mm":    {Axis: 0, AtM: -0.003},
		" Y = 1 in": {Axis: 1, AtM: 0.0254},
		"y=-0.0":    {Axis: 1},
		"z=−2 cm":   {Axis: 2, AtM: -0.02}, // the minus sign of word processors
	} {
		got, err := parsePlane(s)
		if err != nil || got.Axis != want.Axis || math.Abs(got.AtM-want.AtM) > 1e-15 {
			t.Errorf("%q: %v, %v", s, got, err)
		}
	}
	for s, want := range map[string]string{
		"":          "no plane",
		"z":         "no plane",
		"z=":        "nothing is given",
		"=0":        "not an axis",
		"xy=0":      "not an axis",
		"ß=0":       "not an axis",
		"z=5":       "no unit",
		"z=NaN mm":  "no number",
		"z=1e999mm": "not a finite number",
		"z=0 T":     "unit of",
		"z=0=0":     "",
	} {
		_, err := parsePlane(s)
		var bad *mistake.Error
		if !errors.As(err, &bad) || !strings.Contains(bad.What, want) || bad.Hint == "" {
			t.Errorf("%q: %v", s, err)
		}
	}
}

// What a plane prints is the plane again.
func FuzzParsePlane(f *testing.F) {
	for _, s := range []string{"z=0", "x=-3mm", "y = 1 in", "z=5", "=", "z=1e-300 m"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		p, err := parsePlane(s)
		if err != nil {
			if code(err) != badInput {
				t.Fatalf("%q: exit status %d", s, code(err))
			}
			return
		}
		again, err := parsePlane(p.String() + " m")
		if err != nil || again.Axis != p.Axis || math.Abs(again.AtM-p.AtM) > 1e-5*math.Abs(p.AtM) {
			t.Errorf("%q is %v, which reads %v, %v", s, p, again, err)
		}
	})
}

func TestExitCodes(t *testing.T) {
	for want, errs := range map[int][]error{
		solved:   {nil},
		unmet:    {unmetError{"field"}},
		badInput: {mistake.Of("a", "b"), mistake.Errors{{File: "a"}}, errors.Join(mistake.Errors{{File: "a"}}), &polewright.PlaneError{Part: "a"}},
		unsolved: {magnetostatic.ErrNotConverged, context.Canceled, io.ErrShortWrite},
	} {
		for _, err := range errs {
			if got := code(err); got != want {
				t.Errorf("%v: %d, want %d", err, got, want)
			}
		}
	}
}

// A reader that never answers must not hold the program when it is told to stop.
func TestReadDesignStops(t *testing.T) {
	ctx, cancel := context.WithCancel(context.Background())
	r, w := io.Pipe()
	defer w.Close()
	time.AfterFunc(10*time.Millisecond, cancel)
	if _, err := readDesign(ctx, "-", r); !errors.Is(err, context.Canceled) || code(err) != unsolved {
		t.Error(err)
	}
}

// Of many who want to write the same new file, one does, and the file is whole.
func TestWriteWhole(t *testing.T) {
	path := filepath.Join(t.TempDir(), "a.toml")
	big := bytes.Repeat([]byte("x"), 1<<20)
	var done sync.WaitGroup
	wrote := make(chan error, 8)
	for i := range cap(wrote) {
		done.Add(1)
		go func() {
			defer done.Done()
			wrote <- writeWhole(path, append(big, byte('0'+i)), false)
		}()
	}
	done.Wait()
	close(wrote)
	ok := 0
	for err := range wrote {
		if err == nil {
			ok++
		} else if code(err) != badInput {
			t.Error(err)
		}
	}
	got, err := os.ReadFile(path)
	if ok != 1 || err != nil || len(got) != len(big)+1 {
		t.Errorf("%d wrote; %d bytes, %v", ok, len(got), err)
	}
	if left, _ := filepath.Glob(filepath.Join(filepath.Dir(path), ".*")); len(left) > 0 {
		t.Errorf("left over: %v", left)
	}
}

func TestProgressLine(t *testing.T) {
	start := time.Date(2000, 1, 1, 0, 0, 0, 0, time.UTC)
	now := start
	p := &progress{now: func() time.Time { return now }, w: io.Discard, start: start, at: start}
	for _, c := range []struct {
		what    string
		done    float64
		told    time.Duration // when done was told
		read    time.Duration
		want    string
		because string
	}{
		{"grid 1 of 2", 0, 0, 3 * time.Second, "grid 1 of 2, 0 %, 3 s so far", "no pace yet"},
		{"grid 2 of 2", 0.2, 4 * time.Second, 6 * time.Second, "grid 2 of 2, 20 %, about 14 s left", "16 s from 4 s on"},
		{"grid 2 of 2", 0.2, 4 * time.Second, 30 * time.Second, "grid 2 of 2, 20 %, 30 s so far", "slower than the pace"},
		{"ledger", 0.5, 10 * time.Minute, 10 * time.Minute, "ledger, 50 %, about 10 min left", ""},
	} {
		now = start.Add(c.told)
		p.report(c.what, c.done)
		now = start.Add(c.read)
		if got := p.line(); got != c.want {
			t.Errorf("%q, want %q (%s)", got, c.want, c.because)
		}
	}
	var b bytes.Buffer
	q := newProgress(&b, false) // no terminal
	q.report("grid", 0.5)
	q.stop()
	if b.Len() > 0 {
		t.Errorf("%q", b.String())
	}
}
