package drive

import (
	"context"

	"loudfor/catalog"
	"loudfor/model/hookup"
	"loudfor/optimizer/build"
	"loudfor/optimizer/internal/halt"
	"loudfor/optimizer/memo"
	"loudfor/optimizer/pricing"
)

// A Gear is the parts of a book as what they are to the bass: cones, sources and
// cables, and the loads of equal coils that were asked for.
type Gear struct {
	*pricing.Book
	halt.Halt

	Depth int // how many builds are ranked

	Drivers  map[*pricing.Item]*Cone
	Amps     map[*pricing.Item]*Power
	Kits     map[*pricing.Item]*Cable
	Usable   []*pricing.Item // kits, lowest resistance first
	kitTiers []KitTier       // of usable kits by capacity

	loads    map[loadKey]*CoilLoad
	Loads    []*CoilLoad // in the order in which they were asked for
	planMemo *planMemo
}

// New rates the parts of a book for the first so many builds. What another gear
// of the same car knows is taken over.
func New(b *pricing.Book, depth int, near *Gear) *Gear {
	t := &Gear{Book: b, Depth: depth,
		Drivers: make(map[*pricing.Item]*Cone),
		Amps:    make(map[*pricing.Item]*Power),
		Kits:    make(map[*pricing.Item]*Cable),
		loads:   make(map[loadKey]*CoilLoad),
	}
	if t.Depth <= 0 {
		t.Depth = build.DefaultTop
	}
	t.completeDrivers()
	for _, it := range t.Shelf.Kinds[catalog.KindAmplifier] {
		spec := &it.Part.Amplifier.Spec
		t.Amps[it] = memo.Of(t.Problem.Shared, spec, func() *Power { return ratePower(*spec) })
	}
	for _, it := range t.Shelf.Kinds[catalog.KindKit] {
		t.Kits[it] = t.layCable(it)
	}
	t.Usable = t.usableKits()
	t.sortKits()
	if near != nil {
		t.planMemo = near.planMemo
	} else {
		t.planMemo = &planMemo{known: make(map[planKey][]hookup.Plan)}
	}
	return t
}

// Until makes a search end with a context, or at its bound of memory.
func (t *Gear) Until(ctx context.Context) { t.Halt.Until(ctx, t.Problem.MostMemory()) }
