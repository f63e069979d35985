package counter

import (
	"container/list"
	"context"
	"errors"

	"loudfor/model/parallel"
)

// What was searched once is kept: a memory holds answers under their question,
// computes each only once however many people ask for it, and forgets the one
// that was not asked for the longest when there are too many, or when all
// memories together hold too many bytes; see hoard.go.
//
// A computation belongs to those who wait for it: when the last of them has
// gone, it is stopped, unless it was started to be kept for later. So a visitor
// who moves a slider leaves no trail of searches that nobody will read.

// errBusy says that more is being computed than the program lets in.
var errBusy = errors.New("too many searches are waiting; try again in a moment")

type memory[T any] struct {
	most    int              // answers kept, those being computed included
	workers chan struct{}    // a place for each computation that may run at once
	tell    func(key string) // called when an answer stands; nil: nobody

	hoard   *hoard // whose lock guards what follows
	entries map[string]*entry[T]
}

type entry[T any] struct {
	key     string
	done    chan struct{} // closed when value and err stand
	value   T
	err     error
	stop    context.CancelFunc
	waiting int  // people
	kept    bool // goes on when nobody waits
	place   *list.Element
	owner   *memory[T]
	bytes   int64 // 0 while it is computed
}

func (e *entry[T]) weight() int64 { return e.bytes }

func (e *entry[T]) drop() { e.owner.drop(e) }

func newMemory[T any](most, workers int, h *hoard) *memory[T] {
	return &memory[T]{most: most, workers: make(chan struct{}, workers), entries: map[string]*entry[T]{}, hoard: h}
}

// get gives the answer to a question, computing it if nobody has, and waits for
// it as long as the context lasts.
func (m *memory[T]) get(ctx context.Context, key string, compute func(context.Context) (T, error)) (T, error) {
	e, err := m.enter(key, false, compute)
	if err != nil {
		var none T
		return none, err
	}
	select {
	case <-e.done:
		m.leave(e)
		return e.value, e.err
	case <-ctx.Done():
		m.leave(e)
		var none T
		return none, ctx.Err()
	}
}

// begin starts a computation that goes on without anybody waiting, if it is
// neither known nor under way. It gives the answer if that stands.
func (m *memory[T]) begin(key string, compute func(context.Context) (T, error)) (value T, done bool, err error) {
	e, err := m.enter(key, true, compute)
	if err != nil {
		return value, false, err
	}
	defer m.leave(e)
	select {
	case <-e.done:
		return e.value, true, e.err
	default:
		return value, false, nil
	}
}

// look gives an answer that stands already.
func (m *memory[T]) look(key string) (value T, done bool) {
	m.hoard.mu.Lock()
	defer m.hoard.mu.Unlock()
	e := m.entries[key]
	if e == nil {
		return value, false
	}
	select {
	case <-e.done:
		m.hoard.order.MoveToFront(e.place)
		return e.value, e.err == nil
	default:
		return value, false
	}
}

func (m *memory[T]) enter(key string, kept bool, compute func(context.Context) (T, error)) (*entry[T], error) {
	m.hoard.mu.Lock()
	defer m.hoard.mu.Unlock()
	e := m.entries[key]
	if e == nil {
		if !m.room() {
			return nil, errBusy
		}
		ctx, stop := context.WithCancel(context.Background())
		e = &entry[T]{key: key, done: make(chan struct{}), stop: stop, owner: m}
		e.place = m.hoard.order.PushFront(e)
		m.entries[key] = e
		go m.run(ctx, e, compute)
	}
	m.hoard.order.MoveToFront(e.place)
	e.waiting++
	e.kept = e.kept || kept
	return e, nil
}

// room makes place for one more: the answer that nobody asked for the longest
// goes, else the computation that nobody waits for.
func (m *memory[T]) room() bool {
	if len(m.entries) < m.most {
		return true
	}
	for at := m.hoard.order.Back(); at != nil; at = at.Prev() {
		if e, mine := at.Value.(*entry[T]); mine && e.owner == m && e.waiting == 0 {
			m.drop(e)
			return true
		}
	}
	return false
}

func (m *memory[T]) drop(e *entry[T]) {
	e.stop()
	if m.entries[e.key] == e {
		delete(m.entries, e.key)
		m.hoard.order.Remove(e.place)
		m.hoard.held -= e.bytes
	}
}

func (m *memory[T]) run(ctx context.Context, e *entry[T], compute func(context.Context) (T, error)) {
	defer func() {
		close(e.done)
		e.stop()
		if m.tell != nil {
			m.tell(e.key)
		}
	}()
	select {
	case m.workers <- struct{}{}:
		defer func() { <-m.workers }()
	case <-ctx.Done():
		e.err = ctx.Err()
	}
	if e.err == nil {
		if fault := parallel.Caught(func() { e.value, e.err = compute(ctx) }); fault != nil {
			e.err = fault // of one answer: the page goes on
		}
		if ctx.Err() != nil && e.err == nil {
			e.err = ctx.Err() // cut short: no answer to keep
		}
	}
	bytes := weigh(e.value)
	m.hoard.mu.Lock()
	defer m.hoard.mu.Unlock()
	switch {
	case ctx.Err() != nil:
		m.drop(e)
	case m.entries[e.key] == e: // nobody forgot it meanwhile
		e.bytes = bytes
		m.hoard.weighed(e.place, bytes)
	}
}

func (m *memory[T]) leave(e *entry[T]) {
	m.hoard.mu.Lock()
	defer m.hoard.mu.Unlock()
	e.waiting--
	if e.waiting > 0 || e.kept {
		return
	}
	select {
	case <-e.done:
	default:
		m.drop(e)
	}
}

// clear forgets everything and stops what is under way.
func (m *memory[T]) clear() {
	m.hoard.mu.Lock()
	defer m.hoard.mu.Unlock()
	for _, e := range m.entries {
		m.drop(e)
	}
}
