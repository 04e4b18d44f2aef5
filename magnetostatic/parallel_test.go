package magnetostatic

import (
	"runtime"
	"sync"
	"testing"
	"time"

	"gonum.org/v1/gonum/spatial/r3"
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

// A field that many ask at once, from the first question on, says to all what it says to one: in the gap, in steel, in a magnet and far away.
func TestFieldIsReadByMany(t *testing.T) {
	p := pairProblem(t, 12, 1.30, 0.5, 2)
	places := []r3.Vec{{}, mm(0, 0, 20), mm(50, 0, 3), mm(200, 30, 40), {X: 3}}
	alone, s := solved(t, p), solved(t, p)
	var all sync.WaitGroup
	for k := range 8 {
		all.Go(func() {
			for i := range places {
				at := places[(i+k)%len(places)]
				b, h := s.At(at)
				if B, H := alone.At(at); b != B || h != H {
					t.Errorf("at %v m: %v T, asked alone %v T", at, b, B)
				}
			}
			s.Forces(make([]r3.Vec, len(p.Media)))
		})
	}
	all.Wait()
}
