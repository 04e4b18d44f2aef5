package jobs

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"iter"
	"strings"
	"time"

	"github.com/nats-io/nats.go/jetstream"
)

// Batch is what Run is asked for.
type Batch struct {
	Payloads iter.Seq[[]byte]
	Total    int            // how many there are; 0 if not known
	Ahead    int            // most jobs that wait in the queue for this batch at a time; 256 if zero
	Again    bool           // solve those again that failed before
	Each     func(Outcome)  // is called for each payload, in the order in which they end
	Progress func(Progress) // is called when something has changed, or nil
}

// Progress is how far a batch has come.
type Progress struct {
	Total   int `json:"total"` // 0: not known
	Done    int `json:"done"`  // failed ones not counted
	Failed  int `json:"failed"`
	Running int `json:"running"`
	Known   int `json:"known"` // of those done or failed: known before
	// Elapsed and Left are in seconds; Left is by the pace so far, below 0 while that is not known.
	Elapsed float64 `json:"elapsed_s"`
	Left    float64 `json:"left_s"`
}

// open is a job that Run waits for.
type open struct {
	indices []int
	payload []byte
	running bool
	asked   time.Time // when it was last published
}

const (
	look     = 3 * time.Second  // how often answers are looked for that nobody told of
	askAgain = 30 * time.Second // how long until a job is published again that the queue may have lost
)

// Run puts payloads into the queue and waits for their answers, which Work in this or another process finds. Equal payloads are solved once. After an
// interruption another Run of the same payloads goes on where this one ended. The error is that of the context or of the queue; a job that
// fails is no error of Run.
func (q *Queue) Run(ctx context.Context, b Batch) error {
	b.Ahead = cmp.Or(b.Ahead, 256)
	watch, err := q.answers.WatchAll(ctx, jetstream.UpdatesOnly())
	if err != nil {
		return &Error{"the answers cannot be watched", "", err}
	}
	defer watch.Stop()
	next, stop := iter.Pull(b.Payloads)
	defer stop()
	r := &batchRun{q: q, Batch: b, open: map[string]*open{}, start: time.Now(), p: Progress{Total: b.Total}}
	tick := time.NewTicker(look)
	defer tick.Stop()
	more, index := true, 0
	for {
		for more && len(r.open) < b.Ahead {
			var payload []byte
			if payload, more = next(); !more {
				break
			}
			if err := r.add(ctx, index, payload); err != nil {
				return err
			}
			index++
			if len(watch.Updates()) > 0 {
				break
			}
		}
		r.tell()
		if !more && len(r.open) == 0 {
			return ctx.Err()
		}
		var idle <-chan time.Time
		if more && len(r.open) < b.Ahead {
			idle = time.After(0)
		}
		select {
		case <-ctx.Done():
			return ctx.Err()
		case e, ok := <-watch.Updates():
			if !ok {
				return &Error{"the answers can no longer be watched", "run it again: what is solved is kept", nil}
			}
			if e == nil {
				continue
			}
			if s, err := parse(e.Value()); err == nil && e.Operation() == jetstream.KeyValuePut {
				r.heard(e.Key(), s)
			}
		case <-idle:
		case <-tick.C:
			if err := r.look(ctx); err != nil {
				return err
			}
		}
	}
}

type batchRun struct {
	q *Queue
	Batch
	open   map[string]*open
	start  time.Time
	p      Progress
	solved int // in this run
	told   Progress
}

// add takes one payload: its answer is known, it is waited for already, or it goes into the queue.
func (r *batchRun) add(ctx context.Context, index int, payload []byte) error {
	key := r.q.Key(payload)
	if o := r.open[key]; o != nil {
		o.indices = append(o.indices, index)
		return nil
	}
	s, err := r.q.get(ctx, key)
	if err != nil {
		return err
	}
	if s != nil && s.State == failed && r.Again {
		err := r.q.insist(ctx, func(ctx context.Context) error { return r.q.answers.Delete(ctx, key) })
		if err != nil {
			return err
		}
		s = nil
	}
	if s != nil && s.finished() {
		r.end(s, true, index)
		return nil
	}
	o := &open{indices: []int{index}, payload: payload}
	r.open[key] = o
	return r.ask(ctx, key, o)
}

