package optimizer

import (
	"cmp"
	"slices"

	"loudfor/catalog"
	"loudfor/optimizer/pricing"
)

// Wiring kits differ in price, in resistance, and in the current that they
// carry. Amplifiers ask for a current; which kits carry it is listed once for
// every capacity on the shelf, and thinned: a kit behind as many others as are
// ranked, all of them cheaper, no worse conductors, and carrying no less, is
// in no build of the ranking.

// kitTier is the kits that carry at least a capacity.
type kitTier struct {
	capacity float64         // A
	carry    int             // how many carry it
	kits     []*pricing.Item // those not outclassed, lowest resistance first
	floor    int64           // price of the cheapest
	first    *pricing.Item   // the cheapest, by SKU where several are

	// The best conductor for a price: prices rise, resistances fall.
	prices      []int64
	resistances []float64
}

// resistance is the least of the kits that cost no more than a sum, which must
// not be below the floor.
func (b *kitTier) resistance(sum int64) float64 {
	n, _ := slices.BinarySearch(b.prices, sum+1)
	return b.resistances[max(0, n-1)]
}

// usableKits are the kits that may be used at all, lowest resistance first.
func (t *gear) usableKits() []*pricing.Item {
	var kits []*pricing.Item
	for _, it := range t.Slot(catalog.KindKit) {
		if t.kits[it].capacity >= 0 || t.Relaxed.Cable {
			kits = append(kits, it)
		}
	}
	slices.SortStableFunc(kits, func(a, b *pricing.Item) int { return cmp.Compare(t.kits[a].resistance, t.kits[b].resistance) })
	return kits
}

// sortKits puts the usable kits into tiers, the least capacity first.
func (t *gear) sortKits() {
	var capacities []float64
	for _, it := range t.usable {
		capacities = append(capacities, t.capacityOf(it))
	}
	slices.Sort(capacities)
	ranked := slices.DeleteFunc(slices.Clone(t.usable), t.outclassed)
	for _, c := range slices.Compact(capacities) {
		b := kitTier{capacity: c, floor: pricing.Boundless}
		for _, it := range t.usable {
			if t.capacityOf(it) < c {
				continue
			}
			b.carry++
			if l := it.Lower(1); b.first == nil || l < b.floor || l == b.floor && it.ID < b.first.ID {
				b.floor, b.first = l, it
			}
		}
		b.kits = slices.DeleteFunc(slices.Clone(ranked), func(it *pricing.Item) bool { return t.capacityOf(it) < c })
		for _, it := range slices.SortedStableFunc(slices.Values(b.kits), func(a, b *pricing.Item) int { return cmp.Compare(a.Lower(1), b.Lower(1)) }) {
			if r := t.kits[it].resistance; len(b.prices) == 0 || r < b.resistances[len(b.resistances)-1] {
				b.prices, b.resistances = append(b.prices, it.Lower(1)), append(b.resistances, r)
			}
		}
		t.kitTiers = append(t.kitTiers, b)
	}
}

// outclassed says whether a kit is behind as many others as are ranked.
func (t *gear) outclassed(it *pricing.Item) bool {
	ahead := 0
	for _, o := range t.usable {
		if cmp.Or(cmp.Compare(o.List(1), it.Marginal()), cmp.Compare(o.ID, it.ID)) < 0 && t.kits[o].resistance <= t.kits[it].resistance && t.capacityOf(o) >= t.capacityOf(it) {
			if ahead++; ahead >= t.depth {
				return true
			}
		}
	}
	return false
}

// carrying is the tier of the kits that carry a demand in A; nil if none
// does.
func (t *gear) carrying(demand float64) *kitTier {
	for i := range t.kitTiers {
		if t.kitTiers[i].capacity >= demand {
			return &t.kitTiers[i]
		}
	}
	return nil
}

// capacityOf is the current that a kit carries, A.
func (t *gear) capacityOf(it *pricing.Item) float64 {
	if t.Relaxed.Cable {
		if t.Relaxed.Amps > 0 {
			return max(t.kits[it].capacity, t.Relaxed.Amps)
		}
		return maxCapacity
	}
	return t.kits[it].capacity
}

const maxCapacity = 1e12 // A
