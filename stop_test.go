package polewright

import (
	"context"
	"errors"
	"testing"
	"time"
)

// Run ends soon after its context is cancelled, at whatever stage: meshing, the solve, forces and stray field, demagnetization, the ledger. The
// bound is generous for slow and busy machines.
func TestRunStops(t *testing.T) {
	d := template(t, "framed-pair")
	start := time.Now()
	if _, err := Run(context.Background(), d, Options{Accuracy: Standard}); err != nil {
		t.Fatal(err)
	}
	whole := time.Since(start)
	var worst time.Duration
	stopped := 0
	for i := range 6 {
		ctx, cancel := context.WithCancel(context.Background())
		var at time.Time
		timer := time.AfterFunc(whole*time.Duration(2*i+1)/14, func() {
			at = time.Now()
			cancel()
		})
		_, err := Run(ctx, d, Options{Accuracy: Standard})
		if timer.Stop() {
			cancel()
			continue
		}
		<-ctx.Done()
		stopped++
		worst = max(worst, time.Since(at))
		if !errors.Is(err, context.Canceled) {
			t.Errorf("cancelled after %v of %v: %v", whole*time.Duration(2*i+1)/14, whole, err)
		}
	}
	t.Logf("of %v: stopped %d times, within %v", whole, stopped, worst)
	if stopped < 3 || worst > time.Second {
		t.Errorf("stopped %d times, within %v", stopped, worst)
	}
}
