package magnetostatic

import (
	"context"
	"runtime"
	"sync/atomic"
)

// team runs index ranges on all cores. A range is cut into one contiguous part a worker and each part into pieces: a worker takes the pieces of its
// own part, so that it meets the numbers that it met before, and then what is left of the others', so that nobody waits for one that has more to do
// or that the machine is slow to wake. Nothing that is computed depends on how many pieces there are or who does them. Nothing is allocated in run:
// the function is kept in a field.
type team struct {
	ctx     context.Context // once it is cancelled run does nothing; nil for none
	work    func(lo, hi int)
	n       int
	parts   int
	pieces  int       // of each part
	left    []counter // pieces of each part that nobody has taken; while there are any, and until the last is done, the fields above stay as they are
	pending counter   // pieces that are not done
	start   []bell    // of each worker but the caller, who is the first
	done    bell
	over    atomic.Bool
}

// counter has a cache line of its own.
type counter struct {
	_ [60]byte
	atomic.Int32
	_ [64]byte
}

const (
	worthSplitting = 1024 // unknowns that make up for ringing the other workers
	worthTaking    = 2048 // unknowns of a piece
	mostPieces     = 8
)

// teams counts those at work. Together they take no more workers than there are cores.
var teams atomic.Int32

func newTeam() *team {
	teams.Add(1)
	cores := runtime.GOMAXPROCS(0)
	t := &team{start: make([]bell, cores-1), left: make([]counter, cores)}
	t.done.init()
	for w := range t.start {
		t.start[w].init()
		go t.serve(w+1, &t.start[w])
	}
	return t
}

func (t *team) serve(worker int, start *bell) {
	for heard := uint32(0); ; {
		heard = start.wait(heard)
		if t.over.Load() {
			return
		}
		if t.takePieces(worker) {
			t.done.ring()
		}
	}
}

// takePieces does pieces while there are any, and tells whether it did the last one.
func (t *team) takePieces(worker int) (last bool) {
	for i := range t.left {
		part := (worker + i) % len(t.left)
		left := &t.left[part]
		for k := left.Load(); k > 0; k = left.Load() {
			if left.CompareAndSwap(k, k-1) {
				at, all := part*t.pieces+t.pieces-int(k), t.parts*t.pieces
				if lo, hi := t.n*at/all, t.n*(at+1)/all; lo < hi {
					t.work(lo, hi)
				}
				last = t.pending.Add(-1) == 0
			}
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
	t.start, t.ctx, t.work = nil, nil, nil
	teams.Add(-1)
}

// run calls work over [0, n), split when n times the size of an item is worth it. After a cancellation all numbers are worth nothing: whoever
// returns one asks for it first.
func (t *team) run(n, size int, work func(lo, hi int)) {
	if t.cancelled() != nil {
		return
	}
	parts := min(n, (1+len(t.start))/int(max(1, teams.Load())))
	if parts < 2 || n*size < worthSplitting {
		if n > 0 {
			work(0, n)
		}
		return
	}
	t.work, t.n, t.parts = work, n, parts
	t.pieces = max(1, min(mostPieces, n/parts, n*size/(parts*worthTaking)))
	heard := t.done.rung.Load()
	t.pending.Store(int32(parts * t.pieces))
	for w := range parts {
		t.left[w].Store(int32(t.pieces))
	}
	for w := range parts - 1 {
		t.start[w].ring()
	}
	t.takePieces(0)
	for range alert {
		if t.pending.Load() == 0 {
			return
		}
	}
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
	if b.asleep.Load() && b.asleep.CompareAndSwap(true, false) {
		b.wake <- struct{}{}
	}
}

// How often a goroutine that waits looks for its bell before it lets others go first at each look, and before it sleeps.
const (
	alert     = 1000
	stayAwake = 1000
)

// wait returns once the bell has been rung more than heard times, and how often that is.
func (b *bell) wait(heard uint32) uint32 {
	for look := range alert + stayAwake {
		if n := b.rung.Load(); n != heard {
			return n
		}
		if look >= alert {
			runtime.Gosched()
		}
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
