package polewright

import (
	"context"
	"runtime"
	"sync"
	"sync/atomic"
)

// onAllCores calls do for 0 … n-1, each index once, on all cores.
func onAllCores(n int, do func(i int)) {
	var next atomic.Int64
	var all sync.WaitGroup
	for range min(n, runtime.GOMAXPROCS(0)) {
		all.Go(func() {
			for i := int(next.Add(1)) - 1; i < n; i = int(next.Add(1)) - 1 {
				do(i)
			}
		})
	}
	all.Wait()
}

// sideBySide calls functions at the same time and waits for all. The first error cancels the context of the others.
func sideBySide(ctx context.Context, do ...func(context.Context) error) error {
	ctx, stop := context.WithCancelCause(ctx)
	defer stop(nil)
	var all sync.WaitGroup
	for _, f := range do {
		all.Go(func() {
			if err := f(ctx); err != nil {
				stop(err)
			}
		})
	}
	all.Wait()
	return context.Cause(ctx)
}
