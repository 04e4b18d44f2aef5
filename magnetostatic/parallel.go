package magnetostatic

import (
	"context"
	"runtime"
	"sync/atomic"
)

// team runs index ranges on all cores. A range is cut into one contiguous share a worker, so results never depend on timing. Nothing is
// allocated in run: the function is kept in a field and workers wait on channels.
type team struct {
	ctx     context.Context // once it is cancelled run does nothing; nil for none
	workers int
	work    func(lo, hi int)
	n       int
	wake    []chan struct{}
	pending atomic.Int32
	done    chan struct{}
}

// worthSplitting is how many unknowns make up for waking the other workers (about 10 microseconds).
const worthSplitting = 4096

func newTeam() *team {
	t := &team{workers: runtime.GOMAXPROCS(0), done: make(chan struct{}, 1)}
	for w := 1; w < t.workers; w++ {
		c := make(chan struct{}, 1)
		t.wake = append(t.wake, c)
		go func() {
			for range c {
				t.share(w)
				if t.pending.Add(-1) == 0 {
					t.done <- struct{}{}
				}
			}
		}()
	}
	return t
}

// cancelled is the error of the team's context.
func (t *team) cancelled() error {
	if t.ctx == nil {
		return nil
	}
	return t.ctx.Err()
}

// close ends the workers; from then on whoever calls run does all work itself.
func (t *team) close() {
	for _, c := range t.wake {
		close(c)
	}
	t.workers, t.wake, t.ctx = 1, nil, nil
}

func (t *team) share(w int) {
	lo, hi := t.n*w/t.workers, t.n*(w+1)/t.workers
	if lo < hi {
		t.work(lo, hi)
	}
}

// run calls work over [0, n), split when n times the size of an item is worth it. After a cancellation all numbers are worth nothing: whoever
// returns one asks for it first.
func (t *team) run(n, size int, work func(lo, hi int)) {
	if t.cancelled() != nil {
		return
	}
	if t.workers == 1 || n < 2 || n*size < worthSplitting {
		if n > 0 {
			work(0, n)
		}
		return
	}
	t.work, t.n = work, n
	t.pending.Store(int32(t.workers - 1))
	for _, c := range t.wake {
		c <- struct{}{}
	}
	t.share(0)
	<-t.done
	t.work = nil
}
