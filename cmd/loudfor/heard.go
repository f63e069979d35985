package main

import (
	"context"
	"time"

	"loudfor/model/parallel"
)

// Reading is work that no library stops halfway: a workbook is unpacked, a file
// of YAML parsed, whole or not at all. It changes nothing, so where an interrupt
// comes it is left to itself, and the program, which ends then, need not wait
// for it. What writes must not be done so.

// grace is how long work that does hear of an interrupt has to end in order.
const grace = 150 * time.Millisecond

// heard does work and gives what came of it, or context.Canceled soon after an
// interrupt.
func heard[T any](ctx context.Context, work func() (T, error)) (T, error) {
	type outcome struct {
		value T
		err   error
		fault *parallel.Fault
	}
	done := make(chan outcome, 1)
	go func() {
		var o outcome
		// A fault has to reach the top, as it would have from there.
		o.fault = parallel.Caught(func() { o.value, o.err = work() })
		done <- o
	}()
	var o outcome
	select {
	case o = <-done:
	case <-ctx.Done():
		select {
		case o = <-done:
		case <-time.After(grace):
			o.err = ctx.Err()
		}
	}
	if o.fault != nil {
		panic(o.fault)
	}
	return o.value, o.err
}
