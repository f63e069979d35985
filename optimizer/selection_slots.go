package optimizer

import (
	"cmp"
	"slices"

	"loudfor/catalog"
	"loudfor/optimizer/build"
)

// What can fill the slots of one piece: source, kit, converter, blocker, pair
// of front speakers.

// kitClass is the kits of one resistance.
type kitClass struct {
	resistance float64
	kits       []*item
	floor      int64   // price of the cheapest
	capacity   float64 // A, the largest
}

// slots lists what can fill a slot of one piece: what has to, if anything has
// to, else whatever can be had.
func (f *formulation) slots(kind catalog.Kind) (all []*item, forced bool) {
	forced = f.t.forcedKind(kind)
	for _, it := range f.t.shelf.kinds[kind] {
		if it.offered() && (!forced || it.must > 0) {
			all = append(all, it)
		}
	}
	return all, forced
}

// cheapestOf keeps the cheapest of those alike, the first by SKU among equals.
func cheapestOf[K comparable](items []*item, like func(*item) K) []*item {
	best := make(map[K]*item)
	for _, it := range items {
		if old := best[like(it)]; old == nil || it.List(1) < old.List(1) {
			best[like(it)] = it
		}
	}
	var kept []*item
	for _, it := range items {
		if it.dealt || best[like(it)] == it {
			kept = append(kept, it)
		}
	}
	return kept
}

// worthOf is what any build that holds so many pieces is cheaper without them, at
// least; see item.save.
func worthOf(it *item, n int) int64 {
	if it == nil {
		return 0
	}
	return it.List(n) - int64(max(0, n-it.owned))*it.whole
}

// shelve lists what fills the slots beside bass and front.
func (f *formulation) shelve() {
	sources, _ := f.slots(catalog.KindSource)
	sources = filtered(sources, func(it *item) bool { return it.part.Source.PreOuts > 0 || it.part.Source.Channels >= 2 })
	f.sources = cheapestOf(sources, sourceFeatures)
	converts, _ := f.slots(catalog.KindConverter)
	f.converts = cheapestOf(converts, func(it *item) int { return min(it.part.Converter.Channels, 2) })
	f.blockers, _ = f.slots(catalog.KindBlocker)
	f.classify()
	f.choose()
}

func filtered(items []*item, keep func(*item) bool) (kept []*item) {
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
		c := f.t.kits[it]
		if c.capacity < 0 {
			continue
		}
		at := -1
		for i := range f.kits {
			if f.kits[i].resistance == c.resistance {
				at = i
			}
		}
		if at < 0 {
			at = len(f.kits)
			f.kits = append(f.kits, kitClass{resistance: c.resistance, floor: boundless})
		}
		k := &f.kits[at]
		k.kits = append(k.kits, it)
		k.floor, k.capacity = min(k.floor, it.Lower(1)), max(k.capacity, c.capacity)
	}
	slices.SortStableFunc(f.kits, func(a, b kitClass) int { return cmp.Compare(a.resistance, b.resistance) })
	for i := range f.kits {
		k := &f.kits[i]
		all := k.kits
		k.kits = filtered(all, func(it *item) bool { return !f.beatenKit(it, all) })
	}
}

// beatenKit says whether another kit of a class costs no more and carries no
// less; of two equals the first stays.
func (f *formulation) beatenKit(it *item, all []*item) bool {
	for _, o := range all {
		a, b := f.t.kits[o].capacity, f.t.kits[it].capacity
		if o == it || it.dealt || a < b || o.List(1) > it.List(1) {
			continue
		}
		if a > b || o.List(1) < it.List(1) || o.id < it.id {
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
	for _, it := range f.t.shelf.kinds[catalog.KindFront] {
		owned = owned || it.owned > 0 && it.offered()
	}
	if rule != catalog.FrontReplace && !owned && !forced {
		f.pairs = append(f.pairs, choice{load: build.StockLoad})
	}
	for _, it := range all {
		if rule == catalog.FrontKeep && it.owned == 0 {
			continue
		}
		f.pairs = append(f.pairs, choice{item: it, load: frontLoad(it.part.Front), fresh: rule == catalog.FrontReplace || it.owned == 0})
	}
}
