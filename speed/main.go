// Command speed tells whether the program has become slower. It takes the processor time of some of its work as a multiple of that of a fixed
// kernel, run in the same process in turn with it, so that another machine or a busy one changes little, and compares the medians with those that
// were stored with an earlier commit.
//
//	go run ./speed             compares with speed/ratios.json; exit status 1 when something takes more than twice as long
//	go run ./speed -update     stores what it measures
package main

import (
	"context"
	"encoding/json"
	"flag"
	"fmt"
	"io"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"polewright"
	"polewright/design"
	"polewright/wholefile"
)

const (
	stored = "speed/ratios.json"
	failAt = 2.0 // times as long as stored
	noteAt = 1.2
)

func main() {
	update := flag.Bool("update", false, "store what is measured in "+stored)
	rounds := flag.Int("rounds", 5, "how often each is measured; the median counts")
	flag.Parse()
	slower, err := run(*update, max(1, *rounds))
	if err != nil {
		fmt.Fprintln(os.Stderr, "speed:", err)
		os.Exit(2)
	}
	if slower {
		os.Exit(1)
	}
}

func run(update bool, rounds int) (slower bool, err error) {
	known := map[string]float64{}
	if !update {
		text, err := os.ReadFile(filepath.FromSlash(stored))
		if err != nil {
			return false, fmt.Errorf("run it in the folder of the module, and once with -update: %w", err)
		}
		if err := json.Unmarshal(text, &known); err != nil {
			return false, fmt.Errorf("%s: %w", stored, err)
		}
	}
	measured := map[string]float64{}
	fmt.Printf("%-28s %12s %12s %8s\n", "work", "kernels", "stored", "change")
	for _, w := range works {
		do, err := w.prepare()
		if err != nil {
			return false, fmt.Errorf("%s: %w", w.name, err)
		}
		ratio, err := ratioOf(do, rounds)
		if err != nil {
			return false, fmt.Errorf("%s: %w", w.name, err)
		}
		measured[w.name] = math.Round(1000*ratio) / 1000
		before, ok := known[w.name]
		if !ok {
			fmt.Printf("%-28s %12.3f %12s\n", w.name, ratio, "none")
			continue
		}
		change, mark := ratio/before, ""
		switch {
		case change > failAt:
			slower, mark = true, "  more than twice as long"
		case change > noteAt:
			mark = "  slower"
		case change < 1/noteAt:
			mark = "  faster: store it with -update"
		}
		fmt.Printf("%-28s %12.3f %12.3f %7.2fx%s\n", w.name, ratio, before, change, mark)
	}
	if !update {
		return slower, nil
	}
	text, err := json.MarshalIndent(measured, "", "  ")
	if err != nil {
		return false, err
	}
	folder, err := os.OpenRoot(filepath.Dir(filepath.FromSlash(stored)))
	if err != nil {
		return false, err
	}
	defer folder.Close()
	return false, wholefile.Write(folder, filepath.Base(stored), true, func(w io.Writer) error { _, err := w.Write(append(text, '\n')); return err })
}

// ratioOf is the median, over rounds, of the processor time of some work over that of the kernel beside it.
func ratioOf(do func() error, rounds int) (float64, error) {
	var ratios []float64
	if err := do(); err != nil { // tables that are made once
		return 0, err
	}
	for range rounds {
		times, spent := 0, 0.0
		start := processorSeconds()
		for spent < leastSeconds {
			if err := do(); err != nil {
				return 0, err
			}
			times++
			spent = processorSeconds() - start
		}
		start = processorSeconds()
		for range kernels {
			kernel()
		}
		ratios = append(ratios, spent/float64(times)/((processorSeconds()-start)/kernels))
	}
	slices.Sort(ratios)
	return ratios[len(ratios)/2], nil
}

const (
	leastSeconds = 0.2
	kernels      = 8
)

var grid = make([]float64, 2*64*64*64)

// kernel is a fixed piece of work of about 10 ms, of memory and of arithmetic as a field solve is: sweeps over a grid of 4 MB, and square roots.
func kernel() {
	const n = 64
	a, b := grid[:n*n*n], grid[n*n*n:]
	for i := range a {
		a[i] = math.Sqrt(float64(i%97) + 1)
	}
	for range 6 {
		for i := n * n; i < n*n*(n-1); i++ {
			b[i] = 0.5*a[i] + (a[i-1]+a[i+1]+a[i-n]+a[i+n]+a[i-n*n]+a[i+n*n])/12
		}
		a, b = b, a
	}
}

// work is something whose speed is watched.
type work struct {
	name    string
	prepare func() (do func() error, err error)
}

var works = []work{
	{"read 2000 parts", func() (func() error, error) {
		var b strings.Builder
		b.WriteString("format = 1\n")
		for i := range 2000 {
			fmt.Fprintf(&b, "[[magnet]]\nname = \"%d\"\nshape = \"block\"\nsize = [\"4 mm\",\"4 mm\",\"4 mm\"]\ncenter = [\"%d mm\",\"%d mm\",\"0 mm\"]\nmagnetized = [0,0,1]\ngrade = \"N42\"\n", i, 5*(i%50), 5*(i/50))
		}
		text := b.String()
		return func() error { _, err := design.Read(strings.NewReader(text), ""); return err }, nil
	}},
	{"framed pair, field, draft", solving("framed-pair", polewright.Options{Accuracy: polewright.Draft, FieldOnly: true})},
	{"framed pair, draft", solving("framed-pair", polewright.Options{Accuracy: polewright.Draft})},
	{"framed pair, standard", solving("framed-pair", polewright.Options{Accuracy: polewright.Standard, NoLedger: true, NoDemagnetization: true})},
	{"wound pair, draft", solving("wound-pair", polewright.Options{Accuracy: polewright.Draft, NoLedger: true, NoDemagnetization: true})},
	{"round pot, standard", solving("round-pot", polewright.Options{Accuracy: polewright.Standard, NoLedger: true, NoDemagnetization: true})},
	{"ring of wedges, draft", solving("halbach-wedges", polewright.Options{Accuracy: polewright.Draft, NoLedger: true, NoDemagnetization: true})},
}

// solving solves the design of a layout.
func solving(layout string, o polewright.Options) func() (func() error, error) {
	return func() (func() error, error) {
		text, err := design.Template(layout)
		if err != nil {
			return nil, err
		}
		d, err := design.Read(strings.NewReader(text), layout)
		if err != nil {
			return nil, err
		}
		return func() error { _, err := polewright.Run(context.Background(), d, o); return err }, nil
	}
}
