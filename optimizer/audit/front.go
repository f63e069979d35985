package audit

import (
	"cmp"
	"math"
	"slices"

	"loudfor/catalog"
	"loudfor/model/amplifier"
	"loudfor/model/front"
	"loudfor/model/supply"
	"loudfor/optimizer/build"
)

// The front: which pairs the brief allows, what drives them, whether a new one can
// use the watts that it is asked for, and for music how loud they are.

// pair is front speakers; without a piece those that the car came with.
type pair struct {
	*piece
	fresh bool // the rule for new speakers binds
	load  float64
	stage front.Stage
	costs [2][]price // of the blocker, without a built-in high-pass and with one

	// What pair, source and blocker cost at least, driven by the source; and with an
	// amplifier of its own. Second where the bass takes speaker wires.
	bySource, byOwn [2]int64
}

// price is what a blocker costs behind which a pair does with so many watts.
type price struct {
	sum   int64
	watts float64
}

// heard is a pair behind high-passes.
type heard struct {
	pair, blocker *piece
	builtIn       bool
}

const (
	headUnitLoad = 4.0 // ohm, where a head unit's card does not say (common practice, no source)
	everyWatt    = 1e9 // more than anything gives
)

func (a *auditor) fronts() {
	rule, owned := a.brief.Front, false
	for _, p := range a.kinds[catalog.KindFront] {
		owned = owned || p.owned > 0
	}
	// A pair that the customer owns is there even where another has to be in.
	for _, p := range a.bySKU {
		owned = owned || p.part.Kind == catalog.KindFront && p.owned > 0 && p.most > 0
	}
	if rule != catalog.FrontReplace && !owned && !a.forced[catalog.KindFront] {
		a.pairs = append(a.pairs, pair{load: build.StockLoad, stage: front.Stage{Load: build.StockLoad, Size: build.StockSize}})
	}
	for _, p := range a.kinds[catalog.KindFront] {
		if rule == catalog.FrontKeep && p.owned == 0 {
			continue
		}
		f := p.part.Front
		load := f.Load
		if !(load > 0) {
			load = build.StockLoad
		}
		a.pairs = append(a.pairs, pair{piece: p, fresh: rule == catalog.FrontReplace || p.owned == 0, load: load, stage: front.Stage{
			Load: load, Sensitivity: f.Sensitivity, Power: f.Power, Size: f.Size, Fs: f.Fs, Sd: f.Sd, Xmax: f.Xmax}})
	}
	slices.SortStableFunc(a.pairs, func(p, q pair) int { return cmp.Compare(p.lower(1), q.lower(1)) })
	a.leastRests()
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
				if amp.part.Amplifier.SpeakerInput == (speaker == 1) {
					if old, known := a.spare[amp]; !known || p.lower(1)+driven < old {
						a.spare[amp] = p.lower(1) + driven
					}
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
	if !amp.part.Amplifier.SpeakerInput {
		speaker = 0
	}
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
		levels = []float64{l + half - 2e-9, l - half}
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

// filtered is a pair behind one high-pass: its level with 1 W a side, and how many
// watts it can use. In between ten times the power are ten decibels.
type filtered struct{ gain, most float64 }

// filters are what a pair is behind a blocker (nil: none), a built-in high-pass at
// any setting, or both: the blocker then has the lower frequency or is by itself.
func (a *auditor) filters(p *pair, blocker *piece, builtIn bool) (all []filtered) {
	key := heard{p.piece, blocker, builtIn}
	if known, ok := a.heard.Load(key); ok {
		return known.([]filtered)
	}
	play := func(hz float64, order int) {
		s := p.stage
		s.HighPass, s.Order, s.Watts = hz, order, everyWatt
		level, usable, _ := s.Play(a.cabin)
		if usable > 0 {
			all = append(all, filtered{level - 10*math.Log10(usable), usable})
		}
	}
	lowest, order := 0.0, 2
	if blocker != nil {
		if c := blocker.part.Blocker.Capacitance; c > 0 {
			lowest, order = 1/(2*math.Pi*p.load*c), 1
		}
	}
	if blocker != nil || !builtIn {
		play(lowest, order)
	}
	for _, hz := range front.Settings() {
		if builtIn && hz > lowest {
			play(hz, 2)
		}
	}
	a.heard.Store(key, all)
	return all
}

// ruled tells whether the rule for new speakers holds with so much power, and for
// music how loud the pair then is.
func (a *auditor) ruled(p *pair, watts float64, blocker *piece, builtIn bool) (l build.Level, ok bool) {
	if !(watts > 0) {
		return build.Silent, false
	}
	if !a.music && !p.fresh {
		return build.Loudest, true
	}
	l = build.Silent
	for _, f := range a.filters(p, blocker, builtIn) {
		usable := min(watts, f.most)
		if p.fresh && usable < a.brief.FrontWatts*(1-build.WattsTolerance) {
			continue
		}
		ok = true
		if l = max(l, build.Round(f.gain+10*math.Log10(usable))); !a.music {
			return build.Loudest, true
		}
	}
	return l, ok
}

// sourceWatts is what a head unit's own channels give one side, W.
func sourceWatts(s *catalog.Source, load float64) float64 {
	rated, lowest, volts := s.Load, s.MinimumLoad, s.SupplyVolts
	if !(rated > 0) {
		rated = headUnitLoad
	}
	if !(lowest > 0) {
		lowest = rated
	}
	if !(volts > 0) {
		volts = supply.RunningVolts
	}
	if s.Channels < 2 || load < lowest*(1-amplifier.LoadTolerance) {
		return 0
	}
	most := front.HeadUnitCeiling(volts, load, s.Channels)
	if s.Power > 0 {
		most = min(most, s.Power*rated/load)
	}
	return most
}

// stereoWatts is what an amplifier's stereo channels give one side, W.
func stereoWatts(p *piece, load float64) float64 {
	spec := p.part.Amplifier.Spec
	src, lowest, _, ok := spec.Source(amplifier.Stereo)
	if !ok || spec.Outputs(amplifier.Stereo) < 2 || load < lowest*(1-amplifier.LoadTolerance) {
		return 0
	}
	return src.Power(load)
}

// sourceCan tells whether the source drives a pair by the rule, with any blocker
// there is: then an amplifier of the front's own is idle.
func (a *auditor) sourceCan(s *catalog.Source, p *pair) bool {
	watts := sourceWatts(s, p.load)
	if !(watts > 0) {
		return false
	}
	if !a.forced[catalog.KindBlocker] {
		if _, ok := a.ruled(p, watts, nil, s.HighPass); ok {
			return true
		}
		if s.HighPass {
			return false
		}
	}
	return slices.ContainsFunc(a.kinds[catalog.KindBlocker], func(b *piece) bool {
		_, ok := a.ruled(p, watts, b, s.HighPass)
		return ok
	})
}
