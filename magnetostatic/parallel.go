package magnetostatic

import (
	"context"
	"runtime"
	"sync/atomic"
)

// team runs index ranges on all cores. A range is cut into one contiguous share a worker, which takes it when it gets there: on a busy machine the
// caller does what a worker has not begun. Nothing that is computed depends on how many shares there are or who does them. Nothing is allocated in
// run: the function is kept in a field.
type team struct {
	ctx     context.Context // once it is cancelled run does nothing; nil for none
	work    func(lo, hi int)
	n       int
	shares  int
	start   []bell       // one for each worker but the caller
	left    atomic.Int32 // shares that nobody has taken; while there is one, and until the last is done, the fields above stay as they are
	pending atomic.Int32 // shares that are not done
	done    bell
	over    atomic.Bool
}

// worthSplitting is how many unknowns make up for ringing the other workers.
const worthSplitting = 1024

// teams counts those at work. Together they take no more workers than there are cores.
var teams atomic.Int32

func newTeam() *team {
	teams.Add(1)
	t := &team{start: make([]bell, runtime.GOMAXPROCS(0)-1)}
	t.done.init()
	for w := range t.start {
		t.start[w].init()
		go t.serve(&t.start[w])
	}
	return t
}

func (t *team) serve(start *bell) {
	for heard := uint32(0); ; {
		heard = start.wait(heard)
		if t.over.Load() {
			return
		}
		if t.takeShares() {
			t.done.ring()
		}
	}
}

// takeShares does shares while there are any, and tells whether it did the last one.
func (t *team) takeShares() (last bool) {
	for k := t.left.Load(); k > 0; k = t.left.Load() {
		if t.left.CompareAndSwap(k, k-1) {
			t.share(int(k - 1))
			last = t.pending.Add(-1) == 0
		}
	}
	return last
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
	t.over.Store(true)
	for w := range t.start {
		t.start[w].ring()
	}
	t.start, t.ctx = nil, nil
	teams.Add(-1)
}

func (t *team) share(k int) {
	lo, hi := t.n*k/t.shares, t.n*(k+1)/t.shares
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
	shares := min(n, (1+len(t.start))/int(max(1, teams.Load())))
	if shares < 2 || n*size < worthSplitting {
		if n > 0 {
			work(0, n)
		}
		return
	}
	t.work, t.n, t.shares = work, n, shares
	heard := t.done.rung.Load()
	t.pending.Store(int32(shares))
	t.left.Store(int32(shares))
	for w := range shares - 1 {
		t.start[w].ring()
	}
	t.takeShares()
	for t.pending.Load() > 0 { // a ring for the range before may come late
		heard = t.done.wait(heard)
	}
}

// bell calls one goroutine that waits for it. Waking a goroutine that sleeps can take as long as many a range (70 microseconds were seen on a virtual
// machine), so the one that waits stays awake for about as long, and lets others go first meanwhile.
type bell struct {
	rung   atomic.Uint32 // how often
	asleep atomic.Bool
	wake   chan struct{}
}

func (b *bell) init() { b.wake = make(chan struct{}, 1) }

func (b *bell) ring() {
	b.rung.Add(1)
	if b.asleep.CompareAndSwap(true, false) {
		b.wake <- struct{}{}
	}
}

// stayAwake is how often a goroutine that waits looks for its bell before it sleeps.
const stayAwake = 1000

// wait returns once the bell has been rung more than heard times, and how often that is.
func (b *bell) wait(heard uint32) uint32 {
	for range stayAwake {
		if n := b.rung.Load(); n != heard {
			return n
		}
		runtime.Gosched()
	}
	for {
		b.asleep.Store(true)
		if n := b.rung.Load(); n != heard && b.asleep.CompareAndSwap(true, false) {
			return n
		}
		<-b.wake
		if n := b.rung.Load(); n != heard { // a ring that was heard before may wake it too
			return n
		}
	}
}
