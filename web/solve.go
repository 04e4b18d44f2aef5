package web

import (
	"context"
	"crypto/sha256"
	"fmt"
	"net/http"
	"path/filepath"
	"strings"
	"sync"

	"polewright"
	"polewright/design"
	"polewright/result"
)

// This file solves designs and keeps the last few fields, so that questions about one do not solve it again.

// Asked is the design that a question is about.
type Asked struct {
	File string `json:"file,omitempty"` // its name in the folder, "" for none; curve files are looked for beside it
	Text string `json:"text"`
}

// Effort says which solve is meant.
type Effort struct {
	Accuracy string `json:"accuracy"` // draft, standard or fine
	// FieldOnly leaves out all but the field: no forces, stray field, losses. It is what follows a change at once.
	FieldOnly bool `json:"field_only,omitempty"`
}

// Solving asks for a solve.
type Solving struct {
	Asked
	Effort
}

// design reads the text.
func (b *Bench) design(a Asked) (*design.Design, error) {
	return b.read(a, func(r *strings.Reader, name string) (*design.Design, error) { return design.Read(r, name) })
}

func (b *Bench) read(a Asked, read func(r *strings.Reader, name string) (*design.Design, error)) (*design.Design, error) {
	name := ""
	if a.File != "" {
		if err := fileName(a.File); err != nil {
			return nil, err
		}
		name = filepath.Join(b.o.Folder, a.File)
	}
	return read(strings.NewReader(a.Text), name)
}

// Bounds of what is kept and of what computes at a time.
const (
	mostSolves   = 2         // at once; each takes all cores that it can
	mostWaiting  = 24        // questions for a solve, those that wait included
	mostKept     = 6         // solved fields
	keptUnknowns = 2_000_000 // of all kept fields, about 500 bytes each
)

type key [sha256.Size]byte

// kept is a solved field, or one on its way.
type kept struct {
	key    key
	design *design.Design
	done   chan struct{} // closed when solved or err is there
	solved *polewright.Solved
	err    error
	cancel context.CancelFunc

	asking int // who waits for it
	what   string
	share  float64
	heard  *sync.Cond // progress

	one sync.Mutex // questions that fill tables of the field's own
}

// answers are the solves of a bench.
type answers struct {
	mu   sync.Mutex
	ctx  context.Context
	list []*kept // the last asked for comes last
	slot chan struct{}
	busy int
}

func (a *answers) start(ctx context.Context) {
	a.ctx = ctx
	a.slot = make(chan struct{}, mostSolves)
}

func accuracyNamed(name string) (polewright.Accuracy, error) {
	a, err := polewright.AccuracyNamed(name)
	if err != nil {
		err = bad(err.Error(), "")
	}
	return a, err
}

// solved gives the field of a design: the one that is kept, the one on its way, or a new one. When nobody waits for it any more it is stopped.
func (b *Bench) solved(ctx context.Context, q Asked, o Effort, report func(what string, done float64)) (*kept, error) {
	accuracy, err := accuracyNamed(o.Accuracy)
	if err != nil {
		return nil, err
	}
	d, err := b.design(q)
	if err != nil {
		return nil, err
	}
	prices, version := b.judging(d)
	keyOf := func(fieldOnly bool) key {
		return sha256.Sum256(fmt.Appendf(nil, "%s\x00%s\x00%t\x00%s\x00%s", o.Accuracy, q.File, fieldOnly, version, q.Text))
	}
	k := keyOf(o.FieldOnly)
	a := &b.answers
	a.mu.Lock()
	e := a.find(k)
	if e == nil && o.FieldOnly { // the whole answer has the field too
		e = a.find(keyOf(false))
		if e != nil && !e.ready() {
			e = nil
		}
	}
	if e == nil {
		if a.busy >= mostWaiting {
			a.mu.Unlock()
			return nil, &fault{Status: http.StatusServiceUnavailable, Problems: []Problem{{What: "too many solves wait already", Hint: "try again in a moment; close tabs that you do not need"}}}
		}
		solve, cancel := context.WithCancel(a.ctx)
		e = &kept{key: k, design: d, done: make(chan struct{}), cancel: cancel}
		e.heard = sync.NewCond(&a.mu)
		o := polewright.Options{Accuracy: accuracy, FieldOnly: o.FieldOnly, Stock: prices}
		if o.FieldOnly {
			o.From = a.nearest(accuracy)
		}
		a.busy++
		go a.run(solve, e, d, o)
		a.list = append(a.list, e)
	} else {
		a.list = append(without(a.list, e), e)
	}
	e.asking++
	a.mu.Unlock()
	return e, a.wait(ctx, e, report)
}

func (a *answers) find(k key) *kept {
	for _, e := range a.list {
		if e.key == k {
			return e
		}
	}
	return nil
}

func without(list []*kept, e *kept) (out []*kept) {
	for _, x := range list {
		if x != e {
			out = append(out, x)
		}
	}
	return out
}

func (e *kept) ready() bool {
	select {
	case <-e.done:
		return e.err == nil
	default:
		return false
	}
}

// nearest is a field to begin a draft at: the last one.
func (a *answers) nearest(accuracy polewright.Accuracy) *polewright.Solved {
	for i := len(a.list) - 1; i >= 0; i-- {
		if e := a.list[i]; e.ready() && e.solved.Result.Solver.Accuracy == accuracy.Name {
			return e.solved
		}
	}
	return nil
}

