// Package study asks many designs at once: every value of a parameter over a range, or the lightest design that keeps its limits. Each design is a
// job of package jobs, so a study can be stopped, goes on where it was, and is shared by many machines.
//
// A study of another kind makes its own cases and gives them to [Run]:
//
//	cases := func(yield func(study.Case) bool) {
//		for _, list := range draws {
//			if !yield(study.Case{Text: text, Deviations: list, Accuracy: "draft"}) {
//				return
//			}
//		}
//	}
//	err := study.Run(ctx, queue, cases, study.Options{Total: len(draws), Each: func(r study.Row) { ... }})
package study

import (
	"bytes"
	"context"
	"encoding/json"
	"fmt"
	"iter"
	"maps"
	"slices"

	"polewright"
	"polewright/jobs"
)

// Case is one design to solve. Cases of the same Identity, deviations, accuracy and effort have one answer.
type Case struct {
	Text       string                 // of the design file
	Files      map[string]string      // curve files that the design names, by the name there
	Identity   string                 // of the design; Run finds it where it is ""
	Deviations []polewright.Deviation // of the build from the design
	Accuracy   string                 // "draft", "standard" or "fine"
	Effort     Effort                 // what is computed besides the field in the gap

	// What follows goes with the case from Run to its Row and is no part of the job.

	Settings []Setting
	Figures  map[string]float64 // known without a solve
	Err      error              // why it cannot be built: it is not solved then
	Label    any                // the caller's own
}

// asked and written are the two lines of a job's payload: what the answer depends on, and how the design is written.
type (
	asked struct {
		Identity   string                 `json:"design"`
		Deviations []polewright.Deviation `json:"deviations,omitempty"`
		Accuracy   string                 `json:"accuracy"`
		Effort     Effort                 `json:"effort"`
	}
	written struct {
		Text  string            `json:"text"`
		Files map[string]string `json:"files,omitempty"`
	}
)

// Effort is what a solve computes besides the field in the gap with its uniformity, sections and probes. Each costs time.
type Effort struct {
	Parts        bool `json:"parts,omitempty"`        // flux in steel, forces on parts, stray field
	Halves       bool `json:"halves,omitempty"`       // force between the halves
	Temperatures bool `json:"temperatures,omitempty"` // what the target's temperatures do to the magnets
	// Build is a build of a tolerance study as polewright.Builds solves it, and nothing else; Values and Thin are those of polewright.Build.
	Build  bool `json:"build,omitempty"`
	Values bool `json:"values,omitempty"`
	Thin   bool `json:"thin,omitempty"`
}

// Setting is a parameter with its value, as written.
type Setting struct {
	Path  string `json:"path"`
	Value string `json:"value"`
}

// Row is the end of a case.
type Row struct {
	Index    int // of the case, from 0
	Settings []Setting
	Figures  map[string]float64 // by the names of Figure; one that the design does not have is left out
	Error    string             // why there are none; "" where there are
	Known    bool               // solved before
	Seconds  float64            // that the solve took
	Worker   string             // the process that did it
	Built    polewright.Built   // of a build
	Label    any
}

// Options are those of Run.
type Options struct {
	Total    int // how many cases; 0 if not known
	Again    bool
	Each     func(Row) // is called for each case, as they end
	Progress func(jobs.Progress)
}

// Run gives cases to a queue and waits for their answers, which workers with Solve find, in this process or in others. A case that cannot be built
// or solved is a row with its error. The error of Run is that of ctx or of the queue; running it again goes on where it ended.
func Run(ctx context.Context, q *jobs.Queue, cases iter.Seq[Case], o Options) error {
	open := map[int]Case{}  // by the payload's place in the queue
	place := map[int]int{}  // of the case, likewise
	unbuilt, failed := 0, 0 // rows that the queue does not know of
	payloads := func(yield func([]byte) bool) {
		n, sent := -1, 0
		for c := range cases {
			n++
			payload, err := c.payload()
			if err != nil {
				unbuilt++
				failed++
				o.Each(c.row(n, jobs.Outcome{Error: err.Error()}))
				continue
			}
			open[sent], place[sent] = c, n
			sent++
			if !yield(payload) {
				return
			}
		}
	}
	return q.Run(ctx, jobs.Batch{Payloads: payloads, Total: o.Total, Again: o.Again,
		Each: func(out jobs.Outcome) {
			c := open[out.Index]
			delete(open, out.Index)
			o.Each(c.row(place[out.Index], out))
			delete(place, out.Index)
		},
		Progress: func(p jobs.Progress) {
			if o.Progress != nil {
				p.Failed += failed
				o.Progress(p)
			}
		}})
}

func (c Case) payload() ([]byte, error) {
	if c.Err != nil {
		return nil, c.Err
	}
	if c.Identity == "" {
		d, err := c.read()
		if err != nil {
			return nil, err
		}
		c.Identity = Identity(d)
	}
	q := asked{c.Identity, slices.Clone(c.Deviations), c.Accuracy, c.Effort}
	for i := range q.Deviations { // how large such a deviation usually is has no part in it
		q.Deviations[i].Spread, q.Deviations[i].Step = 0, 0
	}
	first, err := json.Marshal(q)
	if err != nil {
		return nil, err
	}
	second, err := json.Marshal(written{c.Text, c.Files})
	return slices.Concat(first, []byte("\n"), second), err
}

// caseOf is the case of a payload.
func caseOf(payload []byte) (c Case, err error) {
	first, second, _ := bytes.Cut(payload, []byte("\n"))
	var q asked
	var w written
	if err := json.Unmarshal(first, &q); err != nil {
		return c, err
	}
	if err := json.Unmarshal(second, &w); err != nil {
		return c, err
	}
	return Case{Text: w.Text, Files: w.Files, Identity: q.Identity, Deviations: q.Deviations, Accuracy: q.Accuracy, Effort: q.Effort}, nil
}

func (c Case) row(index int, out jobs.Outcome) Row {
	r := Row{Index: index, Settings: c.Settings, Figures: maps.Clone(c.Figures), Error: out.Error, Known: out.Known, Seconds: out.Seconds, Worker: out.Worker, Label: c.Label}
	if r.Figures == nil {
		r.Figures = map[string]float64{}
	}
	if out.Error != "" {
		return r
	}
	var into any = &r.Figures // beside those that were known
	if c.Effort.Build {
		into = &r.Built
	}
	if err := json.Unmarshal(out.Payload, into); err != nil {
		r.Error = fmt.Sprintf("the answer cannot be read: %v", err)
	}
	maps.Copy(r.Figures, r.Built.Figures)
	return r
}
