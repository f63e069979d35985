package optimizer

import (
	"slices"

	"loudfor/catalog"
	"loudfor/optimizer/build"
	"loudfor/optimizer/completion"
	"loudfor/optimizer/drive"
	"loudfor/optimizer/pricing"
)

// What the front stages cost that make a level possible, over all kinds of pairs.

// rise is the lowest price of any rest with a front level, whatever the bass.
func (s *search) rise(l build.Level) int64 {
	return min(s.base.PriceOf(l), s.spare.PriceOf(l))
}

// riseAbove is rise for what is louder than a level.
func (s *search) riseAbove(l build.Level) int64 {
	return min(s.louder(s.base, l), s.louder(s.spare, l))
}

// louder is what the first step costs that is louder than a level, and counts as that.
func (t *task) louder(s completion.CostToReach, l build.Level) int64 {
	if l >= t.enough {
		return pricing.Boundless
	}
	return s.PriceOf(l + 1)
}

// climb prepares the costs to reach of a search for music.
func (s *search) climb() {
	if s.Problem.Brief.Goal != catalog.GoalMusic {
		return
	}
	seen := make(map[completion.Key]int)
	for _, c := range s.Loads {
		for i := range c.Choices {
			p := &c.Choices[i]
			key := completion.Key{Speaker: p.Amp.Part.Amplifier.SpeakerInput, Forced: p.Forced}
			at, known := seen[key]
			if !known {
				at = len(s.bases)
				seen[key] = at
				s.bases = append(s.bases, s.rests.Quick(key).Cost)
				s.base = append(s.base, s.bases[at]...)
			}
			p.Lean = at
		}
	}
	s.base, s.spare = s.base.Sort(), s.rests.SpareCost()
	s.most = build.Silent
	s.all = slices.Concat(s.base, s.spare).Sort()
	for _, x := range []completion.CostToReach{s.base, s.spare} {
		if len(x) > 0 {
			s.most = max(s.most, x[len(x)-1].Level)
		}
	}
}

// admits says whether a build that reads no more than l could enter the ranking,
// when it costs at least floor.
func (w *worker) admits(l build.Level, floor int64) bool {
	return w.incumbent(floor).allows(l, floor)
}

// admitsBelow is admits for the pairs below a branch.
func (w *worker) admitsBelow(l build.Level, b *drive.Node) bool {
	return w.admits(l, w.price+b.Floor)
}