// ask puts a job into the queue. One that is there already stays as it is; for a queue that is full it waits.
func (r *batchRun) ask(ctx context.Context, key string, o *open) error {
	o.asked = time.Now()
	for {
		full := false
		err := r.q.insist(ctx, func(ctx context.Context) error {
			_, err := r.q.js.Publish(ctx, r.q.prefix+key, o.payload, jetstream.WithExpectStream(streamName))
			var refused *jetstream.APIError
			if errors.As(err, &refused) {
				switch {
				case strings.Contains(refused.Description, "per subject"):
					return nil
				case strings.Contains(refused.Description, "maximum messages"):
					full = true
					return nil
				case refused.Code == 400 || refused.ErrorCode == 10077:
					return &Error{"the queue does not take a job", "is the server's disk or its limit full?", err}
				}
			}
			return err
		})
		if err != nil || !full {
			return err
		}
		select {
		case <-ctx.Done():
			return ctx.Err()
		case <-time.After(100 * time.Millisecond):
		}
	}
}

// heard takes news of a job.
func (r *batchRun) heard(key string, s *state) {
	o := r.open[key]
	if o == nil {
		return
	}
	if o.running {
		r.p.Running--
	}
	o.running = s.State == running
	if o.running {
		r.p.Running++
	}
	if s.finished() {
		delete(r.open, key)
		r.solved++
		r.end(s, false, o.indices...)
	}
}

func (r *batchRun) end(s *state, known bool, indices ...int) {
	for i, index := range indices {
		o := s.outcome()
		o.Index, o.Known = index, known || i > 0
		if o.Known {
			r.p.Known++
		}
		if s.State == failed {
			r.p.Failed++
		} else {
			r.p.Done++
		}
		r.Each(o)
	}
}

// look asks for the answers that news was lost of, and puts jobs into the queue again that have waited long: the queue takes each only once.
func (r *batchRun) look(ctx context.Context) error {
	for key, o := range r.open {
		if time.Since(o.asked) < look {
			continue
		}
		s, err := r.q.get(ctx, key)
		if err != nil {
			return err
		}
		if s != nil {
			r.heard(key, s)
		}
		if (s == nil || !s.finished()) && time.Since(o.asked) > askAgain {
			if err := r.ask(ctx, key, o); err != nil {
				return err
			}
		}
	}
	return nil
}

func (r *batchRun) tell() {
	if r.Progress == nil {
		return
	}
	p := r.p
	if p == r.told {
		return
	}
	r.told = p
	p.Elapsed, p.Left = time.Since(r.start).Seconds(), -1
	if left := p.Total - p.Done - p.Failed; r.solved > 0 && p.Total > 0 {
		p.Left = p.Elapsed / float64(r.solved) * float64(left)
	}
	r.Progress(p)
}

// String is the progress on one line: "12 of 40 done, 2 running, 1 failed, about 20 s left".
func (p Progress) String() string {
	var b strings.Builder
	fmt.Fprintf(&b, "%d", p.Done)
	if p.Total > 0 {
		fmt.Fprintf(&b, " of %d", p.Total)
	}
	b.WriteString(" done")
	if p.Known > 0 {
		fmt.Fprintf(&b, " (%d known before)", p.Known)
	}
	fmt.Fprintf(&b, ", %d running, %d failed", p.Running, p.Failed)
	if p.Left >= 0 && p.Done+p.Failed < p.Total {
		fmt.Fprintf(&b, ", about %s left", (time.Duration(p.Left+0.5) * time.Second))
	}
	return b.String()
}
