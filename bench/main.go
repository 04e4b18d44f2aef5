// Command bench compares polewright with a general-purpose finite-element library on the framed pair of the demo: error of the field in
// the middle of the gap against time and memory. See README.md beside it.
package main

import (
	"bufio"
	"context"
	"encoding/json"
	"errors"
	"flag"
	"fmt"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"syscall"
	"time"

	"gonum.org/v1/gonum/spatial/r3"

	"polewright"
	"polewright/design"
)

func main() {
	one := flag.String("one", "", "solve once with this `ACCURACY` and print JSON: what the comparison runs in a process of its own")
	runs := flag.Int("runs", 3, "solves of each kind, of which the median counts")
	sizes := flag.String("sizes", "1.5,1.2,1,0.7,0.5", "element `SIZES` of the library's meshes, comma between; the last is its reference, solved once")
	solver := flag.String("solver", "amg", "the library's linear `SOLVER`: amg or direct")
	python := flag.String("python", "/usr/bin/python3", "the `PYTHON` that has dolfinx and gmsh")
	flag.Parse()
	var err error
	if *one != "" {
		err = solveOnce(*one)
	} else {
		err = compare(library{*python, *solver}, strings.Split(*sizes, ","), *runs)
	}
	if err != nil {
		fmt.Fprintln(os.Stderr, "bench:", err)
		os.Exit(1)
	}
}

// answer is what a process that solved once tells of itself.
type answer struct {
	Unknowns int     `json:"unknowns"`
	Gap      float64 `json:"gap_T"`
	Seconds  float64 `json:"seconds"`     // assembly and solution, meshing apart
	CPU      float64 `json:"cpu_seconds"` // the same, of all threads together
	Peak     float64 `json:"peak_MiB"`    // of the whole process
	Empty    float64 `json:"empty_MiB"`   // before it began, with what it had loaded
}

// framedPair is the demo's design as both programs solve it: without films of glue and coatings, which polewright homogenizes in a way of its own.
func framedPair() (*design.Design, error) {
	text, err := design.Template("framed-pair")
	if err != nil {
		return nil, err
	}
	d, err := design.Read(strings.NewReader(text), "")
	if err != nil {
		return nil, err
	}
	d.Joints = nil
	for i := range d.Magnets {
		d.Magnets[i].CoatingM = 0
	}
	return d, nil
}

// accuracyOf knows "finest" too: as fine, and refined on until the estimate is a fortieth of it.
func accuracyOf(name string) (polewright.Accuracy, error) {
	if name == "finest" {
		a := polewright.Fine
		a.Percent /= 40
		return a, nil
	}
	return polewright.AccuracyNamed(name)
}

// solveOnce solves with polewright and prints an answer.
func solveOnce(accuracy string) error {
	empty, _ := used()
	a, err := accuracyOf(accuracy)
	if err != nil {
		return err
	}
	d, err := framedPair()
	if err != nil {
		return err
	}
	// From the first grid's equations to the last solution, over all refinements.
	var start time.Time
	var spent time.Duration
	var before, worked float64
	s, err := polewright.Run(context.Background(), d, polewright.Options{Accuracy: a, NoLedger: true, Progress: func(what string, _ float64) {
		switch {
		case strings.HasPrefix(what, "grid 1 of"):
			start = time.Now()
			_, before = used()
		case what == "solved":
			spent += time.Since(start)
			_, after := used()
			worked += after - before
		}
	}})
	if err != nil {
		return err
	}
	r := s.Result
	peak, _ := used()
	return json.NewEncoder(os.Stdout).Encode(answer{r.Solver.Unknowns, r.GapB[2], spent.Seconds(), worked, peak, empty})
}

// used is the largest memory (MiB) and the processor time (s) that this process has had.
func used() (peak, cpu float64) {
	var u syscall.Rusage
	if syscall.Getrusage(syscall.RUSAGE_SELF, &u) != nil {
		return math.NaN(), math.NaN()
	}
	seconds := func(t syscall.Timeval) float64 { return time.Duration(t.Nano()).Seconds() }
	return float64(u.Maxrss) / 1024, seconds(u.Utime) + seconds(u.Stime) // KiB on Linux
}

// run starts a program and reads the answer that it prints, if any.
func run(name string, args ...string) (a answer, err error) {
	c := exec.Command(name, args...)
	// One thread for the library's dense algebra: its default of all cores makes it slower here.
	c.Env = append(os.Environ(), "OMP_NUM_THREADS=1")
	var notes strings.Builder
	c.Stderr = &notes
	out, err := c.Output()
	if err != nil {
		return a, fmt.Errorf("%s %s: %w\n%s", filepath.Base(name), strings.Join(args, " "), err, notes.String())
	}
	if len(out) > 0 {
		err = json.Unmarshal(out, &a)
	}
	return a, err
}

// writeProblem puts what the library has to solve into dir: a JSON file and the steel's curve.
func writeProblem(dir string, d *design.Design) (file string, err error) {
	type part struct {
		Low          [3]float64 `json:"low_m"`
		High         [3]float64 `json:"high_m"`
		Polarization float64    `json:"polarization_T"`
		Recoil       float64    `json:"recoil"`
		Steel        bool       `json:"steel"`
	}
	box := func(b design.Body) part {
		h := b.Solid.HalfExtent()
		low, high := r3.Sub(b.Place.Center, h), r3.Add(b.Place.Center, h)
		return part{Low: [3]float64{low.X, low.Y, low.Z}, High: [3]float64{high.X, high.Y, high.Z}, Recoil: 1}
	}
	curve := filepath.Join(dir, "steel.csv")
	problem := struct {
		Curve  string  `json:"curve_file"`
		Far    float64 `json:"far_m"`
		Edge   float64 `json:"edge_m"` // element size at edges of parts, at size 1
		Growth float64 `json:"growth"` // of the element size with the distance from them
		Gap    float64 `json:"gap_m"`  // element size in the middle of the gap, at size 1
		Fit    float64 `json:"fit_m"`  // ball from which the gap field is fitted
		Parts  []part  `json:"parts"`
	}{curve, 0.4, 0.002, 0.25, 0.003, 0.008, nil}
	for _, m := range d.Magnets {
		p := box(m.Body)
		use := m.Material.At(d.Target.WorkingC)
		p.Polarization, p.Recoil = use.RemanenceT, use.RecoilPermeability
		problem.Parts = append(problem.Parts, p)
	}
	for _, s := range d.Steels {
		p := box(s.Body)
		p.Steel = true
		problem.Parts = append(problem.Parts, p)
	}
	text, err := json.MarshalIndent(problem, "", "  ")
	if err != nil {
		return "", err
	}
	f, err := os.Create(curve)
	if err != nil {
		return "", err
	}
	w := bufio.NewWriter(f)
	fmt.Fprintln(w, "H_A_per_m,B_T,dB_dH,coenergy_J_per_m3")
	for i := range 4001 {
		h := 100 * math.Sinh(float64(i)/400) // to 1.1 MA/m, closest at the origin
		b, slope, energy := d.Steels[0].Material.Curve.Eval(h)
		fmt.Fprintf(w, "%.9g,%.12g,%.12g,%.12g\n", h, b, slope, energy)
	}
	file = filepath.Join(dir, "problem.json")
	return file, errors.Join(w.Flush(), f.Close(), os.WriteFile(file, text, 0o666))
}
