package polewright

import (
	"context"
	"errors"
	"testing"
	"time"
)

// stopping runs a design and cancels it when it has told of its progress so often. It tells whether it came to that before the end.
func stopping(t testing.TB, calls int) (stopped bool, after time.Duration) {
	ctx, cancel := context.WithCancel(t.Context())
	defer cancel()
	var at time.Time
	_, err := Run(ctx, template(t, "framed-pair"), Options{Accuracy: Draft, Progress: func(_ string, done float64) {
		if calls--; calls == 0 && done < 1 {
			at = time.Now()
			cancel()
		}
	}})
	if at.IsZero() {
		if err != nil {
			t.Fatal(err)
		}
		return false, 0
	}
	if !errors.Is(err, context.Canceled) {
		t.Errorf("cancelled, it gave %v", err)
	}
	return true, time.Since(at)
}

// Run ends with its context's error at whatever stage it is cancelled: meshing, the solve, forces and stray field, demagnetization, the ledger.
func TestRunStops(t *testing.T) {
	calls := 1
	for {
		if stopped, _ := stopping(t, calls); !stopped {
			break
		}
		calls++
	}
	if calls < 4 {
		t.Errorf("it told of its progress %d times", calls-1)
	}
}

// BenchmarkStop gives the longest time from a cancellation to the end of Run. 200 ms are aimed at.
func BenchmarkStop(b *testing.B) {
	var worst time.Duration
	for b.Loop() {
		for calls := 1; ; calls++ {
			stopped, after := stopping(b, calls)
			if !stopped {
				break
			}
			worst = max(worst, after)
		}
	}
	b.ReportMetric(worst.Seconds()*1e3, "ms-to-stop")
}
