package pricing

import (
	"cmp"
	"slices"

	"loudfor/catalog"
)

// What may fill a slot of one piece: under the brief's must, and without what
// others outrank that do exactly the same.

// MaxNegativeMarginal is how far the marginal price of a part for a slot can lie
// below zero.
func MaxNegativeMarginal(items []*Item) (most int64) {
	for _, it := range items {
		most = max(most, -it.Marginal())
	}
	return most
}

// Slot lists the parts that may fill a slot of one piece, cheapest first.
func (t *Book) Slot(kind catalog.Kind) []*Item {
	var must []*Item
	for _, it := range t.Musts {
		if it.Part.Kind == kind {
			must = append(must, it)
		}
	}
	var all []*Item
	for _, it := range t.Shelf.Kinds[kind] {
		if it.Offered() && (len(must) == 0 || len(must) == 1 && must[0] == it && it.Must == 1) {
			all = append(all, it)
		}
	}
	slices.SortStableFunc(all, func(a, b *Item) int { return cmp.Compare(a.Lower(1), b.Lower(1)) })
	return all
}

// ForcedKind says that some part of a kind must be in the build.
func (t *Book) ForcedKind(kind catalog.Kind) bool {
	return slices.ContainsFunc(t.Musts, func(it *Item) bool { return it.Part.Kind == kind })
}

// SourceFeatures is everything that the search asks of a head unit.
func SourceFeatures(it *Item) catalog.Source {
	s := *it.Part.Source
	return catalog.Source{PreOuts: min(s.PreOuts, 1), Channels: s.Channels, Power: s.Power, Load: s.Load,
		MinimumLoad: s.MinimumLoad, HighPass: s.HighPass, SupplyVolts: s.SupplyVolts}
}

// KeepUndominated keeps the first depth items of each feature: one that comes later
// is behind depth others that do all that it does, for less or for as much and
// with an earlier SKU. A part in a deal neither counts nor goes: its price
// depends on what else is bought.
func KeepUndominated[F comparable](items []*Item, depth int, feature func(*Item) F) []*Item {
	seen := make(map[F]int)
	var kept []*Item
	for _, it := range items {
		if it.Whole > 0 {
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

// UsefulKind says whether a part of a kind has to be in, and not idle.
func (t *Book) UsefulKind(kind catalog.Kind) bool {
	return slices.ContainsFunc(t.Musts, func(it *Item) bool { return it.Part.Kind == kind && it.Used })
}
