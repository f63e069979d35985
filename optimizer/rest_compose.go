package optimizer

import (
	"cmp"
	"slices"

	"loudfor/catalog"
	"loudfor/optimizer/build"
	"loudfor/optimizer/pricing"
)

// How rests are composed: a source and a pair of speakers, what drives the pair,
// and the signal path. What is outranked already is not composed.

// compose puts sources, speakers and what drives them together.
func (r *rests) compose(f *frontier, k restKey) *restList {
	sources := r.sources
	if f.heedless {
		sources = pricing.KeepUndominated(sources, 1, pricing.SourceFeatures)
	}
	could := r.could(f.least, k)
	for _, s := range sources {
		for _, i := range could {
			if r.Ended() {
				break
			}
			c := r.choices[i]
			if s.Lower(1)+c.Lower(1) > f.most || f.covers(s.Marginal()+c.Marginal()-r.gracePack, s.Lower(1)+c.Lower(1), singlesOf(s, c.item), r.peak(i), 0) {
				continue
			}
			r.complete(f, k, s, c)
		}
		if r.Brief.Goal == catalog.GoalMusic && k.amp == nil {
			for _, p := range r.merge(packKey{highPass: s.Part.Source.HighPass, forced: k.forced, least: f.least, most: f.most, quick: f.heedless}) {
				if r.Ended() {
					break
				}
				r.connect(f, k, s, p)
			}
		}
	}
	l := f.all
	slices.SortStableFunc(l, func(a, b rest) int {
		return cmp.Or(cmp.Compare(a.price, b.price), a.tie.compare(&b.tie))
	})
	return &restList{all: l, stairs: stairsOf(l), cut: r.Ended()}
}

// could are the places of the pairs that could be as loud as a level, with what
// drives them but an amplifier of their own.
func (r *rests) could(least build.Level, k restKey) (all []int) {
	if !r.Music() {
		for i := range r.choices {
			all = append(all, i)
		}
		return all
	}
	return r.loud(least, func(load float64) (watts float64) {
		if k.amp != nil {
			return r.stereoPower(k.amp, load)
		}
		for _, s := range r.sources {
			watts = max(watts, sourcePower(s.Part.Source, load))
		}
		return watts
	})
}

// peak bounds the level of a pair whatever drives it and whatever filters it.
func (r *rests) peak(i int) build.Level {
	if !r.Music() {
		return 0
	}
	return r.voices[i].top
}

// complete adds the rests of one source and one pair of speakers.
func (r *rests) complete(f *frontier, k restKey, s *pricing.Item, c choice) {
	src := s.Part.Source
	if k.amp != nil {
		highPass := src.HighPass || k.amp.Part.Amplifier.HighPass
		p := pack{choice: c, tie: singlesOf(c.item), power: build.FromBass, speaker: k.speaker}
		for _, q := range r.filtered(p, r.stereoPower(k.amp, c.load), highPass) {
			r.connect(f, k, s, q)
		}
		return
	}
	if k.forced == nil {
		direct := r.filtered(pack{choice: c, tie: singlesOf(c.item), power: build.FromSource, speaker: true}, sourcePower(src, c.load), src.HighPass)
		for _, q := range direct {
			r.connect(f, k, s, q)
		}
		if r.Brief.Goal == catalog.GoalMusic || len(direct) > 0 || r.aidBeyond() && r.direct(c, src) {
			return
		}
	}
	if k.forced != nil && k.forced.Used && r.Brief.Goal == catalog.GoalReading && r.direct(c, src) {
		return // it would be idle
	}
	if r.Brief.Goal == catalog.GoalReading {
		for _, q := range r.own(packKey{choice: c, highPass: src.HighPass, forced: k.forced}) {
			r.connect(f, k, s, q)
		}
	}
}

// connect completes a source and a pack with the signal path.
func (r *rests) connect(f *frontier, k restKey, s *pricing.Item, p pack) {
	src := s.Part.Source
	sum, tie := p, p.tie
	tie.add(s)
	join(&sum, s)
	if p.level < f.least || sum.price > f.most || f.covers(sum.worth-r.graceLine, sum.price, tie, p.level, p.demand) {
		return
	}
	need := 0 // channels that a line converter must have
	if src.PreOuts == 0 && !r.Relaxed.Signal {
		if src.Channels < 2 {
			return
		}
		if !k.speaker {
			need = 1
		}
		if !p.speaker {
			need = 2
		}
	}
	add := func(converter *pricing.Item) {
		sum, tie := sum, tie
		if converter != nil {
			join(&sum, converter)
			tie.add(converter)
		}
		if sum.price > f.most || f.covers(sum.worth, sum.price, tie, p.level, p.demand) {
			return
		}
		parts := pricing.Collect(pricing.One(s), pricing.One(p.choice.item), pricing.One(p.own), pricing.One(converter), pricing.One(p.blocker))
		f.add(rest{parts: parts, tie: tie, price: sum.price, full: sum.full, pieces: parts.Pieces(), demand: p.demand, level: p.level, own: p.own}, r)
	}
	if need == 0 && !r.forcedConverter {
		add(nil)
		return
	}
	if need == 0 && r.usefulConverter {
		return // idle
	}
	for _, it := range r.converts {
		if it.Part.Converter.Channels >= need {
			add(it)
		}
	}
}
