package parallel

import (
	"errors"
	"runtime"
	"strings"
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

// A panic reaches whoever asked for the work, with the place where it arose, whatever
// the number of goroutines; of several, that of the lowest number, and nothing more is
// begun.
func TestPanics(t *testing.T) {
	for _, workers := range []int{1, 2, 8} {
		var done atomic.Int32
		fault := Caught(func() {
			Each(workers, 1000, func(i int) {
				if done.Add(1); i == 0 {
					for workers > 1 && done.Load() < 2 {
						runtime.Gosched()
					}
					panic("planted")
				} else if i == 1 {
					panic("behind it")
				}
				runtime.Gosched()
			})
		})
		if fault == nil || fault.Value != "planted" || !strings.HasPrefix(fault.Place, "parallel_test.go:") || !strings.Contains(string(fault.Stack), "TestPanics") {
			t.Errorf("%d workers: %v", workers, fault)
		}
		if n := done.Load(); workers == 1 && n > 1 {
			t.Errorf("%d workers: %d pieces were begun", workers, n)
		}
	}
	fault := Caught(func() { EachWith(2, 3, func() func(int) { panic("before the first") }) })
	if fault == nil || fault.Value != "before the first" {
		t.Error(fault)
	}
	var zero *Fault
	if fault := Caught(func() { _ = zero.Value }); fault == nil || !strings.HasPrefix(fault.Place, "parallel_test.go:") {
		t.Errorf("a fault of the runtime: %v", fault)
	}
	if fault := Caught(func() {}); fault != nil {
		t.Error(fault)
	}
}

// Work beside is waited for as often as one likes, and its panic is there each time.
func TestBeside(t *testing.T) {
	x := 0
	wait := Beside(func() { x = 7 })
	wait()
	if wait(); x != 7 {
		t.Error(x)
	}
	broken := errors.New("broken")
	wait = Beside(func() { panic(broken) })
	for range 2 {
		if fault := Caught(wait); fault == nil || fault.Value != error(broken) {
			t.Error(fault)
		}
	}
}
