package optimizer

import (
	"context"
	"sync/atomic"

	"loudfor/model/bass"
)

// A search ends early when its context does, or when what it keeps would take more
// memory than it may. Every loop that can be long asks for that, from the lists that
// are made beforehand to the pairs of one block. What a loop leaves undone is open: a
// list that was cut leaves the group that asked for it open, under its ceiling; and
// where the preparation itself was cut, its bounds say nothing, and all groups are
// open under what no amplifier whatever could exceed. So the gap is honest whenever
// the end comes.

const (
	// keptShare of the memory of a program may be what a search keeps: the rest is
	// for the catalogue, and for what the collector has not picked up yet, which
	// can be as much as all that is in use.
	keptShare = 3
	// What one of them takes, with its parts.
	restBytes, packBytes, candidateBytes = 640, 320, 320
)

// halt says when a search has to end.
type halt struct {
	ctx  context.Context // nil: never
	left atomic.Int64    // bytes that may still be kept
	full atomic.Bool
}

// until makes a task end with a context, or at its bound of memory.
func (t *task) until(ctx context.Context) {
	t.halt.ctx = ctx
	t.halt.left.Store(t.Problem.MostMemory() / keptShare)
}

// hold counts what is kept, or below zero what no longer is.
func (t *task) hold(bytes int64) {
	if t.halt.left.Add(-bytes) < 0 && t.halt.ctx != nil {
		t.halt.full.Store(true)
	}
}

// ended says that the search has to end.
func (t *task) ended() bool {
	return t.halt.ctx != nil && (t.halt.full.Load() || t.halt.ctx.Err() != nil)
}

// stop is why it ended, if it has.
func (t *task) stop() Stop {
	switch {
	case t.halt.ctx == nil:
		return StopComplete
	case t.halt.full.Load():
		return StopMemory
	}
	return stopBy(t.halt.ctx)
}

// halted leaves the group at hand open if the search has to end, and says so.
func (w *worker) halted() bool {
	if !w.find.cut && !w.ended() {
		return false
	}
	w.leaveOpen()
	return true
}

func (w *worker) leaveOpen() {
	w.find.cut = true
	w.find.openBound = max(w.find.openBound, w.group.ceiling)
}

// unprepared leaves everything open where the preparation was cut, and says so. Groups
// are bounded by a source stronger than any.
func (s *search) unprepared(groups []*group) bool {
	if !s.ended() {
		return false
	}
	var h bass.Horizon
	s.total.best = nil
	s.openings(groups)
	for _, g := range groups {
		s.lookAs(&h, g, coilSource{voltage: anyVoltage, current: anyCurrent, efficiency: 1})
		g.ceiling = s.beyond(&h, g.opening)
		s.ledger.pairs[DropTime] += uint64(len(g.housing)) * s.pairSlots()
		s.openBound = max(s.openBound, g.ceiling)
		s.openFront = append(s.openFront, stair{price: g.price(g.housing[0]), level: g.ceiling})
	}
	return true
}

// anyVoltage and anyCurrent are more than any amplifier gives a coil, V and A.
const anyVoltage, anyCurrent = 1e4, 1e4
