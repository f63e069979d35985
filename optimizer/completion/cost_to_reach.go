package completion

import (
	"cmp"
	"math"
	"slices"

	"loudfor/optimizer/build"
	"loudfor/optimizer/pricing"
)

// For music a front stage that plays loud enough costs money too, and where
// the front is the weaker half of every build, hundreds of bass systems tie at
// the front's level and only the price tells them apart. So the price of the
// completion is bounded level by level: a cost to reach says what the cheapest front
// stage costs that reaches a level.

// Step is a price with the level that it buys; and where it is the price of a
// completion, with parts of it: of two with one price, the first comes first.
type Step struct {
	Price int64
	Level build.Level
	Parts pricing.Set
}

// CostToReach is what reaching a level costs at least: prices and levels rise.
type CostToReach []Step

// Sort puts steps in any order into a cost to reach, dropping those that are no
// step up.
func (s CostToReach) Sort() CostToReach {
	slices.SortFunc(s, func(a, b Step) int {
		if a.Price != b.Price {
			return cmp.Compare(a.Price, b.Price)
		}
		return cmp.Or(a.Parts.Compare(b.Parts), cmp.Compare(b.Level, a.Level))
	})
	var sharp CostToReach
	for _, x := range s {
		if len(sharp) == 0 || x.Level > sharp[len(sharp)-1].Level {
			sharp = append(sharp, x)
		}
	}
	return sharp
}

// PriceOf is the price of reaching a level; boundless if nothing does.
func (s CostToReach) PriceOf(l build.Level) int64 { return s.First(l).Price }

// First is the first step that reaches a level.
func (s CostToReach) First(l build.Level) Step {
	at, _ := slices.BinarySearchFunc(s, l, func(x Step, l build.Level) int { return cmp.Compare(x.Level, l) })
	if at == len(s) {
		return Step{Price: pricing.Boundless}
	}
	return s[at]
}

// costOf is the cost to reach of a list of completions.
func costOf(list []Completion) CostToReach {
	var s CostToReach
	for i := range list {
		s = append(s, Step{list[i].Price, list[i].Level, list[i].Parts})
	}
	return s.Sort()
}

// SpareCost bounds every completion whose front is driven by spare channels,
// whatever the amplifier: each pair with the cheapest source, as loud as the
// most power on the shelf makes it with the best of all filters.
func (r *Lists) SpareCost() CostToReach {
	return r.costFrom(func(load float64) (watts float64) {
		for _, amp := range r.owns {
			watts = max(watts, r.StereoPower(amp, load))
		}
		return watts
	})
}

// SpareCostOf is SpareCost with the power of one amplifier.
func (r *Lists) SpareCostOf(amp *pricing.Item) CostToReach {
	r.mutex.Lock()
	defer r.mutex.Unlock()
	s, known := r.spares[amp]
	if !known {
		s = r.costFrom(func(load float64) float64 { return r.StereoPower(amp, load) })
		r.spares[amp] = s
	}
	return s
}

// costFrom is the cost to reach of all pairs with the cheapest source, when they
// are given a power that depends on their load.
func (r *Lists) costFrom(power func(load float64) float64) CostToReach {
	if len(r.sources) == 0 {
		return nil
	}
	logs := make(map[float64]float64)
	var s CostToReach
	for i, c := range r.speakers { // by price
		watts, known := logs[c.Load]
		if !known {
			watts = math.Log10(power(c.Load))
			logs[c.Load] = watts
		}
		if l, n := r.envelopes[i].at(watts), len(s); l > build.Silent && (n == 0 || l > s[n-1].Level) {
			s = append(s, Step{r.sources[0].Lower(1) + c.Lower(1), l, pricing.Collect(pricing.One(r.sources[0]), pricing.One(c.Item))})
		}
	}
	return s
}

// LevelFor is the highest level for a price; silent below the first step.
func (s CostToReach) LevelFor(price int64) build.Level {
	i, found := slices.BinarySearchFunc(s, price, func(x Step, price int64) int { return cmp.Compare(x.Price, price) })
	switch {
	case found:
		return s[i].Level
	case i == 0:
		return build.Silent
	}
	return s[i-1].Level
}
