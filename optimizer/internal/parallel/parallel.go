// Package parallel does independent pieces of work on several processors. What
// comes out does not depend on how many there are, as long as each piece writes
// to its own place.
package parallel

import (
	"runtime"
	"sync"
	"sync/atomic"
)

// Workers is how many goroutines to use where so many are asked for; 0: one for
// each processor.
func Workers(asked int) int {
	if asked > 0 {
		return asked
	}
	return runtime.GOMAXPROCS(0)
}

// Each calls do for every number below n, from so many goroutines.
func Each(workers, n int, do func(i int)) {
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
