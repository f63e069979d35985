package completion

import (
	"cmp"
	"slices"

	"loudfor/catalog"
	"loudfor/optimizer/build"
	"loudfor/optimizer/pricing"
)

// How completions are composed: a source and a pair of speakers, what drives the pair,
// and the signal path. What is outranked already is not composed.

// compose puts sources, speakers and what drives them together.
func (r *Lists) compose(f *listFilter, k Key) *List {
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
			c := r.speakers[i]
			if s.Lower(1)+c.Lower(1) > f.most || f.covers(s.Marginal()+c.Marginal()-r.stageSaving, s.Lower(1)+c.Lower(1), singlesOf(s, c.Item), r.peak(i), 0) {
				continue
			}
			r.complete(f, k, s, c)
		}
		if r.Brief.Goal == catalog.GoalMusic && k.Amp == nil {
			for _, p := range r.merge(stageKey{highPass: s.Part.Source.HighPass, forced: k.Forced, least: f.least, most: f.most, quick: f.heedless}) {
				if r.Ended() {
					break
				}
				r.connect(f, k, s, p)
			}
		}
	}
	l := f.all
	slices.SortStableFunc(l, func(a, b Completion) int {
		return cmp.Or(cmp.Compare(a.Price, b.Price), a.tie.compare(&b.tie))
	})
	return &List{All: l, Cost: costOf(l), Cut: r.Ended()}
}

// could are the places of the pairs that could be as loud as a level, with what
// drives them but an amplifier of their own.
func (r *Lists) could(least build.Level, k Key) (all []int) {
	if !r.Music() {
		for i := range r.speakers {
			all = append(all, i)
		}
		return all
	}
	return r.loud(least, func(load float64) (watts float64) {
		if k.Amp != nil {
			return r.StereoPower(k.Amp, load)
		}
		for _, s := range r.sources {
			watts = max(watts, SourcePower(s.Part.Source, load))
		}
		return watts
	})
}

// peak bounds the level of a pair whatever drives it and whatever filters it.
func (r *Lists) peak(i int) build.Level {
	if !r.Music() || r.priceAlone {
		return 0
	}
	return r.envelopes[i].top
}

// complete adds the completions of one source and one pair of speakers.
func (r *Lists) complete(f *listFilter, k Key, s *pricing.Item, c Speakers) {
	src := s.Part.Source
	if k.Amp != nil {
		highPass := src.HighPass || k.Amp.Part.Amplifier.HighPass
		p := frontStage{speakers: c, tie: singlesOf(c.Item), power: build.FromBass, speaker: k.Speaker}
		for _, q := range r.filtered(p, r.StereoPower(k.Amp, c.Load), highPass) {
			r.connect(f, k, s, q)
		}
		return
	}
	if k.Forced == nil {
		direct := r.filtered(frontStage{speakers: c, tie: singlesOf(c.Item), power: build.FromSource, speaker: true}, SourcePower(src, c.Load), src.HighPass)
		for _, q := range direct {
			r.connect(f, k, s, q)
		}
		if r.Brief.Goal == catalog.GoalMusic || len(direct) > 0 || r.needBeyond() && r.direct(c, src) {
			return
		}
	}
	if k.Forced != nil && k.Forced.Used && r.Brief.Goal == catalog.GoalReading && r.direct(c, src) {
		return // it would be idle
	}
	if r.Brief.Goal == catalog.GoalReading {
		for _, q := range r.own(stageKey{speakers: c, highPass: src.HighPass, forced: k.Forced}) {
			r.connect(f, k, s, q)
		}
	}
}

// connect completes a source and a front stage with the signal path.
func (r *Lists) connect(f *listFilter, k Key, s *pricing.Item, p frontStage) {
	src := s.Part.Source
	sum, tie := p, p.tie
	tie.add(s)
	join(&sum, s)
	if p.level < f.least || sum.price > f.most || f.covers(sum.worth-r.lineSaving, sum.price, tie, p.level, p.demand) {
		return
	}
	need := 0 // channels that a line converter must have
	if src.PreOuts == 0 && !r.Relaxed.Signal {
		if src.Channels < 2 {
			return
		}
		if !k.Speaker {
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
		parts := pricing.Collect(pricing.One(s), pricing.One(p.speakers.Item), pricing.One(p.own), pricing.One(converter), pricing.One(p.blocker))
		f.add(Completion{Parts: parts, tie: tie, Price: sum.price, full: sum.full, Pieces: parts.Pieces(), Demand: p.demand, Level: p.level, Own: p.own}, r)
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
