package jobs

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"strings"
	"sync"
	"time"

	"github.com/nats-io/nats.go"
	"github.com/nats-io/nats.go/jetstream"
)

// Work solves jobs of the queue, n at a time, until ctx ends or the queue is closed, which is no error. What is begun then is given back.
func (q *Queue) Work(ctx context.Context, n int, solve Solve) error {
	var wg sync.WaitGroup
	errs := make([]error, n)
	ctx, stop := context.WithCancel(ctx)
	defer stop()
	for i := range n {
		wg.Go(func() {
			if errs[i] = q.work(ctx, solve); errs[i] != nil {
				stop()
			}
		})
	}
	wg.Wait()
	return errors.Join(errs...)
}

func (q *Queue) work(ctx context.Context, solve Solve) error {
	var from jetstream.Consumer
	for ctx.Err() == nil && !q.closed.Load() {
		if from == nil {
			err := q.insist(ctx, func(ctx context.Context) (err error) {
				from, err = q.jobsFor(ctx)
				return err
			})
			if err != nil {
				break
			}
		}
		// One job at a time, so that a worker that dies holds no others.
		once, cancel := context.WithTimeout(ctx, 5*time.Second)
		m, err := from.Next(jetstream.FetchContext(once))
		cancel()
		switch {
		case err == nil:
			if err := q.solveOne(ctx, m, solve); err != nil && ctx.Err() == nil && !q.closed.Load() {
				return err
			}
		case errors.Is(err, nats.ErrConnectionClosed):
			if q.closed.Load() {
				return nil
			}
			return &Error{"the connection to the queue was closed", "", err}
		case errors.Is(err, jetstream.ErrConsumerNotFound) || errors.Is(err, jetstream.ErrConsumerDeleted):
			from = nil
		case !errors.Is(err, nats.ErrTimeout) && !errors.Is(err, context.DeadlineExceeded) && !errors.Is(err, jetstream.ErrNoMessages):
			from = nil
			select {
			case <-ctx.Done():
			case <-time.After(200 * time.Millisecond): // the server restarts
			}
		}
	}
	return nil
}

// farewell is how long a worker that was asked to stop may take to store its answer, or to give its job back.
const farewell = 3 * time.Second

// overstay is ctx, but ends a farewell after it.
func overstay(ctx context.Context) (context.Context, context.CancelFunc) {
	late, cancel := context.WithCancel(context.WithoutCancel(ctx))
	forget := context.AfterFunc(ctx, func() { time.AfterFunc(farewell, cancel) })
	return late, func() { forget(); cancel() }
}

// solveOne solves one job and stores its answer before it takes it off the queue.
func (q *Queue) solveOne(ctx context.Context, m jetstream.Msg, solve Solve) error {
	key := strings.TrimPrefix(m.Subject(), q.prefix)
	if key != q.Key(m.Data()) {
		return m.TermWithReason("the key is not that of the job")
	}
	late, cancel := overstay(ctx)
	defer cancel()
	s := &state{State: running, Attempts: 1, Worker: q.o.Name}
	first, err := q.begin(late, key, s)
	if err != nil {
		return err
	}
	if !first {
		if s, err = q.get(late, key); err != nil {
			return err
		}
		if s == nil { // taken away just now, to be solved again
			s = &state{}
		}
		if s.finished() { // and its worker died before it said so
			_ = m.Ack()
			return nil
		}
		s.Worker = q.o.Name
		if s.Attempts >= q.o.Attempts {
			s.State, s.Error = failed, fmt.Sprintf("given up: the process that solved it ended %d times before there was an answer", s.Attempts)
			return q.finish(late, m, key, s)
		}
		s.State, s.Attempts = running, s.Attempts+1
		if err := q.put(late, key, s); err != nil {
			return err
		}
	}
	alive := q.keepAlive(m)
	start := time.Now()
	answer, err := guarded(ctx, solve, m.Data())
	s.Seconds = time.Since(start).Seconds()
	if ctx.Err() != nil && err != nil {
		alive()
		s.State, s.Attempts, s.Seconds = waiting, s.Attempts-1, 0
		if err := q.put(late, key, s); err != nil {
			return err
		}
		if err := m.Nak(); err != nil {
			return err
		}
		return q.conn.FlushWithContext(late)
	}
	defer alive()
	switch {
	case err != nil:
		s.State, s.Error = failed, err.Error()
	case json.Valid(answer):
		s.State, s.Answer = done, answer
	default:
		s.State, s.Bytes = done, answer
	}
	return q.finish(late, m, key, s)
}

// finish stores an answer and takes the job off the queue, in this order, and does not wait for the latter: where it fails the job comes again, and
// is known then.
func (q *Queue) finish(ctx context.Context, m jetstream.Msg, key string, s *state) error {
	if err := q.put(ctx, key, s); err != nil {
		return err
	}
	_ = m.Ack()
	return nil
}

// keepAlive tells the server that a job is being worked on until the function that it returns is called.
func (q *Queue) keepAlive(m jetstream.Msg) (stop func()) {
	quit := make(chan struct{})
	var gone sync.WaitGroup
	gone.Go(func() {
		tick := time.NewTicker(q.o.AckWait / 4)
		defer tick.Stop()
		for {
			select {
			case <-quit:
				return
			case <-tick.C:
				m.InProgress() // where it fails the job comes again, and is known then
			}
		}
	})
	return func() {
		close(quit)
		gone.Wait()
	}
}
