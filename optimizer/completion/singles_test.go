package completion

import (
	"math/rand/v2"
	"testing"

	"loudfor/optimizer/pricing"
)

// Single pieces stand in the order of sets, in whatever order they were added.
func TestSinglesAreOrderedAsSets(t *testing.T) {
	var shelf [8]*pricing.Item
	for i := range shelf {
		shelf[i] = &pricing.Item{ID: i}
	}
	g := rand.New(rand.NewPCG(1, 0x73696e67))
	draw := func() (items []*pricing.Item, set pricing.Set) {
		for _, i := range g.Perm(len(shelf))[:g.IntN(len(singles{}))] {
			items, set = append(items, shelf[i]), set.With(pricing.Use{Item: shelf[i], Count: 1})
		}
		return append(items, nil), set
	}
	sign := func(n int) int { return max(-1, min(1, n)) }
	for range 2000 {
		x, a := draw()
		y, b := draw()
		s, o := singlesOf(x...), singlesOf(y...)
		if got, want := s.compare(&o), sign(a.Compare(b)); got != want {
			t.Fatalf("%v and %v: %d, as sets %d", a.Key(), b.Key(), got, want)
		}
	}
}

// Of what stands against something, what has one bass amplifier, that with most, may
// fail at once; the rest holds in any build.
func TestStandingWithoutOneAmplifier(t *testing.T) {
	a, b := &pricing.Item{ID: 1}, &pricing.Item{ID: 2}
	var s standing
	for i, c := range []struct {
		own  *pricing.Item
		free bool
		want int
	}{{a, false, 0}, {a, false, 0}, {b, false, 1}, {a, true, 2}, {b, false, 3}, {b, false, 3}, {nil, true, 4}} {
		if got := s.add(c.own, c.free); got != c.want {
			t.Errorf("after %d: %d hold, want %d", i+1, got, c.want)
		}
	}
}
