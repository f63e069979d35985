package drive

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

// KitTier is the kits that carry at least a capacity.
type KitTier struct {
	capacity float64         // A
	Carry    int             // how many carry it
	Kits     []*pricing.Item // those not outclassed, lowest resistance first
	Floor    int64           // price of the cheapest
	First    *pricing.Item   // the cheapest, by SKU where several are

	// The best conductor for a price: prices rise, resistances fall.
	prices      []int64
	resistances []float64
}

// Resistance is the least of the kits that cost no more than a sum, which must
// not be below the floor.
func (b *KitTier) Resistance(sum int64) float64 {
	n, _ := slices.BinarySearch(b.prices, sum+1)
	return b.resistances[max(0, n-1)]
}

// usableKits are the kits that may be used at all, lowest resistance first.
func (t *Gear) usableKits() []*pricing.Item {
	var kits []*pricing.Item
	for _, it := range t.Slot(catalog.KindKit) {
		if t.Kits[it].Capacity >= 0 || t.Relaxed.Cable {
			kits = append(kits, it)
		}
	}
	slices.SortStableFunc(kits, func(a, b *pricing.Item) int { return cmp.Compare(t.Kits[a].Resistance, t.Kits[b].Resistance) })
	return kits
}

// sortKits puts the usable kits into tiers, the least capacity first.
func (t *Gear) sortKits() {
	var capacities []float64
	for _, it := range t.Usable {
		capacities = append(capacities, t.CapacityOf(it))
	}
	slices.Sort(capacities)
	ranked := slices.DeleteFunc(slices.Clone(t.Usable), t.outclassed)
	for _, c := range slices.Compact(capacities) {
		b := KitTier{capacity: c, Floor: pricing.Boundless}
		for _, it := range t.Usable {
			if t.CapacityOf(it) < c {
				continue
			}
			b.Carry++
			if l := it.Lower(1); b.First == nil || l < b.Floor || l == b.Floor && it.ID < b.First.ID {
				b.Floor, b.First = l, it
			}
		}
		b.Kits = slices.DeleteFunc(slices.Clone(ranked), func(it *pricing.Item) bool { return t.CapacityOf(it) < c })
		for _, it := range slices.SortedStableFunc(slices.Values(b.Kits), func(a, b *pricing.Item) int { return cmp.Compare(a.Lower(1), b.Lower(1)) }) {
			if r := t.Kits[it].Resistance; len(b.prices) == 0 || r < b.resistances[len(b.resistances)-1] {
				b.prices, b.resistances = append(b.prices, it.Lower(1)), append(b.resistances, r)
			}
		}
		t.kitTiers = append(t.kitTiers, b)
	}
}

// outclassed says whether a kit is behind as many others as are ranked.
func (t *Gear) outclassed(it *pricing.Item) bool {
	if t.Problem.Aside != nil {
		return false // those ahead may be refused
	}
	ahead := 0
	for _, o := range t.Usable {
		if cmp.Or(cmp.Compare(o.List(1), it.Marginal()), cmp.Compare(o.ID, it.ID)) < 0 && t.Kits[o].Resistance <= t.Kits[it].Resistance && t.CapacityOf(o) >= t.CapacityOf(it) {
			if ahead++; ahead >= t.Depth {
				return true
			}
		}
	}
	return false
}

// carrying is the tier of the kits that carry a demand in A; nil if none
// does.
func (t *Gear) carrying(demand float64) *KitTier {
	for i := range t.kitTiers {
		if t.kitTiers[i].capacity >= demand {
			return &t.kitTiers[i]
		}
	}
	return nil
}

// CapacityOf is the current that a kit carries, A.
func (t *Gear) CapacityOf(it *pricing.Item) float64 {
	if t.Relaxed.Cable {
		if t.Relaxed.Amps > 0 {
			return max(t.Kits[it].Capacity, t.Relaxed.Amps)
		}
		return maxCapacity
	}
	return t.Kits[it].Capacity
}

const maxCapacity = 1e12 // A
