package audit

import (
	"cmp"
	"math"
	"slices"

	"loudfor/catalog"
	"loudfor/optimizer/build"
)

// What source and front cost at least beside an amplifier: what the envelope takes off
// the money.

// speakers is 1 for an amplifier that takes speaker wires.
func speakers(amp *piece) int {
	if amp.part.Amplifier.SpeakerInput {
		return 1
	}
	return 0
}

// leastRests bounds what source and front cost beside each amplifier.
func (a *auditor) leastRests() {
	a.ownWatts, a.spare = map[float64][]float64{}, map[*piece]int64{}
	a.rest, a.cheapest = [2]int64{boundless, boundless}, [2][2]int64{{boundless, boundless}, {boundless, boundless}}
	converter := boundless
	if c := a.kinds[catalog.KindConverter]; len(c) > 0 {
		converter = c[0].lower(1)
	}
	with := func(s *piece, speaker int) int64 {
		switch src := s.part.Source; {
		case src.PreOuts > 0:
			return s.lower(1)
		case src.Channels < 2:
			return boundless
		case speaker == 0:
			return s.lower(1) + converter
		}
		return s.lower(1)
	}
	for _, s := range a.kinds[catalog.KindSource] {
		for speaker := range 2 {
			a.cheapest[0][speaker] = min(a.cheapest[0][speaker], with(s, speaker))
			if s.part.Source.HighPass {
				a.cheapest[1][speaker] = min(a.cheapest[1][speaker], with(s, speaker))
			}
		}
	}
	amps := a.kinds[catalog.KindAmplifier]
	for _, amp := range amps {
		a.spare[amp] = boundless
	}
	for i := range a.pairs {
		p := &a.pairs[i]
		if _, known := a.ownWatts[p.load]; !known {
			for _, own := range amps {
				a.ownWatts[p.load] = append(a.ownWatts[p.load], stereoWatts(own, p.load))
			}
		}
		p.costs = [2][]price{a.costs(p, false), a.costs(p, true)}
		for speaker := range 2 {
			best, own := boundless, boundless
			for _, s := range a.kinds[catalog.KindSource] {
				best = min(best, with(s, speaker)+p.cost(s.part.Source.HighPass, sourceWatts(s.part.Source, p.load)))
			}
			for k, amp := range amps {
				driven := a.driving(p, amp, a.ownWatts[p.load][k], speaker)
				own = min(own, amp.lower(1)+driven)
				if speakers(amp) == speaker {
					a.spare[amp] = min(a.spare[amp], p.lower(1)+driven)
				}
			}
			p.bySource[speaker], p.byOwn[speaker] = p.lower(1)+best, p.lower(1)+own
			a.rest[speaker] = min(a.rest[speaker], p.bySource[speaker], p.byOwn[speaker])
		}
	}
}

// driving is what a source and a blocker cost at least where an amplifier drives a
// pair with so many watts. A converter is needed if either amplifier takes no
// speaker wires and the source has no line outputs.
func (a *auditor) driving(p *pair, amp *piece, watts float64, speaker int) int64 {
	speaker = min(speaker, speakers(amp))
	return min(a.cheapest[0][speaker]+p.cost(amp.part.Amplifier.HighPass, watts), a.cheapest[1][speaker]+p.cost(true, watts))
}

// cost is what the blocker costs at least with so many watts.
func (p *pair) cost(highPass bool, watts float64) int64 {
	k := 0
	if highPass {
		k = 1
	}
	for _, c := range p.costs[k] {
		if watts >= c.watts {
			return c.sum
		}
	}
	return boundless
}

// costs lists blockers, the cheapest first and each with fewer watts than those
// before, that a pair needs for the rule, and for music to be as loud as the claim.
// A build that is no louder than the claim may cost no more than it: what the cap
// allows beyond that is put on the price of a front that is just as loud.
func (a *auditor) costs(p *pair, highPass bool) (all []price) {
	watts, levels := math.SmallestNonzeroFloat64, []float64{math.Inf(-1)}
	if p.fresh {
		watts = max(watts, a.brief.FrontWatts*(1-build.WattsTolerance))
	}
	if a.music && a.Claim != nil {
		l, half := a.claimed.Level.DB(), build.LevelStep/2+1e-9
		if levels = []float64{l + half - 2e-9, l - half}; a.louder {
			levels = levels[:1]
		}
	}
	for _, b := range a.optional(catalog.KindBlocker) {
		if b != nil && highPass && !a.forced[catalog.KindBlocker] {
			break // it would be idle
		}
		for k, level := range levels {
			least := math.Inf(1)
			for _, f := range a.filters(p, b, highPass) {
				if need := max(watts, math.Pow(10, (level-f.gain)/10)); need <= f.most || !a.music && !p.fresh {
					least = min(least, need)
				}
			}
			sum := b.lower(1)
			if k == 1 {
				sum += max(0, a.limit-a.claimed.due)
			}
			if !math.IsInf(least, 1) {
				all = append(all, price{sum, least})
			}
		}
	}
	slices.SortStableFunc(all, func(x, y price) int { return cmp.Or(cmp.Compare(x.sum, y.sum), cmp.Compare(x.watts, y.watts)) })
	kept := all[:0]
	for _, c := range all {
		if len(kept) == 0 || c.watts < kept[len(kept)-1].watts {
			kept = append(kept, c)
		}
	}
	return kept
}
