package completion

import (
	"slices"

	"loudfor/catalog"
	"loudfor/optimizer/pricing"
)

// Drives is direct, for whoever asks beside others.
func (r *Lists) Drives(c Speakers, src *catalog.Source) bool {
	r.mutex.Lock()
	defer r.mutex.Unlock()
	return r.direct(c, src)
}

// direct says whether a source drives a pair by the rule with whatever filter
// there is: then an amplifier of the pair's own is idle for a reading. A
// blocker that has to be in does not change what the others could do.
func (r *Lists) direct(c Speakers, src *catalog.Source) bool {
	watts := SourcePower(src, c.Load)
	passes := func(f HighPass) bool {
		_, ok := r.Play(c, watts, f)
		return ok
	}
	elsewhere := func() bool { // in a shop that is not gone to: see tours.go
		return r.Problem.Shops != nil && slices.ContainsFunc(r.Problem.Shops.Elsewhere, func(b *catalog.Part) bool {
			return passes(BlockerHighPass(b.Blocker, c.Load))
		})
	}
	if !r.usefulBlocker {
		return len(r.filtered(frontStage{speakers: c}, watts, src.HighPass)) > 0 || watts > 0 && !src.HighPass && !r.forcedBlocker && elsewhere()
	}
	if !(watts > 0) || src.HighPass {
		return watts > 0 && passes(BuiltIn)
	}
	if passes(HighPass{}) {
		return true
	}
	return slices.ContainsFunc(r.Shelf.Kinds[catalog.KindBlocker], func(b *pricing.Item) bool {
		return b.Offered() && passes(blocked(b, c.Load)[0])
	}) || elsewhere()
}

// idleBlocker says whether any blocker is idle before a pair: beside another
// high-pass, and for a reading where the rule holds without.
func (r *Lists) idleBlocker(c Speakers, watts float64, highPass bool) bool {
	if highPass {
		return true
	}
	_, without := r.Play(c, watts, HighPass{})
	return without && !r.Music()
}
