package main

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"math"
	"os"
	"path/filepath"
	"strconv"
	"strings"

	"polewright"
	"polewright/design"
	"polewright/measurement"
	"polewright/mistake"
	"polewright/quantity"
	"polewright/shape"
	"polewright/spelling"
)

// This file reads what the user gives: designs, planes, names with a slip in them.

// readDesign reads the design file at path, or standard input for "-". It returns when ctx ends, even if the reading waits for a terminal or a pipe.
func readDesign(ctx context.Context, path string, stdin io.Reader) (*design.Design, error) {
	return readBy(ctx, path, stdin, design.Read)
}

func readBy(ctx context.Context, path string, stdin io.Reader, read func(io.Reader, string) (*design.Design, error)) (*design.Design, error) {
	return unlessStopped(ctx, func() (*design.Design, error) {
		if path == "-" {
			return read(stdin, "standard input")
		}
		d, err := design.ReadFileBy(path, read)
		return d, nearbyFile(path, err)
	})
}

// readKept is readDesign that keeps the text of the file, just as it was read.
func readKept(ctx context.Context, path string, stdin io.Reader) (*design.Design, []byte, error) {
	var text bytes.Buffer
	d, err := readBy(ctx, path, stdin, func(r io.Reader, name string) (*design.Design, error) {
		return design.Read(io.TeeReader(r, &text), name)
	})
	if err != nil {
		return nil, nil, err // a reading that was stopped may still be filling the text
	}
	return d, text.Bytes(), nil
}

// readTable reads a table, kind to its user, at path, or standard input for "-". It returns when ctx ends.
func readTable[T any](ctx context.Context, path string, stdin io.Reader, kind string, read func(io.Reader, string) (T, error)) (T, error) {
	return unlessStopped(ctx, func() (none T, err error) {
		if path == "-" {
			return read(stdin, "standard input")
		}
		file, err := os.Open(path)
		if err != nil {
			return none, nearbyFile(path, mistake.Errors{{File: path, What: "the " + kind + " cannot be read: " + reason(err)}})
		}
		defer file.Close()
		return read(file, path)
	})
}

// nearbyFile adds the nearest name in the folder to the error about a file that is not there.
func nearbyFile(path string, err error) error {
	var mistakes mistake.Errors
	if _, stat := os.Stat(path); path == "-" || !errors.Is(stat, fs.ErrNotExist) || !errors.As(err, &mistakes) || len(mistakes) != 1 {
		return err
	}
	folder, name := filepath.Split(path)
	entries, readErr := os.ReadDir(filepath.Clean(folder + "."))
	if readErr != nil {
		return err
	}
	var names []string
	for _, e := range entries {
		if !e.IsDir() {
			names = append(names, e.Name())
		}
	}
	if best := spelling.Nearest(name, names); best != "" {
		mistakes[0].Hint = fmt.Sprintf("did you mean %s?", folder+best)
	}
	return err
}

// parsePlane reads a world plane such as "z=0", "x=-3mm" or "z = 5 mm".
func parsePlane(s string) (polewright.Plane, error) {
	fail := func(what, hint string) (polewright.Plane, error) {
		return polewright.Plane{}, mistake.Of(fmt.Sprintf("--half %q: %s", s, what), hint)
	}
	const example = `write an axis, =, and a length: --half z=0 or --half "x=-3 mm"`
	name, at, ok := strings.Cut(s, "=")
	if !ok {
		return fail("no plane", example)
	}
	name, at = strings.ToLower(strings.TrimSpace(name)), strings.TrimSpace(at)
	axis := strings.Index("xyz", name)
	if len(name) != 1 || axis < 0 {
		return fail(fmt.Sprintf("%q is not an axis", name), "the plane lies across x, y or z; "+example)
	}
	if v, err := strconv.ParseFloat(at, 64); err == nil && v == 0 {
		return polewright.Plane{Axis: axis}, nil
	}
	v, err := quantity.Parse(at, quantity.Length)
	if err != nil {
		return fail(mistake.Said(err))
	}
	return polewright.Plane{Axis: axis, AtM: v}, nil
}