// wait hears how far a solve has come until it is there, ctx ends, or the bench closes.
func (a *answers) wait(ctx context.Context, e *kept, report func(string, float64)) error {
	stop := context.AfterFunc(ctx, func() {
		a.mu.Lock()
		e.heard.Broadcast()
		a.mu.Unlock()
	})
	defer stop()
	a.mu.Lock()
	defer a.mu.Unlock()
	defer func() {
		if e.asking--; e.asking == 0 {
			select {
			case <-e.done:
			default: // nobody waits: it goes, and the next question begins anew
				e.cancel()
				a.list = without(a.list, e)
			}
		}
	}()
	for {
		select {
		case <-e.done:
			return e.err
		default:
		}
		if err := ctx.Err(); err != nil {
			return err
		}
		if what, share := e.what, e.share; report != nil && what != "" {
			a.mu.Unlock()
			report(what, share)
			a.mu.Lock()
			if e.what != what || e.share != share {
				continue
			}
			select {
			case <-e.done:
				continue
			default:
			}
		}
		e.heard.Wait()
	}
}

// run solves when it is its turn.
func (a *answers) run(ctx context.Context, e *kept, d *design.Design, o polewright.Options) {
	tell := func(what string, share float64) {
		a.mu.Lock()
		e.what, e.share = what, share
		e.heard.Broadcast()
		a.mu.Unlock()
	}
	tell("waiting", 0)
	var s *polewright.Solved
	var err error
	select {
	case a.slot <- struct{}{}:
		o.Progress = tell
		s, err = soundly(ctx, d, o)
		<-a.slot
	case <-ctx.Done():
		err = ctx.Err()
	}
	a.mu.Lock()
	defer a.mu.Unlock()
	e.cancel()
	e.solved, e.err = s, err
	a.busy--
	close(e.done)
	e.heard.Broadcast()
	if err != nil {
		a.list = without(a.list, e)
		return
	}
	a.trim(e)
}

// soundly solves, and makes a fault of the program an error, so that other tabs go on.
func soundly(ctx context.Context, d *design.Design, o polewright.Options) (s *polewright.Solved, err error) {
	defer func() {
		if p := recover(); p != nil {
			err = fmt.Errorf("the program has failed on this design: %v", p)
		}
	}()
	return polewright.Run(ctx, d, o)
}

// trim lets the oldest fields go, the newest never.
func (a *answers) trim(newest *kept) {
	count, unknowns := 1, newest.solved.Result.Solver.Unknowns
	for i := len(a.list) - 1; i >= 0; i-- {
		e := a.list[i]
		if e == newest || !e.ready() {
			continue
		}
		count, unknowns = count+1, unknowns+e.solved.Result.Solver.Unknowns
		if count > mostKept || unknowns > keptUnknowns {
			a.list = append(a.list[:i:i], a.list[i+1:]...)
		}
	}
}

func (b *Bench) solve(ctx context.Context, q *Solving, e *events) (*result.Result, error) {
	k, err := b.solved(ctx, q.Asked, q.Effort, e.progress)
	if err != nil {
		return nil, err
	}
	r := *k.solved.Result
	if q.FieldOnly { // these are left out, and an empty list is said as one
		r.Parts, r.Stray = []result.Part{}, []result.Stray{}
	}
	return &r, nil
}

// onDesign runs a computation apart on the design that a question is about.
func onDesign[Answer any](ctx context.Context, b *Bench, q Asked, work func(context.Context, *design.Design) (Answer, error)) (got Answer, err error) {
	d, err := b.design(q)
	if err != nil {
		return got, err
	}
	return apart(ctx, b, func(ctx context.Context) (Answer, error) { return work(ctx, d) })
}

// apart runs a computation that does not look at its context everywhere, and returns when ctx ends. It takes its turn among the solves.
func apart[Answer any](ctx context.Context, b *Bench, work func(ctx context.Context) (Answer, error)) (got Answer, err error) {
	type end struct {
		a   Answer
		err error
	}
	a := &b.answers
	a.mu.Lock()
	if a.busy >= mostWaiting {
		a.mu.Unlock()
		return got, &fault{Status: http.StatusServiceUnavailable, Problems: []Problem{{What: "too many computations wait already", Hint: "try again in a moment"}}}
	}
	a.busy++
	a.mu.Unlock()
	ctx, cancel := context.WithCancel(ctx)
	defer cancel()
	defer context.AfterFunc(a.ctx, cancel)()
	done := make(chan end, 1)
	go func() {
		var e end
		defer func() {
			if p := recover(); p != nil {
				e.err = fmt.Errorf("the program has failed on this design: %v", p)
			}
			a.mu.Lock()
			a.busy--
			a.mu.Unlock()
			done <- e
		}()
		select {
		case a.slot <- struct{}{}:
			defer func() { <-a.slot }()
			e.a, e.err = work(ctx)
		case <-ctx.Done():
			e.err = ctx.Err()
		}
	}()
	select {
	case e := <-done:
		return e.a, e.err
	case <-ctx.Done():
		return got, ctx.Err()
	}
}
