package optimizer

import (
	"cmp"
	"slices"

	"loudfor/catalog"
)

// What may fill a slot of one piece: under the brief's must, and without what
// others outrank that do exactly the same.

// grace is how far the worth of a part for a slot can lie below zero.
func grace(items []*item) (most int64) {
	for _, it := range items {
		most = max(most, -it.Marginal())
	}
	return most
}

// slot lists the parts that may fill a slot of one piece, cheapest first.
func (t *book) slot(kind catalog.Kind) []*item {
	var must []*item
	for _, it := range t.musts {
		if it.part.Kind == kind {
			must = append(must, it)
		}
	}
	var all []*item
	for _, it := range t.shelf.kinds[kind] {
		if it.offered() && (len(must) == 0 || len(must) == 1 && must[0] == it && it.must == 1) {
			all = append(all, it)
		}
	}
	slices.SortStableFunc(all, func(a, b *item) int { return cmp.Compare(a.Lower(1), b.Lower(1)) })
	return all
}

func (t *book) forcedKind(kind catalog.Kind) bool {
	return slices.ContainsFunc(t.musts, func(it *item) bool { return it.part.Kind == kind })
}

// sourceFeatures is everything that the search asks of a head unit.
func sourceFeatures(it *item) catalog.Source {
	s := *it.part.Source
	return catalog.Source{PreOuts: min(s.PreOuts, 1), Channels: s.Channels, Power: s.Power, Load: s.Load,
		MinimumLoad: s.MinimumLoad, HighPass: s.HighPass, SupplyVolts: s.SupplyVolts}
}

// keepDeep keeps the first depth items of each feature: one that comes later
// is behind depth others that do all that it does, for less or for as much and
// with an earlier SKU. A part in a deal neither counts nor goes: its price
// depends on what else is bought.
func keepDeep[F comparable](items []*item, depth int, feature func(*item) F) []*item {
	seen := make(map[F]int)
	var kept []*item
	for _, it := range items {
		if it.whole > 0 {
			kept = append(kept, it)
			continue
		}
		f := feature(it)
		if seen[f]++; seen[f] <= depth {
			kept = append(kept, it)
		}
	}
	return kept
}