func parsePlanes(list []string) (planes []polewright.Plane, err error) {
	for _, s := range list {
		p, err := parsePlane(s)
		if err != nil {
			return nil, err
		}
		planes = append(planes, p)
	}
	return planes, nil
}

// parseGroups reads lists of part names with commas between.
func parseGroups(list []string) (groups []polewright.Group) {
	for _, s := range list {
		var g polewright.Group
		for name := range strings.SplitSeq(s, ",") {
			if name = strings.TrimSpace(name); name != "" {
				g.Parts = append(g.Parts, name)
			}
		}
		groups = append(groups, g)
	}
	return groups
}

// inside checks that each plane passes through the assembly: beyond it there is nothing to pull.
func inside(planes []polewright.Plane, d *design.Design) error {
	for _, p := range planes {
		lo, hi := math.Inf(1), math.Inf(-1)
		for _, q := range d.Parts() {
			if b := shape.Bounds(q.Solid, q.Place); q.Magnetic() {
				lo = min(lo, [3]float64{b.Min.X, b.Min.Y, b.Min.Z}[p.Axis])
				hi = max(hi, [3]float64{b.Max.X, b.Max.Y, b.Max.Z}[p.Axis])
			}
		}
		if p.AtM <= lo || p.AtM >= hi {
			axis := string("xyz"[p.Axis])
			return mistake.Of(fmt.Sprintf("--half: the plane %s = %s does not pass through the assembly", axis, quantity.Format(p.AtM, "mm", 6)),
				fmt.Sprintf("its magnets and steel lie between %s = %s and %s", axis, quantity.Format(lo, "mm", 6), quantity.Format(hi, "mm", 6)))
		}
	}
	return nil
}

// flagQuantity reads the quantity that a flag gives, from least, or above it where that is zero, to most, in SI units. The example says how it is
// written.
func flagQuantity(flag, text string, of quantity.Dimension, least, most float64, example string) (float64, error) {
	v, err := quantity.Parse(text, of)
	if err != nil {
		what, hint := mistake.Said(err)
		return 0, mistake.Of("--"+flag+" "+what, hint+"; for example "+example)
	}
	if v >= least && v <= most && (v != 0 || least < 0) {
		return v, nil
	}
	unit := quantity.Units(of)[0]
	if of == quantity.Length && most >= 1 {
		unit = "m"
	}
	span := fmt.Sprintf("from %s to %s", quantity.Format(least, unit, 4), quantity.Format(most, unit, 4))
	if least == 0 {
		span = "above zero and up to " + quantity.Format(most, unit, 4)
	}
	return 0, mistake.Of(fmt.Sprintf("--%s %q: not %s", flag, text, span), "for example "+example)
}

// flagLength is flagQuantity of a length above zero and no longer than a design may be.
func flagLength(flag, text, example string) (float64, error) {
	return flagQuantity(flag, text, quantity.Length, 0, design.MaxLengthM, example)
}

// flagProbe reads the active area of a probe.
func flagProbe(text string) (measurement.Probe, error) {
	p, err := measurement.ParseProbe(text)
	if err != nil {
		return p, mistake.Of(fmt.Sprintf("--probe %q: %v", text, err), "")
	}
	return p, nil
}

func parseAccuracy(name string) (polewright.Accuracy, error) {
	a, err := polewright.AccuracyNamed(name)
	if err != nil {
		return a, mistake.Of("--accuracy: "+err.Error(), "")
	}
	return a, nil
}

// cannotWrite says why a command does not know what to write: no file was named, or its extension says nothing. known tells what would do.
func cannotWrite(command, out, known string) error {
	switch ext := filepath.Ext(out); {
	case out == "":
		return mistake.Of(command+" needs a file to write", known)
	case ext == "":
		return mistake.Of(out+": no extension says what to write", known)
	default:
		return mistake.Of(fmt.Sprintf("%s: unknown extension %q", out, ext), known)
	}
}
