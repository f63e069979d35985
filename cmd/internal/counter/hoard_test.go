package counter

import (
	"context"
	"fmt"
	"testing"

	"loudfor/catalog"
)

// However many memories there are, together they hold no more bytes than they
// may, and what was asked for last stays.
func TestAllMemoriesTogetherAreBounded(t *testing.T) {
	const each, most = 1 << 16, 20 << 16
	h := newHoard(most)
	bytes, words := newMemory[[]byte](1000, 2, h), newMemory[string](1000, 2, h)
	for i := range 200 {
		key := fmt.Sprint(i)
		if _, err := bytes.get(context.Background(), key, func(context.Context) ([]byte, error) { return make([]byte, each), nil }); err != nil {
			t.Fatal(err)
		}
		if _, err := words.get(context.Background(), key, func(context.Context) (string, error) { return string(make([]byte, each/2)), nil }); err != nil {
			t.Fatal(err)
		}
		if h.bytes() > most {
			t.Fatalf("%d bytes are held after %d, of %d", h.bytes(), i, most)
		}
		bytes.look("0") // asked for all the time
	}
	if n := bytes.size() + words.size(); n < 20 || n > 40 {
		t.Errorf("%d answers are held", n)
	}
	for _, key := range []string{"0", "199"} {
		if _, done := bytes.look(key); !done {
			t.Errorf("%s was forgotten", key)
		}
	}
	bytes.clear()
	words.clear()
	if h.bytes() != 0 {
		t.Errorf("%d bytes are held by nothing", h.bytes())
	}
	// One that is larger than everything may be is answered, and goes first.
	if got, err := bytes.get(context.Background(), "large", func(context.Context) ([]byte, error) { return make([]byte, 2*most), nil }); len(got) != 2*most || err != nil {
		t.Error(len(got), err)
	}
	if _, err := words.get(context.Background(), "small", func(context.Context) (string, error) { return "small", nil }); err != nil || h.bytes() > most {
		t.Errorf("%v, %d bytes", err, h.bytes())
	}
}

// An answer weighs what it alone holds: each thing once, and no part of the
// catalogue.
func TestWeigh(t *testing.T) {
	type node struct {
		next  *node
		bytes []byte
		part  *catalog.Part
		names map[string]string
	}
	ring := &node{bytes: make([]byte, 10_000), part: &catalog.Part{Name: string(make([]byte, 1<<20))}, names: map[string]string{"a": string(make([]byte, 5_000))}}
	ring.next = &node{next: ring, bytes: ring.bytes}
	if got := weigh(ring); got < 15_000 || got > 17_000 {
		t.Errorf("%d bytes", got)
	}
	if got := weigh(error(nil)); got != overhead {
		t.Errorf("nothing weighs %d", got)
	}
	// The ranking of the demo: some tens of kB, not some MB.
	c := open(t, nil)
	r, err := c.ranking(context.Background(), askOf(t, c, ""))
	if err != nil {
		t.Fatal(err)
	}
	if got := weigh(r); got < 20_000 || got > 2_000_000 {
		t.Errorf("a ranking weighs %d bytes", got)
	}
}

// bytes is what the hoard holds.
func (h *hoard) bytes() int64 {
	h.mu.Lock()
	defer h.mu.Unlock()
	return h.held
}
