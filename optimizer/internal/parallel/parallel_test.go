package parallel

import (
	"runtime"
	"sync/atomic"
	"testing"
)

func TestWorkers(t *testing.T) {
	for _, c := range []struct{ asked, want int }{{0, runtime.GOMAXPROCS(0)}, {-1, runtime.GOMAXPROCS(0)}, {1, 1}, {7, 7}} {
		if got := Workers(c.asked); got != c.want {
			t.Errorf("%d asked for: %d", c.asked, got)
		}
	}
}

// Each number is done once, by as many as are asked for and no more.
func TestEach(t *testing.T) {
	for _, n := range []int{0, 1, 5, 100} {
		for _, workers := range []int{1, 3, 200} {
			done := make([]atomic.Int32, n)
			var at, most atomic.Int32
			Each(workers, n, func(i int) {
				now := at.Add(1)
				for m := most.Load(); now > m && !most.CompareAndSwap(m, now); m = most.Load() {
				}
				done[i].Add(1)
				runtime.Gosched()
				at.Add(-1)
			})
			for i := range done {
				if k := done[i].Load(); k != 1 {
					t.Errorf("%d of %d, %d workers: done %d times", i, n, workers, k)
				}
			}
			if int(most.Load()) > workers {
				t.Errorf("%d of %d at a time", most.Load(), workers)
			}
		}
	}
}
