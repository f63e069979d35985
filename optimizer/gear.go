package optimizer

import (
	"context"

	"loudfor/catalog"
	"loudfor/model/hookup"
	"loudfor/optimizer/build"
	"loudfor/optimizer/internal/halt"
	"loudfor/optimizer/pricing"
)

// A gear is the parts of a book as what they are to the bass: cones, sources and
// cables, and the classes of equal coils that were asked for.
type gear struct {
	*pricing.Book
	halt.Halt

	depth int // how many builds are ranked

	drivers  map[*pricing.Item]*cone
	amps     map[*pricing.Item]*power
	kits     map[*pricing.Item]*cable
	usable   []*pricing.Item // kits, lowest resistance first
	kitTiers []kitTier       // of usable kits by capacity

	classes map[classKey]*class
	order   []*class // in the order in which they were asked for
	wirings *wirings
}

// newGear rates the parts of a book for the first so many builds. What another gear
// of the same car knows is taken over.
func newGear(b *pricing.Book, depth int, near *gear) *gear {
	t := &gear{Book: b, depth: depth,
		drivers: make(map[*pricing.Item]*cone),
		amps:    make(map[*pricing.Item]*power),
		kits:    make(map[*pricing.Item]*cable),
		classes: make(map[classKey]*class),
	}
	if t.depth <= 0 {
		t.depth = build.DefaultTop
	}
	t.completeDrivers()
	for _, it := range t.Shelf.Kinds[catalog.KindAmplifier] {
		t.amps[it] = ratePower(it.Part.Amplifier.Spec)
	}
	for _, it := range t.Shelf.Kinds[catalog.KindKit] {
		t.kits[it] = t.layCable(it)
	}
	t.usable = t.usableKits()
	t.sortKits()
	if near != nil {
		t.wirings = near.wirings
	} else {
		t.wirings = &wirings{known: make(map[planKey][]hookup.Plan)}
	}
	return t
}

// until makes a search end with a context, or at its bound of memory.
func (t *gear) until(ctx context.Context) { t.Halt.Until(ctx, t.Problem.MostMemory()) }
