package optimizer

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
// rest is bounded level by level: a staircase says what the cheapest front
// stage costs that reaches a level.

// stair is a price with the level that it buys; and where it is the price of a
// rest, with parts of it: of two with one price, the first comes first.
type stair struct {
	price int64
	level build.Level
	parts pricing.Set
}

type stairs []stair

// sort puts steps in any order into a staircase, dropping those that are no
// step up.
func (s stairs) sort() stairs {
	slices.SortFunc(s, func(a, b stair) int {
		if a.price != b.price {
			return cmp.Compare(a.price, b.price)
		}
		return cmp.Or(a.parts.Compare(b.parts), cmp.Compare(b.level, a.level))
	})
	var sharp stairs
	for _, x := range s {
		if len(sharp) == 0 || x.level > sharp[len(sharp)-1].level {
			sharp = append(sharp, x)
		}
	}
	return sharp
}

// to is the price of reaching a level; boundless if nothing does.
func (s stairs) to(l build.Level) int64 { return s.first(l).price }

// first is the first stair that reaches a level.
func (s stairs) first(l build.Level) stair {
	at, _ := slices.BinarySearchFunc(s, l, func(x stair, l build.Level) int { return cmp.Compare(x.level, l) })
	if at == len(s) {
		return stair{price: pricing.Boundless}
	}
	return s[at]
}

// stairsOf is the staircase of a list of rests.
func stairsOf(list []rest) stairs {
	var s stairs
	for i := range list {
		s = append(s, stair{list[i].price, list[i].level, list[i].parts})
	}
	return s.sort()
}

// spareStairs bounds every rest whose front is driven by spare channels,
// whatever the amplifier: each pair with the cheapest source, as loud as the
// most power on the shelf makes it with the best of all filters.
func (r *rests) spareStairs() stairs {
	return r.stairsFrom(func(load float64) (watts float64) {
		for _, amp := range r.owns {
			watts = max(watts, r.stereoPower(amp, load))
		}
		return watts
	})
}

// spareOf is spareStairs with the power of one amplifier.
func (r *rests) spareOf(amp *pricing.Item) stairs {
	r.mutex.Lock()
	defer r.mutex.Unlock()
	s, known := r.spares[amp]
	if !known {
		s = r.stairsFrom(func(load float64) float64 { return r.stereoPower(amp, load) })
		r.spares[amp] = s
	}
	return s
}

// stairsFrom is the staircase of all pairs with the cheapest source, when they
// are given a power that depends on their load.
func (r *rests) stairsFrom(power func(load float64) float64) stairs {
	if len(r.sources) == 0 {
		return nil
	}
	logs := make(map[float64]float64)
	var s stairs
	for i, c := range r.choices { // by price
		watts, known := logs[c.load]
		if !known {
			watts = math.Log10(power(c.load))
			logs[c.load] = watts
		}
		if l, n := r.voices[i].at(watts), len(s); l > build.Silent && (n == 0 || l > s[n-1].level) {
			s = append(s, stair{r.sources[0].Lower(1) + c.Lower(1), l, pricing.Collect(pricing.One(r.sources[0]), pricing.One(c.item))})
		}
	}
	return s
}

// at is the highest level for a price; silent below the first step.
func (s stairs) at(price int64) build.Level {
	i, found := slices.BinarySearchFunc(s, price, func(x stair, price int64) int { return cmp.Compare(x.price, price) })
	switch {
	case found:
		return s[i].level
	case i == 0:
		return build.Silent
	}
	return s[i-1].level
}
