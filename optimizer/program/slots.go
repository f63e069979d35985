package program

import (
	"cmp"
	"slices"

	"loudfor/catalog"
	"loudfor/optimizer/build"
	"loudfor/optimizer/completion"
	"loudfor/optimizer/pricing"
)

// What can fill the slots of one piece: source, kit, converter, blocker, pair
// of front speakers.

// kitClass is the kits of one resistance.
type kitClass struct {
	resistance float64
	kits       []*pricing.Item
	floor      int64   // price of the cheapest
	capacity   float64 // A, the largest
}

// slots lists what can fill a slot of one piece: what has to, if anything has
// to, else whatever can be had.
func (f *formulation) slots(kind catalog.Kind) (all []*pricing.Item, forced bool) {
	forced = f.t.ForcedKind(kind)
	for _, it := range f.t.Shelf.Kinds[kind] {
		if it.Offered() && (!forced || it.Must > 0) {
			all = append(all, it)
		}
	}
	return all, forced
}

// cheapestOf keeps the cheapest of those alike, the first by SKU among equals.
func cheapestOf[K comparable](items []*pricing.Item, like func(*pricing.Item) K) []*pricing.Item {
	best := make(map[K]*pricing.Item)
	for _, it := range items {
		if old := best[like(it)]; old == nil || it.List(1) < old.List(1) {
			best[like(it)] = it
		}
	}
	var kept []*pricing.Item
	for _, it := range items {
		if it.Dealt || best[like(it)] == it {
			kept = append(kept, it)
		}
	}
	return kept
}

// worthOf is what any build that holds so many pieces is cheaper without them, at
// least; see item.save.
func worthOf(it *pricing.Item, n int) int64 {
	if it == nil {
		return 0
	}
	return it.List(n) - int64(max(0, n-it.Owned))*it.Whole
}

// shelve lists what fills the slots beside bass and front.
func (f *formulation) shelve() {
	sources, _ := f.slots(catalog.KindSource)
	sources = filtered(sources, func(it *pricing.Item) bool { return it.Part.Source.PreOuts > 0 || it.Part.Source.Channels >= 2 })
	f.sources = cheapestOf(sources, pricing.SourceFeatures)
	converts, _ := f.slots(catalog.KindConverter)
	f.converts = cheapestOf(converts, func(it *pricing.Item) int { return min(it.Part.Converter.Channels, 2) })
	f.blockers, _ = f.slots(catalog.KindBlocker)
	f.classify()
	f.choose()
}

func filtered(items []*pricing.Item, keep func(*pricing.Item) bool) (kept []*pricing.Item) {
	for _, it := range items {
		if keep(it) {
			kept = append(kept, it)
		}
	}
	return kept
}

// classify puts the kits into classes, the best conductor first.
func (f *formulation) classify() {
	kits, _ := f.slots(catalog.KindKit)
	for _, it := range kits {
		c := f.t.Kits[it]
		if c.Capacity < 0 {
			continue
		}
		at := -1
		for i := range f.kits {
			if f.kits[i].resistance == c.Resistance {
				at = i
			}
		}
		if at < 0 {
			at = len(f.kits)
			f.kits = append(f.kits, kitClass{resistance: c.Resistance, floor: pricing.Boundless})
		}
		k := &f.kits[at]
		k.kits = append(k.kits, it)
		k.floor, k.capacity = min(k.floor, it.Lower(1)), max(k.capacity, c.Capacity)
	}
	slices.SortStableFunc(f.kits, func(a, b kitClass) int { return cmp.Compare(a.resistance, b.resistance) })
	for i := range f.kits {
		k := &f.kits[i]
		all := k.kits
		k.kits = filtered(all, func(it *pricing.Item) bool { return !f.beatenKit(it, all) })
	}
}

// beatenKit says whether another kit of a class costs no more and carries no
// less; of two equals the first stays.
func (f *formulation) beatenKit(it *pricing.Item, all []*pricing.Item) bool {
	for _, o := range all {
		a, b := f.t.Kits[o].Capacity, f.t.Kits[it].Capacity
		if o == it || it.Dealt || a < b || o.List(1) > it.List(1) {
			continue
		}
		if a > b || o.List(1) < it.List(1) || o.ID < it.ID {
			return true
		}
	}
	return false
}

// choose lists the pairs that the front rule allows.
func (f *formulation) choose() {
	rule := f.t.Brief.Front
	all, forced := f.slots(catalog.KindFront)
	owned := false
	for _, it := range f.t.Shelf.Kinds[catalog.KindFront] {
		owned = owned || it.Owned > 0 && it.Offered()
	}
	if rule != catalog.FrontReplace && !owned && !forced {
		f.pairs = append(f.pairs, completion.Speakers{Load: build.StockLoad})
	}
	for _, it := range all {
		if rule == catalog.FrontKeep && it.Owned == 0 {
			continue
		}
		f.pairs = append(f.pairs, completion.Speakers{Item: it, Load: completion.FrontLoad(it.Part.Front), Fresh: rule == catalog.FrontReplace || it.Owned == 0})
	}
}
