// Package halt says when a search has to end: with its context, or at its bound of
// memory. Every loop that can be long asks for that, from the lists that are made
// beforehand to the pairs of one block; what it then leaves undone is open.
package halt

import (
	"context"
	"errors"
	"sync/atomic"

	"loudfor/optimizer/build"
)

const (
	// keptShare of the memory of a program may be what a search keeps: the rest is
	// for the catalogue, and for what the collector has not picked up yet, which
	// can be as much as all that is in use.
	keptShare = 3
	// What one of them takes, with its parts.
	CompletionBytes, StageBytes, CandidateBytes = 640, 320, 320
)

// A Halt says when a search has to end; the zero value says never.
type Halt struct {
	ctx  context.Context // nil: never
	left atomic.Int64    // bytes that may still be kept
	full atomic.Bool
}

// Until makes a search end with a context, or when it keeps its share of so much
// memory, in bytes.
func (h *Halt) Until(ctx context.Context, memory int64) {
	h.ctx = ctx
	h.left.Store(memory / keptShare)
}

// Hold counts bytes that are kept, or below zero what no longer is.
func (h *Halt) Hold(bytes int64) {
	if h.left.Add(-bytes) < 0 && h.ctx != nil {
		h.full.Store(true)
	}
}

// Left is how many bytes may still be kept.
func (h *Halt) Left() int64 { return h.left.Load() }

// Ended says that the search has to end.
func (h *Halt) Ended() bool { return h.ctx != nil && (h.full.Load() || h.ctx.Err() != nil) }

// Stop is why it ended, if it has.
func (h *Halt) Stop() build.Stop {
	switch {
	case h.ctx == nil:
		return build.StopComplete
	case h.full.Load():
		return build.StopMemory
	}
	return By(h.ctx)
}

// By is how a context has stopped what looked at it, if it has.
func By(ctx context.Context) build.Stop {
	switch {
	case ctx.Err() == nil:
		return build.StopComplete
	case errors.Is(ctx.Err(), context.DeadlineExceeded):
		return build.StopDeadline
	}
	return build.StopCancelled
}
