package counter

import (
	"context"
	"errors"
	"fmt"
	"sync"
	"sync/atomic"
	"testing"
	"time"
)

func TestAnswersAreComputedOnce(t *testing.T) {
	m := newMemory[int](8, 2, newHoard(1<<30))
	var computed atomic.Int32
	release := make(chan struct{})
	var all sync.WaitGroup
	for range 20 {
		all.Go(func() {
			got, err := m.get(context.Background(), "q", func(context.Context) (int, error) {
				computed.Add(1)
				<-release
				return 42, nil
			})
			if got != 42 || err != nil {
				t.Errorf("%d, %v", got, err)
			}
		})
	}
	until(t, "all of them wait", func() bool { return m.waiting("q") == 20 })
	close(release)
	all.Wait()
	if n := computed.Load(); n != 1 {
		t.Errorf("computed %d times", n)
	}
	if got, done := m.look("q"); got != 42 || !done {
		t.Errorf("kept: %d, %t", got, done)
	}
}

// waiting is how many wait for an answer.
func (m *memory[T]) waiting(key string) int {
	m.hoard.mu.Lock()
	defer m.hoard.mu.Unlock()
	if e := m.entries[key]; e != nil {
		return e.waiting
	}
	return 0
}

// When nobody waits any more a search is stopped and forgotten, unless it is
// meant to be kept.
func TestNobodyWaits(t *testing.T) {
	for _, kept := range []bool{false, true} {
		m := newMemory[int](8, 2, newHoard(1<<30))
		begun, stopped, release := make(chan struct{}), make(chan struct{}), make(chan struct{})
		compute := func(ctx context.Context) (int, error) {
			close(begun)
			select {
			case <-ctx.Done():
				close(stopped)
				return 0, ctx.Err()
			case <-release:
				return 7, nil
			}
		}
		if kept {
			if _, done, err := m.begin("q", compute); done || err != nil {
				t.Fatal(done, err)
			}
		}
		ctx, stop := context.WithCancel(context.Background())
		go func() { <-begun; stop() }()
		if _, err := m.get(ctx, "q", compute); !errors.Is(err, context.Canceled) {
			t.Fatalf("kept %t: %v", kept, err)
		}
		if !kept {
			<-stopped
			until(t, "nothing is left", func() bool { return m.size() == 0 })
			continue
		}
		close(release)
		if got, err := m.get(context.Background(), "q", compute); got != 7 || err != nil {
			t.Errorf("a search that is kept was stopped: %d, %v", got, err)
		}
	}
}

func TestMemoryIsBounded(t *testing.T) {
	m := newMemory[int](4, 2, newHoard(1<<30))
	for i := range 50 {
		got, err := m.get(context.Background(), fmt.Sprint(i), func(context.Context) (int, error) { return i, nil })
		if got != i || err != nil {
			t.Fatal(got, err)
		}
		m.look("0") // asked for all the time: it stays
		if m.size() > 4 {
			t.Fatalf("%d answers kept", m.size())
		}
	}
	if _, done := m.look("0"); !done {
		t.Error("the answer that was asked for last was forgotten")
	}
	if _, done := m.look("48"); !done {
		t.Error("a recent answer was forgotten")
	}
	// When all of them are being waited for, a further one is refused.
	m = newMemory[int](2, 2, newHoard(1<<30))
	release := make(chan struct{})
	defer close(release)
	for i := range 2 {
		go m.get(context.Background(), fmt.Sprint(i), func(context.Context) (int, error) { <-release; return 0, nil })
	}
	for m.size() < 2 {
		time.Sleep(time.Millisecond)
	}
	if _, err := m.get(context.Background(), "x", func(context.Context) (int, error) { return 0, nil }); !errors.Is(err, errBusy) {
		t.Errorf("a third one: %v", err)
	}
}

// No more run at once than there are workers.
func TestWorkers(t *testing.T) {
	m := newMemory[int](64, 2, newHoard(1<<30))
	var now, most atomic.Int32
	var all sync.WaitGroup
	for i := range 30 {
		all.Go(func() {
			_, _ = m.get(context.Background(), fmt.Sprint(i), func(context.Context) (int, error) {
				n := now.Add(1)
				for {
					if old := most.Load(); n <= old || most.CompareAndSwap(old, n) {
						break
					}
				}
				time.Sleep(time.Millisecond)
				now.Add(-1)
				return 0, nil
			})
		})
	}
	all.Wait()
	if most.Load() > 2 {
		t.Errorf("%d ran at once", most.Load())
	}
}

// An answer that failed for good is kept as a failure; one that was cut short
// is asked again.
func TestFailures(t *testing.T) {
	m := newMemory[int](4, 1, newHoard(1<<30))
	wrong := errors.New("wrong")
	n := 0
	compute := func(context.Context) (int, error) { n++; return 0, wrong }
	for range 3 {
		if _, err := m.get(context.Background(), "q", compute); !errors.Is(err, wrong) {
			t.Fatal(err)
		}
	}
	if n != 1 {
		t.Errorf("computed %d times", n)
	}
	m.clear()
	if _, err := m.get(context.Background(), "q", func(context.Context) (int, error) { return 3, nil }); err != nil {
		t.Errorf("after clearing: %v", err)
	}
}

// size is how many answers are held or being computed.
func (m *memory[T]) size() int {
	m.hoard.mu.Lock()
	defer m.hoard.mu.Unlock()
	return len(m.entries)
}
