package study

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"sync"

	"polewright"
	"polewright/design"
)

// Solve is what a worker does with a case: it is a jobs.Solve. It returns when ctx ends, even in the midst of a step that does not look.
func Solve(ctx context.Context, payload []byte) ([]byte, error) {
	type answer struct {
		solved any
		err    error
	}
	done := make(chan answer, 1)
	go func() {
		var a answer
		defer func() { // here, for the queue looks after its own goroutine only
			if p := recover(); p != nil {
				a = answer{nil, fmt.Errorf("the program failed on it: %v", p)}
			}
			done <- a
		}()
		var c Case
		if c, a.err = caseOf(payload); a.err == nil && c.Effort.Build {
			a.solved, a.err = c.solveBuild(ctx)
		} else if a.err == nil {
			a.solved, a.err = c.Solve(ctx)
		}
	}()
	select {
	case <-ctx.Done():
		return nil, ctx.Err()
	case a := <-done:
		if a.err != nil {
			return nil, a.err
		}
		return json.Marshal(a.solved)
	}
}

// Solve solves a case here and now, and gives its figures.
func (c Case) Solve(ctx context.Context) (map[string]float64, error) {
	if c.Effort.Build {
		b, err := c.solveBuild(ctx)
		return b.Figures, err
	}
	d, err := c.Design()
	if err != nil {
		return nil, err
	}
	o := polewright.Options{NoLedger: true, NoDemagnetization: !c.Effort.Temperatures, FieldOnly: c.Effort == Effort{}}
	if o.Accuracy, err = polewright.AccuracyNamed(c.Accuracy); err != nil {
		return nil, err
	}
	if c.Effort.Halves {
		o.Halves = polewright.Halves(d)
	}
	s, err := polewright.Run(ctx, d, o)
	if err != nil {
		return nil, err
	}
	return figuresOf(d, s.Result), nil
}

func (c Case) solveBuild(ctx context.Context) (polewright.Built, error) {
	builds, err := c.builds()
	if err != nil {
		return polewright.Built{}, err
	}
	return builds.Solve(ctx, polewright.Build{Deviations: c.Deviations, Values: c.Effort.Values, Thin: c.Effort.Thin})
}

// mostKept is how many designs this process keeps for more builds of them: a worker may serve some studies by turns.
const mostKept = 3

// kept are the designs whose builds were solved last, by identity and accuracy, the latest last.
var kept struct {
	sync.Mutex
	list []keptBuilds
}

type keptBuilds struct {
	identity, accuracy string
	builds             *polewright.Builds
}

// builds are those of the case's design, at whose fields the build begins.
func (c Case) builds() (*polewright.Builds, error) {
	kept.Lock()
	defer kept.Unlock()
	for i, k := range kept.list {
		if c.Identity != "" && k.identity == c.Identity && k.accuracy == c.Accuracy {
			kept.list = append(slices.Delete(kept.list, i, i+1), k)
			return k.builds, nil
		}
	}
	a, err := polewright.AccuracyNamed(c.Accuracy)
	if err != nil {
		return nil, err
	}
	c.Deviations = nil // where a build is looked at is the design's matter
	d, err := c.Design()
	if err != nil {
		return nil, err
	}
	b, err := polewright.BuildsOf(d, a)
	if err == nil && c.Identity != "" {
		kept.list = append(kept.list[max(0, len(kept.list)-mostKept+1):], keptBuilds{c.Identity, c.Accuracy, b})
	}
	return b, err
}

// Design reads the case's design, deviations applied.
func (c Case) Design() (*design.Design, error) {
	d, err := c.read()
	if err != nil {
		return nil, err
	}
	if c.Identity != "" && c.Identity != Identity(d) {
		return nil, errors.New("the design of this job is not the one that its key names")
	}
	return polewright.Apply(d, c.Deviations)
}

// read reads the case's design as it is written.
func (c Case) read() (*design.Design, error) {
	name := ""
	if len(c.Files) > 0 { // the reader takes curves from the folder of the design
		dir, err := os.MkdirTemp("", "polewright-")
		if err != nil {
			return nil, err
		}
		defer os.RemoveAll(dir)
		for file, text := range c.Files {
			path := filepath.Join(dir, filepath.FromSlash(file))
			if !filepath.IsLocal(filepath.FromSlash(file)) {
				return nil, fmt.Errorf("the curve file %q is not in the folder of the design", file)
			}
			if err := os.MkdirAll(filepath.Dir(path), 0o700); err != nil {
				return nil, err
			}
			if err := os.WriteFile(path, []byte(text), 0o600); err != nil {
				return nil, err
			}
		}
		name = filepath.Join(dir, "design")
	}
	return design.Read(strings.NewReader(c.Text), name)
}
