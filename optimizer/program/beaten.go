package program

import (
	"cmp"
	"slices"

	"loudfor/optimizer/pricing"
)

// Systems that another can stand in for: the second of the reductions, where a
// proof of each condition stands in doc.go.

// slot is where systems compare: the same kits, and where they drive the front
// as well, the same amplifier.
type slot struct {
	kits  int
	spare *pricing.Item
}

func (f *formulation) slotOf(s *system) slot {
	at := slot{kits: s.kits}
	if s.spare {
		at.spare = f.options[s.option].amp
	}
	return at
}

// note remembers a system that reaches the top.
func (f *formulation) note(s system) {
	at := f.slotOf(&s)
	if s.level == f.tops[at.spare] && !f.beatenBy(f.topped[at], &s) {
		f.topped[at] = append(f.topped[at], s)
	}
}

func (f *formulation) beatenBy(list []system, s *system) bool {
	return slices.ContainsFunc(list, func(o system) bool { return f.beats(&o, s) })
}

// unbeaten keeps the systems that no other beats, in the order in which they
// were listed.
func (f *formulation) unbeaten(all []system) []system {
	order := make([]int, len(all))
	for i := range order {
		order[i] = i
	}
	// What could beat comes first, equals in the order of listing.
	slices.SortStableFunc(order, func(i, j int) int {
		a, b := &all[i], &all[j]
		return cmp.Or(cmp.Compare(a.cost, b.cost), cmp.Compare(b.level, a.level), cmp.Compare(f.options[a.option].demand, f.options[b.option].demand))
	})
	kept := make(map[slot][]system)
	var stay []int
	for _, i := range order {
		at := f.slotOf(&all[i])
		if f.beatenBy(kept[at], &all[i]) {
			continue
		}
		kept[at] = append(kept[at], all[i])
		stay = append(stay, i)
	}
	slices.Sort(stay)
	systems := make([]system, len(stay))
	for n, i := range stay {
		systems[n] = all[i]
	}
	return systems
}

// beats says whether system a can stand in for b in any solution; both are on
// the same kits, and a comes before b in the order of unbeaten, so that of two
// equals only one is beaten.
func (f *formulation) beats(a, b *system) bool {
	x, y := &f.options[a.option], &f.options[b.option]
	if a.level < b.level {
		return false
	}
	if x == y { // only the block differs
		return f.blocks[a.block].cost <= f.blocks[b.block].worth
	}
	if a.cost > f.blocks[b.block].worth+y.worth {
		return false
	}
	if x.demand > y.demand || !f.t.Connects(x.amp.Part.Amplifier.SpeakerInput, y.amp.Part.Amplifier.SpeakerInput) || y.amp.Must > 0 {
		return false
	}
	// On the same amplifier the front has none of its own, so its pieces are
	// counted here alone; else one more may be in use at the front.
	return a.spare || f.plentiful(x.amp)
}

// plentiful says that a piece costs the same and can be had whatever else is
// used of the part.
func (f *formulation) plentiful(it *pricing.Item) bool {
	return it.Owned == 0 && it.Must == 0 && it.Most > f.t.Brief.Amplifiers
}
