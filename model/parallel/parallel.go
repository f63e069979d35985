// Package parallel does independent pieces of work on several processors. What
// comes out does not depend on how many there are, as long as each piece writes
// to its own place.
//
//	parallel.Each(workers, len(all), func(i int) { out[i] = f(all[i]) })
//
// A panic in a goroutine would end the program, whoever waits for it. Here it goes
// on in the goroutine that asked for the work, as if that had done it by itself, so
// that what can bear the loss of one answer needs one Caught around it.
package parallel

import (
	"fmt"
	"path"
	"runtime"
	"runtime/debug"
	"strings"
	"sync"
	"sync/atomic"
)

// Fault is a panic on its way to whoever asked for the work: a mistake of the
// programmer.
type Fault struct {
	Value any
	Place string // file and line of this module where it arose
	Stack []byte // for a report, never for a terminal
}

func (f *Fault) Error() string {
	return fmt.Sprintf("a fault of the program: %v (%s)", f.Value, f.Place)
}

// Caught does work and gives its panic back; nil: there was none.
func Caught(do func()) (fault *Fault) {
	defer func() {
		if value := recover(); value != nil {
			fault = FaultOf(value)
		}
	}()
	do()
	return nil
}

// FaultOf is the fault of a value that was recovered, for the function that did. One
// that has passed through here before is what it was.
func FaultOf(value any) *Fault {
	if fault, ok := value.(*Fault); ok {
		return fault
	}
	return &Fault{value, place(), debug.Stack()}
}

// module begins the names of this module's functions, and mains those of the program,
// which is linked under another name.
const module, mains = "loudfor/", "main."

// place is the innermost line of this module below whatever has panicked.
func place() string {
	callers := make([]uintptr, 64)
	frames := runtime.CallersFrames(callers[:runtime.Callers(1, callers)])
	panicked := false
	for {
		frame, more := frames.Next()
		ours := strings.HasPrefix(frame.Function, module) || strings.HasPrefix(frame.Function, mains)
		if panicked && ours {
			return fmt.Sprintf("%s:%d", path.Base(frame.File), frame.Line)
		}
		panicked = panicked || frame.Function == "runtime.gopanic"
		if !more {
			return "place unknown"
		}
	}
}

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
	EachWith(workers, n, func() func(int) { return do })
}

// EachWith is Each where every goroutine begins by making the function that it calls,
// with what that works in. After a panic nothing more is begun; of several, that of
// the lowest number goes on.
func EachWith(workers, n int, begin func() func(i int)) {
	var (
		next  atomic.Int64
		wait  sync.WaitGroup
		mutex sync.Mutex
		first *Fault
		least = n
	)
	for range min(workers, n) {
		wait.Go(func() {
			i := -1
			fault := Caught(func() {
				do := begin()
				for i = int(next.Add(1)) - 1; i < n; i = int(next.Add(1)) - 1 {
					do(i)
				}
			})
			if fault != nil {
				next.Store(int64(n))
				mutex.Lock()
				if i < least {
					first, least = fault, i
				}
				mutex.Unlock()
			}
		})
	}
	wait.Wait()
	if first != nil {
		panic(first)
	}
}

// Beside does work in a goroutine of its own; whoever calls wait has its panic, once
// it has ended.
func Beside(do func()) (wait func()) {
	var fault *Fault
	done := make(chan struct{})
	go func() {
		defer close(done)
		fault = Caught(do)
	}()
	return func() {
		<-done
		if fault != nil {
			panic(fault)
		}
	}
}
