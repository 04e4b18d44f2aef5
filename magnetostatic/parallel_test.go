package magnetostatic

import (
	"runtime"
	"testing"
	"time"
)

// Every item of every range is worked on once, whether the workers are awake or asleep when it begins.
func TestTeamSharesAll(t *testing.T) {
	defer runtime.GOMAXPROCS(runtime.GOMAXPROCS(3))
	tm := newTeam()
	defer tm.close()
	times := make([]int, 1000)
	const ranges = 3000
	for i := range ranges {
		if i%200 == 0 {
			time.Sleep(time.Millisecond)
		}
		tm.run(len(times), worthSplitting, func(lo, hi int) {
			for k := range times[lo:hi] {
				times[lo+k]++
			}
		})
	}
	for k, n := range times {
		if n != ranges {
			t.Fatalf("item %d was worked on %d times in %d ranges", k, n, ranges)
		}
	}
}
