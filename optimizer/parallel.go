package optimizer

import (
	"runtime"
	"sync"
	"sync/atomic"
)

// workers is how many goroutines to use where so many are asked for; 0: one for
// each processor.
func workers(asked int) int {
	if asked > 0 {
		return asked
	}
	return runtime.GOMAXPROCS(0)
}

// each calls do for every number below n, from so many goroutines.
func each(workers, n int, do func(i int)) {
	var next atomic.Int64
	var wait sync.WaitGroup
	for range min(workers, n) {
		wait.Go(func() {
			for i := next.Add(1) - 1; i < int64(n); i = next.Add(1) - 1 {
				do(int(i))
			}
		})
	}
	wait.Wait()
}
