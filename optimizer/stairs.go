package optimizer

import (
	"cmp"
	"math"
	"slices"

	"loudfor/catalog"
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
			watts = max(watts, r.t.stereoPower(amp, load))
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
		s = r.stairsFrom(func(load float64) float64 { return r.t.stereoPower(amp, load) })
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
			s = append(s, stair{r.sources[0].Lower(1) + c.Lower(1), l, pricing.Collect(single(r.sources[0]), single(c.item))})
		}
	}
	return s
}

// rise is the lowest price of any rest with a front level, whatever the bass.
func (s *search) rise(l build.Level) int64 {
	return min(s.base.to(l), s.spare.to(l))
}

// riseAbove is rise for what is louder than a level.
func (s *search) riseAbove(l build.Level) int64 {
	return min(s.louder(s.base, l), s.louder(s.spare, l))
}

// louder is the price of a rest on a staircase that is louder than a level, and counts
// as that.
func (t *task) louder(s stairs, l build.Level) int64 {
	if l >= t.enough {
		return pricing.Boundless
	}
	return s.to(l + 1)
}

// climb prepares the staircases of a search for music.
func (s *search) climb() {
	if s.Problem.Brief.Goal != catalog.GoalMusic {
		return
	}
	seen := make(map[restKey]int)
	for _, c := range s.order {
		for i := range c.pairs {
			p := &c.pairs[i]
			key := restKey{speaker: p.amp.Part.Amplifier.SpeakerInput, forced: p.forced}
			at, known := seen[key]
			if !known {
				at = len(s.bases)
				seen[key] = at
				s.bases = append(s.bases, s.rests.quick(key).stairs)
				s.base = append(s.base, s.bases[at]...)
			}
			p.lean = at
		}
	}
	s.base, s.spare = s.base.sort(), s.rests.spareStairs()
	s.most = build.Silent
	s.all = slices.Concat(s.base, s.spare).sort()
	for _, x := range []stairs{s.base, s.spare} {
		if len(x) > 0 {
			s.most = max(s.most, x[len(x)-1].level)
		}
	}
}

// admits says whether a build that reads no more than l could enter the ranking,
// when it costs at least floor.
func (w *worker) admits(l build.Level, floor int64) bool {
	return w.incumbent(floor).allows(l, floor)
}

// admitsBelow is admits for the pairs below a branch.
func (w *worker) admitsBelow(l build.Level, b *branch) bool {
	return w.admits(l, w.price+b.floor)
}
