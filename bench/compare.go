package main

import (
	"cmp"
	"embed"
	"errors"
	"fmt"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"text/tabwriter"
)

//go:embed framed_pair.py
var files embed.FS

// library is the other program: a Python that has dolfinx and gmsh, and the linear solver it is to use.
type library struct{ python, solver string }

const install = "it needs the Debian packages python3-dolfinx, gmsh and python3-gmsh: apt-get install --no-install-recommends python3-dolfinx gmsh python3-gmsh"

// row is one line of the table: medians over several solves.
type row struct {
	who string
	answer
	own, other float64 // error of the gap field in per cent, against the finest solution of either program
}

// compare runs both programs in turn and prints the table.
func compare(l library, sizes []string, runs int) error {
	if runs < 1 || len(sizes) < 3 {
		return errors.New("at least one run and three sizes are needed, the last for the library's reference")
	}
	if err := exec.Command(l.python, "-c", "import dolfinx, gmsh").Run(); err != nil {
		return fmt.Errorf("%s has no dolfinx and gmsh (%w)\n%s", l.python, err, install)
	}
	dir, err := os.MkdirTemp("", "bench")
	if err != nil {
		return err
	}
	defer os.RemoveAll(dir)
	solves, err := prepare(l, dir, sizes)
	if err != nil {
		return err
	}
	// Round by round, so that a busy machine is busy for all alike.
	samples := make([][]answer, len(solves))
	for round := range runs {
		for i, s := range solves {
			if s.once && round > 0 {
				continue
			}
			fmt.Fprintf(os.Stderr, "round %d of %d: %s\n", round+1, runs, s.who)
			a, err := run(s.command[0], s.command[1:]...)
			if err != nil {
				return err
			}
			samples[i] = append(samples[i], a)
		}
	}
	rows := make([]row, len(solves))
	references := map[bool]float64{}
	for i, s := range solves {
		rows[i] = row{who: s.who, answer: median(samples[i])}
		if s.once {
			references[s.ours] = rows[i].Gap
		}
	}
	for i := range rows {
		rows[i].own = 100 * math.Abs(rows[i].Gap/references[true]-1)
		rows[i].other = 100 * math.Abs(rows[i].Gap/references[false]-1)
	}
	return print(solves, rows)
}

// solve is a process to measure. Those run once are the references.
type solve struct {
	who        string
	ours, once bool
	command    []string
}

// prepare lists the solves and makes the library's meshes.
func prepare(l library, dir string, sizes []string) (list []solve, err error) {
	self, err := os.Executable()
	if err != nil {
		return nil, err
	}
	for _, a := range []string{"draft", "standard", "fine", "finest"} {
		list = append(list, solve{"polewright " + a, true, a == "finest", []string{self, "-one", a}})
	}
	d, err := framedPair()
	if err != nil {
		return nil, err
	}
	problem, err := writeProblem(dir, d)
	if err != nil {
		return nil, err
	}
	text, err := files.ReadFile("framed_pair.py")
	if err != nil {
		return nil, err
	}
	script := filepath.Join(dir, "framed_pair.py")
	if err := os.WriteFile(script, text, 0o666); err != nil {
		return nil, err
	}
	for i, size := range sizes {
		fmt.Fprintf(os.Stderr, "meshing for the library, size %s\n", size)
		mesh := filepath.Join(dir, fmt.Sprintf("mesh%d.npz", i))
		if _, err := run(l.python, script, "mesh", problem, size, mesh); err != nil {
			return nil, err
		}
		list = append(list, solve{"library size " + size, false, i == len(sizes)-1, []string{l.python, script, "solve", problem, mesh, l.solver}})
	}
	// A first solve compiles the library's forms, which it keeps on disk.
	_, err = run(l.python, script, "solve", problem, filepath.Join(dir, "mesh0.npz"), l.solver)
	return list, err
}

// median takes time and memory at their medians; field and unknowns are the same in all runs.
func median(a []answer) answer {
	m := a[0]
	for _, f := range []func(*answer) *float64{
		func(a *answer) *float64 { return &a.Seconds },
		func(a *answer) *float64 { return &a.CPU },
		func(a *answer) *float64 { return &a.Peak },
		func(a *answer) *float64 { return &a.Empty },
	} {
		s := slices.SortedFunc(slices.Values(a), func(x, y answer) int { return cmp.Compare(*f(&x), *f(&y)) })
		*f(&m) = *f(&s[len(s)/2])
	}
	return m
}

// print writes the table. Its ratios are those of the library to polewright at polewright's error: the library's time and memory at that
// error come from a straight line through the logarithms of its own solves.
func print(solves []solve, rows []row) error {
	var errs, seconds, cpu, peaks []float64
	for i, s := range solves {
		if !s.ours && !s.once {
			errs, seconds = append(errs, rows[i].own), append(seconds, rows[i].Seconds)
			cpu, peaks = append(cpu, rows[i].CPU), append(peaks, rows[i].Peak)
		}
	}
	least := slices.Min(errs)
	w := tabwriter.NewWriter(os.Stdout, 0, 0, 2, ' ', tabwriter.AlignRight)
	fmt.Fprintln(w, "\tunknowns\tgap T\toff ours %\toff library's %\tsolve s\tcpu s\tpeak MiB\tof it empty\ttime ratio\tcpu ratio\tmemory ratio\t")
	for i, s := range solves {
		r := rows[i]
		fmt.Fprintf(w, "%s\t%d\t%.7f\t%.4f\t%.4f\t%.2f\t%.2f\t%.0f\t%.0f\t", r.who, r.Unknowns, r.Gap, r.own, r.other, r.Seconds, r.CPU, r.Peak, r.Empty)
		if s.ours && !s.once {
			mark := ""
			if r.own < least {
				mark = "*" // beyond the library's best: the line is drawn on
			}
			ratio := func(library []float64, ours float64) string {
				return fmt.Sprintf("%.2g%s", atError(errs, library, r.own)/ours, mark)
			}
			fmt.Fprintf(w, "%s\t%s\t%s\t\n", ratio(seconds, r.Seconds), ratio(cpu, r.CPU), ratio(peaks, r.Peak))
		} else {
			fmt.Fprint(w, "\t\t\t\n")
		}
	}
	return w.Flush()
}

// atError reads y at an error from the straight line through log y against log error, by least squares.
func atError(errs, y []float64, e float64) float64 {
	var n, sx, sy, sxx, sxy float64
	for i := range errs {
		a, b := math.Log(errs[i]), math.Log(y[i])
		n, sx, sy, sxx, sxy = n+1, sx+a, sy+b, sxx+a*a, sxy+a*b
	}
	slope := (n*sxy - sx*sy) / (n*sxx - sx*sx)
	return math.Exp(sy/n + slope*(math.Log(e)-sx/n))
}
